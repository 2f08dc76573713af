//! A recipe as read, made ready to be weighed out again and again: one list of unknowns, one way to turn their values into a pot.

mod compile;
mod composition;
mod registry;
mod stirred;

use std::fmt::Write as _;

use materials::{MaterialId, QuestionId};
use measure::{Draws, Grams, Input, InputKey};

use crate::film::{Film, FilmError, Stirred, film_as_stirred};
use crate::plaster::GYPSUM_MADE;
use crate::portion::{Portion, Role};
use composition::Composition;
pub(crate) use composition::{THIRST_UNKNOWN, thirst_input};
use registry::Slot;

/// Why an ingredient could not be counted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LeftOut {
    /// Index of the line in the reading.
    pub line: usize,
    /// The material's name.
    pub name: String,
    /// Why, in a plain sentence.
    pub why: String,
    /// The film can't be told without it (powder or binder), as against a trifle.
    pub matters: bool,
}

/// A recipe ready to be computed.
#[derive(Debug, Clone)]
pub struct Mix {
    pub(crate) inputs: Vec<Input>,
    pub(crate) items: Vec<Item>,
    /// Ingredients without a countable amount.
    pub left_out: Vec<LeftOut>,
    /// Sentences about how the recipe was taken, such as milk that was curdled.
    pub notes: Vec<String>,
    /// Water was told by eye, so nothing wet is known.
    pub water_by_eye: bool,
    /// The milk in the recipe was taken as curdled and drained.
    pub curdled: bool,
    /// How much of the curd is truly dissolved, where there is curd.
    pub(crate) dissolved: Option<Slot>,
    /// How tightly it packs, where lumps were told.
    pub(crate) packing: Option<Slot>,
    /// Unknowns whose printed value was replaced by one that the painter measured.
    pub(crate) own: Vec<InputKey>,
}

/// One ingredient with its rule for grams and what it is made of.
#[derive(Debug, Clone)]
pub(crate) struct Item {
    pub(crate) line: usize,
    pub(crate) size: Size,
    /// Which candidate, when the word may mean several.
    pub(crate) pick: Option<Slot>,
    pub(crate) candidates: Vec<Candidate>,
    pub(crate) question: Option<QuestionId>,
}

#[derive(Debug, Clone)]
pub(crate) struct Candidate {
    pub(crate) material: MaterialId,
    pub(crate) composition: Composition,
}

/// How grams follow from what was told.
#[derive(Debug, Clone)]
pub(crate) enum Size {
    Mass { number: Slot, unit: Slot },
    Volume { number: Slot, unit: Slot, fill: Option<Slot> },
    PartEither { number: Slot, basis: Slot },
    PerLiquid { number: Slot },
    Percent { number: Slot },
    Pieces { number: Slot },
}

/// Size of one part: the scale of a recipe in parts does not matter to its film.
pub(crate) const PART: f64 = 100.0;

impl Mix {
    /// The unknowns behind the recipe.
    pub fn inputs(&self) -> &[Input] {
        &self.inputs
    }

    /// The same recipe with the painter's own measured values in place of printed ones; those that it does not use change nothing.
    #[must_use]
    pub fn with_own(mut self, measured: &[Input]) -> Self {
        for input in &mut self.inputs {
            if let Some(own) = measured.iter().find(|own| own.key == input.key) {
                *input = Input { plain: input.plain.clone(), ..own.clone() };
                self.own.push(own.key.clone());
            }
        }
        self
    }

    /// How many of its unknowns the painter measured.
    pub fn own_count(&self) -> usize {
        self.own.len()
    }

    pub(crate) fn is_own(&self, key: &str) -> bool {
        self.own.iter().any(|own| own.as_str() == key)
    }

    /// The unknowns at their best.
    pub fn best(&self) -> Vec<f64> {
        self.inputs.iter().map(|input| input.best).collect()
    }

    /// The film at these values.
    ///
    /// # Errors
    /// No powder or no binder.
    pub fn film(&self, values: &[f64], pot: &mut Vec<Portion>) -> Result<Film, FilmError> {
        self.pot(values, pot);
        let share = |slot: Option<Slot>| slot.map_or(1.0, |slot| slot.of(values));
        film_as_stirred(pot, Stirred { dissolved: share(self.dissolved), packing: share(self.packing) })
    }

