//! A studio's days, with two devices and second thoughts.
#![expect(clippy::unwrap_used, reason = "in a test a panic is the report")]

use notebook::{
    Board, Coat, Deed, Device, Jar, KeepError, Keeper, MemoryBlobs, MemoryLog, Moment, Planned, PotMass, PotWhat, Recipe, Refusal, Stamp,
    Trial, Wanted, deed_name,
};
use proptest::prelude::*;

fn keeper() -> Keeper {
    Keeper::open(Box::new(MemoryLog::default()), Box::new(MemoryBlobs::default())).unwrap()
}

fn stamp(chance: u128) -> Stamp {
    Stamp { at: Moment { seconds: 1_760_000_000, offset_minutes: 60 }, device: "desk".into(), chance }
}

fn recipe(name: &str) -> Deed {
    Deed::Recipe(Recipe { name: name.into(), told: "14 g hide glue, 200 ml water, 250 g chalk".into(), ..Recipe::default() })
}

fn write(keeper: &Keeper, chance: u128, wanted: Vec<Wanted>) -> Result<u64, KeepError> {
    keeper.record::<KeepError>(&stamp(chance), move |_| Ok(wanted.clone())).map(|state| state.n())
}

#[test]
fn an_edit_keeps_what_stood_before_and_undo_brings_it_back() {
    let keeper = keeper();
    write(&keeper, 1, vec![Wanted::new("recipe-a", recipe("tide calendar"))]).unwrap();
    write(&keeper, 2, vec![Wanted::edit("recipe-a", 1, recipe("tide calendar, leaner"))]).unwrap();
    let name = |keeper: &Keeper| keeper.state().recipes["recipe-a"].record.name.clone();
    assert_eq!(name(&keeper), "tide calendar, leaner");
    assert_eq!(keeper.state().as_of(1).recipes["recipe-a"].record.name, "tide calendar");
    write(&keeper, 3, vec![Wanted::strike(2, "second thoughts")]).unwrap();
    assert_eq!(name(&keeper), "tide calendar");
    assert_eq!(keeper.state().entries().len(), 3, "nothing is erased");
    write(&keeper, 4, vec![Wanted::strike(3, "third thoughts")]).unwrap();
    assert_eq!(name(&keeper), "tide calendar, leaner", "taking a strike back brings the entry to life again");
}

#[test]
fn of_two_devices_the_second_is_told_and_nothing_is_overwritten() {
    let keeper = keeper();
    write(&keeper, 1, vec![Wanted::new("jar-a", Deed::Jar(Jar { name: "chalk".into(), ..Jar::default() }))]).unwrap();
    let change = |name: &str| vec![Wanted::edit("jar-a", 1, Deed::Jar(Jar { name: name.into(), ..Jar::default() }))];
    write(&keeper, 2, change("chalk, new sack")).unwrap();
    let refused = write(&keeper, 3, change("chalk, cellar")).unwrap_err();
    assert!(matches!(refused, KeepError::Refused(Refusal::Stale { n: 2, .. })), "{refused}");
    assert!(refused.to_string().contains("Nothing was overwritten"), "{refused}");
    assert_eq!(keeper.state().jars["jar-a"].record.name, "chalk, new sack");
}

#[test]
fn a_request_that_comes_twice_is_written_once() {
    let keeper = keeper();
    let wanted = vec![Wanted::new("recipe-a", recipe("one")), Wanted::new("recipe-b", recipe("two"))];
    assert_eq!(write(&keeper, 7, wanted.clone()).unwrap(), 2);
    assert_eq!(write(&keeper, 7, wanted).unwrap(), 2);
}

