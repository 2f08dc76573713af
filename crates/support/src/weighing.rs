//! What weighings of one board tell: how far its drying has come, and whether it is dry.

use materials::DataError;
use measure::{Grams, GramsPerSquareMetreHour, Hours, SquareMetres};
use statrs::distribution::{ContinuousCDF, StudentsT};

use crate::book::DryingBook;
use crate::span::Span;

/// One weighing of a board.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Weighing {
    /// Hours since the coat was laid, or since any other moment that is the same for all weighings of the board.
    pub at: Hours,
    /// What the scale said.
    pub mass: Grams,
}

/// Why weighings don't tell.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum CantTell {
    /// Fewer weighings at different times than it takes.
    TooFew {
        /// So many are there.
        have: usize,
        /// So many it takes.
        need: usize,
    },
    /// Time or mass of one is no number, or the scale's step is not above 0.
    NoNumber,
    /// The board lost less than the scale can show.
    ScaleTooCoarse {
        /// Hours between two weighings from which on this scale would show it, where that can be said.
        wait: Option<Hours>,
    },
    /// The curve is still so straight that its end can't be seen.
    StillStraight,
    /// The board grew heavier: it takes damp from the air, or another board was weighed.
    Gained,
    /// The last two weighings lie too close together.
    TooSoon {
        /// Least time between them.
        need: Hours,
    },
}

/// How a board dries, by its weighings: mass = end + A exp(-t / tau).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DryingFit {
    /// What it will weigh.
    pub end: Span<Grams>,
    /// Time in which what it has to lose sinks to 37 %.
    pub tau: Span<Hours>,
    /// What it had to lose at time 0.
    pub at_start: Grams,
    /// What it still has to lose at the last weighing.
    pub left: Grams,
    /// Time of the last weighing.
    pub last: Hours,
    /// Largest distance of a weighing from the curve.
    pub worst: Grams,
}

impl DryingFit {
    /// Mass at this time after the curve.
    pub fn mass(&self, at: Hours) -> Grams {
        self.end.usual + self.at_start * (-(at / self.tau.usual)).exp()
    }

    /// When no more than this is left to lose, at the best tau: never before the last weighing.
    pub fn left_below(&self, grams: Grams) -> Hours {
        if grams.value() <= 0.0 {
            return Hours::new(f64::INFINITY);
        }
        self.last + self.tau.usual * (self.left / grams).ln().max(0.0)
    }
}

/// Fewest weighings for three unknowns and one to check them by.
const FEWEST: usize = 4;
/// The board must have lost this many steps of the scale between first and last weighing (model choice).
const STEPS: f64 = 6.0;
/// A curve that sinks to 37 % only after this many times the time watched has an end that nobody can see (model choice).
const STRAIGHT: f64 = 2.0;

/// Least squares through the weighings of one board (any order), on a scale that shows steps of `step`.
///
/// For each tau the two other unknowns follow in closed form; tau is searched on a line, first coarsely, then by golden section.
///
/// # Errors
/// Says why it can't be told yet.
///
/// ```
/// use measure::{Grams, Hours};
/// use support::{Weighing, fit_drying};
/// // 500 g + 20 g exp(-t / 10 h), by hand: 520.0, 512.1, 507.4, 502.7, 500.5.
/// let seen = [(0.0, 520.0), (5.0, 512.1), (10.0, 507.4), (20.0, 502.7), (37.0, 500.5)]
///     .map(|(at, mass)| Weighing { at: Hours::new(at), mass: Grams::new(mass) });
/// let fit = fit_drying(&seen, Grams::new(0.1)).unwrap();
/// assert!((fit.tau.usual.value() - 10.0).abs() < 0.2 && (fit.end.usual.value() - 500.0).abs() < 0.1);
/// ```
pub fn fit_drying(weighings: &[Weighing], step: Grams) -> Result<DryingFit, CantTell> {
    let seen = in_order(weighings, step)?;
    let times = 1 + seen.windows(2).filter(|pair| matches!(pair, [a, b] if b.at > a.at)).count();
    if times < FEWEST {
        return Err(CantTell::TooFew { have: times.min(seen.len()), need: FEWEST });
    }
    let (Some(first), Some(last)) = (seen.first(), seen.last()) else { return Err(CantTell::TooFew { have: 0, need: FEWEST }) };
    let lost = (first.mass - last.mass).value();
    if lost <= -2.0 * step.value() {
        return Err(CantTell::Gained);
    }
    if lost < STEPS * step.value() {
        return Err(CantTell::ScaleTooCoarse { wait: None });
    }
    let (origin, span) = (first.at.value(), (last.at - first.at).value());
    let points: Vec<(f64, f64)> = seen.iter().map(|one| (one.at.value() - origin, one.mass.value())).collect();
    let ln_tau = lowest((span / 100.0).ln(), (span * 50.0).ln(), |ln_tau| Line::of(&points, ln_tau.exp()).miss);
    let tau = ln_tau.exp();
    let line = Line::of(&points, tau);
    if tau > STRAIGHT * span {
        return Err(CantTell::StillStraight);
    }
    if line.height <= 0.0 {
        return Err(CantTell::Gained);
    }
    let (end_off, ln_tau_off) = doubt(&points, &line, tau, step.value()).ok_or(CantTell::StillStraight)?;
    let (end, height) = (line.end, line.height);
    Ok(DryingFit {
        end: Span { low: end - end_off, usual: end, high: end + end_off }.map(|grams| Grams::new(grams.max(0.0))),
        tau: Span { low: tau * (-ln_tau_off).exp(), usual: tau, high: tau * ln_tau_off.exp() }.map(Hours::new),
        at_start: Grams::new(height * (origin / tau).exp()),
        left: Grams::new(height * (-span / tau).exp()),
        last: last.at,
        worst: Grams::new(points.iter().map(|&(t, mass)| (mass - line.at(t, tau)).abs()).fold(0.0, f64::max)),
    })
}

