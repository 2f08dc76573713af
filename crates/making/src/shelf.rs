//! The data files: preparations, how long pots live, how long hands take.

use measure::SquareMetres;

use crate::{Minutes, Preparing, Span};

/// A broken data file.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{file}, line {line}: {what}")]
pub struct DataError {
    /// Which file.
    pub file: &'static str,
    /// Line, from 1.
    pub line: usize,
    /// What is wrong.
    pub what: String,
}

/// One thing to do before a pot is mixed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Preparation {
    /// Which, such as `soak`; unlike within one family and start.
    pub key: String,
    /// Binder family, such as `glue`, `casein_borax`; or `plaster` for what is done to the powder.
    pub family: String,
    /// What it starts from: `milk`, `curd`, `powder`, `grains` ...
    pub from: String,
    /// Hands-on time.
    pub hands_on: Span,
    /// What it then wants to be left alone.
    pub stands: Span,
    /// Longest that it may stand before the next thing; none if it keeps.
    pub keeps: Option<Minutes>,
    /// What to do, one sentence.
    pub say: String,
    /// The caution that stands beside it.
    pub caution: String,
    /// Where the times come from.
    pub source: String,
}

impl Preparation {
    /// For a day: usual hands-on time.
    pub fn asked(&self) -> Preparing {
        Preparing { key: self.key.clone(), hands_on: self.hands_on.usual, stands: self.stands, keeps: self.keeps }
    }
}

/// How long a ready pot may be used.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PotLife {
    /// Binder family.
    pub family: String,
    /// From ready to too old.
    pub life: Span,
    /// Where it comes from.
    pub source: String,
}

/// How long one thing takes.
#[derive(Debug, Clone, PartialEq)]
struct HandTime {
    key: String,
    value: f64,
}

/// All data files of this crate that tell times.
#[derive(Debug, Clone, PartialEq)]
pub struct TimeShelf {
    preparations: Vec<Preparation>,
    pots: Vec<PotLife>,
    hands: Vec<HandTime>,
}

impl TimeShelf {
    /// The files that are built in.
    ///
    /// # Errors
    /// A broken file, with its line.
    ///
    /// ```
    /// use measure::SquareMetres;
    /// let shelf = making::TimeShelf::builtin()?;
    /// let keys: Vec<&str> = shelf.preparations("glue", "grains").map(|one| one.key.as_str()).collect();
    /// assert_eq!(keys, ["soak", "warm"]);
    /// // 20 x 25 cm: 1.5 min and 5 times 10 s, rounded up.
    /// assert_eq!(shelf.laying(SquareMetres::new(0.05)), making::Minutes::new(3));
    /// # Ok::<(), making::DataError>(())
    /// ```
    pub fn builtin() -> Result<Self, DataError> {
        let preparations = rows("preparations.csv", include_str!("../data/preparations.csv"), |row| {
            let stands = row.span(6)?;
            let keeps = if row.at(9)?.is_empty() { None } else { Some(row.minutes(9)?) };
            if keeps.is_some_and(|keeps| keeps < stands.usual) {
                return Err(row.wrong("it keeps less long than it has to stand".into()));
            }
            Ok(Preparation {
                key: row.filled(0)?.into(),
                family: row.filled(1)?.into(),
                from: row.filled(2)?.into(),
                hands_on: row.span(3)?,
                stands,
                keeps,
                say: row.filled(10)?.into(),
                caution: row.at(11)?.into(),
                source: row.filled(12)?.into(),
            })
        })?;
        let pots = rows("pots.csv", include_str!("../data/pots.csv"), |row| {
            Ok(PotLife { family: row.filled(0)?.into(), life: row.span(1)?, source: row.filled(4)?.into() })
        })?;
        let hands = rows("hands.csv", include_str!("../data/hands.csv"), |row| {
            row.filled(6)?;
            Ok(HandTime { key: row.filled(0)?.into(), value: row.number(2)? })
        })?;
        let shelf = Self { preparations, pots, hands };
        for key in ["coat", "coat.area", "mixing", "washing", "washing.pot"] {
            if !shelf.hands.iter().any(|time| time.key == key) {
                return Err(DataError { file: "hands.csv", line: 1, what: format!("`{key}` is missing") });
            }
        }
        Ok(shelf)
    }

    /// What must be done before a pot of that family is mixed, in order. None for a family that is not known.
    pub fn preparations<'a>(&'a self, family: &'a str, from: &'a str) -> impl Iterator<Item = &'a Preparation> + 'a {
        self.preparations.iter().filter(move |one| one.family == family && one.from == from)
    }

    /// What a family can start from, in the order of the table.
    pub fn starts(&self, family: &str) -> Vec<&str> {
        let mut starts: Vec<&str> = Vec::new();
        for one in self.preparations.iter().filter(|one| one.family == family) {
            if !starts.contains(&one.from.as_str()) {
                starts.push(&one.from);
            }
        }
        starts
    }

    /// How long a ready pot of that family may be used; none if the family is not known.
    pub fn pot(&self, family: &str) -> Option<&PotLife> {
        self.pots.iter().find(|pot| pot.family == family)
    }

    /// All pots.
    pub fn pots(&self) -> &[PotLife] {
        &self.pots
    }

    /// Hands-on time for one coat on one board of that size, rounded up.
    pub fn laying(&self, area: SquareMetres) -> Minutes {
        let seconds = self.time("coat.area") * (area.value() * 100.0).max(0.0);
        rounded_up(self.time("coat") + seconds / 60.0)
    }

    /// Hands-on time from ready binder and weighed powder to the ready pot.
    pub fn mixing(&self) -> Minutes {
        rounded_up(self.time("mixing"))
    }

    /// Cleaning up after so many pots.
    pub fn washing_up(&self, pots: usize) -> Minutes {
        rounded_up(self.time("washing") + self.time("washing.pot") * pots as f64)
    }

    fn time(&self, key: &str) -> f64 {
        self.hands.iter().find(|time| time.key == key).map_or(0.0, |time| time.value)
    }
}

