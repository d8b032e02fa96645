//! Rates, frequencies and deflections of springs and masses: the formulas of the books.

use core::f64::consts::PI;

use crate::{
    bounds::{ACTIVE_COILS, BAR_LENGTH, COIL_DIAMETER, OutOfBounds, SHEAR_MODULUS, SPRING_RATE, WIRE},
    float::sqrt,
    setup::GRAVITY,
};

/// Modulus of shear of spring steel, N/mm² (Barton & Fieldhouse, *Automotive Chassis
/// Engineering*, 2018, p. 213).
pub const SPRING_STEEL: f64 = 79_300.0;

/// Rate of a helical spring of round wire, N/mm: k = G d⁴/(8 n D³), with G the modulus of
/// shear in N/mm², d the wire's and D the coil's mean diameter in mm and n the active coils
/// (Barton & Fieldhouse 2018, sec. 3.13, p. 213).
///
/// # Errors
/// The first number that is out of range.
pub fn coil_rate(
    shear_modulus: f64,
    wire: f64,
    coil_diameter: f64,
    active_coils: f64,
) -> Result<f64, OutOfBounds> {
    ACTIVE_COILS.check("active_coils", active_coils)?;
    Ok(rate_of_one_coil(shear_modulus, wire, coil_diameter)? / active_coils)
}

/// How many active coils give a helical spring a rate (N/mm): [`coil_rate`] solved for them.
///
/// # Errors
/// The first number that is out of range.
pub fn active_coils(
    shear_modulus: f64,
    wire: f64,
    coil_diameter: f64,
    rate: f64,
) -> Result<f64, OutOfBounds> {
    SPRING_RATE.check("rate", rate)?;
    Ok(rate_of_one_coil(shear_modulus, wire, coil_diameter)? / rate)
}

fn rate_of_one_coil(shear_modulus: f64, wire: f64, coil_diameter: f64) -> Result<f64, OutOfBounds> {
    SHEAR_MODULUS.check("shear_modulus", shear_modulus)?;
    WIRE.check("wire", wire)?;
    COIL_DIAMETER.check("coil_diameter", coil_diameter)?;
    Ok(shear_modulus * wire * wire * wire * wire / (8.0 * coil_diameter * coil_diameter * coil_diameter))
}

/// Moment over twist of a round bar, N·m/°: G π (d⁴ − i⁴)/(32 L), with G in N/mm², outer and
/// inner diameter d and i (0 for a solid bar) and length L in mm (any text on strength of
/// materials; from memory). The bending of an anti-roll bar's arms and its bushes make the
/// whole softer.
///
/// # Errors
/// The first number that is out of range; an inner diameter must be less than the outer.
pub fn bar_rate(shear_modulus: f64, outer: f64, inner: f64, length: f64) -> Result<f64, OutOfBounds> {
    SHEAR_MODULUS.check("shear_modulus", shear_modulus)?;
    WIRE.check("outer", outer)?;
    crate::bounds::Bound { least: 0.0, most: 0.99 * outer, unit: "mm" }.check("inner", inner)?;
    BAR_LENGTH.check("length", length)?;
    let fourth = |d: f64| d * d * d * d;
    let per_radian = shear_modulus * PI * (fourth(outer) - fourth(inner)) / (32.0 * length);
    Ok(per_radian * PI / 180.0 / 1000.0)
}

/// Rate of two springs one on the other, N/mm: a b/(a + b). `None` where one of them does not
/// push back.
#[must_use]
pub fn in_series(a: f64, b: f64) -> Option<f64> {
    (a > 0.0 && b > 0.0).then(|| a * b / (a + b))
}

/// Undamped natural frequency of a mass (kg) on a rate (N/mm), Hz: √(k/m)/2π. `None` where
/// mass or rate is not positive.
#[must_use]
pub fn frequency(rate: f64, mass: f64) -> Option<f64> {
    // A newton is 1000 kg·mm/s².
    (rate > 0.0 && mass > 0.0).then(|| sqrt(1000.0 * rate / mass) / (2.0 * PI))
}

/// How far a weight (mass in kg) presses a rate (N/mm) down, mm: m g/k.
#[must_use]
pub fn static_deflection(rate: f64, mass: f64) -> Option<f64> {
    (rate > 0.0 && mass > 0.0).then(|| mass * GRAVITY / rate)
}

