//! Puts the focus where a number is to be given.

use leptos::prelude::*;
use wasm_bindgen::JsCast;
use web_sys::HtmlElement;

/// Puts the focus on the field of a path in the document, once what was just changed is
/// shown; the browser scrolls to it.
pub fn field(path: &'static str) {
    request_animation_frame(move || {
        let found = document().query_selector(&format!("input[data-field=\"{path}\"]"));
        if let Some(field) = found.ok().flatten().and_then(|field| field.dyn_into::<HtmlElement>().ok()) {
            // A field that cannot take the focus leaves it where it was.
            let _ = field.focus();
        }
    });
}
