//! A making day step by step, for somebody who never did it.

use std::sync::OnceLock;

use serde::Serialize;

use crate::rows::{RowsError, rows};
use crate::{Minutes, Span};

/// One step of the day.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct WalkStep {
    /// Its name, which the picture has too.
    pub key: String,
    /// What to do, in a sentence.
    pub says: String,
    /// What to look for.
    pub look: String,
    /// What goes in: `milk`, `acid`, `base`, `powder`, `water`.
    pub take: Vec<String>,
    /// How long hands are busy.
    pub hands: Span,
    /// How long it then stands or dries.
    pub stands: Span,
    /// What can hurt, or hurt the boards.
    pub caution: String,
    /// Where it comes from.
    pub source: String,
}

const FILE: &str = "walk.csv";

/// The steps in their order.
///
/// # Errors
/// The data file is broken; a test keeps it sound.
///
/// ```
/// let steps = making::walk()?;
/// assert_eq!(steps.first().map(|step| step.key.as_str()), Some("curd"));
/// # Ok::<(), making::RowsError>(())
/// ```
pub fn walk() -> Result<&'static [WalkStep], RowsError> {
    static ONCE: OnceLock<Result<Vec<WalkStep>, RowsError>> = OnceLock::new();
    ONCE.get_or_init(|| parse(include_str!("../data/walk.csv"))).as_deref().map_err(Clone::clone)
}

fn parse(text: &str) -> Result<Vec<WalkStep>, RowsError> {
    let head =
        ["key", "says", "look", "take", "hands_low", "hands", "hands_high", "stands_low", "stands", "stands_high", "caution", "source"];
    let mut out = Vec::new();
    for (line, [key, says, look, take, a, b, c, d, e, f, caution, source]) in rows(FILE, text, head)? {
        let span = |low: &str, usual: &str, high: &str| {
            let minutes = |text: &str| text.parse().ok().filter(|count| (0..=1440).contains(count)).map(Minutes::new);
            let whole = minutes(low).zip(minutes(usual)).zip(minutes(high)).filter(|((low, usual), high)| low <= usual && usual <= high);
            let wrong = || RowsError { file: FILE, line, what: "three whole minutes that rise are wanted".into() };
            whole.map(|((low, usual), high)| Span { low, usual, high }).ok_or_else(wrong)
        };
        out.push(WalkStep {
            hands: span(&a, &b, &c)?,
            stands: span(&d, &e, &f)?,
            take: take.split('|').filter(|one| !one.is_empty()).map(str::to_owned).collect(),
            key,
            says,
            look,
            caution,
            source,
        });
    }
    Ok(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_step_has_its_time_and_its_caution() {
        let steps = walk().unwrap();
        for step in steps {
            assert!(step.hands.usual > Minutes::ZERO && step.caution.contains("safety data sheet and local rules"), "{}", step.key);
            assert!(!step.says.is_empty() && !step.look.is_empty() && !step.source.is_empty());
        }
        // By hand: 35+90 + 50+600 the evening before, then 30+15 + 20+30 + 15 + 32+75 + 2 + 32+75 + 30 = 775 + 356 minutes.
        let all: Minutes = steps.iter().map(|step| step.hands.usual + step.stands.usual).sum();
        assert_eq!(all.count(), 775 + 356);
    }

    #[test]
    fn the_curd_takes_as_long_as_in_the_table_of_preparations() {
        let (steps, shelf) = (walk().unwrap(), crate::TimeShelf::builtin().unwrap());
        let step = |key: &str| steps.iter().find(|step| step.key == key).unwrap();
        let made = |key: &str| shelf.preparations("casein_soda", "milk").find(|one| one.key == key).unwrap();
        let both = |a: Span, b: Span| Span { low: a.low + b.low, usual: a.usual + b.usual, high: a.high + b.high };
        assert_eq!(step("curd").hands, both(made("curdle").hands_on, made("drain").hands_on));
        assert_eq!(step("curd").stands, both(made("curdle").stands, made("drain").stands));
        assert_eq!((step("rinse").hands, step("rinse").stands), (made("wash").hands_on, made("wash").stands));
        assert_eq!(step("open").hands, both(made("break").hands_on, made("dissolve").hands_on));
        assert_eq!(step("open").stands, made("dissolve").stands);
    }

    #[test]
    fn a_broken_row_names_its_line() {
        let head = "key,says,look,take,hands_low,hands,hands_high,stands_low,stands,stands_high,caution,source\n";
        let error = parse(&format!("{head}curd,a,b,,30,20,30,0,0,0,c,d\n")).unwrap_err();
        assert_eq!((error.file, error.line), ("walk.csv", 2));
    }
}
