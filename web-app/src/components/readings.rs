//! Every number, grouped by what a person asks. The row that is chosen tells how its number
//! is found; the sheet draws it.

use geometry_core::{
    readings::{Quantity, quantity::Question},
    setup::Axle,
};
use leptos::{html, prelude::*};
use web_sys::HtmlElement;

use super::beside::DifferenceWords;
use crate::{app::session, describe, session::Session};

const QUESTIONS: [Question; 5] =
    [Question::Stands, Question::Steers, Question::Moves, Question::Leans, Question::Springs];

/// The table of readings.
#[component]
pub fn Readings() -> impl IntoView {
    let session = session();
    let groups = move || {
        let axle = session.axle.get();
        QUESTIONS
            .into_iter()
            .map(|question| {
                let rows = Quantity::ALL.into_iter().filter(|quantity| quantity.question() == question);
                let rows = rows.map(|quantity| view! { <Row quantity=quantity axle=axle /> }).collect_view();
                view! {
                    <table class="readings">
                        <caption>{describe::question(question)}</caption>
                        <tbody>{rows}</tbody>
                    </table>
                }
            })
            .collect_view()
    };
    view! { <div class="readings-list">{groups}</div> }
}

/// A reading as the page tells it, in the table and in the headline alike.
pub(super) struct Told {
    /// The number, or why it does not exist; nothing without a linkage.
    pub(super) value: Memo<Option<Result<f64, &'static str>>>,
    /// Number and unit.
    pub(super) shown: Signal<String>,
    /// The sign in words, or the reason.
    pub(super) words: Signal<&'static str>,
}

pub(super) fn told(session: Session, quantity: Quantity, axle: Axle) -> Told {
    let value = Memo::new(move |_| {
        session.solved.with(|solved| {
            let readings = &solved.as_ref()?.readings;
            Some(quantity.value(readings).ok_or_else(|| describe::missing(quantity, readings)))
        })
    });
    let shown = Signal::derive(move || match value.get() {
        Some(Ok(number)) => describe::value(quantity, number),
        _ => "—".into(),
    });
    let words = Signal::derive(move || match value.get() {
        Some(Ok(number)) => describe::sign(quantity, number, axle),
        Some(Err(reason)) => reason,
        None => "no linkage to read",
    });
    Told { value, shown, words }
}

#[component]
fn Row(quantity: Quantity, axle: Axle) -> impl IntoView {
    let session = session();
    let chosen = Memo::new(move |_| session.chosen.get() == Some(quantity));
    let Told { value, shown, words } = told(session, quantity, axle);
    // Full precision for programs and tests; the visible text is rounded for people.
    let exact = move || match value.get() {
        Some(Ok(number)) => number.to_string(),
        _ => String::new(),
    };
    view! {
        <tr>
            <th scope="row">
                <button
                    class="quiet"
                    data-choose=quantity.name()
                    aria-pressed=move || chosen.get().to_string()
                    title="What is this, and how is it found?"
                    on:click=move |_| session.choose(quantity)
                >
                    {describe::label(quantity, axle)}
                </button>
            </th>
            <td class="value" data-reading=quantity.name() data-value=exact>{move || shown.get()}</td>
            <td class="words">{move || words.get()} <DifferenceWords quantity=quantity /></td>
        </tr>
        {move || chosen.get().then(|| view! { <Finding quantity=quantity axle=axle /> })}
    }
}

/// What the chosen reading is, how it is found, and how far off the shortcut is.
#[component]
fn Finding(quantity: Quantity, axle: Axle) -> impl IntoView {
    let session = session();
    let row = NodeRef::<html::Tr>::new();
    Effect::new(move |_| {
        if let Some(row) = row.get() {
            bring_into_panel(&row);
        }
    });
    let sentence = move || {
        session
            .found
            .with(|found| found.as_ref().map(|found| describe::finding::sentence(quantity, axle, found)))
    };
    view! {
        <tr class="definition" node_ref=row>
            <td colspan="3">
                <p>{quantity.definition()} <br /> <span class="source">"Source: " {quantity.source()} "."</span></p>
                <p class="finding" data-finding=quantity.name()>{sentence}</p>
                <p class="keys">"On the sheet: solid exact, dashed the shortcut. Escape leaves."</p>
            </td>
        </tr>
    }
}

/// Scrolls the panel, never the page, until a row stands in it: a tile above may have chosen
/// it.
fn bring_into_panel(row: &HtmlElement) {
    let Ok(Some(panel)) = row.closest("[role=tabpanel]") else { return };
    let (row, frame) = (row.get_bounding_client_rect(), panel.get_bounding_client_rect());
    if row.top() < frame.top() || row.bottom() > frame.bottom() {
        let middle = (frame.height() - row.height()) / 2.0;
        // Whole pixels are fine enough, and a panel is never so long that they overflow.
        #[expect(clippy::cast_possible_truncation, reason = "a panel has thousands of pixels")]
        panel.set_scroll_top(panel.scroll_top() + (row.top() - frame.top() - middle) as i32);
    }
}
