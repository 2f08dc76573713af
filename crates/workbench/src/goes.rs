//! Does this powder curdle this binder?

use materials::{BinderKind, Kind, Material, MaterialId, Pair, Verdict};
use show::{GoesRow, GoesView};

use crate::Workbench;
use crate::studio::StudioError;

/// Binders that pairs are known of: name in addresses, in words.
pub(crate) const BINDERS: [(BinderKind, &str, &str); 5] = [
    (BinderKind::Glue, "glue", "glue or gelatine"),
    (BinderKind::SodaCasein, "soda-casein", "casein with soda"),
    (BinderKind::BoraxCasein, "borax-casein", "casein with borax"),
    (BinderKind::AmmoniaCasein, "ammonia-casein", "casein with ammonia"),
    (BinderKind::LimeCasein, "lime-casein", "casein with lime"),
];

impl Workbench {
    /// Powders that may be asked about, as id and name.
    pub fn powders_for_pairs(&self) -> Vec<(&str, &str)> {
        let asked = |m: &&Material| m.kind == Kind::Filler || self.jars.pairs().iter().any(|pair| pair.fillers.contains(&m.id));
        let mut found: Vec<_> = self.jars.materials().iter().filter(asked).map(|m| (m.id.as_str(), m.name.as_str())).collect();
        found.sort_by_key(|(_, name)| name.to_lowercase());
        found
    }

    /// Binders that may be asked about, as name and words.
    pub fn binders_for_pairs() -> [(&'static str, &'static str); 5] {
        BINDERS.map(|(_, key, words)| (key, words))
    }

    /// What this powder does to this binder.
    ///
    /// # Errors
    /// No such powder or binder.
    ///
    /// ```
    /// let bench = workbench::Workbench::open()?;
    /// assert!(bench.goes("gypsum", "soda-casein")?.sentence.starts_with("Likely yes"));
    /// assert!(bench.goes("gypsum", "glue")?.sentence.starts_with("No"));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn goes(&self, powder: &str, binder: &str) -> Result<GoesView, StudioError> {
        let id = MaterialId::new(powder);
        let material = self.jars.material(&id).ok_or_else(|| StudioError::Typed("choose one of the powders in the list".into()))?;
        let (kind, _, words) = BINDERS
            .into_iter()
            .find(|(_, key, _)| *key == binder)
            .ok_or_else(|| StudioError::Typed("choose one of the binders in the list".into()))?;
        let pairs: Vec<&Pair> = self.jars.pairs().iter().filter(|pair| pair.binder == kind && pair.fillers.contains(&id)).collect();
        let first = pairs.first().filter(|pair| pair.verdict != Verdict::Unknown);
        let name = &material.name;
        let Some(first) = first else {
            return Ok(GoesView {
                sentence: format!("Not known: make the jar test with {name} and {words}."),
                rows: pairs.into_iter().map(row).collect(),
                advice: "Nothing is written down about this pair. One jar tells more than any guess.".into(),
            });
        };
        let sure = first.standing == "print";
        let (answer, advice) = match first.verdict {
            Verdict::Good | Verdict::Unknown => (
                format!("{}: {name} goes with {words}.", if sure { "No" } else { "Likely no" }),
                if sure { "Go on; a new lot of powder still earns a jar." } else { "Make one jar before a whole pot." },
            ),
            Verdict::Curdles => (
                format!("{}: {name} curdles {words}.", if sure { "Yes" } else { "Likely yes" }),
                "Do not put them together. Gypsum goes with glue or lime casein; with soda, borax or ammonia casein take chalk.",
            ),
            Verdict::Sets => (
                format!("It sets: {name} hardens in {words} by itself."),
                "Do not lay from such a pot: slake plaster in plenty of water first, until it can no longer set, or take chalk.",
            ),
            Verdict::Thickens | Verdict::Stiffens => (
                format!("{}: {name} makes {words} stiff.", if sure { "It thickens" } else { "It may thicken" }),
                "Make the jar test. If it only thickens, mix small pots, use them at once and thin with water alone.",
            ),
            Verdict::Foams => (format!("It foams: {name} in {words} gives gas."), "Wash the curd first and leave the lid loose."),
        };
        Ok(GoesView { sentence: answer, advice: advice.into(), rows: pairs.into_iter().map(row).collect() })
    }
}

/// Where the jar test of a powder and a binder stands.
pub(crate) fn goes_address(powder: &str, binder: BinderKind) -> String {
    let key = BINDERS.iter().find(|(kind, _, _)| *kind == binder).map_or("", |(_, key, _)| *key);
    format!("/goes?powder={}&binder={key}#jar", show::path_part(powder))
}

fn row(pair: &Pair) -> GoesRow {
    GoesRow {
        what: match pair.verdict {
            Verdict::Good => "They go together",
            Verdict::Thickens => "It thickens",
            Verdict::Curdles => "It curdles",
            Verdict::Sets => "It sets",
            Verdict::Foams => "It foams if the curd is still sour",
            Verdict::Stiffens => "It may stiffen",
            Verdict::Unknown => "Not known",
        },
        why: pair.why.clone(),
        standing: if pair.standing == "print" { "printed" } else { "argued, not tried on grounds" },
        source: pair.source.clone(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn said(powder: &str, binder: &str) -> String {
        Workbench::open().unwrap().goes(powder, binder).unwrap().sentence
    }

    /// Printed: gypsum in glue (Cennini, ch. CXV-CXX) and in lime casein (Doerner, Wehlte). Argued: 2.1 g/l of gypsum (solubility at
    /// 20 °C, handbook value) gives lime enough to tie soda casein; chalk gives a twentieth of that. Alum throws casein out of its
    /// solution (Hammarsten, Text-book of Physiological Chemistry).
    #[test]
    fn what_books_say_of_pairs() {
        assert!(said("gypsum", "glue").starts_with("No:"));
        assert!(said("gypsum", "lime-casein").starts_with("No:"));
        for binder in ["soda-casein", "borax-casein", "ammonia-casein"] {
            assert!(said("gypsum", binder).starts_with("Likely yes"));
            assert!(said("natural-chalk", binder).starts_with("Likely no"));
            assert!(said("plaster-of-paris", binder).starts_with("Likely yes"));
            assert!(said("potash-alum", binder).starts_with("Yes"));
        }
        assert!(said("plaster-of-paris", "glue").starts_with("It sets"));
        assert!(said("zinc-white", "ammonia-casein").starts_with("It may thicken"));
        assert!(said("potash-alum", "glue").contains("stiff"));
    }

    #[test]
    fn a_pair_that_nobody_weighed_up_is_not_known() {
        assert!(said("diatomite-calcined", "glue").starts_with("Not known"));
        let bench = Workbench::open().unwrap();
        assert!(bench.goes("moon dust", "glue").unwrap_err().to_string().contains("powders in the list"));
        assert!(bench.goes("gypsum", "honey").unwrap_err().to_string().contains("binders in the list"));
    }

    /// Every pair of the lists gets an answer.
    #[test]
    fn every_pair_is_answered() {
        let bench = Workbench::open().unwrap();
        for (powder, _) in bench.powders_for_pairs() {
            for (binder, _) in Workbench::binders_for_pairs() {
                let view = bench.goes(powder, binder).unwrap();
                assert!(!view.sentence.is_empty() && !view.advice.is_empty());
            }
        }
    }
}
