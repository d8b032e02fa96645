//! What the document would have to say for a number to exist.

use core::fmt;

/// An input that the document does not give, or a reason that no input can mend.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "snake_case"))]
#[non_exhaustive]
pub enum Missing {
    /// The corner has neither a spring nor a torsion bar.
    Spring,
    /// `spring.rate`.
    SpringRate,
    /// `torsion_bar.rate`.
    TorsionBarRate,
    /// `anti_roll_bar`.
    AntiRollBar,
    /// `anti_roll_bar.rate`.
    AntiRollBarRate,
    /// `vehicle.mass`.
    VehicleMass,
    /// `vehicle.front_mass_share`.
    FrontMassShare,
    /// `unsprung`: no part that moves with the wheel is named.
    UnsprungParts,
    /// `wheel.tyre_rate`.
    TyreRate,
    /// `wheel.tyre`.
    Tyre,
    /// `wheel.tyre` is a text that is no tyre's size.
    TyreSize,
    /// `wheel.rim`.
    Rim,
    /// `wheel.brake_disc`.
    BrakeDisc,
    /// At travel 0 the spring or torsion bar does not move with the wheel, so that no force of
    /// it carries the car.
    SpringLeverage,
}

impl Missing {
    /// The field's path in the corner or, beginning with `vehicle`, in the document.
    #[must_use]
    pub fn path(self) -> &'static str {
        match self {
            Self::Spring | Self::SpringLeverage => "spring",
            Self::SpringRate => "spring.rate",
            Self::TorsionBarRate => "torsion_bar.rate",
            Self::AntiRollBar => "anti_roll_bar",
            Self::AntiRollBarRate => "anti_roll_bar.rate",
            Self::VehicleMass => "vehicle.mass",
            Self::FrontMassShare => "vehicle.front_mass_share",
            Self::UnsprungParts => "unsprung",
            Self::TyreRate => "wheel.tyre_rate",
            Self::Tyre | Self::TyreSize => "wheel.tyre",
            Self::Rim => "wheel.rim",
            Self::BrakeDisc => "wheel.brake_disc",
        }
    }
}

/// What is needed, in words that continue “needs …”.
impl fmt::Display for Missing {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Spring => "a spring or a torsion bar",
            Self::SpringRate => "the spring's rate",
            Self::TorsionBarRate => "the torsion bar's rate",
            Self::AntiRollBar => "an anti-roll bar",
            Self::AntiRollBarRate => "the anti-roll bar's rate",
            Self::VehicleMass => "the car's mass",
            Self::FrontMassShare => "the share of the mass on the front wheels",
            Self::UnsprungParts => "the parts that move with the wheel and their masses",
            Self::TyreRate => "the tyre's rate",
            Self::Tyre => "the tyre's size",
            Self::TyreSize => "a tyre's size such as 235/40 R18",
            Self::Rim => "the rim's width",
            Self::BrakeDisc => "the brake disc's diameter and thickness",
            Self::SpringLeverage => "a spring that moves with the wheel at travel 0",
        })
    }
}
