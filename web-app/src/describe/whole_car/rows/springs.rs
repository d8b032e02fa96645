//! Each axle's springing.

use geometry_core::{
    car::Group,
    setup::Axle,
    springing::{Missing, Quantity, Springing},
};

use super::super::{Of, Row, SHARE, Show, missing_of, nothing, of_group, of_part, sprung, sprung_with};
use crate::{
    describe::{
        input::{Input, Why},
        whole_car::{Answer, Cell, needs},
    },
    units::Unit,
};

const VIRTUAL_WORK: &str = "Virtual work; ratio as part over wheel";
const ENERGY: &str = "Second derivative of the springs’ energy over travel (virtual work)";
const GILLESPIE_RIDE: &str = "Gillespie, Fundamentals of Vehicle Dynamics, 1992, ch. 5 (from memory)";
const GILLESPIE_ROLL: &str = "Gillespie, Fundamentals of Vehicle Dynamics, 1992, 6.5; Milliken & Milliken, Race Car \
                              Vehicle Dynamics, 1995, ch. 16 (from memory)";

const RATIO: Show = Show(Unit::Ratio, nothing);
const RATE: Show = Show(Unit::NewtonPerMillimetre, nothing);
const ROLL_RATE: Show = Show(Unit::NewtonMetrePerDegree, nothing);
const HERTZ: Show = Show(Unit::Hertz, nothing);
const MILLIMETRES: Show = Show(Unit::Millimetre, nothing);
const KILOGRAMS: Show = Show(Unit::Kilogram, nothing);

const fn row(
    key: &'static str,
    name: &'static str,
    of: fn(&Answer, Axle) -> Cell,
    definition: &'static str,
    source: &'static str,
) -> Row {
    Row { key, name, of: Of::Axles(of), definition, source, usual: None }
}

const fn usually(row: Row, usual: &'static str) -> Row {
    Row { usual: Some(usual), ..row }
}

fn shortens(ratio: f64, _: Axle) -> &'static str {
    if ratio > 0.0 { "shortens in bump" } else { "lengthens in bump" }
}

fn pushes(force: f64, _: Axle) -> &'static str {
    if force > 0.0 { "pushes apart" } else { "pulls together: a loose spring gives nothing" }
}

fn stiffens(change: f64, _: Axle) -> &'static str {
    if change > 0.0 { "rises in bump" } else { "falls in bump" }
}

fn adds(rate: f64, _: Axle) -> &'static str {
    if rate > 0.0 { "stiffens the wheel" } else { "softens the wheel" }
}

fn too_much(force: f64, _: Axle) -> &'static str {
    if force > 0.0 { "springs push more than the load" } else { "springs push less than the load" }
}

const END: &str = "the travel ends here";

