//! Loads at a wheel, and the cases that make them of what is known of the car.

use alloc::{vec, vec::Vec};

use super::{ForcesError, Missing, Statics};
use crate::{
    Vec3,
    bounds::{self, LEAST_HEADING, OutOfBounds},
    float::sqrt,
    linkage::Linkage,
    readings::{contact, spin_axis},
    screw::Wrench,
    setup::{Axle, GRAVITY, Vehicle},
    solve::{Follower, Position},
};

/// A force of the ground, or any other, on the wheel.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(deny_unknown_fields))]
pub struct Load {
    /// Where it acts.
    pub at: LoadPoint,
    /// N, along `axes`.
    pub force: [f64; 3],
    /// Along what the force is said.
    #[cfg_attr(feature = "serde", serde(default))]
    pub axes: LoadAxes,
    /// What reacts its torque about the spin axis.
    #[cfg_attr(feature = "serde", serde(default))]
    pub reacted_by: ReactedBy,
}

/// Where a load acts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(rename_all = "snake_case"))]
pub enum LoadPoint {
    /// The lowest point of the loaded disc.
    Contact,
    /// The wheel centre.
    WheelCentre,
}

/// Along what a force is said, on both sides of the car.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(rename_all = "snake_case"))]
pub enum LoadAxes {
    /// The vehicle's: x forward, y left, z up, whatever way the wheel is steered.
    #[default]
    Vehicle,
    /// The wheel's on level ground: x the way it heads, y square to it and to the left, z up (the
    /// tyre axes of ISO 8855, from memory). They turn with the wheel as it is steered.
    Wheel,
}

/// What reacts the torque that a load has about the spin axis.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(rename_all = "snake_case"))]
pub enum ReactedBy {
    /// The knuckle: a friction brake at the wheel, a motor in the hub.
    #[default]
    Knuckle,
    /// The body, through a shaft. The knuckle then feels the force without that torque: a force along the wheel as if it acted at the
    /// wheel centre. The shaft is taken as lying along the spin axis; a bent one adds a moment
    /// of the torque times the sine of half its joints' angle, which is not counted.
    Shaft,
    /// Nothing: the wheel rolls freely. The knuckle feels the force as with a shaft.
    Nothing,
}

impl Load {
    /// Whether every component is within [`bounds::FORCE`].
    ///
    /// # Errors
    /// The first component that is not.
    pub fn check(&self) -> Result<(), OutOfBounds> {
        for (field, value) in ["load.force[0]", "load.force[1]", "load.force[2]"].into_iter().zip(self.force)
        {
            bounds::FORCE.check(field, value)?;
        }
        Ok(())
    }

    /// The force along the vehicle's axes in a position, N.
    #[must_use]
    pub fn in_axes_of_vehicle(&self, linkage: &Linkage, position: &Position) -> [f64; 3] {
        self.in_vehicle_axes(linkage, &spin_axis(linkage, position)).into()
    }

    fn in_vehicle_axes(&self, linkage: &Linkage, spin: &Vec3) -> Vec3 {
        let force = Vec3::from(self.force);
        match self.axes {
            LoadAxes::Vehicle => force,
            LoadAxes::Wheel => {
                // The document keeps camber under 45° at design; where travel lays the wheel flat
                // it heads nowhere, and the force stays along the vehicle.
                let across = linkage.side().outboard() * Vec3::new(spin.x, spin.y, 0.0);
                let size = sqrt(across.norm_squared());
                if size < LEAST_HEADING {
                    return force;
                }
                let left = across / size;
                force.x * Vec3::new(left.y, -left.x, 0.0) + force.y * left + force.z * Vec3::z()
            }
        }
    }

    /// The wrench that reaches the knuckle, N and N·mm about the origin; and the torque of the
    /// shaft on the wheel, N·mm, + drives forward.
    pub(super) fn on_knuckle(&self, linkage: &Linkage, position: &Position) -> (Wrench, f64) {
        let spin = spin_axis(linkage, position);
        let force = self.in_vehicle_axes(linkage, &spin);
        let centre = position.wheel_centre();
        let at = match self.at {
            LoadPoint::Contact => contact(linkage, position, &spin),
            LoadPoint::WheelCentre => centre,
        };
        let wrench = Wrench::at_point(&at, force);
        match self.reacted_by {
            ReactedBy::Knuckle => (wrench, 0.0),
            ReactedBy::Shaft | ReactedBy::Nothing => {
                let torque = spin.dot(&(at - centre).cross(&force));
                let without = Wrench { force, moment: wrench.moment - torque * spin };
                let of_shaft = -linkage.side().outboard() * torque;
                (without, if self.reacted_by == ReactedBy::Shaft { of_shaft } else { 0.0 })
            }
        }
    }
}

