//! The wheel's envelope: rim barrel, brake disc, tyre section, and what of the knuckle's joints
//! lies where.
//!
//! All of it turns about the hub axis, so two coordinates say everything: the distance from that
//! axis and how far inboard of the wheel's middle plane a point lies. The knuckle's joints move
//! with the wheel; what is said here holds in every position (but for a wheel that is steered
//! against parts of the body, which are not looked at).
//!
//! ```
//! use geometry_core::{setup::{example, Axle, Side}, wheel::Envelope};
//!
//! let document = example();
//! let corner = document.corner(Axle::Front).expect("the example has a front axle");
//! let envelope = Envelope::of(corner, Side::Left);
//! let barrel = envelope.barrel.expect("tyre and rim are given");
//! let joint = envelope.joints.iter().find(|joint| joint.path == "links[0].outboard").expect("there");
//! assert!(joint.inside_barrel == Some(true) && joint.from_hub_axis < barrel.radius);
//! ```

use alloc::{string::String, vec::Vec};

use crate::{
    Vec3,
    float::{cos, norm, sin, sqrt},
    linkage::spin_axis_of,
    setup::{Corner, KNUCKLE, Point, Side},
    springing::Missing,
    tyre::Size,
};

/// mm: depth of the well below the bead seat, 17.3 (contour J, ISO 4000-1 and ETRTO; from
/// memory). Where along the rim the well lies the marks do not say, so it is taken to run over
/// the whole width: the barrel is nowhere narrower.
pub const WELL_DEPTH: f64 = 17.3;
/// mm: thickness of the rim's metal, 6 (common practice for cast wheels, no source).
pub const RIM_WALL: f64 = 6.0;
/// mm: height of the flange over the bead seat, 17.5 (contour J, ISO 4000-1; from memory).
pub const FLANGE_HEIGHT: f64 = 17.5;
/// mm: how far the rim's edge stands beyond the width between the flanges, on each side, 12.7
/// (a wheel is about an inch wider overall than its mark: common practice, no source).
pub const FLANGE_WIDTH: f64 = 12.7;
/// Width of the tread over that of the section, for the drawn outline, 0.85 (common practice,
/// no source).
pub const TREAD_SHARE: f64 = 0.85;

/// What is known of the wheel's shape and of the joints beside it.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Envelope {
    /// The room inside the rim.
    pub barrel: Option<Barrel>,
    /// The brake disc.
    pub disc: Option<Disc>,
    /// The tyre's section.
    pub tyre: Option<TyreSection>,
    /// Every joint that moves with the knuckle.
    pub joints: Vec<JointPlace>,
    /// The parts that move with the wheel.
    pub unsprung: Vec<UnsprungPart>,
    /// Their sum, kg.
    pub unsprung_mass: Option<f64>,
    /// Every input that is not given and keeps some of this from existing.
    pub missing: Vec<Missing>,
}

/// The cylinder inside the rim in which hub, brake and joints must find room.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Barrel {
    /// Inner radius, mm: half the rim's diameter less [`WELL_DEPTH`] and [`RIM_WALL`]. An
    /// estimate; a measured wheel is better.
    pub radius: f64,
    /// Outer radius of the flanges, mm.
    pub flange_radius: f64,
    /// Where the rim's inboard edge stands, mm inboard of the wheel's middle plane.
    pub inboard_edge: f64,
    /// Where its outboard edge stands, mm inboard of the middle plane, so below zero.
    pub outboard_edge: f64,
    /// Where the mounting face stands, mm inboard of the middle plane: minus the offset.
    pub mounting_face: f64,
}

/// The brake disc's cylinder.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Disc {
    /// Outer radius, mm.
    pub radius: f64,
    /// Inboard face, mm inboard of the wheel's middle plane.
    pub inboard_face: f64,
    /// Outboard face, mm inboard of the middle plane.
    pub outboard_face: f64,
    /// Room between the disc's edge and the barrel, mm: what is left for the caliper; below
    /// zero the disc does not go in.
    pub to_barrel: Option<f64>,
    /// From the outboard face to the wheel's mounting face, mm: below zero the disc stands
    /// outboard of the face on which the wheel is mounted.
    pub to_mounting_face: Option<f64>,
}

