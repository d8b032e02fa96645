//! Where a carried point is, how it moves, and how a force on it reaches the knuckle.
//!
//! A carried point's velocity is linear in the knuckle's motion; a force on it reaches the
//! knuckle by the transpose of that map (`Carried::pull_back`), so that both have the same
//! power: springs, dampers, bars and rockers need no statics of their own.

use crate::{
    Vec3,
    float::{atan2, norm, sqrt},
    linkage::{Carried, Led, Linkage, Telescope, Turning},
    screw::Wrench,
    solve::{Knuckle, Position, Rate},
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

impl Length {
    /// Unit vector from the body's end to the moving one: the way a compressed spring pushes.
    #[must_use]
    pub fn direction(&self) -> Vec3 {
        (self.carried - self.body) / self.length
    }
}

/// A part's turning about an axis of the body, in one position.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Angle {
    /// Turned since the design position, rad, right-handed about the axis.
    pub angle: f64,
    /// rad per mm of wheel-centre travel, rack held.
    pub per_travel: f64,
    /// rad per mm of rack, height of the wheel centre held.
    pub per_rack: f64,
}

/// A rod that leads a turning part, in one position.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rod {
    /// Joint on the turning part, mm.
    pub joint: Vec3,
    /// Joint on the knuckle or the member that carries it, mm.
    pub carried: Vec3,
    /// How far the part has turned.
    pub turned: Angle,
}

impl Linkage {
    /// The spring in a position, when the corner has one.
    #[must_use]
    pub fn spring_at(&self, position: &Position) -> Option<Length> {
        self.spring.as_ref()?.at(&position.knuckle())
    }

    /// The damper in a position, when the corner has one.
    #[must_use]
    pub fn damper_at(&self, position: &Position) -> Option<Length> {
        self.damper.as_ref()?.at(&position.knuckle())
    }

    /// The rocker and its rod in a position; `None` where the rod does not reach.
    #[must_use]
    pub fn rocker_at(&self, position: &Position) -> Option<Rod> {
        self.rocker.as_ref()?.rod(&position.knuckle())
    }

    /// The anti-roll bar's arm and drop link in a position; `None` where the drop link does
    /// not reach.
    #[must_use]
    pub fn anti_roll_bar_at(&self, position: &Position) -> Option<Rod> {
        self.anti_roll_bar.as_ref()?.rod(&position.knuckle())
    }

    /// How far the torsion bar is twisted since the design position, when there is one.
    #[must_use]
    pub fn torsion_bar_at(&self, position: &Position) -> Option<Angle> {
        self.torsion_bar.as_ref()?.at(&position.knuckle())
    }
}

/// How forces of springs and bars reach the knuckle: wrenches per newton or per N·mm, of
/// which the power on a motion is what the part's own change does: −1 times the shortening,
/// or the turning.
impl Linkage {
    /// Wrench on the knuckle of a spring that pushes with 1 N.
    #[must_use]
    pub fn spring_wrench(&self, position: &Position) -> Option<Wrench> {
        self.spring.as_ref()?.wrench(position)
    }

    /// Wrench on the knuckle of a damper that pushes with 1 N.
    #[must_use]
    pub fn damper_wrench(&self, position: &Position) -> Option<Wrench> {
        self.damper.as_ref()?.wrench(position)
    }

    /// Wrench on the knuckle of a moment of 1 N·mm that turns the anti-roll bar's arm
    /// right-handed about the bar's axis (from its first point to its second).
    #[must_use]
    pub fn anti_roll_bar_wrench(&self, position: &Position) -> Option<Wrench> {
        finite(self.anti_roll_bar.as_ref()?.pull_back(position, 1.0))
    }

    /// Wrench on the knuckle of a moment of 1 N·mm that turns the torsion bar's part
    /// right-handed about its axis.
    #[must_use]
    pub fn torsion_bar_wrench(&self, position: &Position) -> Option<Wrench> {
        finite(self.torsion_bar.as_ref()?.pull_back(position, 1.0))
    }
}

fn finite(wrench: Wrench) -> Option<Wrench> {
    let all = wrench.force.iter().chain(wrench.moment.iter()).all(|value| value.is_finite());
    all.then_some(wrench)
}

impl Telescope {
    fn wrench(&self, position: &Position) -> Option<Wrench> {
        let direction = self.at(&position.knuckle())?.direction();
        finite(self.carried.pull_back(position, &direction))
    }

