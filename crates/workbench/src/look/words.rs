//! Sentences about a photo.

use cracks::{Look, Note};
use measure::Unit;
use show::{FigureReport, LookQuestion, LookReport, QualityReport, number, percent, plain, range};

use super::Grain;
use super::figures::written;

/// Words for the classes of quantity, by our own scale.
const QUANTITY: [&str; 6] = ["no cracks", "hardly a crack", "few cracks", "some cracks", "many cracks", "cracks close together"];
/// Words for the classes of width.
const SIZE: [&str; 6] = ["", "finer than the eye sees at arm's length", "just to be seen", "plainly to be seen", "wide", "very wide"];

/// From this strength on cracks run one way, below that they run all ways (as in the taps).
const ONE_WAY: f64 = 0.7;
const ALL_WAYS: f64 = 0.35;

/// One sentence, and what follows from it.
pub(super) fn sentences(report: &LookReport) -> (String, Vec<String>) {
    let cracks = &report.cracks;
    let long_sides = || report.relative.as_ref().and_then(|relative| relative.length_long_sides.value);
    let none = cracks.length_mm_per_mm2.value.or_else(long_sides).is_some_and(|length| length <= 0.0);
    let mut more = Vec::new();
    let noted = |id: &str| report.quality.iter().any(|note| note.id == id);
    let (restless, soft) = (noted("restless"), noted("soft") || noted("blur_guessed"));
    let sentence = match (report.rating.quantity, none) {
        (_, true) if restless => "Whether this board has cracks can't be told from this photo.".to_owned(),
        (_, true) if soft => "No cracks were found on this board, but the photo may be too soft to show them.".to_owned(),
        (_, true) => "No cracks were found on this board.".to_owned(),
        (Some(quantity), false) => {
            let size = report.rating.size.and_then(|size| SIZE.get(usize::from(size))).filter(|words| !words.is_empty());
            let how = QUANTITY.get(usize::from(quantity)).copied().unwrap_or_default();
            size.map_or_else(|| format!("This board has {how}."), |size| format!("This board has {how}, {size}."))
        }
        (None, false) => "There are cracks. How many to the centimetre and how wide can't be told: how large is the board?".to_owned(),
    };
    if none {
        if let Some(narrowest) = report.board.narrowest_mm {
            more.push(format!("Cracks narrower than {}\u{a0}mm can't be seen in this photo.", number(narrowest.max(0.01), 2)));
        }
    } else {
        // A millimetre on a square millimetre is 100 mm on a square centimetre.
        if let Some(length) = &cracks.length_mm_per_mm2.value {
            more.push(format!("Each square centimetre of it holds {}\u{a0}mm of crack.", plain(length * 100.0)));
        }
        if let (Some(median), Some(max)) = (
            written("width_median", &cracks.width_mm.median, Unit::Millimetres),
            written("width_max", &cracks.width_mm.max, Unit::Millimetres),
        ) {
            if sure(&cracks.width_mm.median) && sure(&cracks.width_mm.max) {
                more.push(format!("Half of them are narrower than {median}; the widest place is {max}."));
            } else if let (Some(low), Some(high)) = (cracks.width_mm.median.low, cracks.width_mm.median.high) {
                more.push(format!("How wide they are can't be told well: most lie somewhere from {} mm.", range(low, high)));
            }
        }
        more.extend(way(report));
        if let Some(islands) = report.islands.value.filter(|count| *count >= 2.0) {
            more.push(format!("They part the ground into {} pieces.", number(islands, 0)));
        }
    }
    if let Some(holes) = report.pinholes.value.filter(|count| *count >= 1.0) {
        let holes_word = if holes < 1.5 { "round hole" } else { "round holes" };
        more.push(format!("{} {holes_word} were seen.", number(holes, 0)));
    }
    if let (Some(count), Some(share)) = (report.flakes.count.value.filter(|count| *count >= 1.0), report.flakes.area_fraction.value) {
        let (places, none) = if count < 1.5 { ("place", "it is no crack") } else { ("places", "they are no cracks") };
        let largest = written("flake_largest", &report.flakes.largest_mm2, Unit::SquareMillimetres);
        let largest = largest.map_or_else(String::new, |largest| format!(", the largest {largest}"));
        more.push(format!(
            "In {} {places} the ground is gone or hidden, {} of the board{largest}: {none}.",
            number(count, 0),
            // A small place is not none.
            if share < 0.005 { "less than 1\u{a0}%".to_owned() } else { percent(share) }
        ));
    }
    more.extend(super::depth::sentences(&report.depth));
    more.extend(ridges(report));
    if let Some(lightness) = report.colour.lightness {
        let tone = match report.colour.b {
            Some(b) if b > 4.0 => ", yellowish",
            Some(b) if b < -4.0 => ", bluish",
            _ => "",
        };
        more.push(if report.colour.relative {
            format!("How white it is can't be told without a grey or white patch; in this photo L* is {}{tone}.", number(lightness, 0))
        } else {
            let white = report.colour.whiteness.map_or_else(String::new, |white| format!(", whiteness {} after CIE", number(white, 0)));
            format!("Against the patch its L* is {}{tone}{white}.", number(lightness, 0))
        });
    }
    if let Some(quantity) = report.rating.quantity {
        let size = report.rating.size.map_or_else(String::new, |size| format!("(S{size})"));
        more.push(format!("Class {quantity}{size}, {}. The eye has the last word.", report.rating.scale));
    }
    (sentence, more)
}

