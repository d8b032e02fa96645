//! Words for what is read off both wheels of an axle.

use geometry_core::{
    axle::{AxleReadings, AxleState, AxleStop, Lean, WheelReadings},
    bounds::STRAIGHT_AHEAD,
    setup::Axle,
};

use super::doubt;
use crate::{
    numbers::{format_number, shows_zero},
    units::Unit,
    with_unit::retold,
};

/// A reading that belongs to the axle.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[expect(missing_docs, reason = "each is the field of the core's readings of that name")]
pub enum OfAxle {
    RollCentreHeight,
    RollCentreAcross,
    Heave,
    Track,
    TrackChange,
    MeanSteer,
    RollSteer,
    SteerPerRack,
    AckermannPercentage,
    InsideAngle,
    OutsideAngle,
    MiddleAngle,
    TurningRadius,
    TurningCircle,
    KerbToKerb,
}

/// A reading that each wheel has.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[expect(missing_docs, reason = "each is the field of the core's readings of that name")]
pub enum OfWheel {
    CamberToGround,
    Camber,
    Toe,
    Travel,
    Steer,
    SteerSinceStraight,
    SteerPerRack,
    RollCamber,
    RollSteer,
}

/// What the readings are made with: enough to say what is missing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Given {
    /// Which axle.
    pub axle: Axle,
    /// Whether the document names the wheelbase.
    pub wheelbase: bool,
    /// Whether a link steers.
    pub steers: bool,
    /// Whether the right corner is the left one's mirror image.
    pub symmetric: bool,
}

/// One of two words by the sign; none for what is shown as zero.
fn pick(unit: Unit, value: f64, plus: &'static str, minus: &'static str) -> &'static str {
    if shows_zero(&unit.here().number(value)) {
        ""
    } else if value > 0.0 {
        plus
    } else {
        minus
    }
}

const CANNOT_LEAN: &str = "the lines that give the roll centre are parallel: nothing to lean about";
const NO_STEERING: &str = "no link of this axle steers";
const NO_WHEELBASE: &str = "needs the wheelbase: tab “Car and wheel”";

impl OfAxle {
    /// All of them.
    pub const ALL: [Self; 15] = [
        Self::RollCentreHeight,
        Self::RollCentreAcross,
        Self::Heave,
        Self::Track,
        Self::TrackChange,
        Self::MeanSteer,
        Self::RollSteer,
        Self::SteerPerRack,
        Self::AckermannPercentage,
        Self::InsideAngle,
        Self::OutsideAngle,
        Self::MiddleAngle,
        Self::TurningRadius,
        Self::TurningCircle,
        Self::KerbToKerb,
    ];

