//! Where the cuts of a lattice run: strokes of one direction summed along it (the projection of Radon 1917) make a comb of six teeth.

use std::f64::consts::{FRAC_PI_2, PI};

use super::LatticeError;
use crate::plane::{Plane, share_below};
use crate::ridge::hessian;

/// Cuts each way (ISO 2409).
pub(super) const CUTS: usize = 6;
/// Scale of the filter, in pixels of the picture that is searched.
const SIGMA: f64 = 1.2;
/// A gap between cuts is searched at this many pixels or up to twice as many.
const GAP_PX: f64 = 16.0;
/// Share of the light side's responses that is taken for texture (model choice).
const TEXTURE: f64 = 0.98;
/// A place counts by its response up to this: cuts beside large dark patches are to be heard as well (model choice).
const MOST: f32 = 0.15;
/// Bins of the half circle in which directions are gathered.
const BINS: usize = 60;
/// How far two families may be from square, in bins of three degrees (model choice).
const OFF_SQUARE: usize = 4;
/// A stroke belongs to a family up to this far from its direction (model choice).
const BESIDE: f64 = 0.25;
/// Places on the board at which a lattice is tried.
const TRIES: usize = 5;
/// Teeth have to hold this many times what as wide a part of a gap does (model choice; half of it with rims of flakes in the gaps).
const CLEAR: f64 = 2.0;
/// Deviation of the cuts from straight lines, in gaps, beyond which nothing is measured (model choice).
const BENT: f64 = 0.06;
/// Largest difference of direction within a family, radians (model choice).
const FANNED: f64 = 0.07;

/// A straight line: `nx x + ny y = rho`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Line {
    pub(super) nx: f64,
    pub(super) ny: f64,
    pub(super) rho: f64,
}

impl Line {
    /// How far a place lies beyond it.
    pub(super) fn beyond(&self, x: f64, y: f64) -> f64 {
        self.nx * x + self.ny * y - self.rho
    }

    /// Where two lines cross.
    pub(super) fn meets(&self, other: &Self) -> Option<(f64, f64)> {
        let det = self.nx * other.ny - self.ny * other.nx;
        (det.abs() > 0.1).then(|| ((self.rho * other.ny - self.ny * other.rho) / det, (self.nx * other.rho - self.rho * other.nx) / det))
    }
}

/// Six cuts that run one way.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Family {
    pub(super) lines: Vec<Line>,
    /// Direction square to them, radians from the x axis towards y.
    pub(super) turn: f64,
    /// From one to the next, and how far off that is, in pixels.
    pub(super) gap: f64,
    pub(super) gap_doubt: f64,
    /// Root mean square of how far they are from straight, in pixels.
    pub(super) bent: f64,
    fanned: f64,
    clear: f64,
}

/// Both families of a lattice.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Cuts {
    pub(super) one: Family,
    pub(super) other: Family,
}

/// A place that is like a line.
#[derive(Debug, Clone, Copy)]
struct Stroke {
    x: f64,
    y: f64,
    turn: f64,
    weight: f64,
}

/// Angle between two directions without front, 0 to a quarter turn.
fn apart(a: f64, b: f64) -> f64 {
    let off = (a - b).rem_euclid(PI);
    off.min(PI - off)
}

/// Looks for a lattice whose gap lies between two sizes in pixels; the clearest of those on the board.
pub(super) fn find(picture: &Plane, margin_px: f64, (least, most): (f64, f64)) -> Result<Cuts, LatticeError> {
    let mut smaller: Option<Plane> = None;
    let mut factor = 1.0;
    while least / factor >= 2.0 * GAP_PX {
        smaller = Some(smaller.as_ref().unwrap_or(picture).halved());
        factor *= 2.0;
    }
    let here = smaller.as_ref().unwrap_or(picture);
    let strokes = strokes(here, (margin_px / factor).ceil());
    let span = (least / factor, most / factor);
    let mid = f64::midpoint(span.0, span.1);
    let mut uneven = false;
    let best = windows(here, &strokes, mid)
        .into_iter()
        .filter_map(|window| {
            let near: Vec<Stroke> = strokes.iter().copied().filter(|s| (s.x - window.x).hypot(s.y - window.y) < 5.5 * span.1).collect();
            let cuts = lattice(&near, window, span)?;
            if [&cuts.one, &cuts.other].into_iter().any(|family| family.bent > BENT * family.gap || family.fanned > FANNED) {
                uneven = true;
                return None;
            }
            Some(cuts)
        })
        .max_by(|a, b| a.one.clear.min(a.other.clear).total_cmp(&b.one.clear.min(b.other.clear)));
    let Some(cuts) = best else { return Err(if uneven { LatticeError::Uneven } else { LatticeError::None }) };
    Ok(Cuts { one: cuts.one.times(factor), other: cuts.other.times(factor) })
}

