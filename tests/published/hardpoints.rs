//! A textbook's double wishbone with rack: static values and the whole table of travel and
//! steer.
//!
//! Rill, G., *Road Vehicle Dynamics: Fundamentals and Modeling*, CRC Press 2012, ch. 5,
//! listing 5.6. Hardpoints and formulas read from copies of the listing in public
//! repositories (four agree digit for digit); the book's printed results were not
//! seen. Computed only: the outputs were computed for this project by the book's closed
//! form and by an independent numerical solution of the length constraints, which agree.
//!
//! The book's origin is the wheel centre's height on the axle line; here everything is
//! lifted so that the ground is at zero.

use geometry_core::{
    Vec3,
    linkage::Linkage,
    readings::spin_axis,
    screw::Displacement,
    setup::{Arm, Corner, Link, Point, Spring},
    solve::{Follower, Position, State},
};

use crate::support::{close, corner, go, linkage, read, read_design, root, wheel};

const RADIUS: f64 = 285.0;

/// The listing gives 0.8° and makes a spin axis (toe, 1, −camber) of it, in radians: the
/// angle of that axis is a little less, as the table's 0.7999 shows.
fn camber() -> f64 {
    0.8_f64.to_radians().atan().to_degrees()
}

/// Height of the wheel centre above its contact.
fn lift() -> f64 {
    RADIUS * camber().to_radians().cos()
}

/// A point of the listing, m, in mm above the ground.
fn point([x, y, z]: [f64; 3]) -> Point {
    [1000.0 * x, 1000.0 * y, 1000.0 * z + lift()]
}

fn rill() -> Corner {
    let mut wheel = wheel(0.0, 768.0, RADIUS);
    wheel.centre[2] = lift();
    wheel.camber = camber();
    let mut corner = corner(
        vec![
            Arm {
                id: "lower".into(),
                front_pivot: point([0.148, 0.32, -0.094]),
                rear_pivot: point([-0.251, 0.32, -0.08]),
                ball_joint: point([0.013, 0.737, -0.145]),
            },
            Arm {
                id: "upper".into(),
                front_pivot: point([0.122, 0.435, 0.23]),
                rear_pivot: point([-0.105, 0.435, 0.196]),
                ball_joint: point([-0.025, 0.68, 0.162]),
            },
        ],
        vec![Link {
            id: "tie-rod".into(),
            inboard: point([-0.15, 0.38, -0.038]),
            outboard: point([-0.137, 0.69, -0.088]),
            steers: true,
        }],
        wheel,
    );
    // Not in the listing: held, it keeps the lower arm at rest, as the listing's steering
    // does.
    corner.spring = Some(Spring {
        body: point([0.0, 0.5, 0.25]),
        carried: point([0.0, 0.55, -0.11]),
        on: "lower".into(),
        rate: None,
        free_length: None,
    });
    corner
}

/// Turn of the lower arm since the design position, degrees, + bump.
fn arm_angle(corner: &Corner, linkage: &Linkage, position: &Position) -> f64 {
    let arm = &corner.arms[0];
    let [front, rear, joint] = [arm.front_pivot, arm.rear_pivot, arm.ball_joint].map(Vec3::from);
    let axis = (front - rear).normalize();
    let square = |point: Vec3| (point - rear) - (point - rear).dot(&axis) * axis;
    let (before, after) = (square(joint), square(position.carry(linkage, &joint)));
    axis.dot(&before.cross(&after)).atan2(before.dot(&after)).to_degrees()
}

/// The position at a turn of the lower arm and a place of the rack: the travel is searched.
fn at_arm_angle(corner: &Corner, linkage: &Linkage, degrees: f64, rack: f64, within: f64) -> Position {
    let mut follower = Follower::new(linkage);
    let travel = root(-within, within, |travel| {
        arm_angle(corner, linkage, &go(&mut follower, State { travel, rack })) - degrees
    });
    go(&mut follower, State { travel, rack })
}

#[test]
fn the_steering_axis_as_it_stands() {
    let corner = rill();
    let linkage = linkage(&corner);
    let position = *Follower::new(&linkage).position();
    let readings = read(&linkage, &position);
    let steering = readings.steering.expect("it steers");
    let check = |what: &str, found: f64, expected: f64| close(what, found, expected, 1e-5);
    check("kingpin inclination", steering.kingpin_inclination, 10.518_21);
    check("caster", steering.caster, 7.056_1);
    check("caster offset at ground", steering.mechanical_trail, 30.325_55);
    check("lateral offset at ground", steering.scrub_radius, 1.032_71);
    let unsigned = steering.scrub_radius.hypot(steering.mechanical_trail);
    check("ISO scrub radius", unsigned, 30.343_130_89);
    check("lateral offset at the hub", steering.hub_offset, 57.921_82);
    // The case gives a size; the axis passes behind the wheel centre.
    check("longitudinal offset at the hub", -steering.hub_trail, 4.947_88);
    let (on, along) = (Vec3::from(steering.point), Vec3::from(steering.direction));
    check("hub to axis", (position.wheel_centre() - on).cross(&along).norm(), 57.064_41);
    for (found, expected) in readings.contact.into_iter().zip(point([0.0, 0.764_021, -0.284_972])) {
        // The case gives the contact to a micrometre.
        close("contact", found, expected, 5e-4);
    }
}

