//! The pot for a wish: each way to bind it is solved, and the one that changes least is taken.

use ground::{Brings, FilmRanges, LEAN_ABOVE, RICH_BELOW, Stuff, USUAL_MIDDLE, Wanted, largest_pot, nearest_pot, to_steps};
use materials::{Family, MaterialId};
use measure::{Grams, Vessel, VesselSet};
use show::{WishLine, number, plain, weighed};

use super::at_hand::{loose, spooned};
use super::roads::{Part, Road};
use super::{Ask, USUAL_POT, is_usual, wrong};
use crate::Workbench;
use crate::milk::MilkFormError;
use crate::verdict::Standing;

/// How crowded with grains printed grounds are that brush well: 0.363 (10 % size strewn to an equal volume of chalk) to 0.463 (14 g glue,
/// 200 ml water, 250 g chalk), by hand from their recipes; the middle is taken where nothing else is told (model choice).
const CROWDED: f64 = 0.41;
/// Thinner than this nobody would call a ground; reached only where curd or size brings more water than that (model choice).
const THIN: f64 = 0.25;
/// Glue above a tenth of glue and water risks cracks (Gilding Studio, About Traditional Gesso, 2016).
const STRONGEST_GLUE: f64 = 0.10;
/// Casein above an eighth of casein and water no longer brushes (caseinate solutions of 2.5-12.5 % are smooth: Gawalek and Wesolowski).
const STRONGEST_CASEIN: f64 = 0.125;

/// A pot in grams.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Pot {
    pub(super) parts: Vec<Part>,
    /// Grams on a step of the scale, in the same order.
    rounded: Vec<f64>,
    /// Grams in the pot before, at the same size.
    before: Vec<Option<f64>>,
    /// Grams of a millilitre as it is spooned, and whether anybody would.
    loose: Vec<f64>,
}

/// What came of a wish.
pub(crate) struct Outcome {
    pub(super) pot: Pot,
    pub(super) why_not: Vec<String>,
    pub(super) changed: Vec<String>,
}

/// A way of binding it with its powders, ready to be solved.
struct Way {
    road: Road,
    powders: Vec<(Part, bool)>,
    water: Part,
    said: Vec<String>,
    against: Vec<String>,
}

/// Amounts found, and what had to be given up for them.
struct Solved {
    grams: Vec<f64>,
    gave_up: Vec<String>,
    place: Option<f64>,
}

impl Workbench {
    pub(super) fn best_pot(&self, ask: &Ask<'_>) -> Result<Outcome, MilkFormError> {
        let (roads, mut against) = self.roads(ask);
        let mut best: Option<(usize, Pot, Way, Solved)> = None;
        for road in roads {
            let (powders, said, stood) = self.powders(ask, &road);
            against.extend(stood.iter().cloned());
            let Some(water) = self.part("water", 0.0, None, &[]) else { continue };
            if powders.is_empty() {
                continue;
            }
            let way = Way { road, powders, water, said, against: stood };
            let Some((pot, solved)) = self.solved(ask, &way)? else { continue };
            // A way that keeps the whole wish ends the search: the ways come in the order of what they change.
            let given = solved.gave_up.len() + way.against.len().min(1) * usize::from(ask.with.is_some() && way.powders.is_empty());
            if best.as_ref().is_none_or(|(least, ..)| given < *least) {
                best = Some((given, pot, way, solved));
            }
            if given == 0 {
                break;
            }
        }
        against.sort();
        against.dedup();
        let Some((_, pot, way, solved)) = best else {
            let why =
                if against.is_empty() { "there is no powder and no binder in what is at hand".to_owned() } else { against.join("; ") };
            return Err(wrong("shelf", format!("that can't be reached with what is here: {why}")));
        };
        let mut changed = way.said.clone();
        changed.extend(way.road.said.iter().cloned());
        changed.extend(super::words::moved(ask, &pot, way.road.own));
        if let Some(place) = solved.place.filter(|_| ask.usual) {
            changed.extend(super::words::placed(ask, place));
        }
        Ok(Outcome { pot, why_not: solved.gave_up, changed })
    }

