//! Readings and motions against answers that general-purpose libraries gave.
//!
//! `corners.json` holds two invented corners of every layout and the states they are asked
//! at; the other files hold the answers of the scripts beside them (`README.md` tells
//! which, and `cargo xtask reference` makes them anew). No Python is needed here. What is
//! asked is what the batch program answers, and the core's twists.

mod compared;
mod forces;
mod motions;
mod readings;
