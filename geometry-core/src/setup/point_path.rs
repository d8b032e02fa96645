//! Which point of a corner is meant: a closed list, so that a derivative, a drawing, a table row and an
//! error all name the same thing.

use alloc::{
    string::{String, ToString},
    vec::Vec,
};
use core::fmt;

use super::{Arm, Corner, Link, Point};

/// One coordinate of a point, or a direction along it. Its `Display` is its letter.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "snake_case"))]
pub enum Coordinate {
    /// Forward.
    X,
    /// To the left.
    Y,
    /// Up.
    Z,
}

impl Coordinate {
    /// All three, in order.
    pub const ALL: [Self; 3] = [Self::X, Self::Y, Self::Z];

    /// Its letter.
    #[must_use]
    pub fn letter(self) -> &'static str {
        match self {
            Self::X => "x",
            Self::Y => "y",
            Self::Z => "z",
        }
    }

    /// The coordinate of a point.
    #[must_use]
    pub fn of(self, point: Point) -> f64 {
        let [x, y, z] = point;
        match self {
            Self::X => x,
            Self::Y => y,
            Self::Z => z,
        }
    }

    /// The same, to be changed.
    pub fn of_mut(self, point: &mut Point) -> &mut f64 {
        let [x, y, z] = point;
        match self {
            Self::X => x,
            Self::Y => y,
            Self::Z => z,
        }
    }
}

impl fmt::Display for Coordinate {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.letter())
    }
}

/// A point of a corner. Numbers count the members of a kind from zero. Its `Display` is its path in the document.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum PointPath {
    /// An arm's front body pivot.
    ArmFrontPivot(usize),
    /// An arm's rear body pivot.
    ArmRearPivot(usize),
    /// An arm's ball joint on the knuckle.
    ArmBallJoint(usize),
    /// A link's joint on the body.
    LinkInboard(usize),
    /// A link's joint on the knuckle.
    LinkOutboard(usize),
    /// The strut's top mount on the body.
    StrutTopMount,
    /// The strut's lower end on the knuckle.
    StrutLowerEnd,
    /// One of the hinge's two body pivots, 0 or 1; any other number is no point.
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
    /// One of the two points of the rocker's axis, 0 or 1; any other number is no point.
    RockerAxis(usize),
    /// The rod's joint on the rocker.
    RockerRodEnd,
    /// The rod's other joint.
    RockerCarried,
    /// One of the two points of the anti-roll bar's axis, 0 or 1.
    BarAxis(usize),
    /// The drop link's joint on the bar's arm.
    BarArmEnd,
    /// The drop link's other joint.
    BarCarried,
}

/// What holds a point.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Holder {
    /// The body.
    Body,
    /// The knuckle.
    Knuckle,
    /// A member between them, the rocker or the anti-roll bar.
    Member,
}

impl PointPath {
    /// The point, when the corner has it.
    #[must_use]
    pub fn get(self, corner: &Corner) -> Option<Point> {
        let arm = |i: usize, of: fn(&Arm) -> Point| corner.arms.get(i).map(of);
        let link = |i: usize, of: fn(&Link) -> Point| corner.links.get(i).map(of);
        match self {
            Self::ArmFrontPivot(i) => arm(i, |arm| arm.front_pivot),
            Self::ArmRearPivot(i) => arm(i, |arm| arm.rear_pivot),
            Self::ArmBallJoint(i) => arm(i, |arm| arm.ball_joint),
            Self::LinkInboard(i) => link(i, |link| link.inboard),
            Self::LinkOutboard(i) => link(i, |link| link.outboard),
            Self::StrutTopMount => corner.strut.as_ref().map(|strut| strut.top_mount),
            Self::StrutLowerEnd => corner.strut.as_ref().map(|strut| strut.lower_end),
            Self::HingePivot(i) => corner.hinge.as_ref().and_then(|hinge| hinge.pivots.get(i).copied()),
            Self::WheelCentre => Some(corner.wheel.centre),
            Self::SpringBody => corner.spring.as_ref().map(|spring| spring.body),
            Self::SpringCarried => corner.spring.as_ref().map(|spring| spring.carried),
            Self::DamperBody => corner.damper.as_ref().map(|damper| damper.body),
            Self::DamperCarried => corner.damper.as_ref().map(|damper| damper.carried),
            Self::RockerAxis(i) => corner.rocker.as_ref().and_then(|rocker| rocker.axis.get(i).copied()),
            Self::RockerRodEnd => corner.rocker.as_ref().map(|rocker| rocker.rod_end),
            Self::RockerCarried => corner.rocker.as_ref().map(|rocker| rocker.carried),
            Self::BarAxis(i) => corner.anti_roll_bar.as_ref().and_then(|bar| bar.axis.get(i).copied()),
            Self::BarArmEnd => corner.anti_roll_bar.as_ref().map(|bar| bar.arm_end),
            Self::BarCarried => corner.anti_roll_bar.as_ref().map(|bar| bar.carried),
        }
    }

