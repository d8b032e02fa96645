//! The data files, and numbers compared by name.

use std::{collections::BTreeMap, fs};

use cornerwise_tests::root;
use geometry_core::{
    Vec3,
    linkage::Linkage,
    setup::{Axle, Corner, Side},
};
use serde_json::Value;

/// A committed file of answers.
pub(crate) fn data(name: &str) -> Value {
    let path = root().join("tests").join("reference").join(name);
    let text = fs::read_to_string(&path).expect("a committed data file");
    serde_json::from_str(&text).expect("JSON")
}

pub(crate) fn list(value: &Value) -> &[Value] {
    value.as_array().expect("a list")
}

pub(crate) fn number(value: &Value) -> f64 {
    value.as_f64().expect("a number")
}

pub(crate) fn vector(value: &Value) -> Vec3 {
    Vec3::from_iterator(list(value).iter().map(number))
}

pub(crate) fn text(value: &Value) -> &str {
    value.as_str().expect("a text")
}

/// The case of this name.
pub(crate) fn case<'a>(corners: &'a Value, name: &Value) -> &'a Value {
    list(&corners["cases"]).iter().find(|case| case["name"] == *name).expect("a case of that name")
}

/// A case's one corner.
pub(crate) fn corner(case: &Value) -> Corner {
    let document = evaluate::read_document(&case["setup"].to_string()).expect("a setup document");
    let axle = if case["axle"] == "front" { Axle::Front } else { Axle::Rear };
    document.corner(axle).expect("the case's corner").clone()
}

/// Its linkage.
pub(crate) fn linkage(case: &Value) -> Linkage {
    Linkage::new(&corner(case), Side::Left).expect("a corner that moves")
}

/// Largest difference of each name and where it was.
#[derive(Default)]
pub(crate) struct Largest(BTreeMap<String, (f64, String)>);

impl Largest {
    /// Compares number by number; places of a list count as one name. What is null on one
    /// side must be so on the other.
    pub(crate) fn compare(&mut self, name: &str, place: &str, found: &Value, expected: &Value) {
        match (found, expected) {
            (Value::Object(found), Value::Object(expected)) => {
                assert!(found.keys().eq(expected.keys()), "{place}: {name} has other parts");
                for (key, found) in found {
                    let name = if name.is_empty() { key.clone() } else { format!("{name}.{key}") };
                    self.compare(&name, place, found, &expected[key]);
                }
            }
            (Value::Array(found), Value::Array(expected)) => {
                assert_eq!(found.len(), expected.len(), "{place}: {name}");
                // A centre is a quotient by a rate of turning, which falls with its distance:
                // its error grows with the distance's square. One metre counts as near.
                let far = expected.iter().map(|x| number(x).abs()).fold(0.0, f64::max) / 1000.0;
                let scale = if name.ends_with("_view_centre") { (far * far).max(1.0) } else { 1.0 };
                for (found, expected) in found.iter().zip(expected) {
                    self.note(name, place, (number(found) - number(expected)).abs() / scale);
                }
            }
            (Value::Null, Value::Null) => {}
            _ => self.note(name, place, (number(found) - number(expected)).abs()),
        }
    }

    pub(crate) fn note(&mut self, name: &str, place: &str, difference: f64) {
        assert!(!difference.is_nan(), "{place}: {name}");
        let largest = self.0.entry(name.to_owned()).or_insert_with(|| (-1.0, String::new()));
        if difference > largest.0 {
            *largest = (difference, place.to_owned());
        }
    }

    /// Prints all and fails on every name whose largest difference is beyond what is allowed.
    #[expect(clippy::print_stdout, reason = "shown by --nocapture only")]
    pub(crate) fn check(&self, source: &str, allowed: impl Fn(&str) -> f64) {
        assert!(!self.0.is_empty(), "something is compared");
        let mut beyond = String::new();
        for (name, (difference, place)) in &self.0 {
            let line = format!(
                "{source}: {name} differs by {difference:.1e}, allowed {:.0e}, {place}",
                allowed(name)
            );
            println!("{line}");
            if *difference > allowed(name) {
                beyond.push_str(&line);
                beyond.push('\n');
            }
        }
        assert!(beyond.is_empty(), "{beyond}");
    }
}
