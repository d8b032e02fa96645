//! The page's WebAssembly and the native core give the same numbers, bit for bit.

use cornerwise_tests::browser::{Browser, Look, browse};
use geometry_core::setup::{Axle, Document, example};
use serde_json::{Value, json};
use web_app::presets::Preset;

use crate::page::Page;

/// JSON text in which even the sign of a zero is kept, which `JSON.stringify` alone would drop.
const EXACT: &str = "(value => JSON.stringify(value, (_, v) => Object.is(v, -0) ? '-0' : v))";

/// States over the whole working range of both axles.
fn states() -> Vec<Value> {
    let mut states = Vec::new();
    for axle in [Axle::Front, Axle::Rear] {
        for travel in (-70..=70).step_by(20) {
            for rack in [-40.0, -13.7, 0.0, 22.5] {
                let rack = if axle == Axle::Front { rack } else { 0.0 };
                states.push(json!({ "axle": axle, "travel": f64::from(travel) + 0.3, "rack": rack }));
            }
        }
    }
    // Beyond the reach: the errors have to be the same, too.
    states.push(json!({ "axle": "front", "travel": 400.0, "rack": 0.0 }));
    states
}

/// What the page answers to a request.
async fn in_the_page(browser: &Browser, request: &Value) -> Value {
    let text = browser.eval(&format!("{EXACT}(wasm_bindgen.evaluate({request}))")).await;
    serde_json::from_str(text.as_str().unwrap_or_default()).expect("an answer in JSON")
}

/// Compares every number by its bits and gives how many there were.
fn compare(path: &str, page: &Value, native: &Value) -> usize {
    match (page, native) {
        (Value::Object(page), Value::Object(native)) => {
            assert_eq!(page.keys().collect::<Vec<_>>(), native.keys().collect::<Vec<_>>(), "{path}");
            native.iter().map(|(key, value)| compare(&format!("{path}.{key}"), &page[key], value)).sum()
        }
        (Value::Array(page), Value::Array(native)) => {
            assert_eq!(page.len(), native.len(), "{path}");
            let pairs = page.iter().zip(native).enumerate();
            pairs.map(|(i, (page, native))| compare(&format!("{path}[{i}]"), page, native)).sum()
        }
        (page, Value::Number(native)) => {
            let native = native.as_f64().expect("a double");
            let number = if page == "-0" { Some(-0.0) } else { page.as_f64() };
            let number = number.unwrap_or_else(|| panic!("{path}: page {page}, native {native}"));
            assert!(number.to_bits() == native.to_bits(), "{path}: page {number}, native {native}");
            1
        }
        _ => {
            assert_eq!(page, native, "{path}");
            0
        }
    }
}

fn is_the_same_everywhere(document: &Document) {
    browse(Look::default(), async |browser| {
        Page::open(browser.clone()).await;
        let request = json!({ "setup": document, "states": states() });
        let native = evaluate::answer_text(&request.to_string()).expect("a good request");
        let native: Value = serde_json::from_str(&native).expect("an answer in JSON");
        let count = compare("answer", &in_the_page(&browser, &request).await, &native);
        // Some forty numbers at each of more than sixty states.
        assert!(count > 2000, "only {count} numbers were compared");
    });
}

#[test]
fn the_example_gives_the_same_bits_in_the_page_and_natively() {
    is_the_same_everywhere(&example());
}

#[test]
fn a_strut_before_a_semi_trailing_arm_gives_the_same_bits_in_the_page_and_natively() {
    let mut document = example();
    document.front = Some(Preset::Strut.corner(Axle::Front, 2640.0));
    document.rear = Some(Preset::SemiTrailing.corner(Axle::Rear, 2640.0));
    is_the_same_everywhere(&document);
}

#[test]
fn a_bad_request_is_refused_with_the_same_sentence() {
    browse(Look::default(), async |browser| {
        Page::open(browser.clone()).await;
        let mut document = example();
        document.front.as_mut().expect("a front corner").links.pop();
        let request = json!({ "setup": document, "states": [] });
        let native = evaluate::answer_text(&request.to_string()).expect_err("four freedoms");
        let native: Value = serde_json::from_str(&native).expect("an answer in JSON");
        let page = browser
            .eval(&format!(
                "(() => {{ try {{ return [wasm_bindgen.evaluate({request})] }} catch (e) {{ return e }} }})()"
            ))
            .await;
        assert_eq!(page, native["error"]);
    });
}
