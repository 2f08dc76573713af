//! A recipe as told becomes a verdict card.

mod advice;
mod damp;
mod figures;
mod hold;
pub(crate) mod mind;
mod packing;
mod questions;
mod report;
mod thirst;
mod window;

pub(crate) use figures::{input_row, why_not};
pub use hold::SUPPORTS;
pub(crate) use hold::USUAL_SUPPORT;
pub(crate) use mind::{grave, has_plaster};
pub(crate) use report::caution;
pub use window::MOST_WINDOWS;
mod sentence;

use std::collections::BTreeMap;

use ground::{Coat, Drawn, FilmRanges, Mix, Word, Words, film_with_ranges, line_masses};
use materials::{Amount, Family, Kind, LineError, QuestionId, Reading, Setting, Wishes, read, read_strict};
use measure::{Draws, Figure, Input, Micrometres};
use show::{Bar, Card, LineView, PieceKind, PieceView, SectionView, WordView};

use crate::Workbench;
use crate::seen::BoardsSeen;

/// Longest text that is read; longer ones are refused with a sentence rather than cut.
const MOST_TEXT: usize = 64 * 1024;

/// Wet thickness of one coat, micrometres, and number of coats that can be meant.
pub(crate) const THICKNESS: std::ops::RangeInclusive<f64> = 1.0..=5000.0;
pub(crate) const COATS: std::ops::RangeInclusive<u32> = 1..=40;

/// Share of the pot from which an amount that was not understood spoils the word (model choice).
const LOST: f64 = 0.02;

/// Most ingredients that one recipe may hold.
const MOST_LINES: usize = 200;

/// Longest stretch of told text that is quoted in a sentence, characters.
const MOST_QUOTED: usize = 80;

/// What a person asks about a recipe.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct VerdictRequest {
    /// The recipe as told.
    pub told: String,
    /// Read it as strict recipe text: a bad line is an error.
    pub strict: bool,
    /// Answers to questions: question name to choice.
    pub choices: BTreeMap<String, String>,
    /// Wet thickness of a coat, micrometres; told text or the usual coat otherwise.
    pub wet_um: Option<f64>,
    /// Number of coats.
    pub coats: Option<u32>,
    /// Area to cover, square metres.
    pub area_m2: Option<f64>,
    /// What the ground is laid on, such as `mdf`; plywood if none.
    pub support: Option<String>,
    /// Values that the painter measured, in place of printed ones.
    pub own: Vec<Input>,
    /// Boards of the painter's own that were read for cracks.
    pub seen: BoardsSeen,
}

/// The text can't be taken.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum TextError {
    /// Longer than a recipe can be.
    #[error("the text is longer than 64 kB; paste the recipe alone, without the page around it")]
    TooLong,
    /// More ingredients than a pot holds.
    #[error("that is more than 200 ingredients; paste one recipe at a time")]
    TooMany,
    /// A wet thickness that no coat has.
    #[error("the wet thickness of a coat lies between 1 and 5000 um; a brushed coat is about 100 um")]
    Wet,
    /// A number of coats that nobody lays.
    #[error("the number of coats lies between 1 and 40")]
    Coats,
    /// A support whose stiffness is not known.
    #[error("how stiff that support is, is not known here; known are: {}", hold::SUPPORTS.map(|(id, _)| id).join(", "))]
    Support,
    /// Lines of strict recipe text that break the rules.
    #[error("{}", join(.0))]
    Lines(Vec<LineError>),
}

fn join(lines: &[LineError]) -> String {
    lines.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n")
}

/// A recipe read and computed, before it is put into words.
pub(crate) struct Worked {
    pub(crate) reading: Reading,
    pub(crate) mix: Mix,
    pub(crate) drawn: Drawn,
    pub(crate) ranges: Result<FilmRanges, ground::FilmError>,
    pub(crate) standing: Standing,
    pub(crate) coat: Coat,
    pub(crate) coats: u32,
    pub(crate) water_known: bool,
}

