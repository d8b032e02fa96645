//! A canvas made ready for plotters, and the page's colours.

use leptos::prelude::*;
use plotters::{
    coord::Shift,
    prelude::{DrawingArea, DrawingBackend, IntoDrawingArea},
    style::RGBColor,
};
use plotters_backend::{BackendColor, BackendCoord, BackendStyle, BackendTextStyle, DrawingErrorKind};
use plotters_canvas::CanvasBackend;
use wasm_bindgen::{JsCast, closure::Closure};
use web_sys::{
    AddEventListenerOptions, CanvasRenderingContext2d, Element, HtmlCanvasElement, HtmlElement, PointerEvent,
};

use crate::{
    chart::{FINE, Theme},
    effects::pointer,
};

/// A canvas on which plotters counts in sixteenths of a pixel: the canvas scales down what
/// comes, and plotters is told that there is so much more room.
pub(super) struct Fine<B> {
    canvas: B,
    /// Pixels of the rectangle of it that is drawn on.
    size: (u32, u32),
}

impl<B: DrawingBackend> DrawingBackend for Fine<B> {
    type ErrorType = B::ErrorType;

    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a whole number")]
    fn get_size(&self) -> (u32, u32) {
        let (width, height) = self.size;
        (width * FINE as u32, height * FINE as u32)
    }

    fn ensure_prepared(&mut self) -> Result<(), DrawingErrorKind<B::ErrorType>> {
        self.canvas.ensure_prepared()
    }

    fn present(&mut self) -> Result<(), DrawingErrorKind<B::ErrorType>> {
        self.canvas.present()
    }

    fn draw_pixel(
        &mut self,
        at: BackendCoord,
        colour: BackendColor,
    ) -> Result<(), DrawingErrorKind<B::ErrorType>> {
        self.canvas.draw_pixel(at, colour)
    }

    fn draw_line<S: BackendStyle>(
        &mut self,
        from: BackendCoord,
        to: BackendCoord,
        style: &S,
    ) -> Result<(), DrawingErrorKind<B::ErrorType>> {
        self.canvas.draw_line(from, to, style)
    }

    fn draw_rect<S: BackendStyle>(
        &mut self,
        one: BackendCoord,
        other: BackendCoord,
        style: &S,
        fill: bool,
    ) -> Result<(), DrawingErrorKind<B::ErrorType>> {
        self.canvas.draw_rect(one, other, style, fill)
    }

    fn draw_path<S: BackendStyle, I: IntoIterator<Item = BackendCoord>>(
        &mut self,
        path: I,
        style: &S,
    ) -> Result<(), DrawingErrorKind<B::ErrorType>> {
        self.canvas.draw_path(path, style)
    }

    fn draw_circle<S: BackendStyle>(
        &mut self,
        middle: BackendCoord,
        radius: u32,
        style: &S,
        fill: bool,
    ) -> Result<(), DrawingErrorKind<B::ErrorType>> {
        self.canvas.draw_circle(middle, radius, style, fill)
    }

    fn fill_polygon<S: BackendStyle, I: IntoIterator<Item = BackendCoord>>(
        &mut self,
        corners: I,
        style: &S,
    ) -> Result<(), DrawingErrorKind<B::ErrorType>> {
        self.canvas.fill_polygon(corners, style)
    }

    fn draw_text<S: BackendTextStyle>(
        &mut self,
        text: &str,
        style: &S,
        at: BackendCoord,
    ) -> Result<(), DrawingErrorKind<B::ErrorType>> {
        self.canvas.draw_text(text, style, at)
    }
}

/// A canvas that does not stand in the page.
pub(super) fn new_canvas() -> Option<HtmlCanvasElement> {
    document().create_element("canvas").ok()?.dyn_into().ok()
}

/// A rectangle of a canvas, in its pixels.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Area {
    /// Its upper left corner.
    pub at: [f64; 2],
    /// Width and height.
    pub size: (u32, u32),
}

impl Area {
    /// So large, by itself.
    fn alone(size: (u32, u32)) -> Self {
        Self { at: [0.0; 2], size }
    }

    /// Where an element stands over a canvas that has so many pixels to a CSS pixel, and its size in CSS pixels.
    pub(super) fn of(element: &Element, canvas: &HtmlCanvasElement, ratio: f64) -> (Self, (f64, f64)) {
        let (place, whole) = (element.get_bounding_client_rect(), canvas.get_bounding_client_rect());
        let at = [place.left() - whole.left(), place.top() - whole.top()];
        let size = (place.width(), place.height());
        (Self { at: at.map(|x| (x * ratio).round()), size: pixels(size, ratio) }, size)
    }
}

/// The whole pixels of a size in CSS pixels.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "pixels of a canvas")]
pub(super) fn pixels((width, height): (f64, f64), ratio: f64) -> (u32, u32) {
    ((width * ratio).round() as u32, (height * ratio).round() as u32)
}

/// A canvas of its own, of so many pixels and empty.
pub(super) fn emptied(
    canvas: &HtmlCanvasElement,
    size: (u32, u32),
) -> Option<DrawingArea<Fine<CanvasBackend>, Shift>> {
    if (canvas.width(), canvas.height()) != size {
        canvas.set_width(size.0);
        canvas.set_height(size.1);
    }
    wiped(canvas, Area::alone(size), None)
}

