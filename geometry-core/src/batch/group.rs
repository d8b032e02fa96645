//! One group of corners, side by side.

#![expect(clippy::inline_always, reason = "so that a caller's wider instructions reach the lanes")]
#![expect(clippy::needless_range_loop, reason = "a loop over lanes is what becomes one instruction")]

mod lanes;

use alloc::vec::Vec;

use self::lanes::{Knot, Lane, NONE, Poses, Signs, evaluate};
use super::LANES;
use crate::{
    Mat3, Vec3,
    bounds::{LARGEST_CORRECTION, LONGEST_STEP, SETTLED, SMALL_PIVOT},
    closure::Form,
    elimination::UNKNOWNS,
    linkage::Linkage,
    screw::Twist,
    solve::{Follower, Outcome, Position, State},
};

/// Corrections tried abreast before the corners that have not settled are left to
/// themselves: a first step from a tangent takes three or four.
const MOST_TOGETHER: u32 = 6;

/// A group of corners. What a lane without a corner holds is a copy of the first.
#[derive(Debug, Clone)]
pub(super) struct Group<'a> {
    linkages: &'a [Linkage],
    with_no_rack: [Form<Lane>; UNKNOWNS],
    forms: [Form<Lane>; UNKNOWNS],
    /// Sign of the determinant on each corner's branch.
    branch: Lane,
    design_centre: [Lane; 3],
    /// Four places, of which one is being filled, as the solver has them.
    knots: [Knot; 4],
    newest: usize,
    state: State,
    step: State,
    even: bool,
    knows_rack: bool,
    abreast: [bool; LANES],
    alone: Vec<Alone<'a>>,
}

/// A corner that has left the group.
#[derive(Debug, Clone)]
struct Alone<'a> {
    lane: usize,
    follower: Follower<'a>,
    reached: bool,
}

impl<'a> Group<'a> {
    /// The corners in their design positions; `linkages` are at least one and at most
    /// [`LANES`].
    pub(super) fn new(linkages: &'a [Linkage]) -> Self {
        let none = Form {
            arm: [NONE; 3],
            body: [NONE; 3],
            per_rack: [NONE; 3],
            lean: [NONE; 3],
            follows: NONE,
            along: NONE,
            drift: NONE,
            offset: NONE,
        };
        let mut forms = [none; UNKNOWNS];
        let mut pose = [NONE; 6];
        pose[0] = [1.0; LANES];
        let knot = Knot { pose, change: [NONE; 6], change_with_rack: [NONE; 6], travel: [NONE; UNKNOWNS] };
        let mut abreast = [false; LANES];
        let mut branch = [1.0; LANES];
        let mut design_centre = [NONE; 3];
        for lane in 0..LANES {
            let Some(linkage) = linkages.get(lane).or(linkages.first()) else { continue };
            abreast[lane] = lane < linkages.len();
            for (lanes, value) in design_centre.iter_mut().zip(linkage.wheel_centre.iter()) {
                lanes[lane] = *value;
            }
            branch[lane] = if linkage.positive { 1.0 } else { -1.0 };
            for (forms, constraint) in forms.iter_mut().zip(&linkage.constraints) {
                forms.put(lane, &constraint.form(&linkage.wheel_centre));
            }
        }
        let (mut at_design, mut signs) = (knot, Signs::NONE);
        evaluate::<3>(&forms, &branch, &pose, 0.0, &mut at_design, &mut signs);
        let mut group = Self {
            linkages,
            with_no_rack: forms,
            forms,
            branch,
            design_centre,
            knots: [Knot { pose, ..at_design }; 4],
            newest: 0,
            state: State::DESIGN,
            step: State::DESIGN,
            even: false,
            knows_rack: true,
            abreast,
            alone: Vec::new(),
        };
        group.part_with_unsound(&signs, |_| LARGEST_CORRECTION);
        group
    }

    pub(super) fn corners(&self) -> usize {
        self.linkages.len()
    }

    #[inline(always)]
    pub(super) fn is_abreast(&self, lane: usize) -> bool {
        self.abreast[lane & (LANES - 1)]
    }

    /// The position of a corner that has left the group, where it reached the state.
    pub(super) fn alone(&self, lane: usize) -> Option<&Position> {
        let alone = self.alone.iter().find(|alone| alone.lane == lane)?;
        alone.reached.then(|| alone.follower.position())
    }

