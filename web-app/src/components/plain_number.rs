//! A number that is no part of the document: a load, a change that is wanted. A wrong text
//! stays with the sentence that says what is wrong, and what was right before still holds.

use geometry_core::bounds::Bound;
use leptos::prelude::*;

use super::{
    number_input::Fault,
    typing::{Meaning, Typing},
};
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
    let called = label.clone();
    let read = move |text: String| {
        if !needed && text.trim().is_empty() {
            return Ok(None);
        }
        parse_quantity(&text, bound.get().unit).map(Some).map_err(|error| error.to_string())
    };
    let put = move |number: Option<f64>| {
        let allowed = |number| bound.get().check(&called, number).map_err(|error| out_of_bounds(&error));
        set.run(number.map(allowed).transpose()?);
        Ok(())
    };
    let meaning = Meaning {
        show: Callback::new(move |value: Option<f64>| {
            value.map(|now| quantity_text(now, bound.get().unit)).unwrap_or_default()
        }),
        read: Callback::new(read),
        put: Callback::new(put),
    };
    let typing = Typing::new(Memo::new(move |_| value.get()), error, meaning);
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
                aria-invalid=move || typing.wrong.get().then_some("true")
                prop:value=move || typing.text.get()
                on:input=move |event| typing.typed(event_target_value(&event))
                on:blur=move |_| typing.left()
                on:keydown=move |event| typing.key(&event)
            />
            <span class="unit">{move || unit.get()}</span>
            {move || error.get().map(|text| view! {
                <Fault text=format!("{text}. The earlier entry still counts.") />
            })}
        </div>
    }
}
