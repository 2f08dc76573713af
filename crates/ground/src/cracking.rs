//! A film held by its support: how far it would shrink, how hard it pulls, and where that suffices for a crack.

use materials::DataError;
use measure::{JoulesPerSquareMetre, Micrometres, Pascals};

use crate::constants::FilmBook;
use crate::release::{Release, cracks_from, mismatch, release};
use crate::shrinkage::{filled_shrinkage, pull};
use crate::stiffness::{filled_stiffness, filled_toughness, with_air};

/// Binders whose stiffness and toughness are known well enough to be drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Protein {
    /// Hide glue, gelatine.
    Glue,
    /// Casein, however it was opened.
    Casein,
}

impl Protein {
    pub(crate) const fn key(self) -> &'static str {
        match self {
            Self::Glue => "glue",
            Self::Casein => "casein",
        }
    }
}

/// Everything besides powder share and critical share that decides how a film holds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Nature {
    /// Of the dry binder alone.
    pub stiffness: Pascals,
    /// Of the dry binder alone.
    pub toughness: JoulesPerSquareMetre,
    /// As the grains act in the film.
    pub grain: Pascals,
    /// Share of the pull that is left once the binder has given way.
    pub relaxation: f64,
    /// How soon grains prop the film.
    pub handover: f64,
    /// In the plane of the board.
    pub support: Pascals,
    pub(crate) steady: Steady,
}

/// Constants that are not drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Steady {
    gel_water: f64,
    softens: f64,
    weakens: f64,
    film_poisson: f64,
    support_poisson: f64,
}

pub(crate) const GIGA: f64 = 1e9;

impl Nature {
    /// The best values for a binder on a support such as `plywood` or `solid-wood.across`.
    ///
    /// # Errors
    /// How stiff this support is is not in the book.
    pub fn best(book: &FilmBook, protein: Protein, support: &str) -> Result<Self, DataError> {
        let value = |key: &str| book.constant(key).map(|constant| constant.value);
        Ok(Self {
            stiffness: Pascals::new(GIGA * value(&format!("stiffness.{}", protein.key()))?),
            toughness: JoulesPerSquareMetre::new(value(&format!("toughness.{}", protein.key()))?),
            grain: Pascals::new(GIGA * value("stiffness.grain")?),
            relaxation: value("relaxation")?,
            handover: value("handover")?,
            support: Pascals::new(GIGA * value(&format!("support.{support}"))?),
            steady: Steady {
                gel_water: value("gel_water")?,
                softens: value("porosity.stiffness")?,
                weakens: value("porosity.strength")?,
                film_poisson: value("poisson.film")?,
                support_poisson: value("poisson.support")?,
            },
        })
    }
}

/// A dry film that its support keeps from shrinking.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Held {
    /// How far it would shrink in one direction if it were free, 0..1.
    pub shrinkage: f64,
    /// How stiff it is.
    pub stiffness: Pascals,
    /// How hard it pulls.
    pub pull: Pascals,
    /// Energy to tear it.
    pub toughness: JoulesPerSquareMetre,
    /// Energy that a crack lets go.
    pub release: Release,
    /// Where the model lets it crack; uncertain several-fold and never shown beyond 1 mm.
    pub cracks_from: Micrometres,
}

/// The film of this powder share and critical share (both 0..1), held by its support. Continuous at the critical share.
///
/// ```
/// use ground::{FilmBook, Nature, Protein, held};
/// let nature = Nature::best(FilmBook::builtin()?, Protein::Glue, "plywood")?;
/// let lean = held(0.8241, 0.6572, &nature);
/// assert!((lean.stiffness.value() / 1.9e9 - 1.0).abs() < 0.02); // about 2 GPa in print (Janas et al. 2022), used in setting the constants
/// # Ok::<(), materials::DataError>(())
/// ```
pub fn held(powder: f64, critical: f64, nature: &Nature) -> Held {
    let steady = &nature.steady;
    let (grains, air) = (powder.min(critical), if powder > critical { 1.0 - critical / powder } else { 0.0 });
    let full = filled_stiffness(nature.stiffness, nature.grain, grains, 2.0);
    let stiffness = Pascals::new(full.value() * with_air(steady.softens, air));
    let shrinkage = filled_shrinkage(powder, critical, steady.gel_water, nature.handover);
    let pull = pull(stiffness, shrinkage, nature.relaxation, steady.film_poisson);
    let toughness = filled_toughness(nature.toughness, grains, air, steady.weakens);
    let alpha = mismatch(stiffness, steady.film_poisson, nature.support, steady.support_poisson);
    let table = FilmBook::builtin().map_or(&[][..], FilmBook::mismatch);
    let release = release(table, alpha);
    Held {
        shrinkage,
        stiffness,
        pull,
        toughness,
        release,
        cracks_from: cracks_from(toughness, stiffness, pull, steady.film_poisson, release.value),
    }
}

#[cfg(test)]
mod tests;
