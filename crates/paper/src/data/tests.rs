use show::{BoardData, CoatData, IngredientData, ReadingData};
use zip::ZipArchive;

use super::*;

fn board(id: &str) -> BoardData {
    BoardData { board: id.into(), ..BoardData::default() }
}

fn reading(board: &str, value: &str) -> ReadingData {
    ReadingData { board: board.into(), measure: "cracking".into(), value: value.into(), ..ReadingData::default() }
}

fn view() -> DataView {
    DataView {
        title: "Tide calendar".into(),
        measures: vec![show::MeasureView { id: "cracking".into(), ..show::MeasureView::default() }],
        boards: vec![board("07"), board("=8")],
        readings: vec![reading("07", "2.5"), reading("=8", ">3")],
        ..DataView::default()
    }
}

fn file(view: &DataView, wanted: &str) -> String {
    let files = folder(view).unwrap();
    String::from_utf8(files.into_iter().find(|(name, _)| name == wanted).unwrap().1).unwrap()
}

#[test]
fn readings_have_the_agreed_columns() {
    let mut view = view();
    view.readings[0].factors = vec![("share:chalk".into(), "0.5".into()), ("set:coats".into(), "3".into())];
    view.readings[1].factors = vec![("set:heat".into(), "near the stove".into()), ("set:coats".into(), "2".into())];
    let text = file(&view, "readings.csv");
    let mut lines = text.split("\r\n");
    let head = "board,measure,value,kind,batch,day,recipe,job,strip,age_d,rater,blind,struck,note,share:chalk,set:coats,set:heat";
    assert_eq!(lines.next(), Some(head));
    assert_eq!(lines.next(), Some("07,cracking,2.5,,,,,,,,,,,,0.5,3,"));
    assert_eq!(lines.next(), Some("'=8,cracking,>3,,,,,,,,,,,,,2,near the stove"));
    assert_eq!((lines.next(), lines.next()), (Some(""), None));
}

#[test]
fn quotes_and_ends_of_line_are_kept_in_quotes() {
    // RFC 4180, section 2, rules 6 and 7.
    let mut view = view();
    view.boards[0].note = "a \"b\", c\nd".into();
    assert!(file(&view, "boards.csv").contains("\"a \"\"b\"\", c\nd\"\r\n"));
}

#[test]
fn what_does_not_fit_is_named_with_its_place() {
    let said = |change: &dyn Fn(&mut DataView)| {
        let mut view = view();
        change(&mut view);
        folder(&view).unwrap_err().to_string()
    };
    for (said, wanted) in [
        (said(&|view| view.boards[1].board = "07".into()), "boards, row 2, board: `07` stands twice"),
        (said(&|view| view.boards[1].board = String::new()), "boards, row 2, board: `` is empty"),
        (said(&|view| view.readings[1].board = "9".into()), "readings, row 2, board: `9` stands in no row"),
        (said(&|view| view.readings[0].value = "=2".into()), "readings, row 1, value: `=2` is no reading"),
        (said(&|view| view.readings[0].measure = "haze".into()), "`haze` is not in the list"),
        (said(&|view| view.readings[0].factors = vec![("coats".into(), "3".into())]), "`share:NAME` or `set:NAME`"),
        (said(&|view| view.readings[0].factors = vec![("share:chalk".into(), "50".into())]), "is outside what can be"),
        (
            said(&|view| view.readings[1].factors = vec![("set:coats".into(), "3".into()), ("set:coats".into(), "2".into())]),
            "row 2: `set:coats` is given twice",
        ),
        (said(&|view| view.created = "today".into()), "`today` is no day of writing"),
        (said(&|view| view.boards[0].last_coat = "yesterday".into()), "`yesterday` is no day"),
        (
            said(&|view| {
                let coat = CoatData { board: "07".into(), coat: "1".into(), ..CoatData::default() };
                view.coats = vec![coat.clone(), coat];
            }),
            "coats, row 2, board, coat: `07, 1` stands twice",
        ),
        (
            said(&|view| {
                view.recipes =
                    vec![IngredientData { recipe: "lean".into(), line: "1".into(), material: "chalk".into(), ..Default::default() }];
                view.boards[0].recipe = "rich".into();
            }),
            "boards, row 1, recipe: `rich` stands in no row",
        ),
    ] {
        assert!(said.contains(wanted), "{said}");
    }
}

#[test]
fn the_zip_holds_the_same_files_and_no_date() {
    let packed = data_zip(&view()).unwrap();
    assert_eq!(packed, data_zip(&view()).unwrap());
    let mut archive = ZipArchive::new(Cursor::new(packed)).unwrap();
    for (name, bytes) in folder(&view()).unwrap() {
        let mut entry = archive.by_name(&name).unwrap();
        let mut found = Vec::new();
        std::io::copy(&mut entry, &mut found).unwrap();
        assert_eq!(found, bytes, "{name}");
    }
}

#[test]
fn without_a_licence_the_package_says_so() {
    assert!(file(&view(), "datapackage.json").contains("No licence is given"));
}
