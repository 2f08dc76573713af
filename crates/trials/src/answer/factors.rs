//! Settings that were varied over the boards: one difference each, days taken out, and whether one changes what another does.

use std::collections::BTreeSet;

use statistics::{Dependent, LeastSquares, dependent_columns};

use super::effects::{counts, yes_no};
use super::fitted::{fit_marked, with_range};
use super::model::{Effect, Figure, Unit, Verdict, Way};
use super::readings::Job;
use super::recipes::between;
use super::rules::Rules;
use super::test::{agreement, exact, sides};
use super::thresholds::Believed;

/// A setting and its levels in order.
pub(super) struct Factor {
    pub(super) at: usize,
    pub(super) name: String,
    pub(super) levels: Vec<String>,
    numbers: Option<Vec<f64>>,
}

/// More columns than these can't be parted by any trial that a workshop makes.
const MOST_COLUMNS: usize = 40;

/// Words that name the lower of two settings.
const LOWER: [&str; 11] = ["no", "none", "without", "low", "little", "less", "few", "thin", "small", "short", "half"];

/// The word between lower and higher.
const USUAL: &str = "usual";

impl Factor {
    fn of(at: usize, name: &str, rows: &[&Unit]) -> Self {
        let found: BTreeSet<&str> = rows.iter().filter_map(|unit| unit.settings.get(at)).map(String::as_str).collect();
        let mut levels: Vec<String> = found.into_iter().map(str::to_owned).collect();
        let numbers: Option<Vec<f64>> = levels.iter().map(|level| level.parse::<f64>().ok().filter(|x| x.is_finite())).collect();
        if let Some(numbers) = &numbers {
            let mut both: Vec<(f64, String)> = numbers.iter().copied().zip(levels).collect();
            both.sort_by(|a, b| a.0.total_cmp(&b.0));
            let (numbers, levels) = both.into_iter().unzip();
            return Self { at, name: name.to_owned(), levels, numbers: Some(numbers) };
        }
        let rank = |level: &str| if LOWER.contains(&level) { 0 } else { 1 + u8::from(level != USUAL) };
        levels.sort_by_key(|level| (rank(&level.to_lowercase()), level.clone()));
        Self { at, name: name.to_owned(), levels, numbers: None }
    }

    pub(super) fn level<'u>(&self, unit: &'u Unit) -> &'u str {
        unit.settings.get(self.at).map_or("", String::as_str)
    }

    /// One column from -1 to 1 for two levels or numbers; else one of 0 and 1 for each level but the first.
    fn columns(&self, rows: &[&Unit]) -> Vec<Vec<f64>> {
        let index = |unit: &Unit| self.levels.iter().position(|level| level == self.level(unit));
        if let Some(numbers) = &self.numbers {
            let (low, high) = (numbers.first().copied().unwrap_or(0.0), numbers.last().copied().unwrap_or(1.0));
            let coded = |unit: &Unit| index(unit).and_then(|at| numbers.get(at)).map_or(0.0, |x| 2.0 * (x - low) / (high - low) - 1.0);
            return vec![rows.iter().map(|unit| coded(unit)).collect()];
        }
        if self.levels.len() == 2 {
            return vec![rows.iter().map(|unit| if index(unit) == Some(0) { -1.0 } else { 1.0 }).collect()];
        }
        (1..self.levels.len()).map(|level| rows.iter().map(|unit| f64::from(u8::from(index(unit) == Some(level)))).collect()).collect()
    }

    fn one_column(&self) -> bool {
        self.numbers.is_some() || self.levels.len() == 2
    }
}

/// What a column of the design stands for.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Stands {
    Constant,
    Factor(usize),
    Day,
    Crossed,
}

/// The settings, the boards that have them all, and the columns.
pub(super) struct Design<'a> {
    pub(super) factors: Vec<Factor>,
    pub(super) rows: Vec<&'a Unit>,
    pub(super) dependent: Vec<(Dependent, Vec<Stands>)>,
    columns: Vec<(Stands, Vec<f64>)>,
    fit: Option<LeastSquares>,
}

