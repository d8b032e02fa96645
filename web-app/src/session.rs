//! The document, its history, and everything derived from it.
//!
//! One signal holds the document; only [`Session::edit`], undo and redo write it. Memos
//! derive the linkage, the position and the readings; nothing derived is stored. This is
//! the only module of the page, with those below it, that calls the core's solver.

pub mod curves;
pub mod doubts;
pub mod forces;
pub mod headline;
pub mod look;
pub mod oddities;
pub mod printed;
pub mod readout;
pub mod recent;
pub mod reference;
pub mod sensitivity;
pub mod tab;
mod trouble;
mod trust;
pub mod whole_car;

mod axle;
mod changed;
mod framing;
mod notice;
mod other_axle;
mod range;

pub use axle::{BothSolved, ROLL_SHOWN, Wheels};
pub use notice::Notice;
pub use other_axle::{Axles, other};
pub use range::{End, Moving, Range, Reach, Swing, Why};

mod sides;
mod solved;

pub(crate) use changed::{at_rest, set_changed, settled};
pub use solved::Solved;
pub use trouble::Trouble;
pub use trust::Trust;

use std::sync::Arc;

use geometry_core::{
    linkage::Linkage,
    readings::Quantity,
    setup::{Axle, Corner, Document, Side},
    solve::State,
};
use leptos::prelude::*;

use self::curves::{Choice, CurveView};
use crate::{
    describe::finding::Found,
    edit::{Edit, EditError, PointPath},
    effects::storage,
    history::{Gesture, History},
    lengths::Convention,
    scene::Placed,
    units,
    view::{Frame, PanZoom},
};
use doubts::Doubts;
use forces::LoadCase;
use framing::{Corners, frame_of};
use oddities::Oddities;
use recent::{Recent, SetupNumber};
use reference::{Kept, Reference};
use sensitivity::Matters;
use solved::{construction_of, linkage_of, solve};
pub use tab::Tab;
use whole_car::WholeCar;

/// mm: the ends of the curves, and of the travel slider where the setup names no stop.
pub const TRAVEL_SHOWN: f64 = 100.0;
/// mm: the ends of the rack slider where the setup names no lock.
pub const RACK_SHOWN: f64 = 60.0;
/// Where the choice of curves is kept.
pub const CURVES: &str = "curves";

/// A state of the history: the document, and which setup it is.
#[derive(Debug, Clone, PartialEq)]
struct Step {
    document: Document,
    number: SetupNumber,
}

/// Handles to all state of the page; copied freely.
#[derive(Clone, Copy)]
pub struct Session {
    document: RwSignal<Document>,
    number: StoredValue<SetupNumber>,
    history: RwSignal<History<Step>>,
    /// The axle whose layout the last change put in, which another layout may take the place of.
    only_layout: StoredValue<Option<Axle>>,
    /// A second setup to compare with.
    pub reference: Reference,
    /// The setups that were in hand before.
    pub recent: Recent,
    /// The axle that is shown.
    pub axle: RwSignal<Axle>,
    /// The state asked for by the sliders.
    pub state: RwSignal<State>,
    /// The side whose corner is shown; a right corner only where it is described separately.
    pub side: RwSignal<Side>,
    /// The document with the right corner's mirror image in the left one's place, while the
    /// right corner is shown.
    mirrored: Memo<Option<Arc<Document>>>,
    /// How coordinates are written; no part of the document.
    pub convention: ReadSignal<Convention>,
    set_convention: WriteSignal<Convention>,
    // Stored, so that this stays small enough to be handed about.
    wheels: StoredValue<Wheels>,
    axles: StoredValue<Axles>,
    trouble: StoredValue<Trouble>,
    range: StoredValue<Range>,
    /// The point touched last.
    pub selected: RwSignal<Option<PointPath>>,
    /// Whose it is, where both wheels are shown.
    pub selected_side: RwSignal<Side>,
    /// The reading whose construction is drawn; no part of the document.
    pub chosen: RwSignal<Option<Quantity>>,
    /// Its construction in the position shown.
    pub found: Memo<Option<Arc<Found>>>,
    /// The panel that is open beside the sheet.
    pub tab: RwSignal<Tab>,
    load: StoredValue<LoadCase>,
    matters: StoredValue<Matters>,
    doubts: StoredValue<Doubts>,
    whole_car: StoredValue<WholeCar>,
    oddities: StoredValue<Oddities>,
    /// Why what is changed is not kept in this browser; said for as long as it is so.
    pub unkept: RwSignal<Option<String>>,
    /// The message line.
    pub notice: RwSignal<Option<Notice>>,
    /// Pan and zoom.
    pub pan_zoom: RwSignal<PanZoom>,
    /// The corner shown, when the document has it.
    pub corner: Memo<Option<Corner>>,
    /// The linkage, or why there is none.
    pub linkage: Memo<Result<Arc<Linkage>, String>>,
    /// The position and its readings, where there is a linkage.
    pub solved: Memo<Option<Arc<Solved>>>,
    /// Where every point is.
    pub placed: Memo<Option<Placed>>,
    /// What the curves show.
    pub curves: CurveView,
    /// What the sheet shows: chosen anew for another axle or setup and by Fit, not while one is edited or moved.
    pub frame: RwSignal<Frame>,
    gestures: StoredValue<u64>,
}