#[test]
fn the_table_of_travel() {
    // Arm °; wheel z, y, x, contact y (carried with the knuckle) mm; steer ° to the left;
    // camber °.
    let rows = [
        [-10.0, -70.199, 747.389, 3.567, 752.303, 0.2386, -0.9989],
        [-8.0, -56.471, 753.062, 2.858, 755.131, 0.1776, -0.4222],
        [-6.0, -42.567, 757.916, 2.146, 757.762, 0.1252, 0.0279],
        [-4.0, -28.507, 762.003, 1.432, 760.144, 0.0791, 0.3725],
        [-2.0, -14.311, 765.356, 0.717, 762.239, 0.0377, 0.6263],
        [0.0, 0.0, 768.0, 0.0, 764.021, 0.0, 0.7999],
        [2.0, 14.406, 769.953, -0.716, 765.469, -0.0351, 0.9012],
        [4.0, 28.888, 771.227, -1.431, 766.569, -0.0682, 0.9356],
        [6.0, 43.426, 771.833, -2.144, 767.309, -0.0997, 0.9072],
        [8.0, 58.0, 771.775, -2.853, 767.683, -0.1301, 0.8188],
        [10.0, 72.592, 771.059, -3.558, 767.686, -0.1595, 0.672],
    ];
    let corner = rill();
    let linkage = linkage(&corner);
    let contact = Vec3::from(read_design(&corner).contact);
    for [arm, z, y, x, contact_y, steer, camber] in rows {
        let position = at_arm_angle(&corner, &linkage, arm, 0.0, 90.0);
        let readings = read(&linkage, &position);
        // Half the table's last digit, and the case's 1e-4.
        let length = |what: &str, found: f64, expected: f64| close(what, found, expected, 6e-4);
        length("wheel z", readings.wheel_centre[2] - lift(), z);
        length("wheel y", readings.wheel_centre[1], y);
        length("wheel x", readings.wheel_centre[0], x);
        length("contact y", position.carry(&linkage, &contact).y, contact_y);
        // To the left is outward on the left wheel.
        close("steer", -readings.toe, steer, 1e-4);
        close("camber", readings.camber, camber, 1e-4);
    }
}

#[test]
fn the_table_of_steer() {
    // Rack mm to the left; road steer °, turn about the steering axis °, camber °.
    let rows = [
        [-74.5, 39.9362, 41.2426, 10.2472],
        [-37.25, 16.4498, 16.9479, 3.3963],
        [0.0, 0.0, 0.0, 0.7999],
        [37.25, -15.1068, -15.4771, -0.7053],
        [74.5, -30.3061, -30.9865, -1.5321],
    ];
    let corner = rill();
    let linkage = linkage(&corner);
    let up = Vec3::from(read_design(&corner).steering.expect("it steers").direction);
    for [rack, steer, kingpin_turn, camber] in rows {
        let position = at_arm_angle(&corner, &linkage, 0.0, rack, 25.0);
        let readings = read(&linkage, &position);
        close("steer", -readings.toe, steer, 1e-4);
        // The table's camber is the angle in the cross-section, the listing's turn about x;
        // ISO camber is the plane's own inclination. They part as the wheel is steered.
        let spin = spin_axis(&linkage, &position);
        close("camber in the cross-section", (-spin.z).atan2(spin.y).to_degrees(), camber, 1e-4);
        close("ISO camber", readings.camber, (-spin.z).asin().to_degrees(), 1e-12);
        let displacement = Displacement { rotation: position.rotation(), translation: Vec3::zeros() };
        close("turn about the axis", displacement.log().angular.dot(&up).to_degrees(), kingpin_turn, 1e-4);
    }
}

#[test]
fn the_motion_as_it_stands() {
    let corner = rill();
    let linkage = linkage(&corner);
    let position = *Follower::new(&linkage).position();
    let readings = read(&linkage, &position);
    // The case's rates per mm are given to seven decimals, checked to half the last.
    let check = |what: &str, found: f64, expected: f64| close(what, found, expected, 5.1e-8);
    // The case has the rates of the spin axis' components in degrees, which are those of the
    // angles times the cosine of camber, 0.9999.
    let cosine = camber().to_radians().cos();
    check("steer per mm", -readings.bump_steer * cosine, -0.002_525_5);
    check("camber per mm", readings.camber_gain * cosine, 0.009_494_1);
    check("contact dy/dz", readings.contact_slope_y.expect("it rises"), 0.112_579_5);
    check("contact dx/dz", readings.contact_slope_x.expect("it rises"), 0.119_968_9);
    check("hub dx/dz", readings.hub_slope_x, -0.049_894_2);
    close("roll centre", readings.roll_centre_height.expect("it rises"), 86.013_1, 5.1e-5);
    // The screw of the travel motion, rack locked: a point of its axis, in the book's axes.
    let screw = position.travel_twist().screw().expect("it turns");
    let (on, along) =
        (Vec3::new(-1732.861, 492.451, -188.746 + lift()), Vec3::new(-0.267_094, -0.961_947, -0.057_616));
    close("axis through the point", (screw.point - on).cross(&screw.direction).norm(), 0.0, 2e-3);
    close("axis along the direction", screw.direction.cross(&along).norm(), 0.0, 1e-6);
    close("pitch", screw.pitch, -319.257, 1e-3);
}
