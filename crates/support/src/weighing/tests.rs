use proptest::prelude::*;

use super::*;

fn seen(points: &[(f64, f64)]) -> Vec<Weighing> {
    points.iter().map(|&(at, mass)| Weighing { at: Hours::new(at), mass: Grams::new(mass) }).collect()
}

const TENTH: Grams = Grams::new(0.1);

#[test]
fn a_curve_worked_by_hand() {
    // Every 10 h what is left halves: 516, 508, 504, 502, 501 g. End 500, tau = 10 / ln 2 = 14.427 h.
    let fit = fit_drying(&seen(&[(30.0, 502.0), (0.0, 516.0), (10.0, 508.0), (40.0, 501.0), (20.0, 504.0)]), TENTH).unwrap();
    assert!((fit.tau.usual.value() - 14.427).abs() < 1e-3 && (fit.end.usual.value() - 500.0).abs() < 1e-6, "{fit:?}");
    assert!((fit.left.value() - 1.0).abs() < 1e-6 && (fit.at_start.value() - 16.0).abs() < 1e-6 && fit.worst.value() < 1e-6);
    assert!((fit.mass(Hours::new(50.0)).value() - 500.5).abs() < 1e-6);
    // Half a gram left ten hours after the last weighing, a quarter after twenty.
    assert!((fit.left_below(Grams::new(0.25)).value() - 60.0).abs() < 1e-2);
    assert_eq!(fit.left_below(Grams::new(5.0)), Hours::new(40.0));
    // The step of the scale alone leaves some doubt.
    assert!(fit.end.low < fit.end.usual && fit.tau.high > fit.tau.usual);
}

#[test]
fn what_cannot_be_told_yet() {
    let why = |points: &[(f64, f64)]| fit_drying(&seen(points), TENTH).unwrap_err();
    assert_eq!(why(&[]), CantTell::TooFew { have: 0, need: 4 });
    assert_eq!(why(&[(0.0, 516.0), (10.0, 508.0), (20.0, 504.0)]), CantTell::TooFew { have: 3, need: 4 });
    assert_eq!(why(&[(0.0, 516.0), (0.0, 516.1), (10.0, 508.0), (20.0, 504.0)]), CantTell::TooFew { have: 3, need: 4 });
    assert_eq!(why(&[(0.0, 500.3), (1.0, 500.2), (2.0, 500.1), (3.0, 500.1)]), CantTell::ScaleTooCoarse { wait: None });
    assert_eq!(why(&[(0.0, 516.0), (1.0, 515.0), (2.0, 514.0), (3.0, 513.0)]), CantTell::StillStraight);
    assert_eq!(why(&[(0.0, 500.0), (1.0, 501.0), (2.0, 502.0), (3.0, 502.5)]), CantTell::Gained);
    assert_eq!(why(&[(0.0, f64::NAN), (1.0, 501.0), (2.0, 502.0), (3.0, 502.5)]), CantTell::NoNumber);
    assert_eq!(fit_drying(&seen(&[(0.0, 1.0)]), Grams::ZERO), Err(CantTell::NoNumber));
}

