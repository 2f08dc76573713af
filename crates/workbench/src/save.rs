//! A pot is not right: what to put in, or throw it away. Nothing is written down.

use binder::Base;
use making::{Correction, Gone, PotBook, PotFamily, PotMix, PotSeen, Sight};
use measure::{Celsius, Grams, Share};
use show::{PotMended, SaveView, number};

use crate::mend::{Mixed, corrected, saved};
use crate::studio::{StudioError, above_zero, number as typed_number};
use crate::{VerdictRequest, Workbench};

/// What a person says of the pot.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct SaveForm {
    /// What went in, as told; may be empty.
    pub told: String,
    /// What is seen on it.
    pub sight: String,
    /// What it weighs now without its vessel, grams; may be empty.
    pub weighs: String,
    /// What was laid from it so far, grams; may be empty.
    pub laid: String,
    /// Its width inside, centimetres; may be empty.
    pub wide: String,
    /// How warm it is, degrees Celsius; may be empty.
    pub warmth: String,
}

/// Warmth where none is told, and how much more water thins a pot that lost none (judgement, no source).
const ROOM_C: f64 = 20.0;
const TENTH: f64 = 0.1;

impl Workbench {
    /// What is seen on pots, as name and words.
    pub fn sights() -> [(&'static str, &'static str); 10] {
        Sight::ALL.map(|sight| (sight.key(), sight.words()))
    }

    /// How to save this pot.
    ///
    /// # Errors
    /// A field that does not read, or weights that do not fit; the message says how to mend it.
    ///
    /// ```
    /// use workbench::{SaveForm, Workbench};
    /// // 606 g went in, 586 g are left: 20 g of water went into the air.
    /// let told = "40 g casein, 16 g borax, 300 g chalk, 250 g water".into();
    /// let form = SaveForm { told, sight: "thick".into(), weighs: "586".into(), ..SaveForm::default() };
    /// let view = Workbench::open()?.save(&form)?;
    /// assert!(view.sentence.contains("20\u{a0}g of water"), "{}", view.sentence);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn save(&self, form: &SaveForm) -> Result<SaveView, StudioError> {
        let sight =
            Sight::of(&form.sight).ok_or_else(|| StudioError::Typed("say what is wrong with the pot: choose what you see".into()))?;
        let book = PotBook::builtin().map_err(StudioError::typed)?;
        let weighs = above_zero(&form.weighs, "what the pot weighs", "586")?.map(Grams::new);
        let laid = Grams::new(above_zero(&form.laid, "what was laid from it", "120")?.unwrap_or(0.0));
        let wide = above_zero(&form.wide, "the width of the pot", "18")?.unwrap_or(book.pan.value);
        let warmth = typed_number(&form.warmth, "the warmth", "20")?.unwrap_or(ROOM_C);
        if !(0.0..=100.0).contains(&warmth) {
            return Err(StudioError::Typed("a pot is between 0 and 100 °C warm; write it like 20".into()));
        }
        let request = VerdictRequest { told: form.told.clone(), ..VerdictRequest::default() };
        let told = !form.told.trim().is_empty();
        let worked = if told { Some(self.work(&request).map_err(StudioError::typed)?) } else { None };
        let families = worked.as_ref().map(|worked| self.families(worked)).unwrap_or_default();
        let mixed = self.mixed(&request);
        let rescues = saved(sight, &families)?;
        let mut view = SaveView { said: if told { self.quick_sentence(&request) } else { String::new() }, ..SaveView::default() };
        if matches!(sight, Sight::Thick | Sight::Thin | Sight::Skin | Sight::Hot) {
            match (&mixed, weighs) {
                (Some(mixed), weighs) => view.mended = water(book, mixed, sight, (weighs, laid), wide)?,
                (None, None) => {}
                (None, Some(_)) => view.trust.push(
                    "How much water belongs in it is not known: say what went in, each with its amount and the water as well.".into(),
                ),
            }
        }
        if !told {
            view.trust.push("What it is made of was not told, so all kinds of pot are answered below; yours is among them.".into());
        } else if families.is_empty() {
            view.trust.push("Its binder was not recognised, so all kinds of pot are answered below.".into());
        }
        let first = rescues.first().map_or("Nothing is known for that.", |rescue| rescue.remedy.as_str());
        let advice = first.split_once(". ").map_or_else(|| first.to_owned(), |(first, _)| format!("{first}."));
        let known = !families.is_empty();
        view.mended = view.mended.and_then(|mended| after_the_first_thing(mended, sight, &families));
        view.sentence = match (&view.mended, sight, known) {
            (None, Sight::Thick, _) if families.contains(&PotFamily::Plaster) => "Lay nothing more from it, and put no water in.".into(),
            (Some(mended), ..) if !mended.says.is_empty() => mended.says.clone(),
            (_, Sight::Sour, _) => "Throw it away.".into(),
            (_, Sight::Setting, true) if families.contains(&PotFamily::Plaster) => "It can't be saved: lay nothing more from it.".into(),
            (_, Sight::Curdled, true) if families.contains(&PotFamily::Casein) => "It can't be saved: throw it away.".into(),
            _ if rescues.len() > 1 && !known => "That hangs on what it is: look for your kind of pot.".into(),
            _ => advice,
        };
        view.rescues = rescues;
        let mut gives_gas = false;
        if let Some(worked) = &worked {
            for (line, grams) in worked.mix.grams(&worked.mix.best()) {
                let base = worked.reading.lines.get(line).and_then(|line| line.material.first()).and_then(Base::from_material);
                if let Some(base) = base {
                    gives_gas |= self.foam(base, grams, Celsius::new(ROOM_C), wide).map_err(StudioError::typed)?.is_some();
                    view.foam = view.foam.or(self.foam(base, grams, Celsius::new(warmth), wide).map_err(StudioError::typed)?);
                }
            }
        }
        if gives_gas && view.foam.is_none() && sight == Sight::Foam {
            view.trust
                .push("So hot, steam alone makes it foam: room for it is reckoned up to 90\u{a0}°C. Take it off the heat first.".into());
        }
        Ok(view)
    }
}

