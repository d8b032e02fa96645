//! The shapes of a construction, and what each stands for, without a word for a page.

use alloc::vec::Vec;

use super::geometry::View;
use crate::{
    readings::quantity::Unit,
    setup::{Corner, Point},
};

/// One thing to draw.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Element {
    /// What it stands for.
    pub role: Role,
    /// What it looks like.
    pub shape: Shape,
    /// What it was found from.
    pub basis: Basis,
    /// The views that show it in true relation; all three for what lives in space.
    pub views: &'static [View],
    /// The members it belongs to: none for the wheel's own, two for a pair of links.
    pub members: Vec<Member>,
}

/// A shape in vehicle axes, mm. Every number in it is finite, but a point may be far off the
/// sheet (up to `bounds::INFINITELY_FAR`).
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "snake_case"))]
pub enum Shape {
    /// A point.
    Point(Point),
    /// A line with two ends.
    Segment {
        /// The end it is drawn from.
        from: Point,
        /// The other end.
        to: Point,
    },
    /// A line without ends.
    Line {
        /// A point on it, near the corner.
        point: Point,
        /// Unit vector along it.
        direction: Point,
    },
    /// A plane.
    Plane {
        /// A point in it.
        point: Point,
        /// Unit normal.
        normal: Point,
        /// A patch of it to draw, in order round its edge.
        corners: Vec<Point>,
    },
    /// A line that something turns about.
    Axis {
        /// A point on it.
        point: Point,
        /// Unit vector along it.
        direction: Point,
        /// Advance along it, mm per radian; zero for turning alone.
        pitch: f64,
    },
    /// A measure between two points.
    Dimension {
        /// Where it starts.
        from: Point,
        /// Where it ends.
        to: Point,
        /// What is measured, signed as the reading it belongs to; else the distance.
        value: f64,
        /// Its unit.
        unit: Unit,
    },
    /// An angle between two directions.
    Angle {
        /// Where its legs meet.
        apex: Point,
        /// Unit vector of the leg it is counted from.
        from: Point,
        /// Unit vector of the other leg.
        to: Point,
        /// The angle, degrees, signed as the reading it belongs to.
        value: f64,
    },
}

impl Shape {
    /// Every number in the shape; a zero where it has no value of its own.
    pub fn numbers(&self) -> impl Iterator<Item = f64> {
        let (points, value): (Vec<Point>, f64) = match self {
            Self::Point(at) => ([*at].into(), 0.0),
            Self::Segment { from, to } => ([*from, *to].into(), 0.0),
            Self::Line { point, direction } => ([*point, *direction].into(), 0.0),
            Self::Plane { point, normal, corners } => {
                (corners.iter().chain([point, normal]).copied().collect(), 0.0)
            }
            Self::Axis { point, direction, pitch } => ([*point, *direction].into(), *pitch),
            Self::Dimension { from, to, value, .. } => ([*from, *to].into(), *value),
            Self::Angle { apex, from, to, value } => ([*apex, *from, *to].into(), *value),
        };
        points.into_iter().flatten().chain([value])
    }
}

/// What an element was found from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "snake_case"))]
pub enum Basis {
    /// The corner itself: its points and the lines and planes of its members.
    Corner,
    /// The exact motion of the knuckle.
    Exact,
    /// The textbook's shortcut.
    Shortcut,
}

/// A member of the corner, by its place in the corner's lists.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "snake_case"))]
pub enum Member {
    /// A triangular arm.
    Arm(usize),
    /// A two-ended link.
    Link(usize),
    /// The strut.
    Strut,
    /// The hinge.
    Hinge,
    /// The spring.
    Spring,
    /// The damper.
    Damper,
}

impl Member {
    /// The member's name in the corner; `None` for spring and damper, which have none, and
    /// for a member that the corner does not have.
    #[must_use]
    pub fn id(self, corner: &Corner) -> Option<&str> {
        match self {
            Self::Arm(i) => corner.arms.get(i).map(|arm| arm.id.as_str()),
            Self::Link(i) => corner.links.get(i).map(|link| link.id.as_str()),
            Self::Strut => corner.strut.as_ref().map(|strut| strut.id.as_str()),
            Self::Hinge => corner.hinge.as_ref().map(|hinge| hinge.id.as_str()),
            Self::Spring | Self::Damper => None,
        }
    }
}

/// What an element stands for. The words are the page's.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "snake_case"))]
pub enum Role {
    /// A link's line, carried on to where it is used.
    LinkLine,
    /// The plane through an arm's pivots and ball joint.
    ArmPlane,
    /// The plane of two links' lines.
    PairPlane,
    /// The plane square to a strut's sliding axis through its top mount.
    PlaneSquareToStrut,
    /// The line a strut's rod slides along.
    SlidingAxis,
    /// The line through an arm's or a hinge's body pivots.
    PivotAxis,
    /// Where an arm's pivot axis goes through the plane that the view shows.
    PivotInView,
    /// A hold's plane, cut by the plane through the wheel centre that the view shows: on it
    /// lies the centre. Square to the strut for a strut.
    HoldLine,
    /// Ball joint.
    BallJoint,
    /// A strut's top mount.
    TopMount,
    /// The point that stands for a ball joint where two links replace one.
    VirtualPivot,
    /// On one link's line, straight over or under the virtual pivot.
    OverVirtualPivot,
    /// On one line, where it comes nearest to another.
    NearestPoint,
    /// How far two lines miss each other.
    Gap,
    /// From the exact steering axis to the virtual pivot, at the pivot's height.
    VirtualPivotOffset,
    /// The axis the knuckle turns about as the wheel travels.
    InstantAxis,
    /// The axis the knuckle turns about as it steers.
    SteeringAxis,
    /// The instant centre seen from the front.
    FrontViewCentre,
    /// The instant centre seen from the side.
    SideViewCentre,
    /// From the contact square to the contact's path, towards the centre.
    LineFromContact,
    /// From the hub square to the hub's path, towards the centre.
    LineFromHub,
    /// The same from the other wheel of the axle.
    MirroredLine,
    /// The direction in which the point moves as the wheel travels.
    Path,
    /// The slope that the line from contact or hub would need for a hundred per cent.
    FullSlope,
    /// Roll centre.
    RollCentre,
    /// Height of the roll centre above the contact.
    RollCentreHeight,
    /// From the wheel centre across or along to the centre.
    SwingArm,
    /// Contact.
    Contact,
    /// Wheel centre.
    WheelCentre,
    /// The contact with the wheel as described.
    ContactAtDesign,
    /// The wheel centre as described.
    WheelCentreAtDesign,
    /// How far the contact or the wheel centre has moved.
    Shift,
    /// The axis the wheel spins about.
    SpinAxis,
    /// The plane of the wheel.
    WheelPlane,
    /// The wheel's heading on the ground.
    Heading,
    /// Camber, toe, inclination of an axis, as an angle.
    Inclination,
    /// Where the steering axis meets the contact's horizontal plane.
    GroundFoot,
    /// Where the steering axis meets the wheel centre's horizontal plane.
    HubFoot,
    /// Across the wheel's heading from the axis to contact or hub.
    OffsetAcross,
    /// Along the wheel's heading from contact or hub to the axis.
    OffsetAlong,
    /// The spring's or damper's line.
    SpringLine,
    /// From the axis that the spring's carrier turns about to the spring's line.
    SpringLever,
    /// From the same axis to the carrier's ball joint, or to the wheel centre.
    WheelLever,
}
