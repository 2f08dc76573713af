//! Prints invented days and the best order of each as JSON: what is asked, when it ends, whether that is proven, or why it can't be. A
//! general solver is asked the same, see `reference/`.

use std::io::Write;

#[path = "../tests/common/mod.rs"]
mod common;

use common::{Dice, Size, day, wants_pauses};
use making::{Clock, Found, work};

const DAYS: usize = 36;

fn main() -> std::io::Result<()> {
    let mut dice = Dice(20_240_611);
    let mut told = Vec::new();
    while told.len() < DAYS {
        let tight = told.len() % 3 != 2;
        let mut asked = day(&mut dice, Size { pots: 4, coats: 4, boards: 6, preparations: 0, tight });
        // Days of some size; lives of hours, so that most can be kept.
        for pot in &mut asked.pots {
            pot.life.low = pot.life.low.times(3);
        }
        asked.ends = Clock::new(100_000);
        if asked.pots.len() < 3 || asked.pots.iter().any(wants_pauses) {
            continue;
        }
        let answer = match work(&asked) {
            Ok(worked) => serde_json::json!({ "ends": worked.ends, "best": worked.found == Found::Best }),
            Err(error) => serde_json::json!({ "error": error.to_string() }),
        };
        told.push(serde_json::json!({ "asked": asked, "answer": answer }));
    }
    writeln!(std::io::stdout().lock(), "{}", serde_json::Value::Array(told))
}
