//! Forces in the members for a load at the wheel.
//!
//! The five rows of a [`Linkage`] are lines along which its members push the knuckle. With
//! what carries the wheel's height, the spring or the torsion bar, six unknown forces balance
//! six components of the load: the transpose of the motion's equations (the duality of twists
//! and wrenches; Lynch & Park, *Modern Robotics*, 2017, sec. 3.4; Ball, *A Treatise on the
//! Theory of Screws*, 1900). Then each member is cut free and what holds it on the body is
//! read off its own balance; every body's balance is checked at the end.
//!
//! The corner stands still and the rack is held. The weight of links, knuckle and wheel is not
//! counted, nor friction, nor the stiffness of bushes: joints turn freely.
//!
//! ```
//! use geometry_core::{linkage::Linkage, setup::{example, Axle, Side}, solve::Follower};
//! use geometry_core::statics::{Case, Given, Statics};
//!
//! let document = example();
//! let corner = document.corner(Axle::Front).expect("the example has a front axle");
//! let linkage = Linkage::new(corner, Side::Left).expect("the example can be assembled");
//! let statics = Statics::new(corner, &linkage);
//! let loads = statics.loads(&Case::Standing {}, &document.vehicle, Axle::Front).expect("all is given");
//! let position = *Follower::new(&linkage).position();
//! let forces = statics.forces(&position, &loads, &Given::default()).expect("the corner is held");
//! let ratio = linkage.spring_at(&position).expect("it has a spring").per_travel;
//! // The spring's power is the load's, whose contact rises nearly as the wheel centre does.
//! let standing = document.vehicle.wheel_load(Axle::Front).expect("the mass is given");
//! assert!((forces.spring.expect("it carries") * ratio / standing - 1.0).abs() < 0.1);
//! assert!(forces.imbalance < 1e-12);
//! ```

mod bodies;
mod equilibrium;
mod error;
mod loads;

pub use error::{ForcesError, Missing};
pub use loads::{Case, Load, LoadAxes, LoadPoint, ReactedBy};

use alloc::{string::String, vec::Vec};

use crate::{
    Vec3,
    bounds::{self, BAR_AT_REST, SPRING_AT_REST},
    linkage::Linkage,
    readings::steering_twist,
    screw::{Twist, Wrench},
    setup::{Corner, Drive, Point},
    solve::Position,
};

/// Forces in every member of a corner, N and N·m, components in vehicle axes. Members are in
/// the document's order.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Forces {
    /// What carries the wheel's height.
    pub support: Support,
    /// Force upward at the wheel centre, N, where nothing else carries the wheel's height.
    pub held_at_wheel_centre: Option<f64>,
    /// Triangular arms.
    pub arms: Vec<ArmForces>,
    /// Two-ended links.
    pub links: Vec<LinkForces>,
    /// The strut.
    pub strut: Option<StrutForces>,
    /// The hinge.
    pub hinge: Option<HingeForces>,
    /// The rocker and its rod; `None` as well where the rod does not reach.
    pub rocker: Option<RockerForces>,
    /// Spring force, N, + compression; `None` where it does not carry the wheel.
    pub spring: Option<f64>,
    /// Damper force as given, N, + pushes its ends apart.
    pub damper: Option<f64>,
    /// Moment of the torsion bar on the part that twists it, N·m, right-handed about that
    /// part's axis: an arm's from rear to front pivot, others' from their first point to
    /// their second.
    pub torsion_bar: Option<f64>,
    /// Axial force in the anti-roll bar's drop link, N, + tension.
    pub drop_link: Option<f64>,
    /// What the tie rod pushes the rack with along the rack's direction, N, + in that
    /// direction.
    pub rack: Option<f64>,
    /// Torque of the shaft on the wheel about the spin axis, N·m, + drives forward; 0 where
    /// no load is reacted through a shaft.
    pub shaft_torque: f64,
    /// How far from balance the free bodies are: the largest remainder over knuckle, members,
    /// rocker, bar and the corner as a whole, relative to the largest force (moments over
    /// 256 mm). Rounding alone, some 1e-15.
    pub imbalance: f64,
}

/// What carries the wheel's height.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "snake_case"))]
pub enum Support {
    /// The spring. Beside it a torsion bar has the moment given.
    Spring,
    /// The torsion bar, where there is no spring that carries.
    TorsionBar,
    /// A vertical force at the wheel centre in their place: the corner has neither, or
    /// neither moves with the wheel here, or its rod does not reach.
    WheelCentre,
}

/// An arm's forces, N.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct ArmForces {
    /// The arm's name.
    pub id: String,
    /// On the knuckle at the ball joint.
    pub on_knuckle: Point,
    /// On the body: front pivot, then rear pivot.
    pub on_body: PivotForces,
}

/// What a part that turns on two pivots pushes the body with, N.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct PivotForces {
    /// At the first pivot, square to the axis.
    pub first: Point,
    /// At the second pivot, square to the axis.
    pub second: Point,
    /// Along the axis, both pivots together: how they share it depends on their play and
    /// stiffness, not on the geometry.
    pub along: Point,
}

