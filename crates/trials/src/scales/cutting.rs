//! Which cut suits which thickness.

use measure::Micrometres;

use super::{ScaleBook, ScaleId};

/// Whether the board gives under the knife.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BoardFeel {
    /// Metal, glass, hardboard.
    Hard,
    /// Wood, plywood, card.
    Soft,
}

/// One test with knife and tape and the thicknesses that it is meant for.
#[derive(Debug, Clone, PartialEq)]
pub struct Cut {
    /// The standard that sets the limits.
    pub standard: String,
    /// The scale on which it is read.
    pub scale: ScaleId,
    /// For grounds thicker than this.
    pub above: Micrometres,
    /// Up to this thickness; `None` has no upper end.
    pub up_to: Option<Micrometres>,
    /// For boards that feel like this; `None` for any.
    pub board: Option<BoardFeel>,
    /// Distance between the lines of a grid; `None` for two crossed lines.
    pub spacing: Option<Micrometres>,
    /// Where the limits come from.
    pub source: String,
}

impl ScaleBook {
    /// The cuts that suit a dry ground of this thickness on such a board.
    ///
    /// ```
    /// use measure::Micrometres;
    /// use trials::scales::{BoardFeel, ScaleBook};
    /// let cuts = ScaleBook::builtin()?.cuts(Micrometres::new(300.0), BoardFeel::Soft);
    /// assert!(cuts.iter().all(|cut| cut.scale.as_str() == "x_cut"));
    /// # Ok::<(), trials::causes::DataError>(())
    /// ```
    pub fn cuts(&self, dry: Micrometres, board: BoardFeel) -> Vec<&Cut> {
        let fits =
            |cut: &&Cut| dry > cut.above && cut.up_to.is_none_or(|most| dry <= most) && cut.board.is_none_or(|wanted| wanted == board);
        self.cuts.iter().filter(fits).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Scale and spacing in millimetres of every cut that fits.
    fn cuts(um: f64, board: BoardFeel) -> Vec<(String, f64)> {
        let book = ScaleBook::builtin().unwrap();
        let told = |cut: &&Cut| (cut.scale.as_str().to_owned(), cut.spacing.map_or(0.0, |spacing| spacing.value() / 1000.0));
        book.cuts(Micrometres::new(um), board).iter().map(told).collect()
    }

    #[test]
    fn the_cut_goes_with_the_thickness() {
        // ISO 2409 to 250 um with 1, 2, 3 mm; ASTM D3359 B to 125 um, A above: the scopes as the standards state them.
        let named = |name: &str, mm: f64| (name.to_owned(), mm);
        assert_eq!(cuts(100.0, BoardFeel::Soft), [named("cross_cut", 2.0), named("cross_cut", 2.0)]);
        assert_eq!(cuts(126.0, BoardFeel::Soft), [named("cross_cut", 3.0), named("x_cut", 0.0)]);
        assert_eq!(cuts(300.0, BoardFeel::Soft), [named("x_cut", 0.0)]);
        assert_eq!(cuts(60.0, BoardFeel::Hard).first(), Some(&named("cross_cut", 1.0)));
        assert_eq!(cuts(60.0, BoardFeel::Soft).first(), Some(&named("cross_cut", 2.0)));
        assert!(cuts(f64::NAN, BoardFeel::Soft).is_empty() && cuts(0.0, BoardFeel::Hard).is_empty());
    }
}
