//! What is read off the steering axis: exact, and through the joints of both holds.

use super::{
    Method,
    element::{Basis, Role},
    geometry::{Straight, View},
    holds::Kind,
    motion::made_of,
    sheet::{Case, FRONT_AND_PLAN, PLAN, SIDE_AND_PLAN, SPACE, Sheet},
};
use crate::{
    Vec3,
    float::norm,
    readings::{Quantity, Readings, Steering},
    screw::Twist,
};

/// The steering readings of the line through both joints, read as those of the exact axis.
pub(super) fn of_joints(case: &Case<'_>) -> Option<Steering> {
    let line = case.scheme.as_ref()?.joint_line()?;
    let turning = Twist::about(&line.point, &line.direction, 0.0);
    Steering::read(&turning, &case.contact, &case.centre, &case.spin, case.outboard)
}

/// The axes, exact and through the joints, with what the measure needs of each.
pub(super) fn axes(sheet: &mut Sheet, case: &Case<'_>, quantity: Quantity) -> Option<(Method, f64)> {
    let exact = case.readings.steering.as_ref()?;
    sheet.point(Role::Contact, Basis::Corner, SPACE, &case.contact);
    sheet.point(Role::WheelCentre, Basis::Corner, SPACE, &case.centre);
    axis(sheet, case, Basis::Exact, exact, quantity);
    let scheme = case.scheme.as_ref()?;
    for hold in scheme.holds() {
        made_of(sheet, hold);
        let Kind::Pair { pivot: Some(pivot), .. } = &hold.kind else { continue };
        for over in [&pivot.plan.on_first, &pivot.plan.on_second] {
            sheet.point(Role::OverVirtualPivot, Basis::Corner, SPACE, over);
        }
        let ends = [pivot.nearest.on_first, pivot.nearest.on_second];
        for end in &ends {
            sheet.point(Role::NearestPoint, Basis::Corner, SPACE, end);
        }
        sheet.length(Role::Gap, Basis::Corner, SPACE, ends, pivot.nearest.distance);
        let offset = pivot_offset(exact, &pivot.at);
        sheet.length(
            Role::VirtualPivotOffset,
            Basis::Exact,
            PLAN,
            [pivot.at - offset, pivot.at],
            norm(&offset),
        );
    }
    let joints = of_joints(case)?;
    axis(sheet, case, Basis::Shortcut, &joints, quantity);
    let readings = Readings { steering: Some(joints), ..*case.readings };
    Some((Method::JointLine, quantity.value(&readings)?))
}

/// From the steering axis to a point, horizontally, at the point's height, mm: how far a
/// virtual pivot is off the exact axis.
///
/// ```
/// use geometry_core::{Vec3, construction::pivot_offset, readings::Steering};
///
/// let axis = Steering {
///     point: [0.0, 750.0, 0.0],
///     direction: [0.0, -0.28, 0.96],
///     screw_pitch: 0.0,
///     kingpin_inclination: 16.26,
///     caster: 0.0,
///     scrub_radius: 0.0,
///     mechanical_trail: 0.0,
///     hub_offset: 0.0,
///     hub_trail: 0.0,
/// };
/// let offset = pivot_offset(&axis, &Vec3::new(5.0, 695.0, 192.0));
/// assert!((offset - Vec3::new(5.0, 1.0, 0.0)).norm() < 1e-9);
/// ```
#[must_use]
pub fn pivot_offset(axis: &Steering, pivot: &Vec3) -> Vec3 {
    let (point, direction) = (Vec3::from(axis.point), Vec3::from(axis.direction));
    let mut offset = pivot - (point + (pivot.z - point.z) / direction.z * direction);
    offset.z = 0.0;
    offset
}

/// One steering axis, its feet, and the measure that belongs to the quantity.
fn axis(sheet: &mut Sheet, case: &Case<'_>, basis: Basis, steering: &Steering, quantity: Quantity) {
    let (ground, direction) = (Vec3::from(steering.point), Vec3::from(steering.direction));
    let line = Straight { point: ground, direction };
    sheet.axis(Role::SteeringAxis, basis, &line, steering.screw_pitch);
    let hub = ground + (case.centre.z - ground.z) / direction.z * direction;
    sheet.point(Role::GroundFoot, basis, SPACE, &ground);
    sheet.point(Role::HubFoot, basis, SPACE, &hub);
    let [across, heading] = case.across_and_heading();
    let seen = |view: View| {
        let seen = view.seen(&direction);
        seen / norm(&seen)
    };
    // From the foot across to the corner of a right angle, from there along to contact or hub.
    let (foot, offset, trail) = match quantity {
        Quantity::HubOffset | Quantity::HubTrail => (hub, steering.hub_offset, steering.hub_trail),
        _ => (ground, steering.scrub_radius, steering.mechanical_trail),
    };
    let corner = foot + offset * across;
    match quantity {
        Quantity::KingpinInclination => {
            let legs = [Vec3::z(), seen(View::Front)];
            sheet.angle(basis, View::Front, &ground, legs, steering.kingpin_inclination);
        }
        Quantity::Caster => {
            let legs = [Vec3::z(), seen(View::Side)];
            sheet.angle(basis, View::Side, &ground, legs, steering.caster);
        }
        Quantity::ScrubRadius | Quantity::HubOffset => {
            sheet.length(Role::OffsetAcross, basis, FRONT_AND_PLAN, [foot, corner], offset);
        }
        Quantity::MechanicalTrail | Quantity::HubTrail => {
            let along = [corner - trail * heading, corner];
            sheet.length(Role::OffsetAlong, basis, SIDE_AND_PLAN, along, trail);
        }
        // The axis carries its pitch, and no other quantity is read off it.
        _ => {}
    }
}
