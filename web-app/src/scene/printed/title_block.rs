//! The title block.

use super::{
    Facts, TITLE_BLOCK,
    paper::{Anchor, Area, Paper},
};
use crate::{scene::scale::round_length, units::Unit};

/// mm from a cell's left edge to its text.
const INDENT: f64 = 1.5;

pub(super) fn draw(paper: &mut Paper, facts: &Facts, scale: Option<u32>) {
    let Area { left, right, .. } = TITLE_BLOCK;
    let rows = [
        TITLE_BLOCK.top,
        TITLE_BLOCK.top + 11.0,
        TITLE_BLOCK.top + 19.0,
        TITLE_BLOCK.top + 26.5,
        TITLE_BLOCK.bottom,
    ];
    let columns = [left, left + 104.0, left + 142.0, right];
    for y in &rows[1..4] {
        paper.line("thin", [left, *y], [right, *y]);
    }
    for x in &columns[1..3] {
        paper.line("thin", [*x, rows[0]], [*x, rows[4]]);
    }
    let cell = |row: usize, column: usize| Area {
        left: columns[column],
        top: rows[row],
        right: columns[column + 1],
        bottom: rows[row + 1],
    };
    let title = if facts.title.trim().is_empty() { "Without a title" } else { facts.title.trim() };
    field(paper, cell(0, 0), "Title", title, 3.6);
    field(paper, cell(1, 0), "Corner", &facts.corner, 2.4);
    field(paper, cell(2, 0), "Shown at", &facts.state, 2.4);
    let reference = facts.reference.as_deref().unwrap_or("none");
    field(paper, cell(3, 0), "Thin lines: reference", reference, 2.4);
    field(paper, cell(1, 1), "Document", "Kinematic diagram, Cornerwise", 2.1);
    field(paper, cell(2, 1), "Setup file", &facts.file, 2.1);
    field(paper, cell(3, 1), "Axes (ISO 8855)", "x forward, y left, z up", 2.1);
    let [length, force] = [Unit::Millimetre, Unit::Newton].map(|unit| unit.here().symbol);
    let units = format!("{length}, °, {force}");
    field(paper, cell(2, 2), "Units", &units, 2.4);
    let date = cell(3, 2);
    field(paper, Area { right: date.left + 24.0, ..date }, "Date of print", &facts.date, 2.4);
    field(paper, Area { left: date.left + 24.0, ..date }, "Sheet", "1/1", 2.4);
    paper.line("thin", [date.left + 24.0, date.top], [date.left + 24.0, date.bottom]);
    scale_bar(paper, cell(0, 1), scale);
    // One cell for the symbol.
    paper.line("cover", [columns[2] + 0.3, rows[1]], [right - 0.3, rows[1]]);
    projection(paper, Area { bottom: rows[2], ..cell(0, 2) });
}

fn field(paper: &mut Paper, cell: Area, name: &str, value: &str, height: f64) {
    paper.text("soft", [cell.left + INDENT, cell.top + 2.5], 1.5, Anchor::Start, name);
    let at = [cell.left + INDENT, cell.bottom - 1.3];
    paper.text_within("ink", at, height, Anchor::Start, value, cell.width() - 2.0 * INDENT);
}

/// The scale, which holds on A4 only, and a bar that holds on any paper.
fn scale_bar(paper: &mut Paper, cell: Area, scale: Option<u32>) {
    let Some(scale) = scale else {
        field(paper, cell, "Scale", "not to scale", 2.4);
        return;
    };
    let at = [cell.left + INDENT, cell.top + 2.5];
    paper.text("soft", at, 1.5, Anchor::Start, "Scale on A4 without fitting");
    paper.text("ink", [cell.left + INDENT, cell.bottom - 2.4], 2.8, Anchor::Start, &format!("1 : {scale}"));
    // The longest round length whose bar has room.
    let room = 20.0;
    let factor = f64::from(scale);
    let Some((text, length)) = round_length(room * factor) else { return };
    let (right, y) = (cell.right - 2.0, cell.bottom - 2.2);
    let left = right - length / factor;
    for i in 0..=2 {
        let x = left + f64::from(i) * (right - left) / 2.0;
        paper.line("thin", [x, y - 1.2], [x, y]);
    }
    paper.line("bar", [left, y], [right, y]);
    let middle = f64::midpoint(left, right);
    paper.text("ink", [middle, y - 2.0], 1.7, Anchor::Middle, &text);
}

/// First-angle projection: a truncated cone seen from the side, its small end to the left,
/// and to the right of it what is seen from the left (ISO 5456-2, figure of the graphical
/// symbol, from memory: ends d and 2 d, length 2 d).
fn projection(paper: &mut Paper, cell: Area) {
    paper.text("soft", [cell.left + INDENT, cell.top + 2.5], 1.5, Anchor::Start, "First-angle projection");
    let d = 4.6;
    let y = f64::midpoint(cell.top + 2.0, cell.bottom);
    let middle = f64::midpoint(cell.left, cell.right);
    let (small, large, circles) = (middle - 2.6 * d, middle - 0.6 * d, middle + 1.6 * d);
    paper.polyline(
        "symbol",
        &[[small, y - d / 2.0], [large, y - d], [large, y + d], [small, y + d / 2.0], [small, y - d / 2.0]],
    );
    paper.circle("symbol", [circles, y], d / 2.0);
    paper.circle("symbol", [circles, y], d);
    paper.line("axis-line", [small - 1.5, y], [large + 1.5, y]);
    paper.line("axis-line", [circles - d - 1.5, y], [circles + d + 1.5, y]);
    paper.line("axis-line", [circles, y - d - 1.2], [circles, y + d + 1.2]);
}