/// A way the car is driven, or a load of one's own.
///
/// The car is rigid, on level ground, steady, and symmetric between left and right; `g` counts
/// in standard gravities. Longitudinal load transfer per axle is m a h / wheelbase (Gillespie,
/// *Fundamentals of Vehicle Dynamics*, SAE 1992, ch. 1, from memory). Lateral transfer is the
/// axle's own share of the mass times a h / track, which takes each axle's share of the roll
/// moment to be that of its weight (Milliken & Milliken, *Race Car Vehicle Dynamics*, SAE 1995,
/// ch. 18, gives the split by roll stiffness; the equal split is common practice, no source).
/// Both wheels of an axle brake and drive alike; in a corner each wheel's lateral force is in
/// proportion to its load (common practice, no source). Forces along the ground act along the
/// wheel and square to it, so that they turn with a steered wheel. A wheel cannot be pulled down: a
/// transfer ends where the wheel lifts.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(
    feature = "serde",
    derive(serde::Serialize, serde::Deserialize),
    serde(tag = "kind", rename_all = "snake_case", deny_unknown_fields)
)]
pub enum Case {
    /// The car stands on its wheels. With braces, for a unit would be read with any field beside its kind.
    Standing {},
    /// Lateral acceleration, + with this wheel on the outside; the wheel rolls freely.
    Cornering {
        /// Lateral acceleration.
        g: f64,
    },
    /// Braking by the friction brakes alone, reacted as the corner's `brakes` says.
    FrictionBraking {
        /// Deceleration.
        g: f64,
    },
    /// Braking by regeneration alone, reacted as the corner's `drive` says.
    RegenerativeBraking {
        /// Deceleration.
        g: f64,
    },
    /// Braking by regeneration and friction together, as a brake-by-wire system blends them: the
    /// vehicle's share of regeneration, the rest by the friction brakes, each divided between the
    /// axles and reacted in its own way.
    BlendedBraking {
        /// Deceleration.
        g: f64,
    },
    /// Driving forward, reacted as the corner's `drive` says.
    Driving {
        /// Acceleration.
        g: f64,
    },
    /// A multiple of the load at rest, straight up.
    Bump {
        /// Over the load at rest.
        times: f64,
    },
    /// Loads of one's own, acting together.
    Free {
        /// The loads.
        loads: Vec<Load>,
    },
}

impl Case {
    /// The cases usually looked at, with numbers near what a road car on dry ground does:
    /// 0.9 g in a corner, 1 g of braking, 0.3 g of regeneration, 0.4 g of drive, three times
    /// the load at rest over a bump (common practice, no source).
    #[must_use]
    pub fn usual() -> [Self; 6] {
        [
            Self::Standing {},
            Self::Cornering { g: 0.9 },
            Self::FrictionBraking { g: 1.0 },
            Self::RegenerativeBraking { g: 0.3 },
            Self::Driving { g: 0.4 },
            Self::Bump { times: 3.0 },
        ]
    }

    /// Every number of the vehicle that this case needs and that is not given.
    #[must_use]
    pub fn missing(&self, vehicle: &Vehicle) -> Vec<Missing> {
        let weight = [(Missing::Mass, vehicle.mass), (Missing::FrontMassShare, vehicle.front_mass_share)];
        let height = (Missing::CgHeight, vehicle.cg_height);
        let length = (Missing::Wheelbase, vehicle.wheelbase);
        let brakes = (Missing::BrakeFrontShare, vehicle.brake_front_share);
        let drive = (Missing::DriveFrontShare, vehicle.drive_front_share);
        let regeneration = (Missing::DriveFrontShare, regeneration_front_share(vehicle));
        let more = match self {
            Self::Free { .. } => return Vec::new(),
            Self::Standing {} | Self::Bump { .. } => vec![],
            Self::Cornering { .. } => vec![height],
            Self::FrictionBraking { .. } => vec![height, length, brakes],
            Self::RegenerativeBraking { .. } => vec![height, length, regeneration],
            Self::BlendedBraking { .. } => {
                let share = (Missing::RegenerationShare, vehicle.regeneration_share);
                let regenerates = vehicle.regeneration_share != Some(0.0);
                let mut needed = vec![height, length, share, brakes];
                needed.extend(regenerates.then_some(regeneration));
                needed
            }
            Self::Driving { .. } => vec![height, length, drive],
        };
        let needed = weight.into_iter().chain(more);
        needed.filter_map(|(name, value)| value.is_none().then_some(name)).collect()
    }

    fn check(&self) -> Result<(), OutOfBounds> {
        match self {
            Self::Standing {} => Ok(()),
            Self::Cornering { g }
            | Self::FrictionBraking { g }
            | Self::RegenerativeBraking { g }
            | Self::BlendedBraking { g }
            | Self::Driving { g } => bounds::ACCELERATION.check("case.g", *g).map(drop),
            Self::Bump { times } => bounds::TIMES_STATIC.check("case.times", *times).map(drop),
            Self::Free { loads } => loads.iter().try_for_each(Load::check),
        }
    }
}

fn regeneration_front_share(vehicle: &Vehicle) -> Option<f64> {
    vehicle.regeneration_front_share.or(vehicle.drive_front_share)
}

/// What the load cases need of the car.
struct Car {
    /// Load at rest on this wheel, and on the other axle's wheel of this side, N.
    own: f64,
    other: f64,
    /// Mass of the car over two, kg: what one side accelerates.
    half_mass: f64,
    /// Own share of the mass.
    share: f64,
    axle: Axle,
}

