//! The one rule that tells cracks from grain and brushwork.
//!
//! Brush marks and grain are as often lighter as darker than the ground around them; cracks are only darker. So the light side of the same
//! filters shows what this picture's texture does by itself, scale by scale, and the dark side has to do more than that.

use rayon::prelude::*;

use crate::flatten::Flat;
use crate::graph::{Branch, Graph};
use crate::mask::Mask;
use crate::plane::{Plane, share_below};
use crate::ridge::{HALO, along_lines, hessian};
use crate::thin::thin_twice;

/// Numbers of the rule (model choice: fixed on made boards with seeds below 1000 and on nothing else).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rule {
    /// A crack starts where the dark side exceeds this many times the light side's strongest thousandth.
    pub seed: f32,
    /// It goes on down to this many.
    pub low: f32,
    /// A piece has to outweigh the heaviest piece of the light side this many times.
    pub outweigh: f64,
}

impl Default for Rule {
    fn default() -> Self {
        Self { seed: 1.0, low: 0.7, outweigh: 2.0 }
    }
}

/// Left out along the board's edge, in mm.
pub const MARGIN_MM: f64 = 1.0;
/// A piece shorter than this is dust or a bristle, in mm (judgement, no source).
pub const LEAST_LENGTH_MM: f64 = 3.0;
/// A side line shorter than this is a roughness of the edge, in mm (judgement, no source).
const SPUR_MM: f64 = 0.5;

const FINE: [f64; 2] = [1.0, 1.6];
const COARSE: [f64; 3] = [2.5, 4.0, 6.5];
const SCALES: usize = FINE.len() + COARSE.len();
/// Response below which nothing is a line: one step of eight bits near white is 0.009 of linear light (worked out), and averages go below it.
const LEAST_RESPONSE: f32 = 0.004;

/// How many times more than the texture each place is a dark line or a bright one.
pub(crate) struct Strength {
    pub(crate) dark: Plane,
    pub(crate) bright: Plane,
    /// Strongest thousandth of the light side, per scale.
    pub(crate) texture: [f32; SCALES],
}

/// Lines that were found.
#[derive(Debug, Clone)]
pub struct Lines {
    /// Dark places that belong to cracks.
    pub mask: Mask,
    /// Their middle lines.
    pub thin: Mask,
    /// The net.
    pub graph: Graph,
    /// Pieces that were looked at and left out: as heavy as the texture's own, or too short.
    pub left_out: Vec<Vec<(u32, u32)>>,
}

/// Darkness that a wide filter's response has to come with, as a multiple: a bar twice as wide as the scale has 2.07 (worked out from
/// 0.484, its largest response).
const DEPTH: f32 = 1.5;

/// Response planes of a piece: dark and bright, per scale.
fn responses(piece: &Plane) -> Vec<(Plane, Plane)> {
    let mut out = Vec::with_capacity(SCALES);
    let mut soft = None;
    for sigma in FINE {
        out.push(along_lines(&hessian(piece, sigma)));
    }
    for sigma in COARSE {
        let bend = hessian(piece, sigma);
        let soft = soft.get_or_insert_with(|| smooth(piece));
        let (mut dark, mut bright) = (bend.dark(), bend.xx.clone());
        for (((bright, b), d), (dark, soft)) in
            bright.values_mut().iter_mut().zip(bend.xy.values()).zip(bend.yy.values()).zip(dark.values_mut().iter_mut().zip(soft.values()))
        {
            let half = (*bright - d) / 2.0;
            let least = (*bright + d) / 2.0 - (half * half + b * b).sqrt();
            // A wide line is dark in its whole width; beside a narrow one the ground is bright, whatever a wide filter says.
            let depth = 1.0 - soft;
            *bright = if -depth >= -DEPTH * least { (-least).max(0.0) } else { 0.0 };
            if depth < DEPTH * *dark {
                *dark = 0.0;
            }
        }
        out.push((dark, bright));
    }
    out
}

