//! Every solved position is an assembly, and the way there does not matter.

use geometry_core::{
    linkage::Linkage,
    motion::{Grid, Sweep},
    setup::{Corner, RACK_DIRECTION, Side},
    solve::{Follower, Outcome, Position, State},
};
use nalgebra::Matrix3;
use proptest::collection::vec;

use crate::{
    checking::{MOTION, at, close, close_vectors, for_all, go, linkage, solved},
    corners::{ALL, drawn},
};

/// mm: lengths of up to a metre are held to 1e-13; a correction under 1e-7 mm, once made,
/// leaves its square over a length, 1e-16.
const CLOSED: f64 = 1e-9;

/// Every member has the length, or meets the condition, that it has as described.
fn members_are_whole(corner: &Corner, linkage: &Linkage, position: &Position) {
    let carry = |point| position.carry(linkage, &at(point));
    let rack = at(corner.rack_direction.unwrap_or(RACK_DIRECTION)).normalize();
    let whole = |id: &str, body: geometry_core::Vec3, design_body, design_carried| {
        let length = (at(design_carried) - at(design_body)).norm();
        close(id, (carry(design_carried) - body).norm(), length, CLOSED);
    };
    for arm in &corner.arms {
        whole(&arm.id, at(arm.front_pivot), arm.front_pivot, arm.ball_joint);
        whole(&arm.id, at(arm.rear_pivot), arm.rear_pivot, arm.ball_joint);
    }
    for link in &corner.links {
        let moved = f64::from(link.steers) * position.state().rack * rack;
        whole(&link.id, at(link.inboard) + moved, link.inboard, link.outboard);
    }
    if let Some(strut) = &corner.strut {
        let along = position.rotation() * (at(strut.top_mount) - at(strut.lower_end)).normalize();
        let beside = (at(strut.top_mount) - carry(strut.lower_end)).cross(&along).norm();
        close("distance of the top mount from the strut's line", beside, 0.0, CLOSED);
    }
    if let Some(hinge) = &corner.hinge {
        for pivot in hinge.pivots {
            close_vectors("hinge pivot", &carry(pivot), &at(pivot), CLOSED);
        }
    }
    let rotation = position.rotation();
    close("rotation", (rotation.transpose() * rotation - Matrix3::identity()).norm(), 0.0, 1e-14);
    close("handedness", rotation.determinant(), 1.0, 1e-14);
    let rise = position.wheel_centre().z - corner.wheel.centre[2];
    close("travel", rise, position.state().travel, CLOSED);
}

/// The same pose, and the same motions as far as they are known.
fn same_position(found: &Position, expected: &Position) {
    close_vectors("wheel centre", &found.wheel_centre(), &expected.wheel_centre(), 1e-10);
    close("rotation", (found.rotation() - expected.rotation()).norm(), 0.0, 1e-12);
    for (found, expected) in
        [(found.travel_twist(), expected.travel_twist()), (found.rack_twist(), expected.rack_twist())]
    {
        close_vectors(
            "angular velocity",
            &found.angular,
            &expected.angular,
            MOTION * (1e-2 + expected.angular.norm()),
        );
        close_vectors(
            "velocity",
            &found.linear,
            &expected.linear,
            MOTION * (1.0 + 3000.0 * expected.angular.norm()),
        );
    }
}

#[test]
fn every_member_keeps_its_length() {
    let strategy = (drawn(&ALL), vec((-80.0..80.0_f64, -35.0..35.0_f64), 8));
    for_all(200, &strategy, |(case, states)| {
        let linkage = linkage(&case.corner, Side::Left);
        let mut follower = Follower::new(&linkage);
        members_are_whole(&case.corner, &linkage, follower.position());
        for (travel, rack) in states {
            // Beyond the end of a linkage the follower stands at the last state reached.
            let _ = follower.go_to(State { travel, rack });
            members_are_whole(&case.corner, &linkage, follower.position());
        }
    });
}

#[test]
fn the_way_back_meets_the_same_positions() {
    for_all(60, &drawn(&ALL), |case| {
        let linkage = linkage(&case.corner, Side::Left);
        let state = |travel: i32| State { travel: f64::from(travel), rack: case.state.rack };
        let mut follower = Follower::new(&linkage);
        let there: Vec<_> = (-60..=60).map(|travel| go(&mut follower, state(travel))).collect();
        for position in there.iter().rev() {
            same_position(&go(&mut follower, position.state()), position);
        }
    });
}

#[test]
fn a_position_does_not_depend_on_where_the_follower_came_from() {
    let strategy = (drawn(&ALL), vec((-60.0..60.0_f64, -25.0..25.0_f64), 4));
    for_all(200, &strategy, |(case, detour)| {
        let linkage = linkage(&case.corner, Side::Left);
        let cold = solved(&linkage, case.state);
        let mut follower = Follower::new(&linkage);
        for (travel, rack) in detour {
            go(&mut follower, State { travel, rack });
        }
        same_position(&go(&mut follower, case.state), &cold);
        // Asked again where it stands, and after a restart.
        same_position(&go(&mut follower, case.state), &cold);
        follower.restart();
        assert_eq!(go(&mut follower, case.state), cold);
    });
}

