//! Rust source seen without its comments and without its tests.

/// The lines of a Rust file that end up in the program: number from 1, and text.
///
/// Leaves out whole-line and trailing comments, and each item under `#[cfg(test)]`. It
/// relies on the layout that `cargo fmt` gives: an item that opens on one line closes with
/// a brace at the same depth.
pub(crate) fn live_lines(text: &str) -> Vec<(usize, &str)> {
    let mut live = Vec::new();
    let mut lines = text.lines().enumerate();
    while let Some((at, line)) = lines.next() {
        let trimmed = line.trim_start();
        if trimmed == "#[cfg(test)]" {
            let depth = line.len() - trimmed.len();
            skip_item(&mut lines, depth);
            continue;
        }
        if trimmed.starts_with("//") {
            continue;
        }
        live.push((at + 1, without_comment(line)));
    }
    live
}

/// Whether a file holds tests or benches only.
pub(crate) fn is_test_file(path: &str) -> bool {
    ["/tests/", "/benches/", "/examples/"].iter().any(|folder| path.contains(folder))
        || path.ends_with("/tests.rs")
        || path.ends_with("_tests.rs")
}

fn skip_item<'a>(lines: &mut impl Iterator<Item = (usize, &'a str)>, depth: usize) {
    let mut opened = false;
    for (_, line) in lines {
        let trimmed = line.trim();
        let here = line.len() - line.trim_start().len() == depth;
        if !opened {
            if trimmed.starts_with("#[") || trimmed.starts_with("//") {
                continue;
            }
            if trimmed.ends_with(';') || trimmed.ends_with('}') {
                return;
            }
            opened = true;
        } else if here && trimmed.starts_with('}') {
            return;
        }
    }
}

fn without_comment(line: &str) -> &str {
    line.match_indices(" // ")
        .map(|(at, _)| line.split_at(at).0)
        .find(|before| before.matches('"').count().is_multiple_of(2))
        .unwrap_or(line)
}

#[cfg(test)]
mod tests {
    use super::{is_test_file, live_lines};

    #[test]
    fn comments_and_tests_are_left_out() {
        let text = "\
/// says
fn a() {} // trailing
let link = \"a // b\";
#[cfg(test)]
use x::y;
fn b() {}
#[cfg(test)]
#[expect(dead_code)]
mod tests {
    fn c() {}
}
fn d() {}
";
        let live: Vec<(usize, &str)> = live_lines(text);
        assert_eq!(live, [(2, "fn a() {}"), (3, "let link = \"a // b\";"), (6, "fn b() {}"), (12, "fn d() {}")]);
    }

    #[test]
    fn test_files_are_known_by_their_place() {
        assert!(is_test_file("crates/ground/tests/film.rs"));
        assert!(is_test_file("crates/ground/src/film/tests.rs"));
        assert!(!is_test_file("crates/ground/src/latest.rs"));
    }
}
