//! What the catalogue holds.

use std::collections::HashMap;
use std::sync::Arc;

use measure::Standing;

/// Short name of a material, such as `natural-chalk`.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct MaterialId(Arc<str>);

impl MaterialId {
    /// From its short name; whether the catalogue holds it is another matter.
    pub fn new(id: &str) -> Self {
        Self(Arc::from(id))
    }
    /// The short name.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

/// What a material does in a ground.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// White powder.
    Filler,
    /// Holds the powder.
    Binder,
    /// Milk: binder once it is curdled.
    Milk,
    /// Dissolves casein.
    Alkali,
    /// Curdles milk.
    Acid,
    /// Water and what leaves.
    Liquid,
    /// Drying oils.
    Oil,
    /// Small additions.
    Additive,
    /// Ready-made primer.
    Primer,
    /// Boards.
    Support,
    /// Only a danger to know about.
    Hazard,
}

/// Families of binder. Only protein grounds have a place on the rule from lean to rich.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Family {
    /// Milk protein.
    Casein,
    /// Casein with lime.
    LimeCasein,
    /// Hide glue, gelatine.
    Glue,
    /// Drying oil.
    Oil,
    /// Egg.
    Egg,
    /// Acrylic dispersion.
    Acrylic,
    /// Cellulose glue.
    Cellulose,
    /// None of these.
    None,
}

/// A value with unit, range and source.
#[derive(Debug, Clone, PartialEq)]
pub struct Property {
    /// Its name, such as `bulk_density`.
    pub name: String,
    /// Best value.
    pub value: f64,
    /// Likely range, if known.
    pub range: Option<(f64, f64)>,
    /// Unit as written in the file.
    pub unit: String,
    /// Where it comes from.
    pub source: String,
}

impl Property {
    /// How well the value is founded, judged by what its source says.
    pub fn standing(&self) -> Standing {
        let source = self.source.to_lowercase();
        if source.contains("common practice") || source.contains("judgement") {
            Standing::CommonPractice
        } else if source.contains("model choice") {
            Standing::ModelChoice
        } else if source.contains("memory") {
            Standing::FromMemory
        } else if ["computed", "own derivation", "own arithmetic", "the rest", "by definition", "formula", "atomic masses"]
            .iter()
            .any(|word| source.contains(word))
        {
            Standing::Computed
        } else {
            Standing::Published
        }
    }
}

/// One material.
#[derive(Debug, Clone, PartialEq)]
pub struct Material {
    /// Short name.
    pub id: MaterialId,
    /// The painter's word.
    pub name: String,
    /// The chemist's word or formula; may be empty.
    pub chemist: String,
    /// What it does.
    pub kind: Kind,
    /// Which family of binder.
    pub family: Family,
    /// One plain sentence.
    pub plain: String,
    /// Its numbers.
    pub properties: Vec<Property>,
}

impl Material {
    /// A number of it by name.
    pub fn property(&self, name: &str) -> Option<&Property> {
        self.properties.iter().find(|property| property.name == name)
    }
}

/// What a safety data sheet usually says, and the caution of the trade.
#[derive(Debug, Clone, PartialEq)]
pub struct Hazard {
    /// Name of the group of materials.
    pub group: String,
    /// Materials that it stands for.
    pub materials: Vec<MaterialId>,
    /// CAS numbers, as written.
    pub cas: String,
    /// H statements, as written.
    pub h_codes: String,
    /// Signal word, as written.
    pub signal_word: String,
    /// GHS pictogram codes.
    pub pictograms: Vec<String>,
    /// The caution in plain words.
    pub caution: String,
    /// Where it comes from.
    pub source: String,
    /// Date of the source, where it gives one.
    pub as_of: String,
}

/// How a dissolved binder is made, as far as powders care.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum BinderKind {
    /// Casein dissolved with soda or potash.
    SodaCasein,
    /// Casein dissolved with borax.
    BoraxCasein,
    /// Casein dissolved with ammonia or its carbonate.
    AmmoniaCasein,
    /// Casein with lime.
    LimeCasein,
    /// Hide glue or gelatine.
    Glue,
}

/// What a powder does to a binder.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Verdict {
    /// They go together.
    Good,
    /// The pot thickens.
    Thickens,
    /// The binder clots.
    Curdles,
    /// The powder sets.
    Sets,
    /// Gas comes up.
    Foams,
    /// The pot stiffens.
    Stiffens,
    /// Not known.
    Unknown,
}

/// A powder and a binder in one pot.
#[derive(Debug, Clone, PartialEq)]
pub struct Pair {
    /// The powders.
    pub fillers: Vec<MaterialId>,
    /// The binder.
    pub binder: BinderKind,
    /// What happens.
    pub verdict: Verdict,
    /// Why, in a plain sentence.
    pub why: String,
    /// `print` or `argued`.
    pub standing: String,
    /// Where it comes from.
    pub source: String,
}

/// One row of a handbook recipe.
#[derive(Debug, Clone, PartialEq)]
pub struct HandbookRow {
    /// Recipe, R01 to R34.
    pub id: String,
    /// Its name.
    pub name: String,
    /// Its binder.
    pub binder: String,
    /// Ingredient or step.
    pub ingredient: String,
    /// Amount as printed; may be empty.
    pub amount: String,
    /// Unit as printed.
    pub unit: String,
    /// Remark.
    pub note: String,
    /// Where it was read.
    pub source: String,
    /// Whether the place was read (or is from memory).
    pub verified: bool,
}

/// Everything in the jars.
#[derive(Debug, Clone)]
pub struct Catalogue {
    pub(crate) materials: Vec<Material>,
    pub(crate) index: HashMap<MaterialId, usize>,
    pub(crate) names: HashMap<String, Vec<(MaterialId, f64)>>,
    pub(crate) hazards: Vec<Hazard>,
    pub(crate) pairs: Vec<Pair>,
    pub(crate) handbook: Vec<HandbookRow>,
}

impl Catalogue {
    /// All materials, in the order of the file.
    pub fn materials(&self) -> &[Material] {
        &self.materials
    }
    /// A material by its short name.
    pub fn material(&self, id: &MaterialId) -> Option<&Material> {
        self.index.get(id).and_then(|at| self.materials.get(*at))
    }
    /// Materials that a word (lower case) may mean, likeliest first, with weights.
    pub fn by_name(&self, word: &str) -> &[(MaterialId, f64)] {
        self.names.get(word).map_or(&[], Vec::as_slice)
    }
    /// Every name with what it may mean.
    pub fn names(&self) -> impl Iterator<Item = (&str, &[(MaterialId, f64)])> {
        self.names.iter().map(|(name, meanings)| (name.as_str(), meanings.as_slice()))
    }
    /// All cautions.
    pub fn hazards(&self) -> &[Hazard] {
        &self.hazards
    }
    /// The cautions that concern a material.
    pub fn hazards_of<'a>(&'a self, id: &'a MaterialId) -> impl Iterator<Item = &'a Hazard> {
        self.hazards.iter().filter(move |hazard| hazard.materials.contains(id))
    }
    /// What this powder does to this binder, if it is known.
    pub fn pair(&self, filler: &MaterialId, binder: BinderKind) -> Option<&Pair> {
        self.pairs.iter().find(|pair| pair.binder == binder && pair.fillers.contains(filler))
    }
    /// All pairs.
    pub fn pairs(&self) -> &[Pair] {
        &self.pairs
    }
    /// Rows of the handbook recipes.
    pub fn handbook(&self) -> &[HandbookRow] {
        &self.handbook
    }
}
