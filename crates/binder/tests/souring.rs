//! The balance of charges in milk and in salt water, against published standards, titrations and laws.
//!
//! Doses and states marked "written out" come from `docs/methods/milk-balance.py`, a second coding of the same equations that shares no
//! code with this one: they try the code, not the chemistry.
#![expect(clippy::unwrap_used, reason = "in a test a panic is the report")]

use binder::{Acid, BinderBook, Ligand, MilkBalance, MilkMakeup, OtherAcid, Pour, SaltMix};
use measure::{Millilitres, Millimoles};
use proptest::prelude::*;

const LITRE: Millilitres = Millilitres::new(1000.0);
/// Exactly 231 cubic inches (NIST Handbook 44).
const US_GALLON: Millilitres = Millilitres::new(3_785.411_784);
const US_CUP: f64 = 236.588_236_5;
/// 50 g/l over 60.052 g/mol.
const VINEGAR: f64 = 0.8326;

fn milk() -> MilkBalance<'static> {
    let book = BinderBook::builtin().unwrap();
    MilkBalance::new(book, MilkMakeup::usual(book).unwrap())
}

fn undiluted(acid: Acid, amount: f64) -> Pour {
    Pour::of(acid, Millimoles::new(amount), Millilitres::ZERO)
}

fn vinegar(millilitres: f64) -> Pour {
    Pour::of(Acid::Acetic, Millimoles::new(VINEGAR * millilitres), Millilitres::new(millilitres))
}

fn near(found: f64, expected: f64, slack: f64) {
    assert!((found - expected).abs() <= slack, "{found} instead of {expected}");
}

#[test]
fn ph_standards_of_the_national_bureau_of_standards() {
    // NBS/Bates pH standards at 25 C, from memory: acetate 0.1 + 0.1 mol/l 4.65, phosphate 0.025 + 0.025 mol/kg 6.865, borax
    // 0.01 mol/kg 9.180.
    let book = BinderBook::builtin().unwrap();
    let mut acetate = SaltMix::new(book);
    acetate.ligand(Ligand::Acetate, Millimoles::new(200.0)).ions(1, Millimoles::new(100.0));
    near(acetate.settle().unwrap().ph, 4.65, 0.02);
    let mut phosphate = SaltMix::new(book);
    phosphate.ligand(Ligand::Phosphate, Millimoles::new(50.0)).ions(1, Millimoles::new(75.0));
    near(phosphate.settle().unwrap().ph, 6.865, 0.02);
    let mut borax = SaltMix::new(book);
    borax.ligand(Ligand::Borate, Millimoles::new(40.0)).ions(1, Millimoles::new(20.0));
    near(borax.settle().unwrap().ph, 9.180, 0.02);
    // Pure water 7; 5 % vinegar by itself: h = sqrt(10^-4.757 x 0.8326) = 3.817e-3 near enough, pH 2.419.
    near(SaltMix::new(book).settle().unwrap().ph, 7.0, 1e-6);
    let mut own = SaltMix::new(book);
    own.ligand(Ligand::Acetate, Millimoles::new(1000.0 * VINEGAR));
    near(own.settle().unwrap().ph, 2.419, 0.005);
}

#[test]
fn a_drop_of_milk_in_neat_acid_has_no_state() {
    // 2,702 mmol of hydrochloric acid in 1 ml: no such acid exists (12 mol/l is the strongest sold), and no pH from 0 up balances it.
    let milk = milk();
    let neat = undiluted(Acid::Hydrochloric, 2_702.0);
    assert!(milk.state(Millilitres::new(1.0), &neat).is_err());
    near(milk.ph(Millilitres::new(1.0), &neat).unwrap(), 0.0, 0.0);
}

#[test]
fn fresh_milk_is_as_published() {
    // Residue: the published analysis balances within 1 % of about 130 mmol/l. Written out: 1.15 to 1.27 by three codings.
    let milk = milk();
    near(milk.residue(), 1.26, 0.19);
    let state = milk.state(LITRE, &Pour::NOTHING).unwrap();
    near(state.ph, 6.65, 1e-9);
    // Written out: 3.06, 6.62, 0.0753. Holt 2004, as quoted: about 2, about 7 and 0.7 mmol/l; Fox and McSweeney 1998: 0.08 mol/l.
    near(state.free_calcium, 3.06, 0.03);
    near(state.calcium_citrate, 6.62, 0.07);
    near(state.calcium_phosphate, 0.96, 0.03);
    near(state.ionic_strength, 0.0753, 0.0753 * 0.05);
    near(state.free_calcium, 2.0, 1.2);
    near(state.calcium_citrate, 7.0, 0.5);
    near(state.ionic_strength, 0.08, 0.01);
}

