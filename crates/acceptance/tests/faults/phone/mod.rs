//! Phones at the second door: codes, keys, Host, Origin, tokens, and what must not work across doors.

mod codes;
mod doors;
mod keys;

use acceptance::{Answer, HOUSE, Program, Trouble, Visitor};

use crate::notes::{led, sentence};

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
