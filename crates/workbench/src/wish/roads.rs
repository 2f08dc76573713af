//! Which binder, and which powders may go with it: the recipe's own first, then what takes its place from the shelf.

use binder::{Base, base_dose};
use ground::{Brings, Mix};
use materials::{BinderKind, Family, Kind, Material, MaterialId, Strength, Verdict, Wishes, read};
use measure::Grams;
use show::Bar;

use super::Ask;
use crate::Workbench;
use crate::fridge::base_share;
use crate::verdict::{Standing, Worked};

/// Something that goes in, with the words it is read back by.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Part {
    pub(super) id: MaterialId,
    /// As it stands in recipe text: "10 % hide glue".
    pub(super) label: String,
    pub(super) grams: f64,
    /// What a gram brings.
    pub(super) brings: Brings,
}

/// The recipe to start from, taken apart.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Start {
    pub(super) powders: Vec<Part>,
    /// What binds, with what opens it and all that is neither powder nor water.
    pub(super) binders: Vec<Part>,
    pub(super) water: f64,
    pub(super) total: f64,
    pub(super) place: Option<f64>,
    pub(super) crowding: Option<f64>,
    pub(super) strength: Option<f64>,
    pub(super) dry_to_powder: Option<f64>,
    pub(super) kind: Option<BinderKind>,
    pub(super) bar: Option<Bar>,
}

/// A binder with all that belongs to it, in fixed proportion, and what was changed about it.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Road {
    /// Grams of each in a gram of them all.
    pub(super) parts: Vec<Part>,
    pub(super) kind: Option<BinderKind>,
    pub(super) family: Family,
    pub(super) said: Vec<String>,
    /// Whether it is the recipe's own binder.
    pub(super) own: bool,
}

/// What binds and may be proposed, the plainest first.
const BINDERS: [&str; 8] =
    ["hide-glue", "rabbit-skin-glue", "gelatine", "casein-powder", "curd-drained", "curd-pressed", "quark", "casein-solution"];
/// What opens casein and may be proposed, the mildest first; borax last, for its caution.
const OPENERS: [&str; 4] = ["baking-soda", "ammonium-bicarbonate", "ammonium-carbonate", "borax"];
/// Casein that is not open yet.
const CLOSED: [&str; 4] = ["casein-powder", "curd-drained", "curd-pressed", "quark"];

impl Workbench {
    /// The words that a stuff is read back by, and what a gram of it then brings.
    pub(super) fn part(&self, id: &str, grams: f64, told: Option<&materials::Line>, ask: &[measure::Input]) -> Option<Part> {
        let id = MaterialId::new(id);
        let material = self.jars.material(&id)?;
        let strong = match told.and_then(|line| line.strength.as_ref()) {
            Some(Strength::Percent(range)) => format!("{} % ", show::plain(range.middle())),
            Some(Strength::OneToWater(range)) => format!("{} % ", show::plain(100.0 / (1.0 + range.middle()))),
            _ => String::new(),
        };
        let dry = if told.is_some_and(|line| line.said_dry) { "dry " } else { "" };
        let also = self.jars.names().filter(|(_, meant)| matches!(meant, [(only, _)] if *only == id)).map(|(name, _)| name);
        std::iter::once(material.name.as_str()).chain(also).find_map(|name| {
            let label = format!("{strong}{dry}{name}");
            let reading = read(self.jars, &self.units, &format!("100 g {label}"), &Wishes::new());
            let [line] = reading.lines.as_slice() else { return None };
            let alone = line.material.candidates.len() == 1 && line.material.first() == Some(&id) && reading.struck().next().is_none();
            let mix = Mix::of(self.jars, &self.units, &reading).with_own(ask);
            let (_, _, brings) = mix.brings().into_iter().next().filter(|_| alone && reading.questions.is_empty())?;
            Some(Part { id: id.clone(), label, grams, brings })
        })
    }

