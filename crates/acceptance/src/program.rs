//! The program as a server, for as long as a check needs it.

use std::io::{BufRead, BufReader};
use std::path::PathBuf;
use std::process::{Child, Command, ExitStatus, Stdio};
use std::sync::OnceLock;
use std::time::Duration;

use serde_json::Value;

use crate::{Stopwatch, Trouble};

/// How long a start or an end may take before it counts as stuck.
const PATIENCE: Duration = Duration::from_secs(10);

/// A running program; it is ended by force when this value goes.
#[derive(Debug)]
pub struct Program {
    child: Child,
    entrance: String,
    address: String,
}

impl Program {
    /// Starts the program on a free port and reads its first line, `{"ready": ADDRESS}`.
    ///
    /// # Errors
    /// It can't be built or started, or its first line is not the one agreed.
    pub fn start() -> Result<Self, Trouble> {
        Self::start_on("0")
    }

    /// The same on the port given.
    ///
    /// # Errors
    /// As [`Program::start`].
    pub fn start_on(port: &str) -> Result<Self, Trouble> {
        let mut child = Command::new(path()?)
            .args(["open", "--no-browser", "--port", port])
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .map_err(Trouble::system("starting the program"))?;
        let mut line = String::new();
        let read = child.stdout.take().map(|out| BufReader::new(out).read_line(&mut line));
        let mut started = Self { child, entrance: String::new(), address: String::new() };
        read.transpose().map_err(Trouble::system("reading its first line"))?;
        let odd = || Trouble::odd(format!("its first line was `{}`", line.trim()));
        let ready: Value = serde_json::from_str(&line).map_err(|_| odd())?;
        ready.get("ready").and_then(Value::as_str).ok_or_else(odd)?.clone_into(&mut started.entrance);
        let address = started.entrance.strip_prefix("http://").and_then(|rest| rest.split('/').next()).ok_or_else(odd)?;
        started.address = address.to_owned();
        Ok(started)
    }

    /// Address of the first page, with its key that can be used once.
    pub fn entrance(&self) -> &str {
        &self.entrance
    }

    /// Host and port, such as `127.0.0.1:4317`.
    pub fn address(&self) -> &str {
        &self.address
    }

    /// Its port.
    pub fn port(&self) -> &str {
        self.address.rsplit(':').next().unwrap_or("")
    }

    /// A page's whole address.
    pub fn url(&self, path: &str) -> String {
        format!("http://{}{path}", self.address)
    }

    /// Number of the process, as the system counts.
    pub fn process(&self) -> u32 {
        self.child.id()
    }

    /// Sends a signal (such as `TERM`) and waits for the end: how it ended, and after how long.
    ///
    /// # Errors
    /// The signal can't be sent, or the program goes on.
    pub fn end(mut self, signal: &str) -> Result<(ExitStatus, Duration), Trouble> {
        let asked = Stopwatch::start();
        let sent = Command::new("kill").args([&format!("-{signal}"), &self.child.id().to_string()]).status();
        sent.map_err(Trouble::system("sending a signal"))?;
        while asked.elapsed() < PATIENCE {
            if let Some(status) = self.child.try_wait().map_err(Trouble::system("waiting for the end"))? {
                return Ok((status, asked.elapsed()));
            }
            std::thread::sleep(Duration::from_millis(5));
        }
        Err(Trouble::odd(format!("it did not end after {signal}")))
    }
}

impl Drop for Program {
    fn drop(&mut self) {
        // Already gone after a clean end; then there is nothing left to do.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// Where the program lies: named from outside, or built here and now so that no stale one is asked.
pub(crate) fn path() -> Result<&'static PathBuf, Trouble> {
    static ONCE: OnceLock<Result<PathBuf, String>> = OnceLock::new();
    ONCE.get_or_init(find).as_ref().map_err(|why| Trouble::odd(why.clone()))
}

#[expect(clippy::disallowed_methods, reason = "the checks are told from outside which program to ask")]
fn find() -> Result<PathBuf, String> {
    if let Some(named) = std::env::var_os("GROUNDPROOF_PROGRAM") {
        let named = PathBuf::from(named);
        return if named.is_file() { Ok(named) } else { Err(format!("GROUNDPROOF_PROGRAM names {}, which is no file", named.display())) };
    }
    let cargo = std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into());
    let built = Command::new(cargo).args(["build", "--quiet", "--package", "groundproof"]).status().map_err(|e| e.to_string())?;
    let folder = std::env::current_exe().ok().and_then(|test| Some(test.parent()?.parent()?.to_owned()));
    let program = folder.ok_or("no folder of the build")?.join(format!("groundproof{}", std::env::consts::EXE_SUFFIX));
    if built.success() && program.is_file() { Ok(program) } else { Err("groundproof could not be built; see above".to_owned()) }
}
