//! Are the lemons enough?

use binder::{
    AcidAmount, AcidAtHand, AcidSource, AcidUnit, CurdFigures, Enough, Learned, MilkRequest, Moved, curd_with_inputs, milk_inputs,
};
use measure::Figure;
use show::{AcidRow, range, write};

use super::BESIDE;
use super::told::Told;
use crate::Workbench;
use crate::curdle::ph_words;
use crate::milk::MilkFormError;

/// Share of the draws from which "enough" is said without a "perhaps" (judgement, no source).
const SURE: f64 = 0.9;
/// And below which it is said to be too little.
const UNSURE: f64 = 0.25;

impl Workbench {
    /// What this milk takes of each acid alone.
    pub(super) fn acids_alone(told: &Told) -> Result<Vec<CurdFigures>, MilkFormError> {
        let mut out = Vec::with_capacity(told.acids.len());
        for each in &told.acids {
            let request = MilkRequest { acid: each.acid, others: Vec::new(), ..told.request.clone() };
            // What pH paper moved holds for this acid too.
            let inputs = told.inputs.with_acids_of(milk_inputs(&request)?);
            out.push(curd_with_inputs(&request, &inputs, BESIDE)?);
        }
        Ok(out)
    }

    pub(super) fn acid_rows(&self, told: &Told, alone: &[CurdFigures]) -> Vec<AcidRow> {
        let row = |(each, figures): (&super::told::ToldAcid, &CurdFigures)| AcidRow {
            name: self.jars.material(&each.material).map_or_else(String::new, |material| material.name.clone()),
            material: each.material.as_str().to_owned(),
            has: if each.acid.amount.is_some() { each.words.clone() } else { String::new() },
            alone: amount(&figures.acid_needed, each.acid.source),
            verdict: verdict(figures).into(),
        };
        told.acids.iter().zip(alone).map(row).collect()
    }

    /// The sentence, what to do, and what else.
    pub(super) fn acid_answer(
        told: &Told,
        figures: &CurdFigures,
        alone: &[CurdFigures],
    ) -> Result<(String, String, Vec<String>), MilkFormError> {
        let milk = &told.milk_words;
        let (Some(first), Some(first_alone)) = (told.acids.first(), alone.first()) else {
            return Ok((String::new(), String::new(), Vec::new()));
        };
        let wants = amount(&first_alone.acid_needed, first.acid.source);
        let mut more = Vec::new();
        if first.acid.amount.is_none() {
            let lead = "Say how much is at hand, and you hear whether it is enough. Pour slowly, stir, wait: near the end it moves fast.";
            return Ok((format!("To curdle fully, at pH 4.6, {milk} wants about {wants}."), lead.into(), more));
        }
        let name = plural(&first.acid);
        let sure = first_alone.enough.unwrap_or(0.0);
        let sentence = match first_alone.best.enough {
            Some(Enough::More { .. }) => format!("More than enough: {milk} wants about {wants}."),
            _ if sure >= SURE => format!("Yes: {name} {} enough. {} wants about {wants}.", is(&first.acid), show::capital(milk)),
            _ if sure >= UNSURE => {
                format!("Just about: {name} may be enough. {} wants about {wants}.", show::capital(milk))
            }
            _ => format!("No: {name} {} not enough. {} wants about {wants}.", is(&first.acid), show::capital(milk)),
        };
        let lead = match first_alone.best.enough {
            Some(Enough::More { .. }) => {
                format!(
                    "Pour about {wants} and stop. Below pH 4.3 casein opens again and is lost in the whey, and there is more acid to rinse out."
                )
            }
            _ if told.inputs.acid.at_hand(&|input| input.best).is_some_and(|units| units > first_alone.acid_needed.high) => {
                format!("Pour about {wants} and keep the rest: more only brings acid that has to be rinsed out.")
            }
            _ if sure >= SURE => "Pour it all slowly, stir, and wait until the whey is clear and yellowish.".into(),
            _ => Self::make_up(told, first_alone)?,
        };
        if let Some(ph) = &first_alone.ph_reached {
            more.push(format!(
                "Alone {name} {} it to {}; most casein with the least lime falls at 4.6.",
                if is(&first.acid) == "is" { "brings" } else { "bring" },
                ph_words(ph)
            ));
        }
        if !told.request.others.is_empty() {
            let all = match (&figures.best.enough, &figures.ph_reached) {
                (Some(Enough::Yes), Some(ph)) => format!("All of it together comes to {}: right.", ph_words(ph)),
                (Some(Enough::No { .. }), Some(ph)) => format!("Even all of it together comes only to {}.", ph_words(ph)),
                (Some(Enough::More { .. }), Some(ph)) => format!("All of it together comes to {}: too much, leave some.", ph_words(ph)),
                _ => "All of it together is far too much: it ends sourer than pH 4.0, where casein opens again.".into(),
            };
            more.push(all);
        }
        Ok((sentence, lead, more))
    }

