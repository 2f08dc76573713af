//! The chance that a coat of a ground cracks as it dries, and what moves it most.

use materials::DataError;
use measure::{Draws, Input, InputKey, JoulesPerSquareMetre, Micrometres, Pascals, Spread};

use crate::constants::{FilmBook, FilmConstant};
use crate::cracking::{GIGA, Nature, Protein, held};
use crate::ranges::FilmRanges;

/// Draws behind a chance: enough that it is known to half of a hundredth.
pub const CRACK_DRAWS: usize = 10_000;

/// Normal spread of the handover (model choice), cut at the range in the book.
const HANDOVER_SPREAD: f64 = 0.7;

/// Half-width, in standard deviations, of the range that holds nine of ten of a bell curve.
const NINE_OF_TEN: f64 = 1.644_853_626_951_472_7;

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

/// One draw of everything.
struct Draw {
    powder: f64,
    critical: f64,
    /// The critical share before lumps loosen it.
    thirst: f64,
    one: f64,
    natures: Vec<Nature>,
    row: [f64; 8],
}

/// The chance that drying cracks one coat, and all coats, of this ground on this support. The film's own draws are used again and again
/// until there are [`CRACK_DRAWS`]; each meets another draw of the constants. On solid wood the direction that cracks first counts.
///
/// `tightest` is how high the critical share could lie if fine grains sat in the gaps of coarse ones. `None` without draws.
///
/// # Errors
/// How stiff this support is is not in the book.
pub fn crack_chance(
    book: &FilmBook,
    ranges: &FilmRanges,
    (protein, support): (Protein, &str),
    coats: u32,
    tightest: Option<f64>,
) -> Result<Option<CrackChance>, DataError> {
    let inputs = inputs(book, protein, support)?;
    let draws = drawn(book, ranges, (protein, support), &inputs)?;
    if draws.is_empty() {
        return Ok(None);
    }
    let band = book.constant("critical_band")?.value;
    let above = tightest.map_or(band, |tight| (tight - ranges.best.cpvc).max(band));
    let coats = f64::from(coats);
    let total = draws.len() as f64;
    let share = |limits: &[(f64, bool)], times: f64| {
        draws.iter().zip(limits).filter(|(draw, limit)| draw.one * times > limit.0).count() as f64 / total
    };
    let limits = |shift: f64| draws.iter().map(|draw| limit(draw, shift)).collect::<Vec<_>>();
    let middle = limits(0.0);
    let mut ends = vec![(share(&middle, 1.0), share(&middle, coats))];
    for shift in [-band, above] {
        let limits = limits(shift);
        ends.push((share(&limits, 1.0), share(&limits, coats)));
    }
    let chance = |of: fn(&(f64, f64)) -> f64| Chance {
        value: ends.first().map_or(f64::NAN, of),
        low: ends.iter().map(of).fold(1.0, f64::min),
        high: ends.iter().map(of).fold(0.0, f64::max),
    };
    let cracked: Vec<bool> = draws.iter().zip(&middle).map(|(draw, limit)| draw.one * coats > limit.0).collect();
    Ok(Some(CrackChance {
        one_coat: chance(|end| end.0),
        all_coats: chance(|end| end.1),
        half_by: half_by(&middle),
        movers: movers(&inputs, &draws, &cracked),
        beyond: middle.iter().filter(|limit| limit.1).count() as f64 / total,
    }))
}

/// Thickest ground about which the model says anything, micrometres.
const THICKEST: f64 = 1000.0;

fn half_by(limits: &[(f64, bool)]) -> Option<Micrometres> {
    let mut order: Vec<f64> = limits.iter().map(|limit| limit.0).collect();
    let half = order.len() / 2;
    let middle = (!order.is_empty()).then(|| *order.select_nth_unstable_by(half, f64::total_cmp).1)?;
    (middle <= THICKEST).then(|| Micrometres::new(middle))
}

