//! The words around the curves.

use std::fmt::Write as _;

use geometry_core::{readings::Quantity, setup::Axle};

use super::{label, sign, unit, value};
use crate::session::curves::{Against, Family};

/// What the curves run along, in a menu.
#[must_use]
pub fn against(against: Against) -> &'static str {
    match against {
        Against::Travel => "against travel",
        Against::Rack => "against rack",
        Against::Roll => "against roll",
    }
}

/// The same as the heading of a column.
#[must_use]
pub fn axis(against: Against) -> String {
    let name = match against {
        Against::Travel => "Wheel travel",
        Against::Rack => "Rack",
        Against::Roll => "Body roll",
    };
    format!("{name},\u{a0}{}", against.unit().here().symbol)
}

/// What is beyond the ends that a setup names.
#[must_use]
pub fn beyond(against: Against) -> &'static str {
    match against {
        Against::Rack => "beyond the lock",
        Against::Travel | Against::Roll => "beyond the stop",
    }
}

/// An input with its unit.
#[must_use]
pub fn short_input(against: Against, input: f64) -> String {
    let scale = against.unit().here();
    scale.beside(&scale.short(input, scale.decimals))
}

/// An input with what it is and which way it goes.
#[must_use]
pub fn input(against: Against, input: f64) -> String {
    let (name, plus, minus) = match against {
        Against::Travel => ("wheel travel", "bump", "rebound"),
        Against::Rack => ("rack", "left", "right"),
        Against::Roll => ("body roll", "to the right", "to the left"),
    };
    if input == 0.0 {
        return format!("{name} 0");
    }
    let way = if input > 0.0 { plus } else { minus };
    format!("{name} {} {way}", short_input(against, input.abs()))
}

/// A reading with its unit.
#[must_use]
pub fn title(quantity: Quantity, axle: Axle, both: bool) -> String {
    let symbol = unit(quantity).here().symbol;
    let label = if both { common(quantity) } else { label(quantity, axle) };
    if symbol.is_empty() { label.to_string() } else { format!("{label},\u{a0}{symbol}") }
}

/// A reading's name for both axles: anti-percentages are called after what they resist, which
/// is not the same in front and behind.
fn common(quantity: Quantity) -> &'static str {
    match quantity {
        Quantity::AntiBrakingFriction => "Anti-dive and anti-lift, friction brake",
        Quantity::AntiBrakingShaft => "Anti-dive and anti-lift, regeneration",
        Quantity::AntiDrivingShaft => "Anti-lift and anti-squat, drive shaft",
        Quantity::AntiDrivingHub => "Anti-lift and anti-squat, hub motor",
        other => label(other, Axle::Front),
    }
}

/// A reading where there is hardly room for its name; the axis is to be read with the number beside it.
#[must_use]
pub fn short_title(quantity: Quantity) -> &'static str {
    match quantity {
        Quantity::Camber => "Camber",
        Quantity::Toe => "Toe",
        Quantity::CamberGain => "Camber gain",
        Quantity::BumpSteer => "Bump steer",
        Quantity::HalfTrackChange => "Half-track",
        Quantity::WheelbaseChange => "Wheelbase",
        Quantity::RollCentreHeight => "Roll centre",
        Quantity::FrontViewSwingArm => "Front arm",
        Quantity::SideViewSwingArm => "Side arm",
        Quantity::ContactSlopeX => "Contact, x",
        Quantity::ContactSlopeY => "Contact, y",
        Quantity::HubSlopeX => "Hub, x",
        Quantity::KingpinInclination => "Kingpin",
        Quantity::Caster => "Caster",
        Quantity::ScrubRadius => "Scrub radius",
        Quantity::MechanicalTrail => "Trail",
        Quantity::HubOffset => "Hub offset",
        Quantity::HubTrail => "Hub trail",
        Quantity::ScrewPitch => "Screw pitch",
        Quantity::SpringLength => "Spring",
        Quantity::SpringMotionRatio => "Spring ratio",
        Quantity::DamperLength => "Damper",
        Quantity::DamperMotionRatio => "Damper ratio",
        Quantity::AntiBrakingFriction => "Anti, brake",
        Quantity::AntiBrakingShaft => "Anti, regen.",
        Quantity::AntiDrivingShaft => "Anti, drive",
        Quantity::AntiDrivingHub => "Anti, hub",
    }
}

/// What a chart is, for a screen reader.
#[must_use]
pub fn heading(quantity: Quantity, axle: Axle, along: Against, both: bool) -> String {
    let name = if both { common(quantity) } else { label(quantity, axle) };
    format!("{name} {}", against(along))
}

/// What the table shows.
#[must_use]
pub fn caption(along: Against, axle: Axle, both: bool) -> String {
    let of = match (both, axle) {
        (true, _) => "Both axles",
        (false, Axle::Front) => "Front corner",
        (false, Axle::Rear) => "Rear corner",
    };
    format!("{of} {}", against(along))
}

/// A chart's values at an input as a sentence, with the reference's.
#[must_use]
pub fn spoken(input: &str, quantity: Quantity, here: &Family, beneath: &Family) -> String {
    let mut text = format!("At {input}");
    let both = here.lines.len() > 1;
    let families = [(here, ""), (beneath, "reference, ")];
    let lines = families.into_iter().flat_map(|(family, of)| {
        family.lines.iter().zip(family.firsts(quantity)).map(move |(line, found)| (line, found, of))
    });
    for (line, found, of) in lines {
        let whose = if both { format!("{of}{} ", line.axle.name()) } else { of.to_string() };
        let name = label(quantity, line.axle).to_lowercase();
        // Writing to a String cannot fail.
        let _ = match found {
            Some(found) => {
                let words = sign(quantity, found, line.axle);
                let comma = if words.is_empty() { "" } else { ", " };
                write!(text, "; {whose}{name} {}{comma}{words}", value(quantity, found))
            }
            None => write!(text, "; {whose}{name}: {}", line.why_none(quantity)),
        };
    }
    text + "."
}

/// The end of a sentence as a sentence.
#[must_use]
pub fn sentence(text: &str) -> String {
    let stop = if text.is_empty() || text.ends_with('.') { "" } else { "." };
    super::capital(text) + stop
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn inputs_are_said_with_unit_and_way() {
        assert_eq!(short_input(Against::Travel, -37.5), "−37.5\u{a0}mm");
        assert_eq!(short_input(Against::Travel, 100.0), "100\u{a0}mm");
        assert_eq!(short_input(Against::Rack, 0.0), "0\u{a0}mm");
        assert_eq!(short_input(Against::Roll, 0.35), "0.35°");
        assert_eq!(short_input(Against::Roll, -10.0), "−10°");
        assert_eq!(input(Against::Travel, -12.0), "wheel travel 12\u{a0}mm rebound");
        assert_eq!(input(Against::Roll, 2.0), "body roll 2° to the right");
        assert_eq!(sentence("no link steers"), "No link steers.");
        assert_eq!(sentence(""), "");
    }
}
