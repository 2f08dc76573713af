//! What of a day is behind: events folded into pots, boards and preparations.

use std::collections::BTreeMap;

use crate::{Clock, DayAsked, DayError, Happened, How, Minutes, Mixed, PotAsked, StepId, StepKind};

/// A step that was not ready is not asked for again before this time has gone (model choice: long enough to do something else).
pub(crate) const ASK_AGAIN: Minutes = Minutes::new(10);

/// What is behind.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(crate) struct SoFar {
    pub(crate) pots: Vec<PotSoFar>,
    pub(crate) washed: bool,
    pub(crate) wash_from: Option<Clock>,
    /// The newest event.
    pub(crate) newest: Option<Clock>,
    /// Pot and coat of the newest coat that was laid.
    pub(crate) last_laid: Option<(usize, u8)>,
}

/// What is behind for one pot.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(crate) struct PotSoFar {
    pub(crate) prepared: Vec<Doing>,
    /// By coat; 0 for a pot that is mixed once.
    pub(crate) mixed: BTreeMap<u8, Mixing>,
    pub(crate) boards: Vec<BoardSoFar>,
}

/// A step that is done, or was put off.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) struct Doing {
    pub(crate) done: Option<Clock>,
    pub(crate) not_before: Option<Clock>,
}

/// A pot and how often it had to be mixed again.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) struct Mixing {
    /// How many pots were spoilt before this one.
    pub(crate) again: u32,
    pub(crate) ready: Option<Clock>,
    pub(crate) not_before: Option<Clock>,
    /// When the pot before it was given up.
    pub(crate) spoilt: Option<Clock>,
}

/// A board and its coats.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(crate) struct BoardSoFar {
    /// When each coat was done, first to last.
    pub(crate) ends: Vec<Clock>,
    pub(crate) spoilt: Option<Clock>,
    /// The next coat is not asked for before this.
    pub(crate) not_before: Option<Clock>,
}

impl BoardSoFar {
    pub(crate) fn laid(&self) -> usize {
        self.ends.len()
    }
}

impl PotSoFar {
    pub(crate) fn mixing(&self, coat: Option<u8>) -> Mixing {
        self.mixed.get(&coat.unwrap_or(0)).copied().unwrap_or_default()
    }

    pub(crate) fn board(&self, at: usize) -> BoardSoFar {
        self.boards.get(at).cloned().unwrap_or_default()
    }

    pub(crate) fn preparing(&self, at: usize) -> Doing {
        self.prepared.get(at).copied().unwrap_or_default()
    }
}

/// The name of a step. A pot that had to be mixed again gets the count behind a plus: `mix:A+1`, `mix:A:2+1`.
pub(crate) fn name(asked: &DayAsked, kind: StepKind, again: u32) -> StepId {
    let letter = |pot: usize| asked.pots.get(pot).map_or("", |pot| pot.letter.as_str());
    let more = if again > 0 { format!("+{again}") } else { String::new() };
    StepId(match kind {
        StepKind::Prepare { pot, at } => format!("prepare:{}:{at}", letter(pot)),
        StepKind::Mix { pot, coat: None } => format!("mix:{}{more}", letter(pot)),
        StepKind::Mix { pot, coat: Some(coat) } => format!("mix:{}:{coat}{more}", letter(pot)),
        StepKind::Lay { pot, board, coat } => {
            let number = asked.pots.get(pot).and_then(|pot| pot.boards.get(board)).map_or("", |board| board.number.as_str());
            format!("lay:{number}:{coat}")
        }
        StepKind::WashUp => "wash".to_owned(),
    })
}

/// The mixings of a pot: for which coat, none if for all.
pub(crate) fn mixings(pot: &PotAsked) -> Vec<Option<u8>> {
    match pot.mixed {
        Mixed::Once => vec![None],
        Mixed::EachCoat => (1..=most_coats(pot)).map(Some).collect(),
    }
}

/// Coats of the board with the most.
pub(crate) fn most_coats(pot: &PotAsked) -> u8 {
    pot.boards.iter().map(|board| u8::try_from(board.coats.len()).unwrap_or(u8::MAX)).max().unwrap_or(0)
}

impl SoFar {
    /// Nothing has happened.
    pub(crate) fn nothing(asked: &DayAsked) -> Self {
        let pot = |pot: &PotAsked| PotSoFar {
            prepared: vec![Doing::default(); pot.preparation.len()],
            mixed: BTreeMap::new(),
            boards: vec![BoardSoFar::default(); pot.boards.len()],
        };
        Self { pots: asked.pots.iter().map(pot).collect(), ..Self::default() }
    }