#[test]
fn doses_of_four_acids() {
    // Written out, mmol for a litre of milk, no dilution.
    let milk = milk();
    for (acid, doses, slack) in [
        (Acid::Hydrochloric, [15.8, 33.9, 47.0, 53.7], 0.3),
        (Acid::Acetic, [18.0, 48.0, 95.1, 140.0], 0.5),
        (Acid::Lactic, [16.0, 35.8, 53.5, 65.6], 0.5),
        (Acid::Citric, [5.7, 13.1, 21.0, 26.9], 0.5),
    ] {
        for (ph, dose) in [5.5, 5.0, 4.6, 4.4].into_iter().zip(doses) {
            let found = milk.units_to(ph, LITRE, &Pour::NOTHING, &undiluted(acid, 1.0)).unwrap();
            near(found, dose, slack);
            near(milk.ph(LITRE, &undiluted(acid, found)).unwrap(), ph, 1e-6);
        }
    }
    // From the literature, from memory: skim milk takes roughly 45 to 60 mmol/l of strong acid to pH 4.6.
    let strong = milk.units_to(4.6, LITRE, &Pour::NOTHING, &undiluted(Acid::Hydrochloric, 1.0)).unwrap();
    assert!((45.0..=60.0).contains(&strong));
    // Soured milk sets firmly at 0.6 to 0.7 % titratable (from memory), 0.16 % of it natural: 0.0901 g/mmol x dose / 10 + 0.16.
    let lactic = milk.units_to(4.6, LITRE, &Pour::NOTHING, &undiluted(Acid::Lactic, 1.0)).unwrap();
    assert!((0.6..=0.7).contains(&(lactic * 0.090_08 / 10.0 + 0.16)));
}

#[test]
fn what_is_in_sour_milk() {
    // Written out for hydrochloric acid to pH 4.6.
    let milk = milk();
    let dose = milk.units_to(4.6, LITRE, &Pour::NOTHING, &undiluted(Acid::Hydrochloric, 1.0)).unwrap();
    let state = milk.state(LITRE, &undiluted(Acid::Hydrochloric, dose)).unwrap();
    near(state.ionic_strength, 0.1330, 0.1330 * 0.05);
    near(state.free_calcium, 18.19, 0.19);
    near(state.protons_on_phosphate, 41.21, 0.42);
    near(state.protons_on_citrate, 5.20, 0.06);
    near(state.colloid_share, 0.0214, 0.0003);
}

#[test]
fn protons_in_the_grains_move_the_dose() {
    // Written out: all grains as phosphate without a proton 54.6 mmol/l, with one 44.8; 10 % more or less casein 1.9 either way.
    let book = BinderBook::builtin().unwrap();
    let usual = MilkMakeup::usual(book).unwrap();
    let dose = |makeup| MilkBalance::new(book, makeup).units_to(4.6, LITRE, &Pour::NOTHING, &undiluted(Acid::Hydrochloric, 1.0)).unwrap();
    near(dose(MilkMakeup { colloid_protons: 0.0, ..usual }), 54.6, 0.3);
    near(dose(MilkMakeup { colloid_protons: 1.0, ..usual }), 44.8, 0.3);
    near(dose(MilkMakeup { casein: 1.1 * usual.casein, ..usual }) - dose(usual), 1.9, 0.2);
}

#[test]
fn the_buffer_peak_is_where_titrations_find_it() {
    // One buffering peak when milk is titrated with hydrochloric acid: at pH 5.05 (Tomasula et al. 1999), at pH 5 (Lucey et al. 1993);
    // 30 to 40 mmol/l for each pH high (from memory). Written out: 5.2, 40.2.
    let milk = milk();
    let (mut peak, mut highest) = (0.0, 0.0);
    for step in 0..=220 {
        let ph = 6.4 - 0.01 * f64::from(step);
        let capacity = milk.buffer_capacity(ph).unwrap();
        if capacity > highest {
            (peak, highest) = (ph, capacity);
        }
    }
    near(peak, 5.05, 0.2);
    near(highest, 40.2, 0.5);
    for (ph, capacity) in [(6.0, 11.7), (5.4, 32.5), (5.2, 40.2), (5.1, 39.0), (5.0, 36.0), (4.6, 32.5)] {
        near(milk.buffer_capacity(ph).unwrap(), capacity, 0.3);
    }
}

