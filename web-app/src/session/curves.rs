//! What the curves show, and the sweeps behind them.
//!
//! Which readings, against what and of which axles are choices of the viewer, no part of the
//! document. One sweep an axle serves all charts; nothing is computed of what is not shown.

mod family;

use std::sync::Arc;

use geometry_core::{
    axle::Lean,
    bounds,
    readings::Quantity,
    setup::{self, Axle, Document, Side},
    solve::State,
};
use leptos::prelude::*;

pub use self::family::{Family, Line, Run, Subject};
use super::{
    RACK_SHOWN, Session, Solved, TRAVEL_SHOWN,
    axle::{ROLL_SHOWN, Wheels},
    range::Moving,
    reference::Kept,
    sides,
};
use crate::{
    chart::Style,
    lengths::INCH,
    units::{self, System, Unit},
};

/// Positions of a curve, both ends included.
pub const POSITIONS: usize = 161;
/// As many charts as can be told apart.
pub const MOST_CHARTS: usize = 12;
/// What is shown at first.
pub const USUAL: [Quantity; 4] =
    [Quantity::Camber, Quantity::Toe, Quantity::RollCentreHeight, Quantity::SpringMotionRatio];

/// What the curves run along.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Against {
    /// The wheel's travel, the rack held.
    #[default]
    Travel,
    /// The rack, the travel held.
    Rack,
    /// The body's lean over both wheels, travel and rack held; the left wheel is read.
    Roll,
}

impl Against {
    /// All three.
    pub const ALL: [Self; 3] = [Self::Travel, Self::Rack, Self::Roll];

    /// The name by which a choice is kept.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Travel => "travel",
            Self::Rack => "rack",
            Self::Roll => "roll",
        }
    }

    /// What it is in.
    #[must_use]
    pub fn unit(self) -> Unit {
        match self {
            Self::Travel | Self::Rack => Unit::Millimetre,
            Self::Roll => Unit::Degree,
        }
    }

    /// The steps that a table may have: round numbers of the reader's unit, in mm or °.
    #[must_use]
    pub fn steps(self) -> [f64; 3] {
        match (self, units::chosen()) {
            (Self::Roll, _) => [0.5, 1.0, 2.0],
            (_, System::Metric) => [5.0, 10.0, 20.0],
            (_, System::Customary) => [0.2, 0.5, 1.0].map(|inches| inches * INCH),
        }
    }

    /// Decimals of these steps.
    #[must_use]
    pub fn decimals_of_steps(self) -> usize {
        match (self, units::chosen()) {
            (Self::Travel | Self::Rack, System::Metric) => 0,
            _ => 1,
        }
    }

    /// What an arrow key moves along it.
    #[must_use]
    pub fn key_step(self) -> f64 {
        match (self, units::chosen()) {
            (Self::Roll, _) => 0.1,
            (_, System::Metric) => 1.0,
            (_, System::Customary) => 0.05 * INCH,
        }
    }

    /// The other inputs in a state.
    fn state(self, held: State, input: f64) -> State {
        match self {
            Self::Travel => State { travel: input, ..held },
            Self::Rack => State { rack: input, ..held },
            Self::Roll => held,
        }
    }

    /// The input of a state, or of the body's roll.
    fn input(self, state: State, roll: impl FnOnce() -> f64) -> f64 {
        match self {
            Self::Travel => state.travel,
            Self::Rack => state.rack,
            Self::Roll => roll(),
        }
    }

    /// The step of what a pointer means: the finest, or in a small chart the least round one that a pixel
    /// does not pass over.
    #[must_use]
    pub fn grain(self, per_pixel: f64) -> f64 {
        let finest = match (self, units::chosen()) {
            (Self::Travel | Self::Rack, System::Metric) => 0.5,
            (Self::Travel | Self::Rack, System::Customary) => 0.025 * INCH,
            (Self::Roll, _) => 0.05,
        };
        let coarser = [1.0, 2.0, 4.0, 10.0].map(|times| times * finest);
        coarser.into_iter().find(|step| *step >= per_pixel).unwrap_or(coarser[3])
    }
}

