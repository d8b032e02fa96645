//! Whatever is handed in: no panic, no NaN, no endless search.

use geometry_core::{
    bounds,
    linkage::Linkage,
    motion::Sweep,
    readings::{Quantity, Reader, Readings},
    setup::{Axle, Document, Side, example},
    solve::{Follower, State},
};
use proptest::{collection::vec, prelude::*, sample::select};
use serde_json::{Value, json};

use crate::{
    checking::{for_all, vehicle},
    hostile::{document, number},
};

/// Evaluations of the constraints one solve may take: four thousand steps with the most
/// that Newton is allowed.
const MOST_EVALUATIONS: u32 = 4_000 * bounds::MOST_EVALUATIONS;

fn every_number_is_finite(readings: &Readings) {
    for quantity in Quantity::ALL {
        if let Some(value) = quantity.value(readings) {
            assert!(value.is_finite(), "{} is {value}", quantity.name());
        }
    }
    let mut numbers = [readings.wheel_centre, readings.contact].concat();
    numbers.extend(readings.front_view_centre.into_iter().chain(readings.side_view_centre).flatten());
    if let Some(steering) = &readings.steering {
        numbers.extend([steering.point, steering.direction].concat());
    }
    assert!(numbers.iter().all(|number| number.is_finite()), "{readings:?}");
}

fn the_core_survives(document: &Document, states: &[State]) {
    let good = document.check();
    if let Err(error) = &good {
        assert!(!error.field().is_empty() && error.to_string().contains(error.field()), "{error}");
    }
    // A vehicle is good by its document's check, which a reader does not repeat.
    let vehicle = if good.is_ok() { document.vehicle.clone() } else { vehicle() };
    for axle in [Axle::Front, Axle::Rear] {
        let Some(corner) = document.corner(axle) else { continue };
        for (corner, side) in [(corner.clone(), Side::Left), (corner.mirrored(), Side::Right)] {
            let linkage = match Linkage::new(&corner, side) {
                Ok(linkage) => linkage,
                Err(error) => {
                    let sentence = error.to_string();
                    for field in error.fields() {
                        assert!(sentence.contains(&field), "{sentence} does not name {field}");
                    }
                    assert!(error.within(axle.name()).to_string().starts_with(axle.name()));
                    continue;
                }
            };
            let reader = Reader::new(&linkage, &vehicle, axle);
            let mut follower = Follower::new(&linkage);
            every_number_is_finite(&reader.read(follower.position()));
            for state in states {
                let outcome = follower.go_to(*state);
                let evaluations = match (outcome.position(), outcome.stop()) {
                    (Some(position), _) => position.evaluations(),
                    (None, stop) => stop.expect("an outcome is one of the two").evaluations,
                };
                assert!(evaluations <= MOST_EVALUATIONS, "{evaluations}");
                // Solved or not, the follower stands somewhere that can be read.
                every_number_is_finite(&reader.read(follower.position()));
            }
            let sweep = Sweep { from: states[0], to: states[states.len() - 1], positions: 5 };
            sweep.run(&linkage, |_, position| every_number_is_finite(&reader.read(position)));
        }
    }
}

/// The numbers that exist in every position are numbers: JSON has no NaN, it would be null.
fn an_answer_is_complete(text: &str) {
    let answer: Value = serde_json::from_str(text).expect("an answer is JSON");
    let Some(results) = answer["results"].as_array() else {
        let sentence = answer["error"]["message"].as_str().expect("a refusal has a sentence");
        assert!(!sentence.is_empty() && answer["error"]["kind"].is_string(), "{text}");
        return;
    };
    for result in results {
        if let Some(readings) = result.get("readings") {
            for name in [
                "camber",
                "toe",
                "half_track_change",
                "wheelbase_change",
                "camber_gain",
                "bump_steer",
                "hub_slope_x",
            ] {
                assert!(readings[name].is_number(), "{name}: {text}");
            }
            for name in ["wheel_centre", "contact"] {
                assert!(readings[name].as_array().is_some_and(|point| point.iter().all(Value::is_number)));
            }
        } else {
            assert!(result["error"]["message"].is_string(), "{text}");
        }
    }
}

fn answered(request: &str) {
    match evaluate::answer_text(request) {
        Ok(text) | Err(text) => an_answer_is_complete(&text),
    }
}

#[test]
fn any_document_and_any_state() {
    for_all(2_000, &document(), |(document, states)| {
        the_core_survives(&document, &states);
        let asked: Vec<Value> = states
            .iter()
            .flat_map(|state| {
                ["front", "rear"]
                    .map(|axle| json!({"axle": axle, "travel": state.travel, "rack": state.rack}))
            })
            .collect();
        answered(&json!({"setup": document, "states": asked}).to_string());
    });
}

