//! What is no studio of ours, or a hurt one, is refused with a sentence and left as it is.

#![expect(clippy::disallowed_methods, reason = "folders are compared byte by byte")]

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use acceptance::{Program, Said, Trouble, Visitor, run};

use crate::notes::{folder, furnish, whole};

#[expect(clippy::needless_pass_by_value, reason = "an error is given away when it is told")]
fn trouble(why: std::io::Error) -> Trouble {
    Trouble::odd(why.to_string())
}

/// Every file below a folder with its bytes.
fn bytes(folder: &Path) -> Result<BTreeMap<PathBuf, Vec<u8>>, Trouble> {
    let mut found = BTreeMap::new();
    let mut left = vec![folder.to_owned()];
    while let Some(next) = left.pop() {
        for entry in std::fs::read_dir(&next).map_err(trouble)? {
            let path = entry.map_err(trouble)?.path();
            if path.is_dir() {
                left.push(path);
            } else {
                found.insert(path.clone(), std::fs::read(&path).map_err(trouble)?);
            }
        }
    }
    Ok(found)
}

fn copy(from: &Path, to: &Path) -> Result<(), Trouble> {
    for (path, bytes) in bytes(from)? {
        let to = to.join(path.strip_prefix(from).map_err(|why| Trouble::odd(why.to_string()))?);
        std::fs::create_dir_all(to.parent().unwrap_or(&to)).map_err(trouble)?;
        std::fs::write(to, bytes).map_err(trouble)?;
    }
    Ok(())
}

/// One sentence on standard error, and nothing fell over.
fn one_sentence(said: &Said, what: &str) {
    assert_eq!(said.code, Some(1), "{what}: {said:?}");
    assert!(!said.complaint.contains("panicked") && said.complaint.trim().lines().count() == 1, "{what}: {said:?}");
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn what_can_not_be_opened_is_left_as_it_is() -> Result<(), Trouble> {
    let place = folder()?;
    let sound = place.path().join("sound");
    let program = Program::start_in(&sound)?;
    furnish(&Visitor::enter(&program)?)?;
    program.end("TERM")?;
    whole(&sound)?;
    let log = std::fs::read(sound.join("studio.db")).map_err(trouble)?;
    let patched = |at: usize, with: &[u8]| {
        let mut log = log.clone();
        log[at..at + with.len()].copy_from_slice(with);
        log
    };
    // Places in the header of a database: https://www.sqlite.org/fileformat.html, section 1.3 (user version at 60, application at 68).
    let cases: [(&str, Vec<u8>); 8] = [
        ("a newer format", patched(60, &[0, 0, 0, 9])),
        ("no format", patched(60, &[0, 0, 0, 0])),
        ("another program's database", patched(68, &[0, 0, 0, 1])),
        ("cut in half", log[..log.len() / 2].to_vec()),
        ("pages torn", patched(4096, &[0xa5; 600])),
        ("no database", b"To do: sand panel 4, buy chalk.\n".repeat(200)),
        ("nothing", Vec::new()),
        ("a few bytes", b"SQLite format 3\0".to_vec()),
    ];
    for (what, log) in cases {
        let hurt = place.path().join(what.replace(' ', "-"));
        copy(&sound, &hurt)?;
        std::fs::write(hurt.join("studio.db"), log).map_err(trouble)?;
        let before = bytes(&hurt)?;
        let name = hurt.to_string_lossy().into_owned();
        let opened = run(&["open", "--no-browser", "--port", "0", "--studio", &name], b"")?;
        one_sentence(&opened, what);
        assert_eq!(opened.out, "", "{what}");
        let checked = run(&["studio", "check", "--json", "--studio", &name], b"")?;
        assert_eq!(checked.code, Some(1), "{what}: {checked:?}");
        assert!(checked.json()?["damaged"].as_array().is_some_and(|damaged| !damaged.is_empty()), "{what}: {checked:?}");
        let target = place.path().join("target");
        one_sentence(&run(&["studio", "backup", &target.to_string_lossy(), "--studio", &name], b"")?, what);
        one_sentence(&run(&["studio", "restore", &name, "--studio", &target.to_string_lossy()], b"")?, what);
        assert!(!target.exists(), "{what}");
        assert!(bytes(&hurt)? == before, "{what}: something in the folder was touched");
    }
    Ok(())
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn nothing_is_put_over_what_is_there() -> Result<(), Trouble> {
    let place = folder()?;
    let [studio, other, copy, things] = ["studio", "other", "copy", "things"].map(|name| place.path().join(name));
    for folder in [&studio, &other] {
        let program = Program::start_in(folder)?;
        furnish(&Visitor::enter(&program)?)?;
        program.end("TERM")?;
    }
    std::fs::create_dir(&things).map_err(trouble)?;
    std::fs::write(things.join("list.txt"), "chalk").map_err(trouble)?;
    let say = |verb: &str, first: &Path, studio: &Path| {
        run(&["studio", verb, &first.to_string_lossy(), "--studio", &studio.to_string_lossy()], b"")
    };
    assert_eq!(say("backup", &copy, &studio)?.code, Some(0));
    let before = bytes(place.path())?;
    for (verb, first, second) in [
        ("restore", &copy, &other),
        ("restore", &copy, &things),
        ("backup", &other, &studio),
        ("backup", &things, &studio),
        ("backup", &copy, &studio),
    ] {
        let said = say(verb, first, second)?;
        one_sentence(&said, verb);
        assert!(said.complaint.contains("nothing is written over"), "{said:?}");
    }
    one_sentence(&run(&["open", "--no-browser", "--port", "0", "--studio", &things.to_string_lossy()], b"")?, "a folder of other things");
    assert!(bytes(place.path())? == before);
    Ok(())
}
