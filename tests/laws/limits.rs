//! Where a linkage ends, against closed forms.

use geometry_core::{
    Vec3,
    bounds::SHORTEST_STEP,
    linkage::Linkage,
    setup::{Arm, Corner, Link, Point, Side, Wheel},
    solve::{Follower, Outcome, State, Stop},
};
use proptest::prelude::*;

use crate::{
    checking::{at, close, for_all, linkage},
    corners::{ALL, Layout, drawn},
};

/// mm: the last step before the end is the shortest one; the one refused after it was too.
const AT_THE_END: f64 = 4.0 * SHORTEST_STEP;

/// mm: unlike at an end, Newton loses its footing before the shortest step does: at a
/// simple zero of the determinant this far away it is 1e-3/300, at a double one the square of
/// that, and a correction is what rounding leaves divided by it.
const AT_A_DEAD_POINT: f64 = 1e-3;

#[track_caller]
fn out_of_reach(linkage: &Linkage, target: State) -> Stop {
    let mut follower = Follower::new(linkage);
    let Outcome::OutOfReach(stop) = follower.go_to(target) else {
        panic!("{target:?} should be out of reach; the follower stands at {:?}", follower.position())
    };
    assert_eq!(follower.position().state(), stop.last, "the follower stands at the last state reached");
    stop
}

/// A hinge carries the wheel centre round a circle: its top and bottom are the ends.
#[test]
fn a_hinge_ends_at_the_top_and_the_bottom_of_its_circle() {
    for_all(200, &(drawn(&[Layout::SemiTrailing, Layout::Trailing]), any::<bool>()), |(case, up)| {
        let [first, second] = case.corner.hinge.as_ref().expect("a hinge is drawn").pivots.map(at);
        let centre = at(case.corner.wheel.centre);
        let axis = (second - first).normalize();
        let foot = first + (centre - first).dot(&axis) * axis;
        let radius = (centre - foot).norm();
        let height = if up { radius } else { -radius } * (1.0 - axis.z * axis.z).sqrt();
        let end = foot.z + height - centre.z;
        let linkage = linkage(&case.corner, Side::Left);
        let target = State { travel: if up { 1500.0 } else { -1500.0 }, rack: 0.0 };
        close("last travel", out_of_reach(&linkage, target).last.travel, end, AT_THE_END);
    });
}

fn arm(id: &str, pivot: [f64; 2], joint: [f64; 2]) -> Arm {
    let point = |x: f64, [y, z]: [f64; 2]| -> Point { [x, y, z] };
    Arm {
        id: id.into(),
        front_pivot: point(150.0, pivot),
        rear_pivot: point(-150.0, pivot),
        ball_joint: point(0.0, joint),
    }
}

/// Two arms and a tie rod of one length and one direction: the knuckle moves without
/// turning, each of its points round a circle of that radius. `joint` is the upper ball
/// joint's place above the lower one.
fn parallelogram(along: [f64; 2], joint: [f64; 2]) -> Corner {
    let ([y, z], [up_y, up_z]) = (along, joint);
    let lower = [400.0, 250.0];
    let upper = [lower[0] + up_y, lower[1] + up_z];
    let moved = |[a, b]: [f64; 2]| [a + y, b + z];
    Corner {
        arms: vec![arm("lower", lower, moved(lower)), arm("upper", upper, moved(upper))],
        links: vec![Link {
            id: "tie-rod".into(),
            inboard: [-120.0, lower[0], lower[1]],
            outboard: [-120.0, lower[0] + y, lower[1] + z],
            steers: true,
        }],
        ..Corner::new(Wheel::new([0.0, 760.0, 310.0], 310.0))
    }
}

#[test]
fn parallel_arms_end_where_they_stand_upright() {
    for (rise, lean) in [(-40.0, -30.0), (-10.0, 60.0), (80.0, 20.0), (0.0, -140.0)] {
        let linkage = linkage(&parallelogram([300.0, rise], [lean, 220.0]), Side::Left);
        for up in [1.0, -1.0] {
            let stop = out_of_reach(&linkage, State { travel: 900.0 * up, rack: 0.0 });
            close("last travel", stop.last.travel, 300.0_f64.hypot(rise) * up - rise, AT_THE_END);
        }
    }
}

/// With the ball joints on a line of slope 4 to 3, level arms of 300 come to lie along that
/// line at a travel of 240, where both arms and the rod hold the knuckle in one direction:
/// the position as such leaves the wheel no definite motion, so it is never given as an
/// answer. Those just before and after it have one.
#[test]
fn arms_along_the_line_of_their_ball_joints_are_no_position() {
    let linkage = linkage(&parallelogram([300.0, 0.0], [180.0, 240.0]), Side::Left);
    let outcome = Follower::new(&linkage).go_to(State { travel: 240.0, rack: 0.0 });
    assert!(matches!(outcome, Outcome::DeadPoint(_)), "{outcome:?}");
    let last = outcome.stop().expect("no position").last.travel;
    close("last travel", last, 240.0, AT_A_DEAD_POINT);
    for travel in [239.9, 240.1] {
        let outcome = Follower::new(&linkage).go_to(State { travel, rack: 0.0 });
        assert!(outcome.position().is_some(), "{outcome:?}");
    }
}

