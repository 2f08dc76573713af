//! How many times more than the picture's own texture each place is a dark line, or a bright one.
//!
//! Brush marks and grain are as often lighter as darker than the ground around them; cracks are only darker. So the light side of the same
//! filter shows what this picture's texture does by itself. That is asked for each direction, since grain and brush marks run one way: a
//! faint crack across them has little to compete with.
#![expect(clippy::inline_always, reason = "only what is taken into a caller uses the widest instructions that this machine has")]

use fearless_simd::prelude::*;
use fearless_simd::{Level, f32x16, i32x16};
use rayon::prelude::*;

use crate::layer::{Layer, Raw, most_around};
use crate::lines::MARGIN_MM;
use crate::mask::Mask;
use crate::plane::Plane;
use crate::ridge::{DIRECTIONS, LANES};
use crate::rooms::Rooms;
use crate::texture::{FEW, LEAST_RESPONSE, Texture, texture_of};

/// Sizes of the picture that the filter runs on, each half of the one before: for narrow, middling and wide lines.
pub(crate) const LEVELS: usize = 5;
/// Scale of the filter in pixels of each size.
pub(crate) const SIGMA: f64 = 0.9;
/// Steps of a stored strength: 1 is the texture's own strongest thousandth.
pub(crate) const STEPS: f32 = 24.0;
/// Smallest side of a picture that is still looked at.
const LEAST_SIDE: usize = 48;

/// Strengths of all places, in [`STEPS`].
pub(crate) struct Strength {
    pub(crate) dark: Vec<u8>,
    pub(crate) bright: Vec<u8>,
    /// The dark side again, held down further beside stronger lines: by this branches are judged.
    pub(crate) alone: Vec<u8>,
    /// Squares of [`SQUARE`] pixels near strong dark lines: the light beside a dark line is no texture.
    pub(crate) crowded: Mask,
    /// Strongest thousandth of the light side, per size of the picture and direction.
    pub(crate) texture: [Texture; LEVELS],
}

/// One size's strengths, held down beside stronger lines.
#[derive(Default)]
struct Hushed {
    width: usize,
    dark: Vec<u8>,
    bright: Vec<u8>,
    alone: Vec<u8>,
}

impl Strength {
    pub(crate) fn of(picture: &Plane, px_per_mm: f64) -> Self {
        let margin = (MARGIN_MM * px_per_mm).round() as usize;
        let mut texture = [[LEAST_RESPONSE; DIRECTIONS]; LEVELS];
        let mut crowded = Mask::empty(picture.width().div_ceil(SQUARE), picture.height().div_ceil(SQUARE));
        let (pieces, tiles) = (Rooms::default(), Rooms::default());
        let (mut smaller, mut finer): (Option<Plane>, Option<Raw>) = (None, None);
        let mut sizes: Vec<Hushed> = Vec::with_capacity(LEVELS);
        for (level, texture) in texture.iter_mut().enumerate() {
            let picture_here = smaller.as_ref().unwrap_or(picture);
            if picture_here.width().min(picture_here.height()) < LEAST_SIDE {
                break;
            }
            *texture = texture_of(picture_here, margin >> level, level, &pieces);
            let here = Layer::of(picture_here, texture, finer.as_ref(), &tiles);
            let (hushed, raw) = hushed(here);
            crowd(&hushed, level, &mut crowded);
            sizes.push(hushed);
            finer = Some(raw);
            smaller = Some(picture_here.halved());
        }
        // From the smallest on, each lends what it found to the next larger.
        let mut sizes = sizes.into_iter().rev();
        let mut all = sizes.next().unwrap_or_default();
        for mut large in sizes {
            let (to, from) = (large.width, all.width);
            spread(&mut large.dark, to, &all.dark, from);
            spread(&mut large.bright, to, &all.bright, from);
            spread(&mut large.alone, to, &all.alone, from);
            all = large;
        }
        let Hushed { dark, bright, alone, .. } = all;
        Self { dark, bright, alone, crowded, texture }
    }
}

/// Takes the stronger of what is there and what the picture of half the size found.
fn spread(fine: &mut [u8], width: usize, coarse: &[u8], coarse_width: usize) {
    fine.par_chunks_mut(width.max(1)).enumerate().for_each(|(y, row)| {
        let from = coarse.get(y / 2 * coarse_width..).unwrap_or_default();
        let (twos, last) = row.as_chunks_mut::<2>();
        let rest = from.get(twos.len()..).unwrap_or_default();
        for ([a, b], &value) in twos.iter_mut().zip(from) {
            (*a, *b) = (value.max(*a), value.max(*b));
        }
        for (out, &value) in last.iter_mut().zip(rest) {
            *out = value.max(*out);
        }
    });
}

