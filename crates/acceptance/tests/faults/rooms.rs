//! Every address of the program, taken from its own table: the door, the seal and the methods.

use std::collections::BTreeMap;

use acceptance::{Program, Request, Trouble, Visitor, send};

use crate::notes::{Furnished, calm, count, furnish, sentence};

const ROUTES: &str = include_str!("../../../web/src/routes.rs");

/// Addresses of the table with real names in them, and whether they can be looked at and written to.
fn rooms(at: &Furnished) -> Result<BTreeMap<String, (bool, bool)>, Trouble> {
    let real = [
        ("/kept/{subject}", &at.recipe),
        ("/kept-failed/{subject}", &at.failed),
        ("/shelf/{subject}", &at.jar),
        ("/binder/{id}", &at.binder),
        ("/trials/{subject}", &at.trial),
        ("/board/{id}", &at.board),
        ("/photo/{name}", &at.photo),
        ("/photos/{photo}", &at.sight),
        ("/papers/{subject}", &at.paper),
    ];
    let mut found = BTreeMap::new();
    for line in ROUTES.lines().filter_map(|line| line.trim().strip_prefix(".route(\"")) {
        let (pattern, methods) = line.split_once('"').ok_or_else(|| Trouble::odd("a route without an end"))?;
        let mut path =
            pattern.replace("/jars/{id}", "/jars/natural-chalk").replace("/pot/{letter}", "/pot/A").replace("/day/{n}", "/day/1");
        for (shape, with) in real {
            path = path.replace(shape, with);
        }
        // A photo beside itself: two that can be compared are walked in the browser.
        path = path.replace("{other}", at.sight.trim_start_matches("/photos/")).replace("{which}", "new.jpg");
        if path.contains('{') {
            return Err(Trouble::odd(format!("{pattern}: say in this check what stands for the braces")));
        }
        // What only phones have is asked in `phone.rs`.
        if !path.starts_with("/assets") && !path.starts_with("/pair") && path != "/enter" {
            found.insert(path, (methods.contains("get("), methods.contains("post(")));
        }
    }
    Ok(found)
}

fn status(program: &Program, request: &Request) -> Result<u16, Trouble> {
    Ok(send(program.address(), &request.bytes())?.status)
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn every_page_is_behind_the_door_and_sealed() -> Result<(), Trouble> {
    let program = Program::start()?;
    let visitor = Visitor::enter(&program)?;
    let rooms = rooms(&furnish(&visitor)?)?;
    assert!(rooms.len() > 40, "{}", rooms.len());
    for (path, _) in rooms.iter().filter(|(_, (look, _))| *look) {
        let answer = visitor.get(path)?;
        assert!([200, 303, 409, 422].contains(&answer.status), "{path}: {} {}", answer.status, sentence(&answer));
        let policy = answer.header("content-security-policy");
        assert!(policy.contains("default-src 'none'") && !policy.contains("unsafe"), "{path}: {policy}");
        assert_eq!((answer.header("x-content-type-options"), answer.header("referrer-policy")), ("nosniff", "same-origin"), "{path}");
        if answer.header("content-type").starts_with("text/html") {
            assert_eq!(answer.header("cache-control"), "no-store", "{path}");
            let page = answer.text().replace("http://www.w3.org/2000/svg", "");
            for word in [" style=", "<style", "onclick=", "onload=", "javascript:", "http://", "https://"] {
                assert!(!page.contains(word), "{path}: `{word}`");
            }
        }
        let head = visitor.send(&visitor.request("HEAD", path))?;
        assert_eq!((head.status, head.body.len()), (answer.status, 0), "HEAD {path}");
        assert_eq!(status(&program, &visitor.request("GET", path).header("Cookie", ""))?, 403, "{path} without the cookie");
        assert_eq!(status(&program, &visitor.request("GET", path).header("Host", "evil.example"))?, 421, "{path} by another name");
        for method in ["PUT", "DELETE", "PATCH"] {
            assert_eq!(status(&program, &visitor.request(method, path))?, 405, "{method} {path}");
        }
    }
    calm(&program)
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn every_form_is_behind_the_door_and_writes_nothing_from_elsewhere() -> Result<(), Trouble> {
    let program = Program::start()?;
    let visitor = Visitor::enter(&program)?;
    let rooms = rooms(&furnish(&visitor)?)?;
    let before = count(&program)?;
    for (path, (look, _)) in rooms.iter().filter(|(_, (_, write))| *write) {
        let sent = |token: &str| {
            let fields = [("token", token), ("told", crate::TOLD), ("name", "from elsewhere"), ("material", "natural-chalk")];
            let request = visitor.request("POST", path);
            match path.as_str() {
                "/taps" => request.json(serde_json::json!({ "token": token, "sitting": "", "phone_ms": 0, "taps": [] }).to_string()),
                photo if ["/photo", "/photos", "/photos/one"].iter().any(|end| photo.ends_with(end)) => request.upload(&fields, None),
                _ => request.form(&fields),
            }
        };
        let right = sent(&visitor.token);
        for origin in ["", "null", "http://evil.example", "http://127.0.0.1:1"] {
            assert_eq!(status(&program, &right.clone().header("Origin", origin))?, 403, "{path} from `{origin}`");
        }
        assert_eq!(status(&program, &right.clone().header("Cookie", ""))?, 403, "{path} without the cookie");
        assert_eq!(status(&program, &right.clone().header("Host", "evil.example"))?, 421, "{path} by another name");
        for token in ["", "0", &visitor.token[1..]] {
            assert_eq!(status(&program, &sent(token))?, 403, "{path} with the token `{token}`");
        }
        if !look {
            assert_eq!(visitor.get(path)?.status, 405, "GET {path}");
        }
    }
    assert_eq!(count(&program)?, before);
    calm(&program)
}
