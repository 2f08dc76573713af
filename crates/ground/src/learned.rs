//! What the painter's own boards say of the thickness at which grounds crack, beside what is argued from books.

use measure::Micrometres;
use statistics::{Between, Sharing, together};

use crate::lesson::Lesson;

/// A board and where the books would let it crack. The board is the unit, however many strips it carries.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SeenBoard {
    /// Thickest that stayed whole.
    pub whole: Option<Micrometres>,
    /// Thinnest that cracked through.
    pub cracked: Option<Micrometres>,
    /// Where the model lets it crack, at the best values.
    pub model: Micrometres,
}

/// What boards brought.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Learned {
    /// Put onto the draws.
    pub lesson: Lesson,
    /// Boards of this binder and powder.
    pub own: usize,
    /// Boards of the same binder with other powders that were let in.
    pub others: usize,
    /// What is left of the doubt of the books, 0..1.
    pub doubt_left: f64,
}

/// Expected scatter among boards of one kind, in the logarithm of thickness, and how far that may lie off (model choice).
const SCATTER: f64 = 0.35;
const SCATTER_SD: f64 = 0.5;
/// Part of the doubt that grounds of one binder have in common, whatever their powder (model choice: half of it).
const COMMON: f64 = 0.5;
/// Powders that must have been seen with a binder before they speak for each other (model choice).
const SHARED_FROM: usize = 3;
/// Doubt that is left, and shift in the logarithm, between which boards are said to tell nothing (judgement).
const TELLS_NOTHING: (f64, f64) = (0.9, 0.1);

impl Learned {
    /// Whether these boards leave everything as it was: thin ones that held, thick ones that cracked.
    pub fn cannot_tell(&self) -> bool {
        self.doubt_left > TELLS_NOTHING.0 && self.lesson.times.ln().abs() < TELLS_NOTHING.1
    }
}

/// What boards of this binder and powder say, and those of the same binder with other powders, one list a powder. `doubt` is how far the
/// books alone leave the thickness open: the spread of its logarithm over the draws.
///
/// Each board brackets the thickness at which it cracks. Their logarithm against the model's scatters along a logistic curve; its middle
/// is believed to lie at the model's within `doubt`, its scatter at 0.35 within half as much again (both model choices), and grounds of
/// one binder share half of their doubt once three powders were seen. Boards of a kind scatter, so what the books' doubt loses, that
/// scatter takes over. `None` without a board that counts.
///
/// ```
/// use ground::{SeenBoard, learned};
/// use measure::Micrometres;
/// let board = |um: f64, cracked: bool| {
///     let um = Micrometres::new(um);
///     SeenBoard { whole: (!cracked).then_some(um), cracked: cracked.then_some(um), model: Micrometres::new(200.0) }
/// };
/// let seen = [board(50.0, false), board(90.0, true), board(120.0, true), board(150.0, true)];
/// let after = learned(&seen, &[], 0.7).ok_or("nothing counted")?;
/// assert!(after.lesson.times < 0.8 && after.doubt_left < 0.8); // they crack thinner than the books argue
/// # Ok::<(), &str>(())
/// ```
pub fn learned(own: &[SeenBoard], others: &[Vec<SeenBoard>], doubt: f64) -> Option<Learned> {
    let own = marks(own);
    let others: Vec<Vec<Between>> = others.iter().map(|list| marks(list)).filter(|list| !list.is_empty()).collect();
    let enough = others.len() + usize::from(!own.is_empty()) >= SHARED_FROM;
    let others = if enough { others } else { Vec::new() };
    let counts = (own.len(), others.iter().map(Vec::len).sum());
    if counts == (0, 0) {
        return None;
    }
    let groups: Vec<Vec<Between>> = std::iter::once(own).chain(others).collect();
    let sharing = Sharing { place_sd: doubt, common: COMMON, ln_spread: SCATTER.ln(), ln_spread_sd: SCATTER_SD };
    let after = together(&groups, &sharing)?;
    let left = (after.place_sd / doubt).clamp(0.0, 1.0);
    // Variance of a logistic curve: pi^2 / 3 times the square of its spread.
    let scatter = (1.0 - left * left) * std::f64::consts::PI.powi(2) / 3.0 * after.spread_squared;
    let spread = (after.place_sd * after.place_sd + scatter).sqrt() / doubt;
    Some(Learned { lesson: Lesson { times: after.place.exp(), spread }, own: counts.0, others: counts.1, doubt_left: left })
}

