//! What has come away between the cuts: told by colour against the ground around the lattice.

use super::LatticeError;
use super::cuts::{CUTS, Cuts, Line};
use crate::decode::{Photo, linear};
use crate::flatten::Flat;
use crate::lines::MARGIN_MM;
use crate::mask::Mask;
use crate::plane::{Plane, share_below};

/// How much a place has to differ from the ground, as a share of its light, whatever else (model choice).
const LEAST: f64 = 0.1;
/// How many times more than nearly all of the ground around does (model choice).
const TIMES: f64 = 3.0;
/// Away from here a place has come away: half-way to what lies bare; and the two neighbours that tell the doubt (model choice).
const LEVELS: [f64; 3] = [0.5, 0.65, 0.35];
/// A difference from the ground that is less than this times the least leaves doubt (model choice).
const FAINT: f64 = 1.6;
/// Specks of fewer pixels are noise.
const SPECK: usize = 6;
/// Width taken for a cut that does not show, as a share of the gap (model choice).
const USUAL_CUT: f64 = 0.06;
/// Deviations of the blur past a rim where next to nothing of the cut is seen: a fifteenth of its darkness (the bell's tail, worked out).
const PAST_RIM: f64 = 1.5;
/// Places along a cut with ground on both sides that are enough to go by.
const CLEAR: usize = 12;
/// Fields of ground around that are needed.
const FIELDS: usize = 12;

/// What came away, by one level.
#[derive(Debug, Clone)]
pub(super) struct Away {
    /// Share of each square between its cuts, row by row.
    pub(super) squares: Vec<f64>,
    /// The places.
    pub(super) mask: Mask,
}

/// All that the colours tell.
#[derive(Debug, Clone)]
pub(super) struct Gone {
    /// At half-way, with more and with less evidence.
    pub(super) levels: Vec<Away>,
    /// Full width of a cut in pixels, if it shows.
    pub(super) cut_px: Option<f64>,
    /// Whether what lies bare hardly differs from the ground.
    pub(super) faint: bool,
    /// Where the masks begin, in pixels of the straightened picture.
    pub(super) corner: (i64, i64),
}

/// A piece of the straightened board: how much each place differs from the ground.
struct Piece {
    differs: Plane,
    left: i64,
    top: i64,
}

/// Light of red, green and blue at a place of the straightened picture.
struct Colours<'a> {
    photo: &'a Photo,
    flat: &'a Flat,
    linear: Vec<f64>,
}

impl Colours<'_> {
    fn at(&self, x: f64, y: f64) -> [f64; 3] {
        let per = self.flat.px_per_mm;
        let (u, v) = self.flat.map.map((x + 0.5) / per, (y + 0.5) / per);
        let (i, j) = (u.floor(), v.floor());
        let (a, b) = (u - i, v - j);
        let mut out = [0.0; 3];
        for (dx, dy, weight) in [(0, 0, (1.0 - a) * (1.0 - b)), (1, 0, a * (1.0 - b)), (0, 1, (1.0 - a) * b), (1, 1, a * b)] {
            let pixel = self.photo.pixel(i as i64 + dx, j as i64 + dy);
            for (sum, byte) in out.iter_mut().zip(pixel) {
                *sum += weight * self.linear.get(usize::from(byte)).copied().unwrap_or(0.0);
            }
        }
        out
    }
}

/// A plane over the picture: `a + b x + c y`.
#[derive(Debug, Clone, Copy)]
struct Slope([f64; 3]);

impl Slope {
    /// Least squares by Cramer's rule, and again without what lies far off.
    fn of(values: &[(f64, f64, f64)]) -> Option<Self> {
        let first = Self::once(values)?;
        let mut off: Vec<f32> = values.iter().map(|&(x, y, v)| (v - first.at(x, y)).abs() as f32).collect();
        let most = 3.0 * f64::from(share_below(&mut off, 0.5)?);
        let near: Vec<_> = values.iter().copied().filter(|&(x, y, v)| (v - first.at(x, y)).abs() <= most).collect();
        Self::once(&near).or(Some(first))
    }

