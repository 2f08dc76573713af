//! Binder amount against thickness: where cracks from the pull of drying are unlikely, likely, or can't be told.

use materials::DataError;
use measure::Micrometres;

use crate::constants::FilmBook;
#[cfg(test)]
use crate::crack_chance::Chance;
use crate::crack_draws::{Draw, drawn, inputs, limit_at};
use crate::cracking::Protein;
use crate::lesson::Lesson;
use crate::ranges::FilmRanges;

/// Thickest ground about which anything is said.
pub const THICKEST: Micrometres = Micrometres::new(1000.0);

/// Powder share over critical share between which nothing is said: a film changes its nature there (model choice, a tenth wide like the
/// edges between the words).
pub const NEAR_CRITICAL: std::ops::Range<f64> = 0.95..1.10;

/// Fewer than so many in ten crack, whatever the critical share within its band: "unlikely" (judgement, no source).
pub const UNLIKELY: f64 = 0.1;

/// More than so many in ten crack, whatever the critical share within its band: "likely" (judgement, no source).
pub const LIKELY: f64 = 0.5;

/// Draws behind a column: enough that a tenth is known to half of a tenth.
const COLUMN_DRAWS: usize = 2_000;

/// Columns between the leanest and the richest ground.
const COLUMNS: usize = 40;

/// Powder shares beyond which no film holds together.
const MOST_POWDER: f64 = 0.93;

/// One amount of binder.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Column {
    /// Grams of dry binder to 100 g of powder.
    pub binder: f64,
    /// Powder share over critical share at the best inputs.
    pub ratio: f64,
    /// Dry thickness below which cracks are unlikely; at most 1 mm.
    pub unlikely_below: Micrometres,
    /// Dry thickness from which they are likely; `None` beyond 1 mm.
    pub likely_from: Option<Micrometres>,
    /// Whether nothing is said because the powder share lies near the critical share.
    pub near_critical: bool,
}

/// Binder amount against thickness for one powder, one binder and one support.
#[derive(Debug, Clone, PartialEq)]
pub struct Window {
    /// From the leanest to the richest.
    pub columns: Vec<Column>,
    /// Share of draws, most of all columns, in which the film is so much stiffer than its support that the table of energy release
    /// ends: cracks are likelier there than drawn.
    pub beyond: f64,
}

/// Thicknesses at which the draws of one column crack, in rising order: with the critical share as drawn, and at either end of its band.
struct Limits([Vec<f64>; 3]);

impl Limits {
    fn of(draws: &[Draw], binder: f64, shifts: [f64; 3], lesson: &Lesson) -> (Self, f64) {
        let mut beyond = 0.0;
        let limits = shifts.map(|shift| {
            let at = |draw: &Draw| {
                let (limit, past) = limit_at(draw, 1.0 / (1.0 + binder / 100.0 * draw.gram_for_gram), shift);
                beyond += f64::from(u8::from(past)) / (3.0 * draws.len() as f64);
                limit
            };
            let mut limits: Vec<f64> = draws.iter().map(at).collect();
            limits.sort_by(f64::total_cmp);
            lesson.apply(&mut limits);
            limits
        });
        (Self(limits), beyond)
    }

    /// The chance that a ground of this thickness cracks, with its ends.
    #[cfg(test)]
    fn chance(&self, thickness: f64) -> Chance {
        let share = |limits: &Vec<f64>| limits.partition_point(|limit| *limit < thickness) as f64 / limits.len().max(1) as f64;
        let all = self.0.each_ref().map(share);
        Chance { value: all[0], low: all.into_iter().fold(1.0, f64::min), high: all.into_iter().fold(0.0, f64::max) }
    }

    /// Thinnest and thickest of the three at which this share cracks.
    fn reach(&self, share: f64) -> (f64, f64) {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a place among the draws")]
        let at = |limits: &Vec<f64>| limits.get((share * limits.len() as f64) as usize).copied().unwrap_or(f64::NAN);
        let all = self.0.each_ref().map(at);
        (all.into_iter().fold(f64::INFINITY, f64::min), all.into_iter().fold(0.0, f64::max))
    }
}

