//! Glue in water: how strong, what brings it to a strength, and the warm pot over the day.

mod log;
mod reading;
mod words;

use binder::{BinderError, GlueFigures, GlueParts, GlueUse, Keeping, glue_with_ranges};
use materials::Material;
use measure::{Celsius, Draws, Figure, Unit};
use show::{CautionReport, CurdQuestion, FigureReport, FigureRow, GlueRatioReport, GlueReport, GlueView, WarningReport, number, write};

use crate::curdle::sheet;
use crate::milk::MilkFormError;
use crate::verdict::caution;
use crate::{VERSION, Workbench};

/// What a person fills in; everything but the glue or the ratio may stay empty.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct GlueForm {
    /// Glue as told, such as `70 g rabbit skin glue` or `500 ml glue size 7 %`.
    pub glue: String,
    /// Water as told, such as `1 l`.
    pub water: String,
    /// Glue to water, such as `1:10`.
    pub ratio: String,
    /// `size`, `gesso` (its first coats), `last coats`, or nothing.
    pub wanted_for: String,
    /// A strength of the painter's own, per cent by weight.
    pub wanted_percent: Option<f64>,
    /// Bloom as the seller prints it, g.
    pub bloom: Option<f64>,
    /// Weights of the warm pot, a line each.
    pub log: String,
    /// What the empty pot weighs, if it stood on the balance too, g.
    pub empty_pot_g: Option<f64>,
    /// The warmest it became, degrees Celsius.
    pub warmest_c: Option<f64>,
    /// Hours that it was kept hot.
    pub hot_hours: Option<f64>,
    /// How often it was melted, the first time counted.
    pub melted: Option<u32>,
}

/// The form, read.
struct Told<'a> {
    request: binder::GlueRequest,
    /// What it is for; empty if that was not told.
    wanted_for: String,
    material: &'a Material,
    /// Whether it is a size already.
    made: bool,
    taken: Vec<String>,
    questions: Vec<CurdQuestion>,
}

impl Workbench {
    /// What this glue and water are, and what brings them to the strength wanted.
    ///
    /// # Errors
    /// A field that does not read; the message names it and the mend.
    ///
    /// ```
    /// use workbench::{GlueForm, Workbench};
    /// let form = GlueForm { glue: "70 g rabbit skin glue".into(), water: "1 l water".into(), ..GlueForm::default() };
    /// let view = Workbench::open()?.glue(&form)?;
    /// // 70 / 1070 = 6.54 %
    /// assert!((view.report.glue_share.value.unwrap() - 0.0654).abs() < 0.0001);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn glue(&self, form: &GlueForm) -> Result<GlueView, MilkFormError> {
        let told = self.glue_told(form)?;
        let figures = glue_with_ranges(&told.request, Draws::USUAL);
        let day = self.pot_day(form, &told)?;
        let (warnings, cooked) = self.glue_warnings(form, &told, day.hours)?;
        let stands = figures
            .share
            .as_ref()
            .map(|share| binder::glue_use(self.binder, 100.0 * share.value))
            .transpose()
            .map_err(BinderError::from)?;
        let ratio = |parts: &GlueParts| GlueRatioReport {
            share: FigureReport::from(&parts.share),
            water_g: parts.water.as_ref().map_or_else(|| FigureReport::unknown("g", "no glue was told"), FigureReport::from),
        };
        let or = |figure: &Option<Figure>, unit: &'static str, why: &str| {
            figure.as_ref().map_or_else(|| FigureReport::unknown(unit, why), FigureReport::from)
        };
        let known =
            |figure: &Figure, why: &str| if figure.value > 0.0 { FigureReport::from(figure) } else { FigureReport::unknown("g", why) };
        let report = GlueReport {
            is: "groundproof glue 1",
            version: VERSION,
            warnings,
            glue_g: known(&figures.glue, "no glue was told"),
            water_g: known(&figures.water, "no water was told"),
            glue_share: or(&figures.share, "1", "glue and water were not both told"),
            stands: match stands {
                None => "not said",
                Some(GlueUse::Thinner) => "thinner",
                Some(GlueUse::Size) => "size",
                Some(GlueUse::Gesso) => "gesso",
                Some(GlueUse::Stronger) => "stronger",
            },
            wanted_share: told.request.wanted.map(|percent| percent / 100.0),
            add_water_g: or(&figures.add_water, "g", "no strength was asked for"),
            add_glue_g: or(&figures.add_glue, "g", "no strength was asked for"),
            by_weight: figures.by_weight.as_ref().map(ratio),
            by_volume: figures.by_volume.as_ref().map(ratio),
            pot: day.reports,
            steps: self.glue_steps(&told, &figures)?,
            cautions: self.glue_cautions(&told),
            questions: told.questions.clone(),
        };
        let (sentence, more) = self.glue_sentences(&told, &figures, stands)?;
        Ok(GlueView {
            sentence,
            more,
            pot: day.last.map(|(share, add)| words::pot(&share, &add, cooked)).unwrap_or_default(),
            pot_rows: day.rows,
            know: self.glue_know(form, &told)?,
            figures: figure_rows(&told, &figures, day.last),
            report,
        })
    }

    /// What stands behind a figure of `glue`, as text; an error names those that there are.
    ///
    /// # Errors
    /// There is no such figure.
    pub fn glue_figure(key: &str) -> Result<String, String> {
        const KEYS: [(&str, &str); 9] = [
            ("glue_g", "glue_dry"),
            ("water_g", "glue_water"),
            ("glue_share", "glue_share"),
            ("add_water_g", "glue_add_water"),
            ("add_glue_g", "glue_add_glue"),
            ("by_weight", "ratio_by_weight"),
            ("by_volume", "ratio_by_volume"),
            ("pot_share", "pot_share"),
            ("pot_add_water_g", "pot_add_water"),
        ];
        let inside = KEYS.iter().find(|(told, _)| *told == key).map(|(_, inside)| *inside);
        inside.and_then(binder::figure_entry).map(sheet).ok_or_else(|| {
            let known: Vec<&str> = KEYS.iter().map(|(told, _)| *told).collect();
            format!("there is no figure `{key}`; the figures are {}", known.join(", "))
        })
    }

    /// Things to know, and whether the glue was cooked.
    fn glue_warnings(&self, form: &GlueForm, told: &Told<'_>, clock: f64) -> Result<(Vec<WarningReport>, bool), MilkFormError> {
        let wrong = |field: &'static str, what: &str| MilkFormError::Field { field, what: what.to_owned() };
        let warmest = form.warmest_c.unwrap_or(0.0);
        if !(0.0..=100.0).contains(&warmest) {
            return Err(wrong("warmest", "glue in water is between 0 and 100 °C; leave it empty if it was not measured"));
        }
        let hours = form.hot_hours.unwrap_or(0.0);
        if !(0.0..=1000.0).contains(&hours) {
            return Err(wrong("hours", "the hours kept hot lie between 0 and 1000"));
        }
        if form.melted.is_some_and(|times| !(1..=100).contains(&times)) {
            return Err(wrong(
                "melted",
                "it was melted between 1 and 100 times, the first time counted; leave it empty if you do not know",
            ));
        }
        let warn = |id: &str, text: String| WarningReport { id: id.into(), text, at: "glue".into() };
        let mut warnings: Vec<WarningReport> = told.taken.iter().map(|text| warn("taken_as", text.clone())).collect();
        let cooked = binder::glue_was_cooked(self.binder, Celsius::new(warmest), hours.max(clock), form.melted.unwrap_or(1));
        let cooked = cooked.map_err(BinderError::from)?;
        if cooked {
            let value = |key: &str| self.binder.constant(key).map(|constant| constant.value).map_err(BinderError::from);
            warnings.push(warn(
                "cooked",
                format!(
                    "This glue has lost strength: hotter than {}\u{a0}°C, {}\u{a0}h or more kept hot, or melted a second time again. How much is not known (order of magnitude, from memory: half in a working day at 80 °C). The per cent stay, the hold does not: make a fresh pot for boards that matter, and go by the jelly.",
                    number(value("glue.hottest")?, 0),
                    number(value("glue.hot_hours")?, 0)
                ),
            ));
        }
        Ok((warnings, cooked))
    }

    fn glue_cautions(&self, told: &Told<'_>) -> Vec<CautionReport> {
        let jars = [told.material.id.as_str(), "hot-plate", "mould"].into_iter().filter_map(|id| self.jar(id));
        let mut cautions: Vec<CautionReport> = jars.flat_map(|jar| jar.cautions).map(|view| caution(&view)).collect();
        cautions.dedup();
        cautions
    }
}