fn marks(boards: &[SeenBoard]) -> Vec<Between> {
    let ratio = |um: Micrometres, board: &SeenBoard| um / board.model;
    let between = |board: &SeenBoard| Between {
        low: board.whole.map_or(0.0, |um| ratio(um, board)),
        high: board.cracked.map_or(f64::INFINITY, |um| ratio(um, board)),
    };
    let sound = |one: &Between| one.low.is_finite() && one.low >= 0.0 && one.high > one.low && (one.low > 0.0 || one.high.is_finite());
    boards.iter().map(between).filter(sound).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn board(um: f64, cracked: bool) -> SeenBoard {
        let um = Micrometres::new(um);
        SeenBoard { whole: (!cracked).then_some(um), cracked: cracked.then_some(um), model: Micrometres::new(200.0) }
    }

    /// Seven boards of `statistics`' regression: the likeliest place is 0.89 of the model's; the mean over the grid lies near it.
    #[test]
    fn seven_boards() {
        let seen: Vec<SeenBoard> =
            [(50.0, false), (80.0, false), (100.0, false), (150.0, false), (200.0, true), (300.0, true), (400.0, true)]
                .map(|(um, cracked)| board(um, cracked))
                .into();
        let after = learned(&seen, &[], 0.7).unwrap();
        assert!((after.lesson.times * 200.0 / 178.1 - 1.0).abs() < 0.05, "{after:?}");
        assert!(after.doubt_left < 0.6 && after.own == 7 && !after.cannot_tell(), "{after:?}");
    }

    #[test]
    fn boards_far_from_the_doubt_tell_nothing() {
        // A thin film that holds where nobody expected a crack: the books are left as they were.
        let after = learned(&[board(8.0, false), board(10.0, false)], &[], 0.7).unwrap();
        assert!(after.cannot_tell(), "{after:?}");
        assert!((after.lesson.times - 1.0).abs() < 0.05 && (after.lesson.spread - 1.0).abs() < 0.05, "{after:?}");
        assert_eq!(learned(&[], &[], 0.7), None);
        assert_eq!(learned(&[SeenBoard { whole: None, cracked: None, model: Micrometres::new(200.0) }], &[], 0.7), None);
    }

    #[test]
    fn three_powders_speak_for_each_other_and_two_do_not() {
        let thin: Vec<SeenBoard> = vec![board(60.0, true); 4];
        assert_eq!(learned(&[], &[thin.clone(), thin.clone()], 0.7), None);
        let after = learned(&[], &[thin.clone(), thin.clone(), thin.clone()], 0.7).unwrap();
        assert!(after.own == 0 && after.others == 12 && after.lesson.times < 0.8, "{after:?}");
        let own = learned(&thin, &[thin.clone(), thin.clone()], 0.7).unwrap();
        assert!(own.lesson.times < after.lesson.times && own.doubt_left < after.doubt_left, "{own:?}");
    }

    #[test]
    fn boards_that_scatter_widen_the_band_again() {
        let order: Vec<SeenBoard> =
            [60.0, 90.0, 120.0].map(|um| board(um, false)).into_iter().chain([150.0, 200.0, 260.0].map(|um| board(um, true))).collect();
        let mixed: Vec<SeenBoard> =
            [60.0, 90.0, 260.0].map(|um| board(um, true)).into_iter().chain([120.0, 150.0, 200.0].map(|um| board(um, false))).collect();
        let (order, mixed) = (learned(&order, &[], 0.7).unwrap(), learned(&mixed, &[], 0.7).unwrap());
        assert!(mixed.lesson.spread > order.lesson.spread, "{order:?} {mixed:?}");
    }
}
