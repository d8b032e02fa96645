//! Front, side and plan: `project` and `unproject`, the y axis flipped once, here.
//!
//! One sheet in first-angle projection (ISO 5456-2): the front view at the upper right, its left wheel at the
//! viewer's right; the view from the left, front of the car to the left, on the far side of it, which is the viewer's
//! left; what is seen from above below, the front of the car downward. A point stands on one horizontal line in front
//! and side view and on one vertical line in front and plan view.

use geometry_core::Vec3;

/// One of the three views.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum View {
    /// y to the right, z up.
    Front,
    /// Forward to the left, z up.
    Side,
    /// y to the right, forward downward.
    Plan,
}

impl View {
    /// All three, the principal view first.
    pub const ALL: [Self; 3] = [Self::Front, Self::Side, Self::Plan];

    /// What the view is called on the sheet.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Front => "Front view",
            Self::Side => "View from the left",
            Self::Plan => "Plan view",
        }
    }

    /// The point's two coordinates in the view, mm, right and down, before the sheet places them.
    #[must_use]
    pub fn flatten(self, p: &Vec3) -> [f64; 2] {
        match self {
            Self::Front => [p.y, -p.z],
            Self::Side => [-p.x, -p.z],
            Self::Plan => [p.y, p.x],
        }
    }

    /// The displacement in space that a displacement in the view means; nothing changes
    /// along the view's direction.
    #[must_use]
    pub fn lift(self, right: f64, down: f64) -> Vec3 {
        match self {
            Self::Front => Vec3::new(0.0, right, -down),
            Self::Side => Vec3::new(-right, 0.0, -down),
            Self::Plan => Vec3::new(down, right, 0.0),
        }
    }
}

/// A rectangle in the pixels of the sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rectangle {
    /// Left edge.
    pub left: f64,
    /// Top edge.
    pub top: f64,
    /// Right edge.
    pub right: f64,
    /// Bottom edge.
    pub bottom: f64,
}

impl Rectangle {
    /// Whether a point lies in it.
    #[must_use]
    pub fn holds(&self, [x, y]: [f64; 2]) -> bool {
        self.left <= x && x <= self.right && self.top <= y && y <= self.bottom
    }

    /// The part of a line segment inside (Liang and Barsky, ACM Trans. Graphics 3, 1984).
    #[must_use]
    pub fn clip(&self, a: [f64; 2], b: [f64; 2]) -> Option<([f64; 2], [f64; 2])> {
        let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
        let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
        for (step, room) in [
            (-dx, a[0] - self.left),
            (dx, self.right - a[0]),
            (-dy, a[1] - self.top),
            (dy, self.bottom - a[1]),
        ] {
            if step == 0.0 {
                if room < 0.0 {
                    return None;
                }
            } else if step < 0.0 {
                enter = enter.max(room / step);
            } else {
                leave = leave.min(room / step);
            }
        }
        (enter <= leave).then(|| {
            let at = |t: f64| [a[0] + t * dx, a[1] + t * dy];
            (at(enter), at(leave))
        })
    }
}

/// What the sheet shows, in mm: chosen for a setup and by Fit, so that it does not jump while a
/// point is dragged or the wheel moves.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Frame {
    /// Least x, y, z shown.
    pub least: Vec3,
    /// Greatest x, y, z shown.
    pub most: Vec3,
}

/// mm kept free around what is described.
const MARGIN: f64 = 70.0;
/// mm of those that paper can do without, where that makes room for a larger scale.
pub const SPARE: f64 = 50.0;
/// mm around what has moved out of the place it is described in: more than paper does without.
const AROUND_MOVED: f64 = SPARE + 10.0;

impl Frame {
    /// The same and its mirror image: both wheels, the centre plane in the middle.
    #[must_use]
    pub fn with_mirror_image(mut self) -> Self {
        let out = self.most.y.max(-self.least.y);
        (self.least.y, self.most.y) = (-out, out);
        self
    }

