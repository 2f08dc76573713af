//! A recipe in a painter's own words: live verdict, card, question, figure, picture.

use acceptance::{Browser, Trouble};
use serde_json::Value;

use crate::{at_both, count, live};

/// Made up for the lighthouse's panels. Which cup is meant stays open, so there is something to ask.
const TOLD: &str = "for the tide calendar panels: three cups of chalk, 40 g rabbit skin glue, 600 ml water and a bit of luck";

fn told(browser: &Browser) -> Result<(), Trouble> {
    browser.type_into("#told", TOLD)?;
    browser.follow("main form.tell button.main")
}

#[test]
#[ignore = "needs chromium: cargo xtask test"]
fn from_own_words_to_what_to_weigh() -> Result<(), Trouble> {
    at_both(|browser, _| {
        browser.type_into("#told", TOLD)?;
        live(browser, "three cups")?;
        let said_live = browser.text("#verdict .sentence")?;
        assert_eq!(count(browser, "#verdict svg")?, 1, "the rule while typing");

        browser.follow("main form.tell button.main")?;
        let sentence = browser.text("#sentence")?;
        assert_eq!(sentence, said_live, "the card says what was said while typing");
        assert!(["ich", "sual", "ean"].iter().any(|word| sentence.contains(word)), "{sentence}");

        // The told words all come back, the odd ones among them.
        let back = browser.ask("return document.querySelector('.recipe .told').textContent", Vec::new())?;
        assert_eq!(back.as_str(), Some(TOLD));

        // One question answered: the bar on the rule moves.
        let bar = "return [...document.querySelectorAll('.card .picture svg')].at(-1).outerHTML";
        let before = browser.ask(bar, Vec::new())?;
        browser.click("input[name='choose.unit:cup'][value='uk']")?;
        browser.follow("#recipe-form button.main")?;
        assert_eq!(count(browser, "input[name='choose.unit:cup'][value=uk]:checked")?, 1, "the answer is kept");
        let after = browser.ask(bar, Vec::new())?;
        assert_ne!(before, after, "the bar moves with the cup");

        // A figure opens to its formula and where that comes from.
        browser.click("details.figures > summary")?;
        browser.click("#figure-pvc > summary")?;
        browser.wait_until("document.querySelector('#figure-pvc').open")?;
        let sheet =
            browser.ask("return [...document.querySelectorAll('#figure-pvc dl > dd')].map(dd => dd.innerText.trim())", Vec::new())?;
        let parts = sheet.as_array().map_or(0, |parts| parts.iter().filter(|part| part.as_str() != Some("")).count());
        assert!(parts >= 5, "formula, source, when it holds, when not, inputs: {sheet}");
        let sources =
            browser.ask("return [...document.querySelectorAll('#figure-pvc .inputs .source')].map(s => s.innerText)", Vec::new())?;
        assert!(sources.as_array().is_some_and(|all| !all.is_empty() && all.iter().all(|one| one != "")), "{sources}");

        // What to weigh, in grams.
        let advice = browser.text(".advice")?;
        assert!(advice.contains("\u{a0}g ") || advice.contains(" g "), "{advice}");
        Ok(())
    })
}

#[test]
#[ignore = "needs chromium: cargo xtask test"]
fn the_card_is_saved_as_picture_and_drawing() -> Result<(), Trouble> {
    at_both(|browser, _| {
        told(browser)?;
        let png = saved(browser, ".png")?;
        // PNG (W3C, 5.2): the signature, then the header chunk with width and height.
        assert_eq!(png.get(..8), Some(&[0x89, b'P', b'N', b'G', 0x0d, 0x0a, 0x1a, 0x0a][..]));
        assert_eq!(png.get(12..16), Some(&b"IHDR"[..]));
        assert!(u32::from_be_bytes([png[16], png[17], png[18], png[19]]) >= 600, "wide enough to be sent to a friend");

        let svg = String::from_utf8(saved(browser, ".svg")?).map_err(|_| Trouble::odd("a drawing in no UTF-8"))?;
        let tree = roxmltree::Document::parse(&svg).map_err(|why| Trouble::odd(format!("the drawing is no XML: {why}")))?;
        assert_eq!(tree.root_element().tag_name().name(), "svg");
        let reaches_out = ["href", "src"];
        assert!(
            tree.descendants().flat_map(|node| node.attributes()).all(|a| !reaches_out.contains(&a.name()) || a.value().starts_with('#')),
            "a drawing stands alone"
        );
        Ok(())
    })
}

/// What the button that saves a picture of this kind would bring, asked by the page itself.
fn saved(browser: &Browser, kind: &str) -> Result<Vec<u8>, Trouble> {
    let script = "
        const [kind, done] = arguments;
        const button = document.querySelector(`button[formaction$='${kind}']`);
        const body = new URLSearchParams(new FormData(button.form));
        fetch(button.formAction, { method: 'POST', body })
            .then(async (answer) => done([answer.status, [...new Uint8Array(await answer.arrayBuffer())]]))
            .catch((why) => done([String(why), []]));";
    let answer = browser.ask_later(script, vec![kind.into()])?;
    assert_eq!(answer[0], 200, "{kind}");
    let byte = |value: &Value| value.as_u64().and_then(|value| u8::try_from(value).ok());
    Ok(answer[1].as_array().into_iter().flatten().filter_map(byte).collect())
}
