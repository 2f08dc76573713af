//! What to take and what to do.

use materials::Material;
use measure::{Celsius, Figure, Grams, Unit};
use show::{FigureReport, FoamView, Portion, StepView, number, plain, range, write};

use super::MilkWork;
use crate::Workbench;

/// The warm end of opening curd, as its step says.
const WARM_C: f64 = 60.0;

impl Workbench {
    pub(super) fn take(&self, work: &MilkWork<'_>) -> Vec<Portion> {
        let used = work.used;
        let milk_ml = work.curd.best.milk_volume.value() * used;
        let mut out = vec![portion(work.told.milk, &Figure::exact("milk", milk_ml, Unit::Millilitres))];
        if let Some(acid) = self.jars.material(&work.told.acid_material) {
            out.push(portion(acid, &work.curd.acid_needed.times(used)));
        }
        if let (Some(base), Some(figure)) = (self.jars.material(&work.told.base.material()), work.curd.base) {
            out.push(portion(base, &figure.times(used)));
        }
        out.push(portion(work.told.powder, &work.pot.powder.times(used)));
        if let Some(water) = self.jars.material(&materials::MaterialId::new("water")) {
            out.push(portion(water, &work.pot.added_water.times(used)));
        }
        out
    }

    /// The ground as recipe text, at the best values, with the casein as dry casein.
    pub(super) fn recipe(&self, work: &MilkWork<'_>) -> String {
        let casein = work.curd.casein.value * work.used;
        let mut lines = vec![format!("{} g casein powder dry", plain(casein))];
        let base = self.jars.material(&work.told.base.material());
        if let (Some(base), Some(figure)) = (base, work.curd.base) {
            lines.push(format!("{} g {}", plain(figure.value * work.used), base.name));
        }
        let powder = if work.told.powder.name == "chalk" { "natural chalk" } else { &work.told.powder.name };
        lines.push(format!("{} g water", plain(casein * (work.unit.water / work.unit.casein))));
        lines.push(format!("{} g {powder}", plain(casein * (work.unit.powder / work.unit.casein))));
        lines.join("\n")
    }

    /// Room for the foam as the base works on the curd, at the warm end of that step and for the most base that is likely.
    fn milk_foam(&self, work: &MilkWork<'_>) -> Option<FoamView> {
        let (base, across) = (work.curd.base?, making::PotBook::builtin().ok()?.pan.value);
        self.foam(work.told.base, Grams::new(base.high * work.used), Celsius::new(WARM_C), across).ok().flatten()
    }

