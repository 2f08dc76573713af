//! Written once, never over, and seen by everybody who looks.

use acceptance::{Answer, Program, Trouble, Visitor};

use crate::TOLD;
use crate::notes::{JAR, RECIPE, calm, count, entries, folder, led, photo, png, sentence, trial, whole};

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn the_same_form_sent_twice_is_written_once() -> Result<(), Trouble> {
    let program = Program::start()?;
    let visitor = Visitor::enter(&program)?;
    let (road, board) = trial(&visitor)?;
    let id = board.trim_start_matches("/board/");
    let forms: [(&str, Vec<(&str, &str)>); 6] = [
        ("/shelf", JAR.to_vec()),
        ("/kept", RECIPE.to_vec()),
        ("/failed/keep", vec![("name", "panel 3"), ("told", TOLD), ("tap.when", "days later")]),
        (&format!("{board}/coat"), vec![("before", "312.4"), ("after", "330.1")]),
        (&format!("{road}/read"), vec![("board", id), ("measure", "first_cracked_strip"), ("value", "3")]),
        (&format!("{road}/pot"), vec![("letter", "A"), ("told", TOLD)]),
    ];
    for (path, fields) in &forms {
        let (once, before) = (visitor.once()?, count(&program)?);
        let all = [&[("once", once.as_str())], &fields[..]].concat();
        let first = led(&visitor.post(path, &all)?)?;
        assert_eq!(led(&visitor.post(path, &all)?)?, first, "{path}: both lead to the same place");
        // At once, by an impatient finger.
        let answers: Vec<Result<Answer, Trouble>> = std::thread::scope(|scope| {
            let sent: Vec<_> = (0..4).map(|_| scope.spawn(|| visitor.post(path, &all))).collect();
            sent.into_iter().filter_map(|one| one.join().ok()).collect()
        });
        for answer in answers {
            assert_eq!(led(&answer?)?, first, "{path}");
        }
        assert_eq!(count(&program)?, before + 1, "{path}");
    }
    calm(&program)
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn another_photo_in_the_same_form_is_another_photo() -> Result<(), Trouble> {
    let program = Program::start()?;
    let visitor = Visitor::enter(&program)?;
    let board = trial(&visitor)?.1;
    let once = visitor.once()?;
    let before = count(&program)?;
    let fields = [("token", visitor.token.as_str()), ("once", once.as_str()), ("caption", "")];
    for number in [1, 1, 2] {
        let bytes = png(number)?;
        led(&visitor.send(&visitor.request("POST", &format!("{board}/photo")).upload(&fields, Some(("photo", &bytes))))?)?;
    }
    assert_eq!(count(&program)?, before + 2);
    Ok(())
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn the_second_of_two_changes_is_told_and_the_first_stands() -> Result<(), Trouble> {
    let program = Program::start()?;
    let visitor = Visitor::enter(&program)?;
    for (path, first, what, other) in [
        // Words, not figures: three figures turn up by chance in some key on the page.
        ("/shelf", JAR.to_vec(), ("name", "chalk, green sack"), ("name", "chalk, brown sack")),
        (
            "/kept",
            RECIPE.to_vec(),
            ("told", "240 g chalk, 14 g hide glue, 200 ml water"),
            ("told", "230 g chalk, 14 g hide glue, 200 ml water"),
        ),
    ] {
        let at = led(&visitor.write(path, &first)?)?;
        let subject = at.rsplit('/').next().unwrap_or("").to_owned();
        let from = entries(program.studio())?.len().to_string();
        let change = |agent: &str, (name, value): (&str, &str), from: &str| -> Result<Answer, Trouble> {
            let once = visitor.once()?;
            let mut fields: Vec<(&str, &str)> = first.iter().copied().filter(|(each, _)| *each != name).collect();
            fields.extend([("token", visitor.token.as_str()), ("once", &once), ("subject", &subject), ("from", from), (name, value)]);
            visitor.send(&visitor.request("POST", path).header("User-Agent", agent).form(&fields))
        };
        led(&change("Mozilla/5.0 (Linux; Mobile) Mobi", what, &from)?)?;
        let late = change("Mozilla/5.0 (X11)", other, &from)?;
        let said = sentence(&late);
        assert_eq!(late.status, 409, "{said}");
        assert!(said.contains("changed on desk") && said.contains("Nothing was overwritten"), "{said}");
        assert!(visitor.get(&at)?.text().contains(what.1), "{path}: the first stands");
        assert!(!visitor.get(&at)?.text().contains(other.1), "{path}");
        let newer = entries(program.studio())?.len().to_string();
        led(&change("Mozilla/5.0 (X11)", other, &newer)?)?;
        assert!(visitor.get(&at)?.text().contains(other.1), "{path}: from the newest it is taken");
    }
    Ok(())
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn one_thing_is_not_changed_into_another() -> Result<(), Trouble> {
    let program = Program::start()?;
    let visitor = Visitor::enter(&program)?;
    let jar = led(&visitor.write("/shelf", &JAR)?)?;
    let subject = jar.rsplit('/').next().unwrap_or("").to_owned();
    let before = count(&program)?;
    let from = before.to_string();
    let fields = [&RECIPE[..], &[("subject", subject.as_str()), ("from", &from), ("as", "change")]].concat();
    let answer = visitor.write("/kept", &fields)?;
    assert_eq!((answer.status, count(&program)?), (409, before), "{}", sentence(&answer));
    Ok(())
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn a_form_of_the_example_writes_nothing_at_home() -> Result<(), Trouble> {
    let program = Program::start()?;
    let home = Visitor::enter(&program)?;
    led(&home.post("/example", &[])?)?;
    let token =
        home.get("/")?.text().split("name=\"token\" value=\"").nth(1).and_then(|rest| rest.split('"').next()).unwrap_or("").to_owned();
    assert_ne!(token, home.token);
    let mut guest = home.clone();
    guest.token = token;
    led(&guest.write("/shelf", &JAR)?)?;
    // A page of one's own that was still open elsewhere writes nothing into the example either.
    let answer = home.write("/shelf", &JAR)?;
    assert_eq!(answer.status, 403, "{}", sentence(&answer));
    led(&guest.post("/example/leave", &[])?)?;
    let answer = guest.write("/shelf", &JAR)?;
    assert_eq!(answer.status, 403);
    assert!(sentence(&answer).contains("Nothing was written"), "{}", sentence(&answer));
    assert_eq!(photo(&guest, "/board/GP-0000-000", "", Some(&png(1)?))?.status, 403);
    assert_eq!((count(&program)?, whole(program.studio())?), (0, 0));
    Ok(())
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn what_another_process_writes_is_on_the_next_page() -> Result<(), Trouble> {
    let place = folder()?;
    let (here, there) = (Program::start_in(place.path())?, Program::start_in(place.path())?);
    let (one, other) = (Visitor::enter(&here)?, Visitor::enter(&there)?);
    for round in 0..5 {
        let name = format!("ground number {round}");
        let at = led(&other.write("/kept", &[("told", TOLD), ("name", &name)])?)?;
        assert!(one.get("/kept")?.text().contains(&name));
        assert_eq!(one.get(&at)?.status, 200);
        led(&one.write("/shelf", &JAR)?)?;
        assert_eq!(other.get("/shelf")?.text().matches("href=\"/shelf/jar-").count(), round + 1);
    }
    // Both at once: each entry gets a place of its own.
    std::thread::scope(|scope| {
        let hands: Vec<_> = [&one, &other, &one, &other]
            .map(|visitor| {
                scope.spawn(move || (0..10).try_for_each(|_| visitor.write("/shelf", &JAR).and_then(|answer| led(&answer)).map(drop)))
            })
            .into_iter()
            .collect();
        hands.into_iter().try_for_each(|hand| hand.join().map_err(|_| Trouble::odd("a hand fell over"))?)
    })?;
    assert_eq!(whole(place.path())?, 50);
    calm(&here)?;
    calm(&there)
}
