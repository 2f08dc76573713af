//! A jar in the rest of the job: which one spoils, which one waits, and whether it holds what the pots of a day take.

use making::BinderWay;
use notebook::{Day, Moment, Notebook};
use show::{QuietLine, plain};

use super::measure_kinds::said;
use super::view::{keeping_of, strong_words, what};
use super::worked::{ToldBinder, WorkedBinder};
use crate::Workbench;

/// Seconds of a day, and of half of one.
const DAY: i64 = 86_400;

impl Workbench {
    /// Jars in use that may spoil: first what stands and spoils, then what waits for its next step.
    pub(crate) fn jars_now(&self, state: &Notebook, now: Moment) -> (Vec<QuietLine>, Vec<QuietLine>) {
        let (mut spoils, mut waits) = (Vec::new(), Vec::new());
        for kept in state.binders.values().filter(|kept| kept.record.closed.is_none()) {
            let Some(told) = ToldBinder::of(state, &kept.subject) else { continue };
            let (name, at) = (&kept.record.name, format!("/binder/{}", kept.subject));
            let keeping = keeping_of(&told, now);
            if let Some(word) = keeping_words(keeping.word) {
                let more = if keeping.word == "bin" { format!(" {}", keeping.text) } else { String::new() };
                spoils.push(QuietLine { say: format!("Jar {name}: {word}. {}{more}", keeping.reason), at: at.clone() });
            }
            if keeping.word != "bin"
                && let Some(say) = self.waiting(&told, now)
            {
                waits.push(QuietLine { say: format!("Jar {name}: {say}"), at });
            }
        }
        (spoils, waits)
    }

    /// The next step of a jar that is not ready yet, and how long it must stand before.
    fn waiting(&self, told: &ToldBinder<'_>, now: Moment) -> Option<String> {
        let road = told.road(WorkedBinder::family(self.base_family(told))).ok()?;
        let next = road.iter().position(|(step, _)| !told.is_done(step))?;
        let (step, way) = road.get(next).filter(|(step, _)| step != "use")?;
        let then = step_words(step, way);
        let before = next.checked_sub(1).and_then(|at| road.get(at));
        let stands = before.and_then(|(step, way)| {
            let done = told.steps.iter().find(|done| done.step == *step)?;
            let over = Moment { seconds: done.at.seconds + i64::from(way.wait?.low.count()) * 60, ..done.at };
            (now.seconds < over.seconds).then(|| format!("it rests until {over} at the earliest. Then {then}."))
        });
        Some(stands.unwrap_or_else(|| format!("next, {then}.")))
    }

    /// The keeping word of the jar that a recipe names, for the pot that it went into.
    pub(crate) fn jar_of_pot(&self, state: &Notebook, told: &str, now: Moment) -> Option<String> {
        let id = self.binder_named(state, told)?;
        let record = &state.binders.get(&id)?.record;
        let keeping = keeping_of(&ToldBinder::of(state, &id)?, now);
        Some(format!("jar {}: {}", record.name, keeping_words(keeping.word).unwrap_or("not made yet")))
    }

    /// The jar that went into a pot: how much of it, how strong it is, and what that rests on.
    pub(crate) fn jar_of_batch(&self, state: &Notebook, id: &str, grams: Option<f64>) -> Option<String> {
        let told = ToldBinder::of(state, id)?;
        let much = grams.map_or_else(String::new, |grams| format!("{}\u{a0}g of ", plain(grams)));
        let strong =
            self.worked_binder(&told).map_or_else(|why| format!("how strong it is, is not known: {why}."), |worked| strong_words(&worked));
        Some(format!("Its binder is {much}jar {}: {strong}", told.record.name))
    }

