//! From a pattern to the bytes of a photo.

use image::codecs::jpeg::JpegEncoder;
use rayon::prelude::*;

use crate::chance::{Chance, SmoothNoise, bell_at};
use crate::label::{Sheet, lay};
use crate::marks::{Marks, bare_shares};
use crate::patterns::{Crack, Pattern, straight, swayed};

/// What the board and its photo are like.
#[derive(Debug, Clone, PartialEq)]
pub struct Recipe {
    /// Everything by chance follows from it.
    pub seed: u64,
    /// Millimetres across and down.
    pub board_mm: (f64, f64),
    /// Photo pixels across and down.
    pub photo_px: (usize, usize),
    /// How cracks lie.
    pub pattern: Pattern,
    /// Median width of cracks, mm.
    pub width_mm: f64,
    /// Deviation of the logarithm of width.
    pub width_spread: f64,
    /// Light that the ground throws back.
    pub ground: f64,
    /// Light that a crack throws back.
    pub dark: f64,
    /// Deviation of wood grain, as a share.
    pub grain: f64,
    /// Deviation of brush marks, as a share.
    pub brush: f64,
    /// Deviation of blur, px.
    pub blur_px: f64,
    /// Deviation of camera noise at white, in linear light.
    pub noise: f64,
    /// How far corners may lie off a straight-on view, as a share of the photo.
    pub tilt: f64,
}

impl Recipe {
    /// An ordinary board.
    pub const fn usual(seed: u64, pattern: Pattern) -> Self {
        Self {
            seed,
            board_mm: (140.0, 100.0),
            photo_px: (3000, 2000),
            pattern,
            width_mm: 0.15,
            width_spread: 0.5,
            ground: 0.85,
            dark: 0.1,
            grain: 0.01,
            brush: 0.01,
            blur_px: 0.9,
            noise: 0.006,
            tilt: 0.012,
        }
    }
}

/// A photo and what is true of it.
#[derive(Debug, Clone)]
pub struct Made {
    /// JPEG.
    pub jpeg: Vec<u8>,
    /// Cracks in mm.
    pub cracks: Vec<Crack>,
    /// Where they meet, in mm.
    pub meetings: Vec<(f64, f64)>,
    /// Board corners in photo pixels: top left, top right, bottom right, bottom left.
    pub corners: [(f64, f64); 4],
    /// Corners of the squares on each sheet, in photo pixels, from the sheet's own top left clockwise.
    pub sheets: Vec<[(f64, f64); 4]>,
}

/// Makes a board's photo.
pub fn make(recipe: &Recipe) -> Made {
    make_with(recipe, &[])
}

/// The same with labels or cards lying about.
pub fn make_with(recipe: &Recipe, sheets: &[Sheet]) -> Made {
    make_marked(recipe, sheets, &Marks::default())
}

/// The same with marks on the board.
pub fn make_marked(recipe: &Recipe, sheets: &[Sheet], marks: &Marks) -> Made {
    let mut chance = Chance::new(recipe.seed);
    let (cracks, meetings) = cracks(recipe, &mut chance);
    let corners = corners(recipe, recipe.board_mm, &mut chance);
    let view = View::of(corners, recipe.board_mm.0, recipe.board_mm.1);
    let drawn: Vec<Crack> = cracks.iter().chain(&marks.cuts).cloned().collect();
    let cover = coverage(&drawn, &view, recipe.photo_px);
    let bare = bare_shares(&marks.bare, |x, y| view.to_photo(x, y), recipe.photo_px);
    let ground = Texture::of(recipe, &mut chance);
    let lamp = Lamp::of(&mut chance);
    let ridges = ridged(marks, &mut chance);
    let mut light = lit(recipe, &view, &cover, (&bare, marks), &ground, lamp, ridges);
    let sheets = lay(sheets, &view, &mut light, recipe.photo_px.0);
    let light = blurred(&light, recipe.photo_px.0, recipe.blur_px);
    let bare = blurred(&bare, recipe.photo_px.0, recipe.blur_px);
    let jpeg = developed(recipe, &light, recipe.seed, (&bare, marks.under_tint));
    Made { jpeg, cracks, meetings, corners, sheets }
}

