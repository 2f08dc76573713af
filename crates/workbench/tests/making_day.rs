//! A making day of the example studio, tapped through from the curd to the last coat.
#![expect(clippy::unwrap_used, reason = "in a test a panic is the report")]

use notebook::{Deed, Notebook, Stamp};
use show::{DayNow, NowView, TapOutcome};
use workbench::{Moment, Studio, TypedHours, TypedTap, TypedWish, Workbench};

const NOW: Moment = Moment { seconds: 1_795_607_000, offset_minutes: 60 };

struct Kitchen {
    bench: Workbench,
    studio: Studio,
    trial: String,
    sitting: String,
    now: Moment,
    taps: u64,
}

impl Kitchen {
    fn new() -> Self {
        let bench = Workbench::open().unwrap();
        let studio = bench.example(NOW).unwrap();
        let state = studio.state();
        let trial = state.trials.values().find(|kept| kept.record.question.contains("milk ground")).unwrap().subject.clone();
        let midnight = NOW.seconds - i64::from(NOW.local().1) * 60 - NOW.seconds % 60;
        // The curd is made the evening before: the day is begun then.
        let now = Moment { seconds: midnight + 9 * 3600, ..NOW };
        let stamp = Stamp { at: now, device: "desk".into(), chance: 7_000_007 };
        let sitting = bench.begin_day(&studio, &trial, 1, &TypedWish::default(), &stamp).unwrap();
        Self { bench, studio, trial, sitting, now, taps: 0 }
    }

    fn state(&self) -> std::sync::Arc<Notebook> {
        self.studio.state()
    }

    fn day(&self) -> DayNow {
        match self.bench.now(&self.state(), self.now) {
            NowView::Day(day) => *day,
            NowView::Quiet(quiet) => panic!("no day is under way: {}", quiet.next),
        }
    }

    fn typed(&mut self, step: &str, kind: &str) -> TypedTap {
        self.taps += 1;
        TypedTap {
            id: format!("{:032x}", 0xabc0_0000_u64 + self.taps),
            seq: self.taps,
            step: step.into(),
            kind: kind.into(),
            at_ms: self.now.seconds * 1000,
            seen: self.state().n(),
            ..TypedTap::default()
        }
    }

    fn send(&self, taps: &[TypedTap]) -> Vec<TapOutcome> {
        self.bench.tap(&self.studio, &self.sitting, taps, "phone", self.now).outcomes
    }

    fn tap(&mut self, step: &str, kind: &str) -> TapOutcome {
        let tap = self.typed(step, kind);
        self.send(&[tap]).remove(0)
    }

    /// Waits until the first step is open and does it.
    fn next(&mut self) -> Option<String> {
        let day = self.day();
        let step = day.steps.first()?.clone();
        let from = step.from_ms.max(step.opens_ms.map_or(0, |opens| opens[1])) / 1000;
        self.now.seconds = self.now.seconds.max(from) + 180;
        let outcome = self.tap(&step.id, "done");
        assert_eq!((outcome.outcome, outcome.why.as_str()), ("stored", ""), "{}", step.id);
        Some(step.id)
    }

    fn until(&mut self, prefix: &str) -> String {
        for _ in 0..200 {
            let first = self.day().steps.first().unwrap().id.clone();
            if first.starts_with(prefix) {
                return first;
            }
            self.next();
        }
        panic!("{prefix} never came");
    }
}

