//! What measuring leaves uncertain of any numbers that are computed from a setup, and of their differences from
//! those of another setup.
//!
//! Uncertainties go the way of JCGM 100:2008, 5.1.2: each input by itself is off by its own uncertainty, what
//! that makes of a number is the slope there times the uncertainty, and the parts add up as the root of the sum
//! of their squares, which takes the number for straight over that range. They are told in the sense in which they
//! are given: of standard uncertainties a standard uncertainty comes. The slopes are central differences over a
//! sixteenth of the uncertainty; where a setup cannot be read on one side, as at the end of the travel, they are
//! those to the other. An error that all points share, as of a crooked datum, is not in it.
//!
//! Of a difference it matters what both setups share. A car that is altered keeps the errors it was measured
//! with: an input that is 2 mm off is so before and after, and most of that cancels (5.2.2, note 1: inputs that are
//! wholly correlated). Another car is measured anew, and nothing cancels. [`Beside`] says which. A right corner that
//! is described is measured for itself; one that is not is the left one's mirror image, errors and all.
//!
//! ```
//! use geometry_core::setup::example;
//! use geometry_core::uncertainty::{Beside, Measured, Propagation};
//!
//! // Half of the mass, uncertain by 2 %, beside the same car's that was made 50 kg lighter, and beside another's.
//! let measured = Measured { length: 2.0, angle: 0.1, height: 20.0, proportion: 2.0 };
//! let mut car = example();
//! car.vehicle.mass = Some(1450.0);
//! let mut other = car.clone();
//! other.vehicle.mass = Some(1400.0);
//! for (beside, expected) in [(Beside::Altered, 0.0), (Beside::Apart, 0.01 * 1450_f64.hypot(1400.0))] {
//!     let mut propagation = Propagation::new(&car, Some((&other, beside)), measured);
//!     while propagation.step(|document| vec![document.vehicle.mass.map(|mass| 0.5 * mass)]) {}
//!     let found = propagation.found();
//!     assert!((found.numbers[0].unwrap() - 14.5).abs() < 1e-9);
//!     assert!((found.differences[0].unwrap() - expected).abs() < 1e-9);
//! }
//! ```

use alloc::vec::Vec;
use core::iter;

use crate::{
    float::sqrt,
    setup::{Axle, Coordinate, Corner, Document, PointPath, Side, Vehicle},
};

/// How uncertain the numbers of a setup are, each for itself.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Measured {
    /// Of every coordinate, of the loaded radius, a spring's free length and the wheelbase, mm.
    pub length: f64,
    /// Of camber and toe as they stand, °.
    pub angle: f64,
    /// Of the height of the centre of gravity, mm.
    pub height: f64,
    /// Of masses and rates, % of each. A share is that of one of two such numbers in both, so that 0 and 1
    /// are exact.
    pub proportion: f64,
}

/// What the two setups of a difference have in common.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Beside {
    /// One car, altered by known amounts: whatever both have is off by as much in both. Members are the same where
    /// their names are. A spring, bar or tyre of another rate or free length is another one and was measured for
    /// itself; so was a corner that has less than a third of its coordinates in common.
    Altered,
    /// Two cars, each measured for itself.
    Apart,
}

impl Beside {
    /// What two setups seem to be: one car where every corner that both have is the same one, and there is such a
    /// corner.
    #[must_use]
    pub fn seems(own: &Document, other: &Document) -> Self {
        let mut pairs = corners(own, other).filter_map(|(.., own, other)| own.zip(other)).peekable();
        let any = pairs.peek().is_some();
        if any && pairs.all(|(own, other)| is_same(own, other)) { Self::Altered } else { Self::Apart }
    }
}

/// The corners of two setups, axle by axle and side by side.
fn corners<'a>(
    own: &'a Document,
    other: &'a Document,
) -> impl Iterator<Item = (Axle, Side, Option<&'a Corner>, Option<&'a Corner>)> {
    [Axle::Front, Axle::Rear].into_iter().flat_map(move |axle| {
        [
            (axle, Side::Left, own.corner(axle), other.corner(axle)),
            (axle, Side::Right, own.right_corner(axle), other.right_corner(axle)),
        ]
    })
}

