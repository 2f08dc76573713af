use std::fmt::Write as _;

use super::*;

fn view(readings: String, smaller_is_better: Option<bool>) -> BoardsAnswerView {
    Workbench::open().unwrap().answer(&AnswerRequest { readings, smaller_is_better, ..AnswerRequest::default() }).unwrap()
}

fn boards(groups: &[(&str, &str, u32, u32)]) -> String {
    let mut table = String::from("board,measure,value,kind,batch,recipe,job\n");
    for (recipe, job, yes, all) in groups {
        for board in 0..*all {
            let value = if board < *yes { "yes" } else { "no" };
            let _ = writeln!(table, "{recipe}{board},cracked,{value},yes_no,{recipe}{board},{recipe},{job}");
        }
    }
    table
}

#[test]
fn size_and_range_come_before_the_verdict() {
    let sentence = view(boards(&[("A", "", 5, 5), ("B", "", 0, 5), ("known", "yardstick", 0, 2)]), Some(true)).measures.remove(0).sentence;
    let (size, verdict) = (sentence.find("fewer boards in ten").unwrap(), sentence.find("speak for B").unwrap());
    assert!(size < verdict && sentence.contains("none of 2"), "{sentence}");
    // Without "better" the size is told and no side is taken.
    let open = view(boards(&[("A", "", 5, 5), ("B", "", 0, 5)]), None).measures.remove(0).sentence;
    assert!(open.contains("larger than the doubt") && !open.contains("speak for"), "{open}");
}

#[test]
fn all_and_none_say_what_they_still_allow() {
    // 1 - 0.05^(1/3) is 63 in 100.
    let more = view(boards(&[("A", "", 3, 3), ("B", "", 0, 3)]), Some(true)).measures.remove(0).more.join("\n");
    assert!(more.contains("A: all 3 cracked, and yet up to 63 in 100 may stay sound."), "{more}");
    assert!(more.contains("B: none of 3 cracked still allows up to 63 in 100."), "{more}");
    assert!(more.contains("whatever they read"), "{more}");
}

#[test]
fn a_setting_that_depends_on_another_is_told_for_each() {
    let mut table = String::from("board,measure,value,kind,batch,day,set:powder,set:binder\n");
    for (day, values) in [[5.5, 5.2, 4.6, 4.7], [5.7, 5.3, 4.9, 4.8]].iter().enumerate() {
        for (value, (powder, binder)) in values.iter().zip([("chalk", "low"), ("gypsum", "low"), ("chalk", "high"), ("gypsum", "high")]) {
            let _ = writeln!(table, "{day}{powder}{binder},step,{value},length,{day}{powder}{binder},{day},{powder},{binder}");
        }
    }
    let view = view(table, Some(true));
    let sentence = &view.measures[0].sentence;
    // By hand: -0.85 with chalk, -0.50 with gypsum.
    assert!(
        sentence.contains("depends on the rest") && sentence.contains("\u{2212}0.85") && sentence.contains("\u{2212}0.50"),
        "{sentence}"
    );
    assert!(view.measures[0].picture.contains("<title>"));
}

#[test]
fn pots_are_named_where_they_count() {
    let table = boards(&[("A", "", 4, 4), ("B", "", 0, 4)]).replace("A1,A", "A0,A").replace("B1,B", "B0,B");
    let measure = view(table, Some(true)).measures.remove(0);
    assert!(measure.more[0].contains("8 boards count as 6 pots"), "{:?}", measure.more);
    assert!(measure.sentence.contains("pots"), "{}", measure.sentence);
}

#[test]
fn many_bad_lines_are_told_and_the_rest_counted() {
    let table = format!("board,measure,value,kind\n{}", "1,m,x,length\n".repeat(50));
    let why = Workbench::open().unwrap().answer(&AnswerRequest { readings: table, ..AnswerRequest::default() }).unwrap_err().to_string();
    assert!(why.starts_with("line 2: value:") && why.ends_with("and 20 more lines like these"), "{why}");
}
