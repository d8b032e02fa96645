//! What a millimetre does: the derivative of every reading with respect to every measured
//! number and to every adjustment of the built car.
//!
//! Two questions, kept apart by [`Kind`]. *Redrawn*: a coordinate of the description is another
//! one (a pivot was measured 1 mm off); camber and toe at rest stay as described. *Adjusted*:
//! a part of the built car is altered (a shim under a pivot, a link turned longer, a joint
//! moved on the knuckle); rigid parts keep their dimensions and the wheel goes where the
//! linkage takes it, so that camber and toe change. [`Parameter::apply`] gives the altered
//! corner itself, for any amount.
//!
//! The derivatives are central differences of solved positions at steps h, h/2 and h/4,
//! extrapolated twice to h = 0 (Richardson, Phil. Trans. R. Soc. A 210, 1911, p. 307), which
//! leaves a term in h⁶; the change by the last extrapolation is told as the error and is,
//! where the steps are small enough, far above what is left.
//!
//! ```
//! use geometry_core::{readings::Quantity, sensitivity::{Parameter, Sensitivity}};
//! use geometry_core::{setup::{example, Axle, Side}, solve::State};
//!
//! let document = example();
//! let corner = document.corner(Axle::Front).expect("the example has a front axle");
//! let found = Sensitivity::of(corner, Side::Left, &document.vehicle, Axle::Front, State::DESIGN)
//!     .expect("the design position is reached");
//! // A longer tie rod behind the wheel's centre toes the wheel in, about 0.43° a millimetre.
//! let tie_rod = Parameter::LinkLength { link: 2 };
//! let toe = found.derivative(tie_rod, Quantity::Toe).expect("it exists");
//! assert!((0.4..0.5).contains(&toe.value), "{toe:?}");
//! // The table says what counts most, first.
//! let table = found.table(Quantity::Camber);
//! assert!(table.rows[0].effect.unwrap().abs() >= table.rows[1].effect.unwrap().abs());
//! ```

mod adjust;
mod parameter;

pub use parameter::{Kind, Parameter};

use alloc::{string::ToString, vec::Vec};
use core::fmt;

use crate::{
    bounds::{
        DERIVATIVE_FOUND, DIFFERENCE_SHARE, LENGTH_CHANGE, OutOfBounds, RACK, TRAVEL, WHEEL_ANGLE,
        WIDEST_DIFFERENCE,
    },
    float::norm,
    linkage::{Linkage, LinkageError},
    readings::{Quantity, Reader, Readings, quantity::Unit},
    setup::{Axle, Corner, Point, Side, Vehicle},
    solve::{Follower, Outcome, Position, State},
};

/// How many readings there are.
const READINGS: usize = Quantity::ALL.len();

/// One number for each of [`Quantity::ALL`].
type Values = [Option<f64>; READINGS];

/// The derivative of a reading, in the reading's unit per mm or per °.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Derivative {
    /// The derivative.
    pub value: f64,
    /// How much the last extrapolation changed it; what is left is less.
    pub error: f64,
}

/// Every reading's derivative with respect to every parameter, in one state of one corner.
#[derive(Debug, Clone, PartialEq)]
pub struct Sensitivity {
    state: State,
    values: Values,
    columns: Vec<(Parameter, [Option<Derivative>; READINGS])>,
}

/// What a reading depends on, by effect.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Table {
    /// The reading.
    #[cfg_attr(feature = "serde", serde(serialize_with = "crate::readings::quantity::as_name"))]
    pub quantity: Quantity,
    /// Its value in the state; `None` where it does not exist.
    pub value: Option<f64>,
    /// Every parameter, the largest effect first; those without a derivative last.
    pub rows: Vec<Row>,
}

/// One parameter's effect on a reading.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Row {
    /// What changes.
    pub parameter: Parameter,
    /// Whether the description changes or the built car.
    pub kind: Kind,
    /// Reading's unit per mm, or per ° for camber and toe; `None` where the reading or the
    /// changed corner does not exist.
    pub derivative: Option<f64>,
    /// Of the derivative, see [`Derivative::error`].
    pub error: Option<f64>,
    /// Derivative times [`Parameter::typical`], in the reading's unit.
    pub effect: Option<f64>,
}

/// What one parameter does to every reading.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Column {
    /// What changes.
    pub parameter: Parameter,
    /// Whether the description changes or the built car.
    pub kind: Kind,
    /// In the order of [`Quantity::ALL`].
    pub rows: Vec<ColumnRow>,
}

