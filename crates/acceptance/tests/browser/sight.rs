//! A photo under the hand: its cracks shown and hidden, a corner moved, a false crack rubbed out, a missed one drawn, and all of it written down.

use acceptance::{Browser, DESK, Program, Trouble};
use boardmaker::{Pattern, Recipe, make};
use serde_json::{Value, json};

use crate::{at_both, count};

/// The made photo is this large, and its board 44 x 40 mm.
const PHOTO_PX: (usize, usize) = (770, 700);

/// Lays a made photo of a cracked board into the tray, as the form of that page would, and looks at its page.
pub(crate) fn a_photo(browser: &Browser, program: &Program) -> Result<(), Trouble> {
    let recipe = Recipe { board_mm: (44.0, 40.0), photo_px: PHOTO_PX, tilt: 0.0, ..Recipe::usual(11, Pattern::Cells(8)) };
    browser.go(&program.url("/photos"))?;
    let script = "const [bytes, done] = arguments;
        const form = document.querySelector('form.drop');
        const data = new FormData(form);
        data.set('photo', new File([new Uint8Array(bytes)], 'panel.jpg', { type: 'image/jpeg' }));
        data.set('board', '44x40mm');
        fetch(form.getAttribute('action'), { method: 'POST', body: data }).then((answer) => done(answer.url)).catch((why) => done(String(why)));";
    let led = browser.ask_later(script, vec![json!(make(&recipe).jpeg)])?;
    let led = led.as_str().filter(|led| led.contains("/photos/")).ok_or_else(|| Trouble::odd(format!("{led}: no page of a photo")))?;
    browser.go(led)
}

fn value(browser: &Browser, css: &str) -> Result<String, Trouble> {
    let value = browser.ask("return document.querySelector(arguments[0]).value", vec![css.into()])?;
    Ok(value.as_str().unwrap_or("").to_owned())
}

/// Middle of what a selector finds first, brought into the window.
fn middle(browser: &Browser, css: &str) -> Result<(f64, f64), Trouble> {
    let script = "const place = document.querySelector(arguments[0]);
        place.scrollIntoView({ block: 'center', behavior: 'instant' });
        const box = place.getBoundingClientRect();
        return [box.x + box.width / 2, box.y + box.height / 2, box.width, box.height]";
    let at = browser.ask(script, vec![css.into()])?;
    let part = |index: usize| at[index].as_f64().ok_or_else(|| Trouble::odd(format!("{css} lies nowhere: {at}")));
    assert!(part(2)? >= 44.0 && part(3)? >= 44.0, "{css} is too small for a finger: {at}");
    Ok((part(0)?, part(1)?))
}

/// The first corner as it stands in its field.
fn first_corner(browser: &Browser) -> Result<(f64, f64), Trouble> {
    let text = value(browser, "form.measure input[name=corners]")?;
    let (x, y) = text.split(';').next().and_then(|pair| pair.split_once(',')).ok_or_else(|| Trouble::odd(format!("no corners: {text}")))?;
    let number = |part: &str| part.parse().map_err(|_| Trouble::odd(format!("no number: {text}")));
    Ok((number(x)?, number(y)?))
}

/// A crack as it is drawn: places along it in CSS pixels of the window.
fn along_a_crack(browser: &Browser) -> Result<Vec<(f64, f64)>, Trouble> {
    middle(browser, ".sight-view")?;
    let script = "const svg = document.querySelector('.sight-over');
        const paths = [...svg.querySelectorAll('path')].sort((a, b) => b.getTotalLength() - a.getTotalLength());
        return [0, 0.25, 0.5, 0.75, 1].map((share) => {
            const at = paths[0].getPointAtLength(share * paths[0].getTotalLength()).matrixTransform(svg.getScreenCTM());
            return [Math.round(at.x), Math.round(at.y)];
        })";
    let places = browser.ask(script, Vec::new())?;
    let places: Vec<(f64, f64)> =
        places.as_array().into_iter().flatten().filter_map(|at| Some((at[0].as_f64()?, at[1].as_f64()?))).collect();
    assert_eq!(places.len(), 5);
    Ok(places)
}

fn shown(browser: &Browser) -> Result<bool, Trouble> {
    let shown = browser.ask("return getComputedStyle(document.querySelector('.sight-cracks')).display !== 'none'", Vec::new())?;
    shown.as_bool().ok_or_else(|| Trouble::odd("seen or not"))
}

fn open(browser: &Browser, css: &str) -> Result<(), Trouble> {
    browser.ask("document.querySelector(arguments[0]).closest('details').open = true", vec![css.into()]).map(drop)
}

