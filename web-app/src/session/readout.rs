//! What is told of each reading of the corner shown.
//!
//! A signal for each thing told, set only when that changes: while a point is dragged most stay,
//! and whatever shows them is then not even woken to find that out. The numbers themselves change
//! all the time, and are written straight into the page.

use std::borrow::Cow;

use geometry_core::{readings::Quantity, setup::Axle};
use leptos::prelude::*;

use super::{Session, Solved, set_changed};
use crate::{
    describe::{self, input::Why},
    effects::live::Live,
    units::{self, System},
};

/// What is told of a reading.
#[derive(Debug, Clone, Copy)]
pub struct Told {
    /// The sign in words, or why there is no number.
    pub words: RwSignal<Cow<'static, str>>,
    /// The inputs that lack for a number.
    pub lacks: RwSignal<Option<Why>>,
    /// How it differs from the reference's; empty where there is nothing to say.
    pub difference: RwSignal<String>,
    /// How uncertain it is; empty where that is not asked or not known.
    pub trust: RwSignal<String>,
    /// How uncertain the difference is; empty as well where there is none.
    pub trust_of_difference: RwSignal<String>,
}

impl Told {
    fn new() -> Self {
        Self {
            words: RwSignal::new(Cow::default()),
            lacks: RwSignal::new(None),
            difference: RwSignal::new(String::new()),
            trust: RwSignal::new(String::new()),
            trust_of_difference: RwSignal::new(String::new()),
        }
    }
}

/// A reading's number, and where it stands in the page.
#[derive(Debug, Default)]
struct Figure {
    number: Option<f64>,
    /// The units that it is told in.
    system: System,
    places: Vec<Live>,
}

/// What is told of all readings; copied freely.
#[derive(Debug, Clone, Copy)]
pub struct Readout {
    told: StoredValue<Vec<(Quantity, Told)>>,
    /// In the same order.
    figures: StoredValue<Vec<Figure>, LocalStorage>,
}

impl Readout {
    /// Of the corner that a session shows.
    #[must_use]
    pub fn new(session: Session) -> Self {
        let all: Vec<_> = Quantity::ALL.into_iter().map(|quantity| (quantity, Told::new())).collect();
        let figures = StoredValue::new_local(all.iter().map(|_| Figure::default()).collect::<Vec<_>>());
        let readout = Self { told: StoredValue::new(all.clone()), figures };
        let told = readout.told;
        Effect::new(move |_| {
            let asked = session.trust().shown.get();
            // What stood when the drawing was at rest keeps its room, out of sight, until it is again.
            if asked && session.doubts().behind.get() {
                return;
            }
            told.with_value(|all| {
                for (quantity, told) in all {
                    let (number, difference) = if asked {
                        (session.doubt(*quantity), session.doubt_of_difference(*quantity))
                    } else {
                        (String::new(), None)
                    };
                    set_changed(told.trust, number);
                    set_changed(told.trust_of_difference, difference.unwrap_or_default());
                }
            });
        });
        Effect::new(move |_| {
            let axle = session.axle.get();
            // Under a body that leans some stay the left wheel's, said along the body.
            let leans = Leans::of(session);
            let system = units::chosen();
            session.solved.with(|solved| {
                let number = |quantity: Quantity| quantity.value(&solved.as_ref()?.readings);
                figures.update_value(|figures| {
                    for ((quantity, _), figure) in all.iter().zip(figures) {
                        figure.show(*quantity, number(*quantity), system);
                    }
                });
                for (quantity, told) in &all {
                    tell(session, *quantity, axle, leans, solved.as_deref(), told);
                }
            });
        });
        readout
    }

    /// What is told of a reading.
    #[must_use]
    pub fn of(&self, quantity: Quantity) -> Told {
        let told = self
            .told
            .with_value(|all| all.iter().find(|(other, _)| *other == quantity).map(|(_, told)| *told));
        // Every reading is among all of them.
        told.unwrap_or_else(Told::new)
    }

