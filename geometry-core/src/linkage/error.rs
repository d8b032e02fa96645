//! Why a described corner cannot be one, in sentences for the person who described it.

use alloc::{
    format,
    string::{String, ToString},
    vec::Vec,
};
use core::fmt;

use crate::{
    bounds::{BELOW_GROUND, Plain},
    setup::FieldError,
};

/// Why a corner cannot be assembled. Paths are relative to the corner until
/// [`LinkageError::within`] sets them in their document.
#[derive(Debug, Clone, PartialEq)]
pub enum LinkageError {
    /// A field by itself is wrong.
    Field(FieldError),
    /// The members do not remove five freedoms.
    Freedoms {
        /// How many they remove.
        removed: usize,
    },
    /// A member without a name.
    NoName,
    /// A member with the knuckle's name.
    NameTaken {
        /// The name.
        id: String,
    },
    /// Two members of one name.
    NameTwice {
        /// The name.
        id: String,
    },
    /// More than one link that steers.
    SteeredTwice {
        /// One of them.
        first: String,
        /// Another.
        second: String,
    },
    /// The rack has no direction.
    NoRackDirection,
    /// Two points of a member stand at one place.
    OnePlace {
        /// Path of one.
        first: String,
        /// Path of the other.
        second: String,
    },
    /// An arm's ball joint, or a rod's joint, on the line that the part turns about.
    JointOnAxis {
        /// Path of the joint.
        field: String,
    },
    /// A rod that stands in one plane with the axis of the part it is to turn.
    DeadCentre {
        /// Path of the rod's joint on that part.
        field: String,
    },
    /// The wheel reaches below the ground.
    WheelBelowGround {
        /// Height of the wheel centre, mm.
        height: f64,
        /// Loaded radius, mm.
        radius: f64,
        /// Height of the lowest point, mm.
        lowest: f64,
    },
    /// A spring or damper carried by nothing that exists.
    UnknownCarrier {
        /// Path of the field.
        field: String,
        /// What stood there.
        on: String,
        /// What could.
        known: Vec<String>,
    },
    /// Members that hold the same freedom twice: coplanar, parallel or meeting lines.
    Dependent {
        /// Their names.
        members: Vec<String>,
    },
    /// The freedom left is not travel: the wheel centre cannot rise.
    WheelCannotRise,
}

impl From<FieldError> for LinkageError {
    fn from(error: FieldError) -> Self {
        Self::Field(error)
    }
}

