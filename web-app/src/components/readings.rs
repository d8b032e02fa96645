//! Every number, grouped by what a person asks. The row that is chosen tells how its number
//! is found; the sheet draws it.

use geometry_core::{
    readings::{Quantity, quantity::Question},
    setup::Axle,
};
use leptos::{html, prelude::*};

use super::{
    beside::DifferenceWords,
    trust::{HowFar, TrustWords},
    why::Reason,
};
use crate::{
    app::session,
    describe,
    effects::{focus, sight::Sight},
    session::{
        headline::{Full, Headline},
        readout::Readout,
    },
};

/// The table of readings.
#[component]
pub fn Readings() -> impl IntoView {
    let session = session();
    let groups = move || {
        let axle = session.axle.get();
        Question::ALL
            .into_iter()
            .map(|question| view! { <Group question=question axle=axle /> })
            .collect_view()
    };
    let headline = expect_context::<Headline>();
    let own = move || headline.choice.with(|choice| choice.is_own(headline.steers.get()));
    view! {
        <p class="hint">
            "A star puts a reading into the headline above, or takes it out. "
            {move || own().then(|| view! {
                <button class="lacking" data-do="usual-headline" on:click=move |_| {
                    headline.reset();
                    focus::go_to(".readings [aria-pressed]".into());
                }>
                    "The usual headline again"
                </button>
            })}
        </p>
        <HowFar />
        <div class="readings-list">{groups}</div>
    }
}

/// The readings that answer a question.
#[component]
fn Group(question: Question, axle: Axle) -> impl IntoView {
    let table = NodeRef::new();
    let sight = Sight::of(table);
    let rows = Quantity::ALL.into_iter().filter(|quantity| quantity.question() == question);
    let rows = rows.map(|quantity| view! { <Row quantity=quantity axle=axle sight=sight /> }).collect_view();
    view! {
        <table class="readings" node_ref=table>
            <caption>{describe::question(question)}</caption>
            <tbody>{rows}</tbody>
        </table>
    }
}

#[component]
fn Row(quantity: Quantity, axle: Axle, sight: Sight) -> impl IntoView {
    let session = session();
    let chosen = Memo::new(move |_| session.chosen.get() == Some(quantity));
    let readout = expect_context::<Readout>();
    let (told, figure) = (readout.of(quantity), readout.figure(quantity).within(sight));
    let label = describe::label(quantity, axle);
    let headline = expect_context::<Headline>();
    let pinned = Memo::new(move |_| headline.holds(quantity));
    let pin = move |_| {
        let full = Full.to_string();
        match headline.toggle(quantity) {
            Err(Full) => session.complain(full),
            // There is room again: what was said of it is over.
            Ok(()) if session.notice.with_untracked(|n| n.as_ref().is_some_and(|n| n.text == full)) => {
                session.notice.set(None);
            }
            Ok(()) => {}
        }
    };
    let usual = move || describe::reading::usual(quantity, axle);
    // Buttons where an input is missing, else words.
    let said = move || match told.lacks.get() {
        Some(why) => view! { <Reason why=why /> }.into_any(),
        None => view! { {move || told.words.get()} }.into_any(),
    };
    view! {
        <tr>
            <th scope="row">
                <button
                    class="pin"
                    data-pin=quantity.name()
                    aria-pressed=move || pinned.get().to_string()
                    aria-label=format!("{label} in the headline")
                    title=move || if pinned.get() { "Take it out of the headline" } else { "Put it into the headline" }
                    on:click=pin
                >
                    {move || if pinned.get() { "★" } else { "☆" }}
                </button>
                <button
                    class="quiet"
                    data-choose=quantity.name()
                    aria-pressed=move || chosen.get().to_string()
                    aria-expanded=move || chosen.get().to_string()
                    title="What is this, and how is it found?"
                    on:click=move |_| session.choose(quantity)
                >
                    {label}
                </button>
            </th>
            <td class="value">
                <span class="figure" data-reading=quantity.name() node_ref=figure.place()></span>
            </td>
            <td class="words">
                {said} <TrustWords quantity=quantity /> <DifferenceWords quantity=quantity />
                {move || usual().map(|(range, _)| view! { <span class="usual" hidden=move || told.lacks.with(Option::is_some)>"usual " {range}</span> })}
            </td>
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
            // With the row above it, which names it; a tile may have chosen it.
            focus::bring(row.previous_element_sibling().as_ref().unwrap_or(&row), &row);
        }
    });
    let sentence = move || {
        session
            .found
            .with(|found| found.as_ref().map(|found| describe::finding::sentence(quantity, axle, found)))
    };
    let value = move || session.solved.with(|solved| quantity.value(&solved.as_ref()?.readings));
    let over_travel =
        Memo::new(move |_| value().and_then(|value| describe::reading::over_travel(quantity, value)));
    let usual = move || describe::reading::usual(quantity, axle);
    view! {
        <tr class="definition" data-definition=quantity.name() node_ref=row>
            <td colspan="3">
                <p>
                    {quantity.definition()} " " <span class="formula">"Formula: " {describe::reading::formula(quantity)}</span>
                    " " {move || over_travel.get()}
                </p>
                <p class="source">"Source: " {quantity.source()} "."</p>
                {move || usual().map(|(range, source)| view! { <p class="source">"Usual: " {range} " (" {source} ")."</p> })}
                <p class="finding" tabindex="-1" data-finding=quantity.name()>{sentence}</p>
                <p class="keys">
                    {move || {
                        let compares = session.found.with(|found| {
                            found.as_ref().is_some_and(|f| f.construction.as_ref().is_some_and(|c| c.shortcut.is_some()))
                        });
                        if compares { "On the sheet: solid exact, dashed the shortcut. Escape leaves." } else { "Escape leaves." }
                    }}
                </p>
            </td>
        </tr>
    }
}
