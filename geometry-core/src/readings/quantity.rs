//! The catalogue of scalar readings: name, unit, sign in words, definition, source.
//!
//! A new reading is a field of [`Readings`], a variant here and a line in each `match`;
//! the compiler asks for the rest.

use super::Readings;

/// A scalar reading that can stand in a table, a headline or a curve.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[expect(missing_docs, reason = "`definition` says what each variant means")]
pub enum Quantity {
    Camber,
    Toe,
    CamberGain,
    BumpSteer,
    HalfTrackChange,
    WheelbaseChange,
    RollCentreHeight,
    FrontViewSwingArm,
    SideViewSwingArm,
    ContactSlopeX,
    ContactSlopeY,
    HubSlopeX,
    KingpinInclination,
    Caster,
    ScrubRadius,
    MechanicalTrail,
    HubOffset,
    HubTrail,
    ScrewPitch,
    SpringLength,
    SpringMotionRatio,
    DamperLength,
    DamperMotionRatio,
    AntiBrakingFriction,
    AntiBrakingShaft,
    AntiDrivingShaft,
    AntiDrivingHub,
}

/// Writes a quantity as its name.
#[cfg(feature = "serde")]
#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde hands over a reference")]
pub(crate) fn as_name<S: serde::Serializer>(quantity: &Quantity, serializer: S) -> Result<S::Ok, S::Error> {
    serializer.serialize_str(quantity.name())
}

/// Unit of a quantity.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "snake_case"))]
pub enum Unit {
    /// Millimetres.
    Millimetre,
    /// Degrees.
    Degree,
    /// Degrees per millimetre of wheel travel.
    DegreePerMillimetre,
    /// Millimetres per millimetre.
    Ratio,
    /// Millimetres per radian.
    MillimetrePerRadian,
    /// Per cent.
    Percent,
}

/// What a person asks, by which the readings are grouped.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Question {
    /// How does the wheel stand?
    Stands,
    /// How does it move?
    Moves,
    /// Where does it steer about?
    Steers,
    /// How do the body's roll and pitch lean on it?
    Leans,
    /// What reaches the spring?
    Springs,
}

impl Question {
    /// All of them, in the order in which they are asked.
    pub const ALL: [Self; 5] = [Self::Stands, Self::Steers, Self::Moves, Self::Leans, Self::Springs];
}

impl Quantity {
    /// All of them, grouped by [`Question`].
    pub const ALL: [Self; 27] = [
        Self::Camber,
        Self::Toe,
        Self::KingpinInclination,
        Self::Caster,
        Self::ScrubRadius,
        Self::MechanicalTrail,
        Self::HubOffset,
        Self::HubTrail,
        Self::ScrewPitch,
        Self::CamberGain,
        Self::BumpSteer,
        Self::HalfTrackChange,
        Self::WheelbaseChange,
        Self::ContactSlopeX,
        Self::ContactSlopeY,
        Self::HubSlopeX,
        Self::RollCentreHeight,
        Self::FrontViewSwingArm,
        Self::SideViewSwingArm,
        Self::AntiBrakingFriction,
        Self::AntiBrakingShaft,
        Self::AntiDrivingShaft,
        Self::AntiDrivingHub,
        Self::SpringLength,
        Self::SpringMotionRatio,
        Self::DamperLength,
        Self::DamperMotionRatio,
    ];

