//! Steps in the order of the kitchen, for the families that the program knows: glue, casein, lime casein.

use materials::{BinderKind, Family, Kind, Material};
use show::paper::CardStep;

use crate::Workbench;
use crate::verdict::{Worked, has_plaster};

/// The one sentence about protection.
pub(crate) const PROTECTION: &str =
    "Ventilate, and use the respirator, gloves and eye protection that the safety data sheet and local rules ask for.";

impl Workbench {
    pub(super) fn steps(&self, materials: &[&Material], worked: &Worked) -> Vec<CardStep> {
        let step = |text: String, caution: &str| CardStep { text, caution: caution.to_owned() };
        let names = |wanted: &dyn Fn(&Material) -> bool| {
            let names: Vec<&str> = materials.iter().filter(|material| wanted(material)).map(|material| material.name.as_str()).collect();
            names.join(" and ")
        };
        if !materials.is_empty() && materials.iter().all(|material| material.kind == Kind::Primer) {
            return vec![step("Stir it and use it as its maker says.".into(), PROTECTION)];
        }
        let powder = names(&|material| material.kind == Kind::Filler);
        let binder = names(&|material| material.kind == Kind::Binder);
        let mut out = vec![step(
            "Weigh everything first, powders last.".into(),
            "Weigh powder without a draught, wipe up wet, never sweep. Follow the safety data sheet and local rules.",
        )];
        if has_plaster(worked) {
            out.push(step(
                "Slake the plaster first: sift it into much cold water and stir it, an hour at first and then daily, until it can no longer set.".into(),
                "Setting plaster grows hot and can burn. Never let it set around a hand, never pour it into a drain; follow the safety data sheet and local rules.",
            ));
        }
        match worked.mix.binder_kind(self.jars) {
            Some(BinderKind::Glue) => {
                out.push(step(
                    format!(
                        "Soak the {} in the cold water until it is swollen through, overnight for grains or sheets.",
                        or(&binder, "glue")
                    ),
                    "Keep it cold while it soaks; throw away glue that smells, is thin or has spots.",
                ));
                out.push(step(
                    "Warm it in a water bath until it is liquid, never above 60 °C.".into(),
                    "Do not leave the hot plate alone. Pots and spoons used for this do not go back to the kitchen.",
                ));
            }
            Some(BinderKind::LimeCasein) => {
                out.push(step(
                    "Stir the lime into the curd or casein until it runs; use it within the hour.".into(),
                    "Lime burns: one splash can blind. Use putty rather than quicklime, rinse splashes with much water at once and get medical help. Follow the safety data sheet and local rules.",
                ));
            }
            Some(BinderKind::BoraxCasein) => {
                out.push(step("Soak the casein, stir in the borax and warm gently, never above 60 °C, until no grain is left.".into(), "Borax may harm fertility and the unborn child (EU: H360FD), and the pot counts like borax itself. There are ways without it: baking soda, ammonium carbonate, lime. Follow the safety data sheet and local rules."));
            }
            Some(BinderKind::AmmoniaCasein) => {
                out.push(step("Soak the casein, stir in the ammonium carbonate and warm gently, never above 60 °C, until it stops foaming.".into(), "Ammonia comes off: window open, loose lid, and never near bleach (chloramine gas). Follow the safety data sheet and local rules."));
            }
            Some(BinderKind::SodaCasein) => {
                out.push(step("Stir the soda into the curd or soaked casein and warm gently, never above 60 °C, until no grain is left and nothing fizzes.".into(), "Use a pot with three times the room: it may foam. Follow the safety data sheet and local rules."));
            }
            None if materials.iter().any(|material| material.family == Family::Casein || material.kind == Kind::Milk) => {
                out.push(step("Dissolve the casein before the powder goes in; how is not told in this recipe.".into(), ""));
            }
            None => out.push(step(
                format!("Make the {} ready as its maker says.", or(&binder, "binder")),
                "Follow the safety data sheet and local rules.",
            )),
        }
        out.push(step(
            format!(
                "Sift the {} into the warm binder little by little, let it stand, stir without beating air in, and strain.",
                or(&powder, "powder")
            ),
            PROTECTION,
        ));
        out.push(step(
            "Lay thin coats, each across the last, and never from two pots on one board; weigh the pot and make up the water that has gone.".into(),
            "Throw it away at any smell, thinning or spots; let the solids settle and dry, and bin them by local rules, nothing white down the sink.",
        ));
        out
    }
}

fn or<'a>(text: &'a str, other: &'a str) -> &'a str {
    if text.is_empty() { other } else { text }
}
