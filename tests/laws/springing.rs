//! A spring's force at the wheel is the derivative of its stored energy, the wheel rate the
//! derivative of that force, whatever stands between spring and wheel.
//!
//! The energies are formed here from lengths and angles alone, at travels beside the position;
//! no ratio of the core is used on this side.

use geometry_core::{
    Vec3,
    car::{Car, CarInput},
    linkage::Linkage,
    setup::{Axle, Corner, Damper, GRAVITY, Part, Side, Vehicle, example},
    solve::{Follower, Position, State},
    springing::{Missing, Quantity, Reader, Springing},
    statics::{Given, Load, LoadAxes, LoadPoint, ReactedBy, Statics},
};
use proptest::prelude::*;

use crate::{
    carried::with_everything,
    checking::{close, for_all, go, linkage, vehicle},
    corners::{ALL, Drawn, drawn},
};

/// mm of travel between the positions of a difference.
const STEP: f64 = 0.2;

/// N·mm/rad of a N·m/°.
const PER_RADIAN: f64 = 1000.0 * 180.0 / std::f64::consts::PI;

/// First and second derivative of a function given at −2 to 2 steps (five-point formulas).
fn derivatives([a, b, c, d, e]: [f64; 5], step: f64) -> [f64; 2] {
    [
        (8.0 * (d - b) - (e - a)) / (12.0 * step),
        (16.0 * (d - c + b - c) - (e - c + a - c)) / (12.0 * step * step),
    ]
}

/// A follower that stands at a state.
fn standing(linkage: &Linkage, state: State) -> Follower<'_> {
    let mut follower = Follower::new(linkage);
    let _: Position = go(&mut follower, state);
    follower
}

/// A value at five travels about a state; `None` where one of them is not reached.
fn around(linkage: &Linkage, state: State, of: impl Fn(&Position) -> Option<f64>) -> Option<[f64; 5]> {
    let mut values = [0.0; 5];
    for (value, steps) in values.iter_mut().zip([-2.0, -1.0, 0.0, 1.0, 2.0]) {
        let target = State { travel: state.travel + STEP * steps, ..state };
        let outcome = Follower::new(linkage).go_to(target);
        *value = of(outcome.position()?)?;
    }
    Some(values)
}

fn read(linkage: &Linkage, corner: &Corner, vehicle: &Vehicle, state: State) -> Springing {
    Reader::new(linkage, corner, vehicle, Axle::Front).read(&standing(linkage, state))
}

fn weighed(corner: &mut Corner) {
    corner.unsprung = vec![
        Part { name: "wheel".into(), mass: 20.0, share: None },
        Part { name: "arms".into(), mass: 9.0, share: Some(0.5) },
    ];
    corner.wheel.tyre_rate = Some(240.0);
}

fn free_lengths() -> impl Strategy<Value = (Drawn, f64)> {
    (prop_oneof![drawn(&ALL), with_everything()], 10.0..120.0_f64)
}

/// With a spring of a free length, on every carrier. The travels' lengths are good to 1e-10 mm;
/// times the spring's force over the step squared that is the law's tolerance, and the
/// difference's own error, of the sixth derivative, is the larger the nearer dead centre a
/// rocker stands.
#[test]
fn force_and_wheel_rate_are_derivatives_of_the_springs_energy() {
    for_all(300, &free_lengths(), |(mut case, compressed)| {
        weighed(&mut case.corner);
        case.corner.torsion_bar = None;
        let Ok(design) = Linkage::new(&case.corner, Side::Left) else { return };
        let Some(length) = design.spring_at(Follower::new(&design).position()) else { return };
        let free = length.length + compressed;
        let spring = case.corner.spring.as_mut().expect("drawn");
        spring.free_length = Some(free);
        let rate = spring.rate.expect("drawn");
        let linkage = linkage(&case.corner, Side::Left);
        let energy = |position: &Position| {
            let length = linkage.spring_at(position)?.length;
            Some(0.5 * rate * (free - length) * (free - length))
        };
        let Some(energies) = around(&linkage, case.state, energy) else { return };
        let [force, wheel_rate] = derivatives(energies, STEP);
        let found = read(&linkage, &case.corner, &vehicle(), case.state);
        let ratio = found.spring.expect("it reaches").stroke.motion_ratio.abs();
        if ratio > 3.0 {
            // Next to dead centre a difference over millimetres says nothing.
            return;
        }
        let size = rate * (1.0 + ratio * ratio) * (1.0 + ratio);
        close("force", found.wheel_force.expect("all given"), force, 1e-6 * size * (1.0 + ratio * ratio));
        close(
            "wheel rate",
            found.wheel_rate.expect("all given"),
            wheel_rate,
            1e-6 * size * (1.0 + ratio * ratio),
        );
        let parts = found.wheel_rate_of_springs.zip(found.wheel_rate_of_ratio).expect("all given");
        close("parts", parts.0 + parts.1, wheel_rate, 1e-6 * size * (1.0 + ratio * ratio));
    });
}

