//! Amounts that no material took: the weight in brackets behind a volume, water that goes without saying, things unknown.

use std::collections::HashSet;

use super::amounts::plain;
use super::cover::{Label, Mark};
use super::doubles::{self, Doubles};
use super::drafts::Draft;
use super::items::{Item, What};
use super::model::Range;
use super::nodes::{AmountNode, Node, Told};
use super::pairing;
use super::recipe::Recipe;
use super::signals::Signal;
use super::strays::NO_MATERIAL;
use super::tokens::Mark as Sign;

/// Who owns which node: the index of its draft.
type Owners = Vec<Option<usize>>;

/// Gives lone amounts to the lines they belong to, adds water that nobody named, and marks the rest.
pub(super) fn settle(told: &Recipe<'_>, drafts: &mut Vec<Draft>) -> Vec<Mark> {
    let mut marks = Vec::new();
    let taken: HashSet<usize> = told.pairs.iter().map(|(_, amount)| *amount).collect();
    let mut owners = owners(told, drafts);
    per_litre(told, drafts);
    for (at, node) in told.nodes.iter().enumerate() {
        let Some(amount) = node.amount().filter(|_| !taken.contains(&at)) else { continue };
        let items = (node.first, node.end);
        if let Some(line) = attached(told, at, &owners).or_else(|| sizes(told, at, drafts, &owners)) {
            if let Some(draft) = drafts.get_mut(line).filter(|_| !told.sizeless(amount)) {
                marks.extend(attach(told, draft, amount, items));
                if let Some(slot) = owners.get_mut(at) {
                    *slot = Some(line);
                }
            }
        } else if let Some(name) = water_for(told, at, amount, drafts, &owners) {
            drafts.push(Draft::water(name, amount.clone(), items, "an amount of liquid without a name, taken as water"));
        } else if is_lost(told, amount, items) {
            marks.push(Mark {
                first: node.first,
                end: node.end,
                label: Label::Struck(NO_MATERIAL.to_owned(), true),
                questions: Vec::new(),
            });
        }
    }
    marks
}

fn owners(told: &Recipe<'_>, drafts: &[Draft]) -> Owners {
    let mut owners: Owners = vec![None; told.nodes.len()];
    for (at, draft) in drafts.iter().enumerate().filter(|(_, draft)| draft.implied.is_none()) {
        if let Some(slot) = owners.get_mut(draft.name) {
            *slot = slot.or(Some(at));
        }
    }
    for (name, amount) in &told.pairs {
        let owner = owners.get(*name).copied().flatten();
        if let Some(slot) = owners.get_mut(*amount) {
            *slot = owner;
        }
    }
    owners
}

/// Whether an amount should be shown as struck: it was one, and nobody knows of what.
fn is_lost(told: &Recipe<'_>, amount: &AmountNode, (first, end): (usize, usize)) -> bool {
    let before = first.checked_sub(1);
    let vessel = amount.words && told.sizeless(amount) || told.has(before, Signal::Per);
    let counts = matches!(amount.told, Told::Unit(_) | Told::Part(_) | Told::Absurd | Told::Percent) && !amount.bought && !vessel;
    let leans = matches!(amount.told, Told::PerLiquid(_) | Told::Relative { .. }) && leans_on_stranger(told, (first, end));
    let unknown = |at: Option<usize>| at.and_then(|at| told.items.get(at)).is_some_and(|item| item.what == What::Unknown && !item.muted);
    counts || leans || amount.told == Told::Bare && !amount.words && (unknown(Some(end)) || unknown(before))
}

/// "an equal volume of zork", "half of that is zork".
fn leans_on_stranger(told: &Recipe<'_>, (first, end): (usize, usize)) -> bool {
    let that = (first..end).any(|at| told.has(Some(at), Signal::OfThat));
    let unknown = told.items.iter().skip(end).take(3).take_while(|item| !item.ends_clause()).any(|item| item.what == What::Unknown);
    that && unknown || pairing::of_stranger(told.items, end)
}

