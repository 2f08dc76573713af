//! Every draw of every unknown of a recipe, made once and read many times.

use measure::Draws;

use crate::mix::Mix;

/// Rows of values, one a draw, in the order of the recipe's unknowns.
#[derive(Debug, Clone, PartialEq)]
pub struct Drawn {
    draws: Draws,
    width: usize,
    values: Vec<f64>,
}

impl Drawn {
    /// Draws all unknowns of a recipe.
    pub fn of(mix: &Mix, draws: Draws) -> Self {
        let inputs = mix.inputs();
        let mut values = Vec::with_capacity(inputs.len() * draws.count);
        for index in 0..draws.count {
            values.extend(inputs.iter().map(|input| draws.value(input, index)));
        }
        Self { draws, width: inputs.len(), values }
    }

    /// How it was drawn.
    pub fn draws(&self) -> Draws {
        self.draws
    }

    /// The rows, first draw first.
    pub fn rows(&self) -> impl Iterator<Item = &[f64]> {
        self.values.chunks_exact(self.width.max(1))
    }

    /// The values of one unknown, one a draw.
    pub(crate) fn column(&self, place: usize) -> Vec<f64> {
        self.rows().filter_map(|row| row.get(place).copied()).collect()
    }
}
