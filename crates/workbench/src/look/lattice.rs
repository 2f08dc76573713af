//! A lattice cut into the ground, in words and with its class.

use cracks::{Flat, Lattice, LatticeError, LatticeNote, Photo, Range, find_lattice};
use measure::Unit;
use show::{FigureReport, FigureRow, LatticeClassReport, LatticeReport, LookReport, QualityReport, number, percent};
use trials::scales::{ScaleBook, ScaleId};

use super::LookRefused;
use super::figures::{count, figure, row, widened, written};
use super::size::SizeFrom;

/// The scale that a lattice is read on.
const SCALE: &str = "cross_cut";

/// The distance from cut to cut as told, in mm; nothing told is no mistake.
pub(super) fn told(text: &str) -> Result<Option<f64>, LookRefused> {
    let text = text.trim().to_lowercase();
    if text.is_empty() {
        return Ok(None);
    }
    let (digits, factor) = match (text.strip_suffix("mm"), text.strip_suffix("cm")) {
        (Some(digits), _) => (digits, 1.0),
        (_, Some(digits)) => (digits, 10.0),
        _ => (text.as_str(), 1.0),
    };
    let gap = digits.trim().parse::<f64>().map(|gap| gap * factor).ok().filter(|gap| (0.5..=10.0).contains(gap));
    gap.map(Some).ok_or_else(|| LookRefused::BadInput(format!("“{text}”: {}", LatticeError::Gap)))
}

/// Looks for the lattice and paints it over, so that its cuts are not taken for cracks; with the share of the board that it took.
pub(super) fn taken(photo: &mut Photo, flat: &Flat, from: SizeFrom, gap_mm: Option<f64>) -> Result<(Lattice, f64), LookRefused> {
    if from == SizeFrom::NotKnown {
        return Err(LookRefused::CouldNot(
            "without the size of the board the distance from cut to cut can't be told: say it, such as `--board 200x250mm`".into(),
        ));
    }
    let lattice = find_lattice(photo, flat, gap_mm).map_err(|why| match why {
        LatticeError::Gap => LookRefused::BadInput(why.to_string()),
        other => LookRefused::CouldNot(other.to_string()),
    })?;
    let covered = lattice.cover(photo, flat);
    Ok((lattice, covered))
}

/// The lattice in figures; `doubt` is that of the board's size.
pub(super) fn report(lattice: &Lattice, doubt: f64) -> LatticeReport {
    LatticeReport {
        gap_mm: FigureReport::from(&widened(figure("lattice_gap", lattice.gap_mm, Unit::Millimetres), doubt, 1)),
        direction_deg: lattice.direction_deg,
        off_square_deg: lattice.off_square_deg,
        cut_mm: lattice.cut_mm,
        gone: FigureReport::from(&figure("lattice_gone", lattice.gone, Unit::One)),
        along: FigureReport::from(&figure("lattice_along", lattice.along, Unit::One)),
        squares_gone: count("lattice_squares", lattice.squares_gone),
        squares: lattice.squares.clone(),
        corners: lattice.corners.map(|p| [p.x, p.y]),
        class: class(lattice.gone),
    }
}

/// The class of a share, and those of the ends of its range, by the book's scale.
fn class(gone: Range) -> Option<LatticeClassReport> {
    let book = ScaleBook::builtin().ok()?;
    let scale = book.scale(&ScaleId::new(SCALE))?;
    let of = |share: f64| scale.class_of(100.0 * share);
    let (class, low, high) = (of(gone.value)?, of(gone.low)?, of(gone.high)?);
    Some(LatticeClassReport {
        measure: SCALE,
        class: class.value,
        least: low.value,
        most: high.value,
        looks: class.look.clone(),
        source: class.source.clone(),
    })
}

