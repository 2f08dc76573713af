//! What a day is asked to do, from the closed plan: pots, boards, waits, and how much goes on each board.

use ground::Mix;
use making::{BoardAsked, DayAsked, Mixed, PotAsked};
use materials::{Family, Kind, Material, Reading, Wishes};
use measure::{Grams, GramsPerSquareMetre, SquareMetres};
use notebook::{Air, Board, Kept, Notebook, Sitting, Trial};
use support::GroundKind;

use super::super::StudioError;
use super::super::trial::{coats_wanted, covered, trial_of};
use super::Hours;
use super::habits::{Starts, laying, life, mixing, preparation, washing_up};
use super::portion::taken;
use crate::Workbench;
use crate::verdict::{VerdictRequest, laid};

/// A day with what is known of its pots.
pub(crate) struct AskedDay {
    pub(crate) asked: DayAsked,
    pub(crate) pots: Vec<PotInfo>,
    /// Why the air as read says nothing of the waits.
    pub(crate) trouble: Option<String>,
}

/// A pot of a day.
pub(crate) struct PotInfo {
    pub(crate) letter: String,
    /// Recipe's name.
    pub(crate) recipe: String,
    /// Recipe as told.
    pub(crate) told: String,
    /// The same for a pot as large as this day wants it; as told where that can't be worked out.
    pub(crate) weigh: String,
    /// Which family's habits hold.
    pub(crate) family: GroundKind,
    /// Boards by number, with the grams to be laid in each coat; none where the size is not known.
    pub(crate) boards: Vec<(String, Vec<Option<f64>>)>,
    /// How much of a coat is powder and binder, and how it packs; none where the recipe gives no film.
    pub(crate) film: Option<ground::Film>,
    /// Wet ground on a square metre, where the recipe says how thick.
    pub(crate) laid: Option<GramsPerSquareMetre>,
    /// What its binder is made from.
    pub(crate) starts: Starts,
    /// Whether plaster must be slaked for it.
    pub(crate) plaster: bool,
}

/// A board whose size nobody wrote down is taken to be this large, for the time that its coats take: 20 x 25 cm (model choice).
const USUAL_FACE: SquareMetres = SquareMetres::new(0.05);

/// Plaster that still sets.
const PLASTERS: [&str; 1] = ["plaster-of-paris"];

/// Square millimetres of a square metre.
const SQUARE_METRE: f64 = 1e6;

impl Workbench {
    /// The day of a closed plan.
    ///
    /// # Errors
    /// No such trial or day; its plan is not closed; a recipe that is not told, or of no family whose habits are known.
    pub(crate) fn day_asked(&self, state: &Notebook, trial: &str, day: u32, hours: Hours) -> Result<AskedDay, StudioError> {
        let record = &trial_of(state, trial)?.record;
        if state.plan_of(trial).is_none() {
            return Err(StudioError::Typed("close the plan first: boards get their ids then, and the day its boards".into()));
        }
        let pots = self.pots_of_day(state, trial, record, day)?;
        let mut asked = DayAsked { begins: hours.begins, ends: hours.ends, washing_up: washing_up(pots.len()), ..DayAsked::default() };
        for pot in &pots {
            let boards = state.boards_of(trial);
            let boards = pot
                .boards
                .iter()
                .filter_map(|(number, aims)| {
                    let board = boards.iter().find(|board| board.record.planned.number == *number)?;
                    // A lost board gets nothing more.
                    if state.loss_of(&board.subject).is_some() {
                        return None;
                    }
                    let coats = (1..=u32::try_from(aims.len()).unwrap_or(0)).map(|coat| laying(covered_face(record, &board.record, coat)));
                    Some(BoardAsked { number: number.clone(), coats: coats.collect() })
                })
                .collect();
            asked.pots.push(PotAsked {
                letter: pot.letter.clone(),
                mixing: mixing(pot.family),
                life: life(pot.family),
                mixed: Mixed::Once,
                recoat: self.recoat(record, pot, None)?,
                preparation: preparation(pot),
                boards,
            });
        }
        Ok(AskedDay { asked, pots, trouble: None })
    }

