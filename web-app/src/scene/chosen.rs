//! The construction of the reading that was chosen → shapes.
//!
//! Line types after ISO 128, so that colour is never needed to tell them apart: what is
//! given and what is exact thin and solid, the shortcut dashed, axes long-dash-dot,
//! dimensions with a tick at each end. What lies outside a view's pane is an arrow at its
//! edge with the distance.

use geometry_core::{
    Vec3,
    construction::{self, Basis, Construction, Element, Role},
    readings::Quantity,
    setup::Point,
};

use super::{
    Anchor, Pen,
    construction::{EdgeNote, edge_arrow},
};
use crate::{
    describe::{self, finding},
    units::Unit,
    view::View,
};

/// Pixels: far longer than any screen, so that a line without ends reaches both edges.
const BEYOND: f64 = 1e5;
/// Pixels from an angle's apex to its arc; the shortcut's stands inside the exact one's.
const ARC: [f64; 3] = [170.0, 170.0, 130.0];

/// Classes of a kind of shape, for what is given, exact and the shortcut's.
type Classes = [&'static str; 3];
const LINE: Classes = ["found given", "found exact", "found shortcut"];
const AXIS: Classes = ["found given axis", "found exact axis", "found shortcut axis"];
const PLANE: Classes = ["found given plane", "found exact plane", "found shortcut plane"];
const MEASURE: Classes = ["found given measure", "found exact measure", "found shortcut measure"];
const MARK: Classes = ["found given mark", "found exact mark", "found shortcut mark"];
const NOTE: Classes = ["found given note", "found exact note", "found shortcut note"];

/// What stands beside the legend's lines; labels leave it alone.
const LEGEND: Classes = ["found given note legend", "found exact note legend", "found shortcut note legend"];

/// What is written once all lines are drawn.
struct Note {
    class: &'static str,
    /// What it belongs to, in pixels.
    of: Option<[f64; 2]>,
    at: [f64; 2],
    anchor: Anchor,
    text: String,
}

/// Draws a construction in one view. Distances to what is far are told from the contact.
pub fn draw(pen: &mut Pen, construction: &Construction, contact: &Vec3) {
    let view = match pen.view() {
        View::Front => construction::View::Front,
        View::Side => construction::View::Side,
        View::Plan => construction::View::Plan,
    };
    let mut notes = Vec::new();
    if pen.view() == View::Front {
        legend(pen, construction, &mut notes);
    }
    for element in construction.elements.iter().filter(|element| element.views.contains(&view)) {
        draw_element(pen, element, construction.quantity, contact, &mut notes);
    }
    pen.circle("contact", contact, 3.0);
    for Note { class, of, at, anchor, text } in notes {
        match of {
            Some(of) => pen.pixel_note(class, of, at, anchor, text),
            None => pen.pixel_text(class, at, anchor, text),
        }
    }
}

fn index(basis: Basis) -> usize {
    match basis {
        Basis::Corner => 0,
        Basis::Exact => 1,
        Basis::Shortcut => 2,
    }
}

/// Both values beside their line types, under the view's name.
fn legend(pen: &mut Pen, construction: &Construction, notes: &mut Vec<Note>) {
    let (pane, letters) = (pen.pane(), pen.letters());
    let mut line = |row: f64, basis: usize, text: String| {
        let (left, y) = (pane.left + 14.0, pane.top + 22.0 + (14.0 + 17.0 * row) * letters);
        pen.pixel_line(LINE[basis], [left, y], [left + 30.0, y]);
        let at = [left + 36.0, y + 4.0];
        notes.push(Note { class: LEGEND[basis], of: None, at, anchor: Anchor::Start, text });
    };
    let value = |value| finding::fine(construction.quantity, value);
    line(0.0, 1, format!("exact {}", value(construction.value)));
    if let Some(shortcut) = &construction.shortcut {
        line(1.0, 2, format!("shortcut {}", value(shortcut.value)));
    }
}

fn draw_element(pen: &mut Pen, element: &Element, quantity: Quantity, contact: &Vec3, notes: &mut Vec<Note>) {
    let basis = index(element.basis);
    let mut note = |of: [f64; 2], at: [f64; 2], anchor, text: String| {
        notes.push(Note { class: NOTE[basis], of: Some(of), at, anchor, text });
    };
    match &element.shape {
        construction::Shape::Point(at) => {
            let at = Vec3::from(*at);
            let name = finding::role(element.role);
            if pen.shows(&at) {
                let [x, y] = pen.at(&at);
                mark(pen, element.basis, [x, y]);
                // The shortcut's mark has its line type, its place and the legend.
                if let Some(name) = name.filter(|_| element.basis != Basis::Shortcut) {
                    note([x, y], [x + 10.0, y - 8.0], Anchor::Start, name.into());
                }
            } else if let Some(name) = name
                && let Some(EdgeNote { of, at, anchor, text }) =
                    edge_arrow(pen, MARK[basis], contact, &at, name)
                && element.basis != Basis::Shortcut
            {
                note(of, at, anchor, text);
            }
        }
        construction::Shape::Segment { from, to } => {
            pen.line(LINE[basis], &Vec3::from(*from), &Vec3::from(*to));
        }
        construction::Shape::Line { point, direction } => {
            endless(pen, LINE[basis], point, direction);
            if element.role == Role::FullSlope {
                let far = Vec3::from(*point) + 200.0 * upward(direction);
                if pen.shows(&far) {
                    note(pen.at(&far), pen.at(&far), Anchor::Start, "100 %".into());
                }
            }
        }
        construction::Shape::Axis { point, direction, pitch } => {
            endless(pen, AXIS[basis], point, direction);
            let foot = Vec3::from(*point);
            if element.basis == Basis::Exact
                && pen.view() == View::Front
                && pen.shows(&foot)
                && let Some(name) = finding::role(element.role)
            {
                let [x, y] = pen.at(&foot);
                let text = match quantity {
                    Quantity::ScrewPitch => format!("{name}, {}", describe::value(quantity, *pitch)),
                    _ => name.into(),
                };
                note([x, y], [x - 8.0, y + 18.0], Anchor::End, text);
            }
        }
        construction::Shape::Plane { corners, .. } => {
            let corners: Vec<Vec3> = corners.iter().map(|corner| Vec3::from(*corner)).collect();
            pen.path(PLANE[basis], &corners, true);
        }
        construction::Shape::Dimension { from, to, value, unit } => {
            let (from, to) = (pen.at(&Vec3::from(*from)), pen.at(&Vec3::from(*to)));
            let length = (to[0] - from[0]).hypot(to[1] - from[1]);
            if length < 0.5 {
                return;
            }
            // A tick across each end.
            let [across, along] = [0, 1].map(|i| 4.0 * (to[i] - from[i]) / length);
            for [x, y] in [from, to] {
                if pen.pane().holds([x, y]) {
                    let tick = [[x - along, y + across], [x + along, y - across]];
                    pen.pixel_line(LINE[basis], tick[0], tick[1]);
                }
            }
            if let Some((a, b)) = pen.pane().clip(from, to) {
                pen.pixel_line(MEASURE[basis], a, b);
                let text = describe::unit_of(*unit).show(*value);
                let [x, y] = [0, 1].map(|i| f64::midpoint(a[i], b[i]));
                note([x, y], [x + 7.0, y - 5.0], Anchor::Start, text);
            }
        }
        construction::Shape::Angle { apex, from, to, value } => {
            let apex = pen.at(&Vec3::from(*apex));
            let reach = ARC[basis].min(0.4 * (pen.pane().bottom - pen.pane().top));
            let legs = [from, to].map(|leg| pixel_direction(pen, leg));
            let [Some(first), Some(second)] = legs else { return };
            let out = |leg: [f64; 2], by: f64| [apex[0] + by * leg[0], apex[1] + by * leg[1]];
            for leg in [first, second] {
                pen.pixel_line(LINE[basis], apex, out(leg, 1.15 * reach));
            }
            let (begin, turn) = (
                first[1].atan2(first[0]),
                (first[0] * second[1] - first[1] * second[0])
                    .atan2(first[0] * second[0] + first[1] * second[1]),
            );
            let arc = (0..=12).map(|i| {
                let angle = begin + turn * f64::from(i) / 12.0;
                out([angle.cos(), angle.sin()], reach)
            });
            pen.pixel_path(MEASURE[basis], arc.collect(), false);
            let [x, y] = out(first, reach);
            note([x, y], [x + 8.0, y - 6.0], Anchor::Start, Unit::Degree.show(*value));
        }
    }
}

/// A direction, turned so that it does not point down.
fn upward(direction: &Point) -> Vec3 {
    let direction = Vec3::from(*direction);
    if direction.z < 0.0 { -direction } else { direction }
}

/// A direction as seen in the view, in pixels, of length one; none where it is seen end on.
fn pixel_direction(pen: &Pen, direction: &Point) -> Option<[f64; 2]> {
    let (origin, end) = (pen.at(&Vec3::zeros()), pen.at(&Vec3::from(*direction)));
    let (dx, dy) = ((end[0] - origin[0]) / pen.scale(), (end[1] - origin[1]) / pen.scale());
    let length = dx.hypot(dy);
    (length > 1e-3).then(|| [dx / length, dy / length])
}

/// A line without ends, from edge to edge of the pane.
fn endless(pen: &mut Pen, class: &'static str, point: &Point, direction: &Point) {
    let Some([dx, dy]) = pixel_direction(pen, direction) else { return };
    let [x, y] = pen.at(&Vec3::from(*point));
    pen.pixel_line(class, [x - BEYOND * dx, y - BEYOND * dy], [x + BEYOND * dx, y + BEYOND * dy]);
}

/// A point: a ring where it is exact, a lozenge where it is the shortcut's.
fn mark(pen: &mut Pen, basis: Basis, [x, y]: [f64; 2]) {
    let class = MARK[index(basis)];
    if basis == Basis::Shortcut {
        let corners = vec![[x - 6.0, y], [x, y - 6.0], [x + 6.0, y], [x, y + 6.0]];
        pen.pixel_path(class, corners, true);
    } else {
        pen.pixel_circle(class, [x, y], if basis == Basis::Exact { 4.0 } else { 3.0 });
    }
}
