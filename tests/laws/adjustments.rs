//! The built car altered by shims and threads: rigid parts keep their dimensions, the way back
//! leads home, and a little of it does what the derivatives say.

use geometry_core::{
    readings::Quantity,
    sensitivity::{Kind, Parameter, Sensitivity, SensitivityError},
    setup::{Axle, Coordinate, Corner, Holder, PointPath, Rocker, Side, example},
    solve::State,
};
use proptest::prelude::*;

use crate::{
    checking::{at, close, for_all, vehicle},
    corners::{ALL, Drawn, drawn, plain},
    sensitivity::{sensitivity, value},
};

/// The front corner of the example with its spring on a rocker.
fn with_rocker() -> Corner {
    let mut corner = example().front.expect("it has a front");
    corner.rocker = Some(Rocker {
        id: "rocker".into(),
        axis: [[-80.0, 500.0, 560.0], [60.0, 500.0, 560.0]],
        rod_end: [-10.0, 560.0, 600.0],
        carried: [-5.0, 640.0, 187.0],
        on: "lower-lateral".into(),
    });
    if let Some(spring) = &mut corner.spring {
        spring.on = "rocker".into();
        spring.carried = [-10.0, 490.0, 630.0];
        spring.body = [-10.0, 300.0, 640.0];
    }
    corner
}

/// Every part of the altered car keeps its dimensions but the one altered by so much.
#[test]
fn rigid_parts_keep_their_dimensions() {
    let amounts = (drawn(&ALL), -6.0..6.0_f64, any::<usize>());
    for_all(150, &amounts, |(Drawn { corner, .. }, amount, pick)| {
        let parameters: Vec<Parameter> =
            Parameter::all(&corner).into_iter().filter(|p| p.kind() == Kind::Adjusted).collect();
        keeps(&corner, parameters[pick % parameters.len()], amount);
    });
    let corner = with_rocker();
    for parameter in Parameter::all(&corner).into_iter().filter(|p| p.kind() == Kind::Adjusted) {
        keeps(&corner, parameter, 3.0);
        keeps(&corner, parameter, -9.5);
    }
}

fn keeps(corner: &Corner, parameter: Parameter, amount: f64) {
    let altered = match parameter.apply(corner, Side::Left, amount) {
        Ok(altered) => altered,
        // A millimetre or six may be more than a short-legged corner drawn at random bears.
        Err(SensitivityError::DoesNotClose(_)) => return,
        Err(error) => panic!("{parameter}: {error}"),
    };
    let apart = |corner: &Corner, a: PointPath, b: PointPath| {
        let [a, b] = [a, b].map(|place| at(place.get(corner).expect("it is there")));
        (a - b).norm()
    };
    let moved = |place: PointPath| match parameter {
        Parameter::Joint { place: moved, .. } => moved == place,
        _ => false,
    };
    let same = |a: PointPath, b: PointPath, more: f64| {
        if !moved(a) && !moved(b) {
            let what = format!("{parameter} by {amount}: from {a} to {b}");
            close(&what, apart(&altered, a, b), apart(corner, a, b) + more, 1e-9);
        }
    };
    close("the wheel's height", altered.wheel.centre[2], corner.wheel.centre[2], 1e-9);
    // The knuckle.
    let on_knuckle: Vec<PointPath> =
        PointPath::all(corner).into_iter().filter(|place| place.holder() == Holder::Knuckle).collect();
    for &a in &on_knuckle {
        for &b in &on_knuckle {
            same(a, b, 0.0);
        }
    }
    let all = PointPath::all(corner);
    // Links, moved joint or not: the link is the same.
    for link in 0..corner.links.len() {
        let longer = if parameter == (Parameter::LinkLength { link }) { amount } else { 0.0 };
        let (a, b) = (PointPath::LinkInboard(link), PointPath::LinkOutboard(link));
        close("a link's length", apart(&altered, a, b), apart(corner, a, b) + longer, 1e-9);
    }
    // Arms: the ball joint's distance from the axis.
    for (arm, (was, is)) in corner.arms.iter().zip(&altered.arms).enumerate() {
        let reach = |arm: &geometry_core::setup::Arm| {
            let axis = (at(arm.front_pivot) - at(arm.rear_pivot)).normalize();
            let middle = 0.5 * (at(arm.front_pivot) + at(arm.rear_pivot));
            let away = at(arm.ball_joint) - middle;
            (axis.cross(&away).norm(), axis.dot(&away))
        };
        let longer = if parameter == (Parameter::ArmReach { arm }) { amount } else { 0.0 };
        close("an arm's reach", reach(is).0, reach(was).0 + longer, 1e-9);
        close("along an arm's axis", reach(is).1, reach(was).1, 1e-9);
    }
    // Rods, and what stands on the rocker.
    if corner.rocker.is_some() {
        same(PointPath::RockerRodEnd, PointPath::RockerCarried, 0.0);
        same(PointPath::RockerRodEnd, PointPath::RockerAxis(0), 0.0);
        same(PointPath::SpringCarried, PointPath::RockerRodEnd, 0.0);
        same(PointPath::SpringCarried, PointPath::RockerAxis(1), 0.0);
        same(PointPath::RockerCarried, PointPath::LinkInboard(0), 0.0);
    }
    if corner.anti_roll_bar.is_some() {
        same(PointPath::BarArmEnd, PointPath::BarCarried, 0.0);
        same(PointPath::BarArmEnd, PointPath::BarAxis(0), 0.0);
    }
    // Body points stay where they were, unless it is the joint moved.
    for place in all.iter().filter(|place| place.holder() != Holder::Knuckle) {
        let body = place.holds()
            || matches!(place, PointPath::SpringBody | PointPath::DamperBody | PointPath::RockerAxis(_));
        let pivots = matches!(
            (parameter, place),
            (Parameter::ArmPivots { arm, .. }, PointPath::ArmFrontPivot(i) | PointPath::ArmRearPivot(i)) if arm == *i
        );
        if body && !moved(*place) && !pivots {
            assert_eq!(place.get(corner), place.get(&altered), "{place}");
        }
    }
}

