//! Springs, levers and frequencies: the core's springing of whole corners against worked
//! examples.

use geometry_core::{
    setup::{Axle, Corner, GRAVITY, Hinge, Part, Spring, Vehicle},
    solve::Follower,
    springing::{
        QuarterCar, Reader, SPRING_STEEL, Springing, active_coils, coil_rate, damping_ratio,
        frequency_of_deflection, static_deflection,
    },
};

use crate::support::{close, corner, linkage, place, plane_arm, plane_tie_rod, wheel};

/// N/mm of a lb/in and kg of a lb, by definition of pound and inch.
const POUND: f64 = 0.453_592_37;
const POUND_PER_INCH: f64 = POUND * GRAVITY / 25.4;

/// The springing of a corner in the design position, of a car with half its mass in front whose
/// front wheels stand on the ground with `load` newtons each.
fn springing(corner: &Corner, load: f64) -> Springing {
    let vehicle =
        Vehicle { mass: Some(4.0 * load / GRAVITY), front_mass_share: Some(0.5), ..Vehicle::default() };
    let linkage = linkage(corner);
    Reader::new(&linkage, corner, &vehicle, Axle::Front).read(&Follower::new(&linkage))
}

/// A level trailing arm `to_wheel` long with an upright spring `to_spring` behind its pivot.
fn trailing_arm(to_wheel: f64, to_spring: f64, rate: f64, tyre_rate: f64, unsprung: f64) -> Corner {
    let mut wheel = wheel(-to_wheel, 700.0, 300.0);
    wheel.tyre_rate = Some(tyre_rate);
    let mut corner = corner(vec![], vec![], wheel);
    corner.hinge = Some(Hinge { id: "arm".into(), pivots: [[0.0, 300.0, 300.0], [0.0, 640.0, 300.0]] });
    corner.spring = Some(Spring {
        body: [-to_spring, 500.0, 650.0],
        carried: [-to_spring, 500.0, 300.0],
        on: "arm".into(),
        rate: Some(rate),
        free_length: None,
    });
    corner.unsprung = vec![Part { name: "all".into(), mass: unsprung, share: None }];
    corner
}

/// Barton & Fieldhouse, *Automotive Chassis Engineering*, Springer 2018, sec. 3.13, p. 213: wheel
/// hop at 14.25 Hz. Page text seen:
/// <https://fliphtml5.com/osspz/szqt/Automotive_Chassis_Engineering/224>. The static tyre load is
/// printed with g = 9.81 m/s².
#[test]
fn wheel_hop_on_cobbles() {
    let corner = trailing_arm(400.0, 400.0, 20.63, 300.0, 40.0);
    let found = springing(&corner, 2349.0);
    close("hop", found.hop_frequency.expect("all given"), 14.25, 0.01);
    close("speed over 0.2 m", 0.2 * found.hop_frequency.expect("all given"), 2.85, 0.01);
    let car = Vehicle { mass: Some(1140.0), front_mass_share: Some(0.42), ..Vehicle::default() };
    let load = car.wheel_load(Axle::Front).expect("given") * 9.81 / GRAVITY;
    close("static tyre load", load, 2349.0, 1.0);
}

/// The same page: active coils of a front and a rear spring, n = G d⁴/(8 k D³).
#[test]
fn coils_of_two_springs() {
    for (rate, diameter, coils) in [(19.3, 120.0, 7.73), (42.3, 100.0, 6.1)] {
        let found = active_coils(SPRING_STEEL, 12.7, diameter, rate).expect("in range");
        close("active coils", found, coils, 0.01);
        let back = coil_rate(SPRING_STEEL, 12.7, diameter, found).expect("in range");
        close("rate", back, rate, 1e-12 * rate);
    }
}

/// The same book, eq. 3.29–3.33, p. 179: spring travel per wheel travel c/b and wheel rate
/// `spring_rate` · (c/b)². Page text seen:
/// <https://fliphtml5.com/osspz/szqt/Automotive_Chassis_Engineering/190>. Symbols only; numbers
/// made up here. With the arm level and the spring upright the ratio does not change to first
/// order, so that the load adds nothing; the difference quotient is good to 1e-10 per mm.
#[test]
fn wheel_rate_of_a_spring_on_a_pivoted_arm() {
    for (to_wheel, to_spring) in [(400.0, 300.0), (450.0, 180.0), (380.0, 380.0), (350.0, 420.0_f64)] {
        let found = springing(&trailing_arm(to_wheel, to_spring, 60.0, 200.0, 30.0), 4000.0);
        let lever = to_spring / to_wheel;
        let stroke = found.spring.expect("it has a spring").stroke;
        close("ratio", stroke.motion_ratio, lever, 1e-14);
        close("change of the ratio", stroke.ratio_change.expect("inside the travel"), 0.0, 1e-10);
        close("k r²", found.wheel_rate_of_springs.expect("given"), 60.0 * lever * lever, 1e-11);
        close("wheel rate", found.wheel_rate.expect("given"), 60.0 * lever * lever, 1e-6);
    }
}

