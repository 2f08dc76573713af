//! Codes that are wrong, used, old or not answered.

use acceptance::{Program, Trouble, Visitor};

use super::{NAME, begin, code, knock, knocked, let_in, say};
use crate::notes::{calm, count, folder, led, sentence};

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn a_wrong_code_is_refused_and_five_of_them_kill_the_right_one() -> Result<(), Trouble> {
    let (program, desk) = begin()?;
    let phone = Visitor::phone(&program)?;
    // Before any code is shown there is none to guess.
    assert_eq!(knock(&phone, NAME, "00000000", "")?.status, 403);
    let (short, secret) = code(&desk)?;
    let wrong = [("ZZZZZZZZ", ""), ("", ""), ("", "ffffffffffffffffffffffffffffffff"), (&short[..4], ""), (&*secret, "")];
    for (code, secret) in wrong {
        let answer = knock(&phone, NAME, code, secret)?;
        assert_eq!((answer.status, answer.header("set-cookie")), (403, ""), "{code} {secret}");
    }
    for (code, secret) in [(&*short, ""), ("", &*secret)] {
        let answer = knock(&phone, NAME, code, secret)?;
        assert!(answer.status == 403 && sentence(&answer).contains("dead"), "{}", sentence(&answer));
    }
    assert!(desk.get("/share")?.text().contains("that code is dead"));
    // A new one that is asked for at the desk works.
    let_in(&program, &desk, NAME).map(drop)
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn after_five_dead_codes_the_desk_makes_no_more() -> Result<(), Trouble> {
    let (program, desk) = begin()?;
    let phone = Visitor::phone(&program)?;
    for _ in 0..5 {
        code(&desk)?;
        for _ in 0..5 {
            assert_eq!(knock(&phone, NAME, "ZZZZZZZZ", "")?.status, 403);
        }
    }
    let answer = desk.write("/share/code", &[])?;
    assert!(answer.status == 422 && sentence(&answer).contains("25 wrong codes"), "{}", sentence(&answer));
    calm(&program)
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn a_code_that_was_used_is_refused_to_the_second() -> Result<(), Trouble> {
    let (program, desk) = begin()?;
    let (short, secret) = code(&desk)?;
    let phone = Visitor::phone(&program)?;
    assert_eq!(knock(&phone, NAME, &short, "")?.status, 303);
    for (code, secret) in [(&*short, ""), ("", &*secret)] {
        let answer = knock(&phone, "another phone", code, secret)?;
        assert!(answer.status == 403 && answer.text().contains("used already"), "{}", sentence(&answer));
    }
    assert!(desk.get("/share")?.text().contains("Phone \u{201c}kitchen phone\u{201d} wants in"));
    Ok(())
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn of_sixteen_that_use_one_secret_at_once_one_is_heard() -> Result<(), Trouble> {
    let (program, desk) = begin()?;
    let (_, secret) = code(&desk)?;
    let phone = Visitor::phone(&program)?;
    let heard = std::thread::scope(|scope| {
        let tries: Vec<_> = (0..16).map(|_| scope.spawn(|| knock(&phone, NAME, "", &secret))).collect();
        tries.into_iter().filter_map(|one| one.join().ok()?.ok()).filter(|answer| answer.status == 303).count()
    });
    assert_eq!(heard, 1);
    calm(&program)
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn a_secret_of_an_older_square_or_an_earlier_start_is_refused() -> Result<(), Trouble> {
    let place = folder()?;
    let studio = place.path().join("studio");
    let program = Program::start_shared_in(&studio)?;
    let desk = Visitor::enter(&program)?;
    let (_, old) = code(&desk)?;
    let (_, new) = code(&desk)?;
    let phone = Visitor::phone(&program)?;
    assert_eq!(knock(&phone, NAME, "", &old)?.status, 403, "a newer square took its place");
    program.end("TERM")?;
    let program = Program::start_shared_in(&studio)?;
    let desk = Visitor::enter(&program)?;
    let phone = Visitor::phone(&program)?;
    code(&desk)?;
    for secret in [&old, &new] {
        assert_eq!(knock(&phone, NAME, "", secret)?.status, 403, "of an earlier start");
    }
    Ok(())
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn without_a_yes_there_is_no_key() -> Result<(), Trouble> {
    let (program, desk) = begin()?;
    let phone = knocked(&program, &desk, NAME)?;
    let pick_up = || phone.send(&phone.request("POST", "/pair/wait").form(&[]));
    let waiting = pick_up()?;
    assert_eq!((waiting.status, waiting.header("set-cookie")), (303, ""));
    assert_eq!(phone.get("/pair/asked")?.text(), "wait");
    assert_eq!(phone.get("/trials")?.status, 404, "a ticket is no key");
    say(&desk, "no")?;
    assert_eq!((phone.get("/pair/asked")?.text().as_str(), pick_up()?.header("set-cookie")), ("answered", ""));
    assert!(phone.get("/pair/wait")?.text().contains("was not let in"));
    assert_eq!(count(&program)?, 0, "nobody was let in");
    Ok(())
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn a_yes_to_another_knock_than_the_one_shown_is_no_yes() -> Result<(), Trouble> {
    let (program, desk) = begin()?;
    let phone = knocked(&program, &desk, NAME)?;
    for id in ["", "0", &"0".repeat(32)] {
        led(&desk.write("/share/answer", &[("id", id), ("answer", "yes")])?)?;
    }
    assert_eq!(phone.get("/pair/asked")?.text(), "wait");
    Ok(())
}
