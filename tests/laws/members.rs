//! Forces in the members where something stands at rest, is absent, is given beside the load, or
//! bends what it stands on.

use geometry_core::{
    Vec3,
    linkage::Linkage,
    readings::steering_twist,
    setup::{Axle, Brakes, Corner, Drive, KNUCKLE, Rocker, Side, TorsionBar},
    solve::State,
    statics::{Case, ForcesError, Given, Load, LoadAxes, LoadPoint, ReactedBy, Statics, Support},
};
use proptest::array::uniform6;

use crate::{
    carried::with_everything,
    checking::{MOTION, at, close, for_all, linkage, read, solved, vehicle},
    copies::between,
    corners::{Layout, drawn, plain},
    forces::{forces, leeway, two_loads},
};

/// A spring between an arm and the arm's own axis keeps its length however the arm turns, so that
/// its length held says nothing about how the wheel steers: no steering axis is told. It carries
/// nothing either; the kick is then that of a wheel held at its centre.
#[test]
fn a_spring_between_an_arm_and_its_axis_tells_no_steering() {
    let layouts = &[Layout::TwoArms, Layout::ArmAndSplitLinks, Layout::StrutAndArm];
    for_all(100, &(drawn(layouts), 0.2..0.8_f64), |(mut case, share)| {
        let arm = case.corner.arms[0].clone();
        let spring = case.corner.spring.as_mut().expect("a spring is drawn");
        spring.on.clone_from(&arm.id);
        spring.carried = between(arm.front_pivot, arm.ball_joint, 0.6);
        spring.body = between(arm.front_pivot, arm.rear_pivot, share);
        let linkage_at_rest = linkage(&case.corner, Side::Left);
        let position = solved(&linkage_at_rest, case.state);
        let spring = linkage_at_rest.spring_at(&position).expect("a spring is drawn");
        close("ratio", spring.per_travel, 0.0, MOTION);
        assert_eq!(steering_twist(&linkage_at_rest, &position), None);
        assert_eq!(read(&linkage_at_rest, &position).steering, None);
        let kick = Statics::new(&case.corner, &linkage_at_rest).steering_kick(&position);
        let without = Corner { spring: None, ..case.corner.clone() };
        let linkage = linkage(&without, Side::Left);
        let position = solved(&linkage, case.state);
        assert!(read(&linkage, &position).steering.is_some(), "the wheel centre's height can be held");
        assert_eq!(kick, Statics::new(&without, &linkage).steering_kick(&position));
        assert!(kick.is_some());
    });
}

/// A torsion bar that all but stands still while the wheel travels is at a dead point, and one that
/// stands still carries nothing: on a rocker whose rod ends beside the axis of the arm it stands on.
#[test]
fn a_torsion_bar_that_hardly_turns_is_told() {
    let mut corner = plain(Layout::Trailing);
    let hinge = corner.hinge.as_ref().expect("a trailing arm");
    let middle = at(between(hinge.pivots[0], hinge.pivots[1], 0.5));
    (corner.spring, corner.damper) = (None, None);
    corner.torsion_bar = Some(TorsionBar { on: "rocker".into(), rate: None });
    for (beside, expected) in [
        (100.0, Ok(Support::TorsionBar)),
        (0.01, Err(ForcesError::DeadPoint)),
        (0.0, Ok(Support::WheelCentre)),
    ] {
        // The rod stands upright; its upper end is level with the rocker's axis, 100 mm before it.
        corner.rocker = Some(Rocker {
            id: "rocker".into(),
            axis: [[100.0, 0.0, 300.0], [100.0, -50.0, 300.0]].map(|arm| (middle + at(arm)).into()),
            rod_end: (middle + 300.0 * Vec3::z()).into(),
            carried: (middle - beside * Vec3::x()).into(),
            on: KNUCKLE.into(),
        });
        let linkage = linkage(&corner, Side::Left);
        let position = solved(&linkage, State::DESIGN);
        let bar = linkage.torsion_bar_at(&position).expect("the rod reaches");
        let turned = bar.per_travel.abs();
        assert!((beside == 0.0) == (turned < 1e-12) && (beside > 1.0) == (turned > 1e-4), "{turned}");
        let loads = two_loads([0.1, 0.2, 1.0, 0.0, 0.0, 0.0]);
        let found = Statics::new(&corner, &linkage).forces(&position, &loads, &Given::default());
        assert_eq!(found.map(|found| found.support), expected, "{beside} mm beside the axis");
    }
}

