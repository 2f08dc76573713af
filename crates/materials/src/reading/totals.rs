//! "Chalk and gypsum 1:1, 1.5 kg in all": parts that a total gives a weight.

use super::amounts::plain;
use super::cover::{Label, Mark};
use super::drafts::Draft;
use super::model::{PartBasis, Range};
use super::nodes::{AmountNode, Node, Told};
use super::recipe::Recipe;
use super::signals::Signal;

const NO_SUM: &str = "a total for parts that are not by weight; say how big one part is";

/// Scales parts by weight to a weighed total; a total of anything else stays struck and says why.
pub(super) fn settle(told: &Recipe<'_>, drafts: &mut [Draft], marks: &mut Vec<Mark>) {
    marks.retain_mut(|mark| {
        if !matches!(mark.label, Label::Struck(_, true)) || !is_total(told, mark) {
            return true;
        }
        let Some(total) = told.nodes.iter().find(|node| node.first == mark.first).and_then(Node::amount) else { return true };
        if !matches!(total.told, Told::Unit(_)) || !drafts.iter().any(is_part) {
            return true;
        }
        if told.is_mass(total) && scale(told, drafts, total, (mark.first, mark.end)) {
            return false;
        }
        mark.label = Label::Struck(NO_SUM.to_owned(), true);
        true
    });
}

/// Whether "in all", "zusammen" stands beside an amount.
fn is_total(told: &Recipe<'_>, mark: &Mark) -> bool {
    let behind = told.between(mark.end, (mark.end + 2).min(told.items.len()));
    let before = told.between(mark.first.saturating_sub(2), mark.first);
    behind.iter().chain(before).any(|item| item.has(Signal::Total))
}

fn is_part(draft: &Draft) -> bool {
    draft.amount.as_ref().is_some_and(|amount| matches!(amount.told, Told::Part(_)))
}

fn scale(told: &Recipe<'_>, drafts: &mut [Draft], total: &AmountNode, items: (usize, usize)) -> bool {
    // The parts of the ratio told last before the total, or all parts where each stands by itself.
    let last = drafts.iter().rfind(|draft| is_part(draft) && draft.amount_items.is_some_and(|(first, _)| first < items.0));
    let shared = last.and_then(|draft| draft.amount_items);
    let alone = drafts.iter().filter(|draft| is_part(draft) && draft.amount_items == shared).count() < 2;
    let mut group: Vec<&mut Draft> = drafts.iter_mut().filter(|draft| is_part(draft) && (alone || draft.amount_items == shared)).collect();
    let by_volume = |draft: &&mut Draft| {
        let basis = match draft.amount.as_ref().map(|amount| &amount.told) {
            Some(Told::Part(basis)) => basis.or(told.customs.basis),
            _ => None,
        };
        basis == Some(PartBasis::Volume)
    };
    let parts: f64 = group.iter().filter_map(|draft| draft.amount.as_ref()).map(|amount| amount.number.middle()).sum();
    if group.iter().any(by_volume) || parts <= 0.0 || !parts.is_finite() {
        return false;
    }
    for draft in &mut group {
        let Some(amount) = draft.amount.as_mut() else { continue };
        let number =
            Range { low: total.number.low * amount.number.middle() / parts, high: total.number.high * amount.number.middle() / parts };
        *amount = AmountNode { region: total.region, ..plain(number, total.told.clone()) };
        draft.notes.push("the total is shared out by the parts, taken by weight".to_owned());
    }
    if let Some(first) = group.first_mut() {
        first.more.push(items);
    }
    true
}
