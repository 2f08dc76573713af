//! A failed board, tapped to a cause, and to causes that can't be told apart.

use acceptance::{Browser, Program, Trouble};
use trials::causes::{CauseBook, Evidence, NextStep};

use crate::{at_both, count, live};

/// A fine net days later in a hard coat: nothing but too much binder fits (the arithmetic is checked by hand in `trials`).
const FINE_NET: [(&str, &str); 8] = [
    ("when", "days later"),
    ("looks", "network of cracks"),
    ("boards", "all of this recipe, control sound"),
    ("where", "all over"),
    ("rubs", "no"),
    ("broke", "in the coat"),
    ("heat", "no"),
    ("pot", "smooth"),
];

/// Lines along the grain on the control as well: veneer or wood, three to one, which is not enough to tell.
const ALONG_THE_GRAIN: [(&str, &str); 6] = [
    ("when", "after damp or dry weather"),
    ("looks", "cracks along the grain"),
    ("boards", "control failed too"),
    ("where", "all over"),
    ("broke", "in the coat"),
    ("heat", "no"),
];

fn tap_all(browser: &Browser, program: &Program, taps: &[(&str, &str)]) -> Result<(), Trouble> {
    browser.go(&program.url("/failed"))?;
    for (tap, answer) in taps {
        browser.click(&format!("input[name='tap.{tap}'][value='{answer}']"))?;
    }
    Ok(())
}

/// The causes' own names, whatever they are called today.
fn name(cause: &str) -> Result<String, Trouble> {
    let book = CauseBook::builtin().map_err(|why| Trouble::odd(why.to_string()))?;
    let found = book.causes().iter().find(|each| each.id.as_str() == cause);
    Ok(found.ok_or_else(|| Trouble::odd(format!("no cause {cause}")))?.name.clone())
}

#[test]
#[ignore = "needs chromium: cargo xtask test"]
fn taps_lead_to_one_cause() -> Result<(), Trouble> {
    at_both(|browser, program| {
        tap_all(browser, program, &FINE_NET)?;
        live(browser, &name("C01")?)?;
        browser.wait_until("document.querySelectorAll('#verdict details.cause[open]').length === 1")?;
        assert!(browser.text("#verdict .sentence")?.contains(&name("C01")?));
        // What speaks for it, with the painter's own answer among the reasons.
        assert!(browser.text("#verdict details.cause[open]")?.contains("network of cracks"));
        Ok(())
    })
}

#[test]
#[ignore = "needs chromium: cargo xtask test"]
fn taps_that_can_not_tell_name_the_test_that_would() -> Result<(), Trouble> {
    let book = CauseBook::builtin().map_err(|why| Trouble::odd(why.to_string()))?;
    let evidence = ALONG_THE_GRAIN.iter().fold(Evidence::default(), |evidence, (tap, answer)| evidence.tap(tap, answer));
    let judgement = book.judge(&evidence).map_err(|why| Trouble::odd(why.to_string()))?;
    let Some(NextStep::Test(test)) = judgement.next else { return Err(Trouble::odd("no test parts these two")) };
    at_both(|browser, program| {
        tap_all(browser, program, &ALONG_THE_GRAIN)?;
        live(browser, &test.text)?;
        let sentence = browser.text("#verdict .sentence")?;
        assert!(sentence.contains(&name("C06")?) && sentence.contains(&name("C07")?), "{sentence}");
        assert!(count(browser, "#verdict details.cause[open]")? >= 2, "no cause is hidden behind the other");
        // The button says the same as the taps.
        browser.follow("main form.tell button.main")?;
        live(browser, &test.text)
    })
}

#[test]
#[ignore = "needs chromium: cargo xtask test"]
fn three_taps_are_asked_for_before_anything_is_named() -> Result<(), Trouble> {
    at_both(|browser, program| {
        tap_all(browser, program, &FINE_NET[..2])?;
        browser.wait_until("document.querySelector('#verdict .sentence')")?;
        assert_eq!(count(browser, "#verdict details.cause")?, 0);
        Ok(())
    })
}
