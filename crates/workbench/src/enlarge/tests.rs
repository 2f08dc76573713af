use std::sync::LazyLock;

use notebook::{Day, Moment, Notebook, Stamp};
use show::EnlargeView;

use super::EnlargeForm;
use crate::{Studio, TypedJar, Workbench};

static BENCH: LazyLock<Workbench> = LazyLock::new(|| Workbench::open().unwrap());
/// 464 g with 14 g of glue, 250 g of chalk and 200 g of water.
const GLUE_CHALK: &str = "250 g chalk, 14 g hide glue, 200 g water";

fn form(panels: &str) -> EnlargeForm {
    EnlargeForm { told: GLUE_CHALK.into(), panels: panels.into(), ..EnlargeForm::default() }
}

fn asked(state: &Notebook, form: &EnlargeForm) -> EnlargeView {
    BENCH.enlarge(state, form, Day::read("2026-11-28").unwrap()).unwrap()
}

#[track_caller]
fn exact(view: &EnlargeView, material: &str) -> f64 {
    view.report.all.iter().find(|line| line.material == material).unwrap_or_else(|| panic!("{material}")).exact_g
}

#[test]
fn five_panels_with_edges_by_hand() {
    // Five of 60 x 80 cm with edges of 2 cm: 0.48 m2 and 2 x (0.6 + 0.8) x 0.02 = 0.056 m2, together 2.68 m2. Four coats of 200 g/m2
    // and a tenth of loss: 2.68 x 4 x 200 x 1.1 = 2358.4 g. Of 464 g: chalk 250 -> 1270.7, glue 14 -> 71.16, water 200 -> 1016.6.
    let view =
        asked(&Notebook::default(), &EnlargeForm { edges: "2cm".into(), coats: Some(4), loss_percent: Some(10.0), ..form("5 x 60x80cm") });
    assert!((view.report.area_m2 - 2.68).abs() < 1e-9 && (view.report.total_g - 2358.4).abs() < 1e-6, "{:?}", view.report);
    for (material, by_hand) in [("natural-chalk", 1270.7), ("hide-glue", 71.16), ("water", 1016.6)] {
        assert!((exact(&view, material) - by_hand).abs() < 0.1, "{material}");
    }
    // With the backs another 2.4 m2.
    let backs = asked(&Notebook::default(), &EnlargeForm { edges: "2cm".into(), backs: true, ..form("5 x 60x80cm") });
    assert!((backs.report.area_m2 - 5.08).abs() < 1e-9);
    // Two sizes, of which one stands without a number: 2 x 0.12 + 0.48 = 0.72 m2.
    let two = asked(&Notebook::default(), &form("2 x 30 x 40 cm; 600 x 800 mm"));
    assert!((two.report.area_m2 - 0.72).abs() < 1e-9, "{:?}", two.report.panels);
    // Feet are feet: 2 x 4 ft are 609.6 x 1219.2 mm, 0.743224 m2.
    let feet = asked(&Notebook::default(), &form("2 x 4 ft"));
    assert!((feet.report.area_m2 - 0.743_224).abs() < 1e-4, "{:?}", feet.report.panels);
}

