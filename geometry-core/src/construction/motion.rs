//! What is read off the travel motion: centres, swing arms, slopes, roll centre, anti.

use core::f64::consts::PI;

use super::{
    Method,
    element::{Basis, Member, Role, Shape},
    geometry::{Straight, View},
    holds::{Hold, Kind, Scheme},
    sheet::{Case, FRONT, SIDE, SPACE, Sheet, only},
};
use crate::{
    Vec3,
    float::norm,
    readings::{Quantity, Readings},
    screw::Twist,
};

const DEGREES: f64 = 180.0 / PI;

/// Which point of the wheel a slope belongs to.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum From {
    Contact,
    Hub,
}

/// How the shortcut finds the travel motion.
fn method(case: &Case<'_>) -> Method {
    match case.scheme {
        Some(Scheme::Hinge { .. }) => Method::HingeAxis,
        _ => Method::HoldPlanes,
    }
}

/// The members' lines in a view through the wheel centre, and the centre in which they meet.
pub(super) fn centre(sheet: &mut Sheet, case: &Case<'_>, view: View) {
    let role = match view {
        View::Side => Role::SideViewCentre,
        View::Front | View::Plan => Role::FrontViewCentre,
    };
    let views = only(view);
    let found = case.shortcut_centre(view);
    match &case.scheme {
        Some(Scheme::Hinge { axis, pivots: [first, second] }) => {
            let members = [Member::Hinge];
            sheet.segment(Role::PivotAxis, Basis::Corner, SPACE, &members, [*first, *second]);
            sheet.line_to(Role::HoldLine, Basis::Shortcut, views, &members, (axis, found));
        }
        Some(scheme @ Scheme::Holds { .. }) => {
            for hold in scheme.holds() {
                made_of(sheet, hold);
                hold_line(sheet, case, hold, view, found);
            }
        }
        None => {}
    }
    if let Some(found) = found {
        sheet.point(role, Basis::Shortcut, views, &found);
    }
    if let Some(exact) = case.exact_centre(view) {
        sheet.point(role, Basis::Exact, views, &exact);
    }
    sheet.point(Role::WheelCentre, Basis::Corner, SPACE, &case.centre);
}

/// A hold's plane, cut by the plane the view shows.
fn hold_line(sheet: &mut Sheet, case: &Case<'_>, hold: &Hold, view: View, end: Option<Vec3>) {
    let Some(trace) = hold.plane.trace(view, &case.centre) else { return };
    let start = trace.foot(&hold.joint.unwrap_or(hold.plane.point));
    let members = hold.members();
    let line = Straight { point: start, ..trace };
    sheet.line_to(Role::HoldLine, Basis::Shortcut, only(view), &members, (&line, end));
    if let Kind::Arm { pivots, .. } = &hold.kind
        && let Some(at) = pivots.meet(&case.section(view))
    {
        sheet.add(Role::PivotInView, Basis::Corner, only(view), &members, Shape::Point(at.into()));
    }
}

/// A hold's own geometry: its joint, its plane and the lines that make it.
pub(super) fn made_of(sheet: &mut Sheet, hold: &Hold) {
    let members = hold.members();
    let mut plane = |role, corners: &[Vec3]| {
        let shape = Shape::Plane {
            point: hold.plane.point.into(),
            normal: hold.plane.normal.into(),
            corners: corners.iter().map(|corner| (*corner).into()).collect(),
        };
        sheet.add(role, Basis::Corner, SPACE, &members, shape);
    };
    match &hold.kind {
        Kind::Arm { pivots, corners, .. } => {
            plane(Role::ArmPlane, corners);
            sheet.line(Role::PivotAxis, Basis::Corner, SPACE, &members, pivots);
        }
        Kind::Pair { links, ends: [[a, b], [c, d]], pivot } => {
            // The ends as they lie in the plane half way between both lines.
            let normal = hold.plane.normal;
            let flat = |end: &Vec3| end - normal.dot(&(end - hold.plane.point)) * normal;
            plane(Role::PairPlane, &[flat(a), flat(b), flat(d), flat(c)]);
            for (link, inboard, outboard, over) in [
                (links[0], a, b, pivot.map(|pivot| pivot.plan.on_first)),
                (links[1], c, d, pivot.map(|pivot| pivot.plan.on_second)),
            ] {
                let member = [Member::Link(link)];
                sheet.segment(
                    Role::LinkLine,
                    Basis::Corner,
                    SPACE,
                    &member,
                    [*inboard, over.unwrap_or(*outboard)],
                );
            }
        }
        Kind::Strut { sliding, ends: [top, lower] } => {
            let [first, second] = square(&sliding.direction);
            let reach = 0.5 * norm(&(top - lower));
            let corners = [first + second, second - first, -first - second, first - second];
            plane(Role::PlaneSquareToStrut, &corners.map(|corner| top + reach * corner));
            sheet.segment(Role::SlidingAxis, Basis::Corner, SPACE, &members, [*lower, *top]);
        }
    }
    if let Some(joint) = hold.joint {
        let role = match hold.kind {
            Kind::Arm { .. } => Role::BallJoint,
            Kind::Pair { .. } => Role::VirtualPivot,
            Kind::Strut { .. } => Role::TopMount,
        };
        sheet.add(role, Basis::Corner, SPACE, &members, Shape::Point(joint.into()));
    }
}

