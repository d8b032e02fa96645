//! Pan and zoom of the sheet by mouse, trackpad, one finger or two, and keys.

use leptos::{html, prelude::*};
use web_sys::{KeyboardEvent, PointerEvent, TouchEvent, WheelEvent};

use super::{capture, touched};
use crate::{
    edit::PointPath,
    effects::pointer,
    session::Session,
    view::{PanZoom, Sheet, View},
};

/// Pixels that an arrow key moves the sheet by; with Shift ten times as far.
const STEP: f64 = 20.0;
/// Factor of a zoom by key or button.
pub(super) const ZOOM: f64 = 1.25;

/// A pointer that lies on the sheet, and where it was last, in pixels of the window.
type Pointer = (i32, [f64; 2]);

/// What a hand does with the sheet; copied freely.
#[derive(Clone, Copy)]
pub struct Hand {
    session: Session,
    place: NodeRef<html::Div>,
    sheet: Memo<Sheet>,
    /// In the order in which they came; more than two fingers mean no more than two.
    pointers: StoredValue<Vec<Pointer>>,
    /// The pointer that holds a point of the drawing.
    held: StoredValue<Option<Pointer>>,
    /// The view and the touched point when the first pointer came.
    before: StoredValue<Option<(PanZoom, Option<PointPath>)>>,
}

impl Hand {
    /// A hand over the sheet that stands at a place.
    pub fn new(session: Session, place: NodeRef<html::Div>, sheet: Memo<Sheet>) -> Self {
        Self {
            session,
            place,
            sheet,
            pointers: StoredValue::new(Vec::new()),
            held: StoredValue::new(None),
            before: StoredValue::new(None),
        }
    }

    /// Lets a pointer hold a point of the drawing; refused where another one lies there already: two fingers
    /// are the sheet's, wherever they are put.
    pub fn hold(&self, event: &PointerEvent) -> bool {
        if event.is_primary() {
            self.pointers.set_value(Vec::new());
            self.held.set_value(None);
            self.before.set_value(None);
        }
        let free = self.pointers.with_value(Vec::is_empty) && self.held.with_value(Option::is_none);
        if free {
            self.held.set_value(Some((event.pointer_id(), pointer::place(event))));
        }
        free
    }

    /// Whether a pointer still holds a point.
    pub fn holds(&self, pointer: i32) -> bool {
        self.held.with_value(|held| held.is_some_and(|(id, _)| id == pointer))
    }

    /// The pointer that holds a point has moved.
    pub fn moves(&self, event: &PointerEvent) {
        self.held.set_value(Some((event.pointer_id(), pointer::place(event))));
    }

    /// No pointer holds a point any more.
    pub fn let_go(&self) {
        self.held.set_value(None);
    }

    /// A pointer is put down.
    pub fn down(&self, event: &PointerEvent) {
        if event.button() != 0 {
            return;
        }
        capture(event, event.current_target());
        let pointer = (event.pointer_id(), pointer::place(event));
        let held = self.held.try_update_value(Option::take).flatten();
        self.pointers.update_value(|pointers| {
            if event.is_primary() {
                // The first of its kind: what another has left behind is no finger any more.
                pointers.clear();
            } else {
                pointers.extend(held);
            }
            pointers.retain(|(id, _)| *id != pointer.0);
            pointers.push(pointer);
        });
        if event.is_primary() {
            let session = &self.session;
            self.before.set_value(Some((session.pan_zoom.get_untracked(), session.selected.get_untracked())));
        }
        self.session.selected.set(None);
    }

    /// A pointer moves: one takes the sheet along, two zoom as well.
    pub fn moved(&self, event: &PointerEvent) {
        let mut before = Vec::new();
        let mut after = Vec::new();
        self.pointers.update_value(|pointers| {
            before.clone_from(pointers);
            if let Some((_, at)) = pointers.iter_mut().find(|(id, _)| *id == event.pointer_id()) {
                *at = pointer::place(event);
            }
            after.clone_from(pointers);
        });
        if before == after {
            return;
        }
        match (&before[..], &after[..]) {
            ([(_, from)], [(_, to)]) => {
                let way = [to[0] - from[0], to[1] - from[1]];
                self.session.pan_zoom.update(|view| *view = view.panned(way));
            }
            ([a, b, ..], [c, d, ..]) => {
                let (before, after) = ([a.1, b.1], [c.1, d.1]);
                let about_middle = |pixels: [[f64; 2]; 2]| pixels.map(|pixel| self.about_middle(pixel));
                let (before, after) = (about_middle(before), about_middle(after));
                self.session.pan_zoom.update(|view| *view = view.pinched(before, after));
            }
            _ => {}
        }
    }

