//! Recipes in the painter's words, each with what any reader of the sentence would write down.
//! Common practice, no source: the sentences and their sense were written by hand.
#![expect(clippy::unwrap_used, reason = "in a test a panic is the report")]

mod brief;

use brief::{brief, lost, told};
use materials::{Amount, Catalogue, ChipKind, Fill, NotGiven, Piece, QuestionId, Reading, Setting, Wishes, read, read_strict};
use measure::Units;

#[test]
fn sentences_and_what_they_say() {
    for (text, expected) in [
        (
            "chalk: 250 g\nchalk - 1 1/2 cups\nchalk 250",
            &["natural-chalk 250 gram", "natural-chalk 1.5 cup-us", "natural-chalk 250 gram"][..],
        ),
        ("rabbit skin glue 1:10", &["rabbit-skin-glue 1 weight parts", "water 10 weight parts"]),
        ("glue to water 1:10", &["hide-glue 1 weight parts", "water 10 weight parts"]),
        ("200 ml of 1:10 glue size", &["glue-size 200 millilitre at 1:10"]),
        ("10 % glue solution 300 ml, chalk 250 g", &["glue-size 300 millilitre at 10 %", "natural-chalk 250 gram"]),
        ("7% size 1 l", &["glue-size 1 litre at 7 %"]),
        ("500 ml white vinegar 5 %", &["vinegar 500 millilitre at 5 %"]),
        ("1 cup chalk (180 g)", &["natural-chalk 180 gram"]),
        ("1 cup (180 g) chalk", &["natural-chalk 180 gram"]),
        ("200 g chalk, same again of marble dust", &["natural-chalk 200 gram", "marble-dust 200 gram"]),
        ("glue size 300 ml, equal volume of chalk", &["glue-size 300 millilitre at ?", "natural-chalk 1 volumes"]),
        ("equal parts of chalk and gypsum", &["natural-chalk 1 parts", "gypsum 1 parts"]),
        ("22 g glue, twice as much chalk as glue", &["hide-glue 22 gram", "natural-chalk 44 gram"]),
        ("chalk, gypsum and kaolin 1:1:1", &["natural-chalk 1 parts", "gypsum 1 parts", "kaolin 1 parts"]),
        ("30 g glue, alum 1% of the glue", &["hide-glue 30 gram", "potash-alum 0.3 gram"]),
        ("60% chalk 10% casein 30% water", &["natural-chalk 60 %", "casein-powder 10 %", "water 30 %"]),
        (
            "2 cups skim milk, juice of two lemons, a pinch of alum, 3 eggs",
            &["skim-milk 2 cup-us", "lemon 2 pieces", "potash-alum 1 pinch", "egg 3 pieces"],
        ),
        (
            "soak 1 part hide glue in 10 parts water by weight, add 12 parts whiting",
            &["hide-glue 1 weight parts", "water 10 weight parts", "natural-chalk 12 weight parts"],
        ),
        ("chalk until like cream, honey to taste, enough water to cover", &["natural-chalk ByEye", "honey ByEye", "water ByEye"]),
        ("250 g chalk\n30 g glue\nstir the chalk into the glue", &["natural-chalk 250 gram", "hide-glue 30 gram"]),
        ("chalk 250 g, no borax, without glue", &["natural-chalk 250 gram"]),
        ("talc 100 g instead of kaolin", &["talc 100 gram"]),
        ("40 g casein, dry weight", &["casein-powder 40 gram dry"]),
        ("40 g dry casein", &["casein-powder 40 gram"]),
        ("casein powder dry 40 g", &["casein-powder 40 gram dry"]),
        ("200 g fresh curd, well pressed", &["curd-pressed 200 gram"]),
        ("2 kg slaked plaster, lime putty 30 g", &["gypsum 2 kilogram", "lime-putty 30 gram"]),
        ("50 gr chalk", &["natural-chalk 50 gram"]),
        ("chalk 1 kg 20 g glue", &["natural-chalk 1 kilogram", "hide-glue 20 gram"]),
        ("1/0 g chalk, NaN g glue, 1e99 g gypsum, 0 g talc", &["natural-chalk Absurd", "hide-glue Absurd", "gypsum Absurd", "talc Absurd"]),
        ("250 g each of chalk and gypsum", &["natural-chalk 250 gram", "gypsum 250 gram"]),
        ("zweihundertfünfzig Gramm Kreide, ein halber Liter Wasser", &["natural-chalk 250 gram", "water 0.5 litre"]),
        ("quatre-vingt-dix grammes de craie et soixante-dix grammes de talc", &["natural-chalk 90 gram", "talc 70 gram"]),
        ("duecentocinquanta grammi di talco, mezzo litro d'acqua", &["talc 250 gram", "water 0.5 litre"]),
        ("doscientos cincuenta gramos de talco, treinta y cinco gramos de miel", &["talc 250 gram", "honey 35 gram"]),
        ("a bowl of chalk", &["natural-chalk SizeUnknown"]),
    ] {
        assert_eq!(brief(text), expected, "{text}");
    }
}

