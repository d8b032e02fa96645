//! What the rows of a corner's states and those of an axle's have in common: evenly spaced
//! states, solved outward from the one nearest the design position.

/// Inputs that can be moved along straight lines.
pub(crate) trait Inputs: Copy {
    /// Moved by a share of the way between two others.
    fn moved(&self, from: &Self, to: &Self, share: f64) -> Self;
    /// How far from the design position, in mm of movement.
    fn away(&self) -> f64;
}

/// A straight row of states, both ends included; with one state, it is `from`.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Row<S> {
    pub(crate) from: S,
    pub(crate) to: S,
    pub(crate) positions: usize,
}

/// How far a row came.
#[derive(Debug, Clone)]
pub(crate) struct Ends<E> {
    /// Index of the first one solved, and one past the last.
    pub(crate) solved: (usize, usize),
    pub(crate) before: Option<E>,
    pub(crate) after: Option<E>,
}

impl<S: Inputs> Row<S> {
    /// The state of an index.
    pub(crate) fn state(&self, index: usize) -> S {
        if index == 0 || self.positions < 2 {
            return self.from;
        }
        if index + 1 >= self.positions {
            return self.to;
        }
        self.from.moved(&self.from, &self.to, share(index, self.positions))
    }

    /// Index of the state nearest the design position; `None` where there is no state.
    pub(crate) fn nearest_to_design(&self) -> Option<usize> {
        let mut nearest = None;
        let mut distance = f64::INFINITY;
        for index in 0..self.positions {
            let away = self.state(index).away();
            if away < distance || nearest.is_none() {
                (nearest, distance) = (Some(index), away);
            }
        }
        nearest
    }

    /// The row in parallel to this one, a share of the way to the one that begins at `to`.
    fn parallel(&self, to: &S, share: f64) -> Self {
        let moved = |state: &S| state.moved(&self.from, to, share);
        Self { from: moved(&self.from), to: moved(&self.to), positions: self.positions }
    }

    /// Row `index` of `rows` in parallel, from this one to the one that begins at `to`.
    pub(crate) fn of_rows(&self, to: &S, rows: usize, index: usize) -> Self {
        if index == 0 || rows < 2 {
            *self
        } else if index + 1 >= rows {
            // It begins just there, not a rounding away.
            Self { from: *to, ..self.parallel(to, 1.0) }
        } else {
            self.parallel(to, share(index, rows))
        }
    }

    /// Leads a follower to every state, outward from the one nearest the design position, and
    /// leaves it at that one.
    #[inline]
    pub(crate) fn outward<F: Clone, E: Clone>(
        &self,
        follower: &mut F,
        mut go: impl FnMut(&mut F, usize, S) -> Result<(), E>,
    ) -> Ends<E> {
        let Some(nearest) = self.nearest_to_design() else {
            return Ends { solved: (0, 0), before: None, after: None };
        };
        let mut ends = Ends { solved: (nearest, nearest), before: None, after: None };
        if let Err(ended) = go(follower, nearest, self.state(nearest)) {
            ends.before = Some(ended.clone());
            ends.after = Some(ended);
            return ends;
        }
        ends.solved.1 = nearest + 1;
        let mut ahead = follower.clone();
        for index in nearest + 1..self.positions {
            if let Err(ended) = go(&mut ahead, index, self.state(index)) {
                ends.after = Some(ended);
                break;
            }
            ends.solved.1 = index + 1;
        }
        let mut back = follower.clone();
        for index in (0..nearest).rev() {
            if let Err(ended) = go(&mut back, index, self.state(index)) {
                ends.before = Some(ended);
                break;
            }
            ends.solved.0 = index;
        }
        ends
    }

    /// Leads a follower through rows in parallel, each from the state nearest the design
    /// position in the row before. `row` solves one and leaves its follower there.
    pub(crate) fn rows_outward<F: Clone>(
        &self,
        to: &S,
        rows: usize,
        follower: F,
        mut row: impl FnMut(&mut F, usize, Self),
    ) {
        let distance = |index: usize| {
            let row = self.of_rows(to, rows, index);
            row.nearest_to_design().map_or(f64::INFINITY, |nearest| row.state(nearest).away())
        };
        let Some(nearest) = (0..rows).min_by(|a, b| distance(*a).total_cmp(&distance(*b))) else { return };
        let mut ahead = follower;
        row(&mut ahead, nearest, self.of_rows(to, rows, nearest));
        let mut back = ahead.clone();
        for index in nearest + 1..rows {
            row(&mut ahead, index, self.of_rows(to, rows, index));
        }
        for index in (0..nearest).rev() {
            row(&mut back, index, self.of_rows(to, rows, index));
        }
    }
}

#[expect(clippy::cast_precision_loss, reason = "counts of positions are small")]
fn share(index: usize, positions: usize) -> f64 {
    index as f64 / (positions - 1) as f64
}
