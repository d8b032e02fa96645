//! Numbers with a unit of their own behind them, as scales, catalogues and old notes give them: `850 lb` in a field
//! for kg, `180 lb/in` for N/mm, `60 %` for a share, `0°06′` for degrees.

use std::fmt;

use geometry_core::setup::GRAVITY;

use crate::{
    lengths::{LengthError, Measure, parse_length},
    numbers::{NumberError, parse_number, round_to},
};

/// Pound, kg: exact since 1959 (International Yard and Pound Agreement).
const POUND: f64 = 0.453_592_37;
/// Pound-force, N.
const POUND_FORCE: f64 = POUND * GRAVITY;
/// Foot, mm.
const FOOT: f64 = 304.8;
/// Inch, mm.
const INCH: f64 = crate::lengths::INCH;
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
            ("lbf·ft", POUND_FORCE * FOOT * 1e-3),
            ("lb·ft", POUND_FORCE * FOOT * 1e-3),
            ("lb-ft", POUND_FORCE * FOOT * 1e-3),
            ("lb ft", POUND_FORCE * FOOT * 1e-3),
            ("ft-lb", POUND_FORCE * FOOT * 1e-3),
            ("ft lb", POUND_FORCE * FOOT * 1e-3),
        ],
        "N·m/°" => &[
            ("N·m/°", 1.0),
            ("Nm/°", 1.0),
            ("N·m/deg", 1.0),
            ("Nm/deg", 1.0),
            ("N·m/rad", std::f64::consts::PI / 180.0),
            ("Nm/rad", std::f64::consts::PI / 180.0),
            ("lb·ft/°", POUND_FORCE * FOOT * 1e-3),
            ("lb-ft/deg", POUND_FORCE * FOOT * 1e-3),
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
/// it. Without a unit behind it the number is in that one.
///
/// # Errors
/// [`QuantityError`], a sentence quoting the text.
pub fn parse_quantity(text: &str, unit: &str) -> Result<f64, QuantityError> {
    let trimmed = text.trim();
    if let Some(angle) = degrees_and_minutes(trimmed).filter(|_| unit == "°") {
        return Ok(angle);
    }
    for (name, factor) in units(unit) {
        let Some(number) = before(trimmed, name) else { continue };
        // What is left must be a number by itself: `5 mm` does not end in metres.
        if let Ok(value) = parse_number(number) {
            // Whoever writes pounds and feet parts thousands so; whoever writes kilograms, decimals.
            if is_customary(name) && is_grouped(number) {
                let text = text.chars().take(40).collect();
                return Err(QuantityError::new(Fault::Number(NumberError::Grouping { text }), trimmed, unit));
            }
            let number = value;
            let value = number * factor;
            return Ok(if *factor == 1.0 { value } else { converted(value) });
        }
    }
    if let Some(length) = feet_and_inches(trimmed).filter(|_| unit == "mm") {
        return Ok(length);
    }
    if unit == "mm" {
        let length = parse_length(text, Measure::Millimetre);
        return length.map_err(|error| QuantityError::new(Fault::Length(error), trimmed, unit));
    }
    parse_number(text).map_err(|error| QuantityError::new(Fault::Number(error), trimmed, unit))
}

/// A length as `8 ft 8 1/2 in`, mm.
fn feet_and_inches(text: &str) -> Option<f64> {
    let (feet, inches) = text.split_once("ft")?;
    let feet = parse_number(feet).ok().filter(|feet| *feet >= 0.0 && feet.fract() == 0.0)?;
    let inches = parse_length(inches, Measure::InchDecimal).ok()?;
    (0.0..FOOT).contains(&inches).then(|| converted(feet * FOOT + inches))
}

/// A number that was converted, without digits that nobody measured.
fn converted(value: f64) -> f64 {
    #[expect(clippy::cast_possible_truncation, reason = "the logarithm of a finite number is below 309")]
    let before_point = if value == 0.0 { 1 } else { value.abs().log10().floor() as i32 + 1 };
    round_to(value, u8::try_from((DIGITS - before_point).clamp(0, DIGITS)).unwrap_or_default())
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

    // Factors: NIST Special Publication 811 (2008), appendix B.8, from memory; the values to the six digits that
    // are kept.
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
