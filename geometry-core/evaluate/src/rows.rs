//! Rows of states, and rows of rows: a corner's over travel and rack, an axle's over heave, roll
//! and rack.

use geometry_core::{
    axle::{AxleGrid, AxleReach, AxleReader, AxleReadings, AxleState, AxleSweep, Lean, WheelPair},
    bounds,
    linkage::Linkage,
    motion::{Grid, Reach, Sweep},
    readings::Reader,
    setup::{Axle, Document},
    solve::{Outcome, State},
};
use serde::{Deserialize, Serialize};

use crate::{Failure, ReadingsOut, StateIn, why_not_reached};

/// A row of states of one corner, evenly spaced, both ends included.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SweepIn {
    /// Which axle.
    pub axle: Axle,
    /// First state.
    pub from: Place,
    /// Last state.
    pub to: Place,
    /// How many states.
    pub positions: usize,
    /// Rows in parallel to it: with the row along travel and these along the rack, every travel
    /// with every rack.
    #[serde(default)]
    pub rows: Option<RowsIn<Place>>,
}

/// A row of states of both wheels of an axle.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AxleSweepIn {
    /// Which axle.
    pub axle: Axle,
    /// First state.
    pub from: AxlePlace,
    /// Last state.
    pub to: AxlePlace,
    /// How many states.
    pub positions: usize,
    /// What the body's height does while it leans.
    #[serde(default)]
    pub lean: Lean,
    /// Rows in parallel to it.
    #[serde(default)]
    pub rows: Option<RowsIn<AxlePlace>>,
}

/// Rows in parallel.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RowsIn<P> {
    /// Where the last row begins.
    pub to: P,
    /// How many rows.
    pub count: usize,
}

/// Travel and rack, mm.
#[derive(Debug, Clone, Copy, PartialEq, Default, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Place {
    /// Vertical displacement of the wheel centre.
    pub travel: f64,
    /// Displacement of the rack.
    pub rack: f64,
}

/// Heave and rack, mm, and roll, °.
#[derive(Debug, Clone, Copy, PartialEq, Default, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct AxlePlace {
    /// How far the body has dropped.
    pub heave: f64,
    /// How far it leans, + to the right.
    pub roll: f64,
    /// Displacement of the rack.
    pub rack: f64,
}

impl From<Place> for State {
    fn from(place: Place) -> Self {
        Self { travel: place.travel, rack: place.rack }
    }
}

impl From<AxlePlace> for AxleState {
    fn from(place: AxlePlace) -> Self {
        Self { heave: place.heave, roll: place.roll, rack: place.rack }
    }
}

/// A sweep's answer.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SweepOut<T> {
    axle: Axle,
    #[serde(flatten)]
    found: Swept<T>,
}

#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(untagged)]
enum Swept<T> {
    One(RowOut<T>),
    Several { rows: Vec<RowOut<T>> },
}

/// The states of a row that were reached, in order, and why it ended short.
#[derive(Debug, Clone, PartialEq, Serialize)]
struct RowOut<T> {
    states: Vec<T>,
    /// Why it ended before the first state, when it did.
    before: Option<Failure>,
    /// Why it ended before the last state, when it did.
    after: Option<Failure>,
}

/// A state of a corner and its readings.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SweepRow {
    travel: f64,
    rack: f64,
    readings: ReadingsOut,
}

/// The most positions of one sweep, all its rows together.
const MOST_POSITIONS: usize = 100_000;

/// What was read in each row, by index, before it is put in order.
struct Rows<T>(Vec<Read<T>>);

/// One of them.
struct Read<T> {
    states: Vec<Option<T>>,
    before: Option<Failure>,
    after: Option<Failure>,
}

impl<T> Rows<T> {
    fn new(rows: usize, positions: usize) -> Self {
        let row = || Read { states: (0..positions).map(|_| None).collect(), before: None, after: None };
        Self((0..rows).map(|_| row()).collect())
    }

    fn read(&mut self, [row, index]: [usize; 2], read: T) {
        if let Some(place) = self.0.get_mut(row).and_then(|row| row.states.get_mut(index)) {
            *place = Some(read);
        }
    }

    fn ended(&mut self, row: usize, before: Option<Failure>, after: Option<Failure>) {
        if let Some(row) = self.0.get_mut(row) {
            (row.before, row.after) = (before, after);
        }
    }

