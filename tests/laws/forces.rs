//! Forces in the members: their work is the load's, every body is in balance, and other ways
//! to the same forces agree.

use geometry_core::{
    Vec3,
    linkage::Linkage,
    readings::{spin_axis, steering_twist},
    screw::Wrench,
    setup::{Corner, Drive, KNUCKLE, Point, RACK_DIRECTION, Side},
    solve::{Position, State},
    statics::{Forces, ForcesError, Given, Load, LoadAxes, LoadPoint, ReactedBy, Statics, Support},
};
use proptest::{array::uniform6, prelude::*};

use crate::{
    carried::with_everything,
    checking::{MOTION, at, close, close_vectors, for_all, linkage, read, solved},
    copies::{between, in_links},
    corners::{ALL, Drawn, Layout, drawn, plain},
    statics::{allowed, free_bodies},
};

/// A load of up to 4 kN at the contact and one at the wheel centre, reacted by the knuckle.
pub(crate) fn two_loads(numbers: [f64; 6]) -> [Load; 2] {
    let [a, b, c, d, e, f] = numbers.map(|number| 4000.0 * number);
    [
        Load {
            at: LoadPoint::Contact,
            force: [a, b, c],
            axes: LoadAxes::Vehicle,
            reacted_by: ReactedBy::Knuckle,
        },
        Load {
            at: LoadPoint::WheelCentre,
            force: [d, e, f],
            axes: LoadAxes::Vehicle,
            reacted_by: ReactedBy::Knuckle,
        },
    ]
}

/// Their wrench, from the readings' points.
fn wrench(linkage: &Linkage, position: &Position, loads: &[Load]) -> Wrench {
    let readings = read(linkage, position);
    let mut sum = Wrench { force: Vec3::zeros(), moment: Vec3::zeros() };
    for load in loads {
        let point = match load.at {
            LoadPoint::Contact => readings.contact,
            LoadPoint::WheelCentre => readings.wheel_centre,
        };
        assert_eq!(load.reacted_by, ReactedBy::Knuckle);
        sum = sum.plus(&Wrench::at_point(&at(point), at(load.force)));
    }
    sum
}

fn cases() -> impl Strategy<Value = (Drawn, [f64; 6])> {
    (drawn(&ALL), uniform6(-1.0..1.0_f64))
}

/// The forces; none only where the spring hardly moves with the wheel.
pub(crate) fn forces(
    corner: &Corner,
    linkage: &Linkage,
    position: &Position,
    loads: &[Load],
    given: &Given,
) -> Option<Forces> {
    match Statics::new(corner, linkage).forces(position, loads, given) {
        Ok(forces) => Some(forces),
        Err(ForcesError::DeadPoint) => {
            let ratio = linkage.spring_at(position).map_or(0.0, |spring| spring.per_travel);
            assert!(ratio.abs() < 5e-3, "a dead point with a spring ratio of {ratio}");
            None
        }
        // A rod that does not reach carries nothing that is given.
        Err(ForcesError::OutOfReach { .. }) if *given != Given::default() => None,
        Err(error) => panic!("{error}"),
    }
}

/// How much larger members' forces are than the load: to what they are known.
pub(crate) fn leeway(forces: &Forces) -> f64 {
    let links = forces.links.iter().map(|link| at(link.on_body).norm());
    let arms = forces.arms.iter().map(|arm| at(arm.on_knuckle).norm());
    let others = forces.spring.into_iter().chain(forces.rocker.iter().map(|rocker| rocker.rod));
    10.0 * MOTION * links.chain(arms).chain(others.map(f64::abs)).fold(1000.0, f64::max)
}

