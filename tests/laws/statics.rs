//! Work of the members' forces is work of the load.
//!
//! The other way to the core's motions: equilibrium. The forces in the members are solved
//! from the joints' places alone, six equations in six unknowns, and must be what the
//! twists say by virtual work. Nothing of the core is used on the statics' side but where
//! the joints are.

use geometry_core::{
    Vec3,
    carried::Length,
    linkage::Linkage,
    readings::steering_twist,
    screw::{Twist, Wrench},
    setup::{Corner, KNUCKLE, RACK_DIRECTION, Side},
    solve::Position,
};
use nalgebra::{Matrix6, Vector6};
use proptest::{array::uniform6, prelude::*};

use crate::{
    checking::{MOTION, at, close, for_all, linkage, solved},
    corners::{ALL, Drawn, drawn},
};

/// Force and moment about the origin (over 1000 mm, so that all six are of one size) of a
/// unit force.
pub(crate) fn unit_force(point: &Vec3, direction: &Vec3) -> Vector6<f64> {
    let moment = point.cross(direction) / 1000.0;
    Vector6::new(direction.x, direction.y, direction.z, moment.x, moment.y, moment.z)
}

/// The lines along which the members hold the knuckle, but those of `without`; the tie rod
/// first, when there is one, with how far its inboard end moves along it per mm of rack.
pub(crate) struct Holding {
    pub(crate) lines: Vec<Vector6<f64>>,
    pub(crate) tie_rod: Option<f64>,
}

impl Holding {
    pub(crate) fn of(corner: &Corner, linkage: &Linkage, position: &Position, without: &str) -> Self {
        let carry = |point| position.carry(linkage, &at(point));
        let rack = at(corner.rack_direction.unwrap_or(RACK_DIRECTION)).normalize();
        let mut holding = Self { lines: Vec::new(), tie_rod: None };
        for link in &corner.links {
            let outboard = carry(link.outboard);
            let inboard = at(link.inboard) + f64::from(link.steers) * position.state().rack * rack;
            let along = (outboard - inboard).normalize();
            if link.steers {
                holding.tie_rod = Some(along.dot(&rack));
                holding.lines.insert(0, unit_force(&outboard, &along));
            } else {
                holding.lines.push(unit_force(&outboard, &along));
            }
        }
        for arm in corner.arms.iter().filter(|arm| arm.id != without) {
            let joint = carry(arm.ball_joint);
            for pivot in [arm.front_pivot, arm.rear_pivot] {
                holding.lines.push(unit_force(&joint, &(joint - at(pivot)).normalize()));
            }
        }
        if let Some(strut) = &corner.strut {
            // A sliding fit gives no force along the strut, any across it.
            let (top, lower) = (at(strut.top_mount), carry(strut.lower_end));
            let along = (top - lower).normalize();
            for across in [along.cross(&Vec3::x()).normalize(), along.cross(&Vec3::y()).normalize()] {
                holding.lines.push(unit_force(&top, &across));
            }
        }
        if let Some(hinge) = &corner.hinge {
            let [first, second] = hinge.pivots.map(at);
            for direction in [Vec3::x(), Vec3::y(), Vec3::z()] {
                holding.lines.push(unit_force(&first, &direction));
            }
            let along = (second - first).normalize();
            let across = along.cross(&Vec3::x()).normalize();
            holding.lines.push(unit_force(&second, &across));
            holding.lines.push(unit_force(&second, &along.cross(&across)));
        }
        holding
    }

    /// Sizes of the forces along the lines, and then along `more`, that balance a load.
    pub(crate) fn balance(&self, more: &[Vector6<f64>], load: &Wrench) -> Vector6<f64> {
        let columns: Vec<_> = self.lines.iter().chain(more).copied().collect();
        assert_eq!(columns.len(), 6, "six unknowns");
        let moment = load.moment / 1000.0;
        let load = Vector6::new(load.force.x, load.force.y, load.force.z, moment.x, moment.y, moment.z);
        let solution = Matrix6::from_columns(&columns).full_piv_lu().solve(&-load);
        solution.expect("a corner in its working range is held")
    }
}

