//! The size of a board from something of known size that lies beside it or on it: its label, or a bank card.

use crate::corners::{Corners, bright_groups, four_sided};
use crate::decode::Photo;
use crate::flatten::BoardSize;
use crate::graph::Point;
use crate::homography::Homography;

/// Sides of a bank card in mm (ID-1 of ISO/IEC 7810: 85.60 by 53.98).
pub const CARD_MM: (f64, f64) = (85.60, 53.98);

/// A size that was worked out, and how well its sides agree.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SizeFound {
    /// The board.
    pub size: BoardSize,
    /// Root of the mean square of what the known sides and diagonals come out wrong by, as a share: 0.01 is one part in a hundred.
    pub off: f64,
}

/// How large the board is, from a rectangle of known sides that lies flat in the same plane.
///
/// The board's four corners take out the perspective but for two numbers, its own width and height. Each side and each diagonal of the
/// rectangle gives one equation for their squares; least squares of six equations give both. `None` if the rectangle is no
/// rectangle, or gives no sensible size.
///
/// ```
/// use cracks::{Corners, Point, size_by};
/// // Two pixels a millimetre, straight on: a board of 200 by 150 mm with a square of 20 mm.
/// let board = Corners::new([(100.0, 100.0), (500.0, 100.0), (500.0, 400.0), (100.0, 400.0)], 600, 500)?;
/// let square = [(10.0, 10.0), (50.0, 10.0), (50.0, 50.0), (10.0, 50.0)].map(|(x, y)| Point { x, y });
/// let found = size_by(&board, square, (20.0, 20.0)).expect("a square");
/// assert!((found.size.width_mm - 200.0).abs() < 1e-9 && (found.size.height_mm - 150.0).abs() < 1e-9);
/// # Ok::<(), cracks::CornersError>(())
/// ```
pub fn size_by(board: &Corners, rectangle: [Point; 4], (long, short): (f64, f64)) -> Option<SizeFound> {
    let unit = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)];
    let map = Homography::of(board.points().map(|p| (p.x, p.y)), unit)?;
    let [a, b, c, d] = rectangle.map(|p| map.map(p.x, p.y));
    let diagonal = long.hypot(short);
    let known = [(a, b, long), (b, c, short), (c, d, long), (d, a, short), (a, c, diagonal), (b, d, diagonal)];
    // (x^2, y^2) times (width^2, height^2) is 1 when the stroke is divided by its known length.
    let rows = known.map(|(p, q, length)| (((q.0 - p.0) / length).powi(2), ((q.1 - p.1) / length).powi(2)));
    let (mut xx, mut xy, mut yy, mut x1, mut y1) = (0.0, 0.0, 0.0, 0.0, 0.0);
    for (x, y) in rows {
        xx += x * x;
        xy += x * y;
        yy += y * y;
        x1 += x;
        y1 += y;
    }
    let det = xx * yy - xy * xy;
    let (w2, h2) = ((x1 * yy - y1 * xy) / det, (xx * y1 - xy * x1) / det);
    if !(w2.is_finite() && h2.is_finite() && w2 > 0.0 && h2 > 0.0) {
        return None;
    }
    let off = (rows.iter().map(|(x, y)| ((x * w2 + y * h2).sqrt() - 1.0).powi(2)).sum::<f64>() / 6.0).sqrt();
    (off < MOST_OFF).then_some(SizeFound { size: BoardSize { width_mm: w2.sqrt(), height_mm: h2.sqrt() }, off })
}

/// Sides that agree worse than this belong to no such rectangle in the board's plane (judgement, no source).
const MOST_OFF: f64 = 0.08;
/// Long over short side of the card as it may look in a photo, as a share of its true one (judgement, no source).
const LOOKS: f64 = 0.2;

/// A light bank card on the dark table beside the board: four corners in pixels, the first two on a long side.
pub fn find_card(photo: &Photo, board: &Corners) -> Option<[Point; 4]> {
    let (groups, step) = bright_groups(photo)?;
    let most = groups.iter().map(Vec::len).max()?;
    groups.iter().filter(|group| group.len() < most && group.len() * 100 > most).find_map(|group| {
        let quad = four_sided(photo, group, step).ok()?.points();
        let [a, b, c, d] = quad;
        let (first, second) = (f64::midpoint(a.to(b), c.to(d)), f64::midpoint(b.to(c), d.to(a)));
        let turned = if first >= second { quad } else { [b, c, d, a] };
        let ratio = first.max(second) / first.min(second) / (CARD_MM.0 / CARD_MM.1);
        ((1.0 - LOOKS..=1.0 + LOOKS).contains(&ratio) && size_by(board, turned, CARD_MM).is_some()).then_some(turned)
    })
}
