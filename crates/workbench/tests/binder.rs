//! A jar of binder from milk to the pots that it went into, in a studio in memory.
#![expect(clippy::unwrap_used, reason = "in a test a panic is the report")]

use show::BinderStepState;
use workbench::{Moment, Stamp, Studio, StudioError, TypedBinder, TypedBinderSeen, VerdictRequest, Workbench};

struct Kitchen {
    bench: Workbench,
    studio: Studio,
    seconds: i64,
    chance: u128,
}

impl Kitchen {
    fn new() -> Self {
        Self { bench: Workbench::open().unwrap(), studio: Studio::in_memory(true).unwrap(), seconds: 1_795_600_000, chance: 0 }
    }

    fn stamp(&mut self, minutes: i64) -> Stamp {
        self.seconds += minutes * 60;
        self.chance += 1;
        Stamp { at: self.now(), device: "desk".into(), chance: self.chance }
    }

    fn now(&self) -> Moment {
        Moment { seconds: self.seconds, offset_minutes: 60 }
    }

    fn begin(&mut self, typed: &TypedBinder) -> Result<String, StudioError> {
        let stamp = self.stamp(1);
        self.bench.begin_binder(&self.studio, typed, &stamp)
    }

    fn step(&mut self, id: &str, step: &str) -> Result<(), StudioError> {
        let stamp = self.stamp(30);
        self.bench.binder_step(&self.studio, (id, step), "", &stamp)
    }

    fn measure(&mut self, id: &str, step: &str, what: &str, value: &str) -> Result<(), StudioError> {
        let stamp = self.stamp(1);
        let typed =
            TypedBinderSeen { binder: id.into(), step: step.into(), what: what.into(), value: value.into(), ..TypedBinderSeen::default() };
        self.bench.binder_measure(&self.studio, &typed, &stamp)
    }

    fn view(&self, id: &str) -> show::BinderView {
        self.bench.binder_view(&self.studio.state(), id, self.now()).unwrap()
    }
}

fn tern() -> TypedBinder {
    TypedBinder {
        name: "Tern".into(),
        road: "curd".into(),
        milk: "2 l skim milk".into(),
        acids: vec!["white vinegar 5 %".into()],
        base: "baking soda".into(),
        warmth: "35".into(),
        rinses: "2".into(),
        ..TypedBinder::default()
    }
}

fn near(found: Option<f64>, wanted: f64, slack: f64) {
    let found = found.unwrap();
    assert!((found - wanted).abs() <= slack, "{found} is not {wanted}");
}

/// By hand: 2000 ml x 1.033 g/ml x 0.0337 x 0.78 x 0.95 = 51.6 g of casein (milk: USDA and the Guelph density table; catch: common
/// practice). Curd of 200 g with dishes of 0.25: 50 g casein, 150 g water. Base to begin with: 50 x 0.55 x 0.084007 = 2.31 g. With 2.3 g
/// of soda and 250 g of water: 452.3 g; a share of 50 / 452.3 = 0.1105.
#[test]
fn from_milk_to_a_jar_of_known_strength() {
    let mut kitchen = Kitchen::new();
    let id = kitchen.begin(&tern()).unwrap();
    let first = kitchen.view(&id);
    assert_eq!(first.strength.rests_on, "forecast from the milk");
    near(first.strength.dry_g.value, 51.6, 0.5);
    let names: Vec<&str> = first.steps.iter().map(|step| step.id.as_str()).collect();
    assert_eq!(names, ["curdle", "drain", "rinse-1", "rinse-2", "drip", "weigh", "break", "dissolve", "water", "strain", "use"]);
    assert_eq!(first.steps[0].state, BinderStepState::Now);
    assert!(first.next.starts_with("Warm the milk"), "{}", first.next);
    for step in ["curdle", "drain", "rinse-1", "rinse-2", "drip"] {
        kitchen.step(&id, step).unwrap();
    }
    // It drips half an hour to twelve hours.
    let wait = kitchen.view(&id);
    assert!(wait.next.starts_with("Let it stand: it is ready between"), "{}", wait.next);
    let timer = wait.timer.unwrap();
    assert_eq!(timer.turns[1] - timer.turns[0], (720 - 30) * 60);
    kitchen.measure(&id, "weigh", "curd_weight", "200").unwrap();
    let weighed = kitchen.view(&id);
    assert_eq!(weighed.strength.rests_on, "your curd was weighed");
    near(weighed.strength.dry_g.value, 200.0 * 0.23, 1.0);
    kitchen.measure(&id, "weigh", "dishes", "10/2.5 20/5 12/3").unwrap();
    let dried = kitchen.view(&id);
    assert_eq!(dried.strength.rests_on, "your dishes were dried");
    near(dried.strength.dry_g.value, 50.0, 1e-9);
    near(dried.strength.base_g.value, 2.31, 0.01);
    kitchen.step(&id, "weigh").unwrap();
    kitchen.step(&id, "break").unwrap();
    kitchen.measure(&id, "dissolve", "base_added", "2.3 g baking soda").unwrap();
    kitchen.step(&id, "dissolve").unwrap();
    kitchen.measure(&id, "water", "water_added", "250").unwrap();
    kitchen.step(&id, "water").unwrap();
    let jar = kitchen.view(&id);
    near(jar.strength.total_g.value, 452.3, 1e-6);
    near(jar.strength.water_g.value, 400.0, 1e-6);
    near(jar.strength.share.value, 50.0 / 452.3, 1e-9);
    // Every figure that is named can be opened.
    for step in jar.steps.iter().filter(|step| !step.figure.is_empty()) {
        assert!(binder::figure_entry(&step.figure).is_some(), "{}", step.figure);
    }
}