impl Worked {
    /// Name of the calculation: equal for equal inputs, coat and draws.
    fn calculation(&self) -> u64 {
        self.mix.calculation(self.coat.wet.value(), Draws::USUAL, crate::VERSION)
    }
}

/// Where the ground stands, or why it can't be said.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Standing {
    /// Among the protein grounds.
    Word(Words),
    /// A film, but no word.
    NoWord(String),
    /// No film.
    NoFilm(String),
}

impl Workbench {
    /// The verdict on a recipe.
    ///
    /// # Errors
    /// Text too long, or (strict) lines that break the rules of recipe text.
    ///
    /// ```
    /// use workbench::{VerdictRequest, Workbench};
    /// let bench = Workbench::open()?;
    /// let card = bench.verdict(&VerdictRequest { told: "14 g hide glue, 200 ml water, 250 g chalk".into(), ..Default::default() })?;
    /// assert!(card.sentence.to_lowercase().contains("usual"));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn verdict(&self, request: &VerdictRequest) -> Result<Card, TextError> {
        self.cards.answer(request, || self.work(request).map(|worked| self.card(request, &worked)))
    }

    /// Reads and computes, without words.
    pub(crate) fn work(&self, request: &VerdictRequest) -> Result<Worked, TextError> {
        if request.told.len() > MOST_TEXT {
            return Err(TextError::TooLong);
        }
        if request.wet_um.is_some_and(|wet| !THICKNESS.contains(&wet)) {
            return Err(TextError::Wet);
        }
        if request.coats.is_some_and(|coats| !COATS.contains(&coats)) {
            return Err(TextError::Coats);
        }
        if request.support.as_ref().is_some_and(|told| !hold::SUPPORTS.iter().any(|(id, _)| id == told)) {
            return Err(TextError::Support);
        }
        let wishes: Wishes = request.choices.iter().map(|(question, choice)| (QuestionId(question.clone()), choice.clone())).collect();
        let reading = if request.strict {
            read_strict(self.jars, &self.units, &request.told).map_err(TextError::Lines)?
        } else {
            read(self.jars, &self.units, &request.told, &wishes)
        };
        // Strict text knows its questions too: the answers are taken on a second reading of the same text.
        let reading = if request.strict && !wishes.is_empty() { read(self.jars, &self.units, &request.told, &wishes) } else { reading };
        if reading.lines.len() > MOST_LINES {
            return Err(TextError::TooMany);
        }
        let mix = self.stirred_pot(&reading, &request.choices, &request.own);
        let (coat, coats) = laid(request, &reading);
        let drawn = Drawn::of(&mix, Draws::USUAL);
        let ranges = film_with_ranges(&mix, coat, &drawn);
        let standing = self.standing(&request.told, &reading, &mix, ranges.as_ref());
        let water_known = !mix.water_by_eye && ranges.as_ref().is_ok_and(|ranges| ranges.best.water.value() > 0.0);
        Ok(Worked { reading, mix, drawn, ranges, standing, coat, coats, water_known })
    }

    pub(crate) fn standing(&self, told: &str, reading: &Reading, mix: &Mix, ranges: Result<&FilmRanges, &ground::FilmError>) -> Standing {
        let counted = |wanted: &dyn Fn(&materials::Material) -> bool| {
            reading.lines.iter().any(|line| line.material.first().and_then(|id| self.jars.material(id)).is_some_and(wanted))
        };
        if let Some(primer) = reading
            .lines
            .iter()
            .filter_map(|line| line.material.first())
            .filter_map(|id| self.jars.material(id))
            .find(|m| m.kind == Kind::Primer)
        {
            return Standing::NoFilm(format!("what is in {} is not printed on the tin, so it can't be computed", primer.name));
        }
        let lacking: Vec<&str> = mix.left_out.iter().filter(|left| left.matters).map(|left| left.name.as_str()).collect();
        if !lacking.is_empty() {
            let first = mix.left_out.iter().find(|left| left.matters).map_or("", |left| left.why.as_str());
            let names = lacking.join(" and ");
            return Standing::NoFilm(if first.starts_with(names.as_str()) { first.to_owned() } else { format!("{names}: {first}") });
        }
        let ranges = match ranges {
            Ok(ranges) => ranges,
            Err(why) => return Standing::NoFilm(self.lost_side(told, reading).unwrap_or_else(|| why.to_string())),
        };
        if let Some(lost) = self.lost(told, reading, ranges) {
            return Standing::NoWord(format!("{lost} is not understood, so it is not counted; say what it is"));
        }
        if counted(&|m| matches!(m.family, Family::Oil | Family::Egg) || m.kind == Kind::Oil) {
            return Standing::NoWord("grounds with oil or egg are another family, with a scale of their own that is not known here".into());
        }
        if counted(&|m| matches!(m.family, Family::Acrylic | Family::Cellulose)) {
            return Standing::NoWord("lean, usual and rich are anchored on glue and casein grounds; this binder is another family".into());
        }
        // Powders whose thirst is a guess may be a minor part of a blend, not the main one.
        if FilmRanges::unknown_thirst_share(mix, self.jars) > 0.5 {
            return Standing::NoWord("how much binder this powder drinks differs twofold between makers; rub it out with oil, or rub a dry board, before any word".into());
        }
        match Words::of(ranges) {
            Some(words) => Standing::Word(words),
            None => Standing::NoFilm("the amounts lead to no film".into()),
        }
    }

    /// What was measured but not understood, if it is too large a part of the pot to be left out.
    fn lost(&self, told: &str, reading: &Reading, ranges: &FilmRanges) -> Option<String> {
        let best = &ranges.best;
        let pot = (best.filler + best.binder + best.water + best.volatile + best.other).value();
        let large = |text: &str| {
            // Read as so much water: what matters is the size of the amount, not the stuff.
            let alone = read(self.jars, &self.units, &format!("{text} water"), &Wishes::new());
            let mix = Mix::of(self.jars, &self.units, &alone);
            let parts = |amount: &Amount| matches!(amount, Amount::Parts { .. } | Amount::PercentOfWhole { .. });
            alone.lines.iter().any(|line| parts(&line.amount))
                || mix.grams(&mix.best()).iter().map(|(_, grams)| grams.value()).sum::<f64>() > LOST * pot
        };
        let words = lost_words(told, reading);
        words.iter().any(|text| large(text)).then(|| quoted(&words))
    }

    /// Why there is no film when something measured was not understood: it may be the very thing that is missing.
    fn lost_side(&self, told: &str, reading: &Reading) -> Option<String> {
        let powder = reading
            .lines
            .iter()
            .filter_map(|line| line.material.first())
            .filter_map(|id| self.jars.material(id))
            .any(|m| m.kind == Kind::Filler);
        let words = lost_words(told, reading);
        let side = if powder { "binder" } else { "powder" };
        (!words.is_empty()).then(|| format!("no {side} was understood; what is {}?", quoted(&words)))
    }

    /// The card of a recipe that was worked out.
    pub(crate) fn card(&self, request: &VerdictRequest, worked: &Worked) -> Card {
        let masses = line_masses(&worked.mix, &worked.drawn);
        let (questions, lumps) = self.questions(request, worked);
        let mind = self.mind(worked);
        let hold = self.hold(request, worked);
        Card {
            told: request.told.clone(),
            support: request.support.clone().unwrap_or_else(|| USUAL_SUPPORT.to_owned()),
            sentence: self.sentence(worked),
            word: word_view(&worked.standing),
            bar: bar(worked),
            ticks: self.ticks.clone(),
            section: section(worked),
            report: self.report(request, worked, &masses, (&questions, &mind), &hold),
            thickness: hold.view.clone(),
            thirst: hold.drinks.clone(),
            hides: hold.hides.clone(),
            look: hold.look,
            change: self.change(worked, &masses),
            weigh: self.weigh(worked),
            rests_on: rests_on(worked, hold.boards),
            notes: worked.mix.notes.clone(),
            figures: figures::rows(self.jars, worked, &hold),
            pieces: pieces(&request.told, &worked.reading),
            lines: self.lines(worked, &masses),
            questions,
            lumps,
            mind,
        }
    }

    fn lines(&self, worked: &Worked, masses: &[(usize, Figure)]) -> Vec<LineView> {
        let mut out = Vec::new();
        for (index, line) in worked.reading.lines.iter().enumerate() {
            let Some(material) = line.material.first().and_then(|id| self.jars.material(id)) else { continue };
            let mass = masses.iter().find(|(at, _)| *at == index).map(|(_, figure)| figure);
            out.push(LineView {
                name: material.name.clone(),
                material: material.id.as_str().to_owned(),
                grams: mass.map_or_else(String::new, |figure| show::write(figure).line()),
                kitchen: mass.map_or_else(String::new, |figure| in_kitchen(material, figure.value)),
                guessed: line.guessed.clone(),
                left_out: if mass.is_some() { String::new() } else { why_uncounted(worked, index, material.kind) },
            });
        }
        out
    }
}

