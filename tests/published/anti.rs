//! Percentages against dive, lift and squat.

use geometry_core::{
    readings::{Anti, Reader},
    setup::{Arm, Axle, Corner, Hinge, Link, Vehicle},
    solve::Follower,
};

use crate::support::{close, corner, linkage, wheel};

fn anti(corner: &Corner, vehicle: &Vehicle, axle: Axle) -> Anti {
    let linkage = linkage(corner);
    let reader = Reader::new(&linkage, vehicle, axle);
    reader.read(Follower::new(&linkage).position()).anti
}

/// A wheel at x on an arm about a line across the car through (pivot x, pivot z).
fn swinging(x: f64, radius: f64, pivot: [f64; 2]) -> Corner {
    let [pivot_x, pivot_z] = pivot;
    let mut corner = corner(vec![], vec![], wheel(x, 750.0, radius));
    corner.hinge =
        Some(Hinge { id: "arm".into(), pivots: [[pivot_x, 300.0, pivot_z], [pivot_x, 680.0, pivot_z]] });
    corner
}

/// Milliken & Milliken, *Race Car Vehicle Dynamics*, SAE 1995, 17.3; Gillespie,
/// *Fundamentals of Vehicle Dynamics*, SAE 1992, ch. 7. Formulas from memory, numbers made
/// up for the case: share · tangent · wheelbase/height, the tangent from the contact point
/// to the side-view centre for brakes at the wheel, from the wheel centre for drive through
/// shafts.
#[test]
fn anti_dive_anti_lift_and_anti_squat() {
    let vehicle = Vehicle {
        wheelbase: Some(2600.0),
        cg_height: Some(550.0),
        brake_front_share: Some(0.65),
        drive_front_share: Some(0.0),
        ..Vehicle::default()
    };
    // Front: the centre behind the wheel and above the ground, tangent 0.08.
    let front = anti(&swinging(0.0, 300.0, [-1500.0, 120.0]), &vehicle, Axle::Front);
    close("anti-dive", front.braking_friction.expect("known") / 100.0, 0.245_818_181_8, 1e-10);
    // Rear: ahead of the wheel, tangents 0.12 from the contact and 0.05 from the centre,
    // which for a radius of 300 is a centre 300/0.07 ahead.
    let ahead = 300.0 / 0.07;
    let rear = anti(&swinging(-2600.0, 300.0, [-2600.0 + ahead, 0.12 * ahead]), &vehicle, Axle::Rear);
    close("anti-lift", rear.braking_friction.expect("known") / 100.0, 0.198_545_454_5, 1e-10);
    close("anti-squat", rear.driving_shaft.expect("known") / 100.0, 0.236_363_636_4, 1e-10);
}

/// A builder's worked example, <https://www.super7thheaven.co.uk/anti-dive-geometry/>
/// (formula as in Gillespie ch. 7 and Milliken ch. 17). Page text seen: 25 % anti-dive with
/// 60 % of the braking in front needs tan = 0.098, 5.6°, from the contact to the side-view
/// centre. Without the brake's share the same geometry reads 41.7 %.
///
/// Built as two arms with axes in side view that meet in that centre.
#[test]
fn anti_dive_of_a_double_wishbone() {
    let centre = [-2000.0, 2000.0 * 5.6_f64.to_radians().tan()];
    let arm = |id: &str, joint: [f64; 3]| -> Arm {
        // The axis points from below the joint at the centre; the arm lies level across.
        let (along_x, along_z) = (centre[0] - joint[0], centre[1] - joint[2]);
        let size = f64::hypot(along_x, along_z);
        let pivot =
            |by: f64| [joint[0] + by * along_x / size, joint[1] - 320.0, joint[2] + by * along_z / size];
        Arm { id: id.into(), front_pivot: pivot(-150.0), rear_pivot: pivot(150.0), ball_joint: joint }
    };
    let corner = corner(
        vec![arm("lower", [10.0, 710.0, 180.0]), arm("upper", [-20.0, 690.0, 450.0])],
        vec![Link {
            id: "tie-rod".into(),
            inboard: [-140.0, 380.0, 220.0],
            outboard: [-140.0, 700.0, 220.0],
            steers: true,
        }],
        wheel(0.0, 750.0, 300.0),
    );
    let read = |share: f64| {
        let vehicle = Vehicle {
            wheelbase: Some(2550.0),
            cg_height: Some(600.0),
            brake_front_share: Some(share),
            ..Vehicle::default()
        };
        anti(&corner, &vehicle, Axle::Front).braking_friction.expect("known")
    };
    // The page gives the angle to a tenth of a degree: 0.05° is 0.09 in a hundred of slope.
    let of_an_angle = |share: f64| 100.0 * share * 2550.0 / 600.0 * 0.05_f64.to_radians();
    close("anti-dive", read(0.6), 25.0, of_an_angle(0.6));
    close("without the brake's share", read(1.0), 41.7, of_an_angle(1.0));
    close("exactly", read(0.6), 60.0 * 2550.0 / 600.0 * 5.6_f64.to_radians().tan(), 1e-9);
}