/// Beside a strong line the photo's own packing leaves weak ones that run with it: a place counts only from a share of the strongest
/// near it. The dark side is also given with a larger share, which a line that only begins beside a strong one hardly feels.
fn hushed(layer: Layer) -> (Hushed, Raw) {
    let Layer { width, mut dark, mut bright, raw, own } = layer;
    let most = most_near(&raw.dark);
    let mut alone = vec![0; dark.len()];
    let two = (2 * width).max(1);
    let rows = dark.par_chunks_mut(two).zip(bright.par_chunks_mut(two)).zip(alone.par_chunks_mut(two));
    let instructions = Level::new();
    rows.enumerate().for_each_init(
        || vec![0_u8; width.next_multiple_of(2 * LANES)],
        |limits, (half, ((dark, bright), alone))| {
            let most = most.row(half / BLOCK);
            let mut limited = |raw: &[f32], share: f32, rows: &mut [u8]| {
                fearless_simd::dispatch!(instructions, simd => limit(simd, limits, raw, most, share));
                for row in rows.chunks_mut(width.max(1)) {
                    for (out, &limit) in row.iter_mut().zip(&*limits) {
                        *out = limit.min(*out);
                    }
                }
            };
            alone.copy_from_slice(dark);
            limited(own.dark.row(half), ALONE, alone);
            limited(own.dark.row(half), BESIDE, dark);
            limited(own.bright.row(half), BESIDE, bright);
        },
    );
    (Hushed { width, dark, bright, alone }, raw)
}

/// What each place may be at most, in [`STEPS`], where this share of the strongest near by counts in full; halved places count twice.
#[inline(always)]
fn limit<S: Simd>(simd: S, limits: &mut [u8], raw: &[f32], most: &[f32], share: f32) {
    let outs = limits.as_chunks_mut::<2>().0.as_chunks_mut::<LANES>().0;
    for ((out, raw), most) in outs.iter_mut().zip(raw.chunks(LANES)).zip(most.chunks(LANES / BLOCK)) {
        let [mut here, mut near] = [[0.0; LANES]; 2];
        for (to, from) in here.iter_mut().zip(raw) {
            *to = *from;
        }
        for (to, from) in near.chunks_mut(BLOCK).zip(most) {
            to.fill(*from);
        }
        let full = (f32x16::simd_from(simd, near) * share).max(1e-6);
        let steps: [i32; LANES] = (f32x16::simd_from(simd, here) / full * STEPS).min(255.0).to_int::<i32x16<S>>().into();
        for (two, steps) in out.iter_mut().zip(steps) {
            *two = [steps as u8; 2];
        }
    }
}

/// Marks the squares near strong dark lines.
fn crowd(size: &Hushed, level: usize, crowded: &mut Mask) {
    let width = size.width.max(1);
    let height = size.dark.len() / width;
    // The light beside reaches as far as the filter does, which grows with the size that it stands for.
    let side = (SQUARE >> level).max(4);
    // Doubt of a wide texture is for judging lines. Kept up here too, it would leave the rims of wide cracks in the light side, and a net of
    // cracks would be judged by the net of its own rims. Where squares are coarser than the mask they take real texture along with the
    // rims: there only what is strong beyond doubt marks them.
    let doubt = if level == 0 || side << level > SQUARE { 1.0 } else { FEW };
    let strong = (STRONG / doubt * STEPS) as u8;
    let any = |run: &[u8]| run.iter().fold(0, |most: u8, &value| most.max(value)) > strong;
    let rows: Vec<Vec<bool>> = size
        .dark
        .par_chunks(width * side)
        .map(|rows| {
            let mut squares = vec![false; width.div_ceil(side)];
            for row in rows.chunks(width) {
                for (square, run) in squares.iter_mut().zip(row.chunks(side)) {
                    *square |= any(run);
                }
            }
            squares
        })
        .collect();
    let Some(squares) = Mask::from_rows(width.div_ceil(side), height.div_ceil(side), rows.concat()) else { return };
    let squares = squares.grown(1);
    let size = ((side << level) / SQUARE) as i64;
    for y in 0..crowded.height() as i64 {
        for x in 0..crowded.width() as i64 {
            if squares.has(x / size, y / size) {
                crowded.put(x, y, true);
            }
        }
    }
}

/// Side of the squares, in pixels, in which the light side is left out when a strong line runs through them or through a neighbour.
pub(crate) const SQUARE: usize = 16;
/// Multiple of the texture, as measured, from which a dark place is taken for a crack there.
const STRONG: f32 = 2.0;
/// Share of the strongest response near by from which a line beside it counts (model choice).
const BESIDE: f32 = 0.15;
/// The same share for a branch on the whole: less is a ring that the packing leaves along a crack (model choice).
const ALONE: f32 = 0.35;
/// Side of the squares for the strongest near by, in halved pixels: a block of eight pixels, as JPEG packs them.
const BLOCK: usize = 4;

/// The strongest in each block and its neighbours.
fn most_near(raw: &Plane) -> Plane {
    let (width, height) = (raw.width().div_ceil(BLOCK), raw.height().div_ceil(BLOCK));
    let mut most = Plane::filled(width, height, 0.0);
    most.values_mut().par_chunks_mut(width.max(1)).enumerate().for_each(|(y, out)| {
        for row in BLOCK * y..(BLOCK * (y + 1)).min(raw.height()) {
            for (most, run) in out.iter_mut().zip(raw.row(row).chunks(BLOCK)) {
                *most = run.iter().fold(*most, |most, &value| most.max(value));
            }
        }
    });
    most_around(&most)
}
