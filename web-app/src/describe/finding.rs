//! How a reading is found, in words.

use geometry_core::{
    construction::{Construction, Method, Role, Shortcut},
    readings::Quantity,
    setup::Axle,
};

use super::unit;
use crate::{
    numbers::{format_number, shows_zero},
    units::Unit,
};

/// How the chosen reading is found.
#[derive(Debug, Clone, PartialEq)]
pub struct Found {
    /// What to draw and both values; none where the reading does not exist.
    pub construction: Option<Construction>,
    /// Whether the corner's members are in an order that the textbook's shortcuts know.
    pub in_order: bool,
}

/// What is written beside a point or an axis on the sheet; none for what speaks for itself.
#[must_use]
pub fn role(role: Role) -> Option<&'static str> {
    Some(match role {
        Role::FrontViewCentre => "front-view centre",
        Role::SideViewCentre => "side-view centre",
        Role::RollCentre => "roll centre",
        Role::VirtualPivot => "virtual pivot",
        Role::InstantAxis => "instant axis",
        Role::SteeringAxis => "steering axis",
        Role::ContactAtDesign | Role::WheelCentreAtDesign => "as described",
        _ => return None,
    })
}

/// A value with one more decimal than in the table, so that a small difference shows.
#[must_use]
pub fn fine(quantity: Quantity, value: f64) -> String {
    let scale = unit(quantity).here();
    scale.beside(&format_number(scale.of(value), scale.decimals + 1))
}

/// The construction in a sentence or two.
#[must_use]
pub fn how(quantity: Quantity) -> &'static str {
    match quantity {
        Quantity::Camber => {
            "The wheel's plane, square to its spin axis, against the vertical through the contact."
        }
        Quantity::Toe => "The wheel's heading on the ground against the car's length, seen from above.",
        Quantity::CamberGain => {
            "The front-view centre is what the wheel turns about; camber changes by the travel over the \
             swing arm, the distance across to it."
        }
        Quantity::BumpSteer => {
            "As the wheel travels it turns about the instant axis; what that turning has about the vertical \
             is steering."
        }
        Quantity::HalfTrackChange => "The contact as described and now, measured across the car.",
        Quantity::WheelbaseChange => "The wheel centre as described and now, measured along the car.",
        Quantity::RollCentreHeight => {
            "Square to the contact's path lies the line to the front-view centre. It and the other wheel's \
             mirror image meet on the car's centre plane."
        }
        Quantity::FrontViewSwingArm => "From the wheel centre across to the front-view centre.",
        Quantity::SideViewSwingArm => "From the wheel centre along the car to the side-view centre.",
        Quantity::ContactSlopeX => {
            "The contact's path in the side view: square to the line to the side-view centre."
        }
        Quantity::ContactSlopeY => {
            "The contact's path in the front view: square to the line to the front-view centre."
        }
        Quantity::HubSlopeX => "The hub's path in the side view: square to the line to the side-view centre.",
        Quantity::KingpinInclination => {
            "The lean of the steering axis against the vertical, seen from the front."
        }
        Quantity::Caster => "The lean of the steering axis against the vertical, seen from the side.",
        Quantity::ScrubRadius => {
            "From where the steering axis meets the ground to the contact, measured across the wheel's heading."
        }
        Quantity::MechanicalTrail => {
            "From where the steering axis meets the ground to the contact, measured along the wheel's heading."
        }
        Quantity::HubOffset => {
            "From the steering axis at the hub's height to the hub, measured across the wheel's heading."
        }
        Quantity::HubTrail => {
            "From the steering axis at the hub's height to the hub, measured along the wheel's heading."
        }
        Quantity::ScrewPitch => {
            "Steering turns the wheel about the axis and moves it along: the advance per radian."
        }
        Quantity::SpringLength => "From one end of the spring to the other.",
        Quantity::DamperLength => "From one end of the damper to the other.",
        Quantity::SpringMotionRatio => {
            "About what carries the spring: the lever of the spring's line against the lever of the wheel's joint."
        }
        Quantity::DamperMotionRatio => {
            "About what carries the damper: the lever of the damper's line against the lever of the wheel's joint."
        }
        Quantity::AntiBrakingFriction | Quantity::AntiDrivingHub => {
            "The slope of the line from the contact to the side-view centre against the slope that would be 100 %."
        }
        Quantity::AntiBrakingShaft | Quantity::AntiDrivingShaft => {
            "The slope of the line from the hub to the side-view centre against the slope that would be 100 %."
        }
    }
}

/// The shortcut's name, and what it takes for granted.
#[must_use]
pub fn method(method: Method) -> (&'static str, &'static str) {
    match method {
        Method::HoldPlanes => ("the lines' crossing", "The crossing leaves the single link out of account."),
        Method::HingeAxis => ("the line through the pivots", "For this layout it is the axis itself."),
        Method::SwingArm => (
            "one over the swing arm to the lines' crossing",
            "The crossing leaves the single link out of account.",
        ),
        Method::JointLine => (
            "the line through both joints",
            "The line takes steering to be turning alone, without motion along the axis.",
        ),
        Method::SeenFromFront => ("a gauge square to the car", "The gauge does not follow the wheel's toe."),
        Method::Levers => ("the levers", "They take the joint to move about the lines' crossing."),
    }
}

/// How the shortcut and the motion compare, with the difference and its unit.
#[must_use]
pub fn comparison(quantity: Quantity, value: f64, shortcut: &Shortcut) -> String {
    let (name, granted) = method(shortcut.method);
    let scale = unit(quantity).here();
    let difference = format_number(scale.of(shortcut.difference.abs()), scale.decimals + 1);
    let verdict = if shows_zero(&difference) {
        "the same to the last digit".into()
    } else {
        let more = if shortcut.difference > 0.0 { "more" } else { "less" };
        let amount = match unit(quantity) {
            Unit::Percent => format!("{difference} percentage points"),
            _ => scale.beside(&difference),
        };
        format!("the first is {amount} {more}")
    };
    let capital = super::capital(name);
    let says = if shortcut.method == Method::Levers { "say" } else { "says" };
    format!(
        "{capital} {says} {}, the motion {}: {verdict}. {granted}",
        fine(quantity, shortcut.value),
        fine(quantity, value)
    )
}

/// Why a construction has no shortcut.
fn without(construction: &Construction, in_order: bool) -> &'static str {
    match construction.quantity {
        Quantity::Toe
        | Quantity::HalfTrackChange
        | Quantity::WheelbaseChange
        | Quantity::SpringLength
        | Quantity::DamperLength => "It is measured as it stands; there is no shorter way.",
        _ if !in_order => {
            "No shortcut: these members do not pair into two joints and a single link, so no two lines cross \
             in the centre. Only the motion tells."
        }
        _ => "The textbook's shortcut does not reach this case; only the motion tells.",
    }
}

/// All that is said of the chosen reading.
#[must_use]
pub fn sentence(quantity: Quantity, axle: Axle, found: &Found) -> String {
    let how = how(quantity);
    let Some(construction) = &found.construction else {
        return format!("{how} {} does not exist here, so nothing is drawn.", super::label(quantity, axle));
    };
    match &construction.shortcut {
        Some(shortcut) => format!("{how} {}", comparison(quantity, construction.value, shortcut)),
        None => format!(
            "{how} Exactly {}. {}",
            fine(quantity, construction.value),
            without(construction, found.in_order)
        ),
    }
}
