//! The one thing to do next, found from what the readings lack most.

use statistics::{least_fisher, least_shuffled};

use super::effects::limit;
use super::model::{Change, Effect, Measured, Question, Tangle, Verdict, Way};
use super::readings::Job;
use super::rules::Rules;

/// More boards a side than this are no advice.
const MOST_MORE: usize = 40;

pub(super) fn next(measures: &[Measured], blamed: Option<&str>, question: &Question, rules: &Rules) -> Change {
    let change = |what: String, why: String| Change { what, why };
    if let Some(measure) = blamed {
        return change(
            "Stop and look at the wood, the air and the hand before another recipe is tried.".into(),
            format!("The witness gave way too ({measure}), and it shares nothing with the recipes but the support."),
        );
    }
    let Some(first) = measures.first() else {
        return change("Read the boards once more.".into(), "There is no reading to work with.".into());
    };
    if first.boards < 2 {
        return change(
            "Make repeat boards, and a yardstick board of a known ground on the same day.".into(),
            "One board can't tell a recipe from luck.".into(),
        );
    }
    // What only rests on little is worth untying where there is something to rest on it.
    let pressing = |tangle: &&Tangle| tangle.whole || first.verdict != Verdict::CannotTell || first.refused.is_some();
    if let Some((tangle, add)) = first.tangles.iter().filter(pressing).find_map(|tangle| Some((tangle, tangle.add.first()?))) {
        let rest = tangle.add.get(1).map_or_else(String::new, |more| format!(" and {more}"));
        return change(format!("Make {add}{rest}."), tangle.text.clone());
    }
    let recipes = first.groups.iter().filter(|group| group.job == Job::Recipe).count();
    let yardstick = first.groups.iter().any(|group| group.job == Job::Yardstick);
    if recipes < 2 && !yardstick {
        return change(
            "Make a yardstick: boards of a known ground of the same family on the same day.".into(),
            "There is nothing that these boards could be compared with.".into(),
        );
    }
    let Some(effect) = first.lead.and_then(|at| first.effects.get(at)) else {
        return change("Make boards of a second recipe on the same day.".into(), "There is no difference to read yet.".into());
    };
    let sides = if effect.name == "recipe" {
        format!("{} and {}", effect.from, effect.to)
    } else {
        format!("{} {} and {}", effect.name, effect.from, effect.to)
    };
    match effect.verdict {
        Verdict::Told => towards(first, effect, question),
        Verdict::Leans | Verdict::CannotTell => {
            if let Some(more) = more_boards(first, effect, limit(&first.effects, rules)) {
                let boards =
                    if more == 1 { "one more pot and board".to_owned() } else { format!("{more} more boards, each from its own pot,") };
                return change(
                    format!("Make {boards} of {sides}, on one and the same day."),
                    "So few boards can't part luck from a difference, however clear they look.".into(),
                );
            }
            if effect.verdict == Verdict::Leans {
                return towards(first, effect, question);
            }
            if !yardstick {
                return change(
                    "Add a yardstick board of a known ground to the next day.".into(),
                    "It tells what the day did, so that the boards can be compared across days.".into(),
                );
            }
            change(
                format!("Take a wider step between {sides}, and leave everything else as it is."),
                "The difference is smaller than boards of one kind differ among themselves.".into(),
            )
        }
    }
}

fn towards(first: &Measured, effect: &Effect, question: &Question) -> Change {
    let up = effect.figure.as_ref().is_ok_and(|figure| figure.value > 0.0);
    let better = match first.smaller_figure_is_better(question.smaller_is_better) {
        Some(smaller) => {
            if up == smaller {
                &effect.from
            } else {
                &effect.to
            }
        }
        None => {
            return Change {
                what: "Say which way is better, then take one step that way and leave everything else as it is.".into(),
                why: "The boards speak for a difference; whether it is wanted is yours to say.".into(),
            };
        }
    };
    if effect.name == "recipe" {
        return Change {
            what: format!("Make {better} once more from a new pot, beside the yardstick, and change one thing in it at a time."),
            why: "It looks better; a recipe that was picked out looks better than it is until it is made again.".into(),
        };
    }
    Change {
        what: format!("Go on from {} {better}: take one step more the same way, and leave everything else as it is.", effect.name),
        why: "That side looks better; one change at a time keeps it readable.".into(),
    }
}

/// Fewest boards more on each side, all on one further day, with which some result could part them; `None` when the split could
/// already.
fn more_boards(measured: &Measured, effect: &Effect, limit: f64) -> Option<usize> {
    if measured.could_tell {
        return None;
    }
    let sizes = effect.test.as_ref().map(|test| test.groups.clone()).unwrap_or_default();
    (1..=MOST_MORE).find(|more| {
        let mut split = sizes.clone();
        split.push((*more, *more));
        let least = if measured.way == Way::YesNo { least_fisher(&split) } else { least_shuffled(&split) };
        least <= limit
    })
}
