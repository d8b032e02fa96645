//! What is said of the whole car: a table of rows with a number for each axle or one for the
//! car, its sign in words, what is missing, its definition and source.

mod rows;

use geometry_core::{
    car::{CarReadings, Group, Lack},
    setup::Axle,
    springing::{self, Missing, Springing},
};

use super::{
    doubt,
    input::{Input, Why},
};
use crate::{numbers::shows_zero, units::Unit};

pub use rows::GROUPS;

/// Both axles at one heave of a level body, and the car on them.
#[derive(Debug, Clone, PartialEq)]
pub struct Answer {
    /// g, + to the left.
    pub lateral: f64,
    /// Braking, or driving, g.
    pub longitudinal: f64,
    /// The front axle, or why there is nothing to read.
    pub front: Result<End, Why>,
    /// The rear axle, or why.
    pub rear: Result<End, Why>,
    /// The car, or why.
    pub car: Result<CarReadings, Why>,
}

/// One axle.
#[derive(Debug, Clone, PartialEq)]
pub struct End {
    /// The left corner's springing.
    pub springing: Springing,
    /// x of the wheel centre as described, mm.
    pub wheel_x: f64,
}

impl Answer {
    /// An axle, or why there is nothing to read.
    ///
    /// # Errors
    /// Why it is not told.
    pub fn end(&self, axle: Axle) -> Result<&End, &Why> {
        match axle {
            Axle::Front => self.front.as_ref(),
            Axle::Rear => self.rear.as_ref(),
        }
    }
}

/// What stands in a cell of the table.
#[derive(Debug, Clone, PartialEq)]
pub enum Cell {
    /// A number.
    Number {
        /// In full.
        exact: f64,
        /// As a person reads it, with its unit.
        text: String,
        /// Its sign in words; empty where the sign says nothing.
        words: &'static str,
        /// What it is in.
        unit: Unit,
    },
    /// Why there is none.
    No(Why),
    /// The corner has not the part it would be of.
    NoPart(&'static str),
}

impl Cell {
    /// How uncertain its number is; empty without one.
    #[must_use]
    pub fn doubt(&self, uncertainty: f64) -> String {
        match self {
            Self::Number { exact, unit, .. } => doubt::doubted(*exact, uncertainty, *unit),
            _ => String::new(),
        }
    }

    /// How uncertain the difference from the reference's is; empty where there is none.
    #[must_use]
    pub fn doubt_of_difference(&self, reference: &Self, uncertainty: f64) -> String {
        match (self, reference) {
            (Self::Number { exact, unit, .. }, Self::Number { exact: reference, .. }) => {
                doubt::of_difference(exact - reference, uncertainty, *unit)
            }
            _ => String::new(),
        }
    }

