//! Whether a weighed board dries as thought.

use materials::DataError;
use measure::{Grams, Hours, SquareMetres};

use crate::book::DryingBook;
use crate::course::Course;
use crate::span::Span;
use crate::spans::NINE_OF_TEN;
use crate::weighing::Weighing;

/// What is said of a board's pace.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum PaceVerdict {
    /// As thought.
    AsThought,
    /// Slower than thought: the whole span lies below 1.
    Slower,
    /// Faster than thought: the whole span lies above 1.
    Faster,
    /// The weighings tell too little yet.
    CantTell,
}

/// How fast a board dries beside what was thought.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pace {
    /// How many times faster than thought; eight of ten lie between the ends.
    pub factor: Span<f64>,
    /// In one of four words.
    pub verdict: PaceVerdict,
    /// One standard deviation of the logarithm of the factor, before and after the weighings.
    before: f64,
    after: f64,
}

/// Steps of the grid in the logarithm of the factor, and how many standard deviations of the belief it reaches to either side.
const PLACES: usize = 801;
const REACH: f64 = 5.0;
/// The tenth part of a bell curve lies so many standard deviations below its middle (tables of the normal curve).
const EIGHT_OF_TEN: f64 = 1.2816;
/// Weighings that leave more than this part of the doubt have told too little for a verdict (model choice).
const TOLD: f64 = 0.7;

/// Holds the weighings of a board so far against the course that was thought of it, on a scale that shows steps of `step`.
///
/// A board that dries `f` times faster runs through the same course `f` times sooner. Belief in ln `f` beforehand is bell-shaped about 0, nine of ten
/// within a factor of 2 (the draught); a weighing is off by the rounding of the scale and, as no board follows a law to the letter, by a twentieth of
/// the loss; what the board weighed when the coat was laid is left open. Water that bare wood drank
/// is taken along in the same pace, though the wood and not the air holds it back. Weighings count hours since the coat was laid.
///
/// # Errors
/// The data file is broken.
///
/// ```
/// # use measure::{Celsius, GramsPerMillilitre, GramsPerSquareMetre, Millimetres, RelativeHumidity, Share};
/// # use support::{Back, CoatAsked, Draught, DryingAsked, Face, GroundKind, OpenFaces, Reading, DRYING_DRAWS, drying_spans};
/// # let mm = Millimetres::new;
/// # let asked = DryingAsked { warmth: None, damp: None, draught: Draught::Room, length: mm(200.0), width: mm(250.0), thickness: mm(6.0),
/// #     open: OpenFaces::Both, back: Back::Free, face: Face::Sized, ground: GroundKind::Glue, coat: CoatAsked {
/// #     laid: Reading { value: GramsPerSquareMetre::new(200.0), within: GramsPerSquareMetre::ZERO }, density: GramsPerMillilitre::new(1.6),
/// #     solids: Share::new(0.35), packing: None } };
/// # let spans = drying_spans(&asked, DRYING_DRAWS)?;
/// use measure::{Grams, Hours, SquareMetres};
/// use support::{PaceVerdict, Weighing, pace};
/// let area = SquareMetres::new(0.05);
/// // A board that loses at half the pace.
/// let seen: Vec<Weighing> = [0.0, 0.5, 1.0].into_iter().map(Hours::new)
///     .map(|at| Weighing { at, mass: Grams::new(500.0) - spans.course.lost(at / 2.0) * area }).collect();
/// let pace = pace(&spans.course, &seen, area, Grams::new(0.1))?;
/// assert_eq!(pace.verdict, PaceVerdict::Slower);
/// assert!(pace.narrow(&spans.matt, Hours::new(1.0)).low > spans.matt.low - Hours::new(1.0));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn pace(course: &Course, weighings: &[Weighing], area: SquareMetres, step: Grams) -> Result<Pace, DataError> {
    let book = DryingBook::builtin()?;
    let (before, shape) = (book.value("pace.prior")?.ln() / NINE_OF_TEN, book.value("pace.shape")?);
    let sound = |one: &&Weighing| one.at.value().is_finite() && one.at.value() >= 0.0 && one.mass.value().is_finite();
    let seen: Vec<(f64, f64)> = weighings.iter().filter(sound).map(|one| (one.at.value(), one.mass.value())).collect();
    let usable = area.value() > 0.0 && area.value().is_finite() && step.value() > 0.0 && step.value().is_finite();
    if seen.len() < 2 || !usable {
        let reach = EIGHT_OF_TEN * before;
        let factor = Span { low: (-reach).exp(), usual: 1.0, high: reach.exp() };
        return Ok(Pace { factor, verdict: PaceVerdict::CantTell, before, after: before });
    }
    let width = 2.0 * REACH * before / (PLACES - 1) as f64;
    let place = |index: usize| -REACH * before + width * index as f64;
    // A rounded reading is off by step / sqrt(12).
    let rounding = step.value().powi(2) / 12.0;
    let log_weight = |ln_factor: f64| {
        let off = |&(at, mass): &(f64, f64)| {
            let lost = course.lost(Hours::new(at * ln_factor.exp())).value() * area.value();
            (mass + lost, rounding + (shape * lost).powi(2))
        };
        -0.5 * (ln_factor / before).powi(2) + likelihood(seen.iter().map(off))
    };
    let logs: Vec<f64> = (0..PLACES).map(|index| log_weight(place(index))).collect();
    let top = logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let weights: Vec<f64> = logs.iter().map(|log| (log - top).exp()).collect();
    let all: f64 = weights.iter().sum();
    let mean = weights.iter().enumerate().map(|(index, weight)| weight * place(index)).sum::<f64>() / all;
    let spread = weights.iter().enumerate().map(|(index, weight)| weight * (place(index) - mean).powi(2)).sum::<f64>() / all;
    // The grid itself leaves an even doubt as wide as a step.
    let after = (spread + width * width / 12.0).sqrt();
    let at = |share: f64| quantile(&weights, share * all, place, width).exp();
    let factor = Span { low: at(0.1), usual: at(0.5), high: at(0.9) };
    let verdict = if after > TOLD * before {
        PaceVerdict::CantTell
    } else if factor.high < 1.0 {
        PaceVerdict::Slower
    } else if factor.low > 1.0 {
        PaceVerdict::Faster
    } else {
        PaceVerdict::AsThought
    };
    Ok(Pace { factor, verdict, before, after })
}

