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

mod predict;

use predict::{Knot, predict, times};

use crate::{
    Mat3, Vec3,
    bounds::{
        CLOSED, LARGEST_CORRECTION, LARGEST_ROUNDING, LONGEST_STEP, MOMENT_SCALE, MOST_EVALUATIONS, SETTLED,
        SHORTEST_STEP, STEP_OVER,
    },
    elimination::{EquationRow, UNKNOWNS, reduce, reduce_pivoting},
    float::sqrt,
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

/// A solved position: the pose and the two motions the knuckle can make from there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Position {
    pub(crate) state: State,
    /// Unit quaternion (scalar first) of the rotation since the design position.
    pub(crate) quaternion: [f64; 4],
    pub(crate) rotation: Mat3,
    pub(crate) centre: Vec3,
    /// Per mm of wheel-centre travel, rack held.
    pub(crate) per_travel: Rate,
    /// Per mm of rack, height of the wheel centre held.
    pub(crate) per_rack: Rate,
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
        self.rotation
    }

    /// Where a knuckle point is that stood at `design` in the design position.
    #[must_use]
    pub fn carry(&self, linkage: &Linkage, design: &Vec3) -> Vec3 {
        self.centre + self.rotation * (design - linkage.wheel_centre)
    }

    /// The knuckle's motion per mm of wheel-centre travel with the rack held.
    #[must_use]
    pub fn travel_twist(&self) -> Twist {
        Twist::at_point(&self.centre, self.per_travel.angular, self.per_travel.velocity)
    }

    /// The knuckle's motion per mm of rack with the wheel centre's height held; zero
    /// where no link steers.
    #[must_use]
    pub fn rack_twist(&self) -> Twist {
        Twist::at_point(&self.centre, self.per_rack.angular, self.per_rack.velocity)
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
    now: Position,
    /// This position and the two before, newest first; at the beginning the design
    /// position three times.
    knots: [Knot; 3],
}

impl<'a> Follower<'a> {
    /// Stands at the design position.
    #[must_use]
    pub fn new(linkage: &'a Linkage) -> Self {
        let now = design(linkage);
        Self { linkage, now, knots: [now.knot(); 3] }
    }

    /// Stands where a linkage stood that differs by little, so that the first step to the
    /// same state closes this one.
    pub(crate) fn beside(linkage: &'a Linkage, position: &Position) -> Self {
        Self { linkage, now: *position, knots: [position.knot(); 3] }
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
        let mut stop = Stop { last: from, residual: 0.0, evaluations: 0 };
        let distance = if self.linkage.steers {
            from.distance(&target)
        } else {
            // The rack moves nothing here, however far it goes.
            (from.travel - target.travel).abs()
        };
        if !target.travel.is_finite() || !target.rack.is_finite() {
            return Err(Ended(Short::OutOfReach, stop));
        }
        if distance <= LONGEST_STEP && self.step(target, &mut stop).is_ok() {
            return Ok(());
        }
        self.search(from, target, distance, stop)
    }

