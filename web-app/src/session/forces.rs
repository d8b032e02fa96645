//! The load case that is looked at and the forces it makes, computed only while they are
//! shown.

use std::sync::Arc;

use geometry_core::{
    Vec3,
    setup::{Axle, Corner, Side, Vehicle},
    statics::{Case, Given, Load, LoadAxes, LoadPoint, ReactedBy, Statics},
};
use leptos::prelude::*;

use super::{Session, Solved, Tab};
use crate::{
    describe::forces::{CaseKind, Found},
    scene::{
        Placed,
        forces::{self, Arrows},
    },
};

/// The most loads of one's own that act together.
pub const MOST_LOADS: usize = 6;

/// How many kinds of case there are.
const KINDS: usize = CaseKind::ALL.len();

/// What a load of one's own begins as.
pub const FRESH_LOAD: Load = Load {
    at: LoadPoint::Contact,
    force: [0.0, 0.0, 3000.0],
    axes: LoadAxes::Vehicle,
    reacted_by: ReactedBy::Knuckle,
};

/// Handles to the load case; copied freely.
#[derive(Clone, Copy)]
pub struct LoadCase {
    /// Which kind of case.
    pub kind: RwSignal<CaseKind>,
    /// The number of each kind that has one, in the order of [`CaseKind::ALL`]: g or times.
    pub numbers: RwSignal<[f64; KINDS]>,
    /// Loads of one's own.
    pub free: RwSignal<Vec<Load>>,
    /// Forces given beside the loads.
    pub given: RwSignal<Given>,
    /// Whether the forces stay on the sheet while another panel is open.
    pub kept: RwSignal<bool>,
    /// The case with its number or its loads.
    pub case: Memo<Case>,
    /// Forces and all that belongs to them, while they are shown; none without a linkage.
    pub found: Memo<Option<Arc<Found>>>,
    /// Their arrows.
    pub arrows: Memo<Option<Arc<Arrows>>>,
}

impl LoadCase {
    pub(super) fn new(
        tab: RwSignal<Tab>,
        axle: RwSignal<Axle>,
        side: RwSignal<Side>,
        corner: Memo<Option<Corner>>,
        vehicle: Memo<Vehicle>,
        solved: Memo<Option<Arc<Solved>>>,
        placed: Memo<Option<Placed>>,
    ) -> Self {
        let kind = RwSignal::new(CaseKind::Standing);
        let numbers = RwSignal::new(usual());
        let free = RwSignal::new(vec![FRESH_LOAD]);
        let given = RwSignal::new(Given::default());
        let kept = RwSignal::new(false);
        let case = Memo::new(move |_| {
            let kind = kind.get();
            let number = numbers.with(|numbers| number_of(numbers, kind));
            match kind {
                CaseKind::Standing => Case::Standing {},
                CaseKind::Cornering => Case::Cornering { g: number },
                CaseKind::FrictionBraking => Case::FrictionBraking { g: number },
                CaseKind::RegenerativeBraking => Case::RegenerativeBraking { g: number },
                CaseKind::BlendedBraking => Case::BlendedBraking { g: number },
                CaseKind::Driving => Case::Driving { g: number },
                CaseKind::Bump => Case::Bump { times: number },
                CaseKind::Free => Case::Free { loads: free.get() },
            }
        });
        let found = Memo::new(move |_| {
            if tab.get() != Tab::Forces && !kept.get() {
                return None;
            }
            let (solved, wheel) = (solved.get()?, (axle.get(), side.get()));
            corner.with(|corner| {
                let (corner, case, given) = (corner.as_ref()?, case.get(), given.get());
                Some(Arc::new(vehicle.with(|vehicle| find(corner, vehicle, wheel, &solved, case, &given))))
            })
        });
        let arrows = Memo::new(move |_| {
            let found = found.get()?;
            let forces = found.forces.as_ref().ok()?;
            let contact = solved.with(|solved| Some(Vec3::from(solved.as_ref()?.readings.contact)))?;
            corner.with(|corner| {
                placed.with(|placed| {
                    let (corner, placed) = corner.as_ref().zip(placed.as_ref())?;
                    Some(Arc::new(forces::arrows(corner, placed, &contact, &found.pushes, forces)))
                })
            })
        });
        Self { kind, numbers, free, given, kept, case, found, arrows }
    }

    /// The number of a kind of case.
    #[must_use]
    pub fn number(&self, kind: CaseKind) -> f64 {
        self.numbers.with(|numbers| number_of(numbers, kind))
    }

    /// Sets it.
    pub fn set_number(&self, kind: CaseKind, number: f64) {
        self.numbers.update(|numbers| {
            for (known, value) in CaseKind::ALL.into_iter().zip(numbers) {
                if known == kind {
                    *value = number;
                }
            }
        });
    }
}

impl Session {
    /// The forces in the reference under the same load case; none without a reference, or where one of the two
    /// stands elsewhere than it is asked to.
    #[must_use]
    pub fn forces_of_reference(&self) -> Option<Found> {
        if self.reference.trouble.with(Option::is_some) {
            return None;
        }
        if self.solved.with(|solved| solved.as_ref().is_none_or(|solved| solved.stopped.is_some())) {
            return None;
        }
        let (solved, kept) = (self.reference.solved.get()?, self.reference.kept.get()?);
        let (case, given) = (self.load().case.get(), self.load().given.get());
        self.reference.corner.with(|corner| {
            let wheel = (self.axle.get(), self.side.get());
            Some(find(corner.as_ref()?, &kept.document.vehicle, wheel, &solved, case, &given))
        })
    }
}

fn number_of(numbers: &[f64; KINDS], kind: CaseKind) -> f64 {
    CaseKind::ALL.into_iter().zip(numbers).find(|(known, _)| *known == kind).map_or(0.0, |(_, value)| *value)
}

/// The core's usual cases, by kind.
fn usual() -> [f64; KINDS] {
    CaseKind::ALL.map(|kind| {
        // Blended braking begins as hard as braking by friction alone.
        let kind = if kind == CaseKind::BlendedBraking { CaseKind::FrictionBraking } else { kind };
        let usual = Case::usual().into_iter().find(|case| CaseKind::of(case) == kind);
        match usual {
            Some(
                Case::Cornering { g }
                | Case::FrictionBraking { g }
                | Case::RegenerativeBraking { g }
                | Case::Driving { g },
            ) => g,
            Some(Case::Bump { times }) => times,
            _ => 0.0,
        }
    })
}

pub(super) fn find(
    corner: &Corner,
    vehicle: &Vehicle,
    (axle, side): (Axle, Side),
    solved: &Solved,
    case: Case,
    given: &Given,
) -> Found {
    let statics = Statics::new(corner, &solved.linkage);
    let loads = statics.loads(&case, vehicle, axle);
    let pushes = loads.iter().flatten().map(|load| {
        let force = load.in_axes_of_vehicle(&solved.linkage, &solved.position);
        (load.at, force)
    });
    let pushes = pushes.collect();
    let forces = match &loads {
        Ok(loads) => statics.forces(&solved.position, loads, given),
        Err(error) => Err(error.clone()),
    };
    Found {
        case,
        axle,
        side,
        state: solved.position.state(),
        loads: loads.unwrap_or_default(),
        pushes,
        forces,
        kick: statics.steering_kick(&solved.position),
    }
}