/// Taking a measurement back brings the forecast back, to the last digit.
#[test]
fn a_measurement_taken_back_restores_the_forecast() {
    let mut kitchen = Kitchen::new();
    let id = kitchen.begin(&tern()).unwrap();
    let before = kitchen.view(&id).strength;
    for (step, what, value) in
        [("weigh", "curd_weight", "180"), ("weigh", "dishes", "10/2.2"), ("curdle", "ph", "5.1"), ("strain", "contents", "900")]
    {
        if what == "ph" {
            let stamp = kitchen.stamp(1);
            let typed = TypedBinderSeen {
                binder: id.clone(),
                step: step.into(),
                what: what.into(),
                value: value.into(),
                more: "100 ml white vinegar 5 %".into(),
                ..TypedBinderSeen::default()
            };
            kitchen.bench.binder_measure(&kitchen.studio, &typed, &stamp).unwrap();
            assert!(kitchen.view(&id).learned[0].contains("pH paper"), "{:?}", kitchen.view(&id).learned);
        } else {
            kitchen.measure(&id, step, what, value).unwrap();
            assert_ne!(kitchen.view(&id).strength, before, "{what}");
        }
        let entry = kitchen.view(&id).measures[0].entry;
        let stamp = kitchen.stamp(1);
        kitchen.bench.take_back(&kitchen.studio, entry, "a slip", &stamp).unwrap();
        assert_eq!(kitchen.view(&id).strength, before, "{what}");
    }
}

