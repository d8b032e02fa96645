//! Every reading at every state.

use serde_json::{Value, json};

use crate::compared::{Largest, case, data, list, number, text};

/// The answers of scipy are written with thirteen digits of coordinates of
/// up to 2,700 mm.
const THIRTEEN_DIGITS: f64 = 5e-10;
/// Closure of both solutions, and a few units in the last place of such a coordinate.
const CLOSED: f64 = 5e-12;

/// What the batch program answers for the same setup and states, against a file's answers.
fn compared(file: &Value) -> Largest {
    let corners = data("corners.json");
    let mut largest = Largest::default();
    for expected in list(&file["results"]) {
        let case = case(&corners, &expected["case"]);
        let state = json!({"axle": case["axle"], "travel": expected["travel"], "rack": expected["rack"]});
        let request = json!({"setup": case["setup"], "states": [state]}).to_string();
        let answer = evaluate::answer_text(&request).expect("an answer");
        let answer: Value = serde_json::from_str(&answer).expect("JSON");
        let place =
            format!("{}, travel {}, rack {}", text(&expected["case"]), expected["travel"], expected["rack"]);
        largest.compare("", &place, &answer["results"][0]["readings"], &expected["readings"]);
    }
    let states: usize = list(&corners["cases"]).iter().map(|case| list(&case["states"]).len()).sum();
    assert_eq!(list(&file["results"]).len(), states, "every state is answered");
    largest
}

/// Finite differences know a rate as well as their steps say: the script writes the largest
/// difference of the last two columns of its extrapolation beside the answers. The last
/// column is better than that by far; what is allowed here is the difference itself, and it
/// must not have become worse than it was.
#[test]
fn readings_are_those_of_solved_lengths_and_finite_differences() {
    let file = data("scipy.json");
    let accuracy = |name: &str| number(&file["accuracy"][name]);
    for name in file["accuracy"].as_object().expect("named accuracies").keys() {
        assert!(accuracy(name) <= 1e-7, "{name} is known to {:e} only", accuracy(name));
    }
    compared(&file).check("scipy", |name| accuracy(name).max(THIRTEEN_DIGITS));
}

/// Derived automatically, so good to rounding: closure within 1e-12 mm, which the division by
/// a rate of turning (0.5° to 5° per 10 mm and as much per mm of rack) makes up to 1e-9 mm in
/// the place of an axis or a centre.
#[test]
fn readings_are_those_of_automatic_differentiation() {
    let file = data("casadi.json");
    assert!(number(&file["closure"]) <= 1e-12);
    compared(&file).check("casadi", |name| match name {
        "camber" | "toe" | "wheel_centre" | "contact" | "half_track_change" | "wheelbase_change"
        | "spring_length" | "damper_length" => CLOSED,
        _ => 1e-9,
    });
}
