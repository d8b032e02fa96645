//! Beyond its reach: the pose in which the members come nearest to closing, and what is missing
//! between each of them and the knuckle.
//!
//! The five closure errors are made as small as they get in the sense of least squares, by the
//! method of Levenberg (Quart. Appl. Math. 2, 1944) and Marquardt (J. Soc. Indust. Appl. Math. 11, 1963)
//! with the constraints' rows as Jacobian: at the end of a linkage these rows are dependent, and
//! Newton has no step to take.

use alloc::vec::Vec;
use core::array::from_fn;

use super::{Position, State};
use crate::{
    Mat3, Vec3,
    bounds::{HOLDS, MOMENT_SCALE, STILL},
    closure::Constraint,
    elimination::{EquationRow, UNKNOWNS, reduce_pivoting},
    float::{norm, sqrt},
    linkage::{Linkage, Member},
    screw::Twist,
};

/// Parts of the way from the last position to the state asked for; each begins where the one
/// before ended, so that the assembly stays the same as long as it can.
const PARTS: u32 = 16;
/// Steps of one part.
const STEPS: u32 = 40;
/// The damping of a part's first step.
const DAMPING: f64 = 1e-3;
/// By what it falls after a step that was one, and rises after one that was none.
const FALLS: f64 = 0.2;
const RISES: f64 = 8.0;
/// So much damping leaves the knuckle where it is.
const MOST_DAMPING: f64 = 1e9;

/// Where the knuckle stands when its members come nearest to a state that they do not reach.
#[derive(Debug, Clone, PartialEq)]
pub struct Nearest {
    /// The state asked for.
    pub state: State,
    /// The knuckle's rotation since the design position.
    pub rotation: Mat3,
    /// Where the wheel centre is, mm: at the height asked for.
    pub wheel_centre: Vec3,
    /// What is missing, the widest gap first; none where the state is reached after all.
    pub gaps: Vec<Gap>,
}

/// What is missing between a member and the knuckle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gap {
    /// The member.
    pub member: Member,
    /// As near as the member comes, mm. Of a strut its top mount on the body.
    pub on_member: Vec3,
    /// Where the knuckle has the joint, mm. Of a strut the nearest point of its line.
    pub on_knuckle: Vec3,
}

impl Gap {
    /// How far the two are apart, mm.
    #[must_use]
    pub fn width(&self) -> f64 {
        norm(&(self.on_member - self.on_knuckle))
    }
}

impl Nearest {
    /// The nearest the members come to `state`, sought from a position of the same linkage on the
    /// straight way to it. `None` where numbers are too large to go on.
    #[must_use]
    pub fn to(linkage: &Linkage, from: &Position, state: State) -> Option<Self> {
        let begin = from.state();
        let mut pose = (from.rotation(), from.wheel_centre());
        for part in 1..=PARTS {
            let aim = begin.towards(&state, f64::from(part) / f64::from(PARTS));
            pose = settle(linkage, pose, aim)?;
        }
        let (rotation, wheel_centre) = pose;
        let mut gaps = gaps(linkage, &rotation, &wheel_centre, state.rack);
        gaps.sort_by(|a, b| b.width().total_cmp(&a.width()));
        Some(Self { state, rotation, wheel_centre, gaps })
    }

    /// Where a knuckle point is that stood at `design` in the design position.
    #[must_use]
    pub fn carry(&self, linkage: &Linkage, design: &Vec3) -> Vec3 {
        self.wheel_centre + self.rotation * (design - linkage.wheel_centre)
    }
}

type Pose = (Mat3, Vec3);

/// The pose of least closure errors near `pose`, with the wheel centre at the height asked for.
fn settle(linkage: &Linkage, (rotation, centre): Pose, state: State) -> Option<Pose> {
    let height = linkage.wheel_centre.z + state.travel;
    let mut pose = (rotation, Vec3::new(centre.x, centre.y, height));
    let mut damping = DAMPING;
    let mut rows = rows(linkage, &pose, state.rack);
    for _ in 0..STEPS {
        // Undamped the way may be barred, as it is at a dead point.
        let taken = step(&rows, damping).map(|step| {
            let moved = moved(&pose, &step);
            (step, moved, self::rows(linkage, &moved, state.rack))
        });
        match taken {
            // Written so that NaN is no step.
            Some((step, moved, there)) if error(&there) < error(&rows) => {
                (pose, rows) = (moved, there);
                damping *= FALLS;
                if size(&step) < STILL {
                    break;
                }
            }
            _ => {
                damping *= RISES;
                if damping > MOST_DAMPING {
                    break;
                }
            }
        }
    }
    pose.1.iter().all(|c| c.is_finite()).then_some(pose)
}

