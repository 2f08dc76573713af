//! What a person told of a photo, as text and as places.

use cracks::{Correction as Strokes, Patch, Point};
use notebook::{Correction, Found, Notebook, Rubbed};
use serde_json::Value;

use super::StudioError;
use crate::look::{four_corners, grey_patch};
use crate::{Grain, Workbench};

/// Strokes that are taken, and places along each.
const MOST_STROKES: usize = 2_000;
const MOST_PLACES: usize = 4_000;
/// Widest rubber, in pixels: a tenth of a large photo.
const MOST_RADIUS: f64 = 1_000.0;

/// Four corners; nothing told is none.
pub(super) fn corners(text: &str) -> Result<Option<[(f64, f64); 4]>, StudioError> {
    if text.trim().is_empty() { Ok(None) } else { four_corners(text).map(Some).map_err(StudioError::Typed) }
}

pub(super) fn corners_text(corners: &[[f64; 2]]) -> String {
    corners.iter().map(|[x, y]| format!("{x},{y}")).collect::<Vec<_>>().join(";")
}

pub(super) fn grain(text: &str) -> Result<Option<Grain>, StudioError> {
    match text.trim() {
        "" => Ok(None),
        "across" => Ok(Some(Grain::Across)),
        "down" => Ok(Some(Grain::Down)),
        _ => Err(StudioError::Typed("the grain runs as the upper edge (across) or down the board (down)".into())),
    }
}

pub(super) fn patch(text: &str) -> Result<Option<Patch>, StudioError> {
    if text.trim().is_empty() { Ok(None) } else { grey_patch(text).map(Some).map_err(StudioError::Typed) }
}

/// Strokes of the rubber, one a line.
pub(super) fn rubbed(text: &str) -> Result<Vec<Rubbed>, StudioError> {
    lines(text, |line| {
        let (radius, along) = line.split_once(':')?;
        let radius = radius.trim().parse().ok().filter(|radius: &f64| *radius > 0.0 && *radius <= MOST_RADIUS)?;
        Some(Rubbed { along: places(along).filter(|along| !along.is_empty())?, radius })
    })
}

/// Cracks drawn in, one a line.
pub(super) fn drawn(text: &str) -> Result<Vec<Vec<[f64; 2]>>, StudioError> {
    lines(text, |line| places(line).filter(|places| places.len() > 1))
}

fn lines<T>(text: &str, read: impl Fn(&str) -> Option<T>) -> Result<Vec<T>, StudioError> {
    let wrong = || StudioError::Typed("these strokes can't be read; load the page anew and draw them once more".into());
    let out = text
        .lines()
        .filter(|line| !line.trim().is_empty())
        .map(|line| read(line.trim()).ok_or_else(wrong))
        .collect::<Result<Vec<_>, _>>()?;
    if out.len() > MOST_STROKES {
        return Err(StudioError::Typed(
            "these are more strokes than one photo takes; move the corners or take a better photo instead".into(),
        ));
    }
    Ok(out)
}

fn places(text: &str) -> Option<Vec<[f64; 2]>> {
    let number = |part: &str| part.trim().parse::<f64>().ok().filter(|value| value.abs() < 1e6);
    let place = |pair: &str| {
        let (x, y) = pair.split_once(',')?;
        Some([number(x)?, number(y)?])
    };
    let all: Vec<[f64; 2]> = text.split(';').map(place).collect::<Option<_>>()?;
    (all.len() <= MOST_PLACES).then_some(all)
}

/// Strokes as the measuring takes them.
pub(super) fn strokes(kept: &Correction) -> Strokes {
    let points = |places: &[[f64; 2]]| places.iter().map(|&[x, y]| Point { x, y }).collect();
    Strokes {
        rubbed: kept.rubbed.iter().map(|stroke| (points(&stroke.along), stroke.radius)).collect(),
        drawn: kept.drawn.iter().map(|places| points(places)).collect(),
    }
}