#[test]
fn steady_by_the_hour() {
    let rule = SteadyRule::to_sand().unwrap();
    let area = SquareMetres::new(0.05);
    let verdict = |points: &[(f64, f64)], step: f64| steady(&seen(points), rule, area, Grams::new(step));
    // 0.5 g/m2 an hour on 0.05 m2 are 0.025 g an hour.
    assert_eq!(verdict(&[(0.0, 500.00), (2.0, 499.98)], 0.01), Steady::Dry); // 0.02 + 0.01 <= 0.05
    assert!(matches!(verdict(&[(0.0, 500.00), (2.0, 499.95)], 0.01), Steady::NotYet { .. })); // 0.05 + 0.01 > 0.05
    // 2.2 h let 0.055 g pass: 0.05 g seen on steps of 0.01 g may be more than that.
    assert!(matches!(verdict(&[(0.0, 500.00), (2.2, 499.95)], 0.01), Steady::NotYet { .. }));
    assert!(matches!(verdict(&[(0.0, 500.0), (2.0, 499.0)], 0.1), Steady::NotYet { lost, .. } if (lost.value() - 1.0).abs() < 1e-9));
    // A tenth of a gram is four hours' worth: two hours on such a scale tell nothing, four would.
    let Steady::CantTell { why: CantTell::ScaleTooCoarse { wait: Some(wait) } } = verdict(&[(0.0, 500.0), (2.0, 500.0)], 0.1) else {
        panic!("{:?}", verdict(&[(0.0, 500.0), (2.0, 500.0)], 0.1))
    };
    assert!((wait.value() - 4.0).abs() < 1e-9);
    assert_eq!(verdict(&[(0.0, 500.0), (4.0, 500.0)], 0.1), Steady::Dry);
    // The last weighing is held against the latest that is old enough.
    assert_eq!(verdict(&[(0.0, 510.0), (4.0, 500.0), (8.0, 500.0), (8.5, 500.0)], 0.1), Steady::Dry);
    let why = |points: &[(f64, f64)]| match verdict(points, 0.1) {
        Steady::CantTell { why } => why,
        other => panic!("{other:?}"),
    };
    assert_eq!(why(&[(0.0, 500.0)]), CantTell::TooFew { have: 1, need: 2 });
    assert_eq!(why(&[(0.0, 500.0), (1.0, 500.0)]), CantTell::TooSoon { need: Hours::new(2.0) });
    assert_eq!(why(&[(0.0, 500.0), (4.0, 501.0)]), CantTell::Gained);
}

#[test]
fn steady_by_the_day() {
    // 0.1 % of 500 g are 0.5 g in 24 h, 1 g in 48 h.
    let rule = SteadyRule::to_test().unwrap();
    let verdict = |points: &[(f64, f64)]| steady(&seen(points), rule, SquareMetres::new(0.05), TENTH);
    assert_eq!(verdict(&[(0.0, 500.0), (24.0, 499.6)]), Steady::Dry);
    assert!(matches!(verdict(&[(0.0, 500.0), (24.0, 499.3)]), Steady::NotYet { .. }));
    assert_eq!(verdict(&[(0.0, 500.0), (48.0, 499.2)]), Steady::Dry);
    assert_eq!(verdict(&[(0.0, 500.0), (23.0, 500.0)]), Steady::CantTell { why: CantTell::TooSoon { need: Hours::new(24.0) } });
}

proptest! {
    #[test]
    fn a_known_curve_is_found_again(
        end in 50.0..3000.0f64, height in 2.0..80.0f64, tau in 0.5..100.0f64, start in 0.0..200.0f64,
        places in prop::collection::vec(0.0..1.0f64, 4..12), reach in 1.0..4.0f64,
    ) {
        let mut places = places;
        places.extend([0.0, 0.5, 1.0]);
        let points: Vec<(f64, f64)> = places
            .iter()
            .map(|share| share * reach * tau)
            .map(|t| (start + t, end + height * (-t / tau).exp()))
            .collect();
        let fit = fit_drying(&seen(&points), Grams::new(0.01)).unwrap();
        prop_assert!((fit.tau.usual.value() / tau - 1.0).abs() < 1e-3, "{fit:?}");
        prop_assert!((fit.end.usual.value() - end).abs() < 1e-2 * height, "{fit:?}");
        prop_assert!(fit.tau.low <= fit.tau.usual && fit.tau.usual <= fit.tau.high);
        prop_assert!(fit.end.low <= fit.end.usual && fit.end.usual <= fit.end.high);
    }

    #[test]
    fn whatever_is_weighed_it_answers(points in prop::collection::vec((-10.0..500.0f64, 0.0..2000.0f64), 0..10), step in 0.0..2.0f64) {
        let _ = fit_drying(&seen(&points), Grams::new(step));
        let _ = steady(&seen(&points), SteadyRule::to_sand().unwrap(), SquareMetres::new(0.05), Grams::new(step));
    }
}
