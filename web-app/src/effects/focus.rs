//! Puts the focus where a number is to be given.

use leptos::prelude::*;
use wasm_bindgen::JsCast;
use web_sys::{
    Element, FocusOptions, HtmlElement, HtmlInputElement, KeyboardEvent, ScrollIntoViewOptions,
    ScrollLogicalPosition,
};

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

/// Puts the focus on the first element that matches a selector, once the page shows it; the
/// browser scrolls it into sight.
pub fn go_to(selector: String) {
    // Two frames: tabs and tables that have just been asked for stand by then.
    request_animation_frame(move || {
        request_animation_frame(move || {
            let Ok(Some(element)) = document().query_selector(&selector) else { return };
            if let Some(element) = element.dyn_ref::<HtmlElement>() {
                // Only a window that is closing refuses it.
                let _ = element.focus();
            }
        });
    });
}

/// Leaves a field at Enter where fingers type: the keys on the screen go, and what they covered is seen.
pub fn leave_by_enter(event: &KeyboardEvent) {
    let coarse = || {
        let query =
            web_sys::window().and_then(|window| window.match_media("(pointer: coarse)").ok().flatten());
        query.is_some_and(|query| query.matches())
    };
    if event.key() == "Enter"
        && coarse()
        && let Some(field) = event.target().and_then(|target| target.dyn_into::<HtmlInputElement>().ok())
    {
        // Only a window that is closing refuses it.
        let _ = field.blur();
    }
}

/// Scrolls the part of the page beside the drawing, never the page itself, as little as brings what stands between
/// two elements into sight; what is too long is seen from its beginning.
pub fn bring(first: &Element, last: &Element) {
    let Some(room) = scrolled(first) else { return };
    let frame = room.get_bounding_client_rect();
    let above = first.get_bounding_client_rect().top() - frame.top();
    let below = last.get_bounding_client_rect().bottom() - frame.bottom();
    let by = if above < 0.0 { above } else { below.min(above).max(0.0) };
    // Whole pixels are fine enough, and no panel is so long that they overflow.
    #[expect(clippy::cast_possible_truncation, reason = "a panel has thousands of pixels")]
    room.set_scroll_top(room.scroll_top() + by.ceil() as i32);
}

/// What scrolls an element beside the drawing: its panel, or in little height all that is beside it.
fn scrolled(element: &Element) -> Option<Element> {
    ["[role=tabpanel]", ".beside"].into_iter().find_map(|selector| {
        let room = element.closest(selector).ok()??;
        let style = web_sys::window()?.get_computed_style(&room).ok()??;
        (style.get_property_value("overflow-y").ok()? == "auto").then_some(room)
    })
}

/// Scrolls as little as brings an element into sight.
pub fn show(element: &Element) {
    let options = ScrollIntoViewOptions::new();
    options.set_block(ScrollLogicalPosition::Nearest);
    options.set_inline(ScrollLogicalPosition::Nearest);
    element.scroll_into_view_with_scroll_into_view_options(&options);
}

/// Puts the focus on an element of the drawing, which is in sight.
pub fn element(element: &Element) {
    let options = FocusOptions::new();
    options.set_prevent_scroll(true);
    // What is drawn takes the focus as what is written does; only a window that is closing refuses it.
    let _ = element.unchecked_ref::<HtmlElement>().focus_with_options(&options);
}
