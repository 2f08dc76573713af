//! Will the last board be like the first? Grains that sink, water that leaves, bubbles that rise, while the pot is worked from.

use ground::{Film, Flow, WATER, bubble_rises, dries_thicker, flows, in_a_crowd, sinks, under_rails};
use making::{Minutes, PotBook};
use materials::Kind;
use measure::{GramsPerMillilitre, Micrometres, Millimetres};
use show::{EvenRow, EvenView, lasting, number, percent, range};

use crate::studio::{StudioError, above_zero};
use crate::verdict::{Worked, why_not};
use crate::{VerdictRequest, Workbench};

/// What a person says of the work.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct EvenForm {
    /// How long laying goes on, minutes.
    pub minutes: String,
    /// How deep the pot is filled, centimetres; may be empty.
    pub deep: String,
    /// How wide it is inside, centimetres; may be empty.
    pub wide: String,
    /// How thick the binder is before powder goes in: the name of a flow.
    pub binder: String,
    /// How thick the pot is with its powder.
    pub pot: String,
    /// Layers of tape on either side; may be empty.
    pub layers: String,
    /// How thick one layer of tape is, millimetres; may be empty.
    pub tape: String,
}

/// What is taken where nothing is typed (judgement; tape common practice, no source).
const USUAL_MINUTES: f64 = 60.0;
const USUAL_DEEP: f64 = 6.0;
const USUAL_LAYERS: f64 = 2.0;
const USUAL_TAPE: f64 = 0.13;
const USUAL_BINDER: &str = "milk";
const USUAL_POT: &str = "cream";
/// Share of the depth that may lose its grains before boards differ, and of thickness that is seen (judgement, no source).
const SEEN: f64 = 0.05;
/// Powders of less than this share of the powder's volume are left out: what sinks is not worth a word then.
const TRIFLE: f64 = 0.10;
/// Smallest bubble that leaves a hole one can see (judgement).
const BUBBLE: Micrometres = Micrometres::new(100.0);
/// Longest work that is one sitting, minutes; deepest and widest pot, centimetres.
const LONGEST: f64 = 1440.0;
const LARGEST: f64 = 200.0;

/// A powder that sinks.
struct Grain<'a> {
    name: &'a str,
    size: Micrometres,
    density: GramsPerMillilitre,
}

/// The work, as numbers.
struct Work<'a> {
    minutes: f64,
    deep: Millimetres,
    wide: f64,
    binder: &'a Flow,
    pot: &'a Flow,
}

impl Workbench {
    /// Words for how thick a liquid is, as name and words.
    pub fn flow_words() -> Vec<(&'static str, &'static str)> {
        flows().map(|all| all.iter().map(|flow| (flow.key.as_str(), flow.plain.as_str())).collect()).unwrap_or_default()
    }

