//! What is to be done now.

use making::{Clock, DayAsked, DayWorked, Happened, Look, Risk, Step, StepId, StepKind};
use notebook::{Air, Kept, Moment, Notebook, Sitting, TapKind, Trial};
use show::{DayNow, NowBoard, NowDone, NowPot, NowStep, NowView, capital};

use super::super::trial::trial_of;
use super::super::{StudioError, one_line};
use super::asked::{AskedDay, PotInfo, air_now};
use super::begin::under_way;
use super::happened::{boards_of, happened, made_for, mixed_as, shown_as, standing};
use super::tap::direction;
use super::words::{WASHING, lasting, lasting_span, mixing_words, ordinal, span_from, spoken, time_from};
use super::{MILLI, clock, milliseconds};
use crate::Workbench;

/// Taps that can be taken back from the page.
const LAST: usize = 10;

/// A day under way with everything that was worked out of it.
struct Live<'a> {
    state: &'a Notebook,
    kept: &'a Kept<Sitting>,
    day: AskedDay,
    happened: Vec<Happened>,
    rest: DayWorked,
    now: Clock,
    at: Moment,
    trial: &'a Kept<Trial>,
    air: Option<Air>,
}

impl Workbench {
    /// What is to be done at this moment: the day under way, or what dries, spoils and is due.
    pub fn now(&self, state: &Notebook, at: Moment) -> NowView {
        let Some(kept) = under_way(state) else { return NowView::Quiet(self.quiet(state, at, None)) };
        match self.live_day(state, kept, at) {
            Ok(live) => NowView::Day(Box::new(self.day_now(&live, at))),
            // A day that can't be read does not hide everything else.
            Err(why) => NowView::Quiet(self.quiet(state, at, Some(why.to_string()))),
        }
    }

    fn live_day<'a>(&self, state: &'a Notebook, kept: &'a Kept<Sitting>, at: Moment) -> Result<Live<'a>, StudioError> {
        let day = self.live(state, kept)?;
        let happened = happened(state, kept, &day.asked);
        let now = clock(kept.record.midnight, at);
        let rest = making::rework(&day.asked, &happened, now).map_err(StudioError::typed)?;
        let trial = trial_of(state, &kept.record.trial)?;
        Ok(Live { state, kept, day, happened, rest, now, at, trial, air: air_now(state, &kept.subject) })
    }

    fn day_now(&self, live: &Live<'_>, at: Moment) -> DayNow {
        let sitting = &live.kept.record;
        let finished = live.rest.steps.is_empty();
        DayNow {
            sitting: live.kept.subject.clone(),
            trial: sitting.trial.clone(),
            question: live.trial.record.question.clone(),
            day: sitting.day,
            seen: live.state.n(),
            desk_ms: at.seconds * MILLI,
            offset_minutes: at.offset_minutes,
            steps: own_steps(live).map(|step| self.step(live, step)).collect(),
            pots: pots(self, live),
            boards: self.lying(live),
            risks: risks(self, live),
            air: air_words(live),
            done: Self::lately(live),
            ends: if finished {
                "Everything is laid and washed up.".into()
            } else if live.rest.ends_late > live.rest.ends {
                format!(
                    "All done by about {}; if every coat dries slowly, {}.",
                    time_from(live.rest.ends, live.now),
                    time_from(live.rest.ends_late, live.now)
                )
            } else {
                format!("All done by about {}.", time_from(live.rest.ends, live.now))
            },
            finished,
        }
    }

