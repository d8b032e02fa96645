//! Frames of the screen, and whether the system asks for less motion.

use leptos::prelude::request_animation_frame;

use super::clock;

/// Calls once before the next frame, with the time in milliseconds.
pub fn next(call: impl FnOnce(f64) + 'static) {
    request_animation_frame(move || call(clock::milliseconds()));
}

/// Whether the system asks for less motion.
#[must_use]
pub fn reduced_motion() -> bool {
    web_sys::window()
        .and_then(|window| window.match_media("(prefers-reduced-motion: reduce)").ok().flatten())
        .is_some_and(|query| query.matches())
}
