//! What is said about glue.

use binder::{BinderError, GlueFigures, GlueUse};
use measure::Figure;
use show::{StepView, capital, number, plain, range};

use super::{GlueForm, Told, grams_words, hundredths, keeping, reading};
use crate::Workbench;
use crate::milk::MilkFormError;

impl Workbench {
    pub(super) fn glue_sentences(
        &self,
        told: &Told<'_>,
        figures: &GlueFigures,
        stands: Option<GlueUse>,
    ) -> Result<Vec<String>, MilkFormError> {
        let value = |key: &str| self.binder.constant(key).map(|constant| plain(constant.value)).map_err(BinderError::from);
        let (size, low, high) = (value("glue.size_thin")?, value("glue.gesso_low")?, value("glue.gesso_high")?);
        let is = figures.share.as_ref().map(|share| {
            let stands = match stands {
                None => String::new(),
                Some(GlueUse::Thinner) => format!(", thinner than printed sizes ({size} % and more)"),
                Some(GlueUse::Size) => format!(", in the printed range for size ({size} to {low} %)"),
                Some(GlueUse::Gesso) => format!(", in the printed range for gesso ({low} to {high} %)"),
                Some(GlueUse::Stronger) => format!(", stronger than what is printed for gesso ({low} to {high} %)"),
            };
            let glue = if told.made { "dry glue" } else { told.material.name.as_str() };
            format!(
                "{} of {glue} in {} of water is {} by weight{stands}.",
                grams_words(&figures.glue),
                grams_words(&figures.water),
                hundredths(share)
            )
        });
        let wants = wants(told, figures);
        let ratio = ratio(told, figures);
        // What is to be done comes first.
        let mut said: Vec<String> = [wants, is, ratio].into_iter().flatten().collect();
        if matches!(stands, Some(GlueUse::Stronger)) {
            said.push(
                "Over 10 % a ground risks cracks; too weak a glue risks parting from the wood (a gilding studio's leaflet, 2016).".into(),
            );
        }
        Ok(said)
    }

    pub(super) fn glue_steps(&self, told: &Told<'_>, figures: &GlueFigures) -> Result<Vec<StepView>, MilkFormError> {
        let constant = |key: &str| self.binder.constant(key).map_err(BinderError::from);
        let ends = |key: &str| constant(key).map(|constant| constant.range.unwrap_or((constant.value, constant.value)));
        let step = |what: String, mind: &str| StepView { what, mind: mind.to_owned() };
        let (bath_low, bath_high) = ends("glue.bath")?;
        let mut steps = Vec::new();
        if !told.made {
            let (soak_low, soak_high) = ends("glue.soak_hours")?;
            let water = match (figures.glue.value > 0.0, figures.water.value) {
                (false, _) => "five to ten times its weight of cold water".to_owned(),
                (true, water) => {
                    let (least, most) = reading::soak(self.binder, figures.glue.value, water)?;
                    if most - least < 1.0 {
                        "all of the water, cold".to_owned()
                    } else {
                        format!("{}\u{a0}g of the water, cold (it takes up five to ten times its weight)", range(least, most))
                    }
                }
            };
            let (from, to) = (number(soak_low, 0), number(soak_high, 0));
            steps.push(step(
                format!("Soak the {} in {water} for {from} to {to} h, until it is swollen through.", told.material.name),
                "Its dust may bring on an allergy: pour it low and slowly. Ventilate, and use the respirator, gloves and eye protection that the safety data sheet and local rules ask for.",
            ));
        }
        let rest = if told.made { "Melt it" } else { "Melt it with the rest of the water" };
        steps.push(step(
            format!("{rest} in a water bath of {} °C, stirring now and then. Never boil it: it darkens and loses strength.", range(bath_low, bath_high).replace(" to ", "\u{a0}to\u{a0}")),
            "Hot size and steam scald. Never leave the hot plate alone, and do not let the bath run dry. The safety data sheet and local rules come first.",
        ));
        if let (Some(water), Some(glue)) = (figures.add_water.as_ref(), figures.add_glue.as_ref()) {
            if figures.water.value > 0.0 && figures.glue.value > 0.0 && water.value > 0.0 {
                steps.push(step(format!("Stir in {} of warm water.", grams_words(water)), ""));
            } else if figures.water.value > 0.0 && figures.glue.value > 0.0 && glue.value > 0.0 {
                steps.push(step(format!("To make it stronger, soak {} of dry glue in some of the cold size's own water first; dry glue stirred into a hot pot stays in lumps.", grams_words(glue)), ""));
            }
        }
        steps.push(step("Strain it through a cloth or a fine sieve (common practice, no source).".into(), ""));
        steps.push(step(
            "Jelly test: let a spoonful go cold on a saucer, an hour in the fridge. Size sets to a jelly that trembles and parts under a finger; glue for gesso stands firm and springs back (common practice, no source).".into(),
            "Do not taste it: nothing from the studio is food.",
        ));
        steps.push(step(
            "Weigh the pot now, before and after each coat, with a lid on between. What it loses is water: put that back.".into(),
            "",
        ));
        Ok(steps)
    }