    fn step(&self, live: &Live<'_>, step: &Step) -> NowStep {
        let zero = live.kept.record.midnight;
        let pot = pot_of(&live.day, step.kind);
        let said = self.said(live, step, pot);
        // What is made once for several pots stands under the first of them.
        let shared = step.after.as_ref().and_then(|after| live.rest.steps.iter().find(|step| step.id == *after));
        let shared = shared.and_then(|step| shown_as(&live.day.asked, step.kind)).map(StepId);
        let after = shared.as_ref().or(step.after.as_ref());
        let done_at = after.and_then(|after| live.happened.iter().rev().find(|event| event.step == *after)).map(|event| event.at);
        let open = after.is_some_and(|after| live.rest.steps.iter().any(|step| step.id == *after));
        let opens = done_at.map(|done| [step.wait.low, step.wait.usual, step.wait.high].map(|wait| milliseconds(zero, done + wait)));
        NowStep {
            id: step.id.0.clone(),
            kind: match step.kind {
                StepKind::Prepare { .. } => "prepare",
                StepKind::Mix { .. } => "mix",
                StepKind::Lay { .. } => "lay",
                StepKind::WashUp => "wash",
            },
            say: said.say,
            more: said.more,
            how: said.how,
            caution: said.caution,
            pot: pot.map_or_else(String::new, |pot| pot.letter.clone()),
            board: said.board,
            coat: match step.kind {
                StepKind::Lay { coat, .. } => Some(coat),
                _ => None,
            },
            aim_g: said.aim.map(|aim| show::number(aim, usize::from(aim < 100.0))),
            from_ms: milliseconds(zero, step.from),
            from: time_from(step.from, live.now),
            to_ms: milliseconds(zero, step.to),
            after: after.filter(|_| open).map(|after| after.0.clone()),
            wait_min: [step.wait.low, step.wait.usual, step.wait.high].map(making::Minutes::count),
            waits_for: after.map_or_else(String::new, |after| resting(&live.day.asked, &after.0)),
            opens_ms: opens,
            closes_ms: step.closes.map(|closes| milliseconds(zero, closes)),
            may_spoil: matches!(step.kind, StepKind::Lay { .. } | StepKind::Mix { .. }),
        }
    }

    /// A step in words.
    fn said(&self, live: &Live<'_>, step: &Step, pot: Option<&PotInfo>) -> Said {
        match (step.kind, pot) {
            (StepKind::Prepare { at, .. }, Some(info)) => {
                let key = pot_asked(&live.day.asked, step.kind).and_then(|pot| pot.preparation.get(at)).map_or("", |one| one.key.as_str());
                let (say, how, caution) = super::habits::preparing_words(key);
                let letters = made_for(&live.day.asked, key, &info.letter);
                let more = match letters.as_slice() {
                    [_] => format!("for pot {}: {}", info.letter, one_line(&info.weigh)),
                    several if key.ends_with("/curdle") => {
                        format!("for pots {}; as much milk and acid as the day's shopping list says", crate::and(several))
                    }
                    several => format!("for pots {}", crate::and(several)),
                };
                Said { say, more, how, caution, ..Said::default() }
            }
            (StepKind::Mix { coat, .. }, Some(info)) => {
                let (how, caution) = mixing_words(info);
                Said {
                    say: match coat {
                        Some(coat) if coat > 1 => format!("Mix pot {} anew, for the {} coat", info.letter, ordinal(u32::from(coat))),
                        _ if step.id.0.contains('+') => format!("Mix pot {} once more", info.letter),
                        _ => format!("Mix pot {}: {}", info.letter, info.recipe),
                    },
                    more: one_line(&info.weigh),
                    how,
                    caution,
                    ..Said::default()
                }
            }
            (StepKind::Lay { board, coat, .. }, Some(info)) => {
                let asked = info.boards.get(board);
                let number = asked.map_or("", |(number, _)| number.as_str());
                let aim = asked.and_then(|(_, aims)| aims.get(usize::from(coat).checked_sub(1)?).copied().flatten());
                let strips = boards_of(live.state, &live.kept.record).get(number).map(|board| board.record.planned.strips.clone());
                let covered = strips.filter(|strips| !strips.is_empty()).map(|strips| {
                    let taken = strips.iter().filter(|strip| **strip >= coat).count();
                    format!(" The strips that get {coat} coats or more: {taken} of {}.", strips.len())
                });
                Said {
                    say: format!("Board {}, {} coat, {}", spoken(number), ordinal(u32::from(coat)), direction(u32::from(coat))),
                    more: aim.map_or_else(
                        || "how many grams is not known: the size of the boards is not written down".to_owned(),
                        |aim| self.aim_words(aim),
                    ),
                    how: format!("From pot {}. Set the scale to zero with the board on it.{}", info.letter, covered.unwrap_or_default()),
                    board: Some(number.to_owned()),
                    aim,
                    ..Said::default()
                }
            }
            _ => Said { say: "Wash up: brushes, pots, cloths".into(), how: WASHING.0.into(), caution: WASHING.1.into(), ..Said::default() },
        }
    }

