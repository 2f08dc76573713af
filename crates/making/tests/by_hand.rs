//! Days worked by hand.
#![allow(clippy::unwrap_used, reason = "in a test a panic is the report")]

use making::{
    BoardAsked, Clock, DayAsked, DayError, Found, Happened, How, Look, Minutes, Mixed, PotAsked, Preparing, Recoat, Risk, Span, StepId,
    Way, apply, boards, pots_now, rework, risks, ways_out, work,
};

fn min(minutes: i32) -> Minutes {
    Minutes::new(minutes)
}

fn at(hour: i32, minute: i32) -> Clock {
    Clock::new(60 * hour + minute)
}

fn pot(letter: &str, numbers: &[&str], coats: &[i32]) -> PotAsked {
    let coats: Vec<Minutes> = coats.iter().map(|lasts| min(*lasts)).collect();
    PotAsked {
        letter: letter.into(),
        mixing: min(20),
        life: Span { low: min(240), usual: min(300), high: min(360) },
        mixed: Mixed::Once,
        recoat: Recoat { opens: Span { low: min(20), usual: min(30), high: min(45) }, ..Recoat::default() },
        preparation: Vec::new(),
        boards: numbers.iter().map(|number| BoardAsked { number: (*number).into(), coats: coats.clone() }).collect(),
    }
}

fn day(pots: Vec<PotAsked>) -> DayAsked {
    DayAsked { begins: at(9, 0), ends: at(18, 0), pots, washing_up: min(0) }
}

fn plan(asked: &DayAsked) -> Vec<(String, Clock)> {
    work(asked).unwrap().steps.into_iter().map(|step| (step.id.0, step.from)).collect()
}

fn steps(steps: &[(&str, Clock)]) -> Vec<(String, Clock)> {
    steps.iter().map(|(id, from)| ((*id).to_owned(), *from)).collect()
}

fn event(id: &str, at: Clock, how: How) -> Happened {
    Happened { step: StepId(id.into()), at, how }
}

#[test]
fn one_pot_waits_for_its_first_board() {
    // Mixing 9:00 to 9:20; round 1 from 9:20 (5 + 5); board 1 is open at 9:25 + 0:30 = 9:55, board 2 at 10:00; round 2 9:55 to 10:05.
    let asked = day(vec![pot("A", &["1", "2"], &[5, 5])]);
    assert_eq!(
        plan(&asked),
        steps(&[("mix:A", at(9, 0)), ("lay:1:1", at(9, 20)), ("lay:2:1", at(9, 25)), ("lay:1:2", at(9, 55)), ("lay:2:2", at(10, 0))])
    );
    let worked = work(&asked).unwrap();
    // With the long wait of 45 min it all comes 15 min later.
    assert_eq!((worked.ends, worked.ends_late, worked.hands_on), (at(10, 5), at(10, 20), min(40)));
    // Board 2 is open exactly when its turn comes, but board 1 keeps the round waiting as well: no step may slip on either way.
    assert_eq!(worked.chain.first().map(|id| id.0.as_str()), Some("mix:A"));
    assert_eq!(worked.chain.last().map(|id| id.0.as_str()), Some("lay:2:2"));
    assert_eq!(worked.found, Found::Best);
}

#[test]
fn the_second_pot_is_mixed_while_the_first_dries() {
    // A: mix 9:00, round 1 9:20 to 9:30 (one board of 10), open again at 10:00. In the 30 min between, B is mixed (20) and its board laid
    // (10): 9:30 to 10:00. Then A again, 10:00 to 10:10. All hands-on: 20 + 10 + 20 + 10 + 10 = 70 min, no minute idle.
    let asked = day(vec![pot("A", &["1"], &[10, 10]), pot("B", &["2"], &[10])]);
    assert_eq!(
        plan(&asked),
        steps(&[("mix:A", at(9, 0)), ("lay:1:1", at(9, 20)), ("mix:B", at(9, 30)), ("lay:2:1", at(9, 50)), ("lay:1:2", at(10, 0))])
    );
}

