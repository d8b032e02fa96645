//! Rules about the project's own files that no compiler checks.

use std::fs;
use std::path::{Path, PathBuf};

use crate::steps::root;

/// Folders that hold nothing written by hand.
const SKIPPED: [&str; 3] = ["target", "dist", ".git"];
/// Beginnings of paths that exist on one machine only; in two parts, or this file would break its own rule.
const MACHINE_PATHS: [(&str, &str); 6] =
    [("/Use", "rs/"), ("/ho", "me/"), ("/wo", "rk/"), ("/ro", "ot/"), ("/tm", "p/"), ("C:", "\\Users")];
/// Text files that may name a path by mistake.
const TEXT: [&str; 12] =
    ["rs", "toml", "md", "json", "html", "css", "js", "svg", "yml", "sh", "lock", "snap"];

/// Every file of the project below a folder.
fn files(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).expect("a readable folder").flatten() {
        let path = entry.path();
        let skipped = SKIPPED.iter().any(|name| path.file_name().is_some_and(|file| file == *name));
        if path.is_dir() && !skipped {
            files(&path, found);
        } else if path.is_file() {
            found.push(path);
        }
    }
}

/// The texts of all files with one of these endings.
fn texts(endings: &[&str]) -> Vec<(PathBuf, String)> {
    let mut found = Vec::new();
    files(&root(), &mut found);
    found.retain(|path| path.extension().is_some_and(|end| endings.iter().any(|wanted| end == *wanted)));
    found.into_iter().filter_map(|path| Some((path.clone(), fs::read_to_string(&path).ok()?))).collect()
}

#[test]
fn every_library_file_begins_by_saying_what_it_is() {
    let mut sources = texts(&["rs"]);
    sources.retain(|(path, _)| path.components().any(|folder| folder.as_os_str() == "src"));
    assert!(!sources.is_empty());
    for (path, text) in sources {
        assert!(text.starts_with("//!"), "{} does not begin with `//!`", path.display());
    }
}

#[test]
fn no_file_names_a_place_on_one_machine() {
    let mut texts = texts(&TEXT);
    // Files whose name says nothing about their kind.
    for name in [".ci/run", ".gitignore", "LICENSE"] {
        texts.push((name.into(), fs::read_to_string(root().join(name)).expect("a file of the project")));
    }
    for (path, text) in texts {
        // Someone is anyone: a made-up path in an example.
        let text = text.replace(&format!("{}{}someone/", MACHINE_PATHS[1].0, MACHINE_PATHS[1].1), "");
        for (begin, rest) in MACHINE_PATHS {
            let place = format!("{begin}{rest}");
            assert!(!text.contains(&place), "{} names {place}", path.display());
        }
    }
}

#[test]
fn every_dependency_comes_from_the_public_registry() {
    let lock = fs::read_to_string(root().join("Cargo.lock")).expect("the lock file");
    let sources: Vec<&str> = lock.lines().filter_map(|line| line.strip_prefix("source = ")).collect();
    assert!(!sources.is_empty());
    for source in sources {
        assert_eq!(source, "\"registry+https://github.com/rust-lang/crates.io-index\"");
    }
    // A mirror named in the project would be of use on one machine only.
    let settings = fs::read_to_string(root().join(".cargo").join("config.toml")).expect("cargo's settings");
    assert!(!settings.contains("[source") && !settings.contains("[registr"), "{settings}");
}

#[test]
fn the_glue_generator_has_the_version_of_the_glue() {
    let lock = fs::read_to_string(root().join("Cargo.lock")).expect("the lock file");
    let version = |name: &str| {
        let (_, rest) =
            lock.split_once(&format!("name = \"{name}\"\nversion = \"")).expect("a locked dependency");
        rest.split('"').next().map(str::to_owned)
    };
    assert_eq!(version("wasm-bindgen"), version("wasm-bindgen-cli-support"));
}
