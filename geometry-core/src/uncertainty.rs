//! What measuring leaves uncertain of any numbers that are computed from a setup, and of their differences from
//! those of another setup.
//!
//! Uncertainties go the way of JCGM 100:2008, 5.1.2: each input by itself is off by its own uncertainty, what
//! that makes of a number is the slope there times the uncertainty, and the parts add up as the root of the sum
//! of their squares. The slopes are central differences over a sixteenth of the uncertainty, which leaves of the
//! curvature one part in 256 of what a difference over the whole uncertainty (5.1.3, note 2) would have.
//!
//! Of a difference it matters what both setups share. A car that is altered keeps the errors it was measured
//! with: an input that is 2 mm off is so before and after, and most of that cancels. Another car is measured
//! anew, and nothing cancels. [`Beside`] says which.
//!
//! ```
//! use geometry_core::setup::example;
//! use geometry_core::uncertainty::{Beside, Measured, Propagation};
//!
//! // Half of the mass, uncertain by 2 %, beside the same car's that was made 50 kg lighter, and beside another's.
//! let measured = Measured { length: 2.0, angle: 0.1, height: 20.0, share: 2.0 };
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
    sensitivity::{Axis, Place},
    setup::{Axle, Corner, Document, Side, Vehicle},
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
    pub share: f64,
}

