//! Which cylinder parts two grounds, bent on a strip?

use measure::{Micrometres, Millimetres, Share};
use show::{BendRow, BendView, number, range};
use trials::scales::{BentStrip, along_cone, cone_at};

use crate::Workbench;
use crate::studio::{StudioError, above_zero};

/// Two strips, as typed.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct BendForm {
    /// Sheet on which both lie, millimetres.
    pub sheet: String,
    /// Dry ground of the first, micrometres.
    pub coat: String,
    /// Dry ground of the second; the same if empty.
    pub coat2: String,
    /// How far the first stretches before it cracks, hundredths; empty where it is not known.
    pub breaks: String,
    /// The same of the second.
    pub breaks2: String,
}

/// Sheet and ground where none is typed: canvas, and a ground of a few coats (common practice, no source).
const CANVAS_MM: f64 = 0.6;
const COAT_UM: f64 = 150.0;
/// Thickest sheet and ground that can be meant, and the farthest stretch.
const THICKEST_MM: f64 = 10.0;
const THICKEST_UM: f64 = 5000.0;
const FARTHEST: f64 = 100.0;

/// A strip and the stretch at which it cracks.
#[derive(Clone, Copy)]
struct Strip {
    strip: BentStrip,
    breaks: Option<f64>,
}

/// What a bend does to one strip.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Fate {
    Holds,
    Cracks,
    Open,
}

impl Strip {
    /// Least and most that its outer face is stretched, as shares: with the middle of both together, or of the sheet alone, unstretched.
    fn stretched(&self, diameter: Micrometres) -> Result<(f64, f64), StudioError> {
        let share = |found: Result<Share, trials::scales::BendError>| found.map(Share::value).map_err(StudioError::typed);
        Ok((share(self.strip.stretch_as_one(diameter))?, share(self.strip.stretch(diameter))?))
    }

    fn fate(&self, (least, most): (f64, f64)) -> Fate {
        match self.breaks {
            Some(breaks) if most < breaks => Fate::Holds,
            Some(breaks) if least > breaks => Fate::Cracks,
            _ => Fate::Open,
        }
    }
}

impl Workbench {
    /// What each cylinder does to two strips, and which parts them.
    ///
    /// # Errors
    /// A field that does not read.
    ///
    /// ```
    /// use workbench::{BendForm, Workbench};
    /// let form = BendForm { sheet: "0.6".into(), coat: "300".into(), breaks: "0.3".into(), breaks2: "10".into(), ..BendForm::default() };
    /// let view = Workbench::open()?.bend(&form)?;
    /// assert!(view.sentence.contains("the first cracks and the second holds"), "{}", view.sentence);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn bend(&self, form: &BendForm) -> Result<BendView, StudioError> {
        let sheet = within(&form.sheet, "the sheet (mm)", "0.6", THICKEST_MM)?.unwrap_or(CANVAS_MM);
        let coat = within(&form.coat, "the first ground (\u{b5}m)", "150", THICKEST_UM)?.unwrap_or(COAT_UM);
        let other = within(&form.coat2, "the second ground (\u{b5}m)", "150", THICKEST_UM)?.unwrap_or(coat);
        let breaks = [(&form.breaks, "the stretch of the first (%)"), (&form.breaks2, "the stretch of the second (%)")];
        let [first_breaks, second_breaks] = breaks.map(|(typed, what)| within(typed, what, "0.4", FARTHEST));
        let strip = |coat: f64, breaks: Option<f64>| {
            let strip = BentStrip::new(Micrometres::new(1000.0 * sheet), Micrometres::new(coat)).map_err(StudioError::typed)?;
            Ok::<_, StudioError>(Strip { strip, breaks: breaks.map(|hundredths| hundredths / 100.0) })
        };
        let strips = [strip(coat, first_breaks?)?, strip(other, second_breaks?)?];
        let alike = (coat - other).abs() < 0.5;
        let mut cylinders: Vec<_> = self.scales.cylinders().iter().collect();
        cylinders.sort_by(|a, b| b.diameter.value().total_cmp(&a.diameter.value()));
        let mut rows = Vec::with_capacity(cylinders.len());
        let mut parting: Option<(String, Fate)> = None;
        for cylinder in cylinders {
            let [first, second] = strips;
            let (a, b) = (first.stretched(cylinder.diameter)?, second.stretched(cylinder.diameter)?);
            let fates = (first.fate(a), second.fate(b));
            let parts = matches!(fates, (Fate::Holds, Fate::Cracks) | (Fate::Cracks, Fate::Holds));
            let wide = format!("{}\u{a0}mm", show::plain(cylinder.diameter.value() / 1000.0));
            if parts && parting.is_none() {
                let name = if cylinder.standard { cylinder.name.clone() } else { format!("{} ({wide})", cylinder.name) };
                parting = Some((name, fates.0));
            }
            rows.push(BendRow {
                name: cylinder.name.clone(),
                // The standard cylinders carry their width in their name.
                wide: if cylinder.standard { String::new() } else { wide },
                first: hundredths(a),
                second: if alike { String::new() } else { hundredths(b) },
                says: said(fates).to_owned(),
                parts,
            });
        }
        let known = strips.iter().all(|strip| strip.breaks.is_some());
        let mut view = BendView { rows, ..BendView::default() };
        view.sentence = match parting {
            Some((cylinder, Fate::Cracks)) => format!("Round a {cylinder} the first cracks and the second holds."),
            Some((cylinder, _)) => format!("Round a {cylinder} the second cracks and the first holds."),
            None if known => "None of these cylinders parts the two: measure others, or lay one of them thicker.".into(),
            None => "Bend a strip of each, from the widest cylinder to the tightest, until one cracks.".into(),
        };
        view.more.push("The lower figure holds if ground and sheet bend as one, the upper if the ground is softer than its sheet; on canvas, paper and card the truth lies between. On steel sheet tight bends stretch more than both, up to a third more round 3\u{a0}mm (ASTM D522, printed table).".into());
        view.more.extend(cone(strips));
        view.more.push("Measure your own cylinders, and write down thickness, warmth and damp beside what you saw: plastic grounds stiffen in the cold, glue and casein in dry air. A glue ground of much powder breaks at 0.3 to 0.5\u{a0}% (Mecklenburg, Tumosa and Erhardt 1998, from memory); other grounds want their own strips.".into());
        Ok(view)
    }
}

