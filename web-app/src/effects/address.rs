//! The address bar: a setup arrives in the fragment and is taken out again.

/// The fragment, with its number sign; empty when there is none.
#[must_use]
pub fn fragment() -> String {
    web_sys::window().and_then(|window| window.location().hash().ok()).unwrap_or_default()
}

/// Takes the fragment out of the address, so that a reload brings back the work in hand
/// and not the link it began with.
pub fn clear_fragment() {
    let Some(window) = web_sys::window() else { return };
    let (Ok(history), Ok(address)) = (window.history(), window.location().href()) else { return };
    let bare = address.split('#').next().unwrap_or_default();
    // A refusal leaves the fragment standing, which does no harm.
    let _ = history.replace_state_with_url(&wasm_bindgen::JsValue::NULL, "", Some(bare));
}

/// The page's own address with another fragment, and whether others can follow it. Of a page that is a file it is
/// the file's name: where the file lies is nobody's business, and leads nowhere from elsewhere.
#[must_use]
pub fn with_fragment(fragment: &str) -> (String, bool) {
    let address = web_sys::window().and_then(|window| window.location().href().ok()).unwrap_or_default();
    let bare = address.split('#').next().unwrap_or_default();
    let is_file = bare.starts_with("file:");
    let shown = if is_file { bare.rsplit('/').next().unwrap_or_default() } else { bare };
    (format!("{shown}{fragment}"), !is_file)
}
