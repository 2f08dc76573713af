//! A tap is written down once, with what it brought about: a coat, a pot, a loss, or an earlier tap taken back.

use std::cell::RefCell;

use notebook::{Batch, Coat, Deed, KeepError, Kept, Lost, Moment, Notebook, Refusal, Sitting, Stamp, Tap, TapKind, Wanted};
use show::{TapOutcome, TapsView};

use super::super::trial::next_coat;
use super::super::{Studio, StudioError, above_zero, short};
use super::happened::{boards_of, is_step, laying, may_be_mixed, mixing, standing};
use super::{MILLI, sitting_of};
use crate::Workbench;

/// A tap as a device sends it.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct TypedTap {
    /// 32 signs of 0-9 and a-f, made by the device before it showed the tap.
    pub id: String,
    /// Number on that device.
    pub seq: u64,
    /// Step of the day.
    pub step: String,
    /// `done`, `not yet`, `spoilt` or `undo`.
    pub kind: String,
    /// When, milliseconds since 1970 by the desk's clock.
    pub at_ms: i64,
    /// Newest entry that the device had seen.
    pub seen: u64,
    /// For an undo: id of the tap that was a slip.
    pub of: String,
    /// Grams that the scale showed; empty if nobody read it.
    pub wet_g: String,
}

/// What became of it.
enum Became {
    Stored,
    Other(String),
}

/// Longest name of a step or of a tap, bytes.
const LONGEST_NAME: usize = 80;

/// Most taps in one sending.
pub(crate) const MOST_TAPS: usize = 50;

impl Workbench {
    /// Writes taps down in the order given, each once, and says what became of each.
    pub fn tap(&self, studio: &Studio, sitting: &str, taps: &[TypedTap], device: &str, at: Moment) -> TapsView {
        let outcomes = taps
            .iter()
            .take(MOST_TAPS)
            .map(|tap| {
                let (outcome, why) = match self.one_tap(studio, sitting, tap, device, at) {
                    Ok(Became::Stored) => ("stored", String::new()),
                    Ok(Became::Other(who)) => ("other device did it", who),
                    Err(why) if is_known(&why) => heard_before(&studio.state(), sitting, tap),
                    Err(why) => ("refused", why.to_string()),
                };
                TapOutcome { id: tap.id.clone(), outcome, why }
            })
            .collect();
        let state = studio.state();
        let of_device = state.taps_of(sitting).iter().filter(|tap| tap.device == device);
        TapsView {
            highest: of_device.map(|tap| tap.record.seq).max().unwrap_or(0),
            outcomes,
            desk_ms: at.seconds * MILLI,
            now: self.now(&state, at),
        }
    }

    fn one_tap(&self, studio: &Studio, sitting: &str, typed: &TypedTap, device: &str, now: Moment) -> Result<Became, StudioError> {
        let chance = (typed.id.len() == 32).then(|| u128::from_str_radix(&typed.id, 16).ok()).flatten();
        let Some(chance) = chance else {
            return Err(StudioError::Typed("this tap has no name of 32 signs; load the page anew and tap again".into()));
        };
        let kind = match typed.kind.as_str() {
            "done" => TapKind::Done,
            "not yet" => TapKind::NotYet,
            "spoilt" => TapKind::Spoilt,
            "undo" => TapKind::Undo,
            other => {
                return Err(StudioError::Typed(format!("a tap says done, not yet, spoilt or undo, not \u{201c}{}\u{201d}", short(other))));
            }
        };
        if typed.step.len() > LONGEST_NAME || typed.of.len() > LONGEST_NAME {
            return Err(StudioError::Typed("this tap names no step of the day; load the page anew and tap again".into()));
        }
        let wet_g = above_zero(&typed.wet_g, "the ground on the board", "9.5")?;
        // A clock that runs ahead does not write into the future.
        let at = Moment { seconds: typed.at_ms.div_euclid(MILLI).min(now.seconds), ..now };
        let stamp = Stamp { at, device: device.to_owned(), chance };
        let became = RefCell::new(None);
        let state = studio.write(&stamp, |state| {
            let kept = sitting_of(state, sitting)?;
            let mut tap = Tap {
                sitting: sitting.to_owned(),
                id: typed.id.clone(),
                seq: typed.seq,
                step: typed.step.clone(),
                kind,
                at,
                seen: typed.seen,
                of: String::new(),
                counted: true,
                wet_g,
            };
            let effect = if kind == TapKind::Undo {
                let slip = slip(state, kept, &typed.of)?;
                tap.of.clone_from(&typed.of);
                tap.step.clone_from(&slip.record.step);
                undo(state, kept, slip)?
            } else {
                self.effect(state, kept, &tap, &stamp)?
            };
            let (effect, said) = match effect {
                Effect::Writes(wanted) => (wanted, Became::Stored),
                Effect::Done(who) => (Vec::new(), Became::Other(who)),
            };
            tap.counted = matches!(said, Became::Stored);
            *became.borrow_mut() = Some(said);
            let mut wanted = vec![Wanted::new(stamp.subject("tap", 0), Deed::Tap(tap))];
            wanted.extend(effect);
            Ok(wanted)
        });
        state?;
        // Nothing was asked of the notebook: the very same tap was there already.
        became.into_inner().ok_or(StudioError::Keep(KeepError::Refused(Refusal::Struck)))
    }