    /// The same, to be changed.
    pub fn get_mut(self, corner: &mut Corner) -> Option<&mut Point> {
        match self {
            Self::ArmFrontPivot(i) => corner.arms.get_mut(i).map(|arm| &mut arm.front_pivot),
            Self::ArmRearPivot(i) => corner.arms.get_mut(i).map(|arm| &mut arm.rear_pivot),
            Self::ArmBallJoint(i) => corner.arms.get_mut(i).map(|arm| &mut arm.ball_joint),
            Self::LinkInboard(i) => corner.links.get_mut(i).map(|link| &mut link.inboard),
            Self::LinkOutboard(i) => corner.links.get_mut(i).map(|link| &mut link.outboard),
            Self::StrutTopMount => corner.strut.as_mut().map(|strut| &mut strut.top_mount),
            Self::StrutLowerEnd => corner.strut.as_mut().map(|strut| &mut strut.lower_end),
            Self::HingePivot(i) => corner.hinge.as_mut().and_then(|hinge| hinge.pivots.get_mut(i)),
            Self::WheelCentre => Some(&mut corner.wheel.centre),
            Self::SpringBody => corner.spring.as_mut().map(|spring| &mut spring.body),
            Self::SpringCarried => corner.spring.as_mut().map(|spring| &mut spring.carried),
            Self::DamperBody => corner.damper.as_mut().map(|damper| &mut damper.body),
            Self::DamperCarried => corner.damper.as_mut().map(|damper| &mut damper.carried),
            Self::RockerAxis(i) => corner.rocker.as_mut().and_then(|rocker| rocker.axis.get_mut(i)),
            Self::RockerRodEnd => corner.rocker.as_mut().map(|rocker| &mut rocker.rod_end),
            Self::RockerCarried => corner.rocker.as_mut().map(|rocker| &mut rocker.carried),
            Self::BarAxis(i) => corner.anti_roll_bar.as_mut().and_then(|bar| bar.axis.get_mut(i)),
            Self::BarArmEnd => corner.anti_roll_bar.as_mut().map(|bar| &mut bar.arm_end),
            Self::BarCarried => corner.anti_roll_bar.as_mut().map(|bar| &mut bar.carried),
        }
    }

    /// Every point of the corner, in the order of [`Corner::points`].
    #[must_use]
    pub fn all(corner: &Corner) -> Vec<Self> {
        let arms = (0..corner.arms.len())
            .flat_map(|i| [Self::ArmFrontPivot(i), Self::ArmRearPivot(i), Self::ArmBallJoint(i)]);
        let links = (0..corner.links.len()).flat_map(|i| [Self::LinkInboard(i), Self::LinkOutboard(i)]);
        let rest = [
            Self::StrutTopMount,
            Self::StrutLowerEnd,
            Self::HingePivot(0),
            Self::HingePivot(1),
            Self::WheelCentre,
            Self::SpringBody,
            Self::SpringCarried,
            Self::DamperBody,
            Self::DamperCarried,
            Self::RockerAxis(0),
            Self::RockerAxis(1),
            Self::RockerRodEnd,
            Self::RockerCarried,
            Self::BarAxis(0),
            Self::BarAxis(1),
            Self::BarArmEnd,
            Self::BarCarried,
        ];
        arms.chain(links).chain(rest).filter(|path| path.get(corner).is_some()).collect()
    }

