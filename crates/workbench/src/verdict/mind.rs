//! Mind this: what this very recipe may do, then the cautions of what is in it.

use std::collections::BTreeSet;

use binder::base_dose;
use ground::{HEMIHYDRATE, Role, set_plaster, warming};
use materials::{BinderKind, Family, Kind, Material, Verdict};
use measure::Grams;
use show::{CautionView, number, percent};

use super::Worked;
use crate::Workbench;
use crate::goes::goes_address;

/// Share of borax in a mixture from which the European Union classes the pot like borax itself (Regulation (EU) 2021/849, from memory).
const BORAX_LIMIT: f64 = 0.003;
/// Share of plaster in the powder from which setting in the pot matters (model choice).
const PLASTER_SHARE: f64 = 0.10;
/// Glue to water above which a gilders' studio warns of cracks (Gilding Studio 2016).
const GLUE_LIMIT: f64 = 0.10;
/// How many times the base that casein can use is plainly too much (judgement, no source).
const BASE_EXCESS: f64 = 2.0;

impl Workbench {
    pub(crate) fn mind(&self, worked: &Worked) -> Vec<CautionView> {
        let materials: Vec<&Material> = {
            let mut seen = BTreeSet::new();
            let ids = worked.reading.lines.iter().filter_map(|line| line.material.first()).chain(&worked.reading.mentions);
            ids.filter(|id| seen.insert((*id).clone())).filter_map(|id| self.jars.material(id)).collect()
        };
        let mut out = Vec::new();
        self.pairs(worked, &materials, &mut out);
        self.pot(worked, &materials, &mut out);
        together(&materials, &mut out);
        for material in materials {
            for hazard in self.jars.hazards_of(&material.id) {
                out.push(CautionView {
                    about: material.name.clone(),
                    text: hazard.caution.clone(),
                    codes: if hazard.h_codes == "not classified" { String::new() } else { hazard.h_codes.clone() },
                    source: hazard.source.clone(),
                    of_this_recipe: false,
                    grave: grave(&hazard.h_codes) || material.kind == Kind::Hazard,
                    jar_test: String::new(),
                });
            }
        }
        // What this very recipe does first, then grave dangers, then the rest.
        out.sort_by_key(|caution| (!caution.of_this_recipe, !caution.grave));
        let mut seen = BTreeSet::new();
        out.retain(|caution| seen.insert(caution.text.clone()));
        out
    }

    /// Powders that curdle, stiffen or set with this binder.
    fn pairs(&self, worked: &Worked, materials: &[&Material], out: &mut Vec<CautionView>) {
        let Some(binder) = worked.mix.binder_kind(self.jars) else { return };
        for material in materials.iter().filter(|m| m.kind == Kind::Filler) {
            let sour = worked.mix.curdled && binder != BinderKind::Glue;
            let sour_pair = self
                .jars
                .pairs()
                .iter()
                .find(|pair| sour && pair.binder == binder && pair.verdict == Verdict::Foams && pair.fillers.contains(&material.id));
            let Some(pair) = sour_pair.or_else(|| self.jars.pair(&material.id, binder)) else { continue };
            if pair.verdict == Verdict::Good {
                continue;
            }
            let how_sure = if pair.standing == "print" {
                ""
            } else {
                " Argued, not tried on grounds: make the jar test first, 10 g of the powder in 10 ml of the binder beside the same with chalk."
            };
            let jar_test = goes_address(material.id.as_str(), binder);
            out.push(CautionView { jar_test, ..this_recipe(&material.name, format!("{}{how_sure}", pair.why), &pair.source) });
        }
    }