    /// `None` where the carried point is not defined or the length is zero.
    pub(crate) fn at(&self, knuckle: &Knuckle) -> Option<Length> {
        let carried = self.carried.at(knuckle);
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

/// A carried point and its velocities. Where it does not exist (a rod that does not reach, a
/// link turned back on itself) its numbers are not finite, and the public functions drop it.
pub(crate) struct Moving {
    pub(crate) point: Vec3,
    pub(crate) per_travel: Vec3,
    pub(crate) per_rack: Vec3,
}

/// A knuckle point, its arm from the wheel centre given.
#[inline]
fn on_knuckle(knuckle: &Knuckle, arm: &Vec3) -> Moving {
    let turned = knuckle.rotation * arm;
    let velocity = |rate: &Rate| rate.velocity + rate.angular.cross(&turned);
    Moving {
        point: knuckle.centre + turned,
        per_travel: velocity(&knuckle.per_travel),
        per_rack: velocity(&knuckle.per_rack),
    }
}

impl Carried {
    pub(crate) fn at(&self, knuckle: &Knuckle) -> Moving {
        match self {
            Self::Knuckle { arm } => on_knuckle(knuckle, arm),
            Self::Arm { ball_joint, foot, axis, over_reach, place } => {
                let joint = on_knuckle(knuckle, ball_joint);
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
                let joint = on_knuckle(knuckle, outboard);
                let start = inboard + knuckle.state.rack * per_rack;
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
            Self::Rocker { led, place } => {
                let found = led.at(knuckle);
                let from_foot = led.turned(place, found.cosine, found.sine);
                let velocity = led.axis.cross(&from_foot);
                Moving {
                    point: led.foot + from_foot,
                    per_travel: found.per_travel * velocity,
                    per_rack: found.per_rack * velocity,
                }
            }
        }
    }

    /// The wrench that reaches the knuckle from a force on the carried point, where it now
    /// is: the transpose of the map from the knuckle's motion to the point's velocity. What
    /// the carrier's other joints hold is not in it.
    pub(crate) fn pull_back(&self, position: &Position, force: &Vec3) -> Wrench {
        let joint_at = |arm: &Vec3| position.wheel_centre() + position.rotation() * arm;
        match self {
            Self::Knuckle { arm } => Wrench::at_point(&joint_at(arm), *force),
            Self::Arm { ball_joint, foot, axis, over_reach, place } => {
                let joint = joint_at(ball_joint);
                let towards = *over_reach * (joint - foot);
                let across = axis.cross(&towards);
                let from_foot = place.x * axis + place.y * towards + place.z * across;
                let moment = axis.cross(&from_foot).dot(force);
                Wrench::at_point(&joint, moment * *over_reach * across)
            }
            Self::Link { outboard, inboard, per_rack, old, over_length, place } => {
                let joint = joint_at(outboard);
                let start = inboard + position.state.rack * per_rack;
                let turn = SmallestTurn { old, new: *over_length * (joint - start) };
                let part = |unit: Vec3| *over_length * turn.rate(place, &unit).dot(force);
                Wrench::at_point(&joint, Vec3::new(part(Vec3::x()), part(Vec3::y()), part(Vec3::z())))
            }
            Self::Rocker { led, place } => {
                let found = led.at(&position.knuckle());
                let from_foot = led.turned(place, found.cosine, found.sine);
                led.pull_back(position, led.axis.cross(&from_foot).dot(force))
            }
        }
    }
}

/// A led part in one position.
struct LedAt {
    cosine: f64,
    sine: f64,
    /// Unit vector along the rod, from the led part to the carried joint, over the rod's
    /// leverage about the axis, 1/mm: its product with the carried joint's velocity is the
    /// turning.
    row: Vec3,
    carried: Moving,
    per_travel: f64,
    per_rack: f64,
}

impl Led {
    /// The joint turns to where the rod has its length.
    fn at(&self, knuckle: &Knuckle) -> LedAt {
        let carried = self.carried.at(knuckle);
        let d = carried.point - self.foot;
        let across = self.axis.cross(&self.arm);
        let [cosine, sine] = led_turn(&d, &self.arm, &across, self.square, self.positive);
        let joint = cosine * self.arm + sine * across;
        let along = d - joint;
        let row = along / along.dot(&self.axis.cross(&joint));
        let turning = |velocity: &Vec3| row.dot(velocity);
        LedAt {
            cosine,
            sine,
            row,
            per_travel: turning(&carried.per_travel),
            per_rack: turning(&carried.per_rack),
            carried,
        }
    }

    /// A vector of the led part, turned with it.
    fn turned(&self, vector: &Vec3, cosine: f64, sine: f64) -> Vec3 {
        turned(&self.axis, vector, cosine, sine)
    }

    fn rod(&self, knuckle: &Knuckle) -> Option<Rod> {
        let found = self.at(knuckle);
        let joint = self.foot + self.turned(&self.arm, found.cosine, found.sine);
        let turned = Angle {
            angle: atan2(found.sine, found.cosine),
            per_travel: found.per_travel,
            per_rack: found.per_rack,
        };
        let exists = turned.per_travel.is_finite() && turned.per_rack.is_finite();
        exists.then_some(Rod { joint, carried: found.carried.point, turned })
    }

    /// Where the rod's two joints are, and the force of the rod on what carries it, per N·mm
    /// about the led part's axis. `None` where the rod does not reach.
    pub(crate) fn pull(&self, position: &Position) -> Option<(Rod, Vec3)> {
        self.rod(&position.knuckle()).zip(Some(self.at(&position.knuckle()).row))
    }

    /// The wrench on the knuckle of a moment (N·mm) about the led part's axis.
    pub(crate) fn pull_back(&self, position: &Position, moment: f64) -> Wrench {
        self.carried.pull_back(position, &(moment * self.at(&position.knuckle()).row))
    }
}

/// Cosine and sine of the turn of a led part with which its rod has the length of which `square` is the square. With d
/// from the foot to the carried joint, and the arm from the foot to the rod's joint on the part at rest:
/// |arm|² + |d|² − 2 d·(arm cos θ + across sin θ) = rod². The side of dead centre is kept: `positive` is the sign of
/// d·across at rest. No numbers where the rod does not reach.
pub(crate) fn led_turn(d: &Vec3, arm: &Vec3, across: &Vec3, square: f64, positive: bool) -> [f64; 2] {
    let (a, b) = (d.dot(arm), d.dot(across));
    let c = (arm.norm_squared() + d.norm_squared() - square) / 2.0;
    let size = a * a + b * b;
    // It is b in the design position, where c is a.
    let root = sqrt(size - c * c) * if positive { 1.0 } else { -1.0 };
    [(a * c + b * root) / size, (b * c - a * root) / size]
}

/// A vector turned about a unit vector.
pub(crate) fn turned(axis: &Vec3, vector: &Vec3, cosine: f64, sine: f64) -> Vec3 {
    let along = axis.dot(vector) * axis;
    along + cosine * (vector - along) + sine * axis.cross(vector)
}

impl Turning {
    /// Unit vector of the axis.
    pub(crate) fn axis(&self) -> Vec3 {
        match self {
            Self::Arm { axis, .. } | Self::Hinge { axis } => *axis,
            Self::Led(led) => led.axis,
        }
    }

    pub(crate) fn at(&self, knuckle: &Knuckle) -> Option<Angle> {
        match self {
            Self::Arm { ball_joint, foot, axis, arm } => {
                let joint = on_knuckle(knuckle, ball_joint);
                let now = joint.point - foot;
                let across = axis.cross(&now) / arm.norm_squared();
                let angle = atan2(axis.dot(&arm.cross(&now)), arm.dot(&now));
                Some(Angle {
                    angle,
                    per_travel: across.dot(&joint.per_travel),
                    per_rack: across.dot(&joint.per_rack),
                })
            }
            Self::Hinge { axis } => {
                let r = &knuckle.rotation;
                let twice_sine = Vec3::new(r.m32 - r.m23, r.m13 - r.m31, r.m21 - r.m12).dot(axis);
                Some(Angle {
                    angle: atan2(twice_sine, r.trace() - 1.0),
                    per_travel: knuckle.per_travel.angular.dot(axis),
                    per_rack: knuckle.per_rack.angular.dot(axis),
                })
            }
            Self::Led(led) => led.rod(knuckle).map(|rod| rod.turned),
        }
    }

    /// The wrench on the knuckle of a moment (N·mm) about the turning part's axis.
    pub(crate) fn pull_back(&self, position: &Position, moment: f64) -> Wrench {
        match self {
            Self::Arm { ball_joint, foot, axis, arm } => {
                let joint = position.wheel_centre() + position.rotation() * ball_joint;
                let across = axis.cross(&(joint - foot)) / arm.norm_squared();
                Wrench::at_point(&joint, moment * across)
            }
            Self::Hinge { axis } => Wrench { force: Vec3::zeros(), moment: moment * axis },
            Self::Led(led) => led.pull_back(position, moment),
        }
    }
}

/// The smallest rotation that takes one unit vector to another (Rodrigues' formula with
/// the axis old × new and no trigonometry: x c + w × x + w (w·x)/(1 + c)). Not defined
/// for opposite vectors, where the quotient is not finite and the caller drops it.
pub(crate) struct SmallestTurn<'a> {
    pub(crate) old: &'a Vec3,
    pub(crate) new: Vec3,
}

impl SmallestTurn<'_> {
    pub(crate) fn apply(&self, x: &Vec3) -> Vec3 {
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
