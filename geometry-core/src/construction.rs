//! How a reading is found: the lines, planes and points that a textbook would draw for it.
//!
//! A [`Construction`] is made of shapes in vehicle axes with a [`Role`] each, for a page to
//! draw and to name; beside them stand the exact value, read off the knuckle's motion, and
//! where there is one the value that the textbook's [`Shortcut`] gives.
//!
//! The shortcut reads a corner as two *holds* and a single link ([`Scheme`]). A hold is an
//! arm, a strut or two links that end near each other: a joint and a plane, so one mechanism
//! serves every layout.
//!
//! | shortcut | exact when |
//! |---|---|
//! | instant axis: where the holds' planes cut each other | the single link's line meets it, and the lines of each pair of links meet |
//! | front- and side-view centre: where the holds' lines in that view's plane through the wheel centre cross | the same |
//! | slopes, roll centre, anti: lines from contact or hub to those centres | the same, and the contact stands in that plane: no camber, no toe |
//! | steering axis: the line through both joints | the spring keeps a joint at rest, and the lines of each pair meet |
//!
//! ```
//! use geometry_core::{
//!     construction::{Construction, Role, Shape},
//!     linkage::Linkage,
//!     readings::{Quantity, Reader},
//!     setup::{example, Axle, Side},
//!     solve::Follower,
//! };
//!
//! let document = example();
//! let corner = document.corner(Axle::Front).expect("the example has a front axle");
//! let linkage = Linkage::new(corner, Side::Left).expect("the example can be assembled");
//! let position = *Follower::new(&linkage).position();
//! let readings = Reader::new(&linkage, &document.vehicle, Axle::Front).read(&position);
//!
//! let scrub = Construction::of(Quantity::ScrubRadius, corner, &linkage, &position, &readings)
//!     .expect("a link steers");
//! // Two lower links make a virtual pivot outboard of their joints.
//! let pivot = scrub.elements.iter().find(|e| e.role == Role::VirtualPivot).expect("a pair of links");
//! let Shape::Point([_, y, _]) = pivot.shape else { panic!() };
//! assert!(y > 715.0);
//! // The axis through pivot and ball joint misses the exact one by some millimetres.
//! let shortcut = scrub.shortcut.expect("an arm and two links");
//! assert_eq!(scrub.value, readings.steering.expect("a link steers").scrub_radius);
//! assert!(shortcut.difference != 0.0 && shortcut.difference.abs() < 20.0);
//! ```

mod element;
mod geometry;
mod holds;
mod lengths;
mod motion;
mod sheet;
mod steering;
mod wheel;

pub use element::{Basis, Element, Member, Role, Shape};
pub use geometry::{Crossing, Nearest, Plane, Straight, View};
pub use holds::{Hold, Kind, Scheme, SingleLink, VirtualPivot};
pub use steering::pivot_offset;

use alloc::vec::Vec;

use crate::{
    linkage::Linkage,
    readings::{Quantity, Readings},
    setup::Corner,
    solve::Position,
};
use motion::From;
use sheet::{Case, Sheet};

/// What finds one reading in one position.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Construction {
    /// The reading.
    #[cfg_attr(feature = "serde", serde(serialize_with = "crate::readings::quantity::as_name"))]
    pub quantity: Quantity,
    /// What to draw, in order.
    pub elements: Vec<Element>,
    /// Its exact value, as in the readings, in its unit.
    pub value: f64,
    /// The textbook's way to it; `None` where it has none, or the corner has no such order.
    pub shortcut: Option<Shortcut>,
}

/// The textbook's way to a reading.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Shortcut {
    /// What it takes for granted.
    pub method: Method,
    /// What it gives, in the reading's unit.
    pub value: f64,
    /// Shortcut less exact value.
    pub difference: f64,
}

/// How a shortcut works.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "snake_case"))]
pub enum Method {
    /// The planes of both holds cut each other in the axis that the knuckle turns about as
    /// the wheel travels; the single link is left out of account.
    HoldPlanes,
    /// The line through the hinge's pivots is that axis.
    HingeAxis,
    /// Camber changes by the travel over the front-view swing arm.
    SwingArm,
    /// The line through both holds' joints is the steering axis; nothing advances along it.
    JointLine,
    /// The angle seen from the front, as a gauge square to the car shows it.
    SeenFromFront,
    /// The spring's lever over the joint's, times the joint's motion about the instant axis.
    Levers,
}

