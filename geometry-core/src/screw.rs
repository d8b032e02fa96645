//! The small algebra everything is made of: twists, wrenches, lines, displacements.
//!
//! Reference point of every twist and wrench is the origin of the vehicle axes, basis
//! the vehicle axes. A twist is (angular, linear) with `linear` the velocity of the body
//! point that is now at the origin (Lynch & Park, *Modern Robotics*, 2017, ch. 3, call it
//! the spatial twist and write it in the same order). A wrench is (force, moment about the
//! origin). Their pairing is power; it needs no metric and no common reference frame but
//! this one.

use crate::{
    Mat3, Vec3,
    float::{atan2, cos, norm, sin, sqrt},
};

/// A velocity of a rigid body: angular velocity in rad per unit of the input, and the
/// velocity, in mm per unit, of the body point now at the origin.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Twist {
    /// Angular velocity, right-handed.
    pub angular: Vec3,
    /// Velocity of the body point now at the origin.
    pub linear: Vec3,
}

impl Twist {
    /// The body at rest.
    pub const ZERO: Self = Self { angular: Vec3::new(0.0, 0.0, 0.0), linear: Vec3::new(0.0, 0.0, 0.0) };

    /// From the angular velocity and the velocity of the body point now at `point`.
    #[inline]
    #[must_use]
    pub fn at_point(point: &Vec3, angular: Vec3, velocity: Vec3) -> Self {
        Self { angular, linear: velocity + point.cross(&angular) }
    }

    /// Turning about a line through `point` along the unit vector `direction`, with
    /// `pitch` mm of advance per radian (Lynch & Park 2017, eq. 3.69: v = q × s + h s).
    #[must_use]
    pub fn about(point: &Vec3, direction: &Vec3, pitch: f64) -> Self {
        Self { angular: *direction, linear: point.cross(direction) + pitch * direction }
    }

    /// Velocity of the body point now at `point`.
    #[inline]
    #[must_use]
    pub fn velocity_at(&self, point: &Vec3) -> Vec3 {
        self.linear + self.angular.cross(point)
    }

    /// This motion with `factor` times `other` added.
    #[inline]
    #[must_use]
    pub fn plus(&self, factor: f64, other: &Self) -> Self {
        Self { angular: self.angular + factor * other.angular, linear: self.linear + factor * other.linear }
    }

    /// The screw this twist turns about; `None` for a pure translation, whose axis is
    /// at infinity.
    #[must_use]
    pub fn screw(&self) -> Option<Screw> {
        let square = self.angular.norm_squared();
        if square == 0.0 {
            return None;
        }
        let size = sqrt(square);
        let point = self.angular.cross(&self.linear) / square;
        let pitch = self.angular.dot(&self.linear) / square;
        let far = norm(&point);
        (size.is_finite() && far.is_finite() && far < crate::bounds::INFINITELY_FAR).then(|| Screw {
            point,
            direction: self.angular / size,
            pitch,
        })
    }

    /// The displacement reached by keeping this twist for one unit of time
    /// (Lynch & Park 2017, prop. 3.25).
    #[must_use]
    pub fn exp(&self) -> Displacement {
        let w = self.angular;
        let square = w.norm_squared();
        let (a, b, c) = exponential_coefficients(square);
        let hat = w.cross_matrix();
        let hat2 = hat * hat;
        Displacement {
            rotation: Mat3::identity() + a * hat + b * hat2,
            translation: self.linear + b * (hat * self.linear) + c * (hat2 * self.linear),
        }
    }

    /// The same motion in axes displaced by `d`: the adjoint map. `d` takes
    /// coordinates in the old axes to coordinates in the new ones.
    #[must_use]
    pub fn seen_from(&self, d: &Displacement) -> Self {
        let angular = d.rotation * self.angular;
        Self { angular, linear: d.rotation * self.linear + d.translation.cross(&angular) }
    }

    /// Power of a wrench on this motion: N·mm per unit of the input.
    #[inline]
    #[must_use]
    pub fn power(&self, wrench: &Wrench) -> f64 {
        self.angular.dot(&wrench.moment) + self.linear.dot(&wrench.force)
    }
}

