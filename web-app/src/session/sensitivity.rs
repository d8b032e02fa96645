//! What moves a reading most, and what a wanted change of it takes: computed only while the
//! panel is open and once the drawing has come to rest.

use std::{sync::Arc, time::Duration};

use geometry_core::{
    bounds::{self, Bound},
    linkage::Linkage,
    readings::{Quantity, Reader, Readings, quantity::Unit},
    sensitivity::{Kind, Parameter, Sensitivity, SensitivityError},
    setup::{Axle, Corner, Side, Vehicle},
    solve::{Follower, State},
};
use leptos::prelude::*;

use super::{Session, Tab, Trust, at_rest, set_changed};
use crate::{
    describe,
    edit::Edit,
    numbers::{round_to, shows_zero},
    units::{self, Start, System},
    with_unit::retold,
};

/// How long nothing may have moved before the table follows.
pub(super) const REST: Duration = Duration::from_millis(180);
/// mm: an adjustment that needs more than this is none a fitter would make (common practice,
/// no source).
pub const MOST_ADJUSTMENT: f64 = 25.0;
/// Adjustments that are solved again, the smallest first.
pub const MOST_ANSWERS: usize = 12;
/// The change that is wanted at first, mm or °, and by how much something is altered.
const WANTED: Start = Start { metric: 0.25, customary: 0.01 };
const AMOUNT: Start = Start { metric: 1.0, customary: 0.04 };

/// What a change that is wanted of one reading may do to the wheel, told beside it.
pub const TOLD: [Quantity; 5] = [
    Quantity::Camber,
    Quantity::Toe,
    Quantity::Caster,
    Quantity::KingpinInclination,
    Quantity::RollCentreHeight,
];

/// What everything here is computed of.
#[derive(Debug, Clone, PartialEq)]
pub struct Inputs {
    /// The corner.
    pub corner: Corner,
    /// The car.
    pub vehicle: Vehicle,
    /// The corner's axle.
    pub axle: Axle,
    /// Where the wheel stands.
    pub state: State,
}

/// An adjustment that brings a wanted change.
#[derive(Debug, Clone, PartialEq)]
pub struct Answer {
    /// What is altered.
    pub parameter: Parameter,
    /// By how much, mm, by the slope alone.
    pub amount: f64,
    /// What the reading then changes by, solved again; none where the altered corner cannot
    /// be assembled or has no such reading.
    pub solved: Option<f64>,
    /// What the other readings of [`TOLD`] then change by, solved again.
    pub others: Vec<(Quantity, f64)>,
}

/// All adjustments that bring a wanted change, the smallest first.
#[derive(Debug, Clone, PartialEq)]
pub struct Answers {
    /// The reading.
    pub quantity: Quantity,
    /// The change that is wanted, in the reading's unit.
    pub wanted: f64,
    /// The adjustments, at most [`MOST_ANSWERS`].
    pub list: Vec<Answer>,
    /// How many more there are that do.
    pub more: usize,
    /// How many would need more than [`MOST_ADJUSTMENT`], or do nothing.
    pub out_of_reach: usize,
}

/// What an adjustment does to a reading, solved again.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Change {
    /// The reading.
    pub quantity: Quantity,
    /// Its number with the adjustment made.
    pub after: f64,
    /// By how much that is more than now.
    pub by: f64,
}

/// Handles to the panel's choices; copied freely.
#[derive(Clone, Copy)]
pub struct Matters {
    /// The reading that is asked about.
    pub quantity: RwSignal<Quantity>,
    /// Which of the two questions.
    pub kind: RwSignal<Kind>,
    /// The wanted change, in the reading's unit.
    pub wanted: RwSignal<f64>,
    /// What is to be altered on the car; none before one was chosen.
    pub altered: RwSignal<Option<Parameter>>,
    /// By how much, mm.
    pub amount: RwSignal<f64>,
    /// What that would do, solved again, or why it cannot be done; none before an adjustment was chosen.
    pub foretold: Memo<Option<Result<Vec<Change>, String>>>,
    /// How well the corner was measured.
    pub trust: Trust,
    /// Whether the drawing has moved on since.
    pub behind: RwSignal<bool>,
    /// What was there when the drawing last came to rest with the panel open.
    pub rested: RwSignal<Option<Arc<Inputs>>>,
    /// All derivatives there; none before the panel was first opened.
    pub found: Memo<Option<Arc<Result<Sensitivity, SensitivityError>>>>,
    /// What a wanted change takes; none where the reading has no such question.
    pub answers: Memo<Option<Arc<Answers>>>,
}

