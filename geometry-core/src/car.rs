//! The whole car: loads, roll axis, load transfer, roll, dive and squat, ride.
//!
//! Everything here is statics of a rigid body on two axles whose geometry is read in one
//! position of each; springs enter only as rates ([`AxleRates`]). A group of readings that
//! needs something the document does not give is `None`, and [`CarReadings::missing`] says
//! what.
//!
//! Sources, from memory where not said otherwise: Milliken & Milliken, *Race Car Vehicle
//! Dynamics*, SAE 1995, ch. 17 and 18; Gillespie, *Fundamentals of Vehicle Dynamics*, SAE
//! 1992, ch. 6 and 7; Barton & Fieldhouse, *Automotive Chassis Engineering*, Springer 2018,
//! ch. 3 (pages seen).
//!
//! ```
//! use geometry_core::{car::{AxleRates, Car, CarInput}, setup::example};
//!
//! let document = example();
//! let car = Car::new(&document).expect("both axles can be assembled");
//! let rates = AxleRates { wheel_rate: Some(30.0), roll_rate_bar: Some(300.0), ..AxleRates::default() };
//! let input = CarInput { front_rates: rates, rear_rates: rates, ..CarInput::default() };
//! let readings = car.read(&input).expect("the numbers are in their ranges");
//! let lateral = readings.lateral.expect("everything is given");
//! // To the right, as in a bend to the left.
//! assert!(lateral.roll_gradient > 0.0 && lateral.front.total > 0.0);
//! ```

mod lateral;
mod longitudinal;
mod missing;

pub use lateral::{AxleTransfer, LateralTransfer};
pub use longitudinal::{AxleAnti, LongitudinalForces, Shares};
pub use missing::{Group, Lack, Missing};

use alloc::{format, vec::Vec};
use core::f64::consts::PI;

use crate::{
    axle::{AxleFollower, AxlePosition, AxleReader, AxleState, Lean, WheelPair},
    bounds::{self, OutOfBounds},
    float::sqrt,
    linkage::InCorner,
    readings::Readings,
    setup::{Axle, Brakes, Corner, Document, Drive, GRAVITY, Side, Vehicle},
    springing::Springing,
};

const DEGREES: f64 = 180.0 / PI;
const AXLES: [Axle; 2] = [Axle::Front, Axle::Rear];

/// A car whose described corners can be assembled.
#[derive(Debug, Clone, PartialEq)]
pub struct Car {
    vehicle: Vehicle,
    front: Option<End>,
    rear: Option<End>,
}

/// One end of the car.
#[derive(Debug, Clone, PartialEq)]
struct End {
    pair: WheelPair,
    /// Both wheels' together, kg.
    unsprung: Option<f64>,
    /// Mean height of the wheel centres in the design position, mm: that of the unsprung mass.
    hub_height: f64,
    brakes: Brakes,
    drive: Drive,
    has_bar: bool,
}

/// What springs, bars and tyres of an axle make of its geometry. Each number is optional;
/// a reading that needs a missing one says so.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct AxleRates {
    /// Vertical force at one wheel per mm of its travel, both wheels moving alike, without the
    /// tyre, N/mm.
    pub wheel_rate: Option<f64>,
    /// Vertical rate of one tyre, N/mm.
    pub tyre_rate: Option<f64>,
    /// Moment of the axle's springs against the body's roll, N·m/°; that of the wheel rate at
    /// half the track when absent.
    pub roll_rate_springs: Option<f64>,
    /// Moment of the axle's anti-roll bar against the body's roll, N·m/°; 0 when absent on an
    /// axle without one.
    pub roll_rate_bar: Option<f64>,
}

/// An axle whose corners are each other's mirror images and stand as the springing was read. A
/// rate that does not push back is left out.
impl From<&Springing> for AxleRates {
    fn from(springing: &Springing) -> Self {
        Self {
            wheel_rate: springing.wheel_rate.filter(|rate| bounds::WHEEL_RATE.allows(*rate)),
            tyre_rate: springing.tyre_rate,
            roll_rate_springs: springing.roll.springs.filter(|rate| bounds::ROLL_RATE.allows(*rate)),
            roll_rate_bar: springing.roll.bar,
        }
    }
}

