//! From a reading to a mix.

use std::collections::HashMap;

use materials::{Amount, BinderKind, Catalogue, Fill, Kind, Line, Material, NotGiven, PartBasis, Pick, Reading};
use measure::{Input, InputKey, Spread, UnitId, Units};

use super::composition::{Composition, Unsplit, even_or_exact};
use super::registry::{Registry, Slot};
use super::{Candidate, Item, LeftOut, Mix, PART, Size};

/// Relative spread of a weighed mass and of a liquid measured out (one standard deviation): 2 % (model choice).
const WEIGHING_SPREAD: f64 = 0.02;

impl Mix {
    /// Makes a reading ready to be computed. What can't be counted stands in `left_out`, never silently dropped.
    pub fn of(jars: &Catalogue, units: &Units, reading: &Reading) -> Self {
        let material = |line: &Line| line.material.first().and_then(|id| jars.material(id));
        let has = |kind: Kind| reading.lines.iter().any(|line| material(line).is_some_and(|m| m.kind == kind));
        let mut build = Build {
            jars,
            units,
            known: Registry::default(),
            items: Vec::new(),
            left_out: Vec::new(),
            water_by_eye: false,
            curdled: has(Kind::Milk) && (has(Kind::Acid) || !reading.drained.is_empty()),
            curd_weighed: reading.lines.iter().any(|line| {
                let curd =
                    material(line).is_some_and(|m| matches!(m.id.as_str(), "curd-drained" | "curd-pressed" | "quark" | "casein-powder"));
                curd && !matches!(line.amount, Amount::NotGiven(_))
            }),
            measured: reading
                .lines
                .iter()
                .any(|line| matches!(line.amount, Amount::Mass { .. } | Amount::Volume { .. }) && material(line).is_some_and(counts)),
            seen: HashMap::new(),
            parts: false,
            by_weight: false,
            by_volume: false,
        };
        for (index, line) in reading.lines.iter().enumerate() {
            build.line(index, line);
        }
        let mut notes = Vec::new();
        if build.curdled && build.curd_weighed {
            notes.push(
                "The milk was taken as the source of the curd that was weighed: the curd goes into the pot, the milk is not counted again."
                    .to_owned(),
            );
        } else if build.curdled {
            notes.push(
                "The milk was taken as curdled and drained: the casein and the water in the curd go into the pot, the whey does not."
                    .to_owned(),
            );
        } else if has(Kind::Milk) {
            notes.push("No acid is named, so the milk was taken as poured in whole: its protein is the binder. Its sugar and salts stay in the film too, which the figures do not count.".to_owned());
        }
        if build.parts {
            notes.push("One part was counted as 100 ml, or 100 g where parts are by weight: only their ratio matters, the grams are for that scale.".to_owned());
        }
        if build.by_weight && build.by_volume {
            notes.push(
                "Parts by weight and parts by volume stand side by side: 1 part was taken as 100 g in the one and 100 ml in the other."
                    .to_owned(),
            );
        }
        let curd = |item: &Item| {
            item.candidates.first().is_some_and(|found| matches!(found.material.as_str(), "curd-drained" | "curd-pressed" | "quark"))
        };
        let dissolved = (build.curdled || build.items.iter().any(curd)).then(|| super::stirred::curd(&mut build.known));
        Self {
            inputs: build.known.into_inputs(),
            items: build.items,
            left_out: build.left_out,
            notes,
            water_by_eye: build.water_by_eye,
            curdled: build.curdled,
            dissolved,
            packing: None,
            own: Vec::new(),
        }
    }

