//! The figures of a binder, each with what stands behind it.

use measure::{Figure, Input};
use show::{FigureRow, write};

use super::worked::WorkedBinder;
use crate::figure_rows::{figure_row, hundredths};
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
    let of = |(key, figure): (&'static str, Figure)| {
        let entry = binder::figure_entry(key)?;
        let value = if key == "jar_share" { hundredths(&figure) } else { write(&figure).line() };
        Some(figure_row(key, entry, Some(value), "", inputs.iter().filter(|input| entry.rests_on(input)).map(input_row).collect()))
    };
    all.into_iter().filter_map(of).collect()
}

fn inputs(worked: &WorkedBinder) -> Vec<Input> {
    let milk = worked.milk.as_ref().map_or_else(Vec::new, |(_, inputs)| inputs.all().into_iter().cloned().collect());
    milk.into_iter().chain([worked.curd.clone(), worked.dry.clone()]).collect()
}
