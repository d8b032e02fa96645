//! `cargo xtask bench`: sizes of the page, its start, and the cost of computing one position.

use crate::page;
use crate::setup;
use crate::steps::{Failure, cargo, command_step};

pub(crate) fn run(words: &[&str]) -> Result<(), Failure> {
    if let Some(word) = words.first() {
        return Err(Failure::Usage(format!("`bench` does not know `{word}`")));
    }
    setup::browser()?;
    // Prints the sizes.
    page::build()?;
    let mut measure = cargo(["run", "--release", "--package", "cornerwise-tests", "--bin"]);
    measure.arg("measure");
    command_step("Times", measure)
}
