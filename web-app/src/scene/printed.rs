//! The sheet on paper, as one drawing in the format A4 across: views, readings, points, curves,
//! title block. On A3 the same drawing is larger by the square root of two, as the formats
//! are (ISO 216).
//!
//! Frame and filing margin after ISO 5457, title block with the fields of ISO 7200 that make
//! sense here, projection symbol after ISO 5456-2, scales after ISO 5455 (all from memory).
//! Everything is in millimetres of paper until `Paper` turns it into pixels.

mod curves;
mod paper;
mod title_block;

pub use curves::Curve;
use paper::{Anchor, Area, Paper};

use geometry_core::setup::Side;

use crate::{
    describe,
    view::{Frame, PanZoom, SPARE, Sheet, Stance, View},
};

/// Pixels per mm of paper: 96 per inch, as CSS counts them, so that symbols and letters have
/// the size they have on the screen.
pub const PIXELS: f64 = 96.0 / 25.4;

/// Width and height of the paper, mm.
pub const SIZE: (f64, f64) = (297.0, 210.0);

/// The frame: 20 mm to the left for filing, 10 mm elsewhere.
const FRAME: Area = Area { left: 20.0, top: 10.0, right: 287.0, bottom: 200.0 };
/// The views and curves.
const VIEWS: Area = Area { left: 20.0, top: 10.0, right: 201.0, bottom: 166.0 };
/// The readings and the points.
const TABLE: Area = Area { left: 201.0, top: 10.0, right: 287.0, bottom: 166.0 };
/// The cautions.
const CAUTION: Area = Area { left: 20.0, top: 166.0, right: 107.0, bottom: 200.0 };
/// The title block: 180 mm wide (ISO 7200).
const TITLE_BLOCK: Area = Area { left: 107.0, top: 166.0, right: 287.0, bottom: 200.0 };

/// How large the letters of the views are, to those on the screen: 9.5 pixels to 12, as the style sheet has them.
const LETTERS_OF_VIEWS: f64 = 9.5 / 12.0;

/// Reducing scales of ISO 5455, and intermediate ones, which it allows exceptionally: here so that the drawing fills
/// the paper.
const SCALES: [u32; 11] = [2, 5, 10, 15, 20, 25, 30, 40, 50, 75, 100];

/// What the title block says.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Facts {
    /// Title of the setup.
    pub title: String,
    /// Which corner, and how it is built.
    pub corner: String,
    /// Whether it is a right one, drawn as in a mirror.
    pub mirrored: bool,
    /// Travel and rack.
    pub state: String,
    /// Day of printing, ISO 8601.
    pub date: String,
    /// Name of the setup's file.
    pub file: String,
    /// Which setup the thin lines are; none without one.
    pub reference: Option<String>,
    /// What is wrong or missing, as sentences.
    pub trouble: Vec<String>,
    /// The setup's note.
    pub note: String,
    /// How well the corner was measured, where the readings tell what that makes of them.
    pub measured: Option<String>,
}

/// A line of the table.
#[derive(Debug, Clone, PartialEq)]
pub enum Row {
    /// A heading.
    Heading(String),
    /// A reading.
    Reading {
        /// What it is called.
        name: String,
        /// Number and unit, or nothing.
        value: String,
        /// The reference's number; none where nothing is compared.
        reference: Option<String>,
        /// The sign in words, the difference, or why there is no number.
        words: String,
    },
    /// The heads of the columns in which points stand.
    PointHeads(String),
    /// A sentence in one line.
    Note(String),
    /// Where a point is described, in the axes that the title block names.
    Point {
        /// What it is called.
        name: String,
        /// Its coordinates, mm.
        place: [String; 3],
    },
}

impl Row {
    /// Lines of the table that it takes; a heading keeps off what is above it.
    fn lines(&self) -> f64 {
        1.0 + self.above() + self.below()
    }

    /// Lines left free above it.
    fn above(&self) -> f64 {
        if matches!(self, Self::Heading(_) | Self::PointHeads(_)) { 0.35 } else { 0.0 }
    }

    /// Lines left free under it, of a heading for its rule.
    fn below(&self) -> f64 {
        if matches!(self, Self::Heading(_) | Self::PointHeads(_)) { 0.15 } else { 0.0 }
    }
}

/// What is printed.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Printed {
    /// The title block's.
    pub facts: Facts,
    /// The table.
    pub rows: Vec<Row>,
    /// The curves, as many as may find room.
    pub curves: Vec<Curve>,
    /// How many are chosen.
    pub chosen: usize,
}