impl Matters {
    pub(super) fn new() -> Self {
        let quantity = RwSignal::new(Quantity::Camber);
        let wanted = RwSignal::new(WANTED.metric);
        let rested = RwSignal::new(None::<Arc<Inputs>>);
        let found = Memo::new(move |_| {
            let inputs = rested.get()?;
            let Inputs { corner, vehicle, axle, state } = &*inputs;
            Some(Arc::new(Sensitivity::of(corner, Side::Left, vehicle, *axle, *state)))
        });
        let answers = Memo::new(move |_| {
            let (inputs, found, quantity) = (rested.get()?, found.get()?, quantity.get());
            let found = found.as_ref().as_ref().ok()?;
            bound_of(quantity)?;
            answers(&inputs, found, quantity, wanted.get()).map(Arc::new)
        });
        let (altered, amount) = (RwSignal::new(None), RwSignal::new(AMOUNT.metric));
        let foretold = Memo::new(move |_| {
            let (inputs, parameter, amount) = (rested.get()?, altered.get()?, amount.get());
            (amount != 0.0).then(|| foretold(&inputs, parameter, amount))
        });
        Self {
            quantity,
            kind: RwSignal::new(Kind::Adjusted),
            wanted,
            altered,
            amount,
            foretold,
            trust: Trust::restored(),
            behind: RwSignal::new(false),
            rested,
            found,
            answers,
        }
    }

    /// Follows the session while its panel is open, a moment after it has come to rest.
    pub fn follow(self, session: Session) {
        let follow = move || {
            if session.tab.get() != Tab::Matters {
                return false;
            }
            // Followed and not read: what stands is taken once it stands.
            session.axle.track();
            session.solved.with(|_| ());
            session.corner.with(|_| ());
            set_changed(self.behind, true);
            true
        };
        // What was wanted of an angle, and of a length: the one is no other unit of the other.
        let wanted = StoredValue::new([WANTED.metric; 2]);
        Effect::new(move |before: Option<bool>| {
            let system = units::chosen();
            set_changed(self.amount, AMOUNT.or(self.amount.get_untracked(), system));
            let is_length = self.quantity.get().unit() == Unit::Millimetre;
            let mut now = self.wanted.get_untracked();
            if let Some(was_length) = before.filter(|was_length| *was_length != is_length) {
                let mut both = wanted.get_value();
                both[usize::from(was_length)] = now;
                now = both[usize::from(is_length)];
                wanted.set_value(both);
            }
            // Angles are in degrees everywhere.
            let system = if is_length { system } else { System::Metric };
            set_changed(self.wanted, WANTED.or(now, system));
            is_length
        });
        at_rest(REST, follow, move || {
            let now = untrack(|| session.inputs());
            set_changed(self.rested, now);
            set_changed(self.behind, false);
        });
    }
}

impl Session {
    /// What everything here is computed of; none without a linkage.
    fn inputs(&self) -> Option<Arc<Inputs>> {
        let axle = self.axle.get();
        self.solved.with(|solved| {
            let state = solved.as_ref()?.position.state();
            let corner = self.corner.with(Clone::clone)?;
            let vehicle = self.document().with(|document| document.vehicle.clone());
            Some(Arc::new(Inputs { corner, vehicle, axle, state }))
        })
    }

    /// Alters the corner shown as a shim or a thread does, in one step that undo takes back, and says what
    /// has become of camber and toe.
    pub fn alter(&self, parameter: Parameter, amount: f64) {
        if amount == 0.0 {
            self.complain("By nothing, nothing is altered. Give another amount.".into());
            return;
        }
        let Some(corner) = self.corner.get_untracked() else { return };
        let axle = self.axle.get_untracked();
        match altered(&corner, parameter, amount) {
            Ok(altered) => {
                let told = describe::sensitivity::altered(parameter, amount, &corner, &altered);
                let edit = Edit::AlterCorner { axle, corner: Box::new(altered) };
                match self.edit(&edit, None) {
                    Ok(()) => self.tell(told),
                    Err(error) => self.complain(self.refusal(&error)),
                }
            }
            Err(error) => {
                let what = describe::sensitivity::what(parameter, &corner);
                let amount = describe::sensitivity::amount(parameter, amount);
                self.complain(format!(
                    "{what}, {amount}: not altered. {}.",
                    said(&error, parameter, &corner)
                ));
            }
        }
    }
}

/// What may be wanted of a reading; none where it is neither an angle nor a length.
#[must_use]
pub fn bound_of(quantity: Quantity) -> Option<Bound> {
    match quantity.unit() {
        Unit::Degree => Some(bounds::WHEEL_ANGLE),
        Unit::Millimetre => Some(bounds::LENGTH_CHANGE),
        _ => None,
    }
}

