//! The same positions the plain way, to compare the core's speed with on any machine.
//!
//! Newton's method as a textbook has it: six equations (five distances between a knuckle
//! point and a body point, and the wheel centre's height) in six unknowns, the Jacobian's
//! LU decomposition with partial pivoting, each position begun from the one before. No
//! predictor, no vectors, nothing special about this corner but that it has arms and links
//! only. An arm is the two distances from its ball joint to its pivots.

use geometry_core::setup::{Corner, Point};

/// Equations and unknowns.
const N: usize = 6;

/// A knuckle point at a distance from a body point.
#[derive(Debug, Clone, Copy)]
struct Distance {
    /// From the wheel centre, as described.
    arm: Point,
    body: Point,
    square: f64,
}

/// A corner of arms and links.
#[derive(Debug, Clone)]
pub struct Reference {
    distances: [Distance; N - 1],
    design_centre: Point,
    quaternion: [f64; 4],
    centre: Point,
    /// Rotation and velocity of the wheel centre per mm of travel.
    twist: [f64; N],
}

impl Reference {
    /// `None` for a corner that is held by anything but arms and links.
    #[must_use]
    pub fn new(corner: &Corner) -> Option<Self> {
        let centre = corner.wheel.centre;
        let mut distances = Vec::new();
        let mut hold = |knuckle: Point, body: Point| {
            let arm = difference(knuckle, centre);
            let along = difference(knuckle, body);
            distances.push(Distance { arm, body, square: dot(along, along) });
        };
        for arm in &corner.arms {
            hold(arm.ball_joint, arm.front_pivot);
            hold(arm.ball_joint, arm.rear_pivot);
        }
        for link in &corner.links {
            hold(link.outboard, link.inboard);
        }
        let mut reference = Self {
            distances: distances.try_into().ok()?,
            design_centre: centre,
            quaternion: [1.0, 0.0, 0.0, 0.0],
            centre,
            twist: [0.0; N],
        };
        reference.restart();
        Some(reference)
    }

    /// Back to the design position.
    pub fn restart(&mut self) {
        self.quaternion = [1.0, 0.0, 0.0, 0.0];
        self.centre = self.design_centre;
    }

    /// Where the wheel centre is.
    #[must_use]
    pub fn wheel_centre(&self) -> Point {
        self.centre
    }

    /// Rotation (rad) and velocity of the wheel centre per mm of travel.
    #[must_use]
    pub fn twist(&self) -> [f64; N] {
        self.twist
    }

    /// Solves for a travel, from the present position; `false` where it does not settle.
    pub fn go_to(&mut self, travel: f64) -> bool {
        for _ in 0..20 {
            let (mut matrix, mut error) = self.equations(travel);
            let Some(order) = decompose(&mut matrix) else { return false };
            error = solve(&matrix, &order, error);
            self.correct(&error);
            let size =
                (0..N).fold(0.0_f64, |most, i| most.max(error[i].abs() * if i < 3 { 256.0 } else { 1.0 }));
            // The next correction would be the square of this over a link's length.
            if size < 1e-5 {
                let (mut matrix, _) = self.equations(travel);
                let Some(order) = decompose(&mut matrix) else { return false };
                let mut rise = [0.0; N];
                rise[N - 1] = 1.0;
                self.twist = solve(&matrix, &order, rise);
                return true;
            }
        }
        false
    }

    /// Jacobian and negative errors at the present pose.
    fn equations(&self, travel: f64) -> ([[f64; N]; N], [f64; N]) {
        let mut matrix = [[0.0; N]; N];
        let mut error = [0.0; N];
        for (i, distance) in self.distances.iter().enumerate() {
            let arm = rotated(&self.quaternion, distance.arm);
            let point: Point = std::array::from_fn(|k| self.centre[k] + arm[k]);
            let along = difference(point, distance.body);
            let moment = cross(arm, along);
            matrix[i][..3].copy_from_slice(&moment);
            matrix[i][3..].copy_from_slice(&along);
            error[i] = 0.5 * (distance.square - dot(along, along));
        }
        matrix[N - 1][N - 1] = 1.0;
        error[N - 1] = self.design_centre[2] + travel - self.centre[2];
        (matrix, error)
    }

