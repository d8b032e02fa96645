//! The answer's shape: the readings under their fixed names.

use std::fmt;

use geometry_core::{axle::AxleReadings, car::CarReadings, readings::Readings};
use serde::Serialize;

use crate::{AxleOut, BlocksOut, StateIn, SweepOut, SweepRow, read::ReadError};

/// All results, in the order of the states.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
pub struct Answer {
    /// One a state.
    pub results: Vec<ResultOut>,
    /// One for each axle's state asked for.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub axles: Vec<AxleOut>,
    /// One for each sweep asked for.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub sweeps: Vec<SweepOut<SweepRow>>,
    /// One for each axle's sweep asked for.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub axle_sweeps: Vec<SweepOut<AxleReadings>>,
    /// The whole car, when it was asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub car: Option<CarReadings>,
}

/// One state's readings or error.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ResultOut {
    #[serde(flatten)]
    state: StateIn,
    #[serde(skip_serializing_if = "Option::is_none")]
    readings: Option<ReadingsOut>,
    #[serde(flatten)]
    blocks: BlocksOut,
    #[serde(skip_serializing_if = "Option::is_none")]
    error: Option<Failure>,
}

impl ResultOut {
    pub(crate) fn new(state: StateIn, found: Result<(ReadingsOut, BlocksOut), Failure>) -> Self {
        let (readings, blocks, error) = match found {
            Ok((readings, blocks)) => (Some(readings), blocks, None),
            Err(error) => (None, BlocksOut::default(), Some(error)),
        };
        Self { state, readings, blocks, error }
    }

    /// The readings, when the state was reached.
    #[must_use]
    pub fn readings(&self) -> Option<&ReadingsOut> {
        self.readings.as_ref()
    }

    /// Why there are none.
    #[must_use]
    pub fn error(&self) -> Option<&Failure> {
        self.error.as_ref()
    }
}

/// What went wrong: a word for programs, a sentence for people.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Failure {
    /// Stable word.
    pub kind: String,
    /// Sentence naming the field.
    pub message: String,
}

impl Failure {
    pub(crate) fn new(kind: &str, message: &impl fmt::Display) -> Self {
        Self { kind: kind.into(), message: message.to_string() }
    }
}

impl From<ReadError> for Failure {
    fn from(error: ReadError) -> Self {
        Self::new(error.kind(), &error)
    }
}

#[derive(Serialize)]
pub(crate) struct Refused {
    pub(crate) error: Failure,
}

/// The readings under their fixed names, flat as the contract has them.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[expect(missing_docs, reason = "each field is the reading of its name in geometry_core::readings")]
pub struct ReadingsOut {
    pub camber: f64,
    pub toe: f64,
    pub wheel_centre: [f64; 3],
    pub contact: [f64; 3],
    pub half_track_change: f64,
    pub wheelbase_change: f64,
    pub camber_gain: f64,
    pub bump_steer: f64,
    pub front_view_centre: Option<[f64; 2]>,
    pub side_view_centre: Option<[f64; 2]>,
    pub contact_slope_x: Option<f64>,
    pub contact_slope_y: Option<f64>,
    pub hub_slope_x: f64,
    pub roll_centre_height: Option<f64>,
    pub kingpin_inclination: Option<f64>,
    pub caster: Option<f64>,
    pub scrub_radius: Option<f64>,
    pub mechanical_trail: Option<f64>,
    pub hub_offset: Option<f64>,
    pub hub_trail: Option<f64>,
    pub steering_axis: Option<AxisOut>,
    pub screw_pitch: Option<f64>,
    pub spring_length: Option<f64>,
    pub spring_motion_ratio: Option<f64>,
    pub damper_length: Option<f64>,
    pub damper_motion_ratio: Option<f64>,
    pub anti: AntiOut,
}

/// The steering axis.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct AxisOut {
    /// In the contact's horizontal plane, mm.
    pub point: [f64; 3],
    /// Unit vector, upward.
    pub direction: [f64; 3],
}

/// The anti-percentages.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct AntiOut {
    pub braking_friction: Option<f64>,
    pub braking_shaft: Option<f64>,
    pub driving_shaft: Option<f64>,
    pub driving_hub: Option<f64>,
}

impl From<&Readings> for ReadingsOut {
    fn from(r: &Readings) -> Self {
        let s = r.steering.as_ref();
        Self {
            camber: r.camber,
            toe: r.toe,
            wheel_centre: r.wheel_centre,
            contact: r.contact,
            half_track_change: r.half_track_change,
            wheelbase_change: r.wheelbase_change,
            camber_gain: r.camber_gain,
            bump_steer: r.bump_steer,
            front_view_centre: r.front_view_centre,
            side_view_centre: r.side_view_centre,
            contact_slope_x: r.contact_slope_x,
            contact_slope_y: r.contact_slope_y,
            hub_slope_x: r.hub_slope_x,
            roll_centre_height: r.roll_centre_height,
            kingpin_inclination: s.map(|s| s.kingpin_inclination),
            caster: s.map(|s| s.caster),
            scrub_radius: s.map(|s| s.scrub_radius),
            mechanical_trail: s.map(|s| s.mechanical_trail),
            hub_offset: s.map(|s| s.hub_offset),
            hub_trail: s.map(|s| s.hub_trail),
            steering_axis: s.map(|s| AxisOut { point: s.point, direction: s.direction }),
            screw_pitch: s.map(|s| s.screw_pitch),
            spring_length: r.spring.map(|s| s.length),
            spring_motion_ratio: r.spring.map(|s| s.motion_ratio),
            damper_length: r.damper.map(|d| d.length),
            damper_motion_ratio: r.damper.map(|d| d.motion_ratio),
            anti: AntiOut {
                braking_friction: r.anti.braking_friction,
                braking_shaft: r.anti.braking_shaft,
                driving_shaft: r.anti.driving_shaft,
                driving_hub: r.anti.driving_hub,
            },
        }
    }
}
