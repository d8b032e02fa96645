//! The wheel: tyre, rim and brake disc.
//!
//! What stands behind the tyre or the rim is drawn dashed, the line type of hidden edges
//! (ISO 128-2, line 02.1, from memory).

use std::sync::LazyLock;

use geometry_core::{
    Vec3,
    setup::{BrakeDisc, Brakes, Corner, Rim},
    tyre::Size,
};

use super::{Pen, Placed};
use crate::{edit::PointPath, view::View};

/// Points around a circle; smooth at any zoom the sheet allows.
const ROUND: usize = 64;
/// Sine and cosine of each: a wheel is some dozen circles, drawn anew while it moves.
static ROUNDS: LazyLock<[[f64; 2]; ROUND]> = LazyLock::new(|| {
    #[expect(clippy::cast_precision_loss, reason = "a handful of points")]
    let angle = |i: usize| std::f64::consts::TAU * i as f64 / ROUND as f64;
    std::array::from_fn(|i| angle(i).sin_cos().into())
});
/// Radius of a hub's flange, mm: common practice, no source; it shows where the rim's
/// mounting face stands, not how large it is.
const FLANGE: f64 = 75.0;

/// The wheel of a corner, in one view.
pub(super) fn draw(pen: &mut Pen, corner: &Corner, placed: &Placed) {
    let Some(centre) = placed.at(PointPath::WheelCentre) else { return };
    let about = About { centre, spin: placed.spin() };
    let radius = placed.radius();
    let (width, rim_radius) = tyre_size(corner);
    let half = width / 2.0;
    let rings: Vec<Vec3> =
        [(-0.78, 1.0), (0.78, 1.0), (-0.97, 0.95), (0.97, 0.95), (-1.0, 0.87), (1.0, 0.87)]
            .into_iter()
            .flat_map(|(across, around)| about.ring(across * half, around * radius))
            .collect();
    pen.hull("tyre", &rings);
    rim(pen, &about, corner.wheel.rim.as_ref(), half, rim_radius);
    // A disc of inboard brakes stands on the body, nobody says where.
    if let Some(brake_disc) = corner.wheel.brake_disc.as_ref().filter(|_| corner.brakes == Brakes::Outboard) {
        disc(pen, &about, brake_disc);
    }
    let reach = half + 40.0;
    pen.line("centre-line", &about.along(-reach), &about.along(reach));
    if pen.view() == View::Side {
        for direction in [Vec3::x(), Vec3::z()] {
            let reach = radius + 25.0;
            pen.line("centre-line", &(centre - reach * direction), &(centre + reach * direction));
        }
    }
    pen.circle("hub", &centre, 2.5);
}

/// The corners of the box, along the axes, that a wheel's tyre fills as it stands.
#[must_use]
pub fn bounds(corner: &Corner, placed: &Placed) -> Option<[Vec3; 8]> {
    let centre = placed.at(PointPath::WheelCentre)?;
    let half = tyre_size(corner).0 / 2.0;
    let radius = placed.radius();
    // A disc reaches along an axis as far as its plane leans towards it.
    let reach = placed.spin().map(|n| radius * (1.0 - n * n).max(0.0).sqrt() + half * n.abs());
    // All eight: the body that they are told in may lean.
    let sign = |i: usize, bit: usize| if i & bit == 0 { -1.0 } else { 1.0 };
    let corner = |i: usize| Vec3::new(sign(i, 1), sign(i, 2), sign(i, 4)).component_mul(&reach);
    Some(std::array::from_fn(|i| centre + corner(i)))
}

/// The axis that wheel, rim and disc turn about.
struct About {
    centre: Vec3,
    spin: Vec3,
}

impl About {
    /// A point of the axis, mm outboard of the wheel centre.
    fn along(&self, offset: f64) -> Vec3 {
        self.centre + offset * self.spin
    }

    /// A circle about the axis, `offset` mm outboard of the wheel centre.
    fn ring(&self, offset: f64, radius: f64) -> Vec<Vec3> {
        // Any two directions square to the axis; the first is nearly horizontal.
        let across = self.spin.cross(&Vec3::z());
        let across = if across.norm() > 1e-6 { across.normalize() } else { Vec3::x() };
        let up = across.cross(&self.spin);
        let middle = self.along(offset);
        ROUNDS.iter().map(|[sine, cosine]| middle + radius * (*cosine * across + *sine * up)).collect()
    }
}

/// Section width and rim radius, mm: by the tyre's size where its text is one that can
/// stand on this wheel, else a tyre's usual shares of the radius.
fn tyre_size(corner: &Corner) -> (f64, f64) {
    let radius = corner.wheel.loaded_radius;
    let size = corner.wheel.tyre.as_deref().and_then(Size::read);
    match size.filter(|size| size.rim_diameter / 2.0 < 0.95 * radius) {
        Some(size) => (size.section_width, size.rim_diameter / 2.0),
        None => (0.68 * radius, 0.7 * radius),
    }
}

/// The rim's edges. A described rim is drawn at its width, with its mounting face; the view
/// from the left looks at its outer edge, the other views have the tyre before it.
fn rim(pen: &mut Pen, about: &About, rim: Option<&Rim>, half_tyre: f64, radius: f64) {
    let Some(rim) = rim else {
        for side in [-0.9, 0.9] {
            pen.path("rim", &about.ring(side * half_tyre, radius), true);
        }
        return;
    };
    let half = rim.width / 2.0;
    if pen.view() == View::Side {
        pen.path("rim", &about.ring(half, radius), true);
        pen.path("rim hidden", &about.ring(-half, radius), true);
    } else {
        let edges: Vec<Vec3> =
            [-half, half].into_iter().flat_map(|offset| about.ring(offset, radius)).collect();
        pen.hull("rim hidden", &edges);
    }
    pen.hull("rim hidden", &about.ring(rim.offset, FLANGE));
}

/// The disc's outline, inside the rim in every view.
fn disc(pen: &mut Pen, about: &About, disc: &BrakeDisc) {
    let faces = [-0.5, 0.5].map(|side| side * disc.thickness - disc.inset);
    let edges: Vec<Vec3> =
        faces.into_iter().flat_map(|offset| about.ring(offset, disc.diameter / 2.0)).collect();
    pen.hull("disc hidden", &edges);
}
