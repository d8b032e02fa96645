//! What moves a reading most, and what a wanted change of it takes.

use std::fmt::Write as _;

use geometry_core::{
    readings::{Quantity, quantity::Question},
    sensitivity::{Kind, Parameter, Row, Table},
    setup::{Axle, Corner, Side},
};
use leptos::{html, prelude::*};

use super::plain_number::PlainNumber;
use crate::{
    app::session,
    describe::{self, beside::Difference, sensitivity as words},
    edit::PointPath,
    session::{
        Session, Tab,
        sensitivity::{Answer, Answers, Change, MOST_ADJUSTMENT, bound_of},
    },
    units::Unit,
};

/// Rows before the button that shows the rest.
const FIRST: usize = 10;

/// The panel.
#[component]
pub fn Sensitivity() -> impl IntoView {
    let session = session();
    let matters = session.matters();
    let error =
        Memo::new(move |_| matters.found.get().and_then(|found| found.as_ref().as_ref().err().cloned()));
    let unread = move || session.solved.with(Option::is_none);
    view! {
        <p class="hint" data-caution="matters">
            "To understand what a change does, not to set a car by: set it to the maker’s data, by licensed practice, \
             and measure again after every change."
        </p>
        <Choices />
        {move || unread().then(|| view! {
            <p class="hint">{session.no_linkage()}</p>
        })}
        {move || error.get().map(|error| view! {
            <p class="field-error" role="alert" data-said="trouble">{error.to_string()}</p>
        })}
        <div class="matters" aria-busy=move || matters.behind.get().to_string()>
            <Effects />
            <Alter />
            <Wanted />
        </div>
    }
}

#[component]
fn Choices() -> impl IntoView {
    let session = session();
    let matters = session.matters();
    let groups = move || {
        let axle = session.axle.get();
        let group = |question: Question| {
            let options = Quantity::ALL.into_iter().filter(|quantity| quantity.question() == question);
            let options = options.map(|quantity| {
                view! {
                    <option value=quantity.name() prop:selected=move || matters.quantity.get() == quantity>
                        {describe::label(quantity, axle)}
                    </option>
                }
            });
            view! { <optgroup label=describe::question(question)>{options.collect_view()}</optgroup> }
        };
        Question::ALL.map(group).into_iter().collect_view()
    };
    let choose = move |name: String| {
        if let Some(quantity) = Quantity::ALL.into_iter().find(|quantity| quantity.name() == name) {
            matters.quantity.set(quantity);
        }
    };
    let kinds = [(Kind::Adjusted, "adjusted", "On the car"), (Kind::Redrawn, "redrawn", "In the numbers")];
    let kinds = kinds.map(|(kind, name, label)| {
        view! {
            <button
                data-kind=name
                aria-pressed=move || (matters.kind.get() == kind).to_string()
                on:click=move |_| matters.kind.set(kind)
            >
                {label}
            </button>
        }
    });
    let meaning = move || match matters.kind.get() {
        Kind::Adjusted => {
            "A part of the built car is altered: a shim, a thread, a slotted hole. The wheel goes where the linkage \
             takes it."
        }
        Kind::Redrawn => {
            "A number of this setup is another one: a point measured a little off. Camber and toe as they stand are not \
             moved by it."
        }
    };
    view! {
        <fieldset class="fields">
            <legend>"What moves it most?"</legend>
            <div class="field choice">
                <span class="name">"Reading"</span>
                <select
                    data-choice="matters.quantity"
                    aria-label="Reading"
                    on:change=move |event| choose(event_target_value(&event))
                >
                    {groups}
                </select>
            </div>
            <div class="group" role="group" aria-label="What is changed">{kinds.into_iter().collect_view()}</div>
            <p class="hint">{meaning}</p>
        </fieldset>
    }
}

/// Rows of a table that can be seen to move the reading, and how many cannot.
#[derive(Clone, PartialEq)]
struct Shown {
    quantity: Quantity,
    axle: Axle,
    value: Option<f64>,
    rows: Vec<Line>,
    small: usize,
    without: usize,
    /// How uncertain measuring leaves the reading, where that is the question.
    doubt: Option<String>,
}

#[derive(Clone, PartialEq)]
struct Line {
    key: String,
    name: String,
    per: String,
    value: String,
    exact: f64,
    means: &'static str,
    /// Of the largest effect.
    share: f64,
    path: PointPath,
    parameter: Parameter,
}

