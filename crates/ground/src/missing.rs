//! When the amount of the powder or of the binder was not told: how much would sit among the handbook grounds.

use materials::{Amount, Catalogue, Family, Kind, MaterialId, Reading};
use measure::{Grams, GramsPerMillilitre, Millilitres};

use crate::change::powder_for;
use crate::mix::Mix;
use crate::packing::critical_share;
use crate::portion::Role;
use crate::word::{LEAN_ABOVE, RICH_BELOW};

/// How much of the ingredient without an amount would make a usual ground.
#[derive(Debug, Clone, PartialEq)]
pub struct Wanted {
    /// The material without an amount.
    pub material: MaterialId,
    /// Index of its line.
    pub line: usize,
    /// From.
    pub low: Grams,
    /// To.
    pub high: Grams,
}

/// Works it out when exactly one powder or one dry binder lacks its amount and the other side is known; else `None`.
pub fn wanted(jars: &Catalogue, reading: &Reading, mix: &Mix) -> Option<Wanted> {
    let mut lacking = mix.left_out.iter().filter(|left| left.matters);
    let (one, none) = (lacking.next()?, lacking.next());
    if none.is_some() {
        return None;
    }
    let line = reading.lines.get(one.line)?;
    let id = line.material.first()?;
    let material = jars.material(id)?;
    if !matches!(line.amount, Amount::NotGiven(_)) {
        return None;
    }
    // Only glue and casein grounds stand among the handbook grounds that carry the words.
    let binders = reading.lines.iter().filter_map(|line| line.material.first()).filter_map(|id| jars.material(id));
    let other = |m: &materials::Material| {
        matches!(m.kind, Kind::Binder | Kind::Oil | Kind::Primer) && !matches!(m.family, Family::Glue | Family::Casein | Family::LimeCasein)
    };
    if binders.into_iter().any(other) {
        return None;
    }
    let mut pot = Vec::new();
    mix.pot(&mix.best(), &mut pot);
    let powders: Vec<(f64, f64, f64)> = pot
        .iter()
        .filter_map(|portion| match portion.role {
            Role::Filler { oil_absorption, .. } => Some((portion.volume().value(), portion.mass.value(), oil_absorption)),
            _ => None,
        })
        .collect();
    let binder: Millilitres =
        pot.iter().filter(|portion| matches!(portion.role, Role::DryBinder { .. })).map(crate::portion::Portion::volume).sum();
    let needed = |name: &str| material.property(name).map(|property| property.value);
    match material.kind {
        Kind::Filler if powders.is_empty() && binder > Millilitres::ZERO => {
            let density = needed("density")?;
            let share = critical_share(&[(1.0, density, needed("oil_absorption")?)]);
            let grams = |lambda: f64| powder_for(binder, share, lambda).map(|powder| powder * GramsPerMillilitre::new(density));
            Some(Wanted { material: id.clone(), line: one.line, low: grams(RICH_BELOW)?, high: grams(LEAN_ABOVE)? })
        }
        Kind::Binder if !powders.is_empty() && binder <= Millilitres::ZERO => {
            let (density, dry) = (needed("dry_density")?, needed("dry_share")?);
            let share = critical_share(&powders);
            let solid: f64 = powders.iter().map(|(volume, _, _)| volume).sum();
            // One millilitre of binder carries so much powder; the powder that is there wants its part of it.
            let drop = Millilitres::new(1.0);
            let grams = |lambda: f64| powder_for(drop, share, lambda).map(|carried| Grams::new(solid / carried.value() * density / dry));
            Some(Wanted { material: id.clone(), line: one.line, low: grams(LEAN_ABOVE)?, high: grams(RICH_BELOW)? })
        }
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use materials::{Line, NotGiven, Pick, Range, Span};
    use measure::Units;

    fn line(id: &str, amount: Amount) -> Line {
        Line {
            span: Span { from: 0, to: 0 },
            material: Pick::sure(MaterialId::new(id)),
            amount,
            strength: None,
            said_dry: false,
            guessed: Vec::new(),
        }
    }

    #[test]
    fn chalk_to_ten_grams_of_glue_by_hand() {
        // Chalk 2.71, oil absorption 18: critical share 0.6572. 10 g glue = 7.874 ml.
        // At 1.10: PVC 0.7229 -> 7.874 x 0.7229 / 0.2771 = 20.54 ml = 55.7 g. At 1.40: PVC 0.9201 -> 90.67 ml = 245.7 g.
        let (jars, units) = (Catalogue::builtin().unwrap(), Units::builtin().unwrap());
        let gram = units.by_id("gram").unwrap();
        let reading = Reading {
            lines: vec![
                line("hide-glue", Amount::Mass { number: Range::one(10.0), unit: Pick::sure(gram) }),
                line("natural-chalk", Amount::NotGiven(NotGiven::ByEye)),
            ],
            ..Reading::default()
        };
        let mix = Mix::of(jars, &units, &reading);
        let wanted = wanted(jars, &reading, &mix).unwrap();
        assert!((wanted.low.value() - 55.7).abs() < 0.2, "{wanted:?}");
        assert!((wanted.high.value() - 245.7).abs() < 1.0, "{wanted:?}");
    }
}
