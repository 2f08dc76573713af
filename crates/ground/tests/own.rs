//! Values measured at the kitchen table take the place of printed ones.
#![expect(clippy::unwrap_used, reason = "in a test a panic is the report")]

use ground::{Coat, Drawn, Mix, OwnError, OwnMeasure, film_with_ranges, oil_drop, own_inputs, own_result};
use materials::{Catalogue, MaterialId, Wishes, read};
use measure::{Draws, Grams, Input, Millilitres, Spread, Units};

fn own(id: &str, measured: &OwnMeasure) -> Result<Vec<Input>, OwnError> {
    own_inputs(Catalogue::builtin().unwrap().material(&MaterialId::new(id)).unwrap(), measured, "measured by you")
}

fn mix(told: &str) -> Mix {
    let (jars, units) = (Catalogue::builtin().unwrap(), Units::builtin().unwrap());
    Mix::of(jars, &units, &read(jars, &units, told, &Wishes::new()))
}

fn bar(mix: &Mix) -> (f64, f64, f64) {
    let figure = film_with_ranges(mix, Coat::USUAL, &Drawn::of(mix, Draws::USUAL)).unwrap().lambda();
    (figure.low, figure.value, figure.high)
}

fn grams(values: &[f64]) -> Vec<Grams> {
    values.iter().map(|value| Grams::new(*value)).collect()
}

// Hand arithmetic: 150 g in a cup of 250 ml is 0.6 g/ml; two cups are 300 g.
#[test]
fn a_weighed_cup_gives_the_grams_of_the_next_recipe_and_narrows_the_bar() {
    let told = "2 metric cups of whiting, 15 g rabbit skin glue, 210 ml water";
    let cup =
        own("natural-chalk", &OwnMeasure::LevelCup { holds: Millilitres::new(250.0), weighed: grams(&[148.0, 150.0, 152.0]) }).unwrap();
    let printed = mix(told);
    let measured = mix(told).with_own(&cup);
    assert_eq!((printed.own_count(), measured.own_count()), (0, 1));
    let chalk = measured.grams(&measured.best()).into_iter().map(|(_, g)| g.value()).fold(0.0, f64::max);
    assert!((chalk - 300.0).abs() < 0.01, "{chalk}");
    let (before, after) = (bar(&printed), bar(&measured));
    assert!(after.2 - after.0 < before.2 - before.0, "{before:?} {after:?}");
}

// Chalk 2.71 g/ml: 27.1 g push 10 ml of water aside (density of calcite 2.71, CRC Handbook; from memory).
#[test]
fn water_pushed_aside_is_density() {
    let inputs =
        own("natural-chalk", &OwnMeasure::Displacement { powder: Grams::new(27.1), rise: vec![Millilitres::new(10.0)], read_to: None })
            .unwrap();
    assert!((inputs[0].best - 2.71).abs() < 1e-12);
    let (value, unit, (low, high)) = own_result(&inputs).unwrap();
    assert!((value - 2.71).abs() < 1e-12 && unit == "g/ml" && low < value && value < high);
}

// Hand arithmetic: 2 g of oil in 10 g of powder are 20 g to 100 g.
#[test]
fn a_rub_out_gives_talc_a_place() {
    let rubbed = own("talc", &OwnMeasure::RubOut { powder: Grams::new(10.0), oil: grams(&[4.0, 4.2, 3.8]), drop: None }).unwrap();
    assert!((rubbed[0].best - 40.0).abs() < 1e-9);
    let jars = Catalogue::builtin().unwrap();
    let told = "200 g talc, 15 g hide glue, 200 ml water";
    assert!(ground::FilmRanges::unknown_thirst_share(&mix(told), jars) > 0.5);
    assert!(ground::FilmRanges::unknown_thirst_share(&mix(told).with_own(&rubbed), jars) < 0.5);
}

