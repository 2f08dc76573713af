//! An answer in sentences: the size and its range first, what the boards say after it, always with the number of boards.

use std::collections::BTreeMap;

use measure::{Figure as Drawn, Unit as Symbol};
use show::{number, plain, range, write};
use statistics::most_when_none;
use trials::answer::{Effect, Group, Job, Measured, Tangle, Threshold, UnitIs, Verdict, Way};

/// A unit as a painter reads it.
pub(super) fn unit_word(symbol: &str) -> &'static str {
    match symbol {
        "um" => "µm",
        "mm" => "mm",
        "d" => "days",
        _ => "",
    }
}

/// What boards with a yes did.
fn did(measure: &str) -> String {
    match measure.to_lowercase().as_str() {
        "cracked" | "cracking" | "cracks" | "crack" => "cracked".to_owned(),
        "flaked" | "flaking" | "flakes" => "flaked".to_owned(),
        "peeled" | "peeling" | "peels" => "peeled".to_owned(),
        _ => format!("showed {}", spoken(measure)),
    }
}

/// A measure's short name as it is said.
fn spoken(measure: &str) -> String {
    measure.replace('_', " ")
}

fn with_unit(text: &str, symbol: &str) -> String {
    let unit = unit_word(symbol);
    if unit.is_empty() { text.to_owned() } else { format!("{text}\u{a0}{unit}") }
}

fn drawn(figure: &trials::answer::Figure) -> Drawn {
    Drawn { key: "difference", value: figure.value, low: figure.low, high: figure.high, unit: Symbol::One }
}

/// The first sentence of a measure.
pub(super) fn sentence(measured: &Measured, smaller: Option<bool>) -> String {
    let seen = counted(measured);
    if let Some(why) = &measured.refused {
        return format!("{seen} {why}").trim().to_owned();
    }
    let Some(effect) = measured.lead.and_then(|at| measured.effects.get(at)) else { return seen };
    // Where one setting changes what another does, there is no single difference to speak of.
    let split: Vec<&Effect> = measured.effects.iter().filter(|one| one.name == effect.name && !one.within.is_empty()).collect();
    let size = if split.is_empty() {
        difference(measured, effect)
    } else {
        let each: Vec<String> = split.iter().map(|one| format!("with {}: {}", one.within, difference(measured, one))).collect();
        format!("What {} does depends on the rest. {}", effect.name, show::capital(&each.join(" ")))
    };
    format!("{seen} {size} {}", says(measured, effect, smaller)).trim().to_owned()
}

/// The shortest true answer, for the largest type: size and range, number of boards, what they say.
pub(super) fn headline(measured: &Measured, smaller: Option<bool>) -> String {
    if let Some(why) = &measured.refused {
        return show::capital(why);
    }
    let Some(effect) = measured.lead.and_then(|at| measured.effects.get(at)) else { return counted(measured) };
    if let (Verdict::CannotTell, Some(tangle)) =
        (measured.verdict, measured.tangles.iter().find(|tangle| tangle.whole && tangle.effects.len() > 1))
    {
        return format!("It can't be told: {} always changed together.", tangle.effects.join(" and "));
    }
    let says = says(measured, effect, smaller);
    let split: Vec<&Effect> = measured.effects.iter().filter(|one| one.name == effect.name && !one.within.is_empty()).collect();
    if !split.is_empty() {
        let each: Vec<String> = split.iter().filter_map(|one| Some(format!("{} with {}", step(measured, one)?, one.within))).collect();
        let sides = format!("{} against {}", side(effect, &effect.to), effect.from);
        return format!("{}: {}. {says}", show::capital(&sides), each.join(", "));
    }
    match (measured.way, step(measured, effect)) {
        (Way::Class | Way::Plain, Some(step)) => {
            let (to, from) = (side(effect, &effect.to), side(effect, &effect.from));
            format!("{}: {step} than {from}, on {} boards. {says}", show::capital(&to), measured.boards)
        }
        _ => format!("{} {says}", difference(measured, effect)),
    }
}

