//! From a pot to the film that it leaves: shares, air, thickness.

use measure::{Grams, GramsPerMillilitre, GramsPerSquareMetre, Micrometres, Millilitres};

use crate::packing::{RUB_OUT_OIL, dispersed_share};
use crate::plaster::set_plaster;
use crate::portion::{GYPSUM, Portion, Role, WATER};

/// Why a pot is no film.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum FilmError {
    /// No powder at all.
    #[error("there is no powder in the pot, so there is no ground to judge; name the powder and how much")]
    NoPowder,
    /// Neither glue nor casein nor oil.
    #[error("there is no binder in the pot, so nothing holds the powder; name the glue, casein or curd and how much")]
    NoBinder,
}

/// The film that a pot leaves. Masses are after plaster has set.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Film {
    /// Powder's share of the dry solids by volume, 0..1.
    pub pvc: f64,
    /// The share at which binder just fills the gaps between the grains, 0..1.
    pub cpvc: f64,
    /// Air in the dry film, share of its volume, 0..1.
    pub porosity: f64,
    /// Share of the wet mass that stays, salts counted, 0..1.
    pub solids_mass: f64,
    /// Share of powder and binder in the wet volume, 0..1.
    pub solids_volume: f64,
    /// Density of the pot.
    pub wet_density: GramsPerMillilitre,
    /// Dry thickness over wet thickness: the film can only shrink in thickness.
    pub dry_over_wet: f64,
    /// Grams of dry binder per 100 g of powder.
    pub binder_per_100_powder: f64,
    /// Powder.
    pub filler: Grams,
    /// Dry binder.
    pub binder: Grams,
    /// Free water.
    pub water: Grams,
    /// What leaves besides water.
    pub volatile: Grams,
    /// Salts, lime, sugar.
    pub other: Grams,
    /// Volume of the powder.
    pub filler_volume: Millilitres,
    /// Volume of the dry binder.
    pub binder_volume: Millilitres,
}

impl Film {
    /// Powder share over critical share: above 1 there is air in the film (Bierwagen and Hay 1975, "reduced PVC").
    pub fn lambda(&self) -> f64 {
        self.pvc / self.cpvc
    }
    /// Dry thickness of a coat laid this thick.
    pub fn dry(&self, wet: Micrometres) -> Micrometres {
        wet * self.dry_over_wet
    }
    /// Wet thickness of the coat that dried to this.
    pub fn wet(&self, dry: Micrometres) -> Micrometres {
        dry / self.dry_over_wet
    }
    /// Dry thickness of a coat of this wet mass on a square metre (1 ml on 1 m2 is 1 um).
    pub fn dry_of(&self, laid: GramsPerSquareMetre) -> Micrometres {
        self.dry(Micrometres::new(laid.value() / self.wet_density.value()))
    }
    /// Wet mass on a square metre of a coat laid this thick (1 um on 1 m2 is 1 ml).
    pub fn laid(&self, wet: Micrometres) -> GramsPerSquareMetre {
        GramsPerSquareMetre::new(self.wet_density.value() * wet.value())
    }
}

/// The film that these portions leave.
///
/// PVC = Vf / (Vf + Vb). Below the critical share the dry film is as large as its solids; above it the packing of the grains sets
/// its volume, Vf / CPVC, and the rest is air. Continuous at the critical share. Salts and lime count in the mass and in the wet
/// volume, not in the dry film.
///
/// # Errors
/// No powder, or no binder.
///
/// ```
/// use ground::{Portion, Role, film};
/// use measure::{Grams, GramsPerMillilitre as D, Micrometres};
/// let pot = [
///     Portion { mass: Grams::new(100.0), role: Role::Filler { density: D::new(2.71), oil_absorption: 18.0 } },
///     Portion { mass: Grams::new(10.0), role: Role::DryBinder { density: D::new(1.27) } },
///     Portion { mass: Grams::new(100.0), role: Role::Water },
/// ];
/// let film = film(&pot)?;
/// assert!((film.pvc - 0.8241).abs() < 1e-4);                              // 36.900 / 44.774 ml
/// assert!((film.dry(Micrometres::new(100.0)).value() - 38.73).abs() < 0.04);
/// # Ok::<(), ground::FilmError>(())
/// ```
pub fn film(pot: &[Portion]) -> Result<Film, FilmError> {
    film_as_stirred(pot, Stirred::SMOOTH)
}

/// How a pot packs beside a rubbed paste.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stirred {
    /// Share of its binder that is truly dissolved, as far as filling gaps goes: below 1 for curd with grains left in it.
    pub dissolved: f64,
    /// Critical share beside that of a rubbed paste: 1 for a smooth pot, 0.8 to 1 with lumps (model choice).
    pub packing: f64,
}

