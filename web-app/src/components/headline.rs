//! The handful of numbers this corner is about, in large type, live; a press draws how one
//! is found.

use geometry_core::{readings::Quantity, setup::Axle};
use leptos::prelude::*;

use super::{
    beside::DifferenceWords,
    readings::{Told, told},
};
use crate::{app::session, describe};

/// What stands in the headline of a steered corner, and of one that is not.
const STEERED: [Quantity; 8] = [
    Quantity::RollCentreHeight,
    Quantity::CamberGain,
    Quantity::KingpinInclination,
    Quantity::Caster,
    Quantity::ScrubRadius,
    Quantity::MechanicalTrail,
    Quantity::AntiBrakingFriction,
    Quantity::BumpSteer,
];
const NOT_STEERED: [Quantity; 6] = [
    Quantity::RollCentreHeight,
    Quantity::CamberGain,
    Quantity::AntiBrakingFriction,
    Quantity::AntiDrivingShaft,
    Quantity::SpringMotionRatio,
    Quantity::BumpSteer,
];

/// The headline.
#[component]
pub fn Headline() -> impl IntoView {
    let session = session();
    let steers = Memo::new(move |_| session.linkage.with(|l| l.as_ref().map_or(true, |l| l.steers())));
    let tiles = move || {
        let axle = session.axle.get();
        let shown: &'static [Quantity] = if steers.get() { &STEERED } else { &NOT_STEERED };
        shown.iter().map(|quantity| view! { <Tile quantity=*quantity axle=axle /> }).collect_view()
    };
    view! { <section class="headline" aria-label="Headline numbers">{tiles}</section> }
}

#[component]
fn Tile(quantity: Quantity, axle: Axle) -> impl IntoView {
    let session = session();
    let Told { shown, words, .. } = told(session, quantity, axle);
    view! {
        <button
            class="tile"
            title=quantity.definition()
            data-tile=quantity.name()
            aria-pressed=move || (session.chosen.get() == Some(quantity)).to_string()
            on:click=move |_| session.choose(quantity)
        >
            <span class="name">{describe::label(quantity, axle)}</span>
            <span class="number">
                <span class="value" data-headline=quantity.name()>{move || shown.get()}</span>
                <DifferenceWords quantity=quantity />
            </span>
            <span class="words">{move || words.get()}</span>
        </button>
    }
}
