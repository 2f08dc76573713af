//! Figures of a photo with their doubt.

use cracks::{Look, Range, figure_entry};
use measure::{Figure, Unit};
use show::{
    CracksReport, FigureReport, FigureRow, FlakesReport, LookReport, RatingReport, RelativeReport, RidgesReport, WidthReport, number, write,
};

use super::Seen;
use super::size::SizeFrom;
use crate::figure_rows::{figure_row, hundredths};

const NO_SIZE: &str = "the size of the board is not known";
const NO_WIDTH: &str = "the pieces of crack are too short to tell their width";
const NO_CRACKS: &str = "no cracks were found";
const NO_WAY: &str = "the ground's texture runs no one way";
/// Half-width of the band that eight of ten draws of a bell lie in, in deviations.
const EIGHT_OF_TEN: f64 = 1.2816;
const SQUARE_CENTIMETRE: f64 = 100.0;

pub(super) fn figure(key: &'static str, range: Range, unit: Unit) -> Figure {
    Figure { key, value: range.value, low: range.low.min(range.value), high: range.high.max(range.value), unit }
}

/// Wider by the doubt of the board's size; `power` says how the figure hangs on a length.
pub(super) fn widened(figure: Figure, doubt: f64, power: i32) -> Figure {
    let factor = (1.0 + doubt).powi(power);
    Figure { low: figure.low / factor, high: figure.high * factor, ..figure }
}

pub(super) fn count(key: &'static str, range: Range) -> FigureReport {
    FigureReport::from(&figure(key, range, Unit::One))
}

pub(super) fn pinholes(look: &Look) -> FigureReport {
    // A count of round spots: how far it is off was not studied, so no range is claimed.
    FigureReport::from(&Figure::exact("pinholes", look.pinholes.len() as f64, Unit::One))
}

pub(super) fn cracks(seen: &Seen) -> CracksReport {
    let look = &seen.look;
    let known = seen.from != SizeFrom::NotKnown;
    // What a label covers was not measured: figures on an area are those of the rest.
    let rest = 1.0 / (1.0 - seen.covered).max(0.05);
    let on_area = |range: Range| Range { value: range.value * rest, low: range.low * rest, high: range.high * rest };
    let sized = |key, range, unit: Unit, power| {
        if known {
            FigureReport::from(&widened(figure(key, range, unit), seen.doubt, power))
        } else {
            FigureReport::unknown(unit.symbol(), NO_SIZE)
        }
    };
    let width = |key, range: Option<Range>| {
        range.map_or_else(
            || FigureReport::unknown(Unit::Millimetres.symbol(), no_width(look)),
            |range| sized(key, range, Unit::Millimetres, 1),
        )
    };
    let area = if look.length.value > 0.0 && look.width_median.is_none() {
        FigureReport::unknown(Unit::One.symbol(), no_width(look))
    } else {
        FigureReport::from(&figure("area_fraction", on_area(look.area), Unit::One))
    };
    let (direction, strength) = direction(look);
    CracksReport {
        length_mm_per_mm2: sized("length_mm_per_mm2", on_area(look.length), Unit::MillimetresPerSquareMillimetre, 1),
        area_fraction: area,
        width_mm: WidthReport {
            median: width("width_median", look.width_median),
            p95: width("width_p95", look.width_p95),
            max: width("width_max", look.width_max),
        },
        junctions_per_cm2: sized("junctions_per_cm2", on_area(look.junctions), Unit::PerSquareCentimetre, 2),
        direction_deg: direction,
        direction_strength: strength,
    }
}

/// Why there is no width.
fn no_width(look: &Look) -> &'static str {
    if look.length.value > 0.0 { NO_WIDTH } else { NO_CRACKS }
}

