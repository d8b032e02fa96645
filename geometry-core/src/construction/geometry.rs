//! Straight lines, planes, and where they meet, in space and in a view.
//!
//! Directions and normals are unit vectors. What is parallel (a sine under
//! [`PARALLEL_SINE`]), degenerate or farther off than [`INFINITELY_FAR`] meets nowhere:
//! `None`, never an infinite number.

use crate::{
    Vec3,
    bounds::{INFINITELY_FAR, PARALLEL_SINE, SAME_PLACE},
    float::{norm, sqrt},
};

/// A side the car is drawn from. Each is a projection along one vehicle axis.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "snake_case"))]
pub enum View {
    /// Along x: y and z are seen.
    Front,
    /// Along y: x and z are seen.
    Side,
    /// Along z: x and y are seen.
    Plan,
}

impl View {
    /// Every view.
    pub const ALL: [Self; 3] = [Self::Front, Self::Side, Self::Plan];

    /// Unit vector of the axis the view looks along.
    #[must_use]
    pub fn depth(self) -> Vec3 {
        match self {
            Self::Front => Vec3::x(),
            Self::Side => Vec3::y(),
            Self::Plan => Vec3::z(),
        }
    }

    /// What is seen of a vector: its part square to the depth.
    #[must_use]
    pub fn seen(self, v: &Vec3) -> Vec3 {
        let depth = self.depth();
        v - depth.dot(v) * depth
    }
}

/// A straight line without ends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Straight {
    /// A point on it, mm.
    pub point: Vec3,
    /// Unit vector along it.
    pub direction: Vec3,
}

/// Where two lines cross as seen in a view: one point on each, the same but for depth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Crossing {
    /// The point on the first line, mm.
    pub on_first: Vec3,
    /// The point on the second line, mm.
    pub on_second: Vec3,
}

/// The points of two lines that are nearest to each other.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Nearest {
    /// The point on the first line, mm.
    pub on_first: Vec3,
    /// The point on the second line, mm.
    pub on_second: Vec3,
    /// Their distance, mm; zero where the lines meet.
    pub distance: f64,
}

impl Crossing {
    /// Half way between the two points.
    #[must_use]
    pub fn middle(&self) -> Vec3 {
        0.5 * (self.on_first + self.on_second)
    }
}

impl Straight {
    /// Through two points, from the first to the second; `None` where they are one.
    #[must_use]
    pub fn through(from: &Vec3, to: &Vec3) -> Option<Self> {
        let along = to - from;
        let length = norm(&along);
        (length >= SAME_PLACE && length.is_finite()).then(|| Self { point: *from, direction: along / length })
    }

    /// The point of the line nearest to `other`.
    #[must_use]
    pub fn foot(&self, other: &Vec3) -> Vec3 {
        self.point + (other - self.point).dot(&self.direction) * self.direction
    }

    /// Distance of a point from the line, mm.
    #[must_use]
    pub fn distance(&self, point: &Vec3) -> f64 {
        norm(&(point - self.foot(point)))
    }

    /// Where the line meets a plane; `None` when it runs along it.
    ///
    /// ```
    /// use geometry_core::{Vec3, construction::{Plane, Straight}};
    ///
    /// let axis = Straight::through(&Vec3::new(0.0, 700.0, 200.0), &Vec3::new(-20.0, 660.0, 480.0)).unwrap();
    /// let ground = axis.meet(&Plane { point: Vec3::zeros(), normal: Vec3::z() }).unwrap();
    /// assert!((ground.y - (700.0 + 200.0 * 40.0 / 280.0)).abs() < 1e-9);
    /// ```
    #[must_use]
    pub fn meet(&self, plane: &Plane) -> Option<Vec3> {
        let sine = plane.normal.dot(&self.direction);
        if sine.abs() <= PARALLEL_SINE {
            return None;
        }
        near(self.point + plane.normal.dot(&(plane.point - self.point)) / sine * self.direction)
    }

