//! The example's jar of binder on the page of what is to be done now.

use acceptance::Trouble;

use crate::{at_both, count};

#[test]
#[ignore = "needs chromium: cargo xtask test"]
fn now_says_how_long_the_jar_keeps_and_leads_to_it() -> Result<(), Trouble> {
    at_both(|browser, program| {
        browser.go(&program.url("/"))?;
        if count(browser, "form[action='/example'] button")? > 0 {
            browser.follow("form[action='/example'] button")?;
        }
        browser.go(&program.url("/now"))?;
        let jar = browser.text("main a.line[href^='/binder/']")?;
        assert!(jar.contains("Jar Tern: ") && jar.contains("tomorrow if cold and clean"), "{jar}");
        Ok(())
    })
}
