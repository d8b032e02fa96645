//! Shapes as SVG, whole or only what has changed; numbers have one decimal, a tenth of a pixel.

use std::fmt::Write as _;

use super::{Anchor, Layer, Shape};

/// What makes one shape another of the same kind.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Change<'a> {
    /// An attribute's name and value.
    Attribute(&'static str, &'a str),
    /// The words of a text.
    Words(&'a str),
}

/// The shapes as SVG elements.
#[must_use]
pub fn markup(shapes: &[Shape]) -> String {
    let mut out = String::with_capacity(shapes.len() * 80);
    for shape in shapes {
        // Writing to a String cannot fail.
        let _ = match shape {
            Shape::Line { class, points, closed } => {
                let tag = if *closed { "polygon" } else { "polyline" };
                let _ = write!(out, "<{tag} class=\"{class}\" points=\"");
                write_points(&mut out, points);
                write!(out, "\"/>")
            }
            Shape::Circle { class, at, radius } => {
                let [x, y, radius] = [at[0], at[1], *radius].map(Tenths::of);
                write!(out, "<circle class=\"{class}\" cx=\"{x}\" cy=\"{y}\" r=\"{radius}\"/>")
            }
            Shape::Text { class, at, text, anchor, .. } => {
                let ([x, y], anchor, text) = (at.map(Tenths::of), anchor.name(), escaped(text));
                write!(
                    out,
                    "<text class=\"{class}\" x=\"{x}\" y=\"{y}\" text-anchor=\"{anchor}\">{text}</text>"
                )
            }
        };
    }
    out
}

/// Layers as SVG, one after the other.
#[must_use]
pub fn markup_of_layers(layers: &[Layer]) -> String {
    let one = |layer: &Layer| match layer.class {
        Some(class) => format!("<g class=\"{class}\">{}</g>", markup(&layer.shapes)),
        None => markup(&layer.shapes),
    };
    layers.iter().map(one).collect()
}

/// Whether two shapes are of one kind, so that the one's element can become the other's.
#[must_use]
pub fn same_kind(a: &Shape, b: &Shape) -> bool {
    match (a, b) {
        (Shape::Line { closed: a, .. }, Shape::Line { closed: b, .. }) => a == b,
        (Shape::Circle { .. }, Shape::Circle { .. }) | (Shape::Text { .. }, Shape::Text { .. }) => true,
        _ => false,
    }
}

/// Tells what has to be written for one shape to become another of its kind; what would be
/// written alike is not told.
pub fn changes(before: &Shape, after: &Shape, put: &mut impl FnMut(Change<'_>)) {
    let mut number = |name, before: f64, after: f64| {
        let after = Tenths::of(after);
        if Tenths::of(before) != after {
            put(Change::Attribute(name, &after.to_string()));
        }
    };
    match (before, after) {
        (Shape::Circle { at: a, radius: r, .. }, Shape::Circle { at: b, radius: q, .. }) => {
            number("cx", a[0], b[0]);
            number("cy", a[1], b[1]);
            number("r", *r, *q);
        }
        (Shape::Text { at: a, .. }, Shape::Text { at: b, .. }) => {
            number("x", a[0], b[0]);
            number("y", a[1], b[1]);
        }
        _ => {}
    }
    match (before, after) {
        (Shape::Line { points: a, .. }, Shape::Line { points: b, .. }) => {
            let tenths = |points: &[[f64; 2]], i: usize| points[i].map(Tenths::of);
            if a.len() != b.len() || (0..a.len()).any(|i| tenths(a, i) != tenths(b, i)) {
                let mut text = String::with_capacity(12 * b.len());
                write_points(&mut text, b);
                put(Change::Attribute("points", &text));
            }
        }
        (Shape::Text { text: a, anchor: one, .. }, Shape::Text { text: b, anchor: other, .. }) => {
            if one != other {
                put(Change::Attribute("text-anchor", other.name()));
            }
            if a != b {
                put(Change::Words(b));
            }
        }
        _ => {}
    }
    if before.class() != after.class() {
        put(Change::Attribute("class", after.class()));
    }
}

fn write_points(out: &mut String, points: &[[f64; 2]]) {
    for [x, y] in points.iter().map(|point| point.map(Tenths::of)) {
        let _ = write!(out, "{x},{y} ");
    }
}

/// A number of pixels as it is written. A whole number: pixels that are written alike are
/// alike, and zero has no sign.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Tenths(i64);

impl Tenths {
    #[expect(clippy::cast_possible_truncation, reason = "far beyond any sheet it may stop growing")]
    fn of(pixels: f64) -> Self {
        Self((pixels * 10.0).round() as i64)
    }
}

impl std::fmt::Display for Tenths {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let sign = if self.0 < 0 { "-" } else { "" };
        let size = self.0.unsigned_abs();
        write!(f, "{sign}{}.{}", size / 10, size % 10)
    }
}

