//! Lengths as a tape measure gives them: millimetres, inches, fractions of an inch; and the
//! axes in which the table of pivots is written.
//!
//! The document stays in mm and in ISO 8855 axes; a [`Convention`] says how its coordinates
//! are read and written in the table, in a pasted block and in a copied one.

use std::fmt;

use geometry_core::setup::{Point, Side};

use crate::{
    edit::Coordinate,
    numbers::{NumberError, field_text, format_number, parse_number, round_to},
    units::System,
    with_unit::with_its_unit,
};

/// mm in an inch: exact since 1959.
pub const INCH: f64 = 25.4;
/// The finest part of an inch that is written as a fraction.
const FINEST: u32 = 64;
/// Decimals of a millimetre to which inches are taken: far below what any tape shows, and
/// enough to take the noise of the conversion away.
const DECIMALS_FROM_INCHES: u8 = 6;

/// The unit in which lengths are written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Measure {
    /// Millimetres.
    #[default]
    Millimetre,
    /// Inches with decimals.
    InchDecimal,
    /// Inches with fractions to 1/64.
    InchFraction,
}

impl Measure {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Millimetre, Self::InchDecimal, Self::InchFraction];

    /// Its name in the store and in menus.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Millimetre => "mm",
            Self::InchDecimal => "inch",
            Self::InchFraction => "inch-fractions",
        }
    }

    /// What it is called on the page.
    #[must_use]
    pub fn label(self) -> &'static str {
        match self {
            Self::Millimetre => "mm",
            Self::InchDecimal => "inch, decimals",
            Self::InchFraction => "inch, fractions",
        }
    }

    /// The units that everything else is then told in.
    #[must_use]
    pub fn system(self) -> System {
        match self {
            Self::Millimetre => System::Metric,
            Self::InchDecimal | Self::InchFraction => System::Customary,
        }
    }

    /// What a screen reader says after "in".
    #[must_use]
    pub fn spoken(self) -> &'static str {
        if self == Self::Millimetre { "millimetres" } else { "inches" }
    }

    /// The sign behind a number.
    #[must_use]
    pub fn symbol(self) -> &'static str {
        if self == Self::Millimetre { "mm" } else { "in" }
    }
}

/// Which axes the coordinates are written in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Axes {
    /// ISO 8855: x forward, y left, z up.
    #[default]
    Up,
    /// SAE J670 with z down: x forward, y right, z down.
    Down,
}

impl Axes {
    /// Both.
    pub const ALL: [Self; 2] = [Self::Up, Self::Down];

    /// Its name in the store and in menus.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Up => "z-up",
            Self::Down => "z-down",
        }
    }

    /// What it is called on the page.
    #[must_use]
    pub fn label(self) -> &'static str {
        match self {
            Self::Up => "z up (ISO 8855)",
            Self::Down => "z down (SAE J670)",
        }
    }

    /// What the axes mean for a corner, in words.
    #[must_use]
    pub fn words(self, side: Side) -> &'static str {
        match (self, side) {
            (Self::Up, Side::Left) => {
                "x forward, y to the left, z up from the ground; the left wheel has y above zero."
            }
            (Self::Up, Side::Right) => {
                "x forward, y to the left, z up from the ground; the right wheel has y below zero."
            }
            (Self::Down, Side::Left) => {
                "x forward, y to the right, z down from the ground: what is above the ground has z below zero, \
                 the left wheel has y below zero."
            }
            (Self::Down, Side::Right) => {
                "x forward, y to the right, z down from the ground: what is above the ground has z below zero, \
                 the right wheel has y above zero."
            }
        }
    }
}

/// How coordinates are read and written on the page: a choice of the page, no part of the
/// document.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Convention {
    /// The unit.
    pub measure: Measure,
    /// The axes.
    pub axes: Axes,
}

impl Convention {
    /// As the store keeps it.
    #[must_use]
    pub fn name(self) -> String {
        format!("{} {}", self.measure.name(), self.axes.name())
    }

    /// What was kept; what cannot be read is the usual one.
    #[must_use]
    pub fn of_name(text: &str) -> Self {
        let mut words = text.split_whitespace();
        let (measure, axes) = (words.next(), words.next());
        Self {
            measure: Measure::ALL.into_iter().find(|m| Some(m.name()) == measure).unwrap_or_default(),
            axes: Axes::ALL.into_iter().find(|a| Some(a.name()) == axes).unwrap_or_default(),
        }
    }

