//! Whether the dry ground holds: the chance of a crack, how it hides, what it takes to roll it.

use ground::{Chance, CrackChance, FilmBook, FilmRanges, Lesson, NEAR_CRITICAL, Protein, crack_chance, hiding, tightest_packing};
use measure::{Micrometres, Share};
use show::{
    BendReport, CrackReport, DrawdownView, FigureReport, HidingReport, MoverView, SaidView, ThicknessView, ThirstReport, number, range,
};
use trials::scales::BentStrip;

use super::figures::why_not;
use super::{Standing, VerdictRequest, Worked, thirst};
use crate::Workbench;

/// The support when none is told (judgement: the commonest board for trials).
pub(crate) const USUAL_SUPPORT: &str = "plywood";
/// Supports whose stiffness is known, as they are told and as they are said; the usual one first.
pub const SUPPORTS: [(&str, &str); 7] = [
    ("plywood", "plywood"),
    ("hardboard", "hardboard"),
    ("mdf", "MDF"),
    ("solid-wood", "solid wood"),
    ("aluminium", "aluminium"),
    ("glass", "glass"),
    ("canvas", "sized canvas"),
];
/// Canvas on which rolling is worked out, micrometres (common practice, no source).
const CANVAS: f64 = 600.0;
/// Share of draws beyond the table from which the answer is marked (model choice).
pub(super) const BEYOND: f64 = 0.05;

/// Bars that are drawn, and the change in the chance below which nothing is moved (judgement).
const MOVERS: usize = 3;
const LEAST_MOVE: f64 = 0.01;

/// Coats that nobody lays to hide a board (judgement).
const MANY_COATS: f64 = 20.0;

/// What is said of how the ground holds.
#[derive(Debug, Clone)]
pub(crate) struct Hold {
    pub(crate) cracks: CrackReport,
    pub(crate) hiding: HidingReport,
    pub(crate) bend: BendReport,
    pub(crate) thirst: ThirstReport,
    pub(crate) look: Option<DrawdownView>,
    pub(crate) view: ThicknessView,
    /// What goes with the answer about cracks alone.
    pub(crate) cracks_more: Vec<String>,
    /// Own boards of this binder and powder that moved the chance.
    pub(crate) boards: usize,
    pub(crate) drinks: SaidView,
    pub(crate) hides: SaidView,
}