/// Spring and torsion bar together: the bar's twist at travel 0 is what the corner's share
/// leaves to it, and the energy of both has the force and the rate.
#[test]
fn a_torsion_bar_carries_the_rest() {
    for_all(300, &with_everything(), |mut case| {
        weighed(&mut case.corner);
        let Ok(design) = Linkage::new(&case.corner, Side::Left) else { return };
        let Some(length) = design.spring_at(Follower::new(&design).position()) else { return };
        let free = length.length + 15.0;
        let spring = case.corner.spring.as_mut().expect("drawn");
        spring.free_length = Some(free);
        let rate = spring.rate.expect("drawn");
        let linkage = linkage(&case.corner, Side::Left);
        let start = read(&linkage, &case.corner, &vehicle(), State::DESIGN);
        let Some(bar) = start.torsion_bar.filter(|bar| bar.turn.per_travel.abs() > 0.02) else { return };
        close("balance", start.excess_at_design.expect("all given"), 0.0, 1e-6);
        // The bar's angle counts right-handed in the linkage; what it holds at travel 0 is in
        // the direction in which bump twists it.
        let at_design = linkage.torsion_bar_at(Follower::new(&linkage).position()).expect("drawn");
        let twist = bar.twist.expect("all given").to_radians() * at_design.per_travel.signum();
        let bar_rate = bar.rate.expect("drawn") * PER_RADIAN;
        let energy = |position: &Position| {
            let length = linkage.spring_at(position)?.length;
            let angle = twist + linkage.torsion_bar_at(position)?.angle;
            Some(0.5 * rate * (free - length) * (free - length) + 0.5 * bar_rate * angle * angle)
        };
        let Some(energies) = around(&linkage, case.state, energy) else { return };
        let [force, wheel_rate] = derivatives(energies, STEP);
        let found = read(&linkage, &case.corner, &vehicle(), case.state);
        let ratio = found.spring.expect("it reaches").stroke.motion_ratio.abs();
        if ratio > 3.0 {
            return;
        }
        let size = (rate + bar_rate * at_design.per_travel.powi(2)) * (1.0 + ratio).powi(5);
        close("force", found.wheel_force.expect("all given"), force, 1e-5 * size);
        close("wheel rate", found.wheel_rate.expect("all given"), wheel_rate, 1e-5 * size);
    });
}