    /// How it differs from the reference's in words; none where there is nothing to compare.
    #[must_use]
    pub fn difference(&self, reference: &Self) -> Option<String> {
        match (self, reference) {
            (Self::Number { exact, unit, .. }, Self::Number { exact: reference, .. }) => {
                let by = exact - reference;
                Some(super::beside::by(by, &unit.show(by)))
            }
            (Self::Number { .. }, _) => Some("the reference has none".into()),
            (_, Self::Number { text, .. }) => Some(format!("reference: {text}")),
            _ => None,
        }
    }
}

/// What a row is of.
#[derive(Debug, Clone, Copy)]
pub enum Of {
    /// Of each axle.
    Axles(fn(&Answer, Axle) -> Cell),
    /// Of the car.
    Car(fn(&Answer) -> Cell),
}

/// A row of the table.
#[derive(Debug, Clone, Copy)]
pub struct Row {
    /// A name for programs, unlike any other row's.
    pub key: &'static str,
    /// What it is called.
    pub name: &'static str,
    /// What stands in it.
    pub of: Of,
    /// What it is, with its formula.
    pub definition: &'static str,
    /// Where that comes from.
    pub source: &'static str,
    /// What is usual, and who says so.
    pub usual: Option<&'static str>,
}

/// Rows under one question.
#[derive(Debug, Clone, Copy)]
pub struct Rows {
    /// The question.
    pub question: &'static str,
    /// The rows.
    pub rows: &'static [Row],
}

/// The unit, and the sign in words.
#[derive(Clone, Copy)]
struct Show(Unit, fn(f64, Axle) -> &'static str);

fn nothing(_: f64, _: Axle) -> &'static str {
    ""
}

impl Show {
    fn cell(self, value: f64, axle: Axle) -> Cell {
        let Self(unit, words) = self;
        let words = if shows_zero(&unit.here().number(value)) { "" } else { words(value, axle) };
        Cell::Number { exact: value, text: unit.show(value), words, unit }
    }
}

fn no(because: &str) -> Cell {
    Cell::No(Why::Because(because.into()))
}

/// A number of a corner's springing, missing what `quantity` does.
fn sprung(
    answer: &Answer,
    axle: Axle,
    quantity: springing::Quantity,
    value: fn(&Springing) -> Option<f64>,
    show: Show,
) -> Cell {
    sprung_with(answer, axle, |springing| springing.missing_for(quantity).collect(), value, show)
}

/// The same of a number that is no quantity of the core's: `needs` tells what it misses.
fn sprung_with(
    answer: &Answer,
    axle: Axle,
    needs: impl Fn(&Springing) -> Vec<Missing>,
    value: fn(&Springing) -> Option<f64>,
    show: Show,
) -> Cell {
    let springing = match answer.end(axle) {
        Ok(end) => &end.springing,
        Err(why) => return Cell::No(why.clone()),
    };
    match value(springing) {
        Some(value) => show.cell(value, axle),
        None => lacking(needs(springing), axle),
    }
}

/// What a corner's share of the sprung mass is made of.
const SHARE: [Missing; 3] = [Missing::VehicleMass, Missing::FrontMassShare, Missing::UnsprungParts];

fn missing_of(springing: &Springing, needs: &[Missing]) -> Vec<Missing> {
    springing.missing.iter().copied().filter(|missing| needs.contains(missing)).collect()
}

fn no_spring_number(springing: &Springing, quantity: springing::Quantity, axle: Axle) -> Cell {
    lacking(springing.missing_for(quantity), axle)
}

fn lacking(missing: impl IntoIterator<Item = Missing>, axle: Axle) -> Cell {
    let needs: Vec<Input> =
        missing.into_iter().filter_map(|missing| Input::of_springing(missing, axle)).collect();
    if needs.is_empty() {
        no("the springs do not push back here, or the travel ends")
    } else {
        Cell::No(Why::Needs(needs))
    }
}

/// A number of a part that a corner may have or not.
fn of_part<P>(
    answer: &Answer,
    axle: Axle,
    part: fn(&Springing) -> Option<P>,
    without: &'static str,
    value: fn(&P) -> Result<f64, &'static str>,
    show: Show,
) -> Cell {
    match answer.end(axle) {
        Err(why) => Cell::No(why.clone()),
        Ok(end) => match part(&end.springing) {
            None => Cell::NoPart(without),
            Some(part) => match value(&part) {
                Ok(value) => show.cell(value, axle),
                Err(reason) => no(reason),
            },
        },
    }
}

/// A number of a group of the car's readings.
fn of_group<G: Copy>(
    answer: &Answer,
    axle: Axle,
    group: Group,
    of: fn(&CarReadings) -> Option<G>,
    value: impl Fn(&G) -> Result<f64, Why>,
    show: Show,
) -> Cell {
    let car = match &answer.car {
        Ok(car) => car,
        Err(why) => return Cell::No(why.clone()),
    };
    match of(car) {
        None => Cell::No(why_not(answer, car, group)),
        Some(group) => match value(&group) {
            Ok(value) => show.cell(value, axle),
            Err(why) => Cell::No(why),
        },
    }
}

/// What a group lacks; of a wheel rate, what its springing does.
fn why_not(answer: &Answer, car: &CarReadings, group: Group) -> Why {
    let Some(lack) = car.lack(group) else { return Why::Because("it cannot be read here".into()) };
    if let Lack::WheelRate(axle) = lack
        && let Ok(end) = answer.end(axle)
    {
        return match no_spring_number(&end.springing, springing::Quantity::WheelRate, axle) {
            Cell::No(why) => why,
            _ => Why::Because(lack.to_string()),
        };
    }
    match Input::of_car(lack) {
        Some(input) => Why::Needs(vec![input]),
        None => Why::Because(lack.to_string()),
    }
}

fn needs(input: Input) -> Why {
    Why::Needs(vec![input])
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn every_row_has_a_key_of_its_own_and_says_what_it_is() {
        let rows: Vec<&Row> = GROUPS.iter().flat_map(|group| group.rows).collect();
        let keys: BTreeSet<&str> = rows.iter().map(|row| row.key).collect();
        assert_eq!(keys.len(), rows.len());
        for row in rows {
            assert!(row.definition.ends_with('.') && row.definition.len() > 30, "{}", row.key);
            assert!(row.source.len() > 10 && !row.source.ends_with('.'), "{}", row.key);
            let words = row.name.split(' ').count();
            assert!(words <= 8, "{}: {words} words", row.name);
        }
    }
}
