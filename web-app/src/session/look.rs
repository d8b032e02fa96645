//! What is looked at, as a link brings it along behind the setup: `#s=…&travel=-30&reading=scrub_radius`.
//!
//! Only what is not as a page opens is written, and the curves with anything else: a reader may have others. Parts
//! that this page does not know are passed over: a later page may write more.

use std::fmt::Write as _;

use geometry_core::{
    axle::Lean,
    bounds::{self, Bound},
    readings::Quantity,
    setup::{Axle, Document, Side},
    statics::{Given, Load, LoadAxes, LoadPoint, ReactedBy},
    uncertainty::{Beside, Measured},
};
use leptos::prelude::*;

use super::{
    Moving, Session, Tab,
    curves::Choice,
    forces::MOST_LOADS,
    trust::{self, MEASURED},
    whole_car::LONGITUDINAL,
};
use crate::{
    describe::forces::{CaseKind, bound_of, number_of},
    numbers::field_text,
    sharing,
};

/// What is looked at; as a page opens by default.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Look {
    /// Whether it is the rear axle's corner.
    pub rear: bool,
    /// Whether it is the right corner of a setup that describes one.
    pub right: bool,
    /// Travel and rack, mm, and the body's lean, °.
    pub moved: [f64; 3],
    /// The reading whose construction is drawn.
    pub reading: Option<Quantity>,
    /// Whether the body leans about the roll centre.
    pub about_roll_centre: bool,
    /// What is drawn besides.
    pub shown: [bool; 4],
    /// The panel that is open.
    pub tab: Option<Tab>,
    /// The curves.
    pub curves: Option<Choice>,
    /// The load case and its number, as far as it has one, with its arrows on the sheet.
    pub load: Option<(CaseKind, Option<f64>)>,
    /// Loads of one's own, where that is the load case.
    pub own: Vec<Load>,
    /// Forces given beside the loads.
    pub given: Given,
    /// What is asked of the whole car: lateral and longitudinal acceleration, g, and the share of regeneration; none
    /// where it is what the page asks by itself.
    pub asked: Option<(f64, f64, Option<f64>)>,
    /// How well the car was measured, where the numbers tell how uncertain that leaves them.
    pub trust: Option<Measured>,
    /// The setup to compare with.
    pub reference: Option<Box<Document>>,
    /// What was said that both setups have in common.
    pub together: Option<Beside>,
}

/// What moves, with its range, in the order of [`Look::moved`].
const MOVED: [(&str, Moving, Bound); 3] = [
    ("travel", Moving::Travel, bounds::TRAVEL),
    ("rack", Moving::Rack, bounds::RACK),
    ("roll", Moving::Roll, bounds::ROLL),
];

/// The end of a link that says what is looked at: one without it was cut.
const END: &str = "&end";

/// What the body leans about, the usual one first.
const ABOUT: [&str; 2] = ["heave-held", "roll-centre"];

/// What is drawn besides, in the order of [`Look::shown`].
const SHOWN: [&str; 4] = ["both", "axles", "ends", "paths"];

/// Where a load acts, along which axes, and what holds its torque: the usual first.
const POINTS: [&str; 2] = ["contact", "wheel_centre"];
const AXES: [&str; 2] = ["vehicle", "wheel"];
const HOLDS: [&str; 3] = ["knuckle", "shaft", "nothing"];

impl Look {
    /// As the end of a link, empty where all is as a page opens.
    #[must_use]
    pub fn text(&self) -> String {
        let mut text = String::new();
        let mut add = |name: &str, value: &str| {
            // Writing to a String cannot fail.
            let _ = write!(text, "&{name}={value}");
        };
        if self.rear {
            add("axle", "rear");
        }
        if self.right {
            add("side", "right");
        }
        for ((name, ..), value) in MOVED.into_iter().zip(self.moved) {
            if value != 0.0 {
                add(name, &plain(value));
            }
        }
        if self.about_roll_centre {
            add("lean", ABOUT[1]);
        }
        if let Some(reading) = self.reading {
            add("reading", reading.name());
        }
        let shown: Vec<&str> =
            SHOWN.into_iter().zip(self.shown).filter(|(_, shown)| *shown).map(|(name, _)| name).collect();
        if !shown.is_empty() {
            add("show", &shown.join("+"));
        }
        if let Some(tab) = self.tab {
            add("panel", tab.name());
        }
        if let Some(curves) = &self.curves {
            add("curves", &curves.text().replace(' ', "+"));
        }
        if let Some((kind, number)) = self.load {
            let number = number.map(|number| format!("+{}", plain(number)));
            add("load", &format!("{}{}", kind.name(), number.unwrap_or_default()));
        }
        for load in &self.own {
            add("own", &own_text(load));
        }
        if self.given != Given::default() {
            let Given { damper, anti_roll_bar, torsion_bar } = self.given;
            add("given", &listed(&[damper, anti_roll_bar, torsion_bar]));
        }
        if let Some((lateral, longitudinal, regeneration)) = self.asked {
            let numbers = [Some(lateral), Some(longitudinal), regeneration];
            add("asked", &listed(&numbers.into_iter().flatten().collect::<Vec<_>>()));
        }
        if let Some(Measured { length, angle, height, proportion }) = self.trust {
            add("trust", &listed(&[length, angle, height, proportion]));
        }
        if let Some(reference) = &self.reference {
            let code = sharing::encode(reference);
            add("beside", code.strip_prefix(sharing::PREFIX).unwrap_or_default());
        }
        if let Some(together) = self.together {
            add("together", trust::word_of(together));
        }
        if !text.is_empty() {
            text.push_str(END);
        }
        text
    }

