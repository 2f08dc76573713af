//! *Save this pot*: what is seen, why, what to do so that powder and binder stay as they are, and when to throw it away.

use std::sync::OnceLock;

use serde::{Deserialize, Serialize};

use crate::rows::{RowsError, rows};

/// What is seen on a pot.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Sight {
    /// Thicker than it was.
    Thick,
    /// Too thin.
    Thin,
    /// Lumps.
    Lumps,
    /// Foam.
    Foam,
    /// Clots.
    Curdled,
    /// It sets, or warms by itself.
    Setting,
    /// It smells, or has thinned by itself.
    Sour,
    /// A skin.
    Skin,
    /// The powder lies below.
    Settled,
    /// It was too hot.
    Hot,
}

impl Sight {
    /// All, as they are offered to be tapped.
    pub const ALL: [Self; 10] =
        [Self::Thick, Self::Thin, Self::Lumps, Self::Foam, Self::Curdled, Self::Setting, Self::Sour, Self::Skin, Self::Settled, Self::Hot];

    /// Its name in the table and in addresses.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Thick => "thick",
            Self::Thin => "thin",
            Self::Lumps => "lumps",
            Self::Foam => "foam",
            Self::Curdled => "curdled",
            Self::Setting => "setting",
            Self::Sour => "sour",
            Self::Skin => "skin",
            Self::Settled => "settled",
            Self::Hot => "hot",
        }
    }

    /// What a painter says on seeing it.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Thick => "It has become thick",
            Self::Thin => "It is too thin",
            Self::Lumps => "It has lumps",
            Self::Foam => "It foams",
            Self::Curdled => "It has curdled",
            Self::Setting => "It sets, or grows warm",
            Self::Sour => "It smells, or went thin by itself",
            Self::Skin => "It has a skin",
            Self::Settled => "The powder has sunk",
            Self::Hot => "It got too hot",
        }
    }

    /// The sight of this name.
    pub fn of(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|sight| sight.key() == key)
    }
}

/// What a pot is made of, as far as saving it goes. A pot may be several: glue with plaster in it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum PotFamily {
    /// Hide glue, gelatine.
    Glue,
    /// Casein opened with soda, borax or ammonia.
    Casein,
    /// Casein opened with lime.
    LimeCasein,
    /// Plaster of Paris among the powders.
    Plaster,
}

impl PotFamily {
    fn of(key: &str) -> Option<Self> {
        match key {
            "glue" => Some(Self::Glue),
            "casein" => Some(Self::Casein),
            "lime-casein" => Some(Self::LimeCasein),
            "plaster" => Some(Self::Plaster),
            _ => None,
        }
    }
}

/// One way to save a pot, or the word that it can't be saved.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Rescue {
    /// Its name.
    pub id: String,
    /// What is seen.
    pub sight: Sight,
    /// Pots for which it holds; empty for all.
    pub families: Vec<PotFamily>,
    /// Why it is so.
    pub why: String,
    /// What to do, solids kept.
    pub remedy: String,
    /// When to throw it away.
    pub away: String,
    /// Whether powder and binder stay in the recipe's own proportion. If not, boards laid from it carry another recipe.
    pub keeps: bool,
    /// What can hurt; empty where nothing does more than at any other step.
    pub caution: String,
    /// Where it comes from.
    pub source: String,
}

const FILE: &str = "rescues.csv";

/// All ways, in the order of the file.
///
/// # Errors
/// The data file is broken; a test keeps it sound.
pub fn rescues() -> Result<&'static [Rescue], RowsError> {
    static ONCE: OnceLock<Result<Vec<Rescue>, RowsError>> = OnceLock::new();
    ONCE.get_or_init(|| parse(include_str!("../data/rescues.csv"))).as_deref().map_err(Clone::clone)
}

/// What helps a pot of these families on which this is seen: what is said of such a pot in particular first, then what holds for all.
///
/// # Errors
/// The data file is broken; a test keeps it sound.
///
/// ```
/// use making::{PotFamily, Sight, rescues_for};
/// let found = rescues_for(Sight::Setting, &[PotFamily::Glue, PotFamily::Plaster])?;
/// assert_eq!(found[0].id, "setting-plaster");
/// assert!(!found[0].keeps);
/// # Ok::<(), making::RowsError>(())
/// ```
pub fn rescues_for(sight: Sight, families: &[PotFamily]) -> Result<Vec<&'static Rescue>, RowsError> {
    let mut found: Vec<&Rescue> = rescues()?
        .iter()
        .filter(|one| one.sight == sight && (one.families.is_empty() || one.families.iter().any(|family| families.contains(family))))
        .collect();
    // Plaster that sets looks like water lost, and water is the wrong thing for it: nothing else is offered beside its own row.
    if sight == Sight::Thick && families.contains(&PotFamily::Plaster) {
        found.retain(|one| one.families.contains(&PotFamily::Plaster));
    }
    found.sort_by_key(|one| one.families.is_empty());
    Ok(found)
}

