//! What the dry ground drinks, and how it looks wet and dry.

use ground::{Drop, FilmBook, Hiding, Thirst, thirst};
use measure::Figure;
use show::{DrawdownView, FigureReport, SaidView, ScatterReport, ThirstReport, number, percent, range};

use super::Worked;
use super::hold::placed;

/// Share of air below which a film drinks next to nothing (model choice: oil for a tenth of a first layer at 150 um).
const TIGHT: f64 = 0.02;
/// Shares of the draws between which it can't be told whether the ground could drink all of a first layer.
const OPEN: std::ops::Range<f64> = 0.1..0.9;

/// What is said of its thirst, and the same as data.
pub(super) fn thirsty(worked: &Worked) -> (ThirstReport, SaidView) {
    match found(worked) {
        Ok(found) => (report(&found), words(worked, &found)),
        Err(why) => {
            let unknown = |unit| FigureReport::unknown(unit, why.clone());
            let report = ThirstReport { oil_g_m2: unknown("g/m2"), layer_g_m2: None, all_from_um: unknown("um"), drop_mm: unknown("mm") };
            (report, SaidView { sentence: format!("What it drinks can't be said: {why}."), more: Vec::new() })
        }
    }
}

fn found(worked: &Worked) -> Result<Thirst, String> {
    let ranges = placed(worked)?;
    let book = FilmBook::builtin().map_err(|broken| broken.to_string())?;
    thirst(book, ranges, worked.coats).map_err(|broken| broken.to_string())
}

fn report(found: &Thirst) -> ThirstReport {
    let alone = |value: Option<f64>, unit: &'static str| match value {
        Some(value) => FigureReport { value: Some(value), low: Some(value), high: Some(value), unit, why: None },
        None => FigureReport::unknown(unit, "it holds no air"),
    };
    ThirstReport {
        oil_g_m2: FigureReport::from(&found.oil),
        layer_g_m2: Some(found.layer.value()),
        all_from_um: alone(found.all_from.map(measure::Micrometres::value), "um"),
        drop_mm: alone(found.drop_width.map(measure::Millimetres::value), "mm"),
    }
}

fn words(worked: &Worked, found: &Thirst) -> SaidView {
    let coats = if worked.coats == 1 { "One coat".to_owned() } else { format!("{} coats", worked.coats) };
    let air = worked.ranges.as_ref().map_or(0.0, |ranges| ranges.best.porosity);
    let layer = number(found.layer.value(), 0);
    let room = grams(&found.oil);
    let sentence = if air < TIGHT && found.could_drink_all < OPEN.start {
        "Hardly: there is next to no air in it, so a first layer of paint keeps its oil.".to_owned()
    } else if found.could_drink_all >= OPEN.end {
        format!("{coats} could drink all the oil of a first layer of paint.")
    } else if found.could_drink_all < OPEN.start {
        format!("{coats} could drink part of the oil of a first layer of paint, not all of it.")
    } else {
        format!("Whether {} could drink all the oil of a first layer of paint can't be told.", coats.to_lowercase())
    };
    let mut more = vec![format!(
        "Room in its air for {room} of oil; a first layer of 60\u{a0}\u{b5}m, half oil, holds {layer}\u{a0}g/m\u{b2}. That is the most it could take: pores are narrow and oil thickens."
    )];
    if found.could_drink_all >= OPEN.start {
        more.push("Paint that loses its oil stays matt and lean. Usual against it: a thin coat of weak size (2 to 4\u{a0}% glue) or another isolating coat on top, or a first layer that is meant to be drunk. Paint a strip on a spare board and look after 14 days.".into());
    }
    if let Some(width) = found.drop_width.filter(|_| air >= TIGHT) {
        more.push(format!(
            "Try it: a drop of water (0.05\u{a0}ml) on the level dry board. {}: very thirsty; within a minute: thirsty; within ten: slow; still shining then: sealed. The ground alone would spread it to about {}\u{a0}mm; a smaller stain means that the board drinks too.",
            first_band(),
            number(width.value(), 0)
        ));
    } else {
        more.push("Try it: a drop of water (0.05\u{a0}ml) on the level dry board should still shine after ten minutes.".into());
    }
    SaidView { sentence, more }
}

/// The shortest band of the drop in words, from the bands themselves.
fn first_band() -> String {
    let end = (1..=60u8).find(|seconds| Drop::of(f64::from(*seconds)) > Drop::VeryThirsty).map_or(0.0, f64::from);
    format!("Gone within {}\u{a0}seconds", number(end, 0))
}

fn grams(figure: &Figure) -> String {
    if figure.width() > 0.0 {
        format!("{}\u{a0}g/m\u{b2}", range(figure.low, figure.high))
    } else {
        format!("{}\u{a0}g/m\u{b2}", number(figure.value, 0))
    }
}

/// How the ground looks over black and wood.
pub(super) fn look(hiding: &Hiding) -> DrawdownView {
    DrawdownView { over: hiding.shown.map(|over| [over.behind, over.wet, over.dry]) }
}

/// What its powders scatter, for the report.
pub(super) fn powders(hiding: &Hiding) -> Vec<ScatterReport> {
    let each = |powder: &ground::LonePowder| ScatterReport {
        material: powder.material.clone(),
        water: powder.water,
        binder: powder.binder,
        air: powder.air,
    };
    hiding.powders.iter().map(each).collect()
}

/// How many coats hide wood, beside those that hide black; the wood's streaks are what a painter looks for.
pub(super) fn hides_wood(hiding: &Hiding) -> String {
    let coats = &hiding.coats_on_wood;
    let (low, high) = (number(coats.low, 0), number(coats.high, 0));
    let said = if low == high { low } else { format!("{low} to {high}") };
    let [.., dark, _, pale] = hiding.shown;
    format!(
        "Over wood likely {said}, since wood is not black: bare wood throws back {} to {} of the light.",
        percent(dark.behind),
        percent(pale.behind)
    )
}

#[cfg(test)]
mod tests {
    use crate::{VerdictRequest, Workbench};

    fn card(told: &str) -> show::Card {
        Workbench::open().unwrap().verdict(&VerdictRequest { told: told.into(), ..Default::default() }).unwrap()
    }

    /// Directions: a lean ground in many coats drinks a first layer (MITRA advises a size against it), a rich one nothing.
    #[test]
    fn a_lean_ground_drinks_and_a_rich_one_does_not() {
        let lean = card("14 g hide glue, 200 ml water, 250 g chalk, 8 coats").thirst;
        assert!(lean.sentence.starts_with("8 coats could drink all"), "{}", lean.sentence);
        assert!(
            lean.more.iter().any(|line| line.contains("weak size")) && lean.more.iter().any(|line| line.contains("within 5\u{a0}seconds"))
        );
        let rich = card("120 g hide glue, 400 ml water, 250 g chalk, 8 coats").thirst;
        assert!(rich.sentence.starts_with("Hardly"), "{}", rich.sentence);
        assert!(card("chalk and glue").thirst.sentence.starts_with("What it drinks can't be said"));
    }

    #[test]
    fn a_card_says_how_it_looks_and_what_hides_wood() {
        let card = card("14 g hide glue, 200 ml water, 250 g chalk");
        let [black, ..] = card.look.unwrap().over;
        assert!(black[2] > black[1], "{black:?}");
        assert!(card.hides.more.iter().any(|line| line.contains("Over wood likely")));
        assert_eq!(card.report.hiding.powders.len(), 1);
    }
}