/// Why a line has no grams in the pot.
pub(crate) fn why_uncounted(worked: &Worked, line: usize, kind: Kind) -> String {
    let left = worked.mix.left_out.iter().find(|left| left.line == line).map(|left| left.why.as_str());
    left.unwrap_or(match kind {
        Kind::Milk => "became the curd that was weighed",
        _ => "curdles the milk and leaves with the whey",
    })
    .to_owned()
}

/// Grams of a material in cups or spoons; empty where nobody would measure it so.
pub(crate) fn in_kitchen(material: &materials::Material, grams: f64) -> String {
    let density = material.property("bulk_density").or_else(|| material.property("density"));
    density.map_or_else(String::new, |density| show::kitchen(grams / density.value))
}

/// The words in quotation marks; of many, the first that fit a sentence.
fn quoted(words: &[&str]) -> String {
    let joined = words.join(" ");
    let short: String = joined.chars().take(MOST_QUOTED).collect();
    format!("\u{201c}{short}{}\u{201d}", if short.len() < joined.len() { " \u{2026}" } else { "" })
}

/// Amounts that belong to something not understood, and the names behind them.
/// Its bar on the rule, where it has a place there.
fn bar(worked: &Worked) -> Option<Bar> {
    let figure = worked.ranges.as_ref().ok().map(FilmRanges::lambda).filter(|_| matches!(worked.standing, Standing::Word(_)))?;
    Some(Bar { low: figure.low, value: figure.value, high: figure.high })
}

