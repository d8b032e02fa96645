//! Curves of a reading → plotters.
//!
//! A chart is drawn in two layers: its frame (grid, numbers, stops), which stands still while
//! the lines move, and the lines with the marks on them. The drawing is generic over
//! plotters' backend: the page gives it a canvas, a test one that takes notes. plotters
//! counts in whole units; a unit here is a sixteenth of a screen pixel ([`FINE`]), so that
//! lines are smooth and thin ones stand on the pixels.

pub mod axis;

use plotters::{
    coord::Shift,
    element::{DashedPathElement, Rectangle as Band},
    prelude::{
        Circle, Color, DrawingArea, DrawingAreaErrorKind, DrawingBackend, IntoFont, PathElement, RGBColor,
        ShapeStyle, Text,
    },
    style::text_anchor::{HPos, Pos, VPos},
};

use self::axis::{Ticks, axis_decimals};
use crate::{numbers::format_number, view::Rectangle};

/// Drawing units in a pixel of the canvas.
pub const FINE: f64 = 16.0;

/// How a line is drawn and what it stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Style {
    /// The one corner that is shown: continuous.
    Alone,
    /// The front axle where both are shown: continuous.
    Front,
    /// The rear axle where both are shown: dashed.
    Rear,
    /// The same reading of a setup to compare with: thin, continuous.
    Reference,
    /// The rear axle of a setup to compare with: thin, dashed.
    ReferenceRear,
}

impl Style {
    /// Whether the line is dashed.
    #[must_use]
    pub fn is_dashed(self) -> bool {
        matches!(self, Self::Rear | Self::ReferenceRear)
    }

    fn colour(self, theme: &Theme) -> RGBColor {
        match self {
            Self::Alone | Self::Front => theme.curve,
            Self::Rear => theme.other,
            Self::Reference | Self::ReferenceRear => theme.beneath,
        }
    }

    fn width(self) -> f64 {
        match self {
            Self::Alone | Self::Front | Self::Rear => 1.75,
            Self::Reference | Self::ReferenceRear => 0.9,
        }
    }
}

/// One line of a chart.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Series<'a> {
    /// How it is drawn.
    pub style: Style,
    /// Where along the axis, in order.
    pub inputs: &'a [f64],
    /// The value at each input, where there is one.
    pub values: &'a [Option<f64>],
    /// Whether the linkage ends before the first and before the last input.
    pub ends: [bool; 2],
    /// The value at the cursor.
    pub at_cursor: Option<f64>,
    /// The value under the pointer.
    pub at_pointer: Option<f64>,
}

/// A stop or lock: the curve beyond it is computed, the built car does not go there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stop {
    /// Whose it is: drawn as its line is.
    pub style: Style,
    /// Where.
    pub at: f64,
}

/// What stands still in a chart.
#[derive(Debug, Clone, PartialEq)]
pub struct Frame {
    /// Size in CSS pixels.
    pub size: (f64, f64),
    /// Both ends of the axis along which the curve runs.
    pub inputs: (f64, f64),
    /// Both ends of the axis of values.
    pub values: (f64, f64),
    /// What one of the reader's unit is of inputs and of values: the numbers at the axes are round in these.
    pub ones: (f64, f64),
    /// Stops within the inputs.
    pub stops: Vec<Stop>,
}

/// Colours and sizes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Theme {
    /// Ground.
    pub paper: RGBColor,
    /// Letters.
    pub ink: RGBColor,
    /// What stands back.
    pub soft: RGBColor,
    /// A setup to compare with.
    pub beneath: RGBColor,
    /// Axes and grid.
    pub faint: RGBColor,
    /// The curve.
    pub curve: RGBColor,
    /// The other axle's curve.
    pub other: RGBColor,
    /// Canvas pixels per CSS pixel.
    pub ratio: f64,
    /// Height of the letters at the axes in CSS pixels.
    pub letters: f64,
}

impl Theme {
    /// About how wide a number is written, in CSS pixels.
    fn width_of(&self, text: &str) -> f64 {
        // Digits of the common fonts are 0.55 to 0.6 of their height.
        #[expect(clippy::cast_precision_loss, reason = "a few letters")]
        let letters = text.chars().count() as f64;
        0.58 * self.letters * letters
    }

