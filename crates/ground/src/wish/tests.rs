use proptest::prelude::*;

use super::*;

const CHALK: Brings = Brings { powder: 1.0 / 2.71, gaps: 18.0 / 93.5, binder: 0.0, dry: 0.0, water: 0.0, wet: 1.0 / 2.71 };
const GYPSUM: Brings = Brings { powder: 1.0 / 2.32, gaps: 23.5 / 93.5, binder: 0.0, dry: 0.0, water: 0.0, wet: 1.0 / 2.32 };
const GLUE: Brings = Brings { powder: 0.0, gaps: 0.0, binder: 1.0 / 1.27, dry: 1.0, water: 0.0, wet: 1.0 / 1.27 };
const WATER: Brings = Brings { powder: 0.0, gaps: 0.0, binder: 0.0, dry: 0.0, water: 1.0, wet: 1.0 / 0.998 };

fn stuff(brings: Brings, before: f64) -> Stuff {
    Stuff { brings, before, at_hand: None, weight: 1.0, guessed: false }
}

fn all(stuffs: &[Stuff], grams: &[f64]) -> Brings {
    stuffs.iter().zip(grams).fold(Brings::default(), |sum, (stuff, grams)| sum.plus(stuff.brings, *grams))
}

/// 100 g chalk, 10 g glue, 100 g water: place 1.2541, crowding 56.15 / 144.97 = 0.3873 (the pot worked by hand in docs/methods/film.md).
const PLACE: f64 = 1.2541;
const CROWDING: f64 = 0.3873;

#[test]
fn the_same_film_with_gypsum_by_hand() {
    // Place 1.2541 = (V + D) / (V + B). Gypsum: a gram is 0.43103 ml and drinks 0.25134 ml, 0.68237 in all. For g grams:
    // 0.68237 g / 1.2541 = 0.54411 g = 0.43103 g + B, so B = 0.11308 ml a gram: 0.14361 g of glue to a gram of gypsum.
    // Crowding 0.3873: 0.68237 g / 0.3873 = 1.76186 ml a gram in all; less 0.43103 and 0.11308 leaves 1.21775 ml, 1.21531 g of water.
    // Together 2.35892 g a gram of gypsum: in 210 g there are 89.02 g gypsum, 12.78 g glue, 108.19 g water.
    let stuffs = [stuff(GYPSUM, 0.0), stuff(GLUE, 10.0), stuff(WATER, 100.0)];
    let wanted = Wanted { total: 210.0, place: Some((PLACE, PLACE)), crowding: (CROWDING, CROWDING), strongest: 0.2, dry_to_powder: None };
    let pot = nearest_pot(&stuffs, &wanted).unwrap();
    for (grams, by_hand) in pot.iter().zip([89.02, 12.78, 108.19]) {
        assert!((grams - by_hand).abs() < 0.05, "{pot:?}");
    }
}

#[test]
fn half_the_binder_by_hand() {
    // 10 g of glue to 100 g chalk is 10 / 36.90 g to a millilitre; half is 0.13550, so 5 g to 100 g. Crowding 0.3873 asks for 144.97 ml:
    // 36.90 chalk, 3.937 glue, 104.13 water, 103.92 g. Together 208.92 g; in 210 g: 100.52, 5.026, 104.46.
    let stuffs = [stuff(CHALK, 100.0), stuff(GLUE, 10.0), stuff(WATER, 100.0)];
    let wanted =
        Wanted { total: 210.0, place: None, crowding: (CROWDING, CROWDING), strongest: 0.2, dry_to_powder: Some(0.5 * 10.0 / 36.90) };
    let pot = nearest_pot(&stuffs, &wanted).unwrap();
    for (grams, by_hand) in pot.iter().zip([100.52, 5.026, 104.46]) {
        assert!((grams - by_hand).abs() < 0.03, "{pot:?}");
    }
}