    /// A stable word.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::RollCentreHeight => "roll_centre_height",
            Self::RollCentreAcross => "roll_centre_across",
            Self::Heave => "heave",
            Self::Track => "track",
            Self::TrackChange => "track_change",
            Self::MeanSteer => "mean_steer",
            Self::RollSteer => "roll_steer",
            Self::SteerPerRack => "steer_per_rack",
            Self::AckermannPercentage => "ackermann_percentage",
            Self::InsideAngle => "inside_angle",
            Self::OutsideAngle => "outside_angle",
            Self::MiddleAngle => "middle_angle",
            Self::TurningRadius => "turning_radius",
            Self::TurningCircle => "turning_circle",
            Self::KerbToKerb => "kerb_to_kerb",
        }
    }

    /// What it is called.
    #[must_use]
    pub fn label(self) -> &'static str {
        match self {
            Self::RollCentreHeight => "Roll centre, height",
            Self::RollCentreAcross => "Roll centre, sideways",
            Self::Heave => "Heave of the body",
            Self::Track => "Track",
            Self::TrackChange => "Track change",
            Self::MeanSteer => "Mean steer angle",
            Self::RollSteer => "Roll steer of the axle",
            Self::SteerPerRack => "Steer per rack travel",
            Self::AckermannPercentage => "Ackermann percentage",
            Self::InsideAngle => "Inside wheel’s angle",
            Self::OutsideAngle => "Outside wheel’s angle",
            Self::MiddleAngle => "Angle in the middle",
            Self::TurningRadius => "Turning radius",
            Self::TurningCircle => "Turning circle",
            Self::KerbToKerb => "Kerb to kerb",
        }
    }

    /// What it is; the definitions are those of the core's readings.
    #[must_use]
    pub fn definition(self) -> &'static str {
        match self {
            Self::RollCentreHeight => {
                "Height above the ground of the point where two lines meet, in the front view: each \
                 passes through a contact square to the way that contact moves against the body. \
                 With both wheels, so it holds in roll as well. (Dixon, Suspension Geometry and Computation, ch. 8)"
            }
            Self::RollCentreAcross => {
                "Where the roll centre stands sideways, along the ground from the middle between the \
                 contacts, + to the left. Zero while the car stands level and is symmetric."
            }
            Self::Heave => {
                "How far the body has dropped at its centre plane at ground level, + is bump on both \
                 wheels. It is the slider’s number while the heave is held; a body that leans about \
                 the roll centre rises or drops with it."
            }
            Self::Track => "Distance between the two contacts, along the ground across the car. (ISO 8855)",
            Self::TrackChange => "Change of the track against the design position.",
            Self::MeanSteer => {
                "Mean of both wheels’ steer angles, static toe included, + to the left. (ISO 8855, 7.1.3)"
            }
            Self::RollSteer => {
                "Change of the mean steer angle per degree of body roll, the rack held, + to the left as \
                 the body leans to the right, which it does in a bend to the left."
            }
            Self::SteerPerRack => {
                "Change of the mean steer angle with the rack, heave and roll held. For a rack it takes \
                 the place of a steering ratio."
            }
            Self::AckermannPercentage => {
                "0 % for wheels that stay parallel, 100 % where both wheels’ spin axes, in plan, meet on \
                 the other axle’s line (Ackermann geometry: ISO 8855, 7.1.9). Angles count from straight ahead."
            }
            Self::InsideAngle => {
                "By how much the wheel on the inside of the bend has turned since straight ahead, + as its axle steers the car: \
                 into the bend in front, out of it behind."
            }
            Self::OutsideAngle => {
                "By how much the wheel on the outside of the bend has turned since straight ahead, + as its axle steers the car: \
                 into the bend in front, out of it behind."
            }
            Self::MiddleAngle => {
                "Steer angle of one wheel in the middle of the axle that would turn about the same centre, + to the left."
            }
            Self::TurningRadius => {
                "Radius, at the middle of the other axle, on which the car turns at low speed: the turning \
                 centre lies in the middle between the places where the two wheels’ spin axes cross the other axle’s line."
            }
            Self::TurningCircle => {
                "Diameter of the circle of the outside wheel’s contact at low speed, without sideslip."
            }
            Self::KerbToKerb => {
                "Diameter of the circle that the outside tyre’s outer edge keeps within: the turning circle \
                 and the tyre’s width."
            }
        }
    }

    fn unit(self) -> Unit {
        match self {
            Self::RollCentreHeight
            | Self::RollCentreAcross
            | Self::Heave
            | Self::Track
            | Self::TrackChange => Unit::Millimetre,
            Self::MeanSteer | Self::InsideAngle | Self::OutsideAngle | Self::MiddleAngle => Unit::Degree,
            Self::RollSteer => Unit::DegreePerDegree,
            Self::SteerPerRack => Unit::DegreePerMillimetre,
            Self::AckermannPercentage => Unit::Percent,
            Self::TurningRadius | Self::TurningCircle | Self::KerbToKerb => Unit::Distance,
        }
    }

    /// Its number, where it exists.
    #[must_use]
    pub fn value(self, readings: &AxleReadings) -> Option<f64> {
        let turning = readings.turning.as_ref();
        match self {
            Self::RollCentreHeight => readings.roll_centre.map(|centre| centre.height),
            Self::RollCentreAcross => readings.roll_centre.map(|centre| centre.across),
            Self::Heave => Some(readings.heave),
            Self::Track => Some(readings.track),
            Self::TrackChange => Some(readings.track_change),
            Self::MeanSteer => Some(readings.mean_steer),
            Self::RollSteer => readings.roll_steer,
            Self::SteerPerRack => readings.steer_per_rack,
            Self::AckermannPercentage => readings.ackermann_percentage,
            Self::InsideAngle => turning.map(|turning| turning.inside_angle),
            Self::OutsideAngle => turning.map(|turning| turning.outside_angle),
            Self::MiddleAngle => turning.map(|turning| turning.middle_angle),
            Self::TurningRadius => turning.map(|turning| turning.centre.abs()),
            Self::TurningCircle => turning.map(|turning| turning.turning_circle),
            Self::KerbToKerb => turning.and_then(|turning| turning.kerb_to_kerb),
        }
    }

    /// Number and unit.
    #[must_use]
    pub fn show(self, value: f64) -> String {
        self.unit().show(value)
    }

    /// How uncertain a number is beside it; see [`doubt::doubted`].
    #[must_use]
    pub fn doubt(self, value: f64, uncertainty: f64) -> String {
        doubt::doubted(value, uncertainty, self.unit())
    }

    /// The same of a difference; see [`doubt::of_difference`].
    #[must_use]
    pub fn doubt_of_difference(self, by: f64, uncertainty: f64) -> String {
        doubt::of_difference(by, uncertainty, self.unit())
    }

    /// What the sign means.
    #[must_use]
    pub fn sign(self, value: f64, readings: &AxleReadings, axle: Axle) -> &'static str {
        let pick = |plus, minus| pick(self.unit(), value, plus, minus);
        match self {
            Self::RollCentreHeight => pick("above the ground", "below the ground"),
            Self::RollCentreAcross => pick("left of the middle", "right of the middle"),
            Self::Heave => pick("the body has dropped", "the body has risen"),
            Self::Track => "between the contacts",
            Self::TrackChange => pick("wider than as described", "narrower than as described"),
            Self::MeanSteer | Self::MiddleAngle => pick("to the left", "to the right"),
            Self::RollSteer => match axle {
                Axle::Front => pick("into the bend: roll oversteer", "out of the bend: roll understeer"),
                Axle::Rear => pick("into the bend: roll understeer", "out of the bend: roll oversteer"),
            },
            Self::SteerPerRack => {
                pick("to the left as the rack goes left", "to the right as the rack goes left")
            }
            Self::AckermannPercentage => pick("towards Ackermann geometry", "away from Ackermann geometry"),
            // Rear wheels that turn to the left take the car to the right.
            Self::InsideAngle | Self::OutsideAngle => match axle {
                Axle::Front => pick("into the bend", "out of the bend"),
                Axle::Rear => pick("out of the bend", "into the bend"),
            },
            Self::TurningRadius => match readings.turning {
                Some(turning) if turning.centre > 0.0 => "centre to the left",
                _ => "centre to the right",
            },
            Self::TurningCircle => "across, outside contact",
            Self::KerbToKerb => "across, outer edge of the tyre",
        }
    }

    /// Why it does not exist, and what would help.
    #[must_use]
    pub fn missing(self, readings: &AxleReadings, given: Given) -> &'static str {
        match self {
            Self::RollCentreHeight | Self::RollCentreAcross => "the lines through the contacts are parallel",
            Self::RollSteer => CANNOT_LEAN,
            Self::SteerPerRack => NO_STEERING,
            _ if !given.steers => NO_STEERING,
            _ if !given.wheelbase => NO_WHEELBASE,
            Self::KerbToKerb if readings.turning.is_some() => {
                "needs the tyre’s size, such as 235/40 R18: tab “Car and wheel”"
            }
            Self::AckermannPercentage if readings.state.rack.abs() < STRAIGHT_AHEAD => {
                "the wheels stand nearly straight ahead; move the rack farther"
            }
            _ if readings.state.rack == 0.0 => "the wheels stand straight ahead; move the rack",
            _ => "the wheels do not turn the same way",
        }
    }
}

