//! The program is struck down at any moment: what it said was written down is there, once, and nothing is half.

use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Duration;

use acceptance::{Program, Stopwatch, Trouble, Visitor, program_path, run};

use crate::notes::{Chance, JAR, RECIPE, WEIGHING, entries, folder, furnish, led, png, trial, whole};

const ROUNDS: u32 = 200;
/// Rounds on one studio before the next begins.
const A_STUDIO: u32 = 25;
const COPIES: u32 = 40;

/// Writes as fast as answers come until nobody answers any more; gives the marks of what was answered with "written down".
fn scribble(visitor: &Visitor, board: &str, who: u32) -> Vec<String> {
    let mut kept = Vec::new();
    let Ok(once) = visitor.once() else { return kept };
    for index in 0.. {
        let mark = format!("mark-{who}-{index}-end");
        let once = format!("{once}-{index}");
        let common = [("token", visitor.token.as_str()), ("once", once.as_str()), ("note", mark.as_str())];
        let form = |fields: &[(&str, &str)]| visitor.post(fields[0].0, &[&common[1..], &fields[1..]].concat());
        let answer = match (index + who) % 4 {
            0 => form(&[&[("/shelf", "")], &JAR[..]].concat()),
            1 => form(&[&[("/kept", "")], &RECIPE[..]].concat()),
            2 => form(&[&[("/weigh/keep", "")], &WEIGHING[..]].concat()),
            _ => {
                let Ok(bytes) = png(who * 1000 + index) else { return kept };
                let fields = [common[0], common[1], ("caption", mark.as_str())];
                visitor.send(&visitor.request("POST", &format!("{board}/photo")).upload(&fields, Some(("photo", &bytes))))
            }
        };
        match answer {
            Ok(answer) if answer.status == 303 => kept.push(mark),
            Ok(answer) => {
                assert_eq!(answer.status, 303, "{}", crate::notes::sentence(&answer));
            }
            Err(_) => break,
        }
    }
    kept
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn what_was_said_to_be_written_outlives_two_hundred_kills() -> Result<(), Trouble> {
    let mut chance = Chance(20_261_125);
    let (mut place, mut board) = (folder()?, String::new());
    let mut kept: Vec<String> = Vec::new();
    let (mut all, mut written) = (0, 0);
    for round in 0..ROUNDS {
        if round % A_STUDIO == 0 {
            (place, kept) = (folder()?, Vec::new());
        }
        let program = Program::start_in(place.path())?;
        let visitor = Visitor::enter(&program)?;
        if round % A_STUDIO == 0 {
            board = trial(&visitor)?.1;
        }
        // On a busy machine answers come late: while there are fewer than two for a round, and half of that is asked for in the end, a round may
        // last longer before it is struck down.
        let longest = if all > 2 * round as usize { 60_000 } else { 240_000 };
        let wait = Duration::from_micros(chance.below(longest));
        let new: Vec<String> = std::thread::scope(|scope| {
            let hands: Vec<_> = (0..2)
                .map(|hand| {
                    let (visitor, board) = (&visitor, &board);
                    scope.spawn(move || scribble(visitor, board, round * 2 + hand))
                })
                .collect();
            std::thread::sleep(wait);
            let ended = program.end("KILL");
            let mut new = Vec::new();
            for hand in hands {
                new.extend(hand.join().map_err(|_| Trouble::odd("a hand fell over"))?);
            }
            ended.map(|_| new)
        })?;
        all += new.len();
        kept.extend(new);
        // The log first, as the command leaves it: a gap is an error there.
        let counted = whole(place.path())?;
        let entries = entries(place.path())?;
        assert_eq!(entries.len() as u64, counted, "round {round}");
        for mark in &kept {
            let found = entries.iter().filter(|change| change.entry.body.contains(mark.as_str())).count();
            assert_eq!(found, 1, "round {round}, killed after {wait:?}: {mark}");
        }
        // What was not answered may be there or not, but never twice.
        let mut bodies: Vec<&str> = entries.iter().map(|change| change.entry.body.as_str()).filter(|body| body.contains("mark-")).collect();
        let before = bodies.len();
        bodies.sort_unstable();
        bodies.dedup();
        assert_eq!(bodies.len(), before, "round {round}");
        if round % A_STUDIO == A_STUDIO - 1 {
            written += before;
            // And the pages say so too.
            let program = Program::start_in(place.path())?;
            let visitor = Visitor::enter(&program)?;
            assert_eq!(
                visitor.get("/kept")?.text().matches("href=\"/kept/recipe-").count(),
                entries.iter().filter(|change| change.entry.kind == "recipe").count()
            );
        }
    }
    assert!(all > ROUNDS as usize, "{all} answered, {written} written: too few to tell");
    Ok(())
}

fn struck(words: &[&Path], verb: &str, wait: Duration) -> Result<bool, Trouble> {
    let trouble = |why: std::io::Error| Trouble::odd(why.to_string());
    let (first, studio) = (words[0], words[1]);
    let mut child = Command::new(program_path()?)
        .args(["studio", verb])
        .arg(first)
        .arg("--studio")
        .arg(studio)
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .map_err(trouble)?;
    std::thread::sleep(wait);
    let done = child.try_wait().map_err(trouble)?.is_some();
    let _ = child.kill();
    child.wait().map_err(trouble)?;
    Ok(done)
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn a_copy_that_is_struck_down_is_whole_or_not_there() -> Result<(), Trouble> {
    let place = folder()?;
    let studio = place.path().join("studio");
    let program = Program::start_in(&studio)?;
    let visitor = Visitor::enter(&program)?;
    let board = furnish(&visitor)?.board;
    for index in 0..20 {
        led(&crate::notes::photo(&visitor, &board, "", Some(&png(100 + index)?))?)?;
    }
    program.end("TERM")?;
    let count = whole(&studio)?;
    let whole_copy = place.path().join("copy");
    let started = Stopwatch::start();
    let said = run(&["studio", "backup", &whole_copy.to_string_lossy(), "--studio", &studio.to_string_lossy()], b"")?;
    // Struck down anywhere between its start and a little after its usual end.
    let usual = u64::try_from(started.elapsed().as_micros()).unwrap_or(u64::MAX);
    assert_eq!(said.code, Some(0), "{said:?}");
    assert_eq!(whole(&whole_copy)?, count);
    let mut chance = Chance(7);
    let (mut there, mut absent) = (0, 0);
    for index in 0..COPIES {
        let target = place.path().join(format!("target-{index}"));
        let wait = Duration::from_micros(chance.below(usual + usual / 2));
        let words: [&Path; 2] = if index % 2 == 0 { [&target, &studio] } else { [&whole_copy, &target] };
        let done = struck(&words, if index % 2 == 0 { "backup" } else { "restore" }, wait)?;
        if target.exists() {
            there += 1;
            assert_eq!(whole(&target)?, count, "{index} after {wait:?}");
        } else {
            absent += 1;
            assert!(!done, "{index}: it ended well and left nothing");
        }
    }
    assert!(there > 0 && absent > 0, "{there} there, {absent} absent: too few to tell");
    assert_eq!((whole(&studio)?, whole(&whole_copy)?), (count, count));
    Ok(())
}
