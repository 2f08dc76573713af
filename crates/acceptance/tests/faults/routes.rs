//! Methods, headers and refusals of every address.

use acceptance::{Program, Request, Trouble, Visitor, send};

use crate::{FORMS, PAGES, TOLD};

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn methods_that_an_address_does_not_have() -> Result<(), Trouble> {
    let program = Program::start()?;
    let visitor = Visitor::enter(&program)?;
    // These are forms and nothing to look at.
    for form in ["/recipe/live", "/recipe/card.svg", "/recipe/card.png", "/failed/live"] {
        assert_eq!(visitor.get(form)?.status, 405, "GET {form}");
    }
    for page in PAGES.iter().filter(|page| !FORMS.contains(page)) {
        assert_eq!(visitor.post(page, &[])?.status, 405, "POST {page}");
    }
    for method in ["PUT", "DELETE", "PATCH", "OPTIONS", "TRACE", "BREW"] {
        for path in ["/", "/recipe", "/jars/natural-chalk"] {
            let status = visitor.send(&visitor.request(method, path))?.status;
            assert_eq!(status, 405, "{method} {path}");
        }
    }
    for page in PAGES {
        let answer = visitor.send(&visitor.request("HEAD", page))?;
        assert_eq!((answer.status, answer.body.len()), (200, 0), "HEAD {page}");
    }
    Ok(())
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn what_is_not_there_is_said() -> Result<(), Trouble> {
    let program = Program::start()?;
    let visitor = Visitor::enter(&program)?;
    let absent = [
        "/nowhere",
        "/jars/unobtainium",
        "/jars/natural-chalk/x",
        "/jars/..%2f..%2fetc%2fpasswd",
        "/assets/../Cargo.toml",
        "/jars/%00",
        "/%3Cscript%3E",
        "/jars/%F0%9F%A7%80",
        "//",
        "/recipe/",
    ];
    for path in absent {
        let answer = visitor.get(path)?;
        assert!([404, 400].contains(&answer.status), "{path}: {}", answer.status);
        assert!(!answer.text().contains("<script>"), "{path}");
    }
    assert!(visitor.get("/jars/unobtainium")?.text().contains("No jar"), "a jar that is not there has a sentence of its own");
    Ok(())
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn every_answer_carries_the_headers_that_seal_it() -> Result<(), Trouble> {
    let program = Program::start()?;
    let visitor = Visitor::enter(&program)?;
    let mut asked: Vec<(String, Request)> = PAGES.iter().map(|page| ((*page).to_owned(), visitor.request("GET", page))).collect();
    for asset in ["/assets/page.css", "/assets/face.css", "/assets/face.otf", "/assets/heavy.otf", "/favicon.ico"] {
        asked.push((asset.to_owned(), visitor.request("GET", asset)));
    }
    for form in FORMS {
        asked.push((
            format!("POST {form}"),
            visitor.request("POST", form).form(&[("token", &visitor.token), ("told", TOLD), ("told-2", TOLD)]),
        ));
        asked.push((format!("POST {form} without token"), visitor.request("POST", form).form(&[("told", TOLD)])));
    }
    asked.push(("404".to_owned(), visitor.request("GET", "/nowhere")));
    asked.push(("405".to_owned(), visitor.request("PUT", "/")));
    asked.push(("403".to_owned(), visitor.request("GET", "/").header("Cookie", "")));
    asked.push(("421".to_owned(), visitor.request("GET", "/").header("Host", "evil.example")));
    asked.push(("413".to_owned(), visitor.request("POST", "/recipe").form(&[("token", &visitor.token), ("told", &"x".repeat(70_000))])));
    for (what, request) in asked {
        let answer = send(program.address(), &request.bytes())?;
        let policy = answer.header("content-security-policy");
        for part in [
            "default-src 'none'",
            "script-src 'self'",
            "style-src 'self'",
            "form-action 'self'",
            "base-uri 'none'",
            "frame-ancestors 'none'",
        ] {
            assert!(policy.split(';').any(|each| each.trim() == part), "{what}: {part} is not in `{policy}`");
        }
        assert!(!policy.contains("unsafe"), "{what}: {policy}");
        assert_eq!(answer.header("x-content-type-options"), "nosniff", "{what}");
        assert_eq!(answer.header("referrer-policy"), "same-origin", "{what}");
        assert!(answer.headers.iter().all(|(name, _)| !name.starts_with("access-control-")), "{what}: no page elsewhere may read this");
        let lasts = answer.header("cache-control");
        assert!(lasts == "no-store" || what.contains("/assets/") || what.contains("favicon"), "{what}: {lasts}");
    }
    Ok(())
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn pictures_come_as_files_with_a_name() -> Result<(), Trouble> {
    let program = Program::start()?;
    let visitor = Visitor::enter(&program)?;
    for (path, kind) in [("/recipe/card.svg", "image/svg+xml"), ("/recipe/card.png", "image/png")] {
        let answer = visitor.post(path, &[("told", TOLD)])?;
        assert_eq!((answer.status, answer.header("content-type")), (200, kind));
        // As an attachment a drawing can't run anything in our own origin.
        assert!(answer.header("content-disposition").starts_with("attachment"), "{path}");
    }
    Ok(())
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn pages_hold_nothing_that_the_policy_refuses() -> Result<(), Trouble> {
    let program = Program::start()?;
    let visitor = Visitor::enter(&program)?;
    let mut pages: Vec<String> = PAGES
        .iter()
        .filter(|page| !page.starts_with("/assets"))
        .map(|page| Ok(visitor.get(page)?.text()))
        .collect::<Result<_, Trouble>>()?;
    for form in FORMS.iter().filter(|form| !form.contains("card.")) {
        pages.push(visitor.post(form, &[("told", TOLD), ("told-2", "100 g gypsum, 5 g hide glue, 90 g water")])?.text());
    }
    for page in pages {
        for word in [" style=", "<style", "onclick=", "onload=", "javascript:", "http://", "https://"] {
            // An address of a drawing's own language is a name, not a place.
            let rest = page.replace("http://www.w3.org/2000/svg", "");
            assert!(!rest.contains(word), "`{word}` in {}", rest.chars().take(300).collect::<String>());
        }
    }
    Ok(())
}
