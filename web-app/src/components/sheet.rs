//! The drawing sheet: three views, handles to drag, pan, zoom and fit.

mod hand;
pub mod handles;

use geometry_core::{Vec3, readings::Quantity, setup::Side};
use leptos::{html, prelude::*, svg};
use wasm_bindgen::JsCast;
use web_sys::{Element, EventTarget, PointerEvent};

use self::{hand::Hand, handles::Handles};
use super::{beside, curves::CurveSheet, empty::EmptySheet};
use crate::{
    app::session,
    describe,
    effects::{self, drawn::Drawn, focus},
    lengths::{Convention, Measure},
    scene::{
        Anchor, Layer, Pen, Shape, both, chosen, construction, forces, labels, other_axle, parts, paths,
        scale, trouble,
    },
    session::{Session, Tab, settled},
    units::{self, System},
    view::{Rectangle, Sheet, View},
};

pub use self::handles::key_step;

/// Pixels of the page's letters where it is not in large type, as the style sheet has it.
const LETTERS: f64 = 14.0;

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
    // Large type takes room from the paper, whose size tells that it came.
    let letters = Memo::new(move |_| {
        size.track();
        place.get().and_then(|place| effects::size::letters(&place)).map_or(1.0, |pixels| pixels / LETTERS)
    });
    let sheet = Memo::new(move |_| {
        let (width, height) = size.get();
        Sheet::new(session.frame.get(), width, height, session.pan_zoom.get())
            .with_stance(session.wheels().stance.get())
            .with_letters(letters.get())
    });
    let fitted = Memo::new(move |_| {
        let (width, height) = size.get();
        Sheet::new(session.frame.get(), width, height, crate::view::PanZoom::default())
    });
    let hand = Hand::new(session, place, sheet);
    // The other axle may stand elsewhere by another wheelbase: the sheet makes room for it.
    let wheelbase = Memo::new(move |_| session.document().with(|document| document.vehicle.wheelbase));
    Effect::new(move |before: Option<Option<f64>>| {
        // Read, not only tracked: what is never read knows nothing of what it hangs on.
        let now = wheelbase.get();
        if before.is_some_and(|before| before != now) && session.axles().both.get_untracked() {
            session.fit();
        }
        now
    });
    let panes = settled(move || View::ALL.map(|view| sheet.get().pane(view)));
    let views = View::ALL.into_iter().enumerate().map(|(place, view)| {
        let clip = format!("pane-{}", class_of(view));
        let pane = move || panes.get()[place];
        let beneath = layers(move || beside::drawing(session, &sheet.get(), view));
        let shapes = layers(move || drawing(session, &sheet.get(), view));
        view! {
            <clipPath id=clip.clone()>
                <rect
                    x=move || pane().left
                    y=move || pane().top
                    width=move || (pane().right - pane().left).max(0.0)
                    height=move || (pane().bottom - pane().top).max(0.0)
                />
            </clipPath>
            <g class="beneath" clip-path=format!("url(#{clip})") data-beneath=class_of(view) node_ref=beneath></g>
            <g class="view" clip-path=format!("url(#{clip})") data-view=class_of(view) node_ref=shapes></g>
        }
    });
    let touched = layers(move || projection_lines(session, &sheet.get()));
    let folded = layers(move || folds(&sheet.get(), session.side.get()));
    view! {
        <section class="sheet" aria-label="Drawing sheet">
            <Tools hand=hand />
            <button
                class="skip"
                data-do="skip"
                on:click=move |_| focus::go_to(format!("#tab-{}", session.tab.get_untracked().name()))
            >
                "Past the drawing, to the numbers"
            </button>
            <div class="sheet-room">
                <div class="paper" node_ref=place>
                    <svg
                        class="drawing"
                        class:fitted=move || hand.fitted()
                        width=move || size.get().0
                        height=move || size.get().1
                        aria-label=move || {
                            let [front, side, plan] = View::ALL.map(|view| describe::view(view, session.side.get()));
                            format!("Corner: {front}, {side}, {plan}")
                        }
                        aria-description="Arrow keys move the sheet, plus and minus zoom, zero fits it"
                        role="group"
                        tabindex="0"
                        data-sheet=""
                        on:pointerdown=move |event| hand.down(&event)
                        on:pointermove=move |event| hand.moved(&event)
                        on:pointerup=move |event| hand.up(&event)
                        on:pointercancel=move |event| hand.cancelled(&event)
                        on:lostpointercapture=move |event| hand.up(&event)
                        on:touchstart=move |event| hand.touched(&event)
                        on:touchmove=move |event| hand.touched(&event)
                        on:wheel=move |event| hand.wheel(&event)
                        on:keydown=move |event| hand.key(&event)
                    >
                        {views.collect_view()}
                        <g class="folds" node_ref=folded></g>
                        <g class="touch" node_ref=touched></g>
                        <Handles sheet=sheet hand=hand />
                    </svg>
                    <Notes sheet=fitted />
                </div>
                <CurveSheet sheet=fitted />
                <EmptySheet />
            </div>
        </section>
    }
}

