//! Springs, dampers, rockers and bars on whatever carries them: rates are derivatives, rods
//! keep their lengths, and forces have the power of what they act along.

use geometry_core::{
    Vec3,
    linkage::Linkage,
    screw::{Twist, Wrench},
    setup::{AntiRollBar, Corner, Point, Rocker, Side, TorsionBar},
    solve::{Position, State},
};
use proptest::{collection::vec, prelude::*};

use crate::{
    checking::{MOTION, at, close, for_all, solved},
    corners::{ALL, Drawn, drawn},
};

/// The step of a central difference, mm: its error is that of a third derivative.
const STEP: f64 = 0.01;

/// A drawn corner with a rocker where its spring stood, the spring on the rocker, a bar on
/// what carried the damper or on the rocker, and a torsion bar where a part turns.
pub(crate) fn with_everything() -> impl Strategy<Value = Drawn> {
    (drawn(&ALL), vec(-1.0..1.0_f64, 30), any::<[bool; 2]>()).prop_map(
        |(mut case, numbers, [on_rocker, twist])| {
            let mut dice = numbers.into_iter();
            let mut near = |point: Point| point.map(|x| x + 15.0 * dice.next().unwrap_or_default());
            let corner = &mut case.corner;
            let (Some(spring), Some(damper)) = (&mut corner.spring, &corner.damper) else { return case };
            let [x, y, z] = spring.carried;
            // The rod rises to a rocker whose axis runs along the car.
            let centre = near([x, y - 120.0, z + 320.0]);
            let rocker = Rocker {
                id: "rocker".into(),
                axis: [centre, near([centre[0] + 150.0, centre[1], centre[2]])],
                rod_end: near([x, y - 20.0, z + 340.0]),
                carried: spring.carried,
                on: spring.on.clone(),
            };
            spring.on = "rocker".into();
            spring.carried = near([x, y - 140.0, z + 420.0]);
            spring.body = near([x, y - 380.0, z + 430.0]);
            let [x, y, z] = if on_rocker { rocker.rod_end } else { damper.carried };
            corner.anti_roll_bar = Some(AntiRollBar {
                axis: [near([x + 180.0, y - 150.0, z + 120.0]), near([x + 180.0, 0.0, z + 120.0])],
                arm_end: near([x + 10.0, y, z + 110.0]),
                carried: [x, y, z],
                on: if on_rocker { "rocker".into() } else { damper.on.clone() },
                rate: Some(20.0),
            });
            let turns =
                corner.arms.first().map(|arm| &arm.id).or(corner.hinge.as_ref().map(|hinge| &hinge.id));
            let on = turns.filter(|_| twist).cloned().unwrap_or_else(|| "rocker".into());
            corner.torsion_bar = Some(TorsionBar { on, rate: Some(50.0) });
            corner.rocker = Some(rocker);
            case
        },
    )
}

/// Everything that a position's springs and bars are: lengths as they shorten, and angles.
fn changes(linkage: &Linkage, position: &Position) -> Vec<(&'static str, f64, [f64; 2], Wrench)> {
    let mut found = Vec::new();
    let lengths = [
        ("spring", linkage.spring_at(position), linkage.spring_wrench(position)),
        ("damper", linkage.damper_at(position), linkage.damper_wrench(position)),
    ];
    for (name, length, wrench) in lengths {
        if let (Some(length), Some(wrench)) = (length, wrench) {
            found.push((name, length.length, [-length.per_travel, -length.per_rack], wrench));
        }
    }
    let angles = [
        (
            "bar",
            linkage.anti_roll_bar_at(position).map(|rod| rod.turned),
            linkage.anti_roll_bar_wrench(position),
        ),
        ("torsion bar", linkage.torsion_bar_at(position), linkage.torsion_bar_wrench(position)),
    ];
    for (name, angle, wrench) in angles {
        if let (Some(angle), Some(wrench)) = (angle, wrench) {
            found.push((name, angle.angle, [angle.per_travel, angle.per_rack], wrench));
        }
    }
    found
}

