use super::*;
use crate::{Coat, Drawn, Mix, film_with_ranges};
use materials::{Catalogue, Wishes, read};
use measure::{Draws, Units};

/// Chance of a recipe whose dry coat is so thick, on plywood.
fn chance(told: &str, protein: Protein, dry_um: f64) -> CrackChance {
    chance_on(told, (protein, "plywood"), dry_um, 1)
}

fn chance_on(told: &str, on: (Protein, &str), dry_um: f64, coats: u32) -> CrackChance {
    let (jars, units) = (Catalogue::builtin().unwrap(), Units::builtin().unwrap());
    let mix = Mix::of(jars, &units, &read(jars, &units, told, &Wishes::new()));
    let drawn = Drawn::of(&mix, Draws { seed: 1, count: 2000 });
    let one = film_with_ranges(&mix, Coat::USUAL, &Drawn::of(&mix, Draws { seed: 1, count: 0 })).unwrap();
    let coat = Coat { wet: one.best.wet(Micrometres::new(dry_um)), told: true };
    let ranges = film_with_ranges(&mix, coat, &drawn).unwrap();
    crack_chance(FilmBook::builtin().unwrap(), &ranges, on, coats, None, &Lesson::NONE).unwrap().unwrap()
}

/// Grams of casein powder for 100 g of chalk at this powder share: by hand, 36.90 ml x (1 / share - 1) x 1.26 g/ml, of which the
/// powder holds 0.90.
fn casein_with_chalk(share: f64) -> String {
    let casein = 36.90 * (1.0 / share - 1.0) * 1.26 / 0.90;
    format!("100 g chalk, {casein:.3} g casein powder, 300 g water")
}

/// Common practice, no source; and the constants were chosen so that it holds: a check of the code, no evidence. Much casein in a thick
/// coat cracks oftener than not; a glue ground of much powder holds.
#[test]
fn rich_casein_cracks_and_lean_glue_holds() {
    let rich = chance(&casein_with_chalk(0.45), Protein::Casein, 300.0).one_coat.value;
    assert!((rich - 0.69).abs() < 0.06, "{rich}");
    let lean = chance("450 g chalk, 14 g hide glue, 300 g water", Protein::Glue, 1000.0).one_coat.value;
    assert!(lean < 0.02, "{lean}");
    // No thickness beyond 1 mm is ever told.
    assert!(chance("450 g chalk, 14 g hide glue, 300 g water", Protein::Glue, 1000.0).half_by.is_none());
    assert!(chance(&casein_with_chalk(0.45), Protein::Casein, 300.0).half_by.is_some_and(|um| um.value() < 400.0));
}

/// Common practice, no source: of two families, a casein-rich ground of one filler is known to crack and a casein-poor one of talc to
/// hold; whatever the filler, the first must not come out as the less likely to crack.
#[test]
fn the_rich_ground_of_any_powder_is_no_less_likely_to_crack_than_the_poor_one_of_talc() {
    for powder in ["chalk", "gypsum", "kaolin", "titanium white", "marble dust"] {
        let rich = chance(&format!("100 g {powder}, 40 g casein powder, 300 g water"), Protein::Casein, 200.0);
        let poor = chance("100 g talc, 10 g casein powder, 300 g water", Protein::Casein, 200.0);
        assert!(rich.all_coats.value >= poor.all_coats.value, "{powder}: {} {}", rich.all_coats.value, poor.all_coats.value);
        assert!(rich.all_coats.low >= poor.all_coats.low && rich.all_coats.high >= poor.all_coats.high, "{powder}");
    }
}

/// Worked by a separate Python program with 20,000 draws of the same constants; the constants were chosen so that these come out as common
/// practice has it, so they prove nothing. Here the thickness and the weighing are drawn on top, hence the wider tolerance.
#[test]
fn regression_of_the_chances() {
    for (share, um, expected) in
        [(0.60, 200.0, 0.53), (0.6572, 200.0, 0.24), (0.68, 200.0, 0.11), (0.70, 200.0, 0.05), (0.70, 100.0, 0.01), (0.74, 200.0, 0.0)]
    {
        let ours = chance(&casein_with_chalk(share), Protein::Casein, um).one_coat.value;
        assert!((ours - expected).abs() < 0.03, "{share} {um}: {ours}");
    }
}

/// Croll (J. Appl. Polym. Sci. 23 (1979) 847): water that leaves before the film is solid raises no stress. A binder-rich ground thinned
/// three times as far and laid to the same dry thickness is as likely to crack.
#[test]
fn water_in_the_pot_changes_nothing_in_a_rich_ground() {
    let chances: Vec<f64> = [200.0, 400.0, 600.0]
        .iter()
        .map(|water| chance(&format!("100 g chalk, 57 g casein powder, {water} g water"), Protein::Casein, 150.0).one_coat.value)
        .collect();
    assert!(chances.iter().all(|one| (one - chances[0]).abs() < 0.01), "{chances:?}");
}

#[test]
fn a_thicker_ground_is_never_less_likely_to_crack() {
    let told = casein_with_chalk(0.6);
    let chances: Vec<f64> =
        [25.0, 50.0, 100.0, 200.0, 400.0, 800.0].iter().map(|um| chance(&told, Protein::Casein, *um).one_coat.value).collect();
    assert!(chances.is_sorted(), "{chances:?}");
    let coats = chance_on(&told, (Protein::Casein, "plywood"), 60.0, 4);
    assert!(coats.all_coats.value > coats.one_coat.value);
    assert!(coats.all_coats.low <= coats.all_coats.value && coats.all_coats.value <= coats.all_coats.high);
}

#[test]
fn on_canvas_the_end_of_the_table_is_marked() {
    assert!(chance_on(&casein_with_chalk(0.6), (Protein::Casein, "canvas"), 100.0, 1).beyond > 0.01);
    assert!(chance_on(&casein_with_chalk(0.6), (Protein::Casein, "plywood"), 100.0, 1).beyond < 1e-9);
}

#[test]
fn a_plank_cracks_in_its_softer_direction() {
    let told = casein_with_chalk(0.6);
    let plank = chance_on(&told, (Protein::Casein, "solid-wood"), 100.0, 1).one_coat.value;
    let across = chance_on(&told, (Protein::Casein, "solid-wood.across"), 100.0, 1).one_coat.value;
    assert!((plank - across).abs() < 0.03, "{plank} {across}");
}

/// Below the critical share lumps change nothing, so the number is that of the worked window: 206 um on plywood; a plank counts its softer
/// direction, 64 um. For setting boards against, never shown.
#[test]
fn regression_of_what_boards_are_set_against() {
    let book = FilmBook::builtin().unwrap();
    for (support, um) in [("plywood", 206.0), ("solid-wood", 64.0)] {
        let at = crate::cracks_at_best(book, 0.45, 0.6572, Protein::Casein, support).unwrap();
        assert!((at.value() / um - 1.0).abs() < 0.015, "{support}: {at:?}");
    }
    assert!(crate::cracks_at_best(book, 0.45, 0.6572, Protein::Casein, "cardboard").is_err());
}

#[test]
fn an_unknown_support_is_refused() {
    assert!(inputs(FilmBook::builtin().unwrap(), Protein::Glue, "cardboard").is_err());
}
