//! What a request may ask for beside the readings: blocks of a state, axles, sweeps, the car.
//!
//! Every block is the core's own output written as it stands, under the names of its fields.

use geometry_core::{
    axle::{AxleFollower, AxleReader, AxleReadings, AxleState, Lean},
    bounds,
    car::{AxleRates, Car, CarInput, CarReadings, Shares},
    construction::Construction,
    linkage::Linkage,
    motion::Sweep,
    readings::{Quantity, Reader},
    sensitivity::{Sensitivity, Table},
    setup::{Axle, Corner, Document, Side},
    solve::{Follower, Position, State},
    springing::{self, Springing},
    statics::{Case, Forces, Given, Statics, SteeringKick},
    wheel::Envelope,
};
use serde::{Deserialize, Serialize};

use crate::{Failure, ReadingsOut, StateIn, why_not_reached};

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

/// A row of states of one corner, evenly spaced, both ends included.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SweepIn {
    /// Which axle.
    pub axle: Axle,
    /// First state.
    pub from: Place,
    /// Last state.
    pub to: Place,
    /// How many states.
    pub positions: usize,
}

/// Travel and rack, mm.
#[derive(Debug, Clone, Copy, PartialEq, Default, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Place {
    /// Vertical displacement of the wheel centre.
    pub travel: f64,
    /// Displacement of the rack.
    pub rack: f64,
}

impl From<Place> for State {
    fn from(place: Place) -> Self {
        Self { travel: place.travel, rack: place.rack }
    }
}

/// A sweep: the states reached with their readings, in order, and why it ended short.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SweepOut {
    axle: Axle,
    states: Vec<SweepRow>,
    /// Why it ended before the first state, when it did.
    before: Option<Failure>,
    /// Why it ended before the last state, when it did.
    after: Option<Failure>,
}

#[derive(Debug, Clone, PartialEq, Serialize)]
struct SweepRow {
    travel: f64,
    rack: f64,
    readings: ReadingsOut,
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

/// The most positions of one sweep.
const MOST_POSITIONS: usize = 100_000;

pub(crate) fn sweep(document: &Document, linkage: &Linkage, asked: &SweepIn) -> Result<SweepOut, Failure> {
    let field = |error| Failure::new("field", &error);
    for (travel, rack, place) in
        [("from.travel", "from.rack", asked.from), ("to.travel", "to.rack", asked.to)]
    {
        bounds::TRAVEL.check(&format!("sweeps.{travel}"), place.travel).map_err(field)?;
        bounds::RACK.check(&format!("sweeps.{rack}"), place.rack).map_err(field)?;
    }
    if asked.positions > MOST_POSITIONS {
        let message = format!("sweeps.positions may be at most {MOST_POSITIONS}; it is {}", asked.positions);
        return Err(Failure { kind: "field".into(), message });
    }
    let sweep = Sweep { from: asked.from.into(), to: asked.to.into(), positions: asked.positions };
    let reader = Reader::new(linkage, &document.vehicle, asked.axle);
    // The sweep goes outward from the design position, so its rows come in two directions.
    let mut rows = Vec::new();
    rows.resize_with(asked.positions, || None);
    let reach = sweep.run(linkage, |index, position| {
        if let Some(row) = rows.get_mut(index) {
            let State { travel, rack } = position.state();
            *row = Some(SweepRow { travel, rack, readings: ReadingsOut::from(&reader.read(position)) });
        }
    });
    let why = |outcome: &geometry_core::solve::Outcome, place: Place| {
        let state = StateIn { axle: asked.axle, travel: place.travel, rack: place.rack };
        Failure { kind: outcome.kind().into(), message: why_not_reached(outcome, &state) }
    };
    Ok(SweepOut {
        axle: asked.axle,
        states: rows.into_iter().flatten().collect(),
        before: reach.before.as_ref().map(|outcome| why(outcome, asked.from)),
        after: reach.after.as_ref().map(|outcome| why(outcome, asked.to)),
    })
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
