//! Binder amount against thickness: the picture of one recipe or several, and what boards say beside it.

use ground::{Column, FilmBook, FilmRanges, Lesson, NEAR_CRITICAL, Window, Word, binder_at, fineness, tightest_packing, window};
use materials::Kind;
use measure::{Micrometres, Unit};
use show::{WindowBoard, WindowColumn, WindowMark, WindowPanel, WindowPicture, WindowView, about_um};

use super::hold::{SUPPORTS, USUAL_SUPPORT, placed};
use super::{Standing, TextError, VerdictRequest, Worked};
use crate::Workbench;
use crate::seen::{CrackBoard, Told};

/// Recipes that go on one page.
pub const MOST_WINDOWS: usize = 5;
/// What the axis reaches at least, and at most: powder share over critical share.
const RICH_END: f64 = 0.6;
const RICHEST: f64 = 0.3;
/// Grains so much finer than whiting that a lean mix of them may only lie half as thick while wet (judgement).
const MUCH_FINER: f64 = 0.5;
/// The powder that others are set against.
const WHITING: &str = "natural-chalk";
const NAMES: [&str; MOST_WINDOWS] = ["The first", "The second", "The third", "The fourth", "The fifth"];

impl Told {
    /// What is put onto the draws.
    pub(super) fn lesson(&self) -> Lesson {
        self.learned.map_or(Lesson::NONE, |learned| learned.lesson)
    }
}

impl Workbench {
    /// How thick a coat may be, as a picture: one recipe, or up to five on the same axes. Remembered by what was asked.
    ///
    /// # Errors
    /// As [`Workbench::verdict`], for any of the texts.
    pub fn window(&self, recipes: &[VerdictRequest]) -> Result<WindowView, TextError> {
        self.windows.answer(&recipes, || self.draw_windows(recipes))
    }

    fn draw_windows(&self, recipes: &[VerdictRequest]) -> Result<WindowView, TextError> {
        let worked = recipes.iter().take(MOST_WINDOWS).map(|request| Ok((request, self.work(request)?))).collect::<Result<Vec<_>, _>>()?;
        let most = worked.iter().filter_map(|(_, worked)| reach(placed(worked).ok()?)).fold(0.0, f64::max);
        let alone = worked.len() == 1;
        let panels =
            worked.iter().zip(NAMES).map(|((request, worked), name)| self.panel(request, worked, if alone { "" } else { name }, most));
        Ok(WindowView { panels: panels.collect(), ticks: self.ticks.clone() })
    }

    fn panel(&self, request: &VerdictRequest, worked: &Worked, name: &str, most: f64) -> WindowPanel {
        let hold = self.hold(request, worked);
        let mut more = Vec::new();
        let picture = self.picture(request, worked, name, most);
        if let Some((picture, beyond)) = &picture {
            more.extend(reading(picture));
            if *beyond {
                more.push("This support is softer than the table behind the picture goes: cracks are likelier than drawn.".into());
            }
            more.push("Where it gets too lean and rubs off isn't drawn: that differs from powder to powder, and a dry board that you rub tells it.".into());
        }
        more.extend(hold.cracks_more);
        WindowPanel {
            name: name.to_owned(),
            told: request.told.clone(),
            bar: super::bar(worked),
            sentence: hold.view.sentence,
            more,
            picture: picture.map(|(picture, _)| picture),
        }
    }

    fn picture(&self, request: &VerdictRequest, worked: &Worked, name: &str, most: f64) -> Option<(WindowPicture, bool)> {
        let ranges = placed(worked).ok()?;
        let protein = self.protein_of_mix(&worked.mix)?;
        let support = request.support.as_deref().unwrap_or(USUAL_SUPPORT);
        let plain = SUPPORTS.iter().find(|(id, _)| *id == support).map_or(support, |(_, plain)| plain);
        let told = self.boards_say(request, worked);
        let tightest = tightest_packing(self.jars, &worked.mix, &ranges.best);
        let found: Window = window(FilmBook::builtin().ok()?, ranges, (protein, support), most, tightest, &told.lesson()).ok().flatten()?;
        let binder = ranges.figure("binder", Unit::One, |film| film.binder_per_100_powder);
        let near = binder_at(ranges, NEAR_CRITICAL.end).zip(binder_at(ranges, NEAR_CRITICAL.start));
        let picture = WindowPicture {
            name: if name.is_empty() { format!("on {plain}") } else { format!("{name}, on {plain}") },
            most_binder: most,
            columns: found.columns.iter().map(column).collect(),
            near,
            ticks: self.ticks.iter().filter_map(|tick| binder_at(ranges, tick.at)).collect(),
            mark: WindowMark { binder: [binder.low, binder.value, binder.high], coat: Some(ranges.dry()), coats: worked.coats },
            boards: told.family.iter().filter_map(|board| dot(board, ranges)).collect(),
        };
        Some((picture, found.beyond > super::hold::BEYOND))
    }

