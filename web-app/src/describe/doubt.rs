//! How uncertain a number is, in words.

use geometry_core::uncertainty::{Beside, Measured};

use crate::numbers::{DecimalMark, field_text, format_number, shows_zero};

/// An uncertainty with the two digits that JCGM 100:2008, 7.2.6, finds enough, and no more than two beyond the
/// `decimals` of its number; `beside` puts the unit to it.
#[must_use]
pub fn plus_minus(uncertainty: f64, decimals: usize, beside: impl Fn(&str) -> String) -> String {
    let power = |decimals: usize| 10_f64.powi(i32::try_from(decimals).unwrap_or(i32::MAX));
    let most = decimals + 2;
    // Of a number that nothing measured moves, rounding alone is left.
    let uncertainty = if uncertainty * power(most) < 1.0 { 0.0 } else { uncertainty };
    let mut decimals = 0;
    while decimals < most && uncertainty > 0.0 && uncertainty * power(decimals) < 9.95 {
        decimals += 1;
    }
    format!("±\u{a0}{}", beside(&format_number(uncertainty, decimals)))
}

/// The uncertainty beside its number: none where nothing measured moves it, and a word where it is larger than the
/// number, so that not even the sign is sure.
#[must_use]
pub fn doubted(value: f64, uncertainty: f64, decimals: usize, beside: impl Fn(&str) -> String) -> String {
    let text = plus_minus(uncertainty, decimals, beside);
    if shows_zero(&text) {
        String::new()
    } else if uncertainty > value.abs() {
        format!("{text}, either sign")
    } else {
        text
    }
}

/// The uncertainty of a difference beside it: none where both are too small to be shown, and of percentages in
/// points.
#[must_use]
pub fn of_difference(by: f64, uncertainty: f64, decimals: usize, beside: impl Fn(&str) -> String) -> String {
    let points = |number: &str| {
        let text = beside(number);
        text.strip_suffix("\u{a0}%").map_or_else(|| text.clone(), |number| format!("{number} points"))
    };
    if !shows_zero(&format_number(by, decimals)) {
        doubted(by, uncertainty, decimals, points)
    } else if shows_zero(&format_number(uncertainty, decimals)) {
        String::new()
    } else {
        // Of no difference no sign is told.
        plus_minus(uncertainty, decimals, points)
    }
}

/// How well a car was measured.
#[must_use]
pub fn measured(Measured { length, angle, height, proportion }: Measured) -> String {
    let [length, angle, height, proportion] =
        [length, angle, height, proportion].map(|number| field_text(number, DecimalMark::Point));
    format!(
        "points and lengths to ±\u{a0}{length}\u{a0}mm, camber and toe to ±\u{a0}{angle}°, the height of the centre of gravity to \
         ±\u{a0}{height}\u{a0}mm, masses, rates and shares to ±\u{a0}{proportion}\u{a0}%"
    )
}

/// The same for the numbers that stand there, with what a reference is taken for.
#[must_use]
pub fn measured_beside(measured: Measured, compared: Option<Beside>) -> String {
    let what = compared.map(|compared| beside(compared).0.to_lowercase());
    let what = what.map(|what| format!("; the reference is {what}")).unwrap_or_default();
    format!("{}{what}", self::measured(measured))
}

/// What the reference is, said with what that means for a difference.
#[must_use]
pub fn beside(beside: Beside) -> (&'static str, &'static str) {
    match beside {
        Beside::Altered => (
            "The same car",
            "what was measured wrong is wrong in both, and most of it cancels in a difference; what was altered, and \
             what that made of camber and toe, is taken as known",
        ),
        Beside::Apart => {
            ("Another car", "it was measured for itself, and the errors of both add up in a difference")
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_uncertainty_has_two_digits_and_a_word_where_the_sign_is_not_sure() {
        let newtons = |number: &str| format!("{number}\u{a0}N");
        for (value, uncertainty, text) in [
            (0.0, 1e-9, ""),
            (1200.0, 12.34, "±\u{a0}12\u{a0}N"),
            (1200.0, 1.234, "±\u{a0}1.2\u{a0}N"),
            (-1.0, 123.4, "±\u{a0}123\u{a0}N, either sign"),
        ] {
            assert_eq!(doubted(value, uncertainty, 0, newtons), text);
        }
        let percent = |number: &str| format!("{number}\u{a0}%");
        for (by, uncertainty, text) in [
            (16.0, 8.9, "±\u{a0}8.9 points"),
            (-2.0, 8.9, "±\u{a0}8.9 points, either sign"),
            (0.0, 0.3, ""),
            (0.4, 0.04, ""),
            (0.0, 12.0, "±\u{a0}12 points"),
        ] {
            assert_eq!(of_difference(by, uncertainty, 0, percent), text);
        }
    }

    #[test]
    fn all_that_was_measured_is_said() {
        let said = measured(Measured { length: 2.0, angle: 0.1, height: 20.0, proportion: 1.5 });
        for part in ["±\u{a0}2\u{a0}mm", "±\u{a0}0.1°", "±\u{a0}20\u{a0}mm", "±\u{a0}1.5\u{a0}%"] {
            assert!(said.contains(part), "{said}");
        }
    }
}