/// A difference of plain numbers in words, such as `2.5 more (1.8 to 3.2)`.
fn step(measured: &Measured, effect: &Effect) -> Option<String> {
    let figure = effect.figure.as_ref().ok()?;
    let turned =
        if figure.value < 0.0 { trials::answer::Figure { value: -figure.value, low: -figure.high, high: -figure.low } } else { *figure };
    let written = write(&drawn(&turned));
    let more = if figure.value < 0.0 { "less" } else { "more" };
    let unit = if measured.way == Way::Class { " steps" } else { "" };
    Some(format!("{}{unit} {more} ({})", with_unit(&written.value, measured.symbol), written.range))
}

/// Recipes named in one sentence; more are only counted.
const MOST_NAMED: usize = 8;

/// Boards of every recipe and what they read.
pub(super) fn counted(measured: &Measured) -> String {
    let mut parts = Vec::new();
    for (index, group) in measured.groups.iter().filter(|group| group.job != Job::Witness).enumerate() {
        let name = match group.job {
            Job::Yardstick if group.name != "yardstick" => format!("the yardstick, {}", group.name),
            Job::Yardstick => "the yardstick".to_owned(),
            _ => group.name.clone(),
        };
        let text = match (measured.way, group.yes, group.mean) {
            (Way::YesNo, Some((yes, all)), _) => share(yes, all, &measured.measure, index == 0),
            (Way::Stair { .. } | Way::Between, ..) => boards_of(group),
            // Classes go by halves; a second decimal would claim more than an eye can.
            (Way::Class, _, Some(mean)) => format!("{} on {}", number(mean, 1), boards_of(group)),
            (_, _, Some(mean)) => format!("{} on {}", with_unit(&plain(mean), measured.symbol), boards_of(group)),
            _ => boards_of(group),
        };
        parts.push(format!("{name}: {text}"));
    }
    let left = parts.len().saturating_sub(MOST_NAMED);
    parts.truncate(MOST_NAMED);
    if left > 0 {
        parts.push(format!("and {left} more"));
    }
    if parts.is_empty() { String::new() } else { format!("{}.", show::capital(&parts.join("; "))) }
}

fn boards_of(group: &Group) -> String {
    if group.boards == 1 { "1 board".to_owned() } else { format!("{} boards", group.boards) }
}

fn share(yes: u32, all: u32, measure: &str, whole: bool) -> String {
    let (of, verb) = if whole { (if all == 1 { " board" } else { " boards" }, format!(" {}", did(measure))) } else { ("", String::new()) };
    if yes == 0 { format!("none of {all}{of}{verb}") } else { format!("{yes} of {all}{of}{verb}") }
}

/// One difference in a sentence.
fn difference(measured: &Measured, effect: &Effect) -> String {
    let Ok(figure) = &effect.figure else {
        return effect.figure.as_ref().err().map_or_else(String::new, |why| format!("{}: {why}.", sides(effect)));
    };
    if measured.way == Way::YesNo {
        let (to, from, did) = (side(effect, &effect.to), side(effect, &effect.from), did(&measured.measure));
        let likely = ten_range(figure.low, figure.high);
        return if number(figure.value.abs() * 10.0, 0) == "0" {
            format!("With {to}, about as many boards {did} as with {from}: in ten boards likely {likely}.")
        } else {
            format!("With {to}, {} boards in ten {did} than with {from}: likely {likely}.", ten(figure.value))
        };
    }
    let written = write(&drawn(figure));
    let size = with_unit(&written.value, measured.symbol);
    let moves = || {
        let (from, to) = (side(effect, &effect.from), side(effect, &effect.to));
        format!("From {from} to {to} {} moves by {size} ({}).", spoken(&measured.measure), written.range)
    };
    match measured.way {
        Way::Between | Way::Stair { .. } => {
            let medians: Vec<String> = [&effect.from, &effect.to]
                .into_iter()
                .filter_map(|name| measured.thresholds.iter().find(|threshold| threshold.group == *name))
                .map(|threshold| format!("Half the boards of {}", carries(threshold, measured.symbol)))
                .collect();
            if medians.is_empty() {
                moves()
            } else {
                format!("{}. Between {} that is a step of {size} ({}).", medians.join(". "), sides(effect), written.range)
            }
        }
        _ => moves(),
    }
}

