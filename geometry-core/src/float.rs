//! The only door to `std` and `libm`.
//!
//! Square roots are rounded correctly everywhere, so the fastest one serves.
//! Trigonometry differs in its last bits between systems, so it always comes from
//! `libm`: the same numbers natively and in a browser.

#[cfg(feature = "std")]
#[inline]
pub(crate) fn sqrt(x: f64) -> f64 {
    x.sqrt()
}
#[cfg(not(feature = "std"))]
#[inline]
pub(crate) fn sqrt(x: f64) -> f64 {
    libm::sqrt(x)
}

pub(crate) use libm::{asin, atan2, cos, floor, round, sin};

/// Length of a vector; nalgebra's own would leave by another door.
#[inline]
pub(crate) fn norm(v: &crate::Vec3) -> f64 {
    sqrt(v.norm_squared())
}