/// Direction and strength with the doubt of a mean over so many cracks.
///
/// With strength R from n cracks the mean of doubled angles is off by sqrt((1 - R^2) / 2n) / R, for many cracks (Mardia and Jupp 2000, from
/// memory); half of that is the direction's.
fn direction(look: &Look) -> (FigureReport, FigureReport) {
    let (Some(degrees), Some(strength)) = (look.direction_deg, look.direction_strength) else {
        return (FigureReport::unknown("deg", NO_CRACKS), FigureReport::unknown("1", NO_CRACKS));
    };
    let cracks = look.lines.graph.branches.len().max(1) as f64;
    let off = ((1.0 - strength * strength).max(0.0) / (2.0 * cracks)).sqrt();
    let half = (EIGHT_OF_TEN * off / strength.max(1e-6) / 2.0).to_degrees().min(90.0);
    let degrees = Figure { key: "direction_deg", value: degrees, low: degrees - half, high: degrees + half, unit: Unit::Degrees };
    let strength = Figure {
        key: "direction_strength",
        value: strength,
        low: (strength - EIGHT_OF_TEN * off).max(0.0),
        high: (strength + EIGHT_OF_TEN * off).clamp(strength, 1.0_f64.max(strength)),
        unit: Unit::One,
    };
    (FigureReport::from(&degrees), FigureReport::from(&strength))
}

pub(super) fn flakes(seen: &Seen) -> FlakesReport {
    let found = &seen.look.flakes;
    let rest = 1.0 / (1.0 - seen.covered).max(0.05);
    let Range { value, low, high } = found.area;
    let unit = Unit::SquareMillimetres;
    FlakesReport {
        count: count("flakes", found.count),
        area_fraction: FigureReport::from(&figure(
            "flake_area",
            Range { value: value * rest, low: low * rest, high: high * rest },
            Unit::One,
        )),
        largest_mm2: if seen.from == SizeFrom::NotKnown {
            FigureReport::unknown(unit.symbol(), NO_SIZE)
        } else {
            FigureReport::from(&widened(figure("flake_largest", found.largest_mm2, unit), seen.doubt, 2))
        },
    }
}

pub(super) fn ridges(seen: &Seen) -> RidgesReport {
    let unknown = |unit: Unit, why: &str| FigureReport::unknown(unit.symbol(), why);
    let Some(found) = seen.look.brush else {
        let none = |unit| unknown(unit, NO_WAY);
        return RidgesReport { contrast: none(Unit::One), direction_deg: none(Unit::Degrees), spacing_mm: none(Unit::Millimetres) };
    };
    let spacing_mm = match found.spacing_mm {
        _ if seen.from == SizeFrom::NotKnown => unknown(Unit::Millimetres, NO_SIZE),
        None => unknown(Unit::Millimetres, "the ridges have no one distance"),
        Some(spacing) => FigureReport::from(&widened(figure("ridge_spacing", spacing, Unit::Millimetres), seen.doubt, 1)),
    };
    RidgesReport {
        contrast: FigureReport::from(&figure("ridge_contrast", found.contrast, Unit::One)),
        direction_deg: FigureReport::from(&figure("ridge_direction", found.direction_deg, Unit::Degrees)),
        spacing_mm,
    }
}

pub(super) fn rating(seen: &Seen) -> RatingReport {
    let known = seen.from != SizeFrom::NotKnown;
    let rating = seen.look.rating;
    RatingReport { quantity: known.then_some(rating.quantity), size: if known { rating.size } else { None }, scale: cracks::SCALE }
}

/// Figures in sides of the board.
pub(super) fn relative(seen: &Seen) -> RelativeReport {
    let look = &seen.look;
    let long = seen.size.width_mm.max(seen.size.height_mm);
    // The margin is taken to be as cracked as the rest.
    let whole = seen.size.width_mm * seen.size.height_mm;
    let times = |range: Range, factor: f64| Range { value: range.value * factor, low: range.low * factor, high: range.high * factor };
    let bare = |key, range| FigureReport::from(&figure(key, range, Unit::One));
    RelativeReport {
        length_long_sides: bare("length_long_sides", times(look.length, whole / long)),
        width_long_sides: look
            .width_median
            .map_or_else(|| FigureReport::unknown("1", no_width(look)), |width| bare("width_long_sides", times(width, 1.0 / long))),
        junctions: bare("junctions", times(look.junctions, whole / SQUARE_CENTIMETRE)),
    }
}

