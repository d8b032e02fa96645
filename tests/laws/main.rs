//! Laws that hold for every corner, checked on corners drawn at random.
//!
//! A law needs no published number: it says what two computations by different ways must
//! agree on. Corners of eight layouts are drawn from a fixed seed, so a failure is the same
//! on every machine. `CORNERWISE_CASES=20` runs every law twenty times as long,
//! `CORNERWISE_SEED=7` draws other corners.

mod adjustments;
mod algebra;
mod answers;
mod apart;
mod axle;
mod batch;
mod car;
mod carried;
mod checking;
mod closure;
mod construction;
mod copies;
mod corners;
mod derivatives;
mod errors;
mod forces;
mod fuzzed;
mod hostile;
mod limits;
mod load_cases;
mod members;
mod robustness;
mod sensitivity;
mod springing;
mod statics;
mod steering_axis;
mod symmetry;
mod uncertainty;
mod wheel;
