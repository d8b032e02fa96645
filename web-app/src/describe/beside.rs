//! A setup beside another: differences and what stands in their way, in words.

use geometry_core::{
    readings::{Quantity, Readings},
    setup::{Axle, Corner},
};

use super::{missing, unit, value};
use crate::numbers::shows_zero;

/// How a reading differs from the reference's.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Difference {
    /// Both have the number: the present one less the reference's.
    By(f64),
    /// Only the present corner has it; why the reference does not.
    ReferenceLacks(&'static str),
    /// Only the reference has it: its number.
    OnlyReference(f64),
    /// Neither has it.
    Neither,
}

impl Difference {
    /// The difference of two corners' readings.
    #[must_use]
    pub fn between(quantity: Quantity, present: &Readings, reference: &Readings) -> Self {
        match (quantity.value(present), quantity.value(reference)) {
            (Some(present), Some(reference)) => Self::By(present - reference),
            (Some(_), None) => Self::ReferenceLacks(missing(quantity, reference)),
            (None, Some(reference)) => Self::OnlyReference(reference),
            (None, None) => Self::Neither,
        }
    }

    /// The difference in words: this corner's less the reference's, with sign and unit; empty where neither corner
    /// has the reading.
    #[must_use]
    pub fn words(self, quantity: Quantity) -> String {
        match self {
            Self::By(by) => self::by(by, &unit(quantity).show(by)),
            Self::ReferenceLacks(reason) => format!("reference: {reason}"),
            Self::OnlyReference(number) => format!("reference: {}", value(quantity, number)),
            Self::Neither => String::new(),
        }
    }
}

/// A difference in words, of which `shown` are number and unit; that of percentages is in points.
#[must_use]
pub fn by(by: f64, shown: &str) -> String {
    if shows_zero(shown) {
        return less_than_shown(by, shown);
    }
    // A sign, no *more* or *less*: of a negative reading these say the opposite to many.
    let sign = if by > 0.0 { "+" } else { "" };
    match shown.strip_suffix("\u{a0}%") {
        Some(number) => {
            let points = if matches!(number, "1" | "\u{2212}1") { "point" } else { "points" };
            format!("difference {sign}{number} percentage {points}")
        }
        None => format!("difference {sign}{shown}"),
    }
}

/// A number with its unit, and words behind that, without them.
#[must_use]
pub fn bare(text: &str) -> &str {
    text.trim_end_matches(|c: char| !c.is_ascii_digit())
}

/// A difference in words as a narrow place has it that says before it that it is one. None of words that tell no
/// difference in numbers.
#[must_use]
pub fn short(words: &str) -> Option<String> {
    let number = words.strip_prefix("difference ")?;
    Some(number.replace(" percentage point", "\u{a0}point"))
}

/// The uncertainty of such a difference, whose unit stands behind the difference already.
#[must_use]
pub fn short_doubt(words: &str) -> String {
    let (number, rest) = words.split_at(words.find(", ").unwrap_or(words.len()));
    format!("{}{rest}", bare(number))
}

/// Of a difference that rounds to zero in the digits shown: two numbers that are read differently may still have it.
fn less_than_shown(by: f64, shown: &str) -> String {
    let (number, unit) = shown.split_at(shown.rfind('0').map_or(0, |last| last + 1));
    let half = if number.contains('.') { format!("{number}5") } else { format!("{number}.5") };
    // Half of the last digit; far below it is the rounding of the computation.
    match half.parse::<f64>() {
        Ok(size) if by.abs() > 1e-4 * size => {
            let unit = if unit == "\u{a0}%" { " percentage points" } else { unit };
            format!("difference under {half}{unit}")
        }
        _ => "no difference".into(),
    }
}

/// The reference has no corner on the axle shown.
#[must_use]
pub fn no_corner(axle: Axle) -> String {
    format!("The reference describes no {} corner, so nothing is compared here.", axle.name())
}

