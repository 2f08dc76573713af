//! An answer as data.

use show::{
    AnswerTangleReport, EffectReport, ExactReport, FigureReport, FitReport, GroupReport, MeasureReport, NewBoardReport, ThresholdReport,
};
use statistics::{Fit, How, NoFit, Shape};
use trials::answer::{Effect, Figure, Group, Job, Measured, Test, Threshold, Verdict, Way};

pub(super) const fn verdict(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Told => "told",
        Verdict::Leans => "leans",
        Verdict::CannotTell => "cannot tell",
    }
}

pub(super) fn measure(measured: &Measured, sentence: String) -> MeasureReport {
    let lead = measured.lead.and_then(|at| measured.effects.get(at));
    MeasureReport {
        measure: measured.measure.clone(),
        kind: measured.kind.name(),
        unit: measured.unit.name(),
        boards: measured.boards,
        batches: measured.batches,
        groups: measured.groups.iter().map(group).collect(),
        effects: measured.effects.iter().map(|one| effect(one, measured)).collect(),
        exact: lead.and_then(|effect| effect.test.as_ref()).map(exact),
        tangles: measured
            .tangles
            .iter()
            .map(|tangle| AnswerTangleReport { effects: tangle.effects.clone(), text: tangle.text.clone(), add: tangle.add.clone() })
            .collect(),
        thresholds: measured.thresholds.iter().map(|one| threshold(one, measured.symbol)).collect(),
        verdict: verdict(measured.verdict),
        why: measured.refused.clone(),
        sentence,
    }
}

fn group(group: &Group) -> GroupReport {
    GroupReport {
        name: group.name.clone(),
        job: match group.job {
            Job::Recipe => "recipe",
            Job::Yardstick => "yardstick",
            Job::Witness => "witness",
        },
        boards: group.boards,
        units: group.units,
        yes: group.yes.map(|(yes, _)| yes),
        mean: group.mean,
    }
}

fn effect(effect: &Effect, measured: &Measured) -> EffectReport {
    let unit = if measured.way == Way::YesNo { "1" } else { measured.symbol };
    EffectReport {
        name: effect.name.clone(),
        from: effect.from.clone(),
        to: effect.to.clone(),
        within: effect.within.clone(),
        asked: effect.asked,
        figure: match &effect.figure {
            Ok(Figure { value, low, high }) => FigureReport { value: Some(*value), low: Some(*low), high: Some(*high), unit, why: None },
            Err(why) => FigureReport::unknown(unit, why.clone()),
        },
        odds_above_0: effect.above,
        exact: effect.test.as_ref().map(exact),
        verdict: verdict(effect.verdict),
    }
}

fn exact(test: &Test) -> ExactReport {
    let [a, b] = test.split;
    ExactReport {
        test: test.name.to_owned(),
        split: format!("{a} v {b}"),
        same_day_groups: test.groups.len(),
        p: test.p,
        least_p: test.least_p,
        arrangements: match test.how {
            How::All => "all".to_owned(),
            How::Sample { draws, seed } => format!("{draws} drawn, seed {seed}"),
        },
    }
}

fn threshold(threshold: &Threshold, unit: &'static str) -> ThresholdReport {
    let [low, value, high] = threshold.median;
    ThresholdReport {
        recipe: threshold.group.clone(),
        median: FigureReport { value: Some(value), low: Some(low), high: Some(high), unit, why: None },
        new_board: threshold.new_below.iter().map(|(at, chance)| NewBoardReport { at: *at, chance: *chance }).collect(),
        not_beyond: threshold.not_beyond,
        fits: threshold.fits.iter().zip(["log-normal", "weibull"]).map(|(fit, curve)| fitted(fit, curve)).collect(),
    }
}

fn fitted(fit: &Result<Fit, NoFit>, curve: &'static str) -> FitReport {
    match fit {
        Ok(fit) => FitReport {
            curve: match fit.shape {
                Shape::LogNormal => "log-normal",
                Shape::Weibull => "weibull",
                Shape::LogLogistic => "log-logistic",
            },
            place: Some(fit.place),
            spread: Some(fit.spread),
            log_likelihood: Some(-fit.objective),
            why: None,
        },
        Err(why) => FitReport { curve, place: None, spread: None, log_likelihood: None, why: Some(why.to_string()) },
    }
}