impl Workbench {
    pub(crate) fn hold(&self, request: &VerdictRequest, worked: &Worked) -> Hold {
        let support = request.support.as_deref().unwrap_or(USUAL_SUPPORT);
        let plain = SUPPORTS.iter().find(|(id, _)| *id == support).map_or(support, |(_, plain)| plain);
        let unknown = |unit, why: &str| FigureReport::unknown(unit, why);
        let mut more = Vec::new();
        let told = self.boards_say(request, worked);
        let mut movers = Vec::new();
        let cracks = match self.chance(worked, support, told.lesson()) {
            Ok(chance) => {
                more.push(half_by(&chance));
                movers.extend(chance.movers.iter().take(MOVERS).filter(|one| one.by.abs() > LEAST_MOVE).map(mover));
                CrackReport {
                    one_coat: tenths(&chance.one_coat),
                    all_coats: tenths(&chance.all_coats),
                    support: support.to_owned(),
                    said: in_ten(&chance.all_coats),
                    moved_most: chance
                        .movers
                        .iter()
                        .take(3)
                        .filter(|mover| mover.by.abs() > LEAST_MOVE)
                        .map(|mover| mover.plain.clone())
                        .collect(),
                    marks: (chance.beyond > BEYOND)
                        .then(|| "the support is softer than the table behind this goes: the true chance is larger".to_owned())
                        .into_iter()
                        .collect(),
                }
            }
            Err(why) => CrackReport {
                one_coat: unknown("1", &why),
                all_coats: unknown("1", &why),
                support: support.to_owned(),
                said: String::new(),
                moved_most: Vec::new(),
                marks: Vec::new(),
            },
        };
        let sentence = if let Some(why) = &cracks.all_coats.why {
            format!("How thick it may be can't be said: {why}.")
        } else {
            let coats = if worked.coats == 1 { "one coat".to_owned() } else { format!("{} coats together", worked.coats) };
            format!("On {plain}, {} would crack from the pull of drying, with {coats} as told.", cracks.said)
        };
        more.extend(Some(told.sentence()).filter(|said| !said.is_empty()));
        more.extend(cracks.marks.iter().map(|mark| show::capital(mark) + "."));
        if cracks.all_coats.why.is_none() {
            more.push(self.damp(worked, support));
            more.extend(self.fine_in_lean(worked));
            let books = if told.count() == 0 { "Argued from books: order and direction only. " } else { "" };
            more.push(format!("{books}Damp weather, moving wood and thick wet coats are not counted."));
        }
        // The picture tells the thickness at which half would crack, and has no bars of what moves it.
        let mut cracks_more: Vec<String> = more.iter().skip(usize::from(cracks.all_coats.why.is_none())).cloned().collect();
        cracks_more.extend(cracks.moved_most.first().map(|first| format!("What moves this most: {first}.")));
        let (hiding, hides, look) = self.hides(worked);
        let (bend, rolls) = bend(worked, self.protein_of_mix(&worked.mix));
        more.extend(rolls);
        let has_window = placed(worked).is_ok() && self.protein_of_mix(&worked.mix).is_some();
        let (thirst, drinks) = thirst::thirsty(worked);
        let view = ThicknessView { sentence, more, movers, has_window };
        Hold { cracks, hiding, bend, thirst, look, view, cracks_more, drinks, hides, boards: told.count() }
    }

    fn chance(&self, worked: &Worked, support: &str, lesson: Lesson) -> Result<CrackChance, String> {
        let ranges = placed(worked)?;
        let protein = self.protein_of_mix(&worked.mix).ok_or("it is known for glue alone and for casein alone")?;
        if NEAR_CRITICAL.contains(&ranges.best.lambda()) {
            return Err("the powder share is too near the critical share, where a film changes its nature".into());
        }
        let book = FilmBook::builtin().map_err(|broken| broken.to_string())?;
        let tightest = tightest_packing(self.jars, &worked.mix, &ranges.best);
        crack_chance(book, ranges, (protein, support), worked.coats, tightest, &lesson)
            .map_err(|_| "how stiff this support is, is not known here".to_owned())?
            .ok_or_else(|| "the amounts lead to no film".to_owned())
    }

    fn hides(&self, worked: &Worked) -> (HidingReport, SaidView, Option<DrawdownView>) {
        let none = |why: String| {
            let unknown = || FigureReport::unknown("1", why.clone());
            let report = HidingReport { wet: unknown(), dry: unknown(), coats: unknown(), coats_on_wood: unknown(), powders: Vec::new() };
            (report, SaidView::default(), None)
        };
        let ranges = match placed(worked) {
            Ok(ranges) => ranges,
            Err(why) => return none(why),
        };
        match hiding(self.jars, &worked.mix, ranges, worked.coats) {
            Ok(Some(found)) => {
                let (low, high) = (number(found.coats.low, 0), number(found.coats.high, 0));
                let coats = if low == high { low } else { format!("{low} to {high}") };
                let goes =
                    if found.dry.value > found.wet.value { "It goes on greyer than it dries" } else { "It dries clearer than it goes on" };
                let said = if found.coats.low > MANY_COATS {
                    SaidView { sentence: format!("{goes}, and hides next to nothing: the binder drowns the powder."), more: Vec::new() }
                } else {
                    SaidView {
                        sentence: format!("{goes}; likely {coats} such coats hide black below them."),
                        more: vec![thirst::hides_wood(&found), "Oil or water makes it clearer again.".into()],
                    }
                };
                let report = HidingReport {
                    wet: (&found.wet).into(),
                    dry: (&found.dry).into(),
                    coats: (&found.coats).into(),
                    coats_on_wood: (&found.coats_on_wood).into(),
                    powders: thirst::powders(&found),
                };
                (report, said, Some(thirst::look(&found)))
            }
            Ok(None) => none("no powder is in the pot".into()),
            Err(why) => none(why.to_string()),
        }
    }
}

