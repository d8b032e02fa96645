//! The reference: a second setup kept beside the one in hand, to compare with.
//!
//! It is no part of the document nor of its history; it is shown at the same travel and
//! rack. Everything derived from it is a memo that computes nothing while there is no
//! reference, or while nobody looks.

use std::sync::Arc;

use geometry_core::{
    axle::{WheelPair, as_left},
    linkage::Linkage,
    readings::Quantity,
    setup::{Axle, Corner, Document, Side},
    solve::State,
};
use leptos::prelude::*;

use super::{BothSolved, Session, Solved, Wheels, axle, sides, solve};
use crate::{
    describe::{self, beside::Difference},
    scene::Placed,
    session::recent::SetupNumber,
};

/// A setup kept as reference.
#[derive(Debug, Clone, PartialEq)]
pub struct Kept {
    /// The setup.
    pub document: Document,
    /// Which setup it is: an exchange hands it over.
    pub number: SetupNumber,
}

/// Handles to the reference and what is derived from it.
#[derive(Clone, Copy)]
pub struct Reference {
    /// The setup itself; none while nothing is compared.
    pub kept: RwSignal<Option<Arc<Kept>>>,
    /// Its corner of the axle and the side shown, as a left one.
    pub corner: Memo<Option<Corner>>,
    /// That corner in the position of the one in hand.
    pub solved: Memo<Option<Arc<Solved>>>,
    /// Where its points are.
    pub placed: Memo<Option<Placed>>,
    /// Its right corner in its mirror image where both wheels are shown, and where its points are.
    pub right: Memo<Option<Arc<(Corner, Placed)>>>,
    /// Both its wheels where the ones in hand are asked to stand; nothing is solved before it is asked for.
    pub both: Memo<Option<Arc<BothSolved>>>,
    /// Why there is nothing to compare on this axle or in this position, as a sentence.
    pub trouble: Memo<Option<String>>,
}

impl Reference {
    pub(super) fn new(
        axle: RwSignal<Axle>,
        side: RwSignal<Side>,
        state: Memo<State>,
        wheels: Wheels,
    ) -> Self {
        let kept = RwSignal::new(None::<Arc<Kept>>);
        // The corner of the side shown, as the present one is: of a mirrored car either is as good.
        let corner = Memo::new(move |_| {
            let (axle, side) = (axle.get(), side.get());
            kept.with(|kept| sides::corner(&kept.as_ref()?.document, axle, side))
        });
        let vehicle = Memo::new(move |_| {
            kept.with(|kept| kept.as_ref().map(|kept| kept.document.vehicle.clone())).unwrap_or_default()
        });
        let linkage = Memo::new(move |_| {
            let name = axle.get().name();
            corner.with(|corner| {
                let corner = corner.as_ref()?;
                let linkage = Linkage::new(corner, Side::Left);
                Some(linkage.map(Arc::new).map_err(|error| describe::fault(corner, name, error)))
            })
        });
        let solved = Memo::new(move |_| {
            let (axle, asked) = (axle.get(), state.get());
            let linkage = linkage.get()?.ok()?;
            vehicle.with(|vehicle| Some(Arc::new(solve(&linkage, vehicle, axle, asked))))
        });
        let placed = Memo::new(move |_| {
            let solved = solved.get();
            let solved = solved.as_deref().map(|s| (&s.linkage, &s.position));
            corner.with(|corner| corner.as_ref().map(|corner| Placed::new(corner, solved)))
        });
        // As the present right wheel stands, whatever its own would do under the body.
        let right_state = Memo::new(move |_| {
            let of_right = |both: &BothSolved| both.position.wheel(Side::Right).state();
            if wheels.both.get() { wheels.solved.with(|both| both.as_deref().map(of_right)) } else { None }
        });
        let right = Memo::new(move |_| {
            let (asked, axle) = (right_state.get()?, axle.get());
            let left = corner.get()?;
            let described = kept.with(|kept| kept.as_ref()?.document.right_corner(axle).cloned());
            let right = described.map_or_else(|| left.clone(), |right| as_left(&left, &right));
            let linkage = Linkage::new(&right, Side::Left).ok()?;
            let solved = vehicle.with(|vehicle| solve(&linkage, vehicle, axle, asked));
            let placed = Placed::new(&right, Some((&linkage, &solved.position)));
            Some(Arc::new((right, placed)))
        });
        let pair = Memo::new(move |_| {
            let axle = axle.get();
            let of = |kept: &Kept| WheelPair::of(&kept.document, axle).ok().flatten();
            kept.with(|kept| kept.as_deref().and_then(of)).map(Arc::new)
        });
        let both = Memo::new(move |_| {
            let pair = pair.get()?;
            let solved =
                vehicle.with(|vehicle| axle::solve(&pair, vehicle, wheels.asked.get(), wheels.lean.get()))?;
            // One that stands elsewhere is no comparison.
            solved.stopped.is_none().then(|| Arc::new(solved))
        });
        let trouble = Memo::new(move |_| {
            if kept.with(Option::is_none) {
                return None;
            }
            match linkage.get() {
                None => Some(describe::beside::no_corner(axle.get())),
                Some(Err(error)) => Some(describe::beside::cannot_be_drawn(&error)),
                Some(Ok(_)) => solved.with(|solved| {
                    let stopped = solved.as_ref()?.stopped.as_deref()?;
                    Some(describe::beside::stopped(stopped))
                }),
            }
        });
        Self { kept, corner, solved, placed, right, both, trouble }
    }