/// What is chosen, as it is kept.
#[derive(Debug, Clone, PartialEq)]
pub struct Choice {
    /// The readings, in their order.
    pub charts: Vec<Quantity>,
    /// What they run along.
    pub against: Against,
    /// Whether both axles are shown.
    pub both: bool,
}

impl Default for Choice {
    fn default() -> Self {
        Self { charts: USUAL.to_vec(), against: Against::default(), both: false }
    }
}

impl Choice {
    /// As one line of words.
    #[must_use]
    pub fn text(&self) -> String {
        let mut words = vec![self.against.name()];
        words.push(if self.both { "both" } else { "one" });
        words.extend(self.charts.iter().map(|quantity| quantity.name()));
        words.join(" ")
    }

    /// From whatever text was kept: words that mean nothing here are passed over, and what
    /// is missing is as usual.
    #[must_use]
    pub fn read(text: &str) -> Self {
        let mut choice = Self { charts: Vec::new(), ..Self::default() };
        for word in text.split_whitespace() {
            if let Some(against) = Against::ALL.into_iter().find(|against| against.name() == word) {
                choice.against = against;
            } else if word == "both" {
                choice.both = true;
            }
            let quantity = Quantity::ALL.into_iter().find(|quantity| quantity.name() == word);
            if let Some(quantity) = quantity.filter(|quantity| !choice.charts.contains(quantity)) {
                choice.charts.push(quantity);
            }
        }
        choice.charts.truncate(MOST_CHARTS);
        if choice.charts.is_empty() {
            choice.charts = USUAL.to_vec();
        }
        choice
    }
}

/// What is swept, or in whose place a reason stands.
pub type Subjects = Vec<Result<Subject, String>>;

/// Handles to what the curves show; copied freely.
#[derive(Clone, Copy)]
pub struct CurveView {
    /// The readings shown, in their order.
    pub charts: RwSignal<Vec<Quantity>>,
    /// What they run along.
    pub against: RwSignal<Against>,
    /// Whether the other axle is shown with the one at hand.
    pub both: RwSignal<bool>,
    /// Whether the curves take the whole sheet.
    pub large: RwSignal<bool>,
    /// Whether the numbers are shown in place of the charts.
    pub table: RwSignal<bool>,
    /// Which of the three steps of the table.
    pub step: RwSignal<usize>,
    /// The input under the pointer.
    pub pointer: RwSignal<Option<f64>>,
    /// The axles swept.
    pub subjects: Memo<Subjects>,
    /// Both ends of the axis.
    pub ends: Memo<(f64, f64)>,
    /// The curves.
    pub drawn: Memo<Arc<Family>>,
    /// The reference's over the same inputs, to be drawn beneath; no lines without one.
    pub reference: Memo<Arc<Family>>,
    /// The reference's values at the cursor.
    pub reference_here: Memo<Arc<Family>>,
    /// The reference's values under the pointer.
    pub reference_there: Memo<Arc<Family>>,
    /// Where the cursor stands.
    pub cursor: Memo<f64>,
    /// The values there.
    pub here: Memo<Arc<Family>>,
    /// The values under the pointer.
    pub there: Memo<Option<Arc<Family>>>,
    /// The rows of the table, with the reference's lines after the present setup's.
    pub rows: Memo<Arc<Family>>,
    /// A choice that came with a link.
    pub lent: StoredValue<Option<Choice>>,
}

/// What of the session the curves are made from.
#[derive(Clone, Copy)]
pub(super) struct Sources {
    pub(super) document: RwSignal<Document>,
    pub(super) side: RwSignal<Side>,
    pub(super) vehicle: Memo<setup::Vehicle>,
    pub(super) axle: RwSignal<Axle>,
    pub(super) state: RwSignal<State>,
    pub(super) solved: Memo<Option<Arc<Solved>>>,
    pub(super) wheels: Wheels,
    pub(super) kept: RwSignal<Option<Arc<Kept>>>,
}

