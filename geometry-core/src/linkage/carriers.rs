//! Who carries which point: builds carriers, rocker and bars from the document.

use alloc::{boxed::Box, format, string::String};

use super::{LinkageError, distance_apart, vector};
use crate::{
    Vec3,
    bounds::{ON_THE_AXIS, ROD_AT_DEAD_CENTRE, SAME_PLACE},
    closure::Constraint,
    float::norm,
    setup::{Corner, KNUCKLE, Point},
};

/// A spring or damper: a length between a body point and a carried point.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Telescope {
    pub(crate) body: Vec3,
    pub(crate) carried: Carried,
}

/// A point and the part it moves with.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Carried {
    /// On the knuckle, as an arm from the wheel centre in the design position.
    Knuckle {
        /// Arm from the wheel centre.
        arm: Vec3,
    },
    /// On a triangular arm: turns about the arm's axis as its ball joint does.
    Arm {
        /// Ball joint as an arm from the wheel centre.
        ball_joint: Vec3,
        /// Foot of the ball joint on the arm's axis.
        foot: Vec3,
        /// Unit vector of the axis.
        axis: Vec3,
        /// One over the ball joint's distance from the axis.
        over_reach: f64,
        /// The point in the arm's own axes: along the axis, towards the ball joint, and
        /// square to both.
        place: Vec3,
    },
    /// On a two-ended link: goes by the smallest turn from its old direction.
    Link {
        /// Outboard joint as an arm from the wheel centre.
        outboard: Vec3,
        /// Inboard joint with the rack at zero.
        inboard: Vec3,
        /// Motion of the inboard joint per mm of rack.
        per_rack: Vec3,
        /// Unit vector from inboard to outboard in the design position.
        old: Vec3,
        /// One over the link's length.
        over_length: f64,
        /// The point from the inboard joint in the design position.
        place: Vec3,
    },
    /// On the rocker.
    Rocker {
        /// What the rocker turns about and what leads it.
        led: Box<Led>,
        /// The point from the foot of the rod's joint on the axis, in the design position.
        place: Vec3,
    },
}

/// A part that turns about a line of the body, led by a rod from a carried point: a rocker
/// by its pushrod, a bar's arm by its drop link.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Led {
    /// Foot of the rod's joint on the axis.
    pub(crate) foot: Vec3,
    /// Unit vector of the axis.
    pub(crate) axis: Vec3,
    /// From the foot to the rod's joint in the design position; square to the axis.
    pub(crate) arm: Vec3,
    /// Square of the rod's length, mm².
    pub(crate) square: f64,
    /// On which side of dead centre the rod stands.
    pub(crate) positive: bool,
    /// The rod's other joint.
    pub(crate) carried: Carried,
}

/// A part whose turning about an axis of the body twists a torsion bar.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Turning {
    /// A triangular arm, as its ball joint moves.
    Arm {
        /// Ball joint as an arm from the wheel centre.
        ball_joint: Vec3,
        /// Foot of the ball joint on the arm's axis.
        foot: Vec3,
        /// Unit vector of the axis.
        axis: Vec3,
        /// From the foot to the ball joint in the design position.
        arm: Vec3,
    },
    /// The knuckle about its hinge.
    Hinge {
        /// Unit vector of the axis.
        axis: Vec3,
    },
    /// The rocker.
    Led(Led),
}

/// A triangular arm's axis and where its ball joint stands about it.
pub(super) struct ArmAxis {
    pub(super) ball_joint: Vec3,
    foot: Vec3,
    axis: Vec3,
    reach: f64,
}

impl ArmAxis {
    pub(super) fn of(corner: &Corner, i: usize) -> Result<Self, LinkageError> {
        let Some(arm) = corner.arms.get(i) else {
            return Err(LinkageError::Freedoms { removed: corner.freedoms_removed() });
        };
        let (front, rear, ball_joint) =
            (vector(arm.front_pivot), vector(arm.rear_pivot), vector(arm.ball_joint));
        let path = |field: &str| format!("arms[{i}].{field}");
        let length = distance_apart([&path("front_pivot"), &path("rear_pivot")], &front, &rear)?;
        distance_apart([&path("front_pivot"), &path("ball_joint")], &front, &ball_joint)?;
        distance_apart([&path("rear_pivot"), &path("ball_joint")], &rear, &ball_joint)?;
        let axis = (front - rear) / length;
        let foot = rear + (ball_joint - rear).dot(&axis) * axis;
        let reach = norm(&(ball_joint - foot));
        if reach < SAME_PLACE.max(ON_THE_AXIS * length) {
            return Err(LinkageError::JointOnAxis { field: path("ball_joint") });
        }
        Ok(Self { ball_joint, foot, axis, reach })
    }