/// What the two setups of a difference have in common.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Beside {
    /// One car, altered by known amounts: whatever both have is off by as much in both, but for the rate and
    /// the free length of a part that was exchanged.
    Altered,
    /// Two cars, each measured for itself.
    Apart,
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
    Coordinate(Place, Axis),
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
    Part,
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
            Self::Mass => Kind::Part,
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
        let places = Place::all(corner).into_iter();
        let coordinates = places.flat_map(|place| Axis::ALL.map(|axis| Self::Coordinate(place, axis)));
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

    fn kind(self) -> Kind {
        match self {
            Self::Coordinate(..) | Self::LoadedRadius | Self::FreeLength => Kind::Length,
            Self::Camber | Self::Toe => Kind::Angle,
            Self::TyreRate | Self::SpringRate | Self::BarRate | Self::TorsionBarRate | Self::PartMass(_) => {
                Kind::Part
            }
            Self::PartShare(_) => Kind::Share,
        }
    }

    fn of(self, corner: &mut Corner) -> Option<&mut f64> {
        match self {
            Self::Coordinate(place, axis) => place.of_mut(corner)?.get_mut(axis as usize),
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
    /// Every one that a setup may have.
    fn all(document: &Document) -> Vec<Self> {
        let mut all: Vec<Self> = OfVehicle::ALL.map(Self::Vehicle).into();
        for axle in [Axle::Front, Axle::Rear] {
            let sides = [(Side::Left, document.corner(axle)), (Side::Right, document.right_corner(axle))];
            for (side, corner) in sides {
                let of_corner = corner.into_iter().flat_map(OfCorner::all);
                all.extend(of_corner.map(|one| Self::Corner(axle, side, one)));
            }
        }
        all
    }

    /// The number itself; `None` where the setup has none.
    fn of(self, document: &mut Document) -> Option<&mut f64> {
        match self {
            Self::Vehicle(one) => one.of(&mut document.vehicle),
            Self::Corner(axle, Side::Left, one) => one.of(document.corner_mut(axle)?),
            Self::Corner(Axle::Front, Side::Right, one) => one.of(document.front_right.as_mut()?),
            Self::Corner(Axle::Rear, Side::Right, one) => one.of(document.rear_right.as_mut()?),
        }
    }

    /// Whether it is a property of a spring, bar or tyre, which another one has another of.
    fn is_of_a_part(self) -> bool {
        matches!(
            self,
            Self::Corner(
                ..,
                OfCorner::TyreRate
                    | OfCorner::SpringRate
                    | OfCorner::FreeLength
                    | OfCorner::BarRate
                    | OfCorner::TorsionBarRate
            )
        )
    }

    /// How uncertain it is where it has this value, in its own unit.
    fn uncertainty(self, value: f64, measured: &Measured) -> f64 {
        let kind = match self {
            Self::Vehicle(one) => one.kind(),
            Self::Corner(_, _, one) => one.kind(),
        };
        let part = 0.01 * measured.share;
        match kind {
            Kind::Length => measured.length,
            Kind::Angle => measured.angle,
            Kind::Height => measured.height,
            Kind::Part => part * value.abs(),
            // a / (a + b) where a and b are uncertain by the same part.
            Kind::Share => part * (value * (1.0 - value)).abs() * core::f64::consts::SQRT_2,
        }
    }
}

/// A setup that is altered one input at a time, and what is read off it unaltered.
#[derive(Debug, Clone)]
struct Altered {
    document: Document,
    numbers: Vec<Option<f64>>,
}

/// By how much numbers differ when an input is off by its uncertainty; one where nothing moves them.
type Parts = Vec<Option<f64>>;

impl Altered {
    fn uncertain(&mut self, input: Input, measured: &Measured) -> Option<f64> {
        let value = *input.of(&mut self.document)?;
        Some(input.uncertainty(value, measured)).filter(|by| *by > 0.0)
    }

    /// What an input that is off by `by` makes of the numbers; `None` where the setup has none such.
    fn parts(&mut self, input: Input, by: f64, read: &mut impl Reading) -> Option<Parts> {
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
        let part = |(more, less): (Option<f64>, Option<f64>)| Some((more? - less?) / (2.0 * STEP));
        Some(more.into_iter().zip(less).map(part).collect())
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
    own: Altered,
    other: Option<(Altered, Beside)>,
    left: Vec<Input>,
    found: Option<Found>,
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
        let altered = |document: &Document| Altered { document: document.clone(), numbers: Vec::new() };
        let mut left = Input::all(own);
        if let Some((other, _)) = other {
            let more = Input::all(other);
            left.extend(more.into_iter().filter(|input| !left.contains(input)).collect::<Vec<_>>());
        }
        let other = other.map(|(other, beside)| (altered(other), beside));
        Self { measured, own: altered(own), other, left, found: None }
    }

    /// Takes the next input, with two readings of each setup that has it; at first one of each. `read` gives the
    /// numbers of a setup, always as many and in the same order. Says whether there is more to do.
    pub fn step(&mut self, mut read: impl FnMut(&Document) -> Vec<Option<f64>>) -> bool {
        let Some(found) = &mut self.found else {
            self.own.numbers = read(&self.own.document);
            let exists = |numbers: &[Option<f64>]| numbers.iter().map(|number| number.map(|_| 0.0)).collect();
            let numbers: Vec<Option<f64>> = exists(&self.own.numbers);
            let mut differences = Vec::new();
            if let Some((other, _)) = &mut self.other {
                other.numbers = read(&other.document);
                let both = self.own.numbers.iter().zip(&other.numbers).map(|(own, other)| own.zip(*other));
                differences = both.map(|both| both.map(|_| 0.0)).collect();
            }
            self.found = Some(Found { numbers, differences });
            return true;
        };
        let Some(input) = self.left.pop() else { return false };
        let own = self.own.uncertain(input, &self.measured);
        let parts = own.and_then(|by| self.own.parts(input, by, &mut read));
        if let Some(parts) = &parts {
            add(&mut found.numbers, parts.iter().copied());
        }
        if let Some((other, beside)) = &mut self.other {
            let shared = *beside == Beside::Altered
                && !(input.is_of_a_part()
                    && input.of(&mut self.own.document) != input.of(&mut other.document));
            let by = own.filter(|_| shared).or_else(|| other.uncertain(input, &self.measured));
            match (parts, by.and_then(|by| other.parts(input, by, &mut read))) {
                (Some(own), Some(other)) if shared => {
                    let both = own.iter().zip(&other).map(|(own, other)| Some((*own)? - (*other)?));
                    add(&mut found.differences, both);
                }
                (own, other) => {
                    for parts in [own, other].into_iter().flatten() {
                        add(&mut found.differences, parts.into_iter());
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
        let found = self.found.as_ref();
        found.map_or_else(Found::default, |found| Found {
            numbers: root(&found.numbers),
            differences: root(&found.differences),
        })
    }
}

/// Adds the squares of parts; of what has no part nothing is known.
fn add(squares: &mut [Option<f64>], parts: impl Iterator<Item = Option<f64>>) {
    for (square, part) in squares.iter_mut().zip(parts.chain(iter::repeat(None))) {
        *square = square.zip(part).map(|(square, part)| square + part * part);
    }
}
