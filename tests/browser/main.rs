//! The built page in a real browser, opened as a file, as people do.

mod access;
mod beside;
mod choosing;
mod core;
mod curves;
mod drawing;
mod fields;
mod forces;
mod geometry;
mod keeping;
mod motion;
mod numbers;
mod oddities;
mod opening;
mod page;
mod parts;
mod pinning;
mod pivots;
mod printing;
mod recent;
mod sensitivity;
mod sharing;
mod sides;
mod trust;
mod units;
mod whole_car;