    /// Grams of each line (in the order of `items`) as poured into the pot, at these values.
    pub fn grams(&self, values: &[f64]) -> Vec<(usize, Grams)> {
        let mut liquid = 0.0;
        let mut measured = 0.0;
        let mut shares = 0.0;
        let mut out = Vec::with_capacity(self.items.len());
        for item in &self.items {
            let Some(candidate) = item.candidate(values) else { continue };
            let grams = match &item.size {
                Size::Mass { number, unit } => number.of(values) * unit.of(values),
                Size::Volume { number, unit, fill } => {
                    number.of(values)
                        * unit.of(values)
                        * fill.map_or(1.0, |slot| slot.of(values))
                        * candidate.composition.poured_density(values)
                }
                Size::PartEither { number, basis } => {
                    let weight_of_part = if basis.of(values) < 0.5 { candidate.composition.poured_density(values) } else { 1.0 };
                    number.of(values) * PART * weight_of_part
                }
                Size::PerLiquid { number } => number.of(values) * liquid * candidate.composition.poured_density(values),
                Size::Percent { number } => {
                    shares += number.of(values) / 100.0;
                    out.push((item.line, Grams::new(number.of(values))));
                    continue;
                }
                Size::Pieces { number } => number.of(values) * candidate.composition.piece_grams(values),
            };
            measured += grams;
            if !candidate.composition.is_filler() {
                liquid += candidate.composition.true_volume(grams, values);
            }
            out.push((item.line, Grams::new(grams)));
        }
        // "so many per cent" is of the whole pot: the measured rest is what the per cents leave over.
        if shares > 0.0 {
            let per_cent = if measured > 0.0 && shares < 1.0 { measured / (1.0 - shares) / 100.0 } else { 1.0 };
            for ((_, grams), item) in out.iter_mut().zip(&self.items) {
                if matches!(item.size, Size::Percent { .. }) {
                    *grams = *grams * per_cent;
                }
            }
        }
        out
    }

    /// Each line as it is poured and what of it stays once the film is dry, at these values. Plaster takes up its water as it sets.
    pub fn dried(&self, values: &[f64]) -> Vec<(usize, Grams, Grams)> {
        let mut pot = Vec::new();
        let lines = self.grams(values).into_iter().zip(&self.items);
        lines
            .filter_map(|((line, grams), item)| {
                pot.clear();
                item.candidate(values)?.composition.portions(grams, values, &mut pot);
                let stays = pot.iter().map(|portion| match portion.role {
                    Role::Water | Role::Volatile { .. } => 0.0,
                    Role::Plaster { .. } => portion.mass.value() * GYPSUM_MADE,
                    Role::Filler { .. } | Role::DryBinder { .. } | Role::Dispersed { .. } | Role::Oil { .. } | Role::Other { .. } => {
                        portion.mass.value()
                    }
                });
                Some((line, grams, Grams::new(stays.sum())))
            })
            .collect()
    }

    /// Fills `pot` with the portions at these values; what it held before is gone.
    pub fn pot(&self, values: &[f64], pot: &mut Vec<Portion>) {
        pot.clear();
        for ((_, grams), item) in self.grams(values).into_iter().zip(&self.items) {
            if let Some(candidate) = item.candidate(values) {
                candidate.composition.portions(grams, values, pot);
            }
        }
    }

    /// What the whole pot weighs at these values: curd instead of the milk that it came from.
    pub fn wet_mass(&self, values: &[f64]) -> Grams {
        let mut pot = Vec::new();
        self.pot(values, &mut pot);
        pot.into_iter().map(|portion| portion.mass).sum()
    }

    /// The likeliest material of each counted line.
    pub fn materials(&self) -> impl Iterator<Item = (usize, &MaterialId)> {
        self.items.iter().filter_map(|item| item.candidates.first().map(|candidate| (item.line, &candidate.material)))
    }

    /// The question, if any, that decides which material a line is.
    pub fn question(&self, line: usize) -> Option<&QuestionId> {
        self.items.iter().find(|item| item.line == line).and_then(|item| item.question.as_ref())
    }
}

impl Item {
    pub(crate) fn candidate(&self, values: &[f64]) -> Option<&Candidate> {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a small index drawn from the list itself")]
        let index = self.pick.map_or(0, |slot| slot.of(values) as usize);
        self.candidates.get(index).or(self.candidates.first())
    }
}

impl Mix {
    /// A number that is equal for equal inputs, coat and draws: the name of a calculation.
    pub fn calculation(&self, wet_micrometres: f64, draws: Draws, version: &str) -> u64 {
        let mut text = format!("{version}|{}|{}|{wet_micrometres}", draws.seed, draws.count);
        for input in &self.inputs {
            // Writing to a text can't fail.
            let _ = write!(text, "|{}={:?}{:?}", input.key.as_str(), input.best, input.spread);
        }
        // FNV-1a, 64 bit.
        text.bytes().fold(0xcbf2_9ce4_8422_2325, |hash, byte| (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3))
    }
}
