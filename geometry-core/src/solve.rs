//! From a linkage and a travel to the knuckle's pose and motion.
//!
//! Newton on the pose with the analytic Jacobian: the constraints' rows. The wheel
//! centre's height is given, so five unknowns are left: the rotation and two coordinates.
//! One elimination with three right-hand sides gives the correction, the motion per mm of
//! travel and the motion per mm of rack. The predictor goes through the last three
//! poses and their motions, so that along a sweep of 1 mm steps the first correction is
//! already too small to need another evaluation.
//!
//! A linkage can be assembled in several ways. The branch of the design position is
//! followed in steps whose first correction is small and on which the determinant keeps
//! its sign; where no such step leads on, the [`Outcome`] says why.

mod nearest;
mod pose;
mod position;
mod predict;
pub(crate) mod system;

pub use nearest::{Gap, Nearest};
pub use position::Position;
use position::{Fixed, design};
pub(crate) use position::{Knuckle, Rate};
use predict::History;
use system::System;

use crate::{
    bounds::{
        CLOSED, LARGEST_CORRECTION, LARGEST_ROUNDING, LONGEST_STEP, MOST_EVALUATIONS, SETTLED, SHORTEST_STEP,
        SMALL_PIVOT, STEP_OVER,
    },
    linkage::Linkage,
};

/// What is asked of a corner.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct State {
    /// Vertical displacement of the wheel centre against the body, mm, + is bump.
    pub travel: f64,
    /// Displacement of the steering link's inboard end along the rack, mm. Without
    /// effect where no link steers.
    pub rack: f64,
}

impl State {
    /// The state as described by the document.
    pub const DESIGN: Self = Self { travel: 0.0, rack: 0.0 };

    fn towards(&self, other: &Self, share: f64) -> Self {
        if share >= 1.0 {
            return *other;
        }
        Self {
            travel: self.travel + share * (other.travel - self.travel),
            rack: self.rack + share * (other.rack - self.rack),
        }
    }

    #[inline]
    fn distance(&self, other: &Self) -> f64 {
        (self.travel - other.travel).abs() + (self.rack - other.rack).abs()
    }
}

/// How a solve ended.
#[derive(Debug, Clone, Copy, PartialEq)]
#[must_use]
#[expect(clippy::large_enum_variant, reason = "a box would be an allocation in every solve")]
pub enum Outcome {
    /// The position asked for, on the branch of the design position.
    Solved(Position),
    /// The linkage ends before the state: no assembly of this branch reaches it.
    OutOfReach(Stop),
    /// A position was met in which the members leave the wheel no definite motion.
    DeadPoint(Stop),
    /// Only by crossing to another assembly could the way go on.
    OtherAssembly(Stop),
    /// The allowance of evaluations was used up.
    Stalled(Stop),
}

/// Where a solve stopped short.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stop {
    /// The last state reached on the way.
    pub last: State,
    /// Largest closure error where it stopped, mm.
    pub residual: f64,
    /// Evaluations used in all.
    pub evaluations: u32,
}

impl Outcome {
    /// The position, when there is one.
    #[must_use]
    pub fn position(&self) -> Option<&Position> {
        match self {
            Self::Solved(position) => Some(position),
            _ => None,
        }
    }

    /// The stop, when there is no position.
    #[must_use]
    pub fn stop(&self) -> Option<&Stop> {
        match self {
            Self::Solved(_) => None,
            Self::OutOfReach(stop)
            | Self::DeadPoint(stop)
            | Self::OtherAssembly(stop)
            | Self::Stalled(stop) => Some(stop),
        }
    }

    /// A stable word for programs.
    #[must_use]
    pub fn kind(&self) -> &'static str {
        match self {
            Self::Solved(_) => "solved",
            Self::OutOfReach(_) => "out_of_reach",
            Self::DeadPoint(_) => "dead_point",
            Self::OtherAssembly(_) => "other_assembly",
            Self::Stalled(_) => "stalled",
        }
    }
}

/// A solve that ended short of its target: why, and where.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Ended(Short, Stop);

/// Why a solve ended short.
#[derive(Debug, Clone, Copy)]
enum Short {
    OutOfReach,
    DeadPoint,
    OtherAssembly,
    Stalled,
}

impl From<Ended> for Outcome {
    fn from(Ended(short, stop): Ended) -> Self {
        match short {
            Short::OutOfReach => Self::OutOfReach(stop),
            Short::DeadPoint => Self::DeadPoint(stop),
            Short::OtherAssembly => Self::OtherAssembly(stop),
            Short::Stalled => Self::Stalled(stop),
        }
    }
}