#[test]
fn settings_of_the_job_become_chips() {
    let reading = told("100 g chalk, 4 coats 120 um wet on 8 boards of 20 x 25 cm");
    let area = reading.settings.iter().find_map(|setting| match setting {
        Setting::AreaSquareMetres(area) => Some(*area),
        _ => None,
    });
    // Eight boards of 0.20 m by 0.25 m are 0.4 square metres.
    assert!((area.unwrap() - 0.4).abs() < 1e-9);
    assert!(reading.settings.contains(&Setting::Boards(8.0)));
    assert!(reading.settings.iter().any(|setting| matches!(setting, Setting::Coats(range) if (range.middle() - 4.0).abs() < 1e-9)));
    assert!(
        reading.settings.iter().any(|setting| matches!(setting, Setting::WetMicrometres(range) if (range.middle() - 120.0).abs() < 1e-9))
    );
    assert_eq!(reading.chips().filter(|chip| chip.kind == ChipKind::Setting).count(), 4);
}

#[test]
fn an_ounce_of_water_is_a_question_and_an_ounce_of_chalk_is_not() {
    let reading = told("8 oz water, 8 oz chalk");
    let questions = |line: usize| match &reading.lines[line].amount {
        Amount::Volume { unit, .. } | Amount::Mass { unit, .. } => unit.candidates.len(),
        _ => 0,
    };
    assert_eq!((questions(0), questions(1)), (3, 1));
}

#[test]
fn spoons_may_be_heaped() {
    let fills: Vec<Fill> = told("1 heaped cup chalk, 1 level tsp borax, packed cup of gypsum")
        .lines
        .iter()
        .filter_map(|line| match &line.amount {
            Amount::Volume { fill, .. } => Some(*fill),
            _ => None,
        })
        .collect();
    assert_eq!(fills, [Fill::Heaped, Fill::Level, Fill::Packed]);
}

#[test]
fn one_word_asks_once_and_an_answer_holds_for_all_its_uses() {
    let (jars, units) = (Catalogue::builtin().unwrap(), Units::builtin().unwrap());
    let text = "1 cup chalk, 2 cups water";
    let cups = |reading: &Reading| reading.questions.iter().filter(|question| question.id.0 == "unit:cup").count();
    assert_eq!(cups(&told(text)), 1);
    let metric = read(jars, &units, text, &Wishes::from([(QuestionId("unit:cup".into()), "metric".into())]));
    for line in &metric.lines {
        let Amount::Volume { unit, .. } = &line.amount else { panic!("{line:?}") };
        assert_eq!((unit.candidates.len(), units.get(*unit.first().unwrap()).id.as_str()), (1, "cup-metric"));
    }
    assert_eq!(metric.questions.iter().find(|question| question.id.0 == "unit:cup").unwrap().assumed, "metric");
}

#[test]
fn a_misspelling_is_read_and_told() {
    let reading = told("250 g whitting");
    assert!(reading.lines[0].guessed.iter().any(|guess| guess == "read `whitting` as whiting"), "{:?}", reading.lines[0].guessed);
}