fn smooth(piece: &Plane) -> Plane {
    let mut out = piece.clone();
    for y in 0..piece.height() as i64 {
        for (x, value) in (0_i64..).zip(out.row_mut(y as usize)) {
            let mut sum = 0.0;
            for dy in -1..=1 {
                for dx in -1..=1 {
                    sum += piece.at(x + dx, y + dy);
                }
            }
            *value = sum / 9.0;
        }
    }
    out
}

const TILE_W: usize = 768;
const TILE_H: usize = 128;

impl Strength {
    pub(crate) fn of(picture: &Plane) -> Self {
        let texture = texture(picture);
        let (width, height) = (picture.width(), picture.height());
        let mut dark = Plane::filled(width, height, 0.0);
        let mut bright = Plane::filled(width, height, 0.0);
        let strips = dark.values_mut().par_chunks_mut(width * TILE_H).zip(bright.values_mut().par_chunks_mut(width * TILE_H));
        strips.enumerate().for_each(|(strip, (dark, bright))| {
            let rows = dark.len() / width.max(1);
            for left in (0..width).step_by(TILE_W) {
                let columns = TILE_W.min(width - left);
                let halo = HALO as usize;
                let piece = picture.piece(left as i64 - HALO, (strip * TILE_H) as i64 - HALO, columns + 2 * halo, rows + 2 * halo);
                for ((d, b), noise) in responses(&piece).iter().zip(texture) {
                    for y in 0..rows {
                        let inside = halo..halo + columns;
                        let to = y * width + left..y * width + left + columns;
                        let scaled = |out: &mut [f32], from: &Plane| {
                            let from = from.row(y + halo).get(inside.clone()).unwrap_or_default();
                            for (value, response) in out.get_mut(to.clone()).unwrap_or_default().iter_mut().zip(from) {
                                *value = value.max(response / noise);
                            }
                        };
                        scaled(dark, d);
                        scaled(bright, b);
                    }
                }
            }
        });
        Self { dark, bright, texture }
    }
}

/// The light side's strongest thousandth, per scale, from pieces all over the board; places beside dark lines are left out, since a line
/// has bright flanks of its own.
fn texture(picture: &Plane) -> [f32; SCALES] {
    let side = 160_usize;
    let halo = HALO as usize;
    let (columns, rows) = (8, 8);
    let pieces: Vec<Vec<Vec<f32>>> = (0..columns * rows)
        .into_par_iter()
        .map(|at| {
            let place = |k: usize, count: usize, whole: usize| (whole.saturating_sub(side) * k / (count - 1)) as i64;
            let (left, top) = (place(at % columns, columns, picture.width()), place(at / columns, rows, picture.height()));
            let piece = picture.piece(left - HALO, top - HALO, side + 2 * halo, side + 2 * halo);
            let all = responses(&piece);
            let inner = |plane: &Plane| plane.piece(HALO, HALO, side, side);
            // Lines that stand out of this piece by themselves: far above the middle of the bright side.
            let mut near = Mask::empty(side, side);
            for (dark, bright) in &all {
                let (dark, bright) = (inner(dark), inner(bright));
                let middle = share_below(&mut bright.values().to_vec(), 0.5).unwrap_or(0.0).max(LEAST_RESPONSE / 6.0);
                for (at, &value) in dark.values().iter().enumerate() {
                    if value > 7.0 * middle && value > LEAST_RESPONSE {
                        near.put((at % side) as i64, (at / side) as i64, true);
                    }
                }
            }
            let near = near.grown(7);
            all.iter()
                .map(|(_, bright)| {
                    inner(bright).values().iter().zip(near.pixels()).filter(|(_, near)| !**near).map(|(value, _)| *value).collect()
                })
                .collect()
        })
        .collect();
    let mut texture = [LEAST_RESPONSE; SCALES];
    for (scale, noise) in texture.iter_mut().enumerate() {
        let mut values: Vec<f32> = pieces.iter().filter_map(|piece| piece.get(scale)).flatten().copied().collect();
        if values.len() > 10_000 {
            *noise = share_below(&mut values, 0.999).unwrap_or(0.0).max(LEAST_RESPONSE);
        }
    }
    texture
}

/// A piece above `low` with at least one seed.
struct Piece {
    places: Vec<(u32, u32)>,
    mass: f64,
}