    /// Whether the last board will be like the first.
    ///
    /// # Errors
    /// A field that does not read; a recipe that makes no film. The message says how to mend it.
    ///
    /// ```
    /// use workbench::{EvenForm, VerdictRequest, Workbench};
    /// let told = VerdictRequest { told: "15 g hide glue, 210 g water, 300 g chalk".into(), ..Default::default() };
    /// let view = Workbench::open()?.even(&told, &EvenForm { minutes: "60".into(), ..Default::default() })?;
    /// assert!(view.sentence.contains("stir"), "{}", view.sentence);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn even(&self, request: &VerdictRequest, form: &EvenForm) -> Result<EvenView, StudioError> {
        if request.told.trim().is_empty() {
            return Err(StudioError::Typed("say what is in the pot, such as “15 g hide glue, 210 g water, 300 g chalk”".into()));
        }
        let worked = self.work(request).map_err(StudioError::typed)?;
        let film = match &worked.ranges {
            Ok(ranges) if worked.water_known => ranges.best,
            _ => return Err(StudioError::Typed(why_not(&worked))),
        };
        let work = work(form)?;
        let sinking = self.sinking(&worked, &film, &work);
        let drying = drying(&film, &work)?;
        let (sinks_said, every) = &sinking;
        let (dries_said, thicker) = &drying;
        let mut view = EvenView { rows: vec![sinks_said.clone(), dries_said.clone()], ..EvenView::default() };
        (view.sentence, view.more) = match every {
            Some(every) if *every < work.minutes => (
                format!(
                    "Only if you stir before each board: left alone, the pot is not the same at top and bottom after {}.",
                    time(*every)
                ),
                "Lay boards of each recipe early and late by turns, so that no recipe has all the late ones.".to_owned(),
            ),
            _ if *thicker > SEEN => (
                "Likely not, unless you cover the pot between boards or put the lost water back.".to_owned(),
                "Weigh the pot before the first board and again later: the scale says how much water is gone.".to_owned(),
            ),
            _ => ("Likely yes, if you stir now and then and keep the pot covered.".to_owned(), String::new()),
        };
        view.rows.push(bubbles(&film, &work, worked.coat.wet));
        view.rows.push(rails(&film, form)?);
        view.trust = vec![
            format!(
                "Taken: {} minutes of work, {}\u{a0}cm deep, {}\u{a0}cm wide; the binder {}, the pot {}.",
                number(work.minutes, 0),
                show::plain(work.deep.value() / 10.0),
                show::plain(work.wide),
                work.binder.plain,
                work.pot.plain
            ),
            "A pot that has turned to jelly, or is clotted, holds grains and bubbles for hours: these are the fastest cases.".to_owned(),
        ];
        view.trust.extend(worked.mix.notes.iter().filter(|note| note.contains("scale")).cloned());
        Ok(view)
    }

    /// What sinks, and after how many minutes boards would differ at the earliest.
    fn sinking(&self, worked: &Worked, film: &Film, work: &Work<'_>) -> (EvenRow, Option<f64>) {
        let about = "Grains sink".to_owned();
        let crowd = film.solids_volume * film.pvc;
        let grains = self.grains(worked, film);
        let speed = |grain: &Grain<'_>, thick: f64| sinks(grain.size, grain.density, WATER, thick) * in_a_crowd(crowd);
        let fastest = grains.iter().max_by(|a, b| speed(a, 1.0).total_cmp(&speed(b, 1.0)));
        let Some(grain) = fastest else {
            let row = EvenRow {
                about,
                said: "How fast they sink can't be said: the size of the grains is not known.".into(),
                how: String::new(),
            };
            return (row, None);
        };
        let (_, thin, thick) = work.binder.thick;
        let (slow, fast) = (speed(grain, thick), speed(grain, thin));
        let far = |speed: f64| (speed * work.minutes).min(work.deep.value());
        let said = format!(
            "Left alone for {}, the uppermost {}\u{a0}mm of the pot would have lost their grains of {}. Stirred before each board they stay where they are.",
            time(work.minutes),
            range(far(slow), far(fast)),
            grain.name
        );
        let how = format!(
            "A grain of {}\u{a0}\u{b5}m sinks {}\u{a0}mm in a minute where grains take {} of the pot (Stokes; Richardson and Zaki 1954, from memory). The largest grains are at the bottom much sooner. Boards are taken to differ once a twentieth of the depth has lost its grains: judgement.",
            show::plain(grain.size.value()),
            range(slow, fast),
            percent(crowd)
        );
        (EvenRow { about, said, how }, (fast > 0.0).then(|| SEEN * work.deep.value() / fast))
    }

    fn grains(&self, worked: &Worked, film: &Film) -> Vec<Grain<'_>> {
        let masses = worked.mix.grams(&worked.mix.best());
        let mut out = Vec::new();
        for ((_, grams), (_, id)) in masses.iter().zip(worked.mix.materials()) {
            let Some(material) = self.jars.material(id).filter(|material| material.kind == Kind::Filler) else { continue };
            let value = |name: &str| material.property(name).map(|property| property.value);
            let (Some(size), Some(density)) = (value("size"), value("density")) else { continue };
            let density = GramsPerMillilitre::new(density);
            if (*grams / density).value() > TRIFLE * film.filler_volume.value() {
                out.push(Grain { name: &material.name, size: Micrometres::new(size), density });
            }
        }
        out
    }
}

/// The work as typed.
fn work(form: &EvenForm) -> Result<Work<'static>, StudioError> {
    let or = |typed: Option<f64>, usual: f64| typed.unwrap_or(usual);
    let minutes = or(above_zero(&form.minutes, "how long the work takes", "60")?, USUAL_MINUTES);
    let deep = or(above_zero(&form.deep, "how deep the pot is filled", "6")?, USUAL_DEEP);
    let book = PotBook::builtin().map_err(StudioError::typed)?;
    let wide = or(above_zero(&form.wide, "how wide the pot is", "18")?, book.pan.value);
    if minutes > LONGEST || deep > LARGEST || wide > LARGEST {
        return Err(StudioError::Typed(
            "a day of work and a pot of 2 m are the most that is reckoned: minutes such as 60, centimetres such as 6".into(),
        ));
    }
    let flow = |typed: &str, usual: &str| {
        let wanted = if typed.is_empty() { usual } else { typed };
        let known = flows().map_err(StudioError::typed)?;
        known.iter().find(|flow| flow.key == wanted).ok_or_else(|| StudioError::Typed("choose from the list how thick it is".into()))
    };
    Ok(Work {
        minutes,
        deep: Millimetres::new(10.0 * deep),
        wide,
        binder: flow(&form.binder, USUAL_BINDER)?,
        pot: flow(&form.pot, USUAL_POT)?,
    })
}