#[test]
fn a_batch_lasts_for_all_boards_or_not() {
    // Time per coat x boards + waits against the life: 6 boards of 4 min, 3 coats. First round 24; each next round begins 34 min after
    // the one before (4 + 30): the last ends 34 + 34 + 24 = 92 min after the pot is ready.
    let mut asked = day(vec![pot("A", &["1", "2", "3", "4", "5", "6"], &[4, 4, 4])]);
    asked.pots[0].life = Span { low: min(92), usual: min(100), high: min(110) };
    assert_eq!(work(&asked).unwrap().ends, at(9, 20) + min(92));
    asked.pots[0].life.low = min(91);
    assert_eq!(work(&asked), Err(DayError::PotsTooOld { letter: "A".into() }));
    // One round alone takes 24.
    asked.pots[0].life.low = min(23);
    assert_eq!(work(&asked), Err(DayError::LifeTooShort { letter: "A".into(), round: 24, life: 23 }));
}

#[test]
fn a_pot_is_mixed_late_to_stay_young() {
    // B lives only 15 min, so it is mixed just before it is laid: never before A's rounds with its board after them.
    let mut asked = day(vec![pot("A", &["1", "2"], &[5, 5]), pot("B", &["3"], &[10])]);
    asked.pots[1].life = Span::exactly(min(15));
    let worked = work(&asked).unwrap();
    let of = |id: &str| worked.steps.iter().find(|step| step.id.0 == id).unwrap();
    assert!(of("lay:3:1").to - of("mix:B").to <= min(15));
    // 70 min of hands-on time and no wait left over: A's 25 min between its rounds are too short for B's 30, so one waits for the other.
    // A: 9:00 to 10:05 with 25 idle, then B 30: 10:35. Or B first: 9:30 + 65. Or B between, 9:30 to 10:00, and A's second round from
    // 10:00 to 10:10, which is best.
    assert_eq!(worked.ends, at(10, 10));
}

#[test]
fn preparations_lie_before_the_day() {
    // Warm 20 min just before 9:00; soaked 12 h before that: done at 20:40 the evening before, begun at 20:35.
    let mut asked = day(vec![pot("A", &["1"], &[5])]);
    asked.pots[0].preparation = vec![
        Preparing { key: "soak".into(), hands_on: min(5), stands: Span::exactly(min(720)), keeps: Some(min(1440)) },
        Preparing { key: "warm".into(), hands_on: min(20), stands: Span::default(), keeps: Some(min(480)) },
    ];
    assert_eq!(
        plan(&asked),
        steps(&[("prepare:A:0", Clock::new(-205)), ("prepare:A:1", at(8, 40)), ("mix:A", at(9, 0)), ("lay:1:1", at(9, 20))])
    );
}

#[test]
fn what_keeps_too_short_is_done_in_the_day() {
    // B's emulsion keeps 10 min at most, so it can't lie before 9:00 if B is mixed after A; with both pots 25 min of hands each and the
    // emulsion 15: one of them comes first. B first: emulsion 8:45, B 9:00 to 9:30, A 9:30 to 10:00. All in all 60 min from 9:00.
    let mut asked = day(vec![pot("A", &["1"], &[10]), pot("B", &["2"], &[10])]);
    asked.pots[1].preparation = vec![Preparing { key: "shake".into(), hands_on: min(15), stands: Span::default(), keeps: Some(min(10)) }];
    assert_eq!(work(&asked).unwrap().ends, at(10, 0));
    // If A must be prepared likewise, one of the two is prepared in the day: 75 min.
    asked.pots[0].preparation = asked.pots[1].preparation.clone();
    assert_eq!(work(&asked).unwrap().ends, at(10, 15));
}

#[test]
fn hands_wait_for_boards_rather_than_let_a_coat_grow_too_hard() {
    // Coat 1 takes 10 min a board, coat 2 only 2. Board 1 is open 30 to 35 min after 9:30, board 3 after 9:50: without a pause the round
    // can't begin before 10:20 - 4 = 10:16, and board 1 would be too hard since 10:05. So board 1 at 10:00, 2 at 10:10, 3 at 10:20.
    let mut asked = day(vec![pot("A", &["1", "2", "3"], &[10, 2])]);
    asked.pots[0].recoat.missed_after = Some(min(35));
    let second: Vec<Clock> = work(&asked).unwrap().steps.iter().rev().take(3).rev().map(|step| step.from).collect();
    assert_eq!(second, [at(10, 0), at(10, 10), at(10, 20)]);
}

