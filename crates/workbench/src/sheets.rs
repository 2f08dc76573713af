//! What is printed of a recipe: amounts in grams and cups, steps with the caution at its step, and a card for the kitchen wall.

mod steps;

pub(crate) use steps::PROTECTION;

use materials::{Kind, Material};
use measure::{Grams, GramsPerMillilitre, Input, Packing, Share, VesselSet, measures};
use show::paper::{CardAmount, CardStep, Day as PaperDay, RecipeCardView};

use crate::verdict::{TextError, VerdictRequest, Worked};
use crate::{VERSION, Workbench};

/// How far cups and spoons may be off before the card asks for a scale: 3 % (judgement, no source).
const CLOSE: f64 = 0.03;

/// What is printed of a recipe.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Making {
    /// What goes in.
    pub(crate) amounts: Vec<CardAmount>,
    /// How.
    pub(crate) steps: Vec<CardStep>,
    /// Allergens, in a sentence; empty if none is known.
    pub(crate) allergens: String,
    /// Hazards in one line, for a label.
    pub(crate) hazards: String,
}

/// "made with groundproof 0.1.0".
pub(crate) fn made_with() -> String {
    format!("made with groundproof {VERSION}")
}

/// A day of the calendar as the papers know it.
pub(crate) fn paper_day(day: notebook::Day) -> PaperDay {
    let year = u16::try_from(day.year).unwrap_or(1);
    PaperDay::new(year, day.month, day.day).unwrap_or(PaperDay::FIRST)
}

impl Workbench {
    /// A recipe for the kitchen wall.
    ///
    /// # Errors
    /// The text can't be taken, or holds nothing with an amount.
    pub fn recipe_card(
        &self,
        request: &VerdictRequest,
        title: &str,
        makes: &str,
        today: notebook::Day,
        invented: bool,
    ) -> Result<RecipeCardView, TextError> {
        let worked = self.work(request)?;
        let making = self.making(&worked);
        Ok(RecipeCardView {
            title: if title.trim().is_empty() { "A ground".to_owned() } else { title.trim().to_owned() },
            language: "en".into(),
            date: paper_day(today),
            made_with: made_with(),
            invented,
            makes: makes.to_owned(),
            amounts: making.amounts,
            steps: making.steps,
            allergens: making.allergens,
        })
    }

    /// Amounts, steps and cautions of a recipe that was worked out.
    pub(crate) fn making(&self, worked: &Worked) -> Making {
        self.making_times(worked, 1.0)
    }

    /// The same so many times as large.
    pub(crate) fn making_times(&self, worked: &Worked, times: f64) -> Making {
        let values = worked.mix.best();
        let mut amounts = Vec::new();
        let mut materials: Vec<&Material> = Vec::new();
        let grams = worked.mix.grams(&values);
        for (index, line) in worked.reading.lines.iter().enumerate() {
            let Some(material) = line.material.first().and_then(|id| self.jars.material(id)) else { continue };
            if !materials.iter().any(|known| known.id == material.id) {
                materials.push(material);
            }
            let mass = grams.iter().find(|(at, _)| *at == index).map(|(_, mass)| *mass * times);
            amounts.push(CardAmount {
                name: material.name.clone(),
                grams: mass.map_or_else(|| "as told".to_owned(), |mass| format!("{}\u{a0}g", show::plain(mass.value()))),
                kitchen: mass.map_or_else(String::new, |mass| in_cups(material, mass, worked.mix.inputs())),
            });
        }
        Making { amounts, steps: self.steps(&materials, worked), allergens: allergens(&materials), hazards: self.hazard_line(&materials) }
    }

    /// Hazard codes of what is in it, in one line.
    fn hazard_line(&self, materials: &[&Material]) -> String {
        let mut codes: Vec<String> = Vec::new();
        for material in materials {
            for hazard in self.jars.hazards_of(&material.id) {
                if hazard.h_codes != "not classified" && !hazard.h_codes.is_empty() {
                    codes.push(format!("{}: {}", material.name, hazard.h_codes));
                }
            }
        }
        codes.dedup();
        codes.join("; ")
    }
}

/// Cups and spoons of a US set, by the painter's own weighing where there is one.
fn in_cups(material: &Material, mass: Grams, inputs: &[Input]) -> String {
    let own = |key: &str| {
        let key = format!("{key}.{}", material.id.as_str());
        inputs.iter().find(|input| input.key.as_str() == key).map(|input| input.best)
    };
    let loose =
        own("bulk_density").or_else(|| material.property("bulk_density").or_else(|| material.property("density")).map(|found| found.value));
    let Some(loose) = loose else { return String::new() };
    measures(mass, Packing::Loose(GramsPerMillilitre::new(loose)), &VesselSet::US, Share::new(CLOSE))
        .map_or_else(|_| String::new(), |told| show::measures(&told))
}

/// Listed food allergens in what is used (Regulation (EU) No 1169/2011, annex II; from memory).
fn allergens(materials: &[&Material]) -> String {
    let mut found: Vec<&str> = Vec::new();
    for material in materials {
        let id = material.id.as_str();
        let allergen = if matches!(material.kind, Kind::Milk) || id.contains("casein") || id.contains("curd") || id == "quark" {
            Some("milk")
        } else if id.contains("egg") {
            Some("egg")
        } else if id.contains("fish") || id.contains("isinglass") {
            Some("fish")
        } else {
            None
        };
        if let Some(allergen) = allergen.filter(|allergen| !found.contains(allergen)) {
            found.push(allergen);
        }
    }
    if found.is_empty() { String::new() } else { format!("Contains {}, a listed food allergen.", found.join(" and ")) }
}
