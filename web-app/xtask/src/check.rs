//! `cargo xtask test`: every check there is, the quick ones first.

use std::io::{BufRead, BufReader};
use std::process::{Command, Stdio};
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
    tested("Tests", tests)
}

/// The tests of the page, in the other browser.
fn in_firefox(chosen: &[&str]) -> Result<(), Failure> {
    setup::target(setup::WASM)?;
    setup::firefox()?;
    page::build()?;
    println!("\n== Tests in Firefox");
    let mut tests = cargo(["test", "--package", "cornerwise-tests", "--test", "browser", "--"]);
    tests.args(chosen).env(BROWSER, "firefox");
    tested("Tests in Firefox", tests)
}

/// Runs tests. What failed is told once more at the end: there may be hundreds of tests after it, and whoever keeps
/// only the end of a long output keeps the reason.
fn tested(name: &str, mut tests: Command) -> Result<(), Failure> {
    let failed = |error| Failure::because(format!("the step \"{name}\" could not run"), error);
    let mut child = tests.stdout(Stdio::piped()).spawn().map_err(failed)?;
    let mut failures = Failures::default();
    for line in child.stdout.take().into_iter().flat_map(|out| BufReader::new(out).split(b'\n')) {
        // A test may print what is no text.
        let line = String::from_utf8_lossy(&line.map_err(failed)?).into_owned();
        println!("{line}");
        failures.read(line);
    }
    if child.wait().map_err(failed)?.success() {
        return Ok(());
    }
    if !failures.lines.is_empty() {
        println!("\n== What failed\n{}", failures.lines.join("\n"));
    }
    Err(Failure::Step(format!("the step \"{name}\" failed")))
}

/// What tests that failed printed, out of all that the programs of tests print.
#[derive(Default)]
struct Failures {
    lines: Vec<String>,
    /// Whether it is being told now.
    told: bool,
}

impl Failures {
    fn read(&mut self, line: String) {
        match line.as_str() {
            // Twice: before what they printed and, without that, before their names.
            "failures:" => self.told = true,
            _ if line.starts_with("test result:") => self.told = false,
            _ if self.told => self.lines.push(line),
            _ => {}
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Failures;

    #[test]
    fn what_failed_is_found_among_what_passed() {
        let mut failures = Failures::default();
        let printed = "running 2 tests\ntest a ... ok\ntest b ... FAILED\n\nfailures:\n\n---- b stdout ----\nleft: 1\n\n\
                       failures:\n    b\n\ntest result: FAILED. 1 passed\nrunning 1 test\ntest c ... ok\ntest result: ok.";
        for line in printed.lines() {
            failures.read(line.to_owned());
        }
        let said: Vec<&str> =
            failures.lines.iter().map(String::as_str).filter(|line| !line.is_empty()).collect();
        assert_eq!(said, ["---- b stdout ----", "left: 1", "    b"]);
    }
}
