//! The points that can be dragged and nudged, in all views.
//!
//! One signal holds where they all are, and their group hears for them: a drag moves one of
//! some fifty, and a signal and a listener for each would cost more than drawing them.

use std::{borrow::Cow, cmp::Reverse};

use geometry_core::{
    Vec3,
    setup::{Corner, Side},
};
use leptos::{ev, prelude::*, svg};
use wasm_bindgen::JsCast;
use web_sys::{Element, Event, KeyboardEvent, PointerEvent};

use super::{capture, class_of, hand::Hand, mirrored};
use crate::{
    app::session,
    describe,
    edit::{Edit, PointPath},
    effects::{focus, pointer},
    history::Gesture,
    numbers::round_to,
    scene::Placed,
    session::Session,
    view::{Sheet, View},
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

/// Pixels: a point is taken by its middle and by so much around it.
const REACH: f64 = 10.0;

/// A point in one view.
#[derive(Debug, Clone, PartialEq)]
struct Handle {
    view: View,
    /// The right one's where both wheels are shown and it is its.
    side: Side,
    path: PointPath,
    /// Pixels of the sheet; none where the view does not reach.
    at: Option<[f64; 2]>,
    /// What the point is called.
    name: String,
    /// Where it is in the design position: in words, and above the ground, mm.
    place: String,
    height: f64,
    /// Whether it was touched last.
    selected: bool,
}

impl Handle {
    /// The name by which its element is known.
    fn key(&self) -> String {
        let side = if self.side == Side::Right { "right:" } else { "" };
        format!("{}:{side}{}", class_of(self.view), self.path.path())
    }

    /// What may change of its element.
    fn attributes(&self) -> [(&'static str, Cow<'_, str>); 7] {
        let class = match (self.at, self.selected) {
            (Some(_), false) => "handle",
            (Some(_), true) => "handle selected",
            (None, false) => "handle away",
            (None, true) => "handle selected away",
        };
        let [x, y] = self.at.unwrap_or([-100.0; 2]);
        [
            ("class", class.into()),
            ("cx", x.to_string().into()),
            ("cy", y.to_string().into()),
            ("tabindex", if self.at.is_some() { "0" } else { "-1" }.into()),
            ("aria-label", self.name.as_str().into()),
            ("aria-valuetext", self.place.as_str().into()),
            ("aria-valuenow", self.height.to_string().into()),
        ]
    }
}

/// The handles on the sheet, and the elements that show them.
#[derive(Debug, Default)]
struct Standing {
    handles: Vec<Handle>,
    elements: Vec<Element>,
}

impl Standing {
    /// Shows handles in the group, which is the same at every call; only what changed is written.
    fn show(&mut self, group: &Element, handles: Vec<Handle>) {
        let key = |handle: &Handle| (handle.view, handle.side, handle.path);
        let same = self.handles.iter().zip(&handles).take_while(|(a, b)| key(a) == key(b)).count();
        for ((before, after), element) in self.handles.iter().zip(&handles).zip(&self.elements).take(same) {
            if before != after {
                fill(element, after, Some(before));
            }
        }
        if same < handles.len().max(self.handles.len()) {
            self.make(group, &handles, same);
        }
        self.handles = handles;
    }

    /// Makes the elements anew after so many that stay: a pointer may hold one of these. The point that has
    /// the focus keeps it where it is there still.
    fn make(&mut self, group: &Element, handles: &[Handle], same: usize) {
        let focused = document().active_element();
        let focused = focused.and_then(|element| element.get_attribute("data-handle"));
        let circle = format!("<circle r=\"{REACH}\" role=\"slider\"><title></title></circle>");
        for element in self.elements.drain(same..) {
            element.remove();
        }
        let (new, last) = (&handles[same..], group.last_element_child());
        // Into a group that is in the page a string of elements can always be put.
        let _ = group.insert_adjacent_html("beforeend", &circle.repeat(new.len()));
        let mut next = last.map_or_else(|| group.first_element_child(), |last| last.next_element_sibling());
        for handle in new {
            let Some(element) = next.take() else { break };
            write(&element, "data-handle", &handle.key());
            fill(&element, handle, None);
            if focused.as_ref().is_some_and(|key| *key == handle.key()) {
                focus::element(&element);
            }
            next = element.next_element_sibling();
            self.elements.push(element);
        }
    }
}

/// Writes what differs from what the element shows.
fn fill(element: &Element, handle: &Handle, before: Option<&Handle>) {
    let shown = before.map(Handle::attributes);
    for (i, (name, value)) in handle.attributes().into_iter().enumerate() {
        if shown.as_ref().is_none_or(|shown| shown[i].1 != value) {
            write(element, name, &value);
        }
    }
    let same_name = before.is_some_and(|before| before.name == handle.name);
    if let Some(title) = element.first_element_child().filter(|_| !same_name) {
        title.set_text_content(Some(&handle.name));
    }
}

fn write(element: &Element, name: &str, value: &str) {
    // Refused are only names that are none, and these are.
    element.set_attribute(name, value).unwrap_or_default();
}

/// A drag in hand.
#[derive(Clone, Copy)]
struct Drag {
    path: PointPath,
    side: Side,
    view: View,
    /// Whose it is.
    pointer: i32,
    /// Pointer at the start, pixels.
    from: [f64; 2],
    /// The point in the document at the start, mm.
    start: Vec3,
    gesture: Gesture,
}

/// A point in the hand; copied freely.
#[derive(Clone, Copy)]
struct Dragging {
    session: Session,
    sheet: Memo<Sheet>,
    hand: Hand,
    drag: StoredValue<Option<Drag>>,
}

impl Dragging {
    fn start(&self, event: &PointerEvent, handle: &Handle, design: Vec3, element: Element) {
        if !self.hand.hold(event) {
            // A second finger: the two of them are the sheet's.
            return;
        }
        event.stop_propagation();
        // The browser would give it to the one on top.
        focus::element(&element);
        capture(event, Some(element.into()));
        self.session.select_on(handle.side, handle.path);
        self.drag.set_value(Some(Drag {
            path: handle.path,
            side: handle.side,
            view: handle.view,
            pointer: event.pointer_id(),
            from: pointer::place(event),
            start: design,
            gesture: self.session.new_gesture(),
        }));
    }

    fn moved(&self, event: &PointerEvent) {
        let Some(drag) = self.drag.get_value() else { return };
        if !self.hand.holds(drag.pointer) {
            self.take_back(&drag);
        } else if event.pointer_id() == drag.pointer && event.buttons() == 0 {
            // Let go where nobody saw it.
            self.finish();
        } else if event.pointer_id() == drag.pointer {
            event.stop_propagation();
            self.hand.moves(event);
            let to = pointer::place(event);
            let way = [to[0] - drag.from[0], to[1] - drag.from[1]];
            let displacement = self.sheet.get_untracked().unproject(drag.view, way);
            set_point(self.session, drag.side, drag.path, drag.start, &displacement, Some(drag.gesture));
        }
    }

    fn end(&self, event: &PointerEvent) {
        let drag = self.drag.get_value();
        if drag.is_some_and(|drag| drag.pointer == event.pointer_id() && self.hand.holds(drag.pointer)) {
            event.stop_propagation();
            self.finish();
        }
    }

    /// The browser takes the pointer for itself: what it moved was a scroll of the page.
    fn cancelled(&self, event: &PointerEvent) {
        if self.drag.get_value().is_some_and(|drag| drag.pointer == event.pointer_id()) {
            event.stop_propagation();
            self.give_up();
        }
    }

    fn finish(&self) {
        self.drag.set_value(None);
        self.hand.let_go();
        self.session.end_gesture();
    }

    /// Puts the point in hand back to where it was taken up; false where none is in hand.
    fn give_up(&self) -> bool {
        let drag = self.drag.get_value();
        if let Some(drag) = &drag {
            self.hand.let_go();
            self.take_back(drag);
        }
        drag.is_some()
    }

    /// What the pointer has moved so far was not meant: the sheet has taken the finger, or it was given up. A
    /// gesture that comes back to where it began leaves nothing to undo or redo.
    fn take_back(&self, drag: &Drag) {
        self.drag.set_value(None);
        set_point(self.session, drag.side, drag.path, drag.start, &Vec3::zeros(), Some(drag.gesture));
        self.session.end_gesture();
    }
}

/// All of them.
#[component]
pub fn Handles(
    /// The sheet as it is shown.
    sheet: Memo<Sheet>,
    /// What the hand does with the sheet.
    hand: Hand,
) -> impl IntoView {
    let session = session();
    // A memo: they stand while something else is moved.
    let handles = Memo::new(move |_| handles(session, &sheet.get()));
    let place = NodeRef::<svg::G>::new();
    let standing = StoredValue::new_local(Standing::default());
    Effect::new(move |_| {
        if let Some(group) = place.get() {
            let handles = handles.get();
            standing.update_value(|standing| standing.show(&group, handles));
        }
    });
    let touched = move |event: &Event| {
        let element = event.target()?.dyn_into::<Element>().ok()?.closest("[data-handle]").ok()??;
        let key = element.get_attribute("data-handle")?;
        let found = handles
            .with_untracked(|handles| Some(handles.iter().find(|handle| handle.key() == key)?.clone()))?;
        let design = design(session, found.side, found.path)?;
        Some((found, design, element))
    };
    // Circles lie over one another: what is meant is the nearest, and of those in one place the one touched last.
    let meant = move |event: &PointerEvent| {
        let (under, point, element) = touched(event)?;
        let (middle, circle) = (under.at?, element.get_bounding_client_rect());
        let [x, y] = pointer::place(event);
        let at = [
            middle[0] + x - circle.left() - circle.width() / 2.0,
            middle[1] + y - circle.top() - circle.height() / 2.0,
        ];
        let Some(place) = handles.with_untracked(|handles| nearest(handles, under.view, at)) else {
            // On the rim of its circle.
            return Some((under, point, element));
        };
        let handle = handles.with_untracked(|handles| handles.get(place).cloned())?;
        let element = standing.with_value(|standing| standing.elements.get(place).cloned())?;
        let point = design(session, handle.side, handle.path)?;
        Some((handle, point, element))
    };
    // What would be taken is marked and named, whichever circle lies on top.
    let marked = StoredValue::new_local(None::<Element>);
    let unmark = move || {
        if let Some(element) = marked.try_update_value(Option::take).flatten() {
            let _ = element.class_list().remove_1("meant");
        }
    };
    let hover = move |event: &PointerEvent| {
        let Some((handle, _, element)) = meant(event) else { return unmark() };
        // The browser shows the title of the circle on top.
        let under = event.target().and_then(|target| target.dyn_into::<Element>().ok());
        if let Some(title) = under.and_then(|under| under.first_element_child()) {
            title.set_text_content(Some(&handle.name));
        }
        unmark();
        // Refused are only names that are none, and this is one.
        let _ = element.class_list().add_1("meant");
        marked.set_value(Some(element));
    };
    let dragging = Dragging { session, sheet, hand, drag: StoredValue::new(None) };
    let start = move |event: PointerEvent| {
        if event.button() == 0
            && let Some((handle, design, element)) = meant(&event)
        {
            dragging.start(&event, &handle, design, element);
        }
    };
    let key = move |event: KeyboardEvent| {
        if event.key() == "Escape" && dragging.give_up() {
            // Whatever else the key does is for the next press.
            event.stop_propagation();
            return;
        }
        let step = key_step(event.shift_key(), event.alt_key());
        let (right, down) = match event.key().as_str() {
            "ArrowLeft" => (-step, 0.0),
            "ArrowRight" => (step, 0.0),
            "ArrowUp" => (0.0, -step),
            "ArrowDown" => (0.0, step),
            _ => return,
        };
        let Some((handle, design, _)) = touched(&event) else { return };
        event.prevent_default();
        // One undo takes a run of arrow keys back.
        let gesture = Gesture::Repeated(path_number(handle.side, handle.path));
        set_point(session, handle.side, handle.path, design, &handle.view.lift(right, down), Some(gesture));
    };
    let focused = move |event: ev::FocusEvent| {
        if let Some((handle, ..)) = touched(&event) {
            session.select_on(handle.side, handle.path);
        }
    };
    view! {
        <g
            node_ref=place
            on:pointerdown=start
            on:mousedown=move |event| event.prevent_default()
            on:pointermove=move |event| {
                if dragging.drag.with_value(Option::is_none) && event.pointer_type() != "touch" {
                    hover(&event);
                }
                dragging.moved(&event);
            }
            on:pointerout=move |_| unmark()
            on:pointerup=move |event| dragging.end(&event)
            on:pointercancel=move |event| dragging.cancelled(&event)
            on:lostpointercapture=move |event| dragging.end(&event)
            on:keydown=key
            on:focusin=focused
        ></g>
    }
}

/// The point that a pointer in a view means.
fn nearest(handles: &[Handle], view: View, [x, y]: [f64; 2]) -> Option<usize> {
    let away = |(place, handle): (usize, &Handle)| {
        let at = handle.at.filter(|_| handle.view == view)?;
        let away = (at[0] - x).hypot(at[1] - y);
        // Half pixels: nobody means less.
        (away <= REACH).then_some(((2.0 * away).round(), !handle.selected, Reverse(place)))
    };
    let found = handles.iter().enumerate().filter_map(away);
    let found = found.min_by(|a, b| a.0.total_cmp(&b.0).then_with(|| (a.1, a.2).cmp(&(b.1, b.2))));
    found.map(|(_, _, Reverse(place))| place)
}

/// The points of the corner shown, view by view, then those of the right one that is shown with it.
fn handles(session: Session, sheet: &Sheet) -> Vec<Handle> {
    let mut handles = Vec::new();
    session.corner.with(|corner| {
        session.placed.with(|placed| {
            if let Some(corner) = corner {
                of_corner(session, sheet, Side::Left, corner, placed.as_ref(), &mut handles);
            }
        });
    });
    if let Some(right) = session.wheels().right.get() {
        let (corner, placed) = &*right;
        of_corner(session, sheet, Side::Right, corner, Some(placed), &mut handles);
    }
    handles
}

/// The points of one corner; the right one stands behind the left one in the view from the left.
fn of_corner(
    session: Session,
    sheet: &Sheet,
    side: Side,
    corner: &Corner,
    placed: Option<&Placed>,
    handles: &mut Vec<Handle>,
) {
    let convention = session.convention.get();
    let shown = session.side.get();
    let selected = session.selected.get().filter(|_| session.selected_side.get() == side);
    let (wheel, counted) = match side {
        Side::Left => ("", shown),
        Side::Right => (", right wheel", Side::Right),
    };
    let paths = PointPath::all(corner);
    for view in View::ALL {
        if (side, view) == (Side::Right, View::Side) {
            continue;
        }
        for path in &paths {
            let Some(design) = path.get(corner) else { continue };
            let point = placed.and_then(|placed| placed.at(*path));
            let point = if side == Side::Right { point.map(|point| mirrored(&point)) } else { point };
            let at = point.map(|point| sheet.project(view, &point)).filter(|at| sheet.pane(view).holds(*at));
            let name = describe::point_name(*path, corner);
            handles.push(Handle {
                view,
                side,
                path: *path,
                at,
                name: format!("{name}{wheel}, {}", describe::view(view, shown)),
                place: convention.place(design, counted),
                height: design[2],
                selected: selected == Some(*path),
            });
        }
    }
}

/// Where a point is described; of the right corner in its mirror image.
fn design(session: Session, side: Side, path: PointPath) -> Option<Vec3> {
    let point = match side {
        Side::Left => session.corner.with_untracked(|corner| path.get(corner.as_ref()?)),
        Side::Right => session.wheels().right.with_untracked(|right| path.get(&right.as_ref()?.0)),
    };
    point.map(Vec3::from)
}

/// A number that tells the points' arrow-key gestures apart, away from the drags' counter.
fn path_number(side: Side, path: PointPath) -> u64 {
    use std::hash::{DefaultHasher, Hash, Hasher};
    let mut hasher = DefaultHasher::new();
    (side == Side::Right, path).hash(&mut hasher);
    hasher.finish() | (1 << 63)
}

/// Moves a point of the document so that on the sheet it moves by `displacement`. A tenth
/// of a millimetre is as fine as a hand can mean. A right corner that is no more than the left
/// one's mirror image takes the left one along.
fn set_point(
    session: Session,
    side: Side,
    path: PointPath,
    start: Vec3,
    displacement: &Vec3,
    gesture: Option<Gesture>,
) {
    let displacement = if side == Side::Right { mirrored(displacement) } else { *displacement };
    let in_design = |placed: &Placed| placed.to_design(path, &displacement);
    let right = session.wheels().right;
    let turned = match side {
        Side::Left => session.placed.with_untracked(|placed: &Option<Placed>| placed.as_ref().map(in_design)),
        Side::Right => right.with_untracked(|right| right.as_ref().map(|right| in_design(&right.1))),
    };
    let moved = start + turned.unwrap_or(displacement);
    // Only what the hand moved is rounded: an untouched coordinate keeps its digits.
    let point = std::array::from_fn(|i| if moved[i] == start[i] { start[i] } else { round_to(moved[i], 1) });
    let axle = session.axle.get_untracked();
    let twin = match side {
        Side::Left => session.corner.with_untracked(|corner| path.twin(corner.as_ref()?)),
        Side::Right => right.with_untracked(|right| path.twin(&right.as_ref()?.0)),
    };
    let edit = match twin {
        Some(twin) => Edit::SetPoints { axle, points: vec![(path, point), (twin, point)] },
        None => Edit::SetPoint { axle, path, point },
    };
    let edit = if side == Side::Right && session.has_right_now() {
        Edit::OnRight { axle, edit: Box::new(edit) }
    } else {
        edit
    };
    session.try_edit(&edit, gesture);
}
