//! A day of the example's closed plan, worked out: what when, ways out, shopping, sheets; and days that can't be.
#![expect(clippy::unwrap_used, reason = "in a test a panic is the report")]

use std::sync::Arc;

use notebook::Day;
use show::DayView;
use workbench::{Moment, Notebook, RecipeDay, Studio, StudioError, TypedHours, TypedWish, VerdictRequest, Workbench};

const NOW: Moment = Moment { seconds: 1_795_607_000, offset_minutes: 60 };

struct Room {
    bench: Workbench,
    studio: Studio,
    state: Arc<Notebook>,
    trial: String,
}

impl Room {
    fn new() -> Self {
        let bench = Workbench::open().unwrap();
        let studio = bench.example(NOW).unwrap();
        let state = studio.state();
        let trial = state.trials.values().find(|kept| kept.record.question.contains("milk ground")).unwrap().subject.clone();
        Self { bench, studio, state, trial }
    }

    fn today() -> Day {
        NOW.local().0
    }

    fn day(&self, day: u32, wish: &TypedWish) -> Result<DayView, StudioError> {
        self.bench.plan_day(&self.state, &self.trial, day, wish, Self::today())
    }

    /// A long day with the first ways out taken until it fits.
    fn fitting(&self) -> (TypedWish, DayView) {
        let mut wish = hours("6:00", "23:30");
        for _ in 0..4 {
            let view = self.day(1, &wish).unwrap();
            if view.fits {
                return (wish, view);
            }
            wish = wish_of(&view.ways.first().unwrap_or_else(|| panic!("{}", view.next)).wish);
        }
        panic!("no way out leads anywhere")
    }

    fn refused(&self, trial: &str, day: u32, wish: &TypedWish) -> String {
        self.bench.plan_day(&self.state, trial, day, wish, Self::today()).unwrap_err().to_string()
    }
}

fn hours(from: &str, to: &str) -> TypedWish {
    TypedWish { hours: TypedHours { from: from.into(), to: to.into() }, ..TypedWish::default() }
}

/// A wish as it comes back from its own address.
fn wish_of(fields: &[(String, String)]) -> TypedWish {
    let get = |name: &str| fields.iter().find(|(field, _)| field == name).map_or_else(String::new, |(_, value)| value.clone());
    TypedWish {
        hours: TypedHours { from: get("from"), to: get("to") },
        small: get("small"),
        leave: get("leave"),
        without: get("without"),
        on: get("on"),
    }
}

#[test]
fn a_day_of_the_plan_is_worked_out() {
    let room = Room::new();
    let (_, view) = room.fitting();
    assert!(view.next.starts_with("Begin at "), "{}", view.next);
    assert!(!view.before.is_empty(), "glue is soaked and curd is made the day before");
    assert!(view.before[0].time.contains("before"), "{}", view.before[0].time);
    // Every board of that day gets each of its two coats once.
    let planned: Vec<_> = room.state.boards_of(&room.trial).into_iter().filter(|board| board.record.planned.day == 1).collect();
    let laid: usize = view.rounds.iter().map(|round| round.boards.len()).sum();
    assert_eq!(laid, 2 * planned.len());
    // 20 x 25 cm at 200 g/m2 is 10 g, 15 hundredths beside: 8.5 to 11.5, by hand.
    assert_eq!(view.rounds[0].boards[0].aim, "10.0\u{a0}g (8.5 to 11.5)");
    // So many boards of 25 x 30 cm with their room.
    let table = 0.075 * planned.len() as f64;
    assert!(view.warnings.iter().any(|text| text.contains(&format!("{}\u{a0}m\u{b2}", show::plain(table)))), "{:?}", view.warnings);
    assert!(!view.chain.is_empty() && view.chain.last().unwrap().contains("Wash up"), "{:?}", view.chain);
    assert!(view.strip.is_some());
    assert!(view.shopping.lines.iter().any(|line| line.material == "skim-milk"), "curd goes back to milk: {:?}", view.shopping.lines);
    assert!(view.shopping.lines.iter().any(|line| line.material == "vinegar"), "{:?}", view.shopping.lines);
}

