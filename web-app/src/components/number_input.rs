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
    // Its own value only: what happens to the rest of the corner is not this field's matter.
    let value = Memo::new(move |_| value.get());
    // The value when the typing began: a text that turns out wrong leaves nothing of what
    // its first digits meant.
    let start: StoredValue<Option<Option<f64>>> = StoredValue::new(None);
    // The document changed elsewhere (a drag, undo, another setup): the field follows.
    // A text that already means the value, or a wrong one that left it alone, stays.
    Effect::new(move |_| {
        let value = value.get();
        if wrong.get_untracked() && start.get_value() == Some(value) {
            return;
        }
        let same = text.with_untracked(|text| read(text, optional) == Ok(value));
        if !same {
            text.set(show(value));
            start.set_value(None);
            if wrong.get_untracked() {
                wrong.set(false);
                error.set(None);
            }
        }
    });
    let typed = move |new: String| {
        let began = start.get_value().unwrap_or_else(|| value.get_untracked());
        start.set_value(Some(began));
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
                // It was in the document before, so it is not refused now.
                let _ = session.edit(&edit(began), Some(gesture));
            }
        }
    };
    let left = move |_| {
        if !wrong.get_untracked() {
            text.set(show(value.get_untracked()));
            start.set_value(None);
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
