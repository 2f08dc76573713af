//! From milk to a jar of known strength, step by step, without typing more than the scale and the paper say.

use acceptance::{Browser, Program, Trouble};

use crate::{at_both, count};

/// Begins the jar from the forecast and returns its address.
fn begin(browser: &Browser, program: &Program, name: &str) -> Result<String, Trouble> {
    browser.go(&program.url("/binder"))?;
    for (field, text) in [("milk", "1 litre of skim milk"), ("acids", "white vinegar 5 %"), ("base", "baking soda")] {
        browser.fill(&format!("main form.tell input[name='{field}']"), text)?;
    }
    browser.follow("main form.tell button.main")?;
    browser.fill("#begin input[name='name']", name)?;
    browser.follow("#begin button.main")?;
    let path = browser.ask("return location.pathname", Vec::new())?;
    Ok(path.as_str().unwrap_or("").to_owned())
}

fn measure(browser: &Browser, what: &str, value: &str) -> Result<(), Trouble> {
    browser.ask("document.querySelector('#more').open = true", Vec::new())?;
    let form = format!("#now form:has(input[value='{what}']), #more form:has(input[value='{what}'])");
    browser.ask(
        "const form = document.querySelector(arguments[0]); form.elements.value.value = arguments[1]; form.dataset.chosen = 'yes'",
        vec![form.into(), value.into()],
    )?;
    browser.follow("form[data-chosen] button")
}

/// Says of each step until this one that it is done.
fn go_on_until(browser: &Browser, wanted: &str) -> Result<(), Trouble> {
    for _ in 0..12 {
        let step = browser.ask("return document.querySelector('#now input[name=step]')?.value ?? ''", Vec::new())?;
        if step == wanted {
            return Ok(());
        }
        browser.follow("#now form[action$='/step'] button.main")?;
    }
    Err(Trouble::odd(format!("no step {wanted} on this road")))
}

