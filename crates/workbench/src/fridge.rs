//! A binder from what is in the fridge: milk, acid, curd, rinses, what opens it; a forecast, nothing is written down.

mod acids;
mod curve;
mod opening;
mod rinse;
mod told;
mod yields;

pub(crate) use opening::{base_share, spoons};
pub(crate) use told::dish_told;

use binder::{CurdFigures, curd_with_inputs};
use measure::{Draws, Figure, Unit};
use show::{CautionView, FigureRow, FridgeView, write};

use crate::TypedBinder;
use crate::Workbench;
use crate::figure_rows::figure_row;
use crate::milk::{MilkFormError, curd_caution};
use crate::verdict::input_row;
use told::Told;

/// Everything that a painter tells.
#[derive(Debug, Clone, PartialEq)]
pub struct FridgeForm {
    /// Milk, such as `1 litre of skim milk`.
    pub milk: String,
    /// Acids, such as `two lemons, a bottle of vinegar`; the first with an amount is the one asked about.
    pub acids: String,
    /// Warmth of the milk, degrees Celsius.
    pub warmth_c: Option<f64>,
    /// Whether it was hot before: boiled, or UHT.
    pub boiled: bool,
    /// How the curd is drained: `cloth`, `squeezed` or `scooped`.
    pub drained: String,
    /// How often it is rinsed; none told: as often as brings the milk sugar to 1 %.
    pub rinses: Option<u32>,
    /// Water of one rinse, ml.
    pub rinse_ml: Option<f64>,
    /// Alkalinity of that water, mg/l as calcium carbonate.
    pub hardness: Option<f64>,
    /// Water that goes into the milk beside the acid, ml.
    pub thinned_ml: Option<f64>,
    /// What opens the curd, with or without an amount.
    pub base: String,
    /// Water in the pot beside that of the curd, ml.
    pub water_ml: Option<f64>,
    /// The pH that the pot is to come to.
    pub ph: Option<f64>,
    /// Readings of pH paper: all acid that had gone in by then, and what the paper said.
    pub papers: Vec<(String, String)>,
    /// Dishes weighed wet and dry, such as `10:2.4, 12:2.9`.
    pub dishes: String,
    /// The wet curd as weighed, g.
    pub curd_g: Option<f64>,
}

impl Default for FridgeForm {
    fn default() -> Self {
        Self {
            milk: String::new(),
            acids: String::new(),
            warmth_c: None,
            boiled: false,
            drained: "cloth".into(),
            rinses: None,
            rinse_ml: None,
            hardness: None,
            thinned_ml: None,
            base: String::new(),
            water_ml: None,
            ph: None,
            papers: Vec::new(),
            dishes: String::new(),
            curd_g: None,
        }
    }
}

/// Draws of everything that stands beside the main figures.
const BESIDE: Draws = Draws { count: 300, ..Draws::USUAL };

impl Workbench {
    /// Acids told in a row, one by one: the one without an amount first, the way a binder asks for it.
    pub fn acids_in(&self, text: &str) -> Vec<String> {
        self.sizeless_first(told::pieces(text))
    }

    /// Acids as told, those without an amount first: of one of them the milk says how much it wants.
    pub(crate) fn sizeless_first(&self, acids: Vec<String>) -> Vec<String> {
        let has_size = |acid: &String| self.acid_told(acid, &mut Vec::new()).is_ok_and(|(acid, _)| acid.amount.is_some());
        let (sized, sizeless): (Vec<String>, Vec<String>) = acids.into_iter().partition(has_size);
        sizeless.into_iter().chain(sized).collect()
    }

    /// The binder that a forecast begins, under this name. One acid may come without an amount: its step says then how much is wanted.
    pub fn begun(&self, form: &FridgeForm, name: &str) -> TypedBinder {
        let number = |value: Option<f64>| value.filter(|value| value.is_finite()).map_or_else(String::new, show::plain);
        TypedBinder {
            name: name.to_owned(),
            road: "curd".into(),
            milk: form.milk.clone(),
            acids: self.acids_in(&form.acids),
            base: if form.base.trim().is_empty() { "baking soda".into() } else { form.base.clone() },
            water: number(form.water_ml),
            warmth: number(form.warmth_c),
            heated: form.boiled,
            squeezed: form.drained == "squeezed",
            rinses: form.rinses.map_or_else(String::new, |rinses| rinses.to_string()),
            rinse_water: number(form.rinse_ml),
            ..TypedBinder::default()
        }
    }

