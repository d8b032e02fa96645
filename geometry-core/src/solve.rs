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

mod pose;
mod predict;
pub(crate) mod system;

use pose::{Pose, matrix};
use predict::{History, Knot};
use system::System;

use crate::{
    Mat3, Vec3,
    bounds::{
        CLOSED, LARGEST_CORRECTION, LARGEST_ROUNDING, LONGEST_STEP, MOST_EVALUATIONS, SETTLED, SHORTEST_STEP,
        SMALL_PIVOT, STEP_OVER,
    },
    elimination::{Columns, Solution},
    linkage::Linkage,
    screw::Twist,
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

/// A motion of the knuckle, said at the wheel centre: rad and mm per mm of the input.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Rate {
    pub(crate) angular: Vec3,
    pub(crate) velocity: Vec3,
}

impl Rate {
    /// No motion.
    pub(crate) const NONE: Self =
        Self { angular: Vec3::new(0.0, 0.0, 0.0), velocity: Vec3::new(0.0, 0.0, 0.0) };

    /// The motion as a twist, the wheel centre being where it is.
    pub(crate) fn twist(&self, centre: &Vec3) -> Twist {
        Twist::at_point(centre, self.angular, self.velocity)
    }
}

/// A position with everything worked out.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Knuckle {
    pub(crate) state: State,
    pub(crate) rotation: Mat3,
    pub(crate) centre: Vec3,
    /// Per mm of wheel-centre travel, rack held.
    pub(crate) per_travel: Rate,
    /// Per mm of rack, height of the wheel centre held.
    pub(crate) per_rack: Rate,
}

/// A solved position: the pose and the motion that travel makes from there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Position {
    pub(crate) state: State,
    pose: Pose,
    pub(crate) centre: Vec3,
    /// Per mm of wheel-centre travel, rack held.
    pub(crate) per_travel: Rate,
    /// The rows that were solved, for the rack's motion.
    rows: Columns,
    evaluations: u32,
    residual: f64,
    least_pivot: f64,
}

impl Position {
    /// The state this position answers.
    #[must_use]
    pub fn state(&self) -> State {
        self.state
    }

    /// Where the wheel centre is, mm.
    #[must_use]
    pub fn wheel_centre(&self) -> Vec3 {
        self.centre
    }

    /// The knuckle's rotation since the design position.
    #[must_use]
    pub fn rotation(&self) -> Mat3 {
        matrix(&self.pose.rotation())
    }

    /// Where a knuckle point is that stood at `design` in the design position.
    #[must_use]
    pub fn carry(&self, linkage: &Linkage, design: &Vec3) -> Vec3 {
        self.centre + self.rotation() * (design - linkage.wheel_centre)
    }

    /// The knuckle's motion per mm of wheel-centre travel with the rack held.
    #[must_use]
    pub fn travel_twist(&self) -> Twist {
        self.per_travel.twist(&self.centre)
    }

    /// The knuckle's motion per mm of rack with the wheel centre's height held; zero
    /// where no link steers. Computed when it is asked for: a sweep along travel has no use
    /// for it.
    #[must_use]
    pub fn rack_twist(&self) -> Twist {
        self.rack_rate().twist(&self.centre)
    }

    /// [`Position::rack_twist`] as a rate at the wheel centre.
    fn rack_rate(&self) -> Rate {
        self.rows.solve_drive().map_or(Rate::NONE, |[x, y, z, vx, vy]| Rate {
            angular: Vec3::new(x, y, z),
            velocity: Vec3::new(vx, vy, 0.0),
        })
    }

    /// All that carried points need.
    pub(crate) fn knuckle(&self) -> Knuckle {
        Knuckle {
            state: self.state,
            rotation: self.rotation(),
            centre: self.centre,
            per_travel: self.per_travel,
            per_rack: self.rack_rate(),
        }
    }

    /// How often the constraints were evaluated for this position.
    #[must_use]
    pub fn evaluations(&self) -> u32 {
        self.evaluations
    }

    /// Largest closure error before the last correction, mm. The correction squares it.
    #[must_use]
    pub fn residual(&self) -> f64 {
        self.residual
    }

    /// Least pivot of the scaled system: of order one in a sound position, near zero near
    /// a dead point.
    #[must_use]
    pub fn least_pivot(&self) -> f64 {
        self.least_pivot
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
    now: Position,
    history: History,
}

impl<'a> Follower<'a> {
    /// Stands at the design position.
    #[must_use]
    pub fn new(linkage: &'a Linkage) -> Self {
        let (now, knot) = design(linkage);
        Self { linkage, system: linkage.system, rack: 0.0, now, history: History::new(knot) }
    }

    /// Back to the design position.
    pub fn restart(&mut self) {
        *self = Self::new(self.linkage);
    }

    /// The position reached last.
    #[must_use]
    pub fn position(&self) -> &Position {
        &self.now
    }

    /// Follows the branch along the straight way from the present state to `target`,
    /// in steps as short as the way needs. On any outcome but [`Outcome::Solved`] the
    /// follower stands at the last state reached.
    pub fn go_to(&mut self, target: State) -> Outcome {
        match self.advance(target) {
            Ok(()) => Outcome::Solved(self.now),
            Err(ended) => ended.into(),
        }
    }

    /// [`Follower::go_to`] without a copy of the position reached.
    ///
    /// # Errors
    /// Why and where it ended short of the target.
    pub(crate) fn advance(&mut self, target: State) -> Result<(), Ended> {
        let from = self.now.state;
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
        if self.linkage.steers && target.rack != self.now.state.rack {
            self.step_along_rack(target, stop)
        } else {
            self.step_with::<2>(target, stop)
        }
    }