/// Why one step was not taken.
#[derive(Debug, Clone, Copy)]
enum Refusal {
    /// Newton did not settle: nothing there, or too far a step.
    NotSettled,
    /// The system is singular there.
    Singular,
    /// It settled on another assembly.
    OtherBranch,
}

/// Follows one linkage's branch from state to state. Holds no memory of its own: nothing
/// is allocated in a solve.
#[derive(Debug, Clone)]
pub struct Follower<'a> {
    linkage: &'a Linkage,
    /// The linkage's constraints with the rack where it is.
    system: System,
    rack: f64,
    /// The position reached last and those before it.
    history: History,
}

impl<'a> Follower<'a> {
    /// Stands at the design position.
    #[must_use]
    pub fn new(linkage: &'a Linkage) -> Self {
        Self { linkage, system: linkage.system, rack: 0.0, history: History::new(design(linkage)) }
    }

    /// Stands where a linkage stood that differs by little, so that the first step to the
    /// same state closes this one.
    pub(crate) fn beside(linkage: &'a Linkage, position: &Position) -> Self {
        let State { rack, .. } = position.state;
        let position = Position { corner: Fixed::of(linkage), ..*position };
        Self { linkage, system: linkage.system.at_rack(rack), rack, history: History::new(position) }
    }

    /// Back to the design position.
    pub fn restart(&mut self) {
        *self = Self::new(self.linkage);
    }

    /// The position reached last.
    #[must_use]
    pub fn position(&self) -> &Position {
        self.history.newest()
    }

    /// Follows the branch along the straight way from the present state to `target`,
    /// in steps as short as the way needs. On any outcome but [`Outcome::Solved`] the
    /// follower stands at the last state reached.
    pub fn go_to(&mut self, target: State) -> Outcome {
        match self.advance(target) {
            Ok(()) => Outcome::Solved(*self.position()),
            Err(ended) => ended.into(),
        }
    }

    /// [`Follower::go_to`] without a copy of the position reached.
    ///
    /// # Errors
    /// Why and where it ended short of the target.
    pub(crate) fn advance(&mut self, target: State) -> Result<(), Ended> {
        let from = self.position().state;
        let along_rack = if self.linkage.steers {
            (target.rack - from.rack).abs()
        } else {
            // The rack moves nothing here, however far it goes.
            0.0
        };
        let distance = (target.travel - from.travel).abs() + along_rack;
        let mut stop = Stop { last: from, residual: 0.0, evaluations: 0 };
        // Written so that NaN is left to the search, which refuses it.
        if distance <= LONGEST_STEP && target.rack.is_finite() && self.step(target, &mut stop).is_ok() {
            return Ok(());
        }
        self.search(from, target, distance, stop)
    }

    /// The way in several steps, halved where the branch bends or ends.
    #[cold]
    fn search(&mut self, from: State, target: State, distance: f64, mut stop: Stop) -> Result<(), Ended> {
        if !distance.is_finite() || !target.rack.is_finite() {
            return Err(Ended(Short::OutOfReach, stop));
        }
        let longest = if distance > LONGEST_STEP { LONGEST_STEP / distance } else { 1.0 };
        let mut share = 0.0;
        let mut step = longest;
        for _ in 0..MOST_STEPS {
            let next = share + step;
            let next = if next > 1.0 - 1e-12 { 1.0 } else { next };
            let aim = from.towards(&target, next);
            match self.step(aim, &mut stop) {
                Ok(()) => {
                    if next >= 1.0 {
                        return Ok(());
                    }
                    share = next;
                    stop.last = aim;
                    step = (2.0 * step).min(longest);
                }
                Err(refusal) => {
                    step *= 0.5;
                    if step * distance < SHORTEST_STEP {
                        let short = match refusal {
                            Refusal::NotSettled => match self.beyond(from, target, distance, share) {
                                Ok(()) => Short::DeadPoint,
                                Err(Refusal::OtherBranch) => Short::OtherAssembly,
                                Err(_) => Short::OutOfReach,
                            },
                            Refusal::Singular => Short::DeadPoint,
                            Refusal::OtherBranch => Short::OtherAssembly,
                        };
                        return Err(Ended(short, stop));
                    }
                }
            }
        }
        Err(Ended(Short::Stalled, stop))
    }