    pub(super) fn start_of(&self, worked: &Worked) -> Start {
        let (mut powders, mut binders, mut water, mut total) = (Vec::new(), Vec::new(), 0.0, 0.0);
        let mut sum = Brings::default();
        let ids: Vec<(usize, MaterialId)> = worked.mix.materials().map(|(line, id)| (line, id.clone())).collect();
        for (line, grams, brings) in worked.mix.brings() {
            let Some(material) = ids.iter().find(|(at, _)| *at == line).and_then(|(_, id)| self.jars.material(id)) else { continue };
            let grams = grams.value();
            sum = sum.plus(brings, grams);
            let told = worked.reading.lines.get(line);
            let part = match material.kind {
                _ if material.id.as_str() == "water" => {
                    water += grams;
                    total += grams;
                    continue;
                }
                // Milk that is curdled stands in the pot as its curd.
                Kind::Milk if worked.mix.curdled => self.part("curd-drained", 1.0, None, &[]).map(|curd| {
                    let wet = if curd.brings.dry > 0.0 { grams * brings.dry / curd.brings.dry } else { 0.0 };
                    Part { grams: wet, ..curd }
                }),
                _ => self.part(material.id.as_str(), grams, told, &[]),
            };
            let Some(part) = part else { continue };
            total += part.grams;
            match powders.iter_mut().chain(&mut binders).find(|known: &&mut Part| known.id == part.id && known.label == part.label) {
                Some(known) => known.grams += part.grams,
                None if material.kind == Kind::Filler => powders.push(part),
                None => binders.push(part),
            }
        }
        let known = !matches!(worked.standing, Standing::NoFilm(_));
        Start {
            place: sum.place().filter(|_| known),
            crowding: sum.crowding().filter(|_| worked.water_known),
            strength: sum.strength().filter(|_| worked.water_known),
            dry_to_powder: (sum.powder > 0.0 && sum.dry > 0.0).then(|| sum.dry / sum.powder),
            kind: worked.mix.binder_kind(self.jars),
            bar: worked
                .ranges
                .as_ref()
                .ok()
                .map(ground::FilmRanges::lambda)
                .filter(|_| matches!(worked.standing, Standing::Word(_)))
                .map(|figure| Bar { low: figure.low, value: figure.value, high: figure.high }),
            powders,
            binders,
            water,
            total,
        }
    }

    /// Ways to bind it, the one that changes least first; with what stood in the way of the others.
    pub(super) fn roads(&self, ask: &Ask<'_>) -> (Vec<Road>, Vec<String>) {
        let (mut roads, mut against) = (Vec::new(), Vec::new());
        if let Some(start) = &ask.start {
            self.own_roads(ask, start, &mut roads, &mut against);
        }
        let family_before =
            ask.start.as_ref().and_then(|start| start.binders.iter().find(|part| part.brings.dry > 0.0)).and_then(|part| self.family(part));
        let mut others: Vec<&str> = BINDERS.into_iter().filter(|id| ask.may_take(id)).collect();
        // Where nothing is said to be at hand, the kind of binder that was told comes before the other.
        others.sort_by_key(|id| {
            let family = self.jars.material(&MaterialId::new(id)).map(|m| m.family);
            family_before.is_some() && family != family_before
        });
        for id in others {
            if ask.start.as_ref().is_some_and(|start| start.binders.iter().any(|part| part.id.as_str() == id))
                && roads.iter().any(|road: &Road| road.own)
            {
                continue;
            }
            let Some(part) = self.part(id, 1.0, None, &ask.form.own) else { continue };
            let said = match (&ask.start, self.jars.material(&part.id)) {
                (Some(_), Some(material)) => vec![format!(
                    "{} binds it instead, with as much dry binder as that place on the rule takes.",
                    show::capital(&material.name)
                )],
                _ => Vec::new(),
            };
            self.opened(ask, vec![part], said, false, &mut roads, &mut against);
        }
        (roads, against)
    }

    fn own_roads(&self, ask: &Ask<'_>, start: &Start, roads: &mut Vec<Road>, against: &mut Vec<String>) {
        let mut said = Vec::new();
        let mut kept = Vec::new();
        let mut opener_lost = false;
        for part in &start.binders {
            let Some(material) = self.jars.material(&part.id) else { continue };
            let forbidden = ask.forbids(part.id.as_str());
            if !forbidden && (ask.is_at_hand(part.id.as_str()) || part.brings.dry <= 0.0 && !is_opener(material) && ask.at_hand.is_none()) {
                kept.push(part.clone());
                continue;
            }
            let why = if forbidden { "must not go in" } else { "is not at hand" };
            if part.brings.binder > 0.0 {
                against.push(format!("{} {why}", material.name));
                return;
            }
            opener_lost |= is_opener(material);
            if !is_opener(material) {
                said.push(format!("{} is left out: it {why}.", show::capital(&material.name)));
            }
        }
        let lost =
            opener_lost.then(|| start.binders.iter().filter_map(|part| self.jars.material(&part.id)).find(|m| is_opener(m))).flatten();
        match lost {
            None => roads.extend(self.bound_road(kept, said, true)),
            Some(lost) => {
                let why = if ask.forbids(lost.id.as_str()) { "must not go in" } else { "is not at hand" };
                kept.retain(|part| self.jars.material(&part.id).is_none_or(|material| !is_opener(material)));
                said.push(format!("{} {why}, so something else opens the casein.", show::capital(&lost.name)));
                self.opened(ask, kept, said, true, roads, against);
            }
        }
    }

