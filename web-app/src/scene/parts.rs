//! The corner itself: wheel, members, knuckle, spring, damper, joints, ground.

use geometry_core::{Vec3, setup::Corner, tyre::Size};

use super::{Pen, Placed, placed::Holder};
use crate::{edit::PointPath, view::View};

/// Points around a circle; smooth at any zoom the sheet allows.
const ROUND: usize = 64;

/// Ground, centre plane and everything the corner is made of, in one view.
pub fn draw(pen: &mut Pen, corner: &Corner, placed: &Placed) {
    datum(pen, placed);
    wheel(pen, corner, placed);
    knuckle(pen, placed);
    members(pen, corner, placed);
    telescopes(pen, placed);
    joints(pen, placed);
}

/// Ground line and centre plane: the two planes everything is measured from.
fn datum(pen: &mut Pen, placed: &Placed) {
    let pane = pen.pane();
    let origin = pen.at(&Vec3::zeros());
    match pen.view() {
        View::Front | View::Side => {
            let y = origin[1];
            pen.pixel_line("ground", [pane.left, y], [pane.right, y]);
            // Hatch under the ground (ISO 128-3): a few strokes at the wheel.
            let Some(centre) = placed.at(PointPath::WheelCentre) else { return };
            let x = pen.at(&centre)[0];
            for i in -6..=6 {
                let foot = x + f64::from(i) * 9.0;
                pen.pixel_line("hatch", [foot, y], [foot - 6.0, y + 6.0]);
            }
        }
        View::Plan => {}
    }
    if matches!(pen.view(), View::Front | View::Plan) {
        pen.pixel_line("centre-line", [origin[0], pane.top], [origin[0], pane.bottom]);
    }
}

/// A circle about the spin axis, `offset` mm outboard of the wheel centre.
fn ring(centre: &Vec3, spin: &Vec3, offset: f64, radius: f64) -> Vec<Vec3> {
    // Any two directions square to the axis; the first is nearly horizontal.
    let across = spin.cross(&Vec3::z());
    let across = if across.norm() > 1e-6 { across.normalize() } else { Vec3::x() };
    let up = across.cross(spin);
    let middle = centre + offset * spin;
    #[expect(clippy::cast_precision_loss, reason = "a handful of points")]
    let at = |i: usize| {
        let (sine, cosine) = (std::f64::consts::TAU * i as f64 / ROUND as f64).sin_cos();
        middle + radius * (cosine * across + sine * up)
    };
    (0..ROUND).map(at).collect()
}

/// Section width and rim radius, mm: by the tyre's size where its text is one that can
/// stand on this wheel, else a tyre's usual shares of the radius.
fn tyre_size(corner: &Corner) -> (f64, f64) {
    let radius = corner.wheel.loaded_radius;
    let size = corner.wheel.tyre.as_deref().and_then(Size::read);
    match size.filter(|size| size.rim_diameter / 2.0 < 0.95 * radius) {
        Some(size) => (size.section_width, size.rim_diameter / 2.0),
        None => (0.68 * radius, 0.7 * radius),
    }
}

fn wheel(pen: &mut Pen, corner: &Corner, placed: &Placed) {
    let Some(centre) = placed.at(PointPath::WheelCentre) else { return };
    let (spin, radius) = (placed.spin(), placed.radius());
    let (width, rim) = tyre_size(corner);
    let half = width / 2.0;
    let rings: Vec<Vec3> =
        [(-0.78, 1.0), (0.78, 1.0), (-0.97, 0.95), (0.97, 0.95), (-1.0, 0.87), (1.0, 0.87)]
            .into_iter()
            .flat_map(|(across, around)| ring(&centre, &spin, across * half, around * radius))
            .collect();
    pen.hull("tyre", &rings);
    for side in [-0.9, 0.9] {
        pen.path("rim", &ring(&centre, &spin, side * half, rim), true);
    }
    // The brake disc stands inboard of the hub face; half the rim's room, for orientation only.
    pen.path("disc", &ring(&centre, &spin, -0.1 * half, 0.74 * rim), true);
    let reach = half + 40.0;
    pen.line("centre-line", &(centre - reach * spin), &(centre + reach * spin));
    if pen.view() == View::Side {
        for direction in [Vec3::x(), Vec3::z()] {
            let reach = radius + 25.0;
            pen.line("centre-line", &(centre - reach * direction), &(centre + reach * direction));
        }
    }
    pen.circle("hub", &centre, 2.5);
}

