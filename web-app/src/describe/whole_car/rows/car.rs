//! The car on both axles.

use geometry_core::{
    car::{AxleAnti, AxleTransfer, CarReadings, Group, LateralTransfer, LongitudinalForces},
    setup::Axle,
};

use super::super::{Of, Row, Show, nothing, of_group};
use crate::{
    describe::{
        input::{Input, Why},
        whole_car::{Answer, Cell, needs},
    },
    units::Unit,
};

const STATICS: &str = "Statics of a rigid body on two axles";
const LATERAL: &str = "Barton & Fieldhouse, Automotive Chassis Engineering, 2018, ch. 3; Milliken & Milliken, Race Car \
                       Vehicle Dynamics, 1995, ch. 18 (from memory)";
const ANTI: &str = "Milliken & Milliken, Race Car Vehicle Dynamics, 1995, 17.3; Gillespie, Fundamentals of Vehicle \
                    Dynamics, 1992, ch. 7 (from memory)";
const ROLL_CENTRES: &str = "Line through both roll centres; Milliken & Milliken, Race Car Vehicle Dynamics, 1995, ch. 17 \
                            and 18 (from memory)";

const NEWTONS: Show = Show(Unit::Newton, nothing);
const KILOGRAMS: Show = Show(Unit::Kilogram, nothing);
const MILLIMETRES: Show = Show(Unit::Millimetre, nothing);
const PERCENT: Show = Show(Unit::Share, nothing);

const fn axles(
    key: &'static str,
    name: &'static str,
    of: fn(&Answer, Axle) -> Cell,
    definition: &'static str,
    source: &'static str,
) -> Row {
    Row { key, name, of: Of::Axles(of), definition, source, usual: None }
}

const fn car(
    key: &'static str,
    name: &'static str,
    of: fn(&Answer) -> Cell,
    definition: &'static str,
    source: &'static str,
) -> Row {
    Row { key, name, of: Of::Car(of), definition, source, usual: None }
}

const fn usually(row: Row, usual: &'static str) -> Row {
    Row { usual: Some(usual), ..row }
}

fn pick(value: f64, plus: &'static str, minus: &'static str) -> &'static str {
    if value > 0.0 { plus } else { minus }
}

const HEIGHT: Show = Show(Unit::Millimetre, |v, _| pick(v, "above the ground", "below the ground"));
const ACROSS: Show = Show(Unit::Millimetre, |v, _| pick(v, "left of the middle", "right of the middle"));
const MOVED: Show = Show(Unit::Newton, |v, _| pick(v, "onto the right wheel", "onto the left wheel"));
const LEANS: Show = Show(Unit::Degree, |v, _| pick(v, "leans right", "leans left"));
const LEANS_PER_G: Show =
    Show(Unit::DegreePerG, |v, _| pick(v, "leans out of the bend", "leans into the bend"));
const PITCHES: Show = Show(Unit::Degree, |v, _| pick(v, "front goes down", "front goes up"));
const PITCHES_PER_G: Show = Show(Unit::DegreePerG, |v, _| pick(v, "front goes down", "front goes up"));

fn anti_braking(value: f64, axle: Axle) -> &'static str {
    match axle {
        Axle::Front => pick(value, "resists dive", "adds to dive"),
        Axle::Rear => pick(value, "resists lift", "adds to lift"),
    }
}

fn anti_driving(value: f64, axle: Axle) -> &'static str {
    match axle {
        Axle::Front => pick(value, "resists lift", "adds to lift"),
        Axle::Rear => pick(value, "resists squat", "adds to squat"),
    }
}

fn loads(
    a: &Answer,
    axle: Axle,
    value: impl Fn(&geometry_core::car::Loads) -> Result<f64, Why>,
    show: Show,
) -> Cell {
    of_group(a, axle, Group::Loads, |car| car.loads, value, show)
}

fn masses(
    a: &Answer,
    axle: Axle,
    value: impl Fn(&geometry_core::car::Masses) -> Result<f64, Why>,
    show: Show,
) -> Cell {
    of_group(a, axle, Group::Masses, |car| car.masses, value, show)
}

