//! Both wheels of an axle under a body that drops, leans and steers.

use std::{cell::Cell, fmt::Debug};

use geometry_core::{
    Mat3, Vec3,
    axle::{
        AxleFollower, AxleGrid, AxlePosition, AxleReader, AxleReadings, AxleState, AxleSweep, Lean,
        WheelPair, WheelReadings,
    },
    readings::spin_axis,
    setup::{Arm, Axle, Corner, Link, Side, Wheel, example},
    solve::Follower,
};
use proptest::prelude::*;

use crate::{
    checking::{MOTION, at, close, close_vectors, for_all, vehicle},
    corners::{ALL, Drawn, Layout, drawn, plain},
    hostile::number,
};

const LEANS: [Lean; 2] = [Lean::HeaveHeld, Lean::RollCentre];

/// Layouts whose link steers.
const STEERED: [Layout; 5] = [
    Layout::TwoArms,
    Layout::ArmAndSplitLinks,
    Layout::FourLinksAndTieRod,
    Layout::StrutAndArm,
    Layout::StrutAndLinks,
];

/// mm and °: the wheels stand on the ground to 1e-10 mm, and the heave is integrated from
/// rates known to [`MOTION`]; both grow where the contact's rise is small or the lines are
/// nearly parallel.
const SAME: f64 = 1e-7;

fn pair(left: &Corner) -> WheelPair {
    WheelPair::new(Axle::Front, left, None).expect("it can be assembled")
}

fn reached(pair: &WheelPair, state: AxleState, lean: Lean) -> Option<AxlePosition> {
    AxleFollower::new(pair).go_to(state, lean).ok()
}

fn read(pair: &WheelPair, position: &AxlePosition) -> AxleReadings {
    AxleReader::new(pair, &vehicle()).read(position)
}

/// A corner with a state of the axle: 30 mm of heave, 3° of roll and 15 mm of rack at most.
fn states(layouts: &'static [Layout]) -> impl Strategy<Value = (Drawn, AxleState)> {
    (drawn(layouts), -30.0..30.0_f64, -3.0..3.0_f64, -15.0..15.0_f64)
        .prop_map(|(case, heave, roll, rack)| (case, AxleState { heave, roll, rack }))
}

/// The numbers that an axle's readings consist of, those with a sign to the left first.
fn numbers(r: &AxleReadings) -> ([Option<f64>; 3], [Option<f64>; 8]) {
    let centre = r.roll_centre;
    (
        [Some(r.mean_steer), centre.map(|c| c.across), r.turning.map(|t| 1e6 / t.centre)],
        [
            Some(r.heave),
            Some(r.track),
            Some(r.track_change),
            r.steer_per_rack,
            r.roll_steer,
            centre.map(|c| c.height),
            r.turning.map(|t| t.inside_angle),
            r.turning.map(|t| t.outside_angle),
        ],
    )
}

/// Where two lines meet far away they meet at an angle of track over distance: what they are
/// known to moves the place by the square of the distance over the track.
fn leeway(r: &AxleReadings) -> f64 {
    let far = r.roll_centre.map_or(0.0, |c| c.across * c.across + c.height * c.height);
    SAME * (1.0 + far / 1e5)
}

fn same(what: &dyn Debug, found: Option<f64>, expected: Option<f64>, leeway: f64) {
    match (found, expected) {
        (Some(found), Some(expected)) => close(&format!("{what:?}"), found, expected, leeway),
        (None, None) => {}
        (one, other) => panic!("{what:?}: {one:?} against {other:?}"),
    }
}

