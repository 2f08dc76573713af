//! Pictures of yes and no as runs: places beside each other in a row, and which runs touch.
//!
//! Runs that touch are joined by number with halved paths (Rosenfeld and Pfaltz, Journal of the ACM 13(4), 1966, from memory), so that each
//! place is looked at once, in order.

use crate::words::PLACES;

/// Places beside each other in a row.
pub(crate) struct Run {
    /// The first.
    pub(crate) left: usize,
    /// One past the last.
    pub(crate) right: usize,
}

/// The runs of a row that begins at a column, from its words.
pub(crate) fn runs(words: impl Iterator<Item = u64>, first: usize) -> Vec<Run> {
    let mut out: Vec<Run> = Vec::new();
    for (mut word, begin) in words.zip((first..).step_by(PLACES)) {
        while word != 0 {
            let start = word.trailing_zeros();
            let end = start + (word >> start).trailing_ones();
            word &= u64::MAX.checked_shl(end).unwrap_or(0);
            let (left, right) = (begin + start as usize, begin + end as usize);
            match out.last_mut() {
                Some(run) if run.right == left => run.right = right,
                _ => out.push(Run { left, right }),
            }
        }
    }
    out
}

/// For each run of all rows the number of the first run that it hangs together with; `corners` says whether touching at a corner counts.
pub(crate) fn joined(rows: &[Vec<Run>], corners: bool) -> Vec<usize> {
    let mut parents: Vec<usize> = (0..rows.iter().map(Vec::len).sum()).collect();
    let aside = usize::from(corners);
    let mut first = 0;
    for two in rows.windows(2) {
        let [above, below] = two else { continue };
        let (mut i, mut j) = (0, 0);
        while let (Some(a), Some(b)) = (above.get(i), below.get(j)) {
            // The ends are one past, so that equal ends touch at a corner.
            if a.left < b.right + aside && b.left < a.right + aside {
                join(&mut parents, first + i, first + above.len() + j);
            }
            if a.right < b.right {
                i += 1;
            } else {
                j += 1;
            }
        }
        first += above.len();
    }
    (0..parents.len()).map(|run| root(&mut parents, run)).collect()
}

fn root(parents: &mut [usize], mut run: usize) -> usize {
    while let Some(&parent) = parents.get(run).filter(|&&parent| parent != run) {
        let next = parents.get(parent).copied().unwrap_or(parent);
        if let Some(place) = parents.get_mut(run) {
            *place = next;
        }
        run = next;
    }
    run
}

fn join(parents: &mut [usize], one: usize, other: usize) {
    let (one, other) = (root(parents, one), root(parents, other));
    if let Some(parent) = parents.get_mut(one.max(other)) {
        *parent = one.min(other);
    }
}