    /// The pot of one way, and what had to be given up.
    fn solved(&self, ask: &Ask<'_>, way: &Way) -> Result<Option<(Pot, Solved)>, MilkFormError> {
        let mut total = ask.form.make_g.or(ask.start.as_ref().map(|start| start.total).filter(|total| *total >= 1.0)).unwrap_or(USUAL_POT);
        let mut place = ask.start.as_ref().and_then(|start| start.place).filter(|_| !ask.usual && !ask.form.half_binder);
        if ask.usual && !ask.form.half_binder {
            let Some(found) = self.usual_place(ask, way, total)? else { return Ok(None) };
            place = Some(found);
        }
        let Some((mut solved, place)) = self.as_near(ask, way, total, place) else { return Ok(None) };
        if let (Some(area), Some(dry)) = (ask.form.area_m2, ask.form.dry_um) {
            // The pot for an area follows from the film, whose shares do not change with its size.
            let pot = self.poured_pot(ask, way, &solved.grams);
            let worked = self.judged(&pot.text(0.001), ask)?;
            if let Ok(ranges) = &worked.ranges {
                let wet = ranges.best.wet(measure::Micrometres::new(dry));
                total = (ranges.best.laid(wet) * measure::SquareMetres::new(area) * (1.0 + self.laying.loss.value())).value().max(1.0);
                let Some(mut again) = self.wished_amounts(ask, way, total, place) else { return Ok(None) };
                again.gave_up.append(&mut solved.gave_up);
                solved = again;
            }
        }
        let pot = self.poured_pot(ask, way, &solved.grams);
        Ok(Some((pot, solved)))
    }

    /// The place nearest to the one before that stays *usual* over the spread of how it is measured: the card itself is asked.
    fn usual_place(&self, ask: &Ask<'_>, way: &Way, total: f64) -> Result<Option<f64>, MilkFormError> {
        let before = ask.start.as_ref().and_then(|start| start.place).unwrap_or(USUAL_MIDDLE).clamp(RICH_BELOW, LEAN_ABOVE);
        let stays = |place: f64| -> Result<Option<bool>, MilkFormError> {
            let Some(solved) = self.wished_amounts(ask, way, total, Some(place)) else { return Ok(None) };
            let pot = self.poured_pot(ask, way, &solved.grams);
            for text in std::iter::once(pot.text(ask.step)).chain(ask.spoons.as_ref().map(|set| pot.text_in_spoons(set, ask.step))) {
                if !matches!(&self.judged(&text, ask)?.standing, Standing::Word(words) if is_usual(words)) {
                    return Ok(Some(false));
                }
            }
            Ok(Some(true))
        };
        match stays(before)? {
            None => return Ok(None),
            Some(true) => return Ok(Some(before)),
            Some(false) => {}
        }
        if (before - USUAL_MIDDLE).abs() < 1e-9 || stays(USUAL_MIDDLE)? != Some(true) {
            return Ok(Some(USUAL_MIDDLE));
        }
        // Between the two: halved until the step is a hundredth of the rule, the end that stays usual is kept.
        let (mut good, mut bad) = (USUAL_MIDDLE, before);
        while (good - bad).abs() > 0.01 {
            let middle = f64::midpoint(good, bad);
            if stays(middle)? == Some(true) { good = middle } else { bad = middle }
        }
        Ok(Some(good))
    }

    /// Amounts for this place, or for the nearest to it that these powders reach, which is then said; with the place that it came to.
    fn as_near(&self, ask: &Ask<'_>, way: &Way, total: f64, place: Option<f64>) -> Option<(Solved, Option<f64>)> {
        if let Some(solved) = self.wished_amounts(ask, way, total, place) {
            return Some((solved, place));
        }
        // Leaner than this powder is without any binder, or too rich to brush: between there and the middle of usual lies the last place
        // that can be made.
        let wanted = place?;
        let (mut made, mut not) = (USUAL_MIDDLE, wanted);
        let mut found = self.wished_amounts(ask, way, total, Some(made))?;
        while (made - not).abs() > 0.005 {
            let middle = f64::midpoint(made, not);
            match self.wished_amounts(ask, way, total, Some(middle)) {
                Some(solved) => (made, found) = (middle, solved),
                None => not = middle,
            }
        }
        let names: Vec<&str> = way.powders.iter().map(|(part, _)| part.label.as_str()).collect();
        let why = if made < wanted { "it would take less than no binder" } else { "the pot would be too strong to brush" };
        found.gave_up.push(format!(
            "with {} the place {} on the rule can't be reached, since {why}; {} is as near as it goes",
            crate::and(&names),
            number(wanted, 2),
            number(made, 2)
        ));
        Some((found, Some(made)))
    }