/// Logarithm of the likelihood of start masses (value, variance) that should be one and the same number, which is not known.
fn likelihood(starts: impl Iterator<Item = (f64, f64)> + Clone) -> f64 {
    let (mut precision, mut sum) = (0.0, 0.0);
    for (start, variance) in starts.clone() {
        precision += 1.0 / variance;
        sum += start / variance;
    }
    let mean = sum / precision;
    let each = starts.map(|(start, variance)| (start - mean).powi(2) / variance + variance.ln()).sum::<f64>();
    -0.5 * (each + precision.ln())
}

/// The place below which this much of the weight lies, even within a step.
fn quantile(weights: &[f64], wanted: f64, place: impl Fn(usize) -> f64, width: f64) -> f64 {
    let mut below = 0.0;
    for (index, weight) in weights.iter().enumerate() {
        if *weight > 0.0 && below + weight >= wanted {
            return place(index) + width * ((wanted - below) / weight - 0.5);
        }
        below += weight;
    }
    place(weights.len().saturating_sub(1))
}

impl Pace {
    /// Time that is left from `now` (hours since the coat was laid) until an event that was thought to come at `event`.
    ///
    /// The part of the event's doubt that came from its pace gives way to what the weighings leave of it; the rest stays. For what hangs on the air: matt,
    /// the next coat, sanding. Water in a board wanders at its own pace.
    pub fn narrow(&self, event: &Span<Hours>, now: Hours) -> Span<Hours> {
        let ln = |a: Hours, b: Hours| if a.value() > 0.0 && b.value() > 0.0 { (b / a).ln() / EIGHT_OF_TEN } else { 0.0 };
        let narrowed = |all: f64| {
            let others = (all * all - self.before * self.before).max(0.0);
            // What was surer beforehand than the prior of the pace is not made less sure.
            (others + self.after * self.after).sqrt().min(all)
        };
        let (down, up) = (narrowed(ln(event.low, event.usual)), narrowed(ln(event.usual, event.high)));
        let middle = event.usual / self.factor.usual;
        let left = |time: Hours| Hours::new((time.value() - now.value()).max(0.0));
        Span { low: middle * (-EIGHT_OF_TEN * down).exp(), usual: middle, high: middle * (EIGHT_OF_TEN * up).exp() }.map(left)
    }
}

#[cfg(test)]
mod tests {
    use measure::{GramsPerSquareMetreHour, Millimetres};
    use proptest::prelude::*;

    use super::*;
    use crate::drying::{OpenFaces, Wandering, WetFilm};

    const AREA: SquareMetres = SquareMetres::new(0.05);

    /// 200 um: 72.6 g/m2 at 43.2 g/(m2 h), matt at 1.68 h.
    fn course() -> Course {
        let film = WetFilm::of(200.0, 0.35, 0.55);
        let (rate, matt) = (GramsPerSquareMetreHour::new(43.2), Hours::new(72.6 / 43.2));
        let none = measure::GramsPerSquareMetre::ZERO;
        Course::of(rate, matt, &film, none, Millimetres::new(6.0), OpenFaces::One, Wandering::new(1e-10))
    }

    fn weighed(factor: f64, times: &[f64], step: f64) -> Vec<Weighing> {
        times
            .iter()
            .map(|&t| {
                let mass = 512.37 - (course().lost(Hours::new(t * factor)) * AREA).value();
                Weighing { at: Hours::new(t), mass: Grams::new((mass / step).round() * step) }
            })
            .collect()
    }