    /// Holds all points, the ground, the centre plane and the wheel.
    #[must_use]
    pub fn around(points: impl IntoIterator<Item = Vec3>, wheel_centre: &Vec3, radius: f64) -> Self {
        let reach = Vec3::new(radius, 0.0, radius);
        let mut least = wheel_centre - reach;
        let mut most = wheel_centre + reach;
        // The tyre's own width outboard of the wheel centre.
        most.y += 0.45 * radius;
        least.y = least.y.min(0.0);
        least.z = least.z.min(0.0);
        for point in points {
            least = least.inf(&point);
            most = most.sup(&point);
        }
        Self { least: least.add_scalar(-MARGIN), most: most.add_scalar(MARGIN) }
    }

    /// The same with the ground's points in it, and a little room around them.
    #[must_use]
    pub fn with_points(mut self, points: impl IntoIterator<Item = Vec3>) -> Self {
        for point in points {
            self.least = self.least.inf(&point.add_scalar(-AROUND_MOVED));
            self.most = self.most.sup(&point.add_scalar(AROUND_MOVED));
        }
        self
    }

    /// Holds what either of two frames holds.
    #[must_use]
    pub fn and(&self, other: &Self) -> Self {
        Self { least: self.least.inf(&other.least), most: self.most.sup(&other.most) }
    }

    /// The same so many mm farther forward.
    #[must_use]
    pub fn moved_ahead(mut self, by: f64) -> Self {
        self.least.x += by;
        self.most.x += by;
        self
    }

    /// The same with room for names around the wheels: so small is a whole car drawn.
    #[must_use]
    pub fn with_more_room(mut self) -> Self {
        self.most.x += MARGIN;
        self.most.z += 2.0 * MARGIN;
        self
    }

    fn size(&self) -> Vec3 {
        self.most - self.least
    }
}

/// How the body stands over the ground: what it is drawn in are the ground's axes, what is
/// solved are the body's.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stance {
    sine: f64,
    cosine: f64,
    /// mm by which the body's origin has moved to the left and up.
    moved: [f64; 2],
}

impl Stance {
    /// Upright, where the document describes it.
    pub const DESIGN: Self = Self { sine: 0.0, cosine: 1.0, moved: [0.0, 0.0] };

    /// Leant by so many degrees to the right, then moved to the left and up by so many mm.
    #[must_use]
    pub fn new(roll: f64, moved: [f64; 2]) -> Self {
        let (sine, cosine) = roll.to_radians().sin_cos();
        Self { sine, cosine, moved }
    }

    /// Whether the body stands upright.
    #[must_use]
    pub fn is_upright(&self) -> bool {
        self.sine == 0.0
    }

    /// Where a point of the body is over the ground.
    #[must_use]
    pub fn place(&self, p: &Vec3) -> Vec3 {
        let [left, up] = self.moved;
        Vec3::new(p.x, p.y * self.cosine - p.z * self.sine + left, p.y * self.sine + p.z * self.cosine + up)
    }

    /// A displacement over the ground as the body sees it.
    #[must_use]
    pub fn to_body(&self, d: &Vec3) -> Vec3 {
        Vec3::new(d.x, d.y * self.cosine + d.z * self.sine, d.z * self.cosine - d.y * self.sine)
    }
}

/// The sheet as it is on the screen: frame, pixels, pan and zoom.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sheet {
    frame: Frame,
    stance: Stance,
    width: f64,
    height: f64,
    /// Pixels per mm.
    scale: f64,
    /// Where the front view's lower left corner stands, the point the views share.
    cross: [f64; 2],
    /// How large letters are, to those of a page that is not in large type.
    letters: f64,
}

/// Pan in pixels and zoom factor on top of the fit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PanZoom {
    /// Pixels to the right and down.
    pub pan: [f64; 2],
    /// Factor on the fitted scale.
    pub zoom: f64,
}

impl Default for PanZoom {
    fn default() -> Self {
        Self { pan: [0.0, 0.0], zoom: 1.0 }
    }
}