    /// Amounts for this place, giving up as little as there is need to.
    fn wished_amounts(&self, ask: &Ask<'_>, way: &Way, total: f64, place: Option<f64>) -> Option<Solved> {
        let stuffs = self.stuffs(ask, way, total);
        let start = ask.start.as_ref();
        let same_kind = start.is_some_and(|start| start.kind == way.road.kind);
        let cap = if way.road.family == Family::Glue { STRONGEST_GLUE } else { STRONGEST_CASEIN };
        let strongest =
            start.and_then(|start| start.strength).filter(|_| same_kind && place.is_some()).map_or(cap, |own| own.max(cap) + 1e-4);
        let crowded = start.and_then(|start| start.crowding).unwrap_or(CROWDED);
        let half = start.and_then(|start| start.dry_to_powder).filter(|_| ask.form.half_binder).map(|ratio| ratio / 2.0);
        let wanted = Wanted { total, place: place.map(|at| (at, at)), crowding: (crowded, crowded), strongest, dry_to_powder: half };
        // The pot as crowded as before; else thinner, since water that curd or size brings can't be taken out, or since the binder would
        // be too strong to brush.
        let thinner = Wanted { crowding: (THIN.min(crowded), crowded), ..wanted };
        let thinnest = Wanted { crowding: (0.05, crowded), ..wanted };
        let unbounded: Vec<Stuff> = stuffs.iter().map(|stuff| Stuff { at_hand: None, ..*stuff }).collect();
        let wanted = [wanted, thinner, thinnest].into_iter().find(|wanted| nearest_pot(&unbounded, wanted).is_some())?;
        if let Some(grams) = nearest_pot(&stuffs, &wanted) {
            return Some(Solved { grams, gave_up: Vec::new(), place });
        }
        // What is at hand is too little: the largest pot that it gives, not a thinner one.
        let grams = largest_pot(&stuffs, &wanted)?;
        let made: f64 = grams.iter().sum();
        let short = Self::used_up(ask, way, &grams);
        let why = format!("{} at hand is enough for {} of the {} wanted", crate::and(&short), weighed(made), weighed(total));
        Some(Solved { grams, gave_up: vec![why], place })
    }

    /// Names of what is used to the last gram.
    fn used_up<'w>(ask: &Ask<'_>, way: &'w Way, grams: &[f64]) -> Vec<&'w str> {
        let powders = way.powders.iter().zip(grams).map(|((part, _), grams)| (part, *grams));
        let group = grams.get(way.powders.len()).copied().unwrap_or(0.0);
        let binders = way.road.parts.iter().map(|part| (part, part.grams * group));
        powders
            .chain(binders)
            .filter(|(part, grams)| ask.stock(part.id.as_str()).is_some_and(|stock| *grams > stock * 0.999))
            .map(|(part, _)| part.label.as_str())
            .collect()
    }

