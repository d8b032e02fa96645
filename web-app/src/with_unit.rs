//! Numbers with a unit of their own behind them, as scales, catalogues and old notes give them: `850 lb` in a field
//! for kg, `180 lb/in` for N/mm, `60 %` for a share, `0°06′` for degrees.

use std::fmt;

use geometry_core::{bounds::OutOfBounds, setup::GRAVITY};

use crate::{
    lengths::{INCH, LengthError, Measure, parse_length},
    numbers::{NumberError, field_text, parse_number, round_to},
    units::{self, FOOT, POUND, POUND_FORCE, POUND_FORCE_FOOT, System, Unit},
};

/// Digits to which a converted number is taken: no scale and no tape gives as many.
const DIGITS: i32 = 6;

/// Units that stand for another, with what one of them is in it.
type Units = &'static [(&'static str, f64)];

/// What may stand behind a number in a field of this unit.
fn units(of: &str) -> Units {
    match of {
        // Millimetres and inches are read by `lengths`.
        "mm" => &[("cm", 10.0), ("m", 1000.0), ("ft", FOOT)],
        "kg" => &[("kg", 1.0), ("lb", POUND), ("lbs", POUND), ("t", 1000.0)],
        "N" => &[
            ("kN", 1000.0),
            ("N", 1.0),
            ("kgf", GRAVITY),
            ("kp", GRAVITY),
            ("lbf", POUND_FORCE),
            ("lbs", POUND_FORCE),
            ("lb", POUND_FORCE),
        ],
        "N/mm" => &[
            ("N/mm", 1.0),
            ("kN/m", 1.0),
            ("N/m", 1e-3),
            ("kgf/mm", GRAVITY),
            ("kg/mm", GRAVITY),
            ("lbf/in", POUND_FORCE / INCH),
            ("lbs/in", POUND_FORCE / INCH),
            ("lb/in", POUND_FORCE / INCH),
        ],
        "N·m" => &[
            ("N·m", 1.0),
            ("Nm", 1.0),
            ("lbf·ft", POUND_FORCE_FOOT),
            ("lb·ft", POUND_FORCE_FOOT),
            ("lb-ft", POUND_FORCE_FOOT),
            ("lb ft", POUND_FORCE_FOOT),
            ("ft-lb", POUND_FORCE_FOOT),
            ("ft lb", POUND_FORCE_FOOT),
        ],
        "N·m/°" => &[
            ("N·m/°", 1.0),
            ("Nm/°", 1.0),
            ("N·m/deg", 1.0),
            ("Nm/deg", 1.0),
            ("N·m/rad", std::f64::consts::PI / 180.0),
            ("Nm/rad", std::f64::consts::PI / 180.0),
            ("lbf·ft/°", POUND_FORCE_FOOT),
            ("lb·ft/°", POUND_FORCE_FOOT),
            ("lb-ft/deg", POUND_FORCE_FOOT),
        ],
        "°" => &[
            ("°", 1.0),
            ("deg", 1.0),
            ("′", 1.0 / 60.0),
            ("'", 1.0 / 60.0),
            ("’", 1.0 / 60.0),
            ("min", 1.0 / 60.0),
        ],
        "g" => &[("g", 1.0), ("m/s²", 1.0 / GRAVITY), ("m/s2", 1.0 / GRAVITY)],
        "" => &[("%", 0.01)],
        "%" => &[("%", 1.0)],
        _ => &[],
    }
}

/// Why a text is not a number of a unit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct QuantityError {
    /// What is wrong.
    fault: Fault,
    /// The units that are read, where it may be the unit that is wrong.
    units: Vec<&'static str>,
    /// Whether a length was given for an angle, as toe often is.
    length_for_angle: bool,
}

#[derive(Debug, Clone, PartialEq, Eq)]
enum Fault {
    Number(NumberError),
    Length(LengthError),
}

impl fmt::Display for QuantityError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.fault {
            Fault::Number(error) => error.fmt(f)?,
            Fault::Length(error) => error.fmt(f)?,
        }
        match self.units.split_last() {
            None => {}
            Some((last, [])) => write!(f, ", with {last} behind it or nothing")?,
            Some((last, others)) => {
                write!(f, ", with {} or {last} behind it or nothing", others.join(", "))?;
            }
        }
        // The angle whose sine is 1 mm over 18 × 25.4 mm.
        let words = "; 1 mm at the rim of one wheel, 18 in across, is 0.125°";
        f.write_str(if self.length_for_angle { words } else { "" })
    }
}

