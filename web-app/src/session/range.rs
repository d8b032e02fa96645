//! How far travel, rack and roll go, what moves by itself, and what is drawn of the way.

use std::sync::Arc;

use geometry_core::{
    Vec3,
    axle::{AxleFollower, AxleState},
    linkage::Linkage,
    setup::{Axle, Corner, Holder, Side},
    solve::{Follower, State},
};
use leptos::prelude::*;

use super::{RACK_SHOWN, ROLL_SHOWN, TRAVEL_SHOWN, Wheels, axle::last_reached};
use crate::{
    describe,
    edit::PointPath,
    scene::{Placed, paths::Trace},
};

/// Positions of a path, both ends included.
const PATH_POSITIONS: u32 = 33;
/// Seconds from one end to the other and back.
const PERIOD: f64 = 6.0;
/// Steps from one end to the other where motion is to be reduced.
const STEPS: f64 = 8.0;

/// What can be moved.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Moving {
    /// The wheel, or both wheels: the body's heave.
    Travel,
    /// The rack.
    Rack,
    /// The body's lean.
    Roll,
}

/// Why a way ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Why {
    /// The slider goes no farther; the setup names no stop.
    Shown,
    /// The setup's stop or lock.
    Stop,
    /// The linkage, or the roll centre, goes no farther.
    Linkage,
}

/// An end of a way.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct End {
    /// Where, mm or °.
    pub at: f64,
    /// Why.
    pub why: Why,
}

/// Both ends of a way through zero.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reach {
    /// The end below zero.
    pub low: End,
    /// The end above zero.
    pub high: End,
}

impl Reach {
    /// Between two stops, or as far as is shown where there are none.
    fn between(low: Option<f64>, high: Option<f64>, shown: f64) -> Self {
        let end = |stop: Option<f64>, sign: f64| End {
            at: sign * stop.unwrap_or(shown),
            why: if stop.is_some() { Why::Stop } else { Why::Shown },
        };
        Self { low: end(low, -1.0), high: end(high, 1.0) }
    }

    /// Shortened to where the linkage goes.
    fn within(self, reached: impl Fn(f64) -> f64) -> Self {
        let end = |end: End| {
            let at = reached(end.at);
            if at == end.at { end } else { End { at, why: Why::Linkage } }
        };
        Self { low: end(self.low), high: end(self.high) }
    }
}

/// Something on its way from one end to the other and back, smoothly: fastest in the middle,
/// at rest at the ends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Swing {
    /// rad: 0 at the low end, π at the high one.
    phase: f64,
}

impl Swing {
    /// Begins at a value, upward.
    #[must_use]
    pub fn from(value: f64, low: f64, high: f64) -> Self {
        let share = if high > low { ((value - low) / (high - low)).clamp(0.0, 1.0) } else { 0.0 };
        Self { phase: (1.0 - 2.0 * share).acos() }
    }

    /// So many seconds later.
    #[must_use]
    pub fn after(self, seconds: f64) -> Self {
        Self { phase: self.phase + std::f64::consts::TAU * seconds / PERIOD }
    }

    /// One step of `STEPS` later.
    #[must_use]
    pub fn stepped(self) -> Self {
        Self { phase: self.phase + std::f64::consts::PI / STEPS }
    }

    /// Where it is between two ends.
    #[must_use]
    pub fn value(self, low: f64, high: f64) -> f64 {
        f64::midpoint(low, high) - 0.5 * (high - low) * self.phase.cos()
    }
}

/// Where the members stand at both ends of the travel.
#[derive(Debug, Clone, PartialEq)]
pub struct Ends {
    /// Wheel travel, mm.
    pub at: [f64; 2],
    /// The left corner, or the right one in its mirror image.
    pub placed: [Placed; 2],
}

/// Handles to how far things go; copied freely.
#[derive(Clone, Copy)]
pub struct Range {
    /// Whether the members are drawn at both ends of the travel.
    pub ghosts: RwSignal<bool>,
    /// Whether the paths over the travel are drawn.
    pub traces: RwSignal<bool>,
    /// What moves by itself, and how often something has been set going.
    pub playing: RwSignal<Option<(Moving, u32)>>,
    started: StoredValue<u32>,
    /// What the sliders go to: stops and locks, or as far as is shown.
    pub travel_slider: Memo<Reach>,
    /// The same of the rack.
    pub rack_slider: Memo<Reach>,
    /// The same of the roll.
    pub roll_slider: Memo<Reach>,
    /// How far the wheel, or the body's heave, really goes from where rack and roll are.
    pub travel: Memo<Reach>,
    /// The same of the rack.
    pub rack: Memo<Reach>,
    /// The same of the roll.
    pub roll: Memo<Reach>,
    /// The left corner at both ends of its travel, where that is to be drawn.
    pub ends: Memo<Option<Arc<Ends>>>,
    /// The right corner in its mirror image at both ends, where that is to be drawn.
    pub right_ends: Memo<Option<Arc<Ends>>>,
    /// The paths of the left corner's points, and of the right one's in its mirror image.
    pub paths: Memo<Arc<[Vec<Trace>; 2]>>,
}

