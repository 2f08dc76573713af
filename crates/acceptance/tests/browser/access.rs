//! Every page, on phone and desk, light and dark: axe-core finds nothing against WCAG 2.2 A and AA, nothing must be scrolled
//! sideways, and what is pressed is as large as a wet finger.

#![expect(clippy::disallowed_methods, reason = "the checker of pages lies in a file")]

use std::fmt::Write as _;
use std::path::Path;

use acceptance::{Browser, DESK, PHONE, Program, Screen, Trouble};
use serde_json::{Value, json};

use crate::FOLDER;

const RECIPE: &str = "three cups of chalk, 40 g rabbit skin glue, 600 ml water, a blob of mystery, 4 coats, 20 g lithopone";

/// Brings the browser to a page in a state worth looking at.
type Stop = fn(&Browser, &Program) -> Result<(), Trouble>;

const STOPS: [(&str, Stop); 78] = [
    ("first page", |browser, program| browser.go(&program.url("/"))),
    ("first page while typing", |browser, program| {
        browser.go(&program.url("/"))?;
        browser.type_into("#told", RECIPE)?;
        crate::live(browser, "blob of mystery")
    }),
    ("card", |browser, program| post(browser, program, "/", &[("#told", RECIPE)])),
    ("card without a word", |browser, program| post(browser, program, "/", &[("#told", "chalk until it is like cream, some glue")])),
    ("card with cautions", |browser, program| {
        post(browser, program, "/", &[("#told", "1 l skim milk, 60 ml vinegar, 2 tsp borax, 200 g plaster of paris, 100 ml water")])
    }),
    ("beside, empty", |browser, program| browser.go(&program.url("/beside"))),
    ("beside", |browser, program| {
        post(browser, program, "/beside", &[("#told", RECIPE), ("#told-2", "100 g gypsum, 10 g hide glue, 120 g water")])
    }),
    ("window, empty", |browser, program| browser.go(&program.url("/window"))),
    ("window", |browser, program| {
        post(browser, program, "/window", &[("#told", RECIPE)])?;
        browser.type_into("#told-2", "100 g chalk, 40 g casein powder, 200 g water")?;
        browser.follow("main form.tell button.main")
    }),
    ("failed, empty", |browser, program| browser.go(&program.url("/failed"))),
    ("failed", |browser, program| {
        browser.go(&program.url("/failed"))?;
        for (tap, answer) in [("when", "days later"), ("looks", "network of cracks"), ("rubs", "no"), ("where", "all over")] {
            browser.click(&format!("input[name='tap.{tap}'][value='{answer}']"))?;
        }
        browser.follow("main form.tell button.main")
    }),
    ("milk, empty", |browser, program| browser.go(&program.url("/milk"))),
    ("milk", |browser, program| post(browser, program, "/milk", &[("input[name='acid']", "1 lemon")])),
    ("milk, refused", |browser, program| post(browser, program, "/milk", &[("input[name='milk']", "a cow")])),
    ("binder, empty", |browser, program| browser.go(&program.url("/binder"))),
    ("binder", |browser, program| {
        post(
            browser,
            program,
            "/binder",
            &[
                ("input[name='milk']", "1 litre of skim milk"),
                ("input[name='acids']", "two lemons, a bottle of vinegar"),
                ("input[name='base']", "borax"),
            ],
        )?;
        browser.ask("for (const each of document.querySelectorAll('details')) each.open = true", Vec::new()).map(drop)
    }),
    ("binder, refused", |browser, program| post(browser, program, "/binder", &[("input[name='milk']", "a cow")])),
    ("jars of binder", |browser, program| browser.go(&program.url("/binders"))),
    ("a wish, empty", |browser, program| browser.go(&program.url("/wish"))),
    ("a wish", |browser, program| {
        post(
            browser,
            program,
            "/wish",
            &[
                ("#told", "100 g casein powder, 20 g borax, 700 g water, 600 g chalk"),
                ("input[name='without']", "borax"),
                ("input[name='spoons']", "us"),
            ],
        )
    }),
    ("real panels, empty", |browser, program| browser.go(&program.url("/enlarge"))),
    ("real panels", |browser, program| {
        post(
            browser,
            program,
            "/enlarge",
            &[("#told", "250 g chalk, 14 g hide glue, 200 ml water"), ("#panels", "5 x 60x80cm"), ("input[name='sheet']", "122x244cm")],
        )
    }),
    ("what instead, empty", |browser, program| browser.go(&program.url("/swap"))),
    ("what instead", |browser, program| post(browser, program, "/swap", &[("input[name='missing']", "10 g borax")])),
    ("what instead, refused", |browser, program| post(browser, program, "/swap", &[("input[name='missing']", "a cow")])),
    ("save", |browser, program| {
        browser.go(&program.url("/save"))?;
        browser.fill("main textarea", "15 g hide glue, 210 g water, 300 g whiting")?;
        browser.ask("document.querySelector('main select[name=sight]').value = 'thick'; return 1", Vec::new())?;
        browser.follow("main form button.main")
    }),
    ("save, empty", |browser, program| browser.go(&program.url("/save"))),
    ("powder and binder", |browser, program| browser.go(&program.url("/goes?powder=gypsum&binder=soda-casein"))),
    ("bend", |browser, program| browser.go(&program.url("/bend?coat=300&coat2=150&breaks=0.3&breaks2=10"))),
    ("first and last board, empty", |browser, program| browser.go(&program.url("/even"))),
    ("first and last board", |browser, program| {
        post(browser, program, "/even", &[("#told", "15 g hide glue, 210 g water, 300 g whiting")])
    }),
    ("first and last board, refused", |browser, program| post(browser, program, "/even", &[("#told", "moon dust")])),
    ("glue, empty", |browser, program| browser.go(&program.url("/glue"))),
    ("glue", |browser, program| post(browser, program, "/glue", &[("input[name='ratio']", "1:10"), ("input[name='wanted']", "9")])),
    ("glue, refused", |browser, program| post(browser, program, "/glue", &[("input[name='glue']", "0 g glue")])),
    ("jars", |browser, program| browser.go(&program.url("/jars"))),
    ("a jar", |browser, program| browser.go(&program.url("/jars/natural-chalk"))),
    ("boards", |browser, program| browser.go(&program.url("/boards"))),
    ("books", |browser, program| browser.go(&program.url("/books"))),
    ("no boards yet", |browser, program| browser.go(&program.url("/trials"))),
    ("which question", |browser, program| browser.go(&program.url("/trials/new"))),
    ("a stair asked", |browser, program| browser.go(&program.url("/trials/new?kind=stair"))),
    ("a two by two asked", |browser, program| browser.go(&program.url("/trials/new?kind=two-by-two"))),
    ("own boards asked", |browser, program| browser.go(&program.url("/trials/new?kind=own"))),
    ("an empty question, refused", |browser, program| post(browser, program, "/trials/new?kind=own", &[])),
    ("an empty shelf", |browser, program| browser.go(&program.url("/shelf"))),
    ("nothing kept", |browser, program| browser.go(&program.url("/kept"))),
    ("an empty notebook", |browser, program| browser.go(&program.url("/notebook"))),
    ("weighing", |browser, program| browser.go(&program.url("/weigh"))),
    ("scales", |browser, program| browser.go(&program.url("/scales"))),
    ("a photo", |browser, program| {
        crate::sight::a_photo(browser, program)?;
        browser.wait_until("document.querySelector('.corner')")
    }),
    ("photos", |browser, program| browser.go(&program.url("/photos"))),
    ("now, quiet", |browser, program| browser.go(&program.url("/now"))),
    ("nothing shared", |browser, program| browser.go(&program.url("/share"))),
    ("a code for a phone", a_code),
    ("a phone asks", |browser, program| {
        a_code(browser, program)?;
        let pair = browser.text("#pair-address")?;
        browser.go(&pair)
    }),
    ("a phone waits", a_knock),
    ("a phone wants in", |browser, program| {
        a_knock(browser, program)?;
        browser.go(&program.url("/share"))
    }),
    ("now, a day under way", |browser, program| {
        browser.go(&program.url("/now"))?;
        if crate::count(browser, "#bars")? == 0 {
            crate::day::begin_a_day(program.studio())?;
            browser.go(&program.url("/now"))?;
        }
        browser.wait_until("!document.querySelector('#bars button[data-add]').hidden")
    }),
    ("a day shown", |browser, program| browser.go(&program.url("/walk"))),
    // From here on in the example studio, whose boards stand in the order: a day to come, asked, under way, told, not told.
    ("example: boards", |browser, program| in_example(browser, program, "/trials")),
    ("example: a day to come", |browser, program| of_trial(browser, program, 0, "/day/1")),
    ("example: a day that does not fit", |browser, program| of_trial(browser, program, 0, "/day/1?from=9:00&to=11:00")),
    ("example: a plan with a tangle", |browser, program| of_trial(browser, program, 1, "")),
    ("example: under way", |browser, program| of_trial(browser, program, 2, "")),
    ("example: next coat", |browser, program| of_trial(browser, program, 2, "/lay")),
    ("example: a pot", |browser, program| of_trial(browser, program, 2, "/pot/A")),
    ("example: a pot that is too thin", |browser, program| of_trial(browser, program, 2, "/pot/A?wish=75&wide=20")),
    ("example: a pot to save", |browser, program| of_trial(browser, program, 2, "/pot/A?sight=hot")),
    ("example: reading blind", |browser, program| of_trial(browser, program, 3, "/read?rater=C.")),
    ("example: told", |browser, program| of_trial(browser, program, 3, "/answer")),
    ("example: not told", |browser, program| of_trial(browser, program, 4, "/answer")),
    ("example: paper", |browser, program| of_trial(browser, program, 3, "/paper")),
    ("example: shelf", |browser, program| in_example(browser, program, "/shelf")),
    ("example: jars of binder", |browser, program| in_example(browser, program, "/binders")),
    ("example: the road of a jar", |browser, program| {
        in_example(browser, program, "/binders")?;
        browser.follow(".jars a")
    }),
    ("example: kept", |browser, program| in_example(browser, program, "/kept")),
    ("example: notebook", |browser, program| in_example(browser, program, "/notebook")),
];

