//! Milk and powder: from what is at hand to a recipe.

mod plan;
mod reading;

pub(crate) use reading::was_heated;

use binder::{BinderError, CurdFigures, Enough, curd_with_ranges};
use ground::{Boards, CaseinPot, PotFigures, casein_pot, pot_with_ranges};
use materials::Material;
use measure::{Draws, Figure, Grams, GramsPerMillilitre, SquareMetres, Unit};
use show::{CautionView, FigureReport, MilkReport, MilkView, WarningReport, plain, range, write};

use crate::verdict::{VerdictRequest, caution};
use crate::{VERSION, Workbench};

/// What a person fills in. The acid and the warmth may be left empty.
#[derive(Debug, Clone, PartialEq)]
pub struct MilkForm {
    /// Milk as told, such as `2 l skim milk`.
    pub milk: String,
    /// Acid as told, such as `1 lemon` or `vinegar 5 %`.
    pub acid: String,
    /// Powder by name.
    pub powder: String,
    /// What dissolves the curd, by name.
    pub base: String,
    /// Number of boards.
    pub boards: u32,
    /// Size of a board, such as `20 x 25 cm`.
    pub size: String,
    /// Coats on each.
    pub coats: u32,
    /// How warm the milk is, degrees Celsius.
    pub warmth_c: Option<f64>,
}

impl Default for MilkForm {
    fn default() -> Self {
        Self {
            milk: "2 l skim milk".into(),
            acid: "white vinegar".into(),
            powder: "chalk".into(),
            base: "baking soda".into(),
            boards: 5,
            size: "20 x 25 cm".into(),
            coats: 4,
            warmth_c: None,
        }
    }
}

/// A field that can't be taken: which, and how to mend it.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum MilkFormError {
    /// A field that does not read.
    #[error("{field}: {what}")]
    Field {
        /// Name of the field.
        field: &'static str,
        /// What is wrong and how to mend it.
        what: String,
    },
    /// The milk can't become curd as told.
    #[error("{0}")]
    Curd(#[from] BinderError),
}

impl MilkFormError {
    /// Whether it is rennet that was told: no slip, another road.
    pub fn is_rennet(&self) -> bool {
        matches!(self, Self::Curd(BinderError::Rennet))
    }
}

/// Everything that is known before it is put into words.
pub(crate) struct MilkWork<'a> {
    pub(crate) told: reading::Told<'a>,
    pub(crate) curd: CurdFigures,
    pub(crate) pot: PotFigures,
    pub(crate) boards: Boards,
    /// Pot for one gram of casein.
    pub(crate) unit: CaseinPot,
    /// Milk that they want, millilitres.
    pub(crate) milk_wanted: Figure,
    /// Share of the milk at hand that is used: 1 unless it is more than enough.
    pub(crate) used: f64,
}

