//! What each kind of ground is used to: how it is made ready, how long a pot lives, how long hands take.

use std::sync::OnceLock;

use making::{DataError, Minutes, Preparation, Preparing, Span, TimeShelf};
use measure::SquareMetres;
use support::GroundKind;

use super::asked::PotInfo;

/// What a binder is made from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Starts {
    /// Milk, or curd that is made of it.
    Milk,
    /// Curd from the shop.
    Curd,
    /// Casein powder.
    Powder,
    /// Glue in grains or gelatine.
    Grains,
    /// Egg and size.
    Egg,
    /// Oil.
    Oil,
    /// A binder or primer from the shop.
    Bought,
}

impl Starts {
    const fn id(self) -> &'static str {
        match self {
            Self::Milk => "milk",
            Self::Curd => "curd",
            Self::Powder => "powder",
            Self::Grains => "grains",
            Self::Egg => "egg and size",
            Self::Oil => "oil",
            Self::Bought => "bought binder",
        }
    }
}

/// Opening a tin that was stirred (judgement, no source).
const STIRRED: Minutes = Minutes::new(1);

/// What is done once for all pots that begin alike.
const SHARED: [&str; 4] = ["curdle", "drain", "wash", "soak"];

/// The table of times; [`crate::Workbench::open`] refuses to start with a broken one.
pub(crate) fn times() -> Result<&'static TimeShelf, DataError> {
    static ONCE: OnceLock<Result<TimeShelf, DataError>> = OnceLock::new();
    ONCE.get_or_init(TimeShelf::builtin).as_ref().map_err(Clone::clone)
}

fn table() -> Option<&'static TimeShelf> {
    times().ok()
}

/// Whether a preparation is made once for all pots that begin alike.
pub(super) fn made_once(key: &str) -> bool {
    key.starts_with("plaster/") || key.rsplit('/').next().is_some_and(|name| SHARED.contains(&name))
}

/// What must be done before a pot can be mixed.
pub(super) fn preparation(pot: &PotInfo) -> Vec<Preparing> {
    let plaster = table().filter(|_| pot.plaster).into_iter().flat_map(|table| table.preparations("plaster", "plaster"));
    let binder = table().into_iter().flat_map(|table| table.preparations(pot.family.id(), pot.starts.id()));
    let asked = |one: &Preparation| Preparing { key: format!("{}/{}/{}", one.family, one.from, one.key), ..one.asked() };
    plaster.chain(binder).map(asked).collect()
}

/// How long a ready pot may be used.
pub(super) fn life(family: GroundKind) -> Span {
    table().and_then(|table| table.pot(family.id())).map(|pot| pot.life).unwrap_or_default()
}

/// Hands-on time from ready binder to ready pot; a bought one is only stirred, which its preparation is.
pub(super) fn mixing(family: GroundKind) -> Minutes {
    if family == GroundKind::Acrylic { STIRRED } else { table().map(TimeShelf::mixing).unwrap_or_default() }
}

/// Cleaning up after so many pots.
pub(super) fn washing_up(pots: usize) -> Minutes {
    table().map(|table| table.washing_up(pots)).unwrap_or_default()
}

/// Hands-on time for a coat.
pub(crate) fn laying(face: SquareMetres) -> Minutes {
    table().map(|table| table.laying(face)).unwrap_or_default()
}

/// A preparation in words: what is done, in short; how; the caution beside it.
pub(super) fn preparing_words(key: &str) -> (String, String, String) {
    let mut parts = key.splitn(3, '/');
    let (family, from, name) = (parts.next().unwrap_or(""), parts.next().unwrap_or(""), parts.next().unwrap_or(key));
    let found = table().and_then(|table| table.preparations(family, from).find(|one| one.key == name));
    found.map_or_else(
        || (name.to_owned(), String::new(), String::new()),
        |one| (short(family, name).to_owned(), one.say.clone(), one.caution.clone()),
    )
}

/// What goes on by itself after a preparation; empty where there are no words for it.
pub(super) fn resting_words(key: &str) -> &'static str {
    let (family, name) = (key.split('/').next().unwrap_or(""), key.rsplit('/').next().unwrap_or(""));
    match (family, name) {
        (_, "curdle") => "the milk curdles",
        (_, "drain") => "the curd drains",
        (_, "wash") => "the curd hangs",
        ("glue" | "emulsion", "soak") => "the glue soaks",
        (_, "soak") => "the casein soaks",
        (_, "dissolve") => "the casein dissolves",
        (_, "slake" | "stir again") => "the plaster slakes",
        (_, "press") => "the plaster drains",
        _ => "",
    }
}

/// A preparation in a few words, for the largest type.
fn short(family: &str, name: &str) -> &'static str {
    match (family, name) {
        (_, "curdle") => "Curdle the milk",
        (_, "drain") => "Drain the curd",
        (_, "wash") => "Wash the curd and hang it up",
        ("glue", "break") => "Break the glue",
        (_, "break") => "Rub the curd through a sieve",
        (_, "dissolve") => "Dissolve the curd or casein",
        ("glue" | "emulsion", "soak") => "Soak the glue",
        (_, "soak") => "Soak the casein",
        (_, "warm") => "Warm the glue",
        (_, "shake") => "Shake egg and oil together",
        (_, "grind") => "Work powder and oil together",
        (_, "slake") => "Slake the plaster",
        (_, "stir again") => "Stir the slaked plaster",
        (_, "press") => "Press the plaster",
        ("casein_lime", "stir") => "Stir the lime in",
        _ => "Stir the binder",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_kind_of_ground_is_in_the_table() {
        let table = times().unwrap();
        for family in GroundKind::ALL {
            assert!(table.pot(family.id()).is_some(), "{}", family.id());
            assert!(life(family).low.count() > 0 && life(family).low <= life(family).high);
        }
        let starts = [
            (GroundKind::Glue, vec![Starts::Grains]),
            (GroundKind::SodaCasein, vec![Starts::Milk, Starts::Curd, Starts::Powder]),
            (GroundKind::LimeCasein, vec![Starts::Milk, Starts::Curd, Starts::Powder]),
            (GroundKind::Emulsion, vec![Starts::Egg]),
            (GroundKind::Oil, vec![Starts::Oil]),
            (GroundKind::Acrylic, vec![Starts::Bought]),
        ];
        for (family, starts) in starts {
            for start in starts {
                let rows: Vec<_> = table.preparations(family.id(), start.id()).collect();
                assert!(!rows.is_empty(), "{} from {}", family.id(), start.id());
                for row in rows {
                    let key = format!("{}/{}/{}", row.family, row.from, row.key);
                    let (say, how, _) = preparing_words(&key);
                    assert_eq!(how, row.say, "{key}");
                    assert!(say != "Stir the binder" || row.key == "stir", "{key} has no words of its own");
                }
            }
        }
    }
}