/// The desk's page with a fresh code for a phone.
fn a_code(browser: &Browser, program: &Program) -> Result<(), Trouble> {
    browser.go(&program.url("/share"))?;
    if crate::count(browser, "form[action='/share/open']")? > 0 {
        // Where a house address was found the field is folded away, and this is no test of the network.
        browser.ask("for (const each of document.querySelectorAll('details')) each.open = true", Vec::new())?;
        browser.fill("input[name=address]", "127.0.0.1")?;
        return browser.follow("form[action='/share/open'] button");
    }
    if crate::count(browser, "form[action='/share/answer']")? > 0 {
        browser.follow("button[value=no]")?;
    }
    if crate::count(browser, "form[action='/share/code']")? > 0 {
        browser.follow("form[action='/share/code'] button")?;
    }
    Ok(())
}

/// The phone's page that waits for the desk.
fn a_knock(browser: &Browser, program: &Program) -> Result<(), Trouble> {
    a_code(browser, program)?;
    let (pair, code) = (browser.text("#pair-address")?, browser.text("#pair-code")?);
    browser.go(&pair)?;
    browser.fill("#name", "kitchen phone")?;
    browser.fill("#code", &code)?;
    browser.follow("main button")
}

/// A page of the example studio.
fn in_example(browser: &Browser, program: &Program, path: &str) -> Result<(), Trouble> {
    browser.go(&program.url("/"))?;
    if crate::count(browser, "form[action='/example'] button")? > 0 {
        browser.follow("form[action='/example'] button")?;
    }
    browser.go(&program.url(path))
}

