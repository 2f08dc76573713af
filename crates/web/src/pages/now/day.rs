//! The making day on a phone and on the desk.

use maud::{Markup, PreEscaped, html};
use show::{DayNow, NowBoard, NowStep};

use super::parts;

/// Steps that are listed at once; the rest lies one tap below.
const NEAR: usize = 5;

/// Where the taps are, in the head of the page; the script says it, once it has looked into the browser's own store.
pub(super) fn state() -> Markup {
    html! { p #state role="status" hidden {} }
}

pub(super) fn body(hidden: &Markup, day: &DayNow, wanted: &str, data: &Markup, on_phone: bool) -> Markup {
    let first = day.steps.iter().find(|step| step.id == wanted && step.after.is_none()).or_else(|| day.steps.first());
    let later: Vec<&NowStep> = day.steps.iter().filter(|step| first.is_none_or(|first| first.id != step.id)).collect();
    html! {
        (data)
        (parts::moulds(hidden, &day.sitting))
        div .bench {
            div .hands {
                ul #notes .plain {}
                p #trouble .own role="alert" {}
                (one(day, first))
                (bars(hidden, day, first))
            }
            div .around {
                section { h2 { "Mind this" } p .second #no-risks hidden[!day.risks.is_empty()] { "Nothing is at risk." } ul #risks { @for risk in &day.risks { (parts::line(risk)) } } }
                section {
                    h2 { "The boards as they lie" }
                    (parts::lying(&day.boards))
                    ul #boards .plain .lying { @for board in &day.boards { (parts::board(Some(board))) } }
                }
                section { h2 { "The pots" } ul #pots .plain { @for pot in &day.pots { (parts::pot(Some(pot))) } } }
            }
            div .next {
                section {
                    h2 { "What comes after" }
                    ol #near .plain .later { @for step in later.iter().take(NEAR) { (parts::later(Some(step))) } }
                    details #rest hidden {
                        summary { "All that is left" }
                        // Drawn by the script alone: the page must stay small, and without one *The whole day* holds them.
                        ol #far .plain .later {}
                    }
                    p .second { "Hands free: " span #ends { (day.ends) } }
                }
                section { h2 { "Lately" } ul #done .plain { @for done in &day.done { (parts::done(hidden, &day.sitting, Some(done))) } } }
            }
            (desk(day, on_phone))
            div .said { (said(hidden, day)) }
        }
    }
}

/// The one thing to do.
fn one(day: &DayNow, step: Option<&NowStep>) -> Markup {
    let text = |pick: fn(&NowStep) -> &str| step.map_or("", pick);
    let wait = step.map_or_else(String::new, |step| show::wait_words(step, laid_on(day, step), day.desk_ms, day.offset_minutes));
    let meanwhile = day.steps.iter().find(|each| parts::may_come_first(each) && Some(&each.id) != step.map(|step| &step.id));
    html! {
        section #one aria-labelledby="say" {
            p .second { a href={ "/trials/" (day.trial) } { (day.question) } ", day " (day.day) }
            h1 #say .sentence aria-live="polite" { @if step.is_some() { (text(|step| &step.say)) } @else { "All coats of this day are laid." } }
            p #more .lead hidden[text(|step| &step.more).is_empty()] { (text(|step| &step.more)) }
            p #wait .lead .wait hidden[wait.is_empty()] { (wait) }
            p #count .count hidden {}
            p #by .second hidden[step.is_none_or(|step| step.closes_ms.is_none())] { @if let Some(closes) = step.and_then(|step| step.closes_ms) { "By " (show::hour(closes, day.offset_minutes)) " at the latest." } }
            p #how hidden[text(|step| &step.how).is_empty()] { (text(|step| &step.how)) }
            p #caution .caution .mind hidden[text(|step| &step.caution).is_empty()] { (text(|step| &step.caution)) }
            p #meanwhile hidden[wait.is_empty() || meanwhile.is_none()] {
                @if let Some(other) = meanwhile { a .button href={ "/now?step=" (other.id) } { "Meanwhile: " (other.say) } }
            }
        }
    }
}

fn laid_on<'a>(day: &'a DayNow, step: &NowStep) -> Option<&'a NowBoard> {
    day.boards.iter().find(|board| Some(&board.number) == step.board.as_ref())
}