// Hand arithmetic: 10 g of curd that dry to 3 g hold 30 % dry casein and 70 % water.
#[test]
fn dried_spoonfuls_of_curd_say_its_water() {
    let dishes = vec![(Grams::new(10.0), Grams::new(3.0)), (Grams::new(20.0), Grams::new(6.0))];
    let inputs = own("curd-drained", &OwnMeasure::DryResidue { dishes }).unwrap();
    let of = |key: &str| inputs.iter().find(|input| input.key.as_str() == key).unwrap().best;
    assert!((of("dry_share.curd-drained") - 0.3).abs() < 1e-12);
    assert!((of("curd_water") - 0.7).abs() < 1e-12);
    let milk = mix("2 l skim milk, half a cup of vinegar, 300 g chalk").with_own(&inputs);
    assert_eq!(milk.own_count(), 1);
}

#[test]
fn slips_are_refused_with_a_sentence() {
    let cup = |values: &[f64]| own("natural-chalk", &OwnMeasure::LevelCup { holds: Millilitres::new(250.0), weighed: grams(values) });
    assert_eq!(cup(&[]), Err(OwnError::None));
    assert_eq!(cup(&[0.0]), Err(OwnError::NotPositive));
    assert_eq!(cup(&[f64::NAN]), Err(OwnError::NotPositive));
    assert!(cup(&[1500.0]).unwrap_err().to_string().contains("slip"));
    let heavier = OwnMeasure::DryResidue { dishes: vec![(Grams::new(3.0), Grams::new(10.0))] };
    assert_eq!(own("curd-drained", &heavier), Err(OwnError::Heavier));
    assert!(matches!(
        own("water", &OwnMeasure::RubOut { powder: Grams::new(1.0), oil: grams(&[1.0]), drop: None }),
        Err(OwnError::NotOf(_))
    ));
}

/// By hand: a level US cup of chalk, 236.588 ml at 0.85 g/ml, is 201.1 g and pushes 201.1 / 2.71 = 74.2 ml aside. Read to 5 ml that is
/// 6.7 % of doubt in its volume, and 0.8241 x 0.1759 x 0.0674 = 0.0098 in a powder share of 0.8241.
#[test]
fn how_closely_a_jar_is_read_is_doubt() {
    let measured = |read_to| {
        own("natural-chalk", &OwnMeasure::Displacement { powder: Grams::new(201.1), rise: vec![Millilitres::new(74.2); 3], read_to })
            .unwrap()
    };
    let input = &measured(Some(Millilitres::new(5.0)))[0];
    assert!((input.best - 2.71).abs() < 0.005);
    assert!(matches!(input.spread, Spread::Normal(sd) if (sd / input.best - 0.0674).abs() < 5e-4), "{:?}", input.spread);
    assert!((0.8241f64 * 0.1759 * 0.0674 - 0.0098).abs() < 1e-4);
    assert!(matches!(measured(None)[0].spread, Spread::Measured(_)));
}

/// By hand: 100 drops in 5 ml are 0.05 ml, 0.04675 g each; chalk of oil absorption 18 takes 1.8 g in 10 g, 38.5 drops. One drop is 2.6 %
/// of them, and with the 5 % of a single hand 5.6 %.
#[test]
fn a_rub_out_is_known_to_a_drop() {
    let drop = oil_drop(100.0);
    assert!((drop.value() - 0.04675).abs() < 1e-9);
    let rubbed = |oil: Vec<Grams>| own("natural-chalk", &OwnMeasure::RubOut { powder: Grams::new(10.0), oil, drop: Some(drop) }).unwrap();
    let one = &rubbed(vec![drop * 38.5])[0];
    assert!((one.best - 18.0).abs() < 0.01);
    assert!(matches!(one.spread, Spread::Normal(sd) if (sd / one.best - 0.0564).abs() < 1e-3), "{:?}", one.spread);
    // Three tries that agree to the drop are still not known better than a drop.
    assert!(matches!(rubbed(vec![drop * 38.5; 3])[0].spread, Spread::Normal(sd) if (sd / 18.0 - 0.026).abs() < 1e-3));
    assert!(matches!(rubbed(vec![drop * 30.0, drop * 38.0, drop * 46.0])[0].spread, Spread::Measured(_)));
}
