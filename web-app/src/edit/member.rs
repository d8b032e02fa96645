//! Which member of a corner, and which part beside its members, is meant.

use std::fmt;

use geometry_core::setup::{Corner, KNUCKLE};

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
    /// The rocker: holds nothing, but has a name and may carry something.
    Rocker,
}

impl MemberPath {
    /// Every member of the corner and the rocker, in the order of [`Corner::ids`].
    #[must_use]
    pub fn all(corner: &Corner) -> Vec<Self> {
        let arms = (0..corner.arms.len()).map(Self::Arm);
        let links = (0..corner.links.len()).map(Self::Link);
        let strut = corner.strut.iter().map(|_| Self::Strut);
        let hinge = corner.hinge.iter().map(|_| Self::Hinge);
        let rocker = corner.rocker.iter().map(|_| Self::Rocker);
        arms.chain(links).chain(strut).chain(hinge).chain(rocker).collect()
    }

    /// The member's name.
    #[must_use]
    pub fn id(self, corner: &Corner) -> Option<&str> {
        match self {
            Self::Arm(i) => corner.arms.get(i).map(|arm| arm.id.as_str()),
            Self::Link(i) => corner.links.get(i).map(|link| link.id.as_str()),
            Self::Strut => corner.strut.as_ref().map(|strut| strut.id.as_str()),
            Self::Hinge => corner.hinge.as_ref().map(|hinge| hinge.id.as_str()),
            Self::Rocker => corner.rocker.as_ref().map(|rocker| rocker.id.as_str()),
        }
    }

    /// How many of the knuckle's freedoms it holds.
    #[must_use]
    pub fn holds(self) -> usize {
        match self {
            Self::Arm(_) | Self::Strut => 2,
            Self::Link(_) => 1,
            Self::Hinge => 5,
            Self::Rocker => 0,
        }
    }

    pub(super) fn id_mut(self, corner: &mut Corner) -> Option<&mut String> {
        match self {
            Self::Arm(i) => corner.arms.get_mut(i).map(|arm| &mut arm.id),
            Self::Link(i) => corner.links.get_mut(i).map(|link| &mut link.id),
            Self::Strut => corner.strut.as_mut().map(|strut| &mut strut.id),
            Self::Hinge => corner.hinge.as_mut().map(|hinge| &mut hinge.id),
            Self::Rocker => corner.rocker.as_mut().map(|rocker| &mut rocker.id),
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
            Self::Rocker => Part::Rocker.points(),
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
            Self::Rocker => f.write_str("rocker"),
        }
    }
}

/// A part of which a corner has one or none: what acts between the body and something
/// carried, and what the wheel bears.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Part {
    /// The spring.
    Spring,
    /// The damper.
    Damper,
    /// The rocker with its rod.
    Rocker,
    /// The anti-roll bar's half with its drop link.
    AntiRollBar,
    /// The torsion bar.
    TorsionBar,
    /// The rim's shape.
    Rim,
    /// The brake disc's shape.
    BrakeDisc,
}

impl Part {
    /// Those that something carries or turns.
    pub const CARRIED: [Self; 5] =
        [Self::Spring, Self::Damper, Self::Rocker, Self::AntiRollBar, Self::TorsionBar];

