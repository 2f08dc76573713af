//! A day on paper: the day, a sheet for each pot, what to buy, the boards on their places.

use making::StepKind;
use notebook::{Day, Notebook};
use show::paper::{DaySheetsView, PaperFigure, Picture, PotRound, PotSheet, SheetAmount};
use show::{DayView, LyingBoard, LyingBoards, day_column_picture, in_ink, lying_picture, weighed};

use super::super::{Studio, StudioError};
use super::outline::{Block, Outline};
use super::view::what_words;
use super::wish::TypedWish;
use super::words::{clock_span, lasting_span, ordinal, spoken};
use crate::sheets::{made_with, paper_day};
use crate::{Workbench, and};

/// Boards side by side on the sheet; the table of a kitchen has room for about so many.
const COLUMNS: u32 = 4;

impl Workbench {
    /// All sheets of a day of a closed plan.
    ///
    /// # Errors
    /// As for the day itself; a day that can't be laid out has no sheets.
    pub fn plan_day_sheets(
        &self,
        studio: &Studio,
        state: &Notebook,
        trial: &str,
        day: u32,
        wish: &TypedWish,
        today: Day,
    ) -> Result<DaySheetsView, StudioError> {
        let outline = self.outline(state, trial, day, wish)?;
        self.day_sheets(state, &outline, today, studio.is_example())
    }

    pub(super) fn day_sheets(&self, state: &Notebook, outline: &Outline, today: Day, invented: bool) -> Result<DaySheetsView, StudioError> {
        let view = self.day_view(state, outline, today);
        if outline.day.is_none() {
            return Err(StudioError::Typed(view.next));
        }
        let blocks = outline.blocks();
        Ok(DaySheetsView {
            title: view.title.clone(),
            language: "en".into(),
            date: paper_day(outline.wish.on.unwrap_or(today)),
            made_with: made_with(),
            invented,
            strip: strip_figure(&view),
            table: table_figure(outline),
            pots: blocks.iter().filter_map(|block| self.pot_sheet(outline, &blocks, block)).collect(),
            day: view,
        })
    }

    fn pot_sheet(&self, outline: &Outline, blocks: &[Block<'_>], block: &Block<'_>) -> Option<PotSheet> {
        let StepKind::Mix { pot, coat } = block.first()?.kind else { return None };
        let asked = outline.asked.pots.get(pot)?;
        let info = outline.info(pot)?;
        let wet = outline.taken(pot, coat).map(|taken| taken * (1.0 + self.laying.loss.value()));
        let recipe = outline.recipe(pot);
        let all = recipe.filter(|worked| !worked.mix.water_by_eye).map(|worked| worked.mix.wet_mass(&worked.mix.best()));
        let times = wet.zip(all).map(|(wet, all)| wet / all).filter(|times| times.is_finite() && *times > 0.0);
        let primer = wet.zip(recipe.and_then(|worked| self.ready_made(worked)));
        let making = recipe.map(|worked| self.making_times(worked, times.unwrap_or(1.0)));
        let numbers: Vec<&str> = asked.boards.iter().map(|board| spoken(&board.number)).collect();
        let rounds = blocks.iter().filter_map(|round| {
            let first = round.first()?;
            let StepKind::Lay { pot: of, coat: laid, .. } = first.kind else { return None };
            (of == pot && coat.is_none_or(|coat| coat == laid)).then(|| {
                let left = making::time_left(asked.life, block.to(), round.from());
                PotRound {
                    time: clock_span(round.from(), round.to()),
                    what: what_words(outline, round),
                    left: lasting_span(left.low, left.high),
                }
            })
        });
        Some(PotSheet {
            pot: coat.map_or_else(|| asked.letter.clone(), |coat| format!("{}, {} coat", asked.letter, ordinal(u32::from(coat)))),
            recipe: info.recipe.clone(),
            boards: format!("{} {}", if numbers.len() == 1 { "board" } else { "boards" }, and(&numbers)),
            weighs: wet.filter(|_| times.is_some() || primer.is_some()).map_or_else(String::new, |wet| weighed(wet.value())),
            time: clock_span(block.from(), block.to()),
            life: format!("Once it is ready it may be used for {}.", lasting_span(asked.life.low, asked.life.high)),
            amounts: if let Some((wet, primer)) = primer {
                vec![SheetAmount { name: primer.name.clone(), grams: weighed(wet.value()), kitchen: String::new() }]
            } else {
                making.as_ref().map_or_else(Vec::new, |making| {
                    let amount = |one: &show::paper::CardAmount| SheetAmount {
                        name: one.name.clone(),
                        grams: one.grams.clone(),
                        kitchen: one.kitchen.clone(),
                    };
                    making.amounts.iter().map(amount).collect()
                })
            },
            note: match (times, wet) {
                _ if primer.is_some() => String::new(),
                (Some(_), _) => String::new(),
                (None, None) => "The amounts stand as told: the size of the boards is not written down, so they can't be scaled.".into(),
                (None, Some(_)) => {
                    "The amounts stand as told: how much water goes in is not told in grams, so they can't be scaled.".into()
                }
            },
            steps: making.as_ref().map_or_else(Vec::new, |making| making.steps.clone()),
            allergens: making.map_or_else(String::new, |making| {
                [making.hazards, making.allergens].into_iter().filter(|text| !text.is_empty()).collect::<Vec<_>>().join(". ")
            }),
            rounds: rounds.collect(),
        })
    }
}

fn strip_figure(view: &DayView) -> Option<PaperFigure> {
    let strip = view.strip.as_ref()?;
    let alt = format!(
        "The day as a column from {} to {}, with what hands do, how long each pot may be used, and how long coats are wet. The same stands in words in the table of steps.",
        show::clock_words(strip.from),
        show::clock_words(strip.to)
    );
    Some(PaperFigure { picture: Picture::Drawing(in_ink(&day_column_picture(strip))), alt, caption: String::new() })
}

/// Every board of the day on its place, with its pot and coats.
fn table_figure(outline: &Outline) -> Option<PaperFigure> {
    let mut places = Vec::new();
    for pot in &outline.asked.pots {
        for board in &pot.boards {
            let lies = outline.boards.get(&board.number).cloned().unwrap_or_default();
            places.push(LyingBoard {
                number: board.number.clone(),
                place: lies.place,
                strips: lies.strips,
                of: u32::try_from(board.coats.len()).unwrap_or(0),
                words: format!("pot {}", pot.letter),
                ..LyingBoard::default()
            });
        }
    }
    if places.is_empty() {
        return None;
    }
    places.sort_by_key(|board| board.place);
    let each: Vec<String> = places.iter().map(|board| format!("board {} ({})", spoken(&board.number), board.words)).collect();
    let alt =
        format!("The boards on the table, row by row from the far left: {}.", and(&each.iter().map(String::as_str).collect::<Vec<_>>()));
    let picture = Picture::Drawing(in_ink(&lying_picture(&LyingBoards { places, columns: COLUMNS })));
    Some(PaperFigure { picture, alt, caption: String::new() })
}
