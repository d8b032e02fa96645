//! What holds the knuckle, read as a textbook does: two holds and a single link.
//!
//! An arm can push the knuckle along every line through its ball joint in its own plane; a
//! strut along every line through its top mount square to its sliding axis; two links whose
//! lines meet along every line through the meeting point in the plane of both. All three
//! are the same thing: a flat pencil of lines, a *joint* and a *plane*. Two such holds leave
//! the knuckle, besides turning about the line through both joints, turning about the line
//! in which both planes cut each other: the classical instant axis. The fifth constraint,
//! a single link, is left out of account; where its line meets that axis nothing is lost.

use alloc::vec::Vec;

use super::{
    element::Member,
    geometry::{Crossing, Nearest, Plane, Straight, View},
};
use crate::{
    Vec3,
    bounds::{CLEARLY_NEARER, SAME_PLACE},
    float::norm,
    linkage::Linkage,
    screw::Twist,
    setup::{Corner, Link, RACK_DIRECTION},
    solve::Position,
};

/// The point that stands for a ball joint where two links replace one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct VirtualPivot {
    /// Where both links' lines cross seen from above, at the mean of their heights there, mm.
    pub at: Vec3,
    /// That crossing, on each of the two lines.
    pub plan: Crossing,
    /// Where the two lines come nearest to each other in space; their distance says how
    /// far they are from meeting at all.
    pub nearest: Nearest,
}

impl VirtualPivot {
    /// The virtual pivot of two links' lines; `None` where they are parallel, or seen
    /// parallel from above.
    ///
    /// ```
    /// use geometry_core::{Vec3, construction::{Straight, VirtualPivot}};
    ///
    /// let line = |a: [f64; 3], b: [f64; 3]| Straight::through(&Vec3::from(a), &Vec3::from(b)).unwrap();
    /// let lateral = line([-30.0, 372.0, 192.0], [10.0, 708.0, 182.0]);
    /// let forward = line([347.0, 435.0, 184.0], [67.0, 715.0, 180.0]);
    /// let pivot = VirtualPivot::of(&lateral, &forward).unwrap();
    /// // Some 70 mm outboard of the joints; the lines miss each other by less than a millimetre.
    /// assert!((pivot.at - Vec3::new(16.43, 762.0, 180.0)).norm() < 4.0);
    /// assert!(pivot.nearest.distance < 1.5);
    /// ```
    #[must_use]
    pub fn of(first: &Straight, second: &Straight) -> Option<Self> {
        let plan = first.crossing(second, View::Plan)?;
        Some(Self { at: plan.middle(), plan, nearest: first.nearest(second)? })
    }
}

/// How a hold is made.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Kind {
    /// A triangular arm.
    Arm {
        /// Index in the corner's list.
        index: usize,
        /// The line through its body pivots.
        pivots: Straight,
        /// Front pivot, rear pivot, ball joint, mm.
        corners: [Vec3; 3],
    },
    /// Two links that end near each other on the knuckle.
    Pair {
        /// Indices in the corner's list.
        links: [usize; 2],
        /// Inboard and outboard end of each, mm.
        ends: [[Vec3; 2]; 2],
        /// Their virtual pivot, where their lines are not parallel.
        pivot: Option<VirtualPivot>,
    },
    /// A strut.
    Strut {
        /// The line its rod slides along.
        sliding: Straight,
        /// Top mount and lower end, mm.
        ends: [Vec3; 2],
    },
}

/// Two of the knuckle's constraints, as a joint and a plane.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hold {
    /// What it is made of.
    pub kind: Kind,
    /// Ball joint, virtual pivot or top mount, mm; `None` for parallel links, whose virtual
    /// pivot is at infinity.
    pub joint: Option<Vec3>,
    /// The plane of the lines along which it can push.
    pub plane: Plane,
}

impl Hold {
    /// The members it is made of.
    #[must_use]
    pub fn members(&self) -> Vec<Member> {
        match self.kind {
            Kind::Arm { index, .. } => [Member::Arm(index)].into(),
            Kind::Pair { links, .. } => links.map(Member::Link).into(),
            Kind::Strut { .. } => [Member::Strut].into(),
        }
    }
}

/// The members of a corner as a textbook reads them.
#[derive(Debug, Clone, Copy, PartialEq)]
#[expect(clippy::large_enum_variant, reason = "made once for a drawing and thrown away")]
pub enum Scheme {
    /// The knuckle turns on two body pivots: their line is the instant axis, exactly.
    Hinge {
        /// The line through both pivots.
        axis: Straight,
        /// The pivots, mm.
        pivots: [Vec3; 2],
    },
    /// Two holds, and a single link that keeps the knuckle from turning about the line
    /// through their joints.
    Holds {
        /// The hold whose joint is lower.
        lower: Hold,
        /// The other.
        upper: Hold,
        /// The link left over: the tie rod, or the toe link where none steers.
        single: SingleLink,
    },
}

