//! The four tables and their columns.

use std::collections::{BTreeSet, HashSet};

use show::{BoardData, CoatData, DataView, IngredientData, ReadingData};

use super::DataError;
use super::cell::Sort;

/// One column.
pub(super) struct Column {
    pub(super) name: String,
    pub(super) sort: Sort,
    /// What it means, with its unit.
    pub(super) about: String,
    pub(super) required: bool,
}

/// A name in one column that must stand in a column of another table.
pub(super) struct Link {
    pub(super) column: &'static str,
    pub(super) table: &'static str,
}

/// One table, its cells ready to be written.
pub(super) struct Table {
    pub(super) name: &'static str,
    pub(super) title: &'static str,
    pub(super) columns: Vec<Column>,
    /// Columns whose cells together name a row.
    pub(super) key: &'static [&'static str],
    pub(super) links: &'static [Link],
    pub(super) rows: Vec<Vec<String>>,
}

/// Cell of one column in one row of a view.
type Cell<R> = Box<dyn Fn(&R) -> &str>;

fn column<R>(name: &str, sort: Sort, about: &str, cell: fn(&R) -> &str) -> (Column, Cell<R>)
where
    R: 'static,
{
    (Column { name: name.to_owned(), sort, about: about.to_owned(), required: false }, Box::new(cell))
}

fn needed<R>((column, cell): (Column, Cell<R>)) -> (Column, Cell<R>) {
    (Column { required: true, ..column }, cell)
}

fn words(list: &[&str]) -> Sort {
    Sort::Word(list.iter().map(|&word| word.to_owned()).collect())
}

const KINDS: [&str; 8] = ["yes_no", "class_0_5", "count", "length", "share", "time", "strain", "thickness"];
const JOBS: [&str; 3] = ["recipe", "yardstick", "witness"];
const JOB: &str = "recipe: a board of the recipe; yardstick: a known ground of the same family; witness: a bought primer on the same board";
const FROM_0: Sort = Sort::Number { least: Some(0.0), most: None };

/// The tables, checked.
pub(super) fn tables(view: &DataView) -> Result<Vec<Table>, DataError> {
    let tables = vec![boards(view)?, coats(view)?, readings(view)?, recipes(view)?];
    for table in &tables {
        table.check_links(&tables)?;
    }
    Ok(tables)
}

fn boards(view: &DataView) -> Result<Table, DataError> {
    let columns = vec![
        needed(column("board", Sort::Text, "id on the back of the board", |row: &BoardData| &row.board)),
        column("recipe", Sort::Text, "recipe laid on it", |row| &row.recipe),
        column("batch", Sort::Text, "pot that the ground came from", |row| &row.batch),
        column("day", Sort::Text, "same-day group", |row| &row.day),
        column("job", words(&JOBS), JOB, |row| &row.job),
        column("support", Sort::Text, "what the board is made of", |row| &row.support),
        column("width_mm", FROM_0, "width; unit: mm", |row| &row.width_mm),
        column("height_mm", FROM_0, "height; unit: mm", |row| &row.height_mm),
        column("last_coat", Sort::Day, "day of the last coat", |row| &row.last_coat),
        column("lost", Sort::Text, "why the board was lost; empty if it was not", |row| &row.lost),
        column("note", Sort::Text, "free text", |row| &row.note),
    ];
    let links: &[Link] = if view.recipes.is_empty() { &[] } else { &[Link { column: "recipe", table: "recipes" }] };
    Table::new("boards", "Boards, one a row", columns, &["board"], links, &view.boards)
}

fn coats(view: &DataView) -> Result<Table, DataError> {
    let percent = Sort::Number { least: Some(0.0), most: Some(100.0) };
    let celsius = Sort::Number { least: Some(-50.0), most: Some(60.0) };
    let columns = vec![
        needed(column("board", Sort::Text, "the board", |row: &CoatData| &row.board)),
        needed(column("coat", Sort::Whole, "number of the coat from 1; 0 is the size", |row| &row.coat)),
        column("batch", Sort::Text, "pot that it came from", |row| &row.batch),
        column("laid", Sort::Day, "day it was laid", |row| &row.laid),
        column("wet_g", FROM_0, "wet mass laid on; unit: g", |row| &row.wet_g),
        column("direction", Sort::Text, "brush direction or tool", |row| &row.direction),
        column("room_c", celsius, "air of the room; unit: degrees Celsius", |row| &row.room_c),
        column("room_rh", percent, "relative humidity of the room; unit: %", |row| &row.room_rh),
        column("note", Sort::Text, "free text", |row| &row.note),
    ];
    Table::new("coats", "Coats, one a row", columns, &["board", "coat"], ON_BOARD, &view.coats)
}

