//! The message line: what is said of no field.

use leptos::prelude::*;

use super::Session;

/// Something to tell the user that belongs to no field.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Notice {
    /// The sentence.
    pub text: String,
    /// Whether something went wrong.
    pub wrong: bool,
}

impl Session {
    /// Says that something went wrong.
    pub fn complain(&self, text: String) {
        self.notice.set(Some(Notice { text, wrong: true }));
    }

    /// The same after what is said already.
    pub fn complain_too(&self, text: String) {
        let before = self.notice.with_untracked(|notice| notice.as_ref().map(|before| before.text.clone()));
        self.complain([before, Some(text)].into_iter().flatten().collect::<Vec<_>>().join(" "));
    }

    /// Takes back what was said of the setup as it was; what went wrong stays until it is read.
    pub(super) fn hush(&self) {
        if self.notice.with_untracked(|notice| notice.as_ref().is_some_and(|notice| !notice.wrong)) {
            self.notice.set(None);
        }
    }

    /// Says something.
    pub fn tell(&self, text: String) {
        self.notice.set(Some(Notice { text, wrong: false }));
    }
}
