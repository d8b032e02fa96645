//! Both wheels of an axle on the ground, under a body that drops, leans and steers.
//!
//! Each wheel is solved as a left corner in its own frame: for the right one that is the
//! mirror image of the right corner, which for a symmetric car is the left corner itself. A
//! rack moves both inboard ends the same way across the car, so in the mirror image it moves
//! the other way; so does the lean. Everything told of the right wheel comes from that frame.
//!
//! The body leans about x. Seen from the body, the ground is then a tilted plane, and each
//! wheel's travel is the one that brings its disc (the loaded radius about the spin axis,
//! held) down to it. What the body's height does while it leans is a choice, [`Lean`]:
//!
//! - [`Lean::HeaveHeld`]: the body's point on the centre plane at ground level keeps its height;
//! - [`Lean::RollCentre`]: the body turns about the roll centre, wherever that has moved to:
//!   d(height)/d(roll) is the roll centre's distance to the right of the centre plane,
//!   integrated from the level body. In a corner that moves in one cross-section this is
//!   the motion in which both contacts stay where they are on the ground.
//!
//! The roll centre is where the two lines meet that pass, in the front view, through each
//! contact square to the way the contact moves against the body. Away from symmetry it has
//! a place across the car as well as a height (Dixon, *Suspension Geometry and Computation*,
//! Wiley 2009, ch. 8; Milliken & Milliken, *Race Car Vehicle Dynamics*, SAE 1995, 17.4; both
//! from memory).
//!
//! ```
//! use geometry_core::{axle::{AxleFollower, AxleReader, AxleState, Lean, WheelPair}, setup::{example, Axle}};
//!
//! let document = example();
//! let pair = WheelPair::of(&document, Axle::Front).expect("it can be assembled").expect("it is described");
//! let reader = AxleReader::new(&pair, &document.vehicle);
//! let mut follower = AxleFollower::new(&pair);
//! // Two degrees to the right, as in a bend to the left.
//! let state = AxleState { heave: 0.0, roll: 2.0, rack: 0.0 };
//! let position = follower.go_to(state, Lean::RollCentre).expect("it leans that far");
//! let readings = reader.read(&position);
//! // The right wheel has risen into the body, the left one has dropped.
//! assert!(readings.right.travel > 20.0 && readings.left.travel < -20.0);
//! assert!(readings.roll_centre.is_some());
//! ```

mod ground;
mod read;
mod stop;
mod sweep;
pub mod turning;

pub use read::{AxleReader, AxleReadings, RollCentre, WheelReadings};
pub use stop::{AxleStop, LinkageEnd};
pub use sweep::{AxleGrid, AxleReach, AxleSweep};
pub use turning::Turning;

use core::f64::consts::PI;

use crate::{
    bounds::{
        self, GROUND_REACHED, HEAVE_STEP_ERROR, LEAST_CONTACT_RISE, LONGEST_CONTACT_STEP, ROLL_CENTRE_AWAY,
        ROLL_STEP,
    },
    float::{cos, floor, sin},
    linkage::{InCorner, Linkage, LinkageError},
    setup::{self, Corner, Document, RACK_DIRECTION, Side},
    solve::{Follower, Outcome, Position, State},
    tyre,
};

use ground::{Ground, Touch, lines_meet};

const DEGREES: f64 = 180.0 / PI;

/// The two wheels of an axle as linkages.
#[derive(Debug, Clone, PartialEq)]
pub struct WheelPair {
    axle: setup::Axle,
    left: Linkage,
    /// The mirror image of the right corner; `None` where that is the left corner.
    right: Option<Linkage>,
    /// Height of each contact in the design position, mm: the ground under that wheel.
    ground: [f64; 2],
    /// Distance between the contacts in the design position, mm.
    track: f64,
    /// x of the wheel centres in the design position, mm: their mean.
    centre_x: f64,
    rack_travel: Option<f64>,
    tyre_widths: [Option<f64>; 2],
}

