//! What the machine lacks is installed, or the words say how.

use std::path::Path;
use std::process::Command;
use std::time::Duration;

use crate::steps::{Failure, output_of, run_within, step};

/// The page's compile target.
pub(crate) const WASM: &str = "wasm32-unknown-unknown";
/// A microcontroller without an operating system: what compiles for it needs no std.
pub(crate) const BARE: &str = "thumbv7em-none-eabihf";

/// Downloads beyond this stand still.
const DOWNLOAD_LIMIT: Duration = Duration::from_mins(5);

/// Makes sure that the compiler has a target's library.
pub(crate) fn target(name: &str) -> Result<(), Failure> {
    if has_target(name) {
        return Ok(());
    }
    let heading = format!("Rust's library for {name}");
    let added = step(&heading, || {
        let mut command = Command::new("rustup");
        command.args(["target", "add", name]);
        run_within(DOWNLOAD_LIMIT, &heading, command)
    });
    if added.is_ok() && has_target(name) {
        return Ok(());
    }
    Err(Failure::Step(format!(
        "Rust's library for {name} is missing and could not be added. Install rustup (https://rustup.rs) and run\n\
         \x20   rustup target add {name}"
    )))
}

fn has_target(name: &str) -> bool {
    let mut command = Command::new("rustc");
    command.args(["--print", "target-libdir", "--target", name]);
    let Some(folder) = output_of(command) else { return false };
    let Ok(entries) = Path::new(&folder).read_dir() else { return false };
    // Every target has core; only some have std.
    entries.flatten().any(|entry| {
        let file = entry.file_name();
        let file = file.to_string_lossy();
        file.starts_with("libcore-") && file.ends_with(".rlib")
    })
}

/// Makes sure that Chromium and its driver are there for the tests.
pub(crate) fn browser() -> Result<(), Failure> {
    if let Some(missing) = ["CHROMIUM", "CHROMEDRIVER"].into_iter().find(|name| names_no_file(name)) {
        return Err(Failure::Step(format!("the variable {missing} names a file that is not there")));
    }
    if has_browser() {
        return Ok(());
    }
    if is_root() && found("apt-get").is_some() {
        install("Chromium and its driver", &["chromium", "chromium-driver"])?;
    }
    if has_browser() {
        return Ok(());
    }
    Err(Failure::Step(
        "the tests need Chromium and chromedriver of the same version. On Debian and Ubuntu:\n\
         \x20   apt-get install chromium chromium-driver\n\
         Elsewhere set CHROMIUM and CHROMEDRIVER to the paths of the two programs."
            .to_owned(),
    ))
}

/// Makes sure that Firefox and its driver are there for the tests.
pub(crate) fn firefox() -> Result<(), Failure> {
    if let Some(missing) = ["FIREFOX", "GECKODRIVER"].into_iter().find(|name| names_no_file(name)) {
        return Err(Failure::Step(format!("the variable {missing} names a file that is not there")));
    }
    let has_firefox = || has("FIREFOX", &["firefox", "firefox-esr"]);
    let has_driver = || has("GECKODRIVER", &["geckodriver"]);
    if !has_firefox() && is_root() && found("apt-get").is_some() {
        install("Firefox", &["firefox-esr"])?;
    }
    if !has_driver() {
        step("Firefox's driver", || {
            let mut command = Command::new("cargo");
            command.args(["install", "--locked", "geckodriver"]);
            run_within(4 * DOWNLOAD_LIMIT, "Firefox's driver", command)
        })?;
    }
    if has_firefox() && has_driver() {
        return Ok(());
    }
    Err(Failure::Step(
        "these tests need Firefox and geckodriver, 0.36 or newer. On Debian:\n\
         \x20   apt-get install firefox-esr && cargo install --locked geckodriver\n\
         Elsewhere set FIREFOX and GECKODRIVER to the paths of the two programs."
            .to_owned(),
    ))
}

/// Installs packages of the system.
fn install(heading: &str, packages: &[&str]) -> Result<(), Failure> {
    step(heading, || {
        let apt = |words: &[&str]| {
            let mut command = Command::new("apt-get");
            command.args(["-o", "DPkg::Lock::Timeout=300", "--quiet"]).args(words);
            command.env("DEBIAN_FRONTEND", "noninteractive");
            run_within(2 * DOWNLOAD_LIMIT, heading, command)
        };
        apt(&["update"])?;
        apt(&[&["install", "--yes"], packages].concat())
    })
}

fn has(variable: &str, names: &[&str]) -> bool {
    std::env::var_os(variable).is_some() || names.iter().any(|name| found(name).is_some())
}

fn has_browser() -> bool {
    has("CHROMIUM", &["chromium", "chromium-browser", "google-chrome"])
        && has("CHROMEDRIVER", &["chromedriver"])
}

fn names_no_file(variable: &str) -> bool {
    std::env::var_os(variable).is_some_and(|path| !Path::new(&path).is_file())
}

/// Where a program is found in the folders of PATH.
pub(crate) fn found(program: &str) -> Option<std::path::PathBuf> {
    let name = format!("{program}{}", std::env::consts::EXE_SUFFIX);
    let folders = std::env::var_os("PATH")?;
    std::env::split_paths(&folders).map(|folder| folder.join(&name)).find(|file| file.is_file())
}

fn is_root() -> bool {
    let mut command = Command::new("id");
    command.arg("-u");
    output_of(command).is_some_and(|user| user == "0")
}
