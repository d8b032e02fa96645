//! A tyre's size as its side wall says it → section, rim and diameter.
//!
//! Read are metric sizes (`235/40 R18`, `265/35ZR19 98Y`, `P205/55R16`, `LT245/75R16`) and
//! flotation sizes (`33x12.50R15LT`), with marks for load and speed after them, in capitals
//! or not. Dimensions are the design dimensions of the size, not those of a worn tyre on
//! some rim.

use crate::float::round;

/// What a size text means.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Size {
    /// Width of the section on its measuring rim, mm.
    pub section_width: f64,
    /// Rim diameter by its code, mm.
    pub rim_diameter: f64,
    /// Overall diameter without load, mm.
    pub diameter: f64,
}

/// Nominal rim diameters in mm of the codes 10 to 24 (UN Regulation 30, annex; from
/// memory): whole millimetres, so up to half a millimetre off 25.4 times the code.
const RIM_DIAMETERS: [f64; 15] =
    [254.0, 279.0, 305.0, 330.0, 356.0, 381.0, 406.0, 432.0, 457.0, 483.0, 508.0, 533.0, 559.0, 584.0, 610.0];

/// mm per inch.
const INCH: f64 = 25.4;

/// Loaded radius over the radius without load: 0.96 (common practice; mechguru.com's page on
/// rolling circumference works P215/65R15 with it). Real tyres differ by a few hundredths with
/// load and pressure; a measured radius is better.
pub const LOADED_SHARE: f64 = 0.96;

/// Rolling circumference over overall diameter of a radial tyre at 60 km/h: 3.05 (ETRTO; from
/// memory). A wheel that kept its free radius would have π.
pub const ROLLING_SHARE: f64 = 3.05;

impl Size {
    /// Reads a size text; `None` for a text that is none, or whose numbers no road tyre has.
    #[must_use]
    pub fn read(text: &str) -> Option<Self> {
        let text = text.trim();
        let text =
            ["LT", "ST", "P", "T"].iter().find_map(|mark| strip(text, mark)).unwrap_or(text).trim_start();
        let (first, rest) = number(text)?;
        let mut letters = rest.trim_start().chars();
        match letters.next()? {
            '/' => metric(first, letters.as_str()),
            'x' | 'X' | '×' => flotation(first, letters.as_str()),
            _ => None,
        }
    }

    /// Estimate of the loaded radius, mm: [`LOADED_SHARE`] of the free radius.
    #[must_use]
    pub fn loaded_radius_estimate(&self) -> f64 {
        LOADED_SHARE * self.diameter / 2.0
    }

    /// Estimate of the way rolled in one turn, mm: [`ROLLING_SHARE`] of the diameter.
    #[must_use]
    pub fn rolling_circumference_estimate(&self) -> f64 {
        ROLLING_SHARE * self.diameter
    }

    /// Height of the section without load, mm.
    #[must_use]
    pub fn section_height(&self) -> f64 {
        0.5 * (self.diameter - self.rim_diameter)
    }
}

/// Width and aspect ratio in per cent: D = d + 2 H with H the section height in whole
/// millimetres (UN Regulation 30, 2.17; from memory).
fn metric(width: f64, rest: &str) -> Option<Size> {
    let (aspect, rest) = number(rest.trim_start())?;
    let rim_diameter = rim(rest)?;
    let plausible = (80.0..=500.0).contains(&width) && (15.0..=100.0).contains(&aspect);
    plausible.then(|| Size {
        section_width: width,
        rim_diameter,
        diameter: rim_diameter + 2.0 * round(width * aspect / 100.0),
    })
}

/// Overall diameter and width in inches.
fn flotation(diameter: f64, rest: &str) -> Option<Size> {
    let (width, rest) = number(rest.trim_start())?;
    let rim_diameter = rim(rest)?;
    let size = Size { section_width: INCH * width, rim_diameter, diameter: INCH * diameter };
    ((4.0..=20.0).contains(&width) && size.diameter <= 1500.0 && size.diameter > rim_diameter).then_some(size)
}