/// A page of a trial of the example, counted from the newest.
fn of_trial(browser: &Browser, program: &Program, place: usize, page: &str) -> Result<(), Trouble> {
    in_example(browser, program, "/trials")?;
    let script = "return [...document.querySelectorAll('.jars a')].map((each) => each.getAttribute('href'))[arguments[0]]";
    let address = browser.ask(script, vec![place.into()])?;
    let address = address.as_str().ok_or_else(|| Trouble::odd("the example has no such trial"))?;
    browser.go(&program.url(&format!("{address}{page}")))
}

fn post(browser: &Browser, program: &Program, path: &str, fields: &[(&str, &str)]) -> Result<(), Trouble> {
    browser.go(&program.url(path))?;
    for (field, text) in fields {
        browser.fill(field, text)?;
    }
    browser.follow("main form.tell button.main")
}

fn axe() -> Result<String, Trouble> {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/browser/node_modules/axe-core/axe.min.js");
    std::fs::read_to_string(&file).map_err(|why| Trouble::odd(format!("{}: {why}; run `npm ci` in tests/browser", file.display())))
}

/// Rules that are asked of every page, as axe-core calls them, and how many of them must at least have had something to look at.
const ALL: (&str, u64) = ("runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa']", 6);
/// The one rule of them that can hold by day and fail by night.
const COLOURS: (&str, u64) = ("runOnly: { type: 'rule', values: ['color-contrast'] }", 1);

