//! The corner itself: members, knuckle, spring, damper, joints, ground; the wheel and what
//! turns about axes of the body are in files of their own.

use geometry_core::{
    Vec3,
    setup::{Corner, Holder},
};

use super::{Pen, Placed, levers, wheel};
use crate::{edit::PointPath, view::View};

/// mm: a point of the anti-roll bar's axis this near the centre plane is the bar's middle,
/// where nothing holds it to the body.
const AT_THE_MIDDLE: f64 = 1.0;

/// mm: beyond the edge of any sheet.
const BEYOND_THE_SHEET: f64 = 1e5;

/// Ground, centre plane and everything the corner is made of, in one view.
pub fn draw(pen: &mut Pen, corner: &Corner, placed: &Placed) {
    datum(pen, placed);
    draw_corner(pen, corner, placed);
}

/// Everything the corner is made of, in one view, without what it is measured from.
pub fn draw_corner(pen: &mut Pen, corner: &Corner, placed: &Placed) {
    wheel::draw(pen, corner, placed);
    knuckle(pen, placed);
    members(pen, corner, placed);
    levers::draw(pen, corner, placed);
    telescopes(pen, placed);
    joints(pen, placed);
}

/// Members and knuckle alone, in one view: enough to tell where they are.
pub fn draw_members(pen: &mut Pen, corner: &Corner, placed: &Placed) {
    knuckle(pen, placed);
    members(pen, corner, placed);
}

/// What the corner is made of, without ground, knuckle and ground symbols: for a second
/// corner beneath the first.
pub fn draw_beneath(pen: &mut Pen, corner: &Corner, placed: &Placed) {
    wheel::draw(pen, corner, placed);
    members(pen, corner, placed);
    levers::draw(pen, corner, placed);
    telescopes(pen, placed);
    for (path, point) in placed.points() {
        if *path != PointPath::WheelCentre {
            pen.circle("joint", point, 2.6 * pen.symbols());
        }
    }
}

/// Ground line and centre plane: the two planes everything is measured from. The centre plane
/// leans with the body.
fn datum(pen: &mut Pen, placed: &Placed) {
    let pane = pen.pane();
    let origin = pen.at_ground(&Vec3::zeros());
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
    if pen.view() == View::Front && !pen.stance().is_upright() {
        let far = Vec3::new(0.0, 0.0, BEYOND_THE_SHEET);
        pen.line("centre-line", &far, &-far);
    } else if matches!(pen.view(), View::Front | View::Plan) {
        pen.pixel_line("centre-line", [origin[0], pane.top], [origin[0], pane.bottom]);
    }
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
    let size = pen.symbols();
    for (path, point) in placed.points() {
        match path {
            PointPath::WheelCentre => {}
            PointPath::BarAxis(_) if point.y.abs() < AT_THE_MIDDLE => pen.circle("joint", point, 3.2 * size),
            _ if path.holder() == Holder::Body => {
                if pen.shows(point) {
                    let [x, y] = pen.at(point);
                    let at = |right: f64, down: f64| [x + size * right, y + size * down];
                    pen.pixel_path("pivot", vec![[x, y], at(-6.0, 9.0), at(6.0, 9.0)], true);
                    pen.pixel_line("pivot-ground", at(-9.0, 9.0), at(9.0, 9.0));
                    for i in 0..4 {
                        let foot = -7.0 + f64::from(i) * 5.0;
                        pen.pixel_line("hatch", at(foot, 9.0), at(foot - 3.5, 13.0));
                    }
                    pen.circle("joint", point, 3.2 * size);
                }
            }
            _ => pen.circle("joint", point, 4.2 * size),
        }
    }
}
