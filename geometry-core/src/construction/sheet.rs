//! What every construction starts from, and the list it is drawn on.

use alloc::vec::Vec;

use super::{
    element::{Basis, Element, Member, Role, Shape},
    geometry::{Plane, Straight, View},
    holds::{Place, Scheme},
};
use crate::{
    Vec3,
    float::sqrt,
    linkage::Linkage,
    readings::{Readings, quantity::Unit, spin_axis},
    screw::Twist,
    setup::Corner,
    solve::Position,
};

pub(super) const FRONT: &[View] = &[View::Front];
pub(super) const SIDE: &[View] = &[View::Side];
pub(super) const PLAN: &[View] = &[View::Plan];
pub(super) const FRONT_AND_PLAN: &[View] = &[View::Front, View::Plan];
pub(super) const SIDE_AND_PLAN: &[View] = &[View::Side, View::Plan];
pub(super) const SPACE: &[View] = &View::ALL;

/// A view as the list of views of an element that only it shows.
pub(super) fn only(view: View) -> &'static [View] {
    match view {
        View::Front => FRONT,
        View::Side => SIDE,
        View::Plan => PLAN,
    }
}

/// One corner in one position, with all that several constructions ask for.
pub(super) struct Case<'a> {
    pub(super) place: Place<'a>,
    pub(super) readings: &'a Readings,
    pub(super) outboard: f64,
    pub(super) centre: Vec3,
    pub(super) contact: Vec3,
    pub(super) spin: Vec3,
    pub(super) travel: Twist,
    pub(super) scheme: Option<Scheme>,
    /// The travel motion by the shortcut.
    pub(super) shortcut: Option<Twist>,
}

impl<'a> Case<'a> {
    pub(super) fn new(
        corner: &'a Corner,
        linkage: &'a Linkage,
        position: &'a Position,
        readings: &'a Readings,
    ) -> Self {
        let centre = position.wheel_centre();
        let scheme = Scheme::of(corner, linkage, position);
        Self {
            place: Place { corner, linkage, position },
            readings,
            outboard: linkage.side.outboard(),
            centre,
            contact: Vec3::from(readings.contact),
            spin: spin_axis(linkage, position),
            travel: position.travel_twist(),
            shortcut: scheme.as_ref().and_then(|scheme| scheme.motion(&centre)),
            scheme,
        }
    }

    /// Horizontal unit vectors: the wheel's outboard direction and its heading.
    pub(super) fn across_and_heading(&self) -> [Vec3; 2] {
        let size = sqrt(self.spin.x * self.spin.x + self.spin.y * self.spin.y);
        let across = Vec3::new(self.spin.x / size, self.spin.y / size, 0.0);
        [across, Vec3::new(self.outboard * across.y, -self.outboard * across.x, 0.0)]
    }

    /// The plane through the wheel centre that a view shows.
    pub(super) fn section(&self, view: View) -> Plane {
        Plane { point: self.centre, normal: view.depth() }
    }

    /// A point brought into that plane, where the textbook draws it.
    pub(super) fn in_section(&self, view: View, point: &Vec3) -> Vec3 {
        let depth = view.depth();
        view.seen(point) + depth.dot(&self.centre) * depth
    }

    /// The centre in a view by the shortcut.
    pub(super) fn shortcut_centre(&self, view: View) -> Option<Vec3> {
        self.scheme.as_ref()?.instant_axis()?.meet(&self.section(view))
    }

    /// The centre in a view, front or side.
    pub(super) fn exact_centre(&self, view: View) -> Option<Vec3> {
        match view {
            View::Front => self.readings.front_view_centre.map(|[y, z]| Vec3::new(self.centre.x, y, z)),
            View::Side => self.readings.side_view_centre.map(|[x, z]| Vec3::new(x, self.centre.y, z)),
            View::Plan => None,
        }
    }
}

/// The elements of a construction, in the order in which they are drawn.
#[derive(Default)]
pub(super) struct Sheet {
    pub(super) elements: Vec<Element>,
}

impl Sheet {
    /// Adds an element; one that has a number in it which is none is left out.
    pub(super) fn add(
        &mut self,
        role: Role,
        basis: Basis,
        views: &'static [View],
        members: &[Member],
        shape: Shape,
    ) {
        if shape.numbers().all(f64::is_finite) {
            self.elements.push(Element { role, shape, basis, views, members: members.into() });
        }
    }

    pub(super) fn point(&mut self, role: Role, basis: Basis, views: &'static [View], at: &Vec3) {
        self.add(role, basis, views, &[], Shape::Point((*at).into()));
    }

    pub(super) fn segment(
        &mut self,
        role: Role,
        basis: Basis,
        views: &'static [View],
        members: &[Member],
        [from, to]: [Vec3; 2],
    ) {
        self.add(role, basis, views, members, Shape::Segment { from: from.into(), to: to.into() });
    }

    pub(super) fn line(
        &mut self,
        role: Role,
        basis: Basis,
        views: &'static [View],
        members: &[Member],
        line: &Straight,
    ) {
        let shape = Shape::Line { point: line.point.into(), direction: line.direction.into() };
        self.add(role, basis, views, members, shape);
    }

    /// From a point to where it leads, or on and on where that is at infinity.
    pub(super) fn line_to(
        &mut self,
        role: Role,
        basis: Basis,
        views: &'static [View],
        members: &[Member],
        (line, end): (&Straight, Option<Vec3>),
    ) {
        match end {
            Some(end) => self.segment(role, basis, views, members, [line.point, end]),
            None => self.line(role, basis, views, members, line),
        }
    }

    pub(super) fn axis(&mut self, role: Role, basis: Basis, line: &Straight, pitch: f64) {
        let shape = Shape::Axis { point: line.point.into(), direction: line.direction.into(), pitch };
        self.add(role, basis, SPACE, &[], shape);
    }

    /// A measure in mm.
    pub(super) fn length(
        &mut self,
        role: Role,
        basis: Basis,
        views: &'static [View],
        [from, to]: [Vec3; 2],
        value: f64,
    ) {
        let shape = Shape::Dimension { from: from.into(), to: to.into(), value, unit: Unit::Millimetre };
        self.add(role, basis, views, &[], shape);
    }

    pub(super) fn angle(&mut self, basis: Basis, view: View, apex: &Vec3, [from, to]: [Vec3; 2], value: f64) {
        let shape = Shape::Angle { apex: (*apex).into(), from: from.into(), to: to.into(), value };
        self.add(Role::Inclination, basis, only(view), &[], shape);
    }
}
