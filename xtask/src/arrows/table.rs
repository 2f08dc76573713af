//! The table of who may use whom.

use std::collections::BTreeMap;

use serde_json::Value;

use crate::error::Error;
use crate::workspace::{Workspace, list, text};

const ARROWS: &str = include_str!("../../arrows.csv");

/// One row: what a crate is and which crates of the workspace it may use.
struct Room {
    kind: String,
    may_use: Vec<String>,
}

/// The table in `arrows.csv`, by crate.
pub(crate) struct Table {
    rooms: BTreeMap<String, Room>,
}

impl Table {
    /// Reads the table that was built in.
    pub(crate) fn read() -> Result<Self, Error> {
        let mut rooms = BTreeMap::new();
        for [name, kind, may_use] in rows(ARROWS, "arrows.csv")? {
            let may_use = may_use.split_whitespace().map(str::to_owned).collect();
            rooms.insert(name, Room { kind, may_use });
        }
        Ok(Self { rooms })
    }

    /// Whether a crate holds knowledge only: no disk, network, clock, environment or chance.
    pub(crate) fn is_pure(&self, name: &str) -> bool {
        self.rooms.get(name).is_some_and(|room| room.kind == "pure")
    }

    /// Names of crates that use one that the table does not allow.
    ///
    /// Dependencies of tests alone are free: they never reach the program.
    pub(crate) fn wrong_arrows(&self, workspace: &Workspace) -> Vec<String> {
        let mut findings = Vec::new();
        for package in workspace.packages() {
            let name = text(package, "name");
            let Some(room) = self.rooms.get(name) else {
                findings.push(format!("{name}: not in xtask/arrows.csv; add a row that says what it may use"));
                continue;
            };
            for dependency in list(package, "dependencies") {
                let used = text(dependency, "name");
                let inside = dependency.get("path").is_some_and(Value::is_string);
                let for_tests = text(dependency, "kind") == "dev";
                if inside && !for_tests && !room.may_use.iter().any(|allowed| allowed == used) {
                    findings.push(format!(
                        "{name} uses {used}; it may use: {}",
                        match room.may_use.join(", ") {
                            nobody if nobody.is_empty() => "none of ours".to_owned(),
                            some => some,
                        }
                    ));
                }
            }
        }
        findings
    }
}

/// The rows of a small table, each with exactly `N` fields.
pub(crate) fn rows<const N: usize>(table: &str, what: &str) -> Result<Vec<[String; N]>, Error> {
    let shape = |why: String| Error::Shape { what: what.to_owned(), why };
    csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_reader(table.as_bytes())
        .records()
        .map(|record| {
            let record = record.map_err(|error| shape(error.to_string()))?;
            let fields: Vec<String> = record.iter().map(|field| field.trim().to_owned()).collect();
            <[String; N]>::try_from(fields).map_err(|fields| shape(format!("{} fields instead of {N}", fields.len())))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::Table;
    use crate::workspace::Workspace;

    fn workspace(uses: &str, kind: Option<&str>) -> Workspace {
        Workspace {
            root: "here".into(),
            target: "there".into(),
            metadata: json!({"packages": [{"name": "ground", "dependencies": [
                {"name": uses, "kind": kind, "path": "crates/it"},
                {"name": "csv", "kind": null},
            ]}]}),
        }
    }

    #[test]
    fn an_arrow_down_is_fine_and_one_up_is_named() {
        let table = Table::read().unwrap();
        assert!(table.wrong_arrows(&workspace("measure", None)).is_empty());
        let findings = table.wrong_arrows(&workspace("web", None));
        assert_eq!(findings.len(), 1);
        assert!(findings[0].starts_with("ground uses web"), "{findings:?}");
        assert!(table.wrong_arrows(&workspace("web", Some("dev"))).is_empty());
    }

    #[test]
    fn the_table_points_one_way() {
        let table = Table::read().unwrap();
        for (name, room) in &table.rooms {
            for used in &room.may_use {
                let back = &table.rooms[used].may_use;
                assert!(!back.contains(name), "{name} and {used} use each other");
                if table.is_pure(name) {
                    assert!(table.is_pure(used), "{name} is pure, {used} is not");
                }
            }
        }
    }
}
