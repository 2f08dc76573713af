//! Boards of the painter's own that tell of cracks: how thick, and whether they held.

use std::sync::Arc;

use ground::{Film, FilmBook, FilmRanges, Learned, Mix, NEAR_CRITICAL, Protein, THICKEST, cracks_at_best, doubt_at, learned};
use materials::{Family, Kind};
use measure::Micrometres;

use crate::Workbench;
use crate::verdict::{SUPPORTS, USUAL_SUPPORT};

/// Boards of a studio that were read for cracks, as far as their thickness and their pot are known.
pub type BoardsSeen = Arc<Vec<CrackBoard>>;

/// A board that was read for cracks.
#[derive(Debug, Clone, PartialEq)]
pub struct CrackBoard {
    /// The protein that binds.
    pub(crate) protein: Protein,
    /// The powder of which there is most, by its name in the catalogue.
    pub(crate) powder: String,
    /// Powder share over critical share.
    pub(crate) ratio: f64,
    /// Thickest that stayed whole, micrometres.
    pub(crate) whole_um: Option<f64>,
    /// Thinnest that cracked through, micrometres.
    pub(crate) cracked_um: Option<f64>,
    /// Where the model lets it crack, micrometres.
    pub(crate) model_um: f64,
}

impl CrackBoard {
    /// A board with this film, bound by one protein; `None` where the constants know nothing of it.
    pub(crate) fn of(
        (protein, powder): (Protein, String),
        film: &Film,
        support: &str,
        whole_um: Option<f64>,
        cracked_um: Option<f64>,
    ) -> Option<Self> {
        let book = FilmBook::builtin().ok()?;
        let model = cracks_at_best(book, film.pvc, film.cpvc, protein, support_named(support)).ok()?;
        Some(Self { protein, powder, ratio: film.lambda(), whole_um, cracked_um, model_um: model.value() })
    }

    /// Whether the pull of drying is what could crack it: not near the critical share, where the model is in doubt, nor so lean that it
    /// would hold beyond 1 mm. Such a board that cracks had another cause.
    pub(crate) fn counts(&self) -> bool {
        !NEAR_CRITICAL.contains(&self.ratio) && self.model_um <= THICKEST.value()
    }

    fn board(&self) -> ground::SeenBoard {
        let um = |um: Option<f64>| um.map(Micrometres::new);
        ground::SeenBoard { whole: um(self.whole_um), cracked: um(self.cracked_um), model: Micrometres::new(self.model_um) }
    }
}

/// What boards say of one recipe's family.
#[derive(Debug, Clone, Default)]
pub(crate) struct Told {
    /// What they brought, if any counts.
    pub(crate) learned: Option<Learned>,
    /// Boards of this binder and powder, those that do not count with them.
    pub(crate) family: Vec<CrackBoard>,
}

impl Workbench {
    /// The one protein that binds; `None` for two, or for another binder.
    pub(crate) fn protein_of_mix(&self, mix: &Mix) -> Option<Protein> {
        let materials = mix.materials().filter_map(|(_, id)| self.jars.material(id)).filter(|material| material.kind != Kind::Filler);
        let mut found = materials.filter_map(|material| protein_of(material.family));
        let first = found.next()?;
        found.all(|other| other == first).then_some(first)
    }

    /// The one protein that binds and the powder of which there is most; `None` where either is missing.
    pub(crate) fn family_of_mix(&self, mix: &Mix) -> Option<(Protein, String)> {
        let protein = self.protein_of_mix(mix)?;
        let mut powder: Option<(String, f64)> = None;
        for ((_, grams), (_, id)) in mix.grams(&mix.best()).into_iter().zip(mix.materials()) {
            let Some(material) = self.jars.material(id) else { continue };
            if material.kind == Kind::Filler {
                let volume = grams.value() / material.property("density").map_or(1.0, |density| density.value);
                if powder.as_ref().is_none_or(|(_, most)| volume > *most) {
                    powder = Some((id.as_str().to_owned(), volume));
                }
            }
        }
        Some((protein, powder?.0))
    }

