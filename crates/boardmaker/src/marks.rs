//! What else lies on a board: cuts, places where the ground is gone, brush ridges of one known spacing.

use crate::patterns::Crack;

type Place = (f64, f64);

/// Marks of known place and size, in mm on the board.
#[derive(Debug, Clone, PartialEq)]
pub struct Marks {
    /// Straight cuts: drawn as dark as cracks, and not counted among them.
    pub cuts: Vec<Crack>,
    /// Outlines of places where the ground is gone.
    pub bare: Vec<Vec<Place>>,
    /// Light that the bare places throw back.
    pub under: f64,
    /// Their red, green and blue, as shares of that light.
    pub under_tint: [f64; 3],
    /// Ridges of one spacing.
    pub ridges: Option<Ridges>,
}

impl Default for Marks {
    /// None; bare places would show pale wood.
    fn default() -> Self {
        Self { cuts: Vec::new(), bare: Vec::new(), under: 0.35, under_tint: [1.2, 0.95, 0.65], ridges: None }
    }
}

/// Brush ridges that run one way.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ridges {
    /// Which way they run, degrees anticlockwise from the board's upper edge.
    pub degrees: f64,
    /// Mean distance from one to the next, mm.
    pub spacing_mm: f64,
    /// Deviation of their light, as a share.
    pub depth: f64,
}

/// A lattice cut with a knife.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lattice {
    /// Its middle, mm.
    pub middle: Place,
    /// Which way its first family of cuts runs, degrees anticlockwise from the board's upper edge.
    pub degrees: f64,
    /// From one cut to the next, mm.
    pub spacing_mm: f64,
    /// Width of a cut, mm.
    pub width_mm: f64,
    /// How far cuts go past the outermost ones, mm.
    pub past_mm: f64,
}

impl Lattice {
    /// Cuts each way (ISO 2409).
    pub const CUTS: usize = 6;
    /// Squares each way.
    pub const SQUARES: usize = Self::CUTS - 1;

    /// A place on the board from steps along the first family and square to it, counted from the corner.
    pub fn place(&self, along: f64, across: f64) -> Place {
        let (sin, cos) = self.degrees.to_radians().sin_cos();
        let half = Self::SQUARES as f64 / 2.0;
        let (u, v) = ((along - half) * self.spacing_mm, (across - half) * self.spacing_mm);
        // The picture's rows run down: anticlockwise is against them.
        (self.middle.0 + u * cos + v * sin, self.middle.1 - u * sin + v * cos)
    }

    /// All twelve cuts.
    pub fn cuts(&self) -> Vec<Crack> {
        let (end, past) = (Self::SQUARES as f64, self.past_mm / self.spacing_mm);
        let cut = |points: Vec<Place>| Crack { points, width_mm: self.width_mm };
        let one = (0..Self::CUTS).map(|k| cut(vec![self.place(-past, k as f64), self.place(end + past, k as f64)]));
        let other = (0..Self::CUTS).map(|k| cut(vec![self.place(k as f64, -past), self.place(k as f64, end + past)]));
        one.chain(other).collect()
    }

    /// The outline of part of the lattice, in steps: from and to along, from and to across.
    pub fn part(&self, along: (f64, f64), across: (f64, f64)) -> Vec<Place> {
        let (a, b, c, d) = (along.0, along.1, across.0, across.1);
        vec![self.place(a, c), self.place(b, c), self.place(b, d), self.place(a, d)]
    }

    /// The outline of a whole square, counted from nought.
    pub fn square(&self, along: usize, across: usize) -> Vec<Place> {
        let (a, c) = (along as f64, across as f64);
        self.part((a, a + 1.0), (c, c + 1.0))
    }
}

/// A torn outline of this mean radius about a place.
pub fn torn(middle: Place, radius_mm: f64, seed: u64) -> Vec<Place> {
    let mut chance = crate::chance::Chance::new(seed);
    let waves: Vec<(f64, f64, f64)> =
        (2..7).map(|k| (f64::from(k), chance.between(0.0, std::f64::consts::TAU), chance.between(0.0, 0.5) / f64::from(k))).collect();
    (0..120)
        .map(|k| {
            let angle = f64::from(k) * std::f64::consts::TAU / 120.0;
            let radius = radius_mm * (1.0 + waves.iter().map(|(n, phase, size)| size * (n * angle + phase).sin()).sum::<f64>());
            (middle.0 + radius * angle.cos(), middle.1 + radius * angle.sin())
        })
        .collect()
}

/// Area inside of an outline, mm2 (the surveyors' sum of cross products).
pub fn area_mm2(outline: &[Place]) -> f64 {
    let next = outline.iter().cycle().skip(1);
    (outline.iter().zip(next).map(|(p, q)| p.0 * q.1 - q.0 * p.1).sum::<f64>() / 2.0).abs()
}

/// Steps each way in which a pixel is asked whether it is bare.
const STEPS: usize = 4;

/// Share of each pixel that is bare, by asking sixteen places in it.
pub(crate) fn bare_shares(outlines: &[Vec<Place>], to_photo: impl Fn(f64, f64) -> Place, (pw, ph): (usize, usize)) -> Vec<f32> {
    let mut out = vec![0.0_f32; if outlines.is_empty() { 0 } else { pw * ph }];
    for outline in outlines {
        let seen: Vec<Place> = outline.iter().map(|&(x, y)| to_photo(x, y)).collect();
        let span = |of: &dyn Fn(&Place) -> f64, end: usize| {
            let (low, high) = seen.iter().map(of).fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), v| (low.min(v), high.max(v)));
            (low - 1.0).max(0.0) as usize..((high + 2.0).max(0.0) as usize).min(end)
        };
        for y in span(&|p| p.1, ph) {
            for x in span(&|p| p.0, pw) {
                let sub = |k: usize| (k as f64 + 0.5) / STEPS as f64 - 0.5;
                let hits = (0..STEPS * STEPS).filter(|k| inside(&seen, (x as f64 + sub(k % STEPS), y as f64 + sub(k / STEPS)))).count();
                if let Some(value) = out.get_mut(y * pw + x) {
                    *value = (*value + hits as f32 / (STEPS * STEPS) as f32).min(1.0);
                }
            }
        }
    }
    out
}

/// Whether a place lies inside: a ray from it crosses the outline an odd number of times.
fn inside(outline: &[Place], (x, y): Place) -> bool {
    let next = outline.iter().cycle().skip(1);
    let crosses = |(p, q): (&Place, &Place)| (p.1 > y) != (q.1 > y) && x < p.0 + (q.0 - p.0) * (y - p.1) / (q.1 - p.1);
    outline.iter().zip(next).filter(|&two| crosses(two)).count() % 2 == 1
}

#[cfg(test)]
mod tests {
    use super::{Lattice, Marks, area_mm2};

    // By hand: twelve cuts of five spacings and twice the overhang; a square of 2 x 2 mm; turned by 90 degrees along goes up.
    #[test]
    fn a_lattice_by_hand() {
        let lattice = Lattice { middle: (30.0, 20.0), degrees: 90.0, spacing_mm: 2.0, width_mm: 0.1, past_mm: 3.0 };
        assert!((lattice.cuts().iter().map(super::Crack::length_mm).sum::<f64>() - 12.0 * 16.0).abs() < 1e-9);
        assert!((area_mm2(&lattice.square(2, 3)) - 4.0).abs() < 1e-9);
        let (x, y) = lattice.place(5.0, 2.5);
        assert!((x - 30.0).abs() < 1e-9 && (y - 15.0).abs() < 1e-9);
        assert!(Marks::default().cuts.is_empty());
    }
}