fn lost_words<'t>(told: &'t str, reading: &Reading) -> Vec<&'t str> {
    reading.struck().filter(|struck| struck.amount).map(|struck| struck.span.of(told).trim()).collect()
}

/// Wet thickness and coats: asked for, told, or the usual coat.
pub(crate) fn laid(request: &VerdictRequest, reading: &Reading) -> (Coat, u32) {
    let told_wet = reading.settings.iter().find_map(|setting| match setting {
        Setting::WetMicrometres(range) => Some(range.middle()),
        _ => None,
    });
    let told_coats = reading.settings.iter().find_map(|setting| match setting {
        Setting::Coats(range) => Some(range.middle().round()),
        _ => None,
    });
    // Told in the text, a number out of range is no thickness of a coat; typed into the field, it was refused above.
    let wet = request.wet_um.or(told_wet.filter(|wet| THICKNESS.contains(wet)));
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "kept between 1 and 40")]
    let coats = request.coats.or(told_coats.map(|coats| coats.clamp(1.0, 40.0) as u32)).unwrap_or(1).clamp(1, 40);
    (wet.map_or(Coat::USUAL, |wet| Coat { wet: Micrometres::new(wet), told: true }), coats)
}

fn word_view(standing: &Standing) -> WordView {
    match standing {
        Standing::Word(words) => WordView { text: said(words), why: String::new() },
        Standing::NoWord(why) | Standing::NoFilm(why) => WordView { text: "no word".into(), why: why.clone() },
    }
}