/// A link that is part of no pair.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SingleLink {
    /// Index in the corner's list.
    pub index: usize,
    /// Inboard and outboard end, mm.
    pub ends: [Vec3; 2],
    /// The line through both.
    pub line: Straight,
}

impl Scheme {
    /// Reads a corner in a position. The corner must be the one the linkage was made of.
    ///
    /// Which links are a pair: the steering link is single; where none steers, any may be.
    /// Of all ways to choose the single link and to pair the others, the one whose pairs'
    /// outboard ends are nearest together (least sum of squares, in the design position). It
    /// counts only if it is clear: the next best has at least [`CLEARLY_NEARER`] times that
    /// sum, and each pair's ends are nearer to each other than their middle is to the other
    /// hold. Five links without such an order have no scheme: `None`.
    #[must_use]
    pub fn of(corner: &Corner, linkage: &Linkage, position: &Position) -> Option<Self> {
        if let Some(hinge) = &corner.hinge {
            let pivots = hinge.pivots.map(Vec3::from);
            let [first, second] = &pivots;
            return Some(Self::Hinge { axis: Straight::through(first, second)?, pivots });
        }
        let place = Place { corner, linkage, position };
        let (single, pairs) = pairing(corner)?;
        let mut holds: Vec<Hold> = Vec::with_capacity(2);
        for (index, arm) in corner.arms.iter().enumerate() {
            let (front, rear) = (Vec3::from(arm.front_pivot), Vec3::from(arm.rear_pivot));
            let joint = place.knuckle(arm.ball_joint);
            holds.push(Hold {
                kind: Kind::Arm {
                    index,
                    pivots: Straight::through(&rear, &front)?,
                    corners: [front, rear, joint],
                },
                joint: Some(joint),
                plane: Plane::through(&front, &rear, &joint)?,
            });
        }
        if let Some(strut) = &corner.strut {
            let top = Vec3::from(strut.top_mount);
            let lower = place.knuckle(strut.lower_end);
            let sliding = Straight::through(&lower, &top)?;
            holds.push(Hold {
                kind: Kind::Strut { sliding, ends: [top, lower] },
                joint: Some(top),
                plane: Plane { point: top, normal: sliding.direction },
            });
        }
        for links in pairs {
            let [a, b] = links;
            let ends = [place.link(a)?, place.link(b)?];
            let [first, second] = [line(&ends[0])?, line(&ends[1])?];
            let pivot = VirtualPivot::of(&first, &second);
            holds.push(Hold {
                kind: Kind::Pair { links, ends, pivot },
                joint: pivot.map(|pivot| pivot.at),
                plane: Plane::spanned(&first, &second)?,
            });
        }
        let [first, second] = holds[..] else { return None };
        let height = |hold: &Hold| hold.joint.unwrap_or(hold.plane.point).z;
        let (lower, upper) = if height(&first) > height(&second) { (second, first) } else { (first, second) };
        let ends = place.link(single)?;
        Some(Self::Holds { lower, upper, single: SingleLink { index: single, ends, line: line(&ends)? } })
    }

    /// The classical instant axis: the hinge's line, or the line in which both holds' planes
    /// cut each other; `None` where the planes are parallel.
    #[must_use]
    pub fn instant_axis(&self) -> Option<Straight> {
        match self {
            Self::Hinge { axis, .. } => Some(*axis),
            Self::Holds { lower, upper, .. } => lower.plane.meet(&upper.plane),
        }
    }

    /// The motion about the classical instant axis per mm that `centre` rises: no pitch, and
    /// where the planes are parallel no turning. `None` where such a motion does not raise it.
    #[must_use]
    pub fn motion(&self, centre: &Vec3) -> Option<Twist> {
        let turning = match (self.instant_axis(), self) {
            (Some(axis), _) => Twist::about(&axis.point, &axis.direction, 0.0),
            (None, Self::Holds { lower, .. }) => Twist { angular: Vec3::zeros(), linear: lower.plane.normal },
            (None, Self::Hinge { .. }) => return None,
        };
        let rise = turning.velocity_at(centre).z;
        (rise.abs() > SAME_PLACE).then(|| Twist::ZERO.plus(1.0 / rise, &turning))
    }

