//! What a page must never do.

use acceptance::Trouble;

use crate::{at_both, live};

#[test]
#[ignore = "needs chromium: cargo xtask test"]
fn markup_in_a_recipe_is_words_and_runs_nowhere() -> Result<(), Trouble> {
    at_both(|browser, _| {
        let told = "100 g chalk <img src=x onerror=\"window.hurt=1\"> <script>window.hurt=1</script> 9 g hide glue <b>100 g water</b>";
        browser.type_into("#told", told)?;
        live(browser, "onerror")?;
        browser.follow("main form.tell button.main")?;
        assert_eq!(browser.ask("return document.querySelector('.recipe .told').textContent", Vec::new())?, told);
        assert_eq!(browser.ask("return window.hurt ?? null", Vec::new())?, serde_json::Value::Null);
        assert_eq!(browser.ask("return document.querySelectorAll('main img, main script, main b').length", Vec::new())?, 0);
        Ok(())
    })
}

#[test]
#[ignore = "needs chromium: cargo xtask test"]
fn a_whole_book_in_the_box_is_refused_with_a_sentence() -> Result<(), Trouble> {
    at_both(|browser, program| {
        for size in [70_000, 3_000_000] {
            browser.go(&program.url("/"))?;
            let fill = "document.querySelector('#told').value = 'chalk '.repeat(arguments[0] / 6)";
            browser.ask(fill, vec![size.into()])?;
            browser.follow("main form.tell button.main")?;
            assert!(browser.text("main")?.contains("64 kB"), "{size}");
        }
        let complaints = browser.complaints()?;
        assert!(complaints.iter().all(|line| line.contains("413") || line.contains("422")), "{complaints:?}");
        Ok(())
    })
}

#[test]
#[ignore = "needs chromium: cargo xtask test"]
fn pages_fetch_from_their_own_program_alone() -> Result<(), Trouble> {
    at_both(|browser, program| {
        for path in ["/", "/failed", "/milk", "/glue", "/beside", "/jars", "/jars/natural-chalk", "/boards", "/books"] {
            browser.go(&program.url(path))?;
            let fetched = browser.ask("return performance.getEntriesByType('resource').map(e => e.name)", Vec::new())?;
            for address in fetched.as_array().into_iter().flatten() {
                assert!(address.as_str().is_some_and(|address| address.starts_with(&program.url("/"))), "{path}: {address}");
            }
        }
        Ok(())
    })
}
