//! Salts, acids and binding groups in water at one pH: which ions are free, and all charges.

use super::constants::ChargeConstants;
use super::davies::Powers;
use super::ligands::{LIGANDS, Ligand, Mixed, PerLigand};

/// Everything in a litre, mol.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Totals {
    pub(crate) ligands: PerLigand,
    pub(crate) calcium: f64,
    pub(crate) magnesium: f64,
    /// Net charge of the ions that bind nothing.
    pub(crate) strong: f64,
    /// Their amounts times their squared charges.
    pub(crate) strong_squares: f64,
    /// One more acid of a single proton: amount, and 10^pKa at ionic strength 0.
    pub(crate) other: (f64, f64),
}

/// A kind of group on a protein that binds a proton or a metal, mol/l.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Site {
    pub(crate) amount: f64,
    /// 10^pKa.
    pub(crate) proton: f64,
    /// Bond with calcium or magnesium at ionic strength 0, l/mol.
    pub(crate) metal: f64,
    /// Power of the activity coefficient that goes with it.
    pub(crate) power: i32,
}

/// Where the search for free metals and salt strength begins: the last answer nearby.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Guess {
    calcium: f64,
    magnesium: f64,
    ionic_strength: f64,
}

/// What a solution settles to at one pH; mol/l.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Settled {
    pub(crate) calcium: f64,
    pub(crate) magnesium: f64,
    pub(crate) ionic_strength: f64,
    /// All charges but those of the sites, metals counted whole wherever they are bound, water's own ions with them.
    pub(crate) charge: f64,
    /// Charge of the sites, bare of metal.
    pub(crate) site_charge: f64,
    /// Protons on each ligand.
    pub(crate) protons: PerLigand,
    /// Calcium on each ligand.
    pub(crate) bound_calcium: PerLigand,
    /// How far calcium and magnesium are from balance.
    pub(crate) calcium_off: f64,
    pub(crate) magnesium_off: f64,
}

const ROUNDS: usize = 60;

struct Bound {
    mixed: [Mixed; LIGANDS],
    sites: [(f64, f64, f64); MOST_SITES],
    powers: Powers,
}

/// Kinds of sites at once.
pub(crate) const MOST_SITES: usize = 4;

impl ChargeConstants {
    /// Settles calcium, magnesium and salt strength at this hydrogen activity. `fixed` holds the salt strength.
    pub(crate) fn settle(&self, totals: &Totals, sites: &[Site], h: f64, fixed: Option<f64>, guess: &mut Guess) -> Settled {
        let mut strength = fixed.unwrap_or(if guess.ionic_strength > 0.0 { guess.ionic_strength } else { 0.05 });
        let mut before: Option<(f64, f64)> = None;
        let mut rounds = 0;
        loop {
            let bound = self.bound(totals, sites, h, strength);
            free_metals(totals, &bound, guess);
            let found = self.ionic_strength(totals, &bound, h, guess);
            let off = found - strength;
            rounds += 1;
            if fixed.is_some() || off.abs() <= 1e-13 * (0.01 + found) || rounds == ROUNDS {
                guess.ionic_strength = found;
                return self.settled(totals, &bound, sites, h, found, guess);
            }
            let straight = match before {
                Some((there, other)) if (off - other).abs() > 0.0 => strength - off * (strength - there) / (off - other),
                _ => found,
            };
            before = Some((strength, off));
            // The straight line may not lead far from what the ions themselves say.
            strength = if straight > 0.5 * found && straight < 2.0 * found { straight } else { found };
        }
    }

    fn bound(&self, totals: &Totals, sites: &[Site], h: f64, strength: f64) -> Bound {
        let powers = self.davies.powers(strength);
        let mut mixed = [Mixed::default(); LIGANDS];
        for (ligand, place) in Ligand::ALL.into_iter().zip(&mut mixed) {
            if totals.ligands.get(ligand) > 0.0 {
                *place = self.forms(ligand).mixed(h, &powers);
            }
        }
        let mut kinds = [(0.0, 1.0, 0.0); MOST_SITES];
        for (kind, site) in kinds.iter_mut().zip(sites) {
            *kind = (site.amount, 1.0 + h * site.proton, site.metal * powers.get(site.power));
        }
        Bound { mixed, sites: kinds, powers }
    }

    fn ionic_strength(&self, totals: &Totals, bound: &Bound, h: f64, free: &Guess) -> f64 {
        let mut squares = totals.strong_squares + 4.0 * (free.calcium + free.magnesium);
        for (ligand, mixed) in Ligand::ALL.into_iter().zip(&bound.mixed) {
            let total = totals.ligands.get(ligand);
            if total > 0.0 {
                let whole = mixed.alone.weight + free.calcium * mixed.calcium.weight + free.magnesium * mixed.magnesium.weight;
                let sum = mixed.alone.squares + free.calcium * mixed.calcium.squares + free.magnesium * mixed.magnesium.squares;
                squares += total * sum / whole;
            }
        }
        let single = bound.powers.get(1);
        squares += (h + self.water / h) / single + totals.other.0 / (1.0 + totals.other.1 * h * single);
        0.5 * squares
    }

