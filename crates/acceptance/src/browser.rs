//! A person at a screen.

use std::path::Path;
use std::time::Duration;

use fantoccini::actions::{InputSource as _, MOUSE_BUTTON_LEFT, MouseActions, PointerAction};
use fantoccini::elements::Element;
use fantoccini::{Client, ClientBuilder, Locator};
use hyper_util::client::legacy::connect::HttpConnector;
use serde_json::{Value, json};
use tokio::runtime::Runtime;

use crate::driver::{Driver, Own};
use crate::{HOUSE, Program, Stopwatch, Trouble};

/// How long something may take to appear before it counts as missing.
const PATIENCE: Duration = Duration::from_secs(10);

/// A size of screen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Screen {
    /// CSS pixels across.
    pub width: u32,
    /// CSS pixels down.
    pub height: u32,
    /// Held in the hand: touched, without scroll bars.
    pub phone: bool,
}

/// A phone held upright.
pub const PHONE: Screen = Screen { width: 390, height: 844, phone: true };
/// A small computer.
pub const DESK: Screen = Screen { width: 1280, height: 900, phone: false };

/// A browser with one page open. Each method waits until it is done.
#[derive(Debug)]
pub struct Browser {
    client: Option<Client>,
    runtime: Runtime,
    // Last: the driver goes after its session was closed.
    _driver: Driver,
}

impl Browser {
    /// Opens a browser whose profile lies under `folder`.
    ///
    /// # Errors
    /// chromium or chromedriver are missing or do not fit each other.
    pub fn open(folder: &Path) -> Result<Self, Trouble> {
        Self::begin(folder, &[])
    }

    /// Opens a browser that takes the name [`HOUSE`] for this computer, as a phone takes the name of the desk, and is as large as a phone.
    ///
    /// # Errors
    /// As [`Browser::open`].
    pub fn phone(folder: &Path) -> Result<Self, Trouble> {
        let browser = Self::begin(folder, &[&format!("--host-resolver-rules=MAP {HOUSE} 127.0.0.1")])?;
        browser.resize(PHONE)?;
        Ok(browser)
    }

    fn begin(folder: &Path, more: &[&str]) -> Result<Self, Trouble> {
        let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().map_err(Trouble::system("starting"))?;
        let driver = Driver::start(folder)?;
        let mut builder = ClientBuilder::new(HttpConnector::new());
        builder.capabilities(driver.wishes(more));
        let client = runtime.block_on(builder.connect(&driver.address()))?;
        Ok(Self { client: Some(client), runtime, _driver: driver })
    }

    /// Opens a browser on the first page of a program, at a size of screen.
    ///
    /// # Errors
    /// As [`Browser::open`], or the door stays shut.
    pub fn inside(program: &Program, screen: Screen, folder: &Path) -> Result<Self, Trouble> {
        let browser = Self::open(folder)?;
        browser.resize(screen)?;
        browser.go(program.entrance())?;
        Ok(browser)
    }

    fn client(&self) -> Result<&Client, Trouble> {
        self.client.as_ref().ok_or_else(|| Trouble::odd("the browser is closed"))
    }

    /// Goes to an address and waits until the page stands.
    ///
    /// # Errors
    /// The page does not load.
    pub fn go(&self, address: &str) -> Result<(), Trouble> {
        Ok(self.runtime.block_on(self.client()?.goto(address))?)
    }

    /// Makes the screen this large.
    ///
    /// # Errors
    /// The browser refuses.
    pub fn resize(&self, screen: Screen) -> Result<(), Trouble> {
        let size = json!({ "width": screen.width, "height": screen.height, "deviceScaleFactor": 1, "mobile": screen.phone });
        self.devtools("Emulation.setDeviceMetricsOverride", &size)?;
        self.devtools("Emulation.setTouchEmulationEnabled", &json!({ "enabled": screen.phone })).map(drop)
    }

    /// Asks for dark or light pages.
    ///
    /// # Errors
    /// The browser refuses.
    pub fn dark(&self, dark: bool) -> Result<(), Trouble> {
        let value = if dark { "dark" } else { "light" };
        // Nothing may fade while it is looked at.
        let features = json!([{ "name": "prefers-color-scheme", "value": value }, { "name": "prefers-reduced-motion", "value": "reduce" }]);
        self.devtools("Emulation.setEmulatedMedia", &json!({ "features": features })).map(drop)
    }

