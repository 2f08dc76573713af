//! What a photo says to the question why a board failed: only what it says clearly.

use cracks::{Look, MARGIN_MM};
use show::SeenTap;

use super::Grain;

/// From this strength on cracks share one direction (model choice: of cracks spread evenly over 60 degrees it is 0.83, over 90 degrees 0.64).
const ONE_WAY: f64 = 0.7;
/// Below this they run all ways (model choice).
const ALL_WAYS: f64 = 0.35;
/// The direction has to lie this near to the grain, or to square with it, in degrees (model choice).
const NEAR_DEG: f64 = 25.0;
/// A net has closed this many pieces of ground off (model choice).
const NET: f64 = 5.0;
/// Crack below which nothing is said, mm/mm2: the limit of class 2 of our own scale (model choice).
const LEAST: f64 = 0.02;
/// Pinholes on a board from which they are the sight (model choice).
const HOLES: usize = 100;
/// Strip along the edges that counts as edge, as a share of the short side (model choice).
const EDGE: f64 = 0.15;
/// Share of the crack's length that has to lie on one side of that strip's limit (model choice).
const MOSTLY: f64 = 0.85;

/// Taps that the photo answers by itself; empty where it leaves room for doubt.
///
/// Cracks along or across the grain need a word on which way the grain runs. Lumps, flakes and dust are never told from one photo.
pub fn looked_taps(look: &Look, grain: Option<Grain>) -> Vec<SeenTap> {
    let mut taps = Vec::new();
    let mut say = |tap: &str, answer: &str, because: &str| {
        taps.push(SeenTap { tap: tap.into(), answer: answer.into(), because: because.into() });
    };
    // The least that the doubt allows has to speak as well.
    let cracked = look.length.low >= LEAST;
    let strength = look.direction_strength.unwrap_or(0.0);
    if cracked {
        match (look.direction_deg, grain) {
            (Some(degrees), Some(grain)) if strength >= ONE_WAY => match beside(degrees, grain) {
                Some(true) => say("looks", "cracks along the grain", "nearly all cracks run one way, and it is the grain's"),
                Some(false) => say("looks", "cracks across the grain", "nearly all cracks run one way, square to the grain"),
                None => {}
            },
            _ if strength <= ALL_WAYS && look.islands.low >= NET => {
                say("looks", "network of cracks", "cracks run all ways and part the ground into pieces");
            }
            _ => {}
        }
        if let Some((answer, because)) = place(look) {
            say("where", answer, because);
        }
    } else if look.length.high < LEAST && look.pinholes.len() >= HOLES {
        say("looks", "small holes", "there are many round holes and hardly a crack");
    }
    taps
}

/// Whether a direction is that of the grain (`true`), square to it (`false`) or neither.
fn beside(degrees: f64, grain: Grain) -> Option<bool> {
    let grain = match grain {
        Grain::Across => 0.0,
        Grain::Down => 90.0,
    };
    let apart = (degrees - grain).rem_euclid(180.0);
    let apart = apart.min(180.0 - apart);
    if apart <= NEAR_DEG {
        Some(true)
    } else if apart >= 90.0 - NEAR_DEG {
        Some(false)
    } else {
        None
    }
}

/// Where on the board they lie: at the edges, in the middle, or all over (then each of twelve fields has its share).
fn place(look: &Look) -> Option<(&'static str, &'static str)> {
    let thin = &look.lines.thin;
    let (width, height) = (thin.width().max(1), thin.height().max(1));
    let strip = EDGE * width.min(height) as f64 + MARGIN_MM * look.flat.px_per_mm;
    let (mut all, mut edge) = (0.0, 0.0);
    let mut fields = [0.0_f64; 12];
    for (x, y) in thin.places() {
        let (Ok(x), Ok(y)) = (usize::try_from(x), usize::try_from(y)) else { continue };
        all += 1.0;
        let inwards = x.min(width.saturating_sub(x)).min(y).min(height.saturating_sub(y));
        if (inwards as f64) < strip {
            edge += 1.0;
        }
        if let Some(count) = fields.get_mut((x * 4 / width).min(3) + 4 * (y * 3 / height).min(2)) {
            *count += 1.0;
        }
    }
    if all <= 0.0 {
        return None;
    }
    if edge / all >= MOSTLY {
        return Some(("edges", "nearly all cracks lie along the edges"));
    }
    if edge / all <= 1.0 - MOSTLY {
        return Some(("middle", "nearly all cracks lie away from the edges"));
    }
    fields.iter().all(|&count| count >= all / 24.0).then_some(("all over", "every part of the board has its share of cracks"))
}

#[cfg(test)]
mod tests {
    use super::{Grain, beside};
    use trials::causes::CauseBook;

    #[test]
    fn every_answer_stands_in_the_book_of_causes() {
        let book = CauseBook::builtin().unwrap();
        let said = include_str!("taps.rs").split("#[cfg(test)]").next().unwrap();
        for (tap, answers) in [
            ("looks", &["cracks along the grain", "cracks across the grain", "network of cracks", "small holes"][..]),
            ("where", &["edges", "middle", "all over"][..]),
        ] {
            let known = book.taps().iter().find(|known| known.key.as_str() == tap).unwrap();
            for answer in answers {
                assert!(known.answers.iter().any(|one| one == answer), "{tap}: {answer}");
                assert!(said.contains(answer), "{answer} is said by nothing");
            }
        }
    }

    // By hand: 10 degrees from the grain is along, 80 degrees is across, 45 is neither; 175 degrees is 5 from 0.
    #[test]
    fn along_across_or_neither() {
        assert_eq!(beside(10.0, Grain::Across), Some(true));
        assert_eq!(beside(175.0, Grain::Across), Some(true));
        assert_eq!(beside(80.0, Grain::Across), Some(false));
        assert_eq!(beside(45.0, Grain::Across), None);
        assert_eq!(beside(100.0, Grain::Down), Some(true));
        assert_eq!(beside(3.0, Grain::Down), Some(false));
    }
}
