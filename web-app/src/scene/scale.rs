//! A bar that says how large the drawing is.

use super::{Anchor, Pen, labels};
use crate::{
    numbers::field_text,
    units::Unit,
    view::{Rectangle, Sheet, View},
};

/// The bar's place in its view: pixels from its pane's left edge and above its foot.
const PLACE: [f64; 2] = [14.0, 16.0];
/// Pixels of a pane that has less room under the ground, and the bar above its foot there.
const LOW: [f64; 2] = [240.0, 7.0];
/// The most of the pane's width that it takes, and pixels that it never has more.
const MOST: (f64, f64) = (0.28, 130.0);
/// Pixels of the ticks at its ends, to either side.
const TICK: f64 = 4.0;
/// Pixels of a pane that has no room for it.
const LEAST: [f64; 2] = [150.0, 120.0];

/// The longest round length of the reader's unit that is no longer than `most`, mm: as it is written, and in mm. None
/// of nothing.
#[must_use]
pub fn round_length(most: f64) -> Option<(String, f64)> {
    let unit = Unit::Millimetre.here();
    let room = unit.of(most);
    if !(room.is_finite() && room > 0.0) {
        return None;
    }
    let power = 10_f64.powf(room.log10().floor());
    // The tolerance keeps a length that is round already.
    let round = [5.0, 2.0].map(|n| n * power).into_iter().find(|round| *round <= room * (1.0 + 1e-9));
    let round = round.unwrap_or(power);
    Some((unit.beside(&field_text(round)), round * unit.one))
}

/// Both ends of the bar in pixels, and what is written behind it.
fn bar(sheet: &Sheet, pane: &Rectangle) -> Option<([[f64; 2]; 2], [f64; 2], String)> {
    let (width, height) = (pane.right - pane.left, pane.bottom - pane.top);
    if width < LEAST[0] || height < LEAST[1] {
        return None;
    }
    let room = (MOST.0 * width).min(MOST.1);
    let (text, length) = round_length(room / sheet.scale())?;
    let above = if height < LOW[0] { LOW[1] } else { PLACE[1] };
    let [left, y] = [pane.left + PLACE[0], pane.bottom - above];
    let right = left + length * sheet.scale();
    Some(([[left, y], [right, y]], [right + 7.0, y + 4.0], text))
}

/// Draws it where the pen's view has room.
pub fn draw(pen: &mut Pen, sheet: &Sheet) {
    let Some(([from, to], at, text)) = bar(sheet, &pen.pane()) else { return };
    pen.pixel_line("scale-bar", from, to);
    for [x, y] in [from, to] {
        pen.pixel_line("scale-bar", [x, y - TICK], [x, y + TICK]);
    }
    pen.pixel_text("view-front scale-name", at, Anchor::Start, text);
}

/// Where it stands, for labels to keep away from; none in the other views.
#[must_use]
pub fn place(sheet: &Sheet, view: View) -> Option<Rectangle> {
    let ([from, _], at, text) = bar(sheet, &sheet.pane(view)).filter(|_| view == View::Front)?;
    let words = labels::extent(at, &text, Anchor::Start, sheet.letters());
    Some(Rectangle { left: from[0], top: words.top.min(from[1] - TICK), ..words })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{System, read_in};

    fn rounded(most: f64) -> (String, f64) {
        round_length(most).expect("a length")
    }

    #[test]
    fn a_bar_is_a_round_length_that_fits() {
        for (most, text, length) in [
            (217.0, "200\u{a0}mm", 200.0),
            (200.0, "200\u{a0}mm", 200.0),
            (199.0, "100\u{a0}mm", 100.0),
            (7.3, "5\u{a0}mm", 5.0),
            (0.31, "0.2\u{a0}mm", 0.2),
        ] {
            let (found, mm) = rounded(most);
            assert_eq!(found, text);
            assert!((mm - length).abs() < 1e-9, "{most}: {mm}");
        }
        let (text, mm) = read_in(System::Customary, || rounded(217.0));
        assert_eq!(text, "5\u{a0}in");
        assert!((mm - 127.0).abs() < 1e-9, "{mm}");
        assert_eq!([0.0, -1.0, f64::NAN, f64::INFINITY].map(|most| round_length(most).is_some()), [false; 4]);
    }
}