/// Another photo of the same board: its ground is that of the recipe's seed, its cracks are given, and camera place, light and noise follow
/// from another seed. Turned by so many quarters clockwise, as the board lies in the photo.
pub(crate) fn taken_again(recipe: &Recipe, cracks_now: Vec<Crack>, seed: u64, quarters: usize) -> Made {
    let mut chance = Chance::new(recipe.seed);
    // The same draws as for the first photo, so that the ground comes out the same.
    let (_, meetings) = cracks(recipe, &mut chance);
    let _ = corners(recipe, recipe.board_mm, &mut chance);
    let ground = Texture::of(recipe, &mut chance);
    let mut other = Chance::new(seed);
    let (w, h) = recipe.board_mm;
    let lying = if quarters % 2 == 1 { (h, w) } else { (w, h) };
    let corners = corners(recipe, lying, &mut other);
    let mut of_board = corners;
    of_board.rotate_left(quarters % 4);
    let view = View::of(of_board, w, h);
    let cover = coverage(&cracks_now, &view, recipe.photo_px);
    let lamp = Lamp::of(&mut other);
    let marks = Marks::default();
    let light = lit(recipe, &view, &cover, (&[], &marks), &ground, lamp, |_, _| 0.0);
    let light = blurred(&light, recipe.photo_px.0, recipe.blur_px);
    let jpeg = developed(recipe, &light, seed, (&[], marks.under_tint));
    Made { jpeg, cracks: cracks_now, meetings, corners, sheets: Vec::new() }
}

/// Cracks of a recipe and where they meet, in mm.
pub(crate) fn cracks(recipe: &Recipe, chance: &mut Chance) -> (Vec<Crack>, Vec<(f64, f64)>) {
    let (w, h) = recipe.board_mm;
    let (lines, meetings) = straight(recipe.pattern, w, h, chance);
    let cracks = lines
        .into_iter()
        .filter(|(p, q)| (p.0 - q.0).hypot(p.1 - q.1) > 1e-6)
        .map(|line| Crack { points: swayed(line, 0.03, chance), width_mm: recipe.width_mm * (recipe.width_spread * chance.bell()).exp() })
        .collect();
    (cracks, meetings)
}

/// Where the corners of a board of this size come to lie in the photo.
fn corners(recipe: &Recipe, (w, h): (f64, f64), chance: &mut Chance) -> [(f64, f64); 4] {
    let (pw, ph) = (recipe.photo_px.0 as f64, recipe.photo_px.1 as f64);
    let fit = (0.92 * pw / w).min(0.92 * ph / h);
    let (left, top) = ((pw - fit * w) / 2.0, (ph - fit * h) / 2.0);
    let mut off = |size: f64| chance.between(-recipe.tilt, recipe.tilt) * size;
    [(left, top), (left + fit * w, top), (left + fit * w, top + fit * h), (left, top + fit * h)].map(|(x, y)| (x + off(pw), y + off(ph)))
}

/// The map from the board to the photo and back, by the square-to-quadrilateral form (Heckbert 1989, from memory), not by the solver
/// that the measuring side uses.
pub(crate) struct View {
    to_photo: [f64; 9],
    to_board: [f64; 9],
}

impl View {
    fn of([p0, p1, p2, p3]: [(f64, f64); 4], w: f64, h: f64) -> Self {
        let (sx, sy) = (p0.0 - p1.0 + p2.0 - p3.0, p0.1 - p1.1 + p2.1 - p3.1);
        let (dx1, dx2, dy1, dy2) = (p1.0 - p2.0, p3.0 - p2.0, p1.1 - p2.1, p3.1 - p2.1);
        let det = dx1 * dy2 - dx2 * dy1;
        let (g, k) = ((sx * dy2 - dx2 * sy) / det, (dx1 * sy - sx * dy1) / det);
        let unit = [p1.0 - p0.0 + g * p1.0, p3.0 - p0.0 + k * p3.0, p0.0, p1.1 - p0.1 + g * p1.1, p3.1 - p0.1 + k * p3.1, p0.1, g, k, 1.0];
        let [a, b, c, d, e, f, g, k, i] = unit;
        let m = [a / w, b / h, c, d / w, e / h, f, g / w, k / h, i];
        let [a, b, c, d, e, f, g, k, i] = m;
        let back = [
            e * i - f * k,
            c * k - b * i,
            b * f - c * e,
            f * g - d * i,
            a * i - c * g,
            c * d - a * f,
            d * k - e * g,
            b * g - a * k,
            a * e - b * d,
        ];
        Self { to_photo: m, to_board: back }
    }

