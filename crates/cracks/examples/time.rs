//! How long one photo takes: `time FILE WIDTH_MM HEIGHT_MM [RUNS]` prints the wall seconds of each run from the bytes to all measures.
//! `time make MEGAPIXELS FILE` makes the photo that is timed: faint cells on a brushed board of 140 by 100 mm; its
//! corners are printed.
#![expect(clippy::print_stdout, clippy::disallowed_methods, reason = "a run by hand that prints its time")]

use std::error::Error;
use std::time::Instant;

use boardmaker::{Pattern, Recipe, make};
use cracks::{BoardSize, look, open_photo};

/// As in the program.
#[global_allocator]
static MEMORY: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() -> Result<(), Box<dyn Error>> {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    match words.as_slice() {
        ["make", size, file] => {
            let photo_px = match *size {
                "6" => (3000, 2000),
                "12" => (4242, 2828),
                _ => (6000, 4000),
            };
            let recipe = Recipe { photo_px, width_mm: 0.08, dark: 0.5, brush: 0.05, grain: 0.03, ..Recipe::usual(3, Pattern::Cells(180)) };
            let made = make(&recipe);
            std::fs::write(file, made.jpeg)?;
            println!("{}", made.corners.map(|(x, y)| format!("{x},{y}")).join(" "));
        }
        [file, width, height, rest @ ..] => {
            let size = BoardSize { width_mm: width.parse()?, height_mm: height.parse()? };
            let runs: usize = rest.first().map_or(Ok(5), |runs| runs.parse())?;
            let bytes = std::fs::read(file)?;
            for _ in 0..runs {
                let start = Instant::now();
                let photo = open_photo(&bytes)?;
                let opened = start.elapsed().as_secs_f64();
                let found = look(&photo, size, None)?;
                println!("{:.3} s, {opened:.3} of it opening; {:.5} mm/mm2", start.elapsed().as_secs_f64(), found.length.value);
            }
        }
        _ => return Err("time FILE WIDTH_MM HEIGHT_MM [RUNS], or time make 6|12|24 FILE".into()),
    }
    Ok(())
}
