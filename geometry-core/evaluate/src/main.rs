//! The batch program: one JSON request on standard input, one JSON answer and nothing
//! else on standard output. Exit status 2 when the request as a whole failed.

use std::{
    io::{self, Read, Write},
    process::ExitCode,
};

fn main() -> ExitCode {
    let mut request = Vec::new();
    if let Err(error) = io::stdin().read_to_end(&mut request) {
        return end(&refused(&format!("standard input cannot be read: {error}")), 2);
    }
    let Ok(request) = String::from_utf8(request) else {
        return end(&refused("standard input is not UTF-8 text"), 2);
    };
    match evaluate::answer_text(&request) {
        Ok(answer) => end(&answer, 0),
        Err(refusal) => end(&refusal, 2),
    }
}

fn refused(message: &str) -> String {
    format!("{{\"error\":{{\"kind\":\"document\",\"message\":\"{message}\"}}}}")
}

fn end(answer: &str, status: u8) -> ExitCode {
    match writeln!(io::stdout(), "{answer}") {
        Ok(()) => ExitCode::from(status),
        Err(_) => ExitCode::FAILURE,
    }
}