    /// How the casein or glue in the pot was dissolved, as far as powders care; `None` where no protein binder is in it or nothing dissolves it.
    pub fn binder_kind(&self, jars: &Catalogue) -> Option<BinderKind> {
        let ids: Vec<&str> = self.materials().map(|(_, id)| id.as_str()).collect();
        let has = |list: &[&str]| ids.iter().any(|id| list.contains(id));
        let family = |wanted| self.materials().any(|(_, id)| jars.material(id).is_some_and(|m| m.family == wanted));
        if family(materials::Family::LimeCasein) || (family(materials::Family::Casein) && has(&["slaked-lime", "lime-putty", "quicklime"]))
        {
            Some(BinderKind::LimeCasein)
        } else if family(materials::Family::Casein) {
            if has(&["borax", "borax-pentahydrate", "borax-anhydrous"]) {
                Some(BinderKind::BoraxCasein)
            } else if has(&["ammonium-carbonate", "ammonium-bicarbonate", "ammonia-5", "ammonia-25"]) {
                Some(BinderKind::AmmoniaCasein)
            } else if has(&["baking-soda", "washing-soda", "soda-ash", "sodium-hydroxide"]) {
                Some(BinderKind::SodaCasein)
            } else {
                None
            }
        } else if family(materials::Family::Glue) {
            Some(BinderKind::Glue)
        } else {
            None
        }
    }
}

/// Whether a material's amount anchors the size of a recipe (a pinch of alum does not).
fn counts(material: &Material) -> bool {
    matches!(material.kind, Kind::Filler | Kind::Binder | Kind::Milk | Kind::Oil | Kind::Liquid | Kind::Primer)
}

#[expect(clippy::struct_excessive_bools, reason = "what was seen of a recipe while it is walked through; none excludes another")]
struct Build<'a> {
    jars: &'a Catalogue,
    units: &'a Units,
    known: Registry,
    items: Vec<Item>,
    left_out: Vec<LeftOut>,
    water_by_eye: bool,
    curdled: bool,
    curd_weighed: bool,
    measured: bool,
    seen: HashMap<String, usize>,
    parts: bool,
    by_weight: bool,
    by_volume: bool,
}

