//! The named quantities of one position, each a few lines on the two twists.
//!
//! Lengths mm, angles degrees (the document's unit; this is the edge), slopes mm per mm,
//! percentages per cent. What does not exist (no steering link, missing vehicle data, a
//! centre at infinity) is `None`; nothing is told by NaN. Definitions and sources stand in
//! [`quantity`].

pub mod quantity;

pub use quantity::Quantity;

use core::f64::consts::PI;

use crate::{
    Vec3,
    bounds::{BAR_AT_REST, INFINITELY_FAR, SPRING_AT_REST},
    carried::Length,
    float::{asin, atan2, sqrt},
    linkage::Linkage,
    screw::Twist,
    setup::{Axle, Point, Vehicle},
    solve::{Follower, Knuckle, Position},
};

const DEGREES: f64 = 180.0 / PI;

/// Everything that is read off one position of one corner.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Readings {
    /// Inclination of the wheel plane from vertical, °, + top outward (ISO 8855 camber).
    pub camber: f64,
    /// °, + front of the wheel inward (ISO 8855 static toe).
    pub toe: f64,
    /// Wheel centre, mm.
    pub wheel_centre: Point,
    /// Lowest point of the disc of the loaded radius about the spin axis, mm.
    pub contact: Point,
    /// Contact's outboard displacement against the design position, mm.
    pub half_track_change: f64,
    /// Wheel centre's forward displacement against the design position, mm.
    pub wheelbase_change: f64,
    /// Change of camber, ° per mm of wheel-centre travel.
    pub camber_gain: f64,
    /// Change of toe, ° per mm of wheel-centre travel.
    pub bump_steer: f64,
    /// [y, z] without velocity in y and z in the plane x = wheel centre's x, mm.
    pub front_view_centre: Option<[f64; 2]>,
    /// [x, z] without velocity in x and z in the plane y = wheel centre's y, mm.
    pub side_view_centre: Option<[f64; 2]>,
    /// dx/dz of the knuckle point now at the contact, in the travel motion.
    pub contact_slope_x: Option<f64>,
    /// dy/dz of the knuckle point now at the contact, in the travel motion.
    pub contact_slope_y: Option<f64>,
    /// dx/dz of the wheel centre in the travel motion.
    pub hub_slope_x: f64,
    /// Height above the contact at which the front-view lines of both mirrored wheels
    /// meet on the centre plane, mm.
    pub roll_centre_height: Option<f64>,
    /// What is read off the steering motion, where a link steers.
    pub steering: Option<Steering>,
    /// Spring length, mm, and ratio.
    pub spring: Option<LengthReading>,
    /// Damper length, mm, and ratio.
    pub damper: Option<LengthReading>,
    /// Anti-percentages.
    pub anti: Anti,
}

/// What is read off the screw of the steering motion.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Steering {
    /// Where the axis crosses the contact's horizontal plane, mm.
    pub point: Point,
    /// Unit vector along the axis, upward.
    pub direction: Point,
    /// Advance along the axis, mm per radian.
    pub screw_pitch: f64,
    /// Of the axis in the y–z plane, °, + top inward.
    pub kingpin_inclination: f64,
    /// Of the axis in the x–z plane, °, + top rearward.
    pub caster: f64,
    /// At the ground, across the wheel's heading, mm, + contact outboard of the axis.
    pub scrub_radius: f64,
    /// At the ground, along the wheel's heading, mm, + axis ahead of the contact.
    pub mechanical_trail: f64,
    /// At the hub's height, across the heading, mm, + centre outboard of the axis.
    pub hub_offset: f64,
    /// At the hub's height, along the heading, mm, + axis ahead of the centre.
    pub hub_trail: f64,
}

/// A spring's or damper's length and how the wheel moves it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LengthReading {
    /// Length, mm.
    pub length: f64,
    /// Shortening per mm of wheel-centre travel.
    pub motion_ratio: f64,
}

/// Percentages against longitudinal load transfer, + resists the body's motion.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Anti {
    /// Braking, torque reacted by the knuckle (a friction brake at the wheel).
    pub braking_friction: Option<f64>,
    /// Braking, torque reacted by the body through a shaft (regeneration, inboard brake).
    pub braking_shaft: Option<f64>,
    /// Driving, torque reacted by the body through a shaft.
    pub driving_shaft: Option<f64>,
    /// Driving, torque reacted by the knuckle (a hub motor).
    pub driving_hub: Option<f64>,
}

