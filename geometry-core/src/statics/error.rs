//! Why there are no forces, in sentences.

use alloc::vec::Vec;
use core::fmt;

use crate::bounds::OutOfBounds;

/// A number of the vehicle that a load case needs and the document does not give.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "snake_case"))]
pub enum Missing {
    /// The car's mass.
    Mass,
    /// Its share on the front wheels.
    FrontMassShare,
    /// The height of the centre of gravity.
    CgHeight,
    /// The distance between the axles.
    Wheelbase,
    /// The front wheels' share of the braking force.
    BrakeFrontShare,
    /// The front wheels' share of the driving force, which stands for that of regeneration
    /// as well.
    DriveFrontShare,
    /// The share of the braking that regeneration does.
    RegenerationShare,
}

impl Missing {
    /// Path of the field in the document.
    #[must_use]
    pub fn field(self) -> &'static str {
        match self {
            Self::Mass => "vehicle.mass",
            Self::FrontMassShare => "vehicle.front_mass_share",
            Self::CgHeight => "vehicle.cg_height",
            Self::Wheelbase => "vehicle.wheelbase",
            Self::BrakeFrontShare => "vehicle.brake_front_share",
            Self::DriveFrontShare => "vehicle.drive_front_share",
            Self::RegenerationShare => "vehicle.regeneration_share",
        }
    }
}

impl fmt::Display for Missing {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Mass => "the mass of the car",
            Self::FrontMassShare => "the share of the mass on the front wheels",
            Self::CgHeight => "the height of the centre of gravity",
            Self::Wheelbase => "the wheelbase",
            Self::BrakeFrontShare => "the share of the braking force at the front wheels",
            Self::DriveFrontShare => "the share of the driving force at the front wheels",
            Self::RegenerationShare => "the share of the braking that regeneration does",
        })
    }
}

/// Why there are no forces.
#[derive(Debug, Clone, PartialEq)]
pub enum ForcesError {
    /// The load case needs numbers of the vehicle that are not given.
    Missing(Vec<Missing>),
    /// A number from outside is out of its range.
    OutOfBounds(OutOfBounds),
    /// A force is given for a part whose rod does not reach in this position.
    OutOfReach {
        /// The part's field in the corner.
        part: &'static str,
    },
    /// The members stand so that they hardly hold the wheel: forces would grow without bound.
    DeadPoint,
}

impl ForcesError {
    /// A name for programs.
    #[must_use]
    pub fn kind(&self) -> &'static str {
        match self {
            Self::Missing(_) => "missing",
            Self::OutOfBounds(_) => "field",
            Self::OutOfReach { .. } => "out_of_reach",
            Self::DeadPoint => "dead_point",
        }
    }
}

impl From<OutOfBounds> for ForcesError {
    fn from(error: OutOfBounds) -> Self {
        Self::OutOfBounds(error)
    }
}

impl fmt::Display for ForcesError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Missing(missing) => {
                f.write_str("this load case needs ")?;
                for (i, one) in missing.iter().enumerate() {
                    let before = match i {
                        0 => "",
                        _ if i + 1 == missing.len() => " and ",
                        _ => ", ",
                    };
                    write!(f, "{before}{one}")?;
                }
                Ok(())
            }
            Self::OutOfBounds(error) => error.fmt(f),
            Self::OutOfReach { part } => {
                write!(f, "the rod of {part} does not reach in this position, so it cannot carry a force")
            }
            Self::DeadPoint => f.write_str(
                "the members stand at a dead point: they hardly hold the wheel here, and forces would grow without bound",
            ),
        }
    }
}

impl core::error::Error for ForcesError {}
