//! One pot: how is it, what does it want, how is it saved.

use ground::{FilmRanges, film_figure};
use making::{CoatHow, Correction, PotBook, PotFamily, PotMix, Sight, Span, TimeShelf, same_when_dry};
use measure::{Figure, Grams, Share, SquareMetres, Unit};
use notebook::{Board, Deed, Kept, Moment, Notebook, PotMass, PotWhat, Stamp, Trial, Wanted};
use show::{PotAsked, PotLine, PotMassRow, PotPage, Written, lasting, number, plain, range, write};

use super::super::{Studio, StudioError, above_zero, moment, number as typed_number, remark};
use super::boards::{SQUARE_METRE, covered};
use super::lay::next_to_lay;
use super::pot_log::{CoatOn, Stood, coats_from, ground_alone, stood, wet};
use super::trial_of;
use crate::mend::{Mixed, mended, saved, unanswered};
use crate::verdict::Worked;
use crate::{VerdictRequest, Workbench};

/// A weighing of a pot as typed.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct TypedPot {
    /// Whether the grams are water that was put in.
    pub water: bool,
    /// What the scale showed.
    pub grams: String,
    /// The empty pot with what is weighed in it each time; empty if taken off on the scale.
    pub vessel: String,
    /// When, if not now.
    pub when: String,
    /// Remark.
    pub note: String,
}

/// What is asked of a pot, as typed or tapped.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct PotAsk {
    /// What is seen on it.
    pub sight: String,
    /// Share that is to dry and stay, hundredths.
    pub wish: String,
    /// More water, hundredths of what is in it.
    pub more: String,
    /// Width of the pot, centimetres.
    pub wide: String,
}

/// Heaviest pot that is taken, grams: no one lifts more with one hand (judgement, no source).
const HEAVIEST: f64 = 50_000.0;
/// Coats beside their target that are named.
const MOST_NAMED: usize = 6;

impl Workbench {
    /// Writes down what a pot weighs, or water that was put in. The first weighing, before any coat, is the pot as mixed.
    ///
    /// # Errors
    /// No such pot; a number that can't be.
    pub fn weigh_pot(&self, studio: &Studio, (trial, letter): (&str, &str), typed: &TypedPot, stamp: &Stamp) -> Result<(), StudioError> {
        let what = if typed.water { "the water" } else { "the pot" };
        let grams = above_zero(&typed.grams, what, "612.5")?
            .ok_or_else(|| StudioError::Typed(format!("say what {what} weighs, in grams, like 612.5")))?;
        if grams > HEAVIEST {
            return Err(StudioError::Typed(format!(
                "{} g is more than a pot that one hand lifts; is there a digit too many?",
                plain(grams)
            )));
        }
        let vessel_g = if typed.water { None } else { typed_number(&typed.vessel, "the empty pot", "310")?.filter(|grams| *grams != 0.0) };
        if vessel_g.is_some_and(|vessel| vessel < 0.0 || vessel >= grams) {
            return Err(StudioError::Typed("the empty pot weighs less than the pot with its ground in it; are the two exchanged?".into()));
        }
        let (note, at) = (remark(&typed.note)?, moment(&typed.when, stamp)?);
        studio
            .write(stamp, |state| {
                letter_of(state, trial, letter)?;
                let first = state.pot_masses_of(trial, letter).iter().all(|kept| kept.record.what != PotWhat::AsMixed)
                    && coats_from(state, trial, letter).iter().all(|(_, coat)| coat.record.laid > at);
                let what = match (typed.water, first) {
                    (true, _) => PotWhat::WaterAdded,
                    (false, true) => PotWhat::AsMixed,
                    (false, false) => PotWhat::Now,
                };
                let mass = PotMass { trial: trial.to_owned(), letter: letter.to_owned(), what, grams, vessel_g, at, note: note.clone() };
                Ok(vec![Wanted::new(stamp.subject("potmass", 0), Deed::PotMass(mass))])
            })
            .map(drop)
    }

