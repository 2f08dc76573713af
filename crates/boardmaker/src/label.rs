//! Flat things drawn into a photo before the lens blurs it: printed labels, cards.

use rayon::prelude::*;

use crate::photo::View;

/// Dark squares on a light sheet, somewhere in the board's plane; a single light square is a card.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheet {
    /// Middle in mm from the board's top left corner; may lie beside the board.
    pub middle_mm: (f64, f64),
    /// Whole sheet across and down in mm, rim and all.
    pub size_mm: (f64, f64),
    /// Turned clockwise in the photo by so many degrees.
    pub turned_deg: f64,
    /// Squares in rows from the top, `true` is dark; they fill the sheet but for the rim.
    pub squares: Vec<Vec<bool>>,
    /// Rim in squares.
    pub rim: usize,
    /// Light that paper throws back.
    pub paper: f64,
    /// Light that ink throws back.
    pub ink: f64,
}

impl Sheet {
    /// A label of 26 mm with its white rim, as the program prints it.
    pub fn label(squares: Vec<Vec<bool>>, middle_mm: (f64, f64), turned_deg: f64) -> Self {
        Self { middle_mm, size_mm: (26.0, 26.0), turned_deg, squares, rim: 4, paper: 0.85, ink: 0.06 }
    }

    /// A plain light bank card, 85.60 by 53.98 mm (ISO/IEC 7810, ID-1), with square corners.
    pub const fn card(middle_mm: (f64, f64), turned_deg: f64) -> Self {
        Self { middle_mm, size_mm: (85.60, 53.98), turned_deg, squares: Vec::new(), rim: 0, paper: 0.7, ink: 0.06 }
    }

    /// From the board's plane to the sheet's own, both in mm; the sheet's middle is its nought.
    fn inside(&self, x: f64, y: f64) -> (f64, f64) {
        let (sin, cos) = self.turned_deg.to_radians().sin_cos();
        let (dx, dy) = (x - self.middle_mm.0, y - self.middle_mm.1);
        (cos * dx + sin * dy, cos * dy - sin * dx)
    }

    /// From the sheet's own plane to the board's.
    fn outside(&self, u: f64, v: f64) -> (f64, f64) {
        let (sin, cos) = self.turned_deg.to_radians().sin_cos();
        (self.middle_mm.0 + cos * u - sin * v, self.middle_mm.1 + sin * u + cos * v)
    }

    /// Corners of the squares (of the sheet, if it has none), in mm of the board's plane.
    fn corners_mm(&self) -> [(f64, f64); 4] {
        let count = self.squares.len() as f64;
        let share = if self.squares.is_empty() { 1.0 } else { count / (count + 2.0 * self.rim as f64) };
        let (u, v) = (self.size_mm.0 / 2.0 * share, self.size_mm.1 / 2.0 * share);
        [(-u, -v), (u, -v), (u, v), (-u, v)].map(|(u, v)| self.outside(u, v))
    }

    /// Light at a place of the sheet's own plane; `None` beside it.
    fn light(&self, u: f64, v: f64) -> Option<f64> {
        let (w, h) = self.size_mm;
        if u.abs() > w / 2.0 || v.abs() > h / 2.0 {
            return None;
        }
        let all = (self.squares.len() + 2 * self.rim) as f64;
        let cell = |at: f64, whole: f64| ((at / whole + 0.5) * all).floor() as i64 - self.rim as i64;
        let (column, row) = (cell(u, w), cell(v, h));
        let dark = usize::try_from(row)
            .ok()
            .and_then(|row| self.squares.get(row))
            .zip(usize::try_from(column).ok())
            .and_then(|(row, column)| row.get(column))
            .copied()
            .unwrap_or(false);
        Some(if dark { self.ink } else { self.paper })
    }
}

/// Samples a pixel in each direction.
const FINE: i32 = 4;

/// Lays sheets into light that has not gone through the lens yet, and gives back where their squares' corners come to lie.
pub(crate) fn lay(sheets: &[Sheet], view: &View, light: &mut [f32], width: usize) -> Vec<[(f64, f64); 4]> {
    for sheet in sheets {
        let all: Vec<(f64, f64)> = {
            let (u, v) = (sheet.size_mm.0 / 2.0, sheet.size_mm.1 / 2.0);
            [(-u, -v), (u, -v), (u, v), (-u, v)].into_iter().map(|(u, v)| sheet.outside(u, v)).map(|(x, y)| view.to_photo(x, y)).collect()
        };
        let (top, bottom) = all.iter().fold((f64::INFINITY, 0.0_f64), |(low, high), p| (low.min(p.1), high.max(p.1)));
        let (left, right) = all.iter().fold((f64::INFINITY, 0.0_f64), |(low, high), p| (low.min(p.0), high.max(p.0)));
        let columns = (left - 1.0).max(0.0) as usize..((right + 2.0).max(0.0) as usize).min(width);
        light.par_chunks_mut(width).enumerate().for_each(|(y, row)| {
            if (y as f64) < top - 1.0 || y as f64 > bottom + 1.0 {
                return;
            }
            for x in columns.clone() {
                let (mut covered, mut sum) = (0.0, 0.0);
                for j in 0..FINE {
                    for i in 0..FINE {
                        let at = |k: i32| (f64::from(k) + 0.5) / f64::from(FINE) - 0.5;
                        let (mx, my) = view.to_board(x as f64 + at(i), y as f64 + at(j));
                        let (u, v) = sheet.inside(mx, my);
                        if let Some(value) = sheet.light(u, v) {
                            covered += 1.0;
                            sum += value;
                        }
                    }
                }
                if let Some(value) = row.get_mut(x).filter(|_| covered > 0.0) {
                    let share = covered / f64::from(FINE * FINE);
                    *value = (f64::from(*value) * (1.0 - share) + 0.85 * sum / f64::from(FINE * FINE)) as f32;
                }
            }
        });
    }
    sheets.iter().map(|sheet| sheet.corners_mm().map(|(x, y)| view.to_photo(x, y))).collect()
}