    /// What a reload has to bring back: the rest is kept by itself.
    #[must_use]
    pub fn of_reload(self) -> Self {
        Self { curves: None, trust: None, reference: None, together: None, ..self }
    }

    /// From a link, and what in it means nothing, as a sentence.
    #[must_use]
    pub fn read(link: &str) -> (Self, Option<String>) {
        let mut look = Self::default();
        let mut fault = None;
        for part in link.split('&').skip(1) {
            let part: String = part.chars().filter(|c| !c.is_whitespace()).collect();
            let Some((name, value)) = part.split_once('=') else { continue };
            if look.take(name, value).is_none() && fault.is_none() {
                let part: String = part.chars().take(60).collect();
                fault = Some(format!("The link asks to show “{part}”, which is nothing that can be shown."));
            }
        }
        let whole: String = link.chars().filter(|c| !c.is_whitespace()).collect();
        if fault.is_none() && look != Self::default() && !whole.ends_with(END) {
            fault = Some("The end of the link is missing: perhaps not all is shown that it asks for.".into());
        }
        (look, fault)
    }

    /// Takes one part of a link; none where its value means nothing.
    fn take(&mut self, name: &str, value: &str) -> Option<()> {
        match name {
            "axle" => self.rear = one_of(value, ["front", "rear"])? == 1,
            "side" => self.right = one_of(value, ["left", "right"])? == 1,
            "reading" => {
                self.reading = Some(Quantity::ALL.into_iter().find(|quantity| quantity.name() == value)?);
            }
            "lean" => self.about_roll_centre = one_of(value, ABOUT)? == 1,
            "show" => {
                let mut all = Some(());
                for word in value.split('+') {
                    match one_of(word, SHOWN).and_then(|i| self.shown.get_mut(i)) {
                        Some(shown) => *shown = true,
                        None => all = None,
                    }
                }
                return all;
            }
            "panel" => self.tab = Some(Tab::ALL.into_iter().find(|tab| tab.name() == value)?),
            "curves" => {
                let known = |word: &str| Quantity::ALL.iter().any(|quantity| quantity.name() == word);
                let any = value.split('+').any(known);
                self.curves = any.then(|| Choice::read(&value.replace('+', " ")));
                return any.then_some(());
            }
            "load" => {
                let (kind, number) = value.split_once('+').map_or((value, None), |(kind, n)| (kind, Some(n)));
                let kind = CaseKind::ALL.into_iter().find(|known| known.name() == kind)?;
                let number = match number {
                    None => None,
                    Some(number) => {
                        Some(number.parse().ok().filter(|number| bound_of(kind).allows(*number))?)
                    }
                };
                self.load = Some((kind, number));
            }
            "own" => {
                let load = own_read(value)?;
                if self.own.len() == MOST_LOADS {
                    return None;
                }
                self.own.push(load);
            }
            "given" => {
                let [damper, anti_roll_bar, torsion_bar] =
                    numbers(value, [bounds::FORCE, bounds::MOMENT, bounds::MOMENT])?;
                self.given = Given { damper, anti_roll_bar, torsion_bar };
            }
            "asked" => {
                let bounds = [bounds::LATERAL_ACCELERATION, LONGITUDINAL];
                let two = numbers(value, bounds).map(|[lateral, longitudinal]| (lateral, longitudinal, None));
                let three = || {
                    let [lateral, longitudinal, share] =
                        numbers(value, [bounds[0], bounds[1], bounds::SHARE])?;
                    Some((lateral, longitudinal, Some(share)))
                };
                self.asked = Some(two.or_else(three)?);
            }
            "trust" => {
                let [length, angle, height, proportion] = numbers(value, MEASURED)?;
                self.trust = Some(Measured { length, angle, height, proportion });
            }
            "beside" => {
                let reference = sharing::decode(&format!("{}{value}", sharing::PREFIX)).ok()?;
                self.reference = Some(Box::new(reference));
            }
            "together" => {
                self.together = Some(trust::together(value)?);
            }
            _ => {
                let Some(i) = MOVED.iter().position(|(known, ..)| *known == name) else { return Some(()) };
                let number = value.parse().ok().filter(|number| MOVED[i].2.allows(*number))?;
                self.moved[i] = number;
            }
        }
        Some(())
    }
}