impl Family {
    /// How much more the cuts hold than the gaps between them.
    pub(super) const fn clear(&self) -> f64 {
        self.clear
    }

    /// The same in a picture this many times as large.
    fn times(mut self, factor: f64) -> Self {
        for line in &mut self.lines {
            let corner = 0.5 * (line.nx + line.ny);
            line.rho = factor * (line.rho + corner) - corner;
        }
        self.gap *= factor;
        self.gap_doubt *= factor;
        self.bent *= factor;
        self
    }
}

/// Places that are more like a dark line than nearly all are like a bright one.
fn strokes(picture: &Plane, margin: f64) -> Vec<Stroke> {
    let h = hessian(picture, SIGMA);
    let each = || h.xx.values().iter().zip(h.xy.values()).zip(h.yy.values()).map(|((&a, &b), &d)| (a, b, d));
    let half = |a: f32, b: f32, d: f32| ((a - d) / 2.0).hypot(b);
    let mut bright: Vec<f32> = each().step_by(13).map(|(a, b, d)| (half(a, b, d) - f32::midpoint(a, d)).max(0.0)).collect();
    let texture = share_below(&mut bright, TEXTURE).unwrap_or(0.0).max(0.004);
    let width = picture.width().max(1);
    let inside = |x: f64, y: f64| x >= margin && y >= margin && x < picture.width() as f64 - margin && y < picture.height() as f64 - margin;
    each()
        .enumerate()
        .filter_map(|(at, (a, b, d))| {
            let weight = (f32::midpoint(a, d) + half(a, b, d) - texture).min(MOST);
            let (x, y) = ((at % width) as f64, (at / width) as f64);
            (weight > 0.0 && inside(x, y)).then(|| Stroke {
                x,
                y,
                turn: (0.5 * f64::from(2.0 * b).atan2(f64::from(a - d))).rem_euclid(PI),
                weight: f64::from(weight),
            })
        })
        .collect()
}

/// A place where much runs two ways that are square to each other.
#[derive(Debug, Clone, Copy)]
struct Window {
    x: f64,
    y: f64,
    turns: (f64, f64),
    worth: f64,
}

