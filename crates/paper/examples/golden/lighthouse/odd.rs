//! Papers with nothing in them, and with signs that could be taken for orders.
#![allow(clippy::indexing_slicing, reason = "the places are those of the invented data beside it")]

use show::paper::{Asked, Checklist, PaperFigure, PaperView, Picture, PlanPart, ResultPart};

use super::study::paper;
use super::{MADE_WITH, day};

/// A paper in which nobody wrote anything down.
pub(crate) fn empty_paper() -> PaperView {
    PaperView {
        title: "A paper in which nothing was written down".into(),
        language: "en".into(),
        authors: vec![],
        date: day(),
        made_with: MADE_WITH.into(),
        invented: true,
        answer: String::new(),
        checklist: Checklist::blank(),
        asked: Asked::default(),
        changed: vec![],
        stayed: vec![],
        plan: PlanPart::default(),
        materials: vec![],
        recipes: vec![],
        coats: vec![],
        room: vec![],
        readings: vec![],
        result: ResultPart::default(),
        photos: vec![],
        failures: vec![],
        cautions: vec![],
        sources: vec![],
        licence: String::new(),
        cite: String::new(),
        next_look: String::new(),
    }
}

/// Texts that a typesetter could take for orders, and signs that few faces have.
pub(crate) const ODD: [&str; 8] = [
    "#panic(\"tide\") #read(\"data.json\") $x^2$ *bold* _slant_ @label <mark> `raw` \\u{41} [bracket] // no comment /* none */",
    "= no heading\n- no point\n+ no step\n/ no: term",
    "https://tide.example/a_very_long_address_that_never_ends?and=goes&on=1#here",
    "שלום עולם and back",
    "مرحبا بالعالم and back",
    "chalk \u{1f3a8}\u{1f469}\u{200d}\u{1f3a8} e\u{301} \u{202e}txet denrut\u{202c} \u{e000} 石膏",
    "bell \u{7} null \u{0} escape \u{1b}[31m",
    "\"quotes\" 'single' -- --- ... ~tilde~ 1/2 a^b a_b {code} ;",
];

/// The same texts wherever a text can stand.
pub(crate) fn odd_paper() -> PaperView {
    let mut view = paper();
    let all = || ODD.iter().map(|&one| one.to_owned()).collect::<Vec<_>>();
    view.title = format!("Odd signs: {}", ODD[0]);
    view.authors = vec![ODD[0].into(), ODD[3].into(), ODD[5].into()];
    view.answer = "salt".repeat(2_500);
    view.changed = all();
    view.stayed = vec!["#".repeat(10_000)];
    view.sources = all();
    view.licence = ODD[4].into();
    view.recipes[0].name = ODD[0].into();
    view.readings[0].result = "w".repeat(300);
    view.materials[0].cautions = all();
    view.photos[0].alt = ODD.concat();
    view.photos[0].caption = ODD[0].into();
    view.result.pictures.push(PaperFigure {
        picture: Picture::Drawing(
            "<svg xmlns='http://www.w3.org/2000/svg' width='300' height='60'><text x='5' y='40' font-size='20'>tide \u{1f3a8} שלום</text></svg>"
                .into(),
        ),
        alt: ODD[5].into(),
        caption: String::new(),
    });
    view
}
