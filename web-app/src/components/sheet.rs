//! The drawing sheet: three views, handles to drag, pan, zoom and fit.

use std::fmt::Write as _;

use geometry_core::{Vec3, setup::Side};
use leptos::{ev, html, prelude::*};
use wasm_bindgen::JsCast;
use web_sys::{Element, HtmlElement, KeyboardEvent, PointerEvent, WheelEvent};

use super::{beside, curves::CurveSheet, empty::EmptySheet};
use crate::{
    app::session,
    describe,
    edit::{Edit, PointPath},
    effects,
    history::Gesture,
    numbers::round_to,
    scene::{self, Pen, Placed, both, chosen, construction, forces, labels, parts, paths},
    session::Session,
    view::{Rectangle, Sheet, View},
};

/// Millimetres that an arrow key moves a point by: 1, with Shift 10, with Alt 0.1.
#[must_use]
pub fn key_step(shift: bool, alt: bool) -> f64 {
    match (shift, alt) {
        (true, _) => 10.0,
        (_, true) => 0.1,
        _ => 1.0,
    }
}

/// A drag in hand.
#[derive(Clone, Copy)]
struct Drag {
    path: PointPath,
    view: View,
    /// Pointer at the start, pixels.
    from: [f64; 2],
    /// The point in the document at the start, mm.
    start: Vec3,
    gesture: Gesture,
}

/// The sheet with its buttons and curves.
#[component]
pub fn SheetView() -> impl IntoView {
    let session = session();
    let size = RwSignal::new((900.0, 700.0));
    let place = NodeRef::<html::Div>::new();
    Effect::new(move |_| {
        if let Some(element) = place.get() {
            effects::size::watch(&element, size);
        }
    });
    let sheet = Memo::new(move |_| {
        let (width, height) = size.get();
        Sheet::new(session.frame.get(), width, height, session.pan_zoom.get())
            .with_stance(session.wheels().stance.get())
    });
    let fitted = Memo::new(move |_| {
        let (width, height) = size.get();
        Sheet::new(session.frame.get(), width, height, crate::view::PanZoom::default())
    });
    let pan_from: StoredValue<Option<[f64; 2]>> = StoredValue::new(None);
    let pan_start = move |event: PointerEvent| {
        if event.button() == 0 {
            capture(&event);
            pan_from.set_value(Some(pixel(&event)));
            session.selected.set(None);
        }
    };
    let pan_move = move |event: PointerEvent| {
        if let Some(from) = pan_from.get_value() {
            let to = pixel(&event);
            session.pan_zoom.update(|view| {
                for i in 0..2 {
                    view.pan[i] += to[i] - from[i];
                }
            });
            pan_from.set_value(Some(to));
        }
    };
    let pan_end = move |_| pan_from.set_value(None);
    let wheel = move |event: WheelEvent| {
        event.prevent_default();
        let Some(element) = place.get_untracked() else { return };
        let at = from_middle(&element, [f64::from(event.client_x()), f64::from(event.client_y())]);
        let factor = (-event.delta_y().clamp(-120.0, 120.0) / 400.0).exp();
        session.pan_zoom.update(|view| *view = view.zoomed(factor, at));
    };
    let views = View::ALL.map(|view| {
        let shapes = move || drawing(session, &sheet.get(), view);
        let beneath = move || beside::drawing(session, &sheet.get(), view);
        let clip = format!("pane-{}", class_of(view));
        let pane = move || sheet.get().pane(view);
        view! {
            <clipPath id=clip.clone()>
                <rect
                    x=move || pane().left
                    y=move || pane().top
                    width=move || (pane().right - pane().left).max(0.0)
                    height=move || (pane().bottom - pane().top).max(0.0)
                />
            </clipPath>
            <g class="beneath" clip-path=format!("url(#{clip})") data-beneath=class_of(view) inner_html=beneath></g>
            <g class="view" clip-path=format!("url(#{clip})") data-view=class_of(view) inner_html=shapes></g>
        }
    });
    // A memo: the list is the same while a point is dragged.
    let handles = Memo::new(move |_| {
        let paths = session.corner.with(|corner| corner.as_ref().map(PointPath::all).unwrap_or_default());
        View::ALL.into_iter().flat_map(|view| paths.iter().map(move |path| (view, *path))).collect::<Vec<_>>()
    });
    let drag: StoredValue<Option<Drag>> = StoredValue::new(None);
    view! {
        <section class="sheet" aria-label="Drawing sheet">
            <div class="paper" node_ref=place>
                <svg
                    class="drawing"
                    width=move || size.get().0
                    height=move || size.get().1
                    aria-label="Corner in front view, view from the left and plan view"
                    role="group"
                    on:pointerdown=pan_start
                    on:pointermove=pan_move
                    on:pointerup=pan_end
                    on:pointercancel=pan_end
                    on:wheel=wheel
                >
                    <g class="folds" inner_html=move || folds(&sheet.get())></g>
                    {views.into_iter().collect_view()}
                    <g class="touch" inner_html=move || projection_lines(session, &sheet.get())></g>
                    <For each=move || handles.get() key=|key| *key let((view, path))>
                        <Handle view=view path=path sheet=sheet drag=drag />
                    </For>
                </svg>
                {move || (session.side.get() == Side::Right).then(|| view! {
                    <p class="sheet-note" data-said="mirrored">"Right corner, drawn as in a mirror"</p>
                })}
            </div>
            <CurveSheet sheet=fitted />
            <EmptySheet />
            <Tools />
        </section>
    }
}

