//! A solved position, and what can be asked of it.

use wide::f64x2;

use super::{
    State,
    pose::{Pose, matrix},
};
use crate::{
    Mat3, Vec3,
    elimination::{Columns, PerRack, Solution, UNKNOWNS},
    linkage::Linkage,
    screw::Twist,
};

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
    pub(super) fn of_rack([x, y, z, vx, vy]: &[f64; UNKNOWNS]) -> Self {
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
    pub(super) pose: Pose,
    /// How the pose changes per mm of travel.
    pub(super) change: Pose,
    /// How it changes per mm of rack, where `knows_rack` says so.
    pub(super) change_with_rack: Pose,
    pub(super) knows_rack: bool,
    pub(super) solution: Solution,
    /// The rows that were solved.
    pub(super) rows: Columns,
    pub(super) evaluations: u32,
    /// What does not change from position to position.
    pub(super) corner: Fixed,
}

/// What a position needs to know of its corner.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Fixed {
    design_centre: Vec3,
    steers: bool,
    /// How the rack moves each constraint's body point.
    pub(super) per_rack: PerRack,
}

impl Fixed {
    pub(super) fn of(linkage: &Linkage) -> Self {
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
    pub(super) fn rack_rate(&self) -> Rate {
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

impl Position {
    /// Solves the rows for two right-hand sides, or with the rack's as a third.
    #[inline(always)]
    pub(super) fn solve<const SIDES: usize>(&self) -> Solution {
        let none = [f64x2::splat(0.0); 3];
        let drive = if SIDES > 2 { self.rows.drive(&self.corner.per_rack) } else { none };
        self.rows.solve::<SIDES>(drive)
    }

    /// Makes the last correction, so small that the quaternion stays one of unit length,
    /// and knows how the pose changes from there.
    #[inline(always)]
    pub(super) fn settle<const SIDES: usize>(&mut self, state: State) {
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
pub(super) fn design(linkage: &Linkage) -> Position {
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
