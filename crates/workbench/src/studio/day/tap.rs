//! A tap is written down once, with what it brought about: a coat, a pot, a loss, or an earlier tap taken back.

use std::cell::RefCell;

use notebook::{Batch, Coat, Deed, KeepError, Kept, Lost, Moment, Notebook, Refusal, Sitting, Stamp, Tap, TapKind, Wanted};
use show::{TapOutcome, TapsView};

use super::super::trial::next_coat;
use super::super::{Studio, StudioError, above_zero, short};
use super::happened::{boards_of, laying, mixing, standing};
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
                of: typed.of.clone(),
                counted: true,
            };
            let effect = match kind {
                TapKind::Undo => undo(state, kept, &typed.of)?,
                _ => self.effect(state, kept, &tap, wet_g, &stamp)?,
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
    fn effect(&self, state: &Notebook, kept: &Kept<Sitting>, tap: &Tap, wet_g: Option<f64>, stamp: &Stamp) -> Result<Effect, StudioError> {
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
                        wet_g,
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
        let known = self.steps_left(state, kept)?;
        let done = standing(state.taps_of(&kept.subject));
        if let Some(before) = done.iter().find(|before| before.record.step == tap.step && before.record.kind != TapKind::NotYet) {
            return Ok(Effect::Done(format!("{} said so at {}", before.device, before.record.at)));
        }
        if let Some((letter, first)) = mixing(&tap.step) {
            let pot = asked.pots.iter().find(|pot| pot.letter == letter).ok_or_else(unknown)?;
            if first && let Some(batch) = state.batch_of(&sitting.trial, letter) {
                return Ok(Effect::Done(format!("{} mixed it at {}", batch.device, batch.record.ready.unwrap_or(batch.first))));
            }
            if !known.iter().any(|step| step.0 == tap.step) {
                return Err(unknown());
            }
            if first && tap.kind == TapKind::Done {
                let batch = Batch {
                    trial: sitting.trial.clone(),
                    letter: letter.to_owned(),
                    told: pot.told.clone(),
                    ready: Some(tap.at),
                    note: String::new(),
                    as_planned: true,
                    ..Batch::default()
                };
                return Ok(Effect::Writes(vec![Wanted::new(format!("pot-{letter}-of-{}", sitting.trial), Deed::Batch(batch))]));
            }
            return Ok(Effect::Writes(Vec::new()));
        }
        if known.iter().any(|step| step.0 == tap.step) { Ok(Effect::Writes(Vec::new())) } else { Err(unknown()) }
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

/// Strikes what a tap brought about. The tap itself stays in the log; the undo says that it was a slip.
fn undo(state: &Notebook, kept: &Kept<Sitting>, of: &str) -> Result<Effect, StudioError> {
    let taps = state.taps_of(&kept.subject);
    let Some(tap) = taps.iter().find(|tap| tap.record.id == of && tap.record.kind != TapKind::Undo) else {
        return Err(StudioError::Typed("there is no such tap to take back; load the page anew".into()));
    };
    if !standing(taps).iter().any(|standing| standing.n == tap.n) {
        return Ok(Effect::Done("it was taken back or never counted".into()));
    }
    let Some(chance) = u128::from_str_radix(of, 16).ok() else { return Ok(Effect::Writes(Vec::new())) };
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
