//! The setup document: plain data, anything may stand in it until it is checked.
//!
//! Axes are ISO 8855 (x forward, y left, z up, ground z = 0); lengths mm, angles
//! degrees, masses kg, rates N/mm. The left corner is described; the right one is its
//! mirror in y = 0. With the feature `serde` the types read and write the JSON of the
//! project's files, names as here; unknown fields are refused, so that a misspelt one
//! is not silently without effect.

mod error;
mod example;
mod members;
mod point_path;

pub use error::FieldError;
pub use example::example;
pub use members::{
    AntiRollBar, Arm, BrakeDisc, Brakes, Damper, Drive, Hinge, Link, Part, Rim, Rocker, Spring, Strut,
    TorsionBar, Wheel,
};
pub use point_path::{Coordinate, Holder, PointPath};

use alloc::{format, string::String, vec::Vec};

use crate::bounds::{self, Bound};

/// A point in vehicle axes, mm: x forward, y left, z up.
pub type Point = [f64; 3];

/// The version this library reads and writes.
pub const VERSION: u32 = 1;

/// A car's corners: what a person describes and every program here reads.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(deny_unknown_fields))]
pub struct Document {
    /// Version of the format, [`VERSION`].
    pub cornerwise: u32,
    /// Name of the car or the setting.
    #[cfg_attr(feature = "serde", serde(default, skip_serializing_if = "String::is_empty"))]
    pub title: String,
    /// Free text.
    #[cfg_attr(feature = "serde", serde(default, skip_serializing_if = "String::is_empty"))]
    pub note: String,
    /// What concerns the whole car; each field optional.
    #[cfg_attr(feature = "serde", serde(default))]
    pub vehicle: Vehicle,
    /// Left front corner.
    #[cfg_attr(feature = "serde", serde(default, skip_serializing_if = "Option::is_none"))]
    pub front: Option<Corner>,
    /// Left rear corner.
    #[cfg_attr(feature = "serde", serde(default, skip_serializing_if = "Option::is_none"))]
    pub rear: Option<Corner>,
    /// Right front corner, where it is not the left one's mirror image; its points are on
    /// the right (y below zero).
    #[cfg_attr(feature = "serde", serde(default, skip_serializing_if = "Option::is_none"))]
    pub front_right: Option<Corner>,
    /// Right rear corner, where it is not the left one's mirror image.
    #[cfg_attr(feature = "serde", serde(default, skip_serializing_if = "Option::is_none"))]
    pub rear_right: Option<Corner>,
}

/// The whole car. A reading that needs a missing number does not exist and says so.
#[derive(Debug, Clone, PartialEq, Default)]
#[cfg_attr(
    feature = "serde",
    derive(serde::Serialize, serde::Deserialize),
    serde(deny_unknown_fields, default)
)]
pub struct Vehicle {
    /// Distance between the axles, mm.
    #[cfg_attr(feature = "serde", serde(skip_serializing_if = "Option::is_none"))]
    pub wheelbase: Option<f64>,
    /// Mass as it stands on its wheels, kg.
    #[cfg_attr(feature = "serde", serde(skip_serializing_if = "Option::is_none"))]
    pub mass: Option<f64>,
    /// Share of the mass on the front wheels, 0 to 1.
    #[cfg_attr(feature = "serde", serde(skip_serializing_if = "Option::is_none"))]
    pub front_mass_share: Option<f64>,
    /// Height of the centre of gravity above the ground, mm.
    #[cfg_attr(feature = "serde", serde(skip_serializing_if = "Option::is_none"))]
    pub cg_height: Option<f64>,
    /// Share of the braking force at the front wheels, 0 to 1.
    #[cfg_attr(feature = "serde", serde(skip_serializing_if = "Option::is_none"))]
    pub brake_front_share: Option<f64>,
    /// Share of the driving force at the front wheels, 0 to 1.
    #[cfg_attr(feature = "serde", serde(skip_serializing_if = "Option::is_none"))]
    pub drive_front_share: Option<f64>,
    /// Share of the braking force that regeneration takes from the friction brakes, 0 to 1.
    #[cfg_attr(feature = "serde", serde(skip_serializing_if = "Option::is_none"))]
    pub regeneration_share: Option<f64>,
    /// Share of the regenerative braking force at the front wheels, 0 to 1; that of the drive
    /// when absent.
    #[cfg_attr(feature = "serde", serde(skip_serializing_if = "Option::is_none"))]
    pub regeneration_front_share: Option<f64>,
}

