//! Pose and sheet → shapes. Pure: tested without a browser.
//!
//! Stages: [`placed`] says where every point of the corner is now; [`parts`] turns members,
//! wheel, springs, rocker and bar into lines; [`construction`] adds what the readings are found by, or [`chosen`] what
//! the chosen one is; [`labels`] parts what is written, [`mod@markup`] writes it as SVG. A [`Shape`] is in pixels of the sheet and carries a class; the style sheet decides what
//! the class looks like, after the line types of ISO 128.

pub mod both;
pub mod chosen;
pub mod construction;
pub mod forces;
pub mod labels;
mod levers;
pub mod markup;
pub mod other_axle;
pub mod parts;
pub mod paths;
pub mod placed;
pub mod printed;
pub mod scale;
pub mod trouble;
mod wheel;

use crate::view::{Rectangle, Sheet, Stance, View};
use geometry_core::Vec3;
pub(crate) use markup::escaped;
pub use markup::markup;
pub use placed::Placed;
pub use wheel::bounds as wheel_bounds;

/// Pixels that a text takes, about.
#[expect(clippy::cast_precision_loss, reason = "a note has a few dozen letters")]
fn width_of(text: &str) -> f64 {
    7.2 * text.chars().count() as f64
}

/// A primitive in pixels.
#[derive(Debug, Clone, PartialEq)]
pub enum Shape {
    /// Points joined by straight lines.
    Line {
        /// Line type.
        class: &'static str,
        /// Corners in pixels.
        points: Vec<[f64; 2]>,
        /// Whether the last joins the first.
        closed: bool,
    },
    /// A circle of a fixed size in pixels.
    Circle {
        /// Line type.
        class: &'static str,
        /// Middle in pixels.
        at: [f64; 2],
        /// Radius in pixels.
        radius: f64,
    },
    /// A text of a fixed size in pixels.
    Text {
        /// Letter style.
        class: &'static str,
        /// Anchor in pixels.
        at: [f64; 2],
        /// What is written.
        text: String,
        /// Which end of the text stands at the anchor.
        anchor: Anchor,
        /// What it belongs to, in pixels, so that a line can lead there.
        of: Option<[f64; 2]>,
    },
}

/// Shapes that stand together: in a group of a class, or right in the view.
#[derive(Debug, Clone, PartialEq)]
pub struct Layer {
    /// The group's class, if it is one.
    pub class: Option<&'static str>,
    /// What stands in it.
    pub shapes: Vec<Shape>,
}

/// Which end of a text stands at its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Anchor {
    /// Its beginning.
    Start,
    /// Its middle.
    Middle,
    /// Its end.
    End,
}

/// A pen that draws in one view, cut off at the view's pane.
pub struct Pen<'a> {
    sheet: &'a Sheet,
    view: View,
    pane: Rectangle,
    /// Whether what it is told of the left wheel is drawn on the right.
    mirrored: bool,
    /// mm by which what it is told is drawn farther forward.
    ahead: f64,
    shapes: &'a mut Vec<Shape>,
}

/// Pixels per mm from which on symbols have their whole size, and the least of that they have.
const WHOLE_SYMBOLS: f64 = 0.28;
const SMALLEST_SYMBOLS: f64 = 0.5;

impl<'a> Pen<'a> {
    /// A pen for a view.
    pub fn new(sheet: &'a Sheet, view: View, shapes: &'a mut Vec<Shape>) -> Self {
        Self { sheet, view, pane: sheet.pane(view), mirrored: false, ahead: 0.0, shapes }
    }

    /// The same for a right corner that is told by its mirror image.
    #[must_use]
    pub fn mirrored(self) -> Self {
        Self { mirrored: true, ..self }
    }

    /// The same for what is described so many mm behind where it is drawn.
    #[must_use]
    pub fn moved_ahead(self, by: f64) -> Self {
        Self { ahead: by, ..self }
    }

    /// The view it draws in.
    #[must_use]
    pub fn view(&self) -> View {
        self.view
    }

    /// Where a point stands, in pixels.
    #[must_use]
    pub fn at(&self, p: &Vec3) -> [f64; 2] {
        let y = if self.mirrored { -p.y } else { p.y };
        self.sheet.project(self.view, &Vec3::new(p.x + self.ahead, y, p.z))
    }

    /// Whether it draws a right corner by its mirror image.
    #[must_use]
    pub fn is_mirrored(&self) -> bool {
        self.mirrored
    }

    /// Where a point of the ground stands, in pixels.
    #[must_use]
    pub fn at_ground(&self, p: &Vec3) -> [f64; 2] {
        self.sheet.project_ground(self.view, p)
    }

    /// How large letters are, as the sheet says.
    #[must_use]
    pub fn letters(&self) -> f64 {
        self.sheet.letters()
    }

    /// How the body stands over the ground.
    #[must_use]
    pub fn stance(&self) -> &Stance {
        self.sheet.stance()
    }

    /// Whether a point stands in the view's pane.
    #[must_use]
    pub fn shows(&self, p: &Vec3) -> bool {
        self.pane.holds(self.at(p))
    }

    /// A straight line, cut at the pane.
    pub fn line(&mut self, class: &'static str, a: &Vec3, b: &Vec3) {
        let (a, b) = (self.at(a), self.at(b));
        self.pixel_line(class, a, b);
    }

    /// A straight line between pixels, cut at the pane.
    pub fn pixel_line(&mut self, class: &'static str, a: [f64; 2], b: [f64; 2]) {
        if let Some((a, b)) = self.pane.clip(a, b) {
            self.shapes.push(Shape::Line { class, points: vec![a, b], closed: false });
        }
    }

