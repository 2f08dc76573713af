//! From what was set on boards to columns of numbers.

use std::collections::BTreeMap;

use statistics::coding::{contrasts, scaled};

use super::model::{Part, Plan, PlannedBoard, Setting, Value};

/// What stands for a day among the factors of a board.
pub(super) const DAY: &str = "day";
/// What stands for a sheet of wood.
pub(super) const SHEET: &str = "sheet";

/// Everything a board was, by name: settings, shares, day, sheet.
pub(super) type Facts = BTreeMap<String, Value>;

/// What a board was.
pub(super) fn facts(board: &PlannedBoard) -> Facts {
    let mut facts = board.settings.clone();
    facts.extend(board.shares.iter().map(|(name, share)| (name.clone(), Value::Number(*share))));
    facts.insert(DAY.to_owned(), Value::Kind(board.day.to_string()));
    if let Some(sheet) = &board.sheet {
        facts.insert(SHEET.to_owned(), Value::Kind(sheet.clone()));
    }
    facts
}

/// How one thing becomes columns.
#[derive(Debug, Clone, PartialEq)]
enum Code {
    /// -1 at the least, 1 at the most.
    Number { low: f64, high: f64 },
    /// Contrasts of the kinds that occur.
    Kinds(Vec<Value>),
    /// (share - least) / room.
    Share { low: f64, room: f64 },
}

/// Something that changes from board to board.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Factor {
    pub(super) name: String,
    code: Code,
}

impl Factor {
    /// A setting as these boards have it; `None` if it is the same on all.
    pub(super) fn setting(setting: &Setting, boards: &[Facts]) -> Option<Self> {
        let found: Vec<&Value> = boards.iter().filter_map(|board| board.get(&setting.name)).collect();
        let first = found.first()?;
        if found.iter().all(|value| value == first) {
            return None;
        }
        let code = if setting.is_numeric() {
            let numbers: Vec<f64> = setting.levels.iter().filter_map(number).collect();
            let low = numbers.iter().copied().fold(f64::INFINITY, f64::min);
            let high = numbers.iter().copied().fold(f64::NEG_INFINITY, f64::max);
            Code::Number { low, high }
        } else {
            Code::Kinds(setting.levels.iter().filter(|level| found.contains(level)).cloned().collect())
        };
        Some(Self { name: setting.name.clone(), code })
    }

    /// Day or sheet; `None` if it is the same on all boards, or not told for each.
    pub(super) fn group(name: &str, boards: &[Facts]) -> Option<Self> {
        let mut kinds: Vec<Value> = Vec::new();
        for board in boards {
            let kind = board.get(name)?;
            if !kinds.contains(kind) {
                kinds.push(kind.clone());
            }
        }
        (kinds.len() > 1).then(|| Self { name: name.to_owned(), code: Code::Kinds(kinds) })
    }

    /// A part's share, measured from its least; `None` if it is the same on all boards.
    pub(super) fn share(part: &Part, room: f64, boards: &[Facts]) -> Option<Self> {
        let found: Vec<f64> = boards.iter().filter_map(|board| board.get(&part.name)).filter_map(number).collect();
        let first = *found.first()?;
        let varies = found.iter().any(|share| (share - first).abs() > 1e-9);
        varies.then(|| Self { name: part.name.clone(), code: Code::Share { low: part.low, room } })
    }

    pub(super) fn is_share(&self) -> bool {
        matches!(self.code, Code::Share { .. })
    }

    /// Names of its columns.
    pub(super) fn terms(&self) -> Vec<String> {
        match &self.code {
            Code::Kinds(kinds) if kinds.len() > 2 => {
                kinds.iter().take(kinds.len() - 1).map(|kind| format!("{}: {kind}", self.name)).collect()
            }
            _ => vec![self.name.clone()],
        }
    }

    /// How many columns it takes.
    pub(super) fn width(&self) -> usize {
        match &self.code {
            Code::Kinds(kinds) => kinds.len().saturating_sub(1),
            Code::Number { .. } | Code::Share { .. } => 1,
        }
    }

    /// What it can be set to among these boards, for trying further boards.
    pub(super) fn levels(&self, boards: &[Facts]) -> Vec<Value> {
        if let Code::Kinds(kinds) = &self.code {
            return kinds.clone();
        }
        let mut found: Vec<Value> = boards.iter().filter_map(|board| board.get(&self.name)).cloned().collect();
        found.sort_by(|a, b| a.partial_cmp(b).unwrap_or(std::cmp::Ordering::Equal));
        found.dedup();
        found
    }

    /// One row of its columns.
    pub(super) fn row(&self, facts: &Facts) -> Vec<f64> {
        let value = facts.get(&self.name);
        match (&self.code, value) {
            (Code::Number { low, high }, Some(Value::Number(number))) => vec![scaled(*number, *low, *high)],
            (Code::Share { low, room }, Some(Value::Number(share))) => vec![(share - low) / room],
            (Code::Kinds(kinds), Some(value)) => {
                let at = kinds.iter().position(|kind| kind == value).unwrap_or(0);
                contrasts(at, kinds.len())
            }
            _ => vec![0.0; self.width()],
        }
    }

    /// Its columns over boards.
    pub(super) fn columns(&self, boards: &[Facts]) -> Vec<Vec<f64>> {
        transposed(boards.iter().map(|board| self.row(board)), self.width())
    }
}

fn number(value: &Value) -> Option<f64> {
    match value {
        Value::Number(number) => Some(*number),
        Value::Kind(_) => None,
    }
}

/// Rows as columns.
pub(super) fn transposed(rows: impl Iterator<Item = Vec<f64>>, width: usize) -> Vec<Vec<f64>> {
    let mut columns = vec![Vec::new(); width];
    for row in rows {
        for (column, x) in columns.iter_mut().zip(row) {
            column.push(x);
        }
    }
    columns
}

/// The parts of a plan whose shares change, and the settings that change.
pub(super) fn factors(plan: &Plan, boards: &[Facts]) -> (Vec<Factor>, Vec<Factor>) {
    let room = room(&plan.parts);
    let parts = plan.parts.iter().filter_map(|part| Factor::share(part, room, boards)).collect();
    let settings = plan.settings.iter().filter_map(|setting| Factor::setting(setting, boards)).collect();
    (parts, settings)
}

/// What is left of the whole when every part has its least; 1 if nothing is.
pub(super) fn room(parts: &[Part]) -> f64 {
    let room = 1.0 - parts.iter().map(|part| part.low).sum::<f64>();
    if room > 1e-9 { room } else { 1.0 }
}