/// The places that look most like a lattice: directions gathered in squares of one gap, five by five of them taken together.
fn windows(picture: &Plane, strokes: &[Stroke], gap: f64) -> Vec<Window> {
    let (columns, rows) = ((picture.width() as f64 / gap) as usize + 1, (picture.height() as f64 / gap) as usize + 1);
    let mut squares = vec![[0.0_f64; BINS]; columns * rows];
    for s in strokes {
        let (column, row) = ((s.x / gap) as usize, (s.y / gap) as usize);
        if let Some(bin) =
            squares.get_mut(row * columns + column).and_then(|bins| bins.get_mut((s.turn / PI * BINS as f64) as usize % BINS))
        {
            *bin += s.weight;
        }
    }
    let side = CUTS - 1;
    let mut all: Vec<Window> = (0..rows.saturating_sub(side - 1))
        .flat_map(|row| (0..columns.saturating_sub(side - 1)).map(move |column| (row, column)))
        .filter_map(|(row, column)| {
            let mut bins = [0.0_f64; BINS];
            for part in (row..row + side).filter_map(|y| squares.get(y * columns + column..y * columns + column + side)).flatten() {
                for (sum, value) in bins.iter_mut().zip(part) {
                    *sum += value;
                }
            }
            let at = |k: usize| bins.get(k % BINS).copied().unwrap_or(0.0);
            let three = |k: usize| at(k + BINS - 1) + at(k) + at(k + 1);
            let usual = 3.0 * bins.iter().sum::<f64>() / BINS as f64;
            let square = |k: usize| (k + BINS / 2 - OFF_SQUARE)..=(k + BINS / 2 + OFF_SQUARE);
            let (worth, i, j) = (0..BINS)
                .flat_map(|i| square(i).map(move |j| (i, j)))
                .map(|(i, j)| (three(i).min(three(j)) - usual, i, j))
                .max_by(|a, b| a.0.total_cmp(&b.0))?;
            let turn = |k: usize| ((k % BINS) as f64 + 0.5) / BINS as f64 * PI;
            let middle = |k: usize| (k as f64 + side as f64 / 2.0) * gap;
            (worth > 0.0).then(|| Window { x: middle(column), y: middle(row), turns: (turn(i), turn(j)), worth })
        })
        .collect();
    all.sort_by(|a, b| b.worth.total_cmp(&a.worth));
    let mut kept: Vec<Window> = Vec::new();
    for window in all {
        if kept.len() < TRIES && kept.iter().all(|one| (one.x - window.x).hypot(one.y - window.y) > 2.5 * gap) {
            kept.push(window);
        }
    }
    kept
}

/// Both families near a window, found roughly and then again from what lies within the lattice alone.
fn lattice(near: &[Stroke], window: Window, span: (f64, f64)) -> Option<Cuts> {
    let middle = (window.x, window.y);
    let one = comb(near, middle, window.turns.0, 0.1, span)?;
    let other = comb(near, middle, window.turns.1, 0.1, span)?;
    let (one, other) = (one.lines(middle), other.lines(middle));
    let (first, last) = (one.first()?.meets(other.first()?)?, one.last()?.meets(other.last()?)?);
    let middle = (f64::midpoint(first.0, last.0), f64::midpoint(first.1, last.1));
    let within = |lines: &[Line], s: &Stroke| {
        let reach = 0.3 * span.0;
        lines.first().is_some_and(|line| line.beyond(s.x, s.y) > -reach) && lines.last().is_some_and(|line| line.beyond(s.x, s.y) < reach)
    };
    let part = |lines: &[Line]| near.iter().copied().filter(|s| within(lines, s)).collect::<Vec<_>>();
    let turn = |lines: &[Line]| lines.first().map(|line| line.ny.atan2(line.nx));
    let (along_one, along_other) = (part(&other), part(&one));
    let again = |strokes: &[Stroke], turn: f64| {
        let comb = comb(strokes, middle, turn, 0.04, span)?;
        fitted(strokes, middle, &comb)
    };
    Some(Cuts { one: again(&along_one, turn(&one)?)?, other: again(&along_other, turn(&other)?)? })
}

/// Six teeth at even distances on the sums of one direction.
#[derive(Debug, Clone, Copy)]
struct Comb {
    turn: f64,
    first: f64,
    gap: f64,
    clear: f64,
}

impl Comb {
    fn lines(&self, (x, y): (f64, f64)) -> Vec<Line> {
        let (ny, nx) = self.turn.sin_cos();
        (0..CUTS).map(|k| Line { nx, ny, rho: nx * x + ny * y + self.first + k as f64 * self.gap }).collect()
    }
}

/// Steps of the sums, in pixels.
const STEP: f64 = 0.5;

/// Sums of weights across a direction, as running totals from `-reach` on.
fn sums(strokes: &[Stroke], (x, y): (f64, f64), turn: f64, reach: f64) -> Vec<f64> {
    let (ny, nx) = turn.sin_cos();
    let mut bins = vec![0.0; (2.0 * reach / STEP).ceil() as usize + 1];
    for s in strokes {
        let at = ((s.x - x) * nx + (s.y - y) * ny + reach) / STEP;
        if at >= 0.0
            && let Some(bin) = bins.get_mut(at as usize)
        {
            *bin += s.weight;
        }
    }
    bins
}

