//! Now the real panels: a recipe that did well on boards becomes amounts, batches, a shopping list and a cut list.

mod panels;
mod sheets;
mod words;

use making::Span;
use materials::Kind;
use measure::{Grams, GramsPerSquareMetre, Input, Micrometres, SquareMetres, VesselSet};
use notebook::{Day, Notebook};
use show::{EnlargeBatch, EnlargeLine, EnlargePanel, EnlargeReport, EnlargeView, WarningReport};

use crate::milk::MilkFormError;
use crate::shopping::{PotNeed, Sharing};
use crate::verdict::{VerdictRequest, Worked};
use crate::wish::{grams_written, loose, spooned, spoons};
use crate::{VERSION, Workbench};
use panels::PanelKind;

/// What a person fills in.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct EnlargeForm {
    /// The recipe as told.
    pub told: String,
    /// Panels, such as `5 x 60x80cm; 2 x 30x40cm`.
    pub panels: String,
    /// How thick the edges are that are coated too, such as `2cm`; empty for none.
    pub edges: String,
    /// Whether the backs are coated too.
    pub backs: bool,
    /// Coats; what the recipe says, or four.
    pub coats: Option<u32>,
    /// Wet mass of one coat on a square metre.
    pub wet_g_m2: Option<f64>,
    /// Or how thick all coats are to be together when dry, um.
    pub dry_um: Option<f64>,
    /// What stays in brush and pot, per cent of what is laid.
    pub loss_percent: Option<f64>,
    /// The largest batch that the pot or the stove takes, g.
    pub biggest_g: Option<f64>,
    /// A batch for each panel.
    pub one_each: bool,
    /// `us`, `metric`, or what the own cup, tablespoon and teaspoon hold in ml; US where nothing is said.
    pub spoons: String,
    /// Step of the scale, g.
    pub scale_g: Option<f64>,
    /// The sheet that panels are cut from, such as `122x244cm`; empty for no cut list.
    pub sheet: String,
    /// What the saw eats, mm.
    pub kerf_mm: Option<f64>,
    /// Values that the painter measured, in place of printed ones.
    pub own: Vec<Input>,
}

/// Coats where neither form nor recipe says a number (model choice).
const USUAL_COATS: u32 = 4;
/// What a saw eats where nothing is said, mm (common practice, no source).
const USUAL_KERF: f64 = 3.0;
/// Batches that a list holds.
const MOST_BATCHES: f64 = 100.0;

fn wrong(field: &'static str, what: impl Into<String>) -> MilkFormError {
    MilkFormError::Field { field, what: what.into() }
}

/// What is laid where.
pub(super) struct Work {
    pub(super) kinds: Vec<PanelKind>,
    pub(super) coats: u32,
    pub(super) coat: GramsPerSquareMetre,
    pub(super) loss: f64,
    /// Grams in all, loss included.
    pub(super) total: f64,
    /// All that is coated, one coat.
    pub(super) area: f64,
    pub(super) dry: Option<f64>,
    pub(super) minutes: Option<i32>,
    pub(super) life: Option<Span>,
}

impl Work {
    fn panels(&self) -> u32 {
        self.kinds.iter().map(|kind| kind.count).sum()
    }

    fn for_one(&self, kind: &PanelKind) -> f64 {
        wet_for(kind.coated, self.coats, self.coat, self.loss)
    }
}

/// Grams for all coats on so many square metres, loss included.
fn wet_for(area: f64, coats: u32, coat: GramsPerSquareMetre, loss: f64) -> f64 {
    (coat * SquareMetres::new(area)).value() * f64::from(coats) * (1.0 + loss)
}

