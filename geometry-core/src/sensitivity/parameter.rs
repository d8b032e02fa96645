//! What can be changed on a corner: measured numbers, and what a mechanic adjusts.

use alloc::vec::Vec;
use core::fmt;

use crate::{
    bounds::{TYPICAL_ANGLE, TYPICAL_LENGTH},
    readings::quantity::Unit,
    setup::{Coordinate, Corner, PointPath},
};

/// In which sense a parameter changes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "snake_case"))]
pub enum Kind {
    /// The number in the description is another one: measured or drawn differently. Camber
    /// and toe stay what the description says they are in the design position.
    Redrawn,
    /// The built car is altered: a shim, a thread, a slotted hole. Every part keeps its
    /// dimensions but for the one altered, and the wheel goes where the linkage takes it, the
    /// wheel centre at its old height.
    Adjusted,
}

/// One number by which a corner can change.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(tag = "change", rename_all = "snake_case"))]
pub enum Parameter {
    /// A coordinate in the description, mm. [`Kind::Redrawn`].
    Coordinate {
        /// Which point.
        place: PointPath,
        /// Which coordinate.
        axis: Coordinate,
    },
    /// The loaded radius in the description, mm, + larger. [`Kind::Redrawn`].
    LoadedRadius,
    /// The camber in the description, °, + top outward; as well a wedge between hub and
    /// knuckle. [`Kind::Redrawn`].
    Camber,
    /// The toe in the description, °, + front inward. [`Kind::Redrawn`].
    Toe,
    /// A link made longer by its thread, mm, + longer. What stands on the link keeps its place
    /// from the inboard joint. [`Kind::Adjusted`].
    LinkLength {
        /// Index of the link.
        link: usize,
    },
    /// An arm's ball joint moved away from the arm's axis, mm, + longer. What stands on the
    /// arm keeps its place from the axis. [`Kind::Adjusted`].
    ArmReach {
        /// Index of the arm.
        arm: usize,
    },
    /// Both body pivots of an arm moved by the same shim, mm. [`Kind::Adjusted`].
    ArmPivots {
        /// Index of the arm.
        arm: usize,
        /// Which way, + along the vehicle's axis.
        axis: Coordinate,
    },
    /// One joint moved by a shim, mm, on the body or on the knuckle, whichever it belongs to;
    /// a joint of the knuckle along the axes as they are in the design position. With one pivot
    /// of an arm or of a hinge moved, the part keeps its middle between both; with a strut's lower end moved,
    /// the strut stands beside its old place on the knuckle, parallel. [`Kind::Adjusted`].
    Joint {
        /// Which joint; one of those that [`PointPath::holds`] the knuckle.
        place: PointPath,
        /// Which way, + along the vehicle's axis.
        axis: Coordinate,
    },
}

/// In the document's words: what changes, on which path.
impl fmt::Display for Parameter {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Coordinate { place, axis } => write!(f, "{place}[{}]", *axis as usize),
            Self::LoadedRadius => f.write_str("wheel.loaded_radius"),
            Self::Camber => f.write_str("wheel.camber"),
            Self::Toe => f.write_str("wheel.toe"),
            Self::LinkLength { link } => write!(f, "length of links[{link}]"),
            Self::ArmReach { arm } => write!(f, "reach of arms[{arm}]"),
            Self::ArmPivots { arm, axis } => write!(f, "shim under the pivots of arms[{arm}] along {axis}"),
            Self::Joint { place, axis } => write!(f, "shim at {place} along {axis}"),
        }
    }
}

impl Parameter {
    /// Every parameter of a corner: the description's numbers, then the adjustments.
    #[must_use]
    pub fn all(corner: &Corner) -> Vec<Self> {
        let places = PointPath::all(corner);
        let axes = |make: &dyn Fn(Coordinate) -> Self| Coordinate::ALL.map(make);
        let mut all: Vec<Self> = Vec::new();
        for &place in &places {
            all.extend(axes(&|axis| Self::Coordinate { place, axis }));
        }
        all.extend([Self::LoadedRadius, Self::Camber, Self::Toe]);
        all.extend((0..corner.links.len()).map(|link| Self::LinkLength { link }));
        all.extend((0..corner.arms.len()).map(|arm| Self::ArmReach { arm }));
        for arm in 0..corner.arms.len() {
            all.extend(axes(&|axis| Self::ArmPivots { arm, axis }));
        }
        for &place in places.iter().filter(|place| place.holds()) {
            all.extend(axes(&|axis| Self::Joint { place, axis }));
        }
        all
    }

    /// Whether the description changes or the built car.
    #[must_use]
    pub fn kind(self) -> Kind {
        match self {
            Self::Coordinate { .. } | Self::LoadedRadius | Self::Camber | Self::Toe => Kind::Redrawn,
            Self::LinkLength { .. } | Self::ArmReach { .. } | Self::ArmPivots { .. } | Self::Joint { .. } => {
                Kind::Adjusted
            }
        }
    }

    /// Its unit: degrees for camber and toe, else millimetres.
    #[must_use]
    pub fn unit(self) -> Unit {
        match self {
            Self::Camber | Self::Toe => Unit::Degree,
            _ => Unit::Millimetre,
        }
    }

    /// The change by which effects are compared: [`TYPICAL_LENGTH`] or [`TYPICAL_ANGLE`].
    #[must_use]
    pub fn typical(self) -> f64 {
        match self.unit() {
            Unit::Degree => TYPICAL_ANGLE,
            _ => TYPICAL_LENGTH,
        }
    }

    /// Changes the number itself, everything else left: for a [`Kind::Redrawn`] parameter the
    /// whole change; for an adjustment the joints that it moves, in the knuckle's old pose.
    /// `None` where the corner has no such number.
    pub(super) fn shift(self, corner: &mut Corner, by: f64) -> Option<()> {
        match self {
            Self::Coordinate { place, axis } => shift(place, axis, corner, by)?,
            Self::LoadedRadius => corner.wheel.loaded_radius += by,
            Self::Camber => corner.wheel.camber += by,
            Self::Toe => corner.wheel.toe += by,
            Self::LinkLength { link } => corner.links.get(link).map(drop)?,
            Self::ArmReach { arm } => corner.arms.get(arm).map(drop)?,
            Self::ArmPivots { arm, axis } => {
                shift(PointPath::ArmFrontPivot(arm), axis, corner, by)?;
                shift(PointPath::ArmRearPivot(arm), axis, corner, by)?;
            }
            Self::Joint { place, axis } => place.holds().then(|| shift(place, axis, corner, by))??,
        }
        Some(())
    }
}

fn shift(place: PointPath, axis: Coordinate, corner: &mut Corner, by: f64) -> Option<()> {
    *axis.of_mut(place.get_mut(corner)?) += by;
    Some(())
}
