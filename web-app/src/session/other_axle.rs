//! The other axle's corner, drawn together with the one shown: the whole car in side view and plan.
//!
//! It stands under the same body: at the same heave and lean, its own rack straight ahead.
//! Nothing is solved here until it is asked for.

use std::sync::Arc;

use geometry_core::{
    Vec3,
    axle::{AxleFollower, AxleReader, AxleState, Lean, WheelPair, as_left},
    linkage::Linkage,
    readings::Readings,
    setup::{Axle, Corner, Document, Side, Vehicle},
    solve::State,
};
use leptos::prelude::*;

use super::{Solved, Wheels, sides, solve};
use crate::scene::Placed;

/// The other axle as it is drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct OtherAxle {
    /// Which it is.
    pub axle: Axle,
    /// Its left corner, or what is shown in the left one's place.
    pub left: (Corner, Placed),
    /// Its right corner in its mirror image, where both wheels are shown.
    pub right: Option<(Corner, Placed)>,
    /// What the left corner says; none where it cannot be assembled or does not come along.
    pub readings: Option<Readings>,
    /// mm forward from where it is described to where it is drawn.
    pub ahead: f64,
}

/// Handles to the other axle; copied freely.
#[derive(Clone, Copy)]
pub struct Axles {
    /// Whether both axles are shown.
    pub both: RwSignal<bool>,
    /// The other one, where it is shown and described.
    pub other: Memo<Option<Arc<OtherAxle>>>,
    /// The centre of gravity, where it is shown and known: in the axes in which the corner shown is described.
    pub centre_of_gravity: Memo<Option<Vec3>>,
}