fn class_of(view: View) -> &'static str {
    match view {
        View::Front => "front",
        View::Side => "side",
        View::Plan => "plan",
    }
}

/// The buttons under the drawing.
#[component]
fn Tools() -> impl IntoView {
    let session = session();
    let (wheels, range) = (session.wheels(), session.range());
    let zoom = move |factor: f64| session.pan_zoom.update(|view| *view = view.zoomed(factor, [0.0, 0.0]));
    view! {
        <div class="sheet-tools" role="toolbar" aria-label="Sheet">
            <span>
                <button aria-label="Zoom in" title="Zoom in" on:click=move |_| zoom(1.25)>"+"</button>
                <button aria-label="Zoom out" title="Zoom out" on:click=move |_| zoom(0.8)>"−"</button>
                <button title="Bring everything into the sheet" on:click=move |_| session.fit()>"Fit"</button>
            </span>
            <span>
                <Toggle name="both" label="Both wheels" title="Show the right wheel as well" on=wheels.both
                    set=move |on| session.show_both(on) />
                <Toggle name="ghosts" label="Ends" title="Draw the members thin at both ends of the travel"
                    on=range.ghosts set=move |on| range.ghosts.set(on) />
                <Toggle name="traces" label="Paths" title="Draw the paths of wheel centre, contact and the point touched last over the travel"
                    on=range.traces set=move |on| range.traces.set(on) />
            </span>
        </div>
    }
}

/// A button of the sheet that shows something or hides it.
#[component]
fn Toggle(
    name: &'static str,
    label: &'static str,
    title: &'static str,
    on: RwSignal<bool>,
    set: impl Fn(bool) + Copy + 'static,
) -> impl IntoView {
    view! {
        <button
            title=title
            data-show=name
            aria-pressed=move || on.get().to_string()
            on:click=move |_| set(!on.get_untracked())
        >
            {label}
        </button>
    }
}

/// The shapes of one view as markup: behind everything what is thin, then the left corner.
pub(super) fn drawing(session: Session, sheet: &Sheet, view: View) -> String {
    let mut shapes = Vec::with_capacity(96);
    let mut out = around(session, sheet, view);
    let wheels = session.wheels();
    session.corner.with(|corner| {
        session.placed.with(|placed| {
            if let (Some(corner), Some(placed)) = (corner, placed) {
                let mut pen = Pen::new(sheet, view, &mut shapes);
                parts::draw(&mut pen, corner, placed);
                if wheels.both.get() {
                    both::name(&mut pen, placed, "left wheel");
                }
            }
        });
    });
    let arrows = session.load().arrows.get();
    session.solved.with(|solved| {
        if let Some(solved) = solved {
            let mut pen = Pen::new(sheet, view, &mut shapes);
            let axle = if wheels.active.get() { wheels.solved.get() } else { None };
            session.found.with(|found| {
                if let Some(found) = found.as_ref().and_then(|found| found.construction.as_ref()) {
                    chosen::draw(&mut pen, found, &Vec3::from(solved.readings.contact));
                } else if arrows.is_some() {
                    // The usual lines would lie under the arrows.
                    pen.circle("contact", &Vec3::from(solved.readings.contact), 3.0);
                } else {
                    let axle = axle.as_ref().map(|axle| &axle.readings);
                    construction::draw_of_axle(&mut pen, &solved.readings, axle);
                }
            });
        }
    });
    if let Some(arrows) = arrows {
        forces::draw(&mut Pen::new(sheet, view, &mut shapes), &arrows);
    }
    let pane = sheet.pane(view);
    let name = labels::extent(name_place(&pane), view.name(), scene::Anchor::Start);
    labels::settle(&mut shapes, &pane, &[name]);
    out += &scene::markup(&shapes);
    out
}

