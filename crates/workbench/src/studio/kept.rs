//! Recipes and failed boards that the painter keeps.

use measure::Input;
use notebook::{Deed, Failed, Kept, Notebook, Recipe, Said, Stamp, Wanted};
use show::{Card, CausesView, KeptRow, KeptView, VersionRow};

use super::{Studio, StudioError, named, one_line, remark};
use crate::{FailedRequest, VERSION, VerdictRequest, Workbench};

/// A recipe that is to be kept.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct KeepRecipe {
    /// The recipe, with the answers given.
    pub request: VerdictRequest,
    /// What the painter calls it.
    pub name: String,
    /// Remark, or what was changed.
    pub note: String,
    /// Subject and entry of the recipe that this replaces; empty and 0 for a new one.
    pub change: (String, u64),
    /// Subject of the recipe that it was copied from.
    pub copied_from: String,
}

/// A failed board that is to be kept.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct KeepFailed {
    /// What is known of it.
    pub request: FailedRequest,
    /// What the painter calls it.
    pub name: String,
}

/// A kept recipe: the card of today beside what was said when it was kept.
#[derive(Debug, Clone, PartialEq)]
pub struct KeptRecipe {
    /// Subject.
    pub subject: String,
    /// Entry that was shown.
    pub from: u64,
    /// Name.
    pub name: String,
    /// Remark.
    pub note: String,
    /// Name and subject of the recipe that it was copied from.
    pub copied_from: Option<(String, String)>,
    /// The question again, as today.
    pub request: VerdictRequest,
    /// Today's card.
    pub card: Card,
    /// When it was kept last.
    pub on: String,
    /// What was said then, if today's sentence is another; empty otherwise.
    pub said_then: String,
    /// All versions, newest first.
    pub versions: Vec<VersionRow>,
}

impl Workbench {
    /// Keeps a recipe with its verdict.
    ///
    /// # Errors
    /// No name; a text that can't be taken; somebody else changed it first.
    pub fn keep_recipe(&self, studio: &Studio, keep: &KeepRecipe, stamp: &Stamp) -> Result<String, StudioError> {
        let name = named(&keep.name, "the name", "tide calendar ground")?;
        if keep.request.told.trim().is_empty() {
            return Err(StudioError::Typed("there is no recipe to keep yet; say it first".into()));
        }
        let card = self.verdict(&keep.request).map_err(StudioError::typed)?;
        let recipe = Recipe {
            name,
            told: keep.request.told.clone(),
            choices: keep.request.choices.clone(),
            wet_um: keep.request.wet_um,
            coats: keep.request.coats,
            copied_from: Some(keep.copied_from.clone()).filter(|from| !from.is_empty()),
            note: remark(&keep.note)?,
            said: Said {
                sentence: card.sentence.clone(),
                word: card.word.text.clone(),
                place: card.bar.map(|bar| [bar.low, bar.value, bar.high]),
                version: VERSION.to_owned(),
            },
            binder: self.binder_named(&studio.state(), &keep.request.told),
        };
        let (old, from) = &keep.change;
        let subject = if old.is_empty() { stamp.subject("recipe", 0) } else { old.clone() };
        studio.write(stamp, |_| {
            let deed = Deed::Recipe(recipe.clone());
            Ok(vec![if old.is_empty() { Wanted::new(&subject, deed) } else { Wanted::edit(&subject, *from, deed) }])
        })?;
        Ok(subject)
    }

    /// Keeps a failed board with what was said of it.
    ///
    /// # Errors
    /// No name; taps that don't exist; the notebook refuses.
    pub fn keep_failed(&self, studio: &Studio, keep: &KeepFailed, stamp: &Stamp) -> Result<String, StudioError> {
        let name = named(&keep.name, "the name", "panel 3 of the tide calendar")?;
        let request = &keep.request;
        let view = self.failed(request).map_err(StudioError::typed)?;
        let failed = Failed {
            name,
            told: request.told.clone(),
            choices: request.choices.clone(),
            dry_um: request.dry_um,
            coats: request.coats,
            support: request.support.clone(),
            taps: request.taps.clone(),
            facts: request.facts.iter().cloned().collect(),
            sentence: view.sentence,
            version: VERSION.to_owned(),
        };
        let subject = stamp.subject("failed", 0);
        studio.write(stamp, |_| Ok(vec![Wanted::new(&subject, Deed::Failed(failed.clone()))]))?;
        Ok(subject)
    }