/// A corner's linkage with all that does not change while it moves.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reader<'a> {
    linkage: &'a Linkage,
    contact_at_design: Vec3,
    /// Percentages per unit of slope.
    braking: Option<f64>,
    driving: Option<f64>,
}

impl<'a> Reader<'a> {
    /// Prepares the readings of a corner of `vehicle`'s `axle`.
    #[must_use]
    pub fn new(linkage: &'a Linkage, vehicle: &Vehicle, axle: Axle) -> Self {
        let design = *Follower::new(linkage).position();
        let sign = match axle {
            Axle::Front => 1.0,
            Axle::Rear => -1.0,
        };
        let leverage = vehicle.wheelbase.zip(vehicle.cg_height).map(|(l, h)| sign * 100.0 * l / h);
        let factor = |front: Option<f64>| leverage.zip(front).map(|(k, front)| k * axle.share(front));
        Self {
            linkage,
            contact_at_design: contact(linkage, &design, &spin_axis(linkage, &design)),
            braking: factor(vehicle.brake_front_share),
            driving: factor(vehicle.drive_front_share),
        }
    }

    /// All readings of a position.
    #[must_use]
    pub fn read(&self, position: &Position) -> Readings {
        let linkage = self.linkage;
        let outboard = linkage.side.outboard();
        let knuckle = position.knuckle();
        let centre = knuckle.centre;
        let spin = knuckle.rotation * linkage.spin_axis;
        let contact = lowest_point(linkage, &centre, &spin);
        let travel = knuckle.per_travel.twist(&centre);
        let rate = &knuckle.per_travel;

        let horizontal_square = spin.x * spin.x + spin.y * spin.y;
        let horizontal = sqrt(horizontal_square);
        let spin_rate = rate.angular.cross(&spin);
        let contact_velocity = rate.velocity + rate.angular.cross(&(contact - centre));
        let contact_slope = |v: f64| finite(v / contact_velocity.z);
        let contact_slope_y = contact_slope(contact_velocity.y);
        let contact_slope_x = contact_slope(contact_velocity.x);
        let hub_slope_x = rate.velocity.x;
        let spring = linkage.spring.as_ref().and_then(|spring| spring.at(&knuckle));
        let damper = linkage.damper.as_ref().and_then(|damper| damper.at(&knuckle));
        let product = |factor: Option<f64>, slope: Option<f64>| factor.zip(slope).map(|(k, s)| k * s);

        Readings {
            camber: -asin(spin.z.clamp(-1.0, 1.0)) * DEGREES,
            toe: atan2(spin.x, outboard * spin.y) * DEGREES,
            wheel_centre: centre.into(),
            contact: contact.into(),
            half_track_change: outboard * (contact.y - self.contact_at_design.y),
            wheelbase_change: centre.x - linkage.wheel_centre.x,
            camber_gain: -spin_rate.z / horizontal * DEGREES,
            bump_steer: outboard * (spin.y * spin_rate.x - spin.x * spin_rate.y) / horizontal_square
                * DEGREES,
            front_view_centre: front_view_centre(&travel, centre.x),
            side_view_centre: side_view_centre(&travel, centre.y),
            contact_slope_x,
            contact_slope_y,
            hub_slope_x,
            roll_centre_height: contact_slope_y.map(|slope| contact.y * slope),
            steering: steering_of(linkage, &knuckle, spring.as_ref())
                .and_then(|twist| Steering::read(&twist, &contact, &centre, &spin, outboard)),
            spring: spring.as_ref().map(LengthReading::of),
            damper: damper.as_ref().map(LengthReading::of),
            anti: Anti {
                braking_friction: product(self.braking, contact_slope_x),
                braking_shaft: product(self.braking, Some(hub_slope_x)),
                driving_shaft: product(self.driving, Some(hub_slope_x)),
                driving_hub: product(self.driving, contact_slope_x),
            },
        }
    }
}

impl LengthReading {
    fn of(length: &Length) -> Self {
        Self { length: length.length, motion_ratio: length.per_travel }
    }
}

/// A number, or nothing where a quotient went to infinity.
fn finite(value: f64) -> Option<f64> {
    value.is_finite().then_some(value)
}

/// The spin axis in a position: unit vector pointing outboard.
#[must_use]
pub fn spin_axis(linkage: &Linkage, position: &Position) -> Vec3 {
    position.rotation() * linkage.spin_axis
}

/// Lowest point of the loaded disc, with the linkage in a position.
pub(crate) fn contact(linkage: &Linkage, position: &Position, spin: &Vec3) -> Vec3 {
    lowest_point(linkage, &position.wheel_centre(), spin)
}