/// A vehicle by itself, against a sound corner.
#[test]
fn any_vehicle() {
    for_all(200, &vec(number(), 6), |numbers| {
        let mut document = example();
        let vehicle = &mut document.vehicle;
        vehicle.wheelbase = Some(numbers[0]);
        vehicle.mass = Some(numbers[1]);
        vehicle.front_mass_share = Some(numbers[2]);
        vehicle.cg_height = Some(numbers[3]);
        vehicle.brake_front_share = Some(numbers[4]);
        vehicle.drive_front_share = Some(numbers[5]);
        the_core_survives(&document, &[State::DESIGN]);
    });
}

/// What is done to a text.
#[derive(Debug, Clone)]
enum Edit {
    Cut(usize, usize),
    Insert(usize, &'static str),
    Number(usize, &'static str),
    Truncated(usize),
    Doubled(usize, usize),
}

fn edit() -> impl Strategy<Value = Edit> {
    const PIECES: [&str; 24] = [
        "{",
        "}",
        "[",
        "]",
        ",",
        ":",
        "\"",
        "null",
        "true",
        "-",
        "\\",
        "\\u0000",
        "\u{feff}",
        "é",
        "NaN",
        "\n",
        "{\"a\":",
        "[[[[[[",
        "\"front\":",
        "\"cornerwise\":2,",
        "\"steers\":1",
        "1e5",
        "\"on\":\"\"",
        "//",
    ];
    const NUMBERS: [&str; 18] = [
        "0",
        "-0",
        "1e999",
        "-1e999",
        "1e-999",
        "NaN",
        "Infinity",
        "null",
        "\"1\"",
        "1.",
        "01",
        "[1]",
        "1e300",
        "4e-324",
        "123456789012345678901234567890",
        "20000",
        "-20000",
        "true",
    ];
    let place = 0..usize::MAX;
    prop_oneof![
        1 => (place.clone(), 0..40_usize).prop_map(|(at, count)| Edit::Cut(at, count)),
        1 => (place.clone(), select(&PIECES[..])).prop_map(|(at, piece)| Edit::Insert(at, piece)),
        3 => (place.clone(), select(&NUMBERS[..])).prop_map(|(at, number)| Edit::Number(at, number)),
        1 => place.clone().prop_map(Edit::Truncated),
        1 => (place.clone(), 0..60_usize).prop_map(|(at, count)| Edit::Doubled(at, count)),
    ]
}

fn edited(mut text: String, edits: &[Edit]) -> String {
    for edit in edits {
        let within = |text: &str, at: usize| {
            let mut at = at % (text.len() + 1);
            while !text.is_char_boundary(at) {
                at -= 1;
            }
            at
        };
        match edit {
            Edit::Cut(at, count) => {
                let (from, to) =
                    (within(&text, *at), within(&text, (at % (text.len() + 1) + count).min(text.len())));
                text.replace_range(from..to.max(from), "");
            }
            Edit::Insert(at, piece) => text.insert_str(within(&text, *at), piece),
            Edit::Number(at, number) => {
                let from = within(&text, *at);
                let digit = |c: char| c.is_ascii_digit() || "+-.eE".contains(c);
                if let Some(start) =
                    text[from..].find(|c: char| c.is_ascii_digit()).map(|offset| from + offset)
                {
                    let end = text[start..].find(|c| !digit(c)).map_or(text.len(), |offset| start + offset);
                    text.replace_range(start..end, number);
                }
            }
            Edit::Truncated(at) => text.truncate(within(&text, *at)),
            Edit::Doubled(at, count) => {
                let (from, to) =
                    (within(&text, *at), within(&text, (at % (text.len() + 1) + count).min(text.len())));
                let piece = text[from..to.max(from)].to_string();
                text.insert_str(from, &piece);
            }
        }
    }
    text
}

#[test]
fn any_text() {
    let good = evaluate::write_document(&example());
    let states = r#"[{"axle":"front","travel":20,"rack":5},{"axle":"rear","travel":-20}]"#;
    let request = format!("{{\"setup\":{good},\"states\":{states}}}");
    for_all(2_000, &vec(edit(), 1..5), |edits| {
        if let Ok(document) = evaluate::read_document(&edited(good.clone(), &edits)) {
            assert_eq!(document.check(), Ok(()));
            assert_eq!(evaluate::read_document(&evaluate::write_document(&document)), Ok(document));
        }
        answered(&edited(request.clone(), &edits));
    });
}

#[test]
fn any_noise() {
    for_all(300, &".{0,200}", |noise| {
        assert!(evaluate::read_document(&noise).is_err());
        answered(&noise);
    });
}

/// The request that natives and browsers are compared on: sixty states answered, two beyond
/// the ends, nothing left out.
#[test]
fn the_fixed_states_are_answered() {
    let answer = evaluate::answer_text(&cornerwise_tests::fixed_states()).expect("a good request");
    an_answer_is_complete(&answer);
    let answer: Value = serde_json::from_str(&answer).expect("an answer is JSON");
    let results = answer["results"].as_array().expect("results");
    let missed = results.iter().filter(|result| result.get("error").is_some()).count();
    assert_eq!((results.len(), missed), (62, 2));
}
