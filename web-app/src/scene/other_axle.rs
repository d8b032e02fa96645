//! The other axle's corner beside the one shown, and the car's centre of gravity.

use geometry_core::{
    Vec3,
    readings::Readings,
    setup::{Axle, Corner},
};

use super::{Anchor, Pen, Placed, Shape, construction, parts};
use crate::{
    edit::PointPath,
    units::Unit,
    view::{Sheet, View},
};

/// Pixels: the radius of the sign for a centre of gravity.
const SIGN: f64 = 7.0;
/// Pixels: in a narrower pane it has no name.
const ROOM_FOR_NAMES: f64 = 330.0;
/// Straight pieces of a quarter of a circle.
const PIECES: u8 = 5;

/// The other axle as it is drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct OtherAxle {
    /// Which it is.
    pub axle: Axle,
    /// Its left corner, or what is shown in the left one's place.
    pub left: (Corner, Placed),
    /// Its right corner in its mirror image, where both wheels are shown.
    pub right: Option<(Corner, Placed)>,
    /// What the left corner says; none where it cannot be assembled or does not come along.
    pub readings: Option<Readings>,
    /// mm forward from where it is described to where it is drawn.
    pub ahead: f64,
}

/// The other axle in one view; `lines` says whether those to its side-view centre are drawn. In the front view it would stand in line with the one shown
/// and is left away.
pub fn draw(sheet: &Sheet, view: View, shapes: &mut Vec<Shape>, other: &OtherAxle, lines: bool) {
    if view == View::Front {
        return;
    }
    let (corner, placed) = &other.left;
    let mut pen = Pen::new(sheet, view, shapes).moved_ahead(other.ahead);
    parts::draw_corner(&mut pen, corner, placed);
    name(&mut pen, other.axle, placed, other.right.is_some());
    if let Some(readings) = other.readings.as_ref().filter(|_| lines && view == View::Side) {
        let name = match other.axle {
            Axle::Front => "front side-view centre",
            Axle::Rear => "rear side-view centre",
        };
        construction::side(&mut pen, readings, &Vec3::from(readings.contact), name);
    }
    if let Some((corner, placed)) = other.right.as_ref().filter(|_| view == View::Plan) {
        let mut pen = Pen::new(sheet, view, shapes).moved_ahead(other.ahead).mirrored();
        parts::draw_corner(&mut pen, corner, placed);
    }
}

/// Which axle's wheel it is, over its tyre in the view from the left; in plan only where no
/// other name stands at the wheel.
pub fn name(pen: &mut Pen, axle: Axle, placed: &Placed, both_wheels: bool) {
    let Some(centre) = placed.at(PointPath::WheelCentre) else { return };
    let name = match axle {
        Axle::Front => "front wheel",
        Axle::Rear => "rear wheel",
    };
    match pen.view() {
        View::Side => {
            let top = centre + Vec3::new(0.0, 0.0, placed.radius());
            pen.heading("note wheel-name", &top, -12.0, name.into());
        }
        View::Plan if !both_wheels => {
            let before = centre + Vec3::new(placed.radius(), 0.0, 0.0);
            pen.heading("note wheel-name", &before, 20.0, name.into());
        }
        _ => {}
    }
}

/// The sign for a centre of gravity, a circle with two of its quarters filled (common
/// practice in car drawings, no source), and its height.
pub fn centre_of_gravity(pen: &mut Pen, point: &Vec3) {
    if !pen.shows(point) {
        return;
    }
    let [x, y] = pen.at(point);
    for begin in [0.0, std::f64::consts::PI] {
        let mut quarter = vec![[x, y]];
        for piece in 0..=PIECES {
            let angle = begin + std::f64::consts::FRAC_PI_2 * f64::from(piece) / f64::from(PIECES);
            quarter.push([x + SIGN * angle.cos(), y - SIGN * angle.sin()]);
        }
        pen.pixel_path("gravity-quarter", quarter, true);
    }
    pen.circle("gravity", point, SIGN);
    if pen.view() == View::Side && pen.pane().right - pen.pane().left > ROOM_FOR_NAMES {
        let height = Unit::Millimetre.here().rough(pen.stance().place(point).z);
        let text = format!("centre of gravity, {height} up");
        pen.pixel_note("note gravity-name", [x, y], [x + SIGN + 4.0, y - SIGN], Anchor::Start, text);
    }
}