    #[inline(always)]
    fn knot(&self, back: usize) -> &Knot {
        &self.knots[self.newest.wrapping_sub(back) & 3]
    }

    #[inline(always)]
    pub(super) fn wheel_centre(&self, lane: usize) -> Vec3 {
        let ([.., x, y], [at_x, at_y, at_z]) = (&self.knot(0).pose, &self.design_centre);
        let lane = lane & (LANES - 1);
        Vec3::new(at_x[lane] + x[lane], at_y[lane] + y[lane], at_z[lane] + self.state.travel)
    }

    pub(super) fn rotation(&self, lane: usize) -> Mat3 {
        self.position(lane).rotation()
    }

    #[inline(always)]
    pub(super) fn travel_twist(&self, lane: usize) -> Twist {
        let centre = self.wheel_centre(lane);
        let lane = lane & (LANES - 1);
        let [x, y, z, vx, vy] = self.knot(0).travel.map(|value| value[lane]);
        Twist::at_point(&centre, Vec3::new(x, y, z), Vec3::new(vx, vy, 1.0))
    }

    pub(super) fn position(&self, lane: usize) -> Position {
        let pose = self.knot(0).pose.map(|value| value[lane & (LANES - 1)]);
        let linkage = &self.linkages[lane];
        Position::of_pose(linkage, self.state, pose)
    }

    /// Leads all corners to a state, in steps that are predicted in one go.
    // In WebAssembly there is one width of instructions, and code inlined into a caller that
    // is compiled for size is compiled for size too.
    #[cfg_attr(not(target_family = "wasm"), inline(always))]
    #[cfg_attr(target_family = "wasm", inline(never))]
    pub(super) fn lead(&mut self, target: State) {
        let from = self.state;
        let (travel, rack) = (target.travel - from.travel, target.rack - from.rack);
        let distance = travel.abs() + rack.abs();
        if self.abreast == [false; LANES] {
            self.state = target;
        } else if distance <= LONGEST_STEP {
            self.step_to(target);
        } else {
            self.lead_far(target);
        }
        self.lead_alone(target);
    }