/// The spring's force does on the travel motion what the load does, and the rack's on the
/// steering motion; with springs on knuckle, arms, links (the tie rod as well) and struts.
#[test]
fn members_do_the_loads_work() {
    for_all(400, &cases(), |(case, numbers)| {
        let linkage = linkage(&case.corner, Side::Left);
        let position = solved(&linkage, case.state);
        let loads = two_loads(numbers);
        let Some(found) = forces(&case.corner, &linkage, &position, &loads, &Given::default()) else {
            return;
        };
        assert_eq!(found.support, Support::Spring);
        assert!(found.imbalance <= 1e-11, "{:e}", found.imbalance);
        let load = wrench(&linkage, &position, &loads);
        let spring = linkage.spring_at(&position).expect("a spring is drawn");
        let (force, travel) = (found.spring.expect("it carries"), position.travel_twist());
        close(
            "spring",
            force * spring.per_travel,
            travel.power(&load),
            allowed(&load, &travel) + leeway(&found),
        );
        match (found.rack, steering_twist(&linkage, &position)) {
            (Some(rack), Some(steering)) => {
                close("rack", rack, steering.power(&load), allowed(&load, &steering) + leeway(&found));
            }
            (None, None) => {}
            (rack, steering) => panic!("{rack:?} and {steering:?}"),
        }
    });
}

/// What the members push the body with is the load, in force and in moment.
#[test]
fn the_body_feels_the_load() {
    for_all(
        300,
        &(prop_oneof![drawn(&ALL), with_everything()], uniform6(-1.0..1.0_f64)),
        |(case, numbers)| {
            let Ok(linkage) = Linkage::new(&case.corner, Side::Left) else { return };
            let position = solved(&linkage, case.state);
            let loads = two_loads(numbers);
            let Some(found) = forces(&case.corner, &linkage, &position, &loads, &Given::default()) else {
                return;
            };
            let pushes = on_body(&case.corner, &linkage, &position, &found);
            let load = wrench(&linkage, &position, &loads);
            let centre = position.wheel_centre();
            let mut sum = Wrench { force: -load.force, moment: centre.cross(&load.force) - load.moment };
            for (point, force, moment) in pushes {
                let about_centre = Wrench::at_point(&(point - centre), force);
                sum = sum.plus(&about_centre).plus(&Wrench { force: Vec3::zeros(), moment });
            }
            close_vectors("force", &sum.force, &Vec3::zeros(), leeway(&found));
            close_vectors("moment", &sum.moment, &Vec3::zeros(), 1000.0 * leeway(&found));
        },
    );
}

/// Points of the body, and force (N) and moment (N·mm) on it there, from what is told.
fn on_body(
    corner: &Corner,
    linkage: &Linkage,
    position: &Position,
    found: &Forces,
) -> Vec<(Vec3, Vec3, Vec3)> {
    let mut pushes = Vec::new();
    let mut push = |point: Vec3, force: Point| pushes.push((point, at(force), Vec3::zeros()));
    for (arm, forces) in corner.arms.iter().zip(&found.arms) {
        push(at(arm.front_pivot), forces.on_body.first);
        push(at(arm.rear_pivot), forces.on_body.second);
        push(at(arm.rear_pivot), forces.on_body.along);
    }
    for (axis, forces) in [
        (corner.hinge.as_ref().map(|hinge| hinge.pivots), found.hinge.as_ref().map(|hinge| hinge.on_body)),
        (
            corner.rocker.as_ref().map(|rocker| rocker.axis),
            found.rocker.as_ref().map(|rocker| rocker.on_body),
        ),
    ] {
        if let (Some([first, second]), Some(forces)) = (axis, forces) {
            push(at(first), forces.first);
            push(at(second), forces.second);
            push(at(first), forces.along);
        }
    }
    if let (Some(strut), Some(forces)) = (&corner.strut, &found.strut) {
        push(at(strut.top_mount), forces.across);
    }
    if let (Some(spring), Some(force)) = (linkage.spring_at(position), found.spring) {
        push(spring.body, (-force * spring.direction()).into());
    }
    if let Some(force) = found.held_at_wheel_centre {
        push(position.wheel_centre(), [0.0, 0.0, -force]);
    }
    let rack = at(corner.rack_direction.unwrap_or(RACK_DIRECTION)).normalize();
    for (link, forces) in corner.links.iter().zip(&found.links) {
        let inboard = at(link.inboard) + f64::from(link.steers) * position.state().rack * rack;
        pushes.push((inboard, at(forces.on_body), 1000.0 * at(forces.moment_on_body)));
    }
    if let (Some(bar), Some(moment)) = (linkage.torsion_bar_at(position), found.torsion_bar) {
        // Only where it carries: its axis is not told.
        assert!(moment == 0.0 || found.support == Support::TorsionBar, "{bar:?}");
    }
    pushes
}