/// The direction near a guess in which the sums are sharpest, and the comb that fits them best.
fn comb(near: &[Stroke], middle: (f64, f64), guess: f64, within: f64, span: (f64, f64)) -> Option<Comb> {
    let strokes: Vec<Stroke> = near.iter().copied().filter(|s| apart(s.turn, guess) < BESIDE).collect();
    let reach = 7.0 * span.1;
    let sharp = |turn: f64| sums(&strokes, middle, turn, reach).iter().map(|sum| sum * sum).sum::<f64>();
    let steps = 24;
    let turns: Vec<(f64, f64)> =
        (-steps..=steps).map(|k| guess + within * f64::from(k) / f64::from(steps)).map(|turn| (turn, sharp(turn))).collect();
    let at = turns.iter().enumerate().max_by(|a, b| a.1.1.total_cmp(&b.1.1))?.0;
    let turn = match turns.get(at.saturating_sub(1)..at + 2) {
        // Between the steps: the top of the parabola through three.
        Some(&[(_, a), (turn, b), (next, c)]) if a + c < 2.0 * b => turn + (next - turn) * 0.5 * (a - c) / (a - 2.0 * b + c),
        _ => turns.get(at)?.0,
    };
    let mut total = 0.0;
    let totals: Vec<f64> = std::iter::once(0.0)
        .chain(sums(&strokes, middle, turn, reach).into_iter().map(|sum| {
            total += sum;
            total
        }))
        .collect();
    let until = |rho: f64| {
        let at = ((rho + reach) / STEP).clamp(0.0, totals.len() as f64 - 1.001);
        let (k, part) = (at as usize, at.fract());
        let value = |k: usize| totals.get(k).copied().unwrap_or(0.0);
        value(k) * (1.0 - part) + value(k + 1) * part
    };
    let held = |from: f64, to: f64| (until(to) - until(from)).max(0.0);
    let mut best: Option<(f64, f64, f64)> = None;
    for size in 0..=60 {
        let gap = span.0 + (span.1 - span.0) * f64::from(size) / 60.0;
        let tooth = |rho: f64| held(rho - 0.1 * gap, rho + 0.1 * gap).sqrt();
        for k in 0..(8.0 * gap / STEP) as usize {
            let first = -6.0 * gap + k as f64 * STEP;
            let teeth: f64 = (0..CUTS).map(|k| tooth(first + k as f64 * gap)).sum();
            let between: f64 = (0..CUTS - 1).map(|k| tooth(first + (k as f64 + 0.5) * gap)).sum();
            let outside = tooth(first - gap) + tooth(first + CUTS as f64 * gap);
            let worth = teeth - 0.7 * between - 0.5 * outside;
            if best.is_none_or(|(most, ..)| worth > most) {
                best = Some((worth, first, gap));
            }
        }
    }
    let (_, first, gap) = best?;
    let teeth: Vec<f64> = (0..CUTS).map(|k| first + k as f64 * gap).map(|rho| held(rho - 0.15 * gap, rho + 0.15 * gap)).collect();
    let gaps: f64 = (0..CUTS - 1).map(|k| first + k as f64 * gap).map(|rho| held(rho + 0.2 * gap, rho + 0.8 * gap)).sum();
    // Six teeth of 0.3 gaps and five of 0.6: equal sums are no comb.
    let usual = teeth.iter().sum::<f64>() / CUTS as f64;
    let clear = usual / (gaps / 10.0).max(1e-6);
    let there = teeth.iter().filter(|&&held| held > 0.25 * usual).count();
    (usual > 0.0 && clear > CLEAR && there + 1 >= CUTS).then_some(Comb { turn, first, gap, clear })
}

