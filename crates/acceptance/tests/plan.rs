//! `groundproof plan`: a trial file goes in, a plan comes out, and what could be tangled is said before anything is mixed.

use std::fmt::Write as _;

use acceptance::{Said, Trouble, run};
use serde_json::Value;

/// The lighthouse's panels; invented.
const READY: &str = include_str!("../../../docs/examples/lighthouse-trial.toml");
const TANGLED: &str = include_str!("../../../docs/examples/lighthouse-tangled.toml");

fn plan(text: &str) -> Result<Value, Trouble> {
    let said = run(&["plan", "--json"], text.as_bytes())?;
    assert_eq!((said.code, said.complaint.as_str()), (Some(0), ""));
    said.json()
}

fn list<'j>(json: &'j Value, key: &str) -> &'j [Value] {
    json[key].as_array().map_or(&[], Vec::as_slice)
}

fn refused(text: &[u8]) -> Result<Said, Trouble> {
    let said = run(&["plan", "--json"], text)?;
    assert_eq!(said.out, "", "{}", said.complaint);
    Ok(said)
}

#[test]
fn the_ready_trial_of_the_examples() -> Result<(), Trouble> {
    let json = plan(READY)?;
    assert_eq!(json["is"], "groundproof plan 1");
    assert_eq!(json["ready"], "two by two");
    assert_eq!(list(&json, "warnings").len(), 0, "{}", json["warnings"]);
    let boards = list(&json, "boards");
    let of_kind = |kind: &str| boards.iter().filter(|board| board["kind"] == kind).count();
    assert_eq!((of_kind("recipe"), of_kind("yardstick"), of_kind("witness")), (8, 2, 1));
    for board in boards {
        for field in ["id", "day", "batch", "order", "place", "kind", "shares", "settings"] {
            assert!(board.get(field).is_some(), "{field}: {board}");
        }
    }
    let criterion = &json["criterion"];
    // By hand: X'X = 8 I for five terms; each board from its own pot at a spread of 1, so V = 2 I: 5 ln 4.
    let near = |value: &Value, wanted: f64| (value.as_f64().unwrap_or(f64::NAN) - wanted).abs() < 1e-9;
    assert!(near(&criterion["ln_det"], 5.0 * 4f64.ln()) && near(&criterion["d_efficiency"], 1.0), "{criterion}");
    assert_eq!(list(criterion, "terms").len(), 5);
    assert!(json["region"]["vertices"].is_null() && json["region"]["why"].is_string());
    // 2 / 2^4: one two-by-two day shows direction and size.
    assert!(list(&json, "least").iter().any(|one| one["test"] == "paired" && near(&one["least_p"], 0.125)));
    assert!(list(&json, "cannot").iter().any(|sentence| sentence.as_str().is_some_and(|text| text.contains("direction and size"))));
    Ok(())
}

#[test]
fn the_tangled_trial_of_the_examples() -> Result<(), Trouble> {
    let json = plan(TANGLED)?;
    let exact: Vec<&Value> = list(&json, "tangles").iter().filter(|tangle| tangle["kind"] == "exact").collect();
    assert_eq!(exact.len(), 1, "{}", json["tangles"]);
    assert_eq!(exact.first().map(|tangle| tangle["effects"].clone()), Some(serde_json::json!(["powder", "binder"])));
    assert_eq!((&json["columns"]["rank"], &json["columns"]["ties"]), (&Value::from(3), &Value::from(1)));
    assert!(json["criterion"]["ln_det"].is_null() && json["criterion"]["why"].is_string());

    // The boards that are advised, typed under the others, part the two.
    let mut mended = TANGLED.trim_end().trim_end_matches(']').to_owned();
    let advised: Vec<&Value> = exact.iter().flat_map(|tangle| list(tangle, "add")).collect();
    assert_eq!(advised.len(), 2);
    for extra in advised {
        let _ = writeln!(
            mended,
            "  {{ powder = {}, binder = {}, coats = {} }},",
            extra["settings"]["powder"], extra["settings"]["binder"], extra["settings"]["coats"]
        );
    }
    mended.push_str("]\n");
    let json = plan(&mended)?;
    assert!(list(&json, "tangles").iter().all(|tangle| tangle["kind"] != "exact"), "{}", json["tangles"]);
    assert_eq!(json["columns"]["rank"], 4);
    assert!(json["criterion"]["ln_det"].is_number());

    let said = run(&["plan"], TANGLED.as_bytes())?;
    assert_eq!(said.code, Some(0));
    assert!(said.out.contains("“powder” and “binder” always changed together"), "{}", said.out);
    Ok(())
}