    #[expect(clippy::cast_possible_truncation, reason = "units of a canvas")]
    fn unit(&self, css: f64) -> i32 {
        (css * self.ratio * FINE).round() as i32
    }

    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "widths of a few pixels")]
    fn stroke(&self, css: f64) -> u32 {
        (css * self.ratio * FINE).round().max(1.0) as u32
    }

    /// The width of a thin line, in canvas pixels: a whole number of them.
    fn hair(&self) -> f64 {
        (0.75 * self.ratio).round().max(1.0)
    }

    /// The place nearest to `css` where a thin line covers whole pixels.
    #[expect(clippy::cast_possible_truncation, reason = "units of a canvas")]
    fn on_pixel(&self, css: f64) -> i32 {
        let half = 0.5 * (self.hair() % 2.0);
        (((css * self.ratio - half).round() + half) * FINE) as i32
    }

    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "widths of a few pixels")]
    fn thin(&self, colour: RGBColor) -> ShapeStyle {
        colour.stroke_width((self.hair() * FINE) as u32)
    }
}

impl Frame {
    /// Where the lines are drawn, in CSS pixels; `None` where there is no room.
    #[must_use]
    pub fn plot(&self, theme: &Theme) -> Option<Rectangle> {
        let (width, height) = self.size;
        let bottom = height - 1.75 * theme.letters;
        let top = 0.5 * theme.letters;
        let ticks = self.value_ticks(bottom - top, theme);
        let widest = ticks.texts().map(|text| theme.width_of(&text)).fold(2.0 * theme.letters, f64::max);
        let edge = self.inputs.1 / self.ones.0;
        let edge = format_number(edge, axis_decimals(edge).min(2));
        let plot = Rectangle {
            left: (widest + 6.0).ceil(),
            top: top.ceil(),
            right: (width - 0.5 * theme.width_of(&edge) - 2.0).floor(),
            bottom: bottom.floor(),
        };
        (plot.right - plot.left >= 20.0 && plot.bottom - plot.top >= 16.0).then_some(plot)
    }

    /// The input at a place across the chart, in CSS pixels.
    #[must_use]
    pub fn input_at(&self, x: f64, plot: &Rectangle) -> f64 {
        let share = ((x - plot.left) / (plot.right - plot.left)).clamp(0.0, 1.0);
        self.inputs.0 + share * (self.inputs.1 - self.inputs.0)
    }

    fn x(&self, input: f64, plot: &Rectangle) -> f64 {
        let share = (input - self.inputs.0) / (self.inputs.1 - self.inputs.0);
        plot.left + share * (plot.right - plot.left)
    }

    fn y(&self, value: f64, plot: &Rectangle) -> f64 {
        let share = (value - self.values.0) / (self.values.1 - self.values.0);
        plot.bottom - share * (plot.bottom - plot.top)
    }

    fn value_ticks(&self, height: f64, theme: &Theme) -> Ticks {
        let (low, high) = self.values;
        Ticks::that_fit((low / self.ones.1, high / self.ones.1), (height / (1.6 * theme.letters)).min(6.0))
    }

    fn input_ticks(&self, plot: &Rectangle, theme: &Theme) -> Ticks {
        let width = plot.right - plot.left;
        let (low, high) = (self.inputs.0 / self.ones.0, self.inputs.1 / self.ones.0);
        // The widest label and a gap beside it.
        let fits = |ticks: &Ticks| {
            let widest = ticks.texts().map(|text| theme.width_of(&text)).fold(0.0, f64::max);
            width * ticks.step / (high - low) >= widest + 1.1 * theme.letters
        };
        let mut most = 12.0;
        loop {
            let ticks = Ticks::that_fit((low, high), most);
            if most <= 1.0 || fits(&ticks) {
                return ticks;
            }
            most -= 1.0;
        }
    }
}

