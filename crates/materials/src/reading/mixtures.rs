//! "Glue and water 1:10, then that size and chalk 1:1": a mixture told before and named again is no second ingredient.

use super::amounts::plain;
use super::cover::{Label, Mark};
use super::drafts::Draft;
use super::items::Item;
use super::model::{PartBasis, Range};
use super::nodes::{AmountNode, Told};
use super::recipe::Recipe;
use super::signals::Signal;
use crate::catalogue::{Family, Kind};

const SAME_MIXTURE: &str = "this is of the size told before, not more of it; how much of it is used could not be worked out";

/// Words that point back.
const BACK: [&str; 19] = [
    "that", "this", "the", "said", "above", "der", "die", "dieser", "diesem", "dieses", "davon", "du", "de la", "cette", "questa", "della",
    "la", "esta", "esa",
];

/// Takes out size that is a mixture told before, and turns what is told per so much of it to what goes with all of it.
pub(super) fn settle(told: &Recipe<'_>, drafts: &mut Vec<Draft>, marks: &mut Vec<Mark>) {
    let mut at = 0;
    while at < drafts.len() {
        match again(told, drafts, at) {
            Some(mixture) => {
                resolve(told, drafts, at, mixture, marks);
                drafts.remove(at);
            }
            None => at += 1,
        }
    }
}

/// How much the mixture comes to.
#[derive(Clone, Copy)]
enum Total {
    Grams(f64),
    /// Parts by weight, with the drafts that they are of.
    Parts(f64, [usize; 2]),
    Unknown,
}

/// The whole of the mixture that a draft names again; nothing if it is an ingredient of its own.
fn again(told: &Recipe<'_>, drafts: &[Draft], at: usize) -> Option<Total> {
    let draft = drafts.get(at)?;
    let amount = draft.amount.as_ref()?;
    let strong = told.strengths.told.iter().any(|strength| strength.name == draft.name);
    if draft.implied.is_some() || strong || !told.is(draft.name, "glue-size") {
        return None;
    }
    let before = drafts.get(..at)?;
    let is_dry_glue = |draft: &Draft| {
        draft.implied.is_none()
            && told
                .top(draft.name)
                .and_then(|id| told.jars.material(id))
                .is_some_and(|stuff| stuff.kind == Kind::Binder && stuff.family == Family::Glue && stuff.id.as_str() != "glue-size")
    };
    let is_water = |draft: &Draft| draft.implied.as_ref().map_or_else(|| told.is(draft.name, "water"), |id| id.as_str() == "water");
    let ratio = matches!(amount.told, Told::Part(_));
    let (first, end) = draft.amount_items?;
    let points = points_back(told, draft) || told.has(first.checked_sub(1), Signal::Per) || told.has(Some(end), Signal::OfThat);
    if !ratio && !points {
        return None;
    }
    let ready = before.iter().rfind(|draft| told.is(draft.name, "glue-size") && draft.implied.is_none());
    if let Some(ready) = ready.and_then(|draft| draft.amount.as_ref()).filter(|_| points) {
        return Some(grams(told, ready).map_or(Total::Unknown, Total::Grams));
    }
    let (glue_at, water_at) = (before.iter().rposition(is_dry_glue)?, before.iter().rposition(is_water)?);
    let (glue, water) = (before.get(glue_at)?.amount.as_ref()?, before.get(water_at)?.amount.as_ref()?);
    Some(match (&glue.told, &water.told) {
        (Told::Part(a), Told::Part(b)) => {
            let by_volume = [a, b].into_iter().any(|basis| basis.or(told.customs.basis) == Some(PartBasis::Volume));
            let parts = glue.number.middle() + water.number.middle();
            if by_volume { Total::Unknown } else { Total::Parts(parts, [glue_at, water_at]) }
        }
        _ => grams(told, glue).zip(grams(told, water)).map_or(Total::Unknown, |(glue, water)| Total::Grams(glue + water)),
    })
}

/// Whether "that", "the" stands before its name.
fn points_back(told: &Recipe<'_>, draft: &Draft) -> bool {
    let Some(node) = told.nodes.get(draft.name) else { return false };
    (node.first.saturating_sub(2)..node.first).any(|item| {
        let words = told.span(item, item + 1).of(told.text).to_lowercase();
        words.split_whitespace().next_back().is_some_and(|word| BACK.contains(&word))
    })
}