fn shown(table: &Table, kind: Kind, corner: &Corner, axle: Axle) -> Shown {
    let quantity = table.quantity;
    let of_kind: Vec<&Row> = table.rows.iter().filter(|row| row.kind == kind).collect();
    let least = words::least_shown(quantity);
    let size = |row: &Row| row.effect.map(f64::abs);
    let largest = of_kind.iter().filter_map(|row| size(row)).fold(0.0, f64::max);
    let rows = of_kind.iter().filter(|row| size(row).is_some_and(|size| size >= least)).filter_map(|row| {
        let (parameter, derivative) = (row.parameter, row.derivative?);
        Some(Line {
            key: parameter.to_string(),
            name: words::what(parameter, corner),
            per: words::per(parameter),
            value: words::effect(quantity, parameter, derivative),
            exact: derivative,
            means: words::means(quantity, derivative, axle),
            share: size(row)? / largest,
            path: words::shown_at(parameter),
            parameter,
        })
    });
    let rows: Vec<Line> = rows.collect();
    let without = of_kind.iter().filter(|row| row.effect.is_none()).count();
    let small = of_kind.len() - rows.len() - without;
    Shown { quantity, axle, value: table.value, rows, small, without, doubt: None }
}

/// The reading as it is, and what moves it, the most first.
#[component]
fn Effects() -> impl IntoView {
    let session = session();
    let matters = session.matters();
    let all = RwSignal::new(false);
    let shown = Memo::new(move |_| {
        if session.tab.get() != Tab::Matters {
            return None;
        }
        let found = matters.found.get()?;
        let found = found.as_ref().as_ref().ok()?;
        let (inputs, kind) = (matters.rested.get()?, matters.kind.get());
        let quantity = matters.quantity.get();
        let shown = shown(&found.table(quantity), kind, &inputs.corner, inputs.axle);
        // Of what stood there before nothing is said.
        let known = kind == Kind::Redrawn && !session.doubts().behind.get();
        let doubt = if known { session.uncertainty(quantity) } else { None };
        let measured = session.trust().measured.get();
        Some(Shown { doubt: doubt.map(|doubt| words::doubt(quantity, doubt, measured)), ..shown })
    });
    move || shown.get().map(|shown| effects(session, all, shown))
}

fn effects(session: Session, all: RwSignal<bool>, shown: Shown) -> impl IntoView {
    let Shown { quantity, axle, value, rows, small, without, doubt } = shown;
    let label = describe::label(quantity, axle);
    let Some(value) = value else {
        return view! {
            <p class="said" data-said="matters">
                {format!("{label} does not exist here, so nothing moves it; Readings says what it needs.")}
            </p>
        }
        .into_any();
    };
    let now = describe::sign(quantity, value, axle);
    let comma = if now.is_empty() { "" } else { ", " };
    let sentence = format!("{label} is {}{comma}{now}.", describe::value(quantity, value));
    let count = rows.len();
    let least = words::least_text(quantity);
    let rest = [
        (small > 0).then(|| format!("{small} more move it by less than {least}.")),
        (without > 0).then(|| format!("{without} more have no such effect that could be computed.")),
    ];
    let rest: Vec<String> = rest.into_iter().flatten().collect();
    let lines = rows.into_iter().enumerate().map(|(i, line)| {
        let Line { key, name, per, value, exact, means, share, path, parameter } = line;
        let width = format!("{:.1}%", 100.0 * share);
        view! {
            <tr hidden=move || { i >= FIRST && !all.get() }>
                <th scope="row">
                    <button
                        class="quiet"
                        title="Show the point on the sheet"
                        data-parameter=key.clone()
                        aria-pressed=move || session.is_selected(path).to_string()
                        on:click=move |_| {
                            session.select(path);
                            if parameter.kind() == Kind::Adjusted {
                                session.matters().altered.set(Some(parameter));
                            }
                        }
                    >
                        {name}
                    </button>
                </th>
                <td class="value" data-derivative=key data-value=exact.to_string()>{value}</td>
                <td class="words">
                    {format!("per {per}: {means}")}
                    <span class="effect" aria-hidden="true"><span style:width=width></span></span>
                </td>
            </tr>
        }
    });
    let more = (count > FIRST).then(|| {
        view! {
            <div class="adders">
                <button data-do="all-effects" on:click=move |_| all.update(|all| *all = !*all)>
                    {move || if all.get() { "Show the first only".into() } else { format!("Show all {count}") }}
                </button>
            </div>
        }
    });
    view! {
        <p class="said" data-said="matters">{sentence}</p>
        {doubt.map(|doubt| view! { <p class="said" data-said="doubt">{doubt}</p> })}
        <table class="readings">
            <caption>{words::compared()}</caption>
            <tbody>{lines.collect_view()}</tbody>
        </table>
        {more}
        <p class="hint">{rest.join(" ")}</p>
    }
    .into_any()
}

