//! Told text to ingredients with amounts.
//!
//! The way of a text: tokens (words, figures, marks) -> items (numbers, units, names, steering words; the longest phrase wins) ->
//! nodes (amounts and materials in order) -> relations and strengths -> pairs -> lines, questions, pieces. Each step is one pass.

mod amounts;
mod asides;
mod bare;
mod bases;
mod cover;
mod curds;
mod customs;
mod doubles;
mod drafts;
mod elsewhere;
mod endings;
mod fold;
mod hashing;
mod items;
mod language;
mod leaning;
mod leftovers;
mod lexicon;
mod lines;
mod measured;
mod mixtures;
mod model;
mod names;
mod nodes;
mod number_words;
mod numbers;
mod numerals;
mod pairing;
mod poured;
mod questions;
mod recipe;
mod relations;
mod settings;
mod shares;
mod signals;
mod strangers;
mod strays;
mod strengths;
mod strict;
mod swaps;
mod tokens;
mod totals;
mod typos;
mod usual;

use std::collections::HashSet;

use measure::Units;

use crate::catalogue::{Catalogue, Kind, MaterialId};
use amounts::Measures;
use cover::{Label, Mark};
use lexicon::Lexicon;
pub use model::{
    Amount, Chip, ChipKind, Choice, Fill, Line, LineError, NotGiven, PartBasis, Pick, Piece, Question, QuestionId, Range, Reading, Setting,
    Span, Strength, Struck, Wishes,
};
use nodes::Node;
pub use strict::read_strict;

/// Reads a recipe as a painter tells it. Never fails: what is not understood is kept and struck.
///
/// `answers` pick among the choices of questions; answers to questions that are not asked are ignored.
///
/// ```
/// use materials::{Amount, Catalogue, Wishes, read};
/// let (jars, units) = (Catalogue::builtin()?, measure::Units::builtin()?);
/// let reading = read(jars, &units, "40 g hide glue soaked in half a litre of water, 600 g whiting", &Wishes::new());
/// let told: Vec<_> = reading.lines.iter().map(|line| line.material.first().unwrap().as_str()).collect();
/// assert_eq!(told, ["hide-glue", "water", "natural-chalk"]);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn read(jars: &Catalogue, units: &Units, text: &str, answers: &Wishes) -> Reading {
    usual::with_lexicon(jars, units, |lexicon| read_with(jars, units, lexicon, text, answers))
}

fn read_with(jars: &Catalogue, units: &Units, lexicon: &Lexicon, text: &str, answers: &Wishes) -> Reading {
    let tokens = tokens::cut(text, lexicon);
    let items = items::gather(text, &tokens, lexicon);
    let measures = Measures { units, lexicon };
    let (mut nodes, settings) = amounts::build(&items, measures);
    strangers::heads(&mut nodes);
    names::settle(&mut nodes, &items, lexicon);
    elsewhere::titles(&mut nodes, &items, &tokens, text);
    let aside = elsewhere::set_aside(&mut nodes, &items);
    let given = relations::find(&mut nodes, &items);
    let taken: HashSet<usize> = given.iter().map(|given| given.name).collect();
    let strengths = strengths::find(&mut nodes, &items, jars, &taken);
    let customs = customs::look(&nodes, &items, measures);
    let active = recipe::active(&nodes, jars, &given, &strengths);
    let pairs = pairing::pair(&nodes, &items, &active);
    let recipe = recipe::Recipe {
        jars,
        units,
        lexicon,
        text,
        tokens: &tokens,
        items: &items,
        nodes: &nodes,
        given,
        pairs,
        strengths,
        customs: &customs,
    };
    let (built, questions) = lines::build(&recipe, answers);
    let settings = settings.close();
    let mut marks = built.marks;
    marks.extend(aside);
    marks.extend(settings.iter().map(|(_, first, end)| Mark { first: *first, end: *end, label: Label::Setting, questions: Vec::new() }));
    mention(&nodes, &mut marks);
    strays::find(&nodes, &items, &mut marks);
    let pieces = cover::pieces(text, &tokens, &items, &marks);
    let drained = curds::drained(&recipe, &built.lines);
    let mut mentions = mentions(jars, &nodes, &marks, &built.lines);
    if !drained.is_empty() {
        // "the casein of 1 l milk" is the milk told before or behind, no powder.
        mentions.retain(|id| !curds::is_curd(jars, id));
    }
    Reading {
        pieces,
        lines: built.lines,
        questions,
        settings: settings.into_iter().map(|(setting, ..)| setting).collect(),
        mentions,
        drained,
    }
}

/// Materials that have chips and no line.
fn mentions(jars: &Catalogue, nodes: &[Node], marks: &[Mark], lines: &[Line]) -> Vec<MaterialId> {
    let mut found: Vec<MaterialId> = Vec::new();
    let chips: HashSet<usize> = marks.iter().filter(|mark| mark.label == Label::Mention).map(|mark| mark.first).collect();
    for node in nodes {
        let Some((id, _)) = node.name().and_then(|name| name.meanings.first()) else { continue };
        // "never with bleach": a danger counts even where it is refused.
        let danger = jars.material(id).is_some_and(|stuff| stuff.kind == Kind::Hazard);
        if !danger && !chips.contains(&node.first) {
            continue;
        }
        let has_line = lines.iter().any(|line| line.material.candidates.iter().any(|(other, _)| other == id));
        if !has_line && !found.contains(id) {
            found.push(id.clone());
        }
    }
    found
}

/// Materials named again without an amount: chips without a line.
fn mention(nodes: &[Node], marks: &mut Vec<Mark>) {
    let mut shown = vec![false; nodes.last().map_or(0, |node| node.end)];
    for mark in marks.iter() {
        if let Some(seen) = shown.get_mut(mark.first) {
            *seen = true;
        }
    }
    let fresh = |node: &&Node| node.name().is_some_and(|name| !name.negated) && shown.get(node.first) == Some(&false);
    marks.extend(nodes.iter().filter(fresh).map(|node| Mark {
        first: node.first,
        end: node.end,
        label: Label::Mention,
        questions: Vec::new(),
    }));
}