impl Stirred {
    /// All binder dissolved and no lumps.
    pub const SMOOTH: Self = Self { dissolved: 1.0, packing: 1.0 };
}

/// The same for a pot that is not smooth.
///
/// # Errors
/// No powder, or no binder.
pub fn film_as_stirred(pot: &[Portion], stirred: Stirred) -> Result<Film, FilmError> {
    let mut sums = Sums::default();
    let mut solid = 0.0;
    let mut gaps = 0.0;
    let mut filling = 0.0;
    let mut plaster = Grams::ZERO;
    let mut plaster_oil = 0.0;
    for portion in pot {
        sums.wet_volume = sums.wet_volume + portion.volume();
        match portion.role {
            Role::Filler { oil_absorption, .. } => {
                solid += portion.volume().value();
                gaps += portion.mass.value() * oil_absorption / (100.0 * RUB_OUT_OIL.value());
                sums.filler = sums.filler + portion.mass;
            }
            Role::Plaster { oil_absorption } => {
                plaster = plaster + portion.mass;
                plaster_oil = oil_absorption;
            }
            Role::DryBinder { .. } | Role::Oil { .. } => {
                sums.binder = sums.binder + portion.mass;
                sums.binder_volume = sums.binder_volume + portion.volume();
                filling += portion.volume().value();
            }
            Role::Dispersed { index, .. } => {
                sums.binder = sums.binder + portion.mass;
                sums.binder_volume = sums.binder_volume + portion.volume();
                filling += index * portion.volume().value();
            }
            Role::Water => sums.water = sums.water + portion.mass,
            Role::Volatile { .. } => {
                sums.volatile = sums.volatile + portion.mass;
                sums.leaving_volume = sums.leaving_volume + portion.volume();
            }
            Role::Other { .. } => sums.other = sums.other + portion.mass,
        }
    }
    if plaster.value() > 0.0 {
        let set = set_plaster(plaster, sums.water);
        let before = plaster / crate::portion::HEMIHYDRATE + sums.water / WATER;
        sums.water = set.free_water;
        sums.filler = sums.filler + set.gypsum + set.left;
        solid += set.solid.value();
        // The set crystals are gypsum: their oil demand is taken on the mass of gypsum and plaster left.
        gaps += (set.gypsum + set.left).value() * plaster_oil / (100.0 * RUB_OUT_OIL.value());
        let after = set.gypsum / GYPSUM + set.left / crate::portion::HEMIHYDRATE + set.free_water / WATER;
        sums.wet_volume = sums.wet_volume + after - before;
    }
    if solid <= 0.0 {
        return Err(FilmError::NoPowder);
    }
    if sums.binder_volume.value() <= 0.0 {
        return Err(FilmError::NoBinder);
    }
    let index = stirred.dissolved * filling / sums.binder_volume.value();
    let rubbed = dispersed_share(solid / (solid + gaps), index);
    Ok(sums.film(Millilitres::new(solid), stirred.packing * rubbed))
}

#[derive(Default)]
struct Sums {
    filler: Grams,
    binder: Grams,
    water: Grams,
    volatile: Grams,
    other: Grams,
    binder_volume: Millilitres,
    leaving_volume: Millilitres,
    wet_volume: Millilitres,
}

impl Sums {
    fn film(&self, filler_volume: Millilitres, cpvc: f64) -> Film {
        let solids = filler_volume + self.binder_volume;
        let pvc = filler_volume / solids;
        let (dry, porosity) = if pvc <= cpvc { (solids, 0.0) } else { (filler_volume / cpvc, 1.0 - cpvc / pvc) };
        let wet = solids + self.water / WATER + self.leaving_volume;
        let staying = self.filler + self.binder + self.other;
        let mass = staying + self.water + self.volatile;
        Film {
            pvc,
            cpvc,
            porosity,
            solids_mass: staying / mass,
            solids_volume: solids / wet,
            wet_density: mass / self.wet_volume,
            // A stiff paste can hold so little water that the packed film would be thicker than the wet one: it can't grow.
            dry_over_wet: (dry / wet).min(1.0),
            binder_per_100_powder: 100.0 * (self.binder / self.filler),
            filler: self.filler,
            binder: self.binder,
            water: self.water,
            volatile: self.volatile,
            other: self.other,
            filler_volume,
            binder_volume: self.binder_volume,
        }
    }
}

#[cfg(test)]
mod tests;
