//! What lies across a crack: light by the distance from its middle, from the pixels themselves.

use rayon::prelude::*;

use crate::bar::{BINS, Bank, HALF, Profile};
use crate::flatten::Flat;
use crate::graph::Point;
use crate::lines::Lines;
use crate::plane::Plane;
use crate::width::{Traced, normals};

/// Columns that make one profile: long enough to average texture, short enough that a crack keeps its width (model choice).
const STRETCH: usize = 48;
/// Columns below which no profile is made of a branch.
const LEAST: usize = 12;
/// Window halves beside a crack at which the ground alone is read.
const BESIDE: f64 = 2.4;

/// A line of pixels through a place, along a row or a column, whichever lies nearer to the way across. Nothing is read between pixels: that
/// would blur.
#[derive(Clone, Copy)]
pub(crate) struct Column {
    upright: bool,
    /// Row or column number.
    along: i64,
    /// The place on it.
    middle: f64,
    /// Distance across that a pixel makes, with its sign.
    pub(crate) step: f64,
}

impl Column {
    pub(crate) fn at(p: Point, (nx, ny): (f64, f64)) -> Self {
        let upright = ny.abs() >= nx.abs();
        let (along, across, turn, step) = if upright { (p.x, p.y, nx, ny) } else { (p.y, p.x, ny, nx) };
        let whole = along.round();
        Self { upright, along: whole as i64, middle: across - (whole - along) * turn / step, step }
    }

    /// Pixels from `low` to `high` away across, by number.
    fn span(self, low: f64, high: f64) -> std::ops::RangeInclusive<i64> {
        let (a, b) = (self.middle + low / self.step, self.middle + high / self.step);
        a.min(b).ceil() as i64..=a.max(b).floor() as i64
    }

    fn place(self, k: i64) -> (i64, i64) {
        if self.upright { (self.along, k) } else { (k, self.along) }
    }

    fn away(self, k: i64) -> f64 {
        (k as f64 - self.middle) * self.step
    }

    /// Distance and light of each pixel between two distances.
    pub(crate) fn lights(self, picture: &Plane, low: f64, high: f64) -> impl Iterator<Item = (f64, f64)> + '_ {
        self.span(low, high).map(move |k| {
            let (x, y) = self.place(k);
            (self.away(k), f64::from(picture.at(x, y)))
        })
    }

    /// Half the width of the mask here, in pixels, and 40 at most.
    pub(crate) fn half_width(self, lines: &Lines) -> f64 {
        let middle = self.middle.round() as i64;
        let set = |k: i64| {
            let (x, y) = self.place(k);
            lines.mask.has(x, y)
        };
        let out = |sign: i64| (1..40).find(|k| !set(middle + sign * k)).unwrap_or(40) as f64;
        (out(1) + out(-1)) * self.step.abs() / 2.0
    }

    /// Whether no other crack lies between two distances.
    fn clear(self, lines: &Lines, low: f64, high: f64) -> bool {
        !self.span(low, high).any(|k| {
            let (x, y) = self.place(k);
            lines.mask.has(x, y)
        })
    }
}

/// A piece of a crack and what lies across it.
#[derive(Debug, Clone)]
pub(crate) struct Stretch {
    /// Length that it stands for, in mm: the parts of a branch near its ends are shared out among its stretches.
    pub(crate) length_mm: f64,
    pub(crate) profile: Profile,
}

/// Profiles across all cracks, and of the ground beside them.
pub(crate) struct Across {
    pub(crate) cracks: Vec<Stretch>,
    pub(crate) ground: Vec<Profile>,
}

/// Reads what lies across each crack, away from its nodes and from other cracks.
pub(crate) fn across(flat: &Flat, lines: &Lines, traced: &[Traced], blur_px: f64) -> Across {
    let banks: Vec<Bank> = Bank::all(blur_px);
    let parts: Vec<(Vec<Stretch>, Vec<Profile>)> =
        traced.par_iter().enumerate().map(|(number, line)| along(flat, lines, (number, line), &banks)).collect();
    let mut out = Across { cracks: Vec::new(), ground: Vec::new() };
    for (cracks, ground) in parts {
        out.cracks.extend(cracks);
        out.ground.extend(ground);
    }
    out
}