    /// How one coordinate of a corner on a side is written. The page works on a right corner
    /// as on its mirror image, whose y is above zero.
    #[must_use]
    pub fn form(self, coordinate: Coordinate, side: Side) -> Form {
        let flipped = match coordinate {
            Coordinate::X => false,
            Coordinate::Y => (self.axes == Axes::Down) != (side == Side::Right),
            Coordinate::Z => self.axes == Axes::Down,
        };
        Form { measure: self.measure, flipped }
    }

    /// A point as a sentence.
    #[must_use]
    pub fn place(self, point: Point, side: Side) -> String {
        let [x, y, z] = Coordinate::ALL.map(|c| self.form(c, side).text(c.of(point)));
        format!("x {x}, y {y}, z {z} {}", self.measure.symbol())
    }
}

/// How one coordinate is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Form {
    /// The unit.
    pub measure: Measure,
    /// Whether the written coordinate counts the other way than the document's.
    pub flipped: bool,
}

impl Form {
    fn turn(self, value: f64) -> f64 {
        // Adding zero takes the sign from a zero.
        if self.flipped { -value + 0.0 } else { value }
    }

    /// The document's number, mm, that a text means.
    ///
    /// # Errors
    /// Why the text is no length.
    pub fn read(self, text: &str) -> Result<f64, LengthError> {
        // A tape may count feet or centimetres.
        let read = parse_length(text, self.measure).or_else(|error| with_its_unit(text).ok_or(error));
        read.map(|value| self.turn(value))
    }

    /// What a field shows of a number of the document: mm in full, inches to four decimals or
    /// to the nearest 1/64.
    #[must_use]
    pub fn text(self, value: f64) -> String {
        let value = self.turn(value);
        match self.measure {
            Measure::Millimetre => field_text(value),
            Measure::InchDecimal => field_text(round_to(value / INCH, 4)),
            Measure::InchFraction => fraction(value / INCH),
        }
    }

    /// The same for a spreadsheet: with a plain minus, and so that [`Form::read`] gives
    /// exactly the same number again. A number that no short inch gives is written in mm
    /// with its unit.
    #[must_use]
    pub fn exact(self, value: f64) -> String {
        let plain = |text: String| text.replace('\u{2212}', "-");
        let same = |text: &String| self.read(text).is_ok_and(|read| read == value);
        let millimetres = || plain(field_text(self.turn(value)));
        if self.measure == Measure::Millimetre {
            return millimetres();
        }
        let inches = self.turn(value) / INCH;
        let fractions = (self.measure == Measure::InchFraction).then(|| fraction(inches));
        let decimals = (0..=9).map(|decimals| format_number(inches, decimals));
        let texts = fractions.into_iter().chain(decimals).map(plain);
        texts.into_iter().find(same).unwrap_or_else(|| format!("{} mm", millimetres()))
    }
}

/// Inches to the nearest 1/64, as in `−3 1/2`.
fn fraction(inches: f64) -> String {
    let parts = (inches.abs() * f64::from(FINEST)).round();
    if parts > 1e9 {
        // Beyond any length: nothing is gained by a fraction.
        return field_text(inches);
    }
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between 0 and 1e9")]
    let parts = parts as u32;
    let (whole, mut over, mut under) = (parts / FINEST, parts % FINEST, FINEST);
    while over > 0 && over.is_multiple_of(2) {
        over /= 2;
        under /= 2;
    }
    let minus = if inches < 0.0 && parts > 0 { "\u{2212}" } else { "" };
    match (whole, over) {
        (_, 0) => format!("{minus}{whole}"),
        (0, _) => format!("{minus}{over}/{under}"),
        _ => format!("{minus}{whole} {over}/{under}"),
    }
}

/// Why a text is not a length.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum LengthError {
    /// What is before the unit is no number.
    Number(NumberError),
    /// Something like a fraction that is none.
    Fraction {
        /// What was written, shortened when long.
        text: String,
    },
}

impl fmt::Display for LengthError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Number(error) => error.fmt(f),
            Self::Fraction { text } => write!(
                f,
                "“{text}” is not a fraction of an inch; whole inches, a space or a hyphen and a fraction are meant, such as 3 1/2 or 7/16"
            ),
        }
    }
}

impl std::error::Error for LengthError {}