fn carries(threshold: &Threshold, symbol: &str) -> String {
    let [low, middle, high] = threshold.median;
    let text = write(&Drawn { key: "median", value: middle, low, high, unit: Symbol::One });
    let value = with_unit(&text.value, symbol);
    match threshold.not_beyond {
        // Beyond the last mark nothing was seen; the number there is belief alone.
        Some(last) if middle > last => format!("{} hold beyond {}; more was not tried", threshold.group, with_unit(&plain(last), symbol)),
        _ => format!("{} give way below {value} ({})", threshold.group, text.range),
    }
}

fn side(effect: &Effect, level: &str) -> String {
    if effect.name == "recipe" { level.to_owned() } else { format!("{} {level}", effect.name) }
}

fn sides(effect: &Effect) -> String {
    format!("{} and {}", side(effect, &effect.from), side(effect, &effect.to))
}

/// A difference of shares as boards of ten.
fn ten(value: f64) -> String {
    let boards = number(value.abs() * 10.0, 0);
    match boards.as_str() {
        "0" => "about as many".to_owned(),
        _ if value > 0.0 => format!("about {boards} more"),
        _ => format!("about {boards} fewer"),
    }
}

fn ten_range(low: f64, high: f64) -> String {
    let word = |value: f64| {
        let boards = number(value.abs() * 10.0, 0);
        match boards.as_str() {
            "0" => "no difference".to_owned(),
            _ if value > 0.0 => format!("{boards} more"),
            _ => format!("{boards} fewer"),
        }
    };
    let (from, to) = (word(low), word(high));
    if from == to { from } else { format!("between {from} and {to}") }
}

/// What the boards say of the difference that leads.
fn says(measured: &Measured, effect: &Effect, smaller: Option<bool>) -> String {
    let up = effect.figure.as_ref().is_ok_and(|figure| figure.value > 0.0);
    let better =
        measured.smaller_figure_is_better(smaller).map(|smaller| side(effect, if up == smaller { &effect.from } else { &effect.to }));
    let boards = if measured.unit == UnitIs::Batch { "pots" } else { "boards" };
    match (measured.verdict, better) {
        (Verdict::Told, Some(better)) => format!("That is larger than the doubt: the {boards} speak for {better}."),
        (Verdict::Told, None) => "That is larger than the doubt.".to_owned(),
        (Verdict::Leans, Some(better)) => format!("The {boards} lean towards {better}; they are too few to tell."),
        (Verdict::Leans, None) => format!("The {boards} lean that way; they are too few to tell."),
        (Verdict::CannotTell, _) => format!("Too few {boards} to tell."),
    }
}

/// What stands below the first sentence.
pub(super) fn more(measured: &Measured) -> Vec<String> {
    let mut lines = Vec::new();
    if measured.unit == UnitIs::Batch {
        lines.push(format!(
            "Some pots made several boards of one recipe, and boards from one pot share its luck: {} boards count as {} pots.",
            measured.boards, measured.batches
        ));
    }
    let test = measured.lead.and_then(|at| measured.effects.get(at)).and_then(|effect| effect.test.as_ref());
    if let Some([a, b]) = test.filter(|_| !measured.could_tell && measured.refused.is_none()).map(|test| test.split) {
        lines.push(format!("{a} against {b} can show direction and size; so few can't tell for good, whatever they read."));
    }
    if measured.lead.and_then(|at| measured.effects.get(at)).is_some_and(|effect| effect.rests_on_belief) {
        lines.push(
            "How sure that is leans on what was believed before any board; narrower or wider beliefs would let it be no difference."
                .to_owned(),
        );
    }
    if measured.way == Way::YesNo {
        for group in measured.groups.iter().filter(|group| group.job == Job::Recipe) {
            let units = u32::try_from(group.units).unwrap_or(u32::MAX);
            let still = number(most_when_none(units) * 100.0, 0);
            match group.yes {
                Some((0, all)) if all > 0 => {
                    lines.push(format!("{}: none of {all} {} still allows up to {still} in 100.", group.name, did(&measured.measure)));
                }
                Some((yes, all)) if yes == all => lines.push(format!(
                    "{}: all {all} {}, and yet up to {still} in 100 may stay sound.",
                    group.name,
                    did(&measured.measure)
                )),
                _ => {}
            }
        }
    }
    // The other things that were changed on purpose, in one sentence each.
    if let Some(lead) = measured.lead.and_then(|at| measured.effects.get(at)) {
        let others = measured
            .effects
            .iter()
            .filter(|one| one.asked && one.within.is_empty() && one.name != lead.name && !one.name.contains(" with "));
        for other in others {
            match (measured.way, step(measured, other)) {
                (Way::Class | Way::Plain, Some(step)) => {
                    lines.push(format!("{}: {step} than {}.", show::capital(&side(other, &other.to)), side(other, &other.from)));
                }
                _ if other.figure.is_ok() => lines.push(difference(measured, other)),
                _ => {}
            }
        }
    }
    for threshold in &measured.thresholds {
        if let Some(last) = threshold.not_beyond {
            lines.push(format!(
                "{}: some boards held to {}; nothing beyond that was tried.",
                threshold.group,
                with_unit(&plain(last), measured.symbol)
            ));
        }
    }
    lines.extend(yardsticks_by_day(measured));
    lines
}