    /// Switches the page's scripts off or on again; from the next page on.
    ///
    /// # Errors
    /// The browser refuses.
    pub fn without_scripts(&self, off: bool) -> Result<(), Trouble> {
        self.devtools("Emulation.setScriptExecutionDisabled", &json!({ "value": off })).map(drop)
    }

    /// Lets files or folders of the disk fall on the middle of the page, as from a file manager.
    ///
    /// # Errors
    /// The browser refuses.
    pub fn drop_files(&self, paths: &[&Path]) -> Result<(), Trouble> {
        let files: Vec<String> = paths.iter().map(|path| path.display().to_string()).collect();
        for step in ["dragEnter", "dragOver", "drop"] {
            let data = json!({ "items": [], "files": files, "dragOperationsMask": 1 });
            self.devtools("Input.dispatchDragEvent", &json!({ "type": step, "x": 150, "y": 300, "data": data }))?;
        }
        Ok(())
    }

    /// Cuts the network off or joins it again.
    ///
    /// # Errors
    /// The browser refuses.
    pub fn offline(&self, cut: bool) -> Result<(), Trouble> {
        self.network(cut, 0)
    }

    /// Makes every way there and back last so many milliseconds.
    ///
    /// # Errors
    /// The browser refuses.
    pub fn slow(&self, milliseconds: u32) -> Result<(), Trouble> {
        self.network(false, milliseconds)
    }

    fn network(&self, offline: bool, latency: u32) -> Result<(), Trouble> {
        self.devtools("Network.enable", &json!({}))?;
        let how = json!({ "offline": offline, "latency": latency, "downloadThroughput": -1, "uploadThroughput": -1 });
        self.devtools("Network.emulateNetworkConditions", &how).map(drop)
    }

    /// Sets the clock of all pages to come so many milliseconds ahead.
    ///
    /// # Errors
    /// The browser refuses.
    pub fn clock_ahead(&self, milliseconds: i64) -> Result<(), Trouble> {
        let source = format!("{{ const right = Date.now.bind(Date); Date.now = () => right() + {milliseconds}; }}");
        self.devtools("Page.addScriptToEvaluateOnNewDocument", &json!({ "source": source })).map(drop)
    }

    fn devtools(&self, command: &str, parameters: &Value) -> Result<Value, Trouble> {
        Ok(self.runtime.block_on(self.client()?.issue_cmd(Own::devtools(command, parameters)))?)
    }

    fn element(&self, css: &str) -> Result<Element, Trouble> {
        let client = self.client()?;
        let found = self.runtime.block_on(client.wait().at_most(PATIENCE).for_element(Locator::Css(css)));
        found.map_err(|why| Trouble::odd(format!("no `{css}` on this page: {why}")))
    }

    /// Clicks or taps what a selector finds first.
    ///
    /// # Errors
    /// There is none, or it can't be clicked.
    pub fn click(&self, css: &str) -> Result<(), Trouble> {
        let since = Stopwatch::start();
        loop {
            // What was just unfolded may not be laid out yet, and a live answer may take its place.
            match self.runtime.block_on(self.element(css)?.click()) {
                Err(why) if (why.is_element_not_interactable() || why.is_stale_element_reference()) && since.elapsed() < PATIENCE => {
                    std::thread::sleep(Duration::from_millis(30));
                }
                clicked => return clicked.map_err(|why| Trouble::odd(format!("clicking `{css}`: {why}"))),
            }
        }
    }

    /// Types into what a selector finds first, after what stands there.
    ///
    /// # Errors
    /// There is none, or it takes no text.
    pub fn type_into(&self, css: &str, text: &str) -> Result<(), Trouble> {
        Ok(self.runtime.block_on(self.element(css)?.send_keys(text))?)
    }

    /// Types in place of what stands there.
    ///
    /// # Errors
    /// As [`Browser::type_into`].
    pub fn fill(&self, css: &str, text: &str) -> Result<(), Trouble> {
        let element = self.element(css)?;
        self.runtime.block_on(element.clear())?;
        Ok(self.runtime.block_on(element.send_keys(text))?)
    }

    /// Presses keys wherever the focus is.
    ///
    /// # Errors
    /// Nothing takes keys.
    pub fn press(&self, keys: &str) -> Result<(), Trouble> {
        let client = self.client()?;
        let active = self.runtime.block_on(client.active_element())?;
        Ok(self.runtime.block_on(active.send_keys(keys))?)
    }

