//! One chart: its head, its place on the canvas of all, and the hand on it.

use std::sync::Arc;

use geometry_core::{readings::Quantity, setup::Axle};
use leptos::{html, prelude::*};
use web_sys::{HtmlCanvasElement, HtmlElement, KeyboardEvent, PointerEvent};

use super::{
    Charts,
    head::Values,
    paint::{Area, across, emptied, new_canvas, ratio, wiped},
};
use crate::{
    chart::{self, Frame, Series, Stop, Theme, axis},
    components::sheet::key_step,
    describe::{self, curves as words},
    effects,
    session::{
        Session,
        curves::{Against, CurveView, Family},
        set_changed,
    },
    units::{self, System},
};

/// mm: a press falls into zero when it comes this near, as the slider does.
const DETENT: f64 = 1.5;

/// What was drawn last.
#[derive(Default)]
struct Drawn {
    /// What the axes belong to; another begins anew.
    of: Option<(Against, bool, Axle, System)>,
    /// The frame and the colours on the canvas of what stands still.
    frame: Option<(Frame, Theme)>,
    /// That canvas, which is never shown itself.
    still: Option<HtmlCanvasElement>,
    /// Where the chart stands on the canvas of all, and how large it is in CSS pixels.
    place: Option<(Area, (f64, f64))>,
}

/// A chart.
#[component]
pub fn Chart(
    /// The page's session.
    session: Session,
    /// What all charts share.
    charts: Charts,
    /// The reading on it.
    quantity: Quantity,
) -> impl IntoView {
    let view = session.curves;
    let place = NodeRef::<html::Div>::new();
    let size = RwSignal::new((0.0, 0.0));
    Effect::new(move |_| {
        if let Some(element) = place.get() {
            effects::size::watch(&element, size);
        }
    });
    let drawn = StoredValue::new_local(Drawn::default());
    let painter = draw_when_asked(session, charts, quantity, place, size, drawn);
    let input_at = move |event: &PointerEvent| {
        let element: HtmlElement = place.get_untracked()?.into();
        drawn.with_value(|drawn| {
            let (frame, theme) = drawn.frame.as_ref()?;
            let plot = frame.plot(theme)?;
            let at = |pixel: f64| frame.input_at(pixel, &plot);
            let x = across(&element, event);
            let input = at(x);
            let grain = view.against.get_untracked().grain((at(x + 1.0) - input).abs());
            Some((input / grain).round() * grain)
        })
    };
    let pressed = StoredValue::new(false);
    let lead = move |input: f64| {
        let falls = view.against.get_untracked() != Against::Roll && input.abs() < DETENT;
        session.put_cursor(if falls { 0.0 } else { input });
    };
    let down = move |event: PointerEvent| {
        let Some(input) = input_at(&event).filter(|_| event.button() == 0) else { return };
        if let Some(place) = place.get_untracked() {
            // Without it the drag ends at the chart's edge.
            let _ = place.set_pointer_capture(event.pointer_id());
        }
        pressed.set_value(true);
        lead(input);
    };
    let moved = move |event: PointerEvent| {
        let input = input_at(&event);
        if let Some(input) = input.filter(|_| pressed.get_value()) {
            lead(input);
        }
        // A finger has no place while it does not touch.
        if event.pointer_type() == "mouse" || pressed.get_value() {
            view.pointer.set(input);
        }
    };
    let end = move |_: PointerEvent| pressed.set_value(false);
    let left = move |_: PointerEvent| {
        charts.painters.prefer(None);
        pressed.set_value(false);
        view.pointer.set(None);
    };
    let focused = RwSignal::new(false);
    let spoken = spoken(session, charts, quantity, focused);
    let none = RwSignal::new(None);
    Effect::new(move |_| {
        let why = view.drawn.with(|drawn| {
            let chart = drawn.place(quantity)?;
            let empty = drawn.lines.iter().all(|line| line.of(chart).iter().all(Option::is_none));
            empty.then(|| drawn.lines.first().map_or("", |line| line.why_none(quantity)))
        });
        set_changed(none, why);
    });
    let title = move || words::title(quantity, session.axle.get(), view.both.get());
    view! {
        <div class="curve" class:both=move || view.both.get()>
            <div class="curve-head">
                <span class="curve-name" title=title>
                    <span class="long">{title}</span>
                    <span class="short">{words::short_title(quantity)}</span>
                </span>
                <span class="curve-values"><Values view=view quantity=quantity /></span>
            </div>
            <div
                class="curve-place"
                node_ref=place
                role="slider"
                tabindex="0"
                data-curve=quantity.name()
                aria-label=move || words::heading(quantity, session.axle.get(), view.against.get(), view.both.get())
                aria-valuemin=move || charts.ends.get().0
                aria-valuemax=move || charts.ends.get().1
                aria-valuenow=move || charts.cursor.get()
                aria-valuetext=spoken
                on:pointerenter=move |_| charts.painters.prefer(Some(painter))
                on:focus=move |_| focused.set(true)
                on:blur=move |_| focused.set(false)
                on:pointerdown=down
                on:pointermove=moved
                on:pointerup=end
                on:pointercancel=left
                on:pointerleave=left
                on:keydown=move |event| key(session, &event)
            >
                {move || none.get().map(|reason| view! { <p class="no-curve">{words::sentence(reason)}</p> })}
            </div>
        </div>
    }
}