    /// The page of one pot.
    ///
    /// # Errors
    /// No such trial or pot; a number that can't be.
    pub fn pot_page(&self, state: &Notebook, (trial, letter): (&str, &str), ask: &PotAsk, now: Moment) -> Result<PotPage, StudioError> {
        let kept = trial_of(state, trial)?;
        let board = letter_of(state, trial, letter)?;
        let book = PotBook::builtin().map_err(StudioError::typed)?;
        let boards = state.boards_of(trial).into_iter().filter(|board| board.record.planned.batch == letter).count();
        let batch = state.batch_of(trial, letter);
        let request = self.pot_request(state, &kept.record, &board.record, letter);
        let mixed = self.mixed(&request);
        let (masses, coats) = (state.pot_masses_of(trial, letter), coats_from(state, trial, letter));
        let wide = above_zero(&ask.wide, "the width of the pot", "18")?.unwrap_or(book.pan.value);
        let mut page = PotPage {
            subject: trial.to_owned(),
            question: kept.record.question.clone(),
            letter: letter.to_owned(),
            recipe: board.record.planned.recipe.clone(),
            day: board.record.planned.day,
            boards,
            lines: self.pot_lines(state, &kept.record, &board.record, letter),
            weighed: batch.is_some_and(|batch| !batch.record.as_planned),
            as_planned: batch.is_some_and(|batch| batch.record.as_planned),
            said: if request.told.is_empty() { String::new() } else { self.quick_sentence(&request) },
            age: batch.and_then(|batch| batch.record.ready).map_or_else(String::new, |ready| lasting((now.seconds - ready.seconds) / 60)),
            masses: masses.iter().rev().map(|kept| mass_row(kept)).collect(),
            vessel: masses.iter().rev().find_map(|kept| kept.record.vessel_g).map_or_else(String::new, plain),
            used: used_words(&coats),
            beside: beside(book, &kept.record, &coats),
            asked: PotAsked { wish: ask.wish.trim().into(), more: ask.more.trim().into(), wide: plain(wide) },
            sights: Sight::ALL.map(|sight| (sight.key(), sight.words())).to_vec(),
            sight: ask.sight.clone(),
            ..PotPage::default()
        };
        if let Some(id) = batch.and_then(|batch| batch.record.binder.as_deref())
            && let Some(said) = self.jar_of_batch(state, id, batch.and_then(|batch| batch.record.binder_g))
        {
            (page.jar, page.jar_at) = (said, format!("/binder/{id}"));
        }
        let families = mixed.as_ref().map(|mixed| self.families(&mixed.worked)).unwrap_or_default();
        page.rescues = Sight::of(&ask.sight).map(|sight| saved(sight, &families)).transpose()?.unwrap_or_default();
        let stood = mixed.as_ref().map(|mixed| {
            let ready = batch.and_then(|batch| batch.record.ready);
            stood(&mixed.mix, ready, &masses, &coats, book.scale_doubt())
        });
        match (&mixed, &stood) {
            (Some(mixed), Some(Ok(stood))) => {
                say_water(book, &mut page, stood, wide)?;
                page.stands = stands(mixed, stood);
                let now = f64::midpoint(stood.ends.0.share().value(), stood.ends.1.share().value());
                page.share_now = number(now * 100.0, 0);
                page.coat = coat_words(book, &kept.record, mixed, stood);
                let left = PotMix { solids: (stood.ends.0.solids + stood.ends.1.solids) / 2.0, total: stood.ends.0.total };
                page.mended = mended(book, mixed, (left, stood.first.share()), ask, wide)?;
            }
            (Some(_), Some(Err(why))) => {
                page.trust.push(show::capital(&format!("{why}.")));
                page.mended =
                    unanswered(ask, &format!("The weights of this pot do not fit together, so that can't be worked out: {why}."))?;
            }
            _ => {
                let why = "What dries and stays in this pot is not known: its recipe is not written down, or its water is not told.";
                page.trust.push(why.into());
                page.mended = unanswered(ask, why)?;
            }
        }
        let old = batch.and_then(|batch| batch.record.ready).map_or(0, |ready| now.local().0.number() - ready.local().0.number());
        let spoils = families.iter().any(|family| *family != PotFamily::Plaster);
        if !page.age.is_empty() {
            let ready = batch.and_then(|batch| batch.record.ready).map_or(now.seconds, |ready| ready.seconds);
            let lime = families.contains(&PotFamily::LimeCasein);
            let life = mixed.as_ref().map(|mixed| self.life(&mixed.worked)).transpose()?.flatten();
            let keeps = match life {
                Some(life) if old < 1 || !spoils || lime => good_for(life, (now.seconds - ready) / 60),
                _ if spoils => keeps(old).into(),
                _ => String::new(),
            };
            page.age = if keeps.is_empty() { format!("{} old.", page.age) } else { format!("{} old. {keeps}", page.age) };
        }
        let weights_fit = !matches!(stood, Some(Err(_)));
        let open = next_to_lay(state, trial).is_some();
        say_next(&mut page, weights_fit, stood.and_then(Result::ok).as_ref(), open);
        if spoils && old > 1 {
            page.next = format!("Pot {letter} is from {old} days ago: throw it away.");
            page.why = "Glue and casein lose strength before they smell; mix afresh before another coat. Dry it, bin it by local rules, nothing white down the sink.".into();
            page.next_at.clear();
        }
        Ok(page)
    }

