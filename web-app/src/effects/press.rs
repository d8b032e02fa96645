//! Whether something is held with a mouse, a pen or a finger.

use leptos::prelude::*;
use wasm_bindgen::{JsCast, closure::Closure};
use web_sys::{Event, EventTarget};

/// Whether something is held; for the whole page, which gives it as a context.
#[derive(Debug, Clone, Copy)]
pub struct Held(pub ReadSignal<bool>);

/// Hears every press and release on the page for as long as it lives, before whatever is pressed hears it.
#[must_use]
pub fn watch() -> Held {
    let (held, hold) = signal(false);
    if let Some(window) = web_sys::window() {
        let target: &EventTarget = &window;
        let heard =
            Closure::<dyn Fn(Event)>::new(move |event: Event| hold.set(event.type_() == "pointerdown"));
        for name in ["pointerdown", "pointerup", "pointercancel"] {
            // A browser that refuses leaves the charts' axes to settle by time alone.
            let _ =
                target.add_event_listener_with_callback_and_bool(name, heard.as_ref().unchecked_ref(), true);
        }
        // The page's own life is the listener's.
        heard.forget();
    }
    Held(held)
}
