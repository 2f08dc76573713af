//! Change this, weigh this.

use ground::{Change, Finding, Narrowing, Word, changes_to_usual, narrowings};
use materials::{Kind, Material};
use measure::Figure;
use show::{Advice, number, plain};

use super::{Standing, Worked, in_kitchen};
use crate::Workbench;

/// A finding must narrow the bar by at least this share to be worth the trouble.
const WORTH: f64 = 0.08;

impl Workbench {
    pub(super) fn change(&self, worked: &Worked, masses: &[(usize, Figure)]) -> Vec<Advice> {
        let Standing::Word(words) = &worked.standing else { return Vec::new() };
        let Ok(ranges) = &worked.ranges else { return Vec::new() };
        if Word::of(ranges.best.lambda()) == Word::Usual {
            let (what, more) = if words.second.is_none() {
                (
                    "Nothing, as far as the binder goes.",
                    "If boards of it fail all the same, look at thickness, drying and the board itself.",
                )
            } else {
                ("Nothing yet.", "At the likeliest reading it lies among the usual grounds; settle the doubt first, then change.")
            };
            return vec![Advice { what: what.into(), more: more.into(), own: String::new() }];
        }
        let Some([powder, binder]) = changes_to_usual(&ranges.best) else { return Vec::new() };
        let mut both = vec![self.change_powder(worked, masses, powder), self.change_binder(worked, masses, binder)];
        // Too lean: more binder is the plain way. Too rich: more powder, since binder once in can't be taken out.
        if powder.powder < 1.0 {
            both.reverse();
        }
        let mut both: Vec<Advice> = both.into_iter().flatten().collect();
        for other in both.iter_mut().skip(1) {
            let mut chars = other.what.chars();
            if let Some(first) = chars.next() {
                other.what = format!("Or {}{}", first.to_lowercase(), chars.as_str());
            }
        }
        both
    }

    fn change_powder(&self, worked: &Worked, masses: &[(usize, Figure)], change: Change) -> Option<Advice> {
        let amounts = self.amounts(worked, masses, change.powder, |m| m.kind == Kind::Filler);
        if amounts.is_empty() {
            return None;
        }
        let less = change.powder < 1.0;
        let more = if less {
            "The pot gets thinner and each coat dries thinner and tighter, with less air in it."
        } else {
            "The pot gets thicker, so it may want water; each coat dries thicker, with more air in it, and drinks more of the first paint."
        };
        Some(Advice {
            what: format!("{} powder: {}.", if less { "Less" } else { "More" }, amounts.join(", ")),
            more: more.into(),
            own: String::new(),
        })
    }

    fn change_binder(&self, worked: &Worked, masses: &[(usize, Figure)], change: Change) -> Option<Advice> {
        let binder = |m: &Material| matches!(m.kind, Kind::Binder | Kind::Milk);
        let amounts = self.amounts(worked, masses, change.binder, binder);
        if amounts.is_empty() {
            return None;
        }
        let less = change.binder < 1.0;
        // Size, milk and curd are mostly water, so changing them changes the pot the other way round.
        let wet = worked.reading.lines.iter().any(|line| {
            let material = line.material.first().and_then(|id| self.jars.material(id));
            material
                .is_some_and(|m| binder(m) && (line.strength.is_some() || m.property("water_share").is_some_and(|share| share.value > 0.5)))
        });
        let more = match (less, wet) {
            (true, false) => {
                "With the same water the binder is weaker, so the pot is thinner; the dry coat holds more air and drinks more of the first paint."
            }
            (false, false) => {
                "With the same water the binder is stronger, so the pot is thicker and pulls harder as it dries; try it on one board first."
            }
            (true, true) => {
                "It takes its water along, so the pot gets thicker; the dry coat holds more air and drinks more of the first paint."
            }
            (false, true) => {
                "It brings its own water, so the pot gets thinner and each coat dries thinner, and pulls harder as it dries; try it on one board first."
            }
        };
        Some(Advice {
            what: format!("{} binder: {}.", if less { "Less" } else { "More" }, amounts.join(", ")),
            more: more.into(),
            own: String::new(),
        })
    }

