//! Settles mixtures of salts and acids given as JSON lines on standard input and prints what they come to, for comparison with another
//! code: `{"phosphate": 10, "sodium": 20}`, amounts in mmol/l.
#![expect(clippy::print_stdout, reason = "an example that prints")]

use std::io::BufRead;

use binder::{BinderBook, Ligand, SaltMix};
use measure::Millimoles;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let book = BinderBook::builtin()?;
    for line in std::io::stdin().lock().lines() {
        let mut mix = SaltMix::new(book);
        for (name, amount) in parts(&line?) {
            let amount = Millimoles::checked(amount)?;
            match name.as_str() {
                "phosphate" => mix.ligand(Ligand::Phosphate, amount),
                "citrate" => mix.ligand(Ligand::Citrate, amount),
                "acetate" => mix.ligand(Ligand::Acetate, amount),
                "lactate" => mix.ligand(Ligand::Lactate, amount),
                "carbonate" => mix.ligand(Ligand::Carbonate, amount),
                "borate" => mix.ligand(Ligand::Borate, amount),
                "ammonia" => mix.ligand(Ligand::Ammonia, amount),
                "calcium" => mix.calcium(amount),
                "magnesium" => mix.magnesium(amount),
                "sodium" => mix.ions(1, amount),
                "chloride" => mix.ions(-1, amount),
                other => return Err(format!("`{other}` is no part of a mixture here").into()),
            };
        }
        let state = mix.settle()?;
        println!(
            "{{\"ph\": {:e}, \"ionic_strength\": {:e}, \"free_calcium\": {:e}, \"free_magnesium\": {:e}, \"unbalanced\": {:e}}}",
            state.ph, state.ionic_strength, state.free_calcium, state.free_magnesium, state.unbalanced
        );
    }
    Ok(())
}

/// Names and numbers of one flat JSON object.
fn parts(line: &str) -> Vec<(String, f64)> {
    let inside = line.trim().trim_start_matches('{').trim_end_matches('}');
    let part = |pair: &str| {
        let (name, number) = pair.split_once(':')?;
        Some((name.trim().trim_matches('"').to_owned(), number.trim().parse().ok()?))
    };
    inside.split(',').filter_map(part).collect()
}
