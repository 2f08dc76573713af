//! `cargo xtask bench`: timings, printed, never judged.

use std::io::Write;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use crate::error::Error;
use crate::process;
use crate::served::Served;
use crate::workspace::{Build, Workspace, list, text};

const RUNS: usize = 30;

/// A made-up ground for the lighthouse workshop's small panels.
const RECIPE: &str = "100 g natural chalk\n10 g hide glue\n100 g water\n";

/// Runs every bench of the workspace, then times the whole program.
pub(crate) fn run(workspace: &Workspace) -> Result<(), Error> {
    for (package, bench) in benches(workspace) {
        process::check(workspace.cargo().args(["bench", "--package", package, "--bench", bench]))?;
    }
    let program = workspace.build_program(Build::Release)?;
    let film = times(|| film(&program))?;
    let page = times(|| first_page(&program))?;
    println!("\nwhole program, {RUNS} runs each       median    fastest    slowest");
    row("groundproof film, recipe to answer", &film);
    row("groundproof open, start to first page", &page);
    Ok(())
}

fn benches(workspace: &Workspace) -> Vec<(&str, &str)> {
    workspace
        .packages()
        .flat_map(|package| {
            list(package, "targets")
                .filter(|target| list(target, "kind").any(|kind| kind == "bench"))
                .map(|target| (text(package, "name"), text(target, "name")))
        })
        .collect()
}

/// Times `RUNS` runs, sorted; one run before them warms the disk cache.
fn times(mut once: impl FnMut() -> Result<(), Error>) -> Result<Vec<Duration>, Error> {
    once()?;
    let mut times = Vec::with_capacity(RUNS);
    for _ in 0..RUNS {
        let started = Instant::now();
        once()?;
        times.push(started.elapsed());
    }
    times.sort();
    Ok(times)
}

fn film(program: &Path) -> Result<(), Error> {
    let start = |source| Error::Start { program: program.display().to_string(), source };
    let mut child = Command::new(program).args(["film", "--json"]).stdin(Stdio::piped()).stdout(Stdio::null()).spawn().map_err(start)?;
    if let Some(mut stdin) = child.stdin.take() {
        stdin.write_all(RECIPE.as_bytes()).map_err(start)?;
    }
    let status = child.wait().map_err(start)?;
    if status.success() { Ok(()) } else { Err(Error::Failed { program: "groundproof film".to_owned(), status: status.to_string() }) }
}

fn first_page(program: &Path) -> Result<(), Error> {
    Served::start(program)?.first_page().map(|_| ())
}

fn row(name: &str, times: &[Duration]) {
    let ms = |time: Option<&Duration>| time.map_or_else(|| "not known".to_owned(), |time| format!("{:.1} ms", time.as_secs_f64() * 1000.0));
    println!("{name:<38} {:>9} {:>10} {:>10}", ms(times.get(times.len() / 2)), ms(times.first()), ms(times.last()));
}
