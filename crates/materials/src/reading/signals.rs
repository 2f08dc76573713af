//! Words that steer the reading: "of", "twice", "without", "until", "by weight" ...

/// One meaning of a steering word. A word may have several.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[repr(u8)]
pub(super) enum Signal {
    Of,
    And,
    Or,
    To,
    In,
    Per,
    Each,
    EqualParts,
    SameAmount,
    SameWeight,
    SameVolume,
    Factor,
    AsMuch,
    As,
    Times,
    WeightOf,
    Neg,
    NegAfter,
    ByEye,
    Correct,
    Used,
    Approx,
    Level,
    Heaped,
    Packed,
    Scant,
    Small,
    Big,
    Us,
    Uk,
    Metric,
    Measures,
    ByVolume,
    ByWeight,
    Part,
    PartVolume,
    PartWeight,
    Percent,
    Solution,
    DryWeight,
    Container,
    Grade,
    GradeBefore,
    Coats,
    Boards,
    Thick,
    Wet,
    Month,
    Between,
    Adjective,
    Pronoun,
    Some,
    OfThat,
    Total,
    Curdle,
    Salt,
    Elsewhere,
}

const NAMES: [(&str, Signal); 57] = [
    ("of", Signal::Of),
    ("and", Signal::And),
    ("or", Signal::Or),
    ("to", Signal::To),
    ("in", Signal::In),
    ("per", Signal::Per),
    ("each", Signal::Each),
    ("equal_parts", Signal::EqualParts),
    ("same_amount", Signal::SameAmount),
    ("same_weight", Signal::SameWeight),
    ("same_volume", Signal::SameVolume),
    ("factor", Signal::Factor),
    ("as_much", Signal::AsMuch),
    ("as", Signal::As),
    ("times", Signal::Times),
    ("weight_of", Signal::WeightOf),
    ("neg", Signal::Neg),
    ("neg_after", Signal::NegAfter),
    ("by_eye", Signal::ByEye),
    ("correct", Signal::Correct),
    ("used", Signal::Used),
    ("approx", Signal::Approx),
    ("level", Signal::Level),
    ("heaped", Signal::Heaped),
    ("packed", Signal::Packed),
    ("scant", Signal::Scant),
    ("small", Signal::Small),
    ("big", Signal::Big),
    ("us", Signal::Us),
    ("uk", Signal::Uk),
    ("metric", Signal::Metric),
    ("measures", Signal::Measures),
    ("by_volume", Signal::ByVolume),
    ("by_weight", Signal::ByWeight),
    ("part", Signal::Part),
    ("part_volume", Signal::PartVolume),
    ("part_weight", Signal::PartWeight),
    ("percent", Signal::Percent),
    ("solution", Signal::Solution),
    ("dry_weight", Signal::DryWeight),
    ("container", Signal::Container),
    ("grade", Signal::Grade),
    ("grade_before", Signal::GradeBefore),
    ("coats", Signal::Coats),
    ("boards", Signal::Boards),
    ("thick", Signal::Thick),
    ("wet", Signal::Wet),
    ("month", Signal::Month),
    ("between", Signal::Between),
    ("adjective", Signal::Adjective),
    ("pronoun", Signal::Pronoun),
    ("some", Signal::Some),
    ("of_that", Signal::OfThat),
    ("total", Signal::Total),
    ("curdle", Signal::Curdle),
    ("salt", Signal::Salt),
    ("elsewhere", Signal::Elsewhere),
];

/// The meanings of one word.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct Signals {
    bits: u64,
    /// What comes with [`Signal::Factor`] and the like ("twice" = 2); 0 if nothing.
    pub value: f64,
}

impl Signals {
    /// No meaning.
    pub(super) const NONE: Self = Self { bits: 0, value: 0.0 };

    /// The meaning with this name in the data file.
    pub(super) fn named(name: &str) -> Option<Self> {
        NAMES.iter().find(|(known, _)| *known == name).map(|(_, signal)| Self { bits: 1 << *signal as u8, value: 0.0 })
    }
    /// Whether it is one of the meanings.
    pub(super) const fn has(self, signal: Signal) -> bool {
        self.bits & (1 << signal as u8) != 0
    }
    /// Whether any of them is one of the meanings.
    pub(super) fn any(self, signals: &[Signal]) -> bool {
        signals.iter().any(|signal| self.has(*signal))
    }
    /// Whether there is no meaning.
    pub(super) const fn is_empty(self) -> bool {
        self.bits == 0
    }
    /// Both words' meanings.
    pub(super) fn join(&mut self, other: Self) {
        self.bits |= other.bits;
        if other.value > 0.0 {
            self.value = other.value;
        }
    }
}