/// sin θ/θ, (1 − cos θ)/θ², (θ − sin θ)/θ³ for θ² given, by series below 0.01 rad, where
/// the next term of each series is under 1e-17 of its first.
fn exponential_coefficients(square: f64) -> (f64, f64, f64) {
    if square < 1e-4 {
        let (s, s2, s3) = (square, square * square, square * square * square);
        (
            1.0 - s / 6.0 + s2 / 120.0 - s3 / 5040.0,
            0.5 - s / 24.0 + s2 / 720.0 - s3 / 40_320.0,
            1.0 / 6.0 - s / 120.0 + s2 / 5040.0 - s3 / 362_880.0,
        )
    } else {
        let angle = sqrt(square);
        let (sine, half) = (sin(angle), sin(angle / 2.0));
        (sine / angle, 2.0 * half * half / square, (angle - sine) / (square * angle))
    }
}

/// A line a body turns about and advances along.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Screw {
    /// The point of the axis nearest the origin, mm.
    pub point: Vec3,
    /// Unit vector along the axis, the way the right-handed rotation points.
    pub direction: Vec3,
    /// Advance, mm per radian.
    pub pitch: f64,
}

impl Screw {
    /// Where the axis crosses the horizontal plane at height `z`; `None` when it lies
    /// too flat to say (under 0.1° from horizontal).
    #[must_use]
    pub fn at_height(&self, z: f64) -> Option<Vec3> {
        if self.direction.z.abs() < crate::bounds::LYING_AXIS_COSINE {
            return None;
        }
        let mut point = self.point + (z - self.point.z) / self.direction.z * self.direction;
        point.z = z;
        Some(point)
    }
}

/// A force and its moment about the origin: N and N·mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wrench {
    /// Force.
    pub force: Vec3,
    /// Moment about the origin.
    pub moment: Vec3,
}

impl Wrench {
    /// A force acting at a point.
    #[must_use]
    pub fn at_point(point: &Vec3, force: Vec3) -> Self {
        Self { force, moment: point.cross(&force) }
    }

    /// Both acting together.
    #[must_use]
    pub fn plus(&self, other: &Self) -> Self {
        Self { force: self.force + other.force, moment: self.moment + other.moment }
    }
}

/// A directed line as a constraint's row: Plücker coordinates. A unit force along it
/// has this direction as its force and this moment about the origin.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Line {
    /// Unit direction.
    pub direction: Vec3,
    /// Moment of the direction about the origin.
    pub moment: Vec3,
}

impl Line {
    /// Through a point along a unit vector.
    #[must_use]
    pub fn through(point: &Vec3, direction: Vec3) -> Self {
        Self { direction, moment: point.cross(&direction) }
    }

    /// The wrench of a force of `size` newtons along the line.
    #[must_use]
    pub fn wrench(&self, size: f64) -> Wrench {
        Wrench { force: size * self.direction, moment: size * self.moment }
    }
}

/// A displacement of a rigid body: where its points go, p ↦ rotation · p + translation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Displacement {
    /// Rotation matrix.
    pub rotation: Mat3,
    /// Where the point at the origin goes.
    pub translation: Vec3,
}

impl Displacement {
    /// No displacement.
    #[must_use]
    pub fn identity() -> Self {
        Self { rotation: Mat3::identity(), translation: Vec3::zeros() }
    }

    /// Where a point goes.
    #[must_use]
    pub fn apply(&self, point: &Vec3) -> Vec3 {
        self.rotation * point + self.translation
    }

    /// This displacement after `first`.
    #[must_use]
    pub fn after(&self, first: &Self) -> Self {
        Self { rotation: self.rotation * first.rotation, translation: self.apply(&first.translation) }
    }

    /// The way back.
    #[must_use]
    pub fn inverse(&self) -> Self {
        let back = self.rotation.transpose();
        Self { rotation: back, translation: -(back * self.translation) }
    }

