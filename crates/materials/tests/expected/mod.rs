//! What a person expects of a text, and how a reading compares.

use std::fmt;

use materials::{Amount, Line, NotGiven, PartBasis, Piece, Range, Reading, Strength};
use measure::{UnitId, Units};

/// One expected ingredient.
#[derive(Debug, Clone)]
pub(crate) struct Wanted {
    pub(crate) material: String,
    pub(crate) amount: String,
    pub(crate) unit: String,
    pub(crate) doubtful: bool,
}

/// All that is expected of a text.
#[derive(Debug, Clone)]
pub(crate) struct Expected(pub(crate) Vec<Wanted>);

impl Expected {
    /// Reads an `.expect` file.
    pub(crate) fn parse(text: &str) -> Self {
        let wanted = |line: &str| {
            let mut fields = line.split('|').map(str::trim);
            let (material, amount, unit) = (fields.next()?, fields.next()?, fields.next()?);
            let (unit, doubtful) = unit.strip_suffix('?').map_or((unit, false), |unit| (unit.trim(), true));
            Some(Wanted { material: material.to_owned(), amount: amount.to_owned(), unit: unit.to_owned(), doubtful })
        };
        Self(text.lines().filter_map(wanted).collect())
    }
}

/// Numbers of a line, whatever they count.
pub(crate) fn numbers(line: &Line) -> Vec<f64> {
    number(&line.amount).map(|range| vec![range.low, range.high]).unwrap_or_default()
}

fn number(amount: &Amount) -> Option<Range> {
    match amount {
        Amount::Mass { number, .. }
        | Amount::Volume { number, .. }
        | Amount::Parts { number, .. }
        | Amount::VolumePerLiquid { number }
        | Amount::PercentOfWhole { number }
        | Amount::Pieces { number } => Some(*number),
        Amount::NotGiven(_) => None,
    }
}

/// Table names of the units that an `.expect` file may name.
fn family(unit: &str) -> &str {
    match unit {
        "g" => "gram",
        "kg" => "kilogram",
        "oz" => "ounce",
        "lb" => "pound",
        "ml" => "millilitre",
        "cl" => "centilitre",
        "dl" => "decilitre",
        "l" => "litre",
        "fl_oz" => "fluid-ounce",
        "tbsp" => "tablespoon",
        "tsp" => "teaspoon",
        other => other,
    }
}

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-3 * b.abs().max(1.0)
}

fn ends(amount: &str) -> Option<(f64, f64)> {
    match amount.split_once("..") {
        Some((low, high)) => Some((low.parse().ok()?, high.parse().ok()?)),
        None => amount.parse().ok().map(|value| (value, value)),
    }
}

fn unit_agrees(unit: UnitId, number: Range, (low, high): (f64, f64), wanted: &str, units: &Units) -> bool {
    let known = units.get(unit);
    let named = known.id.starts_with(family(wanted)) || (wanted == "cup" && matches!(known.id.as_str(), "glass" | "mug"));
    if named && near(number.low, low) && near(number.high, high) {
        return true;
    }
    // Another unit of the same size: 30 dag are 300 g.
    let size = units
        .all()
        .iter()
        .find(|unit| unit.id == family(wanted))
        .filter(|unit| unit.dimension == known.dimension)
        .and_then(|unit| unit.value);
    size.zip(known.value).is_some_and(|(size, value)| near(number.low * value, low * size) && near(number.high * value, high * size))
}

/// What a made-up solution is made of: the `.expect` files name the stuff dissolved in it.
fn stuff(id: &str) -> &str {
    match id {
        "glue-size" => "hide-glue",
        "casein-solution" => "casein-powder",
        other => other,
    }
}

