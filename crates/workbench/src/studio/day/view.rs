//! A day in words: what when, what waits, what may not slip, and ways out.

use making::{Clock, DayError, Found, Minutes, Mixed, StepKind, Way, WayOut};
use measure::Grams;
use notebook::{Day, Notebook};
use show::{
    DayBoard, DayRound, DayStep, DayStrip, DayView, DayWay, ShoppingView, StripBlock, StripLife, StripPot, StripWait, capital, number,
};
use support::WaitFor;

use super::super::StudioError;
use super::happened::made_for;
use super::outline::{Block, Outline};
use super::wish::TypedWish;
use super::words::{clock_span, clock_words, grams, lasting, lasting_span, mixing_words, ordinal, spoken};
use crate::sheets::paper_day;
use crate::shopping::{PotNeed, Sharing};
use crate::{Workbench, and};

impl Workbench {
    /// A day of a closed plan, worked out.
    ///
    /// # Errors
    /// No such trial or day; its plan is not closed; a recipe that is not told; hours that can't be read.
    pub fn plan_day(&self, state: &Notebook, trial: &str, day: u32, wish: &TypedWish, today: Day) -> Result<DayView, StudioError> {
        let outline = self.outline(state, trial, day, wish)?;
        let mut view = self.day_view(state, &outline, today);
        let laid = |board: &str| !state.coats_of(board).is_empty();
        if outline.boards.iter().any(|(number, lies)| {
            outline.asked.pots.iter().flat_map(|pot| &pot.boards).any(|board| board.number == *number) && laid(&lies.id)
        }) {
            view.warnings.insert(
                0,
                "Some coats of this day are laid already; what stands here is the whole day. Begin it, and only the rest is asked for."
                    .into(),
            );
        }
        Ok(view)
    }

    /// Whether a day of a plan is still to be begun in this studio.
    pub fn may_begin(&self, state: &Notebook, trial: &str, day: u32) -> bool {
        state.sitting_of(trial, day).is_none_or(|sitting| sitting.record.ended.is_some())
    }

    pub(super) fn day_view(&self, state: &Notebook, outline: &Outline, today: Day) -> DayView {
        let blocks = outline.blocks();
        let (before, steps): (Vec<&Block<'_>>, Vec<&Block<'_>>) = blocks.iter().partition(|block| block.from() < Clock::new(0));
        let ways = making::ways_out(&outline.asked);
        let mut told: Vec<String> = Vec::new();
        let mut said = |blocks: &[&Block<'_>]| {
            let mut steps: Vec<DayStep> = blocks.iter().map(|block| day_step(outline, block)).collect();
            // A caution stands at its step; the second time it points to the first, or nobody reads any of them.
            for step in steps.iter_mut().filter(|step| !step.caution.is_empty()) {
                if told.contains(&step.caution) {
                    step.caution = "The same caution as above.".into();
                } else {
                    told.push(step.caution.clone());
                }
            }
            steps
        };
        let (before, steps) = (said(&before), said(&steps));
        let mut facts = outline.wish.changes();
        facts.extend(end_words(outline));
        DayView {
            title: outline.title.clone(),
            what: outline.what.clone(),
            next: next_words(outline, &blocks, &ways),
            fits: outline.trouble.is_none(),
            can_begin: outline.asked.pots.iter().any(|pot| !pot.boards.is_empty())
                && matches!(outline.trouble, None | Some(DayError::TooLong { .. } | DayError::PotsTooOld { .. })),
            has_sheets: outline.day.is_some() && outline.asked.pots.iter().any(|pot| !pot.boards.is_empty()),
            hours: [clock_words(outline.wish.hours.begins), clock_words(outline.wish.hours.ends)],
            facts,
            before,
            steps,
            chain: chain_words(outline, &blocks),
            ways: ways.iter().filter_map(|way| way_words(outline, way)).collect(),
            warnings: self.day_jar_warnings(state, outline, today).into_iter().chain(self.day_warnings(outline)).collect(),
            notes: self.day_notes(outline),
            rounds: self.day_rounds(outline, &blocks),
            strip: strip(outline, &blocks),
            shopping: self.day_shopping(state, outline, today),
        }
    }

