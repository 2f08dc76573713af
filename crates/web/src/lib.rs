//! The pages: parse, call the workbench, render. No formula, no number formatting, nothing stored.
#![forbid(unsafe_code)]

mod assets;
mod door;
mod form;
mod layout;
mod pages;
mod routes;

use std::sync::Arc;

use workbench::Workbench;

pub use door::{Door, DoorError};
pub use routes::router;

/// What every page may use.
#[derive(Debug, Clone)]
pub struct App {
    pub(crate) bench: Arc<Workbench>,
    pub(crate) door: Arc<Door>,
}

impl App {
    /// Joins the workbench to its door.
    pub fn new(bench: Workbench, door: Door) -> Self {
        Self { bench: Arc::new(bench), door: Arc::new(door) }
    }
}