/// Natural frequency that belongs to a static deflection (mm), Hz: √(g/δ)/2π (Gillespie,
/// *Fundamentals of Vehicle Dynamics*, 1992, ch. 5; from memory).
#[must_use]
pub fn frequency_of_deflection(deflection: f64) -> Option<f64> {
    (deflection > 0.0).then(|| sqrt(1000.0 * GRAVITY / deflection) / (2.0 * PI))
}

/// Share of critical damping: c/(2 √(k m)), with the damping c at the wheel in N·s/m, k in N/mm
/// and m in kg.
#[must_use]
pub fn damping_ratio(damping: f64, rate: f64, mass: f64) -> Option<f64> {
    (rate > 0.0 && mass > 0.0).then(|| damping / (2.0 * sqrt(1000.0 * rate * mass)))
}

/// Roll rate of an axle, N·m/°, whose wheels push back with `rate` (N/mm) each when they move
/// opposite ways: k t²/2 per radian, t the track in mm (Gillespie 1992, sec. 6.5; Milliken &
/// Milliken, *Race Car Vehicle Dynamics*, 1995, ch. 16; from memory).
#[must_use]
pub fn roll_rate(rate: f64, track: f64) -> f64 {
    0.5 * rate * track * track * PI / 180.0 / 1000.0
}

/// A corner as two masses on two springs: the body's share on the suspension, the wheel on its
/// tyre.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct QuarterCar {
    /// Mass that the suspension carries, kg.
    pub sprung_mass: f64,
    /// Mass that moves with the wheel, kg.
    pub unsprung_mass: f64,
    /// Rate of the suspension at the wheel, N/mm.
    pub wheel_rate: f64,
    /// Rate of the tyre, N/mm.
    pub tyre_rate: f64,
}

impl QuarterCar {
    /// Suspension and tyre one on the other, N/mm (Gillespie 1992, eq. 5-11; from memory).
    #[must_use]
    pub fn ride_rate(&self) -> Option<f64> {
        in_series(self.wheel_rate, self.tyre_rate)
    }

    /// Frequency of the body on the ride rate, Hz (Gillespie 1992, eq. 5-12; from memory).
    #[must_use]
    pub fn ride_frequency(&self) -> Option<f64> {
        frequency(self.ride_rate()?, self.sprung_mass)
    }

    /// Frequency of the wheel between a body at rest and the road, on both springs together,
    /// Hz (Barton & Fieldhouse 2018, sec. 3.13, p. 213).
    #[must_use]
    pub fn hop_frequency(&self) -> Option<f64> {
        frequency(self.wheel_rate + self.tyre_rate, self.unsprung_mass)
    }

    /// How far the body's weight presses suspension and tyre down together, mm.
    #[must_use]
    pub fn static_deflection(&self) -> Option<f64> {
        static_deflection(self.ride_rate()?, self.sprung_mass)
    }

    /// The two natural frequencies with both masses free, lower first, Hz: the roots of
    /// m M ω⁴ − (M (k + t) + m k) ω² + k t = 0 (any text on vibrations).
    #[must_use]
    pub fn natural_frequencies(&self) -> Option<[f64; 2]> {
        let Self { sprung_mass, unsprung_mass, wheel_rate, tyre_rate } = *self;
        let positive = [sprung_mass, unsprung_mass, wheel_rate, tyre_rate].iter().all(|x| *x > 0.0);
        if !positive {
            return None;
        }
        let a = sprung_mass * unsprung_mass;
        let b = sprung_mass * (wheel_rate + tyre_rate) + unsprung_mass * wheel_rate;
        let c = wheel_rate * tyre_rate;
        // Never negative: (M (k + t) + m k)² ≥ 4 m M k (k + t).
        let root = sqrt((b * b - 4.0 * a * c).max(0.0));
        // The lower root as a quotient, so that it is no difference of near numbers.
        let (low, high) = (2.0 * c / (b + root), (b + root) / (2.0 * a));
        Some([low, high].map(|square| sqrt(1000.0 * square) / (2.0 * PI)))
    }
}
