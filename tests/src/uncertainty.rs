//! What measuring leaves uncertain, in one go.

use geometry_core::{
    setup::Document,
    uncertainty::{Beside, Found, Measured, Propagation},
};

/// Of the numbers that `read` gives of a setup, and of their differences from another's.
pub fn propagated(
    own: &Document,
    other: Option<(&Document, Beside)>,
    measured: Measured,
    mut read: impl FnMut(&Document) -> Vec<Option<f64>>,
) -> Found {
    let mut propagation = Propagation::new(own, other, measured);
    while propagation.step(&mut read) {}
    propagation.found()
}