impl Workbench {
    /// A recipe for real panels: batches within the life of a pot, every stuff per batch and in all, what to buy against the shelf, what a
    /// panel costs, and how the panels come out of sheets.
    ///
    /// # Errors
    /// A field that does not read, or a recipe that can't be scaled; the message names it and the mend.
    ///
    /// ```
    /// use workbench::{EnlargeForm, Notebook, Workbench};
    /// let form = EnlargeForm { told: "250 g chalk, 14 g hide glue, 200 g water".into(), panels: "5 x 60x80cm".into(), ..EnlargeForm::default() };
    /// let view = Workbench::open()?.enlarge(&Notebook::default(), &form, workbench::Day::read("2026-11-28").unwrap())?;
    /// // 5 x 0.48 m2 x 4 coats x 200 g/m2 and a fifth of loss: 2304 g.
    /// assert!((view.report.total_g - 2304.0).abs() < 1e-6);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn enlarge(&self, state: &Notebook, form: &EnlargeForm, today: Day) -> Result<EnlargeView, MilkFormError> {
        if form.told.trim().is_empty() {
            return Err(wrong("told", "say the recipe first, such as “250 g chalk, 14 g hide glue, 200 ml water”"));
        }
        let request = VerdictRequest { told: form.told.clone(), coats: form.coats, own: form.own.clone(), ..VerdictRequest::default() };
        let worked = self.work(&request).map_err(|why| wrong("told", why.to_string()))?;
        let work = self.work_on(state, form, &request, &worked)?;
        let step = form.scale_g.unwrap_or(1.0);
        if !(0.01..=100.0).contains(&step) {
            return Err(wrong("scale", "a scale has a step between 0.01 and 100 g"));
        }
        let set = spoons(&form.spoons)?.unwrap_or(VesselSet::US);
        let primer = self.ready_made(&worked).is_some();
        if !primer && self.pot_times(&worked, Grams::new(work.total)).is_none() {
            return Err(wrong(
                "told",
                "it can't be made larger while water or another amount is told by eye; say each in grams, cups or spoons",
            ));
        }
        let batches = self.batches(form, &work, &worked, (step, &set))?;
        let all = self.stuffs_of(&worked, work.total, step, &set);
        let cut = sheets::cut(form, &work, &self.units)?;
        let need = PotNeed { name: "the batches".into(), worked: Some(&worked), wet: Some(Grams::new(work.total)), told: &form.told };
        let faces: f64 = work.kinds.iter().map(|kind| kind.face * f64::from(kind.count)).sum();
        let sharing = Sharing { boards: usize::try_from(work.panels()).unwrap_or(usize::MAX), face: Some(SquareMetres::new(faces)) };
        let shopping = self.shopping(state, &[need], sharing, today);
        let card = self.card(&request, &worked);
        let mut cost: Vec<String> =
            [shopping.per_board.replace("a board", "a panel")].into_iter().filter(|said| !said.is_empty()).collect();
        cost.push(self.beside_bought(state, &work, today));
        let warnings: Vec<WarningReport> = words::warnings(form, &work, &batches, &all, step);
        let report = EnlargeReport {
            is: "groundproof enlarge 1",
            version: VERSION,
            panels: work
                .kinds
                .iter()
                .map(|kind| EnlargePanel {
                    count: kind.count,
                    sides_mm: [kind.sides.0, kind.sides.1],
                    coated_m2: kind.coated,
                    wet_g: work.for_one(kind),
                })
                .collect(),
            coats: work.coats,
            wet_g_m2: work.coat.value(),
            dry_um: work.dry,
            loss: work.loss,
            area_m2: work.area,
            total_g: work.total,
            minutes: work.minutes,
            life_minutes: work.life.map(|life| life.low.count()),
            batches,
            all,
            shopping: shopping.lines,
            sums: shopping.sums,
            cost,
            sheets_least: cut.as_ref().map(|(_, least)| *least),
            sheets: cut.map(|(sheets, _)| sheets).unwrap_or_default(),
            film: card.report.clone(),
            warnings,
        };
        Ok(EnlargeView {
            sentence: words::sentence(&report),
            verdict: card.sentence.clone(),
            more: words::counted(&work, &report),
            drying: words::drying(&work, self.laying.coat),
            buy: shopping.say,
            notes: shopping.notes,
            mind: shopping.mind,
            report,
        })
    }

    fn work_on(&self, state: &Notebook, form: &EnlargeForm, request: &VerdictRequest, worked: &Worked) -> Result<Work, MilkFormError> {
        let kinds = panels::read(&form.panels, &form.edges, form.backs, &self.units)?;
        let coats = form.coats.unwrap_or(if worked.coats > 1 { worked.coats } else { USUAL_COATS });
        let film = worked.ranges.as_ref().ok().filter(|_| worked.water_known).map(|ranges| ranges.best);
        let coat = match (form.wet_g_m2, form.dry_um) {
            (Some(_), Some(_)) => return Err(wrong("dry", "say the wet mass of a coat or how thick all are when dry, not both")),
            (Some(wet), None) if (5.0..=5000.0).contains(&wet) => GramsPerSquareMetre::new(wet),
            (Some(_), None) => return Err(wrong("wet", "a wet coat weighs between 5 and 5000 g/m2; a brushed one is about 200")),
            (None, Some(dry)) if (5.0..=5000.0).contains(&dry) => {
                let film = film.ok_or_else(|| {
                    wrong("dry", "how thick it dries can't be told from this recipe; say the wet mass of a coat instead, in g/m2")
                })?;
                film.laid(film.wet(Micrometres::new(dry / f64::from(coats))))
            }
            (None, Some(_)) => return Err(wrong("dry", "a dry ground is 5 to 5000 um thick")),
            (None, None) => film.filter(|_| worked.coat.told).map_or(self.laying.coat, |film| film.laid(worked.coat.wet)),
        };
        let loss = form.loss_percent.map_or(self.laying.loss.value(), |percent| percent / 100.0);
        if !(0.0..=5.0).contains(&loss) {
            return Err(wrong("loss", "what is lost lies between 0 and 500 per cent of what is laid; a fifth is usual"));
        }
        let area: f64 = kinds.iter().map(|kind| kind.coated * f64::from(kind.count)).sum();
        let total = wet_for(area, coats, coat, loss);
        if !(total.is_finite() && (0.01..=1e6).contains(&total)) {
            return Err(wrong("panels", "that comes to less than a hundredth of a gram or to more than a ton; look at the sizes"));
        }
        // From the first coat to the last: each round lasts as long as hands take for all panels, or as the first panel waits.
        let round: i32 = kinds
            .iter()
            .map(|kind| {
                crate::studio::laying_time(SquareMetres::new(kind.coated))
                    .count()
                    .saturating_mul(i32::try_from(kind.count).unwrap_or(i32::MAX))
            })
            .fold(0, i32::saturating_add);
        let wait = kinds.first().and_then(|kind| self.next_coat_after(state, request, kind.sides));
        let rounds = i32::try_from(coats).unwrap_or(1);
        let minutes = wait.or((rounds == 1).then(Span::default)).map(|wait| {
            let first = kinds.first().map_or(0, |kind| crate::studio::laying_time(SquareMetres::new(kind.coated)).count());
            round.max(first.saturating_add(wait.usual.count())).saturating_mul(rounds - 1).saturating_add(round)
        });
        let life = self.life_of(&form.told).map(|(_, life)| life);
        Ok(Work {
            dry: film.map(|film| film.dry_of(coat).value() * f64::from(coats)),
            kinds,
            coats,
            coat,
            loss,
            total,
            area,
            minutes,
            life,
        })
    }

    /// As many batches as the pot and its life ask for, alike in size; or one for each panel.
    fn batches(
        &self,
        form: &EnlargeForm,
        work: &Work,
        worked: &Worked,
        (step, set): (f64, &VesselSet),
    ) -> Result<Vec<EnlargeBatch>, MilkFormError> {
        let biggest = form.biggest_g.unwrap_or(f64::INFINITY);
        if biggest.is_nan() || biggest < 1.0 {
            return Err(wrong("biggest", "the largest batch is at least 1 g"));
        }
        // As many as the pot holds of it, and as many as one pot lives through.
        let by_time = |share: f64| match (work.minutes, work.life.map(|life| life.low.count())) {
            (Some(minutes), Some(life)) if life > 0 => (f64::from(minutes) * share / f64::from(life)).ceil().max(1.0),
            _ => 1.0,
        };
        let mut sizes: Vec<(String, f64)> = Vec::new();
        if form.one_each {
            let mut number = 0_u32;
            for kind in &work.kinds {
                for _ in 0..kind.count {
                    number += 1;
                    let parts = (work.for_one(kind) / biggest).ceil().max(1.0).max(if work.panels() == 1 { by_time(1.0) } else { 1.0 });
                    for part in words::numbered(parts) {
                        let serves = if parts > 1.0 { format!("panel {number}, part {part}") } else { format!("panel {number}") };
                        sizes.push((serves, work.for_one(kind) / parts));
                    }
                }
            }
        } else {
            let count = (work.total / biggest).ceil().max(by_time(1.0));
            if count > MOST_BATCHES {
                return Err(wrong("biggest", "that is more than 100 batches; say a larger batch, or fewer panels at a time"));
            }
            sizes.extend(words::numbered(count).map(|_| ("all panels".to_owned(), work.total / count)));
        }
        if sizes.len() as f64 > MOST_BATCHES {
            return Err(wrong("panels", "that is more than 100 batches; ask for fewer panels at a time"));
        }
        let batch = |(number, (serves, wet)): (u32, (String, f64))| {
            let lines = self.stuffs_of(worked, wet, step, set);
            let recipe =
                lines.iter().map(|line| format!("{} {}", line.weigh.replace('\u{a0}', " "), line.name)).collect::<Vec<_>>().join("\n");
            EnlargeBatch { number, serves, wet_g: wet, lines, recipe }
        };
        Ok((1..).zip(sizes).map(batch).collect())
    }

    /// Every stuff of a pot of that wet mass, on a step of the scale and in cups and spoons.
    fn stuffs_of(&self, worked: &Worked, wet: f64, step: f64, set: &VesselSet) -> Vec<EnlargeLine> {
        let found = match self.ready_made(worked) {
            Some(primer) => vec![(0, primer, Grams::new(wet))],
            None => self.scaled(worked, Grams::new(wet)).unwrap_or_default(),
        };
        let line = |(at, material, grams): (usize, &materials::Material, Grams)| {
            let exact = grams.value();
            let mass = if exact < step / 2.0 { exact } else { (exact / step).round() * step };
            let strong = worked.reading.lines.get(at).is_some_and(|line| line.strength.is_some());
            let density = if strong { 1.0 } else { loose(material) };
            let measured = spooned(grams, density, set);
            EnlargeLine {
                material: material.id.as_str().to_owned(),
                name: Self::told_name(worked, at, material),
                exact_g: exact,
                mass_g: mass,
                weigh: format!("{}\u{a0}g", grams_written(mass, step)),
                in_spoons: measured.map_or_else(|why| show::capital(&why.to_string()), |told| show::measures(&told)),
            }
        };
        found.into_iter().map(line).collect()
    }

    /// A stuff with its strength, and curd by the milk that it comes from.
    fn told_name(worked: &Worked, at: usize, material: &materials::Material) -> String {
        let strong = match worked.reading.lines.get(at).and_then(|line| line.strength.as_ref()) {
            Some(materials::Strength::Percent(range)) => format!("{}\u{a0}% ", show::plain(range.middle())),
            _ => String::new(),
        };
        let curd = if material.kind == Kind::Milk && worked.mix.curdled { " (its curd goes in)" } else { "" };
        format!("{strong}{}{curd}", material.name)
    }
}

#[cfg(test)]
mod tests;
