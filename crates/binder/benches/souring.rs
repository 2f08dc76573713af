//! How long the balance of charges takes; printed by `cargo xtask bench`, judged by nobody.

#![expect(clippy::unwrap_used, reason = "a bench that can't start has nothing to say")]

use binder::{
    Acid, AcidAmount, AcidAtHand, AcidSource, Base, BinderBook, CurdState, Gas, MilkAmount, MilkBalance, MilkKind, MilkMakeup, MilkRequest,
    OpenCasein, OpenPot, Pour, curd_with_ranges,
};
use divan::Bencher;
use measure::{Draws, Grams, Millilitres, Millimoles};

fn main() {
    divan::main();
}

fn milk() -> MilkBalance<'static> {
    let book = BinderBook::builtin().unwrap();
    MilkBalance::new(book, MilkMakeup::usual(book).unwrap())
}

const LITRE: Millilitres = Millilitres::new(1000.0);

fn vinegar(millilitres: f64) -> Pour {
    Pour::of(Acid::Acetic, Millimoles::new(0.8326 * millilitres), Millilitres::new(millilitres))
}

/// One pH of milk and vinegar.
#[divan::bench]
fn one_equilibrium(bencher: Bencher<'_, '_>) {
    let (milk, pour) = (milk(), vinegar(125.0));
    bencher.bench_local(|| milk.ph(LITRE, divan::black_box(&pour)).unwrap());
}

/// Acid to the curdling point.
#[divan::bench]
fn one_dose(bencher: Bencher<'_, '_>) {
    let (milk, unit) = (milk(), vinegar(1.0));
    bencher.bench_local(|| milk.units_to(4.6, LITRE, &Pour::NOTHING, divan::black_box(&unit)).unwrap());
}

/// A curve of 200 points.
#[divan::bench]
fn curve_of_200(bencher: Bencher<'_, '_>) {
    let (milk, unit) = (milk(), vinegar(1.0));
    bencher.bench_local(|| milk.curve(LITRE, &Pour::NOTHING, divan::black_box(&unit), 4.0, 200));
}

/// A whole batch at 10,000 draws.
#[divan::bench(sample_count = 10)]
fn batch_of_10000_draws(bencher: Bencher<'_, '_>) {
    let request = MilkRequest {
        milk: MilkAmount::Volume(LITRE),
        kind: MilkKind::Skim,
        heated_before: false,
        acid: AcidAtHand { source: AcidSource::Vinegar, amount: Some(AcidAmount::Volume(Millilitres::new(125.0))), strength: None },
        others: Vec::new(),
        water: Millilitres::ZERO,
        warmth: None,
        washes: 3,
        wash: LITRE,
        state: CurdState::Drained,
        base: Some(Base::BakingSoda),
    };
    let draws = Draws { count: 10_000, ..Draws::USUAL };
    bencher.bench_local(|| curd_with_ranges(divan::black_box(&request), draws).unwrap());
}

/// One pH of opened casein.
#[divan::bench]
fn opened_casein(bencher: Bencher<'_, '_>) {
    let open = OpenCasein::usual(BinderBook::builtin().unwrap()).unwrap();
    let pot = OpenPot {
        casein: Grams::new(100.0),
        water: LITRE,
        base: Base::BakingSoda,
        dose: Millimoles::new(60.0),
        acid_left: Millimoles::ZERO,
    };
    bencher.bench_local(|| open.ph(divan::black_box(&pot), Gas::Stirred).unwrap());
}