const ON_BOARD: &[Link] = &[Link { column: "board", table: "boards" }];

fn readings(view: &DataView) -> Result<Table, DataError> {
    let measures = Sort::Word(view.measures.iter().map(|measure| measure.id.clone()).collect());
    let units = view.measures.iter().filter(|measure| !measure.unit.is_empty());
    let units: Vec<String> = units.map(|measure| format!("{} in {}", measure.id, measure.unit)).collect();
    let hows: Vec<String> = view.measures.iter().map(|measure| format!("{}: {}. {}", measure.id, measure.name, measure.how)).collect();
    let value = format!(
        "2.5 a number, >600 more than it, <0.05 less than it, 3..7 seen between, empty missing; yes is 1 and no is 0; units: {}",
        if units.is_empty() { "none".to_owned() } else { units.join(", ") }
    );
    let mut columns = vec![
        needed(column("board", Sort::Text, "the board", |row: &ReadingData| &row.board)),
        needed(column("measure", measures, &format!("the scale. {}", hows.join(" ")), |row| &row.measure)),
        column("value", Sort::Reading, &value, |row| &row.value),
        column("kind", words(&KINDS), "sort of number", |row| &row.kind),
        column("batch", Sort::Text, "pot that the ground came from", |row| &row.batch),
        column("day", Sort::Text, "same-day group", |row| &row.day),
        column("recipe", Sort::Text, "recipe laid on the board", |row| &row.recipe),
        column("job", words(&JOBS), JOB, |row| &row.job),
        column("strip", Sort::Text, "strip of the board; empty for the whole board", |row| &row.strip),
        column("age_d", FROM_0, "age since the last coat; unit: days", |row| &row.age_d),
        column("rater", Sort::Text, "who read it", |row| &row.rater),
        column("blind", Sort::YesNo, "whether the rater could not know which board it was", |row| &row.blind),
        column("struck", Sort::Text, "why the reading does not count; empty if it does", |row| &row.struck),
        column("note", Sort::Text, "free text", |row| &row.note),
    ];
    for name in factors(&view.readings)? {
        columns.push(factor(name, &view.readings));
    }
    Table::new("readings", "Readings, one a row", columns, &[], ON_BOARD, &view.readings)
}

/// Names of what was changed, in the order in which they first appear.
fn factors(readings: &[ReadingData]) -> Result<Vec<String>, DataError> {
    for (reading, row) in readings.iter().zip(1..) {
        let mut here = HashSet::new();
        if let Some((name, _)) = reading.factors.iter().find(|(name, _)| !here.insert(name)) {
            return Err(DataError::FactorTwice { row, name: short(name) });
        }
    }
    let mut names: Vec<String> = Vec::new();
    let mut seen = HashSet::new();
    for (name, _) in readings.iter().flat_map(|row| &row.factors) {
        let after = name.strip_prefix("share:").or_else(|| name.strip_prefix("set:"));
        if after.is_none_or(|after| after.trim().is_empty() || after.contains(char::is_control)) {
            return Err(DataError::Factor { name: short(name) });
        }
        if seen.insert(name) {
            names.push(name.clone());
        }
    }
    Ok(names)
}

fn factor(name: String, readings: &[ReadingData]) -> (Column, Cell<ReadingData>) {
    let cell = |row: &ReadingData, name: &str| row.factors.iter().find(|(one, _)| one == name).map(|(_, cell)| cell.clone());
    let any_number = Sort::Number { least: None, most: None };
    let all_numbers = || readings.iter().filter_map(|row| cell(row, &name)).all(|cell| any_number.write(&cell).is_ok());
    let (sort, about) = if name.starts_with("share:") {
        (Sort::Number { least: Some(0.0), most: Some(1.0) }, "mass share of the wet mix; unit: 1")
    } else if all_numbers() {
        (any_number, "a setting that was changed")
    } else {
        (Sort::Text, "a setting that was changed")
    };
    let column = Column { name: name.clone(), sort, about: about.to_owned(), required: false };
    (column, Box::new(move |row| row.factors.iter().find(|(one, _)| *one == name).map_or("", |(_, cell)| cell.as_str())))
}

