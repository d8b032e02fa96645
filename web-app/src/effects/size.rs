//! The size of an element, kept up to date.

use leptos::prelude::*;
use wasm_bindgen::{JsCast, closure::Closure};
use web_sys::{Element, ResizeObserver};

/// An observer that ends with whoever asked for it.
struct Watch {
    observer: ResizeObserver,
    /// What it calls.
    _changed: Closure<dyn Fn()>,
}

impl Drop for Watch {
    fn drop(&mut self) {
        self.observer.disconnect();
    }
}

/// How large the letters in an element are, pixels; none where the browser does not say.
#[must_use]
pub fn letters(element: &Element) -> Option<f64> {
    let style = web_sys::window()?.get_computed_style(element).ok()??;
    style.get_property_value("font-size").ok()?.strip_suffix("px")?.parse().ok()
}

/// Whether an element's size is given by what it stands in, and not by what stands in it.
#[must_use]
pub fn is_given(element: &Element) -> bool {
    let style = web_sys::window().and_then(|window| window.get_computed_style(element).ok().flatten());
    style.and_then(|style| style.get_property_value("position").ok()).is_some_and(|value| value == "absolute")
}

/// Watches an element's size in CSS pixels for as long as the effect or component lives in
/// which this is called.
pub fn watch(element: &Element, size: RwSignal<(f64, f64)>) {
    let watched = element.clone();
    let measure = move || {
        let rectangle = watched.get_bounding_client_rect();
        let new = (rectangle.width(), rectangle.height());
        // An element that is being taken away has no size any more, and nobody asks for it.
        if size.try_get_untracked().is_some_and(|old| old != new) {
            size.set(new);
        }
    };
    measure();
    let changed = Closure::<dyn Fn()>::new(measure);
    if let Ok(observer) = ResizeObserver::new(changed.as_ref().unchecked_ref()) {
        observer.observe(element);
        StoredValue::new_local(Watch { observer, _changed: changed });
    }
}