/// The right corner, the ends of the travel and the paths, each in a group of its own that
/// the style sheet makes thin.
fn around(session: Session, sheet: &Sheet, view: View) -> String {
    let (wheels, range) = (session.wheels(), session.range());
    let mut out = String::new();
    let mut group = |class: &str, shapes: &[scene::Shape]| {
        if !shapes.is_empty() {
            // Writing to a String cannot fail.
            let _ = write!(out, "<g class=\"{class}\">{}</g>", scene::markup(shapes));
        }
    };
    let right = wheels.right.get();
    let mut ghosts = Vec::new();
    if let Some(ends) = range.ends.get() {
        session.corner.with(|corner| {
            let Some(corner) = corner else { return };
            for (placed, at) in ends.placed.iter().zip(ends.at) {
                paths::draw_end(&mut Pen::new(sheet, view, &mut ghosts), corner, placed, at);
            }
        });
    }
    if let (Some(ends), Some(right)) = (range.right_ends.get(), &right)
        && view != View::Side
    {
        for (placed, at) in ends.placed.iter().zip(ends.at) {
            paths::draw_end(&mut Pen::new(sheet, view, &mut ghosts).mirrored(), &right.0, placed, at);
        }
    }
    group("ghost", &ghosts);
    if let Some(right) = &right {
        let mut shapes = Vec::new();
        both::draw_right(&mut Pen::new(sheet, view, &mut shapes).mirrored(), &right.0, &right.1);
        group("right", &shapes);
    }
    let ways = range.paths.get();
    let [left, other] = &*ways;
    let mut shapes = Vec::new();
    paths::draw_traces(&mut Pen::new(sheet, view, &mut shapes), left);
    if view != View::Side {
        paths::draw_traces(&mut Pen::new(sheet, view, &mut shapes).mirrored(), other);
    }
    group("traces", &shapes);
    out
}

/// Where a view's name stands.
fn name_place(pane: &Rectangle) -> [f64; 2] {
    [pane.left + 14.0, pane.top + 22.0]
}

/// The lines between the views, and the views' names.
fn folds(sheet: &Sheet) -> String {
    let mut shapes = Vec::new();
    let [x, y] = sheet.cross();
    for view in View::ALL {
        let mut pen = Pen::new(sheet, view, &mut shapes);
        let pane = pen.pane();
        match view {
            View::Front => pen.pixel_line("fold", [x, pane.top], [x, pane.bottom]),
            View::Side => pen.pixel_line("fold", [pane.left, y], [pane.right, y]),
            View::Plan => {
                pen.pixel_line("fold", [pane.left, y], [pane.right, y]);
                pen.pixel_line("fold", [x, pane.top], [x, pane.bottom]);
            }
        }
        if pane.right - pane.left > 90.0 && pane.bottom - pane.top > 40.0 {
            pen.pixel_text("view-name", name_place(&pane), scene::Anchor::Start, view.name().into());
        }
    }
    scene::markup(&shapes)
}

/// The touched point's lines through all three views, and its name.
fn projection_lines(session: Session, sheet: &Sheet) -> String {
    let Some(path) = session.selected.get() else { return String::new() };
    let Some(point) = session.placed.with(|placed| placed.as_ref().and_then(|p| p.at(path))) else {
        return String::new();
    };
    let mut shapes = Vec::new();
    let [front, side, plan] = View::ALL.map(|view| sheet.project(view, &point));
    shapes.push(scene::Shape::Line { class: "projection", points: vec![front, side], closed: false });
    shapes.push(scene::Shape::Line { class: "projection", points: vec![front, plan], closed: false });
    let name = session.corner.with(|corner| corner.as_ref().map(|corner| describe::point_name(path, corner)));
    if let Some(text) = name {
        let at = [front[0] + 9.0, front[1] - 9.0];
        shapes.push(scene::Shape::Text { class: "point-name", at, text, anchor: scene::Anchor::Start });
    }
    scene::markup(&shapes)
}

/// Pointer position in CSS pixels of the window.
fn pixel(event: &PointerEvent) -> [f64; 2] {
    [f64::from(event.client_x()), f64::from(event.client_y())]
}

fn from_middle(element: &HtmlElement, [x, y]: [f64; 2]) -> [f64; 2] {
    let rectangle = element.get_bounding_client_rect();
    [x - rectangle.left() - rectangle.width() / 2.0, y - rectangle.top() - rectangle.height() / 2.0]
}

/// Keeps the pointer's events coming while it leaves the element.
fn capture(event: &PointerEvent) {
    if let Some(element) = event.current_target().and_then(|target| target.dyn_into::<Element>().ok()) {
        // Fails only when the pointer has gone already, which ends the drag anyway.
        let _ = element.set_pointer_capture(event.pointer_id());
    }
}