    fn told(factor: f64, times: &[f64], step: f64) -> Pace {
        pace(&course(), &weighed(factor, times, step), AREA, Grams::new(step)).unwrap()
    }

    #[test]
    fn nothing_weighed_leaves_the_belief() {
        for times in [&[][..], &[1.0]] {
            let pace = told(1.0, times, 0.1);
            assert_eq!(pace.verdict, PaceVerdict::CantTell);
            // ln 2 / 1.645 = 0.4214; exp(1.2816 x 0.4214) = 1.716.
            assert!((pace.factor.high - 1.716).abs() < 2e-3 && (pace.factor.low * pace.factor.high - 1.0).abs() < 1e-9);
        }
    }

    #[test]
    fn a_straight_course_by_hand() {
        // Two weighings an hour apart before matt, 0.1 g steps: lost 43.2 x 0.05 = 2.16 g at pace 1, so at factor f 2.16 f. Two rounded readings are
        // off by 0.1 / sqrt(6) = 0.0408 g, the law by a twentieth of the loss: with 1.08 g seen (f = 0.5) sqrt(0.0408^2 + 0.054^2) = 0.0677 g, in f
        // 0.0677 / 2.16 = 0.0313, in ln f 0.0627. Against a belief of 0.4214 that hardly gives way: ends 0.5 exp(-+1.2816 x 0.0627) = 0.461, 0.542.
        let seen = [(0.0, 512.4), (1.0, 511.32)].map(|(at, mass)| Weighing { at: Hours::new(at), mass: Grams::new(mass) });
        let pace = pace(&course(), &seen, AREA, Grams::new(0.1)).unwrap();
        assert!((pace.factor.usual - 0.5).abs() < 0.015, "{pace:?}");
        assert!((pace.factor.low - 0.461).abs() < 0.015 && (pace.factor.high - 0.542).abs() < 0.02, "{pace:?}");
        assert_eq!(pace.verdict, PaceVerdict::Slower);
    }

    #[test]
    fn told_only_when_the_whole_span_lies_on_one_side() {
        let times = [0.0, 0.5, 1.0, 1.5];
        assert_eq!(told(0.6, &times, 0.1).verdict, PaceVerdict::Slower);
        assert_eq!(told(1.7, &times, 0.1).verdict, PaceVerdict::Faster);
        assert_eq!(told(1.0, &times, 0.1).verdict, PaceVerdict::AsThought);
        assert_eq!(told(1.03, &times, 0.01).verdict, PaceVerdict::AsThought);
        // A kitchen scale of 5 g sees nothing of 2 g.
        assert_eq!(told(0.6, &times, 5.0).verdict, PaceVerdict::CantTell);
        // Two weighings after ten minutes: too little was lost.
        assert_eq!(told(1.7, &[0.0, 0.02], 0.1).verdict, PaceVerdict::CantTell);
    }

    #[test]
    fn what_is_left_narrows() {
        let event = Span { low: Hours::new(1.0), usual: Hours::new(1.68), high: Hours::new(2.9) };
        let pace = told(0.6, &[0.0, 0.5, 1.0], 0.1);
        let left = pace.narrow(&event, Hours::new(1.0));
        // 1.68 / 0.6 = 2.8 h in all, 1.8 h from now.
        assert!((left.usual.value() - 1.8).abs() < 0.15, "{left:?}");
        assert!((left.high - left.low).value() < (event.high - event.low).value(), "{left:?}");
        assert_eq!(pace.narrow(&event, Hours::new(9.0)).high, Hours::ZERO);
    }

    #[test]
    fn what_is_no_number_is_left_out() {
        let odd = Weighing { at: Hours::new(f64::NAN), mass: Grams::new(1.0) };
        assert_eq!(pace(&course(), &[odd, odd, odd], AREA, Grams::new(0.1)).unwrap().verdict, PaceVerdict::CantTell);
        assert_eq!(pace(&course(), &weighed(1.0, &[0.0, 1.0], 0.1), AREA, Grams::ZERO).unwrap().verdict, PaceVerdict::CantTell);
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(48))]
        #[test]
        fn a_known_pace_is_found(factor in 0.5..2.0f64, times in prop::collection::vec(0.05..4.0f64, 2..6)) {
            let mut times = times;
            times.push(0.0);
            times.push(2.0);
            let pace = told(factor, &times, 0.01);
            prop_assert!(pace.factor.low <= pace.factor.usual && pace.factor.usual <= pace.factor.high);
            prop_assert!((pace.factor.usual / factor).ln().abs() < 0.15, "{pace:?}");
            prop_assert!(pace.factor.low * 0.93 <= factor && factor <= pace.factor.high * 1.07, "{pace:?}");
            let event = Span { low: Hours::new(1.0), usual: Hours::new(1.7), high: Hours::new(3.0) };
            let left = pace.narrow(&event, Hours::new(0.5));
            prop_assert!(left.low <= left.usual && left.usual <= left.high);
        }
    }
}
