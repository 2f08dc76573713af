//! The form's words as quantities.

use binder::{AcidAtHand, BinderBook, Dish, Learned, MilkInputs, MilkKind, MilkMakeup, MilkRequest, PaperReading, learn, milk_inputs};
use materials::MaterialId;
use measure::{Celsius, Grams, Millilitres};
use show::CurdQuestion;

use super::FridgeForm;
use crate::Workbench;
use crate::milk::{MilkFormError, was_heated};

/// An acid as told.
pub(super) struct ToldAcid {
    pub(super) acid: AcidAtHand,
    pub(super) material: MaterialId,
    /// In the painter's words.
    pub(super) words: String,
}

/// The form, read.
pub(super) struct Told {
    pub(super) request: MilkRequest,
    pub(super) inputs: MilkInputs,
    /// Those with an amount first.
    pub(super) acids: Vec<ToldAcid>,
    pub(super) milk_words: String,
    pub(super) taken: Vec<String>,
}

impl Told {
    pub(super) fn drained_words(&self) -> &'static str {
        crate::curdle::drained_words(self.request.state)
    }
}

const MOST_RINSES: u32 = 50;
const MOST_ML: f64 = 200_000.0;
/// Warmth that is taken when none is told.
const ROOM_C: f64 = 20.0;
/// How far a strip of pH paper may be off (common practice, no source).
const PAPER: f64 = 0.3;

pub(super) fn wrong(field: &'static str, what: impl Into<String>) -> MilkFormError {
    MilkFormError::Field { field, what: what.into() }
}

impl Workbench {
    pub(super) fn fridge_told(&self, form: &FridgeForm) -> Result<Told, MilkFormError> {
        let mut taken = Vec::new();
        if form.milk.trim().is_empty() {
            return Err(wrong("milk", "say how much milk of which kind, such as “1 litre of skim milk”"));
        }
        self.amounts_read("milk", &form.milk)?;
        let (milk, amount) = self.milk_told(&form.milk, &mut taken)?;
        let kind = MilkKind::from_material(&milk.id).ok_or_else(|| {
            wrong("milk", "say how much skim, part-skim or whole milk, or milk powder by weight, such as “1 litre of skim milk”")
        })?;
        let acids = self.acids_told(&form.acids, &mut taken)?;
        let warmth = form.warmth_c.unwrap_or(ROOM_C);
        if !(0.0..=95.0).contains(&warmth) {
            return Err(wrong("warmth", "milk is between 0 and 95 °C; leave it empty if it was not measured"));
        }
        let rinses = form.rinses;
        if rinses.is_some_and(|rinses| rinses > MOST_RINSES) {
            return Err(wrong("rinses", "rinse up to 50 times"));
        }
        let water = |field: &'static str, ml: Option<f64>, least: f64| match ml {
            Some(ml) if !(ml >= least && ml <= MOST_ML) => Err(wrong(field, "this water lies above 0 and up to 200 l, in ml")),
            other => Ok(other),
        };
        let rinse_ml = water("rinse water", form.rinse_ml, 1.0)?;
        let thinned = water("water in the milk", form.thinned_ml, 0.0)?.unwrap_or(0.0);
        if form.hardness.is_some_and(|hardness| !(0.0..=2000.0).contains(&hardness)) {
            return Err(wrong("hardness", "water holds 0 to 2000 mg/l; read the waterworks' sheet again, or leave it empty"));
        }
        let volume = match amount {
            binder::MilkAmount::Volume(ml) => ml.value(),
            binder::MilkAmount::Mass(g) => g.value(),
        };
        let base = if form.base.trim().is_empty() { binder::Base::BakingSoda } else { self.base_told(&form.base, &mut Vec::new())?.0 };
        let mut known = acids.iter().filter(|each| each.acid.amount.is_some()).map(|each| each.acid);
        let first = known.next().or_else(|| acids.first().map(|each| each.acid)).ok_or_else(|| wrong("acid", "say what curdles it"))?;
        let mut request = MilkRequest {
            milk: amount,
            kind,
            heated_before: form.boiled || was_heated(&form.milk),
            acid: first,
            others: known.collect(),
            water: Millilitres::new(thinned),
            warmth: Some(Celsius::new(warmth)),
            washes: rinses.unwrap_or(0),
            wash: Millilitres::new(rinse_ml.unwrap_or(volume / 4.0)),
            state: crate::curdle::state_told(&form.drained),
            base: Some(base),
        };
        let inputs = milk_inputs(&request)?;
        if rinses.is_none() {
            // As often as makes it clean.
            request.washes = binder::curd(&request, &inputs, &|input| input.best)?.rinses_for_clean.unwrap_or(3);
        }
        let milk_words = form.milk.split_whitespace().collect::<Vec<_>>().join(" ");
        Ok(Told { request, inputs, acids, milk_words, taken })
    }

    /// The acids, one by one; those with an amount first.
    fn acids_told(&self, text: &str, taken: &mut Vec<String>) -> Result<Vec<ToldAcid>, MilkFormError> {
        let mut out = Vec::new();
        for piece in pieces(text) {
            self.amounts_read("acid", &piece)?;
            let (acid, material) = self.acid_told(&piece, taken)?;
            crate::curdle::sound(&acid)?;
            out.push(ToldAcid { acid, material, words: piece });
        }
        if out.is_empty() {
            let (acid, material) = self.acid_told("", taken)?;
            out.push(ToldAcid { acid, material, words: "white vinegar".into() });
        }
        out.sort_by_key(|each| each.acid.amount.is_none());
        Ok(out)
    }

    /// What pH paper said moves the milk; `None` without a reading.
    pub(super) fn paper_moves(&self, form: &FridgeForm, told: &mut Told) -> Result<Option<Learned>, MilkFormError> {
        let mut readings = Vec::new();
        for (acid, ph) in form.papers.iter().filter(|(acid, ph)| !(acid.trim().is_empty() && ph.trim().is_empty())) {
            let ph: f64 = ph.trim().replace(',', ".").parse().unwrap_or(f64::NAN);
            if !(2.0..=9.0).contains(&ph) {
                return Err(wrong("paper", "say what the paper said as a number between 2 and 9, such as 4.9"));
            }
            let acids = pieces(acid).into_iter().map(|piece| {
                self.amounts_read("paper", &piece)?;
                let (acid, _) = self.acid_told(&piece, &mut Vec::new())?;
                if acid.amount.is_some() {
                    Ok(acid)
                } else {
                    Err(wrong("paper", "say all the acid that had gone in by then, such as “80 ml vinegar”"))
                }
            });
            let acids = acids.collect::<Result<Vec<_>, MilkFormError>>()?;
            if acids.is_empty() {
                return Err(wrong("paper", "say all the acid that had gone in by then, such as “80 ml vinegar”"));
            }
            readings.push(PaperReading { poured: binder::poured(&acids, told.request.water)?, ph, doubt: PAPER });
        }
        if readings.is_empty() {
            return Ok(None);
        }
        let book = BinderBook::builtin().map_err(binder::BinderError::from)?;
        let makeup = MilkMakeup::usual(book).map_err(binder::BinderError::from)?;
        let best = binder::curd(&told.request, &told.inputs, &|input| input.best)?;
        let learned = learn(book, &makeup, best.milk_volume, &readings)?;
        told.inputs = learned.into_inputs(&told.inputs);
        Ok(Some(learned))
    }

    pub(super) fn fridge_questions(form: &FridgeForm, told: &Told) -> Result<Vec<CurdQuestion>, MilkFormError> {
        let ask =
            |id: String, ask: String, assumed: &str| CurdQuestion { id, ask, assumed: assumed.into(), choices: Vec::new(), narrows: None };
        let mut out = Vec::new();
        for acid in told.acids.iter().filter(|each| each.acid.amount.is_none()) {
            let name = acid.acid.source.words();
            let assumed = if told.acids.len() > 1 { "none of it goes in yet" } else { "as much as curdles fully" };
            let question = format!("How much {name} is that, in ml or g? “{}” has no size that can be read.", acid.words);
            out.push(ask(format!("amount:{}", acid.material.as_str()), question, assumed));
        }
        let asked = crate::CurdleForm {
            warmth_c: form.warmth_c,
            washes: told.request.washes,
            wash_ml: form.rinse_ml,
            ..crate::CurdleForm::default()
        };
        out.extend(crate::curdle::questions(&asked, &told.request)?.into_iter().filter(|question| question.id != "amount:acid"));
        let weak = |each: &super::told::ToldAcid| each.acid.source == binder::AcidSource::Vinegar && each.acid.strength.is_none();
        if told.request.acid.source != binder::AcidSource::Vinegar && told.acids.iter().any(weak) {
            out.push(ask("strength:vinegar".into(), "How strong is the vinegar, by its label?".into(), "5 %, from 4 to 6"));
        }
        if form.rinses.is_none() {
            out.push(ask(
                "rinses".into(),
                "How often is the curd rinsed?".into(),
                "as often as brings the milk sugar to a hundredth of the casein",
            ));
        }
        Ok(out)
    }
}

