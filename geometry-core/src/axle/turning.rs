//! Steering geometry in plan: inside and outside angles, turning centre and circle.
//!
//! At low speed every wheel rolls where it points, so the lines square to the wheels, in
//! plan, want to meet in one point: the turning centre. The wheels that do not steer have
//! theirs in common, the other axle's line; a steered wheel's crosses it at
//! y + x · cot(steer), with x the wheel's distance ahead of that line and y its place. Where
//! both cross at one point the steering is Ackermann geometry (ISO 8855:2011, 7.1.9: the spin
//! axes of the steerable wheels meet the centre of rotation), which for wheels beside each
//! other is the textbooks' cot(outside) − cot(inside) = track/wheelbase (Jazar, *Vehicle
//! Dynamics*, Springer, ch. 7, from memory).
//!
//! Angles are those by which the wheels have turned since straight ahead: static toe does
//! not count. Steer angles are positive to the left (ISO 8855), °; lengths mm.
//!
//! ```
//! use geometry_core::axle::turning::{ackermann_percentage, outside_angle, PlanWheel};
//!
//! let outside = outside_angle(30.0, 2640.0, 1580.0);
//! let left = PlanWheel { x: 2640.0, y: 790.0, steer: 30.0 };
//! let right = PlanWheel { x: 2640.0, y: -790.0, steer: outside };
//! let percentage = ackermann_percentage(&left, &right).expect("both wheels are turned");
//! assert!((percentage - 100.0).abs() < 1e-9);
//! ```

use super::DEGREES;
use crate::{
    bounds::INFINITELY_FAR,
    float::{atan2, cos, sin, sqrt},
};

/// A steered wheel in plan.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct PlanWheel {
    /// How far its contact is ahead of the other axle's line, mm; negative behind it, where the
    /// rear wheels steer.
    pub x: f64,
    /// Where its contact is across the car, mm, + left of the centre plane.
    pub y: f64,
    /// Steer angle since straight ahead, °, + to the left.
    pub steer: f64,
}

impl PlanWheel {
    /// x · cot(steer): how far to the wheel's left its line crosses the other axle's, mm.
    fn reach(&self) -> f64 {
        let angle = self.steer / DEGREES;
        self.x * (cos(angle) / sin(angle))
    }
}

/// 100 · (x cot(steer) of the right wheel − the same of the left one)/(distance between the
/// contacts across the car), %: 0 for wheels that stay parallel, 100 for Ackermann geometry,
/// more where the inside wheel turns further still, negative where it turns less than the
/// outside one. With both wheels at one x it is 100 · (cot(outside) − cot(inside)) ·
/// wheelbase/track. `None` where a wheel stands straight ahead.
#[must_use]
pub fn ackermann_percentage(left: &PlanWheel, right: &PlanWheel) -> Option<f64> {
    let percentage = 100.0 * (right.reach() - left.reach()) / (left.y - right.y);
    (percentage.abs() <= INFINITELY_FAR).then_some(percentage)
}

/// The outside wheel's angle in Ackermann geometry for an inside angle, ° (both of one sign):
/// cot(outside) = cot(inside) + track/wheelbase.
#[must_use]
pub fn outside_angle(inside: f64, wheelbase: f64, track: f64) -> f64 {
    let angle = inside / DEGREES;
    let size = atan2(wheelbase * sin(angle.abs()), wheelbase * cos(angle) + track * sin(angle.abs()));
    if inside < 0.0 { -size * DEGREES } else { size * DEGREES }
}

/// Steer angle, °, with which a car of a wheelbase turns at low speed about a point that is
/// `radius` to the left of the other axle's middle (negative: to the right): its tangent is
/// wheelbase/radius. For a radius of many wheelbases it is wheelbase/radius in radians
/// (Gillespie, *Fundamentals of Vehicle Dynamics*, SAE 1992, ch. 6, from memory).
#[must_use]
pub fn steer_for_radius(wheelbase: f64, radius: f64) -> f64 {
    let size = atan2(wheelbase, radius.abs()) * DEGREES;
    if radius < 0.0 { -size } else { size }
}

/// What the steered wheels of an axle make the car do at low speed.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Turning {
    /// Left wheel in plan.
    pub left: PlanWheel,
    /// Right wheel in plan.
    pub right: PlanWheel,
    /// Angle of the wheel on the inside of the bend since straight ahead, °, + as its axle steers the car: into the
    /// bend in front, out of it behind.
    pub inside_angle: f64,
    /// The same of the wheel on the outside.
    pub outside_angle: f64,
    /// Where the turning centre is on the other axle's line, mm, + left of the centre plane:
    /// the middle between the places where the two wheels' lines cross it. Its cotangent
    /// over the wheelbase is the mean of both wheels' (Jazar, ch. 7). As a number without sign
    /// it is the radius at the other axle's middle.
    pub centre: f64,
    /// How far apart the two wheels' lines cross the other axle's line, mm: 0 in Ackermann
    /// geometry, + where the inside wheel turns less than that.
    pub centres_apart: f64,
    /// Steer angle of one wheel in the middle that would turn about the same centre, °, + to
    /// the left.
    pub middle_angle: f64,
    /// Diameter of the circle of the outside wheel's contact about the turning centre, mm.
    pub turning_circle: f64,
    /// Diameter of the circle that the outside tyre's outer edge keeps within, mm: the turning
    /// circle and the tyre's width. `None` where the tyre's size is not given.
    pub kerb_to_kerb: Option<f64>,
}

impl Turning {
    /// From both wheels in plan and their tyres' widths, mm. `None` where a wheel stands
    /// straight ahead or the wheels turn opposite ways.
    #[must_use]
    pub fn of(left: PlanWheel, right: PlanWheel, tyre_widths: [Option<f64>; 2]) -> Option<Self> {
        let crossings = [left.y + left.reach(), right.y + right.reach()];
        let centre = 0.5 * (crossings[0] + crossings[1]);
        let turned_one_way = left.steer * right.steer > 0.0;
        if !turned_one_way || !crossings.iter().all(|c| c.abs() <= INFINITELY_FAR) {
            return None;
        }
        let to_the_left = centre > 0.5 * (left.y + right.y);
        let (inside, outside, width) =
            if to_the_left { (left, right, tyre_widths[1]) } else { (right, left, tyre_widths[0]) };
        let sign = if left.steer > 0.0 { 1.0 } else { -1.0 };
        let across = centre - outside.y;
        let turning_circle = 2.0 * sqrt(outside.x * outside.x + across * across);
        let x = 0.5 * (left.x + right.x);
        let middle = 0.5 * (left.y + right.y);
        Some(Self {
            left,
            right,
            inside_angle: sign * inside.steer,
            outside_angle: sign * outside.steer,
            centre,
            centres_apart: crossings[0] - crossings[1],
            middle_angle: sign * atan2(x.abs(), (centre - middle).abs()) * DEGREES,
            turning_circle,
            kerb_to_kerb: width.map(|width| turning_circle + width),
        })
    }
}