/// Forces along the members' lines with the wheel on its spring, and the spring's, each body
/// cut free: the spring stands on the knuckle or on an arm. Where it is on an arm, the lines
/// are without that arm's, and the last three forces are its force on the knuckle.
pub(crate) fn free_bodies(
    corner: &Corner,
    linkage: &Linkage,
    position: &Position,
    spring: &Length,
    load: &Wrench,
) -> (Holding, Vector6<f64>, f64) {
    let push = (spring.carried - spring.body).normalize();
    let on = corner.spring.as_ref().map(|spring| spring.on.clone()).unwrap_or_default();
    if let Some(arm) = corner.arms.iter().find(|arm| arm.id == on) {
        // The arm pushes the knuckle any way at its ball joint; about its axis the
        // knuckle's push back and the spring's balance.
        let holding = Holding::of(corner, linkage, position, &arm.id);
        let joint = position.carry(linkage, &at(arm.ball_joint));
        let at_joint = [Vec3::x(), Vec3::y(), Vec3::z()].map(|direction| unit_force(&joint, &direction));
        let forces = holding.balance(&at_joint, load);
        let on_knuckle = Vec3::new(forces[3], forces[4], forces[5]);
        let pivot = at(arm.front_pivot);
        let axis = (pivot - at(arm.rear_pivot)).normalize();
        let moment = |point: &Vec3, force: &Vec3| axis.dot(&(point - pivot).cross(force));
        let spring_force = moment(&joint, &on_knuckle) / moment(&spring.carried, &push);
        (holding, forces, spring_force)
    } else {
        let holding = Holding::of(corner, linkage, position, "");
        let forces = holding.balance(&[unit_force(&spring.carried, &push)], load);
        (holding, forces, forces[5])
    }
}

/// What the two ways may differ by: that share of the load's greatest possible power to
/// which motions are known, and the rounding of forces of some kN.
pub(crate) fn allowed(load: &Wrench, motion: &Twist) -> f64 {
    MOTION * (load.force.norm() * motion.linear.norm() + load.moment.norm() * motion.angular.norm()) + 1e-9
}

/// A force of up to a few kN and a moment of up to a few kN·m about the wheel centre.
fn load(numbers: [f64; 6], about: &Vec3) -> Wrench {
    let [a, b, c, d, e, f] = numbers.map(|number| 4000.0 * number);
    let moment = 300.0 * Vec3::new(d, e, f);
    let force = Wrench::at_point(about, Vec3::new(a, b, c));
    force.plus(&Wrench { force: Vec3::zeros(), moment })
}

fn cases() -> impl Strategy<Value = (Drawn, [f64; 6])> {
    (drawn(&ALL), uniform6(-1.0..1.0_f64))
}

/// With the wheel centre on a vertical support: the support's force is the load's power on
/// the travel motion, the tie rod's its power on the rack motion over the rack's part
/// along the rod.
#[test]
fn forces_from_equilibrium_are_powers_on_the_motions() {
    for_all(400, &cases(), |(case, numbers)| {
        let linkage = linkage(&case.corner, Side::Left);
        let position = solved(&linkage, case.state);
        let centre = position.wheel_centre();
        let load = load(numbers, &centre);
        let holding = Holding::of(&case.corner, &linkage, &position, "");
        let forces = holding.balance(&[unit_force(&centre, &Vec3::z())], &load);
        let travel = position.travel_twist();
        close("support", forces[5], -travel.power(&load), allowed(&load, &travel));
        let rack = position.rack_twist();
        match holding.tie_rod {
            Some(along) => close("tie rod", forces[0] * along, -rack.power(&load), allowed(&load, &rack)),
            None => assert_eq!(rack, Twist::ZERO),
        }
    });
}

/// With the wheel on its spring, where a force at the wheel reaches the tie rod by the
/// steering motion's moment arms: the reason for the definition of the steering axis.
#[test]
fn with_the_spring_in_place_forces_reach_the_tie_rod_by_the_steering_motion() {
    for_all(400, &cases(), |(mut case, numbers)| {
        // A point on a two-ended link would bend it; the definition then counts the link's
        // turning only. Springs there are put on the knuckle.
        if case.corner.links.iter().any(|link| Some(&link.id) == case.corner.spring.as_ref().map(|s| &s.on)) {
            case.corner.spring.as_mut().expect("a spring is drawn").on = KNUCKLE.into();
        }
        let linkage = linkage(&case.corner, Side::Left);
        let position = solved(&linkage, case.state);
        let load = load(numbers, &position.wheel_centre());
        let spring = linkage.spring_at(&position).expect("a spring is drawn");
        let (holding, forces, spring_force) = free_bodies(&case.corner, &linkage, &position, &spring, &load);
        let travel = position.travel_twist();
        // The spring pushes down as the wheel shortens it: ratio times force is the power.
        close("spring", spring_force * spring.per_travel, travel.power(&load), allowed(&load, &travel));
        let steering = steering_twist(&linkage, &position);
        match (holding.tie_rod, steering) {
            (Some(along), Some(steering)) => {
                close("tie rod", forces[0] * along, -steering.power(&load), allowed(&load, &steering));
            }
            (None, None) => {}
            (_, steering) => panic!("a tie rod and no steering motion, or the reverse: {steering:?}"),
        }
    });
}
