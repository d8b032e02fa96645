//! `cargo xtask screenshot`: pictures of the page.

use std::fs;
use std::path::PathBuf;

use crate::page;
use crate::setup;
use crate::steps::{Failure, cargo, command_step};

pub(crate) fn run(words: &[&str]) -> Result<(), Failure> {
    let (folder, build) = match words {
        [folder] if !folder.starts_with('-') => (PathBuf::from(folder), true),
        [folder, "--no-build"] | ["--no-build", folder] if !folder.starts_with('-') => {
            (PathBuf::from(folder), false)
        }
        [] | ["--no-build"] => {
            return Err(Failure::Usage("`screenshot` wants a folder for the pictures".to_owned()));
        }
        _ => return Err(Failure::Usage("`screenshot` takes one folder and perhaps `--no-build`".to_owned())),
    };
    let unusable = |error| Failure::because(format!("{} cannot be used", folder.display()), error);
    fs::create_dir_all(&folder).map_err(unusable)?;
    // The program that takes the pictures runs elsewhere.
    let folder = folder.canonicalize().map_err(unusable)?;
    setup::browser()?;
    if build {
        page::build()?;
    }
    let mut pictures = cargo(["run", "--package", "cornerwise-tests", "--bin", "screenshot", "--"]);
    pictures.arg(&folder);
    command_step("Pictures", pictures)?;
    println!("   {}", folder.display());
    Ok(())
}
