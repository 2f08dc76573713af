//! Writes one of the files that go with a paper to standard output, always the same bytes: `calendar` or `data`.
//!
//! All boards and readings in it are invented: a lighthouse workshop prepares panels for a tide calendar. Other people's readers are
//! asked whether they can read it, see `reference/`.

use std::io::Write;
use std::process::ExitCode;

use paper::calendar::{Appointment, Stamp, calendar, uid};
use show::{BoardData, CoatData, DataView, IngredientData, LicenceView, MeasureView, ReadingData};

#[expect(clippy::disallowed_methods, reason = "an example is its own edge")]
fn main() -> ExitCode {
    let bytes = match std::env::args().nth(1).as_deref() {
        Some("calendar") => looks().map(String::into_bytes).map_err(|e| e.to_string()),
        Some("data") => paper::data_zip(&trial()).map_err(|e| e.to_string()),
        _ => Err("say which file: calendar or data".to_owned()),
    };
    let written = bytes.and_then(|bytes| std::io::stdout().write_all(&bytes).map_err(|e| e.to_string()));
    match written {
        Ok(()) => ExitCode::SUCCESS,
        Err(why) => {
            let _ = writeln!(std::io::stderr(), "{why}");
            ExitCode::FAILURE
        }
    }
}

fn looks() -> Result<String, paper::calendar::CalendarError> {
    let look = |board: &str, look: &str, day, title: String, text: &str| Appointment {
        uid: uid("tide calendar", board, look),
        day,
        title,
        text: text.to_owned(),
    };
    let long = "Same place, same lamp, same distance; then cracks, dust, sound when tapped. ".repeat(4);
    calendar(
        "Tide calendar, boards of the lighthouse",
        &[
            look("07", "1-day", (2026, 11, 26), "Look at board 07; one day".into(), "Cracks, dust\nand a photograph, please"),
            look("07", "1-month", (2027, 2, 28), "Look at board 07, one month".into(), &long),
            look("ß-8", "1-year", (2028, 2, 29), format!("Look at board ß-8 {}", "½ µm – ".repeat(20)), "path \\ slash; comma, end"),
        ],
        Stamp { day: (2026, 11, 25), time: (9, 30, 0) },
    )
}

fn trial() -> DataView {
    let board = |id: &str, recipe: &str, job: &str| BoardData {
        board: id.into(),
        recipe: recipe.into(),
        batch: "A".into(),
        day: "1".into(),
        job: job.into(),
        support: "plywood, 6 mm".into(),
        width_mm: "200".into(),
        height_mm: "250".into(),
        last_coat: "2026-11-25".into(),
        ..BoardData::default()
    };
    let reading = |board: &str, measure: &str, kind: &str, value: &str| ReadingData {
        board: board.into(),
        measure: measure.into(),
        kind: kind.into(),
        value: value.into(),
        batch: "A".into(),
        day: "1".into(),
        age_d: "30".into(),
        rater: "the keeper".into(),
        blind: "yes".into(),
        factors: vec![("share:chalk".into(), "0.5".into()), ("set:coats".into(), "3".into()), ("set:support".into(), "plywood".into())],
        ..ReadingData::default()
    };
    let coat = |board: &str, number: &str| CoatData {
        board: board.into(),
        coat: number.into(),
        batch: "A".into(),
        laid: "2026-11-25".into(),
        wet_g: "12.5".into(),
        direction: "across".into(),
        room_c: "19.5".into(),
        room_rh: "55".into(),
        ..CoatData::default()
    };
    let line = |number: &str, material: &str, told: &str, mass: &str| IngredientData {
        recipe: "half the glue".into(),
        line: number.into(),
        material: material.into(),
        told: told.into(),
        mass_g: mass.into(),
        ..IngredientData::default()
    };
    let measure = |id: &str, name: &str, unit: &str| MeasureView {
        id: id.into(),
        name: name.into(),
        unit: unit.into(),
        how: "Invented for this sample".into(),
    };
    let formula = "=HYPERLINK(\"lighthouse\")";
    DataView {
        title: "Tide calendar: less glue?".into(),
        description: "Invented boards of a lighthouse workshop.".into(),
        created: "2026-11-25".into(),
        authors: vec!["The keeper".into(), "The \"second\" keeper".into()],
        licence: LicenceView {
            id: "CC-BY-4.0".into(),
            title: "Creative Commons Attribution 4.0".into(),
            address: "https://creativecommons.org/licenses/by/4.0/".into(),
        },
        program: "groundproof 0.1.0".into(),
        measures: vec![
            measure("cracking", "how many cracks", ""),
            measure("drop_time", "how long a drop shines", "s"),
            measure("cracked", "cracked or not", ""),
        ],
        boards: vec![
            board("07", "half the glue", "recipe"),
            BoardData { note: formula.into(), lost: "fell, \"face down\"\ninto the sea".into(), ..board("-8", "half the glue", "recipe") },
            BoardData { last_coat: String::new(), ..board("K1", "", "witness") },
        ],
        coats: vec![coat("07", "0"), coat("07", "1"), coat("-8", "1")],
        readings: vec![
            reading("07", "cracking", "class_0_5", "2.5"),
            reading("07", "drop_time", "time", ">600"),
            reading("-8", "drop_time", "time", "3..7"),
            reading("-8", "cracked", "yes_no", "1"),
            ReadingData {
                blind: "no".into(),
                struck: "wet hands, wrong board".into(),
                note: "+1".into(),
                ..reading("K1", "cracking", "class_0_5", "")
            },
            ReadingData { factors: Vec::new(), age_d: String::new(), ..reading("K1", "drop_time", "time", "<0.05") },
        ],
        recipes: vec![line("1", "chalk", "2 cups", "402.2"), line("2", "hide glue", "20 g", "20"), line("3", "water", "@ need", "")],
    }
}
