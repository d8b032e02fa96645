//! The built car altered: rigid parts keep their dimensions, and the knuckle finds its new pose.
//!
//! The members' constraints are written with the dimensions of the old corner and the joints
//! where the alteration puts them; the knuckle's pose that closes them, its wheel centre at the
//! old height, is Newton's with the constraints' rows. What comes out is a corner again, with
//! every point where it now is and with the camber and toe that the wheel now has, so that
//! all else in this crate works on it as on any other.

use alloc::vec::Vec;

use super::Parameter;
use crate::{
    Mat3, Vec3,
    bounds::{
        CLOSED, LARGEST_CORRECTION, LARGEST_ROUNDING, MOMENT_SCALE, MOST_EVALUATIONS, SAME_PLACE, SETTLED,
    },
    carried::{SmallestTurn, led_turn, turned},
    closure::Constraint,
    elimination::{EquationRow, UNKNOWNS, reduce_pivoting},
    float::{asin, atan2, norm},
    linkage::spin_axis_of,
    screw::Twist,
    setup::{Arm, Corner, KNUCKLE, Link, Point, Side},
};

/// mm: an adjustment larger than this is followed in steps of at most this size.
const STEP: f64 = 4.0;

/// A corner altered by `amount` of an adjustment. The corner must be one that a linkage was
/// built from. `None` where it has no such member, or where no pose of the same assembly
/// closes the linkage.
pub(super) fn adjusted(corner: &Corner, side: Side, parameter: Parameter, amount: f64) -> Option<Corner> {
    let mut moved = corner.clone();
    parameter.shift(&mut moved, 0.0)?;
    let mut pose = Pose { rotation: Mat3::identity(), centre: vector(corner.wheel.centre) };
    let positive = pose.settle(&constraints(corner, &moved, parameter, 0.0)?)?;
    // Bounded by the caller; a count, so that rounding leaves no rest.
    let mut steps = 1;
    while f64::from(steps) * STEP < amount.abs() {
        steps += 1;
    }
    for step in 1..=steps {
        let share = amount * f64::from(step) / f64::from(steps);
        moved = corner.clone();
        parameter.shift(&mut moved, share)?;
        if pose.settle(&constraints(corner, &moved, parameter, share)?)? != positive {
            return None;
        }
    }
    Some(rebuilt(corner, moved, side, &pose))
}

fn vector(point: Point) -> Vec3 {
    Vec3::from(point)
}

/// Where the knuckle went.
struct Pose {
    rotation: Mat3,
    centre: Vec3,
}

impl Pose {
    /// Newton from the present pose; the determinant's sign, or `None` where it does not
    /// settle nearby.
    fn settle(&mut self, constraints: &[Constraint; UNKNOWNS]) -> Option<bool> {
        let mut allowed = LARGEST_CORRECTION;
        for _ in 0..MOST_EVALUATIONS {
            let mut rows = constraints.each_ref().map(|c| c.equation(&self.rotation, &self.centre, 0.0));
            let residual = greatest(&rows);
            let found = reduce_pivoting(&mut rows, None)?;
            let size = greatest(&rows);
            let rounding = residual < CLOSED && size <= LARGEST_ROUNDING;
            // Written so that NaN is refused.
            let contracts = size <= allowed;
            if !contracts && !rounding {
                return None;
            }
            let [a, b, c, x, y] = rows.map(|row| row[5]);
            let turn = Twist { angular: Vec3::new(a, b, c) / MOMENT_SCALE, linear: Vec3::zeros() };
            self.rotation = turn.exp().rotation * self.rotation;
            self.centre += Vec3::new(x, y, 0.0);
            if size <= SETTLED || !contracts {
                return Some(found.positive);
            }
            allowed = (0.5 * size).max(SETTLED);
        }
        None
    }
}

fn greatest(rows: &[EquationRow; UNKNOWNS]) -> f64 {
    // `max` would pass over a NaN.
    rows.iter().fold(0.0_f64, |most, row| if row[5].abs() <= most { most } else { row[5].abs() })
}

/// An arm by its dimensions: where its ball joint stands along the axis from the middle of the
/// pivots, and how far from the axis.
struct Triangle {
    middle: Vec3,
    axis: Vec3,
    along: f64,
    /// From the foot on the axis to the ball joint.
    reach: Vec3,
}

impl Triangle {
    fn of(arm: &Arm) -> Option<Self> {
        let (front, rear) = (vector(arm.front_pivot), vector(arm.rear_pivot));
        let middle = 0.5 * (front + rear);
        let axis = direction(&rear, &front)?;
        let from_middle = vector(arm.ball_joint) - middle;
        let along = from_middle.dot(&axis);
        Some(Self { middle, axis, along, reach: from_middle - along * axis })
    }

