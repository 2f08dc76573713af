//! A day worked out, ready to be put into words: which steps belong together, when each pot is ready, what each board gets.

use std::collections::BTreeMap;

use making::{Clock, DayAsked, DayError, DayWorked, Minutes, PotAsked, Step, StepKind};
use measure::{Grams, SquareMetres};
use notebook::Notebook;

use super::super::StudioError;
use super::super::trial::trial_of;
use super::asked::PotInfo;
use super::happened::shown_as;
use super::portion::taken;
use super::wish::{TypedWish, Wish};
use crate::Workbench;
use crate::verdict::{VerdictRequest, Worked};

/// A board as the plan has it.
#[derive(Debug, Clone, Default)]
pub(super) struct Lies {
    pub(super) id: String,
    pub(super) place: u32,
    pub(super) strips: Vec<u8>,
}

/// A day with everything around it.
pub(super) struct Outline {
    pub(super) title: String,
    pub(super) what: String,
    pub(super) wish: Wish,
    /// The day as the plan has it, with the wished hours, and with the whole wish.
    pub(super) asked: DayAsked,
    pub(super) pots: Vec<PotInfo>,
    pub(super) boards: BTreeMap<String, Lies>,
    /// Sides of a board, millimetres, where they are told.
    pub(super) sides: Option<(f64, f64)>,
    /// Recipes worked out, in the order of the pots.
    pub(super) worked: Vec<Option<Worked>>,
    /// The day in order; where it does not fit, as long as it lasts. None where it can't be laid out.
    pub(super) day: Option<DayWorked>,
    /// Why it does not fit.
    pub(super) trouble: Option<DayError>,
}

/// Steps that are done in one go.
pub(super) struct Block<'a> {
    pub(super) steps: Vec<&'a Step>,
}

impl Workbench {
    /// The day of a plan with a painter's wish.
    pub(super) fn outline(&self, state: &Notebook, trial: &str, day: u32, wish: &TypedWish) -> Result<Outline, StudioError> {
        let wish = wish.read()?;
        let found = self.day_asked(state, trial, day, wish.hours)?;
        let record = &trial_of(state, trial)?.record;
        let boards = state.boards_of(trial).into_iter().map(|board| {
            let planned = &board.record.planned;
            (planned.number.clone(), Lies { id: board.subject.clone(), place: planned.place, strips: planned.strips.clone() })
        });
        let outline = Outline {
            title: format!("Day {day}: what when?"),
            what: record.question.clone(),
            asked: wish.on_day(&found.asked)?,
            wish,
            boards: boards.collect(),
            sides: record.width_mm.zip(record.height_mm),
            worked: Vec::new(),
            pots: found.pots,
            day: None,
            trouble: None,
        };
        Ok(self.laid_out(state, outline))
    }

    /// Works the day and its recipes out.
    pub(super) fn laid_out(&self, state: &Notebook, mut outline: Outline) -> Outline {
        outline.worked = outline
            .pots
            .iter()
            .map(|pot| {
                self.work(&VerdictRequest {
                    told: pot.told.clone(),
                    own: self.own_values_for(state, &pot.told),
                    ..VerdictRequest::default()
                })
                .ok()
            })
            .collect();
        match making::work(&outline.asked) {
            Ok(day) => outline.day = Some(day),
            Err(trouble) => {
                if let DayError::TooLong { by } = trouble {
                    let longer = making::apply(&outline.asked, &making::Way::Later { by: Minutes::new(by) });
                    outline.day = making::work(&longer).ok();
                }
                outline.trouble = Some(trouble);
            }
        }
        outline
    }
}

impl Outline {
    pub(super) fn pot(&self, kind: StepKind) -> Option<(usize, &PotAsked)> {
        let at = match kind {
            StepKind::Prepare { pot, .. } | StepKind::Mix { pot, .. } | StepKind::Lay { pot, .. } => pot,
            StepKind::WashUp => return None,
        };
        Some((at, self.asked.pots.get(at)?))
    }

