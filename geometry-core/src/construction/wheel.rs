//! How the wheel stands and where it has gone: camber, toe, shifts of contact and hub.

use core::f64::consts::PI;

use super::{
    Method,
    element::{Basis, Role, Shape},
    geometry::{Straight, View},
    sheet::{Case, FRONT, PLAN, SIDE, SPACE, Sheet},
};
use crate::{
    Vec3,
    float::{atan2, norm},
    readings::{contact, spin_axis},
    solve::Follower,
};

const DEGREES: f64 = 180.0 / PI;

/// The wheel's plane, square to its spin axis, and its upward direction in that plane.
fn wheel_plane(sheet: &mut Sheet, case: &Case<'_>) -> Vec3 {
    let radius = case.centre - case.contact;
    let up = radius / norm(&radius);
    let forward = norm(&radius) * case.spin.cross(&up);
    let corners = [radius + forward, radius - forward, -radius - forward, forward - radius];
    let shape = Shape::Plane {
        point: case.centre.into(),
        normal: case.spin.into(),
        corners: corners.iter().map(|corner| (case.centre + corner).into()).collect(),
    };
    sheet.add(Role::WheelPlane, Basis::Corner, SPACE, &[], shape);
    let spin = Straight { point: case.centre, direction: case.spin };
    sheet.line(Role::SpinAxis, Basis::Corner, SPACE, &[], &spin);
    sheet.point(Role::WheelCentre, Basis::Corner, SPACE, &case.centre);
    sheet.point(Role::Contact, Basis::Corner, SPACE, &case.contact);
    up
}

/// Camber: the wheel plane's own inclination; seen from the front, its cut's.
pub(super) fn camber(sheet: &mut Sheet, case: &Case<'_>, value: f64) -> Option<(Method, f64)> {
    let up = wheel_plane(sheet, case);
    sheet.angle(Basis::Exact, View::Front, &case.contact, [Vec3::z(), up], value);
    // The wheel plane cut by the plane x = constant: square to the spin axis and to x.
    let cut = Vec3::x().cross(&case.spin);
    let cut = if cut.z < 0.0 { -cut } else { cut };
    let size = norm(&cut);
    let seen = atan2(-case.spin.z, (case.outboard * case.spin.y).abs()) * DEGREES;
    if size == 0.0 || !seen.is_finite() {
        return None;
    }
    sheet.angle(Basis::Shortcut, View::Front, &case.contact, [Vec3::z(), cut / size], seen);
    Some((Method::SeenFromFront, seen))
}

/// Toe: the heading against the car's length.
pub(super) fn toe(sheet: &mut Sheet, case: &Case<'_>, value: f64) {
    wheel_plane(sheet, case);
    let [_, heading] = case.across_and_heading();
    let line = Straight { point: case.contact, direction: heading };
    sheet.line(Role::Heading, Basis::Corner, PLAN, &[], &line);
    sheet.angle(Basis::Exact, View::Plan, &case.contact, [Vec3::x(), heading], value);
}

/// Contact as described and now, measured across.
pub(super) fn half_track_change(sheet: &mut Sheet, case: &Case<'_>, value: f64) {
    let linkage = case.place.linkage;
    let design = *Follower::new(linkage).position();
    let old = contact(linkage, &design, &spin_axis(linkage, &design));
    sheet.point(Role::ContactAtDesign, Basis::Exact, SPACE, &old);
    sheet.point(Role::Contact, Basis::Exact, SPACE, &case.contact);
    let end = Vec3::new(old.x, case.contact.y, old.z);
    sheet.length(Role::Shift, Basis::Exact, FRONT, [old, end], value);
}

/// Wheel centre as described and now, measured along.
pub(super) fn wheelbase_change(sheet: &mut Sheet, case: &Case<'_>, value: f64) {
    let old = case.place.linkage.wheel_centre;
    sheet.point(Role::WheelCentreAtDesign, Basis::Exact, SPACE, &old);
    sheet.point(Role::WheelCentre, Basis::Exact, SPACE, &case.centre);
    let end = Vec3::new(case.centre.x, old.y, old.z);
    sheet.length(Role::Shift, Basis::Exact, SIDE, [old, end], value);
}
