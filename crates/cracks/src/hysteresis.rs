//! Places above a low strength that hang together with one above a high strength.

use rayon::prelude::*;

use crate::mask::Mask;
use crate::runs::{Run, joined, runs};
use crate::words::{PLACES, above, ones};

/// Strengths of all places, row by row.
#[derive(Clone, Copy)]
pub(crate) struct Strengths<'a> {
    pub(crate) values: &'a [u8],
    pub(crate) width: usize,
    /// Pixels along the border where nothing counts.
    pub(crate) margin: usize,
}

impl Strengths<'_> {
    /// The strength of a place, 0 along the border and outside.
    pub(crate) fn at(self, x: i64, y: i64) -> u8 {
        let (Ok(x), Ok(y)) = (usize::try_from(x), usize::try_from(y)) else { return 0 };
        let height = self.values.len() / self.width.max(1);
        let inside = x >= self.margin && y >= self.margin && x + self.margin < self.width && y + self.margin < height;
        if inside { self.values.get(y * self.width + x).copied().unwrap_or(0) } else { 0 }
    }
}

/// All places above `low` that touch, over sides or corners, a chain of such places with one above `high` in it; only where they `may` be.
pub(crate) fn hanging_together(strengths: Strengths, (low, high): (u8, u8), may: impl Fn(usize, usize) -> bool + Sync) -> Mask {
    let Strengths { values, width, margin } = strengths;
    let height = values.len() / width.max(1);
    let empty = || Mask::empty(width, height);
    if width <= 2 * margin || height <= 2 * margin {
        return empty();
    }
    let inner = margin..width - margin;
    let rows: Vec<Vec<Run>> = values
        .par_chunks_exact(width)
        .enumerate()
        .map(|(y, row)| {
            let inside = y >= margin && y < height - margin;
            if inside {
                let words = above(row.get(inner.clone()).unwrap_or_default(), low).into_iter().zip((margin..).step_by(PLACES));
                let allowed =
                    |(word, left): (u64, usize)| ones(word).filter(|bit| !may(left + bit, y)).fold(word, |word, bit| word & !(1 << bit));
                runs(words.map(allowed), margin)
            } else {
                Vec::new()
            }
        })
        .collect();
    let roots = joined(&rows, true);
    let mut strong = vec![false; roots.len()];
    let all = rows.iter().zip(values.chunks_exact(width)).flat_map(|(runs, row)| runs.iter().map(move |run| (run, row)));
    for (&root, (run, row)) in roots.iter().zip(all) {
        if most(row.get(run.left..run.right).unwrap_or_default()) > high
            && let Some(strong) = strong.get_mut(root)
        {
            *strong = true;
        }
    }
    let firsts: Vec<usize> = rows
        .iter()
        .scan(0, |sum, row| {
            let first = *sum;
            *sum += row.len();
            Some(first)
        })
        .collect();
    let mut set = vec![false; values.len()];
    set.par_chunks_exact_mut(width).zip(rows.par_iter().zip(firsts)).for_each(|(out, (runs, first))| {
        for (Run { left, right }, root) in runs.iter().zip(roots.get(first..).unwrap_or_default()) {
            if strong.get(*root).copied().unwrap_or(false) {
                out.get_mut(*left..*right).unwrap_or_default().fill(true);
            }
        }
    });
    Mask::from_rows(width, height, set).unwrap_or_else(empty)
}

fn most(part: &[u8]) -> u8 {
    part.iter().fold(0, |most, &value| most.max(value))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::{Strengths, hanging_together};

    // By definition, step by step: a place is taken that is strong, or that is above the low strength and touches one that was taken.
    fn by_definition(values: &[u8], width: usize, margin: usize, may: impl Fn(usize, usize) -> bool) -> Vec<bool> {
        let height = values.len() / width;
        let inside = |x: usize, y: usize| x >= margin && y >= margin && x + margin < width && y + margin < height && may(x, y);
        let mut taken: Vec<bool> = (0..values.len()).map(|at| values[at] > 9 && inside(at % width, at / width)).collect();
        loop {
            let before = taken.clone();
            for at in 0..values.len() {
                let (x, y) = (at % width, at / width);
                let near = (0..values.len()).any(|to| before[to] && (to % width).abs_diff(x) <= 1 && (to / width).abs_diff(y) <= 1);
                taken[at] |= near && values[at] > 5 && inside(x, y);
            }
            if taken == before {
                return taken;
            }
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

        #[test]
        fn what_hangs_together_is_what_touches(
            values in proptest::collection::vec(prop_oneof![3 => Just(0_u8), 3 => Just(7_u8), 1 => Just(12_u8)], 15 * 11),
            margin in 0_usize..3,
        ) {
            let may = |x: usize, y: usize| !(x / 4 + y / 4).is_multiple_of(5);
            let found = hanging_together(Strengths { values: &values, width: 15, margin }, (5, 9), may);
            let known = by_definition(&values, 15, margin, may);
            prop_assert_eq!(found.pixels(), known.as_slice());
        }
    }
}
