//! One corner described in two ways gives one set of numbers.

use geometry_core::{
    setup::{Corner, KNUCKLE, Link, Point, Side},
    solve::Follower,
};

use crate::{
    checking::{MOTION, at, close_vectors, for_all, linkage, read, same_scalars, solved},
    corners::{Layout, drawn},
};

/// Each arm as two links from its pivots to its ball joint.
pub(crate) fn in_links(corner: &Corner) -> Corner {
    let mut copy = corner.clone();
    let as_link = |id: String, inboard, outboard| Link { id, inboard, outboard, steers: false };
    for arm in copy.arms.drain(..) {
        copy.links.push(as_link(format!("{}-front", arm.id), arm.front_pivot, arm.ball_joint));
        copy.links.push(as_link(format!("{}-rear", arm.id), arm.rear_pivot, arm.ball_joint));
    }
    copy
}

pub(crate) fn between(from: Point, to: Point, share: f64) -> Point {
    std::array::from_fn(|i| from[i] + share * (to[i] - from[i]))
}

/// The springs' moving ends are put where arm and link agree: on the line from a pivot to
/// the ball joint. Elsewhere an arm's point turns about the arm's axis, a link's by the
/// smallest turn.
#[test]
fn an_arm_is_two_links_to_its_pivots() {
    let layouts = &[Layout::TwoArms, Layout::ArmAndSplitLinks, Layout::StrutAndArm];
    for_all(300, &(drawn(layouts), 0.3..1.0_f64), |(mut case, share)| {
        let arm = case.corner.arms.last().expect("an arm is drawn").clone();
        let spring = case.corner.spring.as_mut().expect("a spring is drawn");
        spring.on.clone_from(&arm.id);
        spring.carried = between(arm.front_pivot, arm.ball_joint, share);
        spring.body = [spring.carried[0], spring.carried[1] - 50.0, spring.carried[2] + 300.0];
        let damper = case.corner.damper.as_mut().expect("a damper is drawn");
        damper.on = KNUCKLE.into();
        damper.carried = arm.ball_joint;
        let mut copy = in_links(&case.corner);
        copy.spring.as_mut().expect("it was copied").on = format!("{}-front", arm.id);

        let (arms, links) = (linkage(&case.corner, Side::Left), linkage(&copy, Side::Left));
        for (a, b) in [
            (*Follower::new(&arms).position(), *Follower::new(&links).position()),
            (solved(&arms, case.state), solved(&links, case.state)),
        ] {
            let (of_arms, of_links) = (read(&arms, &a), read(&links, &b));
            same_scalars(&of_links, &of_arms, MOTION, |_| 1.0);
            close_vectors("contact", &at(of_links.contact), &at(of_arms.contact), 1e-9);
            if let (Some(found), Some(expected)) = (of_links.steering, of_arms.steering) {
                close_vectors("direction", &at(found.direction), &at(expected.direction), MOTION);
                close_vectors("axis", &at(found.point), &at(expected.point), 1000.0 * MOTION);
            }
        }
    });
}

/// The order in which members are written is no part of the corner.
#[test]
fn the_order_of_members_does_not_matter() {
    let layouts = &[Layout::TwoArms, Layout::FourLinksAndTieRod, Layout::StrutAndLinks];
    for_all(100, &(drawn(layouts), 0..5_usize), |(case, by)| {
        let mut copy = case.corner.clone();
        copy.arms.reverse();
        let turns = by % copy.links.len();
        copy.links.rotate_left(turns);
        copy.links.reverse();
        let (before, after) = (linkage(&case.corner, Side::Left), linkage(&copy, Side::Left));
        let (a, b) = (solved(&before, case.state), solved(&after, case.state));
        same_scalars(&read(&after, &b), &read(&before, &a), MOTION, |_| 1.0);
    });
}
