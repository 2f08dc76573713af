//! What a card says and does not say.
#![expect(clippy::unwrap_used, reason = "in a test a panic is the report")]

use show::Card;
use workbench::{MilkForm, TextError, VerdictRequest, Workbench};

fn request(told: &str) -> VerdictRequest {
    VerdictRequest { told: told.into(), ..VerdictRequest::default() }
}

fn card(told: &str) -> Card {
    Workbench::open().unwrap().verdict(&request(told)).unwrap()
}

#[track_caller]
fn minds(told: &str, words: &str) {
    let card = card(told);
    assert!(card.mind.iter().any(|caution| caution.text.contains(words)), "{:?}", card.mind.iter().map(|c| &c.text).collect::<Vec<_>>());
}

#[test]
fn the_borax_pot_carries_the_warning_of_borax() {
    // 16 g in 306 g is 5.2 %, above 0.3 % (Regulation (EU) 2021/849, from memory).
    minds("40 g casein powder, 250 g water, 16 g borax", "5.2\u{a0}% of this pot");
    // With 300 g of chalk in it, 16 in 606 g.
    minds("40 g casein powder, 250 g water, 16 g borax, 300 g whiting", "2.6\u{a0}% of this pot");
    minds("40 g casein powder, 250 g water, 16 g borax, 300 g whiting", "A way without borax");
}

#[test]
fn what_must_not_meet_is_said() {
    minds("2 l skim milk, 200 ml vinegar, 300 g whiting, 1 tsp baking soda", "chlorine");
    minds("100 g zinc white, 50 ml linseed oil", "soaps");
    minds("14 g hide glue, 200 ml water, 250 g plaster of paris", "sets in the pot");
    minds("14 g hide glue, 200 ml water, 250 g plaster of paris", "down a drain");
    minds("50 g quark, 10 g lime putty, 100 g gypsum", "doctor");
    minds("3 l whole milk, vinegar, 300 g whiting, 1 tsp baking soda", "cream");
    minds("40 g casein powder, 12 g baking soda, 300 ml water, 300 g gypsum", "jar test");
}

#[test]
fn grave_dangers_are_never_folded_away() {
    let lead = card("100 g hide glue, 1 kg whiting, 1 kg lead white, 1 l water");
    assert!(lead.mind.iter().any(|caution| caution.grave && caution.about == "lead white"));
    assert!(lead.bar.is_none() && lead.sentence.contains("lead white"), "{}", lead.sentence);
}

#[test]
fn a_large_amount_that_was_not_understood_spoils_the_word_and_a_drop_does_not() {
    let lost = card("14 g hide glue, 250 g zork powder, 200 ml water, 20 g whiting");
    assert!(lost.bar.is_none() && lost.sentence.contains("zork"), "{}", lost.sentence);
    assert!(card("14 g hide glue, 200 ml water, 250 g whiting, 3 drops wintergreen").bar.is_some());
}

#[test]
fn talc_oil_egg_and_primer_get_no_word() {
    for told in
        ["100 g talc, 10 g hide glue, 100 g water", "100 g whiting, 60 g linseed oil", "1 tin of shop primer", "2 eggs, 100 g whiting"]
    {
        let card = card(told);
        assert!(card.bar.is_none(), "{told}: {}", card.sentence);
        assert!(card.report.word.first.is_none() && card.report.word.why.is_some());
    }
}

#[test]
fn a_missing_amount_is_answered_with_what_would_be_usual() {
    // By hand: 10 g glue carries 55.7 g (place 1.10) to 245.7 g (place 1.40) of chalk.
    let card = card("10 g hide glue, 100 ml water, whiting until it is like cream");
    assert!(
        card.sentence.contains("60 to 250") || card.sentence.contains("56 to 246") || card.sentence.contains("50 to 250"),
        "{}",
        card.sentence
    );
}

#[test]
fn an_open_question_keeps_its_doubt_and_an_answer_takes_it() {
    let bench = Workbench::open().unwrap();
    let open = bench.verdict(&request("50 g casein, 400 ml water, 500 g whiting")).unwrap();
    let answered = VerdictRequest {
        choices: [("material:casein".to_owned(), "casein-powder".to_owned())].into(),
        ..request("50 g casein, 400 ml water, 500 g whiting")
    };
    let closed = bench.verdict(&answered).unwrap();
    let width = |card: &Card| card.bar.map(|bar| bar.high - bar.low).unwrap();
    assert!(width(&closed) < 0.6 * width(&open));
    assert!(open.questions.iter().any(|question| !question.answered) && closed.questions.iter().any(|question| question.answered));
}

