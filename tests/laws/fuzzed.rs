//! The properties that the fuzz targets look for holes in, on the corpus they start from and
//! on copies of it that were harmed: no libFuzzer is needed for these.

use std::{fs, path::PathBuf};

use cornerwise_tests::root;
use geometry_core::setup::{Axle, Brakes, Corner, Document, Drive, VERSION, Vehicle, example};
use proptest::{collection::vec, prelude::*};
use web_app::{presets::Preset, sharing};

use crate::checking::for_all;

#[path = "../fuzz/properties.rs"]
mod properties;

/// The committed inputs of a target, by name.
fn corpus(target: &str) -> Vec<(PathBuf, Vec<u8>)> {
    let folder = root().join("tests").join("fuzz").join("corpus").join(target);
    let mut files: Vec<PathBuf> =
        fs::read_dir(folder).expect("a corpus").flatten().map(|entry| entry.path()).collect();
    files.sort();
    assert!(files.len() >= 8, "{files:?}");
    files.into_iter().map(|file| (file.clone(), fs::read(file).expect("a committed input"))).collect()
}

/// Which input it was that failed.
fn each(target: &str, property: impl Fn(&[u8])) {
    for (file, bytes) in corpus(target) {
        eprintln!("{}", file.display());
        property(&bytes);
    }
}

#[test]
fn every_document_of_the_corpus() {
    each("document", properties::document);
}

#[test]
fn every_link_of_the_corpus() {
    each("link", properties::link);
}

/// Too long for libFuzzer to come upon: a text of which no length was checked made links that
/// were too long to open.
#[test]
fn no_text_is_too_long_for_a_link() {
    let mut document = serde_json::to_value(example()).expect("JSON");
    let text = "x".repeat(sharing::LONGEST);
    let fields = every_text(&document);
    assert!(fields.iter().any(|field| field == "/front/spring/on"), "{fields:?}");
    for field in fields {
        let place = |document: &mut serde_json::Value, text| {
            std::mem::replace(document.pointer_mut(&field).expect("a text"), text)
        };
        let before = place(&mut document, text.clone().into());
        properties::document(document.to_string().as_bytes());
        place(&mut document, before);
    }
}

/// Where in a document texts stand, as JSON pointers (RFC 6901).
fn every_text(value: &serde_json::Value) -> Vec<String> {
    let below: Vec<(String, &serde_json::Value)> = match value {
        serde_json::Value::String(_) => return vec![String::new()],
        serde_json::Value::Array(items) => {
            items.iter().enumerate().map(|(i, item)| (i.to_string(), item)).collect()
        }
        serde_json::Value::Object(fields) => {
            fields.iter().map(|(name, field)| (name.clone(), field)).collect()
        }
        _ => Vec::new(),
    };
    let within =
        |(name, value): (String, _)| every_text(value).into_iter().map(move |rest| format!("/{name}{rest}"));
    below.into_iter().flat_map(within).collect()
}

/// A byte changed, put in or taken out.
#[derive(Debug, Clone)]
enum Harm {
    Changed(usize, u8),
    PutIn(usize, u8),
    TakenOut(usize),
}

fn harm() -> impl Strategy<Value = Harm> {
    let place = 0..usize::MAX;
    prop_oneof![
        3 => (place.clone(), any::<u8>()).prop_map(|(at, byte)| Harm::Changed(at, byte)),
        1 => (place.clone(), any::<u8>()).prop_map(|(at, byte)| Harm::PutIn(at, byte)),
        1 => place.prop_map(Harm::TakenOut),
    ]
}

fn harmed(mut bytes: Vec<u8>, harms: &[Harm]) -> Vec<u8> {
    for harm in harms {
        let count = bytes.len().max(1);
        match *harm {
            Harm::Changed(at, byte) => bytes.iter_mut().skip(at % count).take(1).for_each(|b| *b = byte),
            Harm::PutIn(at, byte) => bytes.insert(at % (bytes.len() + 1), byte),
            Harm::TakenOut(at) if !bytes.is_empty() => drop(bytes.remove(at % count)),
            Harm::TakenOut(_) => {}
        }
    }
    bytes
}

#[test]
fn any_harm_to_the_corpus() {
    for (target, cases, property) in
        [("document", 100, properties::document as fn(&[u8])), ("link", 300, properties::link)]
    {
        let inputs: Vec<Vec<u8>> = corpus(target).into_iter().map(|(_, bytes)| bytes).collect();
        for_all(cases, &(0..inputs.len(), vec(harm(), 1..4)), |(which, harms)| {
            property(&harmed(inputs[which].clone(), &harms));
        });
    }
}

/// Documents of the corpus: what each is for, by the name of its file.
fn seeds() -> Vec<(String, Document)> {
    let mut seeds = vec![("example".into(), example())];
    for layout in Preset::ALL {
        let document = Document {
            cornerwise: VERSION,
            title: layout.name().into(),
            note: String::new(),
            vehicle: Vehicle { wheelbase: Some(2600.0), ..Vehicle::default() },
            front: Some(layout.corner(Axle::Front, 2600.0)),
            rear: None,
            front_right: None,
            rear_right: None,
        };
        seeds.push((format!("{layout:?}").to_lowercase(), document));
    }
    let mut document = example();
    document.front_right = document.front.as_ref().map(Corner::mirrored);
    if let Some(rear) = &mut document.rear {
        (rear.brakes, rear.drive) = (Brakes::Inboard, Drive::Hub);
        rear.bump_travel = Some(71.5);
    }
    seeds.push(("both-sides".into(), document));
    seeds
}

/// `cargo test --test laws -- --ignored write_the_corpus` makes the corpus' beginning anew.
#[test]
#[ignore = "writes files"]
fn write_the_corpus() {
    let folder = root().join("tests").join("fuzz").join("corpus");
    let write = |file: PathBuf, bytes: &[u8]| fs::write(file, bytes).expect("a writable folder");
    let requests = fs::read_dir(root().join("tests").join("requests")).expect("requests");
    let mut documents = seeds();
    for request in requests.flatten() {
        let text = fs::read_to_string(request.path()).expect("a committed request");
        let mut value: serde_json::Value = serde_json::from_str(&text).expect("JSON");
        let name = request.path().file_stem().expect("a name").to_string_lossy().into_owned();
        let setup: Document = serde_json::from_value(value["setup"].clone()).expect("a setup");
        documents.push((format!("request-{name}"), setup));
        // As short as can be: every byte is one that is tried.
        value["sweeps"][0]["positions"] = 3.into();
        value["show"] = serde_json::json!(["springing", "envelope", "forces", "construction"]);
        write(folder.join("document").join(format!("{name}.json")), value.to_string().as_bytes());
    }
    for (name, document) in documents {
        let link = sharing::encode(&document);
        write(folder.join("link").join(format!("{name}.bytes")), &payload(&link));
        if ["example", "twoarms"].contains(&&*name) {
            write(folder.join("link").join(format!("{name}.txt")), link.as_bytes());
            let text = serde_json::to_string(&document).expect("a document");
            write(folder.join("document").join(format!("{name}.json")), text.as_bytes());
        }
    }
}

/// What a link holds, without its checksum.
fn payload(link: &str) -> Vec<u8> {
    let code = link.strip_prefix(sharing::PREFIX).expect("a link");
    let mut bytes = data_encoding::BASE64URL_NOPAD.decode(code.as_bytes()).expect("our own");
    bytes.truncate(bytes.len() - 4);
    bytes
}
