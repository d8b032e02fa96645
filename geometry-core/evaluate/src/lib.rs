//! JSON at the edge of the core: setups read with errors that name the field, requests
//! answered with readings.
//!
//! A request is `{"setup": Document, "states": [{"axle", "travel", "rack"}, …]}`; the
//! answer `{"results": [{"axle", "travel", "rack", "readings" | "error"}, …]}`, or
//! `{"error": {"kind", "message"}}` when the setup cannot be used. Angles are in degrees,
//! numbers in full double precision; what does not exist is `null`.

mod answer;
mod blocks;
mod read;
mod rows;
pub mod workload;

pub use answer::{Answer, Failure, ReadingsOut, ResultOut};
pub use blocks::{AxleOut, AxleStateIn, Block, BlocksOut, CarIn, CaseOut};
pub use read::{ReadError, read_document, write_document};
pub use rows::{AxlePlace, AxleSweepIn, Place, RowsIn, SweepIn, SweepOut, SweepRow};

use blocks::Asked;
use geometry_core::{
    bounds::{self, Plain},
    car::Car,
    linkage::Linkage,
    readings::Reader,
    setup::{Axle, Corner, Document, Side},
    solve::{Follower, Outcome, State},
    statics::Case,
};
use serde::{Deserialize, Serialize};

/// What is asked.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Request {
    /// The car.
    pub setup: Document,
    /// The states to evaluate.
    #[serde(default)]
    pub states: Vec<StateIn>,
    /// What is wanted of each state beside its readings.
    #[serde(default)]
    pub show: Vec<Block>,
    /// Load cases for the block `forces`; the usual ones when none is given.
    #[serde(default)]
    pub cases: Vec<Case>,
    /// States of both wheels of an axle.
    #[serde(default)]
    pub axles: Vec<AxleStateIn>,
    /// Rows of states.
    #[serde(default)]
    pub sweeps: Vec<SweepIn>,
    /// Rows of states of both wheels of an axle.
    #[serde(default)]
    pub axle_sweeps: Vec<AxleSweepIn>,
    /// The whole car, when it is wanted.
    #[serde(default)]
    pub car: Option<CarIn>,
}

/// One state of one axle.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StateIn {
    /// Which axle.
    pub axle: Axle,
    /// Vertical displacement of the wheel centre, mm.
    #[serde(default)]
    pub travel: f64,
    /// Displacement of the rack, mm.
    #[serde(default)]
    pub rack: f64,
}

/// What is asked where only readings are wanted.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ReadingsRequest {
    /// The car.
    pub setup: Document,
    /// The states to evaluate.
    #[serde(default)]
    pub states: Vec<StateIn>,
}

/// The readings of each state, in the order of the states.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ReadingsAnswer {
    /// One a state.
    pub results: Vec<ReadingsResult>,
}

/// One state's readings or error.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ReadingsResult {
    #[serde(flatten)]
    state: StateIn,
    #[serde(skip_serializing_if = "Option::is_none")]
    readings: Option<ReadingsOut>,
    #[serde(skip_serializing_if = "Option::is_none")]
    error: Option<Failure>,
}

/// Reads a request and answers it, both as JSON text.
///
/// # Errors
/// The answer text in which the request as a whole failed.
pub fn answer_text(request: &str) -> Result<String, String> {
    let answer = read::read_request(request).map_err(Failure::from).and_then(|request| answer(&request));
    match answer {
        Ok(answer) => Ok(to_text(&answer)),
        Err(failure) => Err(to_text(&answer::Refused { error: failure })),
    }
}

fn to_text(value: &impl Serialize) -> String {
    // Only a map with keys that are no text could fail here; there is none.
    serde_json::to_string(value).unwrap_or_else(|error| format!("{{\"error\":{{\"message\":\"{error}\"}}}}"))
}

/// Answers a request.
///
/// # Errors
/// [`Failure`] when the document or one of its corners cannot be used at all, when a row of states is of an axle that is
/// not described, and for a number of a row or of the car that is out of its range.
pub fn answer(request: &Request) -> Result<Answer, Failure> {
    let document = &request.setup;
    let linkages = Linkages::of(document)?;
    let results = request.states.iter().map(|state| {
        let found = linkages.at(document, state.axle).and_then(|(corner, linkage)| {
            let (blocks, cases) = (&*request.show, &*request.cases);
            let asked = Asked { document, axle: state.axle, corner, linkage, blocks, cases };
            let (readings, follower) = read_state(document, linkage, state)?;
            Ok((readings, asked.blocks(&follower)))
        });
        ResultOut::new(*state, found)
    });
    let sweeps = request.sweeps.iter().map(|asked| {
        let (_, linkage) = linkages.at(document, asked.axle)?;
        asked.answer(document, linkage)
    });
    let mut answer =
        Answer { results: results.collect(), sweeps: sweeps.collect::<Result<_, _>>()?, ..Answer::default() };
    if !request.axles.is_empty() || !request.axle_sweeps.is_empty() || request.car.is_some() {
        let car = Car::new(document).map_err(|error| Failure::new(error.error.kind(), &error))?;
        answer.axles = request.axles.iter().map(|asked| blocks::axle(document, &car, asked)).collect();
        let sweeps = request.axle_sweeps.iter().map(|asked| {
            let pair = car.pair(asked.axle).ok_or_else(|| no_such_corner(asked.axle))?;
            asked.answer(document, pair)
        });
        answer.axle_sweeps = sweeps.collect::<Result<_, _>>()?;
        answer.car = request.car.map(|asked| blocks::whole_car(document, &car, &asked)).transpose()?;
    }
    Ok(answer)
}