/// Undone, an adjustment leaves the corner as it was.
#[test]
fn an_adjustment_can_be_undone() {
    let strategy = (drawn(&ALL), -3.0..3.0_f64, any::<usize>());
    for_all(100, &strategy, |(Drawn { corner, .. }, amount, pick)| {
        // Shims on the knuckle turn with it, so that back is another way there.
        let parameters: Vec<Parameter> = (Parameter::all(&corner).into_iter())
            .filter(|p| p.kind() == Kind::Adjusted)
            .filter(|p| !matches!(p, Parameter::Joint { place, .. } if place.holder() == Holder::Knuckle))
            // A hinge's bushes are not told in the corner: only their middle is kept.
            .filter(|p| !matches!(p, Parameter::Joint { place: PointPath::HingePivot(_), .. }))
            .collect();
        let Some(&parameter) = parameters.get(pick % parameters.len().max(1)) else { return };
        let Ok(there) = parameter.apply(&corner, Side::Left, amount) else { return };
        let back = parameter.apply(&there, Side::Left, -amount).expect("it came from there");
        for ((path, was), (_, is)) in corner.points().into_iter().zip(back.points()) {
            let distance = (at(was) - at(is)).norm();
            assert!(distance < 1e-8, "{parameter}: {path} comes back {distance:e} mm off");
        }
        close("camber", back.wheel.camber, corner.wheel.camber, 1e-9);
        close("toe", back.wheel.toe, corner.wheel.toe, 1e-9);
    });
}

/// A small altered amount does what the derivative says; on the right-hand side as well.
#[test]
fn the_altered_car_reads_as_the_table_says() {
    for layout in ALL {
        let corner = plain(layout);
        let mirror = corner.mirrored();
        let found = sensitivity(&corner, State::DESIGN);
        for parameter in found.parameters().filter(|p| p.kind() == Kind::Adjusted) {
            let by = |amount: f64| {
                let altered = parameter.apply(&corner, Side::Left, amount).expect("a little");
                [altered.wheel.camber, altered.wheel.toe]
            };
            let (more, less) = (by(0.01), by(-0.01));
            for (i, quantity) in [Quantity::Camber, Quantity::Toe].into_iter().enumerate() {
                let told = value(&found, parameter, quantity);
                close(quantity.name(), (more[i] - less[i]) / 0.02, told, 1e-6);
            }
        }
        let right = Sensitivity::of(&mirror, Side::Right, &vehicle(), Axle::Front, State::DESIGN)
            .expect("the mirror image");
        for parameter in found.parameters() {
            let sign = match parameter {
                Parameter::Coordinate { axis: Coordinate::Y, .. }
                | Parameter::Joint { axis: Coordinate::Y, .. }
                | Parameter::ArmPivots { axis: Coordinate::Y, .. } => -1.0,
                _ => 1.0,
            };
            for quantity in [Quantity::Camber, Quantity::Toe, Quantity::CamberGain, Quantity::HalfTrackChange]
            {
                let (left, right) = (value(&found, parameter, quantity), value(&right, parameter, quantity));
                close(quantity.name(), right, sign * left, 1e-9);
            }
        }
    }
}
