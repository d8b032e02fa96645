//! New members, springs and dampers with points to start from: near the wheel, apart
//! from each other, and within reach of a drag.
//!
//! The proportions are common practice, no source; nothing depends on them but where a
//! person first sees the member.

use geometry_core::setup::{Arm, Corner, Damper, Hinge, KNUCKLE, Link, Point, Spring, Strut};

use super::MemberKind;

/// Adds a member of a kind under a name that is not in use.
pub(super) fn add_member(corner: &mut Corner, kind: MemberKind) {
    let id = free_id(corner, kind);
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

/// A spring at a place where one is common; without a rate.
pub(super) fn spring(corner: &Corner) -> Spring {
    let (body, carried, on) = place(corner);
    Spring { body, carried, on, rate: None, free_length: None }
}

/// A damper along the spring, or where a spring would be.
pub(super) fn damper(corner: &Corner) -> Damper {
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

/// The kind's word with the least number that makes it unique: `link`, `link-2`, …
fn free_id(corner: &Corner, kind: MemberKind) -> String {
    let word = kind.name();
    let taken = |id: &str| corner.ids().any(|other| other == id);
    // One of so many candidates is free: there are fewer members than candidates.
    let candidates = 2..corner.ids().count() + 3;
    std::iter::once(word.to_string())
        .chain(candidates.map(|number| format!("{word}-{number}")))
        .find(|id| !taken(id))
        .unwrap_or_else(|| word.into())
}