    /// Whether it is a joint by which a member holds the knuckle, which a shim can move.
    #[must_use]
    pub fn holds(self) -> bool {
        matches!(
            self,
            Self::ArmFrontPivot(_)
                | Self::ArmRearPivot(_)
                | Self::ArmBallJoint(_)
                | Self::LinkInboard(_)
                | Self::LinkOutboard(_)
                | Self::StrutTopMount
                | Self::StrutLowerEnd
                | Self::HingePivot(_)
        )
    }

    /// What holds the point.
    #[must_use]
    pub fn holder(self) -> Holder {
        match self {
            Self::ArmFrontPivot(_)
            | Self::ArmRearPivot(_)
            | Self::LinkInboard(_)
            | Self::StrutTopMount
            | Self::HingePivot(_)
            | Self::SpringBody
            | Self::DamperBody
            | Self::RockerAxis(_)
            | Self::BarAxis(_) => Holder::Body,
            Self::ArmBallJoint(_) | Self::LinkOutboard(_) | Self::StrutLowerEnd | Self::WheelCentre => {
                Holder::Knuckle
            }
            Self::SpringCarried
            | Self::DamperCarried
            | Self::RockerRodEnd
            | Self::RockerCarried
            | Self::BarArmEnd
            | Self::BarCarried => Holder::Member,
        }
    }

    /// The point that is moved along on the sheet: a damper inside its spring has its ends
    /// where the spring has its own, and the two cannot be taken hold of apart. Typing in the
    /// table parts them.
    #[must_use]
    pub fn twin(self, corner: &Corner) -> Option<Self> {
        let twin = match self {
            Self::SpringBody => Self::DamperBody,
            Self::SpringCarried => Self::DamperCarried,
            Self::DamperBody => Self::SpringBody,
            Self::DamperCarried => Self::SpringCarried,
            _ => return None,
        };
        let [one, other] = [self.get(corner)?, twin.get(corner)?].map(|point| point.map(f64::to_bits));
        (one == other).then_some(twin)
    }

    /// The point that a field's path, as errors name it, belongs to: the point itself or
    /// one of its coordinates, relative to the corner.
    #[must_use]
    pub fn of_field(field: &str, corner: &Corner) -> Option<Self> {
        Self::all(corner).into_iter().find(|point| {
            field.strip_prefix(&point.path()).is_some_and(|rest| matches!(rest, "" | "[0]" | "[1]" | "[2]"))
        })
    }

    /// The path as in the document.
    #[must_use]
    pub fn path(self) -> String {
        self.to_string()
    }
}

impl fmt::Display for PointPath {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::ArmFrontPivot(i) => write!(f, "arms[{i}].front_pivot"),
            Self::ArmRearPivot(i) => write!(f, "arms[{i}].rear_pivot"),
            Self::ArmBallJoint(i) => write!(f, "arms[{i}].ball_joint"),
            Self::LinkInboard(i) => write!(f, "links[{i}].inboard"),
            Self::LinkOutboard(i) => write!(f, "links[{i}].outboard"),
            Self::StrutTopMount => f.write_str("strut.top_mount"),
            Self::StrutLowerEnd => f.write_str("strut.lower_end"),
            Self::HingePivot(i) => write!(f, "hinge.pivots[{i}]"),
            Self::WheelCentre => f.write_str("wheel.centre"),
            Self::SpringBody => f.write_str("spring.body"),
            Self::SpringCarried => f.write_str("spring.carried"),
            Self::DamperBody => f.write_str("damper.body"),
            Self::DamperCarried => f.write_str("damper.carried"),
            Self::RockerAxis(i) => write!(f, "rocker.axis[{i}]"),
            Self::RockerRodEnd => f.write_str("rocker.rod_end"),
            Self::RockerCarried => f.write_str("rocker.carried"),
            Self::BarAxis(i) => write!(f, "anti_roll_bar.axis[{i}]"),
            Self::BarArmEnd => f.write_str("anti_roll_bar.arm_end"),
            Self::BarCarried => f.write_str("anti_roll_bar.carried"),
        }
    }
}

#[cfg(feature = "serde")]
impl serde::Serialize for PointPath {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}