impl Session {
    /// A session on a document that has passed its check.
    #[must_use]
    pub fn new(document: Document) -> Self {
        let axle = RwSignal::new(if document.front.is_some() { Axle::Front } else { Axle::Rear });
        let side = RwSignal::new(Side::Left);
        let frame =
            RwSignal::new(frame_of(&document, Corners { axle: axle.get_untracked(), ..Corners::default() }));
        let document = RwSignal::new(document);
        let state = RwSignal::new(State::DESIGN);
        let corner = Memo::new(move |_| document.with(|d| sides::corner(d, axle.get(), side.get())));
        let mirrored = Memo::new(move |_| document.with(|d| sides::mirrored(d, axle.get(), side.get())));
        let vehicle = Memo::new(move |_| document.with(|d| d.vehicle.clone()));
        let linkage = Memo::new(move |_| {
            let (axle, side) = (axle.get(), side.get());
            corner.with(|corner| linkage_of(corner.as_ref(), axle, side))
        });
        let wheels = Wheels::new(document, axle, state, vehicle);
        let solved = Memo::new(move |_| {
            if wheels.active.get()
                && let Some(both) = wheels.solved.get()
            {
                return Some(Arc::new(both.left_corner()));
            }
            let (axle, asked) = (axle.get(), state.get());
            let linkage = linkage.get().ok()?;
            vehicle.with(|vehicle| Some(Arc::new(solve(&linkage, vehicle, axle, asked))))
        });
        let axles =
            Axles::new(other_axle::Sources { document, axle, side, state, corner, vehicle, wheels, solved });
        let trouble = Trouble::new(corner, linkage, state, solved, wheels);
        let placed = Memo::new(move |_| {
            let solved = solved.get();
            let solved = solved.as_deref().map(|s| (&s.linkage, &s.position));
            corner.with(|corner| corner.as_ref().map(|corner| Placed::new(corner, solved)))
        });
        // The reference stands where the present corner does: under a leaning body the left
        // wheel has a travel of its own.
        let stands = Memo::new(move |_| {
            let leant = if wheels.active.get() { solved.get() } else { None };
            leant.map_or_else(|| state.get(), |solved| solved.position.state())
        });
        let reference = Reference::new(axle, side, stands, wheels);
        let choice = storage::kept_view(CURVES).map(|text| Choice::read(&text)).unwrap_or_default();
        let curves = CurveView::new(
            choice,
            curves::Sources { document, side, vehicle, axle, state, solved, wheels, kept: reference.kept },
        );
        let selected = RwSignal::new(None);
        let range = Range::new(axle, state, corner, linkage, selected, wheels);
        let chosen = RwSignal::new(None);
        let (convention, set_convention) = signal(Convention::default());
        let found = Memo::new(move |_| {
            let (quantity, solved) = (chosen.get()?, solved.get()?);
            corner.with(|corner| Some(Arc::new(construction_of(quantity, corner.as_ref()?, &solved))))
        });
        let recent = Recent::new();
        let tab = RwSignal::new(Tab::Readings);
        let load = LoadCase::new(tab, axle, side, corner, vehicle, solved, placed);
        Self {
            document,
            number: StoredValue::new(recent.new_number()),
            history: RwSignal::new(History::new()),
            only_layout: StoredValue::new(None),
            reference,
            recent,
            axle,
            side,
            mirrored,
            state,
            wheels: StoredValue::new(wheels),
            axles: StoredValue::new(axles),
            trouble: StoredValue::new(trouble),
            range: StoredValue::new(range),
            selected,
            selected_side: RwSignal::new(Side::Left),
            convention,
            set_convention,
            chosen,
            found,
            tab,
            load: StoredValue::new(load),
            matters: StoredValue::new(Matters::new()),
            doubts: StoredValue::new(Doubts::new()),
            whole_car: StoredValue::new(WholeCar::new(document, state, reference.kept)),
            oddities: StoredValue::new(Oddities::new()),
            unkept: RwSignal::new(None),
            notice: RwSignal::new(None),
            pan_zoom: RwSignal::new(PanZoom::default()),
            corner,
            linkage,
            solved,
            placed,
            curves,
            frame,
            gestures: StoredValue::new(0),
        }
    }