/// The rows of the sheet.
pub(super) fn rows(report: &LookReport) -> Vec<FigureRow> {
    let cracks = &report.cracks;
    let all: [(&'static str, &FigureReport, Unit); 16] = [
        ("length_mm_per_mm2", &cracks.length_mm_per_mm2, Unit::MillimetresPerSquareMillimetre),
        ("area_fraction", &cracks.area_fraction, Unit::One),
        ("width_median", &cracks.width_mm.median, Unit::Millimetres),
        ("width_p95", &cracks.width_mm.p95, Unit::Millimetres),
        ("width_max", &cracks.width_mm.max, Unit::Millimetres),
        ("junctions_per_cm2", &cracks.junctions_per_cm2, Unit::PerSquareCentimetre),
        ("direction_deg", &cracks.direction_deg, Unit::Degrees),
        ("direction_strength", &cracks.direction_strength, Unit::One),
        ("islands", &report.islands, Unit::One),
        ("pinholes", &report.pinholes, Unit::One),
        ("flakes", &report.flakes.count, Unit::One),
        ("flake_area", &report.flakes.area_fraction, Unit::One),
        ("flake_largest", &report.flakes.largest_mm2, Unit::SquareMillimetres),
        ("ridge_contrast", &report.ridges.contrast, Unit::One),
        ("ridge_direction", &report.ridges.direction_deg, Unit::Degrees),
        ("ridge_spacing", &report.ridges.spacing_mm, Unit::Millimetres),
    ];
    all.into_iter().filter_map(|(key, told, unit)| row(key, told, unit)).collect()
}

/// Rows that were kept as words: short name, name, value, why it is not known. What stands behind each is told as it is today.
pub(crate) fn kept_rows(kept: &[[String; 4]]) -> Vec<FigureRow> {
    let row = |[key, name, value, why]: &[String; 4]| {
        let key = *cracks::FIGURE_KEYS.iter().find(|known| *known == key)?;
        let row = figure_row(key, figure_entry(key)?, Some(value.clone()), "", Vec::new());
        Some(FigureRow { name: name.clone(), why: why.clone(), ..row })
    };
    kept.iter().filter_map(row).collect()
}

pub(super) fn row(key: &'static str, told: &FigureReport, unit: Unit) -> Option<FigureRow> {
    let entry = figure_entry(key)?;
    let written = match key {
        "islands" | "pinholes" | "flakes" | "lattice_squares" => counted(told),
        "area_fraction" | "flake_area" | "ridge_contrast" | "lattice_gone" | "lattice_along" => {
            whole(key, told, unit).map(|share| hundredths(&share))
        }
        _ => written(key, told, unit),
    };
    Some(figure_row(key, entry, written, told.why.as_deref().unwrap_or_default(), Vec::new()))
}

/// A whole number with its range.
fn counted(told: &FigureReport) -> Option<String> {
    let (value, low, high) = (told.value?, told.low?, told.high?);
    let count = |value| number(value, 0);
    Some(if high > low { format!("{} ({} to {})", count(value), count(low), count(high)) } else { count(value) })
}

/// A figure from its report.
fn whole(key: &'static str, told: &FigureReport, unit: Unit) -> Option<Figure> {
    Some(Figure { key, value: told.value?, low: told.low?, high: told.high?, unit })
}

/// A figure in words, from its report.
pub(super) fn written(key: &'static str, told: &FigureReport, unit: Unit) -> Option<String> {
    whole(key, told, unit).map(|figure| write(&figure).line())
}
