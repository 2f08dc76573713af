//! The constants of the verdict, from `answer_rules.csv`.

use std::collections::HashMap;
use std::sync::OnceLock;

use statistics::Sampling;

/// `answer_rules.csv` is broken.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("answer_rules.csv: {0}")]
pub struct RulesError(String);

/// When boards tell, lean or can't tell. The rule, in words:
///
/// * **told**: the exact test gives no more than `exact_limit` divided by the number of differences asked, the split could give that
///   at all, the range leaves out "no difference", and the difference is tangled with nothing;
/// * **leans**: the range leaves out "no difference", or the direction is the same in all same-day pairs and there are `least_pairs`
///   or more, and the difference can be had at all;
/// * **cannot tell**: everything else.
#[derive(Debug, Clone, PartialEq)]
pub struct Rules {
    /// Largest share of chance arrangements for *told*.
    pub exact_limit: f64,
    /// Least number of agreeing pairs for *leans*.
    pub least_pairs: usize,
    /// Share of the beliefs that a range holds.
    pub range_level: f64,
    /// Deviation of the beliefs about log-odds.
    pub prior_log_odds: f64,
    /// Expected spread of thresholds in the logarithm.
    pub prior_spread: f64,
    /// How far its logarithm may lie off.
    pub prior_spread_sd: f64,
    /// How far a told expectation may lie off, in the logarithm.
    pub prior_place_sd_told: f64,
    /// The same when nothing was told.
    pub prior_place_sd_open: f64,
    /// Most recipes that are all compared with each other.
    pub recipes_most: usize,
    /// When arrangements are sampled.
    pub sampling: Sampling,
}

/// Seed of every sample of arrangements, so that the same readings give the same answer.
const SEED: u64 = 20;

impl Rules {
    /// The rules that the program carries.
    ///
    /// # Errors
    /// The data file is broken; a test keeps it sound.
    pub fn builtin() -> Result<&'static Self, RulesError> {
        static ONCE: OnceLock<Result<Rules, RulesError>> = OnceLock::new();
        ONCE.get_or_init(|| Self::parse(include_str!("../../data/answer_rules.csv"))).as_ref().map_err(Clone::clone)
    }

    fn parse(text: &str) -> Result<Self, RulesError> {
        let mut values = HashMap::new();
        for (index, record) in csv::Reader::from_reader(text.as_bytes()).into_records().enumerate() {
            let record = record.map_err(|e| RulesError(e.to_string()))?;
            let field = |at: usize| record.get(at).map(str::trim).unwrap_or_default();
            let wrong = |what: &str| RulesError(format!("line {}: {what}", index + 2));
            let number = |at: usize| field(at).parse::<f64>().map_err(|_| wrong("value, low and high are numbers"));
            let (value, low, high) = (number(1)?, number(2)?, number(3)?);
            if !(low <= value && value <= high) {
                return Err(wrong("the value lies outside its range"));
            }
            if field(5).is_empty() || field(6).is_empty() {
                return Err(wrong("reason and source are wanted"));
            }
            values.insert(field(0).to_owned(), value);
        }
        let get = |key: &str| values.get(key).copied().ok_or_else(|| RulesError(format!("`{key}` is missing")));
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "ranges in the table keep counts small and positive")]
        let count = |key: &str| get(key).map(|value| value as u32);
        Ok(Self {
            exact_limit: get("exact_limit")?,
            least_pairs: count("least_pairs")? as usize,
            range_level: get("range_level")?,
            prior_log_odds: get("prior_log_odds")?,
            prior_spread: get("prior_spread")?,
            prior_spread_sd: get("prior_spread_sd")?,
            prior_place_sd_told: get("prior_place_sd_told")?,
            prior_place_sd_open: get("prior_place_sd_open")?,
            recipes_most: count("recipes_most")? as usize,
            sampling: Sampling { most: count("list_most")?, draws: count("sample_draws")?, seed: SEED },
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_is_whole_and_faults_are_named() {
        assert!((Rules::builtin().unwrap().exact_limit - 0.05).abs() < 1e-12);
        let broken = |line: &str| Rules::parse(&format!("key,value,low,high,unit,reason,source\n{line}\n")).unwrap_err().to_string();
        assert!(broken("exact_limit,2,0,1,1,why,who").contains("outside"));
        assert!(broken("exact_limit,0.5,0,1,1,why,").contains("source"));
        assert!(broken("exact_limit,much,0,1,1,why,who").contains("line 2"));
        assert!(broken("exact_limit,0.5,0,1,1,why,who").contains("missing"));
    }
}
