//! A table of the file, asked field by field; what does not fit becomes a fault with its line.

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use crate::plan::error::TextFault;
use crate::plan::limits::MOST_NAME;

/// Where lines begin.
pub(super) struct Lines {
    starts: Vec<usize>,
}

impl Lines {
    pub(super) fn of(text: &str) -> Self {
        Self { starts: std::iter::once(0).chain(text.match_indices('\n').map(|(at, _)| at + 1)).collect() }
    }

    /// Line of a byte, from 1.
    pub(super) fn at(&self, byte: usize) -> usize {
        self.starts.partition_point(|start| *start <= byte).max(1)
    }
}

/// A value with its line.
#[derive(Clone, Copy)]
pub(super) struct Found<'t> {
    value: &'t DeValue<'t>,
    line: usize,
}

impl<'t> Found<'t> {
    pub(super) const fn line(&self) -> usize {
        self.line
    }

    pub(super) fn table(&self) -> Option<&'t DeTable<'t>> {
        self.value.as_table()
    }

    pub(super) fn text(&self) -> Option<&'t str> {
        self.value.as_str()
    }

    /// A whole number, typed bare or in quotes.
    pub(super) fn whole(&self) -> Option<i64> {
        match self.value {
            DeValue::Integer(digits) => i64::from_str_radix(digits.as_str(), digits.radix()).ok(),
            DeValue::String(text) => text.trim().parse().ok(),
            _ => None,
        }
    }

    /// A finite number, typed bare or as a decimal string.
    pub(super) fn number(&self) -> Option<f64> {
        let number: f64 = match self.value {
            DeValue::Integer(_) => self.whole()?.to_string().parse().ok()?,
            DeValue::Float(digits) => digits.as_str().parse().ok()?,
            DeValue::String(text) => text.trim().parse().ok()?,
            _ => return None,
        };
        // Minus nothing is nothing.
        number.is_finite().then_some(number + 0.0)
    }

    /// Whether it is a number typed without quotes.
    pub(super) fn is_bare_number(&self) -> bool {
        matches!(self.value, DeValue::Integer(_) | DeValue::Float(_))
    }

    /// A word or number as text.
    pub(super) fn label(&self) -> Option<String> {
        match self.value {
            DeValue::String(text) => Some(text.trim().to_owned()),
            DeValue::Integer(_) => self.whole().map(|number| number.to_string()),
            _ => None,
        }
    }
}

/// A table that is being read.
pub(super) struct Fields<'t, 'f> {
    table: &'t DeTable<'t>,
    line: usize,
    about: String,
    lines: &'t Lines,
    faults: &'f mut Vec<TextFault>,
}

impl<'t, 'f> Fields<'t, 'f> {
    pub(super) fn new(table: &'t DeTable<'t>, line: usize, about: &str, lines: &'t Lines, faults: &'f mut Vec<TextFault>) -> Self {
        Self { table, line: line.max(1), about: about.to_owned(), lines, faults }
    }

    pub(super) const fn line(&self) -> usize {
        self.line
    }

    pub(super) fn fault(&mut self, line: usize, what: impl Into<String>) {
        self.faults.push(TextFault { line, what: what.into() });
    }