#[test]
fn vinegar_in_a_gallon() {
    // Common practice, no source: two US cups of 5 % vinegar to a US gallon of skim milk give a good curd. Written out: pH 4.557; other
    // doses 4.96, 4.71, 4.60, 4.44, 4.36, 4.23; vinegar of 4 % 4.68, of 6 % 4.46.
    let milk = milk();
    let cups = |cups: f64| milk.ph(US_GALLON, &vinegar(cups * US_CUP)).unwrap();
    near(cups(2.0), 4.557, 0.01);
    for (dose, ph) in [(1.0, 4.955), (3.0, 4.356), (4.0, 4.225)] {
        near(cups(dose), ph, 0.01);
    }
    for (dose, ph) in [(1.5, 4.71), (1.84, 4.60), (2.5, 4.44)] {
        near(cups(dose), ph, 0.015);
    }
    let of = |percent: f64| Pour::of(Acid::Acetic, Millimoles::new(2.0 * US_CUP * VINEGAR * percent / 5.0), Millilitres::new(2.0 * US_CUP));
    near(milk.ph(US_GALLON, &of(4.0)).unwrap(), 4.68, 0.01);
    near(milk.ph(US_GALLON, &of(6.0)).unwrap(), 4.46, 0.01);
}

#[test]
fn one_lemon_in_a_litre() {
    // Penniston et al. 2008, J. Endourol., as quoted: juice holds 48 g/l citric acid; 45 ml hold 2.16 g, / 0.192124 = 11.24 mmol. Written
    // out, straight between 5.7 mmol at 5.5 and 13.1 at 5.0: pH 5.125; 21.0 / 11.24 = 1.87 lemons.
    let milk = milk();
    let lemon = undiluted(Acid::Citric, 2.16 / 0.192_124);
    near(lemon.citric.value(), 11.24, 0.005);
    near(milk.ph(LITRE, &lemon).unwrap(), 5.13, 0.02);
    near(milk.units_to(4.6, LITRE, &Pour::NOTHING, &lemon).unwrap(), 1.87, 0.02);
}

#[test]
fn an_acid_too_weak_or_too_thin_is_no_answer() {
    let milk = milk();
    // Acetic acid of 0.0001 mol/l has a pH of about 4.5 in pure water, but in milk no amount of it reaches 4.0.
    let thin = Pour::of(Acid::Acetic, Millimoles::new(1.0), Millilitres::new(10_000.0));
    assert_eq!(milk.units_to(4.0, LITRE, &Pour::NOTHING, &thin), None);
    let boric = Pour { other: Some(OtherAcid { amount: Millimoles::new(1.0), pka: 9.24 }), ..Pour::NOTHING };
    assert_eq!(milk.units_to(4.6, LITRE, &Pour::NOTHING, &boric), None);
    assert_eq!(milk.units_to(4.6, LITRE, &Pour::NOTHING, &Pour::NOTHING), None);
    assert!(milk.ph(Millilitres::ZERO, &Pour::NOTHING).is_err());
    assert!(milk.ph(LITRE, &undiluted(Acid::Acetic, f64::NAN)).is_err());
}

#[test]
fn another_acid_with_the_numbers_of_vinegar_acts_like_it() {
    let milk = milk();
    let other = Pour { other: Some(OtherAcid { amount: Millimoles::new(60.0), pka: 4.757 }), ..Pour::NOTHING };
    // Acetate holds a little calcium, the other acid none: a few hundredths at most.
    near(milk.ph(LITRE, &other).unwrap(), milk.ph(LITRE, &undiluted(Acid::Acetic, 60.0)).unwrap(), 0.04);
}

fn any_pour() -> impl Strategy<Value = Pour> {
    let amount = || prop_oneof![Just(0.0), 1e-6f64..1e4];
    let other = prop::option::of((0.0f64..500.0, 1.0f64..10.0));
    (amount(), amount(), amount(), amount(), other, 0.0f64..1e5).prop_map(|(acetic, citric, lactic, hydrochloric, other, volume)| Pour {
        acetic: Millimoles::new(acetic),
        citric: Millimoles::new(citric),
        lactic: Millimoles::new(lactic),
        hydrochloric: Millimoles::new(hydrochloric),
        other: other.map(|(amount, pka)| OtherAcid { amount: Millimoles::new(amount), pka }),
        volume: Millilitres::new(volume),
    })
}