/// Gillespie, *Fundamentals of Vehicle Dynamics*, SAE 1992, ch. 5, example problem 1: ride rates
/// and frequencies, front and rear. From memory; inputs and outputs close on each other. The
/// book takes the whole tyre load as sprung weight.
#[test]
fn ride_rates_and_frequencies() {
    let axles = [(143.0, 957.0, 127.7, 1.14), (100.0, 730.0, 92.3, 1.11)];
    for (rate, load, ride_rate, frequency) in axles {
        let corner = trailing_arm(400.0, 400.0, rate * POUND_PER_INCH, 1198.0 * POUND_PER_INCH, 0.0);
        let found = springing(&corner, load * POUND * GRAVITY);
        // One unit of the last digit: the first rate, 127.751, is recalled as 127.7.
        close("ride rate", found.ride_rate.expect("all given") / POUND_PER_INCH, ride_rate, 0.1);
        let exact = 1198.0 * rate / (1198.0 + rate);
        close("ride rate, formula", found.ride_rate.expect("all given") / POUND_PER_INCH, exact, 1e-6);
        close("ride frequency", found.ride_frequency.expect("all given"), frequency, 0.01);
        // What weighs nothing does not hop.
        assert_eq!(found.hop_frequency, None);
    }
}

/// Course notes “Section 5: Ride Dynamics”, a condensation of Gillespie ch. 5; page text seen.
/// The notes print 6000 rad/s for the hop, which is k/m without its root; 77.46 rad/s is meant,
/// 12.33 Hz, within the notes' own 11 to 13 Hz.
#[test]
fn a_quarter_car() {
    let car = QuarterCar { sprung_mass: 300.0, unsprung_mass: 30.0, wheel_rate: 20.0, tyre_rate: 160.0 };
    let circle = 2.0 * std::f64::consts::PI;
    let ride_rate = car.ride_rate().expect("positive");
    close("springs one on the other", 1000.0 * ride_rate, 17_777.78, 0.005);
    close("bounce", circle * car.ride_frequency().expect("positive"), 7.7, 0.01);
    close("damping ratio", damping_ratio(1500.0, ride_rate, 300.0).expect("positive"), 0.32, 0.005);
    close("hop", circle * car.hop_frequency().expect("positive"), 6000.0_f64.sqrt(), 1e-9);
    // The same through a corner.
    let corner = trailing_arm(400.0, 400.0, 20.0, 160.0, 30.0);
    let found = springing(&corner, 330.0 * GRAVITY);
    close("sprung mass", found.sprung_mass.expect("all given"), 300.0, 1e-9);
    close("bounce of a corner", circle * found.ride_frequency.expect("all given"), 7.7, 0.01);
    close("hop of a corner", circle * found.hop_frequency.expect("all given"), 77.46, 0.01);
}

/// Gillespie 1992, ch. 5, static deflection and natural frequency: 9.78 in is 1 Hz. From memory;
/// an identity.
#[test]
fn frequencies_of_static_deflections() {
    for (inches, frequency) in [(9.78, 1.0), (5.0, 1.4), (1.0, 3.13)] {
        let found = frequency_of_deflection(25.4 * inches).expect("positive");
        close("frequency", found, frequency, 0.01);
        // A corner's deflection and frequency belong together in the same way.
        let corner = trailing_arm(400.0, 300.0, 15.0 + 20.0 / inches, 200.0, 25.0);
        let found = springing(&corner, 3500.0);
        let deflection = found.static_deflection.expect("all given");
        let belongs = frequency_of_deflection(deflection).expect("positive");
        close("of a corner", belongs, found.ride_frequency.expect("all given"), 1e-12);
        let mass = found.sprung_mass.expect("all given");
        let again = static_deflection(found.ride_rate.expect("all given"), mass).expect("positive");
        close("deflection", again, deflection, 1e-12);
    }
}

/// Aronhold–Kennedy and virtual work (any text on statics). Constructed so that all results are
/// simple: 4000 N on the wheel are 6568.42 N in the spring at a ratio of 0.608974.
#[test]
fn the_spring_of_a_plane_double_wishbone_carries_its_load() {
    let mut corner = corner(
        vec![
            plane_arm("lower", [300.0, 150.0], [700.0, 150.0]),
            plane_arm("upper", [350.0, 400.0], [660.0, 450.0]),
        ],
        vec![plane_tie_rod([300.0, 150.0], [700.0, 150.0])],
        wheel(0.0, 750.0, 300.0),
    );
    corner.spring = Some(Spring {
        body: place(0.0, [550.0, 500.0]),
        carried: place(0.0, [550.0, 150.0]),
        on: "lower".into(),
        rate: Some(50.0),
        free_length: None,
    });
    corner.unsprung = vec![Part { name: "without weight".into(), mass: 0.0, share: None }];
    let found = springing(&corner, 4000.0);
    let spring = found.spring.expect("it has a spring");
    let relative =
        |what: &str, found: f64, expected: f64| close(what, found, expected, 1e-9 * expected.abs());
    relative("ratio", spring.stroke.motion_ratio, 0.608_974_359);
    relative("spring force", spring.force.expect("all given"), 6_568.421_053);
    relative("track", found.track, 1500.0);
    relative("k r²", found.wheel_rate_of_springs.expect("given"), 50.0 * 0.608_974_359_f64.powi(2));
    relative("at the wheel", found.wheel_force.expect("all given"), 4000.0);
}
