//! The browser's own store: the setup comes back when the page is opened again.

use geometry_core::setup::Document;

use crate::lengths::Convention;

/// All local pages share one store in some browsers; the prefix keeps ours apart.
const SETUP: &str = "cornerwise.setup";
/// A stored text that could not be read is kept here, so that it is not lost.
const UNREADABLE: &str = "cornerwise.unreadable";
/// Unit and axes of the table of pivots.
const COORDINATES: &str = "cornerwise.coordinates";

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

/// Keeps how coordinates are written.
pub fn keep_convention(convention: Convention) {
    // A refusal costs no more than choosing again; what loses work is told by `keep`.
    if let Some(store) = store() {
        let _ = store.set_item(COORDINATES, &convention.name());
    }
}

/// How coordinates were written last.
#[must_use]
pub fn convention() -> Convention {
    let text = store().and_then(|store| store.get_item(COORDINATES).ok().flatten());
    text.map(|text| Convention::of_name(&text)).unwrap_or_default()
}
