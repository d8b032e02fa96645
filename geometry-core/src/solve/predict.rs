//! The predictor: where the pose will be, from where it was and how it moved.

use wide::f64x2;

use super::{State, pose::Pose};

/// The last positions, for the predictor. Four places of which one is being left: the
/// newest is found by a mask and nothing is moved.
#[derive(Debug, Clone)]
pub(super) struct History {
    knots: [Knot; 4],
    newest: usize,
    state: State,
    /// The step that led to the newest.
    step: State,
    /// The step before it was the same.
    even: bool,
    /// The newest knows its change with the rack.
    along_rack: bool,
}

/// What the predictor needs of a position: the pose and how it changes per mm of travel and
/// of rack.
#[derive(Debug, Clone, Copy)]
pub(super) struct Knot {
    pub(super) pose: Pose,
    pub(super) per_travel: Pose,
    pub(super) per_rack: Pose,
}

impl History {
    /// A beginning: one position, no steps.
    pub(super) fn new(knot: Knot) -> Self {
        Self {
            knots: [knot; 4],
            newest: 0,
            state: State::DESIGN,
            step: State::DESIGN,
            even: false,
            along_rack: true,
        }
    }

    /// The place for the position reached at a state, to be filled in; whether with its
    /// change along the rack.
    #[inline(always)]
    pub(super) fn push(&mut self, state: State, along_rack: bool) -> &mut Knot {
        let step = state.minus(&self.state);
        self.even = step.is_about(&self.step);
        self.step = step;
        self.state = state;
        self.along_rack = along_rack;
        self.newest = (self.newest + 1) & 3;
        &mut self.knots[self.newest]
    }

    /// Makes sure that the newest knows its change along the rack. Those before it are
    /// used along the rack only where that has been a step's direction already, so they know.
    pub(super) fn newest_along_rack(&mut self, change: impl FnOnce() -> Pose) {
        if !self.along_rack {
            self.along_rack = true;
            self.knots[self.newest].per_rack = change();
        }
    }

    /// The pose expected at `target`. Where the last states lie on one line with it in even
    /// steps, as in a sweep, the polynomial of degree five through the last three poses and
    /// their motions: its error is h⁶ f⁽⁶⁾/20, which for steps of 1 mm on links of some
    /// hundred millimetres is less than rounding. Else the cubic through the last two
    /// (Hermite's interpolation, evaluated beyond its last node), else the tangent. With `SIDES` two the rack stands still.
    #[inline(always)]
    pub(super) fn predict<const SIDES: usize>(&self, target: State) -> Pose {
        let back = |by: usize| &self.knots[self.newest.wrapping_sub(by) & 3];
        let (now, before) = (back(0), back(1));
        let step = target.minus(&self.state);
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

impl Knot {
    /// `value` times the pose and `slope` times its change along `step`.
    #[inline(always)]
    fn weighted<const SIDES: usize>(&self, value: f64, slope: f64, step: &State) -> Pose {
        self.add_weighted::<SIDES>(value, slope, step, Pose([f64x2::splat(0.0); 3]))
    }

    #[inline(always)]
    fn add_weighted<const SIDES: usize>(&self, value: f64, slope: f64, step: &State, mut sum: Pose) -> Pose {
        let (value, travel) = (f64x2::splat(value), f64x2::splat(slope * step.travel));
        for i in 0..3 {
            sum.0[i] += value * self.pose.0[i] + travel * self.per_travel.0[i];
        }
        if SIDES > 2 {
            let rack = f64x2::splat(slope * step.rack);
            for i in 0..3 {
                sum.0[i] += rack * self.per_rack.0[i];
            }
        }
        sum
    }
}
