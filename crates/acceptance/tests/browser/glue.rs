//! Glue for gesso, and a pot that stood warm.

use acceptance::Trouble;

use crate::at_both;

#[test]
#[ignore = "needs chromium: cargo xtask test"]
fn glue_is_brought_to_gesso_and_the_pot_back_to_its_strength() -> Result<(), Trouble> {
    at_both(|browser, _| {
        browser.follow("a.door[href='/glue']")?;
        browser.fill("input[name='glue']", "70 g rabbit skin glue")?;
        browser.fill("input[name='water']", "1 l")?;
        browser.follow("main form.tell button.main")?;
        // 70 / 1070 = 6.54 %.
        assert!(browser.text("h1")?.contains("6.54"), "{}", browser.text("h1")?);

        // Its formula is two taps away.
        browser.click("details.figures > summary")?;
        browser.click("#figure-glue_share > summary")?;
        assert!(browser.text("#figure-glue_share")?.contains("dry glue ÷"));

        // Three hours later 1030 g are left: 40 g of water have gone, and 40 g bring it back.
        browser.click("form.tell details > summary")?;
        browser.fill("textarea[name='log']", "9:00 1070 g\n12:00 1030 g")?;
        browser.follow("main form.tell button.main")?;
        assert!(browser.text("h1")?.contains("40"), "{}", browser.text("h1")?);
        let pot = browser.text("#pot")?;
        assert!(pot.contains("40") && pot.contains("6.80"), "{pot}");

        // A coat at nine takes glue at 70 / 1070 = 6.54 %, one at noon at 6.54 x 970 / 900 = 7.05 %: stronger than the one beneath.
        browser.fill("textarea[name='log']", "9:00 1070 g\ntook 100 g\n9:10 970 g\n12:00 900 g\ntook 50 g\n12:10 850 g")?;
        browser.follow("main form.tell button.main")?;
        let coats = browser.text("#coats")?;
        assert!(coats.contains("6.54") && coats.contains("7.05") && coats.contains("stronger"), "{coats}");
        Ok(())
    })
}

#[test]
#[ignore = "needs chromium: cargo xtask test"]
fn leaves_of_gelatine_are_asked_for_their_weight() -> Result<(), Trouble> {
    at_both(|browser, program| {
        browser.go(&program.url("/glue"))?;
        browser.fill("input[name='glue']", "12 leaves of gelatine")?;
        browser.fill("input[name='water']", "400 ml")?;
        browser.follow("main form.tell button.main")?;
        assert!(browser.text("#asked")?.contains("weigh"));

        // A size without its strength is refused, and what was typed stays.
        browser.fill("input[name='glue']", "500 ml glue size")?;
        browser.follow("main form.tell button.main")?;
        assert!(browser.text("[role=alert]")?.contains("how strong"));
        let kept = browser.ask("return document.querySelector('input[name=water]').value", Vec::new())?;
        assert_eq!(kept, "400 ml");
        // The status of the answer is in the console by the browser's own doing.
        let complaints = browser.complaints()?;
        assert!(complaints.iter().all(|line| line.contains("422")), "{complaints:?}");
        Ok(())
    })
}
