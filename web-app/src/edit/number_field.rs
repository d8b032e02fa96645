//! The numbers and texts of the document outside points and names.

use geometry_core::{
    bounds::{self, Bound},
    setup::{self, Axle, BrakeDisc, Document, Rim, Spring},
};

use super::{EditError, Part, corner_mut};

/// A number of the document outside the points.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum NumberField {
    /// Distance between the axles, mm; may be empty.
    Wheelbase,
    /// Mass, kg; may be empty.
    Mass,
    /// Share of the mass on the front wheels, 0 to 1; may be empty.
    FrontMassShare,
    /// Height of the centre of gravity, mm; may be empty.
    CgHeight,
    /// Share of the braking at the front wheels, 0 to 1; may be empty.
    BrakeFrontShare,
    /// Share of the driving at the front wheels, 0 to 1; may be empty.
    DriveFrontShare,
    /// Loaded radius of the wheel, mm.
    LoadedRadius(Axle),
    /// Camber as it stands, degrees, + top outward; empty is zero.
    Camber(Axle),
    /// Toe as it stands, degrees, + front inward; empty is zero.
    Toe(Axle),
    /// Rate of the spring, N/mm; may be empty.
    SpringRate(Axle),
    /// Share of the braking that is regenerative, 0 to 1; may be empty.
    RegenerationShare,
    /// Share of the regeneration at the front wheels, 0 to 1; may be empty.
    RegenerationFrontShare,
    /// Vertical rate of the tyre, N/mm; may be empty.
    TyreRate(Axle),
    /// Width of the rim between its flanges, mm.
    RimWidth(Axle),
    /// Offset of the rim's mounting face outboard of its middle plane, mm; empty is zero.
    RimOffset(Axle),
    /// Diameter of the brake disc, mm.
    DiscDiameter(Axle),
    /// Thickness of the brake disc, mm.
    DiscThickness(Axle),
    /// Distance of the brake disc inboard of the wheel centre, mm; empty is zero.
    DiscInset(Axle),
    /// Length of the spring without load, mm; may be empty.
    FreeLength(Axle),
    /// Rate of the anti-roll bar, N·m/°; may be empty.
    BarRate(Axle),
    /// Rate of the torsion bar, N·m/°; may be empty.
    TorsionBarRate(Axle),
    /// Rack from straight ahead to either lock, mm; may be empty.
    RackTravel(Axle),
    /// Travel to the bump stop, mm; may be empty.
    BumpTravel(Axle),
    /// Travel to the rebound stop, mm, counted downward; may be empty.
    ReboundTravel(Axle),
    /// Mass of a part that moves with the wheel, kg.
    PartMass(Axle, usize),
    /// Share of it that does, 0 to 1; empty is all of it.
    PartShare(Axle, usize),
}

impl NumberField {
    /// The number, when the document has it.
    #[must_use]
    pub fn get(self, document: &Document) -> Option<f64> {
        let vehicle = &document.vehicle;
        let wheel = |axle| document.corner(axle).map(|corner| &corner.wheel);
        match self {
            Self::Wheelbase => vehicle.wheelbase,
            Self::Mass => vehicle.mass,
            Self::FrontMassShare => vehicle.front_mass_share,
            Self::CgHeight => vehicle.cg_height,
            Self::BrakeFrontShare => vehicle.brake_front_share,
            Self::DriveFrontShare => vehicle.drive_front_share,
            Self::LoadedRadius(axle) => wheel(axle).map(|wheel| wheel.loaded_radius),
            Self::Camber(axle) => wheel(axle).map(|wheel| wheel.camber),
            Self::Toe(axle) => wheel(axle).map(|wheel| wheel.toe),
            Self::SpringRate(axle) => document.corner(axle)?.spring.as_ref()?.rate,
            Self::RegenerationShare => vehicle.regeneration_share,
            Self::RegenerationFrontShare => vehicle.regeneration_front_share,
            Self::TyreRate(axle) => wheel(axle)?.tyre_rate,
            Self::RimWidth(axle) => wheel(axle)?.rim.as_ref().map(|rim| rim.width),
            Self::RimOffset(axle) => wheel(axle)?.rim.as_ref().map(|rim| rim.offset),
            Self::DiscDiameter(axle) => wheel(axle)?.brake_disc.as_ref().map(|disc| disc.diameter),
            Self::DiscThickness(axle) => wheel(axle)?.brake_disc.as_ref().map(|disc| disc.thickness),
            Self::DiscInset(axle) => wheel(axle)?.brake_disc.as_ref().map(|disc| disc.inset),
            Self::FreeLength(axle) => document.corner(axle)?.spring.as_ref()?.free_length,
            Self::BarRate(axle) => document.corner(axle)?.anti_roll_bar.as_ref()?.rate,
            Self::TorsionBarRate(axle) => document.corner(axle)?.torsion_bar.as_ref()?.rate,
            Self::RackTravel(axle) => document.corner(axle)?.rack_travel,
            Self::BumpTravel(axle) => document.corner(axle)?.bump_travel,
            Self::ReboundTravel(axle) => document.corner(axle)?.rebound_travel,
            Self::PartMass(axle, i) => document.corner(axle)?.unsprung.get(i).map(|part| part.mass),
            Self::PartShare(axle, i) => document.corner(axle)?.unsprung.get(i)?.share,
        }
    }