/// By hand, 60 g casein powder of 0.9: 54 g casein; ammonium carbonate leaves nothing in the dish. The jar weighs 500 g; three dishes
/// of 0.1: 50 g casein and 450 g of water, less the 3 g that opened it. So 100 g of it bring 10 g of binder, and 100 - 10 - 0.6 = 89.4 g of
/// water; 150 g taken leave 350 g with 35 g of casein.
#[test]
fn a_recipe_takes_the_strength_of_the_jar_that_it_names() {
    let mut kitchen = Kitchen::new();
    let powder = TypedBinder {
        name: "Grey Gull".into(),
        road: "powder".into(),
        casein: "60 g casein powder".into(),
        base: "ammonium carbonate".into(),
        water: "440".into(),
        ..TypedBinder::default()
    };
    let id = kitchen.begin(&powder).unwrap();
    for step in ["soak", "dissolve", "strain"] {
        kitchen.step(&id, step).unwrap();
    }
    kitchen.measure(&id, "dissolve", "base_added", "3 g ammonium carbonate").unwrap();
    kitchen.measure(&id, "strain", "contents", "500").unwrap();
    kitchen.measure(&id, "strain", "dishes", "10/1.0 20/2.0 30/3.0").unwrap();
    let state = kitchen.studio.state();
    assert_eq!(kitchen.view(&id).strength.rests_on, "dishes of the binder itself were dried");
    let told = "100 g casein binder, jar Grey Gull, 150 g chalk".to_owned();
    assert_eq!(kitchen.bench.binder_named(&state, &told).as_deref(), Some(id.as_str()));
    assert_eq!(kitchen.bench.binder_named(&state, "100 g casein binder, jar Grey"), None);
    let own = kitchen.bench.own_values_for(&state, &told);
    let inputs = kitchen.bench.binder_inputs(&state, &id);
    assert!((inputs[0].best - 0.1).abs() < 1e-12 && (inputs[1].best - 0.006).abs() < 1e-12, "{inputs:?}");
    let units = measure::Units::builtin().unwrap();
    let jars = materials::Catalogue::builtin().unwrap();
    let reading = materials::read(jars, &units, &told, &materials::Wishes::new());
    let mix = ground::Mix::of(jars, &units, &reading).with_own(&own);
    let film = mix.film(&mix.best(), &mut Vec::new()).unwrap();
    assert!((film.binder.value() - 10.0).abs() < 1e-9, "{}", film.binder.value());
    assert!((film.water.value() - 89.4).abs() < 1e-9, "{}", film.water.value());
    let card = kitchen.bench.verdict(&VerdictRequest { told, own, ..VerdictRequest::default() }).unwrap();
    assert!(!card.sentence.is_empty());
    kitchen.measure(&id, "use", "taken", "150").unwrap();
    let left = kitchen.view(&id).strength;
    near(left.total_g.value, 350.0, 1e-9);
    near(left.dry_g.value, 35.0, 1e-9);
    near(left.share.value, 0.1, 1e-9);
    // More than is there can't be taken, and nothing is written then.
    let n = kitchen.studio.state().n();
    assert!(kitchen.measure(&id, "use", "taken", "351").is_err());
    assert_eq!(kitchen.studio.state().n(), n);
}

/// By hand: 20 g of glue in 180 g of water are 10 %.
#[test]
fn glue_is_a_binder_too() {
    let mut kitchen = Kitchen::new();
    let glue = TypedBinder {
        name: "Lamp".into(),
        road: "glue".into(),
        glue: "20 g hide glue".into(),
        water: "180".into(),
        ..TypedBinder::default()
    };
    let id = kitchen.begin(&glue).unwrap();
    near(kitchen.view(&id).strength.share.value, 0.1, 1e-9);
    kitchen.step(&id, "soak").unwrap();
    assert_eq!(kitchen.bench.binder_inputs(&kitchen.studio.state(), &id)[0].key.as_str(), "dry_share.glue-size");
}

#[test]
fn what_does_not_fit_is_refused_in_words() {
    let mut kitchen = Kitchen::new();
    for (bad, word) in [
        (TypedBinder { name: String::new(), ..tern() }, "name"),
        (TypedBinder { name: "Tern 2".into(), ..tern() }, "amount"),
        (TypedBinder { name: "Chalk".into(), ..tern() }, "material"),
        (TypedBinder { road: "egg".into(), ..tern() }, "choose"),
        (TypedBinder { milk: "oat drink".into(), ..tern() }, "milk"),
        (TypedBinder { base: "slaked lime".into(), ..tern() }, "lime"),
        (TypedBinder { rinses: "2.5".into(), ..tern() }, "whole"),
        (TypedBinder { water: "-1".into(), ..tern() }, "above zero"),
    ] {
        let why = kitchen.begin(&bad).unwrap_err().to_string();
        assert!(why.contains(word), "{why}");
    }
    let id = kitchen.begin(&tern()).unwrap();
    assert!(kitchen.begin(&tern()).unwrap_err().to_string().contains("already"));
    for (what, value) in [
        ("dishes", "2/10"),
        ("dishes", "x"),
        ("curd_weight", "0"),
        ("ph", "15"),
        ("stands", "cellar"),
        ("base_added", "5 g borax"),
        ("contents", "1"),
        ("colour", "blue"),
    ] {
        assert!(kitchen.measure(&id, "", what, value).is_err(), "{what} {value}");
    }
    assert!(kitchen.step(&id, "melt").is_err());
    assert!(kitchen.step("binder-0", "curdle").is_err());
    kitchen.step(&id, "curdle").unwrap();
    assert!(kitchen.step(&id, "curdle").is_err());
    // What steps stand on can't be pulled away, and a closed binder takes nothing more.
    let state = kitchen.studio.state();
    let from = state.binders[&id].n;
    let stamp = kitchen.stamp(1);
    assert!(kitchen.bench.take_back(&kitchen.studio, from, "", &stamp).is_err());
    let stamp = kitchen.stamp(1);
    kitchen.bench.close_binder(&kitchen.studio, (&id, from), "it smelled", &stamp).unwrap();
    assert!(kitchen.step(&id, "drain").unwrap_err().to_string().contains("closed"));
    assert!(kitchen.measure(&id, "", "contents", "500").unwrap_err().to_string().contains("closed"));
    assert!(kitchen.view(&id).next.contains("it smelled"));
    assert!(kitchen.bench.binders(&kitchen.studio.state(), kitchen.now()).binders[0].closed);
}