/// A point that can be dragged and nudged, in one view.
#[component]
fn Handle(view: View, path: PointPath, sheet: Memo<Sheet>, drag: StoredValue<Option<Drag>>) -> impl IntoView {
    let session = session();
    let at = Memo::new(move |_| {
        let point = session.placed.with(|placed| placed.as_ref().and_then(|p| p.at(path)))?;
        let sheet = sheet.get();
        let at = sheet.project(view, &point);
        sheet.pane(view).holds(at).then_some(at)
    });
    // Memos: a drag moves one point; the other points' names and places stand.
    let name = Memo::new(move |_| {
        session.corner.with(|corner| {
            corner.as_ref().map(|corner| format!("{}, {}", describe::point_name(path, corner), view.name()))
        })
    });
    let design = Memo::new(move |_| session.corner.with(|corner| path.get(corner.as_ref()?)));
    let place = move || design.get().map(|point| session.convention.get().place(point, session.side.get()));
    let start = move |event: PointerEvent| {
        if event.button() != 0 {
            return;
        }
        event.stop_propagation();
        let Some(design) = design.get_untracked() else { return };
        capture(&event);
        session.selected.set(Some(path));
        drag.set_value(Some(Drag {
            path,
            view,
            from: pixel(&event),
            start: design.into(),
            gesture: session.new_gesture(),
        }));
    };
    let moved = move |event: PointerEvent| {
        let Some(drag) = drag.get_value().filter(|drag| drag.path == path && drag.view == view) else {
            return;
        };
        event.stop_propagation();
        let to = pixel(&event);
        let displacement =
            sheet.get_untracked().unproject(view, [to[0] - drag.from[0], to[1] - drag.from[1]]);
        set_point(session, path, drag.start, &displacement, Some(drag.gesture));
    };
    let end = move |event: PointerEvent| {
        if drag.get_value().is_some() {
            event.stop_propagation();
            drag.set_value(None);
            session.end_gesture();
        }
    };
    let key = move |event: KeyboardEvent| {
        let step = key_step(event.shift_key(), event.alt_key());
        let (right, down) = match event.key().as_str() {
            "ArrowLeft" => (-step, 0.0),
            "ArrowRight" => (step, 0.0),
            "ArrowUp" => (0.0, -step),
            "ArrowDown" => (0.0, step),
            _ => return,
        };
        event.prevent_default();
        let Some(design) = design.get_untracked() else { return };
        // One undo takes a run of arrow keys back.
        let gesture = Gesture::Repeated(path_number(path));
        set_point(session, path, design.into(), &view.lift(right, down), Some(gesture));
    };
    view! {
        <circle
            class="handle"
            class:selected=move || session.selected.get() == Some(path)
            class:away=move || at.get().is_none()
            r="10"
            cx=move || at.get().map_or(-100.0, |at| at[0])
            cy=move || at.get().map_or(-100.0, |at| at[1])
            data-handle=format!("{}:{}", class_of(view), path.path())
            role="slider"
            tabindex=move || if at.get().is_some() { "0" } else { "-1" }
            aria-label=move || name.get()
            aria-valuetext=place
            aria-valuenow=move || design.get().map(|[_, _, z]| z)
            on:pointerdown=start
            on:pointermove=moved
            on:pointerup=end
            on:pointercancel=end
            on:lostpointercapture=end
            on:keydown=key
            on:focus=move |_: ev::FocusEvent| session.selected.set(Some(path))
        >
            <title>{move || name.get()}</title>
        </circle>
    }
}

/// A number that tells the points' arrow-key gestures apart, away from the drags' counter.
fn path_number(path: PointPath) -> u64 {
    use std::hash::{DefaultHasher, Hash, Hasher};
    let mut hasher = DefaultHasher::new();
    path.hash(&mut hasher);
    hasher.finish() | (1 << 63)
}

/// Moves a point of the document so that on the sheet it moves by `displacement`. A tenth
/// of a millimetre is as fine as a hand can mean.
fn set_point(session: Session, path: PointPath, start: Vec3, displacement: &Vec3, gesture: Option<Gesture>) {
    let turned = session
        .placed
        .with_untracked(|placed: &Option<Placed>| placed.as_ref().map(|p| p.to_design(path, displacement)));
    let moved = start + turned.unwrap_or(*displacement);
    // Only what the hand moved is rounded: an untouched coordinate keeps its digits.
    let point = std::array::from_fn(|i| if moved[i] == start[i] { start[i] } else { round_to(moved[i], 1) });
    let axle = session.axle.get_untracked();
    let edit = match session.corner.with_untracked(|corner| path.twin(corner.as_ref()?)) {
        Some(twin) => Edit::SetPoints { axle, points: vec![(path, point), (twin, point)] },
        None => Edit::SetPoint { axle, path, point },
    };
    session.try_edit(&edit, gesture);
}
