//! The whole car: both axles level at the travel of the slider, read only while it is looked at.

use std::sync::Arc;

use geometry_core::{
    axle::{AxleFollower, AxleState, AxleStop, Lean, WheelPair},
    bounds::{self, Bound},
    car::{AxleRates, Car, CarInput, Shares},
    setup::{Axle, Document, Side},
    solve::{Follower, State},
    springing,
};
use leptos::prelude::*;

use super::reference::Kept;
use crate::{
    describe::{
        self,
        input::{Input, Why},
        whole_car::{Answer, End},
    },
    units::Unit,
};

/// Braking or driving, as a person counts it: forward or back is said by the word.
pub const LONGITUDINAL: Bound = Bound { least: 0.0, ..bounds::ACCELERATION };

/// What the page asks by itself.
const USUAL: (f64, f64, Option<f64>) = (1.0, 1.0, None);

/// What is asked of the whole car, and the answer.
#[derive(Clone, Copy)]
pub struct WholeCar {
    /// Whether it is looked at; nothing is computed while it is not.
    pub open: RwSignal<bool>,
    /// Lateral acceleration, g, + to the left.
    pub lateral: RwSignal<f64>,
    /// Braking and driving, g.
    pub longitudinal: RwSignal<f64>,
    /// Share of the braking that is regenerative; the setup's when none.
    pub regeneration: RwSignal<Option<f64>>,
    /// All of that, and the travel.
    pub(super) question: Memo<Question>,
    /// The answer; none while it is not looked at.
    pub answer: Memo<Option<Arc<Answer>>>,
    /// The reference's answer to the same; none without a reference.
    pub reference: Memo<Option<Arc<Answer>>>,
}

/// The document with its corners assembled.
#[derive(PartialEq)]
pub(super) struct Assembled {
    document: Document,
    car: Result<Car, String>,
    /// Both axles by themselves where the car cannot be assembled.
    alone: [Result<Option<WheelPair>, String>; 2],
}

impl WholeCar {
    /// Of a setup, at the travel of the slider, and of the reference.
    pub(super) fn new(
        document: RwSignal<Document>,
        state: RwSignal<State>,
        kept: RwSignal<Option<Arc<Kept>>>,
    ) -> Self {
        let open = RwSignal::new(false);
        let (lateral, longitudinal, regeneration) = USUAL;
        let (lateral, longitudinal) = (RwSignal::new(lateral), RwSignal::new(longitudinal));
        let regeneration = RwSignal::new(regeneration);
        let assembled =
            Memo::new(move |_| open.get().then(|| document.with(|document| Arc::new(assemble(document)))));
        let of_reference = Memo::new(move |_| {
            if open.get() {
                kept.with(|kept| Some(Arc::new(assemble(&kept.as_ref()?.document))))
            } else {
                None
            }
        });
        // The rack stands straight ahead: turning it asks for nothing new.
        let heave = Memo::new(move |_| state.with(|state| state.travel));
        let question = Memo::new(move |_| Question {
            heave: heave.get(),
            lateral: lateral.get(),
            longitudinal: longitudinal.get(),
            regeneration: regeneration.get(),
        });
        let asked = move |assembled: Memo<Option<Arc<Assembled>>>| {
            Memo::new(move |_| {
                let assembled = assembled.get()?;
                Some(Arc::new(question.with(|question| question.ask(&assembled))))
            })
        };
        let (answer, reference) = (asked(assembled), asked(of_reference));
        Self { open, lateral, longitudinal, regeneration, question, answer, reference }
    }

    /// What is asked where that is not what the page asks by itself: lateral and longitudinal acceleration, and the
    /// share of regeneration where it is not the setup's.
    pub(super) fn asked(&self) -> Option<(f64, f64, Option<f64>)> {
        Some((self.lateral.get(), self.longitudinal.get(), self.regeneration.get()))
            .filter(|asked| *asked != USUAL)
    }

    /// Asks that, or what the page asks by itself.
    pub(super) fn ask(&self, asked: Option<(f64, f64, Option<f64>)>) {
        let (lateral, longitudinal, regeneration) = asked.unwrap_or(USUAL);
        self.lateral.set(lateral);
        self.longitudinal.set(longitudinal);
        self.regeneration.set(regeneration);
    }
}

