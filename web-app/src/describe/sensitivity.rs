//! What moves a reading, in words.

use geometry_core::{
    readings::{Quantity, quantity::Unit as CoreUnit},
    sensitivity::Parameter,
    setup::{Axle, Coordinate, Corner, PointPath},
    uncertainty::Measured,
};

use super::{doubt, point_name, unit};
use crate::{
    lengths::INCH,
    numbers::{format_number, shows_zero},
    units::{self, System},
};

/// The point that shows on the sheet what a parameter changes.
#[must_use]
pub fn shown_at(parameter: Parameter) -> PointPath {
    match parameter {
        Parameter::Coordinate { place, .. } | Parameter::Joint { place, .. } => place,
        Parameter::LoadedRadius | Parameter::Camber | Parameter::Toe => PointPath::WheelCentre,
        Parameter::LinkLength { link } => PointPath::LinkOutboard(link),
        Parameter::ArmReach { arm } => PointPath::ArmBallJoint(arm),
        Parameter::ArmPivots { arm, .. } => PointPath::ArmFrontPivot(arm),
    }
}

/// What is changed.
#[must_use]
pub fn what(parameter: Parameter, corner: &Corner) -> String {
    let arm = |i: usize| corner.arms.get(i).map_or("arm", |arm| &*arm.id);
    let link = |i: usize| corner.links.get(i).map_or("link", |link| &*link.id);
    match parameter {
        Parameter::Coordinate { place, .. } => point_name(place, corner),
        Parameter::LoadedRadius => "loaded radius".into(),
        Parameter::Camber => "camber as it stands".into(),
        Parameter::Toe => "toe as it stands".into(),
        Parameter::LinkLength { link: i } => format!("{}, length", link(i)),
        Parameter::ArmReach { arm: i } => format!("{}, reach to the ball joint", arm(i)),
        Parameter::ArmPivots { arm: i, .. } => format!("{}, shim under both pivots", arm(i)),
        Parameter::Joint { place, .. } => format!("{}, shim", point_name(place, corner)),
    }
}

/// The way of a change of a parameter on the left side: what plus and what minus mean.
#[must_use]
pub fn way(parameter: Parameter, positive: bool) -> &'static str {
    let (plus, minus) = match parameter {
        Parameter::Coordinate { axis, .. }
        | Parameter::ArmPivots { axis, .. }
        | Parameter::Joint { axis, .. } => match axis {
            Coordinate::X => ("forward", "back"),
            Coordinate::Y => ("outboard", "inboard"),
            Coordinate::Z => ("up", "down"),
        },
        Parameter::LoadedRadius => ("larger", "smaller"),
        Parameter::Camber => ("top outward", "top inward"),
        Parameter::Toe => ("front inward", "front outward"),
        Parameter::LinkLength { .. } | Parameter::ArmReach { .. } => ("longer", "shorter"),
    };
    if positive { plus } else { minus }
}

/// Both ways of a parameter: `outboard or inboard`.
#[must_use]
pub fn ways(parameter: Parameter) -> String {
    format!("{} or {}", way(parameter, true), way(parameter, false))
}

/// The change of a parameter: size, unit and way.
#[must_use]
pub fn amount(parameter: Parameter, amount: f64) -> String {
    let scale = super::unit_of(parameter.unit()).here();
    // A shim is told to the hundredth of a millimetre.
    let size = scale.beside(&format_number(scale.of(amount.abs()), scale.decimals.max(2)));
    format!("{size} {}", way(parameter, amount >= 0.0))
}

/// What an adjustment has done to the corner, of which a fitter asks first.
#[must_use]
pub fn altered(parameter: Parameter, by: f64, before: &Corner, after: &Corner) -> String {
    let angle = |name: &str, of: fn(&Corner) -> f64| {
        let shown = |corner: &Corner| unit(Quantity::Camber).show(of(corner));
        let (before, after) = (shown(before), shown(after));
        if before == after {
            format!("{name} stays {before}")
        } else {
            format!("{name} {before} → {after}")
        }
    };
    format!(
        "{}, {}: as it stands now, {}, {}. Undo takes it back.",
        what(parameter, before),
        amount(parameter, by),
        angle("camber", |corner| corner.wheel.camber),
        angle("toe", |corner| corner.wheel.toe),
    )
}

/// By how much of a parameter its effect is told, in its own unit and in words: 1 mm, 1°, or what shims come in.
fn step(parameter: Parameter) -> (f64, &'static str) {
    match (parameter.unit(), units::chosen()) {
        (CoreUnit::Degree, _) => (1.0, "°"),
        (_, System::Metric) => (1.0, "mm"),
        (_, System::Customary) => (INCH / 16.0, "1/16\u{a0}in"),
    }
}

