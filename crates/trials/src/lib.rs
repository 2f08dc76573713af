//! Learning from boards. [`plan`] lays out a trial of boards and checks it for tangles before anything is mixed, [`scales`] says how boards
//! are read, [`blind`] hides which board is which, [`looks`] says when to look again, [`causes`] weighs why a single board failed.
#![forbid(unsafe_code)]

pub mod blind;
//! Learning from boards. [`causes`] weighs why a single board failed from what its painter saw; [`answer`] reads what the boards of
//! a trial say together.
#![forbid(unsafe_code)]

pub mod answer;
pub mod causes;
pub mod looks;
pub mod plan;
pub mod scales;
