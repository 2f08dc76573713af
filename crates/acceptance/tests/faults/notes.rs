//! A studio with something of everything in it, and how to look at it from outside.

use std::path::Path;

use acceptance::{Answer, Program, Trouble, Visitor, run};
use notebook::{Change, Log as _};
use serde_json::Value;

use crate::TOLD;

/// Invented, for the lighthouse's panels: what a form of each kind takes.
const BINDER: [(&str, &str); 4] = [("name", "Heron"), ("road", "curd"), ("milk", "1 l skim milk"), ("base", "baking soda")];
pub(crate) const JAR: [(&str, &str); 3] = [("material", "natural-chalk"), ("name", "chalk, blue sack"), ("stock", "750")];
pub(crate) const RECIPE: [(&str, &str); 2] = [("told", TOLD), ("name", "tide calendar ground")];
pub(crate) const WEIGHING: [(&str, &str); 4] =
    [("material", "natural-chalk"), ("what", "cup"), ("base", "250"), ("readings", "148 151 149")];
pub(crate) const TRIAL: [(&str, &str); 10] = [
    ("kind", "stair"),
    ("question", "How thick can the chalk ground be laid?"),
    ("measure", "first_cracked_strip"),
    ("way", "larger"),
    ("recipe_a", "chalk ground"),
    ("boards", "3"),
    ("pots", "2"),
    ("days", "2"),
    ("strips", "5"),
    ("size", "20 x 25 cm"),
];

/// Where an answer leads; an error if nothing was written.
pub(crate) fn led(answer: &Answer) -> Result<String, Trouble> {
    if answer.status == 303 {
        Ok(answer.header("location").to_owned())
    } else {
        Err(Trouble::odd(format!("{}: {}", answer.status, sentence(answer))))
    }
}

/// The words of a page's main part, without marks.
pub(crate) fn sentence(answer: &Answer) -> String {
    let text = answer.text();
    let main = text.split("<main").nth(1).or_else(|| text.split("<body").nth(1)).unwrap_or(&text);
    let words: String = main.split('<').filter_map(|piece| piece.split_once('>')).map(|(_, words)| words).collect::<Vec<_>>().join(" ");
    words.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Addresses of things that were written into a studio.
#[derive(Debug, Clone)]
pub(crate) struct Furnished {
    pub(crate) recipe: String,
    pub(crate) failed: String,
    pub(crate) jar: String,
    pub(crate) binder: String,
    pub(crate) trial: String,
    pub(crate) board: String,
    pub(crate) photo: String,
    pub(crate) sight: String,
    pub(crate) paper: String,
}

/// Asks a question, fixes the plan, and gives addresses of the trial and of one of its boards.
pub(crate) fn trial(visitor: &Visitor) -> Result<(String, String), Trouble> {
    let trial = led(&visitor.write("/trials", &TRIAL)?)?;
    led(&visitor.write(&format!("{trial}/fix"), &[])?)?;
    let page = visitor.get(&trial)?.text();
    let id = page.split("href=\"/board/").nth(1).and_then(|rest| rest.split('"').next());
    let id = id.ok_or_else(|| Trouble::odd("a fixed plan has no boards"))?;
    Ok((trial, format!("/board/{id}")))
}

/// Writes one thing of each kind.
pub(crate) fn furnish(visitor: &Visitor) -> Result<Furnished, Trouble> {
    let recipe = led(&visitor.write("/kept", &RECIPE)?)?;
    let failed = led(&visitor.write("/failed/keep", &[("name", "panel 3"), ("told", TOLD), ("tap.when", "days later")])?)?;
    let jar = led(&visitor.write("/shelf", &JAR)?)?;
    led(&visitor.write("/weigh/keep", &WEIGHING)?)?;
    let binder = led(&visitor.write("/binders", &BINDER)?)?;
    let (trial, board) = trial(visitor)?;
    led(&visitor.write(&format!("{board}/coat"), &[("before", "312.4"), ("after", "330.1")])?)?;
    let id = board.trim_start_matches("/board/");
    led(&visitor.write(&format!("{trial}/read"), &[("board", id), ("measure", "first_cracked_strip"), ("value", "3")])?)?;
    led(&photo(visitor, &board, "the edge", Some(&png(1)?))?)?;
    let page = visitor.get(&board)?.text();
    let photo = page.split("src=\"/photo/").nth(1).and_then(|rest| rest.split('"').next());
    let photo = format!("/photo/{}", photo.ok_or_else(|| Trouble::odd("the board shows no photo"))?);
    let sight = led(&tray(visitor, &png(2)?)?)?;
    led(&visitor.write(&format!("{trial}/paper"), &[])?)?;
    let page = visitor.get(&format!("{trial}/paper"))?.text();
    let paper = page.split("href=\"/papers/").nth(1).and_then(|rest| rest.split('/').next());
    let paper = format!("/papers/{}", paper.ok_or_else(|| Trouble::odd("no finished paper is listed"))?);
    Ok(Furnished { recipe, failed, jar, binder, trial, board, photo, sight, paper })
}

/// Sends a photo in a fresh form.
pub(crate) fn photo(visitor: &Visitor, board: &str, caption: &str, bytes: Option<&[u8]>) -> Result<Answer, Trouble> {
    let once = visitor.once()?;
    let fields = [("token", visitor.token.as_str()), ("once", &once), ("caption", caption)];
    visitor.send(&visitor.request("POST", &format!("{board}/photo")).upload(&fields, bytes.map(|bytes| ("photo", bytes))))
}

/// Lays a photo into the tray in a fresh form.
pub(crate) fn tray(visitor: &Visitor, bytes: &[u8]) -> Result<Answer, Trouble> {
    let once = visitor.once()?;
    let fields = [("token", visitor.token.as_str()), ("once", &once)];
    visitor.send(&visitor.request("POST", "/photos").upload(&fields, Some(("photo", bytes))))
}

/// A small picture; another one for each number.
pub(crate) fn png(number: u32) -> Result<Vec<u8>, Trouble> {
    let colour = number % 0x00ff_ffff;
    let svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"8\" height=\"8\"><rect width=\"8\" height=\"8\" fill=\"#{colour:06x}\"/></svg>"
    );
    paper::png(&svg, 1.0).map_err(|why| Trouble::odd(why.to_string()))
}