    /// The axle whose corner it belongs to; none for the car's numbers.
    #[must_use]
    pub fn corner(self) -> Option<Axle> {
        match self {
            Self::Wheelbase
            | Self::Mass
            | Self::FrontMassShare
            | Self::CgHeight
            | Self::BrakeFrontShare
            | Self::DriveFrontShare
            | Self::RegenerationShare
            | Self::RegenerationFrontShare => None,
            Self::LoadedRadius(axle)
            | Self::Camber(axle)
            | Self::Toe(axle)
            | Self::SpringRate(axle)
            | Self::TyreRate(axle)
            | Self::RimWidth(axle)
            | Self::RimOffset(axle)
            | Self::DiscDiameter(axle)
            | Self::DiscThickness(axle)
            | Self::DiscInset(axle)
            | Self::FreeLength(axle)
            | Self::BarRate(axle)
            | Self::TorsionBarRate(axle)
            | Self::RackTravel(axle)
            | Self::BumpTravel(axle)
            | Self::ReboundTravel(axle)
            | Self::PartMass(axle, _)
            | Self::PartShare(axle, _) => Some(axle),
        }
    }

    /// The field's path in the document, as errors name it.
    #[must_use]
    pub fn path(self) -> String {
        let (axle, name) = match self {
            Self::Wheelbase => return "vehicle.wheelbase".into(),
            Self::Mass => return "vehicle.mass".into(),
            Self::FrontMassShare => return "vehicle.front_mass_share".into(),
            Self::CgHeight => return "vehicle.cg_height".into(),
            Self::BrakeFrontShare => return "vehicle.brake_front_share".into(),
            Self::DriveFrontShare => return "vehicle.drive_front_share".into(),
            Self::RegenerationShare => return "vehicle.regeneration_share".into(),
            Self::RegenerationFrontShare => return "vehicle.regeneration_front_share".into(),
            Self::PartMass(axle, i) => return format!("{}.unsprung[{i}].mass", axle.name()),
            Self::PartShare(axle, i) => return format!("{}.unsprung[{i}].share", axle.name()),
            Self::LoadedRadius(axle) => (axle, "wheel.loaded_radius"),
            Self::Camber(axle) => (axle, "wheel.camber"),
            Self::Toe(axle) => (axle, "wheel.toe"),
            Self::TyreRate(axle) => (axle, "wheel.tyre_rate"),
            Self::RimWidth(axle) => (axle, "wheel.rim.width"),
            Self::RimOffset(axle) => (axle, "wheel.rim.offset"),
            Self::DiscDiameter(axle) => (axle, "wheel.brake_disc.diameter"),
            Self::DiscThickness(axle) => (axle, "wheel.brake_disc.thickness"),
            Self::DiscInset(axle) => (axle, "wheel.brake_disc.inset"),
            Self::SpringRate(axle) => (axle, "spring.rate"),
            Self::FreeLength(axle) => (axle, "spring.free_length"),
            Self::BarRate(axle) => (axle, "anti_roll_bar.rate"),
            Self::TorsionBarRate(axle) => (axle, "torsion_bar.rate"),
            Self::RackTravel(axle) => (axle, "rack_travel"),
            Self::BumpTravel(axle) => (axle, "bump_travel"),
            Self::ReboundTravel(axle) => (axle, "rebound_travel"),
        };
        format!("{}.{name}", axle.name())
    }

    /// What is allowed in it, with the unit.
    #[must_use]
    pub fn bound(self) -> Bound {
        match self {
            Self::Wheelbase => bounds::WHEELBASE,
            Self::Mass => bounds::MASS,
            Self::FrontMassShare
            | Self::BrakeFrontShare
            | Self::DriveFrontShare
            | Self::RegenerationShare
            | Self::RegenerationFrontShare
            | Self::PartShare(..) => bounds::SHARE,
            Self::CgHeight => bounds::CG_HEIGHT,
            Self::LoadedRadius(_) => bounds::LOADED_RADIUS,
            Self::Camber(_) | Self::Toe(_) => bounds::WHEEL_ANGLE,
            Self::SpringRate(_) | Self::TyreRate(_) => bounds::SPRING_RATE,
            Self::RimWidth(_) => bounds::RIM_WIDTH,
            Self::RimOffset(_) | Self::DiscInset(_) => bounds::RIM_OFFSET,
            Self::DiscDiameter(_) => bounds::DISC_DIAMETER,
            Self::DiscThickness(_) => bounds::DISC_THICKNESS,
            Self::FreeLength(_) => bounds::FREE_LENGTH,
            Self::BarRate(_) | Self::TorsionBarRate(_) => bounds::TWIST_RATE,
            Self::RackTravel(_) => bounds::LOCK,
            Self::BumpTravel(_) | Self::ReboundTravel(_) => bounds::WHEEL_LIMIT,
            Self::PartMass(..) => bounds::PART_MASS,
        }
    }

