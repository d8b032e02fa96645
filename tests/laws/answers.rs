//! The batch program answers every block for a car of every layout: the requests in
//! `tests/requests`, each with rocker, bars, rim, disc and unsprung parts besides.

use std::fs;

use cornerwise_tests::root;
use geometry_core::{
    readings::{Quantity, Reader},
    setup::{Axle, Document, Side},
    solve::State,
};
use serde_json::Value;

use crate::checking::{MOTION, close, leeway, linkage, solved};

/// Layouts that requests stand for.
const LAYOUTS: [&str; 8] = [
    "two-arms",
    "arm-and-split-links",
    "four-links-and-tie-rod",
    "five-links",
    "strut-and-arm",
    "strut-and-links",
    "semi-trailing",
    "trailing",
];

fn request(layout: &str) -> Value {
    let path = root().join("tests").join("requests").join(format!("{layout}.json"));
    serde_json::from_str(&fs::read_to_string(path).expect("a committed request")).expect("JSON")
}

fn answered(request: &Value) -> Value {
    let text = evaluate::answer_text(&request.to_string()).expect("the request is answered");
    serde_json::from_str(&text).expect("JSON")
}

/// Every place in the answer where something is told to be wrong.
fn errors(value: &Value, path: &str, found: &mut Vec<String>) {
    match value {
        Value::Object(fields) => {
            for (name, value) in fields {
                if name == "error" && value.is_object() {
                    found.push(format!("{path}: {value}"));
                }
                errors(value, &format!("{path}.{name}"), found);
            }
        }
        Value::Array(items) => {
            items.iter().enumerate().for_each(|(i, value)| errors(value, &format!("{path}[{i}]"), found));
        }
        _ => {}
    }
}

#[test]
fn every_block_is_answered_for_every_layout() {
    for layout in LAYOUTS {
        let request = request(layout);
        let answer = answered(&request);
        let mut found = Vec::new();
        errors(&answer, layout, &mut found);
        assert!(found.is_empty(), "{found:?}");
        for result in answer["results"].as_array().expect("results") {
            let (state, readings) = (&result["travel"], &result["readings"]);
            let springing = &result["springing"];
            assert_eq!(springing["missing"], Value::Array(Vec::new()), "{layout} at {state}");
            assert!(springing["wheel_rate"].as_f64().is_some_and(|rate| rate > 0.0), "{layout}");
            assert!(!result["envelope"]["joints"].as_array().expect("joints").is_empty(), "{layout}");
            let forces = result["forces"].as_array().expect("cases");
            assert_eq!(forces.len(), 6, "{layout}");
            for case in forces {
                let imbalance = case["forces"]["imbalance"].as_f64().expect("a number");
                assert!(imbalance < 1e-12, "{layout}: {imbalance}");
            }
            let steers = !readings["caster"].is_null();
            assert_eq!(result["steering_kick"].is_object(), steers, "{layout}");
            assert_eq!(result["sensitivity"].as_array().map(Vec::len), Some(Quantity::ALL.len()), "{layout}");
            for construction in result["construction"].as_array().expect("constructions") {
                assert!(!construction["elements"].as_array().expect("elements").is_empty(), "{layout}");
            }
        }
        let axles = answer["axles"].as_array().expect("axles");
        assert_eq!(axles.len(), request["axles"].as_array().map_or(0, Vec::len));
        assert!(axles.iter().all(|axle| axle["readings"]["track"].is_number()), "{layout}");
        let sweep = &answer["sweeps"][0];
        assert_eq!(sweep["states"].as_array().map(Vec::len), Some(13), "{layout}");
        assert!(sweep["before"].is_null() && sweep["after"].is_null(), "{layout}");
        let states = |row: &Value| row["states"].as_array().map(Vec::len);
        let rows =
            |sweep: &Value| sweep["rows"].as_array().expect("rows").iter().map(states).collect::<Vec<_>>();
        assert_eq!(rows(&answer["sweeps"][1]), vec![Some(5); 3], "{layout}");
        let middle = &answer["sweeps"][1]["rows"][1]["states"][2];
        assert_eq!((middle["travel"].as_f64(), middle["rack"].as_f64()), (Some(0.0), Some(0.0)), "{layout}");
        assert_eq!(states(&answer["axle_sweeps"][0]), Some(7), "{layout}");
        assert_eq!(rows(&answer["axle_sweeps"][1]), vec![Some(5); 3], "{layout}");
        let state = &answer["axle_sweeps"][1]["rows"][2]["states"][4]["state"];
        assert_eq!((state["heave"].as_f64(), state["roll"].as_f64()), (Some(20.0), Some(2.0)), "{layout}");
        assert_eq!(answer["car"]["missing"], Value::Array(Vec::new()), "{layout}");
        assert!(answer["car"]["lateral"]["roll_gradient"].is_number(), "{layout}");
    }
}