impl OfWheel {
    /// All of them.
    pub const ALL: [Self; 9] = [
        Self::CamberToGround,
        Self::Camber,
        Self::Toe,
        Self::Travel,
        Self::Steer,
        Self::SteerSinceStraight,
        Self::SteerPerRack,
        Self::RollCamber,
        Self::RollSteer,
    ];

    /// A stable word.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::CamberToGround => "camber_to_ground",
            Self::Camber => "camber",
            Self::Toe => "toe",
            Self::Travel => "travel",
            Self::Steer => "steer",
            Self::SteerSinceStraight => "steer_since_straight",
            Self::SteerPerRack => "steer_per_rack",
            Self::RollCamber => "roll_camber",
            Self::RollSteer => "roll_steer",
        }
    }

    /// What it is called.
    #[must_use]
    pub fn label(self) -> &'static str {
        match self {
            Self::CamberToGround => "Camber to the ground",
            Self::Camber => "Camber to the body",
            Self::Toe => "Toe",
            Self::Travel => "Wheel travel",
            Self::Steer => "Steer angle",
            Self::SteerSinceStraight => "Steer since straight ahead",
            Self::SteerPerRack => "Steer per rack travel",
            Self::RollCamber => "Camber per ° of roll",
            Self::RollSteer => "Roll steer",
        }
    }

    /// What it is; the definitions are those of the core's readings.
    #[must_use]
    pub fn definition(self) -> &'static str {
        match self {
            Self::CamberToGround => {
                "Angle of the wheel plane from the line square to the ground, + top outward: what the tyre feels. (ISO 8855)"
            }
            Self::Camber => "Angle of the wheel plane from the body’s own vertical, + top outward.",
            Self::Toe => {
                "Angle, on the ground, of the wheel plane’s line against the car’s forward direction, + front inward."
            }
            Self::Travel => "Travel of the wheel centre against the body, along the body’s vertical, + bump.",
            Self::Steer => {
                "Toe as a steer angle, static toe included, + to the left for both wheels. (ISO 8855)"
            }
            Self::SteerSinceStraight => {
                "Steer angle since the rack stood straight ahead, heave and roll the same, + to the left for both wheels."
            }
            Self::SteerPerRack => {
                "Change of the steer angle with the rack, heave and roll held, + to the left."
            }
            Self::RollCamber => {
                "Change of the camber to the ground per degree of body roll (to the right), + top outward."
            }
            Self::RollSteer => {
                "Change of the steer angle per degree of body roll (to the right), + to the left."
            }
        }
    }

    fn unit(self) -> Unit {
        match self {
            Self::CamberToGround | Self::Camber | Self::Toe | Self::Steer | Self::SteerSinceStraight => {
                Unit::Degree
            }
            Self::Travel => Unit::Millimetre,
            Self::SteerPerRack => Unit::DegreePerMillimetre,
            Self::RollCamber | Self::RollSteer => Unit::DegreePerDegree,
        }
    }

    /// Its number, where it exists.
    #[must_use]
    pub fn value(self, wheel: &WheelReadings) -> Option<f64> {
        match self {
            Self::CamberToGround => Some(wheel.camber_to_ground),
            Self::Camber => Some(wheel.camber),
            Self::Toe => Some(wheel.toe),
            Self::Travel => Some(wheel.travel),
            Self::Steer => Some(wheel.steer),
            Self::SteerSinceStraight => wheel.steer_since_straight,
            Self::SteerPerRack => wheel.steer_per_rack,
            Self::RollCamber => wheel.roll_camber,
            Self::RollSteer => wheel.roll_steer,
        }
    }

    /// Number and unit.
    #[must_use]
    pub fn show(self, value: f64) -> String {
        self.unit().show(value)
    }

    /// How uncertain a number is beside it; see [`doubt::doubted`].
    #[must_use]
    pub fn doubt(self, value: f64, uncertainty: f64) -> String {
        doubt::doubted(value, uncertainty, self.unit())
    }

    /// The same of a difference; see [`doubt::of_difference`].
    #[must_use]
    pub fn doubt_of_difference(self, by: f64, uncertainty: f64) -> String {
        doubt::of_difference(by, uncertainty, self.unit())
    }

    /// What the sign means.
    #[must_use]
    pub fn sign(self, value: f64) -> &'static str {
        let (plus, minus) = match self {
            Self::CamberToGround | Self::Camber => ("top leans out", "top leans in"),
            Self::Toe => ("front points in", "front points out"),
            Self::Travel => ("bump", "rebound"),
            Self::Steer | Self::SteerSinceStraight | Self::SteerPerRack | Self::RollSteer => {
                ("to the left", "to the right")
            }
            Self::RollCamber => ("top goes out", "top goes in"),
        };
        pick(self.unit(), value, plus, minus)
    }

    /// Why it does not exist.
    #[must_use]
    pub fn missing(self, given: Given) -> &'static str {
        match self {
            Self::RollCamber | Self::RollSteer => CANNOT_LEAN,
            Self::SteerSinceStraight if given.steers => "straight ahead is not reached from here",
            _ => NO_STEERING,
        }
    }
}