/// The torsion bar of a long arm carries: a part that turns by less than a thousandth of a radian
/// per millimetre turns.
#[test]
fn the_torsion_bar_of_a_long_arm_carries() {
    let mut corner = plain(Layout::Trailing);
    (corner.spring, corner.damper) = (None, None);
    let hinge = corner.hinge.as_mut().expect("a trailing arm");
    hinge.pivots = hinge.pivots.map(|[x, y, z]| [x + 1500.0, y, z]);
    corner.torsion_bar = Some(TorsionBar { on: hinge.id.clone(), rate: None });
    let linkage = linkage(&corner, Side::Left);
    let position = solved(&linkage, State::DESIGN);
    let bar = linkage.torsion_bar_at(&position).expect("it turns");
    assert!(bar.per_travel.abs() < 1e-3, "{}", bar.per_travel);
    let loads = two_loads([0.1, 0.2, 1.0, 0.0, 0.0, 0.0]);
    let found = forces(&corner, &linkage, &position, &loads, &Given::default()).expect("it is held");
    assert_eq!(found.support, Support::TorsionBar);
}

/// A force given for a part that is not there has no effect.
#[test]
fn what_is_given_for_no_part_has_no_effect() {
    for_all(50, &(with_everything(), uniform6(-1.0..1.0_f64)), |(mut case, numbers)| {
        let given = Given { damper: 400.0, anti_roll_bar: -90.0, torsion_bar: 70.0 };
        (case.corner.damper, case.corner.anti_roll_bar, case.corner.torsion_bar) = (None, None, None);
        let Ok(linkage) = Linkage::new(&case.corner, Side::Left) else { return };
        let position = solved(&linkage, case.state);
        let statics = Statics::new(&case.corner, &linkage);
        let loads = two_loads(numbers);
        let of = |given: &Given| statics.forces(&position, &loads, given);
        assert_eq!(of(&given), of(&Given::default()));
    });
}

/// What is given acts as given, and is told so: the torsion bar beside a spring that carries.
#[test]
fn a_torsion_bar_beside_a_spring_has_the_moment_given() {
    for_all(100, &(with_everything(), uniform6(-1.0..1.0_f64)), |(case, numbers)| {
        let Ok(linkage) = Linkage::new(&case.corner, Side::Left) else { return };
        let position = solved(&linkage, case.state);
        let given = Given { torsion_bar: 200.0 * numbers[0], ..Given::default() };
        let found = forces(&case.corner, &linkage, &position, &two_loads(numbers), &given);
        let Some(found) = found.filter(|found| found.support == Support::Spring) else { return };
        close("bar", found.torsion_bar.expect("it is there"), given.torsion_bar, 1e-12 * 200.0);
    });
}