fn unsprung(a: &Answer, axle: Axle) -> Cell {
    let (group, of): (_, fn(&CarReadings) -> _) = match axle {
        Axle::Front => (Group::FrontUnsprung, |car| car.front_unsprung),
        Axle::Rear => (Group::RearUnsprung, |car| car.rear_unsprung),
    };
    of_group(a, axle, group, of, |mass| Ok(*mass), KILOGRAMS)
}

fn at<T>(axle: Axle, front: T, rear: T) -> T {
    match axle {
        Axle::Front => front,
        Axle::Rear => rear,
    }
}

/// Loads and masses.
pub(super) const LOADS: [Row; 6] = [
    axles(
        "wheel_load",
        "Load on each wheel",
        |a, axle| loads(a, axle, |l| Ok(at(axle, l.front_wheel, l.rear_wheel)), NEWTONS),
        "What stands on each wheel of the car at rest: half of the axle’s share of the weight.",
        STATICS,
    ),
    axles(
        "unsprung",
        "Unsprung mass, both wheels",
        unsprung,
        "What moves with both wheels of the axle; taken to be at the wheels’ centres.",
        STATICS,
    ),
    axles(
        "sprung_share",
        "Share of the sprung mass",
        |a, axle| masses(a, axle, |m| Ok(100.0 * axle.share(m.sprung_front_share)), PERCENT),
        "Share of the body’s mass that this axle carries.",
        STATICS,
    ),
    car(
        "sprung",
        "Sprung mass",
        |a| masses(a, Axle::Front, |m| Ok(m.sprung), KILOGRAMS),
        "The car’s mass without what moves with its wheels.",
        STATICS,
    ),
    car(
        "cg_behind",
        "Centre of gravity",
        |a| {
            let show =
                Show(Unit::Millimetre, |v, _| pick(v, "behind the front axle", "ahead of the front axle"));
            loads(a, Axle::Front, |l| l.cg_behind_front.ok_or_else(|| needs(Input::Wheelbase)), show)
        },
        "How far the centre of gravity is behind the front axle: the rear axle’s share of the mass times the wheelbase.",
        STATICS,
    ),
    car(
        "sprung_cg_height",
        "Height of the sprung mass",
        |a| masses(a, Axle::Front, |m| m.sprung_cg_height.ok_or_else(|| needs(Input::CgHeight)), MILLIMETRES),
        "Height of the sprung mass’ centre of gravity above the ground at travel 0, the unsprung masses taken out at \
         the height of their wheels’ centres.",
        STATICS,
    ),
];

fn axis(
    a: &Answer,
    axle: Axle,
    value: impl Fn(&geometry_core::car::RollAxis) -> Result<f64, Why>,
    show: Show,
) -> Cell {
    of_group(a, axle, Group::RollAxis, |car| car.roll_axis, value, show)
}

/// What the masses lack, of what needs them beside the roll axis; where they lack nothing, the height of the centre of
/// gravity.
fn no_masses(a: &Answer) -> Why {
    match &a.car {
        Ok(car) if car.masses.is_some() => needs(Input::CgHeight),
        Ok(car) => super::super::why_not(a, car, Group::Masses),
        Err(why) => why.clone(),
    }
}

/// The roll axis.
pub(super) const ROLL_AXIS: [Row; 5] = [
    axles(
        "roll_centre",
        "Roll centre height",
        |a, axle| axis(a, axle, |x| Ok(at(axle, x.front_height, x.rear_height)), HEIGHT),
        "Where the lines from both contacts to their front-view centres meet, above the ground.",
        "Aronhold–Kennedy theorem; Reimpell, Stoll, Betzler, The Automotive Chassis, 2001, 3.4",
    ),
    axles(
        "roll_centre_across",
        "Roll centre across",
        |a, axle| axis(a, axle, |x| Ok(at(axle, x.front_across, x.rear_across)), ACROSS),
        "Where the roll centre is across the car; in the middle while both corners are mirror images and level.",
        "Aronhold–Kennedy theorem; Reimpell, Stoll, Betzler, The Automotive Chassis, 2001, 3.4",
    ),
    car(
        "roll_axis_inclination",
        "Inclination of the roll axis",
        |a| {
            let show = Show(Unit::Degree, |v, _| pick(v, "rises to the rear", "falls to the rear"));
            axis(a, Axle::Front, |x| x.inclination.ok_or_else(|| needs(Input::Wheelbase)), show)
        },
        "Angle of the line through both roll centres to the ground, seen from the side.",
        ROLL_CENTRES,
    ),
    car(
        "roll_axis_at_cg",
        "Roll axis at the centre of gravity",
        |a| axis(a, Axle::Front, |x| x.height_at_cg.ok_or_else(|| no_masses(a)), HEIGHT),
        "Height of the roll axis above the ground, under or over the sprung mass’ centre of gravity.",
        ROLL_CENTRES,
    ),
    car(
        "cg_above",
        "Arm of the body’s roll",
        |a| {
            let show = Show(Unit::Millimetre, |v, _| {
                pick(v, "centre of gravity above the axis", "centre of gravity below the axis")
            });
            axis(a, Axle::Front, |x| x.cg_above.ok_or_else(|| no_masses(a)), show)
        },
        "How far the sprung mass’ centre of gravity is above the roll axis: the arm at which a lateral force leans the \
         body.",
        ROLL_CENTRES,
    ),
];