/// Ratios.
pub(super) const RATIOS: [Row; 9] = [
    usually(
        row(
            "spring_ratio",
            "Spring ratio",
            |a, axle| {
                if a.end(axle)
                    .is_ok_and(|e| e.springing.spring.is_none() && e.springing.torsion_bar.is_some())
                {
                    return Cell::NoPart("no spring but a torsion bar");
                }
                let ratio = |s: &Springing| Quantity::SpringRatio.value(s);
                sprung(a, axle, Quantity::SpringRatio, ratio, Show(Unit::Ratio, shortens))
            },
            "Motion ratio r: how much the spring shortens for what the wheel centre rises, r = −dl/dz. The wheel \
             feels the spring’s rate times r².",
            VIRTUAL_WORK,
        ),
        "0.5 to 1 (common practice, no source)",
    ),
    row(
        "spring_ratio_change",
        "… its change with travel",
        |a, axle| {
            of_part(
                a,
                axle,
                |s| s.spring,
                "no spring",
                |s| s.stroke.ratio_change.map(|change| 100.0 * change).ok_or(END),
                Show(Unit::RatioPerTravel, stiffens),
            )
        },
        "Change of the spring’s motion ratio, dr/dz. Under load it makes part of the wheel rate by itself.",
        VIRTUAL_WORK,
    ),
    row(
        "torsion_bar_turning",
        "Torsion bar, twist",
        |a, axle| {
            of_part(
                a,
                axle,
                |s| s.torsion_bar,
                "no torsion bar",
                |bar| Ok(bar.turn.per_travel),
                Show(Unit::DegreePerMillimetre, nothing),
            )
        },
        "How far the torsion bar is twisted for what the wheel centre rises, dφ/dz.",
        VIRTUAL_WORK,
    ),
    row(
        "damper_ratio",
        "Damper ratio",
        |a, axle| match a.end(axle) {
            Ok(end) if end.springing.damper.is_none() => Cell::No(needs(Input::Damper(axle))),
            _ => of_part(
                a,
                axle,
                |s| s.damper,
                "no damper",
                |d| Ok(d.motion_ratio),
                Show(Unit::Ratio, shortens),
            ),
        },
        "How fast the damper shortens against the speed of the wheel centre, r = −dl/dz. A damper’s force reaches the \
         wheel times r, its damping times r².",
        VIRTUAL_WORK,
    ),
    row(
        "rocker_turning",
        "Rocker, turning",
        |a, axle| {
            of_part(
                a,
                axle,
                |s| s.rocker,
                "no rocker",
                |r| Ok(r.turn.per_travel),
                Show(Unit::DegreePerMillimetre, nothing),
            )
        },
        "How far the rocker turns for what the wheel centre rises.",
        VIRTUAL_WORK,
    ),
    row(
        "rod_ratio",
        "Rod ratio at the rocker",
        |a, axle| of_part(a, axle, |s| s.rocker, "no rocker", |r| Ok(r.rod_ratio), RATIO),
        "Way of the rod’s joint on the rocker for what the wheel centre rises.",
        VIRTUAL_WORK,
    ),
    row(
        "rod_force",
        "Force in the rocker’s rod",
        |a, axle| {
            of_part(
                a,
                axle,
                |s| s.rocker,
                "no rocker",
                |r| r.rod_force.ok_or("needs the springs’ force"),
                Show(Unit::Newton, |force, _| if force > 0.0 { "tension" } else { "compression" }),
            )
        },
        "Force along the rod between rocker and wheel, + where it is pulled, of the spring and torsion bar on the rocker, \
         both wheels level.",
        VIRTUAL_WORK,
    ),
    row(
        "drop_link_ratio",
        "Drop-link ratio",
        |a, axle| of_part(a, axle, |s| s.anti_roll_bar, "no anti-roll bar", |b| Ok(b.arm_end_ratio), RATIO),
        "Way of the end of the anti-roll bar’s arm for what the wheel centre rises.",
        VIRTUAL_WORK,
    ),
    row(
        "bar_turning",
        "Anti-roll bar, twist",
        |a, axle| {
            of_part(
                a,
                axle,
                |s| s.anti_roll_bar,
                "no anti-roll bar",
                |b| Ok(b.turn.per_travel.abs()),
                Show(Unit::DegreePerMillimetre, nothing),
            )
        },
        "How far one end of the anti-roll bar turns for what its wheel rises. With the wheels moving opposite \
         ways both ends twist it.",
        VIRTUAL_WORK,
    ),
];

