//! What the page's WebAssembly offers to programs: the batch evaluation and the measuring
//! of its own speed, so that tests and benches run what is shipped.

use evaluate::{
    Failure, ReadingsRequest, StateIn, read_document, readings,
    workload::{Work, run_sweeps},
};
use serde::{Deserialize, Serialize};
use wasm_bindgen::{JsValue, prelude::wasm_bindgen};

/// A [`ReadingsRequest`] whose setup is not read yet.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Asked {
    #[serde(with = "serde_wasm_bindgen::preserve")]
    setup: JsValue,
    #[serde(default)]
    states: Vec<StateIn>,
}

/// Answers a request for readings as the batch program does: a plain object in, a plain object
/// out. What else the batch program answers, the page does not carry the writing of.
///
/// # Errors
/// An object `{kind, message}` when the request as a whole fails.
#[wasm_bindgen]
pub fn evaluate(request: JsValue) -> Result<JsValue, JsValue> {
    // `null` for what does not exist, as in the JSON of the batch program.
    let writer = serde_wasm_bindgen::Serializer::json_compatible();
    let fail = |failure: Failure| failure.serialize(&writer).unwrap_or(JsValue::NULL);
    let Asked { setup, states } =
        serde_wasm_bindgen::from_value(request).map_err(|error| JsValue::from_str(&error.to_string()))?;
    // By way of a text, as files are read: another reader of setups would be a fortieth of the page.
    let text = js_sys::JSON::stringify(&setup)?.as_string().unwrap_or_default();
    let setup = read_document(&text).map_err(|error| fail(error.into()))?;
    let request = ReadingsRequest { setup, states };
    match readings(&request) {
        Ok(answer) => answer.serialize(&writer).map_err(JsValue::from),
        Err(failure) => Err(fail(failure)),
    }
}

/// [`run_sweeps`] for the page's own wasm: `work` is the place in [`Work::ALL`].
#[wasm_bindgen]
#[must_use]
pub fn measure(work: usize, repetitions: u32) -> f64 {
    Work::ALL.get(work).map_or(f64::NAN, |work| run_sweeps(*work, repetitions))
}