/// The board of this studio whose label is seen: only where all labels that are seen name the same one.
pub(super) fn board_of_label(bench: &Workbench, state: &Notebook, found: &Found) -> Option<String> {
    let report: Value = serde_json::from_str(&found.report).ok()?;
    let labels = report.get("labels")?.as_array()?;
    let mut boards: Vec<String> = labels
        .iter()
        .filter_map(|label| label.get("text")?.as_str())
        .filter(|text| notebook::read_board_id(text).is_ok())
        .filter_map(|text| bench.find_board(state, text).ok())
        .collect();
    boards.sort();
    boards.dedup();
    (boards.len() == 1).then(|| boards.pop())?
}

/// Size of a board's trial the way it lies in the photo, where the photo did not tell a size itself.
pub(super) fn size_of(state: &Notebook, board: &str, found: &Found) -> Option<String> {
    let report: Value = serde_json::from_str(&found.report).ok()?;
    let sighted = report.get("board")?;
    if sighted.get("size_from")?.as_str()? != "not known" {
        return None;
    }
    let corners: Vec<(f64, f64)> =
        sighted.get("corners")?.as_array()?.iter().filter_map(|pair| Some((pair.get(0)?.as_f64()?, pair.get(1)?.as_f64()?))).collect();
    let [a, b, c, d] = corners.try_into().ok()?;
    let far = |p: (f64, f64), q: (f64, f64)| (p.0 - q.0).hypot(p.1 - q.1);
    let lies_across = far(a, b) + far(c, d) >= far(b, c) + far(d, a);
    let trial = &state.trials.get(&state.boards.get(board)?.record.trial)?.record;
    let (width, height) = (trial.width_mm?, trial.height_mm?);
    let (long, short) = (width.max(height), width.min(height));
    Some(if lies_across { format!("{long}x{short}mm") } else { format!("{short}x{long}mm") })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn strokes_are_read_as_they_are_sent() {
        let strokes = rubbed("12.5:1,2;3,4\n\n 3:7,8 \n").unwrap();
        assert_eq!(
            strokes,
            [Rubbed { along: vec![[1.0, 2.0], [3.0, 4.0]], radius: 12.5 }, Rubbed { along: vec![[7.0, 8.0]], radius: 3.0 }]
        );
        assert_eq!(drawn("1,2;3,4").unwrap(), [vec![[1.0, 2.0], [3.0, 4.0]]]);
        assert_eq!(drawn(" \n").unwrap(), Vec::<Vec<[f64; 2]>>::new());
        for text in ["1,2", "0:1,2", "-3:1,2", "NaN:1,2", "9999:1,2", "3:", "3:1;2", "3:1,x"] {
            assert!(rubbed(text).is_err(), "{text}");
        }
        for text in ["1,2", "1,2;3", "1,2;inf,4", "1,2;1e9,4"] {
            assert!(drawn(text).is_err(), "{text}");
        }
        assert!(drawn(&"1,2;3,4\n".repeat(MOST_STROKES + 1)).is_err());
        assert!(drawn(&vec!["1,2"; MOST_PLACES + 1].join(";")).is_err());
    }

    #[test]
    fn corners_grain_and_patch_as_told() {
        assert_eq!(corners("").unwrap(), None);
        assert_eq!(corners("1,2; 3,4;5.5,6;7,-8").unwrap(), Some([(1.0, 2.0), (3.0, 4.0), (5.5, 6.0), (7.0, -8.0)]));
        for text in ["1,2;3,4;5,6", "1,2;3,4;5,6;7,8;9,10", "a,b;1,2;3,4;5,6"] {
            assert!(corners(text).is_err(), "{text}");
        }
        assert_eq!(grain(" down ").unwrap(), Some(Grain::Down));
        assert!(grain("sideways").is_err());
        assert_eq!(patch("1,2,30,40=0,18").unwrap(), Some(Patch { place: [1, 2, 30, 40], reflects: 0.18 }));
        for text in ["1,2,3=0.18", "1,2,3,4", "1,2,3,4=0", "1,2,3,4=18", "-1,2,3,4=0.18"] {
            assert!(patch(text).is_err(), "{text}");
        }
    }
}