/// Damper, bars and spring given and found together: what they do on the travel motion sums
/// with the load's work to nothing, and every free body is in balance.
#[test]
fn given_forces_share_the_work() {
    for_all(300, &(with_everything(), uniform6(-1.0..1.0_f64)), |(case, numbers)| {
        let Ok(linkage) = Linkage::new(&case.corner, Side::Left) else { return };
        let position = solved(&linkage, case.state);
        let loads = two_loads(numbers);
        let given = Given {
            damper: 900.0 * numbers[0],
            anti_roll_bar: 300.0 * numbers[1],
            torsion_bar: 200.0 * numbers[2],
        };
        let Some(found) = forces(&case.corner, &linkage, &position, &loads, &given) else { return };
        assert!(found.imbalance <= 1e-9, "{:e}", found.imbalance);
        // The drop link's pull turns the bar's arm back.
        if let (Some(tension), Some(bar)) = (found.drop_link, linkage.anti_roll_bar_at(&position)) {
            let [first, second] = case.corner.anti_roll_bar.as_ref().expect("drawn").axis.map(at);
            let moment =
                turning(&[first, second], &bar.joint, &(tension * (bar.carried - bar.joint).normalize()));
            close("bar", moment, -1000.0 * given.anti_roll_bar, 1e-9 * (1e5 + 200.0 * tension.abs()));
        }
        let travel = position.travel_twist();
        let load = wrench(&linkage, &position, &loads);
        let mut power = travel.power(&load);
        let mut size = allowed(&load, &travel) + leeway(&found);
        let mut add = |force: f64, per_travel: f64| {
            power += force * per_travel;
            size += 1e-9 * (force * per_travel).abs();
        };
        if let (Some(force), Some(spring)) = (found.spring, linkage.spring_at(&position)) {
            add(force, -spring.per_travel);
        }
        if let Some(damper) = linkage.damper_at(&position) {
            add(given.damper, -damper.per_travel);
        }
        if let Some(bar) = linkage.anti_roll_bar_at(&position) {
            add(1000.0 * given.anti_roll_bar, bar.turned.per_travel);
        }
        if let (Some(moment), Some(bar)) = (found.torsion_bar, linkage.torsion_bar_at(&position)) {
            add(1000.0 * moment, bar.per_travel);
        }
        add(found.held_at_wheel_centre.unwrap_or_default(), 1.0);
        close("power", power, 0.0, size);
    });
}

/// Moment of a force about the line through two points, N·mm.
fn turning([first, second]: &[Vec3; 2], point: &Vec3, force: &Vec3) -> f64 {
    (second - first).normalize().dot(&(point - first).cross(force))
}

/// The rod's pull and the spring's push hold the rocker about its axis.
#[test]
fn a_rod_holds_its_rocker_against_the_spring() {
    for_all(200, &(with_everything(), uniform6(-1.0..1.0_f64)), |(mut case, numbers)| {
        (case.corner.damper, case.corner.anti_roll_bar, case.corner.torsion_bar) = (None, None, None);
        let Ok(linkage) = Linkage::new(&case.corner, Side::Left) else { return };
        let position = solved(&linkage, case.state);
        let loads = two_loads(numbers);
        let Some(found) = forces(&case.corner, &linkage, &position, &loads, &Given::default()) else {
            return;
        };
        let (Some(force), Some(rocker)) = (found.spring, &found.rocker) else { return };
        let axis = case.corner.rocker.as_ref().expect("drawn").axis.map(at);
        let rod = linkage.rocker_at(&position).expect("it carries");
        let spring = linkage.spring_at(&position).expect("it carries");
        let of_rod = turning(&axis, &rod.joint, &(rocker.rod * (rod.carried - rod.joint).normalize()));
        let of_spring = turning(&axis, &spring.carried, &(force * spring.direction()));
        close("rocker", of_rod, -of_spring, 500.0 * leeway(&found));
    });
}

