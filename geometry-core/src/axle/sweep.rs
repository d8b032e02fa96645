//! Rows of an axle's states: heave, roll, rack, or any two or three of them together.

use super::{AxleFollower, AxlePosition, AxleState, AxleStop, Lean, WheelPair};

/// A straight row of states, evenly spaced, both ends included. A field of states over two
/// inputs is one such row for each value of the other.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AxleSweep {
    /// First state.
    pub from: AxleState,
    /// Last state.
    pub to: AxleState,
    /// How many states; with one, it is `from`.
    pub positions: usize,
    /// What the body's height does while it leans.
    pub lean: Lean,
}

/// How far a sweep came.
#[derive(Debug, Clone, PartialEq)]
pub struct AxleReach {
    /// Index of the first position solved, and one past the last; empty when equal.
    pub solved: (usize, usize),
    /// Why it ended before the first state, when it did.
    pub before: Option<AxleStop>,
    /// Why it ended before the last state, when it did.
    pub after: Option<AxleStop>,
}

impl AxleSweep {
    /// The state of an index.
    #[must_use]
    pub fn state(&self, index: usize) -> AxleState {
        if index == 0 || self.positions < 2 {
            return self.from;
        }
        if index + 1 >= self.positions {
            return self.to;
        }
        #[expect(clippy::cast_precision_loss, reason = "counts of positions are small")]
        let share = index as f64 / (self.positions - 1) as f64;
        let between = |from: f64, to: f64| from + share * (to - from);
        AxleState {
            heave: between(self.from.heave, self.to.heave),
            roll: between(self.from.roll, self.to.roll),
            rack: between(self.from.rack, self.to.rack),
        }
    }

    /// Solves every state that both wheels reach, outward from the one nearest the design
    /// position, and shows each position with its index.
    pub fn run(&self, pair: &WheelPair, mut show: impl FnMut(usize, &AxlePosition)) -> AxleReach {
        let mut nearest = 0;
        let mut distance = f64::INFINITY;
        for index in 0..self.positions {
            let state = self.state(index);
            // A degree of roll moves the wheels by some ten millimetres.
            let away = state.heave.abs() + 10.0 * state.roll.abs() + state.rack.abs();
            if away < distance {
                (nearest, distance) = (index, away);
            }
        }
        let mut reach = AxleReach { solved: (nearest, nearest), before: None, after: None };
        if self.positions == 0 {
            return reach;
        }
        let mut follower = AxleFollower::new(pair);
        match follower.go_to(self.state(nearest), self.lean) {
            Ok(position) => show(nearest, &position),
            Err(stop) => {
                reach.before = Some(stop.clone());
                reach.after = Some(stop);
                return reach;
            }
        }
        reach.solved.1 = nearest + 1;
        let mut back = follower.clone();
        for index in nearest + 1..self.positions {
            match follower.go_to(self.state(index), self.lean) {
                Ok(position) => show(index, &position),
                Err(stop) => {
                    reach.after = Some(stop);
                    break;
                }
            }
            reach.solved.1 = index + 1;
        }
        for index in (0..nearest).rev() {
            match back.go_to(self.state(index), self.lean) {
                Ok(position) => show(index, &position),
                Err(stop) => {
                    reach.before = Some(stop);
                    break;
                }
            }
            reach.solved.0 = index;
        }
        reach
    }
}
