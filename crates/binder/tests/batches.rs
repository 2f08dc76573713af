//! Whole batches of curd, against hand arithmetic, and what must hold for any batch.
#![expect(clippy::unwrap_used, reason = "in a test a panic is the report")]

use binder::{
    AcidAmount, AcidAtHand, AcidSource, Base, BinderError, Curd, CurdState, Enough, MilkAmount, MilkKind, MilkRequest, PhReached, Warning,
    curd, curd_with_ranges, milk_inputs, sour_curve,
};
use measure::{Celsius, Draws, Grams, Millilitres};
use proptest::prelude::*;

/// Exactly 231 cubic inches (NIST Handbook 44).
const US_GALLON: f64 = 3_785.411_784;
/// Half a US pint.
const US_CUP: f64 = 236.588_236_5;

fn batch_of(millilitres: f64, source: AcidSource, amount: Option<AcidAmount>) -> MilkRequest {
    MilkRequest {
        milk: MilkAmount::Volume(Millilitres::new(millilitres)),
        kind: MilkKind::Skim,
        heated_before: false,
        acid: AcidAtHand { source, amount, strength: None },
        others: Vec::new(),
        water: Millilitres::ZERO,
        warmth: Some(Celsius::new(25.0)),
        washes: 3,
        wash: Millilitres::new(1000.0),
        state: CurdState::Drained,
        base: Some(Base::BakingSoda),
    }
}

fn best(request: &MilkRequest) -> Curd {
    curd(request, &milk_inputs(request).unwrap(), &|input| input.best).unwrap()
}

#[test]
fn a_gallon_of_skim_milk_with_its_band() {
    // Value by hand: 3785.412 ml x 1.033 x 3.37 % x 0.78 x 0.95 = 97.65 g. Band: protein, casein share and recovery drawn evenly within
    // 3.2-3.6, 0.76-0.80 and 0.85-0.98 beside the program: eight draws of ten lie within 88.0 to 102.0 g.
    let figures = curd_with_ranges(&batch_of(US_GALLON, AcidSource::Vinegar, None), Draws { count: 20_000, ..Draws::USUAL }).unwrap();
    assert!((figures.casein.value - 97.65).abs() < 0.05);
    assert!((figures.casein.low - 88.0).abs() < 0.3 && (figures.casein.high - 102.0).abs() < 0.3, "{:?}", figures.casein);
    // 97.65 x 0.77 / 0.23 = 326.9 g of water in drained curd.
    assert!((figures.water_in_curd.value - 326.9).abs() < 0.2);
    // 97.65 x 0.55 x 84.007 / 1000 = 4.51 g of baking soda to begin with.
    assert!((figures.base.unwrap().value - 4.51).abs() < 0.01);
    assert_eq!((figures.ph_reached, figures.enough), (None, None));
}

#[test]
fn one_lemon_is_not_enough_for_a_litre() {
    // Undiluted, by the charge balance written out in docs/methods/milk-balance.py: 45 ml x 48 g/l = 2.16 g, 11.24 mmol, pH 5.13; 1.87
    // lemons. The juice thins the milk by 4.5 %, which moves either by a hundredth or two.
    let request = batch_of(1000.0, AcidSource::Lemon, Some(AcidAmount::Pieces(1.0)));
    let batch = best(&request);
    assert!((batch.acid_needed - 1.87).abs() < 0.04, "{}", batch.acid_needed);
    assert!((batch.ph_reached.unwrap().nearest() - 5.13).abs() < 0.03);
    let Some(Enough::No { share, missing }) = batch.enough else { panic!("{:?}", batch.enough) };
    assert!((share - 1.0 / batch.acid_needed).abs() < 1e-9 && (missing - batch.acid_needed + 1.0).abs() < 1e-9);
    // At 25 C milk curdles from pH 5.1, so one lemon hardly shows; at 36 C (5.45) it looks curdled and still is not enough.
    let warm = best(&MilkRequest { warmth: Some(Celsius::new(36.0)), ..request.clone() });
    assert!(warm.ph_reached.unwrap().nearest() < warm.curdles_from.unwrap());
    assert_eq!(warm.enough, batch.enough);
    let figures = curd_with_ranges(&request, Draws::USUAL).unwrap();
    assert!(figures.enough.unwrap() < 0.2);
    let two = best(&MilkRequest { acid: AcidAtHand { amount: Some(AcidAmount::Pieces(2.0)), ..request.acid }, ..request });
    assert_eq!(two.enough, Some(Enough::Yes));
}