/// A spring about the strut's own line pushes along it only: the strut is bent by the top
/// mount's force alone.
#[test]
fn a_coaxial_spring_does_not_bend_its_strut() {
    let layouts = &[Layout::StrutAndArm, Layout::StrutAndLinks];
    for_all(100, &(drawn(layouts), 0.2..0.8_f64, uniform6(-1.0..1.0_f64)), |(mut case, share, numbers)| {
        let strut = case.corner.strut.clone().expect("drawn");
        let spring = case.corner.spring.as_mut().expect("a spring is drawn");
        spring.on.clone_from(&strut.id);
        spring.body = strut.top_mount;
        spring.carried = between(strut.lower_end, strut.top_mount, share);
        case.corner.damper = None;
        let linkage = linkage(&case.corner, Side::Left);
        let position = solved(&linkage, case.state);
        let Some(found) = forces(&case.corner, &linkage, &position, &two_loads(numbers), &Given::default())
        else {
            return;
        };
        let forces = found.strut.as_ref().expect("it has a strut");
        let length = (at(strut.top_mount) - position.carry(&linkage, &at(strut.lower_end))).norm();
        close("along", forces.along, found.spring.expect("it carries"), leeway(&found));
        close("bending", forces.bending, at(forces.across).norm() * length / 1000.0, leeway(&found));
    });
}

/// The forces from the statics that uses nothing of the core but where the joints are.
#[test]
fn free_bodies_of_another_hand_agree() {
    for_all(400, &cases(), |(mut case, numbers)| {
        if case.corner.links.iter().any(|link| Some(&link.id) == case.corner.spring.as_ref().map(|s| &s.on)) {
            case.corner.spring.as_mut().expect("a spring is drawn").on = KNUCKLE.into();
        }
        let corner = &case.corner;
        let linkage = linkage(corner, Side::Left);
        let position = solved(&linkage, case.state);
        let loads = two_loads(numbers);
        let Some(found) = forces(corner, &linkage, &position, &loads, &Given::default()) else { return };
        let spring = linkage.spring_at(&position).expect("a spring is drawn");
        let load = wrench(&linkage, &position, &loads);
        let (holding, sizes, spring_force) = free_bodies(corner, &linkage, &position, &spring, &load);
        // Two solutions of one system: rounding times its condition, which is some thousand
        // times the spring's ratio.
        let allowed = leeway(&found) * (1.0 + 0.1 / spring.per_travel.abs());
        close("spring", found.spring.expect("it carries"), spring_force, allowed);
        let mut along = sizes.iter().zip(&holding.lines);
        let mut ordered: Vec<_> = found.links.iter().filter(|link| link.steers).collect();
        ordered.extend(found.links.iter().filter(|link| !link.steers));
        for link in ordered {
            let (size, _) = along.next().expect("a line a link");
            close(&link.id, link.axial, -size, allowed);
            close(&link.id, link.axial_inboard, -size, allowed);
        }
        let on = &corner.spring.as_ref().expect("a spring is drawn").on;
        let mut next = |lines: usize| -> Vec3 {
            along.by_ref().take(lines).map(|(size, line)| *size * Vec3::new(line[0], line[1], line[2])).sum()
        };
        for arm in &found.arms {
            let expected = if arm.id == *on { Vec3::new(sizes[3], sizes[4], sizes[5]) } else { next(2) };
            close_vectors(&arm.id, &at(arm.on_knuckle), &expected, allowed);
        }
        if let Some(strut) = &found.strut {
            close_vectors("strut", &-at(strut.across), &next(2), allowed);
        }
        if let Some(hinge) = &found.hinge {
            let forces = hinge.on_body;
            let sum = at(forces.first) + at(forces.second) + at(forces.along);
            close_vectors("hinge", &-sum, &next(5), allowed);
        }
    });
}