/// The sheet for the three views, and the scale it draws in, one to so many: the largest of
/// those above in which everything fits; none where none does and the drawing is to no scale.
#[must_use]
pub fn sheet(frame: Frame) -> (Sheet, Option<u32>) {
    let (width, height) = (VIEWS.width() * PIXELS, VIEWS.height() * PIXELS);
    let fitted = Sheet::new(frame, width, height, PanZoom::default());
    let size = frame.most - frame.least;
    let needed = [size.x + size.y - 2.0 * SPARE, size.x + size.z - 2.0 * SPARE];
    let room = [VIEWS.width(), VIEWS.height()];
    let fits = |scale: &u32| (0..2).all(|i| needed[i] / f64::from(*scale) <= room[i]);
    let Some(scale) = SCALES.into_iter().find(fits) else { return (fitted, None) };
    let zoom = PIXELS / f64::from(scale) / fitted.scale();
    (Sheet::new(frame, width, height, PanZoom { zoom, ..PanZoom::default() }), Some(scale))
}

/// The whole sheet as SVG, the body standing as it does over the ground. `views` gives the shapes of a view on the sheet, as markup.
#[must_use]
pub fn markup(
    printed: &Printed,
    frame: Frame,
    stance: Stance,
    views: impl Fn(&Sheet, View) -> String,
) -> String {
    let (sheet, scale) = sheet(frame);
    let sheet = sheet.with_stance(stance).with_letters(LETTERS_OF_VIEWS);
    let mut paper = Paper::new(SIZE);
    let side = if printed.facts.mirrored { Side::Right } else { Side::Left };
    for view in View::ALL {
        let pane = sheet.pane(view);
        paper.nested(VIEWS, pane, &views(&sheet, view));
        // Where the labels keep off it, as on the screen.
        let at = [VIEWS.left + (pane.left + 14.0) / PIXELS, VIEWS.top + (pane.top + 22.0) / PIXELS];
        paper.text("soft", at, 2.4, Anchor::Start, describe::view(view, side));
    }
    // The lines between the views, and the curves in the fourth quarter.
    let [x, y] = sheet.cross();
    let cross = [VIEWS.left + x / PIXELS, VIEWS.top + y / PIXELS];
    paper.line("thin", [cross[0], VIEWS.top], [cross[0], VIEWS.bottom]);
    paper.line("thin", [VIEWS.left, cross[1]], [VIEWS.right, cross[1]]);
    let quarter = Area {
        left: VIEWS.left + 3.0,
        top: cross[1] + 2.0,
        right: cross[0] - 3.0,
        bottom: VIEWS.bottom - 2.0,
    };
    curves::draw(&mut paper, &printed.curves, printed.chosen, quarter);
    table(&mut paper, &printed.rows, printed.facts.reference.is_some());
    title_block::draw(&mut paper, &printed.facts, scale);
    cautions(&mut paper, &printed.facts);
    for area in [VIEWS, TABLE, CAUTION, TITLE_BLOCK] {
        paper.rectangle("thin", area);
    }
    paper.rectangle("frame", FRAME);
    paper.finish()
}