/// One reading's answer to a parameter; as in [`Row`].
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct ColumnRow {
    /// The reading.
    #[cfg_attr(feature = "serde", serde(serialize_with = "crate::readings::quantity::as_name"))]
    pub quantity: Quantity,
    /// Reading's unit per mm, or per ° for camber and toe.
    pub derivative: Option<f64>,
    /// Of the derivative, see [`Derivative::error`].
    pub error: Option<f64>,
    /// Derivative times [`Parameter::typical`], in the reading's unit.
    pub effect: Option<f64>,
}

/// Why there are no derivatives, or no changed corner.
#[derive(Debug, Clone, PartialEq)]
pub enum SensitivityError {
    /// The state, or an amount, is out of range.
    Bounds(OutOfBounds),
    /// The corner, or what the change makes of it, is no linkage.
    Linkage(LinkageError),
    /// The state is not reached.
    NotReached {
        /// As in [`Outcome::kind`].
        kind: &'static str,
        /// The last state reached on the way.
        last: State,
    },
    /// The corner has no such member or joint.
    Missing(Parameter),
    /// With this change no pose of the same assembly closes the linkage.
    DoesNotClose(Parameter),
}

impl From<OutOfBounds> for SensitivityError {
    fn from(error: OutOfBounds) -> Self {
        Self::Bounds(error)
    }
}

impl From<LinkageError> for SensitivityError {
    fn from(error: LinkageError) -> Self {
        Self::Linkage(error)
    }
}

impl SensitivityError {
    /// A stable word for programs.
    #[must_use]
    pub fn kind(&self) -> &'static str {
        match self {
            Self::Bounds(_) => "field",
            Self::Linkage(error) => error.kind(),
            Self::NotReached { kind, .. } => kind,
            Self::Missing(_) => "no_such_parameter",
            Self::DoesNotClose(_) => "does_not_close",
        }
    }
}

impl fmt::Display for SensitivityError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Bounds(error) => write!(f, "{error}"),
            Self::Linkage(error) => write!(f, "{error}"),
            Self::NotReached { last, .. } => write!(
                f,
                "the state is not reached; the linkage goes no further than travel {:.2} mm, rack {:.2} mm",
                last.travel, last.rack
            ),
            Self::Missing(parameter) => write!(f, "the corner has no {parameter}"),
            Self::DoesNotClose(parameter) => {
                write!(f, "{parameter}: changed so far, the members no longer meet; use a smaller amount")
            }
        }
    }
}

impl core::error::Error for SensitivityError {}

impl Parameter {
    /// The corner changed by `amount` (mm or °): the description with one number changed, or
    /// the altered car as it now stands, its wheel centre at the old height. Springs and
    /// whatever else a member carries have moved with it.
    ///
    /// # Errors
    /// When the amount is out of range, the corner lacks the part, or no linkage comes of it.
    pub fn apply(self, corner: &Corner, side: Side, amount: f64) -> Result<Corner, SensitivityError> {
        let bound = if self.unit() == Unit::Degree { WHEEL_ANGLE } else { LENGTH_CHANGE };
        bound.check(&self.to_string(), amount)?;
        Linkage::new(corner, side)?;
        let mut changed = corner.clone();
        self.shift(&mut changed, amount).ok_or(SensitivityError::Missing(self))?;
        if self.kind() == Kind::Adjusted {
            changed =
                adjust::adjusted(corner, side, self, amount).ok_or(SensitivityError::DoesNotClose(self))?;
        }
        Linkage::new(&changed, side)?;
        Ok(changed)
    }
}

impl Sensitivity {
    /// All derivatives of a corner of `vehicle`'s `axle` in a state. `side` says on which side
    /// the corner's points are.
    ///
    /// # Errors
    /// When the state is out of range or not reached, or the corner is no linkage.
    pub fn of(
        corner: &Corner,
        side: Side,
        vehicle: &Vehicle,
        axle: Axle,
        state: State,
    ) -> Result<Self, SensitivityError> {
        TRAVEL.check("travel", state.travel)?;
        RACK.check("rack", state.rack)?;
        let linkage = Linkage::new(corner, side)?;
        let position = match Follower::new(&linkage).go_to(state) {
            Outcome::Solved(position) => position,
            short => {
                let last = short.stop().map_or(State::DESIGN, |stop| stop.last);
                return Err(SensitivityError::NotReached { kind: short.kind(), last });
            }
        };
        let reader = Reader::new(&linkage, vehicle, axle);
        let at_rest = reader.read(Follower::new(&linkage).position());
        let work = Work { side, vehicle, axle, corner: bare(corner), position, at_rest };
        let parameters = Parameter::all(corner);
        let widest = WIDEST_DIFFERENCE.min(DIFFERENCE_SHARE * shortest(corner));
        let values = values(&reader.read(&position));
        let columns = parameters.into_iter().map(|p| (p, work.derivatives(p, &values, widest))).collect();
        Ok(Self { state, values, columns })
    }