    /// More than one step; what is no number or beyond all bounds is left to each corner alone.
    #[cold]
    fn lead_far(&mut self, target: State) {
        let from = self.state;
        let (travel, rack) = (target.travel - from.travel, target.rack - from.rack);
        let steps = (travel.abs() + rack.abs()) / LONGEST_STEP;
        if steps < 1000.0 {
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "from 1 to 1000")]
            let steps = steps as u32 + 1;
            for i in 1..steps {
                let share = f64::from(i) / f64::from(steps);
                self.step_to(State { travel: from.travel + share * travel, rack: from.rack + share * rack });
            }
            self.step_to(target);
        } else {
            for lane in 0..LANES {
                self.part(lane);
            }
        }
    }

    #[inline(always)]
    fn lead_alone(&mut self, target: State) {
        if !self.alone.is_empty() {
            self.advance_alone(target);
        }
    }

    #[cold]
    fn advance_alone(&mut self, target: State) {
        for alone in &mut self.alone {
            alone.reached = alone.follower.advance(target).is_ok();
        }
    }

    /// One step of all that are abreast.
    #[inline(always)]
    fn step_to(&mut self, target: State) {
        if target.rack == self.state.rack {
            self.step_with::<2>(target);
        } else {
            self.step_along_rack(target);
        }
    }

    #[inline(always)]
    fn step_along_rack(&mut self, target: State) {
        if !self.knows_rack {
            let knot = &mut self.knots[self.newest & 3];
            let (at, mut signs) = (*knot, Signs::NONE);
            evaluate::<3>(&self.forms, &self.branch, &at.pose, self.state.travel, knot, &mut signs);
        }
        for (form, base) in self.forms.iter_mut().zip(&self.with_no_rack) {
            form.set_rack(base, target.rack);
        }
        self.step_with::<3>(target);
    }

    #[inline(always)]
    fn step_with<const SIDES: usize>(&mut self, target: State) {
        let step = State { travel: target.travel - self.state.travel, rack: target.rack - self.state.rack };
        let even = step.is_about(&self.step);
        let mut pose = self.predict::<SIDES>(&step, even);
        let mut allowed = [LARGEST_CORRECTION; LANES];
        let mut signs = Signs::NONE;
        let next = (self.newest + 1) & 3;
        for _ in 0..MOST_TOGETHER {
            let knot = &mut self.knots[next];
            evaluate::<SIDES>(&self.forms, &self.branch, &pose, target.travel, knot, &mut signs);
            if !self.all_settled(&signs) {
                self.part_with_unsound(&signs, |lane| allowed[lane]);
                if !self.all_settled(&signs) {
                    pose = self.knots[next].pose;
                    allowed = signs.size.map(|size| (0.5 * size).max(SETTLED));
                    continue;
                }
            }
            self.newest = next;
            self.state = target;
            self.step = step;
            self.even = even;
            self.knows_rack = SIDES > 2;
            return;
        }
        for lane in 0..LANES {
            self.part(lane);
        }
        self.state = target;
        self.even = false;
    }

    /// Whether every corner abreast is at its last correction, on its branch.
    #[inline(always)]
    fn all_settled(&self, signs: &Signs) -> bool {
        let mut all = true;
        for lane in 0..LANES {
            // Written so that NaN is refused.
            let settled = signs.size[lane] <= SETTLED
                && signs.least_pivot[lane] >= SMALL_PIVOT
                && signs.determinant[lane] > 0.0;
            all &= settled || !self.abreast[lane];
        }
        all
    }

    /// Corners whose step needs more care than is taken here go their own way.
    #[cold]
    fn part_with_unsound(&mut self, signs: &Signs, allowed: impl Fn(usize) -> f64) {
        for lane in 0..LANES {
            let size = signs.size[lane];
            let branch = size > SETTLED || signs.determinant[lane] > 0.0;
            let sound = signs.least_pivot[lane] >= SMALL_PIVOT && size <= allowed(lane) && branch;
            if !sound {
                self.part(lane);
            }
        }
    }

    /// The corner of a lane goes its own way, from the state reached last.
    #[cold]
    fn part(&mut self, lane: usize) {
        if let Some(linkage) = self.linkages.get(lane)
            && self.abreast[lane]
        {
            self.abreast[lane] = false;
            let mut follower = Follower::new(linkage);
            let reached = matches!(follower.go_to(self.state), Outcome::Solved(_));
            self.alone.push(Alone { lane, follower, reached });
        }
    }

    /// The solver's predictor, for all lanes.
    #[inline(always)]
    fn predict<const SIDES: usize>(&self, step: &State, even: bool) -> Poses {
        // Weights of a position and of its change.
        let mut weights = [(1.0, 1.0), (0.0, 0.0), (0.0, 0.0)];
        let mut along = *step;
        if self.even && even {
            weights = [(-18.0, 9.0), (9.0, 18.0), (10.0, 3.0)];
        } else if let Some(u) = step.over(&self.step) {
            let (u2, u3) = (u * u, u * u * u);
            along = self.step;
            weights[0] = (3.0 * u2 - 2.0 * u3, u3 - u2);
            weights[1] = (2.0 * u3 - 3.0 * u2 + 1.0, u3 - 2.0 * u2 + u);
        }
        let [(va, sa), (vb, sb), (vc, sc)] = weights;
        let (ta, tb, tc) = (sa * along.travel, sb * along.travel, sc * along.travel);
        let (a, b, c) = (self.knot(0), self.knot(1), self.knot(2));
        let mut sum = [NONE; 6];
        for i in 0..6 {
            for lane in 0..LANES {
                let poses = va * a.pose[i][lane] + vb * b.pose[i][lane] + vc * c.pose[i][lane];
                let changes = ta * a.change[i][lane] + tb * b.change[i][lane] + tc * c.change[i][lane];
                sum[i][lane] = poses + changes;
            }
        }
        if SIDES > 2 {
            let (ra, rb, rc) = (sa * along.rack, sb * along.rack, sc * along.rack);
            for i in 0..6 {
                let (a, b, c) = (&a.change_with_rack[i], &b.change_with_rack[i], &c.change_with_rack[i]);
                for lane in 0..LANES {
                    sum[i][lane] += ra * a[lane] + rb * b[lane] + rc * c[lane];
                }
            }
        }
        sum
    }
}
