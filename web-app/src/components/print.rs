//! The sheet on paper: made when the browser is about to print, gone afterwards.

use geometry_core::{
    readings::{Quantity, quantity::Question},
    setup::{Axle, Corner, Side},
};
use leptos::{ev, html, prelude::*};
use wasm_bindgen::{JsCast, closure::Closure};

use super::{beside, sheet::drawing};
use crate::{
    app::session,
    describe::{
        self,
        beside::Difference,
        forces::{self, CaseKind},
    },
    edit::PointPath,
    effects::{clock, files},
    numbers::{format_number, round_to},
    scene::{
        markup::markup_of_layers,
        printed::{self, Curve, Facts, Printed, Row},
    },
    session::{
        Session, TRAVEL_SHOWN,
        readout::{self, Leans},
    },
    units::{System, Unit},
    with_unit::quantity_text,
};

/// As many curves as the sheet has room for.
const MOST_CURVES: usize = 4;

/// Where the sheet for the printer is put; empty on the screen.
#[component]
pub fn PrintSheet() -> impl IntoView {
    let session = session();
    let place = NodeRef::<html::Div>::new();
    // At once and not by a signal: the browser lays the paper out when the event is over.
    let put = move |text: &str| {
        if let Some(place) = place.get_untracked() {
            place.set_inner_html(text);
        }
    };
    let before = window_event_listener(ev::Custom::<web_sys::Event>::new("beforeprint"), move |_| {
        put(&sheet(session));
    });
    let after = window_event_listener(ev::Custom::<web_sys::Event>::new("afterprint"), move |_| put(""));
    on_cleanup(move || {
        before.remove();
        after.remove();
    });
    // Tools that only pretend to print send no such event.
    if let Some(query) = web_sys::window().and_then(|window| window.match_media("print").ok().flatten()) {
        let asked = query.clone();
        let changed = Closure::<dyn Fn()>::new(move || {
            put(&if asked.matches() { sheet(session) } else { String::new() });
        });
        // The page's own life is the listener's.
        let _ = query.add_event_listener_with_callback("change", changed.as_ref().unchecked_ref());
        changed.forget();
    }
    view! { <div class="print-sheet" node_ref=place></div> }
}

/// Opens the browser's own dialog.
pub(super) fn print(session: Session) {
    if web_sys::window().is_none_or(|window| window.print().is_err()) {
        session.complain("This browser did not open its dialog for printing; use its own menu.".into());
    }
}

fn sheet(session: Session) -> String {
    untrack(move || {
        let (along, reference_along) = session.along_travel();
        let chosen = session.curves.charts.get();
        let all = chosen.len();
        let curves = chosen.into_iter().take(MOST_CURVES).map(|quantity| {
            let (length, scale) = (Unit::Millimetre.here(), describe::unit(quantity).here());
            let of = |along: &[(f64, geometry_core::readings::Readings)]| {
                let told = along.iter().map(|(travel, r)| (length.of(*travel), quantity.value(r)));
                told.map(|(travel, value)| (travel, value.map(|value| scale.of(value)))).collect()
            };
            Curve {
                title: with_unit(quantity, session.axle.get()),
                points: of(&along),
                reference: of(&reference_along),
                reach: length.of(TRAVEL_SHOWN).ceil(),
                along: length.symbol,
                cursor: session
                    .solved
                    .with(|solved| solved.as_ref().map_or(0.0, |s| length.of(s.position.state().travel))),
                decimals: scale.decimals,
            }
        });
        let printed =
            Printed { facts: facts(session), rows: rows(session), curves: curves.collect(), chosen: all };
        printed::markup(&printed, session.frame_of_all(), session.wheels().stance.get(), |sheet, view| {
            let beneath = markup_of_layers(&beside::drawing(session, sheet, view));
            let view = markup_of_layers(&drawing(session, sheet, view));
            format!("<g class=\"beneath\">{beneath}</g>{view}")
        })
    })
}

