//! Plans and their tangles: check values worked out by hand or by exact arithmetic, and what must hold for any plan.

#![expect(clippy::indexing_slicing, clippy::unwrap_used, reason = "in a test a panic is the report")]

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;

use proptest::prelude::*;
use trials::plan::{
    About, Better, BoardKind, Control, CrossedWish, ExtraBoard, Job, Often, Per, Plan, PlanError, PlannedBoard, Setting, StairWish, Tangle,
    TangleKind, Tangles, TrialText, TwoByTwoWish, Value, Way, crossed, stair, tangles, two_by_two, typed,
};

fn kinds(name: &str, kinds: &[&str], per: Per) -> Setting {
    Setting { name: name.into(), levels: kinds.iter().map(|kind| Value::Kind((*kind).into())).collect(), per }
}

fn yardstick() -> Control {
    Control { name: "known ground".into(), job: Job::Yardstick, per: Often::Day, boards: 1 }
}

fn about() -> About {
    About {
        question: "Does less binder stop the cracks?".into(),
        better: Some(Better { measure: "cracking".into(), way: Way::Smaller }),
        controls: vec![yardstick()],
        ..About::default()
    }
}

fn wish(sittings: u32) -> TwoByTwoWish {
    TwoByTwoWish {
        about: about(),
        first: kinds("powder", &["chalk", "gypsum"], Per::Batch),
        second: kinds("binder", &["little", "much"], Per::Batch),
        sittings,
        strips: None,
    }
}

/// Eight boards: little binder on the first four, much on the others; coats in turn; gypsum where said.
fn eight(gypsum: [bool; 8], extra: &str) -> Plan {
    let mut text = String::from(
        "trial = 1\nsize = { batch_spread = 0 }\nsetting = [{ name = \"binder\", kinds = [\"little\", \"much\"] }, \
         { name = \"filler\", kinds = [\"chalk\", \"gypsum\"] }, { name = \"coats\", values = [2, 3], per = \"board\" }]\nboard = [\n",
    );
    for (at, gypsum) in gypsum.into_iter().enumerate() {
        let binder = if at < 4 { "little" } else { "much" };
        let filler = if gypsum { "gypsum" } else { "chalk" };
        let _ = writeln!(text, "{{ binder = \"{binder}\", filler = \"{filler}\", coats = {} }},", 2 + at % 2);
    }
    let _ = writeln!(text, "{extra}]");
    typed(&TrialText::parse(&text).unwrap(), None).unwrap()
}

fn of_kind(found: &Tangles, kind: TangleKind) -> Vec<&Tangle> {
    found.found.iter().filter(|tangle| tangle.kind == kind).collect()
}

fn near(value: f64, wanted: f64, relative: f64) {
    assert!((value - wanted).abs() <= relative * wanted.abs(), "{value} instead of {wanted}");
}

/// A plan with the advised boards made as well, each from a pot of its own.
fn with_extra(plan: &Plan, add: &[ExtraBoard]) -> Plan {
    let mut plan = plan.clone();
    for (at, extra) in add.iter().enumerate() {
        let order = u32::try_from(plan.boards.len()).unwrap() + 1;
        plan.boards.push(PlannedBoard {
            id: format!("extra {at}"),
            day: extra.day.unwrap_or(1),
            batch: format!("extra {at}"),
            sheet: extra.sheet.clone().or_else(|| plan.boards[0].sheet.clone()),
            order,
            place: order,
            kind: extra.kind,
            settings: extra.settings.clone(),
            shares: extra.shares.clone(),
            strips: Vec::new(),
        });
    }
    plan
}