#[test]
fn a_board_with_coats_can_not_be_pulled_away() {
    let keeper = keeper();
    let board = Board { trial: "trial-a".into(), planned: Planned { number: "01".into(), ..Planned::default() }, blind: "kelp".into() };
    let coat = Coat { board: "GP-1".into(), number: 1, ..Coat::default() };
    write(
        &keeper,
        1,
        vec![
            Wanted::new("trial-a", Deed::Trial(Trial { question: "which?".into(), ..Trial::default() })),
            Wanted::new("GP-1", Deed::Board(board)),
            Wanted::new("coat-a", Deed::Coat(coat)),
        ],
    )
    .unwrap();
    let refused = write(&keeper, 2, vec![Wanted::strike(2, "")]).unwrap_err();
    assert_eq!(refused, KeepError::Refused(Refusal::StoodOn(vec!["coat 1 on GP-1".into()])));
    write(&keeper, 3, vec![Wanted::strike(3, "")]).unwrap();
    write(&keeper, 4, vec![Wanted::strike(2, "")]).unwrap();
    assert!(keeper.state().boards.is_empty());
    let orphan = write(&keeper, 5, vec![Wanted::new("coat-b", Deed::Coat(Coat { board: "GP-1".into(), ..Coat::default() }))]);
    assert!(matches!(orphan, Err(KeepError::Refused(Refusal::Gone(_)))), "{orphan:?}");
}

#[test]
fn all_of_a_request_is_written_or_nothing() {
    let keeper = keeper();
    let half = vec![
        Wanted::new("recipe-a", recipe("one")),
        Wanted::new("coat-a", Deed::Coat(Coat { board: "GP-none".into(), ..Coat::default() })),
    ];
    assert!(write(&keeper, 1, half).is_err());
    assert_eq!(keeper.state().n(), 0);
}

#[test]
fn a_phones_key_that_was_taken_away_stays_away() {
    let keeper = keeper();
    let device =
        Device { name: "kitchen phone".into(), key_hash: "ab".repeat(32), until: Moment { seconds: 1_762_592_000, offset_minutes: 60 } };
    write(&keeper, 1, vec![Wanted::new("phone-a", Deed::Device(device.clone()))]).unwrap();
    assert_eq!(keeper.state().devices["phone-a"].record, device);
    // A fact is not overwritten: nobody can put another key under the same name.
    let other = Device { key_hash: "cd".repeat(32), ..device };
    assert!(matches!(write(&keeper, 2, vec![Wanted::new("phone-a", Deed::Device(other))]), Err(KeepError::Refused(Refusal::Twice(_)))));
    write(&keeper, 3, vec![Wanted::strike(1, "lost")]).unwrap();
    assert!(keeper.state().devices.is_empty());
    assert_eq!(write(&keeper, 4, vec![Wanted::strike(2, "")]).unwrap_err(), KeepError::Refused(Refusal::KeyGone));
    assert_eq!(keeper.state().entries().len(), 2, "who had a key stays on record");
}

#[test]
fn a_record_of_tomorrow_is_refused_with_a_sentence() {
    let why = Deed::read(9, "recipe", 99, "{}").unwrap_err().to_string();
    assert!(why.contains("newer"), "{why}");
    assert!(Deed::read(9, "recipe", 1, "{\"name\":").is_err());
}

proptest! {
    // Folding everything at once, or as it came, or half and half, gives the same notebook.
    #[test]
    fn the_fold_does_not_care_how_it_is_fed(steps in prop::collection::vec((0u8..4, 0usize..6), 1..40)) {
        let keeper = keeper();
        for (chance, (what, which)) in steps.iter().enumerate() {
            let subject = format!("recipe-{which}");
            let state = keeper.state();
            let wanted = match what {
                0 | 1 => match state.head(&subject) {
                    None => Wanted::new(&subject, recipe(&format!("{chance}"))),
                    Some(n) => Wanted::edit(&subject, n, recipe(&format!("{chance}"))),
                },
                _ => Wanted::strike(u64::try_from(*which).unwrap() + 1, ""),
            };
            let _ = write(&keeper, u128::try_from(chance).unwrap(), vec![wanted]);
        }
        let state = keeper.state();
        let again = state.as_of(u64::MAX);
        prop_assert_eq!(&state.recipes, &again.recipes);
        let half = state.as_of(state.n() / 2);
        let said: Vec<_> = half.recipes.values().map(|kept| kept.record.name.clone()).collect();
        prop_assert!(half.recipes.values().all(|kept| kept.n <= state.n() / 2), "{:?}", said);
    }
}