/// Two unit vectors square to a unit vector and to each other.
fn square(axis: &Vec3) -> [Vec3; 2] {
    let least = if axis.x.abs() < 0.5 { Vec3::x() } else { Vec3::y() };
    let first = axis.cross(&least);
    let first = first / norm(&first);
    [first, axis.cross(&first)]
}

/// Swing arm: from the wheel centre across (front) or along (side) to the centre.
pub(super) fn swing_arm(sheet: &mut Sheet, case: &Case<'_>, view: View) -> Option<(Method, f64)> {
    centre(sheet, case, view);
    let mut measure = |basis, at: Vec3| {
        let end = Vec3::new(at.x, at.y, case.centre.z);
        let value = norm(&(end - case.centre));
        sheet.length(Role::SwingArm, basis, only(view), [case.centre, end], value);
        value
    };
    if let Some(exact) = case.exact_centre(view) {
        measure(Basis::Exact, exact);
    }
    let found = case.shortcut_centre(view)?;
    Some((method(case), measure(Basis::Shortcut, found)))
}

/// Camber gain is one over the swing arm, the top leaning towards the centre.
pub(super) fn camber_gain(sheet: &mut Sheet, case: &Case<'_>) -> Option<(Method, f64)> {
    swing_arm(sheet, case, View::Front);
    // At infinity the motion does not turn the wheel; the motion says so, the arm cannot.
    let turning = case.shortcut?.angular.x;
    Some((Method::SwingArm, -case.outboard * turning * DEGREES))
}

/// Toe changes as far as the single link's line misses the instant axis.
pub(super) fn bump_steer(sheet: &mut Sheet, case: &Case<'_>) -> Option<(Method, f64)> {
    if let Some(screw) = case.travel.screw() {
        let line = Straight { point: screw.point, direction: screw.direction };
        let near = Straight { point: line.foot(&case.centre), ..line };
        sheet.axis(Role::InstantAxis, Basis::Exact, &near, screw.pitch);
    }
    let scheme = case.scheme.as_ref()?;
    for hold in scheme.holds() {
        made_of(sheet, hold);
    }
    if let Some(axis) = scheme.instant_axis() {
        let near = Straight { point: axis.foot(&case.centre), ..axis };
        sheet.axis(Role::InstantAxis, Basis::Shortcut, &near, 0.0);
        if let Scheme::Holds { single, .. } = scheme {
            let members = [Member::Link(single.index)];
            let nearest = single.line.nearest(&axis);
            let end = nearest.map(|nearest| nearest.on_first);
            let line = Straight { point: single.ends[1], ..single.line };
            sheet.line_to(Role::LinkLine, Basis::Corner, SPACE, &members, (&line, end));
            if let Some(nearest) = nearest {
                let ends = [nearest.on_first, nearest.on_second];
                for end in &ends {
                    sheet.point(Role::NearestPoint, Basis::Shortcut, SPACE, end);
                }
                sheet.length(Role::Gap, Basis::Shortcut, SPACE, ends, nearest.distance);
            }
        }
    }
    let motion = case.shortcut?;
    let spin = case.spin;
    let rate = motion.angular.cross(&spin);
    let square = spin.x * spin.x + spin.y * spin.y;
    let value = case.outboard * (spin.y * rate.x - spin.x * rate.y) / square * DEGREES;
    Some((method(case), value))
}

/// The point of the wheel that a slope belongs to.
fn start(case: &Case<'_>, from: From) -> (Vec3, Role, Role) {
    match from {
        From::Contact => (case.contact, Role::LineFromContact, Role::Contact),
        From::Hub => (case.centre, Role::LineFromHub, Role::WheelCentre),
    }
}

