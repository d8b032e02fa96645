//! Numbers as people write and read them.
//!
//! Reading is generous about marks (decimal comma or point, true minus, spaces between
//! groups of three digits) and strict about everything else: what is not clearly one
//! finite number is refused with a sentence that quotes it. Writing always uses a true
//! minus and never shows a negative zero.

use std::fmt;

use geometry_core::bounds::Plain;

/// Why a text is not a number.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NumberError {
    /// Nothing but spaces.
    Empty,
    /// Letters, two numbers, a lone sign or anything else.
    NotANumber {
        /// What was written, shortened when long.
        text: String,
    },
    /// Separators that do not part groups of three digits.
    Grouping {
        /// What was written, shortened when long.
        text: String,
    },
    /// Beyond what a number here can hold, such as 1e999.
    TooLarge {
        /// What was written, shortened when long.
        text: String,
    },
}

impl fmt::Display for NumberError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Empty => f.write_str("this field is empty; a number is needed"),
            Self::NotANumber { text } => {
                write!(
                    f,
                    "“{text}” is not a number; digits with a point or a comma are needed, such as −12.5"
                )
            }
            Self::Grouping { text } => write!(
                f,
                "“{text}” can be read in more than one way; separators part groups of three digits, as in 1 234.5, or can be left out"
            ),
            Self::TooLarge { text } => {
                write!(f, "“{text}” is larger than any number this page can hold; at most 1e308 is allowed")
            }
        }
    }
}

impl std::error::Error for NumberError {}

/// Reads one number.
///
/// A single comma or point is always the decimal mark; where both occur the last one is,
/// and the other parts groups of three digits; one that occurs more than once parts
/// groups. Spaces of any width and apostrophes between groups of three digits are taken
/// too, and so are `−`, `–` and `-` as minus, a leading `+`, and an exponent (`1.2e-3`).
///
/// # Errors
/// [`NumberError`], a sentence quoting the text.
pub fn parse_number(text: &str) -> Result<f64, NumberError> {
    let text = text.trim_matches(|c: char| c.is_whitespace() || c == '\u{feff}');
    if text.is_empty() {
        return Err(NumberError::Empty);
    }
    let not_a_number = || NumberError::NotANumber { text: quoted(text) };
    let (negative, unsigned) = split_sign(text);
    let (mantissa, exponent) = match unsigned.split_once(['e', 'E']) {
        Some((mantissa, exponent)) => (mantissa, Some(exponent)),
        None => (unsigned, None),
    };
    let (whole, fraction) = split_decimals(mantissa);
    let is_digits = |part: &str| part.bytes().all(|byte| byte.is_ascii_digit());
    if !is_digits(fraction) || !whole.chars().all(|c| c.is_ascii_digit() || is_separator(c)) {
        return Err(not_a_number());
    }
    let mut plain = digits_of_groups(whole).ok_or_else(|| NumberError::Grouping { text: quoted(text) })?;
    if plain.is_empty() && fraction.is_empty() {
        return Err(not_a_number());
    }
    plain.insert_str(0, if negative { "-0" } else { "0" });
    plain.push('.');
    plain.push_str(fraction);
    if let Some(exponent) = exponent {
        let (negative, digits) = split_sign(exponent);
        if digits.is_empty() || !is_digits(digits) {
            return Err(not_a_number());
        }
        plain.push_str(if negative { "e-" } else { "e" });
        plain.push_str(digits);
    } else {
        plain.push('0');
    }
    let value: f64 = plain.parse().map_err(|_| not_a_number())?;
    if value.is_infinite() {
        return Err(NumberError::TooLarge { text: quoted(text) });
    }
    // A typed −0 is 0; elsewhere the sign of zero would only make equal setups differ.
    Ok(if value == 0.0 { 0.0 } else { value })
}

/// Whether a leading sign is a minus, and the rest.
fn split_sign(text: &str) -> (bool, &str) {
    if let Some(rest) = text.strip_prefix(['-', '\u{2212}', '\u{2013}']) {
        // “− 12” is written so in some books.
        (true, rest.trim_start())
    } else {
        (false, text.strip_prefix('+').unwrap_or(text))
    }
}