impl QuantityError {
    /// Of a text in a field of a unit.
    fn new(fault: Fault, text: &str, unit: &str) -> Self {
        let is_number = |error: &NumberError| !matches!(error, NumberError::NotANumber { .. });
        let other = match &fault {
            Fault::Number(error) | Fault::Length(LengthError::Number(error)) => !is_number(error),
            Fault::Length(LengthError::Fraction { .. }) => false,
        };
        // A number with something behind it: another unit, perhaps.
        let other = other
            && text.starts_with(|c: char| c.is_ascii_digit() || matches!(c, '-' | '\u{2212}' | '+' | '.'));
        let units = if other { names(unit) } else { Vec::new() };
        let is_length = || parse_length(text, Measure::Millimetre).is_ok();
        Self { fault, length_for_angle: other && unit == "°" && is_length(), units }
    }
}

/// The units that are read in a field of one, each by one of its names.
fn names(unit: &str) -> Vec<&'static str> {
    let of_lengths: &[&str] = if unit == "mm" { &["mm", "in"] } else { &[] };
    let mut names = of_lengths.to_vec();
    let mut factors = Vec::new();
    for (name, factor) in units(unit) {
        if !factors.contains(factor) {
            factors.push(*factor);
            names.push(name);
        }
    }
    names
}

impl std::error::Error for QuantityError {}

/// Reads a number of a field whose unit is `unit` (empty for a share), as [`geometry_core::bounds::Bound`] names
/// it, and gives it in that one. Without a unit behind it the number is in the reader's.
///
/// # Errors
/// [`QuantityError`], a sentence quoting the text.
pub fn parse_quantity(text: &str, unit: &str) -> Result<f64, QuantityError> {
    let trimmed = text.trim();
    if let Some(angle) = degrees_and_minutes(trimmed).filter(|_| unit == "°") {
        return Ok(angle);
    }
    // Whoever writes pounds and feet parts thousands with a comma; whoever writes kilograms, decimals.
    let ambiguous = || {
        let text = text.chars().take(40).collect();
        QuantityError::new(Fault::Number(NumberError::Grouping { text }), trimmed, unit)
    };
    let here = Unit::named(unit).here();
    // One digit more than is shown of it again, so that what was typed is what is shown.
    let digits = if here.one == 1.0 { DIGITS } else { DIGITS + 1 };
    for (name, factor) in units(unit) {
        let Some(number) = before(trimmed, name) else { continue };
        // What is left must be a number by itself: `5 mm` does not end in metres.
        if let Ok(value) = parse_number(number) {
            if is_customary(name) && is_grouped(number) {
                return Err(ambiguous());
            }
            let (number, value) = (value, value * factor);
            return Ok(if *factor == 1.0 { number } else { to_digits(value, digits) });
        }
    }
    if let Some(length) = feet_and_inches(trimmed).filter(|_| unit == "mm") {
        return Ok(length);
    }
    if unit == "mm" {
        let usual =
            if units::chosen() == System::Metric { Measure::Millimetre } else { Measure::InchDecimal };
        let length = parse_length(text, usual);
        return length.map_err(|error| QuantityError::new(Fault::Length(error), trimmed, unit));
    }
    let number =
        parse_number(text).map_err(|error| QuantityError::new(Fault::Number(error), trimmed, unit))?;
    if is_customary(here.symbol) && is_grouped(trimmed) {
        return Err(ambiguous());
    }
    Ok(if here.one == 1.0 { number } else { to_digits(number * here.one, digits) })
}

/// What a field shows of a number that is kept in `unit`: in the reader's unit, in which [`parse_quantity`] reads
/// it; metric numbers in full, others with no digit that nobody measured.
#[must_use]
pub fn quantity_text(value: f64, unit: &str) -> String {
    told(value, unit, f64::round)
}

