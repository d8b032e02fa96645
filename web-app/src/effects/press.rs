//! Whether something is held with a mouse, a pen or a finger.

use wasm_bindgen::{JsCast, closure::Closure};
use web_sys::{Event, EventTarget};

/// Tells of every press and release on the page for as long as it lives, before whatever is
/// pressed is told.
pub fn watch(told: impl Fn(bool) + 'static) {
    let Some(window) = web_sys::window() else { return };
    let target: &EventTarget = &window;
    let heard = Closure::<dyn Fn(Event)>::new(move |event: Event| told(event.type_() == "pointerdown"));
    for name in ["pointerdown", "pointerup", "pointercancel"] {
        // A browser that refuses leaves the axes to settle by time alone.
        let _ = target.add_event_listener_with_callback_and_bool(name, heard.as_ref().unchecked_ref(), true);
    }
    // The page's own life is the listener's.
    heard.forget();
}
