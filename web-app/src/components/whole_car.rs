//! The whole car: both axles' springing side by side, roll axis, load transfer, dive and squat.

use geometry_core::{bounds, setup::Axle};
use leptos::prelude::*;

use super::{
    plain_number::{OptionalNumber, PlainNumber},
    trust::{Differs, Doubted, HowFarHere, doubt_words},
    why::{Around, Reason},
};
use crate::{
    app::session,
    describe::{
        input::Why,
        whole_car::{Answer, Cell, GROUPS, Of, Row, Rows},
    },
    numbers::field_text,
    session::{Tab, doubts::Doubts, whole_car::LONGITUDINAL},
    units::Unit,
};

/// The question and the tables.
#[component]
pub fn WholeCar() -> impl IntoView {
    let session = session();
    let question = session.whole_car();
    let at = move || {
        let travel = session.state.with(|state| state.travel);
        let where_to = if travel == 0.0 {
            "as described".to_string()
        } else {
            let side = if travel > 0.0 { "dropped" } else { "risen" };
            format!("with the body {side} by {} (the travel above)", Unit::Millimetre.show(travel.abs()))
        };
        format!("Both axles level {where_to}, rack straight ahead.")
    };
    let right = move || {
        session
            .document()
            .with(|d| d.right_corner(Axle::Front).is_some() || d.right_corner(Axle::Rear).is_some())
    };
    let right = Memo::new(move |_| right());
    let of_setup =
        Memo::new(move |_| session.document().with(|document| document.vehicle.regeneration_share));
    let hint = move || match of_setup.get() {
        Some(share) => format!("share, 0 to 1; empty: the setup’s {}", field_text(share)),
        None => "share, 0 to 1; empty: none".to_string(),
    };
    let told = RwSignal::new(None::<&'static str>);
    view! {
        <fieldset class="fields asked">
            <legend>"What is asked"</legend>
            <PlainNumber
                name="asked.lateral"
                label="Lateral acceleration"
                unit=Signal::stored("g, + bend to the left".to_string())
                bound=bounds::LATERAL_ACCELERATION
                value=question.lateral
                set=move |value| question.lateral.set(value)
            />
            <PlainNumber
                name="asked.longitudinal"
                label="Braking, driving"
                unit=Signal::stored("g".to_string())
                bound=LONGITUDINAL
                value=question.longitudinal
                set=move |value| question.longitudinal.set(value)
            />
            <OptionalNumber
                name="asked.regeneration"
                label="Regeneration in the braking"
                unit=Signal::derive(hint)
                bound=bounds::SHARE
                value=question.regeneration
                set=move |value| question.regeneration.set(value)
            />
            <p class="hint">{at}</p>
            {move || right.get().then(|| view! {
                <p class="hint">"Springs and bars are read off the left corner; the right one’s are taken to be the same."</p>
            })}
        </fieldset>
        <HowFarHere tab=Tab::WholeCar />
        {GROUPS.into_iter().map(|rows| view! { <Table rows=rows told=told /> }).collect_view()}
    }
}

#[component]
fn Table(rows: Rows, told: RwSignal<Option<&'static str>>) -> impl IntoView {
    view! {
        <table class="both-axles">
            <caption>{rows.question}</caption>
            <thead>
                <tr>
                    <td></td>
                    <th scope="col">"Front"</th>
                    <th scope="col">"Rear"</th>
                </tr>
            </thead>
            {rows.rows.iter().map(|row| view! { <TableRow row=row told=told /> }).collect_view()}
        </table>
    }
}

/// A cell and the reference's; none while nothing is asked.
type Shown = Option<(Cell, Option<Cell>)>;

/// A row and, when it is touched, what it is.
#[component]
fn TableRow(row: &'static Row, told: RwSignal<Option<&'static str>>) -> impl IntoView {
    let session = session();
    let question = session.whole_car();
    let of = move |cell: Box<dyn Fn(&Answer) -> Cell + Send + Sync>| {
        Memo::new(move |_| {
            let now = cell(&*question.answer.get()?);
            Some((now, question.reference.with(|reference| Some(cell(reference.as_deref()?)))))
        })
    };
    let cells: Vec<(&'static str, Around, Memo<Shown>)> = match row.of {
        Of::Axles(cell) => [Axle::Front, Axle::Rear]
            .map(|axle| (axle.name(), Around::Axle(axle), of(Box::new(move |answer| cell(answer, axle)))))
            .into(),
        Of::Car(cell) => vec![("car", Around::Car, of(Box::new(cell)))],
    };
    let of_car = cells.len() == 1;
    // A part that neither corner has makes no row.
    let memos: Vec<_> = cells.iter().map(|(.., cell)| *cell).collect();
    let without = |cell: &Shown| match cell {
        Some((Cell::NoPart(_), reference)) => !matches!(reference, Some(Cell::Number { .. })),
        _ => false,
    };
    let gone = move || memos.iter().all(|cell| cell.with(without));
    let gone = Memo::new(move |_| gone());
    let is_told = Memo::new(move |_| told.get() == Some(row.key));
    let cells = cells.into_iter().map(|(name, around, cell)| {
        let exact = move || match cell.get() {
            Some((Cell::Number { exact, .. }, _)) => exact.to_string(),
            _ => String::new(),
        };
        let name = StoredValue::new(format!("{name}.{}", row.key));
        let doubts_of = move |doubts: Doubts| doubts.of(Tab::WholeCar, &name.get_value());
        let doubt = doubt_words(session, move |doubts| {
            let uncertainty = doubts_of(doubts).number?;
            cell.with(|cell| cell.as_ref().map(|(cell, _)| cell.doubt(uncertainty)))
        });
        let doubt_of_difference = doubt_words(session, move |doubts| {
            let uncertainty = doubts_of(doubts).difference?;
            cell.with(|cell| match cell {
                Some((cell, Some(reference))) => Some(cell.doubt_of_difference(reference, uncertainty)),
                _ => None,
            })
        });
        let differs = Memo::new(move |_| {
            let words = |cell: &Shown| match cell {
                Some((cell, Some(reference))) => cell.difference(reference),
                _ => None,
            };
            cell.with(words).unwrap_or_default()
        });
        view! {
            <td
                class="cell"
                colspan=if of_car { "2" } else { "1" }
                data-of=name.get_value()
                data-value=exact
            >
                {move || cell.get().map(|(cell, _)| show(cell, around))}
                <Doubted words=doubt name=name.get_value() />
                <Differs words=differs doubt=doubt_of_difference name=name.get_value() />
            </td>
        }
    });
    let id = format!("definition-{}", row.key);
    view! {
        <tbody hidden=move || gone.get()>
            <tr>
                <th scope="row">
                    <button
                        class="quiet"
                        data-tell=row.key
                        aria-expanded=move || is_told.get().to_string()
                        aria-controls=id.clone()
                        title=row.definition
                        on:click=move |_| told.set((!is_told.get_untracked()).then_some(row.key))
                    >
                        {row.name}
                    </button>
                </th>
                {cells.collect_view()}
            </tr>
            <tr class="definition" id=id hidden=move || !is_told.get()>
                <td colspan="3">
                    <p>{row.definition}</p>
                    <p class="source">"Source: " {row.source} "."</p>
                    {row.usual.map(|usual| view! { <p class="usual">"Usual: " {usual} "."</p> })}
                </td>
            </tr>
        </tbody>
    }
}

fn show(cell: Cell, around: Around) -> AnyView {
    match cell {
        Cell::Number { text, words, .. } => {
            let words = (!words.is_empty()).then(|| view! { <span class="words">{words}</span> });
            view! { <span class="value">{text}</span> {words} }.into_any()
        }
        // A sentence is longer than what has to be given, and has nothing to press.
        Cell::No(Why::Because(why)) => {
            let title = why.clone();
            view! { <span class="words because" title=title>{why}</span> }.into_any()
        }
        Cell::No(why) => {
            view! { <span class="words"><Reason why=why around=around of_left=true /></span> }.into_any()
        }
        Cell::NoPart(without) => view! { <span class="words">{without}</span> }.into_any(),
    }
}
