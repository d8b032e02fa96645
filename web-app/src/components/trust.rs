//! How far to trust the readings, given how well the corner was measured.

use geometry_core::{
    bounds::{ANGLE_DOUBT, LENGTH_DOUBT},
    readings::Quantity,
};
use leptos::prelude::*;

use super::plain_number::PlainNumber;
use crate::{app::session, session::readout::Readout};

/// Asks how well the corner was measured, and has every reading say how uncertain that leaves it.
#[component]
pub(super) fn HowFar() -> impl IntoView {
    let session = session();
    let trust = session.trust();
    let measured = trust.measured;
    view! {
        <p class="hint">
            <button
                data-do="trust"
                aria-pressed=move || trust.shown.get().to_string()
                title="Show beside every reading how uncertain measuring leaves it"
                on:click=move |_| trust.shown.update(|shown| *shown = !*shown)
            >
                "± How far to trust them"
            </button>
        </p>
        <fieldset class="fields" data-part="trust" hidden=move || !trust.shown.get()>
            <legend>"How well was it measured?"</legend>
            <PlainNumber
                label="Points and radius, to ±"
                name="trust.length"
                unit=Signal::stored("mm".to_owned())
                value=Signal::derive(move || measured.get().length)
                set=move |length| measured.update(|measured| measured.length = length)
                bound=LENGTH_DOUBT
            />
            <PlainNumber
                label="Camber and toe, to ±"
                name="trust.angle"
                unit=Signal::stored("°".to_owned())
                value=Signal::derive(move || measured.get().angle)
                set=move |angle| measured.update(|measured| measured.angle = angle)
                bound=ANGLE_DOUBT
            />
            <p class="hint">
                "Tape and plumb line: 2 to 3 mm; an angle gauge: 0.1° (common practice, no source). Every coordinate, the \
                 loaded radius, camber and toe may be off by so much, each for itself; what that makes of a reading adds \
                 up by slopes as the root of the squares (JCGM 100:2008, 5.1), and is as sure as your ± is. Not in it: a \
                 crooked datum, which all points share; the car’s wheelbase, height of the centre of gravity and shares."
            </p>
            {move || session.reference.kept.with(Option::is_some).then(|| view! {
                <p class="hint" data-said="trust-difference">
                    "The ± is of the number itself. Of a difference to a reference with the same points most of it cancels: it \
                     is known far better."
                </p>
            })}
        </fieldset>
    }
}

/// How uncertain a reading is; nothing where that is not asked.
#[component]
pub(super) fn TrustWords(quantity: Quantity) -> impl IntoView {
    let told = expect_context::<Readout>().of(quantity);
    move || {
        Some(told.trust.get()).filter(|words| !words.is_empty()).map(|words| {
            view! { <span class="trust" data-trust=quantity.name()>{words}</span> }
        })
    }
}
