//! The browser's own store: setup, reference and recent setups come back when the page is
//! opened again.

use geometry_core::setup::Document;

use crate::lengths::Convention;
use crate::session::recent::list::{List, ListError};

/// All local pages share one store in some browsers; the prefix keeps ours apart.
const SETUP: &str = "cornerwise.setup";
/// The setup kept as reference, as the setup itself.
const REFERENCE: &str = "cornerwise.reference";
/// The recent setups, the text of [`List::write`].
const RECENT: &str = "cornerwise.recent";
/// A stored text that could not be read is kept under such a name, so that it is not lost.
const UNREADABLE: &str = "cornerwise.unreadable";
/// What is looked at, as a link says it.
const LOOK: &str = "cornerwise.look";
/// Unit and axes of the table of pivots.
const COORDINATES: &str = "cornerwise.coordinates";

fn store() -> Option<web_sys::Storage> {
    web_sys::window()?.local_storage().ok()?
}

/// The store that is forgotten with the window.
fn of_window() -> Option<web_sys::Storage> {
    web_sys::window()?.session_storage().ok()?
}

fn get(name: &str) -> Option<String> {
    store()?.get_item(name).ok()?
}

fn set(name: &str, text: &str) -> bool {
    store().is_some_and(|store| store.set_item(name, text).is_ok())
}

/// Puts a text aside that cannot be read.
fn put_aside(kind: &str, text: &str) {
    // Nothing more can be done where the store refuses this too.
    set(&format!("{UNREADABLE}{kind}"), text);
}

/// Keeps the document as this text.
///
/// # Errors
/// A sentence when the browser refuses: private windows and full stores do.
pub fn keep(text: &str) -> Result<(), String> {
    if set(SETUP, text) {
        Ok(())
    } else {
        Err("This browser does not keep the setup; save it as a file.".into())
    }
}

/// The text of the document kept last, by this page or another window of it.
#[must_use]
pub fn kept() -> Option<String> {
    get(SETUP)
}

/// The document kept last.
///
/// # Errors
/// A sentence when what was kept cannot be read; the text is put aside.
pub fn restore() -> Result<Option<Document>, String> {
    restore_as(SETUP, "", "The setup")
}

/// Keeps the reference, or that there is none.
///
/// # Errors
/// A sentence when the browser refuses.
pub fn keep_reference(document: Option<&Document>) -> Result<(), String> {
    let Some(document) = document else {
        forget_reference();
        return Ok(());
    };
    if set(REFERENCE, &evaluate::write_document(document)) {
        Ok(())
    } else {
        Err("This browser does not keep the reference; it lasts until the page is left.".into())
    }
}

fn forget_reference() {
    // Where nothing can be taken out, nothing was put in.
    let _ = store().map(|store| store.remove_item(REFERENCE));
}

/// The reference kept last.
///
/// # Errors
/// A sentence when what was kept cannot be read; the text is put aside.
pub fn restore_reference() -> Result<Option<Document>, String> {
    let restored = restore_as(REFERENCE, ".reference", "The reference");
    if restored.is_err() {
        // It would be complained about at every visit.
        forget_reference();
    }
    restored
}

fn restore_as(name: &str, kind: &str, what: &str) -> Result<Option<Document>, String> {
    let Some(text) = get(name) else { return Ok(None) };
    match evaluate::read_document(&text) {
        Ok(document) => Ok(Some(document)),
        Err(error) => {
            put_aside(kind, &text);
            Err(format!("{what} kept in this browser cannot be read ({error}); it was put aside."))
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

/// Keeps what is looked at for as long as this window is open: a reload brings it back.
pub fn keep_look(text: &str) {
    if let Some(store) = of_window() {
        // Where the browser refuses, a reload shows the setup as a page opens.
        let _ = store.set_item(LOOK, text);
    }
}

/// What was looked at in this window before a reload.
#[must_use]
pub fn kept_look() -> Option<String> {
    of_window()?.get_item(LOOK).ok()?
}

/// Keeps the recent setups.
///
/// # Errors
/// A sentence when the browser refuses, or when a later page's list stands there.
pub fn keep_recent(list: &List) -> Result<(), String> {
    if get(RECENT).is_some_and(|text| List::read(&text) == Err(ListError::Newer)) {
        return Err(newer());
    }
    if set(RECENT, &list.write()) {
        Ok(())
    } else {
        Err("This browser does not keep the recent setups, or its store is full; the list lasts until the page is \
             left. Save what you need as a file."
            .into())
    }
}

/// The recent setups kept last, and a sentence when some or all of them cannot be read; the
/// text is put aside then.
#[must_use]
pub fn recent() -> (List, Option<String>) {
    let Some(text) = get(RECENT) else { return (List::default(), None) };
    match List::read(&text) {
        Ok((list, 0)) => (list, None),
        Ok((list, unreadable)) => {
            put_aside(".recent", &text);
            // Without the broken ones, which would be complained about every time.
            set(RECENT, &list.write());
            let (them, were) = if unreadable == 1 { ("setup", "it was") } else { ("setups", "they were") };
            (list, Some(format!("{unreadable} recent {them} cannot be read; {were} put aside.")))
        }
        Err(ListError::Unreadable) => {
            put_aside(".recent", &text);
            set(RECENT, &List::default().write());
            let sentence = "The list of recent setups kept in this browser cannot be read; it was put aside.";
            (List::default(), Some(sentence.into()))
        }
        Err(ListError::Newer) => (List::default(), Some(newer())),
    }
}

fn newer() -> String {
    "The recent setups were kept by a newer Cornerwise and are left as they are; this page's list lasts until it is \
     left."
        .into()
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

/// Puts a kept view aside that cannot be read, so that it is neither lost nor met again.
pub fn put_view_aside(name: &str, text: &str) {
    put_aside(&format!(".{name}"), text);
    let _ = store().map(|store| store.remove_item(&format!("cornerwise.{name}")));
}