/// What stands over a table of effects: by how much of a length and of an angle they are compared, which is in the
/// proportion of the core’s `TYPICAL_LENGTH` to its `TYPICAL_ANGLE`.
#[must_use]
pub fn compared() -> &'static str {
    match units::chosen() {
        System::Metric => "By what 1 mm does, or 0.1° of an angle",
        System::Customary => "By what 1/16 in does, or 0.16° of an angle",
    }
}

/// Per what an effect counts: `mm outboard`, `° front inward`.
#[must_use]
pub fn per(parameter: Parameter) -> String {
    format!("{} {}", step(parameter).1, way(parameter, true))
}

/// The effect of so much on a reading, of which `derivative` is that of 1 mm or 1°.
#[must_use]
pub fn effect(quantity: Quantity, parameter: Parameter, derivative: f64) -> String {
    change(quantity, derivative * step(parameter).0)
}

/// More decimals are never written.
const MOST_DECIMALS: usize = 7;

/// A change of a reading with its unit, a sign and as many digits as it takes to see it: at
/// least the reading's own, at most seven.
#[must_use]
pub fn change(quantity: Quantity, change: f64) -> String {
    let scale = unit(quantity).here();
    let change = scale.of(change);
    let mut decimals = scale.decimals;
    // Three digits of what is small.
    while decimals < MOST_DECIMALS && change != 0.0 && change.abs() * 10_f64.powi(exponent(decimals)) < 100.0
    {
        decimals += 1;
    }
    let number = format_number(change, decimals);
    let is_zero = shows_zero(&number);
    let sign = if change > 0.0 && !is_zero { "+" } else { "" };
    format!("{sign}{}", scale.beside(&number))
}

/// An uncertainty of a reading, with its unit.
#[must_use]
pub fn plus_minus(quantity: Quantity, uncertainty: f64) -> String {
    doubt::plus_minus(uncertainty, unit(quantity))
}

/// The uncertainty of a reading beside its number; see [`doubt::doubted`].
#[must_use]
pub fn doubted(quantity: Quantity, value: f64, uncertainty: f64) -> String {
    doubt::doubted(value, uncertainty, unit(quantity))
}

/// The uncertainty of a difference of two readings beside it; see [`doubt::of_difference`].
#[must_use]
pub fn doubted_difference(quantity: Quantity, by: f64, uncertainty: f64) -> String {
    doubt::of_difference(by, uncertainty, unit(quantity))
}

/// What the uncertainty of all measured numbers together makes of a reading.
#[must_use]
pub fn doubt(quantity: Quantity, uncertainty: f64, measured: Measured) -> String {
    let (good, measured) = (plus_minus(quantity, uncertainty), doubt::measured(measured));
    format!("By measuring it is uncertain by {good}: {measured} (chosen under Readings).")
}

fn exponent(decimals: usize) -> i32 {
    i32::try_from(decimals).unwrap_or(i32::MAX)
}

/// The smallest change of a reading that its own digits show, in the core's unit.
#[must_use]
pub fn least_shown(quantity: Quantity) -> f64 {
    let scale = unit(quantity).here();
    0.5 * scale.one * 10_f64.powi(-exponent(scale.decimals) - 1)
}

/// It as a number with its unit.
#[must_use]
pub fn least_text(quantity: Quantity) -> String {
    let scale = unit(quantity).here();
    scale.beside(&format_number(scale.of(least_shown(quantity)), scale.decimals + 2))
}

/// A change of a reading with its unit and a sign, in the digits of the reading itself.
#[must_use]
pub fn rounded(quantity: Quantity, change: f64) -> String {
    let text = unit(quantity).show(change);
    let is_zero = shows_zero(&text);
    if change > 0.0 && !is_zero { format!("+{text}") } else { text }
}

