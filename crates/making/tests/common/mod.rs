//! Invented days for tests; the number decides everything.
#![allow(dead_code, clippy::unwrap_used, reason = "each test file takes what it needs; in a test a panic is the report")]

use making::{BoardAsked, Clock, DayAsked, Minutes, Mixed, PotAsked, Preparing, Recoat, Span};

/// Numbers without end from one (splitmix64, Steele, Lea and Flood 2014).
pub(crate) struct Dice(pub(crate) u64);

impl Dice {
    pub(crate) fn throw(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// From `low` to `high`, both included.
    pub(crate) fn between(&mut self, low: i32, high: i32) -> i32 {
        let width = u64::try_from(high - low + 1).unwrap();
        low + i32::try_from(self.throw() % width).unwrap()
    }

    pub(crate) fn once_in(&mut self, times: i32) -> bool {
        self.between(1, times) == 1
    }
}

pub(crate) fn min(minutes: i32) -> Minutes {
    Minutes::new(minutes)
}

pub(crate) fn span(low: i32, usual: i32, high: i32) -> Span {
    Span { low: min(low), usual: min(usual), high: min(high) }
}

/// Sizes of an invented day.
#[derive(Clone, Copy)]
pub(crate) struct Size {
    pub(crate) pots: i32,
    pub(crate) coats: i32,
    pub(crate) boards: i32,
    pub(crate) preparations: i32,
    /// Whether lives and best times are short.
    pub(crate) tight: bool,
}

pub(crate) fn day(dice: &mut Dice, size: Size) -> DayAsked {
    let mut number = 0;
    let pots = (0..dice.between(1, size.pots))
        .map(|at| {
            let letter = char::from(b'A' + u8::try_from(at).unwrap()).to_string();
            pot(dice, size, letter, &mut number)
        })
        .collect();
    let begins = Clock::new(9 * 60);
    let long = if dice.once_in(4) { dice.between(60, 240) } else { 3000 };
    DayAsked { begins, ends: begins + min(long), pots, washing_up: min(dice.between(0, 15)) }
}

fn pot(dice: &mut Dice, size: Size, letter: String, number: &mut i32) -> PotAsked {
    let mixed = if dice.once_in(4) { Mixed::EachCoat } else { Mixed::Once };
    let boards: Vec<BoardAsked> = (0..dice.between(1, size.boards))
        .map(|_| {
            *number += 1;
            let coats = (0..dice.between(1, size.coats)).map(|_| min(dice.between(1, 12))).collect();
            BoardAsked { number: format!("{number:02}"), coats }
        })
        .collect();
    let opens = dice.between(0, 60);
    let opens = span((opens - dice.between(0, 10)).max(0), opens, opens + dice.between(0, 30));
    let missed_after = (size.tight && dice.once_in(3)).then(|| opens.usual + min(dice.between(15, 60)));
    let best_until = dice.once_in(2).then(|| opens.usual + min(dice.between(0, 20)));
    let life = if size.tight { dice.between(40, 220) } else { dice.between(300, 900) };
    let preparation = (0..dice.between(0, size.preparations))
        .map(|at| {
            let stands = dice.between(0, 40);
            Preparing {
                key: format!("step-{at}"),
                hands_on: min(dice.between(1, 20)),
                stands: span(stands, stands, stands + dice.between(0, 20)),
                keeps: (!dice.once_in(3)).then(|| min(stands + dice.between(0, 60))),
            }
        })
        .collect();
    PotAsked {
        letter,
        mixing: min(dice.between(1, 25)),
        life: span(life, life + 30, life + 60),
        mixed,
        recoat: Recoat { opens, best_until, missed_after },
        preparation,
        boards,
    }
}

/// Whether a round without a pause would let a board grow too hard before another is open; such days are judged apart.
pub(crate) fn wants_pauses(pot: &PotAsked) -> bool {
    let Some(missed) = pot.recoat.missed_after else { return false };
    let slack = missed - pot.recoat.opens.usual;
    let most = pot.boards.iter().map(|board| board.coats.len()).max().unwrap_or(0);
    (1..most).any(|coat| {
        let (mut end, mut begin) = (Minutes::ZERO, Minutes::ZERO);
        let mut leads = Vec::new();
        for board in &pot.boards {
            end = end + board.coats.get(coat - 1).copied().unwrap_or_default();
            if let Some(lasts) = board.coats.get(coat) {
                leads.push(end - begin);
                begin = begin + *lasts;
            }
        }
        leads.iter().max().zip(leads.iter().min()).is_some_and(|(most, least)| *most - *least > slack)
    })
}

/// How old a pot is after its last coat if it is alone and no minute is lost.
pub(crate) fn age_alone(pot: &PotAsked) -> Minutes {
    let mut end = Minutes::ZERO;
    let mut ends: Vec<Option<Minutes>> = vec![None; pot.boards.len()];
    for coat in 0..pot.boards.iter().map(|board| board.coats.len()).max().unwrap_or(0) {
        let (mut begin, mut offset) = (end, Minutes::ZERO);
        for (board, before) in pot.boards.iter().zip(&ends) {
            if let Some(lasts) = board.coats.get(coat) {
                begin = before.map_or(begin, |before| begin.max(before + pot.recoat.opens.usual - offset));
                offset = offset + *lasts;
            }
        }
        end = begin;
        for (board, last) in pot.boards.iter().zip(&mut ends) {
            if let Some(lasts) = board.coats.get(coat) {
                end = end + *lasts;
                *last = Some(end);
            }
        }
    }
    end
}