fn with_unit(quantity: Quantity, axle: Axle) -> String {
    let (label, unit) = (describe::label(quantity, axle), describe::unit(quantity).here().symbol);
    if unit.is_empty() { label.into() } else { format!("{label}, {unit}") }
}

fn facts(session: Session) -> Facts {
    let axle = session.axle.get();
    let name = if axle == Axle::Front { "Front" } else { "Rear" };
    let layout = session.corner.with(|corner| corner.as_ref().map(describe::setup::layout));
    let state = session.solved.with(|solved| solved.as_ref().map(|solved| solved.position.state()));
    let state = state.unwrap_or(session.state.get());
    let place = |value: f64, plus: &str, minus: &str| {
        let shown = Unit::Millimetre.show(value);
        match value {
            value if value > 0.0 => format!("{shown} ({plus})"),
            value if value < 0.0 => format!("{shown} ({minus})"),
            _ => "0".into(),
        }
    };
    let trouble = [
        session.linkage.with(|linkage| linkage.as_ref().err().map(|error| format!("No linkage: {error}."))),
        session.solved.with(|solved| solved.as_ref().and_then(|solved| solved.stopped.clone())),
        session.reference.trouble.get(),
    ];
    let (title, note) = session.document().with(|document| (document.title.clone(), document.note.clone()));
    // As far as it leans, where it was asked to lean farther.
    let reached = || session.wheels().solved.get().map(|solved| solved.position.state().roll);
    let asked = session.wheels().roll.get();
    let roll = if asked == 0.0 { asked } else { reached().unwrap_or(asked) };
    let lean = if roll == 0.0 {
        String::new()
    } else {
        let way = if roll > 0.0 { "right" } else { "left" };
        format!(", the body leans {}° to the {way}", format_number(roll.abs(), 2))
    };
    let what = match (session.wheels().both.get(), session.side.get()) {
        (true, _) => "axle, numbers of the left wheel",
        (false, Side::Left) => "left corner",
        (false, Side::Right) => "right corner, drawn as in a mirror",
    };
    Facts {
        mirrored: session.side.get() == Side::Right,
        corner: format!("{name} {what}: {}", layout.unwrap_or_else(|| "not described".into())),
        state: format!(
            "travel {}, rack {}{lean}{}",
            place(state.travel, "bump", "rebound"),
            place(state.rack, "left", "right"),
            load_case(session)
        ),
        date: clock::local(clock::since_1970()).date(),
        file: files::name_from(&title),
        reference: session.reference.title(),
        // What is wrong comes before what may be, which is often the same.
        trouble: trouble.into_iter().flatten().chain(odd(session)).collect(),
        measured: doubted(session).then(|| {
            let compared = session.reference.kept.with(Option::is_some);
            let what = if compared { "a difference" } else { "a reading" };
            let compared = compared.then(|| session.beside());
            let measured = describe::doubt::measured_beside(session.trust().measured.get(), compared);
            format!("± beside {what}: {measured}.")
        }),
        title,
        note,
    }
}

/// Whether the table tells how uncertain the readings are, or beside a reference their differences: of where they are
/// read.
fn doubted(session: Session) -> bool {
    session.trust().shown.get() && !session.doubts_are_behind()
}

/// The load case whose arrows are drawn.
fn load_case(session: Session) -> String {
    let load = session.load();
    if load.arrows.with(Option::is_none) {
        return String::new();
    }
    let kind = load.kind.get();
    let unit = if kind == CaseKind::Bump { " times the load at rest" } else { " g" };
    let number = forces::number_of(kind).map(|_| format!(", {}{unit}", format_number(load.number(kind), 2)));
    format!("; forces: {}{}", forces::kind(kind).to_lowercase(), number.unwrap_or_default())
}

