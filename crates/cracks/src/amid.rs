//! Places amid wide lines.
//!
//! A filter answers to a line of its own width: the finest gives nothing in the middle of a wide one, and the wider ones are not used where
//! lines crowd, since texture can't be told from the light beside cracks there.

use crate::mask::{AROUND, Mask};
use crate::plane::Plane;
use crate::ridge::bar_response;
use crate::strength::LEVELS;
use crate::texture::{LEAST_RESPONSE, Texture};

/// Light, of the ground's, below which a place is as dark as a crack (model choice).
const DARK: f32 = 0.6;

/// A place is amid a wide line that is dark as far as this to all sides, in pixels (model choice).
const REACH: i64 = 3;

/// No crack is wider than this, in mm (judgement, no source): what is dark over more is a stain, writing, or no ground.
const WIDEST_MM: f64 = 4.0;

/// How dark the board is.
#[derive(Clone, Copy)]
pub(crate) struct Amid<'a> {
    picture: &'a Plane,
    /// Half of the widest crack, in pixels.
    half: i64,
    /// What a black line gives to a filter of its own width, in multiples of the finest texture.
    black: f32,
}

impl<'a> Amid<'a> {
    pub(crate) fn of(picture: &'a Plane, px_per_mm: f64, texture: &[Texture; LEVELS]) -> Self {
        let finest = texture.first().map_or(LEAST_RESPONSE, |finest| finest.iter().copied().fold(LEAST_RESPONSE, f32::max));
        Self { picture, half: (WIDEST_MM / 2.0 * px_per_mm).round() as i64, black: bar_response(2.0) as f32 / finest }
    }

    /// Whether a place is as dark as a crack, and not amid something wider than any.
    pub(crate) fn in_crack(self, x: i64, y: i64) -> bool {
        self.dark(x, y) && !AROUND.into_iter().all(|(dx, dy)| self.dark(x + self.half * dx, y + self.half * dy))
    }

    /// Most pixels over which a crack touches the margin that it runs out of: one of the widest, aslant.
    pub(crate) const fn most_open(self) -> usize {
        3 * self.half.unsigned_abs() as usize
    }

    fn dark(self, x: i64, y: i64) -> bool {
        self.picture.at(x, y) < DARK
    }

    /// What a filter as wide as the line would give here; 0 where the line is not dark and wide.
    pub(crate) fn strength(self, line: &Mask, x: i64, y: i64) -> f32 {
        let inside = |x, y| line.has(x, y) && self.dark(x, y);
        let wide = inside(x, y) && AROUND.into_iter().all(|(dx, dy)| inside(x + REACH * dx, y + REACH * dy));
        if wide { (1.0 - self.picture.at(x, y)) * self.black } else { 0.0 }
    }
}

#[cfg(test)]
mod tests {
    use super::Amid;
    use crate::mask::Mask;
    use crate::plane::Plane;

    // At 2 pixels a millimetre the widest crack is 8 pixels wide: a bar of 7 is one, amid one of 20 is none.
    #[test]
    fn what_is_wider_than_any_crack_is_none() {
        for (wide, crack) in [(7, true), (20, false)] {
            let picture =
                Plane::from_rows(60, 60, (0..3600).map(|at| if (20..20 + wide).contains(&(at % 60)) { 0.25 } else { 1.0 }).collect());
            let picture = picture.unwrap();
            let amid = Amid::of(&picture, 2.0, &[[0.1; crate::ridge::DIRECTIONS]; crate::strength::LEVELS]);
            assert_eq!(amid.in_crack(20 + i64::from(wide) / 2, 30), crack, "{wide} wide");
            assert!(!amid.in_crack(10, 30), "the ground is no crack");
        }
    }

    // A bar of light 0.25 on white, over a texture of 0.1: by hand 0.75 x 2 phi(1) / 0.1 = 0.75 x 0.483941 / 0.1 = 3.62956 (the density of the
    // normal law at 1 is 0.241971: table 26.1 of Abramowitz and Stegun). Seven pixels have one such place across, six have none.
    #[test]
    fn the_middle_of_a_wide_line_is_as_strong_as_by_its_own_filter() {
        for (wide, amid) in [(6, 0), (7, 1), (12, 6)] {
            let inside = |x: usize| (20..20 + wide).contains(&x);
            let picture = Plane::from_rows(60, 30, (0..1800).map(|at| if inside(at % 60) { 0.25 } else { 1.0 }).collect()).unwrap();
            let line = Mask::from_rows(60, 30, (0..1800).map(|at| inside(at % 60)).collect()).unwrap();
            let texture = [[0.1; crate::ridge::DIRECTIONS]; crate::strength::LEVELS];
            let found: Vec<f32> =
                (0..60).map(|x| Amid::of(&picture, 18.0, &texture).strength(&line, x, 15)).filter(|found| *found > 0.0).collect();
            assert_eq!(found.len(), amid, "{wide} wide");
            assert!(found.iter().all(|found| (found - 3.629_56).abs() < 1e-4), "{found:?}");
        }
    }
}
