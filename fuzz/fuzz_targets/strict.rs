//! Any text as strict recipe text: taken whole, or refused with the number of a line that there is.
#![no_main]

use libfuzzer_sys::fuzz_target;
use materials::{Catalogue, read_strict};
use measure::Units;

fuzz_target!(|text: &str| {
    let (Ok(jars), Ok(units)) = (Catalogue::builtin(), Units::builtin()) else { panic!("the data files are broken") };
    let lines = text.lines().count();
    match read_strict(jars, &units, text) {
        Ok(reading) => {
            let back: String = reading.pieces.iter().map(|piece| piece.span().of(text)).collect();
            assert_eq!(back, text);
        }
        Err(errors) => assert!(!errors.is_empty() && errors.iter().all(|error| (1..=lines).contains(&error.line) && !error.what.is_empty())),
    }
});