pub(super) fn assemble(document: &Document) -> Assembled {
    let named = |sentence: String| with_names(document, sentence);
    let car = Car::new(document).map_err(|error| named(error.to_string()));
    let alone = match car {
        Ok(_) => [Ok(None), Ok(None)],
        Err(_) => [Axle::Front, Axle::Rear]
            .map(|axle| WheelPair::of(document, axle).map_err(|error| named(error.to_string()))),
    };
    Assembled { document: document.clone(), car, alone }
}

/// A sentence about the car with the names of points and members instead of their paths.
pub(super) fn with_names(document: &Document, mut sentence: String) -> String {
    for axle in [Axle::Front, Axle::Rear] {
        let corners =
            [(axle.name(), document.corner(axle)), (axle.right_name(), document.right_corner(axle))];
        for (name, corner) in corners {
            if let Some(corner) = corner {
                sentence = describe::with_names(sentence, name, corner);
            }
        }
    }
    sentence
}

/// What is asked.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Question {
    heave: f64,
    lateral: f64,
    longitudinal: f64,
    regeneration: Option<f64>,
}

impl Question {
    pub(super) fn ask(&self, assembled: &Assembled) -> Answer {
        let Assembled { document, car, alone } = assembled;
        let state = AxleState { heave: self.heave, ..AxleState::DESIGN };
        let end = |axle: Axle| {
            let alone = &alone[usize::from(axle == Axle::Rear)];
            let pair = match (car, alone) {
                (Ok(car), _) => car.pair(axle),
                (_, Ok(pair)) => pair.as_ref(),
                (_, Err(broken)) => return Err(Why::Because(broken.clone())),
            };
            let missing = || Why::Needs(vec![Input::Corner(axle)]);
            let (pair, corner) = pair.zip(document.corner(axle)).ok_or_else(missing)?;
            let position = AxleFollower::new(pair)
                .go_to(state, Lean::HeaveHeld)
                .map_err(|stop| Why::Because(stopped(axle, &stop)))?;
            let linkage = pair.linkage(Side::Left);
            let mut follower = Follower::new(linkage);
            // As described the follower stands there already, to the last bit.
            if self.heave != 0.0
                && let Some(stop) = follower.go_to(position.wheel(Side::Left).state()).stop()
            {
                return Err(Why::Because(ends(axle, stop.last.travel)));
            }
            let springing = springing::Reader::new(linkage, corner, &document.vehicle, axle).read(&follower);
            Ok((End { springing, wheel_x: corner.wheel.centre[0] }, position))
        };
        let (front, rear) = (end(Axle::Front), end(Axle::Rear));
        let rates = |end: &Result<(End, _), Why>| {
            end.as_ref().map_or_else(|_| AxleRates::default(), |(end, _)| AxleRates::from(&end.springing))
        };
        let mut shares = Shares::of(&document.vehicle);
        shares.regeneration = self.regeneration.or(shares.regeneration);
        let read = |car: &Car| {
            // A described axle that does not reach so far leaves the car unread.
            for end in [&front, &rear] {
                if let Err(why @ Why::Because(_)) = end {
                    return Err(why.clone());
                }
            }
            let input = CarInput {
                front: front.as_ref().ok().map(|(_, position)| position),
                rear: rear.as_ref().ok().map(|(_, position)| position),
                front_rates: rates(&front),
                rear_rates: rates(&rear),
                shares: Some(shares),
                lateral_acceleration: self.lateral,
            };
            car.read(&input).map_err(|error| Why::Because(error.to_string()))
        };
        let car = match car {
            Ok(car) => read(car),
            Err(broken) => Err(Why::Because(broken.clone())),
        };
        Answer {
            lateral: self.lateral,
            longitudinal: self.longitudinal,
            front: front.map(|(end, _)| end),
            rear: rear.map(|(end, _)| end),
            car,
        }
    }
}

/// Why an axle does not follow the slider.
fn stopped(axle: Axle, stop: &AxleStop) -> String {
    match stop {
        AxleStop::Wheel { last, .. } => ends(axle, last.travel),
        other => format!("{} axle: {other}", axle.name()),
    }
}

fn ends(axle: Axle, travel: f64) -> String {
    format!("the {} linkage ends at travel {}", axle.name(), Unit::Millimetre.show(travel))
}
