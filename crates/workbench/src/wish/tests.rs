use std::sync::LazyLock;

use show::WishView;

use super::WishForm;
use crate::{VerdictRequest, Workbench};

static BENCH: LazyLock<Workbench> = LazyLock::new(|| Workbench::open().unwrap());
const GLUE_CHALK: &str = "250 g chalk, 14 g hide glue, 200 ml water";
const BORAX_CASEIN: &str = "100 g casein powder, 20 g borax, 700 g water, 600 g chalk";

fn wish(form: &WishForm) -> WishView {
    BENCH.wish(form).unwrap()
}

fn like(told: &str) -> WishForm {
    WishForm { like: told.into(), ..WishForm::default() }
}

#[track_caller]
fn grams(view: &WishView, material: &str) -> f64 {
    view.report.lines.iter().filter(|line| line.material == material).map(|line| line.mass_g).sum()
}

#[test]
fn the_same_film_with_another_powder_by_hand() {
    // Chalk 250 g: 92.25 ml, drinks 250 x 0.18 / 0.935 = 48.13 ml; glue 14 / 1.27 = 11.02 ml: place 140.38 / 103.27 = 1.3593.
    // Gypsum (2.32, oil absorption 23.5): a gram is 0.43103 ml and drinks 0.25134: 0.68237 / 1.3593 = 0.50200, less 0.43103 is
    // 0.07097 ml of binder, 0.09013 g. Crowding before: 140.38 / (92.25 + 11.02 + 200) = 0.46289; so 1.47415 ml a gram in all, of which
    // 0.97215 ml are water, 0.97021 g (water 0.998 g/ml; 200 ml weigh 199.6 g). In all 2.06034 g a gram of gypsum; the pot weighs
    // 463.6 g: 225.0 g gypsum, 20.28 g glue, 218.3 g water.
    let view = wish(&WishForm { with: "gypsum".into(), ..like(GLUE_CHALK) });
    assert!(view.report.reached, "{view:?}");
    for (material, by_hand) in [("gypsum", 225.0), ("hide-glue", 20.28), ("water", 218.3)] {
        assert!((grams(&view, material) - by_hand).abs() <= 1.0, "{material}: {}", grams(&view, material));
    }
    assert!((view.report.rounding.lambda_exact - 1.3593).abs() < 0.001, "{:?}", view.report.rounding);
    assert!(grams(&view, "natural-chalk") < 1e-9);
}

#[test]
fn half_the_binder_says_what_it_comes_to() {
    // Half of 14 g to 250 g: 5.512 ml; place 140.38 / 97.76 = 1.436: lean, and the card says so.
    let view = wish(&WishForm { half_binder: true, ..like(GLUE_CHALK) });
    assert!((view.report.rounding.lambda_exact - 1.436).abs() < 0.002, "{:?}", view.report.rounding);
    assert!(view.verdict.to_lowercase().contains("lean"), "{}", view.verdict);
    // The place moves as 6.93 g become 7 on a scale of whole grams, and the words say from where to where.
    assert!(view.report.rounding.words[0].contains("1.436"), "{:?}", view.report.rounding.words);
}

#[test]
fn usual_is_what_the_card_says_of_the_text() {
    let bench = &*BENCH;
    let asked = [
        ("500 g gypsum, 8 g gelatine, 400 g water", "us"),
        (BORAX_CASEIN, "230/14/5"),
        ("1 l skim milk, 60 ml vinegar, 3 g baking soda, 40 g chalk", ""),
    ];
    for (told, spoons) in asked {
        let view = bench.wish(&WishForm { usual: true, spoons: spoons.into(), scale_g: Some(0.1), ..like(told) }).unwrap();
        assert!(view.report.reached || !(view.report.why_not.is_empty() || spoons.is_empty()), "{told}: {:?}", view.report.why_not);
        for text in [&view.report.recipe, &view.report.recipe_in_spoons] {
            if view.report.reached && !text.is_empty() {
                // Pasted into any other box, by the rules of recipe text, it is read whole and is usual.
                let card = bench.verdict(&VerdictRequest { told: text.clone(), strict: true, ..VerdictRequest::default() }).unwrap();
                assert_eq!((card.report.word.first, card.report.word.second), (Some("usual"), None), "{told} in {spoons}: {text}");
                // What no text can tell, whether the curd was strained, may be asked.
                let asked = card.questions.iter().all(|question| question.id == "curd:grains");
                assert!(card.report.struck.is_empty() && asked, "{text}");
            }
        }
    }
}

#[test]
fn without_borax_something_else_opens_the_casein() {
    let form = WishForm {
        usual: true,
        without: "borax".into(),
        shelf: "1 kg chalk; 200 g casein powder; baking soda; gypsum; talc; burnt diatomite".into(),
        ..like(BORAX_CASEIN)
    };
    let view = wish(&form);
    assert!(view.report.reached, "{:?}", view.report.why_not);
    assert!(!view.report.recipe.contains("borax"), "{}", view.report.recipe);
    // 0.6 milliequivalents a gram of casein and 84 g/mol are the doses of dissolve; here only that it is a few hundredths of the casein.
    let share = grams(&view, "baking-soda") / grams(&view, "casein-powder");
    assert!(share > 0.02 && share < 0.08, "{share}");
    // Gypsum would curdle it; talc and burnt diatomite are never offered.
    for never in ["gypsum", "talc", "diatomite-calcined"] {
        assert!(grams(&view, never) < 1e-9, "{never}");
    }
}

