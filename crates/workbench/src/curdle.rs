//! Milk and acid: where it leads, and what stays in the cloth.

use binder::{
    AcidAtHand, AcidSource, CurdFigures, CurdState, Enough, MilkKind, MilkRequest, PhReached, curd, curd_with_ranges, milk_inputs,
};
use materials::{Wishes, read};
use measure::{Celsius, Draws, Figure, Millilitres, Unit};
use show::{CautionReport, CurdChoice, CurdQuestion, CurdleReport, CurdleView, FigureReport, WarningReport, plain, range, write};

use crate::figure_rows::sheet;
use crate::milk::{MilkFormError, was_heated};
use crate::verdict::caution;
use crate::{VERSION, Workbench};

/// What a person says.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct CurdleForm {
    /// Milk as told, such as `1 US gal skim milk`.
    pub milk: String,
    /// Acids as told, such as `500 ml white vinegar 5 %`; the one without an amount is asked about, else the first.
    pub acids: Vec<String>,
    /// How warm the milk is, degrees Celsius.
    pub warmth_c: Option<f64>,
    /// How often the curd is rinsed.
    pub washes: u32,
    /// Water of one rinse, ml.
    pub wash_ml: Option<f64>,
    /// Whether the milk was hot before, also where its name does not say so.
    pub boiled: bool,
    /// How the curd is drained: `cloth`, which an empty word means too, `squeezed` or `scooped`.
    pub drained: String,
    /// Water that goes into the milk beside the acid, ml.
    pub water_ml: Option<f64>,
}

/// Warmth that is taken when none is told.
const ROOM_C: f64 = 20.0;
const MOST_WASHES: u32 = 50;
const MOST_ML: f64 = 200_000.0;
/// Strengths that vinegar is sold in, per cent (common practice, no source).
const VINEGARS: [f64; 3] = [4.0, 5.0, 6.0];

