//! Families of positions: sweeps that follow the branch and report their limits.

use alloc::vec::Vec;

use crate::{
    linkage::Linkage,
    solve::{Follower, Outcome, Position, State},
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

impl Sweep {
    /// The state of an index.
    #[must_use]
    pub fn state(&self, index: usize) -> State {
        if index == 0 || self.positions < 2 {
            return self.from;
        }
        if index + 1 >= self.positions {
            return self.to;
        }
        #[expect(clippy::cast_precision_loss, reason = "counts of positions are small")]
        let share = index as f64 / (self.positions - 1) as f64;
        State {
            travel: self.from.travel + share * (self.to.travel - self.from.travel),
            rack: self.from.rack + share * (self.to.rack - self.from.rack),
        }
    }

    /// Index of the state nearest the design position; `None` where there is no state.
    #[must_use]
    pub fn nearest_to_design(&self) -> Option<usize> {
        let mut nearest = None;
        let mut distance = f64::INFINITY;
        for index in 0..self.positions {
            let state = self.state(index);
            let away = state.travel.abs() + state.rack.abs();
            if away < distance || nearest.is_none() {
                (nearest, distance) = (Some(index), away);
            }
        }
        nearest
    }

    /// Solves every state that the branch reaches, outward from the one nearest the
    /// design position, and shows each position with its index. Nothing is allocated.
    pub fn run(&self, linkage: &Linkage, mut show: impl FnMut(usize, &Position)) -> Reach {
        let Some(nearest) = self.nearest_to_design() else {
            return Reach { solved: (0, 0), before: None, after: None };
        };
        let mut reach = Reach { solved: (nearest, nearest), before: None, after: None };
        let mut follower = Follower::new(linkage);
        if let Err(ended) = follower.advance(self.state(nearest)) {
            reach.before = Some(ended.into());
            reach.after = Some(ended.into());
            return reach;
        }
        show(nearest, follower.position());
        reach.solved.1 = nearest + 1;
        let middle = follower.clone();
        for index in nearest + 1..self.positions {
            if let Err(ended) = follower.advance(self.state(index)) {
                reach.after = Some(ended.into());
                break;
            }
            show(index, follower.position());
            reach.solved.1 = index + 1;
        }
        let mut follower = middle;
        for index in (0..nearest).rev() {
            if let Err(ended) = follower.advance(self.state(index)) {
                reach.before = Some(ended.into());
                break;
            }
            show(index, follower.position());
            reach.solved.0 = index;
        }
        reach
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
