//! From three recipes of three books to a fourth that is wished for, and from it to five panels.

use acceptance::Trouble;

use crate::{at_both, count};

#[test]
#[ignore = "needs chromium: cargo xtask test"]
fn a_fourth_recipe_for_five_panels() -> Result<(), Trouble> {
    at_both(|browser, program| {
        // Three recipes as they stand in the books, the third a casein ground with borax.
        browser.go(&program.url("/books"))?;
        let told = |at: usize| -> Result<String, Trouble> {
            let asked = format!("return [...document.querySelectorAll('.book input[name=told]')][{at}].value");
            Ok(browser.ask(&asked, Vec::new())?.as_str().unwrap_or("").to_owned())
        };
        let (first, second) = (told(0)?, told(1)?);
        let third = "100 g casein powder, 20 g borax, 700 g water, 600 g chalk";
        browser.go(&program.url("/beside"))?;
        browser.fill("#told", &first)?;
        browser.fill("#told-2", &second)?;
        browser.follow("main form.tell button.main")?;
        assert!(!browser.text("h1.sentence")?.is_empty());
        // All three on one rule and in one window.
        browser.follow("button[formaction='/window']")?;
        browser.fill("#told-3", &first)?;
        browser.fill("#told", third)?;
        browser.follow("main form.tell button.main")?;
        assert_eq!(count(browser, "#rule svg")?, 1, "one rule");
        assert_eq!(count(browser, "article.card")?, 3);
        assert!(count(browser, "article.card figure svg")? >= 2, "pictures of binder against thickness");

        // A fourth like the one with borax: usual, from the shelf, without borax.
        browser.follow("button[formaction='/wish']")?;
        assert_eq!(browser.ask("return document.querySelector('#told').value", Vec::new())?, third, "the recipe came along");
        browser.fill("input[name='without']", "borax")?;
        browser.fill("input[name='spoons']", "us")?;
        browser.fill("#at-hand", "2 kg chalk\n300 g casein powder\nbaking soda\ngypsum\ntalc")?;
        browser.follow("#wish button.main")?;
        let sentence = browser.text("#sentence")?;
        assert!(sentence.starts_with("Weigh ") && !sentence.contains("borax") && !sentence.contains("talc"), "{sentence}");
        let recipe = browser.ask("return document.querySelector('#recipe').value", Vec::new())?;
        let recipe = recipe.as_str().unwrap_or("").to_owned();
        assert!(recipe.contains("baking soda") && recipe.lines().count() == 4, "{recipe}");
        assert!(browser.text("#wish-verdict")?.starts_with("Usual"), "the ordinary verdict says so");
        assert!(count(browser, "main section.mind")? == 1, "cautions stand beside it");

        // Five panels of it.
        browser.follow("form[action='/enlarge'] button.main")?;
        assert_eq!(browser.ask("return document.querySelector('#told').value", Vec::new())?, recipe, "the recipe came along");
        browser.fill("#panels", "5 x 60x80cm")?;
        browser.fill("input[name='sheet']", "122x244cm")?;
        browser.follow("#enlarge button.main")?;
        // 5 x 0.48 m2 x 4 coats x 200 g/m2 and a fifth of loss: 2304 g.
        let sentence = browser.text("#sentence")?;
        assert!(sentence.starts_with("Mix ") && sentence.contains("2304"), "{sentence}");
        let list = browser.text("#buy")?;
        assert!(list.contains("casein powder") && list.contains("chalk") && !list.contains("borax"), "{list}");
        assert!(count(browser, "#cuts li")? >= 5, "five panels out of a sheet");
        Ok(())
    })
}
