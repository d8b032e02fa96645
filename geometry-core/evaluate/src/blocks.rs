//! What a request may ask for beside the readings: blocks of a state, axles, the car.
//!
//! Every block is the core's own output written as it stands, under the names of its fields.

use geometry_core::{
    axle::{AxleFollower, AxleReader, AxleReadings, AxleState, Lean},
    car::{AxleRates, Car, CarInput, CarReadings, Shares},
    construction::Construction,
    linkage::Linkage,
    readings::{Quantity, Reader},
    sensitivity::{Sensitivity, Table},
    setup::{Axle, Corner, Document, Side},
    solve::{Follower, Position},
    springing::{self, Springing},
    statics::{Case, Forces, Given, Statics, SteeringKick},
    wheel::Envelope,
};
use serde::{Deserialize, Serialize};

use crate::Failure;

/// A block that is answered beside a state's readings when it is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Block {
    /// Springs, bars and dampers: lengths, ratios, rates, frequencies.
    Springing,
    /// The wheel's envelope: barrel, disc, tyre section, where the joints stand in them.
    Envelope,
    /// Forces in every member, case by case, and the steering kick.
    Forces,
    /// How each reading is found, with the textbook's shortcut.
    Construction,
    /// What each number and adjustment does to each reading.
    Sensitivity,
}

/// The blocks of one state.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
pub struct BlocksOut {
    #[serde(skip_serializing_if = "Option::is_none")]
    springing: Option<Springing>,
    #[serde(skip_serializing_if = "Option::is_none")]
    envelope: Option<Envelope>,
    #[serde(skip_serializing_if = "Option::is_none")]
    forces: Option<Vec<CaseOut>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    steering_kick: Option<SteeringKick>,
    #[serde(skip_serializing_if = "Option::is_none")]
    construction: Option<Vec<Construction>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    sensitivity: Option<Vec<Table>>,
}

/// One load case's forces, or why there are none.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CaseOut {
    case: Case,
    #[serde(skip_serializing_if = "Option::is_none")]
    forces: Option<Forces>,
    #[serde(skip_serializing_if = "Option::is_none")]
    error: Option<Failure>,
}

/// A corner and all that a state of it is answered from.
pub(crate) struct Asked<'a> {
    pub(crate) document: &'a Document,
    pub(crate) axle: Axle,
    pub(crate) corner: &'a Corner,
    pub(crate) linkage: &'a Linkage,
    pub(crate) blocks: &'a [Block],
    pub(crate) cases: &'a [Case],
}

impl Asked<'_> {
    /// The blocks of the state in which the follower stands.
    pub(crate) fn blocks(&self, follower: &Follower<'_>) -> BlocksOut {
        let Self { document, axle, corner, linkage, .. } = *self;
        let position = follower.position();
        let mut out = BlocksOut::default();
        for block in self.blocks {
            match block {
                Block::Springing => {
                    let reader = springing::Reader::new(linkage, corner, &document.vehicle, axle);
                    out.springing = Some(reader.read(follower));
                }
                Block::Envelope => out.envelope = Some(Envelope::of(corner, Side::Left)),
                Block::Forces => {
                    let statics = Statics::new(corner, linkage);
                    let usual = Case::usual();
                    let cases = if self.cases.is_empty() { &usual } else { self.cases };
                    out.forces = Some(cases.iter().map(|case| self.case(&statics, position, case)).collect());
                    out.steering_kick = statics.steering_kick(position);
                }
                Block::Construction => {
                    let readings = Reader::new(linkage, &document.vehicle, axle).read(position);
                    let of = |quantity| Construction::of(quantity, corner, linkage, position, &readings);
                    out.construction = Some(Quantity::ALL.into_iter().filter_map(of).collect());
                }
                Block::Sensitivity => {
                    let state = position.state();
                    let found = Sensitivity::of(corner, Side::Left, &document.vehicle, axle, state);
                    out.sensitivity = found.ok().map(|found| found.tables());
                }
            }
        }
        out
    }

    fn case(&self, statics: &Statics<'_>, position: &Position, case: &Case) -> CaseOut {
        let loads = statics.loads(case, &self.document.vehicle, self.axle);
        let found = loads.and_then(|loads| statics.forces(position, &loads, &Given::default()));
        let (forces, error) = match found {
            Ok(forces) => (Some(forces), None),
            Err(error) => (None, Some(Failure::new(error.kind(), &error))),
        };
        CaseOut { case: case.clone(), forces, error }
    }
}

/// A state of both wheels of an axle.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AxleStateIn {
    /// Which axle.
    pub axle: Axle,
    /// How far the body has dropped, mm.
    #[serde(default)]
    pub heave: f64,
    /// How far the body leans, °, + to the right.
    #[serde(default)]
    pub roll: f64,
    /// Displacement of the rack, mm.
    #[serde(default)]
    pub rack: f64,
    /// What the body's height does while it leans.
    #[serde(default)]
    pub lean: Lean,
}

/// Both wheels of an axle in one state, or why it is not reached.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct AxleOut {
    axle: Axle,
    lean: Lean,
    #[serde(skip_serializing_if = "Option::is_none")]
    readings: Option<AxleReadings>,
    #[serde(skip_serializing_if = "Option::is_none")]
    error: Option<Failure>,
}

/// What the whole car is read in.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct CarIn {
    /// Lateral acceleration, g, + to the left.
    pub lateral_acceleration: f64,
    /// Shares of braking and driving; the document's when absent.
    pub shares: Option<Shares>,
}

impl Default for CarIn {
    fn default() -> Self {
        Self { lateral_acceleration: 1.0, shares: None }
    }
}

pub(crate) fn axle(document: &Document, car: &Car, asked: &AxleStateIn) -> AxleOut {
    let found = match car.pair(asked.axle) {
        None => Err(crate::no_such_corner(asked.axle)),
        Some(pair) => {
            let state = AxleState { heave: asked.heave, roll: asked.roll, rack: asked.rack };
            let position = AxleFollower::new(pair).go_to(state, asked.lean);
            let reader = AxleReader::new(pair, &document.vehicle);
            position.map(|p| reader.read(&p)).map_err(|stop| Failure::new(stop.kind(), &stop))
        }
    };
    let (readings, error) = match found {
        Ok(readings) => (Some(readings), None),
        Err(error) => (None, Some(error)),
    };
    AxleOut { axle: asked.axle, lean: asked.lean, readings, error }
}

/// The whole car in its design position, its rates those of the springing there.
pub(crate) fn whole_car(document: &Document, car: &Car, asked: &CarIn) -> Result<CarReadings, Failure> {
    let rates = |axle: Axle| {
        let parts = document.corner(axle).zip(car.pair(axle));
        parts.map_or_else(AxleRates::default, |(corner, pair)| {
            let linkage = pair.linkage(Side::Left);
            let reader = springing::Reader::new(linkage, corner, &document.vehicle, axle);
            AxleRates::from(&reader.read(&Follower::new(linkage)))
        })
    };
    let input = CarInput {
        front_rates: rates(Axle::Front),
        rear_rates: rates(Axle::Rear),
        shares: asked.shares,
        lateral_acceleration: asked.lateral_acceleration,
        ..CarInput::default()
    };
    car.read(&input).map_err(|error| Failure::new("field", &error))
}
