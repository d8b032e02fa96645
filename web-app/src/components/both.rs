//! What only both wheels together have: the roll centre away from symmetry, camber to the
//! ground, roll steer, Ackermann, the turning circle.

use geometry_core::{
    axle::{AxleReadings, Lean},
    setup::Side,
};
use leptos::prelude::*;

use super::trust::{Differs, Doubted, HowFarHere, doubt_words};
use crate::{
    app::session,
    describe::{
        self,
        axle::{self, Given, OfAxle, OfWheel},
    },
    session::{Session, Tab},
};

/// What a group tells of both wheels.
const STANDS: [OfWheel; 4] = [OfWheel::CamberToGround, OfWheel::Camber, OfWheel::Toe, OfWheel::Travel];
const LEANS: [OfAxle; 6] = [
    OfAxle::RollCentreHeight,
    OfAxle::RollCentreAcross,
    OfAxle::Heave,
    OfAxle::Track,
    OfAxle::TrackChange,
    OfAxle::RollSteer,
];
const STEERS: [OfWheel; 5] = [
    OfWheel::Steer,
    OfWheel::SteerSinceStraight,
    OfWheel::SteerPerRack,
    OfWheel::RollSteer,
    OfWheel::RollCamber,
];
const TURNS: [OfAxle; 9] = [
    OfAxle::MeanSteer,
    OfAxle::SteerPerRack,
    OfAxle::InsideAngle,
    OfAxle::OutsideAngle,
    OfAxle::MiddleAngle,
    OfAxle::AckermannPercentage,
    OfAxle::TurningRadius,
    OfAxle::TurningCircle,
    OfAxle::KerbToKerb,
];

/// The tab; what it shows is worked out only while it is open.
#[component]
pub fn BothWheels(
    /// Whether the tab is open.
    open: Signal<bool>,
) -> impl IntoView {
    let session = session();
    let open = Memo::new(move |_| open.get());
    move || open.get().then(|| view! { <Inside session=session /> })
}

#[component]
fn Inside(session: Session) -> impl IntoView {
    let wheels = session.wheels();
    let told = RwSignal::new(None::<&'static str>);
    let given = Memo::new(move |_| {
        let pair = wheels.pair.get().and_then(Result::ok);
        Given {
            axle: session.axle.get(),
            wheelbase: session.document().with(|document| document.vehicle.wheelbase.is_some()),
            steers: pair.as_ref().is_some_and(|pair| pair.steers()),
            symmetric: pair.is_none_or(|pair| pair.is_symmetric()),
        }
    });
    let lean = [Lean::HeaveHeld, Lean::RollCentre].map(|lean| {
        let (name, meaning) = axle::lean(lean);
        view! {
            <label>
                <input
                    type="radio"
                    name="lean"
                    data-lean=if lean == Lean::HeaveHeld { "heave-held" } else { "roll-centre" }
                    prop:checked=move || wheels.lean.get() == lean
                    on:change=move |_| wheels.lean.set(lean)
                />
                <span><b>{name}</b> ": " {meaning} "."</span>
            </label>
        }
    });
    let problem = move || match wheels.pair.get() {
        Some(Err(sentence)) => Some(sentence),
        _ => None,
    };
    let right = move || {
        if given.get().symmetric {
            "The right corner is the left one’s mirror image."
        } else {
            "The right corner is the setup’s own, not the left one’s mirror image."
        }
    };
    let of_axle = move |rows: &'static [OfAxle]| {
        rows.iter().map(|row| view! { <AxleRow row=*row given=given told=told /> }).collect_view()
    };
    let of_wheel = move |rows: &'static [OfWheel]| {
        rows.iter().map(|row| view! { <WheelRow row=*row given=given told=told /> }).collect_view()
    };
    let heads =
        || view! { <thead><tr><td></td><th scope="col">"Left"</th><th scope="col">"Right"</th></tr></thead> };
    view! {
        <div class="both">
            {move || problem().map(|sentence| view! { <p class="field-error" role="alert">{sentence}</p> })}
            <fieldset class="fields lean">
                <legend>"While the body leans"</legend>
                {lean.into_iter().collect_view()}
            </fieldset>
            <p class="hint">
                {right} " With both wheels shown the ground stands still in the drawing; the body drops and leans over it."
            </p>
            <HowFarHere tab=Tab::Both />
            <table class="readings wheels">
                <caption>"How does each wheel stand?"</caption>
                {heads()}
                <tbody>{of_wheel(&STANDS)}</tbody>
            </table>
            <table class="readings">
                <caption>"What does the body lean about?"</caption>
                <tbody>{of_axle(&LEANS)}</tbody>
            </table>
            <table class="readings wheels">
                <caption>"Where does each wheel steer?"</caption>
                {heads()}
                <tbody>{of_wheel(&STEERS)}</tbody>
            </table>
            <table class="readings">
                <caption>"How does the car turn?"</caption>
                <tbody>{of_axle(&TURNS)}</tbody>
            </table>
        </div>
    }
}