impl Range {
    pub(super) fn new(
        axle: RwSignal<Axle>,
        state: RwSignal<State>,
        corner: Memo<Option<Corner>>,
        linkage: Memo<Result<Arc<Linkage>, String>>,
        selected: RwSignal<Option<PointPath>>,
        wheels: Wheels,
    ) -> Self {
        let (ghosts, traces) = (RwSignal::new(false), RwSignal::new(false));
        let travel_slider = Memo::new(move |_| {
            corner.with(|corner| {
                let (low, high) = corner.as_ref().map_or((None, None), |c| (c.rebound_travel, c.bump_travel));
                Reach::between(low, high, TRAVEL_SHOWN)
            })
        });
        let rack_slider = Memo::new(move |_| {
            let lock = corner.with(|corner| corner.as_ref()?.rack_travel);
            Reach::between(lock, lock, RACK_SHOWN)
        });
        let roll_slider = Memo::new(move |_| {
            axle.track();
            Reach::between(None, None, ROLL_SHOWN)
        });
        let travel_now = Memo::new(move |_| state.with(|state| state.travel));
        let rack_now = Memo::new(move |_| state.with(|state| state.rack));
        // Of the corner by itself: what ghosts and paths are drawn of.
        let corner_travel = Memo::new(move |_| {
            let (slider, rack) = (travel_slider.get(), rack_now.get());
            let Ok(linkage) = linkage.get() else { return slider };
            slider.within(|travel| {
                corner_end(&linkage, State { travel: 0.0, rack }, State { travel, rack }).travel
            })
        });
        let axle_end = move |from: AxleState, to: AxleState| {
            let pair = wheels.pair.get()?.ok()?;
            Some(axle_end(&mut AxleFollower::new(&pair), wheels, from, to))
        };
        let travel = Memo::new(move |_| {
            if !wheels.active.get() {
                return corner_travel.get();
            }
            let (roll, rack) = (wheels.roll.get(), rack_now.get());
            let at = |heave| AxleState { heave, roll, rack };
            travel_slider.get().within(|heave| axle_end(at(0.0), at(heave)).map_or(heave, |end| end.heave))
        });
        let rack = Memo::new(move |_| {
            let (slider, travel) = (rack_slider.get(), travel_now.get());
            if wheels.active.get() {
                let roll = wheels.roll.get();
                let at = |rack| AxleState { heave: travel, roll, rack };
                return slider.within(|rack| axle_end(at(0.0), at(rack)).map_or(rack, |end| end.rack));
            }
            let Ok(linkage) = linkage.get() else { return slider };
            slider
                .within(|rack| corner_end(&linkage, State { travel, rack: 0.0 }, State { travel, rack }).rack)
        });
        let roll = Memo::new(move |_| {
            let slider = roll_slider.get();
            if !wheels.active.get() {
                return slider;
            }
            let (heave, rack) = (travel_now.get(), rack_now.get());
            let at = |roll| AxleState { heave, roll, rack };
            slider.within(|roll| axle_end(at(0.0), at(roll)).map_or(roll, |end| end.roll))
        });
        let ends = Memo::new(move |_| {
            let reach = ghosts.get().then(|| corner_travel.get())?;
            let linkage = linkage.get().ok()?;
            corner.with(|corner| Some(Arc::new(at_ends(corner.as_ref()?, &linkage, rack_now.get(), reach))))
        });
        let right_ends = Memo::new(move |_| {
            let reach = ghosts.get().then(|| corner_travel.get())?;
            let (right, pair) = (wheels.right.get()?, wheels.pair.get()?.ok()?);
            // In the mirror image the rack goes the other way.
            Some(Arc::new(at_ends(&right.0, pair.linkage(Side::Right), -rack_now.get(), reach)))
        });
        let paths = Memo::new(move |_| {
            if !traces.get() {
                return Arc::default();
            }
            let (reach, rack, chosen) = (corner_travel.get(), rack_now.get(), selected.get());
            let left = linkage.get().ok().and_then(|linkage| {
                corner.with(|corner| Some(paths(corner.as_ref()?, &linkage, rack, reach, chosen)))
            });
            let right = wheels.right.get().zip(wheels.pair.get().and_then(Result::ok));
            let right =
                right.map(|(right, pair)| paths(&right.0, pair.linkage(Side::Right), -rack, reach, chosen));
            Arc::new([left.unwrap_or_default(), right.unwrap_or_default()])
        });
        Self {
            ghosts,
            traces,
            playing: RwSignal::new(None),
            started: StoredValue::new(0),
            travel_slider,
            rack_slider,
            roll_slider,
            travel,
            rack,
            roll,
            ends,
            right_ends,
            paths,
        }
    }