#[test]
fn small_pots_are_mixed_before_each_round() {
    // Life 30: one pot can't last for both coats (5 + 30 + 5 = 40). Small pots: 9:00 mix, 9:20 lay, open at 9:55; the second is mixed
    // from 9:35 to 9:55, so nothing is lost.
    let mut asked = day(vec![pot("A", &["1"], &[5, 5])]);
    asked.pots[0].life = Span::exactly(min(30));
    assert_eq!(work(&asked), Err(DayError::PotsTooOld { letter: "A".into() }));
    let ways = ways_out(&asked);
    assert_eq!(ways.len(), 1);
    assert_eq!(ways[0].way, Way::SmallerPots { pots: vec![0], mixed: Mixed::EachCoat });
    assert_eq!((ways[0].ends, ways[0].more_hands), (at(10, 0), min(20)));
    assert_eq!(
        plan(&apply(&asked, &ways[0].way)),
        steps(&[("mix:A:1", at(9, 0)), ("lay:1:1", at(9, 20)), ("mix:A:2", at(9, 35)), ("lay:1:2", at(9, 55))])
    );
}

#[test]
fn ways_out_of_a_day_too_long() {
    // Two pots, each 20 + 4 boards x 10 = 60 min: 120 min, and 100 are asked. 20 earlier or later; two days of 60; or two boards fewer:
    // one of each pot, the last pot first.
    let mut asked = day(vec![pot("A", &["1", "2", "3", "4"], &[10]), pot("B", &["5", "6", "7", "8"], &[10])]);
    asked.ends = at(10, 40);
    assert_eq!(work(&asked), Err(DayError::TooLong { by: 20 }));
    let ways: Vec<(Way, Clock, Minutes)> = ways_out(&asked).into_iter().map(|out| (out.way, out.ends, out.more_hands)).collect();
    assert_eq!(
        ways,
        [
            (Way::Earlier { by: min(20) }, at(10, 40), min(0)),
            (Way::Later { by: min(20) }, at(11, 0), min(0)),
            (Way::TwoDays { first: vec![0] }, at(10, 0), min(0)),
            (Way::FewerBoards { left_out: vec!["8".into(), "4".into()] }, at(10, 40), min(-20)),
        ]
    );
}

#[test]
fn what_happened_counts() {
    let asked = day(vec![pot("A", &["1", "2"], &[5, 5])]);
    // Mixed 10 min late, board 2 laid first, at 9:35; board 1 at 9:42. Board 1 opens at 10:12, board 2 at 10:05; the round goes in its
    // order and without a pause: from 10:12.
    let mut happened =
        vec![event("mix:A", at(9, 30), How::Done), event("lay:2:1", at(9, 35), How::Done), event("lay:1:1", at(9, 42), How::Done)];
    let rest = rework(&asked, &happened, at(9, 42)).unwrap();
    let froms: Vec<(String, Clock)> = rest.steps.iter().map(|step| (step.id.0.clone(), step.from)).collect();
    assert_eq!(froms, steps(&[("lay:1:2", at(10, 12)), ("lay:2:2", at(10, 17))]));
    let looks = |now: Clock| boards(&asked, &happened, now).unwrap().into_iter().map(|board| board.look).collect::<Vec<_>>();
    assert_eq!(looks(at(9, 50)), [Look::Wet, Look::Wet]);
    // Board 2: perhaps from 9:55 (20 min), surely from 10:20 (45 min).
    assert_eq!((looks(at(9, 58)), looks(at(10, 20))), (vec![Look::Wet, Look::PerhapsMatt], vec![Look::PerhapsMatt, Look::Matt]));
    // Board 1 is not matt yet at 10:12: board 2 goes on, board 1 is asked again from 10:22.
    happened.push(event("lay:1:2", at(10, 12), How::NotYet));
    let rest = rework(&asked, &happened, at(10, 12)).unwrap();
    let froms: Vec<(String, Clock)> = rest.steps.iter().map(|step| (step.id.0.clone(), step.from)).collect();
    assert_eq!(froms, steps(&[("lay:2:2", at(10, 12)), ("lay:1:2", at(10, 22))]));
    // Board 2 is spoilt: nothing more on it.
    happened.push(event("lay:2:2", at(10, 15), How::Spoilt));
    let rest = rework(&asked, &happened, at(10, 15)).unwrap();
    assert_eq!(rest.steps.iter().map(|step| step.id.0.as_str()).collect::<Vec<_>>(), ["lay:1:2"]);
    assert!(matches!(rework(&asked, &[event("lay:9:1", at(9, 0), How::Done)], at(9, 0)), Err(DayError::NoStep(_))));
}