    /// What a tap brings about beside itself.
    fn effect(&self, state: &Notebook, kept: &Kept<Sitting>, tap: &Tap, stamp: &Stamp) -> Result<Effect, StudioError> {
        let sitting = &kept.record;
        let boards = boards_of(state, sitting);
        let asked = self.live(state, kept)?;
        let unknown = || StudioError::Typed(format!("this day has no step \u{201c}{}\u{201d}; load the page anew", short(&tap.step)));
        if tap.step.starts_with("lay:") {
            let (board, number, coat) = laying(&boards, &tap.step).ok_or_else(unknown)?;
            let pot = asked.pots.iter().find(|pot| pot.boards.iter().any(|(asked, _)| asked == number)).ok_or_else(unknown)?;
            let aims = pot.boards.iter().find(|(asked, _)| asked == number).map(|(_, aims)| aims.as_slice()).unwrap_or_default();
            let aim = usize::try_from(coat).ok().and_then(|coat| aims.get(coat.checked_sub(1)?)).ok_or_else(unknown)?;
            if state.loss_of(&board.subject).is_some() {
                return Ok(Effect::Done(format!("board {number} is spoilt already")));
            }
            if let Some(laid) = state.coats_of(&board.subject).iter().find(|laid| laid.record.number == coat) {
                return Ok(Effect::Done(format!("{} laid it at {}", laid.device, laid.record.laid)));
            }
            let deed = match tap.kind {
                TapKind::Done => {
                    if coat != next_coat(state, &board.subject) {
                        let next = next_coat(state, &board.subject);
                        return Err(StudioError::Typed(format!("coat {next} of board {number} comes first; tap that one")));
                    }
                    let air = state.air_of(&kept.subject);
                    Deed::Coat(Coat {
                        board: board.subject.clone(),
                        number: coat,
                        direction: direction(coat).to_owned(),
                        laid: tap.at,
                        air_c: air.iter().rev().find_map(|air| air.record.celsius),
                        air_rh: air.iter().rev().find_map(|air| air.record.damp),
                        wet_g: tap.wet_g,
                        aim_g: *aim,
                        ..Coat::default()
                    })
                }
                TapKind::Spoilt => {
                    Deed::Lost(Lost { board: board.subject.clone(), reason: format!("spoilt on the making day, before coat {coat}") })
                }
                TapKind::NotYet | TapKind::Undo => return Ok(Effect::Writes(Vec::new())),
            };
            let subject = match &deed {
                Deed::Coat(_) => stamp.subject("coat", 0),
                _ => format!("loss-of-{}-{}", board.subject, stamp.entry(0)),
            };
            return Ok(Effect::Writes(vec![Wanted::new(subject, deed)]));
        }
        let done = standing(state.taps_of(&kept.subject));
        let said = done.iter().rev().find(|before| before.record.step == tap.step && before.record.kind != TapKind::NotYet);
        if let Some((letter, first)) = mixing(&tap.step) {
            let pot = asked.pots.iter().find(|pot| pot.letter == letter).ok_or_else(unknown)?;
            if !may_be_mixed(&asked.asked, &done, &tap.step) {
                return Err(unknown());
            }
            let batch = state.batch_of(&sitting.trial, letter);
            // What is mixed is told by the pot itself: somebody may have written it down, or taken it back, elsewhere.
            let mixed = if first { batch.is_some() } else { said.is_some_and(|tap| tap.record.kind == TapKind::Done) };
            let spoilt = done.iter().any(|before| before.record.step == tap.step && before.record.kind == TapKind::Spoilt);
            return Ok(match (tap.kind, batch) {
                (_, _) if spoilt => Effect::Done("it was said to be spoilt already".into()),
                (TapKind::Done, Some(batch)) if mixed => {
                    Effect::Done(format!("{} mixed it at {}", batch.device, batch.record.ready.unwrap_or(batch.first)))
                }
                (TapKind::Done, _) if mixed => Effect::Done("it is mixed already".into()),
                (TapKind::Done, batch) => {
                    let (binder, binder_g) = self.binder_used(state, &pot.weigh);
                    let fresh = Batch {
                        binder,
                        binder_g,
                        trial: sitting.trial.clone(),
                        letter: letter.to_owned(),
                        told: pot.weigh.clone(),
                        ready: Some(tap.at),
                        as_planned: true,
                        ..Batch::default()
                    };
                    Effect::Writes(vec![match batch {
                        None => Wanted::new(format!("pot-{letter}-of-{}", sitting.trial), Deed::Batch(fresh)),
                        // The same recipe again: what went in stands, only the pot is a fresh one.
                        Some(before) => Wanted::edit(
                            before.subject.clone(),
                            before.n,
                            Deed::Batch(Batch {
                                ready: Some(tap.at),
                                note: mixed_again(&before.record.note),
                                // A fresh pot takes from the jar once more.
                                binder_g: before.record.binder_g.map(|before| before + binder_g.unwrap_or(before)),
                                ..before.record.clone()
                            }),
                        ),
                    }])
                }
                _ => Effect::Writes(Vec::new()),
            });
        }
        if tap.kind == TapKind::Spoilt {
            return Err(StudioError::Typed("only a board or a pot can be spoilt; say done or not yet".into()));
        }
        if let Some(before) = said {
            return Ok(Effect::Done(format!("{} said so at {}", before.device, before.record.at)));
        }
        if is_step(&asked.asked, &tap.step) { Ok(Effect::Writes(Vec::new())) } else { Err(unknown()) }
    }
}