    /// From mm on the board to pixels.
    pub(crate) fn to_photo(&self, x: f64, y: f64) -> (f64, f64) {
        Self::apply(self.to_photo, x, y)
    }

    /// From pixels to mm on the board.
    pub(crate) fn to_board(&self, x: f64, y: f64) -> (f64, f64) {
        Self::apply(self.to_board, x, y)
    }

    fn apply([a, b, c, d, e, f, g, h, i]: [f64; 9], x: f64, y: f64) -> (f64, f64) {
        let w = g * x + h * y + i;
        ((a * x + b * y + c) / w, (d * x + e * y + f) / w)
    }
}

/// Share of each pixel that lies in a crack: exact for a straight strip of any width that runs along rows or columns.
fn coverage(cracks: &[Crack], view: &View, (pw, ph): (usize, usize)) -> Vec<f32> {
    let mut cover = vec![0.0_f32; pw * ph];
    for crack in cracks {
        for two in crack.points.windows(2) {
            let &[p, q] = two else { continue };
            let (p1, q1) = (View::apply(view.to_photo, p.0, p.1), View::apply(view.to_photo, q.0, q.1));
            let (dx, dy) = (q1.0 - p1.0, q1.1 - p1.1);
            let length = dx.hypot(dy);
            let scale = length / (q.0 - p.0).hypot(q.1 - p.1);
            let wide = crack.width_mm * scale;
            let reach = wide / 2.0 + 1.0;
            let span = |a: f64, b: f64, end: usize| {
                (a.min(b) - reach).floor().max(0.0) as usize..((a.max(b) + reach).ceil().max(0.0) as usize + 1).min(end)
            };
            for y in span(p1.1, q1.1, ph) {
                for x in span(p1.0, q1.0, pw) {
                    let (rx, ry) = (x as f64 - p1.0, y as f64 - p1.1);
                    let t = ((rx * dx + ry * dy) / (length * length)).clamp(0.0, 1.0);
                    let d = (rx - t * dx).hypot(ry - t * dy);
                    let share = ((d + 0.5).min(wide / 2.0) - (d - 0.5).max(-wide / 2.0)).clamp(0.0, 1.0) as f32;
                    if let Some(value) = cover.get_mut(y * pw + x) {
                        *value = value.max(share);
                    }
                }
            }
        }
    }
    cover
}

/// Step of the drawn brush profile: a sixtieth of its shortest wave.
const MARK_STEP_MM: f64 = 0.005;

/// Brush marks of a ground.
struct Texture {
    /// Sine and cosine of the brush's direction.
    turn: (f64, f64),
    /// The marks across it, drawn once, finely: they depend on one place only.
    marks: Vec<f64>,
    /// Where they begin, mm before the corner.
    far: f64,
}

impl Texture {
    fn of(recipe: &Recipe, chance: &mut Chance) -> Self {
        let (w, h) = recipe.board_mm;
        let turn = chance.between(-0.5, 0.5).sin_cos();
        // Brush marks: 48 waves with periods from 0.3 to 5 mm, even in the logarithm.
        let waves: Vec<(f64, f64)> = (0..48)
            .map(|_| {
                (
                    std::f64::consts::TAU / (0.3_f64.ln() + chance.even() * (5.0_f64 / 0.3).ln()).exp(),
                    chance.between(0.0, std::f64::consts::TAU),
                )
            })
            .collect();
        let far = w + h + 20.0;
        let marks = (0..=(2.0 * far / MARK_STEP_MM) as i64)
            .into_par_iter()
            .map(|k| {
                let across = k as f64 * MARK_STEP_MM - far;
                waves.iter().map(|(k, phase)| (k * across + phase).sin()).sum::<f64>() * recipe.brush / 24.0_f64.sqrt()
            })
            .collect();
        Self { turn, marks, far }
    }

    fn mark(&self, across: f64) -> f64 {
        let at = (across + self.far) / MARK_STEP_MM;
        let (k, part) = (at.max(0.0) as usize, at.fract());
        let value = |k: usize| self.marks.get(k).copied().unwrap_or(0.0);
        value(k) * (1.0 - part) + value(k + 1) * part
    }
}

