//! `cargo xtask test`: every stage, in the order in which a mistake costs least.

use std::time::{Duration, Instant};

use crate::stages::{Cost, ROUNDS, Stage};
use crate::tally::Tally;
use crate::workspace::Workspace;

/// How a stage ended.
struct Ended {
    stage: &'static Stage,
    took: Duration,
    tally: Tally,
}

/// Runs the stages and prints the closing table; `true` when nothing failed.
///
/// All cheap stages run even when one of them fails, so that one round shows every small
/// thing to mend; after that the first failure ends the run.
pub(crate) fn run(workspace: &Workspace) -> bool {
    let started = Instant::now();
    let mut ended: Vec<Ended> = Vec::new();
    for &round in ROUNDS {
        let failed = ended.iter().any(|stage| stage.tally.failed > 0);
        if failed && round.iter().any(|stage| stage.cost == Cost::Dear) {
            break;
        }
        std::thread::scope(|scope| {
            let running: Vec<_> = round.iter().map(|stage| (stage, scope.spawn(|| one(workspace, stage)))).collect();
            for (stage, thread) in running {
                let broke = |_| Ended { stage, took: Duration::ZERO, tally: Tally { passed: 0, failed: 1 } };
                ended.push(thread.join().unwrap_or_else(broke));
            }
        });
    }
    close(&ended, started.elapsed());
    ended.len() == ROUNDS.iter().map(|round| round.len()).sum::<usize>() && ended.iter().all(|stage| stage.tally.failed == 0)
}

fn one(workspace: &Workspace, stage: &'static Stage) -> Ended {
    println!("\n== {}: {}", stage.name, stage.what);
    let started = Instant::now();
    let tally = (stage.run)(workspace).unwrap_or_else(|error| {
        println!("{}: {error}", stage.name);
        Tally { passed: 0, failed: 1 }
    });
    let took = started.elapsed();
    println!("== {}: {:.1} min", stage.name, minutes(took));
    Ended { stage, took, tally }
}

fn close(ended: &[Ended], took: Duration) {
    println!("\nstage         min   passed  failed");
    let mut sum = Tally::default();
    for stage in ended {
        let Tally { passed, failed } = stage.tally;
        let verdict = if failed > 0 { "  <- mend this" } else { "" };
        println!("{:<12} {:>5.1} {passed:>7} {failed:>7}{verdict}", stage.stage.name, minutes(stage.took));
        sum += stage.tally;
    }
    for stage in ROUNDS.iter().copied().flatten().skip(ended.len()) {
        println!("{:<12}     -  not run", stage.name);
    }
    println!("all          {:>4.1}", minutes(took));
    println!("{} passed, {} failed", sum.passed, sum.failed);
}

fn minutes(time: Duration) -> f64 {
    time.as_secs_f64() / 60.0
}
