//! Small curves of chosen readings against travel, in the sheet's fourth quarter.

use geometry_core::readings::Quantity;
use leptos::{html, prelude::*};
use plotters::{prelude::IntoDrawingArea, style::RGBColor};
use plotters_canvas::CanvasBackend;
use wasm_bindgen::{JsCast, closure::Closure};
use web_sys::HtmlCanvasElement;

use crate::{
    app::session,
    chart::{self, Chart, Theme},
    describe, effects,
    session::TRAVEL_SHOWN,
    view::Sheet,
};

const SHOWN: [Quantity; 4] =
    [Quantity::Camber, Quantity::Toe, Quantity::RollCentreHeight, Quantity::SpringMotionRatio];

/// The curves, standing where side view and plan view leave room.
#[component]
pub fn CurveSheet(
    /// The sheet without pan and zoom.
    sheet: Memo<Sheet>,
) -> impl IntoView {
    let scheme = RwSignal::new(0_u32);
    watch_scheme(scheme);
    let left = move || format!("{:.0}px", sheet.get().cross()[0] + 10.0);
    let top = move || format!("{:.0}px", sheet.get().cross()[1] + 10.0);
    // Read once a scheme: asking the style sheet costs more than drawing a curve.
    let theme = Memo::new(move |_| {
        scheme.track();
        theme()
    });
    let charts = SHOWN.map(|quantity| view! { <Curve quantity=quantity theme=theme /> });
    view! {
        <div class="curves" style:left=left style:top=top>
            {charts.into_iter().collect_view()}
        </div>
    }
}

#[component]
fn Curve(quantity: Quantity, theme: Memo<Theme>) -> impl IntoView {
    let session = session();
    let canvas = NodeRef::<html::Canvas>::new();
    let size = RwSignal::new((0.0, 0.0));
    Effect::new(move |_| {
        if let Some(parent) = canvas.get().and_then(|canvas| canvas.parent_element()) {
            effects::size::watch(&parent, size);
        }
    });
    let points = Memo::new(move |_| session.curves.with(|curves| curves.of(quantity)));
    Effect::new(move |_| {
        let (Some(canvas), (width, height)) = (canvas.get(), size.get()) else { return };
        let theme = theme.get();
        let axle = session.axle.get();
        let (cursor, value) = session.solved.with(|solved| match solved {
            Some(solved) => (solved.position.state().travel, quantity.value(&solved.readings)),
            None => (0.0, None),
        });
        points.with(|points| {
            let unit = describe::unit(quantity);
            let title = describe::label(quantity, axle);
            let title = if unit.symbol().is_empty() {
                title.to_string()
            } else {
                format!("{title}, {}", unit.symbol())
            };
            let chart = Chart {
                title: &title,
                points,
                reach: TRAVEL_SHOWN,
                cursor,
                value,
                decimals: unit.decimals(),
            };
            paint(&canvas, width, height, &chart, theme);
        });
    });
    let spoken = move || {
        let axle = session.axle.get();
        let name = describe::label(quantity, axle);
        points.with(|points| match (points.first(), points.last()) {
            (Some(first), Some(last)) => format!(
                "{name} against wheel travel: {} at {:.0} mm, {} at {:.0} mm",
                describe::value(quantity, first.1),
                first.0,
                describe::value(quantity, last.1),
                last.0
            ),
            _ => format!("{name} against wheel travel: no curve"),
        })
    };
    view! {
        <div class="curve">
            <canvas node_ref=canvas role="img" aria-label=spoken data-curve=quantity.name()></canvas>
        </div>
    }
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "pixels of a canvas")]
fn paint(canvas: &HtmlCanvasElement, width: f64, height: f64, chart: &Chart, theme: Theme) {
    let Some(window) = web_sys::window() else { return };
    // plotters draws at whole pixels: twice as many as the screen has make smooth lines.
    let ratio = 2.0 * window.device_pixel_ratio().clamp(0.5, 3.0);
    let (wide, high) = ((width * ratio).round() as u32, (height * ratio).round() as u32);
    if wide < 40 || high < 40 {
        return;
    }
    if (canvas.width(), canvas.height()) != (wide, high) {
        canvas.set_width(wide);
        canvas.set_height(high);
    }
    let theme = Theme { ratio, ..theme };
    if let Some(backend) = CanvasBackend::with_canvas_object(canvas.clone()) {
        // A canvas that cannot be drawn on leaves the tables, which say the same.
        let _ = chart::draw(&backend.into_drawing_area(), chart, &theme);
    }
}

/// The page's colours as they are now.
fn theme() -> Theme {
    let style = web_sys::window()
        .and_then(|window| window.get_computed_style(&window.document()?.document_element()?).ok()?);
    let colour = |name: &str, otherwise: RGBColor| {
        let text = style.as_ref().and_then(|style| style.get_property_value(name).ok()).unwrap_or_default();
        hexadecimal(text.trim()).unwrap_or(otherwise)
    };
    Theme {
        paper: colour("--paper", RGBColor(255, 255, 255)),
        ink: colour("--ink", RGBColor(30, 30, 30)),
        faint: colour("--faint", RGBColor(220, 220, 220)),
        curve: colour("--steering", RGBColor(0, 114, 178)),
        ratio: 1.0,
        letters: 11.5,
    }
}

/// A colour as the style sheet writes it, `#rrggbb`.
fn hexadecimal(text: &str) -> Option<RGBColor> {
    let digits = text.strip_prefix('#')?;
    let value = u32::from_str_radix(digits, 16).ok().filter(|_| digits.len() == 6)?;
    let [_, red, green, blue] = value.to_be_bytes();
    Some(RGBColor(red, green, blue))
}

/// Counts up whenever light changes to dark or back, so that canvases are painted anew.
fn watch_scheme(scheme: RwSignal<u32>) {
    let Some(window) = web_sys::window() else { return };
    let Ok(Some(query)) = window.match_media("(prefers-color-scheme: dark)") else { return };
    let changed = Closure::<dyn Fn()>::new(move || scheme.update(|count| *count += 1));
    // The page's own life is the listener's.
    let _ = query.add_event_listener_with_callback("change", changed.as_ref().unchecked_ref());
    changed.forget();
}
