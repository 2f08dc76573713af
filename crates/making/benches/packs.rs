//! How long fifteen stuffs take to be bought at the least cost, each from four packs.

use making::{Money, Pack, Tenths, ToBuy, to_buy};
use measure::Grams;

fn main() {
    divan::main();
}

/// To stay under 50 ms together.
#[divan::bench]
fn fifteen_stuffs() -> Vec<ToBuy> {
    let pack = |grams: f64, price: f64| Pack { holds: Tenths::held(Grams::new(grams)), price: Money::of(price) };
    let packs = [pack(97.5, 2.3), pack(250.0, 4.9), pack(1000.0, 14.0), pack(2500.0, 31.0)];
    (1..=15).map(|stuff| to_buy(Tenths::needed(Grams::new(137.3 * f64::from(stuff))), Tenths::ZERO, &packs)).collect()
}