#[test]
fn a_sweep_is_the_follower_from_design() {
    let strategy = (drawn(&ALL), (-60.0..60.0_f64, -25.0..25.0_f64), 1..40_usize);
    for_all(100, &strategy, |(case, (travel, rack), positions)| {
        let linkage = linkage(&case.corner, Side::Left);
        let sweep = Sweep { from: case.state, to: State { travel, rack }, positions };
        let mut found = vec![None; positions];
        let reach = sweep.run(&linkage, |index, position| {
            assert!(found[index].replace(*position).is_none(), "{index} is shown twice");
        });
        assert_eq!((reach.solved, reach.before, reach.after), ((0, positions), None, None));
        for (index, position) in found.into_iter().enumerate() {
            let position = position.expect("every index is shown");
            assert_eq!(position.state(), sweep.state(index));
            same_position(&position, &solved(&linkage, sweep.state(index)));
        }
    });
}

#[test]
fn a_sweep_beyond_both_ends_shows_what_is_between() {
    for_all(60, &drawn(&ALL), |case| {
        let linkage = linkage(&case.corner, Side::Left);
        let positions = 161;
        let sweep = Sweep {
            from: State { travel: -1600.0, rack: 0.0 },
            to: State { travel: 1600.0, rack: 0.0 },
            positions,
        };
        let mut shown = Vec::new();
        let reach = sweep.run(&linkage, |index, position| {
            members_are_whole(&case.corner, &linkage, position);
            shown.push(index);
        });
        shown.sort_unstable();
        assert_eq!(shown, (reach.solved.0..reach.solved.1).collect::<Vec<_>>());
        for (end, first_missing) in
            [(reach.before, reach.solved.0.wrapping_sub(1)), (reach.after, reach.solved.1)]
        {
            let end = end.expect("no corner travels 1.6 m");
            assert!(end.position().is_none());
            assert!(Follower::new(&linkage).go_to(sweep.state(first_missing)).position().is_none());
        }
    });
}

/// Every travel with every rack, and slanted rows: each position is the one found from the design
/// position by itself, and each row says how far it came.
#[test]
fn a_grid_is_the_follower_from_design() {
    let ends = (-50.0..50.0_f64, -20.0..20.0_f64, -20.0..20.0_f64);
    for_all(60, &(drawn(&ALL), ends, 1..8_usize, 1..6_usize), |(case, ends, positions, rows)| {
        let linkage = linkage(&case.corner, Side::Left);
        let (travel, rack, slant) = ends;
        let row = Sweep { from: case.state, to: State { travel, rack: case.state.rack + slant }, positions };
        let grid = Grid { row, to: State { travel: case.state.travel + slant, rack }, rows };
        let mut found = vec![vec![None; positions]; rows];
        let mut reaches = vec![None; rows];
        grid.run(
            &linkage,
            |[row, index], position| assert!(found[row][index].replace(*position).is_none(), "shown twice"),
            |row, reach| assert!(reaches[row].replace(reach.solved).is_none(), "ended twice"),
        );
        for (i, row) in found.into_iter().enumerate() {
            let states = grid.row(i);
            let solved = row.iter().filter(|position| position.is_some()).count();
            assert_eq!(reaches[i].map(|(first, end)| end - first), Some(solved));
            for (j, position) in row.into_iter().enumerate() {
                match Follower::new(&linkage).go_to(states.state(j)).position() {
                    Some(alone) => same_position(&position.expect("it is reached"), alone),
                    None => assert!(position.is_none()),
                }
            }
        }
        assert_eq!((grid.row(0), grid.row(rows)), (row, grid.row(rows - 1)));
        if rows > 1 {
            assert_eq!(grid.row(rows - 1).from, grid.to);
        }
    });
}

/// A sweep of nothing, of one state, and of a state no linkage reaches.
#[test]
fn sweeps_of_no_extent() {
    let linkage = linkage(geometry_core::setup::example().front.as_ref().expect("it is there"), Side::Left);
    let mut sweep = Sweep { from: State::DESIGN, to: State { travel: 10.0, rack: 0.0 }, positions: 0 };
    let reach = sweep.run(&linkage, |_, _| panic!("there is nothing to show"));
    assert_eq!(reach.solved.0, reach.solved.1);
    sweep.positions = 1;
    let mut count = 0;
    let reach = sweep.run(&linkage, |_, position| {
        assert_eq!(position.state(), State::DESIGN);
        count += 1;
    });
    assert_eq!((count, reach.solved), (1, (0, 1)));
    sweep.from.travel = f64::NAN;
    let reach = sweep.run(&linkage, |_, _| panic!("there is nothing to show"));
    assert_eq!(reach.solved.0, reach.solved.1);
    assert!(matches!(reach.after, Some(Outcome::OutOfReach(_))));
}