impl WheelPair {
    /// From the left corner and, where it is not the left one's mirror image, the right one
    /// with its points on the right (y below zero). Only the line of the right corner's
    /// rack direction counts: a rack moves both ends the same way across the car.
    ///
    /// # Errors
    /// What keeps either corner from being one, said within `front`, `front_right`, and so on.
    pub fn new(axle: setup::Axle, left: &Corner, right: Option<&Corner>) -> Result<Self, InCorner> {
        let within = |name: &'static str| move |error: LinkageError| error.within(name);
        let linkage = Linkage::new(left, Side::Left).map_err(within(axle.name()))?;
        let mirrored = right.map(|right| as_left(left, right));
        let other = mirrored
            .as_ref()
            .map(|corner| Linkage::new(corner, Side::Left).map_err(within(axle.right_name())))
            .transpose()?;
        let level = Ground::new(0.0);
        let [first, second] = [&linkage, other.as_ref().unwrap_or(&linkage)]
            .map(|linkage| level.touch(linkage, Follower::new(linkage).position()).contact);
        let width = |corner: &Corner| {
            corner.wheel.tyre.as_deref().and_then(tyre::Size::read).map(|size| size.section_width)
        };
        let right = right.unwrap_or(left);
        let lock = match (left.rack_travel, right.rack_travel) {
            (Some(one), Some(other)) => Some(one.min(other)),
            (one, other) => one.or(other),
        };
        Ok(Self {
            axle,
            ground: [first.z, second.z],
            track: first.y + second.y,
            centre_x: 0.5 * (left.wheel.centre[0] + right.wheel.centre[0]),
            rack_travel: lock,
            tyre_widths: [width(left), width(right)],
            left: linkage,
            right: other,
        })
    }

    /// The pair of an axle of a document; `None` where the document does not describe it.
    ///
    /// # Errors
    /// As [`WheelPair::new`].
    pub fn of(document: &Document, axle: setup::Axle) -> Result<Option<Self>, InCorner> {
        document.corner(axle).map(|left| Self::new(axle, left, document.right_corner(axle))).transpose()
    }

    /// Which axle it is.
    #[must_use]
    pub fn axle(&self) -> setup::Axle {
        self.axle
    }

    /// The linkage of a side, as a left corner; the right one's is its mirror image.
    #[must_use]
    pub fn linkage(&self, side: Side) -> &Linkage {
        match side {
            Side::Left => &self.left,
            Side::Right => self.right.as_ref().unwrap_or(&self.left),
        }
    }

    /// Whether the right corner is the left one's mirror image because none is described.
    #[must_use]
    pub fn is_symmetric(&self) -> bool {
        self.right.is_none()
    }

    /// Whether the rack moves a wheel.
    #[must_use]
    pub fn steers(&self) -> bool {
        self.left.steers() || self.linkage(Side::Right).steers()
    }

    /// How far the rack moves to either lock, mm, where the document says so.
    #[must_use]
    pub fn rack_travel(&self) -> Option<f64> {
        self.rack_travel
    }

    /// Distance between the contacts in the design position, mm.
    #[must_use]
    pub fn design_track(&self) -> f64 {
        self.track
    }
}

/// The right corner seen in the mirror, with the rack direction of which the negative rack
/// moves it as the rack moves the right wheel: the corner that [`WheelPair::linkage`] of the
/// right side is made of, where the right corner is not the left one's mirror image.
#[must_use]
pub fn as_left(left: &Corner, right: &Corner) -> Corner {
    let mut mirror = right.mirrored();
    let [x, y, z] = right.rack_direction.unwrap_or(RACK_DIRECTION);
    let [_, left_y, _] = left.rack_direction.unwrap_or(RACK_DIRECTION);
    // The image of the direction, reversed; said the other way round where it was described
    // against the left one's.
    mirror.rack_direction = Some(if y * left_y < 0.0 { [x, -y, z] } else { [-x, y, -z] });
    mirror
}

/// How the body stands over the axle.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct AxleState {
    /// How far the body has dropped, mm, measured at its centre plane at the ground's level:
    /// positive is bump on both wheels, as for travel. When the body leans about the roll
    /// centre: before it leans.
    pub heave: f64,
    /// How far the body leans, °, right-handed about x (forward): + leans to the right, its
    /// left side rises, as in a bend to the left (ISO 8855 vehicle roll angle).
    pub roll: f64,
    /// Displacement of the rack, mm, as in [`State`], + moves the left corner's way.
    pub rack: f64,
}

impl AxleState {
    /// The state as described by the document.
    pub const DESIGN: Self = Self { heave: 0.0, roll: 0.0, rack: 0.0 };
}

/// What the body's height does while it leans.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(rename_all = "snake_case"))]
pub enum Lean {
    /// The heave stays as given.
    #[default]
    HeaveHeld,
    /// The body turns about the roll centre as it moves, from the level body at the heave given.
    RollCentre,
}

/// Both wheels of an axle in one state.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AxlePosition {
    state: AxleState,
    lean: Lean,
    heave: f64,
    left: Position,
    right: Position,
}

impl AxlePosition {
    /// The state this position answers.
    #[must_use]
    pub fn state(&self) -> AxleState {
        self.state
    }

    /// How the body came to lean.
    #[must_use]
    pub fn lean(&self) -> Lean {
        self.lean
    }

    /// How far the body has dropped, mm; not the state's heave where it leaned about the
    /// roll centre.
    #[must_use]
    pub fn heave(&self) -> f64 {
        self.heave
    }

