//! Rows of an axle's states: heave, roll, rack, or any two or three of them together.

use super::{AxleFollower, AxlePosition, AxleState, AxleStop, Lean, WheelPair};
use crate::motion::row::{Ends, Inputs, Row};

/// A straight row of states, evenly spaced, both ends included.
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

impl Inputs for AxleState {
    fn moved(&self, from: &Self, to: &Self, share: f64) -> Self {
        Self {
            heave: self.heave + share * (to.heave - from.heave),
            roll: self.roll + share * (to.roll - from.roll),
            rack: self.rack + share * (to.rack - from.rack),
        }
    }

    fn away(&self) -> f64 {
        // A degree of roll moves the wheels by some ten millimetres.
        self.heave.abs() + 10.0 * self.roll.abs() + self.rack.abs()
    }
}

impl From<Ends<AxleStop>> for AxleReach {
    fn from(ends: Ends<AxleStop>) -> Self {
        Self { solved: ends.solved, before: ends.before, after: ends.after }
    }
}

impl AxleSweep {
    fn row(&self) -> Row<AxleState> {
        Row { from: self.from, to: self.to, positions: self.positions }
    }

    /// The state of an index.
    #[must_use]
    pub fn state(&self, index: usize) -> AxleState {
        self.row().state(index)
    }

    /// Solves every state that both wheels reach, outward from the one nearest the design
    /// position, and shows each position with its index.
    pub fn run(&self, pair: &WheelPair, mut show: impl FnMut(usize, &AxlePosition)) -> AxleReach {
        let ends = self.row().outward(&mut AxleFollower::new(pair), |follower, index, state| {
            follower.go_to(state, self.lean).map(|position| show(index, &position))
        });
        ends.into()
    }
}

/// A field of states over any two of heave, roll and rack: a row of them, and rows in parallel
/// to it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AxleGrid {
    /// The first row.
    pub row: AxleSweep,
    /// Where the last row begins.
    pub to: AxleState,
    /// How many rows; with one, it is `row`.
    pub rows: usize,
}

impl AxleGrid {
    /// A row of the grid.
    #[must_use]
    pub fn row(&self, index: usize) -> AxleSweep {
        let Row { from, to, positions } = self.row.row().of_rows(&self.to, self.rows, index);
        AxleSweep { from, to, positions, lean: self.row.lean }
    }

    /// Solves every row outward from the design position, each begun from the row before, and
    /// shows each position with the indices of its row and in it; then how far the row came.
    pub fn run(
        &self,
        pair: &WheelPair,
        mut show: impl FnMut([usize; 2], &AxlePosition),
        mut ended: impl FnMut(usize, AxleReach),
    ) {
        let (lean, start) = (self.row.lean, AxleFollower::new(pair));
        self.row.row().rows_outward(&self.to, self.rows, start, |follower, row, states| {
            let ends = states.outward(follower, |follower, index, state| {
                follower.go_to(state, lean).map(|position| show([row, index], &position))
            });
            ended(row, ends.into());
        });
    }
}
