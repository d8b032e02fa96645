//! What can be changed on a corner: measured numbers, and what a mechanic adjusts.

use alloc::vec::Vec;
use core::fmt;

use crate::{
    bounds::{TYPICAL_ANGLE, TYPICAL_LENGTH},
    readings::quantity::Unit,
    setup::{Corner, Point},
};

/// A point of a corner. Its `Display` is its path, as in [`Corner::points`]; an index is that
/// of the member in the document's list, or of the point in a pair.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Place {
    /// Front body pivot of the arm of this index.
    FrontPivot(usize),
    /// Rear body pivot of an arm.
    RearPivot(usize),
    /// Ball joint of an arm.
    BallJoint(usize),
    /// Inboard joint of the link of this index.
    Inboard(usize),
    /// Outboard joint of a link.
    Outboard(usize),
    /// The strut's top mount.
    TopMount,
    /// The strut's lower end.
    LowerEnd,
    /// The hinge's pivot 0 or 1.
    HingePivot(usize),
    /// The wheel centre.
    WheelCentre,
    /// The spring's end on the body.
    SpringBody,
    /// The spring's moving end.
    SpringCarried,
    /// The damper's end on the body.
    DamperBody,
    /// The damper's moving end.
    DamperCarried,
    /// Point 0 or 1 of the rocker's axis.
    RockerAxis(usize),
    /// The rod's joint on the rocker.
    RodEnd,
    /// The rod's other joint.
    RodCarried,
    /// Point 0 or 1 of the anti-roll bar's axis.
    BarAxis(usize),
    /// The drop link's joint on the anti-roll bar's arm.
    BarArmEnd,
    /// The drop link's other joint.
    BarCarried,
}

impl Place {
    /// Every point of a corner, in the order of [`Corner::points`].
    #[must_use]
    pub fn all(corner: &Corner) -> Vec<Self> {
        let arms = (0..corner.arms.len())
            .flat_map(|i| [Self::FrontPivot(i), Self::RearPivot(i), Self::BallJoint(i)]);
        let links = (0..corner.links.len()).flat_map(|i| [Self::Inboard(i), Self::Outboard(i)]);
        let single = [
            Self::TopMount,
            Self::LowerEnd,
            Self::HingePivot(0),
            Self::HingePivot(1),
            Self::WheelCentre,
            Self::SpringBody,
            Self::SpringCarried,
            Self::DamperBody,
            Self::DamperCarried,
            Self::RockerAxis(0),
            Self::RockerAxis(1),
            Self::RodEnd,
            Self::RodCarried,
            Self::BarAxis(0),
            Self::BarAxis(1),
            Self::BarArmEnd,
            Self::BarCarried,
        ];
        arms.chain(links).chain(single).filter(|place| place.of(corner).is_some()).collect()
    }

    /// Where the point is, mm; `None` where the corner has none such.
    #[must_use]
    pub fn of(self, corner: &Corner) -> Option<Point> {
        let arm = |i: usize| corner.arms.get(i);
        let link = |i: usize| corner.links.get(i);
        let (strut, spring, damper) = (corner.strut.as_ref(), corner.spring.as_ref(), corner.damper.as_ref());
        let (rocker, bar) = (corner.rocker.as_ref(), corner.anti_roll_bar.as_ref());
        match self {
            Self::FrontPivot(i) => arm(i).map(|arm| arm.front_pivot),
            Self::RearPivot(i) => arm(i).map(|arm| arm.rear_pivot),
            Self::BallJoint(i) => arm(i).map(|arm| arm.ball_joint),
            Self::Inboard(i) => link(i).map(|link| link.inboard),
            Self::Outboard(i) => link(i).map(|link| link.outboard),
            Self::TopMount => strut.map(|strut| strut.top_mount),
            Self::LowerEnd => strut.map(|strut| strut.lower_end),
            Self::HingePivot(i) => corner.hinge.as_ref()?.pivots.get(i).copied(),
            Self::WheelCentre => Some(corner.wheel.centre),
            Self::SpringBody => spring.map(|spring| spring.body),
            Self::SpringCarried => spring.map(|spring| spring.carried),
            Self::DamperBody => damper.map(|damper| damper.body),
            Self::DamperCarried => damper.map(|damper| damper.carried),
            Self::RockerAxis(i) => rocker?.axis.get(i).copied(),
            Self::RodEnd => rocker.map(|rocker| rocker.rod_end),
            Self::RodCarried => rocker.map(|rocker| rocker.carried),
            Self::BarAxis(i) => bar?.axis.get(i).copied(),
            Self::BarArmEnd => bar.map(|bar| bar.arm_end),
            Self::BarCarried => bar.map(|bar| bar.carried),
        }
    }