#[test]
fn what_stands_on_a_board_is_found_there_also_after_second_thoughts() {
    let keeper = keeper();
    let board = |trial: &str| Deed::Board(Board { trial: trial.into(), ..Board::default() });
    let coat = |board: &str, number| Deed::Coat(Coat { board: board.into(), number, ..Coat::default() });
    let trials = ["t1", "t2"].map(|subject| Wanted::new(subject, Deed::Trial(Trial::default())));
    write(&keeper, 1, trials.to_vec()).unwrap();
    write(&keeper, 2, vec![Wanted::new("b1", board("t1")), Wanted::new("b2", board("t2")), Wanted::new("b3", board("t1"))]).unwrap();
    write(&keeper, 3, vec![Wanted::new("c1", coat("b1", 1)), Wanted::new("c2", coat("b2", 1)), Wanted::new("c3", coat("b1", 2))]).unwrap();
    write(&keeper, 4, vec![Wanted::strike(7, "wrong board"), Wanted::new("c4", coat("b3", 1))]).unwrap();
    let state = keeper.state();
    // Against going through everything.
    for subject in ["t1", "t2", "t3"] {
        let slow: Vec<&str> = state.boards.values().filter(|kept| kept.record.trial == subject).map(|kept| kept.subject.as_str()).collect();
        assert_eq!(state.boards_of(subject).iter().map(|kept| kept.subject.as_str()).collect::<Vec<_>>(), slow);
    }
    for subject in ["b1", "b2", "b3", "b4"] {
        let slow: Vec<&str> = state.coats.values().filter(|kept| kept.record.board == subject).map(|kept| kept.subject.as_str()).collect();
        assert_eq!(state.coats_of(subject).iter().map(|kept| kept.subject.as_str()).collect::<Vec<_>>(), slow);
    }
    assert_eq!(state.coats_of("b2").len(), 0, "taken back");
    assert_eq!(state.kept_as_of(state.n()).recipes.len(), 0);
}

#[test]
fn a_jar_is_not_changed_into_a_recipe() {
    let keeper = keeper();
    write(&keeper, 1, vec![Wanted::new("jar-a", Deed::Jar(Jar::default()))]).unwrap();
    let refused = write(&keeper, 2, vec![Wanted::edit("jar-a", 1, recipe("tide calendar"))]);
    assert!(matches!(refused, Err(KeepError::Refused(Refusal::Gone(_)))), "{refused:?}");
    assert_eq!(keeper.state().n(), 1);
}

/// A trial with a closed plan and one board.
fn planned() -> Keeper {
    let keeper = keeper();
    let trial = |question: &str| Deed::Trial(Trial { question: question.into(), ..Trial::default() });
    write(&keeper, 1, vec![Wanted::new("trial-a", trial("which?"))]).unwrap();
    write(&keeper, 2, vec![Wanted::edit("trial-a", 1, trial("which of the two?"))]).unwrap();
    let plan = notebook::Plan { trial: "trial-a".into(), boards: 1, ..notebook::Plan::default() };
    let board = Board { trial: "trial-a".into(), ..Board::default() };
    write(&keeper, 3, vec![Wanted::new("plan-of-trial-a", Deed::Plan(plan)), Wanted::new("GP-1", Deed::Board(board))]).unwrap();
    keeper
}

