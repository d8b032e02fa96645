//! `cargo xtask test`: every check there is, the quick ones first.

use std::time::Instant;

use crate::steps::{Failure, cargo, command_step, root, spoken};
use crate::{page, setup};

pub(crate) fn run(words: &[&str]) -> Result<(), Failure> {
    let chosen = match words.split_first() {
        None => &[],
        Some((&"--", chosen)) => chosen,
        Some((word, _)) => {
            return Err(Failure::Usage(format!(
                "`test` does not know `{word}`; words that choose tests come after `--`"
            )));
        }
    };
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
    tests.args(chosen);
    crate::steps::run("Tests", tests)
}
