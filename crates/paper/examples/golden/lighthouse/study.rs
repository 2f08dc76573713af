//! The long paper.

use std::fmt::Write as _;

use show::paper::{
    Asked, Checklist, CoatRow, Composition, CompositionRow, Given, MaterialRow, PaperCaution, PaperFigure, PaperPoint, PaperView, Picture,
    PlanPart, PlannedBoard, ReadingRow, ResultPart, RoomRow,
};

use super::{BOARDS, MADE_WITH, day, words};

const SHEET: &str = "the safety data sheet";

/// A long paper with pictures.
pub(crate) fn paper() -> PaperView {
    PaperView {
        title: "Does less glue make the panel ground let go in salt air?".into(),
        language: "en".into(),
        authors: words(&["the Tuesday table of the lamp room", "Keeper of the second stair"]),
        date: day(),
        made_with: MADE_WITH.into(),
        invented: true,
        answer: "With a third less glue the ground rubbed off more easily on three of four boards, and it let go at the edge on two of \
                 them; with a third more it did neither, but two of four boards showed hair cracks. The difference in rubbing is larger \
                 than the doubt. Whether the cracks come from the glue or from the thicker coat of those boards can't be told: the two \
                 could be tangled with each other."
            .into(),
        checklist: checklist(),
        asked: Asked {
            question: "Does a third less, or a third more, hide glue than usual make a chalk ground on small lime panels rub off, let go \
                       or crack when it hangs for six weeks in the lamp room?"
                .into(),
            better: "Better is: fewer strokes that leave white on a black cloth; no letting go at a cut; no crack seen at arm's length."
                .into(),
            fixed_on: "12 January 2026".into(),
        },
        changed: words(&["Dry hide glue in the pot: 20, 30 or 40 g on 300 g of chalk."]),
        stayed: words(&[
            "Chalk, water, glue and panels from the same jars and the same two sheets.",
            "Two coats, crossed, with the same flat brush.",
            "The same person laid all boards; another looked at them.",
        ]),
        plan: plan(),
        materials: materials(),
        recipes: vec![recipe("less glue", "20", 20.0), recipe("usual glue", "30", 30.0), recipe("more glue", "40", 40.0)],
        coats: coats(),
        room: ["13 January, morning", "13 January, evening", "14 January, morning", "24 February, at the readings"]
            .into_iter()
            .map(|when| RoomRow { when: when.into(), warmth: "16\u{a0}°C".into(), damp: "74\u{a0}% (70 to 78)".into() })
            .collect(),
        readings: readings(),
        result: result(),
        photos: vec![photo("GP-7K3M-Q2X", 0), photo("GP-3X8B-L4S", 1)],
        failures: words(&[
            "GP-7K3M-Q2X and GP-1R7V-P3D let go along one edge, 4 mm wide.",
            "GP-3X8B-L4S and GP-2Z6H-V5J show hair cracks along the grain.",
            "GP-6Q5Z-M1G and GP-4F1M-T8Q were lost; nothing of them is counted.",
            "One pot smelled sour on the second day and was thrown away; the boards laid from it before are marked.",
        ]),
        cautions: cautions(),
        sources: words(&[
            "Cross-cut after ISO 2409:2020, with a craft knife in place of the cutter and three cuts in place of six.",
            "Powder share and place on the rule: as groundproof computes them; its own page of methods names the books.",
            "Everything else in this paper is invented.",
        ]),
        licence: "CC BY 4.0: use it as you like and say where it comes from.".into(),
        cite: "The Tuesday table of the lamp room (2026): Does less glue make the panel ground let go in salt air? Invented example of \
               groundproof 0.1.0."
            .into(),
        next_look: "The boards will be looked at again on 14 September 2026.".into(),
    }
}

fn checklist() -> Checklist {
    use PaperPoint as P;
    let given = |list: Checklist, point, text: &str| list.with(point, Given::Given, text);
    let mut list = Checklist::blank();
    for (point, text) in [
        (P::Question, "fixed on 12 January 2026"),
        (P::Composition, "as weighed on a kitchen scale that shows grams"),
        (P::Glue, "Bloom 180, soaked overnight, 55 °C at most, hot for 40 minutes"),
        (P::Making, "see the steps of each recipe"),
        (P::Support, "lime, 6 mm, both faces sized once"),
        (P::Coats, "see the table"),
        (P::Room, "a dial on the wall, not checked"),
        (P::Drying, "six weeks at the readings"),
        (P::Plan, "seed 4711, three same-day groups"),
        (P::Tests, "rubbing by cloth; cross-cut after ISO 2409 with a craft knife"),
        (P::EveryBoard, "12 boards, 2 with a photo"),
        (P::Working, MADE_WITH),
        (P::Failures, "see there"),
        (P::Dangers, "see the cautions"),
        (P::Rights, "CC BY 4.0"),
        (P::NextLook, "14 September 2026"),
    ] {
        list = given(list, point, text);
    }
    // The materials' lots stay "not known": the gap must show.
    list.with(P::Milk, Given::NotApplicable, "no milk in it").with(P::Curd, Given::NotApplicable, "no curd in it").with(
        P::Finish,
        Given::NotApplicable,
        "left as brushed",
    )
}

