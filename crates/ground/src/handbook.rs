//! Handbook grounds that have a place on the rule, and why the others have none.

use materials::{Amount, Catalogue, Fill, Line, MaterialId, PartBasis, Pick, Range, Reading, Span, Strength};
use measure::{Dimension, Draws, Units};

use crate::drawn::Drawn;
use crate::mix::Mix;
use crate::ranges::{Coat, FilmRanges, film_with_ranges};

/// One handbook recipe and its place.
#[derive(Debug, Clone, PartialEq)]
pub struct Place {
    /// R01 to R34.
    pub id: String,
    /// The same recipe in told words, where it can be told in one line.
    pub told: String,
    /// What had to be assumed to place it.
    pub assumption: String,
    /// Its ingredients, or why it has no place.
    pub recipe: Result<Reading, String>,
}

/// The data file is broken: names the recipe and what is wrong.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("handbook places, {recipe}: {what}")]
pub struct PlaceError {
    /// Recipe id.
    pub recipe: String,
    /// What is wrong.
    pub what: String,
}

/// Places of all handbook recipes, in the order of the books.
///
/// # Errors
/// The data file is broken; a test keeps it sound.
pub fn places(jars: &Catalogue, units: &Units) -> Result<Vec<Place>, PlaceError> {
    let mut out = Vec::new();
    let mut reader = csv::Reader::from_reader(include_str!("../data/handbook_places.csv").as_bytes());
    for record in reader.records() {
        let record = record.map_err(|e| PlaceError { recipe: "file".into(), what: e.to_string() })?;
        let field = |n: usize| record.get(n).unwrap_or("").trim().to_owned();
        let wrong = |what: String| PlaceError { recipe: field(0), what };
        let recipe = if field(1) == "yes" { Ok(reading(&field(2), jars, units).map_err(wrong)?) } else { Err(field(5)) };
        out.push(Place { id: field(0), told: field(3), assumption: field(4), recipe });
    }
    Ok(out)
}

/// Ticks for the rule, leanest last: recipe id and ratio of powder share to critical share, at the best inputs.
///
/// # Errors
/// A placed recipe gives no film; a test keeps the data sound.
pub fn ticks(jars: &Catalogue, units: &Units, places: &[Place]) -> Result<Vec<(String, f64)>, PlaceError> {
    let mut out = Vec::new();
    for place in places {
        let Ok(reading) = &place.recipe else { continue };
        let mix = Mix::of(jars, units, reading);
        let film = mix.film(&mix.best(), &mut Vec::new()).map_err(|e| PlaceError { recipe: place.id.clone(), what: e.to_string() })?;
        out.push((place.id.clone(), film.lambda()));
    }
    out.sort_by(|a, b| a.1.total_cmp(&b.1));
    Ok(out)
}

impl Place {
    /// The film of a placed recipe with its doubt; `None` without a place.
    pub fn film(&self, jars: &Catalogue, units: &Units, draws: Draws) -> Option<FilmRanges> {
        let reading = self.recipe.as_ref().ok()?;
        let mix = Mix::of(jars, units, reading);
        film_with_ranges(&mix, Coat::USUAL, &Drawn::of(&mix, draws)).ok()
    }
}

/// Reads `70..85 g rabbit-skin-glue | 1 part casein-solution 12.41%`: amount, unit, material, strength.
fn reading(text: &str, jars: &Catalogue, units: &Units) -> Result<Reading, String> {
    let mut lines = Vec::new();
    for one in text.split('|') {
        let mut words = one.split_whitespace();
        let (Some(amount), Some(unit), Some(material)) = (words.next(), words.next(), words.next()) else {
            return Err(format!("`{one}` is not amount, unit, material"));
        };
        let number = range(amount).ok_or_else(|| format!("`{amount}` is no amount"))?;
        let id = MaterialId::new(material);
        if jars.material(&id).is_none() {
            return Err(format!("no material `{material}`"));
        }
        let strength = match words.next() {
            Some(word) => {
                Some(Strength::Percent(word.strip_suffix('%').and_then(range).ok_or_else(|| format!("`{word}` is no strength"))?))
            }
            None => None,
        };
        lines.push(Line {
            span: Span { from: 0, to: 0 },
            material: Pick::sure(id),
            amount: sized(number, unit, units)?,
            strength,
            said_dry: false,
            guessed: Vec::new(),
        });
    }
    Ok(Reading { lines, ..Reading::default() })
}

