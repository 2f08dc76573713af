//! Tangles in the painter's words: what it is, what it means, the cheapest mend.

use super::{ExtraBoard, TangleKind};

/// Names in quotes: “a”, “b” and “c”.
pub(super) fn listed(names: &[String]) -> String {
    let quoted: Vec<String> = names.iter().map(|name| format!("“{name}”")).collect();
    joined(&quoted)
}

/// a, b and c.
pub(super) fn joined(items: &[String]) -> String {
    match items {
        [] => String::new(),
        [one] => one.clone(),
        [rest @ .., last] => format!("{} and {last}", rest.join(", ")),
    }
}

/// A small number as a word.
pub(super) fn count(number: usize) -> String {
    const WORDS: [&str; 11] = ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"];
    WORDS.get(number).map_or_else(|| number.to_string(), ToString::to_string)
}

/// With a capital at the head.
pub(super) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// One board, named by what matters here.
fn board(extra: &ExtraBoard, effects: &[String]) -> String {
    let mut said: Vec<String> =
        extra.settings.iter().filter(|(name, _)| effects.contains(name)).map(|(name, value)| format!("{name} {value}")).collect();
    if extra.shares.keys().any(|name| effects.contains(name)) {
        let blend: Vec<String> = extra.shares.iter().map(|(name, share)| format!("{share} {name}")).collect();
        said.push(format!("a blend of {}", joined(&blend)));
    }
    if let Some(day) = extra.day {
        said.push(format!("day {day}"));
    }
    if let Some(sheet) = &extra.sheet {
        said.push(format!("sheet {sheet}"));
    }
    joined(&said)
}

/// The mend: which boards, or why none is named.
fn mend(add: &[ExtraBoard], effects: &[String], would: &str) -> String {
    if add.is_empty() {
        return "No few boards would mend it: leave one of them out, or cross them from the start.".to_owned();
    }
    let boards: Vec<String> = add.iter().map(|extra| format!("one with {}", board(extra, effects))).collect();
    let plural = if add.len() == 1 { "board" } else { "boards" };
    format!("{} more {plural} {would}: {}.", capital(&count(add.len())), boards.join("; "))
}

pub(super) fn exact(kind: TangleKind, effects: &[String], add: &[ExtraBoard], boards: usize) -> String {
    let others: Vec<String> = effects.iter().filter(|name| !["day", "sheet"].contains(&name.as_str())).cloned().collect();
    let said = match kind {
        TangleKind::WithDay | TangleKind::WithSheet => {
            let (what, blamed) = if kind == TangleKind::WithDay {
                ("day", "the weather, the hand or the wood of that day")
            } else {
                ("sheet of wood", "the wood of that sheet")
            };
            let verb = if others.len() == 1 { "moves" } else { "together move" };
            format!("{} {verb} with the {what}: whatever you see, {blamed} may have done it.", listed(&others))
        }
        _ if effects.len() == 2 => {
            format!("{} always changed together: whatever cracks, these boards can't say which of the two did it.", listed(effects))
        }
        _ => format!(
            "{} hang together on all {boards} boards: know all but one and you know the last, so these boards can't say which did it.",
            listed(effects)
        ),
    };
    format!("{said} {}", mend(add, effects, "would part them"))
}

pub(super) fn half(effects: &[String], times: Option<f64>, add: &[ExtraBoard]) -> String {
    // A whole number is enough for "about so many times".
    let more = times.map(f64::round).filter(|times| *times >= 2.0).map_or_else(
        || "telling them apart takes more boards than it need".to_owned(),
        |times| format!("telling them apart takes about {times} times the boards"),
    );
    format!("{} mostly changed together: {more}. {}", listed(effects), mend(add, effects, "would loosen it"))
}

pub(super) fn leaning(kind: TangleKind, name: &str, mostly: bool) -> String {
    let how = if mostly { "mostly moves" } else { "leans" };
    let (with, mend) = if kind == TangleKind::WithDay {
        ("the day", "Make every recipe on every day, and compare each board with the yardstick of its own day first")
    } else {
        ("the sheet of wood", "Cut the boards anew so that every recipe stands on every sheet")
    };
    let joint = if mostly { "with" } else { "on" };
    format!("“{name}” {how} {joint} {with}, so part of what it seems to do may be {with}. {mend}.")
}

pub(super) fn with_position(kind: TangleKind, name: &str, drawn: bool) -> String {
    let (what, note) = if kind == TangleKind::WithOrder {
        ("the turn: one side of it is laid early and the other late", "Note the hours since mixing on every board")
    } else {
        ("the place on the shelf: one side of it dries here and the other there", "Change the ends of the shelf half-way")
    };
    let mend = if drawn { "The draw happened to fall so; another seed gives another order" } else { "Let the order be drawn" };
    format!("“{name}” goes with {what}. {mend}, or keep it. {note}.")
}

pub(super) fn no_honest_error(add: &[ExtraBoard], effects: &[String]) -> String {
    let which = add.first().map(|extra| board(extra, effects)).filter(|said| !said.is_empty());
    let which = which.map_or_else(String::new, |said| format!(", say with {said},"));
    format!(
        "Nothing shows how far pots differ: each recipe rests on one pot. Boards from one pot share its luck, so a poor \
         pot makes its recipe look poor. A second pot of one recipe{which} would show it; a second pot of each is better."
    )
}

fn said_settings(extra: &ExtraBoard) -> String {
    let said: Vec<String> = extra.settings.iter().map(|(name, value)| format!("{name} {value}")).collect();
    joined(&said)
}

pub(super) fn one_pot(name: &str, level: &str, letter: &str, boards: usize) -> String {
    format!(
        "All {} boards with {name} {level} come from pot {letter}. If that pot is unlucky, {name} {level} looks bad. Mix a second pot with \
         it.",
        count(boards)
    )
}

pub(super) fn no_repeats(add: &[ExtraBoard]) -> String {
    let which = add.first().map(said_settings).filter(|said| !said.is_empty());
    let which = which.map_or_else(|| "one recipe".to_owned(), |said| format!("one of them, say {said},"));
    format!(
        "There are no repeat boards, so nothing shows how far two equal boards differ. Make {which} a second time from a pot of its own."
    )
}

pub(super) fn no_control(what: &str, bare: &[String]) -> String {
    let plural = if bare.len() == 1 { "" } else { "s" };
    format!(
        "There is no yardstick on {what}{plural} {}: if all boards there crack, nothing says whether it was the recipes or the {what}. Add \
         one board of a known ground to each.",
        joined(bare)
    )
}

pub(super) fn never_changes(name: &str) -> String {
    format!("“{name}” is the same on all boards, so they say nothing about it. Change it on some, or take it off the list of settings.")
}

pub(super) fn hidden(name: &str, product: &str) -> String {
    let pair: Vec<String> = product.split(" × ").map(str::to_owned).collect();
    format!(
        "If {} do something together that neither does alone, it shows up as “{name}”. Make the combinations that are missing, if that \
         could be.",
        listed(&pair)
    )
}