/// Whether the range is narrower than the value itself.
fn sure(figure: &FigureReport) -> bool {
    matches!((figure.value, figure.low, figure.high), (Some(value), Some(low), Some(high)) if high - low <= value)
}

fn way(report: &LookReport) -> Option<String> {
    let (degrees, strength) = (report.cracks.direction_deg.value?, report.cracks.direction_strength.value?);
    if strength >= ONE_WAY {
        let lying = if !(22.5..157.5).contains(&degrees) {
            "along the upper edge"
        } else if (67.5..112.5).contains(&degrees) {
            "down the board"
        } else {
            "aslant"
        };
        let written = written("direction_deg", &report.cracks.direction_deg, Unit::Degrees)?;
        Some(format!("They run nearly all one way, {lying}: {written} from the upper edge, anticlockwise."))
    } else if strength <= ALL_WAYS {
        Some("They run all ways.".into())
    } else {
        None
    }
}

/// Brush marks whose contrast is below this are not worth a sentence (judgement, no source).
const SEEN: f64 = 0.01;

fn ridges(report: &LookReport) -> Option<String> {
    report.ridges.contrast.low.filter(|contrast| *contrast >= SEEN)?;
    let way = written("ridge_direction", &report.ridges.direction_deg, Unit::Degrees)?;
    let apart = written("ridge_spacing", &report.ridges.spacing_mm, Unit::Millimetres);
    let apart = apart.map_or_else(String::new, |apart| format!(", a ridge every {apart}"));
    Some(format!("Brush marks or grain run one way, {way} from the upper edge, anticlockwise{apart}."))
}

/// What the photo leaves in doubt.
pub(super) fn quality(look: &Look, known: bool) -> Vec<QualityReport> {
    let mut out: Vec<QualityReport> = look
        .notes
        .iter()
        .map(|note| {
            let (id, text) = match note {
                Note::OtherProfile => {
                    ("other_profile", "The photo carries a colour profile other than sRGB and was read as if it were sRGB.".to_owned())
                }
                Note::Glare(share) => (
                    "glare",
                    format!("{} of the board is burnt out to white: turn the lamp so that nothing shines, and expose less.", percent(*share)),
                ),
                Note::Slant(times) => (
                    "slant",
                    format!("The camera was held at a slant: one place is {} times as large as another. Hold it square over the board.", plain(*times)),
                ),
                Note::BlurGuessed => {
                    ("blur_guessed", "How sharp the photo is could not be measured at the board's edges; a usual lens was taken.".to_owned())
                }
                Note::Soft(px) => (
                    "soft",
                    format!("The photo is soft, by {} pixels: fine cracks may be missing. Rest the camera, and tap on the board to focus.", plain(*px)),
                ),
                Note::WidthInferred => (
                    "width_inferred",
                    "Cracks are narrower than the blur of the lens, so their width was worked out from how dark they are. Go nearer for a surer width."
                        .to_owned(),
                ),
                Note::Restless => (
                    "restless",
                    "The ground is so coarse or so marked that cracks of usual darkness may hide in it: to find none here is no finding.".to_owned(),
                ),
                Note::Dim => ("dim", "The photo is dim: more light shows finer cracks.".to_owned()),
            };
            QualityReport { id: id.into(), text }
        })
        .collect();
    if !known {
        out.push(QualityReport {
            id: "no_size".into(),
            text: "The size of the board is not known, so nothing is told in millimetres. Say it, lay a bank card beside the board, or let its printed label be seen."
                .into(),
        });
    }
    out
}

/// What is not known.
pub(super) fn questions(look: &Look, known: bool, grain: Option<Grain>) -> Vec<LookQuestion> {
    let mut out = Vec::new();
    if !known {
        out.push(LookQuestion {
            id: "board".into(),
            ask: "How large is the board, as it lies in the photo, across first?".into(),
            assumed: "nothing is told in millimetres".into(),
            narrows: "length, width and class of the cracks".into(),
        });
    }
    if grain.is_none() && look.direction_strength.is_some_and(|strength| strength >= ONE_WAY) {
        out.push(LookQuestion {
            id: "grain".into(),
            ask: "Which way does the grain of the wood run: as the upper edge, or down the board?".into(),
            assumed: "not known".into(),
            narrows: "whether the cracks run along the grain or across it, which parts causes".into(),
        });
    }
    out
}
