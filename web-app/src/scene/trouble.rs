//! What is wrong, where it is: the points an error speaks of, and the gaps of a corner that is
//! asked to go beyond its reach.

use geometry_core::{
    setup::Corner,
    solve::{Gap, State},
};

use super::{Anchor, Pen, Placed, parts};
use crate::{edit::PointPath, units::Unit, view::View};

/// Pixels: the radius of the ring around a faulty point.
const RING: f64 = 14.0;
/// Share of the widest gap from which a gap is told by its number.
const WIDE: f64 = 0.3;

/// A ring around each point of which the error speaks, and a line along a link or strut that is
/// faulty as a whole.
pub fn faults(pen: &mut Pen, placed: &Placed, faulty: &[PointPath]) {
    for path in faulty {
        let Some(point) = placed.at(*path) else { continue };
        pen.circle("fault", &point, RING);
        let other = match path {
            PointPath::LinkInboard(i) => PointPath::LinkOutboard(*i),
            PointPath::StrutTopMount => PointPath::StrutLowerEnd,
            _ => continue,
        };
        if let Some(other) = placed.at(other).filter(|_| faulty.contains(&other)) {
            pen.line("fault", &point, &other);
        }
    }
}

/// The corner as near as it comes to a state that it does not reach.
#[derive(Debug, Clone, PartialEq)]
pub struct Apart {
    /// The state asked for.
    pub state: State,
    /// Where body and knuckle have their points.
    pub placed: Placed,
    /// What is missing, the widest gap first.
    pub gaps: Vec<Gap>,
    /// The same in words.
    pub sentence: String,
}

/// Members and knuckle as near as they come, with what is missing.
pub fn apart(pen: &mut Pen, corner: &Corner, apart: &Apart) {
    parts::draw_members(pen, corner, &apart.placed);
    let widest = apart.gaps.first().map_or(0.0, Gap::width);
    for gap in &apart.gaps {
        pen.line("gap", &gap.on_member, &gap.on_knuckle);
        for end in [&gap.on_member, &gap.on_knuckle] {
            pen.circle("gap-end", end, 4.0);
        }
        if pen.view() == View::Front && gap.width() >= WIDE * widest {
            let text = format!("{}, {} apart", gap.member.id(corner), Unit::Millimetre.show(gap.width()));
            pen.text("note gap-name", &gap.on_knuckle, [12.0, -4.0], Anchor::Start, text);
        }
    }
}
