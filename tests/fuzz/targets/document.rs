//! Fuzz target: see `properties::document`.
#![no_main]

#[path = "../properties.rs"]
mod properties;

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| properties::document(bytes));
