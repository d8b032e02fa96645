//! Where a carried point is, how it moves, and what that makes of a spring's length.

use crate::{
    Vec3,
    float::norm,
    linkage::{Carried, Linkage, Telescope},
    solve::{Position, Rate},
};

/// A length between a body point and a carried point, in one position.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Length {
    /// End on the body, mm.
    pub body: Vec3,
    /// Moving end, mm.
    pub carried: Vec3,
    /// Length, mm.
    pub length: f64,
    /// Shortening per mm of wheel-centre travel, rack held.
    pub per_travel: f64,
    /// Shortening per mm of rack, height of the wheel centre held.
    pub per_rack: f64,
}

impl Linkage {
    /// The spring in a position, when the corner has one.
    #[must_use]
    pub fn spring_at(&self, position: &Position) -> Option<Length> {
        self.spring.as_ref()?.at(position)
    }

    /// The damper in a position, when the corner has one.
    #[must_use]
    pub fn damper_at(&self, position: &Position) -> Option<Length> {
        self.damper.as_ref()?.at(position)
    }
}

impl Telescope {
    /// `None` where the carried point's motion is not defined or the length is zero.
    fn at(&self, position: &Position) -> Option<Length> {
        let carried = self.carried.at(position);
        let along = carried.point - self.body;
        let length = norm(&along);
        let direction = along / length;
        let found = Length {
            body: self.body,
            carried: carried.point,
            length,
            per_travel: -direction.dot(&carried.per_travel),
            per_rack: -direction.dot(&carried.per_rack),
        };
        (found.per_travel.is_finite() && found.per_rack.is_finite()).then_some(found)
    }
}

/// A carried point and its velocities.
struct Moving {
    point: Vec3,
    per_travel: Vec3,
    per_rack: Vec3,
}

impl Carried {
    fn at(&self, position: &Position) -> Moving {
        let on_knuckle = |arm: &Vec3| {
            let turned = position.rotation * arm;
            let velocity = |rate: &Rate| rate.velocity + rate.angular.cross(&turned);
            Moving {
                point: position.centre + turned,
                per_travel: velocity(&position.per_travel),
                per_rack: velocity(&position.per_rack),
            }
        };
        match self {
            Self::Knuckle { arm } => on_knuckle(arm),
            Self::Arm { ball_joint, foot, axis, over_reach, place } => {
                let joint = on_knuckle(ball_joint);
                let towards = *over_reach * (joint.point - foot);
                let across = axis.cross(&towards);
                let from_foot = place.x * axis + place.y * towards + place.z * across;
                // The ball joint's speed square to the arm is the arm's turning.
                let arm_velocity = axis.cross(&from_foot);
                let velocity = |of_joint: &Vec3| (across.dot(of_joint) * over_reach) * arm_velocity;
                Moving {
                    point: foot + from_foot,
                    per_travel: velocity(&joint.per_travel),
                    per_rack: velocity(&joint.per_rack),
                }
            }
            Self::Link { outboard, inboard, per_rack, old, over_length, place } => {
                let joint = on_knuckle(outboard);
                let start = inboard + position.state.rack * per_rack;
                let new = *over_length * (joint.point - start);
                let turn = SmallestTurn { old, new };
                let velocity = |of_joint: Vec3, of_start: Vec3| {
                    of_start + turn.rate(place, &(*over_length * (of_joint - of_start)))
                };
                Moving {
                    point: start + turn.apply(place),
                    per_travel: velocity(joint.per_travel, Vec3::zeros()),
                    per_rack: velocity(joint.per_rack, *per_rack),
                }
            }
        }
    }
}

/// The smallest rotation that takes one unit vector to another (Rodrigues' formula with
/// the axis old × new and no trigonometry: x c + w × x + w (w·x)/(1 + c)). Not defined
/// for opposite vectors, where the quotient is not finite and the caller drops it.
struct SmallestTurn<'a> {
    old: &'a Vec3,
    new: Vec3,
}

impl SmallestTurn<'_> {
    fn apply(&self, x: &Vec3) -> Vec3 {
        let (c, w) = (self.old.dot(&self.new), self.old.cross(&self.new));
        c * x + w.cross(x) + (w.dot(x) / (1.0 + c)) * w
    }

    /// Velocity of a turned vector when `new` moves at `rate`: the formula above,
    /// differentiated.
    fn rate(&self, x: &Vec3, rate: &Vec3) -> Vec3 {
        let (c, w) = (self.old.dot(&self.new), self.old.cross(&self.new));
        let (dc, dw) = (self.old.dot(rate), self.old.cross(rate));
        let over = 1.0 / (1.0 + c);
        let (along, along_rate) = (w.dot(x) * over, dw.dot(x) * over);
        dc * x + dw.cross(x) + along * dw + (along_rate - along * dc * over) * w
    }
}
