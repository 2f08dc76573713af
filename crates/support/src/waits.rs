//! How long each kind of ground waits, as handbooks say it, and what is at risk when the next coat comes late.

use std::sync::OnceLock;

use materials::{BinderKind, DataError};
use measure::Hours;

use crate::drying::HOURS_OF_DAY;
use crate::rows::{Row, rows};
use crate::span::Span;

/// A ground by what it dries like.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum GroundKind {
    /// Hide glue or gelatine.
    Glue,
    /// Casein opened with soda or potash.
    SodaCasein,
    /// Casein opened with borax.
    BoraxCasein,
    /// Casein opened with ammonia or its carbonate.
    AmmoniaCasein,
    /// Casein with lime.
    LimeCasein,
    /// Glue, egg or casein with oil beaten in.
    Emulsion,
    /// Oil.
    Oil,
    /// Acrylic dispersion.
    Acrylic,
}

impl GroundKind {
    /// All kinds.
    pub const ALL: [Self; 8] =
        [Self::Glue, Self::SodaCasein, Self::BoraxCasein, Self::AmmoniaCasein, Self::LimeCasein, Self::Emulsion, Self::Oil, Self::Acrylic];

    /// Its short name in the data files.
    pub const fn id(self) -> &'static str {
        match self {
            Self::Glue => "glue",
            Self::SodaCasein => "casein_soda",
            Self::BoraxCasein => "casein_borax",
            Self::AmmoniaCasein => "casein_ammonia",
            Self::LimeCasein => "casein_lime",
            Self::Emulsion => "emulsion",
            Self::Oil => "oil",
            Self::Acrylic => "acrylic",
        }
    }

    /// Glue or casein: milk and skin spoil in the damp.
    pub const fn spoils(self) -> bool {
        matches!(self, Self::Glue | Self::SodaCasein | Self::BoraxCasein | Self::AmmoniaCasein | Self::LimeCasein)
    }
}

impl From<BinderKind> for GroundKind {
    fn from(binder: BinderKind) -> Self {
        match binder {
            BinderKind::SodaCasein => Self::SodaCasein,
            BinderKind::BoraxCasein => Self::BoraxCasein,
            BinderKind::AmmoniaCasein => Self::AmmoniaCasein,
            BinderKind::LimeCasein => Self::LimeCasein,
            BinderKind::Glue => Self::Glue,
        }
    }
}

/// What is waited for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum WaitFor {
    /// The next coat may go on.
    RecoatOpens,
    /// Until then it goes on best.
    RecoatBestUntil,
    /// After that it is late.
    RecoatMissedAfter,
    /// It may be sanded.
    Sand,
    /// It may be tested.
    Test,
    /// It may be painted on.
    Paint,
}

impl WaitFor {
    /// All of them, in the order of the job.
    pub const ALL: [Self; 6] = [Self::RecoatOpens, Self::RecoatBestUntil, Self::RecoatMissedAfter, Self::Sand, Self::Test, Self::Paint];

    const fn id(self) -> &'static str {
        match self {
            Self::RecoatOpens => "recoat_opens",
            Self::RecoatBestUntil => "recoat_best_until",
            Self::RecoatMissedAfter => "recoat_missed_after",
            Self::Sand => "sand",
            Self::Test => "test",
            Self::Paint => "paint",
        }
    }
}

/// How long.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum HowLong {
    /// A span of hours since the coat was laid.
    Span(Span<Hours>),
    /// No fixed wait: it follows from coat, board and room, see [`crate::drying_spans`].
    Reckoned,
    /// Not known.
    Unknown,
}

/// One wait of one kind of ground.
#[derive(Debug, Clone, PartialEq)]
pub struct Wait {
    /// Which ground.
    pub ground: GroundKind,
    /// What is waited for.
    pub event: WaitFor,
    /// How long.
    pub how_long: HowLong,
    /// The rule in the painter's words; for what is not known, what is missing.
    pub rule: String,
    /// Where it comes from; "not known" where nothing was read.
    pub source: String,
}

/// What is at risk when the next coat comes late.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Missed {
    /// Which ground.
    pub ground: GroundKind,
    /// Whether a coat of it can come too late at all, as far as is known.
    pub too_late: bool,
    /// What may happen, one sentence.
    pub risk: String,
    /// What to do, one sentence.
    pub mend: String,
    /// Where it comes from.
    pub source: String,
}

