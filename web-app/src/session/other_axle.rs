//! The other axle's corner, drawn together with the one shown: the whole car in side view and plan.
//!
//! It stands under the same body: at the same heave and lean, its own rack straight ahead.
//! Nothing is solved here until it is asked for.

use std::sync::Arc;

use geometry_core::{
    Vec3,
    axle::{AxleReader, AxleState, Lean, WheelPair, as_left},
    setup::{Axle, Corner, Document, Side, Vehicle},
    solve::State,
};
use leptos::prelude::*;

use super::{BothSolved, Solved, Wheels, axle::reached, sides};
use crate::{
    describe::Lack,
    scene::{Placed, other_axle::OtherAxle},
};

/// Handles to the other axle; copied freely.
#[derive(Clone, Copy)]
pub struct Axles {
    /// Whether both axles are shown.
    pub both: RwSignal<bool>,
    /// The other one, where it is shown and described.
    pub other: Memo<Option<Arc<OtherAxle>>>,
    /// Why it is not there although it is asked for.
    pub lack: Memo<Option<Lack>>,
    /// The centre of gravity, where it is shown and known: in the axes in which the corner shown is described.
    pub centre_of_gravity: Memo<Option<Vec3>>,
}

/// What of the session it is drawn from.
#[derive(Clone, Copy)]
pub(super) struct Sources {
    pub(super) document: RwSignal<Document>,
    pub(super) axle: RwSignal<Axle>,
    pub(super) side: RwSignal<Side>,
    pub(super) state: RwSignal<State>,
    pub(super) corner: Memo<Option<Corner>>,
    pub(super) vehicle: Memo<Vehicle>,
    pub(super) wheels: Wheels,
    pub(super) solved: Memo<Option<Arc<Solved>>>,
}

impl Axles {
    pub(super) fn new(sources: Sources) -> Self {
        let Sources { document, axle, side, state, corner, vehicle, wheels, solved } = sources;
        let both = RwSignal::new(false);
        let left = Memo::new(move |_| {
            let other = other(axle.get());
            both.get().then(|| document.with(|d| sides::corner(d, other, side.get()))).flatten()
        });
        let described = Memo::new(move |_| {
            let other = other(axle.get());
            both.get().then(|| document.with(|d| d.right_corner(other).cloned())).flatten()
        });
        let pair = Memo::new(move |_| {
            let other = other(axle.get());
            let pair = |left: &Corner| {
                // What is shown in the left one's place is drawn alone.
                described
                    .with(|right| WheelPair::new(other, left, right.as_ref().filter(|_| wheels.active.get())))
            };
            left.with(|left| Some(Arc::new(pair(left.as_ref()?).ok()?)))
        });
        // mm forward where the corner shown stands, and the other one, described and drawn.
        let places = Memo::new(move |_| {
            // First: while one axle is shown there is none, and nothing else is asked.
            let described = left.with(|left| left.as_ref().map(|left| left.wheel.centre[0]))?;
            let shown =
                corner.with(|corner| corner.as_ref().map(|c| (c.wheel.centre[0], c.wheel.loaded_radius)))?;
            let wheelbase = vehicle.with(|vehicle| vehicle.wheelbase);
            Some((shown.0, described, ahead(axle.get(), shown, described, wheelbase)))
        });
        let lack = Memo::new(move |_| {
            if !both.get() || corner.with(Option::is_none) {
                return None;
            }
            match places.get() {
                None => Some(Lack::Corner(other(axle.get()))),
                Some((.., None)) => Some(Lack::Wheelbase),
                Some(_) => None,
            }
        });
        // Where the body stands, not where it was asked to.
        let stands = Memo::new(move |_| {
            if wheels.active.get() {
                let of_axle = |both: &BothSolved| AxleState {
                    heave: both.readings.heave,
                    roll: both.readings.state.roll,
                    rack: 0.0,
                };
                if let Some(state) = wheels.solved.with(|solved| solved.as_deref().map(of_axle)) {
                    return state;
                }
            }
            let reached = solved.with(|solved| solved.as_ref().map(|solved| solved.position.state().travel));
            AxleState { heave: reached.unwrap_or_else(|| state.get().travel), ..AxleState::DESIGN }
        });
        let drawn = Memo::new(move |_| {
            let left = left.get()?;
            let (.., ahead) = places.get()?;
            let shown = OtherAxle {
                axle: other(axle.get()),
                left: (left.clone(), Placed::new(&left, None)),
                right: None,
                readings: None,
                ahead: ahead?,
            };
            let Some(pair) = pair.get() else { return Some(Arc::new(shown)) };
            let Some((position, _)) = reached(&pair, stands.get(), Lean::HeaveHeld) else {
                return Some(Arc::new(shown));
            };
            let readings =
                vehicle.with(|vehicle| AxleReader::new(&pair, vehicle).corner(&position, Side::Left));
            let placed =
                |corner: &Corner, side| Placed::new(corner, Some((pair.linkage(side), position.wheel(side))));
            Some(Arc::new(OtherAxle {
                left: (left.clone(), placed(&left, Side::Left)),
                right: wheels.both.get().then(|| {
                    let right = described
                        .with(|right| right.as_ref().map_or_else(|| left.clone(), |r| as_left(&left, r)));
                    let placed = placed(&right, Side::Right);
                    (right, placed)
                }),
                readings: Some(readings),
                ..shown
            }))
        });
        let centre_of_gravity = Memo::new(move |_| {
            let (shown, described, ahead) = places.get()?;
            let drawn = described + ahead?;
            let (front, rear) = if axle.get() == Axle::Front { (shown, drawn) } else { (drawn, shown) };
            vehicle.with(|vehicle| centre_of_gravity(vehicle, front, rear))
        });
        Self { both, other: drawn, lack, centre_of_gravity }
    }
}

