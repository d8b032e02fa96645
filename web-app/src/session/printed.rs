//! What a printed sheet needs beyond what is on the screen: computed when it is printed.

use geometry_core::{
    linkage::Linkage,
    motion::Sweep,
    readings::{Reader, Readings},
    setup::{Axle, Vehicle},
    solve::State,
};
use leptos::prelude::*;

use super::{Session, TRAVEL_SHOWN};

/// Positions of a printed curve, both ends included: one every 4 mm.
const POSITIONS: usize = 51;

/// Travel and readings there, in order of travel.
pub type Along = Vec<(f64, Readings)>;

impl Session {
    /// The readings along the travel of the corner shown and of the reference's, the rack where
    /// it is; empty where there is no linkage.
    #[must_use]
    pub fn along_travel(&self) -> (Along, Along) {
        let (axle, rack) = (self.axle.get_untracked(), self.state.get_untracked().rack);
        let present = self.linkage.get_untracked().ok().map(|linkage| {
            self.document().with_untracked(|document| along(&linkage, &document.vehicle, axle, rack))
        });
        let reference = self.reference.solved.get_untracked().and_then(|solved| {
            let kept = self.reference.kept.get_untracked()?;
            Some(along(&solved.linkage, &kept.document.vehicle, axle, rack))
        });
        (present.unwrap_or_default(), reference.unwrap_or_default())
    }
}

fn along(linkage: &Linkage, vehicle: &Vehicle, axle: Axle, rack: f64) -> Along {
    let reader = Reader::new(linkage, vehicle, axle);
    let sweep = Sweep {
        from: State { travel: -TRAVEL_SHOWN, rack },
        to: State { travel: TRAVEL_SHOWN, rack },
        positions: POSITIONS,
    };
    let mut points = Vec::with_capacity(POSITIONS);
    sweep.run(linkage, |_, position| points.push((position.state().travel, reader.read(position))));
    points.sort_by(|a, b| a.0.total_cmp(&b.0));
    points
}
