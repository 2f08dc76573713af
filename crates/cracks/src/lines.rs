//! The one rule that tells cracks from grain and brushwork.
//!
//! The light side of the picture goes through the same steps as the dark side: grow from strong places, thin, part into branches. Its
//! strongest branch is what this texture does by chance, and a crack has to do more.

use crate::amid::Amid;
use crate::flatten::Flat;
use crate::graph::{Branch, Graph};
use crate::hysteresis::{Strengths, hanging_together};
use crate::mask::{AROUND, Mask};
use crate::net::{Judged, Net};
use crate::specks::Holes;
use crate::strength::{SQUARE, STEPS, Strength};
use crate::thin::thin_twice;

/// Numbers of the rule (model choice: fixed on made boards with seeds below 1000 and on nothing else).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rule {
    /// A line starts where its strength exceeds this many times the light side's strongest thousandth.
    pub seed: f32,
    /// It goes on down to this many.
    pub low: f32,
    /// What a branch has beyond `low` exceeds that of the light side's strongest branch this many times.
    pub outweigh: f64,
    /// A branch as strong as this all along is a crack even when it is short.
    pub sure: f64,
}

impl Default for Rule {
    fn default() -> Self {
        Self { seed: 1.0, low: 0.6, outweigh: 1.3, sure: 2.0 }
    }
}

/// Left out along the board's edge, in mm.
pub const MARGIN_MM: f64 = 1.0;
/// A piece shorter than this is dust or a bristle, in mm (judgement, no source).
pub const LEAST_LENGTH_MM: f64 = 3.0;
/// A side line shorter than this is a roughness of the edge, in mm (judgement, no source).
const SPUR_MM: f64 = 0.5;
/// The same in pixels: the filter looks seven along a line, so that it draws side lines out to about as far by itself (model choice).
const SPUR_PX: f64 = 8.0;

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

/// Lines by the rule, and the nets of a neighbour on each side: the doubt of where a faint line begins.
pub(crate) struct Found {
    pub(crate) lines: Lines,
    pub(crate) looser: Graph,
    pub(crate) stricter: Graph,
}

/// How much less and more evidence the neighbours ask for (model choice).
const NEIGHBOUR: f64 = 1.2;

/// The thinned lines of a side, and their net: without the roughness of its edges, its branches parted where they change. Only the dark side has
/// places amid wide lines.
fn net(judged_by: Strengths, rule: Rule, mask: &mut Mask, spur: f64, amid: Option<Amid>) -> (Vec<(i64, i64)>, Net) {
    let dark = |x: i64, y: i64| amid.is_some_and(|amid| amid.in_crack(x, y));
    Holes { margin: judged_by.margin, dark, open: amid.map_or(0, Amid::most_open) }.fill(mask);
    let thin = thin_twice(mask);
    let strength = |x: i64, y: i64| {
        let own = f64::from(judged_by.at(x, y)) / f64::from(STEPS);
        // Sure and no more, or it would lend its strength to the roughness of its own edge.
        let lent = amid.map_or(0.0, |amid| f64::from(amid.strength(mask, x, y)).min(rule.sure));
        own.max(lent)
    };
    let mut net = Net::of(Graph::of(&thin), strength);
    net.lose(|judged| judged.branch.dangles() && judged.length() < spur);
    net.mark_crossings(rule.sure, f64::from(rule.low), strength);
    net.part(strength);
    (thin.places().collect(), net)
}

/// Length of branches that the light side may have beyond what is taken for chance, mm/mm2 (model choice: a quarter of what a board without
/// cracks may show).
const CHANCE: f64 = 0.0005;

/// Evidence that is always taken for chance: a crowded or a very smooth board has too little of a light side to show it (model choice).
const LEAST_CHANCE: f64 = 0.5;

/// The evidence that only this length of the light side's branches exceeds.
fn chance(bright: &Net, low: f64, length: f64) -> f64 {
    let mut all: Vec<(f64, f64)> = bright.branches().map(|judged| (judged.evidence(low), judged.length())).collect();
    all.sort_by(|a, b| b.0.total_cmp(&a.0));
    let mut left = length;
    all.into_iter()
        .find(|(_, length)| {
            left -= length;
            left < 0.0
        })
        .map_or(0.0, |(evidence, _)| evidence)
}

/// Links inside of a meeting place are too short to be judged, in pixels.
const LINK: f64 = 6.0;

