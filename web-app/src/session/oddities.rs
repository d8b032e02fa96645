//! What is odd about the corner shown, once nothing has changed for a while, and what of it is meant.

use std::time::Duration;

use geometry_core::setup::{Axle, Side};
use leptos::prelude::*;

use super::{Session, at_rest, recent::SetupNumber, set_changed};
use crate::{oddities::Oddity, units};

/// A number half typed is odd more often than not: long enough for the next key.
const REST: Duration = Duration::from_millis(900);

/// What is odd, where, and in which words.
#[derive(Debug, Clone, PartialEq)]
pub struct Told {
    /// What is odd.
    pub oddity: Oddity,
    /// Of which setup's corner.
    of: OfCorner,
    /// The sentence.
    pub words: String,
}

impl Told {
    /// Of which axle's corner.
    #[must_use]
    pub fn axle(&self) -> Axle {
        self.of.1
    }
}

/// Handles to what is odd; copied freely.
#[derive(Debug, Clone, Copy)]
pub struct Oddities {
    /// What was odd when things had come to rest last, without what is meant.
    pub told: RwSignal<Vec<Told>>,
    /// What was said to be meant, of which setup's corner; until the page is left.
    meant: StoredValue<Vec<(OfCorner, Oddity)>>,
}

/// Whose corner.
type OfCorner = (SetupNumber, Axle, Side);

impl Oddities {
    pub(super) fn new() -> Self {
        Self { told: RwSignal::new(Vec::new()), meant: StoredValue::new(Vec::new()) }
    }
}

impl Session {
    /// Tells what is odd from now on.
    pub fn follow_oddities(self) {
        let follow = move || {
            self.axle.track();
            units::track();
            // Followed and not read: what stands is taken once it stands.
            self.corner.with(|_| ());
            true
        };
        at_rest(REST, follow, move || self.look_for_oddities());
    }

    /// What is odd now and not meant.
    #[must_use]
    pub fn odd_now(&self) -> Vec<Told> {
        let of = self.of_corner();
        let known = self.oddities().meant.get_value();
        let is_meant =
            |oddity: Oddity| known.iter().any(|(other, known)| *other == of && known.covers(oddity));
        self.corner.with_untracked(|corner| {
            let Some(corner) = corner else { return Vec::new() };
            let odd = Oddity::of(corner).into_iter().filter(|oddity| !is_meant(*oddity));
            odd.map(|oddity| Told { oddity, of, words: oddity.words(corner) }).collect()
        })
    }

    /// No more is said of it, unless it becomes odder or goes and comes again.
    pub fn mean_so(&self, told: &Told) {
        self.oddities().meant.update_value(|meant| meant.push((told.of, told.oddity)));
        self.look_for_oddities();
    }

    fn look_for_oddities(&self) {
        let of = self.of_corner();
        let odd = self.corner.with_untracked(|corner| corner.as_ref().map(Oddity::of).unwrap_or_default());
        let stands = |known: Oddity| odd.iter().any(|oddity| known.covers(*oddity));
        self.oddities()
            .meant
            .update_value(|meant| meant.retain(|(other, known)| *other != of || stands(*known)));
        set_changed(self.oddities().told, self.odd_now());
    }

    fn of_corner(&self) -> OfCorner {
        (self.number.get_value(), self.axle.get_untracked(), self.side.get_untracked())
    }
}
