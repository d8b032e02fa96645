//! How uncertain measuring leaves the readings and what the open panel tells, and how uncertain the differences
//! from the reference are: computed once the page has come to rest, a few inputs at a time, so that nothing waits
//! for it.

use std::{collections::BTreeMap, sync::Arc, time::Duration};

use geometry_core::{
    axle::{AxleFollower, AxleReader, AxleState, Lean, WheelPair},
    linkage::Linkage,
    readings::{Quantity, Reader},
    setup::{Axle, Document, Side},
    solve::{Follower, State},
    statics::{Case, Given},
    uncertainty::{Beside, Measured, Propagation},
};
use leptos::prelude::*;

use super::{
    Session, Solved, Tab, at_rest, forces,
    sensitivity::REST,
    set_changed, sides,
    whole_car::{Question, assemble},
};
use crate::{
    describe::{
        axle::{OfAxle, OfWheel},
        forces::{kick, table},
        whole_car::{Cell, GROUPS, Of},
    },
    effects::clock,
};

/// ms that are spent on it before the page may do something else.
const SLICE: f64 = 8.0;

/// How uncertain a number is, and its difference from the reference's; in the number's unit.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Doubt {
    /// Of the number; none where one of the slopes does not exist.
    pub number: Option<f64>,
    /// Of the difference; none without a reference that has the number.
    pub difference: Option<f64>,
}

/// What stands behind the name of a force for each of its components.
const AXES: [&str; 3] = [" x", " y", " z"];

/// By the names that the page gives the numbers, behind that of the panel.
type Known = BTreeMap<String, Doubt>;

/// Handles to what is known; copied freely.
#[derive(Clone, Copy)]
pub struct Doubts {
    known: RwSignal<Arc<Known>>,
    /// Whether something has changed since.
    pub behind: RwSignal<bool>,
    work: StoredValue<Option<Work>>,
}

/// What is being worked on.
struct Work {
    asked: Asked,
    keys: Vec<String>,
    propagation: Propagation,
}

/// What it is computed of.
#[derive(Debug, Clone, PartialEq)]
struct Asked {
    axle: Axle,
    side: Side,
    /// Where the corner stands; none without a linkage.
    state: Option<State>,
    panel: Panel,
}

/// What the open panel tells beside the corner's readings.
#[derive(Debug, Clone, PartialEq)]
enum Panel {
    Both(AxleState, Lean),
    WholeCar(Question),
    Forces(Case, Given),
    Other,
}

impl Doubts {
    pub(super) fn new() -> Self {
        Self {
            known: RwSignal::new(Arc::default()),
            behind: RwSignal::new(false),
            work: StoredValue::new(None),
        }
    }

    /// How uncertain a number of a panel is, as far as it is known.
    #[must_use]
    pub fn of(&self, tab: Tab, name: &str) -> Doubt {
        self.known.with(|known| known.get(&key(tab, name)).copied()).unwrap_or_default()
    }

    /// How uncertain a force is: a size as its slopes say, unless it is so small beside what its components are
    /// uncertain by that it has none; then those together.
    #[must_use]
    pub fn of_force(&self, name: &str, size: f64) -> Doubt {
        let components = AXES.map(|axis| self.of(Tab::Forces, &format!("{name}{axis}")).number);
        let together = components.into_iter().try_fold(0.0_f64, |sum, one| Some(sum.hypot(one?)));
        let doubt = self.of(Tab::Forces, name);
        match together.filter(|together| size < 2.0 * together) {
            Some(together) => Doubt { number: Some(together), ..doubt },
            None => doubt,
        }
    }

