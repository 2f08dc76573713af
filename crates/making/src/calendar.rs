//! The calendar of a trial in days: soak, size, coats, dry, condition, test.
//!
//! The critical path by a pass forward and a pass back (Kelley and Walker 1959, "Critical-path planning and scheduling").

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

/// Days: if it goes quickly, as usual, slowly.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct Days {
    /// Quickly.
    pub low: u32,
    /// As usual.
    pub usual: u32,
    /// Slowly.
    pub high: u32,
}

/// Something that takes days.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct Stage {
    /// Its name, such as `dry`.
    pub key: String,
    /// How long it takes.
    pub days: Days,
    /// What must be over before it begins.
    pub after: Vec<String>,
}

/// A stage with its days, counted from the first day as 0.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct StageDays {
    /// Its name.
    pub key: String,
    /// Earliest begin: if all before it goes quickly, as usual, slowly.
    pub begins: Days,
    /// Earliest end, likewise: the first day on which what follows may begin.
    pub done: Days,
    /// Latest usual begin that does not move the end.
    pub latest_begin: u32,
    /// Latest usual end that does not move the end.
    pub latest_done: u32,
}

/// All stages with their days.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Calendar {
    /// In the order in which they were given.
    pub stages: Vec<StageDays>,
    /// Days in all. The ends assume that everything goes quickly, or everything slowly, so they are rarely reached.
    pub days: Days,
    /// Stages none of which may last a day longer than usual without moving the end, first to last.
    pub chain: Vec<String>,
}

/// Why there is no calendar.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum CalendarError {
    /// It waits for something that is not there.
    #[error("`{stage}` waits for `{missing}`, which is no stage of this calendar; name one of its stages")]
    Missing {
        /// Which waits.
        stage: String,
        /// For what.
        missing: String,
    },
    /// Two have one name.
    #[error("two stages are called `{stage}`; give each its own name")]
    Twice {
        /// The name.
        stage: String,
    },
    /// Stages wait for each other.
    #[error("`{stage}` waits for itself by way of what it waits for; take one of the waits out")]
    Circle {
        /// One of them.
        stage: String,
    },
}

/// Earliest and latest days of stages that may overlap where they don't wait for each other.
///
/// # Errors
/// [`CalendarError`]: a name that is missing or given twice, or waits in a circle.
///
/// ```
/// use making::{Days, Stage, calendar};
/// let stage = |key: &str, usual: u32, after: &[&str]| Stage {
///     key: key.into(),
///     days: Days { low: usual, usual, high: 2 * usual },
///     after: after.iter().map(|&key| key.into()).collect(),
/// };
/// // The glue soaks while the boards rest; then coats, then drying: 1 day beside 7, then 2, then 3.
/// let plan = calendar(&[stage("soak", 1, &[]), stage("rest", 7, &[]), stage("coats", 2, &["soak", "rest"]), stage("dry", 3, &["coats"])])?;
/// assert_eq!((plan.days.usual, plan.days.high), (7 + 2 + 3, 24));
/// assert_eq!(plan.chain, ["rest", "coats", "dry"]);
/// assert_eq!(plan.stages[0].latest_begin, 6);
/// # Ok::<(), making::CalendarError>(())
/// ```
pub fn calendar(stages: &[Stage]) -> Result<Calendar, CalendarError> {
    let mut places: BTreeMap<&str, usize> = BTreeMap::new();
    for (at, stage) in stages.iter().enumerate() {
        if places.insert(&stage.key, at).is_some() {
            return Err(CalendarError::Twice { stage: stage.key.clone() });
        }
    }
    let mut before: Vec<Vec<usize>> = Vec::with_capacity(stages.len());
    for stage in stages {
        let place = |key: &String| {
            let missing = || CalendarError::Missing { stage: stage.key.clone(), missing: key.clone() };
            places.get(key.as_str()).copied().ok_or_else(missing)
        };
        before.push(stage.after.iter().map(place).collect::<Result<_, _>>()?);
    }
    let order = in_order(stages, &before)?;
    let quick = forward(stages, &before, &order, |days| days.low);
    let usual = forward(stages, &before, &order, |days| days.usual);
    let slow = forward(stages, &before, &order, |days| days.high.max(days.usual));
    let at = |days: &[(u32, u32)], stage: usize| days.get(stage).copied().unwrap_or_default();
    let all = |days: &[(u32, u32)]| days.iter().map(|(_, done)| *done).max().unwrap_or(0);
    let end = all(&usual);
    let mut latest = vec![end; stages.len()];
    for &stage in order.iter().rev() {
        let begin = at_most(&latest, stage, end).saturating_sub(stages.get(stage).map_or(0, |stage| stage.days.usual));
        for &earlier in before.get(stage).into_iter().flatten() {
            if let Some(done) = latest.get_mut(earlier) {
                *done = (*done).min(begin);
            }
        }
    }
    let mut chain = Vec::new();
    // Back from one that ends last, always to one that keeps it waiting.
    let mut here = order.iter().copied().find(|&stage| at(&usual, stage).1 == end);
    while let Some(stage) = here {
        chain.extend(stages.get(stage).map(|stage| stage.key.clone()));
        let begin = at(&usual, stage).0;
        here = before.get(stage).into_iter().flatten().copied().find(|&earlier| at(&usual, earlier).1 == begin);
    }
    chain.reverse();
    let days_of = |stage: usize, which: fn((u32, u32)) -> u32| Days {
        low: which(at(&quick, stage)),
        usual: which(at(&usual, stage)),
        high: which(at(&slow, stage)),
    };
    let planned = stages.iter().enumerate().map(|(place, stage)| {
        let latest_done = at_most(&latest, place, end);
        StageDays {
            key: stage.key.clone(),
            begins: days_of(place, |days| days.0),
            done: days_of(place, |days| days.1),
            latest_begin: latest_done.saturating_sub(stage.days.usual),
            latest_done,
        }
    });
    Ok(Calendar { stages: planned.collect(), days: Days { low: all(&quick), usual: end, high: all(&slow) }, chain })
}

