//! Many corners at once: samples of an uncertainty, the variants of a search for a design.
//!
//! The corners go in groups of [`LANES`], side by side: one number of each corner next to
//! the other's, so that the compiler makes one instruction of what a lane's code says.
//! All of a group are led through the same states. Where one needs more than the quick
//! way (an exchange of rows, a shorter step, the telling of an end), a
//! [`Follower`](crate::solve::Follower) of its own takes over and the others go on. Kinds and numbers
//! of members need not be alike: the one formula of `closure` is computed for all.
//!
//! [`Batch::run`] is inlined into its caller: where that is compiled for wider instructions
//! than the target's least, so is the whole computation, and the results are the same bits.
//!
//! ```
//! use geometry_core::{batch::Batch, linkage::Linkage, motion::Sweep, solve::State};
//! use geometry_core::setup::{example, Axle, Side};
//!
//! let mut corner = example().corner(Axle::Front).expect("the example has a front axle").clone();
//! let mut samples = Vec::new();
//! for error in [-1.0, 0.0, 1.0] {
//!     // A tape reads to a millimetre: how far does that take the toe?
//!     corner.links[0].inboard[2] += error;
//!     samples.push(Linkage::new(&corner, Side::Left).expect("it can be assembled"));
//!     corner.links[0].inboard[2] -= error;
//! }
//! let sweep = Sweep {
//!     from: State { travel: -60.0, rack: 0.0 },
//!     to: State { travel: 60.0, rack: 0.0 },
//!     positions: 121,
//! };
//! let mut turning = [0.0; 3];
//! Batch::new(&samples).run(&sweep, |index, corner, found| {
//!     if index == 120 {
//!         turning[corner] = found.map_or(f64::NAN, |found| found.travel_twist().angular.z);
//!     }
//! });
//! assert!(turning[0] != turning[1] && turning.iter().all(|value| value.is_finite()));
//! ```

mod group;

use group::Group;

use crate::{
    Mat3, Vec3,
    linkage::Linkage,
    motion::Sweep,
    screw::Twist,
    solve::{Position, State},
};

/// Corners that are computed side by side.
pub const LANES: usize = 8;

/// Corners that are led through the same states.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Batch<'a> {
    linkages: &'a [Linkage],
}

/// One corner's position in a batch.
#[derive(Debug, Clone, Copy)]
pub struct Found<'a>(Place<'a>);

#[derive(Debug, Clone, Copy)]
enum Place<'a> {
    Abreast { group: &'a Group<'a>, lane: usize },
    Alone(&'a Position),
}

impl Found<'_> {
    /// Where the wheel centre is, mm.
    #[must_use]
    #[inline(always)]
    pub fn wheel_centre(&self) -> Vec3 {
        match self.0 {
            Place::Abreast { group, lane } => group.wheel_centre(lane),
            Place::Alone(position) => position.wheel_centre(),
        }
    }

    /// The knuckle's rotation since the design position.
    #[must_use]
    pub fn rotation(&self) -> Mat3 {
        match self.0 {
            Place::Abreast { group, lane } => group.rotation(lane),
            Place::Alone(position) => position.rotation(),
        }
    }

    /// The knuckle's motion per mm of wheel-centre travel with the rack held.
    #[must_use]
    #[inline(always)]
    pub fn travel_twist(&self) -> Twist {
        match self.0 {
            Place::Abreast { group, lane } => group.travel_twist(lane),
            Place::Alone(position) => position.travel_twist(),
        }
    }

    /// The whole position, for all readings.
    #[must_use]
    pub fn position(&self) -> Position {
        match self.0 {
            Place::Abreast { group, lane } => group.position(lane),
            Place::Alone(position) => *position,
        }
    }
}

#[expect(clippy::inline_always, reason = "so that a caller's wider instructions reach the lanes")]
impl<'a> Batch<'a> {
    /// Corners of any number and kind.
    #[must_use]
    pub fn new(linkages: &'a [Linkage]) -> Self {
        Self { linkages }
    }

    /// Leads every corner through a sweep, outward from the state nearest the design position,
    /// and shows each state's index, the corner's index and its position; `None` where its
    /// branch does not reach. A few kilobytes are allocated for a corner that leaves its group,
    /// and nothing else.
    #[inline(always)]
    pub fn run(&self, sweep: &Sweep, mut show: impl FnMut(usize, usize, Option<Found<'_>>)) {
        let Some(nearest) = sweep.nearest_to_design() else { return };
        for (number, linkages) in self.linkages.chunks(LANES).enumerate() {
            let mut group = Group::new(linkages);
            let first = number * LANES;
            let mut middle = None;
            // One loop, so that the lanes' code is there once.
            for index in (nearest..sweep.positions).chain((0..nearest).rev()) {
                if index + 1 == nearest
                    && let Some(middle) = middle.take()
                {
                    group = middle;
                }
                group.lead(sweep.state(index));
                group.show(index, first, &mut show);
                if index == nearest {
                    middle = Some(group.clone());
                }
            }
        }
    }

    /// Leads every corner through states in the order in which they stand; else as
    /// [`Batch::run`]. A corner that does not reach a state goes on from where it came to.
    #[inline(always)]
    pub fn visit(&self, states: &[State], mut show: impl FnMut(usize, usize, Option<Found<'_>>)) {
        for (number, linkages) in self.linkages.chunks(LANES).enumerate() {
            let mut group = Group::new(linkages);
            for (index, state) in states.iter().enumerate() {
                group.lead(*state);
                group.show(index, number * LANES, &mut show);
            }
        }
    }
}

impl Group<'_> {
    #[expect(clippy::inline_always, reason = "so that a caller's wider instructions reach the lanes")]
    #[inline(always)]
    fn show(&self, index: usize, first: usize, show: &mut impl FnMut(usize, usize, Option<Found<'_>>)) {
        for lane in 0..self.corners() {
            let place = if self.is_abreast(lane) {
                Some(Place::Abreast { group: self, lane })
            } else {
                self.alone(lane).map(Place::Alone)
            };
            show(index, first + lane, place.map(Found));
        }
    }
}
