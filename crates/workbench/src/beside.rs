//! Two recipes side by side, with the difference in words.

use show::{Card, number, times};

use crate::verdict::{Standing, TextError, VerdictRequest, Worked};
use crate::{Workbench, verdict};

/// Two recipes.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct BesideRequest {
    /// The first.
    pub left: VerdictRequest,
    /// The second.
    pub right: VerdictRequest,
}

/// Two cards and what parts them.
#[derive(Debug, Clone, PartialEq)]
pub struct Beside {
    /// The first card.
    pub left: Card,
    /// The second card.
    pub right: Card,
    /// The difference in sentences, the most telling first.
    pub differences: Vec<String>,
}

/// Draws must agree in at least this share before one recipe is called the richer (model choice).
const AGREE: f64 = 0.9;

impl Workbench {
    /// Two verdicts beside each other. Both use the same draws, so what they share drops out of the difference.
    ///
    /// # Errors
    /// As [`Workbench::verdict`], for either text.
    pub fn beside(&self, request: &BesideRequest) -> Result<Beside, TextError> {
        let (left, right) = (self.work(&request.left)?, self.work(&request.right)?);
        let differences = differences(&left, &right);
        Ok(Beside { left: self.card(&request.left, &left), right: self.card(&request.right, &right), differences })
    }
}

fn differences(left: &Worked, right: &Worked) -> Vec<String> {
    let lacking: Vec<String> = [("first", left), ("second", right)]
        .into_iter()
        .filter_map(|(which, worked)| match (&worked.standing, &worked.ranges) {
            (Standing::NoFilm(why), _) => Some(format!("The {which} can't be worked out: {}.", why.trim_end_matches('?'))),
            (_, Err(why)) => Some(format!("The {which} can't be worked out: {why}.")),
            _ => None,
        })
        .collect();
    let (Ok(a), Ok(b), true) = (&left.ranges, &right.ranges, lacking.is_empty()) else { return lacking };
    let mut out = Vec::new();
    let gaps: Vec<f64> = verdict::paired(left, right);
    if !gaps.is_empty() && [left, right].iter().all(|worked| matches!(worked.standing, Standing::Word(_))) {
        #[expect(clippy::cast_precision_loss, reason = "a few thousand draws")]
        let leaner = gaps.iter().filter(|gap| **gap > 0.0).count() as f64 / gaps.len() as f64;
        let (la, lb) = (a.best.lambda(), b.best.lambda());
        let places = format!("{} and {} on the rule", number(la, 2), number(lb, 2));
        if leaner >= AGREE {
            out.push(format!("The second is leaner than the first ({places})."));
        } else if leaner <= 1.0 - AGREE {
            out.push(format!("The second is richer in binder than the first ({places})."));
        } else {
            out.push(format!("Which of the two is the richer can't be told from the amounts given ({places})."));
        }
    }
    let binder = b.best.binder_per_100_powder / a.best.binder_per_100_powder;
    let words = times(binder);
    let holds = if words == "about as much as" {
        "about as much binder as the first".to_owned()
    } else {
        format!("{words} the binder of the first")
    };
    out.push(format!("To the same weight of powder the second holds {holds}."));
    if left.water_known && right.water_known {
        let dry = b.best.dry_over_wet / a.best.dry_over_wet;
        out.push(format!("Laid equally thick when wet, the second dries {} thick as the first.", as_times(dry)));
    }
    if (a.best.porosity - b.best.porosity).abs() > 0.02 {
        out.push(format!(
            "Air in the dry film: {} in the first, {} in the second; more air drinks more of the first paint.",
            show::percent(a.best.porosity),
            show::percent(b.best.porosity)
        ));
    }
    out
}

fn as_times(factor: f64) -> String {
    let words = times(factor);
    if words == "about as much as" { "about as".into() } else { format!("{} as", words.trim_end_matches(" of")) }
}