fn recipes(view: &DataView) -> Result<Table, DataError> {
    let columns = vec![
        needed(column("recipe", Sort::Text, "name of the recipe", |row: &IngredientData| &row.recipe)),
        needed(column("line", Sort::Whole, "place in the recipe from 1", |row| &row.line)),
        needed(column("material", Sort::Text, "what it is", |row| &row.material)),
        column("told", Sort::Text, "the amount as it was told", |row| &row.told),
        column("mass_g", FROM_0, "mass; unit: g", |row| &row.mass_g),
        column("mass_low_g", FROM_0, "least mass of eight cases in ten; unit: g", |row| &row.mass_low_g),
        column("mass_high_g", FROM_0, "most mass of eight cases in ten; unit: g", |row| &row.mass_high_g),
        column("lot", Sort::Text, "make, grade and lot as on the pack", |row| &row.lot),
        column("note", Sort::Text, "free text", |row| &row.note),
    ];
    Table::new("recipes", "Recipes, one ingredient a row", columns, &["recipe", "line"], &[], &view.recipes)
}

pub(super) fn short(cell: &str) -> String {
    cell.chars().take(40).collect()
}

impl Table {
    fn new<R>(
        name: &'static str,
        title: &'static str,
        columns: Vec<(Column, Cell<R>)>,
        key: &'static [&'static str],
        links: &'static [Link],
        data: &[R],
    ) -> Result<Self, DataError> {
        let mut rows = Vec::with_capacity(data.len());
        for (one, row) in data.iter().zip(1..) {
            let mut cells = Vec::with_capacity(columns.len());
            for (column, cell) in &columns {
                let cell = cell(one);
                let wrong = |what| DataError::Cell { table: name, row, column: column.name.clone(), cell: short(cell), what };
                if column.required && cell.is_empty() {
                    return Err(wrong("is empty; it must be known"));
                }
                cells.push(column.sort.write(cell).map_err(wrong)?.into_owned());
            }
            rows.push(cells);
        }
        let table = Self { name, title, columns: columns.into_iter().map(|(column, _)| column).collect(), key, links, rows };
        table.check_key()?;
        Ok(table)
    }

    /// File name.
    pub(super) fn file(&self) -> String {
        format!("{}.csv", self.name)
    }

    fn place(&self, column: &str) -> Option<usize> {
        self.columns.iter().position(|one| one.name == column)
    }

    fn check_key(&self) -> Result<(), DataError> {
        let places: Vec<usize> = self.key.iter().filter_map(|column| self.place(column)).collect();
        let mut seen = BTreeSet::new();
        for (cells, row) in self.rows.iter().zip(1..) {
            let key: Vec<&String> = places.iter().filter_map(|place| cells.get(*place)).collect();
            let cell = key.iter().map(|part| part.as_str()).collect::<Vec<_>>().join(", ");
            if !key.is_empty() && !seen.insert(key) {
                let what = "stands twice; every row needs a name of its own";
                return Err(DataError::Cell { table: self.name, row, column: self.key.join(", "), cell: short(&cell), what });
            }
        }
        Ok(())
    }

    fn check_links(&self, all: &[Self]) -> Result<(), DataError> {
        for link in self.links {
            let other = all.iter().find(|table| table.name == link.table);
            let known: HashSet<&String> = other.into_iter().flat_map(|table| table.cells(link.column)).collect();
            for (cell, row) in self.cells(link.column).zip(1..) {
                if !cell.is_empty() && !known.contains(cell) {
                    let what = "stands in no row of the table that it points to";
                    return Err(DataError::Cell { table: self.name, row, column: link.column.to_owned(), cell: short(cell), what });
                }
            }
        }
        Ok(())
    }

    fn cells(&self, column: &str) -> impl Iterator<Item = &String> {
        let place = self.place(column);
        self.rows.iter().filter_map(move |row| place.and_then(|place| row.get(place)))
    }

    /// The table as RFC 4180 wants it, with a header.
    pub(super) fn csv(&self) -> Result<Vec<u8>, DataError> {
        let wrong = |e: &dyn std::fmt::Display| DataError::Pack(e.to_string());
        let mut writer = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
        writer.write_record(self.columns.iter().map(|column| &column.name)).map_err(|e| wrong(&e))?;
        for row in &self.rows {
            writer.write_record(row).map_err(|e| wrong(&e))?;
        }
        writer.into_inner().map_err(|e| wrong(&e))
    }
}
