//! The work that `cargo xtask bench` measures, natively and in the page's WebAssembly.

use geometry_core::{
    linkage::Linkage,
    motion::Sweep,
    readings::Reader,
    setup::{self, Axle, Side},
    solve::State,
};

/// What is repeated.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Work {
    /// Pose and motions of each position.
    Solve,
    /// The same with all readings.
    Readings,
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
    for repetition in 0..repetitions {
        // Another start each time: the same sweep again could be remembered.
        let shift = f64::from(repetition % 7) * 0.001;
        let sweep = Sweep {
            from: State { travel: -80.0 + shift, rack: 0.0 },
            to: State { travel: 80.0 + shift, rack: 0.0 },
            positions: BENCH_POSITIONS,
        };
        sweep.run(&linkage, |_, position| match work {
            Work::Solve => sum += position.wheel_centre().y,
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

/// Positions of one sweep of [`run_sweeps`].
pub const BENCH_POSITIONS: usize = 161;