    /// A step that moves the rack: the predictor then needs the motions with the rack as well.
    #[inline(never)]
    fn step_along_rack(&mut self, target: State, stop: &mut Stop) -> Result<(), Refusal> {
        let now = &self.now;
        self.history.newest_along_rack(|| now.pose.change(&now.rack_rate()));
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
        let rows = self.system.rows(&pose, target.travel);
        let solution = rows.solve::<SIDES>();
        let size = solution.size();
        stop.evaluations += 1;
        // Along a sweep the first correction is the last. Written so that NaN is refused.
        let settled = solution.found.least_pivot >= SMALL_PIVOT && size <= SETTLED;
        if settled && solution.found.positive == self.linkage.positive {
            stop.residual = rows.greatest_error();
            self.arrive::<SIDES>(target, &pose, &rows, &solution, 1, stop.residual);
            return Ok(());
        }
        stop.evaluations -= 1;
        self.correct::<SIDES>(target, pose, stop)
    }

    /// As many corrections as it takes.
    #[inline(never)]
    fn correct<const SIDES: usize>(
        &mut self,
        target: State,
        mut pose: Pose,
        stop: &mut Stop,
    ) -> Result<(), Refusal> {
        let mut allowed = LARGEST_CORRECTION;
        for evaluation in 1..=MOST_EVALUATIONS {
            let rows = self.system.rows(&pose, target.travel);
            stop.evaluations += 1;
            stop.residual = rows.greatest_error();
            let mut solution = rows.solve::<SIDES>();
            // Written so that NaN is refused.
            let sound = solution.found.least_pivot >= SMALL_PIVOT && solution.size() <= allowed;
            if !sound {
                solution = rows.solve_pivoting().ok_or(Refusal::Singular)?;
            }
            let size = solution.size();
            let contracts = size <= allowed;
            // Near the end of a branch, where pivots are small, rounding is all that is left
            // of a correction, and it need not get smaller.
            let rounding = stop.residual < CLOSED && size <= LARGEST_ROUNDING;
            if !contracts && !rounding {
                return Err(Refusal::NotSettled);
            }
            if size <= SETTLED || !contracts {
                if solution.found.positive != self.linkage.positive {
                    return Err(Refusal::OtherBranch);
                }
                self.arrive::<SIDES>(target, &pose, &rows, &solution, evaluation, stop.residual);
                return Ok(());
            }
            let [correction, _] = pose.changes_of(&solution);
            pose = pose.with(&correction).unit();
            allowed = (0.5 * size).max(SETTLED);
        }
        Err(Refusal::NotSettled)
    }

    /// Stands at the pose after its last correction.
    #[inline(always)]
    fn arrive<const SIDES: usize>(
        &mut self,
        state: State,
        pose: &Pose,
        rows: &Columns,
        solution: &Solution,
        evaluations: u32,
        residual: f64,
    ) {
        let [correction, per_travel] = pose.changes_of(solution);
        // So small that the quaternion stays one of unit length.
        let pose = pose.with(&correction);
        self.now.set(self.linkage, state, pose, solution);
        self.now.rows = *rows;
        self.now.evaluations = evaluations;
        self.now.residual = residual;
        let knot = self.history.push(state, SIDES > 2);
        knot.pose = pose;
        knot.per_travel = per_travel;
        if SIDES > 2 {
            knot.per_rack = pose.change(&rack_rate(solution));
        }
    }
}

/// Steps allowed on one way: two metres of travel in the longest steps, and a few dozen
/// halvings, several times over.
const MOST_STEPS: u32 = 4000;

impl Position {
    #[inline(always)]
    fn set(&mut self, linkage: &Linkage, state: State, pose: Pose, solution: &Solution) {
        let [x, y] = pose.displacement();
        self.state = state;
        self.pose = pose;
        self.centre = linkage.wheel_centre + Vec3::new(x, y, state.travel);
        let [x, y, z, vx, vy] = solution.pairs.map(|pair| pair.as_array()[1]);
        self.per_travel = Rate { angular: Vec3::new(x, y, z), velocity: Vec3::new(vx, vy, 1.0) };
        self.least_pivot = solution.found.least_pivot;
    }
}

/// The rack's motion out of a solution with three sides.
#[inline(always)]
fn rack_rate(solution: &Solution) -> Rate {
    let [x, y, z, vx, vy] = solution.rack;
    Rate { angular: Vec3::new(x, y, z), velocity: Vec3::new(vx, vy, 0.0) }
}

/// The design position: the pose is the document's own, so only the motions are solved.
fn design(linkage: &Linkage) -> (Position, Knot) {
    let rows = linkage.system.rows(&Pose::DESIGN, 0.0);
    let mut position = Position {
        state: State::DESIGN,
        pose: Pose::DESIGN,
        centre: linkage.wheel_centre,
        per_travel: Rate::NONE,
        rows,
        evaluations: 1,
        residual: rows.greatest_error(),
        least_pivot: 0.0,
    };
    let mut knot = Knot { pose: Pose::DESIGN, per_travel: Pose::NONE, per_rack: Pose::NONE };
    // Linkage::new found this very matrix regular; were it not, the motions stay zero.
    if let Some(solution) = rows.solve_pivoting() {
        position.set(linkage, State::DESIGN, Pose::DESIGN, &solution);
        [_, knot.per_travel] = Pose::DESIGN.changes_of(&solution);
        knot.per_rack = Pose::DESIGN.change(&rack_rate(&solution));
    }
    (position, knot)
}