    /// Planned beside truly weighed, by the material's name.
    fn pot_lines(&self, state: &Notebook, trial: &Trial, board: &Board, letter: &str) -> Vec<PotLine> {
        let planned = trial.recipes.get(&board.planned.recipe).cloned().unwrap_or_default();
        let (planned, weighed) = (
            self.poured(&planned),
            state.batch_of(&board.trial, letter).filter(|batch| !batch.record.as_planned).map(|batch| self.poured(&batch.record.told)),
        );
        let mut names: Vec<&String> = planned.iter().map(|(name, _)| name).collect();
        names.extend(weighed.iter().flatten().map(|(name, _)| name).filter(|name| planned.iter().all(|(other, _)| other != *name)));
        let of = |list: &[(String, Grams)], name: &str| list.iter().find(|(other, _)| other == name).map(|(_, grams)| *grams);
        let grams = |mass: Option<Grams>| mass.map_or_else(String::new, |mass| format!("{}\u{a0}g", plain(mass.value())));
        names
            .into_iter()
            .map(|name| {
                let (plan, true_one) = (of(&planned, name), weighed.as_ref().and_then(|weighed| of(weighed, name)));
                let beside = match plan.zip(true_one) {
                    Some((plan, true_one)) if (true_one / plan - 1.0).abs() >= 0.005 => {
                        let more = if true_one > plan { "more" } else { "less" };
                        format!("{}\u{a0}g {more}", plain((true_one - plan).value().abs()))
                    }
                    _ => String::new(),
                };
                PotLine { name: name.clone(), planned: grams(plan), weighed: grams(true_one), beside }
            })
            .collect()
    }

    /// Names and grams of a recipe text, the same material once.
    fn poured(&self, told: &str) -> Vec<(String, Grams)> {
        let mut out: Vec<(String, Grams)> = Vec::new();
        let Ok(worked) = self.work(&VerdictRequest { told: told.to_owned(), ..VerdictRequest::default() }) else { return out };
        for (line, grams) in worked.mix.grams(&worked.mix.best()) {
            let material = worked.reading.lines.get(line).and_then(|line| line.material.first());
            let Some(material) = material.and_then(|id| self.jars.material(id)) else { continue };
            match out.iter_mut().find(|(name, _)| *name == material.name) {
                Some((_, sum)) => *sum = *sum + grams,
                None => out.push((material.name.clone(), grams)),
            }
        }
        out
    }

