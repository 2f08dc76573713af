//! Pictures of yes and no as runs: places beside each other in a row, and which runs touch.
//!
//! Runs that touch are joined by number with halved paths (Rosenfeld and Pfaltz, Journal of the ACM 13(4), 1966, from memory), so that each
//! place is looked at once, in order.

/// Places beside each other in a row.
pub(crate) struct Run {
    /// The first.
    pub(crate) left: usize,
    /// One past the last.
    pub(crate) right: usize,
}

/// Places that are passed over in one go where none of them is taken.
const STRETCH: usize = 64;

/// The runs of a row that begins at a column; `any` may say no to a whole stretch of it.
pub(crate) fn runs<T: Copy>(row: &[T], first: usize, any: impl Fn(&[T]) -> bool, takes: impl Fn(usize, T) -> bool) -> Vec<Run> {
    let mut out: Vec<Run> = Vec::new();
    for (part, left) in row.chunks(STRETCH).zip((first..).step_by(STRETCH)).filter(|(part, _)| any(part)) {
        for (&value, x) in part.iter().zip(left..) {
            if !takes(x, value) {
                continue;
            }
            match out.last_mut() {
                Some(run) if run.right == x => run.right = x + 1,
                _ => out.push(Run { left: x, right: x + 1 }),
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