    pub(super) fn info(&self, at: usize) -> Option<&PotInfo> {
        let letter = &self.asked.pots.get(at)?.letter;
        self.pots.iter().find(|pot| pot.letter == *letter)
    }

    pub(super) fn recipe(&self, at: usize) -> Option<&Worked> {
        let letter = &self.asked.pots.get(at)?.letter;
        let at = self.pots.iter().position(|pot| pot.letter == *letter)?;
        self.worked.get(at)?.as_ref()
    }

    /// Number of a board of a pot.
    pub(super) fn number(&self, pot: usize, board: usize) -> &str {
        self.asked.pots.get(pot).and_then(|pot| pot.boards.get(board)).map_or("", |board| board.number.as_str())
    }

    /// Grams to be laid.
    pub(super) fn aim(&self, pot: usize, number: &str, coat: u8) -> Option<f64> {
        let (_, aims) = self.info(pot)?.boards.iter().find(|(known, _)| known == number)?;
        aims.get(usize::from(coat).checked_sub(1)?).copied().flatten()
    }

    /// What one coat, or all of them, take on all boards of a pot, without loss; none where the size of a board is not known.
    pub(super) fn taken(&self, pot: usize, coat: Option<u8>) -> Option<Grams> {
        taken(self.asked.pots.get(pot)?, self.info(pot)?, coat)
    }

    /// Boards that are laid on this day.
    pub(super) fn count(&self) -> usize {
        self.asked.pots.iter().map(|pot| pot.boards.len()).sum()
    }

    /// All their faces.
    pub(super) fn face(&self) -> Option<SquareMetres> {
        let (width, height) = self.sides?;
        Some(SquareMetres::new(width * height / 1e6 * self.count() as f64))
    }

    /// Steps in the order of doing; the coats of one round stand together.
    pub(super) fn blocks(&self) -> Vec<Block<'_>> {
        let mut out: Vec<Block<'_>> = Vec::new();
        // What an earlier pot of the day has made takes no hands again.
        let own = self.day.iter().flat_map(|day| &day.steps).filter(|step| shown_as(&self.asked, step.kind).is_none());
        for step in own {
            match out.last_mut() {
                Some(block) if block.goes_on_with(step.kind) => block.steps.push(step),
                _ => out.push(Block { steps: vec![step] }),
            }
        }
        out
    }

    /// When a pot is ready for a coat.
    pub(super) fn ready(&self, pot: usize, coat: u8) -> Option<Clock> {
        let steps = &self.day.as_ref()?.steps;
        let mixed = steps.iter().rev().find(|step| match step.kind {
            StepKind::Mix { pot: of, coat: None } => of == pot,
            StepKind::Mix { pot: of, coat: Some(made) } => of == pot && made <= coat,
            _ => false,
        })?;
        Some(mixed.to)
    }
}

impl<'a> Block<'a> {
    fn goes_on_with(&self, kind: StepKind) -> bool {
        match (self.steps.last().map(|step| step.kind), kind) {
            (Some(StepKind::Lay { pot, coat, .. }), StepKind::Lay { pot: other, coat: next, .. }) => pot == other && coat == next,
            _ => false,
        }
    }

    /// Its first step; a block has at least one.
    pub(super) fn first(&self) -> Option<&'a Step> {
        self.steps.first().copied()
    }

    pub(super) fn from(&self) -> Clock {
        self.first().map_or_else(Clock::default, |step| step.from)
    }

    pub(super) fn to(&self) -> Clock {
        self.steps.last().map_or_else(Clock::default, |step| step.to)
    }

    pub(super) fn hands(&self) -> Minutes {
        self.steps.iter().map(|step| step.to - step.from).sum()
    }

    /// By when the first of its steps that closes must be done.
    pub(super) fn closes(&self) -> Option<Clock> {
        self.steps.iter().filter_map(|step| step.closes).min()
    }
}
