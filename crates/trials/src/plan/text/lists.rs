//! Parts, limits, settings, controls and the rule for better.

use std::collections::{BTreeMap, BTreeSet};

use super::fields::{Fields, Found};
use super::{Limit, Limited};
use crate::plan::limits::{MOST_LEVELS, MOST_PARTS, MOST_SETTINGS, TAKEN};
use crate::plan::model::{Better, Control, Job, Often, Part, PartKind, Per, Setting, Value, Way};

pub(super) fn better(fields: &mut Fields<'_, '_>) -> Option<Better> {
    fields.only(&["measure", "way"]);
    let measure = fields.name("measure");
    let way = fields.one_of("way", &[("smaller", Way::Smaller), ("larger", Way::Larger)]);
    if fields.get("way").is_none() {
        let line = fields.line();
        fields.fault(line, "`better` lacks its way: way = \"smaller\" or way = \"larger\"");
    }
    Some(Better { measure: measure?, way: way? })
}

pub(super) fn parts(top: &mut Fields<'_, '_>) -> Vec<Part> {
    let mut known = BTreeSet::new();
    top.tables("part", MOST_PARTS, |fields| {
        fields.only(&["name", "low", "high", "density", "is"]);
        let name = fresh_name(fields, &mut known);
        let low = fields.number("low", 0.0, 1.0).unwrap_or(0.0);
        let high = fields.number("high", 0.0, 1.0).unwrap_or(1.0);
        if low > high {
            let line = fields.line();
            fields.fault(line, format!("the least share {low} lies above the largest, {high}; exchange them"));
        }
        let density = fields.number("density", 0.05, 25.0);
        let kind = fields
            .one_of(
                "is",
                &[("powder", PartKind::Powder), ("binder", PartKind::Binder), ("water", PartKind::Water), ("other", PartKind::Other)],
            )
            .unwrap_or(PartKind::Other);
        Some(Part { name: name?, low, high, density, kind })
    })
}

pub(super) fn limits(top: &mut Fields<'_, '_>, parts: &[Part]) -> Vec<Limit> {
    top.tables("limit", 40, |fields| {
        fields.only(&["sum", "powder_share", "at_least", "at_most"]);
        let bounds = |fields: &mut Fields<'_, '_>| (fields.number("at_least", -1e3, 1e3), fields.number("at_most", -1e3, 1e3));
        let line = fields.line();
        let (of, (at_least, at_most)) = if fields.get("powder_share").is_some() {
            let inner = fields.table("powder_share", |inner| {
                inner.only(&["at_least", "at_most"]);
                bounds(inner)
            })?;
            (Limited::PowderShare, inner)
        } else if fields.get("sum").is_some() {
            let terms = fields.table("sum", |inner| {
                let mut terms = BTreeMap::new();
                for (name, found) in inner.all() {
                    match (parts.iter().any(|part| part.name == name), found.number()) {
                        (true, Some(weight)) => drop(terms.insert(name, weight)),
                        (false, _) => inner.fault(found.line(), format!("there is no part `{name}`; name one of the parts")),
                        (true, None) => inner.fault(found.line(), format!("`{name}` wants a number, such as \"1\"")),
                    }
                }
                terms
            })?;
            (Limited::Sum(terms), bounds(fields))
        } else {
            fields.fault(line, "a limit is on a sum or on powder_share: { sum = { chalk = \"1\" }, at_most = \"0.60\" }");
            return None;
        };
        if at_least.is_none() && at_most.is_none() {
            fields.fault(line, "a limit wants at_least or at_most");
        }
        Some(Limit { of, at_least, at_most })
    })
}

pub(super) fn settings(top: &mut Fields<'_, '_>, parts: &[Part]) -> Vec<Setting> {
    let mut known: BTreeSet<String> = parts.iter().map(|part| part.name.clone()).collect();
    top.tables("setting", MOST_SETTINGS, |fields| {
        fields.only(&["name", "values", "kinds", "per"]);
        let name = fresh_name(fields, &mut known);
        let per = fields.one_of("per", &[("batch", Per::Batch), ("board", Per::Board)]).unwrap_or(Per::Batch);
        let line = fields.line();
        let levels = match (fields.get("values").is_some(), fields.get("kinds").is_some()) {
            (true, false) => levels(fields, "values", "numbers, such as values = [2, 3]", |found| found.number().map(Value::Number)),
            (false, true) => {
                levels(fields, "kinds", "words, such as kinds = [\"plywood\", \"hardboard\"]", |found| kind(*found).map(Value::Kind))
            }
            _ => {
                fields.fault(line, "a setting has either values = [2, 3] or kinds = [\"plywood\", \"hardboard\"]");
                None
            }
        };
        Some(Setting { name: name?, levels: levels?, per })
    })
}

/// A kind in words.
pub(super) fn kind(found: Found<'_>) -> Option<String> {
    found.label().filter(|word| !word.is_empty() && word.chars().count() <= 60 && !word.chars().any(char::is_control))
}

fn levels(fields: &mut Fields<'_, '_>, key: &str, wanted: &str, read: impl Fn(&Found<'_>) -> Option<Value>) -> Option<Vec<Value>> {
    let entries = fields.list(key, MOST_LEVELS)?;
    let mut levels: Vec<Value> = Vec::new();
    for entry in entries {
        match read(&entry) {
            Some(level) if levels.contains(&level) => fields.fault(entry.line(), format!("`{level}` stands twice in `{key}`")),
            Some(level) => levels.push(level),
            None => {
                fields.fault(entry.line(), format!("`{key}` wants {wanted}"));
                return None;
            }
        }
    }
    if levels.len() < 2 {
        let line = fields.line();
        fields.fault(line, format!("a setting that never changes is no setting: `{key}` wants at least two"));
        return None;
    }
    // Kinds stay in the order typed; numbers go from least to most.
    levels.sort_by(|a, b| match (a, b) {
        (Value::Number(a), Value::Number(b)) => a.total_cmp(b),
        _ => std::cmp::Ordering::Equal,
    });
    Some(levels)
}

pub(super) fn controls(top: &mut Fields<'_, '_>) -> Vec<Control> {
    top.tables("control", 4, |fields| {
        fields.only(&["name", "job", "per", "boards"]);
        let name = fields.name("name");
        let job = fields.one_of("job", &[("yardstick", Job::Yardstick), ("witness", Job::Witness)]);
        if fields.get("job").is_none() {
            let line = fields.line();
            fields.fault(line, "a control lacks its job: job = \"yardstick\" or job = \"witness\"");
        }
        let per = fields.one_of("per", &[("day", Often::Day), ("sheet", Often::Sheet), ("trial", Often::Trial)]).unwrap_or_default();
        let boards = fields.count("boards", 1, 50).unwrap_or(1);
        Some(Control { name: name?, job: job?, per, boards })
    })
}

/// A name that nothing else has.
fn fresh_name(fields: &mut Fields<'_, '_>, known: &mut BTreeSet<String>) -> Option<String> {
    let name = fields.name("name")?;
    let line = fields.get("name").map_or(fields.line(), |found| found.line());
    if TAKEN.contains(&name.as_str()) {
        fields.fault(line, format!("`{name}` already means something on a board; choose another name"));
        return None;
    }
    if !known.insert(name.clone()) {
        fields.fault(line, format!("the name `{name}` stands twice; choose another"));
        return None;
    }
    Some(name)
}