    /// Jelly, Bloom, the order of strengths and keeping.
    pub(super) fn glue_know(&self, form: &GlueForm, told: &Told<'_>) -> Result<Vec<(&'static str, Vec<String>)>, MilkFormError> {
        let constant = |key: &str| self.binder.constant(key).map_err(BinderError::from);
        let value = |key: &str| constant(key).map(|constant| plain(constant.value));
        let jelly = vec![
            format!(
                "From {} % on it sets to a jelly when it cools, and the jelly melts again at {} to {} °C. If it stays thin in the fridge, the glue is weaker than its per cent, or cooked, or gone off.",
                value("glue.sets_from")?,
                value("glue.melts_low")?,
                value("glue.melts_high")?
            ),
            format!(
                "To hold two glues beside each other, make both to the same per cent, in two cups alike, with a lid on, and let them stand {}\u{a0}h cold, as the Bloom test does at {} °C; a fridge is colder, so both must stand in it. Then press each with the same spoon: how deep does it go, does it spring back, does it part or run? An hour only tells whether it sets at all.",
                value("glue.bloom_hours")?,
                value("glue.bloom_cold")?
            ),
            "Two glues of the same per cent can set unlike: the jelly is what the old workshops went by. Keep a spoonful of a pot that worked to compare.".into(),
        ];
        let (first, last, size) = (value("glue.gesso_high")?, value("glue.gesso_low")?, value("glue.size_usual")?);
        let order = vec![format!(
            "From strong to weak: no coat of gesso stronger than the one beneath it, or it curls and pulls that one off (Conservation of Furniture). Here first coats are taken at {first} %, last coats at {last} % (common practice, no source). An open warm pot gets stronger by itself, against that order. Size is printed thinner, usually {size} %, since it is meant to soak in; let it not stand on the surface and shine. Books differ: one for gelatine rises from 5 over 7 to 10 %."
        )];
        Ok(vec![
            ("The jelly", jelly),
            ("Bloom", self.bloom(form, told)?),
            ("Which coat, how strong", order),
            ("How long it keeps", keeping()),
        ])
    }