/// A row's name; a touch, a press or the focus and a key tell what it is.
#[component]
fn Name(
    key: &'static str,
    label: &'static str,
    definition: &'static str,
    told: RwSignal<Option<&'static str>>,
) -> impl IntoView {
    view! {
        <th scope="row">
            <button
                class="quiet"
                title=definition
                data-define=key
                aria-expanded=move || (told.get() == Some(key)).to_string()
                on:click=move |_| told.update(|told| *told = (*told != Some(key)).then_some(key))
            >
                {label}
            </button>
        </th>
    }
}

/// The definition under a row that was touched.
#[component]
fn Definition(
    key: &'static str,
    definition: &'static str,
    told: RwSignal<Option<&'static str>>,
) -> impl IntoView {
    move || {
        (told.get() == Some(key)).then(|| {
            view! { <tr class="definition"><td colspan="3"><p data-definition=key>{definition}</p></td></tr> }
        })
    }
}

#[component]
fn AxleRow(row: OfAxle, given: Memo<Given>, told: RwSignal<Option<&'static str>>) -> impl IntoView {
    let session = session();
    let wheels = session.wheels();
    let value = Memo::new(move |_| wheels.solved.with(|solved| row.value(&solved.as_ref()?.readings)));
    let words = Memo::new(move |_| {
        wheels.solved.with(|solved| {
            let Some(solved) = solved.as_ref() else { return describe::NO_LINKAGE };
            match value.get() {
                Some(number) => row.sign(number, &solved.readings, given.get().axle),
                None => row.missing(&solved.readings, given.get()),
            }
        })
    });
    let exact = move || value.get().map(|number| number.to_string()).unwrap_or_default();
    let doubt = doubt_words(session, move |doubts| {
        Some(row.doubt(value.get()?, doubts.of(Tab::Both, row.name()).number?))
    });
    let shown = Written {
        name: row.name().into(),
        show: move |by| row.show(by),
        doubt: move |by, u| row.doubt_of_difference(by, u),
    };
    let differs = difference(session, move || value.get(), move |of| row.value(of), shown);
    view! {
        <tr>
            <Name key=row.name() label=row.label() definition=row.definition() told=told />
            <td class="value" data-both=row.name() data-value=exact>
                {move || value.get().map(|number| row.show(number))}
            </td>
            <td class="words">
                {move || words.get()} <Doubted words=doubt name=row.name() />
                {differs}
            </td>
        </tr>
        <Definition key=row.name() definition=row.definition() told=told />
    }
}