#[test]
fn a_plan_is_not_pulled_from_under_its_boards_nor_a_question_from_under_its_plan() {
    let keeper = planned();
    for n in [3, 2] {
        let refused = write(&keeper, 10 + u128::from(n), vec![Wanted::strike(n, "")]).unwrap_err();
        assert!(matches!(refused, KeepError::Refused(Refusal::StoodOn(_))), "entry {n}: {refused}");
    }
    let again = notebook::Plan { trial: "trial-a".into(), ..notebook::Plan::default() };
    assert!(write(&keeper, 20, vec![Wanted::new("plan-again", Deed::Plan(again))]).is_err(), "there is one plan");
}

#[test]
fn a_request_that_was_taken_back_is_not_said_to_be_written() {
    let keeper = planned();
    let coat = || vec![Wanted::new("coat-a", Deed::Coat(Coat { board: "GP-1".into(), number: 1, ..Coat::default() }))];
    write(&keeper, 5, coat()).unwrap();
    write(&keeper, 6, vec![Wanted::strike(5, "wrong board")]).unwrap();
    assert!(matches!(write(&keeper, 5, coat()), Err(KeepError::Refused(Refusal::Struck))));
    // Brought back only while what it belongs to stands.
    write(&keeper, 7, vec![Wanted::strike(4, "never cut")]).unwrap();
    assert!(matches!(write(&keeper, 8, vec![Wanted::strike(6, "")]), Err(KeepError::Refused(Refusal::Gone(_)))));
}

#[test]
fn weighings_of_a_pot_stand_in_the_order_of_their_time_and_belong_to_a_trial() {
    let keeper = keeper();
    let mass = |what: PotWhat, grams: f64, seconds: i64| {
        let at = Moment { seconds, offset_minutes: 60 };
        Deed::PotMass(PotMass { trial: "trial-a".into(), letter: "B".into(), what, grams, at, ..PotMass::default() })
    };
    let orphan = write(&keeper, 1, vec![Wanted::new("potmass-a", mass(PotWhat::AsMixed, 600.0, 10))]);
    assert!(matches!(orphan, Err(KeepError::Refused(Refusal::Gone(_)))), "{orphan:?}");
    let trial = Deed::Trial(Trial { question: "which?".into(), ..Trial::default() });
    // Written late, but weighed first.
    let wanted = vec![
        Wanted::new("trial-a", trial),
        Wanted::new("potmass-b", mass(PotWhat::Now, 540.0, 3_600)),
        Wanted::new("potmass-c", mass(PotWhat::WaterAdded, 20.0, 3_700)),
        Wanted::new("potmass-d", mass(PotWhat::AsMixed, 600.0, 10)),
    ];
    write(&keeper, 2, wanted).unwrap();
    let state = keeper.state();
    let grams: Vec<f64> = state.pot_masses_of("trial-a", "B").iter().map(|kept| kept.record.grams).collect();
    assert_eq!(grams, [600.0, 540.0, 20.0]);
    assert!(state.pot_masses_of("trial-a", "A").is_empty());
    assert_eq!(deed_name(&state.entry(3).unwrap().deed, "potmass-c"), "water put into pot B");
    let refused = write(&keeper, 3, vec![Wanted::strike(1, "")]).unwrap_err();
    assert!(matches!(refused, KeepError::Refused(Refusal::StoodOn(_))), "{refused}");
    write(&keeper, 4, vec![Wanted::strike(3, "spilt, not put in")]).unwrap();
    assert_eq!(keeper.state().pot_masses_of("trial-a", "B").len(), 2);
}

/// The record as it is written today must be read for ever; a later field may be missing in it.
#[test]
fn a_weighing_of_a_pot_is_read_as_it_was_written() {
    let body =
        r#"{"trial":"trial-a","letter":"B","what":"as_mixed","grams":612.5,"vessel_g":310.0,"at":{"seconds":10,"offset_minutes":60}}"#;
    let Deed::PotMass(mass) = Deed::read(1, "pot_mass", 1, body).unwrap() else { panic!("another record") };
    assert_eq!((mass.what, mass.grams, mass.vessel_g, mass.note.as_str()), (PotWhat::AsMixed, 612.5, Some(310.0), ""));
}
