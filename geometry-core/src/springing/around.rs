//! How a ratio changes with travel: a difference over positions beside the present one.

use crate::{
    bounds::{LEAST_RATIO_STEP, RATIO_STEP},
    solve::{Follower, Outcome, Position, State},
};

/// Four positions beside one, at the same rack.
pub(super) struct Around {
    step: f64,
    /// At −2, −1, +1 and +2 steps of travel.
    positions: [Position; 4],
}

impl Around {
    /// Steps of [`RATIO_STEP`]; shorter ones near an end of the travel; `None` where even the
    /// shortest leaves the branch.
    pub(super) fn find(follower: &Follower<'_>) -> Option<Self> {
        let State { travel, rack } = follower.position().state();
        let beside = |distance: f64| match follower.clone().go_to(State { travel: travel + distance, rack }) {
            Outcome::Solved(position) => Some(position),
            _ => None,
        };
        let mut step = RATIO_STEP;
        while step >= LEAST_RATIO_STEP {
            if let (Some(a), Some(b), Some(c), Some(d)) =
                (beside(-2.0 * step), beside(-step), beside(step), beside(2.0 * step))
            {
                return Some(Self { step, positions: [a, b, c, d] });
            }
            step /= 8.0;
        }
        None
    }

    /// Derivative per mm of travel by the five-point formula, (−f₂ + 8 f₁ − 8 f₋₁ + f₋₂)/12 h
    /// (Abramowitz & Stegun, 25.3.6; from memory). Its error is h⁴/30 of the fifth derivative,
    /// under 1e-13 per mm with arms of 100 mm and more and 1e-9 beside a rod's dead centre; the
    /// motions' rounding, 1e-11 at most, over the step is some 1e-10 per mm.
    pub(super) fn slope(&self, of: impl Fn(&Position) -> Option<f64>) -> Option<f64> {
        let [a, b, c, d] = self.positions.each_ref().map(of);
        let slope = (8.0 * (c? - b?) - (d? - a?)) / (12.0 * self.step);
        slope.is_finite().then_some(slope)
    }
}