/// Draws grid, numbers and stops over the whole area.
///
/// # Errors
/// What the backend says.
pub fn draw_frame<B: DrawingBackend>(
    area: &DrawingArea<B, Shift>,
    frame: &Frame,
    theme: &Theme,
) -> Result<(), DrawingAreaErrorKind<B::ErrorType>> {
    let Some(plot) = frame.plot(theme) else { return Ok(()) };
    let (left, right) = (theme.on_pixel(plot.left), theme.on_pixel(plot.right));
    let (top, bottom) = (theme.on_pixel(plot.top), theme.on_pixel(plot.bottom));
    let letters = ("sans-serif", theme.letters * theme.ratio * FINE).into_font().color(&theme.ink);
    for stop in &frame.stops {
        let x = theme.on_pixel(frame.x(stop.at, &plot).clamp(plot.left, plot.right));
        let (from, to) = if stop.at < 0.0 { (left, x) } else { (x, right) };
        area.draw(&Band::new([(from, top), (to, bottom)], theme.ink.mix(0.055).filled()))?;
        line(area, stop.style, vec![(x, top), (x, bottom)], theme.thin(theme.soft), theme)?;
    }
    let faint = theme.thin(theme.faint);
    let ticks = frame.value_ticks(plot.bottom - plot.top, theme);
    for (value, text) in ticks.values().zip(ticks.texts()) {
        let y = theme.on_pixel(frame.y(value * frame.ones.1, &plot));
        area.draw(&PathElement::new(vec![(left, y), (right, y)], faint))?;
        let style = letters.clone().pos(Pos::new(HPos::Right, VPos::Center));
        area.draw(&Text::new(text, (theme.unit(plot.left - 4.0), y), style))?;
    }
    let ticks = frame.input_ticks(&plot, theme);
    for (input, text) in ticks.values().zip(ticks.texts()) {
        let x = theme.on_pixel(frame.x(input * frame.ones.0, &plot));
        area.draw(&PathElement::new(vec![(x, top), (x, bottom)], faint))?;
        let style = letters.clone().pos(Pos::new(HPos::Center, VPos::Top));
        area.draw(&Text::new(text, (x, theme.unit(plot.bottom + 0.55 * theme.letters + 1.0)), style))?;
    }
    Ok(())
}

/// Draws the lines, the cursor and what the pointer is over.
///
/// # Errors
/// What the backend says.
pub fn draw_lines<B: DrawingBackend>(
    area: &DrawingArea<B, Shift>,
    frame: &Frame,
    series: &[Series],
    cursor: f64,
    pointer: Option<f64>,
    theme: &Theme,
) -> Result<(), DrawingAreaErrorKind<B::ErrorType>> {
    let Some(plot) = frame.plot(theme) else { return Ok(()) };
    let (top, bottom) = (theme.on_pixel(plot.top), theme.on_pixel(plot.bottom));
    let upright = |input: f64| {
        let x = theme.on_pixel(frame.x(input, &plot).clamp(plot.left, plot.right));
        vec![(x, top), (x, bottom)]
    };
    area.draw(&PathElement::new(upright(cursor), theme.thin(theme.ink)))?;
    if let Some(pointer) = pointer {
        line(area, Style::Rear, upright(pointer), theme.thin(theme.soft), theme)?;
    }
    // What is compared with lies under what is looked at.
    let is_reference = |series: &&Series| matches!(series.style, Style::Reference | Style::ReferenceRear);
    let below = series.iter().filter(is_reference);
    for series in below.chain(series.iter().filter(|series| !is_reference(series))) {
        let colour = series.style.colour(theme);
        let style = colour.stroke_width(theme.stroke(series.style.width()));
        let place = |(input, value): (f64, f64)| [frame.x(input, &plot), frame.y(value, &plot)];
        let points = series.inputs.iter().zip(series.values);
        for piece in pieces(points.map(|(input, value)| Some(place((*input, (*value)?)))), &plot) {
            let piece =
                drawn_points(&piece).into_iter().map(|[x, y]| (theme.unit(x), theme.unit(y))).collect();
            line(area, series.style, piece, style, theme)?;
        }
        for end in line_ends(series).into_iter().flatten() {
            let [x, y] = place(end);
            if plot.holds([x, y]) {
                cross(area, [x, y], colour, theme)?;
            }
        }
        for (at, value, radius) in [(Some(cursor), series.at_cursor, 3.5), (pointer, series.at_pointer, 2.75)]
        {
            let Some((at, value)) = at.zip(value) else { continue };
            // Beyond the axis there is no place for it.
            if at >= frame.inputs.0 && at <= frame.inputs.1 {
                let [x, y] = place((at, value));
                dot(area, [x, y.clamp(plot.top, plot.bottom)], radius, series.style, theme)?;
            }
        }
    }
    Ok(())
}

