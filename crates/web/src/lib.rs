//! The pages: parse, call the workbench, render. No formula, no number formatting, nothing stored.
#![forbid(unsafe_code)]

mod assets;
mod clock;
mod door;
mod form;
mod layout;
mod pages;
mod room;
mod routes;

use std::collections::HashMap;
use std::net::IpAddr;
use std::sync::{Arc, Mutex};

use tokio::sync::Semaphore;
use workbench::{Studio, Workbench};

pub use door::{Door, DoorError, Ear, Heard, ShareError, Silence, host_name};
pub use routes::router;

/// What every page may use.
#[derive(Debug, Clone)]
pub struct App {
    bench: Arc<Workbench>,
    pub(crate) door: Arc<Door>,
    pub(crate) share: Arc<door::Share>,
    /// So many sums may run at once; the others wait their turn.
    sums: Arc<Semaphore>,
    /// One photo is measured at a time: it takes all processors and much memory.
    looks: Arc<Semaphore>,
    own: Arc<Studio>,
    /// Example studios, each in memory and seen by one session.
    examples: Arc<Mutex<HashMap<String, Arc<Studio>>>>,
    starts_in_example: bool,
}

/// Sums that run at once: more would only slow each other.
const AT_ONCE: usize = 2;

/// Example studios that are kept in memory at once.
const MOST_EXAMPLES: usize = 8;

impl App {
    /// Joins the workbench to its door, the painter's studio, and an ear for phones that is not opened yet.
    pub fn new(bench: Workbench, door: Door, studio: Studio, starts_in_example: bool, ear: Arc<dyn Ear>) -> Self {
        Self {
            bench: Arc::new(bench),
            door: Arc::new(door),
            share: Arc::new(door::Share::new(ear)),
            sums: Arc::new(Semaphore::new(AT_ONCE)),
            looks: Arc::new(Semaphore::new(1)),
            own: Arc::new(studio),
            examples: Arc::default(),
            starts_in_example,
        }
    }

    /// The studio that a session looks at.
    pub(crate) fn studio_of(&self, session: &str) -> Arc<Studio> {
        let examples = door::locked(&self.examples);
        examples.get(session).map_or_else(|| Arc::clone(&self.own), Arc::clone)
    }

    /// All studios that are open: the painter's own first.
    pub(crate) fn studios(&self) -> Vec<Arc<Studio>> {
        let examples = door::locked(&self.examples);
        std::iter::once(&self.own).chain(examples.values()).map(Arc::clone).collect()
    }

    /// Opens the second address, for phones: at `address`, or at that of this computer in the house; `name` is a name of this computer
    /// beside it. Gives the address that a phone opens. Nobody is let in by this alone.
    ///
    /// # Errors
    /// No address in the house, or nobody can listen there.
    pub async fn share_at(&self, address: Option<IpAddr>, name: Option<String>) -> Result<String, ShareError> {
        let address = address.or_else(|| self.share.house()).ok_or(ShareError::NoAddress)?;
        self.share.open(address, name, routes::phone_router(self.clone())).await
    }

    /// Lets a session look round a fresh example studio.
    pub(crate) fn visit_example(&self, session: &str) {
        // Made of data that ships with the program; should it fail, the painter stays at home.
        if let Ok(studio) = self.bench.example(clock::now()) {
            let mut examples = door::locked(&self.examples);
            if examples.len() >= MOST_EXAMPLES {
                examples.clear();
            }
            examples.insert(session.to_owned(), Arc::new(studio));
        }
    }

    /// Brings a session home; its example is gone without trace.
    pub(crate) fn leave_example(&self, session: &str) {
        door::locked(&self.examples).remove(session);
    }

    /// Has the workbench measure a photo; pages and sums of others go on beside it.
    pub(crate) async fn measure<T>(&self, look: impl FnOnce(&Workbench) -> T) -> T {
        // As for sums: the semaphore is never closed.
        let _turn = self.looks.acquire().await.ok();
        tokio::task::block_in_place(|| look(&self.bench))
    }

    /// Asks the workbench something. A long sum runs aside, so that pages and styles are still served to everybody else.
    pub(crate) async fn ask<T>(&self, sum: impl FnOnce(&Workbench) -> T) -> T {
        // The semaphore is never closed; without a turn the sum would still be right, only slower for others.
        let _turn = self.sums.acquire().await.ok();
        tokio::task::block_in_place(|| sum(&self.bench))
    }
}
