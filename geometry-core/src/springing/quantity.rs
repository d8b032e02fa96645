//! The catalogue of the springing's numbers: name, unit, what each needs.

use super::{AtWheel, Missing, Springing};

/// A number of the springing that can be drawn over travel.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "snake_case"))]
#[expect(missing_docs, reason = "each is the field of its name in Springing or the part named in it")]
pub enum Quantity {
    SpringLength,
    SpringRatio,
    SpringForce,
    DamperLength,
    DamperRatio,
    TorsionBarTwist,
    RockerAngle,
    BarAngle,
    BarWheelRate,
    WheelForce,
    WheelRate,
    RideRate,
    RideFrequency,
    HopFrequency,
    StaticDeflection,
    RollRateOfSprings,
    RollRateOfBar,
    RollRate,
    RollRateWithTyres,
}

impl Quantity {
    /// Every one.
    pub const ALL: [Self; 19] = [
        Self::SpringLength,
        Self::SpringRatio,
        Self::SpringForce,
        Self::DamperLength,
        Self::DamperRatio,
        Self::TorsionBarTwist,
        Self::RockerAngle,
        Self::BarAngle,
        Self::BarWheelRate,
        Self::WheelForce,
        Self::WheelRate,
        Self::RideRate,
        Self::RideFrequency,
        Self::HopFrequency,
        Self::StaticDeflection,
        Self::RollRateOfSprings,
        Self::RollRateOfBar,
        Self::RollRate,
        Self::RollRateWithTyres,
    ];

    /// The value, where it exists.
    #[must_use]
    pub fn value(self, s: &Springing) -> Option<f64> {
        match self {
            Self::SpringLength => s.spring.map(|spring| spring.stroke.length),
            Self::SpringRatio => s.spring.map(|spring| spring.stroke.motion_ratio),
            Self::SpringForce => s.spring?.force,
            Self::DamperLength => s.damper.map(|damper| damper.length),
            Self::DamperRatio => s.damper.map(|damper| damper.motion_ratio),
            Self::TorsionBarTwist => s.torsion_bar?.twist,
            Self::RockerAngle => s.rocker.map(|rocker| rocker.turn.angle),
            Self::BarAngle => s.anti_roll_bar.map(|bar| bar.turn.angle),
            Self::BarWheelRate => s.anti_roll_bar?.wheel_rate_opposite,
            Self::WheelForce => s.wheel_force,
            Self::WheelRate => s.wheel_rate,
            Self::RideRate => s.ride_rate,
            Self::RideFrequency => s.ride_frequency,
            Self::HopFrequency => s.hop_frequency,
            Self::StaticDeflection => s.static_deflection,
            Self::RollRateOfSprings => s.roll.springs,
            Self::RollRateOfBar => s.roll.bar,
            Self::RollRate => s.roll.suspension,
            Self::RollRateWithTyres => s.roll.with_tyres,
        }
    }

    /// Its unit as a person writes it; empty for a ratio.
    #[must_use]
    pub fn unit(self) -> &'static str {
        match self {
            Self::SpringLength | Self::DamperLength | Self::StaticDeflection => "mm",
            Self::SpringRatio | Self::DamperRatio => "",
            Self::SpringForce | Self::WheelForce => "N",
            Self::TorsionBarTwist | Self::RockerAngle | Self::BarAngle => "°",
            Self::BarWheelRate | Self::WheelRate | Self::RideRate => "N/mm",
            Self::RideFrequency | Self::HopFrequency => "Hz",
            Self::RollRateOfSprings | Self::RollRateOfBar | Self::RollRate | Self::RollRateWithTyres => {
                "N·m/°"
            }
        }
    }

    /// The kinds of input that may keep it from existing.
    fn needs(self) -> &'static [Missing] {
        use Missing::{
            AntiRollBar, AntiRollBarRate, Spring, SpringLeverage, SpringRate, TorsionBarRate, TyreRate,
        };
        match self {
            Self::SpringLength | Self::SpringRatio => &[Spring],
            Self::SpringForce => &[Spring, SpringRate, SpringLeverage],
            Self::DamperLength | Self::DamperRatio | Self::RockerAngle => &[],
            Self::TorsionBarTwist => &[TorsionBarRate, SpringRate, SpringLeverage],
            Self::BarAngle => &[AntiRollBar],
            Self::BarWheelRate | Self::RollRateOfBar => &[AntiRollBar, AntiRollBarRate],
            Self::WheelForce | Self::WheelRate | Self::RollRateOfSprings => {
                &[Spring, SpringRate, TorsionBarRate, SpringLeverage]
            }
            Self::RideRate | Self::RideFrequency | Self::HopFrequency | Self::StaticDeflection => {
                &[Spring, SpringRate, TorsionBarRate, SpringLeverage, TyreRate]
            }
            Self::RollRate => &[Spring, SpringRate, TorsionBarRate, SpringLeverage, AntiRollBarRate],
            Self::RollRateWithTyres => {
                &[Spring, SpringRate, TorsionBarRate, SpringLeverage, AntiRollBarRate, TyreRate]
            }
        }
    }

    /// Whether the force of the springs is in it.
    fn holds_force(self) -> bool {
        !matches!(
            self,
            Self::SpringLength
                | Self::SpringRatio
                | Self::DamperLength
                | Self::DamperRatio
                | Self::RockerAngle
                | Self::BarAngle
                | Self::BarWheelRate
                | Self::RollRateOfBar
        )
    }
}

impl Springing {
    /// What the document would have to say for a quantity to exist: empty where it exists, and
    /// where no input is to blame (a rate that does not push back, the end of the travel, a
    /// part the corner has not).
    pub fn missing_for(&self, quantity: Quantity) -> impl Iterator<Item = Missing> {
        let exists = quantity.value(self).is_some();
        let always = quantity.needs();
        let of_share = [Missing::VehicleMass, Missing::FrontMassShare, Missing::UnsprungParts];
        let share = self.force_from_share && quantity.holds_force();
        let missing = move |missing: &Missing| {
            let in_masses = match quantity {
                Quantity::RideFrequency | Quantity::StaticDeflection => of_share.contains(missing),
                Quantity::HopFrequency => *missing == Missing::UnsprungParts,
                _ => false,
            };
            !exists && (always.contains(missing) || in_masses || (share && of_share.contains(missing)))
        };
        self.missing.iter().copied().filter(missing)
    }
}

impl AtWheel {
    /// Force, own rate and rate of the ratio of parts together; each `None` where one of the
    /// parts has it not, or where there is no part.
    pub(super) fn together(parts: [Option<Self>; 2]) -> Self {
        parts.into_iter().flatten().reduce(|a, b| a.plus(&b)).unwrap_or_default()
    }

    fn plus(&self, other: &Self) -> Self {
        let add = |a: Option<f64>, b: Option<f64>| a.zip(b).map(|(a, b)| a + b);
        Self {
            force: add(self.force, other.force),
            rate_of_spring: add(self.rate_of_spring, other.rate_of_spring),
            rate_of_ratio: add(self.rate_of_ratio, other.rate_of_ratio),
        }
    }
}
