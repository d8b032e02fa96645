//! Laws of displacements, twists and screws, where a corner's own motions never go: half turns,
//! the smallest turns, axes that lie flat or are far away.

use geometry_core::{
    Vec3,
    bounds::{INFINITELY_FAR, LYING_AXIS_COSINE},
    screw::{Displacement, Line, Screw, Twist, Wrench},
};
use nalgebra::{Matrix4, Vector4};
use proptest::prelude::*;

use crate::checking::{close, close_vectors, for_all};

fn vector(size: f64) -> impl Strategy<Value = Vec3> {
    [-size..size, -size..size, -size..size].prop_map(|[x, y, z]| Vec3::new(x, y, z))
}

fn direction() -> impl Strategy<Value = Vec3> {
    vector(1.0).prop_filter_map("a direction", |v| v.try_normalize(1e-2))
}

/// Angles of every order of size up to half a turn, and angles near it.
fn angle() -> impl Strategy<Value = f64> {
    let pi = std::f64::consts::PI;
    prop_oneof![
        (-12.0..0.497_f64).prop_map(|decades| 10.0_f64.powf(decades)),
        (-12.0..-1.0_f64).prop_map(move |decades| pi - 10.0_f64.powf(decades)),
        Just(0.0),
        Just(pi),
    ]
}

/// The exponential by its power series, of a 64th of the twist, squared six times. The twist
/// as a 4×4 matrix, lengths in metres so that all entries are of order one.
fn exponential_by_series(twist: &Twist) -> Matrix4<f64> {
    let (w, v) = (twist.angular / 64.0, twist.linear / 64_000.0);
    let matrix =
        Matrix4::new(0.0, -w.z, w.y, v.x, w.z, 0.0, -w.x, v.y, -w.y, w.x, 0.0, v.z, 0.0, 0.0, 0.0, 0.0);
    let (mut sum, mut term) = (Matrix4::identity(), Matrix4::identity());
    for n in 1..20 {
        term = term * matrix / f64::from(n);
        sum += term;
    }
    for _ in 0..6 {
        sum *= sum;
    }
    sum
}

#[test]
fn the_exponential_is_its_power_series() {
    for_all(500, &(direction(), angle(), vector(2_000.0)), |(direction, angle, linear)| {
        let twist = Twist { angular: angle * direction, linear };
        let (found, expected) = (twist.exp(), exponential_by_series(&twist));
        let point = Vec3::new(300.0, -700.0, 250.0);
        let moved = expected * Vector4::new(0.3, -0.7, 0.25, 1.0);
        let moved = 1000.0 * Vec3::new(moved.x, moved.y, moved.z);
        // Squared six times, rounding of 1e-16 is some 1e-14, of lengths of two metres.
        close_vectors("a point's place", &found.apply(&point), &moved, 1e-10);
    });
}

#[test]
fn the_logarithm_undoes_the_exponential_up_to_half_a_turn() {
    for_all(1_000, &(direction(), angle(), vector(2_000.0)), |(direction, angle, linear)| {
        let displacement = Twist { angular: angle * direction, linear }.exp();
        let found = displacement.log();
        // At half a turn both directions serve.
        let turn = angle * direction;
        let turn =
            if found.angular.dot(&turn) < 0.0 && angle > std::f64::consts::PI - 1e-9 { -turn } else { turn };
        // Down to a sine of 1e-3 the axis is read off the rotation's unlike halves: rounding of
        // 1e-16 over that sine, times half a turn.
        close_vectors("turn", &found.angular, &turn, 1e-12);
        let back = found.exp();
        close("rotation", (back.rotation - displacement.rotation).norm(), 0.0, 1e-12);
        close_vectors("translation", &back.translation, &displacement.translation, 5e-9);
    });
}

/// Half turns about every axis, so that each coordinate is the largest in turn, of either sign.
#[test]
fn a_half_turn_keeps_its_axis() {
    for_all(300, &(direction(), -1e-3..1e-3_f64, vector(2_000.0)), |(direction, short, linear)| {
        let angle = std::f64::consts::PI - short.abs();
        let found = Twist { angular: angle * direction, linear }.exp().log();
        close_vectors("turn", &found.angular, &(angle * direction), 1e-12);
        close_vectors("linear part", &found.linear, &linear, 1e-8);
    });
}

/// A displacement, the way back and one after another are what they do to points.
#[test]
fn displacements_move_points_one_after_another() {
    let twist = || (direction(), angle(), vector(2_000.0));
    for_all(200, &(twist(), twist(), vector(2_000.0)), |(first, second, point)| {
        let displacement = |(direction, angle, linear): (Vec3, f64, Vec3)| {
            Twist { angular: angle * direction, linear }.exp()
        };
        let (first, second) = (displacement(first), displacement(second));
        close_vectors(
            "after",
            &second.after(&first).apply(&point),
            &second.apply(&first.apply(&point)),
            1e-9,
        );
        close_vectors("back", &first.inverse().apply(&first.apply(&point)), &point, 1e-9);
        close_vectors("nothing", &Displacement::identity().apply(&point), &point, 0.0);
    });
}

