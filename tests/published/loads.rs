//! Forces in members under a load.

use geometry_core::{
    setup::Spring,
    solve::Follower,
    statics::{Given, Load, LoadAxes, LoadPoint, ReactedBy, Statics, Support},
};

use crate::support::{close, corner, linkage, plane_arm, plane_tie_rod, wheel};

/// Aronhold–Kennedy, virtual work and plane statics (any text on statics and dynamics).
/// Constructed so that all results are simple; exact: the upper arm pushes along itself, the
/// lower arm's ball joint what is left, and the spring balances the lower arm.
#[test]
fn members_of_a_plane_double_wishbone() {
    let mut corner = corner(
        vec![
            plane_arm("lower", [300.0, 150.0], [700.0, 150.0]),
            plane_arm("upper", [350.0, 400.0], [660.0, 450.0]),
        ],
        vec![plane_tie_rod([300.0, 150.0], [700.0, 150.0])],
        wheel(0.0, 750.0, 300.0),
    );
    corner.spring = Some(Spring {
        body: [0.0, 550.0, 500.0],
        carried: [0.0, 550.0, 150.0],
        on: "lower".into(),
        rate: None,
        free_length: None,
    });
    let linkage = linkage(&corner);
    let position = *Follower::new(&linkage).position();
    let load = Load {
        at: LoadPoint::Contact,
        force: [0.0, 0.0, 4000.0],
        axes: LoadAxes::Vehicle,
        reacted_by: ReactedBy::Knuckle,
    };
    let statics = Statics::new(&corner, &linkage);
    let forces = statics.forces(&position, &[load], &Given::default()).expect("the corner is held");
    assert_eq!(forces.support, Support::Spring);
    let relative =
        |what: &str, found: f64, expected: f64| close(what, found, expected, 1e-9 * expected.abs());
    let spring = forces.spring.expect("it carries");
    relative("spring", spring, 6_568.421_053);
    let [lower, upper] = &forces.arms[..] else { panic!("two arms") };
    let [x, y, z] = upper.on_knuckle;
    relative("upper arm", x.hypot(y).hypot(z), 661.066_040_8);
    // Toward the wheel: the load tips the knuckle's top inward.
    relative("upper arm, outboard", y, 661.066_040_8 * 310.0 / 310.0_f64.hypot(50.0));
    let [x, y, z] = lower.on_knuckle;
    close("lower ball joint, x", x, 0.0, 1e-9);
    relative("lower ball joint, y", y, -652.631_578_9);
    relative("lower ball joint, z", z, -4_105.263_158);
    close("tie rod", forces.links[0].axial, 0.0, 1e-9);
    close("rack", forces.rack.expect("it steers"), 0.0, 1e-9);
    // The knuckle's push back and the spring's go to the arm's pivots, half each by symmetry.
    for pivot in [lower.on_body.first, lower.on_body.second] {
        relative("lower pivot, y", pivot[1], 652.631_578_9 / 2.0);
        close("lower pivot, z", pivot[2], (4_105.263_158 - 6_568.421_053) / 2.0, 1e-6);
    }
    close("balance", forces.imbalance, 0.0, 1e-14);
    // Virtual work: the spring's ratio is the case's.
    relative("spring by virtual work", spring * 0.608_974_359, 4000.0);
}
