//! Steps: commands that are announced, timed, and stop everything when they fail.

use std::ffi::OsStr;
use std::fmt::Display;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::{Duration, Instant};

/// Why the tool stopped.
#[derive(Debug)]
pub(crate) enum Failure {
    /// The words of the command line were not understood.
    Usage(String),
    /// A step failed; the text says which, and what to do about it where that is known.
    Step(String),
}

impl Failure {
    /// A step that failed for a reason known as an error.
    pub(crate) fn because(what: impl Display, error: impl Display) -> Self {
        Self::Step(format!("{what}: {error}"))
    }
}

/// The folder of the whole project.
pub(crate) fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).ancestors().nth(2).unwrap_or(Path::new(".")).to_path_buf()
}

/// The file that `cargo xtask page` writes.
pub(crate) fn page_file() -> PathBuf {
    root().join("dist").join("cornerwise.html")
}

/// Cargo, as the same toolchain that built this program, in the project's folder.
pub(crate) fn cargo<W: AsRef<OsStr>>(words: impl IntoIterator<Item = W>) -> Command {
    let mut command = Command::new(std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into()));
    command.args(words).current_dir(root());
    command
}

/// Announces a step, does it, and says how long it took.
pub(crate) fn step<T>(name: &str, work: impl FnOnce() -> Result<T, Failure>) -> Result<T, Failure> {
    println!("\n== {name}");
    let begin = Instant::now();
    let result = work()?;
    println!("   done in {}", spoken(begin.elapsed()));
    Ok(result)
}

/// A step that is one command; its output passes through.
pub(crate) fn command_step(name: &str, command: Command) -> Result<(), Failure> {
    step(name, || run(name, command))
}

/// Runs a command to its end; its output passes through.
pub(crate) fn run(name: &str, mut command: Command) -> Result<(), Failure> {
    let program = command.get_program().to_string_lossy().into_owned();
    let status = command
        .status()
        .map_err(|error| Failure::because(format!("the step \"{name}\" could not run {program}"), error))?;
    if status.success() { Ok(()) } else { Err(Failure::Step(format!("the step \"{name}\" failed"))) }
}

/// Runs a command to its end like [`run`], but ends it when it takes longer than `limit`.
pub(crate) fn run_within(limit: Duration, name: &str, mut command: Command) -> Result<(), Failure> {
    let failed = |what: String| Failure::Step(format!("the step \"{name}\" {what}"));
    let mut child = command.spawn().map_err(|error| failed(format!("could not start: {error}")))?;
    let begin = Instant::now();
    loop {
        match child.try_wait() {
            Ok(Some(status)) if status.success() => return Ok(()),
            Ok(Some(_)) => return Err(failed("failed".to_owned())),
            Ok(None) if begin.elapsed() < limit => std::thread::sleep(Duration::from_millis(50)),
            Ok(None) => {
                // Already ended or out of reach: either way there is nothing more to do about it.
                let _ = child.kill();
                let _ = child.wait();
                return Err(failed(format!("took longer than {} and was ended", spoken(limit))));
            }
            Err(error) => return Err(failed(format!("was lost: {error}"))),
        }
    }
}

/// What a command prints, or nothing when it cannot run or fails.
pub(crate) fn output_of(mut command: Command) -> Option<String> {
    let output = command.output().ok()?;
    output.status.success().then(|| String::from_utf8_lossy(&output.stdout).trim().to_owned())
}

/// A duration as one would say it: "0.3 s", "2 min 5 s".
pub(crate) fn spoken(duration: Duration) -> String {
    let seconds = duration.as_secs();
    if seconds < 60 {
        format!("{:.1} s", duration.as_secs_f64())
    } else {
        format!("{} min {} s", seconds / 60, seconds % 60)
    }
}
