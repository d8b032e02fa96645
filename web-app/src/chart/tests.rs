//! Axes, ticks and lines of the curves.

use plotters::prelude::IntoDrawingArea;
use plotters_backend::{
    BackendColor, BackendCoord, BackendStyle, BackendTextStyle, DrawingErrorKind,
    text_anchor::HPos as Horizontal,
};

use super::*;

/// A backend that takes notes.
#[derive(Default)]
struct Notes {
    size: (u32, u32),
    /// Text, with its left and right edge, top and bottom, in CSS pixels.
    texts: Vec<(String, [f64; 4])>,
    /// Points of each path, in units.
    paths: Vec<Vec<BackendCoord>>,
    circles: usize,
}

impl DrawingBackend for &mut Notes {
    type ErrorType = std::fmt::Error;

    fn get_size(&self) -> (u32, u32) {
        self.size
    }

    fn ensure_prepared(&mut self) -> Result<(), DrawingErrorKind<Self::ErrorType>> {
        Ok(())
    }

    fn present(&mut self) -> Result<(), DrawingErrorKind<Self::ErrorType>> {
        Ok(())
    }

    fn draw_pixel(
        &mut self,
        _: BackendCoord,
        _: BackendColor,
    ) -> Result<(), DrawingErrorKind<Self::ErrorType>> {
        Ok(())
    }

    fn draw_rect<S: BackendStyle>(
        &mut self,
        _: BackendCoord,
        _: BackendCoord,
        _: &S,
        _: bool,
    ) -> Result<(), DrawingErrorKind<Self::ErrorType>> {
        Ok(())
    }

    fn draw_circle<S: BackendStyle>(
        &mut self,
        _: BackendCoord,
        _: u32,
        _: &S,
        _: bool,
    ) -> Result<(), DrawingErrorKind<Self::ErrorType>> {
        self.circles += 1;
        Ok(())
    }

    fn draw_path<S: BackendStyle, I: IntoIterator<Item = BackendCoord>>(
        &mut self,
        path: I,
        _: &S,
    ) -> Result<(), DrawingErrorKind<Self::ErrorType>> {
        self.paths.push(path.into_iter().collect());
        Ok(())
    }

    fn draw_text<S: BackendTextStyle>(
        &mut self,
        text: &str,
        style: &S,
        at: BackendCoord,
    ) -> Result<(), DrawingErrorKind<Self::ErrorType>> {
        #[expect(clippy::cast_precision_loss, reason = "a few letters")]
        let width = 0.58 * style.size() / FINE * text.chars().count() as f64;
        let (x, y) = (f64::from(at.0) / FINE, f64::from(at.1) / FINE);
        let left = match style.anchor().h_pos {
            Horizontal::Left => x,
            Horizontal::Center => x - 0.5 * width,
            Horizontal::Right => x - width,
        };
        let height = style.size() / FINE;
        let top = if matches!(style.anchor().v_pos, VPos::Center) { y - 0.5 * height } else { y };
        self.texts.push((text.to_owned(), [left, left + width, top, top + height]));
        Ok(())
    }
}

fn theme() -> Theme {
    let colour = RGBColor(0, 0, 0);
    Theme {
        paper: colour,
        ink: colour,
        soft: colour,
        beneath: colour,
        faint: colour,
        curve: colour,
        other: colour,
        ratio: 1.0,
        letters: 10.0,
    }
}

fn notes(frame: &Frame, draw: impl Fn(&DrawingArea<&mut Notes, Shift>)) -> Notes {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a test's sizes")]
    let size = ((frame.size.0 * FINE) as u32, (frame.size.1 * FINE) as u32);
    let mut notes = Notes { size, ..Notes::default() };
    draw(&(&mut notes).into_drawing_area());
    notes
}

fn frame(width: f64, height: f64, inputs: (f64, f64), values: (f64, f64)) -> Frame {
    Frame { size: (width, height), inputs, values, ones: (1.0, 1.0), stops: Vec::new() }
}

#[test]
fn no_number_at_an_axis_touches_another_or_the_edge() {
    for (width, height) in [(110.0, 80.0), (150.0, 120.0), (210.0, 160.0), (330.0, 250.0), (1000.0, 700.0)] {
        for inputs in [(-100.0, 100.0), (-130.0, 130.0), (-60.0, 60.0), (-5.0, 5.0), (-2000.0, 2000.0)] {
            for values in [(-4.0, 1.0), (0.7, 0.735), (-0.0021, 0.0004), (-250_000.0, 900_000.0), (0.0, 0.4)]
            {
                let frame = frame(width, height, inputs, values);
                let notes = notes(&frame, |area| draw_frame(area, &frame, &theme()).expect("notes"));
                let room = frame.plot(&theme()).is_some();
                assert!(notes.texts.len() >= if room { 3 } else { 0 }, "{frame:?}: {:?}", notes.texts);
                for (i, (text, [left, right, top, bottom])) in notes.texts.iter().enumerate() {
                    assert!(*left >= 0.0 && *right <= width + 0.5, "{text} beyond the edge of {frame:?}");
                    assert!(*top >= -0.5 && *bottom <= height + 0.5, "{text} beyond the edge of {frame:?}");
                    for (other, [l, r, t, b]) in &notes.texts[i + 1..] {
                        let apart = right <= l || r <= left || bottom <= t || b <= top;
                        assert!(apart, "{text} and {other} in {frame:?}");
                    }
                }
            }
        }
    }
}

