//! One axle swept over a row of inputs: the values of all charts.

use std::sync::Arc;

use geometry_core::{
    axle::{AxleReader, AxleReadings, AxleState, AxleSweep, Lean, WheelPair},
    linkage::Linkage,
    motion::Sweep,
    readings::{Quantity, Reader, Readings},
    setup::{self, Axle, Document, Side},
    solve::State,
};

use super::Against;
use crate::{chart::Style, describe, session::whole_car::with_names};

/// One axle's values.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// Whose.
    pub axle: Axle,
    /// How it is drawn.
    pub style: Style,
    /// For each chart, the value at each input.
    pub values: Vec<Vec<Option<f64>>>,
    /// Whether the linkage ends before the first and before the last input.
    pub ends: [bool; 2],
    /// The readings nearest the design position: they tell what is missing.
    pub sample: Option<Readings>,
}

impl Line {
    /// Whether it is the reference's.
    #[must_use]
    pub fn is_reference(&self) -> bool {
        matches!(self.style, Style::Reference | Style::ReferenceRear)
    }

    /// A chart's values.
    #[must_use]
    pub fn of(&self, chart: usize) -> &[Option<f64>] {
        self.values.get(chart).map_or(&[], Vec::as_slice)
    }

    /// Why a chart has no value.
    #[must_use]
    pub fn why_none(&self, quantity: Quantity) -> &'static str {
        self.sample
            .as_ref()
            .map_or("the linkage does not reach this", |sample| describe::missing(quantity, sample))
    }
}

/// All charts over one row of inputs.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Family {
    /// The readings, in the charts' order.
    pub charts: Vec<Quantity>,
    /// The inputs.
    pub inputs: Vec<f64>,
    /// An axle each.
    pub lines: Vec<Line>,
}

impl Family {
    /// Where a reading stands among the charts.
    #[must_use]
    pub fn place(&self, quantity: Quantity) -> Option<usize> {
        self.charts.iter().position(|chart| *chart == quantity)
    }

    /// The first value of each line: all there is in a family over one input.
    #[must_use]
    pub fn firsts(&self, quantity: Quantity) -> Vec<Option<f64>> {
        let Some(chart) = self.place(quantity) else { return Vec::new() };
        self.lines.iter().map(|line| line.of(chart).first().copied().flatten()).collect()
    }
}

/// One axle to be swept.
#[derive(Debug, Clone, PartialEq)]
pub struct Subject {
    /// Which.
    pub axle: Axle,
    /// How its line is drawn.
    pub style: Style,
    /// The corner.
    pub linkage: Arc<Linkage>,
    /// Both wheels, where the body leans.
    pub pair: Option<Arc<WheelPair>>,
    /// Rebound and bump stop, mm from travel 0.
    pub travel: (Option<f64>, Option<f64>),
    /// Rack lock, mm.
    pub lock: Option<f64>,
}

impl Subject {
    /// An axle of a document.
    ///
    /// # Errors
    /// Why its curves cannot be computed, as the end of a sentence.
    pub(super) fn of(
        document: &Document,
        axle: Axle,
        style: Style,
        against: Against,
    ) -> Result<Self, String> {
        let corner = document
            .corner(axle)
            .ok_or_else(|| format!("the {} corner is not described yet", axle.name()))?;
        let linkage =
            Linkage::new(corner, Side::Left).map_err(|error| describe::fault(corner, axle.name(), error))?;
        if against == Against::Rack && !linkage.steers() {
            return Err(format!("no link of the {} corner steers", axle.name()));
        }
        let pair = match against {
            Against::Roll => {
                let pair = WheelPair::of(document, axle);
                pair.map_err(|error| with_names(document, error.to_string()))?.map(Arc::new)
            }
            Against::Travel | Against::Rack => None,
        };
        Ok(Self {
            axle,
            style,
            linkage: Arc::new(linkage),
            pair,
            travel: (corner.rebound_travel.map(|travel| -travel), corner.bump_travel),
            lock: corner.rack_travel,
        })
    }