fn lateral(a: &Answer, axle: Axle, value: impl Fn(&LateralTransfer) -> Result<f64, Why>, show: Show) -> Cell {
    of_group(a, axle, Group::Lateral, |car| car.lateral, value, show)
}

fn transfer(a: &Answer, axle: Axle, value: fn(&AxleTransfer) -> f64) -> Cell {
    lateral(a, axle, |l| Ok(value(at(axle, &l.front, &l.rear))), MOVED)
}

/// A lateral acceleration.
pub(super) const BEND: [Row; 10] = [
    axles(
        "transfer_geometric",
        "Load transfer, geometric",
        |a, axle| transfer(a, axle, |t| t.geometric),
        "Part that the links carry at once: lateral force of the sprung mass on this axle times roll centre height over \
         track.",
        LATERAL,
    ),
    axles(
        "transfer_elastic",
        "… elastic",
        |a, axle| transfer(a, axle, |t| t.elastic),
        "Part that springs and bars carry as the body leans: roll angle times this axle’s roll rate over track.",
        LATERAL,
    ),
    axles(
        "transfer_unsprung",
        "… of the unsprung mass",
        |a, axle| transfer(a, axle, |t| t.unsprung),
        "Part of what moves with the wheels: its lateral force times its height over track.",
        LATERAL,
    ),
    axles(
        "transfer",
        "… all together",
        |a, axle| transfer(a, axle, |t| t.total),
        "What moves from one wheel of the axle to the other in this lateral acceleration.",
        LATERAL,
    ),
    axles(
        "transfer_share",
        "Share of the car’s transfer",
        |a, axle| {
            lateral(
                a,
                axle,
                |l| {
                    let share = l.front_share.ok_or_else(|| Why::Because("no load is moved".into()))?;
                    Ok(100.0 * axle.share(share))
                },
                PERCENT,
            )
        },
        "This axle’s share of the whole lateral load transfer. The more at the front, the more the car tends to run \
         wide.",
        LATERAL,
    ),
    axles(
        "roll_rate_share",
        "Share of the car’s roll rate",
        |a, axle| lateral(a, axle, |l| Ok(100.0 * axle.share(l.roll_rate_front_share)), PERCENT),
        "This axle’s share of the roll rate of springs and bars.",
        LATERAL,
    ),
    car(
        "roll_rate_car",
        "Roll rate of the car",
        |a| lateral(a, Axle::Front, |l| Ok(l.roll_rate), Show(Unit::NewtonMetrePerDegree, nothing)),
        "Moment of all springs and bars against the body’s roll, per degree, the tyres taken as rigid.",
        LATERAL,
    ),
    usually(
        car(
            "roll_gradient",
            "Roll gradient",
            |a| lateral(a, Axle::Front, |l| Ok(l.roll_gradient), LEANS_PER_G),
            "Roll angle per g of lateral acceleration, the body’s own weight leaning out with it: K φ = m a d + m g d φ \
             with the arm d of the body’s roll and the roll rate K, that of the suspension on rigid tyres.",
            LATERAL,
        ),
        "road cars 3 to 7 °/g (Gillespie 1992, ch. 6, from memory); cars for circuits 1 to 2 °/g and less (common \
         practice, no source)",
    ),
    car(
        "roll_gradient_without",
        "… without the leaning weight",
        |a| lateral(a, Axle::Front, |l| Ok(l.roll_gradient_without_gravity), LEANS_PER_G),
        "The same with the body’s weight taken as staying over the axis, m g d/K.",
        LATERAL,
    ),
    car(
        "roll",
        "Roll angle in this bend",
        |a| lateral(a, Axle::Front, |l| Ok(l.roll), LEANS),
        "Roll gradient, on rigid tyres, times the lateral acceleration asked for. Small angles: beyond some 5° it is only a guide.",
        LATERAL,
    ),
];