/// What is said over the drawing: in the plan view, or in the quarter that is empty where the curves stand elsewhere.
#[component]
fn Notes(
    /// The sheet without pan and zoom.
    sheet: Memo<Sheet>,
) -> impl IntoView {
    let session = session();
    let notes = move || {
        view! {
            <First />
            {move || session.axles().lack.get().map(|lack| view! {
                <p class="sheet-note" data-said="axles">{describe::both_axles_lack(lack)}</p>
            })}
            {move || session.chosen.get().map(|_| view! {
                <button class="to-finding" data-do="to-finding" on:click=move |_| {
                    session.tab.set(Tab::Readings);
                    focus::go_to("[data-finding]".into());
                }>
                    "How it is found ↓"
                </button>
            })}
            {move || (session.side.get() == Side::Right).then(|| view! {
                <p class="sheet-note" data-said="mirrored">"Right corner, drawn as in a mirror"</p>
            })}
        }
    };
    view! {
        <div class="sheet-notes" style:left=move || format!("{:.0}px", sheet.get().fourth().right)>{notes()}</div>
    }
}

/// The place of a group that shows layers, and shows them anew whenever they change.
fn layers(layers: impl Fn() -> Vec<Layer> + 'static) -> NodeRef<svg::G> {
    let place = NodeRef::<svg::G>::new();
    let drawn = StoredValue::new_local(Drawn::default());
    Effect::new(move |_| {
        if let Some(group) = place.get() {
            let layers = layers();
            drawn.update_value(|drawn| drawn.show(&group, layers));
        }
    });
    place
}

fn class_of(view: View) -> &'static str {
    match view {
        View::Front => "front",
        View::Side => "side",
        View::Plan => "plan",
    }
}

/// The buttons over the drawing.
#[component]
fn Tools(hand: Hand) -> impl IntoView {
    let session = session();
    let (wheels, range) = (session.wheels(), session.range());
    view! {
        <div class="sheet-tools" role="toolbar" aria-label="Sheet">
            <span>
                <button aria-label="Zoom in" title="Zoom in (+ on the sheet)" on:click=move |_| hand.zoom(hand::ZOOM)>"+"</button>
                <button aria-label="Zoom out" title="Zoom out (− on the sheet)" on:click=move |_| hand.zoom(1.0 / hand::ZOOM)>"−"</button>
                <button title="Bring everything into the sheet (0 on it; arrow keys move it)" on:click=move |_| session.fit()>"Fit"</button>
                <Units />
            </span>
            <First />
            <span>
                <Toggle name="both" label="Both wheels" title="Show the right wheel as well" on=wheels.both
                    set=move |on| session.show_both(on) />
                <Toggle name="axles" label="Both axles" title="Show the corner of the other axle as well, and the centre of gravity"
                    on=session.axles().both set=move |on| session.show_axles(on) />
                <Toggle name="ghosts" label="Ends" title="Draw the members thin at both ends of the travel"
                    on=range.ghosts set=move |on| range.ghosts.set(on) />
                <Toggle name="traces" label="Paths" title="Draw the paths of wheel centre, contact and the point touched last over the travel"
                    on=range.traces set=move |on| range.traces.set(on) />
            </span>
        </div>
    }
}

/// The units of all that is told and typed.
#[component]
fn Units() -> impl IntoView {
    let session = session();
    // Whoever writes inches in fractions gets them again.
    let inches = StoredValue::new(Measure::InchDecimal);
    let choose = move |event: web_sys::Event| {
        let convention = session.convention.get_untracked();
        if convention.measure != Measure::Millimetre {
            inches.set_value(convention.measure);
        }
        let measure =
            if event_target_value(&event) == "in" { inches.get_value() } else { Measure::Millimetre };
        session.write_in(Convention { measure, ..convention });
    };
    let options = [(System::Metric, "mm"), (System::Customary, "in")].map(|(system, name)| {
        let is_chosen = move || units::chosen() == system;
        view! { <option value=name prop:selected=is_chosen>{name}</option> }
    });
    view! {
        <select
            data-choice="units"
            aria-label="Units of all numbers"
            title="Millimetres, newtons, kilograms; or inches, pounds-force, pounds"
            on:change=choose
        >
            {options.into_iter().collect_view()}
        </select>
    }
}

