//! The program as a server, for as long as a check needs it.

use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, ExitStatus, Stdio};
use std::sync::OnceLock;
use std::time::Duration;

use serde_json::Value;
use tempfile::TempDir;

use crate::{Stopwatch, Trouble};

/// How long a start or an end may take before it counts as stuck.
const PATIENCE: Duration = Duration::from_secs(10);

/// File that standard error goes to.
const COMPLAINTS: &str = "complaints.txt";

/// Name under which this computer is shared: made up (RFC 6761 keeps the ending for tests), so that browsers do not trust it as they trust
/// loopback, where they lend pages more than any phone in the house gets.
pub const HOUSE: &str = "kitchen.test";

/// A running program, in a studio that no check shares with another unless it says so; it is ended by force when this value goes.
#[derive(Debug)]
pub struct Program {
    child: Child,
    entrance: String,
    address: String,
    /// Address that a phone opens, if it shares.
    pair: Option<String>,
    studio: PathBuf,
    /// What it complains of lies here, and the studio if none was named; gone with this value.
    place: TempDir,
}

impl Program {
    /// Starts the program on a free port and a fresh studio, and reads its first line, `{"ready": ADDRESS}`.
    ///
    /// # Errors
    /// It can't be built or started, or its first line is not the one agreed.
    pub fn start() -> Result<Self, Trouble> {
        Self::begin("0", None, &[])
    }

    /// The same on the port given.
    ///
    /// # Errors
    /// As [`Program::start`].
    pub fn start_on(port: &str) -> Result<Self, Trouble> {
        Self::begin(port, None, &[])
    }

    /// The same on the studio in this folder, which stays.
    ///
    /// # Errors
    /// As [`Program::start`].
    pub fn start_in(studio: &Path) -> Result<Self, Trouble> {
        Self::begin("0", Some(studio), &[])
    }

    /// Starts it on a free port and shares it with phones, on loopback, as [`HOUSE`].
    ///
    /// # Errors
    /// As [`Program::start`].
    pub fn start_shared() -> Result<Self, Trouble> {
        Self::begin("0", None, &["--share", "127.0.0.1", "--share-as", HOUSE])
    }

    /// The same on the studio in this folder, which stays.
    ///
    /// # Errors
    /// As [`Program::start`].
    pub fn start_shared_in(studio: &Path) -> Result<Self, Trouble> {
        Self::begin("0", Some(studio), &["--share", "127.0.0.1", "--share-as", HOUSE])
    }

    /// The same on the port given, as after an end.
    ///
    /// # Errors
    /// As [`Program::start`].
    pub fn start_shared_again(studio: &Path, port: &str) -> Result<Self, Trouble> {
        Self::begin(port, Some(studio), &["--share", "127.0.0.1", "--share-as", HOUSE])
    }

    #[expect(clippy::disallowed_methods, reason = "what the program complains of is kept in a file")]
    fn begin(port: &str, studio: Option<&Path>, more: &[&str]) -> Result<Self, Trouble> {
        let place = tempfile::tempdir().map_err(Trouble::system("making a folder"))?;
        let studio = studio.map_or_else(|| place.path().join("studio"), Path::to_owned);
        let complaints = std::fs::File::create(place.path().join(COMPLAINTS)).map_err(Trouble::system("making a file"))?;
        let mut child = Command::new(path()?)
            .args(["open", "--no-browser", "--port", port, "--studio"])
            .arg(&studio)
            .args(more)
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(complaints)
            .spawn()
            .map_err(Trouble::system("starting the program"))?;
        let mut line = String::new();
        let read = child.stdout.take().map(|out| BufReader::new(out).read_line(&mut line));
        let mut started = Self { child, entrance: String::new(), address: String::new(), pair: None, studio, place };
        read.transpose().map_err(Trouble::system("reading its first line"))?;
        let odd = || Trouble::odd(format!("its first line was `{}`", line.trim()));
        let ready: Value = serde_json::from_str(&line).map_err(|_| odd())?;
        ready.get("ready").and_then(Value::as_str).ok_or_else(odd)?.clone_into(&mut started.entrance);
        started.pair = ready.get("shared").and_then(Value::as_str).map(str::to_owned);
        let address = started.entrance.strip_prefix("http://").and_then(|rest| rest.split('/').next()).ok_or_else(odd)?;
        started.address = address.to_owned();
        Ok(started)
    }

    /// Folder of its studio.
    pub fn studio(&self) -> &Path {
        &self.studio
    }

    /// What it wrote to standard error so far.
    ///
    /// # Errors
    /// The file is gone.
    #[expect(clippy::disallowed_methods, reason = "what the program complains of is kept in a file")]
    pub fn complaints(&self) -> Result<String, Trouble> {
        let bytes = std::fs::read(self.place.path().join(COMPLAINTS)).map_err(Trouble::system("reading its complaints"))?;
        Ok(String::from_utf8_lossy(&bytes).into_owned())
    }

    /// Address of the first page, with its key that can be used once.
    pub fn entrance(&self) -> &str {
        &self.entrance
    }

    /// Address that a phone opens, such as `http://kitchen.test:4318/pair`.
    ///
    /// # Errors
    /// It was not started to share.
    pub fn pair(&self) -> Result<&str, Trouble> {
        self.pair.as_deref().ok_or_else(|| Trouble::odd("this program shares nothing"))
    }

    /// Name and port as a phone says them in its requests, such as `kitchen.test:4318`.
    ///
    /// # Errors
    /// As [`Program::pair`].
    pub fn phone_host(&self) -> Result<&str, Trouble> {
        Ok(self.pair()?.trim_start_matches("http://").trim_end_matches("/pair"))
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

/// Where the program lies, for a check that starts it in a way of its own.
///
/// # Errors
/// It can't be built.
pub fn program_path() -> Result<&'static Path, Trouble> {
    path().map(PathBuf::as_path)
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
    // A bench asks the program as it is handed out.
    let like_this_one: &[&str] = if cfg!(debug_assertions) { &[] } else { &["--release"] };
    let built = Command::new(cargo)
        .args(["build", "--quiet", "--package", "groundproof"])
        .args(like_this_one)
        .status()
        .map_err(|e| e.to_string())?;
    let folder = std::env::current_exe().ok().and_then(|test| Some(test.parent()?.parent()?.to_owned()));
    let program = folder.ok_or("no folder of the build")?.join(format!("groundproof{}", std::env::consts::EXE_SUFFIX));
    if built.success() && program.is_file() { Ok(program) } else { Err("groundproof could not be built; see above".to_owned()) }
}
