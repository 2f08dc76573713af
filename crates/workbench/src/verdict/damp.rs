//! Damp weather, again and again, in words: it ranks thick against thin and tells no number.

use ground::{FilmBook, Nature, damp_spells};
use measure::Micrometres;

use super::Worked;
use super::hold::placed;
use crate::Workbench;

impl Workbench {
    /// Whether this very ground counts among the thick or the thin ones.
    pub(super) fn damp(&self, worked: &Worked, support: &str) -> String {
        let (thick, thin) = match self.stands_damp(worked, support) {
            Some(true) => ("", " such as this"),
            Some(false) => (" such as this", ""),
            None => ("", ""),
        };
        format!("Damp weather, again and again, can crack a thick sound ground{thick}; a thin one{thin} is safer.")
    }

    /// Whether damp spells never suffice at this thickness, at the best values; `None` where that is not known, or where drying alone
    /// already suffices.
    fn stands_damp(&self, worked: &Worked, support: &str) -> Option<bool> {
        let (ranges, book) = (placed(worked).ok()?, FilmBook::builtin().ok()?);
        // A plank is asked across its grain, where it gives most.
        let side = if support == "solid-wood" { "solid-wood.across" } else { support };
        let nature = Nature::best(book, self.protein_of_mix(&worked.mix)?, side).ok()?;
        let thickness = Micrometres::new(ranges.dry().value * f64::from(worked.coats));
        let damp = damp_spells(book, ranges.best.pvc, ranges.best.cpvc, &nature, thickness).ok()?;
        (damp.needed > 0.0).then_some(damp.spells.is_none())
    }
}
