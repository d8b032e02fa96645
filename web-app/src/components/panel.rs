//! The tabs beside the sheet.

use leptos::{ev, prelude::*};
use wasm_bindgen::JsCast;
use web_sys::HtmlElement;

use super::{
    both::BothWheels, car::Car, forces::Forces, oddities::Oddities, pivots::Pivots, readings::Readings,
    sensitivity::Sensitivity, whole_car::WholeCar,
};
use crate::{app::session, effects::focus, session::Tab};

/// Whether a panel is open; in each panel's context.
#[derive(Clone, Copy)]
pub(super) struct Open(pub(super) Memo<bool>);

/// The tabs and what they show. A panel is made when it is opened first and stays in the page
/// from then on, so that a field with a wrong text keeps it while another tab is looked at.
#[component]
pub fn Panel() -> impl IntoView {
    let open = session().tab;
    let whole_car = session().whole_car();
    Effect::new(move |_| whole_car.open.set(open.get() == Tab::WholeCar));
    let tabs = Tab::ALL.map(|tab| {
        let name = tab.name();
        view! {
            <button
                role="tab"
                id=format!("tab-{name}")
                aria-controls=format!("panel-{name}")
                aria-selected=move || (open.get() == tab).to_string()
                tabindex=move || if open.get() == tab { "0" } else { "-1" }
                on:click=move |event| {
                    open.set(tab);
                    show(&event);
                }
            >
                {tab.label()}
            </button>
        }
    });
    // One stop for the Tab key; the arrow keys go from tab to tab.
    let key = move |event: ev::KeyboardEvent| {
        if event.ctrl_key() || event.alt_key() || event.meta_key() {
            return;
        }
        let here = Tab::ALL.iter().position(|tab| *tab == open.get_untracked()).unwrap_or(0);
        let to = match event.key().as_str() {
            "ArrowRight" => (here + 1) % Tab::ALL.len(),
            "ArrowLeft" => (here + Tab::ALL.len() - 1) % Tab::ALL.len(),
            "Home" => 0,
            "End" => Tab::ALL.len() - 1,
            _ => return,
        };
        event.prevent_default();
        let tab = Tab::ALL[to];
        open.set(tab);
        let button = document().get_element_by_id(&format!("tab-{}", tab.name()));
        if let Some(button) = button.and_then(|button| button.dyn_into::<HtmlElement>().ok()) {
            // Only a window that is closing refuses it.
            let _ = button.focus();
        }
    };
    view! {
        <section class="panel">
            <div class="tabs" role="tablist" aria-label="What to show" on:keydown=key>{tabs.into_iter().collect_view()}</div>
            <Oddities />
            <TabPanel tab=Tab::Readings><Readings /></TabPanel>
            <TabPanel tab=Tab::Pivots><Pivots /></TabPanel>
            <TabPanel tab=Tab::Car><Car /></TabPanel>
            <TabPanel tab=Tab::Both><BothWheels open=Signal::derive(move || open.get() == Tab::Both) /></TabPanel>
            <TabPanel tab=Tab::Forces><Forces /></TabPanel>
            <TabPanel tab=Tab::Matters><Sensitivity /></TabPanel>
            <TabPanel tab=Tab::WholeCar><WholeCar /></TabPanel>
        </section>
    }
}

/// Where little of the panel is in sight, its tabs go to the top of what scrolls: who opens it wants to see it.
fn show(event: &ev::MouseEvent) {
    let button = event.target().and_then(|target| target.dyn_into::<HtmlElement>().ok());
    if let Some(panel) = button.and_then(|button| button.closest(".panel").ok().flatten()) {
        request_animation_frame(move || focus::bring(&panel, &panel));
    }
}

/// What a tab shows.
#[component]
fn TabPanel(tab: Tab, children: ChildrenFn) -> impl IntoView {
    let chosen = session().tab;
    let open = Memo::new(move |_| chosen.get() == tab);
    let made = Memo::new(move |before| before == Some(&true) || open.get());
    // Provided in the closure, whose owner is the panel's own: a component has none.
    let inside = move || {
        made.get().then(|| {
            provide_context(Open(open));
            children()
        })
    };
    let name = tab.name();
    view! {
        <div
            role="tabpanel"
            id=format!("panel-{name}")
            aria-labelledby=format!("tab-{name}")
            tabindex="0"
            hidden=move || !open.get()
        >
            {inside}
        </div>
    }
}