/// What the lattice says, in sentences.
pub(super) fn sentences(report: &LookReport) -> Vec<String> {
    let Some(lattice) = &report.lattice else { return Vec::new() };
    let mut out = Vec::new();
    if let (Some(gap), Some(gone)) = (written("lattice_gap", &lattice.gap_mm, Unit::Millimetres), lattice.gone.value) {
        let lost =
            if gone > 0.0 { format!("{} of the ground between them has come away", percent(gone)) } else { "nothing has come away".into() };
        out.push(format!("A lattice was found, cut every {gap}: {lost}."));
    }
    if let (Some(squares), Some(along)) = (lattice.squares_gone.value, lattice.along.value.filter(|_| lattice.gone.value > Some(0.0))) {
        let mostly = if squares < 0.5 {
            "none is".into()
        } else if squares < 1.5 {
            "one is".into()
        } else {
            format!("{} are", number(squares, 0))
        };
        out.push(format!(
            "Of its 25 squares {mostly} mostly gone; the rest, {} of the whole, is gone along cuts and at crossings.",
            percent(along)
        ));
    }
    if let Some(class) = &lattice.class {
        let [value, low, high] = [class.class, class.least, class.most].map(|class| number(class, 0));
        out.push(match class.most - class.least {
            apart if apart < 0.5 => format!("That is class {value} after ISO 2409: {}.", class.looks),
            apart if apart < 1.5 => {
                format!("Whether that is class {low} or {high} after ISO 2409 can't be told: count the squares by eye.")
            }
            _ => format!("That is somewhere from class {low} to {high} after ISO 2409: count the squares by eye."),
        });
    }
    out
}

/// What it leaves in doubt.
pub(super) fn quality(lattice: &Lattice) -> Vec<QualityReport> {
    let one = |note: &LatticeNote| {
        let (id, text) = match note {
            LatticeNote::Faint => (
                "lattice_faint",
                "What lies bare in the lattice hardly differs from the ground, so it may be its texture or dirt: count the squares by eye.",
            ),
            LatticeNote::Nothing => (
                "lattice_nothing",
                "If the board under the ground is as white as the ground, that nothing is seen to be gone is no finding: look by eye.",
            ),
            LatticeNote::CutGuessed => ("lattice_cut", "How wide the cuts are does not show; a usual width was left out."),
        };
        QualityReport { id: id.into(), text: text.into() }
    };
    lattice.notes.iter().map(one).collect()
}

/// The rows of the sheet.
pub(super) fn rows(report: &LookReport) -> Vec<FigureRow> {
    let Some(lattice) = &report.lattice else { return Vec::new() };
    let all: [(&'static str, &FigureReport, Unit); 4] = [
        ("lattice_gap", &lattice.gap_mm, Unit::Millimetres),
        ("lattice_gone", &lattice.gone, Unit::One),
        ("lattice_along", &lattice.along, Unit::One),
        ("lattice_squares", &lattice.squares_gone, Unit::One),
    ];
    all.into_iter().filter_map(|(key, told, unit)| row(key, told, unit)).collect()
}

#[cfg(test)]
mod tests {
    use cracks::Range;

    use super::{class, told};

    #[test]
    fn distances_as_typed() {
        assert_eq!(told("2mm"), Ok(Some(2.0)));
        assert_eq!(told(" 0.1 cm "), Ok(Some(1.0)));
        assert_eq!(told("3"), Ok(Some(3.0)));
        assert_eq!(told(""), Ok(None));
        for text in ["0", "photo.jpg", "-2mm", "99mm", "NaN"] {
            assert!(told(text).is_err(), "{text}");
        }
    }

    // ISO 2409 by a tester maker's reprint: 0; up to 5, 15, 35, 65 %; more. 1, 2, 4, 9, 16 and 17 squares of 25 are 4, 8, 16, 36, 64, 68 %.
    #[test]
    fn classes_as_the_reprint_has_them() {
        let at = |share: f64| class(Range { value: share, low: share, high: share }).map(|class| class.class);
        let found = [0.0, 0.04, 0.08, 0.16, 0.36, 0.64, 0.68].map(at);
        assert_eq!(found, [0.0, 1.0, 2.0, 3.0, 4.0, 4.0, 5.0].map(Some));
        let near = class(Range { value: 0.048, low: 0.038, high: 0.058 }).unwrap();
        assert_eq!((near.least, near.most), (1.0, 2.0));
    }
}
