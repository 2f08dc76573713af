//! Milk, one lemon, five boards.

use acceptance::Trouble;

use crate::at_both;

#[test]
#[ignore = "needs chromium: cargo xtask test"]
fn one_lemon_is_too_little_for_two_litres() -> Result<(), Trouble> {
    at_both(|browser, _| {
        browser.follow("a.door[href='/milk']")?;
        for (field, text) in [("milk", "2 l skim milk"), ("acid", "1 lemon"), ("powder", "chalk"), ("boards", "5"), ("size", "20 x 25 cm")]
        {
            browser.fill(&format!("input[name='{field}']"), text)?;
        }
        browser.follow("main form.tell button.main")?;
        let acid = browser.text("main .advice")?;
        assert!(acid.contains("No") && acid.contains("lemon"), "{acid}");

        // Grams, cups or spoons, packs: each in the column that says so.
        let rows = browser
            .ask("return [...document.querySelectorAll('main table tbody tr')].map(r => [...r.cells].map(c => c.innerText))", Vec::new())?;
        let column = |index: usize| {
            rows.as_array().into_iter().flatten().map(|row| row[index].as_str().unwrap_or("").to_owned()).collect::<Vec<_>>().join("|")
        };
        assert!(column(1).contains("\u{a0}g"), "{rows}");
        assert!(["cup", "tsp", "tbsp"].iter().any(|measure| column(2).contains(measure)), "{rows}");
        assert!(column(3).contains('×'), "{rows}");

        // The ground that comes out of it is a recipe like any other.
        browser.follow("main form[action='/recipe'] button")?;
        assert!(browser.text("#sentence")?.to_lowercase().contains("usual"));
        Ok(())
    })
}

#[test]
#[ignore = "needs chromium: cargo xtask test"]
fn a_slip_of_the_hand_is_named_with_its_field_and_nothing_is_lost() -> Result<(), Trouble> {
    at_both(|browser, program| {
        browser.go(&program.url("/milk"))?;
        browser.fill("input[name='boards']", "many")?;
        browser.fill("input[name='milk']", "3 l part-skim milk")?;
        browser.follow("main form.tell button.main")?;
        assert!(browser.text("[role=alert]")?.to_lowercase().contains("boards"));
        let kept = browser.ask("return document.querySelector('input[name=milk]').value", Vec::new())?;
        assert_eq!(kept, "3 l part-skim milk");
        // The status of the answer is in the console by the browser's own doing.
        let complaints = browser.complaints()?;
        assert!(complaints.iter().all(|line| line.contains("422")), "{complaints:?}");
        Ok(())
    })
}
