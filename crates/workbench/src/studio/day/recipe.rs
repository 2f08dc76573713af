//! A day for one recipe and so many boards, without a trial: worked out and printed, not written down.

use std::collections::BTreeMap;

use making::{BoardAsked, DayAsked, Mixed, PotAsked};
use measure::SquareMetres;
use notebook::{Day, Notebook, Trial};
use show::DayView;
use show::paper::DaySheetsView;

use super::super::StudioError;
use super::super::trial::board_size;
use super::asked::has_plaster;
use super::habits::{laying, life, mixing, preparation, washing_up};
use super::outline::{Lies, Outline};
use super::wish::TypedWish;
use crate::sheets::made_with;
use crate::verdict::{COATS, laid};
use crate::{VerdictRequest, Workbench};

/// A recipe to be laid on so many boards.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct RecipeDay {
    /// The recipe.
    pub recipe: VerdictRequest,
    /// Boards, as typed.
    pub boards: String,
    /// Size of each, such as `20 x 25 cm`.
    pub size: String,
    /// Coats on each, as typed; empty for what the recipe says.
    pub coats: String,
    /// The hours, and what is done otherwise.
    pub wish: TypedWish,
}

/// Most boards that one day lays from one pot.
const MOST_BOARDS: u32 = 80;
/// Coats where neither form nor recipe says a number (model choice).
const USUAL_COATS: u32 = 3;
/// Letter of the only pot.
const POT: &str = "A";

impl Workbench {
    /// The day of a recipe.
    ///
    /// # Errors
    /// A recipe that can't be taken or holds no binder whose habits are known; boards, size, coats or hours that can't be read.
    pub fn recipe_day(&self, state: &Notebook, asked: &RecipeDay, today: Day) -> Result<DayView, StudioError> {
        Ok(self.day_view(state, &self.recipe_outline(state, asked)?, today))
    }

    /// Its sheets.
    ///
    /// # Errors
    /// As for the day; a day that can't be laid out has no sheets.
    pub fn recipe_day_sheets(&self, state: &Notebook, asked: &RecipeDay, today: Day, invented: bool) -> Result<DaySheetsView, StudioError> {
        let sheets = self.day_sheets(state, &self.recipe_outline(state, asked)?, today, invented)?;
        Ok(DaySheetsView { made_with: made_with(), ..sheets })
    }

    fn recipe_outline(&self, state: &Notebook, form: &RecipeDay) -> Result<Outline, StudioError> {
        let wish = form.wish.read()?;
        let boards = whole(&form.boards, "boards", 1..=MOST_BOARDS)?.unwrap_or(5);
        let Some((width, height)) = board_size(&form.size, &self.units)? else {
            return Err(StudioError::Typed("say the size of a board as 20 x 25 cm".into()));
        };
        let (reading, mix) = self.recipe_read(&form.recipe)?;
        let (family, starts) = self.kind_of(&reading, &mix).ok_or_else(|| {
            StudioError::Typed(
                "how this is made ready and dries is not known: no glue, casein, emulsion, oil or acrylic was found in it. Say what binds it".into(),
            )
        })?;
        let (coat, told) = laid(&form.recipe, &reading);
        let coats = whole(&form.coats, "coats", *COATS.start()..=*COATS.end())?.unwrap_or(if told > 1 { told } else { USUAL_COATS });
        let film = if mix.water_by_eye { None } else { mix.film(&mix.best(), &mut Vec::new()).ok() };
        let wet = film.filter(|_| coat.told).map(|film| film.laid(coat.wet));
        let face = SquareMetres::new(width * height / 1e6);
        let aim = (wet.unwrap_or(self.laying.coat) * face).value();
        let count = usize::try_from(coats).unwrap_or(1);
        let numbers: Vec<String> = (1..=boards).map(|number| number.to_string()).collect();
        let info = super::asked::PotInfo {
            letter: POT.into(),
            recipe: "this recipe".into(),
            weigh: form.recipe.told.clone(),
            told: form.recipe.told.clone(),
            family,
            boards: numbers.iter().map(|number| (number.clone(), vec![Some(aim); count])).collect(),
            film,
            laid: wet,
            starts,
            plaster: has_plaster(&reading),
        };
        let trial = Trial { width_mm: Some(width), height_mm: Some(height), ..Trial::default() };
        let pot = PotAsked {
            letter: POT.into(),
            mixing: mixing(family),
            life: life(family),
            mixed: Mixed::Once,
            recoat: self.recoat(&trial, &info, None)?,
            preparation: preparation(&info),
            boards: numbers.iter().map(|number| BoardAsked { number: number.clone(), coats: vec![laying(face); count] }).collect(),
        };
        let asked = DayAsked { begins: wish.hours.begins, ends: wish.hours.ends, pots: vec![pot], washing_up: washing_up(1) };
        let boards = numbers.iter().zip(1..).map(|(number, place)| (number.clone(), Lies { id: String::new(), place, strips: Vec::new() }));
        let outline = Outline {
            title: "Making it: what when?".into(),
            what: form.recipe.told.split_whitespace().collect::<Vec<_>>().join(" "),
            asked: wish.on_day(&asked)?,
            wish,
            boards: boards.collect::<BTreeMap<_, _>>(),
            sides: Some((width, height)),
            worked: Vec::new(),
            pots: vec![info],
            day: None,
            trouble: None,
        };
        Ok(self.laid_out(state, outline))
    }

    /// How long a coat of this recipe waits for the next, on a board of this size; none where that is not known.
    pub(crate) fn next_coat_after(&self, state: &Notebook, recipe: &VerdictRequest, (width, height): (f64, f64)) -> Option<making::Span> {
        let form = RecipeDay {
            recipe: recipe.clone(),
            boards: "1".into(),
            size: format!("{} x {} mm", whole_side(width), whole_side(height)),
            coats: "1".into(),
            wish: TypedWish::default(),
        };
        let outline = self.recipe_outline(state, &form).ok()?;
        outline.asked.pots.first().map(|pot| pot.recoat.opens)
    }

    fn recipe_read(&self, recipe: &VerdictRequest) -> Result<(materials::Reading, ground::Mix), StudioError> {
        if recipe.told.trim().is_empty() {
            return Err(StudioError::Typed(
                "say the recipe first, such as \u{201c}15 g hide glue, 210 g water, 320 g chalk\u{201d}".into(),
            ));
        }
        let worked = self.work(recipe).map_err(StudioError::typed)?;
        Ok((worked.reading, worked.mix))
    }
}

/// A side in whole millimetres, as large as a board of a day may be.
#[expect(clippy::cast_possible_truncation, reason = "held between 10 and 3000")]
fn whole_side(side: f64) -> i64 {
    side.clamp(10.0, 3000.0).round() as i64
}

/// A whole number within bounds, or nothing.
fn whole(text: &str, what: &str, within: std::ops::RangeInclusive<u32>) -> Result<Option<u32>, StudioError> {
    let plain = text.trim();
    if plain.is_empty() {
        return Ok(None);
    }
    match plain.parse().ok().filter(|count| within.contains(count)) {
        Some(count) => Ok(Some(count)),
        None => Err(StudioError::Typed(format!(
            "{what}: \u{201c}{}\u{201d} can't be taken; write a whole number from {} to {}",
            super::super::short(plain),
            within.start(),
            within.end()
        ))),
    }
}