fn longitudinal(
    a: &Answer,
    axle: Axle,
    braking: bool,
    value: impl Fn(&LongitudinalForces) -> Result<f64, Why>,
    show: Show,
) -> Cell {
    let (group, of): (_, fn(&CarReadings) -> _) =
        if braking { (Group::Braking, |car| car.braking) } else { (Group::Driving, |car| car.driving) };
    of_group(a, axle, group, of, value, show)
}

fn anti(a: &Answer, axle: Axle, braking: bool, value: fn(&AxleAnti) -> f64) -> Cell {
    let words = if braking { anti_braking } else { anti_driving };
    let of = |forces: &LongitudinalForces| Ok(value(at(axle, &forces.front, &forces.rear)));
    longitudinal(a, axle, braking, of, Show(Unit::Share, words))
}

fn share(a: &Answer, axle: Axle, braking: bool) -> Cell {
    longitudinal(a, axle, braking, |f| Ok(100.0 * at(axle, f.front.share, f.rear.share)), PERCENT)
}

fn moved(a: &Answer, braking: bool) -> Cell {
    let words: fn(f64, Axle) -> &'static str =
        if braking { |_, _| "onto the front axle" } else { |_, _| "onto the rear axle" };
    let of = |f: &LongitudinalForces| {
        f.load_transfer.map(|per_g| per_g * a.longitudinal).ok_or_else(|| needs(Input::Mass))
    };
    longitudinal(a, Axle::Front, braking, of, Show(Unit::Newton, words))
}

fn pitch_centre(a: &Answer, braking: bool, height: bool) -> Cell {
    let behind = Show(Unit::Millimetre, |v, _| pick(v, "behind the front axle", "ahead of the front axle"));
    let of = |f: &LongitudinalForces| {
        let none = || Why::Because("both lines of force are parallel".into());
        if height {
            return f.pitch_centre_height.ok_or_else(none);
        }
        let [x, _] = f.pitch_centre.ok_or_else(none)?;
        a.front.as_ref().map(|front| front.wheel_x - x).map_err(Clone::clone)
    };
    longitudinal(a, Axle::Front, braking, of, if height { HEIGHT } else { behind })
}

/// Pitch per g or in this acceleration.
fn pitch(a: &Answer, braking: bool, per_g: bool) -> Cell {
    let of = |f: &LongitudinalForces| {
        let gradient = f.pitch_gradient.ok_or_else(|| no_pitch(a))?;
        Ok(if per_g { gradient } else { gradient * a.longitudinal })
    };
    longitudinal(a, Axle::Front, braking, of, if per_g { PITCHES_PER_G } else { PITCHES })
}

/// Pitch needs the mass and both wheel rates.
fn no_pitch(a: &Answer) -> Why {
    let mass = a
        .car
        .as_ref()
        .is_ok_and(|car| matches!(car.lack(Group::Loads), Some(geometry_core::car::Lack::Mass)));
    let mut inputs = if mass { vec![Input::Mass] } else { Vec::new() };
    for axle in [Axle::Front, Axle::Rear] {
        let Ok(end) = a.end(axle) else { continue };
        let missing = end.springing.missing_for(geometry_core::springing::Quantity::WheelRate);
        for input in missing.filter_map(|missing| Input::of_springing(missing, axle)) {
            if !inputs.contains(&input) {
                inputs.push(input);
            }
        }
    }
    if inputs.is_empty() {
        Why::Because("needs springs that push back on both axles".into())
    } else {
        Why::Needs(inputs)
    }
}

