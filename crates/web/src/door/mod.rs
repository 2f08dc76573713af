//! Who may come in. Two doors, each with keys that do not fit the other:
//!
//! - the desk's, on loopback. Loopback is not trust: other programs and other pages reach it too. `/enter?key=` (128 bits, used once) sets
//!   a cookie; without it every route but the style sheet and the faces of that answer says how to come in, with 403.
//! - the phones', opened by the desk's leave on an address of the house. A phone is let in by a code that the desk shows and a yes at
//!   the desk; it then holds a key of 256 bits. Without one everything but the page that asks for a code is 404.
//!
//! At both the Host header must be an address that we listen on (else 421: stops names that were pointed at this machine), and anything
//! but GET must carry our own Origin and the form's token.

mod desk;
mod guard;
mod keys;
mod pairing;
mod share;

use std::sync::Arc;

use workbench::Studio;

pub use desk::Door;
pub(crate) use desk::enter;
pub(crate) use guard::{at_desk, at_phones, sealed};
pub use keys::DoorError;
pub(crate) use keys::{cookies, long_key, random, spelled_out};
pub(crate) use pairing::{Given, Stage, Told, Turned};
pub(crate) use share::{Code, Share, Shared};
pub use share::{Ear, Heard, ShareError, Silence, host_name};

/// Who asks; a door puts it to each request that it lets through.
#[derive(Debug, Clone)]
pub(crate) enum Caller {
    /// The browser at the desk, by its session.
    Desk(String),
    /// A phone that was let in.
    Phone {
        /// What it is called.
        name: String,
        /// Studio that it was let into.
        studio: Arc<Studio>,
        /// Token of its forms: a hash of its key, so that a page stays good for as long as the key, and fits no other phone.
        token: String,
    },
}

/// A lock that a panicking thread left behind still guards sound data here: sets, options and counts.
pub(crate) fn locked<T>(mutex: &std::sync::Mutex<T>) -> std::sync::MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(std::sync::PoisonError::into_inner)
}

/// Host and origin as browsers write them: they leave the usual port out of both.
fn host(name: &str, port: u16) -> String {
    const USUAL_PORT: u16 = 80;
    if port == USUAL_PORT { name.to_owned() } else { format!("{name}:{port}") }
}