/// Cracks by the rule.
pub(crate) fn find(flat: &Flat, strength: &Strength, rule: Rule) -> Found {
    let (width, height) = (flat.picture.width(), flat.picture.height());
    let margin = (MARGIN_MM * flat.px_per_mm).round() as usize;
    let side = |values| Strengths { values, width, margin };
    let ends = ((rule.low * STEPS) as u8, (rule.seed * STEPS) as u8);
    let spur = (SPUR_MM * flat.px_per_mm).max(SPUR_PX);
    let low = f64::from(rule.low);
    // The longer chain first: it is not to wait.
    let ((mask, lines, mut dark), bright) = rayon::join(
        || {
            let mut mask = hanging_together(side(&strength.dark), ends, |_, _| true);
            let (lines, net) =
                net(side(&strength.alone), rule, &mut mask, spur, Some(Amid::of(&flat.picture, flat.px_per_mm, &strength.texture)));
            (mask, lines, net)
        },
        || {
            let away = |x: usize, y: usize| !strength.crowded.has((x / SQUARE) as i64, (y / SQUARE) as i64);
            let mut mask = hanging_together(side(&strength.bright), ends, away);
            net(side(&strength.bright), rule, &mut mask, spur, None).1
        },
    );
    let free = strength.crowded.pixels().len() - strength.crowded.count();
    let mm2 = (free * SQUARE * SQUARE) as f64 / flat.px_per_mm.powi(2);
    let enough = rule.outweigh * chance(&bright, low, CHANCE * mm2 * flat.px_per_mm).max(LEAST_CHANCE);
    let short = LEAST_LENGTH_MM * flat.px_per_mm;
    let looser = judged(&mut dark, rule, enough / NEIGHBOUR, spur).graph();
    let dark = judged(&mut dark, rule, enough, spur);
    // A diagonal step is longer than a pixel.
    let left_out = dark.lose_pieces(|piece| piece.iter().map(|judged| judged.length()).sum::<f64>() * 1.1 < short);
    let graph = dark.graph();
    let (stricter, (thin, mask)) = rayon::join(
        || judged(dark, rule, enough * NEIGHBOUR, spur).graph(),
        || {
            let thin = drawn(&graph, width, height);
            let mask = beside(mask, &lines, &thin);
            (thin, mask)
        },
    );
    Found { lines: Lines { mask, thin, graph, left_out }, looser, stricter }
}

/// Without the branches that the evidence does not speak for.
fn judged(net: &mut Net, rule: Rule, enough: f64, spur: f64) -> &mut Net {
    let low = f64::from(rule.low);
    let weak = |judged: &Judged| judged.length() > LINK && judged.mean() < rule.sure && judged.evidence(low) < enough;
    let rough = |judged: &Judged| judged.branch.dangles() && judged.length() < spur;
    // Side lines first: what they left in pieces is judged whole.
    net.lose(|judged| rough(judged) || (!judged.branch.linked() && weak(judged)));
    net.lose(|judged| rough(judged) || weak(judged));
    net
}

/// The part of the mask that lies nearer to a line that was kept than to one that was lost.
fn beside(mut mask: Mask, lines: &[(i64, i64)], kept: &Mask) -> Mask {
    let width = mask.width();
    let mut out = Mask::empty(width, mask.height());
    // A net that lost branches is drawn anew and may lie a pixel off.
    let near = |x: i64, y: i64| kept.has(x, y) || AROUND.into_iter().any(|(dx, dy)| kept.has(x + dx, y + dy));
    let mut front: Vec<(usize, bool)> = lines.iter().map(|&(x, y)| (y as usize * width + x as usize, near(x, y))).collect();
    for &(at, _) in &front {
        mask.take(at);
    }
    let mut next = Vec::new();
    // Nothing of the mask lies at the picture's border.
    while !front.is_empty() {
        for (at, keep) in front.drain(..) {
            if keep {
                out.set(at);
            }
            for near in [at.saturating_sub(width), at + 1, at + width, at.saturating_sub(1)] {
                if mask.take(near) {
                    next.push((near, keep));
                }
            }
        }
        std::mem::swap(&mut front, &mut next);
    }
    out
}

