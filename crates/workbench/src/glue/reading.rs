//! Glue, water and ratio as told.

use binder::{BinderBook, BinderError};
use materials::{Amount, Family, Line, Material, Strength, Wishes, read};
use measure::{Dimension, Input, InputKey, Spread};
use show::CurdQuestion;

use super::{GlueForm, Told};
use crate::Workbench;
use crate::milk::MilkFormError;

/// Amounts beyond which a form is a slip of the hand, g.
const MOST: f64 = 200_000.0;
/// Strengths that can be made, per cent: beyond, it is no size but a lump (judgement, no source).
const STRENGTHS: std::ops::RangeInclusive<f64> = 0.1..=60.0;

const TOO_STRONG: &str = "no glue in water is of that strength; it lies between 0.1 and 60 %, and size is about 3 to 7 %";

/// Grams, and least and most where they are in doubt.
type Weight = (f64, Option<(f64, f64)>);

/// What is said about the glue.
struct Glue<'a> {
    material: &'a Material,
    dry: Input,
    /// Water that a made size brings along, g.
    water: f64,
}

fn wrong(field: &'static str, what: impl Into<String>) -> MilkFormError {
    MilkFormError::Field { field, what: what.into() }
}

pub(super) fn input(key: &str, plain: &str, best: f64, spread: Spread, unit: &'static str, source: &str) -> Input {
    Input { key: InputKey::new(key), plain: plain.to_owned(), best, spread, unit, source: source.to_owned() }
}

