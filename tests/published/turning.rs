//! Steering geometry in plan.

use geometry_core::axle::{
    Turning,
    turning::{PlanWheel, ackermann_percentage, outside_angle, steer_for_radius},
};

use crate::support::close;

/// Wheels `track` apart on an axle `wheelbase` ahead of the other.
fn wheels(wheelbase: f64, track: f64, left: f64, right: f64) -> (PlanWheel, PlanWheel) {
    let wheel = |y: f64, steer: f64| PlanWheel { x: wheelbase, y, steer };
    (wheel(0.5 * track, left), wheel(-0.5 * track, right))
}

/// Gillespie, *Fundamentals of Vehicle Dynamics*, SAE 1992, ch. 6, example problem 1 (a), from
/// memory: a wheelbase of 100.6 in on radii of 500, 200, 100 and 50 ft asks for 0.96°, 2.4°,
/// 4.8° and 9.6°. The book's angle is the small-angle one, L/R in radians: the tangent of the
/// core's. The two part company by 0.09° at the last.
#[test]
fn low_speed_steer_angle() {
    let wheelbase = 100.6;
    for (feet, printed, exact) in
        [(500.0, 0.96, 0.9606), (200.0, 2.4, 2.4002), (100.0, 4.8, 4.7921), (50.0, 9.6, 9.5181)]
    {
        let angle = steer_for_radius(wheelbase, 12.0 * feet);
        close("L/R", angle.to_radians().tan().to_degrees(), printed, 0.01);
        close("atan(L/R)", angle, exact, 5e-5);
        close("to the right", steer_for_radius(wheelbase, -12.0 * feet), -angle, 0.0);
    }
}

/// Jazar, *Vehicle Dynamics: Theory and Application*, Springer, ch. 7, example on the turning
/// radius, from memory: wheelbase 103.1 in, track 61.6 in, centre of gravity 60 in ahead of the
/// rear axle, inside angle 12°. The book rounds 12° to 0.209 rad and the outside angle to
/// 0.186 rad on the way, which moves its answers by up to 0.3 %; the exact values were
/// computed from its formulas.
#[test]
fn inside_and_outside_angle_and_radii() {
    let (wheelbase, track) = (103.1, 61.6);
    let outside = outside_angle(12.0, wheelbase, track);
    close("outside angle", outside, 10.6808, 5e-5);
    close("outside angle as printed", outside, 10.661, 0.003 * 10.661);
    for sign in [1.0, -1.0] {
        let (left, right) = if sign > 0.0 { (12.0, outside) } else { (-outside, -12.0) };
        let (left, right) = wheels(wheelbase, track, left, right);
        let turning = Turning::of(left, right, [None, None]).expect("it turns");
        close("R1", sign * turning.centre, 515.847, 5e-4);
        close("R1 as printed", sign * turning.centre, 516.9, 0.003 * 516.9);
        close("mean angle", sign * turning.middle_angle, 11.3025, 5e-5);
        close("mean angle as printed", sign * turning.middle_angle, 11.278, 0.003 * 11.278);
        close("R", f64::hypot(60.0, turning.centre), 519.325, 5e-4);
        close("R as printed", f64::hypot(60.0, turning.centre), 520.46, 0.003 * 520.46);
        close("inside", turning.inside_angle, 12.0, 0.0);
        close("outside", turning.outside_angle, outside, 0.0);
        close("one centre", turning.centres_apart, 0.0, 1e-10);
        close("percentage", ackermann_percentage(&left, &right).expect("it turns"), 100.0, 1e-9);
        // The outside wheel's own circle.
        let radius = wheelbase / outside.to_radians().sin();
        close("turning circle", turning.turning_circle, 2.0 * radius, 1e-9);
    }
}

/// Davis' steering gear, Khurmi & Gupta, *Theory of Machines*, ch. 9, numbers from memory, the
/// condition tan α = c/(2 b) seen as a quiz item: pivots 1.2 m apart and a wheelbase of 2.7 m
/// need track arms at 12.5°. The cross-link slides along the axle and turns each arm by where
/// it meets it; with that angle the gear is exact at every lock (cot φ − cot θ = c/b), and
/// with another it is not.
#[test]
fn davis_steering_gear() {
    let (pivots, wheelbase) = (1.2_f64, 2.7_f64);
    let alpha = (pivots / (2.0 * wheelbase)).atan();
    close("track arm", alpha.to_degrees(), 12.5, 0.05);
    let percentage = |alpha: f64, slide: f64| {
        // Over the distance 1 between the axle's line and the cross-link's.
        let outside = (alpha.tan() + slide).atan() - alpha;
        let inside = alpha - (alpha.tan() - slide).atan();
        let (left, right) = wheels(wheelbase, pivots, inside.to_degrees(), outside.to_degrees());
        ackermann_percentage(&left, &right).expect("it turns")
    };
    for slide in [0.01, 0.1, 0.2, 0.4, -0.3] {
        close("percentage", percentage(alpha, slide), 100.0, 1e-9);
    }
    let steeper = percentage(alpha + 0.05, 0.2);
    assert!((steeper - 100.0).abs() > 10.0, "{steeper}");
}