    /// Points joined by lines; dropped where they leave the pane altogether. The view's
    /// group in the page is cut at the pane, so that nothing shows beyond.
    pub fn path(&mut self, class: &'static str, points: &[Vec3], closed: bool) {
        let points: Vec<[f64; 2]> = points.iter().map(|p| self.at(p)).collect();
        self.pixel_path(class, points, closed);
    }

    /// The same with pixels.
    pub fn pixel_path(&mut self, class: &'static str, points: Vec<[f64; 2]>, closed: bool) {
        if points.len() > 1 && points.iter().flatten().all(|value| value.is_finite()) {
            self.shapes.push(Shape::Line { class, points, closed });
        }
    }

    /// The outline of a cloud of points: its convex hull in the view.
    pub fn hull(&mut self, class: &'static str, points: &[Vec3]) {
        let points = convex_hull(points.iter().map(|p| self.at(p)).collect());
        self.pixel_path(class, points, true);
    }

    /// A circle of a fixed size in pixels.
    pub fn circle(&mut self, class: &'static str, p: &Vec3, radius: f64) {
        self.pixel_circle(class, self.at(p), radius);
    }

    /// The same at a pixel.
    pub fn pixel_circle(&mut self, class: &'static str, at: [f64; 2], radius: f64) {
        if self.pane.holds(at) {
            self.shapes.push(Shape::Circle { class, at, radius });
        }
    }

    /// A text at a point, moved by pixels.
    pub fn text(&mut self, class: &'static str, p: &Vec3, shift: [f64; 2], anchor: Anchor, text: String) {
        let [x, y] = self.at(p);
        if self.pane.holds([x, y]) {
            self.pixel_note(class, [x, y], [x + shift[0], y + shift[1]], anchor, text);
        }
    }

    /// A text beside a point, on the side where the pane has room for it.
    pub fn note(&mut self, class: &'static str, p: &Vec3, [right, down]: [f64; 2], text: String) {
        let [x, y] = self.at(p);
        if !self.pane.holds([x, y]) {
            return;
        }
        let width = self.sheet.letters() * width_of(&text);
        let left = if x + right + width < self.pane.right { x + right } else { x - right - width };
        self.pixel_note(class, [x, y], [self.inside(left, width), y + down], Anchor::Start, text);
    }

    /// A text over or under a point, kept inside the pane.
    pub fn heading(&mut self, class: &'static str, p: &Vec3, down: f64, text: String) {
        let [x, y] = self.at(p);
        let width = self.sheet.letters() * width_of(&text);
        if self.pane.holds([x, y]) {
            let middle = self.inside(x - width / 2.0, width) + width / 2.0;
            self.pixel_text(class, [middle, y + down], Anchor::Middle, text);
        }
    }

    /// Where a text of a width begins so that it stands in the pane.
    fn inside(&self, left: f64, width: f64) -> f64 {
        left.min(self.pane.right - width - 4.0).max(self.pane.left + 4.0)
    }

    /// A text at a pixel.
    pub fn pixel_text(&mut self, class: &'static str, at: [f64; 2], anchor: Anchor, text: String) {
        self.shapes.push(Shape::Text { class, at, text, anchor, of: None });
    }

    /// A text at a pixel that belongs to what is at another; not written where that is out of sight.
    pub fn pixel_note(
        &mut self,
        class: &'static str,
        of: [f64; 2],
        at: [f64; 2],
        anchor: Anchor,
        text: String,
    ) {
        if self.pane.holds(of) {
            self.shapes.push(Shape::Text { class, at, text, anchor, of: Some(of) });
        }
    }

    /// The pane's rectangle.
    #[must_use]
    pub fn pane(&self) -> Rectangle {
        self.pane
    }

    /// Pixels per mm.
    #[must_use]
    pub fn scale(&self) -> f64 {
        self.sheet.scale()
    }

    /// How large the symbols of joints are, which have one size but where so small is drawn that they would hide what
    /// they are of.
    #[must_use]
    pub fn symbols(&self) -> f64 {
        (self.scale() / WHOLE_SYMBOLS).clamp(SMALLEST_SYMBOLS, 1.0)
    }
}

/// The convex hull, counter-clockwise (Andrew's monotone chain, Inf. Proc. Letters 9, 1979).
#[must_use]
pub fn convex_hull(mut points: Vec<[f64; 2]>) -> Vec<[f64; 2]> {
    points.sort_unstable_by(|a, b| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])));
    points.dedup();
    if points.len() < 3 {
        return points;
    }
    let turn =
        |o: [f64; 2], a: [f64; 2], b: [f64; 2]| (a[0] - o[0]) * (b[1] - o[1]) - (a[1] - o[1]) * (b[0] - o[0]);
    let mut hull: Vec<[f64; 2]> = Vec::with_capacity(2 * points.len());
    let mut chain = |points: &mut dyn Iterator<Item = [f64; 2]>| {
        let start = hull.len();
        for p in points {
            while hull.len() >= start + 2 && turn(hull[hull.len() - 2], hull[hull.len() - 1], p) <= 0.0 {
                hull.pop();
            }
            hull.push(p);
        }
        hull.pop();
    };
    chain(&mut points.iter().copied());
    chain(&mut points.iter().rev().copied());
    hull
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_hull_of_a_square_with_a_point_inside_is_the_square() {
        let hull = convex_hull(vec![[0.0, 0.0], [2.0, 0.0], [1.0, 1.0], [2.0, 2.0], [0.0, 2.0]]);
        assert_eq!(hull, [[0.0, 0.0], [2.0, 0.0], [2.0, 2.0], [0.0, 2.0]]);
    }
}