#[test]
fn every_way_out_makes_it_fit() {
    let room = Room::new();
    // The same with less time: two hours for all of it.
    let (wish, _) = room.fitting();
    let wish = TypedWish { hours: TypedHours { from: "9:00".into(), to: "11:00".into() }, ..wish };
    let view = room.day(1, &wish).unwrap();
    assert!(!view.fits && view.next.starts_with("It does not fit: it lasts "), "{}", view.next);
    assert!(!view.ways.is_empty() && view.next.contains("Cheapest way out"), "{}", view.next);
    assert!(view.strip.is_some() && !view.steps.is_empty(), "the long day is shown all the same");
    for way in &view.ways {
        let again = room.day(1, &wish_of(&way.wish)).unwrap();
        assert!(again.fits, "{}: {}", way.say, again.next);
    }
}

#[test]
fn a_wish_is_written_into_the_day_that_begins() {
    let room = Room::new();
    let stamp = notebook::Stamp { at: NOW, device: "desk".into(), chance: 7_000_077 };
    let (wish, first) = room.fitting();
    let left_out = first.rounds[0].boards[0].number.clone();
    let wish = TypedWish { without: left_out.clone(), ..wish };
    let sitting = room.bench.begin_day(&room.studio, &room.trial, 1, &wish, &stamp).unwrap();
    let state = room.studio.state();
    let asked = &state.sittings.get(&sitting).unwrap().record.asked;
    assert!(!asked.contains(&format!("\"number\":\"{left_out}\"")), "{asked}");
    match room.bench.now(&state, NOW) {
        show::NowView::Day(day) => assert!(day.boards.iter().all(|board| board.number != left_out), "{:?}", day.boards),
        show::NowView::Quiet(quiet) => panic!("{}", quiet.next),
    }
}

#[test]
fn days_that_cannot_be_say_why_and_how_to_mend_it() {
    let room = Room::new();
    assert!(room.refused(&room.trial, 9, &TypedWish::default()).contains("no day 9"));
    assert!(room.refused("trial-nothing", 1, &TypedWish::default()).contains("no trial"));
    assert!(room.refused(&room.trial, 1, &hours("25:00", "")).contains("9:00"));
    assert!(room.refused(&room.trial, 1, &hours("noon", "")).contains("9:00"));
    let view = room.day(1, &hours("18:00", "9:00")).unwrap();
    assert!(!view.fits && view.next.contains("9:00 to 18:00") && view.steps.is_empty(), "{}", view.next);
    let wish = TypedWish { small: "Q".into(), ..TypedWish::default() };
    assert!(room.refused(&room.trial, 1, &wish).contains("no pot"));
    let wish = TypedWish { on: "some day".into(), ..TypedWish::default() };
    assert!(room.refused(&room.trial, 1, &wish).contains("2026-11-25"));
    // A plan that is not closed, and a recipe that is not told.
    let open = room.state.trials.values().find(|kept| room.state.plan_of(&kept.subject).is_none()).unwrap().subject.clone();
    assert!(room.refused(&open, 1, &TypedWish::default()).contains("close the plan first"));
}

#[test]
fn dates_stand_beside_what_is_done_before() {
    let room = Room::new();
    let wish = TypedWish { on: "2026-12-01".into(), ..room.fitting().0 };
    let view = room.day(1, &wish).unwrap();
    // The day before the first of December.
    assert!(view.before.iter().any(|step| step.time.contains("30\u{a0}November 2026")), "{:?}", view.before);
}

