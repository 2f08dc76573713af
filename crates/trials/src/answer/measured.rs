//! The whole answer: every measure folded, compared and judged.

use std::collections::BTreeMap;

use super::effects::{limit, settle};
use super::factors::Design;
use super::fold::fold;
use super::model::{Answer, Effect, Group, Measured, Note, Question, Tangle, Unit, UnitIs, Verdict, Way};
use super::next::next;
use super::readings::{Job, Kind, Readings};
use super::recipes::recipe_effects;
use super::rules::Rules;
use super::tangles::{many_at_once, recipe_days, setting_tangles, single_pots};
use super::thresholds::Believed;
use super::witness::support_to_blame;

/// Why there is no answer at all.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Unanswered {
    /// No such measure in the table.
    #[error("there are no readings of `{named}`; the table holds {known}")]
    NoSuchMeasure {
        /// What was asked for.
        named: String,
        /// What there is.
        known: String,
    },
}

/// Answers what the readings can answer.
///
/// # Errors
/// [`Unanswered`] when the measure that is asked for is not in the table.
///
/// ```
/// use trials::answer::{Question, Rules, answer, read};
/// let mut table = String::from("board,measure,value,kind,recipe\n");
/// for board in 0..4 {
///     table += &format!("A{board},cracked,yes,yes_no,A\nB{board},cracked,no,yes_no,B\n");
/// }
/// let answer = answer(&read(&table).unwrap(), &Question::default(), Rules::builtin()?).unwrap();
/// // Four against four, all and none: 2 of 70 (Fisher).
/// let test = answer.measures[0].effects[0].test.as_ref().unwrap();
/// assert!((test.p - 2.0 / 70.0).abs() < 1e-12);
/// # Ok::<(), trials::answer::RulesError>(())
/// ```
pub fn answer(readings: &Readings, question: &Question, rules: &Rules) -> Result<Answer, Unanswered> {
    let mut wanted: Vec<usize> = (0..readings.measures.len()).collect();
    if let Some(named) = &question.measure {
        wanted.retain(|&at| readings.measures.get(at).is_some_and(|(name, _)| name == named));
        if wanted.is_empty() {
            let known: Vec<&str> = readings.measures.iter().map(|(name, _)| name.as_str()).collect();
            return Err(Unanswered::NoSuchMeasure { named: named.clone(), known: known.join(", ") });
        }
    } else {
        // Thicknesses of strips are marks for other measures, no result of their own.
        let marks = |at: usize| {
            let thickness = readings.measures.get(at).is_some_and(|(_, kind)| *kind == Kind::Thickness);
            thickness && readings.rows.iter().filter(|row| row.measure == at).all(|row| row.strip.is_some())
        };
        if wanted.iter().any(|&at| !marks(at)) {
            wanted.retain(|&at| !marks(at));
        }
    }
    // In order of name, so that the order of lines does not matter.
    wanted.sort_by_key(|&at| readings.measures.get(at).map(|(name, _)| name.clone()));
    let mut notes = Vec::new();
    let mut blamed = None;
    let measures: Vec<Measured> = wanted
        .into_iter()
        .map(|at| {
            let (measured, to_blame) = one(readings, at, question, rules, &mut notes);
            if to_blame && blamed.is_none() {
                blamed = Some(measured.measure.clone());
            }
            measured
        })
        .collect();
    let next = next(&measures, blamed.as_deref(), question, rules);
    Ok(Answer { measures, next, notes })
}