fn one_of<const COUNT: usize>(word: &str, words: [&str; COUNT]) -> Option<usize> {
    words.iter().position(|known| *known == word)
}

/// A number as programs read it.
fn plain(value: f64) -> String {
    field_text(value).replace('\u{2212}', "-")
}

/// Numbers with a plus between them.
fn listed(numbers: &[f64]) -> String {
    numbers.iter().map(|number| plain(*number)).collect::<Vec<_>>().join("+")
}

/// As many such numbers as there are bounds, each within its own.
fn numbers<const COUNT: usize>(text: &str, bounds: [Bound; COUNT]) -> Option<[f64; COUNT]> {
    let mut words = text.split('+');
    let mut found = [0.0; COUNT];
    for (number, bound) in found.iter_mut().zip(bounds) {
        *number = words.next()?.parse().ok().filter(|number| bound.allows(*number))?;
    }
    words.next().is_none().then_some(found)
}

/// A load of one's own: three components, where it acts, along which axes, and what holds its torque.
fn own_text(load: &Load) -> String {
    let words = [
        POINTS[usize::from(load.at == LoadPoint::WheelCentre)],
        AXES[usize::from(load.axes == LoadAxes::Wheel)],
        HOLDS[match load.reacted_by {
            ReactedBy::Knuckle => 0,
            ReactedBy::Shaft => 1,
            ReactedBy::Nothing => 2,
        }],
    ];
    format!("{}+{}", listed(&load.force), words.join("+"))
}

fn own_read(text: &str) -> Option<Load> {
    let words: Vec<&str> = text.split('+').collect();
    let [x, y, z, at, axes, holds] = words[..] else { return None };
    let force = numbers(&[x, y, z].join("+"), [bounds::FORCE; 3])?;
    Some(Load {
        at: [LoadPoint::Contact, LoadPoint::WheelCentre][one_of(at, POINTS)?],
        force,
        axes: [LoadAxes::Vehicle, LoadAxes::Wheel][one_of(axes, AXES)?],
        reacted_by: [ReactedBy::Knuckle, ReactedBy::Shaft, ReactedBy::Nothing][one_of(holds, HOLDS)?],
    })
}

impl Session {
    /// What is looked at.
    #[must_use]
    pub fn look(&self) -> Look {
        let (wheels, range, load) = (self.wheels(), self.range(), self.load());
        let arrows = self.tab.get() == Tab::Forces || load.kept.get();
        let kind = load.kind.get();
        let look = Look {
            rear: self.axle.get() == Axle::Rear,
            right: self.side.get() == Side::Right,
            moved: MOVED.map(|(_, moving, _)| self.moved(moving)),
            about_roll_centre: wheels.lean.get() == Lean::RollCentre,
            reading: self.chosen.get(),
            shown: [wheels.both.get(), self.axles().both.get(), range.ghosts.get(), range.traces.get()],
            tab: Some(self.tab.get()).filter(|tab| *tab != Tab::Readings),
            curves: None,
            load: arrows.then(|| (kind, number_of(kind).map(|_| load.number(kind)))),
            own: if arrows && kind == CaseKind::Free { load.free.get() } else { Vec::new() },
            given: if arrows { load.given.get() } else { Given::default() },
            asked: self.whole_car().asked(),
            trust: self.trust().shown.get().then(|| self.trust().measured.get()),
            reference: self.reference.kept.with(|kept| Some(Box::new(kept.as_ref()?.document.clone()))),
            together: self.trust().beside.get(),
        };
        let curves = self.curves.choice();
        let told = look != Look::default() || curves != Choice::default();
        Look { curves: told.then_some(curves), ..look }
    }

