//! An input that the setup does not give: what it is called, and where it is entered.

use geometry_core::{car::Lack, setup::Axle, springing};

/// Something a person can enter.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[expect(missing_docs, reason = "`Input::name` says what each is")]
pub enum Input {
    Wheelbase,
    Mass,
    FrontMassShare,
    CgHeight,
    BrakeFrontShare,
    DriveFrontShare,
    RegenerationFrontShare,
    Corner(Axle),
    Unsprung(Axle),
    Spring(Axle),
    CoilSpring(Axle),
    SpringRate(Axle),
    SpringLeverage(Axle),
    TorsionBarRate(Axle),
    AntiRollBar(Axle),
    AntiRollBarRate(Axle),
    TyreRate(Axle),
    Tyre(Axle),
    Rim(Axle),
    BrakeDisc(Axle),
    Damper(Axle),
    SteeringLink(Axle),
}

/// Where on the page something is entered.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Where {
    /// In the line at the top.
    Top,
    /// Under “Pivots”.
    Pivots,
    /// Under “Car and wheel”.
    Car,
}

impl Input {
    /// Of a corner of `axle`, what its springing misses; none where no input mends it.
    #[must_use]
    pub fn of_springing(missing: springing::Missing, axle: Axle) -> Option<Self> {
        use springing::Missing;
        Some(match missing {
            Missing::Spring => Self::Spring(axle),
            Missing::SpringRate => Self::SpringRate(axle),
            Missing::TorsionBarRate => Self::TorsionBarRate(axle),
            Missing::AntiRollBar => Self::AntiRollBar(axle),
            Missing::AntiRollBarRate => Self::AntiRollBarRate(axle),
            Missing::VehicleMass => Self::Mass,
            Missing::FrontMassShare => Self::FrontMassShare,
            Missing::UnsprungParts => Self::Unsprung(axle),
            Missing::TyreRate => Self::TyreRate(axle),
            Missing::Tyre | Missing::TyreSize => Self::Tyre(axle),
            Missing::Rim => Self::Rim(axle),
            Missing::BrakeDisc => Self::BrakeDisc(axle),
            Missing::SpringLeverage => Self::SpringLeverage(axle),
            // The list may grow.
            _ => return None,
        })
    }

    /// What a group of the car's readings lacks; none where it is no input that lacks.
    #[must_use]
    pub fn of_car(lack: Lack) -> Option<Self> {
        Some(match lack {
            Lack::Wheelbase => Self::Wheelbase,
            Lack::Mass => Self::Mass,
            Lack::FrontMassShare => Self::FrontMassShare,
            Lack::CgHeight => Self::CgHeight,
            Lack::BrakeFrontShare => Self::BrakeFrontShare,
            Lack::DriveFrontShare => Self::DriveFrontShare,
            Lack::RegenerationFrontShare => Self::RegenerationFrontShare,
            Lack::Corner(axle) => Self::Corner(axle),
            Lack::Unsprung(axle) => Self::Unsprung(axle),
            Lack::WheelRate(axle) => Self::SpringRate(axle),
            Lack::AntiRollBarRate(axle) => Self::AntiRollBarRate(axle),
            Lack::UnsprungTooHeavy(_)
            | Lack::RollCentreAtInfinity(_)
            | Lack::NoSlope(_)
            | Lack::FallsOver => return None,
        })
    }