impl Axles {
    pub(super) fn new(
        document: RwSignal<Document>,
        axle: RwSignal<Axle>,
        side: RwSignal<Side>,
        state: RwSignal<State>,
        corner: Memo<Option<Corner>>,
        vehicle: Memo<Vehicle>,
        wheels: Wheels,
    ) -> Self {
        let both = RwSignal::new(false);
        let left = Memo::new(move |_| {
            let other = other(axle.get());
            both.get().then(|| document.with(|d| sides::corner(d, other, side.get()))).flatten()
        });
        // As the document has it, for both wheels of the axle.
        let described = Memo::new(move |_| {
            let other = other(axle.get());
            (both.get() && wheels.active.get())
                .then(|| document.with(|d| d.right_corner(other).cloned()))
                .flatten()
        });
        let linkage =
            Memo::new(move |_| left.with(|left| Linkage::new(left.as_ref()?, Side::Left).ok().map(Arc::new)));
        let pair = Memo::new(move |_| {
            let other = other(axle.get());
            if !wheels.active.get() {
                return None;
            }
            left.with(|left| {
                described
                    .with(|right| WheelPair::new(other, left.as_ref()?, right.as_ref()).ok().map(Arc::new))
            })
        });
        let ahead = Memo::new(move |_| {
            let wheelbase = vehicle.with(|vehicle| vehicle.wheelbase);
            left.with(|left| {
                let other_x = left.as_ref()?.wheel.centre[0];
                corner.with(|corner| {
                    Some(ahead(axle.get(), corner.as_ref()?.wheel.centre[0], other_x, wheelbase))
                })
            })
        });
        let travel = Memo::new(move |_| state.with(|state| state.travel));
        let stands = Memo::new(move |_| {
            if !wheels.active.get() {
                return AxleState { heave: travel.get(), ..AxleState::DESIGN };
            }
            // Where the body leans about a roll centre, its height is the shown axle's doing.
            let heave = wheels.solved.with(|solved| solved.as_ref().map(|solved| solved.readings.heave));
            AxleState { heave: heave.unwrap_or_else(|| travel.get()), roll: wheels.roll.get(), rack: 0.0 }
        });
        let drawn = Memo::new(move |_| {
            let other = other(axle.get());
            let left = left.get()?;
            let ahead = ahead.get()?;
            let asked = stands.get();
            let as_described = |readings| OtherAxle {
                axle: other,
                left: (left.clone(), Placed::new(&left, None)),
                right: None,
                readings,
                ahead,
            };
            if !wheels.active.get() {
                let Some(linkage) = linkage.get() else { return Some(Arc::new(as_described(None))) };
                let asked = State { travel: asked.heave, rack: 0.0 };
                let solved = vehicle.with(|vehicle| solve(&linkage, vehicle, other, asked));
                let Solved { position, readings, stopped, .. } = solved;
                let placed = Placed::new(&left, Some((&linkage, &position)));
                let readings = stopped.is_none().then_some(readings);
                return Some(Arc::new(OtherAxle { left: (left.clone(), placed), ..as_described(readings) }));
            }
            let Some(pair) = pair.get() else { return Some(Arc::new(as_described(None))) };
            let Ok(position) = AxleFollower::new(&pair).go_to(asked, Lean::HeaveHeld) else {
                return Some(Arc::new(as_described(None)));
            };
            let readings =
                vehicle.with(|vehicle| AxleReader::new(&pair, vehicle).corner(&position, Side::Left));
            let placed =
                |corner: &Corner, side| Placed::new(corner, Some((pair.linkage(side), position.wheel(side))));
            let right = wheels.both.get().then(|| {
                let mirrored = described
                    .with(|right| right.as_ref().map_or_else(|| left.clone(), |r| as_left(&left, r)));
                let placed = placed(&mirrored, Side::Right);
                (mirrored, placed)
            });
            let placed = placed(&left, Side::Left);
            let drawn = as_described(Some(readings));
            Some(Arc::new(OtherAxle { left: (left.clone(), placed), right, ..drawn }))
        });
        let centre_of_gravity = Memo::new(move |_| {
            if !both.get() {
                return None;
            }
            let shown = corner.with(|corner| corner.as_ref().map(|corner| corner.wheel.centre[0]))?;
            vehicle.with(|vehicle| centre_of_gravity(vehicle, axle.get(), shown))
        });
        Self { both, other: drawn, centre_of_gravity }
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

/// mm forward by which the other axle is drawn from where it is described. Corners in the
/// axes of one car stay as they are described; one that stands more than half a wheelbase
/// from its place was measured from its own axle and is drawn one wheelbase away.
#[must_use]
pub(super) fn ahead(shown: Axle, shown_x: f64, other_x: f64, wheelbase: Option<f64>) -> f64 {
    let Some(wheelbase) = wheelbase else { return 0.0 };
    let place = match shown {
        Axle::Front => shown_x - wheelbase,
        Axle::Rear => shown_x + wheelbase,
    };
    if (other_x - place).abs() > 0.5 * wheelbase { place - other_x } else { 0.0 }
}

/// Where the car's mass is, as it stands: on the centre plane.
fn centre_of_gravity(vehicle: &Vehicle, shown: Axle, shown_x: f64) -> Option<Vec3> {
    let (wheelbase, front) = (vehicle.wheelbase?, vehicle.front_mass_share?);
    let behind = match shown {
        Axle::Front => (1.0 - front) * wheelbase,
        Axle::Rear => -front * wheelbase,
    };
    Some(Vec3::new(shown_x - behind, 0.0, vehicle.cg_height?))
}

#[cfg(test)]
mod tests {
    use super::*;
    use geometry_core::setup::example;

    #[test]
    fn corners_of_one_car_stand_where_they_are_described() {
        assert_eq!(ahead(Axle::Front, 0.0, -2640.0, Some(2640.0)), 0.0);
        assert_eq!(ahead(Axle::Rear, -2640.0, 3.0, Some(2640.0)), 0.0);
        assert_eq!(ahead(Axle::Front, 0.0, 0.0, None), 0.0);
    }

    #[test]
    fn a_corner_measured_from_its_own_axle_stands_a_wheelbase_away() {
        assert_eq!(ahead(Axle::Front, 0.0, 4.0, Some(2640.0)), -2644.0);
        assert_eq!(ahead(Axle::Rear, 4.0, 0.0, Some(2640.0)), 2644.0);
    }

    #[test]
    fn the_centre_of_gravity_is_one_point_from_either_axle() {
        let vehicle = example().vehicle;
        let front = centre_of_gravity(&vehicle, Axle::Front, 0.0).expect("all is given");
        let rear = centre_of_gravity(&vehicle, Axle::Rear, -2640.0).expect("all is given");
        assert!((front - rear).norm() < 1e-9, "{front} {rear}");
        // 44 % of the mass in front: 56 % of the wheelbase behind the front axle.
        assert!((front.x + 0.56 * 2640.0).abs() < 1e-9 && front.z == 465.0, "{front}");
        assert_eq!(centre_of_gravity(&Vehicle { cg_height: None, ..vehicle }, Axle::Front, 0.0), None);
    }
}