    /// What the computed pot shows.
    fn pot(&self, worked: &Worked, materials: &[&Material], out: &mut Vec<CautionView>) {
        let grams = worked.mix.grams(&worked.mix.best());
        let of = |wanted: &dyn Fn(&str) -> bool| -> f64 {
            grams
                .iter()
                .filter(|(line, _)| {
                    worked.reading.lines.get(*line).and_then(|line| line.material.first()).is_some_and(|id| wanted(id.as_str()))
                })
                .map(|(_, grams)| grams.value())
                .sum()
        };
        // Water as poured: what plaster binds while it sets was there when the glue dissolved.
        let mut pot = Vec::new();
        worked.mix.pot(&worked.mix.best(), &mut pot);
        let water: f64 = pot.iter().filter(|portion| matches!(portion.role, Role::Water)).map(|portion| portion.mass.value()).sum();
        let all: f64 = pot.iter().map(|portion| portion.mass.value()).sum();
        let plaster = of(&|id| id == "plaster-of-paris");
        let powder: f64 = materials.iter().filter(|m| m.kind == Kind::Filler).map(|m| of(&|id| id == m.id.as_str())).sum();
        if plaster > PLASTER_SHARE * powder {
            let set = set_plaster(Grams::new(plaster), Grams::new(water));
            out.push(this_recipe(
                "plaster of Paris",
                format!(
                    "Plaster that is not slaked sets in the pot: it takes up {}\u{a0}g of the water, thickens, grows to {} times its own size and warms{}. Slake it first in plenty of water, stirring for an hour, or use gypsum or chalk. Never put a hand or any part of the body into it, mix small lots in cold water, never warm it in a pan that you need, never pour it down a drain. Follow the safety data sheet and local rules.",
                    number((set.gypsum + set.left).value() - plaster, 0),
                    number(set.solid / (Grams::new(plaster) / HEMIHYDRATE), 1),
                    match warming(Grams::new(plaster), Grams::new(water)) {
                        rise if rise > 1.0 => format!(", by up to {}\u{a0}degrees if all of it set at once", show::number(rise, 0)),
                        _ => ", hot enough to burn".to_owned(),
                    }
                ),
                "own stoichiometry; warning share 10 %: model choice; burns: NSEAD, A Guide to Safe Practice in Art and Design",
            ));
        }
        let borax = of(&|id| id.starts_with("borax"));
        if borax > 0.0 && all > 0.0 && borax / all >= BORAX_LIMIT {
            out.push(this_recipe(
                "borax",
                format!(
                    "Borax is {}\u{a0}% of this pot. In the European Union a mixture of 0.3 % or more carries the same warning as borax itself (may damage fertility or the unborn child), so the pot does too. A way without borax: dissolve the casein with ammonium carbonate or baking soda, or use lime. Follow the safety data sheet and local rules.",
                    number(100.0 * borax / all, 1)
                ),
                "Regulation (EU) 2021/849, from memory",
            ));
        }
        self.base_excess(worked, out);
        let glue = of(&|id| matches!(id, "hide-glue" | "rabbit-skin-glue" | "gelatine"));
        let has_strength = worked.reading.lines.iter().any(|line| line.strength.is_some());
        if glue > 0.0 && water > 0.0 && !has_strength && glue / (glue + water) > GLUE_LIMIT * 1.02 {
            out.push(this_recipe(
                "glue",
                format!(
                    "The glue is {} of glue and water. A gilders' studio warns that size above 10 % risks cracks.",
                    percent(glue / (glue + water))
                ),
                "Gilding Studio, About Traditional Gesso (2016)",
            ));
        }
    }

    fn base_excess(&self, worked: &Worked, out: &mut Vec<CautionView>) {
        for (material, mass, times_need) in self.bases_in_excess(worked) {
            out.push(this_recipe(
                &material.name,
                format!(
                    "There is {} the {} that this casein can use; the rest stays in the film, draws damp and may bloom as a white haze. About {}\u{a0}g of it would do.",
                    show::times(times_need),
                    material.name,
                    show::plain(mass / times_need)
                ),
                "base need of casein 0.5-0.63 meq/g: Hammarsten 1914, Robertson 1907 and dairy practice; own arithmetic",
            ));
        }
    }

    /// Soda or borax well over what the casein can use: material, grams, and how many times the need that is. What leaves as
    /// gas is no excess in the film, lime is taken in excess on purpose, and strong alkalis are no binder's alkali in any amount.
    pub(crate) fn bases_in_excess(&self, worked: &Worked) -> Vec<(&Material, f64, f64)> {
        let family_casein = worked.mix.materials().any(|(_, id)| self.jars.material(id).is_some_and(|m| m.family == Family::Casein));
        let casein = worked.ranges.as_ref().map_or(0.0, |r| r.best.binder.value());
        if !family_casein || casein <= 0.0 {
            return Vec::new();
        }
        let Ok(need) = self.binder.constant("base.need").map(|need| need.value) else { return Vec::new() };
        let grams = worked.mix.grams(&worked.mix.best());
        let lines = grams.iter().filter_map(|(line, mass)| {
            let material = worked.reading.lines.get(*line).and_then(|line| line.material.first()).and_then(|id| self.jars.material(id))?;
            let other = matches!(
                material.id.as_str(),
                "slaked-lime" | "lime-putty" | "quicklime" | "sodium-hydroxide" | "washing-soda" | "soda-ash"
            );
            if material.kind != Kind::Alkali || other || material.property("volatile_share").is_some() {
                return None;
            }
            let (molar, charges) = (material.property("molar_mass")?, material.property("equivalents")?);
            let enough = base_dose(Grams::new(casein), need, molar.value / charges.value / 1000.0);
            let times = *mass / enough;
            (times > BASE_EXCESS).then_some((material, mass.value(), times))
        });
        lines.collect()
    }
}