/// The constraints' rows in a pose: derivatives by rotation (scaled), x and y, then the error
/// with its sign turned.
fn rows(linkage: &Linkage, (rotation, centre): &Pose, rack: f64) -> [EquationRow; UNKNOWNS] {
    linkage.constraints.each_ref().map(|constraint| constraint.equation(rotation, centre, rack))
}

/// The sum of the errors' squares, mm².
fn error(rows: &[EquationRow; UNKNOWNS]) -> f64 {
    rows.iter().map(|row| row[UNKNOWNS] * row[UNKNOWNS]).sum()
}

/// The step that makes the errors smaller, shorter the more it is damped: `(JᵀJ + damping) step = −Jᵀ error`.
fn step(rows: &[EquationRow; UNKNOWNS], damping: f64) -> Option<[f64; UNKNOWNS]> {
    let mut normal = [[0.0; 8]; UNKNOWNS];
    for (i, of_unknown) in normal.iter_mut().enumerate() {
        for j in 0..=UNKNOWNS {
            of_unknown[j] = rows.iter().map(|row| row[i] * row[j]).sum();
        }
        of_unknown[i] += damping;
    }
    reduce_pivoting(&mut normal, None)?;
    Some(normal.map(|row| row[UNKNOWNS]))
}

fn size(step: &[f64; UNKNOWNS]) -> f64 {
    sqrt(step.iter().map(|part| part * part).sum())
}

/// The pose after a step.
fn moved((rotation, centre): &Pose, &[x, y, z, vx, vy]: &[f64; UNKNOWNS]) -> Pose {
    let turn = Vec3::new(x, y, z) / MOMENT_SCALE;
    let turned = Twist::at_point(&Vec3::zeros(), turn, Vec3::zeros()).exp();
    (turned.rotation * rotation, centre + Vec3::new(vx, vy, 0.0))
}

/// What is missing at each of the knuckle's joints.
fn gaps(linkage: &Linkage, rotation: &Mat3, centre: &Vec3, rack: f64) -> Vec<Gap> {
    let mut gaps: Vec<(Vec3, Gap)> = Vec::with_capacity(UNKNOWNS);
    let places: [usize; UNKNOWNS] = from_fn(|i| {
        let member = linkage.members[i];
        let joint = match linkage.constraints[i] {
            Constraint::Distance { arm, .. } | Constraint::BodyPlane { arm, .. } => centre + rotation * arm,
            Constraint::KnucklePlane { at, .. } => at,
        };
        let known = gaps.iter().position(|(other, gap)| gap.member == member && *other == joint);
        known.unwrap_or_else(|| {
            gaps.push((joint, Gap { member, on_member: joint, on_knuckle: joint }));
            gaps.len() - 1
        })
    });
    // Planes first: an arm's joint stands in its plane, at its reach from a point of that plane.
    for (constraint, place) in linkage.constraints.iter().zip(places) {
        let gap = &mut gaps[place].1;
        match constraint {
            Constraint::BodyPlane { normal, offset, .. } => {
                gap.on_member -= (normal.dot(&gap.on_member) - offset) * normal;
            }
            Constraint::KnucklePlane { at, normal, offset } => {
                let direction = rotation * normal;
                gap.on_knuckle += (offset - direction.dot(&(at - centre))) * direction;
            }
            Constraint::Distance { .. } => {}
        }
    }
    for (constraint, place) in linkage.constraints.iter().zip(places) {
        if let Constraint::Distance { from, per_rack, square, .. } = constraint {
            let gap = &mut gaps[place].1;
            let from = from + rack * per_rack;
            let along = gap.on_member - from;
            gap.on_member = from + sqrt(square / along.norm_squared()) * along;
        }
    }
    gaps.into_iter().map(|(_, gap)| gap).filter(|gap| gap.width() > HOLDS).collect()
}
