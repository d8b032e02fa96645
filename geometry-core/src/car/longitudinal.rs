//! What braking and driving do: load transfer, anti-percentages, pitch.
//!
//! A horizontal force F at an axle whose line has the slope s lifts or lowers the body there
//! by F·s without its springs; against the load transfer of the whole force, m·a·h/L, that is
//! share · s · L/h (Milliken & Milliken 1995, 17.3; Gillespie 1992, ch. 7). The slope is
//! the contact's where the knuckle reacts the torque (a friction brake at the wheel, a hub
//! motor) and the wheel centre's where the body does through a shaft (an inboard brake, a
//! drive shaft). Of a blend each force counts with its own slope: the percentages add up.

use super::{AxleRates, Car, DEGREES, Geometry, Lack};
use crate::{
    bounds::{self, INFINITELY_FAR, OutOfBounds},
    setup::{Axle, Brakes, Drive, GRAVITY, Vehicle},
};

/// How braking and driving are shared out. The friction brakes' force is what regeneration
/// leaves of the whole; front and rear share each of the two by its own number.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
#[cfg_attr(
    feature = "serde",
    derive(serde::Serialize, serde::Deserialize),
    serde(default, deny_unknown_fields)
)]
pub struct Shares {
    /// Share of the friction brakes' force at the front wheels, 0 to 1.
    pub brake_front: Option<f64>,
    /// Share of the braking force that is regenerative, 0 to 1; none when absent.
    pub regeneration: Option<f64>,
    /// Share of the regenerative force at the front wheels, 0 to 1; the drive's when absent.
    pub regeneration_front: Option<f64>,
    /// Share of the driving force at the front wheels, 0 to 1.
    pub drive_front: Option<f64>,
}

impl Shares {
    /// Those of a vehicle.
    #[must_use]
    pub fn of(vehicle: &Vehicle) -> Self {
        Self {
            brake_front: vehicle.brake_front_share,
            regeneration: vehicle.regeneration_share,
            regeneration_front: vehicle.regeneration_front_share,
            drive_front: vehicle.drive_front_share,
        }
    }

    pub(super) fn check(&self) -> Result<(), OutOfBounds> {
        let fields = [
            ("shares.brake_front", self.brake_front),
            ("shares.regeneration", self.regeneration),
            ("shares.regeneration_front", self.regeneration_front),
            ("shares.drive_front", self.drive_front),
        ];
        for (name, value) in fields {
            if let Some(value) = value {
                bounds::SHARE.check(name, value)?;
            }
        }
        Ok(())
    }
}

/// What braking, or driving, with 1 g does.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct LongitudinalForces {
    /// The front axle: braking against dive, driving against lift.
    pub front: AxleAnti,
    /// The rear axle: braking against lift, driving against squat.
    pub rear: AxleAnti,
    /// What moves from one axle to the other per g, N: onto the front axle in braking, onto
    /// the rear one in driving. Needs the mass.
    pub load_transfer: Option<f64>,
    /// [x, z] where the two axles' lines of force meet in side view, mm: the point through
    /// which a force does not pitch the body, in the front corner's axes. `None` where they are parallel. An axle without a
    /// force is taken with the slope that its force would have.
    pub pitch_centre: Option<[f64; 2]>,
    /// Height of that point above the ground, the line through both contacts, mm.
    pub pitch_centre_height: Option<f64>,
    /// Pitch angle per g, °, + front down (ISO 8855), on the wheel rates alone; needs the mass and
    /// both wheel rates.
    pub pitch_gradient: Option<f64>,
}

/// How an axle's geometry resists the body's pitching.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct AxleAnti {
    /// Share of the car's whole force at this axle, 0 to 1.
    pub share: f64,
    /// Share of the load transfer that the members take past the springs, %, + resists.
    pub percentage: f64,
    /// The part of it that friction brakes make, %; 0 in driving.
    pub friction: f64,
    /// The part of it that regeneration makes, %; 0 in driving.
    pub regeneration: f64,
    /// The percentage as if the whole force were at this axle, %: the geometry by itself.
    pub whole_force: f64,
    /// Slope of the line of force from the contact, mm per mm, + rises towards the other axle.
    pub slope: f64,
}

/// Forces at an axle as shares of the car's whole force, each with its line's dx/dz.
struct Force {
    friction: [f64; 2],
    other: [f64; 2],
    /// dx/dz of an axle without a force.
    without: f64,
    /// Whether `other` is regeneration.
    regenerates: bool,
}

impl Car {
    pub(super) fn braking(
        &self,
        geometry: &Geometry,
        shares: &Shares,
        rates: [AxleRates; 2],
    ) -> Result<LongitudinalForces, Lack> {
        let brake_front = shares.brake_front.ok_or(Lack::BrakeFrontShare)?;
        let regeneration = shares.regeneration.unwrap_or(0.0);
        let regeneration_front = if regeneration == 0.0 {
            0.0
        } else {
            shares.regeneration_front.or(shares.drive_front).ok_or(Lack::RegenerationFrontShare)?
        };
        let force = |axle: Axle| -> Result<Force, Lack> {
            let friction = self.brake_slope(geometry, axle)?;
            Ok(Force {
                friction: [(1.0 - regeneration) * axle.share(brake_front), friction],
                other: if regeneration == 0.0 {
                    [0.0; 2]
                } else {
                    [regeneration * axle.share(regeneration_front), self.drive_slope(geometry, axle)?]
                },
                without: friction,
                regenerates: true,
            })
        };
        self.forces(geometry, [force(Axle::Front)?, force(Axle::Rear)?], rates, 1.0)
    }

