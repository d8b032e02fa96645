//! Virtual steering axes, and caster by turning the wheels.

use geometry_core::{
    Vec3,
    construction::{Kind, Scheme, pivot_offset},
    readings::Quantity,
    setup::{Arm, Corner, Link, Point, Spring},
    solve::{Follower, State},
};

use crate::support::{
    close, close_points, corner, design_construction, go, linkage, read, read_design, root, wheel,
};

const LOWER_MEETING: Point = [10.0, 720.0, 180.0];
const UPPER_MEETING: Point = [-30.0, 640.0, 560.0];

/// Four links whose lines meet by pairs in two points beyond their outer ends, and a tie rod.
fn split_links() -> Corner {
    let link = |id: &str, outboard: Point, meeting: Point| Link {
        id: id.into(),
        inboard: std::array::from_fn(|i| outboard[i] + 3.0 * (outboard[i] - meeting[i])),
        outboard,
        steers: false,
    };
    let tie_rod = Link {
        id: "tie-rod".into(),
        inboard: [-150.0, 400.0, 240.0],
        outboard: [-140.0, 690.0, 230.0],
        steers: true,
    };
    corner(
        vec![],
        vec![
            link("lower-front", [60.0, 640.0, 190.0], LOWER_MEETING),
            link("lower-rear", [-70.0, 655.0, 185.0], LOWER_MEETING),
            link("upper-front", [20.0, 560.0, 555.0], UPPER_MEETING),
            link("upper-rear", [-90.0, 555.0, 548.0], UPPER_MEETING),
            tie_rod,
        ],
        wheel(0.0, 770.0, 310.0),
    )
}

/// Two links for each ball joint: the principle is described in the encyclopaedia article
/// "Dual pivot steering geometry" (seen: <https://wikiclassic.com/wiki/Dual_pivot_steering_geometry>);
/// numbers constructed for the case, exact.
///
/// Turning about the line through both meeting points is one of the motions that the four
/// links allow. It is *the* steering motion only when what is held keeps a meeting point
/// at rest: here a spring that ends there. A spring on one of the lower links, or none,
/// gives another screw of the same cylindroid.
#[test]
fn the_virtual_axis_of_split_links() {
    let (kingpin, caster, ground) = (11.888_659, 6.009_006, [28.947_368, 757.894_737, 0.0]);
    let mut corner = split_links();
    let free = linkage(&corner);
    let position = *Follower::new(&free).position();

    // Among travel + factor · rack, the motion that leaves the lower point at rest.
    let (lower, upper) = (Vec3::from(LOWER_MEETING), Vec3::from(UPPER_MEETING));
    let (travel, rack) = (position.travel_twist(), position.rack_twist());
    let turning = rack.plus(-rack.velocity_at(&lower).z / travel.velocity_at(&lower).z, &travel);
    for point in [lower, upper] {
        close("speed of a meeting point", turning.velocity_at(&point).norm(), 0.0, 1e-12);
    }
    let screw = turning.screw().expect("it turns");
    close("pitch", screw.pitch, 0.0, 1e-9);

    // The core's own steering axis when the spring ends in the meeting point.
    corner.spring = Some(Spring {
        body: [0.0, 600.0, 700.0],
        carried: LOWER_MEETING,
        on: "knuckle".into(),
        rate: None,
        free_length: None,
    });
    let steering = read_design(&corner).steering.expect("it steers");
    close("kingpin inclination", steering.kingpin_inclination, kingpin, 1e-6);
    close("caster", steering.caster, caster, 1e-6);
    close("screw pitch", steering.screw_pitch, 0.0, 1e-9);
    for (found, expected) in steering.point.into_iter().zip(ground) {
        close("ground point", found, expected, 1e-6);
    }
    // The table has six decimals; the line itself is exact.
    let line = (upper - lower).normalize();
    close("direction", (Vec3::from(steering.direction) - line).norm(), 0.0, 1e-12);
    let exact = lower - lower.z / line.z * line;
    close("ground point", (Vec3::from(steering.point) - exact).norm(), 0.0, 1e-9);

    // Held otherwise, the axis is another one, and it advances.
    let on_a_link = Spring {
        body: [0.0, 560.0, 600.0],
        carried: [70.0, 610.0, 193.0],
        on: "lower-front".into(),
        rate: None,
        free_length: None,
    };
    for spring in [Some(on_a_link), None] {
        corner.spring = spring;
        let steering = read_design(&corner).steering.expect("it steers");
        assert!(steering.screw_pitch.abs() > 0.1, "{steering:?}");
        assert!((Vec3::from(steering.direction) - line).norm() > 1e-4, "{steering:?}");
    }
}

