//! Figures with what stands behind them.

use ground::{FIGURE_KEYS, FilmBook, figure_entry, film_figure, moved_by, tightest_packing};
use materials::Catalogue;
use measure::{Figure, Input, Spread};
use show::{FigureReport, FigureRow, InputRow, number, percent, plain, range, write};

use super::hold::Hold;
use super::{Standing, Worked};
use crate::figure_rows::{figure_row, hundredths};

pub(super) fn rows(jars: &Catalogue, worked: &Worked, hold: &Hold) -> Vec<FigureRow> {
    let film = FIGURE_KEYS.into_iter().filter_map(|key| row(jars, worked, key));
    film.chain(
        [
            held("crack_chance", &hold.cracks.all_coats, hold.cracks.said.clone(), &BEHIND_CRACKS),
            held("hiding_coats", &hold.hiding.coats, spread(&hold.hiding.coats, ""), &["whiteness.absorption"]),
            held("tube", &hold.bend.tube_mm, spread(&hold.bend.tube_mm, "\u{a0}mm"), &["break.glue"]),
        ]
        .into_iter()
        .flatten(),
    )
    .collect()
}

/// Constants behind the chance of a crack, besides those of the binder and the support.
const BEHIND_CRACKS: [&str; 8] =
    ["stiffness.grain", "relaxation", "handover", "gel_water", "porosity.stiffness", "porosity.strength", "packing", "critical_band"];

fn spread(report: &FigureReport, unit: &str) -> String {
    let all = report.value.zip(report.low.zip(report.high));
    all.map_or_else(String::new, |(value, (low, high))| format!("{}{unit} ({})", number(value, 0), range(low, high)))
}

/// A figure that does not come from the film alone.
fn held(key: &'static str, report: &FigureReport, said: String, constants: &[&str]) -> Option<FigureRow> {
    let entry = figure_entry(key)?;
    let book = FilmBook::builtin().ok()?;
    let inputs = constants.iter().filter_map(|key| book.constant(key).ok()).map(|constant| InputRow {
        plain: constant.plain.clone(),
        value: match constant.range {
            Some((low, high)) => format!("{} {}, likely {}", plain(constant.value), constant.unit, range(low, high)),
            None => format!("{} {}", plain(constant.value), constant.unit),
        },
        source: constant.source.clone(),
    });
    let (value, why) = report.why.as_deref().map_or((Some(said), ""), |why| (None, why));
    Some(figure_row(key, entry, value, why, inputs.collect()))
}

fn row(jars: &Catalogue, worked: &Worked, key: &'static str) -> Option<FigureRow> {
    let entry = figure_entry(key)?;
    let figure = figure(worked, key);
    let mut inputs: Vec<InputRow> = moved_by(&worked.mix, key).into_iter().filter(|input| tells(input)).map(input_row).collect();
    if matches!(key, "dry_um" | "coverage") {
        inputs.push(InputRow {
            plain: "how thick the coat is laid".into(),
            value: format!("{}\u{a0}µm wet", plain(worked.coat.wet.value())),
            source: if worked.coat.told {
                "as told; 15 % spread of a brushed coat: model choice".into()
            } else {
                "assumed, a brushed coat: common practice, no source".into()
            },
        });
    }
    if let ("cpvc", Ok(ranges)) = (key, &worked.ranges)
        && let Some(tightest) = tightest_packing(jars, &worked.mix, &ranges.best)
    {
        inputs.push(InputRow {
            plain: "coarse and fine powder together".into(),
            value: format!("up to {} if the fine grains sit in the gaps of the coarse; not counted here", percent(tightest)),
            source: "ideal infill after Furnas, from memory; at most 0.10 more: model choice".into(),
        });
    }
    Some(figure_row(key, entry, figure.as_ref().map(|figure| written(key, figure)), &why_not(worked), inputs))
}

/// A figure, if the film and (for wet figures) its water are known.
pub(super) fn figure(worked: &Worked, key: &str) -> Option<Figure> {
    if matches!(worked.standing, Standing::NoFilm(_)) {
        return None;
    }
    worked.ranges.as_ref().ok().and_then(|ranges| film_figure(ranges, key, worked.water_known))
}

pub(crate) fn why_not(worked: &Worked) -> String {
    match (&worked.standing, &worked.ranges) {
        (Standing::NoFilm(why), _) => why.clone(),
        (_, Err(why)) => why.to_string(),
        _ => "the water in the pot was not told in figures".into(),
    }
}

fn written(key: &str, figure: &Figure) -> String {
    match key {
        // Shares read best in hundredths.
        "pvc" | "cpvc" | "porosity" | "solids_mass" | "solids_volume" => hundredths(figure),
        "coverage" => {
            let written = write(figure).line();
            format!("{written} for one coat")
        }
        "dry_um" => format!("{} for one coat", write(figure).line()),
        _ => write(figure).line(),
    }
}

/// A unit of 1 g or the size of a part tells nobody anything.
fn tells(input: &Input) -> bool {
    let one = input.spread == Spread::Exact && (input.best - 1.0).abs() < 1e-12;
    !one && !input.key.as_str().starts_with("part.")
}

pub(crate) fn input_row(input: &Input) -> InputRow {
    let unit = if input.unit == "1" { String::new() } else { format!("\u{a0}{}", input.unit) };
    let spread = match &input.spread {
        Spread::Exact => String::new(),
        Spread::Even(low, high) | Spread::LogNormal90(low, high) => format!(", likely {}", range(*low, *high)),
        Spread::Normal(deviation) => format!(", give or take {}", plain(*deviation)),
        Spread::Choice(options) => {
            format!(", one of {}", options.iter().map(|(value, _)| plain(*value)).collect::<Vec<_>>().join(", "))
        }
        Spread::Measured(values) | Spread::Tied(_, values) => format!(", measured {} times", values.len()),
    };
    InputRow { plain: input.plain.clone(), value: format!("{}{unit}{spread}", plain(input.best)), source: input.source.clone() }
}