impl Workbench {
    /// What this milk and powder make.
    ///
    /// # Errors
    /// A field that does not read; the message names it and the mend.
    ///
    /// ```
    /// use workbench::{MilkForm, Workbench};
    /// let bench = Workbench::open()?;
    /// let view = bench.milk(&MilkForm { acid: "1 lemon".into(), milk: "1 l skim milk".into(), ..MilkForm::default() })?;
    /// assert!(view.acid.starts_with("No"), "{}", view.acid);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn milk(&self, form: &MilkForm) -> Result<MilkView, MilkFormError> {
        let told = self.told(form)?;
        let curd = curd_with_ranges(&told.request, Draws::USUAL)?;
        let number_of = |material: &Material, name: &str| material.property(name).map_or(1.0, |property| property.value);
        let unit = casein_pot(
            Grams::new(1.0),
            GramsPerMillilitre::new(number_of(told.powder, "density")),
            number_of(told.powder, "oil_absorption"),
        )
        .ok_or_else(|| MilkFormError::Field {
            field: "powder",
            what: format!("{} packs so tightly that no usual ground can be worked out; take chalk", told.powder.name),
        })?;
        let boards = Boards { count: form.boards, face: told.face, coats: form.coats, coat: self.laying.coat, loss: self.laying.loss };
        let casein_wanted = boards.wet() * (unit.casein / unit.all());
        let milk_ml = curd.best.milk_volume.value();
        // Less casein caught per litre means more milk: the ends of the band change places.
        let per_ml = curd.casein.times(1.0 / milk_ml);
        let milk_wanted = Figure {
            key: "milk_wanted",
            value: casein_wanted.value() / per_ml.value,
            low: casein_wanted.value() / per_ml.high,
            high: casein_wanted.value() / per_ml.low,
            unit: Unit::Millilitres,
        };
        // When there is more than enough, the amounts are for what the boards want, taken at its upper end so that it suffices.
        let used = (milk_wanted.high / milk_ml).min(1.0);
        let pot = pot_with_ranges(&told.request, told.powder, Draws::USUAL)?
            .ok_or_else(|| MilkFormError::Field { field: "powder", what: format!("the numbers of {} are not known", told.powder.name) })?;
        let work = MilkWork { told, curd, pot, boards, unit, milk_wanted, used };
        Ok(self.milk_view(&work))
    }

    fn milk_view(&self, work: &MilkWork<'_>) -> MilkView {
        let enough = work.boards_enough();
        let acid = acid_answer(work);
        let take = self.take(work);
        let recipe = self.recipe(work);
        let mind = self.milk_mind(work, &recipe);
        let report = MilkReport {
            is: "groundproof milk 1",
            version: VERSION,
            warnings: work.warnings(),
            casein_g: FigureReport::from(&work.curd.casein.times(work.used)),
            curd_wet_g: FigureReport::from(&work.curd.wet_curd.times(work.used)),
            whey_ml: FigureReport::from(&work.curd.whey.times(work.used)),
            acid_needed: FigureReport::from(&work.curd.acid_needed.times(work.used)),
            ph: work.curd.ph_reached.as_ref().map_or_else(
                || {
                    FigureReport::unknown(
                        "pH",
                        "the amount of acid was not told, or it makes the milk sourer than can be worked out (pH 4.0)",
                    )
                },
                FigureReport::from,
            ),
            acid_enough: match work.curd.best.enough {
                None => "not said",
                Some(Enough::Yes) => "yes",
                Some(Enough::No { .. }) => "no",
                Some(Enough::More { .. }) => "more than enough",
            },
            take,
            boards_asked: work.boards.count,
            boards_enough: enough,
            milk_needed_ml: FigureReport::from(&work.milk_wanted),
            recipe,
            steps: self.milk_steps(work),
            cautions: mind.iter().map(caution).collect(),
        };
        let (sentence, more) = work.sentence(enough);
        MilkView { sentence, more, acid, mind, report }
    }

    /// Cautions of the way to the curd, then everything that the pot itself would be cautioned for as a recipe.
    fn milk_mind(&self, work: &MilkWork<'_>, recipe: &str) -> Vec<CautionView> {
        let mut out: Vec<CautionView> = work.curd.best.warnings.iter().copied().map(curd_caution).collect();
        let told = format!("{recipe}\n{}", self.jars.material(&work.told.acid_material).map_or("", |acid| acid.name.as_str()));
        if let Ok(worked) = self.work(&VerdictRequest { told, ..VerdictRequest::default() }) {
            out.extend(self.mind(&worked));
        }
        out
    }
}

/// What can hurt on the way to the curd.
pub(crate) fn curd_caution(warning: binder::Warning) -> CautionView {
    CautionView {
        about: "milk, acid and curd".into(),
        text: warning.text().into(),
        codes: String::new(),
        source: "common practice, no source; household-safety pages".into(),
        of_this_recipe: true,
        grave: false,
        jar_test: String::new(),
    }
}

