//! Taps that are broken, foreign, too many, too late or sent twice.

use acceptance::{Answer, Program, Trouble, Visitor};
use serde_json::{Value, json};

use crate::day::{begin_a_day, clock_ms, written};
use crate::notes::{calm, folder};

struct Kitchen {
    // Gone with the value, and after the program.
    program: Program,
    visitor: Visitor,
    sitting: String,
    place: tempfile::TempDir,
}

impl Kitchen {
    fn open() -> Result<Self, Trouble> {
        let place = folder()?;
        let (_, sitting) = begin_a_day(place.path())?;
        let program = Program::start_in(place.path())?;
        let visitor = Visitor::enter(&program)?;
        Ok(Self { program, visitor, sitting, place })
    }

    fn send(&self, body: impl Into<Vec<u8>>) -> Result<Answer, Trouble> {
        self.visitor.send(&self.visitor.request("POST", "/taps").json(body))
    }

    fn taps(&self, taps: &[Value]) -> Result<Answer, Trouble> {
        let body = json!({ "token": self.visitor.token, "sitting": self.sitting, "phone_ms": clock_ms(), "taps": taps });
        self.send(body.to_string())
    }

    /// What became of each.
    fn outcomes(&self, taps: &[Value]) -> Result<Vec<(String, String)>, Trouble> {
        let answer = self.taps(taps)?;
        assert_eq!(answer.status, 200, "{}", answer.text());
        let view = read(&answer)?;
        let text = |value: &Value| value.as_str().unwrap_or("").to_owned();
        Ok(view["outcomes"].as_array().into_iter().flatten().map(|one| (text(&one["outcome"]), text(&one["why"]))).collect())
    }

    /// The step that is to be done first.
    fn first(&self) -> Result<String, Trouble> {
        let view = read(&self.visitor.get("/now/data")?)?;
        let step = view["now"]["steps"][0]["id"].as_str();
        step.map(str::to_owned).ok_or_else(|| Trouble::odd(format!("no step: {view}")))
    }

    fn written(&self) -> Result<usize, Trouble> {
        Ok(written(self.place.path())?.taps_of(&self.sitting).len())
    }
}

fn read(answer: &Answer) -> Result<Value, Trouble> {
    serde_json::from_slice(&answer.body).map_err(|why| Trouble::odd(format!("no JSON ({why}): {}", answer.text())))
}

/// A tap whose name shares nothing with those of the entries that the day was begun with.
fn tap(number: u64, step: &str) -> Value {
    json!({ "id": format!("{:032x}", 0x7a90_0000 + number), "seq": number, "step": step, "kind": "done", "at": clock_ms(), "seen": 0, "of": "", "wet_g": "" })
}

