//! The browser's own store: the setup comes back when the page is opened again.

use geometry_core::setup::Document;

/// All local pages share one store in some browsers; the prefix keeps ours apart.
const SETUP: &str = "cornerwise.setup";
/// A stored text that could not be read is kept here, so that it is not lost.
const UNREADABLE: &str = "cornerwise.unreadable";

fn store() -> Option<web_sys::Storage> {
    web_sys::window()?.local_storage().ok()?
}

/// Keeps the document.
///
/// # Errors
/// A sentence when the browser refuses: private windows and full stores do.
pub fn keep(document: &Document) -> Result<(), String> {
    let refused = "This browser does not keep the setup; save it as a file.";
    let store = store().ok_or(refused)?;
    store.set_item(SETUP, &evaluate::write_document(document)).map_err(|_| refused.to_string())
}

/// The document kept last.
///
/// # Errors
/// A sentence when what was kept cannot be read; the text is put aside.
pub fn restore() -> Result<Option<Document>, String> {
    let Some(store) = store() else { return Ok(None) };
    let Ok(Some(text)) = store.get_item(SETUP) else { return Ok(None) };
    match evaluate::read_document(&text) {
        Ok(document) => Ok(Some(document)),
        Err(error) => {
            // Nothing more can be done where the store refuses this too.
            let _ = store.set_item(UNREADABLE, &text);
            Err(format!("The setup kept in this browser cannot be read ({error}); it was put aside."))
        }
    }
}

/// Keeps what the viewer chose to see, no part of the setup, under a name.
pub fn keep_view(name: &str, text: &str) {
    if let Some(store) = store() {
        // Where the browser refuses, the choice lasts as long as the page.
        let _ = store.set_item(&format!("cornerwise.{name}"), text);
    }
}

/// What was kept under that name.
#[must_use]
pub fn kept_view(name: &str) -> Option<String> {
    store()?.get_item(&format!("cornerwise.{name}")).ok()?
}
