//! `cargo xtask words`: words that have no place in text or on screens.
//!
//! The list stands in `words.csv`, with the reason for each.

use crate::arrows::rows;
use crate::error::Error;
use crate::workspace::Workspace;

const WORDS: &str = include_str!("../words.csv");

/// One phrase of the list.
struct Rule {
    phrase: String,
    whole_words: bool,
    folders: Vec<String>,
    unless: Vec<String>,
    reason: String,
}

/// Prints every line that holds a phrase of the list; `true` when there is none.
pub(crate) fn run(workspace: &Workspace) -> Result<bool, Error> {
    let rules = read(WORDS)?;
    let mut count = 0;
    for path in workspace.files()? {
        // Names of other people's packages and their versions are not our words.
        if path.ends_with("Cargo.lock") || path.ends_with("package-lock.json") {
            continue;
        }
        let file = workspace.root.join(&path);
        let bytes = std::fs::read(&file).map_err(|source| Error::File { path: file, source })?;
        let Ok(text) = String::from_utf8(bytes) else {
            continue; // a picture or a font
        };
        for (line, at) in text.lines().zip(1..) {
            for rule in rules.iter().filter(|rule| rule.finds(&path, line)) {
                println!("{path}:{at}: `{}`: {}", rule.phrase, rule.reason);
                count += 1;
            }
        }
    }
    println!("words: {count} to mend");
    Ok(count == 0)
}

fn read(table: &str) -> Result<Vec<Rule>, Error> {
    let rows: Vec<[String; 5]> = rows(table, "words.csv")?;
    Ok(rows
        .into_iter()
        .map(|[phrase, how, folders, unless, reason]| Rule {
            phrase: phrase.replace('~', "").to_lowercase(),
            whole_words: how == "word",
            folders: folders.split_whitespace().map(str::to_owned).collect(),
            unless: unless.split('|').map(|words| words.replace('~', "").to_lowercase()).filter(|words| !words.is_empty()).collect(),
            reason,
        })
        .collect())
}

impl Rule {
    fn finds(&self, path: &str, line: &str) -> bool {
        let here = self.folders.is_empty() || self.folders.iter().any(|folder| path == folder || path.starts_with(&format!("{folder}/")));
        if !here {
            return false;
        }
        let line: Vec<char> = line.to_lowercase().chars().collect();
        let phrase: Vec<char> = self.phrase.chars().collect();
        let found = line
            .windows(phrase.len())
            .enumerate()
            .any(|(at, window)| matches(window, &phrase) && (!self.whole_words || stands_alone(&line, at, phrase.len())));
        let line: String = line.into_iter().collect();
        found && !self.unless.iter().any(|words| line.contains(words))
    }
}

/// Whether the letters are the phrase, with `#` for any digit.
fn matches(window: &[char], phrase: &[char]) -> bool {
    window.iter().zip(phrase).all(|(letter, wanted)| letter == wanted || (*wanted == '#' && letter.is_ascii_digit()))
}

fn stands_alone(line: &[char], at: usize, length: usize) -> bool {
    let joins = |letter: Option<&char>| letter.is_some_and(|letter| letter.is_alphanumeric());
    let before = at.checked_sub(1).and_then(|before| line.get(before));
    !joins(before) && !joins(line.get(at + length))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn found(path: &str, line: &str) -> usize {
        let rules = read(WORDS).unwrap();
        rules.iter().filter(|rule| rule.finds(path, line)).count()
    }

    // The phrases are put together here so that the check does not find its own tests.
    #[test]
    fn promises_and_paths_are_found() {
        assert_eq!(found("docs/guide.md", &["This is guar", "anteed."].concat()), 1);
        assert_eq!(found("docs/guide.md", &["not guar", "anteed"].concat()), 0);
        assert_eq!(found("docs/guide.md", &["tested t", "o ISO 2409"].concat()), 1);
        assert_eq!(found("docs/guide.md", "shaped like ISO 2409, after ISO 4628"), 0);
        assert_eq!(found(".ci/run", &["cd /", "tmp", "/x"].concat()), 1);
        assert_eq!(found("README.md", "a workbench for painters"), 0);
    }

    #[test]
    fn words_of_statistics_are_kept_from_screens_only() {
        let line = ["a Signi", "ficant change"].concat();
        assert_eq!(found("crates/web/src/pages/card.rs", &line), 1);
        assert_eq!(found("docs/methods.md", &line), 0);
        let longer = ["insigni", "ficant"].concat();
        assert_eq!(found("crates/web/src/pages/card.rs", &longer), 0);
    }

    #[test]
    fn the_list_does_not_find_itself() {
        for line in WORDS.lines() {
            assert_eq!(found("xtask/words.csv", line), 0, "{line}");
        }
    }
}