/// One sentence as JSON.
fn refused(answer: &Answer, status: u16, what: &str) -> Result<(), Trouble> {
    assert_eq!(answer.status, status, "{what}: {}", answer.text());
    let why = read(answer)?["why"].as_str().unwrap_or("").to_owned();
    assert!(why.len() > 20 && why.ends_with('.') && !why.contains("panicked"), "{what}: {why}");
    Ok(())
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn what_is_no_message_of_taps_is_refused_with_a_sentence() -> Result<(), Trouble> {
    let kitchen = Kitchen::open()?;
    let token = kitchen.visitor.token.clone();
    let mut bodies: Vec<Vec<u8>> =
        ["", "{", "[]", "null", "7", "{}", "{\"sitting\":1}", "token=1&sitting=2"].map(|text| text.as_bytes().to_vec()).to_vec();
    bodies.push(vec![0xff, 0xfe, 0x00, 0x80]);
    bodies.push("[".repeat(20_000).into_bytes());
    for (field, value) in
        [("taps", json!("all")), ("taps", json!([7])), ("phone_ms", json!("noon")), ("phone_ms", json!(1e300)), ("sitting", json!(null))]
    {
        let mut body = json!({ "token": token, "sitting": kitchen.sitting, "phone_ms": 0, "taps": [] });
        body[field] = value;
        bodies.push(body.to_string().into_bytes());
    }
    for body in bodies {
        let what = String::from_utf8_lossy(&body).chars().take(80).collect::<String>();
        refused(&kitchen.send(body)?, 400, &what)?;
    }
    let stranger = json!({ "token": "0", "sitting": kitchen.sitting, "phone_ms": 0, "taps": [] });
    refused(&kitchen.send(stranger.to_string())?, 403, "a wrong token")?;
    let step = kitchen.first()?;
    for many in [51, 10_000] {
        let taps: Vec<Value> = (0..many).map(|number| tap(number, &step)).collect();
        refused(&kitchen.taps(&taps)?, 413, &format!("{many} taps"))?;
    }
    assert_eq!(kitchen.written()?, 0);
    calm(&kitchen.program)
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn each_tap_is_judged_alone() -> Result<(), Trouble> {
    let kitchen = Kitchen::open()?;
    let step = kitchen.first()?;
    let mut odd = tap(2, &step);
    odd["kind"] = json!("perhaps");
    let mut nameless = tap(3, &step);
    nameless["id"] = json!("short");
    let mut heavy = tap(4, &step);
    heavy["wet_g"] = json!("a lot");
    let long = tap(5, &"lay:".repeat(2_000));
    let outcomes = kitchen.outcomes(&[tap(1, "lay:99:1"), odd, nameless, heavy, long, tap(6, &step)])?;
    for (outcome, why) in outcomes.iter().take(5) {
        assert!(outcome == "refused" && why.len() > 20 && why.len() < 400, "{outcome}: {why}");
    }
    assert_eq!(outcomes.last().map(|(outcome, _)| outcome.as_str()), Some("stored"), "{outcomes:?}");
    // A day that is not there.
    let body = json!({ "token": kitchen.visitor.token, "sitting": "sitting-of-nobody", "phone_ms": clock_ms(), "taps": [tap(7, &step)] });
    let answer = kitchen.send(body.to_string())?;
    assert_eq!((answer.status, &read(&answer)?["outcomes"][0]["outcome"]), (200, &json!("refused")));
    assert_eq!(kitchen.written()?, 1);
    calm(&kitchen.program)
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn a_tap_that_comes_again_or_out_of_order_is_written_once() -> Result<(), Trouble> {
    let kitchen = Kitchen::open()?;
    let first = kitchen.first()?;
    let again = tap(5, &first);
    assert_eq!(
        kitchen.outcomes(&[again.clone(), again.clone()])?.iter().map(|(outcome, _)| outcome.as_str()).collect::<Vec<_>>(),
        ["stored", "had it"]
    );
    // An older number comes late: it is written too, and the highest stays the highest.
    let second = kitchen.first()?;
    let answer = read(&kitchen.taps(&[tap(3, &second)])?)?;
    assert_eq!((&answer["outcomes"][0]["outcome"], &answer["highest"]), (&json!("stored"), &json!(5)));
    for _ in 0..3 {
        assert_eq!(kitchen.outcomes(&[again.clone()])?, [("had it".to_owned(), String::new())]);
    }
    assert_eq!(kitchen.written()?, 2);
    // The ends of what numbers can hold.
    let third = kitchen.first()?;
    for (number, at) in [(i64::MIN, i64::MAX), (i64::MAX, i64::MIN)] {
        let mut far = tap(9, &third);
        far["at"] = json!(at);
        far["seq"] = json!(u64::MAX);
        let body = json!({ "token": kitchen.visitor.token, "sitting": kitchen.sitting, "phone_ms": number, "taps": [far] });
        let answer = kitchen.send(body.to_string())?;
        assert_eq!(answer.status, 200, "{}", answer.text());
    }
    assert_eq!(kitchen.visitor.get("/now")?.status, 200);
    calm(&kitchen.program)
}