/// Water comes after what must be done first: heat off, a skin out, a look whether it sets. A pot with plaster in it gets none.
fn after_the_first_thing(mut mended: PotMended, sight: Sight, families: &[PotFamily]) -> Option<PotMended> {
    let when = match sight {
        Sight::Thick if families.contains(&PotFamily::Plaster) => return None,
        Sight::Thick if families.contains(&PotFamily::LimeCasein) => "If it still flows: ",
        Sight::Hot => "Once it is cool and weighed again: ",
        Sight::Skin => "When the skin is out and weighed: ",
        _ => return Some(mended),
    };
    let says = std::mem::take(&mut mended.says);
    mended
        .more
        .insert(0, format!("{when}{}{}", says.get(..1).map(str::to_lowercase).unwrap_or_default(), says.get(1..).unwrap_or_default()));
    mended.water_g.clear();
    Some(mended)
}

/// Water that it lost or has too much of, beside the recipe.
fn water(
    book: &PotBook,
    mixed: &Mixed,
    sight: Sight,
    (weighs, laid): (Option<Grams>, Grams),
    wide: f64,
) -> Result<Option<PotMended>, StudioError> {
    let (mix, first) = (mixed.mix, mixed.mix.share());
    let Some(now) = weighs else { return tenth(sight, mix, "Weigh the pot: then the water that it lost can be told") };
    let scale = book.scale_doubt();
    let over = now + laid - mix.total;
    // A pot that is too thin and weighs more than went in holds water that the recipe does not know.
    let added = if sight == Sight::Thin && over > scale { over } else { Grams::ZERO };
    let seen = PotSeen { before: mix.total, added, laid, now };
    let end = |gone| mix.after(&seen, gone, scale).map_err(StudioError::typed);
    let (a, b) = (end(Gone::BeforeTheCoats)?, end(Gone::AfterTheCoats)?);
    let middle = PotMix { solids: (a.solids + b.solids) / 2.0, total: now };
    let found = middle.to(first).map_err(StudioError::typed)?;
    let wants = |mix: &PotMix| match mix.to(first) {
        Ok(Correction::Add { water, .. }) => water.value(),
        _ => 0.0,
    };
    match &found {
        Correction::Add { water, .. } if *water >= scale => {
            if sight == Sight::Thin {
                let says = "Put no water in: it weighs less than what went in, so water is not what makes it thin.".into();
                let more = vec![
                    "If it was thicker before, it is spoilt: throw it away. If it was thin from the start, its recipe is thin.".into(),
                ];
                return Ok(Some(PotMended { says, more, water_g: String::new() }));
            }
            let (low, high) = ((wants(&a).min(wants(&b)) - scale.value()).max(0.0), wants(&a).max(wants(&b)) + scale.value());
            let mut said = corrected(book, mixed, first, found, wide)?;
            said.more.insert(0, format!("Likely {} to {}\u{a0}g, as far as the scale tells.", number(low, 0), number(high, 0)));
            Ok(Some(said))
        }
        Correction::TooThin { away, .. } if *away >= scale => corrected(book, mixed, first, found, wide).map(Some),
        _ => tenth(sight, middle, "By its weight it lost no water"),
    }
}