/// Adds an amount to the line that it belongs to: the weighed figure wins, so does the one that was used.
///
/// Gives a mark where the two can't both be true.
fn attach(told: &Recipe<'_>, draft: &mut Draft, amount: &AmountNode, items: (usize, usize)) -> Option<Mark> {
    if let (Some(first), Some(first_items), false, false) = (&draft.amount, draft.amount_items, amount.used, amount.each)
        && let Some(doubles) = doubles::compare(told, first, amount)
    {
        // The figure told first counts, unless both say the same and the other is metric.
        let (keeps, why) = match doubles {
            Doubles::Agree { metric } => (metric == Some(false) || metric.is_none(), None),
            Doubles::Differ => {
                let earlier = first_items.0 < items.0;
                let kept = if earlier { first_items } else { items };
                (earlier, Some(format!("does not agree with {}", told.span(kept.0, kept.1).of(told.text))))
            }
        };
        let dropped = if keeps { items } else { first_items };
        if !keeps {
            draft.amount = Some(amount.clone());
            draft.amount_items = Some(items);
        }
        draft.first = draft.first.min(items.0);
        draft.end = draft.end.max(items.1);
        let Some(why) = why else {
            draft.more.push(dropped);
            return None;
        };
        draft.notes.push(format!("{} {why}, so it was left out", told.span(dropped.0, dropped.1).of(told.text)));
        return Some(Mark { first: dropped.0, end: dropped.1, label: Label::Struck(why, true), questions: Vec::new() });
    }
    let bags = amount.each && draft.amount.as_ref().is_some_and(|first| told.sizeless(first));
    let sized = !told.sizeless(amount) && draft.amount.as_ref().is_some_and(|other| told.sizeless(other));
    let weighed = sized || told.is_mass(amount) && draft.amount.as_ref().is_some_and(|other| !told.is_mass(other));
    if bags {
        // "two bags of chalk, 500 g each"
        let count = draft.amount.as_ref().map_or(1.0, |bags| bags.number.middle());
        draft.more.extend(draft.amount_items.replace(items));
        draft.amount = Some(AmountNode { number: amount.number.times(count), each: false, ..amount.clone() });
    } else if weighed || amount.used || draft.amount.is_none() {
        draft.more.extend(draft.amount_items.replace(items));
        draft.amount = Some(amount.clone());
        if weighed {
            let note = if sized {
                "the measure beside it tells how much it holds"
            } else {
                "the weighed figure is used, not the measure beside it"
            };
            draft.notes.push(note.to_owned());
        }
    } else {
        draft.more.push(items);
    }
    draft.first = draft.first.min(items.0);
    draft.end = draft.end.max(items.1);
    None
}

/// The line that an amount without a material of its own belongs to: "1 cup chalk (180 g)", "5 kg bag, used 750 g".
fn attached(told: &Recipe<'_>, at: usize, owners: &Owners) -> Option<usize> {
    let node = told.nodes.get(at)?;
    let amount = node.amount()?;
    let line = |index: Option<usize>| index.and_then(|index| owners.get(index).copied().flatten().map(|line| (index, line)));
    if let Some((before, line)) = line(at.checked_sub(1)) {
        let gap = told.between(told.nodes.get(before)?.end, node.first);
        let passes = |item: &Item| {
            matches!(item.what, What::Mark(Sign::Open | Sign::Equals | Sign::Dash | Sign::Close | Sign::Arrow) | What::Talk)
                || item.has(Signal::Approx)
                || item.has(Signal::Adjective)
        };
        let mark = |item: &Item| matches!(item.what, What::Mark(Sign::Open | Sign::Equals));
        // "500 g/1 lb", but not "40 g gelatine/600 ml".
        let twice = matches!(gap, [slash] if slash.is(Sign::Slash) && slash.tight)
            && told.nodes.get(before).and_then(Node::amount).and_then(|first| doubles::compare(told, first, amount)).is_some();
        let opens = gap.iter().all(passes) && gap.iter().any(mark) || twice;
        let each = amount.each && gap.iter().all(|item| item.is(Sign::Comma) || item.is(Sign::Open) || item.what == What::Talk);
        let used = (amount.used || each) && !gap.iter().any(|item| matches!(item.what, What::Break(_)));
        if opens || used {
            return Some(line);
        }
    }
    let (next, line) = line(Some(at + 1))?;
    let other = told.nodes.get(next)?;
    let gap = told.between(node.end, other.first);
    let opens = matches!(gap, [open] if open.is(Sign::Open) || open.is(Sign::Equals))
        || gap.iter().all(|item| item.is(Sign::Open) || item.has(Signal::Approx)) && !gap.is_empty();
    (opens && other.amount().is_some()).then_some(line)
}