/// A two-ended link's forces, N.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct LinkForces {
    /// The link's name.
    pub id: String,
    /// Whether it is the tie rod, whose inboard end the rack holds.
    pub steers: bool,
    /// Axial force at the outboard end, + tension; all along the link where nothing stands
    /// on it.
    pub axial: f64,
    /// Axial force at the inboard end, + tension.
    pub axial_inboard: f64,
    /// On the knuckle at the outboard joint.
    pub on_knuckle: Point,
    /// On the body, or on the rack, at the inboard joint.
    pub on_body: Point,
    /// On the body at the inboard joint, N·m: what keeps the link from spinning about its own
    /// line under a spring or rod whose line of force passes beside it. None where nothing
    /// stands on the link.
    pub moment_on_body: Point,
}

/// A strut's forces.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct StrutForces {
    /// The strut's name.
    pub id: String,
    /// On the body at the top mount, square to the sliding axis, N.
    pub across: Point,
    /// On the body along the sliding axis by the spring and damper that stand on the strut by
    /// its name, N, + upward.
    pub along: f64,
    /// Bending at the lower end, N·m: of the top mount's force and of spring and damper
    /// standing on the strut, square to it.
    pub bending: f64,
}

/// A hinge's forces, N.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct HingeForces {
    /// The hinge's name.
    pub id: String,
    /// On the body.
    pub on_body: PivotForces,
}

/// A rocker's forces, N.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct RockerForces {
    /// The rocker's name.
    pub id: String,
    /// Axial force in its rod, + tension: a pushrod's is below zero.
    pub rod: f64,
    /// On the body, at the two points of its axis.
    pub on_body: PivotForces,
}

/// Forces that are given beside the loads; all zero by default. Without the part a force
/// has no effect.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
#[cfg_attr(
    feature = "serde",
    derive(serde::Serialize, serde::Deserialize),
    serde(deny_unknown_fields, default)
)]
pub struct Given {
    /// Damper force, N, + pushes its ends apart.
    pub damper: f64,
    /// Moment on the anti-roll bar's arm, N·m, right-handed about the bar's axis from its
    /// first point to its second.
    pub anti_roll_bar: f64,
    /// Moment of the torsion bar on its part, N·m, right-handed as in [`Forces::torsion_bar`];
    /// without effect where the torsion bar carries the wheel, whose moment is then found.
    pub torsion_bar: f64,
}

/// Force on the rack per kN of longitudinal force at one contact, N per kN: what a difference
/// between left and right of one kN kicks the steering wheel with, since equal forces on both
/// sides cancel in the rack. + in the rack's direction.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct SteeringKick {
    /// Per kN of drive, reacted as the corner's `drive` says.
    pub driving: f64,
    /// Per kN of regenerative braking, reacted as the corner's `drive` says.
    pub regenerative_braking: f64,
    /// Per kN of braking by the friction brakes, reacted as the corner's `brakes` says.
    pub friction_braking: f64,
}

/// A corner whose forces are asked for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Statics<'a> {
    corner: &'a Corner,
    linkage: &'a Linkage,
}

impl<'a> Statics<'a> {
    /// From a corner and the linkage made of it: for the other side, the mirrored corner and
    /// its linkage.
    #[must_use]
    pub fn new(corner: &'a Corner, linkage: &'a Linkage) -> Self {
        Self { corner, linkage }
    }

