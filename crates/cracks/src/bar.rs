//! A crack as a bar of one darkness, blurred: which width and which darkness fit the light across it best.

use nalgebra::{SMatrix, SVector};
use rayon::prelude::*;

use crate::across::{Across, Stretch};
use crate::bell::{bell, share_under};
use crate::plane::share_below;

/// Places across at which light is gathered, on each side of the middle and in all.
pub(crate) const HALF: usize = 14;
pub(crate) const BINS: usize = 2 * HALF + 1;
/// Windows, each twice as wide as the one before.
const LEVELS: u32 = 4;
/// Widths that are tried, each so many times the one before; the least in blurs.
const FINER: f64 = 1.05;
const LEAST_WIDTH: f64 = 0.1;
/// Ground profiles that stand in for a covariance before any is seen (model choice: as many as there are places).
const BELIEF: f64 = BINS as f64;

/// Light across a stretch of a crack.
#[derive(Debug, Clone)]
pub(crate) struct Profile {
    /// Which window it was read through.
    pub(crate) level: usize,
    /// Columns in it.
    pub(crate) columns: f64,
    pub(crate) light: [f64; BINS],
}

type Square = SMatrix<f64, BINS, BINS>;
type Row = SVector<f64, BINS>;

/// Bars of all widths under one blur through one window.
pub(crate) struct Bank {
    pub(crate) level: usize,
    /// Deviation of the blur, px.
    pub(crate) blur: f64,
    /// Distance between places, px.
    pub(crate) bin: f64,
    bars: Vec<Bar>,
    /// Their sizes.
    sizes: Vec<f32>,
    /// Makes the ground's own texture alike and independent in all places.
    white: Square,
    /// A straight ground.
    straight: SMatrix<f64, BINS, 2>,
    /// Its light at the middle, from its two parts.
    middle: [f64; 2],
}

/// A black bar as it stands out of a straight ground.
struct Bar {
    /// Pixels.
    width: f64,
    /// Of length 1.
    shape: Row,
    /// Its length before.
    size: f64,
    /// How much of it a straight ground takes up at the middle.
    lifts: f64,
    /// What a small move across adds, of length 1.
    moved: Row,
}

/// How one profile fits each bar when its darkness is free.
struct Fits {
    level: usize,
    columns: f64,
    /// Amount of each bar.
    amounts: Vec<f32>,
    /// Square that each leaves.
    left: Vec<f32>,
    /// Light at the middle of the straight line that fits best.
    line: f32,
    /// Least that any bar leaves.
    least: f32,
}

impl Bank {
    /// One for each window, all places counting alike.
    pub(crate) fn all(blur: f64) -> Vec<Self> {
        (0..LEVELS).map(|level| Self::of(blur, blur, level, &Square::identity())).collect()
    }

    /// Windows are laid out for the usual blur, bars are under the other.
    fn of(usual: f64, blur: f64, level: u32, white: &Square) -> Self {
        // Half a pixel on the finest level: pixels along a crack lie everywhere between.
        let bin = 0.5 * usual.max(1.0) * f64::from(1_u32 << level);
        let place = |k: usize| (k as f64 - HALF as f64) * bin;
        // Gathering into places blurs by a box.
        let under = blur.hypot(bin / 12.0_f64.sqrt());
        let qr = (white * lines()).qr();
        let (straight, triangle) = (qr.q(), qr.r());
        let inverse = triangle.try_inverse().unwrap_or_default();
        let middle = [inverse.m11, inverse.m12];
        let out = |row: Row| {
            let part = straight.tr_mul(&row);
            (row - straight * part, middle[0] * part.x + middle[1] * part.y)
        };
        let widest = 1.5 * HALF as f64 * bin;
        let count = ((widest / (LEAST_WIDTH * usual)).ln() / FINER.ln()).ceil() as usize;
        let bars: Vec<Bar> = (0..count.next_multiple_of(LANES))
            .map(|k| {
                let width = LEAST_WIDTH * usual * FINER.powi(k as i32);
                let (shape, lifts) = out(white * Row::from_fn(|k, _| blurred(place(k), width, under)));
                let size = shape.norm().max(1e-12);
                let flank = |u: f64| bell((u + width / 2.0) / under) - bell((u - width / 2.0) / under);
                let (moved, _) = out(white * Row::from_fn(|k, _| flank(place(k))));
                Bar { width, shape: shape / size, size, lifts, moved: moved / moved.norm().max(1e-12) }
            })
            .collect();
        let sizes = bars.iter().map(|bar| bar.size as f32).collect();
        Self { level: level as usize, blur, bin, bars, sizes, white: *white, straight, middle }
    }