    /// Whether the field may be empty: then it does not exist, or is what its documentation
    /// says.
    #[must_use]
    pub fn may_be_empty(self) -> bool {
        !matches!(
            self,
            Self::LoadedRadius(_)
                | Self::RimWidth(_)
                | Self::DiscDiameter(_)
                | Self::DiscThickness(_)
                | Self::PartMass(..)
        )
    }

    pub(super) fn set(self, document: &mut Document, value: Option<f64>) -> Result<(), EditError> {
        let needed = || value.ok_or_else(|| EditError::Needed { field: self.path(), bound: self.bound() });
        let or_zero = value.unwrap_or(0.0);
        let vehicle = &mut document.vehicle;
        match self {
            Self::Wheelbase => vehicle.wheelbase = value,
            Self::Mass => vehicle.mass = value,
            Self::FrontMassShare => vehicle.front_mass_share = value,
            Self::CgHeight => vehicle.cg_height = value,
            Self::BrakeFrontShare => vehicle.brake_front_share = value,
            Self::DriveFrontShare => vehicle.drive_front_share = value,
            Self::RegenerationShare => vehicle.regeneration_share = value,
            Self::RegenerationFrontShare => vehicle.regeneration_front_share = value,
            Self::LoadedRadius(axle) => corner_mut(document, axle)?.wheel.loaded_radius = needed()?,
            Self::Camber(axle) => corner_mut(document, axle)?.wheel.camber = or_zero,
            Self::Toe(axle) => corner_mut(document, axle)?.wheel.toe = or_zero,
            Self::TyreRate(axle) => corner_mut(document, axle)?.wheel.tyre_rate = value,
            Self::RimWidth(axle) => rim(document, axle)?.width = needed()?,
            Self::RimOffset(axle) => rim(document, axle)?.offset = or_zero,
            Self::DiscDiameter(axle) => disc(document, axle)?.diameter = needed()?,
            Self::DiscThickness(axle) => disc(document, axle)?.thickness = needed()?,
            Self::DiscInset(axle) => disc(document, axle)?.inset = or_zero,
            Self::SpringRate(axle) => spring(document, axle)?.rate = value,
            Self::FreeLength(axle) => spring(document, axle)?.free_length = value,
            Self::BarRate(axle) => {
                let bar = corner_mut(document, axle)?.anti_roll_bar.as_mut();
                bar.ok_or(EditError::NoPart { axle, part: Part::AntiRollBar })?.rate = value;
            }
            Self::TorsionBarRate(axle) => {
                let bar = corner_mut(document, axle)?.torsion_bar.as_mut();
                bar.ok_or(EditError::NoPart { axle, part: Part::TorsionBar })?.rate = value;
            }
            Self::RackTravel(axle) => corner_mut(document, axle)?.rack_travel = value,
            Self::BumpTravel(axle) => corner_mut(document, axle)?.bump_travel = value,
            Self::ReboundTravel(axle) => corner_mut(document, axle)?.rebound_travel = value,
            Self::PartMass(axle, i) => unsprung(document, axle, i)?.mass = needed()?,
            Self::PartShare(axle, i) => unsprung(document, axle, i)?.share = value,
        }
        Ok(())
    }
}

fn rim(document: &mut Document, axle: Axle) -> Result<&mut Rim, EditError> {
    let rim = corner_mut(document, axle)?.wheel.rim.as_mut();
    rim.ok_or(EditError::NoPart { axle, part: Part::Rim })
}

fn disc(document: &mut Document, axle: Axle) -> Result<&mut BrakeDisc, EditError> {
    let disc = corner_mut(document, axle)?.wheel.brake_disc.as_mut();
    disc.ok_or(EditError::NoPart { axle, part: Part::BrakeDisc })
}

fn spring(document: &mut Document, axle: Axle) -> Result<&mut Spring, EditError> {
    let spring = corner_mut(document, axle)?.spring.as_mut();
    spring.ok_or(EditError::NoPart { axle, part: Part::Spring })
}

/// A part that moves with the wheel.
pub(super) fn unsprung(
    document: &mut Document,
    axle: Axle,
    number: usize,
) -> Result<&mut setup::Part, EditError> {
    corner_mut(document, axle)?.unsprung.get_mut(number).ok_or(EditError::NoUnsprung { axle, number })
}

/// A text of the document outside the names of members.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum TextField {
    /// Name of the car or the setting.
    Title,
    /// Free text.
    Note,
    /// The tyre's size.
    Tyre(Axle),
    /// Name of a part that moves with the wheel.
    PartName(Axle, usize),
}

impl TextField {
    /// The text; empty where there is none.
    #[must_use]
    pub fn get(self, document: &Document) -> String {
        let text = match self {
            Self::Title => Some(&document.title),
            Self::Note => Some(&document.note),
            Self::Tyre(axle) => document.corner(axle).and_then(|corner| corner.wheel.tyre.as_ref()),
            Self::PartName(axle, i) => {
                document.corner(axle).and_then(|corner| corner.unsprung.get(i)).map(|part| &part.name)
            }
        };
        text.cloned().unwrap_or_default()
    }
}
