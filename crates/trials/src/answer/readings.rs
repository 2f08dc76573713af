//! Readings as typed rows.

/// What kind of number a measure is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Kind {
    /// Yes or no.
    YesNo,
    /// A class from 0 to 5.
    Class,
    /// A whole number.
    Count,
    /// Millimetres.
    Length,
    /// A share from 0 to 1.
    Share,
    /// Days.
    Time,
    /// A bare ratio, also below 0.
    Strain,
    /// Micrometres.
    Thickness,
    /// Not said: a bare number.
    Number,
}

impl Kind {
    /// The kinds that can be written, with their names in the table.
    pub const NAMED: [(&'static str, Self); 8] = [
        ("yes_no", Self::YesNo),
        ("class_0_5", Self::Class),
        ("count", Self::Count),
        ("length", Self::Length),
        ("share", Self::Share),
        ("time", Self::Time),
        ("strain", Self::Strain),
        ("thickness", Self::Thickness),
    ];

    /// Name in the table; `number` when it was not said.
    pub fn name(self) -> &'static str {
        Self::NAMED.iter().find(|(_, kind)| *kind == self).map_or("number", |(name, _)| name)
    }

    /// Unit symbol.
    pub const fn unit(self) -> &'static str {
        match self {
            Self::Length => "mm",
            Self::Time => "d",
            Self::Thickness => "um",
            _ => "1",
        }
    }
}

/// Why a board was made.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Job {
    /// To try a recipe.
    Recipe,
    /// A known ground beside the recipes: "is it the recipe?".
    Yardstick,
    /// A bought primer on the same support: "is it the wood, the air or the hand?". Takes part in no difference.
    Witness,
}

/// A number as it was seen: exact when both ends are the same.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Seen {
    /// Not below this.
    pub low: f64,
    /// Not above this; may be infinite.
    pub high: f64,
}

impl Seen {
    /// Read exactly.
    pub const fn exactly(value: f64) -> Self {
        Self { low: value, high: value }
    }

    /// The value, when it was read exactly.
    pub fn exact(self) -> Option<f64> {
        (self.high - self.low).abs().le(&0.0).then_some(self.low)
    }
}

/// A board as its rows describe it.
#[derive(Debug, Clone, PartialEq)]
pub struct Board {
    /// Its name.
    pub id: String,
    /// The pot it was coated from; empty when not said.
    pub batch: String,
    /// The day or sitting; empty when not said.
    pub day: String,
    /// The recipe; empty when not said.
    pub recipe: String,
    /// Why it was made.
    pub job: Job,
    /// One a factor column; empty when not said.
    pub settings: Vec<String>,
}

/// One reading.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// Place of the board in [`Readings::boards`].
    pub board: usize,
    /// Place of the measure in [`Readings::measures`].
    pub measure: usize,
    /// What was seen; `None` when nothing was read or the reading is struck.
    pub seen: Option<Seen>,
    /// Strip on a board with several, from 1.
    pub strip: Option<u32>,
    /// Age of the board in days.
    pub age_d: Option<f64>,
}

/// A whole table of readings.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Readings {
    /// Names of the factor columns, without `set:` and `share:`.
    pub factors: Vec<String>,
    /// Which of them are shares of the pot (`share:` columns).
    pub shares: Vec<usize>,
    /// Boards in order of their first row.
    pub boards: Vec<Board>,
    /// Measures in order of their first row.
    pub measures: Vec<(String, Kind)>,
    /// The readings.
    pub rows: Vec<Reading>,
}
