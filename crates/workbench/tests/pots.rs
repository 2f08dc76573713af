//! A pot over its day, in a studio in memory: weighed, laid from, weighed again, thinned, saved. And the walk through a day.
#![expect(clippy::unwrap_used, clippy::indexing_slicing, reason = "in a test a panic is the report")]

use workbench::{Moment, PotAsk, Stamp, Studio, StudioError, TypedCoat, TypedPot, TypedTrial, Workbench};

struct Day {
    bench: Workbench,
    studio: Studio,
    trial: String,
    seconds: i64,
    chance: u128,
}

impl Day {
    /// One recipe, two pots of a two-by-two on 20 x 25 cm panels; pot letters as the plan gives them.
    fn new() -> Self {
        let bench = Workbench::open().unwrap();
        let studio = Studio::in_memory(true).unwrap();
        let mut day = Self { bench, studio, trial: String::new(), seconds: 1_795_600_000, chance: 0 };
        let form = TypedTrial {
            kind: "stair".into(),
            question: "How many coats can the chalk ground carry?".into(),
            measure: "first_cracked_strip".into(),
            way: "larger".into(),
            names: [("recipe_a".to_owned(), "chalk".to_owned())].into(),
            counts: [("boards", "2"), ("pots", "1"), ("days", "1"), ("strips", "2")].map(|(a, b)| (a.to_owned(), b.to_owned())).into(),
            yardstick: "the usual ground".into(),
            support: "birch plywood".into(),
            size: "20 x 25 cm".into(),
            ..TypedTrial::default()
        };
        let stamp = day.stamp(0);
        day.trial = day.bench.ask_trial(&day.studio, &form, &stamp).unwrap();
        let from = day.studio.state().trials[&day.trial].n;
        // 15 g glue, 210 g water, 300 g chalk: 525 g, of which 315 g stay (60 hundredths).
        let recipes: std::collections::BTreeMap<String, String> = ["chalk", "the usual ground"]
            .iter()
            .map(|name| ((*name).to_owned(), "15 g hide glue, 210 g water, 300 g whiting".to_owned()))
            .collect();
        let stamp = day.stamp(60);
        day.bench.tell_recipes(&day.studio, (&day.trial, from), &recipes, &stamp).unwrap();
        let stamp = day.stamp(60);
        day.bench.fix_plan(&day.studio, &day.trial, &stamp).unwrap();
        day
    }

    fn stamp(&mut self, later: i64) -> Stamp {
        self.seconds += later;
        self.chance += 1;
        Stamp { at: self.now(), device: "desk".into(), chance: self.chance }
    }

    fn now(&self) -> Moment {
        Moment { seconds: self.seconds, offset_minutes: 60 }
    }

    fn letter(&self) -> String {
        self.studio.state().boards_of(&self.trial)[0].record.planned.batch.clone()
    }

    fn weigh(&mut self, later: i64, grams: &str, water: bool) -> Result<(), StudioError> {
        let (stamp, letter) = (self.stamp(later), self.letter());
        let typed = TypedPot { grams: grams.into(), water, ..TypedPot::default() };
        self.bench.weigh_pot(&self.studio, (&self.trial, &letter), &typed, &stamp)
    }

    /// Lays a coat on the first boards of the pot that still want one.
    fn lay(&mut self, before: &str, after: &str) {
        let letter = self.letter();
        let state = self.studio.state();
        let board = state
            .boards_of(&self.trial)
            .into_iter()
            .filter(|board| board.record.planned.batch == letter)
            .min_by_key(|board| state.coats_of(&board.subject).len())
            .unwrap()
            .subject
            .clone();
        let stamp = self.stamp(60);
        let typed = TypedCoat { board, before: before.into(), after: after.into(), ..TypedCoat::default() };
        self.bench.lay_coat(&self.studio, &typed, &stamp).unwrap();
    }

    fn page(&self, ask: &PotAsk) -> show::PotPage {
        self.bench.pot_page(&self.studio.state(), (&self.trial, &self.letter()), ask, self.now()).unwrap()
    }