fn told(value: f64, unit: &str, round: fn(f64) -> f64) -> String {
    let scale = Unit::named(unit).here();
    if scale.one == 1.0 {
        return field_text(value);
    }
    let value = scale.of(value);
    let power = 10_f64.powi(i32::from(decimals_of(value, DIGITS)));
    let rounded = round(value * power) / power;
    field_text(if rounded.is_finite() { rounded } else { value })
}

/// Why a number is not allowed, in the reader's units.
#[must_use]
pub fn out_of_bounds(error: &OutOfBounds) -> String {
    let OutOfBounds { field, value, bound } = error;
    let unit = Unit::named(bound.unit);
    if unit.here().one == 1.0 {
        return error.to_string();
    }
    // Inward, so that what is named is allowed itself.
    let (least, most) = (told(bound.least, bound.unit, f64::ceil), told(bound.most, bound.unit, f64::floor));
    let value = quantity_text(*value, bound.unit);
    format!("{field} must lie between {least} and {most} {}; it is {value}", unit.here().symbol)
}

/// A sentence of the core, which tells lengths in mm, in the reader's units.
#[must_use]
pub fn retold(sentence: &str) -> String {
    if units::chosen() == System::Metric {
        return sentence.into();
    }
    let mut pieces = sentence.split(" mm");
    let mut told = String::from(pieces.next().unwrap_or_default());
    for after in pieces {
        let is_digit = |c: char| c.is_ascii_digit() || matches!(c, '.' | '-' | '\u{2212}');
        let number = told.trim_end_matches(is_digit).len();
        match told.get(number..).map(parse_number) {
            // Not the beginning of another word.
            Some(Ok(length)) if !after.starts_with(char::is_alphanumeric) => {
                told.truncate(number);
                told.push_str(&Unit::Millimetre.show(length));
            }
            _ => told.push_str(" mm"),
        }
        told.push_str(after);
    }
    told
}

/// A length as `8 ft 8 1/2 in` or `8′ 8 1/2″`, mm.
fn feet_and_inches(text: &str) -> Option<f64> {
    let (feet, inches) = text.split_once("ft").or_else(|| text.split_once(['\'', '\u{2032}', '\u{2019}']))?;
    let feet = parse_number(feet).ok().filter(|feet| *feet >= 0.0 && feet.fract() == 0.0)?;
    let inches =
        if inches.trim().is_empty() { 0.0 } else { parse_length(inches, Measure::InchDecimal).ok()? };
    (0.0..FOOT).contains(&inches).then(|| converted(feet * FOOT + inches))
}

/// A length with its own unit behind it, whatever the reader's is, mm: feet and inches too.
pub fn with_its_unit(text: &str) -> Option<f64> {
    let trimmed = text.trim();
    let number = |name: &str| parse_number(before(trimmed, name)?).ok();
    let with_unit = || units("mm").iter().find_map(|(name, factor)| Some(converted(number(name)? * factor)));
    feet_and_inches(trimmed).or_else(with_unit)
}

/// A number that was converted, without digits that nobody measured.
fn converted(value: f64) -> f64 {
    to_digits(value, DIGITS)
}

fn to_digits(value: f64, digits: i32) -> f64 {
    round_to(value, decimals_of(value, digits))
}

/// The decimals with which a number has so many digits.
fn decimals_of(value: f64, digits: i32) -> u8 {
    #[expect(clippy::cast_possible_truncation, reason = "the logarithm of a finite number is below 309")]
    let before_point = if value == 0.0 { 1 } else { value.abs().log10().floor() as i32 + 1 };
    u8::try_from((digits - before_point).clamp(0, digits)).unwrap_or_default()
}

/// Whether a unit is one of those that go with a comma between thousands.
fn is_customary(unit: &str) -> bool {
    unit.contains("lb") || unit.contains("ft")
}

/// Whether a number with one comma may be meant as thousands: `1,250`.
fn is_grouped(number: &str) -> bool {
    let Some((whole, rest)) = number.split_once(',') else { return false };
    let digits = |part: &str| part.bytes().all(|byte| byte.is_ascii_digit());
    let whole = whole.trim_start_matches(['-', '\u{2212}', '+']);
    rest.len() == 3 && digits(rest) && (1..=3).contains(&whole.len()) && digits(whole) && whole != "0"
}

