//! `cargo xtask fuzz`: bytes made up by libFuzzer against documents, requests and links.

use std::fs;
use std::path::Path;
use std::process::Command;

use crate::setup;
use crate::steps::{Failure, command_step, output_of, root};

const TARGETS: [&str; 2] = ["document", "link"];
/// s: long enough to go through the corpus and somewhat beyond.
const SECONDS: u64 = 60;
/// s: an input that takes longer than this counts as one that never ends.
const LONGEST: u64 = 20;

const MISSING: &str = "\
fuzzing needs a nightly compiler, a C++ compiler and cargo-fuzz:
    rustup toolchain install nightly --profile minimal
    cargo install cargo-fuzz --locked
The folder of cargo-fuzz must be in PATH.";

pub(crate) fn run(words: &[&str]) -> Result<(), Failure> {
    let seconds = match words {
        [] => SECONDS,
        [seconds] => match seconds.parse() {
            // To libFuzzer 0 is for ever.
            Ok(seconds) if seconds > 0 => seconds,
            _ => return Err(Failure::Usage(format!("`fuzz` wants a number of seconds, not `{seconds}`"))),
        },
        _ => return Err(Failure::Usage("`fuzz` takes a number of seconds at most".to_owned())),
    };
    if setup::found("cargo-fuzz").is_none() || !has_nightly() {
        return Err(Failure::Step(MISSING.to_owned()));
    }
    let fuzz = root().join("tests").join("fuzz");
    let found = root().join("target").join("fuzz-found");
    for target in TARGETS {
        let grown = found.join(target);
        let failed = found.join("failed");
        for folder in [&grown, &failed] {
            fs::create_dir_all(folder).map_err(|error| Failure::because(folder.display(), error))?;
        }
        let run = fuzzer(&fuzz, target, &grown, &failed, seconds);
        command_step(&format!("Fuzz target {target}, {seconds} s"), run).map_err(|_| {
            Failure::Step(format!(
                "the fuzz target {target} found an input that breaks a property, or could not run. Inputs are kept in\n\
                 \x20   {}\n\
                 Copied into tests/fuzz/corpus/{target}, such an input fails in `cargo test --test laws fuzzed` too.",
                failed.display()
            ))
        })?;
    }
    println!("   what it found worth keeping is in {}", found.display());
    Ok(())
}

/// No sanitizer: without `unsafe` there is nothing for one to find, and it costs half the speed.
fn fuzzer(fuzz: &Path, target: &str, grown: &Path, failed: &Path, seconds: u64) -> Command {
    let mut command = Command::new("rustup");
    command.args(["run", "nightly", "cargo", "fuzz", "run", "--sanitizer", "none"]);
    command.arg("--fuzz-dir").arg(fuzz).arg("--target-dir").arg(root().join("target").join("fuzz"));
    command.arg(target).arg(grown).arg(fuzz.join("corpus").join(target)).arg("--");
    command.arg(format!("-max_total_time={seconds}")).arg(format!("-timeout={LONGEST}"));
    command.args(["-max_len=8192", "-print_final_stats=1"]);
    command.arg(format!("-artifact_prefix={}{}", failed.display(), std::path::MAIN_SEPARATOR));
    command.arg(format!("-dict={}", fuzz.join("words.dict").display()));
    command.current_dir(root());
    command
}

fn has_nightly() -> bool {
    let mut command = Command::new("rustup");
    command.args(["run", "nightly", "rustc", "--version"]);
    output_of(command).is_some()
}
