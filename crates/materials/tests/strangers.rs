//! Stuff that only sounds like a known one, and amounts that are told but not meant.
//! Common practice, no source: the sentences and their sense were written by hand.
#![expect(clippy::unwrap_used, reason = "in a test a panic is the report")]

mod brief;

use brief::{brief, lost, told};

#[test]
fn a_salt_of_a_known_stuff_is_another_stuff() {
    for (text, expected) in [
        ("650 g zinc sulphate, 30 g hide glue", &["650 g", "zinc sulphate"][..]),
        ("15 g zinc chloride, 300 g talc", &["15 g", "zinc chloride"]),
        ("zinc sulphide 20 g, 300 g talc", &["zinc sulphide", "20 g"]),
        ("chlorure de zinc 5 g, 300 g de talc", &["chlorure de zinc", "5 g"]),
        ("300 g talc, 5 g sodium silicate", &["5 g", "sodium silicate"]),
        ("300 g talc, 5 g potassium silicate", &["5 g", "potassium silicate"]),
        ("300 g talc, 5 g waterglass", &["5 g", "waterglass"]),
        ("300 g talc, 5 g water glass", &["5 g", "water glass"]),
        ("300 g Talkum, 5 g Wasserglas", &["5 g", "Wasserglas"]),
    ] {
        assert_eq!(lost(text), expected, "{text}");
        assert_eq!(brief(text).len(), 1, "{text}");
    }
    // Salts that have a name of their own. Talc is a magnesium silicate, china clay an aluminium silicate.
    assert_eq!(
        brief("300 g calcium sulphate, 10 g barium sulphate, 20 g calcium carbonate, 3 g ammonium carbonate"),
        ["gypsum 300 gram", "barite 10 gram", "natural-chalk 20 gram", "ammonium-carbonate 3 gram"]
    );
    assert_eq!(brief("3 g potassium aluminium sulphate"), ["potash-alum 3 gram"]);
    assert_eq!(
        brief("100 g magnesium silicate, 20 g aluminium silicate, 20 g aluminum silicate"),
        ["talc 100 gram", "kaolin 20 gram", "kaolin 20 gram"]
    );
}

#[test]
fn poisons_of_old_recipes_are_known_for_their_danger() {
    for (text, id) in [
        ("a little phenol", "carbolic-acid"),
        ("1 g Karbolsäure", "carbolic-acid"),
        ("1 g corrosive sublimate", "mercury-chloride"),
        ("1 g sublimé corrosif", "mercury-chloride"),
        ("1 g arsenic", "arsenic"),
        ("1 g ammonium dichromate", "dichromate"),
        ("1 g bicromato di potassio", "dichromate"),
        ("1 g chrome alum", "chrome-alum"),
        ("1 g Chromalaun", "chrome-alum"),
        ("5 g copper sulphate", "copper-sulphate"),
        ("5 g sulfato de cobre", "copper-sulphate"),
    ] {
        let reading = told(&format!("300 g talc, 30 g hide glue, {text}"));
        let of_lines = reading.lines.iter().filter_map(|line| line.material.first());
        assert!(reading.mentions.iter().chain(of_lines).any(|known| known.as_str() == id), "{text}");
    }
    assert_eq!(brief("300 g talc, 3 g alum"), ["talc 300 gram", "potash-alum 3 gram"]);
}

#[test]
fn curd_of_milk_is_curd() {
    for (text, expected) in [
        ("200 g skim milk curd", "curd-drained 200 gram"),
        ("200 g milk curd", "curd-drained 200 gram"),
        ("200 g skimmed milk quark", "quark 200 gram"),
        ("200 g low fat quark", "quark 200 gram"),
    ] {
        assert_eq!(brief(text), [expected], "{text}");
    }
}

#[test]
fn another_batch_is_not_counted() {
    for (aside, figures) in [
        ("Last time I used 90 g.", &["90 g"][..]),
        ("Last time I used 90 g glue, 500 g talc.", &["90 g", "500 g"]),
        ("Yesterday I tried 90 g glue.", &["90 g"]),
        ("The old batch had 90 g.", &["90 g"]),
        ("My friend uses 90 g of glue.", &["90 g"]),
        ("Should I add 20 g zinc white?", &["20 g"]),
    ] {
        let text = format!("65 g hide glue, 600 g talc. {aside}");
        assert_eq!(brief(&text), ["hide-glue 65 gram", "talc 600 gram"], "{text}");
        let reading = told(&text);
        let struck: Vec<_> = reading.struck().map(|struck| (struck.span.of(&text), struck.why.as_str(), struck.amount)).collect();
        let expected: Vec<_> = figures.iter().map(|figure| (*figure, "of another batch, so not counted", false)).collect();
        assert_eq!(struck, expected, "{text}");
    }
    // A sentence that is all there is, is the recipe; in a list only the clause is set aside.
    assert_eq!(brief("Last time I used 30 g hide glue, 300 g water"), ["hide-glue 30 gram", "water 300 gram"]);
    assert_eq!(brief("65 g hide glue, last time I used 90 g, 600 g talc"), ["hide-glue 65 gram", "talc 600 gram"]);
    assert_eq!(brief("65 g hide glue. Should I add to 30 g talc?"), ["hide-glue 65 gram", "talc 30 gram"]);
}

