//! Phones at the second door: codes, keys, Host, Origin, tokens, and what must not work across doors.

use std::time::Duration;

use acceptance::{Answer, HOUSE, Program, Request, Trouble, Visitor, send};
use notebook::{Deed, Device, Log as _, Stamp};

use crate::notes::{RECIPE, calm, count, entries, folder, led, photo, png, sentence, trial};

const NAME: &str = "kitchen phone";

/// Has the desk show a fresh code; gives the typed one and the secret of the square.
fn code(desk: &Visitor) -> Result<(String, String), Trouble> {
    led(&desk.write("/share/code", &[])?)?;
    let page = desk.get("/share")?.text();
    let short = page.split("id=\"pair-code\">").nth(1).and_then(|rest| rest.split('<').next());
    let short = short.ok_or_else(|| Trouble::odd("the desk shows no code"))?.to_owned();
    Ok((short, secret(&page)?))
}

/// The secret in the square code of a page, read back by `rqrr`, which shares no code with the writer.
fn secret(page: &str) -> Result<String, Trouble> {
    let odd = |what: String| Trouble::odd(what);
    let svg = page.split("<svg").nth(1).and_then(|rest| rest.split("</svg>").next());
    let svg = format!("<svg{}</svg>", svg.ok_or_else(|| odd("no square code".into()))?);
    let png = paper::png(&svg, 6.0).map_err(|why| odd(why.to_string()))?;
    let grey = image::load_from_memory(&png).map_err(|why| odd(why.to_string()))?.into_luma8();
    let (width, height) = (grey.width(), grey.height());
    let mut found = rqrr::PreparedImage::prepare_from_greyscale(width as usize, height as usize, |x, y| {
        grey.get_pixel(u32::try_from(x).unwrap_or(0), u32::try_from(y).unwrap_or(0)).0[0]
    });
    let text = found.detect_grids().first().and_then(|grid| grid.decode().ok()).map(|(_, text)| text);
    let text = text.ok_or_else(|| odd("the square can't be read".into()))?;
    assert!(text.starts_with(&format!("http://{HOUSE}:")), "{text}");
    let (_, secret) = text.split_once("/pair#").ok_or_else(|| odd(text.clone()))?;
    assert_eq!(secret.len(), 32, "128 bits in hexadecimal");
    Ok(secret.to_owned())
}

fn knock(phone: &Visitor, name: &str, code: &str, secret: &str) -> Result<Answer, Trouble> {
    phone.send(&phone.request("POST", "/pair").form(&[("name", name), ("code", code), ("secret", secret)]))
}

/// The cookie of an answer by its ending: `_ask=` for the ticket, `=` for the key.
fn cookie(answer: &Answer, port: &str, ending: &str) -> Option<String> {
    let begins = format!("gp_{port}{ending}");
    let mut cookies = answer.headers.iter().filter(|(name, _)| name == "set-cookie").map(|(_, value)| value.as_str());
    cookies.find(|value| value.starts_with(&begins)).map(str::to_owned)
}

fn port(program: &Program) -> Result<String, Trouble> {
    Ok(program.phone_host()?.rsplit(':').next().unwrap_or("").to_owned())
}

/// A phone that knocked with the right code; it holds its ticket.
fn knocked(program: &Program, desk: &Visitor, name: &str) -> Result<Visitor, Trouble> {
    let (short, _) = code(desk)?;
    let mut phone = Visitor::phone(program)?;
    let answer = knock(&phone, name, &short, "")?;
    assert_eq!((answer.status, answer.header("location")), (303, "/pair/wait"), "{}", sentence(&answer));
    let ticket = cookie(&answer, &port(program)?, "_ask=").ok_or_else(|| Trouble::odd("no ticket"))?;
    ticket.split(';').next().unwrap_or("").clone_into(&mut phone.cookie);
    Ok(phone)
}

/// The desk answers the knock that it is shown.
fn say(desk: &Visitor, answer: &str) -> Result<(), Trouble> {
    let page = desk.get("/share")?.text();
    let id = page.split("name=\"id\" value=\"").nth(1).and_then(|rest| rest.split('"').next());
    let id = id.ok_or_else(|| Trouble::odd("nobody wants in"))?.to_owned();
    led(&desk.write("/share/answer", &[("id", &id), ("answer", answer)])?).map(drop)
}

