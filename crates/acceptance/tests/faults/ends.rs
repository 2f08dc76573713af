//! Starts and ends, and what the program may reach.

use std::collections::BTreeSet;
use std::io::Write;
use std::net::{TcpListener, TcpStream};
use std::time::Duration;

use acceptance::{Program, Trouble, Visitor, run};

use crate::TOLD;

const WITHIN: Duration = Duration::from_secs(2);

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn told_to_end_it_ends_in_order_within_two_seconds() -> Result<(), Trouble> {
    // Many times, and the moment it says that it is ready: from then on it must know how to end.
    for signal in ["TERM", "INT"].repeat(10) {
        let (exit, took) = Program::start()?.end(signal)?;
        assert!(exit.success() && took < WITHIN, "{signal}: {exit} after {took:?}");
    }
    // With a browser's idle lines, half a request and a page just asked for.
    let program = Program::start()?;
    let visitor = Visitor::enter(&program)?;
    let mut lines = Vec::new();
    for index in 0..20 {
        let mut line = TcpStream::connect(program.address()).map_err(|why| Trouble::odd(why.to_string()))?;
        let request = format!("GET /books HTTP/1.1\r\nHost: {}\r\nCookie: {}\r\n\r\n", program.address(), visitor.cookie);
        let part = if index % 2 == 0 { request.as_str() } else { &request[..30] };
        line.write_all(part.as_bytes()).map_err(|why| Trouble::odd(why.to_string()))?;
        lines.push(line);
    }
    let (exit, took) = program.end("TERM")?;
    assert!(exit.success() && took < WITHIN, "with lines open: {exit} after {took:?}");
    Ok(())
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn a_port_that_is_taken_is_said_with_the_way_out() -> Result<(), Trouble> {
    let held = TcpListener::bind("127.0.0.1:0").map_err(|why| Trouble::odd(why.to_string()))?;
    let port = held.local_addr().map_err(|why| Trouble::odd(why.to_string()))?.port().to_string();
    let place = tempfile::tempdir().map_err(|why| Trouble::odd(why.to_string()))?;
    let studio = place.path().to_string_lossy().into_owned();
    let said = run(&["open", "--no-browser", "--studio", &studio, "--port", &port], b"")?;
    assert_eq!(said.code, Some(1), "{said:?}");
    assert!(said.complaint.contains(&port) && said.complaint.contains("--port 0"), "{}", said.complaint);
    assert_eq!(said.out, "");
    for wrong in ["65536", "-1", "chalk", ""] {
        assert_eq!(run(&["open", "--no-browser", "--studio", &studio, "--port", wrong], b"")?.code, Some(2), "`{wrong}`");
    }
    Ok(())
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn a_port_is_free_again_at_once() -> Result<(), Trouble> {
    let program = Program::start()?;
    Visitor::enter(&program)?.get("/")?;
    let port = program.port().to_owned();
    program.end("TERM")?;
    let again = Program::start_on(&port)?;
    assert_eq!(again.port(), port);
    Visitor::enter(&again).map(drop)
}

/// Sockets of one process, as Linux lists them: addresses in hexadecimal, own and other.
#[expect(clippy::disallowed_methods, reason = "the system lists open lines in files")]
fn sockets(process: u32) -> Result<Vec<(String, String)>, Trouble> {
    let trouble = |why: std::io::Error| Trouble::odd(why.to_string());
    let held: BTreeSet<String> = std::fs::read_dir(format!("/proc/{process}/fd"))
        .map_err(trouble)?
        .filter_map(|entry| std::fs::read_link(entry.ok()?.path()).ok())
        .filter_map(|link| Some(link.to_str()?.strip_prefix("socket:[")?.strip_suffix(']')?.to_owned()))
        .collect();
    let mut found = Vec::new();
    for table in ["tcp", "tcp6", "udp", "udp6", "raw", "raw6"] {
        let Ok(text) = std::fs::read_to_string(format!("/proc/{process}/net/{table}")) else { continue };
        for row in text.lines().skip(1).map(|row| row.split_whitespace().collect::<Vec<_>>()).filter(|row| row.len() > 9) {
            if held.contains(row[9]) {
                found.push((row[1].to_owned(), row[2].to_owned()));
            }
        }
    }
    Ok(found)
}

#[cfg(target_os = "linux")]
#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn it_listens_and_speaks_on_loopback_alone() -> Result<(), Trouble> {
    let program = Program::start()?;
    let visitor = Visitor::enter(&program)?;
    // A line that stays open, so that there is one to see.
    let _open = TcpStream::connect(program.address()).map_err(|why| Trouble::odd(why.to_string()))?;
    for path in ["/", "/books", "/jars/natural-chalk", "/failed"] {
        visitor.get(path)?;
    }
    for path in ["/recipe", "/recipe/card.png"] {
        visitor.post(path, &[("told", TOLD)])?;
    }
    let found = sockets(program.process())?;
    assert!(found.len() >= 2, "listening and one line: {found:?}");
    for (own, other) in found {
        // 127.0.0.1 as Linux writes it; a listener has no other side.
        assert!(own.starts_with("0100007F:"), "{own}");
        assert!(other.starts_with("0100007F:") || other == "00000000:0000", "{other}");
    }
    Ok(())
}