/// Three words: today; tomorrow if it went into the fridge within two hours; then bin it (common practice, no source).
#[test]
fn a_binder_keeps_by_three_words() {
    let mut kitchen = Kitchen::new();
    let id = kitchen.begin(&tern()).unwrap();
    let word = |kitchen: &Kitchen, later: i64| {
        let now = Moment { seconds: kitchen.seconds + later * 3600, ..kitchen.now() };
        kitchen.bench.binder_keeping(&kitchen.studio.state(), &id, now).unwrap().word
    };
    assert_eq!(word(&kitchen, 100), "not-made");
    kitchen.step(&id, "dissolve").unwrap();
    assert_eq!((word(&kitchen, 0), word(&kitchen, 24)), ("today", "bin"));
    kitchen.seconds += 60 * 60;
    kitchen.measure(&id, "use", "stands", "fridge").unwrap();
    assert_eq!((word(&kitchen, 0), word(&kitchen, 24), word(&kitchen, 48)), ("tomorrow", "tomorrow", "bin"));
    // Out for three hours in between, and back: it stood warm too long.
    kitchen.measure(&id, "use", "stands", "room").unwrap();
    kitchen.seconds += 3 * 3600;
    kitchen.measure(&id, "use", "stands", "fridge").unwrap();
    assert_eq!(word(&kitchen, 24), "bin");
    let view = kitchen.view(&id);
    assert!(!view.keeping.text.contains(" h"), "{}", view.keeping.text);
}

/// A pot that names the jar takes its grams out of it; the jar says where it went.
#[test]
fn a_pot_takes_from_the_jar_that_it_names() {
    let mut kitchen = Kitchen::new();
    let id = kitchen.begin(&TypedBinder { water: "300".into(), ..tern() }).unwrap();
    let before = kitchen.view(&id).strength.total_g.value.unwrap();
    let (trial, letter) = stair(&mut kitchen, "100 g casein binder, jar Tern, 150 g whiting");
    let stamp = kitchen.stamp(1);
    let told = "101 g casein binder, jar Tern, 150 g whiting";
    kitchen.bench.mix_pot(&kitchen.studio, (&trial, &letter), told, "", 0, &stamp).unwrap();
    let view = kitchen.view(&id);
    assert_eq!(view.used_in.len(), 1);
    assert!(view.used_in[0].grams.starts_with("101") && view.used_in[0].name.contains("milk ground"), "{:?}", view.used_in);
    near(view.strength.total_g.value, before - 101.0, 1e-6);
}

/// The example holds a jar half made; its next step stands first.
#[test]
fn the_example_has_a_jar_under_way() {
    let kitchen = Kitchen::new();
    let state = kitchen.bench.example(kitchen.now()).unwrap().state();
    let list = kitchen.bench.binders(&state, kitchen.now());
    assert_eq!(list.binders.len(), 1);
    assert!(list.next.starts_with("Tern: ") && list.next.contains("Hang the curd up"), "{}", list.next);
    assert_eq!(list.binders[0].keeping.word, "tomorrow");
    let view = kitchen.bench.binder_view(&state, &list.binders[0].id, kitchen.now()).unwrap();
    assert!(view.notes.is_empty(), "{:?}", view.notes);
}

