//! Coats, boards, areas and wet thickness: settings of the job that are told among the ingredients.

use measure::Dimension;

use super::amounts::Measures;
use super::items::{Item, What};
use super::model::{Range, Setting};
use super::numbers::{Form, Number, Weak};
use super::signals::Signal;
use super::tokens::Mark;

/// Settings with the items that tell them.
#[derive(Debug, Default)]
pub(super) struct Settings {
    /// What was told, and from which item to which.
    pub told: Vec<(Setting, usize, usize)>,
    /// Length times width of one board, square metres.
    sides: Option<(f64, usize, usize)>,
    boards: Option<f64>,
}

const SQUARE_MILLIMETRES_IN_A_SQUARE_METRE: f64 = 1e6;
const MICROMETRES_IN_A_MILLIMETRE: f64 = 1e3;

impl Settings {
    /// Boards times their size make an area, unless an area was told.
    pub(super) fn close(mut self) -> Vec<(Setting, usize, usize)> {
        let area_told = self.told.iter().any(|(setting, ..)| matches!(setting, Setting::AreaSquareMetres(_)));
        if let (Some((one, from, to)), Some(boards), false) = (self.sides, self.boards, area_told) {
            self.told.push((Setting::AreaSquareMetres(one * boards), from, to));
        }
        self.told
    }
}

/// Reads a number that counts no ingredient: coats, boards, lengths, areas, times, degrees. Gives the item behind it.
pub(super) fn read(items: &[Item], at: usize, measures: Measures<'_>, settings: &mut Settings) -> Option<usize> {
    let What::Number(number) = &items.get(at)?.what else { return None };
    if matches!(number.form, Form::Ratio(_)) {
        return None;
    }
    let range = Range { low: number.low, high: number.high };
    for look in at + 1..at + 5 {
        let item = items.get(look)?;
        match &item.what {
            What::Unit(word) => return measured(items, at, look, *word, number, measures, settings),
            What::Mark(Mark::Degree) => return Some(look + 1),
            What::Mark(Mark::Dash) if item.tight => {}
            What::Steer if number.weak != Weak::Article && !number.absurd => {
                if item.has(Signal::Coats) {
                    if range.low >= 1.0 && range.high <= 100.0 {
                        settings.told.push((Setting::Coats(range), at, look + 1));
                    }
                    return Some(look + 1);
                }
                if item.has(Signal::Boards) {
                    if range.low >= 1.0 && range.high <= 10_000.0 && matches!(number.form, Form::Plain) {
                        settings.told.push((Setting::Boards(range.middle()), at, look + 1));
                        settings.boards = settings.boards.or(Some(range.middle()));
                    }
                    return Some(look + 1);
                }
                if item.has(Signal::Grade) && !item.has(Signal::Coats) && look == at + 1 {
                    return Some(look + 1);
                }
                if !item.signals.any(&[Signal::Small, Signal::Big, Signal::Wet, Signal::Adjective, Signal::Approx]) {
                    return None;
                }
            }
            _ => return None,
        }
    }
    None
}

fn measured(
    items: &[Item],
    at: usize,
    look: usize,
    word: u32,
    number: &Number,
    measures: Measures<'_>,
    settings: &mut Settings,
) -> Option<usize> {
    let unit = measures.unit(word)?;
    let size = unit.value.unwrap_or(1.0);
    let range = Range { low: number.low, high: number.high };
    match unit.dimension {
        Dimension::Length => {
            let sides = match &number.form {
                Form::Times(values) => values.get(0..2),
                _ => None,
            };
            if let Some([a, b]) = sides {
                let area = a * size * b * size / SQUARE_MILLIMETRES_IN_A_SQUARE_METRE;
                if area.is_finite() && area > 0.0 {
                    settings.sides = settings.sides.or(Some((area, at, look + 1)));
                }
            }
            let near = items.get(look + 1..(look + 4).min(items.len())).unwrap_or(&[]);
            let wet = near.iter().take_while(|item| !item.ends_clause()).any(|item| item.has(Signal::Wet));
            if wet && sides.is_none() && !number.absurd {
                settings.told.push((Setting::WetMicrometres(range.times(size * MICROMETRES_IN_A_MILLIMETRE)), at, look + 1));
            }
            Some(look + 1)
        }
        Dimension::Area => {
            let area = range.middle() * size / SQUARE_MILLIMETRES_IN_A_SQUARE_METRE;
            if area.is_finite() && area > 0.0 {
                settings.told.push((Setting::AreaSquareMetres(area), at, look + 1));
            }
            Some(look + 1)
        }
        Dimension::Time | Dimension::Temperature => Some(look + 1),
        Dimension::Mass | Dimension::Volume | Dimension::Count => None,
    }
}
