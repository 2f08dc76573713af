//! What each kind of ground is used to: how it is made ready, how long a pot lives, how long hands take.

use making::{Clock, DayAsked, Happened, How, Minutes, Preparing, Span};
use measure::SquareMetres;
use support::GroundKind;

const fn span(low: i32, usual: i32, high: i32) -> Span {
    Span { low: Minutes::new(low), usual: Minutes::new(usual), high: Minutes::new(high) }
}

/// What a binder is made from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Starts {
    Milk,
    Curd,
    Powder,
    Grains,
    Ready,
}

pub(super) fn preparation(family: GroundKind, starts: Starts) -> Vec<Preparing> {
    let one = |key: &str, hands: i32, stands: Span, keeps: Option<i32>| Preparing {
        key: key.into(),
        hands_on: Minutes::new(hands),
        stands,
        keeps: keeps.map(Minutes::new),
    };
    match (family, starts) {
        (GroundKind::Glue, _) => vec![one("soak", 5, span(480, 600, 720), Some(1440)), one("warm", 10, span(20, 30, 45), Some(240))],
        (GroundKind::SodaCasein, Starts::Curd | Starts::Milk) => {
            vec![one("curd", 30, span(60, 720, 1440), Some(1440)), one("open", 15, span(30, 60, 120), Some(480))]
        }
        (GroundKind::SodaCasein, _) => vec![one("open", 15, span(30, 60, 120), Some(480))],
        _ => Vec::new(),
    }
}

pub(super) fn life(family: GroundKind) -> Span {
    match family {
        GroundKind::LimeCasein => span(10, 45, 60),
        GroundKind::Acrylic => span(1440, 2880, 10_000),
        _ => span(300, 480, 720),
    }
}

pub(super) fn mixing(_: GroundKind) -> Minutes {
    Minutes::new(15)
}

pub(super) fn washing_up(pots: usize) -> Minutes {
    Minutes::new(10) + Minutes::new(3).times(pots)
}

pub(super) fn laying(face: SquareMetres) -> Minutes {
    Minutes::of_hours((1.5 + face.value() * 100.0 / 6.0) / 60.0)
}

pub(super) fn preparing_words(key: &str) -> (String, String, String) {
    (key.to_owned(), String::new(), String::new())
}

pub(super) struct Lies {
    pub(super) pot: usize,
    pub(super) board: usize,
    pub(super) laid: u32,
    pub(super) state: &'static str,
    pub(super) matt: bool,
    pub(super) hard: Option<Clock>,
}

pub(super) fn boards(asked: &DayAsked, happened: &[Happened], now: Clock) -> Vec<Lies> {
    let mut all = Vec::new();
    for (p, pot) in asked.pots.iter().enumerate() {
        for (b, board) in pot.boards.iter().enumerate() {
            let prefix = format!("lay:{}:", board.number);
            let of = |how: How| happened.iter().filter(move |event| event.how == how).filter(|event| event.step.0.starts_with(&prefix));
            let last = of(How::Done).map(|event| event.at).max();
            let laid = u32::try_from(of(How::Done).count()).unwrap_or(0);
            let state = match last {
                _ if of(How::Spoilt).next().is_some() => "spoilt",
                None => "bare",
                Some(at) if now < at + pot.recoat.opens.low => "wet",
                Some(at) if now < at + pot.recoat.opens.high => "perhaps",
                Some(at) if pot.recoat.missed_after.is_some_and(|missed| now > at + missed) => "hard",
                Some(_) => "matt",
            };
            let hard = last.zip(pot.recoat.missed_after).map(|(at, missed)| at + missed);
            all.push(Lies { pot: p, board: b, laid, state, matt: matches!(state, "wet" | "perhaps"), hard });
        }
    }
    all
}