    /// Where this line and another cross as seen in a view; `None` where they are seen
    /// parallel or one of them end on.
    ///
    /// ```
    /// use geometry_core::{Vec3, construction::{Straight, View}};
    ///
    /// let first = Straight { point: Vec3::new(0.0, 0.0, 5.0), direction: Vec3::x() };
    /// let second = Straight { point: Vec3::new(30.0, -10.0, 9.0), direction: Vec3::y() };
    /// let crossing = first.crossing(&second, View::Plan).unwrap();
    /// assert_eq!(crossing.on_first, Vec3::new(30.0, 0.0, 5.0));
    /// assert_eq!(crossing.on_second, Vec3::new(30.0, 0.0, 9.0));
    /// assert_eq!(first.crossing(&second, View::Front), None);
    /// ```
    #[must_use]
    pub fn crossing(&self, other: &Self, view: View) -> Option<Crossing> {
        let depth = view.depth();
        let (first, second) = (view.seen(&self.direction), view.seen(&other.direction));
        let sizes = norm(&first) * norm(&second);
        // Twice the triangle that the two directions span, seen in the view.
        let area = depth.dot(&first.cross(&second));
        if sizes <= PARALLEL_SINE || area.abs() <= PARALLEL_SINE * sizes {
            return None;
        }
        let between = other.point - self.point;
        let reach = |direction: &Vec3| depth.dot(&between.cross(direction)) / area;
        Some(Crossing {
            on_first: near(self.point + reach(&second) * self.direction)?,
            on_second: near(other.point + reach(&first) * other.direction)?,
        })
    }

    /// The points of this line and another nearest to each other, and their distance;
    /// `None` for parallel lines, which are as near everywhere.
    ///
    /// ```
    /// use geometry_core::{Vec3, construction::Straight};
    ///
    /// let first = Straight { point: Vec3::new(0.0, 0.0, 5.0), direction: Vec3::x() };
    /// let second = Straight { point: Vec3::new(30.0, -10.0, 9.0), direction: Vec3::y() };
    /// assert_eq!(first.nearest(&second).unwrap().distance, 4.0);
    /// ```
    #[must_use]
    pub fn nearest(&self, other: &Self) -> Option<Nearest> {
        let across = self.direction.cross(&other.direction);
        let square = across.norm_squared();
        if sqrt(square) <= PARALLEL_SINE {
            return None;
        }
        let between = other.point - self.point;
        let reach = |direction: &Vec3| across.dot(&between.cross(direction)) / square;
        let on_first = near(self.point + reach(&other.direction) * self.direction)?;
        let on_second = near(other.point + reach(&self.direction) * other.direction)?;
        // The lines' distance itself, not that of the two points: far-off points are
        // rounded, the distance is not.
        Some(Nearest { on_first, on_second, distance: (across.dot(&between) / sqrt(square)).abs() })
    }
}

/// A plane.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Plane {
    /// A point in it, mm.
    pub point: Vec3,
    /// Unit normal; which of the two has no meaning.
    pub normal: Vec3,
}

impl Plane {
    /// Through three points, as an arm's through its pivots and its ball joint; `None`
    /// where they stand in line.
    #[must_use]
    pub fn through(a: &Vec3, b: &Vec3, c: &Vec3) -> Option<Self> {
        let (first, second) = (b - a, c - a);
        let normal = first.cross(&second);
        let size = norm(&normal);
        let sizes = norm(&first) * norm(&second);
        // Written so that NaN is refused as well.
        (size > PARALLEL_SINE * sizes && size.is_finite()).then(|| Self { point: *c, normal: normal / size })
    }

    /// Along two lines and half way between them: the plane they span where they meet or are
    /// parallel. `None` where they are one line.
    #[must_use]
    pub fn spanned(first: &Straight, second: &Straight) -> Option<Self> {
        if let Some(nearest) = first.nearest(second) {
            let normal = first.direction.cross(&second.direction);
            let point = 0.5 * (nearest.on_first + nearest.on_second);
            return Some(Self { point, normal: normal / norm(&normal) });
        }
        let beside = second.point - first.foot(&second.point);
        let distance = norm(&beside);
        if distance < SAME_PLACE || !distance.is_finite() {
            return None;
        }
        let normal = first.direction.cross(&(beside / distance));
        Some(Self { point: first.foot(&second.point), normal: normal / norm(&normal) })
    }

    /// The line two planes have in common, its point the one nearest to this plane's point
    /// and the other's; `None` for parallel planes.
    ///
    /// ```
    /// use geometry_core::{Vec3, construction::Plane};
    ///
    /// let lower = Plane { point: Vec3::new(0.0, 700.0, 150.0), normal: Vec3::z() };
    /// let upper = Plane { point: Vec3::new(0.0, 660.0, 450.0), normal: Vec3::new(0.0, -0.6, 0.8) };
    /// let axis = lower.meet(&upper).unwrap();
    /// assert!((axis.point - Vec3::new(0.0, 260.0, 150.0)).norm() < 1e-9);
    /// assert_eq!(axis.direction.x.abs(), 1.0);
    /// ```
    #[must_use]
    pub fn meet(&self, other: &Self) -> Option<Straight> {
        let along = self.normal.cross(&other.normal);
        let square = along.norm_squared();
        let size = sqrt(square);
        if size <= PARALLEL_SINE {
            return None;
        }
        let middle = 0.5 * (self.point + other.point);
        let first = self.normal.dot(&(self.point - middle));
        let second = other.normal.dot(&(other.point - middle));
        let away = (first * other.normal.cross(&along) + second * along.cross(&self.normal)) / square;
        // What is no number is no point near by.
        Some(Straight { point: near(middle + away)?, direction: along / size })
    }