#[test]
fn the_seed_decides_the_order() -> Result<(), Trouble> {
    let order = |words: &[&str]| -> Result<String, Trouble> {
        let said = run(words, READY.as_bytes())?;
        assert_eq!(said.code, Some(0), "{}", said.complaint);
        Ok(said.out)
    };
    assert_eq!(order(&["plan", "--json", "--seed", "7"])?, order(&["plan", "--json", "--seed", "7"])?);
    assert_ne!(order(&["plan", "--seed", "7"])?, order(&["plan", "--seed", "8"])?);
    assert_eq!(run(&["plan", "--seed", "-1"], READY.as_bytes())?.code, Some(2));
    Ok(())
}

#[test]
fn a_plan_without_a_yardstick_is_made_and_warned_of() -> Result<(), Trouble> {
    let json = plan("trial = 1\nsetting = [{ name = \"coats\", values = [2, 3] }]\n")?;
    let ids: Vec<&str> = list(&json, "warnings").iter().filter_map(|warning| warning["id"].as_str()).collect();
    assert_eq!(ids, ["no-question", "no-better", "no-yardstick"]);
    assert!(list(&json, "tangles").iter().any(|tangle| tangle["kind"] == "no control"));
    Ok(())
}

#[test]
fn blends_are_not_chosen_yet_and_it_says_so() -> Result<(), Trouble> {
    let said = refused(b"trial = 1\npart = [{ name = \"chalk\", low = \"0.3\", high = \"0.65\" }, { name = \"water\" }]\n")?;
    assert_eq!(said.code, Some(1));
    assert!(said.complaint.contains("not built yet") && said.complaint.contains("type the boards"), "{}", said.complaint);
    Ok(())
}

#[test]
fn bad_trials_name_their_lines() -> Result<(), Trouble> {
    for (text, line) in [
        (
            "trial = 1\nsetting = [{ name = \"powder\", kinds = [\"chalk\", \"gypsum\"] }]\nboard = [\n  { powder = \"chalk\" },\n  { powder = \"chlak\" }]\n",
            5,
        ),
        ("trial = 1\n\ncolour = \"white\"\n", 3),
        ("trial = 1\nsetting = [{ name = \"powder\", kinds = [\"chalk\"\n", 2),
        ("250 g chalk\n14 g hide glue\n", 1),
        ("{\"trial\": 1}\n", 1),
        ("", 1),
    ] {
        let said = refused(text.as_bytes())?;
        assert_eq!(said.code, Some(2), "{text}: {}", said.complaint);
        assert!(said.complaint.lines().any(|complaint| complaint.starts_with(&format!("line {line}: "))), "{text}: {}", said.complaint);
    }
    Ok(())
}

#[test]
fn half_a_file_huge_ones_and_noise_are_refused() -> Result<(), Trouble> {
    for end in (0..READY.len()).step_by(37).filter(|end| READY.is_char_boundary(*end)) {
        let half = READY.get(..end).unwrap_or_default();
        let code = run(&["plan", "--json"], half.as_bytes())?.code;
        assert!(matches!(code, Some(0 | 2)), "cut at {end}: {code:?}");
    }
    let huge = format!("trial = 1\nquestion = \"{}\"\n", "why ".repeat(100_000));
    let many = format!("trial = 1\nboard = [{}]\n", "{a=1},".repeat(2001));
    let settings: Vec<String> = (0..12).map(|at| format!("{{ name = \"s{at}\", values = [1,2,3,4,5,6,7,8,9] }}")).collect();
    let wide = format!("trial = 1\nsetting = [{}]\n", settings.join(","));
    let noise: Vec<u8> = (0..4096u32).map(|at| u8::try_from(at.wrapping_mul(2_654_435_761) >> 24).unwrap_or(0)).collect();
    for text in [huge.as_bytes(), many.as_bytes(), wide.as_bytes(), &noise, &b"trial = 1\n".repeat(2)] {
        let said = refused(text)?;
        assert_eq!(said.code, Some(2), "{}", said.complaint);
        assert!(said.complaint.len() < 2000, "{}", said.complaint.len());
    }
    Ok(())
}

#[test]
fn the_schema_is_printed() -> Result<(), Trouble> {
    let schema = run(&["schema", "plan"], b"")?.json()?;
    for part in ["boards", "criterion", "tangles", "region", "seed", "warnings"] {
        assert!(schema["properties"].get(part).is_some(), "{part}");
    }
    Ok(())
}
