//! The lexicon of the materials and units that the program carries, built once.

use std::sync::OnceLock;

use measure::Units;

use super::lexicon::Lexicon;
use crate::catalogue::Catalogue;

/// Runs something with the lexicon of these materials and units: the one kept, if they are those of the program.
pub(super) fn with_lexicon<T>(jars: &Catalogue, units: &Units, run: impl FnOnce(&Lexicon) -> T) -> T {
    static USUAL: OnceLock<Option<(Units, Lexicon)>> = OnceLock::new();
    if Catalogue::builtin().is_ok_and(|builtin| std::ptr::eq(builtin, jars)) {
        let build = || {
            Units::builtin().ok().map(|units| {
                let lexicon = Lexicon::new(jars, &units);
                (units, lexicon)
            })
        };
        if let Some((_, lexicon)) = USUAL.get_or_init(build).as_ref().filter(|(known, _)| same(known, units)) {
            return run(lexicon);
        }
    }
    run(&Lexicon::new(jars, units))
}

/// Whether two tables hold the same units and words.
fn same(a: &Units, b: &Units) -> bool {
    a.all() == b.all() && a.words().count() == b.words().count() && a.words().all(|word| a.by_word(word) == b.by_word(word))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn other_units_get_their_own_lexicon() {
        let jars = Catalogue::builtin().unwrap();
        let head = "id,kind,value,low,high,unit,region,words,weight,source\n";
        let few = Units::parse(&format!("{head}smidgen,mass,2,,,g,,smidgen,1,invented for this test\n")).unwrap();
        assert!(with_lexicon(jars, &few, |lexicon| lexicon.unit_word("smidgen")).is_some());
        assert!(with_lexicon(jars, &Units::builtin().unwrap(), |lexicon| lexicon.unit_word("smidgen")).is_none());
    }
}