impl<'a> Design<'a> {
    pub(super) fn of(units: &'a [Unit], names: &[String], varying: &[usize], way: Way) -> Self {
        let whole = |unit: &&Unit| {
            unit.job == Job::Recipe && varying.iter().all(|&at| unit.settings.get(at).is_some_and(|level| !level.is_empty()))
        };
        let rows: Vec<&Unit> = units.iter().filter(whole).collect();
        let factors: Vec<Factor> =
            varying.iter().filter_map(|&at| Some(Factor::of(at, names.get(at)?, &rows))).filter(|factor| factor.levels.len() > 1).collect();
        let width: usize = factors.iter().map(|factor| if factor.one_column() { 1 } else { factor.levels.len() - 1 }).sum();
        if width > MOST_COLUMNS {
            return Self { factors: Vec::new(), rows, dependent: Vec::new(), columns: Vec::new(), fit: None };
        }
        let mut columns = vec![(Stands::Constant, vec![1.0; rows.len()])];
        for (index, factor) in factors.iter().enumerate() {
            columns.extend(factor.columns(&rows).into_iter().map(|column| (Stands::Factor(index), column)));
        }
        let days: BTreeSet<&str> = rows.iter().map(|unit| unit.day.as_str()).collect();
        for day in days.iter().skip(1) {
            columns.push((Stands::Day, rows.iter().map(|unit| f64::from(u8::from(unit.day == *day))).collect()));
        }
        let plain: Vec<Vec<f64>> = columns.iter().map(|(_, column)| column.clone()).collect();
        let found = dependent_columns(&plain);
        let stands = |at: usize| columns.get(at).map_or(Stands::Constant, |(stands, _)| *stands);
        let dependent: Vec<(Dependent, Vec<Stands>)> = found
            .into_iter()
            .map(|one| {
                let involved = std::iter::once(one.column).chain(one.made_of.iter().map(|(at, _)| *at)).map(stands).collect();
                (one, involved)
            })
            .collect();
        let gone: Vec<usize> = dependent.iter().map(|(one, _)| one.column).collect();
        let mut index = 0;
        columns.retain(|_| {
            index += 1;
            !gone.contains(&(index - 1))
        });
        let mut design = Self { factors, rows, dependent, columns, fit: None };
        if matches!(way, Way::Plain | Way::Class) {
            design.cross();
            let values: Vec<f64> = design.rows.iter().map(|unit| unit.seen.low).collect();
            let plain: Vec<Vec<f64>> = design.columns.iter().map(|(_, column)| column.clone()).collect();
            design.fit = fit_marked(&plain, &values).ok();
        }
        design
    }

    /// Adds the product of two settings where the boards can carry it.
    fn cross(&mut self) {
        let [a, b] = self.factors.as_slice() else { return };
        let column = |index: usize| self.columns.iter().find(|(stands, _)| *stands == Stands::Factor(index)).map(|(_, column)| column);
        let (true, true, Some(x), Some(y)) = (a.one_column(), b.one_column(), column(0), column(1)) else { return };
        let product: Vec<f64> = x.iter().zip(y).map(|(x, y)| x * y).collect();
        let mut with: Vec<Vec<f64>> = self.columns.iter().map(|(_, column)| column.clone()).collect();
        with.push(product.clone());
        if self.rows.len() > with.len() && dependent_columns(&with).is_empty() {
            self.columns.push((Stands::Crossed, product));
        }
    }

    pub(super) fn tangled(&self, factor: usize) -> bool {
        self.dependent.iter().any(|(_, stands)| stands.contains(&Stands::Factor(factor)))
    }

    /// Weights of the columns that stand for this, each with its own weight.
    fn weights(&self, parts: &[(Stands, f64)]) -> Vec<f64> {
        self.columns.iter().map(|(stands, _)| parts.iter().find(|(part, _)| part == stands).map_or(0.0, |(_, weight)| *weight)).collect()
    }

    fn fitted(&self, parts: &[(Stands, f64)], level: f64) -> Result<(Figure, Option<f64>), String> {
        let fit = self.fit.as_ref().ok_or("too few boards for so many settings and days; make repeat boards")?;
        with_range(fit, &self.weights(parts), level)
    }

