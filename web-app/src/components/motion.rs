//! Travel and rack as sliders from stop to stop with a detent at zero, and numbers beside them.

use geometry_core::{bounds, solve::State};
use leptos::prelude::*;

use crate::{
    app::session,
    numbers::{format_number, parse_number},
};

/// mm: the slider falls into zero when it comes this near.
const DETENT: f64 = 1.5;

/// The two sliders.
#[component]
pub fn Motion() -> impl IntoView {
    let session = session();
    let steers = move || session.linkage.with(|linkage| linkage.as_ref().is_ok_and(|l| l.steers()));
    view! {
        <section class="motion" aria-label="Motion">
            <Slider
                name="travel"
                label="Wheel travel"
                ends=Memo::new(move |_| session.travel_ends())
                bound=bounds::TRAVEL
                value=Signal::derive(move || session.state.with(|s| s.travel))
                set=move |travel| session.state.update(|s| *s = State { travel, ..*s })
                words=("rebound", "bump")
            />
            {move || {
                if steers() {
                    view! {
                        <Slider
                            name="rack"
                            label="Rack"
                            ends=Memo::new(move |_| session.rack_ends())
                            bound=bounds::RACK
                            value=Signal::derive(move || session.state.with(|s| s.rack))
                            set=move |rack| session.state.update(|s| *s = State { rack, ..*s })
                            words=("right", "left")
                        />
                    }.into_any()
                } else {
                    view! { <p class="no-rack">"No link of this corner steers."</p> }.into_any()
                }
            }}
        </section>
    }
}

#[component]
fn Slider(
    name: &'static str,
    label: &'static str,
    ends: Memo<(f64, f64)>,
    bound: bounds::Bound,
    value: Signal<f64>,
    set: impl Fn(f64) + Copy + Send + Sync + 'static,
    words: (&'static str, &'static str),
) -> impl IntoView {
    let error = RwSignal::new(None::<String>);
    let text = RwSignal::new(String::from("0"));
    // The detent is for the hand; keys step through it.
    let held = StoredValue::new(false);
    let slid = move |typed: String| {
        if let Ok(number) = typed.parse::<f64>() {
            let falls = held.get_value() && number.abs() < DETENT;
            set(if falls { 0.0 } else { number });
        }
    };
    Effect::new(move |_| {
        let now = value.get();
        let same = text.with_untracked(|text| parse_number(text).is_ok_and(|typed| typed == now));
        if !same {
            text.set(format_number(now, 1).trim_end_matches(".0").to_string());
            error.set(None);
        }
    });
    let typed = move |new: String| {
        let outcome = parse_number(&new)
            .map_err(|error| error.to_string())
            .and_then(|number| bound.check(label, number).map_err(|error| error.to_string()));
        text.set(new);
        match outcome {
            Ok(number) => {
                error.set(None);
                set(number);
            }
            Err(sentence) => error.set(Some(sentence)),
        }
    };
    let spoken = move || {
        let now = value.get();
        let side = if now > 0.0 { words.1 } else { words.0 };
        if now == 0.0 {
            "as described".to_string()
        } else {
            format!("{} mm {side}", format_number(now.abs(), 1))
        }
    };
    view! {
        <div class="slider">
            <label for=format!("{name}-slider")>{label}</label>
            <input
                type="text"
                inputmode="decimal"
                class="number"
                data-field=name
                autocomplete="off"
                aria-label=format!("{label} in millimetres")
                aria-invalid=move || error.get().map(|_| "true")
                prop:value=move || text.get()
                on:input=move |event| typed(event_target_value(&event))
            />
            <span class="unit">"mm"</span>
            <button aria-label=format!("{label} to zero") title="To zero" on:click=move |_| set(0.0)>
                "0"
            </button>
            <span class="run">
                <span class="end">{words.0}</span>
                <input
                    type="range"
                    id=format!("{name}-slider")
                    data-slider=name
                    min=move || ends.get().0
                    max=move || ends.get().1
                    step="0.5"
                    aria-valuetext=spoken
                    prop:value=move || value.get().to_string()
                    on:input=move |event| slid(event_target_value(&event))
                    on:pointerdown=move |_| held.set_value(true)
                    on:pointerup=move |_| held.set_value(false)
                    on:pointercancel=move |_| held.set_value(false)
                    on:keydown=move |_| held.set_value(false)
                    on:dblclick=move |_| set(0.0)
                />
                <span class="end">{words.1}</span>
            </span>
            {move || error.get().map(|text| view! { <p class="field-error" role="alert">{text}</p> })}
        </div>
    }
}