    /// The classical steering axis: the line through both holds' joints, upward. `None` on a
    /// hinge and where a virtual pivot is at infinity.
    #[must_use]
    pub fn joint_line(&self) -> Option<Straight> {
        match self {
            Self::Hinge { .. } => None,
            Self::Holds { lower, upper, .. } => Straight::through(&lower.joint?, &upper.joint?),
        }
    }

    /// Both holds, the lower first; none on a hinge.
    pub fn holds(&self) -> impl Iterator<Item = &Hold> {
        let holds = match self {
            Self::Hinge { .. } => [None, None],
            Self::Holds { lower, upper, .. } => [Some(lower), Some(upper)],
        };
        holds.into_iter().flatten()
    }
}

/// Where a corner's points are in a position.
#[derive(Clone, Copy)]
pub(super) struct Place<'a> {
    pub(super) corner: &'a Corner,
    pub(super) linkage: &'a Linkage,
    pub(super) position: &'a Position,
}

impl Place<'_> {
    pub(super) fn knuckle(&self, design: [f64; 3]) -> Vec3 {
        self.position.carry(self.linkage, &Vec3::from(design))
    }

    /// Inboard and outboard end of a link.
    pub(super) fn link(&self, index: usize) -> Option<[Vec3; 2]> {
        let link = self.corner.links.get(index)?;
        let mut inboard = Vec3::from(link.inboard);
        if link.steers {
            let rack = Vec3::from(self.corner.rack_direction.unwrap_or(RACK_DIRECTION));
            let size = norm(&rack);
            if size >= SAME_PLACE {
                inboard += self.position.state().rack / size * rack;
            }
        }
        Some([inboard, self.knuckle(link.outboard)])
    }
}

fn line([inboard, outboard]: &[Vec3; 2]) -> Option<Straight> {
    Straight::through(inboard, outboard)
}

/// The single link and the pairs of the others, by the rule of [`Scheme::of`].
fn pairing(corner: &Corner) -> Option<(usize, Vec<[usize; 2]>)> {
    let steering = corner.links.iter().position(|link| link.steers);
    let mut best: Option<(f64, usize, Vec<[usize; 2]>)> = None;
    let mut next = f64::INFINITY;
    for single in 0..corner.links.len() {
        if steering.is_some_and(|steering| steering != single) {
            continue;
        }
        let rest: Vec<usize> = (0..corner.links.len()).filter(|i| *i != single).collect();
        let ways: Vec<Vec<[usize; 2]>> = match rest[..] {
            [] => [Vec::new()].into(),
            [a, b] => [[[a, b]].into()].into(),
            [a, b, c, d] => {
                [[[a, b], [c, d]].into(), [[a, c], [b, d]].into(), [[a, d], [b, c]].into()].into()
            }
            _ => return None,
        };
        for pairs in ways {
            let spread: f64 = pairs.iter().filter_map(|pair| apart(corner, *pair)).map(|d| d * d).sum();
            match &best {
                Some((least, ..)) if *least <= spread => next = next.min(spread),
                _ => {
                    next = best.map_or(next, |(least, ..)| least);
                    best = Some((spread, single, pairs));
                }
            }
        }
    }
    let (spread, single, pairs) = best?;
    // Without pairs the single link is the only one.
    let clear = pairs.is_empty() || spread * CLEARLY_NEARER <= next;
    (clear && pairs.iter().all(|pair| stands_apart(corner, *pair, &pairs))).then_some((single, pairs))
}

fn outboard(corner: &Corner, [a, b]: [usize; 2]) -> Option<[Vec3; 2]> {
    let end = |link: &Link| Vec3::from(link.outboard);
    Some([end(corner.links.get(a)?), end(corner.links.get(b)?)])
}

fn apart(corner: &Corner, pair: [usize; 2]) -> Option<f64> {
    outboard(corner, pair).map(|[a, b]| norm(&(b - a)))
}

/// Whether a pair's ends are nearer to each other than their middle is to any other hold.
fn stands_apart(corner: &Corner, pair: [usize; 2], pairs: &[[usize; 2]]) -> bool {
    let Some([a, b]) = outboard(corner, pair) else { return false };
    let (middle, spread) = (0.5 * (a + b), norm(&(b - a)));
    let joints = (corner.arms.iter().map(|arm| Vec3::from(arm.ball_joint)))
        .chain(corner.strut.iter().map(|strut| Vec3::from(strut.top_mount)))
        .chain(pairs.iter().filter(|other| **other != pair).filter_map(|other| {
            let [a, b] = outboard(corner, *other)?;
            Some(0.5 * (a + b))
        }));
    joints.into_iter().all(|joint| spread < norm(&(joint - middle)))
}
