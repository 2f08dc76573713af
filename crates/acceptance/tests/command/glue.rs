//! Glue on the command line.

use acceptance::{Trouble, run};

use crate::check_figures;

#[test]
fn glue_in_water() -> Result<(), Trouble> {
    // Studio handbook text (Mayer) as reproduced: 2.5 oz in 1 US quart. 2.5 x 28.3495 = 70.874 g; 70.874 / (70.874 + 946.353) = 6.97 %.
    let said = run(&["glue", "--json", "--glue", "2.5 oz rabbit skin glue", "--water", "1 US quart", "--for", "gesso"], b"")?;
    assert_eq!((said.code, said.complaint.as_str()), (Some(0), ""));
    let json = said.json()?;
    assert_eq!(json["is"], "groundproof glue 1");
    assert_eq!(check_figures(&json, "glue"), 5);
    assert!((json["glue_share"]["value"].as_f64().unwrap_or(f64::NAN) - 0.0697).abs() < 1e-4, "{json}");
    assert_eq!(json["stands"], "gesso");
    // To 9.1 %: 946.353 x 9.1 / 90.9 = 94.739 g in all, 23.865 g more.
    assert!((json["add_glue_g"]["value"].as_f64().unwrap_or(f64::NAN) - 23.865).abs() < 0.01, "{json}");

    // 70 g in a litre, an hour later 1020 g: 50 g of water have gone.
    let day = ["glue", "--json", "--glue", "70 g rabbit skin glue", "--water", "1 l", "--log", "9:00 1070 g", "--log", "10:00 1020 g"];
    let json = run(&day, b"")?.json()?;
    assert!((json["pot"][1]["add_water_g"]["value"].as_f64().unwrap_or(f64::NAN) - 50.0).abs() < 1e-6, "{json}");

    // A coat of that pot, weighed before and after: 70 / 1020 = 6.863 %.
    let coat = [&day[..], &["--log", "took 100 g", "--log", "10:05 920 g"]].concat();
    let json = run(&coat, b"")?.json()?;
    assert!((json["coats"][0]["share"]["value"].as_f64().unwrap_or(f64::NAN) - 0.06863).abs() < 1e-5, "{json}");

    let words = run(&["glue", "--glue", "70 g rabbit skin glue", "--water", "1 l", "--for", "size"], b"")?;
    assert!(words.out.contains("6.54") && words.out.contains("jelly"));
    assert!(run(&["glue", "--explain", "glue_share"], b"")?.out.contains("Source"));
    for words in [
        &["--glue", "0 g glue", "--water", "1 l"][..],
        &["--glue", "500 ml glue size"],
        &["--glue", "70 g glue", "--wanted", "300"],
        &["--glue", "70 g glue", "--water", "1 l", "--for", "varnish"],
        &[],
    ] {
        assert_eq!(run(&[&["glue"], words].concat(), b"")?.code, Some(2), "{words:?}");
    }
    Ok(())
}
