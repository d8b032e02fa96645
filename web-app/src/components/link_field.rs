//! A field that takes a link to a setup: the way in for who cannot paste onto the page itself, as on a phone.

use leptos::prelude::*;

use crate::sharing::{self, LinkError};

/// The field with its label and what is wrong.
///
/// A link is read as soon as it stands there; anything else when the field is left. What is wrong stays.
#[component]
pub fn LinkField(
    /// What it asks for.
    label: &'static str,
    /// A name for tests.
    name: &'static str,
    /// Takes the link.
    read: Callback<String, Result<(), LinkError>>,
) -> impl IntoView {
    let error = RwSignal::new(None::<String>);
    let take = move |text: String| {
        if text.trim().is_empty() {
            error.set(None);
            return;
        }
        let outcome = read.run(text);
        let wrong = outcome.err().map(|error| format!("The link was not opened: {error}."));
        // Where it was opened the menu around the field has gone with it. Said once, however often it is read.
        if error.try_with_untracked(|before| *before != wrong).unwrap_or_default() {
            error.set(wrong);
        }
    };
    view! {
        <label class="from-link">
            {label}
            <input
                type="text"
                data-field=name
                autocomplete="off"
                placeholder="…#s=…"
                aria-invalid=move || error.with(|error| error.as_ref().map(|_| "true"))
                on:input=move |event| {
                    let text = event_target_value(&event);
                    if text.contains(sharing::PREFIX) {
                        take(text);
                    }
                }
                on:change=move |event| take(event_target_value(&event))
            />
        </label>
        {move || error.get().map(|text| view! { <p class="field-error" role="alert">{text}</p> })}
    }
}
