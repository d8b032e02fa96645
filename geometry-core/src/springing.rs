//! Springing: what springs, bars and dampers do at the wheel, over travel.
//!
//! A spring of rate k with the motion ratio r (shortening per mm of wheel-centre travel) pushes
//! the wheel centre down with F r, and its rate there is the second derivative of its energy:
//! k r² + F dr/dz. The second term comes from the changing ratio under load and may be of
//! either sign. Rockers, struts and torsion bars need nothing of their own: a ratio is a
//! velocity that [`carried`](crate::carried) gives exactly, its change a difference of nearby
//! positions (good to some 1e-10 per mm, which is 1e-6 N/mm under 5 kN).
//!
//! The force at travel 0 is that of rate and free length where the document gives them. Where
//! it gives no free length it is the force that carries the corner's share of the car at rest:
//! the load at the contact less the weight of the unsprung parts at the wheel centre, by virtual
//! work. Where a corner has a spring and a torsion bar, the one of which the preload is not
//! known carries the rest: the torsion bar where the spring has a free length, else the spring,
//! with the torsion bar not twisted at travel 0. Both wheels of an axle level, the anti-roll
//! bar does nothing.
//!
//! ```
//! use geometry_core::{linkage::Linkage, setup::{example, Axle, Side}, solve::Follower, springing};
//!
//! let document = example();
//! let corner = document.corner(Axle::Front).expect("the example has a front axle");
//! let linkage = Linkage::new(corner, Side::Left).expect("the example can be assembled");
//! let reader = springing::Reader::new(&linkage, corner, &document.vehicle, Axle::Front);
//! let springing = reader.read(&Follower::new(&linkage));
//!
//! let spring = springing.spring.expect("it has a spring");
//! let (rate, force) = (spring.rate.expect("given"), spring.force.expect("from the load"));
//! let (ratio, change) = (spring.stroke.motion_ratio, spring.stroke.ratio_change.expect("inside the travel"));
//! let wheel_rate = springing.wheel_rate.expect("all is given");
//! assert!((wheel_rate - (rate * ratio * ratio + force * change)).abs() < 1e-9);
//! assert!(springing.missing.is_empty());
//! ```

mod around;
mod missing;
mod quantity;
mod rates;
mod state;

pub use missing::Missing;
pub use quantity::Quantity;
pub use rates::{
    QuarterCar, SPRING_STEEL, active_coils, bar_rate, coil_rate, damping_ratio, frequency,
    frequency_of_deflection, in_series, roll_rate, static_deflection,
};
pub use state::{AtWheel, BarState, RockerState, RollRates, SpringState, Stroke, TorsionBarState, Turn};

use alloc::vec::Vec;
use core::f64::consts::PI;

use crate::{
    Vec3,
    bounds::{BAR_AT_REST, SPRING_AT_REST},
    carried::{Angle, Length, Rod},
    float::norm,
    linkage::{Led, Linkage},
    readings::{contact, spin_axis},
    setup::{Axle, Corner, GRAVITY, Vehicle},
    solve::{Follower, Position, State},
};
use around::Around;

const DEGREES: f64 = 180.0 / PI;
/// N·mm/rad of a N·m/°.
const PER_RADIAN: f64 = 1000.0 * DEGREES;