    /// A part of the work; what is left follows once the page has had its turn.
    fn go_on(self) {
        let done = self.work.try_update_value(|work| {
            let Some(Work { asked, keys, propagation }) = work else { return None };
            let end = clock::milliseconds() + SLICE;
            let read = |document: &Document| asked.read(document, keys);
            while propagation.step(read) {
                if clock::milliseconds() > end {
                    return Some(None);
                }
            }
            let found = propagation.found();
            let of = |all: &[Option<f64>], i: usize| all.get(i).copied().flatten();
            let known = keys.iter().enumerate().map(|(i, key)| {
                let doubt = Doubt { number: of(&found.numbers, i), difference: of(&found.differences, i) };
                (key.clone(), doubt)
            });
            let known: Known = known.collect();
            *work = None;
            Some(Some(known))
        });
        match done.flatten() {
            Some(Some(known)) => {
                set_changed(self.known, Arc::new(known));
                set_changed(self.behind, false);
            }
            Some(None) => set_timeout(move || self.go_on(), Duration::ZERO),
            None => {}
        }
    }
}

fn key(tab: Tab, name: &str) -> String {
    format!("{} {name}", tab.name())
}

impl Session {
    /// What is known of how uncertain numbers are.
    #[must_use]
    pub fn doubts(&self) -> Doubts {
        self.doubts.get_value()
    }

    /// Whether what is told of uncertainties is of something that was there before.
    #[must_use]
    pub fn doubts_are_behind(&self) -> bool {
        self.trust().shown.get() && self.doubts().behind.get()
    }

    /// What this setup and the reference have in common: as was said, else as it seems.
    #[must_use]
    pub fn beside(&self) -> Beside {
        let seems = || {
            self.reference.kept.with(|kept| {
                let other = kept.as_ref().map(|kept| &kept.document);
                self.document.with(|own| other.map_or(Beside::Altered, |other| Beside::seems(own, other)))
            })
        };
        self.trust().beside.get().unwrap_or_else(seems)
    }

    /// Has what is known follow the page while it is asked for.
    pub fn follow_doubts(self) {
        let doubts = self.doubts();
        let wanted = Memo::new(move |_| self.trust().shown.get() || self.tab.get() == Tab::Matters);
        let panel = Memo::new(move |_| match self.tab.get() {
            Tab::Both => Panel::Both(self.wheels().asked.get(), self.wheels().lean.get()),
            Tab::WholeCar => Panel::WholeCar(self.whole_car().question.get()),
            Tab::Forces => Panel::Forces(self.load().case.get(), self.load().given.get()),
            _ => Panel::Other,
        });
        let asked = move || {
            let state = self.solved.with(|solved| Some(solved.as_ref()?.position.state()));
            Asked { axle: self.axle.get(), side: self.side.get(), state, panel: panel.get() }
        };
        let follow = move || {
            doubts.work.set_value(None);
            if !wanted.get() {
                return false;
            }
            // Followed and not read: what stands is taken once it stands.
            panel.with(|_| ());
            self.solved.with(|_| ());
            self.document.track();
            self.reference.kept.track();
            self.trust().measured.track();
            self.trust().beside.track();
            set_changed(doubts.behind, true);
            true
        };
        at_rest(REST, follow, move || {
            let (asked, beside) = untrack(|| (asked(), self.beside()));
            let measured = self.trust().measured.get_untracked();
            let work = self.document.with_untracked(|document| {
                self.reference.kept.with_untracked(|kept| {
                    let other = kept.as_ref().map(|kept| (&kept.document, beside));
                    Work::new(asked, document, other, measured)
                })
            });
            doubts.work.set_value(Some(work));
            doubts.go_on();
        });
    }
}

impl Work {
    fn new(asked: Asked, own: &Document, other: Option<(&Document, Beside)>, measured: Measured) -> Self {
        let mut asked = asked;
        let keys: Vec<String> = asked.numbers(own).into_keys().collect();
        // Where the open panel tells nothing there is nothing to be uncertain of.
        if keys.iter().all(|key| key.starts_with(Tab::Readings.name())) {
            asked.panel = Panel::Other;
        }
        Self { asked, keys, propagation: Propagation::new(own, other, measured) }
    }
}

