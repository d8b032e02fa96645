//! Fuzz target: see `properties::link`.
#![no_main]

#[path = "../properties.rs"]
mod properties;

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| properties::link(bytes));
