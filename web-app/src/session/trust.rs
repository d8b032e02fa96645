//! How far to trust the readings: what is left uncertain by measuring.

use geometry_core::{
    bounds::{ANGLE_DOUBT, LENGTH_DOUBT},
    readings::Quantity,
    sensitivity::Measured,
};
use leptos::prelude::*;

use super::{Session, Tab};
use crate::{describe, effects::storage};

/// Tape and plumb line; angle gauge (common practice, no source).
const USUAL: Measured = Measured { length: 2.0, angle: 0.1 };

/// The name under which it is kept.
const KEPT: &str = "trust";

/// How well the corner was measured, a choice of the page; copied freely.
#[derive(Debug, Clone, Copy)]
pub struct Trust {
    /// Whether the readings tell how uncertain they are.
    pub shown: RwSignal<bool>,
    /// How uncertain the numbers of the description are.
    pub measured: RwSignal<Measured>,
}

impl Trust {
    /// As it was left.
    pub(super) fn restored() -> Self {
        let (shown, measured) =
            storage::kept_view(KEPT).and_then(|text| read(&text)).unwrap_or((false, USUAL));
        Self { shown: RwSignal::new(shown), measured: RwSignal::new(measured) }
    }

    /// Keeps it from now on.
    pub fn keep(self) {
        Effect::new(move |before: Option<()>| {
            let text = written(self.shown.get(), self.measured.get());
            if before.is_some() {
                storage::keep_view(KEPT, &text);
            }
        });
    }
}

impl Session {
    /// A reading where the drawing was at rest last, and how uncertain it is; none where the reading does not exist, or
    /// where a change of one of the numbers leaves no corner. Follows only while somebody asks.
    #[must_use]
    pub fn uncertainty(&self, quantity: Quantity) -> Option<(f64, f64)> {
        let found = self.matters().found.get()?;
        let found = found.as_ref().as_ref().ok()?;
        found.value(quantity).zip(found.uncertainty(quantity, self.trust().measured.get()))
    }

    /// The same in words; empty where nothing is to be said.
    #[must_use]
    pub fn doubt(&self, quantity: Quantity) -> String {
        let found = self.uncertainty(quantity);
        found.map(|(value, u)| describe::sensitivity::doubted(quantity, value, u)).unwrap_or_default()
    }

    /// Has the derivatives follow the corner while they are shown anywhere.
    pub fn follow_what_matters(self) {
        let trust = self.trust();
        self.matters().follow(self, move || trust.shown.get() || self.tab.get() == Tab::Matters);
    }
}

fn written(shown: bool, measured: Measured) -> String {
    format!("{} {} {}", if shown { "shown" } else { "hidden" }, measured.length, measured.angle)
}

/// None where the text is none of [`written`].
fn read(text: &str) -> Option<(bool, Measured)> {
    let mut words = text.split(' ');
    let shown = match words.next()? {
        "shown" => true,
        "hidden" => false,
        _ => return None,
    };
    let mut number = || words.next()?.parse::<f64>().ok();
    let measured = Measured { length: number()?, angle: number()? };
    let allowed = LENGTH_DOUBT.allows(measured.length) && ANGLE_DOUBT.allows(measured.angle);
    allowed.then_some((shown, measured))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_kept_is_read_again() {
        for (shown, measured) in [(true, USUAL), (false, Measured { length: 0.5, angle: 0.0 })] {
            assert_eq!(read(&written(shown, measured)), Some((shown, measured)));
        }
        for wrong in ["", "shown", "shown 2", "perhaps 2 0.1", "shown -1 0.1", "shown NaN 0.1", "shown 2 99"]
        {
            assert_eq!(read(wrong), None, "{wrong}");
        }
    }
}
