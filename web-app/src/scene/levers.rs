//! What turns about an axis of the body, led by a rod: the rocker, and the anti-roll bar's
//! half with its drop link.

use geometry_core::{Vec3, setup::Corner};

use super::{Pen, Placed};
use crate::edit::{Part, PointPath};

/// mm: how far a centre line reaches beyond the part it belongs to.
const BEYOND: f64 = 18.0;

/// Rocker and anti-roll bar of a corner, in one view.
pub(super) fn draw(pen: &mut Pen, corner: &Corner, placed: &Placed) {
    anti_roll_bar(pen, placed);
    rocker(pen, corner, placed);
}

/// A centre line through two points and a little beyond.
fn axis(pen: &mut Pen, a: &Vec3, b: &Vec3) {
    let along = b - a;
    let length = along.norm();
    if length > 0.0 {
        let beyond = BEYOND / length * along;
        pen.line("centre-line", &(a - beyond), &(b + beyond));
    }
}

/// The rocker as the outline of all that stands on it, and its rod.
fn rocker(pen: &mut Pen, corner: &Corner, placed: &Placed) {
    let Some(rocker) = &corner.rocker else { return };
    let (Some(first), Some(second)) =
        (placed.at(PointPath::RockerAxis(0)), placed.at(PointPath::RockerAxis(1)))
    else {
        return;
    };
    axis(pen, &first, &second);
    let Some(rod_end) = placed.at(PointPath::RockerRodEnd) else { return };
    let standing = [
        (Part::Spring, PointPath::SpringCarried),
        (Part::Damper, PointPath::DamperCarried),
        (Part::AntiRollBar, PointPath::BarCarried),
    ];
    let standing = standing
        .into_iter()
        .filter(|(part, _)| part.carrier(corner) == Some(&*rocker.id))
        .filter_map(|(_, path)| placed.at(path));
    let outline: Vec<Vec3> = [first, second, rod_end].into_iter().chain(standing).collect();
    pen.hull("rocker", &outline);
    if let Some(carried) = placed.at(PointPath::RockerCarried) {
        pen.line("rod", &rod_end, &carried);
    }
}

/// The bar along its axis, its arm from the nearer of the two points, and the drop link.
fn anti_roll_bar(pen: &mut Pen, placed: &Placed) {
    let (Some(first), Some(second)) = (placed.at(PointPath::BarAxis(0)), placed.at(PointPath::BarAxis(1)))
    else {
        return;
    };
    axis(pen, &first, &second);
    pen.line("bar", &first, &second);
    let Some(arm_end) = placed.at(PointPath::BarArmEnd) else { return };
    let from = if (first - arm_end).norm() <= (second - arm_end).norm() { first } else { second };
    pen.line("bar", &from, &arm_end);
    if let Some(carried) = placed.at(PointPath::BarCarried) {
        pen.line("rod", &arm_end, &carried);
    }
}
