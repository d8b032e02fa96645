//! A text that is typed into a field of a number, wherever the number goes: what is right counts at once, what is
//! wrong stays with its sentence and leaves nothing of what its first digits meant, Escape takes back what was typed.

use leptos::prelude::*;

use crate::units;

/// The number that a field holds; none of an empty one.
pub type Number = Option<f64>;

/// What a field does with texts and numbers.
#[derive(Clone, Copy)]
pub struct Meaning {
    /// What it shows of a number. Read again when the reader's units or axes change.
    pub show: Callback<Number, String>,
    /// The number that a text means, or why it means none.
    pub read: Callback<String, Result<Number, String>>,
    /// Takes a number, or says why it is not allowed.
    pub put: Callback<Number, Result<(), String>>,
}

/// The text of a field, and whether it is wrong; copied freely.
#[derive(Clone, Copy)]
pub struct Typing {
    /// What stands in the field.
    pub text: RwSignal<String>,
    /// Whether it is wrong.
    pub wrong: RwSignal<bool>,
    /// Why.
    error: RwSignal<Option<String>>,
    value: Memo<Number>,
    /// The number when the typing began.
    began: StoredValue<Option<Number>>,
    meaning: Meaning,
}

/// The rows of a list, each with a number that it keeps while others are added behind it: what stands in a row is of
/// that row. Where some are taken out all are made anew, for nothing else tells which moved up.
pub fn rows_of<T: Clone + PartialEq + Send + Sync + 'static>(
    with_list: impl Fn(&mut dyn FnMut(&[T])) + Send + Sync + 'static,
) -> Memo<Vec<(u32, usize)>> {
    // A corner that is dragged asks at every move: nothing is copied where the list stays.
    let told = Memo::new_owning(move |before: Option<(Vec<T>, u32)>| {
        let (mut old, mut time) = before.unwrap_or_default();
        let mut changed = false;
        with_list(&mut |now| {
            changed = *now != *old;
            let are_the_same = now.len() == old.len() || now.len() > old.len() && now.starts_with(&old);
            if !are_the_same {
                time += 1;
            }
            if changed {
                old = now.to_vec();
            }
        });
        ((old, time), changed)
    });
    Memo::new(move |_| told.with(|(list, time)| (0..list.len()).map(|number| (*time, number)).collect()))
}

/// Wrong texts of fields that are made anew with what stands around them, by names that last; for as long as the
/// component lives that begins it.
#[derive(Clone, Copy, Default)]
pub struct WrongTexts(StoredValue<Vec<(String, WrongText)>>);

#[derive(Debug, Clone)]
struct WrongText {
    text: String,
    /// Why it is wrong.
    sentence: Option<String>,
    /// The number that holds in its place.
    value: Number,
}

impl WrongTexts {
    /// The texts of what bears a name are gone with it.
    pub fn forget(self, named: &str) {
        self.0.update_value(|all| all.retain(|(of, _)| !of.starts_with(named)));
    }

    /// What bore one name bears another now.
    pub fn rename(self, before: &str, after: &str) {
        self.0.update_value(|all| {
            for (of, _) in all {
                if let Some(rest) = of.strip_prefix(before) {
                    *of = format!("{after}{rest}");
                }
            }
        });
    }
}

impl Typing {
    /// Has a wrong text outlive the field: one of the same name that holds the same number begins with it.
    pub fn outlive(self, WrongTexts(texts): WrongTexts, name: String) {
        let kept =
            texts.with_value(|all| all.iter().find(|(of, _)| *of == name).map(|(_, kept)| kept.clone()));
        if let Some(kept) = kept.filter(|kept| kept.value == self.value.get_untracked()) {
            self.began.set_value(Some(kept.value));
            self.text.set(kept.text);
            self.wrong.set(true);
            self.error.set(kept.sentence);
        }
        Effect::new(move |_| {
            let (wrong, text) = (self.wrong.get(), self.text.get());
            texts.update_value(|all| {
                all.retain(|(of, _)| *of != name);
                if wrong {
                    let sentence = self.error.get_untracked();
                    let value = self.began.get_value().flatten();
                    all.push((name.clone(), WrongText { text, sentence, value }));
                }
            });
        });
    }

