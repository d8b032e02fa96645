//! The parts of the page, one file each.

pub mod about;
pub mod both;
pub mod car;
pub mod curves;
pub mod header;
pub mod headline;
pub mod motion;
pub mod number_input;
pub mod panel;
pub mod pivots;
pub mod readings;
pub mod sheet;
