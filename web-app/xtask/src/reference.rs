//! `cargo xtask reference`: makes the answers of the general-purpose libraries anew.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use crate::steps::{Failure, command_step, root, step};

/// The scripts, the corners first: they are the others' input.
const SCRIPTS: [&str; 5] =
    ["corners.py", "derive_casadi.py", "solve_scipy.py", "statics.py", "simulate_exudyn.py"];

pub(crate) fn run(words: &[&str]) -> Result<(), Failure> {
    let write = match words {
        [] => false,
        ["--write"] => true,
        _ => return Err(Failure::Usage("`reference` takes nothing or `--write`".to_owned())),
    };
    let scripts = root().join("tests").join("reference");
    let python = python_with(&scripts.join("requirements.txt"))?;
    let out = if write { scripts.clone() } else { root().join("target").join("reference") };
    let script = |name: &str| {
        let mut command = Command::new(&python);
        command.arg(scripts.join(name)).env("REFERENCE_OUT", &out).env("PYTHONDONTWRITEBYTECODE", "1");
        command
    };
    for name in SCRIPTS {
        command_step(name, script(name))?;
    }
    if write {
        println!("\n   written to {}", out.display());
        return Ok(());
    }
    command_step("Fresh answers against the committed ones", script("compare.py"))
}

/// A Python of our own with the libraries in their pinned versions. The variable PYTHON names
/// another one to make it from.
fn python_with(requirements: &Path) -> Result<PathBuf, Failure> {
    let folder = root().join("target").join("reference-python");
    let python = if cfg!(windows) {
        folder.join("Scripts").join("python.exe")
    } else {
        folder.join("bin").join("python")
    };
    let wanted =
        fs::read_to_string(requirements).map_err(|error| Failure::because(requirements.display(), error))?;
    // Written when all is installed, so that an interrupted installation is made again.
    let installed = folder.join("installed.txt");
    if fs::read_to_string(&installed).is_ok_and(|there| there == wanted) {
        return Ok(python);
    }
    let mut make = Command::new(std::env::var_os("PYTHON").unwrap_or_else(|| "python3".into()));
    make.args(["-m", "venv", "--clear"]).arg(&folder);
    command_step("A Python environment", make)?;
    let mut install = Command::new(&python);
    install.args(["-m", "pip", "install", "--quiet", "--disable-pip-version-check", "--requirement"]);
    install.arg(requirements);
    command_step("Libraries", install)?;
    step("Libraries noted", || {
        fs::write(&installed, wanted).map_err(|error| Failure::because(installed.display(), error))
    })?;
    Ok(python)
}
