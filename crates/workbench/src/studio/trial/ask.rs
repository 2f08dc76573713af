//! A question becomes a trial with a drawn plan.

use std::collections::BTreeMap;

use measure::{Sides, Units};
use notebook::{Better as WrittenBetter, Deed, Notebook, Stamp, Trial, TrialKind, Wanted};
use trials::plan::{
    About, Better, Control, CrossedWish, Job, Often, Per, Plan, Setting, StairWish, TrialText, TwoByTwoWish, Value, Way, crossed, stair,
    two_by_two, typed,
};

use super::super::{Studio, StudioError, above_zero, named, one_line, remark};
use super::{recipe_name, trial_of};
use crate::{BOARD_SIDES, Workbench};

/// A trial as typed into a form.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct TypedTrial {
    /// Subject and entry of the trial that is asked anew; empty and 0 for a new one.
    pub change: (String, u64),
    /// `stair`, `two-by-two` or `own`.
    pub kind: String,
    /// The question.
    pub question: String,
    /// Scale.
    pub measure: String,
    /// `smaller` or `larger`.
    pub way: String,
    /// What is compared: for a stair up to two recipes, for two by two a name and two kinds each.
    pub names: BTreeMap<String, String>,
    /// Boards as typed, one a line, or settings to cross.
    pub grid: String,
    /// Numbers: `days`, `boards`, `pots`, `strips`, `sheets`, `coats`.
    pub counts: BTreeMap<String, String>,
    /// Known ground; empty for none.
    pub yardstick: String,
    /// Bought primer; empty for none.
    pub witness: String,
    /// Whether every board of a two by two is a stair.
    pub stairs: bool,
    /// Boards: stuff, maker.
    pub support: String,
    /// Size, such as `20 x 25 cm`.
    pub size: String,
    /// What stays the same.
    pub kept_same: String,
    /// Tool, waits, finish.
    pub method: String,
}

impl Workbench {
    /// Writes a question down with a drawn plan, or asks it anew while its plan is not fixed.
    ///
    /// # Errors
    /// Fields that can't be; a plan that was fixed already.
    pub fn ask_trial(&self, studio: &Studio, form: &TypedTrial, stamp: &Stamp) -> Result<String, StudioError> {
        let question = named(&form.question, "the question", "Does less binder stop the cracks?")?;
        let (better, written) = self.better(&studio.state(), form)?;
        let about = About {
            question: question.clone(),
            better: Some(better),
            controls: controls(form)?,
            sheets: Some(count(form, "sheets", 1)?).filter(|sheets| *sheets > 1),
            ..About::default()
        };
        let (kind, plan) = draw(form, about, stamp.seed())?;
        let (width_mm, height_mm) = board_size(&form.size, &self.units)?.unzip();
        let only_recipe = if kind == TrialKind::Stair {
            form.names.get("recipe_a").map_or_else(String::new, |name| one_line(name))
        } else {
            String::new()
        };
        let names: Vec<String> = plan.boards.iter().map(|board| recipe_name(&plan, board, &only_recipe)).collect();
        let (old, from) = &form.change;
        let subject = if old.is_empty() { stamp.subject("trial", 0) } else { old.clone() };
        let coats = above_zero(form.counts.get("coats").map_or("", String::as_str), "the number of coats", "3")?;
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped between 1 and 40")]
        let coats = coats.map(|coats| coats.round().clamp(1.0, 40.0) as u32);
        let trial = Trial {
            question,
            better: written,
            kind,
            drawn: serde_json::to_string(&plan).map_err(StudioError::typed)?,
            recipes: names.into_iter().map(|name| (name, String::new())).collect(),
            only_recipe: only_recipe.clone(),
            kept_same: remark(&form.kept_same)?,
            support: one_line(&form.support),
            coats,
            width_mm,
            height_mm,
            method: remark(&form.method)?,
        };
        studio.write(stamp, |state| {
            if old.is_empty() {
                return Ok(vec![Wanted::new(&subject, Deed::Trial(trial.clone()))]);
            }
            let known = trial_of(state, old)?;
            if state.plan_of(old).is_some() {
                return Err(StudioError::Typed("the plan of this trial is fixed; ask a new question for a new plan".into()));
            }
            // Recipe texts that still have their board stay.
            let mut again = trial.clone();
            for (name, text) in &mut again.recipes {
                if let Some(told) = known.record.recipes.get(name) {
                    text.clone_from(told);
                }
            }
            Ok(vec![Wanted::edit(&subject, *from, Deed::Trial(again))])
        })?;
        Ok(subject)
    }

    fn better(&self, state: &Notebook, form: &TypedTrial) -> Result<(Better, WrittenBetter), StudioError> {
        let measure = form.measure.trim().to_owned();
        if self.scale(state, &measure).is_none() {
            return Err(StudioError::Typed("choose what you will read off the boards; it is fixed before the first reading".into()));
        }
        let way = match form.way.as_str() {
            "smaller" => Way::Smaller,
            "larger" => Way::Larger,
            _ => return Err(StudioError::Typed("say which is better, less of it or more of it".into())),
        };
        Ok((Better { measure: measure.clone(), way }, WrittenBetter { measure, way: form.way.clone() }))
    }
}