impl AxleRates {
    fn check(&self, axle: Axle) -> Result<(), OutOfBounds> {
        let fields = [
            ("wheel_rate", self.wheel_rate, bounds::WHEEL_RATE),
            ("tyre_rate", self.tyre_rate, bounds::WHEEL_RATE),
            ("roll_rate_springs", self.roll_rate_springs, bounds::ROLL_RATE),
            ("roll_rate_bar", self.roll_rate_bar, bounds::ROLL_RATE),
        ];
        for (name, value, bound) in fields {
            if let Some(value) = value {
                bound.check(&format!("rates.{}.{name}", axle.name()), value)?;
            }
        }
        Ok(())
    }
}

/// What a car is read in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CarInput<'a> {
    /// Position of the front axle, of the car's own [`Car::pair`]; the design position when absent.
    pub front: Option<&'a AxlePosition>,
    /// The same of the rear axle.
    pub rear: Option<&'a AxlePosition>,
    /// Rates of the front axle.
    pub front_rates: AxleRates,
    /// Rates of the rear axle.
    pub rear_rates: AxleRates,
    /// Shares of braking and driving; the document's when absent.
    pub shares: Option<Shares>,
    /// Lateral acceleration, g, + to the left (a bend to the left).
    pub lateral_acceleration: f64,
}

impl Default for CarInput<'_> {
    /// Both axles in their design position, no rates, the document's shares, 1 g to the left.
    fn default() -> Self {
        Self {
            front: None,
            rear: None,
            front_rates: AxleRates::default(),
            rear_rates: AxleRates::default(),
            shares: None,
            lateral_acceleration: 1.0,
        }
    }
}

/// Everything that is read off the whole car.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct CarReadings {
    /// What stands on the wheels at rest.
    pub loads: Option<Loads>,
    /// What moves with both front wheels, kg.
    pub front_unsprung: Option<f64>,
    /// What moves with both rear wheels, kg.
    pub rear_unsprung: Option<f64>,
    /// The car without what moves with its wheels.
    pub masses: Option<Masses>,
    /// The line through both roll centres.
    pub roll_axis: Option<RollAxis>,
    /// What a lateral acceleration does.
    pub lateral: Option<LateralTransfer>,
    /// What braking does.
    pub braking: Option<LongitudinalForces>,
    /// What driving does.
    pub driving: Option<LongitudinalForces>,
    /// The body's bounce at the front.
    pub front_ride: Option<Ride>,
    /// The body's bounce at the rear.
    pub rear_ride: Option<Ride>,
    /// Why a group is absent, group by group.
    pub missing: Vec<Missing>,
}

impl CarReadings {
    /// What a group lacks; `None` where it is told.
    #[must_use]
    pub fn lack(&self, group: Group) -> Option<Lack> {
        self.missing.iter().find(|missing| missing.group == group).map(|missing| missing.lack)
    }
}

/// What stands on the wheels of a car at rest.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Loads {
    /// On the front axle, N.
    pub front_axle: f64,
    /// On the rear axle, N.
    pub rear_axle: f64,
    /// On each front wheel, N.
    pub front_wheel: f64,
    /// On each rear wheel, N.
    pub rear_wheel: f64,
    /// How far the centre of gravity is behind the front axle, mm; needs the wheelbase.
    pub cg_behind_front: Option<f64>,
}

/// The sprung and the unsprung mass. An unsprung mass is taken to be at its wheels' centres.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Masses {
    /// Of both front corners, kg.
    pub front_unsprung: f64,
    /// Of both rear corners, kg.
    pub rear_unsprung: f64,
    /// Height of the front unsprung mass, mm.
    pub front_unsprung_height: f64,
    /// Height of the rear unsprung mass, mm.
    pub rear_unsprung_height: f64,
    /// Mass without both, kg.
    pub sprung: f64,
    /// Share of the sprung mass at the front, 0 to 1.
    pub sprung_front_share: f64,
    /// Height of the sprung mass' centre of gravity above the ground, mm; needs that of the whole car.
    pub sprung_cg_height: Option<f64>,
}

