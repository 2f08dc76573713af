//! The description of the tables: `datapackage.json`.

use serde::Serialize;
use show::DataView;

use super::DataError;
use super::cell::{READING, Sort, day};
use super::tables::{Column, Table, short};

#[derive(Serialize)]
struct Package<'a> {
    profile: &'static str,
    name: String,
    title: &'a str,
    description: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    created: Option<String>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    licenses: Vec<Licence<'a>>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    contributors: Vec<Contributor<'a>>,
    resources: Vec<Resource<'a>>,
}

#[derive(Serialize)]
struct Licence<'a> {
    name: &'a str,
    #[serde(skip_serializing_if = "str::is_empty")]
    path: &'a str,
    #[serde(skip_serializing_if = "str::is_empty")]
    title: &'a str,
}

#[derive(Serialize)]
struct Contributor<'a> {
    title: &'a str,
    role: &'static str,
}

#[derive(Serialize)]
struct Resource<'a> {
    profile: &'static str,
    name: &'a str,
    title: &'a str,
    path: &'a str,
    format: &'static str,
    mediatype: &'static str,
    encoding: &'static str,
    bytes: usize,
    dialect: Dialect,
    schema: Schema<'a>,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Dialect {
    delimiter: &'static str,
    line_terminator: &'static str,
    quote_char: &'static str,
    double_quote: bool,
    header: bool,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Schema<'a> {
    fields: Vec<Field<'a>>,
    missing_values: [&'static str; 1],
    #[serde(skip_serializing_if = "<[_]>::is_empty")]
    primary_key: &'a [&'static str],
    #[serde(skip_serializing_if = "Vec::is_empty")]
    foreign_keys: Vec<ForeignKey<'a>>,
}

#[derive(Serialize)]
struct ForeignKey<'a> {
    fields: [&'a str; 1],
    reference: Reference<'a>,
}

#[derive(Serialize)]
struct Reference<'a> {
    resource: &'a str,
    fields: [&'a str; 1],
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Field<'a> {
    name: &'a str,
    #[serde(rename = "type")]
    sort: &'static str,
    format: &'static str,
    description: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    true_values: Option<[&'static str; 1]>,
    #[serde(skip_serializing_if = "Option::is_none")]
    false_values: Option<[&'static str; 1]>,
    #[serde(skip_serializing_if = "Constraints::is_empty")]
    constraints: Constraints<'a>,
}

#[derive(Serialize, Default)]
struct Constraints<'a> {
    #[serde(skip_serializing_if = "Option::is_none")]
    required: Option<bool>,
    #[serde(skip_serializing_if = "Option::is_none")]
    unique: Option<bool>,
    #[serde(rename = "enum", skip_serializing_if = "Option::is_none")]
    words: Option<&'a [String]>,
    #[serde(skip_serializing_if = "Option::is_none")]
    minimum: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    maximum: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pattern: Option<&'static str>,
}

impl Constraints<'_> {
    fn is_empty(&self) -> bool {
        self.required.is_none()
            && self.unique.is_none()
            && self.words.is_none()
            && self.minimum.is_none()
            && self.maximum.is_none()
            && self.pattern.is_none()
    }
}

const APOSTROPHES: &str = "In columns of type string a text that begins with = + - @, an apostrophe or a blank has an apostrophe put in \
     front, so that no spreadsheet takes it for a formula; take one off on reading.";

/// The description as JSON; `files` are the tables as written, in the same order.
pub(super) fn describe(view: &DataView, tables: &[Table], files: &[(String, Vec<u8>)]) -> Result<Vec<u8>, DataError> {
    let licence = &view.licence;
    if !view.created.is_empty() && !day(&view.created) {
        return Err(DataError::Created { created: short(&view.created) });
    }
    let terms = if licence.id.is_empty() { "No licence is given: ask the authors before using the data." } else { "" };
    let program = if view.program.is_empty() { String::new() } else { format!("Written by {}.", view.program) };
    let sentences = [view.description.as_str(), terms, APOSTROPHES, &program];
    let package = Package {
        profile: "tabular-data-package",
        name: name_of(&view.title),
        title: &view.title,
        description: sentences.into_iter().filter(|text| !text.is_empty()).collect::<Vec<_>>().join(" "),
        // The specification wants a moment; the hour of writing says nothing.
        created: (!view.created.is_empty()).then(|| format!("{}T00:00:00Z", view.created)),
        licenses: if licence.id.is_empty() {
            Vec::new()
        } else {
            vec![Licence { name: &licence.id, path: &licence.address, title: &licence.title }]
        },
        contributors: view.authors.iter().map(|author| Contributor { title: author, role: "author" }).collect(),
        resources: tables.iter().zip(files).map(|(table, (path, bytes))| resource(table, path, bytes.len())).collect(),
    };
    let mut json = serde_json::to_vec_pretty(&package).map_err(|e| DataError::Pack(e.to_string()))?;
    json.push(b'\n');
    Ok(json)
}

fn resource<'a>(table: &'a Table, path: &'a str, bytes: usize) -> Resource<'a> {
    Resource {
        profile: "tabular-data-resource",
        name: table.name,
        title: table.title,
        path,
        format: "csv",
        mediatype: "text/csv",
        encoding: "utf-8",
        bytes,
        dialect: Dialect { delimiter: ",", line_terminator: "\r\n", quote_char: "\"", double_quote: true, header: true },
        schema: Schema {
            fields: table.columns.iter().map(|column| field(column, table.key == [column.name.as_str()])).collect(),
            missing_values: [""],
            primary_key: table.key,
            foreign_keys: table
                .links
                .iter()
                .map(|link| ForeignKey { fields: [link.column], reference: Reference { resource: link.table, fields: [link.column] } })
                .collect(),
        },
    }
}

fn field(column: &Column, unique: bool) -> Field<'_> {
    let mut constraints =
        Constraints { required: column.required.then_some(true), unique: unique.then_some(true), ..Constraints::default() };
    let mut yes_no = None;
    let sort = match &column.sort {
        Sort::Text => "string",
        Sort::Number { least, most } => {
            (constraints.minimum, constraints.maximum) = (*least, *most);
            "number"
        }
        Sort::Whole => {
            constraints.minimum = Some(0.0);
            "integer"
        }
        Sort::Day => "date",
        Sort::Word(words) => {
            // A list without words would refuse everything, and the specification wants at least one.
            constraints.words = Some(words.as_slice()).filter(|words| !words.is_empty());
            "string"
        }
        Sort::YesNo => {
            yes_no = Some((["yes"], ["no"]));
            "boolean"
        }
        Sort::Reading => {
            constraints.pattern = Some(READING);
            "string"
        }
    };
    Field {
        name: &column.name,
        sort,
        format: "default",
        description: &column.about,
        true_values: yes_no.map(|(yes, _)| yes),
        false_values: yes_no.map(|(_, no)| no),
        constraints,
    }
}

/// A short name of small letters, figures and dashes, as the specification wants it.
fn name_of(title: &str) -> String {
    let words = title.split(|letter: char| !letter.is_ascii_alphanumeric()).filter(|word| !word.is_empty());
    let name = words.map(str::to_ascii_lowercase).collect::<Vec<_>>().join("-");
    if name.is_empty() { "boards".to_owned() } else { name }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_small_letters_figures_and_dashes() {
        assert_eq!(name_of("Tide calendar: 2nd trial (½ glue)"), "tide-calendar-2nd-trial-glue");
        assert_eq!(name_of("潮"), "boards");
    }
}