/// How the lines of one axle alone, of the front and of the rear axle are drawn.
type Styles = [Style; 3];
const PRESENT: Styles = [Style::Alone, Style::Front, Style::Rear];
const BENEATH: Styles = [Style::Reference, Style::Reference, Style::ReferenceRear];

/// One axle of a document, or both.
fn subjects_of(
    document: &Document,
    axle: Axle,
    both: bool,
    against: Against,
    [alone, front, rear]: Styles,
) -> Subjects {
    let subject = |axle, style| Subject::of(document, axle, style, against);
    if both {
        vec![subject(Axle::Front, front), subject(Axle::Rear, rear)]
    } else {
        vec![subject(axle, alone)]
    }
}

/// The first and the last input of the table, and how many there are.
fn table_rows(against: Against, (from, to): (f64, f64), step: usize) -> (f64, f64, usize) {
    let [_, usual, _] = against.steps();
    let step = against.steps().get(step).copied().unwrap_or(usual);
    let (first, last) = ((from / step).ceil(), (to / step).floor());
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "some dozen rows")]
    let positions = (last - first + 1.0).clamp(0.0, 1000.0) as usize;
    (first * step, last * step, positions)
}

impl CurveView {
    /// What was kept, on the session's signals.
    pub(super) fn new(choice: Choice, sources: Sources) -> Self {
        let Sources { document, side, vehicle, axle, state, solved, wheels, kept } = sources;
        let charts = RwSignal::new(choice.charts);
        let against = RwSignal::new(choice.against);
        let both = RwSignal::new(choice.both);
        let Wheels { roll, lean, .. } = wheels;
        let step = RwSignal::new(1);
        let pointer = RwSignal::new(None);
        // A right corner that is shown, except where both wheels roll.
        let shown_side = move || if against.get() == Against::Roll { Side::Left } else { side.get() };
        let subjects = Memo::new(move |_| {
            let (axle, against) = (axle.get(), against.get());
            let both = both.get();
            let side = shown_side();
            document
                .with(|document| subjects_of(&sides::of_side(document, side), axle, both, against, PRESENT))
        });
        let ends = Memo::new(move |_| {
            let against = against.get();
            subjects.with(|subjects| ends_of(against, subjects))
        });
        // Only what is not swept: moving along the curves leaves them as they are.
        let held = Memo::new(move |_| {
            let state = state.get();
            match against.get() {
                Against::Travel => State { travel: 0.0, ..state },
                Against::Rack => State { rack: 0.0, ..state },
                Against::Roll => state,
            }
        });
        // What the body leans about matters where it leans alone.
        let run = move |from: f64, to: f64, positions: usize| {
            let against = against.get();
            let lean = if against == Against::Roll { lean.get() } else { Lean::default() };
            Run { against, held: held.get(), lean, from, to, positions }
        };
        let family = move |run: Run| {
            let subjects: Vec<Subject> = subjects
                .with(|subjects| subjects.iter().filter_map(|subject| subject.clone().ok()).collect());
            vehicle.with(|vehicle| Arc::new(run.family(&subjects, vehicle, charts.get())))
        };
        let drawn = Memo::new(move |_| {
            let (from, to) = ends.get();
            family(run(from, to, POSITIONS))
        });
        let reference_subjects = Memo::new(move |_| {
            let Some(kept) = kept.get() else { return Vec::new() };
            let document = sides::of_side(&kept.document, shown_side());
            let subjects = subjects_of(&document, axle.get(), both.get(), against.get(), BENEATH);
            // What the reference lacks is said once, beside its title.
            subjects.into_iter().flatten().collect::<Vec<_>>()
        });
        let of_reference = move |run: Run| {
            let Some(kept) = kept.get() else { return Arc::default() };
            reference_subjects
                .with(|subjects| Arc::new(run.family(subjects, &kept.document.vehicle, charts.get())))
        };
        let reference = Memo::new(move |_| {
            let (from, to) = ends.get();
            of_reference(run(from, to, POSITIONS))
        });
        let cursor = Memo::new(move |_| {
            let reached = solved.with(|solved| solved.as_ref().map(|solved| solved.position.state()));
            against.get().input(reached.unwrap_or_else(|| state.get()), || roll.get())
        });
        let here = Memo::new(move |_| family(run(cursor.get(), cursor.get(), 1)));
        let reference_here = Memo::new(move |_| of_reference(run(cursor.get(), cursor.get(), 1)));
        let reference_there = Memo::new(move |_| match pointer.get() {
            Some(input) => of_reference(run(input, input, 1)),
            None => Arc::default(),
        });
        let there = Memo::new(move |_| {
            let input = pointer.get()?;
            Some(family(run(input, input, 1)))
        });
        let rows = Memo::new(move |_| {
            let (first, last, positions) = table_rows(against.get(), ends.get(), step.get());
            let run = run(first, last, positions);
            let mut rows = (*family(run)).clone();
            rows.lines.extend(of_reference(run).lines.iter().cloned());
            Arc::new(rows)
        });
        Self {
            charts,
            against,
            both,
            large: RwSignal::new(false),
            table: RwSignal::new(false),
            step,
            pointer,
            subjects,
            ends,
            drawn,
            reference,
            reference_here,
            reference_there,
            cursor,
            here,
            there,
            rows,
            lent: StoredValue::new(None),
        }
    }