/// A tenth more water for a thick pot, where the scale does not ask for any.
fn tenth(sight: Sight, mix: PotMix, why: &str) -> Result<Option<PotMended>, StudioError> {
    if sight != Sight::Thick {
        return Ok(None);
    }
    let Correction::Add { water, .. } = mix.more_water(Share::new(TENTH)).map_err(StudioError::typed)? else { return Ok(None) };
    Ok(Some(PotMended {
        says: format!("{why}."),
        more: vec![format!(
            "To thin it as it was mixed, a tenth more of its water is {}\u{a0}g; powder and binder stay as they are. A pot that only turned to jelly or sets is not helped by it.",
            number(water.value(), 0)
        )],
        water_g: String::new(),
    }))
}

#[cfg(test)]
mod tests {
    use super::*;

    const POT: &str = "40 g casein, 16 g borax, 300 g chalk, 250 g water";

    fn save(form: &SaveForm) -> Result<SaveView, StudioError> {
        Workbench::open().unwrap().save(form)
    }

    fn form(told: &str, sight: &str, weighs: &str) -> SaveForm {
        SaveForm { told: told.into(), sight: sight.into(), weighs: weighs.into(), ..SaveForm::default() }
    }

    /// By hand: 606 g went in; 586 g are left, so 20 g of water went. A tenth of 250 g is 25 g. At 636 g it holds 30 g too much.
    #[test]
    fn water_back_and_too_much_of_it() {
        assert!(save(&form(POT, "thick", "586")).unwrap().sentence.contains("20\u{a0}g of water"));
        let unweighed = save(&form(POT, "thick", "")).unwrap();
        assert!(unweighed.sentence.contains("Weigh the pot") && unweighed.mended.unwrap().more[0].contains("25\u{a0}g"));
        assert!(save(&form(POT, "thin", "636")).unwrap().sentence.contains("30\u{a0}g of water"));
        assert!(save(&form(POT, "thin", "586")).unwrap().sentence.contains("Put no water in"));
        // 303 g laid of 606, 303 g left: nothing went, and a tenth of the water that is left (125 of 250 g) is 12.5 g.
        let half = SaveForm { laid: "303".into(), ..form(POT, "thick", "303") };
        let more = save(&half).unwrap().mended.unwrap().more;
        assert!(more[0].contains("12\u{a0}g") || more[0].contains("13\u{a0}g"), "{more:?}");
        // 380 g laid, 206 g left: 20 g gone. If before the coats, they took 380/586 of it; if after, all 20 g are missing here.
        // Before: 206 x 606 / 586 - 206 = 7.03 g; after: 20 g; in the middle of the solids about 13.5 g.
        let laid = SaveForm { laid: "380".into(), ..form(POT, "thick", "206") };
        let more = save(&laid).unwrap().mended.unwrap().more;
        assert!(more[0].contains("6 to 21\u{a0}g"), "{more:?}");
    }