    /// The state.
    #[must_use]
    pub fn state(&self) -> State {
        self.state
    }

    /// The parameters, in the order of [`Parameter::all`].
    pub fn parameters(&self) -> impl Iterator<Item = Parameter> {
        self.columns.iter().map(|(parameter, _)| *parameter)
    }

    /// The value of a reading in the state; `None` where it does not exist.
    #[must_use]
    pub fn value(&self, quantity: Quantity) -> Option<f64> {
        of(&self.values, quantity)
    }

    /// One derivative; `None` where the corner has no such parameter, the reading does not
    /// exist, or the changed corner is none.
    #[must_use]
    pub fn derivative(&self, parameter: Parameter, quantity: Quantity) -> Option<Derivative> {
        let (_, column) = self.columns.iter().find(|(known, _)| *known == parameter)?;
        of(column, quantity)
    }

    /// What a reading depends on, the largest effect first.
    #[must_use]
    pub fn table(&self, quantity: Quantity) -> Table {
        let mut rows: Vec<Row> = (self.columns.iter())
            .map(|(parameter, column)| {
                let (derivative, error, effect) = parts(*parameter, of(column, quantity));
                Row { parameter: *parameter, kind: parameter.kind(), derivative, error, effect }
            })
            .collect();
        // What has none goes below zero. A stable sort: equals stay in the parameters' order.
        let size = |row: &Row| row.effect.map_or(-1.0, f64::abs);
        rows.sort_by(|a, b| size(b).total_cmp(&size(a)));
        Table { quantity, value: self.value(quantity), rows }
    }

    /// The tables of all readings.
    #[must_use]
    pub fn tables(&self) -> Vec<Table> {
        Quantity::ALL.iter().map(|quantity| self.table(*quantity)).collect()
    }

    /// What one parameter does to every reading; `None` where the corner has none such.
    #[must_use]
    pub fn column(&self, parameter: Parameter) -> Option<Column> {
        let (_, column) = self.columns.iter().find(|(known, _)| *known == parameter)?;
        let rows = Quantity::ALL.iter().zip(column).map(|(quantity, found)| {
            let (derivative, error, effect) = parts(parameter, *found);
            ColumnRow { quantity: *quantity, derivative, error, effect }
        });
        Some(Column { parameter, kind: parameter.kind(), rows: rows.collect() })
    }

    /// The columns of all parameters.
    #[must_use]
    pub fn columns(&self) -> Vec<Column> {
        self.parameters().filter_map(|parameter| self.column(parameter)).collect()
    }
}

fn parts(parameter: Parameter, found: Option<Derivative>) -> (Option<f64>, Option<f64>, Option<f64>) {
    let effect = found.map(|found| found.value * parameter.typical());
    (found.map(|found| found.value), found.map(|found| found.error), effect)
}

/// The entry of a quantity in a row of one for each.
fn of<T: Copy>(all: &[Option<T>; READINGS], quantity: Quantity) -> Option<T> {
    Quantity::ALL.iter().zip(all).find(|(known, _)| **known == quantity).and_then(|(_, value)| *value)
}

fn finite(value: f64) -> Option<f64> {
    value.is_finite().then_some(value)
}

fn values(readings: &Readings) -> Values {
    Quantity::ALL.map(|quantity| quantity.value(readings).and_then(finite))
}

/// The corner with nothing in it that no reading asks for: it is copied many times.
fn bare(corner: &Corner) -> Corner {
    let mut bare = corner.clone();
    bare.unsprung.clear();
    bare.wheel.tyre = None;
    bare
}

/// The shortest length that a linkage's shape hangs on, mm.
fn shortest(corner: &Corner) -> f64 {
    let apart = |a: Point, b: Point| norm(&(crate::Vec3::from(a) - crate::Vec3::from(b)));
    let mut least = f64::INFINITY;
    let mut take = |a: Point, b: Point| least = least.min(apart(a, b));
    for arm in &corner.arms {
        take(arm.front_pivot, arm.rear_pivot);
        take(arm.front_pivot, arm.ball_joint);
        take(arm.rear_pivot, arm.ball_joint);
    }
    corner.links.iter().for_each(|link| take(link.inboard, link.outboard));
    corner.strut.iter().for_each(|strut| take(strut.top_mount, strut.lower_end));
    corner.hinge.iter().for_each(|hinge| take(hinge.pivots[0], hinge.pivots[1]));
    corner.spring.iter().for_each(|spring| take(spring.body, spring.carried));
    corner.damper.iter().for_each(|damper| take(damper.body, damper.carried));
    if let Some(rocker) = &corner.rocker {
        take(rocker.axis[0], rocker.axis[1]);
        take(rocker.rod_end, rocker.carried);
    }
    if let Some(bar) = &corner.anti_roll_bar {
        take(bar.axis[0], bar.axis[1]);
        take(bar.arm_end, bar.carried);
    }
    least
}

