//! The two things that a recipe is made of: amounts and materials, in the order told.

use super::items::{Item, What};
use super::lexicon::Lexicon;
use super::model::{Fill, PartBasis, Range};
use super::signals::Signal;
use crate::catalogue::MaterialId;

/// In what an amount was told.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Told {
    /// A unit, by index in the lexicon.
    Unit(u32),
    /// Parts; the basis if it stands with them.
    Part(Option<PartBasis>),
    /// Per cent.
    Percent,
    /// A number alone.
    Bare,
    /// `1:1:1`.
    Ratio(Vec<f64>),
    /// So many times as much as something else.
    Relative { factor: f64, of: Of },
    /// So many volumes per volume of what is in the pot.
    PerLiquid(f64),
    /// "a little", "some".
    Eye,
    /// Not a number that can be an amount.
    Absurd,
}

/// What a relative amount refers to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Of {
    /// The ingredient told before.
    Previous,
    /// The material of this node.
    Node(usize),
}

/// Whose cup, pint or ounce.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Region {
    Us,
    Uk,
    Metric,
}

impl Region {
    /// The region that a word names.
    pub(super) fn named(item: &Item) -> Option<Self> {
        [(Signal::Us, Self::Us), (Signal::Uk, Self::Uk), (Signal::Metric, Self::Metric)]
            .into_iter()
            .find(|(signal, _)| item.has(*signal))
            .map(|(_, region)| region)
    }
    /// Its name in the table of units.
    pub(super) const fn name(self) -> &'static str {
        match self {
            Self::Us => "US",
            Self::Uk => "UK",
            Self::Metric => "metric",
        }
    }
}

/// An amount as told.
#[expect(clippy::struct_excessive_bools, reason = "each says one thing of its own about the words")]
#[derive(Debug, Clone, PartialEq)]
pub(super) struct AmountNode {
    pub number: Range,
    pub told: Told,
    pub fill: Fill,
    pub region: Option<Region>,
    /// "small spoon", "big spoon".
    pub size: Option<Signal>,
    pub words: bool,
    pub notes: Vec<String>,
    /// Per litre, per pint: the unit that it was told for, by index in the lexicon.
    pub per: Option<u32>,
    /// Each of the things named.
    pub each: bool,
    /// "used 55 g": outweighs an amount told before it.
    pub used: bool,
    /// Written as a ratio and nothing else: `1:10`.
    pub ratio: bool,
    /// A bag or box: what was bought rather than what goes in.
    pub bought: bool,
}

/// A material as told.
#[expect(clippy::struct_excessive_bools, reason = "each says one thing of its own about the words")]
#[derive(Debug, Clone, PartialEq)]
pub(super) struct NameNode {
    /// What it may be, likeliest first.
    pub meanings: Vec<(MaterialId, f64)>,
    /// The name in the lexicon.
    pub name: u32,
    pub mended: bool,
    /// "no borax".
    pub negated: bool,
    /// Items that helped to choose, such as "slaked".
    pub states: Vec<usize>,
    /// It was said to be dissolved.
    pub liquid: bool,
    pub said_dry: bool,
}

/// An amount or a material.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Sort {
    Amount(AmountNode),
    Name(NameNode),
    /// Corrected, refused or used up: counts no more.
    Gone,
}

/// A node with the items that it covers.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Node {
    pub sort: Sort,
    pub first: usize,
    pub end: usize,
}

impl Node {
    pub(super) fn amount(&self) -> Option<&AmountNode> {
        match &self.sort {
            Sort::Amount(amount) => Some(amount),
            _ => None,
        }
    }
    pub(super) fn name(&self) -> Option<&NameNode> {
        match &self.sort {
            Sort::Name(name) => Some(name),
            _ => None,
        }
    }
    pub(super) fn is_percent(&self) -> bool {
        self.amount().is_some_and(|amount| amount.told == Told::Percent)
    }
}

/// The node of a material name.
pub(super) fn name_node(items: &[Item], at: usize, lexicon: &Lexicon) -> Option<Node> {
    let item = items.get(at)?;
    let What::Name(index) = item.what else { return None };
    let name = lexicon.name(index)?;
    let node = NameNode {
        meanings: name.meanings.clone(),
        name: index,
        mended: item.mended,
        negated: false,
        states: Vec::new(),
        liquid: false,
        said_dry: false,
    };
    Some(Node { sort: Sort::Name(node), first: at, end: at + 1 })
}