#[test]
fn filler_moves_with_binder() {
    // By hand: the two columns are the same, so 3 of 4 columns are independent and the null vector is their difference.
    let plan = eight([false, false, false, false, true, true, true, true], "");
    let found = tangles(&plan);
    assert_eq!((found.table.rank, found.table.ties, found.table.terms.len()), (3, 1, 4));
    assert_eq!(found.criterion.ln_det, None);
    let exact = of_kind(&found, TangleKind::Exact);
    assert_eq!(exact.len(), 1);
    assert_eq!(exact[0].effects, ["binder", "filler"]);
    // One board each way: little binder with gypsum, much with chalk.
    let pairs: BTreeSet<(String, String)> =
        exact[0].add.iter().map(|extra| (extra.settings["binder"].to_string(), extra.settings["filler"].to_string())).collect();
    let wanted = [("little", "gypsum"), ("much", "chalk")].map(|(a, b)| (a.to_owned(), b.to_owned()));
    assert_eq!(pairs, wanted.into_iter().collect());
    let mended = tangles(&with_extra(&plan, &exact[0].add));
    assert!(of_kind(&mended, TangleKind::Exact).is_empty());
    assert_eq!(mended.table.rank, 4);
}

#[test]
fn one_board_changed() {
    // Exact arithmetic: r 0.774597 and 0.258199, 2.8, 3.0, 1.2 times the boards, coded efficiency 0.747674.
    let found = tangles(&eight([false, false, false, true, true, true, true, true], ""));
    near(found.table.r[1][2].unwrap(), 0.774_597, 1e-6);
    near(found.table.r[2][3].unwrap(), 0.258_199, 1e-5);
    for (vif, wanted) in found.table.vif[1..].iter().zip([2.8, 3.0, 1.2]) {
        near(vif.unwrap(), wanted, 1e-12);
    }
    near(found.criterion.d_efficiency.unwrap(), 0.747_674, 1e-6);
    let half = of_kind(&found, TangleKind::Half);
    assert_eq!(half.len(), 1);
    assert_eq!(half[0].effects, ["binder", "filler"]);
    assert!(!half[0].add.is_empty());
    let each_way = tangles(&eight([false, false, false, true, false, true, true, true], ""));
    near(each_way.criterion.d_efficiency.unwrap(), 0.840_896, 1e-6);
    assert!(of_kind(&each_way, TangleKind::Half).is_empty() && of_kind(&each_way, TangleKind::Exact).is_empty());
}

#[test]
fn batches_of_two_in_closed_form() {
    // (8 / (1 + 2 spread))^2 x 8, by hand.
    for (spread, wanted) in [("0", 512.0), ("1", 56.888_888_888_888_9), ("10", 1.160_997_732_426_303_9)] {
        let mut text = format!(
            "trial = 1\nsize = {{ batch_spread = {spread} }}\nsetting = [{{ name = \"w\", values = [-1, 1] }}, \
             {{ name = \"s\", values = [-1, 1], per = \"board\" }}]\nboard = [\n"
        );
        for (batch, w) in ["A", "B", "C", "D"].iter().zip([-1, -1, 1, 1]) {
            for s in [-1, 1] {
                let _ = writeln!(text, "{{ batch = \"{batch}\", w = {w}, s = {s} }},");
            }
        }
        text.push_str("]\n");
        let found = tangles(&typed(&TrialText::parse(&text).unwrap(), None).unwrap());
        near(found.criterion.ln_det.unwrap().exp(), wanted, 1e-10);
    }
}

#[test]
fn blends_crossed_with_a_setting() {
    // Exact enumeration: blends 0, 1/2, 1 in two batches each with both values in every batch: 96, 32/9, 0.01036605.
    for (spread, wanted) in [("0", 96.0), ("1", 32.0 / 9.0), ("10", 0.010_366_05)] {
        let mut text = format!(
            "trial = 1\nshape = \"quadratic\"\nsize = {{ batch_spread = {spread} }}\npart = [{{ name = \"a\" }}, {{ name = \"b\" }}]\n\
             setting = [{{ name = \"z\", values = [-1, 1], per = \"board\" }}]\nboard = [\n"
        );
        for (batch, share) in ["A", "B", "C", "D", "E", "F"].iter().zip(["0", "0", "0.5", "0.5", "1", "1"]) {
            for z in [-1, 1] {
                let other = 1.0 - share.parse::<f64>().unwrap();
                let _ = writeln!(text, "{{ batch = \"{batch}\", a = \"{share}\", b = \"{other}\", z = {z} }},");
            }
        }
        text.push_str("]\n");
        let found = tangles(&typed(&TrialText::parse(&text).unwrap(), None).unwrap());
        assert_eq!(found.criterion.terms, ["a", "b", "a × b", "a × z", "b × z"]);
        near(found.criterion.ln_det.unwrap().exp(), wanted, 1e-6);
    }
}