    /// What stands a little further along the way: where the branch goes on, what was met
    /// is a dead point and not the end; where another one does, it begins here.
    #[cold]
    fn beyond(&self, from: State, target: State, distance: f64, share: f64) -> Result<(), Refusal> {
        let share = share + STEP_OVER / distance;
        let aim = State {
            travel: from.travel + share * (target.travel - from.travel),
            rack: from.rack + share * (target.rack - from.rack),
        };
        self.clone().step(aim, &mut Stop { last: from, residual: 0.0, evaluations: 0 })
    }

    /// One predicted step with its Newton corrections.
    #[inline(always)]
    fn step(&mut self, target: State, stop: &mut Stop) -> Result<(), Refusal> {
        if self.linkage.steers && target.rack != self.position().state.rack {
            self.step_along_rack(target, stop)
        } else {
            self.step_with::<2>(target, stop)
        }
    }

    /// A step that moves the rack: the predictor then needs the motions with the rack as well.
    #[inline(never)]
    fn step_along_rack(&mut self, target: State, stop: &mut Stop) -> Result<(), Refusal> {
        let newest = self.history.newest_mut();
        if !newest.knows_rack {
            newest.knows_rack = true;
            newest.change_with_rack = newest.pose.change(&newest.rack_rate());
        }
        self.step_with::<3>(target, stop)
    }

    /// The step with two right-hand sides, or with the rack's as a third.
    #[inline(always)]
    fn step_with<const SIDES: usize>(&mut self, target: State, stop: &mut Stop) -> Result<(), Refusal> {
        if self.linkage.steers && target.rack != self.rack {
            self.rack = target.rack;
            self.system = self.linkage.system.at_rack(target.rack);
        }
        let pose = self.history.predict::<SIDES>(target).unit();
        let (system, next) = (&self.system, self.history.next());
        next.pose = pose;
        next.rows = system.rows(&pose, target.travel);
        next.solution = next.solve::<SIDES>();
        // Along a sweep the first correction is the last. Written so that NaN is refused.
        let settled = next.solution.found.least_pivot >= SMALL_PIVOT && next.solution.size() <= SETTLED;
        if settled && next.solution.found.positive == self.linkage.positive {
            next.evaluations = 1;
            stop.evaluations += 1;
            self.history.arrive::<SIDES>(target);
            return Ok(());
        }
        self.correct::<SIDES>(target, stop)
    }

    /// As many corrections as it takes, from the predicted pose on.
    #[inline(never)]
    fn correct<const SIDES: usize>(&mut self, target: State, stop: &mut Stop) -> Result<(), Refusal> {
        let before = self.history.newest().solution;
        let next = self.history.next();
        let mut allowed = LARGEST_CORRECTION;
        for evaluation in 1..=MOST_EVALUATIONS {
            stop.evaluations += 1;
            stop.residual = next.rows.greatest_error();
            // Written so that NaN is refused.
            let sound = next.solution.found.least_pivot >= SMALL_PIVOT && next.solution.size() <= allowed;
            if !sound {
                let drive = next.rows.drive(&next.corner.per_rack);
                next.solution = next.rows.solve_pivoting(drive).ok_or(Refusal::Singular)?;
            }
            let size = next.solution.size();
            let contracts = size <= allowed;
            // Near the end of a branch, where pivots are small, rounding is all that is left
            // of a correction, and it need not get smaller.
            let rounding = stop.residual < CLOSED && size <= LARGEST_ROUNDING;
            if !contracts && !rounding {
                return Err(Refusal::NotSettled);
            }
            if size <= SETTLED || !contracts {
                if next.solution.found.positive != self.linkage.positive {
                    return Err(Refusal::OtherBranch);
                }
                // Where two assemblies cross, both are within rounding of each other and the
                // sign of the determinant is either's; but the motion has a kink there.
                if next.solution.found.least_pivot < SMALL_PIVOT && next.solution.jumps(&before) {
                    return Err(Refusal::NotSettled);
                }
                next.evaluations = evaluation;
                self.history.arrive::<SIDES>(target);
                return Ok(());
            }
            let [correction, _] = next.pose.changes_of(&next.solution);
            next.pose = next.pose.with(&correction).unit();
            next.rows = self.system.rows(&next.pose, target.travel);
            next.solution = next.solve::<SIDES>();
            allowed = (0.5 * size).max(SETTLED);
        }
        Err(Refusal::NotSettled)
    }
}

/// Steps allowed on one way: two metres of travel in the longest steps, and a few dozen
/// halvings, several times over.
const MOST_STEPS: u32 = 4000;