/// Weight of an amount, a millilitre of watery stuff taken as a gram.
fn grams(told: &Recipe<'_>, amount: &AmountNode) -> Option<f64> {
    let Told::Unit(word) = amount.told else { return None };
    let (id, _) = told.units.by_word(told.lexicon.unit(word)?).first()?;
    let unit = told.units.get(*id);
    (unit.dimension != measure::Dimension::Count).then_some(unit.value? * amount.number.middle())
}

fn resolve(told: &Recipe<'_>, drafts: &mut [Draft], at: usize, mixture: Total, marks: &mut Vec<Mark>) {
    let Some(size) = drafts.get(at).cloned() else { return };
    let (Some(amount), Some(items)) = (&size.amount, size.amount_items) else { return };
    let (mut used, mut weighed) = (false, false);
    for partner in partners(told, drafts, at) {
        let Some(draft) = drafts.get_mut(partner) else { continue };
        let Some(own) = draft.amount.clone() else { continue };
        let Some(scaled) = scaled(told, &own, amount, mixture) else { continue };
        weighed |= !matches!(scaled.told, Told::PerLiquid(_));
        draft.amount = Some(scaled);
        if draft.amount_items != Some(items) && !used {
            draft.more.push(items);
        }
        used = true;
        draft.notes.push("told for a measure of the size made before, worked out for all of it".to_owned());
    }
    if let (Total::Parts(_, members), true) = (mixture, weighed) {
        for member in members {
            if let Some(Told::Part(basis @ None)) =
                drafts.get_mut(member).and_then(|draft| draft.amount.as_mut()).map(|amount| &mut amount.told)
            {
                *basis = Some(PartBasis::Weight);
            }
        }
    }
    if !used {
        marks.push(Mark { first: items.0, end: items.1, label: Label::Struck(SAME_MIXTURE.to_owned(), true), questions: Vec::new() });
    }
}

/// The drafts that are told for the size at `at`.
fn partners(told: &Recipe<'_>, drafts: &[Draft], at: usize) -> Vec<usize> {
    let Some(size) = drafts.get(at) else { return Vec::new() };
    let part = |draft: &Draft| draft.amount.as_ref().is_some_and(|amount| matches!(amount.told, Told::Part(_)));
    if part(size) {
        let shared =
            |other: &(usize, &Draft)| other.0 != at && part(other.1) && (other.1.amount_items == size.amount_items || other.0 > at);
        return drafts.iter().enumerate().filter(shared).map(|(index, _)| index).collect();
    }
    if told.has(size.amount_items.and_then(|(first, _)| first.checked_sub(1)), Signal::Per) {
        return at.checked_sub(1).into_iter().collect();
    }
    let filler = |draft: &Draft| told.top(draft.name).and_then(|id| told.jars.material(id)).is_some_and(|stuff| stuff.kind == Kind::Filler);
    let same_sentence = |draft: &Draft| !told.between(size.end, draft.first).iter().any(Item::ends_sentence);
    drafts.iter().enumerate().skip(at + 1).filter(|(_, draft)| filler(draft) && same_sentence(draft)).map(|(index, _)| index).collect()
}

/// What goes with all of the mixture, when `own` goes with `size` of it.
fn scaled(told: &Recipe<'_>, own: &AmountNode, size: &AmountNode, mixture: Total) -> Option<AmountNode> {
    let by_weight = |number: f64, total: Total| {
        let (value, told) = match total {
            Total::Grams(grams) => (number * grams, Told::Unit(told.lexicon.unit_word("g")?)),
            Total::Parts(parts, _) => (number * parts, Told::Part(Some(PartBasis::Weight))),
            Total::Unknown => return None,
        };
        Some(plain(Range::one(value), told))
    };
    let factor = |own: f64, size: f64| (size > 0.0 && own > 0.0).then_some(own / size);
    if let (Told::Part(basis), Told::Part(_)) = (&own.told, &size.told) {
        let factor = factor(own.number.middle(), size.number.middle())?;
        // The weight of the first mixture says nothing about how the second is measured.
        return match basis {
            Some(PartBasis::Weight) => by_weight(factor, mixture),
            _ => Some(plain(Range::one(1.0), Told::PerLiquid(factor))),
        };
    }
    if !told.is_mass(own) {
        return None;
    }
    by_weight(factor(grams(told, own)?, grams(told, size)?)?, mixture)
}
