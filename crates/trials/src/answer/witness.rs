//! The witness: a bought primer on the same support. It only tells whether the support is to blame.

use super::model::{Unit, Way};
use super::readings::Job;

/// Whether witness and recipes both gave way, so that the support comes first. Only for yes and no, where yes is the fault.
pub(super) fn support_to_blame(way: Way, units: &[Unit], yes_is_good: bool) -> bool {
    let failed = |job: Job| units.iter().any(|unit| unit.job == job && unit.seen.low >= 0.5);
    way == Way::YesNo && !yes_is_good && failed(Job::Witness) && failed(Job::Recipe)
}