/// What a change of a reading means; empty where it is none.
#[must_use]
pub fn means(quantity: Quantity, change: f64, axle: Axle) -> &'static str {
    if change == 0.0 {
        return "";
    }
    let (plus, minus) = match quantity {
        Quantity::Camber => ("top goes out", "top goes in"),
        Quantity::Toe => ("front turns in", "front turns out"),
        Quantity::CamberGain => ("top goes out more", "top goes in more"),
        Quantity::BumpSteer => ("more toe in", "more toe out"),
        Quantity::HalfTrackChange => ("contact goes out", "contact goes in"),
        Quantity::WheelbaseChange => ("wheel goes forward", "wheel goes back"),
        Quantity::RollCentreHeight => ("higher", "lower"),
        Quantity::FrontViewSwingArm
        | Quantity::SideViewSwingArm
        | Quantity::SpringLength
        | Quantity::DamperLength => ("longer", "shorter"),
        Quantity::ContactSlopeX | Quantity::HubSlopeX => ("more forward", "more back"),
        Quantity::ContactSlopeY => ("more outward", "more inward"),
        Quantity::KingpinInclination => ("top of the axis goes in", "top of the axis goes out"),
        Quantity::Caster => ("top of the axis goes back", "top of the axis goes forward"),
        Quantity::ScrubRadius => ("contact goes out from the axis", "contact goes in from the axis"),
        Quantity::MechanicalTrail => ("more trail", "less trail"),
        Quantity::HubOffset => ("hub goes out from the axis", "hub goes in from the axis"),
        Quantity::HubTrail => ("hub goes back from the axis", "hub goes forward from the axis"),
        Quantity::ScrewPitch | Quantity::SpringMotionRatio | Quantity::DamperMotionRatio => ("more", "less"),
        Quantity::AntiBrakingFriction | Quantity::AntiBrakingShaft => match axle {
            Axle::Front => ("resists dive more", "resists dive less"),
            Axle::Rear => ("resists lift more", "resists lift less"),
        },
        Quantity::AntiDrivingShaft | Quantity::AntiDrivingHub => match axle {
            Axle::Front => ("resists lift more", "resists lift less"),
            Axle::Rear => ("resists squat more", "resists squat less"),
        },
    };
    if change > 0.0 { plus } else { minus }
}

#[cfg(test)]
mod tests {
    use geometry_core::setup::example;

    use super::*;

    #[test]
    fn every_parameter_is_shown_at_a_point_and_has_words() {
        let mut corner = example().front.expect("a corner");
        corner.strut = Some(geometry_core::setup::Strut {
            id: "strut".into(),
            top_mount: [0.0, 500.0, 800.0],
            lower_end: [0.0, 600.0, 300.0],
        });
        for parameter in Parameter::all(&corner) {
            assert!(shown_at(parameter).get(&corner).is_some(), "{parameter}");
            assert!(!what(parameter, &corner).is_empty());
            assert_ne!(way(parameter, true), way(parameter, false), "{parameter}");
        }
    }

    #[test]
    fn changes_keep_the_digits_that_count() {
        let spaces = |text: String| text.replace('\u{a0}', " ");
        assert_eq!(change(Quantity::Toe, 0.43), "+0.430°");
        assert_eq!(change(Quantity::Toe, -0.001_234), "\u{2212}0.00123°");
        assert_eq!(spaces(change(Quantity::RollCentreHeight, 12.3)), "+12.3 mm");
        assert_eq!(spaces(change(Quantity::RollCentreHeight, 1234.56)), "+1234.6 mm");
        assert_eq!(change(Quantity::Camber, 0.0), "0.00°");
        assert_eq!(change(Quantity::Camber, 1e-12), "0.0000000°");
        assert_eq!(
            amount(Parameter::LinkLength { link: 0 }, -1.25).replace('\u{a0}', " "),
            "1.25 mm shorter"
        );
        assert_eq!(per(Parameter::Toe), "° front inward");
        assert_eq!(least_text(Quantity::Camber), "0.0005°");
        assert_eq!(spaces(least_text(Quantity::ScrubRadius)), "0.005 mm");
        for (uncertainty, text) in [
            (0.0, "± 0 mm"),
            (1e-9, "± 0 mm"),
            (0.323, "± 0.32 mm"),
            (9.96, "± 10 mm"),
            (123.4, "± 123 mm"),
            (0.0999, "± 0.10 mm"),
        ] {
            assert_eq!(spaces(plus_minus(Quantity::ScrubRadius, uncertainty)), text);
        }
        assert_eq!(spaces(plus_minus(Quantity::CamberGain, 0.000_83)), "± 0.00083°/mm");
        assert_eq!(spaces(doubted(Quantity::ScrubRadius, -4.3, 6.4)), "± 6.4 mm, either sign");
        assert_eq!(spaces(doubted(Quantity::ScrubRadius, 64.3, 6.4)), "± 6.4 mm");
        assert_eq!(doubted(Quantity::HalfTrackChange, 0.0, 1e-12), "");
        assert_eq!(rounded(Quantity::Toe, 0.0836), "+0.08°");
        assert_eq!(rounded(Quantity::Toe, 0.001), "0.00°");
        assert_eq!(rounded(Quantity::Toe, -0.084), "\u{2212}0.08°");
        for quantity in Quantity::ALL {
            let (plus, minus) = (means(quantity, 1.0, Axle::Front), means(quantity, -1.0, Axle::Front));
            assert!(!plus.is_empty() && plus != minus, "{quantity:?}");
        }
    }
}