/// Thickness at which a draw cracks in its worst direction, and whether its support is beyond the table.
fn limit(draw: &Draw, shift: f64) -> (f64, bool) {
    let critical = (draw.critical + shift).clamp(0.05, 0.95);
    let mut worst = (f64::INFINITY, false);
    for nature in &draw.natures {
        let film = held(draw.powder, critical, nature);
        if film.cracks_from.value() < worst.0 {
            worst = (film.cracks_from.value(), film.release.beyond);
        }
    }
    worst
}

fn sides(support: &str) -> Vec<&str> {
    if support == "solid-wood" { vec!["solid-wood.along", "solid-wood.across"] } else { vec![support] }
}

/// The eight constants that are drawn beside the film, in the order of a row. A plank's two directions vary together, as one factor.
fn inputs(book: &FilmBook, protein: Protein, support: &str) -> Result<[Input; 8], DataError> {
    let of = |key: &str| book.constant(key).map(|constant| input(key, constant));
    let side = sides(support).first().map(|side| format!("support.{side}")).unwrap_or_default();
    let support = FilmConstant { value: 1.0, range: None, plain: "how stiff the support is".into(), ..book.constant(&side)?.clone() };
    Ok([
        of("stiffness.grain")?,
        of("relaxation")?,
        of("handover")?,
        of("packing")?,
        of("binder_share")?,
        of(&format!("stiffness.{}", protein.key()))?,
        of(&format!("toughness.{}", protein.key()))?,
        input("support", &support),
    ])
}

fn input(key: &str, constant: &FilmConstant) -> Input {
    let spread = match (constant.spread, constant.range) {
        (Some(spread), _) => {
            let wide = (spread * NINE_OF_TEN).exp();
            Spread::LogNormal90(constant.value / wide, constant.value * wide)
        }
        (None, _) if key == "handover" => Spread::Normal(HANDOVER_SPREAD),
        (None, Some((low, high))) => Spread::Even(low, high),
        (None, None) => Spread::Exact,
    };
    let key = InputKey::new(format!("film.{key}"));
    Input { key, plain: constant.plain.clone(), best: constant.value, spread, unit: "1", source: constant.source.clone() }
}

fn drawn(book: &FilmBook, ranges: &FilmRanges, on: (Protein, &str), inputs: &[Input; 8]) -> Result<Vec<Draw>, DataError> {
    let best = sides(on.1).into_iter().map(|side| Nature::best(book, on.0, side)).collect::<Result<Vec<_>, _>>()?;
    let (least, most) = book.constant("handover")?.range.unwrap_or((0.0, f64::MAX));
    let films: Vec<(f64, f64, f64)> = ranges.coats_drawn().map(|(film, dry)| (film.pvc, film.cpvc, dry)).collect();
    let how = Draws { count: CRACK_DRAWS, ..Draws::USUAL };
    let draw = |(index, (pvc, cpvc, one)): (usize, &(f64, f64, f64))| {
        let row: [f64; 8] = std::array::from_fn(|place| inputs.get(place).map_or(f64::NAN, |input| how.value(input, index)));
        let [grain, relaxation, handover, packing, binder, stiffness, toughness, support] = row;
        let natures = best.iter().map(|best| Nature {
            stiffness: Pascals::new(GIGA * stiffness),
            toughness: JoulesPerSquareMetre::new(toughness),
            grain: Pascals::new(GIGA * grain),
            relaxation,
            handover: handover.clamp(least, most),
            support: Pascals::new(best.support.value() * support),
            steady: best.steady,
        });
        Draw {
            powder: 1.0 / (1.0 + (1.0 / pvc - 1.0) * binder),
            critical: cpvc * packing,
            thirst: *cpvc,
            one: *one,
            natures: natures.collect(),
            row,
        }
    };
    Ok(films.iter().cycle().take(CRACK_DRAWS).enumerate().map(draw).collect())
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