    /// Where this milk, acid and base lead.
    ///
    /// # Errors
    /// A field that does not read, or milk that can't become curd; the message names it and the mend.
    ///
    /// ```
    /// use workbench::{FridgeForm, Workbench};
    /// let form = FridgeForm { milk: "1 litre of skim milk".into(), acids: "one lemon".into(), base: "baking soda".into(), ..FridgeForm::default() };
    /// let view = Workbench::open()?.fridge(&form)?;
    /// assert!(view.sentence.starts_with("No:"), "{}", view.sentence);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn fridge(&self, form: &FridgeForm) -> Result<FridgeView, MilkFormError> {
        let mut told = self.fridge_told(form)?;
        let usual = curd_with_inputs(&told.request, &told.inputs, Draws::USUAL)?;
        let learned = self.paper_moves(form, &mut told)?;
        let figures = match learned {
            Some(_) => curd_with_inputs(&told.request, &told.inputs, Draws::USUAL)?,
            None => usual.clone(),
        };
        let alone = Self::acids_alone(&told)?;
        let (sentence, lead, mut more) = Self::acid_answer(&told, &figures, &alone)?;
        more.extend(outcome(&told, &figures));
        let curve = curve::of(&told, &figures)?;
        let rinses = rinse::of(form, &told, &figures)?;
        let opening = self.pot_of(form, &told, &figures)?;
        let mut mind = self.fridge_mind(&told, &figures);
        mind.extend(opening.mind);
        mind.dedup();
        Ok(FridgeView {
            sentence,
            lead,
            more,
            acids: self.acid_rows(&told, &alone),
            questions: Self::fridge_questions(form, &told)?,
            picture: curve.picture,
            beside: curve.words,
            yields: yields::of(&told)?,
            learned: learned.map_or_else(Vec::new, |learned| acids::moved(&learned, &usual, &figures)),
            dishes: opening.dishes,
            rinses: rinses.rows,
            rinsing: rinses.words,
            opening: opening.sentence,
            opening_more: opening.more,
            bases: opening.bases,
            strengths: opening.strengths,
            strength: opening.strength,
            figures: rows(&told, &figures),
            mind,
            taken: told.taken,
        })
    }

    fn fridge_mind(&self, told: &Told, figures: &CurdFigures) -> Vec<CautionView> {
        let mut out: Vec<CautionView> = figures.best.warnings.iter().copied().map(curd_caution).collect();
        let jars = told.acids.iter().filter_map(|acid| self.jar(acid.material.as_str()));
        out.extend(jars.flat_map(|jar| jar.cautions));
        out
    }
}

/// What comes out of the cloth.
fn outcome(told: &Told, figures: &CurdFigures) -> Vec<String> {
    let mut out = vec![format!(
        "Dry casein in the curd: {}. Wet curd, {}: {}. Whey: {}.",
        write(&figures.casein).line(),
        told.drained_words(),
        write(&figures.wet_curd).line(),
        write(&figures.whey).line()
    )];
    if let Some(whey) = figures.whey_protein {
        out.push(format!(
            "The milk was hot before, so about {} of whey protein falls with it: more curd, softer, and it opens worse than casein alone.",
            write(&whey).line()
        ));
    }
    if let Some(onset) = figures.best.curdles_from {
        out.push(format!(
            "At this warmth it looks curdled from about pH {}. That is no sign to stop: clear yellowish whey and the dose are.",
            show::number(onset, 1)
        ));
    }
    out
}

/// Figures that the page opens to their sources.
fn rows(told: &Told, figures: &CurdFigures) -> Vec<FigureRow> {
    let onset = figures.best.curdles_from.map(|ph| Figure::exact("curdles_from_ph", ph, Unit::Ph));
    let acid = figures.acid_volume.or(Some(figures.acid_needed));
    let all: [(&'static str, Option<Figure>, &str); 9] = [
        ("ph", figures.ph_reached, "the amount of acid was not told, or it ends sourer than pH 4.0, where the balance of charges ends"),
        ("acid_for_curdling", acid, ""),
        ("casein_g", Some(figures.casein), ""),
        ("curd_wet_g", Some(figures.wet_curd), ""),
        ("whey_joined", figures.whey_protein, "the milk was not told as hot before"),
        ("whey_ml", Some(figures.whey), ""),
        ("residual_acid", Some(figures.acid_left), ""),
        ("sugar_left", Some(figures.sugar_left), ""),
        ("curdles_from_ph", onset, "the warmth of the milk was not told"),
    ];
    all.into_iter()
        .filter_map(|(key, figure, why)| {
            let entry = binder::figure_entry(key)?;
            let inputs = told.inputs.all().into_iter().filter(|input| entry.rests_on(input)).map(input_row).collect();
            Some(figure_row(key, entry, figure.as_ref().map(|figure| write(figure).line()), why, inputs))
        })
        .collect()
}