/// The axle that is not this one.
#[must_use]
pub fn other(axle: Axle) -> Axle {
    match axle {
        Axle::Front => Axle::Rear,
        Axle::Rear => Axle::Front,
    }
}

/// mm forward by which the other axle is drawn from where it is described, given where the corner
/// shown stands and how large its wheel is. Corners in the axes of one car stay as they are
/// described; one that stands more than half a wheelbase from its place was measured from its
/// own axle and is drawn one wheelbase away. `None` where that is not given and the two wheels
/// would stand in one another.
pub(super) fn ahead(
    shown: Axle,
    (shown_x, radius): (f64, f64),
    other_x: f64,
    wheelbase: Option<f64>,
) -> Option<f64> {
    let Some(wheelbase) = wheelbase else {
        return ((other_x - shown_x).abs() > 2.0 * radius).then_some(0.0);
    };
    let place = match shown {
        Axle::Front => shown_x - wheelbase,
        Axle::Rear => shown_x + wheelbase,
    };
    Some(if (other_x - place).abs() > 0.5 * wheelbase { place - other_x } else { 0.0 })
}

/// Where the car's mass is as it stands: on the centre plane, between the wheel centres as they are drawn.
fn centre_of_gravity(vehicle: &Vehicle, front_x: f64, rear_x: f64) -> Option<Vec3> {
    let behind = (1.0 - vehicle.front_mass_share?) * (front_x - rear_x);
    Some(Vec3::new(front_x - behind, 0.0, vehicle.cg_height?))
}

#[cfg(test)]
mod tests {
    use super::*;
    use geometry_core::setup::example;

    #[test]
    fn corners_of_one_car_stand_where_they_are_described() {
        assert_eq!(ahead(Axle::Front, (0.0, 312.0), -2640.0, Some(2640.0)), Some(0.0));
        assert_eq!(ahead(Axle::Rear, (-2640.0, 312.0), 3.0, Some(2640.0)), Some(0.0));
        assert_eq!(ahead(Axle::Front, (0.0, 312.0), -2640.0, None), Some(0.0));
    }

    #[test]
    fn a_corner_measured_from_its_own_axle_stands_a_wheelbase_away() {
        assert_eq!(ahead(Axle::Front, (0.0, 312.0), 4.0, Some(2640.0)), Some(-2644.0));
        assert_eq!(ahead(Axle::Rear, (4.0, 312.0), 0.0, Some(2640.0)), Some(2644.0));
        assert_eq!(ahead(Axle::Front, (0.0, 312.0), 4.0, None), None, "nothing parts them");
    }

    #[test]
    fn the_centre_of_gravity_parts_the_wheelbase_as_the_mass_is_parted() {
        let vehicle = example().vehicle;
        // 44 % of the mass in front: 56 % of the way from the front axle to the rear one.
        let found = centre_of_gravity(&vehicle, 10.0, -2590.0).expect("all is given");
        assert!((found.x - (10.0 - 0.56 * 2600.0)).abs() < 1e-9 && found.z == 465.0, "{found}");
        assert_eq!(centre_of_gravity(&Vehicle { cg_height: None, ..vehicle }, 0.0, -2600.0), None);
    }
}