    /// A field that follows a number. `error` may be shared with the other fields of a row.
    pub fn new(value: Memo<Number>, error: RwSignal<Option<String>>, meaning: Meaning) -> Self {
        let text = RwSignal::new(untrack(|| meaning.show.run(value.get())));
        let typing =
            Self { text, wrong: RwSignal::new(false), error, value, began: StoredValue::new(None), meaning };
        // The number changed elsewhere (a drag, undo, another setup): the field follows. A text that already means
        // it, or a wrong one that left it alone, stays.
        Effect::new(move |_| {
            let value = value.get();
            if typing.wrong.get_untracked() && typing.began.get_value() == Some(value) {
                return;
            }
            let stands =
                || text.get().trim() == meaning.show.run(value) || meaning.read.run(text.get()) == Ok(value);
            if !untrack(stands) {
                typing.write(value);
                typing.righted();
            }
        });
        // Other units or axes: the same number is written anew. A wrong text stays, and is read as what it says now.
        Effect::new(move |again: Option<()>| {
            units::track();
            let shown = meaning.show.run(value.get_untracked());
            if again.is_none() {
                return;
            }
            if typing.wrong.get_untracked() {
                typing.typed(text.get_untracked());
            } else {
                text.set(shown);
                typing.began.set_value(None);
            }
        });
        typing
    }

    fn write(self, value: Number) {
        self.text.set(untrack(|| self.meaning.show.run(value)));
        self.began.set_value(None);
    }

    fn righted(self) {
        if self.wrong.get_untracked() {
            self.wrong.set(false);
            self.error.set(None);
        }
    }

    /// Takes what stands in the field now.
    pub fn typed(self, new: String) {
        let began = self.began.get_value().unwrap_or_else(|| self.value.get_untracked());
        self.began.set_value(Some(began));
        let Meaning { show, read, put } = self.meaning;
        let outcome = untrack(|| {
            // What is shown of a number may be rounded: typed as it stood there it is that number still.
            let same = new.trim() == show.run(began);
            let number = if same { Ok(began) } else { read.run(new.clone()) };
            number.and_then(|number| put.run(number))
        });
        self.text.set(new);
        self.take(outcome, began);
    }

    /// Puts a number there as if it had been typed, as the arrow keys do.
    pub fn put(self, number: f64) {
        let began = self.began.get_value().unwrap_or_else(|| self.value.get_untracked());
        self.began.set_value(Some(began));
        self.text.set(untrack(|| self.meaning.show.run(Some(number))));
        self.take(untrack(|| self.meaning.put.run(Some(number))), began);
    }

    fn take(self, outcome: Result<(), String>, began: Number) {
        match outcome {
            Ok(()) => self.righted(),
            Err(sentence) => {
                self.wrong.set(true);
                self.error.set(Some(sentence));
                // It was there before, so it is not refused now.
                let _ = untrack(|| self.meaning.put.run(began));
            }
        }
    }

    /// The field is left: a right text is written as the page writes it, in the unit that stands beside it.
    pub fn left(self) {
        // A field that is taken away with the focus in it is left after its signals are gone.
        if self.wrong.try_get_untracked() == Some(false)
            && let Some(value) = self.value.try_get_untracked()
        {
            self.write(value);
        }
    }

    /// What stands in the field is meant, unless it is wrong: what is typed next begins with it.
    pub fn done(self) -> bool {
        let right = !self.wrong.get_untracked();
        if right {
            self.began.set_value(None);
        }
        right
    }

    /// What a key means in a field that has no other keys: Enter that the number is meant, Escape that it is not.
    pub fn key(self, key: &web_sys::KeyboardEvent) {
        if key.key() == "Enter" {
            self.done();
        } else {
            self.take_back(key);
        }
    }

    /// Takes back what was typed, where something was; the Escape key is spent then.
    pub fn take_back(self, key: &web_sys::KeyboardEvent) -> bool {
        let Some(began) = self.began.get_value().filter(|_| key.key() == "Escape") else { return false };
        key.stop_propagation();
        self.righted();
        // The number itself: what is shown of it may be rounded. It was there before.
        let _ = untrack(|| self.meaning.put.run(began));
        self.write(began);
        true
    }
}
