//! A button that opens a panel under it; Escape, a press elsewhere, or leaving it with the
//! keyboard closes it.

use leptos::{ev, html, prelude::*};
use wasm_bindgen::JsCast;
use web_sys::Node;

/// The button with its panel. What the panel holds is made when it opens.
#[component]
pub fn Menu(
    /// Its name for programs.
    name: &'static str,
    /// What the button says.
    label: &'static str,
    /// What the button is for.
    title: &'static str,
    /// Whether it is open.
    open: RwSignal<bool>,
    /// What it holds.
    children: ChildrenFn,
) -> impl IntoView {
    let whole = NodeRef::<html::Div>::new();
    let button = NodeRef::<html::Button>::new();
    let inside = move |target: Option<web_sys::EventTarget>| {
        let node = target.and_then(|target| target.dyn_into::<Node>().ok());
        whole.get_untracked().is_some_and(|whole| whole.contains(node.as_ref()))
    };
    let elsewhere = window_event_listener(ev::pointerdown, move |event| {
        if open.get_untracked() && !inside(event.target()) {
            open.set(false);
        }
    });
    on_cleanup(move || elsewhere.remove());
    let key = move |event: web_sys::KeyboardEvent| {
        if event.key() == "Escape" && open.get_untracked() {
            event.stop_propagation();
            open.set(false);
            if let Some(button) = button.get_untracked() {
                // A button that is shown can always be focused.
                let _ = button.focus();
            }
        }
    };
    let left = move |event: web_sys::FocusEvent| {
        // No target: the window itself lost the focus, or what had it is gone.
        let target = event.related_target();
        if target.is_some() && !inside(target) {
            open.set(false);
        }
    };
    let children = StoredValue::new(children);
    view! {
        <div class="menu" node_ref=whole on:keydown=key on:focusout=left>
            <button
                node_ref=button
                data-menu=name
                title=title
                aria-expanded=move || open.get().to_string()
                aria-controls=format!("menu-{name}")
                on:click=move |_| open.update(|open| *open = !*open)
            >
                {label}
            </button>
            <div class="menu-panel" id=format!("menu-{name}") role="group" aria-label=label hidden=move || !open.get()>
                {move || open.get().then(|| children.with_value(|children| children()))}
            </div>
        </div>
    }
}
