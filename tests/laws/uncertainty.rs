//! What measuring leaves uncertain of a reading, against corners measured anew at random.

use geometry_core::{
    readings::Quantity,
    sensitivity::{Kind, Measured, Parameter},
    setup::{Corner, Side, example},
    solve::State,
};

use crate::{
    checking::{close, linkage, read, solved},
    corners::{ALL, Layout, plain},
    sensitivity::{sensitivity, shifted},
};

/// Random signs (`SplitMix64`: Steele, Lea, Flood, Proc. OOPSLA 2014, p. 453, constants from memory).
struct Signs(u64);

impl Signs {
    fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let z = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        let z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        if (z ^ (z >> 31)) >> 63 == 0 { 1.0 } else { -1.0 }
    }
}

/// Thousands of corners, each measured off by as much in every number, spread as is said of one: the
/// propagation of distributions (JCGM 101:2008) against that of uncertainties (JCGM 100:2008).
#[test]
fn an_uncertainty_is_how_corners_measured_anew_spread() {
    const SAMPLES: u32 = 4000;
    // Small, so that every reading is straight over it.
    let measured = Measured { length: 0.02, angle: 0.002 };
    let mut corners: Vec<(Corner, State)> =
        ALL.map(|layout| (plain(layout), State { travel: 12.0, rack: 0.0 })).into();
    corners.push((example().front.expect("a front"), State { travel: -20.0, rack: 3.0 }));
    let mut compared = 0;
    for (corner, state) in corners {
        let found = sensitivity(&corner, state);
        let inputs: Vec<Parameter> =
            found.parameters().filter(|parameter| parameter.kind() == Kind::Redrawn).collect();
        let mut signs = Signs(20);
        let mut sums = vec![[0.0; 2]; Quantity::ALL.len()];
        for _ in 0..SAMPLES {
            let mut anew = corner.clone();
            for input in &inputs {
                let sign = signs.next();
                match *input {
                    Parameter::Camber => anew.wheel.camber += sign * measured.angle,
                    Parameter::Toe => anew.wheel.toe += sign * measured.angle,
                    Parameter::LoadedRadius => anew.wheel.loaded_radius += sign * measured.length,
                    input => anew = shifted(&anew, input, sign * measured.length),
                }
            }
            let linkage = linkage(&anew, Side::Left);
            let readings = read(&linkage, &solved(&linkage, state));
            for (quantity, sums) in Quantity::ALL.iter().zip(&mut sums) {
                if let (Some(value), Some(middle)) = (quantity.value(&readings), found.value(*quantity)) {
                    sums[0] += value - middle;
                    sums[1] += (value - middle) * (value - middle);
                }
            }
        }
        for (quantity, [sum, squares]) in Quantity::ALL.iter().zip(sums) {
            let Some(said) = found.uncertainty(*quantity, measured) else { continue };
            let count = f64::from(SAMPLES);
            let spread = ((squares - sum * sum / count) / (count - 1.0)).sqrt();
            // A spread of so many samples is good to one part in √(2 · 4000), 1.1 %: five times that, and
            // what rounding leaves of a reading that nothing moves.
            close(quantity.name(), said, spread, 0.055 * spread + 1e-9);
            compared += 1;
        }
    }
    assert!(compared > 120, "{compared}");
}

/// Twice as uncertain inputs, twice as uncertain readings; camber at rest is as good as it was measured.
#[test]
fn an_uncertainty_grows_with_its_inputs() {
    let found = sensitivity(&plain(Layout::TwoArms), State::DESIGN);
    let of =
        |quantity, length, angle| found.uncertainty(quantity, Measured { length, angle }).expect("it exists");
    for quantity in Quantity::ALL {
        let Some(both) = found.uncertainty(quantity, Measured { length: 2.0, angle: 0.2 }) else { continue };
        close(quantity.name(), both, 2.0 * of(quantity, 1.0, 0.1), 1e-12 * both);
        let (lengths, angles) = (of(quantity, 2.0, 0.0), of(quantity, 0.0, 0.2));
        close(quantity.name(), both, lengths.hypot(angles), 1e-12 * both);
    }
    close("camber", of(Quantity::Camber, 3.0, 0.1), 0.1, 1e-12);
    assert_eq!(of(Quantity::Caster, 0.0, 0.0), 0.0);
}
