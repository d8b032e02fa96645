//! How far to trust the readings: what is left uncertain by measuring.

use geometry_core::{
    bounds::{ANGLE_DOUBT, Bound, HEIGHT_DOUBT, LENGTH_DOUBT, PROPORTION_DOUBT},
    readings::Quantity,
    uncertainty::{Beside, Measured},
};
use leptos::prelude::*;

use super::{Session, Tab, set_changed};
use crate::{
    describe::{self, beside::Difference},
    effects::storage,
    units::{self, Start},
};

/// Tape and plumb line; angle gauge; a car weighed level and with an axle raised; scales and spring lists (common
/// practice, no source).
const USUAL: Measured =
    Measured { length: LENGTH.metric, angle: 0.1, height: HEIGHT.metric, proportion: 2.0 };
const LENGTH: Start = Start { metric: 2.0, customary: 0.08 };
const HEIGHT: Start = Start { metric: 20.0, customary: 0.8 };

/// What is allowed in each, in the order of [`Measured`].
pub(super) const MEASURED: [Bound; 4] = [LENGTH_DOUBT, ANGLE_DOUBT, HEIGHT_DOUBT, PROPORTION_DOUBT];

/// The name under which it is kept.
const KEPT: &str = "trust";
/// The same of what was said of the reference.
const KEPT_BESIDE: &str = "trust.beside";

/// What setup and reference have in common, as it is kept and as links say it.
pub(super) const TOGETHER: [(&str, Beside); 2] = [("altered", Beside::Altered), ("apart", Beside::Apart)];

/// How well the corner was measured, a choice of the page; copied freely.
#[derive(Debug, Clone, Copy)]
pub struct Trust {
    /// Whether the readings tell how uncertain they are.
    pub shown: RwSignal<bool>,
    /// How uncertain the numbers of the description are.
    pub measured: RwSignal<Measured>,
    /// What a link brought along, which is not kept: the reader's own comes back with the page.
    linked: StoredValue<Option<(bool, Measured)>>,
    /// What was said that this setup and the reference have in common; none where nothing was.
    pub beside: RwSignal<Option<Beside>>,
}

impl Trust {
    /// As it was left.
    pub(super) fn restored() -> Self {
        let (shown, measured) =
            storage::kept_view(KEPT).and_then(|text| read(&text)).unwrap_or((false, USUAL));
        Self {
            shown: RwSignal::new(shown),
            measured: RwSignal::new(measured),
            linked: StoredValue::new(None),
            beside: RwSignal::new(storage::kept_view(KEPT_BESIDE).and_then(|text| together(&text))),
        }
    }

    /// Keeps it from now on, round in the reader's units where nobody said another.
    pub fn keep(self) {
        Effect::new(move |_| {
            let (system, shown) = (units::chosen(), self.shown.get_untracked());
            let now = self.measured.get_untracked();
            // What a link said stays as it is.
            if self.linked.get_value() != Some((shown, now)) {
                let (length, height) = (LENGTH.or(now.length, system), HEIGHT.or(now.height, system));
                set_changed(self.measured, Measured { length, height, ..now });
            }
        });
        Effect::new(move |before: Option<()>| {
            let now = (self.shown.get(), self.measured.get());
            if before.is_some() && self.linked.get_value() != Some(now) {
                storage::keep_view(KEPT, &written(now.0, now.1));
            }
        });
        Effect::new(move |before: Option<()>| {
            let word = self.beside.get().map_or("", word_of);
            if before.is_some() {
                storage::keep_view(KEPT_BESIDE, word);
            }
        });
    }

    /// Shows it for what a link says of how well the car was measured.
    pub(super) fn take(self, measured: Measured) {
        self.linked.set_value(Some((true, measured)));
        self.measured.set(measured);
        self.shown.set(true);
    }
}

impl Session {
    /// How uncertain a reading is, in words; empty where it does not exist, or where a change of one of the numbers
    /// leaves no corner.
    #[must_use]
    pub fn doubt(&self, quantity: Quantity) -> String {
        // Known of what stood at rest, as is the reading then.
        let number = untrack(|| self.solved.with(|solved| quantity.value(&solved.as_ref()?.readings)));
        let found = number.zip(self.uncertainty(quantity));
        found.map(|(number, u)| describe::sensitivity::doubted(quantity, number, u)).unwrap_or_default()
    }

    /// The same as a number in the reading's unit.
    #[must_use]
    pub fn uncertainty(&self, quantity: Quantity) -> Option<f64> {
        self.doubts().of(Tab::Readings, quantity.name()).number
    }

    /// How uncertain the difference from the reference's is, in words; none where there is none, or nothing is known.
    #[must_use]
    pub fn doubt_of_difference(&self, quantity: Quantity) -> Option<String> {
        let uncertainty = self.doubts().of(Tab::Readings, quantity.name()).difference?;
        match untrack(|| self.difference(quantity))? {
            Difference::By(by) => Some(describe::sensitivity::doubted_difference(quantity, by, uncertainty)),
            _ => None,
        }
    }
}

/// What a word says that setup and reference have in common.
pub(super) fn together(word: &str) -> Option<Beside> {
    TOGETHER.into_iter().find(|(known, _)| *known == word).map(|(_, beside)| beside)
}

/// The word for it.
pub(super) fn word_of(beside: Beside) -> &'static str {
    TOGETHER.into_iter().find(|(_, known)| *known == beside).map_or("", |(word, _)| word)
}

fn written(shown: bool, measured: Measured) -> String {
    let Measured { length, angle, height, proportion } = measured;
    format!("{} {length} {angle} {height} {proportion}", if shown { "shown" } else { "hidden" })
}

/// None where the text is none of [`written`].
fn read(text: &str) -> Option<(bool, Measured)> {
    let mut words = text.split(' ');
    let shown = match words.next()? {
        "shown" => true,
        "hidden" => false,
        _ => return None,
    };
    let mut number = |bound: Bound| words.next()?.parse().ok().filter(|number| bound.allows(*number));
    let (length, angle) = (number(LENGTH_DOUBT)?, number(ANGLE_DOUBT)?);
    // What was kept before there were these two has the usual ones.
    let (height, proportion) = (number(HEIGHT_DOUBT), number(PROPORTION_DOUBT));
    let (height, proportion) = (height.unwrap_or(USUAL.height), proportion.unwrap_or(USUAL.proportion));
    Some((shown, Measured { length, angle, height, proportion }))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_kept_is_read_again() {
        for (shown, measured) in
            [(true, USUAL), (false, Measured { length: 0.5, angle: 0.0, height: 30.0, proportion: 1.5 })]
        {
            assert_eq!(read(&written(shown, measured)), Some((shown, measured)));
        }
        assert_eq!(read("shown 2 0.1"), Some((true, USUAL)));
        for wrong in ["", "shown", "shown 2", "perhaps 2 0.1", "shown -1 0.1", "shown NaN 0.1", "shown 2 99"]
        {
            assert_eq!(read(wrong), None, "{wrong}");
        }
    }
}