#[test]
fn milk_that_needs_more_acid_stays_milder() {
    // A lemon in milk that takes 15 % more acts like 11.243 / 1.15 = 9.777 mmol: between 5.7 mmol (pH 5.5) and 13.1 (5.0) that is 5.225
    // on a straight line.
    let request = batch_of(1000.0, AcidSource::Lemon, Some(AcidAmount::Pieces(1.0)));
    let needy = |input: &measure::Input| if input.key.as_str() == "acid_need" { 1.15 } else { input.best };
    let batch = curd(&request, &milk_inputs(&request).unwrap(), &needy).unwrap();
    assert!((batch.ph_reached.unwrap().nearest() - 5.225).abs() < 0.03);
    assert!((batch.acid_needed / best(&request).acid_needed - 1.15).abs() < 0.01);
}

#[test]
fn vinegar_for_a_gallon() {
    // Written out in docs/methods/milk-balance.py: 1.84 US cups of 5 % vinegar bring a US gallon to pH 4.60, two cups to 4.557.
    let batch = best(&batch_of(US_GALLON, AcidSource::Vinegar, Some(AcidAmount::Volume(Millilitres::new(2.0 * US_CUP)))));
    assert!((batch.acid_needed - 1.84 * US_CUP).abs() < 4.0, "{}", batch.acid_needed);
    assert_eq!(batch.enough, Some(Enough::Yes));
    assert!((batch.ph_reached.unwrap().nearest() - 4.557).abs() < 0.01);
    // The same vinegar by weight: 473.176 ml x 1.006 = 476.0 g.
    let weighed = best(&batch_of(US_GALLON, AcidSource::Vinegar, Some(AcidAmount::Mass(Grams::new(2.0 * US_CUP * 1.006)))));
    assert!((weighed.ph_reached.unwrap().nearest() - batch.ph_reached.unwrap().nearest()).abs() < 1e-9);
    // Whey 4386 g less drained curd 424.6 g, over 1.025 g/ml: 3.865 l. Acid: 394 mmol, of which 326.9 / 4288 stays: 30 mmol, x 0.0244.
    assert!((batch.whey_volume.value() - 3_865.0).abs() < 5.0, "{:?}", batch.whey_volume);
    assert!((batch.acid_left.value() - 0.733).abs() < 0.01, "{:?}", batch.acid_left);
    // Four cups are too much (pH 4.225), ten lie beyond what is worked out.
    let cups = |cups: f64| best(&batch_of(US_GALLON, AcidSource::Vinegar, Some(AcidAmount::Volume(Millilitres::new(cups * US_CUP)))));
    assert!(matches!(cups(4.0).enough, Some(Enough::More { .. })) && cups(4.0).warnings.contains(&Warning::TooSour));
    assert!(matches!((cups(10.0).ph_reached, cups(10.0).enough), (Some(PhReached::NotKnownBelow(_)), Some(Enough::More { .. }))));
}

#[test]
fn acids_and_water_go_in_together() {
    // Half the vinegar twice is the vinegar once; water by itself makes sour milk a little milder.
    let half = AcidAtHand { source: AcidSource::Vinegar, amount: Some(AcidAmount::Volume(Millilitres::new(US_CUP))), strength: None };
    let whole = batch_of(US_GALLON, AcidSource::Vinegar, Some(AcidAmount::Volume(Millilitres::new(2.0 * US_CUP))));
    let twice = MilkRequest { acid: half, others: vec![half], ..whole.clone() };
    let ph = |request: &MilkRequest| best(request).ph_reached.unwrap().nearest();
    assert!((ph(&twice) - ph(&whole)).abs() < 1e-9);
    assert!((best(&twice).acid_needed + US_CUP - best(&whole).acid_needed).abs() < 1e-3);
    let thinned = MilkRequest { water: Millilitres::new(1000.0), ..whole.clone() };
    assert!(ph(&thinned) > ph(&whole));
    let unsaid = MilkRequest { others: vec![AcidAtHand { amount: None, ..half }], ..whole };
    assert_eq!(curd_with_ranges(&unsaid, Draws::USUAL).unwrap_err(), BinderError::NoAmount);
}

#[test]
fn powder_is_made_up_as_milk() {
    // By hand: 100 g of powder with 36 % protein hold as much as 100 x 36 / 3.37 = 1068.2 g of skim milk.
    let powder =
        MilkRequest { kind: MilkKind::Powder, milk: MilkAmount::Mass(Grams::new(100.0)), ..batch_of(1000.0, AcidSource::Vinegar, None) };
    assert!((best(&powder).milk.value() - 1_068.2).abs() < 0.1);
    assert!((best(&powder).casein.value() - 1_068.2 * 0.0337 * 0.78 * 0.95).abs() < 0.01);
    let by_volume = MilkRequest { milk: MilkAmount::Volume(Millilitres::new(100.0)), ..powder };
    assert_eq!(curd_with_ranges(&by_volume, Draws::USUAL).unwrap_err(), BinderError::PowderByWeight);
}

