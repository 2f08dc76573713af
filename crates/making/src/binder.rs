//! The steps on the way to a jar of binder.

use std::sync::OnceLock;

use crate::rows::{RowsError, rows};
use crate::time::{Minutes, Span};

/// What a binder stands as when a step is done; a dish tells of the one or the other.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum BinderStage {
    /// Milk, or curd that still changes.
    Milk,
    /// Curd, powder or glue by itself.
    Curd,
    /// Opened, in its jar.
    Jar,
}

/// A step of a road.
#[derive(Debug, Clone, PartialEq)]
pub struct BinderWay {
    /// `curd`, `bought`, `powder` or `glue`.
    pub road: String,
    /// `soda`, `borax` or `ammonia`; empty for all.
    pub base: String,
    /// Its name.
    pub step: String,
    /// What the binder stands as.
    pub stage: BinderStage,
    /// Whether it comes once for each rinse.
    pub each_rinse: bool,
    /// What to do, in a few words.
    pub short: String,
    /// What to do; `{amount}` stands for what to take.
    pub what: String,
    /// How long it waits then.
    pub wait: Option<Span>,
    /// What to take: `acid`, `whey`, `rinse`, `curd`, `base`, `water` or nothing.
    pub take: String,
    /// Figure that it rests on; may be empty.
    pub figure: String,
    /// What is worth measuring there.
    pub measure: Vec<String>,
    /// What can hurt, and where that comes from.
    pub caution: (String, String),
    /// Where it comes from.
    pub source: String,
}

/// The steps of a road in order; `base` is the family of what opens it.
///
/// # Errors
/// The data file is broken; a test keeps it sound.
///
/// ```
/// let steps = making::binder_ways("glue", "")?;
/// assert_eq!(steps.first().map(|step| step.step.as_str()), Some("soak"));
/// # Ok::<(), making::RowsError>(())
/// ```
pub fn binder_ways(road: &str, base: &str) -> Result<Vec<&'static BinderWay>, RowsError> {
    static ONCE: OnceLock<Result<Vec<BinderWay>, RowsError>> = OnceLock::new();
    let all = ONCE.get_or_init(|| parse(include_str!("../data/binder_steps.csv"), include_str!("../data/binder_cautions.csv")));
    let all = all.as_ref().map_err(Clone::clone)?;
    Ok(all.iter().filter(|way| way.road == road && (way.base.is_empty() || way.base == base)).collect())
}

const FILE: &str = "binder_steps.csv";
const HEAD: [&str; 15] = [
    "road",
    "base",
    "step",
    "stage",
    "repeat",
    "short",
    "do",
    "wait_low",
    "wait",
    "wait_high",
    "take",
    "figure",
    "measure",
    "caution",
    "source",
];

fn parse(steps: &str, cautions: &str) -> Result<Vec<BinderWay>, RowsError> {
    let cautions = rows("binder_cautions.csv", cautions, ["id", "text", "source"])?;
    let mut out = Vec::new();
    for (line, row) in rows(FILE, steps, HEAD)? {
        let [road, base, step, stage, repeat, short, what, low, usual, high, take, figure, measure, caution, source] = row;
        let wrong = |what: String| RowsError { file: FILE, line, what };
        let minutes = |text: &str| text.parse().map(Minutes::new).map_err(|_| wrong(format!("{text} is no number of minutes")));
        out.push(BinderWay {
            stage: match stage.as_str() {
                "milk" => BinderStage::Milk,
                "curd" => BinderStage::Curd,
                "jar" => BinderStage::Jar,
                other => return Err(wrong(format!("stage is milk, curd or jar, not {other}"))),
            },
            each_rinse: repeat == "rinses",
            wait: if usual.is_empty() { None } else { Some(Span { low: minutes(&low)?, usual: minutes(&usual)?, high: minutes(&high)? }) },
            measure: measure.split('|').filter(|one| !one.is_empty()).map(str::to_owned).collect(),
            caution: cautions
                .iter()
                .find(|(_, [id, ..])| *id == caution)
                .map(|(_, [_, text, source])| (text.clone(), source.clone()))
                .ok_or_else(|| wrong(format!("no caution is called {caution}")))?,
            road,
            base,
            step,
            short,
            what,
            take,
            figure,
            source,
        });
    }
    Ok(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_road_leads_to_a_jar() {
        for road in ["curd", "bought", "powder", "glue"] {
            for base in ["soda", "borax", "ammonia"] {
                let ways = binder_ways(road, base).unwrap();
                assert_eq!(ways.last().unwrap().step, "use", "{road} {base}");
                assert_eq!(ways.iter().filter(|way| way.step == "dissolve").count(), usize::from(road != "glue"));
                // No step goes back to an earlier stage, and every caution defers to rules.
                assert!(ways.windows(2).all(|two| two[0].stage <= two[1].stage));
                for way in ways {
                    assert_eq!(way.what.contains("{amount}"), !way.take.is_empty(), "{}", way.step);
                    assert!(way.caution.0.contains("local rules"), "{}", way.step);
                    assert!(way.wait.is_none_or(|wait| wait.low <= wait.usual && wait.usual <= wait.high));
                }
            }
        }
    }
}
