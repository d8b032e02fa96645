//! What the sheet has to hold: the corner shown, with the right wheel and the other axle where they are shown.

use geometry_core::{
    Vec3,
    setup::{Axle, Corner, Document, Side},
};

use super::{
    other_axle::{self, other},
    sides,
};
use crate::view::Frame;

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