    /// What the boards in the request say of this recipe's family.
    pub(super) fn boards_say(&self, request: &VerdictRequest, worked: &Worked) -> Told {
        let (Ok(ranges), false) = (placed(worked), request.seen.is_empty()) else { return Told::default() };
        let Some(family) = self.family_of_mix(&worked.mix) else { return Told::default() };
        self.told_by_boards(&request.seen, &family, request.support.as_deref().unwrap_or(USUAL_SUPPORT), ranges)
    }

    /// Very fine powder in a lean mix: nothing but a rank against whiting.
    pub(super) fn fine_in_lean(&self, worked: &Worked) -> Option<String> {
        let Standing::Word(words) = &worked.standing else { return None };
        if words.first != Word::Lean || words.second.is_some() {
            return None;
        }
        let radius = |id: &materials::MaterialId| {
            let material = self.jars.material(id).filter(|material| material.kind == Kind::Filler)?;
            Some((material.name.clone(), Micrometres::new(material.property("size")?.value / 2.0)))
        };
        let (_, whiting) = radius(&materials::MaterialId::new(WHITING))?;
        let (_, powder) = self.family_of_mix(&worked.mix)?;
        let (name, radius) = radius(&materials::MaterialId::new(&powder))?;
        (fineness(radius, whiting) < MUCH_FINER).then(|| {
            format!("Very fine powder in a lean mix, such as {name} here, pulls harder while wet than whiting does: lay thinner coats.")
        })
    }
}

/// How far to the right the axis must reach for this recipe.
fn reach(ranges: &FilmRanges) -> Option<f64> {
    let mark = ranges.figure("binder", Unit::One, |film| film.binder_per_100_powder).high;
    let least = binder_at(ranges, RICH_END)?;
    let step = 10.0;
    Some(((1.1 * mark).clamp(least, binder_at(ranges, RICHEST)?.max(least)) / step).ceil() * step)
}

fn column(column: &Column) -> WindowColumn {
    WindowColumn {
        binder: column.binder,
        unlikely_um: column.unlikely_below.value(),
        likely_um: column.likely_from.map(Micrometres::value),
    }
}

fn dot(board: &CrackBoard, ranges: &FilmRanges) -> Option<WindowBoard> {
    Some(WindowBoard { binder: binder_at(ranges, board.ratio)?, sound_um: board.whole_um, cracked_um: board.cracked_um })
}

/// The picture in words, at the recipe's own binder.
fn reading(picture: &WindowPicture) -> Option<String> {
    let at = picture.mark.binder.get(1).copied()?;
    if picture.near.is_some_and(|(from, to)| (from..to).contains(&at)) {
        return Some("With so much binder it stands near the critical share, where nobody can say; a little more powder or a little more binder makes it plain.".into());
    }
    let nearest = picture.columns.iter().min_by(|a, b| (a.binder - at).abs().total_cmp(&(b.binder - at).abs()))?;
    Some(match nearest.likely_um {
        Some(likely) => format!(
            "With so much binder cracks are unlikely below about {}\u{a0}\u{b5}m dry and likely above about {}\u{a0}\u{b5}m; between them it can't be said.",
            about_um(nearest.unlikely_um),
            about_um(likely)
        ),
        None if nearest.unlikely_um < 1000.0 => {
            format!(
                "With so much binder cracks are unlikely below about {}\u{a0}\u{b5}m dry; above that it can't be said.",
                about_um(nearest.unlikely_um)
            )
        }
        None => {
            "With so much binder the pull of drying is unlikely to crack it up to 1\u{a0}mm; beyond that other causes take over.".into()
        }
    })
}