/// A whole number of minutes stays itself, however it was reckoned.
fn rounded_up(minutes: f64) -> Minutes {
    Minutes::of_hours((minutes - 1e-6) / 60.0)
}

struct Row {
    file: &'static str,
    line: usize,
    record: csv::StringRecord,
}

impl Row {
    fn wrong(&self, what: String) -> DataError {
        DataError { file: self.file, line: self.line, what }
    }

    fn at(&self, column: usize) -> Result<&str, DataError> {
        self.record.get(column).map(str::trim).ok_or_else(|| self.wrong(format!("column {} is missing", column + 1)))
    }

    fn filled(&self, column: usize) -> Result<&str, DataError> {
        match self.at(column)? {
            "" => Err(self.wrong(format!("column {} is empty", column + 1))),
            text => Ok(text),
        }
    }

    fn number(&self, column: usize) -> Result<f64, DataError> {
        let text = self.filled(column)?;
        text.parse().map_err(|_| self.wrong(format!("`{text}` is no number")))
    }

    fn minutes(&self, column: usize) -> Result<Minutes, DataError> {
        let text = self.filled(column)?;
        let minutes = text.parse::<u16>().map_err(|_| self.wrong(format!("`{text}` is no number of minutes")))?;
        Ok(Minutes::new(i32::from(minutes)))
    }

    fn span(&self, column: usize) -> Result<Span, DataError> {
        let span = Span { low: self.minutes(column)?, usual: self.minutes(column + 1)?, high: self.minutes(column + 2)? };
        if span.low <= span.usual && span.usual <= span.high { Ok(span) } else { Err(self.wrong("a span must rise".into())) }
    }
}

fn rows<T>(file: &'static str, text: &str, read: fn(&Row) -> Result<T, DataError>) -> Result<Vec<T>, DataError> {
    let records = csv::Reader::from_reader(text.as_bytes()).into_records();
    let record = |(index, record): (usize, Result<csv::StringRecord, csv::Error>)| {
        let line = index + 2;
        let record = record.map_err(|e| DataError { file, line, what: e.to_string() })?;
        read(&Row { file, line, record })
    };
    records.enumerate().map(record).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_files_stand() {
        let shelf = TimeShelf::builtin().unwrap();
        for family in ["glue", "casein_soda", "casein_borax", "casein_ammonia", "casein_lime", "emulsion", "oil", "acrylic"] {
            assert!(shelf.pot(family).is_some(), "{family}");
            assert!(!shelf.starts(family).is_empty(), "{family}");
            for from in shelf.starts(family) {
                let mut keys: Vec<&str> = shelf.preparations(family, from).map(|one| one.key.as_str()).collect();
                let count = keys.len();
                keys.sort_unstable();
                keys.dedup();
                assert_eq!(keys.len(), count, "{family} from {from}");
            }
        }
        assert_eq!(shelf.starts("casein_borax"), ["milk", "curd", "powder"]);
        assert_eq!(shelf.starts("plaster"), ["plaster"]);
    }

    #[test]
    fn each_step_is_one_sentence_and_its_caution_defers() {
        for one in &TimeShelf::builtin().unwrap().preparations {
            assert!(one.say.ends_with('.') && one.say.matches(". ").count() == 0, "{}", one.say);
            assert!(one.caution.contains("local rules"), "{} {}", one.family, one.key);
            let sheet = one.caution.contains("safety data sheet") || ["break", "wash", "soak", "shake"].contains(&one.key.as_str());
            assert!(sheet, "{} {}", one.family, one.key);
        }
    }

    #[test]
    fn times_that_books_tell() {
        let shelf = TimeShelf::builtin().unwrap();
        let stands = |family, from, key: &str| shelf.preparations(family, from).find(|one| one.key == key).unwrap().stands;
        // Borax casein is ready after 2 h; casein soaks about 12 h (Wehlte, as given in casein leaflets).
        assert_eq!(stands("casein_borax", "powder", "dissolve").usual, Minutes::of_hours(2.0));
        assert_eq!(stands("casein_borax", "powder", "soak").usual, Minutes::of_hours(12.0));
        // Glue soaks 8 to 12 h (common practice, no source).
        assert_eq!((stands("glue", "grains", "soak").low, stands("glue", "grains", "soak").high), (Minutes::new(480), Minutes::new(720)));
        // Lime casein: an hour at most (painters' recipes).
        assert_eq!(shelf.pot("casein_lime").unwrap().life.high, Minutes::new(60));
    }

    #[test]
    fn laying_grows_with_the_board() {
        // By hand: 1.5 min + 10 s for each 100 cm². 10 x 10 cm: 100 s -> 2 min; 40 x 50 cm, 2000 cm²: 1.5 min + 200 s = 4.83 -> 5 min.
        let shelf = TimeShelf::builtin().unwrap();
        assert_eq!(shelf.laying(SquareMetres::new(0.01)), Minutes::new(2));
        assert_eq!(shelf.laying(SquareMetres::new(0.2)), Minutes::new(5));
        // 10 min and 4 for each of 6 pots.
        assert_eq!((shelf.mixing(), shelf.washing_up(6)), (Minutes::new(20), Minutes::new(34)));
    }
}
