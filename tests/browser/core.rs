//! What the page has to show, computed here by the same core.

use std::collections::BTreeMap;
use std::fmt::Write;

use geometry_core::linkage::Linkage;
use geometry_core::readings::{Quantity, Reader};
use geometry_core::setup::{Axle, Corner, Document, Side};
use geometry_core::solve::{Follower, Outcome, State};
use web_app::describe;

/// What the page shows of a corner at one position.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Shown {
    /// The bits of every reading that exists, by name.
    pub(crate) readings: BTreeMap<String, Option<u64>>,
    /// Why the corner cannot be read.
    pub(crate) wrong: Option<String>,
    /// Why it is not at the position asked for.
    pub(crate) stopped: Option<String>,
}

impl Shown {
    /// A corner as it stands.
    pub(crate) fn of(document: &Document, axle: Axle) -> Self {
        Self::at(document, axle, 0.0, 0.0)
    }

    /// A corner at a wheel travel and a rack displacement, mm, or at the last position on the way there.
    pub(crate) fn at(document: &Document, axle: Axle, travel: f64, rack: f64) -> Self {
        let corner = document.corner(axle).expect("a corner");
        let linkage = match Linkage::new(corner, Side::Left) {
            Ok(linkage) => linkage,
            Err(error) => {
                let readings = Quantity::ALL.map(|quantity| (quantity.name().to_owned(), None)).into();
                return Self {
                    readings,
                    wrong: Some(describe::fault(corner, axle.name(), error)),
                    stopped: None,
                };
            }
        };
        let mut follower = Follower::new(&linkage);
        let stopped = match follower.go_to(State { travel, rack }) {
            Outcome::Solved(_) => None,
            ended => Some(describe::why_stopped(&ended)),
        };
        let found = Reader::new(&linkage, &document.vehicle, axle).read(follower.position());
        let bits = |quantity: Quantity| quantity.value(&found).map(f64::to_bits);
        let readings = Quantity::ALL.map(|quantity| (quantity.name().to_owned(), bits(quantity))).into();
        Self { readings, wrong: None, stopped }
    }

    /// One reading.
    pub(crate) fn reading(&self, quantity: Quantity) -> Option<f64> {
        self.readings.get(quantity.name()).copied().flatten().map(f64::from_bits)
    }

    /// What is other than expected, for a person to read.
    pub(crate) fn differences(&self, expected: &Self) -> String {
        let mut text = String::new();
        let names = self.readings.keys().chain(expected.readings.keys());
        let names: std::collections::BTreeSet<_> = names.collect();
        for name in names {
            let of = |shown: &Self| shown.readings.get(name).copied().flatten().map(f64::from_bits);
            let (page, core) = (of(self), of(expected));
            if page.map(f64::to_bits) != core.map(f64::to_bits) {
                let _ = writeln!(text, "{name}: page {page:?}, core {core:?}");
            }
        }
        for (kind, page, core) in
            [("corner", &self.wrong, &expected.wrong), ("reach", &self.stopped, &expected.stopped)]
        {
            if page != core {
                let _ = writeln!(text, "{kind} message: page {page:?}, core {core:?}");
            }
        }
        text
    }
}

/// The example with a change in its front corner.
pub(crate) fn front_changed(change: impl FnOnce(&mut Corner)) -> Document {
    let mut document = geometry_core::setup::example();
    change(document.front.as_mut().expect("the example has a front corner"));
    document
}