#[test]
fn the_two_by_two_day() {
    let plan = two_by_two(&wish(2), 5).unwrap();
    assert_eq!(plan.boards.len(), 10);
    let found = tangles(&plan);
    // X'X = 8 I for five terms, 8^5 = 32768; every pot alone, so V = 2 I at the usual spread. By hand.
    assert_eq!(found.criterion.terms.len(), 5);
    near(found.criterion.ln_det.unwrap().exp(), 32768.0 / 32.0, 1e-10);
    near(found.criterion.d_efficiency.unwrap(), 1.0, 1e-10);
    assert!(found.found.iter().all(|tangle| tangle.kind == TangleKind::WithPlace), "{:?}", found.found);
    // 2 / 2^4 within pairs; two more recipes' worth of pairs with a third sitting: 2 / 2^6.
    let paired = |found: &Tangles| found.least.iter().map(|one| one.least_p).collect::<Vec<f64>>()[2];
    near(paired(&found), 0.125, 1e-12);
    near(paired(&tangles(&two_by_two(&wish(3), 5).unwrap())), 0.031_25, 1e-12);
    assert!(
        found.cannot.iter().any(|sentence| sentence.contains("once in 8") && sentence.contains("three sittings")),
        "{:?}",
        found.cannot
    );
    // Every second sitting goes backwards, the yardstick too.
    let first: Vec<_> = plan.boards[..5].iter().map(|board| (board.kind, board.settings.clone())).collect();
    let second: Vec<_> = plan.boards[5..].iter().rev().map(|board| (board.kind, board.settings.clone())).collect();
    assert_eq!(first, second);
}

#[test]
fn binder_moves_with_the_sitting() {
    let mut plan = two_by_two(&wish(2), 5).unwrap();
    for board in plan.boards.iter_mut().filter(|board| board.kind == BoardKind::Recipe) {
        let little = board.day == 1;
        board.settings.insert("binder".into(), Value::Kind(if little { "little" } else { "much" }.into()));
    }
    let found = tangles(&plan);
    let tied = of_kind(&found, TangleKind::WithDay);
    assert_eq!(tied.len(), 1);
    assert_eq!(tied[0].effects, ["binder", "day"]);
    assert!(tied[0].text.contains("“binder” moves with the day"), "{}", tied[0].text);
    assert!(tied[0].add.iter().all(|extra| extra.day.is_some()) && !tied[0].add.is_empty());
    assert!(of_kind(&tangles(&with_extra(&plan, &tied[0].add)), TangleKind::WithDay).iter().all(|tangle| tangle.r.unwrap() < 1.0));
    // Rank 4 of 5 (constant, powder, binder, their product, sitting): no determinant.
    assert_eq!(found.criterion.ln_det, None);
    assert!(found.criterion.why.unwrap().contains("4 of 5"));
}

#[test]
fn one_pot_a_recipe() {
    // Four pots for four recipes: pots less recipes is nothing.
    let mut plan = two_by_two(&wish(2), 5).unwrap();
    for board in plan.boards.iter_mut().filter(|board| board.kind == BoardKind::Recipe) {
        board.day = 1;
        board.batch = board.settings.values().map(ToString::to_string).collect();
    }
    let found = tangles(&plan);
    let rests = of_kind(&found, TangleKind::NoHonestError);
    assert_eq!(rests.len(), 1);
    assert!(rests[0].text.contains("how far pots differ") && rests[0].text.contains("each recipe rests on one pot"));
    assert!(of_kind(&tangles(&with_extra(&plan, &rests[0].add)), TangleKind::NoHonestError).is_empty());
}