    /// What the boards say of grounds of this binder and powder.
    pub(crate) fn told_by_boards(&self, seen: &[CrackBoard], family: &(Protein, String), on: &str, ranges: &FilmRanges) -> Told {
        let of_protein: Vec<&CrackBoard> = seen.iter().filter(|board| board.protein == family.0).collect();
        let own: Vec<&CrackBoard> = of_protein.iter().copied().filter(|board| board.powder == family.1).collect();
        let drawn = own.iter().map(|board| (*board).clone()).collect();
        let counting: Vec<&CrackBoard> = of_protein.into_iter().filter(|board| board.counts()).collect();
        let mut powders: Vec<&str> = counting.iter().map(|board| board.powder.as_str()).filter(|powder| *powder != family.1).collect();
        powders.sort_unstable();
        powders.dedup();
        let of = |powder: &str| counting.iter().filter(|board| board.powder == powder).map(|board| board.board()).collect::<Vec<_>>();
        let (mine, others) = (of(&family.1), powders.into_iter().map(of).collect::<Vec<_>>());
        // How far the books leave it open is asked where the boards lie, their middle one.
        let mut ratios: Vec<f64> = counting.iter().map(|board| board.ratio).collect();
        ratios.sort_by(f64::total_cmp);
        let doubt = ratios.get(ratios.len() / 2).and_then(|ratio| {
            let book = FilmBook::builtin().ok()?;
            doubt_at(book, ranges, (family.0, on), *ratio).ok().flatten()
        });
        let brought = |doubt| self.lessons.answer(&(&mine, &others, doubt), || learned(&mine, &others, doubt));
        Told { learned: doubt.and_then(brought), family: drawn }
    }
}

impl Told {
    /// What stands on the card; empty without boards of this family that tell anything.
    pub(crate) fn sentence(&self) -> String {
        let Some(learned) = &self.learned else {
            if self.family.is_empty() {
                return String::new();
            }
            let read = boards(self.family.len());
            let cracked = if self.family.iter().any(|board| board.cracked_um.is_some()) {
                " What cracked there speaks for another cause."
            } else {
                ""
            };
            return format!(
                "Read on {read}, but they are too lean, or too near the critical share, to tell of the pull of drying.{cracked}"
            );
        };
        let whose = match (learned.own, learned.others) {
            (own, 0) => format!("Seen on {}", boards(own)),
            (0, others) => format!("Seen on {} with the same binder and other powders", boards(others)),
            (own, others) => format!("Seen on {} and {} more with the same binder", boards(own), show::number(others as f64, 0)),
        };
        if learned.cannot_tell() {
            return format!(
                "{whose}, which can't tell yet: they held or cracked where the books expect it. A board nearer to the edge of the hatching tells more."
            );
        }
        let moved = learned.lesson.times;
        let way = if (moved - 1.0).abs() < 0.1 {
            "they crack about where the books argue".to_owned()
        } else {
            format!("they crack at {} the thickness that the books argue", about(moved))
        };
        let doubt = (10.0 * learned.doubt_left).round();
        format!("{whose}: {way}; {} tenths of the doubt of the books are left.", show::number(doubt, 0))
    }

    /// How many boards of this very family moved the answer.
    pub(crate) fn count(&self) -> usize {
        self.learned.map_or(0, |learned| learned.own)
    }
}

fn about(factor: f64) -> String {
    let words = show::times(factor);
    words.trim_end_matches(" of").to_owned()
}

fn boards(count: usize) -> String {
    if count == 1 { "1 of your boards".to_owned() } else { format!("{} of your boards", show::number(count as f64, 0)) }
}

fn protein_of(family: Family) -> Option<Protein> {
    match family {
        Family::Glue => Some(Protein::Glue),
        Family::Casein | Family::LimeCasein => Some(Protein::Casein),
        _ => None,
    }
}

/// The support that a trial's words name; the usual one where they name none that is known.
pub(crate) fn support_named(words: &str) -> &'static str {
    let words = words.to_lowercase();
    SUPPORTS.iter().find(|(id, plain)| words.contains(id) || words.contains(&plain.to_lowercase())).map_or(USUAL_SUPPORT, |(id, _)| id)
}
