//! The handful of numbers this corner is about, in large type, live; a press draws how one
//! is found. Which they are is chosen by the stars of the readings.

use geometry_core::{readings::Quantity, setup::Axle};
use leptos::prelude::*;

use super::{beside::DifferenceWords, trust::TrustWords};
use crate::{
    app::session,
    describe,
    session::{Tab, headline::Headline, readout::Readout},
};

/// The headline.
#[component]
pub fn HeadlineNumbers() -> impl IntoView {
    let session = session();
    let headline = expect_context::<Headline>();
    // A memo: the tiles stand while the corner is edited, and keep the focus.
    let shown = Memo::new(move |_| {
        let steers = headline.steers.get();
        headline.choice.with(|choice| choice.shown(steers).to_vec())
    });
    let tiles = move || {
        let axle = session.axle.get();
        shown.get().into_iter().map(|quantity| view! { <Tile quantity=quantity axle=axle /> }).collect_view()
    };
    // Where the linkage ends the numbers are of the end, and not of what was asked for.
    let stopped = Memo::new(move |_| {
        session.solved.with(|solved| solved.as_ref().is_some_and(|solved| solved.stopped.is_some()))
    });
    let is_empty = move || shown.with(Vec::is_empty);
    view! {
        <section class="headline" class:stopped=move || stopped.get() aria-label="Headline numbers">
            {tiles}
            {move || is_empty().then(|| view! {
                <p class="hint">"No number stands here. The star beside a reading puts it here."</p>
            })}
        </section>
    }
}

#[component]
fn Tile(quantity: Quantity, axle: Axle) -> impl IntoView {
    let session = session();
    let readout = expect_context::<Readout>();
    let (told, figure) = (readout.of(quantity), readout.figure(quantity));
    view! {
        <button
            class="tile"
            title=quantity.definition()
            data-tile=quantity.name()
            aria-pressed=move || (session.chosen.get() == Some(quantity)).to_string()
            on:click=move |_| {
                session.choose(quantity);
                // Where it is told what the lines on the sheet are.
                if session.chosen.get_untracked().is_some() {
                    session.tab.set(Tab::Readings);
                }
            }
        >
            <span class="name">{describe::label(quantity, axle)}</span>
            <span class="number">
                <span class="value">
                    <span class="figure" data-headline=quantity.name() node_ref=figure.place()></span>
                </span>
                <TrustWords quantity=quantity />
                <span class="apart"><DifferenceWords quantity=quantity narrow=true /></span>
            </span>
            <span class="words">{move || told.words.get()}</span>
        </button>
    }
}