impl PanZoom {
    /// Zooms by a factor with the pixel `at` (from the sheet's middle) staying in place.
    #[must_use]
    pub fn zoomed(self, factor: f64, at: [f64; 2]) -> Self {
        let zoom = (self.zoom * factor).clamp(0.2, 40.0);
        let factor = zoom / self.zoom;
        let keep = |i: usize| at[i] + factor * (self.pan[i] - at[i]);
        Self { pan: [keep(0), keep(1)], zoom }
    }

    /// Moves the sheet by so many pixels to the right and down.
    #[must_use]
    pub fn panned(mut self, [right, down]: [f64; 2]) -> Self {
        self.pan[0] += right;
        self.pan[1] += down;
        self
    }

    /// Follows two fingers (pixels from the sheet's middle): what lay between them stays there, and grows as
    /// they part.
    #[must_use]
    pub fn pinched(self, before: [[f64; 2]; 2], after: [[f64; 2]; 2]) -> Self {
        let middle = |[a, b]: [[f64; 2]; 2]| [f64::midpoint(a[0], b[0]), f64::midpoint(a[1], b[1])];
        // Two fingers in one place would be infinitely far from any other distance.
        let apart = |[a, b]: [[f64; 2]; 2]| (a[0] - b[0]).hypot(a[1] - b[1]).max(1.0);
        let (from, to) = (middle(before), middle(after));
        self.panned([to[0] - from[0], to[1] - from[1]]).zoomed(apart(after) / apart(before), to)
    }
}

impl Sheet {
    /// Lays a frame out on so many pixels.
    #[must_use]
    pub fn new(frame: Frame, width: f64, height: f64, view: PanZoom) -> Self {
        let size = frame.size();
        // Side and front view beside each other, plan view below the front view.
        let (wide, high) = (size.y + size.x, size.z + size.x);
        let (width, height) = (width.max(50.0), height.max(50.0));
        let scale = view.zoom * (width / wide).min(height / high);
        // The fitted sheet stands in the middle; pan is counted from there.
        let cross = [
            width / 2.0 + view.pan[0] + scale * (size.x - wide / 2.0),
            height / 2.0 + view.pan[1] + scale * (size.z - high / 2.0),
        ];
        Self { frame, stance: Stance::DESIGN, width, height, scale, cross, letters: 1.0 }
    }

    /// The same with the body standing otherwise over the ground.
    #[must_use]
    pub fn with_stance(self, stance: Stance) -> Self {
        Self { stance, ..self }
    }

    /// The same with letters so many times as large.
    #[must_use]
    pub fn with_letters(self, letters: f64) -> Self {
        Self { letters, ..self }
    }

    /// How large letters are, to those of a page that is not in large type.
    #[must_use]
    pub fn letters(&self) -> f64 {
        self.letters
    }

    /// How the body stands over the ground.
    #[must_use]
    pub fn stance(&self) -> &Stance {
        &self.stance
    }

    /// Pixels per mm.
    #[must_use]
    pub fn scale(&self) -> f64 {
        self.scale
    }

    /// The middle of the sheet in pixels.
    #[must_use]
    pub fn middle(&self) -> [f64; 2] {
        [self.width / 2.0, self.height / 2.0]
    }

    /// Where a point of the body or its linkage stands in a view, in pixels.
    #[must_use]
    pub fn project(&self, view: View, p: &Vec3) -> [f64; 2] {
        self.project_ground(view, &self.stance.place(p))
    }

    /// Where a point of the ground stands, in pixels.
    #[must_use]
    pub fn project_ground(&self, view: View, p: &Vec3) -> [f64; 2] {
        let least = &self.frame.least;
        let [right, down] = match view {
            View::Front => [p.y - least.y, least.z - p.z],
            View::Side => [least.x - p.x, least.z - p.z],
            View::Plan => [p.y - least.y, p.x - least.x],
        };
        [self.cross[0] + self.scale * right, self.cross[1] + self.scale * down]
    }

    /// The displacement in the body's axes that a move of so many pixels in a view means.
    #[must_use]
    pub fn unproject(&self, view: View, pixels: [f64; 2]) -> Vec3 {
        self.stance.to_body(&view.lift(pixels[0] / self.scale, pixels[1] / self.scale))
    }