    /// The foot of a ball joint of the old dimensions on this axis.
    fn foot(&self, old: &Self) -> Vec3 {
        self.middle + old.along * self.axis
    }
}

fn direction(from: &Vec3, to: &Vec3) -> Option<Vec3> {
    let length = norm(&(to - from));
    (length >= SAME_PLACE).then(|| (to - from) / length)
}

/// The constraints of the old dimensions on joints that have moved.
fn constraints(
    old: &Corner,
    new: &Corner,
    parameter: Parameter,
    amount: f64,
) -> Option<[Constraint; UNKNOWNS]> {
    let centre = vector(old.wheel.centre);
    let distance = |arm: Vec3, from: Vec3, length: f64| {
        (length >= SAME_PLACE).then(|| Constraint::Distance {
            arm,
            from,
            per_rack: Vec3::zeros(),
            square: length * length,
            over_length: 1.0 / length,
        })
    };
    let longer = |which: Parameter| if which == parameter { amount } else { 0.0 };
    let mut all: Vec<Constraint> = Vec::with_capacity(UNKNOWNS);
    for (i, (was, is)) in old.arms.iter().zip(&new.arms).enumerate() {
        let arm = vector(is.ball_joint) - centre;
        let (was, is) = (Triangle::of(was)?, Triangle::of(is)?);
        let foot = is.foot(&was);
        let reach = norm(&was.reach) + longer(Parameter::ArmReach { arm: i });
        all.push(Constraint::BodyPlane { arm, normal: is.axis, offset: is.axis.dot(&foot) });
        all.push(distance(arm, foot, reach)?);
    }
    for (i, (was, is)) in old.links.iter().zip(&new.links).enumerate() {
        let length = norm(&(vector(was.outboard) - vector(was.inboard)));
        let length = length + longer(Parameter::LinkLength { link: i });
        all.push(distance(vector(is.outboard) - centre, vector(is.inboard), length)?);
    }
    if let Some((was, is)) = old.strut.as_ref().zip(new.strut.as_ref()) {
        let axis = direction(&vector(was.lower_end), &vector(was.top_mount))?;
        for normal in square_to(&axis, &axis) {
            let offset = normal.dot(&(vector(is.lower_end) - centre));
            all.push(Constraint::KnucklePlane { at: vector(is.top_mount), normal, offset });
        }
    }
    if let Some((was, is)) = old.hinge.as_ref().zip(new.hinge.as_ref()) {
        let ([a, b], [first, second]) = (was.pivots.map(vector), is.pivots.map(vector));
        let (before, axis) = (direction(&a, &b)?, direction(&first, &second)?);
        let [across, over] = square_to(&axis, &before);
        // The middle of the bushes stays in the middle of the pivots, the bushes on their line.
        let (middle, between) = (0.5 * (a + b), 0.5 * (first + second));
        for (point, at, normal) in [
            (middle, between, axis),
            (a, first, across),
            (a, first, over),
            (b, second, across),
            (b, second, over),
        ] {
            all.push(Constraint::BodyPlane { arm: point - centre, normal, offset: normal.dot(&at) });
        }
    }
    all.try_into().ok()
}

/// Two unit vectors square to `axis` and to each other, chosen by an axis near to it so that
/// they move with it and do not jump.
fn square_to(axis: &Vec3, chosen_by: &Vec3) -> [Vec3; 2] {
    let mut least = Vec3::zeros();
    least[chosen_by.abs().imin()] = 1.0;
    let first = axis.cross(&least);
    let first = first / norm(&first);
    [first, axis.cross(&first)]
}