/// How far along the bending cone each cracks; `None` where one is not known.
fn cone([first, second]: [Strip; 2]) -> Option<String> {
    Some(format!(
        "On a cone shaped after ASTM D522 (3 to 38\u{a0}mm over 200\u{a0}mm) the first cracks {}, the second {}.",
        on_cone(first)?,
        on_cone(second)?
    ))
}

fn on_cone(strip: Strip) -> Option<String> {
    // A stretch that no cylinder gives is never reached.
    let Ok(diameter) = strip.strip.cylinder_for(Share::new(strip.breaks?)) else { return Some("nowhere".into()) };
    Some(match along_cone(diameter) {
        Some(along) => format!("up to about {}\u{a0}mm from the narrow end", number(along.value(), 0)),
        None if diameter.value() < cone_at(Millimetres::ZERO).value() => "nowhere".into(),
        None => "all along".into(),
    })
}

fn said(fates: (Fate, Fate)) -> &'static str {
    match fates {
        (Fate::Holds, Fate::Holds) => "both hold",
        (Fate::Cracks, Fate::Cracks) => "both crack",
        (Fate::Cracks, Fate::Holds) => "first cracks",
        (Fate::Holds, Fate::Cracks) => "second cracks",
        _ => "can't be told",
    }
}

fn hundredths((least, most): (f64, f64)) -> String {
    format!("{}\u{a0}%", range(100.0 * least, 100.0 * most))
}

fn within(typed: &str, what: &str, example: &str, most: f64) -> Result<Option<f64>, StudioError> {
    match above_zero(typed, what, example)? {
        Some(value) if value > most => {
            Err(StudioError::Typed(format!("{what} can be at most {}; write it like {example}", show::plain(most))))
        }
        other => Ok(other),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn view(form: &BendForm) -> Result<BendView, String> {
        Workbench::open().unwrap().bend(form).map_err(|why| why.to_string())
    }

    fn form(sheet: &str, coat: &str, breaks: &str, breaks2: &str) -> BendForm {
        let text = str::to_owned;
        BendForm { sheet: text(sheet), coat: text(coat), coat2: String::new(), breaks: text(breaks), breaks2: text(breaks2) }
    }

    /// By hand: canvas 0.6 mm, ground 0.3 mm. Round 75 mm 0.9/75.9 = 1.19 to 1.2/75.6 = 1.59 %; round 320 mm 0.281 to 0.374 %.
    #[test]
    fn canvas_round_household_cylinders() {
        let open = view(&form("0.6", "300", "", "")).unwrap();
        let of = |name: &str| open.rows.iter().find(|row| row.name.contains(name)).unwrap();
        assert_eq!(of("wine bottle").first, "1.2 to 1.6\u{a0}%");
        assert!(of("large pot").first.starts_with("0.28 to 0.37"), "{}", of("large pot").first);
        assert!(open.sentence.starts_with("Bend a strip of each") && open.rows.iter().all(|row| !row.parts));
    }

    /// A glue ground of 0.3 % and a plastic one of 10 % (a maker's sheet: passes a quarter-inch cylinder, about 15 %) are parted by any
    /// household cylinder tighter than the large pot; two that break alike by none.
    #[test]
    fn glue_and_plastic_are_parted_and_twins_are_not() {
        let parted = view(&form("0.6", "300", "0.3", "10")).unwrap();
        assert!(parted.sentence.starts_with("Round a bucket (260"), "{}", parted.sentence);
        let back = view(&form("0.6", "300", "10", "0.3")).unwrap();
        assert!(back.sentence.contains("the second cracks"), "{}", back.sentence);
        assert!(view(&form("0.6", "300", "1", "1")).unwrap().sentence.starts_with("None of these"));
    }

    /// By hand: card 0.3 mm, ground 0.1 mm, 2 %: 0.5/0.02 - 0.3 = 24.7 mm wide, (24.7 - 3)/0.175 = 124 mm from the narrow end.
    #[test]
    fn a_place_on_the_cone() {
        let told = view(&form("0.3", "100", "2", "10")).unwrap();
        assert!(told.more.iter().any(|line| line.contains("up to about 124\u{a0}mm")), "{:?}", told.more);
    }

    #[test]
    fn slips_are_refused_with_a_sentence() {
        assert!(view(&form("0", "300", "", "")).unwrap_err().contains("above zero"));
        assert!(view(&form("60", "300", "", "")).unwrap_err().contains("at most 10"));
        assert!(view(&form("0.6", "thick", "", "")).unwrap_err().contains("no number"));
    }
}