fn knuckle(pen: &mut Pen, placed: &Placed) {
    let points: Vec<Vec3> = placed
        .points()
        .iter()
        .filter(|(path, _)| path.holder() == Holder::Knuckle)
        .map(|(_, point)| *point)
        .collect();
    pen.hull("knuckle", &points);
}

fn members(pen: &mut Pen, corner: &Corner, placed: &Placed) {
    let mut join = |class, a: PointPath, b: PointPath| {
        if let (Some(a), Some(b)) = (placed.at(a), placed.at(b)) {
            pen.line(class, &a, &b);
        }
    };
    for i in 0..corner.arms.len() {
        join("centre-line", PointPath::ArmFrontPivot(i), PointPath::ArmRearPivot(i));
        join("member", PointPath::ArmFrontPivot(i), PointPath::ArmBallJoint(i));
        join("member", PointPath::ArmRearPivot(i), PointPath::ArmBallJoint(i));
    }
    for (i, link) in corner.links.iter().enumerate() {
        let class = if link.steers { "member steers" } else { "member" };
        join(class, PointPath::LinkInboard(i), PointPath::LinkOutboard(i));
    }
    if corner.strut.is_some() {
        join("tube", PointPath::StrutTopMount, PointPath::StrutLowerEnd);
        join("member", PointPath::StrutTopMount, PointPath::StrutLowerEnd);
    }
    if corner.hinge.is_some() {
        join("centre-line", PointPath::HingePivot(0), PointPath::HingePivot(1));
        join("member", PointPath::HingePivot(0), PointPath::WheelCentre);
        join("member", PointPath::HingePivot(1), PointPath::WheelCentre);
    }
}

/// Spring as a zigzag, damper as a tube with its rod (ISO 2162 and common practice).
fn telescopes(pen: &mut Pen, placed: &Placed) {
    if let (Some(body), Some(carried)) =
        (placed.at(PointPath::SpringBody), placed.at(PointPath::SpringCarried))
    {
        let (a, b) = (pen.at(&body), pen.at(&carried));
        let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
        let length = dx.hypot(dy);
        let width = (24.0 * pen.scale()).max(4.0).min(length);
        if length > 1.0 {
            let (nx, ny) = (-dy / length * width, dx / length * width);
            let mut points = vec![a];
            for i in 0..=11_u8 {
                let along = 0.12 + 0.76 * f64::from(i) / 11.0;
                let side = match i {
                    0 | 11 => 0.0,
                    _ if i % 2 == 1 => 1.0,
                    _ => -1.0,
                };
                points.push([a[0] + along * dx + side * nx, a[1] + along * dy + side * ny]);
            }
            points.push(b);
            pen.pixel_path("spring", points, false);
        }
    }
    if let (Some(body), Some(carried)) =
        (placed.at(PointPath::DamperBody), placed.at(PointPath::DamperCarried))
    {
        pen.line("damper", &body, &carried);
        let middle = body + 0.55 * (carried - body);
        pen.line("tube", &middle, &carried);
    }
}

/// Body pivots with the ground symbol, knuckle joints as open circles (ISO 3952-1).
fn joints(pen: &mut Pen, placed: &Placed) {
    for (path, point) in placed.points() {
        match path {
            PointPath::WheelCentre => {}
            _ if path.holder() == Holder::Body => {
                let [x, y] = pen.at(point);
                if pen.shows(point) {
                    pen.pixel_path("pivot", vec![[x, y], [x - 6.0, y + 9.0], [x + 6.0, y + 9.0]], true);
                    pen.pixel_line("pivot-ground", [x - 9.0, y + 9.0], [x + 9.0, y + 9.0]);
                    for i in 0..4 {
                        let foot = x - 7.0 + f64::from(i) * 5.0;
                        pen.pixel_line("hatch", [foot, y + 9.0], [foot - 3.5, y + 13.0]);
                    }
                    pen.circle("joint", point, 3.2);
                }
            }
            _ => pen.circle("joint", point, 4.2),
        }
    }
}