/// How light falls off across the board and down.
#[derive(Clone, Copy)]
struct Lamp {
    across: f64,
    down: f64,
}

impl Lamp {
    fn of(chance: &mut Chance) -> Self {
        Self { across: chance.between(-0.3, 0.3), down: chance.between(-0.3, 0.3) }
    }
}

/// Light of each pixel before the lens.
fn lit(
    recipe: &Recipe,
    view: &View,
    cover: &[f32],
    (bare, more): (&[f32], &Marks),
    ground: &Texture,
    lamp: Lamp,
    ridges: impl Fn(f64, f64) -> f64 + Sync,
) -> Vec<f32> {
    let (w, h) = recipe.board_mm;
    let pw = recipe.photo_px.0;
    let (sin, cos) = ground.turn;
    let seed = recipe.seed.wrapping_mul(31);
    let mut light = vec![0.0_f32; cover.len()];
    light.par_chunks_mut(pw).zip(cover.par_chunks(pw)).enumerate().for_each(|(py, (row, cover))| {
        let [mut table, mut grains, mut bends] = [seed + 3, seed + 1, seed + 2].map(SmoothNoise::new);
        for (px, (value, &cover)) in row.iter_mut().zip(cover).enumerate() {
            let (x, y) = View::apply(view.to_board, px as f64, py as f64);
            let (fx, fy) = (x / w - 0.5, y / h - 0.5);
            let shade = 1.0 + lamp.across * fx + lamp.down * fy - 0.15 * (fx * fx + fy * fy);
            // The share of the pixel that is board, from its distance to the nearest edge.
            let scale = recipe.photo_px.0 as f64 * 0.92 / w;
            let edge = x.min(w - x).min(y).min(h - y) * scale;
            let board = (edge + 0.5).clamp(0.0, 1.0);
            let mut out = if board < 1.0 { 0.16 * (1.0 + 0.15 * table.at(x / 6.0, y / 0.8)) * (1.0 - board) } else { 0.0 };
            if board > 0.0 {
                let grain = if recipe.grain > 0.0 { recipe.grain * grains.at(x / 10.0, y / 0.25) } else { 0.0 };
                // The brush wanders: marks bend slowly.
                let bend = bends.at(x / 25.0, y / 25.0) * 0.4;
                let across = -sin * x + cos * y + bend;
                let brush = if recipe.brush > 0.0 { ground.mark(across) } else { 0.0 };
                let cover = f64::from(cover);
                let bare = f64::from(bare.get(py * pw + px).copied().unwrap_or(0.0));
                let ground = recipe.ground * (1.0 + grain + brush + ridges(x, y)) * (1.0 - bare) + more.under * (1.0 + 4.0 * grain) * bare;
                out += board * (ground * (1.0 - cover) + recipe.dark * cover);
            }
            *value = (0.85 * shade * out) as f32;
        }
    });
    light
}

/// Light of ridges of one spacing at a place in mm: twelve waves within an eighth of it, so that they keep step for a while only.
fn ridged(marks: &Marks, chance: &mut Chance) -> impl Fn(f64, f64) -> f64 + Sync + use<> {
    let ridges = marks.ridges;
    let waves: Vec<(f64, f64)> = (0..if ridges.is_some() { 12 } else { 0 })
        .map(|k| {
            let spacing = ridges.map_or(1.0, |ridges| ridges.spacing_mm);
            let period = spacing * (1.0 + (f64::from(k) - 5.5) / 44.0);
            (std::f64::consts::TAU / period, chance.between(0.0, std::f64::consts::TAU))
        })
        .collect();
    let (degrees, depth) = ridges.map_or((0.0, 0.0), |ridges| (ridges.degrees, ridges.depth));
    let (sin, cos) = f64::to_radians(degrees).sin_cos();
    move |x, y| {
        let across = x * sin + y * cos;
        waves.iter().map(|(k, phase)| (k * across + phase).sin()).sum::<f64>() * depth / 6.0_f64.sqrt()
    }
}

