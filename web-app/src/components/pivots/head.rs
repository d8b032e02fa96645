//! What stands over the table: freedoms, unit and axes, copying and pasting.

use geometry_core::setup::{Axle, Corner, Side};
use leptos::prelude::*;
use leptos::task::spawn_local;

use super::paste::Paste;
use crate::{
    app::session,
    components::car::RightSide,
    describe,
    effects::clipboard,
    lengths::{Axes, Convention, Measure},
    pasted,
};

/// The head of the table.
#[component]
pub fn Head(
    /// Whose corner it is.
    axle: Axle,
) -> impl IntoView {
    let session = session();
    let held =
        Memo::new(move |_| session.corner.with(|corner| corner.as_ref().map_or(0, Corner::freedoms_removed)));
    view! {
        <p class="freedoms" class:wrong=move || held.get() != 5 data-freedoms=move || held.get()>
            {move || describe::freedoms(held.get())}
        </p>
        <div class="pivots-tools">
            <Conventions />
            <Blocks />
        </div>
        <RightSide axle=axle />
        <p class="axes" data-axes>{move || axes_words(session.convention.get(), session.side.get())}</p>
        <details class="hint">
            <summary>"How to type and move"</summary>
            <p>
                "A number without a unit is in the chosen one; mm or in behind it says otherwise. A fraction such as \
                 3 1/2 or 7/16 is always of an inch. The setup itself is kept in mm."
            </p>
            <p>
                "Arrow up and down, Enter and Shift Enter go from row to row. With Alt an arrow key changes the number \
                 by 0.1 mm, with Alt and Shift by 10 mm. Cells copied from a spreadsheet can be pasted into any cell: \
                 you see how they are read before anything changes."
            </p>
        </details>
    }
}

fn axes_words(convention: Convention, side: Side) -> String {
    let unit = match convention.measure {
        Measure::Millimetre => "In mm",
        Measure::InchDecimal => "In inches, shown to four decimals",
        Measure::InchFraction => "In inches, shown to the nearest 1/64",
    };
    format!("{unit}; {}", convention.axes.words(side))
}

/// The menus for unit and axes.
#[component]
pub fn Conventions() -> impl IntoView {
    let session = session();
    let convention = session.convention;
    let measures = Measure::ALL.map(|measure| {
        let chosen = move || convention.get().measure == measure;
        view! { <option value=measure.name() prop:selected=chosen>{measure.label()}</option> }
    });
    let axes = Axes::ALL.map(|axes| {
        let chosen = move || convention.get().axes == axes;
        view! { <option value=axes.name() prop:selected=chosen>{axes.label()}</option> }
    });
    let set_measure = move |event: web_sys::Event| {
        let name = event_target_value(&event);
        if let Some(measure) = Measure::ALL.into_iter().find(|measure| measure.name() == name) {
            session.write_in(Convention { measure, ..convention.get_untracked() });
        }
    };
    let set_axes = move |event: web_sys::Event| {
        let name = event_target_value(&event);
        if let Some(axes) = Axes::ALL.into_iter().find(|axes| axes.name() == name) {
            session.write_in(Convention { axes, ..convention.get_untracked() });
        }
    };
    view! {
        <select data-choice="measure" aria-label="Unit of the coordinates, and with it of all numbers" on:change=set_measure>
            {measures.into_iter().collect_view()}
        </select>
        <select data-choice="axes" aria-label="Axes of the coordinates" on:change=set_axes>
            {axes.into_iter().collect_view()}
        </select>
    }
}

/// The buttons that copy and paste all pivots, and what came of it.
#[component]
fn Blocks() -> impl IntoView {
    let session = session();
    let paste = expect_context::<Paste>();
    let said = RwSignal::new(String::new());
    // What the browser did not take, to be copied by hand.
    let by_hand = RwSignal::new(None::<String>);
    let copy = move |_| {
        let (convention, side) = (session.convention.get_untracked(), session.side.get_untracked());
        let targets = session.corner.with_untracked(|corner| corner.as_ref().map(pasted::targets));
        let targets = targets.unwrap_or_default();
        let text = pasted::written(&targets, convention, side);
        let count = targets.len();
        spawn_local(async move {
            if clipboard::copy(&text).await {
                by_hand.try_set(None);
                let (unit, axes) = (convention.measure.symbol(), convention.axes.label());
                said.try_set(format!(
                    "{count} points are on the clipboard: name, x, y, z in {unit}, {axes}."
                ));
            } else {
                by_hand.try_set(Some(text));
                said.try_set(
                    "This browser does not let the page copy; mark the lines and copy them by hand.".into(),
                );
            }
        });
    };
    view! {
        <button data-do="copy-pivots" on:click=copy>"Copy pivots"</button>
        <button data-do="paste-pivots" on:click=move |_| paste.show(session, String::new(), None, 0)>
            "Paste pivots"
        </button>
        <p class="hint" role="status" data-said="copied">{move || said.get()}</p>
        {move || by_hand.get().map(|text| view! {
            <textarea readonly rows="5" class="block" data-field="copied" aria-label="Pivots to be copied" prop:value=text></textarea>
        })}
    }
}