#[test]
fn a_spoilt_pot_is_mixed_again() {
    let asked = day(vec![pot("A", &["1"], &[5, 5])]);
    let mut happened =
        vec![event("mix:A", at(9, 20), How::Done), event("lay:1:1", at(9, 25), How::Done), event("mix:A", at(9, 30), How::Spoilt)];
    let rest = rework(&asked, &happened, at(9, 30)).unwrap();
    // 20 min of mixing just before the board is open at 9:55.
    let froms: Vec<(String, Clock)> = rest.steps.iter().map(|step| (step.id.0.clone(), step.from)).collect();
    assert_eq!(froms, steps(&[("mix:A+1", at(9, 35)), ("lay:1:2", at(9, 55))]));
    happened.push(event("mix:A+1", at(9, 55), How::Done));
    let pots = pots_now(&asked, &happened).unwrap();
    assert_eq!((pots.len(), pots[0].again, pots[0].ready, pots[0].wanted), (1, 1, at(9, 55), true));
    assert!(rework(&asked, &[event("mix:A+1", at(9, 0), How::Done)], at(9, 0)).is_err());
}

#[test]
fn what_can_not_be_kept_is_told_as_a_risk() {
    let mut asked = day(vec![pot("A", &["1"], &[5, 5])]);
    asked.pots[0].life = Span::exactly(min(60));
    asked.pots[0].recoat.missed_after = Some(min(60));
    asked.ends = at(10, 40);
    let happened = [event("mix:A", at(9, 20), How::Done), event("lay:1:1", at(9, 25), How::Done)];
    // At 10:40 the pot has been too old since 10:20, the coat too hard since 10:25, and the day ends 5 min late.
    let rest = rework(&asked, &happened, at(10, 40)).unwrap();
    assert_eq!(
        risks(&asked, &happened, &rest, at(10, 40)).unwrap(),
        [
            Risk::PotTooOld { pot: 0, since: at(10, 20) },
            Risk::CoatTooHard { pot: 0, board: 0, coat: 2, since: at(10, 25) },
            Risk::TooLong { by: min(5) },
        ]
    );
    assert_eq!(boards(&asked, &happened, at(10, 40)).unwrap()[0].look, Look::Hard);
    assert_eq!(risks(&asked, &happened, &rework(&asked, &happened, at(9, 30)).unwrap(), at(9, 30)).unwrap(), []);
}

#[test]
fn nothing_that_can_be_asked_stops_the_program() {
    let far = Minutes::new(i32::MAX);
    let mut asked = day(vec![pot("", &["1", "1"], &[-5, 700_000])]);
    asked.pots[0].mixing = far;
    asked.pots[0].life = Span { low: far, usual: min(-3), high: min(0) };
    asked.pots[0].recoat =
        Recoat { opens: Span { low: far, usual: far, high: min(1) }, best_until: Some(min(-9)), missed_after: Some(min(0)) };
    asked.pots[0].preparation =
        vec![Preparing { hands_on: far, stands: Span::exactly(far), keeps: Some(min(-1)), ..Preparing::default() }; 3];
    asked.ends = Clock::new(i32::MAX);
    let _ = (work(&asked), ways_out(&asked), rework(&asked, &[], Clock::new(i32::MIN)));
    asked.begins = Clock::new(i32::MIN);
    let _ = (work(&asked), ways_out(&asked), rework(&asked, &[event("wash", Clock::new(i32::MAX), How::NotYet)], Clock::new(i32::MAX)));
    assert_eq!(work(&DayAsked::default()), Err(DayError::Nothing));
    assert!(work(&DayAsked { ends: at(9, 0), ..asked.clone() }).is_err());
    let many = vec!["1"; 200];
    assert!(matches!(work(&day(vec![pot("A", &many, &[1])])), Err(DayError::TooMuch { .. })));
}
