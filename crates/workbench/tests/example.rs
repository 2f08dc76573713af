//! The example studio, looked at through the views that the pages show.
#![expect(clippy::unwrap_used, reason = "in a test a panic is the report")]

use std::sync::Arc;

use notebook::Day;
use show::TrialAnswerView;
use workbench::{Moment, Notebook, Workbench};

const NOW: Moment = Moment { seconds: 1_795_607_000, offset_minutes: 60 };

fn written(now: Moment) -> (Workbench, Arc<Notebook>) {
    let bench = Workbench::open().unwrap();
    let state = bench.example(now).unwrap().state();
    (bench, state)
}

/// Subject of the trial whose question holds these words.
#[track_caller]
fn trial(state: &Notebook, words: &str) -> String {
    let mut found = state.trials.values().filter(|kept| kept.record.question.contains(words));
    let subject = found.next().unwrap().subject.clone();
    assert!(found.next().is_none(), "two trials ask about {words}");
    subject
}

#[track_caller]
fn answer(words: &str) -> TrialAnswerView {
    let (bench, state) = written(NOW);
    bench.trial_answer(&state, &trial(&state, words)).unwrap()
}

#[test]
fn it_can_be_written_on_any_day() {
    let days = ["2024-02-29", "2026-12-31", "2027-01-01", "2028-03-01", "2000-02-29", "1970-06-01", "2100-03-01"];
    for (day, offset_minutes) in days.iter().zip([0, 60, -720, 840, 330, -210, 0]) {
        for hour in [0, 11, 23] {
            let now = Moment { seconds: Day::read(day).unwrap().number() * 86_400 + hour * 3_600 + 59, offset_minutes };
            let (bench, state) = written(now);
            assert_eq!(state.trials.len(), 5, "{day}");
            assert!(state.entries().iter().all(|entry| entry.at <= now), "{day}: nothing is written in the future");
            assert!(state.entries().windows(2).all(|pair| pair[0].at <= pair[1].at), "{day}: the log goes forward");
            assert!(bench.shelf(&state, now.local().0).next.contains("white primer"), "{day}");
        }
    }
}

#[test]
fn the_same_moment_gives_the_same_notebook() {
    let ((_, first), (_, second)) = (written(NOW), written(NOW));
    assert_eq!(first.entries(), second.entries());
}

#[test]
fn two_things_changed_at_once_cannot_be_told_apart() {
    let view = answer("new ground crack");
    let first = &view.reports[0].measures[0];
    assert_eq!(first.verdict, "cannot tell");
    let sentence = &view.measures[0].sentence;
    assert!(sentence.contains("can't be told") && sentence.contains("powder") && sentence.contains("binder"), "{sentence}");
    // The two recipes that were never made.
    for board in ["binder little and powder chalk", "binder much and powder gypsum"] {
        assert!(view.next.contains(board) && view.measures[0].tangles.join(" ").contains(board), "{}", view.next);
    }
    assert!(view.cannot.iter().any(|text| text.contains("powder") && text.contains("binder")), "{:?}", view.cannot);
    assert_eq!(view.lost.len(), 1);
    assert!(!view.measures[0].more.join(" ").contains("direction and size"), "{:?}", view.measures[0].more);
}

#[test]
fn the_second_round_tells_what_the_glue_did() {
    let view = answer("powder or the glue");
    let first = &view.reports[0].measures[0];
    assert_eq!((first.measure.as_str(), first.verdict), ("cracking", "told"));
    let of = |name: &str| first.effects.iter().find(|effect| effect.name == name && effect.asked).unwrap();
    let (binder, powder) = (of("binder"), of("powder"));
    assert_eq!((binder.verdict, binder.from.as_str(), binder.to.as_str()), ("told", "usual", "much"));
    // Seven pairs of boards that all go one way: 2 of 2^7 (exact enumeration); one pair has lost a board.
    assert!((binder.exact.as_ref().unwrap().p - 2.0 / 128.0).abs() < 1e-12);
    assert_ne!(powder.verdict, "told");
    let sentence = &view.measures[0].sentence;
    assert!(sentence.contains("moves by 1.9") && sentence.contains("speak for binder usual"), "{sentence}");
    assert_eq!(view.ages, "Read 28 days after the last coat.");
    // The reading that was taken back has no say: with it the mean of that recipe would be higher.
    let gypsum = first.groups.iter().find(|group| group.name == "gypsum, usual").unwrap();
    // By hand: middles of A. and B. are 0.75, 0.75, 1 and 1.25.
    assert!((gypsum.mean.unwrap() - 3.75 / 4.0).abs() < 1e-12);
    // Seconds are never taken for days.
    let drop = view.measures.iter().find(|measure| measure.title.contains("water drop")).unwrap();
    assert!(drop.title.ends_with("in s") && !drop.sentence.contains("days"), "{} {}", drop.title, drop.sentence);
}

