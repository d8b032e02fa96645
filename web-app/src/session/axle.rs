//! Both wheels of the axle shown, under a body that drops and leans.
//!
//! Nothing is solved here until it is asked for: by the views and readings while the body
//! leans or both wheels are shown, by the tab while it is open.

use std::sync::Arc;

use geometry_core::{
    Vec3,
    axle::{
        AxleFollower, AxlePosition, AxleReader, AxleReadings, AxleState, AxleStop, Lean, WheelPair, as_left,
    },
    readings::Readings,
    setup::{self, Axle, Corner, Document, Side},
    solve::State,
};
use leptos::prelude::*;

use super::Solved;
use crate::{describe, scene::Placed, view::Stance};

/// °: the ends of the roll slider.
pub const ROLL_SHOWN: f64 = 6.0;
/// How often the way to a state that is not reached is halved: to a four-thousandth of it.
const HALVINGS: u32 = 12;

/// A solved axle.
#[derive(Debug, Clone, PartialEq)]
pub struct BothSolved {
    /// The two linkages.
    pub pair: Arc<WheelPair>,
    /// The position reached.
    pub position: AxlePosition,
    /// What is read off it.
    pub readings: AxleReadings,
    /// What the left corner alone says, against the body.
    pub left: Readings,
    /// Why it is not the position asked for, when it is not.
    pub stopped: Option<String>,
}

impl BothSolved {
    /// The left corner as one that is looked at alone.
    pub(super) fn left_corner(&self) -> Solved {
        Solved {
            linkage: self.pair.linkage(Side::Left).clone(),
            position: *self.position.wheel(Side::Left),
            readings: self.left,
            stopped: self.stopped.clone(),
        }
    }
}

/// Handles to what belongs to both wheels; copied freely.
#[derive(Clone, Copy)]
pub struct Wheels {
    /// Whether the views show both wheels.
    pub both: RwSignal<bool>,
    /// How far the body leans, °, + to the right.
    pub roll: RwSignal<f64>,
    /// What the body's height does while it leans.
    pub lean: RwSignal<Lean>,
    /// Whether the axle is solved and not the left corner alone.
    pub active: Memo<bool>,
    /// Both linkages, or why there are none; none where the document has no such axle.
    pub pair: Memo<Option<Result<Arc<WheelPair>, String>>>,
    /// Where the axle is asked to stand.
    pub asked: Memo<AxleState>,
    /// The axle's position and readings.
    pub solved: Memo<Option<Arc<BothSolved>>>,
    /// Where the right corner's points are, in its mirror image, and what it is drawn from.
    pub right: Memo<Option<Arc<(Corner, Placed)>>>,
    /// How the body is drawn over the ground.
    pub stance: Memo<Stance>,
}

impl Wheels {
    pub(super) fn new(
        document: RwSignal<Document>,
        axle: RwSignal<Axle>,
        state: RwSignal<State>,
        vehicle: Memo<setup::Vehicle>,
    ) -> Self {
        let (both, roll, lean) = (RwSignal::new(false), RwSignal::new(0.0), RwSignal::new(Lean::default()));
        // Of the car, whichever side's corner is shown alone.
        let left = Memo::new(move |_| document.with(|d| d.corner(axle.get()).cloned()));
        let described = Memo::new(move |_| document.with(|d| d.right_corner(axle.get()).cloned()));
        let pair = Memo::new(move |_| {
            let axle = axle.get();
            left.with(|left| {
                let left = left.as_ref()?;
                let pair = described.with(|right| WheelPair::new(axle, left, right.as_ref()));
                Some(pair.map(Arc::new).map_err(|error| {
                    let sentence = describe::with_names(error.to_string(), axle.name(), left);
                    let right = described.get().map(|right| right.mirrored());
                    match right {
                        Some(right) => describe::with_names(sentence, axle.right_name(), &right),
                        None => sentence,
                    }
                }))
            })
        });
        let asked = Memo::new(move |_| {
            let State { travel, rack } = state.get();
            AxleState { heave: travel, roll: roll.get(), rack }
        });
        let solved = Memo::new(move |_| {
            let pair = pair.get()?.ok()?;
            vehicle.with(|vehicle| solve(&pair, vehicle, asked.get(), lean.get()).map(Arc::new))
        });
        let active = Memo::new(move |_| both.get() || roll.get() != 0.0);
        let right = Memo::new(move |_| {
            if !both.get() {
                return None;
            }
            let solved = solved.get()?;
            let mirrored = left.with(|left| {
                let left = left.as_ref()?;
                Some(
                    described.with(|right| right.as_ref().map_or_else(|| left.clone(), |r| as_left(left, r))),
                )
            })?;
            let (linkage, position) = (solved.pair.linkage(Side::Right), solved.position.wheel(Side::Right));
            let placed = Placed::new(&mirrored, Some((linkage, position)));
            Some(Arc::new((mirrored, placed)))
        });
        let stance = Memo::new(move |_| {
            if !active.get() {
                return Stance::DESIGN;
            }
            solved.get().map_or(Stance::DESIGN, |solved| stance(&solved, both.get()))
        });
        Self { both, roll, lean, active, pair, asked, solved, right, stance }
    }
}