/// Reads a length and gives it in mm.
///
/// A number without a unit is in the unit given; `mm`, `in`, `inch`, `inches`, `"` and `″`
/// behind it say otherwise. A fraction (`7/16`, `3 1/2`, `3-1/2`, `3½`) is always of an inch,
/// in either mode: a tape in millimetres has none.
///
/// # Errors
/// [`LengthError`], a sentence quoting the text.
pub fn parse_length(text: &str, measure: Measure) -> Result<f64, LengthError> {
    let trimmed = text.trim_matches(|c: char| c.is_whitespace() || c == '\u{feff}');
    let (number, unit) = split_unit(trimmed);
    let is_fraction = number.contains(['/', '\u{2044}']) || number.chars().any(|c| vulgar(c).is_some());
    let bad = || LengthError::Fraction { text: trimmed.chars().take(40).collect() };
    let inches = if is_fraction {
        if unit == Some(Measure::Millimetre) {
            return Err(bad());
        }
        Some(parse_fraction(number).ok_or_else(bad)?)
    } else {
        let in_inches = unit.unwrap_or(measure) != Measure::Millimetre;
        let value = parse_number(number).map_err(|error| {
            // The whole text is quoted, not what was left of it.
            LengthError::Number(match error {
                NumberError::NotANumber { .. } => {
                    NumberError::NotANumber { text: trimmed.chars().take(40).collect() }
                }
                other => other,
            })
        })?;
        if !in_inches {
            return Ok(value);
        }
        Some(value)
    };
    let value = inches.unwrap_or_default() * INCH;
    if value.is_infinite() {
        return Err(LengthError::Number(NumberError::TooLarge { text: trimmed.chars().take(40).collect() }));
    }
    Ok(round_to(value, DECIMALS_FROM_INCHES))
}

/// The number and the unit that is said behind it.
fn split_unit(text: &str) -> (&str, Option<Measure>) {
    const UNITS: [(&str, Measure); 8] = [
        ("mm", Measure::Millimetre),
        ("inches", Measure::InchDecimal),
        ("inch", Measure::InchDecimal),
        ("in.", Measure::InchDecimal),
        ("in", Measure::InchDecimal),
        ("\"", Measure::InchDecimal),
        ("\u{2033}", Measure::InchDecimal),
        ("\u{201d}", Measure::InchDecimal),
    ];
    for (name, measure) in UNITS {
        let Some(start) = text.len().checked_sub(name.len()) else { continue };
        let Some((number, end)) = text.split_at_checked(start) else { continue };
        // A lone unit is no number; it is refused as it was written.
        if end.eq_ignore_ascii_case(name) && number.contains(|c: char| c.is_numeric()) {
            return (number.trim_end(), Some(measure));
        }
    }
    (text, None)
}

/// Numerator and denominator of a fraction that is one letter.
fn vulgar(c: char) -> Option<(u32, u32)> {
    Some(match c {
        '½' => (1, 2),
        '¼' => (1, 4),
        '¾' => (3, 4),
        '⅛' => (1, 8),
        '⅜' => (3, 8),
        '⅝' => (5, 8),
        '⅞' => (7, 8),
        _ => return None,
    })
}

/// Sign, whole inches, a space or a hyphen, and a proper fraction; or a fraction alone.
fn parse_fraction(text: &str) -> Option<f64> {
    let (negative, text) = match text.strip_prefix(['-', '\u{2212}', '\u{2013}']) {
        Some(rest) => (true, rest.trim_start()),
        None => (false, text.strip_prefix('+').unwrap_or(text)),
    };
    let (before, over, under) = if let Some(last) = text.chars().last().and_then(vulgar) {
        let end = text.char_indices().last().map_or(0, |(i, _)| i);
        (text.get(..end)?, last.0, last.1)
    } else {
        let (head, under) = text.split_once(['/', '\u{2044}'])?;
        let head = head.trim_end();
        let digits = head.chars().rev().take_while(char::is_ascii_digit).count();
        // Digits are one byte each.
        let (before, over) = head.split_at_checked(head.len() - digits)?;
        (before, whole_number(over)?, whole_number(under.trim_start())?)
    };
    if under == 0 {
        return None;
    }
    let alone = before.is_empty();
    let whole = if alone {
        0
    } else {
        let separated = before.trim_end_matches([' ', '\u{a0}', '\u{2009}', '\u{202f}']);
        let separated = separated.strip_suffix(['-', '\u{2013}']).unwrap_or(separated);
        // `31/2` has no whole part; `3 3/2` has one that the fraction exceeds.
        if over >= under {
            return None;
        }
        whole_number(separated)?
    };
    let value = f64::from(whole) + f64::from(over) / f64::from(under);
    // Adding zero takes the sign from a zero.
    Some(if negative { -value + 0.0 } else { value })
}

/// At most six digits.
fn whole_number(text: &str) -> Option<u32> {
    let digits = (1..=6).contains(&text.len()) && text.bytes().all(|byte| byte.is_ascii_digit());
    digits.then(|| text.parse().ok()).flatten()
}

#[cfg(test)]
mod tests;