    /// The boards as they lie.
    fn lying(&self, live: &Live<'_>) -> Vec<NowBoard> {
        let zero = live.kept.record.midnight;
        let boards = boards_of(live.state, &live.kept.record);
        let mut all: Vec<NowBoard> = making::boards(&live.day.asked, &live.happened, live.now)
            .unwrap_or_default()
            .into_iter()
            .filter_map(|lies| {
                let pot = live.day.pots.get(lies.pot)?;
                let (number, aims) = pot.boards.get(lies.board)?;
                let board = boards.get(number.as_str())?;
                let pace = self.board_pace(live.state, &live.trial.record, pot, board, live.air.as_ref());
                let matt =
                    pace.as_ref().filter(|_| matches!(lies.look, Look::Wet | Look::PerhapsMatt)).map(|pace| pace.opens(zero, live.at));
                let state = match lies.look {
                    Look::Bare => "bare",
                    Look::Wet => "wet",
                    Look::PerhapsMatt => "perhaps",
                    Look::Matt => "matt",
                    Look::Hard => "hard",
                    Look::Spoilt => "spoilt",
                };
                let words = match (state, matt) {
                    ("wet" | "perhaps", Some([low, _, high])) => format!("wet; matt about {}", span_from(low, high, live.now)),
                    ("matt", _) => "matt: ready for the next coat".into(),
                    ("hard", _) => "hard: the next coat may not take hold as it should".into(),
                    ("spoilt", _) => "spoilt".into(),
                    _ => "bare".into(),
                };
                let of = u32::try_from(aims.len()).unwrap_or(0);
                let coats = u32::try_from(lies.laid).unwrap_or(0);
                let hard = asked_hard(live, lies.pot, lies.matt);
                let words = if coats >= of && of > 0 && state != "spoilt" { format!("all {of} coats laid; {words}") } else { words };
                Some(NowBoard {
                    id: board.subject.clone(),
                    number: number.clone(),
                    place: board.record.planned.place,
                    pot: pot.letter.clone(),
                    strips: board.record.planned.strips.clone(),
                    coats,
                    of,
                    state,
                    matt_ms: matt.map(|span| span.map(|clock| milliseconds(zero, clock))),
                    hard_ms: hard.filter(|_| coats < of).map(|clock| milliseconds(zero, clock)),
                    words,
                    pace: pace.map_or("", |pace| pace.words()).to_owned(),
                })
            })
            .collect();
        all.sort_by_key(|board| board.place);
        all
    }

    /// The last taps, newest first.
    fn lately(live: &Live<'_>) -> Vec<NowDone> {
        let taps = standing(live.state.taps_of(&live.kept.subject));
        let words = |tap: &Kept<notebook::Tap>| {
            let step = tap.record.step.as_str();
            let what = step.strip_prefix("lay:").and_then(|rest| rest.rsplit_once(':')).map_or_else(
                || match super::happened::mixing(step) {
                    Some((letter, _)) => format!("pot {letter}"),
                    None if step == "wash" => "washing up".to_owned(),
                    None => preparing(&live.day.asked, step),
                },
                |(number, coat)| format!("board {}, {} coat", spoken(number), ordinal(coat.parse().unwrap_or(1))),
            );
            let how = match tap.record.kind {
                TapKind::Done => "done",
                TapKind::NotYet => "not yet",
                TapKind::Spoilt => "spoilt",
                TapKind::Undo => "taken back",
            };
            capital(&format!("{what}: {how}"))
        };
        taps.iter()
            .rev()
            .take(LAST)
            .map(|tap| NowDone {
                tap: tap.record.id.clone(),
                step: tap.record.step.clone(),
                say: words(tap),
                at: time_from(clock(live.kept.record.midnight, tap.record.at), live.now),
                device: tap.device.clone(),
            })
            .collect()
    }
}

