//! The named quantities of both wheels of an axle.

use super::{
    AxleFollower, AxlePosition, AxleState, DEGREES, Lean, WheelPair,
    ground::{Ground, Touch, lines_meet},
    turning::{PlanWheel, Turning, ackermann_percentage},
};
use crate::{
    Vec3,
    bounds::STRAIGHT_AHEAD,
    float::{asin, atan2, sqrt},
    readings::{Reader, Readings},
    screw::Twist,
    setup::{Axle, Point, Side, Vehicle},
};

/// Everything that is read off one position of an axle. Points in body axes (those of the
/// document, which the leaning body takes along), mm; angles °.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct AxleReadings {
    /// What was asked.
    pub state: AxleState,
    /// How far the body has dropped at its centre plane, mm; differs from the state's heave
    /// where the body leaned about the roll centre.
    pub heave: f64,
    /// Left wheel.
    pub left: WheelReadings,
    /// Right wheel; signs as for the left one: + outward, + inward.
    pub right: WheelReadings,
    /// Where the lines through both contacts meet; `None` where they are parallel.
    pub roll_centre: Option<RollCentre>,
    /// Distance between the contacts along the ground across the car, mm.
    pub track: f64,
    /// Its change against the design position, mm.
    pub track_change: f64,
    /// Mean of both wheels' steer angles, °, + to the left (ISO 8855, 7.1.3).
    pub mean_steer: f64,
    /// Change of the mean steer angle, ° per mm of rack, heave and roll held; `None` where no
    /// link steers. Its reciprocal takes the place of a steering ratio for a rack.
    pub steer_per_rack: Option<f64>,
    /// Change of the mean steer angle, ° per ° of roll, the heave going as the position's
    /// [`Lean`] says, + steers to the left as the body leans to the right (out of the roll's
    /// bend is negative in front: roll understeer). `None` where the roll centre that the
    /// body should turn about does not exist.
    pub roll_steer: Option<f64>,
    /// 0 for wheels that stay parallel, 100 for Ackermann geometry, %; see
    /// [`ackermann_percentage`](super::turning::ackermann_percentage). On a level symmetric car it is continued to straight
    /// ahead; else `None` there. Needs the wheelbase.
    pub ackermann_percentage: Option<f64>,
    /// Angles, centre and circle of the turn; `None` straight ahead or without a wheelbase.
    pub turning: Option<Turning>,
}

/// One wheel of an axle.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct WheelReadings {
    /// Wheel-centre travel against the body, mm, + bump.
    pub travel: f64,
    /// Wheel plane from the body's vertical, °, + top outward.
    pub camber: f64,
    /// Wheel plane from the line square to the ground, °, + top outward.
    pub camber_to_ground: f64,
    /// Wheel plane's line on the ground against the car's x, °, + front inward.
    pub toe: f64,
    /// The same as a steer angle, °, + to the left (ISO 8855).
    pub steer: f64,
    /// Steer angle since rack 0 with heave and roll the same, °, + to the left. `None` where
    /// rack 0 is not reached.
    pub steer_since_straight: Option<f64>,
    /// Where the tyre stands on the ground: the lowest point of the loaded disc over it.
    pub contact: Point,
    /// Change of the steer angle, ° per ° of roll, as [`AxleReadings::roll_steer`].
    pub roll_steer: Option<f64>,
    /// Change of the camber to the ground, ° per ° of roll.
    pub roll_camber: Option<f64>,
    /// Change of the steer angle, ° per mm of rack, heave and roll held.
    pub steer_per_rack: Option<f64>,
}

/// Where the roll centre is.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct RollCentre {
    /// [y, z] in body axes, mm.
    pub body: [f64; 2],
    /// To the left of the middle between the contacts, along the ground, mm.
    pub across: f64,
    /// Above the ground that the contacts stand on, mm.
    pub height: f64,
}

/// An axle with all that does not change while it moves.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AxleReader<'a> {
    pair: &'a WheelPair,
    readers: [Reader<'a>; 2],
    /// x of the other axle's line, mm.
    other_axle: Option<f64>,
}

/// One wheel in its own frame, where left is outboard.
struct Wheel {
    touch: Touch,
    rack: Option<Twist>,
    up: Vec3,
    across: Vec3,
    travel: f64,
    /// +1 left, −1 right: y and angles about x and z in the car are this times those here.
    sign: f64,
}

/// What the body turns about while it leans on.
#[derive(Debug, Clone, Copy)]
enum Pivot {
    /// The height of its point on the centre plane is held.
    HeaveHeld,
    /// This point, in body axes.
    At([f64; 2]),
    /// A roll centre that does not exist.
    Nowhere,
}