    /// Half of the window, px.
    pub(crate) fn window(&self) -> f64 {
        HALF as f64 * self.bin
    }

    /// Whether the bar that fits best leaves ground enough on both sides.
    pub(crate) fn wide_enough(&self, profile: &Profile) -> bool {
        let fits = self.fits(profile);
        let dark: Vec<f32> =
            fits.amounts.iter().zip(&fits.left).map(|(amount, left)| if *amount > 0.0 { *left } else { f32::INFINITY }).collect();
        self.bars.get(least(&dark)).is_none_or(|bar| bar.width <= self.window())
    }

    fn fits(&self, profile: &Profile) -> Fits {
        let light = self.white * Row::from_column_slice(&profile.light);
        let part = self.straight.tr_mul(&light);
        let dark = self.straight * part - light;
        let whole = dark.norm_squared();
        let fit = |bar: &Bar| {
            let (on, aside) = (bar.shape.dot(&dark), bar.moved.dot(&dark));
            ((on / bar.size) as f32, (whole - on * on - aside * aside).max(0.0) as f32)
        };
        let (amounts, left): (Vec<f32>, Vec<f32>) = self.bars.iter().map(fit).unzip();
        let line = (self.middle[0] * part.x + self.middle[1] * part.y) as f32;
        let least = left.iter().copied().fold(f32::INFINITY, f32::min);
        Fits { level: profile.level, columns: profile.columns, amounts, left, line, least }
    }

    /// For each bar, the amount of it that a crack so dark has on a straight line of light 1: the line through light and crack lies lower than the
    /// ground by what it takes up of the bar.
    fn amounts(&self, darkness: f64) -> Vec<f32> {
        self.bars.iter().map(|bar| (darkness / (1.0 - darkness * bar.lifts).max(0.05)) as f32).collect()
    }

    /// Least that any bar leaves of a profile when its amount is given, several at a time.
    fn left(&self, fits: &Fits, amounts: &[f32]) -> f32 {
        let mut least = [f32::INFINITY; LANES];
        let (given, sizes) = (amounts.as_chunks::<LANES>().0, self.sizes.as_chunks::<LANES>().0);
        let (free, left) = (fits.amounts.as_chunks::<LANES>().0, fits.left.as_chunks::<LANES>().0);
        for ((given, size), (free, left)) in given.iter().zip(sizes).zip(free.iter().zip(left)) {
            for ((least, (given, size)), (free, left)) in least.iter_mut().zip(given.iter().zip(size)).zip(free.iter().zip(left)) {
                let miss = size * (given * fits.line - free);
                let left = left + miss * miss;
                *least = if left < *least { left } else { *least };
            }
        }
        least.into_iter().fold(f32::INFINITY, f32::min)
    }

    /// Width in px of the bar that leaves least when its amount is given.
    fn width(&self, fits: &Fits, amounts: &[f32]) -> f64 {
        let all = fits.amounts.iter().zip(&fits.left).zip(amounts.iter().zip(&self.sizes));
        let left: Vec<f32> = all.map(|((free, left), (given, size))| left + (size * (given * fits.line - free)).powi(2)).collect();
        let best = least(&left);
        self.bars.get(best).map_or(0.0, |bar| bar.width) * FINER.powf(bottom(&left, best))
    }
}

/// Bars that are held against a profile in one go.
const LANES: usize = 8;

/// Which value is least.
fn least(values: &[f32]) -> usize {
    let pairs = values.iter().enumerate();
    pairs.fold((0, f32::INFINITY), |best, (k, &value)| if value < best.1 { (k, value) } else { best }).0
}

/// Where between its neighbours a least value truly lies, from -1 to 1: the bottom of the parabola through the three.
fn bottom(values: &[f32], best: usize) -> f64 {
    let Some(&[a, b, c]) = best.checked_sub(1).and_then(|from| values.get(from..from + 3)).and_then(<[f32]>::first_chunk::<3>) else {
        return 0.0;
    };
    let bend = f64::from(a - 2.0 * b + c);
    if bend > 0.0 { (0.5 * f64::from(a - c) / bend).clamp(-1.0, 1.0) } else { 0.0 }
}

/// A ground of light 1 and one that slants.
fn lines() -> SMatrix<f64, BINS, 2> {
    SMatrix::from_fn(|k, column| if column == 0 { 1.0 } else { k as f64 - HALF as f64 })
}

/// Darkness at `u` from the middle of a black bar under a blur.
fn blurred(u: f64, width: f64, blur: f64) -> f64 {
    share_under((u + width / 2.0) / blur) - share_under((u - width / 2.0) / blur)
}