    /// The line in which the plane cuts the vertical or horizontal plane that a view shows
    /// and that goes through `at`: an arm's line in the front view, in the transverse plane
    /// through the wheel centre. `None` where the two planes are parallel.
    #[must_use]
    pub fn trace(&self, view: View, at: &Vec3) -> Option<Straight> {
        let depth = view.depth();
        let point = self.point + depth.dot(&(at - self.point)) * depth;
        Self { point, normal: depth }.meet(self)
    }

    /// Distance of a point from the plane, mm.
    #[must_use]
    pub fn distance(&self, point: &Vec3) -> f64 {
        self.normal.dot(&(point - self.point)).abs()
    }
}

/// A point, or nothing where it is at infinity or no point at all.
fn near(point: Vec3) -> Option<Vec3> {
    point.iter().all(|c| c.abs() <= INFINITELY_FAR).then_some(point)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(from: [f64; 3], to: [f64; 3]) -> Straight {
        Straight::through(&Vec3::from(from), &Vec3::from(to)).expect("two points")
    }

    #[test]
    fn skew_lines_have_their_common_perpendicular() {
        let first = line([60.0, 640.0, 190.0], [210.0, 400.0, 220.0]);
        let second = line([-70.0, 655.0, 185.0], [-310.0, 460.0, 203.0]);
        let nearest = first.nearest(&second).expect("not parallel");
        let gap = nearest.on_second - nearest.on_first;
        assert!(gap.dot(&first.direction).abs() < 1e-10 && gap.dot(&second.direction).abs() < 1e-10);
        assert!((gap.norm() - nearest.distance).abs() < 1e-10);
        assert!(first.distance(&nearest.on_first) < 1e-10 && second.distance(&nearest.on_second) < 1e-10);
    }

    #[test]
    fn a_crossing_is_one_point_in_its_view_and_two_in_space() {
        let first = line([60.0, 640.0, 190.0], [210.0, 400.0, 220.0]);
        let second = line([-70.0, 655.0, 185.0], [-310.0, 460.0, 203.0]);
        for view in View::ALL {
            let crossing = first.crossing(&second, view).expect("not parallel");
            let apart = crossing.on_second - crossing.on_first;
            assert!(view.seen(&apart).norm() < 1e-9, "{view:?} {crossing:?}");
            assert!(first.distance(&crossing.on_first) < 1e-9);
            assert!(second.distance(&crossing.on_second) < 1e-9);
        }
    }

    #[test]
    fn what_is_parallel_meets_nowhere() {
        let first = line([0.0, 0.0, 0.0], [0.0, 100.0, 10.0]);
        let second = line([0.0, 0.0, 50.0], [0.0, 100.0, 60.0]);
        assert_eq!(first.nearest(&second), None);
        assert_eq!(first.crossing(&second, View::Front), None);
        let plane = Plane::spanned(&first, &second).expect("parallel lines span a plane");
        assert!(plane.distance(&first.point) < 1e-12 && plane.distance(&second.point) < 1e-12);
        assert!((plane.normal.x.abs() - 1.0).abs() < 1e-12);
        assert_eq!(plane.trace(View::Front, &Vec3::new(90.0, 0.0, 0.0)), None);
        assert_eq!(Plane::spanned(&first, &first), None);
        let nan = Straight { point: Vec3::repeat(f64::NAN), ..first };
        assert_eq!(nan.nearest(&second), None);
    }

    #[test]
    fn a_trace_lies_in_both_planes() {
        let plane = Plane::through(
            &Vec3::new(150.0, 360.0, 190.0),
            &Vec3::new(-170.0, 355.0, 178.0),
            &Vec3::new(6.0, 735.0, 172.0),
        )
        .expect("a triangle");
        let at = Vec3::new(12.0, 790.0, 312.0);
        for view in View::ALL {
            let trace = plane.trace(view, &at).expect("not parallel");
            for reach in [-500.0, 0.0, 700.0] {
                let point = trace.point + reach * trace.direction;
                assert!(plane.distance(&point) < 1e-9);
                assert!(view.depth().dot(&(point - at)).abs() < 1e-9);
            }
        }
    }
}