    #[test]
    fn what_can_not_be_saved_is_thrown_away() {
        assert!(save(&form(POT, "sour", "")).unwrap().sentence.contains("Throw it away"));
        assert!(save(&form(POT, "curdled", "")).unwrap().sentence.contains("can't be saved"));
        let any = save(&form("", "lumps", "")).unwrap();
        assert!(any.rescues.len() > 1 && any.mended.is_none() && !any.trust.is_empty());
    }

    /// A pot that may be setting gets no water: it hides the setting and leaves a ground that crumbles (handbook recipes). Heat off and a
    /// skin out come before any water.
    #[test]
    fn water_is_not_the_first_thing_for_a_pot_that_sets_is_hot_or_has_a_skin() {
        // 40 + 250 + 300 g went in, 570 g are left: 20 g gone.
        let plaster = save(&form("40 g rabbit skin glue, 300 g plaster of paris, 250 g water", "thick", "570")).unwrap();
        assert!(plaster.sentence.contains("Lay nothing more") && plaster.mended.is_none(), "{plaster:?}");
        let lime = save(&form("40 g casein, 10 g slaked lime, 300 g chalk, 250 g water", "thick", "580")).unwrap();
        assert!(lime.sentence.contains("sets"), "{}", lime.sentence);
        let hot = save(&form("40 g rabbit skin glue, 300 g chalk, 250 g water", "hot", "570")).unwrap();
        assert!(hot.sentence.starts_with("Take it off the heat"), "{}", hot.sentence);
        assert!(hot.mended.unwrap().more.iter().any(|line| line.contains("20\u{a0}g of water")));
        let skin = save(&form(POT, "skin", "586")).unwrap();
        assert!(skin.sentence.starts_with("Do not stir it in"), "{}", skin.sentence);
    }

    /// 4.92 g of soda: 4.92 / 84.007 x 24.055 l/mol (ideal gas at 20 °C) = 1.41 l. In a pot 18 cm wide, 254.47 cm2, that is 5.5 cm.
    #[test]
    fn a_pot_with_soda_wants_room() {
        let foam = save(&form("40 g casein, 4.92 g baking soda, 300 g chalk, 250 g water", "foam", "")).unwrap().foam.unwrap();
        assert!(foam.says.contains("1.4\u{a0}l") && foam.says.contains("6\u{a0}cm higher") && foam.how.contains("0.3 to 1.4"), "{foam:?}");
        assert_eq!(save(&form(POT, "foam", "")).unwrap().foam, None);
        let told = "40 g casein, 4.92 g baking soda, 300 g chalk, 250 g water";
        let hot = save(&SaveForm { warmth: "95".into(), ..form(told, "foam", "") }).unwrap();
        assert!(hot.foam.is_none() && hot.trust.iter().any(|line| line.contains("90")), "{hot:?}");
    }

    #[test]
    fn a_slip_is_named_with_its_mend() {
        for (wrong, word) in [
            (form(POT, "", ""), "choose what you see"),
            (form(POT, "thick", "heavy"), "586"),
            (form(POT, "thick", "-5"), "above zero"),
            (form(POT, "thick", "900"), "weighs"),
            (form(POT, "thick", "100"), "missing"),
            (SaveForm { wide: "wide".into(), ..form(POT, "thick", "586") }, "18"),
            (SaveForm { warmth: "300".into(), ..form(POT, "foam", "") }, "100 °C"),
        ] {
            let why = save(&wrong).unwrap_err().to_string();
            assert!(why.contains(word), "{why}");
        }
    }
}
