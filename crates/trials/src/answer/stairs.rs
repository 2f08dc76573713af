//! Stair boards: several strips of growing thickness on one board bracket the thickness at which it gives way.

use std::collections::{BTreeMap, HashMap};

use super::fold::middle;
use super::readings::{Kind, Reading, Readings, Seen};

/// Dry thickness of strips, as measured.
pub(super) struct Marks(HashMap<(usize, u32), f64>);

impl Marks {
    /// Thicknesses by board and strip; repeat readings count with their median.
    pub(super) fn of(readings: &Readings) -> Self {
        let mut lists: HashMap<(usize, u32), Vec<Seen>> = HashMap::new();
        for row in &readings.rows {
            let thickness = readings.measures.get(row.measure).is_some_and(|(_, kind)| *kind == Kind::Thickness);
            if let (true, Some(strip), Some(seen)) =
                (thickness, row.strip, row.seen.filter(|seen| seen.exact().is_some_and(|value| value > 0.0)))
            {
                lists.entry((row.board, strip)).or_default().push(seen);
            }
        }
        Self(lists.into_iter().filter_map(|(key, list)| middle(list.into_iter()).map(|seen| (key, seen.low))).collect())
    }

    /// Whether every strip that was read has a thickness, and thickness grows with the strip.
    pub(super) fn cover(&self, board: usize, rows: &[&Reading]) -> bool {
        let mut strips: Vec<u32> = rows.iter().filter_map(|row| row.strip).collect();
        strips.sort_unstable();
        strips.dedup();
        let marks: Option<Vec<f64>> = strips.iter().map(|strip| self.0.get(&(board, *strip)).copied()).collect();
        marks.is_some_and(|marks| !marks.is_empty() && marks.is_sorted_by(|a, b| a < b))
    }

    fn at(&self, board: usize, strip: u32) -> Option<f64> {
        self.0.get(&(board, strip)).copied()
    }
}

/// What one stair board says.
pub(super) struct FirstStrip {
    /// Between which marks it gave way.
    pub(super) seen: Seen,
    /// Number of the first strip that gave way; one more than the last if none did.
    pub(super) strip: f64,
    /// A thinner strip gave way and a thicker one did not.
    pub(super) out_of_order: bool,
}

/// Reads one board. Several readings of a strip count by majority, a tie as "gave way". Without thicknesses the marks are the numbers
/// of the strips.
pub(super) fn first_strip(board: usize, rows: &[&Reading], marks: Option<&Marks>) -> FirstStrip {
    let mut strips: BTreeMap<u32, (u32, u32)> = BTreeMap::new();
    for row in rows {
        if let (Some(strip), Some(seen)) = (row.strip, row.seen) {
            let (yes, all) = strips.entry(strip).or_default();
            *yes += u32::from(seen.low > 0.5);
            *all += 1;
        }
    }
    let mark = |strip: u32| marks.and_then(|marks| marks.at(board, strip)).unwrap_or(f64::from(strip));
    let gave_way = |&(yes, all): &(u32, u32)| 2 * yes >= all;
    let first = strips.iter().find(|(_, count)| gave_way(count)).map(|(strip, _)| *strip);
    let sound = |below: u32| strips.iter().filter(|(strip, count)| **strip < below && !gave_way(count)).map(|(strip, _)| *strip).max();
    if let Some(first) = first {
        return FirstStrip {
            seen: Seen { low: sound(first).map_or(0.0, mark), high: mark(first) },
            strip: f64::from(first),
            out_of_order: strips.iter().any(|(strip, count)| *strip > first && !gave_way(count)),
        };
    }
    let last = strips.keys().max().copied().unwrap_or(0);
    FirstStrip { seen: Seen { low: mark(last), high: f64::INFINITY }, strip: f64::from(last + 1), out_of_order: false }
}
