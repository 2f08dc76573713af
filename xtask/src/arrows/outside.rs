//! What pure crates bring along from outside, directly or through others.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

use serde_json::Value;

use super::table::{Table, rows};
use crate::error::Error;
use crate::process;
use crate::workspace::{Workspace, json, list, text};

const OUTSIDE: &str = include_str!("../../outside.csv");

/// Names each way from a pure crate to a package that touches the outside world.
pub(crate) fn brought_along(workspace: &Workspace, table: &Table) -> Result<Vec<String>, Error> {
    let mut command = workspace.cargo();
    command.args(["metadata", "--format-version", "1"]);
    let resolved = json(&process::read(&mut command)?, "cargo metadata")?;
    let reasons: BTreeMap<String, String> = rows(OUTSIDE, "outside.csv")?.into_iter().map(|[package, reason]| (package, reason)).collect();
    let graph = Graph::read(&resolved);
    let mut findings = Vec::new();
    for (id, name) in &graph.names {
        if table.is_pure(name) {
            findings.extend(graph.ways_out(id, &reasons));
        }
    }
    findings.sort();
    Ok(findings)
}

/// Packages by id with the normal dependencies of each, build-time macros left out.
struct Graph<'a> {
    names: BTreeMap<&'a str, &'a str>,
    macros: BTreeSet<&'a str>,
    uses: BTreeMap<&'a str, Vec<&'a str>>,
}

impl<'a> Graph<'a> {
    fn read(resolved: &'a Value) -> Self {
        let mut names = BTreeMap::new();
        let mut macros = BTreeSet::new();
        for package in list(resolved, "packages") {
            let id = text(package, "id");
            names.insert(id, text(package, "name"));
            let is_macro = list(package, "targets").flat_map(|target| list(target, "kind")).any(|kind| kind == "proc-macro");
            if is_macro {
                macros.insert(id);
            }
        }
        let mut uses = BTreeMap::new();
        for node in resolved.get("resolve").into_iter().flat_map(|resolve| list(resolve, "nodes")) {
            let normal = list(node, "deps")
                .filter(|dep| list(dep, "dep_kinds").any(|kind| kind.get("kind") == Some(&Value::Null)))
                .map(|dep| text(dep, "pkg"))
                .collect();
            uses.insert(text(node, "id"), normal);
        }
        Self { names, macros, uses }
    }

    /// The shortest way from `start` to each package that has a reason against it.
    fn ways_out(&self, start: &'a str, reasons: &BTreeMap<String, String>) -> Vec<String> {
        let mut findings = Vec::new();
        let mut seen = BTreeSet::from([start]);
        let mut open = VecDeque::from([vec![start]]);
        while let Some(way) = open.pop_front() {
            let Some(&here) = way.last() else { continue };
            for &next in self.uses.get(here).into_iter().flatten() {
                if self.macros.contains(next) || !seen.insert(next) {
                    continue;
                }
                let mut longer = way.clone();
                longer.push(next);
                let name = self.names.get(next).copied().unwrap_or(next);
                if let Some(reason) = reasons.get(name) {
                    let names: Vec<&str> = longer.iter().map(|id| self.names.get(id).copied().unwrap_or(id)).collect();
                    findings.push(format!("{}: {reason}", names.join(" -> ")));
                } else {
                    open.push_back(longer);
                }
            }
        }
        findings
    }
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::*;

    #[test]
    fn a_clock_two_steps_away_is_found_and_a_test_one_is_not() {
        let normal = json!([{"kind": null}]);
        let resolved = json!({
            "packages": [
                {"id": "m", "name": "measure", "targets": []},
                {"id": "d", "name": "dates", "targets": []},
                {"id": "c", "name": "chrono", "targets": []},
                {"id": "t", "name": "tokio", "targets": []},
            ],
            "resolve": {"nodes": [
                {"id": "m", "deps": [
                    {"pkg": "d", "dep_kinds": normal},
                    {"pkg": "t", "dep_kinds": [{"kind": "dev"}]},
                ]},
                {"id": "d", "deps": [{"pkg": "c", "dep_kinds": normal}]},
            ]},
        });
        let reasons = BTreeMap::from([("chrono".to_owned(), "reads the clock".to_owned()), ("tokio".to_owned(), "runs tasks".to_owned())]);
        assert_eq!(Graph::read(&resolved).ways_out("m", &reasons), ["measure -> dates -> chrono: reads the clock"]);
    }
}
