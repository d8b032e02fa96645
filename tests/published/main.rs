//! Cases from textbooks, published hardpoint sets and published relations, answered by the
//! core's public functions.
//!
//! Beside each case stands where it is from and how it was obtained: page text seen,
//! from memory, or computed only (published inputs whose outputs were computed for this
//! project by other means). `README.md` beside this file is the table of them all.

mod anti;
mod car;
mod four_bar;
mod hardpoints;
mod loads;
mod plane;
mod screws;
mod springing;
mod steering;
mod support;
mod turning;
mod tyres;