#[test]
fn leaning_and_steering_the_other_way_exchanges_the_wheels() {
    for_all(150, &states(&ALL), |(case, state)| {
        let pair = pair(&case.corner);
        let other = AxleState { roll: -state.roll, rack: -state.rack, ..state };
        for lean in LEANS {
            let (Some(one), Some(two)) = (reached(&pair, state, lean), reached(&pair, other, lean)) else {
                continue;
            };
            let (one, two) = (read(&pair, &one), read(&pair, &two));
            for (a, b) in [(one.left, two.right), (one.right, two.left)] {
                same(&"travel", Some(b.travel), Some(a.travel), SAME);
                same(&"camber", Some(b.camber), Some(a.camber), SAME);
                same(&"camber_to_ground", Some(b.camber_to_ground), Some(a.camber_to_ground), SAME);
                same(&"toe", Some(b.toe), Some(a.toe), SAME);
                same(&"steer", Some(-b.steer), Some(a.steer), SAME);
                same(&"roll_steer", b.roll_steer, a.roll_steer, leeway(&one));
                same(&"roll_camber", b.roll_camber.map(|c| -c), a.roll_camber, leeway(&one));
                same(&"steer_per_rack", b.steer_per_rack, a.steer_per_rack, SAME);
                let [x, y, z] = a.contact;
                close_vectors("contact", &at(b.contact), &Vec3::new(x, -y, z), SAME);
            }
            let ((left, plain), (other_left, other_plain)) = (numbers(&one), numbers(&two));
            for (i, (a, b)) in left.into_iter().zip(other_left).enumerate() {
                same(&("signed", i), b.map(|b| -b), a, leeway(&one));
            }
            for (i, (a, b)) in plain.into_iter().zip(other_plain).enumerate() {
                same(&("plain", i), b, a, leeway(&one));
            }
        }
    });
}

#[test]
fn a_level_body_has_a_single_corners_readings_on_both_sides() {
    for_all(300, &states(&ALL), |(case, state)| {
        let pair = pair(&case.corner);
        let state = AxleState { roll: 0.0, rack: 0.0, ..state };
        let Some(position) = reached(&pair, state, Lean::HeaveHeld) else { return };
        let axle = read(&pair, &position);
        let reader = AxleReader::new(&pair, &vehicle());
        for (side, wheel) in [(Side::Left, axle.left), (Side::Right, axle.right)] {
            let corner = reader.corner(&position, side);
            close("camber", wheel.camber, corner.camber, 1e-12);
            close("camber_to_ground", wheel.camber_to_ground, corner.camber, 1e-12);
            close("toe", wheel.toe, corner.toe, 1e-12);
            let [x, y, z] = corner.contact;
            close_vectors("contact", &at(wheel.contact), &Vec3::new(x, side.outboard() * y, z), 1e-9);
            // The disc stands on ground that has risen by the heave.
            let design =
                reader.corner(&reached(&pair, AxleState::DESIGN, Lean::HeaveHeld).expect("design"), side);
            close("ground", z - design.contact[2], state.heave, 1e-9);
            // Level, the leaning begins as opposite travel: of the left wheel down by its distance
            // from the centre plane.
            let spin = spin_axis(pair.linkage(side), position.wheel(side));
            let square = spin.x * spin.x + spin.y * spin.y;
            let per_travel = -corner.bump_steer.to_radians();
            let slope = contact_rise(&pair, &position, side);
            let expected = -y / slope * per_travel - spin.x * spin.z / square;
            close("roll_steer", wheel.roll_steer.expect("it leans"), expected, 1e-9);
        }
        match (axle.roll_centre, reader.corner(&position, Side::Left).roll_centre_height) {
            (Some(found), Some(expected)) => {
                close("roll centre across", found.across, 0.0, 0.0);
                close("roll centre height", found.height, expected, 1e-9 * (1.0 + expected.abs()));
                close("body", found.body[1] - axle.left.contact[2], expected, 1e-9 * (1.0 + expected.abs()));
            }
            (found, expected) => panic!("{found:?} against {expected:?}"),
        }
    });
}

/// mm of the contact's rise per mm of travel, level.
fn contact_rise(pair: &WheelPair, position: &AxlePosition, side: Side) -> f64 {
    let corner = AxleReader::new(pair, &vehicle()).corner(position, side);
    position.wheel(side).travel_twist().velocity_at(&at(corner.contact)).z
}