    /// Presses the mouse at the first place, moves it over the others and lets go, in CSS pixels of the window.
    ///
    /// # Errors
    /// A place outside of the window.
    pub fn drag(&self, places: &[(f64, f64)]) -> Result<(), Trouble> {
        let mut hand = MouseActions::new("hand".to_owned());
        for (index, &(x, y)) in places.iter().enumerate() {
            hand = hand.then(PointerAction::MoveTo { duration: Some(Duration::from_millis(20)), x, y });
            if index == 0 {
                hand = hand.then(PointerAction::Down { button: MOUSE_BUTTON_LEFT });
            }
        }
        let hand = hand.then(PointerAction::Up { button: MOUSE_BUTTON_LEFT });
        Ok(self.runtime.block_on(self.client()?.perform_actions(hand))?)
    }

    /// Text as seen of what a selector finds first.
    ///
    /// # Errors
    /// There is none.
    pub fn text(&self, css: &str) -> Result<String, Trouble> {
        let since = Stopwatch::start();
        loop {
            // A live answer may take an element's place between finding and reading it.
            match self.runtime.block_on(self.element(css)?.text()) {
                Err(why) if why.is_stale_element_reference() && since.elapsed() < PATIENCE => {}
                read => return Ok(read?),
            }
        }
    }

    /// Runs the body of a function in the page; `arguments` holds what is given.
    ///
    /// # Errors
    /// The script throws.
    pub fn ask(&self, script: &str, arguments: Vec<Value>) -> Result<Value, Trouble> {
        Ok(self.runtime.block_on(self.client()?.execute(script, arguments))?)
    }

    /// The same for a script that answers later, by calling the last of its arguments.
    ///
    /// # Errors
    /// The script throws or never answers.
    pub fn ask_later(&self, script: &str, arguments: Vec<Value>) -> Result<Value, Trouble> {
        Ok(self.runtime.block_on(self.client()?.execute_async(script, arguments))?)
    }

    /// Waits until an expression is true in the page.
    ///
    /// # Errors
    /// It does not become true in time.
    pub fn wait_until(&self, expression: &str) -> Result<(), Trouble> {
        let script = format!("return Boolean({expression})");
        let since = Stopwatch::start();
        while since.elapsed() < PATIENCE {
            // While one page gives way to the next there may be nobody to ask.
            if self.ask(&script, Vec::new()).is_ok_and(|answer| answer == json!(true)) {
                return Ok(());
            }
            std::thread::sleep(Duration::from_millis(30));
        }
        Err(Trouble::odd(format!("`{expression}` did not come true; the page says: {}", self.text("body")?)))
    }

    /// Waits until a page of this path stands; only for a path other than the present one.
    ///
    /// # Errors
    /// It never does.
    pub fn arrive(&self, path: &str) -> Result<(), Trouble> {
        self.wait_until(&format!("location.pathname === {} && document.readyState === 'complete'", json!(path)))
    }

    /// Clicks what leads to another page and waits until that one stands, be it of the same address.
    ///
    /// # Errors
    /// There is nothing to click, or no other page comes.
    pub fn follow(&self, css: &str) -> Result<(), Trouble> {
        self.ask("window.stays = true", Vec::new())?;
        self.click(css)?;
        self.wait_until("window.stays === undefined && document.readyState === 'complete'")
    }

    /// Complaints in the page's console since it was last asked.
    ///
    /// # Errors
    /// The browser refuses.
    pub fn complaints(&self) -> Result<Vec<String>, Trouble> {
        let log = self.runtime.block_on(self.client()?.issue_cmd(Own::console()))?;
        let entry = |entry: &Value| format!("{}: {}", entry["level"].as_str().unwrap_or(""), entry["message"].as_str().unwrap_or(""));
        Ok(log.as_array().into_iter().flatten().map(entry).collect())
    }

    /// The page as a PNG, for a look by eye.
    ///
    /// # Errors
    /// The browser refuses.
    pub fn picture(&self) -> Result<Vec<u8>, Trouble> {
        Ok(self.runtime.block_on(self.client()?.screenshot())?)
    }
}

impl Drop for Browser {
    fn drop(&mut self) {
        if let Some(client) = self.client.take() {
            let _ = self.runtime.block_on(client.close());
        }
    }
}
