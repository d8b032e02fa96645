//! What a group of the car's readings lacks.

use alloc::{
    format,
    string::{String, ToString},
};
use core::fmt;

use crate::setup::Axle;

/// A group of readings of the car, by its field in [`CarReadings`](super::CarReadings).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "snake_case"))]
pub enum Group {
    /// `loads`.
    Loads,
    /// `front_unsprung`.
    FrontUnsprung,
    /// `rear_unsprung`.
    RearUnsprung,
    /// `masses`.
    Masses,
    /// `roll_axis`.
    RollAxis,
    /// `lateral`.
    Lateral,
    /// `braking`.
    Braking,
    /// `driving`.
    Driving,
    /// `front_ride`.
    FrontRide,
    /// `rear_ride`.
    RearRide,
}

/// A group and what it lacks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Missing {
    /// The group that is absent.
    pub group: Group,
    /// The first thing it lacks.
    pub lack: Lack,
}

/// What keeps a group of readings from being told.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "snake_case"))]
pub enum Lack {
    /// The wheelbase is not given.
    Wheelbase,
    /// The mass is not given.
    Mass,
    /// The share of the mass at the front is not given.
    FrontMassShare,
    /// The height of the centre of gravity is not given.
    CgHeight,
    /// The share of the friction brakes' force at the front is not given.
    BrakeFrontShare,
    /// The share of the driving force at the front is not given.
    DriveFrontShare,
    /// Neither the share of the regeneration at the front nor that of the drive is given.
    RegenerationFrontShare,
    /// The axle is not described.
    Corner(Axle),
    /// No unsprung part of the axle is named.
    Unsprung(Axle),
    /// The axle's wheels weigh more than what stands on them.
    UnsprungTooHeavy(Axle),
    /// The axle's wheel rate is not known.
    WheelRate(Axle),
    /// The axle has an anti-roll bar of which the rate is not known.
    AntiRollBarRate(Axle),
    /// The lines that give the axle's roll centre are parallel.
    RollCentreAtInfinity(Axle),
    /// The axle's contact does not rise with the wheel, so that its slope does not exist.
    NoSlope(Axle),
    /// The springs and bars give the body less than its weight takes as it leans: it falls over.
    FallsOver,
}

impl Lack {
    /// Path of the document's field that would tell it; `None` where it is not a field that lacks.
    #[must_use]
    pub fn field(self) -> Option<String> {
        let path = |axle: Axle, field: &str| format!("{}.{field}", axle.name());
        Some(match self {
            Self::Wheelbase => "vehicle.wheelbase".into(),
            Self::Mass => "vehicle.mass".into(),
            Self::FrontMassShare => "vehicle.front_mass_share".into(),
            Self::CgHeight => "vehicle.cg_height".into(),
            Self::BrakeFrontShare => "vehicle.brake_front_share".into(),
            Self::DriveFrontShare => "vehicle.drive_front_share".into(),
            Self::RegenerationFrontShare => "vehicle.regeneration_front_share".into(),
            Self::Corner(axle) => axle.name().to_string(),
            Self::Unsprung(axle) => path(axle, "unsprung"),
            Self::WheelRate(axle) => path(axle, "spring.rate"),
            Self::AntiRollBarRate(axle) => path(axle, "anti_roll_bar.rate"),
            Self::UnsprungTooHeavy(_)
            | Self::RollCentreAtInfinity(_)
            | Self::NoSlope(_)
            | Self::FallsOver => return None,
        })
    }
}

impl fmt::Display for Lack {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(field) = self.field() {
            return write!(f, "{field} is not given");
        }
        match self {
            Self::UnsprungTooHeavy(axle) => {
                write!(f, "the {} wheels' unsprung parts weigh more than what stands on them", axle.name())
            }
            Self::RollCentreAtInfinity(axle) => {
                write!(f, "the lines that give the {} roll centre are parallel", axle.name())
            }
            Self::NoSlope(axle) => write!(f, "the {} contact does not rise with its wheel", axle.name()),
            _ => f.write_str("springs and anti-roll bars are too soft to hold the body upright"),
        }
    }
}
