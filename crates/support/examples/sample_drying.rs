//! Answers questions about air and drying, one a line, as CSV; other libraries are asked the same, see `reference/`.
//!
//! `air,C,%` gives pressure of saturation (Pa), dew point, wet bulb (C), mixing ratio (g/kg), water (g/m3);
//! `wet,C,%,m/s,length,width,thickness (mm),insulated|free` gives g/(m2 h), C of the face, W/(m2 K);
//! `spans,C,+-C,%,+-%,still|room|airy|fan,length,width,thickness,one|both,insulated|free,bare|sized,g/m2,+-g/m2,g/ml,solids` gives low, usual, high of
//! matt, best until, sand, test, board (h), rate (g/(m2 h));
//! `pace,` the same fields, `m2,step,h,g,h,g,...` gives low, usual, high of the factor;
//! `fit,step,h,g,h,g,...` gives end (g), height at 0 h (g), tau (h), half-widths of the end and of ln tau, or a complaint.

use std::error::Error;
use std::io::{BufRead as _, Write as _};

use measure::{
    Celsius, Grams, GramsPerMillilitre, GramsPerSquareMetre, Hours, MetresPerSecond, Millimetres, RelativeHumidity, Share, SquareMetres,
};
use support::{
    Air, Back, CoatAsked, DRYING_DRAWS, Draught, DryingAsked, DryingSpans, Face, GroundKind, OpenFaces, Reading, Weighing, WetBoard,
    drying_spans, evaporation, fit_drying, pace, saturation_pressure,
};

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
            ("spans", _) => spans_row(&words)?,
            ("pace", _) => pace_row(&words)?,
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

/// How many fields a board takes.
const FIELDS: usize = 15;

fn spans(words: &[&str]) -> Result<DryingSpans, Box<dyn Error>> {
    let [c, c_off, damp, damp_off, draught, length, width, thickness, open, back, face, laid, laid_off, density, solids] = words else {
        return Err(format!("{FIELDS} fields are wanted, not {}", words.len()).into());
    };
    let celsius = |word: &str| word.parse().map(Celsius::new);
    let percent = |word: &str| word.parse().map(RelativeHumidity::new);
    let mm = |word: &str| word.parse().map(Millimetres::new);
    let per_area = |word: &str| word.parse().map(GramsPerSquareMetre::new);
    let asked = DryingAsked {
        warmth: Some(Reading { value: celsius(c)?, within: celsius(c_off)? }),
        damp: Some(Reading { value: percent(damp)?, within: percent(damp_off)? }),
        draught: match *draught {
            "still" => Draught::Still,
            "airy" => Draught::Airy,
            "fan" => Draught::Fan,
            _ => Draught::Room,
        },
        length: mm(length)?,
        width: mm(width)?,
        thickness: mm(thickness)?,
        open: if *open == "both" { OpenFaces::Both } else { OpenFaces::One },
        back: if *back == "free" { Back::Free } else { Back::Insulated },
        face: if *face == "bare" { Face::Bare } else { Face::Sized },
        coat: CoatAsked {
            laid: Reading { value: per_area(laid)?, within: per_area(laid_off)? },
            density: GramsPerMillilitre::new(density.parse()?),
            solids: Share::new(solids.parse()?),
            packing: None,
        },
        ground: GroundKind::Glue,
    };
    Ok(drying_spans(&asked, DRYING_DRAWS)?)
}

fn spans_row(words: &[&str]) -> Result<Vec<f64>, Box<dyn Error>> {
    let spans = spans(words)?;
    let best = spans.next_coat.and_then(|next| next.best_until).ok_or("no rule for the next coat")?;
    let times = [spans.matt, best, spans.sand, spans.test, spans.board].map(|span| span.map(Hours::value));
    let rate = spans.rate.map(measure::GramsPerSquareMetreHour::value);
    Ok(times.into_iter().chain([rate]).flat_map(|span| [span.low, span.usual, span.high]).collect())
}

fn pace_row(words: &[&str]) -> Result<Vec<f64>, Box<dyn Error>> {
    let (board, rest) = words.split_at_checked(FIELDS).ok_or("too few fields")?;
    let numbers: Vec<f64> = rest.iter().map(|word| word.parse()).collect::<Result<_, _>>()?;
    let [area, step, seen @ ..] = numbers.as_slice() else { return Err("area and step are wanted".into()) };
    let found = pace(&spans(board)?.course, &weighings(seen), SquareMetres::new(*area), Grams::new(*step))?;
    Ok(vec![found.factor.low, found.factor.usual, found.factor.high])
}

fn weighings(seen: &[f64]) -> Vec<Weighing> {
    let one = |pair: &[f64]| match pair {
        [at, mass] => Some(Weighing { at: Hours::new(*at), mass: Grams::new(*mass) }),
        _ => None,
    };
    seen.chunks_exact(2).filter_map(one).collect()
}

fn fit(step: f64, seen: &[f64]) -> Result<Vec<f64>, support::CantTell> {
    let fit = fit_drying(&weighings(seen), Grams::new(step))?;
    Ok(vec![
        fit.end.usual.value(),
        fit.at_start.value(),
        fit.tau.usual.value(),
        (fit.end.high - fit.end.usual).value(),
        (fit.tau.high / fit.tau.usual).ln(),
    ])
}
