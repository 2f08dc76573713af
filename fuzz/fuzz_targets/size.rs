//! Sizes typed after an option: a length of a coat, an area, a temperature.
#![no_main]

use libfuzzer_sys::fuzz_target;

// The parser is private to the program, which is no library.
#[path = "../../crates/groundproof/src/size.rs"]
mod size;

use size::{Area, Length, Temperature};

fuzz_target!(|text: &str| {
    if let Ok(Length(um)) = text.parse() {
        assert!((1.0..=20_000.0).contains(&um), "{um}");
    }
    if let Ok(Area(m2)) = text.parse() {
        assert!((1e-6..=1e4).contains(&m2), "{m2}");
    }
    if let Ok(Temperature(c)) = text.parse() {
        assert!(c.is_finite(), "{c}");
    }
});
