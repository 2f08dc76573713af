//! chromedriver as a child of the check, and the commands that are its own.

use std::io::{BufRead, BufReader};
use std::os::unix::process::CommandExt;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::atomic::{AtomicUsize, Ordering};

use fantoccini::wd::{Capabilities, WebDriverCompatibleCommand};
use serde_json::{Value, json};
use url::{ParseError, Url};

use crate::Trouble;

/// A running chromedriver with a profile folder of its own; both go when this value goes.
#[derive(Debug)]
pub(crate) struct Driver {
    child: Child,
    port: u16,
    profile: PathBuf,
}

impl Driver {
    /// Starts it on a free port; the profile lies in a new folder under `folder`. Now and then another program takes the port that it chose
    /// before it listens there, and it gives up: then it is started once more.
    pub(crate) fn start(folder: &Path) -> Result<Self, Trouble> {
        Self::started(folder).or_else(|_| Self::started(folder))
    }

    fn started(folder: &Path) -> Result<Self, Trouble> {
        static NEXT: AtomicUsize = AtomicUsize::new(0);
        let profile = folder.join(format!("browser-{}-{}", std::process::id(), NEXT.fetch_add(1, Ordering::Relaxed)));
        let child = Command::new("chromedriver")
            .arg("--port=0")
            // A group of its own, so that the end of the driver is the end of its browsers.
            .process_group(0)
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .map_err(Trouble::system("starting chromedriver"))?;
        let mut driver = Self { child, port: 0, profile };
        let out = driver.child.stdout.take().ok_or_else(|| Trouble::odd("chromedriver has no output"))?;
        let mut lines = BufReader::new(out).lines().map_while(Result::ok);
        // "ChromeDriver was started successfully on port 41653."
        let port = lines.find_map(|line| line.strip_suffix('.')?.rsplit_once("on port ")?.1.parse().ok());
        driver.port = port.ok_or_else(|| Trouble::odd("chromedriver did not say its port"))?;
        Ok(driver)
    }

    pub(crate) fn address(&self) -> String {
        format!("http://127.0.0.1:{}", self.port)
    }

    /// What kind of browser is wanted.
    pub(crate) fn wishes(&self, more: &[&str]) -> Capabilities {
        let profile = format!("--user-data-dir={}", self.profile.display());
        let usual = [
            "--headless=new",
            "--no-sandbox",
            "--disable-dev-shm-usage",
            "--disable-gpu",
            "--no-first-run",
            "--disable-background-networking",
            "--disable-component-update",
            "--disable-sync",
            &profile,
        ];
        let flags: Vec<&str> = usual.iter().chain(more).copied().collect();
        let mut wishes = Capabilities::new();
        wishes.insert("goog:chromeOptions".into(), json!({ "args": flags }));
        wishes.insert("goog:loggingPrefs".into(), json!({ "browser": "ALL" }));
        wishes
    }
}

impl Drop for Driver {
    #[expect(clippy::disallowed_methods, reason = "the profile folder is made for this browser alone")]
    fn drop(&mut self) {
        let group = format!("-{}", self.child.id());
        let _ = Command::new("kill").args(["-KILL", "--", &group]).stderr(Stdio::null()).status();
        let _ = self.child.wait();
        let _ = std::fs::remove_dir_all(&self.profile);
    }
}

/// A command of chromedriver that the standard does not have: `POST session/ID/PATH`.
#[derive(Debug)]
pub(crate) struct Own {
    path: &'static str,
    body: Value,
}

impl Own {
    /// A command of the devtools.
    pub(crate) fn devtools(command: &str, parameters: &Value) -> Self {
        Self { path: "goog/cdp/execute", body: json!({ "cmd": command, "params": parameters }) }
    }

    /// What the page's console holds since it was last asked.
    pub(crate) fn console() -> Self {
        Self { path: "se/log", body: json!({ "type": "browser" }) }
    }
}

impl WebDriverCompatibleCommand for Own {
    fn endpoint(&self, base: &Url, session: Option<&str>) -> Result<Url, ParseError> {
        base.join(&format!("session/{}/{}", session.unwrap_or(""), self.path))
    }

    fn method_and_body(&self, _: &Url) -> (http::Method, Option<String>) {
        (http::Method::POST, Some(self.body.to_string()))
    }
}