impl Workbench {
    pub(super) fn glue_told<'a>(&'a self, form: &GlueForm) -> Result<Told<'a>, MilkFormError> {
        let (mut taken, mut questions) = (Vec::new(), Vec::new());
        let form = &self.parted(form)?;
        let parts = parts_told(&form.ratio)?;
        let wanted = self.wanted_told(form)?;
        let glue = if form.glue.trim().is_empty() { None } else { Some(self.glue_amount(&form.glue, &mut taken, &mut questions)?) };
        let poured = if form.water.trim().is_empty() { 0.0 } else { self.water_amount(&form.water, &mut taken)? };
        let hide = self.jars.material(&materials::MaterialId::new("hide-glue"));
        let material = glue.as_ref().map(|glue| glue.material).or(hide).ok_or_else(|| wrong("glue", "no glue stands in the jars"))?;
        let granules = material.property("bulk_density").or_else(|| hide.and_then(|hide| hide.property("bulk_density")));
        let granules = granules.ok_or_else(|| wrong("glue", "what a spoon of it weighs is not known; say its weight in g"))?;
        let spread = granules.range.map_or(Spread::Exact, |(low, high)| Spread::Even(low, high));
        let loose = input("glue_loose", "a loose millilitre of dry glue", granules.value, spread, "g/ml", &granules.source);
        let (dry, brought) = match glue {
            Some(glue) => (glue.dry, glue.water),
            None => (input("glue", "dry glue", 0.0, Spread::Exact, "g", "not told"), 0.0),
        };
        let water = input("glue_water", "water", poured + brought, Spread::Exact, "g", "as told; a millilitre counts as a gram");
        let nothing = dry.best <= 0.0 && parts.is_none();
        if nothing && wanted.is_none() {
            return Err(wrong("glue", "say how much glue, such as “70 g rabbit skin glue”, or a ratio such as “1:10”"));
        }
        if nothing && water.best <= 0.0 {
            return Err(wrong("glue", "say how much glue or how much water there is, such as “70 g rabbit skin glue” or “1 l water”"));
        }
        if dry.best > 0.0 && water.best <= 0.0 && parts.is_none() && wanted.is_none() {
            return Err(wrong("water", "say how much water, such as “1 l”, a ratio such as “1:10”, or what the glue is for"));
        }
        Ok(Told {
            request: binder::GlueRequest { glue: dry, water, loose, parts, wanted: wanted.as_ref().map(|(percent, _)| *percent) },
            wanted_for: wanted.map(|(_, words)| words).unwrap_or_default(),
            material,
            made: brought > 0.0,
            taken,
            questions,
        })
    }

    /// Glue and water told in one breath, or a bare ratio where the glue is told, put where they belong; fields that are told stay.
    fn parted(&self, form: &GlueForm) -> Result<GlueForm, MilkFormError> {
        let text = form.glue.trim();
        let bare = !text.is_empty() && !text.contains(char::is_alphabetic) && text.contains(':');
        if bare && form.ratio.trim().is_empty() {
            return Ok(GlueForm { glue: String::new(), ratio: text.to_owned(), ..form.clone() });
        }
        let reading = read(self.jars, &self.units, text, &Wishes::new());
        let [a, b] = reading.lines.as_slice() else { return Ok(form.clone()) };
        let is_water = |line: &Line| self.first(line).is_some_and(|material| material.id.as_str() == "water");
        if !form.water.trim().is_empty() {
            let twice = is_water(a) != is_water(b);
            return if twice {
                Err(wrong("water", "it is told twice, beside the glue and in its own field; clear one of them"))
            } else {
                Ok(form.clone())
            };
        }
        let of = |line: &Line| line.span.of(text).to_owned();
        Ok(match (is_water(a), is_water(b)) {
            (false, true) => GlueForm { glue: of(a), water: of(b), ..form.clone() },
            (true, false) => GlueForm { glue: of(b), water: of(a), ..form.clone() },
            _ => form.clone(),
        })
    }

    /// Strength wanted, and what it is for in words.
    fn wanted_told(&self, form: &GlueForm) -> Result<Option<(f64, String)>, MilkFormError> {
        let value = |key: &str| self.binder.constant(key).map(|constant| constant.value).map_err(BinderError::from);
        let mut words = form.wanted_for.trim().to_lowercase();
        let usual = match words.as_str() {
            "" => None,
            "size" => Some(value("glue.size_usual")?),
            "gesso" | "first coats" | "gesso, first coats" => {
                words = "gesso, first coats".into();
                Some(value("glue.gesso_high")?)
            }
            "last coats" | "gesso, last coats" => {
                words = "gesso, last coats".into();
                Some(value("glue.gesso_low")?)
            }
            _ => return Err(wrong("for", "it is for size, for gesso or for last coats; say one of these, or a strength in per cent")),
        };
        match form.wanted_percent {
            None => Ok(usual.map(|percent| (percent, words))),
            Some(percent) if STRENGTHS.contains(&percent) => Ok(Some((percent, words))),
            Some(_) => Err(wrong("wanted", "a strength lies between 0.1 and 60 %; size is about 3 to 7 %, glue for gesso 7 to 9 %")),
        }
    }

    fn glue_amount(&self, text: &str, taken: &mut Vec<String>, questions: &mut Vec<CurdQuestion>) -> Result<Glue<'_>, MilkFormError> {
        const SAY: &str =
            "say how much of which glue, such as “70 g rabbit skin glue” or “12 leaves of gelatine”, above 0 and up to 200 kg";
        if percent_in(text).is_some_and(|percent| !STRENGTHS.contains(&percent)) {
            return Err(wrong("glue", TOO_STRONG));
        }
        self.amounts_read("glue", text)?;
        let reading = read(self.jars, &self.units, text, &Wishes::new());
        let line = reading.lines.first().filter(|_| reading.lines.len() == 1).ok_or_else(|| wrong("glue", SAY))?;
        let material = self.first(line).filter(|material| material.family == Family::Glue).ok_or_else(|| wrong("glue", SAY))?;
        if material.id.as_str() == "parchment-clippings" {
            return Err(wrong(
                "glue",
                "how much glue boils out of parchment is not known; dry a weighed spoonful of the size and weigh it again, then say it as “500 g glue size 7 %”",
            ));
        }
        if line.material.candidates.len() > 1 {
            taken.push(format!("That was taken as {}.", material.name));
        }
        let strength = match &line.strength {
            Some(Strength::Percent(percent)) if STRENGTHS.contains(&percent.middle()) => Some(percent.middle() / 100.0),
            Some(Strength::Percent(_)) => {
                return Err(wrong("glue", TOO_STRONG));
            }
            Some(Strength::OneToWater(water)) => Some(1.0 / (1.0 + water.middle())),
            Some(Strength::Unknown) | None => None,
        };
        let (grams, spread) = self.glue_grams(line, material, taken, questions)?.ok_or_else(|| wrong("glue", SAY))?;
        let (low, high) = spread.unwrap_or((grams, grams));
        if !(grams > 0.0 && low > 0.0 && high <= MOST) {
            return Err(wrong("glue", SAY));
        }
        // The reader takes glue in litres for a size; whether that was meant is asked, unless it was called one.
        let liquid = self.told_as_liquid(line);
        let melted = material.id.as_str() == "glue-size" && !(liquid && text.to_lowercase().contains("glue") && !calls_it_size(text));
        match strength {
            None if melted => {
                Err(wrong("glue", "say how strong the size is, such as “500 ml glue size 7 %”; without that nothing can be worked out"))
            }
            None if liquid => Err(wrong(
                "glue",
                "glue told in ml or l may be dry or melted; say dry glue in g or spoons, and melted glue with its strength, such as “500 ml glue size 7 %”",
            )),
            None => {
                // Told by volume, the glue shares its doubt with the weight of a loose millilitre.
                let key = if matches!(line.amount, Amount::Volume { .. }) { "glue_loose" } else { "glue" };
                let spread = spread.map_or(Spread::Exact, |(low, high)| Spread::Even(low, high));
                Ok(Glue { material, dry: input(key, "dry glue", grams, spread, "g", "as told"), water: 0.0 })
            }
            Some(share) => Ok(Glue {
                material,
                dry: input("glue", "dry glue in the size", grams * share, Spread::Exact, "g", "as told, by its strength"),
                water: grams * (1.0 - share),
            }),
        }
    }

    /// Grams of the line, with least and most where they are in doubt; `None` where no amount reads.
    fn glue_grams(
        &self,
        line: &Line,
        material: &Material,
        taken: &mut Vec<String>,
        questions: &mut Vec<CurdQuestion>,
    ) -> Result<Option<Weight>, MilkFormError> {
        let mut ask = |assumed: String| {
            questions.push(CurdQuestion {
                id: "weight:glue".into(),
                ask: "What does the glue weigh, in g?".into(),
                assumed,
                choices: Vec::new(),
                narrows: None,
            });
        };
        if let Amount::Pieces { number } = &line.amount {
            let piece = material
                .property("piece_mass")
                .ok_or_else(|| wrong("glue", "what a piece of this glue weighs is not known; weigh it and say it in g"))?;
            let (low, high) = piece.range.unwrap_or((piece.value, piece.value));
            let (least, most) = (number.low * low, number.high * high);
            ask(format!("{} g to a piece, {} g in all", show::range(low, high), show::range(least, most)));
            return Ok(Some((number.middle() * piece.value, Some((least, most)))));
        }
        let Some((dimension, value)) = self.quantity(line, taken) else { return Ok(None) };
        let number = match &line.amount {
            Amount::Mass { number, .. } | Amount::Volume { number, .. } => *number,
            _ => return Ok(None),
        };
        // "70-85 g" is a range of the painter's own.
        let (few, many) = (value * number.low / number.middle(), value * number.high / number.middle());
        if dimension != Dimension::Volume {
            return Ok(Some((value, (few < many).then_some((few, many)))));
        }
        if let Some(density) = material.property("density") {
            return Ok(Some((value * density.value, None)));
        }
        let loose =
            material.property("bulk_density").ok_or_else(|| wrong("glue", "what a spoon of it weighs is not known; say it in g"))?;
        let (low, high) = loose.range.unwrap_or((loose.value, loose.value));
        if !self.told_as_liquid(line) {
            ask(format!("{} g, poured in loosely", show::range(few * low, many * high)));
        }
        Ok(Some((value * loose.value, Some((few * low, many * high)))))
    }

    /// Whether the amount is one of liquids: ml and l, not spoons and cups.
    fn told_as_liquid(&self, line: &Line) -> bool {
        let Amount::Volume { unit, .. } = &line.amount else { return false };
        unit.first().is_some_and(|unit| ["millilitre", "centilitre", "decilitre", "litre"].contains(&self.units.get(*unit).id.as_str()))
    }

    fn water_amount(&self, text: &str, taken: &mut Vec<String>) -> Result<f64, MilkFormError> {
        let say = || wrong("water", "say how much water, such as “1 l”, “1 US quart” or “500 g”, above 0 and up to 200 l");
        // "1 l" alone is water here.
        let named = if text.to_lowercase().contains("water") { text.to_owned() } else { format!("{} water", text.trim()) };
        self.amounts_read("water", &named)?;
        let reading = read(self.jars, &self.units, &named, &Wishes::new());
        let line = reading.lines.first().filter(|_| reading.lines.len() == 1).ok_or_else(say)?;
        self.first(line).filter(|material| material.id.as_str() == "water").ok_or_else(say)?;
        // A millilitre counts as a gram: 2 in 1000 off at 20 °C, less than a jug reads.
        let (_, grams) = self.quantity(line, taken).ok_or_else(say)?;
        (grams > 0.0 && grams <= MOST).then_some(grams).ok_or_else(say)
    }
}