#[test]
fn advice_leads_to_the_middle_of_usual() {
    let bench = Workbench::open().unwrap();
    let rich = bench.verdict(&request("50 g hide glue, 400 ml water, 200 g whiting")).unwrap();
    let what = &rich.change[0].what;
    let grams: f64 = what.split("powder: ").nth(1).unwrap().split('\u{a0}').next().unwrap().parse().unwrap();
    let after = bench.verdict(&request(&format!("50 g hide glue, 400 ml water, {grams} g whiting"))).unwrap();
    assert!((after.bar.unwrap().value - 1.25).abs() < 0.01, "{what}");
}

#[test]
fn settings_out_of_range_are_refused_by_name() {
    let bench = Workbench::open().unwrap();
    for wet in [f64::NAN, 0.0, 9000.0, -5.0] {
        assert_eq!(bench.verdict(&VerdictRequest { wet_um: Some(wet), ..request("14 g glue, 250 g whiting") }), Err(TextError::Wet));
    }
    assert_eq!(bench.verdict(&VerdictRequest { coats: Some(0), ..request("14 g glue, 250 g whiting") }), Err(TextError::Coats));
}

#[test]
fn one_lemon_is_not_enough_for_a_litre() {
    // 45 ml at 48 g/l: 2.16 g of citric acid against 4.03 g for pH 4.6; 1.87 lemons (Penniston et al. 2008 for the strength; dose table).
    let view =
        Workbench::open().unwrap().milk(&MilkForm { milk: "1 l skim milk".into(), acid: "1 lemon".into(), ..MilkForm::default() }).unwrap();
    assert!(view.acid.starts_with("No") && view.acid.contains("1.9 lemons"), "{}", view.acid);
    assert_eq!(view.report.acid_enough, "no");
    assert!((view.report.ph.value.unwrap() - 5.13).abs() < 0.02);
}

#[test]
fn the_recipe_from_milk_is_a_usual_ground() {
    let bench = Workbench::open().unwrap();
    for powder in ["chalk", "marble dust", "gypsum", "titanium white"] {
        let view = bench.milk(&MilkForm { powder: powder.into(), ..MilkForm::default() }).unwrap();
        let card = bench.verdict(&VerdictRequest { strict: true, ..request(&view.report.recipe) }).unwrap();
        assert!((card.bar.unwrap().value - 1.25).abs() < 0.01, "{powder}: {}", card.sentence);
    }
}

#[test]
fn what_is_no_milk_and_no_plain_powder_is_refused_by_field() {
    let bench = Workbench::open().unwrap();
    let says = |form: MilkForm| bench.milk(&form).unwrap_err().to_string();
    assert!(says(MilkForm { milk: "1 l oat milk".into(), ..MilkForm::default() }).starts_with("milk: "));
    assert!(says(MilkForm { milk: "-2 l skim milk".into(), ..MilkForm::default() }).starts_with("milk: "));
    for powder in ["plaster of paris", "talc", "lead white", "moon dust"] {
        assert!(says(MilkForm { powder: powder.into(), ..MilkForm::default() }).starts_with("powder: "), "{powder}");
    }
    assert!(says(MilkForm { acid: "hydrochloric acid".into(), ..MilkForm::default() }).starts_with("acid: "));
    assert!(says(MilkForm { boards: 0, ..MilkForm::default() }).starts_with("boards: "));
    assert!(says(MilkForm { size: "big".into(), ..MilkForm::default() }).starts_with("size: "));
    assert!(says(MilkForm { size: "20 x 25".into(), ..MilkForm::default() }).contains("in which unit"));
}

