//! What touches the browser, one file a service. Effects synchronise with the outside
//! and derive nothing.

pub mod address;
pub mod clipboard;
pub mod clock;
pub mod drawn;
pub mod files;
pub mod focus;
pub mod frames;
pub mod live;
pub mod pointer;
pub mod press;
pub mod sight;
pub mod size;
pub mod storage;
