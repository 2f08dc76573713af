//! A binder from what is in the fridge.

use acceptance::{Browser, Program, Trouble};

use crate::at_both;

const KITCHEN: [(&str, &str); 3] =
    [("milk", "1 litre of skim milk"), ("acids", "two lemons, a bottle of vinegar"), ("base", "baking soda")];

fn tell(browser: &Browser, program: &Program, fields: &[(&str, &str)]) -> Result<(), Trouble> {
    browser.go(&program.url("/binder"))?;
    browser.ask("for (const each of document.querySelectorAll('details')) each.open = true", Vec::new())?;
    for (field, text) in fields {
        browser.fill(&format!("input[name='{field}']"), text)?;
    }
    browser.follow("main form.tell button.main")
}

#[test]
#[ignore = "needs chromium: cargo xtask test"]
fn two_lemons_a_bottle_of_vinegar_and_baking_soda() -> Result<(), Trouble> {
    at_both(|browser, program| {
        browser.go(&program.url("/"))?;
        browser.follow("a.door[href='/binder']")?;
        for (field, text) in KITCHEN {
            browser.fill(&format!("input[name='{field}']"), text)?;
        }
        browser.follow("main form.tell button.main")?;
        // Two lemons for a litre is just about it: 45 ml of juice at 48 g/l is 2.16 g each, and a litre takes 4.03 g (1.87 lemons).
        let sentence = browser.text("#sentence")?;
        assert!(sentence.contains("lemons") && sentence.contains("1.9") && !sentence.starts_with("No"), "{sentence}");
        // A bottle without its size is asked for, not guessed.
        assert!(browser.text("#questions")?.contains("a bottle of vinegar"));
        let svg = browser.ask("return document.querySelector('main figure svg desc').textContent", Vec::new())?;
        assert!(svg.as_str().is_some_and(|words| words.contains("Most casein")), "{svg}");
        assert!(browser.text("#opening")?.contains("baking soda"));
        assert!(browser.text("#rinses")?.contains("rinse"));
        // What was told is still in the form.
        let kept = browser.ask("return document.querySelector('input[name=acids]').value", Vec::new())?;
        assert_eq!(kept, "two lemons, a bottle of vinegar");

        // One lemon is not enough, and the vinegar beside it makes up for it.
        tell(browser, program, &[("milk", "1 litre of skim milk"), ("acids", "one lemon, a bottle of vinegar"), ("base", "borax")])?;
        assert!(browser.text("#sentence")?.starts_with("No"));
        assert!(browser.text("main .lead")?.contains("of vinegar"));
        // Borax never stands alone: the way without it is told beside it.
        assert!(browser.text("#opening")?.contains("Without borax"));
        assert!(browser.text("main .mind")?.contains("European Union"));
        Ok(())
    })
}

#[test]
#[ignore = "needs chromium: cargo xtask test"]
fn paper_and_dishes_move_what_was_only_worked_out() -> Result<(), Trouble> {
    at_both(|browser, program| {
        let told = [
            ("milk", "1 litre of skim milk"),
            ("acids", "120 ml vinegar 5 %"),
            ("base", "baking soda"),
            ("paper-acid", "80 ml vinegar 5 %"),
            ("paper-ph", "5.3"),
            ("dishes", "10:2.4, 12:3.1"),
            ("curd", "120"),
        ];
        tell(browser, program, &told)?;
        let learned = browser.text("#learned")?;
        assert!(learned.contains("from") && learned.contains("to"), "{learned}");
        // By hand: (0.24 + 3.1 / 12) / 2 = 24.9 %; of 120 g it is 29.9 g.
        let dishes = browser.text("#dishes")?;
        assert!(dishes.contains("24.9") && dishes.contains("120"), "{dishes}");
        Ok(())
    })
}

#[test]
#[ignore = "needs chromium: cargo xtask test"]
fn a_slip_is_named_in_a_sentence_and_nothing_is_lost() -> Result<(), Trouble> {
    at_both(|browser, program| {
        let slips = [
            (("milk", "1 litre of oat milk"), "milk"),
            (("milk", "0 litre of skim milk"), "0 litre"),
            (("acids", "100 ml vinegar 80 %"), "label"),
            (("acids", "rennet"), "lime"),
            (("warmth", "-5"), "95 °C"),
            (("rinses", "many"), "50 times"),
            (("dishes", "10"), "10:2.4"),
            (("paper-acid", "80 ml vinegar"), "between 2 and 9"),
        ];
        for ((field, text), says) in slips {
            let mut fields: Vec<(&str, &str)> = KITCHEN.to_vec();
            fields.retain(|(name, _)| *name != field);
            fields.push((field, text));
            tell(browser, program, &fields)?;
            let said = browser.text("[role=alert]")?;
            assert!(said.contains(says), "{field} {text}: {said}");
            let kept = browser.ask("return document.querySelector('input[name=base]').value", Vec::new())?;
            assert_eq!(kept, "baking soda");
        }
        // The status of the answers is in the console by the browser's own doing.
        let complaints = browser.complaints()?;
        assert!(complaints.iter().all(|line| line.contains("422")), "{complaints:?}");
        Ok(())
    })
}

#[test]
#[ignore = "needs chromium: cargo xtask test"]
fn what_instead_of_borax() -> Result<(), Trouble> {
    at_both(|browser, program| {
        browser.go(&program.url("/swap"))?;
        browser.fill("input[name='missing']", "I have no borax")?;
        browser.follow("main form.tell button.main")?;
        // By hand: 10 g x 2 / 381.37 x 84.007 / 1 = 4.41 g of baking soda.
        let table = browser.text("main table")?;
        assert!(table.contains("baking soda") && table.contains("4.41"), "{table}");
        Ok(())
    })
}
