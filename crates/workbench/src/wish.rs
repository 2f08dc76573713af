//! What I wish for: back from the wish to the spoon. The amounts are worked back; the ordinary verdict judges what comes out.

mod at_hand;
mod pot;
mod roads;
mod words;

use ground::{Words, film_with_ranges};
use measure::{Input, Unit, VesselSet};
use show::{FigureReport, WarningReport, WishReport, WishRounding, WishView};

use crate::milk::MilkFormError;
use crate::verdict::{Standing, VerdictRequest, Worked};
use crate::{VERSION, Workbench};
use at_hand::{AtHand, Named};
pub(crate) use at_hand::{loose, spooned};
pub(crate) use pot::grams_written;
use pot::{Outcome, Pot};
use roads::Start;

/// What is wished for. Everything may stay empty but the wish itself.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct WishForm {
    /// A recipe to start from, as told.
    pub like: String,
    /// It is to be *usual*, and to stay so over the spread of what it is measured with.
    pub usual: bool,
    /// The powder that is to be in it.
    pub with: String,
    /// Half of the binder, and still brushable.
    pub half_binder: bool,
    /// What must not go in, such as `borax; gypsum`.
    pub without: String,
    /// What is at hand, such as `500 g chalk; hide glue`; empty for anything that the book knows.
    pub shelf: String,
    /// Grams wanted.
    pub make_g: Option<f64>,
    /// Area to be covered, square metres, with `dry_um`.
    pub area_m2: Option<f64>,
    /// How thick it is to be when dry, micrometres.
    pub dry_um: Option<f64>,
    /// `us`, `metric`, or what the own cup, tablespoon and teaspoon hold in ml, such as `240/15/5`; empty for grams alone.
    pub spoons: String,
    /// Step of the scale, g; one gram if it is not said.
    pub scale_g: Option<f64>,
    /// Values that the painter measured, in place of printed ones.
    pub own: Vec<Input>,
}

/// What is made where nothing says how much (model choice: a jam jar and a half).
const USUAL_POT: f64 = 500.0;
/// Grams that can be asked for.
const POTS: std::ops::RangeInclusive<f64> = 1.0..=200_000.0;
/// Areas that can be asked for, m2, and thicknesses, um.
const AREAS: std::ops::RangeInclusive<f64> = 1e-4..=1000.0;
const DRY: std::ops::RangeInclusive<f64> = 5.0..=5000.0;
/// Steps of a scale, g.
const STEPS: std::ops::RangeInclusive<f64> = 0.01..=100.0;

/// The form, read.
pub(super) struct Ask<'a> {
    pub(super) form: &'a WishForm,
    pub(super) start: Option<Start>,
    pub(super) with: Option<Named>,
    pub(super) without: Vec<Named>,
    pub(super) at_hand: Option<AtHand>,
    pub(super) spoons: Option<VesselSet>,
    pub(super) step: f64,
    /// Whether the result must be *usual*.
    pub(super) usual: bool,
    pub(super) notes: Vec<String>,
}

fn wrong(field: &'static str, what: impl Into<String>) -> MilkFormError {
    MilkFormError::Field { field, what: what.into() }
}

