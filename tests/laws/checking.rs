//! Running a law over many cases, and comparing numbers.

pub(crate) use cornerwise_tests::go;
use geometry_core::{
    Vec3,
    bounds::SETTLED,
    linkage::Linkage,
    readings::{Quantity, Reader, Readings, quantity::Unit},
    setup::{Axle, Corner, Side, Vehicle, example},
    solve::{Follower, Position, State},
};
use proptest::{
    strategy::Strategy,
    test_runner::{Config, RngAlgorithm, TestCaseError, TestRng, TestRunner},
};

/// Runs a law over cases drawn from the fixed seed; a law that fails is shown with the
/// simplest case found.
pub(crate) fn for_all<S: Strategy>(cases: u32, strategy: &S, law: impl Fn(S::Value)) {
    let config = Config {
        cases: cases * number_from_environment("CORNERWISE_CASES", 1),
        failure_persistence: None,
        ..Config::default()
    };
    let mut seed = [7; 32];
    seed[..4].copy_from_slice(&number_from_environment("CORNERWISE_SEED", 0).to_le_bytes());
    let rng = TestRng::from_seed(RngAlgorithm::ChaCha, &seed);
    let outcome = TestRunner::new_with_rng(config, rng).run(strategy, |case| {
        law(case);
        Ok::<(), TestCaseError>(())
    });
    if let Err(failure) = outcome {
        panic!("{failure}");
    }
}

fn number_from_environment(name: &str, otherwise: u32) -> u32 {
    std::env::var(name).ok().and_then(|text| text.parse().ok()).unwrap_or(otherwise)
}

/// What motions are known to, relative to one of order one: the solver gives the motion of
/// the pose before its last correction, which is at most [`SETTLED`] long, and a correction
/// of that length over the least distance between joints that matters, 50 mm, turns a line
/// by the first part of this. The second is rounding: coordinates of 5 m are held to 1e-12 mm,
/// over 100 mm, with systems whose condition is of order 1000.
pub(crate) const MOTION: f64 = SETTLED / 50.0 + 1e-11;

/// Two numbers within a tolerance; NaN is close to nothing.
#[track_caller]
pub(crate) fn close(what: &str, found: f64, expected: f64, tolerance: f64) {
    assert!(
        (found - expected).abs() <= tolerance,
        "{what}: {found} is not {expected}; they differ by {:e}, allowed are {tolerance:e}",
        found - expected
    );
}

/// Two vectors within a tolerance in length.
#[track_caller]
pub(crate) fn close_vectors(what: &str, found: &Vec3, expected: &Vec3, tolerance: f64) {
    assert!(
        (found - expected).norm() <= tolerance,
        "{what}: {:?} is not {:?}; they differ by {:e}, allowed are {tolerance:e}",
        found.as_slice(),
        expected.as_slice(),
        (found - expected).norm()
    );
}

/// A linkage from a corner that must be one.
#[track_caller]
pub(crate) fn linkage(corner: &Corner, side: Side) -> Linkage {
    match Linkage::new(corner, side) {
        Ok(linkage) => linkage,
        Err(error) => panic!("{error}"),
    }
}

/// The position of a state that must be reached, from the design position.
#[track_caller]
pub(crate) fn solved(linkage: &Linkage, state: State) -> Position {
    go(&mut Follower::new(linkage), state)
}

/// Readings of a position, in front of the example's vehicle.
pub(crate) fn read(linkage: &Linkage, position: &Position) -> Readings {
    Reader::new(linkage, &vehicle(), Axle::Front).read(position)
}

/// A vehicle with every number given.
pub(crate) fn vehicle() -> Vehicle {
    example().vehicle
}

/// A point as a vector.
pub(crate) fn at(point: geometry_core::setup::Point) -> Vec3 {
    Vec3::from(point)
}

/// What a reading may differ by when two computations agree on the motion to `relative`:
/// that share of what the reading's unit makes of a motion of order one. A centre far away
/// is a quotient by a small rotation; its error grows with the square of its distance.
pub(crate) fn leeway(quantity: Quantity, value: f64, relative: f64) -> f64 {
    let scale = match quantity.unit() {
        // Lengths of up to a metre.
        Unit::Millimetre | Unit::MillimetrePerRadian => 1000.0,
        Unit::Degree => 57.3,
        Unit::DegreePerMillimetre | Unit::Ratio => 1.0,
        // 100 · share · wheelbase / height of the centre of gravity.
        Unit::Percent => 400.0,
    };
    let spread = relative * (scale + value.abs());
    match quantity {
        Quantity::FrontViewSwingArm | Quantity::SideViewSwingArm => spread * (1.0 + value.abs() / 100.0),
        _ => spread,
    }
}

/// All scalar readings are the same, up to a sign, within [`leeway`].
#[track_caller]
pub(crate) fn same_scalars(
    found: &Readings,
    expected: &Readings,
    relative: f64,
    sign: impl Fn(Quantity) -> f64,
) {
    for quantity in Quantity::ALL {
        match (quantity.value(found), quantity.value(expected)) {
            (Some(found), Some(expected)) => {
                close(
                    quantity.name(),
                    found,
                    sign(quantity) * expected,
                    leeway(quantity, expected, relative),
                );
            }
            (None, None) => {}
            // Only where a centre is about to be called infinitely far may one of two
            // equal motions have it.
            (one, other) => {
                let value = one.or(other).unwrap_or_default().abs();
                assert!(value > 1e7, "{}: {one:?} against {other:?}", quantity.name());
            }
        }
    }
}