    /// The point, to be moved; `None` where the corner has none such.
    pub fn of_mut(self, corner: &mut Corner) -> Option<&mut Point> {
        match self {
            Self::FrontPivot(i) => corner.arms.get_mut(i).map(|arm| &mut arm.front_pivot),
            Self::RearPivot(i) => corner.arms.get_mut(i).map(|arm| &mut arm.rear_pivot),
            Self::BallJoint(i) => corner.arms.get_mut(i).map(|arm| &mut arm.ball_joint),
            Self::Inboard(i) => corner.links.get_mut(i).map(|link| &mut link.inboard),
            Self::Outboard(i) => corner.links.get_mut(i).map(|link| &mut link.outboard),
            Self::TopMount => corner.strut.as_mut().map(|strut| &mut strut.top_mount),
            Self::LowerEnd => corner.strut.as_mut().map(|strut| &mut strut.lower_end),
            Self::HingePivot(i) => corner.hinge.as_mut()?.pivots.get_mut(i),
            Self::WheelCentre => Some(&mut corner.wheel.centre),
            Self::SpringBody => corner.spring.as_mut().map(|spring| &mut spring.body),
            Self::SpringCarried => corner.spring.as_mut().map(|spring| &mut spring.carried),
            Self::DamperBody => corner.damper.as_mut().map(|damper| &mut damper.body),
            Self::DamperCarried => corner.damper.as_mut().map(|damper| &mut damper.carried),
            Self::RockerAxis(i) => corner.rocker.as_mut()?.axis.get_mut(i),
            Self::RodEnd => corner.rocker.as_mut().map(|rocker| &mut rocker.rod_end),
            Self::RodCarried => corner.rocker.as_mut().map(|rocker| &mut rocker.carried),
            Self::BarAxis(i) => corner.anti_roll_bar.as_mut()?.axis.get_mut(i),
            Self::BarArmEnd => corner.anti_roll_bar.as_mut().map(|bar| &mut bar.arm_end),
            Self::BarCarried => corner.anti_roll_bar.as_mut().map(|bar| &mut bar.carried),
        }
    }

    /// Whether it is a joint by which a member holds the knuckle, which a shim can move.
    #[must_use]
    pub fn holds(self) -> bool {
        matches!(
            self,
            Self::FrontPivot(_)
                | Self::RearPivot(_)
                | Self::BallJoint(_)
                | Self::Inboard(_)
                | Self::Outboard(_)
                | Self::TopMount
                | Self::LowerEnd
                | Self::HingePivot(_)
        )
    }

    /// Whether it is a joint on the knuckle (and not on the body).
    #[must_use]
    pub fn on_knuckle(self) -> bool {
        matches!(self, Self::BallJoint(_) | Self::Outboard(_) | Self::LowerEnd | Self::WheelCentre)
    }

    fn shift(self, corner: &mut Corner, axis: Axis, by: f64) -> Option<()> {
        let [x, y, z] = self.of_mut(corner)?;
        *match axis {
            Axis::X => x,
            Axis::Y => y,
            Axis::Z => z,
        } += by;
        Some(())
    }
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::FrontPivot(i) => write!(f, "arms[{i}].front_pivot"),
            Self::RearPivot(i) => write!(f, "arms[{i}].rear_pivot"),
            Self::BallJoint(i) => write!(f, "arms[{i}].ball_joint"),
            Self::Inboard(i) => write!(f, "links[{i}].inboard"),
            Self::Outboard(i) => write!(f, "links[{i}].outboard"),
            Self::TopMount => f.write_str("strut.top_mount"),
            Self::LowerEnd => f.write_str("strut.lower_end"),
            Self::HingePivot(i) => write!(f, "hinge.pivots[{i}]"),
            Self::WheelCentre => f.write_str("wheel.centre"),
            Self::SpringBody => f.write_str("spring.body"),
            Self::SpringCarried => f.write_str("spring.carried"),
            Self::DamperBody => f.write_str("damper.body"),
            Self::DamperCarried => f.write_str("damper.carried"),
            Self::RockerAxis(i) => write!(f, "rocker.axis[{i}]"),
            Self::RodEnd => f.write_str("rocker.rod_end"),
            Self::RodCarried => f.write_str("rocker.carried"),
            Self::BarAxis(i) => write!(f, "anti_roll_bar.axis[{i}]"),
            Self::BarArmEnd => f.write_str("anti_roll_bar.arm_end"),
            Self::BarCarried => f.write_str("anti_roll_bar.carried"),
        }
    }
}

#[cfg(feature = "serde")]
impl serde::Serialize for Place {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

/// A direction of the vehicle axes: x forward, y left, z up.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "snake_case"))]
#[expect(missing_docs, reason = "named above")]
pub enum Axis {
    X,
    Y,
    Z,
}

impl Axis {
    /// All three.
    pub const ALL: [Self; 3] = [Self::X, Self::Y, Self::Z];
}

impl fmt::Display for Axis {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::X => "x",
            Self::Y => "y",
            Self::Z => "z",
        })
    }
}

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
        place: Place,
        /// Which coordinate.
        axis: Axis,
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
        axis: Axis,
    },
    /// One joint moved by a shim, mm, on the body or on the knuckle, whichever it belongs to;
    /// a joint of the knuckle along the axes as they are in the design position. With one pivot
    /// of an arm or of a hinge moved, the part keeps its middle between both; with a strut's lower end moved,
    /// the strut stands beside its old place on the knuckle, parallel. [`Kind::Adjusted`].
    Joint {
        /// Which joint; one of those that [`Place::holds`] the knuckle.
        place: Place,
        /// Which way, + along the vehicle's axis.
        axis: Axis,
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
        let places = Place::all(corner);
        let axes = |make: &dyn Fn(Axis) -> Self| Axis::ALL.map(make);
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
            Self::Coordinate { place, axis } => place.shift(corner, axis, by)?,
            Self::LoadedRadius => corner.wheel.loaded_radius += by,
            Self::Camber => corner.wheel.camber += by,
            Self::Toe => corner.wheel.toe += by,
            Self::LinkLength { link } => corner.links.get(link).map(drop)?,
            Self::ArmReach { arm } => corner.arms.get(arm).map(drop)?,
            Self::ArmPivots { arm, axis } => {
                Place::FrontPivot(arm).shift(corner, axis, by)?;
                Place::RearPivot(arm).shift(corner, axis, by)?;
            }
            Self::Joint { place, axis } => place.holds().then(|| place.shift(corner, axis, by))??,
        }
        Some(())
    }
}