    pub(super) fn get(&self, key: &str) -> Option<Found<'t>> {
        self.table.get(key).map(|value| self.found(value))
    }

    fn found(&self, value: &'t Spanned<DeValue<'t>>) -> Found<'t> {
        Found { value: value.get_ref(), line: self.lines.at(value.span().start) }
    }

    /// All fields with their names, in the order of the alphabet.
    pub(super) fn all(&self) -> Vec<(String, Found<'t>)> {
        self.table.iter().map(|(key, value)| (key.get_ref().to_string(), self.found(value))).collect()
    }

    /// Complains of fields that are not in the list.
    pub(super) fn only(&mut self, known: &[&str]) {
        let strangers: Vec<(String, usize)> = self
            .table
            .iter()
            .filter(|(key, _)| !known.contains(&key.get_ref().as_ref()))
            .map(|(key, _)| (short(key.get_ref()), self.lines.at(key.span().start)))
            .collect();
        for (name, line) in strangers {
            let about = self.about.clone();
            self.fault(line, format!("`{name}` means nothing in {about}; what can stand there: {}", known.join(", ")));
        }
    }

    /// Text of a field.
    pub(super) fn words(&mut self, key: &str) -> Option<String> {
        let found = self.get(key)?;
        match found.text() {
            Some(text) if text.chars().count() <= 400 => Some(text.trim().to_owned()),
            Some(_) => {
                self.fault(found.line, format!("`{key}` is longer than 400 letters; say it in a sentence"));
                None
            }
            None => {
                self.fault(found.line, format!("`{key}` wants words in quotes, such as {key} = \"...\""));
                None
            }
        }
    }

    /// A name that must be there.
    pub(super) fn name(&mut self, key: &str) -> Option<String> {
        let Some(found) = self.get(key) else {
            let (line, about) = (self.line, self.about.clone());
            self.fault(line, format!("{about} lacks its {key}: {key} = \"...\""));
            return None;
        };
        let name =
            found.label().filter(|name| !name.is_empty() && name.chars().count() <= MOST_NAME && !name.chars().any(char::is_control));
        if name.is_none() {
            self.fault(found.line, format!("`{key}` wants a short name in quotes, at most {MOST_NAME} letters"));
        }
        name
    }

    /// A whole number between two others.
    pub(super) fn count(&mut self, key: &str, least: u32, most: u32) -> Option<u32> {
        let found = self.get(key)?;
        let number = found.whole().and_then(|number| u32::try_from(number).ok()).filter(|number| (least..=most).contains(number));
        if number.is_none() {
            self.fault(found.line, format!("`{key}` wants a whole number from {least} to {most}"));
        }
        number
    }

    /// A number between two others.
    pub(super) fn number(&mut self, key: &str, least: f64, most: f64) -> Option<f64> {
        let found = self.get(key)?;
        let number = found.number().filter(|number| (least..=most).contains(number));
        if number.is_none() {
            self.fault(found.line, format!("`{key}` wants a number from {least} to {most}, such as \"0.5\""));
        }
        number
    }

    /// A seed: any whole number from 0.
    pub(super) fn seed(&mut self, key: &str) -> Option<u64> {
        let found = self.get(key)?;
        let number = found.whole().and_then(|number| u64::try_from(number).ok());
        if number.is_none() {
            self.fault(found.line, format!("`{key}` wants a whole number from 0"));
        }
        number
    }

    /// One of a few words.
    pub(super) fn one_of<T: Copy>(&mut self, key: &str, words: &[(&str, T)]) -> Option<T> {
        let found = self.get(key)?;
        let known = found.text().and_then(|text| words.iter().find(|(word, _)| *word == text.trim()).map(|(_, sense)| *sense));
        if known.is_none() {
            let list = words.iter().map(|(word, _)| format!("\"{word}\"")).collect::<Vec<_>>().join(", ");
            self.fault(found.line, format!("`{key}` is one of {list}"));
        }
        known
    }

    /// A table in a field.
    pub(super) fn table<T>(&mut self, key: &str, read: impl FnOnce(&mut Fields<'t, '_>) -> T) -> Option<T> {
        let found = self.get(key)?;
        let Some(table) = found.table() else {
            self.fault(found.line, format!("`{key}` wants its fields in braces, such as {key} = {{ ... }}"));
            return None;
        };
        Some(read(&mut Fields::new(table, found.line, &format!("`{key}`"), self.lines, self.faults)))
    }

    /// A list of tables in a field, each read in turn.
    pub(super) fn tables<T>(&mut self, key: &str, most: usize, mut read: impl FnMut(&mut Fields<'t, '_>) -> Option<T>) -> Vec<T> {
        let Some(found) = self.get(key) else { return Vec::new() };
        let Some(list) = self.list(key, most) else { return Vec::new() };
        let mut out = Vec::new();
        for entry in list {
            if let Some(table) = entry.table() {
                // A table under its own heading has the line of the heading; its fields have theirs.
                out.extend(read(&mut Fields::new(table, entry.line, &format!("this {key}"), self.lines, self.faults)));
            } else {
                self.fault(entry.line.max(found.line), format!("each {key} stands in braces, such as {{ name = \"...\" }}"));
            }
        }
        out
    }

    /// Entries of a list.
    pub(super) fn list(&mut self, key: &str, most: usize) -> Option<Vec<Found<'t>>> {
        let found = self.get(key)?;
        let Some(array) = found.value.as_array() else {
            self.fault(found.line, format!("`{key}` wants a list in square brackets, such as {key} = [ ... ]"));
            return None;
        };
        if array.len() > most {
            self.fault(found.line, format!("`{key}` has {} entries, and {most} are the most", array.len()));
            return None;
        }
        Some(array.iter().map(|value| self.found(value)).collect())
    }
}

/// A stranger's name, cut to a length that a complaint can carry.
fn short(name: &str) -> String {
    name.chars().filter(|c| !c.is_control()).take(40).collect()
}
