//! A told amount turned into grams, millilitres, parts ... of a material, with what was taken for granted.

use measure::{Dimension, UnitId, Units};

use super::lexicon::{COUNTED, Lexicon};
use super::model::{Amount, Fill, NotGiven, PartBasis, Pick, Range, Span};
use super::nodes::{AmountNode, Told};
use super::questions::{Asker, Candidate, slug};
use super::signals::Signal;
use crate::catalogue::{Kind, Material};

/// What the whole text says about measures.
#[derive(Debug, Clone, Default)]
pub(super) struct Customs {
    /// Parts by weight or by volume, if the text says one of them.
    pub basis: Option<PartBasis>,
    /// Bare numbers are parts.
    pub bare_parts: bool,
    /// Bare numbers are per cents: "all % by weight".
    pub bare_percent: bool,
    /// `pts` are parts, not pints.
    pub points_are_parts: bool,
    /// Measures of unknown size that are used for several things, so that they count parts.
    pub shared_vessels: Vec<UnitId>,
    /// Whose cups, said for all.
    pub region: Option<super::nodes::Region>,
}

/// Turns amounts into their final form.
pub(super) struct Measurer<'a, 'b, 'w> {
    pub units: &'a Units,
    pub lexicon: &'a Lexicon,
    pub customs: &'a Customs,
    pub asker: &'b mut Asker<'w>,
}

/// Which likelihood an unsaid part has of being by volume.
const PART_BY_VOLUME: f64 = 0.6;

