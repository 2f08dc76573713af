//! How many times more than the picture's own texture each place is a dark line, or a bright one.
//!
//! Brush marks and grain are as often lighter as darker than the ground around them; cracks are only darker. So the light side of the same
//! filter shows what this picture's texture does by itself. That is asked for each direction, since grain and brush marks run one way: a
//! faint crack across them has little to compete with.

use rayon::prelude::*;

use crate::lines::MARGIN_MM;
use crate::mask::Mask;
use crate::plane::{Plane, share_below};
use crate::ridge::{DIRECTIONS, HALO, along_lines, hessian};

/// Sizes of the picture that the filter runs on, each half of the one before: for narrow, middling and wide lines.
pub(crate) const LEVELS: usize = 5;
/// Scale of the filter in pixels of each size.
pub(crate) const SIGMA: f64 = 0.9;
/// Response below which nothing is a line: one step of eight bits near white is 0.009 of linear light (worked out), and averages go below it.
const LEAST_RESPONSE: f32 = 0.004;
/// Share of the light side that counts as the strongest of the texture.
const STRONGEST: f64 = 0.999;
/// Steps of a stored strength: 1 is the texture's own strongest thousandth.
pub(crate) const STEPS: f32 = 24.0;
/// Smallest side of a picture that is still looked at.
const LEAST_SIDE: usize = 48;

/// Strongest of the texture for each direction, at one size of the picture.
type Texture = [f32; DIRECTIONS];

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

impl Strength {
    pub(crate) fn of(picture: &Plane, px_per_mm: f64) -> Self {
        let margin = (MARGIN_MM * px_per_mm).round() as usize;
        let mut textures = [[LEAST_RESPONSE; DIRECTIONS]; LEVELS];
        let crowded = Mask::empty(picture.width().div_ceil(SQUARE), picture.height().div_ceil(SQUARE));
        let mut out = Self { dark: Vec::new(), bright: Vec::new(), alone: Vec::new(), crowded, texture: textures };
        let (mut smaller, mut finer): (Option<Plane>, Option<Raw>) = (None, None);
        for (level, texture) in textures.iter_mut().enumerate() {
            let picture_here = smaller.as_ref().unwrap_or(picture);
            if picture_here.width().min(picture_here.height()) < LEAST_SIDE {
                break;
            }
            *texture = texture_of(picture_here, margin >> level, level);
            let mut here = Layer::of(picture_here, texture, finer.as_ref());
            let alone = here.hush(picture_here.width());
            here.crowd(picture_here.width(), level, &mut out.crowded);
            if level == 0 {
                (out.dark, out.bright, out.alone) = (here.dark, here.bright, alone);
            } else {
                spread(&mut out.dark, picture.width(), &here.dark, picture_here.width(), level);
                spread(&mut out.alone, picture.width(), &alone, picture_here.width(), level);
                spread(&mut out.bright, picture.width(), &here.bright, picture_here.width(), level);
            }
            finer = Some(here.raw);
            smaller = Some(picture_here.halved());
        }
        out.texture = textures;
        out
    }
}

/// Takes the stronger of what is there and what a smaller picture found.
fn spread(fine: &mut [u8], width: usize, coarse: &[u8], coarse_width: usize, level: usize) {
    fine.par_chunks_mut(width.max(1)).enumerate().for_each(|(y, row)| {
        let from = coarse.get((y >> level) * coarse_width..).unwrap_or_default();
        for (run, &value) in row.chunks_mut(1 << level).zip(from) {
            if value > 0 {
                for out in run {
                    *out = value.max(*out);
                }
            }
        }
    });
}

/// Responses without their measure, dark and bright, at half the size that they were found at.
struct Raw {
    dark: Plane,
    bright: Plane,
}

impl Raw {
    fn empty(width: usize, height: usize) -> Self {
        Self { dark: Plane::filled(width, height, 0.0), bright: Plane::filled(width, height, 0.0) }
    }
}

/// One size of the picture.
struct Layer {
    dark: Vec<u8>,
    bright: Vec<u8>,
    /// The strongest of this size and all before.
    raw: Raw,
    /// What was found at this size alone: a line close by at another size lends it nothing.
    own: Raw,
}