fn rows(session: Session) -> Vec<Row> {
    let axle = session.axle.get();
    let Some(solved) = session.solved.get() else {
        let mut rows = vec![Row::Heading("No linkage, so there is nothing to read.".into())];
        rows.extend(points(session));
        return rows;
    };
    let compared = session.reference.kept.with(Option::is_some);
    let leans = Leans::of(session);
    let doubted = doubted(session);
    let mut rows = Vec::new();
    for question in Question::ALL {
        rows.push(Row::Heading(describe::question(question).into()));
        for quantity in Quantity::ALL.into_iter().filter(|quantity| quantity.question() == question) {
            let value = quantity.value(&solved.readings);
            let missing = || describe::missing(quantity, &solved.readings).to_string();
            let said = |value| readout::words(session, quantity, value, axle, leans).into_owned();
            let words = value.map_or_else(missing, said);
            let (reference, words) =
                if compared { beside_reference(session, quantity, words) } else { (None, words) };
            let words = match (doubted, compared) {
                (false, _) => words,
                (true, false) => joined([session.doubt(quantity), words], "; "),
                (true, true) => beside_difference(words, session.doubt_of_difference(quantity)),
            };
            rows.push(Row::Reading {
                name: describe::label(quantity, axle).into(),
                value: value.map(|value| describe::value(quantity, value)).unwrap_or_default(),
                reference,
                words,
            });
        }
    }
    rows.extend(carried(session));
    rows.extend(points(session));
    rows
}

/// A difference and its uncertainty without their unit, which stands in the first column: this one has no room for more.
fn beside_difference(words: String, doubt: Option<String>) -> String {
    let bare = |text: &str| describe::beside::bare(text).to_owned();
    let doubt = doubt.unwrap_or_default().replace(", either sign", "");
    match (doubt.is_empty(), words.ends_with("difference")) {
        (true, _) => words,
        (false, true) => joined([words, bare(&doubt)], " "),
        (false, false) => joined([bare(&words), bare(&doubt)], " "),
    }
}

fn joined(parts: [String; 2], between: &str) -> String {
    parts.into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(between)
}

/// What the members and the joints carry, where their arrows are drawn.
fn carried(session: Session) -> Vec<Row> {
    let load = session.load();
    let Some(found) = load.found.get().filter(|_| load.arrows.with(Option::is_some)) else {
        return Vec::new();
    };
    let Ok(given) = &found.forces else { return Vec::new() };
    let table =
        session.corner.with(|corner| corner.as_ref().map(|corner| forces::table(corner, found.side, given)));
    let row = |row: &forces::Row| Row::Reading {
        name: row.name.clone(),
        value: row.shown(),
        reference: None,
        // The column has no room for what explains a word.
        words: row.words.split(": ").next().unwrap_or_default().into(),
    };
    // What the body and the rack are pushed with is on the screen.
    let printed = |group: &forces::Group| [forces::MEMBERS, forces::JOINTS].contains(&group.title);
    let groups = table.into_iter().flatten().filter(printed);
    groups
        .flat_map(|group| {
            let rows: Vec<Row> = group.rows.iter().map(row).collect();
            std::iter::once(Row::Heading(group.title.into())).chain(rows)
        })
        .collect()
}

/// Where the corner's points are described and how its wheel is set.
fn points(session: Session) -> Vec<Row> {
    let mirror = if session.side.get() == Side::Right { -1.0 } else { 1.0 };
    session.corner.with(|corner| {
        let Some(corner) = corner else { return Vec::new() };
        let length = Unit::Millimetre.here();
        let row = |path: PointPath| {
            let [x, y, z] = path.get(corner)?;
            let place = [x, mirror * y, z].map(|coordinate| length.number(coordinate));
            Some(Row::Point { name: describe::point_name(path, corner), place })
        };
        let head = Row::PointHeads(format!("Points at travel 0, rack 0, {}", length.symbol));
        let wheel = &corner.wheel;
        let set = format!(
            "Set there: loaded radius {}, camber {}°, toe {}°",
            length.show(wheel.loaded_radius),
            format_number(wheel.camber, 2),
            format_number(wheel.toe, 2)
        );
        let steers = corner.links.iter().find(|link| link.steers);
        let set = set + &steers.map(|link| format!("; {} steers", link.id)).unwrap_or_default();
        let points = PointPath::all(corner).into_iter().filter_map(row);
        let notes = [set, springs(corner)].into_iter().chain(car(session)).filter(|note| !note.is_empty());
        std::iter::once(head).chain(points).chain(notes.map(Row::Note)).collect()
    })
}