impl Workbench {
    /// Where this milk and acid lead.
    ///
    /// # Errors
    /// A field that does not read; the message names it and the mend.
    ///
    /// ```
    /// use workbench::{CurdleForm, Workbench};
    /// let form = CurdleForm { milk: "1 US gal skim milk".into(), acids: vec!["2 US cups white vinegar 5 %".into()], ..CurdleForm::default() };
    /// let view = Workbench::open()?.curdle(&form)?;
    /// assert!((view.report.ph.value.unwrap() - 4.56).abs() < 0.01);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn curdle(&self, form: &CurdleForm) -> Result<CurdleView, MilkFormError> {
        let mut taken = Vec::new();
        let form = &CurdleForm { acids: self.sizeless_first(form.acids.clone()), ..form.clone() };
        let (request, acid_name) = self.curdle_told(form, &mut taken)?;
        let figures = curd_with_ranges(&request, Draws::USUAL)?;
        let questions = questions(form, &request)?;
        let report = self.curdle_report(&request, &figures, taken, questions);
        let (sentence, more) = sentences(&request, &figures, &acid_name, &report);
        Ok(CurdleView { sentence, more, report })
    }

    /// What stands behind a figure of `curdle`, as text; an error names those that there are.
    ///
    /// # Errors
    /// There is no such figure.
    pub fn curdle_figure(key: &str) -> Result<String, String> {
        const KEYS: [&str; 7] = ["ph", "casein_g", "curd_wet_g", "whey_ml", "acid_for_curdling", "residual_acid", "curdles_from_ph"];
        let found = KEYS.contains(&key).then(|| binder::figure_entry(key)).flatten();
        found.map(sheet).ok_or_else(|| format!("there is no figure `{key}`; the figures are {}", KEYS.join(", ")))
    }

    pub(crate) fn curdle_told(&self, form: &CurdleForm, taken: &mut Vec<String>) -> Result<(MilkRequest, String), MilkFormError> {
        let wrong = |field: &'static str, what: &str| MilkFormError::Field { field, what: what.to_owned() };
        let (milk, amount) = self.milk_told(&form.milk, taken)?;
        let kind = MilkKind::from_material(&milk.id)
            .ok_or_else(|| wrong("milk", "say how much skim, part-skim or whole milk, such as “2 l skim milk”"))?;
        let mut acids = Vec::new();
        let mut name = String::new();
        for text in &form.acids {
            self.amounts_read("acid", text)?;
            let (acid, material) = self.acid_told(text, taken)?;
            sound(&acid)?;
            if acids.is_empty() {
                name = self.jars.material(&material).map_or_else(String::new, |material| material.name.clone());
            }
            acids.push(acid);
        }
        let mut acids = acids.into_iter();
        let acid = acids.next().ok_or_else(|| wrong("acid", "say what curdles it, such as “500 ml white vinegar 5 %”"))?;
        let warmth = form.warmth_c.unwrap_or(ROOM_C);
        if !(0.0..=95.0).contains(&warmth) {
            return Err(wrong("warmth", "milk is between 0 and 95 °C"));
        }
        if form.washes > MOST_WASHES {
            return Err(wrong("washes", "rinse up to 50 times"));
        }
        if form.wash_ml.is_some_and(|ml| !(ml > 0.0 && ml <= MOST_ML)) {
            return Err(wrong("wash-water", "the water of one rinse lies above 0 and up to 200 l"));
        }
        if form.water_ml.is_some_and(|ml| !(0.0..=MOST_ML).contains(&ml)) {
            return Err(wrong("water", "the water in the milk lies between 0 and 200 l"));
        }
        let volume = match amount {
            binder::MilkAmount::Volume(ml) => ml.value(),
            binder::MilkAmount::Mass(g) => g.value(),
        };
        let request = MilkRequest {
            milk: amount,
            kind,
            heated_before: form.boiled || was_heated(&form.milk),
            acid,
            others: acids.collect(),
            water: Millilitres::new(form.water_ml.unwrap_or(0.0)),
            warmth: Some(Celsius::new(warmth)),
            washes: form.washes,
            wash: Millilitres::new(form.wash_ml.unwrap_or(volume / 4.0)),
            state: state_told(&form.drained),
            base: None,
        };
        Ok((request, name))
    }

    /// A number that is no amount (0, below 0, not understood) is a slip of the hand: leaving it out in silence would answer another question.
    pub(crate) fn amounts_read(&self, field: &'static str, text: &str) -> Result<(), MilkFormError> {
        let reading = read(self.jars, &self.units, text, &Wishes::new());
        let struck = reading.struck().map(|struck| struck.span.of(text)).find(|word| word.contains(|c: char| c.is_ascii_digit()));
        match struck {
            None if !text.trim_start().starts_with(['-', '\u{2212}']) => Ok(()),
            word => Err(MilkFormError::Field {
                field,
                what: format!(
                    "“{}” is no amount that can go in; say one above 0 with its unit, or none at all",
                    word.unwrap_or(text).trim()
                ),
            }),
        }
    }

    fn curdle_report(
        &self,
        request: &MilkRequest,
        figures: &CurdFigures,
        taken: Vec<String>,
        questions: Vec<CurdQuestion>,
    ) -> CurdleReport {
        let lemon = request.acid.source == AcidSource::Lemon;
        let onset = figures.best.curdles_from.map_or_else(
            || FigureReport::unknown("pH", "the warmth of the milk was not told"),
            |ph| FigureReport::from(&Figure::exact("curdles_from_ph", ph, Unit::Ph)),
        );
        let from_curd = |warning: &binder::Warning| CautionReport {
            material: "milk, acid and curd".into(),
            codes: Vec::new(),
            text: warning.text().into(),
            source: "common practice, no source; household-safety pages".into(),
        };
        let jars = std::iter::once(&request.acid).chain(&request.others).filter_map(|acid| self.jar(jar_of(acid.source)));
        let mut cautions: Vec<CautionReport> = figures.best.warnings.iter().map(from_curd).collect();
        cautions.extend(jars.flat_map(|jar| jar.cautions).map(|view| caution(&view)));
        cautions.dedup();
        CurdleReport {
            is: "groundproof curdle 1",
            version: VERSION,
            warnings: taken.into_iter().map(|text| WarningReport { id: "taken_as".into(), text, at: "milk and acid".into() }).collect(),
            ph: figures.ph_reached.as_ref().map_or_else(|| FigureReport::unknown("pH", why_no_ph(figures)), FigureReport::from),
            casein_g: FigureReport::from(&figures.casein),
            whey_protein_g: figures.whey_protein.as_ref().map(FigureReport::from),
            curd_wet_g: FigureReport::from(&figures.wet_curd),
            whey_ml: FigureReport::from(&figures.whey),
            acid_for_curdling: FigureReport::from(figures.acid_volume.as_ref().unwrap_or(&figures.acid_needed)),
            pieces_for_curdling: lemon.then(|| FigureReport::from(&figures.acid_needed)),
            residual_acid: FigureReport::from(&figures.acid_left),
            curdles_from_ph: onset,
            acid_enough: match figures.best.enough {
                None => "not said",
                Some(Enough::Yes) => "yes",
                Some(Enough::No { .. }) => "no",
                Some(Enough::More { .. }) => "more than enough",
            },
            sugar_left: FigureReport::from(&figures.sugar_left),
            rinses_for_clean: figures.best.rinses_for_clean,
            questions,
            cautions,
        }
    }
}