#[test]
fn days_without_a_yardstick_and_recipes_without_repeats() {
    let wish = CrossedWish {
        about: About { controls: Vec::new(), ..about() },
        settings: vec![kinds("powder", &["chalk", "gypsum"], Per::Batch), kinds("binder", &["little", "much"], Per::Batch)],
        days: 1,
        ..CrossedWish::default()
    };
    let plan = crossed(&wish, 3).unwrap();
    assert!(plan.notes.iter().any(|note| note.id == "no-yardstick"));
    let found = tangles(&plan);
    for kind in [TangleKind::NoControl, TangleKind::NoRepeats] {
        let one = of_kind(&found, kind);
        assert_eq!(one.len(), 1, "{kind:?}");
        assert!(of_kind(&tangles(&with_extra(&plan, &one[0].add)), kind).is_empty(), "{kind:?}");
    }
}

#[test]
fn sheets_are_dealt_and_watched() {
    let wish = CrossedWish {
        about: About { sheets: Some(2), ..about() },
        settings: vec![kinds("powder", &["chalk", "gypsum"], Per::Batch), kinds("binder", &["little", "much"], Per::Batch)],
        days: 2,
        ..CrossedWish::default()
    };
    let mut plan = crossed(&wish, 3).unwrap();
    // Every recipe stands on both sheets, and no setting leans on one.
    for board in plan.recipe_boards() {
        let alike = plan.recipe_boards().filter(|other| other.settings == board.settings);
        assert_eq!(alike.map(|other| other.sheet.clone()).collect::<BTreeSet<_>>().len(), 2);
    }
    assert!(of_kind(&tangles(&plan), TangleKind::WithSheet).is_empty());
    for board in plan.boards.iter_mut().filter(|board| board.kind == BoardKind::Recipe) {
        let chalk = board.settings["powder"] == Value::Kind("chalk".into());
        board.sheet = Some(if chalk { "1" } else { "2" }.into());
    }
    let found = tangles(&plan);
    let tied = of_kind(&found, TangleKind::WithSheet);
    assert_eq!(tied[0].effects, ["powder", "sheet"]);
    let mended = tangles(&with_extra(&plan, &tied[0].add));
    assert!(of_kind(&mended, TangleKind::WithSheet).iter().all(|tangle| tangle.r.unwrap() < 1.0));
}

#[test]
fn a_product_hides_behind_a_third_setting() {
    // Half of the eight corners, each twice: the third setting is the product of the first two (by hand).
    let mut text = String::from("trial = 1\nboard = [\n");
    for (a, b, c) in [("l", "l", "h"), ("h", "l", "l"), ("l", "h", "l"), ("h", "h", "h")] {
        let row = format!("{{ a = \"{a}\", b = \"{b}\", c = \"{c}\" }},\n");
        text.push_str(&row.repeat(2));
    }
    text.push_str("{ kind = \"yardstick\" }]\n");
    let plan = typed(&TrialText::parse(&text).unwrap(), None).unwrap();
    let found = tangles(&plan);
    let hidden: BTreeSet<Vec<String>> = of_kind(&found, TangleKind::Hidden).iter().map(|tangle| tangle.effects.clone()).collect();
    let wanted = [["a", "b × c"], ["b", "a × c"], ["c", "a × b"]].map(|pair| pair.map(str::to_owned).to_vec());
    assert_eq!(hidden, wanted.into_iter().collect());
    assert!(of_kind(&found, TangleKind::NoControl).is_empty());
    assert!(!plan.notes.iter().any(|note| note.id == "no-yardstick"));
}