/// What a screen reader says of the chart. While another thing is dragged nobody listens to all the charts: it
/// follows at once only where the focus is, elsewhere twice a second.
fn spoken(
    session: Session,
    charts: Charts,
    quantity: Quantity,
    focused: RwSignal<bool>,
) -> impl Fn() -> String {
    let view = session.curves;
    let say = move || {
        let input = words::input(view.against.get(), view.cursor.get());
        view.here
            .with(|here| view.reference_here.with(|beneath| words::spoken(&input, quantity, here, beneath)))
    };
    move || {
        if focused.get() {
            return say();
        }
        charts.ticks.track();
        // What is chosen does not wait.
        session.axle.track();
        session.side.track();
        view.both.track();
        view.against.track();
        units::track();
        untrack(say)
    }
}

/// Draws whenever its turn comes after something has changed: what stands still, axes and grid,
/// only when it does not. Gives the number of who draws.
fn draw_when_asked(
    session: Session,
    charts: Charts,
    quantity: Quantity,
    place: NodeRef<html::Div>,
    size: RwSignal<(f64, f64)>,
    drawn: StoredValue<Drawn, LocalStorage>,
) -> u64 {
    let view = session.curves;
    let draw = move |canvas: &HtmlCanvasElement, place: &HtmlElement, drawn: &mut Drawn| {
        let theme = Theme { ratio: ratio(), ..charts.theme.get() };
        let Some((area, size)) = drawn.place else { return };
        let family = view.drawn.get();
        let of = (view.against.get(), view.both.get(), session.axle.get(), units::chosen());
        let keeps = charts.held.get_value() && drawn.of == Some(of);
        drawn.of = Some(of);
        let before = drawn.frame.as_ref().filter(|_| keeps).map(|(frame, _)| frame.values);
        let Some(frame) = frame_of(view, quantity, &family, size, before) else {
            drawn.frame = None;
            let _ = wiped(canvas, area, None);
            return;
        };
        let Some(still) = drawn.still.take().or_else(new_canvas) else { return };
        let stands = drawn.frame.as_ref().is_some_and(|(last, colours)| *last == frame && *colours == theme);
        if let Some(still) = (!stands).then(|| emptied(&still, area.size)).flatten() {
            // A canvas that cannot be drawn on leaves the tables, which say the same.
            let _ = chart::draw_frame(&still, &frame, &theme);
            let (low, high) = frame.values;
            // For tests, which cannot read numbers off a canvas.
            let _ = place.set_attribute("data-values", &format!("{low} {high}"));
        }
        if let Some(area) = wiped(canvas, area, Some(&still)) {
            draw_lines(view, quantity, &family, &frame, &theme, &area);
        }
        drawn.frame = Some((frame, theme));
        drawn.still = Some(still);
    };
    let both = move || Some((charts.canvas.get_untracked()?, place.get_untracked()?));
    let look = move || {
        let Some((canvas, place)) = both() else { return false };
        let now = Some(Area::of(&place, &canvas, ratio()));
        let before = drawn.try_update_value(|drawn| std::mem::replace(&mut drawn.place, now));
        before.flatten().is_some_and(|before| Some(before) != now)
    };
    let paint = move || {
        if let Some((canvas, place)) = both() {
            untrack(|| drawn.try_update_value(|drawn| draw(&canvas, &place, drawn)));
        }
    };
    let painter = charts.painters.add(look, paint);
    on_cleanup(move || charts.painters.remove(painter));
    Effect::new(move |_| {
        size.track();
        place.track();
        // Before this frame is shown: nothing is to stand in the wrong place.
        charts.painters.paint_now(painter, charts.canvas);
    });
    painter
}

