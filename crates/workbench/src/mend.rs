//! A pot from its recipe, and what it wants: a wished share of solids, more water, or to be saved. For pots of a trial and any other.

use ground::Film;
use making::{Correction, Minutes, PotBook, PotError, PotFamily, PotMix, Sight, rescues, rescues_for, same_when_dry};
use materials::BinderKind;
use measure::{Grams, GramsPerSquareMetre, Share};
use show::{PotMended, RescueView, lasting, number, percent, plain};

use crate::studio::{StudioError, above_zero};
use crate::verdict::Worked;
use crate::{PotAsk, VerdictRequest, Workbench};

/// A pot worked out from what truly went in, or else as planned.
pub(crate) struct Mixed {
    pub(crate) worked: Worked,
    pub(crate) film: Film,
    pub(crate) mix: PotMix,
}

impl Workbench {
    /// What is in the pot, if that gives a film with its water.
    pub(crate) fn mixed(&self, request: &VerdictRequest) -> Option<Mixed> {
        if request.told.trim().is_empty() {
            return None;
        }
        let worked = self.work(request).ok().filter(|worked| worked.water_known)?;
        let mut portions = Vec::new();
        let film = worked.mix.film(&worked.mix.best(), &mut portions).ok()?;
        worked.mix.pot(&worked.mix.best(), &mut portions);
        let total: Grams = portions.iter().map(|portion| portion.mass).sum();
        let mix = PotMix::of(total, Share::new(film.solids_mass)).ok()?;
        Some(Mixed { worked, film, mix })
    }

    /// Kinds of pot that it belongs to.
    pub(crate) fn families(&self, worked: &Worked) -> Vec<PotFamily> {
        let mut out = Vec::new();
        match worked.mix.binder_kind(self.jars) {
            Some(BinderKind::Glue) => out.push(PotFamily::Glue),
            Some(BinderKind::LimeCasein) => out.push(PotFamily::LimeCasein),
            Some(BinderKind::SodaCasein | BinderKind::BoraxCasein | BinderKind::AmmoniaCasein) => out.push(PotFamily::Casein),
            None => {}
        }
        if worked.mix.materials().any(|(_, id)| id.as_str() == "plaster-of-paris") {
            out.push(PotFamily::Plaster);
        }
        out
    }
}

/// The wished share and the wished water, as shares.
fn wished(ask: &PotAsk) -> Result<(Option<f64>, Option<f64>), StudioError> {
    let hundredths = |text: &str, what: &str, example: &str| above_zero(text, what, example).map(|value| value.map(|value| value / 100.0));
    Ok((hundredths(&ask.wish, "what should stay when dry", "52")?, hundredths(&ask.more, "more water", "10")?))
}

/// What was asked gets an answer also where nothing can be worked out: why not. None where nothing was asked.
pub(crate) fn unanswered(ask: &PotAsk, why: &str) -> Result<Option<PotMended>, StudioError> {
    let says = match wished(ask)? {
        (None, None) if ask.wide.trim().is_empty() => return Ok(None),
        (None, None) => "Say how much of it should stay when dry, in hundredths, such as 55.",
        _ => why,
    };
    Ok(Some(PotMended { says: says.into(), ..PotMended::default() }))
}

/// The answer to a wished share, or to so much more water.
pub(crate) fn mended(
    book: &PotBook,
    mixed: &Mixed,
    (now, first): (PotMix, Share),
    ask: &PotAsk,
    wide: f64,
) -> Result<Option<PotMended>, StudioError> {
    let (wish, more) = wished(ask)?;
    let found = match (wish, more) {
        (Some(wish), _) => now.to(Share::new(wish)),
        (None, Some(more)) if more > 2.0 => {
            return Err(StudioError::Typed("more than twice its water makes another ground; say 5 or 10, and look again".into()));
        }
        (None, Some(more)) => now.more_water(Share::new(more)),
        (None, None) => return unanswered(ask, ""),
    };
    found.map_err(StudioError::typed).and_then(|found| corrected(book, mixed, first, found, wide)).map(Some)
}