#[test]
fn what_nobody_knows_is_kept_and_struck() {
    let text = "250 g chalk, 3 drops of wintergreen";
    let struck: Vec<&str> = told(text)
        .pieces
        .iter()
        .filter_map(|piece| if let Piece::Struck(struck) = piece { Some(struck.span.of(text)) } else { None })
        .collect();
    assert_eq!(struck, ["3 drops", "wintergreen"]);
    assert_eq!(told("chatting about the sea, nothing else").struck().count(), 0);
}

#[test]
fn strict_text_names_every_bad_line() {
    let (jars, units) = (Catalogue::builtin().unwrap(), Units::builtin().unwrap());
    let good = "# a ground for small boards\n250 g chalk\n2 1/2 cups water # warm\n\n0,05 kg hide glue\n12-15 g honey\n½ tsp alum\n";
    assert_eq!(read_strict(jars, &units, good).unwrap().lines.len(), 5);
    assert_eq!(
        read_strict(jars, &units, "1 part = 20 g\n10 parts by weight water\n1 parts by weight hide glue\n250 g chalk\n")
            .unwrap()
            .lines
            .len(),
        3
    );
    let bad = "250 g chalk\nsome water\n0 g talc\n3 drops wintergreen\n250 chalk\n";
    let errors = read_strict(jars, &units, bad).unwrap_err();
    assert_eq!(errors.iter().map(|error| error.line).collect::<Vec<_>>(), [2, 3, 4, 5]);
    assert!(errors[0].to_string().starts_with("line 2: "));
    let mixed = read_strict(jars, &units, "250 g chalk\n30 g glue\n2 parts water\n").unwrap_err();
    assert_eq!(mixed[0].line, 3);
    assert!(matches!(read_strict(jars, &units, "").unwrap().lines.as_slice(), []));
    assert!(matches!(told("").lines.as_slice(), []));
    assert!(matches!(told("chalk").lines[0].amount, Amount::NotGiven(NotGiven::Missing)));
}

#[test]
fn an_amount_of_something_unknown_is_struck_with_its_name() {
    for (text, expected) in [
        ("30 g glue, 250 g zork powder", &["250 g", "zork powder"][..]),
        ("30 g glue, zork powder 250 g", &["zork powder", "250 g"]),
        ("30 g glue\n300 g sand\nwater", &["300 g", "sand"]),
        ("250 g chalk. A few drops of wintergreen.", &["A few drops", "wintergreen"]),
        ("250 g chalk with a splash of wintergreen", &["a splash of", "wintergreen"]),
        ("1 egg, an equal volume of zork", &["an equal volume of", "zork"]),
        ("300 g chalk, half of that is zork", &["half of that", "is zork"]),
        ("20 g glue, 300 ml water, 300 g chalk x 2", &["x 2"]),
        ("recipe x 3: 20 g glue, 300 g chalk", &["x 3"]),
        // Talk, steps, temperatures and times stay talk.
        ("warm 1 l milk to 40 degrees, rinse twice, wait 2 hours", &[]),
        ("250 g chalk, a few words to the wise", &[]),
        ("in a 5 l bucket, 300 g chalk, coats x 2", &[]),
    ] {
        assert_eq!(lost(text), expected, "{text}");
    }
    // A word beside a known material is struck, but takes no amount with it.
    let zork = told("250 g zork chalk");
    assert!(zork.struck().all(|struck| !struck.amount) && zork.lines.len() == 1);
}

#[test]
fn an_amount_stays_in_its_sentence_when_it_has_a_noun_of_its_own() {
    let text = "30 g hide glue 1:15 water. Heat 1 kg of sand. 300 g whiting";
    assert_eq!(brief(text), ["hide-glue 30 gram", "water 450 gram", "natural-chalk 300 gram"]);
    assert_eq!(lost(text), ["1 kg", "sand"]);
    assert_eq!(brief("30 g hide glue; 200 g of mica; water"), ["hide-glue 30 gram", "water Missing"]);
    assert_eq!(brief("30 g hide glue. 1 kg of sand, water"), ["hide-glue 30 gram", "water Missing"]);
}