/// Lets a phone in, all the way.
fn let_in(program: &Program, desk: &Visitor, name: &str) -> Result<Visitor, Trouble> {
    let mut phone = knocked(program, desk, name)?;
    say(desk, "yes")?;
    let answer = phone.send(&phone.request("POST", "/pair/wait").form(&[]))?;
    let key = cookie(&answer, &port(program)?, "=").ok_or_else(|| Trouble::odd(format!("no key: {}", answer.status)))?;
    for part in ["HttpOnly", "SameSite=Lax", "Path=/", "Max-Age=2592000"] {
        assert!(key.contains(part), "{key}");
    }
    assert!(!key.contains("Secure") && !key.contains("Domain"), "{key}");
    key.split(';').next().unwrap_or("").clone_into(&mut phone.cookie);
    assert_eq!(phone.cookie.split('=').nth(1).map(str::len), Some(64), "256 bits in hexadecimal");
    phone.read_token()?;
    Ok(phone)
}

fn begin() -> Result<(Program, Visitor), Trouble> {
    let program = Program::start_shared()?;
    let desk = Visitor::enter(&program)?;
    Ok((program, desk))
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn a_phone_that_was_not_let_in_finds_nothing_but_the_page_that_asks() -> Result<(), Trouble> {
    let (program, desk) = begin()?;
    let phone = Visitor::phone(&program)?;
    let (_, board) = trial(&desk)?;
    for open in ["/pair", "/pair/wait", "/pair/asked", "/assets/pair.css", "/assets/pair.js", "/favicon.ico"] {
        assert_eq!(phone.get(open)?.status, 200, "{open}");
    }
    let port = port(&program)?;
    let cookies = ["".to_owned(), format!("gp_{port}="), format!("gp_{port}={}", "0".repeat(64)), format!("gp_{port}_ask={}", "0".repeat(32))];
    for cookie in cookies {
        for shut in ["/", "/trials", &board, "/kept", "/notebook", "/share", "/share/news", "/enter", "/example", "/assets/page.css", "/assets/face.otf", "/nowhere"] {
            let answer = phone.send(&phone.request("GET", shut).header("Cookie", &cookie))?;
            assert_eq!(answer.status, 404, "{shut} with `{cookie}`");
            assert!(answer.header("content-security-policy").contains("default-src 'none'") && answer.header("access-control-allow-origin").is_empty());
        }
        for form in ["/kept", "/trials", "/share/code", "/share/answer", "/share/close", "/notebook/take-back"] {
            let request = phone.request("POST", form).form(&[("token", &desk.token), ("told", crate::TOLD)]).header("Cookie", &cookie);
            assert_eq!(phone.send(&request)?.status, 404, "{form} with `{cookie}`");
        }
    }
    calm(&program)
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn a_photo_from_a_phone_that_was_not_let_in_is_not_filed() -> Result<(), Trouble> {
    let (program, desk) = begin()?;
    let (_, board) = trial(&desk)?;
    let before = count(&program)?;
    let phone = Visitor::phone(&program)?;
    let fields = [("token", desk.token.as_str()), ("caption", "from outside")];
    let answer = phone.send(&phone.request("POST", &format!("{board}/photo")).upload(&fields, Some(("photo", &png(1)?))))?;
    assert_eq!((answer.status, count(&program)?), (404, before));
    Ok(())
}

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
        assert!(answer.status == 403 && answer.text().contains("dead"), "{}", sentence(&answer));
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
    assert!(kept[0].entry.body.contains(&notebook::name_of(key.as_bytes())) && !kept[0].entry.body.contains(&key), "{}", kept[0].entry.body);
    Ok(())
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn another_name_for_the_shared_address_is_turned_away() -> Result<(), Trouble> {
    let (program, desk) = begin()?;
    let phone = let_in(&program, &desk, NAME)?;
    let port = port(&program)?;
    let hosts = [
        HOUSE.to_owned(),
        format!("localhost:{port}"),
        format!("evil.example:{port}"),
        format!("{HOUSE}.evil.example:{port}"),
        format!("{HOUSE}:{port}0"),
        format!("{HOUSE}:1"),
        format!("x.{HOUSE}:{port}"),
        program.address().to_owned(),
    ];
    for host in hosts {
        for request in [phone.request("GET", "/pair"), phone.request("GET", "/trials"), phone.request("POST", "/pair").form(&[("name", NAME)])] {
            assert_eq!(phone.send(&request.header("Host", &host))?.status, 421, "`{host}`");
        }
    }
    // Name and number are both ours, and a page of the one may not send to the other.
    let by_number = phone.request("POST", "/pair").form(&[("name", NAME)]).header("Host", &format!("127.0.0.1:{port}"));
    assert_eq!(phone.send(&phone.request("GET", "/trials").header("Host", &format!("127.0.0.1:{port}")))?.status, 200);
    assert_eq!(phone.send(&by_number)?.status, 403, "a page of {HOUSE} to the number");
    // The desk does not answer to the name.
    assert_eq!(send(program.address(), &desk.request("GET", "/").header("Host", program.phone_host()?).bytes())?.status, 421);
    Ok(())
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn a_form_from_another_page_is_refused_at_the_phones_door() -> Result<(), Trouble> {
    let (program, desk) = begin()?;
    let phone = let_in(&program, &desk, NAME)?;
    let before = count(&program)?;
    let once = phone.once()?;
    let fields = [("token", phone.token.as_str()), ("once", &*once), RECIPE[0], RECIPE[1]];
    let right = phone.request("POST", "/kept").form(&fields);
    let origins = ["", "null", "http://evil.example", &format!("http://{HOUSE}"), &format!("https://{}", program.phone_host()?), &program.url(""), &format!("http://{HOUSE}:1")];
    for origin in origins {
        assert_eq!(phone.send(&right.clone().header("Origin", origin))?.status, 403, "from `{origin}`");
        let knock = phone.request("POST", "/pair").form(&[("name", NAME)]).header("Origin", origin);
        assert_eq!(phone.send(&knock)?.status, 403, "a knock from `{origin}`");
    }
    for site in ["cross-site", "same-site", "none"] {
        assert_eq!(phone.send(&right.clone().header("Sec-Fetch-Site", site))?.status, 403, "{site}");
    }
    assert_eq!(count(&program)?, before);
    led(&phone.send(&right)?)?;
    assert_eq!(entries(program.studio())?.last().map(|change| change.entry.device.clone()).as_deref(), Some(NAME), "the entry says who wrote it");
    Ok(())
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn the_desks_key_and_cookie_open_nothing_at_the_phones_door() -> Result<(), Trouble> {
    let program = Program::start_shared()?;
    let phone = Visitor::phone(&program)?;
    let path = program.entrance().replace(&program.url(""), "");
    assert_eq!(phone.get(&path)?.status, 404, "the key of the first page");
    let desk = Visitor::enter(&program)?;
    let value = desk.cookie.split('=').nth(1).unwrap_or("");
    for cookie in [desk.cookie.clone(), format!("gp_{}={value}", port(&program)?)] {
        assert_eq!(phone.send(&phone.request("GET", "/trials").header("Cookie", &cookie))?.status, 404, "{cookie}");
    }
    Ok(())
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn a_phones_cookie_opens_nothing_at_the_desks_door() -> Result<(), Trouble> {
    let (program, desk) = begin()?;
    let phone = let_in(&program, &desk, NAME)?;
    let value = phone.cookie.split('=').nth(1).unwrap_or("");
    for cookie in [phone.cookie.clone(), format!("gp_{}={value}", program.port())] {
        for path in ["/", "/share", "/trials"] {
            assert_eq!(desk.send(&desk.request("GET", path).header("Cookie", &cookie))?.status, 403, "{path} with {cookie}");
        }
    }
    Ok(())
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn the_desks_own_rooms_are_shut_to_a_phone_that_is_in() -> Result<(), Trouble> {
    let (program, desk) = begin()?;
    let phone = let_in(&program, &desk, NAME)?;
    for path in ["/share", "/share/news", "/enter", "/example"] {
        assert_eq!(phone.get(path)?.status, 404, "{path}");
    }
    for path in ["/share/open", "/share/code", "/share/answer", "/share/revoke", "/share/close", "/example", "/example/leave"] {
        assert_eq!(phone.post(path, &[])?.status, 404, "{path}");
    }
    for path in ["/", "/trials", "/notebook"] {
        let page = phone.get(path)?.text();
        assert!(!page.contains("\"/share\"") && !page.contains("/example") && !page.contains("studio backup"), "{path}");
    }
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

/// Subject of the newest phone on the desk's list.
fn newest(desk: &Visitor) -> Result<String, Trouble> {
    let page = desk.get("/share")?.text();
    let subject = page.split("name=\"phone\" value=\"").nth(1).and_then(|rest| rest.split('"').next());
    subject.map(str::to_owned).ok_or_else(|| Trouble::odd("no phone is listed"))
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
fn once_sharing_ends_nobody_answers_and_an_open_line_is_shut() -> Result<(), Trouble> {
    let (program, desk) = begin()?;
    let phone = let_in(&program, &desk, NAME)?;
    assert!(desk.get("/share")?.text().contains("was here at"), "who was seen just now may hold taps");
    let one = phone.request("GET", "/trials").header("Connection", "keep-alive").bytes();
    let address = format!("127.0.0.1:{}", port(&program)?);
    let mut line = std::net::TcpStream::connect(&address).map_err(|why| Trouble::odd(why.to_string()))?;
    std::io::Write::write_all(&mut line, &one).map_err(|why| Trouble::odd(why.to_string()))?;
    let mut part = [0; 64];
    let read = std::io::Read::read(&mut line, &mut part).map_err(|why| Trouble::odd(why.to_string()))?;
    assert!(part[..read].starts_with(b"HTTP/1.1 200"));
    led(&desk.write("/share/close", &[])?)?;
    // Whether the line is cut or answers 421: no page comes.
    let _ = std::io::Write::write_all(&mut line, &one);
    line.set_read_timeout(Some(Duration::from_secs(2))).map_err(|why| Trouble::odd(why.to_string()))?;
    let mut rest = Vec::new();
    let _ = std::io::Read::read_to_end(&mut line, &mut rest);
    let rest = String::from_utf8_lossy(&rest);
    assert_eq!(rest.matches("HTTP/1.1 200").count(), 0, "{}", rest.chars().take(200).collect::<String>());
    assert!(std::net::TcpStream::connect(&address).is_err(), "nobody listens");
    // The next time the same phone is in again without a code.
    led(&desk.write("/share/open", &[("address", "127.0.0.1"), ("name", HOUSE)])?)?;
    let page = desk.get("/share")?.text();
    let host = page.split(&format!("http://{HOUSE}:")).nth(1).and_then(|rest| rest.split('/').next()).unwrap_or("").to_owned();
    let request = Request::new("GET", "/trials").header("Host", &format!("{HOUSE}:{host}"));
    let key = phone.cookie.split('=').nth(1).unwrap_or("");
    let answer = send(&format!("127.0.0.1:{host}"), &request.header("Cookie", &format!("gp_{host}={key}")).bytes())?;
    assert_eq!(answer.status, 200);
    calm(&program)
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

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn what_is_no_address_or_name_of_the_house_is_not_shared() -> Result<(), Trouble> {
    let program = Program::start()?;
    let desk = Visitor::enter(&program)?;
    for (address, name) in [
        ("8.8.8.8", ""),
        ("0.0.0.0", ""),
        ("::", ""),
        ("kitchen", ""),
        ("127.0.0.1:80", ""),
        ("10.255.255.1", ""),
        ("127.0.0.1", "a b"),
        ("127.0.0.1", "localhost"),
        ("127.0.0.1", "8.8.8.8"),
        ("127.0.0.1", "x\r\nSet-Cookie: a=b"),
        (&"9".repeat(10_000), ""),
    ] {
        let answer = desk.write("/share/open", &[("address", address), ("name", name)])?;
        assert_eq!(answer.status, 422, "`{address}` `{name}`: {}", sentence(&answer));
        assert!(sentence(&answer).len() > 40);
    }
    assert!(!desk.get("/share")?.text().contains("http://"), "nothing is shared");
    led(&desk.write("/share/open", &[("address", "127.0.0.1")])?)?;
    calm(&program)
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn told_to_end_while_shared_it_ends_in_order_within_two_seconds() -> Result<(), Trouble> {
    for signal in ["TERM", "INT"] {
        let (program, desk) = begin()?;
        let phone = let_in(&program, &desk, NAME)?;
        let address = format!("127.0.0.1:{}", port(&program)?);
        let mut lines = Vec::new();
        for index in 0..20 {
            let mut line = std::net::TcpStream::connect(&address).map_err(|why| Trouble::odd(why.to_string()))?;
            let request = phone.request("GET", "/books").header("Connection", "keep-alive").bytes();
            let part = if index % 2 == 0 { &request[..] } else { &request[..30] };
            std::io::Write::write_all(&mut line, part).map_err(|why| Trouble::odd(why.to_string()))?;
            lines.push(line);
        }
        let (exit, took) = program.end(signal)?;
        assert!(exit.success() && took < Duration::from_secs(2), "{signal}: {exit} after {took:?}");
    }
    Ok(())
}
