//! The chance that a coat of a ground cracks as it dries, and what moves it most.

use materials::DataError;
use measure::{Input, Micrometres};

use crate::constants::FilmBook;
use crate::crack_draws::{Draw, drawn, inputs, limit};
use crate::cracking::Protein;
use crate::lesson::Lesson;
use crate::ranges::FilmRanges;
use crate::window::{THICKEST, critical_band};

/// Draws behind a chance: enough that it is known to half of a hundredth.
pub const CRACK_DRAWS: usize = 10_000;

/// A chance with its doubt.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Chance {
    /// Share of the draws in which the ground cracks, 0..1.
    pub value: f64,
    /// The least of it with the critical share anywhere in its band.
    pub low: f64,
    /// The most.
    pub high: f64,
}

/// An unknown that decides about the crack.
#[derive(Debug, Clone, PartialEq)]
pub struct Mover {
    /// In the painter's words.
    pub plain: String,
    /// By how much the chance differs between its larger and its smaller half, -1..1.
    pub by: f64,
}

/// The chance that drying cracks a ground.
#[derive(Debug, Clone, PartialEq)]
pub struct CrackChance {
    /// One coat by itself.
    pub one_coat: Chance,
    /// All coats together: their whole thickness stores energy.
    pub all_coats: Chance,
    /// Dry thickness at which half of such grounds crack; `None` beyond 1 mm, where the pull of drying is not what limits it.
    pub half_by: Option<Micrometres>,
    /// What moves it, most first.
    pub movers: Vec<Mover>,
    /// Share of the draws in which the film is so much stiffer than its support that the table of energy release ends: the true chance
    /// is larger there.
    pub beyond: f64,
}

/// The chance that drying cracks one coat, and all coats, of this ground on this support. The film's own draws are used again and again
/// until there are [`CRACK_DRAWS`]; each meets another draw of the constants. On solid wood the direction that cracks first counts.
///
/// `tightest` is how high the critical share could lie if fine grains sat in the gaps of coarse ones; `lesson` is what boards taught.
/// `None` without draws.
///
/// # Errors
/// How stiff this support is is not in the book.
pub fn crack_chance(
    book: &FilmBook,
    ranges: &FilmRanges,
    (protein, support): (Protein, &str),
    coats: u32,
    tightest: Option<f64>,
    lesson: &Lesson,
) -> Result<Option<CrackChance>, DataError> {
    let inputs = inputs(book, protein, support)?;
    let draws = drawn(book, ranges, (protein, support), &inputs, CRACK_DRAWS)?;
    if draws.is_empty() {
        return Ok(None);
    }
    let [at_best, below, above] = critical_band(book, ranges, tightest)?;
    let coats = f64::from(coats);
    let total = draws.len() as f64;
    let share =
        |limits: &[f64], times: f64| draws.iter().zip(limits).filter(|(draw, limit)| draw.one * times > **limit).count() as f64 / total;
    let limits = |shift: f64| {
        let (mut limits, past): (Vec<f64>, Vec<bool>) = draws.iter().map(|draw| limit(draw, shift)).unzip();
        lesson.apply(&mut limits);
        (limits, past.into_iter().filter(|past| *past).count() as f64 / total)
    };
    let (middle, beyond) = limits(at_best);
    let mut ends = vec![(share(&middle, 1.0), share(&middle, coats))];
    for shift in [below, above] {
        let (limits, _) = limits(shift);
        ends.push((share(&limits, 1.0), share(&limits, coats)));
    }
    let chance = |of: fn(&(f64, f64)) -> f64| Chance {
        value: ends.first().map_or(f64::NAN, of),
        low: ends.iter().map(of).fold(1.0, f64::min),
        high: ends.iter().map(of).fold(0.0, f64::max),
    };
    let cracked: Vec<bool> = draws.iter().zip(&middle).map(|(draw, limit)| draw.one * coats > *limit).collect();
    Ok(Some(CrackChance {
        one_coat: chance(|end| end.0),
        all_coats: chance(|end| end.1),
        half_by: half_by(&middle),
        movers: movers(&inputs, &draws, &cracked),
        beyond,
    }))
}

fn half_by(limits: &[f64]) -> Option<Micrometres> {
    let mut order = limits.to_vec();
    let half = order.len() / 2;
    let middle = (!order.is_empty()).then(|| *order.select_nth_unstable_by(half, f64::total_cmp).1)?;
    (middle <= THICKEST.value()).then(|| Micrometres::new(middle))
}

/// Each unknown with the difference in chance between the draws above and below its middle.
fn movers(inputs: &[Input; 8], draws: &[Draw], cracked: &[bool]) -> Vec<Mover> {
    let values = |of: &dyn Fn(&Draw) -> f64| draws.iter().map(of).collect::<Vec<f64>>();
    let mut out = Vec::with_capacity(inputs.len() + 3);
    for (place, input) in inputs.iter().enumerate() {
        out.push(mover(&input.plain, &values(&|draw| draw.row.get(place).copied().unwrap_or(f64::NAN)), cracked));
    }
    out.push(mover("how much binder the powder drinks", &values(&|draw| draw.thirst), cracked));
    out.push(mover("how much powder there is to the binder", &values(&|draw| draw.powder), cracked));
    out.push(mover("how thick the ground dries", &values(&|draw| draw.one), cracked));
    out.sort_by(|a, b| b.by.abs().total_cmp(&a.by.abs()));
    out
}

fn mover(plain: &str, values: &[f64], cracked: &[bool]) -> Mover {
    let mut order = values.to_owned();
    let half = order.len() / 2;
    let middle = if order.is_empty() { f64::NAN } else { *order.select_nth_unstable_by(half, f64::total_cmp).1 };
    let (mut upper, mut lower) = ((0.0, 0.0), (0.0, 0.0));
    for (value, cracked) in values.iter().zip(cracked) {
        let side = if *value > middle { &mut upper } else { &mut lower };
        side.0 += f64::from(u8::from(*cracked));
        side.1 += 1.0;
    }
    let share = |(cracks, all): (f64, f64)| if all > 0.0 { cracks / all } else { 0.0 };
    // An unknown that was not drawn has no upper half.
    let by = if upper.1 > 0.0 { share(upper) - share(lower) } else { 0.0 };
    Mover { plain: plain.to_owned(), by }
}

#[cfg(test)]
mod tests;
