//! Twists, screws and finite displacements.

use geometry_core::{
    Mat3, Vec3,
    screw::{Displacement, Twist},
};

use crate::support::{close, close_points};

/// Lynch & Park, *Modern Robotics*, Cambridge 2017, ch. 3, screw axis from a point, a
/// direction and a pitch. Text seen in several public copies of the companion code.
#[test]
fn a_screw_from_point_direction_and_pitch() {
    let twist = Twist::about(&Vec3::new(3.0, 0.0, 0.0), &Vec3::new(0.0, 0.0, 1.0), 2.0);
    close_points("angular", &twist.angular, [0.0, 0.0, 1.0], 0.0);
    close_points("linear", &twist.linear, [0.0, -3.0, 2.0], 0.0);
    let screw = twist.screw().expect("it turns");
    close_points("point", &screw.point, [3.0, 0.0, 0.0], 0.0);
    close("pitch", screw.pitch, 2.0, 0.0);
}

/// The same book and companion code, matrix logarithm of a rigid displacement: 90° about +x
/// through (0, −1.5, 1.5). Text seen. Printed to eight decimals.
#[test]
#[expect(clippy::approx_constant, reason = "as the book prints it")]
fn the_logarithm_of_a_displacement() {
    let displacement = Displacement {
        rotation: Mat3::new(1.0, 0.0, 0.0, 0.0, 0.0, -1.0, 0.0, 1.0, 0.0),
        translation: Vec3::new(0.0, 0.0, 3.0),
    };
    let twist = displacement.log();
    close_points("angular", &twist.angular, [1.570_796_33, 0.0, 0.0], 1e-7);
    close_points("linear", &twist.linear, [0.0, 2.356_194_49, 2.356_194_49], 1e-7);
    let screw = twist.screw().expect("it turns");
    close_points("point", &screw.point, [0.0, -1.5, 1.5], 1e-12);
    close("pitch", screw.pitch, 0.0, 1e-12);
    // And back by the exponential of the same example.
    let back = twist.exp();
    close("rotation", (back.rotation - displacement.rotation).norm(), 0.0, 1e-15);
    close_points("translation", &back.translation, [0.0, 0.0, 3.0], 1e-15);
}

/// The same book, example 3.23: a car turning at 2 rad/s about a point, in the axes of the
/// floor and in its own. From memory.
#[test]
fn the_twist_of_a_turning_car_in_two_frames() {
    let floor_from_car = Displacement {
        rotation: Mat3::from_diagonal(&Vec3::new(-1.0, 1.0, -1.0)),
        translation: Vec3::new(4.0, 0.4, 0.0),
    };
    let on_the_floor = Twist::about(&Vec3::new(2.0, -1.0, 0.0), &Vec3::new(0.0, 0.0, 2.0), 0.0);
    close_points("linear", &on_the_floor.linear, [-2.0, -4.0, 0.0], 0.0);
    let in_the_car = on_the_floor.seen_from(&floor_from_car.inverse());
    close_points("angular", &in_the_car.angular, [0.0, 0.0, -2.0], 0.0);
    close_points("linear", &in_the_car.linear, [2.8, 4.0, 0.0], 1e-15);
    let screw = in_the_car.screw().expect("it turns");
    close_points("point", &screw.point, [2.0, -1.4, 0.0], 1e-15);
}