    /// Powders, the binder with all that belongs to it, and water, as the solver takes them.
    fn stuffs(&self, ask: &Ask<'_>, way: &Way, total: f64) -> Vec<Stuff> {
        let scale = ask.start.as_ref().map_or(0.0, |start| if start.total > 0.0 { total / start.total } else { 0.0 });
        let mut out: Vec<Stuff> = way
            .powders
            .iter()
            .map(|(part, told)| Stuff {
                brings: part.brings,
                before: if *told { part.grams * scale } else { 0.0 },
                at_hand: ask.stock(part.id.as_str()),
                // One that is not in the recipe comes in only where it must; the plainest first.
                weight: if *told { 1.0 } else { 4.0 },
                guessed: self.jars.material(&part.id).is_some_and(FilmRanges::thirst_is_unknown),
            })
            .collect();
        let group = way.road.parts.iter().fold(Brings::default(), |sum, part| sum.plus(part.brings, part.grams));
        let at_hand = way
            .road
            .parts
            .iter()
            .filter_map(|part| ask.stock(part.id.as_str()).map(|stock| stock / part.grams.max(1e-9)))
            .min_by(f64::total_cmp);
        let before = ask
            .start
            .as_ref()
            .filter(|_| way.road.own)
            .map_or(0.0, |start| start.binders.iter().map(|part| part.grams).sum::<f64>() * scale);
        out.push(Stuff { brings: group, before, at_hand, weight: 1.0, guessed: false });
        out.push(Stuff {
            brings: way.water.brings,
            before: ask.start.as_ref().map_or(0.0, |start| start.water * scale),
            at_hand: None,
            weight: 0.5,
            guessed: false,
        });
        out
    }

    /// The amounts as a pot, stuff by stuff.
    fn poured_pot(&self, ask: &Ask<'_>, way: &Way, grams: &[f64]) -> Pot {
        let made: f64 = grams.iter().sum();
        let scale = ask.start.as_ref().map_or(0.0, |start| if start.total > 0.0 { made / start.total } else { 0.0 });
        let before_of = |id: &MaterialId, label: &str| {
            let start = ask.start.as_ref()?;
            start.powders.iter().chain(&start.binders).find(|part| part.id == *id && part.label == label).map(|part| part.grams * scale)
        };
        let group = grams.get(way.powders.len()).copied().unwrap_or(0.0);
        let water = grams.get(way.powders.len() + 1).copied().unwrap_or(0.0);
        let mut parts: Vec<Part> = way.powders.iter().zip(grams).map(|((part, _), grams)| Part { grams: *grams, ..part.clone() }).collect();
        parts.extend(way.road.parts.iter().map(|part| Part { grams: part.grams * group, ..part.clone() }));
        parts.push(Part { grams: water, ..way.water.clone() });
        parts.retain(|part| part.grams > 1e-6);
        let amounts: Vec<(f64, Brings)> = parts.iter().map(|part| (part.grams, part.brings)).collect();
        let rounded = to_steps(&amounts, ask.step);
        let before = parts
            .iter()
            .map(|part| {
                if part.id.as_str() == "water" {
                    ask.start.as_ref().map(|start| start.water * scale)
                } else {
                    before_of(&part.id, &part.label)
                }
            })
            .collect();
        let loose =
            parts.iter().map(|part| if part.label.contains('%') { 1.0 } else { self.jars.material(&part.id).map_or(1.0, loose) }).collect();
        Pot { parts, rounded, before, loose }
    }
}

impl Pot {
    pub(super) fn brings_exact(&self) -> Brings {
        self.parts.iter().fold(Brings::default(), |sum, part| sum.plus(part.brings, part.grams))
    }

    fn rows(&self) -> impl Iterator<Item = (&Part, f64, Option<f64>, f64)> {
        let more = self.rounded.iter().zip(&self.before).zip(&self.loose);
        self.parts.iter().zip(more).map(|(part, ((rounded, before), loose))| (part, *rounded, *before, *loose))
    }

    /// Recipe text in grams, one a line.
    pub(super) fn text(&self, step: f64) -> String {
        let lines: Vec<String> =
            self.rows().map(|(part, rounded, _, _)| format!("{} g {}", grams_written(rounded, step), part.label)).collect();
        lines.join("\n")
    }

    /// Recipe text in level cups and spoons; what no spoon is fine enough for stays in grams.
    pub(super) fn text_in_spoons(&self, set: &VesselSet, step: f64) -> String {
        let mut lines = Vec::new();
        for (part, rounded, _, loose) in self.rows() {
            let told = measured(rounded, loose, set);
            let words = told.as_ref().map(|told| spoon_lines(told, set, &part.label)).unwrap_or_default();
            if words.is_empty() {
                lines.push(format!("{} g {}", grams_written(rounded, step), part.label));
            }
            lines.extend(words);
        }
        lines.join("\n")
    }