impl Car {
    fn of(vehicle: &Vehicle, axle: Axle) -> Option<Self> {
        let other = match axle {
            Axle::Front => Axle::Rear,
            Axle::Rear => Axle::Front,
        };
        Some(Self {
            own: vehicle.wheel_load(axle)?,
            other: vehicle.wheel_load(other)?,
            half_mass: 0.5 * vehicle.mass?,
            share: axle.share(vehicle.front_mass_share?),
            axle,
        })
    }

    /// This wheel's force up under a forward acceleration: m a h / L goes from the front axle
    /// to the rear one, half of it on each side, until wheels lift.
    fn load_at(&self, g: f64, height: f64, wheelbase: f64) -> f64 {
        let transfer = self.half_mass * g * GRAVITY * height / wheelbase;
        let gained = match self.axle {
            Axle::Front => -transfer,
            Axle::Rear => transfer,
        };
        self.own + gained.max(-self.own).min(self.other)
    }

    /// This wheel's force forward of a whole of which the front wheels have `front`.
    fn force(&self, g: f64, front: f64) -> f64 {
        self.half_mass * g * GRAVITY * self.axle.share(front)
    }

    /// This wheel's force up in a corner, + on the outside.
    fn load_in_corner(&self, g: f64, height: f64, track: f64) -> f64 {
        let moment = 2.0 * self.half_mass * self.share * g * GRAVITY * height;
        // No transfer without a moment, whatever the track.
        let transfer = if moment == 0.0 { 0.0 } else { moment / track };
        self.own + transfer.max(-self.own).min(self.own)
    }
}

impl Statics<'_> {
    /// The loads of a case at this corner's wheel, which stands on `axle`.
    ///
    /// The track is twice the contact's distance from the centre plane in the design
    /// position. No load depends on the travel: the case's loads are those of the car, the
    /// position is the caller's.
    ///
    /// # Errors
    /// [`ForcesError::Missing`] with every number that the vehicle does not give, or
    /// [`ForcesError::OutOfBounds`] for a number of the case that is out of its range.
    pub fn loads(&self, case: &Case, vehicle: &Vehicle, axle: Axle) -> Result<Vec<Load>, ForcesError> {
        case.check()?;
        if let Case::Free { loads } = case {
            return Ok(loads.clone());
        }
        let loads = self.loads_of(case, vehicle, axle);
        let loads = loads.ok_or_else(|| ForcesError::Missing(case.missing(vehicle)))?;
        // A vehicle that was never checked may hold anything.
        loads.iter().try_for_each(Load::check)?;
        Ok(loads)
    }

    /// `None` where a number is missing.
    fn loads_of(&self, case: &Case, vehicle: &Vehicle, axle: Axle) -> Option<Vec<Load>> {
        let car = Car::of(vehicle, axle)?;
        let height = || vehicle.cg_height;
        let at_contact = |force: [f64; 3], reacted_by| {
            Some(vec![Load { at: LoadPoint::Contact, force, axes: LoadAxes::Wheel, reacted_by }])
        };
        let load_at = |g: f64| Some(car.load_at(g, height()?, vehicle.wheelbase?));
        let along = |g: f64, front: Option<f64>, reacted_by| {
            at_contact([car.force(g, front?), 0.0, load_at(g)?], reacted_by)
        };
        let (drive, brakes) = (ReactedBy::drive(self.corner.drive), ReactedBy::brakes(self.corner.brakes));
        match case {
            Case::Standing {} => at_contact([0.0, 0.0, car.own], ReactedBy::Knuckle),
            Case::Bump { times } => at_contact([0.0, 0.0, times * car.own], ReactedBy::Knuckle),
            Case::Cornering { g } => {
                let design = *Follower::new(self.linkage).position();
                let track = 2.0 * contact(self.linkage, &design, &spin_axis(self.linkage, &design)).y.abs();
                let up = car.load_in_corner(*g, height()?, track);
                // Toward the inside of the corner: inboard on the outer wheel.
                let inboard = -self.linkage.side().outboard();
                at_contact([0.0, inboard * g * up, up], ReactedBy::Nothing)
            }
            Case::FrictionBraking { g } => along(-g, vehicle.brake_front_share, brakes),
            Case::RegenerativeBraking { g } => along(-g, regeneration_front_share(vehicle), drive),
            Case::BlendedBraking { g } => {
                let share = vehicle.regeneration_share?;
                let friction = car.force(-g * (1.0 - share), vehicle.brake_front_share?);
                let mut loads = at_contact([friction, 0.0, load_at(-g)?], brakes)?;
                // Where nothing is regenerated nobody need say at which axle.
                if share > 0.0 {
                    let regeneration = car.force(-g * share, regeneration_front_share(vehicle)?);
                    loads.extend(at_contact([regeneration, 0.0, 0.0], drive)?);
                }
                Some(loads)
            }
            Case::Driving { g } => along(*g, vehicle.drive_front_share, drive),
            Case::Free { .. } => None,
        }
    }
}