#[test]
fn two_figures_for_one_thing_agree_or_the_second_is_struck() {
    // 1 lb = 453.6 g; 1 US cup = 236.6 ml; 14 oz = 397 g.
    assert_eq!(brief("1 lb (454 g) whiting"), ["natural-chalk 454 gram"]);
    assert_eq!(brief("500 g (1 lb) whiting"), ["natural-chalk 500 gram"]);
    assert_eq!(brief("2 cups (500 ml) water"), ["water 500 millilitre"]);
    assert_eq!(brief("1 kg (1 lb) whiting"), ["natural-chalk 1 kilogram"]);
    assert_eq!(brief("14 oz hide glue = 14 g"), ["hide-glue 14 ounce"]);
    assert_eq!(brief("whiting 500g/1lb"), ["natural-chalk 500 gram"]);
    assert_eq!(brief("40 g gelatine/600 ml/500 g whiting"), ["gelatine 40 gram", "water 600 millilitre", "natural-chalk 500 gram"]);
    assert_eq!(lost("1 kg (1 lb) whiting"), ["1 lb"]);
    let reading = told("14 oz hide glue = 14 g");
    assert!(reading.struck().all(|struck| struck.why == "does not agree with 14 oz" && struck.amount));
}

#[test]
fn amounts_that_lean_on_nothing_are_parts_or_missing() {
    for (text, expected) in [
        ("whole egg, its volume of stand oil", &["egg 1 volume parts", "stand-oil 1 volume parts"][..]),
        ("1 whole egg, its volume of stand oil", &["egg 1 pieces", "stand-oil 1 volumes"]),
        ("equal volumes of 10% glue size and whiting", &["glue-size 1 volume parts at 10 %", "natural-chalk 1 volume parts"]),
        ("twice as much whiting as zork", &["natural-chalk Missing"]),
    ] {
        assert_eq!(brief(text), expected, "{text}");
    }
    assert!(told("twice as much whiting as zork").lines[0].guessed.iter().any(|guess| guess.contains("not known")));
}

#[test]
fn a_share_of_the_powder_is_asked_for() {
    let (jars, units) = (Catalogue::builtin().unwrap(), Units::builtin().unwrap());
    let text = "300 g whiting, 100 g talc, 15 % titanium white, 30 g hide glue, 300 g water";
    // 15 % of 300 g and 100 g are 60 g.
    assert_eq!(brief(text)[2], "titanium-white 60 gram");
    let whole = read(jars, &units, text, &Wishes::from([(QuestionId("percent:of".into()), "whole".into())]));
    assert!(matches!(whole.lines[2].amount, Amount::PercentOfWhole { .. }));
    assert_eq!(brief("60% whiting 10% casein 30% water")[0], "natural-chalk 60 %");
    // A third of 300 g is 100 g, and 200 g are left.
    for text in ["300 g whiting of which a third titanium white", "300 g Schlämmkreide, davon ein Drittel Titanweiß"] {
        assert_eq!(brief(text), ["natural-chalk 200 gram", "titanium-white 100 gram"], "{text}");
    }
    assert_eq!(brief("300 g whiting, half of that is zinc"), ["natural-chalk 150 gram", "zinc-white 150 gram"]);
    assert_eq!(brief("300 g whiting, tsp honey"), ["natural-chalk 300 gram", "honey 1 teaspoon-us"]);
}

#[test]
fn milk_that_is_drained_is_told_from_milk() {
    for text in [
        "curd from 1 gallon skim milk, 10 g borax",
        "the curd of 2 l milk, 300 g chalk",
        "casein from 1 l of milk, 300 g chalk",
        "Quark aus 2 l Magermilch, 300 g Kreide",
        "1 litre skim milk, 100 ml vinegar, strain and rinse, 300 g chalk",
        "1 litre skim milk. Pour off the whey. 300 g chalk",
    ] {
        assert_eq!(told(text).drained, [0], "{text}");
    }
    for text in ["1 l milk, 300 g chalk", "1 l milk, 30 g glue. Strain the glue.", "30 g casein, 1 l milk", "drain 30 g glue"] {
        assert!(told(text).drained.is_empty(), "{text}");
    }
}