/// Acids told in a row, one by one. A comma before a digit is a decimal comma.
pub(super) fn pieces(text: &str) -> Vec<String> {
    let text = text.replace(['\r', '\n', ';', '+', '&'], ", ").replace(" and ", ", ");
    text.split(", ").map(|piece| piece.trim().trim_matches(',').trim().to_owned()).filter(|piece| !piece.is_empty()).collect()
}

/// Dishes as `10:2.4`, in g; `10g:2.4g` too.
pub(crate) fn dish_told(text: &str) -> Result<Dish, MilkFormError> {
    let bad = || wrong("dish", "say a dish as wet and dry grams without the dish itself, such as “10:2.4”");
    let (wet, dry) = text.split_once([':', '/']).ok_or_else(bad)?;
    let grams = |part: &str| -> Result<Grams, MilkFormError> {
        let number: f64 = part.trim().trim_end_matches('g').trim().replace(',', ".").parse().map_err(|_| bad())?;
        if number > 0.0 && number <= 100_000.0 { Ok(Grams::new(number)) } else { Err(bad()) }
    };
    Ok(Dish { wet: grams(wet)?, dry: grams(dry)? })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn acids_and_dishes_are_told_apart() {
        assert_eq!(pieces("two lemons, a bottle of vinegar"), ["two lemons", "a bottle of vinegar"]);
        assert_eq!(pieces("1,5 lemons and 20 ml vinegar\n3 g citric acid"), ["1,5 lemons", "20 ml vinegar", "3 g citric acid"]);
        assert!(pieces(" , ").is_empty());
        let dish = dish_told("10g:2.4g").ok();
        assert_eq!(dish, Some(Dish { wet: Grams::new(10.0), dry: Grams::new(2.4) }));
        assert!(dish_told("10").is_err() && dish_told("0:0").is_err() && dish_told("a:b").is_err());
    }
}
