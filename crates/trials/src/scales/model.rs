//! What a scale is, and the book of all of them.

use std::sync::Arc;

use super::cutting::Cut;
use super::{Cylinder, ReadingValue};

/// Short name of a scale; stands in the column `measure` of a table of readings.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ScaleId(Arc<str>);

impl ScaleId {
    /// From its short name; whether the book holds it is another matter.
    pub fn new(name: &str) -> Self {
        Self(Arc::from(name))
    }
    /// The short name.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

macro_rules! words {
    ($(#[$doc:meta])* $name:ident { $($(#[$item_doc:meta])* $item:ident = $word:literal,)* }) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum $name { $($(#[$item_doc])* $item,)* }

        impl $name {
            /// All of them, in order.
            pub const ALL: &[Self] = &[$(Self::$item,)*];

            /// The word for it in tables.
            pub fn as_str(self) -> &'static str {
                match self { $(Self::$item => $word,)* }
            }
            /// From its word in tables.
            pub fn from_word(word: &str) -> Option<Self> {
                Self::ALL.iter().copied().find(|one| one.as_str() == word)
            }
        }
    };
}

words!(
    /// What sort of number a reading is.
    Kind {
        /// Yes or no.
        YesNo = "yes_no",
        /// Grades in order, 0 to 5 or fewer of them.
        Class = "class_0_5",
        /// Whole steps that are counted.
        Count = "count",
        /// A positive number on a plain ruler or dial.
        Length = "length",
        /// A part of a whole.
        Share = "share",
        /// A time, often stopped before the end.
        Time = "time",
        /// How far something was stretched.
        Strain = "strain",
        /// A thickness.
        Thickness = "thickness",
    }
);
words!(
    /// Which way is usually the better one. The painter may want the other.
    Better {
        /// Less of it.
        Smaller = "smaller",
        /// More of it.
        Larger = "larger",
        /// It depends on what the ground is for.
        Neither = "neither",
    }
);
words!(
    /// Place in the order of tests: what leaves the board as it was comes first.
    Rank {
        /// Looking and measuring.
        Look = "look",
        /// Drops of water and of oil, sourness.
        Drop = "drop",
        /// Finger, tape, nail, a strip of paint.
        Rub = "rub",
        /// Pencils.
        Pencil = "pencil",
        /// Knife and tape.
        Cut = "cut",
        /// Strips bent until they break.
        Bend = "bend",
    }
);
words!(
    /// How a measured number finds its class.
    LimitRule {
        /// The first class whose limit it does not pass. A share that is just the limit still belongs to the lower class.
        AtMost = "at most",
        /// The first class whose limit it stays under.
        Below = "below",
        /// The class whose number is nearest as a multiple; whatever is more than 0 is at least the lowest class above 0.
        Nearest = "nearest",
    }
);

/// One grade of a scale.
#[derive(Debug, Clone, PartialEq)]
pub struct Class {
    /// Its number.
    pub value: f64,
    /// How it is also written, such as `4A`; may be empty.
    pub mark: String,
    /// Measured limit or number of the class, in the scale's limit unit.
    pub limit: Option<f64>,
    /// What it looks like, in plain words.
    pub look: String,
    /// Where the class and its limit come from.
    pub source: String,
}

/// One way to read a board.
#[derive(Debug, Clone, PartialEq)]
pub struct Scale {
    /// Short name.
    pub id: ScaleId,
    /// The painter's name for it.
    pub name: String,
    /// What is asked aloud.
    pub question: String,
    /// Sort of number.
    pub kind: Kind,
    /// Unit of the number; empty for classes.
    pub unit: String,
    /// Which way is usually better.
    pub better: Better,
    /// Least that can be read.
    pub low: f64,
    /// Most that can be read.
    pub high: f64,
    /// Readings go in steps of this; `None` when any number will do.
    pub step: Option<f64>,
    /// What "none" stands for.
    pub none: Option<ReadingValue>,
    /// How a measured number finds its class, and its unit.
    pub limits: Option<(LimitRule, String)>,
    /// Scales for size and for depth that may be written with this one, as in `2(S3)b`.
    pub beside: Vec<ScaleId>,
    /// What to do, in a sentence or two.
    pub how: String,
    /// Whether the place can't be read again afterwards.
    pub spoils: bool,
    /// Place in the order of tests.
    pub rank: Rank,
    /// For which boards and grounds it means something; may be empty.
    pub scope: String,
    /// Where it comes from.
    pub source: String,
    /// Its grades; empty for plain numbers.
    pub classes: Vec<Class>,
}

impl Scale {
    /// The class of a measured number in the scale's limit unit (percent of the area, millimetres); `None` when the scale has no such
    /// limits or the number is below 0 or no number.
    ///
    /// ```
    /// use trials::scales::{ScaleBook, ScaleId};
    /// let book = ScaleBook::builtin()?;
    /// let cut = book.scale(&ScaleId::new("cross_cut")).ok_or("missing")?;
    /// assert_eq!(cut.class_of(4.0).map(|class| class.value), Some(1.0));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn class_of(&self, measured: f64) -> Option<&Class> {
        let (rule, _) = self.limits.as_ref()?;
        if !measured.is_finite() || measured < 0.0 {
            return None;
        }
        let limited = || self.classes.iter().filter_map(|class| class.limit.map(|limit| (class, limit)));
        match rule {
            LimitRule::AtMost => limited().find(|(_, limit)| measured <= *limit).map(|(class, _)| class).or_else(|| self.classes.last()),
            LimitRule::Below => limited().find(|(_, limit)| measured < *limit).map(|(class, _)| class).or_else(|| self.classes.last()),
            LimitRule::Nearest if measured > 0.0 => {
                let apart = |limit: f64| (measured.ln() - limit.ln()).abs();
                limited().filter(|(_, limit)| *limit > 0.0).min_by(|a, b| apart(a.1).total_cmp(&apart(b.1))).map(|(class, _)| class)
            }
            LimitRule::Nearest => self.classes.first(),
        }
    }
}