#[test]
fn a_material_without_a_line_is_a_mention() {
    for text in [
        "300 g chalk, 30 g glue. Clean the brushes with bleach",
        "300 g Kreide, Pinsel mit Bleichmittel reinigen",
        "300 g de craie, rincer à l'eau de javel",
        "300 g di talco, candeggina",
        "300 g chalk, never use bleach",
        "300 g de tiza, lejía",
    ] {
        let reading = told(text);
        let named: Vec<&str> = reading.mentions.iter().map(materials::MaterialId::as_str).collect();
        assert_eq!(named, ["bleach"], "{text}");
    }
    assert!(told("250 g chalk\nstir the chalk").mentions.is_empty());
    assert!(told("casein from 1 l of milk, 300 g chalk").mentions.is_empty());
}

#[test]
fn a_mixture_named_again_is_no_second_ingredient() {
    for (text, expected) in [
        // 300 g for 200 g of it: 1.5 times the 330 g, or the 11 parts.
        (
            "30 g hide glue, 300 g water. Add 300 g whiting per 200 g of that size",
            &["hide-glue 30 gram", "water 300 gram", "natural-chalk 495 gram"][..],
        ),
        (
            "Mix hide glue and water 1:10. Add 300 g whiting per 200 g of that size",
            &["hide-glue 1 weight parts", "water 10 weight parts", "natural-chalk 16.5 weight parts"],
        ),
        (
            "hide glue:water 1:10, then glue water:whiting 1:1",
            &["hide-glue 1 weight parts", "water 10 weight parts", "natural-chalk 1 volumes"],
        ),
        // 300 g for 200 ml: 750 g for 500 ml.
        ("7 % glue size 500 ml, 300 g whiting per 200 ml of the size", &["glue-size 500 millilitre at 7 %", "natural-chalk 750 gram"]),
        ("30 g hide glue, 300 ml water. Keep 100 ml of that size.", &["hide-glue 30 gram", "water 300 millilitre"]),
    ] {
        assert_eq!(brief(text), expected, "{text}");
    }
    assert_eq!(lost("30 g hide glue, 300 ml water. Keep 100 ml of that size."), ["100 ml"]);
}

#[test]
fn a_total_gives_parts_their_weight() {
    for (text, expected) in [
        ("whiting and gypsum 1:1, zusammen 1,5 kg", &["natural-chalk 0.75 kilogram", "gypsum 0.75 kilogram"][..]),
        ("2 parts whiting, 1 part gypsum, 3 kg in total", &["natural-chalk 2 kilogram", "gypsum 1 kilogram"]),
        ("2 parts whiting, 1 part gypsum by volume, 3 kg in all", &["natural-chalk 2 volume parts", "gypsum 1 volume parts"]),
    ] {
        assert_eq!(brief(text), expected, "{text}");
    }
    assert_eq!(lost("2 parts whiting, 1 part gypsum by volume, 3 kg in all"), ["3 kg"]);
}

#[test]
fn plant_milk_is_no_milk_and_plastic_binder_no_ground() {
    for (text, expected) in [
        ("500 ml oat milk", "plant-milk 500 millilitre"),
        ("500 ml lait d'avoine", "plant-milk 500 millilitre"),
        ("500 ml Buttermilch", "buttermilk 500 millilitre"),
        ("500 ml goat's milk", "goat-milk 500 millilitre"),
        ("10 ml milk of magnesia", "magnesia-milk 10 millilitre"),
        ("acrylic medium 200ml", "acrylic-medium 200 millilitre"),
        ("Acryldispersion 100 g", "acrylic-medium 100 gram"),
        ("1 dessertspoon honey", "honey 1 dessertspoon"),
    ] {
        assert_eq!(brief(text), [expected], "{text}");
    }
    for text in ["30 g fish glue", "30 g hide glue", "30 g bone glue"] {
        let reading = told(text);
        assert!(reading.lines[0].material.candidates.iter().all(|(id, _)| id.as_str() != "pva-glue"), "{text}");
    }
}

#[test]
fn an_elided_article_is_no_litre() {
    assert_eq!(brief("300 g de talco, à l'eau"), ["talc 300 gram", "water Missing"]);
    assert_eq!(brief("recipe x 3: 20 g hide glue"), ["hide-glue 20 gram"]);
}