/// Whether a corner is the other one, altered.
fn is_same(own: &Corner, other: &Corner) -> bool {
    let (mut same, mut all) = (0, 0);
    for place in PointPath::all(own) {
        let points = place.get(own).zip(counterpart(place, own, other).and_then(|place| place.get(other)));
        all += 3;
        same += points.map_or(0, |(own, other)| own.iter().zip(&other).filter(|(a, b)| a == b).count());
    }
    3 * same >= all
}

/// The place of the same point in another corner: of a member the one of its name.
fn counterpart(place: PointPath, own: &Corner, other: &Corner) -> Option<PointPath> {
    let arm =
        |i: usize| other.arms.iter().position(|arm| Some(&arm.id) == own.arms.get(i).map(|arm| &arm.id));
    let link = |i: usize| {
        other.links.iter().position(|link| Some(&link.id) == own.links.get(i).map(|link| &link.id))
    };
    match place {
        PointPath::ArmFrontPivot(i) => arm(i).map(PointPath::ArmFrontPivot),
        PointPath::ArmRearPivot(i) => arm(i).map(PointPath::ArmRearPivot),
        PointPath::ArmBallJoint(i) => arm(i).map(PointPath::ArmBallJoint),
        PointPath::LinkInboard(i) => link(i).map(PointPath::LinkInboard),
        PointPath::LinkOutboard(i) => link(i).map(PointPath::LinkOutboard),
        single => single.get(other).map(|_| single),
    }
}

/// A number of a setup that is measured, weighed or taken from a list.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Input {
    Vehicle(OfVehicle),
    Corner(Axle, Side, OfCorner),
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum OfVehicle {
    Wheelbase,
    Mass,
    FrontMassShare,
    CgHeight,
    BrakeFrontShare,
    DriveFrontShare,
    RegenerationShare,
    RegenerationFrontShare,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum OfCorner {
    Coordinate(PointPath, Coordinate),
    LoadedRadius,
    Camber,
    Toe,
    TyreRate,
    SpringRate,
    FreeLength,
    BarRate,
    TorsionBarRate,
    PartMass(usize),
    PartShare(usize),
}

/// How the uncertainty of an input is told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Kind {
    Length,
    Angle,
    Height,
    Proportion,
    Share,
}

impl OfVehicle {
    const ALL: [Self; 8] = [
        Self::Wheelbase,
        Self::Mass,
        Self::FrontMassShare,
        Self::CgHeight,
        Self::BrakeFrontShare,
        Self::DriveFrontShare,
        Self::RegenerationShare,
        Self::RegenerationFrontShare,
    ];

    fn kind(self) -> Kind {
        match self {
            Self::Wheelbase => Kind::Length,
            Self::Mass => Kind::Proportion,
            Self::CgHeight => Kind::Height,
            Self::FrontMassShare
            | Self::BrakeFrontShare
            | Self::DriveFrontShare
            | Self::RegenerationShare
            | Self::RegenerationFrontShare => Kind::Share,
        }
    }

    fn of(self, vehicle: &mut Vehicle) -> Option<&mut f64> {
        match self {
            Self::Wheelbase => &mut vehicle.wheelbase,
            Self::Mass => &mut vehicle.mass,
            Self::FrontMassShare => &mut vehicle.front_mass_share,
            Self::CgHeight => &mut vehicle.cg_height,
            Self::BrakeFrontShare => &mut vehicle.brake_front_share,
            Self::DriveFrontShare => &mut vehicle.drive_front_share,
            Self::RegenerationShare => &mut vehicle.regeneration_share,
            Self::RegenerationFrontShare => &mut vehicle.regeneration_front_share,
        }
        .as_mut()
    }
}

impl OfCorner {
    fn all(corner: &Corner) -> impl Iterator<Item = Self> + use<> {
        let places = PointPath::all(corner).into_iter();
        let coordinates = places.flat_map(|place| Coordinate::ALL.map(|axis| Self::Coordinate(place, axis)));
        let single = [
            Self::LoadedRadius,
            Self::Camber,
            Self::Toe,
            Self::TyreRate,
            Self::SpringRate,
            Self::FreeLength,
            Self::BarRate,
            Self::TorsionBarRate,
        ];
        let parts = (0..corner.unsprung.len()).flat_map(|i| [Self::PartMass(i), Self::PartShare(i)]);
        coordinates.chain(single).chain(parts)
    }