impl Construction {
    /// The construction of a quantity. `corner`, `linkage`, `position` and `readings` must
    /// belong together.
    ///
    /// `None` where the reading itself does not exist: nothing steers, a centre is at
    /// infinity, the vehicle's data are missing. Every quantity that exists has one. There is
    /// no shortcut to toe, to the shifts of contact and hub, and to a length: their
    /// construction is the thing itself.
    #[must_use]
    pub fn of(
        quantity: Quantity,
        corner: &Corner,
        linkage: &Linkage,
        position: &Position,
        readings: &Readings,
    ) -> Option<Self> {
        let value = quantity.value(readings).filter(|value| value.is_finite())?;
        let case = Case::new(corner, linkage, position, readings);
        let mut sheet = Sheet::default();
        let found = draw(&mut sheet, &case, quantity, value);
        let shortcut = found.filter(|(_, found)| found.is_finite()).map(|(method, found)| Shortcut {
            method,
            value: found,
            difference: found - value,
        });
        Some(Self { quantity, elements: sheet.elements, value, shortcut })
    }

    /// Elements of a role and a basis.
    pub fn having(&self, role: Role, basis: Basis) -> impl Iterator<Item = &Element> {
        self.elements.iter().filter(move |element| element.role == role && element.basis == basis)
    }
}

/// Draws a quantity and gives its shortcut.
fn draw(sheet: &mut Sheet, case: &Case<'_>, quantity: Quantity, value: f64) -> Option<(Method, f64)> {
    match quantity {
        Quantity::Camber => wheel::camber(sheet, case, value),
        Quantity::Toe => {
            wheel::toe(sheet, case, value);
            None
        }
        Quantity::CamberGain => motion::camber_gain(sheet, case),
        Quantity::BumpSteer => motion::bump_steer(sheet, case),
        Quantity::HalfTrackChange => {
            wheel::half_track_change(sheet, case, value);
            None
        }
        Quantity::WheelbaseChange => {
            wheel::wheelbase_change(sheet, case, value);
            None
        }
        Quantity::RollCentreHeight => motion::roll_centre(sheet, case, value),
        Quantity::FrontViewSwingArm => motion::swing_arm(sheet, case, View::Front),
        Quantity::SideViewSwingArm => motion::swing_arm(sheet, case, View::Side),
        Quantity::ContactSlopeX => motion::slope(sheet, case, View::Side, From::Contact),
        Quantity::ContactSlopeY => motion::slope(sheet, case, View::Front, From::Contact),
        Quantity::HubSlopeX => motion::slope(sheet, case, View::Side, From::Hub),
        Quantity::KingpinInclination
        | Quantity::Caster
        | Quantity::ScrubRadius
        | Quantity::MechanicalTrail
        | Quantity::HubOffset
        | Quantity::HubTrail
        | Quantity::ScrewPitch => steering::axes(sheet, case, quantity),
        Quantity::SpringLength | Quantity::SpringMotionRatio => {
            let spring = case.place.corner.spring.as_ref()?;
            let length = case.place.linkage.spring_at(case.place.position)?;
            if quantity == Quantity::SpringLength {
                lengths::length(sheet, Member::Spring, &length);
                return None;
            }
            lengths::ratio(sheet, case, (Member::Spring, &spring.on), &length)
        }
        Quantity::DamperLength | Quantity::DamperMotionRatio => {
            let damper = case.place.corner.damper.as_ref()?;
            let length = case.place.linkage.damper_at(case.place.position)?;
            if quantity == Quantity::DamperLength {
                lengths::length(sheet, Member::Damper, &length);
                return None;
            }
            lengths::ratio(sheet, case, (Member::Damper, &damper.on), &length)
        }
        Quantity::AntiBrakingFriction
        | Quantity::AntiBrakingShaft
        | Quantity::AntiDrivingShaft
        | Quantity::AntiDrivingHub => {
            let (from, value) = motion::anti_of(quantity, case.readings)?;
            motion::anti(sheet, case, from, value)
        }
    }
}
