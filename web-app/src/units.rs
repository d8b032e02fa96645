//! The units in which numbers are told, and those in which their reader wants them.
//!
//! Documents and mathematics are in mm, °, N and kg throughout. What is told of them is told by a [`Unit`], in the
//! reader's own [`System`]: a choice of the reader as a language is, so it is no argument of every function that
//! writes a number but is asked for where one is written. A memo, an effect or a view that writes numbers is run
//! again when another is chosen.

use std::thread_local;

use leptos::{
    prelude::{ArcRwSignal, Get, GetUntracked, Set},
    reactive::graph::Observer,
};

use crate::{
    lengths::INCH,
    numbers::{field_text, format_number, round_to},
};
use geometry_core::setup::GRAVITY;

/// Pound, kg: exact since 1959 (International Yard and Pound Agreement).
pub const POUND: f64 = 0.453_592_37;
/// Pound-force, N: by the standard acceleration of free fall.
pub const POUND_FORCE: f64 = POUND * GRAVITY;
/// Foot, mm.
pub const FOOT: f64 = 12.0 * INCH;
/// Pound-force foot, N·m.
pub const POUND_FORCE_FOOT: f64 = POUND_FORCE * FOOT * 1e-3;

/// A reader's units.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum System {
    /// mm, m, kg, N.
    #[default]
    Metric,
    /// Inch, foot, pound, pound-force: NIST Special Publication 811 calls them customary.
    Customary,
}

thread_local! {
    static CHOSEN: ArcRwSignal<System> = ArcRwSignal::new(System::default());
}

/// The reader's units.
#[must_use]
pub fn chosen() -> System {
    CHOSEN.with(|chosen| if Observer::get().is_some() { chosen.get() } else { chosen.get_untracked() })
}

/// Has what runs now run again when others are chosen.
pub fn track() {
    let _ = chosen();
}

/// Has numbers told in other units from now on.
pub fn choose(system: System) {
    if CHOSEN.with(GetUntracked::get_untracked) != system {
        CHOSEN.with(|chosen| chosen.set(system));
    }
}

/// A length that stands in a field of the page before anyone has said one: a round one in each system.
#[derive(Debug, Clone, Copy)]
pub struct Start {
    /// mm.
    pub metric: f64,
    /// Inch.
    pub customary: f64,
}

impl Start {
    /// It in mm.
    #[must_use]
    pub fn of(self, system: System) -> f64 {
        match system {
            System::Metric => self.metric,
            System::Customary => self.customary * INCH,
        }
    }

    /// What stands in the field in a system: the start, or what was said, mm.
    #[must_use]
    pub fn or(self, said: f64, system: System) -> f64 {
        let start = |of| self.of(of).to_bits() == said.to_bits();
        if start(System::Metric) || start(System::Customary) { self.of(system) } else { said }
    }
}

/// What a number that is told is of. Each is kept in the unit it is called after.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Unit {
    /// Lengths and heights, mm.
    Millimetre,
    /// Distances over the car, kept in mm and told in m or feet.
    Distance,
    /// Angles, degrees.
    Degree,
    /// Anti-percentages, to the whole one.
    Percent,
    /// Shares of a load, in percent, to the tenth.
    Share,
    /// Motion ratios and slopes; no unit.
    Ratio,
    /// How a ratio changes with travel, per 100 mm; told per m or per inch.
    RatioPerTravel,
    /// Camber gain and bump steer, degrees per mm.
    DegreePerMillimetre,
    /// Camber and steer of a leaning body, degrees per degree.
    DegreePerDegree,
    /// Lean and pitch, degrees per g.
    DegreePerG,
    /// Screw pitch, mm per radian.
    MillimetrePerRadian,
    /// Rates, N/mm.
    NewtonPerMillimetre,
    /// Rates of twist and of roll, N·m/°.
    NewtonMetrePerDegree,
    /// Frequencies, Hz.
    Hertz,
    /// Masses, kg.
    Kilogram,
    /// Forces, N.
    Newton,
    /// What one force makes of another, N per kN.
    NewtonPerKilonewton,
    /// Torques, N·m.
    NewtonMetre,
    /// Accelerations, in standard ones of free fall.
    G,
}

