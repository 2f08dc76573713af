//! How many checks passed and failed, read from what a test program prints.

use std::ops::AddAssign;

/// Checks that passed and that failed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Tally {
    pub(crate) passed: usize,
    pub(crate) failed: usize,
}

impl Tally {
    /// Adds the numbers of a closing line; any other line changes nothing.
    ///
    /// Two forms are known: `test result: ok. 3 passed; 0 failed; ...` of the Rust test
    /// programs and a line that is exactly `3 passed, 0 failed`.
    pub(crate) fn read(&mut self, line: &str) {
        let line = line.trim();
        if let Some((_, counts)) = line.strip_prefix("test result: ").and_then(|rest| rest.split_once(". ")) {
            for part in counts.split(';') {
                if let Some((count, word)) = part.trim().split_once(' ') {
                    self.add(count, word);
                }
            }
        } else if let Some((passed, failed)) = line.split_once(" passed, ")
            && let Some(failed) = failed.strip_suffix(" failed")
        {
            self.add(passed, "passed");
            self.add(failed, "failed");
        }
    }

    fn add(&mut self, count: &str, word: &str) {
        let Ok(count) = count.parse::<usize>() else {
            return;
        };
        match word {
            "passed" => self.passed += count,
            "failed" => self.failed += count,
            _ => {}
        }
    }
}

impl AddAssign for Tally {
    fn add_assign(&mut self, other: Self) {
        self.passed += other.passed;
        self.failed += other.failed;
    }
}

#[cfg(test)]
mod tests {
    use super::Tally;

    fn tally_of(text: &str) -> Tally {
        let mut tally = Tally::default();
        text.lines().for_each(|line| tally.read(line));
        tally
    }

    #[test]
    fn closing_lines_add_up() {
        let text = "running 3 tests\n\
            test result: ok. 3 passed; 0 failed; 1 ignored; 0 measured; 0 filtered out; finished in 0.02s\n\
            test result: FAILED. 2 passed; 1 failed; 0 ignored; 0 measured; 0 filtered out; finished in 1s\n\
            40 passed, 2 failed\n";
        assert_eq!(tally_of(text), Tally { passed: 45, failed: 3 });
    }

    #[test]
    fn talk_about_tests_is_no_result() {
        let text = "we saw that 3 passed, and 4 failed\nall passed, none failed\ntest result: odd";
        assert_eq!(tally_of(text), Tally::default());
    }
}
