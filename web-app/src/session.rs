//! The document, its history, and everything derived from it.
//!
//! One signal holds the document; only [`Session::edit`], undo and redo write it. Memos
//! derive the linkage, the position and the readings; nothing derived is stored. This is
//! the only module of the page that calls the core's solver.

mod sides;

use std::sync::Arc;

use geometry_core::{
    Vec3,
    construction::{Construction, Scheme},
    linkage::Linkage,
    motion::Sweep,
    readings::{Quantity, Reader, Readings},
    setup::{self, Axle, Corner, Document, Side},
    solve::{Follower, Outcome, Position, State},
};
use leptos::prelude::*;

use crate::{
    describe::{self, finding::Found},
    edit::{Edit, EditError, PointPath},
    history::{Gesture, History},
    lengths::Convention,
    scene::Placed,
    view::{Frame, PanZoom},
};

/// mm: the ends of the curves, and of the travel slider where the setup names no stop.
pub const TRAVEL_SHOWN: f64 = 100.0;
/// mm: the ends of the rack slider where the setup names no lock.
pub const RACK_SHOWN: f64 = 60.0;
/// Positions of a curve, both ends included: one every 2 mm.
pub const CURVE_POSITIONS: usize = 101;

/// A solved corner: what the drawing and the tables show.
#[derive(Debug, Clone, PartialEq)]
pub struct Solved {
    /// The linkage.
    pub linkage: Linkage,
    /// The position reached.
    pub position: Position,
    /// What is read off it.
    pub readings: Readings,
    /// Why it is not the position asked for, when it is not.
    pub stopped: Option<String>,
}

/// The readings along the travel, as far as the linkage goes.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Curves {
    /// Travel and readings, in order of travel.
    pub points: Vec<(f64, Readings)>,
}

impl Curves {
    /// One quantity along the travel.
    #[must_use]
    pub fn of(&self, quantity: Quantity) -> Vec<(f64, f64)> {
        self.points.iter().filter_map(|(travel, r)| Some((*travel, quantity.value(r)?))).collect()
    }
}

/// Something to tell the user that belongs to no field.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Notice {
    /// The sentence.
    pub text: String,
    /// Whether something went wrong.
    pub wrong: bool,
}

/// Handles to all state of the page; copied freely.
#[derive(Clone, Copy)]
pub struct Session {
    document: RwSignal<Document>,
    history: RwSignal<History<Document>>,
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
    pub convention: RwSignal<Convention>,
    /// The point touched last.
    pub selected: RwSignal<Option<PointPath>>,
    /// The reading whose construction is drawn; no part of the document.
    pub chosen: RwSignal<Option<Quantity>>,
    /// Its construction in the position shown.
    pub found: Memo<Option<Arc<Found>>>,
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
    /// The readings along the travel.
    pub curves: Memo<Arc<Curves>>,
    /// What the sheet shows: chosen anew for another axle or setup, not while one is edited.
    pub frame: RwSignal<Frame>,
    gestures: StoredValue<u64>,
}