/// What a thumb says.
fn bars(hidden: &Markup, day: &DayNow, step: Option<&NowStep>) -> Markup {
    let aim = step.and_then(|step| step.aim_g.as_deref()).unwrap_or("");
    html! {
        form #bars .bars method="post" action="/now/tap" hidden[step.is_none()] {
            (hidden)
            input type="hidden" name="sitting" value=(day.sitting);
            input type="hidden" name="step" value=(step.map_or("", |step| &step.id));
            input type="hidden" name="seen" value=(day.seen);
            div #grams .grams hidden[aim.is_empty()] {
                button .scripted type="button" data-add="-1" hidden aria-label="1 g less" { "−1" }
                button .scripted type="button" data-add="-0.1" hidden aria-label="0.1 g less" { "−0.1" }
                label { span #aimed .second { "g weighed" } input #wet type="text" name="wet_g" inputmode="decimal" autocomplete="off" placeholder=(aim); }
                button .scripted type="button" data-add="0.1" hidden aria-label="0.1 g more" { "+0.1" }
                button .scripted type="button" data-add="1" hidden aria-label="1 g more" { "+1" }
            }
            div .answers {
                details #spoil .spoil hidden[step.is_some_and(|step| !step.may_spoil)] {
                    summary { "It is spoilt" }
                    div .sure {
                        p #sure { @match step.and_then(|step| step.board.as_deref()) { Some(board) => { "Board " (show::spoken(board)) " is spoilt?" } None => { "The pot is spoilt?" } } }
                        button type="submit" name="kind" value="spoilt" { "Yes, it is spoilt" }
                        button #spare .scripted type="button" hidden { "No" }
                    }
                }
                button .yet type="submit" name="kind" value="not yet" { "Not yet" }
                button .main .did type="submit" name="kind" value="done" { "Done" }
            }
        }
    }
}

/// What else can be said on the day: air, weight, a photo, the end.
fn said(hidden: &Markup, day: &DayNow) -> Markup {
    let sitting = html! { input type="hidden" name="sitting" value=(day.sitting); };
    html! {
        section {
            h2 { "The air" }
            p #air { (day.air.as_deref().unwrap_or("Nobody has read it yet today.")) }
            form #read-air .small method="post" action="/now/air" {
                (hidden) (sitting)
                (stepped("celsius", "Warmth, °C", "20", "1"))
                (stepped("damp", "Dampness, %", "50", "5"))
                button type="submit" { "Write the air down" }
            }
        }
        section {
            h2 { "A board on the scale while it dries" }
            form #weigh .small method="post" action="/now/mass" {
                (hidden)
                label { "Board" select name="board" { @for board in &day.boards { option value=(board.id) { (show::spoken(&board.number)) } } } }
                label { "Grams" input type="text" name="grams" inputmode="decimal" autocomplete="off" placeholder="312.4"; }
                button type="submit" { "Write the weight down" }
            }
        }
        section {
            h2 { "A photo" }
            form #photo .small .scripted hidden method="post" enctype="multipart/form-data" {
                (hidden)
                label { "Of board" select name="board" { @for board in &day.boards { option value=(board.id) { (show::spoken(&board.number)) } } } }
                label { "What is to be seen" input type="text" name="caption"; }
                label { "The photo" input type="file" name="photo" accept="image/*" capture="environment"; }
            }
            p #photos .second role="status" {}
            noscript { ul .plain { @for board in &day.boards { li { a .line href={ "/board/" (board.id) } { "Board " (show::spoken(&board.number)) } } } } }
        }
        section {
            h2 { "Over for today" }
            form #end method="post" action="/now/end" { (hidden) (sitting) button type="submit" { "The day is over" } }
            p .second { "Boards that got fewer coats than planned stay as they are; nothing is taken back." }
        }
        section .scripted hidden {
            h2 { "If the network is lost" }
            p .second { "Go on: what you tap is kept in this browser and goes to the desk as soon as it answers. Only do not load the page anew without the network: it would not come back until the desk is there, though no tap would be lost. Set your phone's screen to stay on." }
        }
    }
}

/// A number with a lower and a higher beside it, so that a wet finger need not type.
fn stepped(name: &str, words: &str, usual: &str, by: &str) -> Markup {
    html! {
        div .stepped {
            button .scripted type="button" data-by={ "-" (by) } hidden aria-label={ (words) ": less" } { "−" }
            label { (words) input type="text" name=(name) inputmode="decimal" autocomplete="off" value=(usual); }
            button .scripted type="button" data-by=(by) hidden aria-label={ (words) ": more" } { "+" }
        }
    }
}

/// What only the desk is wide enough for.
fn desk(day: &DayNow, on_phone: bool) -> Markup {
    let strip = show::strip_now(day).filter(|_| !on_phone);
    html! {
        aside .beside aria-label="The whole day" {
            p {
                button #ring .scripted type="button" aria-pressed="false" hidden { "Ring when a wait ends: off" }
                a .button href={ "/trials/" (day.trial) "/day/" (day.day) } { "The whole day" }
                a .button href={ "/trials/" (day.trial) "/day/" (day.day) "/sheets.pdf" } { "The day as a sheet" }
            }
            @if let Some(strip) = strip { figure .picture .strip { (PreEscaped(show::day_strip_picture(&strip))) figcaption { "What is left, as it stood when this page was opened." } } }
        }
    }
}