    /// How the jars of binder that went into the pots of a trial were made, so that a stranger can make them again; a line for each.
    pub(crate) fn jar_roads(&self, state: &Notebook, trial: &str) -> String {
        let mut lines: Vec<String> = Vec::new();
        for (id, kept) in &state.binders {
            let pots: Vec<&str> = state
                .batches_with_binder(id)
                .into_iter()
                .filter(|batch| batch.record.trial == trial)
                .map(|batch| batch.record.letter.as_str())
                .collect();
            let Some(told) = ToldBinder::of(state, id).filter(|_| !pots.is_empty()) else { continue };
            let road = told.road(WorkedBinder::family(self.base_family(&told))).unwrap_or_default();
            let way = |step: &str| road.iter().find(|(name, _)| name == step).map(|(name, way)| step_words(name, way));
            let done: Vec<String> = told.steps.iter().filter_map(|done| Some(format!("{}: {}", done.at, way(&done.step)?))).collect();
            let seen: Vec<String> = told.measures.iter().map(|one| format!("{}: {}", one.at, said(&one.seen))).collect();
            let strong = self.worked_binder(&told).map_or_else(|why| format!("not known: {why}."), |worked| strong_words(&worked));
            let list = |what: &str, all: &[String]| if all.is_empty() { String::new() } else { format!(" {what}: {}.", all.join("; ")) };
            lines.push(format!(
                "Binder, jar {}, in pot {}: from {}.{}{} Strength: {strong}",
                kept.record.name,
                crate::and(&pots),
                what(&kept.record),
                list("Done", &done),
                list("Measured", &seen)
            ));
        }
        lines.join("\n")
    }

    /// What a day on that date should know of its jars. `pots` are recipes as told, each with how many times of it the day takes.
    pub(crate) fn jar_warnings(&self, state: &Notebook, pots: &[(&str, Option<f64>)], on: Day) -> Vec<String> {
        let mut out = Vec::new();
        let mut taken: Vec<(String, f64)> = Vec::new();
        for (told, times) in pots {
            if let Some(asks) = self.two_jars(state, told) {
                if !out.contains(&asks) {
                    out.push(asks);
                }
                continue;
            }
            let (Some(id), grams) = self.binder_used(state, told) else { continue };
            let grams = grams.zip(*times).map_or(0.0, |(grams, times)| grams * times);
            match taken.iter_mut().find(|(other, _)| *other == id) {
                Some((_, sum)) => *sum += grams,
                None => taken.push((id, grams)),
            }
        }
        for (id, grams) in taken {
            let Some(told) = ToldBinder::of(state, &id) else { continue };
            let name = &told.record.name;
            // Noon where the jar was made.
            let offset_minutes = told.steps.last().map_or(0, |done| done.at.offset_minutes);
            let noon = Moment { seconds: on.number() * DAY + DAY / 2 - i64::from(offset_minutes) * 60, offset_minutes };
            if told.record.closed.is_some() {
                out.push(format!("Jar {name} is closed: {}. Make another, or name another one.", told.record.closed_why));
                continue;
            }
            match keeping_of(&told, noon).word {
                "bin" => out.push(format!("Jar {name} will be past its time on this day: bin it then, and make another the day before.")),
                "not-made" => out.push(format!("Jar {name} is not made yet: its steps come before this day.")),
                _ => {}
            }
            let Ok(worked) = self.worked_binder(&told) else { continue };
            let holds = worked.jar.total.value;
            if grams > holds {
                out.push(format!(
                    "{name} holds about {}\u{a0}g, these pots take {}\u{a0}g: make another, or lay fewer boards.",
                    plain(holds.round()),
                    plain(grams.round())
                ));
            }
        }
        out
    }
}

fn keeping_words(word: &str) -> Option<&'static str> {
    match word {
        "today" => Some("today"),
        "tomorrow" => Some("tomorrow if cold and clean"),
        "bin" => Some("bin it"),
        _ => None,
    }
}

/// A step of a road in a few words; a rinse with its number.
fn step_words(step: &str, way: &BinderWay) -> String {
    step.strip_prefix("rinse-").map_or_else(|| way.short.clone(), |count| format!("{}, rinse {count}", way.short))
}
