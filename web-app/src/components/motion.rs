//! Travel, rack and roll as sliders from stop to stop with a detent at zero, numbers beside
//! them, marks where the linkage ends, and what moves them by itself.

mod play;

use geometry_core::bounds;
use leptos::{html, prelude::*};

use super::typing::{Meaning, Typing};
use crate::{
    app::session,
    lengths::INCH,
    numbers::round_to,
    session::{End, Moving, Reach, Why, headline::Headline, settled},
    units::{self, System, Unit},
    with_unit::{out_of_bounds, parse_quantity},
};

/// What a slider is about.
#[derive(Clone, Copy)]
struct Kind {
    moving: Moving,
    name: &'static str,
    bound: bounds::Bound,
    unit: Unit,
    /// What the two directions are called.
    words: (&'static str, &'static str),
    /// What a stop of the setup is called.
    stops: (&'static str, &'static str),
    /// The slider falls into zero when it comes this near.
    detent: f64,
    /// Its steps.
    step: &'static str,
}

/// mm: the steps of a slider that is read in inches. A browser counts steps from the slider's end, which is no
/// round number of inches, so they are made here.
const STEP_OF_INCHES: f64 = 0.025 * INCH;

impl Kind {
    fn is_in_inches(self) -> bool {
        self.unit == Unit::Millimetre && units::chosen() == System::Customary
    }

    /// The place on a slider that a hand means: where it is read in inches the nearest round one, or an end.
    fn stepped(self, at: f64, Reach { low, high }: Reach) -> f64 {
        if !self.is_in_inches() || at <= low.at || at >= high.at {
            return at;
        }
        round_to((at / STEP_OF_INCHES).round() * STEP_OF_INCHES, 4).clamp(low.at, high.at)
    }

    /// The unit as it is read out.
    fn spoken(self) -> &'static str {
        match self.unit {
            Unit::Degree => "degrees",
            _ if self.is_in_inches() => "inches",
            _ => "millimetres",
        }
    }

    /// A place on it as its field shows it: to the tenth of a millimetre or of a degree, or the thousandth of an
    /// inch.
    fn text(self, at: f64) -> String {
        let decimals = if self.is_in_inches() { 3 } else { 1 };
        self.unit.here().short(at, decimals)
    }
}

const TRAVEL: Kind = Kind {
    moving: Moving::Travel,
    name: "travel",
    bound: bounds::TRAVEL,
    unit: Unit::Millimetre,
    words: ("rebound", "bump"),
    stops: ("rebound stop", "bump stop"),
    detent: 1.5,
    step: "0.5",
};
const RACK: Kind = Kind {
    moving: Moving::Rack,
    name: "rack",
    bound: bounds::RACK,
    // Where the rack goes: the car steers there or the other way, as the tie rod stands.
    words: ("to the right", "to the left"),
    stops: ("right stop", "left stop"),
    ..TRAVEL
};
const ROLL: Kind = Kind {
    moving: Moving::Roll,
    name: "roll",
    bound: bounds::ROLL,
    unit: Unit::Degree,
    words: ("leans left", "leans right"),
    stops: ("", ""),
    detent: 0.15,
    step: "0.1",
};

/// The three sliders.
#[component]
pub fn Motion() -> impl IntoView {
    let session = session();
    let steers = expect_context::<Headline>().steers;
    let travel =
        Signal::derive(move || if session.wheels().active.get() { "Heave, both" } else { "Wheel travel" });
    view! {
        <section class="motion" aria-label="Motion">
            <Slider kind=TRAVEL label=travel slider=session.range().travel_slider />
            {move || {
                if steers.get() {
                    view! {
                        <Slider kind=RACK label=Signal::stored("Rack") slider=session.range().rack_slider />
                    }.into_any()
                } else {
                    view! { <p class="no-rack">"No link of this corner steers."</p> }.into_any()
                }
            }}
            <Slider kind=ROLL label=Signal::stored("Body roll") slider=session.range().roll_slider />
        </section>
    }
}

