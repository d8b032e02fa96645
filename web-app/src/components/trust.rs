//! How far to trust the numbers, given how well the car was measured.

use geometry_core::{
    bounds::{ANGLE_DOUBT, Bound, HEIGHT_DOUBT, LENGTH_DOUBT, PROPORTION_DOUBT},
    readings::Quantity,
    uncertainty::{Beside, Measured},
};
use leptos::prelude::*;

use super::plain_number::PlainNumber;
use crate::{
    app::session,
    describe::doubt,
    session::{Session, Tab, doubts::Doubts, readout::Readout},
    units::{self, System},
};

/// What is usual of a tape, a gauge and a centre of gravity, in both units.
const USUAL_METRIC: &str = "Tape and plumb line: 2 to 3 mm; an angle gauge: 0.1°; a centre of gravity found by raising an axle: 20 mm";
const USUAL_CUSTOMARY: &str = "Tape and plumb line: 0.08 to 1/8 in; an angle gauge: 0.1°; a centre of gravity found by raising an axle: 0.8 in";

/// Asks how well the corner was measured, and has every reading say how uncertain that leaves it.
#[component]
pub(super) fn HowFar() -> impl IntoView {
    let session = session();
    let trust = session.trust();
    let measured = trust.measured;
    let field = |label: &'static str,
                 name: &'static str,
                 unit: &'static str,
                 of: fn(&mut Measured) -> &mut f64,
                 bound: Bound| {
        view! {
            <PlainNumber
                label=label
                name=name
                unit=Signal::stored(unit.to_owned())
                value=Signal::derive(move || *of(&mut measured.get()))
                set=move |number| measured.update(|measured| *of(measured) = number)
                bound=bound
            />
        }
    };
    // What the two have in common is looked for only where it is told.
    let compared = Memo::new(move |_| trust.shown.get() && session.reference.kept.with(Option::is_some));
    view! {
        <p class="hint">
            <button
                data-do="trust"
                aria-pressed=move || trust.shown.get().to_string()
                title="Show beside every reading how uncertain measuring leaves it"
                on:click=move |_| trust.shown.update(|shown| *shown = !*shown)
            >
                "± How far to trust them"
            </button>
        </p>
        <fieldset class="fields" data-part="trust" hidden=move || !trust.shown.get()>
            <legend>"How well was it measured?"</legend>
            {field("Points and lengths, to ±", "trust.length", "mm", |m| &mut m.length, LENGTH_DOUBT)}
            {field("Camber and toe, to ±", "trust.angle", "°", |m| &mut m.angle, ANGLE_DOUBT)}
            {field("Centre of gravity’s height, to ±", "trust.height", "mm", |m| &mut m.height, HEIGHT_DOUBT)}
            {field("Masses, rates and shares, to ±", "trust.share", "%", |m| &mut m.proportion, PROPORTION_DOUBT)}
            <details class="counted">
                <summary>"What is usual, and what is counted"</summary>
                <p class="hint">
                    {move || match units::chosen() {
                        System::Metric => USUAL_METRIC,
                        System::Customary => USUAL_CUSTOMARY,
                    }}
                    "; scales and spring lists: 2 % (common practice, no source). Every coordinate, length, angle, \
                     mass, rate and share that a number hangs on may be off by so much, each for itself (a share as that of \
                     two masses or torques); what that makes of it adds up by slopes as the root of the squares \
                     (JCGM 100:2008, 5.1), and is as sure as your ± is. A right corner that is not described has the left \
                     one’s errors. Not in it: a crooked datum, which all points share."
                </p>
            </details>
            {move || compared.get().then(|| view! { <WhatTheReferenceIs session=session /> })}
        </fieldset>
    }
}

