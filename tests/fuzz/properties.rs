//! What must hold whatever bytes are handed in, as a file, a request or a link.
//!
//! The fuzz targets call these with bytes made up by libFuzzer; the laws call them with the
//! committed corpus and with harmed copies of it, on every machine.
#![allow(dead_code, reason = "each fuzz target calls one of the two")]

use ciborium::Value;
use data_encoding::BASE64URL_NOPAD;
use evaluate::{ReadError, Request, read_document, write_document};
use geometry_core::setup::Document;
use web_app::{
    session::look::Look,
    sharing::{LinkError, PREFIX, decode, encode},
};

/// Any bytes as the text of a file and of a request: no panic, no number that is none in an
/// answer, and no refusal that names nothing.
pub(crate) fn document(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    match read_document(text) {
        Ok(document) => {
            keeps(&document);
            answers(&document);
        }
        Err(error) => named(&error),
    }
    asked(text);
}

/// Any bytes as a link, and as what a link holds with the right checksum after it: no panic,
/// and what opens is a good document that goes back into an equal link.
pub(crate) fn link(bytes: &[u8]) {
    if let Ok(text) = std::str::from_utf8(bytes) {
        opened(text);
    }
    opened(&sealed(bytes));
}

fn opened(link: &str) {
    // What is looked at is read from any text, and what was understood of it goes into a link that says the same.
    let (look, _) = Look::read(link);
    assert_eq!(Look::read(&look.text()), (look, None));
    match decode(link) {
        Ok(document) => {
            assert_eq!(decode(&encode(&document)).as_ref(), Ok(&document), "the link's own document");
            keeps(&document);
            answers(&document);
        }
        Err(LinkError::Impossible(error)) => named(&ReadError::Field(error)),
        Err(error) => assert!(!error.to_string().is_empty()),
    }
}

/// A refusal names the field, or the place in the text.
fn named(error: &ReadError) {
    let sentence = error.to_string();
    match error {
        ReadError::Text { field, message } => {
            assert!(!message.is_empty() && (!field.is_empty() || message.contains("line")), "{sentence}");
        }
        ReadError::Field(error) => {
            assert!(!error.field().is_empty() && sentence.contains(error.field()), "{sentence}");
        }
    }
}

/// A good document is the same after it was a file, and after it was a link the same but for
/// what a link rounds, once.
fn keeps(document: &Document) {
    assert_eq!(document.check(), Ok(()));
    assert_eq!(read_document(&write_document(document)).as_ref(), Ok(document), "the file's own document");
    let link = encode(document);
    let rounded = decode(&link).expect("a good document has a link that opens");
    assert_eq!(encode(&rounded), link);
}

/// Everything that can be asked about a document is answered or refused.
fn answers(document: &Document) {
    let wishes = r#"{
        "setup": {"cornerwise": 1},
        "states": [{"axle": "front"}, {"axle": "front", "travel": 35, "rack": 12},
            {"axle": "rear"}, {"axle": "rear", "travel": -45}],
        "show": ["springing", "envelope", "forces", "construction"],
        "axles": [{"axle": "front", "heave": 10, "roll": 1.5, "rack": -8}, {"axle": "rear", "roll": -1}],
        "sweeps": [{"axle": "front", "from": {"travel": -60}, "to": {"travel": 60}, "positions": 4},
            {"axle": "rear", "from": {"travel": -60}, "to": {"travel": 60}, "positions": 4}],
        "car": {"lateral_acceleration": 0.5}
    }"#;
    let mut request: Request = serde_json::from_str(wishes).expect("a good request");
    request.setup.clone_from(document);
    // An axle that is not there ends the whole request.
    request.sweeps.retain(|sweep| document.corner(sweep.axle).is_some());
    answered(&request);
}

/// A text as a request.
fn asked(text: &str) {
    let Ok(request) = serde_json::from_str::<Request>(text) else {
        let refusal = evaluate::answer_text(text).expect_err("this is no request");
        refused(&serde_json::from_str(&refusal).expect("a refusal is JSON"));
        return;
    };
    // Long requests only take long.
    let rows: usize = request.sweeps.iter().map(|sweep| sweep.positions.min(100_001)).sum();
    if request.setup.check().is_ok() && rows + request.states.len() + request.axles.len() < 300 {
        answered(&request);
    }
}

fn answered(request: &Request) {
    match evaluate::answer(request) {
        Ok(answer) => {
            let answer = Value::serialized(&answer).expect("an answer can be written");
            every_number_is_finite(&answer, "answer");
        }
        Err(failure) => assert!(!failure.kind.is_empty() && !failure.message.is_empty(), "{failure:?}"),
    }
}

fn refused(answer: &serde_json::Value) {
    let said = |word: &str| answer["error"][word].as_str().is_some_and(|text| !text.is_empty());
    assert!(said("kind") && said("message"), "{answer}");
}

/// JSON has no NaN and no infinity and would write `null`, which means that there is no such
/// value; so the answer is looked at before it is JSON.
fn every_number_is_finite(value: &Value, path: &str) {
    match value {
        Value::Float(number) => assert!(number.is_finite(), "{path} is {number}"),
        Value::Array(items) => {
            for (index, item) in items.iter().enumerate() {
                every_number_is_finite(item, &format!("{path}[{index}]"));
            }
        }
        Value::Map(fields) => {
            for (name, field) in fields {
                every_number_is_finite(field, &format!("{path}.{}", name.as_text().unwrap_or_default()));
            }
        }
        _ => {}
    }
}

/// The link of any bytes, with their checksum (CRC-32) after them.
pub(crate) fn sealed(bytes: &[u8]) -> String {
    let sum = !bytes.iter().fold(u32::MAX, |sum, &byte| {
        let shifted = |sum: u32, _| if sum & 1 == 1 { (sum >> 1) ^ 0xEDB8_8320 } else { sum >> 1 };
        (0..8).fold(sum ^ u32::from(byte), shifted)
    });
    format!("{PREFIX}{}", BASE64URL_NOPAD.encode(&[bytes, &sum.to_le_bytes()].concat()))
}
