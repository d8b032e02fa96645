//! The recent setups: what was in hand before the one in hand now.
//!
//! Whatever takes the present setup's place (a file, a link, a layout, an exchange with the
//! reference, undo of any of these) puts it into this list first, so that it is never lost.
//! The list is kept in the browser; where that fails it lasts as long as the page.

pub mod list;

use leptos::prelude::*;

use self::list::{Entry, List};
use super::Session;
use crate::{
    describe,
    effects::{clock, storage},
};
use geometry_core::setup::Document;

/// Tells one setup from another within the page and its store, however often it is edited:
/// the time when it was first seen, ms since 1970.
pub type SetupNumber = u64;

/// Handles to the list.
#[derive(Clone, Copy)]
pub struct Recent {
    list: RwSignal<List>,
    last_number: StoredValue<SetupNumber>,
    /// Whether the store has refused the list, so that it lives in this page alone.
    alone: StoredValue<bool>,
}

impl Recent {
    pub(super) fn new() -> Self {
        Self {
            list: RwSignal::new(List::default()),
            last_number: StoredValue::new(0),
            alone: StoredValue::new(false),
        }
    }

    /// A number for a setup that has none.
    #[must_use]
    pub fn new_number(&self) -> SetupNumber {
        let mut number = clock::since_1970();
        self.last_number.update_value(|last| {
            number = number.max(*last + 1);
            *last = number;
        });
        number
    }

    /// Reads the list from the store, where other windows may have written since.
    pub fn refresh(&self, session: &Session) {
        if self.alone.get_value() {
            return;
        }
        let (list, trouble) = storage::recent();
        self.list.set(list);
        if let Some(trouble) = trouble {
            session.complain(trouble);
        }
    }

    /// The entries, the one left last first; empty until [`Recent::refresh`].
    #[must_use]
    pub fn entries(&self) -> Vec<Entry> {
        self.list.with(|list| list.entries().to_vec())
    }

    /// Puts a setup that is left at the head of the list.
    pub fn leave(&self, session: &Session, number: SetupNumber, document: &Document) {
        let left = clock::since_1970();
        self.change(session, |list| list.put(Entry { number, left, document: document.clone() }));
    }

    /// The same for a setup whose place another takes, which need not be in the list any more.
    pub(super) fn exchange(
        &self,
        session: &Session,
        left: &Document,
        number: SetupNumber,
        next: SetupNumber,
    ) {
        let entry = Entry { number, left: clock::since_1970(), document: left.clone() };
        self.change(session, |list| {
            list.remove(next);
            list.put(entry);
        });
    }

    /// Takes an entry out of the list.
    pub fn remove(&self, session: &Session, number: SetupNumber) {
        self.change(session, |list| list.remove(number));
    }

    fn change(&self, session: &Session, change: impl FnOnce(&mut List)) {
        self.refresh(session);
        self.list.update(change);
        if self.alone.get_value() {
            return;
        }
        if let Err(refusal) = self.list.with_untracked(storage::keep_recent) {
            // Once is enough; from now on the list lives in this page alone.
            self.alone.set_value(true);
            session.complain(refusal);
        }
    }
}

impl Session {
    /// Puts another setup in the present one's place, which goes to the recent setups.
    pub fn open(&self, document: Document) {
        let number = self.recent.new_number();
        self.replace_by(document, number);
    }

    /// Opens a recent setup.
    pub fn open_recent(&self, entry: &Entry) {
        self.replace_by(entry.document.clone(), entry.number);
    }

    fn replace_by(&self, document: Document, number: SetupNumber) {
        let left = self.document.with_untracked(describe::setup::title);
        self.notice.set(None);
        match self.replace(document, number) {
            Ok(false) => self.tell("This is the setup that is open already.".into()),
            // A complaint of the store matters more.
            Ok(true) if self.notice.with_untracked(Option::is_none) => {
                self.tell(format!("{left} is under Recent; Undo brings it back too."));
            }
            Ok(true) => {}
            Err(error) => self.complain(error.to_string()),
        }
    }
}