/// How dark the inside of a crack is, and whether that was seen or had to be worked out from the blur.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Darkness {
    /// 1 is black on white.
    pub(crate) depth: f64,
    /// Least and most.
    pub(crate) range: (f64, f64),
    /// Whether cracks are wide enough for it to be seen.
    pub(crate) seen: bool,
}

/// All stretches of a board held against all bars.
pub(crate) struct Bars {
    banks: Vec<Bank>,
    fits: Vec<Fits>,
    lengths_mm: Vec<f64>,
    darkness: Option<Darkness>,
}

/// Darknesses that are tried: from the least on, each so many times the one before, up to black.
const LEAST_DARK: f64 = 0.05;
const DARKER: f64 = 1.02;
/// Coarse steps first, with one stretch of so many.
const STRIDE: usize = 8;
const COARSE: usize = 4;
/// Columns below which no darkness is told.
const LEAST_COLUMNS: f64 = 30.0;
/// Groups that are left out in turn to see how sure the darkness is (jackknife; Efron 1982, from memory).
const GROUPS: usize = 10;
/// How far the blur inside of a crack may be from the one measured on the board's edge, as a share, and from the usual one when there was
/// no edge (judgement, no source).
const BLUR_DOUBT: f64 = 0.03;
const USUAL_BLUR_DOUBT: f64 = 0.3;

impl Bars {
    /// The darkness that all cracks of the board share and the width of each stretch, by likelihood: texture is as on the ground beside, and a
    /// stretch that fits no bar of that darkness counts less the worse it fits. Wide cracks show the darkness by how deep they are, narrow
    /// ones by how wide the blur of the edge leaves them; both come in with the weight that they have.
    pub(crate) fn of(across: &Across, blur: f64, blur_seen: bool) -> Self {
        let levels = across.cracks.iter().map(|stretch| stretch.profile.level + 1).max().unwrap_or(0);
        let whites = whites(&across.ground, levels);
        // Every other stretch tells enough of what another blur would do.
        let at = |share: f64, every: usize| -> (Vec<Bank>, Vec<Fits>) {
            let banks: Vec<Bank> = (0..LEVELS).zip(&whites).map(|(level, white)| Bank::of(blur, blur * share, level, white)).collect();
            let some: Vec<&Stretch> = across.cracks.iter().step_by(every).collect();
            let fits = some.par_iter().filter_map(|stretch| Some(banks.get(stretch.profile.level)?.fits(&stretch.profile))).collect();
            (banks, fits)
        };
        let (banks, fits) = at(1.0, 1);
        let enough = fits.iter().map(|fits| fits.columns).sum::<f64>() >= LEAST_COLUMNS;
        let told = if enough { shared(&banks, &fits) } else { None };
        let lengths_mm = across.cracks.iter().map(|stretch| stretch.length_mm).collect();
        let darkness = told.map(|(depth, sure)| {
            let doubt = if blur_seen { BLUR_DOUBT } else { USUAL_BLUR_DOUBT };
            let others = [1.0 - doubt, 1.0 + doubt].map(|share| {
                let (banks, fits) = at(share, 2);
                shared(&banks, &fits).map_or(depth, |told| told.0)
            });
            let low = others.iter().copied().fold(depth, f64::min) * (-2.0 * sure).exp();
            let high = others.iter().copied().fold(depth, f64::max) * (2.0 * sure).exp();
            Darkness { depth, range: (low, high.min(1.0)), seen: true }
        });
        let mut bars = Self { banks, fits, lengths_mm, darkness };
        if let Some(dark) = darkness {
            let middle = median(&bars.widths_px(dark.depth));
            bars.darkness = Some(Darkness { seen: middle >= 2.0 * blur, ..dark });
        }
        bars
    }

    /// `None` where there is too little to tell it by.
    pub(crate) const fn darkness(&self) -> Option<Darkness> {
        self.darkness
    }

    /// Width in pixels and length in mm of each stretch, if the inside is so dark.
    pub(crate) fn widths_px(&self, darkness: f64) -> Vec<(f64, f64)> {
        let amounts: Vec<Vec<f32>> = self.banks.iter().map(|bank| bank.amounts(darkness)).collect();
        let width = |fits: &Fits| match (self.banks.get(fits.level), amounts.get(fits.level)) {
            (Some(bank), Some(amounts)) => bank.width(fits, amounts),
            _ => 0.0,
        };
        self.fits.par_iter().map(width).collect::<Vec<_>>().into_iter().zip(self.lengths_mm.iter().copied()).collect()
    }
}