/// The parts of a line that lie within the plot, each without a gap.
pub(crate) fn pieces(
    points: impl IntoIterator<Item = Option<[f64; 2]>>,
    plot: &Rectangle,
) -> Vec<Vec<[f64; 2]>> {
    let mut pieces: Vec<Vec<[f64; 2]>> = Vec::new();
    let mut before: Option<[f64; 2]> = None;
    for now in points {
        let part = before.zip(now).and_then(|(a, b)| {
            let (from, to) = plot.clip(a, b)?;
            // The very point where the next part begins, so that the line is one.
            Some((from, if plot.holds(b) { b } else { to }))
        });
        if let Some((from, to)) = part {
            match pieces.last_mut() {
                Some(piece) if piece.last() == Some(&from) => piece.push(to),
                _ => pieces.push(vec![from, to]),
            }
        }
        before = now;
    }
    pieces
}

/// CSS pixels: how far above or below its place a line may be drawn. The canvas's units are as large.
const SLEEVE: f64 = 1.0 / 16.0;

/// As few of a line's points, which go from left to right, as draw the same line: none of those left out lies further
/// than [`SLEEVE`] above or below what is drawn. In a small chart there are more positions than pixels, and each stroke
/// costs the browser its time.
fn drawn_points(line: &[[f64; 2]]) -> Vec<[f64; 2]> {
    const ANY: (f64, f64) = (f64::NEG_INFINITY, f64::INFINITY);
    let [first, others @ ..] = line else { return Vec::new() };
    let mut drawn = vec![*first];
    let (mut from, mut before) = (*first, *first);
    // Slopes of the strokes from the last point drawn that pass all points after it.
    let mut slopes = ANY;
    for now in others {
        let slope = (now[1] - from[1]) / (now[0] - from[0]);
        if !(slopes.0 <= slope && slope <= slopes.1) {
            drawn.push(before);
            (from, slopes) = (before, ANY);
        }
        let way = now[0] - from[0];
        let [low, high] = [-SLEEVE, SLEEVE].map(|off| (now[1] + off - from[1]) / way);
        slopes = (slopes.0.max(low), slopes.1.min(high));
        before = *now;
    }
    drawn.push(before);
    drawn
}

/// The last points of a line where the linkage ends there.
fn line_ends(series: &Series) -> [Option<(f64, f64)>; 2] {
    let mut points =
        series.inputs.iter().zip(series.values).filter_map(|(input, value)| Some((*input, (*value)?)));
    let first = points.next();
    let last = points.next_back().or(first);
    [first.filter(|_| series.ends[0]), last.filter(|_| series.ends[1])]
}

fn line<B: DrawingBackend>(
    area: &DrawingArea<B, Shift>,
    style: Style,
    points: Vec<(i32, i32)>,
    shape: ShapeStyle,
    theme: &Theme,
) -> Result<(), DrawingAreaErrorKind<B::ErrorType>> {
    if style.is_dashed() {
        area.draw(&DashedPathElement::new(points, theme.unit(6.0), theme.unit(3.5), shape))
    } else {
        area.draw(&PathElement::new(points, shape))
    }
}

/// The mark where a linkage ends.
fn cross<B: DrawingBackend>(
    area: &DrawingArea<B, Shift>,
    [x, y]: [f64; 2],
    colour: RGBColor,
    theme: &Theme,
) -> Result<(), DrawingAreaErrorKind<B::ErrorType>> {
    let style = colour.stroke_width(theme.stroke(1.5));
    for side in [-3.5, 3.5] {
        let ends = [(-3.5, -side), (3.5, side)].map(|(dx, dy)| (theme.unit(x + dx), theme.unit(y + dy)));
        area.draw(&PathElement::new(ends, style))?;
    }
    Ok(())
}

/// A dot on a line: full on a continuous one, open on a dashed one.
fn dot<B: DrawingBackend>(
    area: &DrawingArea<B, Shift>,
    [x, y]: [f64; 2],
    radius: f64,
    style: Style,
    theme: &Theme,
) -> Result<(), DrawingAreaErrorKind<B::ErrorType>> {
    let at = (theme.unit(x), theme.unit(y));
    let colour = style.colour(theme);
    if style.is_dashed() {
        area.draw(&Circle::new(at, theme.stroke(radius), theme.paper.filled()))?;
        area.draw(&Circle::new(at, theme.stroke(radius), colour.stroke_width(theme.stroke(1.5))))
    } else {
        area.draw(&Circle::new(at, theme.stroke(radius), colour.filled()))
    }
}

#[cfg(test)]
mod tests;