/// An arm and the two links to its pivots push the knuckle alike.
#[test]
fn an_arm_pushes_as_two_links() {
    let layouts = &[Layout::TwoArms, Layout::ArmAndSplitLinks, Layout::StrutAndArm];
    for_all(200, &(drawn(layouts), 0.3..1.0_f64, uniform6(-1.0..1.0_f64)), |(mut case, share, numbers)| {
        let arm = case.corner.arms.last().expect("an arm is drawn").clone();
        let spring = case.corner.spring.as_mut().expect("a spring is drawn");
        spring.on.clone_from(&arm.id);
        spring.carried = between(arm.front_pivot, arm.ball_joint, share);
        spring.body = [spring.carried[0], spring.carried[1] - 50.0, spring.carried[2] + 300.0];
        let mut copy = in_links(&case.corner);
        copy.spring.as_mut().expect("it was copied").on = format!("{}-front", arm.id);
        case.corner.damper = None;
        copy.damper = None;
        let (arms, links) = (linkage(&case.corner, Side::Left), linkage(&copy, Side::Left));
        let loads = two_loads(numbers);
        let of_arms = forces(&case.corner, &arms, &solved(&arms, case.state), &loads, &Given::default());
        let of_links = forces(&copy, &links, &solved(&links, case.state), &loads, &Given::default());
        let (Some(of_arms), Some(of_links)) = (of_arms, of_links) else { return };
        let allowed = leeway(&of_arms) + leeway(&of_links);
        close("spring", of_links.spring.expect("it carries"), of_arms.spring.expect("it carries"), allowed);
        close("rack", of_links.rack.expect("it steers"), of_arms.rack.expect("it steers"), allowed);
        for arm in &of_arms.arms {
            let parts = of_links.links.iter().filter(|link| link.id.starts_with(&arm.id));
            let sum: Vec3 = parts.map(|link| at(link.on_knuckle)).sum();
            close_vectors(&arm.id, &sum, &at(arm.on_knuckle), allowed);
        }
    });
}

/// A bare link feels nothing but tension; a spring whose line meets the link's own leaves no
/// moment at its joint.
#[test]
fn a_link_under_a_spring_through_its_line_is_not_twisted() {
    for_all(200, &(cases(), 0.2..0.9_f64), |((mut case, numbers), share)| {
        let Some(link) = case.corner.links.first().cloned() else { return };
        let spring = case.corner.spring.as_mut().expect("a spring is drawn");
        spring.on.clone_from(&link.id);
        spring.carried = between(link.inboard, link.outboard, share);
        spring.body = [spring.carried[0] + 20.0, spring.carried[1] - 30.0, spring.carried[2] + 320.0];
        case.corner.damper = None;
        let linkage = linkage(&case.corner, Side::Left);
        let position = solved(&linkage, case.state);
        let Some(found) = forces(&case.corner, &linkage, &position, &two_loads(numbers), &Given::default())
        else {
            return;
        };
        for of_link in &found.links {
            let moment = at(of_link.moment_on_body);
            close_vectors("moment", &moment, &Vec3::zeros(), leeway(&found));
            if of_link.id != link.id {
                close("axial", of_link.axial_inboard, of_link.axial, leeway(&found));
                close("along", at(of_link.on_body).norm(), of_link.axial.abs(), leeway(&found));
            }
        }
    });
}

/// Forces add: those of two loads, a damper and bars together are the sum of each alone.
#[test]
fn forces_add() {
    for_all(100, &(with_everything(), uniform6(-1.0..1.0_f64)), |(case, numbers)| {
        let Ok(linkage) = Linkage::new(&case.corner, Side::Left) else { return };
        let position = solved(&linkage, case.state);
        let statics = Statics::new(&case.corner, &linkage);
        let loads = two_loads(numbers);
        let given = Given { damper: 500.0, anti_roll_bar: 80.0, torsion_bar: 0.0 };
        let alone = [
            statics.forces(&position, &loads[..1], &Given::default()),
            statics.forces(&position, &loads[1..], &Given::default()),
            statics.forces(&position, &[], &given),
        ];
        let Some(together) = forces(&case.corner, &linkage, &position, &loads, &given) else { return };
        let alone = alone.map(|forces| forces.expect("together they were found"));
        let sum = |value: &dyn Fn(&Forces) -> f64| alone.iter().map(value).sum::<f64>();
        let allowed = leeway(&together) + alone.iter().map(leeway).sum::<f64>();
        for i in 0..together.links.len() {
            close("link", together.links[i].axial, sum(&|f| f.links[i].axial), allowed);
        }
        let of_spring = |f: &Forces| f.spring.or(f.torsion_bar).unwrap_or_default();
        close("spring", of_spring(&together), sum(&of_spring), allowed);
    });
}

