//! The program as a server: started, asked for its first page, stopped.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, ExitStatus, Stdio};
use std::sync::atomic::{AtomicU32, Ordering};
use std::time::{Duration, Instant};

use crate::error::Error;
use crate::workspace::{json, text};

/// How long a start or a stop may take before it counts as stuck.
const PATIENCE: Duration = Duration::from_secs(10);

/// A running program; it is stopped by force when this value goes.
pub(crate) struct Served {
    child: Child,
    address: String,
    path: String,
    /// A studio of its own: nobody's notebook is opened for a measurement.
    studio: PathBuf,
}

impl Served {
    /// Starts the program on a free port and reads its first line, `{"ready": ADDRESS}`.
    pub(crate) fn start(program: &Path) -> Result<Self, Error> {
        static NEXT: AtomicU32 = AtomicU32::new(0);
        let number = NEXT.fetch_add(1, Ordering::Relaxed);
        let studio = std::env::temp_dir().join(format!("groundproof-served-{}-{number}", std::process::id()));
        let child = Command::new(program)
            .args(["open", "--port", "0", "--no-browser", "--studio"])
            .arg(&studio)
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            // What it says to people is no part of a measurement.
            .stderr(Stdio::null())
            .spawn()
            .map_err(|source| Error::Start { program: program.display().to_string(), source })?;
        let mut served = Self { child, address: String::new(), path: String::new(), studio };
        let mut line = String::new();
        if let Some(stdout) = served.child.stdout.take() {
            BufReader::new(stdout).read_line(&mut line).map_err(|error| shape(&error.to_string()))?;
        }
        let ready = json(&line, "the first line of `groundproof open`")?;
        let url = text(&ready, "ready");
        let (address, path) = url
            .strip_prefix("http://")
            .and_then(|rest| rest.split_once('/'))
            .ok_or_else(|| shape(&format!("`ready` is `{url}`, not an address")))?;
        address.clone_into(&mut served.address);
        served.path = format!("/{path}");
        Ok(served)
    }

    /// Asks for the page that a browser would open first; gives its status.
    pub(crate) fn first_page(&self) -> Result<u16, Error> {
        let failed = |error: std::io::Error| shape(&error.to_string());
        let mut stream = TcpStream::connect(&self.address).map_err(failed)?;
        stream.set_read_timeout(Some(PATIENCE)).map_err(failed)?;
        let request = format!("GET {} HTTP/1.1\r\nHost: {}\r\nConnection: close\r\n\r\n", self.path, self.address);
        stream.write_all(request.as_bytes()).map_err(failed)?;
        let mut answer = Vec::new();
        stream.read_to_end(&mut answer).map_err(failed)?;
        let head = String::from_utf8_lossy(&answer);
        head.split_whitespace().nth(1).and_then(|status| status.parse().ok()).ok_or_else(|| shape("the first page has no status line"))
    }

    /// Sends the terminate signal and waits; gives the exit and how long it took.
    pub(crate) fn stop(mut self) -> Result<(ExitStatus, Duration), Error> {
        let asked = Instant::now();
        crate::process::check(Command::new("kill").args(["-TERM", &self.child.id().to_string()]))?;
        while asked.elapsed() < PATIENCE {
            let ended = self.child.try_wait().map_err(|error| shape(&error.to_string()))?;
            if let Some(status) = ended {
                return Ok((status, asked.elapsed()));
            }
            std::thread::sleep(Duration::from_millis(5));
        }
        Err(shape("it did not stop when asked to"))
    }
}

impl Drop for Served {
    fn drop(&mut self) {
        // Already gone after a clean stop; then there is nothing to kill.
        let _ = self.child.kill();
        let _ = self.child.wait();
        let _ = std::fs::remove_dir_all(&self.studio);
    }
}

fn shape(why: &str) -> Error {
    Error::Shape { what: "`groundproof open`".to_owned(), why: why.to_owned() }
}