impl Asked {
    /// The numbers of these names.
    fn read(&self, document: &Document, keys: &[String]) -> Vec<Option<f64>> {
        let numbers = self.numbers(document);
        keys.iter().map(|key| numbers.get(key).copied()).collect()
    }

    /// Every number that is told.
    fn numbers(&self, document: &Document) -> BTreeMap<String, f64> {
        let mut numbers = BTreeMap::new();
        self.corner(document, &mut numbers);
        let add = |tab: Tab, name: &str, number: f64| {
            numbers.insert(key(tab, name), number);
        };
        match &self.panel {
            Panel::Both(state, lean) => self.both(document, *state, *lean, add),
            Panel::WholeCar(question) => whole_car(document, question, add),
            Panel::Forces(..) | Panel::Other => {}
        }
        numbers
    }

    /// The corner's readings and forces.
    fn corner(&self, document: &Document, numbers: &mut BTreeMap<String, f64>) {
        let corner = sides::corner(document, self.axle, self.side);
        let Some((corner, state)) = corner.zip(self.state) else { return };
        let Ok(linkage) = Linkage::new(&corner, Side::Left) else { return };
        let mut follower = Follower::new(&linkage);
        // Not where it stops on the way there: that is another state.
        let Some(position) = follower.go_to(state).position().copied() else { return };
        let readings = Reader::new(&linkage, &document.vehicle, self.axle).read(&position);
        let solved = Solved { linkage, position, readings, stopped: None };
        let readings = Quantity::ALL.into_iter().filter_map(|quantity| {
            Some((key(Tab::Readings, quantity.name()), quantity.value(&solved.readings)?))
        });
        numbers.extend(readings);
        if let Panel::Forces(case, given) = &self.panel {
            let wheel = (self.axle, self.side);
            let found = forces::find(&corner, &document.vehicle, wheel, &solved, case.clone(), given);
            let table = found.forces.iter().flat_map(|forces| table(&corner, self.side, forces));
            for row in table.flat_map(|group| group.rows) {
                let name = key(Tab::Forces, &row.key);
                for (axis, component) in AXES.into_iter().zip(row.components().into_iter().flatten()) {
                    numbers.insert(format!("{name}{axis}"), component);
                }
                numbers.insert(name, row.value);
            }
            let kick = found.kick.iter().flat_map(kick);
            numbers.extend(kick.map(|(name, _, force)| (key(Tab::Forces, name), force)));
        }
    }

    fn both(&self, document: &Document, state: AxleState, lean: Lean, mut add: impl FnMut(Tab, &str, f64)) {
        let Ok(Some(pair)) = WheelPair::of(document, self.axle) else { return };
        let Ok(position) = AxleFollower::new(&pair).go_to(state, lean) else { return };
        let readings = AxleReader::new(&pair, &document.vehicle).read(&position);
        for row in OfAxle::ALL {
            if let Some(number) = row.value(&readings) {
                add(Tab::Both, row.name(), number);
            }
        }
        for row in OfWheel::ALL {
            let wheels = [("left", &readings.left), ("right", &readings.right)];
            for (side, wheel) in wheels {
                if let Some(number) = row.value(wheel) {
                    add(Tab::Both, &format!("{side}.{}", row.name()), number);
                }
            }
        }
    }
}

fn whole_car(document: &Document, question: &Question, mut add: impl FnMut(Tab, &str, f64)) {
    let answer = question.ask(&assemble(document));
    let mut add = |name: &str, key: &str, cell: Cell| {
        if let Cell::Number { exact, .. } = cell {
            add(Tab::WholeCar, &format!("{name}.{key}"), exact);
        }
    };
    for row in GROUPS.iter().flat_map(|group| group.rows) {
        match row.of {
            Of::Axles(of) => {
                for (name, axle) in [("front", Axle::Front), ("rear", Axle::Rear)] {
                    add(name, row.key, of(&answer, axle));
                }
            }
            Of::Car(of) => add("car", row.key, of(&answer)),
        }
    }
}