/// A reading's name is where it stands in the answer, and its value the number there. The lengths of
/// the swing arms stand there as the ends of the arms.
#[test]
fn readings_stand_in_the_answer_under_their_names() {
    for layout in LAYOUTS {
        let request = request(layout);
        let document: Document = serde_json::from_value(request["setup"].clone()).expect("a document");
        let answer = answered(&request);
        for (asked, result) in request["states"]
            .as_array()
            .expect("states")
            .iter()
            .zip(answer["results"].as_array().expect("results"))
        {
            let axle = if asked["axle"] == "front" { Axle::Front } else { Axle::Rear };
            let number = |name: &str| asked[name].as_f64().unwrap_or_default();
            let linkage = linkage(document.corner(axle).expect("described"), Side::Left);
            let position = solved(&linkage, State { travel: number("travel"), rack: number("rack") });
            let found = Reader::new(&linkage, &document.vehicle, axle).read(&position);
            let told = &result["readings"];
            let apart = |centre: &str, of_wheel: usize| {
                let along = told[centre][0].as_f64()?;
                Some((along - told["wheel_centre"][of_wheel].as_f64()?).abs())
            };
            for quantity in Quantity::ALL {
                let path = format!("/{}", quantity.name().replace('.', "/"));
                let told = match quantity {
                    Quantity::FrontViewSwingArm => apart("front_view_centre", 1),
                    Quantity::SideViewSwingArm => apart("side_view_centre", 0),
                    _ => told.pointer(&path).unwrap_or_else(|| panic!("{path} in {told}")).as_f64(),
                };
                let (found, allowed) = (quantity.value(&found), |value| leeway(quantity, value, MOTION));
                assert_eq!(told.is_some(), found.is_some(), "{layout}: {path}");
                if let (Some(told), Some(found)) = (told, found) {
                    close(quantity.name(), found, told, allowed(told));
                }
            }
        }
    }
}

/// What is not asked for is not there, and the readings do not depend on it.
#[test]
fn blocks_come_only_when_asked_for() {
    let mut request = request("two-arms");
    let full = answered(&request);
    for field in ["show", "axles", "sweeps", "axle_sweeps", "car"] {
        request.as_object_mut().expect("a request").remove(field);
    }
    let plain = answered(&request);
    assert_eq!(plain.as_object().map(serde_json::Map::len), Some(1), "results alone");
    for (plain, full) in plain["results"]
        .as_array()
        .into_iter()
        .flatten()
        .zip(full["results"].as_array().into_iter().flatten())
    {
        assert_eq!(plain.as_object().map(serde_json::Map::len), Some(4), "state and readings alone");
        assert_eq!(plain["readings"], full["readings"]);
    }
}

#[test]
fn wrong_wishes_are_named() {
    let asked = |field: &str, value: Value| {
        let mut request = request("two-arms");
        request[field] = value;
        evaluate::answer_text(&request.to_string()).expect_err("refused")
    };
    for (field, value, named) in [
        ("show", serde_json::json!(["colour"]), "show[0]"),
        ("cases", serde_json::json!([{"kind": "standing", "g": 0.9}]), "g"),
        (
            "sweeps",
            serde_json::json!([{"axle": "front", "from": {"rack": -900}, "to": {"rack": 900}, "positions": 3,
                "rows": {"to": {"rack": 900}, "count": 2}}]),
            "sweeps.rows, at the end of the last row: rack",
        ),
        (
            "sweeps",
            serde_json::json!([{"axle": "front", "from": {}, "to": {}, "positions": 0, "rows": {"to": {}, "count": 200_000}}]),
            "sweeps.rows.count",
        ),
        (
            "sweeps",
            serde_json::json!([{"axle": "front", "from": {"travel": 1e9}, "to": {}, "positions": 3}]),
            "sweeps.from.travel",
        ),
        (
            "sweeps",
            serde_json::json!([{"axle": "front", "from": {}, "to": {}, "positions": 4_000_000}]),
            "sweeps.positions",
        ),
        (
            "sweeps",
            serde_json::json!([{"axle": "front", "from": {}, "to": {}, "positions": 3,
                "rows": {"to": {"rack": 1e9}, "count": 2}}]),
            "sweeps.rows.to.rack",
        ),
        (
            "axle_sweeps",
            serde_json::json!([{"axle": "front", "from": {}, "to": {}, "positions": 1000,
                "rows": {"to": {}, "count": 1000}}]),
            "axle_sweeps.positions",
        ),
        ("car", serde_json::json!({"lateral_acceleration": 1e6}), "lateral_acceleration"),
        ("car", serde_json::json!({"shares": {"drive_front": 3}}), "shares.drive_front"),
        ("car", serde_json::json!({"shares": {"brake_frnt": 0.6}}), "brake_frnt"),
    ] {
        let refusal = asked(field, value);
        assert!(refusal.contains(named), "{refusal}");
    }
    // An axle's state has its own error; the others are answered.
    let mut request = request("two-arms");
    request["axles"] = serde_json::json!([{"axle": "front", "roll": 1e9}, {"axle": "front"}]);
    let answer = answered(&request);
    assert_eq!(answer["axles"][0]["error"]["kind"], "field");
    assert!(answer["axles"][1]["readings"]["track"].is_number());
}
