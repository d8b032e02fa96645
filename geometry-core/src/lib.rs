//! What a car's suspension corner does, from where its pivots are.
//!
//! One idea carries the crate: a constraint pushes along a line, the Plücker
//! coordinates of that line are its row, five rows leave the knuckle one motion,
//! and that motion is the twist which all rows annul. Instant centres, slopes,
//! roll centres, steering axes and anti-percentages are read off that twist.
//!
//! The flow is one way: a [`setup::Corner`] (plain data, anything may stand in it)
//! becomes a [`linkage::Linkage`] (checked, immutable) or an error naming the field;
//! a [`solve::Follower`] takes the linkage to any travel and rack; [`readings`]
//! names what can be read off the position reached.
//!
//! What the crate does *not* do: no input or output, no clock, no text format, no
//! browser. Inside, lengths are mm and angles radians; the setup document and the
//! [`readings`] are in the document's units (mm, degrees). Axes are those of
//! ISO 8855: x forward, y left, z up, ground at z = 0.
//!
//! ```
//! use geometry_core::{linkage::Linkage, setup::{example, Axle, Side}, solve::{Follower, Outcome, State}};
//!
//! let document = example();
//! let corner = document.corner(Axle::Front).expect("the example has a front axle");
//! let linkage = Linkage::new(corner, Side::Left).expect("the example can be assembled");
//! let mut follower = Follower::new(&linkage);
//! let Outcome::Solved(position) = follower.go_to(State { travel: 40.0, rack: 0.0 }) else { panic!() };
//! assert!((position.wheel_centre().z - 352.0).abs() < 1e-9);
//! ```
#![cfg_attr(not(feature = "std"), no_std)]

extern crate alloc;

pub mod axle;
pub mod batch;
pub mod bounds;
pub mod car;
pub mod carried;
pub mod closure;
pub mod construction;
mod elimination;
mod float;
pub mod linkage;
pub mod motion;
pub mod readings;
pub mod screw;
pub mod sensitivity;
pub mod setup;
pub mod solve;
pub mod springing;
pub mod statics;
pub mod tyre;
pub mod uncertainty;
pub mod wheel;

/// A point or a free vector in vehicle axes, mm.
pub type Vec3 = nalgebra::Vector3<f64>;
/// A rotation or any other 3 × 3 matrix.
pub type Mat3 = nalgebra::Matrix3<f64>;
