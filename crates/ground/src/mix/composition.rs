//! What an ingredient is made of, in shares of its mass.

use binder::{BinderBook, casein_in_milk, water_in_curd};
use materials::{Catalogue, Family, Kind, Material, MaterialId, Property, Strength};
use measure::{Grams, GramsPerMillilitre, Input, InputKey, Share, Spread};

use super::registry::{Registry, Slot};
use crate::portion::{Portion, Role, WATER};

/// A material ready to be split into portions.
#[derive(Debug, Clone)]
pub(crate) struct Composition {
    makeup: Makeup,
    /// Grams per millilitre as poured or strewn, where the catalogue has it.
    poured: Option<Slot>,
    /// Grams of one piece.
    piece: Option<Slot>,
    filler: bool,
}

#[derive(Debug, Clone)]
enum Makeup {
    Shares(Vec<Part>),
    /// Milk that was curdled and drained: casein and the water that the curd holds stay, the whey leaves.
    Curd {
        protein: Slot,
        casein_share: Slot,
        recovery: Slot,
        curd_water: Slot,
        density: f64,
    },
}

#[derive(Debug, Clone, Copy)]
struct Part {
    share: PartShare,
    role: PartRole,
}

#[derive(Debug, Clone, Copy)]
enum PartShare {
    Fixed(f64),
    Of(Slot),
    Times(Slot, Slot),
    /// What the other shares leave.
    Rest,
}

#[derive(Debug, Clone, Copy)]
enum PartRole {
    Filler { density: Slot, oil: Slot },
    Plaster { oil: Slot },
    DryBinder { density: f64 },
    Dispersed { density: f64, index: Slot },
    Oil,
    Water,
    Volatile { density: f64 },
    Other { density: f64 },
}

/// Why a material can't be split, in a plain sentence.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Unsplit(pub(crate) String);

/// Relative spread (one standard deviation) of an oil absorption between operators: 10 % (from memory).
const OIL_ABSORPTION_SPREAD: f64 = 0.10;
/// Relative spread of the dry matter of a binder as sold: 3 % (model choice).
const DRY_MATTER_SPREAD: f64 = 0.03;
/// Density of salts and sugars where the catalogue has none, g/ml (model choice: they do not enter the film's volume).
const OTHER_DENSITY: f64 = 1.5;
/// Density of fat and oil, g/ml (linseed oil 0.93, from memory).
const OIL_DENSITY: f64 = 0.93;
/// Half the width of a range of nine in ten, in standard deviations.
const NINE_OF_TEN: f64 = 1.645;
/// Strength of a glue size whose strength is not told: best, low, high (mass share).
const SIZE_UNSAID: (f64, f64, f64) = (0.08, 0.065, 0.10);

impl Composition {
    /// Splits a material; `strength` and `said_dry` as told with it.
    pub(crate) fn new(
        jars: &Catalogue,
        material: &Material,
        strength: Option<&Strength>,
        said_dry: bool,
        known: &mut Registry,
    ) -> Result<Self, Unsplit> {
        let parts = match material.kind {
            Kind::Filler => vec![filler(jars, material, known)?],
            Kind::Hazard => return Err(Unsplit(format!("{} is kept here for its warning only and is never worked out", material.name))),
            Kind::Primer | Kind::Support => {
                return Err(Unsplit(format!("what is in {} is not known, so it can't be computed", material.name)));
            }
            Kind::Binder if strength.is_some() => solution(material, strength, known)?,
            _ => shares(material, said_dry, known)?,
        };
        // A solution is poured: its own density counts, not that of the dry granules.
        let poured = if material.kind == Kind::Binder && strength.is_some() { None } else { poured(material, known) };
        Ok(Self { makeup: Makeup::Shares(parts), poured, piece: piece(material, known), filler: material.kind == Kind::Filler })
    }