/// When the newest coat of a board is too hard for the next.
fn asked_hard(live: &Live<'_>, pot: usize, matt: Option<[Clock; 3]>) -> Option<Clock> {
    let recoat = live.day.asked.pots.get(pot)?.recoat;
    // Matt and hard count from the same coat.
    matt.zip(recoat.missed_after).map(|([fast, ..], missed)| fast - recoat.opens.low + missed)
}

/// Steps that are left, without those that an earlier pot's step does for this one too.
fn own_steps<'a>(live: &'a Live<'_>) -> impl Iterator<Item = &'a Step> {
    let left: Vec<&StepId> = live.rest.steps.iter().map(|step| &step.id).collect();
    live.rest.steps.iter().filter(move |step| shown_as(&live.day.asked, step.kind).is_none_or(|first| !left.iter().any(|id| id.0 == first)))
}

#[derive(Default)]
struct Said {
    say: String,
    more: String,
    how: String,
    caution: String,
    board: Option<String>,
    aim: Option<f64>,
}

fn preparing(asked: &DayAsked, step: &str) -> String {
    let found = step.strip_prefix("prepare:").and_then(|rest| rest.rsplit_once(':')).and_then(|(letter, at)| {
        let pot = asked.pots.iter().find(|pot| pot.letter == letter)?;
        let one = pot.preparation.get(at.parse::<usize>().ok()?)?;
        let letters = made_for(asked, &one.key, letter);
        let pots = if letters.len() == 1 { "pot" } else { "pots" };
        Some(format!("{}, for {pots} {}", super::habits::preparing_words(&one.key).0, crate::and(&letters)))
    });
    found.unwrap_or_else(|| step.to_owned())
}

/// What goes on after a preparation, until the next step may begin.
fn resting(asked: &DayAsked, step: &str) -> String {
    let found = step
        .strip_prefix("prepare:")
        .and_then(|rest| rest.rsplit_once(':'))
        .and_then(|(letter, at)| asked.pots.iter().find(|pot| pot.letter == letter)?.preparation.get(at.parse::<usize>().ok()?));
    found.map_or("", |one| super::habits::resting_words(&one.key)).to_owned()
}

fn pot_index(kind: StepKind) -> Option<usize> {
    match kind {
        StepKind::Prepare { pot, .. } | StepKind::Mix { pot, .. } | StepKind::Lay { pot, .. } => Some(pot),
        StepKind::WashUp => None,
    }
}

fn pot_asked(asked: &DayAsked, kind: StepKind) -> Option<&making::PotAsked> {
    asked.pots.get(pot_index(kind)?)
}

fn pot_of(day: &AskedDay, kind: StepKind) -> Option<&PotInfo> {
    let letter = &pot_asked(&day.asked, kind)?.letter;
    day.pots.iter().find(|pot| pot.letter == *letter)
}