/// All scales that the program carries.
#[derive(Debug, Clone, PartialEq)]
pub struct ScaleBook {
    pub(super) scales: Vec<Scale>,
    pub(super) cuts: Vec<Cut>,
    pub(super) cylinders: Vec<Cylinder>,
}

impl ScaleBook {
    /// All scales, as the data file has them.
    pub fn scales(&self) -> &[Scale] {
        &self.scales
    }

    /// One scale by its short name.
    pub fn scale(&self, id: &ScaleId) -> Option<&Scale> {
        self.scales.iter().find(|scale| scale.id == *id)
    }

    /// The scales named, in the order in which to test: what spoils nothing comes first. Names that the book lacks are left out.
    ///
    /// ```
    /// use trials::scales::{ScaleBook, ScaleId};
    /// let names = ["bend", "cracking", "cross_cut", "drop_time"].map(ScaleId::new);
    /// let order: Vec<_> = ScaleBook::builtin()?.in_test_order(&names).iter().map(|scale| scale.id.as_str()).collect();
    /// assert_eq!(order, ["cracking", "drop_time", "cross_cut", "bend"]);
    /// # Ok::<(), trials::causes::DataError>(())
    /// ```
    pub fn in_test_order(&self, ids: &[ScaleId]) -> Vec<&Scale> {
        let mut order: Vec<&Scale> = ids.iter().filter_map(|id| self.scale(id)).collect();
        order.sort_by_key(|scale| (scale.rank, scale.spoils));
        order
    }

    /// Cylinders to bend strips round: the standard set, which ranks nothing for glue grounds, and things of the house.
    pub fn cylinders(&self) -> &[Cylinder] {
        &self.cylinders
    }
}