/// Without a free length the springs carry the corner at travel 0: the force at the wheel
/// centre, the load at the contact and the unsprung weight do no work together when the wheel
/// travels. The contact's rise is a difference here.
#[test]
fn without_a_free_length_the_corner_stands_on_its_springs() {
    for_all(200, &drawn(&ALL), |mut case| {
        weighed(&mut case.corner);
        let linkage = linkage(&case.corner, Side::Left);
        let found = read(&linkage, &case.corner, &vehicle(), State::DESIGN);
        if found.missing.contains(&Missing::SpringLeverage) {
            return;
        }
        let contact = |position: &Position| Some(crate::checking::read(&linkage, position).contact[2]);
        let Some(heights) = around(&linkage, State::DESIGN, contact) else { return };
        let rise = derivatives(heights, STEP)[0];
        let load = vehicle().wheel_load(Axle::Front).expect("given");
        let unsprung = 24.5 * GRAVITY;
        assert!(found.force_from_share);
        close("carried", found.wheel_force.expect("all given"), load * rise - unsprung, 1e-6 * load);
        close("masses", found.sprung_mass.expect("given") + 24.5, load / GRAVITY, 1e-9);
        close("excess", found.excess_at_design.expect("given"), 0.0, 1e-8);
        // What was found as the free length gives the same when it is written down.
        let mut given = case.corner.clone();
        given.spring.as_mut().expect("drawn").free_length = found.spring.expect("drawn").free_length;
        if given.check().is_ok() {
            let linkage = self::linkage(&given, Side::Left);
            let again = read(&linkage, &given, &vehicle(), case.state);
            let before = Reader::new(&linkage, &case.corner, &vehicle(), Axle::Front)
                .read(&standing(&linkage, case.state));
            let force = before.wheel_force.expect("all given");
            close("force", again.wheel_force.expect("all given"), force, 1e-9 * (1.0 + force.abs()));
        }
    });
}

/// A bar between a corner and its mirror image, wheels moving opposite ways: its energy is that
/// of the angle between its ends, and half of the energy's second derivative is each wheel's
/// rate; by itself a wheel has half of that.
#[test]
fn the_bars_rate_is_that_of_its_twist_between_both_wheels() {
    for_all(200, &with_everything(), |case| {
        let Ok(left) = Linkage::new(&case.corner, Side::Left) else { return };
        let mirrored = case.corner.mirrored();
        let right = linkage(&mirrored, Side::Right);
        let state = State { rack: 0.0, ..case.state };
        let rate = case.corner.anti_roll_bar.as_ref().and_then(|bar| bar.rate).expect("drawn") * PER_RADIAN;
        let mut energies = [0.0; 5];
        for (energy, steps) in energies.iter_mut().zip([-2.0, -1.0, 0.0, 1.0, 2.0]) {
            let angle = |linkage: &Linkage, travel: f64| {
                let outcome = Follower::new(linkage).go_to(State { travel, rack: 0.0 });
                Some(linkage.anti_roll_bar_at(outcome.position()?)?.turned.angle)
            };
            let (up, down) = (state.travel + steps * STEP, state.travel - steps * STEP);
            // A mirrored axis turns the other way: the same bump on both gives opposite angles.
            let Some((a, b)) = angle(&left, up).zip(angle(&right, down)) else { return };
            *energy = 0.5 * rate * (a + b) * (a + b);
        }
        let [force, second] = derivatives(energies, STEP);
        let found = read(&left, &case.corner, &vehicle(), state);
        let Some(bar) = found.anti_roll_bar else { return };
        if bar.turn.per_travel.abs() > 2.0 {
            return;
        }
        let expected = bar.wheel_rate_opposite.expect("given");
        let leeway = 1e-5 * (1.0 + expected) * (1.0 + bar.turn.per_travel.abs()).powi(4);
        close("no force when level", force, 0.0, leeway);
        close("rate", expected, 0.5 * second, leeway);
        close("single", 2.0 * bar.wheel_rate_single.expect("given"), expected, 1e-12 * expected);
        let of_bar = found.roll.bar.expect("given");
        // In roll by φ the wheels move by ± φ t/2: energy K φ²/2 = k z², with z = φ t/2.
        let per_degree = expected * (found.track * std::f64::consts::PI / 360.0).powi(2) * 2.0;
        close("roll", of_bar, per_degree * 180.0 / std::f64::consts::PI / 1000.0, 1e-9 * of_bar);
    });
}