    /// The curd that this milk gives.
    pub(crate) fn curd_from(milk: &Material, known: &mut Registry) -> Result<Self, Unsplit> {
        let protein = known.slot(even(
            format!("protein.{}", milk.id.as_str()),
            format!("protein in {}", milk.name),
            need(milk, "protein")?,
            "g/100 g",
        ));
        let book = BinderBook::builtin().map_err(|e| Unsplit(e.to_string()))?;
        let constant = |key: &str| book.constant(key).map_err(|e| Unsplit(e.to_string()));
        let mut from_book = |key: &str, plain: &str| -> Result<Slot, Unsplit> {
            let found = constant(key)?;
            let spread = found.range.map_or(Spread::Exact, |(low, high)| Spread::Even(low, high));
            let (plain, source) = (plain.to_owned(), found.source.clone());
            Ok(known.slot(Input { key: InputKey::new(key), plain, best: found.value, spread, unit: "1", source }))
        };
        let casein_share = from_book("casein_share", "how much of milk protein is casein")?;
        let recovery = from_book("recovery", "how much of the casein is caught in the cloth")?;
        // Whether the curd was squeezed is seldom told: dripping is taken, and the range reaches down to squeezed curd.
        let (dripped, squeezed) = (constant("curd_water.drained")?, constant("curd_water.pressed")?);
        let ends = [dripped, squeezed].map(|curd| curd.range.unwrap_or((curd.value, curd.value)));
        let curd_water = known.slot(Input {
            key: InputKey::new("curd_water"),
            plain: "how much water the drained curd holds".into(),
            best: dripped.value,
            spread: Spread::Even(ends.iter().map(|e| e.0).fold(1.0, f64::min), ends.iter().map(|e| e.1).fold(0.0, f64::max)),
            unit: "1",
            source: dripped.source.clone(),
        });
        let makeup = Makeup::Curd { protein, casein_share, recovery, curd_water, density: need(milk, "dry_density")?.value };
        Ok(Self { makeup, poured: poured(milk, known), piece: None, filler: false })
    }

    pub(crate) fn is_filler(&self) -> bool {
        self.filler
    }

    pub(crate) fn has_pieces(&self) -> bool {
        self.piece.is_some()
    }

    /// Grams of one millilitre as it is measured out: loose for powders, true for liquids.
    pub(crate) fn poured_density(&self, values: &[f64]) -> f64 {
        self.poured.map_or_else(|| 1.0 / self.true_volume(1.0, values), |slot| slot.of(values))
    }

    /// Volume in ml of so many grams, without air.
    pub(crate) fn true_volume(&self, grams: f64, values: &[f64]) -> f64 {
        let mut pot = Vec::with_capacity(4);
        self.portions(Grams::new(grams), values, &mut pot);
        pot.iter().map(|portion| portion.volume().value()).sum()
    }

    /// Grams of one piece; 0 if the material is not counted in pieces (the compiler refuses such lines).
    pub(crate) fn piece_grams(&self, values: &[f64]) -> f64 {
        self.piece.map_or(0.0, |slot| slot.of(values))
    }

    /// Adds the portions of so many grams.
    pub(crate) fn portions(&self, grams: Grams, values: &[f64], pot: &mut Vec<Portion>) {
        match &self.makeup {
            Makeup::Shares(parts) => {
                let told: f64 = parts.iter().map(|part| part.share.fixed(values)).sum();
                for part in parts {
                    let share = match part.share {
                        PartShare::Rest => (1.0 - told).max(0.0),
                        other => other.fixed(values),
                    };
                    pot.push(Portion { mass: grams * share, role: part.role.at(values) });
                }
            }
            Makeup::Curd { protein, casein_share, recovery, curd_water, density } => {
                let casein =
                    casein_in_milk(grams, protein.of(values), Share::new(casein_share.of(values)), Share::new(recovery.of(values)));
                let role = Role::DryBinder { density: GramsPerMillilitre::new(*density) };
                pot.push(Portion { mass: casein, role });
                // Refused only for curd that is all water; the shares here are 0.62 to 0.80.
                let water = water_in_curd(casein, Share::new(curd_water.of(values))).unwrap_or(Grams::ZERO);
                pot.push(Portion { mass: water, role: Role::Water });
            }
        }
    }
}