/// Each cut by itself, a straight line through its strokes; a cut with next to none stands where the others put it.
fn fitted(near: &[Stroke], (x, y): (f64, f64), comb: &Comb) -> Option<Family> {
    let (ny, nx) = comb.turn.sin_cos();
    let along = |beside: f64| -> Vec<(f64, f64, f64)> {
        let near = near.iter().filter(|s| apart(s.turn, comb.turn) < beside);
        near.map(|s| ((s.x - x) * nx + (s.y - y) * ny, (s.y - y) * nx - (s.x - x) * ny, s.weight)).collect()
    };
    let strokes = along(BESIDE);
    let mut fits: Vec<Option<Fit>> = Vec::new();
    for k in 0..CUTS {
        let rough = Fit { rho: comb.first + k as f64 * comb.gap, slope: 0.0, weight: 0.0 };
        let first = Fit::of(&strokes, rough, 0.25 * comb.gap);
        fits.push(first.and_then(|first| Fit::of(&strokes, first, 0.12 * comb.gap)));
    }
    let usual = fits.iter().flatten().map(|fit| fit.weight).sum::<f64>() / CUTS as f64;
    for fit in &mut fits {
        *fit = fit.filter(|fit| fit.weight > 0.2 * usual && fit.slope.abs() < 2.0 * FANNED);
    }
    let there: Vec<(f64, Fit)> = fits.iter().enumerate().filter_map(|(k, fit)| fit.map(|fit| (k as f64, fit))).collect();
    if there.len() < CUTS - 2 {
        return None;
    }
    let count = there.len() as f64;
    let mean = |of: &dyn Fn(&(f64, Fit)) -> f64| there.iter().map(of).sum::<f64>() / count;
    let (k0, rho0, slope) = (mean(&|f| f.0), mean(&|f| f.1.rho), mean(&|f| f.1.slope));
    let spread: f64 = there.iter().map(|(k, _)| (k - k0).powi(2)).sum();
    let gap = there.iter().map(|(k, fit)| (k - k0) * (fit.rho - rho0)).sum::<f64>() / spread.max(1e-9);
    let off: f64 = there.iter().map(|(k, fit)| (fit.rho - rho0 - gap * (k - k0)).powi(2)).sum();
    let gap_doubt = 2.0 * (off / (count - 2.0) / spread.max(1e-9)).sqrt() + 0.02;
    let slopes = || there.iter().map(|(_, fit)| fit.slope);
    let fanned = slopes().fold(f64::NEG_INFINITY, f64::max) - slopes().fold(f64::INFINITY, f64::min);
    let lines = fits
        .iter()
        .enumerate()
        .map(|(k, fit)| {
            let fit = fit.unwrap_or(Fit { rho: rho0 + gap * (k as f64 - k0), slope, weight: 0.0 });
            // rho - slope t = const, brought to length 1: t runs along (-ny, nx).
            let long = fit.slope.hypot(1.0);
            let (px, py) = ((nx + fit.slope * ny) / long, (ny - fit.slope * nx) / long);
            Line { nx: px, ny: py, rho: px * x + py * y + fit.rho / long }
        })
        .collect();
    // The ends of a bow run another way than its middle.
    let bent = bent(&strokes, &there, comb.gap).max(bowed(&along(2.0 * BESIDE), &there, comb.gap));
    Some(Family { lines, turn: comb.turn - slope.atan(), gap, gap_doubt, bent, fanned, clear: comb.clear })
}

/// A straight line: how far across at its middle, and how much further for each step along.
#[derive(Debug, Clone, Copy)]
struct Fit {
    rho: f64,
    slope: f64,
    weight: f64,
}

impl Fit {
    fn off(&self, rho: f64, t: f64) -> f64 {
        rho - self.rho - self.slope * t
    }

    /// Least squares through the strokes near another line.
    fn of(strokes: &[(f64, f64, f64)], near: Self, reach: f64) -> Option<Self> {
        let (mut w, mut wt, mut wr, mut wtt, mut wtr) = (0.0, 0.0, 0.0, 0.0, 0.0);
        for &(rho, t, weight) in strokes.iter().filter(|(rho, t, _)| near.off(*rho, *t).abs() < reach) {
            w += weight;
            wt += weight * t;
            wr += weight * rho;
            wtt += weight * t * t;
            wtr += weight * t * rho;
        }
        let det = w * wtt - wt * wt;
        (w > 0.0 && det > 1e-9).then(|| {
            let slope = (w * wtr - wt * wr) / det;
            Self { rho: (wr - slope * wt) / w, slope, weight: w }
        })
    }
}

