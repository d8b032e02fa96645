//! All five constraints of a corner at once.

use wide::f64x2;

use super::pose::Pose;
use crate::{
    Vec3,
    closure::{Constraint, Form},
    elimination::{Columns, PerRack, UNKNOWNS},
};

/// A corner's constraints in pairs, in the linkage's order; the sixth is none at all.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct System([Form<f64x2>; 3]);

impl System {
    /// The constraints of a corner whose wheel centre stands at `centre` in the design
    /// position.
    pub(crate) fn new(constraints: &[Constraint; UNKNOWNS], centre: &Vec3) -> Self {
        let [a, b, c, d, e] = constraints.each_ref().map(|constraint| constraint.form(centre));
        let pair = Form::side_by_side;
        Self([pair(&a, &b), pair(&c, &d), pair(&e, &Form::NONE)])
    }

    /// With the steering link's inboard end where the rack takes it, from zero.
    #[inline(always)]
    pub(super) fn at_rack(&self, rack: f64) -> Self {
        let rack = f64x2::splat(rack);
        let [a, b, c] = &self.0;
        Self([a.with_rack(rack), b.with_rack(rack), c.with_rack(rack)])
    }

    /// How the rack moves the body points.
    pub(super) fn per_rack(&self) -> PerRack {
        self.0.each_ref().map(|form| form.per_rack)
    }

    /// The rows of the linear system in a pose.
    #[inline(always)]
    pub(super) fn rows(&self, pose: &Pose, travel: f64) -> Columns {
        let rotation = pose.rotation().map(f64x2::splat);
        let [x, y] = pose.displacement();
        let centre = [f64x2::splat(x), f64x2::splat(y), f64x2::splat(travel)];
        let [of_a, of_b, of_c] = &self.0;
        let (a, b, c) =
            (of_a.row(&rotation, &centre), of_b.row(&rotation, &centre), of_c.row(&rotation, &centre));
        let zero = f64x2::splat(0.0);
        Columns([
            [a.moment[0], b.moment[0], c.moment[0]],
            [a.moment[1], b.moment[1], c.moment[1]],
            [a.moment[2], b.moment[2], c.moment[2]],
            [a.direction[0], b.direction[0], c.direction[0]],
            [a.direction[1], b.direction[1], c.direction[1]],
            [zero - a.error, zero - b.error, zero - c.error],
            [zero - a.direction[2], zero - b.direction[2], zero - c.direction[2]],
        ])
    }
}