#[test]
fn the_curve_begins_at_fresh_milk_and_passes_the_dose() {
    let request = batch_of(1000.0, AcidSource::Vinegar, None);
    let curve = sour_curve(&request, 53).unwrap();
    assert!((curve.points[0].ph - 6.65).abs() < 1e-9 && curve.points[0].units == 0.0);
    assert!((curve.points.last().unwrap().ph - 4.0).abs() < 1e-9);
    let needed = best(&request).acid_needed;
    assert!(
        curve.points.windows(2).any(|pair| pair[0].units <= needed && needed <= pair[1].units && pair[0].ph >= 4.6 && pair[1].ph <= 4.6)
    );
    // Read off docs/methods/milk-balance.py, straight between its lines: at 25 C a gallon begins to curdle at about 0.8 cup.
    let gallon = sour_curve(&batch_of(US_GALLON, AcidSource::Vinegar, None), 5).unwrap();
    assert!((gallon.first_curds.unwrap() / US_CUP - 0.8).abs() < 0.1);
}

#[test]
fn a_printed_strength_counts() {
    let mut request = batch_of(1000.0, AcidSource::Vinegar, None);
    let usual = best(&request).acid_needed;
    request.acid.strength = Some(10.0);
    // Twice as strong thins the milk less, so a little more than half is enough.
    let strong = best(&request).acid_needed;
    assert!(strong < 0.5 * usual && strong > 0.45 * usual, "{strong}");
    for strength in [0.0, 80.0, -5.0, f64::NAN] {
        request.acid.strength = Some(strength);
        assert!(matches!(milk_inputs(&request), Err(BinderError::Strength { .. })));
    }
}

#[test]
fn what_cannot_be_worked_out_is_said() {
    let run = |request: &MilkRequest| curd_with_ranges(request, Draws { count: 3, ..Draws::USUAL }).unwrap_err();
    assert_eq!(run(&batch_of(1000.0, AcidSource::Rennet, None)), BinderError::Rennet);
    assert_eq!(run(&batch_of(0.0, AcidSource::Vinegar, None)), BinderError::NoMilk);
    assert!(matches!(run(&batch_of(f64::NAN, AcidSource::Vinegar, None)), BinderError::Quantity(_)));
    assert!(matches!(run(&batch_of(-1.0, AcidSource::Vinegar, None)), BinderError::Quantity(_)));
    let counted = Some(AcidAmount::Pieces(2.0));
    assert!(matches!(run(&batch_of(1000.0, AcidSource::Vinegar, counted)), BinderError::AcidMeasure { .. }));
    for pieces in [-1.0, f64::NAN, f64::INFINITY] {
        let lemons = Some(AcidAmount::Pieces(pieces));
        assert!(matches!(run(&batch_of(1000.0, AcidSource::Lemon, lemons)), BinderError::AcidMeasure { .. }));
    }
}

#[test]
fn warnings_stand_where_they_belong() {
    let mut request = batch_of(1000.0, AcidSource::Vinegar, None);
    assert_eq!(best(&request).warnings, [Warning::NeverWithBleach]);
    request.kind = MilkKind::Whole;
    request.heated_before = true;
    request.base = Some(Base::CausticSoda);
    request.acid.source = AcidSource::HydrochloricAcid;
    let found = best(&request).warnings;
    for warning in [Warning::NeverWithBleach, Warning::FattyCurd, Warning::SoftCurd, Warning::StrongAlkali, Warning::HydrochloricAcid] {
        assert!(found.contains(&warning), "{warning:?}");
    }
    // 1.029 g/ml x 1000 ml x 3.25 % = 33.4 g of cream, more than a third of a gram beside each gram of casein.
    assert!((best(&request).fat.value() - 33.4).abs() < 0.1);
    request.base = Some(Base::AmmoniumCarbonate);
    assert!(best(&request).warnings.contains(&Warning::AmmoniaEscapes));
}

#[test]
fn household_ammonia_is_weighed_with_its_water() {
    // A litre gives 25.80 g casein (1033 x 3.37 % x 0.78 x 0.95); x 0.55 x 17.031 / 1000 = 0.2416 g ammonia, in 5 % solution 4.83 g.
    let batch = best(&MilkRequest { base: Some(Base::HouseholdAmmonia), ..batch_of(1000.0, AcidSource::Vinegar, None) });
    assert!((batch.base.unwrap().value() - 4.83).abs() < 0.02);
}