#[test]
#[ignore = "needs chromium: cargo xtask test"]
fn a_litre_of_milk_becomes_a_jar_of_known_strength() -> Result<(), Trouble> {
    at_both(|browser, program| {
        let jar = begin(browser, program, "Heron")?;
        // The next thing is said first, with its amount: a litre takes about 95 mmol of acetic acid and more for what the vinegar thins, so
        // well over 100 ml of 5 % vinegar (0.833 mol/l).
        let next = browser.text("#next")?;
        assert!(next.contains("acid") && next.contains("ml"), "{next}");
        assert!(browser.text("#strength")?.contains("forecast from the milk"));
        assert!(browser.text("#now .mind")?.to_lowercase().contains("bleach"));

        // pH paper moves the forecast, and it is said from where to where.
        browser.ask("document.querySelector('#now form:has(input[value=ph])').elements.more.value = '80 ml vinegar 5 %'", Vec::new())?;
        browser.fill("#now form:has(input[value='ph']) input[name='value']", "5.0")?;
        browser.fill("#now form:has(input[value='ph']) input[name='slack']", "0.1")?;
        browser.follow("#now form:has(input[value='ph']) button")?;
        let learned = browser.text("#learned")?;
        assert!(learned.contains("moved") && learned.contains(" to "), "{learned}");

        // A step that waits shows its clock.
        browser.follow("#now form[action$='/step'] button.main")?;
        let wait = browser.text("#next")?;
        assert!(wait.starts_with("Let it stand") && wait.contains("between"), "{wait}");
        assert!(browser.text(".timer")?.contains("min to go"));
        assert!(browser.text("#then")?.starts_with("Then: "));

        // The scale and the dishes replace the forecast: 100 g of curd at 0.25 is 25 g of dry casein.
        go_on_until(browser, "weigh")?;
        measure(browser, "curd_weight", "100")?;
        assert!(browser.text("#strength")?.contains("your curd was weighed"));
        measure(browser, "dishes", "10:2.5, 20:5")?;
        assert!(browser.text("#strength")?.contains("your dishes were dried"));
        let dry = browser.ask("return document.querySelector('#figure-jar_dry .value').textContent", Vec::new())?;
        assert!(dry.as_str().is_some_and(|dry| dry.starts_with("25")), "{dry}");

        // Taken back, the forecast stands again; written again, it is known again.
        browser.ask("for (const each of document.querySelectorAll('details.back')) each.open = true", Vec::new())?;
        browser.follow("#measured .own:first-of-type details.back button")?;
        browser.go(&program.url(&jar))?;
        assert!(browser.text("#strength")?.contains("your curd was weighed"));
        measure(browser, "dishes", "10:2.5, 20:5")?;

        // 0.55 milliequivalents a gram: 25 x 0.55 x 0.084 = 1.155 g, written 1.16 of baking soda to begin with.
        go_on_until(browser, "dissolve")?;
        let open = browser.text("#next")?;
        let waits = browser.ask("return document.querySelector('#then')?.textContent ?? ''", Vec::new())?;
        let said = format!("{open} {waits}");
        assert!(said.contains("1.16") && said.contains("baking soda"), "{said}");
        measure(browser, "base_added", "1.2 g baking soda")?;
        go_on_until(browser, "use")?;
        let keeps = browser.text("#keeps")?.to_lowercase();
        assert!(keeps.contains("day it is made"), "{keeps}");

        // The recipe that names it knows its water.
        browser.follow("#recipe form button")?;
        let card = browser.text("main")?;
        assert!(card.contains("Heron"), "{card}");
        assert!(count(browser, "#figure-lambda, .figures")? > 0);

        // Where two jars are named, none is chosen: it is asked.
        let other = begin(browser, program, "Plover")?;
        browser.go(&program.url("/"))?;
        browser.fill("#told", "50 g casein binder, jar Heron, 50 g casein binder, jar Plover, 120 g chalk")?;
        browser.follow("#tell button.main")?;
        let asks = browser.text("#two-jars")?;
        assert!(asks.contains("Heron") && asks.contains("Plover") && asks.contains("Name one only"), "{asks}");
        browser.go(&program.url(&other))?;
        browser.ask("for (const each of document.querySelectorAll('details')) each.open = true", Vec::new())?;
        browser.follow("form[action$='/close'] button")?;

        // Used up, it is closed, and takes nothing more.
        browser.go(&program.url(&jar))?;
        browser.ask("for (const each of document.querySelectorAll('details')) each.open = true", Vec::new())?;
        browser.follow("form[action$='/close'] button")?;
        assert!(browser.text("#next")?.contains("closed"));
        assert_eq!(count(browser, "#now")?, 0);
        browser.go(&program.url("/binders"))?;
        assert!(browser.text("main")?.contains("used up or gone (2)"));
        Ok(())
    })
}

#[test]
#[ignore = "needs chromium: cargo xtask test"]
fn what_can_not_be_is_refused_with_the_mend() -> Result<(), Trouble> {
    at_both(|browser, program| {
        let jar = begin(browser, program, "Heron")?;
        for (what, value, mend) in [
            ("curd_weight", "5000", "more than the milk"),
            ("curd_weight", "-3", "above zero"),
            ("dishes", "10:25", "dry"),
            ("dishes", "ten", "10.2:2.5"),
            ("ph", "19", "1 to 14"),
            ("contents", "much", "880"),
        ] {
            browser.go(&program.url(&jar))?;
            measure(browser, what, value)?;
            let said = browser.text("main")?;
            assert!(said.contains(mend), "{what} {value}: {said}");
            // The browser counts the answer 422 as a complaint; here it is what is wanted.
            assert_eq!(browser.complaints()?.iter().filter(|line| line.contains("422")).count(), 1, "{what} {value}");
        }
        browser.go(&program.url(&jar))?;
        assert_eq!(count(browser, "#measured")?, 0, "what was refused was written down");
        // A name that a recipe would weigh out.
        browser.go(&program.url("/binders"))?;
        browser.ask("for (const each of document.querySelectorAll('details')) each.open = true", Vec::new())?;
        for (field, text) in [("name", "5 g chalk"), ("milk", "1 l skim milk")] {
            browser.fill(&format!("form:has(input[name='road'][value='curd']) input[name='{field}']"), text)?;
        }
        browser.follow("form:has(input[name='road'][value='curd']) button.main")?;
        assert!(browser.text("main")?.contains("name of its own"));
        assert_eq!(browser.complaints()?.iter().filter(|line| line.contains("422")).count(), 1);
        Ok(())
    })
}