/// The same book, example 3.26: the pole of a plane displacement. From memory; printed to
/// two decimals, exactly (5 + √3)/2.
#[test]
fn the_pole_of_a_plane_displacement() {
    let frame = |degrees: f64, x: f64, y: f64| {
        let (sine, cosine) = degrees.to_radians().sin_cos();
        Displacement {
            rotation: Mat3::new(cosine, -sine, 0.0, sine, cosine, 0.0, 0.0, 0.0, 1.0),
            translation: Vec3::new(x, y, 0.0),
        }
    };
    let displacement = frame(60.0, 2.0, 1.0).after(&frame(30.0, 1.0, 2.0).inverse());
    let twist = displacement.log();
    let angle = twist.angular.norm();
    close("angle", angle.to_degrees(), 30.0, 0.005);
    close_points("screw's linear part", &(twist.linear / angle), [3.37, -3.37, 0.0], 0.005);
    let pole = twist.screw().expect("it turns").point;
    close_points("pole, printed", &pole, [3.37, 3.37, 0.0], 0.005);
    let exact = f64::midpoint(5.0, 3.0_f64.sqrt());
    close_points("pole, exact", &pole, [exact, exact, 0.0], 1e-14);
}

/// Ball, *A Treatise on the Theory of Screws*, 1900, the cylindroid, and Hunt, *Kinematic
/// Geometry of Mechanisms*, 1978. Formulas from memory, numbers made up for the case.
///
/// Two screws cross a common perpendicular at a distance d and an angle; all screws of their
/// two-system have pitches between the principal ones, for which
/// `high − low = √(d² + (h₁−h₂)²)/sin angle` and `high + low = h₁ + h₂ + d cot angle`.
/// Here the pitch is only ever read off sums of the two twists.
#[test]
fn the_principal_screws_of_a_cylindroid() {
    // Pitches and distance in m, angle in degrees; low and high pitch, height of both axes.
    let rows = [
        ([0.0, 0.0, 0.1, 90.0], [-0.05, 0.05, 0.05]),
        ([0.0, 0.0, 0.2, 60.0], [-0.057_735, 0.173_205_1, 0.1]),
        ([0.05, -0.02, 0.3, 40.0], [-0.045_863_9, 0.433_389_9, 0.191_711]),
    ];
    for ([h1, h2, distance, degrees], [low, high, height]) in rows {
        let (sine, cosine) = f64::to_radians(degrees).sin_cos();
        let first = Twist::about(&Vec3::zeros(), &Vec3::x(), h1);
        let second = Twist::about(&Vec3::new(0.0, 0.0, distance), &Vec3::new(cosine, sine, 0.0), h2);
        // cos φ first + sin φ second; over half a turn of φ every screw comes once.
        let screw = |phi: f64| {
            let sum = Twist::ZERO.plus(phi.cos(), &first).plus(phi.sin(), &second);
            sum.screw().expect("the two axes are not parallel")
        };
        let [lowest, highest] = [1.0, -1.0].map(|sign| least(|phi| sign * screw(phi).pitch)).map(screw);
        close("low pitch, table", lowest.pitch, low, 1e-7);
        close("high pitch, table", highest.pitch, high, 1e-7);
        let (difference, sum) = (distance.hypot(h1 - h2) / sine, h1 + h2 + distance * cosine / sine);
        close("low pitch", lowest.pitch, 0.5 * (sum - difference), 1e-12);
        close("high pitch", highest.pitch, 0.5 * (sum + difference), 1e-12);
        // The angle of an extremum is known to the root of what its value is known to.
        close("angle between the axes", lowest.direction.dot(&highest.direction), 0.0, 1e-6);
        close("height of the low axis", lowest.point.z, height, 1e-6);
        close("height of the high axis", highest.point.z, height, 1e-6);
    }
}

/// Where a function of an angle with period π is least: the best of a row of angles, then
/// thirds.
fn least(function: impl Fn(f64) -> f64) -> f64 {
    let angle = |i: u32| f64::from(i) * std::f64::consts::PI / 180.0;
    let best = (0..180)
        .map(angle)
        .min_by(|a, b| function(*a).total_cmp(&function(*b)))
        .expect("there are angles to choose from");
    let (mut low, mut high) = (best - angle(1), best + angle(1));
    for _ in 0..120 {
        let third = (high - low) / 3.0;
        if function(low + third) < function(high - third) {
            high -= third;
        } else {
            low += third;
        }
    }
    0.5 * (low + high)
}
