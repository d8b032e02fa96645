//! A number that is no part of the document: a load, a change that is wanted. A wrong text
//! stays with the sentence that says what is wrong, and what was right before still holds.

use geometry_core::bounds::Bound;
use leptos::prelude::*;

use super::number_input::Fault;
use crate::{
    numbers::{DecimalMark, field_text},
    with_unit::parse_quantity,
};

/// The field with its name, its unit and its error.
#[component]
pub fn PlainNumber(
    /// What it is called.
    #[prop(into)]
    label: String,
    /// A name for tests.
    #[prop(into)]
    name: String,
    /// Its unit, and what its sign means.
    #[prop(into)]
    unit: Signal<String>,
    /// The value.
    #[prop(into)]
    value: Signal<f64>,
    /// Takes a new value, which the bound allows.
    set: impl Fn(f64) + Copy + Send + Sync + 'static,
    /// What is allowed.
    #[prop(into)]
    bound: Signal<Bound>,
) -> impl IntoView {
    let error = RwSignal::new(None::<String>);
    let text = RwSignal::new(field_text(value.get_untracked(), DecimalMark::Point));
    // Another value from elsewhere takes the text's place; a wrong text stays.
    let value = Memo::new(move |_| value.get());
    Effect::new(move |_| {
        let now = value.get();
        let same = text.with_untracked(|text| parse_quantity(text, bound.get_untracked().unit) == Ok(now));
        if !same {
            text.set(field_text(now, DecimalMark::Point));
            error.set(None);
        }
    });
    let called = label.clone();
    let typed = move |new: String| {
        let bound = bound.get_untracked();
        let outcome = parse_quantity(&new, bound.unit)
            .map_err(|error| error.to_string())
            .and_then(|number| bound.check(&called, number).map_err(|error| error.to_string()));
        text.set(new);
        match outcome {
            Ok(number) => {
                error.set(None);
                set(number);
            }
            Err(sentence) => error.set(Some(sentence)),
        }
    };
    view! {
        <div class="field">
            <span class="name">{label.clone()}</span>
            <input
                type="text"
                inputmode="decimal"
                autocomplete="off"
                spellcheck="false"
                class="number"
                data-field=name
                aria-label=move || format!("{label}, {}", unit.get())
                aria-invalid=move || error.get().map(|_| "true")
                prop:value=move || text.get()
                on:input=move |event| typed(event_target_value(&event))
            />
            <span class="unit">{move || unit.get()}</span>
            {move || error.get().map(|text| view! {
                <Fault text=format!("{text}. The number before it still holds.") />
            })}
        </div>
    }
}
