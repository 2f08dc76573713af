//! How large the board is: as told, by its label, by a bank card, or not known.

use cracks::{BoardSize, CARD_MM, Corners, Label, Photo, Point, SizeFound, find_card, size_by};
use measure::{Sides, Units};
use notebook::read_board_id;
use show::{WarningReport, number, plain};

use super::{LookRefused, LookRequest};
use crate::BOARD_SIDES;

/// Where a size comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum SizeFrom {
    Told,
    Label,
    Card,
    NotKnown,
}

impl SizeFrom {
    pub(super) const fn words(self) -> &'static str {
        match self {
            Self::Told => "told",
            Self::Label => "label",
            Self::Card => "card",
            Self::NotKnown => "not known",
        }
    }
}

/// A size to measure with.
pub(super) struct Sized {
    pub(super) size: BoardSize,
    pub(super) from: SizeFrom,
    /// Doubt as a share.
    pub(super) doubt: f64,
}

/// Long side taken for measuring when nothing tells it, in mm: the usual board of 20 x 25 cm. What is told then does not hang on it
/// but for the margin and for what counts as dust.
const USUAL_LONG_MM: f64 = 250.0;
/// Coarsest scale that is taken for a board of unknown size, pixels a millimetre (judgement, no source).
const COARSEST_PX_PER_MM: f64 = 4.0;
/// A told size and the label's may differ by this much, as a share (judgement, no source).
const DIFFER: f64 = 0.05;
/// Least doubt of a size by label or card: printers and cutting (judgement, no source).
const LEAST_DOUBT: f64 = 0.01;

/// Sides in mm as told; nothing told is no mistake.
pub(super) fn told(text: &str) -> Result<Option<(f64, f64)>, LookRefused> {
    if text.trim().is_empty() {
        return Ok(None);
    }
    let units = Units::builtin().map_err(|why| LookRefused::CouldNot(why.to_string()))?;
    Ok(Some(Sides::read(text, &units, BOARD_SIDES).map_err(|why| LookRefused::BadInput(format!("the board: {why}")))?.mm()))
}

pub(super) fn of(
    photo: &Photo,
    request: &LookRequest<'_>,
    told: Option<(f64, f64)>,
    corners: &Corners,
    labels: &[Label],
    remarks: &mut Vec<WarningReport>,
) -> Result<Sized, LookRefused> {
    let by_label = by_label(corners, labels);
    if let Some((width_mm, height_mm)) = told {
        if let Some(found) = by_label
            && [(found.size.width_mm, width_mm), (found.size.height_mm, height_mm)].iter().any(|(a, b)| (a / b - 1.0).abs() > DIFFER)
        {
            remarks.push(WarningReport {
                at: "board".into(),
                id: "size_differs".into(),
                text: format!(
                    "By the printed label the board is {} by {} mm, and {} by {} mm were told. The told size was taken: measure the board again.",
                    number(found.size.width_mm, 0),
                    number(found.size.height_mm, 0),
                    plain(width_mm),
                    plain(height_mm)
                ),
            });
        }
        return Ok(Sized { size: BoardSize { width_mm, height_mm }, from: SizeFrom::Told, doubt: 0.0 });
    }
    if let Some(card) = request.card {
        let points = card.map(|(x, y)| Point { x, y });
        let found = size_by(corners, points, CARD_MM).ok_or_else(|| {
            LookRefused::BadInput(
                "these corners are not those of a bank card lying flat beside the board: give them clockwise, a long side first".into(),
            )
        })?;
        return Ok(sized(found, SizeFrom::Card, remarks));
    }
    if let Some(found) = by_label {
        return Ok(sized(found, SizeFrom::Label, remarks));
    }
    if let Some(found) = find_card(photo, corners).and_then(|card| size_by(corners, card, CARD_MM)) {
        return Ok(sized(found, SizeFrom::Card, remarks));
    }
    Ok(Sized { size: usual(corners), from: SizeFrom::NotKnown, doubt: 0.0 })
}

/// The size by the printed label nearest to the board's middle.
fn by_label(corners: &Corners, labels: &[Label]) -> Option<SizeFound> {
    let points = corners.points();
    let sum = points.iter().fold((0.0, 0.0), |sum, p| (sum.0 + p.x / 4.0, sum.1 + p.y / 4.0));
    let middle = Point { x: sum.0, y: sum.1 };
    let ours = labels.iter().filter(|label| read_board_id(&label.text).is_ok());
    let nearest = ours.min_by(|a, b| a.middle().to(middle).total_cmp(&b.middle().to(middle)))?;
    let side = nearest.side_mm();
    size_by(corners, nearest.corners, (side, side))
}

fn sized(found: SizeFound, from: SizeFrom, remarks: &mut Vec<WarningReport>) -> Sized {
    let what = if from == SizeFrom::Label { "the printed label" } else { "a bank card" };
    remarks.push(WarningReport {
        at: "board".into(),
        id: "size_found".into(),
        text: format!(
            "The size was not told; by {what} in the photo the board is {} by {} mm.{}",
            number(found.size.width_mm, 0),
            number(found.size.height_mm, 0),
            if from == SizeFrom::Label { " A label printed smaller than the sheet says makes that wrong." } else { "" }
        ),
    });
    Sized { size: found.size, from, doubt: found.off.max(LEAST_DOUBT) }
}

/// A size of the photo's own proportions.
fn usual(corners: &Corners) -> BoardSize {
    let [a, b, c, d] = corners.points();
    let (across, down) = (a.to(b) + d.to(c), a.to(d) + b.to(c));
    let long = across.max(down);
    // Each sum is of two sides. A coarse photo is measured as a smaller board, so that a crack keeps some pixels.
    let long_mm = USUAL_LONG_MM.min(long / 2.0 / COARSEST_PX_PER_MM);
    BoardSize { width_mm: long_mm * across / long, height_mm: long_mm * down / long }
}