#[test]
fn the_third_round_waits_for_a_coat() {
    let (bench, state) = written(NOW);
    let road = bench.road(&state, &trial(&state, "How many coats"), NOW).unwrap();
    // The pot of the second sitting is not weighed yet; then comes its first coat.
    assert!(road.next.starts_with("Weigh out pot"), "{}", road.next);
    assert!(bench.lay_sheet(&state, &trial(&state, "How many coats")).unwrap().is_some_and(|(_, coat)| coat == 1));
    assert!(road.boards.iter().any(|board| board.day == 1 && board.stands.contains("laid")));
    assert!(road.boards.iter().filter(|board| board.day == 2).all(|board| board.stands == "0 of 5 coats"));
}

#[test]
fn the_fourth_round_shows_its_tangles() {
    let (bench, state) = written(NOW);
    let road = bench.road(&state, &trial(&state, "gelatine"), NOW).unwrap();
    assert_eq!(road.fixed, None);
    let check = road.check.unwrap();
    for with in ["day", "sheet"] {
        assert!(check.tangles.iter().any(|tangle| tangle.effects == ["binder", with]), "{:?}", check.tangles);
    }
    assert!(check.notes.iter().any(|note| note.contains("no yardstick") && note.ends_with("on every day.")), "{:?}", check.notes);
    assert!(!check.notes.join(" ").contains("counts as better"), "less dust was said to be better: {:?}", check.notes);
}

#[test]
fn what_is_kept_has_words() {
    let (bench, state) = written(NOW);
    assert_eq!((state.recipes.len(), state.failed.len(), state.scales.len(), state.weighings.len()), (4, 1, 1, 3));
    for kept in state.recipes.values() {
        assert!(["lean", "usual", "rich", "usual or lean"].contains(&kept.record.said.word.as_str()), "{:?}", kept.record.said);
        let again = bench.kept_recipe(&state, &kept.subject).unwrap();
        assert_eq!(again.said_then, "", "{} is said otherwise now", again.name);
    }
    let views: Vec<_> = state.recipes.values().map(|kept| bench.kept_recipe(&state, &kept.subject).unwrap()).collect();
    assert_eq!(views.iter().filter(|view| view.versions.len() == 2).count(), 1);
    assert_eq!(views.iter().filter(|view| view.copied_from.is_some()).count(), 1);
    assert!(bench.kept(&state, "").failed[0].said.starts_with("What fits best"));
}

#[test]
fn every_coat_of_a_whole_panel_was_weighed_and_is_likely() {
    let (bench, state) = written(NOW);
    // 150 to 250 g/m2 on 20 x 25 cm is 7.5 to 12.5 g (common practice, no source).
    for coat in state.coats.values().map(|kept| &kept.record) {
        let strips = &state.boards[&coat.board].record.planned.strips;
        let share =
            if strips.is_empty() { 1.0 } else { strips.iter().filter(|strip| u32::from(**strip) >= coat.number).count() as f64 / 5.0 };
        let wet = (coat.after_g.unwrap() - coat.before_g.unwrap()) / share;
        assert!((7.5..=12.5).contains(&wet), "{wet}");
    }
    let laid = state.boards.keys().map(|board| bench.board(&state, board).unwrap()).find(|board| board.coats.len() == 3).unwrap();
    assert!(laid.dry.contains("\u{b5}m") || laid.dry.contains("um"), "{}", laid.dry);
}
