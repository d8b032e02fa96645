//! Which readings stand in the headline: the usual ones, or a person's own choice, of corners
//! that are steered and of others.

use std::fmt::Write as _;

use geometry_core::readings::Quantity;
use leptos::prelude::*;

use crate::session::{Session, settled};

/// The most readings in the headline.
pub const MOST: usize = 8;

/// What stands in the headline of a steered corner until a person chooses.
const STEERED: [Quantity; 8] = [
    Quantity::RollCentreHeight,
    Quantity::CamberGain,
    Quantity::KingpinInclination,
    Quantity::Caster,
    Quantity::ScrubRadius,
    Quantity::MechanicalTrail,
    Quantity::AntiBrakingFriction,
    Quantity::BumpSteer,
];
/// The same of one that is not steered.
const NOT_STEERED: [Quantity; 6] = [
    Quantity::RollCentreHeight,
    Quantity::CamberGain,
    Quantity::AntiBrakingFriction,
    Quantity::AntiDrivingShaft,
    Quantity::SpringMotionRatio,
    Quantity::BumpSteer,
];

/// A person's choice; none where the usual ones are shown.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Choice {
    steered: Option<Vec<Quantity>>,
    not_steered: Option<Vec<Quantity>>,
}

/// The names of both lists where the choice is kept.
const NAMES: [&str; 2] = ["steered", "not_steered"];

impl Choice {
    /// The readings shown of a corner, in order.
    #[must_use]
    pub fn shown(&self, steers: bool) -> &[Quantity] {
        match (steers, &self.steered, &self.not_steered) {
            (true, Some(chosen), _) | (false, _, Some(chosen)) => chosen,
            (true, None, _) => &STEERED,
            (false, _, None) => &NOT_STEERED,
        }
    }

    /// Whether it is a choice and not the usual.
    #[must_use]
    pub fn is_own(&self, steers: bool) -> bool {
        self.list(steers).is_some()
    }

    fn list(&self, steers: bool) -> Option<&Vec<Quantity>> {
        if steers { self.steered.as_ref() } else { self.not_steered.as_ref() }
    }

    fn list_mut(&mut self, steers: bool) -> &mut Option<Vec<Quantity>> {
        if steers { &mut self.steered } else { &mut self.not_steered }
    }

    /// Takes a reading in, or out where it is in.
    ///
    /// # Errors
    /// The headline is full.
    pub fn toggle(&mut self, quantity: Quantity, steers: bool) -> Result<(), Full> {
        let mut list = self.shown(steers).to_vec();
        if let Some(place) = list.iter().position(|other| *other == quantity) {
            list.remove(place);
        } else if list.len() < MOST {
            list.push(quantity);
        } else {
            return Err(Full);
        }
        *self.list_mut(steers) = Some(list);
        Ok(())
    }

    /// The usual readings again.
    pub fn reset(&mut self, steers: bool) {
        *self.list_mut(steers) = None;
    }

    /// The text that [`Choice::read`] reads: a line for each list, its name and its readings'.
    #[must_use]
    pub fn write(&self) -> String {
        let mut text = String::new();
        for (name, list) in NAMES.into_iter().zip([&self.steered, &self.not_steered]) {
            let Some(list) = list else { continue };
            text.push_str(name);
            for quantity in list {
                // Writing to a String cannot fail.
                let _ = write!(text, " {}", quantity.name());
            }
            text.push('\n');
        }
        text
    }

    /// Reads a kept choice.
    ///
    /// # Errors
    /// What in the text is none.
    pub fn read(text: &str) -> Result<Self, String> {
        let mut choice = Self::default();
        for line in text.lines() {
            let mut words = line.split(' ');
            let name = words.next().unwrap_or_default();
            let place = NAMES.iter().position(|known| *known == name);
            let place = place.ok_or_else(|| format!("“{}” is no list", shortened(name)))?;
            let mut list = Vec::new();
            for word in words {
                let quantity = Quantity::ALL.into_iter().find(|quantity| quantity.name() == word);
                let quantity = quantity.ok_or_else(|| format!("“{}” is no reading", shortened(word)))?;
                if list.contains(&quantity) {
                    return Err(format!("“{word}” stands there twice"));
                }
                list.push(quantity);
            }
            if list.len() > MOST {
                return Err(format!("it has {} readings; at most {MOST} are shown", list.len()));
            }
            *choice.list_mut(place == 0) = Some(list);
        }
        Ok(choice)
    }
}

