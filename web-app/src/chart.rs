//! A curve of one reading against travel → plotters.
//!
//! The drawing is generic over plotters' backend: the page gives it a canvas, a test a
//! text of SVG. plotters knows nothing of pixel ratios, so everything here is multiplied
//! by one.

use plotters::{
    coord::Shift,
    prelude::*,
    style::text_anchor::{HPos, Pos, VPos},
};

/// What one chart shows.
#[derive(Debug, Clone, PartialEq)]
pub struct Chart<'a> {
    /// Heading with unit.
    pub title: &'a str,
    /// Travel and value, in order of travel.
    pub points: &'a [(f64, f64)],
    /// Travel shown, both ends, mm.
    pub reach: f64,
    /// Where the slider stands.
    pub cursor: f64,
    /// Value there, when there is one.
    pub value: Option<f64>,
    /// Decimals on the axis.
    pub decimals: usize,
}

/// Colours and sizes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Theme {
    /// Ground.
    pub paper: RGBColor,
    /// Letters.
    pub ink: RGBColor,
    /// Axes and grid.
    pub faint: RGBColor,
    /// The curve.
    pub curve: RGBColor,
    /// Canvas pixels per CSS pixel.
    pub ratio: f64,
    /// Letter height in CSS pixels.
    pub letters: f64,
}

/// A range with round ends that holds the values, never empty: the step is 1, 2 or 5
/// times a power of ten, so that the axis keeps still while the values move within it.
#[must_use]
pub fn round_range(values: impl Iterator<Item = f64>, least_width: f64) -> (f64, f64, f64) {
    let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
    for value in values {
        low = low.min(value);
        high = high.max(value);
    }
    if !(low.is_finite() && high.is_finite()) {
        (low, high) = (0.0, 0.0);
    }
    if high - low < least_width {
        let middle = f64::midpoint(low, high);
        (low, high) = (middle - least_width / 2.0, middle + least_width / 2.0);
    }
    let raw = (high - low) / 3.0;
    let power = 10_f64.powf(raw.log10().floor());
    let step = [1.0, 2.0, 5.0, 10.0].into_iter().map(|n| n * power).find(|step| *step >= raw);
    let step = step.unwrap_or(10.0 * power);
    ((low / step).floor() * step, (high / step).ceil() * step, step)
}

/// Draws a chart over the whole area.
///
/// # Errors
/// What the backend says.
pub fn draw<B: DrawingBackend>(
    area: &DrawingArea<B, Shift>,
    chart: &Chart,
    theme: &Theme,
) -> Result<(), DrawingAreaErrorKind<B::ErrorType>> {
    #[expect(clippy::cast_possible_truncation, reason = "pixels of a canvas")]
    let px = |css: f64| (css * theme.ratio).round() as i32;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "widths of a few pixels")]
    let stroke = |css: f64| (css * theme.ratio).round().max(1.0) as u32;
    area.fill(&theme.paper)?;
    let (width, height) = area.dim_in_pixel();
    let (width, height) = (i32::try_from(width).unwrap_or(0), i32::try_from(height).unwrap_or(0));
    let letters = theme.letters * theme.ratio;
    let plot = (px(44.0), px(theme.letters + 12.0), width - px(10.0), height - px(theme.letters + 8.0));
    let (left, top, right, bottom) = plot;
    if right - left < 20 || bottom - top < 20 {
        return Ok(());
    }
    let (low, high, step) =
        round_range(chart.points.iter().map(|point| point.1), 2.0 * 10_f64.powi(-signed(chart.decimals)));
    let at_x = |travel: f64| lerp(left, right, (travel + chart.reach) / (2.0 * chart.reach));
    let at_y = |value: f64| lerp(bottom, top, (value - low) / (high - low));
    let font = |size: f64, color: &RGBColor| ("sans-serif", size).into_font().color(color);
    let faint = theme.faint.stroke_width(stroke(0.75));

    // Grid with its numbers.
    let mut lines = 0;
    let mut value = low;
    while value <= high + step / 2.0 && lines < 12 {
        let y = at_y(value);
        area.draw(&PathElement::new(vec![(left, y), (right, y)], faint))?;
        let text = crate::numbers::format_number(value, axis_decimals(step));
        let style = font(letters * 0.82, &theme.ink).pos(Pos::new(HPos::Right, VPos::Center));
        area.draw(&Text::new(text, (left - px(5.0), y), style))?;
        value += step;
        lines += 1;
    }
    for travel in [-chart.reach, -chart.reach / 2.0, 0.0, chart.reach / 2.0, chart.reach] {
        let x = at_x(travel);
        area.draw(&PathElement::new(vec![(x, top), (x, bottom)], faint))?;
        let (anchor, x) = if travel == -chart.reach {
            (HPos::Left, left)
        } else if travel == chart.reach {
            (HPos::Right, right)
        } else {
            (HPos::Center, x)
        };
        let style = font(letters * 0.82, &theme.ink).pos(Pos::new(anchor, VPos::Top));
        area.draw(&Text::new(crate::numbers::format_number(travel, 0), (x, bottom + px(3.0)), style))?;
    }
    // The curve, the cursor and the value there.
    let points: Vec<(i32, i32)> =
        chart.points.iter().map(|(travel, value)| (at_x(*travel), at_y(*value))).collect();
    area.draw(&PathElement::new(points, theme.curve.stroke_width(stroke(1.75))))?;
    let x = at_x(chart.cursor.clamp(-chart.reach, chart.reach));
    area.draw(&PathElement::new(vec![(x, top), (x, bottom)], theme.ink.stroke_width(stroke(0.75))))?;
    if let Some(value) = chart.value {
        area.draw(&Circle::new((x, at_y(value).clamp(top, bottom)), stroke(3.5), theme.curve.filled()))?;
    }
    let style = font(letters, &theme.ink).pos(Pos::new(HPos::Left, VPos::Top));
    area.draw(&Text::new(chart.title.to_string(), (px(6.0), px(4.0)), style))?;
    if let Some(value) = chart.value {
        let style = font(letters, &theme.ink).pos(Pos::new(HPos::Right, VPos::Top));
        let text = crate::numbers::format_number(value, chart.decimals);
        area.draw(&Text::new(text, (right, px(4.0)), style))?;
    }
    Ok(())
}

fn signed(decimals: usize) -> i32 {
    i32::try_from(decimals).unwrap_or(0)
}

fn axis_decimals(step: f64) -> usize {
    (0..6)
        .find(|decimals| {
            let scaled = step * 10_f64.powi(signed(*decimals));
            (scaled - scaled.round()).abs() < 1e-6
        })
        .unwrap_or(6)
}

#[expect(clippy::cast_possible_truncation, reason = "pixels of a canvas")]
fn lerp(from: i32, to: i32, share: f64) -> i32 {
    (f64::from(from) + share * f64::from(to - from)).round() as i32
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ranges_have_round_ends_and_hold_the_values() {
        let (low, high, step) = round_range([-2.3, 0.7].into_iter(), 0.1);
        assert_eq!((low, high, step), (-3.0, 1.0, 1.0));
        let (low, high, _) = round_range([5.0, 5.0].into_iter(), 0.1);
        assert!(low < 5.0 && 5.0 < high);
        let (low, high, _) = round_range(std::iter::empty(), 0.1);
        assert!(low < high);
    }
}