fn pieces(strength: &Plane, rule: Rule, may: impl Fn(i64, i64) -> bool) -> Vec<Piece> {
    let mut above = Mask::empty(strength.width(), strength.height());
    for y in 0..strength.height() {
        for (x, &value) in strength.row(y).iter().enumerate() {
            if value > rule.low && may(x as i64, y as i64) {
                above.put(x as i64, y as i64, true);
            }
        }
    }
    let at = |&(x, y): &(u32, u32)| strength.at(i64::from(x), i64::from(y));
    above
        .groups(true)
        .into_iter()
        .filter(|group| group.iter().any(|place| at(place) > rule.seed))
        .map(|places| {
            let mass = places.iter().map(|place| f64::from((at(place) - rule.low).min(3.0))).sum();
            Piece { places, mass }
        })
        .collect()
}

/// Cracks by the rule.
pub(crate) fn find(flat: &Flat, strength: &Strength, rule: Rule) -> Lines {
    let (width, height) = (flat.picture.width(), flat.picture.height());
    let margin = (MARGIN_MM * flat.px_per_mm).round() as i64;
    let inside = |x: i64, y: i64| x >= margin && y >= margin && x < width as i64 - margin && y < height as i64 - margin;
    let mut strong = Mask::empty(width, height);
    for (at, &value) in strength.dark.values().iter().enumerate() {
        if value > 1.5 {
            strong.put((at % width) as i64, (at / width) as i64, true);
        }
    }
    let strong = strong.grown(8);
    let heaviest =
        pieces(&strength.bright, rule, |x, y| inside(x, y) && !strong.has(x, y)).iter().map(|piece| piece.mass).fold(0.0, f64::max);
    drop(strong);
    let mut mask = Mask::empty(width, height);
    let mut left_out = Vec::new();
    for piece in pieces(&strength.dark, rule, inside) {
        if piece.mass > rule.outweigh * heaviest {
            for &(x, y) in &piece.places {
                mask.put(i64::from(x), i64::from(y), true);
            }
        } else {
            left_out.push(piece.places);
        }
    }
    fill_specks(&mut mask);
    let mut thin = thin_twice(&mask);
    let least = SPUR_MM * flat.px_per_mm;
    for _ in 0..4 {
        let graph = Graph::of(&thin);
        let gone: Vec<&Branch> = graph.branches.iter().filter(|branch| weak(branch, strength, rule, least)).collect();
        if gone.is_empty() {
            break;
        }
        for &(x, y) in gone.iter().flat_map(|branch| &branch.chain) {
            thin.put(x, y, false);
        }
        thin = thin_twice(&thin);
    }
    let short = (LEAST_LENGTH_MM * flat.px_per_mm) as usize;
    for group in thin.groups(true) {
        // A diagonal step is longer than a pixel.
        if (group.len() as f64) * 1.1 < short as f64 {
            for &(x, y) in &group {
                thin.put(i64::from(x), i64::from(y), false);
            }
            left_out.push(group);
        }
    }
    let graph = Graph::of(&thin);
    Lines { mask, thin, graph, left_out }
}

/// Whether a line is a roughness of the edge, or no stronger on the whole than texture that happens to touch a crack.
fn weak(branch: &Branch, strength: &Strength, rule: Rule, least: f64) -> bool {
    let length = branch.chain.len() as f64;
    if branch.dangles() && length < least {
        return true;
    }
    let mean = branch.chain.iter().map(|&(x, y)| f64::from(strength.dark.at(x, y))).sum::<f64>() / length.max(1.0);
    // Links inside of a meeting place are too short to be judged.
    length > 6.0 && mean < f64::from(rule.seed)
}

/// Fills holes of a few pixels, which would thin to rings.
fn fill_specks(mask: &mut Mask) {
    let width = mask.width();
    let off: Vec<bool> = mask.pixels().iter().map(|set| !set).collect();
    let Some(off) = Mask::from_rows(width, mask.height(), off) else { return };
    for group in off.groups(false) {
        if group.len() <= 12 {
            for &(x, y) in &group {
                mask.put(i64::from(x), i64::from(y), true);
            }
        }
    }
}
