//! What can be wrong with one field of the document.

use alloc::{format, string::String};

use super::{Axle, VERSION};
use crate::bounds::{self, OutOfBounds};

/// What is wrong with one field, whatever stands in the others.
#[derive(Debug, Clone, PartialEq)]
pub enum FieldError {
    /// A document of another version.
    Version(u32),
    /// Neither axle is described.
    NoCorner,
    /// A right corner where the left one is not described.
    RightAlone(Axle),
    /// A number out of its range.
    Number(OutOfBounds),
    /// A text longer than allowed.
    TooLong {
        /// Path of the field.
        field: String,
        /// Characters found.
        count: usize,
        /// Characters allowed.
        most: usize,
    },
    /// More members of a kind than any corner has.
    TooMany {
        /// Path of the list.
        field: String,
        /// Members found.
        count: usize,
    },
}

impl From<OutOfBounds> for FieldError {
    fn from(error: OutOfBounds) -> Self {
        Self::Number(error)
    }
}

impl FieldError {
    /// Path of the field that is wrong.
    #[must_use]
    pub fn field(&self) -> &str {
        match self {
            Self::Version(_) => "cornerwise",
            Self::NoCorner => "front",
            Self::RightAlone(axle) => axle.right_name(),
            Self::Number(error) => &error.field,
            Self::TooLong { field, .. } | Self::TooMany { field, .. } => field,
        }
    }

    /// The same error, seen from the document that holds the corner as `outer`.
    #[must_use]
    pub fn within(mut self, outer: &str) -> Self {
        match &mut self {
            Self::Number(error) => error.field = format!("{outer}.{}", error.field),
            Self::TooLong { field, .. } | Self::TooMany { field, .. } => *field = format!("{outer}.{field}"),
            Self::Version(_) | Self::NoCorner | Self::RightAlone(_) => {}
        }
        self
    }
}

impl core::fmt::Display for FieldError {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Self::Version(version) if *version > VERSION => write!(
                f,
                "cornerwise is {version}: this setup was written by a newer Cornerwise; this one reads version {VERSION}"
            ),
            Self::Version(version) => {
                write!(f, "cornerwise must be {VERSION}, the version of the format; it is {version}")
            }
            Self::NoCorner => f.write_str("front or rear must be given: the setup describes no corner"),
            Self::RightAlone(axle) => {
                let (left, right) = (axle.name(), axle.right_name());
                write!(f, "{right} may be given only beside {left}, whose right side it is; {left} is absent")
            }
            Self::Number(error) => error.fmt(f),
            Self::TooLong { field, count, most } => {
                write!(f, "{field} may have at most {most} characters; it has {count}")
            }
            Self::TooMany { field, count } => {
                write!(f, "{field} may hold at most {} members; it holds {count}", bounds::MOST_MEMBERS)
            }
        }
    }
}

impl core::error::Error for FieldError {}