fn plan() -> PlanPart {
    let boards = BOARDS.iter().enumerate().map(|(place, (board, kind, lost))| PlannedBoard {
        order: (place + 1).to_string(),
        board: (*board).into(),
        day: format!("{} January", 13 + place / 4),
        batch: format!("pot {}", 1 + place / 4),
        sheet: if place % 2 == 0 { "sheet A".into() } else { "sheet B".into() },
        kind: (*kind).into(),
        lost: (*lost).into(),
    });
    PlanPart {
        sentences: words(&[
            "Three grounds, four boards of each, laid on three days; every day had each ground at least once.",
            "The usual ground stands beside the others each day, so that a damp day shows on it too.",
        ]),
        seed: "4711".into(),
        boards: boards.collect(),
    }
}

fn materials() -> Vec<MaterialRow> {
    let row = |name: &str, maker: &str, purity: &str, opened: &str, caution: &str| MaterialRow {
        name: name.into(),
        maker: maker.into(),
        lot: String::new(),
        purity: purity.into(),
        opened: opened.into(),
        cautions: if caution.is_empty() { vec![] } else { vec![caution.into()] },
    };
    vec![
        row(
            "natural chalk",
            "the pit behind the second dune",
            "washed, below 40 µm",
            "3 January 2026",
            "Dust: do not breathe it; see its safety data sheet.",
        ),
        row("hide glue, grains", "", "Bloom 180", "3 January 2026", "From animals: may be an allergen."),
        row("rain water", "the roof", "", "", ""),
        row("lime panel, 6 mm", "driftwood yard", "planed both sides", "", ""),
    ]
}

fn recipe(name: &str, glue: &str, grams: f64) -> Composition {
    let total = 300.0 + grams + 280.0;
    // Glue grains hold about an eighth of water; invented, like all of it.
    let dry = 300.0 + grams * 0.88;
    let per_cent = |part: f64, of: f64| show::number(part / of * 100.0, 1);
    let line = |name: &str, written: &str, wet: f64, stays: f64| CompositionRow {
        name: name.into(),
        grams: written.into(),
        of_wet: per_cent(wet, total),
        of_dry: per_cent(stays, dry),
    };
    Composition {
        name: name.into(),
        lines: vec![
            line("natural chalk", "300", 300.0, 300.0),
            line("hide glue, grains", glue, grams, grams * 0.88),
            line("rain water", "280", 280.0, 0.0),
        ],
        sum: CompositionRow { name: "together".into(), grams: show::number(total, 0), of_wet: "100".into(), of_dry: "100".into() },
        powder_share: "about four fifths by volume (invented)".into(),
        place: format!(
            "With {glue} g of glue the ground stands where the invented rule puts it; a real paper has the card's sentence here."
        ),
        steps: words(&[
            "Soak the glue in half of the water overnight, in the cool.",
            "Warm it in a water bath until it is clear; never above 55 °C.",
            "Sift the chalk into the rest of the water, let it drink for an hour, stir the warm glue in.",
            "Pass it through a tea sieve, let it stand for ten minutes, lay it warm.",
        ]),
    }
}

fn coats() -> Vec<CoatRow> {
    let coat = |coat: &str, mass: &str, direction: &str, recoat: &str| CoatRow {
        coat: coat.into(),
        wet_mass: mass.into(),
        direction: direction.into(),
        recoat: recoat.into(),
        pot_age: "10 to 50 minutes".into(),
    };
    vec![
        coat("size, both faces", "95", "along", "the first"),
        coat("first coat, all boards", "160 (140 to 180)", "along", "18 hours"),
        coat("second coat, less and usual glue", "150 (130 to 170)", "across", "3 hours"),
        coat("second coat, more glue", "210 (180 to 240)", "across", "3 hours"),
    ]
}