/// What a check of a studio says: exit code and report.
pub(crate) fn check(studio: &Path) -> Result<(Option<i32>, Value), Trouble> {
    let said = run(&["studio", "check", "--json", "--studio", &studio.to_string_lossy()], b"")?;
    Ok((said.code, said.json()?))
}

/// Asks that a studio is whole, and gives the number of its entries.
pub(crate) fn whole(studio: &Path) -> Result<u64, Trouble> {
    let (code, report) = check(studio)?;
    assert_eq!(code, Some(0), "{report}");
    assert_eq!((&report["missing"], &report["damaged"]), (&serde_json::json!([]), &serde_json::json!([])), "{report}");
    report["changes"].as_u64().ok_or_else(|| Trouble::odd("a report without a count"))
}

/// All entries, read beside the program; one that is left out is an error.
pub(crate) fn entries(studio: &Path) -> Result<Vec<Change>, Trouble> {
    let odd = |why: notebook::StoreError| Trouble::odd(why.to_string());
    let (log, _) = notebook_sqlite::Studio::open(studio).map_err(odd)?;
    log.since(0).map_err(odd)
}

/// How many entries a program's studio holds.
pub(crate) fn count(program: &Program) -> Result<usize, Trouble> {
    Ok(entries(program.studio())?.len())
}

/// A folder that goes with the value.
pub(crate) fn folder() -> Result<tempfile::TempDir, Trouble> {
    tempfile::tempdir().map_err(|why| Trouble::odd(why.to_string()))
}

/// Nothing fell over.
pub(crate) fn calm(program: &Program) -> Result<(), Trouble> {
    let said = program.complaints()?;
    assert!(!said.contains("panicked"), "{said}");
    Ok(())
}

/// Numbers that look like chance and are the same each time (splitmix64, Steele, Lea and Flood 2014).
#[derive(Debug)]
pub(crate) struct Chance(pub(crate) u64);

impl Chance {
    pub(crate) fn below(&mut self, end: u64) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        (z ^ (z >> 31)) % end.max(1)
    }
}
