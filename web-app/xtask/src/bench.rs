//! `cargo xtask bench`: sizes of the page, its start, and the cost of computing one position; with `--page`
//! how fast the page follows a drag.

use crate::page;
use crate::setup;
use crate::steps::{Failure, cargo, command_step};

pub(crate) fn run(words: &[&str]) -> Result<(), Failure> {
    let page_alone = match words {
        [] => false,
        ["--page"] => true,
        [word, ..] => return Err(Failure::Usage(format!("`bench` does not know `{word}`"))),
    };
    setup::browser()?;
    // Prints the sizes.
    page::build()?;
    let mut measure = cargo(["run", "--release", "--package", "cornerwise-tests", "--bin"]);
    measure.arg("measure");
    if page_alone {
        measure.args(["--", "--page"]);
    }
    command_step("Times", measure)
}