    /// Everything kept, newest first; with a search word only what holds it.
    pub fn kept(&self, state: &Notebook, search: &str) -> KeptView {
        let wanted = one_line(search).to_lowercase();
        let holds = |texts: &[&str]| wanted.is_empty() || texts.iter().any(|text| text.to_lowercase().contains(&wanted));
        let mut recipes: Vec<(u64, KeptRow)> = state
            .recipes
            .values()
            .filter(|kept| holds(&[&kept.record.name, &kept.record.told, &kept.record.note, &kept.record.said.sentence]))
            .map(|kept| {
                let row = KeptRow {
                    subject: kept.subject.clone(),
                    name: kept.record.name.clone(),
                    said: kept.record.said.sentence.clone(),
                    on: kept.at.local().0.to_string(),
                    note: kept.record.note.clone(),
                };
                (kept.n, row)
            })
            .collect();
        let mut failed: Vec<(u64, KeptRow)> = state
            .failed
            .values()
            .filter(|kept| holds(&[&kept.record.name, &kept.record.told, &kept.record.sentence]))
            .map(|kept| {
                let row = KeptRow {
                    subject: kept.subject.clone(),
                    name: kept.record.name.clone(),
                    said: kept.record.sentence.clone(),
                    on: kept.at.local().0.to_string(),
                    note: String::new(),
                };
                (kept.n, row)
            })
            .collect();
        recipes.sort_by_key(|(n, _)| std::cmp::Reverse(*n));
        failed.sort_by_key(|(n, _)| std::cmp::Reverse(*n));
        KeptView {
            search: one_line(search),
            recipes: recipes.into_iter().map(|(_, row)| row).collect(),
            failed: failed.into_iter().map(|(_, row)| row).collect(),
        }
    }

    /// A kept recipe with today's card.
    ///
    /// # Errors
    /// There is none; its text can no longer be taken.
    pub fn kept_recipe(&self, state: &Notebook, subject: &str) -> Result<KeptRecipe, StudioError> {
        let kept = state.recipes.get(subject).ok_or(StudioError::Missing("recipe"))?;
        let request =
            VerdictRequest { seen: self.boards_seen(state), ..request_of(&kept.record, self.own_values_for(state, &kept.record.told)) };
        let card = self.verdict(&request).map_err(StudioError::typed)?;
        let said_then = if kept.record.said.sentence == card.sentence { String::new() } else { kept.record.said.sentence.clone() };
        let copied_from = kept.record.copied_from.as_ref().map(|from| {
            let name = state.recipes.get(from).map_or_else(|| "a recipe that was taken back".to_owned(), |kept| kept.record.name.clone());
            (name, from.clone())
        });
        Ok(KeptRecipe {
            subject: kept.subject.clone(),
            from: kept.n,
            name: kept.record.name.clone(),
            note: kept.record.note.clone(),
            copied_from,
            request,
            card,
            on: kept.at.local().0.to_string(),
            said_then,
            versions: versions(state, subject),
        })
    }

    /// What was known of a kept failed board, and what is said of it today.
    ///
    /// # Errors
    /// There is none; what was tapped no longer exists.
    pub fn kept_failed(&self, state: &Notebook, subject: &str) -> Result<(String, FailedRequest, CausesView), StudioError> {
        let kept: &Kept<Failed> = state.failed.get(subject).ok_or(StudioError::Missing("failed board"))?;
        let record = &kept.record;
        let request = FailedRequest {
            told: record.told.clone(),
            choices: record.choices.clone(),
            dry_um: record.dry_um,
            coats: record.coats,
            support: record.support.clone(),
            taps: record.taps.clone(),
            facts: record.facts.iter().cloned().collect(),
            own: self.own_values_for(state, &record.told),
        };
        let view = self.failed(&request).map_err(StudioError::typed)?;
        Ok((record.name.clone(), request, view))
    }
}

fn request_of(recipe: &Recipe, own: Vec<Input>) -> VerdictRequest {
    VerdictRequest {
        told: recipe.told.clone(),
        choices: recipe.choices.clone(),
        wet_um: recipe.wet_um,
        coats: recipe.coats,
        own,
        ..VerdictRequest::default()
    }
}

/// Every version of a recipe, newest first.
fn versions(state: &Notebook, subject: &str) -> Vec<VersionRow> {
    state
        .entries()
        .iter()
        .rev()
        .filter(|entry| entry.subject == subject)
        .filter_map(|entry| match &entry.deed {
            Deed::Recipe(recipe) => Some(VersionRow {
                entry: entry.n,
                on: entry.at.to_string(),
                name: recipe.name.clone(),
                told: recipe.told.clone(),
                note: recipe.note.clone(),
                said: recipe.said.sentence.clone(),
                struck: state.is_struck(entry.n),
            }),
            _ => None,
        })
        .collect()
}