const TILE_W: usize = 256;
const TILE_H: usize = 128;

impl Layer {
    /// A wide filter answers to a narrow line too, only less than a narrow filter does; so it counts only where it says more than they.
    fn of(picture: &Plane, texture: &Texture, finer: Option<&Raw>) -> Self {
        let (width, height) = (picture.width(), picture.height());
        let (half_w, half_h) = (width.div_ceil(2), height.div_ceil(2));
        let mut dark = vec![0; width * height];
        let mut bright = vec![0; width * height];
        let finer = finer.map(|raw| (most_around(&raw.dark), most_around(&raw.bright)));
        let (mut raw, mut own) = (Raw::empty(half_w, half_h), Raw::empty(half_w, half_h));
        dark.par_chunks_mut(width * TILE_H)
            .zip(bright.par_chunks_mut(width * TILE_H))
            .zip(raw.dark.values_mut().par_chunks_mut(half_w * TILE_H / 2))
            .zip(raw.bright.values_mut().par_chunks_mut(half_w * TILE_H / 2))
            .zip(own.dark.values_mut().par_chunks_mut(half_w * TILE_H / 2))
            .zip(own.bright.values_mut().par_chunks_mut(half_w * TILE_H / 2))
            .enumerate()
            .for_each(|(strip, (((((dark, bright), raw_dark), raw_bright), own_dark), own_bright))| {
                let (top, rows) = (strip * TILE_H, dark.len() / width.max(1));
                for left in (0..width).step_by(TILE_W) {
                    let columns = TILE_W.min(width - left);
                    let tile = Tile::of(picture, texture, (left, top), (columns, rows));
                    let store = |out: &mut [u8],
                                 (raw_out, own_out): (&mut [f32], &mut [f32]),
                                 strong: &Plane,
                                 raw: &Plane,
                                 finer: Option<&Plane>| {
                        for y in 0..rows {
                            let finer = finer.and_then(|finer| finer.row(top + y).get(left..)).unwrap_or_default();
                            let to = out.get_mut(y * width + left..y * width + left + columns).unwrap_or_default();
                            let half = raw_out.get_mut(y / 2 * half_w + left / 2..).unwrap_or_default();
                            let own = own_out.get_mut(y / 2 * half_w + left / 2..).unwrap_or_default();
                            for (x, ((to, &strong), &raw)) in to.iter_mut().zip(strong.row(y)).zip(raw.row(y)).enumerate() {
                                let narrow = finer.get(x).copied().unwrap_or(0.0);
                                if raw > narrow {
                                    *to = (strong * STEPS) as u8;
                                    if let Some(own) = own.get_mut(x / 2) {
                                        *own = own.max(raw);
                                    }
                                }
                                if let Some(half) = half.get_mut(x / 2) {
                                    *half = half.max(raw).max(narrow);
                                }
                            }
                        }
                    };
                    store(dark, (raw_dark, own_dark), &tile.dark, &tile.dark_raw, finer.as_ref().map(|finer| &finer.0));
                    store(bright, (raw_bright, own_bright), &tile.bright, &tile.bright_raw, finer.as_ref().map(|finer| &finer.1));
                }
            });
        Self { dark, bright, raw, own }
    }

    /// Beside a strong line the photo's own packing leaves weak ones that run with it: a place counts only from a share of the strongest
    /// near it. Gives back the dark side with a larger share, which a line that only begins beside a strong one hardly feels.
    fn hush(&mut self, width: usize) -> Vec<u8> {
        let Raw { dark, bright } = &self.own;
        let most = most_near(&self.raw.dark);
        let hush = |out: &mut [u8], raw: &Plane, share: f32| {
            out.par_chunks_mut(width.max(1)).enumerate().for_each(|(y, row)| {
                let (raw, most) = (raw.row(y / 2), most.row(y / 2 / BLOCK));
                for (x, out) in row.iter_mut().enumerate().filter(|(_, out)| **out > 0) {
                    let (raw, most) = (raw.get(x / 2).copied().unwrap_or(0.0), most.get(x / 2 / BLOCK).copied().unwrap_or(0.0));
                    *out = (*out).min((raw / (share * most).max(1e-6) * STEPS) as u8);
                }
            });
        };
        hush(&mut self.dark, dark, BESIDE);
        hush(&mut self.bright, bright, BESIDE);
        let mut alone = self.dark.clone();
        hush(&mut alone, dark, ALONE);
        alone
    }

