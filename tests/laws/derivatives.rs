//! Every reading that is a rate, against differences of solved positions.
//!
//! The sixth-order central difference over steps of half a millimetre leaves
//! h⁶ f⁽⁷⁾/140: for a linkage whose motions have singularities no nearer than some 60 mm
//! that is (0.5/60)⁶ · 7!/140 of the value, 1e-11. Positions are held to about 1e-12 mm,
//! which the division by the step turns into 4e-12. Tolerances of 1e-9 on quotients of
//! order one leave room for both.

use geometry_core::{
    Vec3,
    linkage::Linkage,
    readings::Readings,
    screw::{Displacement, Twist},
    setup::Side,
    solve::{Follower, Position, State},
};
use proptest::prelude::*;

use crate::{
    checking::{at, close, close_vectors, for_all, go, linkage, read, solved},
    corners::{ALL, Drawn, drawn},
};

const STEP: f64 = 0.5;

/// Derivative at zero from the values at −3, −2, −1, 1, 2, 3 steps.
fn difference(values: [f64; 6]) -> f64 {
    let [a, b, c, d, e, f] = values;
    ((f - a) - 9.0 * (e - b) + 45.0 * (d - c)) / (60.0 * STEP)
}

fn differences(values: [Vec3; 6]) -> Vec3 {
    Vec3::from_fn(|i, _| difference(values.map(|value| value[i])))
}

/// The six positions around a state, along travel or along the rack.
fn around(linkage: &Linkage, state: State, along_rack: bool) -> [Position; 6] {
    let mut follower = Follower::new(linkage);
    [-3.0, -2.0, -1.0, 1.0, 2.0, 3.0].map(|steps| {
        let away = steps * STEP;
        let (travel, rack) = if along_rack { (0.0, away) } else { (away, 0.0) };
        go(&mut follower, State { travel: state.travel + travel, rack: state.rack + rack })
    })
}

/// Points of the knuckle that show any motion of it.
fn markers(linkage: &Linkage) -> [Vec3; 3] {
    let design = *Follower::new(linkage).position();
    [Vec3::zeros(), Vec3::new(300.0, 0.0, 0.0), Vec3::new(0.0, -100.0, 300.0)]
        .map(|arm| design.wheel_centre() + arm)
}

fn twist_is_the_velocity(linkage: &Linkage, position: &Position, near: &[Position; 6], twist: &Twist) {
    for marker in markers(linkage) {
        let measured = differences(near.map(|position| position.carry(linkage, &marker)));
        let said = twist.velocity_at(&position.carry(linkage, &marker));
        close_vectors("velocity of a knuckle point", &said, &measured, 1e-9 * (1.0 + said.norm()));
    }
}

