//! Any text, as a painter would tell it: no word is lost, and every range is in order.
#![no_main]

use libfuzzer_sys::fuzz_target;
use materials::{Amount, Catalogue, Wishes, read};
use measure::Units;

fuzz_target!(|text: &str| {
    let (Ok(jars), Ok(units)) = (Catalogue::builtin(), Units::builtin()) else { panic!("the data files are broken") };
    let reading = read(jars, &units, text, &Wishes::new());
    let back: String = reading.pieces.iter().map(|piece| piece.span().of(text)).collect();
    assert_eq!(back, text);
    for line in &reading.lines {
        let number = match &line.amount {
            Amount::Mass { number, .. } | Amount::Volume { number, .. } | Amount::Parts { number, .. } => number,
            Amount::VolumePerLiquid { number } | Amount::PercentOfWhole { number } | Amount::Pieces { number } => number,
            Amount::NotGiven(_) => continue,
        };
        assert!(number.low >= 0.0 && number.low <= number.high && number.high.is_finite(), "{number:?}");
    }
});