fn one(readings: &Readings, at: usize, question: &Question, rules: &Rules, notes: &mut Vec<Note>) -> (Measured, bool) {
    let (measure, kind) = readings.measures.get(at).cloned().unwrap_or_else(|| (String::new(), Kind::Number));
    let folded = fold(readings, at);
    notes.extend(folded.notes);
    let (way, mut units) = (folded.way, folded.units);
    let (mut effects, mut tangles, mut thresholds) = (Vec::new(), Vec::new(), Vec::new());
    let groups = groups(way, &units);
    let recipes = groups.iter().filter(|group| group.job == Job::Recipe).count();
    let believed = matches!(way, Way::Between | Way::Stair { measured: true }).then(|| Believed::of(&units, question, rules)).flatten();
    if let Some(believed) = &believed {
        thresholds = believed.thresholds(&units);
        if !believed.told() {
            notes.push(Note {
                id: "nothing expected",
                text: format!("Nothing was expected of {measure} beforehand, so the middle of all marks stands in, loosely. Say what you expect to lean on it more."),
                at: measure.clone(),
            });
        }
    }
    let mut varying = folded.varying;
    let mut names = readings.factors.clone();
    let unnamed = readings.boards.iter().all(|board| board.job != Job::Recipe || board.recipe.is_empty());
    if let Some(rest) = rest_of_shares(&units, &varying, &readings.shares) {
        let name = names.get(rest).cloned().unwrap_or_default();
        let text = format!(
            "The shares add up to the same on every board, so {name} is taken as the rest: more of another share is less of {name}."
        );
        notes.push(Note { id: "rest", text, at: measure.clone() });
        varying.retain(|at| *at != rest);
    }
    let within = !unnamed && vary_within(&units, &varying);
    if within && recipes > 1 {
        // The recipe is one more thing that was varied.
        varying.push(names.len());
        names.push("recipe".to_owned());
        for unit in &mut units {
            unit.settings.push(unit.group.clone());
        }
    }
    // Two named recipes are compared as they are; settings that only differ between them can't be parted anyway. Where the settings
    // were the question that would answer another one.
    let settings_asked = question.by_settings && varying.len() > 1;
    let as_recipes = recipes <= 2 && !unnamed && !within && !settings_asked;
    if varying.is_empty() || as_recipes {
        effects.extend(recipe_effects(way, &units, believed.as_ref(), rules));
        tangles.extend(many_at_once(&units, &names, &varying));
        tangles.extend(recipe_days(&units));
    } else {
        let design = Design::of(&units, &names, &varying, way);
        tangles.extend(setting_tangles(&design));
        effects.extend(design.effects(way, believed.as_ref(), rules));
        effects.extend(
            recipe_effects(way, &units, believed.as_ref(), rules)
                .into_iter()
                .filter(|effect| units.iter().any(|unit| unit.job == Job::Yardstick && unit.group == effect.from))
                .map(|mut effect| {
                    effect.asked = false;
                    effect
                }),
        );
    }
    tangles.extend(single_pots(&units, folded.is));
    let lead = settle(&mut effects, &tangles, rules);
    let verdict = lead.and_then(|at| effects.get(at)).map_or(Verdict::CannotTell, |effect| effect.verdict);
    let most = limit(&effects, rules);
    let could_tell = lead.and_then(|at| effects.get(at)).and_then(|effect| effect.test.as_ref()).is_some_and(|test| test.least_p <= most);
    let refused = refusal(folded.boards, recipes, &effects, &tangles, &measure);
    let to_blame = support_to_blame(way, &units, question.smaller_is_better == Some(false));
    let symbol = match way {
        Way::Stair { measured: true } => "um",
        Way::Stair { measured: false } => "1",
        _ => kind.unit(),
    };
    let (boards, batches, unit) = (folded.boards, folded.batches, folded.is);
    (
        Measured {
            measure,
            kind,
            way,
            unit,
            boards,
            batches,
            groups,
            units,
            effects,
            lead,
            tangles,
            thresholds,
            could_tell,
            verdict,
            refused,
            symbol,
        },
        to_blame,
    )
}

