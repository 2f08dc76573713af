//! Earliest and latest times of a fixed sequence: longest paths in a graph of differences.

use super::net::{NEVER, Net};

/// A begin for each block.
pub(crate) type Begins = Vec<i64>;

pub(crate) fn at(begins: &[i64], block: usize) -> i64 {
    begins.get(block).copied().unwrap_or(NEVER)
}

pub(crate) fn raise(begins: &mut [i64], block: usize, to: i64) -> bool {
    match begins.get_mut(block) {
        Some(begin) if *begin < to => {
            *begin = to;
            true
        }
        _ => false,
    }
}

/// Which waits and whether longest waits count.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Rules {
    pub(crate) long: bool,
    pub(crate) caps: bool,
}

/// As the day is laid out.
pub(crate) const USUAL: Rules = Rules { long: false, caps: true };

/// Raises `begins` of the blocks in `sequence` to their earliest times; what stands in them already is kept as a lower bound.
/// False if no times keep all longest waits.
pub(crate) fn settle(net: &Net, sequence: &[usize], begins: &mut [i64], rules: Rules) -> bool {
    // One round for each longest wait is enough unless they go in a circle (Bellman and Ford).
    for _ in 0..=sequence.len() + 1 {
        let mut free = NEVER;
        for &block in sequence {
            let here = net.block(block);
            let mut begin = at(begins, block).max(free).max(if rules.long { here.release_long } else { here.release });
            for lag in &here.lags {
                begin = begin.max(at(begins, lag.from) + if rules.long { lag.long } else { lag.usual });
            }
            raise(begins, block, begin);
            if rules.caps && here.latest.is_some_and(|latest| begin > latest) {
                return false;
            }
            free = begin + here.lasts;
        }
        if !rules.caps {
            return true;
        }
        let mut pushed = false;
        for &block in sequence {
            for cap in &net.block(block).caps {
                // What is not in the sequence yet has no time.
                if at(begins, cap.from) > NEVER {
                    pushed |= raise(begins, cap.from, at(begins, block) - cap.most);
                }
            }
        }
        if !pushed {
            return true;
        }
    }
    false
}

/// Earliest begins of a whole sequence, or nothing if longest waits can't be kept.
pub(crate) fn earliest(net: &Net, sequence: &[usize], rules: Rules) -> Option<Begins> {
    let mut begins = vec![NEVER; net.len()];
    settle(net, sequence, &mut begins, rules).then_some(begins)
}

/// When hands are free after the last block.
pub(crate) fn end(net: &Net, sequence: &[usize], begins: &[i64]) -> Option<i64> {
    sequence.last().map(|&last| at(begins, last) + net.block(last).lasts)
}

/// Longest ways from one block of the sequence to all of it, and back to the zero of the clock by latest begins.
pub(crate) fn ways_from(net: &Net, sequence: &[usize], from: usize) -> (Vec<i64>, i64) {
    let mut ways = vec![NEVER; net.len()];
    raise(&mut ways, from, 0);
    for _ in 0..=sequence.len() + 1 {
        let mut free = NEVER;
        for &block in sequence {
            let here = net.block(block);
            let mut way = at(&ways, block).max(free);
            for lag in &here.lags {
                way = way.max(at(&ways, lag.from) + lag.usual);
            }
            if way > NEVER / 2 {
                raise(&mut ways, block, way);
                free = way + here.lasts;
            }
        }
        let mut pushed = false;
        for &block in sequence {
            for cap in &net.block(block).caps {
                let way = at(&ways, block) - cap.most;
                if way > NEVER / 2 {
                    pushed |= raise(&mut ways, cap.from, way);
                }
            }
        }
        if !pushed {
            break;
        }
    }
    let back = sequence.iter().filter_map(|&block| net.block(block).latest.map(|latest| at(&ways, block) - latest)).max();
    (ways, back.unwrap_or(NEVER))
}