    fn once(values: &[(f64, f64, f64)]) -> Option<Self> {
        let mut m = [0.0_f64; 6];
        let mut r = [0.0_f64; 3];
        for &(x, y, v) in values {
            for (sum, part) in m.iter_mut().zip([1.0, x, y, x * x, x * y, y * y]) {
                *sum += part;
            }
            for (sum, part) in r.iter_mut().zip([v, x * v, y * v]) {
                *sum += part;
            }
        }
        let [n, x, y, xx, xy, yy] = m;
        let det =
            |[a, b, c]: [f64; 3], [d, e, f]: [f64; 3], [g, h, i]: [f64; 3]| a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g);
        let (c0, c1, c2) = ([n, x, y], [x, xx, xy], [y, xy, yy]);
        let whole = det(c0, c1, c2);
        (whole.abs() > 1e-9).then(|| Self([det(r, c1, c2) / whole, det(c0, r, c2) / whole, det(c0, c1, r) / whole]))
    }

    fn at(&self, x: f64, y: f64) -> f64 {
        let [a, b, c] = self.0;
        a + b * x + c * y
    }
}

/// Measures what lies between the cuts, and puts them where their darkness has its middle.
pub(super) fn measure(photo: &Photo, flat: &Flat, mut cuts: Cuts) -> Result<(Cuts, Gone), LatticeError> {
    let colours = Colours { photo, flat, linear: (0..=255).map(linear).collect() };
    let gap = f64::midpoint(cuts.one.gap, cuts.other.gap);
    let frame = Frame::of(&cuts).ok_or(LatticeError::None)?;
    let (ground, usual) = ground(&colours, &frame, gap)?;
    let least = LEAST.max(TIMES * usual);
    let piece = Piece::of(&colours, &frame, &ground, 0.5 * gap);
    let blur = flat.blur_px.unwrap_or(1.0);
    piece.settle(&mut cuts, gap, least);
    let cuts = &cuts;
    let cut_px = piece.cut(cuts, gap, least);
    let half = (cut_px.unwrap_or(USUAL_CUT * gap) / 2.0).min(0.2 * gap);
    // A cut that is bent a little leaves its straight line by twice the usual deviation.
    let bent = 2.0 * cuts.one.bent.max(cuts.other.bent);
    let sites = piece.sites(cuts, half, (PAST_RIM * blur).min(0.1 * gap) + bent.min(0.12 * gap));
    let mut away: Vec<f32> = sites.iter().filter_map(|site| (site.differs > least).then_some(site.differs as f32)).collect();
    let full = if away.len() < 4 * SPECK { 0.0 } else { f64::from(share_below(&mut away, 0.6).unwrap_or(0.0)) };
    let levels = LEVELS.into_iter().map(|level| piece.away(&sites, (level * full).max(least))).collect();
    let gone = Gone { levels, cut_px, faint: full > 0.0 && full < FAINT * least, corner: (piece.left, piece.top) };
    Ok((cuts.clone(), gone))
}

/// The lattice's own steps: counted from its corner in gaps along both families.
struct Frame {
    corner: (f64, f64),
    one: (f64, f64),
    other: (f64, f64),
}

impl Frame {
    fn of(cuts: &Cuts) -> Option<Self> {
        let ends = |family: &[Line]| Some((*family.first()?, *family.last()?));
        let ((a, b), (c, d)) = (ends(&cuts.one.lines)?, ends(&cuts.other.lines)?);
        let (corner, right, down) = (a.meets(&c)?, b.meets(&c)?, a.meets(&d)?);
        let step = |to: (f64, f64)| ((to.0 - corner.0) / (CUTS - 1) as f64, (to.1 - corner.1) / (CUTS - 1) as f64);
        Some(Self { corner, one: step(right), other: step(down) })
    }