/// The pots on the table: how old, how long still.
fn pots(bench: &Workbench, live: &Live<'_>) -> Vec<NowPot> {
    let zero = live.kept.record.midnight;
    let ready = making::pots_now(&live.day.asked, &live.happened).unwrap_or_default();
    let left = |at: usize| live.rest.steps.iter().filter(|step| matches!(step.kind, StepKind::Lay { pot, .. } if pot == at)).count();
    let mut out = Vec::new();
    for (at, asked) in live.day.asked.pots.iter().enumerate() {
        let Some(info) = live.day.pots.iter().find(|info| info.letter == asked.letter) else { continue };
        // Of small pots mixed one after the other the newest is on the table.
        let stands = ready.iter().filter(|pot| pot.pot == at).max_by_key(|pot| pot.ready);
        let words = match stands {
            None if left(at) == 0 => "not wanted any more".into(),
            None => "not mixed yet".into(),
            Some(pot) if !pot.wanted => "all laid: weigh what is left, then let it settle and bin it by local rules".into(),
            Some(pot) => {
                let still = making::time_left(asked.life, pot.ready, live.now);
                let age = lasting(making::pot_age(pot.ready, live.now));
                if still.high.count() <= 0 {
                    format!("{age} old: too old, mix it anew")
                } else if still.low.count() <= 0 {
                    format!("{age} old; may be too old already, at most another {}", lasting(still.high))
                } else {
                    format!("{age} old; good for another {}", lasting_span(still.low, still.high))
                }
            }
        };
        let jar = Some(info).filter(|_| left(at) > 0).and_then(|info| bench.jar_of_pot(live.state, &info.told, live.at));
        let words = jar.map_or(words.clone(), |jar| format!("{words}; {jar}"));
        out.push(NowPot {
            letter: asked.letter.clone(),
            recipe: info.recipe.clone(),
            life_min: Some([asked.life.low.count(), asked.life.high.count()]),
            spoil: stands.filter(|pot| pot.wanted).and_then(|pot| mixed_as(&live.day.asked, at, pot.coat, pot.again)),
            ready_ms: stands.map(|pot| milliseconds(zero, pot.ready)),
            old_ms: stands.map(|pot| [asked.life.low, asked.life.high].map(|life| milliseconds(zero, pot.ready + life))),
            words,
            left: left(at),
        });
    }
    out
}

/// What is at risk, with the mend.
fn risks(bench: &Workbench, live: &Live<'_>) -> Vec<String> {
    let air = live.day.trouble.iter().map(|why| format!("The air as read tells nothing of the waits ({why}); those of the plan stand."));
    let letter = |pot: usize| live.day.asked.pots.get(pot).map_or("", |pot| pot.letter.as_str());
    making::risks(&live.day.asked, &live.happened, &live.rest, live.now)
        .unwrap_or_default()
        .into_iter()
        .map(|risk| match risk {
            Risk::PotTooOld { pot, since } => {
                let when = if since <= live.now { "is past its time since" } else { "will be past its time from" };
                format!(
                    "Pot {} {when} {}, with coats still to be laid from it. Smell and stir it; mix a fresh small pot to the same recipe rather than lay an old one.",
                    letter(pot),
                    time_from(since, live.now)
                )
            }
            Risk::CoatTooHard { pot, board, coat, since } => {
                let info = live.day.pots.get(pot);
                let number = info.and_then(|pot| pot.boards.get(board)).map_or("", |(number, _)| number.as_str());
                let (risk, mend) = info.map_or(("", ""), |info| bench.missed_words(info.family));
                format!(
                    "Board {}: the time for its {} coat {} {}. {risk} {mend}",
                    spoken(number),
                    ordinal(u32::from(coat)),
                    if since <= live.now { "was over at" } else { "will be over at" },
                    time_from(since, live.now)
                )
            }
            Risk::TooLong { by } => format!(
                "At this pace the day lasts {} longer than you have. The last round can wait for another day only from a fresh pot; or leave boards out.",
                lasting(by)
            ),
        })
        .chain(air)
        .collect()
}

fn air_words(live: &Live<'_>) -> Option<String> {
    let air = live.air.as_ref()?;
    let read =
        live.state.air_of(&live.kept.subject).last().map(|air| time_from(clock(live.kept.record.midnight, air.record.read), live.now));
    let words = match (air.celsius, air.damp) {
        (Some(warm), Some(damp)) => format!("{}\u{a0}\u{b0}C, {}\u{a0}%", show::plain(warm), show::plain(damp)),
        (Some(warm), None) => format!("{}\u{a0}\u{b0}C", show::plain(warm)),
        (None, Some(damp)) => format!("{}\u{a0}% damp", show::plain(damp)),
        (None, None) => return None,
    };
    Some(read.map_or_else(|| words.clone(), |read| format!("{words}, read at {read}")))
}
