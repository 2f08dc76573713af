//! Two recipes of the books, one beside the other.

use acceptance::Trouble;

use crate::{at_both, count};

#[test]
#[ignore = "needs chromium: cargo xtask test"]
fn two_recipes_of_the_books() -> Result<(), Trouble> {
    at_both(|browser, program| {
        browser.go(&program.url("/books"))?;
        let second = browser.ask("return document.querySelectorAll('.book input[name=told]')[1].value", Vec::new())?;
        let second = second.as_str().unwrap_or("").to_owned();
        assert!(!second.is_empty());

        // The first is opened and shown as a card, and from there put beside another.
        browser.click(".book:has(input[name=told]) > summary")?;
        browser.follow(".book:has(input[name=told]) form button")?;
        let first = browser.ask("return document.querySelector('#told').value", Vec::new())?;
        browser.follow("button[formaction='/beside']")?;
        assert_eq!(browser.ask("return document.querySelector('#told').value", Vec::new())?, first, "the first came along");

        browser.fill("#told-2", &second)?;
        browser.follow("main form.tell button.main")?;
        let sentence = browser.text("h1.sentence")?;
        assert!(!sentence.is_empty());
        let places = browser.ask("return document.querySelector('main figure svg').textContent", Vec::new())?;
        assert!(["first", "second"].iter().all(|name| places.as_str().unwrap_or("").contains(name)), "both on one rule: {places}");
        assert!(count(browser, "article.card svg")? >= 1);
        Ok(())
    })
}
