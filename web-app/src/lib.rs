//! The page of Cornerwise: one plain document, everything else derived from it.
//!
//! From what uses to what is used: `hooks` are for tests, `app` and `components` show, `session` holds the
//! document and calls the core, `effects` touch the browser, `oddities` looks for slips, `pasted` reads and
//! writes blocks of points, `scene`, `describe`, `chart` and `view` turn state into shapes and words without a
//! browser, `sharing`, `history`, `edit`, `with_unit`, `lengths`, `presets` and `numbers` know only the
//! document.

pub mod app;
pub mod chart;
pub mod components;
pub mod describe;
pub mod edit;
pub mod effects;
pub mod history;
pub mod hooks;
pub mod lengths;
pub mod numbers;
pub mod oddities;
pub mod pasted;
pub mod presets;
pub mod scene;
pub mod session;
pub mod sharing;
pub mod units;
pub mod view;
pub mod with_unit;

use wasm_bindgen::{JsCast, prelude::wasm_bindgen};

/// Puts the page into the element `#app`; called once by the glue when the module is ready.
#[wasm_bindgen(start)]
pub fn start() {
    std::panic::set_hook(Box::new(|panic| {
        web_sys::console::error_1(&panic.to_string().into());
    }));
    let place = leptos::prelude::document().get_element_by_id("app");
    if let Some(place) = place.and_then(|place| place.dyn_into().ok()) {
        leptos::mount::mount_to(place, app::App).forget();
    }
}