/// The line through the roll centres of both axles.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct RollAxis {
    /// Height of the front roll centre above the ground, mm.
    pub front_height: f64,
    /// Height of the rear one, mm.
    pub rear_height: f64,
    /// Where the front roll centre is across the car, mm, + left of the middle between the contacts.
    pub front_across: f64,
    /// Where the rear one is.
    pub rear_across: f64,
    /// Angle to the ground in side view, °, + rises to the rear; needs the wheelbase.
    pub inclination: Option<f64>,
    /// Height of the axis below the sprung mass' centre of gravity, mm; needs the masses.
    pub height_at_cg: Option<f64>,
    /// How far the sprung mass' centre of gravity is above the axis, straight up, mm; needs its height too.
    pub cg_above: Option<f64>,
}

/// The body's bounce over one axle, as if it were alone with its share of the sprung mass.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Ride {
    /// Sprung mass on one wheel, kg.
    pub sprung_mass: f64,
    /// Natural frequency on the wheel rate alone, Hz.
    pub frequency: f64,
    /// Wheel rate and tyre rate in series, N/mm; needs the tyre rate.
    pub ride_rate: Option<f64>,
    /// Natural frequency on the ride rate, Hz.
    pub frequency_with_tyre: Option<f64>,
}

/// What an axle's wheels weigh, and what they carry: needs nothing of the other axle.
#[derive(Clone, Copy)]
struct AxleMasses {
    /// What moves with both wheels, kg.
    unsprung: f64,
    /// Height of their centres above the ground, at which it is taken to be, mm.
    unsprung_height: f64,
    /// Share of the body's mass on the axle, kg.
    sprung: f64,
}

/// What both axles' geometry says in the positions given.
struct Geometry {
    front: Option<EndGeometry>,
    rear: Option<EndGeometry>,
}

/// One axle's geometry.
#[derive(Clone, Copy)]
struct EndGeometry {
    /// [across, height] of the roll centre, mm.
    roll_centre: Option<[f64; 2]>,
    track: f64,
    /// How far the body has dropped here, mm.
    heave: f64,
    /// Mean of both contacts' [x, z], mm.
    contact: [f64; 2],
    /// dx/dz of the contact and of the wheel centre, mean of both wheels.
    contact_slope: Option<f64>,
    hub_slope: f64,
}

impl Car {
    /// Assembles every corner that the document describes. The document's fields are taken
    /// as they are; [`Document::check`] is for their ranges. Where brakes and drive are is the
    /// left corner's word for both.
    ///
    /// # Errors
    /// What keeps a corner from being one, with its name.
    pub fn new(document: &Document) -> Result<Self, InCorner> {
        let end = |axle: Axle| -> Result<Option<End>, InCorner> {
            let Some(left) = document.corner(axle) else { return Ok(None) };
            let pair = WheelPair::new(axle, left, document.right_corner(axle))?;
            let right = document.right_corner(axle).unwrap_or(left);
            let masses = left.unsprung_mass().zip(right.unsprung_mass());
            let height = |corner: &Corner| corner.wheel.centre[2];
            Ok(Some(End {
                pair,
                unsprung: masses.map(|(left, right)| left + right),
                hub_height: 0.5 * (height(left) + height(right)),
                brakes: left.brakes,
                drive: left.drive,
                has_bar: left.anti_roll_bar.is_some() || right.anti_roll_bar.is_some(),
            }))
        };
        Ok(Self { vehicle: document.vehicle.clone(), front: end(Axle::Front)?, rear: end(Axle::Rear)? })
    }

    /// Both wheels of an axle, to be taken to a state.
    #[must_use]
    pub fn pair(&self, axle: Axle) -> Option<&WheelPair> {
        self.end(axle).map(|end| &end.pair)
    }

    fn end(&self, axle: Axle) -> Option<&End> {
        match axle {
            Axle::Front => self.front.as_ref(),
            Axle::Rear => self.rear.as_ref(),
        }
    }

