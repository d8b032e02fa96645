//! Why an axle does not reach a state, in sentences.

use core::fmt;

use super::AxleState;
use crate::{
    bounds::{OutOfBounds, Plain},
    setup::Side,
    solve::State,
};

/// How a wheel's linkage ended: the [`Outcome`](crate::solve::Outcome)s that are no position.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum LinkageEnd {
    /// No assembly of the design position's branch reaches that far.
    OutOfReach,
    /// The members leave the wheel no definite motion there.
    DeadPoint,
    /// Only another assembly goes on.
    OtherAssembly,
    /// The allowance of evaluations was used up.
    Stalled,
}

impl LinkageEnd {
    /// A stable word for programs, that of [`Outcome::kind`](crate::solve::Outcome::kind).
    #[must_use]
    pub fn kind(self) -> &'static str {
        match self {
            Self::OutOfReach => "out_of_reach",
            Self::DeadPoint => "dead_point",
            Self::OtherAssembly => "other_assembly",
            Self::Stalled => "stalled",
        }
    }
}

/// Why an axle does not reach a state.
#[derive(Debug, Clone, PartialEq)]
pub enum AxleStop {
    /// A number of the state is out of its range.
    Field(OutOfBounds),
    /// A wheel's linkage ends before the ground is where the wheel would be.
    Wheel {
        /// Which wheel.
        side: Side,
        /// How its linkage ended.
        end: LinkageEnd,
        /// How far the linkage came, as a left corner.
        last: State,
        /// The body's state there, mm and °.
        at: AxleState,
    },
    /// A wheel's travel does not bring its disc nearer to the ground.
    NoContact {
        /// Which wheel.
        side: Side,
        /// The body's state there, mm and °.
        at: AxleState,
    },
    /// The lines through the contacts are nearly parallel: the roll centre has run away, and
    /// there is nothing the body could be said to turn about.
    RollCentreAway {
        /// How far to the left of the centre plane it was, mm; `None` for parallel lines.
        across: Option<f64>,
        /// The body's state there, mm and °.
        at: AxleState,
    },
}

impl AxleStop {
    /// A stable word for programs.
    #[must_use]
    pub fn kind(&self) -> &'static str {
        match self {
            Self::Field(_) => "field",
            Self::Wheel { end, .. } => end.kind(),
            Self::NoContact { .. } => "no_contact",
            Self::RollCentreAway { .. } => "roll_centre_away",
        }
    }

    /// The wheel that stopped it, when it was one.
    #[must_use]
    pub fn side(&self) -> Option<Side> {
        match self {
            Self::Wheel { side, .. } | Self::NoContact { side, .. } => Some(*side),
            Self::Field(_) | Self::RollCentreAway { .. } => None,
        }
    }
}

impl From<OutOfBounds> for AxleStop {
    fn from(error: OutOfBounds) -> Self {
        Self::Field(error)
    }
}

/// Where the body is, by what of it is not as described.
struct Where<'a>(&'a AxleState);

impl fmt::Display for Where<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let AxleState { heave, roll, rack } = *self.0;
        let rounded = [("heave", heave, " mm"), ("roll", roll, "°"), ("rack", rack, " mm")]
            .map(|(name, value, unit)| (name, crate::float::round(100.0 * value) / 100.0, unit));
        let mut word = "at a";
        for (name, value, unit) in rounded.into_iter().filter(|(_, value, _)| *value != 0.0) {
            write!(f, "{word} {name} of {}{unit}", Plain(value))?;
            word = ", a";
        }
        if word == "at a" { f.write_str("where it is described") } else { Ok(()) }
    }
}

impl fmt::Display for AxleStop {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let name = |side: &Side| match side {
            Side::Left => "left",
            Side::Right => "right",
        };
        match self {
            Self::Field(error) => error.fmt(f),
            Self::Wheel { side, end, at, .. } => {
                let why = match end {
                    LinkageEnd::OutOfReach => "the linkage ends",
                    LinkageEnd::DeadPoint => "the linkage stands at a dead point",
                    LinkageEnd::OtherAssembly => "only another assembly of the linkage goes on",
                    LinkageEnd::Stalled => "the position could not be found",
                };
                write!(f, "the {} wheel stops {}: {why}", name(side), Where(at))
            }
            Self::NoContact { side, at } => {
                write!(f, "the {} wheel does not come down to the ground {}", name(side), Where(at))
            }
            Self::RollCentreAway { at, .. } => write!(
                f,
                "{} the lines that give the roll centre are nearly parallel; the body has no point to turn about (roll with the heave held instead)",
                Where(at)
            ),
        }
    }
}

impl core::error::Error for AxleStop {}