#[component]
fn WheelRow(row: OfWheel, given: Memo<Given>, told: RwSignal<Option<&'static str>>) -> impl IntoView {
    let session = session();
    let wheels = session.wheels();
    // The axle has rows of some of these names.
    let key = wheel_key(row);
    let cells = [Side::Left, Side::Right].map(|side| {
        let of = move |readings: &AxleReadings| {
            row.value(if side == Side::Left { &readings.left } else { &readings.right })
        };
        let value = Memo::new(move |_| wheels.solved.with(|solved| of(&solved.as_ref()?.readings)));
        let exact = move || value.get().map(|number| number.to_string()).unwrap_or_default();
        let side = if side == Side::Left { "left" } else { "right" };
        let name = StoredValue::new(format!("{side}.{}", row.name()));
        let doubt = doubt_words(session, move |doubts| {
            Some(row.doubt(value.get()?, doubts.of(Tab::Both, &name.get_value()).number?))
        });
        let shown = Written {
            name: name.get_value(),
            show: move |by| row.show(by),
            doubt: move |by, u| row.doubt_of_difference(by, u),
        };
        let differs = difference(session, move || value.get(), of, shown);
        view! {
            <td class="value" data-both=name.get_value() data-value=exact>
                {move || value.get().map(|number| row.show(number))}
                <span class="words">
                    {move || match value.get() {
                        Some(number) => row.sign(number),
                        None if wheels.solved.with(Option::is_none) => describe::NO_LINKAGE,
                        None => row.missing(given.get()),
                    }}
                </span>
                <Doubted words=doubt name=name.get_value() />
                {differs}
            </td>
        }
    });
    view! {
        <tr>
            <Name key=key label=row.label() definition=row.definition() told=told />
            {cells.into_iter().collect_view()}
        </tr>
        <Definition key=key definition=row.definition() told=told />
    }
}

/// How a number differs from the reference's in words; nothing without a reference that stands so, or where
/// the axle itself is not where it is asked to be.
fn difference(
    session: Session,
    value: impl Fn() -> Option<f64> + Send + Sync + 'static,
    of: impl Fn(&AxleReadings) -> Option<f64> + Send + Sync + 'static,
    shown: Written<
        impl Fn(f64) -> String + Send + Sync + 'static,
        impl Fn(f64, f64) -> String + Send + Sync + 'static,
    >,
) -> AnyView {
    let Written { name, show, doubt } = shown;
    let both = Memo::new(move |_| {
        let reference = session.reference.both.get()?;
        let stands =
            session.wheels().solved.with(|solved| solved.as_ref().is_some_and(|s| s.stopped.is_none()));
        Some((value().filter(|_| stands), of(&reference.readings), stands))
    });
    let words = Memo::new(move |_| match both.get() {
        Some((Some(now), Some(then), _)) => describe::beside::by(now - then, &show(now - then)),
        Some((None, Some(then), true)) => format!("reference: {}", show(then)),
        Some((Some(_), None, _)) => "the reference has none".into(),
        _ => String::new(),
    });
    let key = name.clone();
    let doubt = doubt_words(session, move |doubts| {
        let (now, then, _) = both.get()?;
        Some(doubt(now? - then?, doubts.of(Tab::Both, &key).difference?))
    });
    view! { <Differs words=words doubt=doubt name=name /> }.into_any()
}

/// How a number of both wheels is written.
struct Written<S, D> {
    name: String,
    /// With its unit.
    show: S,
    /// How uncertain it is beside it.
    doubt: D,
}

/// A word for the row of both wheels.
fn wheel_key(row: OfWheel) -> &'static str {
    match row {
        OfWheel::CamberToGround => "wheel.camber_to_ground",
        OfWheel::Camber => "wheel.camber",
        OfWheel::Toe => "wheel.toe",
        OfWheel::Travel => "wheel.travel",
        OfWheel::Steer => "wheel.steer",
        OfWheel::SteerSinceStraight => "wheel.steer_since_straight",
        OfWheel::SteerPerRack => "wheel.steer_per_rack",
        OfWheel::RollCamber => "wheel.roll_camber",
        OfWheel::RollSteer => "wheel.roll_steer",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What the tables tell is what uncertainties are asked of.
    #[test]
    fn every_row_is_one_of_all() {
        let of_axle: Vec<OfAxle> = [&LEANS[..], &TURNS[..]].concat();
        assert!(of_axle.iter().all(|row| OfAxle::ALL.contains(row)));
        let of_wheel: Vec<OfWheel> = [&STANDS[..], &STEERS[..]].concat();
        assert!(of_wheel.iter().all(|row| OfWheel::ALL.contains(row)));
    }
}
