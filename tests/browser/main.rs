//! The built page in a real browser, opened as a file, as people do.

mod choosing;
mod core;
mod drawing;
mod fields;
mod geometry;
mod keeping;
mod numbers;
mod opening;
mod page;
mod parts;
mod pivots;
mod sharing;