    /// The twist that reaches this displacement in one unit of time, turning by at most
    /// half a turn (Lynch & Park 2017, sec. 3.3.3.2). At exactly half a turn both
    /// directions serve; one is taken.
    #[must_use]
    pub fn log(&self) -> Twist {
        let r = &self.rotation;
        // Twice the axis times the sine, and the trace, give the angle without a quotient
        // that loses digits at small or half turns.
        let twice_sine_axis = Vec3::new(r.m32 - r.m23, r.m13 - r.m31, r.m21 - r.m12);
        let sine = norm(&twice_sine_axis) / 2.0;
        let cosine = (r.trace() - 1.0) / 2.0;
        let angle = atan2(sine, cosine);
        let w = if cosine > 0.0 || sine > 1e-3 {
            // θ/sin θ is 1 + θ²/6 + …; below 1e-8 the quotient would be 0/0 in the end.
            let ratio = if sine > 1e-8 { angle / sine } else { 1.0 };
            ratio / 2.0 * twice_sine_axis
        } else {
            // Near half a turn the sine vanishes; R + Rᵀ holds the axis: its largest
            // column, made a unit vector, turned to agree with the sine.
            let symmetric = (r + r.transpose()) / 2.0 - cosine * Mat3::identity();
            let column = symmetric.column(symmetric.diagonal().imax()).into_owned();
            let unit = column / norm(&column);
            if unit.dot(&twice_sine_axis) < 0.0 { -angle * unit } else { angle * unit }
        };
        let square = w.norm_squared();
        // 1/θ² − (1 + cos θ)/(2 θ sin θ), which is 1/12 + θ²/720 + θ⁴/30240 + …
        let k = if square < 1e-2 {
            1.0 / 12.0 + square / 720.0 + square * square / 30_240.0 + square * square * square / 1_209_600.0
        } else {
            let half = sqrt(square) / 2.0;
            (1.0 - half * cos(half) / sin(half)) / square
        };
        let hat = w.cross_matrix();
        let t = self.translation;
        Twist { angular: w, linear: t - 0.5 * (hat * t) + k * (hat * (hat * t)) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn close(a: &Vec3, b: &Vec3, tolerance: f64) {
        assert!((a - b).norm() <= tolerance, "{a} is not {b}");
    }

    /// The coefficients are continuous where the series takes over.
    #[test]
    fn the_series_meet_the_formulas() {
        let below = exponential_coefficients(1e-4 * (1.0 - 1e-15));
        let above = exponential_coefficients(1e-4);
        assert!((below.0 - above.0).abs() < 2e-16, "{below:?} {above:?}");
        assert!((below.1 - above.1).abs() < 2e-15, "{below:?} {above:?}");
        // (θ − sin θ)/θ³ loses digits to the difference: 1e-16 · 0.01 / 1e-6.
        assert!((below.2 - above.2).abs() < 2e-12, "{below:?} {above:?}");
    }

    #[test]
    fn log_undoes_exp_at_every_size() {
        let direction = Vec3::new(0.36, -0.48, 0.8);
        for angle in [0.0, 1e-12, 1e-9, 1e-7, 3e-5, 0.0099, 0.0101, 0.09, 0.11, 1.0, 2.0, 3.0, 3.13] {
            let twist = Twist { angular: angle * direction, linear: Vec3::new(120.0, -35.0, 410.0) };
            let back = twist.exp().log();
            close(&back.angular, &twist.angular, 1e-10 * (1.0 + angle));
            close(&back.linear, &twist.linear, 1e-7);
        }
    }

    #[test]
    fn a_screw_comes_back_from_its_twist() {
        let (point, direction) = (Vec3::new(100.0, 700.0, 200.0), Vec3::new(-0.1, -0.14, 0.985).normalize());
        let screw = Twist::about(&point, &direction, -3.5).screw().expect("it turns");
        close(&screw.direction, &direction, 1e-15);
        assert!((screw.pitch + 3.5).abs() < 1e-12);
        close(&screw.at_height(200.0).expect("it stands"), &point, 1e-10);
    }

    #[test]
    fn a_translation_has_no_axis() {
        let slide = Twist { angular: Vec3::zeros(), linear: Vec3::new(0.0, 0.0, 1.0) };
        assert!(slide.screw().is_none());
    }
}