impl<'a> AxleReader<'a> {
    /// Prepares the readings of an axle of `vehicle`.
    #[must_use]
    pub fn new(pair: &'a WheelPair, vehicle: &Vehicle) -> Self {
        let reader = |side| Reader::new(pair.linkage(side), vehicle, pair.axle);
        let ahead = match pair.axle {
            Axle::Front => 1.0,
            Axle::Rear => -1.0,
        };
        Self {
            pair,
            readers: [reader(Side::Left), reader(Side::Right)],
            other_axle: vehicle.wheelbase.map(|wheelbase| pair.centre_x - ahead * wheelbase),
        }
    }

    /// The readings of one wheel's corner against the body, as of a left corner.
    #[must_use]
    pub fn corner(&self, position: &AxlePosition, side: Side) -> Readings {
        let [left, right] = &self.readers;
        match side {
            Side::Left => left.read(&position.left),
            Side::Right => right.read(&position.right),
        }
    }

    /// All readings of a position. Where the rack is not straight ahead, that of rack 0 is
    /// solved for the angles in between.
    #[must_use]
    pub fn read(&self, position: &AxlePosition) -> AxleReadings {
        let state = position.state;
        let [left, right] = self.wheels(position);
        let meet = lines_meet(&left.touch, &right.touch);
        let pivot = match (position.lean, meet) {
            (Lean::HeaveHeld, _) => Pivot::HeaveHeld,
            (Lean::RollCentre, Some(centre)) => Pivot::At(centre),
            (Lean::RollCentre, None) => Pivot::Nowhere,
        };
        let straight = self.straight_ahead(position);
        let tell = |wheel: &Wheel, index: usize| {
            let since = straight.map(|straight| wheel.steer() - straight[index]);
            wheel.tell(pivot, since)
        };
        let (told_left, told_right) = (tell(&left, 0), tell(&right, 1));
        let mean = |one: Option<f64>, other: Option<f64>| one.zip(other).map(|(a, b)| 0.5 * (a + b));
        let track = left.place_across() - right.place_across();
        let plan = self.plan([&left, &right], straight);
        AxleReadings {
            state,
            heave: position.heave,
            roll_centre: meet.map(|centre| Self::roll_centre(centre, &left, &right)),
            track,
            track_change: track - self.pair.track,
            mean_steer: 0.5 * (told_left.steer + told_right.steer),
            steer_per_rack: mean(
                told_left.steer_per_rack.or(self.pair.steers().then_some(0.0)),
                told_right.steer_per_rack.or(self.pair.steers().then_some(0.0)),
            ),
            roll_steer: mean(told_left.roll_steer, told_right.roll_steer),
            ackermann_percentage: if state.rack.abs() < STRAIGHT_AHEAD {
                self.ackermann_near_straight(position)
            } else {
                plan.and_then(|[left, right]| ackermann_percentage(&left, &right))
            },
            turning: plan.and_then(|[left, right]| Turning::of(left, right, self.pair.tyre_widths)),
            left: told_left,
            right: told_right,
        }
    }

    fn wheels(&self, position: &AxlePosition) -> [Wheel; 2] {
        [Side::Left, Side::Right].map(|side| {
            let linkage = self.pair.linkage(side);
            let sign = side.outboard();
            let ground = Ground::new(sign * position.state.roll / DEGREES);
            let wheel = position.wheel(side);
            Wheel {
                touch: ground.touch(linkage, wheel),
                rack: linkage.steers().then(|| wheel.rack_twist()),
                up: ground.up(),
                across: ground.across(),
                travel: wheel.state().travel,
                sign,
            }
        })
    }

    fn roll_centre(body: [f64; 2], left: &Wheel, right: &Wheel) -> RollCentre {
        let [y, z] = body;
        let point = Vec3::new(0.0, y, z);
        let middle = 0.5 * (left.place_across() + right.place_across());
        // The mean of the two contacts; in design they may stand at different heights.
        let ground = 0.5 * (left.height() + right.height());
        RollCentre { body, across: left.across.dot(&point) - middle, height: left.up.dot(&point) - ground }
    }

    /// Both wheels' steer angles with the rack straight ahead, °.
    fn straight_ahead(&self, position: &AxlePosition) -> Option<[f64; 2]> {
        let [left, right] = if position.state.rack == 0.0 || !self.pair.steers() {
            self.wheels(position)
        } else {
            self.wheels(&self.at_rack(position, 0.0)?)
        };
        Some([left.steer(), right.steer()])
    }