impl LinkageError {
    /// A stable word for programs.
    #[must_use]
    pub fn kind(&self) -> &'static str {
        match self {
            Self::Field(_) => "field",
            Self::Freedoms { .. } => "freedoms",
            Self::NoName | Self::NameTaken { .. } | Self::NameTwice { .. } => "name",
            Self::SteeredTwice { .. } => "steered_twice",
            Self::NoRackDirection => "rack_direction",
            Self::OnePlace { .. } => "one_place",
            Self::JointOnAxis { .. } => "joint_on_axis",
            Self::DeadCentre { .. } => "dead_centre",
            Self::WheelBelowGround { .. } => "wheel_below_ground",
            Self::UnknownCarrier { .. } => "unknown_carrier",
            Self::Dependent { .. } => "dependent",
            Self::WheelCannotRise => "wheel_cannot_rise",
        }
    }

    /// Paths of the fields concerned, relative to the corner; for a member as a whole,
    /// its name.
    #[must_use]
    pub fn fields(&self) -> Vec<String> {
        match self {
            Self::Field(error) => [error.field().to_string()].into(),
            Self::Freedoms { .. } | Self::NoName => Vec::new(),
            Self::NameTaken { id } | Self::NameTwice { id } => [id.clone()].into(),
            Self::SteeredTwice { first, second } | Self::OnePlace { first, second } => {
                [first.clone(), second.clone()].into()
            }
            Self::NoRackDirection => ["rack_direction".to_string()].into(),
            Self::JointOnAxis { field } | Self::DeadCentre { field } | Self::UnknownCarrier { field, .. } => {
                [field.clone()].into()
            }
            Self::WheelBelowGround { .. } | Self::WheelCannotRise => ["wheel.centre".to_string()].into(),
            Self::Dependent { members } => members.clone(),
        }
    }

    /// The same error, seen from the document that holds the corner as `outer`.
    #[must_use]
    pub fn within(self, outer: &str) -> InCorner {
        InCorner { corner: outer.into(), error: self }
    }

    fn write(&self, f: &mut fmt::Formatter<'_>, outer: &str) -> fmt::Result {
        let dot = if outer.is_empty() { "" } else { "." };
        match self {
            Self::Field(error) if outer.is_empty() => write!(f, "{error}"),
            Self::Field(error) => write!(f, "{}", error.clone().within(outer)),
            Self::Freedoms { removed } => write_freedoms(f, outer, *removed),
            Self::NoName => write!(f, "{outer}{dot}id: every member needs a name; one is empty"),
            Self::NameTaken { id } => {
                write!(f, "{outer}{dot}id “{id}” is the knuckle's own name; the member needs another")
            }
            Self::NameTwice { id } => {
                write!(f, "{outer}{dot}id “{id}” is given to two members; each needs its own")
            }
            Self::SteeredTwice { first, second } => write!(
                f,
                "{outer}{dot}links: “{first}” and “{second}” both have steers; at most one link may move with the rack"
            ),
            Self::NoRackDirection => write!(
                f,
                "{outer}{dot}rack_direction has no length; give the way the rack moves, such as 0, 1, 0"
            ),
            Self::OnePlace { first, second } => write!(
                f,
                "{outer}{dot}{first} and {outer}{dot}{second} stand at one place; they must be apart for the member to have a length"
            ),
            Self::JointOnAxis { field } if field.starts_with("arms") => write!(
                f,
                "{outer}{dot}{field} stands on the line through the arm's two pivots; the arm would have no reach"
            ),
            Self::JointOnAxis { field } => write!(
                f,
                "{outer}{dot}{field} stands on the axis that it should turn about; it would have no lever"
            ),
            Self::DeadCentre { field } => write!(
                f,
                "{outer}{dot}{field} stands at dead centre: the rod points at the axis and cannot turn it"
            ),
            Self::WheelBelowGround { height, radius, lowest } => write!(
                f,
                "{outer}{dot}wheel.centre stands {} mm above the ground with a loaded radius of {} mm: the wheel would reach to {:.0} mm below it; at most {} mm are allowed",
                Plain(*height),
                Plain(*radius),
                -lowest,
                Plain(BELOW_GROUND),
            ),
            Self::UnknownCarrier { field, on, known } => {
                write!(f, "{outer}{dot}{field} is “{on}”, which is no member; it may be {}", known.join(", "))
            }
            Self::Dependent { members } if members.len() == 1 => write!(
                f,
                "{outer}: the member “{}” has its points so close to one line that it does not hold the knuckle",
                members.join("")
            ),
            Self::Dependent { members } => write!(
                f,
                "{outer}{}the members {} hold the knuckle in the same way (lines that are parallel, in one plane or meet in one point), so that one freedom is held twice and another not at all; move one of them",
                if outer.is_empty() { "" } else { ": " },
                members.iter().map(|id| format!("“{id}”")).collect::<Vec<_>>().join(", ")
            ),
            Self::WheelCannotRise => write!(
                f,
                "{outer}{dot}wheel.centre cannot rise: the motion that the members leave does not lift the wheel here"
            ),
        }
    }
}

fn write_freedoms(f: &mut fmt::Formatter<'_>, outer: &str, removed: usize) -> fmt::Result {
    if !outer.is_empty() {
        write!(f, "{outer}: ")?;
    }
    write!(
        f,
        "the members remove {removed} of the knuckle's six freedoms; they must remove five (an arm or a strut removes two, a link one, a hinge five)"
    )?;
    match removed {
        4 => f.write_str(": one link is missing"),
        0..4 => write!(f, ": {} more are needed", 5 - removed),
        6 => f.write_str(": one link too many"),
        _ => write!(f, ": {} too many", removed.saturating_sub(5)),
    }
}

impl fmt::Display for LinkageError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.write(f, "")
    }
}

impl core::error::Error for LinkageError {}

/// A corner's error with the name of the corner it is in.
#[derive(Debug, Clone, PartialEq)]
pub struct InCorner {
    /// `front` or `rear`.
    pub corner: String,
    /// What is wrong there.
    pub error: LinkageError,
}

impl fmt::Display for InCorner {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.error.write(f, &self.corner)
    }
}

impl core::error::Error for InCorner {}