    /// The value in a set of readings; `None` where it does not exist.
    #[must_use]
    pub fn value(self, r: &Readings) -> Option<f64> {
        let steering = r.steering.as_ref();
        match self {
            Self::Camber => Some(r.camber),
            Self::Toe => Some(r.toe),
            Self::CamberGain => Some(r.camber_gain),
            Self::BumpSteer => Some(r.bump_steer),
            Self::HalfTrackChange => Some(r.half_track_change),
            Self::WheelbaseChange => Some(r.wheelbase_change),
            Self::RollCentreHeight => r.roll_centre_height,
            Self::FrontViewSwingArm => r.front_view_centre.map(|[y, _]| (y - r.wheel_centre[1]).abs()),
            Self::SideViewSwingArm => r.side_view_centre.map(|[x, _]| (x - r.wheel_centre[0]).abs()),
            Self::ContactSlopeX => r.contact_slope_x,
            Self::ContactSlopeY => r.contact_slope_y,
            Self::HubSlopeX => Some(r.hub_slope_x),
            Self::KingpinInclination => steering.map(|s| s.kingpin_inclination),
            Self::Caster => steering.map(|s| s.caster),
            Self::ScrubRadius => steering.map(|s| s.scrub_radius),
            Self::MechanicalTrail => steering.map(|s| s.mechanical_trail),
            Self::HubOffset => steering.map(|s| s.hub_offset),
            Self::HubTrail => steering.map(|s| s.hub_trail),
            Self::ScrewPitch => steering.map(|s| s.screw_pitch),
            Self::SpringLength => r.spring.map(|s| s.length),
            Self::SpringMotionRatio => r.spring.map(|s| s.motion_ratio),
            Self::DamperLength => r.damper.map(|d| d.length),
            Self::DamperMotionRatio => r.damper.map(|d| d.motion_ratio),
            Self::AntiBrakingFriction => r.anti.braking_friction,
            Self::AntiBrakingShaft => r.anti.braking_shaft,
            Self::AntiDrivingShaft => r.anti.driving_shaft,
            Self::AntiDrivingHub => r.anti.driving_hub,
        }
    }

    /// Its unit.
    #[must_use]
    pub fn unit(self) -> Unit {
        match self {
            Self::Camber | Self::Toe | Self::KingpinInclination | Self::Caster => Unit::Degree,
            Self::CamberGain | Self::BumpSteer => Unit::DegreePerMillimetre,
            Self::HalfTrackChange
            | Self::WheelbaseChange
            | Self::RollCentreHeight
            | Self::FrontViewSwingArm
            | Self::SideViewSwingArm
            | Self::ScrubRadius
            | Self::MechanicalTrail
            | Self::HubOffset
            | Self::HubTrail
            | Self::SpringLength
            | Self::DamperLength => Unit::Millimetre,
            Self::ContactSlopeX
            | Self::ContactSlopeY
            | Self::HubSlopeX
            | Self::SpringMotionRatio
            | Self::DamperMotionRatio => Unit::Ratio,
            Self::ScrewPitch => Unit::MillimetrePerRadian,
            Self::AntiBrakingFriction
            | Self::AntiBrakingShaft
            | Self::AntiDrivingShaft
            | Self::AntiDrivingHub => Unit::Percent,
        }
    }

    /// The question it answers.
    #[must_use]
    pub fn question(self) -> Question {
        match self {
            Self::Camber | Self::Toe => Question::Stands,
            Self::KingpinInclination
            | Self::Caster
            | Self::ScrubRadius
            | Self::MechanicalTrail
            | Self::HubOffset
            | Self::HubTrail
            | Self::ScrewPitch => Question::Steers,
            Self::CamberGain
            | Self::BumpSteer
            | Self::HalfTrackChange
            | Self::WheelbaseChange
            | Self::ContactSlopeX
            | Self::ContactSlopeY
            | Self::HubSlopeX => Question::Moves,
            Self::RollCentreHeight
            | Self::FrontViewSwingArm
            | Self::SideViewSwingArm
            | Self::AntiBrakingFriction
            | Self::AntiBrakingShaft
            | Self::AntiDrivingShaft
            | Self::AntiDrivingHub => Question::Leans,
            Self::SpringLength | Self::SpringMotionRatio | Self::DamperLength | Self::DamperMotionRatio => {
                Question::Springs
            }
        }
    }

