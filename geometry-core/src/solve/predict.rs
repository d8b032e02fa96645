//! The predictor: where the pose will be, from where it was and how it moved.

use super::{Position, Rate, State, unit};
use crate::Vec3;

/// The pose expected at `target`, its wheel centre at the given height. Where the last
/// states lie on one line with it in even steps, as in a sweep, the polynomial of degree
/// five through the last three poses and their motions: its error is h⁶ f⁽⁶⁾/20, which for
/// steps of 1 mm on links of some hundred millimetres is less than rounding. Else the cubic
/// through the last two (Hermite's interpolation, evaluated beyond its last node), else the
/// tangent. `knots` has the newest first.
#[inline]
pub(super) fn predict(knots: &[Knot; 3], target: State, height: f64) -> ([f64; 4], Vec3) {
    let [now, before, earlier] = knots;
    let step = target.minus(&now.state);
    let last = now.state.minus(&before.state);
    let mut pose = if step.is_about(&last) && last.is_about(&before.state.minus(&earlier.state)) {
        let mut sum = now.weighted(-18.0, 9.0, &step);
        before.add_weighted(9.0, 18.0, &step, &mut sum);
        earlier.add_weighted(10.0, 3.0, &step, &mut sum);
        sum
    } else if let Some(u) = step.over(&last) {
        // Nodes at −1 and 0 in units of the last step, evaluated at u − 1.
        let (u2, u3) = (u * u, u * u * u);
        let mut sum = now.weighted(3.0 * u2 - 2.0 * u3, u3 - u2, &last);
        before.add_weighted(2.0 * u3 - 3.0 * u2 + 1.0, u3 - 2.0 * u2 + u, &last, &mut sum);
        sum
    } else {
        now.weighted(1.0, 1.0, &step)
    };
    pose[6] = height;
    let [s, x, y, z, px, py, pz] = pose;
    (unit([s, x, y, z]), Vec3::new(px, py, pz))
}

impl State {
    #[inline]
    fn minus(&self, other: &Self) -> Self {
        Self { travel: self.travel - other.travel, rack: self.rack - other.rack }
    }

    /// The same step to rounding, and one.
    #[inline]
    fn is_about(&self, other: &Self) -> bool {
        let size = self.travel.abs() + self.rack.abs();
        size > 0.0 && self.distance(other) <= 1e-9 * size
    }

    /// One plus the ratio to another step, where both have one direction and this one is
    /// no more than twice as long.
    #[inline]
    fn over(&self, last: &Self) -> Option<f64> {
        let square = last.travel * last.travel + last.rack * last.rack;
        let along = self.travel * last.travel + self.rack * last.rack;
        let across = self.travel * last.rack - self.rack * last.travel;
        // Written so that the NaN of two equal states is no ratio.
        let ratio = along / square;
        (ratio > 0.0 && ratio <= 2.0 && across.abs() <= 1e-9 * square).then_some(1.0 + ratio)
    }
}

/// What the predictor needs of a position: the pose as seven numbers (quaternion, wheel
/// centre) and how they change per mm of travel and of rack.
#[derive(Debug, Clone, Copy)]
pub(super) struct Knot {
    state: State,
    pose: [f64; 7],
    per_travel: [f64; 7],
    per_rack: [f64; 7],
}

impl Position {
    #[inline]
    pub(super) fn knot(&self) -> Knot {
        let [s, x, y, z] = self.quaternion;
        let p = &self.centre;
        let change = |rate: &Rate| {
            // dq = ½ (0, ω) q.
            let [s, x, y, z] = times(&(0.5 * rate.angular), &self.quaternion);
            [s, x, y, z, rate.velocity.x, rate.velocity.y, rate.velocity.z]
        };
        Knot {
            state: self.state,
            pose: [s, x, y, z, p.x, p.y, p.z],
            per_travel: change(&self.per_travel),
            per_rack: change(&self.per_rack),
        }
    }
}

impl Knot {
    /// `value` times the pose and `slope` times its change along `step`.
    #[inline]
    fn weighted(&self, value: f64, slope: f64, step: &State) -> [f64; 7] {
        let mut sum = [0.0; 7];
        self.add_weighted(value, slope, step, &mut sum);
        sum
    }

    #[inline]
    fn add_weighted(&self, value: f64, slope: f64, step: &State, sum: &mut [f64; 7]) {
        let (travel, rack) = (slope * step.travel, slope * step.rack);
        let changes = self.per_travel.iter().zip(&self.per_rack);
        for ((sum, pose), (per_travel, per_rack)) in sum.iter_mut().zip(&self.pose).zip(changes) {
            *sum += value * pose + travel * per_travel + rack * per_rack;
        }
    }
}

/// The product (0, w) q.
#[inline]
pub(super) fn times(w: &Vec3, q: &[f64; 4]) -> [f64; 4] {
    let [s, x, y, z] = *q;
    [
        -(w.x * x + w.y * y + w.z * z),
        w.x * s + w.y * z - w.z * y,
        w.y * s + w.z * x - w.x * z,
        w.z * s + w.x * y - w.y * x,
    ]
}