/// A stair of two boards from one pot, its plan closed; returns the trial and the letter of its pot.
fn stair(kitchen: &mut Kitchen, told: &str) -> (String, String) {
    let form = workbench::TypedTrial {
        kind: "stair".into(),
        question: "How many coats can the milk ground carry?".into(),
        measure: "first_cracked_strip".into(),
        way: "larger".into(),
        names: [("recipe_a".to_owned(), "milk".to_owned())].into(),
        counts: [("boards", "2"), ("pots", "1"), ("days", "1"), ("strips", "2")].map(|(a, b)| (a.to_owned(), b.to_owned())).into(),
        yardstick: "the usual ground".into(),
        support: "birch plywood".into(),
        size: "20 x 25 cm".into(),
        ..workbench::TypedTrial::default()
    };
    let stamp = kitchen.stamp(1);
    let trial = kitchen.bench.ask_trial(&kitchen.studio, &form, &stamp).unwrap();
    let from = kitchen.studio.state().trials.get(&trial).unwrap().n;
    let recipes = ["milk", "the usual ground"].map(|name| (name.to_owned(), told.to_owned())).into();
    let stamp = kitchen.stamp(1);
    kitchen.bench.tell_recipes(&kitchen.studio, (&trial, from), &recipes, &stamp).unwrap();
    let stamp = kitchen.stamp(1);
    kitchen.bench.fix_plan(&kitchen.studio, &trial, &stamp).unwrap();
    let letter = kitchen.studio.state().boards_of(&trial).first().unwrap().record.planned.batch.clone();
    (trial, letter)
}

/// A pot mixed by a tap carries a recipe that the program wrote; it names the jar still, and takes from it.
#[test]
fn a_pot_mixed_by_a_tap_takes_from_its_jar() {
    let mut kitchen = Kitchen::new();
    let id = kitchen.begin(&TypedBinder { water: "300".into(), ..tern() }).unwrap();
    let before = kitchen.view(&id).strength.total_g.value.unwrap();
    let (trial, letter) = stair(&mut kitchen, "100 g casein binder, jar Tern, 150 g whiting");
    let stamp = kitchen.stamp(1);
    let sitting = kitchen.bench.begin_day(&kitchen.studio, &trial, 1, &workbench::TypedWish::default(), &stamp).unwrap();
    for turn in 0..20 {
        let show::NowView::Day(day) = kitchen.bench.now(&kitchen.studio.state(), kitchen.now()) else { panic!("no day") };
        if kitchen.studio.state().batch_of(&trial, &letter).is_some() {
            break;
        }
        let stamp = kitchen.stamp(30);
        let tap = workbench::TypedTap {
            id: format!("{:032x}", 500 + turn),
            seq: turn + 1,
            step: day.steps[0].id.clone(),
            kind: "done".into(),
            at_ms: stamp.at.seconds * 1000,
            ..workbench::TypedTap::default()
        };
        let said = kitchen.bench.tap(&kitchen.studio, &sitting, &[tap], "phone", stamp.at);
        assert_eq!(said.outcomes[0].outcome, "stored", "{:?}", said.outcomes);
    }
    let state = kitchen.studio.state();
    let batch = &state.batch_of(&trial, &letter).unwrap().record;
    assert!(batch.told.contains("jar Tern"), "{}", batch.told);
    assert_eq!(batch.binder.as_deref(), Some(id.as_str()));
    assert!(batch.binder_g.is_some());
    let took: f64 = state.batches.values().map(|batch| batch.record.binder_g.unwrap()).sum();
    let view = kitchen.view(&id);
    // Arithmetic: what the jar held, less what the pot took.
    near(view.strength.total_g.value, before - took, 1e-6);
    assert!(view.used_in.iter().any(|used| used.name.contains(&format!("pot {letter}"))), "{:?}", view.used_in);
    let page = kitchen.bench.pot_page(&state, (&trial, &letter), &workbench::PotAsk::default(), kitchen.now()).unwrap();
    let words = workbench::PaperWords::default();
    let paper = kitchen.bench.trial_paper(&kitchen.studio, &state, &trial, &words, kitchen.now().local().0).unwrap();
    assert!(format!("{:?}", paper.view.stayed).contains("2 l skim milk, white vinegar 5 %, baking soda"), "{:?}", paper.view.stayed);
    assert!(page.jar.contains("jar Tern") && page.jar.contains("forecast from the milk"), "{}", page.jar);
}