    /// How long a ready pot of this kind of ground may be used; none where the kind is not known.
    fn life(&self, worked: &Worked) -> Result<Option<Span>, StudioError> {
        let Some((kind, _)) = self.kind_of(&worked.reading, &worked.mix) else { return Ok(None) };
        let shelf = TimeShelf::builtin().map_err(StudioError::typed)?;
        Ok(shelf.pot(kind.id()).map(|pot| pot.life))
    }
}

/// A board of this pot; the plan is closed.
fn letter_of<'a>(state: &'a Notebook, trial: &str, letter: &str) -> Result<&'a Kept<Board>, StudioError> {
    trial_of(state, trial)?;
    let found = state.boards_of(trial).into_iter().find(|board| board.record.planned.batch == letter);
    found.map(AsRef::as_ref).ok_or(StudioError::Missing("pot"))
}

fn mass_row(kept: &Kept<PotMass>) -> PotMassRow {
    let mass = &kept.record;
    let what = match mass.what {
        PotWhat::AsMixed => "as mixed",
        PotWhat::Now => "weighed",
        PotWhat::WaterAdded => "water put in",
    };
    PotMassRow {
        entry: kept.n,
        what: what.into(),
        grams: format!("{}\u{a0}g", number(ground_alone(mass).value(), 1)),
        at: mass.at.to_string(),
        note: mass.note.clone(),
    }
}

