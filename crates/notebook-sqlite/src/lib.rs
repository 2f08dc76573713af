//! The notebook on disk: the log in one SQLite file, photos as files beside it.
//!
//! A studio is a folder:
//!
//! ```text
//! studio.db                 the log of changes
//! photos/ba/ba7816bf8f...   one file a photo, named by the SHA-256 of its bytes
//! ```
//!
//! ```
//! use notebook::{Blobs as _, Log as _};
//! let place = tempfile::tempdir()?;
//! let (log, photos) = notebook_sqlite::Studio::open(&place.path().join("lighthouse"))?;
//! let name = photos.put(b"panel 4, first coat")?;
//! assert_eq!(photos.get(&name)?.as_deref(), Some(b"panel 4, first coat".as_slice()));
//! assert_eq!(log.info()?.changes, 0);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
#![forbid(unsafe_code)]

mod check;
mod connect;
mod copy;
mod disk;
mod error;
mod examine;
mod layout;
mod log;
mod photos;
mod place;
mod seal;
mod studio;

pub use log::SqliteLog;
pub use photos::SqliteBlobs;
pub use place::default_folder;
pub use studio::Studio;
