//! The ball-joint line is the steering axis of an arm-and-arm corner.
//!
//! A spring on an arm that keeps its length, or a torsion bar on it that keeps its twist, keeps the arm at
//! rest, hence its ball joint, hence the other ball joint, which its own arm would only move square to the
//! line: what is left is turning about the line, without advance, at every travel and rack.

use crate::{
    checking::{MOTION, at, close, close_vectors, for_all, linkage, read, solved},
    corners::{Layout, drawn, plain},
};
use geometry_core::{
    Vec3,
    readings::Steering,
    setup::{Corner, KNUCKLE, Side, TorsionBar},
    solve::State,
};

/// The two ball joints where they are, and the steering readings.
fn joints_and_steering(corner: &Corner, state: State) -> ([Vec3; 2], Steering) {
    let linkage = linkage(corner, Side::Left);
    let position = solved(&linkage, state);
    let joints = [0, 1].map(|i| position.carry(&linkage, &at(corner.arms[i].ball_joint)));
    (joints, read(&linkage, &position).steering.expect("the corner steers"))
}

#[test]
fn the_ball_joint_line_is_the_steering_axis() {
    let strategy = (drawn(&[Layout::TwoArms]), 0..2_usize, 0..2_usize);
    for_all(300, &strategy, |(mut case, on, bar)| {
        let arm = case.corner.arms[on].clone();
        if bar == 1 {
            case.corner.spring = None;
            case.corner.torsion_bar = Some(TorsionBar { on: arm.id, rate: None });
        } else {
            let spring = case.corner.spring.as_mut().expect("a spring is drawn");
            let outward =
                |i: usize| 0.35 * 0.5 * (arm.front_pivot[i] + arm.rear_pivot[i]) + 0.65 * arm.ball_joint[i];
            spring.carried = std::array::from_fn(outward);
            spring.body = [spring.carried[0] + 20.0, spring.carried[1] - 60.0, spring.carried[2] + 300.0];
            spring.on.clone_from(&arm.id);
        }
        let ([lower, upper], steering) = joints_and_steering(&case.corner, case.state);
        let line = (upper - lower).normalize();
        close_vectors("direction", &at(steering.direction), &line, MOTION);
        close("pitch", steering.screw_pitch, 0.0, 1000.0 * MOTION);
        let ground = lower + (steering.point[2] - lower.z) / line.z * line;
        close_vectors("ground point", &at(steering.point), &ground, 1000.0 * MOTION);
        let (kingpin, caster) = (steering.kingpin_inclination.to_radians(), steering.caster.to_radians());
        close("kingpin inclination", kingpin.tan(), -line.y / line.z, MOTION);
        close("caster", caster.tan(), -line.x / line.z, MOTION);
    });
}

/// The counterpart, so that the law above is known to be able to fail: with the spring on
/// the knuckle itself, away from the ball joints, holding it moves both.
#[test]
fn a_spring_on_the_knuckle_makes_another_axis() {
    let mut corner = plain(Layout::TwoArms);
    let spring = corner.spring.as_mut().expect("the corner has a spring");
    spring.on = KNUCKLE.into();
    spring.carried = [90.0, 660.0, 330.0];
    spring.body = [60.0, 560.0, 640.0];
    let ([lower, upper], steering) = joints_and_steering(&corner, State { travel: 10.0, rack: 20.0 });
    let line = (upper - lower).normalize();
    assert!((at(steering.direction) - line).norm() > 1e-3, "{steering:?} {line:?}");
}