fn sized(number: Range, unit: &str, units: &Units) -> Result<Amount, String> {
    match unit {
        "part" => return Ok(Amount::Parts { number, basis: Pick::sure(PartBasis::Volume) }),
        "per-liquid" => return Ok(Amount::VolumePerLiquid { number }),
        _ => {}
    }
    let id = units.by_id(unit).or_else(|| units.by_word(unit).first().map(|(id, _)| *id)).ok_or_else(|| format!("no unit `{unit}`"))?;
    match units.get(id).dimension {
        Dimension::Mass => Ok(Amount::Mass { number, unit: Pick::sure(id) }),
        Dimension::Volume => Ok(Amount::Volume { number, unit: Pick::sure(id), fill: Fill::Level }),
        _ => Err(format!("`{unit}` measures neither mass nor volume")),
    }
}

fn range(text: &str) -> Option<Range> {
    let (low, high) = text.split_once("..").unwrap_or((text, text));
    Some(Range { low: low.parse().ok()?, high: high.parse().ok()? })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::word::{Word, Words};

    /// Ratio, its band of eight in ten and the word for each placed recipe. Worked independently with numpy, 40,000 draws, from:
    /// densities chalk 2.71, gypsum 2.32, kaolin 2.60, zinc white 5.65, titanium white 4.20, lithopone 4.30, glue 1.27, casein 1.26;
    /// oil absorption 18, 23.5, 41.5, 17.5, 19.5, 14.5 (10 % each); loose densities chalk 0.85 (0.6-1.12), gypsum 0.8 (0.5-1.1),
    /// kaolin 0.4 (0.2-0.6), zinc white 0.55 (0.3-0.8), lithopone 0.9 (0.6-1.2).
    const EXPECTED: [(&str, f64, f64, f64, &str); 10] = [
        ("R09", 1.151, 1.10, 1.21, "usual"),
        ("R16", 1.212, 1.13, 1.29, "usual"),
        ("R12", 1.253, 1.18, 1.34, "usual"),
        ("R14", 1.280, 1.23, 1.34, "usual"),
        ("R13", 1.316, 1.27, 1.37, "usual"),
        ("R27", 1.322, 1.25, 1.41, "usual"),
        ("R08", 1.345, 1.25, 1.43, "usual or lean"),
        ("R11", 1.359, 1.30, 1.42, "usual or lean"),
        ("R23", 1.388, 1.33, 1.46, "usual or lean"),
        ("R10", 1.389, 1.33, 1.46, "usual or lean"),
    ];

    #[test]
    fn handbook_grounds_stand_where_an_independent_computation_puts_them() {
        let (jars, units) = (Catalogue::builtin().unwrap(), Units::builtin().unwrap());
        let all = places(jars, &units).unwrap();
        let draws = Draws { seed: 5, count: 100_000 };
        for (id, lambda, low, high, word) in EXPECTED {
            let place = all.iter().find(|place| place.id == id).unwrap();
            let ranges = place.film(jars, &units, draws).unwrap();
            let figure = ranges.lambda();
            assert!((figure.value - lambda).abs() <= 0.002, "{id}: {}", figure.value);
            assert!((figure.low - low).abs() <= 0.02 && (figure.high - high).abs() <= 0.02, "{id}: {figure:?}");
            let words = Words::of(&ranges).unwrap();
            let said = words.second.map_or(words.first.text().to_owned(), |second| {
                let (a, b) = if words.first == Word::Usual { (words.first, second) } else { (second, words.first) };
                format!("{} or {}", a.text(), b.text())
            });
            assert_eq!(said, word, "{id}: {words:?}");
        }
    }

    #[test]
    fn every_recipe_has_a_place_or_a_reason() {
        let (jars, units) = (Catalogue::builtin().unwrap(), Units::builtin().unwrap());
        let all = places(jars, &units).unwrap();
        assert_eq!(all.len(), 34);
        for place in &all {
            match &place.recipe {
                Ok(reading) => assert!(!reading.lines.is_empty()),
                Err(reason) => assert!(reason.len() > 10, "{}", place.id),
            }
        }
        assert_eq!(ticks(jars, &units, &all).unwrap().len(), 10);
    }

    #[test]
    fn a_uk_quart_moves_the_quart_recipe() {
        // With 1136.5 ml the same glue is weaker: 1.378 (same independent computation).
        let (jars, units) = (Catalogue::builtin().unwrap(), Units::builtin().unwrap());
        let told = reading("2.75 oz rabbit-skin-glue|1 quart-uk water|1 per-liquid gypsum", jars, &units).unwrap();
        let mix = Mix::of(jars, &units, &told);
        let film = mix.film(&mix.best(), &mut Vec::new()).unwrap();
        assert!((film.lambda() - 1.378).abs() < 0.002, "{}", film.lambda());
    }
}