/// The adjustments that change a reading by what is wanted: the amount by the derivative, and
/// what it does when the altered corner is solved.
#[must_use]
pub fn answers(inputs: &Inputs, found: &Sensitivity, quantity: Quantity, wanted: f64) -> Option<Answers> {
    found.value(quantity)?;
    let all: Vec<Parameter> = found.parameters().filter(|one| one.kind() == Kind::Adjusted).collect();
    let mut amounts: Vec<(Parameter, f64)> = all
        .iter()
        .filter_map(|parameter| {
            let amount = wanted / found.derivative(*parameter, quantity)?.value;
            (amount.abs() <= MOST_ADJUSTMENT).then_some((*parameter, amount))
        })
        .collect();
    amounts.sort_by(|a, b| a.1.abs().total_cmp(&b.1.abs()));
    let out_of_reach = all.len() - amounts.len();
    let more = amounts.len().saturating_sub(MOST_ANSWERS);
    amounts.truncate(MOST_ANSWERS);
    let before = read(&inputs.corner, inputs)?;
    let list = amounts.into_iter().map(|(parameter, amount)| {
        let after = parameter
            .apply(&inputs.corner, Side::Left, amount)
            .ok()
            .and_then(|altered| read(&altered, inputs));
        let change = |quantity| Some(value(quantity, after.as_ref()?)? - value(quantity, &before)?);
        let others = TOLD.into_iter().filter(|other| *other != quantity);
        let others = others.filter_map(|other| Some((other, change(other)?))).collect();
        Answer { parameter, amount, solved: change(quantity), others }
    });
    Some(Answers { quantity, wanted, list: list.collect(), more, out_of_reach })
}

/// Why a corner cannot be altered, with the adjustment's own name.
fn said(error: &SensitivityError, parameter: Parameter, corner: &Corner) -> String {
    let what = describe::sensitivity::what(parameter, corner);
    describe::capital(&retold(&error.to_string().replacen(&parameter.to_string(), &what, 1)))
}

/// What an adjustment changes as far as that is shown, and of the readings of [`TOLD`] that it leaves them; where the
/// wheel stands.
///
/// # Errors
/// Why the corner cannot be altered so.
pub fn foretold(inputs: &Inputs, parameter: Parameter, amount: f64) -> Result<Vec<Change>, String> {
    let altered = altered(&inputs.corner, parameter, amount)
        .map_err(|error| said(&error, parameter, &inputs.corner))?;
    let unread = || "the wheel does not come to where it stands now".to_owned();
    let before = read(&inputs.corner, inputs).ok_or_else(unread)?;
    let after = read(&altered, inputs).ok_or_else(unread)?;
    let change = |quantity: Quantity| {
        let (before, after) = (value(quantity, &before)?, value(quantity, &after)?);
        let by = after - before;
        let is_shown = !shows_zero(&describe::unit(quantity).show(by));
        // Where contact and hub stand is told by how far they move, not where that is.
        (is_shown || TOLD.contains(&quantity)).then_some(Change { quantity, after, by })
    };
    Ok(Quantity::ALL.into_iter().filter_map(change).collect())
}

/// A corner with an adjustment made, without digits that nobody sets: what it changes is taken to a micrometre and a
/// ten-thousandth of a degree.
///
/// # Errors
/// Those of [`Parameter::apply`].
pub fn altered(corner: &Corner, parameter: Parameter, amount: f64) -> Result<Corner, SensitivityError> {
    let mut altered = parameter.apply(corner, Side::Left, amount)?;
    altered.change_points(|path, new| {
        for (new, old) in new.iter_mut().zip(path.get(corner).into_iter().flatten()) {
            if *new != old {
                *new = round_to(*new, 3);
            }
        }
    });
    let (wheel, before) = (&mut altered.wheel, &corner.wheel);
    for (new, old, decimals) in [
        (&mut wheel.loaded_radius, before.loaded_radius, 3),
        (&mut wheel.camber, before.camber, 4),
        (&mut wheel.toe, before.toe, 4),
    ] {
        if *new != old {
            *new = round_to(*new, decimals);
        }
    }
    Ok(altered)
}

fn read(corner: &Corner, inputs: &Inputs) -> Option<Readings> {
    let linkage = Linkage::new(corner, Side::Left).ok()?;
    let mut follower = Follower::new(&linkage);
    let outcome = follower.go_to(inputs.state);
    Some(Reader::new(&linkage, &inputs.vehicle, inputs.axle).read(outcome.position()?))
}

/// A reading of the built car: a change of track or wheelbase counts from where the wheel
/// stood before it was altered.
fn value(quantity: Quantity, readings: &Readings) -> Option<f64> {
    match quantity {
        Quantity::HalfTrackChange => Some(readings.contact[1]),
        Quantity::WheelbaseChange => Some(readings.wheel_centre[0]),
        _ => quantity.value(readings),
    }
}

#[cfg(test)]
mod tests {
    use geometry_core::{linkage::Linkage, setup::example};

    use super::*;
    use crate::session::solved::solve;

