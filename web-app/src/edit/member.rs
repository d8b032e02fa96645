//! Which member, spring or damper of a corner is meant.

use std::fmt;

use geometry_core::setup::Corner;

use super::PointPath;

/// A kind of member.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum MemberKind {
    /// A triangular arm.
    Arm,
    /// A two-ended link.
    Link,
    /// A telescopic strut.
    Strut,
    /// A hinge.
    Hinge,
}

impl MemberKind {
    /// Its word, from which new names are made.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Arm => "arm",
            Self::Link => "link",
            Self::Strut => "strut",
            Self::Hinge => "hinge",
        }
    }
}

/// A member of a corner. Numbers count the members of a kind from zero.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum MemberPath {
    /// A triangular arm.
    Arm(usize),
    /// A two-ended link.
    Link(usize),
    /// The strut.
    Strut,
    /// The hinge.
    Hinge,
}

impl MemberPath {
    /// Every member of the corner, in the order of [`Corner::ids`].
    #[must_use]
    pub fn all(corner: &Corner) -> Vec<Self> {
        let arms = (0..corner.arms.len()).map(Self::Arm);
        let links = (0..corner.links.len()).map(Self::Link);
        let strut = corner.strut.iter().map(|_| Self::Strut);
        let hinge = corner.hinge.iter().map(|_| Self::Hinge);
        arms.chain(links).chain(strut).chain(hinge).collect()
    }

    /// The member's name.
    #[must_use]
    pub fn id(self, corner: &Corner) -> Option<&str> {
        match self {
            Self::Arm(i) => corner.arms.get(i).map(|arm| arm.id.as_str()),
            Self::Link(i) => corner.links.get(i).map(|link| link.id.as_str()),
            Self::Strut => corner.strut.as_ref().map(|strut| strut.id.as_str()),
            Self::Hinge => corner.hinge.as_ref().map(|hinge| hinge.id.as_str()),
        }
    }

    pub(super) fn id_mut(self, corner: &mut Corner) -> Option<&mut String> {
        match self {
            Self::Arm(i) => corner.arms.get_mut(i).map(|arm| &mut arm.id),
            Self::Link(i) => corner.links.get_mut(i).map(|link| &mut link.id),
            Self::Strut => corner.strut.as_mut().map(|strut| &mut strut.id),
            Self::Hinge => corner.hinge.as_mut().map(|hinge| &mut hinge.id),
        }
    }

    /// Its points.
    #[must_use]
    pub fn points(self) -> Vec<PointPath> {
        match self {
            Self::Arm(i) => {
                vec![PointPath::ArmFrontPivot(i), PointPath::ArmRearPivot(i), PointPath::ArmBallJoint(i)]
            }
            Self::Link(i) => vec![PointPath::LinkInboard(i), PointPath::LinkOutboard(i)],
            Self::Strut => vec![PointPath::StrutTopMount, PointPath::StrutLowerEnd],
            Self::Hinge => vec![PointPath::HingePivot(0), PointPath::HingePivot(1)],
        }
    }
}

impl fmt::Display for MemberPath {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Arm(i) => write!(f, "arms[{i}]"),
            Self::Link(i) => write!(f, "links[{i}]"),
            Self::Strut => f.write_str("strut"),
            Self::Hinge => f.write_str("hinge"),
        }
    }
}

/// A part that acts between the body and something carried.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Part {
    /// The spring.
    Spring,
    /// The damper.
    Damper,
}

impl Part {
    /// The field's name in the document.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Spring => "spring",
            Self::Damper => "damper",
        }
    }

    /// The name of what carries its moving end.
    #[must_use]
    pub fn carrier(self, corner: &Corner) -> Option<&str> {
        match self {
            Self::Spring => corner.spring.as_ref().map(|spring| spring.on.as_str()),
            Self::Damper => corner.damper.as_ref().map(|damper| damper.on.as_str()),
        }
    }

    pub(super) fn carrier_mut(self, corner: &mut Corner) -> Option<&mut String> {
        match self {
            Self::Spring => corner.spring.as_mut().map(|spring| &mut spring.on),
            Self::Damper => corner.damper.as_mut().map(|damper| &mut damper.on),
        }
    }
}