    /// The document, to be read.
    #[must_use]
    pub fn document(&self) -> ReadSignal<Document> {
        self.document.read_only()
    }

    /// Both wheels, and the body's lean.
    #[must_use]
    pub fn wheels(&self) -> Wheels {
        self.wheels.get_value()
    }

    /// The other axle, drawn together with the one shown.
    #[must_use]
    pub fn axles(&self) -> Axles {
        self.axles.get_value()
    }

    /// What stands in the way, to be drawn where it is.
    #[must_use]
    pub fn trouble(&self) -> Trouble {
        self.trouble.get_value()
    }

    /// How far things go, what moves by itself, ghosts and paths.
    #[must_use]
    pub fn range(&self) -> Range {
        self.range.get_value()
    }

    /// The load case and its forces.
    #[must_use]
    pub fn load(&self) -> LoadCase {
        self.load.get_value()
    }

    /// What moves a reading most.
    #[must_use]
    pub fn matters(&self) -> Matters {
        self.matters.get_value()
    }

    /// What is asked of the whole car, and the answer.
    #[must_use]
    pub fn whole_car(&self) -> WholeCar {
        self.whole_car.get_value()
    }

    /// What is worth a second look.
    #[must_use]
    pub fn oddities(&self) -> Oddities {
        self.oddities.get_value()
    }

    /// How far to trust the readings.
    #[must_use]
    pub fn trust(&self) -> Trust {
        self.matters().trust
    }

    /// Makes a change. A refused edit leaves all as it was.
    ///
    /// # Errors
    /// Why the edit was refused.
    pub fn edit(&self, edit: &Edit, gesture: Option<Gesture>) -> Result<(), EditError> {
        let before = self.step();
        let document = self.of_side(edit).apply(&before.document)?;
        if document == before.document {
            return Ok(());
        }
        let another = match edit {
            Edit::ReplaceDocument(_) => true,
            // A layout tried after a layout takes nothing away that was made by hand.
            Edit::ReplaceCorner { axle, .. } => {
                before.document.corner(*axle).is_some() && self.only_layout.get_value() != Some(*axle)
            }
            _ => false,
        };
        self.hush();
        let number = if another { self.recent.new_number() } else { before.number };
        let now = crate::effects::clock::milliseconds();
        let after = Step { document, number };
        self.history.update(|history| history.record(&before, &after, gesture, now));
        let replaced = matches!(edit, Edit::ReplaceDocument(_) | Edit::ReplaceCorner { .. });
        self.put(before, after, replaced);
        if let Edit::ReplaceCorner { axle, .. } = edit {
            self.only_layout.set_value(Some(*axle));
        }
        Ok(())
    }

