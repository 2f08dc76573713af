//! What a painter says before curdling.

use materials::MaterialId;
use measure::{Celsius, Grams, Millilitres, Unit};

use crate::acid::Acid;
use crate::dissolve::Base;

/// How much milk.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum MilkAmount {
    /// By volume.
    Volume(Millilitres),
    /// By weight.
    Mass(Grams),
}

/// Which milk.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum MilkKind {
    /// Cream taken off.
    Skim,
    /// Some cream left.
    PartSkim,
    /// All its cream.
    Whole,
    /// Skim milk dried, told by weight and made up as usual.
    Powder,
}

impl MilkKind {
    /// Its jar in the catalogue.
    pub fn material(self) -> MaterialId {
        MaterialId::new(match self {
            Self::Skim => "skim-milk",
            Self::PartSkim => "part-skim-milk",
            Self::Whole => "whole-milk",
            Self::Powder => "skim-milk-powder",
        })
    }

    /// The milk in this jar; `None` if it is no milk of a cow.
    pub fn from_material(id: &MaterialId) -> Option<Self> {
        [Self::Skim, Self::PartSkim, Self::Whole, Self::Powder].into_iter().find(|kind| kind.material() == *id)
    }
}

/// What is at hand to curdle with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum AcidSource {
    /// Vinegar of any colour.
    Vinegar,
    /// Juice by volume.
    LemonJuice,
    /// Whole lemons, counted.
    Lemon,
    /// Crystals.
    CitricAcid,
    /// The thick solution that is sold.
    LacticAcid,
    /// The fuming solution; no kitchen needs it.
    HydrochloricAcid,
    /// No acid at all; [`crate::BinderError::Rennet`] says why it is the wrong thing here.
    Rennet,
}

impl AcidSource {
    /// What this jar is for curdling; `None` if it curdles nothing.
    ///
    /// ```
    /// use binder::AcidSource;
    /// assert_eq!(AcidSource::from_material(&materials::MaterialId::new("cider-vinegar")), Some(AcidSource::Vinegar));
    /// ```
    pub fn from_material(id: &MaterialId) -> Option<Self> {
        Some(match id.as_str() {
            "vinegar" | "cider-vinegar" => Self::Vinegar,
            "lemon-juice" => Self::LemonJuice,
            "lemon" => Self::Lemon,
            "citric-acid" => Self::CitricAcid,
            "lactic-acid" => Self::LacticAcid,
            "hydrochloric-acid" => Self::HydrochloricAcid,
            "rennet" => Self::Rennet,
            _ => return None,
        })
    }

    /// The acid in it; `None` for rennet.
    pub const fn acid(self) -> Option<Acid> {
        match self {
            Self::Vinegar => Some(Acid::Acetic),
            Self::LemonJuice | Self::Lemon | Self::CitricAcid => Some(Acid::Citric),
            Self::LacticAcid => Some(Acid::Lactic),
            Self::HydrochloricAcid => Some(Acid::Hydrochloric),
            Self::Rennet => None,
        }
    }

    /// Acetic acid that eats as much base from the curdling point up to neutral, mol for a mol: citric acid has kept two of its
    /// three protons there, near enough, and vinegar's one; a strong acid has none left (model choice, from the bonds in `equilibria.csv`).
    pub(crate) const fn eats(self) -> f64 {
        match self {
            Self::LemonJuice | Self::Lemon | Self::CitricAcid => 2.0,
            Self::Vinegar | Self::LacticAcid => 1.0,
            Self::HydrochloricAcid | Self::Rennet => 0.0,
        }
    }

    /// How it is measured.
    pub const fn unit(self) -> AcidUnit {
        match self {
            Self::Vinegar | Self::LemonJuice => AcidUnit::Millilitres,
            Self::Lemon => AcidUnit::Pieces,
            Self::CitricAcid | Self::LacticAcid | Self::HydrochloricAcid | Self::Rennet => AcidUnit::Grams,
        }
    }

    /// In the painter's words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Vinegar => "vinegar",
            Self::LemonJuice => "lemon juice",
            Self::Lemon => "lemon",
            Self::CitricAcid => "citric acid",
            Self::LacticAcid => "lactic acid",
            Self::HydrochloricAcid => "hydrochloric acid",
            Self::Rennet => "rennet",
        }
    }

    /// Strengths on a label that can be true, in per cent. Judgement, no source.
    pub(crate) const fn strengths(self) -> (f64, f64) {
        match self {
            Self::Vinegar => (1.0, 15.0),
            Self::LemonJuice | Self::Lemon => (1.0, 10.0),
            Self::CitricAcid => (50.0, 100.0),
            Self::LacticAcid => (1.0, 95.0),
            Self::HydrochloricAcid | Self::Rennet => (1.0, 40.0),
        }
    }
}

/// How an acid is measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum AcidUnit {
    /// By volume.
    Millilitres,
    /// Counted.
    Pieces,
    /// By weight.
    Grams,
}

impl AcidUnit {
    /// The unit of a figure in it.
    pub const fn unit(self) -> Unit {
        match self {
            Self::Millilitres => Unit::Millilitres,
            Self::Pieces => Unit::One,
            Self::Grams => Unit::Grams,
        }
    }

    /// In words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Millilitres => "millilitres or grams",
            Self::Pieces => "pieces",
            Self::Grams => "grams",
        }
    }
}

/// How much acid there is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum AcidAmount {
    /// By volume; for vinegar and juice.
    Volume(Millilitres),
    /// By weight; for all but whole lemons.
    Mass(Grams),
    /// Counted; for lemons.
    Pieces(f64),
}

/// The acid at hand.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AcidAtHand {
    /// What it is.
    pub source: AcidSource,
    /// How much there is, if that is asked about.
    pub amount: Option<AcidAmount>,
    /// Strength as printed, in per cent: g of acid in 100 ml of vinegar or juice, in 100 g of the others. `None`: the usual.
    pub strength: Option<f64>,
}

/// How the curd is drained.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum CurdState {
    /// Dripped in a cloth.
    Drained,
    /// Squeezed by hand.
    Squeezed,
    /// Scooped out and not drained.
    Scooped,
}

/// From milk to curd: what is at hand and how it is done.
#[derive(Debug, Clone, PartialEq)]
pub struct MilkRequest {
    /// How much milk.
    pub milk: MilkAmount,
    /// Which milk.
    pub kind: MilkKind,
    /// Whether it was hot before (boiled, or UHT from the shelf).
    pub heated_before: bool,
    /// What curdles it: the acid that is asked about.
    pub acid: AcidAtHand,
    /// Other acids that go in as well, each with its amount.
    pub others: Vec<AcidAtHand>,
    /// Water that goes in as well.
    pub water: Millilitres,
    /// How warm the milk is, if known.
    pub warmth: Option<Celsius>,
    /// How often the curd is rinsed.
    pub washes: u32,
    /// Water of one rinse.
    pub wash: Millilitres,
    /// How it is drained.
    pub state: CurdState,
    /// What opens it, if that is asked for.
    pub base: Option<Base>,
}
