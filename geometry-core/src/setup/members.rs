//! The members that hold a knuckle, its wheel, and what stands between wheel and body.

use alloc::string::String;

use super::Point;

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
    /// Vertical rate of the tyre at its load, N/mm.
    #[cfg_attr(feature = "serde", serde(default, skip_serializing_if = "Option::is_none"))]
    pub tyre_rate: Option<f64>,
    /// The rim, when its shape is known.
    #[cfg_attr(feature = "serde", serde(default, skip_serializing_if = "Option::is_none"))]
    pub rim: Option<Rim>,
    /// The brake disc, when its shape is known.
    #[cfg_attr(feature = "serde", serde(default, skip_serializing_if = "Option::is_none"))]
    pub brake_disc: Option<BrakeDisc>,
}

impl Wheel {
    /// An upright wheel with straight heading of which nothing else is known.
    #[must_use]
    pub fn new(centre: Point, loaded_radius: f64) -> Self {
        Self {
            centre,
            loaded_radius,
            camber: 0.0,
            toe: 0.0,
            tyre: None,
            tyre_rate: None,
            rim: None,
            brake_disc: None,
        }
    }
}

/// A rim as its marks say it. Its diameter is that of the tyre's size.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(deny_unknown_fields))]
pub struct Rim {
    /// Width between the flanges, mm (the mark says inches: 8J is 203 mm).
    pub width: f64,
    /// How far the mounting face stands outboard of the rim's middle plane, mm (the mark
    /// ET). The wheel centre of the document is the middle plane's.
    #[cfg_attr(feature = "serde", serde(default))]
    pub offset: f64,
}

/// A brake disc about the hub axis.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(deny_unknown_fields))]
pub struct BrakeDisc {
    /// Outer diameter, mm.
    pub diameter: f64,
    /// Thickness over both faces, mm.
    pub thickness: f64,
    /// How far its middle plane stands inboard of the wheel centre, mm.
    #[cfg_attr(feature = "serde", serde(default))]
    pub inset: f64,
}

/// A spring between the body and a member or the knuckle.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(deny_unknown_fields))]
pub struct Spring {
    /// End on the body.
    pub body: Point,
    /// Moving end.
    pub carried: Point,
    /// What carries the moving end: a member's name, or [`super::KNUCKLE`].
    pub on: String,
    /// Rate, N/mm.
    #[cfg_attr(feature = "serde", serde(default, skip_serializing_if = "Option::is_none"))]
    pub rate: Option<f64>,
    /// Length without load, mm. When absent, the spring's force at travel 0 is the one that
    /// carries the corner's share of the car.
    #[cfg_attr(feature = "serde", serde(default, skip_serializing_if = "Option::is_none"))]
    pub free_length: Option<f64>,
}

/// A damper between the body and a member or the knuckle.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(deny_unknown_fields))]
pub struct Damper {
    /// End on the body.
    pub body: Point,
    /// Moving end.
    pub carried: Point,
    /// What carries the moving end: a member's name, or [`super::KNUCKLE`].
    pub on: String,
}

/// A rocker: turns on two body pivots, led by a rod (pushrod or pullrod) from a member or
/// the knuckle. Springs, dampers and anti-roll bars may stand on it by its name.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(deny_unknown_fields))]
pub struct Rocker {
    /// Name, unique in its corner.
    pub id: String,
    /// Two points of its axis on the body.
    pub axis: [Point; 2],
    /// The rod's joint on the rocker.
    pub rod_end: Point,
    /// The rod's other joint.
    pub carried: Point,
    /// What carries the rod's other joint: a member's name, or [`super::KNUCKLE`].
    pub on: String,
}

/// An anti-roll bar's half on this side: its arm turns about the bar's axis, led by a drop
/// link. The other half is the mirror image, so the axis runs square across the car.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(deny_unknown_fields))]
pub struct AntiRollBar {
    /// Two points of the bar's axis on the body, such as its bush and its middle.
    pub axis: [Point; 2],
    /// The drop link's joint on the bar's arm.
    pub arm_end: Point,
    /// The drop link's other joint.
    pub carried: Point,
    /// What carries the other joint: a member's or the rocker's name, or [`super::KNUCKLE`].
    pub on: String,
    /// Moment over the angle by which one end is twisted against the other, N·m/°.
    #[cfg_attr(feature = "serde", serde(default, skip_serializing_if = "Option::is_none"))]
    pub rate: Option<f64>,
}

/// A torsion bar along the axis of an arm, a hinge or a rocker: a spring that is twisted as
/// that part turns.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(deny_unknown_fields))]
pub struct TorsionBar {
    /// Name of the arm, hinge or rocker that twists it.
    pub on: String,
    /// Moment over the angle, N·m/°.
    #[cfg_attr(feature = "serde", serde(default, skip_serializing_if = "Option::is_none"))]
    pub rate: Option<f64>,
}

/// A part that moves with the wheel, wholly or by a share.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(deny_unknown_fields))]
pub struct Part {
    /// What it is.
    pub name: String,
    /// Mass, kg.
    pub mass: f64,
    /// The share of it that moves with the wheel; 1 when absent. Half of a link's mass is
    /// common practice.
    #[cfg_attr(feature = "serde", serde(default, skip_serializing_if = "Option::is_none"))]
    pub share: Option<f64>,
}

impl Part {
    /// The mass that moves with the wheel, kg.
    #[must_use]
    pub fn unsprung(&self) -> f64 {
        self.mass * self.share.unwrap_or(1.0)
    }
}

/// What reacts the braking torque of the friction brakes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(rename_all = "lowercase"))]
pub enum Brakes {
    /// The knuckle: a brake at the wheel.
    #[default]
    Outboard,
    /// The body, through a shaft.
    Inboard,
}

/// What reacts the torque of the drive and of regeneration.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(rename_all = "lowercase"))]
pub enum Drive {
    /// The body, through a shaft.
    #[default]
    Shaft,
    /// The knuckle: a motor in the hub.
    Hub,
}