    /// Why an edit was refused, with the names of what it speaks of.
    #[must_use]
    pub fn refusal(&self, error: &EditError) -> String {
        self.document.with_untracked(|document| whole_car::with_names(document, error.to_string()))
    }

    /// Puts another setup in the present one's place; says whether it is another.
    fn replace(&self, document: Document, number: SetupNumber) -> Result<bool, EditError> {
        let before = self.step();
        let document = Edit::ReplaceDocument(Box::new(document)).apply(&before.document)?;
        if document == before.document {
            return Ok(false);
        }
        let after = Step { document, number };
        self.history.update(|history| history.record(&before, &after, None, 0.0));
        self.put(before, after, true);
        Ok(true)
    }

    fn step(&self) -> Step {
        Step { document: self.document.get_untracked(), number: self.number.get_value() }
    }

    /// Makes a change and says in the message line why it was refused.
    pub fn try_edit(&self, edit: &Edit, gesture: Option<Gesture>) {
        // First: the edit itself may have something to say, as that nothing can be kept.
        set_changed(self.notice, None);
        if let Err(error) = self.edit(edit, gesture) {
            self.complain(self.refusal(&error));
        }
    }

    /// Has coordinates written so from now on, and all other numbers in the units that go with it.
    pub fn write_in(&self, convention: Convention) {
        units::choose(convention.measure.system());
        self.set_convention.set(convention);
    }

    /// A name for a new drag.
    #[must_use]
    pub fn new_gesture(&self) -> Gesture {
        let mut number = 0;
        self.gestures.update_value(|count| {
            *count += 1;
            number = *count;
        });
        Gesture::Held(number)
    }

    /// Ends the gesture in hand, so that the next change is undone by itself.
    pub fn end_gesture(&self) {
        self.history.update(History::close);
    }

    /// Takes the last gesture back.
    pub fn undo(&self) {
        let present = self.step();
        if let Some(before) = self.history.try_update(|history| history.undo(&present)).flatten() {
            self.hush();
            self.put(present, before, false);
        }
    }

    /// Makes it again.
    pub fn redo(&self) {
        let present = self.step();
        if let Some(after) = self.history.try_update(|history| history.redo(&present)).flatten() {
            self.hush();
            self.put(present, after, false);
        }
    }

    /// Whether there is something to undo.
    #[must_use]
    pub fn can_undo(&self) -> bool {
        self.history.with(History::can_undo)
    }

    /// Whether there is something to redo.
    #[must_use]
    pub fn can_redo(&self) -> bool {
        self.history.with(History::can_redo)
    }

    /// Shows an axle.
    pub fn show_axle(&self, axle: Axle) {
        // What was said was of the other axle.
        self.hush();
        self.selected.set(None);
        self.rest();
        if self.document.with_untracked(|document| document.right_corner(axle).is_none()) {
            set_changed(self.side, Side::Left);
        }
        self.axle.set(axle);
        self.fit();
    }

    /// Puts wheel, rack and body where they are in the setup.
    fn rest(&self) {
        self.state.set(State::DESIGN);
        self.wheels().roll.set(0.0);
        self.range().playing.set(None);
    }

    /// Which setup is open: another has another number.
    #[must_use]
    pub fn setup_number(&self) -> SetupNumber {
        self.number.get_value()
    }

    /// Shows a point in all views.
    pub fn select(&self, path: PointPath) {
        self.select_on(Side::Left, path);
    }

