//! The ground under a leaning body, and where a wheel's disc touches it.

use crate::{
    Vec3,
    bounds::{INFINITELY_FAR, PARALLEL_LINES, SAME_LINE},
    float::{cos, sin, sqrt},
    linkage::Linkage,
    readings::spin_axis,
    screw::Twist,
    solve::Position,
};

/// The ground seen from a leaning body, in a wheel's own (left) frame.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Ground {
    sine: f64,
    cosine: f64,
}

/// A wheel's disc where it touches the ground.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Touch {
    pub(crate) contact: Vec3,
    pub(crate) spin: Vec3,
    /// The knuckle's motion per mm of travel, rack held.
    pub(crate) travel: Twist,
    /// Velocity of the knuckle point at the contact in that motion.
    pub(crate) velocity: Vec3,
}

impl Ground {
    /// Under a body leaning by `roll` rad, + right-handed about x in the wheel's frame.
    pub(crate) fn new(roll: f64) -> Self {
        Self { sine: sin(roll), cosine: cos(roll) }
    }

    /// Unit vector square to the ground, up.
    pub(crate) fn up(&self) -> Vec3 {
        Vec3::new(0.0, self.sine, self.cosine)
    }

    /// Unit vector along the ground across the car, to the left; the rate of [`Ground::up`]
    /// with the lean.
    pub(crate) fn across(&self) -> Vec3 {
        Vec3::new(0.0, self.cosine, -self.sine)
    }

    /// The disc's lowest point above this ground.
    pub(crate) fn touch(&self, linkage: &Linkage, position: &Position) -> Touch {
        let (up, spin) = (self.up(), spin_axis(linkage, position));
        let down = spin.dot(&up) * spin - up;
        let contact = position.wheel_centre() + (linkage.loaded_radius / sqrt(down.norm_squared())) * down;
        let travel = position.travel_twist();
        Touch { contact, spin, travel, velocity: travel.velocity_at(&contact) }
    }
}

/// Where the two lines meet that pass through the contacts square to their velocities in
/// the front view: [y, z] in body axes. Of two lines that are one, the middle between the
/// contacts; `None` where they are parallel.
pub(crate) fn lines_meet(left: &Touch, right: &Touch) -> Option<[f64; 2]> {
    let unit = |touch: &Touch, side: f64| {
        let (y, z) = (side * touch.velocity.y, touch.velocity.z);
        let size = sqrt(y * y + z * z);
        [y / size, z / size, side * touch.contact.y, touch.contact.z]
    };
    let ([a, b, y, z], [c, d, other_y, other_z]) = (unit(left, 1.0), unit(right, -1.0));
    let determinant = a * d - b * c;
    let (first, second) = (a * y + b * z, c * other_y + d * other_z);
    if determinant.abs() < PARALLEL_LINES {
        let apart = a * other_y + b * other_z - first;
        return (apart.abs() < SAME_LINE).then_some([0.5 * (y + other_y), 0.5 * (z + other_z)]);
    }
    let centre = [(first * d - second * b) / determinant, (a * second - c * first) / determinant];
    // Written so that NaN (a contact at rest) is dropped as well.
    centre.iter().all(|c| c.abs() <= INFINITELY_FAR).then_some(centre)
}
