//! Whatever is typed into a form of the notebook: a sentence, never a fall.

use acceptance::{Program, Trouble, Visitor};

use crate::TOLD;
use crate::notes::{JAR, RECIPE, TRIAL, WEIGHING, calm, furnish, sentence, whole};

/// Wrong on purpose, in every field.
fn odd() -> Vec<String> {
    let few = [
        "",
        "\0",
        "a\0b",
        "\u{1f9c0}",
        "-5",
        "0",
        "NaN",
        "inf",
        "1e999",
        "1,000",
        "../../etc/passwd",
        "%2e%2e%2f",
        "<b>",
        "9999999999999999999999",
    ];
    few.into_iter().map(str::to_owned).chain(["x".repeat(100_000), "9".repeat(400), "\u{1f9c0}\n".repeat(3000)]).collect()
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn odd_fields_get_a_sentence() -> Result<(), Trouble> {
    let program = Program::start()?;
    let visitor = Visitor::enter(&program)?;
    let at = furnish(&visitor)?;
    let id = at.board.trim_start_matches("/board/").to_owned();
    let odd = odd();
    let of = |fields: &[(&'static str, &'static str)], more: &[&'static str]| {
        fields
            .iter()
            .copied()
            .chain(more.iter().map(|name| (*name, "")))
            .map(|(name, value)| (name.to_owned(), value.to_owned()))
            .collect::<Vec<_>>()
    };
    let mut reading = of(&[("measure", "first_cracked_strip"), ("value", "3")], &["strip", "rater", "note"]);
    reading.push(("board".into(), id));
    let forms: Vec<(String, Vec<(String, String)>)> = vec![
        ("/kept".into(), of(&RECIPE, &["note", "subject", "from", "as", "copied", "wet", "coats", "choose.unit:cup"])),
        (
            "/failed/keep".into(),
            of(&[("name", "panel 3"), ("told", TOLD), ("tap.when", "days later")], &["dry", "coats", "support", "fact"]),
        ),
        ("/shelf".into(), of(&JAR, &["subject", "from", "maker", "lot", "price", "money", "pack", "best_before", "opened", "note"])),
        ("/weigh".into(), of(&[("weigh", "natural-chalk cup")], &["told", "wet", "coats"])),
        ("/weigh/keep".into(), of(&WEIGHING, &["jar", "note", "told", "wet", "coats"])),
        (
            "/trials".into(),
            of(
                &TRIAL,
                &[
                    "subject",
                    "from",
                    "recipe_b",
                    "grid",
                    "yardstick",
                    "witness",
                    "stairs",
                    "support",
                    "kept_same",
                    "method",
                    "sheets",
                    "coats",
                ],
            ),
        ),
        (
            "/trials".into(),
            of(
                &[
                    ("kind", "own"),
                    ("question", "Does less binder stop the cracks?"),
                    ("measure", "first_cracked_strip"),
                    ("way", "larger"),
                    ("grid", "powder: chalk, gypsum\nbinder: little, much"),
                ],
                &["boards", "days", "size", "coats"],
            ),
        ),
        (format!("{}/recipes", at.trial), of(&[], &["from", "recipe.chalk ground", "recipe.the recipe"])),
        (format!("{}/pot", at.trial), of(&[("letter", "A"), ("told", TOLD)], &["note", "from"])),
        (format!("{}/fix", at.trial), of(&[], &["x"])),
        (format!("{}/read", at.trial), reading),
        (
            format!("{}/coat", at.board),
            of(&[("before", "312.4"), ("after", "330.1")], &["number", "batch", "direction", "celsius", "damp", "note", "back"]),
        ),
        ("/scales".into(), of(&[("name", "tooth"), ("better", "smaller"), ("look0", "none"), ("look1", "some")], &["look5"])),
        ("/notebook/take-back".into(), of(&[("entry", "99999")], &["why"])),
        (format!("{}/measure", at.sight), of(&[("board", "44x40mm"), ("corners", "1,1;7,1;7,7;1,7")], &["grain", "patch"])),
        (format!("{}/correct", at.sight), of(&[("rubbed", "12:1,2;3,4"), ("drawn", "1,2;3,4")], &[])),
        (format!("{}/write", at.sight), of(&[], &["strip"])),
        (format!("{}/file", at.sight), of(&[("board", "07")], &[])),
        (format!("{}/failed", at.sight), of(&[("name", "panel 3, north wall")], &[])),
        (format!("{}/lost", at.board), of(&[("reason", "fell off the shelf")], &[])),
    ];
    for (path, right) in &forms {
        for (at, (name, _)) in right.iter().enumerate() {
            for value in &odd {
                let mut fields: Vec<(&str, &str)> = right.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
                fields[at].1 = value;
                // The loss of the board would hide every later case, so it comes last and once for each value.
                let answer = visitor.write(path, &fields)?;
                let what = format!("{path} {name}=`{}`", value.chars().take(30).collect::<String>());
                assert!(answer.status < 500, "{what}: {} {}", answer.status, sentence(&answer));
                assert!(answer.status < 400 || sentence(&answer).len() > 40, "{what}: {}", sentence(&answer));
                assert!(!answer.text().contains("<b><"), "{what}: markup came back raw");
            }
        }
        calm(&program)?;
    }
    whole(program.studio())?;
    // What was taken must not spoil the pages that list it.
    for page in [
        "/kept",
        "/shelf",
        "/trials",
        "/scales",
        "/notebook",
        &at.trial,
        &at.board,
        "/photos",
        &at.sight,
        &format!("{}/read", at.trial),
        &format!("{}/answer", at.trial),
    ] {
        let answer = visitor.get(page)?;
        assert!(answer.status == 200, "{page}: {} {}", answer.status, sentence(&answer));
        // No table or cell may say that a number is none.
        assert!(!sentence(&answer).contains(" NaN g"), "{page}");
    }
    calm(&program)
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn odd_addresses_get_a_sentence() -> Result<(), Trouble> {
    let program = Program::start()?;
    let visitor = Visitor::enter(&program)?;
    let at = furnish(&visitor)?;
    let names = ["nothing", "..%2F..%2Fetc", "%00", "%FF", "%F0%9F%A7%80", "jar-000000000000", "GP-0000-000", &"x".repeat(5000)];
    for name in names {
        for before in ["/kept/", "/kept-failed/", "/shelf/", "/trials/", "/board/", "/photo/", "/photos/"] {
            let answer = visitor.get(&format!("{before}{name}"))?;
            assert!([400, 404].contains(&answer.status), "{before}{name}: {}", answer.status);
            assert!(sentence(&answer).len() > 40, "{before}{name}: {}", sentence(&answer));
        }
        for after in ["lay", "read", "answer", "looks.ics", "day/1", "day/1/sheets.pdf"] {
            let answer = visitor.get(&format!("/trials/{name}/{after}"))?;
            // No trial of that name has nothing to lay.
            assert!(answer.status < 500, "{name}/{after}: {}", answer.status);
        }
        let queries = [
            format!("/board?id={name}"),
            format!("/kept?find={name}"),
            format!("/notebook?up_to={name}"),
            format!("/weigh?material={name}&jar={name}&what={name}"),
            format!("/trials/new?kind={name}"),
            format!("{}/read?measure={name}&rater={name}", at.trial),
            format!("/kept?find=a&find={name}"),
        ];
        for query in queries {
            let answer = visitor.get(&query)?;
            assert!(answer.status < 500 && sentence(&answer).len() > 40, "{query}: {} {}", answer.status, sentence(&answer));
        }
    }
    // One sign of a board's id misread: the check letter tells.
    let id = at.board.trim_start_matches("/board/");
    let (front, last) = id.split_at(id.len() - 1);
    let wrong = format!("{front}{}", if last == "0" { "1" } else { "0" });
    let answer = visitor.get(&format!("/board?id={wrong}"))?;
    assert!(answer.status == 422 && sentence(&answer).contains("did you mean"), "{}", sentence(&answer));
    let typed = id.to_lowercase().replace('-', "+");
    assert_eq!(visitor.get(&format!("/board?id={typed}"))?.header("location"), at.board);
    calm(&program)
}
