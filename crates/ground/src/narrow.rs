//! Weigh this: the one measurement that would narrow the bar most.

use measure::{Input, band};
use statistics::rank_correlation;

use crate::drawn::Drawn;
use crate::film::Film;
use crate::mix::Mix;
use crate::ranges::FilmRanges;

/// Something that the painter could find out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Finding {
    /// Weigh a level cup of this powder.
    WeighCup,
    /// Answer a question about a measure, a material or parts.
    Answer,
    /// Weigh what goes into the pot.
    WeighAmount,
    /// Dry a weighed spoonful of curd, size or binder.
    DrySpoonful,
    /// Weigh the curd and dry a spoonful: replaces protein, casein and loss.
    WeighCurd,
    /// Rub the powder out with oil.
    RubOut,
}

/// How far one finding narrows the bar from lean to rich.
#[derive(Debug, Clone, PartialEq)]
pub struct Narrowing {
    /// What to find out.
    pub finding: Finding,
    /// The unknowns that it settles.
    pub keys: Vec<String>,
    /// In the painter's words, what is unknown.
    pub plain: String,
    /// The bar's low and high end now.
    pub before: (f64, f64),
    /// Low and high end when it is settled at its best value.
    pub after: (f64, f64),
}

impl Narrowing {
    /// Share of the bar's width that goes away, 0..1.
    pub fn gain(&self) -> f64 {
        let width = |(low, high): (f64, f64)| high - low;
        let before = width(self.before);
        if before > 0.0 { (1.0 - width(self.after) / before).max(0.0) } else { 0.0 }
    }
}

/// How many unknowns are tried in earnest, after ranking all by rank correlation.
const TRIED: usize = 8;

/// What would narrow the bar, best first: each group of unknowns is settled at its best (a rub-out
/// only by half) and the films are worked out again.
pub fn narrowings(mix: &Mix, ranges: &FilmRanges, drawn: &Drawn) -> Vec<Narrowing> {
    let lambdas: Vec<f64> = ranges.draws.iter().map(Film::lambda).collect();
    let mut ranked: Vec<(f64, usize)> = Vec::new();
    for (index, input) in mix.inputs().iter().enumerate() {
        if finding(input).is_none() {
            continue;
        }
        ranked.push((rank_correlation(&drawn.column(index), &lambdas).abs(), index));
    }
    ranked.sort_by(|a, b| b.0.total_cmp(&a.0));
    let mut groups: Vec<(Finding, Vec<usize>)> = Vec::new();
    for (_, index) in ranked.into_iter().take(TRIED) {
        let Some(found) = mix.inputs().get(index).and_then(finding) else { continue };
        match groups.iter_mut().find(|(known, _)| *known == found && found == Finding::WeighCurd) {
            Some((_, members)) => members.push(index),
            None => groups.push((found, vec![index])),
        }
    }
    let Some(before) = band(lambdas) else { return Vec::new() };
    let mut out: Vec<Narrowing> = groups.into_iter().filter_map(|(found, members)| frozen(mix, drawn, found, &members, before)).collect();
    out.sort_by(|a, b| b.gain().total_cmp(&a.gain()));
    out
}

fn frozen(mix: &Mix, drawn: &Drawn, finding: Finding, members: &[usize], before: (f64, f64)) -> Option<Narrowing> {
    let inputs = mix.inputs();
    let mut values = Vec::with_capacity(inputs.len());
    let mut pot = Vec::with_capacity(16);
    let mut lambdas = Vec::with_capacity(drawn.draws().count);
    for row in drawn.rows() {
        values.clear();
        values.extend_from_slice(row);
        for member in members {
            if let (Some(slot), Some(input)) = (values.get_mut(*member), inputs.get(*member)) {
                *slot = settled(finding, input.best, *slot);
            }
        }
        if let Ok(film) = mix.film(&values, &mut pot) {
            lambdas.push(film.lambda());
        }
    }
    let first = members.first().and_then(|member| inputs.get(*member))?;
    Some(Narrowing {
        finding,
        keys: members.iter().filter_map(|member| inputs.get(*member)).map(|input| input.key.as_str().to_owned()).collect(),
        plain: first.plain.clone(),
        before,
        after: band(lambdas)?,
    })
}

/// What is left of a deviation after a rub-out at the table: half, since the maker's own end point and the size of the drops remain (about
/// two drops in 10 g; model choice).
const RUB_OUT_LEAVES: f64 = 0.5;

/// The value of an unknown once it was found out to be `best` in a draw where it was `drawn`.
fn settled(finding: Finding, best: f64, drawn: f64) -> f64 {
    if finding == Finding::RubOut && best > 0.0 && drawn > 0.0 { best * (drawn / best).powf(RUB_OUT_LEAVES) } else { best }
}

/// What the painter could do about an unknown; `None` for what can't be found out at the table.
fn finding(input: &Input) -> Option<Finding> {
    if input.spread == measure::Spread::Exact {
        return None;
    }
    let key = input.key.as_str();
    let kind = key.split(['.', ':']).next().unwrap_or("");
    Some(match kind {
        "bulk_density" | "fill" => Finding::WeighCup,
        "material" | "parts" | "strength_word" => Finding::Answer,
        "unit" if key.starts_with("unit:") => Finding::Answer,
        "unit" | "amount" | "piece" => Finding::WeighAmount,
        "strength" | "dry_share" => Finding::DrySpoonful,
        "protein" | "casein_share" | "recovery" => Finding::WeighCurd,
        "oil_absorption" => Finding::RubOut,
        _ => return None,
    })
}