    /// Whether a point of the corner shown is the one touched last.
    #[must_use]
    pub fn is_selected(&self, path: PointPath) -> bool {
        self.selected.get() == Some(path) && self.selected_side.get() == Side::Left
    }

    /// The same as [`Session::select`] of the right corner, which is shown with the left one.
    pub fn select_on(&self, side: Side, path: PointPath) {
        set_changed(self.selected_side, side);
        set_changed(self.selected, Some(path));
    }

    /// Draws how a reading is found; chosen again, no longer.
    pub fn choose(&self, quantity: Quantity) {
        self.chosen.update(|chosen| *chosen = (*chosen != Some(quantity)).then_some(quantity));
    }

    /// Opens the panel in which a number of the document is given, and puts the focus there.
    pub fn open_field(&self, tab: Tab, path: &'static str) {
        self.tab.set(tab);
        crate::effects::focus::field(path);
    }

    /// Brings everything into the sheet.
    pub fn fit(&self) {
        self.show_all();
        self.pan_zoom.set(PanZoom::default());
    }

    /// Where something that can be moved is.
    #[must_use]
    pub fn moved(&self, moving: Moving) -> f64 {
        match moving {
            Moving::Travel => self.state.with(|state| state.travel),
            Moving::Rack => self.state.with(|state| state.rack),
            Moving::Roll => self.wheels().roll.get(),
        }
    }

    /// Moves it, mm or °.
    pub fn move_to(&self, moving: Moving, value: f64) {
        match moving {
            Moving::Travel => self.state.update(|state| state.travel = value),
            Moving::Rack => self.state.update(|state| state.rack = value),
            Moving::Roll => {
                // Upright the body may stay with the right one in sight.
                if value != 0.0 {
                    self.show_left();
                }
                self.wheels().roll.set(value);
            }
        }
    }

    /// Shows both wheels, or the left one alone.
    pub fn show_both(&self, both: bool) {
        self.show_left();
        if self.selected_side.get_untracked() == Side::Right {
            self.selected.set(None);
        }
        self.wheels().both.set(both);
        self.fit();
    }

    /// Shows both axles, or one alone.
    pub fn show_axles(&self, both: bool) {
        self.axles().both.set(both);
        self.fit();
    }

    /// Puts a step in the present one's place. Another setup's number exchanges it with the
    /// reference, where it is that; else the one that is left goes to the recent setups.
    fn put(&self, present: Step, next: Step, fit: bool) {
        let Step { document, number } = next;
        let another = number != present.number;
        let axle = self.axle.get_untracked();
        let had = present.document.corner(axle).is_some();
        let touched = self.selected.get_untracked();
        let is_anothers = touched.is_some_and(|path| {
            let sides = [self.side.get_untracked(), self.selected_side.get_untracked()];
            sides::is_anothers([&present.document, &document], axle, sides.contains(&Side::Right), path)
        });
        if another {
            let is_reference =
                self.reference.kept.with_untracked(|kept| kept.as_ref().is_some_and(|k| k.number == number));
            if is_reference {
                let Step { document, number } = present;
                self.reference.kept.set(Some(Arc::new(Kept { document, number })));
            } else {
                self.recent.exchange(self, &present.document, present.number, number);
                // Said of another setup.
                set_changed(self.trust().beside, None);
            }
            self.number.set_value(number);
        }
        self.only_layout.set_value(None);
        // An axle that was not described before stays the one that is looked at: it is described next.
        let other = other_axle::other(axle);
        let gone = (had || another) && document.corner(axle).is_none() && document.corner(other).is_some();
        if gone {
            self.rest();
            self.axle.set(other);
        }
        if document.right_corner(self.axle.get_untracked()).is_none() {
            set_changed(self.side, Side::Left);
        }
        self.document.set(document);
        if fit || another || gone || is_anothers {
            self.selected.set(None);
        }
        if fit || another || gone {
            self.fit();
        }
    }
}