    /// Reads the whole car.
    ///
    /// # Errors
    /// A rate, a share or an acceleration out of its range.
    pub fn read(&self, input: &CarInput<'_>) -> Result<CarReadings, OutOfBounds> {
        let rates = [input.front_rates, input.rear_rates];
        for (axle, rates) in AXLES.into_iter().zip(rates) {
            rates.check(axle)?;
        }
        bounds::LATERAL_ACCELERATION.check("lateral_acceleration", input.lateral_acceleration)?;
        let shares = input.shares.unwrap_or_else(|| Shares::of(&self.vehicle));
        shares.check()?;
        let geometry = Geometry {
            front: self.geometry(Axle::Front, input.front),
            rear: self.geometry(Axle::Rear, input.rear),
        };
        let of_axles = AXLES.map(|axle| self.axle_masses(axle));
        let masses = self.masses(of_axles);
        let roll_axis = self.roll_axis(&geometry, masses.ok());
        let mut missing = Vec::new();
        let mut told = Told(&mut missing);
        Ok(CarReadings {
            loads: told.or_missing(Group::Loads, self.loads()),
            front_unsprung: told.or_missing(Group::FrontUnsprung, self.unsprung(Axle::Front)),
            rear_unsprung: told.or_missing(Group::RearUnsprung, self.unsprung(Axle::Rear)),
            masses: told.or_missing(Group::Masses, masses),
            roll_axis: told.or_missing(Group::RollAxis, roll_axis),
            lateral: told.or_missing(
                Group::Lateral,
                self.lateral(&geometry, masses, roll_axis, rates, input.lateral_acceleration),
            ),
            braking: told.or_missing(Group::Braking, self.braking(&geometry, &shares, rates)),
            driving: told.or_missing(Group::Driving, self.driving(&geometry, &shares, rates)),
            front_ride: told.or_missing(Group::FrontRide, ride(Axle::Front, of_axles[0], rates[0])),
            rear_ride: told.or_missing(Group::RearRide, ride(Axle::Rear, of_axles[1], rates[1])),
            missing,
        })
    }

    fn geometry(&self, axle: Axle, position: Option<&AxlePosition>) -> Option<EndGeometry> {
        let pair = &self.end(axle)?.pair;
        let position = match position {
            Some(position) => *position,
            None => AxleFollower::new(pair).go_to(AxleState::DESIGN, Lean::HeaveHeld).ok()?,
        };
        let reader = AxleReader::new(pair, &self.vehicle);
        let both = reader.read(&position);
        let corners = [Side::Left, Side::Right].map(|side| reader.corner(&position, side));
        let mean = |of: fn(&Readings) -> Option<f64>| {
            let [left, right] = corners.each_ref().map(of);
            left.zip(right).map(|(left, right)| 0.5 * (left + right))
        };
        let contact = |i: usize| 0.5 * (both.left.contact[i] + both.right.contact[i]);
        Some(EndGeometry {
            roll_centre: both.roll_centre.map(|centre| [centre.across, centre.height]),
            track: both.track,
            heave: position.heave(),
            contact: [contact(0), contact(2)],
            contact_slope: mean(|r| r.contact_slope_x),
            hub_slope: 0.5 * (corners[0].hub_slope_x + corners[1].hub_slope_x),
        })
    }

    fn loads(&self) -> Result<Loads, Lack> {
        let weight = self.vehicle.mass.ok_or(Lack::Mass)? * GRAVITY;
        let front = self.vehicle.front_mass_share.ok_or(Lack::FrontMassShare)?;
        let [front_axle, rear_axle] = AXLES.map(|axle| weight * axle.share(front));
        Ok(Loads {
            front_axle,
            rear_axle,
            front_wheel: 0.5 * front_axle,
            rear_wheel: 0.5 * rear_axle,
            cg_behind_front: self.vehicle.wheelbase.map(|wheelbase| (1.0 - front) * wheelbase),
        })
    }

    fn unsprung(&self, axle: Axle) -> Result<f64, Lack> {
        self.end(axle).ok_or(Lack::Corner(axle))?.unsprung.ok_or(Lack::Unsprung(axle))
    }

    fn axle_masses(&self, axle: Axle) -> Result<AxleMasses, Lack> {
        let mass = self.vehicle.mass.ok_or(Lack::Mass)?;
        let front_share = self.vehicle.front_mass_share.ok_or(Lack::FrontMassShare)?;
        let end = self.end(axle).ok_or(Lack::Corner(axle))?;
        let unsprung = self.unsprung(axle)?;
        let sprung = axle.share(front_share) * mass - unsprung;
        // Each axle must carry more than its own wheels.
        if sprung < bounds::LEAST_SPRUNG_MASS {
            return Err(Lack::UnsprungTooHeavy(axle));
        }
        Ok(AxleMasses { unsprung, unsprung_height: end.hub_height, sprung })
    }

