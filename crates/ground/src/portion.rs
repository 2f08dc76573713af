//! What lies in the pot, as plain quantities: one set, no doubt in sight.

use measure::{Grams, GramsPerMillilitre, Millilitres};

/// What a portion does in the film.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Role {
    /// Powder. Oil absorption in grams of oil per 100 g of powder.
    Filler {
        /// True density of a grain.
        density: GramsPerMillilitre,
        /// Grams of oil that 100 g drink.
        oil_absorption: f64,
    },
    /// Plaster of Paris that has not been slaked: takes water, grows, becomes gypsum.
    Plaster {
        /// Grams of oil that 100 g of the set powder drink.
        oil_absorption: f64,
    },
    /// Dry protein or other solid binder.
    DryBinder {
        /// Density of the dry binder.
        density: GramsPerMillilitre,
    },
    /// Binder in tiny beads, such as acrylic dispersion, which fill gaps worse than a solution does.
    Dispersed {
        /// Density of the dry binder.
        density: GramsPerMillilitre,
        /// Share of its volume that fills gaps as oil would, 0..1 (binder index).
        index: f64,
    },
    /// Oil that stays and dries.
    Oil {
        /// Density.
        density: GramsPerMillilitre,
    },
    /// Water, whether poured or brought in by curd, milk or jelly.
    Water,
    /// Leaves as the film dries.
    Volatile {
        /// Density.
        density: GramsPerMillilitre,
    },
    /// Salts, sugar, lime: stays, counted in mass, left out of the film's volume.
    Other {
        /// Density.
        density: GramsPerMillilitre,
    },
}

/// Density of water at 20 C (g/ml; CRC Handbook 0.9982, rounded as in the trade's own sums).
pub const WATER: GramsPerMillilitre = GramsPerMillilitre::new(0.998);

/// Density of plaster of Paris before it sets, g/ml (calcium sulfate hemihydrate; 2.75, from memory).
pub const HEMIHYDRATE: GramsPerMillilitre = GramsPerMillilitre::new(2.75);

/// Density of gypsum, g/ml (mineral value 2.32, from memory; Gardner 1911 prints 2.3).
pub const GYPSUM: GramsPerMillilitre = GramsPerMillilitre::new(2.32);

/// A mass with its role.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Portion {
    /// How much.
    pub mass: Grams,
    /// As what.
    pub role: Role,
}

impl Portion {
    /// Volume before anything sets or dries.
    pub fn volume(&self) -> Millilitres {
        self.mass
            / match self.role {
                Role::Filler { density, .. }
                | Role::DryBinder { density }
                | Role::Dispersed { density, .. }
                | Role::Oil { density }
                | Role::Volatile { density }
                | Role::Other { density } => density,
                Role::Plaster { .. } => HEMIHYDRATE,
                Role::Water => WATER,
            }
    }
}