    /// The way in several steps, halved where the branch bends or ends.
    #[cold]
    fn search(&mut self, from: State, target: State, distance: f64, mut stop: Stop) -> Result<(), Ended> {
        if !distance.is_finite() {
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
    #[inline]
    fn step(&mut self, target: State, stop: &mut Stop) -> Result<(), Refusal> {
        let (mut quaternion, mut centre) =
            predict(&self.knots, target, self.linkage.wheel_centre.z + target.travel);
        let mut allowed = LARGEST_CORRECTION;
        for evaluation in 1..=MOST_EVALUATIONS {
            let rotation = rotation_of(&quaternion);
            stop.evaluations += 1;
            let mut rows = self.rows(&rotation, &centre, target.rack);
            let residual = greatest(&rows);
            stop.residual = residual;
            let found = if let Some(found) = reduce(&mut rows) {
                found
            } else {
                rows = self.rows(&rotation, &centre, target.rack);
                reduce_pivoting(&mut rows, None).ok_or(Refusal::Singular)?
            };
            let size = greatest(&rows);
            // Near the end of a branch, where pivots are small, rounding is all that is left
            // of a correction, and it need not get smaller.
            let rounding = residual < CLOSED && size <= LARGEST_ROUNDING;
            // Written so that NaN is refused.
            let contracts = size <= allowed;
            if !contracts && !rounding {
                return Err(Refusal::NotSettled);
            }
            let correction = rate(&rows, 5, 0.0);
            quaternion = turned(&quaternion, &correction.angular);
            centre += correction.velocity;
            if size <= SETTLED || !contracts {
                if found.positive != self.linkage.positive {
                    return Err(Refusal::OtherBranch);
                }
                let now = &mut self.now;
                now.state = target;
                now.quaternion = quaternion;
                now.rotation = rotation_of(&quaternion);
                now.centre = centre;
                now.per_travel = rate(&rows, 6, 1.0);
                now.per_rack = rate(&rows, 7, 0.0);
                now.evaluations = evaluation;
                now.residual = residual;
                now.least_pivot = found.least_pivot;
                let [last, before, _] = self.knots;
                self.knots = [self.now.knot(), last, before];
                return Ok(());
            }
            allowed = (0.5 * size).max(SETTLED);
        }
        Err(Refusal::NotSettled)
    }

    #[inline]
    fn rows(&self, rotation: &Mat3, centre: &Vec3, rack: f64) -> [EquationRow; UNKNOWNS] {
        // Written out: an array's map is not inlined here and costs a call a row.
        let [a, b, c, d, e] = &self.linkage.constraints;
        [
            a.equation(rotation, centre, rack),
            b.equation(rotation, centre, rack),
            c.equation(rotation, centre, rack),
            d.equation(rotation, centre, rack),
            e.equation(rotation, centre, rack),
        ]
    }
}

/// Steps allowed on one way: two metres of travel in the longest steps, and a few dozen
/// halvings, several times over.
const MOST_STEPS: u32 = 4000;

/// The greatest first right-hand side in size; NaN where there is one.
#[inline]
fn greatest(rows: &[EquationRow; UNKNOWNS]) -> f64 {
    // `max` would pass over a NaN.
    rows.iter().fold(0.0_f64, |most, row| if row[5].abs() <= most { most } else { row[5].abs() })
}

#[inline]
fn unit(q: [f64; 4]) -> [f64; 4] {
    let over = 1.0 / sqrt(q[0] * q[0] + q[1] * q[1] + q[2] * q[2] + q[3] * q[3]);
    q.map(|value| value * over)
}

/// `q` turned further by the small rotation vector `turn`: a rotation whatever its size,
/// and the exact one to third order.
#[inline]
fn turned(q: &[f64; 4], turn: &Vec3) -> [f64; 4] {
    let d = times(&(0.5 * turn), q);
    unit(core::array::from_fn(|i| q[i] + d[i]))
}

#[inline]
fn rotation_of(q: &[f64; 4]) -> Mat3 {
    let [s, x, y, z] = *q;
    let (x2, y2, z2) = (2.0 * x, 2.0 * y, 2.0 * z);
    let (xx, yy, zz) = (x * x2, y * y2, z * z2);
    let (xy, xz, yz) = (x * y2, x * z2, y * z2);
    let (sx, sy, sz) = (s * x2, s * y2, s * z2);
    Mat3::new(
        1.0 - (yy + zz),
        xy - sz,
        xz + sy,
        xy + sz,
        1.0 - (xx + zz),
        yz - sx,
        xz - sy,
        yz + sx,
        1.0 - (xx + yy),
    )
}

/// The motion a right-hand side came to.
#[inline]
fn rate(rows: &[EquationRow; UNKNOWNS], side: usize, rise: f64) -> Rate {
    const SCALE: f64 = 1.0 / MOMENT_SCALE;
    Rate {
        angular: Vec3::new(rows[0][side] * SCALE, rows[1][side] * SCALE, rows[2][side] * SCALE),
        velocity: Vec3::new(rows[3][side], rows[4][side], rise),
    }
}

/// The design position: the pose is the document's own, so only the motions are solved.
fn design(linkage: &Linkage) -> Position {
    let (rotation, centre) = (Mat3::identity(), linkage.wheel_centre);
    let mut rows =
        linkage.constraints.each_ref().map(|constraint| constraint.equation(&rotation, &centre, 0.0));
    let residual = rows.iter().fold(0.0_f64, |most, row| most.max(row[5].abs()));
    // Linkage::new found this very matrix regular; were it not, the motions stay zero.
    let least_pivot = reduce_pivoting(&mut rows, None).map_or(0.0, |found| found.least_pivot);
    Position {
        state: State::DESIGN,
        quaternion: [1.0, 0.0, 0.0, 0.0],
        rotation,
        centre,
        per_travel: rate(&rows, 6, 1.0),
        per_rack: rate(&rows, 7, 0.0),
        evaluations: 1,
        residual,
        least_pivot,
    }
}