impl MilkWork<'_> {
    /// Boards that all the milk at hand is enough for: at least and at most.
    fn boards_enough(&self) -> [u32; 2] {
        let one = self.boards.for_one().value() * (self.unit.casein / self.unit.all());
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to a count of boards")]
        let count = |casein: f64| if one > 0.0 { (casein / one).floor().clamp(0.0, 1e6) as u32 } else { 0 };
        [count(self.curd.casein.low), count(self.curd.casein.high)]
    }

    fn sentence(&self, enough: [u32; 2]) -> (String, String) {
        let [least, most] = enough;
        let asked = self.boards.count;
        let boards = if asked == 1 { "1 board".to_owned() } else { format!("{asked} boards") };
        let milk = &self.told.milk_text;
        let needed = format!(
            "They want about {}\u{a0}ml of it (likely {}).",
            write(&self.milk_wanted).value,
            range(self.milk_wanted.low, self.milk_wanted.high)
        );
        let first = if least >= asked {
            format!("Yes: {milk} gives enough casein for {boards} at {} coats.", self.boards.coats)
        } else if most >= asked {
            format!(
                "Perhaps: {milk} is just about enough for {boards} at {} coats; weigh the curd before you count on it.",
                self.boards.coats
            )
        } else {
            let can = if least == most { least.to_string() } else { format!("{least} to {most}") };
            format!("No: {milk} is enough for {can} of the {boards} at {} coats.", self.boards.coats)
        };
        (first, needed)
    }

    fn warnings(&self) -> Vec<WarningReport> {
        let mut out: Vec<WarningReport> =
            self.told.taken.iter().map(|text| WarningReport { id: "taken_as".into(), text: text.clone(), at: "form".into() }).collect();
        out.push(WarningReport {
            id: "coat_assumed".into(),
            text: format!(
                "A coat is taken as {} g wet on a square metre, with {} lost in brush and pot: common practice, no source.",
                plain(self.boards.coat.value()),
                show::percent(self.boards.loss.value())
            ),
            at: "boards".into(),
        });
        out
    }
}

/// "Is this lemon enough?"
fn acid_answer(work: &MilkWork<'_>) -> String {
    let curd = &work.curd;
    let unit = match curd.best.acid_unit {
        binder::AcidUnit::Millilitres => "\u{a0}ml",
        binder::AcidUnit::Grams => "\u{a0}g",
        binder::AcidUnit::Pieces => "",
    };
    let name = work.told.request.acid.source.words();
    let name = if unit.is_empty() { "lemons" } else { name };
    let wants = |figure: &Figure| format!("{}{unit} {name} (likely {})", write(figure).value, range(figure.low, figure.high));
    let all = wants(&curd.acid_needed);
    let milk = &work.told.milk_text;
    let answer = match curd.best.enough {
        None => format!("To curdle fully, at pH 4.6, {milk} wants about {all}."),
        Some(Enough::Yes) => format!("Yes: {milk} wants about {all}."),
        Some(Enough::More { .. }) => {
            format!("More than enough: {milk} wants about {all}. Stop there, since very sour casein begins to dissolve again.")
        }
        Some(Enough::No { share, .. }) => {
            format!("No: that is {} what {milk} wants, though it may look curdled. It wants about {all}.", of_what(share))
        }
    };
    // With more milk than the boards want, the acid for their part alone may well be there.
    if work.used < 0.95 {
        let part = wants(&curd.acid_needed.times(work.used));
        let enough = match curd.best.enough {
            Some(Enough::No { share, .. }) if share >= 1.1 * work.used => "For the part that these boards want it is enough:",
            Some(Enough::No { share, .. }) if share >= 0.85 * work.used => "For the part that these boards want it is just about enough:",
            Some(Enough::No { .. }) => "It is too little for the part that these boards want as well:",
            _ => "The part that these boards want needs",
        };
        format!("{answer} {enough} about {part}.")
    } else {
        answer
    }
}

fn of_what(share: f64) -> String {
    let words = show::times(share);
    if words.ends_with("of") { words } else { format!("{words} of") }.replace("about as much as of", "nearly")
}

/// Area of one face from its sides in millimetres.
pub(crate) fn face(width_mm: f64, height_mm: f64) -> SquareMetres {
    SquareMetres::new(width_mm * height_mm / 1e6)
}