impl Shape {
    fn class(&self) -> &'static str {
        match self {
            Self::Line { class, .. } | Self::Circle { class, .. } | Self::Text { class, .. } => class,
        }
    }
}

impl Anchor {
    /// As SVG calls it.
    pub(crate) fn name(self) -> &'static str {
        match self {
            Self::Start => "start",
            Self::Middle => "middle",
            Self::End => "end",
        }
    }
}

/// Text as it may stand between tags.
pub(crate) fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn text(x: f64, words: &str, anchor: Anchor) -> Shape {
        Shape::Text { class: "label", at: [x, 2.0], text: words.into(), anchor, of: None }
    }

    fn told(before: &Shape, after: &Shape) -> Vec<String> {
        let mut told = Vec::new();
        changes(before, after, &mut |change| {
            told.push(match change {
                Change::Attribute(name, value) => format!("{name}={value}"),
                Change::Words(words) => words.to_owned(),
            });
        });
        told
    }

    #[test]
    fn a_members_name_cannot_become_markup() {
        assert_eq!(
            markup(&[text(1.0, "<script>&", Anchor::Start)]),
            "<text class=\"label\" x=\"1.0\" y=\"2.0\" text-anchor=\"start\">&lt;script&gt;&amp;</text>"
        );
    }

    #[test]
    fn pixels_have_a_tenth_and_zero_no_sign() {
        let written = [0.04, -0.04, -0.06, 12.25, -1234.56, f64::NAN].map(|x| Tenths::of(x).to_string());
        assert_eq!(written, ["0.0", "0.0", "-0.1", "12.3", "-1234.6", "0.0"]);
    }

    #[test]
    fn only_what_differs_on_paper_is_told() {
        let line = |x: f64, class| Shape::Line { class, points: vec![[x, 1.0], [3.0, 4.0]], closed: false };
        assert_eq!(told(&line(1.0, "member"), &line(1.04, "member")), [""; 0]);
        assert_eq!(
            told(&line(1.0, "member"), &line(1.06, "hidden")),
            ["points=1.1,1.0 3.0,4.0 ", "class=hidden"]
        );
        let longer = Shape::Line { class: "member", points: vec![[1.0, 1.0]; 3], closed: false };
        assert_eq!(told(&line(1.0, "member"), &longer), ["points=1.0,1.0 1.0,1.0 1.0,1.0 "]);
        let circle = |x, radius| Shape::Circle { class: "joint", at: [x, 5.0], radius };
        assert_eq!(told(&circle(1.0, 3.0), &circle(2.0, 4.0)), ["cx=2.0", "r=4.0"]);
        let (before, after) = (text(1.0, "a", Anchor::Start), text(-1.0, "<b>", Anchor::End));
        assert_eq!(told(&before, &after), ["x=-1.0", "text-anchor=end", "<b>"]);
    }

    #[test]
    fn a_polygon_is_no_polyline() {
        let line = |closed| Shape::Line { class: "member", points: vec![], closed };
        assert!(same_kind(&line(true), &line(true)) && !same_kind(&line(true), &line(false)));
        assert!(!same_kind(&line(true), &text(0.0, "", Anchor::Start)));
    }

    #[test]
    fn a_layer_with_a_class_is_a_group() {
        let joint = || vec![Shape::Circle { class: "joint", at: [1.0, 2.0], radius: 3.0 }];
        let layers =
            [Layer { class: Some("ghost"), shapes: joint() }, Layer { class: None, shapes: joint() }];
        let circle = "<circle class=\"joint\" cx=\"1.0\" cy=\"2.0\" r=\"3.0\"/>";
        assert_eq!(markup_of_layers(&layers), format!("<g class=\"ghost\">{circle}</g>{circle}"));
    }
}