impl Measurer<'_, '_, '_> {
    /// The amount and the sentences about what was guessed.
    pub(super) fn amount(&mut self, told: &AmountNode, material: Option<&Material>, span: Span) -> (Amount, Vec<String>) {
        let mut guessed: Vec<String> = told.notes.iter().filter(|note| !note.is_empty()).cloned().collect();
        let number = told.number;
        if number.high <= 0.0 && !matches!(told.told, Told::Relative { .. } | Told::PerLiquid(_) | Told::Eye) {
            return (Amount::NotGiven(NotGiven::Absurd), guessed);
        }
        let amount = match &told.told {
            Told::Unit(word) => self.unit(*word, told, material, span, &mut guessed),
            Told::Part(basis) => Amount::Parts { number, basis: self.basis(*basis, span) },
            Told::Percent if number.high <= 100.0 => Amount::PercentOfWhole { number },
            Told::PerLiquid(value) => Amount::VolumePerLiquid { number: Range::one(*value) },
            Told::Bare => self.bare(told, material, span, &mut guessed),
            Told::Eye => Amount::NotGiven(NotGiven::ByEye),
            Told::Absurd | Told::Percent => Amount::NotGiven(NotGiven::Absurd),
            Told::Ratio(_) | Told::Relative { .. } => Amount::NotGiven(NotGiven::Missing),
        };
        (amount, guessed)
    }

    fn basis(&mut self, said: Option<PartBasis>, span: Span) -> Pick<PartBasis> {
        if let Some(basis) = said.or(self.customs.basis) {
            return Pick::sure(basis);
        }
        let candidates = vec![
            Candidate {
                value: PartBasis::Volume,
                weight: PART_BY_VOLUME,
                id: "volume".to_owned(),
                label: "by volume (cups, jars)".to_owned(),
            },
            Candidate {
                value: PartBasis::Weight,
                weight: 1.0 - PART_BY_VOLUME,
                id: "weight".to_owned(),
                label: "by weight (on a scale)".to_owned(),
            },
        ];
        self.asker.pick("parts:basis", "Are the parts measured by volume or by weight?", candidates, span)
    }

    fn bare(&mut self, told: &AmountNode, material: Option<&Material>, span: Span, guessed: &mut Vec<String>) -> Amount {
        let number = told.number;
        if material.is_some_and(|material| COUNTED.contains(&material.id.as_str())) {
            return Amount::Pieces { number };
        }
        if self.customs.bare_percent && number.high <= 100.0 {
            return Amount::PercentOfWhole { number };
        }
        if self.customs.bare_parts {
            return Amount::Parts { number, basis: self.basis(None, span) };
        }
        if number.high < 1.0 {
            // "a third titanium white": a share of something, not a third of a gram.
            return Amount::NotGiven(NotGiven::Missing);
        }
        let liquid = material.is_some_and(is_liquid);
        let word = if liquid { "ml" } else { "g" };
        guessed.push(format!("no unit was told: taken as {}", if liquid { "millilitres" } else { "grams" }));
        match self.units.by_word(word).first() {
            Some((id, _)) if liquid => Amount::Volume { number, unit: Pick::sure(*id), fill: Fill::Unsaid },
            Some((id, _)) => Amount::Mass { number, unit: Pick::sure(*id) },
            None => Amount::NotGiven(NotGiven::SizeUnknown),
        }
    }

    fn unit(&mut self, word: u32, told: &AmountNode, material: Option<&Material>, span: Span, guessed: &mut Vec<String>) -> Amount {
        let number = told.number;
        let text = self.lexicon.unit(word).unwrap_or_default().to_owned();
        let mut meanings = self.units.by_word(&text).to_vec();
        let liquid = material.is_some_and(is_liquid);
        let points = matches!(text.as_str(), "pt" | "pts") && told.region.is_none();
        if points && (self.customs.points_are_parts || self.customs.bare_parts || material.is_some_and(|m| m.kind == Kind::Filler)) {
            return Amount::Parts { number, basis: self.basis(None, span) };
        }
        self.by_number(&text, number, &mut meanings);
        self.narrow(told, &mut meanings, guessed);
        // "5 oz of water by weight" leaves no doubt about the ounce.
        let fluid = liquid && self.customs.basis != Some(PartBasis::Weight);
        if fluid && told.region.is_none() && meanings.first().is_some_and(|(id, _)| self.units.get(*id).id == "ounce") {
            let spoken: Vec<(UnitId, f64)> = self.units.by_word("fl oz").iter().copied().map(|(id, weight)| (id, weight * 0.7)).collect();
            meanings.retain(|(id, _)| self.units.get(*id).dimension == Dimension::Mass);
            meanings.truncate(1);
            meanings = spoken.into_iter().chain(meanings.into_iter().map(|(id, _)| (id, 0.3))).collect();
            meanings.sort_by(|a, b| b.1.total_cmp(&a.1));
        } else if !fluid && meanings.iter().any(|(id, _)| self.units.get(*id).dimension == Dimension::Mass) {
            meanings.retain(|(id, _)| self.units.get(*id).dimension == Dimension::Mass);
        }
        let Some((first, _)) = meanings.first().copied() else { return Amount::NotGiven(NotGiven::SizeUnknown) };
        let unit = self.units.get(first);
        match unit.dimension {
            Dimension::Count => return Amount::Pieces { number: number.times(unit.value.unwrap_or(1.0)) },
            Dimension::Volume if unit.value.is_none() => {
                if self.customs.shared_vessels.contains(&first) {
                    guessed.push(format!("the same {text} measures several things, so it counts parts by volume"));
                    return Amount::Parts { number, basis: Pick::sure(PartBasis::Volume) };
                }
                guessed.push(format!("how much one {text} holds is not known"));
                return Amount::NotGiven(NotGiven::SizeUnknown);
            }
            _ => {}
        }
        let mixed = meanings.iter().any(|(id, _)| self.units.get(*id).dimension == Dimension::Volume);
        let pick = self.pick_unit(&text, &meanings, span);
        if let (true, Some(first)) = (pick.candidates.len() > 1, pick.first()) {
            guessed.push(format!("{text} taken as {}", self.label(*first, &text)));
        }
        if mixed { Amount::Volume { number, unit: pick, fill: told.fill } } else { Amount::Mass { number, unit: pick } }
    }

    /// "5 gr" of alum may be grains; "50 gr" can only be grams.
    fn by_number(&self, text: &str, number: Range, meanings: &mut Vec<(UnitId, f64)>) {
        if text.starts_with("gr") && number.high >= 5.0 {
            let grams: Vec<_> = meanings.iter().filter(|(id, _)| self.units.get(*id).id == "gram").copied().collect();
            if !grams.is_empty() {
                *meanings = grams;
            }
        }
    }

    /// Leaves the meanings that the told region and size allow.
    fn narrow(&self, told: &AmountNode, meanings: &mut Vec<(UnitId, f64)>, guessed: &mut Vec<String>) {
        if let Some(region) = told.region.or(self.customs.region) {
            let kept: Vec<_> = meanings.iter().filter(|(id, _)| self.units.get(*id).region == region.name()).copied().collect();
            if !kept.is_empty() {
                *meanings = kept;
            }
        }
        if let Some(size) = told.size {
            let wanted = if size == Signal::Small { "teaspoon" } else { "tablespoon" };
            let kept: Vec<_> = meanings.iter().filter(|(id, _)| self.units.get(*id).id.starts_with(wanted)).copied().collect();
            if !kept.is_empty() && kept.len() < meanings.len() {
                guessed.push(format!("a {} spoon is taken as a {wanted}", if size == Signal::Small { "small" } else { "big" }));
                *meanings = kept;
            }
        }
        let mut seen: Vec<UnitId> = Vec::new();
        meanings.retain(|(id, _)| {
            let fresh = !seen.contains(id);
            seen.push(*id);
            fresh
        });
    }

    fn pick_unit(&mut self, text: &str, meanings: &[(UnitId, f64)], span: Span) -> Pick<UnitId> {
        if let [(id, _)] = meanings {
            return Pick::sure(*id);
        }
        let regions: Vec<&str> = meanings.iter().map(|(id, _)| self.units.get(*id).region.as_str()).collect();
        let parted_by_region = regions.iter().enumerate().all(|(at, region)| !regions.get(..at).unwrap_or(&[]).contains(region));
        let candidates = meanings
            .iter()
            .map(|(id, weight)| {
                let unit = self.units.get(*id);
                let short = if parted_by_region && !unit.region.is_empty() { slug(&unit.region) } else { unit.id.clone() };
                Candidate { value: *id, weight: *weight, id: short, label: self.label(*id, text) }
            })
            .collect();
        // "tbsp" and "tablespoon" are one question; "oz", which is a weight or a volume, keeps its word.
        let stem = |id: UnitId| self.units.get(id).id.rsplit_once('-').map(|(stem, _)| stem);
        let shared = meanings.first().and_then(|(id, _)| stem(*id)).filter(|first| meanings.iter().all(|(id, _)| stem(*id) == Some(first)));
        let one = shared.map_or_else(|| singular(text).to_owned(), |stem| stem.replace('-', " "));
        self.asker.pick(&format!("unit:{}", slug(&one)), &format!("Which {one} is meant?"), candidates, span)
    }

    /// What the painter reads: "US cup".
    fn label(&self, id: UnitId, text: &str) -> String {
        let unit = self.units.get(id);
        let plain = unit.id.rsplit_once('-').map_or(unit.id.as_str(), |(base, _)| base).replace('-', " ");
        match unit.region.as_str() {
            "US" | "UK" | "metric" | "Australia" if plain.contains(' ') || plain.len() > 2 => {
                format!("{} {plain}", if unit.region == "Australia" { "Australian" } else { &unit.region })
            }
            "international" if unit.dimension == Dimension::Mass => format!("{plain} by weight"),
            _ if plain.is_empty() => text.to_owned(),
            _ => plain,
        }
    }
}

/// The word for one of it.
fn singular(text: &str) -> &str {
    match text.strip_suffix('s') {
        Some(one) if one.len() >= 2 && !one.ends_with('s') && !matches!(one, "g") => one,
        _ => text,
    }
}

/// Stuff that pours.
pub(super) fn is_liquid(material: &Material) -> bool {
    matches!(material.kind, Kind::Liquid | Kind::Milk | Kind::Oil) && material.id.as_str() != "skim-milk-powder"
        || matches!(
            material.id.as_str(),
            "vinegar"
                | "cider-vinegar"
                | "lemon-juice"
                | "acetic-acid"
                | "lactic-acid"
                | "ammonia-5"
                | "ammonia-25"
                | "glue-size"
                | "casein-solution"
                | "acrylic-ground"
                | "shop-primer"
                | "pva-glue"
                | "acrylic-medium"
                | "plant-milk"
                | "goat-milk"
                | "buttermilk"
                | "condensed-milk"
                | "magnesia-milk"
                | "glycerol"
                | "honey"
                | "clove-oil"
                | "hydrochloric-acid"
        )
}