#[test]
fn the_sheets_hold_every_pot_and_enough_for_its_boards() {
    let room = Room::new();
    let wish = room.fitting().0;
    let sheets = room.bench.plan_day_sheets(&room.studio, &room.state, &room.trial, 1, &wish, Room::today()).unwrap();
    assert!(sheets.invented && sheets.strip.is_some() && sheets.table.is_some());
    let pots: std::collections::BTreeSet<_> = room
        .state
        .boards_of(&room.trial)
        .iter()
        .filter(|board| board.record.planned.day == 1)
        .map(|board| board.record.planned.batch.clone())
        .collect();
    let letters: std::collections::BTreeSet<_> = sheets.pots.iter().map(|pot| pot.pot.chars().take(1).collect::<String>()).collect();
    assert_eq!(letters, pots);
    for pot in &sheets.pots {
        let coats = if pot.pot.contains("coat") { 1 } else { 2 };
        assert!(pot.rounds.len() == coats && !pot.steps.is_empty() && !pot.amounts.is_empty(), "{pot:?}");
        // A coat of 10 g and a fifth more are 12 g a board, by hand.
        let boards = pot.boards.split(['s', ' ', ',']).filter(|part| part.parse::<u32>().is_ok()).count();
        assert_eq!(pot.weighs, format!("{}\u{a0}g", 12 * coats * boards), "{pot:?}");
    }
    let refused = room.bench.plan_day_sheets(&room.studio, &room.state, &room.trial, 1, &hours("18:00", "9:00"), Room::today());
    assert!(refused.unwrap_err().to_string().contains("It does not fit"));
}

#[test]
fn small_pots_have_a_sheet_each() {
    let room = Room::new();
    let (wish, _) = room.fitting();
    let letter = "A".to_owned();
    let wish = TypedWish { small: format!("{} {letter}", wish.small), ..wish };
    let sheets = room.bench.plan_day_sheets(&room.studio, &room.state, &room.trial, 1, &wish, Room::today()).unwrap();
    let of_it: Vec<_> =
        sheets.pots.iter().filter(|pot| pot.pot.starts_with(&letter)).map(|pot| (pot.pot.as_str(), pot.rounds.len())).collect();
    assert_eq!(of_it, [(format!("{letter}, first coat").as_str(), 1), (format!("{letter}, second coat").as_str(), 1)]);
    assert!(sheets.day.facts.iter().any(|fact| fact.contains("mixed anew for each coat")), "{:?}", sheets.day.facts);
}

#[test]
fn a_recipe_alone_becomes_a_day() {
    let room = Room::new();
    let asked = |told: &str, boards: &str, size: &str| RecipeDay {
        recipe: VerdictRequest { told: told.into(), ..VerdictRequest::default() },
        boards: boards.into(),
        size: size.into(),
        coats: String::new(),
        wish: hours("7:00", "23:00"),
    };
    let told = "15 g hide glue, 210 g water, 320 g whiting, 2 coats";
    let view = room.bench.recipe_day(&room.state, &asked(told, "6", "20 x 25 cm"), Room::today()).unwrap();
    assert!(view.fits && view.rounds.len() == 2 && view.rounds[0].boards.len() == 6, "{view:?}");
    let sheets = room.bench.recipe_day_sheets(&room.state, &asked(told, "6", "20 x 25 cm"), Room::today(), false).unwrap();
    // Six boards, two coats of 10 g, a fifth more: 144 g; of 545 g told, glue is 15: 3.96 g.
    assert_eq!(sheets.pots[0].weighs, "144\u{a0}g");
    assert_eq!(sheets.pots[0].amounts[0].grams, "3.96\u{a0}g");
    let refused = |told: &str, boards: &str, size: &str| {
        room.bench.recipe_day(&room.state, &asked(told, boards, size), Room::today()).unwrap_err().to_string()
    };
    assert!(refused("", "6", "20 x 25 cm").contains("say the recipe first"));
    assert!(refused(told, "a few", "20 x 25 cm").contains("whole number from 1 to 80"));
    assert!(refused(told, "900", "20 x 25 cm").contains("whole number from 1 to 80"));
    assert!(refused(told, "6", "large").contains("20 x 25 cm"));
    assert!(refused("100 g chalk, 100 g water", "6", "20 x 25 cm").contains("Say what binds it"));
}
