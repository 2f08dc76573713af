//! What a wish and its outcome are called.

use show::{WishReport, number, percent, plain};

use super::pot::Pot;
use super::{Ask, is_usual};
use crate::verdict::{Standing, Worked, said};

/// What was wished for, a plain sentence each.
pub(super) fn wished(ask: &Ask<'_>) -> Vec<String> {
    let mut out = Vec::new();
    if ask.usual {
        out.push("It is to be usual, and to stay so over the spread of what it is measured with.".to_owned());
    }
    if ask.form.half_binder {
        out.push("Half of the binder, and still brushable.".into());
    }
    if !ask.form.with.trim().is_empty() {
        let film = if ask.usual || ask.form.half_binder { "" } else { "The same film, " };
        out.push(show::capital(&format!("{film}with {} as the powder.", ask.form.with.trim())));
    }
    if !ask.form.without.trim().is_empty() {
        out.push(format!("Without {}.", ask.form.without.trim()));
    }
    if ask.at_hand.is_some() {
        out.push("From what is at hand.".into());
    }
    if out.is_empty() {
        out.push("The same film.".into());
    }
    let spoons = if ask.spoons.is_some() { " and to level cups and spoons" } else { "" };
    out.push(format!("Rounded to steps of {}\u{a0}g{spoons}.", plain(ask.step)));
    out
}

/// The next thing to do, in one sentence.
pub(super) fn sentence(report: &WishReport) -> String {
    let take: Vec<String> = report.lines.iter().map(|line| format!("{} {}", line.weigh, line.name)).collect();
    let take: Vec<&str> = take.iter().map(String::as_str).collect();
    if report.reached {
        return format!("Weigh {}.", crate::and(&take));
    }
    format!("That can't be reached with what is here. The nearest: {}.", crate::and(&take))
}

pub(super) fn not_usual(verdict: &str) -> String {
    format!("the ordinary verdict on the nearest pot says: {}", verdict.trim_end_matches('.'))
}

pub(super) fn not_usual_in_spoons(weigh: &str) -> String {
    let what = if weigh.is_empty() { "the powder".to_owned() } else { format!("the {weigh}") };
    format!(
        "weighed it stays usual, but level spoons of it differ too much; weigh {what} and spoon the rest, or weigh one level cup of it and say so on your shelf"
    )
}

/// Where the place lies that stays usual.
pub(super) fn placed(ask: &Ask<'_>, place: f64) -> Option<String> {
    let before = ask.start.as_ref().and_then(|start| start.place)?;
    if (before - place).abs() < 0.005 {
        return None;
    }
    let way = if place < before { "more binder to the powder" } else { "less binder to the powder" };
    Some(format!("It stands at {} on the rule instead of {}: {way}.", number(place, 2), number(before, 2)))
}

/// What became more and what less, where it is the recipe's own.
pub(super) fn moved(ask: &Ask<'_>, pot: &Pot, own: bool) -> Vec<String> {
    let Some(start) = &ask.start else { return Vec::new() };
    let mut out = Vec::new();
    if let (Some(before), Some(now)) = (start.crowding, pot.brings_exact().crowding()) {
        if (before - now).abs() < 0.005 {
            out.push("It is as crowded with grains as before, so it should flow alike; the last water goes in by eye.".to_owned());
        } else if now < before {
            out.push(
                "It is thinner than before: its binder brings more water along, or would be too strong to brush; coats dry thinner."
                    .to_owned(),
            );
        }
    } else if own {
        out.push("How much water there was is not told, so it is as crowded with grains as printed grounds that brush well; the last water goes in by eye.".into());
    }
    out
}

/// What rounding does to the film.
pub(super) fn rounding(step: f64, exact: (f64, f64), worked: &Worked, spooned: Option<&Worked>) -> Vec<String> {
    let mut out = Vec::new();
    let told = |worked: &Worked| {
        let figure = worked.ranges.as_ref().ok()?;
        let (place, share) = (figure.lambda(), figure.best.pvc);
        let word = match &worked.standing {
            Standing::Word(words) => said(words),
            Standing::NoWord(_) | Standing::NoFilm(_) => "no word".into(),
        };
        Some((place, share, word))
    };
    if let Some((place, share, word)) = told(worked) {
        out.push(format!(
            "Rounded to steps of {}\u{a0}g it stands at {} on the rule, {} to the gram's last digit; powder share {}, before {}: {word}.",
            plain(step),
            number(place.value, 3),
            number(exact.0, 3),
            percent(share),
            percent(exact.1)
        ));
    }
    if let Some((place, share, word)) = spooned.and_then(told) {
        let stays = spooned.is_some_and(|worked| matches!(&worked.standing, Standing::Word(words) if is_usual(words)));
        let more = if stays { "" } else { " Spoons of a powder differ: weigh the powder if you can." };
        out.push(format!(
            "In level cups and spoons it stands at {} (likely {} to {}), powder share {}: {word}.{more}",
            number(place.value, 2),
            number(place.low, 2),
            number(place.high, 2),
            percent(share)
        ));
    }
    out
}