fn controls(form: &TypedTrial) -> Result<Vec<Control>, StudioError> {
    let mut out = Vec::new();
    for (text, job, per) in [(&form.yardstick, Job::Yardstick, Often::Day), (&form.witness, Job::Witness, Often::Trial)] {
        if !one_line(text).is_empty() {
            out.push(Control { name: named(text, "the control's name", "glue and chalk, 1 to 15")?, job, per, boards: 1 });
        }
    }
    Ok(out)
}

fn count(form: &TypedTrial, name: &'static str, usual: u32) -> Result<u32, StudioError> {
    let text = form.counts.get(name).map_or("", |text| text.trim());
    if text.is_empty() {
        return Ok(usual);
    }
    text.parse().map_err(|_| StudioError::Typed(format!("the number of {name} must be a whole number like {usual}")))
}

fn draw(form: &TypedTrial, about: About, seed: u64) -> Result<(TrialKind, Plan), StudioError> {
    let name = |key: &str| form.names.get(key).map_or_else(String::new, |text| one_line(text));
    match form.kind.as_str() {
        "stair" => {
            let (first, second) = (name("recipe_a"), name("recipe_b"));
            let settings = if second.is_empty() {
                Vec::new()
            } else {
                let first = named(&first, "the first recipe's name", "chalk ground")?;
                vec![setting("recipe", &[first, second], Per::Batch)?]
            };
            let wish = StairWish {
                about,
                settings,
                boards: count(form, "boards", 3)?,
                pots: count(form, "pots", 2)?,
                days: count(form, "days", 2)?,
                strips: count(form, "strips", 5)?,
            };
            Ok((TrialKind::Stair, stair(&wish, seed).map_err(StudioError::typed)?))
        }
        "two-by-two" => {
            let two = |which: &str| {
                let kinds = [name(&format!("{which}_a")), name(&format!("{which}_b"))];
                if name(&format!("{which}_name")).is_empty() || kinds.iter().any(String::is_empty) {
                    return Err(StudioError::Typed(format!(
                        "the {which} thing that you change needs a name and two kinds, such as powder: chalk, gypsum"
                    )));
                }
                setting(&name(&format!("{which}_name")), &kinds, Per::Batch)
            };
            let wish = TwoByTwoWish {
                about,
                first: two("first")?,
                second: two("second")?,
                sittings: count(form, "days", 2)?,
                strips: form.stairs.then_some(5),
            };
            Ok((TrialKind::TwoByTwo, two_by_two(&wish, seed).map_err(StudioError::typed)?))
        }
        "own" => Ok((TrialKind::Own, own(form, about, seed)?)),
        _ => Err(StudioError::Typed("choose a road: a stair board, two by two, or boards of your own".into())),
    }
}

/// One setting with its kinds; all numbers make a measured one.
fn setting(name: &str, kinds: &[String], per: Per) -> Result<Setting, StudioError> {
    let name = named(name, "the name of what you change", "powder")?;
    let numbers: Option<Vec<f64>> =
        kinds.iter().map(|kind| kind.replace(',', ".").parse().ok().filter(|number: &f64| number.is_finite())).collect();
    let levels = match numbers {
        Some(mut numbers) => {
            numbers.sort_by(f64::total_cmp);
            numbers.dedup();
            numbers.into_iter().map(Value::Number).collect()
        }
        None => kinds.iter().map(|kind| Value::Kind(kind.clone())).collect(),
    };
    Ok(Setting { name, levels, per })
}

/// Words of a heading that are no setting.
const PLACES: [&str; 5] = ["day", "pot", "sheet", "board", "control"];

/// Boards typed in one a line under a heading, or settings to cross, one a line as `powder: chalk, gypsum`.
fn own(form: &TypedTrial, about: About, seed: u64) -> Result<Plan, StudioError> {
    let lines: Vec<&str> = form.grid.lines().map(str::trim).filter(|line| !line.is_empty()).collect();
    let Some((first, rest)) = lines.split_first() else {
        return Err(StudioError::Typed(
            "type what you change, one a line like \u{201c}powder: chalk, gypsum\u{201d}, or a heading and one board a line".into(),
        ));
    };
    if lines.iter().all(|line| line.contains(':')) {
        let mut settings = Vec::new();
        for line in &lines {
            let (name, kinds) = line.split_once(':').unwrap_or((line, ""));
            let (name, per) = match name.trim().strip_suffix("(per board)") {
                Some(name) => (name, Per::Board),
                None if name.trim().eq_ignore_ascii_case("coats") || name.trim().eq_ignore_ascii_case("support") => (name, Per::Board),
                None => (name, Per::Batch),
            };
            settings.push(setting(name, &cells(kinds), per)?);
        }
        let boards = Some(count(form, "boards", 0)?).filter(|boards| *boards > 0);
        let wish = CrossedWish { about, settings, boards, boards_per_batch: None, days: count(form, "days", 1)? };
        return crossed(&wish, seed).map_err(StudioError::typed);
    }
    let heading: Vec<String> = cells(first).into_iter().map(|cell| cell.to_lowercase()).collect();
    let toml = grid_as_trial(&heading, rest, &about)?;
    let text = TrialText::parse(&toml).map_err(|why| StudioError::Typed(without_lines(&why.to_string())))?;
    typed(&text, Some(seed)).map_err(StudioError::typed)
}