fn readings() -> Vec<ReadingRow> {
    let mut rows = Vec::new();
    for (place, (board, kind, lost)) in BOARDS.iter().enumerate() {
        if !lost.is_empty() {
            rows.push(ReadingRow {
                board: (*board).into(),
                test: "none".into(),
                result: format!("lost: {lost}"),
                rater: "–".into(),
                hidden: "–".into(),
                failed: true,
            });
            continue;
        }
        let rubbed = match *kind {
            "less glue" => 7 + place % 3,
            "more glue" => 1 + place % 2,
            _ => 3 + place % 2,
        };
        let lets_go = *kind == "less glue" && place % 7 == 0;
        let cracked = *kind == "more glue" && matches!(place, 4 | 11);
        let mut read = |test: &str, result: String, failed: bool| {
            rows.push(ReadingRow {
                board: (*board).into(),
                test: test.into(),
                result,
                rater: "second pair of eyes".into(),
                hidden: "yes".into(),
                failed,
            });
        };
        read("rubbing with a black cloth, ten strokes", format!("{rubbed} of 10 strokes left white"), false);
        read("cross-cut after ISO 2409, three cuts", if lets_go { "lets go at the edge".into() } else { "holds".into() }, lets_go);
        read("cracks at arm's length", if cracked { "hair cracks along the grain".into() } else { "none seen".into() }, cracked);
    }
    rows
}

fn result() -> ResultPart {
    let bars = [("usual glue".to_owned(), show::Bar { low: 1.05, value: 1.2, high: 1.38 })];
    let section = show::SectionView { wet_um: 110.0, dry_um: show_figure(), coats: 2, grains: 0.62, air: 0.2, told: true, seed: 1 };
    let drawing = |svg: &str, alt: &str, caption: &str| PaperFigure {
        picture: Picture::Drawing(show::standalone(svg)),
        alt: alt.into(),
        caption: caption.into(),
    };
    ResultPart {
        sentences: words(&[
            "Less glue: 8 of 10 strokes left white (likely 6 to 10); usual glue: 3 (likely 2 to 5); more glue: 1 (likely 0 to 3).",
            "That less glue rubs off more easily is larger than the doubt: of all ways in which chance could have dealt the boards, few \
             part them so far.",
            "Two boards that let go, of three that were left, are too few boards to tell how often it happens.",
        ]),
        pictures: vec![
            drawing(
                &show::rule_picture(&bars, &[], (0.95, 1.4, 0.1)),
                "Rule from lean to rich with a hatched bar around 1.2, from 1.05 to 1.38.",
                "Where the usual ground stands. The bar is as wide as its doubt. Invented.",
            ),
            drawing(
                &show::section_picture(&section),
                "The dry ground in cross-section: two coats, together 78 micrometres, grains with binder and some air.",
                "The usual ground, dry, to scale. Invented.",
            ),
        ],
        cannot_tell: words(&[
            "Whether the cracks come from the glue or from the thicker second coat of those boards.",
            "How the boards stand after a summer.",
        ]),
        would_tell: words(&[
            "Four more boards: more glue with the thin second coat, and usual glue with the thick one.",
            "Looking at the same boards again in September.",
        ]),
    }
}

fn show_figure() -> measure::Figure {
    measure::Figure { key: "dry_um", value: 39.0, low: 33.0, high: 45.0, unit: measure::Unit::Micrometres }
}

/// An invented photo: a drawn board with a scale beside it.
fn photo(board: &str, cracks: u32) -> PaperFigure {
    let mut lines = String::new();
    for at in 0..cracks * 5 {
        let x = 150 + at * 80;
        let _ = write!(lines, "<path d='M{x} 90c20 90 -20 180 10 300' stroke='#6a6257' stroke-width='2' fill='none'/>");
    }
    let svg = format!(
        "<svg xmlns='http://www.w3.org/2000/svg' width='640' height='480'><rect width='640' height='480' fill='#8d8575'/>\
         <rect x='90' y='60' width='460' height='340' fill='#efe9de'/>{lines}<rect x='90' y='425' width='230' height='14' fill='#26231f'/>\
         <text x='330' y='440' font-size='24' fill='#fffefb'>5 cm · {board}</text></svg>"
    );
    let picture = paper::png(&svg, 1.0).unwrap_or_default();
    PaperFigure {
        picture: Picture::Photo(paper::plain_photo(&picture, 1200).unwrap_or_default()),
        alt: format!(
            "Board {board}, {}, with a bar of 5 centimetres for scale.",
            if cracks > 0 { "five hair cracks" } else { "no cracks" }
        ),
        caption: format!("{board}. An invented photo."),
    }
}

fn cautions() -> Vec<PaperCaution> {
    let caution = |about: &str, text: &str| PaperCaution { about: about.into(), text: text.into(), source: SHEET.into() };
    vec![
        caution(
            "Chalk dust",
            "Fine dust irritates. Ventilate, and use the respirator, gloves and eye protection that the safety data sheet and local rules \
             ask for.",
        ),
        caution("Hot glue", "It scalds and it spoils. Keep it covered and cool, and throw a sour pot away."),
        caution("Not food", "Keep cups and pots for this work apart from the kitchen's."),
    ]
}