    /// The same number of another corner; `None` where that has no such member.
    fn counterpart(self, own: &Corner, other: &Corner) -> Option<Self> {
        // Names of parts need not differ: the second of a name is the other's second.
        let part = |i: usize| {
            let name = &own.unsprung.get(i)?.name;
            let earlier = own.unsprung.iter().take(i).filter(|part| part.name == *name).count();
            let all = other.unsprung.iter().enumerate();
            all.filter(|(_, part)| part.name == *name).nth(earlier).map(|(place, _)| place)
        };
        match self {
            Self::Coordinate(place, axis) => {
                counterpart(place, own, other).map(|place| Self::Coordinate(place, axis))
            }
            Self::PartMass(i) => part(i).map(Self::PartMass),
            Self::PartShare(i) => part(i).map(Self::PartShare),
            single => Some(single),
        }
    }

    /// Whether it is of a spring, bar or tyre that is another one in the other corner.
    fn is_exchanged(self, own: &Corner, other: &Corner) -> bool {
        let spring = |corner: &Corner| corner.spring.as_ref().map(|spring| (spring.rate, spring.free_length));
        let bar = |corner: &Corner| corner.anti_roll_bar.as_ref().map(|bar| bar.rate);
        let torsion_bar = |corner: &Corner| corner.torsion_bar.as_ref().map(|bar| bar.rate);
        match self {
            Self::TyreRate => own.wheel.tyre_rate != other.wheel.tyre_rate,
            Self::SpringRate | Self::FreeLength => spring(own) != spring(other),
            Self::BarRate => bar(own) != bar(other),
            Self::TorsionBarRate => torsion_bar(own) != torsion_bar(other),
            _ => false,
        }
    }

    fn kind(self) -> Kind {
        match self {
            Self::Coordinate(..) | Self::LoadedRadius | Self::FreeLength => Kind::Length,
            Self::Camber | Self::Toe => Kind::Angle,
            Self::TyreRate | Self::SpringRate | Self::BarRate | Self::TorsionBarRate | Self::PartMass(_) => {
                Kind::Proportion
            }
            Self::PartShare(_) => Kind::Share,
        }
    }

    fn of(self, corner: &mut Corner) -> Option<&mut f64> {
        match self {
            Self::Coordinate(place, axis) => Some(axis.of_mut(place.get_mut(corner)?)),
            Self::LoadedRadius => Some(&mut corner.wheel.loaded_radius),
            Self::Camber => Some(&mut corner.wheel.camber),
            Self::Toe => Some(&mut corner.wheel.toe),
            Self::TyreRate => corner.wheel.tyre_rate.as_mut(),
            Self::SpringRate => corner.spring.as_mut()?.rate.as_mut(),
            Self::FreeLength => corner.spring.as_mut()?.free_length.as_mut(),
            Self::BarRate => corner.anti_roll_bar.as_mut()?.rate.as_mut(),
            Self::TorsionBarRate => corner.torsion_bar.as_mut()?.rate.as_mut(),
            Self::PartMass(i) => corner.unsprung.get_mut(i).map(|part| &mut part.mass),
            Self::PartShare(i) => corner.unsprung.get_mut(i)?.share.as_mut(),
        }
    }
}

impl Input {
    /// The number itself; `None` where the setup has none.
    fn of(self, document: &mut Document) -> Option<&mut f64> {
        match self {
            Self::Vehicle(one) => one.of(&mut document.vehicle),
            Self::Corner(axle, Side::Left, one) => one.of(document.corner_mut(axle)?),
            Self::Corner(Axle::Front, Side::Right, one) => one.of(document.front_right.as_mut()?),
            Self::Corner(Axle::Rear, Side::Right, one) => one.of(document.rear_right.as_mut()?),
        }
    }