/// A knuckle with its wheel, and the members that hold it. Together they must remove
/// five of its six freedoms; any mix that adds up is a layout.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(deny_unknown_fields))]
pub struct Corner {
    /// Triangular arms; each removes two freedoms.
    #[cfg_attr(feature = "serde", serde(default, skip_serializing_if = "Vec::is_empty"))]
    pub arms: Vec<Arm>,
    /// Two-ended links; each removes one.
    #[cfg_attr(feature = "serde", serde(default, skip_serializing_if = "Vec::is_empty"))]
    pub links: Vec<Link>,
    /// A telescopic strut; removes two.
    #[cfg_attr(feature = "serde", serde(default, skip_serializing_if = "Option::is_none"))]
    pub strut: Option<Strut>,
    /// The knuckle itself turns on two body pivots; removes five.
    #[cfg_attr(feature = "serde", serde(default, skip_serializing_if = "Option::is_none"))]
    pub hinge: Option<Hinge>,
    /// The wheel as it stands.
    pub wheel: Wheel,
    /// Direction in which the steering link's inboard end moves; +y when absent.
    /// Only its direction counts, not its length.
    #[cfg_attr(feature = "serde", serde(default, skip_serializing_if = "Option::is_none"))]
    pub rack_direction: Option<Point>,
    /// The spring.
    #[cfg_attr(feature = "serde", serde(default, skip_serializing_if = "Option::is_none"))]
    pub spring: Option<Spring>,
    /// The damper.
    #[cfg_attr(feature = "serde", serde(default, skip_serializing_if = "Option::is_none"))]
    pub damper: Option<Damper>,
    /// A rocker led by a rod, on which spring, damper and bar may stand.
    #[cfg_attr(feature = "serde", serde(default, skip_serializing_if = "Option::is_none"))]
    pub rocker: Option<Rocker>,
    /// The anti-roll bar's half on this side.
    #[cfg_attr(feature = "serde", serde(default, skip_serializing_if = "Option::is_none"))]
    pub anti_roll_bar: Option<AntiRollBar>,
    /// A torsion bar along a turning part's axis.
    #[cfg_attr(feature = "serde", serde(default, skip_serializing_if = "Option::is_none"))]
    pub torsion_bar: Option<TorsionBar>,
    /// Parts that move with the wheel; together they are the unsprung mass.
    #[cfg_attr(feature = "serde", serde(default, skip_serializing_if = "Vec::is_empty"))]
    pub unsprung: Vec<Part>,
    /// Where the friction brakes are.
    #[cfg_attr(feature = "serde", serde(default, skip_serializing_if = "is_default"))]
    pub brakes: Brakes,
    /// How drive and regeneration reach the wheel.
    #[cfg_attr(feature = "serde", serde(default, skip_serializing_if = "is_default"))]
    pub drive: Drive,
    /// How far the rack moves from straight ahead to either lock, mm.
    #[cfg_attr(feature = "serde", serde(default, skip_serializing_if = "Option::is_none"))]
    pub rack_travel: Option<f64>,
    /// How far the wheel can rise from travel 0, mm.
    #[cfg_attr(feature = "serde", serde(default, skip_serializing_if = "Option::is_none"))]
    pub bump_travel: Option<f64>,
    /// How far the wheel can drop from travel 0, mm, counted downward.
    #[cfg_attr(feature = "serde", serde(default, skip_serializing_if = "Option::is_none"))]
    pub rebound_travel: Option<f64>,
}

#[cfg(feature = "serde")]
fn is_default<T: Default + PartialEq>(value: &T) -> bool {
    *value == T::default()
}

/// The name that `on` gives to the knuckle itself; no member may bear it.
pub const KNUCKLE: &str = "knuckle";

/// One of the car's axles.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(rename_all = "lowercase"))]
pub enum Axle {
    /// The front axle.
    Front,
    /// The rear axle.
    Rear,
}

impl Axle {
    /// This axle's share of a whole of which the front axle has `front`.
    #[must_use]
    pub fn share(self, front: f64) -> f64 {
        match self {
            Self::Front => front,
            Self::Rear => 1.0 - front,
        }
    }

    /// The field's name in the document.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Front => "front",
            Self::Rear => "rear",
        }
    }

    /// The name of the field in which the document describes the right corner by itself.
    #[must_use]
    pub fn right_name(self) -> &'static str {
        match self {
            Self::Front => "front_right",
            Self::Rear => "rear_right",
        }
    }
}