    /// The field's path in the corner.
    #[must_use]
    pub fn path(self) -> &'static str {
        match self {
            Self::Spring => "spring",
            Self::Damper => "damper",
            Self::Rocker => "rocker",
            Self::AntiRollBar => "anti_roll_bar",
            Self::TorsionBar => "torsion_bar",
            Self::Rim => "wheel.rim",
            Self::BrakeDisc => "wheel.brake_disc",
        }
    }

    /// What it is called.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Spring => "spring",
            Self::Damper => "damper",
            Self::Rocker => "rocker",
            Self::AntiRollBar => "anti-roll bar",
            Self::TorsionBar => "torsion bar",
            Self::Rim => "rim",
            Self::BrakeDisc => "brake disc",
        }
    }

    /// The same with its article.
    #[must_use]
    pub fn one(self) -> String {
        let article = if self == Self::AntiRollBar { "an" } else { "a" };
        format!("{article} {}", self.name())
    }

    /// Whether the corner has it.
    #[must_use]
    pub fn is_in(self, corner: &Corner) -> bool {
        match self {
            Self::Spring => corner.spring.is_some(),
            Self::Damper => corner.damper.is_some(),
            Self::Rocker => corner.rocker.is_some(),
            Self::AntiRollBar => corner.anti_roll_bar.is_some(),
            Self::TorsionBar => corner.torsion_bar.is_some(),
            Self::Rim => corner.wheel.rim.is_some(),
            Self::BrakeDisc => corner.wheel.brake_disc.is_some(),
        }
    }

    pub(super) fn remove(self, corner: &mut Corner) {
        match self {
            Self::Spring => corner.spring = None,
            Self::Damper => corner.damper = None,
            Self::Rocker => corner.rocker = None,
            Self::AntiRollBar => corner.anti_roll_bar = None,
            Self::TorsionBar => corner.torsion_bar = None,
            Self::Rim => corner.wheel.rim = None,
            Self::BrakeDisc => corner.wheel.brake_disc = None,
        }
    }

    /// Its points.
    #[must_use]
    pub fn points(self) -> Vec<PointPath> {
        match self {
            Self::Spring => vec![PointPath::SpringBody, PointPath::SpringCarried],
            Self::Damper => vec![PointPath::DamperBody, PointPath::DamperCarried],
            Self::Rocker => vec![
                PointPath::RockerAxis(0),
                PointPath::RockerAxis(1),
                PointPath::RockerRodEnd,
                PointPath::RockerCarried,
            ],
            Self::AntiRollBar => vec![
                PointPath::BarAxis(0),
                PointPath::BarAxis(1),
                PointPath::BarArmEnd,
                PointPath::BarCarried,
            ],
            Self::TorsionBar | Self::Rim | Self::BrakeDisc => Vec::new(),
        }
    }

    /// The name of what carries its moving end, or turns it.
    #[must_use]
    pub fn carrier(self, corner: &Corner) -> Option<&str> {
        match self {
            Self::Spring => corner.spring.as_ref().map(|spring| spring.on.as_str()),
            Self::Damper => corner.damper.as_ref().map(|damper| damper.on.as_str()),
            Self::Rocker => corner.rocker.as_ref().map(|rocker| rocker.on.as_str()),
            Self::AntiRollBar => corner.anti_roll_bar.as_ref().map(|bar| bar.on.as_str()),
            Self::TorsionBar => corner.torsion_bar.as_ref().map(|bar| bar.on.as_str()),
            Self::Rim | Self::BrakeDisc => None,
        }
    }

    pub(super) fn carrier_mut(self, corner: &mut Corner) -> Option<&mut String> {
        match self {
            Self::Spring => corner.spring.as_mut().map(|spring| &mut spring.on),
            Self::Damper => corner.damper.as_mut().map(|damper| &mut damper.on),
            Self::Rocker => corner.rocker.as_mut().map(|rocker| &mut rocker.on),
            Self::AntiRollBar => corner.anti_roll_bar.as_mut().map(|bar| &mut bar.on),
            Self::TorsionBar => corner.torsion_bar.as_mut().map(|bar| &mut bar.on),
            Self::Rim | Self::BrakeDisc => None,
        }
    }

    /// What may carry it, by name: a torsion bar is turned by an arm, the hinge or the
    /// rocker; a rocker's rod stands on a member or the knuckle; all else on any of them.
    #[must_use]
    pub fn carriers(self, corner: &Corner) -> Vec<String> {
        let may = |member: &MemberPath| match self {
            Self::TorsionBar => {
                matches!(member, MemberPath::Arm(_) | MemberPath::Hinge | MemberPath::Rocker)
            }
            Self::Rocker => *member != MemberPath::Rocker,
            _ => true,
        };
        let members = MemberPath::all(corner).into_iter().filter(may);
        let names = members.filter_map(|member| member.id(corner));
        let knuckle = (self != Self::TorsionBar).then_some(KNUCKLE);
        names.chain(knuckle).map(String::from).collect()
    }

    /// The parts that name a carrier.
    #[must_use]
    pub fn on(corner: &Corner, id: &str) -> Vec<Self> {
        Self::CARRIED.into_iter().filter(|part| part.carrier(corner) == Some(id)).collect()
    }
}