/// The film with a place on the rule and a dry thickness.
pub(super) fn placed(worked: &Worked) -> Result<&FilmRanges, String> {
    match (&worked.standing, &worked.ranges) {
        (Standing::Word(_), Ok(ranges)) if worked.water_known => Ok(ranges),
        (Standing::NoWord(why), _) => Err(why.clone()),
        _ => Err(why_not(worked)),
    }
}

/// A glue ground breaks at a stretch that is printed; the tube must stay below it.
fn bend(worked: &Worked, protein: Option<Protein>) -> (BendReport, Option<String>) {
    let none = |why: String| (BendReport { tube_mm: FigureReport::unknown("mm", why) }, None);
    let ranges = match placed(worked) {
        Ok(ranges) => ranges,
        Err(why) => return none(why),
    };
    if protein != Some(Protein::Glue) || ranges.best.lambda() < NEAR_CRITICAL.end {
        return none("how far such a ground stretches before it breaks is not in print; bend a strip of it".into());
    }
    let Some((value, (low, high))) = FilmBook::builtin()
        .ok()
        .and_then(|book| book.constant("break.glue").ok())
        .and_then(|found| found.range.map(|range| (found.value, range)))
    else {
        return none("the constant is missing".into());
    };
    let dry = ranges.dry().times(f64::from(worked.coats)).value;
    let tube = |stretch: f64| {
        BentStrip::new(Micrometres::new(CANVAS), Micrometres::new(dry))
            .and_then(|strip| strip.cylinder_for(Share::new(stretch)))
            .map(|d| d.value() / 1000.0)
    };
    match (tube(value), tube(high), tube(low)) {
        (Ok(value), Ok(low), Ok(high)) => {
            let said = format!("Rolled up on canvas it would want a tube of {}\u{a0}mm or wider, so leave it flat.", range(low, high));
            (
                BendReport { tube_mm: FigureReport { value: Some(value), low: Some(low), high: Some(high), unit: "mm", why: None } },
                Some(said),
            )
        }
        _ => none("the dry thickness is not known".into()),
    }
}

fn mover(mover: &ground::Mover) -> MoverView {
    MoverView { plain: mover.plain.clone(), by: mover.by }
}

fn tenths(chance: &Chance) -> FigureReport {
    let rounded = |value: f64| Some((value * 10.0).round() / 10.0);
    FigureReport { value: rounded(chance.value), low: rounded(chance.low), high: rounded(chance.high), unit: "1", why: None }
}

fn in_ten(chance: &Chance) -> String {
    let ends = |value: f64| (value * 10.0).round().clamp(0.0, 10.0);
    let (low, high) = (ends(chance.low), ends(chance.high));
    if high < 0.5 {
        "fewer than one such ground in ten".into()
    } else if low > 9.5 {
        "more than nine such grounds in ten".into()
    } else if high < 1.5 {
        "about one such ground in ten".into()
    } else if high - low < 0.5 {
        format!("about {} such grounds in ten", number(low, 0))
    } else {
        format!("likely {} to {} such grounds in ten", number(low, 0), number(high, 0))
    }
}

/// The thickness at which half of such grounds crack, in tens of micrometres; beyond 1 mm only that it is not what limits.
fn half_by(chance: &CrackChance) -> String {
    let Some(dry) = chance.half_by else {
        return "Even a ground of 1\u{a0}mm would not be limited by this pull; other causes take over.".into();
    };
    let step = if dry.value() < 100.0 { 10.0 } else { 50.0 };
    let about = number((dry.value() / step).round() * step, 0);
    format!("Half of them would have cracked by about {about}\u{a0}\u{b5}m dry, give or take several times.")
}
