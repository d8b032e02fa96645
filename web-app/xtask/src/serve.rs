//! A server for the one file, on this machine only.

use std::fs;
use std::io::{BufRead, BufReader, Read, Write};
use std::net::{Ipv4Addr, TcpListener, TcpStream};
use std::path::Path;
use std::time::Duration;

use crate::steps::Failure;

/// How many ports are tried, counted from the first.
const PORTS: u16 = 100;

/// A browser's request is a few hundred bytes; more than this is not one.
const LONGEST_REQUEST: u64 = 64 * 1024;

/// Serves the file until the program is stopped.
///
/// # Errors
/// When none of the ports from `first` on is free.
pub(crate) fn serve(file: &Path, first: u16) -> Result<(), Failure> {
    let last = first.saturating_add(PORTS - 1);
    let listener = (first..=last).find_map(|port| TcpListener::bind((Ipv4Addr::LOCALHOST, port)).ok());
    let listener = listener.ok_or_else(|| {
        Failure::Step(format!("no port from {first} to {last} is free; name one by --port"))
    })?;
    let address =
        listener.local_addr().map_err(|error| Failure::because("the server has no address", error))?;
    println!("\nCornerwise is at http://{address}/ until you press Ctrl+C.");
    println!("It needs no server: the file {} opens in any browser, too.", file.display());
    for stream in listener.incoming().flatten() {
        let file = file.to_path_buf();
        std::thread::spawn(move || {
            // A browser that goes away in the middle is no fault of the page.
            let _ = answer(stream, &file);
        });
    }
    Ok(())
}

/// Answers one request. The file is read each time, so that a reload shows a newer build.
fn answer(mut stream: TcpStream, file: &Path) -> std::io::Result<()> {
    stream.set_read_timeout(Some(Duration::from_secs(10)))?;
    let mut reader = BufReader::new((&stream).take(LONGEST_REQUEST));
    let mut first = String::new();
    reader.read_line(&mut first)?;
    // The rest of the request says nothing that matters here, but has to be taken before the answer.
    let mut line = String::new();
    while reader.read_line(&mut line)? > 2 {
        line.clear();
    }
    let (status, kind, body) = match path(&first) {
        Some("/" | "/cornerwise.html") => ("200 OK", "text/html; charset=utf-8", fs::read(file)?),
        _ => ("404 Not Found", "text/plain; charset=utf-8", b"Only the page itself is here: /\n".to_vec()),
    };
    write!(
        stream,
        "HTTP/1.1 {status}\r\nContent-Type: {kind}\r\nContent-Length: {}\r\n\
         Cache-Control: no-store\r\nConnection: close\r\n\r\n",
        body.len()
    )?;
    stream.write_all(&body)
}

/// The path that a request's first line asks for, without its query.
fn path(line: &str) -> Option<&str> {
    let target = line.strip_prefix("GET ")?.split(' ').next()?;
    target.split('?').next()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The answer to a request, with a file as the page that no other test has.
    fn ask(name: &str, request: &str) -> String {
        let file = std::env::temp_dir().join(format!("cornerwise-serve-{name}-{}.html", std::process::id()));
        fs::write(&file, "the page").expect("a writable folder");
        let listener = TcpListener::bind((Ipv4Addr::LOCALHOST, 0)).expect("a free port");
        let mut client =
            TcpStream::connect(listener.local_addr().expect("an address")).expect("a connection");
        client.write_all(request.as_bytes()).expect("a request");
        let (stream, _) = listener.accept().expect("the connection");
        answer(stream, &file).expect("an answer");
        let mut reply = String::new();
        client.read_to_string(&mut reply).expect("the answer");
        let _ = fs::remove_file(&file);
        reply
    }

    #[test]
    fn the_page_is_at_the_root_whatever_the_query() {
        let reply = ask("root", "GET /?a=b HTTP/1.1\r\nHost: localhost\r\n\r\n");
        assert!(reply.starts_with("HTTP/1.1 200 OK\r\n") && reply.ends_with("\r\n\r\nthe page"), "{reply}");
    }

    #[test]
    fn nothing_else_can_be_read() {
        for request in ["GET /../Cargo.toml HTTP/1.1\r\n\r\n", "POST / HTTP/1.1\r\n\r\n", "\r\n\r\n"] {
            assert!(ask("else", request).starts_with("HTTP/1.1 404"), "{request}");
        }
    }
}
