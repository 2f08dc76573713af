//! The same board at a later time.

use crate::chance::Chance;
use crate::patterns::Crack;
use crate::photo::{Made, Recipe, cracks, taken_again};

/// How far a board has come, and what its photo is like.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stage {
    /// Share of the recipe's cracks that are there, the first of the pattern's order, 0 to 1.
    pub there: f64,
    /// Share of its length that each of them reaches, from its first end, 0 to 1.
    pub reach: f64,
    /// What each is wider than by the recipe, mm.
    pub wider_mm: f64,
    /// Camera place, light and noise follow from it.
    pub photo_seed: u64,
    /// Quarters clockwise that the board is turned in the photo.
    pub quarters: usize,
}

impl Stage {
    /// All cracks of the recipe, in a photo of its own.
    pub const fn whole(photo_seed: u64) -> Self {
        Self { there: 1.0, reach: 1.0, wider_mm: 0.0, photo_seed, quarters: 0 }
    }
}

/// Makes a photo of a recipe's board at a stage: the ground and the places of cracks are the same at every stage, and what is told of
/// cracks is what is there by then. Places of meeting are those of the whole pattern.
///
/// ```
/// use boardmaker::{Pattern, Recipe, Stage, make_at};
/// let recipe = Recipe { photo_px: (600, 400), ..Recipe::usual(1, Pattern::Growing(6)) };
/// let length = |stage: Stage| make_at(&recipe, stage).cracks.iter().map(|crack| crack.length_mm()).sum::<f64>();
/// let (young, old) = (length(Stage { reach: 0.5, ..Stage::whole(7) }), length(Stage::whole(8)));
/// assert!((young / old - 0.5).abs() < 1e-9);
/// ```
pub fn make_at(recipe: &Recipe, stage: Stage) -> Made {
    let (all, _) = cracks(recipe, &mut Chance::new(recipe.seed));
    let count = (stage.there * all.len() as f64).round() as usize;
    let now = all
        .into_iter()
        .take(count)
        .map(|crack| Crack { width_mm: crack.width_mm + stage.wider_mm, points: first_part(&crack, stage.reach) })
        .collect();
    taken_again(recipe, now, stage.photo_seed, stage.quarters)
}

/// Places along a crack up to a share of its length.
fn first_part(crack: &Crack, share: f64) -> Vec<(f64, f64)> {
    let mut left = share.clamp(0.0, 1.0) * crack.length_mm();
    let mut out: Vec<(f64, f64)> = crack.points.iter().take(1).copied().collect();
    for two in crack.points.windows(2) {
        let &[p, q] = two else { continue };
        let piece = f64::hypot(q.0 - p.0, q.1 - p.1);
        if left < piece {
            let t = left / piece;
            out.push((p.0 + (q.0 - p.0) * t, p.1 + (q.1 - p.1) * t));
            break;
        }
        left -= piece;
        out.push(q);
    }
    out
}
