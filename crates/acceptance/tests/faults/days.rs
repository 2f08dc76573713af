//! Days that can't be: no such day, no recipe, silly hours, boards without number; each says why, and nothing is written.

use acceptance::{Program, Trouble, Visitor};

use crate::TOLD;
use crate::notes::{calm, count, furnish, sentence};

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn days_that_cannot_be_say_why() -> Result<(), Trouble> {
    let program = Program::start()?;
    let visitor = Visitor::enter(&program)?;
    let at = furnish(&visitor)?;
    let before = count(&program)?;
    let asked = [
        ("/day/9", 422, "no day 9"),
        ("/day/0", 422, "no day 0"),
        ("/day/1", 422, "say the recipe"),
        ("/day/1?from=noon", 422, "write it like 9:00"),
        ("/day/1?to=99:99", 422, "write it like 18:00"),
        ("/day/1?on=tomorrow", 422, "write it like 2026-11-25"),
        ("/day/99999999999", 400, "address"),
        ("/day/x", 400, "address"),
        ("/day/1?from=9&from=10", 400, "address"),
        ("/day/9/sheets.pdf", 422, "no day 9"),
    ];
    for (path, status, words) in asked {
        let answer = visitor.get(&format!("{}{path}", at.trial))?;
        assert_eq!(answer.status, status, "{path}: {}", sentence(&answer));
        assert!(sentence(&answer).contains(words), "{path}: {}", sentence(&answer));
    }
    let answer = visitor.get("/trials/trial-nothing/day/1")?;
    assert_eq!(answer.status, 404, "{}", sentence(&answer));
    for (day, fields) in [("9", [("from", "9:00")]), ("1", [("from", "\u{1f3a8}")]), ("1", [("small", "Q")])] {
        let answer = visitor.write(&format!("{}/day/{day}/begin", at.trial), &fields)?;
        assert_eq!(answer.status, 422, "{day} {fields:?}: {}", sentence(&answer));
    }
    for (field, value) in [
        ("boards", "99999999999"),
        ("boards", "-1"),
        ("boards", "many"),
        ("size", "20 x 25"),
        ("size", "0 x 0 cm"),
        ("size", "-20 x 25 cm"),
        ("size", "99999 x 99999 cm"),
        ("to", "24:01"),
        ("coats", "900"),
        ("told", ""),
    ] {
        let usual = [("told", TOLD), ("boards", "5"), ("size", "20 x 25 cm"), ("to", "18:00"), ("coats", "")];
        let fields: Vec<(&str, &str)> = usual.iter().map(|(name, usual)| (*name, if *name == field { value } else { *usual })).collect();
        for page in ["/recipe/day", "/recipe/day.pdf"] {
            let answer = visitor.write(page, &fields)?;
            assert_eq!(answer.status, 422, "{page} {field}={value}: {}", sentence(&answer));
        }
    }
    assert_eq!(count(&program)?, before);
    calm(&program)
}