/// The part before the decimal mark and the part after it.
fn split_decimals(mantissa: &str) -> (&str, &str) {
    let Some(last) = mantissa.rfind(['.', ',']) else { return (mantissa, "") };
    let (whole, rest) = mantissa.split_at(last);
    let mark = rest.chars().next().unwrap_or('.');
    if whole.contains(mark) {
        // The same mark before: it parts groups.
        (mantissa, "")
    } else {
        (whole, rest.get(1..).unwrap_or_default())
    }
}

fn is_separator(c: char) -> bool {
    c.is_whitespace() || matches!(c, '.' | ',' | '\'' | '\u{2019}')
}

/// The digits, when the separators are all the same and every group but the first has
/// three digits.
fn digits_of_groups(whole: &str) -> Option<String> {
    let Some(separator) = whole.chars().find(|&c| is_separator(c)) else { return Some(whole.into()) };
    let mut groups = whole.split(separator);
    let first = groups.next().filter(|first| (1..=3).contains(&first.len()))?;
    let mut digits = String::from(first);
    for group in groups {
        if group.len() != 3 {
            return None;
        }
        digits.push_str(group);
    }
    digits.bytes().all(|byte| byte.is_ascii_digit()).then_some(digits)
}

/// What was written, for a sentence: at most forty characters.
fn quoted(text: &str) -> String {
    const MOST: usize = 40;
    if text.chars().count() <= MOST {
        return text.into();
    }
    text.chars().take(MOST - 1).chain(['…']).collect()
}

/// A number with a fixed count of decimals, a point, a true minus and no negative zero.
#[must_use]
pub fn format_number(value: f64, decimals: usize) -> String {
    if !value.is_finite() {
        return Plain(value).to_string();
    }
    let text = format!("{:.*}", decimals, value.abs());
    if value < 0.0 && !shows_zero(&text) { format!("\u{2212}{text}") } else { text }
}

/// Whether a number as it is written, with its unit or without, is zero to the reader.
#[must_use]
pub fn shows_zero(shown: &str) -> bool {
    !shown.bytes().any(|byte| matches!(byte, b'1'..=b'9'))
}

/// The shortest text that [`parse_number`] reads back as the same number: what an input
/// field shows, so that nothing typed is rounded away.
#[must_use]
pub fn field_text(value: f64) -> String {
    // No field shows a negative zero.
    Plain(if value == 0.0 { 0.0 } else { value }).to_string()
}

/// The nearest number with so many decimals; what a drag or an arrow key puts into a
/// document, so that no field shows fifteen digits.
#[must_use]
pub fn round_to(value: f64, decimals: u8) -> f64 {
    let scale = 10_f64.powi(i32::from(decimals));
    let rounded = (value * scale).round() / scale;
    if rounded.is_finite() { if rounded == 0.0 { 0.0 } else { rounded } } else { value }
}

/// A point of time in some time zone, to the minute.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Moment {
    /// Year.
    pub year: u32,
    /// Month, from 1.
    pub month: u32,
    /// Day of the month, from 1.
    pub day: u32,
    /// Hour, from 0.
    pub hour: u32,
    /// Minute, from 0.
    pub minute: u32,
}

impl Moment {
    /// As ISO 8601 writes a date: 2026-11-25.
    #[must_use]
    pub fn date(self) -> String {
        format!("{:04}-{:02}-{:02}", self.year, self.month, self.day)
    }

