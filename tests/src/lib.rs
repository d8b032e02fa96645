//! What the tests of Cornerwise share: where things are, and a real browser to open the page in.
#![allow(clippy::missing_panics_doc, reason = "in a test, to panic is to report what is wrong")]

mod bidi;
pub mod browser;
mod driver;
mod reach;
mod states;
mod uncertainty;

pub use reach::go;
pub use states::fixed_states;
pub use uncertainty::propagated;

use std::path::{Path, PathBuf};

/// The folder of the whole project.
pub fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().unwrap_or(Path::new(".")).to_path_buf()
}

/// The built page.
///
/// # Panics
/// When it has not been built.
pub fn page_file() -> PathBuf {
    let file = root().join("dist").join("cornerwise.html");
    assert!(file.is_file(), "run `cargo xtask page --no-serve` first");
    file
}
