//! What a lateral acceleration does: load transfer and roll.
//!
//! In each axle the transfer has three parts (Barton & Fieldhouse 2018, ch. 3; Milliken &
//! Milliken 1995, ch. 18): the sprung mass' share of the force, led through the roll centre
//! ("geometric"); the unsprung mass' own; and the roll moment of springs and bars
//! ("elastic"). The body leans about the roll axis until springs and bars hold it against
//! the force and against its own weight, which leans out with it:
//! K φ = m·a·d + m·g·d·φ, d being the sprung centre of gravity's height above the axis. Small
//! angles; the tyres are taken as rigid.

use super::{AXLES, AxleRates, Car, DEGREES, Geometry, Lack, Masses, RollAxis};
use crate::setup::{Axle, GRAVITY};

/// Load transfer and roll in a lateral acceleration.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct LateralTransfer {
    /// The acceleration, g, + to the left.
    pub acceleration: f64,
    /// At the front.
    pub front: AxleTransfer,
    /// At the rear.
    pub rear: AxleTransfer,
    /// Front axle's share of the whole transfer, 0 to 1; `None` without a transfer.
    pub front_share: Option<f64>,
    /// Roll rate of both axles together, N·m/°.
    pub roll_rate: f64,
    /// Front axle's share of it, 0 to 1.
    pub roll_rate_front_share: f64,
    /// Roll angle per lateral acceleration, °/g, + leans outward.
    pub roll_gradient: f64,
    /// The same without the body's own weight leaning out, °/g.
    pub roll_gradient_without_gravity: f64,
    /// Roll angle in this acceleration, °, + to the right.
    pub roll: f64,
}

/// What moves from one axle's left wheel to its right one, N.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct AxleTransfer {
    /// Of the sprung mass through the roll centre, N.
    pub geometric: f64,
    /// Of the unsprung mass, N.
    pub unsprung: f64,
    /// Of springs and bars as the body leans, N.
    pub elastic: f64,
    /// All together, N.
    pub total: f64,
    /// The axle's roll rate, N·m/°.
    pub roll_rate: f64,
}

impl Car {
    pub(super) fn lateral(
        &self,
        geometry: &Geometry,
        masses: Result<Masses, Lack>,
        roll_axis: Result<RollAxis, Lack>,
        rates: [AxleRates; 2],
        acceleration: f64,
    ) -> Result<LateralTransfer, Lack> {
        // What the car lacks is told before what an axle lacks.
        self.vehicle.mass.ok_or(Lack::Mass)?;
        self.vehicle.front_mass_share.ok_or(Lack::FrontMassShare)?;
        self.vehicle.cg_height.ok_or(Lack::CgHeight)?;
        let (masses, axis) = (masses?, roll_axis?);
        let arm = axis.cg_above.ok_or(Lack::CgHeight)?;
        let [front_rates, rear_rates] = rates;
        let front_rate = self.roll_rate(geometry, Axle::Front, front_rates)?;
        let rear_rate = self.roll_rate(geometry, Axle::Rear, rear_rates)?;
        // N·mm/rad; masses in kg and accelerations in m/s² make newtons.
        let stiffness = (front_rate + rear_rate) * 1000.0 * DEGREES;
        let weight_moment = masses.sprung * GRAVITY * arm;
        // Written so that NaN is refused.
        let holds = stiffness > weight_moment && stiffness > 0.0;
        if !holds {
            return Err(Lack::FallsOver);
        }
        let per_g = weight_moment / (stiffness - weight_moment);
        let roll = acceleration * per_g;
        let force = acceleration * GRAVITY;
        let transfer = |axle: Axle| -> Result<AxleTransfer, Lack> {
            let track = geometry.end(axle)?.track;
            let (height, unsprung, unsprung_height, roll_rate) = match axle {
                Axle::Front => {
                    (axis.front_height, masses.front_unsprung, masses.front_unsprung_height, front_rate)
                }
                Axle::Rear => {
                    (axis.rear_height, masses.rear_unsprung, masses.rear_unsprung_height, rear_rate)
                }
            };
            let sprung = masses.sprung * axle.share(masses.sprung_front_share);
            let geometric = force * sprung * height / track;
            let unsprung = force * unsprung * unsprung_height / track;
            let elastic = roll * roll_rate * 1000.0 * DEGREES / track;
            Ok(AxleTransfer {
                geometric,
                unsprung,
                elastic,
                total: geometric + unsprung + elastic,
                roll_rate,
            })
        };
        let [front, rear] = AXLES.map(transfer);
        let (front, rear) = (front?, rear?);
        let share = front.total / (front.total + rear.total);
        Ok(LateralTransfer {
            acceleration,
            front,
            rear,
            front_share: share.is_finite().then_some(share),
            roll_rate: front_rate + rear_rate,
            roll_rate_front_share: front_rate / (front_rate + rear_rate),
            roll_gradient: per_g * DEGREES,
            roll_gradient_without_gravity: weight_moment / stiffness * DEGREES,
            roll: roll * DEGREES,
        })
    }

    /// Springs and bar together, N·m/°.
    fn roll_rate(&self, geometry: &Geometry, axle: Axle, rates: AxleRates) -> Result<f64, Lack> {
        let track = geometry.end(axle)?.track;
        // Two wheel rates, each at half the track: N/mm · mm² is N·mm/rad.
        let of_wheels = |rate: f64| 0.5 * rate * track * track / 1000.0 / DEGREES;
        let springs = rates.roll_rate_springs.or(rates.wheel_rate.map(of_wheels));
        let has_bar = self.end(axle).is_some_and(|end| end.has_bar);
        let bar = match rates.roll_rate_bar {
            None if has_bar => return Err(Lack::AntiRollBarRate(axle)),
            bar => bar.unwrap_or(0.0),
        };
        Ok(springs.ok_or(Lack::WheelRate(axle))? + bar)
    }
}