/// How a curd is drained, by its short word.
pub(crate) fn state_told(word: &str) -> CurdState {
    match word {
        "squeezed" => CurdState::Squeezed,
        "scooped" => CurdState::Scooped,
        _ => CurdState::Drained,
    }
}

/// The state of a curd in words.
pub(crate) const fn drained_words(state: CurdState) -> &'static str {
    match state {
        CurdState::Drained => "drained in a cloth",
        CurdState::Squeezed => "squeezed by hand",
        CurdState::Scooped => "scooped out and not drained",
    }
}

/// A pH as people say it.
pub(crate) fn ph_words(ph: &Figure) -> String {
    let written = write(ph);
    if written.range.is_empty() { format!("pH {}", written.value) } else { format!("pH {} ({})", written.value, written.range) }
}

/// The jar whose cautions belong to an acid.
fn jar_of(source: AcidSource) -> &'static str {
    match source {
        AcidSource::Vinegar => "vinegar",
        AcidSource::LemonJuice => "lemon-juice",
        AcidSource::Lemon => "lemon",
        AcidSource::CitricAcid => "citric-acid",
        AcidSource::LacticAcid => "lactic-acid",
        AcidSource::HydrochloricAcid => "hydrochloric-acid",
        AcidSource::Rennet => "rennet",
    }
}

/// An amount that can be poured.
pub(crate) fn sound(acid: &AcidAtHand) -> Result<(), MilkFormError> {
    let amount = match acid.amount {
        None => return Ok(()),
        Some(binder::AcidAmount::Volume(ml)) => ml.value(),
        Some(binder::AcidAmount::Mass(grams)) => grams.value(),
        Some(binder::AcidAmount::Pieces(pieces)) => pieces,
    };
    if amount > 0.0 && amount <= MOST_ML {
        Ok(())
    } else {
        Err(MilkFormError::Field {
            field: "acid",
            what: "the amount of acid lies above 0 and up to 200 l or 200 kg; leave it away to ask how much is enough".into(),
        })
    }
}

fn why_no_ph(figures: &CurdFigures) -> &'static str {
    match figures.best.ph_reached {
        None => "the amount of acid was not told",
        Some(PhReached::NotKnownBelow(_)) => "it is sourer than pH 4.0, where the balance of charges ends and casein dissolves again",
        Some(_) => "it is milder than fresh milk, which is not worked out",
    }
}