    /// What it is called, in words that continue “needs …”.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Wheelbase => "the wheelbase",
            Self::Mass => "the car’s mass",
            Self::FrontMassShare => "the share of the mass on the front wheels",
            Self::CgHeight => "the height of the centre of gravity",
            Self::BrakeFrontShare => "the share of the braking at the front",
            Self::DriveFrontShare => "the share of the driving at the front",
            Self::RegenerationFrontShare => "the share of the regeneration at the front",
            Self::Corner(Axle::Front) => "a front corner",
            Self::Corner(Axle::Rear) => "a rear corner",
            Self::Unsprung(_) => "the parts that move with the wheel",
            Self::Spring(_) => "a spring or a torsion bar",
            Self::CoilSpring(_) => "a spring",
            Self::SpringRate(_) => "the spring’s rate",
            Self::SpringLeverage(_) => "a spring that moves with the wheel at travel 0",
            Self::TorsionBarRate(_) => "the torsion bar’s rate",
            Self::AntiRollBar(_) => "an anti-roll bar",
            Self::AntiRollBarRate(_) => "the anti-roll bar’s rate",
            Self::TyreRate(_) => "the tyre’s rate",
            Self::Tyre(_) => "the tyre’s size",
            Self::Rim(_) => "the rim’s width",
            Self::BrakeDisc(_) => "the brake disc",
            Self::Damper(_) => "a damper",
            Self::SteeringLink(_) => "a link that steers",
        }
    }

    /// The same with its axle, where that is not plain from what stands around it.
    #[must_use]
    pub fn name_with_axle(self) -> String {
        let name = self.name();
        match self.axle() {
            None => name.into(),
            Some(_) if matches!(self, Self::Corner(_)) => name.into(),
            Some(Axle::Front) => format!("{name} (front)"),
            Some(Axle::Rear) => format!("{name} (rear)"),
        }
    }

    /// The axle it belongs to; none for the car's own.
    #[must_use]
    pub fn axle(self) -> Option<Axle> {
        match self {
            Self::Wheelbase
            | Self::Mass
            | Self::FrontMassShare
            | Self::CgHeight
            | Self::BrakeFrontShare
            | Self::DriveFrontShare
            | Self::RegenerationFrontShare => None,
            Self::Corner(axle)
            | Self::Unsprung(axle)
            | Self::Spring(axle)
            | Self::CoilSpring(axle)
            | Self::SpringRate(axle)
            | Self::SpringLeverage(axle)
            | Self::TorsionBarRate(axle)
            | Self::AntiRollBar(axle)
            | Self::AntiRollBarRate(axle)
            | Self::TyreRate(axle)
            | Self::Tyre(axle)
            | Self::Rim(axle)
            | Self::BrakeDisc(axle)
            | Self::Damper(axle)
            | Self::SteeringLink(axle) => Some(axle),
        }
    }

    /// Where it is entered: the part of the page, and what there is to be focused (the first
    /// that matches).
    #[must_use]
    pub fn place(self) -> (Where, String) {
        let field = |path: String| format!("[data-field=\"{path}\"]");
        let car = |name: &str| (Where::Car, field(format!("vehicle.{name}")));
        let of = |axle: Axle, name: &str| field(format!("{}.{name}", axle.name()));
        let add = |path: &str| format!("[data-add=\"{path}\"]");
        match self {
            Self::Wheelbase => car("wheelbase"),
            Self::Mass => car("mass"),
            Self::FrontMassShare => car("front_mass_share"),
            Self::CgHeight => car("cg_height"),
            Self::BrakeFrontShare => car("brake_front_share"),
            Self::DriveFrontShare => car("drive_front_share"),
            Self::RegenerationFrontShare => car("regeneration_front_share"),
            Self::Corner(_) => (Where::Top, "[data-do=layout]".into()),
            Self::Unsprung(_) => (Where::Car, add("unsprung")),
            Self::Spring(_) | Self::CoilSpring(_) => (Where::Pivots, add("spring")),
            Self::SpringRate(axle) => (Where::Pivots, of(axle, "spring.rate")),
            Self::SpringLeverage(_) => (Where::Pivots, field("spring.carried.x".into())),
            Self::TorsionBarRate(axle) => (Where::Pivots, of(axle, "torsion_bar.rate")),
            Self::AntiRollBar(_) => (Where::Pivots, add("anti_roll_bar")),
            Self::AntiRollBarRate(axle) => (Where::Pivots, of(axle, "anti_roll_bar.rate")),
            Self::TyreRate(axle) => (Where::Car, of(axle, "wheel.tyre_rate")),
            Self::Tyre(_) => (Where::Car, field("tyre".into())),
            Self::Rim(_) => (Where::Car, add("wheel.rim")),
            Self::BrakeDisc(_) => (Where::Car, add("wheel.brake_disc")),
            Self::Damper(_) => (Where::Pivots, add("damper")),
            Self::SteeringLink(_) => (Where::Pivots, "[data-steers]".into()),
        }
    }
}

/// Why a reading is not told: what a person can enter, or a reason that no input mends.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Why {
    /// Inputs that the setup does not give, at least one.
    Needs(Vec<Input>),
    /// A reason, as a sentence without a full stop.
    Because(String),
}

impl Why {
    /// In words alone.
    #[must_use]
    pub fn words(&self) -> String {
        match self {
            Self::Needs(inputs) => {
                let names: Vec<&str> = inputs.iter().map(|input| input.name()).collect();
                let Some((last, others)) = names.split_last() else { return String::new() };
                let and = if others.is_empty() { "" } else { " and " };
                format!("needs {}{and}{last}", others.join(", "))
            }
            Self::Because(reason) => reason.clone(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn needs_are_joined_as_people_say_them() {
        let needs = |inputs: &[Input]| Why::Needs(inputs.to_vec()).words();
        assert_eq!(needs(&[Input::Mass]), "needs the car’s mass");
        assert_eq!(
            needs(&[Input::Mass, Input::Wheelbase, Input::SpringRate(Axle::Rear)]),
            "needs the car’s mass, the wheelbase and the spring’s rate"
        );
    }
}