    /// The part of the sheet that belongs to a view: what is drawn beyond it is cut off.
    /// The outer edges follow the pixels, so that a wide window shows more.
    #[must_use]
    pub fn pane(&self, view: View) -> Rectangle {
        let [x, y] = self.fold();
        let (right, bottom) = (self.width, self.height);
        match view {
            View::Front => Rectangle { left: x, top: 0.0, right, bottom: y },
            View::Side => Rectangle { left: 0.0, top: 0.0, right: x, bottom: y },
            View::Plan => Rectangle { left: x, top: y, right, bottom },
        }
    }

    /// What no view takes: the curves' place, below the view from the left.
    #[must_use]
    pub fn fourth(&self) -> Rectangle {
        let [x, y] = self.fold();
        Rectangle { left: 0.0, top: y, right: x, bottom: self.height }
    }

    /// Where the views meet, or the place on the sheet's edge beyond which they would.
    fn fold(&self) -> [f64; 2] {
        [self.cross[0].clamp(0.0, self.width), self.cross[1].clamp(0.0, self.height)]
    }

    /// Where the front, side and plan view meet, in pixels.
    #[must_use]
    pub fn cross(&self) -> [f64; 2] {
        self.cross
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sheet() -> Sheet {
        let frame = Frame::around([Vec3::new(300.0, 400.0, 600.0)], &Vec3::new(0.0, 790.0, 312.0), 312.0);
        Sheet::new(frame, 1000.0, 800.0, PanZoom { pan: [30.0, -20.0], zoom: 1.7 })
    }

    #[test]
    fn a_point_stands_on_one_line_in_two_views() {
        let (sheet, p) = (sheet(), Vec3::new(120.0, 700.0, 250.0));
        let [front, side, plan] = View::ALL.map(|view| sheet.project(view, &p));
        assert!((front[1] - side[1]).abs() < 1e-9, "front and side share the height");
        assert!((front[0] - plan[0]).abs() < 1e-9, "front and plan share the lateral place");
    }

    #[test]
    fn unproject_undoes_project() {
        let (sheet, p, d) = (sheet(), Vec3::new(120.0, 700.0, 250.0), Vec3::new(3.0, -4.0, 5.0));
        for view in View::ALL {
            let (a, b) = (sheet.project(view, &p), sheet.project(view, &(p + d)));
            let back = sheet.unproject(view, [b[0] - a[0], b[1] - a[1]]);
            let [x, y] = view.flatten(&(back - d));
            assert!(x.abs() < 1e-9 && y.abs() < 1e-9, "{view:?}: {back} is not {d}");
        }
    }

    #[test]
    fn a_leant_body_is_drawn_leant_and_a_pointer_still_moves_the_point_under_it() {
        let sheet = sheet().with_stance(Stance::new(4.0, [12.0, -30.0]));
        // + leans to the right: the left side rises, the top goes to the right.
        let origin = sheet.project(View::Front, &Vec3::zeros());
        let left = sheet.project(View::Front, &Vec3::new(0.0, 700.0, 0.0));
        let top = sheet.project(View::Front, &Vec3::new(0.0, 0.0, 700.0));
        assert!(left[1] < origin[1] && top[0] < origin[0], "{origin:?} {left:?} {top:?}");
        let ground = sheet.project_ground(View::Front, &Vec3::zeros());
        assert!((origin[0] - ground[0] - 12.0 * sheet.scale()).abs() < 1e-9);
        assert!((origin[1] - ground[1] - 30.0 * sheet.scale()).abs() < 1e-9);
        for view in View::ALL {
            let (p, pixels) = (Vec3::new(120.0, 700.0, 250.0), [9.0, -14.0]);
            let moved = p + sheet.unproject(view, pixels);
            let (a, b) = (sheet.project(view, &p), sheet.project(view, &moved));
            for i in 0..2 {
                assert!((b[i] - a[i] - pixels[i]).abs() < 1e-9, "{view:?}");
            }
        }
    }

    #[test]
    fn the_views_stand_in_line_in_first_angle_order() {
        let sheet = sheet();
        let p = |x, y, z| Vec3::new(x, y, z);
        // Left wheel at the viewer's right; up is up.
        assert!(
            sheet.project(View::Front, &p(0.0, 700.0, 0.0))[0]
                > sheet.project(View::Front, &p(0.0, 0.0, 0.0))[0]
        );
        assert!(
            sheet.project(View::Front, &p(0.0, 0.0, 9.0))[1]
                < sheet.project(View::Front, &p(0.0, 0.0, 0.0))[1]
        );
        // First angle: what is seen from a side stands on the other one. From the front the car's left is the
        // viewer's right, so its view stands left of the front view; what is seen from above stands below it.
        let [front, side, plan] = View::ALL.map(|view| sheet.pane(view));
        assert!(side.right <= front.left && plan.top >= front.bottom, "{front:?} {side:?} {plan:?}");
        assert_eq!((side.bottom, plan.left), (front.bottom, front.left));
        let fourth = sheet.fourth();
        assert_eq!((fourth.top, fourth.right), (plan.top, side.right));
        // Front of the car to the left in the side view, downward in the plan view.
        assert!(
            sheet.project(View::Side, &p(9.0, 0.0, 0.0))[0] < sheet.project(View::Side, &p(0.0, 0.0, 0.0))[0]
        );
        assert!(
            sheet.project(View::Plan, &p(9.0, 0.0, 0.0))[1] > sheet.project(View::Plan, &p(0.0, 0.0, 0.0))[1]
        );
    }

    #[test]
    fn zooming_keeps_the_pixel_under_the_pointer() {
        let frame = Frame::around([], &Vec3::new(0.0, 790.0, 312.0), 312.0);
        let before = PanZoom::default();
        let at = [100.0, -60.0];
        let after = before.zoomed(2.0, at);
        let p = Vec3::new(0.0, 500.0, 300.0);
        let [a, b] = [before, after].map(|v| Sheet::new(frame, 900.0, 700.0, v).project(View::Front, &p));
        for i in 0..2 {
            let middle = [450.0, 350.0][i];
            assert!((b[i] - middle - at[i] - 2.0 * (a[i] - middle - at[i])).abs() < 1e-9);
        }
    }

    #[test]
    fn two_fingers_keep_what_lies_under_them() {
        let frame = Frame::around([], &Vec3::new(0.0, 790.0, 312.0), 312.0);
        let sheet = |view| Sheet::new(frame, 900.0, 700.0, view);
        let before = PanZoom { pan: [12.0, -7.0], zoom: 1.3 };
        // Two points of the front view, and the fingers on them.
        let points = [Vec3::new(0.0, 500.0, 300.0), Vec3::new(0.0, 800.0, 120.0)];
        let on =
            |view| points.map(|p| sheet(view).project(View::Front, &p)).map(|[x, y]| [x - 450.0, y - 350.0]);
        let from = on(before);
        // Moved by (30, -20) and twice as far apart.
        let middle = [f64::midpoint(from[0][0], from[1][0]), f64::midpoint(from[0][1], from[1][1])];
        let to = from.map(|[x, y]| [2.0 * x - middle[0] + 30.0, 2.0 * y - middle[1] - 20.0]);
        let found = on(before.pinched(from, to));
        for i in 0..2 {
            for k in 0..2 {
                assert!((found[i][k] - to[i][k]).abs() < 1e-9, "{found:?} {to:?}");
            }
        }
        let together = before.pinched(from, [[5.0, 5.0]; 2]);
        assert!(together.zoom.is_finite() && together.zoom > 0.0);
    }

    #[test]
    fn a_line_is_cut_at_the_pane() {
        let pane = Rectangle { left: 0.0, top: 0.0, right: 10.0, bottom: 10.0 };
        assert_eq!(pane.clip([-10.0, 5.0], [20.0, 5.0]), Some(([0.0, 5.0], [10.0, 5.0])));
        assert_eq!(pane.clip([-10.0, 50.0], [20.0, 50.0]), None);
    }
}
