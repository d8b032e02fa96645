//! A corner, solved where the sliders ask for it.

use std::sync::Arc;

use geometry_core::{
    construction::{Construction, Scheme},
    linkage::Linkage,
    readings::{Quantity, Reader, Readings},
    setup::{Axle, Corner, Side, Vehicle},
    solve::{Follower, Outcome, Position, State},
};

use crate::describe::{self, finding::Found};

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

/// How a reading of a corner is found.
pub(super) fn construction_of(quantity: Quantity, corner: &Corner, solved: &Solved) -> Found {
    let Solved { linkage, position, readings, .. } = solved;
    let construction = Construction::of(quantity, corner, linkage, position, readings);
    Found { construction, in_order: Scheme::of(corner, linkage, position).is_some() }
}

/// The linkage of the corner shown, or a sentence that says why there is none.
pub(super) fn linkage_of(corner: Option<&Corner>, axle: Axle, side: Side) -> Result<Arc<Linkage>, String> {
    let name = match side {
        Side::Left => axle.name(),
        Side::Right => axle.right_name(),
    };
    let corner = corner.ok_or_else(|| format!("{name} is not described in this setup"))?;
    Linkage::new(corner, Side::Left).map(Arc::new).map_err(|error| describe::fault(corner, name, error))
}

/// The corner in the state asked for, or as near to it as it comes.
pub(super) fn solve(linkage: &Linkage, vehicle: &Vehicle, axle: Axle, asked: State) -> Solved {
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