/// The rates of the corner, as far as they are given.
fn springs(corner: &Corner) -> String {
    let spring = corner.spring.as_ref().and_then(|spring| spring.rate);
    let bar = corner.anti_roll_bar.as_ref().and_then(|bar| bar.rate);
    let torsion = corner.torsion_bar.as_ref().and_then(|bar| bar.rate);
    listed(
        "Rates: ",
        &[
            ("spring", spring, Unit::NewtonPerMillimetre, ""),
            ("anti-roll bar", bar, Unit::NewtonMetrePerDegree, ""),
            ("torsion bar", torsion, Unit::NewtonMetrePerDegree, ""),
        ],
    )
}

/// The car's numbers that readings hang on, as far as they are given.
fn car(session: Session) -> [String; 2] {
    session.document().with(|document| {
        let vehicle = &document.vehicle;
        let percent = |share: Option<f64>| share.map(|share| round_to(100.0 * share, 2));
        let sizes = [
            ("wheelbase", vehicle.wheelbase, Unit::Millimetre, ""),
            ("mass", vehicle.mass, Unit::Kilogram, ""),
            ("centre of gravity", vehicle.cg_height, Unit::Millimetre, " up"),
        ];
        let shares = [
            ("mass", percent(vehicle.front_mass_share), Unit::Percent, ""),
            ("braking", percent(vehicle.brake_front_share), Unit::Percent, ""),
            ("drive", percent(vehicle.drive_front_share), Unit::Percent, ""),
        ];
        [listed("Car: ", &sizes), listed("Shares in front: ", &shares)]
    })
}

/// Numbers with names and units that are given; empty where none is.
fn listed(begin: &str, numbers: &[(&str, Option<f64>, Unit, &str)]) -> String {
    let one = |(name, number, unit, way): &(&str, Option<f64>, Unit, &str)| {
        let scale = unit.here();
        let number = quantity_text((*number)?, unit.scale(System::Metric).symbol);
        Some(format!("{name} {}{way}", scale.beside(&number)))
    };
    let given: Vec<String> = numbers.iter().filter_map(one).collect();
    if given.is_empty() { String::new() } else { format!("{begin}{}", given.join(", ")) }
}

/// What is worth a second look, in one sentence; none where nothing is.
fn odd(session: Session) -> Option<String> {
    let odd = session.odd_now();
    let (first, more) = odd.split_first()?;
    let more = if more.is_empty() { String::new() } else { format!(" (and {} more)", more.len()) };
    Some(format!("Worth a second look: {}{more}", first.words))
}

/// The reference's number and the difference, where they can be told; else the words that
/// would stand there without a reference.
fn beside_reference(session: Session, quantity: Quantity, words: String) -> (Option<String>, String) {
    let Some(difference) = session.difference(quantity) else { return (None, words) };
    let number = session.reference.solved.get().and_then(|solved| quantity.value(&solved.readings));
    // In the unit of the number beside it.
    let bare = |number| describe::unit(quantity).here().sensible(number);
    match (number, difference) {
        (Some(number), Difference::By(_)) => {
            // The column is called so, and has no room for more.
            let words = difference.words(quantity).replace(" percentage point", " point");
            let words = words.strip_prefix("difference ").map_or_else(|| words.clone(), Into::into);
            (Some(bare(number)), words)
        }
        (Some(number), _) => (Some(describe::value(quantity, number)), "only the reference".into()),
        (None, Difference::ReferenceLacks(_)) => (None, difference.words(quantity)),
        (None, _) => (None, words),
    }
}