fn parse(text: &str) -> Result<Vec<Rescue>, RowsError> {
    let head = ["id", "sight", "families", "why", "do", "away", "keeps", "caution", "source"];
    let mut out = Vec::new();
    for (line, [id, sight, families, why, remedy, away, keeps, caution, source]) in rows(FILE, text, head)? {
        let wrong = |what: String| RowsError { file: FILE, line, what };
        let families: Option<Vec<PotFamily>> = families.split('|').filter(|key| !key.is_empty()).map(PotFamily::of).collect();
        out.push(Rescue {
            sight: Sight::of(&sight).ok_or_else(|| wrong(format!("no sight is called {sight}")))?,
            families: families.ok_or_else(|| wrong("a family is none of glue, casein, lime-casein, plaster".into()))?,
            keeps: match keeps.as_str() {
                "yes" => true,
                "no" => false,
                other => return Err(wrong(format!("keeps is yes or no, not {other}"))),
            },
            id,
            why,
            remedy,
            away,
            caution,
            source,
        });
    }
    Ok(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_sight_has_an_answer_for_every_pot() {
        use PotFamily::{Casein, Glue, LimeCasein, Plaster};
        for sight in Sight::ALL {
            assert_eq!(Sight::of(sight.key()), Some(sight));
            for families in [&[Glue][..], &[Casein], &[LimeCasein], &[Glue, Plaster]] {
                assert!(!rescues_for(sight, families).unwrap().is_empty(), "{sight:?} {families:?}");
            }
        }
    }

    #[test]
    fn each_says_when_to_throw_away_and_where_it_comes_from() {
        let mut ids: Vec<&str> = rescues().unwrap().iter().map(|one| one.id.as_str()).collect();
        ids.sort_unstable();
        ids.dedup();
        assert_eq!(ids.len(), rescues().unwrap().len());
        for one in rescues().unwrap() {
            for text in [&one.why, &one.remedy, &one.away, &one.source] {
                assert!(!text.is_empty(), "{one:?}");
            }
            assert!(one.caution.is_empty() || one.caution.contains("safety data sheet and local rules"), "{}", one.id);
        }
    }

    /// Water hides the setting of plaster and leaves mud (handbook recipes): no row for such a pot says to put any in.
    #[test]
    fn no_water_for_plaster_that_thickens() {
        let found = rescues_for(Sight::Thick, &[PotFamily::Glue, PotFamily::Plaster]).unwrap();
        assert_eq!(found.iter().map(|one| one.id.as_str()).collect::<Vec<_>>(), ["thick-plaster"]);
        assert!(found[0].remedy.contains("put no water in") && found[0].caution.contains("burn"));
        assert!(rescues_for(Sight::Thick, &[PotFamily::Glue]).unwrap().iter().any(|one| one.id == "thick"));
    }

    /// What can hurt carries its caution: setting plaster, lime, hot pots, and what is foul.
    #[test]
    fn what_can_hurt_says_so() {
        for (sight, family) in [
            (Sight::Setting, PotFamily::Plaster),
            (Sight::Setting, PotFamily::LimeCasein),
            (Sight::Hot, PotFamily::Glue),
            (Sight::Hot, PotFamily::Casein),
            (Sight::Sour, PotFamily::Casein),
            (Sight::Foam, PotFamily::Casein),
        ] {
            assert!(rescues_for(sight, &[family]).unwrap().iter().any(|one| !one.caution.is_empty()), "{sight:?}");
        }
        let sour = rescues_for(Sight::Sour, &[]).unwrap();
        assert!(sour.iter().all(|one| one.caution.contains("Never bleach") && !one.keeps));
    }

    /// Gas from a level teaspoon of baking soda, by hand: 4.6 g / 84.007 g/mol = 54.76 mmol, one CO2 each; at 20 C and 1013 hPa
    /// 8.314 x 293.15 / 101325 = 24.05 l/mol, so 1.317 l. The table says "up to 1.3 litres".
    #[test]
    fn gas_of_a_teaspoon_of_soda() {
        let litres = 4.6 / 84.007 * 8.314 * 293.15 / 101.325;
        assert!((litres - 1.317f64).abs() < 0.001);
        assert!(rescues_for(Sight::Foam, &[PotFamily::Casein]).unwrap()[0].why.contains("up to 1.3 litres"));
    }
}