/// Rates and forces at the wheel.
pub(super) const RATES: [Row; 9] = [
    row(
        "spring_force",
        "Spring force",
        |a, axle| {
            if a.end(axle).is_ok_and(|e| e.springing.spring.is_none() && e.springing.torsion_bar.is_some()) {
                return Cell::NoPart("no spring but a torsion bar");
            }
            let force = |s: &Springing| Quantity::SpringForce.value(s);
            sprung(a, axle, Quantity::SpringForce, force, Show(Unit::Newton, pushes))
        },
        "Force of the spring at this travel. At travel 0 it is rate times what the spring is shorter than its free \
         length; without a free length, what carries this corner’s share of the car.",
        VIRTUAL_WORK,
    ),
    row(
        "excess",
        "Force too much at rest",
        |a, axle| {
            let needs = |s: &Springing| {
                let of_force = s.missing_for(Quantity::WheelForce).filter(|missing| !SHARE.contains(missing));
                of_force.chain(missing_of(s, &SHARE)).collect()
            };
            sprung_with(a, axle, needs, |s| s.excess_at_design, Show(Unit::Newton, too_much))
        },
        "By how much the springs push each wheel down more than the car at rest asks, at travel 0. Other than 0 only \
         with a free length; then the points were not measured at rest, or a number is wrong.",
        VIRTUAL_WORK,
    ),
    row(
        "wheel_rate",
        "Wheel rate",
        |a, axle| sprung(a, axle, Quantity::WheelRate, |s| s.wheel_rate, RATE),
        "Change of the force at the wheel centre with the travel, both wheels alike, without tyre and bar: k r² + F dr/dz, \
         the next two rows together.",
        ENERGY,
    ),
    row(
        "wheel_rate_of_springs",
        "… with the ratio held",
        |a, axle| sprung(a, axle, Quantity::WheelRate, |s| s.wheel_rate_of_springs, RATE),
        "The part that is the springs’ own: rate times motion ratio squared, k r². Books often give this alone as the \
         wheel rate.",
        ENERGY,
    ),
    row(
        "wheel_rate_of_ratio",
        "… from the changing ratio",
        |a, axle| {
            sprung(
                a,
                axle,
                Quantity::WheelRate,
                |s| s.wheel_rate_of_ratio,
                Show(Unit::NewtonPerMillimetre, adds),
            )
        },
        "The part that the changing ratio makes under load: spring force times change of the motion ratio, F dr/dz. \
         It is there with the softest spring.",
        ENERGY,
    ),
    row(
        "ride_rate",
        "Ride rate, with the tyre",
        |a, axle| sprung(a, axle, Quantity::RideRate, |s| s.ride_rate, RATE),
        "Wheel rate and tyre rate one on the other, k t/(k + t): what the body stands on.",
        GILLESPIE_RIDE,
    ),
    row(
        "static_deflection",
        "Static deflection",
        |a, axle| sprung(a, axle, Quantity::StaticDeflection, |s| s.static_deflection, MILLIMETRES),
        "How far the body’s weight on this wheel would press the ride rate down, m g/k.",
        GILLESPIE_RIDE,
    ),
    row(
        "bar_opposite",
        "Anti-roll bar, wheels opposite",
        |a, axle| {
            if a.end(axle).is_ok_and(|e| e.springing.anti_roll_bar.is_none()) {
                return Cell::NoPart("no anti-roll bar");
            }
            sprung(a, axle, Quantity::BarWheelRate, |s| s.anti_roll_bar?.wheel_rate_opposite, RATE)
        },
        "What the bar adds at each wheel when one rises as the other drops, 2 k r² with r the bar’s turning per travel.",
        ENERGY,
    ),
    row(
        "bar_single",
        "Anti-roll bar, one wheel",
        |a, axle| {
            if a.end(axle).is_ok_and(|e| e.springing.anti_roll_bar.is_none()) {
                return Cell::NoPart("no anti-roll bar");
            }
            sprung(a, axle, Quantity::BarWheelRate, |s| s.anti_roll_bar?.wheel_rate_single, RATE)
        },
        "What the bar adds at a wheel that moves by itself, k r²: half of the row above.",
        ENERGY,
    ),
];

fn ride_alone(answer: &Answer, axle: Axle) -> Cell {
    let (group, of): (_, fn(&geometry_core::car::CarReadings) -> _) = match axle {
        Axle::Front => (Group::FrontRide, |car| car.front_ride),
        Axle::Rear => (Group::RearRide, |car| car.rear_ride),
    };
    of_group(answer, axle, group, of, |ride| Ok::<f64, Why>(ride.frequency), HERTZ)
}

