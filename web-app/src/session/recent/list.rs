//! The list of recent setups as plain data, and as the text that is kept.

use evaluate::{read_document, write_document};
use geometry_core::setup::Document;
use serde::{Deserialize, Serialize};

use super::SetupNumber;

/// The most setups that are remembered; the one left longest ago is forgotten first.
pub const MOST: usize = 12;

/// Version of the text; a later one is not touched.
const VERSION: u32 = 1;

/// A setup that was left.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// Which setup it is.
    pub number: SetupNumber,
    /// When it was left, ms since 1970.
    pub left: u64,
    /// The setup as it was then.
    pub document: Document,
}

/// The recent setups, the one left last first.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct List {
    entries: Vec<Entry>,
}

/// Why a kept text is no list.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ListError {
    /// No text that this page or an earlier one wrote.
    Unreadable,
    /// Written by a later version of the page.
    Newer,
}

/// The text's own form. A setup is a text within the text, so that one that cannot be read
/// costs no other.
#[derive(Serialize, Deserialize)]
struct Written {
    version: u32,
    setups: Vec<WrittenEntry>,
}

#[derive(Serialize, Deserialize)]
struct WrittenEntry {
    number: SetupNumber,
    left: u64,
    setup: String,
}

#[derive(Deserialize)]
struct JustVersion {
    version: u32,
}

impl List {
    /// The entries, the one left last first.
    #[must_use]
    pub fn entries(&self) -> &[Entry] {
        &self.entries
    }

    /// Puts an entry at the head; an earlier one of the same setup, or with the same content,
    /// goes.
    pub fn put(&mut self, entry: Entry) {
        self.entries.retain(|other| other.number != entry.number && other.document != entry.document);
        self.entries.insert(0, entry);
        self.entries.truncate(MOST);
    }

    /// Takes a setup out, where it is in.
    pub fn remove(&mut self, number: SetupNumber) {
        self.entries.retain(|entry| entry.number != number);
    }

    /// The list as the text that is kept.
    #[must_use]
    pub fn write(&self) -> String {
        let setups = self.entries.iter().map(|entry| WrittenEntry {
            number: entry.number,
            left: entry.left,
            setup: write_document(&entry.document),
        });
        // Only a map with keys that are no text could fail here; there is none.
        serde_json::to_string(&Written { version: VERSION, setups: setups.collect() }).unwrap_or_default()
    }

    /// The list of a text, and how many setups in it could not be read.
    ///
    /// # Errors
    /// [`ListError`] when the text as a whole is no list.
    pub fn read(text: &str) -> Result<(Self, usize), ListError> {
        let JustVersion { version } = serde_json::from_str(text).map_err(|_| ListError::Unreadable)?;
        if version > VERSION {
            return Err(ListError::Newer);
        }
        let written: Written = serde_json::from_str(text).map_err(|_| ListError::Unreadable)?;
        let mut list = Self::default();
        let mut unreadable = 0;
        for WrittenEntry { number, left, setup } in written.setups {
            match read_document(&setup) {
                Ok(document) if list.entries.len() < MOST => {
                    list.entries.push(Entry { number, left, document });
                }
                Ok(_) => {}
                Err(_) => unreadable += 1,
            }
        }
        Ok((list, unreadable))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use geometry_core::setup::example;

    fn titled(number: SetupNumber, title: &str) -> Entry {
        Entry { number, left: 1000 + number, document: Document { title: title.into(), ..example() } }
    }

    fn titles(list: &List) -> Vec<&str> {
        list.entries().iter().map(|entry| entry.document.title.as_str()).collect()
    }

    #[test]
    fn the_last_one_left_is_first_and_the_thirteenth_is_forgotten() {
        let mut list = List::default();
        for number in 0..15 {
            list.put(titled(number, &format!("setup {number}")));
        }
        assert_eq!(list.entries().len(), MOST);
        assert_eq!(titles(&list)[0], "setup 14");
        assert_eq!(titles(&list)[MOST - 1], "setup 3");
    }

    #[test]
    fn a_setup_stands_in_the_list_once() {
        let mut list = List::default();
        list.put(titled(1, "wet"));
        list.put(titled(2, "dry"));
        // The same setup again, edited since.
        list.put(titled(1, "wet, softer"));
        assert_eq!(titles(&list), ["wet, softer", "dry"]);
        // Another number with the same content, as after a reload.
        list.put(titled(9, "dry"));
        assert_eq!(titles(&list), ["dry", "wet, softer"]);
        list.remove(9);
        list.remove(9);
        assert_eq!(titles(&list), ["wet, softer"]);
    }

    #[test]
    fn a_written_list_is_read_back() {
        let mut list = List::default();
        list.put(titled(1, "Läufer “1” \\ <b>"));
        list.put(titled(2, ""));
        assert_eq!(List::read(&list.write()), Ok((list, 0)));
    }

    #[test]
    fn a_broken_setup_costs_no_other() {
        let mut list = List::default();
        list.put(titled(1, "good"));
        let whole = serde_json::to_string(&Written {
            version: VERSION,
            setups: vec![
                WrittenEntry { number: 5, left: 0, setup: "{".into() },
                WrittenEntry { number: 1, left: 1001, setup: write_document(&titled(1, "good").document) },
                WrittenEntry { number: 6, left: 0, setup: r#"{"cornerwise": 99}"#.into() },
            ],
        });
        assert_eq!(List::read(&whole.unwrap_or_default()), Ok((list, 2)));
    }

    #[test]
    fn what_is_no_list_is_refused_and_a_later_version_told_apart() {
        for text in [
            "",
            "{",
            "[]",
            "null",
            r#"{"version": "1"}"#,
            r#"{"version": 1}"#,
            r#"{"version": 1, "setups": 3}"#,
        ] {
            assert_eq!(List::read(text), Err(ListError::Unreadable), "{text}");
        }
        assert_eq!(List::read(r#"{"version": 2, "cars": []}"#), Err(ListError::Newer));
    }
}