impl Workbench {
    /// A pot for the wish, judged by the ordinary verdict; where the wish can't be kept, the nearest pot and why.
    ///
    /// # Errors
    /// A field that does not read, or nothing at hand that makes a ground; the message names it and the mend.
    ///
    /// ```
    /// use workbench::{WishForm, Workbench};
    /// let form = WishForm { like: "100 g gypsum, 25 g hide glue, 120 g water".into(), usual: true, with: "chalk".into(), ..WishForm::default() };
    /// let view = Workbench::open()?.wish(&form)?;
    /// assert!(view.report.reached && view.verdict.starts_with("Usual"), "{}", view.sentence);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn wish(&self, form: &WishForm) -> Result<WishView, MilkFormError> {
        let ask = self.wish_asked(form)?;
        let outcome = self.best_pot(&ask)?;
        self.wish_view(&ask, outcome)
    }

    fn wish_asked<'a>(&self, form: &'a WishForm) -> Result<Ask<'a>, MilkFormError> {
        let within = |field, value: Option<f64>, range: &std::ops::RangeInclusive<f64>, what: &str| match value {
            Some(value) if !range.contains(&value) => Err(wrong(field, what)),
            _ => Ok(()),
        };
        within("make", form.make_g, &POTS, "a pot weighs between 1 g and 200 kg")?;
        within("area", form.area_m2, &AREAS, "an area lies between 0.0001 and 1000 m2")?;
        within("thickness", form.dry_um, &DRY, "a dry ground is 5 to 5000 um thick")?;
        within("scale", form.scale_g, &STEPS, "a scale has a step between 0.01 and 100 g")?;
        if form.area_m2.is_some() != form.dry_um.is_some() {
            return Err(wrong("area", "say both the area in m2 and the dry thickness in um, or how many grams"));
        }
        let start = self.wish_start(form)?;
        let mut notes = Vec::new();
        let with = match form.with.trim() {
            "" => None,
            words => Some(self.wished_powder(words)?),
        };
        let mut without = Vec::new();
        for words in at_hand::listed(&form.without) {
            without.push(self.stuff_named(words).ok_or_else(|| {
                wrong("without", format!("“{words}” is no stuff that is known here; name one as the jars have it, such as “borax”"))
            })?);
        }
        if without.iter().any(|named| named.is("water")) {
            return Err(wrong("without", "every ground that is worked out here is thinned with water; name something else"));
        }
        let at_hand = self.told_at_hand(&form.shelf, &mut notes)?;
        let spoons = spoons(&form.spoons)?;
        // A start that has no place can't be copied: then the handbook grounds are the aim.
        let placed = start.as_ref().is_some_and(|start| start.place.is_some());
        if start.is_some() && !placed {
            notes.push("How much of everything that recipe takes can't be told, so it is made as the handbook grounds are.".into());
        }
        let usual = form.usual || (!placed && !form.half_binder);
        if form.half_binder && !placed {
            return Err(wrong("half_binder", "half of what? Say the recipe first, with an amount for powder and binder"));
        }
        Ok(Ask { form, start, with, without, at_hand, spoons, step: form.scale_g.unwrap_or(1.0), usual, notes })
    }

    fn wish_start(&self, form: &WishForm) -> Result<Option<Start>, MilkFormError> {
        if form.like.trim().is_empty() {
            return Ok(None);
        }
        let request = VerdictRequest { told: form.like.clone(), own: form.own.clone(), ..VerdictRequest::default() };
        let worked = self.work(&request).map_err(|why| wrong("like", why.to_string()))?;
        if worked.reading.lines.is_empty() {
            return Err(wrong("like", "nothing in it reads as an ingredient; say it as “250 g chalk, 14 g hide glue, 200 ml water”"));
        }
        if self.ready_made(&worked).is_some() {
            return Err(wrong("like", "what is in a bought primer is not printed on the tin, so nothing can be made like it"));
        }
        Ok(Some(self.start_of(&worked)))
    }

    /// The pot as a view, judged.
    fn wish_view(&self, ask: &Ask<'_>, outcome: Outcome) -> Result<WishView, MilkFormError> {
        let Outcome { pot, mut why_not, changed } = outcome;
        let text = pot.text(ask.step);
        let request = VerdictRequest { told: text.clone(), own: ask.form.own.clone(), ..VerdictRequest::default() };
        let worked = self.work(&request).map_err(|why| wrong("like", why.to_string()))?;
        let card = self.card(&request, &worked);
        let spoon_text = ask.spoons.as_ref().map(|set| pot.text_in_spoons(set, ask.step));
        let in_spoons = match &spoon_text {
            Some(told) => Some(self.judged(told, ask)?),
            None => None,
        };
        let stays = |worked: &Worked| matches!(&worked.standing, Standing::Word(words) if is_usual(words));
        if ask.usual && why_not.is_empty() {
            if !stays(&worked) {
                why_not.push(words::not_usual(&card.sentence));
            } else if let Some(spooned) = in_spoons.as_ref().filter(|spooned| !stays(spooned)) {
                why_not.push(words::not_usual_in_spoons(&self.spoons_weigh(spooned)));
            }
        }
        let rounding = rounding(ask, &pot, &worked, in_spoons.as_ref());
        let lines = pot.lines(ask);
        let mut warnings: Vec<WarningReport> =
            ask.notes.iter().map(|text| WarningReport { id: "read".into(), text: text.clone(), at: "wish".into() }).collect();
        warnings.extend(pot.fine(ask.step).map(|text| WarningReport { id: "fine".into(), text, at: "scale".into() }));
        let report = WishReport {
            is: "groundproof wish 1",
            version: VERSION,
            wished: words::wished(ask),
            reached: why_not.is_empty(),
            why_not,
            changed,
            recipe: text,
            recipe_in_spoons: spoon_text.unwrap_or_default(),
            lines,
            rounding,
            film: card.report.clone(),
            warnings,
        };
        let sentence = words::sentence(&report);
        let bar_before = ask.start.as_ref().and_then(|start| start.bar);
        Ok(WishView { sentence, verdict: card.sentence.clone(), card, bar_before, report })
    }

    /// A text through the ordinary engine.
    pub(super) fn judged(&self, told: &str, ask: &Ask<'_>) -> Result<Worked, MilkFormError> {
        let request = VerdictRequest { told: told.to_owned(), own: ask.form.own.clone(), ..VerdictRequest::default() };
        self.work(&request).map_err(|why| wrong("like", why.to_string()))
    }

    /// What to weigh instead of spooning it: the thing whose spoonful is known least.
    fn spoons_weigh(&self, spooned: &Worked) -> String {
        let found = film_with_ranges(&spooned.mix, spooned.coat, &spooned.drawn);
        let best = found.ok().and_then(|ranges| ground::narrowings(&spooned.mix, &ranges, &spooned.drawn).into_iter().next());
        let key = best.and_then(|best| best.keys.first().cloned()).unwrap_or_default();
        let id = key.split('.').nth(1).unwrap_or("");
        self.jars.material(&materials::MaterialId::new(id)).map_or_else(String::new, |material| material.name.clone())
    }
}