/// The largest of several shares that add up to the same on every board: it can't move by itself.
fn rest_of_shares(units: &[Unit], varying: &[usize], shares: &[usize]) -> Option<usize> {
    let moved: Vec<usize> = varying.iter().copied().filter(|at| shares.contains(at)).collect();
    if moved.len() < 2 {
        return None;
    }
    let of = |unit: &Unit, at: usize| unit.settings.get(at).and_then(|text| text.parse::<f64>().ok());
    let recipes = || units.iter().filter(|unit| unit.job == Job::Recipe);
    let sums: Option<Vec<f64>> = recipes().map(|unit| moved.iter().map(|&at| of(unit, at)).sum::<Option<f64>>()).collect();
    let sums = sums?;
    let first = *sums.first()?;
    if sums.iter().any(|sum| (sum - first).abs() > 1e-6 * first.abs().max(1e-9)) {
        return None;
    }
    let mean = |at: usize| recipes().filter_map(|unit| of(unit, at)).sum::<f64>();
    moved.into_iter().max_by(|a, b| mean(*a).total_cmp(&mean(*b)).then(b.cmp(a)))
}

/// Whether a setting varies among boards of one recipe.
fn vary_within(units: &[Unit], varying: &[usize]) -> bool {
    let mut known: BTreeMap<&str, Vec<Option<&String>>> = BTreeMap::new();
    units.iter().filter(|unit| unit.job == Job::Recipe).any(|unit| {
        let own: Vec<Option<&String>> = varying.iter().map(|&at| unit.settings.get(at)).collect();
        *known.entry(&unit.group).or_insert_with(|| own.clone()) != own
    })
}

/// Why nothing could be worked out, with the mend.
fn refusal(boards: usize, recipes: usize, effects: &[Effect], tangles: &[Tangle], measure: &str) -> Option<String> {
    if boards == 0 {
        return Some(format!("All boards of {measure} are lost or unread. Read what is left, or make them again."));
    }
    if boards == 1 {
        return Some(format!(
            "There is one board with {measure}. One board can't tell a recipe from luck: make repeat boards and a yardstick."
        ));
    }
    if effects.is_empty() && recipes > 1 {
        return Some("There are more recipes and settings than boards could part. Keep one question in one table.".into());
    }
    if effects.is_empty() {
        return Some("There is nothing to compare these boards with: make a yardstick, boards of a known ground, on the same day.".into());
    }
    // Differences to the yardstick may be known where nothing that was asked is.
    let mut asked = effects.iter().filter(|effect| effect.asked).peekable();
    if asked.peek().is_some()
        && asked.all(|effect| effect.figure.is_err())
        && let Some(tangle) = tangles.iter().find(|tangle| tangle.whole)
    {
        return Some(format!("It can't be told what {} did: they never moved apart.", tangle.effects.join(" and ")));
    }
    if effects.iter().any(|effect| effect.figure.is_ok()) {
        return None;
    }
    let why = effects.iter().find(|effect| effect.asked).or(effects.first()).and_then(|effect| effect.figure.as_ref().err());
    Some(format!("Too few boards to tell: {}.", why.map_or("no difference can be had", String::as_str)))
}

fn groups(way: Way, units: &[Unit]) -> Vec<Group> {
    let mut found: BTreeMap<(Job, &str), Vec<&Unit>> = BTreeMap::new();
    for unit in units {
        found.entry((unit.job, &unit.group)).or_default().push(unit);
    }
    found
        .into_iter()
        .map(|((job, name), units)| {
            let boards = units.iter().map(|unit| unit.boards.len()).sum();
            let weight = |unit: &&&Unit| unit.boards.len() as f64;
            let yes: f64 = units.iter().map(|unit| unit.seen.low * weight(&unit)).sum();
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "at most as many as boards")]
            let yes = (way == Way::YesNo).then(|| (yes.round() as u32, u32::try_from(boards).unwrap_or(u32::MAX)));
            let exact: Option<Vec<f64>> = units.iter().map(|unit| unit.seen.exact()).collect();
            let mean = exact.map(|list| list.iter().sum::<f64>() / list.len() as f64);
            Group { name: name.to_owned(), job, boards, units: units.len(), yes, mean }
        })
        .collect()
}

/// Whether pots were counted because one made several boards of a recipe.
impl UnitIs {
    /// `board` or `batch`.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Board => "board",
            Self::Batch => "batch",
        }
    }
}