/// Water that leaves, and by what share the last coat could dry thicker at most.
fn drying(film: &Film, work: &Work<'_>) -> Result<(EvenRow, f64), StudioError> {
    let book = PotBook::builtin().map_err(StudioError::typed)?;
    #[expect(clippy::cast_possible_truncation, reason = "at most a day")]
    let laying = Minutes::new(work.minutes.round() as i32);
    let (least, most) = book.lost_in(laying, work.wide).map_err(StudioError::typed)?;
    let mass = film.filler + film.binder + film.water + film.volatile + film.other;
    let volume = mass / film.wet_density;
    // Half a pot on the way loses as much from its surface as a full one: its last coat has lost up to twice the share.
    let (low, high) = (dries_thicker(volume, least / WATER).value(), dries_thicker(volume * 0.5, most / WATER).value());
    let all = most.value() >= film.water.value() * 0.5;
    let said = if all {
        "So small a pot may lose half its water or more: cover it, and weigh it.".to_owned()
    } else {
        format!(
            "An open cold pot loses {}\u{a0}g of water; laid as thick as the first, the last coat dries {}\u{a0}% thicker.",
            range(least.value(), most.value()),
            range(100.0 * low, 100.0 * high)
        )
    };
    let how = format!(
        "{} g to {} g from a square metre in an hour ({}); for the pot of {}\u{a0}g as told, from full to half empty. A warm pot loses several times as much: weigh it.",
        number(book.evaporation.range.map_or(book.evaporation.value, |ends| ends.0), 0),
        number(book.evaporation.range.map_or(book.evaporation.value, |ends| ends.1), 0),
        book.evaporation.source,
        number(mass.value(), 0)
    );
    Ok((EvenRow { about: "Water leaves".into(), said, how }, if all { 1.0 } else { high }))
}

fn bubbles(film: &Film, work: &Work<'_>, coat: Micrometres) -> EvenRow {
    let (_, thin, thick) = work.pot.thick;
    let rise = |thick: f64, height: Millimetres| bubble_rises(BUBBLE, film.wet_density, thick, height).unwrap_or(f64::INFINITY);
    let rest = |thick: f64| rise(thick, work.deep);
    let wet = Millimetres::new(coat.value() / 1000.0);
    let seconds = |thick: f64| 60.0 * rise(thick, wet);
    let (least, most) = (rest(thin), rest(thick));
    let said = if most > LONGEST {
        format!(
            "Bubbles of a tenth of a millimetre stay in so thick a pot ({} or more to rise through it). Stir slowly, or strain it.",
            time(least)
        )
    } else {
        format!(
            "Let the pot rest {} to {} after whisking, then stir once slowly: by then bubbles of a tenth of a millimetre are out.",
            time(least),
            time(most)
        )
    };
    let how = format!(
        "Stokes; through a wet coat of {}\u{a0}\u{b5}m they need {}\u{a0}seconds, so brush them out while it still flows. Bubbles come from a whisk, from a pot above 60\u{a0}\u{b0}C, from sour curd on chalk and from dry unsized wood.",
        number(coat.value(), 0),
        range(seconds(thin), seconds(thick))
    );
    EvenRow { about: "Bubbles rise".into(), said, how }
}

/// Minutes in words; less than one counts as one.
fn time(minutes: f64) -> String {
    #[expect(clippy::cast_possible_truncation, reason = "kept below two months")]
    lasting(minutes.round().clamp(1.0, 86_400.0) as i64)
}

