//! What the sheet has to hold: the corner shown, as it is described and as it stands when that is asked, with the
//! right wheel, the other axle and the reference where they are shown.

use std::sync::Arc;

use geometry_core::{
    Vec3,
    setup::{Axle, Corner, Document, Side},
};

use leptos::prelude::*;

use super::{
    Session,
    other_axle::{self, other},
    set_changed, sides,
};
use crate::{
    scene::{self, Placed},
    view::{Frame, Stance},
};

/// Which corners are shown.
#[derive(Debug, Clone, Copy)]
pub(super) struct Corners {
    pub(super) axle: Axle,
    pub(super) side: Side,
    /// Whether the right wheel is shown as well.
    pub(super) wheels: bool,
    /// Whether the other axle is.
    pub(super) axles: bool,
}

impl Default for Corners {
    fn default() -> Self {
        Self { axle: Axle::Front, side: Side::Left, wheels: false, axles: false }
    }
}

/// The frame of what is shown; where there is no corner, of a wheel alone.
pub(super) fn frame_of(document: &Document, shown: Corners) -> Frame {
    let Corners { axle, side, wheels, axles } = shown;
    let Some(corner) = &sides::corner(document, axle, side) else {
        return Frame::around([], &Vec3::new(0.0, 780.0, 310.0), 310.0);
    };
    let points = |corner: &Corner| corner.points().into_iter().map(|(_, point)| Vec3::from(point));
    let (left, wheel) = (points(corner), &corner.wheel);
    let frame = if wheels {
        let right = document.right_corner(axle).map(Corner::mirrored);
        let right = right.iter().flat_map(points);
        Frame::around(left.chain(right), &wheel.centre.into(), wheel.loaded_radius).with_mirror_image()
    } else {
        Frame::around(left, &wheel.centre.into(), wheel.loaded_radius)
    };
    let other_axle = other(axle);
    let Some(other) = sides::corner(document, other_axle, side).filter(|_| axles) else { return frame };
    let shown_wheel = (wheel.centre[0], wheel.loaded_radius);
    let ahead = other_axle::ahead(axle, shown_wheel, other.wheel.centre[0], document.vehicle.wheelbase);
    let Some(ahead) = ahead else { return frame };
    let alone = Corners { axle: other_axle, axles: false, ..shown };
    frame.and(&frame_of(document, alone).moved_ahead(ahead)).with_more_room()
}

/// The frame with a corner in it as it stands now: travelled, steered, under a body that leans. A right one is given
/// by its mirror image.
fn with_placed(frame: Frame, corner: &Corner, placed: &Placed, stance: &Stance, side: Side) -> Frame {
    let points = placed.points().iter().map(|(_, point)| *point);
    let wheel = scene::wheel_bounds(corner, placed).into_iter().flatten();
    let of_side = |point: Vec3| match side {
        Side::Left => point,
        Side::Right => Vec3::new(point.x, -point.y, point.z),
    };
    frame.with_points(points.chain(wheel).map(|point| stance.place(&of_side(point))))
}

impl Session {
    /// Has the frame hold what is shown, as it is described and as it stands; pan and zoom stay.
    pub(super) fn show_all(&self) {
        self.frame.set(untrack(|| self.frame_of_all()));
    }

    /// The frame of what is shown, as it is described and as it stands.
    pub(crate) fn frame_of_all(&self) -> Frame {
        let corners = self.corners_shown();
        let frame = self.document.with(|document| frame_of(document, corners));
        let frame = self.frame_of_reference(corners).map_or(frame, |reference| frame.and(&reference));
        self.with_what_stands(frame)
    }

    /// Has the frame hold the reference as well, as it is described: what is looked at stays where it is unless that
    /// has no room. An exchange with it leaves the frame as it is.
    pub(super) fn show_reference(&self) {
        let frame = self.frame.get_untracked();
        if let Some(reference) = self.frame_of_reference(self.corners_shown()) {
            set_changed(self.frame, frame.and(&reference));
        }
    }

    fn corners_shown(&self) -> Corners {
        Corners {
            axle: self.axle.get_untracked(),
            side: self.side.get_untracked(),
            wheels: self.wheels().both.get_untracked(),
            axles: self.axles().both.get_untracked(),
        }
    }

    fn frame_of_reference(&self, corners: Corners) -> Option<Frame> {
        self.reference.kept.with_untracked(|kept| {
            let document = &kept.as_ref()?.document;
            document.corner(corners.axle).map(|_| frame_of(document, corners))
        })
    }

    fn with_what_stands(&self, frame: Frame) -> Frame {
        let stance = self.wheels().stance.get();
        let left = |frame: Frame, corner: Memo<Option<Corner>>, placed: Memo<Option<Placed>>| {
            let held = corner.with(|corner| {
                placed.with(|placed| {
                    Some(with_placed(frame, corner.as_ref()?, placed.as_ref()?, &stance, Side::Left))
                })
            });
            held.unwrap_or(frame)
        };
        let right = |frame: Frame, right: Option<Arc<(Corner, Placed)>>| {
            right.map_or(frame, |right| with_placed(frame, &right.0, &right.1, &stance, Side::Right))
        };
        let frame = right(left(frame, self.corner, self.placed), self.wheels().right.get());
        right(left(frame, self.reference.corner, self.reference.placed), self.reference.right.get())
    }
}