fn rates_are_differences(case: &Drawn) {
    let linkage = linkage(&case.corner, Side::Left);
    let position = solved(&linkage, case.state);
    let readings = read(&linkage, &position);
    let near = around(&linkage, case.state, false);
    let measured =
        |what: fn(&Readings) -> f64| difference(near.map(|position| what(&read(&linkage, &position))));

    twist_is_the_velocity(&linkage, &position, &near, &position.travel_twist());
    close("camber_gain", readings.camber_gain, measured(|r| r.camber), 1e-9);
    close("bump_steer", readings.bump_steer, measured(|r| r.toe), 1e-9);
    close("hub_slope_x", readings.hub_slope_x, measured(|r| r.wheel_centre[0]), 1e-9);
    close("wheelbase_change", readings.hub_slope_x, measured(|r| r.wheelbase_change), 1e-9);
    let ratio = |r: &Readings| r.spring.map_or(f64::NAN, |spring| -spring.length);
    close("spring ratio", readings.spring.expect("a spring").motion_ratio, measured(ratio), 1e-9);
    let ratio = |r: &Readings| r.damper.map_or(f64::NAN, |damper| -damper.length);
    close("damper ratio", readings.damper.expect("a damper").motion_ratio, measured(ratio), 1e-9);

    // The slopes are those of the knuckle point that is at the contact now, not of the
    // lowest point, which wanders round the tyre.
    let contact = at(readings.contact);
    let design = *Follower::new(&linkage).position();
    let marker =
        design.wheel_centre() + position.rotation().transpose() * (contact - position.wheel_centre());
    let velocity = differences(near.map(|position| position.carry(&linkage, &marker)));
    let (slope_x, slope_y) =
        (readings.contact_slope_x.expect("it rises"), readings.contact_slope_y.expect("it rises"));
    close("contact_slope_x", slope_x, velocity.x / velocity.z, 1e-9 * (1.0 + slope_x.abs()));
    close("contact_slope_y", slope_y, velocity.y / velocity.z, 1e-9 * (1.0 + slope_y.abs()));

    let near = around(&linkage, case.state, true);
    twist_is_the_velocity(&linkage, &position, &near, &position.rack_twist());
    for (length, lengths) in [
        (linkage.spring_at(&position), near.map(|position| linkage.spring_at(&position))),
        (linkage.damper_at(&position), near.map(|position| linkage.damper_at(&position))),
    ] {
        let measured = difference(lengths.map(|length| length.map_or(f64::NAN, |length| -length.length)));
        close("shortening per mm of rack", length.expect("it is there").per_rack, measured, 1e-9);
    }
}

#[test]
fn rates_are_differences_away_from_design() {
    for_all(200, &drawn(&ALL), |case| rates_are_differences(&case));
}

#[test]
fn rates_are_differences_at_design() {
    for_all(100, &drawn(&ALL), |case| rates_are_differences(&Drawn { state: State::DESIGN, ..case }));
}

/// A micrometre from design is where a formula that divides by the angle turned would show.
#[test]
fn rates_are_differences_at_small_rotations() {
    let strategy = (drawn(&ALL), 3.0..6.0_f64, any::<bool>());
    for_all(100, &strategy, |(case, decades, bump)| {
        let travel = 10.0_f64.powf(-decades) * if bump { 1.0 } else { -1.0 };
        rates_are_differences(&Drawn { state: State { travel, rack: 0.0 }, ..case });
    });
}

/// At small travel t the position is design + t · twist up to a term in t² whose factor
/// is under 0.05/mm; the twist that reaches it by [`Displacement::log`] is t · twist with
/// the same remainder, however small the rotation.
#[test]
fn a_small_travel_is_a_small_twist() {
    let strategy = (drawn(&ALL), 3.0..9.0_f64);
    for_all(200, &strategy, |(case, decades)| {
        let travel = 10.0_f64.powf(-decades);
        let linkage = linkage(&case.corner, Side::Left);
        let design = *Follower::new(&linkage).position();
        let position = solved(&linkage, State { travel, rack: 0.0 });
        // About the wheel centre: about the origin 3 m away a rotation known to 1e-16
        // would already move it by 3e-13 mm.
        let reached = Displacement {
            rotation: position.rotation(),
            translation: position.wheel_centre() - design.wheel_centre(),
        };
        let twist = reached.log();
        let said = design.travel_twist();
        // What doubles hold: coordinates of 3000 mm to 5e-13 mm, which over joints 50 mm
        // apart is 1e-14 of a rotation and 1e-12 of a degree.
        let allowed = |held: f64| 0.05 * travel * travel + held;
        close_vectors("rotation", &twist.angular, &(travel * said.angular), 1e-2 * allowed(2e-12));
        let velocity = said.velocity_at(&design.wheel_centre());
        close_vectors("displacement", &twist.linear, &(travel * velocity), allowed(2e-12));
        let (before, after) = (read(&linkage, &design), read(&linkage, &position));
        close("camber", after.camber - before.camber, travel * before.camber_gain, allowed(1e-12));
        close("toe", after.toe - before.toe, travel * before.bump_steer, allowed(1e-12));
    });
}
