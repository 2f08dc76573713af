//! Amounts that lean on another line: "twice as much chalk as glue", "its volume of oil".

use std::collections::HashMap;

use super::drafts::Draft;
use super::model::{Amount, Line, NotGiven, PartBasis, Pick, Range};
use super::nodes::{Node, Of, Told};
use super::recipe::Recipe;
use super::signals::Signal;
use crate::catalogue::{Kind, MaterialId};

/// How often lines that lean on lines that lean themselves are looked at again.
const CHAIN: usize = 3;

/// Works out amounts that lean on another line.
pub(super) fn lean(told: &Recipe<'_>, drafts: &[Draft], lines: &mut [Line]) {
    // The first two lines of each material: one may be the leaning line itself.
    let mut places: HashMap<&MaterialId, [Option<usize>; 2]> = HashMap::new();
    for (at, draft) in drafts.iter().enumerate().filter(|(_, draft)| draft.implied.is_none()) {
        if let Some(id) = told.top(draft.name) {
            let slots = places.entry(id).or_default();
            if let Some(free) = slots.iter_mut().find(|slot| slot.is_none()) {
                *free = Some(at);
            }
        }
    }
    for _ in 0..CHAIN {
        for (at, draft) in drafts.iter().enumerate() {
            let Some(Told::Relative { factor, of }) = draft.amount.as_ref().map(|amount| &amount.told) else { continue };
            if lines.get(at).is_none_or(|line| line.amount != Amount::NotGiven(NotGiven::Missing)) {
                continue;
            }
            let other = match of {
                Of::Previous => at.checked_sub(1),
                Of::Node(node) => {
                    let ids = told.nodes.get(*node).and_then(Node::name).map(|name| name.meanings.as_slice()).unwrap_or_default();
                    ids.iter().filter_map(|(id, _)| places.get(id)).flatten().flatten().copied().filter(|index| *index != at).min()
                }
            };
            let Some(amount) = other.and_then(|other| lines.get(other)).and_then(|line| scaled(&line.amount, *factor)) else { continue };
            if let Some(line) = lines.get_mut(at) {
                line.amount = amount;
                line.guessed.push("worked out from another ingredient".to_owned());
            }
            if let (Some(rest), true) = (other.filter(|_| *factor < 1.0), within(told, drafts, other, at))
                && let Some(line) = lines.get_mut(rest)
                && let Some(amount) = scaled(&line.amount, 1.0 - factor)
            {
                line.amount = amount;
                line.guessed.push("what is told to be a share of it is taken off".to_owned());
            }
        }
    }
    alone(drafts, lines);
    for (draft, line) in drafts.iter().zip(lines.iter_mut()) {
        let leans = draft.amount.as_ref().is_some_and(|amount| matches!(amount.told, Told::Relative { .. }));
        if leans && line.amount == Amount::NotGiven(NotGiven::Missing) {
            line.guessed.push("told by another ingredient whose amount is not known; say how much that one is".to_owned());
        }
    }
}

/// "300 g chalk, half of that is zinc white": the one powder is a share of the other, not on top of it.
fn within(told: &Recipe<'_>, drafts: &[Draft], other: Option<usize>, at: usize) -> bool {
    let (Some(whole), Some(draft)) = (other.and_then(|other| drafts.get(other)), drafts.get(at)) else { return false };
    let Some((first, end)) = draft.amount_items else { return false };
    let filler = |draft: &Draft| told.top(draft.name).and_then(|id| told.jars.material(id)).is_some_and(|stuff| stuff.kind == Kind::Filler);
    let share = (first.saturating_sub(1)..end).any(|at| told.has(Some(at), Signal::OfThat));
    // "a third of that in borax" is on top.
    let on_top = (end..draft.end).any(|at| told.has(Some(at), Signal::In));
    share && !on_top && filler(whole) && filler(draft)
}

/// "whole egg, its volume of linseed oil": where nothing before has an amount, what the volume leans on counts as one part.
fn alone(drafts: &[Draft], lines: &mut [Line]) {
    for at in 1..lines.len() {
        let (before, behind) = lines.split_at_mut(at);
        let (Some(line), Some(draft)) = (behind.first_mut(), drafts.get(at)) else { continue };
        let Amount::VolumePerLiquid { number } = line.amount else { continue };
        let told = draft.amount.as_ref().is_some_and(|amount| matches!(amount.told, Told::PerLiquid(_)));
        let unknown = before.iter().all(|line| line.amount == Amount::NotGiven(NotGiven::Missing));
        let Some(last) = before.last_mut().filter(|_| told && unknown) else { continue };
        let parts = |number: Range| Amount::Parts { number, basis: Pick::sure(PartBasis::Volume) };
        last.amount = parts(Range::one(1.0));
        last.guessed.push("no amount is told: taken as one part by volume".to_owned());
        line.amount = parts(number);
        line.guessed.push("taken as parts by volume, as the ingredient before it has no amount".to_owned());
    }
}

/// So many times as much, if that can be said of the amount.
fn scaled(amount: &Amount, factor: f64) -> Option<Amount> {
    Some(match amount {
        Amount::Mass { number, unit } => Amount::Mass { number: number.times(factor), unit: unit.clone() },
        Amount::Volume { number, unit, fill } => Amount::Volume { number: number.times(factor), unit: unit.clone(), fill: *fill },
        Amount::Parts { number, basis } => Amount::Parts { number: number.times(factor), basis: basis.clone() },
        Amount::PercentOfWhole { number } => Amount::PercentOfWhole { number: number.times(factor) },
        _ => return None,
    })
}
