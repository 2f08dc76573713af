//! Walks of a person who was given nothing but the first screen, on a phone held upright and at a desk.
//!
//! Places on a page are found by role, name or id, not by sentences, so that a better sentence breaks nothing.

#![expect(clippy::indexing_slicing, reason = "in a test a panic is the report")]

mod access;
mod beside;
mod binder;
mod binder_road;
mod boards;
#[path = "../shared/day.rs"]
mod day;
mod failed;
mod glue;
mod heap;
mod jar_now;
mod keyboard;
mod kitchen;
mod milk;
mod now;
mod phone;
mod plain;
mod pot;
mod recipe;
mod rest;
mod save;
mod sight;
mod what_when;
mod wish;

use std::path::Path;

use acceptance::{Browser, DESK, PHONE, Program, Trouble};

/// Profile folders of the browsers lie here.
const FOLDER: &str = env!("CARGO_TARGET_TMPDIR");

/// Walks on a phone and at a desk, each time with a fresh program and a fresh browser, and asks that the console stayed silent.
fn at_both(walk: impl Fn(&Browser, &Program) -> Result<(), Trouble>) -> Result<(), Trouble> {
    for screen in [PHONE, DESK] {
        let program = Program::start()?;
        let browser = Browser::inside(&program, screen, Path::new(FOLDER))?;
        walk(&browser, &program)?;
        let complaints = browser.complaints()?;
        assert!(complaints.is_empty(), "{screen:?}: {complaints:#?}");
    }
    Ok(())
}

/// Waits for the answer that comes while typing or tapping to hold these words.
fn live(browser: &Browser, words: &str) -> Result<(), Trouble> {
    browser.wait_until(&format!("document.querySelector('#verdict').innerText.includes({})", serde_json::json!(words)))
}

/// How many things on the page a selector finds.
fn count(browser: &Browser, css: &str) -> Result<u64, Trouble> {
    let found = browser.ask("return document.querySelectorAll(arguments[0]).length", vec![css.into()])?;
    found.as_u64().ok_or_else(|| Trouble::odd("a count is a number"))
}