    fn place(&self, u: f64, v: f64) -> (f64, f64) {
        (self.corner.0 + u * self.one.0 + v * self.other.0, self.corner.1 + u * self.one.1 + v * self.other.1)
    }
}

/// Light of the ground for each channel as a plane over the picture, from a ring around the lattice; and how much three quarters of that
/// ground differ from it at most.
fn ground(colours: &Colours<'_>, frame: &Frame, gap: f64) -> Result<([Slope; 3], f64), LatticeError> {
    let flat = colours.flat;
    let margin = MARGIN_MM * flat.px_per_mm;
    let inside = |x: f64, y: f64| {
        x >= margin && y >= margin && x < flat.picture.width() as f64 - margin && y < flat.picture.height() as f64 - margin
    };
    let (end, near, far) = ((CUTS - 1) as f64, 0.75, 3.25);
    let mut fields: Vec<(f64, f64, [f64; 3])> = Vec::new();
    let mut all = Vec::new();
    let count = ((end + 2.0 * far) * 2.0) as i32;
    for (row, column) in (0..count).flat_map(|row| (0..count).map(move |column| (row, column))) {
        let (u, v) = (0.5 * f64::from(column) - far, 0.5 * f64::from(row) - far);
        let beyond = |t: f64| t + 0.5 <= -near || t >= end + near;
        if !(beyond(u) || beyond(v)) {
            continue;
        }
        let mut channels: [Vec<f32>; 3] = Default::default();
        for (i, j) in (0..6).flat_map(|i| (0..6).map(move |j| (i, j))) {
            let (x, y) = frame.place(u + f64::from(i) / 12.0, v + f64::from(j) / 12.0);
            if inside(x, y) {
                let rgb = colours.at(x, y);
                all.push((x, y, rgb));
                for (channel, value) in channels.iter_mut().zip(rgb) {
                    channel.push(value as f32);
                }
            }
        }
        if channels.iter().all(|channel| channel.len() > 24) {
            let (x, y) = frame.place(u + 0.25, v + 0.25);
            fields.push((x, y, channels.map(|mut channel| f64::from(share_below(&mut channel, 0.5).unwrap_or(0.0)))));
        }
    }
    if fields.len() < FIELDS {
        return Err(LatticeError::Edge);
    }
    // Places are counted from the lattice in gaps, so that the sums stay small.
    let plane = |k: usize| {
        let values: Vec<(f64, f64, f64)> =
            fields.iter().filter_map(|(x, y, rgb)| Some(((x - frame.corner.0) / gap, (y - frame.corner.1) / gap, *rgb.get(k)?))).collect();
        let Slope([a, b, c]) = Slope::of(&values).ok_or(LatticeError::Edge)?;
        Ok(Slope([a - (b * frame.corner.0 + c * frame.corner.1) / gap, b / gap, c / gap]))
    };
    let ground = [plane(0)?, plane(1)?, plane(2)?];
    let mut off: Vec<f32> = all.iter().map(|&(x, y, rgb)| differs(rgb, &ground, x, y) as f32).collect();
    Ok((ground, f64::from(share_below(&mut off, 0.75).unwrap_or(0.0))))
}

/// How much a colour differs from the ground's at a place: root mean square over the channels, as shares of the ground's light.
fn differs(rgb: [f64; 3], ground: &[Slope; 3], x: f64, y: f64) -> f64 {
    let sum: f64 = rgb.into_iter().zip(ground).map(|(value, slope)| (value / slope.at(x, y).max(1e-4) - 1.0).powi(2)).sum();
    (sum / 3.0).sqrt()
}

/// A place between cuts.
struct Site {
    x: i64,
    y: i64,
    square: usize,
    differs: f64,
}

