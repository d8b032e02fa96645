//! Small curves on paper: against travel, with the place shown marked.

use super::paper::{Anchor, Area, Paper};
use crate::{
    chart::{
        axis::{calm_ends, round_step},
        pieces,
    },
    numbers::format_number,
    view::Rectangle,
};

/// A reading against travel.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Curve {
    /// What it is, with its unit.
    pub title: String,
    /// Travel and value in the units they are printed in, in order of travel.
    pub points: Vec<(f64, Option<f64>)>,
    /// The same of the reference.
    pub reference: Vec<(f64, Option<f64>)>,
    /// The ends of the travel.
    pub reach: f64,
    /// What the travel is in.
    pub along: &'static str,
    /// Where the wheel stands.
    pub cursor: f64,
    /// Decimals that the reading is given with.
    pub decimals: usize,
}

/// mm: a curve is read in no less.
const LEAST: (f64, f64) = (25.0, 20.0);

/// The curves, two beside each other or in little width under each other, in an area; as many as can be read in it.
pub(super) fn draw(paper: &mut Paper, curves: &[Curve], chosen: usize, mut area: Area) {
    let fit = |room: f64, least: f64| {
        let count = [2_u8, 1].into_iter().find(|count| room / f64::from(*count) >= least)?;
        Some((count, room / f64::from(count)))
    };
    let fits = |area: &Area| fit(area.width(), LEAST.0).zip(fit(area.height(), LEAST.1));
    let shown = |area: &Area| {
        let room = fits(area).map_or(0, |((columns, _), (rows, _))| usize::from(columns * rows));
        room.min(curves.len())
    };
    if chosen > shown(&area) {
        area.bottom -= 2.6;
        let told = format!("{} of {chosen} chosen curves have room here", shown(&area));
        let at = [area.left + 1.0, area.bottom + 2.2];
        paper.text_within("soft", at, 1.7, Anchor::Start, &told, area.width() - 2.0);
    }
    let Some(((columns, width), (_, height))) = fits(&area) else { return };
    let mut place = [area.left, area.top];
    for curve in curves {
        if place[1] + height > area.bottom + 0.1 {
            break;
        }
        let [left, top] = place;
        one(paper, curve, Area { left, top, right: left + width, bottom: top + height });
        place =
            if columns == 1 || left > area.left { [area.left, top + height] } else { [left + width, top] };
    }
}

fn one(paper: &mut Paper, curve: &Curve, area: Area) {
    paper.text_within(
        "ink",
        [area.left + 1.0, area.top + 3.6],
        2.1,
        Anchor::Start,
        &curve.title,
        area.width() - 3.5,
    );
    let plot = Area {
        left: area.left + 9.0,
        top: area.top + 5.5,
        right: area.right - 2.5,
        bottom: area.bottom - 7.0,
    };
    let values = curve.points.iter().chain(&curve.reference).filter_map(|point| point.1);
    let Some((ticks, decimals)) = ticks(values, curve.decimals) else {
        let at = [f64::midpoint(plot.left, plot.right), f64::midpoint(plot.top, plot.bottom)];
        paper.text("soft", at, 1.9, Anchor::Middle, "no such reading");
        paper.rectangle("grid", plot);
        return;
    };
    let (low, high) = (ticks[0], ticks[ticks.len() - 1]);
    let at_x = |travel: f64| plot.left + f64::midpoint(travel / curve.reach, 1.0) * plot.width();
    let at_y = |value: f64| plot.bottom - (value - low) / (high - low) * plot.height();
    for tick in &ticks {
        let y = at_y(*tick);
        paper.line("grid", [plot.left, y], [plot.right, y]);
        paper.text("ink", [plot.left - 1.0, y + 0.8], 1.6, Anchor::End, &format_number(*tick, decimals));
    }
    for share in [-1.0, -0.5, 0.0, 0.5, 1.0] {
        let travel = share * curve.reach;
        let x = at_x(travel);
        paper.line("grid", [x, plot.top], [x, plot.bottom]);
        // In a narrow chart every other one.
        if plot.width() > 32.0 || share.abs() != 0.5 {
            paper.text("ink", [x, plot.bottom + 3.0], 1.6, Anchor::Middle, &format_number(travel, 0));
        }
    }
    paper.text(
        "soft",
        [plot.right, plot.bottom + 5.4],
        1.6,
        Anchor::End,
        &format!("wheel travel, {}", curve.along),
    );
    let inside = Rectangle { left: plot.left, top: plot.top, right: plot.right, bottom: plot.bottom };
    for (class, points) in [("reference", &curve.reference), ("curve", &curve.points)] {
        // Where the reading is missing or far beyond the others the line is too, as on the screen.
        for piece in pieces(points.iter().map(|(x, y)| Some([at_x(*x), at_y((*y)?)])), &inside) {
            paper.polyline(class, &piece);
        }
    }
    let x = at_x(curve.cursor.clamp(-curve.reach, curve.reach));
    paper.line("thin", [x, plot.top], [x, plot.bottom]);
}

/// Round numbers that hold the values, at most six of them, and the decimals to write them
/// with; none without values.
fn ticks(values: impl Iterator<Item = f64>, decimals: usize) -> Option<(Vec<f64>, usize)> {
    let (mut low, mut high) = calm_ends(values)?;
    // What is the same to the last digit shown is a level line in the middle.
    let finest = 10_f64.powi(-i32::try_from(decimals).unwrap_or(0));
    if high - low < 2.0 * finest {
        let middle = f64::midpoint(low, high);
        (low, high) = (middle - finest, middle + finest);
    }
    let step = round_step((high - low) / 3.0);
    let first = (low / step).floor();
    let mut ticks = Vec::new();
    for i in 0..6_u8 {
        let tick = (first + f64::from(i)) * step;
        ticks.push(tick);
        if tick >= high {
            break;
        }
    }
    let needed = |decimals: &usize| {
        let scaled = step * 10_f64.powi(i32::try_from(*decimals).unwrap_or(0));
        (scaled - scaled.round()).abs() < 1e-6
    };
    (ticks.len() > 1).then(|| (ticks, (0..6).find(needed).unwrap_or(6)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ticks_are_round_and_hold_the_values() {
        let (found, decimals) = ticks([-2.3, 0.7].into_iter(), 2).expect("values");
        assert_eq!((found, decimals), (vec![-3.0, -2.0, -1.0, 0.0, 1.0], 0));
        let (found, decimals) = ticks([0.7213, 0.7348].into_iter(), 3).expect("values");
        assert!(found[0] <= 0.7213 && found[found.len() - 1] >= 0.7348, "{found:?}");
        assert_eq!(decimals, 3);
        assert!(ticks(std::iter::empty(), 2).is_none());
        // A swing arm whose lines come to be parallel: the axis is of the rest of it.
        let arm = |i: u8| 2000.0 / (1.0 - f64::from(i) / 30.05);
        let (pole, _) = ticks((0..60).map(arm), 1).expect("values");
        assert!(arm(30) > 1e6 && pole[pole.len() - 1] < 2e5, "{pole:?}");
        let (level, _) = ticks([5.0, 5.0].into_iter(), 2).expect("a value");
        assert!(level[0] < 5.0 && level[level.len() - 1] > 5.0, "{level:?}");
    }
}
