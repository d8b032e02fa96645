//! Families of positions: sweeps that follow the branch and report their limits.

use alloc::vec::Vec;

pub(crate) mod row;

use row::{Ends, Inputs, Row};

use crate::{
    linkage::Linkage,
    solve::{Ended, Follower, Outcome, Position, State},
};

/// A straight row of states, evenly spaced, both ends included.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sweep {
    /// First state.
    pub from: State,
    /// Last state.
    pub to: State,
    /// How many states; with one, it is `from`.
    pub positions: usize,
}

/// How far a sweep came.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reach {
    /// Index of the first position solved, and one past the last; empty when equal.
    pub solved: (usize, usize),
    /// Why it ended before the first state, when it did.
    pub before: Option<Outcome>,
    /// Why it ended before the last state, when it did.
    pub after: Option<Outcome>,
}

/// What was read off every position of a sweep.
#[derive(Debug, Clone, PartialEq)]
pub struct Table<T> {
    /// One a state, in the order of the states; `None` where the branch does not reach.
    pub rows: Vec<Option<T>>,
    /// How far the sweep came.
    pub reach: Reach,
}

impl<T> Table<T> {
    /// The states reached, by index, and what was read there.
    pub fn iter(&self) -> impl Iterator<Item = (usize, &T)> {
        self.rows.iter().enumerate().filter_map(|(index, row)| Some((index, row.as_ref()?)))
    }
}

impl Inputs for State {
    fn moved(&self, from: &Self, to: &Self, share: f64) -> Self {
        Self {
            travel: self.travel + share * (to.travel - from.travel),
            rack: self.rack + share * (to.rack - from.rack),
        }
    }

    fn away(&self) -> f64 {
        self.travel.abs() + self.rack.abs()
    }
}

impl From<Ends<Ended>> for Reach {
    fn from(ends: Ends<Ended>) -> Self {
        Self {
            solved: ends.solved,
            before: ends.before.map(Outcome::from),
            after: ends.after.map(Outcome::from),
        }
    }
}

impl Sweep {
    fn row(&self) -> Row<State> {
        Row { from: self.from, to: self.to, positions: self.positions }
    }

    /// The state of an index.
    #[must_use]
    pub fn state(&self, index: usize) -> State {
        self.row().state(index)
    }

    /// Index of the state nearest the design position; `None` where there is no state.
    #[must_use]
    pub fn nearest_to_design(&self) -> Option<usize> {
        self.row().nearest_to_design()
    }

    /// Solves the states outward from the one nearest the design position until the branch does not reach one, and
    /// shows each position with its index. A state at a dead point ends the row, though one beyond it may be reached by
    /// itself. Nothing is allocated.
    pub fn run(&self, linkage: &Linkage, mut show: impl FnMut(usize, &Position)) -> Reach {
        let mut follower = Follower::new(linkage);
        let ends = self.row().outward(&mut follower, |follower, index, state| {
            follower.advance(state)?;
            show(index, follower.position());
            Ok(())
        });
        ends.into()
    }

    /// Solves as [`Sweep::run`] does and keeps what is read off each position. One piece of
    /// memory is allocated, whatever the sweep's length.
    #[must_use]
    pub fn table<T>(&self, linkage: &Linkage, mut read: impl FnMut(&Position) -> T) -> Table<T> {
        let mut rows = Vec::with_capacity(self.positions);
        rows.resize_with(self.positions, || None);
        let reach = self.run(linkage, |index, position| {
            if let Some(row) = rows.get_mut(index) {
                *row = Some(read(position));
            }
        });
        Table { rows, reach }
    }
}

/// A field of states over two inputs: a row of them, and rows in parallel to it. With the row
/// along travel and the others beyond along the rack it is every travel with every rack.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Grid {
    /// The first row.
    pub row: Sweep,
    /// Where the last row begins.
    pub to: State,
    /// How many rows; with one, it is `row`.
    pub rows: usize,
}

impl Grid {
    /// A row of the grid.
    #[must_use]
    pub fn row(&self, index: usize) -> Sweep {
        let Row { from, to, positions } = self.row.row().of_rows(&self.to, self.rows, index);
        Sweep { from, to, positions }
    }

    /// Solves every row outward from the design position, each begun from the row before, and
    /// shows each position with the indices of its row and in it; then how far the row came.
    /// Nothing is allocated.
    pub fn run(
        &self,
        linkage: &Linkage,
        mut show: impl FnMut([usize; 2], &Position),
        mut ended: impl FnMut(usize, Reach),
    ) {
        self.row.row().rows_outward(&self.to, self.rows, Follower::new(linkage), |follower, row, states| {
            let ends = states.outward(follower, |follower, index, state| {
                follower.advance(state)?;
                show([row, index], follower.position());
                Ok(())
            });
            ended(row, ends.into());
        });
    }
}