/// How a unit's numbers are written in one system.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scale {
    /// The sign behind the number; empty for a ratio.
    pub symbol: &'static str,
    /// Decimals worth showing: a tenth of a millimetre, a hundredth of a degree.
    pub decimals: usize,
    /// What one of it is in the unit that the number is kept in.
    pub one: f64,
}

/// Digits of a number with its unit.
const MOST_DIGITS: usize = 6;

impl Unit {
    /// Those that a field of the document or of the page may be in, whose bound names them as it does.
    const OF_FIELDS: [Self; 9] = [
        Self::Millimetre,
        Self::Degree,
        Self::Percent,
        Self::Kilogram,
        Self::Newton,
        Self::NewtonMetre,
        Self::NewtonPerMillimetre,
        Self::NewtonMetrePerDegree,
        Self::G,
    ];

    /// The unit of a name such as `N/mm`, as [`geometry_core::bounds::Bound`] gives it; a ratio for a share and
    /// what is not told elsewhere.
    #[must_use]
    pub fn named(name: &str) -> Self {
        let mut fields = Self::OF_FIELDS.into_iter();
        fields.find(|unit| unit.scale(System::Metric).symbol == name).unwrap_or(Self::Ratio)
    }

    /// How it is written in a system.
    #[must_use]
    pub const fn scale(self, system: System) -> Scale {
        use System::{Customary, Metric};
        let (symbol, decimals, one) = match (self, system) {
            (Self::Millimetre, Metric) => ("mm", 1, 1.0),
            (Self::Millimetre, Customary) => ("in", 3, INCH),
            (Self::Distance, Metric) => ("m", 2, 1000.0),
            (Self::Distance, Customary) => ("ft", 2, FOOT),
            (Self::Degree, _) => ("°", 2, 1.0),
            (Self::Percent, _) => ("%", 0, 1.0),
            (Self::Share, _) => ("%", 1, 1.0),
            (Self::Ratio, _) => ("", 3, 1.0),
            (Self::RatioPerTravel, Metric) => ("/m", 2, 0.1),
            (Self::RatioPerTravel, Customary) => ("/in", 4, 100.0 / INCH),
            (Self::DegreePerMillimetre, Metric) => ("°/mm", 4, 1.0),
            (Self::DegreePerMillimetre, Customary) => ("°/in", 3, 1.0 / INCH),
            (Self::DegreePerDegree, _) => ("° per °", 3, 1.0),
            (Self::DegreePerG, _) => ("°/g", 2, 1.0),
            (Self::MillimetrePerRadian, Metric) => ("mm/rad", 1, 1.0),
            (Self::MillimetrePerRadian, Customary) => ("in/rad", 3, INCH),
            (Self::NewtonPerMillimetre, Metric) => ("N/mm", 1, 1.0),
            (Self::NewtonPerMillimetre, Customary) => ("lbf/in", 1, POUND_FORCE / INCH),
            (Self::NewtonMetrePerDegree, Metric) => ("N·m/°", 1, 1.0),
            (Self::NewtonMetrePerDegree, Customary) => ("lbf·ft/°", 1, POUND_FORCE_FOOT),
            (Self::Hertz, _) => ("Hz", 2, 1.0),
            (Self::Kilogram, Metric) => ("kg", 1, 1.0),
            (Self::Kilogram, Customary) => ("lb", 1, POUND),
            (Self::Newton, Metric) => ("N", 0, 1.0),
            (Self::Newton, Customary) => ("lbf", 0, POUND_FORCE),
            (Self::NewtonPerKilonewton, Metric) => ("N/kN", 0, 1.0),
            // A kip is 1000 pounds-force.
            (Self::NewtonPerKilonewton, Customary) => ("lbf/kip", 0, 1.0),
            (Self::NewtonMetre, Metric) => ("N·m", 1, 1.0),
            (Self::NewtonMetre, Customary) => ("lbf·ft", 1, POUND_FORCE_FOOT),
            (Self::G, _) => ("g", 2, 1.0),
        };
        Scale { symbol, decimals, one }
    }

