//! A request of fixed states, answered natively and in a browser to be compared.

use geometry_core::setup::{Axle, example};
use serde_json::{Value, json};

/// The demonstration setup at sixty-two states of both axles, as the JSON request of the
/// batch program: the front over travel and rack, the rear over travel, some numbers that
/// no decimal fraction of a millimetre hits, and one state beyond each axle's end. Its answer
/// must be the same text on every target.
#[must_use]
pub fn fixed_states() -> String {
    let state = |axle: Axle, travel: f64, rack: f64| json!({"axle": axle, "travel": travel, "rack": rack});
    let mut states: Vec<Value> = Vec::new();
    for travel in -5..=5 {
        for rack in [-24.0, 0.0, 17.5] {
            states.push(state(Axle::Front, 12.0 * f64::from(travel), rack));
        }
    }
    states.extend((-10..=10).map(|travel| state(Axle::Rear, 7.0 * f64::from(travel), 0.0)));
    for (travel, rack) in [(1e-6, 0.0), (0.1, -0.1), (100.0 / 3.0, 1e-9), (-1e-9, 20.0 / 7.0)] {
        states.push(state(Axle::Front, travel, rack));
    }
    states.push(state(Axle::Rear, 1.0 / 3.0, 0.0));
    states.push(state(Axle::Rear, -1e-6, 5.0));
    states.push(state(Axle::Front, 900.0, 0.0));
    states.push(state(Axle::Rear, -900.0, 0.0));
    json!({"setup": example(), "states": states}).to_string()
}
