//! The parts of the page, one file each.

pub mod about;
pub mod beside;
pub mod both;
pub mod car;
pub mod curves;
pub mod empty;
pub mod forces;
pub mod header;
pub mod headline;
pub mod link_field;
pub mod menu;
pub mod motion;
pub mod number_input;
pub mod oddities;
pub mod panel;
pub mod pivots;
pub mod plain_number;
pub mod print;
pub mod readings;
pub mod recent;
pub mod sensitivity;
pub mod sheet;
pub mod trust;
pub mod typing;
pub mod whole_car;
pub mod why;