    /// A wheel's position as a left corner's; the right one's in the mirror.
    #[must_use]
    pub fn wheel(&self, side: Side) -> &Position {
        match side {
            Side::Left => &self.left,
            Side::Right => &self.right,
        }
    }
}

/// How far the body has been leant about the roll centre, so that going on need not begin
/// again: the heave at a whole number of steps.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Knot {
    heave_at_level: f64,
    rack: f64,
    /// Steps from the level body, and which way.
    steps: u32,
    step: f64,
    heave: f64,
}

/// Follows both wheels of an axle from state to state.
#[derive(Debug, Clone)]
pub struct AxleFollower<'a> {
    pair: &'a WheelPair,
    left: Follower<'a>,
    right: Follower<'a>,
    knot: Option<Knot>,
}

impl<'a> AxleFollower<'a> {
    /// Stands at the design position.
    #[must_use]
    pub fn new(pair: &'a WheelPair) -> Self {
        let follower = |side| Follower::new(pair.linkage(side));
        Self { pair, left: follower(Side::Left), right: follower(Side::Right), knot: None }
    }

    /// Back to the design position.
    pub fn restart(&mut self) {
        *self = Self::new(self.pair);
    }

    /// Brings both wheels to the ground under a body in this state.
    ///
    /// Leaning about the roll centre is integrated in fixed steps from the level body
    /// (Runge and Kutta's method of fourth order, [`bounds::ROLL_STEP`], halved where it bends), so the answer does not
    /// depend on the way there.
    ///
    /// # Errors
    /// A number out of its range ([`bounds::TRAVEL`], [`bounds::ROLL`], [`bounds::RACK`]), or where
    /// and why it stopped.
    pub fn go_to(&mut self, state: AxleState, lean: Lean) -> Result<AxlePosition, AxleStop> {
        bounds::TRAVEL.check("heave", state.heave)?;
        bounds::ROLL.check("roll", state.roll)?;
        bounds::RACK.check("rack", state.rack)?;
        let roll = state.roll / DEGREES;
        let heave = match lean {
            Lean::HeaveHeld => state.heave,
            Lean::RollCentre => self.lean_to(state.heave, roll, state.rack)?,
        };
        self.settle(heave, roll, state.rack)?;
        Ok(AxlePosition { state, lean, heave, left: *self.left.position(), right: *self.right.position() })
    }

    /// The heave at which the body has leant to `roll` rad about the roll centre.
    fn lean_to(&mut self, heave_at_level: f64, roll: f64, rack: f64) -> Result<f64, AxleStop> {
        let step = if roll < 0.0 { -ROLL_STEP } else { ROLL_STEP };
        let whole = floor(roll / step);
        let mut knot = match self.knot {
            Some(knot)
                if knot.heave_at_level == heave_at_level
                    && knot.rack == rack
                    && knot.step == step
                    && f64::from(knot.steps) <= whole =>
            {
                knot
            }
            _ => Knot { heave_at_level, rack, steps: 0, step, heave: heave_at_level },
        };
        while f64::from(knot.steps) < whole {
            knot.heave = self.step(f64::from(knot.steps) * step, step, knot.heave, rack, MOST_HALVINGS)?;
            knot.steps += 1;
            self.knot = Some(knot);
        }
        let from = f64::from(knot.steps) * step;
        if roll == from {
            Ok(knot.heave)
        } else {
            self.step(from, roll - from, knot.heave, rack, MOST_HALVINGS)
        }
    }

    /// One step and the same in two halves, each halved again until they agree; what is left is
    /// a fifteenth of their difference, and taken off (Richardson).
    fn step(&mut self, roll: f64, step: f64, heave: f64, rack: f64, halvings: u32) -> Result<f64, AxleStop> {
        let half = 0.5 * step;
        let whole = self.runge_kutta(roll, step, heave, rack)?;
        let middle = self.runge_kutta(roll, half, heave, rack)?;
        let end = self.runge_kutta(roll + half, half, middle, rack)?;
        let difference = end - whole;
        if difference.abs() <= HEAVE_STEP_ERROR {
            return Ok(end + difference / 15.0);
        }
        if halvings == 0 {
            return Err(AxleStop::RollCentreAway { across: None, at: said(heave, roll, rack) });
        }
        let middle = self.step(roll, half, heave, rack, halvings - 1)?;
        self.step(roll + half, half, middle, rack, halvings - 1)
    }

    fn runge_kutta(&mut self, roll: f64, step: f64, heave: f64, rack: f64) -> Result<f64, AxleStop> {
        let half = 0.5 * step;
        let first = self.heave_rate(roll, heave, rack)?;
        let second = self.heave_rate(roll + half, heave + half * first, rack)?;
        let third = self.heave_rate(roll + half, heave + half * second, rack)?;
        let fourth = self.heave_rate(roll + step, heave + step * third, rack)?;
        Ok(heave + step / 6.0 * (first + 2.0 * (second + third) + fourth))
    }