fn agrees(line: &Line, wanted: &Wanted, reading: &Reading, units: &Units) -> bool {
    let first = line.material.first().is_some_and(|id| {
        id.as_str() == wanted.material
            || stuff(id.as_str()) == wanted.material
            || id.as_str() == "glue-size" && wanted.material == "parchment-clippings"
    });
    let among = line.material.candidates.iter().any(|(id, _)| id.as_str() == wanted.material);
    if !(first || wanted.doubtful && among) {
        return false;
    }
    if wanted.unit == "ratio" {
        let Some((a, b)) = wanted.amount.split_once(':').and_then(|(a, b)| Some((a.parse::<f64>().ok()?, b.parse::<f64>().ok()?))) else {
            return false;
        };
        let strong = matches!(&line.strength, Some(Strength::OneToWater(range)) if near(range.low, b / a));
        let parts = |line: &Line, value: f64| matches!(&line.amount, Amount::Parts { number, .. } if near(number.low, value));
        return strong || parts(line, a) && reading.lines.iter().any(|other| parts(other, b));
    }
    let Some(ends) = ends(&wanted.amount) else {
        return matches!(line.amount, Amount::NotGiven(_) | Amount::VolumePerLiquid { .. });
    };
    if ends.1 == 0.0 {
        return line.amount == Amount::NotGiven(NotGiven::Absurd);
    }
    let same = |range: &Range| near(range.low, ends.0) && near(range.high, ends.1);
    match (wanted.unit.as_str(), &line.amount) {
        ("percent", Amount::PercentOfWhole { number }) => {
            same(number) || matches!(&line.strength, Some(Strength::Percent(range)) if same(range))
        }
        ("percent", _) => matches!(&line.strength, Some(Strength::Percent(range)) if same(range)),
        ("none", amount) => number(amount).is_some_and(|range| same(&range)),
        ("part", Amount::Parts { number, .. }) | ("piece", Amount::Pieces { number }) => same(number),
        ("part_volume", Amount::Parts { number, basis }) => same(number) && basis.first() == Some(&PartBasis::Volume),
        ("part_weight", Amount::Parts { number, basis }) => same(number) && basis.first() == Some(&PartBasis::Weight),
        (unit, Amount::Mass { number, unit: pick } | Amount::Volume { number, unit: pick, .. }) => {
            pick.candidates.iter().any(|(id, _)| unit_agrees(*id, *number, ends, unit, units))
        }
        _ => false,
    }
}

/// Whether the number of an amount without a known name is kept and struck, or read somehow.
fn shown(text: &str, wanted: &Wanted, reading: &Reading, units: &Units) -> bool {
    let any = |line: &Line| {
        agrees(
            line,
            &Wanted { material: line.material.first().map(|id| id.as_str().to_owned()).unwrap_or_default(), ..wanted.clone() },
            reading,
            units,
        )
    };
    let plain = |digits: &str| -> String {
        digits
            .chars()
            .filter_map(|c| {
                c.to_digit(10)
                    .or_else(|| u32::from(c).checked_sub(0xff10).filter(|d| *d < 10))
                    .or_else(|| u32::from(c).checked_sub(0x660).filter(|d| *d < 10))
            })
            .filter_map(|d| char::from_digit(d, 10))
            .collect()
    };
    let digits = plain(&wanted.amount);
    reading.lines.iter().any(any)
        || reading.pieces.iter().any(|piece| matches!(piece, Piece::Struck(struck) if plain(struck.span.of(text)).contains(&digits)))
}

/// Counts over many texts.
#[derive(Debug, Default)]
pub(crate) struct Tally {
    wanted: usize,
    found: usize,
    cases: usize,
    whole: usize,
    lines: usize,
    invented: usize,
    words: [usize; 4],
    misses: Vec<String>,
}

impl Tally {
    /// Compares one reading.
    pub(crate) fn add(&mut self, name: &str, text: &str, reading: &Reading, expected: &Expected, units: &Units) {
        let mut used = vec![false; reading.lines.len()];
        let mut touched = used.clone();
        let mut missed = Vec::new();
        for wanted in &expected.0 {
            let strength = matches!(wanted.unit.as_str(), "percent" | "ratio");
            let found = if wanted.material == "unknown" {
                shown(text, wanted, reading, units)
            } else {
                let at =
                    reading.lines.iter().enumerate().position(|(at, line)| (strength || !used[at]) && agrees(line, wanted, reading, units));
                if let Some(at) = at {
                    used[at] |= !strength;
                    touched[at] = true;
                }
                at.is_some()
            };
            if !found {
                missed.push(format!("{} | {} | {}", wanted.material, wanted.amount, wanted.unit));
            }
        }
        let invented: Vec<String> = reading
            .lines
            .iter()
            .zip(&touched)
            .filter(|(line, used)| !**used && number(&line.amount).is_some())
            .filter(|(line, _)| !line.guessed.iter().any(|guess| guess.contains("water")))
            .map(|(line, _)| brief(line, units))
            .collect();
        self.wanted += expected.0.len();
        self.found += expected.0.len() - missed.len();
        self.cases += 1;
        self.whole += usize::from(missed.is_empty());
        self.lines += reading.lines.len();
        self.invented += if expected.0.iter().any(|wanted| wanted.material == "unknown") { 0 } else { invented.len() };
        for piece in &reading.pieces {
            let words = piece.span().of(text).split_whitespace().count();
            let sort = match piece {
                Piece::Chip(chip) if chip.questions.is_empty() => 0,
                Piece::Chip(_) => 1,
                Piece::Talk(_) => 2,
                Piece::Struck(_) => 3,
            };
            self.words[sort] += words;
        }
        if !missed.is_empty() || !invented.is_empty() {
            let read: Vec<String> = reading.lines.iter().map(|line| brief(line, units)).collect();
            self.misses.push(format!(
                "{name}\n   missed: {}\n   read:   {}\n   beyond: {}",
                missed.join("; "),
                read.join("; "),
                invented.join("; ")
            ));
        }
    }