/// The middle lines of a net, without gaps.
fn drawn(graph: &Graph, width: usize, height: usize) -> Mask {
    let mut out = Mask::empty(width, height);
    let mut stroke = |p: (i64, i64), q: (i64, i64)| {
        let steps = (q.0 - p.0).abs().max((q.1 - p.1).abs()).max(1);
        for k in 0..=steps {
            let part = |a: i64, b: i64| a + ((b - a) as f64 * k as f64 / steps as f64).round() as i64;
            out.put(part(p.0, q.0), part(p.1, q.1), true);
        }
    };
    for Branch { chain, from, to } in &graph.branches {
        for two in chain.windows(2) {
            if let &[p, q] = two {
                stroke(p, q);
            }
        }
        for (end, place) in [(from, chain.first()), (to, chain.last())] {
            if let (Some(node), Some(&place)) = (end.and_then(|end| graph.nodes.get(end)), place) {
                stroke((node.x.round() as i64, node.y.round() as i64), place);
            }
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::{Found, Rule, find};
    use crate::flatten::Flat;
    use crate::homography::Homography;
    use crate::plane::{Plane, grain};
    use crate::strength::Strength;

    const SIDE: usize = 700;
    /// Middles of the cracks, both across and down.
    const CRACKS: [i64; 6] = [60, 176, 292, 408, 524, 640];

    /// A ground as coarse as a rough sketch, with grain of 0.43 of its light, and on it cracks 7 pixels wide, all black.
    fn coarse(cracks: bool) -> Flat {
        let noise = grain(SIDE, SIDE);
        let value = |at: usize| {
            let (x, y) = ((at % SIDE) as i64, (at / SIDE) as i64);
            let clump: f32 = (0..9).map(|k| noise.at(x + k % 3 - 1, y + k / 3 - 1) - 0.5).sum();
            let far = CRACKS.iter().map(|c| (c - x).abs().min((c - y).abs())).min().unwrap_or(0);
            // One pixel of each edge is half covered.
            let ground = if !cracks || far > 4 {
                1.0
            } else if far == 4 {
                0.5
            } else {
                0.0
            };
            (ground * (1.0 + GRAIN * clump)).max(0.0)
        };
        flat(value)
    }

    /// A straightened board with this light at each pixel.
    fn flat(value: impl Fn(usize) -> f32) -> Flat {
        let picture = Plane::from_rows(SIDE, SIDE, (0..SIDE * SIDE).map(value).collect()).expect("rows");
        let corners = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)];
        let map = Homography::of(corners, corners).expect("a square");
        Flat { picture, px_per_mm: 18.0, map, local_px_per_mm: (18.0, 18.0), blur_px: None, clipped: 0.0, light: 0.6 }
    }
    /// Nine evenly spread numbers of one add to a deviation of 3 / sqrt 12 = 0.866: half of it is 0.43 (worked out).
    const GRAIN: f32 = 0.5;

    // A crack 40 pixels wide across a net of narrow ones: the wide filters are not used in such a crowd, and the narrow one sees its two
    // edges. Its middle is found all along. The truth is the drawing.
    #[test]
    fn a_wide_crack_in_a_crowd_has_one_middle_line() {
        let bars = (0..12).map(|k| 30 + 58 * k);
        let noise = grain(SIDE, SIDE);
        let light = |at: usize| {
            let (x, y) = (at % SIDE, at / SIDE);
            let narrow = bars.clone().any(|bar| (bar..bar + 5).contains(&x) || (bar..bar + 5).contains(&y));
            if (330..370).contains(&y) || narrow { 0.25 } else { 0.98 + 0.04 * noise.at(x as i64, y as i64) }
        };
        let found = lines(&flat(light)).lines;
        let middle = (40..660).filter(|x| (347..353).any(|y| found.thin.has(*x, y))).count();
        assert!(middle > 600, "{middle} of 620 places");
        let edges = (40..660).filter(|x| (333..343).chain(357..367).any(|y| found.thin.has(*x, y))).count();
        // Only where narrow cracks run in.
        assert!(edges < 60, "{edges} of 620 places");
        assert!((40..660).all(|x| found.mask.has(x, 350)), "the crack is dark as wide as it is");
    }

    fn lines(flat: &Flat) -> Found {
        find(flat, &Strength::of(&flat.picture, flat.px_per_mm), Rule::default())
    }

    // On a coarse ground black cracks stay below twice the texture. The light beside them is no texture all the same: measured by it, a
    // twelfth of them is lost. The truth is the drawing.
    #[test]
    fn cracks_are_not_measured_by_their_own_rims() {
        let flat = coarse(true);
        let found = lines(&flat);
        let on = |c: i64, k: i64| (-2..=2).any(|d| found.lines.thin.has(c + d, k) || found.lines.thin.has(k, c + d));
        let places: Vec<bool> = CRACKS.iter().flat_map(|&c| (20..SIDE as i64 - 20).map(move |k| (c, k))).map(|(c, k)| on(c, k)).collect();
        let seen = places.iter().filter(|seen| **seen).count() as f64 / places.len() as f64;
        assert!(seen > 0.95, "{seen} of the cracks");
        let beside = |&(x, y): &(i64, i64)| CRACKS.iter().all(|c| (c - x).abs() > 4 && (c - y).abs() > 4);
        let wrong = found.lines.thin.places().filter(beside).count() as f64 / found.lines.thin.count() as f64;
        assert!(wrong < 0.05, "{wrong} of the lines");
    }

    #[test]
    fn a_coarse_ground_alone_has_no_cracks() {
        assert_eq!(lines(&coarse(false)).lines.thin.count(), 0);
    }
}