    fn inputs(state: State) -> (Inputs, Sensitivity) {
        let document = example();
        let corner = document.front.clone().expect("a front corner");
        let inputs = Inputs { corner, vehicle: document.vehicle, axle: Axle::Front, state };
        let found = Sensitivity::of(&inputs.corner, Side::Left, &inputs.vehicle, inputs.axle, state);
        (inputs, found.expect("the state is reached"))
    }

    /// A slope tells a change to what is square in it: halved, the miss falls to a quarter.
    #[test]
    fn what_is_solved_again_is_near_what_was_wanted() {
        for state in [State::DESIGN, State { travel: 30.0, rack: 5.0 }] {
            let (inputs, found) = inputs(state);
            for quantity in [Quantity::Camber, Quantity::Toe, Quantity::HalfTrackChange] {
                let whole = answers(&inputs, &found, quantity, 0.5).expect("it exists");
                let half = answers(&inputs, &found, quantity, 0.25).expect("it exists");
                assert!(whole.list.len() >= 6, "{quantity:?}: {}", whole.list.len());
                assert!(whole.list.windows(2).all(|pair| pair[0].amount.abs() <= pair[1].amount.abs()));
                for answer in &whole.list {
                    let twin = half.list.iter().find(|other| other.parameter == answer.parameter);
                    let (Some(twin), Some(solved)) = (twin, answer.solved) else { continue };
                    let (miss, less) = (solved - 0.5, twin.solved.expect("as well") - 0.25);
                    assert!(less.abs() <= 0.35 * miss.abs() + 1e-9, "{answer:?}: {less} of {miss}");
                }
            }
        }
    }

    /// What is foretold is what comes when it is done.
    #[test]
    fn what_is_foretold_comes_true() {
        let state = State { travel: 20.0, rack: 0.0 };
        let (inputs, found) = inputs(state);
        for parameter in found.parameters().filter(|one| one.kind() == Kind::Adjusted) {
            let changes = foretold(&inputs, parameter, 1.5).expect("so little is possible");
            assert!(TOLD.iter().all(|told| changes.iter().any(|change| change.quantity == *told)));
            // The page's own way there: the setup is altered, and its corner solved where it stands.
            let altered = altered(&inputs.corner, parameter, 1.5).expect("so little is possible");
            let exact = parameter.apply(&inputs.corner, Side::Left, 1.5).expect("so little is possible");
            for ((_, point), (_, exact)) in altered.points().into_iter().zip(exact.points()) {
                assert!((0..3).all(|i| (point[i] - exact[i]).abs() <= 5.01e-4), "{point:?} {exact:?}");
            }
            let edit = Edit::AlterCorner { axle: Axle::Front, corner: Box::new(altered) };
            let [before, after] =
                [example(), edit.apply(&example()).expect("it is a setup")].map(|document| {
                    let corner = document.front.as_ref().expect("a front corner");
                    let linkage = Linkage::new(corner, Side::Left).expect("it is assembled");
                    solve(&linkage, &document.vehicle, Axle::Front, state).readings
                });
            for change in changes {
                let quantity = change.quantity;
                let [before, after] =
                    [before, after].map(|readings| value(quantity, &readings).expect("read"));
                assert!((change.after - after).abs() <= 1e-9 * (1.0 + after.abs()), "{quantity:?}");
                assert!((change.by - (after - before)).abs() <= 1e-9 * (1.0 + after.abs()), "{quantity:?}");
            }
        }
        let parameter = found.parameters().find(|one| one.kind() == Kind::Adjusted).expect("some");
        assert!(foretold(&inputs, parameter, 1e6).is_err());
    }

    #[test]
    fn only_adjustments_within_reach_are_answers() {
        let (inputs, found) = inputs(State::DESIGN);
        let all = answers(&inputs, &found, Quantity::Camber, 0.25).expect("camber exists");
        let count = found.parameters().filter(|one| one.kind() == Kind::Adjusted).count();
        assert_eq!(all.list.len() + all.more + all.out_of_reach, count);
        for answer in &all.list {
            assert_eq!(answer.parameter.kind(), Kind::Adjusted);
            assert!(answer.amount.abs() <= MOST_ADJUSTMENT);
            assert!(answer.others.iter().any(|(quantity, _)| *quantity == Quantity::Toe));
        }
        let few = answers(&inputs, &found, Quantity::Camber, 45.0).expect("camber exists");
        assert!(few.list.iter().all(|answer| answer.amount.abs() <= MOST_ADJUSTMENT));
        assert!(few.out_of_reach > all.out_of_reach, "45° of camber is out of most adjustments' reach");
        assert!(bound_of(Quantity::AntiBrakingFriction).is_none());
        assert!(bound_of(Quantity::ScrubRadius).is_some());
    }
}
