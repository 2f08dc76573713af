//! What can be measured of a binder: how it is typed, and how it is said.

use notebook::BinderSeen;
use show::{BinderAsk, plain};

use super::TypedBinderSeen;
use crate::studio::{StudioError, above_zero, number, one_line, short};

/// Name of the kind, in words, how it is typed.
const KINDS: [(&str, &str, &str); 9] = [
    ("ph", "What does pH paper say?", "4.6"),
    ("curd_weight", "What does the drained curd weigh, in g?", "412"),
    ("dishes", "Spoonfuls dried, wet:dry in g", "10.2:2.5, 9.8:2.4"),
    ("contents", "What is in the jar, in g, without the jar?", "880"),
    ("base_added", "What truly went in to open it?", "1 tsp baking soda"),
    ("water_added", "How much water truly went in, in g?", "450"),
    ("whey", "How much whey ran off, in ml?", "1500"),
    ("taken", "How much was taken out, in g?", "120"),
    ("stands", "Where does it stand from now on?", "fridge"),
];

/// What is asked at a step.
pub(crate) fn asks(kinds: &[String]) -> Vec<BinderAsk> {
    let find = |kind: &String| KINDS.iter().find(|(what, ..)| what == kind);
    kinds.iter().filter_map(find).map(|(what, label, example)| BinderAsk { what, label, example }).collect()
}

/// All that can be measured on this road.
pub(super) fn asks_of(glue: bool) -> Vec<BinderAsk> {
    const NOT_OF_GLUE: [&str; 4] = ["ph", "curd_weight", "base_added", "whey"];
    let asked = KINDS.iter().filter(|(what, ..)| !(glue && NOT_OF_GLUE.contains(what)));
    asked.map(|(what, label, example)| BinderAsk { what, label, example }).collect()
}

/// Most dishes of one measurement.
const MOST_DISHES: usize = 20;
/// How far wide pH paper may be off, one standard deviation (common practice, no source).
const WIDE_PAPER: f64 = 0.3;

pub(super) fn seen(typed: &TypedBinderSeen) -> Result<BinderSeen, StudioError> {
    let value = |what: &str, example: &str| {
        above_zero(&typed.value, what, example)?.ok_or_else(|| StudioError::Typed(format!("{what} is missing; write it like {example}")))
    };
    let lines = || typed.more.lines().map(one_line).filter(|line| !line.is_empty());
    Ok(match typed.what.as_str() {
        "ph" => {
            let ph = value("the pH", "4.6")?;
            if !(1.0..=14.0).contains(&ph) {
                return Err(StudioError::Typed("pH paper reads from 1 to 14; write it like 4.6".into()));
            }
            let slack = above_zero(&typed.slack, "how far the paper may be off", "0.3")?.unwrap_or(WIDE_PAPER);
            if slack > 2.0 {
                return Err(StudioError::Typed("paper that may be off by more than 2 says nothing; take another".into()));
            }
            BinderSeen::Ph { ph, slack, poured: lines().collect() }
        }
        "curd_weight" => BinderSeen::CurdWeight { grams: value("the weight of the curd", "412")? },
        "dishes" => BinderSeen::Dishes { dishes: pairs(&typed.value)? },
        "contents" => BinderSeen::Contents { grams: value("what is in the jar", "880")? },
        "base_added" => {
            let told = one_line(&typed.value);
            if told.is_empty() {
                return Err(StudioError::Typed("say what went in to open it, such as \u{201c}1 tsp baking soda\u{201d}".into()));
            }
            BinderSeen::BaseAdded { told }
        }
        "water_added" => BinderSeen::WaterAdded { grams: value("the water", "450")? },
        "whey" => BinderSeen::Whey { ml: value("the whey", "1500")? },
        "taken" => BinderSeen::Taken { grams: value("what was taken out", "120")?, what_for: one_line(&typed.more) },
        "stands" => match typed.value.trim() {
            "fridge" => BinderSeen::Stands { cold: true },
            "room" => BinderSeen::Stands { cold: false },
            _ => return Err(StudioError::Typed("say where it stands: fridge or room".into())),
        },
        _ => return Err(StudioError::Typed("choose what you measured from the list".into())),
    })
}

fn pairs(text: &str) -> Result<Vec<(f64, f64)>, StudioError> {
    let pieces: Vec<String> = text.replace(';', " ").split_whitespace().map(str::to_owned).collect();
    if pieces.is_empty() || pieces.len() > MOST_DISHES {
        return Err(StudioError::Typed(format!("write 1 to {MOST_DISHES} dishes, wet and dry weight of each, like 10.2:2.5, 9.8:2.4")));
    }
    let pair = |piece: &String| {
        let slip = || StudioError::Typed(format!("\u{201c}{}\u{201d} is no pair; write wet and dry weight like 10.2:2.5", short(piece)));
        let (wet, dry) = piece.trim_end_matches(',').split_once([':', '/']).ok_or_else(slip)?;
        let of = |text: &str| number(text, "a weight", "10.2").ok().flatten();
        Ok((of(wet).ok_or_else(slip)?, of(dry).ok_or_else(slip)?))
    };
    pieces.iter().map(pair).collect()
}

/// A measurement in words.
pub(super) fn said(seen: &BinderSeen) -> String {
    match seen {
        BinderSeen::Ph { ph, slack, .. } => format!("pH {} by paper, which may be off by {}", plain(*ph), plain(*slack)),
        BinderSeen::CurdWeight { grams } => format!("the curd weighs {}\u{a0}g", plain(*grams)),
        BinderSeen::Dishes { dishes } => {
            dishes.iter().map(|(wet, dry)| format!("{}\u{a0}g dried to {}\u{a0}g", plain(*wet), plain(*dry))).collect::<Vec<_>>().join(", ")
        }
        BinderSeen::Contents { grams } => format!("{}\u{a0}g in the jar", plain(*grams)),
        BinderSeen::BaseAdded { told } => format!("{told} went in"),
        BinderSeen::WaterAdded { grams } => format!("{}\u{a0}g of water went in", plain(*grams)),
        BinderSeen::Whey { ml } => format!("{}\u{a0}ml of whey ran off", plain(*ml)),
        BinderSeen::Taken { grams, what_for } if what_for.is_empty() => format!("{}\u{a0}g taken out", plain(*grams)),
        BinderSeen::Taken { grams, what_for } => format!("{}\u{a0}g taken out: {what_for}", plain(*grams)),
        BinderSeen::Stands { cold: true } => "put into the fridge".into(),
        BinderSeen::Stands { cold: false } => "stands in the room".into(),
    }
}