    /// The same heave and roll with another rack.
    fn at_rack(&self, position: &AxlePosition, rack: f64) -> Option<AxlePosition> {
        let state = AxleState { heave: position.heave, rack, ..position.state };
        AxleFollower::new(self.pair).go_to(state, Lean::HeaveHeld).ok()
    }

    fn plan(&self, wheels: [&Wheel; 2], straight: Option<[f64; 2]>) -> Option<[PlanWheel; 2]> {
        let (other_axle, straight) = self.other_axle.zip(straight)?;
        let [left, right] = wheels;
        let of = |wheel: &Wheel, straight: f64| PlanWheel {
            x: wheel.touch.contact.x - other_axle,
            y: wheel.place_across(),
            steer: wheel.steer() - straight,
        };
        Some([of(left, straight[0]), of(right, straight[1])])
    }

    /// On a level symmetric car the percentage does not change its sign with the rack's: near
    /// straight ahead it is the even parabola through its values at once and twice
    /// [`STRAIGHT_AHEAD`].
    fn ackermann_near_straight(&self, position: &AxlePosition) -> Option<f64> {
        if !self.pair.is_symmetric() || position.state.roll != 0.0 || !self.pair.steers() {
            return None;
        }
        let straight = self.straight_ahead(position);
        let at = |rack: f64| {
            let there = self.at_rack(position, rack)?;
            let [left, right] = self.wheels(&there);
            let [left, right] = self.plan([&left, &right], straight)?;
            ackermann_percentage(&left, &right)
        };
        let (near, far) = at(STRAIGHT_AHEAD).zip(at(2.0 * STRAIGHT_AHEAD))?;
        let share = position.state.rack / STRAIGHT_AHEAD;
        Some(near + (far - near) / 3.0 * (share * share - 1.0))
    }
}

impl Wheel {
    /// Across the car along the ground, mm, + left.
    fn place_across(&self) -> f64 {
        self.sign * self.across.dot(&self.touch.contact)
    }

    /// The contact's height along the ground's normal over the body's origin, mm.
    fn height(&self) -> f64 {
        self.up.dot(&self.touch.contact)
    }

    /// Steer angle, °, + to the car's left. The heading is spin axis × up: its part along x is
    /// the spin axis' part across, its part across is minus the spin axis' part along x.
    fn steer(&self) -> f64 {
        let spin = &self.touch.spin;
        -self.sign * atan2(spin.x, self.across.dot(spin)) * DEGREES
    }

    fn tell(&self, pivot: Pivot, since: Option<f64>) -> WheelReadings {
        let Touch { contact, spin, travel, velocity } = &self.touch;
        let rise = self.up.dot(velocity);
        let along = self.across.dot(spin);
        let square = spin.x * spin.x + along * along;
        // mm of travel per rad of roll in this wheel's frame, the disc kept on the ground.
        let travel_per_roll = match pivot {
            Pivot::HeaveHeld => Some(-self.across.dot(contact) / rise),
            Pivot::Nowhere => None,
            Pivot::At([y, z]) => {
                let centre = Vec3::new(0.0, self.sign * y, z);
                Some(-self.across.dot(&(contact - centre)) / rise)
            }
        };
        let per_roll = travel_per_roll.map(|per_roll| {
            let spin_rate = per_roll * travel.angular.cross(spin);
            let along_rate = self.across.dot(&spin_rate) - self.up.dot(spin);
            let steer = -(along * spin_rate.x - spin.x * along_rate) / square;
            let camber = -(self.up.dot(&spin_rate) + along) / sqrt(square);
            (steer, self.sign * camber)
        });
        let steer_per_rack = self.rack.map(|rack| {
            let follow = -self.up.dot(&rack.velocity_at(contact)) / rise;
            let spin_rate = rack.plus(follow, travel).angular.cross(spin);
            -(along * spin_rate.x - spin.x * self.across.dot(&spin_rate)) / square * DEGREES
        });
        let finite = |value: Option<f64>| value.filter(|value| value.is_finite());
        WheelReadings {
            travel: self.travel,
            camber: -asin(spin.z.clamp(-1.0, 1.0)) * DEGREES,
            camber_to_ground: -asin(self.up.dot(spin).clamp(-1.0, 1.0)) * DEGREES,
            toe: self.sign * -self.steer(),
            steer: self.steer(),
            steer_since_straight: since,
            contact: [contact.x, self.sign * contact.y, contact.z],
            roll_steer: finite(per_roll.map(|(steer, _)| steer)),
            roll_camber: finite(per_roll.map(|(_, camber)| camber)),
            steer_per_rack: finite(steer_per_rack),
        }
    }
}