/// Seen from the road: the body turned and lowered, every disc's lowest point is on it, and
/// no point of its rim below.
#[test]
fn the_discs_stand_on_the_ground() {
    for_all(200, &states(&ALL), |(case, state)| {
        let pair = pair(&case.corner);
        let design = read(&pair, &reached(&pair, AxleState::DESIGN, Lean::HeaveHeld).expect("design"));
        for lean in LEANS {
            let Some(position) = reached(&pair, state, lean) else { continue };
            let axle = read(&pair, &position);
            let (sine, cosine) = state.roll.to_radians().sin_cos();
            let lean = Mat3::new(1.0, 0.0, 0.0, 0.0, cosine, -sine, 0.0, sine, cosine);
            let height = |point: Vec3| (lean * point).z - axle.heave;
            for (side, wheel, level) in
                [(Side::Left, axle.left, design.left), (Side::Right, axle.right, design.right)]
            {
                let sign = side.outboard();
                let contact = at(wheel.contact);
                close("on the ground", height(contact) - level.contact[2], 0.0, 1e-9);
                // The rim beside the contact: in the wheel's plane, at the loaded radius.
                let mut spin = spin_axis(pair.linkage(side), position.wheel(side));
                let mut centre = position.wheel(side).wheel_centre();
                (spin.y, centre.y) = (sign * spin.y, sign * centre.y);
                let arm = contact - centre;
                close("in the wheel's plane", arm.dot(&spin), 0.0, 1e-9);
                close("at the loaded radius", arm.norm(), case.corner.wheel.loaded_radius, 1e-9);
                for turn in [-0.1_f64, -0.001, 0.001, 0.1] {
                    let rim = centre + turn.cos() * arm + turn.sin() * spin.cross(&arm);
                    assert!(height(rim) > height(contact), "the rim is below at {turn}");
                }
            }
        }
    });
}

#[test]
fn rates_are_what_small_differences_say() {
    for_all(150, &states(&ALL), |(case, state)| {
        let pair = pair(&case.corner);
        for lean in LEANS {
            let Some(position) = reached(&pair, state, lean) else { continue };
            let axle = read(&pair, &position);
            // Differences over a step and over half of it, their own error of second order taken
            // off; what they differ by is more than is left of it. Heaves are known to 1e-8 mm over
            // that step.
            let step = 0.01;
            let beside = |by: f64, roll: bool| {
                let mut state = state;
                if roll {
                    state.roll += by;
                } else {
                    state.rack += 10.0 * by;
                }
                reached(&pair, state, lean).map(|position| read(&pair, &position))
            };
            let rows: Option<Vec<AxleReadings>> =
                [-1.0, -0.5, 0.5, 1.0].into_iter().map(|share| beside(share * step, true)).collect();
            if let Some(rows) = rows {
                let slope = |of: &dyn Fn(&AxleReadings) -> f64| {
                    let [a, b, c, d] = [0, 1, 2, 3].map(|i| of(&rows[i]));
                    let (half, whole) = ((c - b) / step, (d - a) / (2.0 * step));
                    ((4.0 * half - whole) / 3.0, 1e-6 + (half - whole).abs())
                };
                let wheels: [fn(&AxleReadings) -> WheelReadings; 2] = [|r| r.left, |r| r.right];
                for wheel in wheels {
                    let (found, leeway) = slope(&|r| wheel(r).steer);
                    close("roll_steer", wheel(&axle).roll_steer.expect("it leans"), found, leeway);
                    let (found, leeway) = slope(&|r| wheel(r).camber_to_ground);
                    close("roll_camber", wheel(&axle).roll_camber.expect("it leans"), found, leeway);
                }
            }
            // Leaning about the roll centre with another rack is another way down.
            if lean == Lean::HeaveHeld
                && let (Some(less), Some(more)) = (beside(-step, false), beside(step, false))
            {
                let found = (more.mean_steer - less.mean_steer) / (20.0 * step);
                close("steer_per_rack", axle.steer_per_rack.unwrap_or(0.0), found, 1e-6);
            }
        }
    });
}

