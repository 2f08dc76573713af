//! Learning from boards. [`causes`] weighs why a single board failed from what its painter saw; [`plan`] lays out a trial of boards and
//! checks it for tangles before anything is mixed.
#![forbid(unsafe_code)]

pub mod causes;
pub mod plan;