/// All waits.
#[derive(Debug, Clone)]
pub struct Waits {
    waits: Vec<Wait>,
    missed: Vec<Missed>,
}

impl Waits {
    /// The waits that the program carries, read once.
    ///
    /// # Errors
    /// A data file is broken; a test keeps them sound.
    ///
    /// ```
    /// use support::{GroundKind, HowLong, WaitFor, Waits};
    /// let waits = Waits::builtin()?;
    /// let wait = waits.wait(GroundKind::Acrylic, WaitFor::Paint);
    /// assert!(matches!(wait.how_long, HowLong::Span(span) if span.low.value() == 72.0));
    /// assert!(waits.missed(GroundKind::Glue).mend.starts_with("Damp it"));
    /// # Ok::<(), materials::DataError>(())
    /// ```
    pub fn builtin() -> Result<&'static Self, DataError> {
        static ONCE: OnceLock<Result<Waits, DataError>> = OnceLock::new();
        ONCE.get_or_init(|| Self::parse(include_str!("../data/waits.csv"), include_str!("../data/missed.csv")))
            .as_ref()
            .map_err(Clone::clone)
    }

    fn parse(waits: &str, missed: &str) -> Result<Self, DataError> {
        let lacking = |file, what: String| DataError { file, line: 0, what };
        let (read, missed) = (rows("waits.csv", waits, wait)?, rows("missed.csv", missed, late)?);
        // Put into one order, each once: so that a look-up can't fail.
        let mut waits = Vec::new();
        let mut late = Vec::new();
        for ground in GroundKind::ALL {
            for event in WaitFor::ALL {
                let mut here = read.iter().filter(|wait| wait.ground == ground && wait.event == event);
                match (here.next(), here.next()) {
                    (Some(one), None) => waits.push(one.clone()),
                    _ => return Err(lacking("waits.csv", format!("`{}`, `{}` must stand once", ground.id(), event.id()))),
                }
            }
            let mut here = missed.iter().filter(|missed| missed.ground == ground);
            match (here.next(), here.next()) {
                (Some(one), None) => late.push(one.clone()),
                _ => return Err(lacking("missed.csv", format!("`{}` must stand once", ground.id()))),
            }
        }
        Ok(Self { waits, missed: late })
    }

    /// One wait.
    #[expect(clippy::indexing_slicing, reason = "loading refuses a table that lacks one, and `ALL` is in the order of the variants")]
    pub fn wait(&self, ground: GroundKind, event: WaitFor) -> &Wait {
        &self.waits[ground as usize * WaitFor::ALL.len() + event as usize]
    }

    /// What is at risk when the next coat comes late.
    #[expect(clippy::indexing_slicing, reason = "loading refuses a table that lacks one, and `ALL` is in the order of the variants")]
    pub fn missed(&self, ground: GroundKind) -> &Missed {
        &self.missed[ground as usize]
    }

    /// All waits, ground by ground.
    pub fn all(&self) -> &[Wait] {
        &self.waits
    }
}

fn ground(row: &Row) -> Result<GroundKind, DataError> {
    let id = row.filled(0)?;
    GroundKind::ALL.into_iter().find(|kind| kind.id() == id).ok_or_else(|| row.wrong(format!("`{id}` is no kind of ground")))
}

fn wait(row: &Row) -> Result<Wait, DataError> {
    let event = row.filled(1)?;
    let how_long = match row.filled(2)? {
        "span" => {
            let hours = match row.filled(6)? {
                "h" => 1.0,
                "d" => HOURS_OF_DAY,
                // A twelfth of a year of 365.25 days.
                "month" => 365.25 / 12.0 * HOURS_OF_DAY,
                other => return Err(row.wrong(format!("`{other}` is none of h, d, month"))),
            };
            let (low, usual, high) = (row.number(3)?, row.number(4)?, row.number(5)?);
            if !(0.0 < low && low <= usual && usual <= high) {
                return Err(row.wrong("a wait must rise from low to high".to_owned()));
            }
            HowLong::Span(Span { low, usual, high }.map(|time| Hours::new(time * hours)))
        }
        known @ ("reckoned" | "unknown") => {
            if (3..=6).any(|column| row.at(column).is_ok_and(|text| !text.is_empty())) {
                return Err(row.wrong(format!("a wait that is {known} has no numbers")));
            }
            if known == "reckoned" { HowLong::Reckoned } else { HowLong::Unknown }
        }
        other => return Err(row.wrong(format!("`{other}` is none of span, reckoned, unknown"))),
    };
    Ok(Wait {
        ground: ground(row)?,
        event: WaitFor::ALL
            .into_iter()
            .find(|known| known.id() == event)
            .ok_or_else(|| row.wrong(format!("`{event}` is nothing to wait for")))?,
        how_long,
        rule: row.filled(7)?.to_owned(),
        source: row.filled(8)?.to_owned(),
    })
}