/// Construction letters and the rim's code: `R18`, `ZR19`, ` R 16`, `-15`, `B15`, `RF17` (made
/// to run flat) and, as once was usual, a speed letter before the R: `VR16`.
fn rim(text: &str) -> Option<f64> {
    let text = text.trim_start();
    let text = ["Z", "V", "H", "S"].iter().find_map(|mark| strip(text, mark)).unwrap_or(text);
    let text = ["RF", "R", "D", "B", "-"].iter().find_map(|mark| strip(text, mark))?.trim_start();
    let (code, rest) = number(text)?;
    // A digit or a point further on would belong to the code; a letter after a stroke is a load
    // range, as in `R16/E`.
    let after_slash = rest.strip_prefix('/').unwrap_or_default();
    if rest.starts_with(['.', ',']) || after_slash.starts_with(|c: char| c.is_ascii_digit()) {
        return None;
    }
    RIM_DIAMETERS.iter().zip(10_u8..).find(|(_, known)| f64::from(*known) == code).map(|(rim, _)| *rim)
}

/// The text after a mark, in capitals or not.
fn strip<'a>(text: &'a str, mark: &str) -> Option<&'a str> {
    let begin = text.get(..mark.len())?;
    if begin.eq_ignore_ascii_case(mark) { text.get(mark.len()..) } else { None }
}

/// A plain number at the beginning, with a point or comma, and what follows it.
fn number(text: &str) -> Option<(f64, &str)> {
    let (mut value, mut scale, mut digits, mut end) = (0.0, 0.0, 0, 0);
    for (at, c) in text.char_indices() {
        match c.to_digit(10) {
            Some(digit) => {
                digits += 1;
                value = 10.0 * value + f64::from(digit);
                scale *= 10.0;
            }
            None if (c == '.' || c == ',') && scale == 0.0 && digits > 0 => scale = 1.0,
            None => break,
        }
        end = at + c.len_utf8();
        // No size has more.
        if digits > 6 {
            return None;
        }
    }
    let value = if scale > 0.0 { value / scale } else { value };
    (digits > 0).then(|| (value, text.get(end..).unwrap_or_default()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sizes_are_read_with_all_their_marks() {
        let width_and_rim = |text| Size::read(text).map(|size| (size.section_width, size.rim_diameter));
        for text in [
            "235/40 R18",
            "235/40R18",
            " 235/40 ZR18 95Y XL",
            "235 / 40 r 18",
            "P235/40R18",
            "235/40RF18",
            "235/40 VR18",
        ] {
            assert_eq!(width_and_rim(text), Some((235.0, 457.0)), "{text}");
        }
        assert_eq!(width_and_rim("LT245/75R16 120/116S"), Some((245.0, 406.0)));
        let named = [
            ("265/35ZR19", 265.0, 483.0),
            ("265/35 ZR19 (98Y)", 265.0, 483.0),
            ("P205/55R16", 205.0, 406.0),
            ("P205/55R16 89V", 205.0, 406.0),
            ("LT235/85R16", 235.0, 406.0),
            ("LT 235/85 R16 120/116Q", 235.0, 406.0),
            ("225/45R17 XL", 225.0, 432.0),
            ("T125/70D17 98M", 125.0, 432.0),
            ("31x10.5R15", 266.7, 381.0),
            ("LT31X10.50R15/C 109S", 266.7, 381.0),
            ("33 × 12,50 R15", 317.5, 381.0),
        ];
        for (text, width, rim) in named {
            let (found, diameter) = width_and_rim(text).expect(text);
            assert!((found - width).abs() < 1e-9 && diameter == rim, "{text}: {found}, {diameter}");
        }
        let flotation = Size::read("33x12.50R15LT").expect("a flotation size");
        assert!((flotation.diameter - 838.2).abs() < 1e-9 && (flotation.section_width - 317.5).abs() < 1e-9);
    }

    #[test]
    fn other_texts_are_no_sizes() {
        for text in [
            "",
            "R18",
            "235",
            "235/40",
            "235/40 R",
            "235/40 R99",
            "235/40 Q18",
            "9/40 R18",
            "235/400 R18",
            "1e3/40R18",
            "99999999/40R18",
            "12x33R15",
            "235/40 R18.5",
            "тире",
            "235/40\u{a0}R",
        ] {
            assert_eq!(Size::read(text), None, "{text}");
        }
    }
}
