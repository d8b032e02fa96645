//! Which side's corner is shown. A right corner that is described separately is shown, led
//! and edited as its mirror image, a left corner: outboard stays on one side of every view,
//! and every sign that is said as outward, inward, up or forward stays what it is.

use std::{borrow::Cow, sync::Arc};

use geometry_core::setup::{Axle, Corner, Document, RACK_DIRECTION, Side};
use leptos::prelude::*;

use super::{Moving, Session};
use crate::edit::{Edit, PointPath, mirror_image};

/// The corner shown, as a left one.
pub(super) fn corner(document: &Document, axle: Axle, side: Side) -> Option<Corner> {
    match (side, document.right_corner(axle)) {
        (Side::Right, Some(right)) => Some(mirror_image(right)),
        // The left one's mirror image, seen in the mirror again: as the left one, but for the rack, which moves both
        // wheels the same way across the car.
        (Side::Right, None) => document.corner(axle).map(|left| {
            let direction = left.rack_direction.unwrap_or(RACK_DIRECTION);
            Corner { rack_direction: Some(direction.map(|part| 0.0 - part)), ..left.clone() }
        }),
        (Side::Left, _) => document.corner(axle).cloned(),
    }
}

/// Whether a point's place in the list of members is another member's after a change than before: they are counted,
/// and one before it has come or gone. Asked at every move of a drag: nothing is copied.
pub(super) fn is_anothers(
    [before, after]: [&Document; 2],
    axle: Axle,
    of_right: bool,
    path: PointPath,
) -> bool {
    let corner = |document| counted_corner(document, axle, of_right);
    let Some((before, after)) = corner(before).zip(corner(after)) else { return false };
    let count = |corner: &Corner| corner.arms.len() + corner.links.len();
    // A member that is given another name is the same.
    count(before) != count(after) && member_of(before, path) != member_of(after, path)
}

fn counted_corner(document: &Document, axle: Axle, of_right: bool) -> Option<&Corner> {
    let right = document.right_corner(axle).filter(|_| of_right);
    right.or_else(|| document.corner(axle))
}

/// The name of the member that a point is of, where members of its kind are counted.
fn member_of(corner: &Corner, path: PointPath) -> Option<&str> {
    match path {
        PointPath::ArmFrontPivot(i) | PointPath::ArmRearPivot(i) | PointPath::ArmBallJoint(i) => {
            corner.arms.get(i).map(|arm| &*arm.id)
        }
        PointPath::LinkInboard(i) | PointPath::LinkOutboard(i) => corner.links.get(i).map(|link| &*link.id),
        _ => None,
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

/// The document with the corners of a side in the left ones' places.
pub(super) fn of_side(document: &Document, side: Side) -> Cow<'_, Document> {
    if side == Side::Left {
        return Cow::Borrowed(document);
    }
    let mut copy = document.clone();
    for axle in [Axle::Front, Axle::Rear] {
        if let (Some(place), Some(image)) = (copy.corner_mut(axle), corner(document, axle, side)) {
            *place = image;
        }
    }
    Cow::Owned(copy)
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
            // It would bring the left one back.
            self.range().stop(Moving::Roll);
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