const PITCH_CENTRE: &str = "Where both axles’ lines of force meet, seen from the side: a force through it does not pitch \
                            the body. An axle without a force is taken with the slope its force would have.";
const PITCH: &str =
    "Pitch angle on the wheel rates alone: each axle’s springs get the load transfer that the links leave.";

/// Braking.
pub(super) const BRAKING: [Row; 10] = [
    axles(
        "braking_share",
        "Share of the braking",
        |a, axle| share(a, axle, true),
        "This axle’s share of the car’s whole braking force: friction brakes and regeneration, each with its own split.",
        "The setup’s shares, and the question’s",
    ),
    usually(
        axles(
            "braking_anti",
            "Anti-dive, anti-lift of the blend",
            |a, axle| anti(a, axle, true, |f| f.percentage),
            "Share of the load transfer that the links take past the springs with this split of braking: share of the \
             force × slope × wheelbase over height of the centre of gravity, that at rest. Friction brakes at the wheel act on the \
             contact’s slope, a shaft on the wheel centre’s.",
            ANTI,
        ),
        "anti-dive 0 to 50 % (Gillespie 1992, ch. 7, from memory: seldom more)",
    ),
    axles(
        "braking_friction",
        "… by friction brakes",
        |a, axle| anti(a, axle, true, |f| f.friction),
        "The part of it that the friction brakes make.",
        ANTI,
    ),
    axles(
        "braking_regeneration",
        "… by regeneration",
        |a, axle| anti(a, axle, true, |f| f.regeneration),
        "The part of it that regeneration makes.",
        ANTI,
    ),
    axles(
        "braking_whole",
        "… with the whole force here",
        |a, axle| anti(a, axle, true, |f| f.whole_force),
        "The percentage as if the whole braking were at this axle: the geometry by itself.",
        ANTI,
    ),
    car(
        "braking_transfer",
        "Load transfer",
        |a| moved(a, true),
        "What moves from the rear axle onto the front one in this braking; no geometry of the links changes it. \
         The centre of gravity is taken as high as it is at rest.",
        ANTI,
    ),
    car("braking_pitch", "Pitch in this braking", |a| pitch(a, true, false), PITCH, ANTI),
    car("braking_pitch_gradient", "… per g", |a| pitch(a, true, true), PITCH, ANTI),
    car("braking_centre_x", "Pitch centre, lengthwise", |a| pitch_centre(a, true, false), PITCH_CENTRE, ANTI),
    car("braking_centre_z", "… its height", |a| pitch_centre(a, true, true), PITCH_CENTRE, ANTI),
];

/// Driving.
pub(super) const DRIVING: [Row; 8] = [
    axles(
        "driving_share",
        "Share of the driving",
        |a, axle| share(a, axle, false),
        "This axle’s share of the car’s whole driving force.",
        "The setup’s share of the driving",
    ),
    axles(
        "driving_anti",
        "Anti-lift, anti-squat",
        |a, axle| anti(a, axle, false, |f| f.percentage),
        "Share of the load transfer that the links take past the springs with this split of the drive: share of the \
         force × slope × wheelbase over height of the centre of gravity, that at rest. A shaft acts on the wheel centre’s slope, a \
         motor in the hub on the contact’s.",
        ANTI,
    ),
    axles(
        "driving_whole",
        "… with the whole force here",
        |a, axle| anti(a, axle, false, |f| f.whole_force),
        "The percentage as if the whole driving force were at this axle: the geometry by itself.",
        ANTI,
    ),
    car(
        "driving_transfer",
        "Load transfer",
        |a| moved(a, false),
        "What moves from the front axle onto the rear one in this driving; no geometry of the links changes it. \
         The centre of gravity is taken as high as it is at rest.",
        ANTI,
    ),
    car("driving_pitch", "Pitch in this driving", |a| pitch(a, false, false), PITCH, ANTI),
    car("driving_pitch_gradient", "… per g", |a| pitch(a, false, true), PITCH, ANTI),
    car(
        "driving_centre_x",
        "Pitch centre, lengthwise",
        |a| pitch_centre(a, false, false),
        PITCH_CENTRE,
        ANTI,
    ),
    car("driving_centre_z", "… its height", |a| pitch_centre(a, false, true), PITCH_CENTRE, ANTI),
];