/// The rocker's rod carries what the spring on it needs: its pull on the member has the power
/// of the force at the wheel centre.
#[test]
fn the_rod_pulls_with_the_springs_power() {
    for_all(200, &with_everything(), |mut case| {
        weighed(&mut case.corner);
        if let Some(bar) = &mut case.corner.torsion_bar {
            bar.on = "rocker".into();
        }
        let Ok(linkage) = Linkage::new(&case.corner, Side::Left) else { return };
        let found = read(&linkage, &case.corner, &vehicle(), case.state);
        let Some(rocker) = found.rocker else { return };
        if rocker.turn.per_travel.abs() > 2.0 || found.missing.contains(&Missing::SpringLeverage) {
            return;
        }
        let carried = |i: usize| {
            let linkage = &linkage;
            move |position: &Position| Some(linkage.rocker_at(position)?.carried[i])
        };
        let mut velocity = Vec3::zeros();
        for i in 0..3 {
            let Some(values) = around(&linkage, case.state, carried(i)) else { return };
            velocity[i] = derivatives(values, STEP)[0];
        }
        let along = (Vec3::from(rocker.carried) - Vec3::from(rocker.rod_end)).normalize();
        let force = rocker.rod_force.expect("all given");
        // A pull on the moving end is against the way from the rocker to it.
        let power = -force * along.dot(&velocity);
        close("power", -power, found.wheel_force.expect("all given"), 1e-6 * (1.0 + force.abs()));
    });
}

/// Springing and equilibrium tell a rod's force with the same sign and, for the same spring
/// force, of the same size.
#[test]
fn the_rods_force_is_that_of_the_free_bodies() {
    for_all(200, &with_everything(), |mut case| {
        weighed(&mut case.corner);
        case.corner.torsion_bar = None;
        let Ok(linkage) = Linkage::new(&case.corner, Side::Left) else { return };
        let found = read(&linkage, &case.corner, &vehicle(), case.state);
        let (Some(rocker), Some(spring)) = (found.rocker, found.spring) else { return };
        let (Some(rod), Some(force)) = (rocker.rod_force, spring.force) else { return };
        let (at, force_up) = (LoadPoint::Contact, [0.0, 0.0, 4000.0]);
        let load = Load { at, force: force_up, axes: LoadAxes::Vehicle, reacted_by: ReactedBy::Knuckle };
        let position = *standing(&linkage, case.state).position();
        let statics = Statics::new(&case.corner, &linkage);
        let Ok(forces) = statics.forces(&position, &[load], &Given::default()) else { return };
        let (Some(of_bodies), Some(carried)) = (forces.rocker, forces.spring) else { return };
        let expected = of_bodies.rod * force / carried;
        close("rod force", rod, expected, 1e-6 * (1.0 + expected.abs()));
    });
}

/// A number that does not exist has its reason, and one that exists has none.
#[test]
fn what_is_missing_is_said() {
    for_all(300, &(with_everything(), any::<u16>()), |(mut case, bits)| {
        weighed(&mut case.corner);
        let bit = |i: u16| (bits >> i) & 1 == 1;
        let corner = &mut case.corner;
        let mut vehicle = vehicle();
        if bit(0) {
            corner.spring.as_mut().expect("drawn").rate = None;
        }
        if bit(1) {
            corner.torsion_bar.as_mut().expect("drawn").rate = None;
        }
        if bit(2) {
            corner.anti_roll_bar.as_mut().expect("drawn").rate = None;
        }
        if bit(3) {
            vehicle.mass = None;
        }
        if bit(4) {
            vehicle.front_mass_share = None;
        }
        if bit(5) {
            corner.unsprung.clear();
        }
        if bit(6) {
            corner.wheel.tyre_rate = None;
        }
        if bit(7) {
            corner.spring = None;
            corner.damper = None::<Damper>;
        }
        if bit(8) {
            corner.torsion_bar = None;
        }
        let Ok(linkage) = Linkage::new(corner, Side::Left) else { return };
        let found = read(&linkage, corner, &vehicle, case.state);
        for quantity in Quantity::ALL {
            let missing: Vec<Missing> = found.missing_for(quantity).collect();
            if let Some(value) = quantity.value(&found) {
                assert!(value.is_finite() && missing.is_empty(), "{quantity:?}: {value} {missing:?}");
                continue;
            }
            let not_a_part = match quantity {
                Quantity::SpringLength | Quantity::SpringRatio | Quantity::SpringForce => {
                    corner.spring.is_none()
                }
                Quantity::TorsionBarTwist => corner.torsion_bar.is_none(),
                // The damper may be gone; rods may not reach so far.
                Quantity::DamperLength
                | Quantity::DamperRatio
                | Quantity::RockerAngle
                | Quantity::BarAngle => true,
                _ => false,
            };
            let position = go(&mut Follower::new(&linkage), case.state);
            let out_of_reach =
                linkage.anti_roll_bar_at(&position).is_none() || linkage.rocker_at(&position).is_none();
            let pushes_not = found.wheel_rate.is_some_and(|rate| rate <= 0.0);
            assert!(
                !missing.is_empty() || not_a_part || out_of_reach || pushes_not,
                "{quantity:?} is without a reason: {:?}",
                found.missing
            );
        }
        // Filled in, everything named is what was taken away.
        for missing in &found.missing {
            let taken = match missing {
                Missing::Spring => bit(7) && bit(8),
                Missing::SpringRate => bit(0),
                Missing::TorsionBarRate => bit(1),
                Missing::AntiRollBarRate => bit(2),
                Missing::VehicleMass => bit(3),
                Missing::FrontMassShare => bit(4),
                Missing::UnsprungParts => bit(5),
                Missing::TyreRate => bit(6),
                Missing::SpringLeverage => true,
                _ => false,
            };
            assert!(taken, "{missing:?}");
        }
    });
}

