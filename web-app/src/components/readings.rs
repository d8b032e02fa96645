//! Every number, grouped by what a person asks.

use geometry_core::{
    readings::{Quantity, quantity::Question},
    setup::Axle,
};
use leptos::prelude::*;

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
    let open = RwSignal::new(false);
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
                    aria-expanded=move || open.get().to_string()
                    title="What is this?"
                    on:click=move |_| open.update(|open| *open = !*open)
                >
                    {describe::label(quantity, axle)}
                </button>
            </th>
            <td class="value" data-reading=quantity.name() data-value=exact>{move || shown.get()}</td>
            <td class="words">{move || words.get()}</td>
        </tr>
        {move || open.get().then(|| view! {
            <tr class="definition">
                <td colspan="3">
                    {quantity.definition()} <br /> <span class="source">"Source: " {quantity.source()} "."</span>
                </td>
            </tr>
        })}
    }
}
