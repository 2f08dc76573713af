//! Pictures of the making day beside the ones that were looked at; see the head of `pictures.rs` for how to accept a new one.
#![expect(clippy::unwrap_used, clippy::disallowed_methods, reason = "a test: a panic is the report, and the files are its own")]

use std::path::Path;

use show::{
    DayStrip, LyingBoard, LyingBoards, LyingState, StripBlock, StripLife, StripPot, StripWait, WalkScene, day_column_picture,
    day_strip_picture, lying_picture, standalone, walk_picture,
};

fn golden(name: &str, picture: &str) {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/golden").join(name);
    if std::env::var_os("GROUNDPROOF_ACCEPT").is_some() {
        std::fs::write(&file, picture).unwrap();
    }
    let kept = std::fs::read_to_string(&file).unwrap_or_default();
    assert!(kept == picture, "{name} is not the picture that was looked at; see the head of this file");
}

fn board(place: u32, state: LyingState, coats: u32, words: &str) -> LyingBoard {
    LyingBoard { number: format!("0{place}"), place, state, coats, of: 3, words: words.into(), strips: Vec::new() }
}

#[test]
fn a_table_with_boards_in_every_state() {
    let places = vec![
        board(1, LyingState::Bare, 0, "pot A, next"),
        board(2, LyingState::Wet, 1, "matt about 11:20 to 12:10"),
        board(3, LyingState::Perhaps, 1, "touch it with the back of a finger"),
        board(4, LyingState::Matt, 2, "coat 3, across"),
        board(5, LyingState::Hard, 3, "done"),
        board(6, LyingState::Spoilt, 1, "fell on the floor"),
        LyingBoard { strips: vec![1, 2, 3, 4, 5], of: 5, ..board(8, LyingState::Wet, 2, "matt about 11:40 to 12:30") },
    ];
    golden("lying.svg", &standalone(&lying_picture(&LyingBoards { places, columns: 4 })));
}

fn block(from: i32, to: i32, label: &str, mark: &str) -> StripBlock {
    StripBlock { from, to, label: label.into(), mark: mark.into() }
}

fn day() -> DayStrip {
    let pot = |letter: &str, words: &str, ready: i32, rounds: [(i32, i32); 3]| StripPot {
        letter: letter.into(),
        words: words.into(),
        life: vec![StripLife { from: ready, low: ready + 360, high: ready + 480 }],
        rounds: rounds.iter().zip(1..).map(|((from, to), coat)| block(*from, *to, "a round", &format!("{letter}{coat}"))).collect(),
        waits: rounds.iter().map(|(from, to)| StripWait { from: *from, low: to + 48, high: to + 100 }).collect(),
    };
    DayStrip {
        from: 8 * 60 + 30,
        to: 17 * 60 + 30,
        hands: vec![
            block(530, 560, "warm and open the binder", "b"),
            block(560, 585, "mix pot A", "A"),
            block(585, 605, "coat 1 from pot A", "A1"),
            block(605, 630, "mix pot B", "B"),
            block(630, 650, "coat 1 from pot B", "B1"),
            block(700, 720, "coat 2 from pot A", "A2"),
            block(745, 765, "coat 2 from pot B", "B2"),
            block(815, 835, "coat 3 from pot A", "A3"),
            block(860, 880, "coat 3 from pot B", "B3"),
            block(885, 925, "weigh the pots, wash up", "w"),
        ],
        pots: vec![
            pot("A", "chalk, casein 8 %", 585, [(585, 605), (700, 720), (815, 835)]),
            pot("B", "chalk, casein 12 %", 630, [(630, 650), (745, 765), (860, 880)]),
        ],
        now: Some(690),
    }
}

#[test]
fn a_day_lying_and_standing() {
    golden("day-strip.svg", &standalone(&day_strip_picture(&day())));
    golden("day-column.svg", &standalone(&day_column_picture(&day())));
}

/// Blocks lie in proportion to their minutes: measured back from the drawing. Pot A may be used 360 minutes surely and 480 perhaps,
/// so its bar and its frame stand as 3 to 4.
#[test]
fn bars_are_as_long_as_their_minutes() {
    let svg = day_strip_picture(&day());
    let width = |after: &str| -> f64 {
        let tag = svg.split(after).nth(1).unwrap();
        tag.split("width=\"").nth(1).unwrap().split('"').next().unwrap().parse().unwrap()
    };
    let (sure, round) = (width("<rect class=\"b\""), width("<rect class=\"i\""));
    assert!((sure / round - 360.0 / 20.0).abs() < 0.1, "{sure} for six hours, {round} for twenty minutes");
}

#[test]
fn scenes_of_a_making_day() {
    for scene in WalkScene::ALL {
        golden(&format!("walk-{}.svg", scene.key()), &standalone(&walk_picture(scene, "What hands do here.")));
    }
}

/// Whatever a board, a pot or a step is called, the picture is XML that another program can read, and says itself in words.
#[test]
fn odd_names_give_pictures_that_can_be_read() {
    for odd in ["", "<g>", "a & b", "\"quoted\"", "\u{0}\u{fffe}", "ünïcödé \u{202e}", &"long ".repeat(400)] {
        let lying = LyingBoard { number: odd.into(), words: odd.into(), strips: vec![9; 40], of: 99, ..LyingBoard::default() };
        let mut strip = day();
        for block in &mut strip.hands {
            block.label = odd.into();
        }
        for pot in &mut strip.pots {
            (pot.letter, pot.words) = (odd.into(), odd.into());
        }
        let pictures = [
            lying_picture(&LyingBoards { places: vec![lying], columns: 0 }),
            day_strip_picture(&strip),
            day_column_picture(&strip),
            walk_picture(WalkScene::Curd, odd),
        ];
        for picture in pictures {
            let text = standalone(&picture);
            let tree = roxmltree::Document::parse(&text).unwrap();
            let root = tree.root_element();
            assert_eq!(root.attribute("role"), Some("img"));
            assert!(
                ["title", "desc"].iter().all(|name| root.children().any(|child| child.has_tag_name(("http://www.w3.org/2000/svg", *name))))
            );
            assert!(!picture.contains("style") && !picture.contains("NaN") && !picture.contains("<script"));
        }
    }
}