/// A twist seen from other axes moves the same points, and has the same power on a wrench
/// there; a force's power is its component along the motion of its point.
#[test]
fn power_is_the_same_in_all_axes() {
    let strategy =
        ((direction(), angle(), vector(2_000.0)), vector(1.0), vector(500.0), vector(9.0), vector(2e3));
    for_all(200, &strategy, |((axis, angle, shift), angular, linear, force, point)| {
        let axes = Twist { angular: angle * axis, linear: shift }.exp();
        let twist = Twist { angular, linear };
        let seen = twist.seen_from(&axes);
        let there = axes.apply(&point);
        close_vectors(
            "velocity",
            &seen.velocity_at(&there),
            &(axes.rotation * twist.velocity_at(&point)),
            1e-9,
        );
        let power = force.dot(&twist.velocity_at(&point));
        close("power", twist.power(&Wrench::at_point(&point, force)), power, 1e-8);
        close("power there", seen.power(&Wrench::at_point(&there, axes.rotation * force)), power, 1e-8);
        let line = Line::through(&point, force.normalize());
        close("power along a line", twist.power(&line.wrench(force.norm())), power, 1e-8);
        let (one, other) = (Wrench::at_point(&point, force), Wrench::at_point(&there, linear));
        close("two at once", twist.power(&one.plus(&other)), twist.power(&one) + twist.power(&other), 1e-6);
        let again = Twist::at_point(&point, angular, twist.velocity_at(&point));
        close_vectors("from a point's velocity", &again.linear, &linear, 1e-9);
    });
}

/// The axis of a twist moves along itself, as the pitch says, and comes back from it; one too
/// far away to be an axis is none.
#[test]
fn a_twist_advances_along_its_axis() {
    let strategy = (vector(2_000.0), direction(), -50.0..50.0_f64, 1e-3..10.0_f64);
    for_all(300, &strategy, |(point, direction, pitch, speed)| {
        let unit = Twist::about(&point, &direction, pitch);
        let twist = Twist::ZERO.plus(speed, &unit);
        let screw = twist.screw().expect("it turns");
        close_vectors("direction", &screw.direction, &direction, 1e-13);
        close("pitch", screw.pitch, pitch, 1e-9);
        close("nearest the origin", screw.point.dot(&screw.direction), 0.0, 1e-9);
        let advance = speed * pitch * direction;
        close_vectors("on the axis", &twist.velocity_at(&screw.point), &advance, 1e-9);
        close_vectors("on the axis as given", &twist.velocity_at(&point), &advance, 1e-9);
    });
    let away = |distance: f64| {
        Twist::about(&Vec3::new(0.0, distance, 0.0), &Vec3::x(), 0.0).screw().map(|screw| screw.point.y)
    };
    assert_eq!(away(0.5 * INFINITELY_FAR), Some(0.5 * INFINITELY_FAR));
    assert_eq!(away(2.0 * INFINITELY_FAR), None);
    assert_eq!(Twist { angular: Vec3::x() * 1e300, linear: Vec3::y() }.screw(), None, "its square overflows");
}

/// Where an axis crosses a height: on the axis, at that height; nowhere for one that lies.
#[test]
fn an_axis_crosses_a_height_unless_it_lies() {
    for_all(300, &(vector(2_000.0), direction(), -500.0..900.0_f64), |(point, direction, height)| {
        let screw = Screw { point, direction, pitch: 0.0 };
        match screw.at_height(height) {
            Some(found) => {
                assert_eq!(found.z, height);
                let off = (found - point).cross(&direction).norm();
                close("off the axis", off, 0.0, 1e-12 * (found - point).norm());
            }
            None => assert!(direction.z.abs() < LYING_AXIS_COSINE),
        }
    });
    let leaning = |sine: f64| {
        let direction = Vec3::new(0.0, (1.0 - sine * sine).sqrt(), sine);
        Screw { point: Vec3::zeros(), direction, pitch: 0.0 }.at_height(1.0)
    };
    for sine in [1.01 * LYING_AXIS_COSINE, -1.01 * LYING_AXIS_COSINE] {
        assert!(leaning(sine).is_some_and(|found| (found.y * sine - 1.0).abs() < 1e-5), "{sine}");
    }
    for sine in [0.99 * LYING_AXIS_COSINE, -0.99 * LYING_AXIS_COSINE, 0.0] {
        assert_eq!(leaning(sine), None);
    }
}