    /// Whether this moves by itself.
    #[must_use]
    pub fn plays(&self, moving: Moving) -> bool {
        self.playing.get().is_some_and(|(now, _)| now == moving)
    }

    /// Sets something going, and stops what went before; gives the number of this start.
    pub fn start(&self, moving: Moving) -> u32 {
        let number = self.started.get_value().wrapping_add(1);
        self.started.set_value(number);
        self.playing.set(Some((moving, number)));
        number
    }

    /// Stops what moves, if it is this.
    pub fn stop(&self, moving: Moving) {
        if self.playing.get_untracked().is_some_and(|(now, _)| now == moving) {
            self.playing.set(None);
        }
    }

    /// How far something goes.
    #[must_use]
    pub fn reach(&self, moving: Moving) -> Memo<Reach> {
        match moving {
            Moving::Travel => self.travel,
            Moving::Rack => self.rack,
            Moving::Roll => self.roll,
        }
    }
}

/// The last state on the way from one that is reached first.
fn corner_end(linkage: &Linkage, from: State, to: State) -> State {
    let mut follower = Follower::new(linkage);
    for state in [from, to] {
        if let Some(stop) = follower.go_to(state).stop() {
            return stop.last;
        }
    }
    to
}

/// The same of an axle.
fn axle_end(follower: &mut AxleFollower<'_>, wheels: Wheels, from: AxleState, to: AxleState) -> AxleState {
    let lean = wheels.lean.get();
    match follower.go_to(to, lean) {
        Ok(_) => to,
        Err(stop) => {
            let between = |from: f64, to: f64, share: f64| from + share * (to - from);
            let way = |share| AxleState {
                heave: between(from.heave, to.heave, share),
                roll: between(from.roll, to.roll, share),
                rack: between(from.rack, to.rack, share),
            };
            last_reached(follower, stop, lean, way).map_or(from, |(position, _)| position.state())
        }
    }
}

/// The corner at both ends of its travel.
fn at_ends(corner: &Corner, linkage: &Linkage, rack: f64, reach: Reach) -> Ends {
    let at = [reach.low.at, reach.high.at];
    let placed = at.map(|travel| {
        let mut follower = Follower::new(linkage);
        // Where it ends before, it stands at its end.
        let _ = follower.go_to(State { travel, rack });
        Placed::new(corner, Some((linkage, follower.position())))
    });
    Ends { at, placed }
}

/// The paths of wheel centre, contact and the point touched last, where it moves.
fn paths(
    corner: &Corner,
    linkage: &Linkage,
    rack: f64,
    reach: Reach,
    selected: Option<PointPath>,
) -> Vec<Trace> {
    let selected = selected.filter(|path| path.holder() != Holder::Body && *path != PointPath::WheelCentre);
    let mut traces = vec![Trace::new("wheel centre".into()), Trace::new("contact".into())];
    if let Some(path) = selected {
        traces.push(Trace::new(describe::point_name(path, corner)));
    }
    let mut follower = Follower::new(linkage);
    if follower.go_to(State { travel: reach.low.at, rack }).stop().is_some() {
        follower.restart();
    }
    for step in 0..PATH_POSITIONS {
        let share = f64::from(step) / f64::from(PATH_POSITIONS - 1);
        let travel = reach.low.at + share * (reach.high.at - reach.low.at);
        if follower.go_to(State { travel, rack }).stop().is_some() {
            continue;
        }
        let placed = Placed::new(corner, Some((linkage, follower.position())));
        let points = [
            placed.at(PointPath::WheelCentre),
            Some(follower.position().wheel_centre() + contact(&placed)),
            selected.and_then(|path| placed.at(path)),
        ];
        for (trace, point) in traces.iter_mut().zip(points) {
            trace.points.extend(point);
        }
    }
    traces
}