fn used_words(coats: &[CoatOn<'_>]) -> String {
    if coats.is_empty() {
        return "No coat was laid from it yet.".into();
    }
    let weighed: Vec<Grams> = coats.iter().filter_map(|(_, coat)| wet(&coat.record)).collect();
    let laid = format!("{}\u{a0}g on boards, in {} coats", number(weighed.iter().copied().sum::<Grams>().value(), 1), weighed.len());
    match coats.len() - weighed.len() {
        0 => format!("{laid}."),
        1 => format!("{laid}; one more coat was not weighed."),
        more => format!("{laid}; {more} more coats were not weighed."),
    }
}

fn say_water(book: &PotBook, page: &mut PotPage, stood: &Stood, wide: f64) -> Result<(), StudioError> {
    if !stood.weighed_first {
        page.trust.push(
            "It was not weighed when it was ready: the sum of what went in stands for that, less whatever stuck to spoon and sieve.".into(),
        );
    }
    if stood.unweighed > 0 {
        page.trust.push(format!(
            "{} of its coats were not weighed between two weighings of the pot: what they took can't be told from water, so none is reckoned there.",
            stood.unweighed
        ));
    }
    let Some(lost) = stood.lost else { return Ok(()) };
    page.lost = format!("{}\u{a0}g in {}", number(lost.value(), 1), lasting(i64::from(stood.over.count())));
    let wants = |mix: &PotMix| match mix.to(stood.first.share()) {
        Ok(Correction::Add { water, .. }) => water.value(),
        _ => 0.0,
    };
    let (a, b) = (wants(&stood.ends.0), wants(&stood.ends.1));
    let (back, scale) = (f64::midpoint(a, b), book.scale.value);
    // Below what the scale can tell nothing is asked for.
    if back >= scale {
        let (low, high) = ((a.min(b) - scale).max(0.0), a.max(b) + scale);
        page.add = format!("{}\u{a0}g ({} to {})", number(back, 0), number(low, 0), number(high, 0));
        page.add_g = number(back, 0);
    }
    let (low, high) = book.lost_in(stood.over, wide).map_err(StudioError::typed)?;
    if lost.value() > 3.0 * high.value() + book.scale.value {
        page.trust.push(format!(
            "A cold open pot {} cm wide loses {}\u{a0}g in that time. If this one was warm, water is missing: put it back. If it was cold, ground is missing: in the brush, on the rim or on the floor. Then put nothing in, and weigh the pot with its brush in it from now on.",
            plain(wide),
            range(low.value(), high.value())
        ));
    }
    Ok(())
}

/// A share of hundredths with its span.
fn hundredths(figure: &Figure, low: f64, high: f64) -> String {
    let part = |value: f64, factor: f64| value * factor * 100.0;
    let whole = Figure {
        value: part(figure.value, f64::midpoint(low, high)),
        low: part(figure.low, low),
        high: part(figure.high, high),
        unit: Unit::One,
        ..*figure
    };
    Written { unit: "%", ..write(&whole) }.line()
}

/// What dries and stays, as mixed and now.
fn stands(mixed: &Mixed, stood: &Stood) -> String {
    let share = stood.first.share();
    let alone = Figure { key: "solids_mass", value: share.value(), low: share.value(), high: share.value(), unit: Unit::One };
    let figure = mixed.worked.ranges.as_ref().ok().and_then(|ranges| film_figure(ranges, "solids_mass", true)).unwrap_or(alone);
    let first = format!("As mixed, {} of it dries and stays", hundredths(&figure, 1.0, 1.0));
    // What is left holds a part of the first solids, so its share goes with the first one.
    let (a, b) = (stood.ends.0.share() / share, stood.ends.1.share() / share);
    if (a - 1.0).abs() < 0.005 && (b - 1.0).abs() < 0.005 {
        format!("{first}; now the same.")
    } else {
        format!("{first}; now {}.", hundredths(&figure, a.min(b), a.max(b)))
    }
}

/// What a coat should weigh, and what it dries to, as mixed and now.
fn coat_words(book: &PotBook, trial: &Trial, mixed: &Mixed, stood: &Stood) -> Vec<String> {
    let target = book.coat_target();
    let now = Share::new(f64::midpoint(stood.ends.0.share().value(), stood.ends.1.share().value()));
    let mut out = Vec::new();
    if let Some((least, wanted, most)) = face_of(trial).and_then(|face| target.on(face).ok()) {
        out.push(format!(
            "A coat on a whole board: about {}\u{a0}g wet ({} to {}), {}\u{a0}g/m².",
            plain(wanted.value()),
            plain(least.value()),
            plain(most.value()),
            plain(target.per_area.value())
        ));
    }
    if let Ok(ranges) = &mixed.worked.ranges {
        let dry = FilmRanges::dry_of(&[(ranges, target.per_area)]);
        // The same solids in more or less water: the dry film goes with their share.
        let factor = now / stood.first.share();
        let moved = Figure { value: dry.value * factor, low: dry.low * factor, high: dry.high * factor, ..dry };
        let later =
            if (moved.value - dry.value).abs() < 0.5 { String::new() } else { format!("; as it stands now, {}", write(&moved).line()) };
        out.push(format!("{}\u{a0}g/m² of it as mixed dries to about {}{later}.", plain(target.per_area.value()), write(&dry).line()));
    }
    let like_first = same_when_dry(target.per_area, stood.first.share(), now);
    if (like_first / target.per_area - 1.0).abs() >= 0.02 {
        out.push(format!("To dry to the same, a coat from it now weighs {}\u{a0}g/m².", number(like_first.value(), 0)));
    }
    out
}

fn face_of(trial: &Trial) -> Option<SquareMetres> {
    trial.width_mm.zip(trial.height_mm).map(|(width, height)| SquareMetres::new(width * height / SQUARE_METRE))
}

/// Coats beside their target, in words.
fn beside(book: &PotBook, trial: &Trial, coats: &[CoatOn<'_>]) -> Vec<String> {
    let Some(face) = face_of(trial) else { return Vec::new() };
    let target = book.coat_target();
    let mut out = Vec::new();
    let mut right = 0;
    for (board, coat) in coats {
        let Some(laid) = wet(&coat.record) else { continue };
        let area = face * covered(&board.record, coat.record.number);
        let Ok(weight) = target.judge(laid, area) else { continue };
        let how = match weight.how {
            CoatHow::Right => {
                right += 1;
                continue;
            }
            CoatHow::Thin => "thin",
            CoatHow::Thick if weight.over_limit => "so thick that it may crack as it dries",
            CoatHow::Thick => "thick",
        };
        let more = if weight.beside.value() > 0.0 { "more" } else { "less" };
        out.push(format!(
            "Board {}, coat {}: {}\u{a0}g/m², {how}: {}\u{a0}g {more} than wanted.",
            board.record.planned.number,
            coat.record.number,
            number(weight.per_area.value(), 0),
            number(weight.beside.value().abs(), 1)
        ));
    }
    let more = out.len().saturating_sub(MOST_NAMED);
    out.truncate(MOST_NAMED);
    if more > 0 {
        out.push(format!("And {more} more."));
    }
    if !out.is_empty() {
        let (least, most) = (target.per_area * (1.0 - target.tolerance.value()), target.per_area * (1.0 + target.tolerance.value()));
        out.insert(0, format!("{right} of its weighed coats lie between {} and {}\u{a0}g/m².", plain(least.value()), plain(most.value())));
    }
    out
}

/// How much longer a pot that is so many minutes old may be used.
fn good_for(life: Span, age: i64) -> String {
    let (low, high) = (i64::from(life.low.count()), i64::from(life.high.count()));
    let age = age.max(0);
    if age >= high {
        format!("It is past its time: such a pot is good for {} to {}.", lasting(low), lasting(high))
    } else if age >= low {
        format!("Use it now: good for another {} at most.", lasting(high - age))
    } else {
        format!("Use it today: good for another {} to {}.", lasting(low - age), lasting(high - age))
    }
}

/// Words for a pot of glue or casein that is not of today, by days since it was ready (judgement, no source).
const fn keeps(days: i64) -> &'static str {
    match days {
        ..=0 => "Use it today.",
        1 => {
            "Use it today only if it stood cold, clean and covered since yesterday, and has neither smell, gas, spots nor thinned by itself."
        }
        _ => "It is past its time.",
    }
}

/// The one thing to do now.
fn say_next(page: &mut PotPage, weights_fit: bool, stood: Option<&Stood>, open: bool) {
    let letter = page.letter.clone();
    let road = format!("/trials/{}", page.subject);
    (page.next, page.why, page.next_at) = if !page.weighed && !page.as_planned {
        ("Write down what truly went in.".into(), "The plan alone does not say what is in the pot.".into(), format!("{road}#pots"))
    } else if page.masses.is_empty() {
        (
            format!("Put pot {letter} on the scale."),
            "With its brush in it and the lid off, the same way each time: then water that it loses shows, and can be put back.".into(),
            String::new(),
        )
    } else if !weights_fit {
        (format!("The weights of pot {letter} do not fit together: weigh it again."), String::new(), String::new())
    } else if !page.add.is_empty() {
        (
            format!("Put {} of water back into pot {letter}.", page.add),
            "It lost water: later coats would come out stronger than the first.".into(),
            String::new(),
        )
    } else if stood.is_some_and(|stood| stood.lost.is_none()) {
        (
            format!("Weigh pot {letter} again before the next round of coats."),
            "One weight alone can't say what it lost.".into(),
            String::new(),
        )
    } else if open {
        (
            format!("Pot {letter} is as it was: lay on."),
            "What it lost is within what a kitchen scale can tell.".into(),
            format!("{road}/lay"),
        )
    } else {
        (format!("Pot {letter} has done its work: wash it up."), "All coats of this trial are laid.".into(), format!("{road}/answer"))
    };
}

#[cfg(test)]
mod tests {
    use making::Minutes;

    use super::*;

    /// A life of 3 to 8 h, by hand: fresh 3 to 8 h; after 1 h 2 to 7 h; after 5 h at most 3 h; after 9 h none.
    #[test]
    fn a_pot_says_how_much_longer() {
        let life = Span { low: Minutes::new(180), usual: Minutes::new(300), high: Minutes::new(480) };
        assert_eq!(good_for(life, 0), format!("Use it today: good for another {} to {}.", lasting(180), lasting(480)));
        assert_eq!(good_for(life, 60), format!("Use it today: good for another {} to {}.", lasting(120), lasting(420)));
        assert_eq!(good_for(life, 300), format!("Use it now: good for another {} at most.", lasting(180)));
        assert!(good_for(life, 540).starts_with("It is past its time"));
    }
}