    fn look(&self) -> show::PotPage {
        self.page(&PotAsk::default())
    }
}

#[test]
fn a_pot_over_its_day() {
    let mut day = Day::new();
    assert!(day.look().next.contains("truly went in"));
    let (letter, stamp) = (day.letter(), day.stamp(60));
    let told = "15 g hide glue, 208 g water, 302 g whiting";
    day.bench.mix_pot(&day.studio, (&day.trial, &letter), told, "", 0, &stamp).unwrap();
    let page = day.look();
    assert!(page.next.ends_with("on the scale."), "{}", page.next);
    let whiting = page.lines.iter().find(|line| line.weighed.starts_with("302")).unwrap();
    assert_eq!((whiting.planned.as_str(), whiting.beside.as_str()), ("300\u{a0}g", "2\u{a0}g more"));

    day.weigh(60, "520", false).unwrap();
    let page = day.look();
    assert!(page.masses[0].what == "as mixed" && page.next.contains("again"), "{}", page.next);
    // 317 of 525 g stay: 60 hundredths.
    assert!(page.stands.starts_with("As mixed, 60"), "{}", page.stands);

    // Two coats of 10 g; then 470 g on the scale: 520 - 20 - 470 = 30 g of water went in an hour.
    day.lay("300", "310");
    day.lay("300", "310");
    day.weigh(3_600, "470", false).unwrap();
    let page = day.look();
    assert!(page.lost.starts_with("30.0\u{a0}g"), "{}", page.lost);
    // By hand: if it went before the coats, 520 g hold 313.98 g; 490 g were left, 470 of them with 301.16 g; at the first share of
    // 0.60381 they want 301.16 / 0.60381 - 470 = 28.8 g. If after, 500 g hold 301.90 g and the 470 want all 30 g.
    // A gram of the scale beside each end: 27.8 to 31.
    assert!(page.add == "29\u{a0}g (28 to 31)", "{}", page.add);
    assert!(page.next.starts_with("Put ") && page.next.contains("of water back"), "{}", page.next);
    assert!(page.used.starts_with("20.0\u{a0}g"), "{}", page.used);
    // A cold pot 18 cm wide loses 1 to 1.5 g in an hour: thirty are more than air takes.
    assert!(page.trust.iter().any(|line| line.contains("in the brush")), "{:?}", page.trust);

    day.weigh(60, "29", true).unwrap();
    day.weigh(60, "499", false).unwrap();
    let page = day.look();
    assert!(page.add.is_empty(), "{}", page.add);
    assert_eq!(page.masses.len(), 4);
    assert!(day.bench.log(&day.studio.state(), &workbench::LogPage::default()).rows[1].what.starts_with("water put into pot"));
}

#[test]
fn weights_that_cannot_be_are_said_to_be_so() {
    let mut day = Day::new();
    let (letter, stamp) = (day.letter(), day.stamp(60));
    day.bench.mix_pot(&day.studio, (&day.trial, &letter), "15 g hide glue, 210 g water, 300 g whiting", "", 0, &stamp).unwrap();
    for odd in ["", "0", "-5", "much", "1e9", "99999"] {
        assert!(matches!(day.weigh(60, odd, false), Err(StudioError::Typed(_))), "{odd}");
    }
    let stamp = day.stamp(60);
    let typed = TypedPot { grams: "500".into(), vessel: "600".into(), ..TypedPot::default() };
    assert!(day.bench.weigh_pot(&day.studio, (&day.trial, &letter), &typed, &stamp).is_err());
    let none =
        day.bench.weigh_pot(&day.studio, (&day.trial, "no such pot"), &TypedPot { grams: "5".into(), ..TypedPot::default() }, &stamp);
    assert_eq!(none, Err(StudioError::Missing("pot")));
    day.weigh(60, "520", false).unwrap();
    // Heavier than it was, and nothing put in: 560 - 520 = 40 g.
    day.weigh(60, "560", false).unwrap();
    let page = day.look();
    assert!(page.next.contains("do not fit together") && page.trust.iter().any(|line| line.contains("40 g more")), "{:?}", page.trust);
}