/// A corner's springing in one position, wheels of the axle level.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Springing {
    /// The spring.
    pub spring: Option<SpringState>,
    /// The torsion bar.
    pub torsion_bar: Option<TorsionBarState>,
    /// The damper; its ratio is the damper's velocity over that of the wheel centre.
    pub damper: Option<Stroke>,
    /// The rocker.
    pub rocker: Option<RockerState>,
    /// This side's half of the anti-roll bar.
    pub anti_roll_bar: Option<BarState>,
    /// Downward force of spring and torsion bar at the wheel centre, N.
    pub wheel_force: Option<f64>,
    /// Wheel rate at the wheel centre, N/mm: the sum of the next two.
    pub wheel_rate: Option<f64>,
    /// Its part that is the springs' own, N/mm: Σ k r².
    pub wheel_rate_of_springs: Option<f64>,
    /// Its part from changing ratios under load, N/mm: Σ F dr/dz.
    pub wheel_rate_of_ratio: Option<f64>,
    /// Wheel rate and tyre rate one on the other, N/mm (Gillespie, *Fundamentals of Vehicle
    /// Dynamics*, 1992, ch. 5; from memory).
    pub ride_rate: Option<f64>,
    /// Frequency of the sprung mass on the ride rate, Hz.
    pub ride_frequency: Option<f64>,
    /// Frequency of the unsprung mass between body and road, wheel rate and tyre rate in
    /// parallel, Hz.
    pub hop_frequency: Option<f64>,
    /// The two frequencies with both masses free, lower first, Hz.
    pub natural_frequencies: Option<[f64; 2]>,
    /// How far the sprung mass would press the ride rate down, mm: what belongs to the ride
    /// frequency, √(g/δ)/2π.
    pub static_deflection: Option<f64>,
    /// The corner's share of the car at rest less its unsprung mass, kg.
    pub sprung_mass: Option<f64>,
    /// Sum over the parts that move with the wheel, kg.
    pub unsprung_mass: Option<f64>,
    /// Rate of the tyre as given, N/mm.
    pub tyre_rate: Option<f64>,
    /// Twice the contact's distance from the car's centre plane, mm.
    pub track: f64,
    /// Roll rates of the axle.
    pub roll: RollRates,
    /// Whether the force at travel 0 is the one that carries the corner's share of the car, and
    /// not that of a free length.
    pub force_from_share: bool,
    /// By how much the springs push the wheel down more than the corner's share asks, at travel
    /// 0, N at the wheel centre: other than zero only with a free length, and then a sign that
    /// the points were not taken at rest or a number is wrong.
    pub excess_at_design: Option<f64>,
    /// Every input that is not given and keeps some number from existing, each once;
    /// [`Springing::missing_for`] tells which of them a quantity needs.
    pub missing: Vec<Missing>,
}

/// A corner with what does not change while it moves: loads, preloads, what is missing.
#[derive(Debug, Clone, PartialEq)]
pub struct Reader<'a> {
    linkage: &'a Linkage,
    corner: &'a Corner,
    unsprung_mass: Option<f64>,
    sprung_mass: Option<f64>,
    spring: Preload,
    torsion_bar: Preload,
    force_from_share: bool,
    excess_at_design: Option<f64>,
    missing: Vec<Missing>,
}

/// A spring or torsion bar in the design position.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Preload {
    /// Length, mm; 0 of a torsion bar, whose twist counts from the design position.
    length: f64,
    /// Shortening or turning per mm of travel, mm or rad.
    ratio: f64,
    /// Force, N, or moment against right-handed turning, N·mm.
    force: Option<f64>,
}

impl Preload {
    /// The force that gives `at_wheel` at the wheel centre; `None` without leverage.
    fn carrying(&self, at_wheel: f64, leverage: f64) -> Option<f64> {
        (self.ratio.abs() >= leverage).then(|| at_wheel / self.ratio)
    }
}

impl<'a> Reader<'a> {
    /// Prepares the springing of a corner of `vehicle`'s `axle`; `linkage` is that corner's.
    #[must_use]
    pub fn new(linkage: &'a Linkage, corner: &'a Corner, vehicle: &Vehicle, axle: Axle) -> Self {
        let design = *Follower::new(linkage).position();
        let wheel_load = vehicle.wheel_load(axle);
        let unsprung_mass = corner.unsprung_mass();
        let masses = wheel_load.zip(unsprung_mass);
        // On travel, the load at the contact does work with the contact's rise.
        let rise = {
            let at = contact(linkage, &design, &spin_axis(linkage, &design));
            design.travel_twist().velocity_at(&at).z
        };
        let asked = masses.map(|(load, unsprung)| load * rise - unsprung * GRAVITY);

        let length = linkage.spring_at(&design);
        let angle = linkage.torsion_bar_at(&design);
        let mut spring = Preload {
            length: length.map_or(0.0, |spring| spring.length),
            ratio: length.map_or(0.0, |spring| spring.per_travel),
            force: None,
        };
        let mut torsion_bar =
            Preload { length: 0.0, ratio: angle.map_or(0.0, |bar| bar.per_travel), force: None };
        let document = corner.spring.as_ref();
        let free_length = document.and_then(|spring| spring.free_length);
        let (has_spring, has_bar) = (document.is_some(), corner.torsion_bar.is_some());
        let force_from_share = if has_spring { free_length.is_none() || has_bar } else { has_bar };
        let mut no_leverage = false;
        if let Some(free) = free_length {
            spring.force = document.and_then(|spring| spring.rate).map(|rate| rate * (free - spring.length));
            if has_bar && let Some((asked, force)) = asked.zip(spring.force) {
                torsion_bar.force = torsion_bar.carrying(asked - force * spring.ratio, BAR_AT_REST);
                no_leverage = torsion_bar.force.is_none();
            }
        } else if has_spring {
            torsion_bar.force = has_bar.then_some(0.0);
            spring.force = asked.and_then(|asked| spring.carrying(asked, SPRING_AT_REST));
            no_leverage = asked.is_some() && spring.force.is_none();
        } else if has_bar {
            torsion_bar.force = asked.and_then(|asked| torsion_bar.carrying(asked, BAR_AT_REST));
            no_leverage = asked.is_some() && torsion_bar.force.is_none();
        }
        let part = |has: bool, part: &Preload| {
            if has { part.force.map(|force| force * part.ratio) } else { Some(0.0) }
        };
        let pushes = part(has_spring, &spring).zip(part(has_bar, &torsion_bar));
        let excess = (has_spring || has_bar)
            .then(|| pushes.zip(asked).map(|((spring, bar), asked)| spring + bar - asked))
            .flatten();
        Self {
            linkage,
            corner,
            unsprung_mass,
            sprung_mass: masses.map(|(load, unsprung)| load / GRAVITY - unsprung),
            spring,
            torsion_bar,
            force_from_share,
            excess_at_design: excess,
            missing: missing_inputs(corner, vehicle, no_leverage),
        }
    }