#[component]
fn Slider(kind: Kind, label: Signal<&'static str>, slider: Memo<Reach>) -> impl IntoView {
    let session = session();
    let Kind { moving, name, bound, unit, words, .. } = kind;
    let reach = session.range().reach(moving);
    let (ends, run) = (settled(move || reach.get()), settled(move || slider.get()));
    let value = Memo::new(move |_| session.moved(moving));
    let error = RwSignal::new(None::<String>);
    // A hand on it ends what moves by itself.
    let set = move |number: f64| {
        session.range().stop(moving);
        session.move_to(moving, number);
    };
    // The detent is for the hand; keys step through it.
    let held = StoredValue::new(false);
    let slid = move |typed: String| {
        if let Ok(number) = typed.parse::<f64>() {
            let falls = held.get_value() && number.abs() < kind.detent;
            set(if falls { 0.0 } else { kind.stepped(number, slider.get_untracked()) });
        }
    };
    let read =
        move |text: String| parse_quantity(&text, bound.unit).map(Some).map_err(|error| error.to_string());
    let put = move |number: Option<f64>| {
        // The field is never empty: an empty text is no number.
        let Some(number) = number else { return Ok(()) };
        set(bound.check(label.get(), number).map_err(|error| out_of_bounds(&error))?);
        Ok(())
    };
    let meaning = Meaning {
        show: Callback::new(move |now: Option<f64>| kind.text(now.unwrap_or_default())),
        read: Callback::new(read),
        put: Callback::new(put),
    };
    let typing = Typing::new(Memo::new(move |_| Some(value.get())), error, meaning);
    // The ends first: a browser keeps no value beyond them.
    let thumb = NodeRef::<html::Input>::new();
    Effect::new(move |shown: Option<Option<(Reach, f64)>>| {
        let input = thumb.get()?;
        let now = (slider.get(), value.get());
        let (reach, value) = now;
        if shown.flatten().is_none_or(|(before, _)| before != reach) {
            input.set_min(&reach.low.at.to_string());
            input.set_max(&reach.high.at.to_string());
        }
        // Whatever a hand has made of it meanwhile.
        input.set_value(&value.to_string());
        Some(now)
    });
    let spoken = move || {
        let now = value.get();
        let side = if now > 0.0 { words.1 } else { words.0 };
        if now == 0.0 {
            "as described".to_string()
        } else {
            format!("{} {} {side}", kind.text(now.abs()), kind.spoken())
        }
    };
    let plays = move || session.range().plays(moving);
    let beyond = Memo::new(move |_| {
        let (Reach { low, high }, now) = (slider.get(), value.get());
        let over = |end: End, by: f64, stop: &str| {
            (end.why == Why::Stop && by > 0.0).then(|| format!("{} beyond the {stop}", unit.show(by)))
        };
        over(high, now - high.at, kind.stops.1).or_else(|| over(low, low.at - now, kind.stops.0))
    });
    view! {
        <div class="slider">
            <label for=format!("{name}-slider")>{label}</label>
            <span class="run">
                <input
                    type="range"
                    id=format!("{name}-slider")
                    data-slider=name
                    step=move || if kind.is_in_inches() { "any" } else { kind.step }
                    aria-valuetext=spoken
                    node_ref=thumb
                    on:input=move |event| slid(event_target_value(&event))
                    on:pointerdown=move |_| {
                        session.range().stop(moving);
                        held.set_value(true);
                    }
                    on:pointerup=move |_| held.set_value(false)
                    on:pointercancel=move |_| held.set_value(false)
                    on:keydown=move |event| {
                        held.set_value(false);
                        // A slider without steps of its own goes by a hundredth of its way.
                        if let Some(steps) = arrow(&event).filter(|_| kind.is_in_inches()) {
                            event.prevent_default();
                            let reach = slider.get_untracked();
                            let to = kind.stepped(value.get_untracked() + steps * STEP_OF_INCHES, reach);
                            set(to.clamp(reach.low.at, reach.high.at));
                        }
                    }
                    on:dblclick=move |_| set(0.0)
                />
                <svg class="marks" aria-hidden="true">
                    <Tick at=0.0.into() run=run end=false />
                    <Tick at=Signal::derive(move || ends.get().low.at) run=run end=true />
                    <Tick at=Signal::derive(move || ends.get().high.at) run=run end=true />
                </svg>
            </span>
            <input
                type="text"
                inputmode="decimal"
                class="number"
                data-field=name
                autocomplete="off"
                aria-label=move || format!("{} in {}", label.get(), kind.spoken())
                aria-invalid=move || typing.wrong.get().then_some("true")
                prop:value=move || typing.text.get()
                on:input=move |event| typing.typed(event_target_value(&event))
                on:focus=move |_| session.range().stop(moving)
                on:blur=move |_| typing.left()
                on:keydown=move |event| typing.key(&event)
            />
            <span class="unit">{move || unit.here().symbol}</span>
            <button
                class="play"
                data-play=name
                aria-label=move || format!("{} {}", if plays() { "Pause" } else { "Play" }, label.get().to_lowercase())
                aria-pressed=move || plays().to_string()
                title=move || if plays() { "Pause" } else { "Play: from end to end and back" }
                on:click=move |_| play::toggle(session, moving)
            >
                <svg viewBox="0 0 10 10" aria-hidden="true">
                    <path d=move || if plays() { "M1 0h3v10h-3zM6 0h3v10h-3z" } else { "M1 0l9 5l-9 5z" } />
                </svg>
            </button>
            <button
                aria-label=move || format!("{} to zero", label.get())
                title="To zero"
                data-zero=name
                on:click=move |_| set(0.0)
            >
                "0"
            </button>
            <span class="ends" data-ends=name>
                <span>{move || end_words(ends.get().low, kind, words.0, kind.stops.0)}</span>
                <span>{move || end_words(ends.get().high, kind, words.1, kind.stops.1)}</span>
            </span>
            {move || beyond.get().map(|text| view! { <p class="beyond" role="status" data-beyond=name>{text}</p> })}
            {move || error.get().map(|text| view! { <p class="field-error" role="alert">{text}</p> })}
        </div>
    }
}

/// Which way an arrow key goes on a slider; none of any other key.
fn arrow(event: &web_sys::KeyboardEvent) -> Option<f64> {
    match event.key().as_str() {
        "ArrowRight" | "ArrowUp" => Some(1.0),
        "ArrowLeft" | "ArrowDown" => Some(-1.0),
        _ => None,
    }
}

/// What stands under a slider's end.
fn end_words(end: End, kind: Kind, direction: &str, stop: &str) -> String {
    let scale = kind.unit.here();
    match end.why {
        Why::Shown => direction.into(),
        Why::Stop => format!("{stop} {}", scale.rough(end.at)),
        Why::Linkage => format!("linkage ends at {}", scale.show(end.at)),
    }
}

/// A mark on the slider: zero, or where the way ends.
#[component]
fn Tick(at: Signal<f64>, run: ReadSignal<Reach>, end: bool) -> impl IntoView {
    // Both ends of the line ask for it.
    let x = Memo::new(move |_| {
        let Reach { low, high } = run.get();
        let share = if high.at > low.at { (at.get() - low.at) / (high.at - low.at) } else { 0.5 };
        format!("{:.2}%", 100.0 * share.clamp(0.0, 1.0))
    });
    let top = if end { "0%" } else { "83%" };
    view! { <line class="tick" class:end=end x1=move || x.get() x2=move || x.get() y1=top y2="100%" /> }
}