/// The tyre's section, to be drawn.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct TyreSection {
    /// Width on its measuring rim, mm.
    pub width: f64,
    /// Height, mm.
    pub height: f64,
    /// Overall radius without load, mm.
    pub radius: f64,
    /// Radius of the bead seat, mm.
    pub bead_radius: f64,
    /// Estimate of the loaded radius, mm ([`crate::tyre::LOADED_SHARE`]).
    pub loaded_radius_estimate: f64,
    /// Estimate of the way rolled in one turn, mm ([`crate::tyre::ROLLING_SHARE`]).
    pub rolling_circumference_estimate: f64,
    /// [mm inboard of the middle plane, mm from the hub axis] from the outboard bead over the
    /// tread to the inboard one: an impression of the section, widest at half its height, with a
    /// tread of [`TREAD_SHARE`] of its width.
    pub outline: Vec<[f64; 2]>,
}

/// Where a joint of the knuckle lies about the hub axis, and how near to rim and disc.
///
/// Distances are the joint's centre's: its housing needs its own radius besides.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct JointPlace {
    /// The point's path in the corner, as in `links[0].outboard`.
    pub path: String,
    /// Name of the member.
    pub id: String,
    /// Where it is with travel and rack at zero, mm.
    pub point: Point,
    /// Distance from the hub axis, mm.
    pub from_hub_axis: f64,
    /// How far inboard of the wheel's middle plane, mm.
    pub inboard: f64,
    /// Whether it lies within the barrel: between the rim's edges and nearer the axis than the
    /// metal.
    pub inside_barrel: Option<bool>,
    /// mm from the rim: to the barrel's metal for a joint between the edges (below zero it
    /// stands in the metal or beyond), to the near edge for one beside the rim.
    pub to_rim: Option<f64>,
    /// mm from the brake disc's nearest face or edge; below zero it stands in the disc.
    pub to_disc: Option<f64>,
}

/// A part that moves with the wheel.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct UnsprungPart {
    /// What it is.
    pub name: String,
    /// Its mass, kg.
    pub mass: f64,
    /// The share that moves with the wheel.
    pub share: f64,
    /// What of it is unsprung, kg.
    pub unsprung: f64,
}

impl Envelope {
    /// The envelope of a corner whose points are on `side`.
    #[must_use]
    pub fn of(corner: &Corner, side: Side) -> Self {
        let wheel = &corner.wheel;
        let size = wheel.tyre.as_deref().and_then(Size::read);
        let barrel = size.zip(wheel.rim.as_ref()).map(|(size, rim)| Barrel {
            radius: 0.5 * size.rim_diameter - WELL_DEPTH - RIM_WALL,
            flange_radius: 0.5 * size.rim_diameter + FLANGE_HEIGHT,
            inboard_edge: 0.5 * rim.width + FLANGE_WIDTH,
            outboard_edge: -0.5 * rim.width - FLANGE_WIDTH,
            mounting_face: -rim.offset,
        });
        let disc = wheel.brake_disc.as_ref().map(|disc| {
            let (radius, half) = (0.5 * disc.diameter, 0.5 * disc.thickness);
            let outboard_face = disc.inset - half;
            Disc {
                radius,
                inboard_face: disc.inset + half,
                outboard_face,
                to_barrel: barrel.map(|barrel| barrel.radius - radius),
                to_mounting_face: wheel.rim.as_ref().map(|rim| outboard_face + rim.offset),
            }
        });
        let spin = spin_axis_of(wheel.camber, wheel.toe, side.outboard());
        let place = |(path, id, point): (String, String, Point)| {
            let from_centre = Vec3::from(point) - Vec3::from(wheel.centre);
            let along = from_centre.dot(&spin);
            let (from_hub_axis, inboard) = (norm(&(from_centre - along * spin)), -along);
            JointPlace {
                path,
                id,
                point,
                from_hub_axis,
                inboard,
                inside_barrel: barrel.map(|barrel| barrel.holds(from_hub_axis, inboard)),
                to_rim: barrel.map(|barrel| barrel.distance(from_hub_axis, inboard)),
                to_disc: disc.map(|disc| disc.distance(from_hub_axis, inboard)),
            }
        };
        let absent = [
            (Missing::Tyre, wheel.tyre.is_none()),
            (Missing::TyreSize, wheel.tyre.is_some() && size.is_none()),
            (Missing::Rim, wheel.rim.is_none()),
            (Missing::BrakeDisc, disc.is_none()),
            (Missing::UnsprungParts, corner.unsprung.is_empty()),
        ];
        Self {
            barrel,
            disc,
            tyre: size.map(|size| TyreSection::of(&size, wheel.rim.as_ref().map(|rim| rim.width))),
            joints: knuckle_joints(corner).into_iter().map(place).collect(),
            unsprung: corner
                .unsprung
                .iter()
                .map(|part| UnsprungPart {
                    name: part.name.clone(),
                    mass: part.mass,
                    share: part.share.unwrap_or(1.0),
                    unsprung: part.unsprung(),
                })
                .collect(),
            unsprung_mass: corner.unsprung_mass(),
            missing: absent.into_iter().filter(|(_, is)| *is).map(|(missing, _)| missing).collect(),
        }
    }
}