    /// What to take of each such material instead of what was told; lines of one stuff are one amount.
    fn amounts(&self, worked: &Worked, masses: &[(usize, Figure)], factor: f64, wanted: impl Fn(&Material) -> bool) -> Vec<String> {
        let mut sums: Vec<(&Material, f64)> = Vec::new();
        for (line, figure) in masses {
            let material = worked.reading.lines.get(*line).and_then(|line| line.material.first()).and_then(|id| self.jars.material(id));
            let Some(material) = material.filter(|m| wanted(m)) else { continue };
            match sums.iter_mut().find(|(known, _)| known.id == material.id) {
                Some((_, sum)) => *sum += figure.value,
                None => sums.push((material, figure.value)),
            }
        }
        sums.into_iter()
            .map(|(material, told)| {
                let grams = told * factor;
                let kitchen = in_kitchen(material, grams);
                let kitchen = if kitchen.is_empty() { String::new() } else { format!(", about {kitchen}") };
                format!("{}\u{a0}g {} instead of {}\u{a0}g{kitchen}", plain(grams), material.name, plain(told))
            })
            .collect()
    }

    pub(super) fn weigh(&self, worked: &Worked) -> Option<Advice> {
        if !matches!(worked.standing, Standing::Word(_)) {
            return None;
        }
        let ranges = worked.ranges.as_ref().ok()?;
        let best = narrowings(&worked.mix, ranges, &worked.drawn).into_iter().next()?;
        if best.gain() < WORTH {
            return Some(Advice {
                what: "No single measurement would narrow this much.".into(),
                more: format!("The bar runs from {} to {}.", number(best.before.0, 2), number(best.before.1, 2)),
                own: String::new(),
            });
        }
        let more = format!(
            "That narrows the bar from {} to {} down to a width of {} (now {}).",
            number(best.before.0, 2),
            number(best.before.1, 2),
            number(best.after.1 - best.after.0, 2),
            number(best.before.1 - best.before.0, 2)
        );
        let rags = if best.finding == Finding::RubOut {
            " Oily rags can set themselves alight: dry them spread out flat outdoors, or soak them in water."
        } else {
            ""
        };
        Some(Advice { what: self.how(worked, &best), more: format!("{more}{rags}"), own: self.own_measure(&best) })
    }

    /// The measurement at the kitchen table that would settle it, as the shelf knows it.
    fn own_measure(&self, best: &Narrowing) -> String {
        let id = best.keys.first().and_then(|key| key.split('.').nth(1)).unwrap_or("");
        let known = self.jars.material(&materials::MaterialId::new(id)).is_some();
        match best.finding {
            Finding::WeighCup if known => format!("{id} cup"),
            Finding::RubOut if known => format!("{id} rub-out"),
            Finding::DrySpoonful if known => format!("{id} dry"),
            Finding::WeighCurd => "curd-drained dry".into(),
            _ => String::new(),
        }
    }

    /// How to find it out, in the painter's words.
    fn how(&self, worked: &Worked, best: &Narrowing) -> String {
        let key = best.keys.first().map_or("", String::as_str);
        let id = key.split('.').nth(1).unwrap_or("");
        let known = self.jars.material(&materials::MaterialId::new(id));
        let name = known.map_or(id, |material| material.name.as_str());
        match best.finding {
            Finding::WeighCup => format!("Weigh one level cup of your {name}, three times."),
            Finding::Answer => worked
                .reading
                .questions
                .iter()
                .find(|question| question.id.0 == key)
                .map_or_else(|| "Answer the question beside the recipe.".into(), |question| format!("Answer this: {}", question.ask)),
            Finding::WeighAmount if known.is_none() => "Weigh what goes into the pot instead of spooning it.".into(),
            Finding::WeighAmount => format!("Weigh the {name} that goes into the pot."),
            Finding::DrySpoonful => format!("Weigh a spoonful of the {name}, dry it, and weigh what stays."),
            Finding::WeighCurd => "Weigh the drained curd, then weigh a spoonful of it, dry it, and weigh what stays.".into(),
            Finding::RubOut => {
                format!(
                    "Rub out 10 g of your {name} with linseed oil, drop by drop, until it is one stiff paste; count the drops, and rub out a chalk that you know beside it."
                )
            }
        }
    }
}
