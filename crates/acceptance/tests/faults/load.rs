//! Crowds, and those who dawdle.

use std::io::{Read, Write};
use std::net::TcpStream;
use std::time::Duration;

use acceptance::{Program, Stopwatch, Trouble, Visitor};

use crate::TOLD;

/// What still counts as at once, on a machine with other work to do.
const AT_ONCE: Duration = Duration::from_secs(3);

fn connect(program: &Program) -> Result<TcpStream, Trouble> {
    TcpStream::connect(program.address()).map_err(|why| Trouble::odd(why.to_string()))
}

/// A page without the marks of its forms, which are fresh each time.
fn unmarked(page: &str) -> String {
    const MARK: &str = "name=\"once\" value=\"";
    let mut pieces = page.split(MARK);
    let first = pieces.next().unwrap_or("").to_owned();
    pieces.fold(first, |all, piece| all + MARK + piece.split_once('"').map_or(piece, |(_, rest)| rest))
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn two_hundred_at_once_all_get_the_same_answer() -> Result<(), Trouble> {
    let program = Program::start()?;
    let visitor = Visitor::enter(&program)?;
    let first = visitor.post("/recipe", &[("told", TOLD)])?;
    assert_eq!(first.status, 200);
    let answers: Vec<_> = std::thread::scope(|scope| {
        let asked: Vec<_> = (0..200)
            .map(|index| {
                let visitor = &visitor;
                scope.spawn(move || if index % 4 == 0 { visitor.get("/books") } else { visitor.post("/recipe", &[("told", TOLD)]) })
            })
            .collect();
        asked.into_iter().map(std::thread::ScopedJoinHandle::join).collect()
    });
    assert_eq!(answers.len(), 200);
    for (index, answer) in answers.into_iter().enumerate() {
        let answer = answer.map_err(|_| Trouble::odd("a thread fell over"))??;
        assert_eq!(answer.status, 200, "number {index}");
        if index % 4 != 0 {
            assert_eq!(unmarked(&answer.text()), unmarked(&first.text()), "number {index}");
        }
    }
    Ok(())
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn those_who_dawdle_hold_nobody_up() -> Result<(), Trouble> {
    let program = Program::start()?;
    let visitor = Visitor::enter(&program)?;
    let mut slow = Vec::new();
    for index in 0..50 {
        let mut stream = connect(&program)?;
        // Half a first line, half a head, half a body, or a line that only listens.
        let half = match index % 4 {
            0 => "GET / HT".to_owned(),
            1 => format!("GET / HTTP/1.1\r\nHost: {}\r\nCoo", program.address()),
            2 => format!(
                "POST /recipe HTTP/1.1\r\nHost: {0}\r\nOrigin: http://{0}\r\nCookie: {1}\r\nContent-Type: application/x-www-form-urlencoded\r\nContent-Length: 500\r\n\r\ntold=chalk",
                program.address(),
                visitor.cookie
            ),
            _ => String::new(),
        };
        stream.write_all(half.as_bytes()).map_err(|why| Trouble::odd(why.to_string()))?;
        slow.push(stream);
    }
    let started = Stopwatch::start();
    assert_eq!(visitor.post("/recipe", &[("told", TOLD)])?.status, 200);
    assert!(started.elapsed() < AT_ONCE, "{:?} while others dawdle", started.elapsed());
    // Those who hang up half-way leave nothing behind.
    drop(slow);
    assert_eq!(visitor.get("/")?.status, 200);
    Ok(())
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn one_who_does_not_read_the_answer_holds_nobody_up() -> Result<(), Trouble> {
    let program = Program::start()?;
    let visitor = Visitor::enter(&program)?;
    let mut deaf = connect(&program)?;
    let request = format!("GET /books HTTP/1.1\r\nHost: {}\r\nCookie: {}\r\n\r\n", program.address(), visitor.cookie);
    // Many requests in one breath, of which no answer is read until the others were served.
    deaf.write_all(request.repeat(200).as_bytes()).map_err(|why| Trouble::odd(why.to_string()))?;
    let started = Stopwatch::start();
    assert_eq!(visitor.get("/")?.status, 200);
    assert!(started.elapsed() < AT_ONCE, "{:?}", started.elapsed());
    let mut some = [0; 15];
    deaf.read_exact(&mut some).map_err(|why| Trouble::odd(why.to_string()))?;
    assert!(some.starts_with(b"HTTP/1.1 200"));
    Ok(())
}

#[test]
#[ignore = "starts the program many times: cargo xtask test"]
fn the_longest_text_that_is_taken_does_not_stop_others() -> Result<(), Trouble> {
    let program = Program::start()?;
    let visitor = Visitor::enter(&program)?;
    let long = "12 g chalk, 3 tsp glue and some more of it\n".repeat(95) + &"and stir it well all the while\n".repeat(1800);
    std::thread::scope(|scope| {
        // As many as the program has hands.
        let busy: Vec<_> = (0..2).map(|_| scope.spawn(|| visitor.post("/recipe", &[("told", &long)]))).collect();
        std::thread::sleep(Duration::from_millis(100));
        let started = Stopwatch::start();
        assert_eq!(visitor.get("/milk")?.status, 200);
        let waited = started.elapsed();
        for one in busy {
            let answer = one.join().map_err(|_| Trouble::odd("a thread fell over"))??;
            assert_eq!(answer.status, 200);
        }
        assert!(waited < AT_ONCE, "{waited:?} while long texts are read");
        Ok(())
    })
}