fn late(row: &Row) -> Result<Missed, DataError> {
    Ok(Missed {
        ground: ground(row)?,
        too_late: match row.filled(1)? {
            "yes" => true,
            "no" => false,
            other => return Err(row.wrong(format!("`{other}` is neither yes nor no"))),
        },
        risk: row.filled(2)?.to_owned(),
        mend: row.filled(3)?.to_owned(),
        source: row.filled(4)?.to_owned(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_handbooks_say() {
        let waits = Waits::builtin().unwrap();
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "hours of a year")]
        let hours = |ground, event| match waits.wait(ground, event).how_long {
            HowLong::Span(span) => span.map(|time| time.value().round() as u32),
            other => panic!("{other:?}"),
        };
        // MITRA forum, question 351: 72 h, two weeks, thirty days before oil on acrylic; six to twelve months on oil.
        assert_eq!(hours(GroundKind::Acrylic, WaitFor::Paint), Span { low: 72, usual: 14 * 24, high: 30 * 24 });
        // Half a year of 365.25 days: 182.625 x 24 = 4383 h; a year 8766 h.
        let oil = hours(GroundKind::Oil, WaitFor::Paint);
        assert_eq!((oil.low, oil.high), (4383, 8766));
        // Cennini, CXX: at least two days and nights before scraping. Sohn: lime casein has set after about eight days.
        assert!(hours(GroundKind::Glue, WaitFor::Sand).low >= 48);
        assert_eq!(hours(GroundKind::LimeCasein, WaitFor::Paint).usual, 192);
    }

    #[test]
    fn each_is_where_it_is_looked_for_and_the_unknown_says_so() {
        let waits = Waits::builtin().unwrap();
        for (place, ground) in GroundKind::ALL.into_iter().enumerate() {
            assert_eq!(ground as usize, place);
            assert_eq!(waits.missed(ground).ground, ground);
            for (place, event) in WaitFor::ALL.into_iter().enumerate() {
                assert_eq!(event as usize, place);
                let wait = waits.wait(ground, event);
                assert_eq!((wait.ground, wait.event), (ground, event));
                assert_eq!(wait.how_long == HowLong::Unknown, wait.source == "not known", "{wait:?}");
            }
        }
        assert_eq!(waits.wait(GroundKind::Emulsion, WaitFor::Paint).how_long, HowLong::Unknown);
        assert_eq!(GroundKind::from(BinderKind::LimeCasein), GroundKind::LimeCasein);
    }

    #[test]
    fn a_broken_line_is_named() {
        let head = "ground,event,known,low,usual,high,unit,rule,source\n";
        for (line, word) in [
            ("tallow,sand,unknown,,,,,r,s", "`tallow`"),
            ("glue,fly,unknown,,,,,r,s", "`fly`"),
            ("glue,sand,maybe,,,,,r,s", "`maybe`"),
            ("glue,sand,span,3,2,1,h,r,s", "must rise"),
            ("glue,sand,span,1,2,3,tide,r,s", "`tide`"),
            ("glue,sand,unknown,1,,,,r,s", "has no numbers"),
            ("glue,sand,unknown,,,,,r,", "column 9 is empty"),
        ] {
            let said = rows("waits.csv", &format!("{head}{line}\n"), wait).unwrap_err().to_string();
            assert!(said.contains("waits.csv, line 2") && said.contains(word), "{said}");
        }
        assert!(Waits::parse(head, "a,b,c,d,e\n").unwrap_err().to_string().contains("must stand once"));
        assert!(rows("missed.csv", "a,b,c,d,e\nglue,perhaps,r,m,s\n", late).unwrap_err().to_string().contains("`perhaps`"));
    }
}