/// What stands before a unit at the end of a text; capital and small letters are the same here.
fn before<'a>(text: &'a str, unit: &str) -> Option<&'a str> {
    let (number, end) = text.split_at_checked(text.len().checked_sub(unit.len())?)?;
    end.eq_ignore_ascii_case(unit).then(|| number.trim_end())
}

/// An angle as `1°30′`, the minutes below sixty; the sign is that of the whole.
fn degrees_and_minutes(text: &str) -> Option<f64> {
    let (degrees, minutes) = text.split_once('°')?;
    let minutes = ["′", "'", "’", "min"].iter().find_map(|sign| minutes.strip_suffix(sign))?;
    let (whole, part) = (parse_number(degrees).ok()?, parse_number(minutes).ok()?);
    let fits = whole.fract() == 0.0 && (0.0..60.0).contains(&part);
    let negative = degrees.trim_start().starts_with(['-', '\u{2212}', '\u{2013}']);
    let size = whole.abs() + part / 60.0;
    fits.then(|| converted(if negative { -size } else { size }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use geometry_core::bounds::LOADED_RADIUS;

    use crate::units::read_in;

    // Factors: NIST Special Publication 811 (2008), appendix B.8, from memory; the values to the six digits that
    // are kept.
    #[test]
    fn lengths_in_a_sentence_are_told_in_the_readers_units() {
        let sentence = "stands −254 mm above the ground: to 12.7 mm below; mm are meant, 3 mmx; at 25.4 mm";
        assert_eq!(retold(sentence), sentence);
        let told = read_in(System::Customary, || retold(sentence)).replace('\u{a0}', " ");
        assert_eq!(
            told,
            "stands −10.000 in above the ground: to 0.500 in below; mm are meant, 3 mmx; at 1.000 in"
        );
    }

    #[test]
    fn the_unit_beside_a_field_is_read_behind_its_number() {
        for system in [System::Metric, System::Customary] {
            read_in(system, || {
                for unit in ["mm", "°", "kg", "N", "N·m", "N/mm", "N·m/°", "g", "%"] {
                    let scale = Unit::named(unit).here();
                    let kept =
                        parse_quantity(&scale.beside("5"), unit).unwrap_or_else(|e| panic!("{unit}: {e}"));
                    assert!((kept - 5.0 * scale.one).abs() < 1e-5 * kept, "{unit}: {kept}");
                    assert_eq!(parse_quantity("5", unit), Ok(kept), "{unit}");
                }
            });
        }
    }

    #[test]
    fn a_field_in_customary_units_shows_what_was_typed() {
        read_in(System::Customary, || {
            for (typed, unit) in [
                ("3000", "kg"),
                ("3265.5", "kg"),
                ("180", "N/mm"),
                ("26.375", "mm"),
                ("0.125", "mm"),
                ("1250", "N"),
                ("87.5", "N·m"),
                ("9.25", "N·m/°"),
                ("0.5", "°"),
                ("0.44", ""),
                ("3000 lb", "kg"),
                ("180 lb/in", "N/mm"),
                ("1 lbf", "N"),
            ] {
                let kept = parse_quantity(typed, unit).expect("a number");
                let number = typed.split(' ').next().expect("a number");
                assert_eq!(quantity_text(kept, unit), number, "{unit}");
            }
            let error = LOADED_RADIUS.check("Loaded radius", 12.7).expect_err("too small");
            assert_eq!(
                out_of_bounds(&error),
                "Loaded radius must lie between 1.96851 and 78.7401 in; it is 0.5"
            );
            for text in ["1.96851", "78.7401"] {
                let kept = parse_quantity(text, "mm").expect("a length");
                assert!(LOADED_RADIUS.allows(kept), "{text}: {kept}");
            }
            // A comma parts thousands in these units, or decimals: nobody knows.
            assert!(parse_quantity("1,250", "N").is_err() && parse_quantity("1,250 lbf", "N").is_err());
            assert_eq!(parse_quantity("1,5", "N"), Ok(6.672_332));
            // Another unit behind it counts, and what is kept in it is shown in the reader's.
            let kept = parse_quantity("660.4 mm", "mm").expect("a length");
            assert_eq!((kept, quantity_text(kept, "mm")), (660.4, "26".into()));
        });
        assert_eq!(quantity_text(1_360.777_1, "kg"), "1360.7771", "of the document's own unit all is shown");
    }

    #[test]
    fn other_units_are_converted() {
        for (text, unit, value, to) in [
            ("850 lb", "kg", 385.554, 0.0),
            ("3300lbs", "kg", 1_496.85, 0.0),
            ("1,5 t", "kg", 1500.0, 0.0),
            ("180 lb/in", "N/mm", 31.5228, 0.0),
            ("1 lbf/in", "N/mm", 0.175_127, 0.0),
            ("6 kgf/mm", "N/mm", 58.8399, 0.0),
            ("35 N/mm", "N/mm", 35.0, 0.0),
            ("0.8 kN", "N", 800.0, 0.0),
            ("100 lbf", "N", 444.822, 0.0),
            ("100 lb-ft", "N·m", 135.582, 0.0),
            ("12 Nm/deg", "N·m/°", 12.0, 0.0),
            ("60 %", "", 0.6, 0.0),
            ("0 lb", "kg", 0.0, 0.0),
            ("7′", "°", 0.116_667, 0.0),
            ("0,62", "", 0.62, 0.0),
            ("26 in", "mm", 660.4, 0.0),
            ("25 1/2\"", "mm", 647.7, 0.0),
            ("8 ft", "mm", 2438.4, 0.0),
            ("8 ft 8 1/2 in", "mm", 2_654.3, 0.0),
            ("8' 8\"", "mm", 2_641.6, 0.0),
            ("8\u{2032} 8 1/2\u{2033}", "mm", 2_654.3, 0.0),
            ("8'", "mm", 2_438.4, 0.0),
            ("2.61 m", "mm", 2610.0, 0.0),
            ("5 mm", "mm", 5.0, 0.0),
            ("26 cm", "mm", 260.0, 0.0),
            ("0°06′", "°", 0.1, 0.0),
            ("−1°30'", "°", -1.5, 0.0),
            ("-0°30′", "°", -0.5, 0.0),
            ("12'", "°", 0.2, 0.0),
            ("0.5 deg", "°", 0.5, 0.0),
            ("-0.5°", "°", -0.5, 0.0),
            ("4.903325 m/s²", "g", 0.5, 0.0),
        ] {
            let read = parse_quantity(text, unit).unwrap_or_else(|error| panic!("{text}: {error}"));
            assert!((read - value).abs() <= to, "{text}: {read} is not {value}");
        }
    }

    #[test]
    fn what_is_no_quantity_of_the_unit_is_refused_as_it_was_written() {
        for (text, unit) in [
            ("850 lb", "mm"),
            ("12 mm", "kg"),
            ("60 %", "kg"),
            ("lb", "kg"),
            ("12 stone", "kg"),
            ("1°75′", "°"),
            ("1.5°30′", "°"),
            ("", "kg"),
            ("12abc", "N/mm"),
            ("1,250 lb", "kg"),
            ("1,200 lbf", "N"),
        ] {
            let error = parse_quantity(text, unit).expect_err(text).to_string();
            assert!(text.is_empty() || error.contains(text), "{error}");
        }
        assert!((parse_quantity("1,250.5 lb", "kg").expect("one way to read it") - 567.217).abs() < 1e-9);
        assert_eq!(parse_quantity("1,25 lb", "kg"), Ok(0.566_990));
        assert!(parse_quantity("1,250 kg", "kg") == Ok(1.25), "as everywhere in the page");
        let said = |text, unit| parse_quantity(text, unit).expect_err(text).to_string();
        assert!(said("850 lb", "mm").ends_with(", with mm, in, cm, m or ft behind it or nothing"));
        assert!(said("60 kg", "").ends_with(", with % behind it or nothing"));
        for text in ["2 mm", "1/16 in"] {
            assert!(said(text, "°").ends_with("18 in across, is 0.125°"), "{}", said(text, "°"));
        }
        assert!(((1.0_f64 / 457.2).asin().to_degrees() - 0.125).abs() < 5e-4);
        assert!(said("2 kg", "°").ends_with("nothing"), "no length");
        assert!(said("abc", "kg").ends_with("such as −12.5"), "no unit is the matter");
    }
}
