//! Every byte of the text gets its piece: understood, talk, or struck.

use super::items::{Item, What};
use super::model::{Chip, ChipKind, Piece, QuestionId, Span, Struck};
use super::signals::Signal;
use super::tokens::Token;

/// What became of some items.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Label {
    /// Amount of a line.
    Amount(usize),
    /// Material of a line, or a mention of one that has its line elsewhere.
    Material(usize),
    /// State or strength of a line.
    State(usize),
    /// A mention that makes no line of its own.
    Mention,
    /// A setting of the job.
    Setting,
    /// Not understood, and why; whether it is an amount or the name that one belongs to.
    Struck(String, bool),
}

/// Items with their label.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Mark {
    pub first: usize,
    pub end: usize,
    pub label: Label,
    pub questions: Vec<QuestionId>,
}

const UNKNOWN_STUFF: &str = "no material of this name is known; if it is a powder or a binder, say which";
const UNKNOWN_WORD: &str = "this word is not known, so it was left out";

/// What one item becomes.
#[derive(Clone, Copy, PartialEq)]
enum Fate {
    Talk,
    Marked(usize),
    Unknown(bool),
}

/// The pieces of the text, in order, without gap or overlap.
pub(super) fn pieces(text: &str, tokens: &[Token], items: &[Item], marks: &[Mark]) -> Vec<Piece> {
    let fates = fates(items, marks);
    let mut out: Vec<Piece> = Vec::new();
    let mut end = 0;
    let mut last: Option<Fate> = None;
    for (item, fate) in items.iter().zip(&fates) {
        let first = tokens.get(item.first).map_or(end, |token| token.from);
        let to = item.end.checked_sub(1).and_then(|at| tokens.get(at)).map_or(first, |token| token.to);
        if *fate != Fate::Talk && last == Some(*fate) {
            // The same amount or the same run of unknown words goes on, over the space between.
            extend(&mut out, to);
        } else {
            talk(&mut out, end, first);
            match fate {
                Fate::Talk => talk(&mut out, first, to),
                Fate::Unknown(stuff) => out.push(Piece::Struck(Struck {
                    span: Span { from: first, to },
                    why: if *stuff { UNKNOWN_STUFF } else { UNKNOWN_WORD }.to_owned(),
                    amount: *stuff,
                })),
                Fate::Marked(mark) => out.extend(marks.get(*mark).map(|mark| piece(mark, Span { from: first, to }))),
            }
        }
        end = to;
        last = Some(*fate);
    }
    talk(&mut out, end, text.len());
    out
}

fn fates(items: &[Item], marks: &[Mark]) -> Vec<Fate> {
    let mut fates = vec![Fate::Talk; items.len()];
    for (index, mark) in marks.iter().enumerate() {
        for fate in fates.iter_mut().take(mark.end).skip(mark.first) {
            if *fate == Fate::Talk {
                *fate = Fate::Marked(index);
            }
        }
    }
    let mut start = 0;
    while start < items.len() {
        let end = items
            .iter()
            .enumerate()
            .skip(start)
            .find(|(at, item)| item.ends_clause() && fates.get(*at) == Some(&Fate::Talk))
            .map_or(items.len(), |(at, _)| at + 1);
        let clause = fates.get(start..end).unwrap_or(&[]);
        let marked = |fate: &Fate| match fate {
            Fate::Marked(mark) => marks.get(*mark).map(|mark| &mark.label),
            _ => None,
        };
        let holds = clause.iter().any(|fate| marked(fate).is_some_and(|label| !matches!(label, Label::Setting | Label::Mention)));
        let orphan = clause.iter().any(|fate| marked(fate).is_some_and(|label| matches!(label, Label::Struck(_, true))));
        if holds {
            let mut by_eye = false;
            for (item, fate) in items.get(start..end).unwrap_or(&[]).iter().zip(fates.get_mut(start..end).unwrap_or_default()) {
                // Behind "until" any word may tell how thick it should be.
                by_eye |= item.has(Signal::ByEye);
                if by_eye {
                    continue;
                }
                if *fate == Fate::Talk && item.what == What::Unknown && !item.muted {
                    *fate = Fate::Unknown(orphan);
                }
            }
        }
        start = end;
    }
    fates
}

fn extend(out: &mut [Piece], to: usize) {
    match out.last_mut() {
        Some(Piece::Chip(chip)) => chip.span.to = to,
        Some(Piece::Struck(struck)) => struck.span.to = to,
        Some(Piece::Talk(span)) => span.to = to,
        None => {}
    }
}

fn talk(out: &mut Vec<Piece>, from: usize, to: usize) {
    if from >= to {
        return;
    }
    match out.last_mut() {
        Some(Piece::Talk(span)) => span.to = to,
        _ => out.push(Piece::Talk(Span { from, to })),
    }
}

fn piece(mark: &Mark, span: Span) -> Piece {
    let chip = |kind: ChipKind, line: Option<usize>| Piece::Chip(Chip { span, kind, questions: mark.questions.clone(), line });
    match &mark.label {
        Label::Amount(line) => chip(ChipKind::Amount, Some(*line)),
        Label::Material(line) => chip(ChipKind::Material, Some(*line)),
        Label::State(line) => chip(ChipKind::State, Some(*line)),
        Label::Mention => chip(ChipKind::Material, None),
        Label::Setting => chip(ChipKind::Setting, None),
        Label::Struck(why, amount) => Piece::Struck(Struck { span, why: why.clone(), amount: *amount }),
    }
}