/// Frequencies of the two-mass model: the product and the sum of the squares of both are the
/// coefficients of its equation, and the hop and ride frequencies lie between them.
#[test]
fn the_two_masses_frequencies_solve_their_equation() {
    let masses = (100.0..900.0_f64, 15.0..90.0_f64, 8.0..200.0_f64, 100.0..500.0_f64);
    for_all(300, &masses, |(sprung_mass, unsprung_mass, wheel_rate, tyre_rate)| {
        let car = geometry_core::springing::QuarterCar { sprung_mass, unsprung_mass, wheel_rate, tyre_rate };
        let [low, high] = car.natural_frequencies().expect("all positive");
        let square = |f: f64| (2.0 * std::f64::consts::PI * f).powi(2) / 1000.0;
        let product = wheel_rate * tyre_rate / (sprung_mass * unsprung_mass);
        close("product", square(low) * square(high), product, 1e-12 * product);
        let sum = (wheel_rate + tyre_rate) / unsprung_mass + wheel_rate / sprung_mass;
        close("sum", square(low) + square(high), sum, 1e-12 * sum);
        let (ride, hop) = (car.ride_frequency().expect("positive"), car.hop_frequency().expect("positive"));
        assert!(low <= ride && hop <= high, "{low} {ride} {hop} {high}");
    });
}

/// What the car makes of both axles' rates agrees with what each corner says of itself.
#[test]
fn the_car_takes_its_rates_from_the_springing() {
    let document = example();
    let of_axle = |axle: Axle| {
        let corner = document.corner(axle).expect("the example has both");
        let linkage = linkage(corner, Side::Left);
        Reader::new(&linkage, corner, &document.vehicle, axle).read(&Follower::new(&linkage))
    };
    let (front, rear) = (of_axle(Axle::Front), of_axle(Axle::Rear));
    let input = CarInput { front_rates: (&front).into(), rear_rates: (&rear).into(), ..CarInput::default() };
    let found = Car::new(&document).expect("a car").read(&input).expect("in their ranges");
    let lateral = found.lateral.expect("all given");
    for (springing, ride, transfer) in
        [(&front, found.front_ride, lateral.front), (&rear, found.rear_ride, lateral.rear)]
    {
        let ride = ride.expect("all given");
        close("sprung mass", ride.sprung_mass, springing.sprung_mass.expect("all given"), 1e-9);
        let frequency = springing.ride_frequency.expect("all given");
        close("ride frequency", ride.frequency_with_tyre.expect("all given"), frequency, 1e-12);
        assert!((1.0..5.0).contains(&frequency), "{frequency}");
        assert!((7.0..20.0).contains(&springing.hop_frequency.expect("all given")));
        let (both, with_tyres) =
            (springing.roll.suspension.expect("all given"), springing.roll.with_tyres.expect("all given"));
        assert!(with_tyres < both && both > springing.roll.springs.expect("all given"));
        close("roll rate", transfer.roll_rate, both, 1e-9 * both);
    }
}
