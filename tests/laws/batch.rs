//! Corners led side by side are where each is when it is led alone.

use std::collections::BTreeMap;

use geometry_core::{
    batch::{Batch, Found},
    linkage::Linkage,
    motion::Sweep,
    setup::Side,
    solve::{Follower, Outcome, Position, State},
};
use proptest::collection::vec;

use crate::{
    checking::{MOTION, close, close_vectors, for_all, linkage},
    corners::{ALL, Drawn, drawn},
};

/// mm: both are exact to rounding, near the end of a branch to rounding over a small pivot.
const SAME: f64 = 1e-9;

fn same(found: &Found<'_>, expected: &Position) {
    // Where a pivot is small, both know pose and motion less well by as much.
    let pivot = expected.least_pivot().min(1.0);
    close_vectors("wheel centre", &found.wheel_centre(), &expected.wheel_centre(), SAME);
    close("rotation", (found.rotation() - expected.rotation()).norm(), 0.0, 1e-11);
    let whole = found.position();
    assert_eq!(whole.state(), expected.state());
    for (what, found, expected) in [
        ("travel", found.travel_twist(), expected.travel_twist()),
        ("travel of the whole position", whole.travel_twist(), expected.travel_twist()),
        ("rack", whole.rack_twist(), expected.rack_twist()),
    ] {
        let size = expected.angular.norm();
        let (turn, speed) = (MOTION * (1e-2 + size) / pivot, MOTION * (1.0 + 3000.0 * size) / pivot);
        close_vectors(what, &found.angular, &expected.angular, turn);
        close_vectors(what, &found.linear, &expected.linear, speed);
    }
}

fn linkages(cases: &[Drawn]) -> Vec<Linkage> {
    cases.iter().map(|case| linkage(&case.corner, Side::Left)).collect()
}

/// Sweeps along travel and along the rack and across both, some far beyond what a corner
/// reaches.
#[test]
fn a_sweep_abreast_is_each_corner_s_sweep() {
    let ends = (-260.0..260.0_f64, -60.0..60.0_f64);
    let strategy = (vec(drawn(&ALL), 1..12), ends.clone(), ends, 2..60_usize);
    for_all(40, &strategy, |(cases, from, to, positions)| {
        let linkages = linkages(&cases);
        let state = |(travel, rack)| State { travel, rack };
        let sweep = Sweep { from: state(from), to: state(to), positions };
        let expected: Vec<BTreeMap<usize, Position>> = linkages
            .iter()
            .map(|linkage| {
                let mut found = BTreeMap::new();
                sweep.run(linkage, |index, position| {
                    found.insert(index, *position);
                });
                found
            })
            .collect();
        let mut shown = 0;
        Batch::new(&linkages).run(&sweep, |index, corner, found| {
            shown += 1;
            match (found, expected[corner].get(&index)) {
                (Some(found), Some(expected)) => same(&found, expected),
                (None, None) => {}
                (found, expected) => panic!("corner {corner}, state {index}: {found:?} and {expected:?}"),
            }
        });
        assert_eq!(shown, positions * linkages.len());
    });
}

/// Any states in any order, each corner having its own end.
#[test]
fn a_visit_abreast_is_each_corner_s_visit() {
    let strategy = (vec(drawn(&ALL), 1..12), vec((-90.0..90.0_f64, -30.0..30.0_f64), 1..12));
    for_all(40, &strategy, |(cases, states)| {
        let linkages = linkages(&cases);
        let states: Vec<State> = states.into_iter().map(|(travel, rack)| State { travel, rack }).collect();
        let mut alone: Vec<Follower<'_>> = linkages.iter().map(Follower::new).collect();
        let mut lost = vec![false; linkages.len()];
        Batch::new(&linkages).visit(&states, |index, corner, found| {
            // From where a corner came to, the way on is its own; both are compared till there.
            if !lost[corner] {
                match (found, alone[corner].go_to(states[index])) {
                    (Some(found), Outcome::Solved(expected)) => same(&found, &expected),
                    (None, ended) if ended.stop().is_some() => lost[corner] = true,
                    (found, expected) => {
                        panic!("corner {corner}, state {index}: {found:?} and {expected:?}");
                    }
                }
            }
        });
    });
}

/// What is no number is no position, and the others are not disturbed.
#[test]
fn a_state_that_is_no_number_is_not_reached() {
    let linkages = [linkage(&crate::corners::plain(ALL[0]), Side::Left)];
    let state = |travel: f64, rack: f64| State { travel, rack };
    for wrong in [state(f64::NAN, 0.0), state(0.0, f64::INFINITY), state(f64::INFINITY, 0.0)] {
        let mut reached = Vec::new();
        Batch::new(&linkages).visit(&[state(5.0, 1.0), wrong, state(6.0, 1.0)], |_, _, found| {
            reached.push(found.is_some());
        });
        assert_eq!(reached, [true, false, true]);
    }
    Batch::new(&[]).run(&Sweep { from: state(0.0, 0.0), to: state(1.0, 0.0), positions: 3 }, |_, _, _| {
        panic!("there is no corner");
    });
}
