//! Looking things up: the jars and the books.

use std::fmt::Write as _;

use show::{BooksReport, JarView, JarsReport};
use workbench::{VERSION, Workbench};

use crate::arguments::{Books, Jars};
use crate::command::{Failure, bad_input, could_not, json, print};

pub(crate) fn jars(options: &Jars) -> Result<(), Failure> {
    let bench = Workbench::open().map_err(could_not)?;
    let jars: Vec<JarView> = match &options.name {
        Some(name) => vec![bench.jar(name).ok_or_else(|| bad_input(format!("there is no jar `{name}`; `groundproof jars` lists them")))?],
        None => bench.jars().iter().filter_map(|row| bench.jar(&row.id)).collect(),
    };
    if options.json {
        return json(&JarsReport { is: "groundproof jars 1", version: VERSION, jars });
    }
    let mut text = String::new();
    for jar in &jars {
        let _ = writeln!(text, "{} ({}): {}", jar.row.id, jar.row.name, jar.row.plain);
        if options.name.is_some() {
            for property in &jar.properties {
                let _ = writeln!(text, "  {}: {}  [{}: {}]", property.name, property.value, property.standing, property.source);
            }
            for caution in &jar.cautions {
                let _ = writeln!(text, "  Mind: {}  [{}]", caution.text, caution.codes);
            }
        }
    }
    print(&text)
}

pub(crate) fn books(options: &Books) -> Result<(), Failure> {
    let books = Workbench::open().map_err(could_not)?.books();
    if options.json {
        return json(&BooksReport { is: "groundproof books 1", version: VERSION, books });
    }
    let lines: Vec<String> = books.iter().map(|book| format!("{} {}: {}\n", book.id, book.name, book.place)).collect();
    print(&lines.concat())
}
