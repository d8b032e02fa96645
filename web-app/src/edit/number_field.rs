//! The numbers and texts of the document outside points and names.

use geometry_core::{
    bounds::{self, Bound},
    setup::{Axle, Document},
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
        }
    }

    /// The field's path in the document, as errors name it.
    #[must_use]
    pub fn path(self) -> String {
        match self {
            Self::Wheelbase => "vehicle.wheelbase".into(),
            Self::Mass => "vehicle.mass".into(),
            Self::FrontMassShare => "vehicle.front_mass_share".into(),
            Self::CgHeight => "vehicle.cg_height".into(),
            Self::BrakeFrontShare => "vehicle.brake_front_share".into(),
            Self::DriveFrontShare => "vehicle.drive_front_share".into(),
            Self::LoadedRadius(axle) => format!("{}.wheel.loaded_radius", axle.name()),
            Self::Camber(axle) => format!("{}.wheel.camber", axle.name()),
            Self::Toe(axle) => format!("{}.wheel.toe", axle.name()),
            Self::SpringRate(axle) => format!("{}.spring.rate", axle.name()),
        }
    }

    /// What is allowed in it, with the unit.
    #[must_use]
    pub fn bound(self) -> Bound {
        match self {
            Self::Wheelbase => bounds::WHEELBASE,
            Self::Mass => bounds::MASS,
            Self::FrontMassShare | Self::BrakeFrontShare | Self::DriveFrontShare => bounds::SHARE,
            Self::CgHeight => bounds::CG_HEIGHT,
            Self::LoadedRadius(_) => bounds::LOADED_RADIUS,
            Self::Camber(_) | Self::Toe(_) => bounds::WHEEL_ANGLE,
            Self::SpringRate(_) => bounds::SPRING_RATE,
        }
    }

    pub(super) fn set(self, document: &mut Document, value: Option<f64>) -> Result<(), EditError> {
        let vehicle = &mut document.vehicle;
        match self {
            Self::Wheelbase => vehicle.wheelbase = value,
            Self::Mass => vehicle.mass = value,
            Self::FrontMassShare => vehicle.front_mass_share = value,
            Self::CgHeight => vehicle.cg_height = value,
            Self::BrakeFrontShare => vehicle.brake_front_share = value,
            Self::DriveFrontShare => vehicle.drive_front_share = value,
            Self::LoadedRadius(axle) => {
                corner_mut(document, axle)?.wheel.loaded_radius =
                    value.ok_or(EditError::Needed { field: self.path(), bound: self.bound() })?;
            }
            Self::Camber(axle) => corner_mut(document, axle)?.wheel.camber = value.unwrap_or(0.0),
            Self::Toe(axle) => corner_mut(document, axle)?.wheel.toe = value.unwrap_or(0.0),
            Self::SpringRate(axle) => {
                let spring = corner_mut(document, axle)?.spring.as_mut();
                spring.ok_or(EditError::NoPart { axle, part: Part::Spring })?.rate = value;
            }
        }
        Ok(())
    }
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
}
