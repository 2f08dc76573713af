//! The example studio, looked at through the views that the pages show.
#![expect(clippy::unwrap_used, reason = "in a test a panic is the report")]

use workbench::{Moment, Workbench};

#[test]
#[ignore]
fn aloud() {
    let bench = Workbench::open().unwrap();
    let now = Moment { seconds: 1_795_607_000, offset_minutes: 60 };
    let start = std::time::Instant::now();
    let studio = bench.example(now).unwrap();
    println!("{:?}, {} entries", start.elapsed(), studio.state().n());
    let state = studio.state();
    println!("{:#?}", bench.kept(&state, ""));
    for recipe in state.recipes.values() { println!("{:#?}", recipe.record.said); }
    println!("{:#?}", bench.shelf(&state, now.local().0).next);
    println!("{:#?}", bench.shelf(&state, now.local().0).jars);
    for row in bench.trials(&state, now).rows {
        println!("=== {row:#?}");
        println!("{:#?}", bench.road(&state, &row.subject, now));
        match bench.trial_answer(&state, &row.subject) {
            Ok(view) => {
                for m in &view.measures { println!("## {}\n{}\nMORE {:#?}\nNUM {:#?}\nTAN {:#?}", m.title, m.sentence, m.more, m.numbers, m.tangles); }
                println!("better {} ages {} lost {:?} cannot {:#?} next {} why {} notes {:#?}", view.better, view.ages, view.lost, view.cannot, view.next, view.why, view.notes);
                for r in &view.reports { for m in &r.measures { println!("{} {} {:#?}", m.measure, m.verdict, m.effects.iter().map(|e| (e.name.clone(), e.verdict, e.figure.value, e.exact.as_ref().map(|x| x.p))).collect::<Vec<_>>()); } }
            }
            Err(why) => println!("no answer: {why}"),
        }
    }
}