#[test]
fn rinsing_takes_the_sugar_out() {
    // A gallon, drained: hold 326.9 ml, a litre of rinse counts 800 ml: (326.9 / 1126.9)^3 = 0.0244. Sugar before: 5 g per 100 g of
    // 3910 g in 3910 + 435 - 98 = 4247 g liquid = 4.60 %; x 326.9 / 97.65 = 0.154 g per g; after three rinses 0.0038. To 1 %:
    // ln 15.4 / ln(1 + 800 / 326.9) = 2.73 / 1.238 = 2.2, so three rinses.
    let batch = best(&batch_of(US_GALLON, AcidSource::Vinegar, None));
    assert!((batch.washed.value() - 0.0244).abs() < 2e-4);
    assert!((batch.sugar_left - 0.0038).abs() < 1e-4);
    assert_eq!(batch.rinses_for_clean, Some(3));
    let dry = MilkRequest { wash: Millilitres::ZERO, ..batch_of(US_GALLON, AcidSource::Vinegar, None) };
    assert_eq!(best(&dry).rinses_for_clean, None);
}

fn any_request() -> impl Strategy<Value = MilkRequest> {
    let source = prop::sample::select(vec![
        AcidSource::Vinegar,
        AcidSource::LemonJuice,
        AcidSource::Lemon,
        AcidSource::CitricAcid,
        AcidSource::LacticAcid,
        AcidSource::HydrochloricAcid,
    ]);
    let kind = prop::sample::select(vec![MilkKind::Skim, MilkKind::PartSkim, MilkKind::Whole]);
    let base = prop::option::of(prop::sample::select(Base::ALL.to_vec()));
    (1.0f64..1e5, source, kind, 0u32..6, 0.0f64..5e3, any::<bool>(), base, prop::option::of(0.0f64..1e4)).prop_map(
        |(millilitres, source, kind, washes, wash, squeezed, base, amount)| {
            let amount = amount.map(|amount| match source {
                AcidSource::Vinegar | AcidSource::LemonJuice => AcidAmount::Volume(Millilitres::new(amount)),
                AcidSource::Lemon => AcidAmount::Pieces(amount / 50.0),
                _ => AcidAmount::Mass(Grams::new(amount)),
            });
            let state = if squeezed { CurdState::Squeezed } else { CurdState::Drained };
            MilkRequest { kind, washes, wash: Millilitres::new(wash), state, base, ..batch_of(millilitres, source, amount) }
        },
    )
}

proptest! {
    #[test]
    fn nothing_is_lost_on_the_way(request in any_request(), draw in 0usize..1000) {
        let batch = curd(&request, &milk_inputs(&request).unwrap(), &|input| Draws::USUAL.value(input, draw)).unwrap();
        let (before, after) = (batch.milk + batch.acid_poured, batch.wet_curd + batch.whey);
        prop_assert!((before - after).value().abs() <= 1e-9 * before.value());
        let parts = batch.casein + batch.fat + batch.water_in_curd;
        prop_assert!((batch.wet_curd - parts).value().abs() <= 1e-9 * batch.wet_curd.value());
        prop_assert!([batch.casein, batch.fat, batch.whey, batch.water_in_curd].iter().all(|part| part.value() >= 0.0));
    }

    #[test]
    fn more_milk_gives_more_curd_and_needs_more_acid(request in any_request(), more in 1.0f64..1e4) {
        let MilkAmount::Volume(volume) = request.milk else { panic!("made by volume") };
        let larger = MilkRequest { milk: MilkAmount::Volume(volume + Millilitres::new(more)), ..request.clone() };
        let (small, large) = (best(&request), best(&larger));
        prop_assert!(large.casein > small.casein && large.acid_needed > small.acid_needed);
    }

    #[test]
    fn milk_by_weight_and_by_volume_agree(request in any_request()) {
        let by_volume = best(&request);
        let by_mass = best(&MilkRequest { milk: MilkAmount::Mass(by_volume.milk), ..request.clone() });
        prop_assert!((by_mass.casein - by_volume.casein).value().abs() <= 1e-9 * by_volume.casein.value());
        prop_assert!((by_mass.acid_needed - by_volume.acid_needed).abs() <= 1e-9 * by_volume.acid_needed);
    }

    #[test]
    fn more_rinses_leave_less(request in any_request()) {
        let more = best(&MilkRequest { washes: request.washes + 1, ..request.clone() });
        prop_assert!(more.sugar_left <= best(&request).sugar_left);
    }
}
