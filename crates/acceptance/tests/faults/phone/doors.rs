//! What stays shut: before a phone is in, across doors, from elsewhere, and once sharing ends.

use std::time::Duration;

use acceptance::{HOUSE, Program, Request, Trouble, Visitor, send};

use super::{NAME, begin, let_in, port};
use crate::notes::{RECIPE, calm, count, entries, led, png, sentence, trial};

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
    let cookies =
        ["".to_owned(), format!("gp_{port}="), format!("gp_{port}={}", "0".repeat(64)), format!("gp_{port}_ask={}", "0".repeat(32))];
    for cookie in cookies {
        for shut in [
            "/",
            "/trials",
            &board,
            "/kept",
            "/notebook",
            "/share",
            "/share/news",
            "/enter",
            "/example",
            "/assets/page.css",
            "/assets/face.otf",
            "/nowhere",
        ] {
            let answer = phone.send(&phone.request("GET", shut).header("Cookie", &cookie))?;
            assert_eq!(answer.status, 404, "{shut} with `{cookie}`");
            assert!(
                answer.header("content-security-policy").contains("default-src 'none'")
                    && answer.header("access-control-allow-origin").is_empty()
            );
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
        for request in
            [phone.request("GET", "/pair"), phone.request("GET", "/trials"), phone.request("POST", "/pair").form(&[("name", NAME)])]
        {
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
    let origins = [
        "",
        "null",
        "http://evil.example",
        &format!("http://{HOUSE}"),
        &format!("https://{}", program.phone_host()?),
        &program.url(""),
        &format!("http://{HOUSE}:1"),
    ];
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
    assert_eq!(
        entries(program.studio())?.last().map(|change| change.entry.device.clone()).as_deref(),
        Some(NAME),
        "the entry says who wrote it"
    );
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