fn at_most(latest: &[u32], stage: usize, end: u32) -> u32 {
    latest.get(stage).copied().unwrap_or(end)
}

/// Each after all that it waits for.
fn in_order(stages: &[Stage], before: &[Vec<usize>]) -> Result<Vec<usize>, CalendarError> {
    let mut order: Vec<usize> = Vec::with_capacity(stages.len());
    while order.len() < stages.len() {
        let ready =
            |stage: &usize| !order.contains(stage) && before.get(*stage).into_iter().flatten().all(|earlier| order.contains(earlier));
        let Some(stage) = (0..stages.len()).find(ready) else {
            let left = stages.iter().enumerate().find(|(place, _)| !order.contains(place));
            return Err(CalendarError::Circle { stage: left.map_or(String::new(), |(_, stage)| stage.key.clone()) });
        };
        order.push(stage);
    }
    Ok(order)
}

/// Begin and end of each stage.
fn forward(stages: &[Stage], before: &[Vec<usize>], order: &[usize], lasts: fn(Days) -> u32) -> Vec<(u32, u32)> {
    let mut days = vec![(0_u32, 0_u32); stages.len()];
    for &stage in order {
        let begin =
            before.get(stage).into_iter().flatten().filter_map(|&earlier| days.get(earlier)).map(|(_, done)| *done).max().unwrap_or(0);
        let took = stages.get(stage).map_or(0, |stage| lasts(stage.days));
        if let Some(place) = days.get_mut(stage) {
            *place = (begin, begin.saturating_add(took));
        }
    }
    days
}

#[cfg(test)]
mod tests {
    use super::*;

    fn stage(key: &str, low: u32, usual: u32, high: u32, after: &[&str]) -> Stage {
        Stage { key: key.into(), days: Days { low, usual, high }, after: after.iter().map(|&key| key.into()).collect() }
    }

    #[test]
    fn a_trial_worked_by_hand() {
        // Curd 1 to 3 days beside boards that rest a week; size 1 day after both; coats 1 to 3; dry 7 to 28; the test panels in their air
        // 2 to 7 days after drying; the plan for judging is written meanwhile, 1 day, after the coats.
        let plan = calendar(&[
            stage("curd", 1, 2, 3, &[]),
            stage("rest", 7, 7, 7, &[]),
            stage("size", 1, 1, 1, &["curd", "rest"]),
            stage("coats", 1, 2, 3, &["size"]),
            stage("dry", 7, 14, 28, &["coats"]),
            stage("write", 1, 1, 1, &["coats"]),
            stage("condition", 2, 3, 7, &["dry"]),
            stage("test", 1, 1, 2, &["condition", "write"]),
        ])
        .unwrap();
        // Quickly 7+1+1+7+2+1 = 19, as usual 7+1+2+14+3+1 = 28, slowly 7+1+3+28+7+2 = 48.
        assert_eq!(plan.days, Days { low: 19, usual: 28, high: 48 });
        assert_eq!(plan.chain, ["rest", "size", "coats", "dry", "condition", "test"]);
        // The curd may begin on day 5 and writing on day 26: 28 - 1 (test) - 1.
        let of = |key: &str| plan.stages.iter().find(|stage| stage.key == key).unwrap();
        assert_eq!((of("curd").latest_begin, of("write").latest_begin, of("write").begins.usual), (5, 26, 10));
        assert!(plan.chain.iter().all(|key| of(key).latest_begin == of(key).begins.usual));
    }

    #[test]
    fn what_is_wrong_is_said() {
        assert!(matches!(calendar(&[stage("a", 1, 1, 1, &["b"])]), Err(CalendarError::Missing { .. })));
        assert!(matches!(calendar(&[stage("a", 1, 1, 1, &[]), stage("a", 1, 1, 1, &[])]), Err(CalendarError::Twice { .. })));
        assert!(matches!(calendar(&[stage("a", 1, 1, 1, &["b"]), stage("b", 1, 1, 1, &["a"])]), Err(CalendarError::Circle { .. })));
        assert_eq!(calendar(&[]).unwrap().days, Days::default());
    }
}