/// Which side of the car a corner is on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Side {
    /// The left side, y > 0: the one the document describes.
    Left,
    /// The right side, y < 0.
    Right,
}

impl Side {
    /// +1 where outboard is +y, −1 where it is −y.
    #[must_use]
    pub fn outboard(self) -> f64 {
        match self {
            Self::Left => 1.0,
            Self::Right => -1.0,
        }
    }
}

impl Document {
    /// The corner of an axle, when the document describes it.
    #[must_use]
    pub fn corner(&self, axle: Axle) -> Option<&Corner> {
        match axle {
            Axle::Front => self.front.as_ref(),
            Axle::Rear => self.rear.as_ref(),
        }
    }

    /// The same, to be changed.
    pub fn corner_mut(&mut self, axle: Axle) -> Option<&mut Corner> {
        match axle {
            Axle::Front => self.front.as_mut(),
            Axle::Rear => self.rear.as_mut(),
        }
    }

    /// Checks every number and every text's length against its range: all that can be
    /// said of a field by itself. Whether a corner can be assembled is for
    /// [`crate::linkage::Linkage::new`] to say.
    ///
    /// # Errors
    /// The first field that is out of range, by its path.
    pub fn check(&self) -> Result<(), FieldError> {
        if self.cornerwise != VERSION {
            return Err(FieldError::Version(self.cornerwise));
        }
        check_text("title", &self.title, bounds::LONGEST_TITLE)?;
        check_text("note", &self.note, bounds::LONGEST_NOTE)?;
        self.vehicle.check()?;
        if self.front.is_none() && self.rear.is_none() {
            return Err(FieldError::NoCorner);
        }
        for axle in [Axle::Front, Axle::Rear] {
            if self.corner(axle).is_none() && self.right_corner(axle).is_some() {
                return Err(FieldError::RightAlone(axle));
            }
        }
        for (name, corner) in self.corners() {
            corner.check().map_err(|error| error.within(name))?;
        }
        Ok(())
    }

    /// Every corner described, with its field's name.
    pub fn corners(&self) -> impl Iterator<Item = (&'static str, &Corner)> {
        let right = |axle: Axle| self.right_corner(axle).map(|corner| (axle.right_name(), corner));
        let left = |axle: Axle| self.corner(axle).map(|corner| (axle.name(), corner));
        let axles = [Axle::Front, Axle::Rear];
        axles.into_iter().filter_map(left).chain(axles.into_iter().filter_map(right))
    }

    /// The right corner of an axle, when the document describes it by itself.
    #[must_use]
    pub fn right_corner(&self, axle: Axle) -> Option<&Corner> {
        match axle {
            Axle::Front => self.front_right.as_ref(),
            Axle::Rear => self.rear_right.as_ref(),
        }
    }
}

/// Standard gravity, m/s² (third CGPM, 1901).
pub const GRAVITY: f64 = 9.806_65;

impl Vehicle {
    /// What stands on each wheel of an axle at rest, N: half of the axle's share of the
    /// weight. `None` where the mass or its share at the front is not given.
    #[must_use]
    pub fn wheel_load(&self, axle: Axle) -> Option<f64> {
        let (mass, front) = self.mass.zip(self.front_mass_share)?;
        Some(0.5 * mass * GRAVITY * axle.share(front))
    }

    fn check(&self) -> Result<(), FieldError> {
        let fields = [
            ("wheelbase", self.wheelbase, bounds::WHEELBASE),
            ("mass", self.mass, bounds::MASS),
            ("front_mass_share", self.front_mass_share, bounds::SHARE),
            ("cg_height", self.cg_height, bounds::CG_HEIGHT),
            ("brake_front_share", self.brake_front_share, bounds::SHARE),
            ("drive_front_share", self.drive_front_share, bounds::SHARE),
            ("regeneration_share", self.regeneration_share, bounds::SHARE),
            ("regeneration_front_share", self.regeneration_front_share, bounds::SHARE),
        ];
        for (name, value, bound) in fields {
            if let Some(value) = value {
                bound.check(&format!("vehicle.{name}"), value)?;
            }
        }
        Ok(())
    }
}