#[test]
fn a_line_stays_within_the_plot_and_leaves_gaps_where_there_is_no_value() {
    let frame = frame(300.0, 200.0, (-100.0, 100.0), (-1.0, 1.0));
    let inputs: Vec<f64> = (-10..=10).map(|i| 10.0 * f64::from(i)).collect();
    // Above the chart in the middle, without value at the left end and at 50.
    let values: Vec<Option<f64>> = inputs
        .iter()
        .map(|x| (*x > -95.0 && *x != 50.0).then(|| if x.abs() < 25.0 { 3.0 } else { 0.5 }))
        .collect();
    let series = Series {
        style: Style::Alone,
        inputs: &inputs,
        values: &values,
        ends: [true, false],
        at_cursor: Some(3.0),
        at_pointer: None,
    };
    let draw = |series: Series| {
        notes(&frame, |area| draw_lines(area, &frame, &[series], 0.0, None, &theme()).expect("notes"))
    };
    let notes = draw(series);
    // The cursor; left, right up to the gap, right of it; the two strokes of the end's mark.
    assert_eq!(notes.paths.len(), 1 + 3 + 2, "{:?}", notes.paths);
    assert_eq!(notes.circles, 1);
    let plot = frame.plot(&theme()).expect("room");
    for (x, y) in notes.paths[..4].iter().flatten() {
        let (x, y) = (f64::from(*x) / FINE, f64::from(*y) / FINE);
        assert!(
            plot.left - 1.0 <= x && x <= plot.right + 1.0 && plot.top - 1.0 <= y && y <= plot.bottom + 1.0
        );
    }
    // Dashed, it is many strokes; the marks are as before.
    let dashed = draw(Series { style: Style::Rear, ..series });
    assert!(dashed.paths.len() > 15, "{}", dashed.paths.len());
    assert_eq!(dashed.circles, 2, "an open dot: ground and rim");
}

#[test]
fn a_place_in_the_chart_and_its_input_are_one() {
    let frame = frame(300.0, 200.0, (-100.0, 100.0), (-1.0, 1.0));
    let plot = frame.plot(&theme()).expect("room");
    for input in [-100.0, -12.5, 0.0, 99.5] {
        assert!((frame.input_at(frame.x(input, &plot), &plot) - input).abs() < 1e-9);
    }
    assert_eq!(frame.input_at(-50.0, &plot), -100.0);
    assert_eq!(frame.input_at(1e9, &plot), 100.0);
    assert_eq!(super::Frame { size: (30.0, 10.0), ..frame }.plot(&theme()), None, "no room, no chart");
}

#[test]
fn thin_lines_cover_whole_pixels_at_every_ratio() {
    for ratio in [1.0, 1.25, 1.5, 2.0, 3.0] {
        let theme = Theme { ratio, ..theme() };
        for css in [0.0, 10.3, 77.77] {
            let edge = f64::from(theme.on_pixel(css)) / FINE - 0.5 * theme.hair();
            assert!((edge - edge.round()).abs() < 1e-9, "{css} at {ratio}: {edge}");
        }
    }
}

#[test]
fn a_line_of_few_points_passes_all_that_it_leaves_out() {
    let line = |of: &dyn Fn(f64) -> f64| -> Vec<[f64; 2]> {
        (0..161).map(|i| 0.5 * f64::from(i)).map(|x| [x, of(x)]).collect()
    };
    let lines = [
        // A straight line, a bend, waves, a corner, a cliff.
        (line(&|x| 3.0 + 0.25 * x), 2),
        (line(&|x| 0.01 * (x - 40.0).powi(2)), 20),
        (line(&|x| 20.0 * (0.08 * x).sin()), 40),
        (line(&|x| (x - 40.1).abs()), 4),
        (line(&|x| if x < 40.0 { 0.0 } else { 500.0 }), 4),
    ];
    for (line, most) in lines {
        let drawn = drawn_points(&line);
        assert!(drawn.len() <= most, "{} points", drawn.len());
        assert_eq!((drawn.first(), drawn.last()), (line.first(), line.last()));
        let mut strokes = drawn.windows(2).peekable();
        for [x, y] in line {
            while strokes.next_if(|stroke| stroke[1][0] < x).is_some() {}
            let Some([a, b]) = strokes.peek() else { panic!("no stroke at {x}") };
            let at = a[1] + (b[1] - a[1]) * (x - a[0]) / (b[0] - a[0]);
            assert!((at - y).abs() <= SLEEVE + 1e-9, "{at} for {y} at {x}");
        }
    }
    // Where the plot's edge cuts a line its points may stand over one another.
    let upright = [[1.0, 0.0], [1.0, 9.0], [1.0, 9.0], [2.0, 9.0]];
    let drawn = drawn_points(&upright);
    assert!(drawn.contains(&[1.0, 0.0]) && drawn.contains(&[1.0, 9.0]) && drawn.contains(&[2.0, 9.0]));
}
