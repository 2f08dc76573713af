//! What a painter recorded: a log of changes, folded in memory, and the ports that a store must have.
#![forbid(unsafe_code)]

mod binder;
mod change;
mod decide;
mod deed;
mod fold;
mod id;
mod keeper;
mod memory;
mod ports;
mod record;
mod sight;

pub use binder::{Binder, BinderMeasure, BinderRoad, BinderSeen, BinderStep};
pub use change::{Change, Day, Moment, NewChange};
pub use decide::{Refusal, Wanted, name_of as deed_name};
pub use deed::{Deed, DeedError};
pub use fold::{Entry, Kept, Notebook, Shelf};
pub use id::{IdError, Stamp, board_id, read_board_id};
pub use keeper::{KeepError, Keeper};
pub use memory::{MemoryBlobs, MemoryLog, name_of};
pub use ports::{Blobs, CheckReport, FORMAT, Info, Log, StoreError};
pub use record::{
    Air, Batch, Better, Board, BoardMass, Coat, Device, Failed, Jar, Lost, Measured, OwnScale, Paper, Photo, Plan, Planned, PotMass,
    PotWhat, Reading, Recipe, Said, Sitting, Tap, TapKind, Trial, TrialKind, Weighing,
};
pub use sight::{Correction, Found, Look, Rubbed, correction_of, look_of};