fn any_milk() -> impl Strategy<Value = MilkMakeup> {
    let usual = MilkMakeup::usual(BinderBook::builtin().unwrap()).unwrap();
    (6.5f64..6.75, 27.0f64..33.0, 3.0f64..6.0, 19.0f64..24.0, 8.0f64..13.0, 8.0f64..11.0, 20.0f64..34.0).prop_map(
        move |(ph, calcium, magnesium, phosphate, colloid, citrate, casein)| MilkMakeup {
            ph,
            calcium,
            magnesium,
            phosphate,
            colloid,
            citrate,
            casein,
            ..usual
        },
    )
}

proptest! {
    #[test]
    fn charges_and_metals_balance(makeup in any_milk(), pour in any_pour(), millilitres in 1.0f64..1e5) {
        let milk = MilkBalance::new(BinderBook::builtin().unwrap(), makeup);
        let millilitres = Millilitres::new(millilitres);
        let Ok(state) = milk.state(millilitres, &pour) else {
            // Nothing but the sour end itself is without a balance, and it takes more acid than any kitchen has: over half a mole a litre.
            prop_assert!(milk.ph(millilitres, &pour).unwrap().abs() < f64::EPSILON);
            let single = pour.acetic + pour.lactic + pour.hydrochloric;
            let acid = single.value() + 3.0 * pour.citric.value() + pour.other.map_or(0.0, |other| other.amount.value());
            prop_assert!(acid > 0.5 * (millilitres + pour.volume).value());
            return Ok(());
        };
        prop_assert!(state.unbalanced.abs() <= 1e-9, "{state:?}");
        prop_assert!(state.lost <= 1e-9, "{state:?}");
        prop_assert!(state.ph > 0.0 && state.ph < 11.0 && state.free_calcium > 0.0);
    }

    #[test]
    fn more_acid_never_raises_the_ph(makeup in any_milk(), first in 0.0f64..400.0, more in 0.01f64..400.0, which in 0usize..4) {
        let milk = MilkBalance::new(BinderBook::builtin().unwrap(), makeup);
        let acid = Acid::ALL[which];
        let (less, more) = (undiluted(acid, first), undiluted(acid, first + more));
        prop_assert!(milk.ph(LITRE, &more).unwrap() <= milk.ph(LITRE, &less).unwrap() + 1e-9);
    }

    #[test]
    fn the_order_of_acids_does_not_matter(a in any_pour(), b in any_pour()) {
        let (a, b) = (Pour { other: None, ..a }, Pour { other: None, ..b });
        let milk = milk();
        let (one, two) = (milk.ph(LITRE, &a.and(&b)).unwrap(), milk.ph(LITRE, &b.and(&a)).unwrap());
        prop_assert!((one - two).abs() < 1e-10);
    }

    #[test]
    fn the_dose_to_a_ph_leads_there(makeup in any_milk(), ph in 4.0f64..6.4, which in 0usize..4, strength in 0.3f64..10.0) {
        let milk = MilkBalance::new(BinderBook::builtin().unwrap(), makeup);
        let unit = Pour::of(Acid::ALL[which], Millimoles::new(strength), Millilitres::new(1.0));
        let units = milk.units_to(ph, LITRE, &Pour::NOTHING, &unit).unwrap();
        let back = milk.ph(LITRE, &Pour::NOTHING.and(&Pour::of(Acid::ALL[which], Millimoles::new(strength * units), Millilitres::new(units)))).unwrap();
        prop_assert!((back - ph).abs() < 1e-7);
    }

    #[test]
    fn the_curve_agrees_with_single_doses(which in 0usize..4, strength in 0.3f64..10.0) {
        let milk = milk();
        let unit = Pour::of(Acid::ALL[which], Millimoles::new(strength), Millilitres::new(1.0));
        let curve = milk.curve(LITRE, &Pour::NOTHING, &unit, 4.0, 50);
        prop_assert_eq!(curve.len(), 51);
        for point in curve.iter().skip(1) {
            let alone = milk.units_to(point.ph, LITRE, &Pour::NOTHING, &unit).unwrap();
            prop_assert!((alone - point.units).abs() <= 1e-7 * alone);
        }
    }

    #[test]
    fn salts_in_water_balance(amounts in prop::collection::vec(0.0f64..60.0, 11)) {
        let mut mix = SaltMix::new(BinderBook::builtin().unwrap());
        for (ligand, amount) in Ligand::ALL.into_iter().zip(&amounts) {
            mix.ligand(ligand, Millimoles::new(*amount));
        }
        mix.calcium(Millimoles::new(amounts[8])).magnesium(Millimoles::new(amounts[9])).ions(1, Millimoles::new(3.0 * amounts[10]));
        let state = mix.settle().unwrap();
        prop_assert!(state.unbalanced.abs() <= 1e-9 && state.lost <= 1e-9, "{state:?}");
    }
}