#[test]
#[ignore = "needs chromium: cargo xtask test"]
fn a_photo_is_looked_at_put_right_and_kept() -> Result<(), Trouble> {
    at_both(|browser, program| {
        a_photo(browser, program)?;
        assert!(count(browser, "g > path")? > 0, "cracks are drawn, none inside of another");
        browser.wait_until("!document.querySelector('.sight-tools').hidden")?;
        assert!(shown(browser)?);
        browser.click("[data-cracks]")?;
        assert!(!shown(browser)?, "hidden, the photo is bare");
        browser.click("[data-cracks]")?;

        // Lines lie on the photo at any distance.
        let both = "const box = (css) => { const { x, y, width, height } = document.querySelector(css).getBoundingClientRect(); return [x, y, width, height].map(Math.round); };
            return [box('.sight-sheet img'), box('.sight-over'), box('.sight-view')]";
        let far = browser.ask(both, Vec::new())?;
        browser.click("[data-zoom=in]")?;
        let near = browser.ask(both, Vec::new())?;
        assert!(far[0] == far[1] && near[0] == near[1] && near[2] == far[2], "{far} {near}");
        assert!(near[0][2].as_f64() > far[0][2].as_f64(), "{far} {near}");
        browser.click("[data-zoom=out]")?;
        assert_eq!(browser.ask(both, Vec::new())?, far);

        // A corner by the hand, by keys and by its field.
        open(browser, "form.measure")?;
        browser.wait_until("[...document.querySelectorAll('.corner')].filter((each) => each.checkVisibility()).length === 4")?;
        let (x, y) = middle(browser, ".corner")?;
        browser.drag(&[(x + 3.0, y + 3.0), (x + 9.0, y + 12.0), (x + 15.0, y + 23.0)])?;
        let dragged = first_corner(browser)?;
        browser.ask("document.querySelector('.corner').focus()", Vec::new())?;
        browser.press("\u{e014}")?;
        let moved = first_corner(browser)?;
        assert!((moved.0 - dragged.0 - 1.0).abs() < 0.11 && (moved.1 - dragged.1).abs() < 1e-9, "{dragged:?} {moved:?}");
        let corners = "Math.round(document.querySelector('.corner').getBoundingClientRect().x)";
        let before = browser.ask(&format!("return {corners}"), Vec::new())?;
        browser.fill("form.measure input[name=corners]", "200,180;740,28;740,672;30,672")?;
        browser.wait_until(&format!("{corners} !== {before}"))?;
        browser.fill("form.measure input[name=corners]", "30,28;740,28;740,672;30,672")?;
        browser.follow("form.measure button[type=submit]")?;
        assert!(first_corner(browser)?.0 > 29.0, "told corners are kept");

        // Rubbed out by the hand: less crack than before, which is still there to be read.
        let before = browser.text("main p.what")?;
        open(browser, ".put-right form")?;
        browser.click("input[name=tool][value=rub]")?;
        let crack = along_a_crack(browser)?;
        browser.drag(&crack)?;
        assert_eq!(count(browser, ".sight-strokes .rubbed")?, 1);
        browser.drag(&crack[..2])?;
        browser.click("[data-undo]")?;
        assert_eq!(value(browser, "textarea[name=rubbed]")?.lines().count(), 1, "undone");
        browser.click("input[name=tool][value=draw]")?;
        let crack = along_a_crack(browser)?;
        for place in [crack[0], crack[2], crack[4], crack[4]] {
            browser.drag(&[place])?;
        }
        assert_eq!(value(browser, "textarea[name=drawn]")?.split(';').count(), 3, "tap by tap, the last one twice");
        browser.click("[data-undo]")?;
        assert_eq!(value(browser, "textarea[name=drawn]")?, "");
        browser.follow(".put-right button[type=submit]")?;
        assert_ne!(browser.text("main p.what")?, before, "how much crack each square centimetre holds");
        assert!(browser.text("main")?.contains("What came out before it was put right by hand"));
        browser.wait_until("document.querySelectorAll('.sight-strokes .rubbed').length === 1")?;
        Ok(())
    })
}

#[test]
#[ignore = "needs chromium: cargo xtask test"]
fn a_photo_is_written_down_for_a_board_without_any_script() -> Result<(), Trouble> {
    let program = Program::start()?;
    let browser = Browser::inside(&program, DESK, std::path::Path::new(crate::FOLDER))?;
    browser.go(&program.url("/trials/new?kind=own"))?;
    browser.type_into("#question", "Which of the lighthouse's grounds cracks less?")?;
    browser.type_into("#grid", "day, pot, recipe\n1, A, chalk\n1, B, gypsum\n2, C, chalk\n2, D, gypsum")?;
    browser.fill("input[name=yardstick]", "the usual ground")?;
    browser.follow("main form.tell button.main")?;
    browser.follow("form[action$='/fix'] button")?;
    let id = browser.ask("return document.querySelector('a[href^=\"/board/GP-\"]').getAttribute('href').slice(7)", Vec::new())?;
    let id = id.as_str().ok_or_else(|| Trouble::odd("a fixed plan has no boards"))?.to_owned();
    a_photo(&browser, &program)?;
    let page = browser.ask("return location.href", Vec::new())?;
    browser.without_scripts(true)?;
    browser.go(page.as_str().unwrap_or(""))?;
    let boxes = browser.ask(
        "return ['.sight-sheet img', '.sight-over'].map((css) => { const { x, y, width, height } = document.querySelector(css).getBoundingClientRect(); return [x, y, width, height].map(Math.round); })",
        Vec::new(),
    )?;
    assert!(boxes[0] == boxes[1] && boxes[0][2].as_f64().is_some_and(|wide| wide > 300.0), "lines lie on the photo: {boxes}");
    open(&browser, ".put-right form")?;
    browser.fill("textarea[name=rubbed]", "30:385,350")?;
    browser.follow(".put-right button[type=submit]")?;
    browser.fill("form[action$='/file'] input[name=board]", &id)?;
    browser.follow("form[action$='/file'] button")?;
    browser.follow("form[action$='/write'] button")?;
    assert!(browser.text("main")?.contains("Written down from this photo"));
    assert_eq!(count(&browser, "form[action$='/write']")?, 0, "once is enough");
    let complaints: Vec<Value> = browser.complaints()?.into_iter().map(Value::from).collect();
    assert!(complaints.is_empty(), "{complaints:?}");
    Ok(())
}
