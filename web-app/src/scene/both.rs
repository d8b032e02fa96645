//! The right corner beside the left one, and the roll centre where both wheels say it is.

use geometry_core::{Vec3, axle::AxleReadings, setup::Corner};

use super::{
    Pen, Placed,
    construction::{EdgeNote, edge_arrow},
    parts,
};
use crate::{edit::PointPath, numbers::shows_zero, units::Unit, view::View};

/// Pixels: in a narrower pane the roll centre has its name alone.
const ROOM_FOR_NUMBERS: f64 = 330.0;
/// mm: a longer distance is told in metres.
const LONG: f64 = 2000.0;

/// The right corner, told by its mirror image, and both wheels' names. In the view from the
/// left it stands behind the left one.
pub fn draw_right(pen: &mut Pen, corner: &Corner, mirrored: &Placed) {
    if pen.view() != View::Side {
        parts::draw_corner(pen, corner, mirrored);
        name(pen, mirrored, "right wheel");
    }
}

/// A wheel's name over its tyre; in plan before it.
pub fn name(pen: &mut Pen, placed: &Placed, name: &str) {
    let Some(centre) = placed.at(PointPath::WheelCentre).filter(|_| pen.view() != View::Side) else { return };
    let (beyond, down) = match pen.view() {
        View::Plan => (Vec3::new(placed.radius(), 0.0, 0.0), 20.0),
        _ => (Vec3::new(0.0, 0.0, placed.radius()), -12.0),
    };
    pen.heading("note wheel-name", &(centre + beyond), down, name.into());
}

/// The lines through both contacts to the point where they meet. Where that lies beyond the
/// pane, the lines still point to it, and an arrow tells how far it is. `name` is what it is called there.
pub fn roll_centre(pen: &mut Pen, readings: &AxleReadings, name: &str) {
    let [left, right] = [&readings.left, &readings.right].map(|wheel| Vec3::from(wheel.contact));
    pen.circle("contact", &right, 3.0);
    let Some(found) = readings.roll_centre else { return };
    let [y, z] = found.body;
    let centre = Vec3::new(left.x, y, z);
    for contact in [left, right] {
        pen.line("to-centre front-centre", &contact, &centre);
    }
    let mut text = String::from(name);
    if pen.pane().right - pen.pane().left > ROOM_FOR_NUMBERS {
        let far = |value: f64, plus, minus| match (length(value), value > 0.0) {
            (None, _) => String::new(),
            (Some(far), true) => format!(", {far} {plus}"),
            (Some(far), false) => format!(", {far} {minus}"),
        };
        text += &far(found.height, "up", "down");
        text += &far(found.across, "to the left", "to the right");
    }
    if pen.shows(&centre) {
        pen.circle("mark front-centre", &centre, 5.0);
        pen.note("note front-centre", &centre, [10.0, -10.0], text);
    } else if let Some(EdgeNote { of, at, anchor, .. }) =
        edge_arrow(pen, "mark front-centre", &left, &centre, name)
    {
        pen.pixel_note("note front-centre", of, at, anchor, text);
    }
}

/// A distance in mm or inches or, where it is long, in m or feet; none where it is shown as zero.
fn length(value: f64) -> Option<String> {
    let size = value.abs();
    if size > LONG {
        return Some(Unit::Distance.show(size));
    }
    let text = Unit::Millimetre.show(size);
    (!shows_zero(&text)).then_some(text)
}
