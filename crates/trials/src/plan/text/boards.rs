//! Boards as typed, one in braces each.

use std::collections::{BTreeMap, BTreeSet};

use super::TypedBoard;
use super::fields::{Fields, Found};
use super::lists::kind;
use crate::plan::limits::{MOST_BOARDS, MOST_DAYS, MOST_LEVELS, MOST_SETTINGS};
use crate::plan::model::{Job, Part, Per, Setting, Value};

/// What may stand on a board besides settings and shares.
const OWN: [&str; 8] = ["id", "day", "batch", "sheet", "order", "place", "job", "kind"];
/// How far shares may miss the whole.
const SUM_MISS: f64 = 1e-3;

/// The boards; the settings, with those found on boards when none were listed; and the names of the latter.
pub(super) fn boards(top: &mut Fields<'_, '_>, parts: &[Part], mut settings: Vec<Setting>) -> (Vec<TypedBoard>, Vec<Setting>, Vec<String>) {
    let mut found = Vec::new();
    if top.get("setting").is_none() {
        settings = gathered(top, parts);
        found = settings.iter().map(|setting| setting.name.clone()).collect();
    }
    let mut ids = BTreeSet::new();
    let boards = top.tables("board", MOST_BOARDS, |fields| board(fields, parts, &settings, &mut ids));
    (boards, settings, found)
}

/// Settings as they are found on the boards: every field that is nothing else.
fn gathered(top: &mut Fields<'_, '_>, parts: &[Part]) -> Vec<Setting> {
    let mut seen: BTreeMap<String, (usize, Vec<Value>)> = BTreeMap::new();
    let mut too_many = Vec::new();
    top.tables("board", MOST_BOARDS, |fields| {
        for (name, found) in fields.all() {
            if OWN.contains(&name.as_str()) || parts.iter().any(|part| part.name == name) {
                continue;
            }
            let Some(level) = level(found) else { continue };
            let (line, levels) = seen.entry(name).or_insert((found.line(), Vec::new()));
            if !levels.contains(&level) {
                levels.push(level);
            }
            if levels.len() == MOST_LEVELS + 1 {
                too_many.push(*line);
            }
        }
        None::<()>
    });
    for line in too_many {
        top.fault(line, format!("a setting here has more than {MOST_LEVELS} kinds or values; list it under setting, or leave it out"));
    }
    if seen.len() > MOST_SETTINGS {
        let line = seen.values().map(|(line, _)| *line).min().unwrap_or(1);
        top.fault(line, format!("the boards name {} settings, and {MOST_SETTINGS} are the most", seen.len()));
        return Vec::new();
    }
    seen.into_iter()
        .map(|(name, (_, mut levels))| {
            levels.sort_by(|a, b| match (a, b) {
                (Value::Number(a), Value::Number(b)) => a.total_cmp(b),
                _ => a.to_string().cmp(&b.to_string()),
            });
            // Numbers and words mixed are kinds.
            if !levels.iter().all(|level| matches!(level, Value::Number(_))) {
                levels = levels.into_iter().map(|level| Value::Kind(level.to_string())).collect();
            }
            Setting { name, levels, per: Per::Board }
        })
        .collect()
}

fn level(found: Found<'_>) -> Option<Value> {
    if found.is_bare_number() { found.number().map(Value::Number) } else { kind(found).map(Value::Kind) }
}

fn board(fields: &mut Fields<'_, '_>, parts: &[Part], settings: &[Setting], ids: &mut BTreeSet<String>) -> Option<TypedBoard> {
    let line = fields.line();
    let known: Vec<&str> = OWN
        .into_iter()
        .chain(parts.iter().map(|part| part.name.as_str()))
        .chain(settings.iter().map(|setting| setting.name.as_str()))
        .collect();
    fields.only(&known);
    let id = if fields.get("id").is_some() { Some(fields.name("id")?) } else { None };
    if let Some(id) = &id
        && !ids.insert(id.clone())
    {
        fields.fault(line, format!("the board `{id}` stands twice; give one of the two another id"));
    }
    let day = fields.count("day", 1, MOST_DAYS);
    let batch = if fields.get("batch").is_some() { fields.name("batch") } else { None };
    let sheet = if fields.get("sheet").is_some() { fields.name("sheet") } else { None };
    let order = fields.count("order", 1, 100_000);
    let place = fields.count("place", 1, 100_000);
    // A printed plan says `kind`, a control says `job`; a board may say either.
    let jobs = [("recipe", None), ("yardstick", Some(Job::Yardstick)), ("witness", Some(Job::Witness))];
    let job = fields.one_of("job", &jobs).or_else(|| fields.one_of("kind", &jobs)).flatten();
    let called = id.clone().map_or_else(|| "this board".to_owned(), |id| format!("board {id}"));
    let mut set = BTreeMap::new();
    let mut shares = BTreeMap::new();
    if job.is_none() {
        for setting in settings {
            if let Some(level) = set_to(fields, setting, &called) {
                set.insert(setting.name.clone(), level);
            }
        }
        shares = shares_of(fields, parts, &called);
    }
    Some(TypedBoard { line, id, day: day.unwrap_or(1), batch, sheet, order, place, job, settings: set, shares })
}

/// What a board says of one setting; it must be one of the setting's kinds or lie between its numbers.
fn set_to(fields: &mut Fields<'_, '_>, setting: &Setting, called: &str) -> Option<Value> {
    let name = &setting.name;
    let list = setting.levels.iter().map(ToString::to_string).collect::<Vec<_>>().join(", ");
    let Some(found) = fields.get(name) else {
        let line = fields.line();
        fields.fault(line, format!("{called} does not say its `{name}`; it is one of {list}"));
        return None;
    };
    let level = if setting.is_numeric() {
        let (low, high) = ends(setting);
        // A number between the ends was not planned, but is as good.
        found.number().filter(|number| (low..=high).contains(number)).map(Value::Number)
    } else {
        kind(found).map(Value::Kind).filter(|level| setting.levels.contains(level))
    };
    if level.is_none() {
        let how = if setting.is_numeric() { "a number within" } else { "one of" };
        fields.fault(found.line(), format!("the `{name}` of {called} is not {how} {list}; mend it, or add it to the setting"));
    }
    level
}

fn ends(setting: &Setting) -> (f64, f64) {
    setting.levels.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), level| match level {
        Value::Number(number) => (low.min(*number), high.max(*number)),
        Value::Kind(_) => (low, high),
    })
}

/// Shares of one board: none, or all that are not nothing, adding to the whole.
fn shares_of(fields: &mut Fields<'_, '_>, parts: &[Part], called: &str) -> BTreeMap<String, f64> {
    let mut shares = BTreeMap::new();
    for part in parts {
        let told = if fields.get(&part.name).is_some() { fields.number(&part.name, 0.0, 1.0) } else { Some(0.0) };
        if let Some(share) = told {
            shares.insert(part.name.clone(), share);
        }
    }
    if shares.len() == parts.len() && !parts.is_empty() {
        let sum: f64 = shares.values().sum();
        if (sum - 1.0).abs() > SUM_MISS {
            let line = fields.line();
            let thousandths = (sum * 1000.0).round() / 1000.0;
            fields.fault(line, format!("the shares of {called} add to {thousandths} and must add to 1; name every part, water too"));
        }
    }
    shares
}
