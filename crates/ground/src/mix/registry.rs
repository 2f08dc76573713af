//! The list of unknowns: one entry a key, however often it is asked for.

use std::collections::HashMap;

use measure::{Input, InputKey, Spread};

/// Place of an unknown in the list.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Slot(usize);

impl Slot {
    /// The slot at this place of the list.
    pub(crate) const fn at(place: usize) -> Self {
        Self(place)
    }

    /// Its value in a row of values. A row is as long as the list, so the fallback is never taken; it is 0 rather than a panic.
    pub(crate) fn of(self, values: &[f64]) -> f64 {
        values.get(self.0).copied().unwrap_or(0.0)
    }
}

/// Collects unknowns while a recipe is compiled.
#[derive(Debug, Default)]
pub(crate) struct Registry {
    inputs: Vec<Input>,
    places: HashMap<InputKey, usize>,
}

impl Registry {
    /// The slot of this unknown; the first description of a key stands.
    pub(crate) fn slot(&mut self, input: Input) -> Slot {
        if let Some(place) = self.places.get(&input.key) {
            return Slot(*place);
        }
        let place = self.inputs.len();
        self.places.insert(input.key.clone(), place);
        self.inputs.push(input);
        Slot(place)
    }

    /// A number that is known exactly.
    pub(crate) fn exact(&mut self, key: String, plain: String, value: f64, unit: &'static str, source: &str) -> Slot {
        self.slot(Input { key: InputKey::new(key), plain, best: value, spread: Spread::Exact, unit, source: source.to_owned() })
    }

    pub(crate) fn into_inputs(self) -> Vec<Input> {
        self.inputs
    }
}