#[test]
fn the_record_of_a_day_is_complete_without_typing() {
    let mut kitchen = Kitchen::new();
    let stamp = Stamp { at: kitchen.now, device: "phone".into(), chance: 7_000_099 };
    kitchen.bench.read_air(&kitchen.studio, &kitchen.sitting, "19,5", "55", &stamp).unwrap();
    let spoilt = kitchen.until("lay:");
    assert_eq!(kitchen.tap(&spoilt, "spoilt").outcome, "stored");
    let late = kitchen.until("lay:");
    assert_eq!(kitchen.tap(&late, "not yet").outcome, "stored");
    let next = kitchen.day().steps.first().unwrap().clone();
    assert!(next.id != late || next.from_ms >= (kitchen.now.seconds + 600) * 1000, "others first, or ten minutes of rest");
    while kitchen.next().is_some() {}
    let day = kitchen.day();
    assert!(day.finished && day.steps.is_empty(), "{:?}", day.steps);

    let state = kitchen.state();
    let boards: Vec<_> = state.boards_of(&kitchen.trial).into_iter().filter(|board| board.record.planned.day == 1).collect();
    let lost: Vec<_> = boards.iter().filter(|board| state.loss_of(&board.subject).is_some()).collect();
    assert_eq!(lost.len(), 1);
    assert!(state.loss_of(&lost[0].subject).unwrap().contains("before coat 1"));
    for board in &boards {
        let coats = state.coats_of(&board.subject);
        let numbers: Vec<u32> = coats.iter().map(|coat| coat.record.number).collect();
        if state.loss_of(&board.subject).is_some() {
            assert!(numbers.is_empty());
            continue;
        }
        assert_eq!(numbers, [1, 2], "board {}", board.record.planned.number);
        for coat in &coats {
            let record = &coat.record;
            // 20 x 25 cm at 200 g/m2 (common practice, no source): 10 g.
            assert!((record.aim_g.unwrap() - 10.0).abs() < 1e-9 && record.laid_g().is_none());
            assert_eq!((record.air_c, record.air_rh), (Some(19.5), Some(55.0)));
            assert_eq!(record.direction, if record.number == 1 { "along the grain" } else { "across the grain" });
            assert!(state.batch_of(&kitchen.trial, &board.record.planned.batch).unwrap().record.as_planned);
        }
        assert!(coats[1].record.laid > coats[0].record.laid);
    }
}

#[test]
fn a_tap_is_written_once_however_often_it_comes() {
    let mut kitchen = Kitchen::new();
    let first = kitchen.day().steps.first().unwrap().id.clone();
    let tap = kitchen.typed(&first, "done");
    assert_eq!(kitchen.send(std::slice::from_ref(&tap))[0].outcome, "stored");
    let n = kitchen.state().n();
    for _ in 0..3 {
        assert_eq!(kitchen.send(std::slice::from_ref(&tap))[0].outcome, "had it");
    }
    assert_eq!(kitchen.state().n(), n);
    // Another device says the same: it is told who was quicker, and its tap is on record without effect.
    let mut other = kitchen.typed(&first, "done");
    other.id = "ff".repeat(16);
    // It is told again if it never heard the answer.
    for _ in 0..2 {
        let outcome = kitchen.send(std::slice::from_ref(&other)).remove(0);
        assert_eq!(outcome.outcome, "other device did it");
        assert!(outcome.why.contains("phone"), "{}", outcome.why);
        assert_eq!(kitchen.state().n(), n + 1);
    }
}

#[test]
fn a_slip_is_taken_back_and_done_again() {
    let mut kitchen = Kitchen::new();
    let step = kitchen.until("lay:");
    let tap = kitchen.typed(&step, "done");
    kitchen.send(std::slice::from_ref(&tap));
    let coats = |kitchen: &Kitchen| kitchen.state().coats.values().filter(|coat| coat.record.aim_g.is_some()).count();
    assert_eq!(coats(&kitchen), 1);
    let mut undo = kitchen.typed(&step, "undo");
    undo.of.clone_from(&tap.id);
    assert_eq!(kitchen.send(std::slice::from_ref(&undo))[0].outcome, "stored");
    assert_eq!(coats(&kitchen), 0);
    assert_eq!(kitchen.day().steps.first().unwrap().id, step);
    // The old tap comes again from a phone that lost the answer: it stays taken back.
    assert_eq!(kitchen.send(&[tap, undo]).iter().map(|one| one.outcome).collect::<Vec<_>>(), ["had it", "had it"]);
    assert_eq!(coats(&kitchen), 0);
    assert_eq!(kitchen.tap(&step, "done").outcome, "stored");
    assert_eq!(coats(&kitchen), 1);
}

