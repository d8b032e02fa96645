//! Which side's corner is shown. A right corner that is described separately is shown, led
//! and edited as its mirror image, a left corner: outboard stays on one side of every view,
//! and every sign that is said as outward, inward, up or forward stays what it is.

use std::{borrow::Cow, sync::Arc};

use geometry_core::setup::{Axle, Corner, Document, Side};
use leptos::prelude::*;

use super::Session;
use crate::edit::{Edit, mirror_image};

/// The corner shown, as a left one.
pub(super) fn corner(document: &Document, axle: Axle, side: Side) -> Option<Corner> {
    match (side, document.right_corner(axle)) {
        (Side::Right, Some(right)) => Some(mirror_image(right)),
        _ => document.corner(axle).cloned(),
    }
}

/// The document with the right corner's image in the left one's place; none where the left
/// one is shown.
pub(super) fn mirrored(document: &Document, axle: Axle, side: Side) -> Option<Arc<Document>> {
    let right = document.right_corner(axle).filter(|_| side == Side::Right)?;
    let image = mirror_image(right);
    let mut copy = document.clone();
    *copy.corner_mut(axle)? = image;
    Some(Arc::new(copy))
}

impl Session {
    /// Whether the right corner of the axle shown is described separately.
    #[must_use]
    pub fn has_right(&self) -> bool {
        self.document.with(|document| document.right_corner(self.axle.get()).is_some())
    }

    /// The same for an event, which follows nothing.
    #[must_use]
    pub fn has_right_now(&self) -> bool {
        let axle = self.axle.get_untracked();
        self.document.with_untracked(|document| document.right_corner(axle).is_some())
    }

    /// Reads the document as it is shown: with the right corner's image in the left one's
    /// place while the right one is shown.
    pub fn with_shown<T>(&self, read: impl FnOnce(&Document) -> T) -> T {
        self.mirrored.with(|mirrored| match mirrored {
            Some(mirrored) => read(mirrored),
            None => self.document.with(read),
        })
    }

    /// Shows the corner of a side, where there is one of its own.
    pub fn show_side(&self, side: Side) {
        if side == Side::Right && !self.has_right() {
            return;
        }
        if side == Side::Right {
            // Both wheels are shown from the left one's side.
            self.wheels().roll.set(0.0);
            self.wheels().both.set(false);
        }
        self.selected.set(None);
        self.side.set(side);
        self.fit();
    }

    /// Shows the left corner, if it is the right one that is shown.
    pub(super) fn show_left(&self) {
        if self.side.get_untracked() == Side::Right {
            self.show_side(Side::Left);
        }
    }

    /// Whether the right wheel does not stand as the left one that is shown, or is another one.
    pub(crate) fn right_is_unlike(&self) -> bool {
        let axle = self.axle.get();
        let described = self.document.with(|document| document.right_corner(axle).is_some());
        self.wheels().roll.get() != 0.0
            || self.state.with(|state| state.rack != 0.0)
            || (described && self.side.get() == Side::Left)
    }

    /// The edit as it is meant: of the corner that is shown.
    pub(super) fn of_side<'a>(&self, edit: &'a Edit) -> Cow<'a, Edit> {
        let axle = self.axle.get_untracked();
        if self.side.get_untracked() == Side::Right && edit.corner() == Some(axle) {
            Cow::Owned(Edit::OnRight { axle, edit: Box::new(edit.clone()) })
        } else {
            Cow::Borrowed(edit)
        }
    }
}