    fn finish(self, axle: Axle, several: bool) -> SweepOut<T> {
        let row = |Read { states, before, after }: Read<T>| RowOut {
            states: states.into_iter().flatten().collect(),
            before,
            after,
        };
        let mut rows: Vec<_> = self.0.into_iter().map(row).collect();
        let found = match rows.pop() {
            Some(only) if !several && rows.is_empty() => Swept::One(only),
            last => Swept::Several { rows: rows.into_iter().chain(last).collect() },
        };
        SweepOut { axle, found }
    }
}

/// Refuses more positions than an answer can hold.
fn check_count(field: &str, positions: usize, rows: usize) -> Result<(), Failure> {
    let all = positions.saturating_mul(rows);
    let (what, number) = if rows > MOST_POSITIONS {
        ("rows.count", rows)
    } else if all > MOST_POSITIONS {
        ("positions, times the rows,", all)
    } else {
        return Ok(());
    };
    let message = format!("{field}.{what} may be at most {MOST_POSITIONS}; it is {number}");
    Err(Failure { kind: "field".into(), message })
}

impl SweepIn {
    fn check(&self) -> Result<(), Failure> {
        let rows = self.rows.map(|rows| {
            // Where the last row ends.
            let [from, to, begin] = [self.from, self.to, rows.to];
            let end = Place {
                travel: begin.travel + to.travel - from.travel,
                rack: begin.rack + to.rack - from.rack,
            };
            [("rows.to.", begin), ("rows, at the end of the last row: ", end)]
        });
        let places = [("from.", self.from), ("to.", self.to)].into_iter().chain(rows.into_iter().flatten());
        for (name, place) in places {
            let inputs = [("travel", place.travel, bounds::TRAVEL), ("rack", place.rack, bounds::RACK)];
            for (field, value, bound) in inputs {
                let checked = bound.check(&format!("sweeps.{name}{field}"), value);
                checked.map_err(|error| Failure::new("field", &error))?;
            }
        }
        check_count("sweeps", self.positions, self.rows.map_or(1, |rows| rows.count))
    }

    pub(crate) fn answer(
        &self,
        document: &Document,
        linkage: &Linkage,
    ) -> Result<SweepOut<SweepRow>, Failure> {
        self.check()?;
        let row = Sweep { from: self.from.into(), to: self.to.into(), positions: self.positions };
        let (to, count) = self.rows.map_or((row.from, 1), |rows| (rows.to.into(), rows.count));
        let grid = Grid { row, to, rows: count };
        let reader = Reader::new(linkage, &document.vehicle, self.axle);
        let mut rows = Rows::new(count, self.positions);
        let mut reaches = Vec::with_capacity(count);
        grid.run(
            linkage,
            |at, position| {
                let State { travel, rack } = position.state();
                rows.read(at, SweepRow { travel, rack, readings: ReadingsOut::from(&reader.read(position)) });
            },
            |row, reach| reaches.push((row, reach)),
        );
        let why = |outcome: &Outcome, aim: State| {
            let state = StateIn { axle: self.axle, travel: aim.travel, rack: aim.rack };
            Failure { kind: outcome.kind().into(), message: why_not_reached(outcome, &state) }
        };
        for (index, Reach { before, after, .. }) in reaches {
            let row = grid.row(index);
            let before = before.as_ref().map(|outcome| why(outcome, row.from));
            rows.ended(index, before, after.as_ref().map(|outcome| why(outcome, row.to)));
        }
        Ok(rows.finish(self.axle, self.rows.is_some()))
    }
}

impl AxleSweepIn {
    pub(crate) fn answer(
        &self,
        document: &Document,
        pair: &WheelPair,
    ) -> Result<SweepOut<AxleReadings>, Failure> {
        check_count("axle_sweeps", self.positions, self.rows.map_or(1, |rows| rows.count))?;
        let (from, to) = (self.from.into(), self.to.into());
        let row = AxleSweep { from, to, positions: self.positions, lean: self.lean };
        let (to, count) = self.rows.map_or((row.from, 1), |rows| (rows.to.into(), rows.count));
        let reader = AxleReader::new(pair, &document.vehicle);
        let mut rows = Rows::new(count, self.positions);
        let mut reaches = Vec::with_capacity(count);
        // The followers check the numbers of every state.
        AxleGrid { row, to, rows: count }.run(
            pair,
            |at, position| rows.read(at, reader.read(position)),
            |row, reach| reaches.push((row, reach)),
        );
        let why = |stop| Failure::new(geometry_core::axle::AxleStop::kind(&stop), &stop);
        for (index, AxleReach { before, after, .. }) in reaches {
            rows.ended(index, before.map(why), after.map(why));
        }
        Ok(rows.finish(self.axle, self.rows.is_some()))
    }
}
