//! Beyond a linkage's reach: where its members come nearest, and what is missing.

use core::cell::Cell;

use geometry_core::{
    Mat3, Vec3,
    linkage::Member,
    setup::{Arm, Corner, Link, Side, Wheel},
    solve::{Follower, Nearest, Outcome, State},
};
use nalgebra::Rotation3;
use proptest::prelude::*;

use crate::{
    checking::{at, close, for_all, linkage},
    corners::{ALL, Layout, drawn},
};

/// mm: how near a search by least squares comes to a closed form.
const NEAR: f64 = 1e-6;

/// A hinge carries the wheel centre round a circle. Beyond its top its two pivots give way, and no other pose of
/// that height has them nearer: by the distances of the pivots themselves, of the second one across the axis.
#[test]
fn no_pose_of_a_trailing_arm_beyond_its_top_comes_nearer() {
    for_all(60, &(drawn(&[Layout::Trailing]), 1.0..60.0_f64, any::<u64>()), |(case, over, seed)| {
        let [first, second] = case.corner.hinge.as_ref().expect("a hinge is drawn").pivots.map(at);
        let centre = at(case.corner.wheel.centre);
        let axis = (second - first).normalize();
        let foot = first + (centre - first).dot(&axis) * axis;
        let radius = (centre - foot).norm();
        let top = foot.z + radius * (1.0 - axis.z * axis.z).sqrt() - centre.z;
        let linkage = linkage(&case.corner, Side::Left);
        let mut follower = Follower::new(&linkage);
        let state = State { travel: top + over, rack: 0.0 };
        let Outcome::OutOfReach(_) = follower.go_to(state) else { panic!("{state:?} is beyond the top") };
        let nearest = Nearest::to(&linkage, follower.position(), state).expect("numbers");
        close("height", nearest.wheel_centre.z, centre.z + state.travel, 1e-9);
        let apart = |rotation: &Mat3, now: &Vec3| {
            let [a, b] = [first, second].map(|pivot| now + rotation * (pivot - centre) - pivot);
            a.norm_squared() + (b - b.dot(&axis) * axis).norm_squared()
        };
        let least = apart(&nearest.rotation, &nearest.wheel_centre);
        let widths: f64 = nearest.gaps.iter().map(|gap| gap.width() * gap.width()).sum();
        assert!(nearest.gaps.iter().all(|gap| gap.member == Member::Hinge));
        close("what the gaps come to", widths, least, 1e-9 * least);
        // Both pivots lifted by `over` is one way to do it.
        assert!(least > 0.0 && least <= 2.0 * over * over + NEAR, "{least} over {over}");
        let mut numbers = seed;
        let mut number = || {
            // Xorshift (Marsaglia, J. Stat. Software 8, 2003).
            numbers ^= numbers << 13;
            numbers ^= numbers >> 7;
            numbers ^= numbers << 17;
            let upper = u32::try_from(numbers >> 32).expect("half of it");
            f64::from(upper) / f64::from(1_u32 << 31) - 1.0
        };
        for size in [1e-1, 1e-2, 1e-3] {
            for _ in 0..20 {
                let turn = size * Vec3::new(number(), number(), number());
                let moved = 300.0 * size * Vec3::new(number(), number(), 0.0);
                let rotation = Rotation3::new(turn).into_inner() * nearest.rotation;
                let other = apart(&rotation, &(nearest.wheel_centre + moved));
                assert!(other > least - NEAR, "{other} is less than {least}");
            }
        }
    });
}

/// Whatever holds the knuckle, beyond its end the members keep their lengths and the widest gap comes first. Where
/// nothing is missing there, the corner would have to be assembled another way.
#[test]
fn beyond_their_end_members_keep_their_lengths() {
    let (apart, otherwise) = (Cell::new(0), Cell::new(0));
    for_all(100, &(drawn(&ALL), 5.0..80.0_f64, any::<bool>(), -25.0..25.0_f64), |(case, over, up, rack)| {
        let linkage = linkage(&case.corner, Side::Left);
        let rack = if linkage.steers() { rack } else { 0.0 };
        let mut follower = Follower::new(&linkage);
        if follower.go_to(State { travel: 0.0, rack }).stop().is_some() {
            return;
        }
        let far = if up { 2000.0 } else { -2000.0 };
        let Outcome::OutOfReach(stop) = follower.go_to(State { travel: far, rack }) else {
            // Another end: a dead point or another assembly.
            return;
        };
        let travel = stop.last.travel + if up { over } else { -over };
        let state = State { travel, rack };
        let nearest = Nearest::to(&linkage, follower.position(), state).expect("numbers");
        if nearest.gaps.is_empty() {
            let turned = (nearest.rotation - follower.position().rotation()).norm();
            assert!(turned > 0.05, "{state:?} is beyond the end at {:?}", stop.last);
            otherwise.set(otherwise.get() + 1);
            return;
        }
        apart.set(apart.get() + 1);
        for pair in nearest.gaps.windows(2) {
            assert!(pair[0].width() >= pair[1].width(), "the widest first");
        }
        for gap in &nearest.gaps {
            member_keeps_its_length(&case.corner, rack, gap.member, &gap.on_member);
        }
    });
    assert!(apart.get() > 3 * otherwise.get(), "{apart:?} {otherwise:?}");
}

/// The member's end is where the member can bring it, whatever the knuckle does; the rack leads the steering link's
/// other end.
fn member_keeps_its_length(corner: &Corner, rack: f64, member: Member, end: &Vec3) {
    match member {
        Member::Link(i) => {
            let Link { inboard, outboard, steers, .. } = &corner.links[i];
            let length = (at(*outboard) - at(*inboard)).norm();
            let along = at(corner.rack_direction.expect("one is drawn")).normalize();
            let inboard = if *steers { at(*inboard) + rack * along } else { at(*inboard) };
            close("length of a link", (end - inboard).norm(), length, 1e-9 * length);
        }
        Member::Arm(i) => {
            let Arm { front_pivot, rear_pivot, ball_joint, .. } = &corner.arms[i];
            for pivot in [front_pivot, rear_pivot] {
                let length = (at(*ball_joint) - at(*pivot)).norm();
                close("length of an arm's side", (end - at(*pivot)).norm(), length, 1e-9 * length);
            }
        }
        Member::Strut => {
            let mount = at(corner.strut.as_ref().expect("a strut").top_mount);
            close("the mount stays", (end - mount).norm(), 0.0, 1e-9);
        }
        Member::Hinge => {}
    }
}

/// Where a state is reached, nothing is missing and the pose is the solver's.
#[test]
fn within_reach_the_nearest_is_the_position() {
    for_all(100, &(drawn(&ALL), -40.0..40.0_f64, -25.0..25.0_f64), |(case, travel, rack)| {
        let linkage = linkage(&case.corner, Side::Left);
        let mut follower = Follower::new(&linkage);
        let begin = *follower.position();
        let state = State { travel, rack: if linkage.steers() { rack } else { 0.0 } };
        let Outcome::Solved(position) = follower.go_to(state) else { return };
        let nearest = Nearest::to(&linkage, &begin, state).expect("numbers");
        assert!(nearest.gaps.is_empty(), "{:?}", nearest.gaps);
        let Wheel { centre, .. } = &case.corner.wheel;
        let (a, b) = (nearest.carry(&linkage, &at(*centre)), position.carry(&linkage, &at(*centre)));
        close("wheel centre", (a - b).norm(), 0.0, NEAR);
        close("rotation", (nearest.rotation - position.rotation()).norm(), 0.0, NEAR);
    });
}
