//! Requests that are broken, too long, or full of markup.

use std::io::{Read, Write};
use std::net::TcpStream;
use std::time::Duration;

use acceptance::{Program, Trouble, Visitor, send};

use crate::{FORMS, TOLD};

const MARKUP: &str =
    "<script>alert(1)</script>\"'><img src=x onerror=alert(2)> 100 g chalk </textarea><svg onload=alert(3)> 9 g hide glue & 100 g water";

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn markup_comes_back_as_words() -> Result<(), Trouble> {
    let program = Program::start()?;
    let visitor = Visitor::enter(&program)?;
    for form in FORMS.iter().chain(&["/failed/live"]) {
        let names = [
            "told", "told-2", "wet", "coats", "milk", "acid", "powder", "base", "boards", "size", "warmth", "support", "dry", "fact",
            "tap.when", "with", "without", "shelf", "spoons", "panels", "edges", "sheet", MARKUP,
        ];
        // Each field in turn, so that none hides behind the refusal of another.
        for name in names {
            let right = [
                ("milk", "2 l skim milk"),
                ("acid", "1 lemon"),
                ("powder", "chalk"),
                ("base", "borax"),
                ("boards", "2"),
                ("coats", "2"),
                ("size", "20 x 25 cm"),
                ("told", TOLD),
                ("told-2", TOLD),
                ("asked", "yes"),
                ("panels", "5 x 60x80cm"),
            ];
            let mut fields: Vec<(&str, &str)> = right.into_iter().filter(|(each, _)| *each != name).collect();
            fields.push((name, MARKUP));
            let answer = visitor.post(form, &fields)?;
            let text = answer.text();
            assert!(answer.status < 500, "{form} {name}: {}", answer.status);
            for raw in ["<script>alert", "<img", "<svg onload", "</textarea><svg"] {
                assert!(!text.contains(raw), "{form} {name}: `{raw}` came back raw");
            }
        }
    }
    // The address itself, in a page that says it is not there.
    let page = visitor.get("/jars/%3Cscript%3Ealert(1)%3C%2Fscript%3E")?.text();
    assert!(!page.contains("<script>alert"));
    Ok(())
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn ten_megabytes_are_refused_with_a_sentence() -> Result<(), Trouble> {
    let program = Program::start()?;
    let visitor = Visitor::enter(&program)?;
    let ten = "chalk ".repeat(10 * 1024 * 1024 / 6);
    for form in FORMS {
        let answer = visitor.post(form, &[("told", &ten)])?;
        assert_eq!(answer.status, 413, "{form}");
        assert!(answer.text().contains("64 kB"), "{form}: {}", answer.text());
    }
    // Just above the limit of the text, far below the limit of a form.
    for form in ["/recipe", "/recipe/live", "/beside", "/failed"] {
        let answer = visitor.post(form, &[("told", &"a ".repeat(33 * 1024)), ("told-2", TOLD)])?;
        assert!(answer.text().contains("64 kB"), "{form}: {} {}", answer.status, answer.text());
    }
    assert_eq!(visitor.get("/")?.status, 200, "and the program goes on");
    Ok(())
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn broken_requests_break_nothing() -> Result<(), Trouble> {
    let program = Program::start()?;
    let visitor = Visitor::enter(&program)?;
    let host = program.address();
    let long_header = format!("GET / HTTP/1.1\r\nHost: {host}\r\nX: {}\r\n\r\n", "x".repeat(1 << 20));
    let many_headers = format!("GET / HTTP/1.1\r\nHost: {host}\r\n{}\r\n", "X: y\r\n".repeat(5000));
    let two_lengths = format!("POST /recipe HTTP/1.1\r\nHost: {host}\r\nContent-Length: 3\r\nContent-Length: 5\r\n\r\nabcde");
    let both = format!(
        "POST /recipe HTTP/1.1\r\nHost: {host}\r\nContent-Length: 3\r\nTransfer-Encoding: chunked\r\nConnection: close\r\n\r\n0\r\n\r\n"
    );
    let chunk = format!("POST /recipe HTTP/1.1\r\nHost: {host}\r\nTransfer-Encoding: chunked\r\n\r\nffffffffffffffffff\r\n");
    let broken: [&[u8]; 11] = [
        b"\r\n\r\n",
        b"GET\r\n\r\n",
        b"hello there\r\n\r\n",
        b"GET / HTTP/9.9\r\n\r\n",
        b"\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03",
        b"\xff\xfe\x00\x00\r\n\r\n",
        long_header.as_bytes(),
        many_headers.as_bytes(),
        two_lengths.as_bytes(),
        both.as_bytes(),
        chunk.as_bytes(),
    ];
    for bytes in broken {
        let mut stream = TcpStream::connect(host).map_err(|why| Trouble::odd(why.to_string()))?;
        let _ = stream.set_read_timeout(Some(Duration::from_millis(500)));
        let _ = stream.write_all(bytes);
        let mut answer = [0; 64];
        let count = stream.read(&mut answer).unwrap_or(0);
        let text = String::from_utf8_lossy(&answer[..count]);
        let fine = count == 0 || ["400", "403", "405", "411", "413", "421", "431", "501", "505"].iter().any(|code| text.contains(code));
        assert!(fine, "{}: {text}", String::from_utf8_lossy(bytes).chars().take(60).collect::<String>());
    }
    assert_eq!(visitor.get("/")?.status, 200, "and the program goes on");
    Ok(())
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn forms_that_are_no_forms_are_refused() -> Result<(), Trouble> {
    let program = Program::start()?;
    let visitor = Visitor::enter(&program)?;
    for form in FORMS {
        for kind in ["application/json", "text/plain", "multipart/form-data; boundary=x", ""] {
            let answer = visitor
                .send(&visitor.request("POST", form).form(&[("token", &visitor.token), ("told", TOLD)]).header("Content-Type", kind))?;
            assert!((400..500).contains(&answer.status), "{form} as `{kind}`: {}", answer.status);
        }
        // Bytes that are no UTF-8, in a name, in a value, and percent signs with nothing behind them.
        for body in ["told=%FF%FE", "%FF=x", "told=%", "told=%G1", "&&&===", "token"] {
            let head = format!(
                "POST {form} HTTP/1.1\r\nHost: {0}\r\nOrigin: http://{0}\r\nCookie: {1}\r\nContent-Type: application/x-www-form-urlencoded\r\nConnection: close\r\nContent-Length: ",
                program.address(),
                visitor.cookie
            );
            let whole = format!("token={}&{body}", visitor.token);
            let answer = send(program.address(), format!("{head}{}\r\n\r\n{whole}", whole.len()).as_bytes())?;
            assert!(answer.status < 500, "{form} `{body}`: {}", answer.status);
        }
    }
    Ok(())
}
