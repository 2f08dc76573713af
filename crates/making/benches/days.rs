//! How long a large day takes: 40 boards of 4 coats from 6 pots.

use making::{
    BoardAsked, Clock, DayAsked, Happened, How, Minutes, Mixed, PotAsked, Preparing, Recoat, Span, StepId, rework, ways_out, work,
};

fn main() {
    divan::main();
}

fn min(minutes: i32) -> Minutes {
    Minutes::new(minutes)
}

/// Six pots that differ a little; lives of 4 to 7 hours, or so long that they never matter.
fn large(lives: i32, short: bool) -> DayAsked {
    let pot = |at: i32| {
        let boards = if at < 4 { 7 } else { 6 };
        let board = |number: i32| BoardAsked { number: format!("{at}{number}"), coats: vec![min(3 + at % 2), min(3), min(3), min(2)] };
        let opens = 30 + 5 * at;
        let life = lives + 30 * at;
        PotAsked {
            letter: ["A", "B", "C", "D", "E", "F"]
                .get(usize::try_from(at).unwrap_or(0))
                .map_or(String::new(), |letter| (*letter).to_owned()),
            mixing: min(20),
            life: Span { low: min(life), usual: min(life + 60), high: min(life + 120) },
            mixed: Mixed::Once,
            recoat: Recoat {
                opens: Span { low: min(opens - 10), usual: min(opens), high: min(opens + 20) },
                best_until: Some(min(opens + 60)),
                missed_after: short.then(|| min(opens + 240)),
            },
            preparation: vec![
                Preparing { key: "soak".into(), hands_on: min(5), stands: Span::exactly(min(600)), keeps: Some(min(1440)) },
                Preparing { key: "warm".into(), hands_on: min(15), stands: Span::exactly(min(15)), keeps: Some(min(480)) },
            ],
            boards: (0..boards).map(board).collect(),
        }
    };
    DayAsked { begins: Clock::new(9 * 60), ends: Clock::new(24 * 60), pots: (0..6).map(pot).collect(), washing_up: min(20) }
}

#[divan::bench]
fn work_long_lives() -> String {
    format!("{:?}", work(&large(2000, false)))
}

#[divan::bench(args = [240, 300, 420])]
fn work_short_lives(bencher: divan::Bencher, life: i32) {
    let day = large(life, true);
    bencher.bench(|| work(&day));
}

#[divan::bench(args = [240, 420])]
fn rework_under_way(bencher: divan::Bencher, life: i32) {
    let mut day = large(life, true);
    day.ends = Clock::new(48 * 60);
    let worked = work(&day).ok();
    let steps = worked.map(|worked| worked.steps).unwrap_or_default();
    let late = |step: &making::Step| Happened { step: StepId(step.id.0.clone()), at: step.to + min(7), how: How::Done };
    let happened: Vec<Happened> = steps.iter().take(steps.len() / 3).map(late).collect();
    let now = happened.last().map_or(day.begins, |last| last.at);
    bencher.bench(|| rework(&day, &happened, now));
}

#[divan::bench(sample_count = 10, args = [240, 420])]
fn ways_out_of_a_short_day(bencher: divan::Bencher, life: i32) {
    let mut day = large(life, true);
    day.ends = Clock::new(14 * 60);
    bencher.bench(|| ways_out(&day));
}