/// The width that half of the length stays below.
fn median(widths: &[(f64, f64)]) -> f64 {
    let mut widths = widths.to_vec();
    widths.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut left = widths.iter().map(|width| width.1).sum::<f64>() / 2.0;
    let half = widths.iter().find(|width| {
        left -= width.1;
        left <= 0.0
    });
    half.map_or(0.0, |width| width.0)
}

/// For each window, what makes the texture beside the cracks alike and independent in all places.
fn whites(ground: &[Profile], levels: usize) -> Vec<Square> {
    let straight = lines().qr().q();
    let texture = |profile: &Profile| {
        let light = Row::from_column_slice(&profile.light);
        (light - straight * straight.tr_mul(&light)) / light.mean().max(1e-3)
    };
    let of_level = |level: usize| ground.iter().filter(move |profile| profile.level == level).map(texture).collect::<Vec<Row>>();
    let rows: Vec<Vec<Row>> = (0..levels).map(of_level).collect();
    let count = rows.iter().map(Vec::len).sum::<usize>() as f64;
    let usual = rows.iter().flatten().map(Row::norm_squared).sum::<f64>() / (BINS as f64 * count.max(1.0));
    let usual = if usual > 0.0 { usual } else { 1.0 };
    rows.iter()
        .map(|rows| {
            let mut sum = Square::identity() * (usual * BELIEF);
            for row in rows {
                sum.syger(1.0, row, row, 1.0);
            }
            // A texture has no left and right, and a square of this kind is the same both ways over its middle line.
            let half = |i: usize, j: usize| sum.get((i.max(j), i.min(j))).copied().unwrap_or(0.0);
            let both = |i: usize, j: usize| f64::midpoint(half(i, j), half(BINS - 1 - i, BINS - 1 - j));
            let covariance = Square::from_fn(both) / (rows.len() as f64 + BELIEF);
            let lower = covariance.cholesky().map(|cholesky| cholesky.l());
            lower.and_then(|lower| lower.solve_lower_triangular(&Square::identity())).unwrap_or_else(Square::identity)
        })
        .collect()
}

/// The darkness that fits all stretches best, and the deviation of its logarithm.
fn shared(banks: &[Bank], fits: &[Fits]) -> Option<(f64, f64)> {
    let mut usual: Vec<f32> = fits.iter().map(|fits| fits.least * fits.columns as f32).collect();
    let usual = share_below(&mut usual, 0.5)?.max(1e-12);
    let steps = (-LEAST_DARK.ln() / DARKER.ln()).floor() as usize;
    let excess = |step: usize, every: usize| -> Vec<f32> {
        let darkness = LEAST_DARK * DARKER.powi(step as i32);
        let amounts: Vec<Vec<f32>> = banks.iter().map(|bank| bank.amounts(darkness)).collect();
        let of = |fits: &Fits| match (banks.get(fits.level), amounts.get(fits.level)) {
            (Some(bank), Some(amounts)) => ((bank.left(fits, amounts) - fits.least).max(0.0) * fits.columns as f32 / usual).ln_1p(),
            _ => 0.0,
        };
        fits.par_iter().step_by(every).map(of).collect()
    };
    let coarse: Vec<f32> = (0..=steps).step_by(STRIDE).map(|step| excess(step, COARSE).iter().sum()).collect();
    let best = least(&coarse) * STRIDE;
    let first = best.saturating_sub(STRIDE);
    let near: Vec<Vec<f32>> = (first..=(best + STRIDE).min(steps)).map(|step| excess(step, 1)).collect();
    let without = |group: Option<usize>| {
        let but = |all: &[f32]| {
            let kept = all.iter().enumerate().filter(|(k, _)| group != Some(k * GROUPS / all.len().max(1)));
            kept.map(|(_, excess)| f64::from(*excess)).sum::<f64>() as f32
        };
        let sums: Vec<f32> = near.iter().map(|all| but(all)).collect();
        let best = least(&sums);
        (first + best) as f64 + bottom(&sums, best)
    };
    let groups: Vec<f64> = (0..GROUPS).map(|group| without(Some(group))).collect();
    let mean = groups.iter().sum::<f64>() / GROUPS as f64;
    let spread = groups.iter().map(|step| (step - mean).powi(2)).sum::<f64>() * (GROUPS as f64 - 1.0) / GROUPS as f64;
    let depth = (LEAST_DARK * DARKER.powf(without(None))).min(1.0);
    Some((depth, spread.sqrt() * DARKER.ln()))
}

