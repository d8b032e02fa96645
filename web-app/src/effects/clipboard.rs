//! Text to the clipboard.

use wasm_bindgen_futures::JsFuture;

/// Copies a text; says whether the browser let it.
pub async fn copy(text: &str) -> bool {
    let Some(window) = web_sys::window() else { return false };
    let clipboard = window.navigator().clipboard();
    // Absent on pages from a plain http address.
    if clipboard.is_undefined() {
        return false;
    }
    JsFuture::from(clipboard.write_text(text)).await.is_ok()
}