/// Whether the card says *usual* and nothing beside it.
pub(super) fn is_usual(words: &Words) -> bool {
    words.first == ground::Word::Usual && words.second.is_none()
}

fn rounding(ask: &Ask<'_>, pot: &Pot, worked: &Worked, spooned: Option<&Worked>) -> WishRounding {
    let exact = pot.brings_exact();
    let lambda_exact = exact.place().unwrap_or(f64::NAN);
    let pvc_exact = exact.powder / (exact.powder + exact.binder);
    let of = |worked: &Worked, key: &'static str| match &worked.ranges {
        Ok(ranges) => Ok(ranges.figure(key, Unit::One, if key == "pvc" { |film: &ground::Film| film.pvc } else { ground::Film::lambda })),
        Err(why) => Err(why.to_string()),
    };
    let figure = |worked: &Worked, key| match of(worked, key) {
        Ok(figure) => FigureReport::from(&figure),
        Err(why) => FigureReport::unknown("1", why),
    };
    let words = words::rounding(ask.step, (lambda_exact, pvc_exact), worked, spooned);
    WishRounding {
        step_g: ask.step,
        lambda_exact,
        pvc_exact,
        lambda: figure(worked, "lambda"),
        pvc: figure(worked, "pvc"),
        lambda_in_spoons: spooned.map(|worked| figure(worked, "lambda")),
        pvc_in_spoons: spooned.map(|worked| figure(worked, "pvc")),
        words,
    }
}

/// A set of cups and spoons as typed.
pub(crate) fn spoons(text: &str) -> Result<Option<VesselSet>, MilkFormError> {
    use measure::Millilitres as Ml;
    let plain = text.trim().to_lowercase();
    let wrong = |why: &str| {
        wrong("spoons", format!("{why}; say “us”, “metric”, or what your cup, tablespoon and teaspoon hold in ml, such as “240/15/5”"))
    };
    match plain.as_str() {
        "" => Ok(None),
        "us" => Ok(Some(VesselSet::US)),
        "metric" => Ok(Some(VesselSet::METRIC)),
        own => {
            let sizes: Option<Vec<f64>> = own.split('/').map(|size| size.trim().trim_end_matches("ml").trim().parse().ok()).collect();
            match sizes.as_deref() {
                Some([cup, table, tea]) => match VesselSet::own(Ml::new(*cup), Ml::new(*table), Ml::new(*tea)) {
                    Ok(set) => Ok(Some(set)),
                    Err(why) => Err(wrong(&why.to_string())),
                },
                _ => Err(wrong("that is no set of spoons")),
            }
        }
    }
}

#[cfg(test)]
mod tests;