    pub(super) fn lines(&self, ask: &Ask<'_>) -> Vec<WishLine> {
        self.rows()
            .map(|(part, rounded, before, loose)| WishLine {
                material: part.id.as_str().to_owned(),
                name: part.label.clone(),
                before_g: before,
                mass_g: rounded,
                in_spoons: ask
                    .spoons
                    .as_ref()
                    .and_then(|set| measured(rounded, loose, set))
                    .map_or_else(String::new, |told| show::measures(&told)),
                weigh: format!("{}\u{a0}g", grams_written(rounded, ask.step)),
                before: before.map_or_else(String::new, weighed),
            })
            .collect()
    }

    /// What is too little for the step of the scale.
    pub(super) fn fine(&self, step: f64) -> impl Iterator<Item = String> {
        self.rows().filter(move |(_, rounded, ..)| *rounded < 3.0 * step).map(move |(part, rounded, ..)| {
            format!(
                "{}\u{a0}g of {} is little for a scale in steps of {}\u{a0}g: weigh ten times as much, part it by eye into ten, or make a larger pot.",
                grams_written(rounded, step),
                part.label,
                plain(step)
            )
        })
    }
}

/// Counted level vessels; none where no spoon is small enough or the cups are too many.
fn measured(grams: f64, loose: f64, set: &VesselSet) -> Option<measure::Measures> {
    spooned(Grams::new(grams), loose, set).ok().filter(|told| !told.fills.is_empty())
}

/// Grams on a step of a scale, with the digits that the step has.
pub(crate) fn grams_written(grams: f64, step: f64) -> String {
    if grams < step / 2.0 {
        return plain(grams);
    }
    let places = if step >= 0.999 {
        0
    } else if step >= 0.0999 {
        1
    } else if step >= 0.00999 {
        2
    } else {
        3
    };
    let whole = (grams - grams.round()).abs() < 1e-9;
    number(grams, if whole { 0 } else { places })
}

/// Lines that are read back as these level vessels: cups together, then spoons. A set of one's own is told in millilitres.
fn spoon_lines(told: &measure::Measures, set: &VesselSet, label: &str) -> Vec<String> {
    let volume = |vessels: &[Vessel]| -> f64 {
        told.fills
            .iter()
            .filter(|(vessel, _)| vessels.contains(vessel))
            .map(|(vessel, count)| set.holds(*vessel).value() * f64::from(*count))
            .sum()
    };
    let cups = volume(&[Vessel::Cup, Vessel::HalfCup, Vessel::ThirdCup, Vessel::QuarterCup]);
    let tables = volume(&[Vessel::Tablespoon]);
    let teas = volume(&[Vessel::Teaspoon, Vessel::HalfTeaspoon, Vessel::QuarterTeaspoon]);
    let named = if *set == VesselSet::US {
        Some("us")
    } else if *set == VesselSet::METRIC {
        Some("metric")
    } else {
        None
    };
    let Some(named) = named else { return vec![format!("{} level ml {label}", number(cups + tables + teas, 1))] };
    [(cups, Vessel::Cup, "cup"), (tables, Vessel::Tablespoon, "tablespoon"), (teas, Vessel::Teaspoon, "teaspoon")]
        .into_iter()
        .filter(|(volume, ..)| *volume > 0.0)
        .map(|(volume, vessel, name)| {
            let count = volume / set.holds(vessel).value();
            format!("{} level {named} {name}{} {label}", plain_count(count), if count > 1.001 { "s" } else { "" })
        })
        .collect()
}

/// A count of vessels as cups are marked: halves, thirds and quarters; else with three places.
fn plain_count(count: f64) -> String {
    for (parts, name) in [(1.0, 1), (2.0, 2), (3.0, 3), (4.0, 4)] {
        let counted = count * parts;
        if (counted - counted.round()).abs() < 1e-6 {
            let (whole, rest) = (count.floor(), (count - count.floor()) * parts);
            return match (whole > 0.0, rest > 0.5) {
                (_, false) => number(count, 0),
                (true, true) => format!("{} {}/{name}", number(whole, 0), number(rest, 0)),
                (false, true) => format!("{}/{name}", number(rest, 0)),
            };
        }
    }
    number(count, 3)
}
