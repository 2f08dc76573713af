//! What lies across a crack: light by the distance from its middle, from the pixels themselves.

use rayon::prelude::*;

use crate::bar::{BINS, Bank, HALF, Profile};
use crate::flatten::Flat;
use crate::graph::Point;
use crate::lines::Lines;
use crate::plane::{Plane, floor};
use crate::width::{Traced, apart2, normals};

/// One column of so many is read: texture hardly changes from one to the next.
const EVERY: usize = 2;
/// Columns that make one profile: long enough to average texture, short enough that a crack keeps its width (model choice).
const STRETCH: usize = 24;
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
    step: f64,
}

impl Column {
    pub(crate) fn at(p: Point, (nx, ny): (f64, f64)) -> Self {
        let upright = ny.abs() >= nx.abs();
        let (along, across, turn, step) = if upright { (p.x, p.y, nx, ny) } else { (p.y, p.x, ny, nx) };
        let whole = floor(along + 0.5);
        Self { upright, along: whole, middle: across - (whole as f64 - along) * turn / step, step }
    }

    /// Pixels from `low` to `high` away across, by number.
    fn span(self, low: f64, high: f64) -> std::ops::Range<i64> {
        let per = 1.0 / self.step;
        let (a, b) = (self.middle + low * per, self.middle + high * per);
        floor(a.min(b)) + 1..floor(a.max(b)) + 1
    }

    fn place(self, k: i64) -> (i64, i64) {
        if self.upright { (self.along, k) } else { (k, self.along) }
    }

    fn away(self, k: i64) -> f64 {
        (k as f64 - self.middle) * self.step
    }

    /// Distance of the first pixel between two distances, the change from one to the next, and the light of each.
    pub(crate) fn lights(self, picture: &Plane, low: f64, high: f64) -> (f64, f64, impl Iterator<Item = f32> + '_) {
        let (width, height) = (picture.width() as i64, picture.height() as i64);
        let (end, along_end, stride, along_stride) = if self.upright { (height, width, width, 1) } else { (width, height, 1, width) };
        let from = self.along.clamp(0, along_end - 1) * along_stride;
        let span = self.span(low, high);
        let first = self.away(span.start);
        let values = picture.values();
        let light = move |k: i64| values.get((from + k.clamp(0, end - 1) * stride) as usize).copied().unwrap_or(1.0);
        (first, self.step, span.map(light))
    }

    /// Half the width of the mask here, in pixels, and 40 at most.
    pub(crate) fn half_width(self, lines: &Lines) -> f64 {
        let middle = floor(self.middle + 0.5);
        let set = |k: i64| {
            let (x, y) = self.place(k);
            lines.mask.has(x, y)
        };
        let out = |sign: i64| (1..40).find(|k| !set(middle + sign * k)).unwrap_or(40) as f64;
        (out(1) + out(-1)) * self.step.abs() / 2.0
    }

    /// Whether no other crack lies between two distances: every second pixel is asked, since no mask of a crack is narrower than two.
    fn clear(self, lines: &Lines, low: f64, high: f64) -> bool {
        !self.span(low, high).step_by(2).any(|k| {
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

/// The ground is read beside one of so many stretches: enough to know its texture.
const GROUND: usize = 3;

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
    let near = |p: Point, wide: f64| {
        let far = (2.5 * wide).max(5.0);
        nodes.iter().any(|node| apart2(*node, p) < far * far)
    };
    let columns: Vec<(Column, f64)> = line
        .points
        .iter()
        .zip(&line.half_width)
        .zip(normals(&line.points, 4))
        .step_by(EVERY)
        .filter(|((p, wide), _)| !near(**p, **wide))
        .map(|((p, wide), n)| (Column::at(*p, n), *wide))
        .collect();
    if columns.len() < LEAST {
        return (Vec::new(), Vec::new());
    }
    let parts = columns.len().div_ceil(STRETCH);
    let size = columns.len().div_ceil(parts);
    let (mut cracks, mut ground) = (Vec::new(), Vec::new());
    for (turn, part) in columns.chunks(size).enumerate() {
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
                if (number + turn).is_multiple_of(GROUND) {
                    let away = if turn.is_multiple_of(2) { BESIDE * window } else { -BESIDE * window };
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
    let per = 1.0 / bank.bin;
    for column in columns {
        let (first, step, lights) = column.lights(picture, away - reach, away + reach);
        let mut at = (first - away) * per + HALF as f64 + 0.5;
        for light in lights {
            if let (Some(sum), Some(count)) = (sums.get_mut(at.max(0.0) as usize), counts.get_mut(at.max(0.0) as usize)) {
                *sum += f64::from(light);
                *count += 1.0;
            }
            at += step * per;
        }
    }
    let means: Vec<Option<f64>> = sums.iter().zip(counts).map(|(sum, count)| (count > 0.0).then(|| sum / count)).collect();
    let mut light = [0.0; BINS];
    for (k, light) in light.iter_mut().enumerate() {
        // Where a crack runs along the rows, all its columns have their pixels at the same places: between two of them light is taken straight.
        let beside = |at: Option<usize>| at.and_then(|at| means.get(at)).copied().flatten();
        let (before, after) = (beside(k.checked_sub(1)), beside(Some(k + 1)));
        *light = beside(Some(k)).or_else(|| Some(f64::midpoint(before?, after?))).or(before).or(after)?;
    }
    Some(Profile { level: bank.level, columns: columns.len() as f64, light })
}