/// How often the steps are made four times as short where a derivative is not found.
const TRIES: usize = 3;

/// What is the same for all differences.
struct Work<'a> {
    side: Side,
    vehicle: &'a Vehicle,
    axle: Axle,
    corner: Corner,
    position: Position,
    /// Readings of the unchanged corner in its design position.
    at_rest: Readings,
}

impl Work<'_> {
    fn derivatives(
        &self,
        parameter: Parameter,
        values: &Values,
        widest: f64,
    ) -> [Option<Derivative>; READINGS] {
        let mut best: [Option<Derivative>; READINGS] = [None; READINGS];
        let mut step = widest;
        for _ in 0..TRIES {
            let found = self.extrapolated(parameter, step);
            let mut enough = true;
            for ((best, found), (quantity, value)) in
                best.iter_mut().zip(found).zip(Quantity::ALL.iter().zip(values))
            {
                let Some(value) = value else { continue };
                if let Some(found) = found
                    && best.is_none_or(|best| found.error < best.error)
                {
                    *best = Some(found);
                }
                enough &= best.is_some_and(|best| {
                    best.error
                        <= DERIVATIVE_FOUND * (best.value.abs() + 1e-3 * value.abs()) + noise(*quantity)
                });
            }
            if enough {
                break;
            }
            step *= 0.25;
        }
        best
    }

    /// Central differences at `step` and its half and quarter, extrapolated twice.
    fn extrapolated(&self, parameter: Parameter, step: f64) -> [Option<Derivative>; READINGS] {
        let [Some(wide), Some(half), Some(quarter)] =
            [step, 0.5 * step, 0.25 * step].map(|step| self.difference(parameter, step))
        else {
            return [None; READINGS];
        };
        core::array::from_fn(|i| {
            let [wide, half, quarter] = [wide.get(i)?, half.get(i)?, quarter.get(i)?];
            let ((wide, half), quarter) = ((*wide).zip(*half)?, (*quarter)?);
            let (once, again) = ((4.0 * half - wide) / 3.0, (4.0 * quarter - half) / 3.0);
            let value = (16.0 * again - once) / 15.0;
            let error = (value - again).abs();
            (value.is_finite() && error.is_finite()).then_some(Derivative { value, error })
        })
    }

    fn difference(&self, parameter: Parameter, step: f64) -> Option<Values> {
        let (more, less) = (self.changed(parameter, step)?, self.changed(parameter, -step)?);
        let mut difference = more;
        for (more, less) in difference.iter_mut().zip(less) {
            *more = more.zip(less).map(|(more, less)| (more - less) / (2.0 * step));
        }
        Some(difference)
    }

    /// The readings of the changed corner; `None` where it is none or does not come near.
    fn changed(&self, parameter: Parameter, amount: f64) -> Option<Values> {
        match parameter.kind() {
            Kind::Redrawn => {
                let mut after = self.corner.clone();
                parameter.shift(&mut after, amount)?;
                let linkage = Linkage::assemble(&after, self.side).ok()?;
                self.read(&linkage).map(|readings| values(&readings))
            }
            Kind::Adjusted => {
                let after = adjust::adjusted(&self.corner, self.side, parameter, amount)?;
                let linkage = Linkage::assemble(&after, self.side).ok()?;
                let mut readings = self.read(&linkage)?;
                // Against the position as the car was, not as it is now.
                let ([_, was, _], [_, is, _]) = (self.at_rest.contact, readings.contact);
                readings.half_track_change = self.side.outboard() * (is - was);
                let ([was, ..], [is, ..]) = (self.at_rest.wheel_centre, readings.wheel_centre);
                readings.wheelbase_change = is - was;
                Some(values(&readings))
            }
        }
    }

    fn read(&self, linkage: &Linkage) -> Option<Readings> {
        let mut follower = Follower::beside(linkage, &self.position);
        let outcome = follower.go_to(self.position.state());
        Some(Reader::new(linkage, self.vehicle, self.axle).read(outcome.position()?))
    }
}

/// Errors below this are rounding: coordinates of some metres are held to 1e-12 mm.
fn noise(quantity: Quantity) -> f64 {
    match quantity.unit() {
        Unit::Millimetre | Unit::MillimetrePerRadian | Unit::Percent => 1e-8,
        Unit::Degree => 1e-9,
        Unit::DegreePerMillimetre | Unit::Ratio => 1e-11,
    }
}