#[test]
fn turn_and_place_are_judged_within_the_day() {
    // Typed: chalk always first, day after day.
    let mut text = String::from("trial = 1\nboard = [\n");
    let mut order = 0;
    for day in 1..=2 {
        for powder in ["chalk", "chalk", "gypsum", "gypsum"] {
            order += 1;
            let _ = writeln!(text, "{{ powder = \"{powder}\", day = {day}, order = {order}, place = {} }},", 1 + order % 4);
        }
    }
    text.push_str("]\n");
    let plan = typed(&TrialText::parse(&text).unwrap(), None).unwrap();
    assert!(!plan.order_drawn);
    let found = tangles(&plan);
    // By hand: -1 -1 1 1 against -1.5 -0.5 0.5 1.5: 4 / root of 20 = 0.894.
    near(of_kind(&found, TangleKind::WithOrder)[0].r.unwrap(), 4.0 / 20f64.sqrt(), 1e-9);
}

#[test]
fn six_boards_settle_nothing() {
    // Fisher 1935, exact enumeration: three against three, 2 of 20.
    let wish = CrossedWish {
        about: about(),
        settings: vec![kinds("powder", &["chalk", "gypsum"], Per::Batch)],
        days: 3,
        ..CrossedWish::default()
    };
    let found = tangles(&crossed(&wish, 1).unwrap());
    near(found.least[0].least_p, 0.1, 1e-12);
    assert!(found.cannot.iter().any(|s| s.contains("once in 10") && s.contains("direction and size only")), "{:?}", found.cannot);
    // Four against four is the first of equal groups below 1 in 20: 2 of 70.
    assert!(found.cannot.iter().any(|s| s.contains("Four pots of each are the fewest")), "{:?}", found.cannot);
}

#[test]
fn stairs_are_turned_and_spares_counted() {
    let plan = stair(
        &StairWish {
            about: About { loss: 0.1, ..about() },
            settings: vec![kinds("recipe", &["A", "B"], Per::Batch)],
            boards: 4,
            ..StairWish::default()
        },
        11,
    )
    .unwrap();
    for recipe in ["A", "B"] {
        let boards: Vec<&PlannedBoard> =
            plan.recipe_boards().filter(|board| board.settings["recipe"] == Value::Kind(recipe.into())).collect();
        assert_eq!(boards.iter().filter(|board| board.strips == [1, 2, 3, 4, 5]).count(), 2);
        assert_eq!(boards.iter().filter(|board| board.strips == [5, 4, 3, 2, 1]).count(), 2);
        assert_eq!(boards.iter().map(|board| &board.batch).collect::<BTreeSet<_>>().len(), 2);
    }
    // 8 and 2 yardsticks, 10 / 0.9 = 11.1: twelve to cut, two spare.
    assert_eq!((plan.boards.len(), plan.spares), (10, 2));
}

#[test]
fn parts_without_boards_are_refused_honestly() {
    let text = TrialText::parse("trial = 1\npart = [{ name = \"chalk\", low = \"0.3\", high = \"0.7\" }, { name = \"water\" }]\n").unwrap();
    assert_eq!(typed(&text, None), Err(PlanError::BlendsNotChosen));
    assert_eq!(typed(&TrialText::parse("trial = 1\n").unwrap(), None), Err(PlanError::NothingToCompare));
}