/// Sorted by time; refuses what is no number.
fn in_order(weighings: &[Weighing], step: Grams) -> Result<Vec<Weighing>, CantTell> {
    let sound = |one: &Weighing| one.at.value().is_finite() && one.mass.value().is_finite();
    if !weighings.iter().all(sound) || !step.value().is_finite() || step.value() <= 0.0 {
        return Err(CantTell::NoNumber);
    }
    let mut seen = weighings.to_vec();
    seen.sort_by(|a, b| a.at.value().total_cmp(&b.at.value()));
    Ok(seen)
}

/// End and height for one tau, and the sum of squares that they leave.
struct Line {
    end: f64,
    height: f64,
    miss: f64,
}

impl Line {
    fn of(points: &[(f64, f64)], tau: f64) -> Self {
        let count = points.len() as f64;
        let basis = |t: f64| (-t / tau).exp();
        let mean_basis = points.iter().map(|&(t, _)| basis(t)).sum::<f64>() / count;
        let mean_mass = points.iter().map(|&(_, mass)| mass).sum::<f64>() / count;
        let (mut cross, mut square) = (0.0, 0.0);
        for &(t, mass) in points {
            let off = basis(t) - mean_basis;
            cross += off * (mass - mean_mass);
            square += off * off;
        }
        let height = if square > 0.0 { cross / square } else { 0.0 };
        let mut line = Self { end: mean_mass - height * mean_basis, height, miss: 0.0 };
        line.miss = points.iter().map(|&(t, mass)| (mass - line.at(t, tau)).powi(2)).sum();
        line
    }

    fn at(&self, t: f64, tau: f64) -> f64 {
        self.end + self.height * (-t / tau).exp()
    }
}

/// Where a function on a line is lowest: the best of many even places, then golden section between its neighbours.
fn lowest(from: f64, to: f64, of: impl Fn(f64) -> f64) -> f64 {
    const PLACES: usize = 160;
    let width = (to - from) / PLACES as f64;
    let place = |index: usize| from + width * index as f64;
    let best = (0..=PLACES).min_by(|&a, &b| of(place(a)).total_cmp(&of(place(b)))).unwrap_or(0);
    let (mut low, mut high) = (place(best) - width, place(best) + width);
    let golden = f64::midpoint(5f64.sqrt(), -1.0);
    let (mut a, mut b) = (high - golden * (high - low), low + golden * (high - low));
    let (mut at_a, mut at_b) = (of(a), of(b));
    for _ in 0..60 {
        if at_a < at_b {
            (high, b, at_b) = (b, a, at_a);
            a = high - golden * (high - low);
            at_a = of(a);
        } else {
            (low, a, at_a) = (a, b, at_b);
            b = low + golden * (high - low);
            at_b = of(b);
        }
    }
    f64::midpoint(low, high)
}

/// Half-widths of the ranges of the end (g) and of ln tau that hold eight of ten, by the usual linear theory about the best curve. The scale's
/// step sets the least error of a weighing; with few weighings the range is wider (Student).
fn doubt(points: &[(f64, f64)], line: &Line, tau: f64, step: f64) -> Option<(f64, f64)> {
    let free = points.len() as f64 - 3.0;
    // A rounded reading is off by step / sqrt(12).
    let error = (line.miss / free).sqrt().max(step / 12f64.sqrt());
    let mut normal = [[0.0; 3]; 3];
    for &(t, _) in points {
        let basis = (-t / tau).exp();
        let slopes = [1.0, basis, line.height * basis * t / tau];
        for (row, a) in normal.iter_mut().zip(slopes) {
            for (cell, b) in row.iter_mut().zip(slopes) {
                *cell += a * b;
            }
        }
    }
    // Unknowns in the order end, height, ln tau. Of the inverse of a symmetric 3 x 3 only two corners are wanted: cofactors over the determinant.
    let [[n11, n12, n13], [_, n22, n23], [_, _, n33]] = normal;
    let of_end = n22 * n33 - n23 * n23;
    let determinant = n11 * of_end - n12 * (n12 * n33 - n23 * n13) + n13 * (n12 * n23 - n22 * n13);
    let (end, ln_tau) = (of_end / determinant, (n11 * n22 - n12 * n12) / determinant);
    let reach = StudentsT::new(0.0, 1.0, free).ok()?.inverse_cdf(0.9) * error;
    let found = (reach * end.sqrt(), reach * ln_tau.sqrt());
    (found.0.is_finite() && found.1.is_finite()).then_some(found)
}