/// The same corner, drawn: each pair's virtual pivot is its meeting point, the line through
/// both is the published one whatever the spring stands on, and it is the exact axis with the
/// spring in a meeting point alone.
#[test]
fn the_virtual_axis_is_drawn_through_the_meeting_points() {
    let mut corner = split_links();
    corner.spring = Some(Spring {
        body: [0.0, 600.0, 700.0],
        carried: LOWER_MEETING,
        on: "knuckle".into(),
        rate: None,
        free_length: None,
    });
    let free = linkage(&corner);
    let position = *Follower::new(&free).position();
    let scheme = Scheme::of(&corner, &free, &position).expect("two pairs and a tie rod");
    for (hold, meeting) in scheme.holds().zip([LOWER_MEETING, UPPER_MEETING]) {
        let Kind::Pair { pivot: Some(pivot), .. } = hold.kind else { panic!("{hold:?}") };
        close_points("virtual pivot", &pivot.at, meeting, 1e-9);
        close_points("nearest point", &pivot.nearest.on_first, meeting, 1e-9);
        close_points("nearest point", &pivot.nearest.on_second, meeting, 1e-9);
        close("gap", pivot.nearest.distance, 0.0, 1e-9);
        let steering = read_design(&corner).steering.expect("it steers");
        close("pivot off the axis", pivot_offset(&steering, &pivot.at).norm(), 0.0, 1e-9);
    }
    let drawn = |corner: &Corner, quantity| {
        let construction = design_construction(corner, quantity);
        (
            construction.shortcut.expect("two pairs").value,
            construction.shortcut.expect("two pairs").difference,
        )
    };
    for (quantity, expected) in [
        (Quantity::KingpinInclination, Some(11.888_659)),
        (Quantity::Caster, Some(6.009_006)),
        (Quantity::ScrubRadius, Some(770.0 - 757.894_737)),
        (Quantity::MechanicalTrail, Some(28.947_368)),
        (Quantity::HubOffset, None),
        (Quantity::HubTrail, None),
        (Quantity::ScrewPitch, Some(0.0)),
    ] {
        let (value, difference) = drawn(&corner, quantity);
        if let Some(expected) = expected {
            close(quantity.name(), value, expected, 1e-6);
        }
        close("difference", difference, 0.0, 1e-9);
    }
    let in_the_meeting_point = drawn(&corner, Quantity::ScrubRadius).0;
    corner.spring = None;
    let (value, difference) = drawn(&corner, Quantity::ScrubRadius);
    close("the line does not know the spring", value, in_the_meeting_point, 0.0);
    assert!(difference.abs() > 0.1, "{difference}");
}

/// An arm-and-arm corner with upright wheel and steering axis of a given caster and kingpin
/// inclination, the spring on the lower arm.
fn with_axis(caster: f64, kingpin: f64) -> Corner {
    let lower = [0.0, 710.0, 180.0];
    let up = 280.0;
    let upper = [
        lower[0] - up * f64::to_radians(caster).tan(),
        lower[1] - up * f64::to_radians(kingpin).tan(),
        lower[2] + up,
    ];
    let arm = |id: &str, joint: Point, length: f64| Arm {
        id: id.into(),
        front_pivot: [joint[0] + 160.0, joint[1] - length, joint[2] + 12.0],
        rear_pivot: [joint[0] - 150.0, joint[1] - length, joint[2] + 4.0],
        ball_joint: joint,
    };
    let mut corner = corner(
        vec![arm("lower", lower, 370.0), arm("upper", upper, 260.0)],
        vec![Link {
            id: "tie-rod".into(),
            inboard: [-130.0, 380.0, 220.0],
            outboard: [-135.0, 690.0, 215.0],
            steers: true,
        }],
        wheel(0.0, 770.0, 300.0),
    );
    corner.spring = Some(Spring {
        body: [0.0, 540.0, 540.0],
        carried: [0.0, 570.0, 186.0],
        on: "lower".into(),
        rate: None,
        free_length: None,
    });
    corner
}

/// Camber when the wheel is steered to a heading (degrees to the left) with the spring's
/// length held, so that it turns about its steering axis.
fn camber_at(corner: &Corner, heading: f64) -> f64 {
    let linkage = linkage(corner);
    let length = read_design(corner).spring.expect("it has a spring").length;
    let mut follower = Follower::new(&linkage);
    let mut camber = f64::NAN;
    root(-70.0, 70.0, |rack| {
        let mut toe = f64::NAN;
        root(-25.0, 25.0, |travel| {
            let position = go(&mut follower, State { travel, rack });
            let readings = read(&linkage, &position);
            (toe, camber) = (readings.toe, readings.camber);
            readings.spring.expect("it has a spring").length - length
        });
        // On the left wheel to the left is outward.
        -toe - heading
    });
    camber
}

/// A measuring rule: caster from the change of camber between the wheel at 20° one way and
/// 20° the other, times 1.5 (forabodiesonly.com thread 1970832736) or times
/// 180/π/40 = 1.4324 (hpacademy.com forum "castor-3"); exactly, for small caster,
/// 1/(2 sin 20°) = 1.4619. Page text seen. The camber changes of two axes are those of
/// turning about a fixed line, computed for this project by other means.
#[test]
fn caster_from_the_camber_of_a_steering_sweep() {
    // Caster, kingpin inclination; change of camber; caster by the exact factor, by 1.5 and
    // by the radian rule.
    let rows =
        [([3.0, 12.0], 2.0591, [3.010, 3.089, 2.949]), ([7.056, 10.518], 4.8579, [7.102, 7.287, 6.958])];
    for ([caster, kingpin], change, estimates) in rows {
        let corner = with_axis(caster, kingpin);
        let steering = read_design(&corner).steering.expect("it steers");
        close("caster as built", steering.caster, caster, 1e-9);
        close("kingpin as built", steering.kingpin_inclination, kingpin, 1e-9);
        // Turned to the left, the left wheel is the inner one: with caster its top goes out.
        let found = camber_at(&corner, 20.0) - camber_at(&corner, -20.0);
        close("change of camber", found, change, 5e-5);
        close("caster by the exact factor", 0.5 / 20.0_f64.to_radians().sin() * found, caster, 0.1);
        let factors = [0.5 / 20.0_f64.to_radians().sin(), 1.5, 1.0_f64.to_degrees() / 40.0];
        for (factor, estimate) in factors.into_iter().zip(estimates) {
            close("estimate", factor * found, estimate, 5.5e-4);
            // The round factors are 3 in a hundred off the exact one.
            close("rule", factor * found, caster, 0.04 * caster);
        }
    }
}