/// A choice of how the body leans, and what it means.
#[must_use]
pub fn lean(lean: Lean) -> (&'static str, &'static str) {
    match lean {
        Lean::HeaveHeld => {
            ("Heave held", "the body’s point on the centre plane at ground level keeps its height")
        }
        Lean::RollCentre => {
            ("About the roll centre", "the body turns about the roll centre, wherever that moves to")
        }
    }
}

/// Why the axle does not go where the sliders ask, and where it stands instead.
#[must_use]
pub fn why_stopped(stop: &AxleStop, reached: &AxleState) -> String {
    format!(
        "{}. The drawing stands at heave {}, roll {}°, rack {}.",
        super::capital(&retold(&stop.to_string())),
        Unit::Millimetre.show(reached.heave),
        format_number(reached.roll, 1),
        Unit::Millimetre.show(reached.rack)
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use geometry_core::{
        axle::{AxleFollower, AxleReader, WheelPair},
        setup::{Document, example},
    };

    fn read(document: &Document, roll: f64, rack: f64) -> AxleReadings {
        let pair = WheelPair::of(document, Axle::Front).expect("assembled").expect("described");
        let state = AxleState { heave: 0.0, roll, rack };
        let position = AxleFollower::new(&pair).go_to(state, Lean::HeaveHeld).expect("in reach");
        AxleReader::new(&pair, &document.vehicle).read(&position)
    }

    const GIVEN: Given = Given { axle: Axle::Front, wheelbase: true, steers: true, symmetric: true };

    #[test]
    fn signs_of_both_wheels_are_said_in_words() {
        let readings = read(&example(), 3.0, 0.0);
        let camber = |wheel: &WheelReadings| OfWheel::CamberToGround.sign(wheel.camber_to_ground);
        // A body that leans to the right takes both tops along to the right.
        assert_eq!(camber(&readings.left), "top leans in");
        assert_eq!(camber(&readings.right), "top leans out");
        assert_eq!(OfWheel::Travel.sign(readings.left.travel), "rebound");
        assert_eq!(OfWheel::Travel.sign(readings.right.travel), "bump");
        assert_eq!(OfWheel::Toe.sign(0.004), "", "what is shown as zero has no sign");
    }

    #[test]
    fn a_missing_input_is_named_with_the_place_where_it_is_given() {
        let mut document = example();
        let straight = read(&document, 0.0, 0.0);
        assert!(OfAxle::TurningCircle.value(&straight).is_none());
        assert!(OfAxle::TurningCircle.missing(&straight, GIVEN).contains("move the rack"));
        let turned = read(&document, 0.0, 20.0);
        assert!(OfAxle::KerbToKerb.value(&turned).is_some_and(|value| value > 5_000.0));
        // Its tie rod is behind the wheel centre: a rack to the left steers to the right.
        assert_eq!(OfAxle::TurningRadius.sign(1.0, &turned, Axle::Front), "centre to the right");

        document.front.as_mut().expect("described").wheel.tyre = None;
        let turned = read(&document, 0.0, 20.0);
        assert!(OfAxle::KerbToKerb.value(&turned).is_none());
        assert!(OfAxle::KerbToKerb.missing(&turned, GIVEN).contains("tyre’s size"));

        document.vehicle.wheelbase = None;
        let turned = read(&document, 0.0, 20.0);
        let given = Given { wheelbase: false, ..GIVEN };
        for quantity in [OfAxle::AckermannPercentage, OfAxle::TurningCircle, OfAxle::InsideAngle] {
            assert!(quantity.value(&turned).is_none());
            assert!(quantity.missing(&turned, given).contains("wheelbase"));
        }
    }
}