/// The window of this powder and binder on this support, from the leanest film that holds together to one with so many grams of dry
/// binder to 100 g of powder. The doubt in the recipe's own binder is left out: there it is the width of its mark.
///
/// `tightest` is how high the critical share could lie if fine grains sat in the gaps of coarse ones. `None` without draws.
///
/// # Errors
/// How stiff this support is is not in the book.
pub fn window(
    book: &FilmBook,
    ranges: &FilmRanges,
    (protein, support): (Protein, &str),
    most_binder: f64,
    tightest: Option<f64>,
    lesson: &Lesson,
) -> Result<Option<Window>, DataError> {
    let draws = drawn(book, ranges, (protein, support), &inputs(book, protein, support)?, COLUMN_DRAWS)?;
    let Some(density) = gram_for_gram(ranges).filter(|_| !draws.is_empty()) else { return Ok(None) };
    let shifts = critical_band(book, ranges, tightest)?;
    let least = 100.0 * (1.0 / MOST_POWDER - 1.0) / density;
    let critical = ranges.best.cpvc;
    let mut beyond: f64 = 0.0;
    let column = |binder: f64| {
        let (limits, past) = Limits::of(&draws, binder, shifts, lesson);
        beyond = beyond.max(past);
        let ratio = 1.0 / (1.0 + binder / 100.0 * density) / critical;
        let thickest = THICKEST.value();
        let likely = limits.reach(LIKELY).1;
        Column {
            binder,
            ratio,
            unlikely_below: Micrometres::new(limits.reach(UNLIKELY).0.min(thickest)),
            likely_from: (likely <= thickest).then(|| Micrometres::new(likely)),
            near_critical: NEAR_CRITICAL.contains(&ratio),
        }
    };
    let step = (most_binder.max(least) - least) / (COLUMNS - 1) as f64;
    let mut amounts: Vec<f64> = (0..COLUMNS).map(|index| least + step * index as f64).collect();
    // The band where nothing is said is drawn up to its very edges.
    amounts.extend([NEAR_CRITICAL.start, NEAR_CRITICAL.end].into_iter().filter_map(|ratio| binder_at(ranges, ratio)));
    amounts.retain(|binder| (least..=most_binder).contains(binder));
    amounts.sort_by(f64::total_cmp);
    let columns = amounts.into_iter().map(column).collect();
    Ok(Some(Window { columns, beyond }))
}

/// Spread of the logarithm of the thicknesses at which the draws of this powder and binder crack, at so many times the critical share:
/// how far the books alone leave it open. `None` without draws or with a ratio that no film has.
///
/// # Errors
/// How stiff this support is is not in the book.
pub fn doubt_at(book: &FilmBook, ranges: &FilmRanges, on: (Protein, &str), ratio: f64) -> Result<Option<f64>, DataError> {
    let draws = drawn(book, ranges, on, &inputs(book, on.0, on.1)?, COLUMN_DRAWS)?;
    let Some(binder) = binder_at(ranges, ratio).filter(|_| draws.len() > 1) else { return Ok(None) };
    let at = |draw: &Draw| limit_at(draw, 1.0 / (1.0 + binder / 100.0 * draw.gram_for_gram), 0.0).0.ln();
    let logs: Vec<f64> = draws.iter().map(at).collect();
    let mean = logs.iter().sum::<f64>() / logs.len() as f64;
    let square = logs.iter().map(|log| (log - mean).powi(2)).sum::<f64>() / (logs.len() - 1) as f64;
    Ok(Some(square.sqrt()).filter(|sd| sd.is_finite() && *sd > 0.0))
}

/// Grams of dry binder to 100 g of this powder at which its share is so many times the critical share; `None` where no film can be so
/// lean.
pub fn binder_at(ranges: &FilmRanges, ratio: f64) -> Option<f64> {
    let powder = ratio * ranges.best.cpvc;
    let density = gram_for_gram(ranges)?;
    (powder > 0.0 && powder <= MOST_POWDER).then(|| 100.0 * (1.0 / powder - 1.0) / density)
}

/// Volume of a gram of binder over that of a gram of powder.
fn gram_for_gram(ranges: &FilmRanges) -> Option<f64> {
    let ratio = (1.0 / ranges.best.pvc - 1.0) * 100.0 / ranges.best.binder_per_100_powder;
    (ratio.is_finite() && ratio > 0.0).then_some(ratio)
}

/// By how much the critical share may lie off: not at all, below, above.
pub(crate) fn critical_band(book: &FilmBook, ranges: &FilmRanges, tightest: Option<f64>) -> Result<[f64; 3], DataError> {
    let band = book.constant("critical_band")?.value;
    Ok([0.0, -band, tightest.map_or(band, |tight| (tight - ranges.best.cpvc).max(band))])
}

#[cfg(test)]
mod tests;
