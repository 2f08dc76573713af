//! Reading the data files.

use std::collections::HashSet;
use std::sync::OnceLock;

use super::model::{Cause, CauseBook, CauseId, Fact, FactKey, Factor, Origin, PairTest, Tap, TapKey};

/// A data file is broken: which, where and how.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{file}, line {line}: {what}")]
pub struct DataError {
    /// File name.
    pub file: &'static str,
    /// Line from 1.
    pub line: usize,
    /// What is wrong.
    pub what: String,
}

/// In place of a tap's short name in `causes.csv`, for rows that speak of a fact.
const FACT: &str = "fact";

impl CauseBook {
    /// The book that the program carries, read once.
    ///
    /// # Errors
    /// A data file is broken; a test keeps them sound.
    ///
    /// ```
    /// let book = trials::causes::CauseBook::builtin()?;
    /// assert_eq!((book.causes().len(), book.taps().len()), (18, 8));
    /// # Ok::<(), trials::causes::DataError>(())
    /// ```
    pub fn builtin() -> Result<&'static Self, DataError> {
        static ONCE: OnceLock<Result<CauseBook, DataError>> = OnceLock::new();
        ONCE.get_or_init(|| {
            Self::parse(
                include_str!("../../data/cause_names.csv"),
                include_str!("../../data/taps.csv"),
                include_str!("../../data/facts.csv"),
                include_str!("../../data/causes.csv"),
            )
        })
        .as_ref()
        .map_err(Clone::clone)
    }

    /// Reads a book from the four tables and checks that they fit each other.
    pub(super) fn parse(names: &str, taps: &str, facts: &str, causes: &str) -> Result<Self, DataError> {
        let mut book = Self { causes: Vec::new(), taps: Vec::new(), facts: Vec::new(), factors: Vec::new(), tests: Vec::new() };
        for row in rows("cause_names.csv", names) {
            let row = row?;
            book.causes.push(Cause {
                id: CauseId::new(row.filled(0)?),
                name: row.filled(1)?.to_owned(),
                sight: row.filled(2)?.to_owned(),
                mend: row.filled(3)?.to_owned(),
            });
        }
        for row in rows("taps.csv", taps) {
            let row = row?;
            book.taps.push(Tap {
                key: TapKey::new(row.filled(0)?),
                ask: row.filled(1)?.to_owned(),
                answers: row.filled(2)?.split('|').map(|answer| answer.trim().to_owned()).collect(),
            });
        }
        for row in rows("facts.csv", facts) {
            let row = row?;
            book.facts.push(Fact { key: FactKey::new(row.filled(0)?), plain: row.filled(1)?.to_owned() });
        }
        let mut seen = HashSet::new();
        for row in rows("causes.csv", causes) {
            let row = row?;
            if !seen.insert((row.at(1)?.to_owned(), row.at(2)?.to_owned(), row.at(3)?.to_owned(), row.at(4)?.to_owned())) {
                return Err(row.wrong("this line stands twice"));
            }
            match row.at(0)? {
                "test" => book.tests.push(book.read_test(&row)?),
                "lr" | "prior" => book.factors.push(book.read_factor(&row)?),
                other => return Err(row.wrong(&format!("`{other}` is no kind of line; use lr, prior or test"))),
            }
        }
        book.check_that_something_can_always_be()?;
        Ok(book)
    }

    fn read_cause(&self, row: &Row, column: usize) -> Result<CauseId, DataError> {
        let id = CauseId::new(row.filled(column)?);
        if self.cause(&id).is_none() {
            return Err(row.wrong(&format!("no cause `{}`", id.as_str())));
        }
        Ok(id)
    }

    fn read_test(&self, row: &Row) -> Result<PairTest, DataError> {
        Ok(PairTest {
            one: self.read_cause(row, 1)?,
            other: self.read_cause(row, 2)?,
            text: row.filled(6)?.to_owned(),
            source: row.filled(7)?.to_owned(),
        })
    }

    fn read_factor(&self, row: &Row) -> Result<Factor, DataError> {
        let (tap, answer) = (row.filled(3)?, row.filled(4)?);
        if (tap == FACT) != (row.at(0)? == "prior") {
            return Err(row.wrong("lines about facts are of kind prior, lines about taps of kind lr"));
        }
        let factor: f64 = row.filled(5)?.parse().map_err(|_| row.wrong("the factor is no number"))?;
        // An answer never rules a cause out; only a fact may (factor 0).
        if !factor.is_finite() || factor < 0.0 || (factor == 0.0 && tap != FACT) {
            return Err(row.wrong("a factor is above 0, or 0 for a fact that rules the cause out"));
        }
        let origin = if tap == FACT {
            let key = FactKey::new(answer);
            self.fact(&key).ok_or_else(|| row.wrong(&format!("no fact `{answer}`")))?;
            Origin::Fact(key)
        } else {
            let key = TapKey::new(tap);
            let known = self.tap(&key).ok_or_else(|| row.wrong(&format!("no tap `{tap}`")))?;
            if !known.answers.iter().any(|known| known == answer) {
                return Err(row.wrong(&format!("`{answer}` is no answer of tap `{tap}`")));
            }
            Origin::Tap(key, answer.to_owned())
        };
        Ok(Factor { cause: self.read_cause(row, 1)?, origin, factor, reason: row.filled(6)?.to_owned(), source: row.filled(7)?.to_owned() })
    }

    /// At least one cause is never ruled out, so that shares can always be worked out.
    fn check_that_something_can_always_be(&self) -> Result<(), DataError> {
        let ruled_out = |cause: &Cause| self.factors.iter().any(|factor| factor.cause == cause.id && factor.factor == 0.0);
        if self.causes.iter().all(ruled_out) {
            let what = "every cause has a fact that rules it out; leave one that is always possible".to_owned();
            return Err(DataError { file: "causes.csv", line: 1, what });
        }
        Ok(())
    }
}