/// The arrow keys move the cursor as on a slider.
fn key(session: Session, event: &KeyboardEvent) {
    let view = session.curves;
    let step = key_step(event.shift_key(), event.alt_key()) * view.against.get_untracked().key_step();
    let now = view.cursor.get_untracked();
    let ends = view.ends_of_motion();
    let to = match event.key().as_str() {
        "ArrowLeft" | "ArrowDown" => now - step,
        "ArrowRight" | "ArrowUp" => now + step,
        "PageDown" => now - 10.0 * step,
        "PageUp" => now + 10.0 * step,
        "Home" => ends.0,
        "End" => ends.1,
        _ => return,
    };
    event.prevent_default();
    // Rounded to what a thousandth of an inch, a tenth of a millimetre and a hundredth of a degree have in common.
    session.put_cursor(crate::numbers::round_to(to, 4));
}

/// The chart's frame; `before` is the range that it must not fall short of. `None` where
/// there is no value.
fn frame_of(
    view: CurveView,
    quantity: Quantity,
    family: &Arc<Family>,
    size: (f64, f64),
    before: Option<(f64, f64)>,
) -> Option<Frame> {
    let chart = family.place(quantity)?;
    let scale = describe::unit(quantity).here();
    let decimals = i32::try_from(scale.decimals).unwrap_or(0);
    let beneath = view.reference.get();
    let lines = family.lines.iter().chain(&beneath.lines);
    // Each line by itself: beside one that hardly changes a steep one is no runaway.
    let least = 4.0 * 10_f64.powi(-decimals);
    // In the reader's unit, of which the ends are to be round numbers.
    let of = |value: &Option<f64>| value.map(|value| scale.of(value));
    let ranges = lines.filter_map(|line| axis::range(line.of(chart).iter().filter_map(of), least));
    let range = ranges.reduce(axis::union)?;
    let against = view.against.get();
    let stops = view.subjects.with(|subjects| {
        let stops = |subject: &crate::session::curves::Subject| {
            let style = subject.style;
            subject.stops(against).into_iter().map(move |at| Stop { style, at })
        };
        subjects.iter().flatten().flat_map(stops).collect()
    });
    let range = (range.0 * scale.one, range.1 * scale.one);
    let values = before.map_or(range, |before| axis::union(before, range));
    Some(Frame { size, inputs: view.ends.get(), values, ones: (against.unit().here().one, scale.one), stops })
}

fn draw_lines(
    view: CurveView,
    quantity: Quantity,
    family: &Family,
    frame: &Frame,
    theme: &Theme,
    area: &plotters::prelude::DrawingArea<
        super::paint::Fine<plotters_canvas::CanvasBackend>,
        plotters::coord::Shift,
    >,
) {
    let Some(chart) = family.place(quantity) else { return };
    let here = view.here.with(|here| here.firsts(quantity));
    let there =
        view.there.with(|there| there.as_ref().map(|there| there.firsts(quantity)).unwrap_or_default());
    let value = |values: &[Option<f64>], line: usize| values.get(line).copied().flatten();
    let beneath = view.reference.get();
    let beneath_here = view.reference_here.with(|here| here.firsts(quantity));
    let beneath_there = view.reference_there.with(|there| there.firsts(quantity));
    let reference = beneath.lines.iter().enumerate().map(|(i, line)| Series {
        style: line.style,
        inputs: &beneath.inputs,
        values: line.of(chart),
        ends: line.ends,
        at_cursor: value(&beneath_here, i),
        at_pointer: value(&beneath_there, i),
    });
    let lines = family.lines.iter().enumerate().map(|(i, line)| Series {
        style: line.style,
        inputs: &family.inputs,
        values: line.of(chart),
        ends: line.ends,
        at_cursor: value(&here, i),
        at_pointer: value(&there, i),
    });
    let series: Vec<Series> = reference.chain(lines).collect();
    // As for the frame.
    let _ = chart::draw_lines(area, frame, &series, view.cursor.get(), view.pointer.get(), theme);
}