#[test]
fn batches_by_the_pot_and_by_its_life() {
    // 5 x 0.48 x 4 x 200 x 1.2 = 2304 g; batches of 1 kg at most: ceil(2.304) = 3 of 768 g.
    let view = asked(&Notebook::default(), &EnlargeForm { biggest_g: Some(1000.0), ..form("5 x 60x80cm") });
    let report = &view.report;
    let (minutes, life) = (report.minutes.unwrap(), report.life_minutes.unwrap());
    let by_time = (f64::from(minutes) / f64::from(life)).ceil();
    assert!((report.batches.len() as f64 - by_time.max(3.0)).abs() < 1e-9, "{} batches", report.batches.len());
    assert!(report.batches.iter().all(|batch| (batch.wet_g * report.batches.len() as f64 - 2304.0).abs() < 1e-6));
    assert!(view.sentence.starts_with("Mix 3 batches of 768\u{a0}g"), "{}", view.sentence);
    // The whole in one batch where the pot is large and one coat is quick.
    let one = asked(&Notebook::default(), &EnlargeForm { coats: Some(1), ..form("1 x 20x25cm") });
    assert_eq!(one.report.batches.len(), 1);
    // One for each panel: five of 460.8 g, the sum as before.
    let each = asked(&Notebook::default(), &EnlargeForm { one_each: true, ..form("5 x 60x80cm") });
    assert_eq!(each.report.batches.len(), 5);
    assert!(each.report.batches.iter().all(|batch| (batch.wet_g - 460.8).abs() < 1e-6));
}

#[test]
fn so_thick_when_dry_by_hand() {
    // 100 g chalk, 10 g glue, 100 g water dries to 0.3873 of its wet thickness and weighs 1.4485 g/ml (docs/methods/film.md): 300 um in
    // four coats are 75 um each, 193.6 um wet, 280.5 g/m2.
    let told = "100 g chalk, 10 g hide glue, 100 g water";
    let view = asked(&Notebook::default(), &EnlargeForm { told: told.into(), dry_um: Some(300.0), coats: Some(4), ..form("1 x 50x50cm") });
    assert!((view.report.wet_g_m2 - 280.5).abs() < 0.5, "{}", view.report.wet_g_m2);
    assert!((view.report.dry_um.unwrap() - 300.0).abs() < 0.01);
    assert!(view.drying[0].contains("about 1.4 times"), "{:?}", view.drying);
}

#[test]
fn the_scale_and_the_spoons_say_what_rounding_costs() {
    // 0.05 m2 x 1 x 200 x 1.2 = 12 g of 464: glue 0.362 g on a scale of whole grams.
    let view = asked(&Notebook::default(), &EnlargeForm { coats: Some(1), ..form("1 x 20x25cm") });
    assert!(
        view.report.warnings.iter().any(|warning| warning.id == "fine" && warning.text.contains("hide glue")),
        "{:?}",
        view.report.warnings
    );
    let large = asked(&Notebook::default(), &form("5 x 60x80cm"));
    assert!(large.report.all.iter().all(|line| line.mass_g.fract().abs() < 1e-9 && (line.mass_g - line.exact_g).abs() <= 0.5));
    assert!(
        large.report.all.iter().all(|line| line.in_spoons.contains("too") || line.in_spoons.contains("tenth")),
        "{:?}",
        large.report.all
    );
    // The recipe of a batch is read back whole.
    let text = &large.report.batches[0].recipe;
    let card = BENCH.verdict(&crate::VerdictRequest { told: text.clone(), strict: true, ..Default::default() }).unwrap();
    assert!(card.report.struck.is_empty(), "{text}");
}

#[test]
fn the_bought_primer_stands_beside() {
    let studio = Studio::in_memory(true).unwrap();
    for (chance, (material, pack, price)) in
        [("natural-chalk", "1000", "3"), ("hide-glue", "100", "8"), ("acrylic-ground", "1000", "12")].into_iter().enumerate()
    {
        let typed = TypedJar {
            material: material.into(),
            pack: pack.into(),
            price: price.into(),
            money: "tokens".into(),
            stock: "0".into(),
            ..TypedJar::default()
        };
        let stamp = Stamp { at: Moment { seconds: 1_795_607_000, offset_minutes: 0 }, device: "desk".into(), chance: chance as u128 };
        BENCH.put_jar(&studio, &typed, &stamp).unwrap();
    }
    // 2304 g: chalk 1241.4 g, two packs, 6.00; glue 69.5 g, one pack, 8.00. Primer: 3 x 12.00 = 36.00, a panel 7.20.
    let view = asked(&studio.state(), &form("5 x 60x80cm"));
    assert_eq!(view.report.sums, ["14.00\u{a0}tokens"]);
    assert!(
        view.report.cost.iter().any(|said| said.contains("36.00\u{a0}tokens in all, 7.20\u{a0}tokens a panel")),
        "{:?}",
        view.report.cost
    );
    // What goes on: chalk 1241.4 x 0.003 + glue 69.5 x 0.08 = 9.285; a panel 1.86.
    assert!(view.report.cost[0].contains("1.86\u{a0}tokens a panel"), "{:?}", view.report.cost);
}