/// Root mean square of how far five parts of each cut lie from its straight line, in pixels.
fn bent(strokes: &[(f64, f64, f64)], there: &[(f64, Fit)], gap: f64) -> f64 {
    let (mut squares, mut count) = (0.0, 0.0);
    for (_, fit) in there {
        for part in 0..CUTS - 1 {
            let from = (part as f64 - 2.5) * gap;
            let (sum, weight) = strokes
                .iter()
                .filter(|(rho, t, _)| (from..from + gap).contains(t) && fit.off(*rho, *t).abs() < 0.2 * gap)
                .fold((0.0, 0.0), |(sum, all), (rho, t, weight)| (sum + weight * fit.off(*rho, *t), all + weight));
            if weight > 0.1 * fit.weight {
                squares += (sum / weight).powi(2);
                count += 1.0;
            }
        }
    }
    if count > 0.0 { f64::sqrt(squares / count) } else { 0.0 }
}

/// Offsets from a straight line at which a part of a cut is looked for, each way, and how far apart, in gaps (model choice).
const LOOKED: (i32, f64) = (20, 0.02);

/// The same for all cuts bent alike, as a board that is not flat or a wide lens shows them, which the lines follow only in part: where most
/// lies in each of five parts, by the median of the cuts, since rims of flakes draw single ones aside.
fn bowed(strokes: &[(f64, f64, f64)], there: &[(f64, Fit)], gap: f64) -> f64 {
    let (reach, step) = LOOKED;
    let parts = (0..CUTS - 1).filter_map(|part| {
        let from = (part as f64 - 2.5) * gap;
        let mut offs: Vec<f32> = there
            .iter()
            .filter_map(|(_, fit)| {
                let near: Vec<(f64, f64)> = strokes
                    .iter()
                    .filter(|(_, t, _)| (from..from + gap).contains(t))
                    .map(|(rho, t, weight)| (fit.off(*rho, *t) / gap, *weight))
                    .filter(|(off, _)| off.abs() < f64::from(reach + 2) * step)
                    .collect();
                let held = |at: f64| near.iter().filter(|(off, _)| (off - at).abs() < 2.0 * step).map(|(_, weight)| weight).sum::<f64>();
                let all = (-reach..=reach).map(|k| f64::from(k) * step).map(|at| (at, held(at)));
                all.max_by(|a, b| a.1.total_cmp(&b.1)).filter(|(_, held)| *held > 0.05 * fit.weight).map(|(at, _)| at as f32)
            })
            .collect();
        if offs.len() >= CUTS / 2 { share_below(&mut offs, 0.5).map(|off| f64::from(off) * gap) } else { None }
    });
    let all: Vec<f64> = parts.collect();
    (all.iter().map(|off| off * off).sum::<f64>() / all.len().max(1) as f64).sqrt()
}

/// Direction of the lattice in degrees anticlockwise from the upper edge, -45 to 45, and how far its families are from square.
pub(super) fn direction(cuts: &Cuts) -> (f64, f64) {
    // A normal turned clockwise by so much (rows run down) means lines turned as much: anticlockwise is the other sign, and families are
    // a quarter turn apart.
    let quarter = |turn: f64| {
        let off = (-turn).rem_euclid(FRAC_PI_2);
        if off > FRAC_PI_2 / 2.0 { off - FRAC_PI_2 } else { off }
    };
    let (a, mut b) = (quarter(cuts.one.turn), quarter(cuts.other.turn));
    if b - a > FRAC_PI_2 / 2.0 {
        b -= FRAC_PI_2;
    } else if a - b > FRAC_PI_2 / 2.0 {
        b += FRAC_PI_2;
    }
    let mean = f64::midpoint(a, b).to_degrees();
    ((mean + 45.0).rem_euclid(90.0) - 45.0, (a - b).abs().to_degrees())
}