/// The reference's members make no linkage.
#[must_use]
pub fn cannot_be_drawn(error: &str) -> String {
    format!("The reference is no linkage that moves, so no number is compared: {error}.")
}

/// The reference does not come as far as the present corner.
#[must_use]
pub fn stopped(why: &str) -> String {
    format!("Reference: {why} No number is compared here.")
}

/// That the two corners are built differently; none where they have the same members.
#[must_use]
pub fn other_layout(present: &Corner, reference: &Corner) -> Option<String> {
    let (present, reference) = (super::setup::layout(present), super::setup::layout(reference));
    (present != reference).then(|| format!("another layout: {reference}"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Unit;

    #[test]
    fn a_short_difference_has_its_unit_once() {
        let short = |words: &str| short(words).unwrap_or_default();
        assert_eq!(short("difference +0.33°"), "+0.33°");
        assert_eq!(short("difference \u{2212}12 percentage points"), "\u{2212}12\u{a0}points");
        assert_eq!(short("difference under 0.005°"), "under 0.005°");
        assert_eq!(short("no difference"), "");
        assert_eq!(short("reference: no rack"), "");
        let both = |by: f64, u: f64, unit| {
            let words = by_words(by, unit);
            format!("{} {}", short(&words), short_doubt(&crate::describe::doubt::of_difference(by, u, unit)))
        };
        assert_eq!(both(13.4, 0.56, Unit::Millimetre), "+13.4\u{a0}mm ±\u{a0}0.56");
        let slope = both(0.0018, 0.0044, Unit::DegreePerMillimetre);
        assert_eq!(slope, "+0.0018°/mm ±\u{a0}0.0044, either sign");
        assert_eq!(both(-12.0, 3.1, Unit::Percent), "\u{2212}12\u{a0}points ±\u{a0}3.1");
    }

    fn by_words(by: f64, unit: Unit) -> String {
        super::by(by, &unit.show(by))
    }

    #[test]
    fn a_difference_has_size_unit_and_word() {
        assert_eq!(Difference::By(0.327).words(Quantity::Camber), "difference +0.33°");
        assert_eq!(Difference::By(-12.34).words(Quantity::ScrubRadius), "difference \u{2212}12.3\u{a0}mm");
        let anti = Difference::By(52.0).words(Quantity::AntiBrakingFriction);
        assert_eq!(anti, "difference +52 percentage points");
        let one = Difference::By(-1.2).words(Quantity::AntiBrakingFriction);
        assert_eq!(one, "difference \u{2212}1 percentage point");
        assert_eq!(Difference::By(0.004).words(Quantity::Camber), "difference under 0.005°");
        assert_eq!(Difference::By(-0.004).words(Quantity::Camber), "difference under 0.005°");
        let anti = Difference::By(0.4).words(Quantity::AntiBrakingFriction);
        assert_eq!(anti, "difference under 0.5 percentage points");
        for none in [0.0, 1e-12, -1e-9] {
            assert_eq!(Difference::By(none).words(Quantity::Camber), "no difference");
        }
    }

    #[test]
    fn other_numbers_are_told_apart_in_their_own_units() {
        assert_eq!(by(-2.5, "\u{2212}2.5\u{a0}N/mm"), "difference \u{2212}2.5\u{a0}N/mm");
        assert_eq!(by(0.5, "0.5\u{a0}%"), "difference +0.5 percentage points");
        assert_eq!(by(0.0004, "0.000° per °"), "difference under 0.0005° per °");
    }

    #[test]
    fn a_reading_that_only_one_has_says_which() {
        let lacks = Difference::ReferenceLacks("no steering axis").words(Quantity::Caster);
        assert_eq!(lacks, "reference: no steering axis");
        assert_eq!(Difference::OnlyReference(4.5).words(Quantity::Caster), "reference: 4.50°");
        assert_eq!(Difference::Neither.words(Quantity::Caster), "");
    }
}