#[test]
fn a_short_jar_is_filled_up_from_another_and_bounds_the_pot() {
    let mut stuffs = [stuff(CHALK, 100.0), stuff(GYPSUM, 0.0), stuff(GLUE, 10.0), stuff(WATER, 100.0)];
    stuffs[0].at_hand = Some(60.0);
    let wanted = Wanted { total: 210.0, place: Some((PLACE, PLACE)), crowding: (CROWDING, CROWDING), strongest: 0.2, dry_to_powder: None };
    let pot = nearest_pot(&stuffs, &wanted).unwrap();
    assert!((pot[0] - 60.0).abs() < 1e-6 && pot[1] > 20.0, "{pot:?}");
    let sum = all(&stuffs, &pot);
    assert!((sum.place().unwrap() - PLACE).abs() < 1e-6);
    // Without the gypsum 60 g of chalk carry 60 / 100 of the pot: 126 g.
    let few = [stuffs[0], stuffs[2], stuffs[3]];
    assert_eq!(nearest_pot(&few, &wanted), None);
    let most: f64 = largest_pot(&few, &wanted).unwrap().iter().sum();
    assert!((most - 126.0).abs() < 0.1, "{most}");
}

#[test]
fn powders_of_unknown_thirst_stay_the_smaller_part() {
    let mut stuffs = [stuff(GYPSUM, 0.0), stuff(CHALK, 100.0), stuff(GLUE, 10.0), stuff(WATER, 100.0)];
    stuffs[1].guessed = true;
    let wanted = Wanted { total: 210.0, place: Some((PLACE, PLACE)), crowding: (CROWDING, CROWDING), strongest: 0.2, dry_to_powder: None };
    let pot = nearest_pot(&stuffs, &wanted).unwrap();
    let (guessed, known) = (pot[1] / 2.71, pot[0] / 2.32);
    assert!((guessed / (guessed + known) - 0.45).abs() < 1e-6, "{pot:?}");
}

proptest! {
    /// Whatever is asked, a pot that is given keeps all of it.
    #[test]
    fn what_is_given_keeps_what_was_asked(
        before in prop::array::uniform4(0.0_f64..300.0), at_hand in prop::option::of(1.0_f64..200.0),
        place in 0.8_f64..1.6, width in 0.0_f64..0.3, crowd in 0.1_f64..0.6, total in 10.0_f64..5000.0,
    ) {
        let brings = [CHALK, GYPSUM, GLUE, WATER];
        let mut stuffs: Vec<Stuff> = brings.into_iter().zip(before).map(|(brings, before)| stuff(brings, before)).collect();
        stuffs[0].at_hand = at_hand;
        let wanted = Wanted { total, place: Some((place, place + width)), crowding: (crowd, crowd + 0.1), strongest: 0.15, dry_to_powder: None };
        let Some(pot) = nearest_pot(&stuffs, &wanted) else { return Ok(()) };
        let sum = all(&stuffs, &pot);
        prop_assert!((pot.iter().sum::<f64>() / total - 1.0).abs() < 1e-6);
        prop_assert!(pot.iter().all(|grams| *grams >= 0.0));
        let at = sum.place().unwrap();
        prop_assert!(at > place - 1e-4 && at < place + width + 1e-4, "{at}");
        let crowding = sum.crowding().unwrap();
        prop_assert!(crowding > crowd - 1e-4 && crowding < crowd + 0.1 + 1e-4, "{crowding}");
        prop_assert!(sum.strength().unwrap() < 0.15 + 1e-6);
        prop_assert!(at_hand.is_none_or(|most| pot[0] <= most + 1e-6));
    }

    /// Rounding moves the place no more than the nearest step does.
    #[test]
    fn rounding_is_no_worse_than_the_nearest_step(chalk in 20.0_f64..400.0, gypsum in 5.0_f64..90.0, glue in 3.0_f64..60.0, step in 0.1_f64..3.0) {
        let amounts = [(chalk, CHALK), (gypsum, GYPSUM), (glue, GLUE)];
        let place = |grams: &[f64]| grams.iter().zip(amounts).fold(Brings::default(), |sum, (grams, (_, brings))| sum.plus(brings, *grams)).place().unwrap();
        let aim = place(&amounts.map(|(grams, _)| grams));
        let found = to_steps(&amounts, step);
        let nearest = amounts.map(|(grams, _)| (grams / step).round() * step);
        prop_assert!((place(&found) - aim).abs() <= (place(&nearest) - aim).abs() + 1e-9);
        prop_assert!(found.iter().zip(amounts).all(|(a, (b, _))| (a - b).abs() <= step + 1e-9));
    }
}