/// An adjustment that is made: what a shim does, seen in everything.
#[component]
fn Alter() -> impl IntoView {
    let session = session();
    let matters = session.matters();
    let all = move || {
        let corner = matters.rested.get().map(|inputs| inputs.corner.clone());
        let all = corner.iter().flat_map(Parameter::all).filter(|one| one.kind() == Kind::Adjusted);
        all.map(|one| {
            let name = corner.as_ref().map(|corner| words::what(one, corner)).unwrap_or_default();
            (one, format!("{name}, {}", words::ways(one)))
        })
        .collect::<Vec<_>>()
    };
    // Of this corner: another axle's has other members.
    let chosen = move || {
        let wanted = matters.altered.get()?;
        all().into_iter().map(|(one, _)| one).find(|one| *one == wanted)
    };
    Effect::new(move |before: Option<(Axle, Side)>| {
        let now = (session.axle.get(), session.side.get());
        if before.is_some_and(|before| before != now) {
            matters.altered.set(None);
        }
        now
    });
    let list = NodeRef::<html::Select>::new();
    Effect::new(move |_| {
        let name = chosen().map(|one| one.to_string()).unwrap_or_default();
        // Once the list is that of this corner.
        request_animation_frame(move || {
            if let Some(list) = list.get_untracked() {
                list.set_value(&name);
            }
        });
    });
    let choose = move |name: String| {
        let one = untrack(all).into_iter().map(|(one, _)| one).find(|one| one.to_string() == name);
        matters.altered.set(one);
        if let Some(one) = one {
            session.select(words::shown_at(one));
        }
    };
    let options = move || {
        let option =
            |(one, name): (Parameter, String)| view! { <option value=one.to_string()>{name}</option> };
        all().into_iter().map(option).collect_view()
    };
    let unit = Signal::derive(move || {
        chosen().map_or_else(|| "mm".into(), |one| format!("mm, + {}", words::way(one, true)))
    });
    let alter = move |_| {
        if let Some(one) = untrack(chosen) {
            session.alter(one, matters.amount.get_untracked());
        }
    };
    view! {
        <fieldset class="fields" data-part="alter" hidden=move || matters.kind.get() != Kind::Adjusted>
            <legend>"What if it is done?"</legend>
            <div class="field choice">
                <span class="name">"Adjustment"</span>
                <select
                    data-choice="matters.altered"
                    node_ref=list
                    aria-label="Adjustment"
                    on:change=move |event| choose(event_target_value(&event))
                >
                    <option value="">"Choose one, here or in the table above"</option>
                    {options}
                </select>
            </div>
            <PlainNumber
                label="By"
                name="matters.amount"
                unit=unit
                value=Signal::derive(move || matters.amount.get())
                set=move |amount| matters.amount.set(amount)
                bound=geometry_core::bounds::LENGTH_CHANGE
            />
            {move || chosen().and_then(|_| matters.foretold.get()).map(|foretold| self::foretold(foretold, session.axle.get()))}
            <div class="adders">
                <button data-do="alter" disabled=move || chosen().is_none() on:click=alter>"Alter the corner"</button>
            </div>
            <p class="hint">
                "The corner takes its new camber, toe and pivots, the wheel at the height it had. Keep the setup as the \
                 reference before (Compare), and every number tells its difference."
            </p>
        </fieldset>
    }
}

/// What an adjustment would do.
fn foretold(foretold: Result<Vec<Change>, String>, axle: Axle) -> AnyView {
    let changes = match foretold {
        Ok(changes) => changes,
        Err(reason) => return view! { <p class="field-error" data-said="foretold">{reason}</p> }.into_any(),
    };
    let rows = changes.into_iter().map(|Change { quantity, after, by }| {
        // Of how far something has moved only the change is a number that means something.
        let moved = matches!(quantity, Quantity::HalfTrackChange | Quantity::WheelbaseChange);
        let then = if moved { String::new() } else { describe::value(quantity, after) };
        let words = Difference::By(by).words(quantity);
        view! {
            <tr>
                <th scope="row">{describe::label(quantity, axle)}</th>
                <td class="value">{then}</td>
                <td class="words" data-foretold=quantity.name() data-value=by.to_string()>
                    {words.strip_prefix("difference ").map_or_else(|| words.clone(), Into::into)}
                </td>
            </tr>
        }
    });
    view! {
        <table class="readings">
            <caption>"Then, solved again, and the difference to now"</caption>
            <tbody>{rows.collect_view()}</tbody>
        </table>
    }
    .into_any()
}

