//! `cargo xtask test`: every check there is, the quick ones first.

use std::time::Instant;

use crate::steps::{Failure, cargo, command_step, root, spoken};
use crate::{page, setup};

/// The variable that tells the tests which browser to run in.
const BROWSER: &str = "CORNERWISE_BROWSER";

pub(crate) fn run(words: &[&str]) -> Result<(), Failure> {
    let (firefox, words) = match words.split_first() {
        Some((&"--firefox", rest)) => (true, rest),
        _ => (false, words),
    };
    let chosen = match words.split_first() {
        None => &[],
        Some((&"--", chosen)) => chosen,
        Some((word, _)) => {
            return Err(Failure::Usage(format!(
                "`test` does not know `{word}`; words that choose tests come after `--`"
            )));
        }
    };
    if firefox {
        return in_firefox(chosen);
    }
    let begin = Instant::now();
    setup::target(setup::WASM)?;
    setup::target(setup::BARE)?;
    setup::browser()?;

    command_step("Format", cargo(["fmt", "--all", "--check"]))?;
    command_step("Lints", cargo(["clippy", "--workspace", "--all-targets", "--", "--deny", "warnings"]))?;
    command_step("Core without std", {
        let mut command = cargo(["build", "--package", "geometry-core", "--no-default-features"]);
        command.args(["--target", setup::BARE]).arg("--target-dir").arg(root().join("target").join("bare"));
        command
    })?;
    command_step("Documentation", {
        let mut command = cargo(["doc", "--workspace", "--no-deps"]);
        command.env("RUSTDOCFLAGS", "--deny warnings");
        command
    })?;
    page::build()?;

    // Last, so that what it found is what is read at the end.
    println!("\n   {} until here", spoken(begin.elapsed()));
    println!("\n== Tests");
    let mut tests = cargo(["test", "--workspace", "--no-fail-fast", "--"]);
    tests.args(chosen).env(BROWSER, "chromium");
    crate::steps::run("Tests", tests)
}

/// The tests of the page, in the other browser.
fn in_firefox(chosen: &[&str]) -> Result<(), Failure> {
    setup::target(setup::WASM)?;
    setup::firefox()?;
    page::build()?;
    println!("\n== Tests in Firefox");
    let mut tests = cargo(["test", "--package", "cornerwise-tests", "--test", "browser", "--"]);
    tests.args(chosen).env(BROWSER, "firefox");
    crate::steps::run("Tests in Firefox", tests)
}
