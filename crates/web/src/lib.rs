//! The pages: parse, call the workbench, render. No formula, no number formatting, nothing stored.
#![forbid(unsafe_code)]

mod assets;
mod door;
mod form;
mod layout;
mod pages;
mod routes;

use std::sync::Arc;

use tokio::sync::Semaphore;
use workbench::Workbench;

pub use door::{Door, DoorError};
pub use routes::router;

/// What every page may use.
#[derive(Debug, Clone)]
pub struct App {
    bench: Arc<Workbench>,
    pub(crate) door: Arc<Door>,
    /// So many sums may run at once; the others wait their turn.
    sums: Arc<Semaphore>,
}

/// Sums that run at once: more would only slow each other.
const AT_ONCE: usize = 2;

impl App {
    /// Joins the workbench to its door.
    pub fn new(bench: Workbench, door: Door) -> Self {
        Self { bench: Arc::new(bench), door: Arc::new(door), sums: Arc::new(Semaphore::new(AT_ONCE)) }
    }

    /// Asks the workbench something. A long sum runs aside, so that pages and styles are still served to everybody else.
    pub(crate) async fn ask<T>(&self, sum: impl FnOnce(&Workbench) -> T) -> T {
        // The semaphore is never closed; without a turn the sum would still be right, only slower for others.
        let _turn = self.sums.acquire().await.ok();
        tokio::task::block_in_place(|| sum(&self.bench))
    }
}
