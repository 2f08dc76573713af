//! From the text of a table to typed readings. Every bad line is told; a table with one is not used at all.

use std::collections::HashMap;

use super::read_value::{number, read_value};
use super::readings::{Board, Job, Kind, Reading, Readings, Seen};

/// Longest table that is read, in bytes.
pub const MOST_BYTES: usize = 10_000_000;
/// Most readings in a table.
pub const MOST_ROWS: usize = 20_000;
/// Most boards in a table: far beyond any trial that a workshop makes, and few enough to be answered at once.
pub const MOST_BOARDS: usize = 1_000;
/// Most columns, and the longest single field in bytes.
const MOST_COLUMNS: usize = 100;
const MOST_FIELD: usize = 400;

const KNOWN: [&str; 13] =
    ["board", "measure", "value", "kind", "batch", "day", "recipe", "job", "strip", "age_d", "rater", "blind", "struck"];
const NOTE: &str = "note";

/// A line that can't be read: where, what, and how to mend it.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("line {line}: {column}: {what}; {mend}")]
pub struct BadLine {
    /// Line of the file, from 1.
    pub line: u64,
    /// Name of the column, or `table`.
    pub column: String,
    /// What is wrong.
    pub what: String,
    /// How to mend it.
    pub mend: String,
}

/// Reads a table of readings.
///
/// # Errors
/// All lines that can't be read, in order; never an empty list.
///
/// ```
/// let table = "board,measure,value,kind,recipe\n01,cracked,yes,yes_no,A\n02,cracked,no,yes_no,B\n";
/// let readings = trials::answer::read(table).unwrap();
/// assert_eq!((readings.boards.len(), readings.rows.len()), (2, 2));
/// let bad = trials::answer::read("board,measure,value\n01,length,long\n").unwrap_err();
/// assert!(bad[0].to_string().starts_with("line 2: value: `long` is no number"));
/// ```
pub fn read(text: &str) -> Result<Readings, Vec<BadLine>> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    if text.len() > MOST_BYTES {
        return Err(vec![bad(1, "table", "the table is longer than 10 MB", "keep one trial in one table")]);
    }
    let mut reader = csv::ReaderBuilder::new().has_headers(true).flexible(true).trim(csv::Trim::All).from_reader(text.as_bytes());
    let head = reader.headers().map_err(|e| vec![bad(1, "table", &e.to_string(), "save the table as comma-separated text")])?.clone();
    let columns = Columns::of(&head)?;
    let mut table = Table::new(&columns);
    let mut record = csv::StringRecord::new();
    loop {
        match reader.read_record(&mut record) {
            Ok(false) => break,
            Ok(true) => {
                let line = record.position().map_or(0, csv::Position::line);
                if table.boards.len() > MOST_BOARDS {
                    table.bad.push(bad(line, "board", "more than 1,000 boards", "keep one trial in one table"));
                    break;
                }
                if table.taken >= MOST_ROWS {
                    table.bad.push(bad(line, "table", "more than 20,000 readings", "keep one trial in one table"));
                    break;
                }
                table.take(line, &record);
            }
            Err(e) => {
                let line = e.position().map_or(0, csv::Position::line);
                table.bad.push(bad(line, "table", &e.to_string(), "save the table as comma-separated text"));
                break;
            }
        }
    }
    table.finish()
}

fn bad(line: u64, column: &str, what: &str, mend: &str) -> BadLine {
    BadLine { line, column: column.to_owned(), what: what.to_owned(), mend: mend.to_owned() }
}

/// Where each known column stands.
struct Columns {
    known: HashMap<String, usize>,
    factors: Vec<(String, usize)>,
    shares: Vec<usize>,
    width: usize,
}

