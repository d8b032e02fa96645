//! A four-bar linkage as a corner: the arms are crank and rocker, the knuckle is the coupler.

use geometry_core::{
    Vec3,
    linkage::Linkage,
    setup::Corner,
    solve::{Follower, Position, State},
};

use crate::support::{close, corner, go, linkage, plane_arm, plane_tie_rod, wheel};

/// Lengths: ground, crank, coupler, rocker.
const GROUND: f64 = 100.0;
const CRANK: f64 = 40.0;
const COUPLER: f64 = 120.0;
const ROCKER: f64 = 80.0;
/// Where the crank's pivot stands in the cross-section; the book's x is our y, its y our z.
const PIVOT: [f64; 2] = [300.0, 400.0];

/// The linkage drawn with the crank along the ground line, where it is a triangle of sides
/// ground − crank, coupler and rocker; with the coupler's far end above that line (open) or
/// below (crossed). The wheel centre is the crank's end, so that travel is its height.
fn drawn(open: bool) -> Corner {
    let crank_end = [PIVOT[0] + CRANK, PIVOT[1]];
    let rocker_pivot = [PIVOT[0] + GROUND, PIVOT[1]];
    let base = GROUND - CRANK;
    let along = (base * base + COUPLER * COUPLER - ROCKER * ROCKER) / (2.0 * base);
    let up = (COUPLER * COUPLER - along * along).sqrt() * if open { 1.0 } else { -1.0 };
    let far_end = [crank_end[0] + along, crank_end[1] + up];
    let mut corner = corner(
        vec![plane_arm("crank", PIVOT, crank_end), plane_arm("rocker", rocker_pivot, far_end)],
        // Beside the rocker: the crank comes to lie along the coupler on its way, and a rod
        // beside it would then no longer hold the coupler from turning about itself.
        vec![plane_tie_rod(rocker_pivot, far_end)],
        wheel(0.0, crank_end[0], 400.0),
    );
    corner.wheel.centre[2] = crank_end[1];
    corner
}

/// Ends of crank and rocker where they are.
fn ends(corner: &Corner, linkage: &Linkage, position: &Position) -> [Vec3; 2] {
    [0, 1].map(|i| position.carry(linkage, &Vec3::from(corner.arms[i].ball_joint)))
}

/// Angle of a line in the cross-section, degrees from +y towards +z.
fn angle(line: &Vec3) -> f64 {
    line.z.atan2(line.y).to_degrees()
}

/// Norton, *Design of Machinery*, example 4-1 (position) and example 6-7 (velocity): crank
/// at 40°, turning at 25 rad/s. From memory; inputs and outputs close on each other.
#[test]
fn nortons_four_bar() {
    // Angles of coupler and rocker, their speeds; what their last digits allow.
    let cases =
        [(true, [20.298, 57.325], 0.005, Some([-4.121, 6.998])), (false, [-60.98, -98.01], 0.01, None)];
    for (open, angles, tolerance, speeds) in cases {
        let corner = drawn(open);
        let linkage = linkage(&corner);
        let travel = CRANK * 40.0_f64.to_radians().sin();
        let position = go(&mut Follower::new(&linkage), State { travel, rack: 0.0 });
        let [crank_end, far_end] = ends(&corner, &linkage, &position);
        let pivot = Vec3::new(0.0, PIVOT[0], PIVOT[1]);
        let rocker = far_end - pivot - GROUND * Vec3::y();
        close("crank", angle(&(crank_end - pivot)), 40.0, 1e-9);
        close("coupler", angle(&(far_end - crank_end)), angles[0], tolerance);
        close("rocker", angle(&rocker), angles[1], tolerance);

        // Speeds about x: of a point over its distance from where it turns.
        let twist = position.travel_twist();
        let about = |line: &Vec3, velocity: Vec3| line.cross(&velocity).x / line.norm_squared();
        let of_crank = about(&(crank_end - pivot), twist.velocity_at(&crank_end));
        let scale = 25.0 / of_crank;
        let found = [scale * twist.angular.x, scale * about(&rocker, twist.velocity_at(&far_end))];
        if let Some(speeds) = speeds {
            close("coupler's speed", found[0], speeds[0], 0.001);
            close("rocker's speed", found[1], speeds[1], 0.001);
        } else {
            // Not printed in what is remembered of the book: recomputed for this project.
            close("coupler's speed", found[0], -9.2588, 5e-5);
            close("rocker's speed", found[1], -20.3777, 5e-5);
        }
    }
}