    /// A day under way: as it was asked when it began, its waits by the air that was read since.
    pub(super) fn live(&self, state: &Notebook, kept: &Kept<Sitting>) -> Result<AskedDay, StudioError> {
        let sitting = &kept.record;
        let mut asked: DayAsked = serde_json::from_str(&sitting.asked)
            .map_err(|_| StudioError::Typed("this day was begun by another version and can't be read; end it and begin it anew".into()))?;
        let record = &trial_of(state, &sitting.trial)?.record;
        let mut pots = self.pots_of_day(state, &sitting.trial, record, sitting.day)?;
        // Boards that were left out of this sitting are not in it.
        for info in &mut pots {
            let asked = asked.pots.iter().find(|pot| pot.letter == info.letter);
            info.boards.retain(|(number, _)| asked.is_some_and(|pot| pot.boards.iter().any(|board| board.number == *number)));
        }
        for info in &mut pots {
            let pot = asked.pots.iter().find(|pot| pot.letter == info.letter);
            let laid = pot.and_then(|pot| taken(pot, info, None));
            if let Some(text) = laid.and_then(|laid| self.weigh_text(state, &info.told, laid)) {
                info.weigh = text;
            }
        }
        let mut trouble = None;
        if let Some(air) = &air_now(state, &kept.subject) {
            for pot in &mut asked.pots {
                let Some(info) = pots.iter().find(|info| info.letter == pot.letter) else { continue };
                match self.recoat(record, info, Some(air)) {
                    Ok(recoat) => pot.recoat = recoat,
                    // In air that nothing can be said of, the waits of the plan stand, and the day says so.
                    Err(why) => trouble = Some(why.to_string()),
                }
            }
        }
        Ok(AskedDay { asked, pots, trouble })
    }

    /// A recipe for so much wet ground on the boards.
    fn weigh_text(&self, state: &Notebook, told: &str, laid: Grams) -> Option<String> {
        let request = VerdictRequest { told: told.to_owned(), own: self.own_values_for(state, told), ..VerdictRequest::default() };
        let text = self.portions.answer(&(&request, laid), || {
            let worked = self.work(&request).ok()?;
            self.pot_text(&worked, self.pot_wet(Some(&worked), laid))
        });
        text.map(|text| self.keep_jar(state, told, text))
    }

    pub(super) fn pots_of_day(&self, state: &Notebook, subject: &str, trial: &Trial, day: u32) -> Result<Vec<PotInfo>, StudioError> {
        let all = state.boards_of(subject);
        let of_day: Vec<_> = all.iter().filter(|board| board.record.planned.day == day).collect();
        if of_day.is_empty() {
            let last = all.iter().map(|board| board.record.planned.day).max().unwrap_or(0);
            return Err(StudioError::Typed(match last {
                1 => format!("this plan has no day {day}: it has one day, day 1"),
                last => format!("this plan has no day {day}: its days are 1 to {last}"),
            }));
        }
        let mut pots: Vec<PotInfo> = Vec::new();
        for board in of_day {
            let planned = &board.record.planned;
            let aims = |laid: Option<GramsPerSquareMetre>| {
                let laid = laid.unwrap_or(self.laying.coat);
                (1..=coats_wanted(trial, planned)).map(|coat| aim(trial, &board.record, coat, laid)).collect::<Vec<_>>()
            };
            if let Some(pot) = pots.iter_mut().find(|pot| pot.letter == planned.batch) {
                pot.boards.push((planned.number.clone(), aims(pot.laid)));
                continue;
            }
            let request = self.pot_request(state, trial, &board.record, &planned.batch);
            if request.told.trim().is_empty() {
                return Err(StudioError::Typed(format!(
                    "what goes into \u{201c}{}\u{201d} is not told, so no day can be worked out; say the recipe on the trial's page first",
                    planned.recipe
                )));
            }
            let reading = materials::read(self.jars, &self.units, &request.told, &Wishes::new());
            let mix = Mix::of(self.jars, &self.units, &reading).with_own(&request.own);
            let (family, starts) = self.kind_of(&reading, &mix).ok_or_else(|| {
                StudioError::Typed(format!(
                    "how \u{201c}{}\u{201d} is made ready and dries is not known: no glue, casein, emulsion, oil or acrylic was found in it. Say what binds it",
                    planned.recipe
                ))
            })?;
            let film = if mix.water_by_eye { None } else { mix.film(&mix.best(), &mut Vec::new()).ok() };
            // As thick as the recipe says; a usual brushed coat where it says nothing.
            let (coat, _) = laid(&request, &reading);
            let laid = film.filter(|_| coat.told).map(|film| film.laid(coat.wet));
            pots.push(PotInfo {
                letter: planned.batch.clone(),
                recipe: planned.recipe.clone(),
                family,
                starts,
                plaster: has_plaster(&reading),
                boards: vec![(planned.number.clone(), aims(laid))],
                weigh: request.told.clone(),
                told: request.told,
                film,
                laid,
            });
        }
        Ok(pots)
    }