/// What the yardsticks read on each day, so that it can be seen whether the days differed.
fn yardsticks_by_day(measured: &Measured) -> Option<String> {
    let mut days: BTreeMap<&str, Vec<f64>> = BTreeMap::new();
    for unit in measured.units.iter().filter(|unit| unit.job == Job::Yardstick && measured.way != Way::YesNo) {
        days.entry(&unit.day).or_default().push(unit.seen.exact()?);
    }
    if days.len() < 2 || days.len() > MOST_NAMED {
        return None;
    }
    let mean = |values: &Vec<f64>| with_unit(&plain(values.iter().sum::<f64>() / values.len() as f64), measured.symbol);
    let each: Vec<String> = days.iter().map(|(day, values)| format!("{} on day {day}", mean(values))).collect();
    Some(format!("Yardsticks by day: {}. What the days did is taken out of the differences.", each.join(", ")))
}

/// A chance as boards of a hundred; never none and never all.
fn chance(share: f64) -> String {
    if share > 0.99 {
        "more than 99 in 100".to_owned()
    } else if share < 0.01 {
        "less than 1 in 100".to_owned()
    } else {
        format!("{} in 100", number(share * 100.0, 0))
    }
}

/// A tangle with the boards that would part it.
pub(super) fn tangle(tangle: &Tangle) -> String {
    if tangle.add.is_empty() { tangle.text.clone() } else { format!("{} To part them make {}.", tangle.text, tangle.add.join(" and ")) }
}

/// Names and values, for the fold below the picture.
pub(super) fn numbers(measured: &Measured) -> Vec<(String, String)> {
    let mut rows = Vec::new();
    for effect in &measured.effects {
        let within = if effect.within.is_empty() { String::new() } else { format!(" (with {})", effect.within) };
        let name =
            if effect.from.is_empty() { effect.name.clone() } else { format!("{}, {} to {}{within}", effect.name, effect.from, effect.to) };
        let value = match (&effect.figure, measured.way) {
            (Ok(figure), Way::YesNo) => format!("{} of ten boards ({})", ten(figure.value), ten_range(figure.low, figure.high)),
            (Ok(figure), _) => {
                let written = write(&drawn(figure));
                format!("{} ({})", with_unit(&written.value, measured.symbol), written.range)
            }
            (Err(why), _) => format!("not known: {why}"),
        };
        rows.push((name, value));
        if let Some(above) = effect.above {
            rows.push(("chance that it goes up".to_owned(), chance(above)));
        }
        let (most, all) = effect.agree;
        if all > 1 {
            rows.push(("same-day groups that go one way".to_owned(), format!("{most} of {all}")));
        }
    }
    for threshold in &measured.thresholds {
        let [low, _, high] = threshold.median;
        rows.push((format!("{}, half give way", threshold.group), with_unit(&range(low, high), measured.symbol)));
        for (at, below) in &threshold.new_below {
            // Beyond the thickest that was tried the number would be belief alone.
            if threshold.not_beyond.is_none_or(|last| *at <= last) {
                rows.push((
                    format!("{}, a new board gives way by {}", threshold.group, with_unit(&plain(*at), measured.symbol)),
                    chance(*below),
                ));
            }
        }
    }
    rows
}
