//! Readings of boards as a command: what goes in, what comes out, and the number at the end. All boards are invented.

use std::fmt::Write as _;

use acceptance::{Trouble, run};
use serde_json::Value;

const EXAMPLES: [&str; 3] = ["lighthouse-readings.csv", "lighthouse-two-by-two.csv", "lighthouse-stairs.csv"];

fn example(name: &str) -> String {
    format!("{}/../../docs/examples/{name}", env!("CARGO_MANIFEST_DIR"))
}

fn boards(groups: &[(&str, u32, u32)]) -> String {
    let mut table = String::from("board,measure,value,kind,batch,recipe\n");
    for (recipe, yes, all) in groups {
        for board in 0..*all {
            let value = if board < *yes { "yes" } else { "no" };
            let _ = writeln!(table, "{recipe}{board},cracked,{value},yes_no,{recipe}{board},{recipe}");
        }
    }
    table
}

fn number(json: &Value) -> f64 {
    json.as_f64().unwrap_or(f64::NAN)
}

#[test]
fn five_against_five() -> Result<(), Trouble> {
    let said = run(
        &["answer", "--json", "--better", "smaller", "--question", "Does less glue crack less?"],
        boards(&[("A", 5, 5), ("B", 0, 5)]).as_bytes(),
    )?;
    assert_eq!((said.code, said.complaint.as_str()), (Some(0), ""));
    let json = said.json()?;
    assert_eq!((json["is"].as_str(), json["question"].as_str()), (Some("groundproof answer 1"), Some("Does less glue crack less?")));
    assert_eq!(json["better"]["way"], "smaller");
    let measure = &json["measures"][0];
    assert_eq!(
        (measure["measure"].as_str(), measure["unit"].as_str(), measure["verdict"].as_str()),
        (Some("cracked"), Some("board"), Some("told"))
    );
    assert_eq!((measure["boards"].as_u64(), measure["batches"].as_u64()), (Some(10), Some(10)));
    // Fisher's exact test: 2 of 252 tables.
    assert!(
        (number(&measure["exact"]["p"]) - 2.0 / 252.0).abs() < 1e-12 && (number(&measure["exact"]["least_p"]) - 2.0 / 252.0).abs() < 1e-12
    );
    assert_eq!(measure["exact"]["split"], "5 v 5");
    let effect = &measure["effects"][0];
    assert_eq!((effect["name"].as_str(), effect["from"].as_str(), effect["to"].as_str()), (Some("recipe"), Some("A"), Some("B")));
    assert!((number(&effect["figure"]["value"]) + 1.0).abs() < 1e-12 && number(&effect["odds_above_0"]) < 0.01);
    assert_eq!(json["next"].as_array().map(Vec::len), Some(1));
    Ok(())
}

#[test]
fn words_come_before_verdicts_and_hold_the_number_of_boards() -> Result<(), Trouble> {
    let said = run(&["answer", "--better", "smaller"], boards(&[("A", 3, 4), ("B", 0, 4)]).as_bytes())?;
    assert_eq!(said.code, Some(0));
    let size = said.out.find("3 of 4 boards cracked").ok_or_else(|| Trouble::odd(said.out.clone()))?;
    let verdict = said.out.find("too few to tell").ok_or_else(|| Trouble::odd(said.out.clone()))?;
    assert!(size < verdict && said.out.contains("none of 4 cracked still allows up to 53 in 100"), "{}", said.out);
    for word in ["significant", "proved", "p-value", "p =", "NaN"] {
        assert!(!said.out.contains(word), "{word}: {}", said.out);
    }
    Ok(())
}

#[test]
fn the_examples_are_read() -> Result<(), Trouble> {
    for name in EXAMPLES {
        let file = example(name);
        let json = run(&["answer", &file, "--json", "--better", "smaller"], b"")?.json()?;
        assert!(json["measures"].as_array().is_some_and(|measures| !measures.is_empty()), "{name}");
        let schema = run(&["schema", "answer"], b"")?.json()?;
        for field in schema["required"].as_array().into_iter().flatten().filter_map(Value::as_str) {
            assert!(json.get(field).is_some(), "{name}: {field}");
        }
        let text = run(&["answer", &file], b"")?;
        assert_eq!(text.code, Some(0), "{name}");
        assert!(text.out.contains("Next: "), "{name}");
    }
    let json = run(&["answer", &example(EXAMPLES[2]), "--json", "--expect", "200um"], b"")?.json()?;
    // Four stair boards of a fixed example on a grid made with other code: median 204.8 um, of the other recipe 103.9 um.
    for (at, median) in [(0, 204.8), (1, 103.9)] {
        let told = number(&json["measures"][0]["thresholds"][at]["median"]["value"]);
        assert!((told / median - 1.0).abs() < 0.01, "{told}");
    }
    Ok(())
}

