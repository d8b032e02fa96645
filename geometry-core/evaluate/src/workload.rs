//! The work that `cargo xtask bench` measures, natively and in the page's WebAssembly.

#[cfg(not(target_family = "wasm"))]
pub mod reference;

use geometry_core::{
    batch::Batch,
    linkage::Linkage,
    motion::Sweep,
    readings::Reader,
    setup::{self, Axle, Corner, Side},
    solve::State,
};

/// What is repeated.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Work {
    /// Pose and motions of each position.
    Solve,
    /// The same with all readings.
    Readings,
    /// Pose and travel motion of each position of [`BENCH_CORNERS`] corners abreast.
    Batch,
    /// Pose and travel motion by the plain method of the module `reference`, natively alone.
    Reference,
}

impl Work {
    /// All of them, in the order of their numbers.
    pub const ALL: [Self; 4] = [Self::Solve, Self::Readings, Self::Batch, Self::Reference];

    /// How many positions one repetition computes.
    #[must_use]
    pub const fn positions(self) -> usize {
        match self {
            Self::Batch => BENCH_POSITIONS * BENCH_CORNERS,
            _ => BENCH_POSITIONS,
        }
    }
}

/// Runs the example's front corner through 161 positions of 1 mm, so many times over;
/// gives a sum of what came out, so that nothing can be left out by a compiler.
#[must_use]
pub fn run_sweeps(work: Work, repetitions: u32) -> f64 {
    let document = setup::example();
    let Some(Ok(linkage)) = document.corner(Axle::Front).map(|corner| Linkage::new(corner, Side::Left))
    else {
        return f64::NAN;
    };
    let reader = Reader::new(&linkage, &document.vehicle, Axle::Front);
    let mut sum = 0.0;
    if work == Work::Batch {
        let corners = vec![linkage; BENCH_CORNERS];
        for repetition in 0..repetitions {
            sum += wide(
                #[inline(always)]
                || sum_of_batch(&corners, &sweep(repetition)),
            );
        }
        return sum;
    }
    if work == Work::Reference {
        return document
            .corner(Axle::Front)
            .map_or(f64::NAN, |corner| sum_of_references(corner, repetitions));
    }
    for repetition in 0..repetitions {
        sweep(repetition).run(&linkage, |_, position| match work {
            Work::Solve | Work::Batch | Work::Reference => sum += position.wheel_centre().y,
            Work::Readings => {
                let readings = reader.read(position);
                sum += readings.camber + readings.toe + readings.hub_slope_x;
                sum += readings.roll_centre_height.unwrap_or_default();
                sum += readings.steering.map_or(0.0, |s| s.caster + s.scrub_radius);
                sum += readings.spring.map_or(0.0, |s| s.motion_ratio);
                sum += readings.anti.braking_friction.unwrap_or_default();
            }
        });
    }
    sum
}

/// Another start each time: the same sweep again could be remembered.
fn sweep(repetition: u32) -> Sweep {
    let shift = f64::from(repetition % 7) * 0.001;
    Sweep {
        from: State { travel: -80.0 + shift, rack: 0.0 },
        to: State { travel: 80.0 + shift, rack: 0.0 },
        positions: BENCH_POSITIONS,
    }
}

#[inline(always)]
fn sum_of_batch(corners: &[Linkage], sweep: &Sweep) -> f64 {
    let mut sum = 0.0;
    Batch::new(corners).run(sweep, |_, _, found| {
        sum += found.map_or(f64::NAN, |found| found.wheel_centre().y);
    });
    sum
}

/// The plain method is a yardstick for native code and no part of the page.
#[cfg(target_family = "wasm")]
fn sum_of_references(_: &Corner, _: u32) -> f64 {
    f64::NAN
}

/// Outward from the middle, as the core's sweeps go.
#[cfg(not(target_family = "wasm"))]
fn sum_of_references(corner: &Corner, repetitions: u32) -> f64 {
    let Some(mut reference) = reference::Reference::new(corner) else { return f64::NAN };
    let mut sum = 0.0;
    for repetition in 0..repetitions {
        let sweep = sweep(repetition);
        let middle = sweep.nearest_to_design().unwrap_or_default();
        let mut visit = |index: usize| {
            let solved = reference.go_to(sweep.state(index).travel);
            sum += if solved { reference.wheel_centre()[1] } else { f64::NAN };
        };
        (middle..sweep.positions).for_each(&mut visit);
        (0..middle).rev().for_each(&mut visit);
    }
    sum
}

/// Does a work with the widest instructions that this machine has.
#[cfg(not(target_family = "wasm"))]
#[inline(always)]
fn wide<R>(work: impl FnOnce() -> R) -> R {
    pulp::Arch::new().dispatch(work)
}

/// WebAssembly has one width.
#[cfg(target_family = "wasm")]
#[inline(always)]
fn wide<R>(work: impl FnOnce() -> R) -> R {
    work()
}

/// Corners of one batch of [`run_sweeps`].
pub const BENCH_CORNERS: usize = geometry_core::batch::LANES;

/// Positions of one sweep of [`run_sweeps`].
pub const BENCH_POSITIONS: usize = 161;