    /// How it is written for the reader.
    #[must_use]
    pub fn here(self) -> Scale {
        self.scale(chosen())
    }

    /// Number and unit for the reader.
    #[must_use]
    pub fn show(self, value: f64) -> String {
        self.here().show(value)
    }
}

impl Scale {
    /// A kept number in this scale.
    #[must_use]
    pub fn of(self, kept: f64) -> f64 {
        kept / self.one
    }

    /// A kept number without its unit, with the decimals worth showing.
    #[must_use]
    pub fn number(self, kept: f64) -> String {
        format_number(self.of(kept), self.decimals)
    }

    /// The same with fewer decimals for a large number: near a dead point a slope may be thousands.
    #[must_use]
    pub fn sensible(self, kept: f64) -> String {
        let number = self.of(kept);
        let digits = [1e1, 1e2, 1e3, 1e4, 1e5].into_iter().filter(|size| number.abs() >= *size).count();
        let decimals = self.decimals.min((MOST_DIGITS - 1).saturating_sub(digits.max(1)));
        format_number(number, decimals)
    }

    /// Number and unit with a decimal less: where a tenth of a millimetre is beside the point.
    #[must_use]
    pub fn rough(self, kept: f64) -> String {
        Self { decimals: self.decimals.saturating_sub(1), ..self }.show(kept)
    }

    /// A kept number without its unit, with no more decimals than it needs and at most so many.
    #[must_use]
    pub fn short(self, kept: f64, most: usize) -> String {
        field_text(round_to(self.of(kept), u8::try_from(most).unwrap_or(u8::MAX)))
    }

    /// Number and unit.
    #[must_use]
    pub fn show(self, kept: f64) -> String {
        self.beside(&self.sensible(kept))
    }

    /// A number that is written already, with the unit: held together by a no-break space, but for a degree sign
    /// and a stroke.
    #[must_use]
    pub fn beside(self, number: &str) -> String {
        let joined = self.symbol.is_empty() || self.symbol.starts_with(['°', '/']);
        format!("{number}{}{}", if joined { "" } else { "\u{a0}" }, self.symbol)
    }
}

/// What stands behind a field whose number is kept in the unit that `label` begins with, such as
/// `mm between flanges`, in the reader's units.
#[must_use]
pub fn of_field(label: &str) -> String {
    let (name, rest) = label.split_at(label.find([' ', ',']).unwrap_or(label.len()));
    match Unit::named(name) {
        Unit::Ratio => label.into(),
        unit => format!("{}{rest}", unit.here().symbol),
    }
}

/// Runs a test with other units than the usual.
#[cfg(test)]
pub fn read_in<T>(system: System, run: impl FnOnce() -> T) -> T {
    let before = chosen();
    choose(system);
    let outcome = run();
    choose(before);
    outcome
}

#[cfg(test)]
mod tests {
    use super::*;
    use geometry_core::bounds;

    use crate::edit::{NumberField, tests::all_numbers};

    fn near(scale: Scale, kept: f64, told: f64) {
        assert!((scale.of(kept) - told).abs() < 5e-5 * told.abs(), "{} {}", scale.symbol, scale.of(kept));
    }