/// Two jars in one recipe: the program asks, and takes neither.
#[test]
fn two_jars_in_one_recipe_are_a_question() {
    let mut kitchen = Kitchen::new();
    kitchen.begin(&tern()).unwrap();
    kitchen.begin(&TypedBinder { name: "Gull".into(), ..tern() }).unwrap();
    let (trial, letter) = stair(&mut kitchen, "100 g casein binder, jar Tern, 150 g whiting");
    let told = "50 g casein binder, jar Tern, 50 g casein binder, jar Gull, 150 g whiting";
    assert_eq!(kitchen.bench.binder_named(&kitchen.studio.state(), told), None);
    let stamp = kitchen.stamp(1);
    let refused = kitchen.bench.mix_pot(&kitchen.studio, (&trial, &letter), told, "", 0, &stamp).unwrap_err().to_string();
    assert!(refused.contains("which one goes in?") && refused.contains("Tern") && refused.contains("Gull"), "{refused}");
    kitchen.begin(&TypedBinder { name: "Tern two".into(), ..tern() }).unwrap();
    let state = kitchen.studio.state();
    let two = kitchen.bench.binder_named(&state, "50 g casein binder, jar Tern two, 150 g whiting").unwrap();
    assert_eq!(state.binders[&two].record.name, "Tern two");
}

/// Striking a measurement after a pot took from the jar: what the pot took stays taken, and the forecast comes back.
#[test]
fn a_struck_measurement_leaves_what_a_pot_took() {
    let mut kitchen = Kitchen::new();
    let id = kitchen.begin(&TypedBinder { water: "300".into(), ..tern() }).unwrap();
    let before = kitchen.view(&id).strength.total_g.value.unwrap();
    kitchen.measure(&id, "strain", "contents", "480").unwrap();
    let entry = kitchen.view(&id).measures[0].entry;
    let told = "100 g casein binder, jar Tern, 150 g whiting";
    let (trial, letter) = stair(&mut kitchen, told);
    let stamp = kitchen.stamp(1);
    kitchen.bench.mix_pot(&kitchen.studio, (&trial, &letter), told, "", 0, &stamp).unwrap();
    // Arithmetic: 480 - 100.
    near(kitchen.view(&id).strength.total_g.value, 380.0, 1e-6);
    let stamp = kitchen.stamp(1);
    kitchen.bench.take_back(&kitchen.studio, entry, "a slip", &stamp).unwrap();
    near(kitchen.view(&id).strength.total_g.value, before - 100.0, 1e-6);
    assert_eq!(kitchen.view(&id).used_in[0].grams, "100\u{a0}g");
}

/// Now names the jar that spoils and the step that waits, with the way to its page, in words without hours; a day whose pots take more
/// than the jar holds says so.
#[test]
fn now_and_the_day_speak_of_the_jar() {
    let mut kitchen = Kitchen::new();
    let id = kitchen.begin(&TypedBinder { water: "300".into(), ..tern() }).unwrap();
    kitchen.step(&id, "curdle").unwrap();
    let state = kitchen.studio.state();
    let show::NowView::Quiet(quiet) = kitchen.bench.now(&state, kitchen.now()) else { panic!("a day") };
    assert!(quiet.spoiling[0].say.starts_with("Jar Tern: today."), "{:?}", quiet.spoiling);
    assert!(quiet.waiting[0].say.starts_with("Jar Tern: it rests until "), "{:?}", quiet.waiting);
    assert_eq!(quiet.waiting[0].at, format!("/binder/{id}"));
    let later = Moment { seconds: kitchen.seconds + 3 * 86_400, ..kitchen.now() };
    let show::NowView::Quiet(quiet) = kitchen.bench.now(&state, later) else { panic!("a day") };
    let bin = &quiet.spoiling[0].say;
    assert!(bin.starts_with("Jar Tern: bin it.") && bin.contains("smells, thins") && !bin.contains(" h "), "{bin}");

    // Arithmetic: 400 - 380 = 20.
    kitchen.measure(&id, "strain", "contents", "400").unwrap();
    kitchen.measure(&id, "use", "taken", "380").unwrap();
    let (trial, _) = stair(&mut kitchen, "100 g casein binder, jar Tern, 150 g whiting");
    let state = kitchen.studio.state();
    let days = kitchen.bench.plan_day(&state, &trial, 1, &workbench::TypedWish::default(), kitchen.now().local().0).unwrap();
    assert!(days.warnings[0].starts_with("Tern holds about 20\u{a0}g, these pots take "), "{:?}", days.warnings);
    let next = notebook::Day::from_number(kitchen.now().local().0.number() + 2);
    let days = kitchen.bench.plan_day(&state, &trial, 1, &workbench::TypedWish::default(), next).unwrap();
    assert!(days.warnings[0].contains("past its time on this day"), "{:?}", days.warnings);
}
