//! Who may come in: 128-bit key used once, cookie, Host, Origin, token.

use acceptance::{Program, Request, Trouble, Visitor, send};

use crate::{FORMS, PAGES, TOLD};

fn status(program: &Program, request: &Request) -> Result<u16, Trouble> {
    Ok(send(program.address(), &request.bytes())?.status)
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn a_wrong_or_absent_key_opens_nothing() -> Result<(), Trouble> {
    let program = Program::start()?;
    let key = program.entrance().rsplit('=').next().unwrap_or("").to_owned();
    assert_eq!(key.len(), 32, "128 bits in hexadecimal");
    let upper = key.to_uppercase();
    let wrong = [
        "",
        "/",
        "?",
        "?key",
        "?key=",
        "?key=0",
        &format!("?key={}", "0".repeat(32)),
        &format!("?other={key}"),
        &format!("?key={key}0"),
        &format!("?key={}", &key[1..]),
    ];
    for query in wrong {
        let answer = send(program.address(), &Request::new("GET", &format!("/enter{query}")).header("Host", program.address()).bytes())?;
        let expected = if query == "/" { [403, 404] } else { [403, 403] };
        assert!(expected.contains(&answer.status), "{query}: {}", answer.status);
        assert_eq!(answer.header("set-cookie"), "", "{query}");
    }
    // A key is compared letter by letter; in capitals it is another one unless it has none.
    if upper != key {
        assert_eq!(status(&program, &Request::new("GET", &format!("/enter?key={upper}")).header("Host", program.address()))?, 403);
    }
    // All those tries did not use the right one up.
    Visitor::enter(&program).map(drop)
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn a_key_opens_once() -> Result<(), Trouble> {
    let program = Program::start()?;
    let visitor = Visitor::enter(&program)?;
    let again = Request::new("GET", &program.entrance().replace(&program.url(""), "")).header("Host", program.address());
    let answer = send(program.address(), &again.bytes())?;
    assert_eq!((answer.status, answer.header("set-cookie")), (403, ""));
    assert!(answer.text().contains("used already"));
    // Who is inside and goes back to the address is led to the first page.
    assert_eq!(status(&program, &again.header("Cookie", &visitor.cookie))?, 303);
    // Two programs, two keys.
    assert_ne!(Program::start()?.entrance(), program.entrance());
    Ok(())
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn two_who_use_one_key_at_once_do_not_both_get_in() -> Result<(), Trouble> {
    let program = Program::start()?;
    let path = program.entrance().replace(&program.url(""), "");
    let request = Request::new("GET", &path).header("Host", program.address()).bytes();
    let inside = std::thread::scope(|scope| {
        let tries: Vec<_> = (0..16).map(|_| scope.spawn(|| send(program.address(), &request))).collect();
        tries.into_iter().filter_map(|one| one.join().ok()?.ok()).filter(|answer| !answer.header("set-cookie").is_empty()).count()
    });
    assert_eq!(inside, 1);
    Ok(())
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn the_cookie_is_for_this_program_alone() -> Result<(), Trouble> {
    let program = Program::start()?;
    let path = program.entrance().replace(&program.url(""), "");
    let answer = send(program.address(), &Request::new("GET", &path).header("Host", program.address()).bytes())?;
    let cookie = answer.header("set-cookie");
    // Cookies know no ports (RFC 6265, 8.5): the name must.
    assert!(cookie.starts_with(&format!("gp_{}=", program.port())), "{cookie}");
    for part in ["HttpOnly", "SameSite=Lax", "Path=/"] {
        assert!(cookie.contains(part), "{cookie}");
    }
    // Over plain HTTP a cookie marked Secure would be lost outside loopback.
    assert!(!cookie.contains("Secure") && !cookie.contains("Domain"), "{cookie}");
    Ok(())
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn without_the_cookie_every_route_is_shut() -> Result<(), Trouble> {
    let program = Program::start()?;
    let visitor = Visitor::enter(&program)?;
    let value = visitor.cookie.split('=').nth(1).unwrap_or("");
    let other_name = format!("gp_1={value}");
    let cut = visitor.cookie[..visitor.cookie.len() - 1].to_owned();
    for cookie in ["", "gp=1", &other_name, &cut, &format!("gp_{}=", program.port())] {
        for page in PAGES.iter().chain(&["/nowhere", "/recipe/live", "/favicon.ico"]) {
            assert_eq!(status(&program, &visitor.request("GET", page).header("Cookie", cookie))?, 403, "{page} with `{cookie}`");
        }
        for form in FORMS {
            let request = visitor.request("POST", form).form(&[("token", &visitor.token), ("told", TOLD)]).header("Cookie", cookie);
            assert_eq!(status(&program, &request)?, 403, "{form} with `{cookie}`");
        }
    }
    // Among other people's cookies ours is found.
    let crowd = format!("a=b; {}; c=d", visitor.cookie);
    assert_eq!(status(&program, &visitor.request("GET", "/").header("Cookie", &crowd))?, 200);
    Ok(())
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn another_name_for_this_computer_is_turned_away() -> Result<(), Trouble> {
    let program = Program::start()?;
    let visitor = Visitor::enter(&program)?;
    let port = program.port();
    let hosts = [
        "",
        "127.0.0.1",
        "localhost",
        "evil.example",
        &format!("localhost:{port}"),
        &format!("evil.example:{port}"),
        &format!("127.0.0.1.evil.example:{port}"),
        &format!("127.0.0.1:{port}0"),
        "127.0.0.1:1",
    ];
    for host in hosts {
        for request in [visitor.request("GET", "/"), visitor.request("POST", "/recipe").form(&[("token", &visitor.token), ("told", TOLD)])]
        {
            let answer = send(program.address(), &request.header("Host", host).bytes())?;
            // Without any Host a server may also refuse the request as such (RFC 9112, 3.2).
            assert!(answer.status == 421 || (host.is_empty() && answer.status == 400), "`{host}`: {}", answer.status);
        }
    }
    Ok(())
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn a_form_from_another_page_is_refused() -> Result<(), Trouble> {
    let program = Program::start()?;
    let visitor = Visitor::enter(&program)?;
    let origins = [
        "",
        "null",
        "http://evil.example",
        "http://127.0.0.1",
        "http://127.0.0.1:1",
        &format!("https://{}", program.address()),
        &format!("http://localhost:{}", program.port()),
        &format!("{}/", program.url("")),
        &format!("{}.evil.example", program.url("")),
    ];
    for form in FORMS {
        let fields = [
            ("token", visitor.token.as_str()),
            ("told", TOLD),
            ("told-2", TOLD),
            ("milk", "2 l skim milk"),
            ("glue", "70 g hide glue"),
            ("water", "1000"),
            ("missing", "10 g borax"),
            ("sight", "thick"),
            ("powder", "chalk"),
            ("base", "borax"),
            ("boards", "2"),
            ("coats", "2"),
            ("size", "20 x 25 cm"),
        ];
        let right = visitor.request("POST", form).form(&fields);
        assert_eq!(status(&program, &right)?, 200, "{form}, all in order");
        for origin in origins {
            assert_eq!(status(&program, &right.clone().header("Origin", origin))?, 403, "{form} from `{origin}`");
        }
        for token in ["", "0", &"0".repeat(32)] {
            let request = visitor.request("POST", form).form(&[("token", token), ("told", TOLD)]);
            assert_eq!(status(&program, &request)?, 403, "{form} with the token `{token}`");
        }
        assert_eq!(status(&program, &visitor.request("POST", form).form(&[("told", TOLD)]))?, 403, "{form} without a token");
    }
    Ok(())
}