fn shortened(word: &str) -> String {
    word.chars().take(40).collect()
}

/// The headline has as many readings as it takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Full;

impl std::fmt::Display for Full {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(
            f,
            "The headline holds {MOST} numbers and is full: take one out by its star before another goes in.",
        )
    }
}

impl std::error::Error for Full {}

/// The choice as the page holds it.
#[derive(Clone, Copy)]
pub struct Headline {
    /// The choice.
    pub choice: RwSignal<Choice>,
    /// Whether a link of the corner shown steers; so taken where there is no linkage.
    pub steers: ReadSignal<bool>,
}

impl Headline {
    /// The usual readings of a session's corner.
    #[must_use]
    pub fn new(session: Session) -> Self {
        let linkage = session.linkage;
        let steers = settled(move || linkage.with(|l| l.as_ref().map_or(true, |l| l.steers())));
        Self { choice: RwSignal::new(Choice::default()), steers }
    }

    /// Whether a reading stands in the headline.
    #[must_use]
    pub fn holds(&self, quantity: Quantity) -> bool {
        let steers = self.steers.get();
        self.choice.with(|choice| choice.shown(steers).contains(&quantity))
    }

    /// Takes a reading in, or out where it is in.
    ///
    /// # Errors
    /// The headline is full.
    pub fn toggle(&self, quantity: Quantity) -> Result<(), Full> {
        let steers = self.steers.get_untracked();
        let mut choice = self.choice.get_untracked();
        choice.toggle(quantity, steers)?;
        self.choice.set(choice);
        Ok(())
    }

    /// The usual readings of such a corner again.
    pub fn reset(&self) {
        let steers = self.steers.get_untracked();
        self.choice.update(|choice| choice.reset(steers));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_choice_begins_with_the_usual_and_is_kept_apart_for_both_kinds() {
        let mut choice = Choice::default();
        assert_eq!(choice.toggle(Quantity::Camber, true), Err(Full));
        assert_eq!(choice, Choice::default());
        choice.toggle(Quantity::Caster, true).expect("out");
        choice.toggle(Quantity::Camber, true).expect("room for it");
        assert_eq!(choice.shown(true).len(), MOST);
        assert_eq!(choice.shown(true).last(), Some(&Quantity::Camber));
        assert!(!choice.shown(true).contains(&Quantity::Caster));
        assert_eq!(choice.shown(false), NOT_STEERED);
        assert!(choice.is_own(true) && !choice.is_own(false));
        assert_eq!(Choice::read(&choice.write()), Ok(choice.clone()));
        choice.reset(true);
        assert_eq!(choice, Choice::default());
    }

    #[test]
    fn an_empty_headline_is_a_choice_too() {
        let mut choice = Choice::default();
        for quantity in NOT_STEERED {
            choice.toggle(quantity, false).expect("out");
        }
        assert!(choice.shown(false).is_empty() && choice.is_own(false));
        assert_eq!(Choice::read(&choice.write()), Ok(choice));
    }

    #[test]
    fn what_is_no_choice_is_refused_with_its_fault() {
        for (text, fault) in [
            ("{}", "“{}” is no list"),
            ("steered camber kamber", "“kamber” is no reading"),
            ("steered camber camber", "twice"),
            ("steered camber  toe", "“” is no reading"),
            (
                "not_steered camber toe caster scrub_radius hub_offset hub_trail camber_gain bump_steer spring_length",
                "9 readings",
            ),
        ] {
            let error = Choice::read(text).expect_err(text);
            assert!(error.contains(fault), "{error}");
        }
    }

    proptest! {
        #[test]
        fn any_text_is_read_or_refused(text in "(steered|not_steered|x)?( (camber|toe|caster|.))*\n?.{0,20}") {
            if let Ok(choice) = Choice::read(&text) {
                prop_assert!(choice.shown(true).len() <= MOST);
                prop_assert_eq!(Choice::read(&choice.write()), Ok(choice));
            }
        }
    }
}
