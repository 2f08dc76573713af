//! Keys: handed out once, kept as a hash, taken away, run out.

use acceptance::{Program, Trouble, Visitor};
use notebook::{Deed, Device, Log as _, Stamp};

use super::{NAME, begin, cookie, knocked, let_in, port, say};
use crate::notes::{RECIPE, calm, count, entries, folder, led, photo, png, sentence, trial};

/// Subject of the newest phone on the desk's list.
fn newest(desk: &Visitor) -> Result<String, Trouble> {
    let page = desk.get("/share")?.text();
    let subject = page.split("name=\"phone\" value=\"").nth(1).and_then(|rest| rest.split('"').next());
    subject.map(str::to_owned).ok_or_else(|| Trouble::odd("no phone is listed"))
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn a_key_is_handed_out_once_and_kept_as_a_hash() -> Result<(), Trouble> {
    let (program, desk) = begin()?;
    let mut phone = knocked(&program, &desk, NAME)?;
    say(&desk, "yes")?;
    let pick_up = |phone: &Visitor| phone.send(&phone.request("POST", "/pair/wait").form(&[]));
    // Somebody else's ticket gets nothing.
    let mut other = phone.clone();
    other.cookie = format!("{}0", &phone.cookie[..phone.cookie.len() - 1]);
    if other.cookie != phone.cookie {
        assert_eq!(pick_up(&other)?.header("set-cookie"), "");
    }
    let key = cookie(&pick_up(&phone)?, &port(&program)?, "=").ok_or_else(|| Trouble::odd("no key"))?;
    assert_eq!(pick_up(&phone)?.header("set-cookie"), "", "a second time");
    key.split(';').next().unwrap_or("").clone_into(&mut phone.cookie);
    assert_eq!(phone.get("/trials")?.status, 200);
    let key = phone.cookie.split('=').nth(1).unwrap_or("").to_owned();
    let kept = entries(program.studio())?;
    assert_eq!(kept.len(), 1);
    // The hash is worked out here by the store's own naming of bytes, which is held to FIPS 180-2 in its own tests.
    assert!(
        kept[0].entry.body.contains(&notebook::name_of(key.as_bytes())) && !kept[0].entry.body.contains(&key),
        "{}",
        kept[0].entry.body
    );
    Ok(())
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn a_phone_can_not_take_anothers_key_away() -> Result<(), Trouble> {
    let (program, desk) = begin()?;
    let phone = let_in(&program, &desk, NAME)?;
    let other = let_in(&program, &desk, "shed phone")?;
    let answer = phone.write("/notebook/take-back", &[("entry", "2")])?;
    assert!(answer.status == 403 && sentence(&answer).contains("decided at the desk"), "{}", sentence(&answer));
    assert_eq!(other.get("/trials")?.status, 200);
    Ok(())
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn a_key_that_was_taken_away_opens_nothing_and_does_not_come_back() -> Result<(), Trouble> {
    let (program, desk) = begin()?;
    let phone = let_in(&program, &desk, NAME)?;
    led(&desk.write("/share/revoke", &[("phone", &newest(&desk)?)])?)?;
    assert_eq!(phone.get("/trials")?.status, 404);
    assert_eq!(phone.post("/recipe", &[("told", crate::TOLD)])?.status, 404);
    // The notebook takes back what was taken back, but not this.
    let answer = desk.write("/notebook/take-back", &[("entry", "2")])?;
    assert!(answer.status == 422 || answer.status == 409, "{}", answer.status);
    assert!(sentence(&answer).contains("stays away"), "{}", sentence(&answer));
    assert_eq!(phone.get("/trials")?.status, 404);
    Ok(())
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn the_form_of_another_phone_is_refused() -> Result<(), Trouble> {
    let (program, desk) = begin()?;
    let one = let_in(&program, &desk, NAME)?;
    let two = let_in(&program, &desk, "shed phone")?;
    assert!(one.token != two.token && one.token != desk.token);
    let before = count(&program)?;
    for token in [&two.token, &desk.token, &String::new()] {
        let fields = [("token", token.as_str()), ("once", "x"), RECIPE[0], RECIPE[1]];
        assert_eq!(one.send(&one.request("POST", "/kept").form(&fields))?.status, 403);
    }
    let fields = [("token", one.token.as_str()), ("once", "x"), RECIPE[0], RECIPE[1]];
    assert_eq!(desk.send(&desk.request("POST", "/kept").form(&fields))?.status, 403, "a phone's form at the desk");
    assert_eq!(count(&program)?, before);
    Ok(())
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn after_a_restart_a_phone_is_still_in_and_its_open_page_still_good() -> Result<(), Trouble> {
    let place = folder()?;
    let studio = place.path().join("studio");
    let program = Program::start_shared_in(&studio)?;
    let phone = let_in(&program, &Visitor::enter(&program)?, NAME)?;
    program.end("TERM")?;
    let program = Program::start_shared_in(&studio)?;
    let mut again = Visitor::phone(&program)?;
    // On the usual port the cookie keeps its name; here the port is another one each time.
    again.cookie = format!("gp_{}={}", port(&program)?, phone.cookie.split('=').nth(1).unwrap_or(""));
    again.token.clone_from(&phone.token);
    assert_eq!(again.get("/trials")?.status, 200);
    led(&again.write("/kept", &RECIPE)?)?;
    let desk = Visitor::enter(&program)?;
    assert!(desk.get("/share")?.text().contains(NAME));
    Ok(())
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn a_key_that_ran_out_opens_nothing() -> Result<(), Trouble> {
    let place = folder()?;
    let studio = place.path().join("studio");
    let (good, over) = ("a".repeat(64), "b".repeat(64));
    // 2000-01-01 and 2100-01-01, in seconds since 1970.
    for (key, until) in [(&over, 946_684_800), (&good, 4_102_444_800)] {
        let odd = |why: notebook::StoreError| Trouble::odd(why.to_string());
        let (mut log, _) = notebook_sqlite::Studio::open(&studio).map_err(odd)?;
        let now = notebook::Moment { seconds: 946_000_000, offset_minutes: 0 };
        let deed = Deed::Device(Device {
            name: key[..1].to_owned(),
            key_hash: notebook::name_of(key.as_bytes()),
            until: notebook::Moment { seconds: until, offset_minutes: 0 },
        });
        let stamp = Stamp { at: now, device: "desk".into(), chance: u128::from(until.unsigned_abs()) };
        let before = log.since(0).map_err(odd)?;
        let state = notebook::Notebook::fold(&before).map_err(|why| Trouble::odd(why.to_string()))?;
        let wanted = [notebook::Wanted::new(stamp.subject("phone", 0), deed)];
        let new = state.decide(&wanted, &stamp).map_err(|why| Trouble::odd(why.to_string()))?;
        log.append(&new, state.n()).map_err(odd)?;
    }
    let program = Program::start_shared_in(&studio)?;
    let mut phone = Visitor::phone(&program)?;
    for (key, status) in [(&over, 404), (&good, 200)] {
        phone.cookie = format!("gp_{}={key}", port(&program)?);
        assert_eq!(phone.get("/trials")?.status, status, "{key}");
    }
    Ok(())
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn a_phone_in_the_example_is_out_when_the_desk_leaves_it() -> Result<(), Trouble> {
    let (program, mut desk) = begin()?;
    led(&desk.post("/example", &[])?)?;
    let page = desk.get("/scales")?.text();
    let token = page.split("name=\"token\" value=\"").nth(1).and_then(|rest| rest.split('"').next());
    token.unwrap_or("").clone_into(&mut desk.token);
    let phone = let_in(&program, &desk, NAME)?;
    assert!(phone.get("/trials")?.text().contains("Invented example"));
    assert_eq!(count(&program)?, 0, "the painter's own studio knows nothing of it");
    let (_, board) = trial(&phone)?;
    led(&photo(&phone, &board, "the edge", Some(&png(1)?))?)?;
    led(&desk.post("/example/leave", &[])?)?;
    assert_eq!(phone.get("/trials")?.status, 404);
    assert_eq!(count(&program)?, 0);
    calm(&program)
}
