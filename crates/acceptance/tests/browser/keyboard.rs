//! Nothing but keys.

use acceptance::{Browser, Trouble};

use crate::at_both;

// Codes of keys: WebDriver (W3C), 17.4.2, table of normalised key values.
const TAB: &str = "\u{e004}";
const ENTER: &str = "\u{e007}";
const SPACE: &str = "\u{e00d}";
const DOWN: &str = "\u{e015}";

/// Tabs on until the focus is on what a selector finds; every stop on the way must show where it is.
fn tab_to(browser: &Browser, css: &str) -> Result<(), Trouble> {
    for _ in 0..60 {
        browser.press(TAB)?;
        let script = "
            const at = document.activeElement, look = getComputedStyle(at);
            // Between the last stop and the first the focus is with the browser itself.
            return [at.matches(arguments[0]), at === document.body || look.outlineStyle !== 'none' && parseFloat(look.outlineWidth) >= 2, at.outerHTML.slice(0, 120)];";
        let answer = browser.ask(script, vec![css.into()])?;
        assert_eq!(answer[1], true, "the focus shows on {}", answer[2]);
        if answer[0] == true {
            return Ok(());
        }
    }
    Err(Trouble::odd(format!("sixty tabs do not reach `{css}`")))
}

#[test]
#[ignore = "needs chromium: cargo xtask test"]
fn a_recipe_by_keys_alone() -> Result<(), Trouble> {
    at_both(|browser, program| {
        browser.go(&program.url("/"))?;
        browser.ask("document.activeElement.blur(); window.getSelection().removeAllRanges()", Vec::new())?;
        tab_to(browser, "#told")?;
        browser.press("250 g chalk, 14 g hide glue, 200 ml water")?;
        browser.press(TAB)?;
        let at = browser.ask("return document.activeElement.matches('form.tell button.main')", Vec::new())?;
        assert_eq!(at, true, "the button comes right after the box");
        browser.press(ENTER)?;
        browser.arrive("/recipe")?;
        assert!(browser.text("#sentence")?.to_lowercase().contains("usual"));

        // On to the figures, one of which is opened.
        tab_to(browser, "details.figures > summary")?;
        browser.press(ENTER)?;
        browser.wait_until("document.querySelector('details.figures').open")?;
        tab_to(browser, "#figure-pvc > summary")?;
        browser.press(SPACE)?;
        browser.wait_until("document.querySelector('#figure-pvc').open")
    })
}

#[test]
#[ignore = "needs chromium: cargo xtask test"]
fn the_first_tab_skips_to_the_page() -> Result<(), Trouble> {
    at_both(|browser, program| {
        browser.go(&program.url("/jars"))?;
        browser.press(TAB)?;
        assert_eq!(browser.ask("return document.activeElement.getAttribute('href')", Vec::new())?, "#main");
        browser.press(ENTER)?;
        browser.wait_until("document.activeElement.id === 'main'")
    })
}

#[test]
#[ignore = "needs chromium: cargo xtask test"]
fn a_failed_board_by_keys_alone() -> Result<(), Trouble> {
    at_both(|browser, program| {
        browser.go(&program.url("/failed"))?;
        // Tab comes to the answer taken, which is "skip"; the arrows walk on to the others.
        tab_to(browser, "input[name='tap.when']")?;
        browser.press(DOWN)?;
        browser.wait_until("document.querySelector('input[name=\"tap.when\"]:checked').value !== ''")?;
        browser.wait_until("document.querySelector('#verdict .sentence')")
    })
}