/// Lowest point of the loaded disc about a wheel centre.
fn lowest_point(linkage: &Linkage, centre: &Vec3, spin: &Vec3) -> Vec3 {
    // Straight down, less its part along the spin axis, made a unit vector. The length
    // is the cosine of camber, which the document keeps under 45° at design.
    let down = spin.z * spin - Vec3::z();
    let size = sqrt(down.norm_squared());
    centre + (linkage.loaded_radius / size) * down
}

/// The y and z velocities vanish in the plane of this x: two linear equations. Nothing turns about
/// x where the lines are parallel: the centre is at infinity.
pub(crate) fn front_view_centre(twist: &Twist, x: f64) -> Option<[f64; 2]> {
    let (w, v) = (twist.angular, twist.linear);
    near([(w.y * x - v.z) / w.x, (v.y + w.z * x) / w.x])
}

/// The x and z velocities vanish in the plane of this y.
pub(crate) fn side_view_centre(twist: &Twist, y: f64) -> Option<[f64; 2]> {
    let (w, v) = (twist.angular, twist.linear);
    near([(v.z + w.x * y) / w.y, (w.z * y - v.x) / w.y])
}

fn near(centre: [f64; 2]) -> Option<[f64; 2]> {
    // Written so that NaN (0/0: no motion at all) is dropped as well.
    centre.iter().all(|c| c.abs() <= INFINITELY_FAR).then_some(centre)
}

/// The steering motion per mm of rack in which what carries the wheel does no work: with the spring's length held,
/// or the torsion bar's twist where no coil spring does it, or the wheel centre's height where neither is described.
/// By virtual work it is the motion that gives the moment arms with which a force at the wheel reaches the steering
/// link. `None` where no link steers, or where spring and bar do not move with the wheel.
#[must_use]
pub fn steering_twist(linkage: &Linkage, position: &Position) -> Option<Twist> {
    let knuckle = position.knuckle();
    let spring = linkage.spring.as_ref().and_then(|spring| spring.at(&knuckle));
    steering_of(linkage, &knuckle, spring.as_ref())
}

/// [`steering_twist`] with the spring's length known.
fn steering_of(linkage: &Linkage, knuckle: &Knuckle, spring: Option<&Length>) -> Option<Twist> {
    if !linkage.steers {
        return None;
    }
    let (travel, rack) = (knuckle.per_travel.twist(&knuckle.centre), knuckle.per_rack.twist(&knuckle.centre));
    let held = |per_rack: f64, per_travel: f64| Some(rack.plus(-per_rack / per_travel, &travel));
    if let Some(spring) = spring.filter(|spring| spring.per_travel.abs() >= SPRING_AT_REST) {
        return held(spring.per_rack, spring.per_travel);
    }
    let bar = linkage.torsion_bar.as_ref().and_then(|bar| bar.at(knuckle));
    if let Some(bar) = bar.filter(|bar| bar.per_travel.abs() >= BAR_AT_REST) {
        return held(bar.per_rack, bar.per_travel);
    }
    (linkage.spring.is_none() && linkage.torsion_bar.is_none()).then_some(rack)
}

impl Steering {
    pub(crate) fn read(
        twist: &Twist,
        contact: &Vec3,
        centre: &Vec3,
        spin: &Vec3,
        outboard: f64,
    ) -> Option<Self> {
        let screw = twist.screw()?;
        let up = if screw.direction.z < 0.0 { -screw.direction } else { screw.direction };
        let (ground, hub) = (screw.at_height(contact.z)?, screw.at_height(centre.z)?);
        // The wheel's heading and outboard direction, horizontal.
        let size = sqrt(spin.x * spin.x + spin.y * spin.y);
        let across = Vec3::new(spin.x / size, spin.y / size, 0.0);
        let heading = Vec3::new(outboard * across.y, -outboard * across.x, 0.0);
        Some(Self {
            point: ground.into(),
            direction: up.into(),
            screw_pitch: screw.pitch,
            kingpin_inclination: atan2(-outboard * up.y, up.z) * DEGREES,
            caster: atan2(-up.x, up.z) * DEGREES,
            scrub_radius: across.dot(&(contact - ground)),
            mechanical_trail: heading.dot(&(ground - contact)),
            hub_offset: across.dot(&(centre - hub)),
            hub_trail: heading.dot(&(hub - centre)),
        })
    }
}