/// The mirrored corner under the mirrored load feels mirrored forces.
#[test]
fn the_other_side_is_the_mirror_image() {
    for_all(200, &cases(), |(case, numbers)| {
        let mirror = case.corner.mirrored();
        let (left, right) = (linkage(&case.corner, Side::Left), linkage(&mirror, Side::Right));
        let loads = two_loads(numbers).map(|load| Load { reacted_by: ReactedBy::Shaft, ..load });
        let turned = |[x, y, z]: Point| [x, -y, z];
        let other = loads.map(|load| Load { force: turned(load.force), ..load });
        let here = forces(&case.corner, &left, &solved(&left, case.state), &loads, &Given::default());
        let there = forces(&mirror, &right, &solved(&right, case.state), &other, &Given::default());
        let (Some(here), Some(there)) = (here, there) else { return };
        let allowed = leeway(&here);
        close("spring", there.spring.expect("it carries"), here.spring.expect("it carries"), allowed);
        close("rack", there.rack.unwrap_or_default(), here.rack.unwrap_or_default(), allowed);
        close("shaft", there.shaft_torque, here.shaft_torque, allowed);
        for (there, here) in there.links.iter().zip(&here.links) {
            close(&here.id, there.axial, here.axial, allowed);
            close_vectors(&here.id, &at(turned(there.on_body)), &at(here.on_body), allowed);
        }
        for (there, here) in there.arms.iter().zip(&here.arms) {
            close_vectors(&here.id, &at(turned(there.on_knuckle)), &at(here.on_knuckle), allowed);
            close_vectors(&here.id, &at(turned(there.on_body.first)), &at(here.on_body.first), allowed);
        }
        if let (Some(there), Some(here)) = (&there.strut, &here.strut) {
            close("bending", there.bending, here.bending, allowed);
            close("along", there.along, here.along, allowed);
        }
    });
}

/// A force along the wheel whose torque goes through a shaft reaches the knuckle as the same
/// force at the wheel centre; the shaft's torque is force times radius, + drives forward.
#[test]
fn a_shaft_carries_the_force_to_the_wheel_centre() {
    for_all(200, &cases(), |(case, numbers)| {
        let linkage = linkage(&case.corner, Side::Left);
        let position = solved(&linkage, case.state);
        let spin = spin_axis(&linkage, &position);
        let heading = spin.cross(&Vec3::z()).normalize();
        let size = 4000.0 * numbers[0];
        let at_contact = Load {
            at: LoadPoint::Contact,
            force: (size * heading).into(),
            axes: LoadAxes::Vehicle,
            reacted_by: ReactedBy::Shaft,
        };
        let at_centre = Load { at: LoadPoint::WheelCentre, ..at_contact };
        let one = forces(&case.corner, &linkage, &position, &[at_contact], &Given::default());
        let other = forces(&case.corner, &linkage, &position, &[at_centre], &Given::default());
        let (Some(one), Some(other)) = (one, other) else { return };
        let radius = case.corner.wheel.loaded_radius;
        close("torque", one.shaft_torque, size * radius / 1000.0, 1e-9);
        assert!(other.shaft_torque.abs() < 1e-12);
        for (one, other) in one.links.iter().zip(&other.links) {
            close(&one.id, one.axial, other.axial, 1e-9 * size.abs() + 1e-6);
        }
        close("spring", one.spring.expect("it carries"), other.spring.expect("it carries"), leeway(&other));
    });
}

