//! Figures with what stands behind them.

use ground::{FIGURE_KEYS, figure_entry, film_figure, moved_by, tightest_packing};
use materials::Catalogue;
use measure::{Figure, Input, Spread};
use show::{FigureRow, InputRow, Sheet, percent, plain, range, write};

use super::{Standing, Worked};
use crate::figure_rows::hundredths;

pub(super) fn rows(jars: &Catalogue, worked: &Worked) -> Vec<FigureRow> {
    FIGURE_KEYS.into_iter().filter_map(|key| row(jars, worked, key)).collect()
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
    Some(FigureRow {
        key,
        name: entry.name.clone(),
        chemist: entry.chemist.clone(),
        value: figure.as_ref().map_or_else(|| "not known".into(), |figure| written(key, figure)),
        why: figure.as_ref().map_or_else(|| why_not(worked), |_| String::new()),
        sheet: Sheet {
            formula: entry.formula.clone(),
            source: entry.source.clone(),
            holds: entry.holds.clone(),
            fails: entry.fails.clone(),
            inputs,
        },
    })
}

/// A figure, if the film and (for wet figures) its water are known.
pub(super) fn figure(worked: &Worked, key: &str) -> Option<Figure> {
    if matches!(worked.standing, Standing::NoFilm(_)) {
        return None;
    }
    worked.ranges.as_ref().ok().and_then(|ranges| film_figure(ranges, key, worked.water_known))
}

pub(super) fn why_not(worked: &Worked) -> String {
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