    fn share(part: usize, whole: usize) -> f64 {
        if whole == 0 { 1.0 } else { part as f64 / whole as f64 }
    }
    /// Share of expected lines that were found.
    pub(crate) fn lines_found(&self) -> f64 {
        Self::share(self.found, self.wanted)
    }
    /// Share of texts with every expected line found.
    pub(crate) fn cases_found(&self) -> f64 {
        Self::share(self.whole, self.cases)
    }
    /// Share of lines with a number that nobody expected.
    pub(crate) fn inventions(&self) -> f64 {
        Self::share(self.invented, self.lines)
    }
    /// Share of words struck.
    pub(crate) fn struck(&self) -> f64 {
        Self::share(self.words[3], self.words.iter().sum())
    }
}

impl fmt::Display for Tally {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for miss in &self.misses {
            writeln!(f, "{miss}")?;
        }
        let all: usize = self.words.iter().sum();
        let [read, guessed, talk, struck] = self.words.map(|words| 100.0 * Self::share(words, all));
        writeln!(f, "texts {}  whole {} ({:.1} %)", self.cases, self.whole, 100.0 * self.cases_found())?;
        writeln!(
            f,
            "lines expected {}  found {} ({:.1} %)  beyond {} ({:.1} %)",
            self.wanted,
            self.found,
            100.0 * self.lines_found(),
            self.invented,
            100.0 * self.inventions()
        )?;
        write!(f, "words {all}: read {read:.1} %  guessed {guessed:.1} %  talk {talk:.1} %  struck {struck:.1} %")
    }
}

fn brief(line: &Line, units: &Units) -> String {
    let material: Vec<&str> = line.material.candidates.iter().map(|(id, _)| id.as_str()).collect();
    let amount = match &line.amount {
        Amount::Mass { number, unit } | Amount::Volume { number, unit, .. } => {
            let names: Vec<&str> = unit.candidates.iter().map(|(id, _)| units.get(*id).id.as_str()).collect();
            format!("{}..{} {}", number.low, number.high, names.join("/"))
        }
        other => format!("{other:?}"),
    };
    let strength = line.strength.as_ref().map(|strength| format!(" {strength:?}")).unwrap_or_default();
    format!("{} {amount}{strength}", material.join("/"))
}

/// Compares the one quantity of a text with what the table says; the unit is `g`, `ml`, `piece`, a ratio or a per cent.
///
/// # Errors
/// What was read instead.
pub(crate) fn quantity(reading: &Reading, amount: &str, unit: &str, units: &Units) -> Result<(), String> {
    let all = || reading.lines.iter().map(|line| brief(line, units)).collect::<Vec<_>>().join("; ");
    let close = |a: f64, b: f64| (a - b).abs() <= 1e-6 * b.abs();
    let [line, rest @ ..] = reading.lines.as_slice() else { return Err("nothing".to_owned()) };
    if let Some(basis) = unit.strip_prefix("ratio_") {
        let basis = if basis == "weight" { PartBasis::Weight } else { PartBasis::Volume };
        let part = |value: f64| {
            reading.lines.iter().any(|line| matches!(&line.amount, Amount::Parts { number, basis: pick } if close(number.low, value) && pick.candidates.len() == 1 && pick.first() == Some(&basis)))
        };
        let (a, b) = amount.split_once(':').unwrap();
        return if part(a.parse().unwrap()) && part(b.parse().unwrap()) { Ok(()) } else { Err(all()) };
    }
    let (low, high) = ends(amount).unwrap();
    let agrees = |number: &Range, size: f64| close(number.low * size, low) && close(number.high * size, high);
    let fits = match (&line.amount, unit) {
        (Amount::Mass { number, unit: pick }, "g") | (Amount::Volume { number, unit: pick, .. }, "ml") => {
            pick.first().and_then(|id| units.get(*id).value).is_some_and(|size| agrees(number, size))
        }
        (Amount::Pieces { number }, "piece") | (Amount::PercentOfWhole { number }, "percent_weight") => agrees(number, 1.0),
        _ => false,
    };
    if fits && rest.is_empty() { Ok(()) } else { Err(all()) }
}