impl Session {
    /// A session on a document that has passed its check.
    #[must_use]
    pub fn new(document: Document) -> Self {
        let axle = RwSignal::new(if document.front.is_some() { Axle::Front } else { Axle::Rear });
        let side = RwSignal::new(Side::Left);
        let frame = RwSignal::new(frame_of(&document, axle.get_untracked(), Side::Left));
        let document = RwSignal::new(document);
        let state = RwSignal::new(State::DESIGN);
        let corner = Memo::new(move |_| document.with(|d| sides::corner(d, axle.get(), side.get())));
        let mirrored = Memo::new(move |_| document.with(|d| sides::mirrored(d, axle.get(), side.get())));
        let vehicle = Memo::new(move |_| document.with(|d| d.vehicle.clone()));
        let linkage = Memo::new(move |_| {
            let name = match side.get() {
                Side::Left => axle.get().name(),
                Side::Right => axle.get().right_name(),
            };
            corner.with(|corner| match corner {
                Some(corner) => Linkage::new(corner, Side::Left)
                    .map(Arc::new)
                    .map_err(|error| error.within(name).to_string()),
                None => Err(format!("{name} is not described in this setup")),
            })
        });
        let solved = Memo::new(move |_| {
            let (axle, asked) = (axle.get(), state.get());
            let linkage = linkage.get().ok()?;
            vehicle.with(|vehicle| Some(Arc::new(solve(&linkage, vehicle, axle, asked))))
        });
        let placed = Memo::new(move |_| {
            let solved = solved.get();
            let solved = solved.as_deref().map(|s| (&s.linkage, &s.position));
            corner.with(|corner| corner.as_ref().map(|corner| Placed::new(corner, solved)))
        });
        let curves = Memo::new(move |_| {
            let (axle, rack) = (axle.get(), state.with(|state| state.rack));
            let Ok(linkage) = linkage.get() else { return Arc::default() };
            vehicle.with(|vehicle| Arc::new(sweep(&linkage, vehicle, axle, rack)))
        });
        let chosen = RwSignal::new(None);
        let found = Memo::new(move |_| {
            let (quantity, solved) = (chosen.get()?, solved.get()?);
            let Solved { linkage, position, readings, .. } = &*solved;
            corner.with(|corner| {
                let corner = corner.as_ref()?;
                let construction = Construction::of(quantity, corner, linkage, position, readings);
                let in_order = Scheme::of(corner, linkage, position).is_some();
                Some(Arc::new(Found { construction, in_order }))
            })
        });
        Self {
            document,
            history: RwSignal::new(History::new()),
            axle,
            side,
            mirrored,
            state,
            convention: RwSignal::new(Convention::default()),
            selected: RwSignal::new(None),
            chosen,
            found,
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

    /// Makes a change. A refused edit leaves all as it was.
    ///
    /// # Errors
    /// Why the edit was refused.
    pub fn edit(&self, edit: &Edit, gesture: Option<Gesture>) -> Result<(), EditError> {
        let before = self.document.get_untracked();
        let after = self.of_side(edit).apply(&before)?;
        if after == before {
            return Ok(());
        }
        let now = crate::effects::clock::milliseconds();
        self.history.update(|history| history.record(&before, &after, gesture, now));
        self.put(after, matches!(edit, Edit::ReplaceDocument(_) | Edit::ReplaceCorner { .. }));
        Ok(())
    }

    /// Makes a change and says in the message line why it was refused.
    pub fn try_edit(&self, edit: &Edit, gesture: Option<Gesture>) {
        match self.edit(edit, gesture) {
            Ok(()) => self.notice.set(None),
            Err(error) => self.complain(error.to_string()),
        }
    }

    /// Says that something went wrong.
    pub fn complain(&self, text: String) {
        self.notice.set(Some(Notice { text, wrong: true }));
    }

    /// Says something.
    pub fn tell(&self, text: String) {
        self.notice.set(Some(Notice { text, wrong: false }));
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
        let present = self.document.get_untracked();
        if let Some(before) = self.history.try_update(|history| history.undo(&present)).flatten() {
            self.put(before, false);
        }
    }

    /// Makes it again.
    pub fn redo(&self) {
        let present = self.document.get_untracked();
        if let Some(after) = self.history.try_update(|history| history.redo(&present)).flatten() {
            self.put(after, false);
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
        self.selected.set(None);
        self.state.set(State::DESIGN);
        if self.document.with_untracked(|document| document.right_corner(axle).is_none()) {
            self.side.set(Side::Left);
        }
        self.axle.set(axle);
        self.fit();
    }

    /// Lowest and highest travel of the corner shown, mm: its stops, where they are named.
    #[must_use]
    pub fn travel_ends(&self) -> (f64, f64) {
        self.corner.with(|corner| {
            let (rebound, bump) = corner.as_ref().map_or((None, None), |c| (c.rebound_travel, c.bump_travel));
            (-rebound.unwrap_or(TRAVEL_SHOWN), bump.unwrap_or(TRAVEL_SHOWN))
        })
    }

    /// The same of the rack: its locks.
    #[must_use]
    pub fn rack_ends(&self) -> (f64, f64) {
        let lock = self.corner.with(|corner| corner.as_ref()?.rack_travel).unwrap_or(RACK_SHOWN);
        (-lock, lock)
    }

    /// Draws how a reading is found; chosen again, no longer.
    pub fn choose(&self, quantity: Quantity) {
        self.chosen.update(|chosen| *chosen = (*chosen != Some(quantity)).then_some(quantity));
    }

    /// Brings everything into the sheet.
    pub fn fit(&self) {
        let axle = self.axle.get_untracked();
        let side = self.side.get_untracked();
        self.frame.set(self.document.with_untracked(|document| frame_of(document, axle, side)));
        self.pan_zoom.set(PanZoom::default());
    }

    fn put(&self, document: Document, fit: bool) {
        let axle = self.axle.get_untracked();
        if document.corner(axle).is_none() {
            let other = if axle == Axle::Front { Axle::Rear } else { Axle::Front };
            self.axle.set(other);
        }
        if document.right_corner(self.axle.get_untracked()).is_none() {
            self.side.set(Side::Left);
        }
        self.document.set(document);
        if fit {
            self.selected.set(None);
            self.fit();
        }
    }
}

/// The frame of an axle's corner; where there is none, of a wheel alone.
fn frame_of(document: &Document, axle: Axle, side: Side) -> Frame {
    let Some(corner) = sides::corner(document, axle, side) else {
        return Frame::around([], &Vec3::new(0.0, 780.0, 310.0), 310.0);
    };
    let points = corner.points().into_iter().map(|(_, point)| Vec3::from(point));
    Frame::around(points, &corner.wheel.centre.into(), corner.wheel.loaded_radius)
}

fn solve(linkage: &Linkage, vehicle: &setup::Vehicle, axle: Axle, asked: State) -> Solved {
    let mut follower = Follower::new(linkage);
    let outcome = follower.go_to(asked);
    let position = *follower.position();
    let stopped = match &outcome {
        Outcome::Solved(_) => None,
        ended => Some(describe::why_stopped(ended)),
    };
    let readings = Reader::new(linkage, vehicle, axle).read(&position);
    Solved { linkage: linkage.clone(), position, readings, stopped }
}

fn sweep(linkage: &Linkage, vehicle: &setup::Vehicle, axle: Axle, rack: f64) -> Curves {
    let reader = Reader::new(linkage, vehicle, axle);
    let sweep = Sweep {
        from: State { travel: -TRAVEL_SHOWN, rack },
        to: State { travel: TRAVEL_SHOWN, rack },
        positions: CURVE_POSITIONS,
    };
    let mut points = Vec::with_capacity(CURVE_POSITIONS);
    sweep.run(linkage, |_, position| points.push((position.state().travel, reader.read(position))));
    points.sort_by(|a, b| a.0.total_cmp(&b.0));
    Curves { points }
}