#[test]
fn too_little_is_answered_with_what_is_missing() -> Result<(), Trouble> {
    for (table, word) in [
        (boards(&[("A", 1, 1)]), "repeat boards"),
        (boards(&[("A", 0, 3)]), "yardstick"),
        (boards(&[("A", 1, 1), ("B", 0, 1)]), "Too few boards"),
        ("board,measure,value,kind\n1,cracked,,yes_no\n".to_owned(), "lost"),
    ] {
        let said = run(&["answer", "--json"], table.as_bytes())?;
        assert_eq!((said.code, said.complaint.as_str()), (Some(1), ""), "{table}");
        let json = said.json()?;
        assert_eq!(json["measures"][0]["verdict"], "cannot tell");
        assert!(json["measures"][0]["why"].as_str().is_some_and(|why| why.contains(word)), "{word}: {json}");
    }
    Ok(())
}

#[test]
fn bad_tables_name_line_and_column() -> Result<(), Trouble> {
    for (table, words) in [
        ("board,measure,value,kind\n1,length,2,length\n2,length,long,length\n", &["line 3: value", "`long`"][..]),
        ("board,measure,value,kind\n1,length,x,length\n2,length,y,length\n", &["line 2: value", "line 3: value"]),
        ("board,measure,value,weather\n1,length,2,rain\n", &["line 1: weather", "set:NAME"]),
        ("board,value\n1,2\n", &["line 1: measure", "missing"]),
        ("board,measure,value\n1,length,2,3\n", &["line 2: table", "4 fields"]),
        ("board,measure,value\n\"1,length,2\n", &["line"]),
        ("", &["line 1"]),
        ("board;measure;value\n1;length;2\n", &["commas"]),
        ("board,measure,value,job\n1,length,2,control\n", &["line 2: job", "yardstick"]),
    ] {
        let said = run(&["answer", "--json"], table.as_bytes())?;
        assert_eq!((said.code, said.out.as_str()), (Some(2), ""), "{table}: {said:?}");
        for word in words {
            assert!(said.complaint.contains(word), "{table}: {}", said.complaint);
        }
        assert!(!said.complaint.contains("panicked"), "{}", said.complaint);
    }
    let said = run(&["answer", "--measure", "gloss"], boards(&[("A", 1, 2)]).as_bytes())?;
    assert_eq!((said.code, said.complaint.contains("cracked")), (Some(2), true), "{said:?}");
    assert_eq!(run(&["answer", "--better", "nicer"], b"")?.code, Some(2));
    assert_eq!(run(&["answer", "no-such-table.csv"], b"")?.code, Some(2));
    Ok(())
}

#[test]
fn long_and_odd_tables_end_in_a_sentence() -> Result<(), Trouble> {
    let long = format!("board,measure,value\n{}", "1,length,2\n".repeat(1_100_000));
    let wide = format!("board,measure,value,{}\n", "note,".repeat(200));
    let many = format!("board,measure,value\n{}", "1,length,2\n".repeat(20_001));
    for (table, word) in [(long, "10 MB"), (wide, "100 columns"), (many, "20,000")] {
        let said = run(&["answer", "--json"], table.as_bytes())?;
        assert_eq!((said.code, said.complaint.contains(word)), (Some(2), true), "{word}: {}", said.complaint);
    }
    for value in ["1e999", "NaN", "inf", "-1e400", "0x10", "1..", "..", ">", "<", "½", "9".repeat(300).as_str()] {
        let said = run(&["answer", "--json"], format!("board,measure,value\n1,length,{value}\n2,length,1\n").as_bytes())?;
        assert_eq!(said.code, Some(2), "{value}: {said:?}");
    }
    for value in ["0", "1e9", "-1e9", "1e-300", "0.1"] {
        let table = format!("board,measure,value,recipe\n1,m,{value},A\n2,m,{value},B\n3,m,1,A\n4,m,0,B\n");
        let said = run(&["answer", "--json"], table.as_bytes())?;
        assert!(matches!(said.code, Some(0 | 1)) && !said.out.contains("NaN") && !said.complaint.contains("panicked"), "{value}: {said:?}");
    }
    Ok(())
}
