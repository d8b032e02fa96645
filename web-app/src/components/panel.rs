//! The tabs beside the sheet.

use leptos::prelude::*;

use super::{
    both::BothWheels, car::Car, forces::Forces, pivots::Pivots, readings::Readings, sensitivity::Sensitivity,
    whole_car::WholeCar,
};
use crate::{
    app::session,
    session::{Tab, whole_car},
};

const TABS: [(Tab, &str, &str); 7] = [
    (Tab::Readings, "readings", "Readings"),
    (Tab::Pivots, "pivots", "Pivots"),
    (Tab::Car, "car", "Car and wheel"),
    (Tab::Both, "both", "Both wheels"),
    (Tab::WholeCar, "whole-car", "Whole car"),
    (Tab::Forces, "forces", "Forces"),
    (Tab::Matters, "matters", "What matters"),
];

/// The tabs and what they show. All panels stay in the page, so that a field with a wrong
/// text keeps it while another tab is looked at.
#[component]
pub fn Panel() -> impl IntoView {
    let open = session().tab;
    let whole_car = expect_context::<whole_car::WholeCar>();
    Effect::new(move |_| whole_car.open.set(open.get() == Tab::WholeCar));
    let tabs = TABS.map(|(tab, name, label)| {
        view! {
            <button
                role="tab"
                id=format!("tab-{name}")
                aria-controls=format!("panel-{name}")
                aria-selected=move || (open.get() == tab).to_string()
                on:click=move |_| open.set(tab)
            >
                {label}
            </button>
        }
    });
    let hidden = move |tab| move || open.get() != tab;
    view! {
        <section class="panel">
            <div class="tabs" role="tablist" aria-label="What to show">{tabs.into_iter().collect_view()}</div>
            <div role="tabpanel" id="panel-readings" aria-labelledby="tab-readings" tabindex="0" hidden=hidden(Tab::Readings)>
                <Readings />
            </div>
            <div role="tabpanel" id="panel-pivots" aria-labelledby="tab-pivots" tabindex="0" hidden=hidden(Tab::Pivots)>
                <Pivots />
            </div>
            <div role="tabpanel" id="panel-car" aria-labelledby="tab-car" tabindex="0" hidden=hidden(Tab::Car)>
                <Car />
            </div>
            <div role="tabpanel" id="panel-both" aria-labelledby="tab-both" tabindex="0" hidden=hidden(Tab::Both)>
                <BothWheels open=Signal::derive(move || open.get() == Tab::Both) />
            </div>
            <div role="tabpanel" id="panel-forces" aria-labelledby="tab-forces" tabindex="0" hidden=hidden(Tab::Forces)>
                <Forces />
            </div>
            <div role="tabpanel" id="panel-matters" aria-labelledby="tab-matters" tabindex="0" hidden=hidden(Tab::Matters)>
                <Sensitivity />
            </div>
            <div
                role="tabpanel"
                id="panel-whole-car"
                aria-labelledby="tab-whole-car"
                tabindex="0"
                hidden=hidden(Tab::WholeCar)
            >
                <WholeCar />
            </div>
        </section>
    }
}
