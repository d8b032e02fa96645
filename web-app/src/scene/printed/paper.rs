//! Lines and letters on paper, in millimetres.

use std::fmt::Write as _;

use super::PIXELS;
pub(super) use crate::scene::Anchor;
use crate::{scene::escaped, view::Rectangle};

/// A rectangle on the paper, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Area {
    pub(super) left: f64,
    pub(super) top: f64,
    pub(super) right: f64,
    pub(super) bottom: f64,
}

impl Area {
    pub(super) fn width(&self) -> f64 {
        self.right - self.left
    }

    pub(super) fn height(&self) -> f64 {
        self.bottom - self.top
    }
}

/// About how wide a letter is, as a share of its height: what the usual sans-serif faces have
/// on average.
const LETTER: f64 = 0.7;

/// About how wide a text is, mm, with letters of a height.
pub(super) fn width_of(text: &str, height: f64) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "a text of some hundred letters")]
    let letters = text.chars().count() as f64;
    letters * LETTER * height
}

/// A text in lines no wider than about `width` mm.
pub(super) fn lines(text: &str, width: f64, height: f64) -> Vec<String> {
    let mut lines = vec![String::new()];
    for word in text.split_whitespace() {
        let Some(line) = lines.last_mut() else { break };
        if line.is_empty() {
            line.push_str(word);
        } else if width_of(line, height) + width_of(word, height) + LETTER * height <= width {
            line.push(' ');
            line.push_str(word);
        } else {
            lines.push(word.to_owned());
        }
    }
    lines
}

/// A drawing in the making.
pub(super) struct Paper {
    out: String,
}

/// One decimal is a fortieth of a millimetre.
fn px(mm: f64) -> f64 {
    (mm * PIXELS * 10.0).round() / 10.0
}

// Writing to a String cannot fail.
impl Paper {
    pub(super) fn new((width, height): (f64, f64)) -> Self {
        let (wide, high) = (px(width), px(height));
        let out = format!(
            "<svg class=\"printed\" viewBox=\"0 0 {wide} {high}\" role=\"img\" aria-label=\"Drawing sheet\">"
        );
        Self { out }
    }

    pub(super) fn finish(mut self) -> String {
        self.out.push_str("</svg>");
        self.out
    }

    pub(super) fn line(&mut self, class: &str, [a, b]: [f64; 2], [c, d]: [f64; 2]) {
        self.polyline(class, &[[a, b], [c, d]]);
    }

    pub(super) fn polyline(&mut self, class: &str, points: &[[f64; 2]]) {
        let _ = write!(self.out, "<polyline class=\"{class}\" points=\"");
        for [x, y] in points {
            let _ = write!(self.out, "{},{} ", px(*x), px(*y));
        }
        self.out.push_str("\"/>");
    }

    pub(super) fn rectangle(&mut self, class: &str, area: Area) {
        let Area { left, top, right, bottom } = area;
        self.polyline(class, &[[left, top], [right, top], [right, bottom], [left, bottom], [left, top]]);
    }

    pub(super) fn circle(&mut self, class: &str, [x, y]: [f64; 2], radius: f64) {
        let _ = write!(
            self.out,
            "<circle class=\"{class}\" cx=\"{}\" cy=\"{}\" r=\"{}\"/>",
            px(x),
            px(y),
            px(radius)
        );
    }

    /// A text with letters of a height in mm.
    pub(super) fn text(&mut self, class: &str, at: [f64; 2], height: f64, anchor: Anchor, text: &str) {
        self.text_within(class, at, height, anchor, text, f64::INFINITY);
    }

    /// A text that is made narrower where it would be wider than so many mm.
    pub(super) fn text_within(
        &mut self,
        class: &str,
        [x, y]: [f64; 2],
        height: f64,
        anchor: Anchor,
        text: &str,
        width: f64,
    ) {
        // Letters are squeezed to no less than half; what is longer still is cut.
        let mut text = text.to_owned();
        if width_of(&text, height) > 2.0 * width {
            while width_of(&text, height) > 2.0 * width && text.pop().is_some() {}
            text.push('…');
        }
        let squeezed = width_of(&text, height) > width;
        let _ = write!(
            self.out,
            "<text class=\"{class}\" x=\"{}\" y=\"{}\" font-size=\"{}\" text-anchor=\"{}\"",
            px(x),
            px(y),
            // Capitals are about 0.72 of the size that fonts are called by.
            px(height / 0.78),
            anchor.name(),
        );
        if squeezed {
            let _ = write!(self.out, " textLength=\"{}\" lengthAdjust=\"spacingAndGlyphs\"", px(width));
        }
        let _ = write!(self.out, ">{}</text>", escaped(&text));
    }

    /// A part of another drawing, in pixels, at its place in an area; nothing shows beyond it.
    pub(super) fn nested(&mut self, area: Area, pane: Rectangle, markup: &str) {
        let (width, height) = (pane.right - pane.left, pane.bottom - pane.top);
        let _ = write!(
            self.out,
            "<svg class=\"drawing\" x=\"{:.1}\" y=\"{:.1}\" width=\"{width:.1}\" height=\"{height:.1}\" viewBox=\"{:.1} {:.1} {width:.1} {height:.1}\">{markup}</svg>",
            px(area.left) + pane.left,
            px(area.top) + pane.top,
            pane.left,
            pane.top,
        );
    }
}