#[test]
fn thick_and_thin_keep_the_dry_recipe() {
    let mut day = Day::new();
    let (letter, stamp) = (day.letter(), day.stamp(60));
    day.bench.mix_pot(&day.studio, (&day.trial, &letter), "15 g hide glue, 210 g water, 300 g whiting", "", 0, &stamp).unwrap();
    day.weigh(60, "525", false).unwrap();
    // 315 g stay of 525. To 50 hundredths: 315 / 0.5 - 525 = 105 g of water.
    let thinner = day.page(&PotAsk { wish: "50".into(), ..PotAsk::default() }).mended.unwrap();
    assert_eq!(thinner.water_g, "105");
    // A tenth more of its 210 g of water is 21 g.
    assert_eq!(day.page(&PotAsk { more: "10".into(), ..PotAsk::default() }).mended.unwrap().water_g, "21");
    // To 70 hundredths 525 - 315 / 0.7 = 75 g have to go; or (315 + x) / (525 + x) = 0.7 gives x = 52.5 / 0.3 = 175 g of dry mix,
    // of which 300 / 315 is powder (167 g) and 15 / 315 glue (8 g).
    let thicker = day.page(&PotAsk { wish: "70".into(), ..PotAsk::default() }).mended.unwrap();
    assert!(thicker.says.contains("75\u{a0}g") && thicker.says.contains("can't be taken out"), "{}", thicker.says);
    assert!(thicker.more[1].contains("167\u{a0}g of powder and 8\u{a0}g of dry binder"), "{:?}", thicker.more);
    // Open, 18 cm wide: 75 g at 40 to 60 g/m2 and hour on 0.02545 m2 take 49 to 74 h: days.
    assert!(thicker.more[0].contains("days"), "{:?}", thicker.more);
    let odd = |wish: &str| {
        let ask = PotAsk { wish: wish.into(), ..PotAsk::default() };
        day.bench.pot_page(&day.studio.state(), (&day.trial, &letter), &ask, day.now())
    };
    assert!(odd("0").is_err() && odd("250").is_err() && odd("thick").is_err());
}

#[test]
fn a_glue_pot_is_saved_as_a_glue_pot() {
    let mut day = Day::new();
    let (letter, stamp) = (day.letter(), day.stamp(60));
    day.bench.mix_pot(&day.studio, (&day.trial, &letter), "15 g hide glue, 210 g water, 300 g whiting", "", 0, &stamp).unwrap();
    let of = |sight: &str| day.page(&PotAsk { sight: sight.into(), ..PotAsk::default() }).rescues;
    assert!(of("thick")[0].remedy.contains("water bath"));
    assert!(of("setting").iter().all(|one| one.pots.is_empty()), "there is no plaster in it");
    assert!(of("sour")[0].caution.contains("Never bleach"));
    assert!(of("dance").is_empty());
}

#[test]
fn a_day_is_shown_from_milk_to_washing_up() {
    let view = Workbench::open().unwrap().walk().unwrap();
    assert_eq!(view.frames.len(), 9);
    assert!(view.sentence.contains("invented"));
    for frame in &view.frames {
        assert!(frame.picture.contains("role=\"img\"") && frame.caution.contains("safety data sheet"), "{}", frame.key);
    }
    // By hand: the curd is opened at nine; 50 + 600 minutes of washing and hanging before that is 22:10, and 35 + 90 before that 20:05.
    let about: Vec<&str> = view.frames.iter().take(3).map(|frame| frame.about.as_str()).collect();
    assert_eq!(about, ["20:05 the evening before", "22:10 the evening before", "9:00"]);
    let took: Vec<&str> = view.frames.iter().flat_map(|frame| frame.take.iter().map(|one| one.material.as_str())).collect();
    assert_eq!(took, ["skim-milk", "vinegar", "baking-soda", "natural-chalk", "water"]);
    // Worked out by hand beside the table of steps: 356 minutes.
    assert!(view.lasts.contains("evening before") && view.lasts.contains("5\u{a0}h 56\u{a0}min"), "{}", view.lasts);
}