/// How long glue is kept, in words.
fn keeping() -> Vec<String> {
    [Keeping::Today, Keeping::TomorrowIfColdAndClean, Keeping::ThenBinIt].map(|keeping| keeping.text().to_owned()).to_vec()
}

/// A strength as people say it: `6.54 %`, `6 % (5 to 9)`.
fn share_words(share: &Figure) -> String {
    let written = write(&share.times(100.0));
    let range = if written.range.is_empty() { String::new() } else { format!(" ({})", written.range) };
    format!("{}\u{a0}%{range}", written.value)
}

/// Grams as a balance reads them: to the gram from a hundred on, to the tenth below.
fn grams_words(figure: &Figure) -> String {
    if figure.width() > 0.0 {
        return write(figure).line();
    }
    format!("{}\u{a0}g", number(figure.value, usize::from(figure.value.abs() < 100.0)))
}

/// Every figure that is known, with what stands behind it.
fn figure_rows(told: &Told<'_>, figures: &GlueFigures, pot: Option<(Figure, Figure)>) -> Vec<FigureRow> {
    let some = |figure: &Figure| Some(*figure).filter(|figure| figure.value > 0.0 || figure.high > 0.0);
    let parts = |parts: Option<GlueParts>| parts.map(|parts| parts.share);
    let all = [
        some(&figures.glue),
        some(&figures.water),
        figures.share,
        figures.add_water.as_ref().and_then(some),
        figures.add_glue.as_ref().and_then(some),
        parts(figures.by_weight),
        parts(figures.by_volume),
        figures.by_weight.and_then(|parts| parts.water),
        pot.map(|(share, _)| share),
        pot.map(|(_, add)| add),
    ];
    let inputs = [&told.request.glue, &told.request.water, &told.request.loose];
    let rows = all.into_iter().flatten().filter_map(|figure| {
        let entry = binder::figure_entry(figure.key)?;
        Some(FigureRow {
            key: figure.key,
            name: entry.name.clone(),
            chemist: entry.chemist.clone(),
            value: if figure.unit == Unit::One { share_words(&figure) } else { grams_words(&figure) },
            why: String::new(),
            sheet: show::Sheet {
                formula: entry.formula.clone(),
                source: entry.source.clone(),
                holds: entry.holds.clone(),
                fails: entry.fails.clone(),
                inputs: inputs.into_iter().filter(|input| input.best > 0.0 && entry.rests_on(input)).map(words::input_row).collect(),
            },
        })
    });
    rows.collect()
}
