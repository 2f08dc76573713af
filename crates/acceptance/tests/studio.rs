//! The studio and its papers from the command line.

#![expect(clippy::unwrap_used, clippy::disallowed_methods, reason = "in a test a panic is the report; the studios lie in folders")]

use std::path::PathBuf;

use acceptance::Said;

/// A folder of this test's own, emptied.
fn folder(name: &str) -> PathBuf {
    let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join("studio-commands").join(name);
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).unwrap();
    folder
}

fn run(words: &[&str]) -> Said {
    acceptance::run(words, b"").unwrap()
}

#[test]
fn an_empty_studio_is_made_checked_copied_and_put_back() {
    let at = folder("whole");
    let (studio, copy, again) = (at.join("studio"), at.join("copy"), at.join("again"));
    let [studio, copy, again] = [&studio, &copy, &again].map(|path| path.to_str().unwrap());
    let listed = run(&["paper", "--studio", studio]);
    assert_eq!(listed.code, Some(1), "{listed:?}");
    assert!(listed.complaint.contains("no trial yet"), "{listed:?}");
    let checked = run(&["studio", "check", "--studio", studio, "--json"]);
    assert!(checked.code == Some(0), "{checked:?}");
    let report: serde_json::Value = checked.json().unwrap();
    assert_eq!(report["is"], "groundproof studio check 1");
    assert_eq!((&report["changes"], &report["photos"], &report["format"]), (&0.into(), &0.into(), &1.into()));
    assert_eq!((&report["missing"], &report["damaged"]), (&serde_json::json!([]), &serde_json::json!([])));
    assert!(run(&["studio", "backup", copy, "--studio", studio]).code == Some(0));
    let twice = run(&["studio", "backup", copy, "--studio", studio]);
    assert_eq!(twice.code, Some(1), "an existing folder is not written into");
    assert!(run(&["studio", "restore", copy, "--studio", again]).code == Some(0));
    let onto = run(&["studio", "restore", copy, "--studio", again]);
    assert_eq!(onto.code, Some(1), "a studio is never overwritten");
    assert!(!onto.complaint.trim().is_empty());
}

#[test]
fn what_is_no_studio_is_refused_with_a_sentence() {
    let at = folder("foreign");
    std::fs::write(at.join("studio.db"), b"this is a letter to the lighthouse").unwrap();
    let studio = at.to_str().unwrap();
    let before = std::fs::read(at.join("studio.db")).unwrap();
    for command in [vec!["open", "--no-browser", "--port", "0", "--studio", studio], vec!["paper", "--studio", studio]] {
        let refused = run(&command);
        assert_eq!(refused.code, Some(1), "{command:?}: {refused:?}");
        let why = refused.complaint;
        assert!(refused.out.is_empty() && why.contains("nothing in it was touched") && !why.contains("panicked"), "{why}");
    }
    assert_eq!(std::fs::read(at.join("studio.db")).unwrap(), before);
    assert_eq!(run(&["studio", "check", "--studio", studio]).code, Some(1));
}

#[test]
fn the_example_becomes_a_paper_a_card_and_data() {
    let at = folder("example");
    let listed = run(&["paper", "--example"]);
    assert!(listed.code == Some(0), "{listed:?}");
    let trials: Vec<String> = listed.out.lines().filter_map(|line| line.split_once("  ").map(|(id, _)| id.to_owned())).collect();
    assert!(trials.len() >= 3, "{trials:?}");
    let mut written = 0;
    for trial in &trials {
        let file = |name: &str| at.join(format!("{trial}-{name}")).to_str().unwrap().to_owned();
        let (paper, card, data) = (file("paper.pdf"), file("card.pdf"), file("data.zip"));
        let made = run(&["paper", trial, "--example", "--out", &paper, "--card", &card, "--data", &data, "--licence", "CC-BY-4.0"]);
        if made.code == Some(0) {
            written += 1;
            assert!(std::fs::read(&paper).unwrap().starts_with(b"%PDF"));
            assert!(std::fs::read(&card).unwrap().starts_with(b"%PDF"));
            assert!(std::fs::read(&data).unwrap().starts_with(b"PK"));
        } else {
            // A trial that was only asked has no paper; it says what to do first.
            assert!(made.complaint.contains("close the plan"), "{made:?}");
        }
    }
    assert!(written >= 2, "{written} of {} trials", trials.len());
    assert_eq!(run(&["paper", "no such trial", "--example"]).code, Some(2));
}
