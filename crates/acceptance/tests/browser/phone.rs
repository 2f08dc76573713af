//! A phone is let in: the desk shows a square, the phone opens what it holds, the desk says yes. The phone knows the desk by a made-up name
//! over plain HTTP, so its browser lends it no more than it lends a real phone in the house.

use std::path::Path;
use std::time::Duration;

use acceptance::{Browser, DESK, Program, Stopwatch, Trouble};

use crate::{FOLDER, count};

/// Where a phone lands that was let in.
const LANDING: &str = "/trials";
/// How long somebody holds a camera to a square that it does not read.
const HELD: Duration = Duration::from_secs(10);

/// What the square on the desk's page holds: read from the picture of the page, as a camera does that is held to it until it reads. A first
/// look can meet one page fading into the next.
fn seen(desk: &Browser) -> Result<String, Trouble> {
    desk.ask("document.querySelector('.qr').scrollIntoView()", Vec::new())?;
    let since = Stopwatch::start();
    while since.elapsed() < HELD {
        if let Some(text) = read(&desk.picture()?)? {
            return Ok(text);
        }
    }
    Err(Trouble::odd("no camera can read the square on the page"))
}

/// What a square code in a picture says.
fn read(picture: &[u8]) -> Result<Option<String>, Trouble> {
    let picture = image::load_from_memory(picture).map_err(|why| Trouble::odd(why.to_string()))?.into_luma8();
    let (width, height) = (picture.width(), picture.height());
    let mut found = rqrr::PreparedImage::prepare_from_greyscale(width as usize, height as usize, |x, y| {
        picture.get_pixel(u32::try_from(x).unwrap_or(0), u32::try_from(y).unwrap_or(0)).0[0]
    });
    Ok(found.detect_grids().iter().find_map(|grid| grid.decode().ok()).map(|(_, text)| text))
}

fn shared_desk() -> Result<(Program, Browser), Trouble> {
    let program = Program::start_shared()?;
    let desk = Browser::inside(&program, DESK, Path::new(FOLDER))?;
    desk.go(&program.url("/share"))?;
    desk.follow("form[action='/share/code'] button")?;
    Ok((program, desk))
}

fn calm(browser: &Browser) -> Result<(), Trouble> {
    let complaints = browser.complaints()?;
    assert!(complaints.is_empty(), "{complaints:#?}");
    Ok(())
}

#[test]
#[ignore = "needs chromium: cargo xtask test"]
fn a_phone_comes_in_by_the_square_and_a_yes() -> Result<(), Trouble> {
    let (program, desk) = shared_desk()?;
    let address = seen(&desk)?;
    assert!(address.starts_with(&format!("{}#", program.pair()?)), "{address}");
    let phone = Browser::phone(Path::new(FOLDER))?;
    phone.go(&address)?;
    // The point of the made-up name: what only trusted pages get must not be at hand here.
    assert_eq!(phone.ask("return window.isSecureContext", Vec::new())?, serde_json::json!(false));
    assert_eq!(phone.ask("return location.href", Vec::new())?.as_str(), Some(program.pair()?), "the secret is out of sight");
    assert_eq!(phone.ask("return document.querySelector('#code').checkVisibility()", Vec::new())?, serde_json::json!(false));
    let fetched = phone.ask("return performance.getEntriesByType('resource').map((each) => each.name)", Vec::new())?;
    assert!(!fetched.to_string().contains(".otf"), "the page that asks is small: {fetched}");
    phone.type_into("#name", "kitchen phone")?;
    phone.follow("main button")?;
    phone.arrive("/pair/wait")?;

    // The desk's page sees the knock by itself.
    desk.wait_until("document.querySelector('h1').innerText.includes('kitchen phone')")?;
    desk.follow("button[value=yes]")?;
    phone.arrive(LANDING)?;
    desk.wait_until("document.querySelector('h1').innerText.includes('is in')")?;
    assert!(desk.text("main")?.contains("kitchen phone"), "it is listed");

    // It writes under its own name, and has no way into the desk's rooms.
    phone.go(&program.pair()?.replace("/pair", "/shelf"))?;
    phone.ask("document.querySelector('select[name=material]').value = 'natural-chalk'", Vec::new())?;
    phone.fill("input[name=name]", "chalk, blue sack")?;
    phone.follow("main form button.main")?;
    assert_eq!(count(&phone, "a[href='/share']")?, 0);
    desk.go(&program.url("/notebook"))?;
    assert!(desk.text(".entries")?.contains("kitchen phone"), "the notebook says who wrote it");

    // Its key is taken away.
    desk.go(&program.url("/share"))?;
    desk.follow("form[action='/share/revoke'] button")?;
    calm(&desk)?;
    calm(&phone)?;
    phone.go(&program.pair()?.replace("/pair", LANDING))?;
    assert!(phone.text("main")?.contains("not let in"));
    Ok(())
}

#[test]
#[ignore = "needs chromium: cargo xtask test"]
fn a_phone_comes_in_by_typing_and_without_scripts() -> Result<(), Trouble> {
    let (program, desk) = shared_desk()?;
    let code = desk.text("#pair-code")?;
    assert_eq!((code.len(), code.as_bytes().get(4)), (9, Some(&b' ')), "two groups to read aloud: {code}");
    let phone = Browser::phone(Path::new(FOLDER))?;
    phone.without_scripts(true)?;
    phone.go(&desk.text("#pair-address")?)?;
    phone.fill("#name", "shed phone")?;
    phone.fill("#code", "ZZZZ ZZZZ")?;
    phone.follow("main button")?;
    assert!(phone.text("[role=alert]")?.contains("not the code"));
    phone.fill("#code", &code.to_lowercase())?;
    phone.follow("main button")?;
    phone.arrive("/pair/wait")?;
    desk.go(&program.url("/share"))?;
    desk.follow("button[value=yes]")?;
    phone.follow("main button")?;
    phone.arrive(LANDING)
}