/// What axe-core finds, a line each.
fn findings(browser: &Browser, axe: &str, (rules, at_least): (&str, u64)) -> Result<Vec<String>, Trouble> {
    // What lies one tap below is looked at too.
    browser.ask("document.querySelectorAll('details').forEach((each) => { each.open = true; })", Vec::new())?;
    browser.ask(&format!("if (!window.axe) {{ {axe} }}"), Vec::new())?;
    let script = format!(
        "const done = arguments[0];
        axe.run(document, {{ {rules} }})
            .then(({{ violations, passes }}) => done([passes.length, violations.flatMap(
                ({{ id, nodes }}) => nodes.map((node) => `${{id}}: ${{node.target.join(' ')}}: ${{node.any.concat(node.all, node.none).map((c) => c.message).join('; ')}}`))]))
            .catch((why) => done([0, [String(why)]]));"
    );
    let answer = browser.ask_later(&script, Vec::new())?;
    let (passed, found) = (answer[0].as_u64().unwrap_or(0), answer[1].as_array().map_or(0, Vec::len));
    assert!(passed >= at_least || found > 0, "axe-core looked at hardly anything: {answer}");
    Ok(answer[1].as_array().into_iter().flatten().filter_map(Value::as_str).map(str::to_owned).collect())
}

/// Things to press that are smaller than a wet finger: WCAG 2.5.5 (AAA) asks 44 CSS pixels, our own rule for buttons, boxes and folds.
fn too_small(browser: &Browser) -> Result<Value, Trouble> {
    browser.ask(
        "return [...document.querySelectorAll('button, summary, select, textarea, input[type=text], label.choice')]
            .filter((each) => each.checkVisibility())
            .map((each) => [each.getBoundingClientRect(), each])
            .filter(([box]) => box.height < 43.5 || box.width < 43.5)
            .map(([box, each]) => `${Math.round(box.width)} x ${Math.round(box.height)}: ${each.outerHTML.slice(0, 90)}`)",
        Vec::new(),
    )
}

/// Every stop on one screen: all rules by day, the colours again by night.
fn there_for_everybody(screen: Screen) -> Result<(), Trouble> {
    let axe = axe()?;
    let mut found = String::new();
    let program = Program::start()?;
    let browser = Browser::inside(&program, screen, Path::new(FOLDER))?;
    for (name, stop) in STOPS {
        browser.dark(false)?;
        stop(&browser, &program)?;
        let at = format!("{name}, {} wide", screen.width);
        for finding in findings(&browser, &axe, ALL)? {
            let _ = writeln!(found, "{at}, light: {finding}");
        }
        let wide = browser.ask("return document.documentElement.scrollWidth - document.documentElement.clientWidth", Vec::new())?;
        if wide != json!(0) {
            let _ = writeln!(found, "{at}: {wide} pixels wider than the screen");
        }
        for small in too_small(&browser)?.as_array().into_iter().flatten() {
            let _ = writeln!(found, "{at}: too small to tap: {small}");
        }
        browser.dark(true)?;
        for finding in findings(&browser, &axe, COLOURS)? {
            let _ = writeln!(found, "{at}, dark: {finding}");
        }
        for complaint in browser.complaints()?.iter().filter(|line| !(name.ends_with(", refused") && line.contains("422"))) {
            let _ = writeln!(found, "{at}: {complaint}");
        }
    }
    assert!(found.is_empty(), "\n{found}");
    Ok(())
}

#[test]
#[ignore = "needs chromium: cargo xtask test"]
fn every_page_is_there_for_everybody_at_a_desk() -> Result<(), Trouble> {
    there_for_everybody(DESK)
}

#[test]
#[ignore = "needs chromium: cargo xtask test"]
fn every_page_is_there_for_everybody_on_a_phone() -> Result<(), Trouble> {
    there_for_everybody(PHONE)
}