/// The remark on a pot that was mixed more than once.
fn mixed_again(note: &str) -> String {
    const AGAIN: &str = "mixed again to the same recipe";
    match note {
        "" => AGAIN.into(),
        note if note.contains(AGAIN) => note.into(),
        note => format!("{note}; {AGAIN}"),
    }
}

enum Effect {
    Writes(Vec<Wanted>),
    /// Somebody did it before, and who.
    Done(String),
}

/// Each coat across the last.
pub(super) const fn direction(coat: u32) -> &'static str {
    if coat % 2 == 1 { "along the grain" } else { "across the grain" }
}

/// The tap that was a slip.
fn slip<'a>(state: &'a Notebook, kept: &Kept<Sitting>, of: &str) -> Result<&'a Kept<Tap>, StudioError> {
    let found = state.taps_of(&kept.subject).iter().find(|tap| tap.record.id == of && tap.record.kind != TapKind::Undo);
    found.map(AsRef::as_ref).ok_or_else(|| StudioError::Typed("there is no such tap to take back; load the page anew".into()))
}

/// Strikes what a tap brought about. The tap itself stays in the log; the undo says that it was a slip.
fn undo(state: &Notebook, kept: &Kept<Sitting>, tap: &Kept<Tap>) -> Result<Effect, StudioError> {
    let taps = standing(state.taps_of(&kept.subject));
    if !taps.iter().any(|standing| standing.n == tap.n) {
        return Ok(Effect::Done("it was taken back or never counted".into()));
    }
    let step = tap.record.step.as_str();
    // A fresh pot stands on the spoilt one, and a coat on the one below it.
    if let (Some((letter, _)), TapKind::Spoilt) = (mixing(step), tap.record.kind) {
        let again = format!("{}+", step.split('+').next().unwrap_or(step));
        if taps.iter().any(|later| later.n > tap.n && later.record.step.starts_with(&again)) {
            return Err(StudioError::Typed(format!("pot {letter} was mixed again since; take that back first")));
        }
    }
    if let (Some((board, number, coat)), TapKind::Done) = (laying(&boards_of(state, &kept.record), step), tap.record.kind)
        && let Some(upper) = state.coats_of(&board.subject).iter().map(|laid| laid.record.number).find(|laid| *laid > coat)
    {
        return Err(StudioError::Typed(format!("coat {upper} of board {number} lies on it; take that back first")));
    }
    let Ok(chance) = u128::from_str_radix(&tap.record.id, 16) else { return Ok(Effect::Writes(Vec::new())) };
    let stamp = Stamp { at: tap.at, device: tap.device.clone(), chance };
    // The first entry of a tap is the tap, the second what it brought about.
    let brought = stamp.entry(1);
    let entry = state.entries().iter().rev().find(|entry| entry.id == brought);
    Ok(Effect::Writes(match entry {
        Some(entry) if !state.is_struck(entry.n) => vec![Wanted::strike(entry.n, "a slip of the finger")],
        _ => Vec::new(),
    }))
}

/// What is said of a tap that is there already. Its device may never have heard that another one was quicker.
fn heard_before(state: &Notebook, sitting: &str, typed: &TypedTap) -> (&'static str, String) {
    let taps = state.taps_of(sitting);
    let counts = taps.iter().find(|tap| tap.record.id == typed.id).is_none_or(|tap| tap.record.counted);
    let quicker = taps.iter().find(|tap| tap.record.counted && tap.record.step == typed.step && tap.record.id != typed.id);
    match quicker.filter(|_| !counts) {
        Some(quicker) => ("other device did it", format!("{} said so at {}", quicker.device, quicker.record.at)),
        None => ("had it", String::new()),
    }
}

/// Whether the notebook refused because it holds this very tap, standing or taken back.
fn is_known(why: &StudioError) -> bool {
    matches!(why, StudioError::Keep(KeepError::Refused(Refusal::Struck)))
}