/// Lines from contact or hub square to its path: they go through the centre.
fn slope_lines(sheet: &mut Sheet, case: &Case<'_>, view: View, from: From) {
    let (point, role, point_role) = start(case, from);
    let views = only(view);
    sheet.point(point_role, Basis::Corner, SPACE, &point);
    let mut draw = |basis, motion: &Twist, at: Vec3, centre: Option<Vec3>| {
        let path = view.seen(&motion.velocity_at(&at));
        let size = norm(&path);
        let path = Straight { point: at, direction: path / size };
        sheet.line(Role::Path, basis, views, &[], &path);
        let square = Straight { point: at, direction: view.depth().cross(&path.direction) };
        // The exact centre stands in the wheel centre's plane; where the contact does not,
        // the line passes it by a little.
        let end = centre.map(|centre| square.foot(&beside(view, &at, &centre)));
        sheet.line_to(role, basis, views, &[], (&square, end));
    };
    draw(Basis::Exact, &case.travel, point, case.exact_centre(view));
    if let Some(motion) = &case.shortcut {
        draw(Basis::Shortcut, motion, case.in_section(view, &point), case.shortcut_centre(view));
    }
}

/// A point brought to another's depth in a view.
fn beside(view: View, at: &Vec3, point: &Vec3) -> Vec3 {
    let depth = view.depth();
    view.seen(point) + depth.dot(at) * depth
}

/// Slope of the path of contact or hub by the shortcut: lengthwise in the side view, across in
/// the front view, per mm of rise. The textbook draws contact and centre in one plane, that
/// through the wheel centre.
pub(super) fn shortcut_slope(case: &Case<'_>, view: View, from: From) -> Option<f64> {
    let (point, ..) = start(case, from);
    let velocity = case.shortcut?.velocity_at(&case.in_section(view, &point));
    let along = if view == View::Front { velocity.y } else { velocity.x };
    let slope = along / velocity.z;
    slope.is_finite().then_some(slope)
}

/// A slope.
pub(super) fn slope(sheet: &mut Sheet, case: &Case<'_>, view: View, from: From) -> Option<(Method, f64)> {
    centre(sheet, case, view);
    slope_lines(sheet, case, view, from);
    Some((method(case), shortcut_slope(case, view, from)?))
}

/// An anti-percentage: the slope, and the slope that would be a hundred per cent.
pub(super) fn anti(sheet: &mut Sheet, case: &Case<'_>, from: From, value: f64) -> Option<(Method, f64)> {
    let (method, found) = slope(sheet, case, View::Side, from)?;
    let exact = match from {
        From::Contact => case.readings.contact_slope_x?,
        From::Hub => case.readings.hub_slope_x,
    };
    // Percentages are slopes times what the vehicle's data make of them. On a slope of zero
    // that factor cannot be told, nor can a hundred per cent be drawn.
    let factor = value / exact;
    if !factor.is_finite() || factor == 0.0 {
        return None;
    }
    let (point, ..) = start(case, from);
    let full = Vec3::new(1.0, 0.0, -100.0 / factor);
    let line = Straight { point, direction: full / norm(&full) };
    sheet.line(Role::FullSlope, Basis::Exact, SIDE, &[], &line);
    Some((method, factor * found))
}

/// Roll centre: where the lines from both contacts meet on the centre plane.
pub(super) fn roll_centre(sheet: &mut Sheet, case: &Case<'_>, value: f64) -> Option<(Method, f64)> {
    centre(sheet, case, View::Front);
    slope_lines(sheet, case, View::Front, From::Contact);
    let mut draw = |basis, contact: Vec3, height: f64| {
        let middle = Vec3::new(contact.x, 0.0, contact.z);
        let roll_centre = Vec3::new(contact.x, 0.0, contact.z + height);
        let mirrored = Vec3::new(contact.x, -contact.y, contact.z);
        sheet.segment(Role::LineFromContact, basis, FRONT, &[], [contact, roll_centre]);
        sheet.segment(Role::MirroredLine, basis, FRONT, &[], [mirrored, roll_centre]);
        sheet.point(Role::RollCentre, basis, FRONT, &roll_centre);
        sheet.length(Role::RollCentreHeight, basis, FRONT, [middle, roll_centre], height);
    };
    draw(Basis::Exact, case.contact, value);
    let height = case.contact.y * shortcut_slope(case, View::Front, From::Contact)?;
    draw(Basis::Shortcut, case.in_section(View::Front, &case.contact), height);
    Some((method(case), height))
}

/// Where an anti-percentage's line starts, and its value.
pub(super) fn anti_of(quantity: Quantity, readings: &Readings) -> Option<(From, f64)> {
    let from = match quantity {
        Quantity::AntiBrakingFriction | Quantity::AntiDrivingHub => From::Contact,
        Quantity::AntiBrakingShaft | Quantity::AntiDrivingShaft => From::Hub,
        _ => return None,
    };
    Some((from, quantity.value(readings)?))
}