    /// The differences: one a setting, what two settings do together, between two days.
    pub(super) fn effects(&self, way: Way, believed: Option<&Believed>, rules: &Rules) -> Vec<Effect> {
        let mut effects = Vec::new();
        for (index, factor) in self.factors.iter().enumerate() {
            let ends: Vec<&String> =
                if factor.one_column() { factor.levels.last().into_iter().collect() } else { factor.levels.iter().skip(1).collect() };
            for to in ends {
                effects.push(self.one(way, index, to, believed, rules));
            }
        }
        if let ([a, b], true) = (self.factors.as_slice(), self.columns.iter().any(|(stands, _)| *stands == Stands::Crossed)) {
            let crossed = self.fitted(&[(Stands::Crossed, 2.0)], rules.range_level);
            let large = crossed.as_ref().is_ok_and(|(figure, _)| figure.low > 0.0 || figure.high < 0.0);
            effects.push(beside(format!("{} with {}", a.name, b.name), String::new(), String::new(), crossed));
            if large {
                for (index, factor, other) in [(0, a, b), (1, b, a)] {
                    for (level, sign) in [(other.levels.first(), -2.0), (other.levels.last(), 2.0)] {
                        let found = self.fitted(&[(Stands::Factor(index), 2.0), (Stands::Crossed, sign)], rules.range_level);
                        let ends = (factor.levels.first().cloned().unwrap_or_default(), factor.levels.last().cloned().unwrap_or_default());
                        let mut effect = beside(factor.name.clone(), ends.0, ends.1, found);
                        effect.within = level.cloned().unwrap_or_default();
                        effects.push(effect);
                    }
                }
            }
        }
        let days: Vec<&str> = self.rows.iter().map(|unit| unit.day.as_str()).collect::<BTreeSet<_>>().into_iter().collect();
        if let ([first, second], true, true) =
            (days.as_slice(), self.fit.is_some(), self.columns.iter().any(|(stands, _)| *stands == Stands::Day))
        {
            effects.push(beside("day".into(), (*first).into(), (*second).into(), self.fitted(&[(Stands::Day, 1.0)], rules.range_level)));
        }
        effects
    }

    fn one(&self, way: Way, index: usize, to: &str, believed: Option<&Believed>, rules: &Rules) -> Effect {
        let Some(factor) = self.factors.get(index) else { return beside(String::new(), String::new(), to.into(), Err(String::new())) };
        let from = factor.levels.first().map_or("", String::as_str);
        let of = |level: &str| self.rows.iter().copied().filter(|unit| factor.level(unit) == level).collect::<Vec<&Unit>>();
        let (a, b) = (of(from), of(to));
        let others = |unit: &Unit| {
            let rest: Vec<String> =
                self.factors.iter().filter(|other| other.at != factor.at).map(|other| other.level(unit).to_owned()).collect();
            (unit.day.clone(), rest)
        };
        let mut strata = sides(&a, &b, others);
        if strata.is_empty() {
            strata = sides(&a, &b, |unit| (unit.day.clone(), Vec::<String>::new()));
        }
        let found = if self.tangled(index) {
            Err("it can't be parted from what moved with it".to_owned())
        } else {
            match (way, believed) {
                (Way::YesNo, _) => yes_no(&a, &b, rules),
                (Way::Plain | Way::Class, _) => {
                    // Of several levels that have a column each, only the one asked for counts.
                    let weight = if factor.one_column() { 2.0 } else { 1.0 };
                    if factor.one_column() {
                        self.fitted(&[(Stands::Factor(index), weight)], rules.range_level)
                    } else {
                        self.level_difference(index, to, rules)
                    }
                }
                (Way::Stair { measured: false }, _) => {
                    Err("no strip's thickness is written down; weigh the board after every coat and add the thickness of each strip".into())
                }
                (_, Some(believed)) => between([a.len(), b.len()], believed.after(&a).as_ref(), believed.after(&b).as_ref(), rules),
                _ => Err("no board was seen between two marks".into()),
            }
        };
        let mut effect = beside(factor.name.clone(), from.to_owned(), to.to_owned(), found);
        effect.asked = true;
        effect.counts = (way == Way::YesNo).then(|| [counts(&a), counts(&b)]);
        effect.units = [a.len(), b.len()];
        effect.test = exact(way, &strata, rules);
        effect.agree = agreement(way, &strata);
        effect
    }

    fn level_difference(&self, index: usize, to: &str, rules: &Rules) -> Result<(Figure, Option<f64>), String> {
        let fit = self.fit.as_ref().ok_or("too few boards for so many settings and days; make repeat boards")?;
        let place = self.factors.get(index).and_then(|factor| factor.levels.iter().position(|level| level == to)).unwrap_or(0);
        let mut seen = 0;
        let weights: Vec<f64> = self
            .columns
            .iter()
            .map(|(stands, _)| {
                let own = *stands == Stands::Factor(index);
                seen += usize::from(own);
                f64::from(u8::from(own && seen == place))
            })
            .collect();
        with_range(fit, &weights, rules.range_level)
    }
}

/// A difference that stands beside and is not asked.
fn beside(name: String, from: String, to: String, found: Result<(Figure, Option<f64>), String>) -> Effect {
    let (figure, above) = match found {
        Ok((figure, above)) => (Ok(figure), above),
        Err(why) => (Err(why), None),
    };
    let within = String::new();
    Effect {
        name,
        from,
        to,
        within,
        asked: false,
        counts: None,
        units: [0, 0],
        figure,
        above,
        test: None,
        agree: (0, 0),
        rests_on_belief: false,
        verdict: Verdict::CannotTell,
    }
}