#[test]
fn the_thickness_is_answered_in_tenths_or_not_at_all() {
    // Common practice, no source: a gilder's glue ground of much chalk holds.
    let lean = card("14 g hide glue, 200 ml water, 250 g whiting");
    assert!(lean.thickness.sentence.contains("fewer than one such ground in ten"), "{}", lean.thickness.sentence);
    assert_eq!(lean.report.rests_on, "argued from books: order and direction only");
    let bench = Workbench::open().unwrap();
    let rich = VerdictRequest { wet_um: Some(800.0), coats: Some(4), ..request("40 g casein powder, 250 ml water, 60 g whiting") };
    let rich = bench.verdict(&rich).unwrap();
    assert!(rich.report.crack_chance.all_coats.value.unwrap() >= 0.5, "{:?}", rich.report.crack_chance);
    // No thickness beyond 1 mm in words.
    for text in std::iter::once(&lean.thickness.sentence).chain(&lean.thickness.more) {
        assert!(!text.contains("000\u{a0}\u{b5}m"), "{text}");
    }
}

#[test]
fn what_is_not_known_about_cracks_is_said() {
    let bench = Workbench::open().unwrap();
    let on = |support: &str| VerdictRequest { support: Some(support.into()), ..request("14 g hide glue, 200 ml water, 250 g whiting") };
    assert_eq!(bench.verdict(&on("cardboard")), Err(TextError::Support));
    assert!(bench.verdict(&on("mdf")).unwrap().thickness.sentence.starts_with("On MDF"));
    // Chalk 250 g is 92.25 ml; 60.5 g of glue 47.6 ml: powder share 0.660, place on the rule 1.00.
    let edge = card("60.5 g hide glue, 400 ml water, 250 g whiting");
    assert!(edge.report.crack_chance.all_coats.value.is_none() && edge.thickness.sentence.contains("can't be said"));
    assert!(card("100 g whiting, 60 g linseed oil").report.crack_chance.all_coats.why.is_some());
}

/// Thick glue ground gives way to damp in the end, a thin one does not (Krzemien et al., Stud. Conserv. 61 (2016) 324, abstract: ground of
/// 0.5 to 1 mm cracked); the words tell no number of spells or years.
#[test]
fn damp_weather_ranks_thick_and_thin() {
    let bench = Workbench::open().unwrap();
    let said = |wet: f64, coats: u32| {
        let request = VerdictRequest {
            told: "100 g chalk, 10 g hide glue, 100 g water".into(),
            wet_um: Some(wet),
            coats: Some(coats),
            ..VerdictRequest::default()
        };
        let more = bench.verdict(&request).unwrap().thickness.more;
        more.into_iter().find(|more| more.starts_with("Damp weather, again")).unwrap()
    };
    assert!(said(200.0, 10).contains("a thick sound ground such as this;"), "{}", said(200.0, 10));
    assert!(said(100.0, 2).contains("a thin one such as this is safer"), "{}", said(100.0, 2));
    for words in [said(200.0, 10), said(100.0, 2)] {
        assert!(!words.chars().any(|c| c.is_ascii_digit()) && !words.contains("year"), "{words}");
    }
}

/// A ground near the critical share gets no answer, its window is hatched there; a recipe without water has no picture.
#[test]
fn the_window_says_where_it_can_say_nothing() {
    let bench = Workbench::open().unwrap();
    let ask = |told: &str| bench.window(&[VerdictRequest { told: told.into(), ..VerdictRequest::default() }]).unwrap().panels.remove(0);
    let near = ask("100 g chalk, 24 g casein powder, 150 g water");
    let picture = near.picture.as_ref().unwrap();
    assert!(picture.near.is_some_and(|(from, to)| (from..to).contains(&picture.mark.binder[1])), "{picture:?}");
    assert!(near.sentence.contains("can't be said") && near.more[0].contains("nobody can say"), "{near:?}");
    let none = ask("chalk until it is like cream, some glue");
    assert!(none.picture.is_none() && none.sentence.contains("can't be said"), "{none:?}");
    assert!(ask("100 g chalk, 60 g linseed oil, 20 g water").picture.is_none());
    let five: Vec<VerdictRequest> = (1..=7u32)
        .map(|n| VerdictRequest { told: format!("100 g chalk, {} g hide glue, 100 g water", 5 * n), ..VerdictRequest::default() })
        .collect();
    let view = bench.window(&five).unwrap();
    assert_eq!(view.panels.len(), 5);
    let ends: Vec<f64> = view.panels.iter().filter_map(|panel| panel.picture.as_ref()).map(|picture| picture.most_binder).collect();
    assert!(ends.len() == 5 && ends.iter().all(|end| (end - ends[0]).abs() < 1e-9), "same axes: {ends:?}");
}
