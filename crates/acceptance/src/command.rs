//! The program as a command: text in, text out, a number at the end.

use std::io::Write;
use std::process::{Command, Stdio};

use serde_json::Value;

use crate::Trouble;
use crate::program::path;

/// What a command said.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Said {
    /// Exit code; none when a signal ended it.
    pub code: Option<i32>,
    /// Standard output.
    pub out: String,
    /// Standard error.
    pub complaint: String,
}

impl Said {
    /// The output as JSON.
    ///
    /// # Errors
    /// It is none.
    pub fn json(&self) -> Result<Value, Trouble> {
        serde_json::from_str(&self.out).map_err(|e| Trouble::odd(format!("no JSON ({e}): {}{}", self.out, self.complaint)))
    }
}

/// Runs the program with these words, gives it `input` and waits.
///
/// # Errors
/// It can't be started, or it writes something that is not UTF-8.
pub fn run(words: &[&str], input: &[u8]) -> Result<Said, Trouble> {
    let mut child = Command::new(path()?)
        .args(words)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .map_err(Trouble::system("starting the program"))?;
    let pipe = child.stdin.take();
    // Fed from beside: a long input and a long answer would else wait for each other. A program that has heard enough hangs up.
    let output = std::thread::scope(|scope| {
        scope.spawn(|| pipe.map(|mut pipe| pipe.write_all(input)));
        child.wait_with_output()
    })
    .map_err(Trouble::system("waiting for the answer"))?;
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).map_err(|_| Trouble::odd("the program wrote bytes that are not UTF-8"));
    Ok(Said { code: output.status.code(), out: text(output.stdout)?, complaint: text(output.stderr)? })
}