    /// mm of heave per rad of roll about the roll centre: how far it stands to the left, along
    /// the ground, of the body's point on the centre plane at ground level.
    fn heave_rate(&mut self, roll: f64, heave: f64, rack: f64) -> Result<f64, AxleStop> {
        let [left, right] = self.settle(heave, roll, rack)?;
        let across = lines_meet(&left, &right).map(|[y, z]| y * cos(roll) - z * sin(roll));
        match across {
            Some(across) if across.abs() <= ROLL_CENTRE_AWAY => Ok(across),
            _ => Err(AxleStop::RollCentreAway { across, at: said(heave, roll, rack) }),
        }
    }

    /// Both wheels on the ground, the roll in rad.
    fn settle(&mut self, heave: f64, roll: f64, rack: f64) -> Result<[Touch; 2], AxleStop> {
        let [left, right] = self.pair.ground;
        let at = said(heave, roll, rack);
        let linkage = |side| self.pair.linkage(side);
        let first = stand(linkage(Side::Left), &mut self.left, roll, left + heave, rack);
        let second = stand(linkage(Side::Right), &mut self.right, -roll, right + heave, -rack);
        Ok([
            first.map_err(|short| short.at(Side::Left, at))?,
            second.map_err(|short| short.at(Side::Right, at))?,
        ])
    }
}

fn said(heave: f64, roll: f64, rack: f64) -> AxleState {
    AxleState { heave, roll: roll * DEGREES, rack }
}

/// Why a wheel did not come to the ground.
enum Short {
    Ended(LinkageEnd, State),
    NoContact,
}

impl Short {
    fn at(self, side: Side, at: AxleState) -> AxleStop {
        match self {
            Self::Ended(end, last) => AxleStop::Wheel { side, end, last, at },
            Self::NoContact => AxleStop::NoContact { side, at },
        }
    }
}

/// A wheel on the ground, from where it is or else from the design position, so that what was
/// tried before does not count.
fn stand(
    linkage: &Linkage,
    follower: &mut Follower<'_>,
    roll: f64,
    height: f64,
    rack: f64,
) -> Result<Touch, Short> {
    settle(linkage, follower, roll, height, rack).or_else(|_| {
        follower.restart();
        settle(linkage, follower, roll, height, rack)
    })
}

/// Newton on the travel until the disc touches the ground at `height`. The contact's rise
/// per mm of travel is the knuckle point's there: along the disc's rim the height is least,
/// so what moves the contact along the rim does not count.
fn settle(
    linkage: &Linkage,
    follower: &mut Follower<'_>,
    roll: f64,
    height: f64,
    rack: f64,
) -> Result<Touch, Short> {
    let ground = Ground::new(roll);
    let up = ground.up();
    let mut travel = follower.position().state().travel;
    let mut reached: Option<f64> = None;
    for _ in 0..MOST_TRIES {
        let (end, stop) = match follower.go_to(State { travel, rack }) {
            Outcome::Solved(position) => {
                let touch = ground.touch(linkage, &position);
                let gap = up.dot(&touch.contact) - height;
                if gap.abs() <= GROUND_REACHED {
                    return Ok(touch);
                }
                let rise = up.dot(&touch.velocity);
                // Written so that NaN is refused.
                let rises = rise > LEAST_CONTACT_RISE;
                if !rises {
                    return Err(Short::NoContact);
                }
                reached = Some(travel);
                travel += (-gap / rise).clamp(-LONGEST_CONTACT_STEP, LONGEST_CONTACT_STEP);
                continue;
            }
            Outcome::OutOfReach(stop) => (LinkageEnd::OutOfReach, stop),
            Outcome::DeadPoint(stop) => (LinkageEnd::DeadPoint, stop),
            Outcome::OtherAssembly(stop) => (LinkageEnd::OtherAssembly, stop),
            Outcome::Stalled(stop) => (LinkageEnd::Stalled, stop),
        };
        match reached {
            // Newton may have stepped too far; the ground may be met before the end.
            Some(good) if (travel - good).abs() > bounds::SHORTEST_STEP => travel = 0.5 * (travel + good),
            _ => return Err(Short::Ended(end, stop.last)),
        }
    }
    Err(Short::NoContact)
}

/// How often a step of the lean is halved before the roll centre counts as running away.
const MOST_HALVINGS: u32 = 8;

/// Tries allowed for one wheel to come to the ground: two metres in the longest steps, and a
/// few dozen halvings.
const MOST_TRIES: u32 = 120;
