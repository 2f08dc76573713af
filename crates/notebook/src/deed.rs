//! Records and the kind under which they stand in the log.

use serde::{Serialize, de::DeserializeOwned};

use crate::binder::{Binder, BinderMeasure, BinderStep};
use crate::record::{
    Air, Batch, Board, BoardMass, Coat, Device, Failed, Jar, Lost, OwnScale, Paper, Photo, Plan, PotMass, Reading, Recipe, Sitting, Tap,
    Trial, Weighing,
};
use crate::sight::{Correction, Look};

/// An entry that can't be understood.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum DeedError {
    /// A kind or version that this program does not know.
    #[error("entry {n} is a `{kind}` of version {version}, which this groundproof does not know; a newer one wrote it")]
    Unknown {
        /// Entry.
        n: u64,
        /// Kind found.
        kind: String,
        /// Version found.
        version: u16,
    },
    /// The record is not whole.
    #[error("entry {n} (`{kind}`) is hurt: {why}")]
    Hurt {
        /// Entry.
        n: u64,
        /// Kind.
        kind: String,
        /// What is wrong.
        why: String,
    },
}

macro_rules! deeds {
    ($($variant:ident($record:ty) = $kind:literal version $version:literal $class:ident),* $(,)?) => {
        /// What was done: one record of any kind.
        #[derive(Debug, Clone, PartialEq)]
        #[expect(missing_docs, reason = "each is described at its record")]
        pub enum Deed {
            $($variant($record),)*
            /// Takes an earlier entry back, for this reason.
            Strike(String),
        }

        impl Deed {
            /// Kind in the log.
            pub const fn kind(&self) -> &'static str {
                match self {
                    $(Self::$variant(_) => $kind,)*
                    Self::Strike(_) => "strike",
                }
            }

            /// Version of the shape that is written today.
            pub const fn version(&self) -> u16 {
                match self {
                    $(Self::$variant(_) => $version,)*
                    Self::Strike(_) => 1,
                }
            }

            /// Whether a second entry about the same subject changes the first; otherwise each entry is a fact of its own.
            pub const fn is_edited(&self) -> bool {
                match self {
                    $(Self::$variant(_) => deeds!(@class $class),)*
                    Self::Strike(_) => false,
                }
            }

            /// The record as JSON.
            pub fn body(&self) -> String {
                match self {
                    $(Self::$variant(record) => json(record),)*
                    Self::Strike(why) => json(why),
                }
            }

            /// Reads a record, of today's shape or an older one.
            ///
            /// # Errors
            /// A kind or version that is not known; a body that is hurt.
            pub fn read(n: u64, kind: &str, version: u16, body: &str) -> Result<Self, DeedError> {
                match (kind, version) {
                    $(($kind, $version) => Ok(Self::$variant(parse(n, kind, body)?)),)*
                    ("strike", 1) => Ok(Self::Strike(parse(n, kind, body)?)),
                    _ => Err(DeedError::Unknown { n, kind: kind.to_owned(), version }),
                }
            }
        }
    };
    (@class edited) => { true };
    (@class fact) => { false };
}

// A new version of a shape gets a line of its own in `read`, which turns the old record into the new one.
deeds! {
    Recipe(Recipe) = "recipe" version 1 edited,
    Failed(Failed) = "failed" version 1 edited,
    Jar(Jar) = "jar" version 1 edited,
    Weighing(Weighing) = "weighing" version 1 fact,
    Trial(Trial) = "trial" version 1 edited,
    Plan(Plan) = "plan" version 1 fact,
    Board(Board) = "board" version 1 fact,
    Batch(Batch) = "batch" version 1 edited,
    Coat(Coat) = "coat" version 1 fact,
    Reading(Reading) = "reading" version 1 fact,
    Lost(Lost) = "lost" version 1 fact,
    Photo(Photo) = "photo" version 1 edited,
    Sitting(Sitting) = "sitting" version 1 edited,
    Tap(Tap) = "tap" version 1 fact,
    Air(Air) = "air" version 1 fact,
    BoardMass(BoardMass) = "board_mass" version 1 fact,
    OwnScale(OwnScale) = "own_scale" version 1 edited,
    Paper(Paper) = "paper" version 1 fact,
    Device(Device) = "device" version 1 fact,
    PotMass(PotMass) = "pot_mass" version 1 fact,
    Binder(Binder) = "binder" version 1 edited,
    BinderStep(BinderStep) = "binder_step" version 1 fact,
    BinderMeasure(BinderMeasure) = "binder_measure" version 1 fact,
    Look(Look) = "look" version 1 edited,
    Correction(Correction) = "correction" version 1 edited,
}

fn json(record: &impl Serialize) -> String {
    // These records are plain texts, numbers and lists: they always have a JSON form.
    serde_json::to_string(record).unwrap_or_default()
}

fn parse<T: DeserializeOwned>(n: u64, kind: &str, body: &str) -> Result<T, DeedError> {
    serde_json::from_str(body).map_err(|why| DeedError::Hurt { n, kind: kind.to_owned(), why: why.to_string() })
}
