//! The form's words as quantities.

use binder::{AcidAmount, AcidAtHand, AcidSource, AcidUnit, Base, CurdState, MilkAmount, MilkKind, MilkRequest};
use ground::FilmRanges;
use materials::{Amount, Kind, Line, Material, MaterialId, Setting, Strength, Wishes, read};
use measure::{Celsius, Dimension, Grams, Millilitres, Sides, SquareMetres};
use show::plain;

use super::{MilkForm, MilkFormError, face};
use crate::{BOARD_SIDES, Workbench};

/// The form, read.
pub(crate) struct Told<'a> {
    pub(crate) request: MilkRequest,
    pub(crate) milk: &'a Material,
    pub(crate) milk_text: String,
    pub(crate) acid_material: MaterialId,
    pub(crate) powder: &'a Material,
    pub(crate) base: Base,
    pub(crate) face: SquareMetres,
    /// What was taken for granted.
    pub(crate) taken: Vec<String>,
}

/// Sizes and counts beyond which a form is a slip of the hand.
const MOST_BOARDS: u32 = 500;
const MOST_COATS: u32 = 20;
const MOST_MILK_L: f64 = 200.0;

impl Workbench {
    pub(super) fn told(&self, form: &MilkForm) -> Result<Told<'_>, MilkFormError> {
        let mut taken = Vec::new();
        let wrong = |field: &'static str, what: &str| MilkFormError::Field { field, what: what.to_owned() };
        if !(1..=MOST_BOARDS).contains(&form.boards) {
            return Err(wrong("boards", "the number of boards lies between 1 and 500"));
        }
        if !(1..=MOST_COATS).contains(&form.coats) {
            return Err(wrong("coats", "the number of coats lies between 1 and 20"));
        }
        let (milk, amount) = self.milk_told(&form.milk, &mut taken)?;
        let kind = MilkKind::from_material(&milk.id)
            .filter(|kind| *kind != MilkKind::Powder)
            .ok_or_else(|| wrong("milk", "this is not liquid milk; say how much skim, part-skim or whole milk, such as “2 l skim milk”"))?;
        let (acid, acid_material) = self.acid_told(&form.acid, &mut taken)?;
        let powder = self.powder_told(&form.powder)?;
        let base = self
            .named(&form.base, Kind::Alkali)
            .and_then(|material| Base::from_material(&material.id))
            .filter(|base| *base != Base::Lime)
            .ok_or_else(|| wrong("base", "casein is dissolved here with baking soda, ammonium carbonate, ammonia or borax; lime is worked in excess and is not computed"))?;
        if matches!(base, Base::CausticSoda | Base::WashingSoda | Base::SodaAsh | Base::StrongAmmonia) {
            return Err(wrong(
                "base",
                "this alkali is too strong for a painter's casein: it burns, and it cuts the casein up; take baking soda or ammonium carbonate",
            ));
        }
        let face = self.size_told(&form.size)?;
        let warmth = match form.warmth_c {
            Some(warmth) if !(0.0..=95.0).contains(&warmth) => {
                return Err(wrong("warmth", "milk is between 0 and 95 °C; leave it empty if it was not measured"));
            }
            other => other.map(Celsius::new),
        };
        let text = form.milk.split_whitespace().collect::<Vec<_>>().join(" ");
        let volume = match amount {
            MilkAmount::Volume(ml) => ml.value(),
            MilkAmount::Mass(g) => g.value(),
        };
        let request = MilkRequest {
            milk: amount,
            kind,
            heated_before: was_heated(&form.milk),
            acid,
            others: Vec::new(),
            water: Millilitres::ZERO,
            warmth,
            washes: 3,
            wash: Millilitres::new(volume / 4.0),
            state: CurdState::Drained,
            base: Some(base),
        };
        Ok(Told { request, milk, milk_text: text, acid_material, powder, base, face, taken })
    }

    pub(crate) fn milk_told(&self, text: &str, taken: &mut Vec<String>) -> Result<(&Material, MilkAmount), MilkFormError> {
        let wrong = |what: &str| MilkFormError::Field { field: "milk", what: what.to_owned() };
        // That it was hot is asked of the whole text elsewhere; the reader knows no such word of milk.
        let text = &without_heat(text);
        let reading = read(self.jars, &self.units, text, &Wishes::new());
        if text.trim_start().starts_with(['-', '\u{2212}']) {
            return Err(wrong("the amount of milk lies above 0 and up to 200 l"));
        }
        if let Some(struck) = reading.struck().next() {
            let what = format!("“{}” is not understood; say how much of which milk, such as “2 l skim milk”", struck.span.of(text).trim());
            return Err(wrong(&what));
        }
        if reading.lines.len() > 1 {
            return Err(wrong("name one milk here; work two milks out one by one"));
        }
        let line =
            reading.lines.first().ok_or_else(|| wrong("say how much of which milk, such as “2 l skim milk” or “1 US gallon skim milk”"))?;
        let material = self.first(line).filter(|m| m.kind == Kind::Milk).ok_or_else(|| {
            wrong("this is not fresh milk of a cow that casein can be made from here; say how much skim, part-skim or whole milk")
        })?;
        if line.material.candidates.len() > 1 {
            taken.push(format!("Milk without a word for its cream was taken as {}.", material.name));
        }
        let amount = match self.quantity(line, taken) {
            Some((Dimension::Volume, ml)) => MilkAmount::Volume(Millilitres::new(ml)),
            Some((_, g)) => MilkAmount::Mass(Grams::new(g)),
            None => {
                return Err(wrong(
                    "the amount is missing or can't be read; say it in l, ml, cups, pints, quarts, gallons or g, such as “2 l skim milk”",
                ));
            }
        };
        let litres = match amount {
            MilkAmount::Volume(ml) => ml.value() / 1000.0,
            MilkAmount::Mass(g) => g.value() / 1000.0,
        };
        if litres <= 0.0 || litres > MOST_MILK_L {
            return Err(wrong("the amount of milk lies above 0 and up to 200 l"));
        }
        Ok((material, amount))
    }

    pub(crate) fn acid_told(&self, text: &str, taken: &mut Vec<String>) -> Result<(AcidAtHand, MaterialId), MilkFormError> {
        let wrong = |what: &str| MilkFormError::Field { field: "acid", what: what.to_owned() };
        if text.trim().is_empty() {
            taken.push("No acid was named: white vinegar was taken.".into());
            return Ok((AcidAtHand { source: AcidSource::Vinegar, amount: None, strength: None }, MaterialId::new("vinegar")));
        }
        let reading = read(self.jars, &self.units, text, &Wishes::new());
        let acids =
            reading.lines.iter().filter(|line| self.first(line).is_some_and(|m| AcidSource::from_material(&m.id).is_some())).count();
        if acids > 1 {
            return Err(wrong("name one acid here; how much is enough is told for it alone"));
        }
        let line = reading.lines.iter().find(|line| self.first(line).is_some_and(|m| AcidSource::from_material(&m.id).is_some()));
        let material = line
            .and_then(|line| self.first(line))
            .or_else(|| self.named(text, Kind::Acid))
            .ok_or_else(|| wrong("curdle with vinegar, lemon, lemon juice or citric acid; say how much if you want to know whether it is enough, such as “1 lemon”"))?;
        if material.id.as_str() == "hydrochloric-acid" {
            return Err(wrong("hydrochloric acid has no place in a kitchen: it burns skin, eyes and lungs; vinegar does the same work"));
        }
        let source = AcidSource::from_material(&material.id)
            .ok_or_else(|| wrong("this acid is not known for curdling; take vinegar, lemon or citric acid"))?;
        let amount = match line.map(|line| &line.amount) {
            Some(Amount::Pieces { number }) => Some(AcidAmount::Pieces(number.middle())),
            Some(_) => line.and_then(|line| self.quantity(line, taken)).map(|(dimension, value)| match (dimension, source.unit()) {
                (Dimension::Volume, AcidUnit::Grams) => {
                    let loose =
                        material.property("bulk_density").or_else(|| material.property("density")).map_or(1.0, |density| density.value);
                    AcidAmount::Mass(Grams::new(value * loose))
                }
                (Dimension::Volume, _) => AcidAmount::Volume(Millilitres::new(value)),
                _ => AcidAmount::Mass(Grams::new(value)),
            }),
            None => None,
        };
        let strength = line.and_then(|line| match &line.strength {
            Some(Strength::Percent(range)) => Some(range.middle()),
            _ => None,
        });
        Ok((AcidAtHand { source, amount, strength }, material.id.clone()))
    }

    fn powder_told(&self, text: &str) -> Result<&Material, MilkFormError> {
        let wrong = |what: String| MilkFormError::Field { field: "powder", what };
        let reading = read(self.jars, &self.units, text, &Wishes::new());
        let named = reading.lines.iter().filter_map(|line| line.material.first()).chain(&reading.mentions);
        let mut named: Vec<&Material> = named.filter_map(|id| self.jars.material(id)).collect();
        named.dedup_by(|a, b| a.id == b.id);
        if let Some(danger) = named.iter().copied().find(|m| m.kind == Kind::Hazard).or_else(|| self.named(text, Kind::Hazard)) {
            return Err(wrong(format!("{} is kept here for its warning only; take chalk", danger.name)));
        }
        if named.iter().filter(|m| m.kind == Kind::Filler).count() > 1 {
            return Err(wrong("name one powder here; a blend is worked out as a recipe, on the first page".into()));
        }
        let powder = self
            .named(text, Kind::Filler)
            .ok_or_else(|| wrong("no white powder of this name is in the jars; try chalk, marble dust or gypsum".into()))?;
        if powder.id.as_str() == "plaster-of-paris" {
            return Err(wrong(
                "plaster of Paris sets in the pot, hot enough to burn; slake it first, and then it is gypsum, or take chalk".into(),
            ));
        }
        if FilmRanges::thirst_is_unknown(powder) {
            return Err(wrong(format!(
                "how much binder {} drinks differs twofold between makers, so no amount can be told; take chalk or marble dust, or rub it out first",
                powder.name
            )));
        }
        Ok(powder)
    }

    fn size_told(&self, text: &str) -> Result<SquareMetres, MilkFormError> {
        let reading = read(self.jars, &self.units, text, &Wishes::new());
        let area = reading.settings.iter().find_map(|setting| match setting {
            Setting::AreaSquareMetres(area) => Some(SquareMetres::new(*area)),
            _ => None,
        });
        let wrong = |what: String| MilkFormError::Field { field: "size", what };
        // "20x25cm" alone, without the word board, is a size here all the same.
        let Some(area) = area else {
            let (width, height) = Sides::read(text, &self.units, BOARD_SIDES).map_err(|why| wrong(why.to_string()))?.mm();
            return Ok(face(width, height));
        };
        if (1e-4..=10.0).contains(&area.value()) {
            Ok(area)
        } else {
            Err(wrong("a board of this area is none; say its size as “20 x 25 cm” or “8 x 10 in”".into()))
        }
    }

    pub(crate) fn first(&self, line: &Line) -> Option<&Material> {
        line.material.first().and_then(|id| self.jars.material(id))
    }

    /// The material of this kind that a name means, likeliest first.
    pub(crate) fn named(&self, name: &str, kind: Kind) -> Option<&Material> {
        let name = name.trim().to_lowercase();
        let by_name = self.jars.by_name(&name).iter().filter_map(|(id, _)| self.jars.material(id)).find(|m| m.kind == kind);
        by_name.or_else(|| {
            let reading = read(self.jars, &self.units, &name, &Wishes::new());
            reading
                .lines
                .iter()
                .flat_map(|line| &line.material.candidates)
                .filter_map(|(id, _)| self.jars.material(id))
                .find(|m| m.kind == kind)
        })
    }

    /// Grams or millilitres of a line, at the likeliest reading.
    pub(crate) fn quantity(&self, line: &Line, taken: &mut Vec<String>) -> Option<(Dimension, f64)> {
        let (Amount::Mass { number, unit } | Amount::Volume { number, unit, .. }) = &line.amount else { return None };
        let first = self.units.get(*unit.first()?);
        if unit.candidates.len() > 1 {
            let size = first.value.map_or_else(String::new, plain);
            taken.push(format!(
                "The measure was taken as {} ({size}\u{a0}{}).",
                first.region,
                if first.dimension == Dimension::Mass { "g" } else { "ml" }
            ));
        }
        Some((first.dimension, number.middle() * first.value?))
    }
}

/// Words that say that milk was hot before.
const HEATED: [&str; 4] = ["uht", "boiled", "long-life", "h-milk"];

/// Whether the words say that the milk was hot before.
pub(crate) fn was_heated(text: &str) -> bool {
    let lower = text.to_lowercase();
    HEATED.iter().any(|word| lower.contains(word))
}

fn without_heat(text: &str) -> String {
    let kept = |word: &&str| {
        let lower = word.to_lowercase();
        !HEATED.iter().any(|heated| lower.trim_matches(|c: char| !c.is_alphanumeric()) == *heated)
    };
    let words: Vec<&str> = text.split_whitespace().map(|word| if word.eq_ignore_ascii_case("h-milk") { "milk" } else { word }).collect();
    words.into_iter().filter(kept).collect::<Vec<_>>().join(" ")
}
