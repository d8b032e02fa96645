//! A setup beside another: differences and what stands in their way, in words.

use geometry_core::{
    readings::{Quantity, Readings},
    setup::{Axle, Corner},
};

use super::{missing, unit, value};
use crate::numbers::{DecimalMark, Unit, format_number};

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
            Self::By(by) => {
                let unit = unit(quantity);
                if is_zero(&format_number(by, unit.decimals())) {
                    return "no difference".into();
                }
                // A sign, no *more* or *less*: of a negative reading these say the opposite to many.
                let sign = if by > 0.0 { "+" } else { "" };
                match unit {
                    Unit::Percent => {
                        let shown = format_number(by, unit.decimals());
                        let points = if shown.ends_with('1') && by.abs() < 1.5 { "point" } else { "points" };
                        format!("difference {sign}{shown} percentage {points}")
                    }
                    unit => format!("difference {sign}{}", unit.show(by, DecimalMark::Point)),
                }
            }
            Self::ReferenceLacks(reason) => format!("reference: {reason}"),
            Self::OnlyReference(number) => format!("reference: {}", value(quantity, number)),
            Self::Neither => String::new(),
        }
    }
}

fn is_zero(shown: &str) -> bool {
    shown.bytes().all(|byte| matches!(byte, b'0' | b'.'))
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

    #[test]
    fn a_difference_has_size_unit_and_word() {
        assert_eq!(Difference::By(0.327).words(Quantity::Camber), "difference +0.33°");
        assert_eq!(Difference::By(-12.34).words(Quantity::ScrubRadius), "difference \u{2212}12.3\u{a0}mm");
        let anti = Difference::By(52.0).words(Quantity::AntiBrakingFriction);
        assert_eq!(anti, "difference +52 percentage points");
        let one = Difference::By(-1.2).words(Quantity::AntiBrakingFriction);
        assert_eq!(one, "difference \u{2212}1 percentage point");
        assert_eq!(Difference::By(0.004).words(Quantity::Camber), "no difference");
        assert_eq!(Difference::By(-0.004).words(Quantity::Camber), "no difference");
    }

    #[test]
    fn a_reading_that_only_one_has_says_which() {
        let lacks = Difference::ReferenceLacks("no link steers").words(Quantity::Caster);
        assert_eq!(lacks, "reference: no link steers");
        assert_eq!(Difference::OnlyReference(4.5).words(Quantity::Caster), "reference: 4.50°");
        assert_eq!(Difference::Neither.words(Quantity::Caster), "");
    }
}
