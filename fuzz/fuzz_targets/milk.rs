//! The form of milk and powder, a line a field: answered in ordinary numbers, or refused with a sentence.
#![no_main]

use libfuzzer_sys::fuzz_target;
use workbench::{MilkForm, Workbench};

fuzz_target!(|text: &str| {
    let Ok(bench) = Workbench::open() else { panic!("the data files are broken") };
    let mut lines = text.split('\n');
    let mut field = |usual: &str| lines.next().filter(|line| !line.is_empty()).unwrap_or(usual).to_owned();
    let form = MilkForm {
        milk: field("2 l skim milk"),
        acid: field("1 lemon"),
        powder: field("chalk"),
        base: field("borax"),
        size: field("20 x 25 cm"),
        boards: field("5").parse().unwrap_or(5),
        coats: field("4").parse().unwrap_or(4),
        warmth_c: field("").parse().ok(),
    };
    match bench.milk(&form) {
        Ok(view) => {
            assert!(view.report.casein_g.value.is_some());
            assert!(serde_json::to_string(&view.report).is_ok());
        }
        Err(why) => assert!(!why.to_string().is_empty()),
    }
});