/// Asks whether what was measured wrong is wrong in the reference as well.
#[component]
fn WhatTheReferenceIs(session: Session) -> impl IntoView {
    let now = Memo::new(move |_| session.beside());
    let choices = [(Beside::Altered, "altered"), (Beside::Apart, "apart")].map(|(beside, name)| {
        let (title, meaning) = doubt::beside(beside);
        view! {
            <label>
                <input
                    type="radio"
                    name="trust-beside"
                    data-beside=name
                    prop:checked=move || now.get() == beside
                    on:change=move |_| session.trust().beside.set(Some(beside))
                />
                <span><b>{title}</b> ": " {meaning} "."</span>
            </label>
        }
    });
    view! {
        <fieldset class="fields lean" data-part="trust-beside">
            <legend>"The reference is"</legend>
            {choices.into_iter().collect_view()}
        </fieldset>
    }
}

/// The same button where other numbers stand, and what is taken for them.
#[component]
pub(super) fn HowFarHere(tab: Tab) -> impl IntoView {
    let session = session();
    let trust = session.trust();
    let shown = move || trust.shown.get() && session.tab.get() == tab;
    let beside = Memo::new(move |_| session.beside());
    view! {
        <p class="hint how-far">
            <button
                data-do=format!("trust-{}", tab.name())
                aria-pressed=move || trust.shown.get().to_string()
                title="Show beside every number how uncertain measuring leaves it"
                on:click=move |_| trust.shown.update(|shown| *shown = !*shown)
            >
                "± How far to trust them"
            </button>
            {move || shown().then(|| {
                let said = move || {
                    let compared = session.reference.kept.with(Option::is_some).then(|| beside.get());
                    doubt::measured_beside(trust.measured.get(), compared)
                };
                view! {
                    <span data-said=format!("trust-{}", tab.name())>
                        " Measured: " {said} ". "
                        <button class="lacking" on:click=move |_| session.open_field(Tab::Readings, "trust.length")>
                            "Change that"
                        </button>
                    </span>
                }
            })}
        </p>
    }
}

/// How uncertain something is in words; empty where that is not asked or not known. While the page moves they stay.
pub(super) fn doubt_words(
    session: Session,
    of: impl Fn(Doubts) -> Option<String> + Send + Sync + 'static,
) -> Memo<String> {
    Memo::new(move |before: Option<&String>| {
        if !session.trust().shown.get() {
            return String::new();
        }
        let doubts = session.doubts();
        if doubts.behind.get() {
            return before.cloned().unwrap_or_default();
        }
        of(doubts).unwrap_or_default()
    })
}

/// Such words in the page.
#[component]
pub(super) fn Doubted(
    words: Memo<String>,
    /// Which number's they are.
    #[prop(into)]
    name: String,
) -> impl IntoView {
    move || {
        Some(words.get()).filter(|words| !words.is_empty()).map(|words| {
            view! { " " <span class="trust" data-trust=name.clone()>{words}</span> }
        })
    }
}

/// How a number differs from the reference's, in words, and how uncertain that is; nothing where there are no words.
/// What stands there is written anew while a point is dragged, not made anew.
#[component]
pub(super) fn Differs(
    words: Memo<String>,
    doubt: Memo<String>,
    /// Which number's difference it is.
    name: String,
) -> impl IntoView {
    let any = Memo::new(move |_| words.with(|words| !words.is_empty()));
    let mut name = name;
    name.insert_str(0, "difference of ");
    let name = StoredValue::new(name);
    move || {
        any.get().then(|| {
            view! {
                <span class="difference">
                    {move || words.get()} <Doubted words=doubt name=name.get_value() />
                </span>
            }
        })
    }
}

/// How uncertain a reading is; nothing where that is not asked.
#[component]
pub(super) fn TrustWords(quantity: Quantity) -> impl IntoView {
    let told = expect_context::<Readout>().of(quantity);
    move || {
        Some(told.trust.get()).filter(|words| !words.is_empty()).map(|words| {
            view! { <span class="trust" data-trust=quantity.name()>{words}</span> }
        })
    }
}