/// One record with the place that an error message needs.
pub(crate) struct Row {
    file: &'static str,
    line: usize,
    record: csv::StringRecord,
}

impl Row {
    pub(crate) fn wrong(&self, what: &str) -> DataError {
        DataError { file: self.file, line: self.line, what: what.to_owned() }
    }
    pub(crate) fn at(&self, column: usize) -> Result<&str, DataError> {
        self.record.get(column).map(str::trim).ok_or_else(|| self.wrong(&format!("column {} is missing", column + 1)))
    }
    pub(crate) fn filled(&self, column: usize) -> Result<&str, DataError> {
        match self.at(column)? {
            "" => Err(self.wrong(&format!("column {} is empty", column + 1))),
            text => Ok(text),
        }
    }
}

pub(crate) fn rows<'a>(file: &'static str, text: &'a str) -> impl Iterator<Item = Result<Row, DataError>> + 'a {
    let records = csv::Reader::from_reader(text.as_bytes()).into_records();
    records.enumerate().map(move |(index, record)| {
        let line = index + 2;
        record.map(|record| Row { file, line, record }).map_err(|e| DataError { file, line, what: e.to_string() })
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_tables_are_whole() {
        // Counts of the collected tables: 18 causes, 8 taps, 295 factors of answers, 29 of facts, 19 tests.
        let book = CauseBook::builtin().unwrap();
        let of_facts = book.factors().iter().filter(|factor| matches!(factor.origin, Origin::Fact(_))).count();
        assert_eq!((book.factors().len() - of_facts, of_facts, book.tests().len(), book.causes().len()), (295, 29, 19, 18));
        assert_eq!(book.taps().len(), 8);
    }

    #[test]
    fn every_cause_of_a_test_exists_and_every_answer_belongs_to_its_tap() {
        let book = CauseBook::builtin().unwrap();
        for test in book.tests() {
            assert!(book.cause(&test.one).is_some() && book.cause(&test.other).is_some() && test.one != test.other);
        }
        for factor in book.factors() {
            assert!(book.cause(&factor.cause).is_some());
            match &factor.origin {
                Origin::Tap(key, answer) => assert!(book.tap(key).unwrap().answers.contains(answer), "{answer}"),
                Origin::Fact(key) => assert!(book.fact(key).is_some()),
            }
        }
    }

    #[test]
    fn every_fact_moves_something() {
        let book = CauseBook::builtin().unwrap();
        for fact in book.facts() {
            assert!(book.factors().iter().any(|factor| factor.origin == Origin::Fact(fact.key.clone())), "{}", fact.key.as_str());
        }
    }

    const NAMES: &str = "cause_id,name,sight,mend\nA,wind,lines,shelter\nB,sun,haze,shade\n";
    const TAPS: &str = "tap,ask,answers\nsky,What was above?,clouds|stars\n";
    const FACTS: &str = "fact,plain\nindoors,kept indoors\n";
    const HEAD: &str = "kind,cause_id,other_id,tap,answer,factor,reason,source\n";

    fn said(line: &str) -> String {
        CauseBook::parse(NAMES, TAPS, FACTS, &format!("{HEAD}{line}\n")).unwrap_err().to_string()
    }

    #[test]
    fn a_broken_line_is_named() {
        for (line, word) in [
            ("lr,A,,sky,rain,3,why,invented", "rain"),
            ("lr,C,,sky,clouds,3,why,invented", "no cause `C`"),
            ("lr,A,,sea,clouds,3,why,invented", "no tap `sea`"),
            ("lr,A,,sky,clouds,much,why,invented", "no number"),
            ("lr,A,,sky,clouds,0,why,invented", "above 0"),
            ("lr,A,,sky,clouds,3,why,", "column 8 is empty"),
            ("prior,A,,fact,outdoors,3,why,invented", "no fact `outdoors`"),
            ("prior,A,,sky,clouds,3,why,invented", "kind prior"),
            ("test,A,C,,,,do this,invented", "no cause `C`"),
            ("guess,A,,sky,clouds,3,why,invented", "guess"),
        ] {
            let said = said(line);
            assert!(said.contains("causes.csv, line 2") && said.contains(word), "{said}");
        }
    }

    #[test]
    fn not_every_cause_may_be_ruled_out() {
        assert!(said("prior,A,,fact,indoors,0,why,invented\nprior,B,,fact,indoors,0,why,invented").contains("rules it out"));
    }
}