    /// The springing where the follower stands; it is not moved.
    #[must_use]
    pub fn read(&self, follower: &Follower<'_>) -> Springing {
        let (linkage, position) = (self.linkage, follower.position());
        let around = Around::find(follower);
        let around = around.as_ref();
        let spring = linkage.spring_at(position).map(|length| self.spring(&length, position, around));
        let torsion_bar =
            linkage.torsion_bar_at(position).map(|angle| self.torsion_bar(&angle, position, around));
        let at_wheel =
            AtWheel::together([spring.map(|spring| spring.at_wheel), torsion_bar.map(|bar| bar.at_wheel)]);
        let wheel_rate =
            at_wheel.rate_of_spring.zip(at_wheel.rate_of_ratio).map(|(spring, ratio)| spring + ratio);
        let anti_roll_bar = self.anti_roll_bar(position, around);
        let tyre_rate = self.corner.wheel.tyre_rate;
        let rates = wheel_rate.zip(tyre_rate);
        // A mass of zero stands for one not known: nothing that needs it exists then.
        let car = rates.map(|(wheel_rate, tyre_rate)| QuarterCar {
            sprung_mass: self.sprung_mass.unwrap_or_default(),
            unsprung_mass: self.unsprung_mass.unwrap_or_default(),
            wheel_rate,
            tyre_rate,
        });
        let track = 2.0 * contact(linkage, position, &spin_axis(linkage, position)).y.abs();
        Springing {
            rocker: self.rocker(position, around, spring.as_ref(), torsion_bar.as_ref()),
            spring,
            torsion_bar,
            damper: linkage.damper_at(position).map(|length| {
                let design = Follower::new(linkage);
                let before = linkage.damper_at(design.position()).map_or(length.length, |d| d.length);
                stroke(&length, before, around, |position| linkage.damper_at(position))
            }),
            anti_roll_bar,
            wheel_force: at_wheel.force,
            wheel_rate,
            wheel_rate_of_springs: at_wheel.rate_of_spring,
            wheel_rate_of_ratio: at_wheel.rate_of_ratio,
            ride_rate: car.and_then(|car| car.ride_rate()),
            ride_frequency: car.and_then(|car| car.ride_frequency()),
            hop_frequency: car.and_then(|car| car.hop_frequency()),
            natural_frequencies: car.and_then(|car| car.natural_frequencies()),
            static_deflection: car.and_then(|car| car.static_deflection()),
            sprung_mass: self.sprung_mass,
            unsprung_mass: self.unsprung_mass,
            tyre_rate,
            track,
            roll: self.roll(wheel_rate, anti_roll_bar.as_ref(), track),
            force_from_share: self.force_from_share,
            excess_at_design: self.excess_at_design,
            missing: self.missing.clone(),
        }
    }

    /// Whether lengths and angles are those of the design position.
    fn stands_at_design(&self, position: &Position) -> bool {
        let State { travel, rack } = position.state();
        travel == 0.0 && (rack == 0.0 || !self.linkage.steers)
    }