#[test]
fn the_name_over_a_recipe_is_no_jar() {
    for title in ["gesso:", "ground:", "my gesso is", "Gesso ="] {
        let text = format!("{title} 500 g talc, 30 g hide glue, 300 g water");
        assert_eq!(brief(&text), ["talc 500 gram", "hide-glue 30 gram", "water 300 gram"], "{text}");
        assert!(told(&text).mentions.is_empty(), "{text}");
    }
    assert_eq!(brief("gesso: 200 g; talc 100 g"), ["acrylic-ground 200 gram", "talc 100 gram"]);
}

#[test]
fn per_cents_tell_which_ammonia() {
    for (text, expected) in [
        ("15 ml of 25% ammonia", "ammonia-25 15 millilitre at 25 %"),
        ("15 ml ammonia 25 %", "ammonia-25 15 millilitre at 25 %"),
        ("15 ml 25%ige Ammoniaklösung", "ammonia-25 15 millilitre at 25 %"),
        ("15 ml ammonia 8 %", "ammonia-5 15 millilitre at 8 %"),
    ] {
        assert_eq!(brief(text), [expected], "{text}");
        assert!(told(text).questions.is_empty(), "{text}");
    }
}

#[test]
fn what_is_swapped_is_taken_off() {
    // 500 g less 100 g are 400 g; 1 kg less 100 g are 0.9 kg.
    for (text, expected) in [
        ("500 g whiting, 100 g of it swapped for zinc white", ["natural-chalk 400 gram", "zinc-white 100 gram"]),
        ("500 g whiting, 100 g of it replaced by zinc white", ["natural-chalk 400 gram", "zinc-white 100 gram"]),
        ("500 g whiting, 100 g of it exchanged for zinc white", ["natural-chalk 400 gram", "zinc-white 100 gram"]),
        ("1 kg Schlämmkreide, davon 100 g durch Zinkweiß ersetzt", ["natural-chalk 0.9 kilogram", "zinc-white 100 gram"]),
    ] {
        assert_eq!(brief(text), expected, "{text}");
    }
}

#[test]
fn the_base_of_a_recipe_is_not_added_twice() {
    let text = "for every 100 g of talc use 8 g of hide glue and 110 g water; I made it with 650 g talc";
    assert_eq!(brief(text), ["talc 100 gram", "hide-glue 8 gram", "water 110 gram"]);
    assert_eq!(lost(text), ["650 g"]);
    let more = "for every 100 g of talc use 8 g of hide glue, and another 50 g talc at the end";
    assert_eq!(brief(more), ["talc 100 gram", "hide-glue 8 gram", "talc 50 gram"]);
}

#[test]
fn dry_fish_glue_is_a_guess() {
    let guess = |text: &str| told(text).lines[0].guessed.iter().any(|guess| guess == "fish glue is often sold liquid; taken as dry");
    for (text, expected) in
        [("30 g fish glue", true), ("30 g Fischleim", true), ("200 ml liquid fish glue", false), ("30 g hide glue", false)]
    {
        assert_eq!(guess(text), expected, "{text}");
    }
}

#[test]
fn glue_in_millilitres_without_water_is_size() {
    for (text, expected) in [
        ("100 g chalk in 200 ml hide glue", "glue-size 200 millilitre"),
        ("100 g chalk in 200 ml fish glue", "glue-size 200 millilitre"),
        ("100 g chalk, 60 ml hide glue, 600 ml water", "hide-glue 60 millilitre"),
        ("100 g chalk, 30 g hide glue", "hide-glue 30 gram"),
    ] {
        assert!(brief(text).iter().any(|line| line.starts_with(expected)), "{text}: {:?}", brief(text));
    }
}

#[test]
fn zinc_carbonate_is_not_zinc_white() {
    assert_eq!(brief("5 g zinc carbonate, 100 g talc"), ["talc 100 gram"]);
    for (text, expected) in [
        ("100 g calcium carbonate", "chalk 100 gram"),
        ("8 g ammonium carbonate", "ammonium-carbonate 8 gram"),
        ("100 g Calciumcarbonat", "chalk 100 gram"),
        ("50 g carbonato de calcio", "chalk 50 gram"),
        ("8 g sodium carbonate", "soda-ash 8 gram"),
    ] {
        assert!(brief(text).iter().any(|line| line.ends_with(expected)), "{text}: {:?}", brief(text));
    }
}