fn along(flat: &Flat, lines: &Lines, (number, line): (usize, &Traced), banks: &[Bank]) -> (Vec<Stretch>, Vec<Profile>) {
    let branch = lines.graph.branches.get(number);
    let nodes: Vec<Point> = branch
        .into_iter()
        .flat_map(|branch| [branch.from, branch.to])
        .filter_map(|end| end.and_then(|k| lines.graph.nodes.get(k)).copied())
        .collect();
    let columns: Vec<(Column, f64)> = line
        .points
        .iter()
        .zip(normals(&line.points, 4))
        .map(|(&p, n)| (p, Column::at(p, n)))
        .filter_map(|(p, column)| {
            let wide = column.half_width(lines);
            let near = nodes.iter().any(|node| node.to(p) < (2.5 * wide).max(5.0));
            (!near).then_some((column, wide))
        })
        .collect();
    if columns.len() < LEAST {
        return (Vec::new(), Vec::new());
    }
    let parts = columns.len().div_ceil(STRETCH);
    let size = columns.len().div_ceil(parts);
    let (mut cracks, mut ground) = (Vec::new(), Vec::new());
    for part in columns.chunks(size) {
        let mut widths: Vec<f32> = part.iter().map(|(_, wide)| *wide as f32).collect();
        let wide = crate::plane::share_below(&mut widths, 0.5).map_or(0.0, f64::from);
        let fits = banks.iter().position(|bank| wide + 4.0 * bank.blur <= bank.window()).unwrap_or(banks.len() - 1);
        let mut found = None;
        for bank in banks.iter().skip(fits) {
            let window = bank.window();
            let free = |column: &Column, wide: f64| column.clear(lines, wide + 1.5, window) && column.clear(lines, -window, -wide - 1.5);
            let open: Vec<Column> = part.iter().filter(|(column, wide)| free(column, *wide)).map(|(column, _)| *column).collect();
            let Some(profile) = gathered(&flat.picture, bank, &open, 0.0) else { break };
            let narrow = bank.wide_enough(&profile);
            found = Some(profile);
            if narrow {
                for away in [-BESIDE * window, BESIDE * window] {
                    let empty: Vec<Column> =
                        open.iter().filter(|column| column.clear(lines, away - window - 2.0, away + window + 2.0)).copied().collect();
                    ground.extend(gathered(&flat.picture, bank, &empty, away));
                }
                break;
            }
        }
        cracks.extend(found.map(|profile| Stretch { length_mm: 0.0, profile }));
    }
    let share = line.length_mm / cracks.len().max(1) as f64;
    for stretch in &mut cracks {
        stretch.length_mm = share;
    }
    (cracks, ground)
}

/// Mean light by distance from a line so far beside the middle.
fn gathered(picture: &Plane, bank: &Bank, columns: &[Column], away: f64) -> Option<Profile> {
    if columns.len() < LEAST {
        return None;
    }
    let (mut sums, mut counts) = ([0.0_f64; BINS], [0.0_f64; BINS]);
    let reach = bank.window() + bank.bin / 2.0;
    for column in columns {
        for (u, light) in column.lights(picture, away - reach, away + reach) {
            let at = ((u - away) / bank.bin).round() + HALF as f64;
            if at >= 0.0
                && let (Some(sum), Some(count)) = (sums.get_mut(at as usize), counts.get_mut(at as usize))
            {
                *sum += light;
                *count += 1.0;
            }
        }
    }
    if counts.contains(&0.0) {
        return None;
    }
    let mut light = [0.0; BINS];
    for ((light, sum), count) in light.iter_mut().zip(sums).zip(counts) {
        *light = sum / count;
    }
    Some(Profile { level: bank.level, columns: columns.len() as f64, light })
}