fn calls_it_size(text: &str) -> bool {
    let lower = text.to_lowercase();
    ["size", "melted", "solution", "liquid", "water", "warm"].iter().any(|word| lower.contains(word))
}

/// The number before the first per cent sign.
fn percent_in(text: &str) -> Option<f64> {
    let (before, _) = text.split_once('%')?;
    let before = before.trim_end();
    let from = before
        .rfind(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | ',')))
        .map_or(0, |at| at + before.get(at..).map_or(1, |rest| rest.chars().next().map_or(1, char::len_utf8)));
    before.get(from..)?.replace(',', ".").parse().ok()
}

/// "1:10", "1 to 10", "1 part to 10".
fn parts_told(text: &str) -> Result<Option<(f64, f64)>, MilkFormError> {
    let say = || wrong("ratio", "say a ratio as glue to water, such as “1:10”, both above 0");
    if text.trim().is_empty() {
        return Ok(None);
    }
    if text.contains('-') || text.contains('\u{2212}') {
        return Err(say());
    }
    let clean = text.replace(',', ".");
    let numbers: Result<Vec<f64>, _> = clean
        .split(|c: char| !(c.is_ascii_digit() || c == '.'))
        .filter(|part| part.chars().any(|c| c.is_ascii_digit()))
        .map(str::parse::<f64>)
        .collect();
    match numbers.map_err(|_| say())?.as_slice() {
        [glue, water] if *glue > 0.0 && *water > 0.0 && *glue <= 1000.0 && *water <= 100_000.0 => Ok(Some((*glue, *water))),
        _ => Err(say()),
    }
}

/// Cold water that so much glue soaks in, of the water there is: least and most, g.
pub(super) fn soak(book: &BinderBook, glue: f64, water: f64) -> Result<(f64, f64), BinderError> {
    let (least, most) = binder::soak_water(book, measure::Grams::new(glue))?;
    let cap = |grams: f64| if water > 0.0 { grams.min(water) } else { grams };
    Ok((cap(least.value()), cap(most.value())))
}

#[cfg(test)]
mod tests {
    use super::parts_told;

    #[test]
    fn ratios() {
        assert_eq!(parts_told("1:10").unwrap(), Some((1.0, 10.0)));
        assert_eq!(parts_told("1 part glue to 12,5 water").unwrap(), Some((1.0, 12.5)));
        assert_eq!(parts_told(" ").unwrap(), None);
        assert_eq!(super::percent_in("500 ml glue size 7,5 %"), Some(7.5));
        assert_eq!(super::percent_in("300% glue"), Some(300.0));
        assert_eq!(super::percent_in("ü% glue"), None);
        for bad in ["1", "0:10", "1:0", "-1:10", "ten", "1:2:3", "1..2:3"] {
            assert!(parts_told(bad).unwrap_err().to_string().contains("ratio"), "{bad}");
        }
    }
}