impl Corner {
    /// A wheel that nothing holds yet.
    #[must_use]
    pub fn new(wheel: Wheel) -> Self {
        Self {
            arms: Vec::new(),
            links: Vec::new(),
            strut: None,
            hinge: None,
            wheel,
            rack_direction: None,
            spring: None,
            damper: None,
            rocker: None,
            anti_roll_bar: None,
            torsion_bar: None,
            unsprung: Vec::new(),
            brakes: Brakes::default(),
            drive: Drive::default(),
            rack_travel: None,
            bump_travel: None,
            rebound_travel: None,
        }
    }

    /// The unsprung mass, kg: the sum over the parts; `None` when none is named.
    #[must_use]
    pub fn unsprung_mass(&self) -> Option<f64> {
        (!self.unsprung.is_empty()).then(|| self.unsprung.iter().map(Part::unsprung).sum())
    }

    /// How many of the knuckle's six freedoms the members remove; five are needed.
    #[must_use]
    pub fn freedoms_removed(&self) -> usize {
        2 * self.arms.len()
            + self.links.len()
            + 2 * usize::from(self.strut.is_some())
            + 5 * usize::from(self.hinge.is_some())
    }

    /// Every point of the corner: one list for checking, mirroring, moving and drawing.
    #[must_use]
    pub fn points(&self) -> Vec<(PointPath, Point)> {
        let all = PointPath::all(self).into_iter();
        all.filter_map(|path| Some((path, path.get(self)?))).collect()
    }

    /// Changes every point.
    pub fn change_points(&mut self, mut change: impl FnMut(PointPath, &mut Point)) {
        for path in PointPath::all(self) {
            if let Some(point) = path.get_mut(self) {
                change(path, point);
            }
        }
    }

    /// The names of the members and of the rocker, in the order arms, links, strut, hinge,
    /// rocker.
    pub fn ids(&self) -> impl Iterator<Item = &str> {
        (self.arms.iter().map(|arm| arm.id.as_str()))
            .chain(self.links.iter().map(|link| link.id.as_str()))
            .chain(self.strut.iter().map(|strut| strut.id.as_str()))
            .chain(self.hinge.iter().map(|hinge| hinge.id.as_str()))
            .chain(self.rocker.iter().map(|rocker| rocker.id.as_str()))
    }

    /// The path of the member whose name comes in this place among the [`Corner::ids`].
    fn member_path(&self, place: usize) -> String {
        let (arms, links) = (self.arms.len(), self.links.len());
        if place < arms {
            return format!("arms[{place}]");
        }
        if place < arms + links {
            return format!("links[{}]", place - arms);
        }
        let alone = [
            ("strut", self.strut.is_some()),
            ("hinge", self.hinge.is_some()),
            ("rocker", self.rocker.is_some()),
        ];
        let mut there = alone.into_iter().filter(|(_, there)| *there).map(|(path, _)| path);
        there.nth(place - arms - links).unwrap_or_default().into()
    }

    /// What each part says that it stands on, with the field's path.
    fn carriers(&self) -> impl Iterator<Item = (&'static str, &str)> {
        let carriers = [
            ("spring.on", self.spring.as_ref().map(|spring| &spring.on)),
            ("damper.on", self.damper.as_ref().map(|damper| &damper.on)),
            ("rocker.on", self.rocker.as_ref().map(|rocker| &rocker.on)),
            ("anti_roll_bar.on", self.anti_roll_bar.as_ref().map(|bar| &bar.on)),
            ("torsion_bar.on", self.torsion_bar.as_ref().map(|bar| &bar.on)),
        ];
        carriers.into_iter().filter_map(|(field, on)| Some((field, on?.as_str())))
    }