impl Build<'_> {
    fn line(&mut self, index: usize, line: &Line) {
        let Some(first) = line.material.first().and_then(|id| self.jars.material(id)) else { return };
        if self.curdled && (first.kind == Kind::Acid || first.kind == Kind::Milk && self.curd_weighed) {
            return; // the acid leaves with the whey, and milk whose curd was weighed is that curd
        }
        let measured = !matches!(line.amount, Amount::NotGiven(_));
        let matters = matches!(first.kind, Kind::Filler | Kind::Binder | Kind::Milk | Kind::Oil | Kind::Primer)
            || first.kind == Kind::Hazard && measured;
        match self.item(index, line) {
            Ok(item) => self.items.push(item),
            Err(Unsplit(why)) => {
                if first.kind == Kind::Liquid && matches!(line.amount, Amount::NotGiven(_)) {
                    self.water_by_eye = true;
                }
                self.left_out.push(LeftOut { line: index, name: first.name.clone(), why, matters });
            }
        }
    }

    fn item(&mut self, index: usize, line: &Line) -> Result<Item, Unsplit> {
        let mut candidates = Vec::new();
        let mut weights = Vec::new();
        let mut refused = None;
        for (id, weight) in &line.material.candidates {
            let Some(material) = self.jars.material(id) else { continue };
            let composition = if self.curdled && material.kind == Kind::Milk {
                Composition::curd_from(material, &mut self.known)
            } else {
                Composition::new(self.jars, material, line.strength.as_ref(), line.said_dry, &mut self.known)
            };
            match composition {
                Ok(composition) => {
                    #[expect(clippy::cast_precision_loss, reason = "two or three candidates")]
                    weights.push((candidates.len() as f64, *weight));
                    candidates.push(Candidate { material: id.clone(), composition });
                }
                // The likeliest reading decides whether the line can be counted at all.
                Err(unknown) if candidates.is_empty() => return Err(unknown),
                Err(unknown) => refused = Some(unknown),
            }
        }
        if candidates.is_empty() {
            return Err(refused.unwrap_or(Unsplit("the material is not in the jars".into())));
        }
        let size = self.size(line, &candidates)?;
        let question = line.material.question.clone();
        let pick = (candidates.len() > 1).then(|| {
            let key = question.as_ref().map_or_else(|| format!("material.line.{index}"), |question| question.0.clone());
            self.known.slot(Input {
                key: InputKey::new(key),
                plain: "which material the word means".into(),
                best: 0.0,
                spread: Spread::Choice(weights),
                unit: "1",
                source: "judgement, no source".into(),
            })
        });
        Ok(Item { line: index, size, pick, candidates, question })
    }

    fn size(&mut self, line: &Line, candidates: &[Candidate]) -> Result<Size, Unsplit> {
        match &line.amount {
            Amount::Mass { number, unit } => {
                let spread = if number.high > number.low {
                    Spread::Even(number.low, number.high)
                } else {
                    Spread::Normal(WEIGHING_SPREAD * number.middle())
                };
                Ok(Size::Mass { number: self.number(candidates, number.middle(), spread), unit: self.unit(unit, 1.0)? })
            }
            Amount::Volume { number, unit, fill } => {
                // "8 oz of milk" may be a weight: as a measure of volume that ounce is as large as its grams of this liquid.
                let first = candidates.first().and_then(|candidate| self.jars.material(&candidate.material));
                let first_density = first.and_then(|m| m.property("bulk_density").or(m.property("density"))).map_or(1.0, |p| p.value);
                let powder = candidates.first().is_some_and(|c| c.composition.is_filler());
                let spread = match (number.high > number.low, powder) {
                    (true, _) => Spread::Even(number.low, number.high),
                    (false, true) => Spread::Exact, // how the cup is filled is the doubt, and the loose density carries it
                    (false, false) => Spread::Normal(WEIGHING_SPREAD * number.middle()),
                };
                Ok(Size::Volume {
                    number: self.number(candidates, number.middle(), spread),
                    unit: self.unit(unit, first_density)?,
                    fill: self.fill(candidates, *fill),
                })
            }
            Amount::Parts { .. } if self.measured => Err(Unsplit(
                "parts stand beside weighed or measured amounts, so how big one part is can't be told; give one of the parts an amount"
                    .into(),
            )),
            Amount::Parts { number, basis } => {
                self.parts = true;
                let slot = self.number(candidates, number.middle(), even_or_exact(number.low, number.high));
                match basis.candidates.as_slice() {
                    [(PartBasis::Volume, _)] => {
                        self.by_volume = true;
                        let unit =
                            self.known.exact("part.volume".into(), "one part".into(), PART, "ml", "a scale of our own: it drops out");
                        Ok(Size::Volume { number: slot, unit, fill: None })
                    }
                    [(PartBasis::Weight, _)] => {
                        self.by_weight = true;
                        let unit = self.known.exact("part.weight".into(), "one part".into(), PART, "g", "a scale of our own: it drops out");
                        Ok(Size::Mass { number: slot, unit })
                    }
                    both => Ok(Size::PartEither { number: slot, basis: self.basis(both, basis.question.as_ref().map(|q| q.0.clone())) }),
                }
            }
            Amount::VolumePerLiquid { number } => {
                Ok(Size::PerLiquid { number: self.number(candidates, number.middle(), even_or_exact(number.low, number.high)) })
            }
            Amount::PercentOfWhole { number } => {
                Ok(Size::Percent { number: self.number(candidates, number.middle(), even_or_exact(number.low, number.high)) })
            }
            Amount::Pieces { number } => {
                if candidates.iter().all(|c| c.composition.has_pieces()) {
                    Ok(Size::Pieces { number: self.number(candidates, number.middle(), even_or_exact(number.low, number.high)) })
                } else {
                    Err(Unsplit("it is counted in pieces of unknown size; weigh it".into()))
                }
            }
            Amount::NotGiven(why) => Err(Unsplit(
                match why {
                    NotGiven::Missing => "no amount is given",
                    NotGiven::ByEye => "the amount is told by eye, so it can't be computed; weigh what went in",
                    NotGiven::SizeUnknown => "the measure has no known size; fill it once with water and weigh that",
                    NotGiven::Absurd => "the number can't be an amount",
                }
                .into(),
            )),
        }
    }

    /// Two recipes side by side share draws by key: the same stuff with the same number is the same weighing, any other is not. The
    /// key does not know the place of the line, so the order of a recipe does not matter.
    fn number(&mut self, candidates: &[Candidate], best: f64, spread: Spread) -> Slot {
        let (key, name) = self.one_of_its_kind("amount", candidates, best);
        self.known.slot(Input {
            key,
            plain: format!("the amount of {name}"),
            best,
            source: if matches!(spread, Spread::Normal(_)) {
                "as told; measured within 2 %: model choice".into()
            } else {
                "as told".into()
            },
            spread,
            unit: "1",
        })
    }

    /// `amount.hide-glue.15`, with a count behind it when the same stuff comes again with the same number; and the material's name.
    fn one_of_its_kind(&mut self, kind: &str, candidates: &[Candidate], best: f64) -> (InputKey, String) {
        let id = candidates.first().map(|candidate| candidate.material.clone());
        let name = id.as_ref().and_then(|id| self.jars.material(id)).map_or_else(String::new, |material| material.name.clone());
        let key = format!("{kind}.{}.{best}", id.as_ref().map_or("", materials::MaterialId::as_str));
        let times = self.seen.entry(key.clone()).or_insert(0);
        *times += 1;
        (InputKey::new(if *times == 1 { key } else { format!("{key}.{times}") }), name)
    }

    /// The size of a unit, ml or g; `density` turns a weight among measures of volume into its volume.
    fn unit(&mut self, unit: &Pick<UnitId>, density: f64) -> Result<Slot, Unsplit> {
        let mut sized: Vec<(UnitId, f64, f64)> = Vec::new();
        for (id, weight) in &unit.candidates {
            let one = self.units.get(*id);
            if let Some(value) = one.value {
                let weighed = one.dimension == measure::Dimension::Mass;
                sized.push((*id, if weighed { value / density } else { value }, *weight));
            }
        }
        let Some((id, best, _)) = sized.first().copied() else {
            return Err(Unsplit("the measure has no known size; fill it once with water and weigh that".into()));
        };
        let one = self.units.get(id);
        let (key, spread) = if sized.len() > 1 {
            let key = unit.question.as_ref().map_or_else(|| format!("unit.{}", one.id), |question| question.0.clone());
            (key, Spread::Choice(sized.iter().map(|(_, value, weight)| (*value, *weight)).collect()))
        } else {
            let spread = match one.range {
                Some((low, high)) if low > 0.0 => Spread::LogNormal90(low, high),
                _ => Spread::Exact,
            };
            (format!("unit.{}", one.id), spread)
        };
        let unit = if one.dimension == measure::Dimension::Mass { "g" } else { "ml" };
        Ok(self.known.slot(Input {
            key: InputKey::new(key),
            plain: "how big the measure is".into(),
            best,
            spread,
            unit,
            source: one.source.clone(),
        }))
    }

    /// A heaped or pressed measure beside a level one (common practice, no source; ranges by judgement).
    fn fill(&mut self, candidates: &[Candidate], fill: Fill) -> Option<Slot> {
        let (best, low, high) = match fill {
            Fill::Level | Fill::Unsaid => return None,
            Fill::Heaped => (1.3, 1.15, 1.6),
            Fill::Packed => (1.25, 1.1, 1.5),
        };
        let (key, name) = self.one_of_its_kind("fill", candidates, best);
        Some(self.known.slot(Input {
            key,
            plain: format!("how full the measure of {name} was"),
            best,
            spread: Spread::Even(low, high),
            unit: "1",
            source: "common practice, no source".into(),
        }))
    }

    fn basis(&mut self, both: &[(PartBasis, f64)], question: Option<String>) -> Slot {
        let value = |basis: PartBasis| if basis == PartBasis::Volume { 0.0 } else { 1.0 };
        self.known.slot(Input {
            key: InputKey::new(question.unwrap_or_else(|| "parts:basis".into())),
            plain: "whether parts are by volume or by weight".into(),
            best: both.first().map_or(0.0, |(basis, _)| value(*basis)),
            spread: Spread::Choice(both.iter().map(|(basis, weight)| (value(*basis), *weight)).collect()),
            unit: "1",
            source: "judgement, no source".into(),
        })
    }
}
