//! How uncertain a number is, in words.

use geometry_core::uncertainty::{Beside, Measured};

use crate::{
    numbers::{field_text, format_number, shows_zero},
    units::{Scale, Unit},
    with_unit::quantity_text,
};

/// An uncertainty of a number of a unit, with the two digits that JCGM 100:2008, 7.2.6, finds enough, and no more than
/// two beyond the decimals of its number.
#[must_use]
pub fn plus_minus(uncertainty: f64, unit: Unit) -> String {
    told(uncertainty, unit, Scale::beside)
}

fn told(uncertainty: f64, unit: Unit, beside: fn(Scale, &str) -> String) -> String {
    let power = |decimals: usize| 10_f64.powi(i32::try_from(decimals).unwrap_or(i32::MAX));
    let scale = unit.here();
    let uncertainty = scale.of(uncertainty);
    let most = scale.decimals + 2;
    // Of a number that nothing measured moves, rounding alone is left.
    let uncertainty = if uncertainty * power(most) < 1.0 { 0.0 } else { uncertainty };
    let mut decimals = 0;
    while decimals < most && uncertainty > 0.0 && uncertainty * power(decimals) < 9.95 {
        decimals += 1;
    }
    format!("±\u{a0}{}", beside(scale, &format_number(uncertainty, decimals)))
}

/// The uncertainty beside its number: none where nothing measured moves it, and a word where it is larger than the
/// number, so that not even the sign is sure.
#[must_use]
pub fn doubted(value: f64, uncertainty: f64, unit: Unit) -> String {
    with_sign(value, uncertainty, plus_minus(uncertainty, unit))
}

fn with_sign(value: f64, uncertainty: f64, text: String) -> String {
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
pub fn of_difference(by: f64, uncertainty: f64, unit: Unit) -> String {
    let points = |scale: Scale, number: &str| match scale.symbol {
        "%" => format!("{number} points"),
        _ => scale.beside(number),
    };
    let text = told(uncertainty, unit, points);
    let shows_zero = |number: f64| shows_zero(&unit.here().number(number));
    if !shows_zero(by) {
        with_sign(by, uncertainty, text)
    } else if shows_zero(uncertainty) {
        String::new()
    } else {
        // Of no difference no sign is told.
        text
    }
}

/// How well a car was measured.
#[must_use]
pub fn measured(Measured { length, angle, height, proportion }: Measured) -> String {
    let [length, height] =
        [length, height].map(|number| Unit::Millimetre.here().beside(&quantity_text(number, "mm")));
    let [angle, proportion] = [angle, proportion].map(field_text);
    format!(
        "points and lengths to ±\u{a0}{length}, camber and toe to ±\u{a0}{angle}°, the height of the centre of gravity to \
         ±\u{a0}{height}, masses, rates and shares to ±\u{a0}{proportion}\u{a0}%"
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
    use crate::units::{System, read_in};

    #[test]
    fn an_uncertainty_has_two_digits_and_a_word_where_the_sign_is_not_sure() {
        for (value, uncertainty, text) in [
            (0.0, 1e-9, ""),
            (1200.0, 12.34, "±\u{a0}12\u{a0}N"),
            (1200.0, 1.234, "±\u{a0}1.2\u{a0}N"),
            (-1.0, 123.4, "±\u{a0}123\u{a0}N, either sign"),
        ] {
            assert_eq!(doubted(value, uncertainty, Unit::Newton), text);
        }
        for (by, uncertainty, text) in [
            (16.0, 8.9, "±\u{a0}8.9 points"),
            (-2.0, 8.9, "±\u{a0}8.9 points, either sign"),
            (0.0, 0.3, ""),
            (0.4, 0.04, ""),
            (0.0, 12.0, "±\u{a0}12 points"),
        ] {
            assert_eq!(of_difference(by, uncertainty, Unit::Percent), text);
        }
    }

    #[test]
    fn all_that_was_measured_is_said() {
        let said = measured(Measured { length: 2.0, angle: 0.1, height: 20.0, proportion: 1.5 });
        for part in ["±\u{a0}2\u{a0}mm", "±\u{a0}0.1°", "±\u{a0}20\u{a0}mm", "±\u{a0}1.5\u{a0}%"] {
            assert!(said.contains(part), "{said}");
        }
        let inches = read_in(System::Customary, || {
            let wide = doubted(-304.8, 2.54, Unit::Millimetre);
            (wide, measured(Measured { length: 2.54, angle: 0.1, height: 25.4, proportion: 1.5 }))
        });
        assert_eq!(inches.0, "±\u{a0}0.10\u{a0}in");
        assert!(
            inches.1.contains("to ±\u{a0}0.1\u{a0}in") && inches.1.contains("to ±\u{a0}1\u{a0}in"),
            "{}",
            inches.1
        );
    }
}