    /// How uncertain it is where it has this value, in its own unit.
    fn uncertainty(self, value: f64, measured: &Measured) -> f64 {
        let kind = match self {
            Self::Vehicle(one) => one.kind(),
            Self::Corner(_, _, one) => one.kind(),
        };
        let proportion = 0.01 * measured.proportion;
        match kind {
            Kind::Length => measured.length,
            Kind::Angle => measured.angle,
            Kind::Height => measured.height,
            Kind::Proportion => proportion * value.abs(),
            // a / (a + b) where a and b are uncertain by the same proportion.
            Kind::Share => proportion * (value * (1.0 - value)).abs() * core::f64::consts::SQRT_2,
        }
    }
}

/// An input of one setup or of both.
#[derive(Debug, Clone, Copy)]
struct Task {
    own: Option<Input>,
    other: Option<Input>,
    /// Whether it is off by as much in both.
    shared: bool,
}

impl Task {
    /// All of them: each input of `own` with its counterpart in `other`, and what only `other` has.
    fn all(own: &Document, other: Option<(&Document, Beside)>) -> Vec<Self> {
        let (other, altered) =
            other.map_or((None, false), |(other, beside)| (Some(other), beside == Beside::Altered));
        let of_vehicle = OfVehicle::ALL.map(Input::Vehicle);
        let mut all: Vec<Self> = of_vehicle
            .map(|input| Self { own: Some(input), other: other.map(|_| input), shared: altered })
            .into();
        let Some(other) = other else {
            for (axle, side, corner, _) in corners(own, own) {
                let inputs = corner.into_iter().flat_map(OfCorner::all);
                let input = |one| Input::Corner(axle, side, one);
                all.extend(inputs.map(|one| Self { own: Some(input(one)), other: None, shared: false }));
            }
            return all;
        };
        for (axle, side, own, other) in corners(own, other) {
            let input = |one| Input::Corner(axle, side, one);
            let same = altered && own.zip(other).is_some_and(|(own, other)| is_same(own, other));
            let mut paired = Vec::new();
            for one in own.into_iter().flat_map(OfCorner::all) {
                let pair = own.zip(other);
                let counterpart = pair.and_then(|(own, other)| one.counterpart(own, other));
                let exchanged = pair.is_some_and(|(own, other)| one.is_exchanged(own, other));
                paired.extend(counterpart);
                all.push(Self {
                    own: Some(input(one)),
                    other: counterpart.map(input),
                    shared: same && !exchanged,
                });
            }
            let rest = other.into_iter().flat_map(OfCorner::all).filter(|one| !paired.contains(one));
            all.extend(rest.map(|one| Self { own: None, other: Some(input(one)), shared: false }));
        }
        all
    }
}

/// A setup of which one input at a time is off, and what is read off it as it is.
#[derive(Debug, Clone)]
struct Perturbed {
    document: Document,
    numbers: Vec<Option<f64>>,
}

/// By how much numbers differ when an input is off by its uncertainty; `None` where that cannot be read.
type Contributions = Vec<Option<f64>>;

impl Perturbed {
    /// Of an input that the setup has and that is not exact.
    fn uncertainty(&mut self, input: Input, measured: &Measured) -> Option<f64> {
        let value = *input.of(&mut self.document)?;
        Some(input.uncertainty(value, measured)).filter(|by| *by > 0.0)
    }

    /// What an input that is off by `by` makes of the numbers; `None` where the setup has none such.
    fn contributions(&mut self, input: Input, by: f64, read: &mut impl Reading) -> Option<Contributions> {
        let before = *input.of(&mut self.document)?;
        let step = by * STEP;
        let [more, less] = [before + step, before - step].map(|value| {
            if let Some(number) = input.of(&mut self.document) {
                *number = value;
            }
            read(&self.document)
        });
        if let Some(number) = input.of(&mut self.document) {
            *number = before;
        }
        let both = more.into_iter().zip(less).zip(&self.numbers);
        let contribution = |((more, less), middle): ((Option<f64>, Option<f64>), &Option<f64>)| {
            let middle = (*middle)?;
            match (more, less) {
                (Some(more), Some(less)) => Some((more - less) / (2.0 * STEP)),
                (Some(more), None) => Some((more - middle) / STEP),
                (None, Some(less)) => Some((middle - less) / STEP),
                (None, None) => None,
            }
        };
        Some(both.map(contribution).collect())
    }
}