#[test]
fn every_fault_names_its_line() {
    for (text, line) in [
        ("", 1),
        ("question = \"?\"\n", 1),
        ("trial = 2\n", 1),
        ("trial = 1\nsetting = [{ name = \"a\", kinds = [\"x\"", 2),
        ("trial = 1\n\nsetting = [{ name = \"a\", kinds = [\"x\"] }]\n", 3),
        ("trial = 1\nsetting = [{ name = \"day\", kinds = [\"x\", \"y\"] }]\n", 2),
        ("trial = 1\nsetting = [\n{ name = \"a\", values = [1, 2] },\n{ name = \"a\", values = [1, 2] }]\n", 4),
        ("trial = 1\nsize = { boards = -3 }\n", 2),
        ("trial = 1\nsize = { batch_spread = nan }\n", 2),
        ("trial = 1\nsize = { days = 99999999999999999999 }\n", 2),
        ("trial = 1\nbetter = { measure = \"cracking\", way = \"sideways\" }\n", 2),
        ("trial = 1\nsetting = [{ name = \"a\", values = [1, 2] }]\nboard = [\n{ a = 1 },\n{ b = 2 }]\n", 5),
        ("trial = 1\npart = [{ name = \"chalk\" }, { name = \"water\" }]\nboard = [\n{ chalk = \"0.5\", water = \"0.2\" }]\n", 4),
        ("trial = 1\nboard = [{ id = \"01\", a = 1 },\n{ id = \"01\", a = 2 }]\n", 3),
        ("\u{feff}\u{0}\n", 1),
    ] {
        let Err(faults) = TrialText::parse(text) else { panic!("taken: {text}") };
        assert!(faults.0.iter().any(|fault| fault.line == line), "{text}: {faults}");
    }
    let long = format!("trial = 1\nquestion = \"{}\"\n", "why ".repeat(20_000));
    assert!(TrialText::parse(&long).unwrap_err().to_string().starts_with("line 1: the file has"));
    let deep = format!("trial = 1\nboard = {}\n", "[".repeat(20_000));
    assert!(TrialText::parse(&deep).is_err());
}