    /// Looks at what a link asks for, as far as the setup has it; where it asks for nothing all stays.
    pub fn look_at(&self, look: &Look) {
        if *look == Look::default() {
            return;
        }
        // Another axle hushes what was said of the one before; this was said of the setup.
        let told = self.notice.get_untracked();
        let axle = if look.rear { Axle::Rear } else { Axle::Front };
        let (there, right) = self.document.with_untracked(|document| {
            (document.corner(axle).is_some(), document.right_corner(axle).is_some())
        });
        if there && axle != self.axle.get_untracked() {
            self.show_axle(axle);
        }
        // What both wheels are asked for is shown from the left one's side.
        self.show_left();
        if let Some(curves) = &look.curves {
            self.curves.choose(curves.clone());
        }
        if let Some((kind, number)) = look.load {
            self.load().kind.set(kind);
            if let Some(number) = number {
                self.load().set_number(kind, number);
            }
        }
        // Loads of one's own may be none.
        if !look.own.is_empty() || matches!(look.load, Some((CaseKind::Free, _))) {
            self.load().free.set(look.own.clone());
        }
        self.load().given.set(look.given);
        self.load().kept.set(look.load.is_some() && look.tab != Some(Tab::Forces));
        self.whole_car().ask(look.asked);
        if let Some(measured) = look.trust {
            self.trust().take(measured);
        }
        if let Some(reference) = &look.reference {
            self.set_reference((**reference).clone());
        }
        if look.reference.is_some() || look.together.is_some() {
            self.trust().beside.set(look.together);
        }
        let [both, axles, ends, paths] = look.shown;
        let (wheels, range) = (self.wheels(), self.range());
        range.playing.set(None);
        wheels.lean.set(if look.about_roll_centre { Lean::RollCentre } else { Lean::HeaveHeld });
        wheels.both.set(both);
        self.axles().both.set(axles);
        range.ghosts.set(ends);
        range.traces.set(paths);
        for ((_, moving, _), value) in MOVED.into_iter().zip(look.moved) {
            self.move_to(moving, value);
        }
        if look.right && right {
            self.show_side(Side::Right);
        }
        self.chosen.set(look.reading);
        self.tab.set(look.tab.unwrap_or(Tab::Readings));
        self.fit();
        self.notice.set(told);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::session::forces::FRESH_LOAD;
    use geometry_core::setup;

    #[test]
    fn a_look_comes_back_from_a_link() {
        assert_eq!(Look::default().text(), "");
        let look = Look {
            rear: true,
            right: true,
            moved: [-30.5, 0.0, 2.0],
            about_roll_centre: true,
            reading: Some(Quantity::AntiDrivingHub),
            shown: [true, false, true, false],
            tab: Some(Tab::WholeCar),
            curves: Some(Choice { both: true, charts: vec![Quantity::Toe], ..Choice::default() }),
            load: Some((CaseKind::Cornering, Some(-0.8))),
            own: vec![
                FRESH_LOAD,
                Load {
                    at: LoadPoint::WheelCentre,
                    force: [-1.5, 0.0, 20.0],
                    axes: LoadAxes::Wheel,
                    reacted_by: ReactedBy::Shaft,
                },
            ],
            given: Given { damper: -120.0, anti_roll_bar: 4.5, torsion_bar: 0.0 },
            asked: Some((-0.8, 1.1, Some(0.25))),
            trust: Some(Measured { length: 1.5, angle: 0.05, height: 15.0, proportion: 3.0 }),
            reference: Some(Box::new(setup::example())),
            together: Some(Beside::Apart),
        };
        let text = look.text();
        assert!(
            text.bytes().all(|b| b.is_ascii_graphic() && !matches!(b, b'#' | b'%' | b'"' | b'<')),
            "{text}"
        );
        assert_eq!(Look::read(&format!("#s=AAAA{text}")), (look, None));
        let standing = Look { load: Some((CaseKind::Standing, None)), ..Look::default() };
        assert_eq!(Look::read(&format!("#s=AAAA{}", standing.text())), (standing, None));
    }

    #[test]
    fn what_means_nothing_is_said_and_what_a_later_page_writes_is_passed_over() {
        assert_eq!(Look::read("#s=AAAA&later=7&"), (Look::default(), None));
        for bad in [
            "travel=9999",
            "travel=NaN",
            "roll=x",
            "axle=middle",
            "reading=beauty",
            "show=both+all+paths",
            "panel=secret",
            "load=bump+1e9",
            "load=flying",
            "curves=beauty+and+truth",
            "lean=over",
            "own=1+2+3+contact+vehicle",
            "own=1+2+1e99+contact+vehicle+knuckle",
            "given=1+2",
            "asked=1",
            "asked=1+1+7",
            "trust=2+0.1+20",
            "trust=2+0.1+20+2+2",
            "beside=AAAA",
            "together=never",
        ] {
            // What it can show of a part it shows.
            let (look, fault) = Look::read(&format!("#s=AAAA&{bad}&rack=5&end"));
            assert_eq!(look.shown[3], bad.ends_with("paths"), "{bad}");
            assert!(fault.is_some_and(|fault| fault.contains(bad)), "{bad}");
            assert_eq!(look.moved[1], 5.0, "the rest is taken: {bad}");
        }
        let broken = Look::read("#s=AAAA&travel=\n-1\r\n2.5&e\nnd");
        assert_eq!((broken.0.moved[0], broken.1), (-12.5, None), "a message may break the line");
        let cut = Look::read("#s=AAAA&travel=30&rack=1");
        assert!(cut.0.moved == [30.0, 1.0, 0.0] && cut.1.is_some_and(|fault| fault.contains("missing")));
    }
}