    /// Stops and locks along what the curves run against.
    #[must_use]
    pub fn stops(&self, against: Against) -> Vec<f64> {
        match against {
            Against::Travel => [self.travel.0, self.travel.1].into_iter().flatten().collect(),
            Against::Rack => self.lock.iter().flat_map(|lock| [-lock, *lock]).collect(),
            Against::Roll => Vec::new(),
        }
    }

    /// Its line over evenly spaced inputs.
    #[must_use]
    pub fn line(&self, vehicle: &setup::Vehicle, charts: &[Quantity], run: Run) -> Line {
        let mut line = Line {
            axle: self.axle,
            style: self.style,
            values: vec![vec![None; run.positions]; charts.len()],
            ends: [false; 2],
            sample: None,
        };
        let mut take = |index: usize, value: &dyn Fn(Quantity) -> Option<f64>, readings: &Readings| {
            // The position nearest the design one comes first.
            if line.sample.is_none() {
                line.sample = Some(*readings);
            }
            for (quantity, values) in charts.iter().zip(&mut line.values) {
                if let Some(place) = values.get_mut(index) {
                    *place = value(*quantity);
                }
            }
        };
        let reader = Reader::new(&self.linkage, vehicle, self.axle);
        line.ends = match (run.against, &self.pair) {
            (Against::Roll, Some(pair)) => {
                let both = AxleReader::new(pair, vehicle);
                let state = |roll| AxleState { heave: run.held.travel, roll, rack: run.held.rack };
                let sweep = AxleSweep {
                    from: state(run.from),
                    to: state(run.to),
                    positions: run.positions,
                    lean: run.lean,
                };
                let reach = sweep.run(pair, |index, position| {
                    let readings = reader.read(position.wheel(Side::Left));
                    let axle = charts.iter().any(|chart| needs_both(*chart)).then(|| both.read(position));
                    take(index, &|quantity| leaning(quantity, axle.as_ref(), &readings), &readings);
                });
                [reach.before.is_some(), reach.after.is_some()]
            }
            (against, _) => {
                let sweep = Sweep {
                    from: against.state(run.held, run.from),
                    to: against.state(run.held, run.to),
                    positions: run.positions,
                };
                let reach = sweep.run(&self.linkage, |index, position| {
                    let readings = reader.read(position);
                    take(index, &|quantity| quantity.value(&readings), &readings);
                });
                [reach.before.is_some(), reach.after.is_some()]
            }
        };
        line
    }
}

/// Whether a reading is both wheels' matter when the body leans. Reading an axle costs far
/// more than reading a wheel.
fn needs_both(quantity: Quantity) -> bool {
    matches!(quantity, Quantity::Camber | Quantity::Toe | Quantity::RollCentreHeight)
}

/// A reading of the left wheel under a leaning body: what is said against the vertical or the
/// ground is said against the road the car stands on, and the roll centre is both wheels'.
fn leaning(quantity: Quantity, axle: Option<&AxleReadings>, readings: &Readings) -> Option<f64> {
    match quantity {
        Quantity::Camber => Some(axle?.left.camber_to_ground),
        Quantity::Toe => Some(axle?.left.toe),
        Quantity::RollCentreHeight => axle?.roll_centre.map(|centre| centre.height),
        other => other.value(readings),
    }
}

/// A row of inputs and what is held.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Run {
    /// What the curves run along.
    pub against: Against,
    /// The other inputs.
    pub held: State,
    /// What the body's height does while it leans.
    pub lean: Lean,
    /// First input.
    pub from: f64,
    /// Last input.
    pub to: f64,
    /// How many.
    pub positions: usize,
}

impl Run {
    /// The input of an index.
    pub(super) fn input(&self, index: usize) -> f64 {
        if self.positions < 2 {
            return self.from;
        }
        #[expect(clippy::cast_precision_loss, reason = "counts of positions are small")]
        let share = index as f64 / (self.positions - 1) as f64;
        self.from + share * (self.to - self.from)
    }

    pub(super) fn family(
        self,
        subjects: &[Subject],
        vehicle: &setup::Vehicle,
        charts: Vec<Quantity>,
    ) -> Family {
        let lines = subjects.iter().map(|subject| subject.line(vehicle, &charts, self)).collect();
        Family { lines, inputs: (0..self.positions).map(|index| self.input(index)).collect(), charts }
    }
}