    /// What a recipe dries like, and what its binder is made from; none where no binder is known.
    pub(in super::super) fn kind_of(&self, reading: &Reading, mix: &Mix) -> Option<(GroundKind, Starts)> {
        let materials: Vec<&Material> =
            reading.lines.iter().filter_map(|line| line.material.first()).filter_map(|id| self.jars.material(id)).collect();
        let has = |wanted: &dyn Fn(&Material) -> bool| materials.iter().any(|material| wanted(material));
        let protein = mix.binder_kind(self.jars);
        let oily = has(&|m| m.family == Family::Oil || m.kind == Kind::Oil);
        let kind = if has(&|m| m.family == Family::Acrylic || m.kind == Kind::Primer) {
            GroundKind::Acrylic
        } else if oily && (protein.is_some() || has(&|m| m.family == Family::Egg)) {
            GroundKind::Emulsion
        } else if oily {
            GroundKind::Oil
        } else if let Some(protein) = protein {
            protein.into()
        } else if has(&|m| m.family == Family::Casein) {
            // Casein that is open already, or whose base is not told: its water leaves as that of any casein.
            GroundKind::SodaCasein
        } else {
            return None;
        };
        let id = |wanted: &[&str]| has(&|m| wanted.contains(&m.id.as_str()));
        let starts = match kind {
            GroundKind::Glue => Starts::Grains,
            GroundKind::Emulsion => Starts::Egg,
            GroundKind::Oil => Starts::Oil,
            GroundKind::Acrylic => Starts::Bought,
            _ if id(&["casein-solution", "lime-casein-binder"]) => Starts::Bought,
            // Curd is made of milk the day before; quark is bought.
            _ if has(&|m| m.kind == Kind::Milk) || id(&["curd-drained", "curd-pressed"]) => Starts::Milk,
            _ if id(&["quark"]) => Starts::Curd,
            _ => Starts::Powder,
        };
        Some((kind, starts))
    }
}

/// Whether plaster that still sets stands in a recipe.
pub(super) fn has_plaster(reading: &Reading) -> bool {
    reading.lines.iter().filter_map(|line| line.material.first()).any(|id| PLASTERS.contains(&id.as_str()))
}

/// The air of a sitting as read last, each of the two.
pub(super) fn air_now(state: &Notebook, sitting: &str) -> Option<Air> {
    let all = state.air_of(sitting);
    let celsius = all.iter().rev().find_map(|air| air.record.celsius);
    let damp = all.iter().rev().find_map(|air| air.record.damp);
    (celsius.is_some() || damp.is_some()).then(|| Air { celsius, damp, ..Air::default() })
}

/// Face of a board that a coat covers.
fn covered_face(trial: &Trial, board: &Board, coat: u32) -> SquareMetres {
    trial.width_mm.zip(trial.height_mm).map_or(USUAL_FACE, |(width, height)| SquareMetres::new(width * height / SQUARE_METRE))
        * covered(board, coat)
}

/// Grams of wet ground for a coat.
fn aim(trial: &Trial, board: &Board, coat: u32, laid: GramsPerSquareMetre) -> Option<f64> {
    let (width, height) = trial.width_mm.zip(trial.height_mm)?;
    Some((laid * (SquareMetres::new(width * height / SQUARE_METRE) * covered(board, coat))).value())
}