    /// Forces in all members in a position, several loads acting together.
    ///
    /// # Errors
    /// [`ForcesError::OutOfBounds`] for a load or given force outside its range,
    /// [`ForcesError::OutOfReach`] for a given force on a part whose rod does not reach, and
    /// [`ForcesError::DeadPoint`] where the members hardly hold the wheel.
    pub fn forces(&self, position: &Position, loads: &[Load], given: &Given) -> Result<Forces, ForcesError> {
        for load in loads {
            load.check()?;
        }
        bounds::FORCE.check("given.damper", given.damper)?;
        bounds::MOMENT.check("given.anti_roll_bar", given.anti_roll_bar)?;
        bounds::MOMENT.check("given.torsion_bar", given.torsion_bar)?;
        let linkage = self.linkage;
        let mut load = Wrench { force: Vec3::zeros(), moment: Vec3::zeros() };
        let mut shaft_torque = 0.0;
        for one in loads {
            let (wrench, torque) = one.on_knuckle(linkage, position);
            load = load.plus(&wrench);
            shaft_torque += torque;
        }
        let (support, carrying) = self.support(position);
        let mut acting = Acting {
            damper: given.damper,
            anti_roll_bar: given.anti_roll_bar * 1000.0,
            torsion_bar: if support == Support::TorsionBar { 0.0 } else { given.torsion_bar * 1000.0 },
            ..Acting::default()
        };
        let others = [
            ("damper", acting.damper, linkage.damper.is_some(), linkage.damper_wrench(position)),
            (
                "anti_roll_bar",
                acting.anti_roll_bar,
                linkage.anti_roll_bar.is_some(),
                linkage.anti_roll_bar_wrench(position),
            ),
            (
                "torsion_bar",
                acting.torsion_bar,
                linkage.torsion_bar.is_some(),
                linkage.torsion_bar_wrench(position),
            ),
        ];
        let mut known = load;
        for (part, size, exists, wrench) in others {
            if size == 0.0 || !exists {
                continue;
            }
            let Some(wrench) = wrench else { return Err(ForcesError::OutOfReach { part }) };
            known = known.plus(&Wrench { force: size * wrench.force, moment: size * wrench.moment });
        }
        let found =
            equilibrium::balance(linkage, position, &carrying, &known).ok_or(ForcesError::DeadPoint)?;
        let carried = found[5];
        match support {
            Support::Spring => acting.spring = carried,
            Support::TorsionBar => acting.torsion_bar = carried,
            Support::WheelCentre => acting.wheel_centre = carried,
        }
        acting.members = [found[0], found[1], found[2], found[3], found[4]];
        let mut forces =
            bodies::cut_free(self.corner, linkage, position, &acting, &load).ok_or(ForcesError::DeadPoint)?;
        forces.support = support;
        forces.shaft_torque = shaft_torque / 1000.0;
        forces.held_at_wheel_centre = (support == Support::WheelCentre).then_some(carried);
        forces.spring = (support == Support::Spring).then_some(carried);
        // Written so that NaN is refused.
        let balanced = forces.imbalance <= bounds::BALANCED;
        if balanced { Ok(forces) } else { Err(ForcesError::DeadPoint) }
    }

    /// Rack force per kN of longitudinal force at the contact in a position, by virtual work:
    /// the load's power on the steering motion. `None` where no link steers.
    ///
    /// The steering motion is that of [`steering_twist`], and holds the wheel centre's height as well where spring and
    /// bar do not move with the wheel, as the static answer does.
    #[must_use]
    pub fn steering_kick(&self, position: &Position) -> Option<SteeringKick> {
        let steering = self.steering(position)?;
        let kick = |kilonewton: f64, reacted_by: ReactedBy| {
            let force = [1000.0 * kilonewton, 0.0, 0.0];
            let load = Load { at: LoadPoint::Contact, force, axes: LoadAxes::Wheel, reacted_by };
            let power = steering.power(&load.on_knuckle(self.linkage, position).0);
            power.is_finite().then_some(power)
        };
        Some(SteeringKick {
            driving: kick(1.0, ReactedBy::drive(self.corner.drive))?,
            regenerative_braking: kick(-1.0, ReactedBy::drive(self.corner.drive))?,
            friction_braking: kick(-1.0, ReactedBy::brakes(self.corner.brakes))?,
        })
    }

    /// The motion per mm of rack in which what carries the wheel does no work.
    fn steering(&self, position: &Position) -> Option<Twist> {
        let linkage = self.linkage;
        match self.support(position).0 {
            _ if !linkage.steers() => None,
            Support::Spring | Support::TorsionBar => steering_twist(linkage, position),
            Support::WheelCentre => Some(position.rack_twist()),
        }
    }

    /// What carries the wheel, and its wrench on the knuckle per N or N·mm.
    fn support(&self, position: &Position) -> (Support, Wrench) {
        let linkage = self.linkage;
        if let Some((spring, wrench)) = linkage.spring_at(position).zip(linkage.spring_wrench(position))
            && spring.per_travel.abs() >= SPRING_AT_REST
        {
            return (Support::Spring, wrench);
        }
        if let Some((bar, wrench)) =
            linkage.torsion_bar_at(position).zip(linkage.torsion_bar_wrench(position))
            && bar.per_travel.abs() >= BAR_AT_REST
        {
            return (Support::TorsionBar, wrench);
        }
        (Support::WheelCentre, Wrench::at_point(&position.wheel_centre(), Vec3::z()))
    }
}

/// Sizes of all that acts, N and N·mm.
#[derive(Debug, Clone, Copy, Default)]
struct Acting {
    /// Along the linkage's constraints.
    members: [f64; 5],
    spring: f64,
    damper: f64,
    anti_roll_bar: f64,
    torsion_bar: f64,
    wheel_centre: f64,
}

impl ReactedBy {
    /// Who reacts drive and regeneration.
    #[must_use]
    pub fn drive(drive: Drive) -> Self {
        match drive {
            Drive::Shaft => Self::Shaft,
            Drive::Hub => Self::Knuckle,
        }
    }

    /// Who reacts the friction brakes.
    #[must_use]
    pub fn brakes(brakes: crate::setup::Brakes) -> Self {
        match brakes {
            crate::setup::Brakes::Inboard => Self::Shaft,
            crate::setup::Brakes::Outboard => Self::Knuckle,
        }
    }
}