#[test]
fn a_right_corner_that_is_the_mirror_image_changes_nothing() {
    for_all(100, &states(&STEERED), |(case, state)| {
        let symmetric = pair(&case.corner);
        let [x, y, z] = case.corner.rack_direction.expect("drawn");
        // The rack direction as a person gives it, and as the image has it.
        for direction in [[-x, y, -z], [x, -y, z]] {
            let right = Corner { rack_direction: Some(direction), ..case.corner.mirrored() };
            let pair = WheelPair::new(Axle::Front, &case.corner, Some(&right)).expect("it can be assembled");
            for lean in LEANS {
                let expected = reached(&symmetric, state, lean).map(|p| read(&symmetric, &p));
                let found = reached(&pair, state, lean).map(|p| read(&pair, &p));
                assert_eq!(found, expected);
            }
        }
    });
}

/// A corner that moves in the plane x = 0: arms with axes along x, and a link beside the
/// lower one that is its copy.
fn plane(numbers: [f64; 8]) -> Corner {
    let [a, b, c, d, e, f, g, h] = numbers.map(|number| 40.0 * number);
    let arm = |id: &str, pivot: [f64; 2], joint: [f64; 2]| Arm {
        id: id.into(),
        front_pivot: [150.0, pivot[0], pivot[1]],
        rear_pivot: [-150.0, pivot[0], pivot[1]],
        ball_joint: [0.0, joint[0], joint[1]],
    };
    let (pivot, joint) = ([360.0 + a, 200.0 + b], [720.0 + c, 170.0 + d]);
    Corner {
        arms: vec![arm("lower", pivot, joint), arm("upper", [440.0 + e, 430.0 + f], [690.0 + g, 470.0 + h])],
        links: vec![Link {
            id: "beside".into(),
            inboard: [-120.0, pivot[0], pivot[1]],
            outboard: [-120.0, joint[0], joint[1]],
            steers: false,
        }],
        ..Corner::new(Wheel { camber: c / 40.0, ..Wheel::new([0.0, 780.0, 310.0], 310.0) })
    }
}

/// Where a corner moves in one cross-section, a body that turns about the roll centre leaves
/// both contacts where they are: the track stays. It is also the check of the integration's
/// error, which knows nothing of tracks.
#[test]
fn about_the_roll_centre_plane_corners_do_not_slide() {
    let strategy = (prop::array::uniform8(-1.0..1.0_f64), -5.0..5.0_f64);
    let (asked, answered) = (Cell::new(0), Cell::new(0));
    for_all(200, &strategy, |(numbers, roll)| {
        let pair = pair(&plane(numbers));
        asked.set(asked.get() + 1);
        let Some(position) = reached(&pair, AxleState { roll, ..AxleState::DESIGN }, Lean::RollCentre) else {
            return;
        };
        answered.set(answered.get() + 1);
        let axle = read(&pair, &position);
        let across = axle.roll_centre.map_or(1e9, |centre| centre.across.abs());
        // Ten steps that are known to 1e-8 mm each; the farther the roll centre, the more the
        // track makes of a heave that is not quite right.
        close("track change", axle.track_change, 0.0, 1e-7 * (1.0 + across / 1000.0));
    });
    // The roll centre runs away in few of them.
    assert!(10 * answered.get() > 9 * asked.get(), "{} of {}", answered.get(), asked.get());
}

#[test]
fn a_sweep_is_the_same_both_ways_and_as_its_single_states() {
    for_all(30, &states(&ALL), |(case, to)| {
        let pair = pair(&case.corner);
        for lean in LEANS {
            for rows in [to, AxleState { heave: 0.0, rack: 0.0, ..to }, AxleState { heave: 0.0, ..to }] {
                let from = AxleState { heave: rows.heave, roll: -rows.roll, rack: -rows.rack };
                let sweep = AxleSweep { from, to: rows, positions: 9, lean };
                let back = AxleSweep { from: rows, to: from, ..sweep };
                let mut shown = vec![None; 9];
                let reach = sweep.run(&pair, |i, position| shown[i] = Some(read(&pair, position)));
                let mut other = vec![None; 9];
                let _ = back.run(&pair, |i, position| other[8 - i] = Some(read(&pair, position)));
                assert_eq!(reach.before.is_some(), shown[0].is_none());
                assert_eq!(reach.after.is_some(), shown[8].is_none());
                for (i, (one, two)) in shown.iter().zip(&other).enumerate() {
                    let single = reached(&pair, sweep.state(i), lean).map(|p| read(&pair, &p));
                    for found in [two, &single] {
                        if let (Some(one), Some(found)) = (one, found) {
                            for (a, b) in numbers(one).1.into_iter().zip(numbers(found).1) {
                                same(&i, b, a, leeway(one));
                            }
                        }
                    }
                }
            }
        }
    });
}