/// The kick by virtual work is the rack's force by equilibrium, with a spring, with a torsion
/// bar and with neither.
#[test]
fn the_steering_kick_is_the_rack_force() {
    for_all(200, &(with_everything(), 0..4_u8), |(mut case, kind)| {
        match kind {
            0 => case.corner.spring = None,
            1 => (case.corner.spring, case.corner.torsion_bar) = (None, None),
            2 => case.corner.drive = Drive::Hub,
            _ => {}
        }
        let Ok(linkage) = Linkage::new(&case.corner, Side::Left) else { return };
        let position = solved(&linkage, case.state);
        let statics = Statics::new(&case.corner, &linkage);
        let Some(kick) = statics.steering_kick(&position) else {
            assert!(!linkage.steers());
            return;
        };
        let drive = ReactedBy::drive(case.corner.drive);
        for (kick, x, reacted_by) in [
            (kick.driving, 1000.0, drive),
            (kick.regenerative_braking, -1000.0, drive),
            (kick.friction_braking, -1000.0, ReactedBy::Knuckle),
        ] {
            let load =
                Load { at: LoadPoint::Contact, force: [x, 0.0, 0.0], axes: LoadAxes::Wheel, reacted_by };
            let found = forces(&case.corner, &linkage, &position, &[load], &Given::default());
            let Some(found) = found else { return };
            let expected = match kind {
                0 => Support::TorsionBar,
                1 => Support::WheelCentre,
                _ => found.support,
            };
            if linkage.torsion_bar_at(&position).is_some() {
                assert_eq!(found.support, expected);
            }
            close("kick", found.rack.expect("it steers"), kick, leeway(&found));
        }
        close("regeneration is the reverse of drive", kick.regenerative_braking, -kick.driving, 1e-9);
    });
}

/// Where nothing carries the wheel, the support at its centre has the load's power.
#[test]
fn without_a_spring_the_wheel_is_held_at_its_centre() {
    for_all(100, &cases(), |(mut case, numbers)| {
        case.corner.spring = None;
        let linkage = linkage(&case.corner, Side::Left);
        let position = solved(&linkage, case.state);
        let loads = two_loads(numbers);
        let found = Statics::new(&case.corner, &linkage).forces(&position, &loads, &Given::default());
        let found = found.expect("a corner in its working range is held");
        let (load, travel) = (wrench(&linkage, &position, &loads), position.travel_twist());
        let held = found.held_at_wheel_centre.expect("nothing else carries");
        assert_eq!((found.support, found.spring), (Support::WheelCentre, None));
        close("support", held, -travel.power(&load), allowed(&load, &travel) + leeway(&found));
    });
}

/// A dead point is an error, not a huge number: a spring whose line all but meets the axis of
/// what carries it. At rest altogether it is told as what does not carry.
#[test]
fn a_spring_that_hardly_moves_is_told() {
    let mut corner = plain(Layout::Trailing);
    let hinge = corner.hinge.as_ref().expect("a trailing arm");
    let middle = at(between(hinge.pivots[0], hinge.pivots[1], 0.5));
    for (beside, dead) in [(100.0, false), (0.1, true), (0.0, false)] {
        let spring = corner.spring.as_mut().expect("a spring is drawn");
        spring.on = KNUCKLE.into();
        spring.carried = (middle - 300.0 * Vec3::x()).into();
        spring.body = (middle - 50.0 * Vec3::x() + beside * Vec3::z()).into();
        let linkage = linkage(&corner, Side::Left);
        let position = solved(&linkage, State::DESIGN);
        let loads = two_loads([0.1, 0.2, 1.0, 0.0, 0.0, 0.0]);
        let found = Statics::new(&corner, &linkage).forces(&position, &loads, &Given::default());
        if dead {
            assert_eq!(found, Err(ForcesError::DeadPoint));
            continue;
        }
        let support = if beside == 0.0 { Support::WheelCentre } else { Support::Spring };
        assert_eq!(found.expect("held").support, support);
    }
}