#[test]
fn rates_are_derivatives_of_lengths_and_angles() {
    for_all(200, &with_everything(), |case| {
        let Ok(linkage) = Linkage::new(&case.corner, Side::Left) else { return };
        let State { travel, rack } = case.state;
        let here = changes(&linkage, &solved(&linkage, case.state));
        let nearby = |travel, rack| changes(&linkage, &solved(&linkage, State { travel, rack }));
        let ways = [
            (0, nearby(travel + STEP, rack), nearby(travel - STEP, rack)),
            (1, nearby(travel, rack + STEP), nearby(travel, rack - STEP)),
        ];
        for (way, after, before) in ways {
            if after.len() != here.len() || before.len() != here.len() {
                continue;
            }
            for ((now, after), before) in here.iter().zip(&after).zip(&before) {
                let difference = (after.1 - before.1) / (2.0 * STEP);
                // The difference's own error: a third derivative, larger the nearer dead
                // centre a rod stands.
                let leeway = 1e-6 * (1.0 + now.2[way].abs()).powi(3);
                close(now.0, now.2[way], difference, leeway);
            }
        }
    });
}

/// A spring's force and a bar's moment reach the knuckle as wrenches whose power on every
/// motion of the wheel is what the spring or bar itself does.
#[test]
fn forces_of_springs_and_bars_have_the_power_of_their_changes() {
    for_all(300, &with_everything(), |case| {
        let Ok(linkage) = Linkage::new(&case.corner, Side::Left) else { return };
        let position = solved(&linkage, case.state);
        let steered_link = case.corner.links.iter().find(|link| link.steers).map(|link| &link.id);
        let on = |part: &str| match part {
            "spring" => case.corner.spring.as_ref().map(|_| &case.corner.rocker.as_ref().expect("drawn").on),
            "damper" => case.corner.damper.as_ref().map(|damper| &damper.on),
            _ => None,
        };
        let bar_on_steered = [
            &case.corner.damper.as_ref().expect("drawn").on,
            &case.corner.rocker.as_ref().expect("drawn").on,
        ]
        .iter()
        .any(|on| Some(*on) == steered_link);
        for (name, _, [per_travel, per_rack], wrench) in changes(&linkage, &position) {
            let allowed = |motion: &Twist| {
                MOTION
                    * (wrench.force.norm() * motion.linear.norm()
                        + wrench.moment.norm() * motion.angular.norm())
                    + 1e-12
            };
            let travel = position.travel_twist();
            close(name, travel.power(&wrench), per_travel, allowed(&travel));
            // On the link that steers, the rack itself moves the point besides.
            let rack_moves_it = steered_link.is_some()
                && (on(name) == steered_link || (on(name).is_none() && bar_on_steered));
            if !rack_moves_it {
                let rack = position.rack_twist();
                close(name, rack.power(&wrench), per_rack, allowed(&rack));
            }
        }
    });
}

#[test]
fn rods_keep_their_lengths_and_joints_their_circles() {
    for_all(300, &with_everything(), |case| {
        let Ok(linkage) = Linkage::new(&case.corner, Side::Left) else { return };
        let position = solved(&linkage, case.state);
        let corner: &Corner = &case.corner;
        let (rocker, bar) =
            (corner.rocker.as_ref().expect("drawn"), corner.anti_roll_bar.as_ref().expect("drawn"));
        let parts = [
            (linkage.rocker_at(&position), rocker.axis, rocker.rod_end, rocker.carried),
            (linkage.anti_roll_bar_at(&position), bar.axis, bar.arm_end, bar.carried),
        ];
        for (found, axis, joint, carried) in parts {
            let Some(rod) = found else { continue };
            let [first, second] = axis.map(at);
            let along = (second - first).normalize();
            let place = |point: &Vec3| ((point - first).dot(&along), (point - first).cross(&along).norm());
            let (before, after) = (place(&at(joint)), place(&rod.joint));
            close("along the axis", after.0, before.0, 1e-9);
            close("from the axis", after.1, before.1, 1e-9);
            close("rod", (rod.carried - rod.joint).norm(), (at(carried) - at(joint)).norm(), 1e-8);
        }
    });
}

#[test]
fn in_the_design_position_nothing_has_turned() {
    for_all(100, &with_everything(), |case| {
        let Ok(linkage) = Linkage::new(&case.corner, Side::Left) else { return };
        let position = solved(&linkage, State::DESIGN);
        for found in [linkage.rocker_at(&position), linkage.anti_roll_bar_at(&position)] {
            let rod = found.expect("every rod reaches at design");
            close("turned", rod.turned.angle, 0.0, 1e-9);
        }
        close("twisted", linkage.torsion_bar_at(&position).expect("drawn").angle, 0.0, 1e-12);
    });
}