#[test]
fn a_grid_is_its_single_states() {
    for_all(15, &states(&ALL), |(case, to)| {
        let pair = pair(&case.corner);
        for lean in LEANS {
            let from = AxleState { roll: -to.roll, ..to };
            let row = AxleSweep { from, to, positions: 3, lean };
            let grid = AxleGrid { row, to: AxleState { heave: -to.heave, rack: -to.rack, ..from }, rows: 3 };
            let mut shown = vec![vec![None; 3]; 3];
            let mut ended = Vec::new();
            grid.run(
                &pair,
                |[row, index], position| shown[row][index] = Some(read(&pair, position)),
                |row, reach| ended.push((row, reach.solved)),
            );
            ended.sort_unstable();
            for (i, (row, solved)) in ended.into_iter().enumerate() {
                assert_eq!((row, solved.1 - solved.0), (i, shown[i].iter().flatten().count()));
                for (j, found) in shown[i].iter().enumerate() {
                    let single = reached(&pair, grid.row(i).state(j), lean).map(|p| read(&pair, &p));
                    if matches!(lean, Lean::HeaveHeld) && single.is_some() {
                        assert!(found.is_some(), "row {i}, state {j} is within reach");
                    }
                    if let (Some(one), Some(found)) = (single, found) {
                        for (a, b) in numbers(&one).1.into_iter().zip(numbers(found).1) {
                            same(&(i, j), b, a, leeway(&one));
                        }
                    }
                }
            }
            assert!(shown[1][1].is_some(), "the middle is the design position");
        }
    });
}

/// A tie-rod's length is changed until both wheels' axles, drawn as lines in plan, cross the
/// rear axle's line at one place: that is Ackermann geometry.
#[test]
fn a_hundred_per_cent_is_where_the_wheels_axles_meet() {
    let vehicle = vehicle();
    let wheelbase = vehicle.wheelbase.expect("given");
    let turned = |joint: f64| {
        let mut corner = plain(Layout::TwoArms);
        corner.wheel.toe = 0.0;
        corner.links[0].outboard[1] += joint;
        let pair = pair(&corner);
        let state = AxleState { rack: 20.0, ..AxleState::DESIGN };
        let position = reached(&pair, state, Lean::HeaveHeld).expect("it steers that far");
        let crossing = [Side::Left, Side::Right].map(|side| {
            let wheel = position.wheel(side);
            let (spin, sign) = (spin_axis(pair.linkage(side), wheel), side.outboard());
            let axle = read(&pair, &position);
            let contact = if side == Side::Left { axle.left.contact } else { axle.right.contact };
            let far = (corner.wheel.centre[0] - wheelbase - contact[0]) / spin.x;
            contact[1] + far * sign * spin.y
        });
        (crossing[0] - crossing[1], read(&pair, &position))
    };
    let (mut low, mut high) = (-60.0, 60.0);
    let sign = turned(low).0;
    assert!(sign * turned(high).0 < 0.0, "no change of sign");
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if turned(middle).0 * sign > 0.0 { low = middle } else { high = middle }
    }
    let (_, axle) = turned(low);
    close("percentage", axle.ackermann_percentage.expect("turned"), 100.0, 1e-6);
    let turning = axle.turning.expect("turned");
    close("apart", turning.centres_apart, 0.0, 1e-6);
    let cot = |angle: f64| 1.0 / angle.to_radians().tan();
    let (left, right) = (turning.left, turning.right);
    let (inside, outside) = if turning.centre > 0.0 { (left, right) } else { (right, left) };
    // The wheels do not stand quite beside each other once they are turned.
    let difference = outside.x * cot(turning.outside_angle) - inside.x * cot(turning.inside_angle);
    close("cotangents", difference, left.y - right.y, 1e-6);
}

