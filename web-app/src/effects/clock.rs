//! Time: for telling one gesture from the next, and for saying when something was.

use crate::numbers::Moment;

/// Milliseconds on a clock that never goes back; zero outside a browser.
#[must_use]
pub fn milliseconds() -> f64 {
    web_sys::window().and_then(|window| window.performance()).map_or(0.0, |clock| clock.now())
}

/// Milliseconds since the beginning of 1970, as the device's clock has it.
#[must_use]
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "after 1970, before the year 287396"
)]
pub fn since_1970() -> u64 {
    js_sys::Date::now().max(0.0) as u64
}

/// A time in the device's own time zone.
#[must_use]
#[expect(clippy::cast_precision_loss, reason = "exact up to the year 287396")]
pub fn local(since_1970: u64) -> Moment {
    let date = js_sys::Date::new(&(since_1970 as f64).into());
    Moment {
        year: date.get_full_year(),
        month: date.get_month() + 1,
        day: date.get_date(),
        hour: date.get_hours(),
        minute: date.get_minutes(),
    }
}