/// "1 tin white paint 750 ml": the line whose vessel the amount right behind it gives a size.
fn sizes(told: &Recipe<'_>, at: usize, drafts: &[Draft], owners: &Owners) -> Option<usize> {
    let (node, before) = (told.nodes.get(at)?, at.checked_sub(1)?);
    let line = owners.get(before).copied().flatten()?;
    let vessel = drafts.get(line)?.amount.as_ref().is_some_and(|amount| told.sizeless(amount));
    let gap = told.between(told.nodes.get(before)?.end, node.first);
    let close =
        gap.iter().all(|item| item.has(Signal::Adjective) || matches!(item.what, What::Mark(Sign::Comma | Sign::Dash | Sign::Colon)));
    (vessel && close && matches!(node.amount()?.told, Told::Unit(_))).then_some(line)
}

/// Dry stuff that is never used without water.
const THIRSTY: [&str; 7] =
    ["hide-glue", "rabbit-skin-glue", "gelatine", "casein-powder", "parchment-clippings", "skim-milk-powder", "borax"];

/// "40 g gelatine / 600 ml / 500 g chalk": a lone liquid measure in a sentence with a dry binder is its water. Gives the binder.
fn water_for(told: &Recipe<'_>, at: usize, amount: &AmountNode, drafts: &[Draft], owners: &Owners) -> Option<usize> {
    let node = told.nodes.get(at)?;
    let slash = node.first.checked_sub(1).and_then(|before| told.items.get(before)).is_some_and(|item| item.is(Sign::Slash));
    let bare = amount.told == Told::Bare && slash && amount.number.low >= 10.0;
    if !told.pours(amount) && !bare {
        return None;
    }
    // Nothing may follow that could be its name.
    let named =
        told.items.get(node.end).is_some_and(|item| !item.ends_clause() && !matches!(item.what, What::Mark(_)) && !item.has(Signal::And));
    if named {
        return None;
    }
    let mut binder = None;
    for back in (at.saturating_sub(3)..at).rev() {
        let other = told.nodes.get(back)?;
        if told.between(other.end, node.first).iter().any(Item::ends_sentence) {
            break;
        }
        if other.name().is_none() {
            continue;
        }
        if told.is(back, "water") {
            return None;
        }
        let draft = owners.get(back).copied().flatten().and_then(|line| drafts.get(line)).filter(|draft| draft.amount.is_some());
        let dry =
            told.top(back).is_some_and(|id| THIRSTY.contains(&id.as_str())) || draft.is_some_and(|draft| is_glue_by_weight(told, draft));
        if dry && draft.is_some() {
            binder = Some(back);
        }
    }
    binder
}

/// "60 g/l glue": the litre is water, unless water is told.
fn per_litre(told: &Recipe<'_>, drafts: &mut Vec<Draft>) {
    let has_water = drafts.iter().any(|draft| draft.implied.is_none() && told.is(draft.name, "water"));
    let per = |draft: &Draft| draft.amount.as_ref().and_then(|amount| amount.per).map(|unit| (unit, draft.name, draft.amount_items));
    let Some((unit, name, Some(items))) = drafts.iter().find_map(per) else { return };
    if !has_water {
        let note = "an amount per measure of liquid: taken for one measure of water";
        drafts.push(Draft::water(name, plain(Range::one(1.0), Told::Unit(unit)), items, note));
    }
}

/// "Size, 2 oz to the quart": the glue that goes into the size.
pub(super) fn is_glue_by_weight(told: &Recipe<'_>, draft: &Draft) -> bool {
    let weighed = draft.amount.as_ref().is_some_and(|amount| told.is_mass(amount));
    weighed && told.has(draft.amount_items.map(|(_, end)| end), Signal::Per) && told.is(draft.name, "glue-size")
}