    /// The binder with each opener that may be taken, or alone where it needs none.
    fn opened(&self, ask: &Ask<'_>, parts: Vec<Part>, said: Vec<String>, own: bool, roads: &mut Vec<Road>, against: &mut Vec<String>) {
        let closed = parts.iter().any(|part| CLOSED.contains(&part.id.as_str()));
        if !closed {
            roads.extend(self.bound_road(parts, said, own));
            return;
        }
        let casein: f64 = parts.iter().map(|part| part.grams * part.brings.dry).sum();
        let before = roads.len();
        for id in OPENERS.into_iter().filter(|id| ask.may_take(id)) {
            let Some((base, mut part)) = Base::from_material(&MaterialId::new(id)).zip(self.part(id, 1.0, None, &ask.form.own)) else {
                continue;
            };
            let dose = self.binder.constant("base.first_dose").ok().zip(self.binder.grams_per_milliequivalent(base).ok());
            let Some((per_gram, size)) = dose else { continue };
            part.grams = base_dose(Grams::new(casein), per_gram.value, size).value() / base_share(self, base).best.max(0.05);
            let mut said = said.clone();
            said.push(format!(
                "{} opens the casein: a first dose by its charges; begin with half, warm and stir, and go by pH paper.",
                show::capital(&part.label)
            ));
            roads.extend(self.bound_road(parts.iter().cloned().chain([part]).collect(), said, own));
        }
        if roads.len() == before {
            let names = parts.iter().filter(|part| part.brings.binder > 0.0).map(|part| part.label.as_str()).collect::<Vec<_>>();
            against.push(format!("nothing is at hand that opens {} and may go in", crate::and(&names)));
        }
    }

    fn bound_road(&self, parts: Vec<Part>, said: Vec<String>, own: bool) -> Option<Road> {
        let all: f64 = parts.iter().map(|part| part.grams).sum();
        let binds = parts.iter().find(|part| part.brings.dry > 0.0 || part.brings.binder > 0.0)?;
        let family = self.family(binds)?;
        let kind = self.kind_of_parts(&parts);
        (all > 0.0).then(|| Road {
            parts: parts.into_iter().map(|part| Part { grams: part.grams / all, ..part }).collect(),
            kind,
            family,
            said,
            own,
        })
    }

    fn family(&self, part: &Part) -> Option<Family> {
        self.jars.material(&part.id).map(|material| material.family)
    }

    /// The kind of binder, as the ordinary engine reads these words.
    fn kind_of_parts(&self, parts: &[Part]) -> Option<BinderKind> {
        let text: Vec<String> = parts.iter().map(|part| format!("10 g {}", part.label)).collect();
        let reading = read(self.jars, &self.units, &text.join("\n"), &Wishes::new());
        Mix::of(self.jars, &self.units, &reading).binder_kind(self.jars)
    }

    /// Why a powder may not go with a binder: it curdles, sets, or nobody weighed the pair up.
    pub(super) fn pair_against(&self, powder: &MaterialId, road: &Road, told: bool) -> Option<String> {
        let (kind, name) = (road.kind?, &self.jars.material(powder)?.name);
        match self.jars.pair(powder, kind) {
            Some(pair) if pair.verdict == Verdict::Curdles => Some(format!("{name} curdles this binder")),
            Some(pair) if pair.verdict == Verdict::Sets => Some(format!("{name} sets in this binder")),
            Some(pair) if pair.verdict == Verdict::Unknown && !told => Some(format!("nobody weighed up {name} with this binder")),
            None if !told => Some(format!("nobody weighed up {name} with this binder")),
            _ => None,
        }
    }

