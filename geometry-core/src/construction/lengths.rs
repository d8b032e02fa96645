//! Spring and damper: their lines, and the levers that make a ratio of them.

use super::{
    Method,
    element::{Basis, Member, Role},
    geometry::Straight,
    sheet::{Case, SPACE, Sheet},
};
use crate::{Vec3, carried::Length, float::norm, setup::KNUCKLE};

/// The line between both ends.
pub(super) fn length(sheet: &mut Sheet, member: Member, length: &Length) {
    let ends = [length.body, length.carried];
    sheet.segment(Role::SpringLine, Basis::Corner, SPACE, &[member], ends);
    sheet.length(Role::SpringLine, Basis::Exact, SPACE, ends, length.length);
}

/// The levers by which the wheel moves the spring: what its carrier turns about, against the
/// spring's line and against the carrier's joint. The shortcut takes the travel motion about
/// the classical instant axis, and a point on a link to move with its share of the joint's
/// motion.
pub(super) fn ratio(
    sheet: &mut Sheet,
    case: &Case<'_>,
    (member, on): (Member, &str),
    spring: &Length,
) -> Option<(Method, f64)> {
    length(sheet, member, spring);
    let line = Straight::through(&spring.body, &spring.carried)?;
    let lever = |sheet: &mut Sheet, basis, axis: &Straight| {
        if let Some(nearest) = axis.nearest(&line) {
            let ends = [nearest.on_first, nearest.on_second];
            sheet.length(Role::SpringLever, basis, SPACE, ends, nearest.distance);
        }
    };
    let corner = case.place.corner;
    let velocity = if let Some((i, arm)) = corner.arms.iter().enumerate().find(|(_, arm)| arm.id == on) {
        let pivots = Straight::through(&Vec3::from(arm.rear_pivot), &Vec3::from(arm.front_pivot))?;
        let joint = case.place.knuckle(arm.ball_joint);
        let foot = pivots.foot(&joint);
        let members = [Member::Arm(i)];
        sheet.line(Role::PivotAxis, Basis::Corner, SPACE, &members, &pivots);
        sheet.length(Role::WheelLever, Basis::Corner, SPACE, [foot, joint], norm(&(joint - foot)));
        lever(sheet, Basis::Corner, &pivots);
        let across = pivots.direction.cross(&(joint - foot));
        let turning = across.dot(&case.shortcut?.velocity_at(&joint)) / across.norm_squared();
        turning * pivots.direction.cross(&(spring.carried - foot))
    } else if let Some(i) = corner.links.iter().position(|link| link.id == on) {
        let [inboard, outboard] = case.place.link(i)?;
        let along = outboard - inboard;
        let share = along.dot(&(spring.carried - inboard)) / along.norm_squared();
        let members = [Member::Link(i)];
        sheet.segment(Role::LinkLine, Basis::Corner, SPACE, &members, [inboard, outboard]);
        let on_link = inboard + share * along;
        sheet.length(Role::SpringLever, Basis::Corner, SPACE, [inboard, on_link], norm(&(on_link - inboard)));
        sheet.length(Role::WheelLever, Basis::Corner, SPACE, [inboard, outboard], norm(&along));
        share * case.shortcut?.velocity_at(&outboard)
    } else if on == KNUCKLE
        || corner.strut.as_ref().is_some_and(|strut| strut.id == on)
        || corner.hinge.as_ref().is_some_and(|hinge| hinge.id == on)
    {
        if let Some(axis) = case.scheme.as_ref().and_then(super::Scheme::instant_axis) {
            let foot = axis.foot(&case.centre);
            sheet.axis(Role::InstantAxis, Basis::Shortcut, &Straight { point: foot, ..axis }, 0.0);
            let reach = norm(&(case.centre - foot));
            sheet.length(Role::WheelLever, Basis::Shortcut, SPACE, [foot, case.centre], reach);
            lever(sheet, Basis::Shortcut, &axis);
        }
        case.shortcut?.velocity_at(&spring.carried)
    } else {
        // Carried by what this shortcut knows nothing of.
        return None;
    };
    let value = -line.direction.dot(&velocity);
    value.is_finite().then_some((Method::Levers, value))
}