/// How the body stands. The ground stays put, and along it the middle between the contacts;
/// with one wheel alone, as without roll, the body keeps the height that the heave takes from it.
fn stance(solved: &BothSolved, both: bool) -> Stance {
    let AxleReadings { state, heave, left, right, .. } = &solved.readings;
    let upright = Stance::new(state.roll, [0.0, 0.0]);
    let [left, right] = [left, right].map(|wheel| upright.place(&Vec3::from(wheel.contact)).y);
    let drop = if both { *heave } else { heave - state.heave };
    Stance::new(state.roll, [-0.5 * (left + right), -drop])
}

/// The state asked for, or the last one on the straight way there from the design position.
pub(super) fn solve(
    pair: &Arc<WheelPair>,
    vehicle: &setup::Vehicle,
    asked: AxleState,
    lean: Lean,
) -> Option<BothSolved> {
    let (position, stop) = reached(pair, asked, lean)?;
    let stopped = stop.map(|stop| describe::axle::why_stopped(&stop, &position.state()));
    let reader = AxleReader::new(pair, vehicle);
    let readings = reader.read(&position);
    let left = reader.corner(&position, Side::Left);
    Some(BothSolved { pair: pair.clone(), position, readings, left, stopped })
}

/// The position in a state, or the last one on the straight way there from the design position, and
/// why it goes no farther.
pub(super) fn reached(
    pair: &WheelPair,
    asked: AxleState,
    lean: Lean,
) -> Option<(AxlePosition, Option<AxleStop>)> {
    let mut follower = AxleFollower::new(pair);
    match follower.go_to(asked, lean) {
        Ok(position) => Some((position, None)),
        Err(stop) => {
            let way = |share: f64| AxleState {
                heave: share * asked.heave,
                roll: share * asked.roll,
                rack: share * asked.rack,
            };
            last_reached(&mut follower, stop, lean, way).map(|(position, stop)| (position, Some(stop)))
        }
    }
}

/// The last position on a way of which the end (share 1) is not reached, and why it goes no
/// farther; none where even its beginning is not.
pub(super) fn last_reached(
    follower: &mut AxleFollower<'_>,
    stop: AxleStop,
    lean: Lean,
    way: impl Fn(f64) -> AxleState,
) -> Option<(AxlePosition, AxleStop)> {
    let mut reached = follower.go_to(way(0.0), lean).ok()?;
    let (mut good, mut bad, mut stop) = (0.0, 1.0, stop);
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(good, bad);
        match follower.go_to(way(middle), lean) {
            Ok(position) => (good, reached) = (middle, position),
            Err(earlier) => (bad, stop) = (middle, earlier),
        }
    }
    Some((reached, stop))
}

#[cfg(test)]
mod tests {
    use super::*;
    use geometry_core::setup::example;

    fn at(heave: f64, roll: f64, lean: Lean) -> BothSolved {
        let document = example();
        let pair = WheelPair::of(&document, Axle::Front).expect("assembled").expect("described");
        let asked = AxleState { heave, roll, rack: 0.0 };
        solve(&Arc::new(pair), &document.vehicle, asked, lean).expect("the design position")
    }

    #[test]
    fn drawn_over_the_ground_both_tyres_stand_on_it() {
        let [_, _, ground] = at(0.0, 0.0, Lean::HeaveHeld).readings.left.contact;
        for (heave, roll, lean) in
            [(0.0, 0.0, Lean::HeaveHeld), (40.0, 3.0, Lean::HeaveHeld), (-25.0, -4.0, Lean::RollCentre)]
        {
            let solved = at(heave, roll, lean);
            let stance = stance(&solved, true);
            let readings = &solved.readings;
            let [left, right] =
                [&readings.left, &readings.right].map(|wheel| stance.place(&Vec3::from(wheel.contact)));
            assert!((left.z - ground).abs() < 1e-6 && (right.z - ground).abs() < 1e-6, "{left} {right}");
            assert!((left.y + right.y).abs() < 1e-9, "the middle stays: {left:?} {right:?}");
            assert!((left.y - right.y - readings.track).abs() < 1e-9);
        }
    }

    #[test]
    fn beyond_its_reach_the_axle_stands_at_its_end_and_says_where() {
        let solved = at(300.0, 30.0, Lean::HeaveHeld);
        let stopped = solved.stopped.expect("no wheel rises by that much");
        let AxleState { heave, roll, .. } = solved.position.state();
        assert!(roll > 5.0 && roll < 30.0, "{roll}");
        assert!((heave - 10.0 * roll).abs() < 1e-9, "on the straight way there");
        assert!(stopped.contains(&format!("{roll:.1}°")), "{stopped}");
        // A little farther it does not go.
        assert!(at(heave + 0.2, roll + 0.02, Lean::HeaveHeld).stopped.is_some());
        assert!(at(heave, roll, Lean::HeaveHeld).stopped.is_none());
    }
}