impl Piece {
    fn of(colours: &Colours<'_>, frame: &Frame, ground: &[Slope; 3], more: f64) -> Self {
        let end = (CUTS - 1) as f64;
        let corners = [frame.place(0.0, 0.0), frame.place(end, 0.0), frame.place(0.0, end), frame.place(end, end)];
        let ends = |of: fn(&(f64, f64)) -> f64| {
            let all = corners.iter().map(of);
            let (low, high) = (all.clone().fold(f64::INFINITY, f64::min), all.fold(f64::NEG_INFINITY, f64::max));
            ((low - more).floor() as i64, (high + more).ceil() as i64)
        };
        let ((left, right), (top, bottom)) = (ends(|p| p.0), ends(|p| p.1));
        let (width, height) = ((right - left + 1).max(1) as usize, (bottom - top + 1).max(1) as usize);
        let mut out = Plane::filled(width, height, 0.0);
        for j in 0..height {
            let y = (top + j as i64) as f64;
            for (x, value) in (left..).zip(out.row_mut(j)) {
                let x = x as f64;
                *value = differs(colours.at(x, y), ground, x, y) as f32;
            }
        }
        Self { differs: out, left, top }
    }

    fn at(&self, x: f64, y: f64) -> f32 {
        self.differs.between(x - self.left as f64, y - self.top as f64)
    }

    /// Places along a cut, away from its crossings, with ground on both sides.
    fn clear(&self, line: &Line, others: &[Line], gap: f64, least: f64) -> Vec<(f64, f64)> {
        let mut out = Vec::new();
        for two in others.windows(2) {
            let (Some(p), Some(q)) = (two.first().and_then(|a| line.meets(a)), two.last().and_then(|b| line.meets(b))) else { continue };
            for k in 0..24 {
                let t = 0.25 + 0.5 * f64::from(k) / 23.0;
                let (x, y) = (p.0 + (q.0 - p.0) * t, p.1 + (q.1 - p.1) * t);
                let ground = [-0.4, -0.3, 0.3, 0.4].into_iter().all(|side| {
                    let off = side * gap;
                    f64::from(self.at(x + off * line.nx, y + off * line.ny)) < least
                });
                if ground {
                    out.push((x, y));
                }
            }
        }
        out
    }

    /// Moves each cut to the middle of its darkness where ground stands on both sides: the rims of flakes had drawn it to them.
    fn settle(&self, cuts: &mut Cuts, gap: f64, least: f64) {
        let before = cuts.clone();
        for (family, others) in [(&mut cuts.one, &before.other), (&mut cuts.other, &before.one)] {
            for line in &mut family.lines {
                let clear = self.clear(line, &others.lines, gap, least);
                if clear.len() < CLEAR {
                    continue;
                }
                let (mut sum, mut weight) = (0.0, 0.0);
                let steps = (0.2 * gap / 0.5).floor() as i32;
                for step in -steps..=steps {
                    let off = 0.5 * f64::from(step);
                    for (x, y) in &clear {
                        let more = (f64::from(self.at(x + off * line.nx, y + off * line.ny)) - least).max(0.0);
                        sum += more * off;
                        weight += more;
                    }
                }
                if weight > 0.0 {
                    line.rho += sum / weight;
                }
            }
        }
    }