    fn bloom(&self, form: &GlueForm, told: &Told<'_>) -> Result<Vec<String>, MilkFormError> {
        let constant = |key: &str| self.binder.constant(key).map_err(BinderError::from);
        let value = |key: &str| constant(key).map(|constant| plain(constant.value));
        let (animal, edible) = (value("glue.bloom_animal")?, value("glue.bloom_edible")?);
        let scale = format!(
            "Bloom is how many grams press a set stamp 4\u{a0}mm into a cold jelly. Animal glue is tested at {animal} % and eating gelatine at {edible} % (the second from memory): 250 on one scale is not 250 on the other, and no strength of size is worked out from it here."
        );
        let Some(bloom) = form.bloom else { return Ok(vec![scale]) };
        if !(1.0..=1000.0).contains(&bloom) {
            return Err(MilkFormError::Field {
                field: "bloom",
                what: "Bloom lies between 1 and 1000 g; read the packet again or leave it empty".into(),
            });
        }
        let (words, usual) = match told.material.id.as_str() {
            "gelatine" => ("gelatine", constant("glue.bloom_gelatine")?),
            "rabbit-skin-glue" => ("rabbit-skin glue", constant("glue.bloom_rabbit")?),
            _ => return Ok(vec![scale]),
        };
        let (low, high) = usual.range.unwrap_or((usual.value, usual.value));
        let where_it_lies = if bloom < low {
            "below"
        } else if bloom > high {
            "above"
        } else {
            "within"
        };
        let say = format!(
            "{} is {where_it_lies} the usual {} to {}\u{a0}g of {words} ({}). A higher one on the same scale sets harder at the same per cent; by how much thinner it may then be used is not known here: go by the jelly.",
            plain(bloom),
            plain(low),
            plain(high),
            usual.source
        );
        Ok(vec![say, scale])
    }
}

/// What brings it to the strength wanted.
fn wants(told: &Told<'_>, figures: &GlueFigures) -> Option<String> {
    let percent = told.request.wanted?;
    let purpose = if told.wanted_for.is_empty() { String::new() } else { format!("For {}, ", told.wanted_for) };
    let goal = format!("{purpose}{}\u{a0}% by weight", plain(percent));
    let (water, glue) = (figures.add_water.as_ref()?, figures.add_glue.as_ref()?);
    Some(match (figures.glue.value > 0.0, figures.water.value > 0.0) {
        (true, false) => format!("{}: {} of glue take {} of water.", capital(&goal), grams_words(&figures.glue), grams_words(water)),
        (false, true) => format!("{}: {} of water take {} of dry glue.", capital(&goal), grams_words(&figures.water), grams_words(glue)),
        (false, false) => return None,
        (true, true) if water.value > 0.0 => format!("{}: put in {} of water.", capital(&goal), grams_words(water)),
        (true, true) if glue.value > 0.0 => {
            format!("{}: put in {} of dry glue, soaked first; or make it with less water.", capital(&goal), grams_words(glue))
        }
        (true, true) => format!("{}: it is there already.", capital(&goal)),
    })
}

/// Both readings of a ratio.
fn ratio(told: &Told<'_>, figures: &GlueFigures) -> Option<String> {
    let (glue, water) = told.request.parts?;
    let (by_weight, by_volume) = (figures.by_weight.as_ref()?, figures.by_volume.as_ref()?);
    let water_of =
        |water: &Option<Figure>| water.as_ref().map_or_else(String::new, |water| format!(" and wants {} of water", grams_words(water)));
    Some(format!(
        "{}:{} as weights is {}{}; as cups of loose glue and of water it is about {}{}. Find out which is meant, or go by weight.",
        plain(glue),
        plain(water),
        hundredths(&by_weight.share),
        water_of(&by_weight.water),
        hundredths(&by_volume.share),
        water_of(&by_volume.water)
    ))
}

/// What the last weighing asks for, and what it says.
pub(super) fn pot(share: &Figure, add: &Figure, cooked: bool) -> [String; 2] {
    let (todo, then) = if add.value > 0.5 {
        (format!("Stir {} of warm water into the pot.", grams_words(add)), "with that it is as strong as at the start")
    } else if add.value < -0.5 {
        ("Put no water into the pot.".to_owned(), "thinner than at the start: let it stand open a while, or soak more glue")
    } else {
        ("The pot needs no water.".to_owned(), "as strong as at the start")
    };
    let hold = if cooked { " Water brings back the per cent, not the hold that heat took." } else { "" };
    [todo, format!("At the last weighing the pot is {} by weight; {then}.{hold}", hundredths(share))]
}
