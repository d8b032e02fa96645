//! A number field that follows the document, accepts what people type, and keeps a wrong
//! text with the sentence that says what is wrong.

use leptos::prelude::*;

use crate::{
    edit::Edit,
    history::Gesture,
    numbers::{DecimalMark, field_text, parse_number},
};

/// A number field.
///
/// What is typed becomes an edit at once when it is a number in range; else the text stays
/// with its error and the document as it was.
#[component]
pub fn NumberInput(
    /// What a screen reader calls the field.
    #[prop(into)]
    label: String,
    /// A name for tests and styles.
    #[prop(into)]
    name: String,
    /// The value in the document.
    #[prop(into)]
    value: Signal<Option<f64>>,
    /// The edit that a new value means.
    edit: impl Fn(Option<f64>) -> Edit + Copy + Send + Sync + 'static,
    /// Whether the field may be empty.
    #[prop(optional)]
    optional: bool,
    /// Where the error is told; shared by the fields of a row.
    error: RwSignal<Option<String>>,
) -> impl IntoView {
    let session = crate::app::session();
    let show = |value: Option<f64>| value.map(|v| field_text(v, DecimalMark::Point)).unwrap_or_default();
    let text = RwSignal::new(show(value.get_untracked()));
    let wrong = RwSignal::new(false);
    // One number per field tells the typing in one from the typing in another.
    let gesture = session.new_gesture();
    let gesture = match gesture {
        Gesture::Held(number) | Gesture::Repeated(number) => Gesture::Repeated(number),
    };
    // The document changed elsewhere (a drag, undo, another setup): the field follows.
    // When the text already means the value, the person is typing it and it stays.
    Effect::new(move |_| {
        let value = value.get();
        let same = text.with_untracked(|text| match (read(text, optional), value) {
            (Ok(typed), value) => typed == value,
            (Err(_), _) => false,
        });
        if !same {
            text.set(show(value));
            if wrong.get_untracked() {
                wrong.set(false);
                error.set(None);
            }
        }
    });
    let typed = move |new: String| {
        let outcome = read(&new, optional)
            .and_then(|number| session.edit(&edit(number), Some(gesture)).map_err(|error| error.to_string()));
        text.set(new);
        match outcome {
            Ok(()) => {
                if wrong.get_untracked() {
                    error.set(None);
                }
                wrong.set(false);
            }
            Err(sentence) => {
                wrong.set(true);
                error.set(Some(sentence));
            }
        }
    };
    let left = move |_| {
        if !wrong.get_untracked() {
            text.set(show(value.get_untracked()));
        }
        session.end_gesture();
    };
    let nudge = move |event: leptos::ev::KeyboardEvent| {
        let step = match event.key().as_str() {
            "ArrowUp" => 1.0,
            "ArrowDown" => -1.0,
            _ => return,
        };
        let Some(now) = value.get_untracked() else { return };
        event.prevent_default();
        let step = step * crate::components::sheet::key_step(event.shift_key(), event.alt_key());
        typed(field_text(crate::numbers::round_to(now + step, 4), DecimalMark::Point));
    };
    view! {
        <input
            type="text"
            inputmode="decimal"
            autocomplete="off"
            spellcheck="false"
            class="number"
            data-field=name
            aria-label=label
            aria-invalid=move || wrong.get().then_some("true")
            prop:value=move || text.get()
            on:input=move |event| typed(event_target_value(&event))
            on:blur=left
            on:keydown=nudge
        />
    }
}

/// The number a text means; none for an empty text where that is allowed.
fn read(text: &str, optional: bool) -> Result<Option<f64>, String> {
    if optional && text.trim().is_empty() {
        return Ok(None);
    }
    parse_number(text).map(Some).map_err(|error| error.to_string())
}

/// The line under a row of fields that says what is wrong in it.
#[component]
pub fn FieldError(
    /// The sentence.
    error: RwSignal<Option<String>>,
) -> impl IntoView {
    move || error.get().map(|text| view! { <p class="field-error" role="alert">{text}</p> })
}
