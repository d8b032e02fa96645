//! Why an edit was refused, in a sentence for the person who made it.

use std::fmt;

use geometry_core::{
    bounds::{Bound, Plain},
    linkage::{InCorner, LinkageError},
    setup::{Axle, FieldError},
};

use super::{MemberKind, MemberPath, Part, PointPath};
use crate::with_unit::out_of_bounds;

/// Why an edit was refused; the document stays as it was.
#[derive(Debug, Clone, PartialEq)]
pub enum EditError {
    /// A number, text or list out of its range.
    Field(FieldError),
    /// A name that is empty, taken, or names no member.
    Name(InCorner),
    /// The axle has no corner.
    NoCorner {
        /// The axle.
        axle: Axle,
    },
    /// The right corner is not described by itself.
    NoRight {
        /// The axle.
        axle: Axle,
    },
    /// The corner has no such point.
    NoPoint {
        /// The axle.
        axle: Axle,
        /// The point.
        point: PointPath,
    },
    /// The corner has no such member.
    NoMember {
        /// The axle.
        axle: Axle,
        /// The member.
        member: MemberPath,
    },
    /// The corner has one already and may have only one.
    OnlyOneMember {
        /// The axle.
        axle: Axle,
        /// The kind of member.
        kind: MemberKind,
    },
    /// The corner has no such part.
    NoPart {
        /// The axle.
        axle: Axle,
        /// Which.
        part: Part,
    },
    /// The corner has no such part among those that move with the wheel.
    NoUnsprung {
        /// The axle.
        axle: Axle,
        /// Its number, from zero.
        number: usize,
    },
    /// The corner has such a part already.
    OnlyOnePart {
        /// The axle.
        axle: Axle,
        /// Which.
        part: Part,
    },
    /// A field that cannot be empty.
    Needed {
        /// Path of the field.
        field: String,
        /// What is allowed.
        bound: Bound,
    },
}

impl From<FieldError> for EditError {
    fn from(error: FieldError) -> Self {
        Self::Field(error)
    }
}

impl EditError {
    /// An error about a name in a corner.
    pub(super) fn name(axle: Axle, error: LinkageError) -> Self {
        Self::Name(error.within(axle.name()))
    }
}

impl fmt::Display for EditError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            // In the units in which the number was given.
            Self::Field(FieldError::Number(error)) => f.write_str(&out_of_bounds(error)),
            Self::Field(error) => error.fmt(f),
            Self::Name(error) => error.fmt(f),
            Self::NoCorner { axle } => {
                write!(f, "{0}: the setup describes no {0} corner; add one first", axle.name())
            }
            Self::NoRight { axle } => write!(
                f,
                "{}: the right corner is the mirror image of the left one; describe it separately first",
                axle.right_name()
            ),
            Self::NoPoint { axle, point } => {
                write!(f, "{}.{point}: the corner has no such point", axle.name())
            }
            Self::NoMember { axle, member } => {
                write!(f, "{}.{member}: the corner has no such member", axle.name())
            }
            Self::OnlyOneMember { axle, kind } => {
                write!(f, "{}: the corner already has a {}; it may have one", axle.name(), kind.name())
            }
            Self::NoPart { axle, part } => {
                let (path, name) = (part.path(), part.name());
                write!(f, "{}.{path}: the corner has no {name}; add one first", axle.name())
            }
            Self::OnlyOnePart { axle, part } => {
                let (path, one) = (part.path(), part.one());
                write!(f, "{}.{path}: the corner already has {one}; it may have one", axle.name())
            }
            Self::NoUnsprung { axle, number } => {
                write!(f, "{}.unsprung[{number}]: no such part is named", axle.name())
            }
            Self::Needed { field, bound } => {
                let space = if bound.unit.is_empty() { "" } else { " " };
                write!(
                    f,
                    "{field} is empty; a number between {} and {}{space}{} is needed",
                    Plain(bound.least),
                    Plain(bound.most),
                    bound.unit
                )
            }
        }
    }
}

impl std::error::Error for EditError {}
