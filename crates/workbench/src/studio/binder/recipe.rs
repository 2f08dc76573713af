//! A recipe that names a jar of binder takes its strength, water and all.

use materials::{Wishes, read};
use measure::{Dimension, Input, InputKey, Spread};
use notebook::{BinderRoad, Notebook};

use super::worked::ToldBinder;
use crate::Workbench;

/// Values that stand for the doubt of a jar in a recipe.
const VALUES: usize = 100;
/// The unknown that the other one is tied to.
const DRY: &str = "dry_share";

impl Workbench {
    /// Binders that a text names, by subject, one for each name: of several of that name the one in use, the newest first.
    fn binders_named(state: &Notebook, told: &str) -> Vec<String> {
        let told = words(told);
        let mut known: Vec<_> = state.binders.values().collect();
        known.sort_by_key(|kept| (kept.record.closed.is_some(), std::cmp::Reverse(kept.n)));
        let mut found: Vec<(String, String)> = Vec::new();
        for kept in known {
            let name = words(&kept.record.name);
            if !name.trim().is_empty() && told.contains(&format!(" jar{name}")) && found.iter().all(|(other, _)| *other != name) {
                found.push((name, kept.subject.clone()));
            }
        }
        // “jar Tern two” does not name the jar Tern as well.
        let longest = |name: &str| found.iter().all(|(other, _)| other == name || !other.starts_with(name));
        found.iter().filter(|(name, _)| longest(name)).map(|(_, id)| id.clone()).collect()
    }

    /// The binder that a text names: `jar Tern`; none if it names two. Of several of that name the one in use, the newest first.
    pub fn binder_named(&self, state: &Notebook, told: &str) -> Option<String> {
        match Self::binders_named(state, told).as_slice() {
            [one] => Some(one.clone()),
            _ => None,
        }
    }

    /// The stuff that comes ready from the jar that a text names, and the jar's name.
    pub(crate) fn jar_ready(&self, state: &Notebook, told: &str) -> Option<(&'static str, String)> {
        let kept = self.binder_named(state, told).and_then(|id| state.binders.get(&id))?;
        Some((material_of(kept.record.road), kept.record.name.clone()))
    }

    /// A question, if a text names more than one jar of binder: nothing is chosen for the painter.
    pub fn two_jars(&self, state: &Notebook, told: &str) -> Option<String> {
        let found = Self::binders_named(state, told);
        let names: Vec<&str> = found.iter().filter_map(|id| state.binders.get(id)).map(|kept| kept.record.name.as_str()).collect();
        (names.len() > 1).then(|| format!("This recipe names the jars {}: which one goes in? Name one only.", crate::and(&names)))
    }

    /// A recipe that the program wrote, with the jar that the painter's words named.
    pub(crate) fn keep_jar(&self, state: &Notebook, told: &str, text: String) -> String {
        let kept = self.binder_named(state, told).and_then(|id| state.binders.get(&id));
        let Some(kept) = kept.filter(|_| Self::binders_named(state, &text).is_empty()) else { return text };
        let of_jar = |part: &str| {
            let reading = read(self.jars, &self.units, part, &Wishes::new());
            reading.lines.first().and_then(|line| line.material.first()).is_some_and(|id| id.as_str() == material_of(kept.record.road))
        };
        let mut named = false;
        let parts = text.split(", ").map(|part| {
            if !named && of_jar(part) {
                named = true;
                format!("{part}, jar {}", kept.record.name)
            } else {
                part.to_owned()
            }
        });
        parts.collect::<Vec<_>>().join(", ")
    }

    /// The unknowns of a recipe that this binder settles: how much of it is dry, and what is neither dry binder nor water. Empty if it
    /// can't be worked out.
    pub fn binder_inputs(&self, state: &Notebook, id: &str) -> Vec<Input> {
        let Some(told) = ToldBinder::of(state, id) else { return Vec::new() };
        self.jar_inputs.answer(&told, || self.inputs_of_jar(&told))
    }

    fn inputs_of_jar(&self, told: &ToldBinder<'_>) -> Vec<Input> {
        let Ok(worked) = self.worked_binder(told) else { return Vec::new() };
        let material = material_of(told.record.road);
        let mut draws = worked.jar.draws.clone();
        draws.sort_by(|a, b| a.0.total_cmp(&b.0));
        let step = draws.len().div_ceil(VALUES).max(1);
        let some: Vec<(f64, f64)> = draws.into_iter().skip(step / 2).step_by(step).collect();
        let of = |name: &str, best: f64, values: Vec<f64>| Input {
            key: InputKey::new(format!("{name}.{material}")),
            plain: String::new(),
            best,
            spread: if values.iter().all(|value| (value - best).abs() < 1e-12) {
                Spread::Exact
            } else if name == DRY {
                Spread::Measured(values)
            } else {
                // What is dry and what is neither dry nor water are of the same draw of the jar.
                Spread::Tied(InputKey::new(format!("{DRY}.{material}")), values)
            },
            unit: "1",
            source: format!("your jar {}", told.record.name),
        };
        vec![
            of(DRY, worked.jar.best.dry_share(), some.iter().map(|one| one.0).collect()),
            of("other_share", worked.jar.best.other_share(), some.iter().map(|one| one.1).collect()),
        ]
    }

    /// The unknowns that the painter settled for this recipe: the jar of binder that it names before anything measured elsewhere.
    pub fn own_values_for(&self, state: &Notebook, told: &str) -> Vec<Input> {
        self.own_values_with(state, self.binder_named(state, told).as_deref())
    }

    /// The unknowns that the painter settled, with this jar of binder.
    pub(crate) fn own_values_with(&self, state: &Notebook, jar: Option<&str>) -> Vec<Input> {
        let mut own = jar.map_or_else(Vec::new, |id| self.binder_inputs(state, id));
        own.extend(self.own_values(state));
        own
    }

    /// The binder that a text names, and how many grams of it where they were weighed.
    pub(crate) fn binder_used(&self, state: &Notebook, told: &str) -> (Option<String>, Option<f64>) {
        let Some(id) = self.binder_named(state, told) else { return (None, None) };
        let Some(road) = state.binders.get(&id).map(|kept| kept.record.road) else { return (None, None) };
        let reading = read(self.jars, &self.units, told, &Wishes::new());
        let mut ignored = Vec::new();
        let grams = reading
            .lines
            .iter()
            .filter(|line| line.material.first().is_some_and(|material| material.as_str() == material_of(road)))
            .filter_map(|line| self.quantity(line, &mut ignored))
            .map(|(dimension, value)| if dimension == Dimension::Volume { None } else { Some(value) })
            .sum();
        (Some(id), grams)
    }
}

/// What a recipe calls a binder of this road.
pub(super) const fn material_of(road: BinderRoad) -> &'static str {
    match road {
        BinderRoad::Glue => "glue-size",
        BinderRoad::Curd | BinderRoad::Bought | BinderRoad::Powder => "casein-solution",
    }
}

/// Words in small letters with a blank on either side.
fn words(text: &str) -> String {
    let plain: String = text.to_lowercase().chars().map(|c| if c.is_alphanumeric() { c } else { ' ' }).collect();
    format!(" {} ", plain.split_whitespace().collect::<Vec<_>>().join(" "))
}
