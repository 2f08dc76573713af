//! The files as a whole. What stands in them is read back by another library, see `reference/papers.py`.

#[path = "../examples/golden/lighthouse/mod.rs"]
mod lighthouse;

use paper::{PaperError, PhotoError};
use show::paper::{CardAmount, CardStep, PaperFigure, Picture};

#[test]
fn the_same_view_gives_the_same_bytes() {
    assert!(paper::pdf(&lighthouse::study::paper()).unwrap() == paper::pdf(&lighthouse::study::paper()).unwrap());
    assert!(
        paper::recipe_card_pdf(&lighthouse::sheets::recipe_card()).unwrap()
            == paper::recipe_card_pdf(&lighthouse::sheets::recipe_card()).unwrap()
    );
    assert!(
        paper::board_sheet_pdf(&lighthouse::sheets::board_sheet()).unwrap()
            == paper::board_sheet_pdf(&lighthouse::sheets::board_sheet()).unwrap()
    );
    let day = lighthouse::day_sheets::day_sheets();
    assert!(paper::day_sheets_pdf(&day).unwrap() == paper::day_sheets_pdf(&day).unwrap());
    let card = paper::picture_card_png(&lighthouse::sheets::picture_card()).unwrap();
    assert!(card == paper::picture_card_png(&lighthouse::sheets::picture_card()).unwrap());
    // PNG, ISO/IEC 15948: width and height are the first two numbers of the head.
    assert_eq!((&card[1..4], &card[16..24]), (b"PNG".as_slice(), [0, 0, 4, 56, 0, 0, 5, 70].as_slice()));
}

#[test]
fn papers_made_side_by_side_do_not_mix() {
    let alone = paper::pdf(&lighthouse::odd::empty_paper()).unwrap();
    std::thread::scope(|scope| {
        let many: Vec<_> = (0..4)
            .map(|_| {
                scope.spawn(|| {
                    paper::recipe_card_pdf(&lighthouse::sheets::recipe_card()).unwrap();
                    paper::pdf(&lighthouse::odd::empty_paper()).unwrap()
                })
            })
            .collect();
        for one in many {
            assert!(one.join().unwrap() == alone);
        }
    });
}

#[test]
fn odd_texts_are_set_as_they_stand() {
    assert!(paper::pdf(&lighthouse::odd::odd_paper()).unwrap().starts_with(b"%PDF-"));
    let odd = || lighthouse::odd::ODD.iter().map(|&text| text.to_owned());
    let mut card = lighthouse::sheets::recipe_card();
    card.title = lighthouse::odd::ODD[1].into();
    card.made_with = lighthouse::odd::ODD[0].into();
    card.amounts = odd().map(|text| CardAmount { name: text.clone(), grams: text.clone(), kitchen: text }).collect();
    card.steps = odd().map(|text| CardStep { text: text.clone(), caution: text }).collect();
    assert!(paper::recipe_card_pdf(&card).is_ok());
    let mut sheet = lighthouse::sheets::board_sheet();
    for (label, text) in sheet.labels.iter_mut().zip(odd()) {
        (label.recipe, label.hazards) = (text.clone(), text);
    }
    sheet.batches.truncate(1);
    sheet.batches[0].recipe = odd().collect();
    sheet.batches[0].steps = card.steps;
    assert!(paper::board_sheet_pdf(&sheet).is_ok());
    for text in odd() {
        let mut picture = lighthouse::sheets::picture_card();
        picture.title.clone_from(&text);
        picture.failed = vec![text.clone()];
        assert!(paper::picture_card_png(&picture).is_ok(), "{text}");
    }
}

#[test]
fn a_sheet_without_boards_is_a_sheet() {
    let mut sheet = lighthouse::sheets::board_sheet();
    (sheet.labels, sheet.batches, sheet.laying) = (vec![], vec![], vec![]);
    assert!(paper::board_sheet_pdf(&sheet).is_ok());
    let mut card = lighthouse::sheets::recipe_card();
    (card.amounts, card.steps, card.allergens) = (vec![], vec![], String::new());
    assert!(paper::recipe_card_pdf(&card).is_ok());
}

#[test]
fn what_can_not_be_set_is_named_with_its_mend() {
    let told = |change: fn(&mut show::paper::PaperView)| {
        let mut view = lighthouse::study::paper();
        change(&mut view);
        paper::pdf(&view).unwrap_err()
    };
    assert!(matches!(told(|view| view.title = " \u{7}".into()), PaperError::NoTitle));
    assert!(matches!(told(|view| view.language = "English".into()), PaperError::Language(_)));
    assert!(matches!(told(|view| view.answer = "a".repeat(30_001)), PaperError::TooLong { length: 30_001, .. }));
    assert!(matches!(told(|view| view.photos[1].alt = "  ".into()), PaperError::NoAlt { number: 2 }));
    assert!(matches!(told(|view| view.result.pictures[0].alt = String::new()), PaperError::NoAlt { number: 3 }));
    assert!(matches!(
        told(|view| view.result.pictures[1].picture = Picture::Drawing("<p>no</p>".into())),
        PaperError::Drawing { number: 4, .. }
    ));
    assert!(matches!(
        told(|view| view.photos[0].picture = Picture::Photo(b"GIF89a".to_vec())),
        PaperError::Photo { number: 1, source: PhotoError::Kind }
    ));
    let text = told(|view| view.photos[0].alt = String::new()).to_string();
    assert!(text.contains("picture 1") && text.contains("say in a sentence"), "{text}");

    let mut sheet = lighthouse::sheets::board_sheet();
    sheet.labels[0].board = "x".repeat(129);
    assert!(matches!(paper::board_sheet_pdf(&sheet), Err(PaperError::Mark(_))));
}

#[test]
fn a_day_with_nothing_in_it_and_odd_words_is_set() {
    let odd = || lighthouse::odd::ODD.iter().map(|&text| text.to_owned());
    let mut view = lighthouse::day_sheets::day_sheets();
    (view.strip, view.table) = (None, None);
    view.pots.clear();
    view.day = show::DayView { next: "Nothing is to be laid.".into(), ..show::DayView::default() };
    assert!(paper::day_sheets_pdf(&view).is_ok());
    view.day.facts = odd().collect();
    view.day.steps =
        odd().map(|text| show::DayStep { what: text.clone(), time: text.clone(), caution: text, ..show::DayStep::default() }).collect();
    view.pots = odd().map(|text| show::paper::PotSheet { pot: text.clone(), life: text, ..show::paper::PotSheet::default() }).collect();
    assert!(paper::day_sheets_pdf(&view).is_ok());
    view.title = " ".into();
    assert!(matches!(paper::day_sheets_pdf(&view), Err(PaperError::NoTitle)));
}

#[test]
fn a_drawing_reads_no_file() {
    let mut view = lighthouse::odd::empty_paper();
    let svg = "<svg xmlns='http://www.w3.org/2000/svg' width='9' height='9'><image href='Cargo.toml' width='9' height='9'/>\
               <image href='tide.svg' width='9' height='9'/></svg>";
    view.result.pictures = vec![PaperFigure { picture: Picture::Drawing(svg.into()), alt: "nothing".into(), caption: String::new() }];
    // Left out or refused: both are fine, as long as nothing is read.
    let _ = paper::pdf(&view);
    let blank =
        svg.replace("<image href='tide.svg' width='9' height='9'/>", "").replace("<image href='Cargo.toml' width='9' height='9'/>", "");
    assert_eq!(paper::png(svg, 1.0).unwrap(), paper::png(&blank, 1.0).unwrap());
}