    /// What makes up for acid that is short.
    fn make_up(told: &Told, first: &CurdFigures) -> Result<String, MilkFormError> {
        let short = matches!(first.best.enough, Some(Enough::No { .. }));
        let Some(other) = told.acids.iter().skip(1).find(|each| each.acid.source != told.request.acid.source) else {
            return Ok(format!(
                "{} Keep more at hand, and go by pH paper and by clear yellowish whey.",
                match &first.best.enough {
                    Some(Enough::No { missing, .. }) => format!("About {} more is wanted.", amount_of(*missing, told.request.acid.source)),
                    _ => "It lies within the doubt of your acid and milk.".into(),
                }
            ));
        };
        let request =
            MilkRequest { acid: AcidAtHand { amount: None, ..other.acid }, others: vec![told.request.acid], ..told.request.clone() };
        let inputs = told.inputs.with_acids_of(milk_inputs(&request)?);
        let rest = curd_with_inputs(&request, &inputs, BESIDE)?.acid_needed;
        let name = other.acid.source.words();
        Ok(if short && rest.value > 0.0 {
            format!("Pour it all, then about {} beside it, slowly, and go by pH paper: 4.6.", amount(&rest, other.acid.source))
        } else {
            format!(
                "Pour it all, wait, and look: while the whey stays milky, add {name} by the spoon, likely not above {}.",
                amount_of(rest.high, other.acid.source)
            )
        })
    }
}

fn verdict(figures: &CurdFigures) -> &'static str {
    let sure = figures.enough.unwrap_or(0.0);
    match figures.best.enough {
        None => "not said how much",
        Some(Enough::More { .. }) => "more than enough alone",
        Some(_) if sure >= SURE => "enough alone",
        Some(_) if sure >= UNSURE => "just about enough alone",
        Some(_) => "too little alone",
    }
}

/// `1.9 lemons (likely 1.4 to 2.6)`, `120 ml of vinegar (likely 100 to 140)`.
pub(super) fn amount(figure: &Figure, source: AcidSource) -> String {
    format!("{} (likely {})", measured(&write(figure).value, source), range(figure.low, figure.high))
}

/// The same for a bare value: two digits are enough for anything that is poured.
pub(super) fn amount_of(value: f64, source: AcidSource) -> String {
    let near = Figure { key: "acid", value, low: 0.9 * value, high: 1.1 * value, unit: source.unit().unit() };
    measured(&write(&near).value, source)
}

fn measured(value: &str, source: AcidSource) -> String {
    match source.unit() {
        AcidUnit::Millilitres => format!("{value}\u{a0}ml of {}", source.words()),
        AcidUnit::Grams => format!("{value}\u{a0}g of {}", source.words()),
        AcidUnit::Pieces => format!("{value} lemons"),
    }
}

fn plural(acid: &AcidAtHand) -> &'static str {
    match (acid.source, is(acid)) {
        (AcidSource::Lemon, "are") => "the lemons",
        (AcidSource::Lemon, _) => "the lemon",
        (AcidSource::Vinegar, _) => "the vinegar",
        (AcidSource::LemonJuice, _) => "the lemon juice",
        (AcidSource::CitricAcid, _) => "the citric acid",
        (AcidSource::LacticAcid, _) => "the lactic acid",
        (AcidSource::HydrochloricAcid | AcidSource::Rennet, _) => "it",
    }
}

fn is(acid: &AcidAtHand) -> &'static str {
    match acid.amount {
        Some(AcidAmount::Pieces(pieces)) if pieces > 1.0 => "are",
        _ => "is",
    }
}

/// What pH paper moved, from where to where.
pub(super) fn moved(learned: &Learned, before: &CurdFigures, after: &CurdFigures) -> Vec<String> {
    let mut out = Vec::new();
    let source_words = |figures: &CurdFigures| write(&figures.acid_needed).line();
    let need = |figure: &Figure| format!("{} ({}) times the usual", write(figure).value, range(figure.low, figure.high));
    out.push(match learned.moved {
        Moved::Nothing => "Your paper agrees with what was taken anyway; nothing moved much.".into(),
        Moved::Need => "Your paper moved most how much acid this milk takes.".to_owned(),
        Moved::Casein => "Your paper moved most how much casein this milk holds.".to_owned(),
    });
    out.push(format!("Acid that this milk takes: from {} to {}.", need(&learned.need_before), need(&learned.need)));
    out.push(format!("Acid to pH 4.6: from {} to {}.", source_words(before), source_words(after)));
    out.push(format!("Dry casein: from {} to {}.", write(&before.casein).line(), write(&after.casein).line()));
    if learned.strange {
        out.push(
            "The paper lies further off than paper can be: read it again, or the milk or the acid is another than told. Until then go by the usual."
                .into(),
        );
    }
    out
}