impl Columns {
    fn of(head: &csv::StringRecord) -> Result<Self, Vec<BadLine>> {
        let mut columns = Self { known: HashMap::new(), factors: Vec::new(), shares: Vec::new(), width: head.len() };
        let mut wrong = Vec::new();
        if head.len() > MOST_COLUMNS {
            return Err(vec![bad(1, "table", "more than 100 columns", "keep the columns that matter")]);
        }
        if head.len() == 1 && head.get(0).is_some_and(|one| one.contains([';', '\t'])) {
            return Err(vec![bad(
                1,
                "table",
                "the columns are not parted by commas",
                "save the table with commas between the columns and points in numbers",
            )]);
        }
        for (index, raw) in head.iter().enumerate() {
            let name = raw.to_lowercase();
            let factor = name.strip_prefix("set:").or_else(|| name.strip_prefix("share:")).map(|rest| rest.trim().to_owned());
            let twice = match &factor {
                Some(factor) => columns.factors.iter().any(|(known, _)| known == factor),
                None => columns.known.contains_key(&name),
            };
            if twice {
                wrong.push(bad(1, raw, "the column stands twice", "keep one of them"));
            } else if let Some(factor) = factor {
                if factor.is_empty() || factor.len() > MOST_FIELD {
                    wrong.push(bad(1, raw, "the setting has no fitting name", "write it as `set:coats` or `share:chalk`"));
                } else {
                    if name.starts_with("share:") {
                        columns.shares.push(columns.factors.len());
                    }
                    columns.factors.push((factor, index));
                }
            } else if KNOWN.contains(&name.as_str()) || name == NOTE {
                columns.known.insert(name, index);
            } else {
                let short: String = raw.chars().take(40).collect();
                wrong.push(bad(
                    1,
                    &short,
                    "no such column",
                    &format!("known are {}, note, and `set:NAME` or `share:NAME` for what was varied", KNOWN.join(", ")),
                ));
            }
        }
        for needed in ["board", "measure", "value"] {
            if !columns.known.contains_key(needed) {
                wrong.push(bad(
                    1,
                    needed,
                    "this column is missing",
                    "the first line names the columns; board, measure and value are needed",
                ));
            }
        }
        if wrong.is_empty() { Ok(columns) } else { Err(wrong) }
    }
}

/// A value that waits until the kind of its measure is known.
struct Waiting {
    line: u64,
    board: usize,
    measure: usize,
    value: String,
    struck: bool,
    strip: Option<u32>,
    age_d: Option<f64>,
}

struct Table<'a> {
    columns: &'a Columns,
    boards: Vec<Board>,
    jobs_said: Vec<bool>,
    board_of: HashMap<String, usize>,
    measures: Vec<(String, Option<Kind>)>,
    measure_of: HashMap<String, usize>,
    waiting: Vec<Waiting>,
    taken: usize,
    bad: Vec<BadLine>,
}

impl<'a> Table<'a> {
    fn new(columns: &'a Columns) -> Self {
        Self {
            columns,
            boards: Vec::new(),
            jobs_said: Vec::new(),
            board_of: HashMap::new(),
            measures: Vec::new(),
            measure_of: HashMap::new(),
            waiting: Vec::new(),
            taken: 0,
            bad: Vec::new(),
        }
    }