    /// Square to each other, so better conditioned than the two lines to the pivots, and
    /// the same span: forces in the arm's plane through the ball joint.
    pub(super) fn constraints(&self, centre: &Vec3) -> [Constraint; 2] {
        let arm = self.ball_joint - centre;
        [
            Constraint::BodyPlane { arm, normal: self.axis, offset: self.axis.dot(&self.ball_joint) },
            Constraint::Distance {
                arm,
                from: self.foot,
                per_rack: Vec3::zeros(),
                square: (self.ball_joint - self.foot).norm_squared(),
                over_length: 1.0 / self.reach,
            },
        ]
    }
}

/// Finds what carries the points of one corner.
pub(super) struct Carriers<'a> {
    corner: &'a Corner,
    centre: Vec3,
    rack: Vec3,
}

impl<'a> Carriers<'a> {
    pub(super) fn of(corner: &'a Corner, rack: Vec3) -> Self {
        Self { corner, centre: vector(corner.wheel.centre), rack }
    }

    /// A length between a body point and a carried one; `what` is the part's field.
    pub(super) fn telescope(
        &self,
        what: &str,
        body: Point,
        carried: Point,
        on: &str,
    ) -> Result<Telescope, LinkageError> {
        let fields = [&*format!("{what}.body"), &*format!("{what}.carried")];
        distance_apart(fields, &vector(body), &vector(carried))?;
        Ok(Telescope { body: vector(body), carried: self.carrier(what, on, carried)? })
    }

    /// The rocker, when there is one.
    pub(super) fn rocker(&self) -> Result<Option<Led>, LinkageError> {
        let rocker = self.corner.rocker.as_ref();
        rocker
            .map(|r| {
                let carried = self.member(&r.on, r.carried)?;
                let carried = carried.ok_or_else(|| self.unknown("rocker", &r.on, false))?;
                led(["rocker", "rod_end"], r.axis, r.rod_end, r.carried, carried)
            })
            .transpose()
    }

    /// The anti-roll bar's half, when there is one.
    pub(super) fn anti_roll_bar(&self) -> Result<Option<Led>, LinkageError> {
        let bar = self.corner.anti_roll_bar.as_ref();
        bar.map(|b| {
            let carried = self.carrier("anti_roll_bar", &b.on, b.carried)?;
            led(["anti_roll_bar", "arm_end"], b.axis, b.arm_end, b.carried, carried)
        })
        .transpose()
    }

    /// What twists the torsion bar, when there is one.
    pub(super) fn torsion_bar(&self) -> Result<Option<Turning>, LinkageError> {
        let corner = self.corner;
        let Some(bar) = &corner.torsion_bar else {
            return Ok(None);
        };
        if let Some(i) = corner.arms.iter().position(|arm| arm.id == bar.on) {
            let ArmAxis { ball_joint, foot, axis, .. } = ArmAxis::of(corner, i)?;
            let arm = ball_joint - foot;
            return Ok(Some(Turning::Arm { ball_joint: ball_joint - self.centre, foot, axis, arm }));
        }
        if let Some(hinge) = corner.hinge.as_ref().filter(|hinge| hinge.id == bar.on) {
            let [first, second] = hinge.pivots.map(vector);
            return Ok(Some(Turning::Hinge { axis: (second - first) / norm(&(second - first)) }));
        }
        if corner.rocker.as_ref().is_some_and(|rocker| rocker.id == bar.on) {
            return Ok(self.rocker()?.map(Turning::Led));
        }
        let arms = corner.arms.iter().map(|arm| &arm.id);
        let others = corner.hinge.iter().map(|hinge| &hinge.id).chain(corner.rocker.iter().map(|r| &r.id));
        Err(LinkageError::UnknownCarrier {
            field: "torsion_bar.on".into(),
            on: bar.on.clone(),
            known: arms.chain(others).cloned().collect(),
        })
    }