#[test]
fn panels_come_out_of_a_sheet() {
    let view = asked(&Notebook::default(), &EnlargeForm { sheet: "122x244cm".into(), ..form("7 x 60x80cm") });
    // Six lie on one sheet with cuts of 3 mm (3 x 800 + 6 and 2 x 600 + 3), so seven want two.
    assert_eq!((view.report.sheets.len(), view.report.sheets_least), (2, Some(true)));
    assert!(view.report.sheets.iter().all(|sheet| !sheet.gives.is_empty() && !sheet.cuts.is_empty()));
    let curd = asked(
        &Notebook::default(),
        &EnlargeForm { told: "1 l skim milk, 60 ml vinegar, 3 g baking soda, 40 g chalk, 20 g water".into(), ..form("1 x 50x50cm") },
    );
    assert!(curd.report.shopping.iter().any(|line| line.material == "skim-milk"), "curd goes back to milk: {:?}", curd.report.shopping);
}

#[test]
fn what_does_not_read_is_refused_by_name() {
    let bad = |change: &dyn Fn(&mut EnlargeForm), word: &str| {
        let mut asked = form("5 x 60x80cm");
        change(&mut asked);
        let said = BENCH.enlarge(&Notebook::default(), &asked, Day::read("2026-11-28").unwrap()).unwrap_err().to_string();
        assert!(said.contains(word), "{said} for {word}");
    };
    bad(&|f| f.told = String::new(), "recipe first");
    bad(&|f| f.told = "chalk, some glue, water until like cream".into(), "by eye");
    bad(&|f| f.panels = String::new(), "5 x 60x80cm");
    bad(&|f| f.panels = "lots".into(), "lots");
    bad(&|f| f.panels = "5 x -60 x 80".into(), "no panel");
    bad(&|f| f.panels = "5 x 60 x 80".into(), "in which unit");
    bad(&|f| f.panels = "5 x 6 x 8 mm".into(), "too small");
    bad(&|f| f.panels = "0 x 60x80cm".into(), "5 x 60x80cm");
    bad(&|f| f.panels = "99999999999 x 60x80cm".into(), "no panel");
    bad(&|f| f.panels = "501 x 60x80cm".into(), "500");
    bad(&|f| f.edges = "thick".into(), "18 mm");
    bad(&|f| f.coats = Some(0), "coats");
    bad(&|f| f.wet_g_m2 = Some(f64::NAN), "g/m2");
    bad(&|f| f.dry_um = Some(-1.0), "5 to 5000");
    bad(&|f| f.loss_percent = Some(f64::INFINITY), "lost");
    bad(&|f| f.biggest_g = Some(0.0), "largest batch");
    bad(&|f| f.biggest_g = Some(1.0), "100 batches");
    bad(&|f| f.sheet = "10x10cm".into(), "larger than the sheet");
    bad(&|f| f.sheet = "big".into(), "no size");
    bad(&|f| f.sheet = "4 x 8".into(), "in which unit");
    bad(&|f| f.edges = "2".into(), "in which unit");
    bad(&|f| (f.sheet, f.kerf_mm) = ("122x244cm".into(), Some(-3.0)), "saw");
    bad(&|f| f.scale_g = Some(0.0), "scale");
    bad(&|f| f.spoons = "tiny".into(), "240/15/5");
}