impl Barrel {
    fn holds(&self, from_hub_axis: f64, inboard: f64) -> bool {
        (self.outboard_edge..=self.inboard_edge).contains(&inboard) && from_hub_axis < self.radius
    }

    fn distance(&self, from_hub_axis: f64, inboard: f64) -> f64 {
        let beside = (inboard - self.inboard_edge).max(self.outboard_edge - inboard);
        if beside <= 0.0 {
            return self.radius - from_hub_axis;
        }
        // The edge reaches from the barrel to the flange's rim.
        let over = (self.radius - from_hub_axis).max(from_hub_axis - self.flange_radius).max(0.0);
        sqrt(beside * beside + over * over)
    }
}

impl Disc {
    fn distance(&self, from_hub_axis: f64, inboard: f64) -> f64 {
        let beside = (inboard - self.inboard_face).max(self.outboard_face - inboard);
        let over = from_hub_axis - self.radius;
        if beside > 0.0 && over > 0.0 { sqrt(beside * beside + over * over) } else { beside.max(over) }
    }
}

impl TyreSection {
    /// The section of a size on a rim of that width; the measuring rim's width is not known, so
    /// without a rim the beads stand as far apart as the tread is wide.
    fn of(size: &Size, rim_width: Option<f64>) -> Self {
        let (radius, bead_radius) = (0.5 * size.diameter, 0.5 * size.rim_diameter);
        let height = size.section_height();
        let widest = 0.5 * size.section_width;
        let tread = TREAD_SHARE * widest;
        let bead = rim_width.map_or(tread, |width| 0.5 * width);
        // A quarter ellipse from the bead out to the widest place, another one in to the edge of
        // the flat tread.
        let middle = bead_radius + 0.5 * height;
        let mut half: Vec<[f64; 2]> = Vec::new();
        for i in 0..=2 * ARC {
            let angle = core::f64::consts::FRAC_PI_2 * (f64::from(i) / f64::from(ARC) - 1.0);
            let end = if i < ARC { bead } else { tread };
            half.push([end + (widest - end) * cos(angle), middle + 0.5 * height * sin(angle)]);
        }
        let outboard = half.iter().map(|[across, up]| [-across, *up]);
        let outline = outboard.chain(half.iter().rev().copied()).collect();
        Self {
            width: size.section_width,
            height,
            radius,
            bead_radius,
            loaded_radius_estimate: size.loaded_radius_estimate(),
            rolling_circumference_estimate: size.rolling_circumference_estimate(),
            outline,
        }
    }
}

/// Steps of a quarter of the outline.
const ARC: u32 = 6;

/// Every joint on the knuckle: path, member's name, point.
fn knuckle_joints(corner: &Corner) -> Vec<(String, String, Point)> {
    let mut joints = Vec::new();
    for (i, arm) in corner.arms.iter().enumerate() {
        joints.push((alloc::format!("arms[{i}].ball_joint"), arm.id.clone(), arm.ball_joint));
    }
    for (i, link) in corner.links.iter().enumerate() {
        joints.push((alloc::format!("links[{i}].outboard"), link.id.clone(), link.outboard));
    }
    if let Some(strut) = &corner.strut {
        joints.push(("strut.lower_end".into(), strut.id.clone(), strut.lower_end));
    }
    let rigid = |on: &str| {
        on == KNUCKLE
            || corner.strut.as_ref().is_some_and(|strut| strut.id == on)
            || corner.hinge.as_ref().is_some_and(|hinge| hinge.id == on)
    };
    let (spring, damper) = (corner.spring.as_ref(), corner.damper.as_ref());
    let (rocker, bar) = (corner.rocker.as_ref(), corner.anti_roll_bar.as_ref());
    let carried = [
        ("spring", spring.map(|part| (part.on.as_str(), part.carried))),
        ("damper", damper.map(|part| (part.on.as_str(), part.carried))),
        ("rocker", rocker.map(|part| (part.on.as_str(), part.carried))),
        ("anti_roll_bar", bar.map(|part| (part.on.as_str(), part.carried))),
    ];
    for (field, part) in carried {
        if let Some((on, point)) = part.filter(|(on, _)| rigid(on)) {
            joints.push((alloc::format!("{field}.carried"), on.into(), point));
        }
    }
    joints
}