    /// Turns and moves the knuckle.
    fn correct(&mut self, by: &[f64; N]) {
        let [s, x, y, z] = self.quaternion;
        let [wx, wy, wz] = [0.5 * by[0], 0.5 * by[1], 0.5 * by[2]];
        let turned = [
            s - (wx * x + wy * y + wz * z),
            x + wx * s + wy * z - wz * y,
            y + wy * s + wz * x - wx * z,
            z + wz * s + wx * y - wy * x,
        ];
        let size = turned.iter().map(|value| value * value).sum::<f64>().sqrt();
        self.quaternion = turned.map(|value| value / size);
        for k in 0..3 {
            self.centre[k] += by[k + 3];
        }
    }
}

/// LU decomposition in place with partial pivoting (Crout's and Doolittle's, as in any
/// textbook of numerical analysis); gives the order of the rows.
fn decompose(matrix: &mut [[f64; N]; N]) -> Option<[usize; N]> {
    let mut order = std::array::from_fn(|i| i);
    for k in 0..N {
        let mut best = k;
        for i in k + 1..N {
            if matrix[i][k].abs() > matrix[best][k].abs() {
                best = i;
            }
        }
        if matrix[best][k] == 0.0 {
            return None;
        }
        matrix.swap(k, best);
        order.swap(k, best);
        for i in k + 1..N {
            matrix[i][k] /= matrix[k][k];
            for j in k + 1..N {
                matrix[i][j] -= matrix[i][k] * matrix[k][j];
            }
        }
    }
    Some(order)
}

/// Forward and backward substitution.
fn solve(matrix: &[[f64; N]; N], order: &[usize; N], side: [f64; N]) -> [f64; N] {
    let mut x = order.map(|row| side[row]);
    for i in 0..N {
        for j in 0..i {
            x[i] -= matrix[i][j] * x[j];
        }
    }
    for i in (0..N).rev() {
        for j in i + 1..N {
            x[i] -= matrix[i][j] * x[j];
        }
        x[i] /= matrix[i][i];
    }
    x
}

fn difference(a: Point, b: Point) -> Point {
    std::array::from_fn(|k| a[k] - b[k])
}

fn dot(a: Point, b: Point) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

fn cross(a: Point, b: Point) -> Point {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

/// v + 2 s (u × v) + 2 u × (u × v) for the quaternion (s, u).
fn rotated(q: &[f64; 4], v: Point) -> Point {
    let u = [q[1], q[2], q[3]];
    let once = cross(u, v);
    let twice = cross(u, once);
    std::array::from_fn(|k| v[k] + 2.0 * (q[0] * once[k] + twice[k]))
}

#[cfg(test)]
mod tests {
    use geometry_core::{
        linkage::Linkage,
        setup::{Axle, Side, example},
        solve::{Follower, State},
    };

    use super::*;

    /// Two solvers that share no code are at the same place and move the same way.
    #[test]
    fn the_plain_way_leads_to_the_same_positions() {
        let document = example();
        let corner = document.corner(Axle::Front).expect("the example has a front corner");
        let linkage = Linkage::new(corner, Side::Left).expect("a corner");
        let mut follower = Follower::new(&linkage);
        let mut reference = Reference::new(corner).expect("of arms and links");
        for travel in (0..=80).chain((-80..80).rev()).map(f64::from) {
            assert!(reference.go_to(travel));
            let outcome = follower.go_to(State { travel, rack: 0.0 });
            let position = outcome.position().expect("within reach");
            let (found, expected) = (reference.wheel_centre(), position.wheel_centre());
            let twist = position.travel_twist();
            let velocity = twist.velocity_at(&expected);
            for k in 0..3 {
                assert!((found[k] - expected[k]).abs() < 1e-8, "{found:?} is not {expected:?}");
                assert!((reference.twist()[k] - twist.angular[k]).abs() < 1e-10);
                assert!((reference.twist()[k + 3] - velocity[k]).abs() < 1e-8);
            }
        }
    }
}
