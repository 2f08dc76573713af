//! Draws of everything that decides about a crack: the film's own, and the constants of stiffness, pull and toughness.

use materials::DataError;
use measure::{Draws, Input, InputKey, JoulesPerSquareMetre, Micrometres, Pascals, Spread};

use crate::constants::{FilmBook, FilmConstant};
use crate::cracking::{GIGA, Nature, Protein, held};
use crate::ranges::FilmRanges;

/// Normal spread of the handover (model choice), cut at the range in the book.
const HANDOVER_SPREAD: f64 = 0.7;

/// Half-width, in standard deviations, of the range that holds nine of ten of a bell curve.
const NINE_OF_TEN: f64 = 1.644_853_626_951_472_7;

/// One draw of everything.
pub(crate) struct Draw {
    pub(crate) powder: f64,
    pub(crate) critical: f64,
    /// The critical share before lumps loosen it.
    pub(crate) thirst: f64,
    /// Dry thickness of one coat, micrometres.
    pub(crate) one: f64,
    /// Volume of dry binder over volume of powder where a gram of the one meets a gram of the other.
    pub(crate) gram_for_gram: f64,
    natures: Vec<Nature>,
    pub(crate) row: [f64; 8],
}

/// Thickness at which a draw cracks in its worst direction, and whether its support is beyond the table.
pub(crate) fn limit(draw: &Draw, shift: f64) -> (f64, bool) {
    limit_at(draw, draw.powder, shift)
}

/// The same with another share of powder.
pub(crate) fn limit_at(draw: &Draw, powder: f64, shift: f64) -> (f64, bool) {
    let critical = (draw.critical + shift).clamp(0.05, 0.95);
    let mut worst = (f64::INFINITY, false);
    for nature in &draw.natures {
        let film = held(powder, critical, nature);
        if film.cracks_from.value() < worst.0 {
            worst = (film.cracks_from.value(), film.release.beyond);
        }
    }
    worst
}

/// Where the model lets a ground of this powder share and critical share crack, at the best values and stirred as a pot usually is.
/// Uncertain several-fold: boards are set against it, it is never shown.
///
/// # Errors
/// How stiff this support is is not in the book.
pub fn cracks_at_best(book: &FilmBook, powder: f64, critical: f64, protein: Protein, support: &str) -> Result<Micrometres, DataError> {
    let critical = critical * book.constant("packing")?.value;
    let mut least = Micrometres::new(f64::INFINITY);
    for side in sides(support) {
        let at = held(powder, critical, &Nature::best(book, protein, side)?).cracks_from;
        if at < least {
            least = at;
        }
    }
    Ok(least)
}

fn sides(support: &str) -> Vec<&str> {
    if support == "solid-wood" { vec!["solid-wood.along", "solid-wood.across"] } else { vec![support] }
}

/// The eight constants that are drawn beside the film, in the order of a row. A plank's two directions vary together, as one factor.
pub(crate) fn inputs(book: &FilmBook, protein: Protein, support: &str) -> Result<[Input; 8], DataError> {
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

/// So many draws: the film's own, again and again, each with another draw of the constants.
pub(crate) fn drawn(
    book: &FilmBook,
    ranges: &FilmRanges,
    on: (Protein, &str),
    inputs: &[Input; 8],
    count: usize,
) -> Result<Vec<Draw>, DataError> {
    let best = sides(on.1).into_iter().map(|side| Nature::best(book, on.0, side)).collect::<Result<Vec<_>, _>>()?;
    let (least, most) = book.constant("handover")?.range.unwrap_or((0.0, f64::MAX));
    let films: Vec<(f64, f64, f64, f64)> = ranges
        .coats_drawn()
        .map(|(film, dry)| (film.pvc, film.cpvc, (1.0 / film.pvc - 1.0) * 100.0 / film.binder_per_100_powder, dry))
        .collect();
    let how = Draws { count, ..Draws::USUAL };
    let draw = |(index, (pvc, cpvc, gram_for_gram, one)): (usize, &(f64, f64, f64, f64))| {
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
            gram_for_gram: gram_for_gram * binder,
            natures: natures.collect(),
            row,
        }
    };
    Ok(films.iter().cycle().take(count).enumerate().map(draw).collect())
}
