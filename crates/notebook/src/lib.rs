//! What a painter recorded: a log of changes, folded in memory, and the ports that a store must have.
#![forbid(unsafe_code)]

mod change;
mod memory;
mod ports;

pub use change::{Change, Day, Moment, NewChange};
pub use memory::{MemoryBlobs, MemoryLog, name_of};
pub use ports::{Blobs, CheckReport, FORMAT, Info, Log, StoreError};
