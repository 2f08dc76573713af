//! Where a line changes its nature: a crack that runs out into a brush mark is one branch of the net and two things on the board.
//!
//! Binary segmentation of the strengths along a branch: the place where the means before and after differ most for their lengths, then each
//! side by itself (Scott and Knott, Biometrics 30 (1974) 507, from memory).

/// Shortest part that is told apart, in pixels: twice what a branch needs to be judged by its strength alone (model choice).
const SHORTEST: usize = 80;
/// Least difference of mean strengths on the two sides, in multiples of the texture (model choice).
const LEAST: f64 = 0.5;

/// Places where the values change their mean, in order; each part has at least 80 values.
pub(crate) fn changes(values: &[f64]) -> Vec<usize> {
    let mut sums = Vec::with_capacity(values.len() + 1);
    sums.push(0.0);
    let mut sum = 0.0;
    for value in values {
        sum += value;
        sums.push(sum);
    }
    let mut found = Vec::new();
    let mut open = vec![(0, values.len())];
    while let Some((from, to)) = open.pop() {
        if let Some(at) = change(&sums, from, to) {
            found.push(at);
            open.extend([(from, at), (at, to)]);
        }
    }
    found.sort_unstable();
    found
}

/// The place between two others that parts them best, if its sides differ enough.
fn change(sums: &[f64], from: usize, to: usize) -> Option<usize> {
    let sum = |from: usize, to: usize| Some(sums.get(to)? - sums.get(from)?);
    let mut best: Option<(f64, usize)> = None;
    for at in from + SHORTEST..=to.checked_sub(SHORTEST)? {
        let (before, after) = ((at - from) as f64, (to - at) as f64);
        let step = (sum(from, at)? / before - sum(at, to)? / after).abs();
        let parts = step * (before * after).sqrt();
        if step >= LEAST && best.is_none_or(|(most, _)| parts > most) {
            best = Some((parts, at));
        }
    }
    best.map(|(_, at)| at)
}

#[cfg(test)]
mod tests {
    use super::changes;

    #[test]
    fn a_line_is_parted_where_it_changes_and_nowhere_else() {
        let crack = |k: usize| if k < 600 { 2.2 } else { 0.95 };
        let unsteady = |k: usize| 0.3 * ((k * 7919 % 101) as f64 / 50.0 - 1.0);
        let values: Vec<f64> = (0..2400).map(|k| crack(k) + unsteady(k)).collect();
        let found = changes(&values);
        assert_eq!(found.len(), 1, "{found:?}");
        assert!(found[0].abs_diff(600) <= 3, "{found:?}");
        let steady: Vec<f64> = (0..2400).map(|k| 1.5 + unsteady(k)).collect();
        assert!(changes(&steady).is_empty());
    }

    #[test]
    fn short_lines_stay_whole() {
        assert!(changes(&[]).is_empty());
        let values: Vec<f64> = (0..159).map(|k| if k < 80 { 3.0 } else { 1.0 }).collect();
        assert!(changes(&values).is_empty());
        let values: Vec<f64> = (0..160).map(|k| if k < 80 { 3.0 } else { 1.0 }).collect();
        assert_eq!(changes(&values), [80]);
    }
}