#[test]
fn the_percentage_goes_on_to_straight_ahead() {
    for_all(60, &drawn(&STEERED), |case| {
        let pair = pair(&case.corner);
        let at = |rack: f64| {
            let position = reached(&pair, AxleState { rack, ..AxleState::DESIGN }, Lean::HeaveHeld)?;
            read(&pair, &position).ackermann_percentage
        };
        let [left, inside, outside, straight] =
            [-1.001, 0.999, 1.001, 0.0].map(|rack| at(rack).expect("near straight ahead it exists"));
        close("no step", inside, outside, 1e-3);
        close("even", left, outside, 1e-3);
        close("near", straight, inside, 1.0);
    });
}

#[test]
fn the_example_leans_two_degrees_both_ways() {
    let document = example();
    for axle in [Axle::Front, Axle::Rear] {
        let pair = WheelPair::of(&document, axle).expect("it can be assembled").expect("it is described");
        for roll in [-2.0, 2.0] {
            let position = reached(&pair, AxleState { roll, ..AxleState::DESIGN }, Lean::RollCentre);
            let axle = AxleReader::new(&pair, &document.vehicle).read(&position.expect("it leans that far"));
            assert!(axle.left.travel * roll < 0.0 && axle.right.travel * roll > 0.0);
            assert!(axle.left.camber_to_ground * roll < axle.right.camber_to_ground * roll);
        }
    }
}

#[test]
fn an_error_says_which_corner() {
    let front = plain(Layout::TwoArms);
    let mut right = front.mirrored();
    right.links.clear();
    let error = WheelPair::new(Axle::Front, &front, Some(&right)).expect_err("a link is missing");
    assert!(error.to_string().starts_with("front_right"), "{error}");
    let error = WheelPair::new(Axle::Rear, &right.mirrored(), None).expect_err("a link is missing");
    assert!(error.to_string().starts_with("rear"), "{error}");
}

#[test]
fn a_wheel_that_does_not_reach_the_ground_is_named() {
    let pair = pair(&plain(Layout::TwoArms));
    let mut follower = AxleFollower::new(&pair);
    let stop = follower
        .go_to(AxleState { heave: 0.0, roll: 28.0, rack: 0.0 }, Lean::HeaveHeld)
        .expect_err("no corner travels so far");
    assert!(stop.side().is_some(), "{stop:?}");
    assert!(stop.to_string().contains("wheel"), "{stop}");
    // It goes on from there.
    let position = follower.go_to(AxleState::DESIGN, Lean::HeaveHeld).expect("the design is reached");
    let design = *Follower::new(pair.linkage(Side::Left)).position();
    close_vectors("back", &position.wheel(Side::Left).wheel_centre(), &design.wheel_centre(), 1e-9);
}

#[test]
fn whatever_is_asked_nothing_is_told_by_no_number() {
    let strategy = (drawn(&ALL), number(), number(), number(), any::<bool>());
    for_all(300, &strategy, |(case, heave, roll, rack, about)| {
        let pair = pair(&case.corner);
        let lean = LEANS[usize::from(about)];
        match AxleFollower::new(&pair).go_to(AxleState { heave, roll, rack }, lean) {
            Ok(position) => {
                let told = format!("{:?}", read(&pair, &position));
                assert!(!told.contains("NaN") && !told.contains("inf"), "{told}");
            }
            Err(stop) => assert!(!stop.to_string().is_empty() && !stop.kind().is_empty()),
        }
    });
    // What two computations of one motion may differ by is far less than what is compared above.
    const { assert!(MOTION < SAME) };
}