impl PartShare {
    fn fixed(self, values: &[f64]) -> f64 {
        match self {
            Self::Fixed(share) => share,
            Self::Of(slot) => slot.of(values),
            Self::Times(a, b) => a.of(values) * b.of(values),
            Self::Rest => 0.0,
        }
    }
}

impl PartRole {
    fn at(self, values: &[f64]) -> Role {
        let density = GramsPerMillilitre::new;
        match self {
            Self::Filler { density: rho, oil } => Role::Filler { density: density(rho.of(values)), oil_absorption: oil.of(values) },
            Self::Plaster { oil } => Role::Plaster { oil_absorption: oil.of(values) },
            Self::DryBinder { density: rho } => Role::DryBinder { density: density(rho) },
            Self::Dispersed { density: rho, index } => Role::Dispersed { density: density(rho), index: index.of(values) },
            Self::Oil => Role::Oil { density: density(OIL_DENSITY) },
            Self::Water => Role::Water,
            Self::Volatile { density: rho } => Role::Volatile { density: density(rho) },
            Self::Other { density: rho } => Role::Other { density: density(rho) },
        }
    }
}

fn filler(jars: &Catalogue, material: &Material, known: &mut Registry) -> Result<Part, Unsplit> {
    let role = if material.id.as_str() == "plaster-of-paris" {
        // Once set it is gypsum, and gypsum's thirst packs the film.
        let gypsum = jars.material(&MaterialId::new("gypsum")).ok_or_else(|| Unsplit("gypsum is not in the catalogue".into()))?;
        PartRole::Plaster { oil: oil_absorption(gypsum, known)? }
    } else {
        let density = need(material, "density")?;
        let density = known.exact(
            format!("density.{}", material.id.as_str()),
            format!("density of {}", material.name),
            density.value,
            "g/ml",
            &density.source,
        );
        PartRole::Filler { density, oil: oil_absorption(material, known)? }
    };
    Ok(Part { share: PartShare::Fixed(1.0), role })
}

/// Powders whose oil demand is so uncertain between makers that the whole printed range counts, not one operator's spread.
pub(crate) const THIRST_UNKNOWN: [&str; 5] = ["talc", "kaolin", "precipitated-chalk", "diatomite", "diatomite-calcined"];

fn oil_absorption(material: &Material, known: &mut Registry) -> Result<Slot, Unsplit> {
    Ok(known.slot(thirst_input(material, need(material, "oil_absorption")?)))
}

/// How much oil a powder drinks, as an unknown: the spread of operators, or the whole printed range where makers differ.
pub(crate) fn thirst_input(material: &Material, property: &Property) -> Input {
    let by_maker = THIRST_UNKNOWN.contains(&material.id.as_str());
    let spread = match property.range {
        Some((low, high)) if by_maker => Spread::Even(low, high),
        _ => {
            let wide = (NINE_OF_TEN * OIL_ABSORPTION_SPREAD).exp();
            Spread::LogNormal90(property.value / wide, property.value * wide)
        }
    };
    let source = if by_maker { property.source.clone() } else { format!("{}; 10 % between operators, from memory", property.source) };
    Input {
        key: InputKey::new(format!("oil_absorption.{}", material.id.as_str())),
        plain: format!("how much oil {} drinks", material.name),
        best: property.value,
        spread,
        unit: "g/100 g",
        source,
    }
}

