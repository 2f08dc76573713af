//! What can be wrong with a trial file or a wish.

/// One thing that is wrong with a trial file.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("line {line}: {what}")]
pub struct TextFault {
    /// Line of the file, from 1.
    pub line: usize,
    /// What is wrong, and what would be right.
    pub what: String,
}

/// Everything that is wrong with a trial file, one fault a line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TextFaults(pub Vec<TextFault>);

impl std::fmt::Display for TextFaults {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        for (at, fault) in self.0.iter().enumerate() {
            if at > 0 {
                f.write_str("\n")?;
            }
            write!(f, "{fault}")?;
        }
        Ok(())
    }
}

impl std::error::Error for TextFaults {}

/// Why a wish makes no plan.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum PlanError {
    /// Parts are given and no boards: blends would have to be chosen.
    #[error(
        "choosing the blends is not built yet: type the boards with their shares, such as board = [{{ id = \"01\", chalk = \"0.5\" }}]"
    )]
    BlendsNotChosen,
    /// There is nothing to compare.
    #[error("there is nothing to compare: name a setting with two kinds or values, or type the boards")]
    NothingToCompare,
    /// Fewer boards than combinations.
    #[error("{boards} boards are too few: every setting with every other takes {needed}; ask for {needed}, or leave a setting out")]
    TooFewBoards {
        /// Asked for.
        boards: usize,
        /// One of each.
        needed: usize,
    },
    /// More boards than a plan holds.
    #[error("the plan comes to {boards} boards, and {most} are the most; leave out a setting, a value or a repeat")]
    TooManyBoards {
        /// What it comes to.
        boards: usize,
        /// The most.
        most: usize,
    },
    /// A number in a wish that can't be.
    #[error("{what} is {found}; it must be {wanted}")]
    OutOfRange {
        /// Which.
        what: &'static str,
        /// Given.
        found: String,
        /// Possible.
        wanted: &'static str,
    },
    /// The two-by-two day needs two settings of two.
    #[error("a two by two takes two settings with two kinds or values each, such as powder and binder; here are {0}")]
    NotTwoByTwo(String),
    /// Two things with one name, or none.
    #[error("the name `{0}` is empty, stands twice or means something else here; choose another")]
    Name(String),
    /// A setting with fewer than two levels, or mixed or doubled ones.
    #[error("the setting `{0}` needs at least two different kinds or values")]
    Levels(String),
}
