//! Time, for telling one gesture from the next.

/// Milliseconds on a clock that never goes back; zero outside a browser.
#[must_use]
pub fn milliseconds() -> f64 {
    web_sys::window().and_then(|window| window.performance()).map_or(0.0, |clock| clock.now())
}