    /// Full width at half height of the cuts, where ground stands on both sides; where too little of it does, from the third of all places
    /// that differ least.
    fn cut(&self, cuts: &Cuts, gap: f64, least: f64) -> Option<f64> {
        let places = |least: f64| -> Vec<(Line, (f64, f64))> {
            [(&cuts.one, &cuts.other), (&cuts.other, &cuts.one)]
                .into_iter()
                .flat_map(|(family, others)| family.lines.iter().map(move |line| (line, others)))
                .flat_map(|(line, others)| self.clear(line, &others.lines, gap, least).into_iter().map(|place| (*line, place)))
                .collect()
        };
        let clear = places(least);
        let (places, share) = if clear.len() < 4 * CLEAR { (places(f64::INFINITY), 0.3) } else { (clear, 0.5) };
        let steps = (0.45 * gap / 0.5).floor() as i32;
        let mut profile: Vec<f64> = Vec::new();
        for step in -steps..=steps {
            let off = 0.5 * f64::from(step);
            let mut here: Vec<f32> = places.iter().map(|(line, (x, y))| self.at(x + off * line.nx, y + off * line.ny)).collect();
            profile.push(f64::from(share_below(&mut here, share)?));
        }
        let middle = steps as usize;
        let outer = (0.3 * gap / 0.5) as usize;
        let away = |k: usize| k.abs_diff(middle) >= outer;
        let mut rest: Vec<f32> = profile.iter().enumerate().filter(|(k, _)| away(*k)).map(|(_, v)| *v as f32).collect();
        let base = f64::from(share_below(&mut rest, 0.5)?);
        let near = profile.get(middle.saturating_sub(4)..(middle + 5).min(profile.len()))?;
        let peak = near.iter().copied().fold(0.0, f64::max);
        if peak - base < 0.06 {
            return None;
        }
        let half = f64::midpoint(peak, base);
        let reach = |step: i64| {
            (0..middle as i64).map(|k| middle as i64 + step * k).find_map(|k| {
                let (inner, outer) = (*profile.get(usize::try_from(k).ok()?)?, *profile.get(usize::try_from(k + step).ok()?)?);
                (inner >= half && outer < half).then(|| (k - middle as i64).abs() as f64 + (inner - half) / (inner - outer).max(1e-9))
            })
        };
        Some(0.5 * (reach(1)? + reach(-1)?))
    }

    /// Places of the squares up to the rims of the cuts; what lies nearer to a cut than the blur lets see is taken for what lies beside it.
    fn sites(&self, cuts: &Cuts, half: f64, blurred: f64) -> Vec<Site> {
        let side = CUTS - 1;
        // Which gap, and how far to step aside.
        let between = |lines: &[Line], x: f64, y: f64| {
            lines.windows(2).take(side).enumerate().find_map(|(at, two)| match two {
                [a, b] => {
                    let (past, before) = (a.beyond(x, y), -b.beyond(x, y));
                    let (on, back) = ((half + blurred - past).max(0.0), (half + blurred - before).max(0.0));
                    (past > half && before > half).then_some((at, on * a.nx - back * b.nx, on * a.ny - back * b.ny))
                }
                _ => None,
            })
        };
        let mut out = Vec::new();
        for j in 0..self.differs.height() {
            let y = (self.top + j as i64) as f64;
            for (i, &value) in self.differs.row(j).iter().enumerate() {
                let x = (self.left + i as i64) as f64;
                if let Some((column, dx, dy)) = between(&cuts.one.lines, x, y)
                    && let Some((row, ex, ey)) = between(&cuts.other.lines, x, y)
                {
                    let (dx, dy) = (dx + ex, dy + ey);
                    let value = if dx.abs() + dy.abs() > 0.0 { self.at(x + dx, y + dy) } else { value };
                    out.push(Site { x: i as i64, y: j as i64, square: row * side + column, differs: f64::from(value) });
                }
            }
        }
        out
    }

    /// What differs by more than a level, specks left out.
    fn away(&self, sites: &[Site], level: f64) -> Away {
        let (width, height) = (self.differs.width(), self.differs.height());
        let mut mask = Mask::empty(width, height);
        for site in sites.iter().filter(|site| site.differs > level) {
            mask.put(site.x, site.y, true);
        }
        for group in mask.groups(true).into_iter().filter(|group| group.len() < SPECK) {
            for (x, y) in group {
                mask.put(i64::from(x), i64::from(y), false);
            }
        }
        let mut squares = [(0.0_f64, 0.0_f64); (CUTS - 1) * (CUTS - 1)];
        for site in sites {
            if let Some((all, gone)) = squares.get_mut(site.square) {
                *all += 1.0;
                *gone += f64::from(u8::from(mask.has(site.x, site.y)));
            }
        }
        let share = |(all, gone): (f64, f64)| if all > 0.0 { gone / all } else { 0.0 };
        Away { squares: squares.into_iter().map(share).collect(), mask }
    }
}
