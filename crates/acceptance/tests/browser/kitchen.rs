//! Phones in a kitchen, and the desk beside it.

use std::path::Path;

use acceptance::{Browser, DESK, Program, Trouble};

use crate::FOLDER;

/// A phone that the desk said yes to, under the name given.
pub(crate) fn phone_let_in(program: &Program, desk: &Browser, name: &str) -> Result<Browser, Trouble> {
    desk.go(&program.url("/share"))?;
    desk.follow("form[action='/share/code'] button")?;
    let code = desk.text("#pair-code")?;
    let phone = Browser::phone(Path::new(FOLDER))?;
    phone.go(&desk.text("#pair-address")?)?;
    phone.fill("#name", name)?;
    if !phone.ask("return document.querySelector('#code').checkVisibility()", Vec::new())?.as_bool().unwrap_or(false) {
        return Err(Trouble::odd("there is no field for the code"));
    }
    phone.fill("#code", &code)?;
    phone.follow("main button")?;
    phone.arrive("/pair/wait")?;
    desk.wait_until("document.querySelector('button[value=yes]')")?;
    desk.follow("button[value=yes]")?;
    phone.arrive("/trials")?;
    Ok(phone)
}

/// The desk's own browser.
pub(crate) fn desk(program: &Program) -> Result<Browser, Trouble> {
    Browser::inside(program, DESK, Path::new(FOLDER))
}

/// Address of the page of the day as phones know it.
pub(crate) fn now_page(program: &Program) -> Result<String, Trouble> {
    Ok(format!("http://{}/now", program.phone_host()?))
}
