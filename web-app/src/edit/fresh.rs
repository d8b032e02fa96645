//! New members and parts with points and sizes to start from: near the wheel, apart from
//! each other, and within reach of a drag.
//!
//! The proportions are common practice, no source; nothing depends on them but where a
//! person first sees the member.

use geometry_core::{
    setup::{
        self, AntiRollBar, Arm, BrakeDisc, Corner, Damper, Hinge, KNUCKLE, Link, Point, Rim, Rocker, Spring,
        Strut, TorsionBar,
    },
    tyre::Size,
};

use super::{MemberKind, Part};

/// Adds a member of a kind under a name that is not in use.
pub(super) fn add_member(corner: &mut Corner, kind: MemberKind) {
    let id = free_id(corner, kind.name());
    let [x, y, z] = corner.wheel.centre;
    // Each further arm or link starts a little behind the one before it.
    let member = corner.arms.len() + corner.links.len();
    #[expect(clippy::cast_precision_loss, reason = "a dozen members at most")]
    let step = 40.0 * member as f64;
    match kind {
        MemberKind::Arm => corner.arms.push(Arm {
            id,
            front_pivot: [x + 120.0 - step, y - 380.0, z - 80.0],
            rear_pivot: [x - 120.0 - step, y - 380.0, z - 80.0],
            ball_joint: [x - step, y - 70.0, z - 100.0],
        }),
        MemberKind::Link => corner.links.push(Link {
            id,
            inboard: [x - 60.0 - step, y - 380.0, z - 60.0],
            outboard: [x - 60.0 - step, y - 80.0, z - 70.0],
            steers: false,
        }),
        MemberKind::Strut => {
            corner.strut = Some(Strut {
                id,
                top_mount: [x - 40.0, y - 190.0, z + 530.0],
                lower_end: [x - 5.0, y - 90.0, z + 20.0],
            });
        }
        MemberKind::Hinge => {
            corner.hinge = Some(Hinge {
                id,
                pivots: [[x + 420.0, y - 120.0, z + 10.0], [x + 300.0, y - 520.0, z + 20.0]],
            });
        }
    }
}

/// Adds a part; without a rate.
pub(super) fn add_part(corner: &mut Corner, part: Part) {
    match part {
        Part::Spring => {
            let (body, carried, on) = place(corner);
            corner.spring = Some(Spring { body, carried, on, rate: None, free_length: None });
        }
        Part::Damper => corner.damper = Some(damper(corner)),
        Part::Rocker => corner.rocker = Some(rocker(corner)),
        Part::AntiRollBar => corner.anti_roll_bar = Some(anti_roll_bar(corner)),
        Part::TorsionBar => {
            // Without anything that turns, the core says so of the knuckle.
            let on = Part::TorsionBar.carriers(corner).into_iter().next().unwrap_or_else(|| KNUCKLE.into());
            corner.torsion_bar = Some(TorsionBar { on, rate: None });
        }
        Part::Rim => {
            let section = corner.wheel.tyre.as_deref().and_then(Size::read).map(|size| size.section_width);
            let width = section.unwrap_or(0.68 * corner.wheel.loaded_radius);
            corner.wheel.rim = Some(Rim { width: (0.9 * width).clamp(40.0, 800.0).round(), offset: 40.0 });
        }
        Part::BrakeDisc => {
            let diameter = corner.wheel.loaded_radius.clamp(50.0, 1000.0).round();
            corner.wheel.brake_disc = Some(BrakeDisc { diameter, thickness: 24.0, inset: 20.0 });
        }
    }
}

/// A rocker above the member that would carry a spring, turning about an axis that runs
/// forward, with a rod up to it.
fn rocker(corner: &Corner) -> Rocker {
    let (_, carried, on) = place(corner);
    let [x, y, z] = corner.wheel.centre;
    let axis = [[x + 20.0, y - 320.0, z + 260.0], [x - 20.0, y - 320.0, z + 260.0]];
    Rocker { id: free_id(corner, Part::Rocker.name()), axis, rod_end: [x, y - 260.0, z + 300.0], carried, on }
}

/// A bar across the car in front of the wheel, its arm running back to above the carrier.
fn anti_roll_bar(corner: &Corner) -> AntiRollBar {
    let (_, carried, on) = place(corner);
    let [x, y, z] = corner.wheel.centre;
    let carried = [carried[0] + 15.0, carried[1] - 40.0, carried[2]];
    AntiRollBar {
        axis: [[x + 160.0, y - 370.0, z - 60.0], [x + 160.0, 0.0, z - 60.0]],
        arm_end: [carried[0] + 10.0, carried[1], carried[2] + 75.0],
        carried,
        on,
        rate: None,
    }
}

/// A part that moves with the wheel; its mass is to be said.
pub(super) fn unsprung(corner: &Corner) -> setup::Part {
    let name = format!("part {}", corner.unsprung.len() + 1);
    setup::Part { name, mass: 0.0, share: None }
}

/// A damper along the spring, or where a spring would be.
fn damper(corner: &Corner) -> Damper {
    let (body, carried, on) = match &corner.spring {
        Some(Spring { body, carried, on, .. }) => (*body, *carried, on.clone()),
        None => place(corner),
    };
    Damper { body, carried, on }
}

/// Body end, moving end and carrier: along the strut if there is one, else standing on
/// the lowest arm or link that does not steer, else on the knuckle.
fn place(corner: &Corner) -> (Point, Point, String) {
    if let Some(strut) = &corner.strut {
        return (strut.top_mount, between(strut.lower_end, strut.top_mount, 0.35), KNUCKLE.into());
    }
    let arms = corner
        .arms
        .iter()
        .map(|arm| (&arm.id, between(arm.front_pivot, arm.rear_pivot, 0.5), arm.ball_joint));
    let links =
        corner.links.iter().filter(|link| !link.steers).map(|link| (&link.id, link.inboard, link.outboard));
    let lowest = arms.chain(links).min_by(|(_, _, a), (_, _, b)| a[2].total_cmp(&b[2]));
    if let Some((id, inner, outer)) = lowest {
        let carried = between(inner, outer, 0.7);
        return (above(carried), carried, id.clone());
    }
    let [x, y, z] = corner.wheel.centre;
    let carried = [x, y - 120.0, z - 60.0];
    (above(carried), carried, KNUCKLE.into())
}

fn above([x, y, z]: Point) -> Point {
    [x - 10.0, y - 50.0, z + 400.0]
}

fn between(from: Point, to: Point, share: f64) -> Point {
    let [a, b, c] = from;
    let [d, e, f] = to;
    // Whole millimetres, so that the table shows no long fractions.
    [(a, d), (b, e), (c, f)].map(|(start, end)| (start + share * (end - start)).round())
}

/// The word with the least number that makes it unique: `link`, `link-2`, …
fn free_id(corner: &Corner, word: &str) -> String {
    let taken = |id: &str| corner.ids().any(|other| other == id);
    // One of so many candidates is free: there are fewer members than candidates.
    let candidates = 2..corner.ids().count() + 3;
    std::iter::once(word.to_string())
        .chain(candidates.map(|number| format!("{word}-{number}")))
        .find(|id| !taken(id))
        .unwrap_or_else(|| word.into())
}
