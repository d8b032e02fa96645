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

use wide::f64x2;

use pose::{Pose, matrix};
use predict::History;
use system::System;

use crate::{
    Mat3, Vec3,
    bounds::{
        CLOSED, LARGEST_CORRECTION, LARGEST_ROUNDING, LONGEST_STEP, MOST_EVALUATIONS, SETTLED, SHORTEST_STEP,
        SMALL_PIVOT, STEP_OVER,
    },
    elimination::{Columns, PerRack, Solution, UNKNOWNS},
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

    /// What a right-hand side of the rack came to.
    #[inline(always)]
    fn of_rack([x, y, z, vx, vy]: &[f64; UNKNOWNS]) -> Self {
        Self { angular: Vec3::new(*x, *y, *z), velocity: Vec3::new(*vx, *vy, 0.0) }
    }

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

/// A solved position: the pose and the motion that travel makes from there. What else can
/// be asked of it is computed when it is asked for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Position {
    pub(crate) state: State,
    pose: Pose,
    /// How the pose changes per mm of travel.
    change: Pose,
    /// How it changes per mm of rack, where `knows_rack` says so.
    change_with_rack: Pose,
    knows_rack: bool,
    solution: Solution,
    /// The rows that were solved.
    rows: Columns,
    evaluations: u32,
    /// What does not change from position to position.
    corner: Fixed,
}

/// What a position needs to know of its corner.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Fixed {
    design_centre: Vec3,
    steers: bool,
    /// How the rack moves each constraint's body point.
    per_rack: PerRack,
}

impl Fixed {
    fn of(linkage: &Linkage) -> Self {
        Self {
            design_centre: linkage.wheel_centre,
            steers: linkage.steers,
            per_rack: linkage.system.per_rack(),
        }
    }
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
        let [x, y] = self.pose.displacement();
        self.corner.design_centre + Vec3::new(x, y, self.state.travel)
    }

    /// The knuckle's rotation since the design position.
    #[must_use]
    pub fn rotation(&self) -> Mat3 {
        matrix(&self.pose.rotation())
    }

    /// Where a knuckle point is that stood at `design` in the design position.
    #[must_use]
    pub fn carry(&self, linkage: &Linkage, design: &Vec3) -> Vec3 {
        self.wheel_centre() + self.rotation() * (design - linkage.wheel_centre)
    }

    /// The knuckle's motion per mm of wheel-centre travel with the rack held.
    #[must_use]
    pub fn travel_twist(&self) -> Twist {
        self.travel_rate().twist(&self.wheel_centre())
    }

    /// The knuckle's motion per mm of rack with the wheel centre's height held; zero
    /// where no link steers. Computed when it is asked for: a sweep along travel has no use
    /// for it.
    #[must_use]
    pub fn rack_twist(&self) -> Twist {
        self.rack_rate().twist(&self.wheel_centre())
    }

    /// [`Position::travel_twist`] as a rate at the wheel centre.
    pub(crate) fn travel_rate(&self) -> Rate {
        let [x, y, z, vx, vy] = self.solution.travel();
        Rate { angular: Vec3::new(x, y, z), velocity: Vec3::new(vx, vy, 1.0) }
    }

    /// [`Position::rack_twist`] as a rate at the wheel centre.
    fn rack_rate(&self) -> Rate {
        let drive = || self.rows.solve_side(self.rows.drive(&self.corner.per_rack));
        match if self.corner.steers { drive() } else { None } {
            Some(solved) => Rate::of_rack(&solved),
            None => Rate::NONE,
        }
    }

    /// All that carried points need.
    pub(crate) fn knuckle(&self) -> Knuckle {
        Knuckle {
            state: self.state,
            rotation: self.rotation(),
            centre: self.wheel_centre(),
            per_travel: self.travel_rate(),
            per_rack: self.rack_rate(),
        }
    }

    /// A position of which the pose is known: quaternion, and the wheel centre's displacement
    /// in x and y.
    pub(crate) fn of_pose(linkage: &Linkage, state: State, [s, x, y, z, px, py]: [f64; 6]) -> Self {
        let mut position = design(linkage);
        position.state = state;
        position.pose = Pose([f64x2::new([s, x]), f64x2::new([y, z]), f64x2::new([px, py])]);
        position.rows = linkage.system.at_rack(state.rack).rows(&position.pose, state.travel);
        position.solution = position.solve::<3>();
        [_, position.change] = position.pose.changes_of(&position.solution);
        position.change_with_rack = position.pose.change(&Rate::of_rack(&position.solution.rack));
        position
    }

    /// How often the constraints were evaluated for this position.
    #[must_use]
    pub fn evaluations(&self) -> u32 {
        self.evaluations
    }

    /// Largest closure error before the last correction, mm. The correction squares it.
    #[must_use]
    pub fn residual(&self) -> f64 {
        self.rows.greatest_error()
    }

    /// Least pivot of the scaled system: of order one in a sound position, near zero near
    /// a dead point.
    #[must_use]
    pub fn least_pivot(&self) -> f64 {
        self.solution.found.least_pivot
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

impl Position {
    /// Solves the rows for two right-hand sides, or with the rack's as a third.
    #[inline(always)]
    fn solve<const SIDES: usize>(&self) -> Solution {
        let none = [f64x2::splat(0.0); 3];
        let drive = if SIDES > 2 { self.rows.drive(&self.corner.per_rack) } else { none };
        self.rows.solve::<SIDES>(drive)
    }

    /// Makes the last correction, so small that the quaternion stays one of unit length,
    /// and knows how the pose changes from there.
    #[inline(always)]
    fn settle<const SIDES: usize>(&mut self, state: State) {
        self.state = state;
        let [correction, change] = self.pose.changes_of(&self.solution);
        self.pose = self.pose.with(&correction);
        self.change = change;
        self.knows_rack = SIDES > 2;
        self.change_with_rack =
            if SIDES > 2 { self.pose.change(&Rate::of_rack(&self.solution.rack)) } else { Pose::NONE };
    }
}

/// The design position: the pose is the document's own, so only the motions are solved.
fn design(linkage: &Linkage) -> Position {
    let rows = linkage.system.rows(&Pose::DESIGN, 0.0);
    let corner = Fixed::of(linkage);
    let drive = rows.drive(&corner.per_rack);
    let mut position = Position {
        state: State::DESIGN,
        pose: Pose::DESIGN,
        change: Pose::NONE,
        change_with_rack: Pose::NONE,
        knows_rack: true,
        // Linkage::new found this very matrix regular; were it not, the motions stay zero.
        solution: rows.solve_pivoting(drive).unwrap_or(Solution::NONE),
        rows,
        evaluations: 1,
        corner,
    };
    position.settle::<3>(State::DESIGN);
    position.pose = Pose::DESIGN;
    position
}