/// Rails of tape beside the board, and what a coat drawn along them comes to.
fn rails(film: &Film, form: &EvenForm) -> Result<EvenRow, StudioError> {
    let layers = above_zero(&form.layers, "the layers of tape", "2")?.unwrap_or(USUAL_LAYERS);
    let tape = above_zero(&form.tape, "the thickness of the tape", "0.13")?.unwrap_or(USUAL_TAPE);
    if layers > 20.0 || layers.fract() > 0.0 || tape > 2.0 {
        return Err(StudioError::Typed(
            "tape lies in 1 to 20 whole layers of at most 2 mm each; fold it twenty times and measure the stack".into(),
        ));
    }
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between 1 and 20")]
    let (thin, thick) = under_rails(layers as u32, Micrometres::new(1000.0 * tape));
    let laid = |wet: Micrometres| film.laid(wet).value();
    let dry = |wet: Micrometres| film.dry(wet).value();
    Ok(EvenRow {
        about: "Even coats without a gauge".into(),
        said: format!(
            "{} of tape on either side and a straight blade along them leave {}\u{a0}\u{b5}m wet, {}\u{a0}g/m\u{b2}, which dries to {}\u{a0}\u{b5}m.",
            if layers < 1.5 { "One layer".to_owned() } else { format!("{} layers", number(layers, 0)) },
            range(thin.value(), thick.value()),
            range(laid(thin), laid(thick)),
            range(dry(thin), dry(thick))
        ),
        how: "The blade leaves half the gap to all of it (common practice, no source), so the rails make coats alike and the scale says how thick they are. Fold the tape twenty times and measure the stack to know its thickness.".into(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn view(told: &str, form: &EvenForm) -> Result<EvenView, String> {
        let request = VerdictRequest { told: told.into(), ..VerdictRequest::default() };
        Workbench::open().unwrap().even(&request, form).map_err(|why| why.to_string())
    }

    const POT: &str = "100 g natural chalk, 10 g hide glue, 100 g water";

    fn typed(minutes: &str, binder: &str) -> EvenForm {
        EvenForm { minutes: minutes.into(), binder: binder.into(), ..EvenForm::default() }
    }

    /// By hand: chalk of 3.162 um and 2.71 in water-thin binder of 1.5 to 10 mPa s sinks 9.999e-12 x 1710 x 9.81 / (18 x 0.0015) =
    /// 6.213e-6 m/s = 0.373 mm/min alone; grains take 0.3088 x 0.8241 = 0.2545 of the pot: 0.7455^4.65 = 0.255; 0.0952 mm/min, so a
    /// twentieth of 60 mm in 31.5 minutes, and 5.7 mm in an hour; 0.86 mm at 10 mPa s.
    #[test]
    fn a_thin_pot_left_alone_by_hand() {
        let even = view(POT, &typed("60", "milk")).unwrap();
        assert!(even.sentence.contains("stir before each board") && even.sentence.contains("after 3"), "{}", even.sentence);
        assert!(even.rows[0].said.contains("1 to 6\u{a0}mm"), "{}", even.rows[0].said);
        assert!(view(POT, &typed("60", "honey")).unwrap().sentence.starts_with("Likely"));
    }

    /// By hand: 18 cm wide is 254 cm2; 40 to 60 g/(m2 h) in an hour are 1.0 to 1.5 g of 145 ml: 0.7 % from the full pot at least, and
    /// 1.53 of 72.5 ml, 2.2 %, from half of it at most.
    #[test]
    fn an_open_pot_loses_little_in_an_hour() {
        let even = view(POT, &typed("60", "honey")).unwrap();
        assert!(even.rows[1].said.contains("1.0 to 1.5"), "{}", even.rows[1].said);
        assert!(even.rows[1].said.contains("0.7 to 2.2"), "{}", even.rows[1].said);
        assert!(view(POT, &typed("600", "honey")).unwrap().sentence.contains("cover"));
    }

    /// By hand: two layers of 0.13 mm leave 130 to 260 um wet, 188 to 377 g/m2, 50 to 101 um dry.
    #[test]
    fn rails_of_tape_by_hand() {
        let said = &view(POT, &typed("", "")).unwrap().rows[3].said;
        assert!(said.contains("130 to 260") && said.contains("190 to 380") && said.contains("50 to 100"), "{said}");
    }

    #[test]
    fn slips_are_refused_with_a_sentence() {
        assert!(view("", &EvenForm::default()).unwrap_err().contains("what is in the pot"));
        assert!(view("chalk and glue", &EvenForm::default()).unwrap_err().contains("chalk"));
        assert!(view(POT, &typed("0", "")).unwrap_err().contains("above zero"));
        assert!(view(POT, &typed("1e9", "")).unwrap_err().contains("a day of work"));
        assert!(view(POT, &typed("60", "treacle")).unwrap_err().contains("choose from the list"));
        let tape = EvenForm { layers: "1.5".into(), ..EvenForm::default() };
        assert!(view(POT, &tape).unwrap_err().contains("whole layers"));
    }
}