    pub(super) fn driving(
        &self,
        geometry: &Geometry,
        shares: &Shares,
        rates: [AxleRates; 2],
    ) -> Result<LongitudinalForces, Lack> {
        let front = shares.drive_front.ok_or(Lack::DriveFrontShare)?;
        let force = |axle: Axle| -> Result<Force, Lack> {
            let slope = self.drive_slope(geometry, axle)?;
            Ok(Force {
                friction: [0.0; 2],
                other: [axle.share(front), slope],
                without: slope,
                regenerates: false,
            })
        };
        self.forces(geometry, [force(Axle::Front)?, force(Axle::Rear)?], rates, -1.0)
    }

    fn brake_slope(&self, geometry: &Geometry, axle: Axle) -> Result<f64, Lack> {
        let end = geometry.end(axle)?;
        match self.end(axle).map(|end| end.brakes) {
            Some(Brakes::Inboard) => Ok(end.hub_slope),
            _ => end.contact_slope.ok_or(Lack::NoSlope(axle)),
        }
    }

    fn drive_slope(&self, geometry: &Geometry, axle: Axle) -> Result<f64, Lack> {
        let end = geometry.end(axle)?;
        match self.end(axle).map(|end| end.drive) {
            Some(Drive::Hub) => end.contact_slope.ok_or(Lack::NoSlope(axle)),
            _ => Ok(end.hub_slope),
        }
    }

    /// `pitch` is +1 where the force lowers the front, −1 where it lowers the rear.
    fn forces(
        &self,
        geometry: &Geometry,
        forces: [Force; 2],
        rates: [AxleRates; 2],
        pitch: f64,
    ) -> Result<LongitudinalForces, Lack> {
        let wheelbase = self.vehicle.wheelbase.ok_or(Lack::Wheelbase)?;
        let leverage = wheelbase / self.vehicle.cg_height.ok_or(Lack::CgHeight)?;
        let anti = |force: &Force, axle: Axle| {
            // A front contact that moves forward as it rises swings about a centre behind it.
            let sign = match axle {
                Axle::Front => 1.0,
                Axle::Rear => -1.0,
            };
            // No force has a part of 0, not of −0.
            let part = |[share, slope]: [f64; 2]| 100.0 * leverage * sign * share * slope + 0.0;
            let share = force.friction[0] + force.other[0];
            let lift = force.friction[0] * force.friction[1] + force.other[0] * force.other[1];
            let slope = sign * if share > 0.0 { lift / share } else { force.without };
            AxleAnti {
                share,
                percentage: part(force.friction) + part(force.other),
                friction: part(force.friction),
                regeneration: if force.regenerates { part(force.other) } else { 0.0 },
                whole_force: 100.0 * leverage * slope,
                slope,
            }
        };
        let [of_front, of_rear] = forces;
        let (front, rear) = (anti(&of_front, Axle::Front), anti(&of_rear, Axle::Rear));
        let load_transfer = self.vehicle.mass.map(|mass| mass * GRAVITY / leverage);
        let [front_rates, rear_rates] = rates;
        let wheel_rates = front_rates.wheel_rate.zip(rear_rates.wheel_rate);
        let pitch_gradient = load_transfer.zip(wheel_rates).map(|(transfer, (front_rate, rear_rate))| {
            // Two wheels on each axle: mm that the loaded end sinks and the other rises.
            let moved =
                |anti: &AxleAnti, rate: f64| transfer * (1.0 - anti.percentage / 100.0) / (2.0 * rate);
            pitch * (moved(&front, front_rate) + moved(&rear, rear_rate)) / wheelbase * DEGREES
        });
        let [front_end, rear_end] = [geometry.end(Axle::Front)?, geometry.end(Axle::Rear)?];
        let (ahead, behind) = (front_end.contact, behind(front_end.contact, rear_end.contact, wheelbase));
        let pitch_centre = lines_meet(ahead, front.slope, behind, rear.slope);
        Ok(LongitudinalForces {
            pitch_centre,
            pitch_centre_height: pitch_centre.map(|point| above(point, ahead, behind)),
            front,
            rear,
            load_transfer,
            pitch_gradient,
        })
    }
}

/// The rear contact in the front corner's axes: one that stands more than half a wheelbase from its place was measured
/// from its own axle.
fn behind([front_x, _]: [f64; 2], [rear_x, rear_z]: [f64; 2], wheelbase: f64) -> [f64; 2] {
    let place = front_x - wheelbase;
    [if (rear_x - place).abs() > 0.5 * wheelbase { place } else { rear_x }, rear_z]
}

/// How far a point is above the line through both contacts.
fn above([x, z]: [f64; 2], [front_x, front_z]: [f64; 2], [rear_x, rear_z]: [f64; 2]) -> f64 {
    z - front_z - (rear_z - front_z) * (front_x - x) / (front_x - rear_x)
}

/// From the front contact rearward and from the rear one forward, each rising by its slope.
fn lines_meet(
    [front_x, front_z]: [f64; 2],
    front_slope: f64,
    [rear_x, rear_z]: [f64; 2],
    rear_slope: f64,
) -> Option<[f64; 2]> {
    // z = front_z + front_slope (front_x − x) = rear_z + rear_slope (x − rear_x)
    let x = (front_z - rear_z + front_slope * front_x + rear_slope * rear_x) / (front_slope + rear_slope);
    let z = front_z + front_slope * (front_x - x);
    // Written so that NaN (both lines on the ground) is dropped as well.
    [x, z].iter().all(|c| c.abs() <= INFINITELY_FAR).then_some([x, z])
}
