//! Files out and in: a setup saved by the browser, a chosen file read as text.

use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{Blob, BlobPropertyBag, File, HtmlAnchorElement, Url};

/// Offers a text to the user as a file.
///
/// # Errors
/// What the browser said.
pub fn save(name: &str, text: &str) -> Result<(), JsValue> {
    let parts = js_sys::Array::of1(&text.into());
    let options = BlobPropertyBag::new();
    options.set_type("application/json");
    let blob = Blob::new_with_str_sequence_and_options(&parts, &options)?;
    let address = Url::create_object_url_with_blob(&blob)?;
    let document = web_sys::window().and_then(|window| window.document()).ok_or(JsValue::NULL)?;
    let anchor: HtmlAnchorElement = document.create_element("a")?.unchecked_into();
    anchor.set_href(&address);
    anchor.set_download(name);
    anchor.click();
    Url::revoke_object_url(&address)
}

/// The text of a file the user chose.
pub async fn read(file: &File) -> Option<String> {
    JsFuture::from(file.text()).await.ok()?.as_string()
}

/// A file's name from a title: letters and digits, the rest as hyphens.
#[must_use]
pub fn name_from(title: &str) -> String {
    let mut name = String::new();
    for c in title.to_lowercase().chars() {
        if c.is_alphanumeric() {
            name.push(c);
        } else if !name.ends_with('-') && !name.is_empty() {
            name.push('-');
        }
    }
    let name = name.trim_end_matches('-');
    format!("{}.json", if name.is_empty() { "setup" } else { name })
}
