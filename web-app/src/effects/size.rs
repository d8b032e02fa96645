//! The size of an element, kept up to date.

use leptos::prelude::*;
use wasm_bindgen::{JsCast, closure::Closure};
use web_sys::{Element, ResizeObserver};

/// Watches an element's size in CSS pixels for as long as the page lives.
pub fn watch(element: &Element, size: RwSignal<(f64, f64)>) {
    let watched = element.clone();
    let measure = move || {
        let rectangle = watched.get_bounding_client_rect();
        let new = (rectangle.width(), rectangle.height());
        if size.get_untracked() != new {
            size.set(new);
        }
    };
    measure();
    let changed = Closure::<dyn Fn()>::new(measure);
    if let Ok(observer) = ResizeObserver::new(changed.as_ref().unchecked_ref()) {
        observer.observe(element);
    }
    // The sheet lives as long as the page does.
    changed.forget();
}