    /// Powders for a binder: the one wished for, the recipe's own, or one that is at hand; with what was changed and what stood against.
    pub(super) fn powders(&self, ask: &Ask<'_>, road: &Road) -> (Vec<(Part, bool)>, Vec<String>, Vec<String>) {
        let (mut found, mut said, mut against) = (Vec::<(Part, bool)>::new(), Vec::new(), Vec::new());
        let told: Vec<Part> = match (&ask.with, &ask.start) {
            (Some(named), start) => {
                let all = start.as_ref().map_or(0.0, |start| start.powders.iter().map(|part| part.grams).sum());
                named.ids.iter().filter_map(|id| self.part(id.as_str(), all, None, &ask.form.own)).collect()
            }
            (None, Some(start)) => start.powders.clone(),
            (None, None) => Vec::new(),
        };
        for part in told {
            let name = self.jars.material(&part.id).map_or("", |material| material.name.as_str()).to_owned();
            let why = if ask.forbids(part.id.as_str()) {
                Some(format!("{name} must not go in"))
            } else if self.never(&part.id) {
                let why = if part.id.as_str() == "plaster-of-paris" { "it sets in the pot" } else { "its caution speaks against it" };
                Some(format!("{name} is not proposed here: {why}"))
            } else if !ask.is_at_hand(part.id.as_str()) {
                Some(format!("{name} is not at hand"))
            } else {
                self.pair_against(&part.id, road, true)
            };
            match why {
                None => found.push((part, true)),
                Some(why) => {
                    said.push(format!("{}.", show::capital(&why)));
                    against.push(why);
                }
            }
        }
        if ask.with.is_some() && found.is_empty() {
            return (found, said, against);
        }
        // Others from the shelf stand in for what is missing; where no shelf is told, chalk does, which goes with every binder.
        let others: Vec<MaterialId> = match &ask.at_hand {
            Some(at_hand) => at_hand.keys().cloned().collect(),
            None if found.is_empty() => ["natural-chalk", "marble-dust", "gypsum", "titanium-white"].map(MaterialId::new).to_vec(),
            None => Vec::new(),
        };
        let mut spare: Vec<(Part, bool)> = Vec::new();
        for id in others {
            let powder = self.jars.material(&id).is_some_and(|material| material.kind == Kind::Filler);
            let known = found.iter().any(|(part, _)| part.id == id)
                || against.iter().any(|why| self.jars.material(&id).is_some_and(|m| why.starts_with(&m.name)));
            if !powder || known || ask.forbids(id.as_str()) || self.never(&id) {
                continue;
            }
            match self.pair_against(&id, road, false) {
                Some(why) => against.push(why),
                None => spare.extend(self.part(id.as_str(), 0.0, None, &ask.form.own).map(|part| (part, false))),
            }
        }
        if ask.with.is_some() {
            spare.clear();
        }
        // One that is usual in handbooks is enough where nothing was told.
        if found.is_empty() {
            spare.sort_by_key(|(part, _)| POWDERS.iter().position(|known| *known == part.id.as_str()).unwrap_or(POWDERS.len()));
            if ask.at_hand.is_none() {
                spare.truncate(1);
            }
        }
        found.extend(spare);
        (found, said, against)
    }
}

/// White powders of printed grounds, the plainest first.
const POWDERS: [&str; 6] = ["natural-chalk", "marble-dust", "gypsum", "zinc-white", "titanium-white", "lithopone"];

fn is_opener(material: &Material) -> bool {
    material.kind == Kind::Alkali
}

impl Ask<'_> {
    pub(super) fn forbids(&self, id: &str) -> bool {
        self.without.iter().any(|named| named.is(id))
    }

    /// Whether it stands on the shelf, or no shelf was told.
    pub(super) fn is_at_hand(&self, id: &str) -> bool {
        self.at_hand.as_ref().is_none_or(|at_hand| id == "water" || has(at_hand, id))
    }

    /// Whether it may be proposed: at hand and not forbidden.
    fn may_take(&self, id: &str) -> bool {
        !self.forbids(id) && self.is_at_hand(id)
    }

    /// Grams at hand; `None` where nothing bounds them.
    pub(super) fn stock(&self, id: &str) -> Option<f64> {
        let at_hand = self.at_hand.as_ref()?;
        at_hand.get(&MaterialId::new(id)).copied().flatten()
    }
}

/// Curd is at hand where milk is, and something sour to curdle it.
fn has(at_hand: &super::AtHand, id: &str) -> bool {
    let any = |ids: &[&str]| ids.iter().any(|id| at_hand.contains_key(&MaterialId::new(id)));
    any(&[id])
        || id == "curd-drained"
            && any(&["skim-milk", "skim-milk-powder"])
            && any(&["vinegar", "cider-vinegar", "lemon", "lemon-juice", "citric-acid"])
}