    /// A pointer is lifted.
    pub fn up(&self, event: &PointerEvent) {
        self.before.set_value(None);
        self.pointers.update_value(|pointers| pointers.retain(|(id, _)| *id != event.pointer_id()));
    }

    /// The browser takes a pointer for itself: what it began to do with the sheet was a scroll of the page.
    pub fn cancelled(&self, event: &PointerEvent) {
        let alone = self.pointers.with_value(|all| matches!(all[..], [(id, _)] if id == event.pointer_id()));
        let before = self.before.try_update_value(Option::take).flatten();
        self.up(event);
        if let Some((view, touched)) = before.filter(|_| alone) {
            self.session.pan_zoom.set(view);
            self.session.selected.set(touched);
        }
    }

    /// Fingers touch the sheet: one that holds a point, or two, scroll no page.
    pub fn touched(&self, event: &TouchEvent) {
        let scrolls = event.touches().length() == 1 && self.held.with_value(Option::is_none);
        if event.cancelable() && !scrolls {
            event.prevent_default();
        }
    }

    /// Whether the sheet lies as it was fitted, with nothing to pan to.
    pub fn fitted(&self) -> bool {
        self.session.pan_zoom.get() == PanZoom::default()
    }

    /// A wheel turns, or two fingers part on a trackpad, which browsers tell as a wheel.
    pub fn wheel(&self, event: &WheelEvent) {
        event.prevent_default();
        let at = self.about_middle(pointer::place(event));
        let factor = (-event.delta_y().clamp(-120.0, 120.0) / 400.0).exp();
        self.session.pan_zoom.update(|view| *view = view.zoomed(factor, at));
    }

    /// A key is pressed on the sheet itself; on a point the arrows are the point's.
    pub fn key(&self, event: &KeyboardEvent) {
        if event.default_prevented() || event.ctrl_key() || event.meta_key() || event.alt_key() {
            return;
        }
        let step = if event.shift_key() { 10.0 * STEP } else { STEP };
        let pan = |right: f64, down: f64| {
            self.session.pan_zoom.update(|view| *view = view.panned([right, down]));
        };
        // The paper follows the arrow, as it follows a pointer.
        match event.key().as_str() {
            "ArrowLeft" => pan(-step, 0.0),
            "ArrowRight" => pan(step, 0.0),
            "ArrowUp" => pan(0.0, -step),
            "ArrowDown" => pan(0.0, step),
            "+" | "=" => self.zoom(ZOOM),
            "-" => self.zoom(1.0 / ZOOM),
            "0" => self.session.fit(),
            _ => return,
        }
        event.prevent_default();
    }

    /// Zooms about the point touched last, or the wheel's centre, in the front view; about the middle of the sheet
    /// where that view does not reach to it.
    pub fn zoom(&self, factor: f64) {
        let sheet = self.sheet.get_untracked();
        let centre = || self.session.placed.get()?.at(PointPath::WheelCentre);
        let point = untrack(|| touched(self.session).map(|(point, _)| point).or_else(centre));
        let pixel = point.map(|point| sheet.project(View::Front, &point));
        let pixel = pixel.filter(|pixel| sheet.pane(View::Front).holds(*pixel));
        let [x, y] = pixel.unwrap_or_else(|| sheet.middle());
        let middle = sheet.middle();
        self.session.pan_zoom.update(|view| *view = view.zoomed(factor, [x - middle[0], y - middle[1]]));
    }

    /// A pixel of the window, from the middle of the sheet.
    fn about_middle(&self, [x, y]: [f64; 2]) -> [f64; 2] {
        let Some(element) = self.place.get_untracked() else { return [0.0, 0.0] };
        let rectangle = element.get_bounding_client_rect();
        [x - rectangle.left() - rectangle.width() / 2.0, y - rectangle.top() - rectangle.height() / 2.0]
    }
}
