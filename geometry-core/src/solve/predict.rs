//! The predictor: where the pose will be, from where it was and how it moved.

use wide::f64x2;

use super::{Position, State, pose::Pose};

/// The last positions. Four places, of which one is being filled: the newest is found by a
/// mask and nothing is moved.
#[derive(Debug, Clone)]
pub(super) struct History {
    positions: [Position; 4],
    newest: usize,
    /// The step that led to the newest.
    step: State,
    /// The step before it was the same.
    even: bool,
}

impl History {
    /// A beginning: one position, no steps.
    pub(super) fn new(position: Position) -> Self {
        Self { positions: [position; 4], newest: 0, step: State::DESIGN, even: false }
    }

    #[inline(always)]
    pub(super) fn newest(&self) -> &Position {
        &self.positions[self.newest & 3]
    }

    pub(super) fn newest_mut(&mut self) -> &mut Position {
        &mut self.positions[self.newest & 3]
    }

    /// Where the next position is worked out.
    #[inline(always)]
    pub(super) fn next(&mut self) -> &mut Position {
        &mut self.positions[(self.newest + 1) & 3]
    }

    /// The next has its last correction: it answers `state` and is the newest from here on.
    #[inline(always)]
    pub(super) fn arrive<const SIDES: usize>(&mut self, state: State) {
        let step = state.minus(&self.newest().state);
        self.even = step.is_about(&self.step);
        self.step = step;
        self.next().settle::<SIDES>(state);
        self.newest = (self.newest + 1) & 3;
    }

    /// The pose expected at `target`. Where the last states lie on one line with it in even
    /// steps, as in a sweep, the polynomial of degree five through the last three poses and
    /// their motions: its error is h⁶ f⁽⁶⁾/20, which for steps of 1 mm on links of some
    /// hundred millimetres is less than rounding. Else the cubic through the last two
    /// (Hermite's interpolation, evaluated beyond its last node), else the tangent. With `SIDES` two the rack stands
    /// still; a step along the rack has the newest know its change with it, and those before
    /// are used only where that has been a step's direction already, so they know.
    #[inline(always)]
    pub(super) fn predict<const SIDES: usize>(&self, target: State) -> Pose {
        let back = |by: usize| &self.positions[self.newest.wrapping_sub(by) & 3];
        let (now, before) = (back(0), back(1));
        let step = target.minus(&now.state);
        let last = &self.step;
        if self.even && step.is_about(last) {
            let sum = now.weighted::<SIDES>(-18.0, 9.0, &step);
            let sum = before.add_weighted::<SIDES>(9.0, 18.0, &step, sum);
            back(2).add_weighted::<SIDES>(10.0, 3.0, &step, sum)
        } else if let Some(u) = step.over(last) {
            // Nodes at −1 and 0 in units of the last step, evaluated at u − 1.
            let (u2, u3) = (u * u, u * u * u);
            let sum = now.weighted::<SIDES>(3.0 * u2 - 2.0 * u3, u3 - u2, last);
            before.add_weighted::<SIDES>(2.0 * u3 - 3.0 * u2 + 1.0, u3 - 2.0 * u2 + u, last, sum)
        } else {
            now.weighted::<SIDES>(1.0, 1.0, &step)
        }
    }
}

impl State {
    #[inline(always)]
    fn minus(&self, other: &Self) -> Self {
        Self { travel: self.travel - other.travel, rack: self.rack - other.rack }
    }

    /// The same step to rounding, and one.
    #[inline(always)]
    pub(crate) fn is_about(&self, other: &Self) -> bool {
        let size = self.travel.abs() + self.rack.abs();
        size > 0.0 && self.distance(other) <= 1e-9 * size
    }

    /// One plus the ratio to another step, where both have one direction and this one is
    /// no more than twice as long.
    #[inline]
    pub(crate) fn over(&self, last: &Self) -> Option<f64> {
        let square = last.travel * last.travel + last.rack * last.rack;
        let along = self.travel * last.travel + self.rack * last.rack;
        let across = self.travel * last.rack - self.rack * last.travel;
        // Written so that the NaN of two equal states is no ratio.
        let ratio = along / square;
        (ratio > 0.0 && ratio <= 2.0 && across.abs() <= 1e-9 * square).then_some(1.0 + ratio)
    }
}

impl Position {
    /// `value` times the pose and `slope` times its change along `step`.
    #[inline(always)]
    fn weighted<const SIDES: usize>(&self, value: f64, slope: f64, step: &State) -> Pose {
        self.add_weighted::<SIDES>(value, slope, step, Pose([f64x2::splat(0.0); 3]))
    }

    #[inline(always)]
    fn add_weighted<const SIDES: usize>(&self, value: f64, slope: f64, step: &State, mut sum: Pose) -> Pose {
        let (value, travel) = (f64x2::splat(value), f64x2::splat(slope * step.travel));
        for i in 0..3 {
            sum.0[i] += value * self.pose.0[i] + travel * self.change.0[i];
        }
        if SIDES > 2 {
            let rack = f64x2::splat(slope * step.rack);
            for i in 0..3 {
                sum.0[i] += rack * self.change_with_rack.0[i];
            }
        }
        sum
    }
}