    fn day_rounds(&self, outline: &Outline, blocks: &[Block<'_>]) -> Vec<DayRound> {
        let mut out = Vec::new();
        for block in blocks {
            let Some(StepKind::Lay { pot, coat, .. }) = block.first().map(|step| step.kind) else { continue };
            let Some(asked) = outline.asked.pots.get(pot) else { continue };
            let boards = block.steps.iter().filter_map(|step| {
                let StepKind::Lay { board, .. } = step.kind else { return None };
                let number = outline.number(pot, board);
                let lies = outline.boards.get(number).cloned().unwrap_or_default();
                let aim = outline.aim(pot, number, coat).map_or_else(String::new, |aim| self.aim_span(aim));
                Some(DayBoard { number: number.to_owned(), id: lies.id, place: lies.place, aim })
            });
            out.push(DayRound {
                pot: asked.letter.clone(),
                coat: ordinal(u32::from(coat)),
                time: clock_span(block.from(), block.to()),
                pot_time: outline.ready(pot, coat).map_or_else(String::new, |ready| {
                    let left = making::time_left(asked.life, ready, block.from());
                    format!(
                        "Pot {} is then {} old and may be used for another {}.",
                        asked.letter,
                        lasting(making::pot_age(ready, block.from())),
                        lasting_span(left.low, left.high)
                    )
                }),
                boards: boards.collect(),
            });
        }
        out
    }

    /// "10.0 g (9.0 to 11.0)".
    fn aim_span(&self, aim: f64) -> String {
        let beside = self.laying.tolerance.value() * aim;
        let places = usize::from(aim < 100.0);
        format!("{} ({} to {})", grams(aim), number(aim - beside, places), number(aim + beside, places))
    }

    fn day_warnings(&self, outline: &Outline) -> Vec<String> {
        let mut out = Vec::new();
        if let Some(day) = &outline.day {
            let slow = day.ends_late - day.ends;
            let mut late: Vec<&str> = Vec::new();
            for (at, pot) in outline.asked.pots.iter().enumerate() {
                let laid = day.steps.iter().rev().find(|step| matches!(step.kind, StepKind::Lay { pot, .. } if pot == at));
                let Some((laid, coat)) = laid.and_then(|step| match step.kind {
                    StepKind::Lay { coat, .. } => Some((step.to, coat)),
                    _ => None,
                }) else {
                    continue;
                };
                let Some(ready) = outline.ready(at, coat) else { continue };
                if slow > Minutes::ZERO && laid + slow > ready + pot.life.low {
                    late.push(pot.letter.as_str());
                }
            }
            if !late.is_empty() {
                out.push(format!(
                    "If coats dry slowly, pot{} {} may be past {} time before the last coat: keep powder and binder for a small fresh pot to the same recipe.",
                    if late.len() == 1 { "" } else { "s" },
                    and(&late),
                    if late.len() == 1 { "its" } else { "their" }
                ));
            }
        }
        if let Some((width, height)) = outline.sides {
            let count = outline.count();
            let table = self.laying.table(u32::try_from(count).unwrap_or(u32::MAX), width, height);
            out.push(format!(
                "{} of {} \u{d7} {}\u{a0}cm lie side by side on about {}\u{a0}m\u{b2} of table, with {}\u{a0}cm of room beside each.",
                if count == 1 { "1 board".to_owned() } else { format!("{count} boards") },
                show::plain(width / 10.0),
                show::plain(height / 10.0),
                show::plain(table.value()),
                show::plain(self.laying.gap_mm / 10.0)
            ));
        }
        out
    }

    /// What the day should know of the jars of binder that its recipes name.
    fn day_jar_warnings(&self, state: &Notebook, outline: &Outline, today: Day) -> Vec<String> {
        let wanted = outline.asked.pots.iter().enumerate().filter(|(_, pot)| !pot.boards.is_empty());
        let pots: Vec<(&str, Option<f64>)> = wanted
            .filter_map(|(at, _)| {
                let times = outline.recipe(at).zip(self.pots_wet(outline, at)).and_then(|(worked, wet)| self.pot_times(worked, wet));
                outline.info(at).map(|info| (info.told.as_str(), times))
            })
            .collect();
        self.jar_warnings(state, &pots, outline.wish.on.unwrap_or(today))
    }

    fn day_notes(&self, outline: &Outline) -> Vec<String> {
        let mut out = Vec::new();
        if outline.sides.is_none() {
            out.push(
                "The size of the boards is not written down, so no grams can be told; times are those of boards of 20 \u{d7} 25\u{a0}cm."
                    .to_owned(),
            );
        }
        out.push("Waits are those of a usual room; when the day is under way and its air was read, they are worked out anew.".into());
        let mut families = Vec::new();
        for pot in &outline.pots {
            if families.contains(&pot.family) {
                continue;
            }
            families.push(pot.family);
            let letters: Vec<&str> =
                outline.pots.iter().filter(|other| other.family == pot.family).map(|other| other.letter.as_str()).collect();
            let wait = self.waits.wait(pot.family, WaitFor::RecoatOpens);
            out.push(format!(
                "{} {}, next coat: {} ({}).",
                if letters.len() == 1 { "Pot" } else { "Pots" },
                and(&letters),
                wait.rule.trim_end_matches('.'),
                wait.source
            ));
        }
        out
    }

    fn day_shopping(&self, state: &Notebook, outline: &Outline, today: Day) -> ShoppingView {
        let needs: Vec<PotNeed<'_>> = outline
            .asked
            .pots
            .iter()
            .enumerate()
            .filter(|(_, pot)| !pot.boards.is_empty())
            .map(|(at, pot)| PotNeed {
                name: format!("Pot {}", pot.letter),
                worked: outline.recipe(at),
                wet: self.pots_wet(outline, at),
                told: outline.pots.get(at).map_or("", |info| info.told.as_str()),
            })
            .collect();
        self.shopping(state, &needs, Sharing { boards: outline.count(), face: outline.face() }, today)
    }

    /// What all pots of a letter weigh together.
    fn pots_wet(&self, outline: &Outline, at: usize) -> Option<Grams> {
        let pot = outline.asked.pots.get(at)?;
        let made: Vec<Option<u8>> = match pot.mixed {
            Mixed::Once => vec![None],
            Mixed::EachCoat => {
                let most = pot.boards.iter().map(|board| board.coats.len()).max().unwrap_or(0);
                (1..=u8::try_from(most).unwrap_or(u8::MAX)).map(Some).collect()
            }
        };
        made.into_iter().map(|coat| Some(self.pot_wet(outline.recipe(at), outline.taken(at, coat)?))).sum()
    }
}

/// A span of the clock, with the date of another day where the calendar's day is known.
fn when(outline: &Outline, from: Clock, to: Clock) -> String {
    let (days, _) = from.parts();
    let span = if to.parts().0 == days && days != 0 {
        let within = |clock: Clock| clock_words(Clock::new(clock.parts().1));
        format!("{} to {}", within(from), clock_words(to))
    } else {
        clock_span(from, to)
    };
    match outline.wish.on.filter(|_| days != 0) {
        Some(on) => format!("{span} ({})", paper_day(Day::from_number(on.number() + i64::from(days))).written()),
        None => span,
    }
}

/// A block of steps in words.
fn day_step(outline: &Outline, block: &Block<'_>) -> DayStep {
    let Some(first) = block.first() else { return DayStep::default() };
    let pot = outline.pot(first.kind);
    let (waits, caution) = match (first.kind, pot) {
        (StepKind::Prepare { at, .. }, Some((_, pot))) => {
            let preparing = pot.preparation.get(at);
            let (_, how, caution) = super::habits::preparing_words(preparing.map_or("", |one| one.key.as_str()));
            let stands = preparing.filter(|one| one.stands.high.count() > 0).map(|one| {
                let keeps = one.keeps.map_or_else(String::new, |keeps| format!(", at most {}", lasting(keeps)));
                format!("Then it stands for {}{keeps}.", lasting_span(one.stands.low, one.stands.high))
            });
            ([how, stands.unwrap_or_default()].into_iter().filter(|text| !text.is_empty()).collect::<Vec<_>>().join(" "), caution)
        }
        (StepKind::Mix { .. }, Some((at, _))) => outline.info(at).map_or_else(Default::default, mixing_words),
        (StepKind::Lay { coat, .. }, Some((_, pot))) if coat > 1 => {
            let opens = pot.recoat.opens;
            (
                format!(
                    "Not before the {} coat lets it: {} after it was laid.",
                    ordinal(u32::from(coat) - 1),
                    lasting_span(opens.low, opens.high)
                ),
                String::new(),
            )
        }
        (StepKind::WashUp, _) => (
            "Let what is left in the pots settle and dry, and bin it by local rules; nothing white goes down the sink.".to_owned(),
            "No bleach near anything sour or near ammonia: it gives poisonous gas. Follow the safety data sheet and local rules."
                .to_owned(),
        ),
        _ => Default::default(),
    };
    DayStep {
        time: when(outline, block.from(), block.to()),
        what: what_words(outline, block),
        hands: lasting(block.hands()),
        waits,
        latest: block.closes().map_or_else(String::new, |closes| format!("At {} at the latest.", clock_words(closes))),
        caution,
    }
}

/// What a block of steps is.
pub(super) fn what_words(outline: &Outline, block: &Block<'_>) -> String {
    let Some(first) = block.first() else { return String::new() };
    match (first.kind, outline.pot(first.kind)) {
        (StepKind::Prepare { at, .. }, Some((_, pot))) => {
            let key = pot.preparation.get(at).map_or("", |one| one.key.as_str());
            let letters = made_for(&outline.asked, key, &pot.letter);
            let pots = if letters.len() == 1 { "pot" } else { "pots" };
            format!("{}, for {pots} {}", super::habits::preparing_words(key).0, and(&letters))
        }
        (StepKind::Mix { coat, .. }, Some((at, pot))) => match coat {
            Some(coat) => format!("Mix a small pot {} for the {} coat", pot.letter, ordinal(u32::from(coat))),
            None => format!("Mix pot {}: {}", pot.letter, outline.info(at).map_or("", |info| info.recipe.as_str())),
        },
        (StepKind::Lay { coat, .. }, Some((at, pot))) => {
            let numbers: Vec<&str> = block
                .steps
                .iter()
                .filter_map(|step| if let StepKind::Lay { board, .. } = step.kind { Some(spoken(outline.number(at, board))) } else { None })
                .collect();
            let boards = if numbers.len() == 1 { "board" } else { "boards" };
            format!("{} coat from pot {} on {boards} {}", capital(&ordinal(u32::from(coat))), pot.letter, and(&numbers))
        }
        _ => "Wash up brushes, pots and cloths".into(),
    }
}

fn end_words(outline: &Outline) -> Vec<String> {
    let Some(day) = &outline.day else { return Vec::new() };
    let slow =
        if day.ends_late > day.ends { format!("; if every coat dries slowly, by {}", clock_words(day.ends_late)) } else { String::new() };
    let first = day.steps.iter().map(|step| step.from).filter(|from| *from >= Clock::new(0)).min().unwrap_or(outline.asked.begins);
    let early: Minutes = day.steps.iter().filter(|step| step.from < Clock::new(0)).map(|step| step.to - step.from).sum();
    let before = if early > Minutes::ZERO { format!(", {} of it before the day", lasting(early)) } else { String::new() };
    vec![
        format!("All is done by about {}{slow}.", clock_words(day.ends)),
        format!(
            "Hands are busy for {} in all{before}; from the first step of the day to the last it is {}.",
            lasting(day.hands_on),
            lasting(day.ends - first)
        ),
        match day.found {
            Found::Best => "No other order ends earlier.".into(),
            Found::Good => "This is the best of all orders that were looked at; not all were.".into(),
        },
    ]
}

fn next_words(outline: &Outline, blocks: &[Block<'_>], ways: &[WayOut]) -> String {
    if let Some(trouble) = &outline.trouble {
        let why = match trouble {
            DayError::TooLong { by } => format!("it lasts {} longer than there is time", lasting(Minutes::new(*by))),
            other => other.to_string(),
        };
        let out = ways.iter().find_map(|way| way_words(outline, way));
        let out = out.map_or_else(String::new, |way| format!(" Cheapest way out: {}.", uncapital(&way.say)));
        return format!("It does not fit: {}.{out}", why.trim_end_matches('.'));
    }
    blocks.first().map_or_else(
        || "There is nothing to lay on this day.".into(),
        |block| format!("Begin at {}. {}.", clock_words(block.from()), what_words(outline, block)),
    )
}

fn uncapital(words: &str) -> String {
    let mut chars = words.chars();
    chars.next().map_or_else(String::new, |first| first.to_lowercase().chain(chars).collect())
}

fn chain_words(outline: &Outline, blocks: &[Block<'_>]) -> Vec<String> {
    let Some(day) = &outline.day else { return Vec::new() };
    blocks
        .iter()
        .filter(|block| block.steps.iter().any(|step| day.chain.contains(&step.id)))
        .map(|block| format!("{}: {}", clock_words(block.from()), what_words(outline, block)))
        .collect()
}

fn way_words(outline: &Outline, out: &WayOut) -> Option<DayWay> {
    let wish = outline.wish.with(&outline.asked, &out.way)?;
    let letters = |pots: &[usize]| {
        let letters: Vec<&str> = pots.iter().filter_map(|at| outline.asked.pots.get(*at)).map(|pot| pot.letter.as_str()).collect();
        format!("pot{} {}", if letters.len() == 1 { "" } else { "s" }, and(&letters))
    };
    let say = match &out.way {
        Way::Earlier { .. } => format!("Begin at {}", clock_words(wish.hours.begins)),
        Way::Later { .. } => format!("Go on until {}", clock_words(wish.hours.ends)),
        Way::SmallerPots { pots, .. } => format!("Mix {} small and anew for each coat", letters(pots)),
        Way::TwoDays { first } => {
            let others: Vec<usize> = (0..outline.asked.pots.len())
                .filter(|at| !first.contains(at) && outline.asked.pots.get(*at).is_some_and(|pot| !pot.boards.is_empty()))
                .collect();
            format!("Lay {} on another day", letters(&others))
        }
        Way::FewerBoards { left_out } => {
            let numbers: Vec<&str> = left_out.iter().map(|number| spoken(number)).collect();
            format!("Leave out board{} {}", if numbers.len() == 1 { "" } else { "s" }, and(&numbers))
        }
    };
    let hands = match out.more_hands.count() {
        0 => "No more work".to_owned(),
        more if more > 0 => format!("{} more work", lasting(out.more_hands)),
        less => format!("{} less work", lasting(Minutes::new(less.saturating_neg()))),
    };
    Some(DayWay { say, costs: format!("{hands}; all is then done by {}.", clock_words(out.ends)), wish: wish.fields() })
}

/// The picture of the day itself; what lies before it stands in words.
fn strip(outline: &Outline, blocks: &[Block<'_>]) -> Option<DayStrip> {
    let day = outline.day.as_ref()?;
    let of_day: Vec<&Block<'_>> = blocks.iter().filter(|block| block.from() >= Clock::new(0)).collect();
    let from = of_day.first()?.from().min(outline.asked.begins).count();
    let block = |one: &Block<'_>, label: String, mark: String| StripBlock { from: one.from().count(), to: one.to().count(), label, mark };
    let marked = |one: &Block<'_>| match (one.first().map(|step| step.kind), one.first().and_then(|step| outline.pot(step.kind))) {
        (Some(StepKind::Lay { coat, .. }), Some((_, pot))) => {
            block(one, format!("{} coat, pot {}", ordinal(u32::from(coat)), pot.letter), format!("{}{coat}", pot.letter))
        }
        (Some(StepKind::Mix { .. }), Some((_, pot))) => block(one, format!("mix pot {}", pot.letter), pot.letter.clone()),
        (Some(StepKind::Prepare { .. }), Some((_, pot))) => {
            block(one, format!("make ready, pot {}", pot.letter), pot.letter.to_lowercase())
        }
        _ => block(one, "wash up".into(), "w".into()),
    };
    let pots = outline.asked.pots.iter().enumerate().filter(|(_, pot)| !pot.boards.is_empty()).map(|(at, pot)| {
        let rounds: Vec<(&Block<'_>, u8)> = of_day
            .iter()
            .filter_map(|one| match one.first()?.kind {
                StepKind::Lay { pot, coat, .. } if pot == at => Some((*one, coat)),
                _ => None,
            })
            .collect();
        let last = rounds.iter().map(|(_, coat)| *coat).max().unwrap_or(0);
        let mixed = day.steps.iter().filter(|step| matches!(step.kind, StepKind::Mix { pot, .. } if pot == at)).map(|step| step.to);
        StripPot {
            letter: pot.letter.clone(),
            words: outline.info(at).map_or_else(String::new, |info| info.recipe.clone()),
            life: mixed
                .map(|ready| StripLife { from: ready.count(), low: (ready + pot.life.low).count(), high: (ready + pot.life.high).count() })
                .collect(),
            rounds: rounds
                .iter()
                .map(|(one, coat)| block(one, format!("{} coat", ordinal(u32::from(*coat))), format!("{}{coat}", pot.letter)))
                .collect(),
            waits: rounds
                .iter()
                .filter(|(_, coat)| *coat < last)
                .map(|(one, _)| StripWait {
                    from: one.from().count(),
                    low: (one.from() + pot.recoat.opens.low).count(),
                    high: (one.to() + pot.recoat.opens.high).count(),
                })
                .collect(),
        }
    });
    Some(DayStrip {
        from,
        to: day.ends.max(outline.asked.ends.min(day.ends_late)).count(),
        hands: of_day.iter().map(|one| marked(one)).collect(),
        pots: pots.collect(),
        now: None,
    })
}