    /// Date and time in words: 25 November 2026, 14:05.
    #[must_use]
    pub fn words(self) -> String {
        const MONTHS: [&str; 12] = [
            "January",
            "February",
            "March",
            "April",
            "May",
            "June",
            "July",
            "August",
            "September",
            "October",
            "November",
            "December",
        ];
        let month = usize::try_from(self.month).ok().and_then(|month| MONTHS.get(month.checked_sub(1)?));
        format!("{} {} {}, {:02}:{:02}", self.day, month.unwrap_or(&"?"), self.year, self.hour, self.minute)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn marks_and_signs_of_many_places_are_read() {
        for (text, value) in [
            ("12", 12.0),
            ("  12.5 ", 12.5),
            ("12,5", 12.5),
            ("+3", 3.0),
            ("-3", -3.0),
            ("\u{2212}3,25", -3.25),
            ("\u{2013}0.8", -0.8),
            ("\u{2212} 0.8", -0.8),
            (".5", 0.5),
            ("12.", 12.0),
            ("-,5", -0.5),
            ("1,234", 1.234),
            ("1.234", 1.234),
            ("1,234.5", 1234.5),
            ("1.234,5", 1234.5),
            ("1,234,567", 1_234_567.0),
            ("1.234.567,8", 1_234_567.8),
            ("1 234,5", 1234.5),
            ("\u{2212}2\u{202f}640,1", -2640.1),
            ("2\u{a0}640", 2640.0),
            ("2\u{2009}640", 2640.0),
            ("12'345.5", 12345.5),
            ("\u{feff}7\u{a0}", 7.0),
            ("1.2e-3", 0.0012),
            ("1,2E\u{2212}03", 0.0012),
            ("1e3", 1000.0),
            ("007", 7.0),
        ] {
            assert_eq!(parse_number(text), Ok(value), "{text:?}");
        }
        assert!(parse_number("−0").is_ok_and(f64::is_sign_positive));
    }

    #[test]
    fn what_is_no_number_is_refused_and_quoted() {
        for text in [
            "inf", "-inf", "NaN", "infinity", "0x10", "abc", "12 mm", "12°", "-", "+", ".", ",", "e5", "1e",
            "1e+-2", "--5", "+-5", "1.2.3e", "١٢", "1e5.5", "1_000", "−−2", "½", "1;2", "1\t2a",
        ] {
            let error = parse_number(text).expect_err(text);
            let sentence = error.to_string();
            assert!(matches!(error, NumberError::NotANumber { .. } | NumberError::Grouping { .. }), "{text}");
            assert!(sentence.contains(text), "{sentence}");
        }
        for text in ["", " ", "\u{a0}\u{202f}", "\u{feff}"] {
            assert_eq!(parse_number(text), Err(NumberError::Empty));
        }
        assert_eq!(NumberError::Empty.to_string(), "this field is empty; a number is needed");
        for text in
            ["12 34", "1,23.5", "1.23,5", "1,234.567,8", "1 234 5", "1234,567.8", "1.2.3", "1..2", "1,,2"]
        {
            assert!(matches!(parse_number(text), Err(NumberError::Grouping { .. })), "{text}");
        }
        for text in ["1e999", "-1e309"] {
            assert!(matches!(parse_number(text), Err(NumberError::TooLarge { .. })), "{text}");
        }
        let long = "x".repeat(10_000);
        assert!(parse_number(&long).expect_err("letters").to_string().chars().count() < 200);
    }

    #[test]
    fn numbers_are_written_with_a_true_minus_and_no_negative_zero() {
        assert_eq!(format_number(-0.04, 1), "0.0");
        assert_eq!(format_number(-0.0, 0), "0");
        assert_eq!(format_number(-0.06, 1), "\u{2212}0.1");
        assert_eq!(format_number(1234.56, 1), "1234.6");
        assert_eq!(format_number(f64::NAN, 1), "not a number");
        assert_eq!(format_number(f64::NEG_INFINITY, 1), "\u{2212}infinite");
        assert_eq!(field_text(-0.0), "0");
        assert_eq!(field_text(-408.125), "\u{2212}408.125");
        assert!((round_to(312.049_999, 1) - 312.0).abs() < f64::EPSILON);
        assert!(round_to(-0.04, 1).is_sign_positive());
    }

    proptest! {
        #[test]
        fn any_text_ends_in_a_finite_number_or_a_sentence(text in ".{0,24}") {
            match parse_number(&text) {
                Ok(value) => prop_assert!(value.is_finite()),
                Err(error) => prop_assert!(error.to_string().len() > 20),
            }
        }

        #[test]
        fn number_like_text_never_panics(text in "[-+−–0-9., '\u{a0}eE]{0,12}") {
            if let Ok(value) = parse_number(&text) {
                prop_assert!(value.is_finite());
            }
        }

        #[test]
        fn a_field_reads_back_what_it_shows(value in proptest::num::f64::NORMAL | proptest::num::f64::ZERO) {
            let text = field_text(value);
            prop_assert_eq!(parse_number(&text), Ok(value));
            prop_assert_eq!(parse_number(&text.replace('.', ",")), Ok(value));
        }
    }

    #[test]
    fn a_moment_is_said_in_words_and_as_a_date() {
        let moment = Moment { year: 2026, month: 3, day: 5, hour: 7, minute: 4 };
        assert_eq!(moment.words(), "5 March 2026, 07:04");
        assert_eq!(moment.date(), "2026-03-05");
    }
}
