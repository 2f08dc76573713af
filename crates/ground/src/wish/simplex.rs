//! A small exact solver for linear sums: the least of a sum of non-negative amounts under balances.
//!
//! Dense, in two phases, with the rule that can't run in circles (R. G. Bland, "New finite pivoting rules for the simplex method",
//! Math. Oper. Res. 2 (1977) 103). A pot has a dozen amounts and as many balances, so a table of numbers is all it takes.

/// A balance: `sum of amount x factor` is at most, or is exactly, so much.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Balance {
    pub(super) factors: Vec<f64>,
    pub(super) exactly: bool,
    pub(super) so_much: f64,
}

/// What counts as nothing beside factors that were brought to about one.
const NOTHING: f64 = 1e-9;

/// The amounts, none below zero, that keep every balance at the least cost; `None` where no amounts do.
pub(super) fn least(costs: &[f64], balances: &[Balance]) -> Option<Vec<f64>> {
    let amounts = costs.len();
    let spare = balances.iter().filter(|balance| !balance.exactly).count();
    let width = amounts + spare + balances.len();
    let mut rows: Vec<Vec<f64>> = Vec::with_capacity(balances.len());
    let mut basis = Vec::with_capacity(balances.len());
    let mut next_spare = amounts;
    for (number, balance) in balances.iter().enumerate() {
        // Rows of like size: grams and millilitres of a pot lie far apart.
        let size = balance.factors.iter().fold(balance.so_much.abs(), |most, factor| most.max(factor.abs())).max(f64::MIN_POSITIVE);
        let sign = if balance.so_much < 0.0 { -1.0 } else { 1.0 } / size;
        let mut row = vec![0.0; width + 1];
        for (place, factor) in row.iter_mut().zip(&balance.factors) {
            *place = factor * sign;
        }
        if !balance.exactly {
            *row.get_mut(next_spare)? = sign * size;
            next_spare += 1;
        }
        *row.get_mut(amounts + spare + number)? = 1.0;
        *row.get_mut(width)? = balance.so_much * sign;
        rows.push(row);
        basis.push(amounts + spare + number);
    }
    let mut table = Table { rows, basis, width };
    // First whether the balances can be kept at all: nothing of the stand-ins may be left.
    let stand_ins: Vec<f64> = (0..width).map(|column| f64::from(u8::from(column >= amounts + spare))).collect();
    if table.lower(&stand_ins, width)? > 1e-7 {
        return None;
    }
    table.turn_out(amounts + spare);
    let mut prices = costs.to_vec();
    prices.resize(width, 0.0);
    table.lower(&prices, amounts + spare)?;
    Some((0..amounts).map(|column| table.amount(column)).collect())
}

struct Table {
    rows: Vec<Vec<f64>>,
    /// Which amount each row stands for.
    basis: Vec<usize>,
    width: usize,
}

impl Table {
    fn amount(&self, column: usize) -> f64 {
        let row = self.basis.iter().position(|at| *at == column).and_then(|row| self.rows.get(row));
        row.and_then(|row| row.get(self.width)).map_or(0.0, |amount| amount.max(0.0))
    }

    fn at(&self, row: usize, column: usize) -> f64 {
        self.rows.get(row).and_then(|row| row.get(column)).copied().unwrap_or(0.0)
    }

