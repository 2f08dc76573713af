//! What a whole text says about measures: "by weight", "all US measures", jars used as parts.

use std::collections::HashMap;

use measure::{Dimension, UnitId};

use super::amounts::Measures;
use super::items::{Item, What};
use super::measured::Customs;
use super::model::PartBasis;
use super::nodes::{Node, Region, Told};
use super::signals::Signal;
use super::tokens::Mark;

/// Looks the whole text over.
pub(super) fn look(nodes: &[Node], items: &[Item], measures: Measures<'_>) -> Customs {
    let mut customs = Customs { basis: basis(nodes, items), ..Customs::default() };
    let mut vessels: HashMap<UnitId, usize> = HashMap::new();
    let (mut parts, mut measured, mut points) = (0usize, 0usize, 0usize);
    for amount in nodes.iter().filter_map(Node::amount) {
        match amount.told {
            Told::Unit(word) => {
                let Some(text) = measures.lexicon.unit(word) else { continue };
                let Some((id, _)) = measures.units.by_word(text).first() else { continue };
                let unit = measures.units.get(*id);
                if matches!(text, "pt" | "pts") && amount.region.is_none() {
                    points += 1;
                } else if unit.value.is_none() {
                    *vessels.entry(*id).or_default() += 1;
                } else if unit.dimension != Dimension::Count {
                    measured += 1;
                }
            }
            Told::Part(_) | Told::Ratio(_) => parts += 1,
            _ => {}
        }
    }
    customs.shared_vessels = vessels.into_iter().filter(|(_, uses)| *uses > 1).map(|(id, _)| id).collect();
    let bare: Vec<f64> =
        nodes.iter().filter_map(Node::amount).filter(|amount| amount.told == Told::Bare).map(|amount| amount.number.high).collect();
    let said = customs.basis.is_some() || items.iter().any(|item| item.has(Signal::Part) && !item.muted);
    let small = bare.len() > 1 && bare.iter().all(|value| *value <= 30.0);
    customs.points_are_parts = points > 1 && measured == 0;
    let percent_sign = |item: &Item| !item.muted && (item.is(Mark::Percent) || item.has(Signal::Percent));
    let told_percent = nodes.iter().any(Node::is_percent)
        || items.windows(2).any(|pair| matches!(pair, [number, sign] if matches!(number.what, What::Number(_)) && percent_sign(sign)));
    customs.bare_percent = bare.len() > 1 && measured == 0 && !told_percent && items.iter().any(percent_sign);
    customs.bare_parts = parts > 0 || (measured == 0 && (said || small));
    customs.region = items.windows(2).find_map(|pair| {
        let [a, b] = pair else { return None };
        if b.has(Signal::Measures) && !b.muted { Region::named(a) } else { None }
    });
    customs
}

/// The basis of all parts, if the text names only one.
fn basis(nodes: &[Node], items: &[Item]) -> Option<PartBasis> {
    let (mut volume, mut weight) = (false, false);
    for node in nodes {
        match node.amount().map(|amount| &amount.told) {
            Some(Told::Part(Some(PartBasis::Volume))) => volume = true,
            Some(Told::Part(Some(PartBasis::Weight))) => weight = true,
            _ => {}
        }
    }
    for item in items.iter().filter(|item| !item.muted) {
        let phrase = item.end > item.first + 1;
        volume |= item.has(Signal::ByVolume) || phrase && item.has(Signal::PartVolume);
        weight |= item.has(Signal::ByWeight) || phrase && item.has(Signal::PartWeight);
    }
    match (volume, weight) {
        (true, false) => Some(PartBasis::Volume),
        (false, true) => Some(PartBasis::Weight),
        _ => None,
    }
}
