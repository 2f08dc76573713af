//! The same pages with scripts switched off: forms do the work.

use acceptance::Trouble;

use crate::{at_both, count};

#[test]
#[ignore = "needs chromium: cargo xtask test"]
fn every_door_works_without_scripts() -> Result<(), Trouble> {
    at_both(|browser, program| {
        browser.without_scripts(true)?;
        browser.go(&program.url("/"))?;
        browser.type_into("#told", "2 cups of whiting, 15 g rabbit skin glue, 210 ml water")?;
        assert_eq!(browser.ask("return document.querySelector('#verdict').innerHTML", Vec::new())?, "", "scripts are off indeed");
        browser.follow("main form.tell button.main")?;
        assert!(!browser.text("#sentence")?.is_empty());
        browser.click("input[name='choose.unit:cup'][value='uk']")?;
        browser.follow("#recipe-form button.main")?;
        assert_eq!(count(browser, "input[name='choose.unit:cup'][value=uk]:checked")?, 1, "the answer is kept");

        browser.go(&program.url("/failed"))?;
        for (tap, answer) in [("when", "days later"), ("looks", "network of cracks"), ("rubs", "no")] {
            browser.click(&format!("input[name='tap.{tap}'][value='{answer}']"))?;
        }
        browser.follow("main form.tell button.main")?;
        let kept = browser.ask("return document.querySelectorAll('input[name^=\"tap.\"]:checked:not([value=\"\"])').length", Vec::new())?;
        assert_eq!(kept, 3, "the taps are kept");

        browser.go(&program.url("/milk"))?;
        browser.follow("main form.tell button.main")?;

        browser.go(&program.url("/beside"))?;
        browser.fill("#told", "100 g chalk, 10 g hide glue, 100 g water")?;
        browser.fill("#told-2", "100 g chalk, 5 g hide glue, 100 g water")?;
        browser.follow("main form.tell button.main")?;
        assert!(browser.text("h1.sentence")?.contains("leaner"));
        Ok(())
    })
}