#[test]
fn a_pair_that_curdles_is_refused_with_its_reason() {
    let bench = &*BENCH;
    let form = WishForm { shelf: "gypsum; casein powder; baking soda".into(), ..like(BORAX_CASEIN) };
    let said = bench.wish(&form).unwrap_err().to_string();
    assert!(said.contains("curdles this binder"), "{said}");
    // With glue beside it, the glue binds it instead.
    let view = bench.wish(&WishForm { shelf: "gypsum; casein powder; baking soda; hide glue".into(), ..form }).unwrap();
    assert!(grams(&view, "hide-glue") > 0.0 && grams(&view, "gypsum") > 0.0, "{view:?}");
    for with in ["talc", "lead white", "burnt diatomite", "plaster of paris", "honey"] {
        assert!(bench.wish(&WishForm { with: with.into(), ..like(GLUE_CHALK) }).is_err(), "{with}");
    }
}

#[test]
fn too_little_at_hand_gives_the_largest_pot_and_says_so() {
    // 14 g of glue to 463.6 g of pot; 7 g at hand make half of it, 231.8 g.
    let view = wish(&WishForm { shelf: "1 kg chalk; 7 g hide glue".into(), scale_g: Some(0.1), ..like(GLUE_CHALK) });
    assert!(!view.report.reached && view.sentence.contains("nearest"), "{}", view.sentence);
    let made: f64 = view.report.lines.iter().map(|line| line.mass_g).sum();
    assert!((made - 231.8).abs() < 1.0, "{made}");
    assert!(view.report.why_not[0].contains("hide glue"), "{:?}", view.report.why_not);
}

#[test]
fn an_area_asks_for_so_much_wet_ground() {
    // The pot of docs/methods/film.md, 100 g chalk, 10 g glue, 100 g water, dries to 0.3873 of its wet thickness and weighs 1.4485 g/ml:
    // 200 um dry are 516.4 um wet, 748.0 g/m2; on half a square metre with a fifth of loss 448.8 g.
    let view = wish(&WishForm { area_m2: Some(0.5), dry_um: Some(200.0), ..like("100 g chalk, 10 g hide glue, 100 g water") });
    let made: f64 = view.report.lines.iter().map(|line| line.mass_g).sum();
    assert!((made - 448.8).abs() < 2.0, "{made}");
}

#[test]
fn nothing_to_start_from_is_a_start_too() {
    let view = wish(&WishForm { usual: true, shelf: "whiting; gelatine".into(), make_g: Some(300.0), ..WishForm::default() });
    assert!(view.report.reached && grams(&view, "gelatine") > 0.0, "{view:?}");
    assert!(wish(&WishForm::default()).report.reached);
}

#[test]
fn what_does_not_read_is_refused_by_name() {
    let bench = &*BENCH;
    for (form, word) in [
        (WishForm { make_g: Some(f64::NAN), ..WishForm::default() }, "200 kg"),
        (WishForm { scale_g: Some(0.0), ..WishForm::default() }, "scale"),
        (WishForm { spoons: "huge".into(), ..WishForm::default() }, "240/15/5"),
        (WishForm { spoons: "10/10/10".into(), ..WishForm::default() }, "240/15/5"),
        (WishForm { without: "water".into(), ..WishForm::default() }, "water"),
        (WishForm { without: "unicorn".into(), ..WishForm::default() }, "unicorn"),
        (WishForm { shelf: "unicorn; moon dust".into(), ..WishForm::default() }, "nothing in it is known"),
        (WishForm { area_m2: Some(1.0), ..WishForm::default() }, "both"),
        (like("hello"), "ingredient"),
        (like("500 g acrylic ground"), "bought primer"),
        (WishForm { half_binder: true, ..WishForm::default() }, "half of what"),
    ] {
        let said = bench.wish(&form).unwrap_err().to_string();
        assert!(said.contains(word), "{said} for {word}");
    }
}

#[test]
fn any_text_is_taken_without_panic() {
    let bench = &*BENCH;
    let texts = [
        "",
        "0 g chalk",
        "\u{0}",
        "1e308 g chalk, 1e308 g glue",
        "chalk until like cream, some glue",
        "3 eggs, 100 g chalk",
        "100 g plaster, 10 g hide glue, 200 g water",
    ];
    for told in texts {
        let form = WishForm { usual: true, shelf: "chalk; hide glue".into(), without: told.into(), ..like(told) };
        let _ = bench.wish(&form);
        let _ = bench.wish(&WishForm { with: told.into(), spoons: "us".into(), ..like(told) });
    }
}

#[test]
fn a_place_beyond_pure_powder_gives_the_nearest() {
    // Talc drinks so much that 100 g with 10 g of glue stand at about 1.6 and more; talc is not proposed, and pure chalk stands at
    // 1 / 0.6572 = 1.522: the nearest lies just below that, and the page says so.
    let view = wish(&like("100 g talc, 8 g hide glue, 130 g water"));
    assert!(!view.report.reached && view.report.why_not[0].contains("less than no binder"), "{:?}", view.report.why_not);
    assert!(grams(&view, "natural-chalk") > 0.0 && grams(&view, "talc") < 1e-9);
    assert!(view.report.rounding.lambda_exact > 1.45 && view.report.rounding.lambda_exact < 1.522, "{:?}", view.report.rounding);
}