fn blurred(light: &[f32], width: usize, sigma: f64) -> Vec<f32> {
    if sigma <= 0.0 || light.is_empty() {
        return light.to_vec();
    }
    let reach = (4.0 * sigma).ceil() as i64;
    let mut kernel: Vec<f32> = (-reach..=reach).map(|k| (-((k * k) as f64) / (2.0 * sigma * sigma)).exp() as f32).collect();
    let sum: f32 = kernel.iter().sum();
    for v in &mut kernel {
        *v /= sum;
    }
    let mut across = vec![0.0_f32; light.len()];
    across.par_chunks_mut(width).zip(light.par_chunks(width)).for_each(|(out, row)| {
        for (x, value) in out.iter_mut().enumerate() {
            *value = kernel
                .iter()
                .zip(-reach..)
                .map(|(weight, k)| weight * row.get((x as i64 + k).clamp(0, width as i64 - 1) as usize).copied().unwrap_or(0.0))
                .sum();
        }
    });
    let height = (light.len() / width) as i64;
    let mut out = vec![0.0_f32; light.len()];
    out.par_chunks_mut(width).enumerate().for_each(|(y, row)| {
        for (&weight, k) in kernel.iter().zip(-reach..) {
            let from = (y as i64 + k).clamp(0, height - 1) as usize * width;
            for (value, source) in row.iter_mut().zip(across.get(from..from + width).unwrap_or_default()) {
                *value += weight * source;
            }
        }
    });
    out
}

/// Light as sRGB bytes (IEC 61966-2-1, from memory): where each byte begins, and a first guess for each small step of light.
struct Codes {
    begins: Vec<f64>,
    guess: Vec<u8>,
}

/// Steps of light that a first guess is kept for.
const GUESSES: usize = 4096;

impl Codes {
    fn new() -> Self {
        // A byte begins half a step below it.
        let light = |coded: f64| if coded <= 0.040_45 { coded / 12.92 } else { ((coded + 0.055) / 1.055).powf(2.4) };
        let begins: Vec<f64> = (0..=255_u8).map(|byte| if byte == 0 { 0.0 } else { light((f64::from(byte) - 0.5) / 255.0) }).collect();
        let guess =
            (0..=GUESSES).map(|step| (begins.partition_point(|begin| *begin <= step as f64 / GUESSES as f64).max(1) - 1) as u8).collect();
        Self { begins, guess }
    }

    /// The byte of a light from 0 to 1.
    fn of(&self, light: f64) -> u8 {
        let mut byte = self.guess.get((light * GUESSES as f64) as usize).copied().unwrap_or(255);
        while byte < 255 && self.begins.get(usize::from(byte) + 1).is_some_and(|begin| *begin <= light) {
            byte += 1;
        }
        byte
    }
}

/// Noise, sRGB, JPEG.
fn developed(recipe: &Recipe, light: &[f32], seed: u64, (bare, under): (&[f32], [f64; 3])) -> Vec<u8> {
    let (width, height) = recipe.photo_px;
    let tint = [1.0, 0.985, 0.95];
    let seed = seed.wrapping_mul(77).wrapping_add(5);
    let codes = Codes::new();
    let mut rgb = vec![0_u8; light.len() * 3];
    rgb.par_chunks_mut(width * 3).zip(light.par_chunks(width)).enumerate().for_each(|(y, (out, row))| {
        for (x, (pixel, &value)) in out.chunks_exact_mut(3).zip(row).enumerate() {
            let bare = f64::from(bare.get(y * width + x).copied().unwrap_or(0.0));
            for ((k, byte), (tint, under)) in (0_u64..).zip(pixel).zip(tint.into_iter().zip(under)) {
                let value = f64::from(value) * (tint + (under - tint) * bare);
                let noise = recipe.noise * (value + 0.02).sqrt() * bell_at(seed + k, x as i64, y as i64);
                let v = (value + noise).clamp(0.0, 1.0);
                *byte = codes.of(v);
            }
        }
    });
    let mut bytes = Vec::new();
    let encoder = JpegEncoder::new_with_quality(&mut bytes, 93);
    // Writing to memory with a right size can't fail.
    let _ = encoder_write(encoder, &rgb, width, height);
    bytes
}

fn encoder_write(mut encoder: JpegEncoder<&mut Vec<u8>>, rgb: &[u8], width: usize, height: usize) -> image::ImageResult<()> {
    encoder.encode(rgb, width as u32, height as u32, image::ExtendedColorType::Rgb8)
}