    fn take(&mut self, line: u64, record: &csv::StringRecord) {
        self.taken += 1;
        if record.iter().all(str::is_empty) {
            return;
        }
        if record.len() != self.columns.width {
            let what = format!("{} fields where the first line has {}", record.len(), self.columns.width);
            self.bad.push(bad(line, "table", &what, "give every line as many commas as the first; write decimals with a point"));
            return;
        }
        if record.iter().any(|field| field.len() > MOST_FIELD) {
            self.bad.push(bad(line, "table", "a field is longer than 400 bytes", "shorten it"));
            return;
        }
        let before = self.bad.len();
        let field = |name: &str| self.columns.known.get(name).and_then(|&at| record.get(at)).unwrap_or_default();
        for needed in ["board", "measure"] {
            if field(needed).is_empty() {
                self.bad.push(bad(line, needed, "nothing stands here", "every reading belongs to a board and a measure"));
            }
        }
        let kind = match field("kind") {
            "" => None,
            name => {
                let kind = Kind::NAMED.iter().find(|(known, _)| *known == name).map(|(_, kind)| *kind);
                if kind.is_none() {
                    let known = Kind::NAMED.map(|(name, _)| name).join(", ");
                    self.bad.push(bad(line, "kind", &format!("`{name}` is no kind"), &format!("the kinds are {known}")));
                }
                kind
            }
        };
        let job = match field("job").to_lowercase().as_str() {
            "" => None,
            "recipe" => Some(Job::Recipe),
            "yardstick" => Some(Job::Yardstick),
            "witness" => Some(Job::Witness),
            other => {
                self.bad.push(bad(line, "job", &format!("`{other}` is no job"), "leave it empty, or write yardstick or witness"));
                None
            }
        };
        let strip = match field("strip") {
            "" => None,
            text => {
                let strip = text.parse::<u32>().ok().filter(|strip| (1..=100).contains(strip));
                if strip.is_none() {
                    self.bad.push(bad(line, "strip", &format!("`{text}` is no strip"), "count strips 1, 2, 3 from the thinnest"));
                }
                strip
            }
        };
        let age_d = match field("age_d") {
            "" => None,
            text => {
                let age = number(text).ok().filter(|age| (0.0..=100_000.0).contains(age));
                if age.is_none() {
                    self.bad.push(bad(line, "age_d", &format!("`{text}` is no age"), "write days as a number, such as 7"));
                }
                age
            }
        };
        let struck = !matches!(field("struck").to_lowercase().as_str(), "" | "no" | "n" | "0" | "false");
        if self.bad.len() > before {
            return;
        }
        let [board, measure, value, batch, day, recipe] =
            ["board", "measure", "value", "batch", "day", "recipe"].map(|name| field(name).to_owned());
        let settings = self.columns.factors.iter().map(|(_, at)| record.get(*at).unwrap_or_default().to_owned()).collect();
        let board = self.board(line, Board { id: board, batch, day, recipe, job: job.unwrap_or(Job::Recipe), settings }, job.is_some());
        let measure = self.measure(line, measure, kind);
        self.waiting.push(Waiting { line, board, measure, value, struck, strip, age_d });
    }

    /// The board's place; what its lines say of it must agree, and what one leaves open another may fill.
    fn board(&mut self, line: u64, told: Board, job_said: bool) -> usize {
        let Some(&at) = self.board_of.get(&told.id) else {
            self.board_of.insert(told.id.clone(), self.boards.len());
            self.boards.push(told);
            self.jobs_said.push(job_said);
            return self.boards.len() - 1;
        };
        let Some(board) = self.boards.get_mut(at) else { return at };
        let mut clash = |column: &str, known: &mut String, now: &str| {
            if known.is_empty() {
                now.clone_into(known);
            } else if !now.is_empty() && known != now {
                let what = format!("board {} stands with `{known}` above and `{now}` here", told.id);
                self.bad.push(bad(line, column, &what, "a board has one of each: mend the line that is wrong"));
            }
        };
        clash("batch", &mut board.batch, &told.batch);
        clash("day", &mut board.day, &told.day);
        clash("recipe", &mut board.recipe, &told.recipe);
        for ((name, _), (known, now)) in self.columns.factors.iter().zip(board.settings.iter_mut().zip(&told.settings)) {
            clash(name, known, now);
        }
        if let Some(said) = self.jobs_said.get_mut(at).filter(|_| job_said) {
            if *said && board.job != told.job {
                let what = format!("board {} has another job above", told.id);
                self.bad.push(bad(line, "job", &what, "a board has one job: mend the line that is wrong"));
            }
            *said = true;
            board.job = told.job;
        }
        at
    }

    fn measure(&mut self, line: u64, name: String, kind: Option<Kind>) -> usize {
        let Some(&at) = self.measure_of.get(&name) else {
            self.measure_of.insert(name.clone(), self.measures.len());
            self.measures.push((name, kind));
            return self.measures.len() - 1;
        };
        if let (Some((_, known)), Some(kind)) = (self.measures.get_mut(at), kind) {
            if known.is_some_and(|known| known != kind) {
                self.bad.push(bad(line, "kind", &format!("{name} has another kind above"), "a measure has one kind"));
            }
            *known = Some(kind);
        }
        at
    }