/// One word, or two with *usual* first.
pub(crate) fn said(words: &Words) -> String {
    let Some(second) = words.second else { return words.first.text().into() };
    let rank = |word: Word| match word {
        Word::Usual => 0,
        Word::Lean | Word::Rich => 1,
    };
    let (a, b) = if rank(words.first) <= rank(second) { (words.first, second) } else { (second, words.first) };
    format!("{} or {}", a.text(), b.text())
}

fn section(worked: &Worked) -> Option<SectionView> {
    let ranges = worked.ranges.as_ref().ok().filter(|_| worked.water_known)?;
    if matches!(worked.standing, Standing::NoFilm(_)) {
        return None;
    }
    let best = &ranges.best;
    Some(SectionView {
        wet_um: worked.coat.wet.value(),
        dry_um: ranges.dry(),
        coats: worked.coats,
        grains: (1.0 - best.porosity) * best.pvc,
        air: best.porosity,
        told: worked.coat.told,
        seed: worked.calculation(),
    })
}

fn rests_on(worked: &Worked, boards: usize) -> String {
    let own = worked.mix.own_count();
    let seen = match boards {
        0 => "no board of yours stands behind it yet".to_owned(),
        1 => "how thick it may be was seen on 1 of your boards".to_owned(),
        count => format!("how thick it may be was seen on {count} of your boards"),
    };
    match &worked.standing {
        Standing::NoFilm(_) => "Nothing yet: too little is known of this recipe to compute a film.".into(),
        Standing::NoWord(_) => {
            "Argued from books: the figures are sums over printed densities and oil absorptions; no board of yours stands behind them."
                .into()
        }
        Standing::Word(_) if own > 0 => format!(
            "Argued from books, with {own} of its numbers measured by you: order and direction only. Ten handbook grounds mark the rule; {seen}."
        ),
        Standing::Word(_) => format!(
            "Argued from books: order and direction only. Ten handbook grounds mark the rule, and printed densities and oil absorptions place yours on it; {seen}."
        ),
    }
}

fn pieces(told: &str, reading: &Reading) -> Vec<PieceView> {
    let ask = |id: &QuestionId| reading.questions.iter().find(|question| question.id == *id).map_or("", |question| question.ask.as_str());
    let view = |piece: &materials::Piece| {
        let (kind, why, asked) = match piece {
            materials::Piece::Talk(_) => (PieceKind::Talk, String::new(), String::new()),
            materials::Piece::Struck(struck) => (PieceKind::Struck, struck.why.clone(), String::new()),
            materials::Piece::Chip(chip) => match chip.questions.first() {
                None => (PieceKind::Read, String::new(), String::new()),
                Some(first) => (PieceKind::Guessed, chip.questions.iter().map(ask).collect::<Vec<_>>().join(" "), first.0.clone()),
            },
        };
        PieceView { text: piece.span().of(told).to_owned(), kind, why, asked }
    };
    reading.pieces.iter().map(view).collect()
}

/// Differences (second minus first) of powder share over critical share, draw by draw, with what the two share dropping out.
pub(crate) fn paired(left: &Worked, right: &Worked) -> Vec<f64> {
    let mut pot = Vec::new();
    let rows = left.drawn.rows().zip(right.drawn.rows());
    rows.filter_map(|(a, b)| {
        let first = left.mix.film(a, &mut pot).ok()?;
        let second = right.mix.film(b, &mut pot).ok()?;
        Some(second.lambda() - first.lambda())
    })
    .collect()
}
