//! A number field that follows the document, accepts what people type, and keeps a wrong
//! text with the sentence that says what is wrong.

use leptos::{html, prelude::*};
use wasm_bindgen::JsCast;

use super::{
    panel::Open,
    typing::{Meaning, Typing, WrongTexts},
};
use crate::{
    edit::{Edit, EditError},
    effects::focus,
    history::Gesture,
    lengths::Form,
    numbers::{field_text, round_to},
    units::{self, System, Unit},
    with_unit::{parse_quantity, quantity_text},
};

/// A number field.
///
/// What is typed becomes an edit at once when it is a number in range; else the text stays
/// with its error and the document as it was.
#[component]
pub fn NumberInput(
    /// What a screen reader calls the field.
    #[prop(into)]
    label: Signal<String>,
    /// A name for tests and styles.
    #[prop(into)]
    name: String,
    /// The value in the document.
    #[prop(into)]
    value: Signal<Option<f64>>,
    /// The edit that a new value means.
    #[prop(into)]
    edit: Callback<Option<f64>, Edit>,
    /// Whether the field may be empty.
    #[prop(optional)]
    optional: bool,
    /// Where the error is told; shared by the fields of a row.
    error: RwSignal<Option<String>>,
    /// For a coordinate: how it is written. The field is then a cell of a table, in which the
    /// arrow keys up and down go from row to row; with Alt they change the number.
    #[prop(optional)]
    cell: Option<Cell>,
    /// For one that is made anew with what stands around it: a name that lasts, by which a wrong text comes back.
    #[prop(optional, into)]
    outlives_as: Option<String>,
    /// For anything else: the unit it is in, as its bound names it, which another may stand in for.
    #[prop(optional)]
    unit: &'static str,
) -> impl IntoView {
    let session = crate::app::session();
    let form = Memo::new(move |_| cell.map(|cell| cell.form.get()));
    // One number per field tells the typing in one from the typing in another. However long one thinks between two
    // digits, what is typed until the field is left is one step; arrow keys are another after a pause.
    let typed = session.new_gesture();
    let gesture = StoredValue::new(typed);
    let value = followed(value);
    let put = move |number| {
        let refused = |error: EditError| with_percent(named(&error, &label.get_untracked(), cell), number);
        session.edit(&edit.run(number), Some(gesture.get_value())).map_err(refused)
    };
    let meaning = Meaning {
        show: Callback::new(move |value| written(form.get(), unit, value)),
        read: Callback::new(move |text: String| read(form.get(), unit, &text, optional)),
        put: Callback::new(put),
    };
    let typing = Typing::new(value, error, meaning);
    if let Some((texts, name)) = use_context::<WrongTexts>().zip(outlives_as) {
        typing.outlive(texts, name);
    }
    let left = move |_| {
        typing.left();
        session.end_gesture();
    };
    let nudge = move |event: leptos::ev::KeyboardEvent| {
        if typing.take_back(&event) {
            return;
        }
        if event.key() == "Enter" && typing.done() {
            session.end_gesture();
        }
        let Some(up) = upward(&event, cell.is_some()) else { return };
        let form = form.get_untracked();
        if form.is_some() && (event.key() == "Enter" || !event.alt_key()) {
            event.prevent_default();
            go(&event, up);
            return;
        }
        let Some(now) = value.get_untracked() else { return };
        event.prevent_default();
        let step = if form.is_some() { 1.0 } else { step_in(unit) }
            * crate::components::sheet::key_step(event.shift_key(), event.alt_key());
        let (Gesture::Held(number) | Gesture::Repeated(number)) = typed;
        gesture.set_value(Gesture::Repeated(number));
        typing.put(nudged(form, unit, now, if up { step } else { -step }));
        gesture.set_value(typed);
    };
    view! {
        <input
            type="text"
            inputmode="decimal"
            autocomplete="off"
            spellcheck="false"
            class="number"
            data-field=name
            data-column=cell.map(|cell| cell.column)
            aria-label=move || label.get()
            aria-invalid=move || typing.wrong.get().then_some("true")
            prop:value=move || typing.text.get()
            on:input=move |event| typing.typed(event_target_value(&event))
            on:blur=left
            on:keydown=nudge
            on:paste=move |event| take_block(cell, &event)
        />
    }
}

/// What an arrow key changes a number of a unit by, in the reader's, where of a coordinate it is 1 mm.
fn step_in(unit: &str) -> f64 {
    match Unit::named(unit) {
        Unit::Ratio => 0.01,
        Unit::Degree => 0.1,
        Unit::Millimetre if units::chosen() == System::Customary => 0.05,
        _ => 1.0,
    }
}

/// Whether a key goes or steps upward; none of any other key.
fn upward(event: &web_sys::KeyboardEvent, in_table: bool) -> Option<bool> {
    match event.key().as_str() {
        "ArrowUp" => Some(true),
        "ArrowDown" => Some(false),
        "Enter" if in_table => Some(event.shift_key()),
        _ => None,
    }
}