    fn masses(&self, of_axles: [Result<AxleMasses, Lack>; 2]) -> Result<Masses, Lack> {
        let mass = self.vehicle.mass.ok_or(Lack::Mass)?;
        let [front, rear] = of_axles;
        let (front, rear) = (front?, rear?);
        let sprung = mass - front.unsprung - rear.unsprung;
        let sprung_cg_height = |height: f64| {
            let of_wheels = |axle: AxleMasses| axle.unsprung * axle.unsprung_height;
            (mass * height - of_wheels(front) - of_wheels(rear)) / sprung
        };
        Ok(Masses {
            front_unsprung: front.unsprung,
            rear_unsprung: rear.unsprung,
            front_unsprung_height: front.unsprung_height,
            rear_unsprung_height: rear.unsprung_height,
            sprung,
            sprung_front_share: front.sprung / sprung,
            sprung_cg_height: self.vehicle.cg_height.map(sprung_cg_height),
        })
    }

    fn roll_axis(&self, geometry: &Geometry, masses: Option<Masses>) -> Result<RollAxis, Lack> {
        let centre = |axle: Axle| {
            let end = geometry.end(axle)?;
            end.roll_centre.ok_or(Lack::RollCentreAtInfinity(axle))
        };
        let [front_across, front_height] = centre(Axle::Front)?;
        let [rear_across, rear_height] = centre(Axle::Rear)?;
        let [front_heave, rear_heave] = [geometry.end(Axle::Front)?.heave, geometry.end(Axle::Rear)?.heave];
        // The centre of gravity is given of the body at rest; the roll centres are of where it is now.
        // It divides the wheelbase as its mass is divided.
        let between = |masses: Masses, front: f64, rear: f64| {
            masses.sprung_front_share * front + (1.0 - masses.sprung_front_share) * rear
        };
        let height_at_cg = masses.map(|masses| between(masses, front_height, rear_height));
        Ok(RollAxis {
            front_height,
            rear_height,
            front_across,
            rear_across,
            inclination: self
                .vehicle
                .wheelbase
                .map(|wheelbase| crate::float::atan2(rear_height - front_height, wheelbase) * DEGREES),
            height_at_cg,
            cg_above: masses.zip(height_at_cg).and_then(|(masses, height)| {
                Some(masses.sprung_cg_height? - between(masses, front_heave, rear_heave) - height)
            }),
        })
    }
}

impl Geometry {
    fn end(&self, axle: Axle) -> Result<&EndGeometry, Lack> {
        let end = match axle {
            Axle::Front => &self.front,
            Axle::Rear => &self.rear,
        };
        end.as_ref().ok_or(Lack::Corner(axle))
    }
}

fn ride(axle: Axle, masses: Result<AxleMasses, Lack>, rates: AxleRates) -> Result<Ride, Lack> {
    let sprung_mass = 0.5 * masses?.sprung;
    let wheel_rate = rates.wheel_rate.ok_or(Lack::WheelRate(axle))?;
    // N/mm over kg is 1000/s².
    let frequency = |rate: f64| sqrt(1000.0 * rate / sprung_mass) / (2.0 * PI);
    let ride_rate = rates.tyre_rate.map(|tyre| wheel_rate * tyre / (wheel_rate + tyre));
    Ok(Ride {
        sprung_mass,
        frequency: frequency(wheel_rate),
        ride_rate,
        frequency_with_tyre: ride_rate.map(frequency),
    })
}

/// Keeps what groups lack while they are told.
struct Told<'a>(&'a mut Vec<Missing>);

impl Told<'_> {
    fn or_missing<T>(&mut self, group: Group, found: Result<T, Lack>) -> Option<T> {
        match found {
            Ok(found) => Some(found),
            Err(lack) => {
                self.0.push(Missing { group, lack });
                None
            }
        }
    }
}
