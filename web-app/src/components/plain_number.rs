//! A number that is no part of the document: a load, a change that is wanted. A wrong text
//! stays with the sentence that says what is wrong, and what was right before still holds.

use geometry_core::bounds::Bound;
use leptos::prelude::*;

use super::number_input::Fault;
use crate::{
    units::of_field,
    with_unit::{out_of_bounds, parse_quantity, quantity_text},
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
    set: impl Fn(f64) + Send + Sync + 'static,
    /// What is allowed.
    #[prop(into)]
    bound: Signal<Bound>,
) -> impl IntoView {
    let value = Signal::derive(move || Some(value.get()));
    let set = Callback::new(move |value: Option<f64>| {
        if let Some(value) = value {
            set(value);
        }
    });
    view! { <OptionalNumber label=label name=name unit=unit value=value set=set bound=bound needed=true /> }
}

/// The same of a number that need not be given.
#[component]
pub fn OptionalNumber(
    /// What it is called.
    #[prop(into)]
    label: String,
    /// A name for tests.
    #[prop(into)]
    name: String,
    /// Its unit as the bound names it, and what its sign means.
    #[prop(into)]
    unit: Signal<String>,
    /// The value; none is an empty field.
    #[prop(into)]
    value: Signal<Option<f64>>,
    /// Takes a new value, which the bound allows.
    #[prop(into)]
    set: Callback<Option<f64>>,
    /// What is allowed.
    #[prop(into)]
    bound: Signal<Bound>,
    /// Whether the field may not be empty after all.
    #[prop(optional)]
    needed: bool,
) -> impl IntoView {
    let unit = Signal::derive(move || of_field(&unit.get()));
    let error = RwSignal::new(None::<String>);
    let show = move |value: Option<f64>| {
        let unit = bound.get_untracked().unit;
        value.map(|now| untrack(|| quantity_text(now, unit))).unwrap_or_default()
    };
    let text = RwSignal::new(show(value.get_untracked()));
    let read = move |text: &str| {
        if !needed && text.trim().is_empty() {
            return Ok(None);
        }
        parse_quantity(text, bound.get_untracked().unit).map(Some).map_err(|error| error.to_string())
    };
    // Another value from elsewhere takes the text's place; a wrong text stays.
    let value = Memo::new(move |_| value.get());
    let write = move |value: Option<f64>| {
        text.set(show(value));
        error.set(None);
    };
    Effect::new(move |before: Option<Option<f64>>| {
        let now = value.get();
        let other = text.with_untracked(|text| read(text) != Ok(now));
        // Other units alone leave a wrong text to be put right.
        if other && (before != Some(now) || error.with_untracked(Option::is_none)) {
            write(now);
        }
        now
    });
    let called = label.clone();
    let typed = move |new: String| {
        let allowed =
            |number| bound.get_untracked().check(&called, number).map_err(|error| out_of_bounds(&error));
        let outcome = read(&new).and_then(|number| number.map(allowed).transpose());
        text.set(new);
        match outcome {
            Ok(number) => {
                error.set(None);
                set.run(number);
            }
            Err(sentence) => error.set(Some(sentence)),
        }
    };
    let left = move |_| {
        if error.with_untracked(Option::is_none) {
            // Not in another unit than the one that stands beside it.
            write(value.get_untracked());
        }
    };
    let key = move |event: leptos::ev::KeyboardEvent| {
        if event.key() == "Escape" && error.with_untracked(Option::is_some) {
            // What was typed is taken back, and the key is spent.
            event.stop_propagation();
            write(value.get_untracked());
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
                on:blur=left
                on:keydown=key
            />
            <span class="unit">{move || unit.get()}</span>
            {move || error.get().map(|text| view! {
                <Fault text=format!("{text}. The earlier entry still counts.") />
            })}
        </div>
    }
}