/// Of a share that was refused, that it may be given in hundredths, as many think of it.
fn with_percent(sentence: String, number: Option<f64>) -> String {
    match number.filter(|number| (1.0..=100.0).contains(number)) {
        Some(number) if sentence.contains("between 0 and 1;") => {
            format!("{sentence}; {} % is read too", field_text(number))
        }
        _ => sentence,
    }
}

/// Why an edit was refused, with the field's own name in the place of its path in the document. Its
/// unit, after *in* in a cell and after a comma elsewhere, is said with what is allowed.
fn named(error: &EditError, label: &str, cell: Option<Cell>) -> String {
    let sentence = error.to_string();
    let name = if cell.is_some() { label.rsplit_once(" in ") } else { label.split_once(',') };
    let name = name.map_or(label, |(name, _)| name);
    match sentence.split_once(' ') {
        Some((path, rest)) if path.contains('.') && !path.ends_with(':') => format!("{name} {rest}"),
        _ => sentence,
    }
}

/// A field's own value only: what happens to the rest of the corner is not its matter. A field
/// that is not to be seen follows when it is again.
fn followed(value: Signal<Option<f64>>) -> Memo<Option<f64>> {
    let open = use_context::<Open>();
    Memo::new(move |before: Option<&Option<f64>>| match before {
        Some(before) if open.is_some_and(|Open(open)| !open.get()) => *before,
        _ => value.get(),
    })
}

/// What makes a number field a cell of the table of pivots.
#[derive(Clone, Copy)]
pub struct Cell {
    /// How the coordinate is written.
    pub form: Signal<Form>,
    /// The column's letter.
    pub column: &'static str,
    /// Takes a pasted text and says whether it was a block of cells, not one number.
    pub block: Callback<String, bool>,
}

/// A block of cells that is pasted into one is taken by the table; all else by the browser.
fn take_block(cell: Option<Cell>, event: &web_sys::ClipboardEvent) {
    let (Some(cell), Some(data)) = (cell, event.clipboard_data()) else { return };
    if data.get_data("text/plain").is_ok_and(|text| cell.block.run(text)) {
        event.prevent_default();
    }
}

/// Goes to the cell above or below in the same column and marks its text, so that typing
/// replaces it.
fn go(event: &web_sys::KeyboardEvent, up: bool) {
    let cell = event.target().and_then(|target| target.dyn_into::<web_sys::HtmlInputElement>().ok());
    let Some(cell) = cell else { return };
    let Some(column) = cell.get_attribute("data-column") else { return };
    let Ok(Some(table)) = cell.closest("[role=tabpanel]") else { return };
    let Ok(cells) = table.query_selector_all(&format!("[data-column={column}]")) else { return };
    let all = (0..cells.length()).filter_map(|i| cells.item(i)?.dyn_into::<web_sys::HtmlInputElement>().ok());
    let all: Vec<_> = all.collect();
    let Some(here) = all.iter().position(|other| *other == cell) else { return };
    let next = if up { here.checked_sub(1) } else { here.checked_add(1) };
    if let Some(next) = next.and_then(|next| all.get(next)) {
        // Both fail only for a field that is gone.
        let _ = next.focus();
        next.select();
    }
}

/// The number a text means; none for an empty text where that is allowed.
fn read(form: Option<Form>, unit: &str, text: &str, optional: bool) -> Result<Option<f64>, String> {
    if let Some(form) = form {
        return form.read(text).map(Some).map_err(|error| error.to_string());
    }
    if optional && text.trim().is_empty() {
        return Ok(None);
    }
    parse_quantity(text, unit).map(Some).map_err(|error| error.to_string())
}

/// What a field shows of a number.
fn written(form: Option<Form>, unit: &str, value: Option<f64>) -> String {
    match (form, value) {
        (_, None) => String::new(),
        (Some(form), Some(value)) => form.text(value),
        (None, Some(value)) => quantity_text(value, unit),
    }
}

/// A number that has been changed by a key, by so much of the reader's unit. What is shown grows with the key upward,
/// whichever way the document counts.
fn nudged(form: Option<Form>, unit: &str, now: f64, step: f64) -> f64 {
    let step = match form {
        // Coordinates step in mm in either unit, as on the sheet.
        Some(form) => {
            if form.flipped {
                -step
            } else {
                step
            }
        }
        None => step * Unit::named(unit).here().one,
    };
    round_to(now + step, 4)
}

/// The line under a row of fields that says what is wrong in it.
#[component]
pub fn FieldError(
    /// The sentence.
    error: RwSignal<Option<String>>,
) -> impl IntoView {
    move || error.get().map(|text| view! { <Fault text=text /> })
}

/// A sentence that says what is wrong, brought into sight: under the last field of a short panel it would
/// stand below the edge.
#[component]
pub fn Fault(
    /// The sentence.
    text: String,
) -> impl IntoView {
    let line = NodeRef::<html::P>::new();
    Effect::new(move |_| {
        if let Some(line) = line.get() {
            focus::show(&line);
        }
    });
    view! { <p class="field-error" role="alert" node_ref=line>{text}</p> }
}
