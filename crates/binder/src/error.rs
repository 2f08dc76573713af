//! What can't be worked out, and how to mend it.

use materials::DataError;
use measure::QuantityError;

/// Why no curd could be worked out.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum BinderError {
    /// There is no milk.
    #[error("there is no milk; give a volume or a weight above 0")]
    NoMilk,
    /// Rennet clots milk in another way.
    #[error(
        "rennet is no acid: it clots milk that is still sweet, the lime of the milk stays in the curd, and soda or borax hardly open it; \
         curdle with vinegar, lemon or citric acid"
    )]
    Rennet,
    /// A strength that such an acid doesn't have.
    #[error("{acid} of {strength} % is outside {low} to {high} %; read the label again")]
    Strength {
        /// Which acid.
        acid: &'static str,
        /// What was given.
        strength: f64,
        /// Least that is accepted.
        low: f64,
        /// Most that is accepted.
        high: f64,
    },
    /// The amount of acid is measured in a way that can't be read.
    #[error("{acid} is measured in {unit}; say how much in {unit}")]
    AcidMeasure {
        /// Which acid.
        acid: &'static str,
        /// How it is measured.
        unit: &'static str,
    },
    /// Curd that is nothing but water.
    #[error("a curd with a water share of {share} holds no casein; the share lies between 0 and below 1")]
    AllWater {
        /// What was given.
        share: f64,
    },
    /// The curd would weigh more than the milk.
    #[error("the curd would weigh more than milk and acid together; check the water share of the curd and the protein of the milk")]
    MoreCurdThanMilk,
    /// An acid so thin that no amount of it is enough.
    #[error("this {acid} is too thin: no amount of it brings the milk to its curdling point; take a stronger one")]
    TooThin {
        /// Which acid.
        acid: &'static str,
    },
    /// Several acids, one of them without its amount.
    #[error("with several acids, say how much of each beside the first goes in")]
    NoAmount,
    /// Milk powder by volume.
    #[error("say milk powder by weight, in g; a cup of it can weigh twice what another does")]
    PowderByWeight,
    /// A dish that can't be.
    #[error("a dish of curd weighs more than 0 g wet, and no more dry than wet; give at least one, such as 10 g wet and 2.4 g dry")]
    Dish,
    /// A reading of paper that can't be used.
    #[error("a reading needs a pH and how far the paper may be off, above 0, such as 0.2")]
    Reading,
    /// A pot without casein or water.
    #[error("say how much casein and how much water, both above 0")]
    NoPot,
    /// More is taken out of a jar than is in it.
    #[error("{} g can't be taken out of a jar that holds {} g; weigh what is in it first", .taken.round(), .there.round())]
    MoreThanThereIs {
        /// Grams taken.
        taken: f64,
        /// Grams in it.
        there: f64,
    },
    /// A jar that weighs less than its solids.
    #[error("{grams} g is less than the solids in this jar weigh without any water; was the jar itself taken off twice?")]
    LighterThanItsSolids {
        /// Grams.
        grams: f64,
    },
    /// A dish of the finished binder that can't be.
    #[error("these dishes leave no room for binder, or none for water; look whether wet and dry are exchanged")]
    JarDish,
    /// No pH balances the charges.
    #[error("no sourness balances what is in this pot; check the amounts")]
    NoBalance,
    /// A number outside its range.
    #[error(transparent)]
    Quantity(#[from] QuantityError),
    /// A data file is broken.
    #[error("{file}, line {line}: {what}")]
    Data {
        /// File name.
        file: &'static str,
        /// Line from 1; 0 where a line is missing.
        line: usize,
        /// What is wrong.
        what: String,
    },
}

impl From<DataError> for BinderError {
    fn from(error: DataError) -> Self {
        Self::Data { file: error.file, line: error.line, what: error.what }
    }
}
