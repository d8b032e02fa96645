//! Mirroring, moving, lifting and turning the whole car.
//!
//! The same numbers must come out, or numbers changed by exactly what the definitions
//! say, within what motions are known to: the two computations may stop at different
//! distances from the true pose.

use geometry_core::{
    Vec3,
    readings::{Quantity, Readings},
    setup::{Corner, Point, Side},
    solve::State,
};

use crate::{
    checking::{MOTION, at, close, close_vectors, for_all, leeway, linkage, read, same_scalars, solved},
    corners::{ALL, drawn},
};

/// mm: agreement of points that are read off motions.
const PLACE: f64 = 1000.0 * MOTION;

fn readings(corner: &Corner, side: Side, state: State) -> Readings {
    let linkage = linkage(corner, side);
    let position = solved(&linkage, state);
    read(&linkage, &position)
}

/// mm: agreement of the coordinates of a centre this far away.
fn far(distance: f64) -> f64 {
    PLACE * (1.0 + distance.abs() / 1000.0) * (1.0 + distance.abs() / 100.0)
}

fn points(r: &Readings) -> Vec<(&'static str, Point)> {
    let mut all = vec![("wheel_centre", r.wheel_centre), ("contact", r.contact)];
    all.extend(r.steering.iter().map(|s| ("steering_axis.point", s.point)));
    all
}

#[test]
fn a_mirrored_corner_has_mirrored_readings() {
    for_all(400, &drawn(&ALL), |case| {
        let left = readings(&case.corner, Side::Left, case.state);
        let right = readings(&case.corner.mirrored(), Side::Right, case.state);
        // A left-handed screw is the mirror image of a right-handed one; and a slope to the
        // left is one to the right.
        same_scalars(&right, &left, MOTION, |quantity| match quantity {
            Quantity::ScrewPitch | Quantity::ContactSlopeY => -1.0,
            _ => 1.0,
        });
        for ((what, found), (_, expected)) in points(&right).into_iter().zip(points(&left)) {
            close_vectors(what, &at(found), &Vec3::new(expected[0], -expected[1], expected[2]), PLACE);
        }
        if let (Some(found), Some(expected)) = (right.steering, left.steering) {
            let [x, y, z] = expected.direction;
            close_vectors("direction", &at(found.direction), &Vec3::new(x, -y, z), MOTION);
        }
        if let (Some([y, z]), Some([left_y, left_z])) = (right.front_view_centre, left.front_view_centre) {
            close("front_view_centre y", y, -left_y, far(left_y));
            close("front_view_centre z", z, left_z, far(left_y.abs() + left_z.abs()));
        }
        if let (Some([x, z]), Some([left_x, left_z])) = (right.side_view_centre, left.side_view_centre) {
            close("side_view_centre x", x, left_x, far(left_x));
            close("side_view_centre z", z, left_z, far(left_x.abs() + left_z.abs()));
        }
    });
}

/// Mirroring twice is doing nothing, but for the rack's direction being said aloud.
#[test]
fn mirroring_twice_gives_the_corner_back() {
    for_all(50, &drawn(&ALL), |case| assert_eq!(case.corner.mirrored().mirrored(), case.corner));
}

#[test]
fn moving_the_car_changes_where_things_are_and_nothing_else() {
    let strategy = (drawn(&ALL), -2000.0..2000.0_f64, 0.0..200.0_f64);
    for_all(300, &strategy, |(case, forward, up)| {
        let shift = Vec3::new(forward, 0.0, up);
        let mut moved = case.corner.clone();
        moved.change_points(|_, point| *point = (at(*point) + shift).into());
        let before = readings(&case.corner, Side::Left, case.state);
        let after = readings(&moved, Side::Left, case.state);
        // Heights are not among the scalars (the roll centre is said above the contact).
        same_scalars(&after, &before, MOTION, |_| 1.0);
        for ((what, found), (_, expected)) in points(&after).into_iter().zip(points(&before)) {
            close_vectors(what, &at(found), &(at(expected) + shift), PLACE);
        }
        if let (Some(found), Some(expected)) = (after.steering, before.steering) {
            close_vectors("direction", &at(found.direction), &at(expected.direction), MOTION);
        }
        let centres = [
            (after.front_view_centre, before.front_view_centre, 0.0),
            (after.side_view_centre, before.side_view_centre, forward),
        ];
        for (found, expected, along) in centres {
            if let (Some(found), Some(expected)) = (found, expected) {
                let allowed = far(2000.0 + expected[0].abs() + expected[1].abs());
                close("centre, along", found[0], expected[0] + along, allowed);
                close("centre, height", found[1], expected[1] + up, allowed);
            }
        }
    });
}

/// Turning the car about the vertical through the origin. The wheel's plane turns with it,
/// so toe changes by the angle; vectors turn; what is said of heights, lengths or about the
/// wheel's own heading stays. Track, swing arms, roll centre and anti-percentages are said
/// along the car's axes and are left out.
#[test]
fn turning_the_car_turns_toe_and_nothing_of_the_wheels_own() {
    let strategy = (drawn(&ALL), -5.0..5.0_f64);
    for_all(300, &strategy, |(case, degrees)| {
        let (sine, cosine) = degrees.to_radians().sin_cos();
        let turn = |v: Vec3| Vec3::new(cosine * v.x - sine * v.y, sine * v.x + cosine * v.y, v.z);
        let mut turned = case.corner.clone();
        turned.change_points(|_, point| *point = turn(at(*point)).into());
        turned.rack_direction = turned.rack_direction.map(|direction| turn(at(direction)).into());
        // To the left is outward on the left side: toe in gets less.
        turned.wheel.toe -= degrees;
        let before = readings(&case.corner, Side::Left, case.state);
        let after = readings(&turned, Side::Left, case.state);

        close("toe", after.toe, before.toe - degrees, MOTION);
        for quantity in [
            Quantity::Camber,
            Quantity::CamberGain,
            Quantity::BumpSteer,
            Quantity::ScrubRadius,
            Quantity::MechanicalTrail,
            Quantity::HubOffset,
            Quantity::HubTrail,
            Quantity::ScrewPitch,
            Quantity::SpringLength,
            Quantity::SpringMotionRatio,
            Quantity::DamperLength,
            Quantity::DamperMotionRatio,
        ] {
            if let (Some(found), Some(expected)) = (quantity.value(&after), quantity.value(&before)) {
                close(quantity.name(), found, expected, leeway(quantity, expected, MOTION));
            } else {
                assert_eq!(quantity.value(&after), quantity.value(&before), "{}", quantity.name());
            }
        }
        for ((what, found), (_, expected)) in points(&after).into_iter().zip(points(&before)) {
            close_vectors(what, &at(found), &turn(at(expected)), PLACE);
        }
        let slopes =
            |r: &Readings| r.contact_slope_x.zip(r.contact_slope_y).map(|(x, y)| Vec3::new(x, y, 1.0));
        if let (Some(found), Some(expected)) = (slopes(&after), slopes(&before)) {
            close_vectors("contact slopes", &found, &turn(expected), MOTION * (1.0 + expected.norm()));
        }
        if let (Some(found), Some(expected)) = (after.steering, before.steering) {
            let up = turn(at(expected.direction));
            close_vectors("direction", &at(found.direction), &up, MOTION);
            close("kingpin", found.kingpin_inclination.to_radians().tan(), -up.y / up.z, MOTION);
            close("caster", found.caster.to_radians().tan(), -up.x / up.z, MOTION);
        }
    });
}