    // NIST Special Publication 811 (2008), appendix B.8, from memory: the inch is 25.4 mm, the pound 0.453 592 37 kg
    // and the pound-force 4.448 222 N; a pound-force foot is 1.355 818 N·m, a pound-force per inch 175.1268 N/m.
    #[test]
    fn customary_units_are_what_the_table_says() {
        let customary = |unit: Unit| unit.scale(System::Customary);
        near(customary(Unit::Millimetre), 25.4, 1.0);
        near(customary(Unit::Distance), 3048.0, 10.0);
        near(customary(Unit::Kilogram), 0.453_592_37, 1.0);
        near(customary(Unit::Newton), 4.448_222, 1.0);
        near(customary(Unit::NewtonMetre), 1.355_818, 1.0);
        near(customary(Unit::NewtonPerMillimetre), 0.175_126_8, 1.0);
        near(customary(Unit::NewtonMetrePerDegree), 1.355_818, 1.0);
        near(customary(Unit::DegreePerMillimetre), 0.02, 0.508);
        near(customary(Unit::MillimetrePerRadian), 12.7, 0.5);
        near(customary(Unit::RatioPerTravel), 0.1, 0.0254);
    }

    #[test]
    fn what_nobody_said_is_round_in_both_systems() {
        let start = Start { metric: 2.0, customary: 0.08 };
        let inches = start.or(2.0, System::Customary);
        assert_eq!(field_text(round_to(inches / INCH, 9)), "0.08");
        assert_eq!(start.or(inches, System::Customary), inches);
        assert_eq!(start.or(inches, System::Metric), 2.0);
        for system in [System::Metric, System::Customary] {
            assert_eq!(start.or(1.5, system), 1.5, "said");
        }
    }

    #[test]
    fn a_number_has_its_unit_behind_it() {
        let metric = |unit: Unit, value| unit.scale(System::Metric).show(value);
        assert_eq!(metric(Unit::Millimetre, 12_345.67), "12345.7\u{a0}mm");
        assert_eq!(metric(Unit::Degree, -1.5), "\u{2212}1.50°");
        assert_eq!(metric(Unit::Ratio, 0.7), "0.700");
        assert_eq!(metric(Unit::RatioPerTravel, 0.05), "0.50/m");
        assert_eq!(metric(Unit::Distance, 5_432.1), "5.43\u{a0}m");
        assert_eq!(Unit::Millimetre.scale(System::Customary).show(-12.7), "\u{2212}0.500\u{a0}in");
        assert_eq!(Unit::DegreePerMillimetre.scale(System::Customary).show(-0.02), "\u{2212}0.508°/in");
    }

    #[test]
    fn a_slope_near_a_dead_point_does_not_fill_the_line() {
        let show = |value| Unit::DegreePerMillimetre.scale(System::Metric).show(value);
        assert_eq!(show(-0.0204), "−0.0204°/mm");
        assert_eq!(show(72.349_61), "72.3496°/mm");
        assert_eq!(show(472.349_6), "472.350°/mm");
        assert_eq!(show(-2_395.510_1), "−2395.51°/mm");
        assert_eq!(show(2e9), "2000000000°/mm");
    }

    #[test]
    fn the_reader_chooses() {
        assert_eq!(Unit::Newton.show(1000.0), "1000\u{a0}N");
        let (force, field) =
            read_in(System::Customary, || (Unit::Newton.show(1000.0), of_field("mm, + face outboard")));
        assert_eq!(force, "225\u{a0}lbf");
        assert_eq!(field, "in, + face outboard");
        assert_eq!(of_field("share, 0 to 1"), "share, 0 to 1");
        assert_eq!(of_field("N/mm"), "N/mm");
    }

    #[test]
    fn every_unit_of_a_field_is_known() {
        let fields = all_numbers().into_iter().map(NumberField::bound);
        let others = [
            bounds::FORCE,
            bounds::MOMENT,
            bounds::LATERAL_ACCELERATION,
            bounds::LENGTH_CHANGE,
            bounds::WHEEL_ANGLE,
            bounds::TRAVEL,
            bounds::RACK,
            bounds::ROLL,
            bounds::LENGTH_DOUBT,
            bounds::ANGLE_DOUBT,
            bounds::HEIGHT_DOUBT,
            bounds::PROPORTION_DOUBT,
        ];
        for bound in fields.chain(others) {
            assert_eq!(Unit::named(bound.unit).scale(System::Metric).symbol, bound.unit);
        }
    }
}