/// When a board counts as steady.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SteadyRule {
    /// It loses less than this, between weighings at least so far apart.
    Rate {
        /// Loss on a square metre in an hour.
        below: GramsPerSquareMetreHour,
        /// Least time between the two weighings.
        over: Hours,
    },
    /// Its mass changes in a day by less than this, in per cent of the mass.
    Day {
        /// Per cent.
        percent: f64,
    },
}

impl SteadyRule {
    /// Less than 0.5 g/m2 an hour over two hours at least (judgement, no source).
    ///
    /// # Errors
    /// The data file is broken.
    pub fn to_sand() -> Result<Self, DataError> {
        let book = DryingBook::builtin()?;
        let below = GramsPerSquareMetreHour::new(book.value("steady.rate")?);
        Ok(Self::Rate { below, over: Hours::new(book.value("steady.over")?) })
    }

    /// Less than 0.1 % of its mass in a day (constant mass of wood tests, from memory; the day is a judgement).
    ///
    /// # Errors
    /// The data file is broken.
    pub fn to_test() -> Result<Self, DataError> {
        Ok(Self::Day { percent: DryingBook::builtin()?.value("steady.day")? })
    }

    fn over(&self) -> Hours {
        match self {
            Self::Rate { over, .. } => *over,
            Self::Day { .. } => Hours::new(crate::drying::HOURS_OF_DAY),
        }
    }

    /// Grams that may go in this time.
    fn limit(&self, area: SquareMetres, mass: Grams, time: Hours) -> f64 {
        match self {
            Self::Rate { below, .. } => (*below * time * area).value(),
            Self::Day { percent } => percent / 100.0 * mass.value() * time.value() / crate::drying::HOURS_OF_DAY,
        }
    }
}

/// Whether a board is dry.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Steady {
    /// It is steady.
    Dry,
    /// It still loses.
    NotYet {
        /// Lost between the two weighings.
        lost: Grams,
        /// What may go in that time.
        limit: Grams,
        /// Time between them.
        over: Hours,
    },
    /// It can't be told.
    CantTell {
        /// Why.
        why: CantTell,
    },
}

/// Whether a board is dry by this rule: its last weighing against the latest one that is old enough. The scale's step counts against it:
/// a loss that might be larger than the limit is not steady.
///
/// ```
/// use measure::{Grams, Hours, SquareMetres};
/// use support::{Steady, SteadyRule, Weighing, steady};
/// let seen = [(20.0, 512.40), (24.0, 512.37)].map(|(at, mass)| Weighing { at: Hours::new(at), mass: Grams::new(mass) });
/// // 20 x 25 cm: 0.5 g/m2 an hour are 0.1 g in four hours.
/// assert_eq!(steady(&seen, SteadyRule::to_sand()?, SquareMetres::new(0.05), Grams::new(0.01)), Steady::Dry);
/// # Ok::<(), materials::DataError>(())
/// ```
pub fn steady(weighings: &[Weighing], rule: SteadyRule, area: SquareMetres, step: Grams) -> Steady {
    let cant = |why| Steady::CantTell { why };
    let seen = match in_order(weighings, step) {
        Ok(seen) => seen,
        Err(why) => return cant(why),
    };
    let (Some(last), true) = (seen.last(), seen.len() >= 2) else { return cant(CantTell::TooFew { have: seen.len(), need: 2 }) };
    // A thousandth of an hour is nothing to a painter who waited two hours.
    let old_enough = |one: &&Weighing| (last.at - one.at).value() >= rule.over().value() - 1e-3;
    let Some(before) = seen.iter().rev().find(old_enough) else { return cant(CantTell::TooSoon { need: rule.over() }) };
    let over = last.at - before.at;
    let limit = rule.limit(area, before.mass, over);
    let lost = (before.mass - last.mass).value();
    if !limit.is_finite() || limit <= 0.0 {
        return cant(CantTell::NoNumber);
    }
    if lost > limit {
        return Steady::NotYet { lost: Grams::new(lost), limit: Grams::new(limit), over };
    }
    if -lost > limit + step.value() {
        return cant(CantTell::Gained);
    }
    if step.value() > limit {
        return cant(CantTell::ScaleTooCoarse { wait: Some(over * (step.value() / limit)) });
    }
    if lost + step.value() <= limit * (1.0 + 1e-9) {
        Steady::Dry
    } else {
        Steady::NotYet { lost: Grams::new(lost), limit: Grams::new(limit), over }
    }
}

#[cfg(test)]
mod tests;