    /// Marks the squares near strong dark lines.
    fn crowd(&self, width: usize, level: usize, crowded: &mut Mask) {
        let height = self.dark.len() / width.max(1);
        // The light beside reaches as far as the filter does, which grows with the size that it stands for.
        let side = (SQUARE >> level).max(4);
        let mut squares = Mask::empty(width.div_ceil(side), height.div_ceil(side));
        // Doubt of a wide texture is for judging lines. Kept up here too, it would leave the rims of wide cracks in the light side, and a net of
        // cracks would be judged by the net of its own rims. Where squares are coarser than the mask they take real texture along with the
        // rims: there only what is strong beyond doubt marks them.
        let doubt = if level == 0 || side << level > SQUARE { 1.0 } else { FEW };
        let strong = (STRONG / doubt * STEPS) as u8;
        for (y, row) in self.dark.chunks_exact(width.max(1)).enumerate() {
            for (x, _) in row.chunks(side).enumerate().filter(|(_, run)| run.iter().any(|&value| value > strong)) {
                squares.put(x as i64, (y / side) as i64, true);
            }
        }
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
    for y in 0..raw.height() {
        for (most, run) in most.row_mut(y / BLOCK).iter_mut().zip(raw.row(y).chunks(BLOCK)) {
            *most = run.iter().fold(*most, |most, &value| most.max(value));
        }
    }
    most_around(&most)
}

/// The most of each place and its eight neighbours.
fn most_around(plane: &Plane) -> Plane {
    let mut across = plane.clone();
    for y in 0..plane.height() {
        let middle = across.row_mut(y).iter_mut();
        let from = plane.row(y);
        for ((out, before), after) in middle.zip(from.iter().take(1).chain(from)).zip(from.iter().skip(1).chain(from.last())) {
            *out = out.max(*before).max(*after);
        }
    }
    let mut out = across.clone();
    let last = plane.height().saturating_sub(1);
    for y in 0..plane.height() {
        let (above, below) = (across.row(y.saturating_sub(1)), across.row((y + 1).min(last)));
        for (out, (a, b)) in out.row_mut(y).iter_mut().zip(above.iter().zip(below)) {
            *out = out.max(*a).max(*b);
        }
    }
    out
}

/// Strongest direction of each place, by the texture's measure and raw.
struct Tile {
    dark: Plane,
    bright: Plane,
    dark_raw: Plane,
    bright_raw: Plane,
}

impl Tile {
    fn of(picture: &Plane, texture: &Texture, (left, top): (usize, usize), (columns, rows): (usize, usize)) -> Self {
        let empty = || Plane::filled(columns, rows, 0.0);
        let mut tile = Self { dark: empty(), bright: empty(), dark_raw: empty(), bright_raw: empty() };
        let piece = picture.piece(left as i64 - HALO as i64, top as i64 - HALO as i64, columns + 2 * HALO, rows + 2 * HALO);
        along_lines(&hessian(&piece, SIGMA), |direction, mean| {
            let per = 1.0 / texture.get(direction).copied().unwrap_or(LEAST_RESPONSE);
            let strong = tile.dark.values_mut().iter_mut().zip(tile.bright.values_mut());
            let raw = tile.dark_raw.values_mut().iter_mut().zip(tile.bright_raw.values_mut());
            for (((dark, bright), (dark_raw, bright_raw)), &value) in strong.zip(raw).zip(mean.values()) {
                *dark = dark.max(value * per);
                *bright = bright.max(-value * per);
                *dark_raw = dark_raw.max(value);
                *bright_raw = bright_raw.max(-value);
            }
        });
        tile
    }
}

/// Most pieces across and down that the texture is taken from, and their side in pixels.
const PIECES: (usize, usize) = (6, 4);
const PIECE: usize = 224;
/// A line stands out by itself above this many times the middle of the light side.
const OUT: f32 = 7.0;
/// Pixels around such a line that are left out: the light beside a dark line is no texture.
const AWAY: usize = 6;
/// Places that a strongest thousandth is taken of, at least.
const LEAST_PLACES: usize = 4000;
/// Wide bands are few on a board, so that their strongest thousandth is poorly known: it counts this many times (model choice).
const FEW: f32 = 1.5;

/// Strongest thousandth of a bell over the middle of its own size: 3.09 / 0.674 (worked out).
const BELL: f32 = 4.6;

/// The light side of one piece in one direction: how many places, and the strongest of them.
struct Light {
    places: usize,
    middle: f32,
    strongest: Vec<f32>,
}

/// The strongest thousandth of the light side for each direction, from pieces spread over the board.
fn texture_of(picture: &Plane, margin: usize, level: usize) -> Texture {
    let inner = |whole: usize| whole.saturating_sub(2 * margin);
    let (wide, high) = (PIECE.min(inner(picture.width())), PIECE.min(inner(picture.height())));
    let count = |whole: usize, most: usize| (inner(whole) / PIECE).clamp(1, most);
    let (columns, rows) = (count(picture.width(), PIECES.0), count(picture.height(), PIECES.1));
    let place = |k: usize, count: usize, whole: usize, piece: usize| {
        (margin + (inner(whole) - piece) * (2 * k + usize::from(count == 1)) / (2 * count.max(2) - 2)) as i64
    };
    let found: Vec<Vec<Light>> = (0..columns * rows)
        .into_par_iter()
        .map(|at| {
            let left = place(at % columns, columns, picture.width(), wide);
            let top = place(at / columns, rows, picture.height(), high);
            light_of(picture, (left, top), (wide, high))
        })
        .collect();
    let mut texture = [f32::INFINITY; DIRECTIONS];
    texture.par_iter_mut().enumerate().for_each(|(direction, noise)| {
        let all = || found.iter().filter_map(|piece| piece.get(direction));
        let places: usize = all().map(|light| light.places).sum();
        let mut strongest: Vec<f32> = all().flat_map(|light| &light.strongest).copied().collect();
        let above = (places as f64 * (1.0 - STRONGEST)) as usize;
        // Too crowded to tell texture from the light beside cracks: then a wide filter is not used, and the narrow one goes by the middle.
        if places > LEAST_PLACES {
            let share = 1.0 - above as f64 / strongest.len().max(1) as f64;
            let value = share_below(&mut strongest, share.max(0.0)).unwrap_or(0.0);
            *noise = (value * if level == 0 { 1.0 } else { FEW }).max(LEAST_RESPONSE);
        } else if level == 0 {
            let mut middles: Vec<f32> = all().map(|light| light.middle).collect();
            *noise = (BELL * share_below(&mut middles, 0.5).unwrap_or(0.0)).max(LEAST_RESPONSE);
        }
    });
    texture
}

fn light_of(picture: &Plane, (left, top): (i64, i64), (wide, high): (usize, usize)) -> Vec<Light> {
    let halo = HALO as i64;
    let piece = picture.piece(left - halo, top - halo, wide + 2 * HALO, high + 2 * HALO);
    let mut means = Vec::with_capacity(DIRECTIONS);
    let mut near = Mask::empty(wide, high);
    along_lines(&hessian(&piece, SIGMA), |_, mean| {
        let mut light: Vec<f32> = mean.values().iter().step_by(3).filter(|value| **value < 0.0).map(|value| -value).collect();
        let middle = share_below(&mut light, 0.5).unwrap_or(0.0).max(LEAST_RESPONSE / OUT);
        for (at, _) in mean.values().iter().enumerate().filter(|(_, value)| **value > OUT * middle) {
            near.put((at % wide) as i64, (at / wide) as i64, true);
        }
        means.push((middle, mean.clone()));
    });
    let near = near.grown(AWAY);
    let places = near.pixels().len() - near.count();
    means
        .iter()
        .map(|(middle, mean)| {
            let away = mean.values().iter().zip(near.pixels()).filter(|(_, near)| !**near).map(|(value, _)| -value);
            // A bell has its strongest thousandth at 4.6 times its middle; twice that many places lie above three times the middle.
            Light { places, middle: *middle, strongest: away.filter(|value| *value > 3.0 * middle).collect() }
        })
        .collect()
}