fn shares(material: &Material, said_dry: bool, known: &mut Registry) -> Result<Vec<Part>, Unsplit> {
    let mut parts = Vec::new();
    if let Some(dry) = material.property("dry_share") {
        let density = need(material, "dry_density")?.value;
        let role = binder_role(material, density, known);
        let share = if said_dry { PartShare::Fixed(1.0) } else { PartShare::Of(dry_share(material, dry, known)) };
        parts.push(Part { share, role });
        if said_dry {
            return Ok(parts);
        }
    }
    let own = material.property("density").map(|density| density.value);
    let mut add = |name: &str, role: PartRole| {
        if let Some(property) = material.property(name) {
            parts.push(Part { share: PartShare::Fixed(property.value), role });
        }
    };
    add("oil_share", PartRole::Oil);
    add("volatile_share", PartRole::Volatile { density: own.unwrap_or(WATER.value()) });
    add("other_share", PartRole::Other { density: own.filter(|_| material.property("water_share").is_none()).unwrap_or(OTHER_DENSITY) });
    // What opened a binder is left out where it is not known; the painter's own jar tells it.
    if matches!(material.id.as_str(), "casein-solution" | "glue-size") {
        let key = format!("other_share.{}", material.id.as_str());
        let plain = format!("what is in {} beside binder and water", material.name);
        let share = known.exact(key, plain, 0.0, "1", "left out where the jar is not told: model choice");
        parts.push(Part { share: PartShare::Of(share), role: PartRole::Other { density: OTHER_DENSITY } });
    }
    if material.property("water_share").is_some() {
        parts.push(Part { share: PartShare::Rest, role: PartRole::Water });
    }
    if parts.is_empty() {
        return match (material.kind, own) {
            // A few drops of a preservative: counted in mass only.
            (Kind::Additive, density) => {
                Ok(vec![Part { share: PartShare::Fixed(1.0), role: PartRole::Other { density: density.unwrap_or(OTHER_DENSITY) } }])
            }
            _ => Err(Unsplit(format!(
                "how much of {} stays when it dries is not known; read the tin or dry a weighed spoonful",
                material.name
            ))),
        };
    }
    Ok(parts)
}

/// A binder told as a solution: "10 % glue size", "glue size 1:10", or a size of unsaid strength.
fn solution(material: &Material, strength: Option<&Strength>, known: &mut Registry) -> Result<Vec<Part>, Unsplit> {
    let density = need(material, "dry_density")?.value;
    // For a material that is a liquid by itself (glue size) the strength told replaces the catalogue's; powders keep their own moisture.
    let liquid = matches!(material.id.as_str(), "glue-size" | "casein-solution");
    let id = material.id.as_str();
    let (best, spread, source) = match strength {
        Some(Strength::Percent(range)) => (range.middle() / 100.0, even_or_exact(range.low / 100.0, range.high / 100.0), "as told"),
        Some(Strength::OneToWater(range)) => {
            let share = |water: f64| 1.0 / (1.0 + water);
            (share(range.middle()), even_or_exact(share(range.high), share(range.low)), "as told")
        }
        _ if liquid => return shares(material, false, known),
        _ => (
            SIZE_UNSAID.0,
            Spread::Even(SIZE_UNSAID.1, SIZE_UNSAID.2),
            "glue for gesso 6.5-10 %: studio handbooks after Mayer, gilders' instructions",
        ),
    };
    let strength = known.slot(Input {
        key: InputKey::new(format!("strength.{id}.{}", (best * 1e4).round())),
        plain: format!("how strong the {} is", material.name),
        best,
        spread,
        unit: "1",
        source: source.to_owned(),
    });
    let share = match material.property("dry_share").filter(|_| !liquid) {
        Some(dry) => PartShare::Times(strength, dry_share(material, dry, known)),
        None => PartShare::Times(strength, dry_matter(material, known)),
    };
    Ok(vec![Part { share, role: binder_role(material, density, known) }, Part { share: PartShare::Rest, role: PartRole::Water }])
}