fn table(paper: &mut Paper, rows: &[Row], compared: bool) {
    let (left, right) = (TABLE.left + 2.5, TABLE.right - 2.0);
    let (value_at, reference_at) = (left + 47.5, left + 61.0);
    let mut y = TABLE.top + 1.0;
    let lines = rows.iter().map(Row::lines).sum::<f64>() + if compared { 1.0 } else { 0.0 };
    let step = ((TABLE.height() - 3.0) / lines.max(1.0)).min(5.4);
    // Letters that leave a little paper between the lines.
    let size = (0.78 * step).min(1.9);
    let coordinates = [left + 55.0, left + 68.0, right];
    if compared {
        y += step;
        for (x, head) in [(value_at, "this setup"), (reference_at, "reference"), (right, "difference")] {
            paper.text("soft", [x, y], 1.7, Anchor::End, head);
        }
    }
    for row in rows {
        y += (1.0 + row.above()) * step;
        match row {
            Row::Heading(text) => {
                paper.text("heading", [left, y], size + 0.2, Anchor::Start, text);
                paper.line("thin", [left, y + 0.25 * step], [right, y + 0.25 * step]);
            }
            Row::Reading { name, value, reference, words } => {
                paper.text_within("ink", [left, y], size, Anchor::Start, name, 32.5);
                paper.text_within("ink", [value_at, y], size, Anchor::End, value, 15.0);
                if let Some(reference) = reference {
                    paper.text_within("ink", [reference_at, y], size, Anchor::End, reference, 12.0);
                    paper.text_within("ink", [right, y], size, Anchor::End, words, 19.0);
                } else {
                    let at = value_at + 2.0;
                    paper.text_within("soft", [at, y], size - 0.1, Anchor::Start, words, right - at);
                }
            }
            Row::PointHeads(text) => {
                paper.text("heading", [left, y], size + 0.2, Anchor::Start, text);
                for (x, letter) in coordinates.into_iter().zip(["x", "y", "z"]) {
                    paper.text("soft", [x, y], size, Anchor::End, letter);
                }
                paper.line("thin", [left, y + 0.25 * step], [right, y + 0.25 * step]);
            }
            Row::Note(text) => {
                paper.text_within("ink", [left, y], size, Anchor::Start, text, right - left);
            }
            Row::Point { name, place } => {
                paper.text_within("ink", [left, y], size, Anchor::Start, name, 42.0);
                for (x, coordinate) in coordinates.into_iter().zip(place) {
                    paper.text_within("ink", [x, y], size, Anchor::End, coordinate, 12.5);
                }
            }
        }
        y += row.below() * step;
    }
}

/// Heights of the letters in which the cautions are tried, mm.
const LETTERS: [f64; 4] = [2.1, 1.9, 1.7, 1.5];

/// What must never be forgotten beside computed numbers, and what is wrong with these.
fn cautions(paper: &mut Paper, facts: &Facts) {
    const SENTENCES: [&str; 2] = [
        "Computed numbers do not make a car safe. Support it on stands, release springs with the proper tool, follow \
         the maker's data and local rules, and leave settings to licensed practice.",
        "Computed for rigid links and joints without play; as good as the points it is computed from.",
    ];
    let trouble = facts.trouble.iter().map(String::as_str);
    let [safety, rigid] = SENTENCES;
    // The one that someone may be hurt without is never cut off; what stands in the table is explained before what is
    // always so.
    let sentences: Vec<&str> =
        [safety].into_iter().chain(trouble).chain(facts.measured.as_deref()).chain([rigid]).collect();
    // As large as all find room; in the smallest letters the last may not.
    let broken = |size: f64| -> Vec<Vec<String>> {
        sentences.iter().map(|sentence| paper::lines(sentence, CAUTION.width() - 5.0, size)).collect()
    };
    let (step, gap) = (1.6, 0.55);
    let height = |size: f64| {
        let lines: f64 = broken(size).iter().map(|lines| lines.iter().map(|_| step).sum::<f64>() + gap).sum();
        size * lines
    };
    let room = CAUTION.height() - 3.0;
    let smallest = LETTERS[LETTERS.len() - 1];
    let note = facts.note.split_whitespace().collect::<Vec<_>>().join(" ");
    let note = if note.is_empty() {
        Vec::new()
    } else {
        paper::lines(&format!("Note: {note}"), CAUTION.width() - 7.0, smallest)
    };
    // Two lines of the note find room where that takes smaller letters, and no more of them than that.
    let for_note: f64 = note.iter().take(2).map(|_| step * smallest).sum();
    let fits = |more: f64| LETTERS.into_iter().find(|size| height(*size) + more <= room);
    let size = fits(for_note).or_else(|| fits(0.0)).unwrap_or(smallest);
    let mut y = CAUTION.top + 1.5;
    for lines in broken(size) {
        for line in lines {
            y += step * size;
            // What finds no room would stand on the frame.
            if y < CAUTION.bottom - 1.0 {
                paper.text("ink", [CAUTION.left + 2.5, y], size, Anchor::Start, &line);
            }
        }
        y += gap * size;
    }
    // As much of the note as there is room for.
    let size = smallest;
    let fits = ((CAUTION.bottom - 1.0 - y) / (step * size)).floor().max(0.0);
    for (number, line) in (1_u32..).zip(&note).take_while(|(number, _)| f64::from(*number) <= fits) {
        y += step * size;
        let cut = f64::from(number + 1) > fits && note.len() > number as usize;
        let line = if cut { format!("{line} …") } else { line.clone() };
        paper.text("ink", [CAUTION.left + 2.5, y], size, Anchor::Start, &line);
    }
}

#[cfg(test)]
mod tests;