    /// Events in the order in which they were written down; of two about the same step the later counts.
    pub(crate) fn of(asked: &DayAsked, happened: &[Happened]) -> Result<Self, DayError> {
        let mut steps: BTreeMap<StepId, StepKind> = BTreeMap::new();
        for (p, pot) in asked.pots.iter().enumerate() {
            for at in 0..pot.preparation.len() {
                let kind = StepKind::Prepare { pot: p, at };
                steps.entry(name(asked, kind, 0)).or_insert(kind);
            }
            for coat in mixings(pot) {
                let kind = StepKind::Mix { pot: p, coat };
                steps.entry(name(asked, kind, 0)).or_insert(kind);
            }
            for (board, asked_board) in pot.boards.iter().enumerate() {
                for coat in (1..=u8::MAX).take(asked_board.coats.len()) {
                    let kind = StepKind::Lay { pot: p, board, coat };
                    steps.entry(name(asked, kind, 0)).or_insert(kind);
                }
            }
        }
        steps.insert(name(asked, StepKind::WashUp, 0), StepKind::WashUp);

        let mut so_far = Self::nothing(asked);
        for event in happened {
            let no_step = || DayError::NoStep(event.step.clone());
            let kind = steps.get(&event.step).copied().ok_or_else(no_step)?;
            so_far.newest = so_far.newest.max(Some(event.at));
            match kind {
                StepKind::WashUp => match event.how {
                    How::Done => so_far.washed = true,
                    How::NotYet => so_far.wash_from = Some(event.at + ASK_AGAIN),
                    How::Spoilt => {}
                },
                StepKind::Prepare { pot, at } => {
                    if let Some(doing) = so_far.pots.get_mut(pot).and_then(|pot| pot.prepared.get_mut(at)) {
                        *doing = match event.how {
                            How::Done => Doing { done: Some(event.at), not_before: None },
                            How::NotYet => Doing { done: None, not_before: Some(event.at + ASK_AGAIN) },
                            // It is done again.
                            How::Spoilt => Doing::default(),
                        };
                    }
                }
                StepKind::Mix { pot, coat } => {
                    let Some(pot_so_far) = so_far.pots.get_mut(pot) else { continue };
                    let mixing = pot_so_far.mixed.entry(coat.unwrap_or(0)).or_default();
                    match event.how {
                        How::Done => (mixing.ready, mixing.not_before) = (Some(event.at), None),
                        How::NotYet => mixing.not_before = Some(event.at + ASK_AGAIN),
                        How::Spoilt => {
                            *mixing = Mixing { again: mixing.again + 1, ready: None, not_before: None, spoilt: Some(event.at) };
                            let again = name(asked, kind, mixing.again);
                            steps.insert(again, kind);
                        }
                    }
                }
                StepKind::Lay { pot, board, coat } => so_far.lay(asked, (pot, board, coat), event),
            }
        }
        Ok(so_far)
    }

    fn lay(&mut self, asked: &DayAsked, (pot, board, coat): (usize, usize, u8), event: &Happened) {
        let Some(pot_asked) = asked.pots.get(pot) else { return };
        let Some(pot_so_far) = self.pots.get_mut(pot) else { return };
        let Some(so_far) = pot_so_far.boards.get_mut(board) else { return };
        match event.how {
            How::Spoilt => so_far.spoilt = Some(event.at),
            How::NotYet => so_far.not_before = Some(event.at + ASK_AGAIN),
            How::Done => {
                so_far.not_before = None;
                // A coat that was tapped has those below it, whether they were tapped or not.
                while so_far.laid() < usize::from(coat) {
                    so_far.ends.push(event.at);
                }
                if let Some(end) = so_far.ends.get_mut(usize::from(coat).saturating_sub(1)) {
                    *end = event.at;
                }
                // Nothing is laid from a pot that is not there: if it was not tapped, it was ready when this coat was begun.
                let took = pot_asked.boards.get(board).and_then(|board| board.coats.get(usize::from(coat).saturating_sub(1)));
                let begun = event.at - took.copied().unwrap_or_default();
                let of = if pot_asked.mixed == Mixed::Once { 0 } else { coat };
                let mixing = pot_so_far.mixed.entry(of).or_default();
                if mixing.ready.is_none() {
                    (mixing.ready, mixing.not_before) = (Some(mixing.spoilt.map_or(begun, |spoilt| begun.max(spoilt))), None);
                }
                self.last_laid = Some((pot, coat));
            }
        }
    }
}
