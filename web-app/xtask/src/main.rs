//! Builds, serves, tests and measures Cornerwise; run as `cargo xtask`.
#![allow(clippy::print_stdout, reason = "a command-line tool speaks on standard output")]

mod assemble;
mod bench;
mod check;
mod fuzz;
mod page;
mod reference;
mod screenshot;
mod serve;
mod setup;
mod steps;
#[cfg(test)]
mod tidy;

use std::process::ExitCode;

use steps::Failure;

const HELP: &str = "\
Builds, serves, tests and measures Cornerwise.

Usage: cargo xtask COMMAND

  page [--no-serve] [--port NUMBER]
        Builds the page into the one file dist/cornerwise.html and serves it on this
        machine until it is stopped. The file also opens as it is, without a server.
  test [-- WORDS]
        Runs every check: format, lints, the core without std, documentation, the page,
        then all tests, in a real browser too. WORDS go to `cargo test` and choose tests.
  test --firefox [-- WORDS]
        Runs all tests of the page in Firefox instead of Chromium, and no other check.
  bench [--page]
        Measures the page (sizes, time until it is drawn) and the core; with --page how
        fast a drag is followed with everything open.
  screenshot FOLDER [--no-build]
        Builds the page and writes pictures of it, light and dark, in three sizes; with
        --no-build it takes the page as it was built last.
  fuzz [SECONDS]
        Hands made-up bytes to the readers of files, requests and links for so long each
        (60 s); needs a nightly compiler, a C++ compiler and cargo-fuzz.
  reference [--write]
        Makes the second opinions in tests/reference anew, with Python and the libraries
        pinned there, and compares them with the committed ones; --write replaces those.

What is missing (compile targets; as root also a browser) is installed first.
The variables CHROMIUM and CHROMEDRIVER name a browser and its driver in other places,
FIREFOX and GECKODRIVER likewise.
";

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    match run(&words) {
        Ok(()) => ExitCode::SUCCESS,
        Err(Failure::Usage(what)) => {
            eprintln!("cargo xtask: {what}\n\n{HELP}");
            ExitCode::from(2)
        }
        Err(Failure::Step(what)) => {
            eprintln!("\ncargo xtask: {what}");
            ExitCode::FAILURE
        }
    }
}

/// Does what the words of the command line ask for.
fn run(words: &[&str]) -> Result<(), Failure> {
    let Some((command, rest)) = words.split_first() else {
        return Err(Failure::Usage("which command?".to_owned()));
    };
    let asks_for_help = rest.iter().take_while(|word| **word != "--").any(|word| is_help(word));
    if is_help(command) || asks_for_help {
        print!("{HELP}");
        return Ok(());
    }
    match *command {
        "page" => page::run(rest),
        "test" => check::run(rest),
        "bench" => bench::run(rest),
        "screenshot" => screenshot::run(rest),
        "fuzz" => fuzz::run(rest),
        "reference" => reference::run(rest),
        other => Err(Failure::Usage(format!("there is no command `{other}`"))),
    }
}

fn is_help(word: &str) -> bool {
    matches!(word, "--help" | "-h" | "help")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn is_refused(words: &[&str]) -> bool {
        matches!(run(words), Err(Failure::Usage(_)))
    }

    #[test]
    fn unknown_words_are_refused_before_anything_is_built() {
        assert!(is_refused(&[]));
        assert!(is_refused(&["pages"]));
        assert!(is_refused(&["page", "--serve"]));
        assert!(is_refused(&["page", "--port"]));
        assert!(is_refused(&["page", "--port", "70000"]));
        assert!(is_refused(&["test", "corner"]));
        assert!(is_refused(&["bench", "--fast"]));
        assert!(is_refused(&["screenshot"]));
        assert!(is_refused(&["screenshot", "one", "two"]));
        assert!(is_refused(&["screenshot", "--no-build"]));
        assert!(is_refused(&["screenshot", "--dark"]));
        assert!(is_refused(&["fuzz", "long"]));
        assert!(is_refused(&["fuzz", "0"]));
        assert!(is_refused(&["fuzz", "1", "2"]));
        assert!(is_refused(&["reference", "again"]));
    }

    #[test]
    fn help_is_given_wherever_it_is_asked_for() {
        assert!(run(&["--help"]).is_ok());
        assert!(run(&["page", "--help"]).is_ok());
    }
}