    /// The name in programs' answers.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Camber => "camber",
            Self::Toe => "toe",
            Self::CamberGain => "camber_gain",
            Self::BumpSteer => "bump_steer",
            Self::HalfTrackChange => "half_track_change",
            Self::WheelbaseChange => "wheelbase_change",
            Self::RollCentreHeight => "roll_centre_height",
            Self::FrontViewSwingArm => "front_view_swing_arm",
            Self::SideViewSwingArm => "side_view_swing_arm",
            Self::ContactSlopeX => "contact_slope_x",
            Self::ContactSlopeY => "contact_slope_y",
            Self::HubSlopeX => "hub_slope_x",
            Self::KingpinInclination => "kingpin_inclination",
            Self::Caster => "caster",
            Self::ScrubRadius => "scrub_radius",
            Self::MechanicalTrail => "mechanical_trail",
            Self::HubOffset => "hub_offset",
            Self::HubTrail => "hub_trail",
            Self::ScrewPitch => "screw_pitch",
            Self::SpringLength => "spring_length",
            Self::SpringMotionRatio => "spring_motion_ratio",
            Self::DamperLength => "damper_length",
            Self::DamperMotionRatio => "damper_motion_ratio",
            Self::AntiBrakingFriction => "anti.braking_friction",
            Self::AntiBrakingShaft => "anti.braking_shaft",
            Self::AntiDrivingShaft => "anti.driving_shaft",
            Self::AntiDrivingHub => "anti.driving_hub",
        }
    }

    /// What it is, in one or two sentences for a person.
    #[must_use]
    pub fn definition(self) -> &'static str {
        match self {
            Self::Camber => {
                "Inclination of the wheel plane from vertical. Positive when the top leans outward."
            }
            Self::Toe => {
                "Angle of the wheel plane to the car's length, seen from above. Positive when the front of the wheel points inward."
            }
            Self::CamberGain => {
                "Change of camber with wheel-centre travel. Negative: the top leans in as the wheel rises."
            }
            Self::BumpSteer => {
                "Change of toe with wheel-centre travel, the rack held. Positive: toes in as the wheel rises."
            }
            Self::HalfTrackChange => "Outward shift of the contact point against the position as described.",
            Self::WheelbaseChange => "Forward shift of the wheel centre against the position as described.",
            Self::RollCentreHeight => {
                "Height above the contact at which the lines from both contact points to their front-view centres meet on the car's centre plane."
            }
            Self::FrontViewSwingArm => {
                "Lateral distance from the wheel centre to the front-view centre: the length of the arm the wheel seems to swing on, seen from the front."
            }
            Self::SideViewSwingArm => {
                "Lengthwise distance from the wheel centre to the side-view centre: the length of the arm the wheel seems to swing on, seen from the side."
            }
            Self::ContactSlopeX => {
                "How far the knuckle point at the contact moves forward for what it rises: the side-view slope that braking at the wheel acts on."
            }
            Self::ContactSlopeY => "How far the knuckle point at the contact moves left for what it rises.",
            Self::HubSlopeX => {
                "How far the wheel centre moves forward for what it rises: the side-view slope that torque through a shaft acts on."
            }
            Self::KingpinInclination => {
                "Inclination of the steering axis seen from the front. Positive when the top leans inward."
            }
            Self::Caster => {
                "Inclination of the steering axis seen from the side. Positive when the top leans rearward."
            }
            Self::ScrubRadius => {
                "At the ground, across the wheel's heading: from the steering axis to the contact. Positive when the contact is outboard of the axis."
            }
            Self::MechanicalTrail => {
                "At the ground, along the wheel's heading: from the contact to the steering axis. Positive when the axis meets the ground ahead of the contact."
            }
            Self::HubOffset => {
                "At the hub's height, across the wheel's heading: from the steering axis to the wheel centre. Positive when the centre is outboard. The lever of forces through a drive shaft."
            }
            Self::HubTrail => {
                "At the hub's height, along the wheel's heading: from the wheel centre to the steering axis. Positive when the axis is ahead."
            }
            Self::ScrewPitch => {
                "Advance of the knuckle along the steering axis per radian of steering; zero when two ball joints make the axis."
            }
            Self::SpringLength => "Distance between the spring's ends.",
            Self::SpringMotionRatio => "Shortening of the spring for what the wheel centre rises.",
            Self::DamperLength => "Distance between the damper's ends.",
            Self::DamperMotionRatio => "Shortening of the damper for what the wheel centre rises.",
            Self::AntiBrakingFriction => {
                "Share of the braking load transfer that the links carry instead of the spring, with the torque reacted by the knuckle (a brake at the wheel). Positive resists dive in front and lift behind."
            }
            Self::AntiBrakingShaft => {
                "The same with the torque reacted by the body through a shaft: regeneration by a motor on the body, or an inboard brake."
            }
            Self::AntiDrivingShaft => {
                "Share of the driving load transfer that the links carry instead of the spring, with the torque reacted by the body through a shaft. Positive resists lift in front and squat behind."
            }
            Self::AntiDrivingHub => "The same with the torque reacted by the knuckle: a motor in the hub.",
        }
    }

    /// Where the definition comes from.
    #[must_use]
    pub fn source(self) -> &'static str {
        match self {
            Self::Camber | Self::Toe => "ISO 8855:2011, camber angle and static toe angle",
            Self::KingpinInclination | Self::Caster => {
                "ISO 8855:2011, 7.2, castor angle and steering-axis inclination, of the screw axis with the spring's length, or the torsion bar's twist, held"
            }
            Self::ScrubRadius | Self::MechanicalTrail | Self::HubOffset | Self::HubTrail => {
                "ISO 8855:2011, 7.2, offsets of the steering axis at the ground and at the wheel centre; the workshop's scrub radius is the signed lateral offset"
            }
            Self::ScrewPitch => "R. S. Ball, A Treatise on the Theory of Screws, 1900",
            Self::CamberGain | Self::BumpSteer | Self::HalfTrackChange | Self::WheelbaseChange => {
                "ISO 23365:2022, ride camber, ride steer and ride track change gradients (names)"
            }
            Self::RollCentreHeight | Self::FrontViewSwingArm | Self::SideViewSwingArm => {
                "Aronhold–Kennedy theorem on the motion in the view; Reimpell, Stoll, Betzler, The Automotive Chassis, 2001, 3.4"
            }
            Self::ContactSlopeX | Self::ContactSlopeY | Self::HubSlopeX => {
                "Virtual work: a force at the point against the point's path"
            }
            Self::AntiBrakingFriction
            | Self::AntiBrakingShaft
            | Self::AntiDrivingShaft
            | Self::AntiDrivingHub => {
                "Gillespie, Fundamentals of Vehicle Dynamics, 1992, ch. 7; Milliken & Milliken, Race Car Vehicle Dynamics, 1995, 17.3 (from memory)"
            }
            Self::SpringLength | Self::SpringMotionRatio | Self::DamperLength | Self::DamperMotionRatio => {
                "Virtual work; ratio as spring over wheel"
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use alloc::{collections::BTreeSet, vec::Vec};

    use super::*;

    /// Names are for programs and definitions for people: each reading has one of its own.
    #[test]
    fn every_reading_has_a_name_and_a_definition_of_its_own() {
        let all = |text: fn(Quantity) -> &'static str| -> Vec<_> { Quantity::ALL.map(text).into() };
        for texts in [all(Quantity::name), all(Quantity::definition)] {
            assert_eq!(texts.iter().collect::<BTreeSet<_>>().len(), Quantity::ALL.len(), "{texts:?}");
        }
        for quantity in Quantity::ALL {
            let (name, definition) = (quantity.name(), quantity.definition());
            assert!(name.chars().all(|c| c.is_ascii_lowercase() || "_.".contains(c)), "{name}");
            assert!(definition.len() > 20 && definition.ends_with('.'), "{name}: {definition}");
            assert!(quantity.source().len() > 20, "{name}: {}", quantity.source());
        }
    }
}
