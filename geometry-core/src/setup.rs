//! The setup document: plain data, anything may stand in it until it is checked.
//!
//! Axes are ISO 8855 (x forward, y left, z up, ground z = 0); lengths mm, angles
//! degrees, masses kg, rates N/mm. The left corner is described; the right one is its
//! mirror in y = 0. With the feature `serde` the types read and write the JSON of the
//! project's files, names as here; unknown fields are refused, so that a misspelt one
//! is not silently without effect.

use alloc::{
    format,
    string::{String, ToString},
    vec,
    vec::Vec,
};

use crate::bounds::{self, Bound, OutOfBounds};

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
}

/// A triangular arm: turns about the line through its two body pivots and holds the
/// knuckle at its ball joint.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(deny_unknown_fields))]
pub struct Arm {
    /// Name, unique in its corner.
    pub id: String,
    /// Front body pivot.
    pub front_pivot: Point,
    /// Rear body pivot.
    pub rear_pivot: Point,
    /// Ball joint, on the knuckle.
    pub ball_joint: Point,
}

/// A two-ended link with a joint at each end.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(deny_unknown_fields))]
pub struct Link {
    /// Name, unique in its corner.
    pub id: String,
    /// Joint on the body.
    pub inboard: Point,
    /// Joint on the knuckle.
    pub outboard: Point,
    /// Whether the inboard end moves with the rack; at most one link steers.
    #[cfg_attr(feature = "serde", serde(default, skip_serializing_if = "core::ops::Not::not"))]
    pub steers: bool,
}

/// A telescopic strut, rigid with the knuckle: the line through both points slides
/// through the top mount.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(deny_unknown_fields))]
pub struct Strut {
    /// Name, unique in its corner.
    pub id: String,
    /// Top mount, on the body.
    pub top_mount: Point,
    /// Lower end, on the knuckle.
    pub lower_end: Point,
}

/// A hinge: the knuckle (a trailing or semi-trailing arm) turns on two body pivots.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(deny_unknown_fields))]
pub struct Hinge {
    /// Name, unique in its corner.
    pub id: String,
    /// The two pivots on the body.
    pub pivots: [Point; 2],
}

/// The wheel as it stands at travel and rack zero.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(deny_unknown_fields))]
pub struct Wheel {
    /// Wheel centre, mm.
    pub centre: Point,
    /// Radius from the hub axis to the ground under load, mm.
    pub loaded_radius: f64,
    /// Camber, degrees, + top outward.
    #[cfg_attr(feature = "serde", serde(default))]
    pub camber: f64,
    /// Toe, degrees, + front of the wheel inward.
    #[cfg_attr(feature = "serde", serde(default))]
    pub toe: f64,
    /// The tyre's size as its side wall says it.
    #[cfg_attr(feature = "serde", serde(default, skip_serializing_if = "Option::is_none"))]
    pub tyre: Option<String>,
}

/// A spring between the body and a member or the knuckle.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(deny_unknown_fields))]
pub struct Spring {
    /// End on the body.
    pub body: Point,
    /// Moving end.
    pub carried: Point,
    /// What carries the moving end: a member's name, or [`KNUCKLE`].
    pub on: String,
    /// Rate, N/mm.
    #[cfg_attr(feature = "serde", serde(default, skip_serializing_if = "Option::is_none"))]
    pub rate: Option<f64>,
}

/// A damper between the body and a member or the knuckle.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(deny_unknown_fields))]
pub struct Damper {
    /// End on the body.
    pub body: Point,
    /// Moving end.
    pub carried: Point,
    /// What carries the moving end: a member's name, or [`KNUCKLE`].
    pub on: String,
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
    /// The field's name in the document.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Front => "front",
            Self::Rear => "rear",
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
            if let Some(corner) = self.corner(axle) {
                corner.check().map_err(|error| error.within(axle.name()))?;
            }
        }
        Ok(())
    }
}