/// What the page is and how to begin, until something has been changed: whoever has knows.
#[component]
fn First() -> impl IntoView {
    let session = session();
    let example = geometry_core::setup::example();
    let first =
        Memo::new(move |_| !session.can_undo() && session.document().with(|document| *document == example));
    move || {
        first.get().then(|| {
            view! {
                <p class="first" data-said="first">"Drag a joint, or choose a layout. A car’s suspension corner, computed from its pivots."</p>
            }
        })
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

/// The shapes of one view: behind everything what is thin, then the left corner.
pub(super) fn drawing(session: Session, sheet: &Sheet, view: View) -> Vec<Layer> {
    let mut shapes = Vec::with_capacity(96);
    let mut layers = around(session, sheet, view);
    let wheels = session.wheels();
    session.corner.with(|corner| {
        session.placed.with(|placed| {
            if let (Some(corner), Some(placed)) = (corner, placed) {
                let mut pen = Pen::new(sheet, view, &mut shapes);
                parts::draw(&mut pen, corner, placed);
                if wheels.both.get() {
                    both::name(&mut pen, placed, "left wheel");
                }
                session.trouble().faulty.with(|faulty| trouble::faults(&mut pen, placed, faulty));
                if session.axles().other.with(Option::is_some) {
                    other_axle::name(&mut pen, session.axle.get(), placed, wheels.both.get());
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
                    // The one that moves aside, beside the one that this corner has with its own mirror image.
                    if let Some(axle) =
                        axle.filter(|_| found.quantity == Quantity::RollCentreHeight && view == View::Front)
                    {
                        both::roll_centre(&mut pen, &axle.readings, "roll centre of the axle");
                    }
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
    let extent = |at, text: &str| labels::extent(at, text, Anchor::Start, sheet.letters());
    let name = extent(name_place(&pane), view_name(&pane, view, session.side.get(), sheet.letters()));
    let mut taken = vec![name];
    taken.extend(front_of(view, &pane).map(|(at, words)| extent(at, words)));
    taken.extend(scale::place(sheet, view));
    if view == View::Front
        && let Some((point, name)) = touched(session)
    {
        let (at, anchor) = touched_name_place(sheet, &point, &name);
        taken.push(labels::extent(at, &name, anchor, sheet.letters()));
    }
    layers.push(Layer { class: None, shapes });
    let leaders = labels::settle(&mut layers, &pane, &taken, sheet.letters());
    // Under all else, and always there: a group that comes and goes would have the view drawn anew.
    layers.insert(0, leaders);
    layers
}

/// The right corner, the ends of the travel and the paths, each in a group of its own that
/// the style sheet makes thin.
fn around(session: Session, sheet: &Sheet, view: View) -> Vec<Layer> {
    let (wheels, range) = (session.wheels(), session.range());
    let mut layers = Vec::new();
    let mut group = |class, shapes: Vec<Shape>| {
        if !shapes.is_empty() {
            layers.push(Layer { class: Some(class), shapes });
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
    group("ghost", ghosts);
    if let Some(right) = &right {
        let mut shapes = Vec::new();
        both::draw_right(&mut Pen::new(sheet, view, &mut shapes).mirrored(), &right.0, &right.1);
        group("right", shapes);
    }
    let mut shapes = Vec::new();
    if let Some(other) = session.axles().other.get() {
        // As the shown corner's own lines, which arrows and a chosen reading take the place of.
        let lines = session.chosen.get().is_none() && session.load().arrows.with(Option::is_none);
        other_axle::draw(sheet, view, &mut shapes, &other, lines);
    }
    if let Some(point) = session.axles().centre_of_gravity.get() {
        other_axle::centre_of_gravity(&mut Pen::new(sheet, view, &mut shapes), &point);
    }
    group("other-axle", shapes);
    if let Some(apart) = session.trouble().apart.get() {
        let mut shapes = Vec::new();
        session.corner.with(|corner| {
            if let Some(corner) = corner {
                trouble::apart(&mut Pen::new(sheet, view, &mut shapes), corner, &apart);
            }
        });
        group("apart", shapes);
    }
    let ways = range.paths.get();
    let [left, other] = &*ways;
    let mut shapes = Vec::new();
    paths::draw_traces(&mut Pen::new(sheet, view, &mut shapes), left);
    if view != View::Side {
        paths::draw_traces(&mut Pen::new(sheet, view, &mut shapes).mirrored(), other);
    }
    group("traces", shapes);
    layers
}

/// What a view is called, shorter where its pane has no room for more.
fn view_name(pane: &Rectangle, view: View, side: Side, letters: f64) -> &'static str {
    let name = describe::view(view, side);
    let room = pane.right - name_place(pane)[0];
    if letters * labels::width(name) < room { name } else { describe::short_view(view) }
}

/// Where a view's name stands.
fn name_place(pane: &Rectangle) -> [f64; 2] {
    [pane.left + 14.0, pane.top + 22.0]
}

/// Where the car's front is in a view that shows it, where there is room to say so.
fn front_of(view: View, pane: &Rectangle) -> Option<([f64; 2], &'static str)> {
    let words = match view {
        View::Front => return None,
        View::Side => "← front of the car",
        View::Plan => "↓ front of the car",
    };
    let room = pane.right - pane.left > 220.0 && pane.bottom - pane.top > 200.0;
    room.then_some(([pane.left + 14.0, pane.bottom - 12.0], words))
}

/// The lines between the views, the views' names, and the scale.
fn folds(sheet: &Sheet, side: Side) -> Vec<Layer> {
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
            let name = view_name(&pane, view, side, sheet.letters());
            pen.pixel_text("view-name", name_place(&pane), Anchor::Start, name.into());
        }
        if view == View::Front {
            scale::draw(&mut pen, sheet);
        }
        if let Some((at, words)) = front_of(view, &pane) {
            pen.pixel_text("view-front", at, Anchor::Start, words.into());
        }
    }
    vec![Layer { class: None, shapes }]
}

/// The touched point's lines through all three views, and its name.
fn projection_lines(session: Session, sheet: &Sheet) -> Vec<Layer> {
    let Some((point, text)) = touched(session) else { return Vec::new() };
    let mut shapes = Vec::new();
    let [front, side, plan] = View::ALL.map(|view| sheet.project(view, &point));
    shapes.push(Shape::Line { class: "projection", points: vec![front, side], closed: false });
    shapes.push(Shape::Line { class: "projection", points: vec![front, plan], closed: false });
    let (at, anchor) = touched_name_place(sheet, &point, &text);
    shapes.push(Shape::Text { class: "point-name", at, text, anchor, of: None });
    vec![Layer { class: None, shapes }]
}

/// The point touched last, where it is now, and what it is called.
fn touched(session: Session) -> Option<(Vec3, String)> {
    let path = session.selected.get()?;
    if session.selected_side.get() == Side::Right
        && let Some(right) = session.wheels().right.get()
    {
        let (corner, placed) = &*right;
        let name = format!("{}, right wheel", describe::point_name(path, corner));
        return Some((mirrored(&placed.at(path)?), name));
    }
    let point = session.placed.with(|placed| placed.as_ref().and_then(|placed| placed.at(path)))?;
    let name =
        session.corner.with(|corner| corner.as_ref().map(|corner| describe::point_name(path, corner)))?;
    Some((point, name))
}

/// A point or a displacement of the right corner, from that of its mirror image, or back.
fn mirrored(v: &Vec3) -> Vec3 {
    Vec3::new(v.x, -v.y, v.z)
}

/// Where the name of a touched point stands in the front view: to the right of it where the view has room for it.
fn touched_name_place(sheet: &Sheet, point: &Vec3, name: &str) -> ([f64; 2], Anchor) {
    let ([x, y], pane) = (sheet.project(View::Front, point), sheet.pane(View::Front));
    let end = x + 9.0 + sheet.letters() * labels::width(name);
    if end > pane.right && x - pane.left > pane.right - x {
        ([x - 9.0, y - 9.0], Anchor::End)
    } else {
        ([x + 9.0, y - 9.0], Anchor::Start)
    }
}

/// Keeps the pointer's events coming to the element while it leaves it.
fn capture(event: &PointerEvent, element: Option<EventTarget>) {
    if let Some(element) = element.and_then(|target| target.dyn_into::<Element>().ok()) {
        // Fails only when the pointer has gone already, which ends the drag anyway.
        let _ = element.set_pointer_capture(event.pointer_id());
    }
}