    fn spring(&self, length: &Length, position: &Position, around: Option<&Around>) -> SpringState {
        let linkage = self.linkage;
        let document = self.corner.spring.as_ref();
        let rate = document.and_then(|spring| spring.rate);
        let stroke = stroke(length, self.spring.length, around, |position| linkage.spring_at(position));
        let force = match (self.spring.force, rate) {
            (Some(force), Some(rate)) => Some(force + rate * stroke.shortening),
            (force, None) if self.stands_at_design(position) => force,
            _ => None,
        };
        let given = document.and_then(|spring| spring.free_length);
        let found = self.spring.force.zip(rate).map(|(force, rate)| self.spring.length + force / rate);
        SpringState {
            stroke,
            rate,
            force,
            free_length: given.or(found),
            at_wheel: at_wheel(rate, force, length.per_travel, stroke.ratio_change),
        }
    }

    fn torsion_bar(&self, angle: &Angle, position: &Position, around: Option<&Around>) -> TorsionBarState {
        let linkage = self.linkage;
        let rate = self.corner.torsion_bar.as_ref().and_then(|bar| bar.rate);
        let change = around.and_then(|a| a.slope(|p| Some(linkage.torsion_bar_at(p)?.per_travel)));
        // In N·mm and rad, right-handed; turned to what bump twists only on the way out.
        let per_radian = rate.map(|rate| rate * PER_RADIAN);
        let moment = match (self.torsion_bar.force, per_radian) {
            (Some(moment), Some(rate)) => Some(moment + rate * angle.angle),
            (moment, None) if self.stands_at_design(position) => moment,
            _ => None,
        };
        let sign = sign(self.torsion_bar.ratio);
        TorsionBarState {
            turn: turn(angle, sign, change),
            rate,
            moment: moment.map(|moment| sign * moment / 1000.0),
            twist: moment.zip(per_radian).map(|(moment, rate)| sign * moment / rate * DEGREES),
            at_wheel: at_wheel(per_radian, moment, angle.per_travel, change),
        }
    }

    fn rocker(
        &self,
        position: &Position,
        around: Option<&Around>,
        spring: Option<&SpringState>,
        torsion_bar: Option<&TorsionBarState>,
    ) -> Option<RockerState> {
        let (linkage, led) = (self.linkage, self.linkage.rocker.as_ref()?);
        let rod = linkage.rocker_at(position)?;
        let sign = sign(linkage.rocker_at(Follower::new(linkage).position())?.turned.per_travel);
        let change = around.and_then(|a| a.slope(|p| Some(linkage.rocker_at(p)?.turned.per_travel)));
        let id = self.corner.rocker.as_ref().map(|rocker| rocker.id.as_str());
        let on = |name: Option<&str>| name.is_some() && name == id;
        let spring_on = self.corner.spring.as_ref().map(|spring| spring.on.as_str());
        let bar_on = self.corner.torsion_bar.as_ref().map(|bar| bar.on.as_str());
        // Virtual work over the wheel's travel turns forces at the wheel into the rod's.
        let of = |stands: bool, at_wheel: Option<&AtWheel>| {
            if stands { at_wheel.and_then(|at_wheel| at_wheel.force) } else { Some(0.0) }
        };
        let force = of(on(spring_on), spring.map(|spring| &spring.at_wheel))
            .zip(of(on(bar_on), torsion_bar.map(|bar| &bar.at_wheel)))
            .map(|(spring, bar)| spring + bar);
        let per_turn = leverage(led, &rod);
        // Force at the wheel = moment × turning per travel; moment = rod force × leverage.
        let rod_force = force.map(|force| force / (rod.turned.per_travel * per_turn));
        Some(RockerState {
            turn: turn(&rod.turned, sign, change),
            rod_end: rod.joint.into(),
            carried: rod.carried.into(),
            rod_ratio: norm(&led.arm) * rod.turned.per_travel.abs(),
            // The quotient is a pull: leverage is that of a pull towards the other joint.
            rod_force: rod_force.filter(|force| force.is_finite()),
        })
    }