impl Vehicle {
    fn check(&self) -> Result<(), FieldError> {
        let fields = [
            ("wheelbase", self.wheelbase, bounds::WHEELBASE),
            ("mass", self.mass, bounds::MASS),
            ("front_mass_share", self.front_mass_share, bounds::SHARE),
            ("cg_height", self.cg_height, bounds::CG_HEIGHT),
            ("brake_front_share", self.brake_front_share, bounds::SHARE),
            ("drive_front_share", self.drive_front_share, bounds::SHARE),
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
    /// How many of the knuckle's six freedoms the members remove; five are needed.
    #[must_use]
    pub fn freedoms_removed(&self) -> usize {
        2 * self.arms.len()
            + self.links.len()
            + 2 * usize::from(self.strut.is_some())
            + 5 * usize::from(self.hinge.is_some())
    }

    /// Every point of the corner with its path, as in `arms[0].ball_joint`: one list
    /// for checking, mirroring, moving and drawing.
    #[must_use]
    pub fn points(&self) -> Vec<(String, Point)> {
        let mut copy = self.clone();
        copy.points_mut().into_iter().map(|(path, point)| (path, *point)).collect()
    }

    /// Every point with its path, to be changed.
    pub fn points_mut(&mut self) -> Vec<(String, &mut Point)> {
        let mut all: Vec<(String, &mut Point)> = Vec::new();
        for (i, arm) in self.arms.iter_mut().enumerate() {
            all.push((format!("arms[{i}].front_pivot"), &mut arm.front_pivot));
            all.push((format!("arms[{i}].rear_pivot"), &mut arm.rear_pivot));
            all.push((format!("arms[{i}].ball_joint"), &mut arm.ball_joint));
        }
        for (i, link) in self.links.iter_mut().enumerate() {
            all.push((format!("links[{i}].inboard"), &mut link.inboard));
            all.push((format!("links[{i}].outboard"), &mut link.outboard));
        }
        if let Some(strut) = &mut self.strut {
            all.push(("strut.top_mount".into(), &mut strut.top_mount));
            all.push(("strut.lower_end".into(), &mut strut.lower_end));
        }
        if let Some(hinge) = &mut self.hinge {
            let [first, second] = &mut hinge.pivots;
            all.push(("hinge.pivots[0]".into(), first));
            all.push(("hinge.pivots[1]".into(), second));
        }
        all.push(("wheel.centre".into(), &mut self.wheel.centre));
        if let Some(spring) = &mut self.spring {
            all.push(("spring.body".into(), &mut spring.body));
            all.push(("spring.carried".into(), &mut spring.carried));
        }
        if let Some(damper) = &mut self.damper {
            all.push(("damper.body".into(), &mut damper.body));
            all.push(("damper.carried".into(), &mut damper.carried));
        }
        all
    }

    /// The names of the members, in the order arms, links, strut, hinge.
    pub fn ids(&self) -> impl Iterator<Item = &str> {
        (self.arms.iter().map(|arm| arm.id.as_str()))
            .chain(self.links.iter().map(|link| link.id.as_str()))
            .chain(self.strut.iter().map(|strut| strut.id.as_str()))
            .chain(self.hinge.iter().map(|hinge| hinge.id.as_str()))
    }

    /// The corner on the other side: its mirror image in y = 0. Camber and toe keep
    /// their numbers, since they are said as outward and inward.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        let mut mirror = self.clone();
        for (_, point) in mirror.points_mut() {
            point[1] = -point[1];
        }
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
        for (kind, count) in [("arms", self.arms.len()), ("links", self.links.len())] {
            if count > bounds::MOST_MEMBERS {
                return Err(FieldError::TooMany { field: kind.into(), count });
            }
        }
        for id in self.ids() {
            check_text("id", id, bounds::LONGEST_ID)?;
        }
        for (path, point) in self.points() {
            check_point(&path, point, bounds::COORDINATE)?;
        }
        if let Some(direction) = self.rack_direction {
            check_point("rack_direction", direction, bounds::DIRECTION)?;
        }
        let wheel = &self.wheel;
        bounds::LOADED_RADIUS.check("wheel.loaded_radius", wheel.loaded_radius)?;
        bounds::WHEEL_ANGLE.check("wheel.camber", wheel.camber)?;
        bounds::WHEEL_ANGLE.check("wheel.toe", wheel.toe)?;
        if let Some(tyre) = &wheel.tyre {
            check_text("wheel.tyre", tyre, bounds::LONGEST_ID)?;
        }
        if let Some(rate) = self.spring.as_ref().and_then(|spring| spring.rate) {
            bounds::SPRING_RATE.check("spring.rate", rate)?;
        }
        Ok(())
    }
}

/// The rack's direction when the document gives none: to the left.
pub const RACK_DIRECTION: Point = [0.0, 1.0, 0.0];

fn check_point(path: &str, point: Point, bound: Bound) -> Result<(), FieldError> {
    for (i, value) in point.into_iter().enumerate() {
        bound.check(&format!("{path}[{i}]"), value)?;
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

/// What is wrong with one field, whatever stands in the others.
#[derive(Debug, Clone, PartialEq)]
pub enum FieldError {
    /// A document of another version.
    Version(u32),
    /// Neither axle is described.
    NoCorner,
    /// A number out of its range.
    Number(OutOfBounds),
    /// A text longer than allowed.
    TooLong {
        /// Path of the field.
        field: String,
        /// Characters found.
        count: usize,
        /// Characters allowed.
        most: usize,
    },
    /// More members of a kind than any corner has.
    TooMany {
        /// Path of the list.
        field: String,
        /// Members found.
        count: usize,
    },
}

impl From<OutOfBounds> for FieldError {
    fn from(error: OutOfBounds) -> Self {
        Self::Number(error)
    }
}

impl FieldError {
    /// Path of the field that is wrong.
    #[must_use]
    pub fn field(&self) -> &str {
        match self {
            Self::Version(_) => "cornerwise",
            Self::NoCorner => "front",
            Self::Number(error) => &error.field,
            Self::TooLong { field, .. } | Self::TooMany { field, .. } => field,
        }
    }

    /// The same error, seen from the document that holds the corner as `outer`.
    #[must_use]
    pub fn within(mut self, outer: &str) -> Self {
        match &mut self {
            Self::Number(error) => error.field = format!("{outer}.{}", error.field),
            Self::TooLong { field, .. } | Self::TooMany { field, .. } => *field = format!("{outer}.{field}"),
            Self::Version(_) | Self::NoCorner => {}
        }
        self
    }
}

impl core::fmt::Display for FieldError {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Self::Version(version) if *version > VERSION => write!(
                f,
                "cornerwise is {version}: this setup was written by a newer Cornerwise; this one reads version {VERSION}"
            ),
            Self::Version(version) => {
                write!(f, "cornerwise must be {VERSION}, the version of the format; it is {version}")
            }
            Self::NoCorner => f.write_str("front or rear must be given: the setup describes no corner"),
            Self::Number(error) => error.fmt(f),
            Self::TooLong { field, count, most } => {
                write!(f, "{field} may have at most {most} characters; it has {count}")
            }
            Self::TooMany { field, count } => {
                write!(f, "{field} may hold at most {} members; it holds {count}", bounds::MOST_MEMBERS)
            }
        }
    }
}

impl core::error::Error for FieldError {}

/// The demonstration setup: an invented electric hill-climb car with split lower links
/// in front and three lower links behind.
#[must_use]
pub fn example() -> Document {
    let link = |id: &str, inboard, outboard, steers| Link { id: id.to_string(), inboard, outboard, steers };
    Document {
        cornerwise: VERSION,
        title: "Alder hill-climb coupé".into(),
        note: "An invented electric hill-climb car: split lower links in front, three lower links behind."
            .into(),
        vehicle: Vehicle {
            wheelbase: Some(2640.0),
            mass: Some(1480.0),
            front_mass_share: Some(0.44),
            cg_height: Some(465.0),
            brake_front_share: Some(0.64),
            drive_front_share: Some(0.3),
        },
        front: Some(Corner {
            arms: vec![Arm {
                id: "upper-arm".into(),
                front_pivot: [112.0, 446.0, 468.0],
                rear_pivot: [-128.0, 452.0, 452.0],
                ball_joint: [-14.0, 722.0, 482.0],
            }],
            links: vec![
                link("lower-lateral", [-30.0, 372.0, 192.0], [10.0, 708.0, 182.0], false),
                link("lower-forward", [347.0, 435.0, 184.0], [67.0, 715.0, 180.0], false),
                link("tie-rod", [-118.0, 408.1, 229.0], [-120.0, 706.0, 226.0], true),
            ],
            strut: None,
            hinge: None,
            wheel: Wheel {
                centre: [0.0, 790.0, 312.0],
                loaded_radius: 312.0,
                camber: -0.8,
                toe: 0.05,
                tyre: None,
            },
            rack_direction: None,
            spring: Some(Spring {
                body: [-16.0, 574.0, 604.0],
                carried: [0.0, 624.0, 184.0],
                on: "lower-lateral".into(),
                rate: Some(62.0),
            }),
            damper: None,
        }),
        rear: Some(Corner {
            arms: vec![Arm {
                id: "upper-arm".into(),
                front_pivot: [-2522.0, 452.0, 486.0],
                rear_pivot: [-2782.0, 446.0, 504.0],
                ball_joint: [-2646.0, 694.0, 516.0],
            }],
            links: vec![
                link("lower-lateral", [-2692.0, 318.0, 196.0], [-2668.0, 722.0, 188.0], false),
                link("lower-forward", [-2268.0, 448.0, 254.0], [-2578.0, 716.0, 190.0], false),
                link("toe-link", [-2808.0, 270.8, 229.0], [-2812.0, 712.0, 222.0], false),
            ],
            strut: None,
            hinge: None,
            wheel: Wheel {
                centre: [-2640.0, 782.0, 328.0],
                loaded_radius: 328.0,
                camber: -1.2,
                toe: 0.12,
                tyre: None,
            },
            rack_direction: None,
            spring: Some(Spring {
                body: [-2636.0, 520.0, 742.0],
                carried: [-2644.0, 598.0, 470.0],
                on: "upper-arm".into(),
                rate: Some(88.0),
            }),
            damper: None,
        }),
    }
}