/// A rectangle of a canvas, wiped, or with another canvas's picture on it, which is as large; `None` where it is too
/// small or cannot be drawn on, which leaves the tables, which say the same.
pub(super) fn wiped(
    canvas: &HtmlCanvasElement,
    Area { at: [x, y], size }: Area,
    picture: Option<&HtmlCanvasElement>,
) -> Option<DrawingArea<Fine<CanvasBackend>, Shift>> {
    let (wide, high) = (FINE * f64::from(size.0), FINE * f64::from(size.1));
    let context: CanvasRenderingContext2d = canvas.get_context("2d").ok()??.dyn_into().ok()?;
    context.set_transform(1.0 / FINE, 0.0, 0.0, 1.0 / FINE, x, y).ok()?;
    context.clear_rect(0.0, 0.0, wide, high);
    if size.0 < 20 || size.1 < 20 {
        return None;
    }
    if let Some(picture) = picture {
        context.draw_image_with_html_canvas_element_and_dw_and_dh(picture, 0.0, 0.0, wide, high).ok()?;
    }
    let canvas = CanvasBackend::with_canvas_object(canvas.clone())?;
    Some(Fine { canvas, size }.into_drawing_area())
}

/// Canvas pixels to a CSS pixel.
pub(super) fn ratio() -> f64 {
    web_sys::window().map_or(1.0, |window| window.device_pixel_ratio()).clamp(0.5, 4.0)
}

/// The page's colours and letters as they are now.
pub(super) fn theme() -> Theme {
    let window = web_sys::window();
    let style = |element: Option<web_sys::Element>| {
        window.as_ref().and_then(|window| window.get_computed_style(&element?).ok()?)
    };
    let document = window.as_ref().and_then(web_sys::Window::document);
    let root = style(document.as_ref().and_then(web_sys::Document::document_element));
    let colour = |name: &str, otherwise: RGBColor| {
        let text = root.as_ref().and_then(|style| style.get_property_value(name).ok()).unwrap_or_default();
        hexadecimal(text.trim()).unwrap_or(otherwise)
    };
    let page = style(document.as_ref().and_then(|document| document.query_selector(".page").ok()?));
    let size = page
        .and_then(|style| style.get_property_value("font-size").ok()?.trim_end_matches("px").parse().ok());
    Theme {
        paper: colour("--paper", RGBColor(255, 255, 255)),
        ink: colour("--ink", RGBColor(30, 30, 30)),
        soft: colour("--soft", RGBColor(90, 90, 90)),
        beneath: colour("--beneath", RGBColor(138, 109, 47)),
        faint: colour("--faint", RGBColor(220, 220, 220)),
        curve: colour("--steering", RGBColor(0, 114, 178)),
        other: colour("--front", RGBColor(176, 74, 0)),
        ratio: ratio(),
        letters: 0.73 * size.unwrap_or(14.0),
    }
}

/// A colour as the style sheet writes it, `#rrggbb`.
fn hexadecimal(text: &str) -> Option<RGBColor> {
    let digits = text.strip_prefix('#')?;
    let value = u32::from_str_radix(digits, 16).ok().filter(|_| digits.len() == 6)?;
    let [_, red, green, blue] = value.to_be_bytes();
    Some(RGBColor(red, green, blue))
}

/// Counts up whenever light changes to dark or back, or the window comes to a screen with
/// other pixels, so that canvases are painted anew.
pub(super) fn watch_scheme(scheme: RwSignal<u32>) {
    let Some(window) = web_sys::window() else { return };
    let changed = Closure::<dyn Fn()>::new(move || scheme.update(|count| *count += 1));
    let function = changed.as_ref().unchecked_ref();
    if let Ok(Some(query)) = window.match_media("(prefers-color-scheme: dark)") {
        // Where the browser does not tell, the next size does.
        let _ = query.add_event_listener_with_callback("change", function);
    }
    // The page's own life is the listener's.
    changed.forget();
    watch_ratio(scheme);
}

/// The same for another ratio of pixels, which can be asked for one ratio at a time only.
fn watch_ratio(scheme: RwSignal<u32>) {
    let Some(window) = web_sys::window() else { return };
    let asked = format!("(resolution: {}dppx)", window.device_pixel_ratio());
    let Ok(Some(query)) = window.match_media(&asked) else { return };
    let changed = Closure::once_into_js(move || {
        scheme.update(|count| *count += 1);
        watch_ratio(scheme);
    });
    let options = AddEventListenerOptions::new();
    options.set_once(true);
    // As above.
    let _ = query.add_event_listener_with_callback_and_add_event_listener_options(
        "change",
        changed.unchecked_ref(),
        &options,
    );
}

/// How far into an element a pointer is, in CSS pixels from its left edge.
pub(super) fn across(element: &HtmlElement, event: &PointerEvent) -> f64 {
    let [x, _] = pointer::place(event);
    x - element.get_bounding_client_rect().left()
}