/// Masses on springs.
pub(super) const BOUNCE: [Row; 7] = [
    usually(
        row(
            "ride_frequency",
            "Ride frequency",
            |a, axle| sprung(a, axle, Quantity::RideFrequency, |s| s.ride_frequency, HERTZ),
            "Natural frequency of the body over this axle on springs and tyre, √(k/m)/2π with the ride rate and the \
             sprung mass on one wheel, undamped.",
            GILLESPIE_RIDE,
        ),
        "road cars 1 to 1.5 Hz (Gillespie 1992, ch. 5, from memory); cars for circuits 1.5 to 2.5 Hz, with much \
         downforce 3 Hz and more (common practice, no source)",
    ),
    row(
        "ride_frequency_alone",
        "… on the springs alone",
        ride_alone,
        "The same on the wheel rate, the tyre taken as rigid.",
        "Gillespie, Fundamentals of Vehicle Dynamics, 1992, ch. 5 (from memory), without its tyre",
    ),
    usually(
        row(
            "hop_frequency",
            "Hop frequency of the wheel",
            |a, axle| sprung(a, axle, Quantity::HopFrequency, |s| s.hop_frequency, HERTZ),
            "Natural frequency of the unsprung mass between road and a body at rest, on wheel rate and tyre rate \
             together, √((k + t)/m)/2π, undamped.",
            "Barton & Fieldhouse, Automotive Chassis Engineering, 2018, 3.13",
        ),
        "8 to 15 Hz (common practice, no source)",
    ),
    row(
        "lower_frequency",
        "Both masses free, lower",
        |a, axle| {
            sprung(a, axle, Quantity::RideFrequency, |s| s.natural_frequencies.map(|[low, _]| low), HERTZ)
        },
        "Lower natural frequency of the corner as two masses on two springs, undamped: mostly the body.",
        "Any text on vibrations: m M ω⁴ − (M (k + t) + m k) ω² + k t = 0",
    ),
    row(
        "higher_frequency",
        "Both masses free, higher",
        |a, axle| {
            sprung(a, axle, Quantity::RideFrequency, |s| s.natural_frequencies.map(|[_, high]| high), HERTZ)
        },
        "Higher natural frequency of the corner as two masses on two springs, undamped: mostly the wheel.",
        "Any text on vibrations: m M ω⁴ − (M (k + t) + m k) ω² + k t = 0",
    ),
    row(
        "corner_sprung",
        "Sprung mass on one wheel",
        |a, axle| sprung_with(a, axle, |s| missing_of(s, &SHARE), |s| s.sprung_mass, KILOGRAMS),
        "What stands on the wheel at rest, less what moves with it.",
        "Gillespie, Fundamentals of Vehicle Dynamics, 1992, ch. 5 (from memory)",
    ),
    row(
        "corner_unsprung",
        "Unsprung mass of one wheel",
        |a, axle| {
            sprung_with(a, axle, |s| missing_of(s, &[Missing::UnsprungParts]), |s| s.unsprung_mass, KILOGRAMS)
        },
        "Sum of the parts that move with the wheel, each with its share: half of a link or shaft is common practice.",
        "Sum over the parts named in the setup; shares are common practice, no source",
    ),
];

/// Roll rates.
pub(super) const ROLL: [Row; 4] = [
    row(
        "roll_rate_springs",
        "Of the springs",
        |a, axle| sprung(a, axle, Quantity::RollRateOfSprings, |s| s.roll.springs, ROLL_RATE),
        "Moment of the axle’s springs against the body’s roll, per degree: k t²/2 per radian with the wheel rate k and \
         the track t, the right corner as the left one’s mirror image.",
        GILLESPIE_ROLL,
    ),
    row(
        "roll_rate_bar",
        "Of the anti-roll bar",
        |a, axle| sprung(a, axle, Quantity::RollRateOfBar, |s| s.roll.bar, ROLL_RATE),
        "Moment of the anti-roll bar against the body’s roll, per degree; 0 on an axle without one.",
        GILLESPIE_ROLL,
    ),
    row(
        "roll_rate",
        "Both together",
        |a, axle| sprung(a, axle, Quantity::RollRate, |s| s.roll.suspension, ROLL_RATE),
        "Springs and bar together against the body’s roll, the tyres taken as rigid.",
        GILLESPIE_ROLL,
    ),
    row(
        "roll_rate_tyres",
        "Both, on the tyres",
        |a, axle| sprung(a, axle, Quantity::RollRateWithTyres, |s| s.roll.with_tyres, ROLL_RATE),
        "Springs and bar on the tyres’ rate, one on the other.",
        GILLESPIE_ROLL,
    ),
];