    /// Goes from corner to corner while one is cheaper; columns from `open` on stay out. The cost reached; `None` if it has no least.
    fn lower(&mut self, prices: &[f64], open: usize) -> Option<f64> {
        let price = |column: usize| prices.get(column).copied().unwrap_or(0.0);
        // Each step leaves a corner for good; the bound only guards against sums that no longer tell corners apart.
        for _ in 0..2_000 {
            let gain = |column: usize| {
                price(column) - self.basis.iter().enumerate().map(|(row, at)| price(*at) * self.at(row, column)).sum::<f64>()
            };
            let Some(enter) = (0..open).find(|column| !self.basis.contains(column) && gain(*column) < -NOTHING) else {
                return Some(self.basis.iter().map(|at| price(*at) * self.amount(*at)).sum());
            };
            let leave = (0..self.rows.len())
                .filter(|row| self.at(*row, enter) > NOTHING)
                .map(|row| (self.at(row, self.width) / self.at(row, enter), self.basis.get(row).copied().unwrap_or(0), row))
                .min_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)))?;
            self.turn(leave.2, enter);
        }
        None
    }

    /// Stand-ins that are left at nothing make room for amounts, where any can take their place.
    fn turn_out(&mut self, real: usize) {
        for row in 0..self.rows.len() {
            if self.basis.get(row).is_some_and(|at| *at >= real)
                && let Some(enter) = (0..real).find(|column| !self.basis.contains(column) && self.at(row, *column).abs() > NOTHING)
            {
                self.turn(row, enter);
            }
        }
    }

    fn turn(&mut self, pivot: usize, enter: usize) {
        let by = self.at(pivot, enter);
        let Some(row) = self.rows.get_mut(pivot) else { return };
        for number in row.iter_mut() {
            *number /= by;
        }
        let row = row.clone();
        for (number, other) in self.rows.iter_mut().enumerate() {
            let factor = other.get(enter).copied().unwrap_or(0.0);
            if number != pivot && factor != 0.0 {
                for (place, part) in other.iter_mut().zip(&row) {
                    *place -= factor * part;
                }
            }
        }
        if let Some(at) = self.basis.get_mut(pivot) {
            *at = enter;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn at_most(factors: &[f64], so_much: f64) -> Balance {
        Balance { factors: factors.to_vec(), exactly: false, so_much }
    }

    #[test]
    fn a_textbook_example() {
        // Hillier and Lieberman, Introduction to Operations Research, the glass works: most of 3x + 5y with x <= 4, 2y <= 12,
        // 3x + 2y <= 18 is 36, at (2, 6).
        let found = least(&[-3.0, -5.0], &[at_most(&[1.0, 0.0], 4.0), at_most(&[0.0, 2.0], 12.0), at_most(&[3.0, 2.0], 18.0)]).unwrap();
        assert!((found[0] - 2.0).abs() < 1e-9 && (found[1] - 6.0).abs() < 1e-9, "{found:?}");
    }

    #[test]
    fn one_that_runs_in_circles_without_the_rule() {
        // E. M. L. Beale, "Cycling in the dual simplex algorithm", Nav. Res. Logist. Q. 2 (1955) 269: the least is -1/20, at
        // (1/25, 0, 1, 0).
        let costs = [-0.75, 150.0, -0.02, 6.0];
        let balances =
            [at_most(&[0.25, -60.0, -0.04, 9.0], 0.0), at_most(&[0.5, -90.0, -0.02, 3.0], 0.0), at_most(&[0.0, 0.0, 1.0, 0.0], 1.0)];
        let found = least(&costs, &balances).unwrap();
        let cost: f64 = found.iter().zip(costs).map(|(amount, cost)| amount * cost).sum();
        assert!((cost + 0.05).abs() < 1e-9, "{found:?}");
    }

    #[test]
    fn balances_that_fight_have_no_answer() {
        let exactly = |factors: &[f64], so_much| Balance { factors: factors.to_vec(), exactly: true, so_much };
        assert_eq!(least(&[1.0], &[exactly(&[1.0], 3.0), at_most(&[1.0], 2.0)]), None);
        assert_eq!(least(&[1.0, 1.0], &[exactly(&[1.0, 1.0], -1.0)]), None);
        // Without an end there is no least.
        assert_eq!(least(&[-1.0], &[at_most(&[-1.0], 0.0)]), None);
    }

    proptest! {
        /// Two amounts, four fences: no point of a fine net inside the fences is cheaper.
        #[test]
        fn no_point_of_a_net_is_cheaper(
            costs in prop::array::uniform2(-5.0_f64..5.0),
            fences in prop::array::uniform4((prop::array::uniform2(-4.0_f64..4.0), 0.0_f64..9.0)),
        ) {
            let mut balances: Vec<Balance> = fences.iter().map(|(factors, so_much)| at_most(factors, *so_much)).collect();
            balances.push(at_most(&[1.0, 0.0], 5.0));
            balances.push(at_most(&[0.0, 1.0], 5.0));
            let found = least(&costs, &balances).unwrap();
            let cost = |at: &[f64]| at.iter().zip(costs).map(|(amount, cost)| amount * cost).sum::<f64>();
            let inside = |at: &[f64], slack: f64| {
                balances.iter().all(|balance| balance.factors.iter().zip(at).map(|(f, x)| f * x).sum::<f64>() <= balance.so_much + slack)
            };
            prop_assert!(inside(&found, 1e-6), "{:?}", found);
            for x in 0..=50 {
                for y in 0..=50 {
                    let at = [f64::from(x) * 0.1, f64::from(y) * 0.1];
                    prop_assert!(!inside(&at, 0.0) || cost(&at) >= cost(&found) - 1e-6, "{:?} beats {:?}", at, found);
                }
            }
        }
    }
}
