//! A day of the example's closed plan: worked out, made too short, mended by a way out, and its sheets.

use acceptance::{Browser, Program, Trouble};

use crate::{at_both, count};

/// The newest trial of the example: its plan is closed and nothing is laid.
fn newest(browser: &Browser, program: &Program) -> Result<String, Trouble> {
    browser.go(&program.url("/"))?;
    browser.follow("form[action='/example'] button")?;
    browser.go(&program.url("/trials"))?;
    let address = browser.ask("return document.querySelector('.jars a').getAttribute('href')", Vec::new())?;
    address.as_str().map(str::to_owned).ok_or_else(|| Trouble::odd("the example has no trial"))
}

/// Status, first bytes and kind of a file, fetched as the browser would.
fn fetched(browser: &Browser, path: &str) -> Result<(u64, String), Trouble> {
    let script = "const done = arguments[1];
        fetch(arguments[0]).then(async (answer) => done([answer.status, (await answer.text()).slice(0, 5)])).catch((why) => done([0, String(why)]));";
    let answer = browser.ask_later(script, vec![path.into()])?;
    Ok((answer[0].as_u64().unwrap_or(0), answer[1].as_str().unwrap_or("").to_owned()))
}

#[test]
#[ignore = "needs chromium: cargo xtask test"]
fn a_day_is_worked_out_and_made_to_fit() -> Result<(), Trouble> {
    at_both(|browser, program| {
        let trial = newest(browser, program)?;
        browser.go(&program.url(&trial))?;
        browser.follow("a[href$='/day/1']")?;
        assert_eq!(browser.text("h1")?, "Day 1: what when?");
        // A long day first; pots that grow too old are mixed small where the page says so.
        browser.fill("input[type=text][name=from]", "6:00")?;
        browser.fill("input[type=text][name=to]", "23:30")?;
        browser.follow("form[action$='/day/1'] button")?;
        for _ in 0..4 {
            if count(browser, "#ways a.button")? > 0 {
                browser.follow("#ways a.button")?;
            }
        }
        let next = browser.text("p.sentence")?;
        assert!(next.starts_with("Begin at "), "{next}");
        assert!(count(browser, "#steps li")? > 6, "steps of the day");
        assert!(count(browser, "#shopping li")? > 3, "what to buy");
        assert_eq!(count(browser, "#ways li")?, 0, "a day that fits needs no way out");
        assert_eq!(count(browser, "form[action$='/begin'] button.main")?, 1);

        // Two hours are too short for it.
        browser.fill("input[type=text][name=from]", "9:00")?;
        browser.fill("input[type=text][name=to]", "11.00")?;
        browser.follow("form[action$='/day/1'] button")?;
        let next = browser.text("p.sentence")?;
        assert!(next.starts_with("It does not fit: it lasts ") && next.contains("Cheapest way out: "), "{next}");
        assert!(count(browser, "#ways li")? >= 2, "ways out");
        assert!(count(browser, "#steps li")? > 6, "the long day is shown all the same");

        // The first way out makes it fit, and its address says what was changed.
        browser.follow("#ways a.button")?;
        let next = browser.text("p.sentence")?;
        assert!(next.starts_with("Begin "), "{next}");
        let sheets = browser.ask("return document.querySelector('a[href*=\"sheets.pdf\"]').getAttribute('href')", Vec::new())?;
        let sheets = sheets.as_str().ok_or_else(|| Trouble::odd("no sheets"))?.to_owned();
        assert!(sheets.contains("from="), "{sheets}");
        assert_eq!(fetched(browser, &sheets)?, (200, "%PDF-".to_owned()));
        Ok(())
    })
}

#[test]
#[ignore = "needs chromium: cargo xtask test"]
fn a_recipe_becomes_a_day_without_a_trial() -> Result<(), Trouble> {
    at_both(|browser, program| {
        browser.go(&program.url("/"))?;
        browser.type_into("#told", "15 g hide glue, 210 g water, 320 g whiting, 2 coats")?;
        browser.follow("main form.tell button.main")?;
        browser.click(".make summary")?;
        browser.fill("input[type=text][name=boards]", "6")?;
        browser.follow("button[formaction='/recipe/day']")?;
        assert_eq!(browser.text("h1")?, "Making it: what when?");
        assert!(browser.text("#shopping")?.contains("hide glue"));
        assert_eq!(count(browser, "form[action='/recipe/day.pdf'] button")?, 1);
        // Silly hours are refused with a time that would be right.
        browser.fill("input[type=text][name=from]", "noon")?;
        browser.follow("form[action='/recipe/day']:has(input[type=text]) button[type=submit]")?;
        assert!(browser.text("main")?.contains("write it like 9:00"), "{}", browser.text("main")?);
        browser.complaints()?;
        Ok(())
    })
}