/// The same linkage with a rod that runs obliquely from the axis of its end's circle. It
/// keeps its length as the others do, but at the travel where its line meets the line of the
/// ball joints it no longer holds the knuckle from turning about them. With arms at an angle
/// θ that is 225 cos(θ + β) = 84, sin β = 0.6; the determinant changes its sign there, so what
/// goes on beyond is another assembly, and no answer.
#[test]
fn no_way_leads_through_a_change_of_sign() {
    let mut corner = parallelogram([300.0, 0.0], [180.0, 240.0]);
    corner.links[0].inboard = [-400.0, 400.0, 330.0];
    corner.links[0].outboard = [-120.0, 700.0, 330.0];
    let linkage = linkage(&corner, Side::Left);
    let end = 300.0 * ((84.0_f64 / 225.0).acos() - 0.6_f64.asin()).sin();
    for target in [156.0, 170.0, 230.0] {
        let outcome = Follower::new(&linkage).go_to(State { travel: target, rack: 0.0 });
        let Outcome::OtherAssembly(stop) = outcome else { panic!("{outcome:?}") };
        close("last travel", stop.last.travel, end, AT_A_DEAD_POINT);
    }
}

/// Steering about an upright ball-joint line with level arms is plane: the rod of length
/// 300 reaches from a rack 100 behind the axis to a circle of radius 100 about it. The
/// ends are where rod and circle's radius lie in one line: 100² + (300 − s)² = (300 ± 100)².
#[test]
fn a_rack_ends_where_the_tie_rod_is_stretched_or_folded() {
    let mut corner = parallelogram([300.0, 0.0], [0.0, 220.0]);
    corner.links[0].inboard = [-100.0, 400.0, 250.0];
    corner.links[0].outboard = [-100.0, 700.0, 250.0];
    let linkage = linkage(&corner, Side::Left);
    for (target, end) in [(-500.0, 300.0 - 150_000.0_f64.sqrt()), (500.0, 300.0 - 30_000.0_f64.sqrt())] {
        let stop = out_of_reach(&linkage, State { travel: 0.0, rack: target });
        close("last rack", stop.last.rack, end, AT_THE_END);
        close("last travel", stop.last.travel, 0.0, 0.0);
    }
}

/// Whatever ends a way, the state it ends at is the end: it is reached again from design,
/// and a hundredth of a millimetre further is not.
#[test]
fn the_last_state_is_the_end() {
    for_all(150, &(drawn(&ALL), any::<bool>()), |(case, up)| {
        let linkage = linkage(&case.corner, Side::Left);
        let target = State { travel: if up { 1500.0 } else { -1500.0 }, rack: 0.0 };
        let mut follower = Follower::new(&linkage);
        let outcome = follower.go_to(target);
        let last = outcome.stop().expect("no corner travels 1.5 m").last;
        assert_eq!(follower.position().state(), last);
        // There the wheel stops rising while the knuckle still moves: a fold, no failure to
        // find the next position. A micrometre before it a circle of 300 mm gives
        // 1/√(2 · 1e-6/300), over 10⁴.
        let twist = follower.position().travel_twist();
        let fastest = [Vec3::x(), Vec3::y(), Vec3::z()].map(|direction| {
            twist.velocity_at(&(follower.position().wheel_centre() + 300.0 * direction)).norm()
        });
        assert!(fastest.into_iter().fold(0.0, f64::max) > 1000.0, "{fastest:?}");
        let inside = State { travel: last.travel * (1.0 - 1e-9), rack: 0.0 };
        assert!(Follower::new(&linkage).go_to(inside).position().is_some(), "{outcome:?}");
        let beyond = State { travel: last.travel + 0.01 * target.travel.signum(), rack: 0.0 };
        assert!(Follower::new(&linkage).go_to(beyond).position().is_none(), "{outcome:?}");
    });
}

#[test]
fn what_is_no_state_is_out_of_reach_at_once() {
    for_all(20, &drawn(&ALL), |case| {
        let linkage = linkage(&case.corner, Side::Left);
        for number in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
            for state in [State { travel: number, rack: 0.0 }, State { travel: 0.0, rack: number }] {
                let stop = out_of_reach(&linkage, state);
                assert_eq!((stop.last, stop.evaluations), (State::DESIGN, 0));
            }
        }
    });
}
