//! What computing allocates: nothing in a solve, one table for a sweep of any length.

use allocation_counter::measure;
use geometry_core::{
    batch::Batch,
    linkage::Linkage,
    motion::Sweep,
    readings::Reader,
    setup::{Axle, Side, example},
    solve::{Follower, Outcome, State},
};

fn front() -> Linkage {
    let document = example();
    let corner = document.corner(Axle::Front).expect("the example has a front corner");
    Linkage::new(corner, Side::Left).expect("a corner")
}

fn sweep(positions: usize) -> Sweep {
    let state = |travel| State { travel, rack: 0.0 };
    Sweep { from: state(-80.0), to: state(80.0), positions }
}

#[test]
fn a_sweep_allocates_once_whatever_its_length() {
    let linkage = front();
    let reader = Reader::new(&linkage, &example().vehicle, Axle::Front);
    for positions in [1, 10, 161, 10_000] {
        let allocated = measure(|| {
            let table = sweep(positions).table(&linkage, |position| (*position, reader.read(position)));
            assert_eq!(table.iter().count(), positions);
        });
        assert_eq!(allocated.count_total, 1, "{positions} positions");
        assert_eq!(allocated.count_current, 0, "{positions} positions");
    }
}

#[test]
fn a_sweep_that_is_only_looked_at_allocates_nothing() {
    let linkage = front();
    let allocated = measure(|| {
        // Beyond both ends, so that the way is searched and halved as well.
        let sweep = Sweep {
            from: State { travel: -900.0, rack: 0.0 },
            to: State { travel: 900.0, rack: 0.0 },
            positions: 181,
        };
        let reach = sweep.run(&linkage, |_, position| assert!(position.evaluations() > 0));
        assert!(reach.before.is_some() && reach.after.is_some());
    });
    assert_eq!(allocated.count_total, 0);
}

/// As a pointer drags the wheel and the rack: from anywhere to anywhere, all readings each time.
#[test]
fn a_solve_and_every_drag_allocate_nothing() {
    let linkage = front();
    let reader = Reader::new(&linkage, &example().vehicle, Axle::Front);
    let allocated = measure(|| {
        let mut follower = Follower::new(&linkage);
        for i in 0..200 {
            let t = f64::from(i);
            let state = State { travel: 60.0 * (0.7 * t).sin(), rack: 20.0 * (0.31 * t).cos() };
            let outcome = follower.go_to(state);
            assert!(matches!(outcome, Outcome::Solved(_)));
            assert!(reader.read(follower.position()).camber.is_finite());
        }
    });
    assert_eq!(allocated.count_total, 0);
}

/// Corners abreast allocate nothing as long as none leaves the others.
#[test]
fn a_batch_allocates_nothing_within_reach() {
    let linkages = vec![front(); 19];
    let allocated = measure(|| {
        Batch::new(&linkages).run(&sweep(161), |_, _, found| assert!(found.is_some()));
    });
    assert_eq!(allocated.count_total, 0);
}