/// Things that should not meet, whatever their amounts.
fn together(materials: &[&Material], out: &mut Vec<CautionView>) {
    let has = |list: &[&str]| materials.iter().any(|m| list.contains(&m.id.as_str()));
    let kind = |kind: Kind| materials.iter().any(|m| m.kind == kind);
    let family = |family: Family| materials.iter().any(|m| m.family == family);
    if kind(Kind::Acid) || has(&["curd-drained", "curd-pressed", "quark"]) {
        out.push(this_recipe(
            "sour things and bleach",
            "Vinegar, lemon, citric acid, curd and whey never meet bleach, not in the same sink, cloth or bucket either: chlorine gas comes off. Clean with hot water and washing-up liquid.".into(),
            "general household-safety pages",
        ));
    }
    if has(&["ammonium-carbonate", "ammonium-bicarbonate", "ammonia-5", "ammonia-25"]) {
        out.push(this_recipe("ammonia and bleach", "Ammonia comes off while this dissolves: open a window, leave the lid loose, and keep bleach away from it (chloramine gas). Ventilate, and use the respirator, gloves and eye protection that the safety data sheet and local rules ask for.".into(), "general household-safety pages"));
    }
    if has(&["lithopone"]) && kind(Kind::Acid) {
        out.push(this_recipe("lithopone and acid", "Lithopone gives off poisonous hydrogen sulfide with acid: wash every trace of vinegar or lemon out of the curd, or use titanium white.".into(), "composition of lithopone: Gettens and Stout 1942"));
    }
    if has(&["zinc-white"]) && kind(Kind::Oil) {
        out.push(this_recipe(
            "zinc white under oil",
            "Zinc white in or under oil forms soaps that make the paint brittle and lift it years later; titanium white or chalk does not."
                .into(),
            "Rogala et al., JAIC 49 (2010); Maines et al., MRS 2011",
        ));
    }
    if has(&["potash-alum"]) && (family(Family::Casein) || has(&["natural-chalk", "precipitated-chalk", "marble-dust"])) {
        out.push(this_recipe("alum", "Alum is sour: it throws casein out of solution and fizzes with chalk, which leaves pinholes. Keep it for a separate coat of glue size.".into(), "Hammarsten 1914; own chemistry"));
    }
    if has(&["whole-milk", "part-skim-milk"]) {
        let text = "The cream of the milk goes into the ground with it, in the curd as well: it binds weakly, coats part on it, and the figures here leave it out. Take skim milk if you can.";
        out.push(this_recipe("cream", text.into(), "dairy practice; common practice, no source"));
    }
    if has(&["rennet"]) {
        out.push(this_recipe(
            "rennet",
            "Curd from rennet keeps its calcium and does not dissolve in soda or borax: take acid curd, or use lime.".into(),
            "dairy chemistry; legal ash limits, UK SI 1990/1",
        ));
    }
    if has(&["sodium-hydroxide", "washing-soda", "soda-ash"]) && family(Family::Casein) {
        out.push(this_recipe("strong alkali", "Washing soda and caustic soda are too strong for a painter's casein: they cut it up and it loses its hold. Baking soda or ammonium carbonate serves.".into(), "Wehlte, as quoted in casein leaflets"));
    }
    if family(Family::Glue) {
        out.push(this_recipe("warm glue", "Melt glue in a water bath, never above 60 °C and never over a flame: hotter, it loses its hold. Do not leave it alone, and keep spirits away from the hot plate.".into(), "gesso instructions after Mayer, gilders' instructions"));
    }
    if family(Family::Casein) || family(Family::LimeCasein) {
        out.push(this_recipe(
            "pots and milk",
            "Pots and spoons used for this do not go back to the kitchen. Milk is a listed food allergen: write it on the jar.".into(),
            "common practice, no source; EU Regulation 1169/2011 Annex II, from memory",
        ));
    }
}

fn this_recipe(about: &str, text: String, source: &str) -> CautionView {
    CautionView {
        about: about.to_owned(),
        text,
        codes: String::new(),
        source: source.to_owned(),
        of_this_recipe: true,
        grave: false,
        jar_test: String::new(),
    }
}

/// Codes of grave harm: death, burns, blindness, cancer, harm to the unborn, lasting harm to organs.
const GRAVE: [&str; 15] =
    ["H304", "H311", "H370", "H300", "H301", "H310", "H314", "H318", "H330", "H331", "H334", "H340", "H350", "H360", "H372"];

pub(crate) fn grave(codes: &str) -> bool {
    GRAVE.iter().any(|code| codes.contains(code))
}

/// Whether the pot holds plaster that has not been slaked.
pub(crate) fn has_plaster(worked: &Worked) -> bool {
    let mut pot = Vec::new();
    worked.mix.pot(&worked.mix.best(), &mut pot);
    pot.iter().any(|portion| matches!(portion.role, Role::Plaster { .. }) && portion.mass.value() > 0.0)
}
