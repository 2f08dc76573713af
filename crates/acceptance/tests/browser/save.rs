//! A pot that is not right, and whether a powder curdles a binder.

use acceptance::{Browser, Program, Trouble};

use crate::at_both;

fn tell(browser: &Browser, program: &Program, told: &str, sight: &str, weighs: &str) -> Result<(), Trouble> {
    browser.go(&program.url("/save"))?;
    browser.ask("document.querySelector('main select[name=sight]').value = arguments[0]", vec![sight.into()])?;
    browser.fill("main textarea", told)?;
    browser.fill("main input[name='weighs']", weighs)?;
    browser.follow("main form.tell button.main")
}

#[test]
#[ignore = "needs chromium: cargo xtask test"]
fn a_thick_pot_gets_its_water_and_one_that_sets_gets_none() -> Result<(), Trouble> {
    at_both(|browser, program| {
        browser.go(&program.url("/"))?;
        browser.follow("a.door[href='/save']")?;
        // By hand: 40 + 16 + 300 + 250 = 606 g went in, 586 g are left: 20 g of water went into the air.
        tell(browser, program, "40 g casein, 16 g borax, 300 g chalk, 250 g water", "thick", "586")?;
        assert!(browser.text("h1")?.contains("20 g of water"));
        // Plaster that thickens is setting: water would hide it.
        tell(browser, program, "40 g rabbit skin glue, 300 g plaster of paris, 250 g water", "thick", "570")?;
        assert!(browser.text("h1")?.contains("put no water in"));
        assert!(browser.text("main")?.contains("burn"));
        Ok(())
    })
}

#[test]
#[ignore = "needs chromium: cargo xtask test"]
fn what_can_not_be_saved_or_read_is_said() -> Result<(), Trouble> {
    at_both(|browser, program| {
        for (told, sight, weighs, mend) in [
            ("40 g casein, 300 g chalk, 250 g water", "", "586", "choose what you see"),
            ("40 g casein, 300 g chalk, 250 g water", "thick", "much", "like"),
            ("40 g casein, 300 g chalk, 250 g water", "thick", "-5", "above"),
        ] {
            tell(browser, program, told, sight, weighs)?;
            let said = browser.text("main [role=alert]")?;
            assert!(said.contains(mend), "{sight} {weighs}: {said}");
            let kept = browser.ask("return document.querySelector('main textarea').value", Vec::new())?;
            assert_eq!(kept, told);
            assert_eq!(browser.complaints()?.iter().filter(|line| line.contains("422")).count(), 1);
        }
        Ok(())
    })
}

#[test]
#[ignore = "needs chromium: cargo xtask test"]
fn a_powder_and_a_binder_are_known_or_tried_in_a_jar() -> Result<(), Trouble> {
    at_both(|browser, program| {
        browser.go(&program.url("/goes?powder=gypsum&binder=soda-casein"))?;
        assert!(browser.text("h1")?.contains("curdles"));
        assert!(browser.text("main")?.contains("The jar test"));
        browser.go(&program.url("/goes?powder=nothing&binder=soda-casein"))?;
        assert!(browser.text("main")?.contains("powder"));
        assert_eq!(browser.complaints()?.iter().filter(|line| line.contains("422")).count(), 1);
        Ok(())
    })
}

#[test]
#[ignore = "needs chromium: cargo xtask test"]
fn a_pot_that_is_worked_from_is_the_same_for_the_last_board_or_not() -> Result<(), Trouble> {
    at_both(|browser, program| {
        // From the card, with the recipe that stands there.
        browser.go(&program.url("/"))?;
        browser.fill("#told", "100 g natural chalk, 10 g hide glue, 100 g water")?;
        browser.follow("main form.tell button.main")?;
        browser.follow("button[formaction='/even']")?;
        // By hand: chalk of 3.2 um in a binder as thin as milk sinks a twentieth of 6 cm in half an hour.
        assert!(browser.text("h1")?.contains("stir before each board"), "{}", browser.text("h1")?);
        assert!(browser.text("main")?.contains("130 to 260"));
        browser.ask("document.querySelector('main select[name=binder]').value = 'honey'", Vec::new())?;
        browser.follow("main form.tell button.main")?;
        assert!(browser.text("h1")?.starts_with("Likely yes"), "{}", browser.text("h1")?);
        browser.fill("main input[name='minutes']", "soon")?;
        browser.follow("main form.tell button.main")?;
        assert!(browser.text("main [role=alert]")?.contains("no number"));
        browser.complaints()?;
        Ok(())
    })
}