    pub(super) fn milk_steps(&self, work: &MilkWork<'_>) -> Vec<StepView> {
        let used = work.used;
        let acid = work.told.request.acid.source.words();
        let base = self.jars.material(&work.told.base.material()).map_or("the alkali", |m| m.name.as_str());
        let warm = match work.told.request.warmth.map(measure::Celsius::value) {
            Some(warmth) if warmth > 45.0 => "Let the milk cool to about 35 °C,",
            Some(warmth) if warmth >= 25.0 => "With the milk as warm as it is,",
            _ => "Warm the milk to about 35 °C,",
        };
        let casein = work.curd.casein.times(used);
        let wash = work.told.request.wash.value() * used;
        let onset = work.curd.best.curdles_from.map_or_else(String::new, |ph| {
            format!(" Milk as warm as yours looks curdled from about pH {}, well before it is done.", number(ph, 1))
        });
        let room = self.milk_foam(work).map_or_else(String::new, |foam| format!(" {} {}", foam.says, foam.how));
        let step = |what: String, mind: &str| StepView { what, mind: mind.into() };
        vec![
            step(
                format!(
                    "{warm} stir in the {acid}, and wait until the whey runs clear and yellowish; the dose, not the first clots, tells when it is done.{onset}"
                ),
                "Never with bleach: vinegar, lemon, citric acid, curd and whey give off chlorine with it, in the pot, the cloth or the sink. Do not leave the hot plate alone.",
            ),
            step(
                format!(
                    "Pour through a cloth, rinse the curd three times with about {}\u{a0}ml of cold to lukewarm water each, and let it drip. Rinsing takes out acid and milk sugar, which would eat the {base} and feed mould.",
                    number((wash / 10.0).ceil() * 10.0, 0)
                ),
                "Wash cloth and sieve in cold water, then hot water with washing-up liquid; no bleach while anything sour is in them.",
            ),
            step(
                format!(
                    "Weigh the curd: about {}\u{a0}g is likely ({}). Dry a weighed spoonful in a warm place and weigh what stays: that replaces every guess about the milk. It should come to about {}\u{a0}g of dry casein in all.",
                    write(&work.curd.wet_curd.times(used)).value,
                    range(work.curd.wet_curd.low * used, work.curd.wet_curd.high * used),
                    write(&casein).line().replace("\u{a0}g", "")
                ),
                "Pots and spoons used for this do not go back to the kitchen. Milk is a listed food allergen: write it on the jar.",
            ),
            step(
                format!(
                    "Crush the curd, stir in the {base} with a little of the water, and warm to 40 to 60 °C until no grain is left and nothing fizzes; strain it.{room}"
                ),
                if work.told.base.escapes() {
                    "Ammonia comes off as it warms: window open, loose lid, and never near bleach (chloramine gas). Ventilate, and use the respirator, gloves and eye protection that the safety data sheet and local rules ask for."
                } else {
                    "It may foam over. Loose lid. Ventilate, and use the respirator, gloves and eye protection that the safety data sheet and local rules ask for."
                },
            ),
            step(
                format!(
                    "Add the rest of the water, then sift in the {}: for every 10\u{a0}g of dry casein {}\u{a0}g of it and {}\u{a0}g of water in all, that in the curd included. Let it stand, stir, strain.",
                    work.told.powder.name,
                    plain(10.0 * (work.unit.powder / work.unit.casein)),
                    plain(10.0 * (work.unit.water / work.unit.casein))
                ),
                "Weigh powder without a draught, wipe up wet, never sweep. Follow the safety data sheet and local rules.",
            ),
            step(
                format!(
                    "Lay {} thin coats, each across the last, about {}\u{a0}g wet on each board; one pot for all boards. Use it on the day it is made.",
                    work.boards.coats,
                    plain(work.boards.coat.value() * work.boards.face.value())
                ),
                "Throw it away at any smell, thinning or spots; let the solids settle and dry, and bin them by local rules, nothing white down the sink.",
            ),
        ]
    }
}

fn portion(material: &Material, figure: &Figure) -> Portion {
    let bulk = material.property("bulk_density").or_else(|| material.property("density")).map_or(1.0, |density| density.value);
    let ml = match figure.unit {
        Unit::Millilitres => Some(figure.value),
        Unit::Grams => Some(figure.value / bulk),
        _ => None,
    };
    let packs = ["pack_mass", "pack_volume"].into_iter().find_map(|name| {
        let pack = material.property(name)?;
        let (amount, unit) = match (name, figure.unit) {
            ("pack_volume", Unit::Millilitres) | ("pack_mass", Unit::Grams) => (figure.high, if name == "pack_mass" { "g" } else { "ml" }),
            ("pack_volume", Unit::Grams) => (figure.high / bulk, "ml"),
            _ => return None,
        };
        let count = (amount / pack.value).ceil().max(1.0);
        Some(format!("{} × {}\u{a0}{unit}", number(count, 0), plain(pack.value)))
    });
    let pieces = figure.unit == Unit::One;
    Portion {
        name: material.name.clone(),
        material: material.id.as_str().to_owned(),
        amount: FigureReport::from(figure),
        written: write(figure).line(),
        kitchen: ml.filter(|_| !pieces).map_or_else(String::new, show::kitchen),
        packs: if pieces { format!("{} of them", number(figure.high.ceil(), 0)) } else { packs.unwrap_or_default() },
    }
}
