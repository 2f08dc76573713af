//! Answers questions about air and drying, one a line, as CSV; other libraries are asked the same, see `reference/`.
//!
//! `air,C,%` gives pressure of saturation (Pa), dew point, wet bulb (C), mixing ratio (g/kg), water (g/m3);
//! `wet,C,%,m/s,length,width,thickness (mm),insulated|free` gives g/(m2 h), C of the face, W/(m2 K);
//! `fit,step,h,g,h,g,...` gives end (g), height at 0 h (g), tau (h), half-widths of the end and of ln tau, or a complaint.

use std::error::Error;
use std::io::{BufRead as _, Write as _};

use measure::{Celsius, Grams, Hours, MetresPerSecond, Millimetres, RelativeHumidity};
use support::{Air, Back, Weighing, WetBoard, evaporation, fit_drying, saturation_pressure};

fn main() -> Result<(), Box<dyn Error>> {
    let mut out = std::io::stdout().lock();
    for line in std::io::stdin().lock().lines() {
        let line = line?;
        let mut fields = line.split(',');
        let kind = fields.next().unwrap_or_default();
        let words: Vec<&str> = fields.collect();
        let numbers: Vec<f64> = words.iter().filter_map(|word| word.parse().ok()).collect();
        let answer = match (kind, numbers.as_slice()) {
            ("air", [celsius, percent]) => air(*celsius, *percent)?,
            ("wet", [celsius, percent, draught, length, width, thickness]) => {
                let back = if words.last() == Some(&"free") { Back::Free } else { Back::Insulated };
                let mm = Millimetres::new;
                let board = WetBoard::new(mm(*length), mm(*width), mm(*thickness), back)?;
                let air = Air::new(Celsius::new(*celsius), RelativeHumidity::new(*percent))?;
                let found = evaporation(&air, MetresPerSecond::new(*draught), &board)?;
                vec![found.rate.value(), found.surface.value(), found.heat_transfer]
            }
            ("fit", [step, seen @ ..]) => match fit(*step, seen) {
                Ok(found) => found,
                Err(why) => {
                    writeln!(out, "{why:?}")?;
                    continue;
                }
            },
            _ => return Err(format!("`{line}` is no question").into()),
        };
        writeln!(out, "{}", answer.iter().map(f64::to_string).collect::<Vec<_>>().join(","))?;
    }
    Ok(())
}

fn air(celsius: f64, percent: f64) -> Result<Vec<f64>, Box<dyn Error>> {
    let air = Air::new(Celsius::new(celsius), RelativeHumidity::new(percent))?;
    Ok(vec![
        saturation_pressure(Celsius::new(celsius))?.value(),
        air.dew_point().value(),
        air.wet_bulb().value(),
        air.mixing_ratio().value(),
        air.water().value(),
    ])
}

fn fit(step: f64, seen: &[f64]) -> Result<Vec<f64>, support::CantTell> {
    let weighings: Vec<Weighing> = seen
        .chunks_exact(2)
        .filter_map(|pair| match pair {
            [at, mass] => Some(Weighing { at: Hours::new(*at), mass: Grams::new(*mass) }),
            _ => None,
        })
        .collect();
    let fit = fit_drying(&weighings, Grams::new(step))?;
    Ok(vec![
        fit.end.usual.value(),
        fit.at_start.value(),
        fit.tau.usual.value(),
        (fit.end.high - fit.end.usual).value(),
        (fit.tau.high / fit.tau.usual).ln(),
    ])
}
