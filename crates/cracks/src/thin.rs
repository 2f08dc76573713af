//! Lines one pixel wide.

use crate::mask::Mask;

/// Thinned by Zhang and Suen (Communications of the ACM 27(3), 1984, 236-239).
///
/// ```
/// let mut bar = cracks::Mask::empty(12, 9);
/// for y in 3..6 { for x in 1..11 { bar.put(x, y, true); } }
/// assert!(cracks::thin(&bar).places().all(|(_, y)| y == 4));
/// ```
pub fn thin(mask: &Mask) -> Mask {
    let mut left = mask.clone();
    let mut active = mask.indices();
    let mut gone = Vec::new();
    loop {
        let before = active.len();
        for first in [true, false] {
            gone.extend(active.iter().copied().filter(|&at| goes(left.around(at), first)));
            if gone.is_empty() {
                continue;
            }
            gone.drain(..).for_each(|at| left.clear(at));
            active.retain(|&at| left.has_index(at));
        }
        if active.len() == before {
            return left;
        }
    }
}

fn goes(bits: u8, first: bool) -> bool {
    let count = bits.count_ones();
    // Changes from no to yes on the way round.
    let turns = (!bits & bits.rotate_right(1)).count_ones();
    let [above, right, below, left] = [0, 2, 4, 6].map(|k| bits >> k & 1 == 1);
    (2..=6).contains(&count)
        && turns == 1
        && if first { !(right && below && (above || left)) } else { !(above && left && (right || below)) }
}

/// Thinned until no pixel can go without breaking a line or shortening it: corners of stairs go too, so that a path pixel has two neighbours.
pub fn thin_twice(mask: &Mask) -> Mask {
    let mut left = thin(mask);
    for at in left.indices() {
        let bits = left.around(at);
        if bits.count_ones() >= 2 && pieces(bits) == 1 && (0..4).any(|k| bits >> (2 * k) & 1 == 1 && bits >> ((2 * k + 2) % 8) & 1 == 1) {
            left.clear(at);
        }
    }
    left
}

/// Yokoi's number for eight neighbours: how many pieces would be left if the pixel went.
fn pieces(bits: u8) -> i32 {
    let off = |k: u32| i32::from(bits >> (k % 8) & 1 == 0);
    (0..4).map(|k| off(2 * k) - off(2 * k) * off(2 * k + 1) * off(2 * k + 2)).sum()
}

#[cfg(test)]
mod tests {
    use super::{thin, thin_twice};
    use crate::mask::Mask;

    // scikit-image 0.26.0: the band |r - 100| <= 2.5 has 3156 pixels, and morphology.skeletonize leaves 564. Its table also takes corners
    // of stairs, which the rules as printed in 1984 keep, so it is the second thinning that is compared, and by length: a ring of radius
    // r that touches over corners has 4 sqrt 2 r = 565.7 pixels (worked out: each eighth advances r / sqrt 2 along one axis).
    #[test]
    fn a_ring_as_the_reference_thins_it() {
        let mut ring = Mask::empty(301, 301);
        for y in 0..301_i64 {
            for x in 0..301_i64 {
                let r = (((x - 150).pow(2) + (y - 150).pow(2)) as f64).sqrt();
                ring.put(x, y, (r - 100.0).abs() <= 2.5);
            }
        }
        assert_eq!(ring.count(), 3156);
        let twice = thin_twice(&ring);
        assert!((560..=568).contains(&twice.count()), "{}", twice.count());
        assert!(thin(&ring).count() >= twice.count());
        assert_eq!(twice.groups(true).len(), 1);
    }
}