    /// How far the cursor goes: to the stops, where they are named.
    #[must_use]
    pub fn ends_of_motion(&self) -> (f64, f64) {
        let ends = self.ends.get_untracked();
        let against = self.against.get_untracked();
        self.subjects.with_untracked(|subjects| {
            let stops = subjects.iter().flatten().flat_map(|subject| subject.stops(against));
            stops.fold(
                ends,
                |(low, high), stop| {
                    if stop < 0.0 { (low.max(stop), high) } else { (low, high.min(stop)) }
                },
            )
        })
    }

    /// What is to be kept.
    #[must_use]
    pub fn choice(&self) -> Choice {
        Choice { charts: self.charts.get(), against: self.against.get(), both: self.both.get() }
    }

    /// Shows what a link asks for, which is not kept in the place of the reader's own choice.
    pub(super) fn choose(&self, choice: Choice) {
        self.lent.set_value(Some(choice.clone()));
        self.charts.set(choice.charts);
        self.against.set(choice.against);
        self.both.set(choice.both);
    }
}

impl Session {
    /// Puts the cursor of the curves at an input, and the wheel, the rack or the leaning body with it, as a hand on
    /// their sliders does.
    pub fn put_cursor(&self, input: f64) {
        let view = &self.curves;
        let (low, high) = view.ends_of_motion();
        let input = input.clamp(low, high);
        let (moving, value) = match view.against.get_untracked() {
            // The cursor stands where the left wheel is, which the lean has moved.
            Against::Travel if self.wheels().roll.get_untracked() != 0.0 => {
                let travel = self.state.get_untracked().travel;
                (Moving::Travel, input - (view.cursor.get_untracked() - travel))
            }
            Against::Travel => (Moving::Travel, input),
            Against::Rack => (Moving::Rack, input),
            Against::Roll => (Moving::Roll, input),
        };
        self.range().stop(moving);
        self.move_to(moving, value);
    }
}

/// The ends of the axis: the same for all corners as long as their stops lie within.
fn ends_of(against: Against, subjects: &Subjects) -> (f64, f64) {
    let (usual, most) = match against {
        Against::Travel => (TRAVEL_SHOWN, bounds::TRAVEL.most),
        Against::Rack => (0.0, bounds::RACK.most),
        Against::Roll => return (-ROLL_SHOWN, ROLL_SHOWN),
    };
    let stops = subjects.iter().flatten().flat_map(|subject| subject.stops(against));
    let farthest = stops.fold(usual, |farthest: f64, stop| farthest.max(stop.abs()));
    let farthest = if farthest > 0.0 { farthest } else { RACK_SHOWN };
    // A round end, so that the numbers at the axis are round as well.
    let end = ((farthest / 10.0).ceil() * 10.0).min(most);
    (-end, end)
}

#[cfg(test)]
mod tests;