/// What is not known, and what answers would do.
pub(crate) fn questions(form: &CurdleForm, request: &MilkRequest) -> Result<Vec<CurdQuestion>, MilkFormError> {
    let mut out = Vec::new();
    if request.acid.amount.is_none() {
        out.push(CurdQuestion {
            id: "amount:acid".into(),
            ask: format!("How much {} goes in?", request.acid.source.words()),
            assumed: "as much as curdles fully".into(),
            choices: Vec::new(),
            narrows: None,
        });
    }
    if request.acid.source == AcidSource::Vinegar && request.acid.strength.is_none() {
        let mut choices = Vec::new();
        for strength in VINEGARS {
            let told = MilkRequest { acid: AcidAtHand { strength: Some(strength), ..request.acid }, ..request.clone() };
            let batch = curd(&told, &milk_inputs(&told)?, &|input| input.best)?;
            let ph = batch.ph_reached.and_then(|reached| if let PhReached::At(ph) = reached { Some(ph) } else { None });
            choices.push(CurdChoice { id: plain(strength), label: format!("{} %", plain(strength)), ph });
        }
        let known: Vec<f64> = choices.iter().filter_map(|choice| choice.ph).collect();
        let (low, high) = known.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), ph| (low.min(*ph), high.max(*ph)));
        out.push(CurdQuestion {
            id: "strength:vinegar".into(),
            ask: "How strong is the vinegar, by its label?".into(),
            assumed: "5 %, from 4 to 6".into(),
            choices,
            narrows: (known.len() > 1).then_some(high - low),
        });
    }
    if form.warmth_c.is_none() {
        out.push(CurdQuestion {
            id: "warmth".into(),
            ask: "How warm is the milk?".into(),
            assumed: format!("{} °C; warm milk looks curdled sooner, and needs as much acid", plain(ROOM_C)),
            choices: Vec::new(),
            narrows: None,
        });
    }
    if form.washes > 0 && form.wash_ml.is_none() {
        out.push(CurdQuestion {
            id: "wash_water".into(),
            ask: "How much water is in one rinse?".into(),
            assumed: "a quarter of the milk".into(),
            choices: Vec::new(),
            narrows: None,
        });
    }
    Ok(out)
}

fn sentences(request: &MilkRequest, figures: &CurdFigures, acid: &str, report: &CurdleReport) -> (String, Vec<String>) {
    let ml = figures.acid_volume.as_ref().unwrap_or(&figures.acid_needed);
    let pieces = report.pieces_for_curdling.is_some();
    let (needed, unit) = if pieces { (&figures.acid_needed, "") } else { (ml, ml.unit.symbol()) };
    let gap = if unit.is_empty() { String::new() } else { format!("\u{a0}{unit}") };
    let wants = format!("about {}{gap} of {acid} (likely {})", write(needed).value, range(needed.low, needed.high));
    let wants = if pieces { wants.replace(" of lemon", " lemons") } else { wants };
    let ph = figures.ph_reached.as_ref().map(ph_words);
    let sentence = match (&figures.best.enough, ph) {
        (None, _) => format!("To curdle fully, at pH 4.6, this milk wants {wants}."),
        (Some(Enough::Yes), Some(ph)) => format!("Enough: it ends at {ph}. Most casein falls at 4.6."),
        (Some(Enough::No { .. }), Some(ph)) => format!("Too little: it ends at {ph}. This milk wants {wants}."),
        (Some(Enough::More { .. }), Some(ph)) => {
            format!("Too much: it ends at {ph}, and very sour casein begins to dissolve again. This milk wants {wants}.")
        }
        (Some(_), None) => format!("Too much: it ends sourer than can be worked out. This milk wants {wants}."),
    };
    let mut more = vec![
        format!("Dry casein in the curd: {}.", write(&figures.casein).line()),
        format!("Wet curd, {}: {}.", drained_words(request.state), write(&figures.wet_curd).line()),
        format!("Whey: {}.", write(&figures.whey).line()),
        format!("Acid left in the curd: {}.", write(&figures.acid_left).line()),
    ];
    if let Some(whey) = &figures.whey_protein {
        more.push(format!("Whey protein that falls with it, the milk having been hot: {}; softer curd.", write(whey).line()));
    }
    if let Some(onset) = figures.best.curdles_from {
        more.push(format!(
            "At this warmth it looks curdled from about pH {}. That is no sign to stop: clear yellowish whey and the dose are.",
            show::number(onset, 1)
        ));
    }
    if let Some(rinses) = figures.best.rinses_for_clean.filter(|rinses| *rinses > 0) {
        more.push(format!("{rinses} rinses of this size bring the milk sugar down to a hundredth of the casein."));
    }
    (sentence, more)
}