    /// The reference's title; none without a reference.
    #[must_use]
    pub fn title(&self) -> Option<String> {
        self.kept.with(|kept| kept.as_ref().map(|kept| describe::setup::title(&kept.document)))
    }
}

impl Session {
    /// Keeps the present document as the reference; what was the reference goes to the
    /// recent setups.
    pub fn keep_as_reference(&self) {
        self.set_reference(self.document.get_untracked());
    }

    /// Makes a setup the reference; what was the reference goes to the recent setups.
    pub fn set_reference(&self, document: Document) {
        self.trust().beside.set(None);
        self.restore_reference(document);
    }

    /// The same of the one that was the reference when the page was left: what was said of it holds.
    pub fn restore_reference(&self, document: Document) {
        self.leave_reference();
        let number = self.recent.new_number();
        self.reference.kept.set(Some(Arc::new(Kept { document, number })));
        self.show_reference();
    }

    /// Takes the reference away; it goes to the recent setups.
    pub fn drop_reference(&self) {
        self.notice.set(None);
        self.leave_reference();
        let title = self.reference.kept.with_untracked(|kept| {
            let kept = kept.as_ref()?;
            let lost = self.document.with_untracked(|document| *document != kept.document);
            lost.then(|| describe::setup::title(&kept.document))
        });
        self.reference.kept.set(None);
        if let Some(title) = title
            && self.notice.with_untracked(Option::is_none)
        {
            self.tell(format!("{title} is no longer the reference; it is under Recent."));
        }
    }

    fn leave_reference(&self) {
        if let Some(kept) = self.reference.kept.get_untracked()
            && kept.document != self.document.get_untracked()
        {
            self.recent.leave(self, kept.number, &kept.document);
        }
    }

    /// Exchanges the present document with the reference: one step, which undo takes back.
    pub fn swap_with_reference(&self) {
        let Some(kept) = self.reference.kept.get_untracked() else { return };
        match self.replace(kept.document.clone(), kept.number) {
            Ok(true) => self.notice.set(None),
            Ok(false) => self.tell("The setup and its reference are the same.".into()),
            Err(error) => self.complain(error.to_string()),
        }
    }

    /// How a reading differs from the reference's; nothing to say without a reference, or
    /// where [`Reference::trouble`] says it for all readings.
    #[must_use]
    pub fn difference(&self, quantity: Quantity) -> Option<Difference> {
        if self.reference.trouble.with(Option::is_some) {
            return None;
        }
        let reference = self.reference.solved.get()?;
        self.solved.with(|solved| {
            let solved = solved.as_ref()?;
            // One that stands elsewhere is no comparison; the message line says why it stopped.
            solved
                .stopped
                .is_none()
                .then(|| Difference::between(quantity, &solved.readings, &reference.readings))
        })
    }
}
