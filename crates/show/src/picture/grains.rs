//! Grains, binder and air of a film: areas in the very shares of the film's volume.
#![expect(clippy::cast_possible_truncation, reason = "places in a picture a few hundred units wide")]

use std::fmt::Write as _;

use super::svg::Svg;

/// Rows of cells in a tall film: enough to look like grains, few enough to stay a small picture.
const ROWS: f64 = 14.0;

/// Left, top, right and bottom of the film.
type Frame = (f64, f64, f64, f64);

/// Fills a frame with irregular cells: a honeycomb whose corners are shifted by a fixed rule, each cell grain, binder or air. One cell
/// of each kind is drawn smaller, so that grains and air take exactly these shares of the area (0..1 each); what is left is binder.
/// The same seed gives the same picture.
pub(super) fn grains(svg: &mut Svg, frame: Frame, (grain, air): (f64, f64), seed: u64) {
    let (left, top, right, bottom) = frame;
    let all = (right - left) * (bottom - top);
    if bottom - top < 1.0 || all.is_nan() {
        return;
    }
    svg.rect("b", left, top, right - left, bottom - top);
    let mut cells = honeycomb(frame, seed);
    cells.sort_by_key(|cell| cell.order);
    let mut cells = cells.into_iter();
    let grain = take(&mut cells, grain * all);
    // The cell that was cut stays with its binder, so grains and air never overlap.
    let air = take(&mut cells, air * all);
    svg.path("a", &air);
    svg.path("g gr", &grain);
}

/// Cells until their areas add up to this; the last one shrunk to what is still wanted.
fn take(cells: &mut impl Iterator<Item = Cell>, wanted: f64) -> String {
    let (mut path, mut left) = (String::new(), wanted);
    while left > 0.0 {
        let Some(cell) = cells.next() else { break };
        let area = cell.area();
        if area <= left {
            cell.write(1.0, &mut path);
        } else {
            cell.write((left / area).sqrt(), &mut path);
        }
        left -= area;
    }
    path
}

struct Cell {
    order: u64,
    corners: [(f64, f64); 6],
}

impl Cell {
    /// Its area, by the cross products of its corners.
    fn area(&self) -> f64 {
        let next = self.corners.iter().cycle().skip(1);
        self.corners.iter().zip(next).map(|(a, b)| a.0 * b.1 - b.0 * a.1).sum::<f64>().abs() / 2.0
    }

    /// Its outline, shrunk towards the middle of its corners by this factor.
    fn write(&self, factor: f64, path: &mut String) {
        let middle = self.corners.iter().fold((0.0, 0.0), |sum, corner| (sum.0 + corner.0 / 6.0, sum.1 + corner.1 / 6.0));
        for (place, corner) in self.corners.iter().enumerate() {
            let (x, y) = (middle.0 + factor * (corner.0 - middle.0), middle.1 + factor * (corner.1 - middle.1));
            let _ = write!(path, "{}{x:.2} {y:.2}", if place == 0 { "M" } else { "L" });
        }
        path.push('Z');
    }
}

/// Steps to the six corners of a cell, in half widths and half sides.
const CORNERS: [(i32, i32); 6] = [(1, 1), (0, 2), (-1, 1), (-1, -1), (0, -2), (1, -1)];

fn honeycomb((left, top, right, bottom): Frame, seed: u64) -> Vec<Cell> {
    let side = ((bottom - top) / (ROWS * 1.5)).clamp(3.0, 6.5);
    let half = side * 3f64.sqrt() / 2.0;
    let columns = ((right - left) / (2.0 * half)).ceil() as i32 + 1;
    let rows = ((bottom - top) / (1.5 * side)).ceil() as i32 + 1;
    let mut cells = Vec::new();
    for row in 0..rows {
        for column in 0..columns {
            let (across, down) = (2 * column + row % 2, 3 * row);
            let corners = CORNERS.map(|(dx, dy)| {
                // Neighbours share a corner's number and so its shift, and no gap opens.
                let (i, j) = (across + dx, down + dy);
                let wander = |salt| ((scatter(i, j, salt) >> 40) as f64 / f64::from(1u32 << 24) - 0.5) * side * 0.75;
                let (x, y) = (left + f64::from(i) * half + wander(1), top + f64::from(j) * side / 2.0 + wander(2));
                (x.clamp(left, right), y.clamp(top, bottom))
            });
            cells.push(Cell { order: scatter(row, column, seed | 4), corners });
        }
    }
    cells
}

fn scatter(a: i32, b: i32, salt: u64) -> u64 {
    let mut z = (u64::from(a.cast_unsigned()) << 32 | u64::from(b.cast_unsigned())) ^ salt.wrapping_mul(0x9E37_79B9_7F4A_7C15);
    z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
    z ^ (z >> 31)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn drawn(frame: Frame, shares: (f64, f64), seed: u64) -> String {
        let mut svg = Svg::new(420.0, 262.0, "a film");
        grains(&mut svg, frame, shares, seed);
        svg.finish()
    }

    /// Area of all outlines of a class, counted on the finished picture.
    fn counted(picture: &str, class: &str) -> f64 {
        let data = picture.split(&format!("class=\"{class}\" d=\"")).nth(1).unwrap().split('"').next().unwrap();
        let mut sum = 0.0;
        for outline in data.split('Z').filter(|outline| !outline.is_empty()) {
            let corners: Vec<(f64, f64)> = outline
                .split(['M', 'L'])
                .filter(|corner| !corner.is_empty())
                .map(|corner| corner.split_once(' ').unwrap())
                .map(|(x, y)| (x.parse().unwrap(), y.parse().unwrap()))
                .collect();
            let twice: f64 = corners.iter().zip(corners.iter().cycle().skip(1)).map(|(a, b)| a.0 * b.1 - b.0 * a.1).sum();
            sum += twice.abs() / 2.0;
        }
        sum
    }

    #[test]
    fn the_same_film_is_drawn_alike() {
        let frame = (92.0, 40.0, 296.0, 196.0);
        assert_eq!(drawn(frame, (0.657, 0.203), 7), drawn(frame, (0.657, 0.203), 7));
        assert_ne!(drawn(frame, (0.657, 0.203), 7), drawn(frame, (0.657, 0.203), 1 << 40));
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(48))]
        #[test]
        fn areas_are_the_shares_of_the_volume(grain in 0.05f64..0.75, air in 0.0f64..0.22, top in 20.0f64..190.0, seed in any::<u64>()) {
            let frame = (92.0, top, 296.0, 196.0);
            let picture = drawn(frame, (grain, air), seed);
            let all = 204.0 * (196.0 - top);
            prop_assert!((counted(&picture, "g gr") / all - grain).abs() < 0.01);
            prop_assert!((counted(&picture, "a") / all - air).abs() < 0.01);
        }
    }
}