    /// What `on` names, carrying `point`.
    fn carrier(&self, what: &str, on: &str, point: Point) -> Result<Carried, LinkageError> {
        if self.corner.rocker.as_ref().is_some_and(|rocker| rocker.id == on)
            && let Some(led) = self.rocker()?
        {
            return Ok(Carried::Rocker { place: vector(point) - led.foot, led: Box::new(led) });
        }
        self.member(on, point)?.ok_or_else(|| self.unknown(what, on, true))
    }

    fn unknown(&self, what: &str, on: &str, with_rocker: bool) -> LinkageError {
        let rocker = self.corner.rocker.as_ref().filter(|_| !with_rocker).map(|rocker| &*rocker.id);
        let known = self.corner.ids().filter(|id| Some(*id) != rocker).chain([KNUCKLE]);
        LinkageError::UnknownCarrier {
            field: format!("{what}.on"),
            on: on.into(),
            known: known.map(String::from).collect(),
        }
    }

    /// The knuckle or a member that holds it.
    fn member(&self, on: &str, point: Point) -> Result<Option<Carried>, LinkageError> {
        let Self { corner, centre, rack } = self;
        let point = vector(point);
        let rigid = corner.strut.iter().map(|s| &s.id).chain(corner.hinge.iter().map(|h| &h.id));
        if on == KNUCKLE || rigid.into_iter().any(|id| id == on) {
            return Ok(Some(Carried::Knuckle { arm: point - centre }));
        }
        if let Some(i) = corner.arms.iter().position(|arm| arm.id == on) {
            let ArmAxis { ball_joint, foot, axis, reach } = ArmAxis::of(corner, i)?;
            let towards = (ball_joint - foot) / reach;
            let from_foot = point - foot;
            let place = Vec3::new(
                from_foot.dot(&axis),
                from_foot.dot(&towards),
                from_foot.dot(&axis.cross(&towards)),
            );
            return Ok(Some(Carried::Arm {
                ball_joint: ball_joint - centre,
                foot,
                axis,
                over_reach: 1.0 / reach,
                place,
            }));
        }
        if let Some(link) = corner.links.iter().find(|link| link.id == on) {
            let (inboard, outboard) = (vector(link.inboard), vector(link.outboard));
            let length = norm(&(outboard - inboard));
            return Ok(Some(Carried::Link {
                outboard: outboard - centre,
                inboard,
                per_rack: if link.steers { *rack } else { Vec3::zeros() },
                old: (outboard - inboard) / length,
                over_length: 1.0 / length,
                place: point - inboard,
            }));
        }
        Ok(None)
    }
}

/// A part that turns about the line through two points, led by a rod between two joints.
fn led(
    [part, field]: [&str; 2],
    axis: [Point; 2],
    joint: Point,
    other: Point,
    carried: Carried,
) -> Result<Led, LinkageError> {
    let ([first, second], joint, other) = (axis.map(vector), vector(joint), vector(other));
    let path = |field: &str| format!("{part}.{field}");
    let length = distance_apart([&path("axis[0]"), &path("axis[1]")], &first, &second)?;
    let rod = distance_apart([&path(field), &path("carried")], &joint, &other)?;
    let axis = (second - first) / length;
    let foot = first + (joint - first).dot(&axis) * axis;
    let arm = joint - foot;
    let reach = norm(&arm);
    if reach < SAME_PLACE.max(ON_THE_AXIS * length) {
        return Err(LinkageError::JointOnAxis { field: path(field) });
    }
    let leverage = axis.cross(&arm).dot(&(other - joint)) / (reach * rod);
    // Written so that NaN is refused.
    let leads = leverage.abs() >= ROD_AT_DEAD_CENTRE;
    if !leads {
        return Err(LinkageError::DeadCentre { field: path(field) });
    }
    Ok(Led { foot, axis, arm, square: rod * rod, positive: leverage > 0.0, carried })
}
