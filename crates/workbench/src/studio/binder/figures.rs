//! The figures of a binder, each with what stands behind it.

use binder::FigureEntry;
use measure::{Figure, Input};
use show::{FigureRow, Sheet, write};

use super::worked::WorkedBinder;
use crate::verdict::input_row;

pub(super) fn rows(worked: &WorkedBinder) -> Vec<FigureRow> {
    let jar = &worked.jar;
    let mut all: Vec<(&'static str, Figure)> =
        vec![("jar_share", jar.share), ("jar_dry", jar.dry), ("jar_water", jar.water), ("jar_total", jar.total)];
    if let Some(curd) = &worked.curd_figures {
        let needed = curd.acid_volume.unwrap_or(curd.acid_needed);
        all.extend([
            ("acid_for_curdling", needed),
            ("casein_g", curd.casein),
            ("curd_wet_g", curd.wet_curd),
            ("whey_ml", curd.whey),
            ("residual_acid", curd.acid_left),
        ]);
    }
    if let Some(open) = &worked.open_figures {
        all.push(("first_dose", open.first_dose));
    }
    let inputs = inputs(worked);
    all.into_iter().filter_map(|(key, figure)| Some(row(key, &figure, binder::figure_entry(key)?, &inputs))).collect()
}

fn inputs(worked: &WorkedBinder) -> Vec<Input> {
    let milk = worked.milk.as_ref().map_or_else(Vec::new, |(_, inputs)| inputs.all().into_iter().cloned().collect());
    milk.into_iter().chain([worked.curd.clone(), worked.dry.clone()]).collect()
}

fn row(key: &'static str, figure: &Figure, entry: &FigureEntry, inputs: &[Input]) -> FigureRow {
    // A share reads best in hundredths.
    let value = if key == "jar_share" {
        let text = write(&figure.times(100.0));
        if text.range.is_empty() { format!("{}\u{a0}%", text.value) } else { format!("{}\u{a0}% ({})", text.value, text.range) }
    } else {
        write(figure).line()
    };
    FigureRow {
        key,
        name: entry.name.clone(),
        chemist: entry.chemist.clone(),
        value,
        why: String::new(),
        sheet: Sheet {
            formula: entry.formula.clone(),
            source: entry.source.clone(),
            holds: entry.holds.clone(),
            fails: entry.fails.clone(),
            inputs: inputs.iter().filter(|input| entry.rests_on(input)).map(input_row).collect(),
        },
    }
}