    fn anti_roll_bar(&self, position: &Position, around: Option<&Around>) -> Option<BarState> {
        let (linkage, led) = (self.linkage, self.linkage.anti_roll_bar.as_ref()?);
        let rod = linkage.anti_roll_bar_at(position)?;
        let sign = sign(linkage.anti_roll_bar_at(Follower::new(linkage).position())?.turned.per_travel);
        let change = around.and_then(|a| a.slope(|p| Some(linkage.anti_roll_bar_at(p)?.turned.per_travel)));
        let rate = self.corner.anti_roll_bar.as_ref().and_then(|bar| bar.rate);
        let per_travel = rod.turned.per_travel;
        let single = rate.map(|rate| rate * PER_RADIAN * per_travel * per_travel);
        let moment = rate.map(|rate| rate * PER_RADIAN * 2.0 * per_travel);
        let drop_link_force = moment.map(|moment| (moment / leverage(led, &rod)).abs());
        Some(BarState {
            turn: turn(&rod.turned, sign, change),
            arm_end: rod.joint.into(),
            carried: rod.carried.into(),
            arm_end_ratio: norm(&led.arm) * per_travel.abs(),
            rate,
            wheel_rate_opposite: single.map(|single| 2.0 * single),
            wheel_rate_single: single,
            drop_link_force: drop_link_force.filter(|force| force.is_finite()),
        })
    }

    fn roll(&self, wheel_rate: Option<f64>, bar: Option<&BarState>, track: f64) -> RollRates {
        let of_bar = match (&self.corner.anti_roll_bar, bar) {
            (None, _) => Some(0.0),
            (Some(_), bar) => bar.and_then(|bar| bar.wheel_rate_opposite),
        };
        let both = wheel_rate.zip(of_bar).map(|(spring, bar)| spring + bar);
        let roll = |rate: Option<f64>| rate.map(|rate| roll_rate(rate, track));
        let tyres = self.corner.wheel.tyre_rate;
        RollRates {
            springs: roll(wheel_rate),
            bar: roll(of_bar),
            suspension: roll(both),
            with_tyres: roll(both.zip(tyres).and_then(|(both, tyre)| in_series(both, tyre))),
        }
    }
}

/// What keeps some number from existing, in the order in which a person would fill it in.
fn missing_inputs(corner: &Corner, vehicle: &Vehicle, no_leverage: bool) -> Vec<Missing> {
    let (spring, bar) = (corner.spring.as_ref(), corner.torsion_bar.as_ref());
    let anti_roll_bar = corner.anti_roll_bar.as_ref();
    let reasons = [
        (Missing::Spring, spring.is_none() && bar.is_none()),
        (Missing::SpringRate, spring.is_some_and(|spring| spring.rate.is_none())),
        (Missing::TorsionBarRate, bar.is_some_and(|bar| bar.rate.is_none())),
        (Missing::SpringLeverage, no_leverage),
        (Missing::AntiRollBar, anti_roll_bar.is_none()),
        (Missing::AntiRollBarRate, anti_roll_bar.is_some_and(|bar| bar.rate.is_none())),
        (Missing::VehicleMass, vehicle.mass.is_none()),
        (Missing::FrontMassShare, vehicle.front_mass_share.is_none()),
        (Missing::UnsprungParts, corner.unsprung.is_empty()),
        (Missing::TyreRate, corner.wheel.tyre_rate.is_none()),
    ];
    reasons.into_iter().filter(|(_, is)| *is).map(|(reason, _)| reason).collect()
}

/// −1 for what bump turns left-handed.
fn sign(per_travel: f64) -> f64 {
    if per_travel < 0.0 { -1.0 } else { 1.0 }
}

fn turn(angle: &Angle, sign: f64, change: Option<f64>) -> Turn {
    Turn {
        // Without the sign of a negative zero.
        angle: sign * angle.angle * DEGREES + 0.0,
        per_travel: sign * angle.per_travel * DEGREES,
        change: change.map(|change| sign * change * DEGREES),
    }
}

fn stroke(
    length: &Length,
    before: f64,
    around: Option<&Around>,
    at: impl Fn(&Position) -> Option<Length>,
) -> Stroke {
    Stroke {
        body: length.body.into(),
        carried: length.carried.into(),
        length: length.length,
        shortening: before - length.length,
        motion_ratio: length.per_travel,
        ratio_change: around.and_then(|around| around.slope(|position| Some(at(position)?.per_travel))),
    }
}

fn at_wheel(rate: Option<f64>, force: Option<f64>, ratio: f64, change: Option<f64>) -> AtWheel {
    AtWheel {
        force: force.map(|force| force * ratio),
        rate_of_spring: rate.map(|rate| rate * ratio * ratio),
        rate_of_ratio: force.zip(change).map(|(force, change)| force * change),
    }
}

/// Moment about the led part's axis of a unit pull of the rod at its joint, mm.
fn leverage(led: &Led, rod: &Rod) -> f64 {
    let along: Vec3 = rod.carried - rod.joint;
    led.axis.cross(&(rod.joint - led.foot)).dot(&along) / norm(&along)
}