fn binder_role(material: &Material, density: f64, known: &mut Registry) -> PartRole {
    if material.family == Family::Acrylic {
        PartRole::Dispersed { density, index: binder_index(material, known) }
    } else {
        PartRole::DryBinder { density }
    }
}

/// How well beads of plastic fill gaps: 0.5 to 0.9 of what as much oil would (from memory).
fn binder_index(material: &Material, known: &mut Registry) -> Slot {
    known.slot(Input {
        key: InputKey::new(format!("binder_index.{}", material.id.as_str())),
        plain: format!("how well {} fills the gaps, beside oil", material.name),
        best: 0.7,
        spread: Spread::Even(0.5, 0.9),
        unit: "1",
        source: "binder index of acrylic dispersions, from memory (Patton 1979; reviewed by Lestarquit, Prog. Org. Coat. 90 (2016) 200)"
            .into(),
    })
}

fn dry_share(material: &Material, dry: &Property, known: &mut Registry) -> Slot {
    match dry.range {
        Some(_) => known.slot(even(
            format!("dry_share.{}", material.id.as_str()),
            format!("how much dry binder is in {}", material.name),
            dry,
            "1",
        )),
        None => dry_matter(material, known),
    }
}

fn dry_matter(material: &Material, known: &mut Registry) -> Slot {
    let value = material.property("dry_share").filter(|dry| dry.range.is_none()).map_or(1.0, |dry| dry.value);
    known.slot(Input {
        key: InputKey::new(format!("dry_matter.{}", material.id.as_str())),
        plain: format!("how dry the {} is as weighed", material.name),
        best: value,
        spread: Spread::Normal(DRY_MATTER_SPREAD * value),
        unit: "1",
        source: "3 % spread: model choice".to_owned(),
    })
}

fn poured(material: &Material, known: &mut Registry) -> Option<Slot> {
    let loose = material.property("bulk_density");
    let property = loose.or_else(|| material.property("density"))?;
    let spread = match property.range {
        Some((low, high)) if loose.is_some() && low > 0.0 => Spread::LogNormal90(low, high),
        Some((low, high)) => Spread::Even(low, high),
        None => Spread::Exact,
    };
    let (key, plain) = if loose.is_some() {
        ("bulk_density", format!("what a level cup of {} weighs", material.name))
    } else {
        ("density", format!("density of {}", material.name))
    };
    Some(known.slot(Input {
        key: InputKey::new(format!("{key}.{}", material.id.as_str())),
        plain,
        best: property.value,
        spread,
        unit: "g/ml",
        source: property.source.clone(),
    }))
}

fn piece(material: &Material, known: &mut Registry) -> Option<Slot> {
    if let Some(mass) = material.property("piece_mass") {
        return Some(known.slot(even(format!("piece.{}", material.id.as_str()), format!("what one {} weighs", material.name), mass, "g")));
    }
    let volume = material.property("piece_volume")?;
    let density = material.property("density").map_or(1.0, |density| density.value);
    let mut as_mass = volume.clone();
    as_mass.value *= density;
    as_mass.range = volume.range.map(|(low, high)| (low * density, high * density));
    Some(known.slot(even(format!("piece.{}", material.id.as_str()), format!("what one {} gives", material.name), &as_mass, "g")))
}

fn even(key: String, plain: String, property: &Property, unit: &'static str) -> Input {
    let spread = property.range.map_or(Spread::Exact, |(low, high)| Spread::Even(low, high));
    Input { key: InputKey::new(key), plain, best: property.value, spread, unit, source: property.source.clone() }
}

pub(crate) fn even_or_exact(low: f64, high: f64) -> Spread {
    if high > low { Spread::Even(low, high) } else { Spread::Exact }
}

fn need<'a>(material: &'a Material, name: &str) -> Result<&'a Property, Unsplit> {
    material.property(name).ok_or_else(|| Unsplit(format!("the {} of {} is not known", name.replace('_', " "), material.name)))
}