#[test]
fn a_spoilt_board_comes_back_when_it_was_a_slip() {
    let mut kitchen = Kitchen::new();
    let step = kitchen.until("lay:");
    let tap = kitchen.typed(&step, "spoilt");
    kitchen.send(std::slice::from_ref(&tap));
    assert!(!kitchen.day().steps.iter().any(|left| left.board == Some(step.split(':').nth(1).unwrap().into())));
    let mut undo = kitchen.typed(&step, "undo");
    undo.of = tap.id;
    assert_eq!(kitchen.send(&[undo])[0].outcome, "stored");
    assert!(kitchen.day().steps.iter().any(|left| left.id == step));
}

#[test]
fn what_can_not_be_is_refused_with_a_sentence() {
    let mut kitchen = Kitchen::new();
    for step in ["lay:99:1", "lay:01:9", "mix:Z", "prepare:A:77", "tidy", ""] {
        let outcome = kitchen.tap(step, "done");
        assert_eq!(outcome.outcome, "refused", "{step}");
        assert!(outcome.why.contains("step") || outcome.why.contains("coat"), "{}", outcome.why);
    }
    let mut nameless = kitchen.typed("wash", "done");
    nameless.id = "short".into();
    assert_eq!(kitchen.send(&[nameless])[0].outcome, "refused");
    let odd = kitchen.typed("wash", "perhaps");
    assert_eq!(kitchen.send(&[odd])[0].outcome, "refused");
    let tap = kitchen.typed("wash", "done");
    let view = kitchen.bench.tap(&kitchen.studio, "sitting-of-nobody", &[tap], "phone", kitchen.now);
    assert_eq!(view.outcomes[0].outcome, "refused");
    assert!(!kitchen.state().entries().iter().any(|entry| matches!(&entry.deed, Deed::Tap(_))));
}

#[test]
fn a_phone_whose_clock_runs_ahead_does_not_write_into_the_future() {
    let mut kitchen = Kitchen::new();
    let step = kitchen.until("lay:");
    let mut tap = kitchen.typed(&step, "done");
    tap.at_ms += 3_600_000;
    kitchen.send(&[tap]);
    let state = kitchen.state();
    let coat = state.coats.values().find(|coat| coat.record.aim_g.is_some()).unwrap();
    assert_eq!(coat.record.laid.seconds, kitchen.now.seconds);
}

#[test]
fn one_day_at_a_time() {
    let kitchen = Kitchen::new();
    let begin = |day, chance| {
        let stamp = Stamp { at: kitchen.now, device: "desk".into(), chance };
        kitchen.bench.begin_day(&kitchen.studio, &kitchen.trial, day, &TypedWish::default(), &stamp)
    };
    assert!(begin(2, 7_000_008).unwrap_err().to_string().contains("under way"));
    let stamp = Stamp { at: kitchen.now, device: "desk".into(), chance: 7_000_009 };
    kitchen.bench.end_day(&kitchen.studio, &kitchen.sitting, &stamp).unwrap();
    assert!(matches!(kitchen.bench.now(&kitchen.state(), kitchen.now), NowView::Quiet(_)));
    assert!(begin(7, 7_000_010).unwrap_err().to_string().contains("days are 1 to 2"));
    let hours = TypedHours { from: "18:00".into(), to: "9:00".into() };
    let wish = TypedWish { hours, ..TypedWish::default() };
    let stamp = Stamp { at: kitchen.now, device: "desk".into(), chance: 7_000_011 };
    let why = kitchen.bench.begin_day(&kitchen.studio, &kitchen.trial, 2, &wish, &stamp).unwrap_err().to_string();
    assert!(why.contains("end after it begins"), "{why}");
    // Ended too early, it goes on where it stood.
    assert_eq!(begin(1, 7_000_012).unwrap(), kitchen.sitting);
    assert!(matches!(kitchen.bench.now(&kitchen.state(), kitchen.now), NowView::Day(_)));
}