    /// The corner on the other side: its mirror image in y = 0. Camber and toe keep
    /// their numbers, since they are said as outward and inward.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        let mut mirror = self.clone();
        mirror.change_points(|_, point| point[1] = -point[1]);
        let [x, y, z] = self.rack_direction.unwrap_or(RACK_DIRECTION);
        // A rack moves both inboard ends the same way, so its direction is not mirrored:
        // the mirror image of a left turn is a right turn. Here the image is meant.
        mirror.rack_direction = Some([x, -y, z]);
        mirror
    }

    /// Checks every number and text of the corner against its range; paths in the error
    /// are relative to the corner.
    ///
    /// # Errors
    /// The first field that is out of range.
    pub fn check(&self) -> Result<(), FieldError> {
        let counts =
            [("arms", self.arms.len()), ("links", self.links.len()), ("unsprung", self.unsprung.len())];
        for (kind, count) in counts {
            if count > bounds::MOST_MEMBERS {
                return Err(FieldError::TooMany { field: kind.into(), count });
            }
        }
        for (i, id) in self.ids().enumerate() {
            check_text("id", id, bounds::LONGEST_ID).map_err(|error| error.within(&self.member_path(i)))?;
        }
        // A name longer than any member's names none, and would make a link of any length.
        for (field, on) in self.carriers() {
            check_text(field, on, bounds::LONGEST_ID)?;
        }
        for (path, point) in self.points() {
            // A path is written out only where it is told.
            if !point.iter().all(|coordinate| bounds::COORDINATE.allows(*coordinate)) {
                check_point(&path.path(), point, bounds::COORDINATE)?;
            }
        }
        if let Some(direction) = self.rack_direction {
            check_point("rack_direction", direction, bounds::DIRECTION)?;
        }
        if let Some(tyre) = &self.wheel.tyre {
            check_text("wheel.tyre", tyre, bounds::LONGEST_ID)?;
        }
        for (i, part) in self.unsprung.iter().enumerate() {
            check_text(&format!("unsprung[{i}].name"), &part.name, bounds::LONGEST_ID)?;
            bounds::PART_MASS.check(&format!("unsprung[{i}].mass"), part.mass)?;
            bounds::SHARE.check(&format!("unsprung[{i}].share"), part.share.unwrap_or(1.0))?;
        }
        for (field, value, bound) in self.numbers() {
            if let Some(value) = value {
                bound.check(field, value)?;
            }
        }
        Ok(())
    }

    /// The single numbers that have a range of their own.
    fn numbers(&self) -> [(&'static str, Option<f64>, Bound); 16] {
        let wheel = &self.wheel;
        let (rim, disc) = (wheel.rim.as_ref(), wheel.brake_disc.as_ref());
        let spring = self.spring.as_ref();
        [
            ("wheel.loaded_radius", Some(wheel.loaded_radius), bounds::LOADED_RADIUS),
            ("wheel.camber", Some(wheel.camber), bounds::WHEEL_ANGLE),
            ("wheel.toe", Some(wheel.toe), bounds::WHEEL_ANGLE),
            ("wheel.tyre_rate", wheel.tyre_rate, bounds::SPRING_RATE),
            ("wheel.rim.width", rim.map(|rim| rim.width), bounds::RIM_WIDTH),
            ("wheel.rim.offset", rim.map(|rim| rim.offset), bounds::RIM_OFFSET),
            ("wheel.brake_disc.diameter", disc.map(|disc| disc.diameter), bounds::DISC_DIAMETER),
            ("wheel.brake_disc.thickness", disc.map(|disc| disc.thickness), bounds::DISC_THICKNESS),
            ("wheel.brake_disc.inset", disc.map(|disc| disc.inset), bounds::RIM_OFFSET),
            ("spring.rate", spring.and_then(|spring| spring.rate), bounds::SPRING_RATE),
            ("spring.free_length", spring.and_then(|spring| spring.free_length), bounds::FREE_LENGTH),
            ("anti_roll_bar.rate", self.anti_roll_bar.as_ref().and_then(|bar| bar.rate), bounds::TWIST_RATE),
            ("torsion_bar.rate", self.torsion_bar.as_ref().and_then(|bar| bar.rate), bounds::TWIST_RATE),
            ("rack_travel", self.rack_travel, bounds::LOCK),
            ("bump_travel", self.bump_travel, bounds::WHEEL_LIMIT),
            ("rebound_travel", self.rebound_travel, bounds::WHEEL_LIMIT),
        ]
    }
}

/// The rack's direction when the document gives none: to the left.
pub const RACK_DIRECTION: Point = [0.0, 1.0, 0.0];

fn check_point(path: &str, point: Point, bound: Bound) -> Result<(), FieldError> {
    for (i, value) in point.into_iter().enumerate() {
        // The path is written only where it is needed: this is most of what a check costs.
        if !bound.allows(value) {
            bound.check(&format!("{path}[{i}]"), value)?;
        }
    }
    Ok(())
}

fn check_text(field: &str, text: &str, most: usize) -> Result<(), FieldError> {
    let count = text.chars().count();
    if count > most {
        return Err(FieldError::TooLong { field: field.into(), count, most });
    }
    Ok(())
}
