//! Panels out of sheets, in words of a saw.

use making::{Cut, Panels, Sheet, cut_list};
use measure::{Sides, Units};
use show::{EnlargeSheet, plain};

use super::{EnlargeForm, USUAL_KERF, Work, wrong};
use crate::milk::MilkFormError;

/// Sides of a sheet that is bought, mm.
const SHEETS: std::ops::RangeInclusive<f64> = 10.0..=20_000.0;

/// The cut list, and whether it takes the least sheets; none where no sheet is told.
pub(super) fn cut(form: &EnlargeForm, work: &Work, units: &Units) -> Result<Option<(Vec<EnlargeSheet>, bool)>, MilkFormError> {
    if form.sheet.trim().is_empty() {
        return Ok(None);
    }
    let (wide, high) = Sides::read(&form.sheet, units, SHEETS).map_err(|why| wrong("sheet", why.to_string()))?.mm();
    let kerf = form.kerf_mm.unwrap_or(USUAL_KERF);
    if !(0.0..=50.0).contains(&kerf) {
        return Err(wrong("kerf", "what the saw eats lies between 0 and 50 mm; a circular saw eats about 3"));
    }
    // Panels are rounded up to the tenth of a millimetre, sheets down, so that none comes out too small.
    let sheet = Sheet { wide: tenths(wide.floor() * 10.0), high: tenths(high.floor() * 10.0), kerf: tenths((kerf * 10.0).ceil()) };
    let panels: Vec<Panels> = work
        .kinds
        .iter()
        .map(|kind| Panels { wide: tenths((kind.sides.0 * 10.0).ceil()), high: tenths((kind.sides.1 * 10.0).ceil()), count: kind.count })
        .collect();
    let plan = cut_list(&panels, sheet).map_err(|why| wrong("sheet", why.to_string()))?;
    let sheets = (1..).zip(&plan.sheets).map(|(number, sheet)| {
        let gives = work.kinds.iter().enumerate().filter_map(|(size, kind)| {
            let count = sheet.placed.iter().filter(|one| one.size == size).count();
            (count > 0).then(|| format!("{count} of {} x {}\u{a0}mm", plain(kind.sides.0), plain(kind.sides.1)))
        });
        let gives: Vec<String> = gives.collect();
        let gives: Vec<&str> = gives.iter().map(String::as_str).collect();
        EnlargeSheet { number, gives: crate::and(&gives), cuts: sheet.cuts.iter().map(said).collect() }
    });
    Ok(Some((sheets.collect(), plan.least)))
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "at most two hundred thousand tenths")]
fn tenths(value: f64) -> u32 {
    value.clamp(0.0, 400_000.0) as u32
}

/// One cut in words.
fn said(cut: &Cut) -> String {
    let mm = |tenths: u32| plain_mm(tenths);
    let (_, _, wide, high) = cut.piece;
    if cut.upright {
        format!(
            "The piece of {} x {}\u{a0}mm: across at {}\u{a0}mm, so that {} x {}\u{a0}mm comes off.",
            mm(wide),
            mm(high),
            mm(cut.at),
            mm(cut.at),
            mm(high)
        )
    } else {
        format!(
            "The piece of {} x {}\u{a0}mm: along at {}\u{a0}mm, so that {} x {}\u{a0}mm comes off.",
            mm(wide),
            mm(high),
            mm(cut.at),
            mm(wide),
            mm(cut.at)
        )
    }
}

/// Tenths of a millimetre as millimetres.
fn plain_mm(tenths: u32) -> String {
    show::number(f64::from(tenths) / 10.0, usize::from(!tenths.is_multiple_of(10)))
}