    /// Number and unit of a reading, for as long as the component lives that asks for it.
    #[must_use]
    pub fn figure(&self, quantity: Quantity) -> Live {
        let place = Live::counting();
        let index = self.told.with_value(|all| all.iter().position(|(other, _)| *other == quantity));
        self.figures.update_value(|figures| {
            if let Some(figure) = index.and_then(|index| figures.get_mut(index)) {
                place.show(figure.number, &untrack(|| text(quantity, figure.number)));
                // What has gone with its component goes from the list.
                figure.places.retain(|place| place.lives());
                figure.places.push(place);
            }
        });
        place
    }
}

impl Figure {
    fn show(&mut self, quantity: Quantity, number: Option<f64>, system: System) {
        if self.number != number || self.system != system {
            self.number = number;
            self.system = system;
            let text = text(quantity, number);
            for place in &self.places {
                place.show(number, &text);
            }
        }
    }
}

/// How the other wheel stands.
#[derive(Debug, Clone, Copy)]
pub struct Leans {
    /// The body leans.
    rolls: bool,
    /// The right wheel does not stand as the left one does.
    unlike: bool,
}

impl Leans {
    /// In what a session shows.
    #[must_use]
    pub fn of(session: Session) -> Self {
        Self { rolls: session.wheels().roll.get() != 0.0, unlike: session.right_is_unlike() }
    }
}

fn text(quantity: Quantity, number: Option<f64>) -> String {
    number.map_or_else(|| "—".into(), |number| describe::value(quantity, number))
}

fn tell(
    session: Session,
    quantity: Quantity,
    axle: Axle,
    leans: Leans,
    solved: Option<&Solved>,
    told: &Told,
) {
    let number = solved.and_then(|solved| quantity.value(&solved.readings));
    let (words, lacks) = match (number, solved) {
        (Some(number), _) => (words(session, quantity, number, axle, leans), None),
        (None, Some(_)) => {
            let why = why_not(session, quantity, axle);
            (why.words().into(), Some(why).filter(|why| matches!(why, Why::Needs(_))))
        }
        (None, None) => (describe::NO_LINKAGE.into(), None),
    };
    set_changed(told.words, words);
    set_changed(told.lacks, lacks);
    let difference = session.difference(quantity).map(|difference| difference.words(quantity));
    set_changed(told.difference, difference.unwrap_or_default());
}

/// What a number's sign means, and what else has to be said of it where the other wheel stands otherwise.
#[must_use]
pub fn words(
    session: Session,
    quantity: Quantity,
    number: f64,
    axle: Axle,
    leans: Leans,
) -> Cow<'static, str> {
    let sign = describe::sign(quantity, number, axle);
    let of_axle = if leans.unlike { of_axle(session, quantity) } else { None };
    let note = match of_axle {
        Some(height) => Some(describe::axles_roll_centre(height).into()),
        None => describe::under_lean(quantity, leans.rolls, leans.unlike).map(Cow::from),
    };
    match note {
        Some(note) if sign.is_empty() => note,
        Some(note) => format!("{sign}; {note}").into(),
        None => sign.into(),
    }
}

/// The axle's roll centre, mm above the ground, where this is the corner's.
fn of_axle(session: Session, quantity: Quantity) -> Option<f64> {
    if quantity != Quantity::RollCentreHeight {
        return None;
    }
    let wheels = session.wheels();
    let solved = if wheels.active.get() { wheels.solved.get() } else { None };
    solved?.readings.roll_centre.map(|centre| centre.height)
}

/// Asked only where the reading does not exist, so that the car's numbers are watched only there.
fn why_not(session: Session, quantity: Quantity, axle: Axle) -> Why {
    session.corner.with(|corner| match corner {
        Some(corner) => session
            .document()
            .with(|document| describe::reading::why_not(quantity, corner, &document.vehicle, axle)),
        None => Why::Because(describe::NO_LINKAGE.into()),
    })
}