/// A correction of a pot that had this share when it was mixed, in words.
pub(crate) fn corrected(book: &PotBook, mixed: &Mixed, first: Share, found: Correction, wide: f64) -> Result<PotMended, StudioError> {
    Ok(match found {
        Correction::Nothing => PotMended { says: "It stands there already: put nothing in.".into(), ..PotMended::default() },
        Correction::Add { water, after } => PotMended {
            says: format!("Put in {}\u{a0}g of water, a little at a time, and stir.", number(water.value(), 0)),
            more: thinned(book, first, after),
            water_g: number(water.value(), 0),
        },
        Correction::TooThin { away, dry } => too_thin(book, mixed, away, dry, wide).map_err(StudioError::typed)?,
    })
}

fn thinned(book: &PotBook, first: Share, after: Share) -> Vec<String> {
    let usual = GramsPerSquareMetre::new(book.coat.value);
    vec![
        "Powder and binder stay as they are: the dry ground is the same.".into(),
        format!(
            "Then {} of it dries and stays, and a coat that is to dry like {}\u{a0}g/m² of the pot as mixed weighs {}\u{a0}g/m².",
            percent(after.value()),
            plain(usual.value()),
            number(same_when_dry(usual, first, after).value(), 0)
        ),
    ]
}

/// Water can't be taken out.
fn too_thin(book: &PotBook, mixed: &Mixed, away: Grams, dry: Grams, wide: f64) -> Result<PotMended, PotError> {
    let wait = |wide: f64| {
        book.wait_open(away, wide).map(|span| {
            let words = |time: Minutes| lasting(i64::from(time.count()));
            format!("{} to {}", words(span.low), words(span.high))
        })
    };
    let film = &mixed.film;
    let all = film.filler + film.binder + film.other;
    let part = |mass: Grams| number((dry * (mass / all)).value(), 0);
    let salts = if film.other.value() > 0.0 {
        format!(", {}\u{a0}g of what else stays (soda, lime, salts)", part(film.other))
    } else {
        String::new()
    };
    Ok(PotMended {
        says: format!("It is too thin by {}\u{a0}g of water, and water can't be taken out.", number(away.value(), 0)),
        more: vec![
            format!(
                "Leave the lid off and stir now and then: a cold pot {} cm wide takes {}; spread out in a dish {} cm wide, {}.",
                plain(wide),
                wait(wide)?,
                plain(book.wide_dish.value),
                wait(book.wide_dish.value)?
            ),
            format!(
                "Or stir in more of the same recipe, dissolved in as little water as it takes: {}\u{a0}g of powder and {}\u{a0}g of dry binder{salts}. The water that comes with it has to go as well.",
                part(film.filler),
                part(film.binder)
            ),
            "Powder alone would make it thicker and leaner: that is another recipe.".into(),
        ],
        water_g: String::new(),
    })
}

/// Ways to save a pot; of all kinds where it is not known what this one is.
pub(crate) fn saved(sight: Sight, families: &[PotFamily]) -> Result<Vec<RescueView>, StudioError> {
    let found = if families.is_empty() {
        rescues().map(|all| all.iter().filter(|one| one.sight == sight).collect())
    } else {
        rescues_for(sight, families)
    };
    let view = |one: &making::Rescue| RescueView {
        pots: one.families.iter().map(|family| family_words(*family)).collect::<Vec<_>>().join(" or "),
        why: one.why.clone(),
        remedy: one.remedy.clone(),
        away: one.away.clone(),
        keeps: one.keeps,
        caution: one.caution.clone(),
        source: one.source.clone(),
    };
    Ok(found.map_err(StudioError::typed)?.into_iter().map(view).collect())
}

const fn family_words(family: PotFamily) -> &'static str {
    match family {
        PotFamily::Glue => "glue",
        PotFamily::Casein => "casein",
        PotFamily::LimeCasein => "lime casein",
        PotFamily::Plaster => "plaster in the pot",
    }
}