/// The corner with every point where it went: `new` has the body's joints in their places
/// and the knuckle's as they stand on it in its old pose.
fn rebuilt(old: &Corner, new: Corner, side: Side, pose: &Pose) -> Corner {
    let mut corner = new;
    let centre = vector(old.wheel.centre);
    let carry = |point: Point| -> Point { (pose.centre + pose.rotation * (vector(point) - centre)).into() };
    for arm in &mut corner.arms {
        arm.ball_joint = carry(arm.ball_joint);
    }
    for link in &mut corner.links {
        link.outboard = carry(link.outboard);
    }
    let mut strut_shift = Vec3::zeros();
    if let Some((strut, was)) = corner.strut.as_mut().zip(old.strut.as_ref()) {
        strut_shift = vector(strut.lower_end) - vector(was.lower_end);
        strut.lower_end = carry(strut.lower_end);
    }
    let spin = pose.rotation * spin_axis_of(corner.wheel.camber, corner.wheel.toe, side.outboard());
    corner.wheel.centre = pose.centre.into();
    corner.wheel.camber = (-asin(spin.z.clamp(-1.0, 1.0))).to_degrees();
    corner.wheel.toe = atan2(spin.x, side.outboard() * spin.y).to_degrees();

    // What the members and the rocker carry.
    let on_member = |corner: &Corner, on: &str, point: Point| -> Point {
        let arms = old.arms.iter().zip(&corner.arms).find(|(was, _)| was.id == on);
        let links = old.links.iter().zip(&corner.links).find(|(was, _)| was.id == on);
        if on != KNUCKLE
            && let Some((was, is)) = arms
        {
            on_arm(was, is, point)
        } else if on != KNUCKLE
            && let Some((was, is)) = links
        {
            on_link(was, is, point)
        } else if old.strut.as_ref().is_some_and(|strut| strut.id == on) {
            carry((vector(point) + strut_shift).into())
        } else {
            carry(point)
        }
    };
    let mut rocker_turn = None;
    if let Some(was) = &old.rocker {
        let carried = on_member(&corner, &was.on, was.carried);
        let turn = Turn::leading(was.axis, was.rod_end, was.carried, carried);
        if let Some(rocker) = &mut corner.rocker {
            rocker.carried = carried;
            rocker.rod_end = turn.apply(was.rod_end);
        }
        rocker_turn = Some((&was.id, turn));
    }
    let carried = |corner: &Corner, on: &str, point: Point| -> Point {
        match &rocker_turn {
            Some((id, turn)) if *id == on => turn.apply(point),
            _ => on_member(corner, on, point),
        }
    };
    if let Some(was) = &old.spring {
        let place = carried(&corner, &was.on, was.carried);
        corner.spring.iter_mut().for_each(|spring| spring.carried = place);
    }
    if let Some(was) = &old.damper {
        let place = carried(&corner, &was.on, was.carried);
        corner.damper.iter_mut().for_each(|damper| damper.carried = place);
    }
    if let Some(was) = &old.anti_roll_bar {
        let place = carried(&corner, &was.on, was.carried);
        let turn = Turn::leading(was.axis, was.arm_end, was.carried, place);
        if let Some(bar) = &mut corner.anti_roll_bar {
            bar.carried = place;
            bar.arm_end = turn.apply(was.arm_end);
        }
    }
    corner
}

/// A point of an arm, by its place along the axis from the foot, towards the ball joint and
/// square to both.
fn on_arm(was: &Arm, is: &Arm, point: Point) -> Point {
    let (Some(was), Some(is)) = (Triangle::of(was), Triangle::of(is)) else { return point };
    let from_foot = vector(point) - was.foot(&was);
    let unit = |reach: &Vec3| reach / norm(reach);
    let (towards, now) = (unit(&was.reach), unit(&is.reach));
    let place = is.foot(&was)
        + from_foot.dot(&was.axis) * is.axis
        + from_foot.dot(&towards) * now
        + from_foot.dot(&was.axis.cross(&towards)) * is.axis.cross(&now);
    place.into()
}

/// A point of a link, which goes by the smallest turn from its old direction.
fn on_link(was: &Link, is: &Link, point: Point) -> Point {
    let ends = |link: &Link| direction(&vector(link.inboard), &vector(link.outboard));
    let (Some(old), Some(new)) = (ends(was), ends(is)) else { return point };
    let turn = SmallestTurn { old: &old, new };
    (vector(is.inboard) + turn.apply(&(vector(point) - vector(was.inboard)))).into()
}

/// How far a part turns about a line of the body when the rod that leads it has moved.
struct Turn {
    foot: Vec3,
    axis: Vec3,
    cosine: f64,
    sine: f64,
}

impl Turn {
    /// By [`led_turn`]. Where the rod does not reach, what it leads has no place: its numbers are
    /// not finite, which a linkage refuses.
    fn leading(axis: [Point; 2], joint: Point, was: Point, is: Point) -> Self {
        let ([first, second], joint, was, is) = (axis.map(vector), vector(joint), vector(was), vector(is));
        let axis = (second - first) / norm(&(second - first));
        let foot = first + (joint - first).dot(&axis) * axis;
        let arm = joint - foot;
        let across = axis.cross(&arm);
        let rod = was - joint;
        let positive = across.dot(&rod) >= 0.0;
        let [cosine, sine] = led_turn(&(is - foot), &arm, &across, rod.norm_squared(), positive);
        Self { foot, axis, cosine, sine }
    }

    fn apply(&self, point: Point) -> Point {
        let from_foot = vector(point) - self.foot;
        (self.foot + turned(&self.axis, &from_foot, self.cosine, self.sine)).into()
    }
}