#[cfg(test)]
mod tests {
    use super::{BINS, Bars, HALF, Profile, blurred};
    use crate::across::{Across, Stretch};

    // 2 Phi(w / 2t) - 1, worked out with scipy 1.17.1 norm.cdf.
    #[test]
    fn depth_of_a_blurred_bar() {
        for (w, known) in
            [(0.5, 0.1974), (1.0, 0.3829), (1.5, 0.5467), (2.0, 0.6827), (2.5, 0.7887), (3.0, 0.8664), (4.0, 0.9545), (6.0, 0.9973)]
        {
            assert!((blurred(0.0, w, 1.0) - known).abs() < 1e-4, "{w}");
        }
    }

    /// Light across a bar that a bell blurs, added up in small steps: no formula of the bar is used. The ground is 0.9 and slants; a texture
    /// of a thousandth follows from the number.
    fn seen(number: usize, width: f64, darkness: f64, blur: f64) -> Stretch {
        let bin = 0.5 * f64::max(blur, 1.0);
        let bell = |x: f64| (-0.5 * x * x / (blur * blur)).exp() / (blur * std::f64::consts::TAU.sqrt());
        let steps = (width * 50.0).ceil();
        let at =
            |u: f64| (0..steps as usize).map(|k| bell(u - (k as f64 + 0.5) / steps * width + width / 2.0) * width / steps).sum::<f64>();
        let mut light = [0.0; BINS];
        for (k, light) in light.iter_mut().enumerate() {
            let u = (k as f64 - HALF as f64) * bin;
            let bar = (0..8).map(|part| at(u + bin * ((f64::from(part) + 0.5) / 8.0 - 0.5))).sum::<f64>() / 8.0;
            let texture = 0.001 * ((number * 31 + k * 17) as f64).sin();
            *light = 0.9 * (1.0 - darkness * bar) + 0.003 * u + texture;
        }
        Stretch { length_mm: 2.0, profile: Profile { level: 0, columns: 48.0, light } }
    }

    fn board(widths: &[f64], darkness: f64, blur: f64) -> Across {
        let cracks = (0..40).zip(widths.iter().cycle()).map(|(k, &width)| seen(k, width, darkness, blur)).collect();
        Across { cracks, ground: Vec::new() }
    }

    #[test]
    fn darkness_and_widths_of_unlike_cracks() {
        let widths = [1.2, 2.0, 3.1, 5.5, 8.0];
        let bars = Bars::of(&board(&widths, 0.6, 1.2), 1.2, true);
        let dark = bars.darkness().expect("forty stretches");
        assert!((dark.depth - 0.6).abs() < 0.006 && dark.range.0 < 0.6 && dark.range.1 > 0.6 && dark.seen, "{dark:?}");
        for ((found, length), width) in bars.widths_px(dark.depth).into_iter().zip(widths.iter().cycle()) {
            assert!((found / width - 1.0).abs() < 0.02 && length > 1.0, "{found} of {width}");
        }
    }

    // Where all cracks are of one width of twice the blur, only the shape tells darkness from width.
    #[test]
    fn darkness_of_cracks_of_one_width() {
        let bars = Bars::of(&board(&[2.1], 0.41, 1.0), 1.0, true);
        let dark = bars.darkness().expect("forty stretches");
        assert!((dark.depth / 0.41 - 1.0).abs() < 0.03 && dark.seen, "{dark:?}");
    }

    // Of cracks as narrow as the blur little more is seen than how much light they take: a blur that is two hundredths off must not lead past
    // the ends of what is told.
    #[test]
    fn narrow_cracks_are_told_with_all_their_doubt() {
        let across = board(&[1.0], 0.41, 1.0);
        for blur in [0.98, 1.0, 1.02] {
            let dark = Bars::of(&across, blur, true).darkness().expect("forty stretches");
            assert!(dark.range.0 <= 0.41 && dark.range.1 >= 0.41 && !dark.seen, "{blur}: {dark:?}");
            assert!(dark.range.1 / dark.range.0 > 1.3, "{blur}: {dark:?}");
        }
    }

    #[test]
    fn too_little_tells_no_darkness() {
        let mut across = board(&[3.0], 0.6, 1.0);
        across.cracks.truncate(1);
        if let Some(stretch) = across.cracks.first_mut() {
            stretch.profile.columns = 20.0;
        }
        assert_eq!(Bars::of(&across, 1.0, true).darkness(), None);
        assert_eq!(Bars::of(&Across { cracks: Vec::new(), ground: Vec::new() }, 1.0, true).widths_px(0.7), []);
    }
}
