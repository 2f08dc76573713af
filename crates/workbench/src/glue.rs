//! Glue in water: how strong, what brings it to a strength, and the warm pot over the day.

mod log;
mod reading;
mod words;

use binder::{BinderError, GlueFigures, GlueParts, GlueUse, Keeping, glue_with_ranges};
use materials::Material;
use measure::{Celsius, Draws, Figure, Unit};
use show::{CautionReport, CurdQuestion, FigureReport, FigureRow, GlueRatioReport, GlueReport, GlueView, WarningReport, number, write};

use crate::figure_rows::sheet;
use crate::figure_rows::{figure_row, hundredths};
use crate::milk::MilkFormError;
use crate::verdict::{caution, input_row};
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
        let (mut warnings, cooked) = self.glue_warnings(form, &told, day.hours)?;
        if let Some(coat) = day.coats.iter().find(|coat| coat.stronger_than_before) {
            warnings.push(WarningReport {
                id: "stronger".into(),
                text: format!(
                    "“{}” was laid stronger than the coat before it. A gesso coat stronger than the one beneath may curl and pull that one off (Conservation of Furniture): put the water back before each coat.",
                    coat.said
                ),
                at: "log".into(),
            });
        }
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
            coats: day.coats,
            steps: self.glue_steps(&told, &figures)?,
            cautions: self.glue_cautions(&told),
            questions: told.questions.clone(),
        };
        let mut said = self.glue_sentences(&told, &figures, stands)?;
        if let Some((share, add)) = &day.last {
            said.splice(0..0, words::pot(share, add, cooked));
        }
        let mut said = said.into_iter();
        let sentence = said.next().unwrap_or_default();
        Ok(GlueView {
            sentence,
            more: said.collect(),
            pot_rows: day.rows,
            coat_rows: day.coat_rows,
            know: self.glue_know(form, &told)?,
            figures: figure_rows(&told, &figures, day.last, day.last_coat),
            report,
        })
    }

    /// What stands behind a figure of `glue`, as text; an error names those that there are.
    ///
    /// # Errors
    /// There is no such figure.
    pub fn glue_figure(key: &str) -> Result<String, String> {
        const KEYS: [(&str, &str); 10] = [
            ("glue_g", "glue_dry"),
            ("water_g", "glue_water"),
            ("glue_share", "glue_share"),
            ("add_water_g", "glue_add_water"),
            ("add_glue_g", "glue_add_glue"),
            ("by_weight", "ratio_by_weight"),
            ("by_volume", "ratio_by_volume"),
            ("pot_share", "pot_share"),
            ("pot_add_water_g", "pot_add_water"),
            ("coat_share", "coat_share"),
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
                    "This glue has lost strength: it was hotter than {}\u{a0}°C, or kept hot for {}\u{a0}h or more, or melted again a second time. How much is not known (order of magnitude, from memory: half in a working day at 80 °C). The per cent stay, the hold does not: make a fresh pot for boards that matter, and go by the jelly.",
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

/// Grams as a balance reads them: to the gram from a hundred on, to the tenth below.
fn grams_words(figure: &Figure) -> String {
    if figure.width() > 0.0 {
        return write(figure).line();
    }
    let text = number(figure.value, usize::from(figure.value.abs() < 100.0));
    format!("{}\u{a0}g", text.strip_suffix(".0").unwrap_or(&text))
}

/// Every figure that is known, with what stands behind it.
fn figure_rows(told: &Told<'_>, figures: &GlueFigures, pot: Option<(Figure, Figure)>, coat: Option<Figure>) -> Vec<FigureRow> {
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
        coat,
    ];
    let inputs = [&told.request.glue, &told.request.water, &told.request.loose];
    let rows = all.into_iter().flatten().filter_map(|figure| {
        let entry = binder::figure_entry(figure.key)?;
        let value = if figure.unit == Unit::One { hundredths(&figure) } else { grams_words(&figure) };
        let inputs = inputs.into_iter().filter(|input| input.best > 0.0 && entry.rests_on(input)).map(input_row).collect();
        Some(figure_row(figure.key, entry, Some(value), "", inputs))
    });
    rows.collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn form(glue: &str, water: &str) -> GlueForm {
        GlueForm { glue: glue.into(), water: water.into(), ..GlueForm::default() }
    }

    fn told(form: &GlueForm) -> GlueView {
        Workbench::open().unwrap().glue(form).unwrap()
    }

    fn refused(form: &GlueForm) -> String {
        Workbench::open().unwrap().glue(form).unwrap_err().to_string()
    }

    #[test]
    fn printed_recipes_come_to_their_strength() {
        // Studio handbook text (Mayer) as reproduced: 2.5 oz in 1 US quart, 70.87 / 1017.23 = 6.97 %. Traditional-gesso technical sheet: 1 oz in
        // 1 US quart, 28.35 / 974.70 = 2.91 %. Common practice, no source: 70 g in a litre, 70 / 1070 = 6.54 %.
        for (glue, water, percent, stands) in [
            ("2.5 oz rabbit skin glue", "1 US quart", 6.97, "gesso"),
            ("1 oz hide glue", "1 US quart water", 2.91, "size"),
            ("70 g rabbit skin glue", "1 l", 6.54, "size"),
        ] {
            let view = told(&form(glue, water));
            let share = view.report.glue_share;
            assert!((100.0 * share.value.unwrap() - percent).abs() < 0.01, "{glue}: {share:?}");
            assert_eq!((view.report.stands, share.low), (stands, share.value), "{glue}");
        }
    }

    /// The same sums as above, told in one line; and a bare ratio, 1 / 11 by weight.
    #[test]
    fn glue_and_water_in_one_breath() {
        for (told_so, percent) in [
            ("70 g rabbit skin glue, 1 l water", 6.54),
            ("1 l water and 70 g rabbit skin glue", 6.54),
            ("2.5 oz hide glue in 1 us quart of water", 6.97),
        ] {
            let share = told(&form(told_so, "")).report.glue_share.value;
            assert!((100.0 * share.unwrap() - percent).abs() < 0.01, "{told_so}: {share:?}");
        }
        let ratio = told(&form("1:10", "")).report.by_weight.unwrap();
        assert!((ratio.share.value.unwrap() - 0.0909).abs() < 1e-4);
        assert!(refused(&form("0 g rabbit skin glue, 1 l water", "")).contains("above 0"));
        assert!(refused(&form("70 g rabbit skin glue, 1 l milk", "")).contains("glue"));
    }

    #[test]
    fn what_brings_it_to_a_strength() {
        // 100 g of 12 % size to 9 %: 12 / 0.09 = 133.33 g, so 33.33 g of water.
        let view = told(&GlueForm { wanted_percent: Some(9.0), ..form("100 g glue size 12 %", "") });
        assert!((view.report.add_water_g.value.unwrap() - 33.333).abs() < 0.001, "{:?}", view.report);
        assert!(view.sentence.contains("33.3"), "{}", view.sentence);
        // For size of 6.5 %, a litre takes 1000 x 6.5 / 93.5 = 69.52 g of glue.
        let view = told(&GlueForm { wanted_for: "size".into(), ..form("", "1 l") });
        assert!((view.report.add_glue_g.value.unwrap() - 69.519).abs() < 0.001);
        assert!(view.sentence.contains("69.5"), "{}", view.sentence);
    }

    #[test]
    fn a_ratio_has_two_readings() {
        let view = told(&GlueForm { ratio: "1:10".into(), ..form("70 g rabbit skin glue", "") });
        let (weight, volume) = (view.report.by_weight.unwrap(), view.report.by_volume.unwrap());
        // By weight 1 / 11 and 700 g of water; by volume 0.7 / 10.7 and 70 / 0.7 x 10 = 1000 g.
        assert!((weight.share.value.unwrap() - 0.0909).abs() < 1e-4 && (weight.water_g.value.unwrap() - 700.0).abs() < 1e-6);
        assert!((volume.share.value.unwrap() - 0.0654).abs() < 1e-4 && (volume.water_g.value.unwrap() - 1000.0).abs() < 1e-6);
        assert!(volume.water_g.low < volume.water_g.value);
    }

    #[test]
    fn leaves_are_asked_for_their_weight() {
        let view = told(&form("12 leaves of gelatin", "400 ml"));
        assert!(view.report.questions.iter().any(|question| question.ask.contains("weigh")), "{:?}", view.report.questions);
        let share = view.report.glue_share;
        assert!(share.low < share.value && share.value < share.high);
    }

    #[test]
    fn each_coat_of_the_day_has_its_strength() {
        // By hand: 70 / 1070 = 6.54 % at nine. 100 g take 6.54 g of glue: 63.46 g in 970 g. At noon 900 g are left, 70 g gone: 63.46 / 900 =
        // 7.05 %, if the water went after the coat. If before: 70 / 1000 = 7.00 % in the coat, 63 g left, 7.00 %. So coat one 6.54 to 7.00 %,
        // coat two 7.00 to 7.05 %. Weighed just before and after the first, it is 6.54 % and the second 7.05 %, stronger beyond doubt.
        let coats = |log: &str| told(&GlueForm { log: log.into(), ..form("70 g rabbit skin glue", "1 l") });
        let doubt = coats("9:00 1070 g\ntook 100 g\n12:00 900 g\ntook 50 g\n12:10 850 g");
        let near = |found: Option<f64>, wanted: f64| assert!((100.0 * found.unwrap() - wanted).abs() < 0.006, "{found:?} {wanted}");
        near(doubt.report.coats[0].share.low, 6.54);
        near(doubt.report.coats[0].share.high, 7.00);
        near(doubt.report.coats[1].share.low, 7.00);
        near(doubt.report.coats[1].share.high, 7.05);
        assert!(!doubt.report.coats[1].stronger_than_before);
        let plain = coats("9:00 1070 g\ntook 100 g\n9:10 970 g\n12:00 900 g\ntook 50 g\n12:10 850 g");
        near(plain.report.coats[0].share.high, 6.54);
        near(plain.report.coats[1].share.low, 7.05);
        assert!(plain.report.coats[1].stronger_than_before && plain.coat_rows[1].beside.contains("stronger"));
        assert!(plain.report.warnings.iter().any(|warning| warning.id == "stronger"));
        let open = coats("9:00 1070 g\ntook 100 g");
        assert!(!open.report.coats[0].weighed_after && open.coat_rows[0].strength.starts_with("at least"));
    }

    #[test]
    fn a_pot_over_the_day() {
        let log = "9:00 1570 g\n12:00 1530 g\ntook 200 g\n18:00 1290 g";
        let view = told(&GlueForm { log: log.into(), empty_pot_g: Some(500.0), ..form("70 g rabbit skin glue", "1 l") });
        assert_eq!(view.pot_rows.len(), 3);
        // At noon 70 / 1030 = 6.80 %, and the 40 g that went bring it back.
        let noon = &view.report.pot[1];
        assert!((noon.share.value.unwrap() - 70.0 / 1030.0).abs() < 1e-9 && (noon.add_water_g.value.unwrap() - 40.0).abs() < 1e-6);
        assert!(view.report.warnings.iter().any(|warning| warning.id == "cooked"), "nine hours hot");
        let early = told(&GlueForm { log: "9:00 1070 g\n10:00 1060 g".into(), ..form("70 g rabbit skin glue", "1 l") });
        assert!(early.report.warnings.is_empty());
        for (hours, melted, warns) in [(Some(8.0), None, true), (Some(7.0), Some(2), false), (None, Some(3), true)] {
            let view = told(&GlueForm { hot_hours: hours, melted, ..form("70 g rabbit skin glue", "1 l") });
            assert_eq!(view.report.warnings.iter().any(|warning| warning.id == "cooked"), warns, "{hours:?} {melted:?}");
        }
    }

    #[test]
    fn bloom_is_no_strength() {
        let view = told(&GlueForm { bloom: Some(250.0), ..form("20 g gelatine", "400 ml") });
        let bloom = &view.know.iter().find(|(about, _)| *about == "Bloom").unwrap().1;
        assert!(bloom.join(" ").contains("12.5") && bloom.join(" ").contains("6.67"));
        let without = told(&form("20 g gelatine", "400 ml"));
        assert_eq!(view.report.glue_share, without.report.glue_share);
    }

    #[test]
    fn slips_are_named_with_their_mend() {
        let base = || form("70 g rabbit skin glue", "1 l");
        for (form, word) in [
            (form("0 g glue", "1 l"), "above 0"),
            (form("300 % glue", "1 l"), "strength"),
            (form("500 ml glue size", ""), "how strong"),
            (form("500 ml rabbit skin glue", "1 l"), "dry or melted"),
            (form("wood glue 50 g", "1 l"), "which glue"),
            (form("a cow", "1 l"), "glue"),
            (form("50 g parchment clippings", "1 l"), "parchment"),
            (form("70 g rabbit skin glue", "0 l"), "above 0"),
            (form("70 g rabbit skin glue", "-1 l"), "above 0"),
            (form("70 g rabbit skin glue", "1 l milk"), "how much water"),
            (form("70 g rabbit skin glue", ""), "water"),
            (form("", ""), "glue"),
            (GlueForm { wanted_percent: Some(300.0), ..base() }, "0.1 and 60"),
            (GlueForm { wanted_percent: Some(f64::NAN), ..base() }, "0.1 and 60"),
            (GlueForm { wanted_for: "varnish".into(), ..base() }, "for size"),
            (GlueForm { ratio: "1:0".into(), ..base() }, "1:10"),
            (GlueForm { bloom: Some(-1.0), ..base() }, "Bloom"),
            (GlueForm { log: "9:00 2000 g".into(), ..base() }, "9:00 2000 g"),
            (GlueForm { log: "it stood there".into(), ..base() }, "not understood"),
            (GlueForm { log: "took 5000 g".into(), ..base() }, "more was taken"),
            (GlueForm { log: "900 g".into(), ..form("70 g glue", "") }, "water"),
            (GlueForm { melted: Some(0), ..base() }, "melted"),
            (GlueForm { warmest_c: Some(300.0), ..base() }, "100"),
            (GlueForm { hot_hours: Some(f64::NAN), ..base() }, "hours"),
        ] {
            let why = refused(&form);
            assert!(why.contains(word), "{form:?}: {why}");
        }
    }

    #[test]
    fn every_figure_opens_to_its_source() {
        let view = told(&GlueForm {
            wanted_percent: Some(9.0),
            ratio: "1:10".into(),
            log: "1000 g".into(),
            ..form("70 g rabbit skin glue", "1 l")
        });
        assert!(view.figures.len() >= 8, "{}", view.figures.len());
        for row in &view.figures {
            assert!(!row.sheet.formula.is_empty() && !row.sheet.source.is_empty(), "{}", row.key);
        }
        assert!(Workbench::glue_figure("glue_share").unwrap().contains("Source"));
        assert!(Workbench::glue_figure("price").unwrap_err().contains("glue_share"));
    }
}
