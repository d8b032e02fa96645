//! Where members stand at the ends of the travel, and the ways of points over it.

use geometry_core::{Vec3, setup::Corner};

use super::{Pen, Placed, parts};
use crate::{edit::PointPath, units::Unit, view::View};

/// A point's way over the travel, from rebound to bump.
#[derive(Debug, Clone, PartialEq)]
pub struct Trace {
    /// What the point is called.
    pub name: String,
    /// Where it is, evenly spaced in travel.
    pub points: Vec<Vec3>,
}

impl Trace {
    /// A way that is still to be found.
    #[must_use]
    pub fn new(name: String) -> Self {
        Self { name, points: Vec::new() }
    }
}

/// The members at a wheel travel, mm, with its name; the right corner's mirror image has none.
pub fn draw_end(pen: &mut Pen, corner: &Corner, placed: &Placed, travel: f64) {
    parts::draw_members(pen, corner, placed);
    if pen.view() == View::Front
        && !pen.is_mirrored()
        && let Some(centre) = placed.at(PointPath::WheelCentre)
    {
        pen.circle("hub", &centre, 2.0);
        let word = if travel < 0.0 { "rebound" } else { "bump" };
        let text = format!("{word} {}", Unit::Millimetre.here().rough(travel.abs()));
        pen.note("note ghost-name", &centre, [9.0, 5.0], text);
    }
}

/// The ways, each with a tick at its ends; named in the front view of the left corner.
pub fn draw_traces(pen: &mut Pen, traces: &[Trace]) {
    for trace in traces {
        pen.path("trace", &trace.points, false);
        let ends = trace.points.first().into_iter().chain(trace.points.last());
        for end in ends {
            let [x, y] = pen.at(end);
            if pen.pane().holds([x, y]) {
                pen.pixel_line("trace-end", [x - 4.0, y], [x + 4.0, y]);
            }
        }
        if pen.view() == View::Front
            && !pen.is_mirrored()
            && let Some(last) = trace.points.last()
        {
            pen.note("note trace-name", last, [7.0, -9.0], format!("path of {}", trace.name));
        }
    }
}