/// What reads numbers off a setup, always as many and in the same order; `None` is one that does not exist.
trait Reading: FnMut(&Document) -> Vec<Option<f64>> {}
impl<F: FnMut(&Document) -> Vec<Option<f64>>> Reading for F {}

/// Of an uncertainty: over so much of it slopes are taken.
const STEP: f64 = 1.0 / 16.0;

/// The inputs of one or two setups, taken one by one, so that a page can do something else in between.
#[derive(Debug, Clone)]
pub struct Propagation {
    measured: Measured,
    own: Perturbed,
    other: Option<Perturbed>,
    left: Vec<Task>,
    squares: Option<Found>,
}

/// What is uncertain, each in its number's unit; `None` where the number, or one of the slopes, does not exist.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Found {
    /// Of the numbers.
    pub numbers: Vec<Option<f64>>,
    /// Of their differences from the other setup's; empty without one.
    pub differences: Vec<Option<f64>>,
}

impl Propagation {
    /// Of the numbers of `own`, and of their differences from those of `other`.
    #[must_use]
    pub fn new(own: &Document, other: Option<(&Document, Beside)>, measured: Measured) -> Self {
        let perturbed = |document: &Document| Perturbed { document: document.clone(), numbers: Vec::new() };
        let left = Task::all(own, other);
        let other = other.map(|(other, _)| perturbed(other));
        Self { measured, own: perturbed(own), other, left, squares: None }
    }

    /// Takes the next input, with two readings of each setup that has it; at first one of each. `read` gives the
    /// numbers of a setup, always as many and in the same order. Says whether there is more to do.
    pub fn step(&mut self, mut read: impl FnMut(&Document) -> Vec<Option<f64>>) -> bool {
        let Some(squares) = &mut self.squares else {
            self.own.numbers = read(&self.own.document);
            let mut differences = Vec::new();
            if let Some(other) = &mut self.other {
                other.numbers = read(&other.document);
                let both = self.own.numbers.iter().zip(&other.numbers).map(|(own, other)| own.zip(*other));
                differences = both.map(|both| both.map(|_| 0.0)).collect();
            }
            let numbers = self.own.numbers.iter().map(|number| number.map(|_| 0.0)).collect();
            self.squares = Some(Found { numbers, differences });
            return true;
        };
        let Some(task) = self.left.pop() else { return false };
        let own = task.own.and_then(|input| Some((input, self.own.uncertainty(input, &self.measured)?)));
        let contributions = own.and_then(|(input, by)| self.own.contributions(input, by, &mut read));
        if let Some(contributions) = &contributions {
            add(&mut squares.numbers, contributions.iter().copied());
        }
        if let Some(other) = &mut self.other {
            let others = task.other.and_then(|input| {
                // As much as it is off in the car before it was altered.
                let same = own.filter(|_| task.shared).map(|(_, by)| by);
                let by = same.or_else(|| other.uncertainty(input, &self.measured))?;
                other.contributions(input, by, &mut read)
            });
            match (contributions, others) {
                (Some(own), Some(other)) if task.shared => {
                    let both = own.iter().zip(&other).map(|(own, other)| Some((*own)? - (*other)?));
                    add(&mut squares.differences, both);
                }
                (own, other) => {
                    for contributions in [own, other].into_iter().flatten() {
                        add(&mut squares.differences, contributions.into_iter());
                    }
                }
            }
        }
        !self.left.is_empty()
    }

    /// What the inputs taken so far leave uncertain; all of them once [`Self::step`] has said so.
    #[must_use]
    pub fn found(&self) -> Found {
        let root = |squares: &[Option<f64>]| {
            let one = |square: &Option<f64>| square.map(sqrt).filter(|root| root.is_finite());
            squares.iter().map(one).collect()
        };
        let squares = self.squares.as_ref();
        squares.map_or_else(Found::default, |squares| Found {
            numbers: root(&squares.numbers),
            differences: root(&squares.differences),
        })
    }
}

/// Adds the squares of contributions; of what has none nothing is known.
fn add(squares: &mut [Option<f64>], contributions: impl Iterator<Item = Option<f64>>) {
    for (square, one) in squares.iter_mut().zip(contributions.chain(iter::repeat(None))) {
        *square = square.zip(one).map(|(square, one)| square + one * one);
    }
}