fn cells(line: &str) -> Vec<String> {
    let mark = if line.contains(';') {
        ';'
    } else if line.contains('\t') {
        '\t'
    } else {
        ','
    };
    line.split(mark).map(one_line).collect()
}

/// The typed grid as trial text, so that there is one reader of boards.
fn grid_as_trial(heading: &[String], rows: &[&str], about: &About) -> Result<String, StudioError> {
    let mut table: Vec<Vec<String>> = Vec::new();
    for (at, line) in rows.iter().enumerate() {
        let row = cells(line);
        if row.len() != heading.len() {
            return Err(StudioError::Typed(format!(
                "board line {} has {} entries where the heading has {}: {}",
                at + 1,
                row.len(),
                heading.len(),
                super::super::short(line)
            )));
        }
        table.push(row);
    }
    let column = |at: usize| table.iter().filter_map(move |row| row.get(at)).cloned().collect::<Vec<String>>();
    let settings: Vec<usize> =
        (0..heading.len()).filter(|at| heading.get(*at).is_some_and(|name| !PLACES.contains(&name.as_str()))).collect();
    if settings.is_empty() {
        return Err(StudioError::Typed("the heading names nothing that you change; write something like: day, pot, powder, binder".into()));
    }
    let pot = heading.iter().position(|name| name == "pot");
    let mut lines = vec!["trial = 1".to_owned(), format!("question = {}", quoted(&about.question))];
    if let Some(better) = &about.better {
        let way = if better.way == Way::Larger { "larger" } else { "smaller" };
        lines.push(format!("better = {{ measure = {}, way = \"{way}\" }}", quoted(&better.measure)));
    }
    for at in &settings {
        let values = column(*at);
        let mut kinds: Vec<String> = Vec::new();
        for value in values.iter().filter(|value| !value.is_empty()) {
            if !kinds.contains(value) {
                kinds.push(value.clone());
            }
        }
        let per_pot = pot.is_none_or(|pot| {
            let mut seen: BTreeMap<String, String> = BTreeMap::new();
            column(pot).into_iter().zip(&values).all(|(letter, value)| seen.entry(letter).or_insert_with(|| value.clone()) == value)
        });
        let numeric = kinds.iter().all(|kind| kind.parse::<f64>().is_ok());
        let list: Vec<String> = if numeric { kinds } else { kinds.iter().map(|kind| quoted(kind)).collect() };
        let word = if numeric { "values" } else { "kinds" };
        let per = if per_pot { "batch" } else { "board" };
        lines.push(format!(
            "[[setting]]\nname = {}\n{word} = [{}]\nper = \"{per}\"",
            quoted(heading.get(*at).map_or("", String::as_str)),
            list.join(", ")
        ));
    }
    for control in &about.controls {
        let (job, per) = match control.job {
            Job::Yardstick => ("yardstick", "day"),
            Job::Witness => ("witness", "trial"),
        };
        lines.push(format!("[[control]]\nname = {}\njob = \"{job}\"\nper = \"{per}\"\nboards = 1", quoted(&control.name)));
    }
    for row in &table {
        lines.push("[[board]]".into());
        for (name, value) in heading.iter().zip(row).filter(|(_, value)| !value.is_empty()) {
            let numeric = value.parse::<f64>().is_ok();
            lines.push(match name.as_str() {
                "day" => format!("day = {value}"),
                "pot" => format!("batch = {}", quoted(value)),
                "sheet" => format!("sheet = {}", quoted(value)),
                "board" => format!("id = {}", quoted(value)),
                "control" => format!("job = {}", quoted(&value.to_lowercase())),
                _ if numeric => format!("{} = {value}", quoted(name)),
                _ => format!("{} = {}", quoted(name), quoted(value)),
            });
        }
    }
    Ok(lines.join("\n"))
}

/// A TOML string.
fn quoted(text: &str) -> String {
    serde_json::to_string(text).unwrap_or_default()
}

/// The grid is no file, so line numbers of the text made from it would lead astray.
fn without_lines(text: &str) -> String {
    text.lines()
        .map(|line| line.split_once(": ").filter(|(front, _)| front.starts_with("line ")).map_or(line, |(_, rest)| rest))
        .collect::<Vec<_>>()
        .join(" ")
}

/// Width and height of a board in millimetres from text such as `20 x 25 cm`, `8 x 10 in`; none where none is told.
pub(crate) fn board_size(text: &str, units: &Units) -> Result<Option<(f64, f64)>, StudioError> {
    if text.trim().is_empty() {
        return Ok(None);
    }
    Ok(Some(Sides::read(text, units, BOARD_SIDES).map_err(StudioError::typed)?.mm()))
}