    fn settled(&self, totals: &Totals, bound: &Bound, sites: &[Site], h: f64, strength: f64, free: &Guess) -> Settled {
        let single = bound.powers.get(1);
        let mut out = Settled {
            calcium: free.calcium,
            magnesium: free.magnesium,
            ionic_strength: strength,
            charge: totals.strong + 2.0 * (totals.calcium + totals.magnesium) + (h - self.water / h) / single
                - totals.other.0 / (1.0 + totals.other.1 * h * single),
            calcium_off: free.calcium - totals.calcium,
            magnesium_off: free.magnesium - totals.magnesium,
            ..Settled::default()
        };
        for (ligand, mixed) in Ligand::ALL.into_iter().zip(&bound.mixed) {
            let total = totals.ligands.get(ligand);
            if total > 0.0 {
                let (ca, mg) = (free.calcium * mixed.calcium.weight, free.magnesium * mixed.magnesium.weight);
                let each = total / (mixed.alone.weight + ca + mg);
                let protons =
                    each * (mixed.alone.protons + free.calcium * mixed.calcium.protons + free.magnesium * mixed.magnesium.protons);
                out.protons.set(ligand, protons);
                out.bound_calcium.set(ligand, each * ca);
                out.charge += protons + f64::from(self.forms(ligand).charge) * total;
                out.calcium_off += each * ca;
                out.magnesium_off += each * mg;
            }
        }
        let metals = free.calcium + free.magnesium;
        for ((amount, alone, k), site) in bound.sites.iter().zip(sites) {
            let each = amount / (alone + k * metals);
            out.site_charge += each * h * site.proton - amount;
            out.calcium_off += each * k * free.calcium;
            out.magnesium_off += each * k * free.magnesium;
        }
        out
    }
}

/// Free calcium and magnesium by Newton's steps; both balances rise with what they count and bend downwards, so the steps stay tame.
fn free_metals(totals: &Totals, bound: &Bound, guess: &mut Guess) {
    let start = |last: f64, total: f64| if last > 0.0 && last <= total { last } else { 0.25 * total };
    let (mut ca, mut mg) = (start(guess.calcium, totals.calcium), start(guess.magnesium, totals.magnesium));
    for _ in 0..ROUNDS {
        let (mut off_ca, mut off_mg) = (ca - totals.calcium, mg - totals.magnesium);
        let (mut ca_ca, mut mg_mg, mut cross_ca, mut cross_mg) = (1.0, 1.0, 0.0, 0.0);
        for (ligand, mixed) in Ligand::ALL.into_iter().zip(&bound.mixed) {
            let (c, m) = (mixed.calcium.weight, mixed.magnesium.weight);
            if c > 0.0 || m > 0.0 {
                let whole = mixed.alone.weight + ca * c + mg * m;
                let each = totals.ligands.get(ligand) / whole;
                off_ca += each * ca * c;
                off_mg += each * mg * m;
                ca_ca += each * c * (1.0 - ca * c / whole);
                mg_mg += each * m * (1.0 - mg * m / whole);
                cross_ca -= each * ca * c * m / whole;
                cross_mg -= each * mg * m * c / whole;
            }
        }
        for (amount, alone, k) in &bound.sites {
            if *amount > 0.0 && *k > 0.0 {
                let whole = alone + k * (ca + mg);
                let each = amount * k / whole;
                off_ca += each * ca;
                off_mg += each * mg;
                ca_ca += each * (1.0 - k * ca / whole);
                mg_mg += each * (1.0 - k * mg / whole);
                cross_ca -= each * ca * k / whole;
                cross_mg -= each * mg * k / whole;
            }
        }
        let determinant = ca_ca * mg_mg - cross_ca * cross_mg;
        let step_ca = (off_ca * mg_mg - off_mg * cross_ca) / determinant;
        let step_mg = (off_mg * ca_ca - off_ca * cross_mg) / determinant;
        let next = |now: f64, step: f64, total: f64| (now - step).max(0.1 * now).min(total);
        let (next_ca, next_mg) = (next(ca, step_ca, totals.calcium), next(mg, step_mg, totals.magnesium));
        let still =
            (next_ca - ca).abs() <= 1e-15 * totals.calcium + 1e-13 * ca && (next_mg - mg).abs() <= 1e-15 * totals.magnesium + 1e-13 * mg;
        (ca, mg) = (next_ca, next_mg);
        if still {
            break;
        }
    }
    (guess.calcium, guess.magnesium) = (ca, mg);
}
