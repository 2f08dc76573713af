//! What code may not do where, as far as a reader of lines can see it.

use super::table::Table;
use crate::error::Error;
use crate::source::{is_test_file, live_lines};
use crate::workspace::{Workspace, read_file};

const LONGEST: usize = 600;
const CODE: [&str; 6] = ["rs", "js", "css", "py", "sh", "typ"];

/// Names each line of code that breaks a habit of the house.
pub(crate) fn broken(workspace: &Workspace, table: &Table) -> Result<Vec<String>, Error> {
    let mut findings = Vec::new();
    for path in workspace.files()? {
        let Some((_, extension)) = path.rsplit_once('.') else {
            continue;
        };
        if !CODE.contains(&extension) {
            continue;
        }
        let text = read_file(&workspace.root.join(&path))?;
        let length = text.lines().count();
        if length > LONGEST {
            findings.push(format!("{path}: {length} lines, at most {LONGEST}; which of its reasons to change can move out?"));
        }
        if is_test_file(&path) {
            continue;
        }
        let lines = if extension == "rs" { live_lines(&text) } else { text.lines().zip(1..).map(|(line, at)| (at, line)).collect() };
        for (at, line) in lines {
            for complaint in complaints(&path, line, table) {
                findings.push(format!("{path}:{at}: {complaint}"));
            }
        }
    }
    Ok(findings)
}

/// What is wrong with one live line of one file.
fn complaints(path: &str, line: &str, table: &Table) -> Vec<String> {
    let Some(room) = path.strip_prefix("crates/").and_then(|rest| rest.split('/').next()) else {
        return Vec::new();
    };
    let rust = path.rsplit_once('.').is_some_and(|(_, end)| end == "rs");
    let mut found = Vec::new();
    if rust && !["show", "acceptance"].contains(&room) && rounds_a_number(line) {
        found.push("formats a number; only `show` writes numbers".to_owned());
    }
    if rust
        && table.is_pure(room)
        && let Some(name) = touches_outside(line)
    {
        found.push(format!("`{name}` in a pure crate; take it as a value"));
    }
    if ["web", "workbench", "show"].contains(&room) && has_word(line, "style=") {
        found.push("`style=` is refused by the page's own policy; use a class".to_owned());
    }
    if rust
        && room != "groundproof"
        && let Some(name) = PRINTS.iter().find(|name| has_word(line, name))
    {
        found.push(format!("`{name}` outside the binary; give the text back"));
    }
    found
}

const PRINTS: [&str; 5] = ["println!", "print!", "eprintln!", "eprint!", "dbg!"];

/// Whether a format string fixes digits or asks for an exponent: `{:.3}`, `{x:>8.1}`, `{:e}`.
fn rounds_a_number(line: &str) -> bool {
    line.split('{').skip(1).any(|rest| {
        let Some((inside, _)) = rest.split_once('}') else {
            return false;
        };
        let Some((argument, spec)) = inside.split_once(':') else {
            return false;
        };
        let argument_fits = argument.chars().all(|letter| letter.is_alphanumeric() || letter == '_');
        let spec_fits = !spec.contains([' ', ':', '(']);
        argument_fits && spec_fits && (spec.contains('.') || spec.ends_with(['e', 'E']))
    })
}

/// The first name in a line that reads or writes the world outside.
fn touches_outside(line: &str) -> Option<&'static str> {
    const PATHS: [&str; 5] = ["std::fs", "std::env", "std::net", "std::process", "std::thread"];
    const TYPES: [&str; 3] = ["SystemTime", "Instant", "RandomState"];
    const GROUPED: [&str; 5] = ["fs", "env", "net", "process", "thread"];
    let named = PATHS.into_iter().chain(TYPES).find(|name| has_whole_word(line, name));
    let grouped = || {
        let (_, names) = line.split_once("use std::{")?;
        GROUPED.into_iter().find(|name| has_whole_word(names, name))
    };
    named.or_else(grouped)
}

/// Whether `name` stands in the line with no letter right before it.
fn has_word(line: &str, name: &str) -> bool {
    line.match_indices(name)
        .any(|(at, _)| !line.split_at(at).0.ends_with(|before: char| before.is_alphanumeric() || before == '_' || before == '-'))
}

/// Whether `name` stands in the line as a word of its own.
fn has_whole_word(line: &str, name: &str) -> bool {
    line.match_indices(name).any(|(at, _)| {
        let (before, rest) = line.split_at(at);
        let after = rest.split_at(name.len()).1;
        let joins = |letter: char| letter.is_alphanumeric() || letter == '_';
        !before.ends_with(joins) && !after.starts_with(joins)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rounding_is_seen_in_format_strings_only() {
        for line in [r#"format!("{:.3}", x)"#, r#"write!(f, "{value:>8.1} g")"#, r#"format!("{x:.digits$}")"#, r#"format!("{:e}", x)"#] {
            assert!(rounds_a_number(line), "{line}");
        }
        for line in [
            r#"format!("{value} g")"#,
            r#"format!("{:?}", x)"#,
            r#"format!("{name:<12}")"#,
            "Point { at: line.start }",
            "use std::{fmt, iter};",
            "match x { y => z.w }",
        ] {
            assert!(!rounds_a_number(line), "{line}");
        }
    }

    #[test]
    fn the_outside_is_seen_in_pure_crates_only() {
        let table = Table::read().unwrap();
        let line = "let now = std::time::Instant::now();";
        assert_eq!(complaints("crates/ground/src/film.rs", line, &table).len(), 1);
        assert!(complaints("crates/web/src/serve.rs", line, &table).is_empty());
        assert_eq!(touches_outside("use std::{env, fmt};"), Some("env"));
        assert_eq!(touches_outside(r#"include_str!(env!("X"))"#), None);
        assert_eq!(touches_outside("use std::{fmt, iter};"), None);
        assert_eq!(touches_outside("for instant in instants"), None);
    }

    #[test]
    fn styles_and_printing_are_seen() {
        let table = Table::read().unwrap();
        let page = "crates/web/src/pages/door.rs";
        assert_eq!(complaints(page, r#"p style="color:red" {}"#, &table).len(), 1);
        assert!(complaints(page, r#"link rel="stylesheet";"#, &table).is_empty());
        assert_eq!(complaints(page, r#"println!("here");"#, &table).len(), 1);
        let binary = "crates/groundproof/src/main.rs";
        assert!(complaints(binary, r#"println!("here");"#, &table).is_empty());
    }
}
