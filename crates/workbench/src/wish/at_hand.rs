//! What is at hand, what must not go in, what powder is wished for: names in the painter's words.

use std::collections::BTreeMap;

use materials::{Kind, Material, MaterialId, Wishes, read};
use measure::{Dimension, Grams, GramsPerMillilitre, Measures, Packing, Share, VesselError, VesselSet};

use super::wrong;
use crate::Workbench;
use crate::milk::MilkFormError;

/// A stuff that was named, by all that the word may mean.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Named {
    pub(super) ids: Vec<MaterialId>,
}

impl Named {
    /// Whether the name covers this stuff: "borax" covers borax with five waters too.
    pub(super) fn is(&self, id: &str) -> bool {
        self.ids.iter().any(|known| known.as_str() == id || id.strip_prefix(known.as_str()).is_some_and(|rest| rest.starts_with('-')))
    }
}

/// Grams of each stuff at hand; `None` where it was not said how much there is.
pub(crate) type AtHand = BTreeMap<MaterialId, Option<f64>>;

/// Names in a list, one between semicolons, commas or line ends.
pub(super) fn listed(text: &str) -> impl Iterator<Item = &str> {
    // A comma parts names only with a blank behind it: "0,5 kg" is half a kilogram.
    text.split([';', '\n'])
        .flat_map(|part| part.split(", "))
        .flat_map(|part| part.split(" and "))
        .map(str::trim)
        .filter(|part| !part.is_empty())
}

impl Workbench {
    /// All that a name may mean.
    pub(super) fn stuff_named(&self, words: &str) -> Option<Named> {
        let lower = words.trim().to_lowercase();
        let mut ids: Vec<MaterialId> = self.jars.by_name(&lower).iter().map(|(id, _)| id.clone()).collect();
        if ids.is_empty() {
            let reading = [lower.clone(), format!("100 g {lower}")]
                .iter()
                .map(|text| read(self.jars, &self.units, text, &Wishes::new()))
                .find(|reading| !reading.lines.is_empty())?;
            ids = reading.lines.first()?.material.candidates.iter().map(|(id, _)| id.clone()).collect();
        }
        (!ids.is_empty()).then_some(Named { ids })
    }

    /// The powder that is wished for.
    pub(super) fn wished_powder(&self, words: &str) -> Result<Named, MilkFormError> {
        let named = self.stuff_named(words);
        let first =
            named.as_ref().and_then(|named| named.ids.iter().find(|id| self.jars.material(id).is_some_and(|m| m.kind == Kind::Filler)));
        match first {
            Some(id) if self.never(id) => {
                let name = self.jars.material(id).map_or(words, |material| material.name.as_str());
                Err(wrong(
                    "with",
                    format!("{name} is not proposed here: its caution speaks against it; take chalk, or another white powder"),
                ))
            }
            Some(id) => Ok(Named { ids: vec![id.clone()] }),
            None => Err(wrong(
                "with",
                format!("“{words}” is no white powder that is known here; name one as the jars have it, such as “chalk”"),
            )),
        }
    }

    /// Powders that are never proposed: burnt diatomite and quartz for their dust, talc for what is said of it, plaster since it sets.
    pub(super) fn never(&self, id: &MaterialId) -> bool {
        let dangerous = |material: &Material| {
            material.kind == Kind::Hazard || self.jars.hazards_of(&material.id).any(|hazard| crate::verdict::grave(&hazard.h_codes))
        };
        id.as_str() == "plaster-of-paris"
            || self.jars.material(id).is_none_or(|material| material.kind != Kind::Alkali && dangerous(material))
    }

    /// What is at hand, as told; `None` where nothing is said, so that anything of the book may be taken.
    pub(super) fn told_at_hand(&self, text: &str, notes: &mut Vec<String>) -> Result<Option<AtHand>, MilkFormError> {
        let mut found = AtHand::new();
        for words in listed(text) {
            self.amounts_read("shelf", words)?;
            let reading = read(self.jars, &self.units, words, &Wishes::new());
            let line = reading.lines.first().filter(|line| self.quantity(line, &mut Vec::new()).is_some());
            let told = line.and_then(|line| Some((self.first(line)?, self.quantity(line, &mut Vec::new())?)));
            let (material, grams) = match told {
                Some((material, (Dimension::Volume, ml))) => (material.id.clone(), Some(ml * loose(material))),
                Some((material, (_, grams))) => (material.id.clone(), Some(grams)),
                None => {
                    let Some(id) = self.stuff_named(words).and_then(|named| named.ids.first().cloned()) else {
                        notes.push(format!("Of what is at hand, “{words}” was not understood."));
                        continue;
                    };
                    (id, None)
                }
            };
            // Two jars of one stuff are one heap; a jar whose content is not said sets no bound.
            let heap = found.entry(material).or_insert(Some(0.0));
            *heap = heap.zip(grams).map(|(heap, grams)| heap + grams);
        }
        if found.is_empty() && !text.trim().is_empty() {
            return Err(wrong(
                "shelf",
                "nothing in it is known here; name the stuffs as the jars have them, such as “500 g chalk; hide glue”",
            ));
        }
        Ok((!found.is_empty()).then_some(found))
    }
}

/// Grams of a millilitre as it is spooned out.
pub(crate) fn loose(material: &Material) -> f64 {
    material.property("bulk_density").or_else(|| material.property("density")).map_or(1.0, |loose| loose.value)
}

/// How near cups and spoons should come, as a share (model choice).
const SPOONED: f64 = 0.03;

/// Level cups and spoons of something that weighs so many grams a millilitre as it is spooned.
pub(crate) fn spooned(grams: Grams, loose: f64, set: &VesselSet) -> Result<Measures, VesselError> {
    measure::measures(grams, Packing::Loose(GramsPerMillilitre::new(loose)), set, Share::new(SPOONED))
}
