//! How deep cracks and flakes go, in words: a photo tells it only where wood shows.

use cracks::{Depth, Inside};
use show::{DepthReport, DepthWords, number};

const THROUGH: &str = "goes through the ground, as wood shows in it";
const NOT_TOLD: &str = "can't be told from this photo";
/// Share from which some are most.
const MOST: f64 = 0.5;

/// The report; `known` says whether the size of the board is.
pub(super) fn report(depth: &Depth, known: bool) -> DepthReport {
    let wide = if known {
        format!("only cracks wider than {}\u{a0}mm can be seen into in this photo", number(depth.least_mm, 2))
    } else {
        "they are narrower than four times the blur of this photo, and can't be seen into".to_owned()
    };
    let cracks = match depth.cracks {
        Inside::None => words("no cracks", String::new()),
        Inside::Narrow => words(NOT_TOLD, wide),
        Inside::Dark => words(NOT_TOLD, "what shows in them is only dark, and shade looks the same at any depth".into()),
        Inside::Wood(share) => words(
            THROUGH,
            format!(
                "this was seen in {} of those that are wide enough to be seen into; brown dust and warm light in the shade look the same, and a loupe tells",
                some_or_most(share)
            ),
        ),
    };
    let flakes = match depth.flakes {
        Inside::None => words("no flakes", String::new()),
        Inside::Narrow | Inside::Dark => words(NOT_TOLD, "no wood shows in them, and a lower coat, dirt or hard shade look alike".into()),
        Inside::Wood(share) => {
            words(THROUGH, format!("this was seen in {} of them; brown dirt looks the same, and a loupe tells", some_or_most(share)))
        }
    };
    DepthReport { cracks, flakes }
}

/// A sentence each, where there is something to be deep.
pub(super) fn sentences(report: &DepthReport) -> Vec<String> {
    let sentence = |told: &DepthWords, deep: &str, not_told: &str| match told.words {
        THROUGH => Some(format!("{deep} go through the ground, as wood shows in them: {}.", told.why)),
        NOT_TOLD => Some(format!("How deep {not_told} go can't be told from this photo: {}.", told.why)),
        _ => None,
    };
    let cracks = sentence(&report.cracks, "Cracks", "the cracks");
    cracks.into_iter().chain(sentence(&report.flakes, "Bare places", "the bare places")).collect()
}

fn words(words: &'static str, why: String) -> DepthWords {
    DepthWords { words, why }
}

fn some_or_most(share: f64) -> &'static str {
    if share >= 0.95 {
        "all"
    } else if share >= MOST {
        "most"
    } else {
        "some"
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn deep_only_where_wood_shows() {
        let told = |cracks, flakes, known| {
            let report = report(&Depth { cracks, flakes, least_mm: 0.254 }, known);
            (report.cracks.words, report.flakes.words, sentences(&report).join(" "))
        };
        assert_eq!(told(Inside::None, Inside::None, true), ("no cracks", "no flakes", String::new()));
        let (cracks, flakes, said) = told(Inside::Narrow, Inside::Dark, true);
        assert_eq!((cracks, flakes), (NOT_TOLD, NOT_TOLD));
        assert!(
            said.contains("only cracks wider than 0.25\u{a0}mm") && said.contains("How deep the bare places go can't be told"),
            "{said}"
        );
        let (.., said) = told(Inside::Narrow, Inside::None, false);
        assert!(!said.contains("mm"), "without a size nothing is in millimetres: {said}");
        let (.., said) = told(Inside::Dark, Inside::None, true);
        assert!(said.contains("shade looks the same at any depth"), "{said}");
        let (cracks, flakes, said) = told(Inside::Wood(0.3), Inside::Wood(1.0), true);
        assert_eq!((cracks, flakes), (THROUGH, THROUGH));
        assert!(said.contains("some of those") && said.contains("all of them") && said.contains("a loupe tells"), "{said}");
    }
}
