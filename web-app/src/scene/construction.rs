//! What the readings are found by: centres, the lines to them, the steering axis.
//!
//! What lies outside a view's pane is a labelled arrow at its edge with the distance.

use geometry_core::{Vec3, axle::AxleReadings, readings::Readings};

use super::{Anchor, Pen, both};
use crate::{
    units::Unit,
    view::{Rectangle, View},
};

/// Pixels: in a narrower pane a far centre is told by its distance alone.
const ROOM_FOR_NAMES: f64 = 300.0;

/// Pixels: in a narrower pane no name and number stand in one line.
const ROOM_FOR_ONE: f64 = 160.0;

fn width(pen: &Pen) -> f64 {
    let pane = pen.pane();
    pane.right - pane.left
}

/// The constructions of one view.
pub fn draw(pen: &mut Pen, readings: &Readings) {
    draw_of_axle(pen, readings, None);
}

/// The same where both wheels say where the roll centre is.
pub fn draw_of_axle(pen: &mut Pen, readings: &Readings, axle: Option<&AxleReadings>) {
    let contact = axle.map_or(readings.contact, |axle| axle.left.contact);
    let contact = Vec3::from(contact);
    match pen.view() {
        View::Front => match axle {
            Some(axle) => both::roll_centre(pen, axle, "roll centre"),
            None => front(pen, readings, &contact),
        },
        View::Side => side(pen, readings, &contact, "side-view centre"),
        View::Plan => {}
    }
    steering_axis(pen, readings, &Vec3::from(readings.contact));
    pen.circle("contact", &contact, 3.0);
}

fn front(pen: &mut Pen, readings: &Readings, contact: &Vec3) {
    if let Some([y, z]) = readings.front_view_centre {
        let centre = Vec3::new(contact.x, y, z);
        centre_with_line(pen, "front-centre", contact, &centre, "front-view centre");
    }
    if let Some(height) = readings.roll_centre_height {
        let point = Vec3::new(contact.x, 0.0, contact.z + height);
        // The line from the contact through the centre plane, where both sides' lines meet.
        pen.line("to-centre front-centre", contact, &point);
        pen.circle("mark front-centre", &point, 5.0);
        let height = Unit::Millimetre.show(height);
        let text = if width(pen) > ROOM_FOR_ONE { format!("roll centre, {height}") } else { height };
        pen.text("note front-centre", &point, [10.0, -8.0], Anchor::Start, text);
    }
}

pub(super) fn side(pen: &mut Pen, readings: &Readings, contact: &Vec3, name: &str) {
    if let Some([x, z]) = readings.side_view_centre {
        let centre = Vec3::new(x, contact.y, z);
        centre_with_line(pen, "side-centre", contact, &centre, name);
        pen.line("to-centre side-centre", &Vec3::from(readings.wheel_centre), &centre);
    }
}

/// A centre with the line to it; at the pane's edge an arrow when it lies beyond.
fn centre_with_line(pen: &mut Pen, which: &'static str, contact: &Vec3, centre: &Vec3, name: &str) {
    let (line, mark, note) = match which {
        "side-centre" => ("to-centre side-centre", "mark side-centre", "note side-centre"),
        _ => ("to-centre front-centre", "mark front-centre", "note front-centre"),
    };
    pen.line(line, contact, centre);
    if pen.shows(centre) {
        pen.circle(mark, centre, 5.0);
        pen.text(note, centre, [10.0, -8.0], Anchor::Start, name.into());
        return;
    }
    if let Some(EdgeNote { of, at, anchor, text }) = edge_arrow(pen, mark, contact, centre, name) {
        pen.pixel_note(note, of, at, anchor, text);
    }
}

/// What is written at an arrow to what lies beyond the pane; places in pixels.
pub(super) struct EdgeNote {
    /// The arrow.
    pub(super) of: [f64; 2],
    /// Where the text asks to stand.
    pub(super) at: [f64; 2],
    /// Which end of it stands there.
    pub(super) anchor: Anchor,
    /// The words.
    pub(super) text: String,
}

/// An arrow at the pane's edge towards a point beyond it; gives what to write there.
pub(super) fn edge_arrow(
    pen: &mut Pen,
    class: &'static str,
    contact: &Vec3,
    far: &Vec3,
    name: &str,
) -> Option<EdgeNote> {
    let (from, to) = (pen.at(contact), pen.at(far));
    let pane = pen.pane();
    let room = Rectangle {
        left: pane.left + 10.0,
        top: pane.top + 40.0,
        right: pane.right - 10.0,
        bottom: pane.bottom - 10.0,
    };
    let (_, edge) = room.clip(from, to)?;
    let (dx, dy) = (to[0] - from[0], to[1] - from[1]);
    let length = dx.hypot(dy).max(1e-9);
    let (ux, uy) = (dx / length, dy / length);
    let wing = |side: f64| [edge[0] - 11.0 * ux - side * 4.5 * uy, edge[1] - 11.0 * uy + side * 4.5 * ux];
    pen.pixel_path(class, vec![edge, wing(1.0), wing(-1.0)], true);
    let distance = Unit::Distance.show((far - contact).norm());
    let text = if width(pen) > ROOM_FOR_NAMES { format!("{name}, {distance} away") } else { distance };
    let (anchor, shift) = if ux < 0.0 { (Anchor::Start, 6.0) } else { (Anchor::End, -6.0) };
    // Two lines above the arrow: the roll centre's own note may stand in the first.
    Some(EdgeNote { of: edge, at: [edge[0] + shift, edge[1] - 30.0], anchor, text })
}

/// The steering axis from the ground to well above the hub, its foot and its distance
/// from the contact.
fn steering_axis(pen: &mut Pen, readings: &Readings, contact: &Vec3) {
    let Some(steering) = &readings.steering else { return };
    let (foot, up) = (Vec3::from(steering.point), Vec3::from(steering.direction));
    let hub_height = readings.wheel_centre[2] - readings.contact[2];
    let reach = 2.1 * hub_height / up.z.max(0.2);
    pen.line("steering-axis", &(foot - 0.15 * reach * up), &(foot + reach * up));
    pen.line("offset", &foot, contact);
    pen.circle("mark steering", &foot, 4.0);
    if pen.view() == View::Front && width(pen) > ROOM_FOR_ONE {
        // Below the ground, where nothing else is drawn.
        let below = foot - 0.07 * reach * up;
        pen.text("note steering", &below, [-8.0, 4.0], Anchor::End, "steering axis".into());
    }
}