/// From the wheel centre to the lowest point of the loaded disc.
fn contact(placed: &Placed) -> Vec3 {
    let (up, spin) = (Vec3::z(), placed.spin());
    let down = spin.dot(&up) * spin - up;
    let size = down.norm();
    if size > 0.0 { placed.radius() / size * down } else { down }
}

#[cfg(test)]
mod tests {
    use super::*;
    use geometry_core::{readings::Reader, setup::example, solve::Outcome};

    #[test]
    fn a_swing_goes_from_where_it_begins_to_both_ends_and_back() {
        let (low, high) = (-85.0, 80.0);
        let begin = Swing::from(12.0, low, high);
        assert!((begin.value(low, high) - 12.0).abs() < 1e-9);
        assert!(begin.after(0.05).value(low, high) > 12.0, "upward first");
        let values: Vec<f64> = (0..600).map(|i| begin.after(0.01 * f64::from(i)).value(low, high)).collect();
        let least = values.iter().copied().fold(f64::INFINITY, f64::min);
        let most = values.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        assert!((least - low).abs() < 0.01 && (most - high).abs() < 0.01, "{least} {most}");
        assert!(values.windows(2).all(|pair| (pair[1] - pair[0]).abs() < 1.0), "no jumps");
        assert!((begin.after(PERIOD).value(low, high) - 12.0).abs() < 1e-9);
        assert!((Swing::from(500.0, low, high).value(low, high) - high).abs() < 1e-9);
        assert_eq!(Swing::from(3.0, 0.0, 0.0).value(0.0, 0.0), 0.0);
    }

    #[test]
    fn sixteen_steps_make_a_round() {
        let begin = Swing::from(-85.0, -85.0, 80.0);
        let mut swing = begin;
        for step in 1..=16 {
            swing = swing.stepped();
            if step == 8 {
                assert!((swing.value(-85.0, 80.0) - 80.0).abs() < 1e-9);
            }
        }
        assert!((swing.value(-85.0, 80.0) + 85.0).abs() < 1e-9);
    }

    #[test]
    fn a_stop_beyond_the_linkage_is_none() {
        let corner = example().front.expect("described");
        let linkage = Linkage::new(&corner, Side::Left).expect("assembled");
        let end = |to: f64| corner_end(&linkage, State::DESIGN, State { travel: to, rack: 0.0 }).travel;
        let near = Reach::between(Some(85.0), Some(80.0), 100.0);
        assert_eq!(near.within(end), near);
        let far = Reach::between(Some(900.0), None, 900.0).within(end);
        assert_eq!((far.low.why, far.high.why), (Why::Linkage, Why::Linkage));
        assert!(far.low.at > -900.0 && far.high.at < 900.0 && far.high.at > 80.0, "{far:?}");
        let Outcome::Solved(_) =
            Follower::new(&linkage).go_to(State { travel: far.high.at - 0.1, rack: 0.0 })
        else {
            panic!("it is reached")
        };
    }

    #[test]
    fn the_paths_are_those_of_the_readings() {
        let document = example();
        let corner = document.front.as_ref().expect("described");
        let linkage = Linkage::new(corner, Side::Left).expect("assembled");
        let reach = Reach::between(Some(85.0), Some(80.0), 100.0);
        let ball_joint = PointPath::ArmBallJoint(0);
        let traces = paths(corner, &linkage, 10.0, reach, Some(ball_joint));
        assert_eq!(traces.len(), 3);
        assert!(traces.iter().all(|trace| trace.points.len() == PATH_POSITIONS as usize));
        let reader = Reader::new(&linkage, &document.vehicle, Axle::Front);
        let mut follower = Follower::new(&linkage);
        let Outcome::Solved(position) = follower.go_to(State { travel: 80.0, rack: 10.0 }) else {
            panic!("it is reached")
        };
        let readings = reader.read(&position);
        let last = |i: usize| *traces[i].points.last().expect("a point");
        assert!((last(0) - Vec3::from(readings.wheel_centre)).norm() < 1e-6);
        assert!((last(1) - Vec3::from(readings.contact)).norm() < 1e-6);
        let joint = Vec3::from(ball_joint.get(corner).expect("described"));
        assert!((last(2) - position.carry(&linkage, &joint)).norm() < 1e-6);
        // A pivot on the body has no path.
        assert_eq!(paths(corner, &linkage, 0.0, reach, Some(PointPath::ArmFrontPivot(0))).len(), 2);
    }
}