    fn finish(mut self) -> Result<Readings, Vec<BadLine>> {
        if self.taken == 0 && self.bad.is_empty() {
            self.bad.push(bad(2, "table", "there is no reading", "write one reading a line below the names of the columns"));
        }
        let mut measures = Vec::with_capacity(self.measures.len());
        for (index, (name, kind)) in self.measures.iter().enumerate() {
            let words = |text: &str| matches!(text.to_ascii_lowercase().as_str(), "yes" | "no");
            let mut given = self.waiting.iter().filter(|one| one.measure == index && !one.value.is_empty()).peekable();
            let all_words = given.peek().is_some() && given.all(|one| words(&one.value));
            measures.push((name.clone(), kind.unwrap_or(if all_words { Kind::YesNo } else { Kind::Number })));
        }
        let mut rows = Vec::with_capacity(self.waiting.len());
        for one in &self.waiting {
            let kind = measures.get(one.measure).map_or(Kind::Number, |(_, kind)| *kind);
            match read_value(&one.value, kind) {
                Ok(seen) => {
                    let seen: Option<Seen> = seen.filter(|_| !one.struck);
                    rows.push(Reading { board: one.board, measure: one.measure, seen, strip: one.strip, age_d: one.age_d });
                }
                Err((what, mend)) => self.bad.push(bad(one.line, "value", &what, mend)),
            }
        }
        if !self.bad.is_empty() {
            self.bad.sort_by_key(|one| one.line);
            return Err(self.bad);
        }
        let factors = self.columns.factors.iter().map(|(name, _)| name.clone()).collect();
        Ok(Readings { factors, shares: self.columns.shares.clone(), boards: self.boards, measures, rows })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(table: &str) -> Vec<String> {
        read(table).unwrap_err().iter().map(ToString::to_string).collect()
    }

    #[test]
    fn every_bad_line_is_told() {
        let bad = told(
            "board,measure,value,kind,strip\n01,length,long,length,1\n,length,2,length,1\n02,length,3,weight,x\n03,length,4,length,1\n",
        );
        assert_eq!(bad.len(), 4, "{bad:?}");
        assert!(bad[0].starts_with("line 2: value: `long`"), "{bad:?}");
        assert!(bad[1].starts_with("line 3: board:") && bad[2].starts_with("line 4: kind:") && bad[3].starts_with("line 4: strip:"));
    }

    #[test]
    fn tables_that_are_none() {
        assert!(told("")[0].contains("missing"));
        assert!(told("board,measure,value\n")[0].contains("no reading"));
        assert!(told("board;measure;value\n1;a;2\n")[0].contains("commas"));
        assert!(told("board,measure,value,colour\n")[0].contains("colour"));
        assert!(told("board,measure,value,day,day\n")[0].contains("twice"));
        assert!(told("board,measure,value\n1,a,2,5\n")[0].contains("4 fields"));
        assert!(told(&format!("board,measure,value\n1,a,{}\n", "9".repeat(500)))[0].contains("400"));
        let many = format!("board,measure,value\n{}", "1,a,2\n".repeat(MOST_ROWS + 1));
        assert!(told(&many)[0].contains("20,000"));
        let boards: Vec<String> = (0..=MOST_BOARDS + 1).map(|board| format!("b{board},a,2")).collect();
        assert!(told(&format!("board,measure,value\n{}", boards.join("\n")))[0].contains("1,000 boards"));
    }

    #[test]
    fn a_board_can_not_be_two() {
        let bad = told("board,measure,value,recipe,day,set:coats\n1,a,2,A,1,2\n1,a,3,B,1,3\n");
        assert_eq!(bad.len(), 2, "{bad:?}");
        assert!(bad.iter().all(|line| line.starts_with("line 3: ")), "{bad:?}");
        let whole = read("board,measure,value,recipe\n1,a,2,\n1,b,yes,A\n").unwrap();
        assert_eq!((whole.boards[0].recipe.as_str(), whole.measures[1].1), ("A", Kind::YesNo));
    }

    #[test]
    fn struck_and_empty_are_kept_as_nothing() {
        let readings = read("board,measure,value,struck\n1,a,2,slip of the pen\n1,a,,\n1,a,4,no\n").unwrap();
        assert_eq!(readings.rows.iter().filter(|row| row.seen.is_some()).count(), 1);
    }

    proptest::proptest! {
        #[test]
        fn any_text_ends_in_readings_or_in_lines(text in "(board,measure,value\n)?[ -~\n\"]{0,120}") {
            match read(&text) {
                Ok(readings) => assert!(!readings.rows.is_empty() || readings.boards.is_empty()),
                Err(bad) => assert!(!bad.is_empty()),
            }
        }
    }
}
