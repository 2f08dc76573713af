//! "For every 100 g of chalk use 8 g of glue; I made it with 650 g chalk": how much of the base was taken is no more of it.

use super::cover::{Label, Mark};
use super::drafts::Draft;
use super::items::{Item, What};
use super::recipe::Recipe;
use super::signals::Signal;

/// Takes out a second amount of the stuff that the recipe is told for, and says why.
pub(super) fn settle(told: &Recipe<'_>, drafts: &mut Vec<Draft>, marks: &mut Vec<Mark>) {
    let Some(base) = drafts.iter().position(|draft| is_base(told, draft)) else { return };
    let (Some(id), Some(figure)) = (
        drafts.get(base).and_then(|draft| told.top(draft.name)).cloned(),
        drafts.get(base).and_then(|draft| draft.amount_items).map(|(first, end)| told.span(first, end).of(told.text).to_owned()),
    ) else {
        return;
    };
    let mut at = base + 1;
    while let Some(draft) = drafts.get(at) {
        let again = draft.implied.is_none() && told.top(draft.name) == Some(&id) && draft.amount.as_ref().is_some_and(|a| told.is_mass(a));
        match draft.amount_items.filter(|(first, _)| again && !is_more(told, *first)) {
            Some((first, end)) => {
                let why = format!("the recipe is told for {figure} of it, so this is not added; multiply the amounts yourself");
                marks.push(Mark { first, end, label: Label::Struck(why, true), questions: Vec::new() });
                drafts.remove(at);
            }
            None => at += 1,
        }
    }
}

/// Words for stuff that does go on top.
const MORE: [&str; 8] = ["another", "further", "extra", "more", "weitere", "encore", "ancora", "otro"];

/// "another 50 g chalk at the end"
fn is_more(told: &Recipe<'_>, first: usize) -> bool {
    let near = told.span(first.saturating_sub(2), first + 1).of(told.text).to_lowercase();
    near.split_whitespace().any(|word| MORE.iter().any(|more| word.starts_with(more)))
}

/// Whether "for every" stands before the amount and nothing measured before it in its clause.
fn is_base(told: &Recipe<'_>, draft: &Draft) -> bool {
    let Some((first, _)) = draft.amount_items.filter(|_| draft.implied.is_none()) else { return false };
    let weighed = draft.amount.as_ref().is_some_and(|amount| told.is_mass(amount));
    let per = first.checked_sub(1).filter(|per| told.has(Some(*per), Signal::Per));
    let opens = |per: usize| {
        let before = told.items.get(..per).unwrap_or(&[]).iter().rev();
        before.take_while(|item: &&Item| !item.ends_clause()).all(|item| !matches!(item.what, What::Name(_) | What::Number(_)))
    };
    weighed && per.is_some_and(opens)
}