/// Two to four settings with two or three kinds.
fn settings() -> impl Strategy<Value = Vec<Setting>> {
    proptest::collection::vec((2usize..4, any::<bool>()), 2..5).prop_map(|sizes| {
        sizes
            .into_iter()
            .enumerate()
            .map(|(at, (levels, board))| {
                let names: Vec<String> = (0..levels).map(|level| format!("k{level}")).collect();
                let names: Vec<&str> = names.iter().map(String::as_str).collect();
                kinds(&format!("s{at}"), &names, if board { Per::Board } else { Per::Batch })
            })
            .collect()
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// Each combination equally often, each recipe on each day, each number and turn once, and the same seed draws the same plan.
    #[test]
    fn crossed_plans_are_fair(settings in settings(), days in 1u32..4, sheets in proptest::option::of(1u32..4), seed: u64) {
        let wish = CrossedWish { about: About { sheets, ..about() }, settings, days, ..CrossedWish::default() };
        let plan = crossed(&wish, seed).unwrap();
        prop_assert_eq!(&plan, &crossed(&wish, seed).unwrap());
        let mut counts: BTreeMap<String, BTreeMap<u32, usize>> = BTreeMap::new();
        for board in plan.recipe_boards() {
            *counts.entry(format!("{:?}", board.settings)).or_default().entry(board.day).or_default() += 1;
        }
        let each: usize = wish.settings.iter().map(|setting| setting.levels.len()).product();
        prop_assert_eq!(counts.len(), each);
        prop_assert!(counts.values().all(|row| row.len() == days as usize && row.values().all(|count| *count == 1)));
        let turns: Vec<u32> = plan.boards.iter().map(|board| board.order).collect();
        prop_assert_eq!(turns, (1..=u32::try_from(plan.boards.len()).unwrap()).collect::<Vec<_>>());
        let ids: BTreeSet<&String> = plan.boards.iter().map(|board| &board.id).collect();
        prop_assert_eq!(ids.len(), plan.boards.len());
        for day in 1..=days {
            let mut places: Vec<u32> = plan.boards.iter().filter(|board| board.day == day).map(|board| board.place).collect();
            places.sort_unstable();
            prop_assert_eq!(&places, &(1..=u32::try_from(places.len()).unwrap()).collect::<Vec<_>>());
            prop_assert!(plan.boards.iter().any(|board| board.day == day && board.kind == BoardKind::Yardstick));
        }
        // A pot carries one recipe, and settings of the pot are never tied to each other.
        let found = tangles(&plan);
        prop_assert!(of_kind(&found, TangleKind::Exact).is_empty());
        let stored = serde_json::to_string(&plan).unwrap();
        prop_assert_eq!(serde_json::from_str::<Plan>(&stored).unwrap(), plan);
    }

    /// Any two-by-two is even: X'X = 8 I for two sittings (4 n I for n), whatever the seed.
    #[test]
    fn two_by_twos_are_even(sittings in 2u32..5, seed: u64) {
        let found = tangles(&two_by_two(&wish(sittings), seed).unwrap());
        let (boards, terms) = (f64::from(sittings) * 4.0, found.criterion.terms.len());
        prop_assert_eq!(terms, 4 + sittings as usize - 1);
        if sittings == 2 {
            let wanted = 5.0 * (boards / 2.0).ln();
            prop_assert!((found.criterion.ln_det.unwrap() - wanted).abs() < 1e-9);
        }
        let table = &found.table;
        prop_assert!(table.r[1][2].unwrap().abs() < 1e-12);
        prop_assert!(table.vif[1..].iter().all(|vif| (vif.unwrap() - 1.0).abs() < 1e-9));
    }

    /// However settings are tied, the boards advised for one tie part that tie, and all of them together leave none.
    #[test]
    fn advice_unties(cells in proptest::collection::vec(0usize..2, 8 * 3), copies in 1usize..3) {
        let mut text = String::from("trial = 1\nboard = [\n");
        for row in cells.chunks(3) {
            let mut fields: Vec<String> = row.iter().enumerate().map(|(at, cell)| format!("s{at} = \"k{cell}\"")).collect();
            fields.extend(row.iter().take(copies).enumerate().map(|(copy, cell)| format!("c{copy} = \"m{cell}\"")));
            let _ = writeln!(text, "{{ {} }},", fields.join(", "));
        }
        text.push_str("]\n");
        let parsed = TrialText::parse(&text);
        // A setting that never changes is none.
        prop_assume!(parsed.is_ok());
        let plan = typed(&parsed.unwrap(), None).unwrap();
        let found = tangles(&plan);
        let ties = of_kind(&found, TangleKind::Exact);
        prop_assume!(!ties.is_empty());
        let mut all = Vec::new();
        for tie in &ties {
            prop_assert!(tie.add.len() > 1, "{}", tie.text);
            let mended = tangles(&with_extra(&plan, &tie.add));
            prop_assert!(!of_kind(&mended, TangleKind::Exact).iter().any(|left| left.effects == tie.effects), "{}", tie.text);
            all.extend(tie.add.clone());
        }
        let mended = tangles(&with_extra(&plan, &all));
        prop_assert!(of_kind(&mended, TangleKind::Exact).is_empty(), "{:?}", of_kind(&mended, TangleKind::Exact));
    }

    /// Nothing that can be typed brings the reader or the check down.
    #[test]
    fn any_text_is_answered(lines in proptest::collection::vec(prop_oneof![
        Just("trial = 1".to_owned()), Just("ready = \"two by two\"".to_owned()), Just("ready = \"stair board\"".to_owned()),
        Just("setting = [{ name = \"a\", values = [1, 2] }]".to_owned()), Just("setting = [{ name = \"a\", kinds = [\"x\", \"y\", \"z\"] }, { name = \"b\", values = [\"0.1\", 3] }]".to_owned()),
        Just("size = { boards = 7, boards_per_batch = 2, days = 3, sheets = 2, loss = 0.2 }".to_owned()),
        Just("control = [{ name = \"w\", job = \"witness\", per = \"sheet\", boards = 3 }]".to_owned()),
        Just("part = [{ name = \"p\" }, { name = \"q\", low = \"0.2\" }]".to_owned()),
        Just("board = [{ a = 1, order = 2 }, { a = 2, p = 1, day = 4 }]".to_owned()), Just("[[board]]".to_owned()), Just("a = 1".to_owned()),
        "\\PC{0,40}"], 0..7)) {
        if let Ok(text) = TrialText::parse(&lines.join("\n"))
            && let Ok(plan) = typed(&text, Some(9)) {
            let found = tangles(&plan);
            prop_assert!(found.table.rank <= found.table.terms.len());
        }
    }
}