/// A spring that stands on the strut beside its line bends it too. The bending is found another
/// way: the moments about the two lines through the lower end that are square to the strut.
#[test]
fn a_spring_beside_its_strut_bends_it() {
    let layouts = &[Layout::StrutAndArm, Layout::StrutAndLinks];
    for_all(100, &(drawn(layouts), uniform6(-1.0..1.0_f64)), |(mut case, numbers)| {
        let strut = case.corner.strut.clone().expect("drawn");
        let [along, ahead, aside] = [0.5, 40.0 * numbers[3], 40.0 * numbers[4]];
        let [x, y, z] = between(strut.lower_end, strut.top_mount, along);
        let spring = case.corner.spring.as_mut().expect("a spring is drawn");
        spring.on.clone_from(&strut.id);
        spring.carried = [x + ahead, y + aside, z];
        spring.body = [x + 80.0, y - 90.0, z + 310.0];
        case.corner.damper = None;
        let linkage = linkage(&case.corner, Side::Left);
        let position = solved(&linkage, case.state);
        let loads = two_loads(numbers);
        let found = forces(&case.corner, &linkage, &position, &loads, &Given::default());
        let Some(found) = found.filter(|found| found.support == Support::Spring) else { return };
        let told = found.strut.as_ref().expect("it has a strut");
        let spring = linkage.spring_at(&position).expect("a spring is drawn");
        let force = found.spring.expect("it carries") * spring.direction();
        let (lower, top) = (position.carry(&linkage, &at(strut.lower_end)), at(strut.top_mount));
        let up = (top - lower).normalize();
        let across = up.cross(&Vec3::x()).normalize();
        // The top mount pushes the strut back.
        let about = |line: &Vec3| {
            line.dot(&(top - lower).cross(&-at(told.across)))
                + line.dot(&(spring.carried - lower).cross(&force))
        };
        let bending = about(&across).hypot(about(&up.cross(&across))) / 1000.0;
        close("bending", told.bending, bending, leeway(&found));
        close("along", told.along, -force.dot(&up), leeway(&found));
    });
}

/// Who reacts the torque decides how a force along the wheel reaches the rack: through the body, as if
/// it acted at the wheel centre; through the knuckle, at the contact. Said by the rack's force by
/// equilibrium, of a corner with every drive and brake, for the kick and for the load cases.
#[test]
fn torque_through_a_shaft_leaves_the_force_at_the_wheel_centre() {
    for_all(100, &drawn(&[Layout::TwoArms, Layout::FourLinksAndTieRod, Layout::StrutAndArm]), |mut case| {
        let linkage = linkage(&case.corner, Side::Left);
        let position = solved(&linkage, case.state);
        for (drive, brakes) in [(Drive::Shaft, Brakes::Outboard), (Drive::Hub, Brakes::Inboard)] {
            (case.corner.drive, case.corner.brakes) = (drive, brakes);
            let rack = |x: f64, through_the_body: bool| {
                let at = if through_the_body { LoadPoint::WheelCentre } else { LoadPoint::Contact };
                let force = [x, 0.0, 0.0];
                let load = Load { at, force, axes: LoadAxes::Wheel, reacted_by: ReactedBy::Knuckle };
                let found = forces(&case.corner, &linkage, &position, &[load], &Given::default())?;
                Some((found.rack.expect("it steers"), leeway(&found)))
            };
            let (shaft, inboard) = (drive == Drive::Shaft, brakes == Brakes::Inboard);
            let statics = Statics::new(&case.corner, &linkage);
            let kick = statics.steering_kick(&position).expect("it steers");
            for (what, told, x, through_the_body) in [
                ("driving", kick.driving, 1000.0, shaft),
                ("regenerative braking", kick.regenerative_braking, -1000.0, shaft),
                ("friction braking", kick.friction_braking, -1000.0, inboard),
            ] {
                let Some((expected, allowed)) = rack(x, through_the_body) else { return };
                close(what, told, expected, allowed);
            }
            for (load_case, through_the_body) in [
                (Case::Driving { g: 0.3 }, shaft),
                (Case::RegenerativeBraking { g: 0.3 }, shaft),
                (Case::FrictionBraking { g: 0.3 }, inboard),
            ] {
                let loads = statics.loads(&load_case, &vehicle(), Axle::Front).expect("all is given");
                let [x, _, up] = loads[0].force;
                let along = [Load { force: [x, 0.0, 0.0], ..loads[0] }];
                let found = forces(&case.corner, &linkage, &position, &along, &Given::default());
                let Some(found) = found else { return };
                let Some((expected, allowed)) = rack(x, through_the_body) else { return };
                close("rack", found.rack.expect("it steers"), expected, allowed);
                assert!(loads.len() == 1 && up > 0.0, "{load_case:?}: {loads:?}");
            }
        }
    });
}