/// The question back: a change that is wanted, and what would bring it.
#[component]
fn Wanted() -> impl IntoView {
    let session = session();
    let matters = session.matters();
    let unit = Signal::derive(move || {
        let quantity = matters.quantity.get();
        let symbol = describe::unit(quantity).here().symbol;
        format!("{symbol}, + {}", words::means(quantity, 1.0, session.axle.get()))
    });
    // Never asked for a reading without a bound: the field is hidden then.
    let bound = Signal::derive(move || {
        bound_of(matters.quantity.get()).unwrap_or(geometry_core::bounds::LENGTH_CHANGE)
    });
    let asked = move || bound_of(matters.quantity.get()).is_some();
    let answers =
        Memo::new(move |_| if session.tab.get() == Tab::Matters { matters.answers.get() } else { None });
    let list = move || {
        let corner = matters.rested.with(|rested| rested.as_ref().map(|inputs| inputs.corner.clone()))?;
        let axle = matters.rested.with(|rested| rested.as_ref().map(|inputs| inputs.axle))?;
        answers.get().map(|answers| answered(session, &answers, &corner, axle))
    };
    view! {
        <fieldset class="fields">
            <legend>"How would it come to change?"</legend>
            <div hidden=move || !asked()>
                <PlainNumber
                    label="Wanted change"
                    name="matters.wanted"
                    unit=unit
                    value=Signal::derive(move || matters.wanted.get())
                    set=move |wanted| matters.wanted.set(wanted)
                    bound=bound
                />
            </div>
            {move || (!asked()).then(|| view! {
                <p class="hint">"This question is answered for angles and lengths; choose such a reading."</p>
            })}
            {list}
        </fieldset>
    }
}

fn answered(session: Session, answers: &Answers, corner: &Corner, axle: Axle) -> AnyView {
    let Answers { quantity, wanted, list, more, out_of_reach } = answers;
    let (quantity, wanted) = (*quantity, *wanted);
    if wanted == 0.0 {
        return view! { <p class="hint">"Give a change other than zero."</p> }.into_any();
    }
    let rows = list.iter().map(|answer| {
        let path = words::shown_at(answer.parameter);
        let (parameter, amount) = (answer.parameter, answer.amount);
        view! {
            <tr>
                <th scope="row">
                    <button
                        class="quiet"
                        title="Show the point on the sheet"
                        aria-pressed=move || session.is_selected(path).to_string()
                        on:click=move |_| session.select(path)
                    >
                        {words::what(answer.parameter, corner)}
                    </button>
                </th>
                <td class="value" data-answer=answer.parameter.to_string() data-value=answer.amount.to_string()>
                    {words::amount(answer.parameter, answer.amount)}
                </td>
            </tr>
            <tr class="solved">
                <td colspan="2" data-solved=answer.parameter.to_string()>
                    {told(answer, quantity, axle)} " "
                    {answer.solved.is_some().then(|| view! {
                        <button
                            class="lacking"
                            data-alter=answer.parameter.to_string()
                            aria-label=format!("Alter {}", words::what(answer.parameter, corner))
                            on:click=move |_| session.alter(parameter, amount)
                        >
                            "Alter the corner so"
                        </button>
                    })}
                </td>
            </tr>
        }
    });
    let rows = rows.collect_view();
    let beyond = [
        (*more > 0).then(|| format!("{more} more would take larger amounts.")),
        (*out_of_reach > 0).then(|| {
            format!(
                "{out_of_reach} adjustments do nothing to it or would take over {}.",
                Unit::Millimetre.here().rough(MOST_ADJUSTMENT)
            )
        }),
    ];
    let beyond: Vec<String> = beyond.into_iter().flatten().collect();
    let none = list.is_empty();
    view! {
        <p class="hint">
            "Each by itself. The amount is by the slope, as if all were straight; beside it stands what the altered \
             corner does when it is solved again, ride height held."
        </p>
        {none.then(|| view! { <p class="said">"No single adjustment of this corner does it."</p> })}
        <table class="readings">
            <caption>
                {format!("For {} of {}", words::change(quantity, wanted), describe::label(quantity, axle).to_lowercase())}
            </caption>
            <tbody>{rows}</tbody>
        </table>
        <p class="hint">{beyond.join(" ")}</p>
    }
    .into_any()
}

/// What an adjustment does when it is solved again: the reading itself in full, the toe
/// always, of the others what their own digits show.
fn told(answer: &Answer, quantity: Quantity, axle: Axle) -> String {
    let Some(solved) = answer.solved else {
        return "cannot be assembled so far off".into();
    };
    let mut text = format!("solved again {}", words::change(quantity, solved));
    for (other, change) in &answer.others {
        let seen = change.abs() >= 10.0 * words::least_shown(*other);
        if seen || *other == Quantity::Toe {
            let (label, rounded) =
                (describe::label(*other, axle).to_lowercase(), words::rounded(*other, *change));
            let means = if seen { words::means(*other, *change, axle) } else { "hardly moves" };
            // Writing to a String cannot fail.
            let _ = write!(text, "; {label} {rounded}, {means}");
        }
    }
    text
}