/// Answers a request for readings alone.
///
/// # Errors
/// [`Failure`] when the document or one of its corners cannot be used at all.
pub fn readings(request: &ReadingsRequest) -> Result<ReadingsAnswer, Failure> {
    let document = &request.setup;
    let linkages = Linkages::of(document)?;
    let results = request.states.iter().map(|state| {
        let found = linkages
            .at(document, state.axle)
            .and_then(|(_, linkage)| read_state(document, linkage, state).map(|(readings, _)| readings));
        let (readings, error) = match found {
            Ok(readings) => (Some(readings), None),
            Err(error) => (None, Some(error)),
        };
        ReadingsResult { state: *state, readings, error }
    });
    Ok(ReadingsAnswer { results: results.collect() })
}

/// The left corners of a document that was checked whole.
struct Linkages {
    front: Option<Linkage>,
    rear: Option<Linkage>,
}

impl Linkages {
    /// Every corner is checked, asked for or not: a setup is good or it is not.
    fn of(document: &Document) -> Result<Self, Failure> {
        document.check().map_err(|error| Failure::new("field", &error))?;
        let linkage = |axle: Axle, side: Side| {
            let (corner, name) = match side {
                Side::Left => (document.corner(axle), axle.name()),
                Side::Right => (document.right_corner(axle), axle.right_name()),
            };
            corner.map(|corner| Linkage::new(corner, side)).transpose().map_err(|error| {
                let kind = error.kind();
                Failure::new(kind, &error.within(name))
            })
        };
        let (front, rear) = (linkage(Axle::Front, Side::Left)?, linkage(Axle::Rear, Side::Left)?);
        linkage(Axle::Front, Side::Right)?;
        linkage(Axle::Rear, Side::Right)?;
        Ok(Self { front, rear })
    }

    /// An axle's left corner and its linkage.
    fn at<'a>(&'a self, document: &'a Document, axle: Axle) -> Result<(&'a Corner, &'a Linkage), Failure> {
        let linkage = match axle {
            Axle::Front => self.front.as_ref(),
            Axle::Rear => self.rear.as_ref(),
        };
        document.corner(axle).zip(linkage).ok_or_else(|| no_such_corner(axle))
    }
}

fn no_such_corner(axle: Axle) -> Failure {
    let message = format!("{} is not described in this setup", axle.name());
    Failure { kind: "no_such_corner".into(), message }
}

fn read_state<'a>(
    document: &Document,
    linkage: &'a Linkage,
    state: &StateIn,
) -> Result<(ReadingsOut, Follower<'a>), Failure> {
    bounds::TRAVEL.check("travel", state.travel).map_err(|error| Failure::new("field", &error))?;
    bounds::RACK.check("rack", state.rack).map_err(|error| Failure::new("field", &error))?;
    let reader = Reader::new(linkage, &document.vehicle, state.axle);
    let mut follower = Follower::new(linkage);
    match follower.go_to(State { travel: state.travel, rack: state.rack }) {
        Outcome::Solved(position) => Ok((ReadingsOut::from(&reader.read(&position)), follower)),
        ended => Err(Failure { kind: ended.kind().into(), message: why_not_reached(&ended, state) }),
    }
}

/// A sentence for a state that was not reached.
fn why_not_reached(ended: &Outcome, state: &StateIn) -> String {
    let last = ended.stop().map(|stop| stop.last).unwrap_or_default();
    let asked = format!("travel {} mm, rack {} mm", Plain(state.travel), Plain(state.rack));
    let reached = format!("travel {:.1} mm, rack {:.1} mm", last.travel, last.rack).replace('-', "−");
    match ended {
        Outcome::DeadPoint(_) => {
            format!("{asked} is not reached: at {reached} the members leave the wheel no definite motion")
        }
        Outcome::OtherAssembly(_) => format!(
            "{asked} is not reached: beyond {reached} the linkage would have to be assembled another way"
        ),
        Outcome::Stalled(_) => format!("{asked} is not reached: the search stopped at {reached}"),
        Outcome::Solved(_) | Outcome::OutOfReach(_) => {
            format!("{asked} is not reached: the linkage ends at {reached}")
        }
    }
}
